/* What the judge does with answers: accepting, outranking, undecided findings and what they need, unsaid passes, order of
 * findings, assumed weather. A small rulebook of its own; its figures are made up for the tests. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "bench_of.h"
#include "small_book.h"

typedef struct bench {
	tc_rulebook *rulebook;
	tc_worker *worker;
	tc_arena *arena;
} bench;

static int set_up(void **state)
{
	static bench b;
	tc_rulebook_file file = {.name = "small.yaml", .bytes = small_book, .length = sizeof small_book - 1};

	b.arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(b.arena);
	if (tc_rulebook_load(NULL, &file, 1, false, diags, &b.rulebook) != TC_OK) {
		show(diags);
		return 1;
	}
	b.worker = tc_worker_new(b.rulebook, NULL);
	*state = &b;
	return b.worker ? 0 : 1;
}

static int tear_down(void **state)
{
	bench *b = *state;

	tc_worker_free(b->worker);
	tc_rulebook_free(b->rulebook);
	tc_arena_free(b->arena);
	return 0;
}

static const tc_judgement *judge(bench *b, const char *text)
{
	const tc_judgement *j = NULL;
	tc_diags *diags = tc_diags_new(b->arena);
	tc_status status = judge_text(b->worker, b->arena, b->rulebook, "r.yaml", text, strlen(text), false, &j, diags);

	if (status != TC_OK)
		show(diags);
	assert_int_equal(status, TC_OK);
	return j;
}

static const tc_finding *of(const tc_judgement *j, const char *rule)
{
	for (uint32_t i = 0; i < j->findings; i++)
		if (strcmp(j->finding[i].rule->id, rule) == 0)
			return &j->finding[i];
	return NULL;
}

static void an_error_has_reasons_and_a_place(void **state)
{
	const tc_judgement *j = judge(*state, "recipe: t\non: styrene\nstack:\n  - {coat: hot-paint, pass: light}\n");
	const tc_finding *f = of(j, "hot-on-plastic");

	assert_non_null(f);
	assert_int_equal(f->verdict, TC_V_ERROR);
	assert_int_equal(f->place.line, 4);
	assert_int_equal(f->step, 1);
	assert_string_equal(f->defect, "crazing");
	/* own arithmetic: 40 µm × 0.25 */
	assert_string_equal(f->message, "hot paint bites styrene: RED 0, 10 µm dry");
	assert_true(f->reasons >= 2);
	assert_int_equal(f->advices, 1);
	assert_string_equal(f->advice[0].text, "take another material in this step, such as cool paint");
	assert_int_equal(j->summary.errors, 1);
}

static void an_outranked_rule_is_listed_under_the_other(void **state)
{
	const tc_judgement *j = judge(*state, "recipe: t\non: styrene\nstack:\n  - {coat: hot-paint, pass: light}\n");
	const tc_finding *f = of(j, "hot-on-plastic");

	assert_null(of(j, "any-on-plastic"));
	assert_int_equal(f->outranked, 1);
	assert_string_equal(f->outrank[0]->id, "any-on-plastic");
	assert_non_null(of(judge(*state, "recipe: t\non: styrene\nstack:\n  - {coat: cool-paint, pass: light}\n"), "any-on-plastic"));
}

static void what_is_unknown_is_asked_for(void **state)
{
	const tc_judgement *j = judge(*state, "recipe: t\non: styrene\nstack:\n  - {coat: odd-paint, pass: light}\n");
	const tc_finding *f = of(j, "hot-on-plastic");

	assert_non_null(f);
	assert_int_equal(f->verdict, TC_V_UNDECIDED);
	assert_int_equal(f->weight, TC_V_WARNING);
	assert_int_equal(f->needs, 1);
	assert_string_equal(f->need[0].datum, "solvents of odd paint");
	assert_string_equal(f->message, "a hot paint bites plastic");
	assert_int_equal(j->summary.undecided, 1);
	assert_int_equal(j->summary.errors, 0);
}

static void nobody_is_asked_where_the_door_is_shut(void **state)
{
	const tc_judgement *j = judge(*state, "recipe: t\non: tin\nstack:\n  - {coat: odd-paint, pass: light}\n");

	assert_null(of(j, "hot-on-plastic"));
	assert_int_equal(j->summary.undecided, 0);
}

static void an_acceptance_takes_its_finding_and_an_idle_one_is_a_warning(void **state)
{
	const tc_judgement *j = judge(*state,
	    "recipe: t\non: styrene\nstack:\n  - {coat: hot-paint, pass: light}\naccept:\n"
	    "  - {rule: hot-on-plastic, because: tried on scrap}\n  - {rule: too-damp, because: it never is}\n");
	const tc_finding *f = of(j, "hot-on-plastic");

	assert_non_null(f->accept);
	assert_string_equal(f->accept->because, "tried on scrap");
	assert_int_equal(j->summary.accepted, 1);
	assert_int_equal(j->summary.errors, 0);
	assert_int_equal(j->unused, 1);
	assert_int_equal(j->summary.warnings, 1);
	assert_int_equal(j->unused_accept[0]->place.line, 7);
}

