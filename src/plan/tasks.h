/* The timetable while it is made: tasks and bounds before they have times. Private to this folder. */
#ifndef TC_PLAN_TASKS_H
#define TC_PLAN_TASKS_H

#include "plan/timetable.h"

typedef struct tc_tabling {
	tc_arena *arena;
	const tc_model *model; /* of the recipe as written */
	const tc_calendar *calendar;
	bool draft;            /* without latest moments */
	double stand_by;       /* s: longest that hands stay beside a part that needs none */
	uint32_t tasks, room;
	tc_task *task;         /* in written order */
	uint32_t bounds, bound_room;
	tc_bound *bound;
	uint32_t *body;        /* by part: the number of its body */
	uint32_t bodies;
	uint32_t *first, *last; /* by step: its first and last task; TC_NONE: none (a wait) */
} tc_tabling;

/* tasks.c: the steps as tasks. False: out of memory. */
bool tc_tasks_lay_out(tc_tabling *t);
/* The bodies of a set of parts, as bits. */
uint64_t tc_bodies_of(const tc_tabling *t, uint64_t parts);

/* bounds.c: all that bounds them, but hands and hours. False: out of memory. */
bool tc_bounds_gather(tc_tabling *t, const tc_asked *more, uint32_t count);
/* Adds one; `text` may be NULL (out of memory). */
bool tc_bound_add(tc_tabling *t, const tc_bound *bound);
/* The task of that body that comes last before a task, in written order; TC_NONE. */
uint32_t tc_task_before(const tc_tabling *t, uint32_t task, uint32_t body);

/* hands.c: an order of all attended tasks, that in which they can begin soonest one after the other; and the written one.
 * order[] has room for all tasks; returns how many are in it. */
uint32_t tc_hands_written(const tc_tabling *t, uint32_t *order);
uint32_t tc_hands_soonest(const tc_tabling *t, uint32_t *order);

/* hours.c: the moments at which a task may begin. */
typedef struct tc_opening {
	const tc_calendar *calendar;
	double lasts;
	bool attended;
} tc_opening;
double tc_opening_next(const void *opening, double at);
double tc_opening_last(const void *opening, double at);

#endif
