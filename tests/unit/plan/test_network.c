/*
 * The network against every whole-numbered plan there is. Bounds, windows and domains have whole ends, so if there is
 * a plan at all the floors of its values are one: to try the whole numbers is enough.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <math.h>
#include <stdio.h>

#include "plan/network.h"

enum { MOMENTS = 6, BOUNDS = 10, HORIZON = 8, GROUPS = 9, PERIOD = 7, OPEN = 1000 };

/* --- small networks ---------------------------------------------------------------------------------------------- */

/* Intervals of a week of seven, for `weeks` weeks. */
typedef struct hours {
	bool used;
	int from[3], to[3], count, weeks;
	uint32_t group;
} hours;

typedef struct bound {
	uint32_t from, to, group;
	int least[3], most[3], count; /* ±OPEN: none */
} bound;

typedef struct net {
	int moments, bounds;
	bound bound[BOUNDS];
	hours hours[MOMENTS];
	bool windows, hours_end, any_hours;
} net;

static uint64_t seed;

static int any(int least, int most)
{
	seed = seed * 6364136223846793005u + 1442695040888963407u;
	return least + (int)((seed >> 33) % (uint64_t)(most - least + 1));
}

static bool chance(int percent)
{
	return any(1, 100) <= percent;
}

static bool open_at(const hours *h, int at)
{
	if (at < 0 || at / PERIOD >= h->weeks)
		return false;
	for (int i = 0; i < h->count; i++)
		if (at % PERIOD >= h->from[i] && at % PERIOD <= h->to[i])
			return true;
	return false;
}

static double hours_next(const void *user, double at)
{
	const hours *h = user;
	for (int week = 0; week < h->weeks; week++)
		for (int i = 0; i < h->count; i++)
			if (at <= week * PERIOD + h->to[i])
				return fmax(at, week * PERIOD + h->from[i]);
	return (double)NAN;
}

static double hours_last(const void *user, double at)
{
	const hours *h = user;
	for (int week = h->weeks - 1; week >= 0; week--)
		for (int i = h->count - 1; i >= 0; i--)
			if (at >= week * PERIOD + h->from[i])
				return fmin(at, week * PERIOD + h->to[i]);
	return (double)NAN;
}

static hours any_hours(void)
{
	hours h = {.used = true, .weeks = chance(80) ? 1000 : any(1, 2), .group = (uint32_t)any(0, GROUPS - 1)};
	for (int at = any(0, 2); at < PERIOD && h.count < 3; at += any(2, 3)) {
		h.from[h.count] = at;
		at += any(0, 2);
		h.to[h.count++] = at < PERIOD ? at : PERIOD - 1;
	}
	return h;
}

static bound any_bound(int moments, bool windows)
{
	bound b = {.from = (uint32_t)any(0, moments - 1), .group = (uint32_t)any(0, GROUPS - 1), .count = 1};
	do
		b.to = (uint32_t)any(0, moments - 1);
	while (b.to == b.from);
	int at = any(-4, 4);
	if (windows && chance(40))
		b.count = any(2, 3);
	for (int i = 0; i < b.count; i++) {
		b.least[i] = at;
		b.most[i] = at + any(0, 3);
		at = b.most[i] + any(0, 3);
	}
	if (chance(30))
		b.least[0] = -OPEN;
	if (chance(40))
		b.most[b.count - 1] = OPEN;
	return b;
}

static net any_net(void)
{
	net n = {.moments = any(3, MOMENTS), .bounds = any(2, BOUNDS)};
	const bool windows = chance(50), held = chance(60);
	for (int i = 0; i < n.bounds; i++) {
		n.bound[i] = any_bound(n.moments, windows);
		n.windows |= n.bound[i].count > 1;
	}
	for (int m = 0; held && m < n.moments; m++) {
		if (!chance(m == 0 ? 5 : 40))
			continue;
		n.hours[m] = any_hours();
		n.any_hours = true;
		n.hours_end |= n.hours[m].weeks < 1000;
	}
	return n;
}

static tc_network *build(const net *n, tc_arena *arena)
{
	tc_network *network = tc_network_new(arena);
	assert_non_null(network);
	for (int m = 1; m < n->moments; m++)
		assert_int_equal(tc_network_moment(network), m);
	for (int i = 0; i < n->bounds; i++) {
		const bound *b = &n->bound[i];
		tc_span window[3];
		for (int w = 0; w < b->count; w++)
			window[w] = (tc_span){b->least[w] == -OPEN ? -(double)INFINITY : b->least[w],
			    b->most[w] == OPEN ? (double)INFINITY : b->most[w]};
		if (b->count == 1 && chance(50))
			assert_true(tc_network_bound(network, b->from, b->to, window->from, window->to, b->group));
		else
			assert_true(tc_network_windows(network, b->from, b->to, window, (size_t)b->count, b->group));
	}
	for (int m = 0; m < n->moments; m++) {
		const tc_domain domain = {hours_next, hours_last, &n->hours[m]};
		if (n->hours[m].used)
			assert_true(tc_network_hold(network, (uint32_t)m, &domain, n->hours[m].group));
	}
	return network;
}

