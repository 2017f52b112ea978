/* What building a network, searching it and finding a conflict share. Values are whole microseconds. */
#ifndef TC_PLAN_NETWORK_PRIVATE_H
#define TC_PLAN_NETWORK_PRIVATE_H

#include "plan/network.h"

typedef int64_t tc_tick;

#define TC_TICK_FAR ((tc_tick)4000000000000000) /* 4e9 s; the sum of three still fits */
#define TC_TICK_NONE (-4 * TC_TICK_FAR)         /* a gap that bounds nothing, whatever it is added to */
#define TC_NO_BOND UINT32_MAX

/* `to` is at least `gap` after `from`. */
typedef struct tc_bond {
	uint32_t from, to;
	tc_tick gap;
	uint32_t group;
} tc_bond;

typedef struct tc_slot {
	tc_tick from, to; /* TC_TICK_NONE, -TC_TICK_NONE: open */
} tc_slot;

/* A bound of several windows. Its two bonds span those that are still possible: first to last, before any is tried. */
typedef struct tc_choice {
	uint32_t from, to;
	uint32_t least, most; /* bonds */
	uint32_t group;
	uint32_t slots;
	const tc_slot *slot;
} tc_choice;

typedef struct tc_hold {
	bool held;
	tc_domain domain;
	uint32_t group;
} tc_hold;

struct tc_network {
	tc_arena *arena;
	tc_bond *bond;
	tc_choice *choice;
	tc_hold *held; /* by moment */
	uint32_t bonds, bonds_room, choices, choices_room, moments, moments_room;
};

/*
 * Seconds to ticks: what is not a whole number of ticks goes down or up; noise of a double near a whole one does not
 * count.
 */
tc_tick tc_tick_down(double seconds);
tc_tick tc_tick_up(double seconds);
double tc_tick_seconds(tc_tick tick);

/*
 * Values of all moments while searching. Forwards they rise from 0; backwards a moment at x has the value -x, which
 * rises from -horizon: so the same steps find earliest and latest plans.
 */
typedef struct tc_levels {
	tc_tick *at;   /* TC_TICK_NONE: nothing is known of it, so it pushes nothing */
	uint32_t *why; /* the bond that raised it last; TC_NO_BOND: where it began */
	bool *leapt;   /* its domain raised it further than the bond */
} tc_levels;

/* Which groups count, by rank. */
typedef struct tc_ranks {
	uint32_t count; /* rank 0 is group 0, the others rise */
	const uint32_t *group;
	const uint32_t *bond, *choice, *held;
} tc_ranks;

/* The outcome of a search. */
typedef enum tc_outcome { TC_OUTCOME_PLAN, TC_OUTCOME_NONE, TC_OUTCOME_SPENT, TC_OUTCOME_NO_MEMORY } tc_outcome;

typedef struct tc_frame tc_frame;

typedef struct tc_search {
	const tc_network *net;
	tc_arena *arena;
	bool backwards;
	uint32_t target;    /* whose value counts, backwards */
	bool first_will_do; /* any plan, not the best */
	bool later_first;   /* the later windows before the earlier ones */
	tc_tick horizon;
	tc_tick cap;              /* no plan whose value is more is wanted */
	tc_tick *start, *limit;   /* by moment, as values of this direction */
	tc_tick *gap;             /* by bond, as the tried windows make it */
	uint32_t *low, *high;     /* by choice: the slots that are still possible */
	uint32_t *first, *leaves; /* bonds that a moment pushes: leaves[first[m]] to leaves[first[m + 1] - 1] */

	uint32_t *queue, head, waiting;
	bool *queued;
	uint32_t *seen; /* for walks: the number of the walk */
	uint32_t walk, raised;

	tc_levels root, best, closed;
	bool has_best, improved; /* improved: by the search under way */
	tc_tick best_value;
	tc_tick
	    closing; /* of the best, backwards: the target's value without a horizon; TC_TICK_NONE: nothing closes */
	tc_frame *frame;
	uint32_t frames, frames_room;

	uint64_t steps, steps_max;
	uint32_t tries, tries_max;
	bool spent;

	/* blame: what has a part in why there is no plan */
	uint32_t *choice_of;         /* by bond: whose it is; TC_NO_BOND: no choice's */
	bool *bond_used, *held_used; /* has raised something */
	uint64_t *reason;            /* a bit for each choice: what was decided of it has a part. NULL: nobody asks */

	/* for conflicts; else all NULL */
	tc_ranks ranks;
	bool *on;     /* by rank: does it count? */
	bool *blamed; /* by rank: has a part */
} tc_search;

/* A search over the network; everything in `arena`. `fixed` as in tc_network_latest. False: out of memory. */
bool tc_search_new(
    tc_search *search, const tc_network *network, tc_arena *arena, bool backwards, double horizon, const double *fixed);
/* Makes room for a search over a part of the groups. All count at first. */
bool tc_search_by_group(tc_search *search);

void tc_search_begin(tc_search *search, tc_levels *state);
bool tc_levels_new(const tc_search *search, tc_levels *state);
void tc_levels_copy(const tc_search *search, tc_levels *to, const tc_levels *from);
/*
 * Raises all that waits until nothing moves. False: something went over its limit (then blame is laid) or the budget
 * is spent.
 */
bool tc_search_settle(tc_search *search, tc_levels *state);
/*
 * Lays blame for the value that a moment has: the bonds back to where it began, and the domains on the way, force it.
 * Along them every value is at least what it is now.
 */
void tc_search_blame(tc_search *search, const tc_levels *state, uint32_t moment);
void tc_search_push(tc_search *search, uint32_t moment);
void tc_search_push_all(tc_search *search);

/* The whole search, windows included. The plan is in search->best. */
tc_outcome tc_search_run(tc_search *search);

/* Does the bond, the choice or the domain count? */
static inline bool tc_search_counts(const tc_search *search, const uint32_t *rank, uint32_t index)
{
	return !search->on || search->on[rank[index]];
}

/*
 * A ring of bonds that gains, whatever else holds, with at most `most` bonds of groups other than 0: their ranks are
 * in set[] then, and TC_OUTCOME_PLAN comes back. `rank`: it must hold a bond of that group; 0: any. Needs a search by
 * group, and that group 0 alone has a plan. TC_OUTCOME_SPENT: given up.
 */
tc_outcome tc_ring_find(tc_search *search, uint32_t rank, uint32_t most, bool *set);
/*
 * Is every irreducible conflict a ring, with one bond of each group? Neither domains nor windows, and each group one
 * bound. first[]: room for each rank.
 */
bool tc_ring_decides(const tc_search *search, uint32_t *first);

/* As tc_network_earliest, and says how many bounds were looked at. */
tc_network_answer tc_network_earliest_counted(const tc_network *network, double horizon, double *at, uint64_t *steps);

#endif
