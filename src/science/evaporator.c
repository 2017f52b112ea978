/* What does not change while a film dries, and how fast a liquid leaves. */
#include "science/evaporator.h"

#include <math.h>

#include "science/range.h"
#include "science/transfer.h"

static const double pi = 3.14159265358979323846;

static bool valid_solvent(const struct tc_solvent *s)
{
	bool sized = s->diffusion_volume == 0.0 || tc_within(s->diffusion_volume, 1e-6, 2e-3);
	return sized && tc_hansen_valid(s->hansen) && tc_within(s->molar_mass, 0.001, 2.0) &&
	       tc_within(s->density, 100.0, 5000.0) && tc_within(s->molar_volume, 1e-6, 2e-3) &&
	       tc_antoine_valid(&s->antoine) && tc_within(s->vaporisation, 0.0, 2e5) && tc_within(s->ambient, 0.0, 1e5);
}

static bool valid_air(const struct tc_drying_air *air)
{
	bool moving =
	    tc_within(air->speed, 0.0, 50.0) && tc_within(air->length, 1e-4, 10.0) && tc_within(air->still, 1e-5, 0.1);
	return tc_within(air->temperature, 253.15, 373.15) &&
	       ((air->transfer == 0.0 && moving) || tc_within(air->transfer, 1e-5, 1.0));
}

static bool valid_law(const struct tc_drying_law *law)
{
	return tc_within(law->set_share, 0.01, 0.9) && tc_within(law->chi, 0.0, 10.0) &&
	       tc_within(law->cooling, 0.0, 1.0) && tc_within(law->diffusivity, 1e-20, 1e-8) &&
	       tc_within(law->size, 1e-6, 2e-3) && tc_within(law->fall, 1e-6, 1.0);
}

/* Coefficient of one vapour; the air's own when the caller gives one for all. */
static bool coefficient(const struct tc_drying_air *air, double diffusivity, double *k)
{
	*k = air->transfer;
	return air->transfer > 0.0 || tc_transfer(air->speed, air->length, diffusivity, air->still, k);
}

static bool set_component(struct tc_evaporator *e, size_t i, const struct tc_solvent *s,
    const struct tc_drying_air *air, const struct tc_drying_law *law)
{
	static const double ln_10 = 2.30258509299404568402, ln_mmhg = 4.89277027160139; /* ln(133.322387 Pa) */
	double volume = s->diffusion_volume > 0.0 ? s->diffusion_volume : s->molar_volume, diffusivity, k;
	if (!tc_fuller_diffusivity(air->temperature, s->molar_mass, volume, &diffusivity) ||
	    !coefficient(air, diffusivity, &k))
		return false;
	e->space[i] = s->molar_mass / s->density;
	e->carries[i] = k / TC_GAS_CONSTANT;
	e->heat[i] = k * s->vaporisation;
	e->ambient[i] = s->ambient;
	e->damp |= s->ambient > 0.0;
	e->antoine_a[i] = s->antoine.a * ln_10 + ln_mmhg;
	e->antoine_b[i] = s->antoine.b * ln_10;
	e->antoine_c[i] = s->antoine.c - TC_CELSIUS_ZERO;
	e->lowest = fmax(e->lowest, 1.0 - e->antoine_c[i]);
	e->hansen[i] = s->hansen;
	e->size[i] = s->molar_volume;
	e->leaving[i] = 0.25 * pi * pi * law->diffusivity * exp(fmin(60.0, (law->size - s->molar_volume) / law->fall));
	return e->lowest + 20.0 <= air->temperature;
}

bool tc_evaporator_set(struct tc_evaporator *e, const struct tc_wet_film *film, const struct tc_drying_air *air,
    const struct tc_drying_law *law)
{
	struct tc_groups molecule[TC_SCI_COMPONENTS_MAX];
	double k, sum;
	if (film->count < 1 || film->count > TC_SCI_COMPONENTS_MAX || !tc_amounts(film->share, film->count, &sum) ||
	    !valid_air(air) || !valid_law(law))
		return false;
	e->count = film->count;
	e->damp = false;
	e->air = air->temperature;
	e->cooling = law->cooling;
	e->chi = law->chi;
	e->set_share = law->set_share;
	e->lowest = TC_VAPOUR_COLDEST;
	for (size_t i = 0; i < film->count; i++) {
		if (!valid_solvent(&film->solvent[i]) || !set_component(e, i, &film->solvent[i], air, law))
			return false;
		e->share[i] = film->share[i] / sum;
		molecule[i] = film->solvent[i].groups;
	}
	/* Chilton-Colburn: heat and the reference vapour share one boundary layer. */
	if (!coefficient(air, TC_TRANSFER_REFERENCE, &k))
		return false;
	double lewis = TC_AIR_HEAT_DIFFUSIVITY / TC_TRANSFER_REFERENCE;
	e->warming = TC_GAS_CONSTANT * k * TC_AIR_DENSITY * TC_AIR_HEAT * cbrt(lewis * lewis);
	return tc_activity_prepare(molecule, film->count, air->temperature, &e->blend);
}