/* --- every plan ------------------------------------------------------------------------------------------- */

typedef struct all_plans {
	const net *net;
	unsigned groups; /* those that count, as bits; group 0 always does */
	int horizon;
	const double *fixed;
	int at[MOMENTS];
	bool just_one;
	/* found */
	bool any;
	int end;
	int least[MOMENTS], most[MOMENTS];
} all_plans;

static bool counts(const all_plans *a, uint32_t group)
{
	return group == 0 || (a->groups >> group & 1);
}

static bool bound_holds(const bound *b, const int *at)
{
	const int distance = at[b->to] - at[b->from];
	for (int i = 0; i < b->count; i++)
		if (distance >= b->least[i] && distance <= b->most[i])
			return true;
	return false;
}

/* Is all that speaks of moments up to m, and of m, satisfied? */
static bool fits(const all_plans *a, int m)
{
	const hours *h = &a->net->hours[m];
	if (a->fixed && !isnan(a->fixed[m]) && m > 0 && a->at[m] != (int)a->fixed[m])
		return false;
	if (h->used && counts(a, h->group) && !open_at(h, a->at[m]))
		return false;
	for (int i = 0; i < a->net->bounds; i++) {
		const bound *b = &a->net->bound[i];
		const int later = (int)(b->from > b->to ? b->from : b->to);
		if (later == m && counts(a, b->group) && !bound_holds(b, a->at))
			return false;
	}
	return true;
}

static void keep(all_plans *a)
{
	int end = 0;
	for (int m = 0; m < a->net->moments; m++) {
		end = a->at[m] > end ? a->at[m] : end;
		a->least[m] = !a->any || a->at[m] < a->least[m] ? a->at[m] : a->least[m];
		a->most[m] = !a->any || a->at[m] > a->most[m] ? a->at[m] : a->most[m];
	}
	a->end = !a->any || end < a->end ? end : a->end;
	a->any = true;
}

static void try_from(all_plans *a, int m)
{
	if (a->just_one && a->any)
		return;
	if (m == a->net->moments) {
		keep(a);
		return;
	}
	for (a->at[m] = 0; a->at[m] <= (m == 0 ? 0 : a->horizon); a->at[m]++)
		if (fits(a, m))
			try_from(a, m + 1);
}

static all_plans try_all(const net *n, unsigned groups, int horizon, const double *fixed)
{
	all_plans a = {.net = n, .groups = groups, .horizon = horizon, .fixed = fixed};
	try_from(&a, 0);
	return a;
}

static bool has_plan(const net *n, unsigned groups)
{
	all_plans a = {.net = n, .groups = groups, .horizon = HORIZON, .just_one = true};
	try_from(&a, 0);
	return a.any;
}

/* --- comparing ---------------------------------------------------------------------------------------------- */

static void check_earliest(const net *n, const tc_network *network, const all_plans *a)
{
	double at[MOMENTS], end = 0;
	const tc_network_answer answer = tc_network_earliest(network, HORIZON, at);

	assert_int_equal(answer, a->any ? TC_NETWORK_SOLVED : TC_NETWORK_CONFLICT);
	if (!a->any)
		return;
	all_plans own = *a;
	for (int m = 0; m < n->moments; m++) {
		own.at[m] = (int)at[m];
		assert_true(own.at[m] == at[m]);
		end = fmax(end, at[m]);
		if (!n->windows)
			assert_true(at[m] == a->least[m]);
		assert_true(fits(&own, m));
	}
	assert_true(end == a->end);
}

/*
 * What closes on a moment does not depend on the horizon: the greatest values when it is far away, by going round
 * until nothing moves. Without windows, and where it is known that there is a plan.
 */
static int most_of(const net *n, const double *fixed, int target)
{
	int at[MOMENTS];
	for (int m = 0; m < n->moments; m++)
		at[m] = m == 0 ? 0 : isnan(fixed[m]) ? 50 * PERIOD : (int)fixed[m];
	for (bool more = true; more;) {
		more = false;
		for (int i = 0; i < n->bounds; i++) {
			const bound *b = &n->bound[i];
			if (at[b->to] > at[b->from] + b->most[0])
				more = true, at[b->to] = at[b->from] + b->most[0];
			if (at[b->from] > at[b->to] - b->least[0])
				more = true, at[b->from] = at[b->to] - b->least[0];
		}
		for (int m = 0; m < n->moments; m++)
			while (n->hours[m].used && !open_at(&n->hours[m], at[m]))
				more = true, at[m]--;
	}
	return at[target];
}

