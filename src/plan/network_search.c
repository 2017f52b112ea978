/*
 * The windows: branch and bound over the values that bounds and domains alone would give.
 *
 * A state lets each choice span a range of its windows. Its least values are a bound for all plans within it, and are
 * themselves the best of them if no distance falls between two windows. Where one does, the state is parted in two:
 * the windows before, and the windows after.
 *
 * A state that fails says which decisions had a part in that. Where the last one had none, its other half would fail
 * for the same reason, and is not looked at (conflict-directed backjumping: Prosser, "Hybrid algorithms for the
 * constraint satisfaction problem", Computational Intelligence 9 (1993) 268-299). A plan that is found counts as a
 * failure to be better: the decisions on the way to its last moment had a part.
 */
#include <math.h>
#include <string.h>

#include "base/limits.h"
#include "plan/network_private.h"

#define FIRST_CAP ((tc_tick)3600 * 1000000) /* beyond half as long again as bounds alone ask for */

#define QUICK_TRIES 1000u /* of windows, for the first plan */

/* One of the two parts of a state. */
typedef struct part {
	tc_levels state;
	bool tried, holds;
	uint32_t low, high; /* slots of the choice */
	tc_tick value;      /* bound for what it may reach */
	double sum;         /* of all values: which of two equals is looked at first */
	uint64_t *reason;   /* why it does not hold, as in tc_search */
} part;

struct tc_frame {
	tc_levels state;
	bool opened;
	uint32_t choice;
	uint32_t low, high; /* as they were before */
	uint32_t done;      /* parts looked at */
	bool apart;         /* it fails whatever is decided here */
	part part[2];       /* the better one first */
	uint64_t *reason;   /* why it fails, as far as known */
};

/* --- states ---------------------------------------------------------------------------------------------------- */

bool tc_levels_new(const tc_search *s, tc_levels *state)
{
	state->at = TC_ARRAY(s->arena, s->net->moments, tc_tick);
	state->why = TC_ARRAY(s->arena, s->net->moments, uint32_t);
	state->leapt = TC_ARRAY(s->arena, s->net->moments, bool);
	return state->at && state->why && state->leapt;
}

void tc_levels_copy(const tc_search *s, tc_levels *to, const tc_levels *from)
{
	const size_t n = s->net->moments;
	memcpy(to->at, from->at, n * sizeof *to->at);
	memcpy(to->why, from->why, n * sizeof *to->why);
	memcpy(to->leapt, from->leapt, n * sizeof *to->leapt);
}

/* --- a new search ---------------------------------------------------------------------------------------------- */

static void lay_leaves(tc_search *s)
{
	const tc_network *net = s->net;
	uint32_t *first = s->first;

	for (uint32_t b = 0; b < net->bonds; b++)
		first[(s->backwards ? net->bond[b].to : net->bond[b].from) + 1]++;
	for (uint32_t m = 0; m < net->moments; m++)
		first[m + 1] += first[m];
	for (uint32_t b = net->bonds; b-- > 0;) { /* moves each first[m + 1] to its leaves' start */
		const uint32_t m = s->backwards ? net->bond[b].to : net->bond[b].from;
		s->leaves[--first[m + 1]] = b;
	}
	for (uint32_t m = 0; m < net->moments; m++)
		first[m] = first[m + 1];
	first[net->moments] = net->bonds;
}

static void lay_limits(tc_search *s, double horizon, const double *fixed)
{
	s->horizon = tc_tick_down(fmax(0, fmin(horizon, tc_tick_seconds(TC_TICK_FAR - 1))));

	for (uint32_t m = 0; m < s->net->moments; m++) {
		tc_tick least = 0, most = m == 0 ? 0 : s->horizon;
		if (m > 0 && fixed && !isnan(fixed[m]))
			least = most = (tc_tick)rint(fmin(fmax(fixed[m], -4e9), 4e9) * 1e6);
		s->start[m] = s->backwards ? -most : least;
		s->limit[m] = s->backwards ? -least : most;
	}
}

