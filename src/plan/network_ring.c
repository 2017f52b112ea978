/*
 * The ring of bonds that gains and has the fewest of groups that could be given up. By layers: the greatest gain of
 * all ways from a moment with at most so many bonds of such groups; a way that comes back with a gain is a ring. That
 * what cannot be given up costs nothing, and that all moments lie between the origin and the horizon, makes bonds
 * within a layer.
 */
#include <string.h>

#include "plan/network_private.h"

#define LAYERS_MAX 400u /* so that sums of gaps still fit */
#define FAR_BELOW (-(INT64_MAX / 2))

/* How a way came to a moment: by a bond (its number), or one of these. */
#define BY_STAYING (UINT32_MAX - 1) /* as in the layer before */
#define BY_ORIGIN (UINT32_MAX - 2)  /* no moment before the origin */
#define BY_HORIZON (UINT32_MAX - 3) /* none after the horizon */
#define BY_NOTHING UINT32_MAX

#define SECOND (TC_NO_BOND - 1) /* both bonds of a group were met */

typedef struct ways {
	tc_search *s;
	uint32_t moments;
	tc_tick *now, *next; /* the greatest gain of a way, by moment */
	uint32_t *by;        /* by layer and moment */
} ways;

static bool is_free(const tc_search *s, uint32_t bond)
{
	return s->ranks.bond[bond] == 0;
}

static bool improve(ways *w, uint32_t *by, uint32_t moment, tc_tick gain, uint32_t how)
{
	if (gain <= w->next[moment])
		return false;
	w->next[moment] = gain;
	by[moment] = how;
	return true;
}

/* Follows what costs nothing until nothing moves. Those bonds alone have a plan, so no ring of them gains. */
static void follow_free(ways *w, uint32_t *by)
{
	const tc_network *net = w->s->net;
	bool more = true;

	while (more) {
		more = false;
		for (uint32_t m = 1; m < w->moments; m++) {
			if (w->next[m] > FAR_BELOW)
				more |= improve(w, by, 0, w->next[m] - w->s->horizon, BY_HORIZON - m);
			if (w->next[0] > FAR_BELOW)
				more |= improve(w, by, m, w->next[0], BY_ORIGIN);
		}
		for (uint32_t b = 0; b < net->bonds; b++) {
			const tc_bond *bond = &net->bond[b];
			if (is_free(w->s, b) && bond->gap != TC_TICK_NONE && w->next[bond->from] > FAR_BELOW)
				more |= improve(w, by, bond->to, w->next[bond->from] + bond->gap, b);
		}
		w->s->steps += net->bonds + w->moments;
	}
}

static void follow_bound(ways *w, uint32_t *by)
{
	const tc_network *net = w->s->net;

	for (uint32_t b = 0; b < net->bonds; b++) {
		const tc_bond *bond = &net->bond[b];
		if (!is_free(w->s, b) && bond->gap != TC_TICK_NONE && w->now[bond->from] > FAR_BELOW)
			(void)improve(w, by, bond->to, w->now[bond->from] + bond->gap, b);
	}
	w->s->steps += net->bonds;
}

/* Goes back along the way to where it began, and notes the groups on it. */
static void note_way(const ways *w, uint32_t layer, uint32_t moment, bool *set)
{
	for (;;) {
		const uint32_t how = w->by[(size_t)layer * w->moments + moment];
		if (how == BY_NOTHING)
			return;
		if (how == BY_STAYING) {
			layer--;
		} else if (how == BY_ORIGIN) {
			moment = 0;
		} else if (how >= w->s->net->bonds) {
			moment = BY_HORIZON - how;
		} else {
			set[w->s->ranks.bond[how]] = true;
			layer -= !is_free(w->s, how);
			moment = w->s->net->bond[how].from;
		}
	}
}

/* Is there a ring through the moment with at most `most` bonds that cost? Then its groups are in the set. */
static bool ring_through(ways *w, uint32_t moment, uint32_t most, bool *set)
{
	for (uint32_t m = 0; m < w->moments; m++) {
		w->next[m] = m == moment ? 0 : FAR_BELOW;
		w->by[m] = BY_NOTHING;
	}
	for (uint32_t layer = 0; layer <= most; layer++) {
		uint32_t *by = &w->by[(size_t)layer * w->moments];
		for (uint32_t m = 0; layer > 0 && m < w->moments; m++)
			by[m] = BY_STAYING;
		if (layer > 0)
			follow_bound(w, by);
		if (w->next[moment] <= 0)
			follow_free(w, by);
		if (w->next[moment] > 0) {
			note_way(w, layer, moment, set);
			return true;
		}
		memcpy(w->now, w->next, w->moments * sizeof *w->now);
	}
	return false;
}

/* Can a ring begin at the moment? It holds a bond of the group; of any that costs, if `rank` is 0. */
static bool may_begin(const tc_search *s, uint32_t rank, bool *begins)
{
	bool any = false;
	for (uint32_t b = 0; b < s->net->bonds; b++) {
		if (is_free(s, b) || (rank && s->ranks.bond[b] != rank))
			continue;
		any = true;
		begins[s->net->bond[b].from] = true;
	}
	return any;
}

tc_outcome tc_ring_find(tc_search *s, uint32_t rank, uint32_t most, bool *set)
{
	ways w = {.s = s, .moments = s->net->moments};
	bool *begins = TC_ARRAY(s->arena, w.moments, bool);

	if (!begins || most > LAYERS_MAX)
		return begins ? TC_OUTCOME_SPENT : TC_OUTCOME_NO_MEMORY;
	w.now = TC_ARRAY(s->arena, w.moments, tc_tick);
	w.next = TC_ARRAY(s->arena, w.moments, tc_tick);
	w.by = TC_ARRAY(s->arena, ((size_t)most + 1) * w.moments, uint32_t);
	if (!w.now || !w.next || !w.by)
		return TC_OUTCOME_NO_MEMORY;
	memset(set, false, s->ranks.count);
	if (!may_begin(s, rank, begins))
		return TC_OUTCOME_NONE;
	for (uint32_t m = 0; m < w.moments; m++) {
		if (!begins[m])
			continue;
		if (ring_through(&w, m, most, set))
			return TC_OUTCOME_PLAN;
		if (s->steps > s->steps_max)
			return TC_OUTCOME_SPENT;
	}
	return TC_OUTCOME_NONE;
}

bool tc_ring_decides(const tc_search *s, uint32_t *first)
{
	const tc_network *net = s->net;

	for (uint32_t m = 0; m < net->moments; m++) {
		if (net->held[m].held)
			return false;
	}
	for (uint32_t g = 0; g < s->ranks.count; g++)
		first[g] = TC_NO_BOND;
	for (uint32_t b = 0; b < net->bonds; b++) {
		const tc_bond *bond = &net->bond[b];
		const uint32_t g = s->ranks.bond[b];
		if (is_free(s, b))
			continue;
		if (first[g] == TC_NO_BOND) {
			first[g] = b;
			continue;
		}
		if (first[g] == SECOND)
			return false;
		const tc_bond *other = &net->bond[first[g]];
		if (bond->from != other->to || bond->to != other->from || bond->gap + other->gap > 0)
			return false;
		first[g] = SECOND;
	}
	return net->choices == 0;
}