static int check_latest(const net *n, const tc_network *network, const all_plans *all)
{
	double fixed[MOMENTS], latest = -1;
	const int target = any(0, n->moments - 1);
	const bool early = chance(50);

	for (int m = 0; m < n->moments; m++)
		fixed[m] = chance(60)               ? (double)NAN
		           : all->any && chance(90) ? (early ? all->least[m] : all->most[m])
		                                    : any(0, 8);
	const all_plans a = try_all(n, ~0u, HORIZON, fixed);
	const tc_network_answer answer = tc_network_latest(network, HORIZON, fixed, (uint32_t)target, &latest);

	assert_int_equal(answer, a.any ? TC_NETWORK_SOLVED : TC_NETWORK_CONFLICT);
	if (!a.any)
		return 0;
	assert_true(isinf(latest) || (latest >= a.most[target] && latest <= HORIZON));
	if (n->windows || n->hours_end) /* there the horizon has a part in which plan is found: see below */
		return isinf(latest) ? 2 : 1;
	const int most = most_of(n, fixed, target);
	assert_true(most <= HORIZON ? latest == most : isinf(latest));
	return isinf(latest) ? 2 : 1;
}

/* With windows, where the horizon is far from all that closes: weeks after the latest whole number that is found. */
static int check_far_latest(const net *n, const tc_network *network)
{
	enum { FAR = 5 * PERIOD, NEAR = 3 * PERIOD };
	double fixed[MOMENTS], latest = -1;
	const int target = any(1, n->moments - 1);

	for (int m = 0; m < n->moments; m++)
		fixed[m] = chance(70) ? (double)NAN : any(0, 6);
	const all_plans a = try_all(n, ~0u, FAR, fixed);
	if (!a.any)
		return 0;
	assert_int_equal(tc_network_latest(network, 200, fixed, (uint32_t)target, &latest), TC_NETWORK_SOLVED);
	if (a.most[target] > FAR - NEAR)
		assert_true(latest >= a.most[target]);
	else
		assert_true(latest == a.most[target]);
	return a.most[target] <= FAR - NEAR;
}

static int bits(unsigned set)
{
	int count = 0;
	for (; set; set &= set - 1)
		count++;
	return count;
}

static void check_conflict(const net *n, const tc_network *network, tc_arena *arena, bool solved)
{
	const uint32_t *group;
	size_t count;
	bool smallest;
	unsigned set = 0;
	int fewest = 99;
	const tc_network_answer answer = tc_network_conflict(network, HORIZON, arena, &group, &count, &smallest);

	if (solved) {
		assert_int_equal(answer, TC_NETWORK_SOLVED);
		assert_int_equal(count, 0);
		return;
	}
	assert_int_equal(answer, TC_NETWORK_CONFLICT);
	for (size_t i = 0; i < count; i++) {
		assert_true(i == 0 || group[i - 1] < group[i]);
		assert_in_range(group[i], 1, GROUPS - 1);
		set |= 1u << group[i];
	}
	assert_false(has_plan(n, set));
	for (size_t i = 0; i < count; i++)
		assert_true(has_plan(n, set & ~(1u << group[i])));
	assert_true(smallest); /* networks as small as these are within every budget */
	for (unsigned other = 0; other < 1u << GROUPS; other += 2)
		if (bits(other) < fewest && !has_plan(n, other))
			fewest = bits(other);
	assert_int_equal(count, fewest);
}

static void against_every_plan(void **state)
{
	enum { NETWORKS = 12000 };
	int solved = 0, with_windows = 0, with_hours = 0, far = 0, latest[3] = {0};
	(void)state;

	seed = 20310520;
	for (int i = 0; i < NETWORKS; i++) {
		const net n = any_net();
		tc_arena *arena = tc_arena_new(NULL, 0);
		const tc_network *network = build(&n, arena);
		const all_plans a = try_all(&n, ~0u, HORIZON, NULL);
		solved += a.any;
		with_windows += n.windows;
		with_hours += n.any_hours;
		check_earliest(&n, network, &a);
		for (int k = 0; k < 3; k++)
			latest[check_latest(&n, network, &a)]++;
		if (n.moments <= 4 && n.windows && !n.hours_end)
			far += check_far_latest(&n, network);
		check_conflict(&n, network, arena, a.any);
		tc_arena_free(arena);
	}
	assert_in_range(solved, NETWORKS / 5, NETWORKS * 4 / 5);
	assert_true(with_windows > NETWORKS / 4 && with_hours > NETWORKS / 4);
	assert_true(latest[0] > 500 && latest[1] > 500 && latest[2] > 500);
	assert_true(far > 100);
	printf("summary: %d networks, %d with a plan; latest: %d conflicts, %d that close, %d that do not\n", NETWORKS,
	    solved, latest[0], latest[1], latest[2]);
}