bool tc_search_new(
    tc_search *s, const tc_network *net, tc_arena *arena, bool backwards, double horizon, const double *fixed)
{
	const uint32_t n = net->moments;

	*s = (tc_search){.net = net, .arena = arena, .backwards = backwards, .steps_max = TC_NETWORK_STEPS_MAX};
	s->start = TC_ARRAY(arena, n, tc_tick);
	s->limit = TC_ARRAY(arena, n, tc_tick);
	s->gap = TC_ARRAY(arena, net->bonds, tc_tick);
	s->low = TC_ARRAY(arena, net->choices, uint32_t);
	s->high = TC_ARRAY(arena, net->choices, uint32_t);
	s->first = TC_ARRAY(arena, (size_t)n + 1, uint32_t);
	s->leaves = TC_ARRAY(arena, net->bonds, uint32_t);
	s->queue = TC_ARRAY(arena, n, uint32_t);
	s->queued = TC_ARRAY(arena, n, bool);
	s->seen = TC_ARRAY(arena, n, uint32_t);
	s->choice_of = TC_ARRAY(arena, net->bonds, uint32_t);
	s->bond_used = TC_ARRAY(arena, net->bonds, bool);
	s->held_used = TC_ARRAY(arena, n, bool);
	if (!tc_levels_new(s, &s->root) || !tc_levels_new(s, &s->best) || !tc_levels_new(s, &s->closed) ||
	    tc_arena_failed(arena))
		return false;
	memset(s->choice_of, 0xff, net->bonds * sizeof *s->choice_of);
	for (uint32_t c = 0; c < net->choices; c++)
		s->choice_of[net->choice[c].least] = s->choice_of[net->choice[c].most] = c;
	lay_leaves(s);
	lay_limits(s, horizon, fixed);
	return true;
}

static void set_range(tc_search *s, uint32_t choice, uint32_t low, uint32_t high)
{
	const tc_choice *c = &s->net->choice[choice];
	s->low[choice] = low;
	s->high[choice] = high;
	s->gap[c->least] = c->slot[low].from;
	s->gap[c->most] = -c->slot[high].to;
}

void tc_search_begin(tc_search *s, tc_levels *state)
{
	for (uint32_t b = 0; b < s->net->bonds; b++)
		s->gap[b] = s->net->bond[b].gap;
	for (uint32_t c = 0; c < s->net->choices; c++)
		set_range(s, c, 0, s->net->choice[c].slots - 1);
	for (uint32_t m = 0; m < s->net->moments; m++) {
		state->at[m] = s->start[m];
		state->why[m] = TC_NO_BOND;
		state->leapt[m] = false;
	}
	s->raised = 0;
	tc_search_push_all(s);
}

/* --- parting --------------------------------------------------------------------------------------------------- */

static tc_tick value_of(const tc_search *s, const tc_levels *state)
{
	tc_tick value = state->at[s->backwards ? s->target : 0];
	for (uint32_t m = 0; !s->backwards && m < s->net->moments; m++)
		value = state->at[m] > value ? state->at[m] : value;
	return value;
}

/*
 * The choice whose distance falls between two of its slots, the one with the lowest value of those: what comes first
 * settles what comes later. *split: the slot before the gap. False: there is none, the state is a plan.
 */
static bool fallen_between(const tc_search *s, const tc_levels *state, uint32_t *choice, uint32_t *split)
{
	bool any = false;
	tc_tick lowest = 0;

	for (uint32_t i = 0; i < s->net->choices; i++) {
		const tc_choice *c = &s->net->choice[i];
		if (!tc_search_counts(s, s->ranks.choice, i))
			continue;
		const tc_tick to = state->at[c->to], from = state->at[c->from];
		if (to == TC_TICK_NONE || from == TC_TICK_NONE)
			continue;
		const tc_tick distance = s->backwards ? from - to : to - from;
		uint32_t slot = s->low[i];
		while (slot < s->high[i] && distance > c->slot[slot].to)
			slot++;
		if (slot == s->low[i] || distance >= c->slot[slot].from || (any && to >= lowest))
			continue;
		any = true;
		lowest = to;
		*choice = i;
		*split = slot - 1;
	}
	return any;
}

static double sum_of(const tc_search *s, const tc_levels *state)
{
	double sum = 0;
	for (uint32_t m = 0; m < s->net->moments; m++)
		sum += (double)state->at[m];
	return sum;
}

/*
 * What closes on the target of a plan where all ranges are as now, whatever the horizon. False: the budget is spent.
 */
