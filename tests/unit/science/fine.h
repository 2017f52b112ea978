/*
 * A film in very many small steps, put together again from the formulas in the headers and the functions that they
 * name: what the program's few large steps are compared with.  Dry air only (no vapour in it).
 */
#ifndef TC_TEST_FINE_H
#define TC_TEST_FINE_H

#include "near.h"

#include "science/attack.h"
#include "science/transfer.h"

struct fine {
	double set_time, hot_time, depth;
	bool sets;
};

struct fine_film {
	const struct tc_wet_film *film;
	const struct tc_drying_air *air;
	const struct tc_drying_law *law;
	struct tc_activity blend;
	double k[TC_SCI_COMPONENTS_MAX], warming, binder;
	double moles[TC_SCI_COMPONENTS_MAX];
};

static inline double fine_space(const struct fine_film *f, size_t i)
{
	return f->film->solvent[i].molar_mass / f->film->solvent[i].density;
}

static inline double fine_liquid(const struct fine_film *f, const double *moles)
{
	double sum = 0.0;
	for (size_t i = 0; i < f->film->count; i++)
		sum += moles[i] * fine_space(f, i);
	return sum;
}

static inline double fine_k(const struct tc_drying_air *air, double diffusivity)
{
	double k = air->transfer;
	if (k == 0.0)
		assert_true(tc_transfer(air->speed, air->length, diffusivity, air->still, &k));
	return k;
}

static inline void fine_start(struct fine_film *f)
{
	struct tc_groups groups[TC_SCI_COMPONENTS_MAX];
	double sum = 0.0, diffusivity, lewis = TC_AIR_HEAT_DIFFUSIVITY / TC_TRANSFER_REFERENCE;
	for (size_t i = 0; i < f->film->count; i++)
		sum += f->film->share[i];
	for (size_t i = 0; i < f->film->count; i++) {
		const struct tc_solvent *s = &f->film->solvent[i];
		double volume = s->diffusion_volume > 0.0 ? s->diffusion_volume : s->molar_volume;
		assert_true(tc_fuller_diffusivity(f->air->temperature, s->molar_mass, volume, &diffusivity));
		f->k[i] = fine_k(f->air, diffusivity);
		f->moles[i] = f->film->thickness * (1.0 - f->film->solids) * f->film->share[i] / sum / fine_space(f, i);
		groups[i] = s->groups;
	}
	f->binder = f->film->thickness * f->film->solids;
	f->warming = fine_k(f->air, TC_TRANSFER_REFERENCE) * TC_AIR_DENSITY * TC_AIR_HEAT * pow(lewis, 2.0 / 3.0);
	assert_true(tc_activity_prepare(groups, f->film->count, f->air->temperature, &f->blend));
}

/* Heat that vapour takes at a temperature, less what the air brings, W/m^2; activities as given. */
static inline double fine_excess(const struct fine_film *f, const double *activity, double t)
{
	double gone = -f->warming * (f->air->temperature - t), pressure;
	for (size_t i = 0; i < f->film->count; i++) {
		const struct tc_solvent *s = &f->film->solvent[i];
		assert_true(tc_antoine_pressure(&s->antoine, t, &pressure));
		gone += f->k[i] * s->vaporisation * activity[i] * pressure
		        / (TC_GAS_CONSTANT * 0.5 * (f->air->temperature + t));
	}
	return gone;
}

/* Relative rates, 1/s. */
static inline void fine_rates(const struct fine_film *f, const double *moles, double *rate)
{
	double gamma[TC_SCI_COMPONENTS_MAX], activity[TC_SCI_COMPONENTS_MAX], all = 0.0, bound, pressure;
	double low = TC_VAPOUR_COLDEST, high = f->air->temperature;
	for (size_t i = 0; i < f->film->count; i++) {
		all += moles[i];
		low = fmax(low, TC_CELSIUS_ZERO + 1.0 - f->film->solvent[i].antoine.c);
	}
	assert_true(tc_activity_gamma(&f->blend, moles, gamma));
	assert_true(tc_binder_activity(f->binder / (f->binder + fine_liquid(f, moles)), f->law->chi, &bound));
	for (size_t i = 0; i < f->film->count; i++)
		activity[i] = bound * gamma[i] * moles[i] / all;
	while (f->law->cooling > 0.0 && high - low > 1e-4) {
		double middle = 0.5 * (low + high);
		*(fine_excess(f, activity, middle) > 0.0 ? &high : &low) = middle;
	}
	double t = f->air->temperature - f->law->cooling * (f->air->temperature - high);
	for (size_t i = 0; i < f->film->count; i++) {
		assert_true(tc_antoine_pressure(&f->film->solvent[i].antoine, t, &pressure));
		rate[i] = f->k[i] * bound * gamma[i] * pressure / (TC_GAS_CONSTANT * t) / all;
	}
}

