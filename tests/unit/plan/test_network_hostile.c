/*
 * Networks made to last: rings that gain next to nothing, hours that never meet, windows by the dozen. Work is counted
 * in bounds looked at, not in time. And: rounding, refusals, every allocation failing once.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/limits.h"
#include "plan/network_private.h"

#include "../heap.h"

#define CENTURY TC_TIME_MAX
#define HOUR 3600.0
#define DAY 86400.0

static uint64_t seed;

static double any(double least, double most)
{
	seed = seed * 6364136223846793005u + 1442695040888963407u;
	return least + (most - least) * (double)(seed >> 11) * 0x1p-53;
}

static uint32_t any_of(uint32_t count)
{
	return (uint32_t)any(0, count) % count;
}

static tc_network *with_moments(tc_arena *arena, uint32_t count)
{
	tc_network *network = tc_network_new(arena);
	for (uint32_t m = 1; m < count; m++)
		assert_int_equal(tc_network_moment(network), m);
	return network;
}

/* --- hours of each day ------------------------------------------------------------------------------------------- */

static double day_next(const void *user, double at)
{
	const tc_span *hours = user;
	const double day = floor(at / DAY) * DAY;
	return at > day + hours->to ? day + DAY + hours->from : fmax(at, day + hours->from);
}

static double day_last(const void *user, double at)
{
	const tc_span *hours = user;
	const double day = floor(at / DAY) * DAY;
	if (at >= day + hours->from)
		return fmin(at, day + hours->to);
	return day > 0 ? day - DAY + hours->to : (double)NAN;
}

static void hold(tc_network *network, uint32_t moment, const tc_span *hours, uint32_t group)
{
	const tc_domain domain = {day_next, day_last, hours};
	assert_true(tc_network_hold(network, moment, &domain, group));
}

/* Steps of which each needs `least` after the one before: moments 1 to count. Groups from `group` on. */
static void chain(tc_network *network, uint32_t count, double least, uint32_t group)
{
	for (uint32_t m = 1; m < count; m++)
		assert_true(tc_network_bound(network, m, m + 1, least, (double)INFINITY, group + m));
}

static size_t conflict_of(const tc_network *network, tc_arena *arena, const uint32_t **group, bool *smallest)
{
	size_t count = 0;
	assert_int_equal(tc_network_conflict(network, CENTURY, arena, group, &count, smallest), TC_NETWORK_CONFLICT);
	return count;
}

/* --- rings and hours -------------------------------------------------------------------------------------- */

/* A ring of 600 that gains a microsecond each time round would need 10^15 rounds to reach the horizon. */
static void a_ring_that_gains_a_microsecond(void **state)
{
	enum { RING = 600 };
	double at[RING + 1];
	uint64_t steps;
	bool smallest;
	const uint32_t *group;
	(void)state;

	for (int gains = 0; gains < 2; gains++) {
		tc_arena *arena = tc_arena_new(NULL, 0);
		tc_network *network = with_moments(arena, RING + 1);
		chain(network, RING, 1, 0);
		assert_true(tc_network_bound(network, 1, RING, -(double)INFINITY, RING - 1 - (gains ? 1e-6 : 0), RING));
		const tc_network_answer answer = tc_network_earliest_counted(network, 3e9, at, &steps);
		assert_int_equal(answer, gains ? TC_NETWORK_CONFLICT : TC_NETWORK_SOLVED);
		assert_true(steps < 20 * RING);
		if (gains)
			assert_int_equal(conflict_of(network, arena, &group, &smallest), RING);
		assert_true(!gains || smallest);
		tc_arena_free(arena);
	}
}

/* The same where a domain stops the climb at each whole day. */
static void a_ring_through_a_domain(void **state)
{
	static const tc_span noon = {12 * HOUR, 12 * HOUR};
	double at[601];
	uint64_t steps;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_network *network = with_moments(arena, 601);
	(void)state;

	chain(network, 600, 1, 0);
	assert_true(tc_network_bound(network, 1, 600, -(double)INFINITY, 599 - 1e-6, 600));
	for (uint32_t m = 1; m <= 600; m += 100)
		hold(network, m, &noon, 1000 + m);
	assert_int_equal(tc_network_earliest_counted(network, 3e9, at, &steps), TC_NETWORK_CONFLICT);
	assert_true(steps < 20 * 600);
	tc_arena_free(arena);
}