static bool find_closing(tc_search *s, const tc_levels *plan)
{
	uint32_t choice, split;
	tc_levels *closed = &s->closed;

	for (uint32_t m = 0; m < s->net->moments; m++) {
		closed->at[m] = s->start[m] < s->limit[m] ? TC_TICK_NONE : s->start[m];
		closed->why[m] = TC_NO_BOND;
		closed->leapt[m] = false;
	}
	tc_search_push_all(s);
	if (!tc_search_settle(s, closed))
		return false;
	s->closing = fallen_between(s, closed, &choice, &split) ? plan->at[s->target] : closed->at[s->target];
	return true;
}

/* --- reasons --------------------------------------------------------------------------------------------------- */

static size_t words(const tc_search *s)
{
	return (s->net->choices + 63) / 64;
}

static bool has(const uint64_t *reason, uint32_t choice)
{
	return reason[choice / 64] >> (choice % 64) & 1;
}

/* Where blame goes from now on. */
static void ask_reason(tc_search *s, uint64_t *reason)
{
	s->reason = reason;
	if (reason)
		memset(reason, 0, words(s) * sizeof *reason);
}

/* Why the state, which holds, can lead to nothing better. */
static void find_reason(tc_search *s, const tc_levels *state, uint64_t *reason)
{
	uint32_t moment = s->backwards ? s->target : 0;

	for (uint32_t m = 0; !s->backwards && m < s->net->moments; m++)
		moment = state->at[m] > state->at[moment] ? m : moment;
	ask_reason(s, reason);
	tc_search_blame(s, state, moment);
	ask_reason(s, NULL);
}

/* A part of the frame fails for this reason. */
static void take_reason(const tc_search *s, tc_frame *f, const uint64_t *reason)
{
	if (f->apart)
		return;
	if (!has(reason, f->choice)) {
		f->apart = true;
		f->done = 2;
		memcpy(f->reason, reason, words(s) * sizeof *reason);
		return;
	}
	for (size_t i = 0; i < words(s); i++)
		f->reason[i] |= reason[i];
}

/*
 * All of the frame fails. What was decided of its choice before it, if anything, has a part, for that bounds the
 * halves.
 */
static void close_reason(const tc_search *s, tc_frame *f)
{
	const uint64_t bit = UINT64_C(1) << (f->choice % 64);

	if (f->apart)
		return;
	if (f->low == 0 && f->high == s->net->choice[f->choice].slots - 1)
		f->reason[f->choice / 64] &= ~bit;
	else
		f->reason[f->choice / 64] |= bit;
}

/* --- parting --------------------------------------------------------------------------------------------------- */

/* Tries a part of the frame's state. */
static void try_part(tc_search *s, const tc_frame *f, part *p)
{
	const tc_choice *c = &s->net->choice[f->choice];

	p->tried = true;
	p->holds = false;
	if (++s->tries > s->tries_max) {
		s->spent = true;
		return;
	}
	set_range(s, f->choice, p->low, p->high);
	tc_levels_copy(s, &p->state, &f->state);
	tc_search_push(s, c->from);
	tc_search_push(s, c->to);
	ask_reason(s, p->reason);
	p->holds = tc_search_settle(s, &p->state);
	ask_reason(s, NULL);
	p->value = p->holds ? value_of(s, &p->state) : 0;
	p->sum = p->holds ? sum_of(s, &p->state) : 0;
	s->steps += s->net->moments;
	set_range(s, f->choice, f->low, f->high);
}

static bool better(const part *a, const part *b)
{
	if (!a->holds || !b->holds)
		return a->holds && !b->holds;
	return a->value < b->value || (a->value == b->value && a->sum < b->sum);
}

static void swap(tc_frame *f)
{
	const part first = f->part[0];
	f->part[0] = f->part[1];
	f->part[1] = first;
}

static void keep_best(tc_search *s, tc_frame *f)
{
	tc_levels_copy(s, &s->best, &f->state);
	s->best_value = value_of(s, &f->state);
	s->has_best = s->improved = true;
	find_reason(s, &f->state, f->reason);
	if (s->backwards && !find_closing(s, &f->state))
		s->spent = true;
	s->cap = s->best_value - 1;
	f->done = 2;
	f->apart = true;
}

