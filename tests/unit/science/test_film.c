/* Films, and engraved lines under them. */
#include "science/film.h"
#include "science/lines.h"

#include "near.h"

static const double mil = 25.4e-6;            /* m (exact) */
static const double gallon = 3.785411784e-3;  /* US, m^3 (exact) */
static const double square_foot = 0.09290304; /* m^2 (exact) */

/* ft^2 for each US gallon. */
static double spread_american(double solids, double mils)
{
	double rate = 0.0;
	assert_true(tc_film_spread(solids, mils * mil, &rate));
	return rate * gallon / square_foot;
}

/* Printed at geionline.com (1604.17; 10 mil: 160.4) and in two public handbooks of coating inspection. */
static void spreading_rates(void **state)
{
	(void)state;
	double rate, less;
	assert_near(spread_american(1.0, 1.0), 1604.17, 0.01);
	assert_near(spread_american(0.65, 5.0), 208.52, 0.05);
	assert_near(spread_american(0.35, 2.0), 280.7, 0.1);
	assert_near(spread_american(1.0, 10.0), 160.4, 0.05);
	assert_true(tc_film_spread(0.65, 125e-6, &rate));
	assert_near(rate / 1000.0, 5.2, 1e-9);
	assert_true(tc_film_spread(0.45, 30e-6, &rate));
	assert_near(rate / 1000.0, 15.0, 1e-9);
	assert_true(tc_film_practical_spread(100.0, 0.30, &less)); /* corrosionpedia.com */
	assert_near(less, 70.0, 1e-9);
}

/* 8 mil wet at 35 %: 2.8 mil; thinned by a tenth 2.545 (printed as 2.8 x 32/35 = 2.56 there, with rounded solids). */
static void wet_and_dry(void **state)
{
	(void)state;
	double dry, solids, wet;
	assert_true(tc_film_dry(8 * mil, 0.35, &dry));
	assert_near(dry / mil, 2.8, 1e-9);
	assert_true(tc_film_thinned(0.35, 0.10, &solids));
	assert_true(tc_film_dry(8 * mil, solids, &dry));
	assert_near(dry / mil, 2.545, 5e-4);
	assert_true(tc_film_wet(dry, solids, &wet));
	assert_near(wet, 8 * mil, 1e-15);
	assert_false(tc_film_wet(dry, 0.0, &wet));
	assert_false(tc_film_dry(-1e-6, 0.5, &dry));
	assert_false(tc_film_dry((double)NAN, 0.5, &dry));
}

static void sanding_and_sums(void **state)
{
	(void)state;
	double left, total;
	assert_true(tc_film_sanded(30e-6, 12e-6, &left));
	assert_near(left, 18e-6, 1e-18);
	assert_true(tc_film_sanded(10e-6, 12e-6, &left));
	assert_true(left == 0.0);
	assert_true(tc_film_total((double[]){10e-6, 20e-6, 5e-6}, 3, &total));
	assert_near(total, 35e-6, 1e-18);
	assert_true(tc_film_total(NULL, 0, &total));
	assert_true(total == 0.0);
	assert_false(tc_film_total((double[]){1.0}, 1, &total));
	assert_true(tc_film_shrink(20e-6, 0.15, &left));
	assert_near(left, 3e-6, 1e-18);
}

/* Geometry worked by hand: 0.2 mm wide, 0.1 mm deep, under 30 um. */
static void lines(void **state)
{
	(void)state;
	struct tc_line cut = {0.2e-3, 0.1e-3}, left, full;
	double film;
	assert_true(tc_line_left(cut, 30e-6, 0.5, 1.5, &left));
	assert_near(left.width, 0.17e-3, 1e-15);
	assert_near(left.depth, 0.085e-3, 1e-15);
	assert_true(tc_line_full(left, 350.0, &full));
	assert_near(full.width, 59.5e-3, 1e-12);
	assert_true(tc_line_closes(cut, 0.5, 1.5, &film));
	assert_near(film, 0.2e-3, 1e-15);
	assert_true(tc_line_left(cut, 0.2e-3, 0.5, 1.5, &left));
	assert_true(left.width == 0.0 && left.depth == 0.0);
	assert_false(tc_line_closes(cut, 0.0, 1.0, &film));
	assert_false(tc_line_full(cut, 0.5, &full));
}

/* More film never leaves more of a line; closing film closes it. */
static void lines_only_shrink(void **state)
{
	(void)state;
	uint64_t seed = 41;
	for (int round = 0; round < 20000; round++) {
		struct tc_line cut = {random_size(&seed, 1e-5, 1e-2), random_size(&seed, 1e-5, 1e-2)}, a, b;
		double wall = random_between(&seed, 0, 2), bottom = random_between(&seed, 1, 4);
		double film = random_size(&seed, 1e-7, 1e-3), closing;
		assert_true(tc_line_left(cut, film, wall, bottom, &a));
		assert_true(tc_line_left(cut, film * 1.5, wall, bottom, &b));
		assert_true(b.width <= a.width && b.depth <= a.depth && a.width <= cut.width);
		if (tc_line_closes(cut, wall, bottom, &closing) && closing < 0.09) {
			assert_true(tc_line_left(cut, closing * 1.000001, wall, bottom, &a));
			assert_true(a.width == 0.0);
			assert_true(tc_line_left(cut, closing * 0.999, wall, bottom, &a));
			assert_true(a.width > 0.0);
		}
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(spreading_rates),
		cmocka_unit_test(wet_and_dry),
		cmocka_unit_test(sanding_and_sums),
		cmocka_unit_test(lines),
		cmocka_unit_test(lines_only_shrink),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
