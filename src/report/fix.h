/* Advice as edits of the recipe's text, where a machine can carry it out: a step put in, left out, moved or changed, a wait made
 * shorter, another material taken or laid. Advice that names several materials has a fix for each.
 * Only what stands plainly in the text is edited: where a step comes by an alias, or a value is a block of its own, there is
 * no fix, and the advice stays a sentence. A fix is a proposal: only judging the plan again tells what it brings. */
#ifndef TC_REPORT_FIX_H
#define TC_REPORT_FIX_H

#include "judge/judge.h"

#define TC_FIX_EDITS_MAX 8u

/* What stands from `from` up to before `to` becomes `text`. Lines and columns as everywhere; from = to: put in. */
typedef struct tc_fix_edit {
	tc_place from, to;
	const char *text;
} tc_fix_edit;

typedef struct tc_fix {
	const char *says; /* what it does, where the advice leaves a choice; NULL: as the advice says */
	uint32_t edits;
	tc_fix_edit edit[TC_FIX_EDITS_MAX]; /* in the order of the text */
} tc_fix;

/* False: no machine can carry this out, or out of memory (the arena tells). Of several materials the first is taken. */
bool tc_fix_make(
    tc_arena *arena, const tc_judgement *judgement, const tc_finding *finding, const tc_advice *advice, tc_fix *fix);
/* The same with another choice; there are tc_fix_choices, from 0. */
uint32_t tc_fix_choices(const tc_advice *advice);
bool tc_fix_choose(tc_arena *arena, const tc_judgement *judgement, const tc_finding *finding, const tc_advice *advice,
    uint32_t choice, tc_fix *fix);

#endif
