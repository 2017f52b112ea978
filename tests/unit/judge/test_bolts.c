/* What is decided once for several rules, and what a brief worker leaves out, changes no finding: every example is judged
 * with the bolts and without them, at length and in brief. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "bench_of.h"
#include "rule/private.h"

typedef struct bench {
	files files;
	tc_rulebook *with, *without;
	glob_t plans;
} bench;

static int set_up(void **state)
{
	static bench b;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(arena);
	b.files = default_files();
	if (tc_rulebook_load(NULL, b.files.at, b.files.count, false, diags, &b.with) != TC_OK ||
	    tc_rulebook_load(NULL, b.files.at, b.files.count, false, diags, &b.without) != TC_OK)
		return 1;
	memset(b.without->bolt_count, 0, sizeof b.without->bolt_count);
	tc_arena_free(arena);
	*state = &b;
	return glob("examples/*.yaml", 0, NULL, &b.plans) ||
	       glob("examples/faults/*.yaml", GLOB_APPEND, NULL, &b.plans);
}

static int tear_down(void **state)
{
	bench *b = *state;
	tc_rulebook_free(b->with);
	tc_rulebook_free(b->without);
	free_files(&b->files);
	globfree(&b->plans);
	return 0;
}

static void same_findings(const tc_judgement *a, const tc_judgement *b)
{
	assert_int_equal(a->findings, b->findings);
	for (uint32_t i = 0; i < a->findings; i++) {
		const tc_finding *f = &a->finding[i], *g = &b->finding[i];
		assert_int_equal(f->rule->index, g->rule->index);
		assert_int_equal(f->verdict, g->verdict);
		assert_int_equal(f->weight, g->weight);
		assert_int_equal(f->part, g->part);
		assert_int_equal(f->step, g->step);
		assert_int_equal(f->ordinal, g->ordinal);
		assert_int_equal(f->outranked, g->outranked);
		assert_string_equal(f->message, g->message);
	}
	assert_memory_equal(&a->summary, &b->summary, sizeof a->summary);
}

#define JUDGED_MAX 512

typedef struct way {
	const tc_rulebook *rulebook;
	bool brief;
	uint32_t count;
	const tc_judgement *at[JUDGED_MAX]; /* NULL: not a recipe */
} way;

/* Judges each document of a file. */
static void judge_file(way *w, tc_worker *worker, tc_arena *arena, const char *name)
{
	const tc_rule_names names = tc_rulebook_names(w->rulebook);
	tc_diags *diags = tc_diags_new(arena);
	const tc_document *documents;
	tc_source *source;
	size_t length = 0, count = 0;
	char *bytes = slurp(name, &length);
	const char *text = bytes ? tc_arena_text(arena, bytes, length) : NULL;

	free(bytes);
	assert_non_null(text);
	assert_int_equal(tc_source_new(arena, name, text, length, diags, &source), TC_OK);
	assert_int_equal(tc_yaml_read(arena, source, diags, &documents, &count), TC_OK);
	for (size_t i = 0; i < count; i++) {
		const tc_recipe *recipe = NULL;
		assert_true(w->count < JUDGED_MAX);
		const tc_judgement **into = &w->at[w->count++];
		if (tc_recipe_read(arena, tc_rulebook_library(w->rulebook), tc_worker_finder(worker), &names, NULL,
		        source, documents[i].root, false, diags, &recipe) == TC_OK)
			assert_int_equal(tc_judge(worker, arena, recipe, into), TC_OK);
	}
}

static void judge_plans(const bench *b, way *w, tc_arena *arena)
{
	tc_worker *worker = tc_worker_new(w->rulebook, NULL);

	assert_non_null(worker);
	if (w->brief)
		tc_worker_brief(worker);
	for (size_t i = 0; i < b->plans.gl_pathc; i++)
		judge_file(w, worker, arena, b->plans.gl_pathv[i]);
	tc_worker_free(worker);
}

/* Both ways find the same in every plan, and there is something to be found. */
static void compare(const bench *b, way one, way two)
{
	tc_arena *arena = tc_arena_new(NULL, 0);
	uint32_t found = 0;

	judge_plans(b, &one, arena);
	judge_plans(b, &two, arena);
	assert_int_equal(one.count, two.count);
	for (uint32_t i = 0; i < one.count; i++) {
		assert_true(!one.at[i] == !two.at[i]);
		if (!one.at[i])
			continue;
		same_findings(one.at[i], two.at[i]);
		found += one.at[i]->findings;
	}
	assert_true(found > 200);
	tc_arena_free(arena);
}

static void bolts_shut_nothing_that_fires(void **state)
{
	const bench *b = *state;
	compare(b, (way){.rulebook = b->with}, (way){.rulebook = b->without});
}

static void in_brief_the_same_is_found(void **state)
{
	const bench *b = *state;
	compare(b, (way){.rulebook = b->with}, (way){.rulebook = b->with, .brief = true});
}

static void bolts_are_of_several_rules_of_their_ask(void **state)
{
	const bench *b = *state;
	uint32_t all = 0;

	for (int ask = 0; ask < TC_ASK_COUNT; ask++) {
		const tc_bolt *bolts;
		const uint32_t count = tc_rulebook_bolts(b->with, (tc_ask)ask, &bolts);
		all += count;
		for (uint32_t i = 0; i < count; i++) {
			assert_true(bolts[i].count > 1 && bolts[i].end > bolts[i].start);
			for (uint32_t r = 0; r < bolts[i].count; r++) {
				assert_int_equal(tc_rulebook_rule(b->with, bolts[i].rules[r])->ask, ask);
				assert_true(r == 0 || bolts[i].rules[r - 1] < bolts[i].rules[r]);
			}
		}
	}
	assert_true(all > 20);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(bolts_are_of_several_rules_of_their_ask),
	    cmocka_unit_test(bolts_shut_nothing_that_fires),
	    cmocka_unit_test(in_brief_the_same_is_found),
	};
	return cmocka_run_group_tests(tests, set_up, tear_down);
}
