/* Every allocation of a plan fails once: an error each time, no crash, no leak. */
#include "../heap.h"
#include "plan_of.h"

static const char evenings[] =
    "recipe: Evenings\nstart: 2031-05-16 18:00\nzone: Etc/UTC\nsessions: [mon-fri 19:00 to 22:00, sat 09:00 to 17:00]\n"
    "parts:\n  hull: {substrate: polyurethane-resin, area: 300 cm²}\n  railings: {substrate: brass, area: 30 cm²}\n"
    "shelf:\n  lamp black: {family: acrylic-lacquer, recoat: 10 min to 12 h}\n"
    "stack:\n  - wash: detergent\n  - sand: P400\n  - coat: lacquer-primer\n    coats: 2\n    pass: light\n"
    "  - coat: lamp black\n    role: colour\n    coats: 3\n    pass: light\n    on: hull\n"
    "  - wait: %s\n    on: hull\n"
    "  - coat: urethane-clear-2k\n    role: clear\n    passes: [light, medium]\n    on: hull\n";

typedef struct outcome {
	tc_status status;
	tc_table_state state;
	double end;
	uint32_t rounds;
} outcome;

/* The recipe is read beforehand: what is tried here begins with it. */
static outcome plan_once(tc_worker *worker, const tc_recipe *recipe)
{
	outcome o = {.status = TC_NO_MEMORY};
	const tc_plan *plan = NULL;
	tc_arena *arena = tc_arena_new(&heap_allocator, 0);
	tc_diags *diags = arena ? tc_diags_new(arena) : NULL;
	if (diags)
		o.status = tc_plan_make(worker, arena, recipe, NULL, (tc_date){2031, 5, 14}, diags, &plan);
	if (o.status == TC_OK)
		o = (outcome){TC_OK, plan->table->state, plan->table->end, plan->rounds};
	tc_arena_free(arena);
	return o;
}

static void fail_each(bench *b, const char *wait, tc_table_state expected)
{
	const char *text = tc_arena_print(b->arena, evenings, wait);
	const tc_recipe *recipe = judged(b, "evenings.yaml", text)->model->recipe;
	plan_once(b->worker, recipe); /* the worker keeps what it can */
	heap_arm(0);
	const outcome whole = plan_once(b->worker, recipe);
	heap_disarm();
	const long all = heap.requests;
	assert_int_equal(whole.status, TC_OK);
	assert_int_equal(whole.state, expected);
	assert_true(all > 5);
	for (long n = 1; n <= all; n++) {
		heap_arm(n);
		const outcome o = plan_once(b->worker, recipe);
		heap_disarm();
		assert_int_equal(heap.outstanding, 0);
		if (o.status == TC_OK) { /* what could not be kept for later may be done without */
			assert_int_equal(o.state, whole.state);
			assert_true(o.rounds == whole.rounds && (isnan(o.end) || o.end == whole.end));
		} else {
			assert_int_equal(o.status, TC_NO_MEMORY);
		}
	}
	printf("summary: %ld allocations of a plan, each failed once\n", all);
}

static void every_allocation_of_a_plan(void **state)
{
	fail_each(*state, "12 h", TC_TABLE_FOUND);
}

static void every_allocation_of_a_conflict(void **state)
{
	fail_each(*state, "2 d", TC_TABLE_CONFLICT);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(every_allocation_of_a_plan),
	    cmocka_unit_test(every_allocation_of_a_conflict),
	};
	return cmocka_run_group_tests(tests, bench_open, bench_close);
}
