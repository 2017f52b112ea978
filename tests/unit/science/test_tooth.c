/* Grain, scratch and grade. */
#include "science/tooth.h"

#include "near.h"

/* FEPA 43-1:2006 / ISO 6344, median grain in um (from memory). */
static const struct tc_grade fepa[] = {{80, 201e-6}, {100, 162e-6}, {120, 125e-6}, {150, 100e-6}, {180, 82e-6},
	{220, 68e-6}, {240, 58.5e-6}, {280, 52.2e-6}, {320, 46.2e-6}, {360, 40.5e-6}, {400, 35.0e-6}, {500, 30.2e-6},
	{600, 25.8e-6}, {800, 21.8e-6}, {1000, 18.3e-6}, {1200, 15.3e-6}, {1500, 12.6e-6}, {2000, 10.3e-6},
	{2500, 8.4e-6}};
#define FEPA_ROWS (sizeof fepa / sizeof fepa[0])

static void rows_come_back(void **state)
{
	(void)state;
	for (size_t i = 0; i < FEPA_ROWS; i++) {
		double grain, grade;
		assert_true(tc_tooth_grain(fepa, FEPA_ROWS, fepa[i].grade, &grain));
		assert_near(grain, fepa[i].grain, 1e-15);
		assert_true(tc_tooth_grade(fepa, FEPA_ROWS, fepa[i].grain, &grade));
		assert_true(grade == fepa[i].grade);
	}
}

/* CAMI 400 (23 um, ANSI B74.18, from memory) is near P800, not P400: ruddwoodfinishes.com and metalclayuk.co.uk. */
static void cami_400(void **state)
{
	(void)state;
	double grade;
	assert_true(tc_tooth_grade(fepa, FEPA_ROWS, 23e-6, &grade));
	assert_true(grade == 800);
}

static void between_rows(void **state)
{
	(void)state;
	double grain, before = 1.0;
	for (double p = 80; p <= 2500; p += 5) {
		assert_true(tc_tooth_grain(fepa, FEPA_ROWS, p, &grain));
		assert_true(grain < before);
		before = grain;
	}
	assert_false(tc_tooth_grain(fepa, FEPA_ROWS, 79, &grain));
	assert_false(tc_tooth_grain(fepa, FEPA_ROWS, 3000, &grain));
	const struct tc_grade wrong[] = {{80, 1e-4}, {100, 2e-4}};
	assert_false(tc_tooth_grain(wrong, 2, 90, &grain));
}

static void scratches(void **state)
{
	(void)state;
	double depth, shows, jump, lacks;
	assert_true(tc_tooth_depth(35e-6, 0.2, &depth));
	assert_near(depth, 7e-6, 1e-15);
	assert_true(tc_tooth_shows(depth, 2.0, 10e-6, 1.0, &shows));
	assert_near(shows, 4e-6, 1e-15);
	assert_true(tc_tooth_shows(depth, 1.0, 10e-6, 1.0, &shows));
	assert_true(shows == 0.0);
	assert_true(tc_tooth_jump(46.2e-6, 15.3e-6, &jump));
	assert_near(jump, 3.0196, 1e-3);
	assert_true(tc_tooth_lacks(3e-6, 5e-6, &lacks));
	assert_near(lacks, 2e-6, 1e-15);
	assert_false(tc_tooth_depth(0.0, 0.2, &depth));
	assert_false(tc_tooth_depth(35e-6, 1.1, &depth));
	assert_false(tc_tooth_shows(depth, 0.5, 10e-6, 1.0, &shows));
	assert_false(tc_tooth_jump(35e-6, (double)NAN, &jump));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(rows_come_back),
		cmocka_unit_test(cami_400),
		cmocka_unit_test(between_rows),
		cmocka_unit_test(scratches),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
