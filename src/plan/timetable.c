/* The timetable of a recipe: tasks and bounds go into a network, what comes out are times. */
#include "plan/tasks.h"

#include <stdlib.h>

#define DEAR_MOST 3                 /* latest moments that may cost a whole budget of windows each */
#define LATER (20 * 365.25 * 86400) /* s after the end: what closes later than that, closes for nobody */

const char *tc_bound_kind_name(tc_bound_kind kind)
{
	static const char *const names[] = {
	    "order", "hands", "wait", "flash", "window", "age", "pot", "rule", "hours", "start"};
	return names[kind];
}

/* --- the network ---------------------------------------------------------------------------------------------------- */

/* A network over the tasks: moment i + 1 is the beginning of task i; group i + 1 is bound i. */
typedef struct tc_try {
	tc_tabling *t;
	tc_network *network;
	tc_opening *opening; /* by task */
	double *at;          /* by moment; NULL until solved */
	uint32_t bounds;     /* of the table when this try was made: hands and hours are its own */
	tc_bound *bound;
	uint32_t own, room;
	bool earliest; /* no plan in this order ends earlier */
} tc_try;

/* Order as written cannot be given up; everything else has a name. */
static uint32_t group_of(const tc_bound *bound, uint32_t index)
{
	return bound->kind == TC_BOUND_ORDER ? 0 : index + 1;
}

static bool add_bound(const tc_try *x, const tc_bound *b, uint32_t index)
{
	const tc_task *task = x->t->task;
	const double shift = (b->from == TC_NONE ? 0 : task[b->from].lasts) - (b->to_end ? task[b->to].lasts : 0);
	const uint32_t from = b->from == TC_NONE ? 0 : b->from + 1;
	tc_span window[TC_NETWORK_WINDOWS_MAX];
	for (uint32_t i = 0; i < b->windows; i++)
		window[i] = (tc_span){b->window[i].from + shift, b->window[i].to + shift};
	if (b->windows == 1)
		return tc_network_bound(x->network, from, b->to + 1, window->from, window->to, group_of(b, index));
	return tc_network_windows(x->network, from, b->to + 1, window, b->windows, group_of(b, index));
}

static bool own_bound(tc_try *x, const tc_bound *bound)
{
	if (x->own == x->room && !tc_arena_grow(x->t->arena, (void **)&x->bound, x->own, &x->room, sizeof *x->bound))
		return false;
	x->bound[x->own++] = *bound;
	return true;
}

static bool hold_to_hours(tc_try *x, uint32_t task)
{
	const tc_task *own = &x->t->task[task];
	x->opening[task] = (tc_opening){x->t->calendar, own->lasts, own->attended};
	const tc_domain domain = {tc_opening_next, tc_opening_last, &x->opening[task]};
	const bool never = isnan(tc_opening_next(&x->opening[task], 0));
	const tc_bound hours = {.kind = TC_BOUND_HOURS,
	    .from = TC_NONE,
	    .to = task,
	    .place = x->t->model->recipe->times.hours.place,
	    .text = never ? "it takes longer than any session lasts" : "work lies in a session"};
	return tc_network_hold(x->network, task + 1, &domain, x->bounds + x->own + 1) && own_bound(x, &hours);
}

/* The next one begins when the hands are free. */
static bool one_pair(tc_try *x, uint32_t before, uint32_t after)
{
	const double busy = x->t->task[before].attended ? 0 : -x->t->task[before].lasts;
	const tc_bound hands = {.kind = TC_BOUND_HANDS,
	    .from = before,
	    .to = after,
	    .windows = 1,
	    .window = {{busy, INFINITY}},
	    .place = x->t->task[after].step->place,
	    .text = "one pair of hands"};
	return add_bound(x, &hands, x->bounds + x->own) && own_bound(x, &hands);
}

/* `count` 0: as many hands as it takes. False: out of memory. */
static bool set_up(tc_try *x, tc_tabling *t, const uint32_t *order, uint32_t count)
{
	*x = (tc_try){.t = t, .network = tc_network_new(t->arena), .bounds = t->bounds};
	x->opening = TC_ARRAY(t->arena, t->tasks, tc_opening);
	x->at = TC_ARRAY(t->arena, t->tasks + 1, double);
	if (!x->network || !x->opening || !x->at)
		return false;
	for (uint32_t i = 0; i < t->tasks; i++)
		if (!tc_network_moment(x->network))
			return false;
	for (uint32_t i = 0; i < t->bounds; i++)
		if (!add_bound(x, &t->bound[i], i))
			return false;
	if (tc_calendar_say(t->calendar).has_sessions)
		for (uint32_t i = 0; i < t->tasks; i++)
			if (!hold_to_hours(x, i))
				return false;
	for (uint32_t i = 1; i < count; i++)
		if (!one_pair(x, order[i - 1], order[i]))
			return false;
	return true;
}