/* What the solid asks of the film at a moment: RED, and the front's speed (d(s^2)/dt before the liquid is shared). */
static inline double fine_speed(const struct fine_film *f, const double *moles, const struct tc_sphere *solid,
	const struct tc_uptake *uptake, double *red)
{
	struct tc_hansen part[TC_SCI_COMPONENTS_MAX], blend;
	double volume[TC_SCI_COMPONENTS_MAX], liquid = fine_liquid(f, moles), mobility = 0.0, ra;
	for (size_t i = 0; i < f->film->count; i++) {
		const struct tc_solvent *s = &f->film->solvent[i];
		part[i] = s->hansen;
		volume[i] = moles[i] * fine_space(f, i);
		assert_true(tc_hansen_distance(s->hansen, solid->centre, &ra));
		double chi = s->molar_volume * ra * ra / (4.0 * TC_GAS_CONSTANT * 298.15);
		mobility += volume[i] / liquid * uptake->mobility
		            * exp((uptake->size - s->molar_volume) / uptake->fall - chi);
	}
	assert_true(tc_hansen_blend(part, volume, f->film->count, &blend));
	assert_true(tc_hansen_red(blend, solid, red));
	double taken = fmax(0.0, 1.0 - *red * *red / (uptake->bound * uptake->bound));
	return mobility * taken * taken;
}

/* One span of the front's law, by steps small enough that the explicit rule does, on the square of the depth. */
static inline double fine_deepen(double depth, double speed, double wetness, double liquid, double span)
{
	for (int k = 0; k < 8; k++) {
		double square = depth * depth, gain = speed * wetness * wetness * span / 8.0;
		double guess = sqrt(square + gain * liquid / (liquid + depth));
		depth = sqrt(square + gain * liquid / (liquid + 0.5 * (depth + guess)));
	}
	return depth;
}

/* The second stage: decay as the header of drying.h has it, speed and composition's part in it as at the set point. */
static inline void fine_second(const struct fine_film *f, const struct tc_sphere *solid, const struct tc_uptake *uptake,
	double wetness, struct fine *out)
{
	static const double pi = 3.14159265358979323846;
	double rate[TC_SCI_COMPONENTS_MAX], moles[TC_SCI_COMPONENTS_MAX], red, thick = f->binder + fine_liquid(f, f->moles);
	double fastest = 0.0, before = 0.0, speed = fine_speed(f, f->moles, solid, uptake, &red);
	fine_rates(f, f->moles, rate);
	for (size_t i = 0; i < f->film->count; i++) {
		if (f->binder <= 0.0)
			break;
		double d = f->law->diffusivity * exp((f->law->size - f->film->solvent[i].molar_volume) / f->law->fall);
		rate[i] = 1.0 / (1.0 / rate[i] + 4.0 * thick * thick / (pi * pi * d));
		fastest = fmax(fastest, rate[i]);
	}
	for (double t = 1e-4 / fastest; t < TC_DRYING_HORIZON; t *= 1.003) {
		for (size_t i = 0; i < f->film->count; i++)
			moles[i] = f->moles[i] * exp(-rate[i] * 0.5 * (before + t));
		double liquid = fine_liquid(f, moles), wet = liquid / (liquid + f->binder);
		if (!(liquid > 1e-200))
			break;
		out->depth = fine_deepen(out->depth, speed, wet, liquid, t - before);
		(void)fine_speed(f, moles, solid, uptake, &red);
		if (red < uptake->bound && wet >= wetness)
			out->hot_time += t - before;
		before = t;
	}
}

/* A pass of a dry-air film toward a solid, in steps that each shrink the liquid by about e^-(1/steps). */
static inline struct fine fine_follow(const struct tc_wet_film *film, const struct tc_drying_air *air,
	const struct tc_drying_law *law, const struct tc_sphere *solid, const struct tc_uptake *uptake, double wetness,
	double steps)
{
	struct fine_film f = {.film = film, .air = air, .law = law};
	struct fine out = {.sets = true};
	double rate[TC_SCI_COMPONENTS_MAX], half[TC_SCI_COMPONENTS_MAX], red;
	fine_start(&f);
	double liquid = fine_liquid(&f, f.moles);
	double end = fmax(f.binder * law->set_share / (1.0 - law->set_share), 1e-3 * liquid);
	while (liquid > end) {
		double leaving = 0.0;
		fine_rates(&f, f.moles, rate);
		for (size_t i = 0; i < film->count; i++)
			leaving += rate[i] * f.moles[i] * fine_space(&f, i);
		double span = fmin(liquid / steps, liquid - end * (1.0 - 1e-9)) / leaving;
		for (size_t i = 0; i < film->count; i++)
			half[i] = f.moles[i] * exp(-0.5 * rate[i] * span);
		fine_rates(&f, half, rate);
		double between = fine_liquid(&f, half), wet = between / (between + f.binder);
		double speed = fine_speed(&f, half, solid, uptake, &red);
		out.depth = fine_deepen(out.depth, speed, wet, between, span);
		if (red < uptake->bound && wet >= wetness)
			out.hot_time += span;
		out.set_time += span;
		for (size_t i = 0; i < film->count; i++)
			f.moles[i] *= exp(-rate[i] * span);
		liquid = fine_liquid(&f, f.moles);
		if (out.set_time > TC_DRYING_HORIZON)
			return (struct fine){.sets = false};
	}
	fine_second(&f, solid, uptake, wetness, &out);
	return out;
}

#endif
