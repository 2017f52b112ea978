/*
 * A simple temporal network: moments, and how far apart they may be.
 *
 * A bound says that one moment lies within least..most after another (Dechter, Meiri & Pearl, "Temporal constraint
 * networks", Artificial Intelligence 49 (1991) 61-95). Two extensions keep it useful at a bench: a bound may offer
 * several windows (a closed middle between them), and a moment may be held to a domain (working hours). Moment 0 is
 * the origin, at 0 s. Seconds throughout; INFINITY: no bound on that side.
 *
 * Difference bounds and domains are closed under taking the earlier of two plans, so without windows of several pieces
 * there is one earliest plan, found by raising each moment until nothing moves. Several windows are tried one after
 * the other, within a budget (TC_NETWORK_STEPS_MAX, TC_NETWORK_TRIES_MAX).
 *
 * Inside, time is counted in whole microseconds, so that sums are exact and a plan that comes out as doubles goes in
 * again unchanged. A bound that is no whole number of them is loosened to the next one: numbers that differ by less
 * than a microsecond count as equal. Nothing lies later than 4e9 s, which is 126 years.
 *
 * The network lives in the arena that it is given. A solved network is unchanged, so several threads may ask it. Knows
 * nothing of recipes.
 */
#ifndef TC_PLAN_NETWORK_H
#define TC_PLAN_NETWORK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/value.h"

#define TC_NETWORK_WINDOWS_MAX 8 /* of one bound */

typedef struct tc_network tc_network;

/*
 * Where a moment may lie. `next` gives the least allowed value >= `at`, `last` the greatest allowed value <= `at`;
 * NAN: there is none. Both monotone in `at`, without effects, and of the same set of values.
 */
typedef struct tc_domain {
	double (*next)(const void *user, double at);
	double (*last)(const void *user, double at);
	const void *user;
} tc_domain;

typedef enum tc_network_answer {
	TC_NETWORK_SOLVED,
	TC_NETWORK_CONFLICT, /* no plan exists */
	TC_NETWORK_TOO_MUCH, /* the budget is spent: not known */
	TC_NETWORK_NO_MEMORY
} tc_network_answer;

/* An empty network with its origin. NULL: out of memory. */
tc_network *tc_network_new(tc_arena *arena);

/* A further moment, never before the origin; its number, from 1. 0: out of memory. */
uint32_t tc_network_moment(tc_network *network);

/*
 * `to` lies least..most after `from` (least may be -INFINITY, most INFINITY; least > most is a bound that conflicts by
 * itself). `group` names the bound in a conflict; bounds of one group stand and fall together. Group 0 is what cannot
 * be given up (never named). False: out of memory, or a moment that is not there, or NAN.
 */
bool tc_network_bound(tc_network *network, uint32_t from, uint32_t to, double least, double most, uint32_t group);

/*
 * The same with 1 to TC_NETWORK_WINDOWS_MAX windows, of which `to` - `from` lies in one. Rising: none is empty, and
 * none begins before the one before it ends (else false too).
 */
bool tc_network_windows(
    tc_network *network, uint32_t from, uint32_t to, const tc_span *window, size_t count, uint32_t group);

/* Holds a moment to a domain. At most one for each moment: a second is refused with false. */
bool tc_network_hold(tc_network *network, uint32_t moment, const tc_domain *domain, uint32_t group);

/*
 * The plan whose last moment is earliest, and among these every moment as early as it can be (the first found where
 * windows leave a choice). at[] has a value for each moment, the origin included. `horizon`: no moment lies later (a
 * plan that would need to is a conflict). TC_NETWORK_TOO_MUCH: at[] has a plan that holds but need not be the
 * earliest, or nothing but NAN where none was found. Otherwise at[] is left as it was.
 */
tc_network_answer tc_network_earliest(const tc_network *network, double horizon, double *at);

/*
 * The latest that one moment may be, when those moments whose fixed[] is not NAN keep that value (NULL: none does; the
 * origin always does): for "the latest safe moment". INFINITY where nothing closes on it before the horizon; a domain
 * that ends is no closing. Domains and windows hold for fixed moments too: TC_NETWORK_CONFLICT: not even with the
 * fixed ones. *latest is set with TC_NETWORK_SOLVED only.
 */
tc_network_answer tc_network_latest(
    const tc_network *network, double horizon, const double *fixed, uint32_t moment, double *latest);

/*
 * After a conflict: the groups of a set of bounds that cannot all hold, rising, in the arena. Taking any one of them
 * away lets the rest of the set be satisfied. It is made as small as the budget lets; *smallest: it was proved that no
 * fewer groups conflict. Empty with TC_NETWORK_CONFLICT: group 0 alone conflicts. TC_NETWORK_SOLVED: there is a plan.
 * TC_NETWORK_TOO_MUCH: the groups conflict, but perhaps not all of them are needed; or, where there are none, it is
 * not known whether there is a plan.
 */
tc_network_answer tc_network_conflict(
    const tc_network *network, double horizon, tc_arena *arena, const uint32_t **group, size_t *count, bool *smallest);

#endif