/* --- windows against every combination ---------------------------------------------------------------------- */

enum { MORE = 12, CHOICES = 6, SLOTS = 3, PLAIN = 14 };

typedef struct plain {
	int from, to, least, most;
} plain;

typedef struct windowed {
	plain bound[PLAIN + CHOICES];
	int least[CHOICES][SLOTS], most[CHOICES][SLOTS];
} windowed;

/* The end of the least plan, by going round until nothing moves; -1: none. */
static int end_of(const plain *all, int count, int horizon)
{
	int at[MORE] = {0}, end = 0;
	for (bool more = true; more;) {
		more = false;
		for (int i = 0; i < count; i++) {
			const plain *b = &all[i];
			if (at[b->to] < at[b->from] + b->least)
				more = true, at[b->to] = at[b->from] + b->least;
			if (at[b->from] < at[b->to] - b->most)
				more = true, at[b->from] = at[b->to] - b->most;
			if (at[0] > 0 || at[b->to] > horizon || at[b->from] > horizon)
				return -1;
		}
	}
	for (int m = 0; m < MORE; m++)
		end = at[m] > end ? at[m] : end;
	return end;
}

static windowed any_windowed(void)
{
	windowed w = {0};
	for (int i = 0; i < PLAIN + CHOICES; i++) {
		plain *b = &w.bound[i];
		*b = (plain){.from = any(0, MORE - 2), .least = any(0, 9)};
		b->to = any(b->from + 1, MORE - 1);
		b->most = b->least + (chance(60) ? 1000 : any(4, 30));
		int at = any(0, 10);
		for (int k = 0; i >= PLAIN && k < SLOTS; k++) {
			w.least[i - PLAIN][k] = at;
			w.most[i - PLAIN][k] = at + any(0, 5);
			at += any(6, 20);
		}
	}
	return w;
}

static int best_end(windowed *w, int horizon)
{
	int best = -1;
	for (int combination = 0; combination < 729; combination++) {
		for (int c = 0, rest = combination; c < CHOICES; c++, rest /= SLOTS) {
			w->bound[PLAIN + c].least = w->least[c][rest % SLOTS];
			w->bound[PLAIN + c].most = w->most[c][rest % SLOTS];
		}
		const int end = end_of(w->bound, PLAIN + CHOICES, horizon);
		if (end >= 0 && (best < 0 || end < best))
			best = end;
	}
	return best;
}

static void windows_against_every_combination(void **state)
{
	int solved = 0;
	(void)state;

	seed = 7;
	for (int i = 0; i < 600; i++) {
		windowed w = any_windowed();
		tc_arena *arena = tc_arena_new(NULL, 0);
		tc_network *network = tc_network_new(arena);
		double at[MORE], end = 0;
		for (int m = 1; m < MORE; m++)
			(void)tc_network_moment(network);
		for (int b = 0; b < PLAIN + CHOICES; b++) {
			const plain *p = &w.bound[b];
			tc_span window[SLOTS];
			for (int k = 0; b >= PLAIN && k < SLOTS; k++)
				window[k] = (tc_span){w.least[b - PLAIN][k], w.most[b - PLAIN][k]};
			if (b < PLAIN)
				assert_true(tc_network_bound(
				    network, (uint32_t)p->from, (uint32_t)p->to, p->least, p->most, 1));
			else
				assert_true(
				    tc_network_windows(network, (uint32_t)p->from, (uint32_t)p->to, window, SLOTS, 1));
		}
		const int best = best_end(&w, 100);
		assert_int_equal(
		    tc_network_earliest(network, 100, at), best >= 0 ? TC_NETWORK_SOLVED : TC_NETWORK_CONFLICT);
		for (int m = 0; best >= 0 && m < MORE; m++)
			end = fmax(end, at[m]);
		assert_true(best < 0 || end == best);
		solved += best >= 0;
		tc_arena_free(arena);
	}
	assert_in_range(solved, 100, 500);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(against_every_plan),
	    cmocka_unit_test(windows_against_every_combination),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
