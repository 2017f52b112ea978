/* The times of a table as a model takes them. Private to this folder. */
#ifndef TC_PLAN_TURNS_H
#define TC_PLAN_TURNS_H

#include "plan/timetable.h"

/* Every step of the recipe, waits included, at the time that the table gives it. NULL: out of memory. */
const tc_turns *tc_turns_of(tc_arena *arena, const tc_model *written, const tc_timetable *table);

/* The first task of a step and the last; TC_NONE: it has none (a wait). */
uint32_t tc_table_first(const tc_timetable *table, uint32_t step);
uint32_t tc_table_last(const tc_timetable *table, uint32_t step);

#endif