static void an_intended_defect_is_accepted_by_its_step(void **state)
{
	const tc_judgement *j = judge(*state, "recipe: t\non: styrene\nstack:\n  - {coat: hot-paint, pass: light, intends: crazing}\n");

	assert_non_null(of(j, "hot-on-plastic")->accept);
	assert_int_equal(j->summary.errors, 0);
}

/* The thick rule fires from 15 µm dry: medium gives 20 µm, light 10 µm. */
static void an_unsaid_pass_that_decides_is_asked_for(void **state)
{
	const tc_judgement *j = judge(*state, "recipe: t\non: tin\nstack:\n  - {coat: cool-paint}\n");
	const tc_finding *f = of(j, "thick");

	assert_non_null(f);
	assert_int_equal(f->verdict, TC_V_UNDECIDED);
	assert_string_equal(f->need[0].datum, "pass of cool paint");
	assert_null(of(judge(*state, "recipe: t\non: tin\nstack:\n  - {coat: cool-paint, pass: light}\n"), "thick"));
	assert_int_equal(of(judge(*state, "recipe: t\non: tin\nstack:\n  - {coat: cool-paint, pass: medium}\n"), "thick")->verdict,
	    TC_V_ERROR);
}

static void assumed_weather_never_makes_an_error(void **state)
{
	static const char said[] = "recipe: t\non: tin\nworkshop: {humidity: 50 %}\nstack:\n  - {coat: cool-paint, pass: light}\n";
	const tc_finding *f = of(judge(*state, said), "too-damp");

	assert_int_equal(f->verdict, TC_V_ERROR);
	f = of(judge(*state, "recipe: t\non: tin\nstack:\n  - {coat: cool-paint, pass: light}\n"), "too-damp");
	assert_int_equal(f->verdict, TC_V_WARNING);
	assert_true(f->lowered);
}

static void findings_are_sorted_by_place(void **state)
{
	const tc_judgement *j = judge(*state,
	    "recipe: t\nparts: {b: {substrate: styrene}, a: {substrate: styrene}}\nstack:\n"
	    "  - {coat: hot-paint, pass: light}\n  - wait: 1 d\n  - {coat: hot-paint, pass: medium}\n");

	assert_true(j->findings >= 4);
	for (uint32_t i = 1; i < j->findings; i++) {
		const tc_finding *x = &j->finding[i - 1], *y = &j->finding[i];
		assert_true(x->place.line < y->place.line || (x->place.line == y->place.line &&
		    (x->place.column < y->place.column || (x->place.column == y->place.column &&
		        (x->rule->index < y->rule->index || (x->rule->index == y->rule->index && x->part <= y->part))))));
	}
}

static void cautions_come_with_the_steps_that_bring_them_up(void **state)
{
	const tc_judgement *j = judge(*state,
	    "recipe: t\non: styrene\nstack:\n  - {coat: cool-paint, pass: light}\n  - wait: 1 d\n  - {coat: hot-paint, pass: light}\n");

	assert_int_equal(j->cautions, 2);
	assert_string_equal(j->caution[0].caution->id, "always");
	assert_int_equal(j->caution[0].steps, 0);
	assert_string_equal(j->caution[1].caution->id, "burns");
	assert_int_equal(j->caution[1].steps, 1);
	assert_int_equal(j->caution[1].step[0], 3);
	assert_string_equal(j->caution[1].codes[0], "H225");
	assert_string_equal(j->caution[1].because, "hot paint");
}

static void what_was_assumed_is_listed(void **state)
{
	const tc_judgement *j = judge(*state, "recipe: t\non: tin\nstack:\n  - {coat: cool-paint, pass: light}\n");
	bool humidity = false;

	for (uint32_t i = 0; i < j->assumptions; i++)
		if (strcmp(j->assumption[i].what, "humidity of the workshop") == 0) {
			humidity = true;
			assert_string_equal(j->assumption[i].text, "50 %");
			assert_true(j->assumption[i].mattered);
		}
	assert_true(humidity);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(an_error_has_reasons_and_a_place),
	    cmocka_unit_test(an_outranked_rule_is_listed_under_the_other),
	    cmocka_unit_test(what_is_unknown_is_asked_for),
	    cmocka_unit_test(nobody_is_asked_where_the_door_is_shut),
	    cmocka_unit_test(an_acceptance_takes_its_finding_and_an_idle_one_is_a_warning),
	    cmocka_unit_test(an_intended_defect_is_accepted_by_its_step),
	    cmocka_unit_test(an_unsaid_pass_that_decides_is_asked_for),
	    cmocka_unit_test(assumed_weather_never_makes_an_error),
	    cmocka_unit_test(findings_are_sorted_by_place),
	    cmocka_unit_test(cautions_come_with_the_steps_that_bring_them_up),
	    cmocka_unit_test(what_was_assumed_is_listed),
	};
	return cmocka_run_group_tests(tests, set_up, tear_down);
}
