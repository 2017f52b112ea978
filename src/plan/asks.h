/* What rules ask of a timetable. Private to this folder. */
#ifndef TC_PLAN_ASKS_H
#define TC_PLAN_ASKS_H

#include "plan/timetable.h"

typedef struct tc_asks {
	uint32_t count, room;
	tc_asked *at;
	bool errors_only; /* what only warnings ask for is left out */
} tc_asks;

/* Adds what the judgement of a table asks for beyond what it was made with. `written`: the judgement of the recipe as it is.
 * *more: is there anything new? False: out of memory. */
bool tc_asks_gather(tc_arena *arena, const tc_judgement *written, const tc_timetable *table, const tc_judgement *timed,
    tc_asks *asks, bool *more);

#endif