/*
 * Two jobs of the same hour of the day, five hours apart or more, but less than a day: never, and that shows only at
 * the horizon, after 36525 days. Beside it five hundred steps that have nothing to do with it.
 */
static void hours_that_never_meet(void **state)
{
	static const tc_span morning = {8 * HOUR, 9 * HOUR};
	double at[503];
	uint64_t steps;
	bool smallest;
	const uint32_t *group;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_network *network = with_moments(arena, 503);
	(void)state;

	chain(network, 500, HOUR, 0);
	hold(network, 501, &morning, 1001);
	hold(network, 502, &morning, 1002);
	assert_true(tc_network_bound(network, 501, 502, 5 * HOUR, 22 * HOUR, 1003));
	assert_true(tc_network_bound(network, 500, 501, 0, 100 * DAY, 1004));
	assert_int_equal(tc_network_earliest_counted(network, CENTURY, at, &steps), TC_NETWORK_CONFLICT);
	assert_true(steps < 500000);
	assert_int_equal(conflict_of(network, arena, &group, &smallest), 3);
	assert_int_equal(group[0], 1001);
	assert_int_equal(group[2], 1003);
	assert_true(smallest);
	tc_arena_free(arena);
}

/* Where climbing costs more than the budget it is given up, and that is said. */
static void too_far_to_climb(void **state)
{
	static const tc_span even = {0, 0}, odd = {1, 1};
	double at[703];
	const uint32_t *group;
	size_t count;
	bool smallest;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_network *network = with_moments(arena, 703);
	(void)state;

	hold(network, 1, &even, 1);
	hold(network, 2, &odd, 2);
	assert_true(tc_network_bound(network, 1, 2, 2, DAY, 3));
	for (uint32_t m = 3; m < 703; m++)
		assert_true(tc_network_bound(network, 2, m, 0, (double)INFINITY, 4));
	assert_int_equal(tc_network_earliest(network, CENTURY, at), TC_NETWORK_TOO_MUCH);
	assert_true(isnan(at[0]) && isnan(at[702]));
	assert_int_equal(tc_network_conflict(network, CENTURY, arena, &group, &count, &smallest), TC_NETWORK_TOO_MUCH);
	assert_int_equal(count, 0);
	assert_false(smallest);
	assert_int_equal(tc_network_earliest(network, 1000 * DAY, at), TC_NETWORK_CONFLICT);
	tc_arena_free(arena);
}

/* --- windows ---------------------------------------------------------------------------------------------- */

/*
 * As at a bench: eight bodies of eight coats, each within four hours of the one before or after two days, in the
 * evenings.
 */
static void sixty_four_windows(void **state)
{
	enum { BODIES = 8, COATS = 9 };
	static const tc_span evening = {18 * HOUR, 22 * HOUR};
	static const tc_span window[] = {{0.5 * HOUR, 4 * HOUR}, {48 * HOUR, (double)INFINITY}};
	double at[BODIES * COATS + 1];
	uint64_t steps;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_network *network = with_moments(arena, BODIES * COATS + 1);
	(void)state;

	for (uint32_t m = 1; m <= BODIES * COATS; m++) {
		hold(network, m, &evening, 1);
		if (m % COATS != 0)
			assert_true(tc_network_windows(network, m, m + 1, window, 2, 2));
		if (m > COATS) /* one pair of hands, body after body */
			assert_true(tc_network_bound(network, m - COATS, m, 0.1 * HOUR, (double)INFINITY, 3));
	}
	assert_int_equal(tc_network_earliest_counted(network, CENTURY, at, &steps), TC_NETWORK_SOLVED);
	for (uint32_t m = 1; m <= BODIES * COATS; m++) {
		const double after = m % COATS ? at[m + 1] - at[m] : 1 * HOUR;
		assert_true(day_next(&evening, at[m]) == at[m]);
		assert_true((after >= 0.5 * HOUR && after <= 4 * HOUR) || after >= 48 * HOUR);
	}
	/*
	 * The seventh body begins no earlier than 18:36 and has eight pauses of 30 min, which is past 22:00: one pause
	 * is two days, 51.5 h in all, and that is past 22:00 again. So its ninth coat is not before 18:00 of the
	 * fourth evening. Were that its only one there, the eighth would lie in the third and the ninth 20 h after it:
	 * neither within four hours nor after two days. So the eighth is at 18:00, the ninth at 18:30, and that of the
	 * eighth body six minutes later.
	 */
	assert_true(at[BODIES * COATS] == 3 * DAY + 18.6 * HOUR);
	assert_true(steps < 1000000);
	tc_arena_free(arena);
}

