/* Courses of coats are found again by their inputs, the store stays small, and a course says what the coat itself says. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "counting.h"
#include "judge/dried.h"

/* Toluene: Antoine and density as in tests/reference/science/solvents.tsv; here only the store is looked at. */
static const struct tc_solvent toluene = {.hansen = {18000, 1400, 2000}, .molar_mass = 0.09214, .density = 867,
    .molar_volume = 106.8e-6, .antoine = {6.95464, 1344.8, 219.482}, .vaporisation = 38000};
static const struct tc_drying_air air = {.temperature = 295.15, .speed = 0.2, .length = 0.2, .still = 1e-3};
static const struct tc_drying_law law = {.set_share = 0.2, .chi = 0.4, .cooling = 0.5, .diffusivity = 1e-13,
    .size = 100e-6, .fall = 40e-6};
static const double one = 1;

static struct tc_coat coat_of(double thickness)
{
	return (struct tc_coat){.film = {&toluene, &one, 1, thickness, 0.2}, .gap = 300, .passes = 3, .until = 1e6};
}

static void stays_small(void **state)
{
	held h = {0};
	const tc_allocator counting = {take, &h};
	tc_dried *dried = tc_dried_new(&counting);
	bool refused;
	uint32_t found = 0;
	(void)state;

	assert_non_null(dried);
	for (int i = 0; i < 1000; i++) {
		const double key = 10e-6 + 1e-8 * (i % 300 < 150 ? i % 20 : i % 300);
		struct tc_coat coat = coat_of(key);
		const struct tc_coat_course *course = tc_dried_get(dried, &key, sizeof key);
		if (course)
			found++;
		else
			course = tc_dried_put(dried, &key, sizeof key, &coat, &air, &law, &refused);
		assert_non_null(course);
		assert_ptr_equal(tc_dried_get(dried, &key, sizeof key), course);
		struct tc_sphere solid = {{21300, 5800, 4300}, 12700};
		struct tc_uptake uptake = {.bound = 1.1, .mobility = 1.9e-12, .size = 100e-6, .fall = 25e-6};
		struct tc_coat_effect kept, itself;
		assert_true(tc_coat_bite(course, &solid, &uptake, 0.15, &kept));
		assert_int_equal(tc_coat_effect(&coat, &air, &law, &solid, &uptake, 0.15, &itself), TC_DRYING_SETS);
		assert_true(kept.depth == itself.depth && kept.hot_time == itself.hot_time);
	}
	printf("summary: 1000 coats, %u found again, at most %zu kB held\n", found, h.most >> 10);
	assert_true(h.most < (size_t)512 << 10);
	tc_dried_free(dried);
	assert_int_equal(h.now, 0);
}

static void refuses_and_runs_dry(void **state)
{
	held h = {0};
	const tc_allocator counting = {take, &h};
	tc_dried *dried = tc_dried_new(&counting);
	struct tc_coat coat = coat_of(1); /* a metre */
	double key = 1;
	bool refused = false;
	(void)state;

	assert_null(tc_dried_put(dried, &key, sizeof key, &coat, &air, &law, &refused));
	assert_true(refused);
	assert_null(tc_dried_get(dried, &key, sizeof key));
	coat = coat_of(20e-6);
	coat.passes = 20;
	h.dry = true;
	assert_null(tc_dried_put(dried, &key, sizeof key, &coat, &air, &law, &refused));
	assert_false(refused);
	h.dry = false;
	assert_non_null(tc_dried_put(dried, &key, sizeof key, &coat, &air, &law, &refused));
	tc_dried_free(dried);
	assert_int_equal(h.now, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(stays_small),
		cmocka_unit_test(refuses_and_runs_dry),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
