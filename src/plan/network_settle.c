/* Raising each moment until nothing moves: the least values that all bounds and domains allow. */
#include "plan/network_private.h"

#include <math.h>

/* --- the queue ------------------------------------------------------------------------------------------------- */

void tc_search_push(tc_search *s, uint32_t moment)
{
	if (s->queued[moment])
		return;
	s->queued[moment] = true;
	s->queue[(s->head + s->waiting++) % s->net->moments] = moment;
}

static uint32_t pop(tc_search *s)
{
	const uint32_t moment = s->queue[s->head];
	s->head = (s->head + 1) % s->net->moments;
	s->waiting--;
	s->queued[moment] = false;
	return moment;
}

void tc_search_push_all(tc_search *s)
{
	for (uint32_t m = 0; m < s->net->moments; m++)
		tc_search_push(s, m);
}

/* --- directions ------------------------------------------------------------------------------------------------ */

/* Who pushes and who is pushed: backwards the later moment pushes the earlier one. */
static uint32_t tail_of(const tc_search *s, uint32_t bond)
{
	return s->backwards ? s->net->bond[bond].to : s->net->bond[bond].from;
}

static uint32_t head_of(const tc_search *s, uint32_t bond)
{
	return s->backwards ? s->net->bond[bond].from : s->net->bond[bond].to;
}

/* The least value from `at` on that the moment's domain allows. False: none does. */
static bool allowed(const tc_search *s, uint32_t moment, tc_tick at, tc_tick *value)
{
	const tc_hold *h = &s->net->held[moment];
	*value = at;
	if (!h->held || !tc_search_counts(s, s->ranks.held, moment))
		return true;
	const double x = s->backwards ? h->domain.last(h->domain.user, tc_tick_seconds(-at))
	                              : h->domain.next(h->domain.user, tc_tick_seconds(at));
	if (isnan(x))
		return false;
	const tc_tick to = s->backwards ? -tc_tick_down(x) : tc_tick_up(x);
	if (to > at)
		*value = to;
	return true;
}

/* --- blame ----------------------------------------------------------------------------------------------------- */

static void blame_bond(tc_search *s, uint32_t bond)
{
	const uint32_t choice = s->choice_of[bond];

	if (s->blamed)
		s->blamed[s->ranks.bond[bond]] = true;
	if (s->reason && choice != TC_NO_BOND && s->gap[bond] > s->net->bond[bond].gap)
		s->reason[choice / 64] |= UINT64_C(1) << (choice % 64);
}

static void blame_domain(tc_search *s, uint32_t moment)
{
	if (s->blamed)
		s->blamed[s->ranks.held[moment]] = true;
}

/*
 * Everything that ever raised what raised the moment. More than is needed, but right also where moments pushed each
 * other in turns, from one closed hour to the next.
 */
static void blame_widely(tc_search *s, uint32_t moment)
{
	bool more = true;
	const uint32_t walk = ++s->walk;

	s->seen[moment] = walk;
	while (more) {
		more = false;
		for (uint32_t b = s->net->bonds; b-- > 0;) {
			if (!s->bond_used[b] || s->seen[head_of(s, b)] != walk)
				continue;
			blame_bond(s, b);
			if (s->seen[tail_of(s, b)] != walk) {
				s->seen[tail_of(s, b)] = walk;
				more = true;
			}
		}
		s->steps += s->net->bonds;
	}
	for (uint32_t m = 0; m < s->net->moments; m++) {
		if (s->seen[m] == walk && s->held_used[m])
			blame_domain(s, m);
	}
}

void tc_search_blame(tc_search *s, const tc_levels *state, uint32_t moment)
{
	const uint32_t walk = ++s->walk;

	for (uint32_t m = moment;; m = tail_of(s, state->why[m])) {
		if (s->seen[m] == walk) {
			blame_widely(s, moment);
			return;
		}
		s->seen[m] = walk;
		if (state->leapt[m])
			blame_domain(s, m);
		if (state->why[m] == TC_NO_BOND)
			return;
		blame_bond(s, state->why[m]);
	}
}