/* Where there are too many windows to try them all, a plan that holds is better than none. */
static tc_network_answer solve(tc_try *x, tc_tabling *t, const uint32_t *order, uint32_t count)
{
	if (!set_up(x, t, order, count))
		return TC_NETWORK_NO_MEMORY;
	const tc_network_answer answer = tc_network_earliest(x->network, TC_TIME_MAX, x->at);
	x->earliest = answer == TC_NETWORK_SOLVED;
	return answer == TC_NETWORK_TOO_MUCH && t->tasks && !isnan(x->at[1]) ? TC_NETWORK_SOLVED : answer;
}

/* --- the better of two orders ------------------------------------------------------------------------------------------ */

static double end_of(const tc_try *x)
{
	double end = 0;
	for (uint32_t i = 0; i < x->t->tasks; i++)
		end = fmax(end, x->at[i + 1] + x->t->task[i].lasts);
	return end;
}

static bool is_written(const uint32_t *order, uint32_t count)
{
	for (uint32_t i = 0; i < count; i++)
		if (order[i] != i)
			return false;
	return true;
}

/* The written order is kept unless another ends sooner. */
static tc_network_answer solve_best(tc_tabling *t, tc_try *best, bool *reordered)
{
	uint32_t *order = TC_ARRAY(t->arena, t->tasks, uint32_t);
	if (!order)
		return TC_NETWORK_NO_MEMORY;
	const tc_network_answer answer = solve(best, t, order, tc_hands_written(t, order));
	*reordered = false;
	const uint32_t count = tc_hands_soonest(t, order);
	if (count < t->tasks || answer == TC_NETWORK_NO_MEMORY)
		return TC_NETWORK_NO_MEMORY;
	if (is_written(order, count))
		return answer;
	tc_try other;
	const tc_network_answer second = solve(&other, t, order, count);
	if (second == TC_NETWORK_NO_MEMORY)
		return second;
	if (second != TC_NETWORK_SOLVED || (answer == TC_NETWORK_SOLVED && end_of(&other) > end_of(best) - 1))
		return answer;
	*best = other;
	*reordered = true;
	return second;
}

/* --- conflicts --------------------------------------------------------------------------------------------------------- */

/* Hands come into it only if it takes them. */
static tc_status name_conflict(tc_tabling *t, tc_try *x, tc_timetable *table)
{
	tc_try handless;
	const tc_network_answer without = solve(&handless, t, NULL, 0);
	const uint32_t *group;
	size_t count;
	if (without == TC_NETWORK_NO_MEMORY)
		return TC_NO_MEMORY;
	if (without == TC_NETWORK_CONFLICT)
		*x = handless;
	const tc_network_answer answer =
	    tc_network_conflict(x->network, TC_TIME_MAX, t->arena, &group, &count, &table->smallest);
	uint32_t *conflict = TC_ARRAY(t->arena, count, uint32_t);
	if (answer == TC_NETWORK_NO_MEMORY || !conflict)
		return TC_NO_MEMORY;
	for (size_t i = 0; i < count; i++)
		conflict[table->conflicts++] = group[i] - 1;
	table->conflict = conflict;
	table->state = table->conflicts ? TC_TABLE_CONFLICT : TC_TABLE_UNKNOWN;
	return TC_OK;
}

/* --- what holds and what closes ---------------------------------------------------------------------------------------- */

#define SAME 1e-3 /* s: two moments of a plan are one */

/* The distance that a bound looks at. */
static double distance(const tc_tabling *t, const tc_bound *b)
{
	const double from = b->from == TC_NONE ? 0 : t->task[b->from].end;
	return (b->to_end ? t->task[b->to].end : t->task[b->to].start) - from;
}

static bool holds_back(const tc_tabling *t, const tc_bound *b)
{
	for (uint32_t w = 0; w < b->windows; w++)
		if (fabs(distance(t, b) - b->window[w].from) < SAME)
			return true;
	return false;
}

/* What materials ask for says more to a person than order and hands. */
static int weight(const tc_bound *b)
{
	static const int weights[] = {[TC_BOUND_ORDER] = 1,
	    [TC_BOUND_HANDS] = 2,
	    [TC_BOUND_WAIT] = 4,
	    [TC_BOUND_FLASH] = 5,
	    [TC_BOUND_WINDOW] = 5,
	    [TC_BOUND_AGE] = 5,
	    [TC_BOUND_POT] = 5,
	    [TC_BOUND_RULE] = 6,
	    [TC_BOUND_HOURS] = 3,
	    [TC_BOUND_START] = 0};
	return weights[b->kind];
}

static void set_held(const tc_tabling *t, uint32_t task)
{
	tc_task *own = &t->task[task];
	for (uint32_t i = 0; i < t->bounds; i++) {
		const tc_bound *b = &t->bound[i];
		if (b->to != task)
			continue;
		const bool holds = b->kind == TC_BOUND_HOURS ? own->start > 0 : holds_back(t, b);
		if (holds && (own->held_by == TC_NONE || weight(b) > weight(&t->bound[own->held_by])))
			own->held_by = i;
	}
}

/* A window that is open now and closes. */
static void set_closing(const tc_tabling *t, uint32_t task)
{
	tc_task *own = &t->task[task];
	for (uint32_t i = 0; i < t->bounds; i++) {
		const tc_bound *b = &t->bound[i];
		for (uint32_t w = 0; b->to == task && w < b->windows; w++) {
			const double left = b->window[w].to - distance(t, b);
			if (distance(t, b) < b->window[w].from - SAME || left < -SAME ||
			    own->start + left >= own->closes)
				continue;
			own->closes = own->start + left;
			own->closed_by = i;
		}
	}
}