/*
 * Sixty-four lengths of which each counts or not, and a sum that no choice reaches because it is odd: whoever can do
 * that quickly can add up any set. The budget ends it. Where a sum is reached sooner or later the first plan is told.
 */
static void windows_that_add_up_to_nothing(void **state)
{
	double at[66];
	const uint32_t *group;
	size_t count;
	bool smallest;
	uint64_t steps;
	(void)state;

	for (int odd = 0; odd < 2; odd++) {
		tc_arena *arena = tc_arena_new(NULL, 0);
		tc_network *network = with_moments(arena, 66);
		seed = 5;
		for (uint32_t m = 1; m < 65; m++) {
			const double length = 2 * floor(any(1000, 100000));
			const tc_span window[] = {{0, 0}, {length, length}};
			assert_true(tc_network_windows(network, m, m + 1, window, 2, m));
		}
		assert_true(tc_network_bound(network, 1, 65, odd ? 1500001 : 0, odd ? 1500001 : (double)INFINITY, 100));
		const tc_network_answer answer = tc_network_earliest_counted(network, CENTURY, at, &steps);
		assert_int_equal(answer, odd ? TC_NETWORK_TOO_MUCH : TC_NETWORK_SOLVED);
		assert_true(steps < TC_NETWORK_STEPS_MAX + 10000u);
		assert_int_equal(tc_network_conflict(network, CENTURY, arena, &group, &count, &smallest),
		    odd ? TC_NETWORK_TOO_MUCH : TC_NETWORK_SOLVED);
		tc_arena_free(arena);
	}
}

/* A plan that is found before the budget is spent is told, though it may not be the earliest. */
static void a_plan_that_may_not_be_the_earliest(void **state)
{
	double at[42], sum = 0;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_network *network = with_moments(arena, 42);
	(void)state;

	seed = 11;
	for (uint32_t m = 1; m < 41; m++) {
		const double length = 2 * floor(any(1000, 100000));
		const tc_span window[] = {{0, 0}, {length, length}};
		assert_true(tc_network_windows(network, m, m + 1, window, 2, m));
	}
	assert_true(tc_network_bound(network, 1, 41, 700001, (double)INFINITY, 100));
	assert_int_equal(tc_network_earliest(network, CENTURY, at), TC_NETWORK_TOO_MUCH);
	sum = at[41] - at[1];
	assert_true(sum >= 700001 && sum < 900000);
	tc_arena_free(arena);
}

/* --- large and plain -------------------------------------------------------------------------------------- */

/* 600 moments, 3000 bounds around a plan that is known; then one bound that breaks it. */
static void six_hundred_moments(void **state)
{
	enum { N = 600, BOUNDS = 3000 };
	static double plan[N], at[N];
	uint64_t steps, worst = 0;
	bool smallest;
	const uint32_t *group;
	(void)state;

	seed = 3;
	for (int round = 0; round < 10; round++) {
		tc_arena *arena = tc_arena_new(NULL, 0);
		tc_network *network = with_moments(arena, N);
		for (uint32_t m = 1; m < N; m++)
			plan[m] = floor(any(0, 30 * DAY));
		for (uint32_t b = 0; b < BOUNDS; b++) {
			const uint32_t from = any_of(N), to = any_of(N);
			const double least = plan[to] - plan[from] - floor(any(0, DAY));
			const double most = plan[to] - plan[from] + floor(any(0, 3 * DAY));
			assert_true(tc_network_bound(network, from, to, least, most, b + 1));
		}
		assert_int_equal(tc_network_earliest_counted(network, CENTURY, at, &steps), TC_NETWORK_SOLVED);
		for (uint32_t m = 1; m < N; m++)
			assert_true(at[m] <= plan[m]);
		worst = steps > worst ? steps : worst;
		const uint32_t last = any_of(N - 1) + 1;
		assert_true(tc_network_bound(network, 0, last, plan[last] + 5 * DAY, (double)INFINITY, BOUNDS + 1));
		assert_int_equal(tc_network_earliest(network, CENTURY, at), TC_NETWORK_CONFLICT);
		const size_t count = conflict_of(network, arena, &group, &smallest);
		assert_true(count >= 2 && smallest);
		assert_int_equal(group[count - 1], BOUNDS + 1);
		tc_arena_free(arena);
	}
	assert_true(worst < 500000);
	printf("summary: at most %llu bounds looked at for 600 moments with 3000\n", (unsigned long long)worst);
}

