/*
 * Which groups conflict, as few as can be.
 *
 * A search that fails says which groups had a part in it; from those, one after the other is left out for good if the
 * rest still conflicts. What remains is irreducible.
 *
 * Then smaller ones are sought. From every conflict at least one group must go before there is a plan; so the groups
 * that a greatest satisfiable set leaves out have one in common with every conflict, and a conflict that is smaller
 * than the known one must hit all such remainders (Ignatiev, Previti, Liffiton & Marques-Silva, "Smallest MUS
 * extraction with minimal hitting set dualization", CP 2015). A set that hits all is asked: it conflicts, and is
 * smaller, or it grows to a greatest satisfiable set, whose remainder it does not hit. When no smaller set hits all
 * remainders, the known one is smallest.
 */
#include <stdlib.h>
#include <string.h>

#include "base/limits.h"
#include "plan/network_private.h"

#define REMAINDERS_MAX 256u /* kept in the proof, but for those of one group */
#define HITS_MAX 20000u     /* sets tried to find one that hits all */

typedef struct conflict {
	tc_search search;
	uint32_t count; /* of the groups in the known conflict */
	bool *in;       /* by rank: is in it */
	bool surely;    /* each of them was seen to be needed */

	bool *must; /* by rank: a remainder of one group, so in every conflict */
	uint32_t musts;
	bool *asked;         /* by rank: is all but this one known? */
	bool *chosen, *kept; /* by rank: a set that hits all; a satisfiable set */
	uint32_t *rest;      /* room for ranks */
	const uint32_t *remainder[REMAINDERS_MAX];
	uint32_t size[REMAINDERS_MAX];
	uint32_t remainders;
	uint32_t hits;
	uint32_t ringed; /* the number of groups for which rings were tried */
} conflict;

static uint32_t groups(const conflict *c)
{
	return c->search.ranks.count;
}

/* --- ranks ----------------------------------------------------------------------------------------------------- */

static int by_number(const void *a, const void *b)
{
	const uint32_t x = *(const uint32_t *)a, y = *(const uint32_t *)b;
	return (x > y) - (x < y);
}

static uint32_t rank_of(const uint32_t *group, uint32_t count, uint32_t wanted)
{
	const uint32_t *found = bsearch(&wanted, group, count, sizeof *group, by_number);
	return found ? (uint32_t)(found - group) : 0;
}

/* All groups of the network, rising, each once; group 0 in any case. */
static uint32_t list_groups(const tc_network *net, uint32_t *group)
{
	uint32_t all = 0, count = 0;

	group[all++] = 0;
	for (uint32_t b = 0; b < net->bonds; b++)
		group[all++] = net->bond[b].group;
	for (uint32_t m = 0; m < net->moments; m++)
		group[all++] = net->held[m].held ? net->held[m].group : 0;
	qsort(group, all, sizeof *group, by_number);
	for (uint32_t i = 0; i < all; i++) {
		if (count == 0 || group[count - 1] != group[i])
			group[count++] = group[i];
	}
	return count;
}

bool tc_search_by_group(tc_search *s)
{
	const tc_network *net = s->net;
	uint32_t *group = TC_ARRAY(s->arena, (size_t)1 + net->bonds + net->moments, uint32_t);
	uint32_t *bond = TC_ARRAY(s->arena, net->bonds, uint32_t), *held = TC_ARRAY(s->arena, net->moments, uint32_t);
	uint32_t *choice = TC_ARRAY(s->arena, net->choices, uint32_t);

	if (tc_arena_failed(s->arena))
		return false;
	const uint32_t count = list_groups(net, group);
	for (uint32_t b = 0; b < net->bonds; b++)
		bond[b] = rank_of(group, count, net->bond[b].group);
	for (uint32_t i = 0; i < net->choices; i++)
		choice[i] = rank_of(group, count, net->choice[i].group);
	for (uint32_t m = 0; m < net->moments; m++)
		held[m] = rank_of(group, count, net->held[m].group);
	s->ranks = (tc_ranks){count, group, bond, choice, held};
	s->on = TC_ARRAY(s->arena, count, bool);
	s->blamed = TC_ARRAY(s->arena, count, bool);
	if (tc_arena_failed(s->arena))
		return false;
	memset(s->on, true, count);
	return true;
}

/* --- asking ---------------------------------------------------------------------------------------------------- */

/* Is there a plan for the groups of the set? `without`: but not this one (0: none). */
static tc_outcome ask(conflict *c, const bool *set, uint32_t without)
{
	tc_search *s = &c->search;

	memcpy(s->on, set, groups(c));
	s->on[0] = true;
	if (without)
		s->on[without] = false;
	s->steps += s->net->bonds;
	return tc_search_run(s);
}

/* Takes over the groups to blame as the known conflict. */
static void take_blamed(conflict *c)
{
	c->count = 0;
	for (uint32_t g = 1; g < groups(c); g++) {
		c->in[g] = c->search.blamed[g];
		c->count += c->in[g];
	}
}

