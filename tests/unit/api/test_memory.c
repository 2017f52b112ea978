/* Every allocation of what the library does fails once: an error each time, no crash, no leak, and no handle. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "../heap.h"
#include "api/tiecoat.h"
#include "desk.h"

static const tiecoat_memory memory = {heap_get, NULL};
static char *plan;
static size_t plan_length;

static const tiecoat_file house = {.name = "house.yaml", .bytes = "retire:\n  no-such-rule: a test\n", .length = 31};

/* From nothing to the JSON of a result. */
static tiecoat_status whole_check(void)
{
	tiecoat_rulebook *rulebook = NULL;
	tiecoat_worker *worker = NULL;
	tiecoat_result *result = NULL;
	const char *json;
	tiecoat_status status = tiecoat_rulebook_builtin(&memory, &rulebook);
	if (status == TIECOAT_OK)
		status = tiecoat_worker_new(rulebook, &worker);
	if (status == TIECOAT_OK)
		status = tiecoat_check(worker, "plan.yaml", plan, plan_length, NULL, &result);
	if (status == TIECOAT_OK)
		status = tiecoat_result_json(result, &json, NULL);
	if (status == TIECOAT_OK && !strstr(json, "lifts-half-cured-enamel"))
		status = TIECOAT_BAD;
	tiecoat_result_free(result);
	tiecoat_worker_free(worker);
	tiecoat_rulebook_free(rulebook);
	return status;
}

static tiecoat_status whole_bite(void)
{
	tiecoat_bite_ask ask = TIECOAT_BITE_ASK;
	tiecoat_rulebook *rulebook = NULL;
	tiecoat_worker *worker = NULL;
	tiecoat_answer *answer = NULL;
	const char *json;
	ask.solid = "polystyrene";
	ask.liquid = "acetone";
	tiecoat_status status = tiecoat_rulebook_builtin(&memory, &rulebook);
	if (status == TIECOAT_OK)
		status = tiecoat_worker_new(rulebook, &worker);
	if (status == TIECOAT_OK)
		status = tiecoat_bite(worker, &ask, NULL, &answer);
	if (status == TIECOAT_OK)
		status = tiecoat_answer_json(answer, &json, NULL);
	tiecoat_answer_free(answer);
	tiecoat_worker_free(worker);
	tiecoat_rulebook_free(rulebook);
	return status;
}

/* A rulebook with an error holds messages. */
static tiecoat_status bad_rulebook(void)
{
	tiecoat_rulebook *rulebook = NULL;
	const tiecoat_status status = tiecoat_rulebook_load(&memory, &house, 1, true, &rulebook);
	if (status == TIECOAT_NO_MEMORY && rulebook)
		return TIECOAT_MISUSE;
	tiecoat_rulebook_free(rulebook);
	return status;
}

static long fail_each(tiecoat_status (*what)(void), tiecoat_status expected, long least, long dense, long stride)
{
	heap_arm(0);
	tiecoat_status status = what();
	heap_disarm();
	const long all = heap.requests;
	assert_int_equal(status, expected);
	assert_int_equal(heap.outstanding, 0);
	assert_true(all >= least);
	for (long n = 1; n <= all; n += n < dense ? 1 : stride) {
		heap_arm(n);
		status = what();
		heap_disarm();
		if (HEAP_WHOLE)
			assert_int_equal(heap.outstanding, 0);
		/* what could not be kept for later is the one thing that may be done without */
		if (status != expected)
			assert_int_equal(status, TIECOAT_NO_MEMORY);
	}
	return all;
}

static void allocations(void **state)
{
	plan = slurp("examples/lifeboat-day-old-enamel.yaml", &plan_length);
	(void)state;
	assert_non_null(plan);
	const long check = fail_each(whole_check, TIECOAT_OK, 20, 400, 13);
	const long bite = fail_each(whole_bite, TIECOAT_OK, 20, 400, 13);
	fail_each(bad_rulebook, TIECOAT_BAD, 10, 60, 997);
	printf("summary: %ld allocations of a check and %ld of a bite\n", check, bite);
	free(plan);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(allocations)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