/* --- rounding --------------------------------------------------------------------------------------------- */

/*
 * What comes out goes in again: each earliest plan is a plan when all is fixed, also decades away and with crooked
 * bounds.
 */
static void plans_go_in_again(void **state)
{
	enum { N = 40 };
	double at[N], latest;
	(void)state;

	seed = 17;
	for (int round = 0; round < 300; round++) {
		tc_arena *arena = tc_arena_new(NULL, 0);
		tc_network *network = with_moments(arena, N);
		const double first = pow(10, any(0, 9));
		assert_true(tc_network_bound(network, 0, 1, first, first, 1));
		for (uint32_t m = 2; m < N; m++) {
			const double least = any(0, DAY) / 3;
			const uint32_t from = any_of(m - 1) + 1;
			assert_true(tc_network_bound(network, from, m, least, any_of(2) ? least : 2 * DAY, 1));
		}
		if (tc_network_earliest(network, CENTURY, at) == TC_NETWORK_SOLVED) {
			assert_int_equal(tc_network_latest(network, CENTURY, at, N - 1, &latest), TC_NETWORK_SOLVED);
			assert_true(latest == at[N - 1]);
		}
		tc_arena_free(arena);
	}
}

/* Thirds of an hour three times are an hour, whatever doubles make of it; and tenths of a second are tenths. */
static void thirds_and_tenths(void **state)
{
	const double parts[] = {3, 6, 7, 9, 10, 11, 13, 49};
	double at[60];
	(void)state;

	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
		const uint32_t n = (uint32_t)parts[i];
		for (double whole = 0.7; whole < 1e9; whole *= 7.3) {
			tc_arena *arena = tc_arena_new(NULL, 0);
			tc_network *network = with_moments(arena, n + 2);
			for (uint32_t m = 1; m <= n; m++)
				assert_true(tc_network_bound(network, m, m + 1, whole / n, whole / n, 1));
			assert_true(tc_network_bound(network, 1, n + 1, whole, whole, 2));
			/* decades away a double has no microsecond left that could be shared out */
			assert_int_equal(tc_network_earliest(network, CENTURY, at), TC_NETWORK_SOLVED);
			assert_true(fabs(at[n + 1] - whole) <= n * 1e-6);
			tc_arena_free(arena);
		}
	}
}

/* What a person writes comes out as it was written, and a domain's crooked end is not overstepped. */
static void figures_as_written(void **state)
{
	/* of some the product with a million is a little less than whole */
	const double figures[] = {0.29, 0.57, 1.005, 1.1, 2.3, 4.35, 8.41, 64.1};
	static const tc_span third = {1 / 3.0, 2 / 3.0};
	double at[3], latest;
	(void)state;

	for (size_t i = 0; i < sizeof figures / sizeof *figures; i++) {
		tc_arena *arena = tc_arena_new(NULL, 0);
		tc_network *network = with_moments(arena, 3);
		assert_true(tc_network_bound(network, 0, 1, figures[i], (double)INFINITY, 1));
		assert_int_equal(tc_network_earliest(network, CENTURY, at), TC_NETWORK_SOLVED);
		assert_true(at[1] == figures[i]);
		hold(network, 2, &third, 2);
		assert_int_equal(tc_network_earliest(network, CENTURY, at), TC_NETWORK_SOLVED);
		assert_true(at[2] >= third.from && at[2] <= third.from + 1e-6);
		assert_true(tc_network_bound(network, 0, 2, -(double)INFINITY, HOUR, 1));
		assert_int_equal(tc_network_latest(network, CENTURY, NULL, 2, &latest), TC_NETWORK_SOLVED);
		assert_true(latest <= third.to && latest >= third.to - 1e-6);
		tc_arena_free(arena);
	}
}

/* --- edges ------------------------------------------------------------------------------------------------ */