/* Leaves out of the known conflict what it does not need. */
static tc_outcome reduce(conflict *c)
{
	c->surely = true;
	for (uint32_t g = groups(c); g-- > 1;) {
		if (!c->in[g])
			continue;
		const tc_outcome found = ask(c, c->in, g);
		if (found == TC_OUTCOME_NO_MEMORY)
			return found;
		if (found == TC_OUTCOME_NONE)
			take_blamed(c);
		if (found == TC_OUTCOME_SPENT)
			c->surely = false;
	}
	return TC_OUTCOME_NONE;
}

/* --- sets that hit all remainders ------------------------------------------------------------------------------ */

static bool is_hit(const conflict *c, uint32_t remainder)
{
	for (uint32_t i = 0; i < c->size[remainder]; i++) {
		const uint32_t g = c->remainder[remainder][i];
		if (c->chosen[g] || c->must[g])
			return true;
	}
	return false;
}

/* Chooses up to `left` more groups that hit the remainders from `next` on; shorter ones are no better asked first. */
static bool hit(conflict *c, uint32_t next, uint32_t left)
{
	while (next < c->remainders && is_hit(c, next))
		next++;
	if (next == c->remainders)
		return true;
	if (left == 0 || ++c->hits > HITS_MAX)
		return false;
	for (uint32_t i = 0; i < c->size[next]; i++) {
		const uint32_t g = c->remainder[next][i];
		c->chosen[g] = true;
		if (hit(c, next + 1, left - 1))
			return true;
		c->chosen[g] = false;
	}
	return false;
}

/* --- growing --------------------------------------------------------------------------------------------------- */

/* Adds as many of these groups as a plan allows; those that it does not allow go to the remainder, in order. */
static tc_outcome grow(conflict *c, const uint32_t *from, uint32_t count, uint32_t *remainder, uint32_t *size)
{
	if (count == 0)
		return TC_OUTCOME_PLAN;
	for (uint32_t i = 0; i < count; i++)
		c->kept[from[i]] = true;
	tc_outcome found = ask(c, c->kept, 0);
	if (found != TC_OUTCOME_NONE)
		return found;
	for (uint32_t i = 0; i < count; i++)
		c->kept[from[i]] = false;
	if (count == 1) {
		remainder[(*size)++] = from[0];
		return TC_OUTCOME_PLAN;
	}
	found = grow(c, from, count / 2, remainder, size);
	if (found == TC_OUTCOME_PLAN)
		found = grow(c, from + count / 2, count - count / 2, remainder, size);
	return found;
}

static void force(conflict *c, uint32_t g)
{
	c->musts += !c->must[g];
	c->must[g] = true;
}

/* The chosen set has a plan. Finds a remainder that it does not hit. */
static tc_outcome find_remainder(conflict *c)
{
	uint32_t *remainder = TC_ARRAY(c->search.arena, groups(c), uint32_t);
	uint32_t size = 0, rest = 0;

	if (!remainder)
		return TC_OUTCOME_NO_MEMORY;
	for (uint32_t g = 1; g < groups(c); g++) {
		c->kept[g] = c->chosen[g] || c->must[g];
		if (!c->kept[g])
			c->rest[rest++] = g;
	}
	const tc_outcome found = grow(c, c->rest, rest, remainder, &size);
	if (found != TC_OUTCOME_PLAN)
		return found;
	if (size == 1) {
		force(c, remainder[0]);
	} else if (c->remainders == REMAINDERS_MAX) {
		return TC_OUTCOME_SPENT;
	} else {
		c->remainder[c->remainders] = remainder;
		c->size[c->remainders++] = size;
	}
	return TC_OUTCOME_PLAN;
}

/* Which groups of the known conflict are in every one: all others have a plan without it. */
static tc_outcome find_musts(conflict *c)
{
	memset(c->kept, true, groups(c));
	for (uint32_t g = 1; g < groups(c); g++) {
		if (!c->in[g] || c->asked[g])
			continue;
		c->asked[g] = true;
		const tc_outcome found = ask(c, c->kept, g);
		if (found == TC_OUTCOME_PLAN)
			force(c, g);
		else if (found != TC_OUTCOME_NONE)
			return found;
	}
	return TC_OUTCOME_PLAN;
}

/*
 * Asks whether the kept set conflicts; if so its part that does becomes the known conflict. TC_OUTCOME_NONE: so it
 * was.
 */
static tc_outcome take_kept(conflict *c)
{
	const tc_outcome found = ask(c, c->kept, 0);
	if (found != TC_OUTCOME_NONE)
		return found;
	take_blamed(c);
	return reduce(c);
}

/* A ring with fewer groups. TC_OUTCOME_PLAN: a smaller conflict was taken. TC_OUTCOME_NONE: there is no such ring. */
static tc_outcome try_rings(conflict *c)
{
	uint32_t through = 0;
	for (uint32_t g = groups(c); g-- > 1;)
		through = c->must[g] ? g : through;
	tc_outcome found = tc_ring_find(&c->search, through, c->count - 1, c->kept);
	if (found != TC_OUTCOME_PLAN)
		return found;
	found = take_kept(c);
	/* a ring that has a plan: cannot be */
	return found == TC_OUTCOME_NONE ? TC_OUTCOME_PLAN : found == TC_OUTCOME_PLAN ? TC_OUTCOME_SPENT : found;
}