/* What came before is done as in the table; how long may this one be put off so that the rest still fits? */
static bool set_latest(const tc_tabling *t, const tc_try *x, uint32_t task, double end, uint32_t *dear)
{
	double *fixed = TC_ARRAY(t->arena, t->tasks + 1, double), latest;
	if (!fixed)
		return false;
	const tc_task *own = &t->task[task];
	for (uint32_t i = 0; i < t->tasks; i++) {
		const bool before = t->task[i].start < own->start || (t->task[i].start == own->start && i < task);
		fixed[i + 1] = before ? t->task[i].start : NAN;
	}
	fixed[0] = 0;
	const tc_network_answer answer = *dear < DEAR_MOST
	                                     ? tc_network_latest(x->network, end + LATER, fixed, task + 1, &latest)
	                                     : TC_NETWORK_TOO_MUCH;
	if (answer == TC_NETWORK_SOLVED)
		t->task[task].latest = latest > end + LATER / 2 ? INFINITY : latest;
	else
		t->task[task].latest = own->start;
	*dear += answer == TC_NETWORK_TOO_MUCH;
	return answer != TC_NETWORK_NO_MEMORY;
}

static bool set_times(tc_tabling *t, const tc_try *x, double end)
{
	uint32_t dear = 0;
	for (uint32_t i = 0; i < t->tasks; i++) {
		t->task[i].start = x->at[i + 1];
		t->task[i].end = x->at[i + 1] + t->task[i].lasts;
	}
	for (uint32_t i = 0; i < t->tasks; i++) {
		set_held(t, i);
		set_closing(t, i);
		if (!t->draft && !set_latest(t, x, i, end, &dear))
			return false;
	}
	return true;
}

/* --- the table --------------------------------------------------------------------------------------------------------- */

/* Sorts the tasks by beginning, and has the bounds follow. */
static bool sort(tc_tabling *t)
{
	uint32_t *place = TC_ARRAY(t->arena, t->tasks, uint32_t);
	tc_task *sorted = TC_ARRAY(t->arena, t->tasks, tc_task);
	if (!place || !sorted)
		return false;
	for (uint32_t i = 0; i < t->tasks; i++)
		for (uint32_t j = 0; j < t->tasks; j++)
			place[i] +=
			    t->task[j].start < t->task[i].start || (t->task[j].start == t->task[i].start && j < i);
	for (uint32_t i = 0; i < t->tasks; i++)
		sorted[place[i]] = t->task[i];
	for (uint32_t i = 0; i < t->bounds; i++) {
		tc_bound *b = &t->bound[i];
		b->from = b->from == TC_NONE ? TC_NONE : place[b->from];
		b->to = place[b->to];
	}
	t->task = sorted;
	return true;
}

/* The bounds of the try that counts become the table's. */
static bool take_own(tc_tabling *t, const tc_try *x)
{
	for (uint32_t i = 0; i < x->own; i++)
		if (t->bounds == t->bound_room &&
		    !tc_arena_grow(t->arena, (void **)&t->bound, t->bounds, &t->bound_room, sizeof *t->bound))
			return false;
		else
			t->bound[t->bounds++] = x->bound[i];
	return true;
}

static tc_status fill(tc_tabling *t, tc_timetable *table)
{
	tc_try x;
	const tc_network_answer answer = solve_best(t, &x, &table->reordered);
	tc_status status = TC_OK;
	table->state = TC_TABLE_UNKNOWN;
	table->end = NAN;
	if (answer == TC_NETWORK_NO_MEMORY)
		return TC_NO_MEMORY;
	if (answer == TC_NETWORK_CONFLICT)
		status = name_conflict(t, &x, table);
	if (status != TC_OK || !take_own(t, &x))
		return TC_NO_MEMORY;
	if (answer != TC_NETWORK_SOLVED)
		return TC_OK;
	table->state = TC_TABLE_FOUND;
	table->earliest = x.earliest;
	table->end = end_of(&x);
	return set_times(t, &x, table->end) && sort(t) ? TC_OK : TC_NO_MEMORY;
}

tc_status tc_timetable_make(tc_arena *arena, const tc_model *model, const tc_calendar *calendar, const tc_asked *more,
    uint32_t count, bool draft, const tc_timetable **table)
{
	tc_tabling t = {.arena = arena, .model = model, .calendar = calendar, .draft = draft};
	tc_timetable *made = TC_NEW(arena, tc_timetable);
	if (!made || !tc_tasks_lay_out(&t) || !tc_bounds_gather(&t, more, count))
		return TC_NO_MEMORY;
	const tc_status status = fill(&t, made);
	made->calendar = calendar;
	made->tasks = t.tasks;
	made->task = t.task;
	made->bounds = t.bounds;
	made->bound = t.bound;
	*table = made;
	return status != TC_OK || tc_arena_failed(arena) ? TC_NO_MEMORY : TC_OK;
}