/* Parts the frame's state in two, or keeps it as the best plan so far. */
static void open_frame(tc_search *s, tc_frame *f)
{
	uint32_t split = 0;

	f->opened = true;
	f->apart = false;
	if (!fallen_between(s, &f->state, &f->choice, &split)) {
		keep_best(s, f);
		return;
	}
	if (s->blamed)
		s->blamed[s->ranks.choice[f->choice]] = true;
	memset(f->reason, 0, words(s) * sizeof *f->reason);
	f->low = s->low[f->choice];
	f->high = s->high[f->choice];
	f->done = 0;
	f->part[0].low = f->low;
	f->part[0].high = split;
	f->part[1].low = split + 1;
	f->part[1].high = f->high;
	f->part[0].tried = f->part[1].tried = false;
	if (!s->later_first)
		try_part(s, f, &f->part[0]);
	if (!s->spent)
		try_part(s, f, &f->part[1]);
	if (s->later_first ? f->part[1].holds : better(&f->part[1], &f->part[0]))
		swap(f);
	for (int i = 0; i < 2 && !s->spent; i++) {
		if (f->part[i].tried && !f->part[i].holds)
			take_reason(s, f, f->part[i].reason);
	}
}

/* --- going through the frames ---------------------------------------------------------------------------------- */

static bool frame_new(const tc_search *s, tc_frame *f)
{
	*f = (tc_frame){0};
	f->reason = TC_ARRAY(s->arena, words(s), uint64_t);
	for (int i = 0; i < 2; i++) {
		f->part[i].reason = TC_ARRAY(s->arena, words(s), uint64_t);
		if (!tc_levels_new(s, &f->part[i].state) || !f->part[i].reason)
			return false;
	}
	return f->reason != NULL;
}

/* A frame for the state, with room for its parts. What lies at a depth is used again. */
static bool enter(tc_search *s, uint32_t depth, tc_levels state)
{
	void *frames = s->frame;
	if (depth == s->frames) {
		if (!tc_arena_grow(s->arena, &frames, s->frames, &s->frames_room, sizeof *s->frame))
			return false;
		s->frame = frames;
		if (!frame_new(s, &s->frame[depth]))
			return false;
		s->frames++;
	}
	s->frame[depth].state = state;
	s->frame[depth].opened = false;
	return true;
}

/* The next part of the frame that is worth a look; NULL: none. Its range is set. */
static const part *next_part(tc_search *s, tc_frame *f)
{
	while (f->done < 2) {
		part *p = &f->part[f->done++];
		if (!p->tried) {
			try_part(s, f, p);
			if (s->spent)
				return NULL;
			if (!p->holds)
				take_reason(s, f, p->reason);
		}
		if (!p->holds)
			continue;
		set_range(s, f->choice, p->low, p->high);
		if (p->value <= s->cap)
			return p;
		find_reason(s, &p->state, p->reason);
		set_range(s, f->choice, f->low, f->high);
		take_reason(s, f, p->reason);
	}
	return NULL;
}

static bool go_through(tc_search *s)
{
	uint32_t depth = 0;

	if (!enter(s, depth, s->root))
		return false;
	for (depth = 1; depth > 0;) {
		tc_frame *f = &s->frame[depth - 1];
		if (!f->opened) {
			open_frame(s, f);
			if (s->spent || (s->improved && s->first_will_do))
				break;
		} else { /* back from a part */
			set_range(s, f->choice, f->low, f->high);
			take_reason(s, f, s->frame[depth].reason);
		}
		const part *p = next_part(s, f);
		if (s->spent)
			break;
		if (!p) {
			close_reason(s, f);
			depth--;
		} else if (!enter(s, depth++, p->state)) {
			return false;
		}
	}
	return true;
}

/* TC_OUTCOME_PLAN: one that is better than the best so far, and the best within the cap (any, where any will do). */
static tc_outcome search_once(tc_search *s)
{
	memset(s->bond_used, false, s->net->bonds);
	memset(s->held_used, false, s->net->moments);
	if (s->blamed)
		memset(s->blamed, false, s->ranks.count);
	s->improved = false;
	tc_search_begin(s, &s->root);
	if (tc_search_settle(s, &s->root) && !go_through(s))
		return TC_OUTCOME_NO_MEMORY;
	if (s->spent)
		return TC_OUTCOME_SPENT;
	return s->improved ? TC_OUTCOME_PLAN : TC_OUTCOME_NONE;
}

/*
 * As people do who have no time to think: each thing as early as it can be, and what has missed a window waits for the
 * next. With a small part of the budget.
 */
