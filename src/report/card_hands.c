/* When hands are needed. */
#include <stdlib.h>

#include "report/card_hands.h"

static int by_time(const void *x, const void *y)
{
	const tc_hand *a = x, *b = y;
	if (a->from != b->from)
		return a->from < b->from ? -1 : 1;
	if ((a->kind == TC_HAND_END) != (b->kind == TC_HAND_END))
		return a->kind == TC_HAND_END ? -1 : 1;
	return a->task < b->task ? -1 : a->task > b->task;
}

bool tc_hands_of(tc_arena *arena, const tc_timetable *table, tc_hands *hands)
{
	*hands = (tc_hands){.at = TC_ARRAY(arena, 2 * (size_t)table->tasks, tc_hand)};
	for (uint32_t i = 0; hands->at && i < table->tasks; i++) {
		const tc_task *task = &table->task[i];
		if (task->attended) {
			hands->at[hands->count++] = (tc_hand){task->start, task->end, i, TC_HAND_WORK};
			continue;
		}
		hands->at[hands->count++] = (tc_hand){task->start, task->start, i, TC_HAND_BEGIN};
		hands->at[hands->count++] = (tc_hand){task->end, task->end, i, TC_HAND_END};
	}
	if (hands->count)
		qsort(hands->at, hands->count, sizeof *hands->at, by_time);
	return hands->at != NULL;
}
