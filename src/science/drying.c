/*
 * The first stage of drying, step by step, and the rates of the second.
 *
 * A step lets the liquid shrink by about one ratio, so that the number of steps depends on how far the film is from
 * its set point and on nothing else.  Within a step every component decays exponentially at the rate found half-way
 * (the exponential midpoint rule): second order, amounts stay positive, and a fast component among slow ones needs
 * no small steps.
 */
#include "science/drying.h"

#include <math.h>

#include "science/range.h"
#include "science/transfer.h"

static const double pi = 3.14159265358979323846;
static const double dry_enough = 1e-3; /* a liquid without binder counts as gone at this share */

/* What does not change while a film dries. */
struct evaporator {
	size_t count;
	double air, cooling, chi, binder;
	double lowest;                           /* K: no film is followed below */
	double warming;                          /* W/(m^2 K) that the air brings */
	double k[TC_SCI_COMPONENTS_MAX];         /* m/s */
	double space[TC_SCI_COMPONENTS_MAX];     /* m^3/mol, molar mass over density */
	double heat[TC_SCI_COMPONENTS_MAX];      /* J/mol */
	double ambient[TC_SCI_COMPONENTS_MAX];   /* Pa */
	double antoine_a[TC_SCI_COMPONENTS_MAX]; /* ln P[Pa] = a - b / (T + c), T in K */
	double antoine_b[TC_SCI_COMPONENTS_MAX];
	double antoine_c[TC_SCI_COMPONENTS_MAX];
	struct tc_activity blend;
};

/* A film at one moment, and how fast it goes. */
struct state {
	double volume[TC_SCI_COMPONENTS_MAX]; /* m */
	double rate[TC_SCI_COMPONENTS_MAX];   /* relative, 1/s */
	double total;                         /* m */
	double shrinking;                     /* m/s */
	double wet_bulb, temperature;         /* K */
};

static bool valid_solvent(const struct tc_solvent *s)
{
	bool sized = s->diffusion_volume == 0.0 || tc_within(s->diffusion_volume, 1e-6, 2e-3);
	return sized && tc_hansen_valid(s->hansen) && tc_within(s->molar_mass, 0.001, 2.0)
	       && tc_within(s->density, 100.0, 5000.0) && tc_within(s->molar_volume, 1e-6, 2e-3)
	       && tc_antoine_valid(&s->antoine) && tc_within(s->vaporisation, 0.0, 2e5)
	       && tc_within(s->ambient, 0.0, 1e5);
}

static bool valid_film(const struct tc_wet_film *film)
{
	double sum;
	if (film->count < 1 || film->count > TC_SCI_COMPONENTS_MAX || !tc_within(film->thickness, 1e-8, 1e-2)
		|| !tc_within(film->solids, 0.0, 0.99) || !tc_amounts(film->share, film->count, &sum))
		return false;
	for (size_t i = 0; i < film->count; i++)
		if (!valid_solvent(&film->solvent[i]))
			return false;
	return true;
}

static bool valid_air(const struct tc_drying_air *air)
{
	bool moving = tc_within(air->speed, 0.0, 50.0) && tc_within(air->length, 1e-4, 10.0)
	              && tc_within(air->still, 1e-5, 0.1);
	return tc_within(air->temperature, 253.15, 373.15)
	       && ((air->transfer == 0.0 && moving) || tc_within(air->transfer, 1e-5, 1.0));
}

static bool valid_law(const struct tc_drying_law *law)
{
	return tc_within(law->set_share, 0.01, 0.9) && tc_within(law->chi, 0.0, 10.0)
	       && tc_within(law->cooling, 0.0, 1.0) && tc_within(law->diffusivity, 1e-20, 1e-8)
	       && tc_within(law->size, 1e-6, 2e-3) && tc_within(law->fall, 1e-6, 1.0);
}

static bool valid_carry(const struct tc_drying_carry *below, size_t count)
{
	if (!tc_within(below->binder, 0.0, 0.1))
		return false;
	for (size_t i = 0; i < count; i++)
		if (!tc_within(below->solvent[i], 0.0, 0.1))
			return false;
	return true;
}

