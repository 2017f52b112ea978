/* What the tests of this folder share: the default rulebook, and recipes planned from text. */
#ifndef TC_TESTS_PLAN_H
#define TC_TESTS_PLAN_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "../judge/bench_of.h"
#include "plan/plan.h"

typedef struct bench {
	files files;
	tc_rulebook *rulebook;
	tc_worker *worker;
	tc_arena *arena;
	tc_diags *diags;
} bench;

static inline int bench_open(void **state)
{
	bench *b = calloc(1, sizeof *b);
	assert_non_null(b);
	b->files = default_files();
	b->arena = tc_arena_new(NULL, 0);
	b->diags = tc_diags_new(b->arena);
	if (tc_rulebook_load(NULL, b->files.at, b->files.count, false, b->diags, &b->rulebook) != TC_OK)
		show(b->diags);
	assert_non_null(b->rulebook);
	b->worker = tc_worker_new(b->rulebook, NULL);
	assert_non_null(b->worker);
	*state = b;
	return 0;
}

static inline int bench_close(void **state)
{
	bench *b = *state;
	tc_worker_free(b->worker);
	tc_rulebook_free(b->rulebook);
	tc_arena_free(b->arena);
	free_files(&b->files);
	free(b);
	return 0;
}

/* The judgement of a recipe as written; fails the test if it cannot be read. */
static inline const tc_judgement *judged(bench *b, const char *name, const char *text)
{
	const tc_judgement *judgement = NULL;
	char *kept = tc_arena_text(b->arena, text, strlen(text));
	if (judge_text(b->worker, b->arena, b->rulebook, name, kept, strlen(kept), false, &judgement, b->diags) != TC_OK)
		show(b->diags);
	assert_non_null(judgement);
	return judgement;
}

static inline const tc_plan *planned(bench *b, const char *name, const char *text)
{
	const tc_plan *plan = NULL;
	const tc_date today = {2031, 5, 14};
	const tc_recipe *recipe = judged(b, name, text)->model->recipe;
	if (tc_plan_make(b->worker, b->arena, recipe, NULL, today, b->diags, &plan) != TC_OK)
		show(b->diags);
	assert_non_null(plan);
	return plan;
}

#endif