static tc_outcome search_quickly(tc_search *s)
{
	const bool first_will_do = s->first_will_do;
	const uint64_t steps_max = s->steps_max;

	s->first_will_do = s->later_first = true;
	s->tries_max = QUICK_TRIES;
	s->steps_max = s->steps + (steps_max - s->steps) / 10;
	const tc_outcome found = search_once(s);
	s->first_will_do = first_will_do;
	s->later_first = false;
	s->tries_max = TC_NETWORK_TRIES_MAX;
	s->steps_max = steps_max;
	s->spent = false;
	return found;
}

/*
 * For plans that end ever later, until one is found, none is to be found, or the budget is spent. So two moments that
 * never meet within their hours are given up after some days, and not at the horizon.
 */
static tc_outcome search_later_and_later(tc_search *s, tc_tick least)
{
	tc_outcome found = TC_OUTCOME_NONE;
	bool last = false;

	for (tc_tick more = FIRST_CAP + least / 2; found == TC_OUTCOME_NONE && !last; more *= 3) {
		s->cap = least + more;
		last = s->cap >= (s->has_best ? s->best_value - 1 : s->horizon);
		if (last) /* without a plan uncapped, so that blame is laid for limits alone */
			s->cap = s->has_best ? s->best_value - 1 : INT64_MAX;
		found = search_once(s);
	}
	return found == TC_OUTCOME_NONE && s->has_best ? TC_OUTCOME_PLAN : found;
}

tc_outcome tc_search_run(tc_search *s)
{
	s->spent = s->has_best = false;
	s->tries = 0;
	s->tries_max = TC_NETWORK_TRIES_MAX;
	s->cap = INT64_MAX;
	if (s->backwards || s->net->choices == 0)
		return search_once(s);
	tc_search_begin(s, &s->root);
	if (!tc_search_settle(s, &s->root))
		return s->spent ? TC_OUTCOME_SPENT : search_once(s);
	const tc_tick least = value_of(s, &s->root);
	const tc_outcome found = search_quickly(s);
	if (found == TC_OUTCOME_NO_MEMORY || found == TC_OUTCOME_NONE)
		return found;
	if (found == TC_OUTCOME_PLAN && (s->first_will_do || s->best_value == least))
		return found;
	return search_later_and_later(s, least);
}

/* --- questions ------------------------------------------------------------------------------------------------- */

tc_network_answer tc_network_earliest_counted(const tc_network *network, double horizon, double *at, uint64_t *steps)
{
	tc_arena *arena = tc_arena_new(tc_arena_allocator(network->arena), 0);
	tc_network_answer answer = TC_NETWORK_NO_MEMORY;
	tc_search s;

	*steps = 0;
	if (arena && tc_search_new(&s, network, arena, false, horizon, NULL)) {
		const tc_outcome found = tc_search_run(&s);
		if (found != TC_OUTCOME_NO_MEMORY)
			answer = found == TC_OUTCOME_PLAN   ? TC_NETWORK_SOLVED
			         : found == TC_OUTCOME_NONE ? TC_NETWORK_CONFLICT
			                                    : TC_NETWORK_TOO_MUCH;
		for (uint32_t m = 0; m < network->moments && (found == TC_OUTCOME_PLAN || found == TC_OUTCOME_SPENT);
		     m++)
			at[m] = s.has_best ? tc_tick_seconds(s.best.at[m]) : (double)NAN;
		*steps = s.steps;
	}
	tc_arena_free(arena);
	return answer;
}

tc_network_answer tc_network_earliest(const tc_network *network, double horizon, double *at)
{
	uint64_t steps;
	return tc_network_earliest_counted(network, horizon, at, &steps);
}

tc_network_answer tc_network_latest(
    const tc_network *network, double horizon, const double *fixed, uint32_t moment, double *latest)
{
	tc_arena *arena = tc_arena_new(tc_arena_allocator(network->arena), 0);
	tc_network_answer answer = TC_NETWORK_NO_MEMORY;
	tc_search s;

	if (arena && moment < network->moments && tc_search_new(&s, network, arena, true, horizon, fixed)) {
		s.target = moment;
		const tc_outcome found = tc_search_run(&s);
		if (found == TC_OUTCOME_PLAN) {
			answer = TC_NETWORK_SOLVED;
			*latest = -s.closing > s.horizon ? (double)INFINITY : tc_tick_seconds(-s.closing);
		} else if (found != TC_OUTCOME_NO_MEMORY) {
			answer = found == TC_OUTCOME_NONE ? TC_NETWORK_CONFLICT : TC_NETWORK_TOO_MUCH;
		}
	}
	tc_arena_free(arena);
	return answer;
}