/*
 * The heat that vapour takes near a temperature t, times R times the mean of film and air: with u = T - t
 *     sum exp(slope u + bend u^2) - held,
 * the first two cumulants of a sum of exponentials, each with Antoine's curvature.
 */
struct heat {
	double sum, slope, bend, held;
};

/* `base` holds ln(activity) plus Antoine's a of each component. */
static struct heat heat_near(const struct tc_evaporator *e, const double *base, const double *part, double t)
{
	double sum = 0.0, first = 0.0, second = 0.0, held = 0.0;
	for (size_t i = 0; i < e->count; i++) {
		double over = 1.0 / (t + e->antoine_c[i]), slope = e->antoine_b[i] * over * over;
		double pressure = part[i] * exp(base[i] - e->antoine_b[i] * over);
		if (pressure <= e->ambient[i])
			continue;
		double heat = e->heat[i] * pressure;
		sum += heat;
		first += heat * slope;
		second += heat * slope * (slope - 2.0 * over);
		held += e->heat[i] * e->ambient[i];
	}
	if (sum <= 0.0)
		return (struct heat){0.0, 0.0, 0.0, 0.0};
	first /= sum;
	return (struct heat){sum, first, 0.5 * (second / sum - first * first), held};
}

/* The step from t at which vapour takes what the air brings: Halley's, of third order. */
static double balance(const struct tc_evaporator *e, const struct heat *heat, double t)
{
	double half = 0.5 * e->warming, excess = heat->sum - heat->held - half * (e->air - t) * (e->air + t);
	double rise = heat->sum * heat->slope + e->warming * t;
	double bend = heat->sum * (0.5 * heat->slope * heat->slope + heat->bend) + half;
	return -excess * rise / (rise * rise - excess * bend);
}

/*
 * Temperature at which the heat taken by vapour equals what the air brings: from a guess, by the balance above until
 * its step is so small that it holds; within a bracket, which closes since the excess of heat rises with temperature.
 */
static double find_wet_bulb(const struct tc_evaporator *e, const double *base, const double *part, double guess)
{
	double low = e->lowest, high = e->air, t = tc_lesser(high, tc_larger(low, guess));
	for (int round = 0; round < 40 && high - low > 1e-3; round++) {
		struct heat heat = heat_near(e, base, part, t);
		if (heat.sum - heat.held > 0.5 * e->warming * (e->air - t) * (e->air + t))
			high = t;
		else
			low = t;
		double u = balance(e, &heat, t), next = t + u;
		if (fabs(u) < 2.0 && next >= e->lowest && next <= e->air)
			return next;
		t = next > low && next < high ? next : 0.5 * (low + high);
	}
	return t;
}

/* What the binder takes off, as tc_binder_activity; nothing is checked. */
static double bound_share(const struct tc_evaporator *e, double binder, double liquid)
{
	if (binder <= 0.0)
		return 1.0;
	double phi = binder / (binder + liquid);
	return tc_lesser(1.0, (1.0 - phi) * exp(phi * (1.0 + e->chi * phi)));
}

/* Rates from pressures over the film; `part` are mole shares times what the binder leaves. */
static void set_flow(
    const struct tc_evaporator *e, const double *moles, const double *base, double bound, struct tc_flow *flow)
{
	double per_kelvin = 1.0 / flow->temperature, volume = 0.0;
	for (size_t i = 0; i < e->count; i++) {
		double pressure = bound * exp(base[i] - e->antoine_b[i] / (flow->temperature + e->antoine_c[i]));
		double carries = e->carries[i] * per_kelvin;
		flow->loss[i] = carries * pressure;
		flow->back[i] = 0.0;
		if (e->ambient[i] > 0.0) {
			/* n = n_i + the rest: what the air gives back on account of n_i is taken off its loss */
			flow->loss[i] = carries * tc_larger(0.0, pressure - e->ambient[i]);
			flow->back[i] = carries * e->ambient[i] * tc_larger(0.0, flow->moles - moles[i]);
		}
		volume += e->space[i] * tc_larger(0.0, flow->loss[i] * moles[i] - flow->back[i]);
	}
	flow->shrinking = flow->moles > 0.0 ? volume / flow->moles : 0.0;
}

void tc_evaporator_rates(const struct tc_evaporator *e, const double *moles, double binder, struct tc_flow *flow)
{
	double base[TC_SCI_COMPONENTS_MAX], part[TC_SCI_COMPONENTS_MAX];
	flow->moles = flow->volume = 0.0;
	for (size_t i = 0; i < e->count; i++) {
		flow->moles += moles[i];
		flow->volume += moles[i] * e->space[i];
	}
	tc_activity_logs(&e->blend, moles, base);
	double bound = bound_share(e, binder, flow->volume), per_mole = flow->moles > 0.0 ? bound / flow->moles : 0.0;
	for (size_t i = 0; i < e->count; i++) {
		base[i] += e->antoine_a[i];
		part[i] = moles[i] * per_mole;
	}
	flow->temperature = e->air;
	if (e->cooling > 0.0) {
		flow->wet_bulb = find_wet_bulb(e, base, part, flow->wet_bulb);
		flow->temperature -= e->cooling * (e->air - flow->wet_bulb);
	}
	set_flow(e, moles, base, bound, flow);
}