/* The moment cannot have the value to which `bond` (TC_NO_BOND: its domain) raises it. */
static void blame_for(tc_search *s, const tc_levels *state, uint32_t moment, uint32_t bond)
{
	if (!s->blamed && !s->reason)
		return;
	if (bond == TC_NO_BOND) {
		blame_domain(s, moment);
		tc_search_blame(s, state, moment);
	} else {
		blame_bond(s, bond);
		tc_search_blame(s, state, tail_of(s, bond));
	}
}

static void blame_ring(tc_search *s, const tc_levels *state, uint32_t moment)
{
	uint32_t m = moment;
	do {
		blame_bond(s, state->why[m]);
		m = tail_of(s, state->why[m]);
	} while (m != moment);
}

/*
 * Do the bonds that raised the moments last run in a ring? Then the ring gains each time round, and no values satisfy
 * it (Cherkassky & Goldberg, "Negative-cycle detection algorithms", Mathematical Programming 85 (1999) 277-311: the
 * graph of parents). A leap of a domain breaks the proof, so it breaks the walk.
 */
static bool in_a_ring(tc_search *s, const tc_levels *state)
{
	const uint32_t before = s->walk;

	for (uint32_t start = 0; start < s->net->moments; start++) {
		uint32_t m = start;
		const uint32_t walk = ++s->walk;
		while (s->seen[m] <= before && state->why[m] != TC_NO_BOND && !state->leapt[m]) {
			s->seen[m] = walk;
			m = tail_of(s, state->why[m]);
		}
		if (s->seen[m] == walk) {
			blame_ring(s, state, m);
			return true;
		}
	}
	return false;
}

/* --- raising --------------------------------------------------------------------------------------------------- */

static bool over_limit(tc_search *s, const tc_levels *state, uint32_t moment, uint32_t bond, tc_tick at)
{
	const bool capped = at > s->cap && (!s->backwards || moment == s->target);
	if (at <= s->limit[moment] && !capped)
		return false;
	blame_for(s, state, moment, bond);
	return true;
}

/* The domain of a moment that waits. */
static bool leap(tc_search *s, tc_levels *state, uint32_t m)
{
	tc_tick to;
	if (!allowed(s, m, state->at[m], &to)) {
		blame_for(s, state, m, TC_NO_BOND);
		return false;
	}
	if (to == state->at[m])
		return true;
	s->held_used[m] = true;
	if (over_limit(s, state, m, TC_NO_BOND, to))
		return false;
	state->at[m] = to;
	state->leapt[m] = true;
	return true;
}

static bool push_along(tc_search *s, tc_levels *state, uint32_t bond)
{
	const uint32_t tail = tail_of(s, bond), head = head_of(s, bond);
	const tc_tick at = state->at[tail] + s->gap[bond];

	if (at <= state->at[head])
		return true;
	if (over_limit(s, state, head, bond, at))
		return false;
	state->at[head] = at;
	state->leapt[head] = false;
	state->why[head] = bond;
	s->bond_used[bond] = true;
	s->raised++;
	tc_search_push(s, head);
	return true;
}

static bool raise_all(tc_search *s, tc_levels *state, bool domains)
{
	while (s->waiting) {
		const uint32_t m = pop(s);
		if (state->at[m] == TC_TICK_NONE)
			continue;
		if (domains && !leap(s, state, m))
			return false;
		for (uint32_t i = s->first[m]; i < s->first[m + 1]; i++) {
			const uint32_t b = s->leaves[i];
			if (tc_search_counts(s, s->ranks.bond, b) && !push_along(s, state, b))
				return false;
		}
		s->steps += 1 + s->first[m + 1] - s->first[m];
		if (s->steps > s->steps_max) {
			s->spent = true;
			return false;
		}
		if (s->raised >= s->net->moments) {
			s->raised = 0;
			if (in_a_ring(s, state))
				return false;
		}
	}
	return true;
}

/* First without domains, so that a ring of bonds that gains is found however often a closed hour would break it. */
bool tc_search_settle(tc_search *s, tc_levels *state)
{
	bool settled = raise_all(s, state, false);

	for (uint32_t m = 0; settled && m < s->net->moments; m++) {
		if (s->net->held[m].held)
			tc_search_push(s, m);
	}
	settled = settled && raise_all(s, state, true);
	while (s->waiting)
		(void)pop(s);
	return settled;
}