/* Coefficient of one vapour; the air's own when the caller gives one for all. */
static bool coefficient(const struct tc_drying_air *air, double diffusivity, double *k)
{
	*k = air->transfer;
	return air->transfer > 0.0 || tc_transfer(air->speed, air->length, diffusivity, air->still, k);
}

static bool set_component(struct evaporator *e, size_t i, const struct tc_solvent *s, const struct tc_drying_air *air)
{
	static const double ln_10 = 2.30258509299404568402, ln_mmhg = 4.89277027160139; /* ln(133.322387 Pa) */
	double volume = s->diffusion_volume > 0.0 ? s->diffusion_volume : s->molar_volume, diffusivity;
	if (!tc_fuller_diffusivity(air->temperature, s->molar_mass, volume, &diffusivity)
		|| !coefficient(air, diffusivity, &e->k[i]))
		return false;
	e->space[i] = s->molar_mass / s->density;
	e->heat[i] = s->vaporisation;
	e->ambient[i] = s->ambient;
	e->antoine_a[i] = s->antoine.a * ln_10 + ln_mmhg;
	e->antoine_b[i] = s->antoine.b * ln_10;
	e->antoine_c[i] = s->antoine.c - TC_CELSIUS_ZERO;
	e->lowest = fmax(e->lowest, 1.0 - e->antoine_c[i]);
	return e->lowest + 20.0 <= air->temperature;
}

static bool prepare(struct evaporator *e, const struct tc_wet_film *film, const struct tc_drying_air *air,
	const struct tc_drying_law *law)
{
	struct tc_groups molecule[TC_SCI_COMPONENTS_MAX];
	double k;
	e->count = film->count;
	e->air = air->temperature;
	e->cooling = law->cooling;
	e->chi = law->chi;
	e->lowest = TC_VAPOUR_COLDEST;
	for (size_t i = 0; i < film->count; i++) {
		if (!set_component(e, i, &film->solvent[i], air))
			return false;
		molecule[i] = film->solvent[i].groups;
	}
	/* Chilton-Colburn: heat and the reference vapour share one boundary layer. */
	if (!coefficient(air, TC_TRANSFER_REFERENCE, &k))
		return false;
	double lewis = TC_AIR_HEAT_DIFFUSIVITY / TC_TRANSFER_REFERENCE;
	e->warming = k * TC_AIR_DENSITY * TC_AIR_HEAT * cbrt(lewis * lewis);
	return tc_activity_prepare(molecule, film->count, air->temperature, &e->blend);
}

/* Pressures over the pure liquids, Pa, and their relative slopes, 1/K (slope may be NULL). */
static void pressures(const struct evaporator *e, double temperature, double *pressure, double *slope)
{
	for (size_t i = 0; i < e->count; i++) {
		double over = 1.0 / (temperature + e->antoine_c[i]);
		pressure[i] = exp(e->antoine_a[i] - e->antoine_b[i] * over);
		if (slope != NULL)
			slope[i] = e->antoine_b[i] * over * over;
	}
}

/*
 * Temperature at which the heat taken by vapour equals what the air brings: Newton's method within a bracket, from a
 * guess.  The excess of heat rises with temperature, so the bracket always closes.
 */
static double find_wet_bulb(const struct evaporator *e, const double *activity, double guess)
{
	double low = e->lowest, high = e->air, t = fmin(high, fmax(low, guess));
	for (int round = 0; round < 60 && high - low > 1e-5; round++) {
		double pressure[TC_SCI_COMPONENTS_MAX], slope[TC_SCI_COMPONENTS_MAX], gone = 0.0, steep = 0.0;
		double mean = TC_GAS_CONSTANT * 0.5 * (e->air + t);
		pressures(e, t, pressure, slope);
		for (size_t i = 0; i < e->count; i++) {
			double per_pascal = e->k[i] * e->heat[i] / mean, over = activity[i] * pressure[i];
			if (over <= e->ambient[i])
				continue;
			gone += per_pascal * (over - e->ambient[i]);
			steep += per_pascal * over * slope[i];
		}
		double excess = gone - e->warming * (e->air - t);
		if (excess > 0.0)
			high = t;
		else
			low = t;
		double next = t - excess / (steep + e->warming);
		if (!(next > low && next < high))
			next = 0.5 * (low + high);
		if (fabs(next - t) < 1e-5)
			return next;
		t = next;
	}
	return t;
}