static void refusals(void **state)
{
	static const tc_span noon = {12 * HOUR, 12 * HOUR};
	const tc_domain domain = {day_next, day_last, &noon};
	const double inf = (double)INFINITY, nan = (double)NAN;
	tc_span window[TC_NETWORK_WINDOWS_MAX + 1];
	double at[3], latest;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_network *network = with_moments(arena, 3);
	(void)state;

	for (int i = 0; i <= TC_NETWORK_WINDOWS_MAX; i++)
		window[i] = (tc_span){10 * i, 10 * i + 1};
	assert_false(tc_network_bound(network, 0, 3, 0, 1, 1));
	assert_false(tc_network_bound(network, 3, 0, 0, 1, 1));
	assert_false(tc_network_bound(network, 0, 1, nan, 1, 1));
	assert_false(tc_network_bound(network, 0, 1, 0, nan, 1));
	assert_false(tc_network_windows(network, 0, 1, window, 0, 1));
	assert_false(tc_network_windows(network, 0, 1, window, TC_NETWORK_WINDOWS_MAX + 1, 1));
	assert_true(tc_network_windows(network, 0, 1, window, TC_NETWORK_WINDOWS_MAX, 1));
	window[1].from = 0.5;
	assert_false(tc_network_windows(network, 0, 1, window, 2, 1));
	window[1].from = 12;
	assert_false(tc_network_windows(network, 0, 1, window, 2, 1));
	assert_false(tc_network_hold(network, 3, &domain, 1));
	assert_true(tc_network_hold(network, 2, &domain, 1));
	assert_false(tc_network_hold(network, 2, &domain, 1));
	/* no bound at all, the horizon itself, and a tick past it */
	assert_true(tc_network_bound(network, 1, 2, -inf, inf, 1));
	assert_int_equal(tc_network_earliest(network, 12 * HOUR, at), TC_NETWORK_SOLVED);
	assert_true(at[0] == 0 && at[1] == 0 && at[2] == 12 * HOUR);
	assert_int_equal(tc_network_earliest(network, 12 * HOUR - 1e-6, at), TC_NETWORK_CONFLICT);
	assert_int_equal(tc_network_latest(network, CENTURY, NULL, 1, &latest), TC_NETWORK_SOLVED);
	assert_true(latest == 71);
	assert_int_equal(tc_network_latest(network, CENTURY, NULL, 2, &latest), TC_NETWORK_SOLVED);
	assert_true(isinf(latest));
	assert_int_equal(tc_network_latest(network, CENTURY, NULL, 0, &latest), TC_NETWORK_SOLVED);
	assert_true(latest == 0);
	tc_arena_free(arena);
}

/* Bounds that conflict alone, and what cannot be given up. */
static void lone_conflicts(void **state)
{
	const uint32_t *group;
	bool smallest;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_network *network = with_moments(arena, 3);
	(void)state;

	assert_true(tc_network_bound(network, 0, 1, 5, 6, 1));
	assert_true(tc_network_bound(network, 1, 2, 7, 3, 2)); /* least beyond most */
	assert_int_equal(conflict_of(network, arena, &group, &smallest), 1);
	assert_int_equal(group[0], 2);
	assert_true(smallest);
	/* and where two others conflict, too, and are found first: one is fewer */
	tc_network *other = with_moments(arena, 60);
	assert_true(tc_network_bound(other, 0, 1, 5, 6, 1));
	assert_true(tc_network_bound(other, 0, 1, 7, 8, 2));
	assert_true(tc_network_bound(other, 58, 59, 7, 3, 9));
	assert_int_equal(conflict_of(other, arena, &group, &smallest), 1);
	assert_int_equal(group[0], 9);
	assert_true(smallest);
	assert_true(tc_network_bound(network, 1, 1, 1, 1, 0)); /* a moment after itself */
	assert_int_equal(conflict_of(network, arena, &group, &smallest), 0);
	assert_true(smallest);
	tc_arena_free(arena);
}

/* The fewest: a long ring is found first by whoever follows bounds, but a short one is there. */
static void a_short_conflict_beside_a_long_one(void **state)
{
	const uint32_t *group;
	bool smallest;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_network *network = with_moments(arena, 60);
	(void)state;

	chain(network, 30, 10, 0);
	assert_true(tc_network_bound(network, 1, 30, 0, 200, 100));
	assert_true(tc_network_bound(network, 40, 41, 10, 20, 50));
	assert_true(tc_network_bound(network, 41, 42, 10, 20, 51));
	assert_true(tc_network_bound(network, 40, 42, 0, 15, 52));
	assert_int_equal(conflict_of(network, arena, &group, &smallest), 3);
	assert_true(smallest);
	assert_true(group[0] == 50 && group[1] == 51 && group[2] == 52);
	tc_arena_free(arena);
}

