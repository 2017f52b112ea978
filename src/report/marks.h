/* Findings that say the same of several parts, gathered; and the mark by which the drawing and the text refer to each:
 * 1, 2, 3 … for what is wrong, a, b, c … for what is open. */
#ifndef TC_REPORT_MARKS_H
#define TC_REPORT_MARKS_H

#include "judge/judge.h"

typedef struct tc_group {
	const tc_finding *first;
	uint64_t parts; /* bits; 0: of the whole recipe */
	char mark[12];  /* empty: accepted */
	uint32_t rank;  /* of its mark among those of its sort, from 1 */
} tc_group;

typedef struct tc_groups {
	uint32_t count, decided, open, accepted;
	const tc_group *at; /* in the order of the judgement */
	tc_summary summary; /* of the groups: what a person counts */
} tc_groups;

/* False: out of memory. */
bool tc_groups_make(tc_arena *arena, const tc_judgement *judgement, tc_groups *groups);

#endif