/*
 * A smaller set that hits all remainders: it conflicts, or makes a further remainder. TC_OUTCOME_NONE: there is none.
 */
static tc_outcome try_hits(conflict *c)
{
	memset(c->chosen, false, groups(c));
	c->hits = 0;
	if (!hit(c, 0, c->count - 1 - c->musts))
		return c->hits > HITS_MAX ? TC_OUTCOME_SPENT : TC_OUTCOME_NONE;
	for (uint32_t g = 1; g < groups(c); g++)
		c->kept[g] = c->chosen[g] || c->must[g];
	const tc_outcome found = take_kept(c);
	if (found == TC_OUTCOME_PLAN)
		return find_remainder(c);
	return found == TC_OUTCOME_NONE ? TC_OUTCOME_PLAN : found;
}

/* One round of the proof. TC_OUTCOME_NONE: the known conflict is smallest. */
static tc_outcome shrink(conflict *c)
{
	tc_outcome found = find_musts(c);
	if (found != TC_OUTCOME_PLAN)
		return found;
	if (c->musts >= c->count)
		return TC_OUTCOME_NONE;
	if (c->ringed != c->count) {
		c->ringed = c->count;
		found = try_rings(c);
		if (found != TC_OUTCOME_NONE || tc_ring_decides(&c->search, c->rest))
			return found;
	}
	return try_hits(c);
}

/* --- the question ---------------------------------------------------------------------------------------------- */

static bool conflict_new(conflict *c, const tc_network *net, tc_arena *arena, double horizon)
{
	*c = (conflict){0};
	if (!tc_search_new(&c->search, net, arena, false, horizon, NULL) || !tc_search_by_group(&c->search))
		return false;
	c->search.first_will_do = true;
	c->in = TC_ARRAY(arena, groups(c), bool);
	c->must = TC_ARRAY(arena, groups(c), bool);
	c->asked = TC_ARRAY(arena, groups(c), bool);
	c->chosen = TC_ARRAY(arena, groups(c), bool);
	c->kept = TC_ARRAY(arena, groups(c), bool);
	c->rest = TC_ARRAY(arena, groups(c), uint32_t);
	return !tc_arena_failed(arena);
}

static tc_network_answer name_groups(const conflict *c, tc_arena *arena, const uint32_t **group, size_t *count)
{
	uint32_t *list = TC_ARRAY(arena, c->count, uint32_t), listed = 0;
	if (!list)
		return TC_NETWORK_NO_MEMORY;
	for (uint32_t g = 1; g < groups(c); g++) {
		if (c->in[g])
			list[listed++] = c->search.ranks.group[g];
	}
	*group = list;
	*count = listed;
	return c->surely ? TC_NETWORK_CONFLICT : TC_NETWORK_TOO_MUCH;
}

/* Finds a conflict and makes it as small as may be. */
static tc_outcome find(conflict *c, bool *smallest)
{
	memset(c->kept, true, groups(c));
	tc_outcome found = ask(c, c->kept, 0);
	if (found != TC_OUTCOME_NONE)
		return found;
	take_blamed(c);
	c->search.steps_max = c->search.steps + TC_NETWORK_STEPS_MAX;
	if (reduce(c) == TC_OUTCOME_NO_MEMORY)
		return TC_OUTCOME_NO_MEMORY;
	c->search.steps_max = c->search.steps + TC_NETWORK_STEPS_MAX;
	for (found = TC_OUTCOME_PLAN; c->surely && found == TC_OUTCOME_PLAN;)
		found = shrink(c);
	*smallest = found == TC_OUTCOME_NONE;
	return found == TC_OUTCOME_NO_MEMORY ? found : TC_OUTCOME_NONE;
}

tc_network_answer tc_network_conflict(
    const tc_network *network, double horizon, tc_arena *arena, const uint32_t **group, size_t *count, bool *smallest)
{
	tc_arena *scratch = tc_arena_new(tc_arena_allocator(network->arena), 0);
	tc_network_answer answer = TC_NETWORK_NO_MEMORY;

	*group = NULL;
	*count = 0;
	*smallest = false;
	conflict *c = scratch ? TC_NEW(scratch, conflict) : NULL;
	if (c && conflict_new(c, network, scratch, horizon)) {
		const tc_outcome found = find(c, smallest);
		if (found == TC_OUTCOME_NONE)
			answer = name_groups(c, arena, group, count);
		else if (found != TC_OUTCOME_NO_MEMORY)
			answer = found == TC_OUTCOME_PLAN ? TC_NETWORK_SOLVED : TC_NETWORK_TOO_MUCH;
	}
	tc_arena_free(scratch);
	return answer;
}
