#include "plan/network_private.h"

#include <math.h>

/* --- ticks ----------------------------------------------------------------------------------------------------- */

#define TICKS_A_SECOND 1e6

/* Ticks as a double, and the whole number that it is but for noise: NAN if there is none near. */
static double ticks(double seconds, double *whole)
{
	const double far = (double)TC_TICK_FAR;
	const double t = fmin(fmax(seconds * TICKS_A_SECOND, -far), far);
	const double noise = 0x1p-10 + fabs(t) * 0x1p-51;

	*whole = fabs(t - rint(t)) <= noise ? rint(t) : (double)NAN;
	return t;
}

tc_tick tc_tick_down(double seconds)
{
	double whole;
	const double t = ticks(seconds, &whole);
	return (tc_tick)(isnan(whole) ? floor(t) : whole);
}

tc_tick tc_tick_up(double seconds)
{
	return -tc_tick_down(-seconds);
}

double tc_tick_seconds(tc_tick tick)
{
	return (double)tick / TICKS_A_SECOND;
}

/* --- building -------------------------------------------------------------------------------------------------- */

tc_network *tc_network_new(tc_arena *arena)
{
	tc_network *network = TC_NEW(arena, tc_network);
	if (!network)
		return NULL;
	network->arena = arena;
	(void)tc_network_moment(network);
	return network->moments ? network : NULL;
}

uint32_t tc_network_moment(tc_network *network)
{
	void *held = network->held;
	if (!tc_arena_grow(network->arena, &held, network->moments, &network->moments_room, sizeof *network->held))
		return 0;
	network->held = held;
	network->held[network->moments] = (tc_hold){0};
	return network->moments++;
}

static bool known(const tc_network *network, uint32_t moment)
{
	return moment < network->moments;
}

/* The number of the new bond, or TC_NO_BOND. */
static uint32_t bond(tc_network *network, uint32_t from, uint32_t to, tc_tick gap, uint32_t group)
{
	void *bonds = network->bond;
	if (!tc_arena_grow(network->arena, &bonds, network->bonds, &network->bonds_room, sizeof *network->bond))
		return TC_NO_BOND;
	network->bond = bonds;
	network->bond[network->bonds] = (tc_bond){from, to, gap, group};
	return network->bonds++;
}

/* Loosened, if it is no whole number of ticks. */
static tc_tick least_gap(double least)
{
	return isinf(least) && least < 0 ? TC_TICK_NONE : tc_tick_down(least);
}

static tc_tick most_gap(double most)
{
	return isinf(most) && most > 0 ? TC_TICK_NONE : tc_tick_down(-most);
}

bool tc_network_bound(tc_network *network, uint32_t from, uint32_t to, double least, double most, uint32_t group)
{
	if (!known(network, from) || !known(network, to) || isnan(least) || isnan(most))
		return false;
	const tc_tick at_least = least_gap(least), at_most = most_gap(most);

	if (at_least != TC_TICK_NONE && bond(network, from, to, at_least, group) == TC_NO_BOND)
		return false;
	return at_most == TC_TICK_NONE || bond(network, to, from, at_most, group) != TC_NO_BOND;
}

static bool rising(const tc_span *window, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (!(window[i].from <= window[i].to) || (i > 0 && window[i].from < window[i - 1].to))
			return false;
	}
	return count >= 1 && count <= TC_NETWORK_WINDOWS_MAX;
}

bool tc_network_windows(
    tc_network *network, uint32_t from, uint32_t to, const tc_span *window, size_t count, uint32_t group)
{
	if (!known(network, from) || !known(network, to) || !rising(window, count))
		return false;
	if (count == 1)
		return tc_network_bound(network, from, to, window->from, window->to, group);
	tc_slot *slot = TC_ARRAY(network->arena, count, tc_slot);
	void *choices = network->choice;
	if (!slot ||
	    !tc_arena_grow(network->arena, &choices, network->choices, &network->choices_room, sizeof *network->choice))
		return false;
	network->choice = choices;
	for (size_t i = 0; i < count; i++)
		slot[i] = (tc_slot){least_gap(window[i].from), -most_gap(window[i].to)};
	tc_choice c = {.from = from, .to = to, .group = group, .slots = (uint32_t)count, .slot = slot};
	c.least = bond(network, from, to, slot[0].from, group);
	c.most = bond(network, to, from, -slot[count - 1].to, group);
	if (c.least == TC_NO_BOND || c.most == TC_NO_BOND)
		return false;
	network->choice[network->choices++] = c;
	return true;
}

bool tc_network_hold(tc_network *network, uint32_t moment, const tc_domain *domain, uint32_t group)
{
	if (!known(network, moment) || network->held[moment].held)
		return false;
	network->held[moment] = (tc_hold){true, *domain, group};
	return true;
}
