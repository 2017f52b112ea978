/* One pair of hands: in which order the attended tasks are done.
 *
 * The best order of several bodies is a hard problem; but a bench has few. Here the hands always take up what can begin
 * soonest, of several the one that the recipe has first. The written order is the other candidate; the network decides. */
#include "plan/tasks.h"

#define ROUNDS 64 /* of raising a moment until all windows and hours hold */

uint32_t tc_hands_written(const tc_tabling *t, uint32_t *order)
{
	for (uint32_t i = 0; i < t->tasks; i++)
		order[i] = i;
	return t->tasks;
}

/* The first distance >= `gap` that lies in a window; past the last: as it is, for the network to refuse. */
static double into_window(const tc_bound *bound, double gap)
{
	for (uint32_t i = 0; i < bound->windows; i++)
		if (gap <= bound->window[i].to)
			return fmax(gap, bound->window[i].from);
	return gap;
}

/* The soonest that a task can begin after those that have a time already. */
static double soonest(const tc_tabling *t, const double *start, uint32_t task, double free)
{
	const tc_opening opening = {t->calendar, t->task[task].lasts, t->task[task].attended};
	double at = free;
	for (int round = 0; round < ROUNDS; round++) {
		const double before = at;
		for (uint32_t i = 0; i < t->bounds; i++) {
			const tc_bound *b = &t->bound[i];
			const double from = b->from == TC_NONE ? 0 : start[b->from] + t->task[b->from].lasts;
			if (b->to != task || isnan(from))
				continue;
			const double shift = b->to_end ? t->task[task].lasts : 0;
			at = fmax(at, from + into_window(b, at + shift - from) - shift);
		}
		at = tc_opening_next(&opening, at);
		if (isnan(at) || at == before)
			break;
	}
	return isnan(at) ? INFINITY : at;
}

/* Has everything been placed that comes before it on its bodies? */
static bool is_next(const tc_tabling *t, const double *start, uint32_t task)
{
	const uint64_t bodies = tc_bodies_of(t, t->task[task].parts);
	for (uint32_t i = 0; i < task; i++)
		if (isnan(start[i]) &&
		    (t->task[i].step == t->task[task].step || tc_bodies_of(t, t->task[i].parts) & bodies))
			return false;
	return true;
}

/* The task that can begin soonest. There is always one: the first in written order that has no time yet. */
static uint32_t choose(const tc_tabling *t, const double *start, double free, double *at)
{
	uint32_t best = TC_NONE;
	for (uint32_t i = 0; i < t->tasks; i++) {
		if (!isnan(start[i]) || !is_next(t, start, i))
			continue;
		const double soon = soonest(t, start, i, free);
		if (best != TC_NONE && soon >= *at)
			continue;
		best = i;
		*at = soon;
	}
	return best;
}

uint32_t tc_hands_soonest(const tc_tabling *t, uint32_t *order)
{
	double *start = TC_ARRAY(t->arena, t->tasks, double), free = 0, at = 0;
	if (!start)
		return 0;
	for (uint32_t i = 0; i < t->tasks; i++)
		start[i] = NAN;
	for (uint32_t n = 0; n < t->tasks; n++) {
		const uint32_t task = choose(t, start, free, &at);
		if (isinf(at)) /* it never fits: the network will say why */
			at = free;
		order[n] = task;
		start[task] = at;
		free = t->task[task].attended ? at + t->task[task].lasts : at;
	}
	return t->tasks;
}
