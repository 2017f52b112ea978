/* Findings that say the same of several parts, gathered; and the mark by which the drawing and the text refer to each:
 * 1, 2, 3 … for what is wrong, a, b, c … for what is open. */
#ifndef TC_REPORT_MARKS_H
#define TC_REPORT_MARKS_H

#include "judge/judge.h"
#include "report/page.h"

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

/* Ink of a finding; and was a reason told by one before it, in the same words? */
tc_ink tc_finding_ink(const tc_finding *finding);
bool tc_reason_told_before(const tc_finding *finding, uint32_t index);
/* `hull, wheelhouse; step 12, line 47` */
void tc_group_where(const tc_judgement *judgement, const tc_group *group, tc_buffer *out);

/* False: out of memory. */
bool tc_groups_make(tc_arena *arena, const tc_judgement *judgement, tc_groups *groups);

#endif
