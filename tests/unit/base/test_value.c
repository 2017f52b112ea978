/* Truths, dimensions, windows, comparison. The tables are those of the rule language, §5. */
#include "base/value.h"
#include "check.h"

static void three_truths(void **state)
{
	(void)state;
	static const tc_truth F = TC_FALSE, U = TC_UNSURE, T = TC_TRUE;
	const tc_truth order[] = {T, U, F};
	const tc_truth and_table[3][3] = {{T, U, F}, {U, U, F}, {F, F, F}};
	const tc_truth or_table[3][3] = {{T, T, T}, {T, U, U}, {T, U, F}};
	for (int i = 0; i < 3; i++) {
		for (int j = 0; j < 3; j++) {
			assert_int_equal(tc_truth_and(order[i], order[j]), and_table[i][j]);
			assert_int_equal(tc_truth_or(order[i], order[j]), or_table[i][j]);
		}
		assert_int_equal(tc_truth_not(order[i]), order[2 - i]);
	}
}

static void dimensions(void **state)
{
	(void)state;
	const tc_dim speed = {.length = 2, .time = -2};
	assert_true(tc_dim_none((tc_dim){0}));
	assert_false(tc_dim_none(speed));
	assert_true(tc_dim_same(speed, (tc_dim){.length = 2, .time = -2}));
	const tc_dim others[] = {{.length = 1, .time = -2}, {.length = 2, .mass = 1, .time = -2}, {.length = 2},
	    {.length = 2, .time = -2, .temperature = 1}, {.length = 2, .time = -2, .amount = 1}};
	for (size_t i = 0; i < COUNT_OF(others); i++)
		assert_false(tc_dim_same(speed, others[i]));
}

static void nearly_equal(void **state)
{
	(void)state;
	assert_int_equal(tc_compare(1, 2), -1);
	assert_int_equal(tc_compare(2, 1), 1);
	assert_int_equal(tc_compare(35e-6, 0.035e-3), 0);
	assert_int_equal(tc_compare(1, 1 + 0.9e-9), 0);
	assert_int_equal(tc_compare(1, 1 + 1.1e-9), -1);
	assert_int_equal(tc_compare(-1 - 1.1e-9, -1), -1);
	assert_int_equal(tc_compare(0, 0), 0);
	assert_int_equal(tc_compare(0, -0.0), 0);
	assert_int_equal(tc_compare(0, 1e-300), -1); /* relative: nothing but 0 equals 0 */
	assert_int_equal(tc_compare(1e-300, -1e-300), 1);
	assert_int_equal(tc_compare(HUGE_VAL, HUGE_VAL), 0);
	assert_int_equal(tc_compare(1e300, HUGE_VAL), -1);
	assert_int_equal(tc_compare(HUGE_VAL, -HUGE_VAL), 1);
}

static void windows(void **state)
{
	(void)state;
	/* 10 min to 1 h, 48 h on */
	const tc_span spans[] = {{600, 3600}, {172800, HUGE_VAL}};
	const tc_window window = {2, spans};
	static const struct {
		double t;
		bool holds;
		double moment;
	} rows[] = {
	    {0, false, 600},
	    {599, false, 600},
	    {600, true, 600},
	    {600 * (1 - 0.5e-9), true, 600 * (1 - 0.5e-9)},
	    {600 * (1 - 2e-9), false, 600},
	    {1000, true, 1000},
	    {3600, true, 3600},
	    {3600 * (1 + 0.5e-9), true, 3600 * (1 + 0.5e-9)},
	    {3601, false, 172800},
	    {172800, true, 172800},
	    {1e12, true, 1e12},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		double moment = -1;
		assert_int_equal(tc_window_holds(&window, rows[i].t), rows[i].holds);
		assert_true(tc_window_after(&window, rows[i].t, &moment));
		assert_true(moment == rows[i].moment);
	}
	const tc_window shut = {1, spans}, empty = {0, NULL};
	double moment = -1;
	assert_false(tc_window_after(&shut, 3601, &moment));
	assert_false(tc_window_after(&empty, 0, &moment));
	assert_false(tc_window_holds(&empty, 0));
	assert_true(moment == -1);
}

static void states(void **state)
{
	(void)state;
	assert_true(tc_known(tc_number(3)));
	assert_true(tc_number(3).number == 3);
	assert_true(tc_known((tc_value){.state = TC_ASSUMED}));
	assert_false(tc_known(tc_unknown(TC_T_SHARE)));
	assert_false(tc_known(tc_absent(TC_T_SHARE)));
	assert_int_equal(tc_absent(TC_T_SHARE).type, TC_T_SHARE);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(three_truths),
	    cmocka_unit_test(dimensions),
	    cmocka_unit_test(nearly_equal),
	    cmocka_unit_test(windows),
	    cmocka_unit_test(states),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
