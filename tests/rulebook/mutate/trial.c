/* Trying a mutant: compiled `when`s are put in and out of the loaded rulebook. */
#include <stdlib.h>
#include <string.h>

#include "trial.h"

/* Does this rule's every example still do what it says? */
static bool shows(bench *b, uint32_t rule)
{
	for (uint32_t i = 0; i < tc_rulebook_shown(b->book, rule); i++) {
		bool fired, unsure;
		if (tc_judge_rule(b->worker, b->work, b->shown[rule][i], &b->rule[rule], &fired, &unsure) != TC_OK)
			give_up("out of memory");
		const tc_shown kind = tc_rulebook_shown_at(b->book, rule, i)->kind;
		const bool good = kind == TC_SHOWN_BREAKS  ? fired
		                  : kind == TC_SHOWN_HOLDS ? !fired && !unsure
		                                           : !fired && unsure;
		if (!good)
			return false;
	}
	return true;
}

static bool references_agree(bench *b)
{
	tc_worker *kept = b->worker;
	b->worker = must(tc_worker_new(b->book, NULL)); /* the old one keeps which doors stand open */
	bool good = true;
	for (uint32_t i = 0; good && i < b->references; i++) {
		const reference *ref = &b->reference[i];
		good = !ref->counts || bench_agrees(b, ref);
	}
	tc_worker_free(b->worker);
	b->worker = kept;
	return good;
}

static const tc_expr *compile(bench *b, tc_ask ask, const char *text)
{
	tc_diags *diags = must(tc_diags_new(b->work));
	const tc_expr *expr = tc_expr_compile(b->book, b->work, ask, tc_text_of(text), diags);
	return expr && expr->type == TC_T_TRUTH ? expr : NULL;
}

static bool put_in(bench *b, uint32_t rule, const tc_expr *when)
{
	b->rule[rule].when = when;
	return tc_doors_find(b->work, when, b->rule[rule].ask, &b->doors[rule]);
}

typedef struct changed {
	uint32_t rule;
	const tc_expr *when;
	tc_doors doors;
} changed;

/* With these rules changed: who notices? Puts them back. */
static outcome try_out(bench *b, const changed *was, uint32_t count)
{
	bool good = true;
	for (uint32_t i = 0; good && i < count; i++)
		good = shows(b, was[i].rule);
	const outcome out = !good ? NOTICED_BY_EXAMPLE : references_agree(b) ? UNNOTICED : NOTICED_BY_RECIPE;
	for (uint32_t i = 0; i < count; i++) {
		b->rule[was[i].rule].when = was[i].when;
		b->doors[was[i].rule] = was[i].doors;
	}
	tc_arena_reset(b->work);
	return out;
}

static changed keep(const bench *b, uint32_t rule)
{
	return (changed){rule, b->rule[rule].when, b->doors[rule]};
}

outcome try_rule(bench *b, uint32_t rule, const char *text)
{
	const tc_expr *when = compile(b, b->rule[rule].ask, text);
	const changed was = keep(b, rule);
	if (!when) {
		tc_arena_reset(b->work);
		return REFUSED;
	}
	if (!put_in(b, rule, when))
		give_up("out of memory");
	return try_out(b, &was, 1);
}

/* A let stands in rules and in other lets, so every rule is compiled anew; those in which it does not stand come out as they
 * were. False: some rule no longer compiles. */
static bool change_all(bench *b, const bool *uses, changed *was, uint32_t *count)
{
	for (uint32_t r = 0; r < b->rules; r++) {
		if (!uses[r])
			continue;
		const tc_expr *when = compile(b, b->rule[r].ask, b->rule[r].when_text);
		if (!when)
			return false;
		was[*count] = keep(b, r);
		(*count)++;
		if (!put_in(b, r, when))
			give_up("out of memory");
	}
	return true;
}

outcome try_let(bench *b, uint32_t let, const bool *uses, const char *text)
{
	const tc_let kept = b->let[let];
	changed *was = must(calloc(b->rules, sizeof *was));
	uint32_t count = 0;
	b->let[let].text = text;
	b->let[let].length = (uint32_t)strlen(text);
	const bool good = change_all(b, uses, was, &count);
	outcome out = REFUSED;
	if (good) {
		out = try_out(b, was, count);
	} else {
		for (uint32_t i = 0; i < count; i++) {
			b->rule[was[i].rule].when = was[i].when;
			b->doors[was[i].rule] = was[i].doors;
		}
		tc_arena_reset(b->work);
	}
	b->let[let] = kept;
	free(was);
	return out;
}
