#include "science/air.h"

#include <math.h>

#include "science/range.h"
#include "science/solvency.h"
#include "science/vapour.h"

bool tc_air_mixed_limit(const double *moles, const double *limit, size_t count, double *mixed)
{
	double sum, over = 0.0;
	if (count < 1 || count > TC_SCI_COMPONENTS_MAX || !tc_amounts(moles, count, &sum))
		return false;
	for (size_t i = 0; i < count; i++) {
		if (!tc_within(limit[i], 1e-9, 1.0))
			return false;
		over += moles[i] / sum / limit[i];
	}
	*mixed = 1.0 / over;
	return true;
}

bool tc_air_saturation(double pressure, double *share)
{
	if (!tc_within(pressure, 0.0, 1e12))
		return false;
	*share = fmin(1.0, pressure / TC_AIR_PRESSURE);
	return true;
}

static bool valid_gas(double molar_mass, double temperature)
{
	return tc_within(molar_mass, 0.001, 2.0) && tc_within(temperature, 223.15, 373.15);
}

bool tc_air_mass(double share, double molar_mass, double temperature, double *concentration)
{
	if (!tc_within(share, 0.0, 1.0) || !valid_gas(molar_mass, temperature))
		return false;
	*concentration = share * molar_mass * TC_AIR_PRESSURE / (TC_GAS_CONSTANT * temperature);
	return true;
}

bool tc_air_share(double concentration, double molar_mass, double temperature, double *share)
{
	if (!tc_within(concentration, 0.0, 1e6) || !valid_gas(molar_mass, temperature))
		return false;
	*share = concentration * TC_GAS_CONSTANT * temperature / (molar_mass * TC_AIR_PRESSURE);
	return true;
}

static bool valid_room(const struct tc_air_room *room)
{
	return tc_within(room->volume, 0.01, 1e7) && tc_within(room->flow, 0.0, 1e4)
	       && tc_within(room->mixing, 0.05, 1.0);
}

/* (1 - exp(-x)) / x, which is 1 at x = 0. */
static double rising(double x)
{
	return x > 1e-12 ? -expm1(-x) / x : 1.0;
}

bool tc_air_after(const struct tc_air_room *room, double source, double start, double time, double *concentration)
{
	if (!valid_room(room) || !tc_within(source, 0.0, 1e3) || !tc_within(start, 0.0, 1e20)
		|| !tc_within(time, 0.0, 1e10))
		return false;
	double changes = room->mixing * room->flow / room->volume * time;
	*concentration = start * exp(-changes) + source * time / room->volume * rising(changes);
	return true;
}

bool tc_air_settles(const struct tc_air_room *room, double source, double *concentration)
{
	if (!valid_room(room) || !tc_within(source, 0.0, 1e3) || room->flow < 1e-12)
		return false;
	*concentration = source / (room->mixing * room->flow);
	return true;
}

/* Integral of the concentration over one span, by the balance itself: what came in less what is there has left. */
static double span_integral(const struct tc_air_room *room, double source, double start, double time)
{
	double away = room->mixing * room->flow / room->volume, changes = away * time;
	double square = 0.5 * time * time * (1.0 - changes / 3.0); /* of few changes: the rest is below 1e-9 of it */
	if (changes > 1e-4)
		square = (time - time * rising(changes)) / away;
	return start * time * rising(changes) + source / room->volume * square;
}

bool tc_air_through(const struct tc_air_room *room, double source, double start, double time, double *concentration,
	double *integral)
{
	if (!tc_air_after(room, source, start, time, concentration))
		return false;
	*integral = span_integral(room, source, start, time);
	return true;
}

bool tc_air_session(
	const struct tc_air_room *room, const struct tc_air_span *span, size_t count, double *peak, double *mean)
{
	double at = 0.0, highest = 0.0, sum = 0.0, all = 0.0;
	if (count < 1 || count > 4096)
		return false;
	for (size_t i = 0; i < count; i++) {
		double after;
		if (!tc_air_after(room, span[i].source, at, span[i].duration, &after))
			return false;
		sum += span_integral(room, span[i].source, at, span[i].duration);
		all += span[i].duration;
		at = after; /* it moves one way within a span, so peaks lie at their ends */
		highest = fmax(highest, at);
	}
	if (all <= 0.0)
		return false;
	*peak = highest;
	*mean = sum / all;
	return true;
}

bool tc_air_needed(double source, double concentration, double mixing, double *flow)
{
	if (!tc_within(source, 0.0, 1e3) || !tc_within(concentration, 1e-15, 1e6) || !tc_within(mixing, 0.05, 1.0))
		return false;
	*flow = source / (mixing * concentration);
	return true;
}

bool tc_air_index(const double *concentration, const double *limit, size_t count, double *index)
{
	double sum = 0.0;
	if (count < 1 || count > 4096)
		return false;
	for (size_t i = 0; i < count; i++) {
		if (!tc_within(concentration[i], 0.0, 1e12) || !tc_within(limit[i], 1e-12, 1e12))
			return false;
		sum += concentration[i] / limit[i];
	}
	if (!tc_within(sum, 0.0, 1e300))
		return false;
	*index = sum;
	return true;
}
