/* Results are found again by the names of their inputs, or not at all; names are never given twice; the store stays small and
 * outlives memory that is not to be had. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <cmocka.h>

#include "counting.h"
#include "judge/private.h"

#define MANY 100000u /* more than the store holds */

static void names(void **state)
{
	tc_kept *kept = tc_kept_new(tc_allocator_system());
	const double a[] = {1, 2, 3}, b[] = {1, 2, 4}, nothing[] = {-0.0, 0.0};
	(void)state;

	assert_non_null(kept);
	const uint32_t first = tc_kept_name(kept, a, 3), second = tc_kept_name(kept, b, 3);
	assert_true(first && second && first != second);
	assert_true(tc_kept_name(kept, a, 3) == first);
	assert_true(tc_kept_name(kept, a, 2) != first && tc_kept_name(kept, b, 2) == tc_kept_name(kept, a, 2));
	assert_true(tc_kept_name(kept, nothing, 1) != tc_kept_name(kept, nothing + 1, 1)); /* bit for bit */
	tc_kept_free(kept);
}

/* Numbers rise, so none was given twice. */
static void many_names(void **state)
{
	held h = {0};
	const tc_allocator counting = {take, &h};
	tc_kept *kept = tc_kept_new(&counting);
	uint32_t last = 0;
	(void)state;

	assert_non_null(kept);
	for (uint32_t i = 0; i < MANY; i++) {
		const double words[] = {i, 0.5, 0.25};
		const uint32_t name = tc_kept_name(kept, words, 3);
		assert_true(name > last);
		last = name;
		assert_true(tc_kept_name(kept, words, 3) == name);
	}
	assert_true(h.most < 6u << 20);
	tc_kept_free(kept);
	assert_int_equal(h.now, 0);
}

static void many_results(void **state)
{
	held h = {0};
	const tc_allocator counting = {take, &h};
	tc_kept *kept = tc_kept_new(&counting);
	uint64_t asked = 0, found = 0, again = 0;
	(void)state;

	assert_non_null(kept);
	for (uint32_t i = 1; i <= MANY; i++) {
		const double figures[TC_KEPT_RESULTS] = {(double)i, 2, 3};
		tc_kept_put(kept, i, i % 7 + 1, figures);
		const double *same = tc_kept_get(kept, i, i % 7 + 1);
		assert_non_null(same);
		assert_memory_equal(same, figures, sizeof figures);
		assert_null(tc_kept_get(kept, i, i % 7 + 2));
		const double *before = tc_kept_get(kept, i / 2 + 1, (i / 2 + 1) % 7 + 1);
		assert_true(!before || before[0] == (double)(i / 2 + 1));
		again += before != NULL;
	}
	tc_kept_count(kept, &asked, &found);
	assert_int_equal(asked, 3 * MANY);
	assert_int_equal(found, MANY + again);
	assert_true(again > 1000);
	assert_true(h.most < 6u << 20);
	tc_kept_free(kept);
	assert_int_equal(h.now, 0);
}

static void without_memory(void **state)
{
	held h = {0};
	const tc_allocator counting = {take, &h};
	tc_kept *kept = tc_kept_new(&counting);
	const double words[] = {1, 2}, figures[TC_KEPT_RESULTS] = {7};
	(void)state;

	assert_non_null(kept);
	h.dry = true;
	assert_true(tc_kept_name(kept, words, 2) == 0);
	tc_kept_put(kept, 1, 2, figures);
	assert_null(tc_kept_get(kept, 1, 2));
	tc_kept_put(kept, 0, 2, figures); /* what has no name is not kept */
	h.dry = false;
	tc_kept_put(kept, 0, 2, figures);
	assert_null(tc_kept_get(kept, 0, 2));
	assert_true(tc_kept_name(kept, words, 2) != 0);
	tc_kept_put(kept, 1, 2, figures);
	assert_true(tc_kept_get(kept, 1, 2)[0] == 7);
	tc_kept_free(kept);
	assert_int_equal(h.now, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(names),
	    cmocka_unit_test(many_names),
	    cmocka_unit_test(many_results),
	    cmocka_unit_test(without_memory),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
