/* Every allocation of a whole check fails once: an error each time, no crash, no leak. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "../heap.h"
#include "bench_of.h"

/* --- a check from bytes to judgement --------------------------------------------------------------------------------------- */

static tc_status check(const tc_rulebook *rulebook, const char *text, size_t length, uint32_t *findings)
{
	tc_arena *arena = tc_arena_new(&heap_allocator, 0);
	tc_diags *diags = arena ? tc_diags_new(arena) : NULL;
	tc_worker *worker = diags ? tc_worker_new(rulebook, &heap_allocator) : NULL;
	const tc_judgement *j = NULL;
	tc_status status = TC_NO_MEMORY;

	if (worker)
		status = judge_text(worker, arena, rulebook, "recipe.yaml", text, length, false, &j, diags);
	if (status == TC_OK)
		*findings = j->findings;
	tc_worker_free(worker);
	tc_arena_free(arena);
	return status;
}

static tc_status load(const files *f, tc_rulebook **rulebook)
{
	tc_arena *arena = tc_arena_new(&heap_allocator, 0);
	tc_diags *diags = arena ? tc_diags_new(arena) : NULL;
	tc_status status = diags ? tc_rulebook_load(&heap_allocator, f->at, f->count, false, diags, rulebook) : TC_NO_MEMORY;

	tc_arena_free(arena);
	return status;
}

static void every_allocation_of_a_check(void **state)
{
	files f = default_files();
	tc_rulebook *rulebook = NULL;
	size_t length = 0;
	char *text = slurp("examples/pilot-cutter.yaml", &length);
	uint32_t findings = 0, again = 0;
	(void)state;

	assert_non_null(text);
	assert_int_equal(load(&f, &rulebook), TC_OK);
	heap_arm(0);
	tc_status status = check(rulebook, text, length, &findings);
	heap_disarm();
	long all = heap.requests;
	assert_int_equal(status, TC_OK);
	assert_true(all > (HEAP_WHOLE ? 300 : 10));
	assert_int_equal(heap.outstanding, 0);
	for (long n = 1; n <= all; n++) {
		heap_arm(n);
		status = check(rulebook, text, length, &again);
		heap_disarm();
		if (HEAP_WHOLE)
			assert_int_equal(heap.outstanding, 0);
		/* a result that could not be kept for later is the one thing that may be done without */
		if (status == TC_OK)
			assert_int_equal(again, findings);
		else
			assert_int_equal(status, TC_NO_MEMORY);
	}
	printf("summary: %ld allocations of a check, each failed once\n", all);
	tc_rulebook_free(rulebook);
	free(text);
	free_files(&f);
}

/* Loading makes some ten thousand allocations, most of them libyaml's: the first 300 one by one, then every 211th. */
static void allocations_of_a_load(void **state)
{
	files f = default_files();
	tc_rulebook *rulebook = NULL;
	(void)state;

	heap_arm(0);
	assert_int_equal(load(&f, &rulebook), TC_OK);
	heap_disarm();
	long all = heap.requests;
	tc_rulebook_free(rulebook);
	for (long n = 1; n <= all; n += n < 300 ? 1 : 211) {
		rulebook = NULL;
		heap_arm(n);
		tc_status status = load(&f, &rulebook);
		heap_disarm();
		assert_int_equal(status, TC_NO_MEMORY);
		assert_null(rulebook);
		if (HEAP_WHOLE)
			assert_int_equal(heap.outstanding, 0);
	}
	free_files(&f);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(every_allocation_of_a_check),
	    cmocka_unit_test(allocations_of_a_load),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