/* The same where the short one is a way that is too long for the horizon, behind much that costs nothing. */
static void a_short_conflict_with_the_horizon(void **state)
{
	const uint32_t *group;
	bool smallest;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_network *network = with_moments(arena, 64);
	(void)state;

	assert_true(tc_network_bound(network, 0, 62, CENTURY * 0.6, (double)INFINITY, 1));
	for (uint32_t m = 4; m < 62; m++)
		assert_true(tc_network_bound(network, m + 1, m, 0, (double)INFINITY, 0));
	assert_true(tc_network_bound(network, 4, 63, CENTURY * 0.6, (double)INFINITY, 2));
	assert_true(tc_network_bound(network, 1, 2, 10, (double)INFINITY, 50));
	assert_true(tc_network_bound(network, 2, 3, 10, (double)INFINITY, 51));
	assert_true(tc_network_bound(network, 3, 1, -15, (double)INFINITY, 52));
	assert_int_equal(conflict_of(network, arena, &group, &smallest), 2);
	assert_true(smallest);
	assert_true(group[0] == 1 && group[1] == 2);
	tc_arena_free(arena);
}

/* --- a failing heap --------------------------------------------------------------------------------------- */

enum { COATS = 12 };

/*
 * Coats within an hour to four hours of each other or after two days, in the evening. `early`: the first one too soon.
 */
static tc_network *evenings(tc_arena *arena, bool early)
{
	static const tc_span evening = {18 * HOUR, 22 * HOUR};
	static const tc_span window[] = {{HOUR, 4 * HOUR}, {30 * HOUR, 40 * HOUR}, {48 * HOUR, (double)INFINITY}};
	const tc_domain domain = {day_next, day_last, &evening};
	tc_network *network = tc_network_new(arena);

	for (uint32_t m = 1; network && m <= COATS; m++) {
		const size_t count = early && m == 1 ? 1 : 3;
		if (tc_network_moment(network) != m || !tc_network_hold(network, m, &domain, COATS + m) ||
		    !tc_network_windows(network, m - 1, m, window, count, m))
			return NULL;
	}
	return network;
}

/* Everything once: 0 if memory ran out somewhere, else a sum of what came out. */
static double all_of_it(void)
{
	double at[COATS + 1] = {0}, latest = 0, result = 0;
	const uint32_t *group;
	size_t count;
	bool smallest;
	tc_arena *arena = tc_arena_new(&heap_allocator, 256);
	const tc_network *network = arena ? evenings(arena, true) : NULL;

	if (network && tc_network_conflict(network, CENTURY, arena, &group, &count, &smallest) == TC_NETWORK_CONFLICT)
		result = (double)count + group[0];
	tc_arena_free(arena);
	if (result == 0)
		return 0;
	arena = tc_arena_new(&heap_allocator, 256);
	network = arena ? evenings(arena, false) : NULL;
	const bool solved = network && tc_network_earliest(network, CENTURY, at) == TC_NETWORK_SOLVED &&
	                    tc_network_latest(network, CENTURY, at, COATS, &latest) == TC_NETWORK_SOLVED;
	tc_arena_free(arena);
	return solved ? result + at[COATS] / HOUR : 0;
}

static void every_allocation_fails_once(void **state)
{
	(void)state;
	heap_arm(0);
	const double result = all_of_it();
	heap_disarm();
	const long all = heap.requests;
	assert_true(result > 0);
	assert_true(all > 10);
	assert_int_equal(heap.outstanding, 0);
	for (long n = 1; n <= all; n++) {
		heap_arm(n);
		const double again = all_of_it();
		heap_disarm();
		assert_int_equal(heap.outstanding, 0);
		assert_true(again == 0);
	}
	printf("summary: %ld allocations, each failed once\n", all);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(a_ring_that_gains_a_microsecond),
	    cmocka_unit_test(a_ring_through_a_domain),
	    cmocka_unit_test(hours_that_never_meet),
	    cmocka_unit_test(too_far_to_climb),
	    cmocka_unit_test(sixty_four_windows),
	    cmocka_unit_test(windows_that_add_up_to_nothing),
	    cmocka_unit_test(a_plan_that_may_not_be_the_earliest),
	    cmocka_unit_test(six_hundred_moments),
	    cmocka_unit_test(plans_go_in_again),
	    cmocka_unit_test(thirds_and_tenths),
	    cmocka_unit_test(figures_as_written),
	    cmocka_unit_test(refusals),
	    cmocka_unit_test(lone_conflicts),
	    cmocka_unit_test(a_short_conflict_beside_a_long_one),
	    cmocka_unit_test(a_short_conflict_with_the_horizon),
	    cmocka_unit_test(every_allocation_fails_once),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
