/* The course of a film toward a solid, against the other functions that judge the same film. */
#include "science/attack.h"

#include "paints.h"

static struct table solvents;

static const struct tc_sphere polystyrene = {{21300, 5800, 4300}, 12700}; /* Burke 1984 */

static void dry(const struct paint *paint, struct tc_drying *out)
{
	struct tc_solvent store[PAINT_SOLVENTS];
	const struct tc_drying_law law = law_of(paint);
	const struct tc_wet_film film = film_of(&solvents, paint, 40e-6, store);
	assert_int_not_equal(tc_drying_run(&film, &room, &law, NULL, out), TC_DRYING_REFUSED);
}

static double least_of(const struct tc_attack_moment *row, size_t count)
{
	double least = row[0].red;
	for (size_t k = 1; k < count; k++)
		least = fmin(least, row[k].red);
	return least;
}

/* Its least RED is that of tc_attack_red_least; its time runs on, its liquid only goes; it ends where the film is dry. */
static void agrees_with_the_least(void **state)
{
	static const struct paint *const paints[] = {&lacquer, &waterborne, &alcohol_borne, &enamel, &thinner};
	struct tc_attack_moment row[TC_ATTACK_MOMENTS_MAX];
	struct tc_drying film;
	double least;
	(void)state;
	for (size_t p = 0; p < sizeof paints / sizeof *paints; p++) {
		dry(paints[p], &film);
		const size_t count = tc_attack_course(&film, &polystyrene, 0.2, 1e6, row);
		assert_in_range(count, 2, TC_ATTACK_MOMENTS_MAX);
		assert_true(tc_attack_red_least(&film, &polystyrene, 0.2, 1e6, &least));
		assert_near(least_of(row, count), least, 1e-12);
		assert_true(row[0].time == 0);
		for (size_t k = 1; k < count; k++) {
			assert_true(row[k].time > row[k - 1].time);
			assert_true(row[k].liquid <= row[k - 1].liquid * (1 + 1e-12));
			assert_true(row[k].wetness >= 0.2 - 1e-12);
		}
	}
}

static void stops_when_asked(void **state)
{
	struct tc_attack_moment row[TC_ATTACK_MOMENTS_MAX];
	struct tc_drying film;
	(void)state;
	dry(&lacquer, &film);
	const double until = 0.5 * film.set_time;
	const size_t count = tc_attack_course(&film, &polystyrene, 0.2, until, row);
	assert_true(count > 1);
	assert_near(row[count - 1].time, until, 1e-9 * until);
	assert_int_equal(tc_attack_course(&film, &polystyrene, 1.0, 1e6, row), 0); /* a film with a binder is never all liquid */
	assert_int_equal(tc_attack_course(&film, &polystyrene, NAN, 1e6, row), 0);
	assert_int_equal(tc_attack_course(&film, &polystyrene, 0.2, -1, row), 0);
	assert_int_equal(tc_attack_course(&film, &(struct tc_sphere){{21300, 5800, 4300}, 0}, 0.2, 1e6, row), 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(agrees_with_the_least), cmocka_unit_test(stops_when_asked)};
	table_read(&solvents, "tests/reference/science/solvents.tsv");
	return cmocka_run_group_tests(tests, NULL, NULL);
}