/* Rates of a film whose volumes are set; wet_bulb holds a guess. */
static void find_rates(const struct evaporator *e, struct state *s)
{
	double moles[TC_SCI_COMPONENTS_MAX], gamma[TC_SCI_COMPONENTS_MAX], activity[TC_SCI_COMPONENTS_MAX];
	double pressure[TC_SCI_COMPONENTS_MAX], all = 0.0, bound = 1.0;
	s->total = 0.0;
	s->shrinking = 0.0;
	for (size_t i = 0; i < e->count; i++) {
		moles[i] = s->volume[i] / e->space[i];
		all += moles[i];
		s->total += s->volume[i];
	}
	for (size_t i = 0; i < e->count; i++)
		s->rate[i] = 0.0;
	s->temperature = s->wet_bulb = e->air;
	if (!tc_activity_gamma(&e->blend, moles, gamma)
		|| !tc_binder_activity(e->binder / (e->binder + s->total), e->chi, &bound))
		return;
	for (size_t i = 0; i < e->count; i++)
		activity[i] = moles[i] / all * gamma[i] * bound;
	s->wet_bulb = find_wet_bulb(e, activity, s->wet_bulb);
	s->temperature = e->air - e->cooling * (e->air - s->wet_bulb);
	pressures(e, s->temperature, pressure, NULL);
	for (size_t i = 0; i < e->count; i++) {
		/* the same as flux * space / volume, without dividing by a volume that may have gone to nothing */
		double drive = gamma[i] * bound * pressure[i] / all;
		if (e->ambient[i] > 0.0)
			drive -= moles[i] > 0.0 ? e->ambient[i] / moles[i] : drive;
		s->rate[i] = fmax(0.0, e->k[i] * drive / (TC_GAS_CONSTANT * s->temperature));
		s->shrinking += s->rate[i] * s->volume[i];
	}
}

/* Liquid left after `time` at fixed relative rates, and how fast it then goes. */
static double liquid_after(
	const struct evaporator *e, const struct state *from, const double *rate, double time, double *speed)
{
	double left = 0.0;
	*speed = 0.0;
	for (size_t i = 0; i < e->count; i++) {
		double v = from->volume[i] * exp(-rate[i] * time);
		left += v;
		*speed += v * rate[i];
	}
	return left;
}

/* The time in which fixed rates bring the liquid down to `target`; the horizon when they do not. */
static double time_to_reach(const struct evaporator *e, const struct state *from, const double *rate, double target)
{
	double low = 0.0, high = TC_DRYING_HORIZON, speed, time = 0.0;
	if (liquid_after(e, from, rate, high, &speed) > target)
		return high;
	for (int round = 0; round < 200 && high - low > 1e-12 * high; round++) {
		double left = liquid_after(e, from, rate, time, &speed);
		if (left > target)
			low = time;
		else
			high = time;
		if (fabs(left - target) <= 1e-13 * target)
			break;
		double next = speed > 0.0 ? time + (left - target) / speed : high;
		time = next > low && next < high ? next : 0.5 * (low + high);
	}
	return time;
}

static void decay(const struct evaporator *e, struct state *s, const double *rate, double time)
{
	for (size_t i = 0; i < e->count; i++)
		s->volume[i] *= exp(-rate[i] * time);
}

static void keep_sample(struct tc_drying *out, const struct state *s, double time)
{
	struct tc_drying_sample *sample = &out->sample[out->samples++];
	sample->time = time;
	sample->solvent = s->total;
	sample->temperature = s->temperature;
	for (size_t i = 0; i < out->count; i++)
		sample->share[i] = s->total > 0.0 ? s->volume[i] / s->total : 0.0;
	out->coldest = fmin(out->coldest, s->temperature);
}

/*
 * The first stage.  `steps` is how many would do were each to shrink the liquid by just its ratio; up to
 * TC_DRYING_SAMPLES_MAX - 1 are taken.  True when the film reaches `end`.
 */
