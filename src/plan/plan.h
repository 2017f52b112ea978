/*
 * A plan: a recipe, judged as written, timed, judged again at those times, with what it takes.
 *
 * The times of a table are not those of the recipe: evenings end, and a wait of 24 h becomes one of 43. So the recipe is
 * judged again with the times of the table; where a rule then asks for more or less time, that becomes a bound and the table
 * is made anew, until no rule asks further or no table exists. Rules decide, the network only keeps the books.
 */
#ifndef TC_PLAN_PLAN_H
#define TC_PLAN_PLAN_H

#include "plan/breath.h"

typedef struct tc_plan {
	const tc_recipe *recipe;
	const tc_judgement *written; /* as written */
	const tc_timetable *table;
	const tc_judgement *timed;   /* at the table's times; steps have the recipe's numbers. NULL without times */
	const tc_supply *supply;
	const tc_breath *breath;
	double ready;                /* when all is done and the last layer through-dry, s; INFINITY: never, NAN: unknown */
	uint32_t rounds;             /* tables made */
	bool settled;                /* no rule asks for other times any more */
} tc_plan;

/* `wish` (NULL: none) and `today` as for tc_calendar_new. TC_BAD: its errors are in `diags`. TC_NO_MEMORY, or TC_OK with
 * *plan set. */
tc_status tc_plan_make(tc_worker *worker, tc_arena *arena, const tc_recipe *recipe, const tc_calendar_wish *wish,
    tc_date today, tc_diags *diags, const tc_plan **plan);

#endif
