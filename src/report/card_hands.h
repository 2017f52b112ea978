/* When hands are needed: for the whole of a task, or where one that goes by itself begins and where it ends. */
#ifndef TC_REPORT_CARD_HANDS_H
#define TC_REPORT_CARD_HANDS_H

#include "plan/plan.h"

typedef enum tc_hand_kind { TC_HAND_WORK, TC_HAND_BEGIN, TC_HAND_END } tc_hand_kind;

typedef struct tc_hand {
	double from, to; /* s; the same where a task begins or ends by itself */
	uint32_t task;   /* of the timetable */
	tc_hand_kind kind;
} tc_hand;

typedef struct tc_hands {
	uint32_t count;
	tc_hand *at; /* by time; what ends stands before what begins */
} tc_hands;

/* Of a timetable that was found. False: out of memory. */
bool tc_hands_of(tc_arena *arena, const tc_timetable *table, tc_hands *hands);

#endif