static bool dry_by_air(const struct evaporator *e, struct state *s, double end, size_t steps, struct tc_drying *out)
{
	double time = 0.0, speed, usual = log(s->total / end) / (double)steps;
	while (s->total > end * (1.0 + 1e-9)) {
		size_t left = TC_DRYING_SAMPLES_MAX - out->samples;
		double to_go = log(s->total / end), ratio = fmax(usual, to_go / (double)left);
		if (s->shrinking * TC_DRYING_HORIZON < ratio * s->total)
			return false;
		double step = ratio * s->total / s->shrinking;
		struct state half = *s;
		decay(e, &half, s->rate, 0.5 * step);
		find_rates(e, &half);
		if (left == 1 || liquid_after(e, s, half.rate, step, &speed) <= end * (1.0 + 1e-6))
			step = time_to_reach(e, s, half.rate, end);
		if (time + step >= TC_DRYING_HORIZON)
			return false;
		decay(e, s, half.rate, step);
		s->wet_bulb = half.wet_bulb;
		find_rates(e, s);
		time += step;
		keep_sample(out, s, time);
		if (out->samples == TC_DRYING_SAMPLES_MAX)
			break;
	}
	return s->total <= end * (1.0 + 1e-6);
}

/* Rates of the second stage from the state at the end of the first. */
static void find_decay(
	const struct evaporator *e, const struct state *s, const struct tc_drying_law *law, struct tc_drying *out)
{
	double thick = e->binder + s->total;
	for (size_t i = 0; i < e->count; i++) {
		double through = law->diffusivity * exp(fmin(60.0, (law->size - out->size[i]) / law->fall));
		double leaves = pi * pi * through / (4.0 * thick * thick);
		bool free = e->binder <= 0.0 || !out->sets;
		out->decay[i] = s->rate[i];
		if (!free)
			out->decay[i] =
				s->rate[i] > 0.0 && leaves > 0.0 ? s->rate[i] * (leaves / (s->rate[i] + leaves)) : 0.0;
	}
}

/* Amounts at the start: the new pass and what lay below. */
static void lay_down(
	const struct tc_wet_film *film, const struct tc_drying_carry *below, struct evaporator *e, struct state *s)
{
	double parts = 0.0, liquid = film->thickness * (1.0 - film->solids);
	for (size_t i = 0; i < film->count; i++)
		parts += film->share[i];
	for (size_t i = 0; i < film->count; i++)
		s->volume[i] = liquid * (film->share[i] / parts) + (below != NULL ? below->solvent[i] : 0.0);
	e->binder = film->thickness * film->solids + (below != NULL ? below->binder : 0.0);
	s->wet_bulb = e->air;
}

enum tc_drying_status tc_drying_run_steps(const struct tc_wet_film *film, const struct tc_drying_air *air,
	const struct tc_drying_law *law, const struct tc_drying_carry *below, size_t steps, struct tc_drying *out)
{
	struct evaporator e;
	struct state s;
	if (!valid_film(film) || !valid_air(air) || !valid_law(law) || steps < 4 || steps > TC_DRYING_SAMPLES_MAX - 1
		|| (below != NULL && !valid_carry(below, film->count)) || !prepare(&e, film, air, law))
		return TC_DRYING_REFUSED;
	lay_down(film, below, &e, &s);
	find_rates(&e, &s);
	out->count = film->count;
	out->samples = 0;
	out->binder = e.binder;
	out->initial = s.total;
	out->cover = e.blend.cover;
	out->coldest = air->temperature;
	for (size_t i = 0; i < film->count; i++) {
		out->hansen[i] = film->solvent[i].hansen;
		out->size[i] = film->solvent[i].molar_volume;
	}
	keep_sample(out, &s, 0.0);
	double end = fmax(e.binder * law->set_share / (1.0 - law->set_share), dry_enough * s.total);
	out->sets = dry_by_air(&e, &s, end, steps, out);
	out->set_time = out->sets ? out->sample[out->samples - 1].time : TC_DRYING_HORIZON;
	find_decay(&e, &s, law, out);
	return out->sets ? TC_DRYING_SETS : TC_DRYING_RESTS;
}

enum tc_drying_status tc_drying_run(const struct tc_wet_film *film, const struct tc_drying_air *air,
	const struct tc_drying_law *law, const struct tc_drying_carry *below, struct tc_drying *out)
{
	return tc_drying_run_steps(film, air, law, below, TC_DRYING_STEPS, out);
}
