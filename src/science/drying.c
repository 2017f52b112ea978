/*
 * The first stage of drying, step by step, and the rates of the second.
 *
 * The clock runs by the liquid left (evaporator.h), so that rates change only as the composition does.  Within a step
 * every component decays exponentially at its mean rate over the step: that of the parabola through the rates at the
 * last step, at this one, and at the end of the step as the first two foretell it (the formulas of Adams, Bashforth and
 * Moulton, third order, one look at the rates for each step).  Amounts stay positive, and a fast component among slow
 * ones needs no small steps.  Where the air holds a vapour, the component decays toward the amount at which it would
 * rest.  A step shrinks the liquid by at most one ratio, and by less where what was foretold turns out to be off.
 */
#include "science/drying.h"

#include <math.h>

#include "science/evaporator.h"
#include "science/range.h"

static const double dry_enough = 1e-3; /* a liquid without binder counts as gone at this share */
static const double near_end = 1e-9;   /* of the liquid at the set point */

/* Rates that hold over some span. */
struct rates {
	double loss[TC_SCI_COMPONENTS_MAX], back[TC_SCI_COMPONENTS_MAX];
};

/* A pass as it dries. */
struct pass {
	const struct tc_evaporator *e;
	double binder;                       /* m */
	double end;                          /* m of liquid at the set point */
	double time;                         /* s */
	double moles[TC_SCI_COMPONENTS_MAX]; /* mol/m^2 */
	struct tc_flow now, before;          /* at this step and the last one */
	double last;                         /* length of the last step; 0 at first */
};

/* How finely a pass is followed. */
struct pace {
	double most; /* a step shrinks the liquid by no more than e^-most */
	double off;  /* by how much of the liquid a step may be foretold wrong */
};

/* A step as it was found. */
struct found {
	struct tc_flow then;
	double moles[TC_SCI_COMPONENTS_MAX];
	double span, time;
	double off;
};

static bool valid_carry(const struct tc_drying_carry *below, size_t count)
{
	if (!tc_within(below->binder, 0.0, 0.1))
		return false;
	for (size_t i = 0; i < count; i++)
		if (!tc_within(below->solvent[i], 0.0, 0.1))
			return false;
	return true;
}

/* (1 - e^-x) / x, given e^-x. */
static inline double mean_share(double x, double kept)
{
	return x > 1e-3 ? (1.0 - kept) / x : 1.0 - x * (0.5 - x / 6.0);
}

/* What is left of component i after a span at fixed rates, and the mean over that span. */
static inline double decayed(const struct pass *p, const struct rates *mean, size_t i, double span, double *average)
{
	double from = p->moles[i], x = mean->loss[i] * span, kept, rest;
	if (mean->loss[i] * from <= mean->back[i]) {
		*average = from;
		return from;
	}
	rest = mean->back[i] > 0.0 ? mean->back[i] / mean->loss[i] : 0.0;
	kept = exp(-x);
	*average = rest + (from - rest) * mean_share(x, kept);
	return rest + (from - rest) * kept;
}

/* Amounts after a span at fixed rates; returns the time that it takes, s. */
static double advance(const struct pass *p, const struct rates *mean, double span, double *moles)
{
	double sum = 0.0, average;
	for (size_t i = 0; i < p->e->count; i++) {
		moles[i] = decayed(p, mean, i, span, &average);
		sum += average;
	}
	return sum * span;
}

static double volume_of(const struct pass *p, const double *moles)
{
	double volume = 0.0;
	for (size_t i = 0; i < p->e->count; i++)
		volume += moles[i] * p->e->space[i];
	return volume;
}

/*
 * The span after which fixed rates leave just the liquid of the set point, from a first guess: Newton's method on the
 * logarithm of the liquid, which is convex and falls.  Stays at the guess when they never do.
 */
static double span_to_end(const struct pass *p, const struct rates *mean, double guess)
{
	double span = guess;
	for (int round = 0; round < 30; round++) {
		double left = 0.0, speed = 0.0, average;
		for (size_t i = 0; i < p->e->count; i++) {
			double n = decayed(p, mean, i, span, &average);
			left += n * p->e->space[i];
			speed += tc_larger(0.0, mean->loss[i] * n - mean->back[i]) * p->e->space[i];
		}
		if (fabs(left - p->end) <= near_end * p->end || speed <= 0.0)
			break;
		span = tc_larger(0.0, span + log(left / p->end) * left / speed);
	}
	return span;
}

/* Mean rates over a step that starts now, as this and the last one foretell them. */
static void foretell(const struct pass *p, double span, struct rates *mean)
{
	double ratio = p->last > 0.0 ? tc_lesser(1.0, 0.5 * span / p->last) : 0.0;
	for (size_t i = 0; i < p->e->count; i++) {
		double now = p->now.loss[i], back = p->now.back[i];
		mean->loss[i] = tc_larger(0.5 * now, now + ratio * (now - p->before.loss[i]));
		mean->back[i] = p->e->damp ? tc_larger(0.0, back + ratio * (back - p->before.back[i])) : 0.0;
	}
}

/*
 * Mean rates over the first `part` of a step, by the parabola; kept between the rates at the step's ends, or a little
 * outside.  A straight line does for the first step, and where the last one was much shorter.
 */
static void mean_rates(const struct pass *p, const struct tc_flow *then, double span, double part, struct rates *mean)
{
	double ratio = p->last > 0.0 && span < 3.0 * p->last ? span / p->last : 0.0;
	double curved = ratio * (part / 3.0 - 0.5) * part / (1.0 + ratio);
	for (size_t i = 0; i < p->e->count; i++) {
		double now = p->now.loss[i], rise = then->loss[i] - now, margin = 0.2 * fabs(rise);
		double value = now + 0.5 * part * rise + curved * (rise - ratio * (now - p->before.loss[i]));
		double low = tc_larger(0.0, tc_lesser(now, then->loss[i]) - margin);
		mean->loss[i] = tc_lesser(tc_larger(now, then->loss[i]) + margin, tc_larger(low, value));
		mean->back[i] = p->now.back[i] + 0.5 * part * (then->back[i] - p->now.back[i]);
	}
}

static void keep_sample(
    const struct pass *p, const double *moles, double time, double temperature, struct tc_drying *out)
{
	struct tc_drying_sample *sample = &out->sample[out->samples++];
	double total = volume_of(p, moles), per = total > 0.0 ? 1.0 / total : 0.0;
	sample->time = time;
	sample->solvent = total;
	sample->temperature = temperature;
	for (size_t i = 0; i < out->count; i++)
		sample->share[i] = moles[i] * p->e->space[i] * per;
	out->coldest = tc_lesser(out->coldest, temperature);
}

/*
 * Tries a step of a span, or to the set point where that is asked for and at most `stretch` times as long, or comes
 * first.
 */
static void try_step(const struct pass *p, double span, bool to_end, double stretch, struct found *f)
{
	struct rates mean;
	foretell(p, span, &mean);
	f->span = to_end ? span_to_end(p, &mean, span) : span;
	if (f->span > stretch * span) {
		f->span = span;
		to_end = false;
	}
	advance(p, &mean, f->span, f->moles);
	f->then.wet_bulb = p->now.wet_bulb;
	tc_evaporator_rates(p->e, f->moles, p->binder, &f->then);
	mean_rates(p, &f->then, f->span, 1.0, &mean);
	f->time = advance(p, &mean, f->span, f->moles);
	double volume = volume_of(p, f->moles);
	f->off = fabs(volume - f->then.volume) / p->now.volume;
	if (to_end || volume < p->end) {
		f->span = span_to_end(p, &mean, f->span);
		f->time = advance(p, &mean, f->span, f->moles);
	}
}

/* Takes a step that was found, with a sample half-way and one at its end. */
static void take_step(struct pass *p, const struct found *f, struct tc_drying *out)
{
	double half[TC_SCI_COMPONENTS_MAX];
	struct rates mean;
	mean_rates(p, &f->then, f->span, 0.5, &mean);
	double at_half = p->time + tc_lesser(advance(p, &mean, 0.5 * f->span, half), f->time);
	keep_sample(p, half, at_half, 0.5 * (p->now.temperature + f->then.temperature), out);
	p->time += f->time;
	keep_sample(p, f->moles, p->time, f->then.temperature, out);
	for (size_t i = 0; i < p->e->count; i++)
		p->moles[i] = f->moles[i];
	p->before = p->now;
	p->now = f->then;
	p->now.volume = out->sample[out->samples - 1].solvent;
	p->last = f->span;
}

/*
 * Finds the next step, beginning with one that shrinks the liquid by e^-*shrink; leaves in *shrink what the step after
 * may begin with.  False when nothing leaves within the horizon.
 */
static bool find_step(const struct pass *p, struct pace pace, size_t left, double *shrink, struct found *f)
{
	double liquid = p->now.volume, to_go = log(liquid / p->end);
	*shrink = tc_larger(*shrink, to_go / (double)left);
	for (int trial = 0; trial < 4; trial++) {
		bool to_end = to_go < 1.3 * *shrink || left == 1;
		double now = to_end ? to_go : *shrink;
		if (p->now.shrinking * TC_DRYING_HORIZON < now * liquid)
			return false;
		try_step(p, now * liquid / (p->now.shrinking * p->now.moles), to_end, left > 1 ? 1.5 : INFINITY, f);
		double better = tc_lesser(1.4, tc_larger(0.25, 0.9 * sqrt(pace.off / tc_larger(f->off, 1e-12))));
		*shrink = tc_lesser(pace.most, now * better);
		if (f->off <= 2.0 * pace.off || left <= 4)
			break;
	}
	return p->time + f->time < TC_DRYING_HORIZON;
}

/* The first stage.  True when the film reaches its set point. */
static bool dry_by_air(struct pass *p, struct pace pace, struct tc_drying *out)
{
	double shrink = 0.5 * pace.most; /* nothing is known yet of how rates change */
	struct found f;
	while (p->now.volume > p->end * (1.0 + 1e-6)) {
		size_t left = (TC_DRYING_SAMPLES_MAX - out->samples) / 2;
		if (left == 0 || !find_step(p, pace, left, &shrink, &f))
			return false;
		take_step(p, &f, out);
	}
	return true;
}

/* Rates of the second stage from the state at the end of the first. */
static void find_decay(const struct pass *p, struct tc_drying *out)
{
	double thick = p->binder + p->now.volume, per_square = 1.0 / (thick * thick);
	bool free = p->binder <= 0.0 || !out->sets;
	for (size_t i = 0; i < out->count; i++) {
		double back = p->now.back[i] > 0.0 ? p->now.back[i] / p->moles[i] : 0.0;
		double rate = tc_larger(0.0, p->now.loss[i] - back) / p->now.moles,
		       leaves = p->e->leaving[i] * per_square;
		out->decay[i] = rate;
		if (!free)
			out->decay[i] = rate > 0.0 && leaves > 0.0 ? rate * (leaves / (rate + leaves)) : 0.0;
	}
}

/* Amounts at the start: the new pass and what lay below. */
static void lay_down(double thickness, double solids, const struct tc_drying_carry *below, struct pass *p)
{
	double liquid = thickness * (1.0 - solids);
	p->binder = thickness * solids + (below != NULL ? below->binder : 0.0);
	for (size_t i = 0; i < p->e->count; i++) {
		double volume = liquid * p->e->share[i] + (below != NULL ? below->solvent[i] : 0.0);
		p->moles[i] = volume / p->e->space[i];
	}
	p->time = p->last = 0.0;
	p->now.wet_bulb = p->e->air;
	tc_evaporator_rates(p->e, p->moles, p->binder, &p->now);
	p->before = p->now;
}

/* `steps`: 0, or how many the first stage is to take, of one size. */
static enum tc_drying_status dry(const struct tc_evaporator *e, double thickness, double solids,
    const struct tc_drying_carry *below, size_t steps, struct tc_drying *out)
{
	struct pass p;
	struct pace pace = {.most = TC_DRYING_RATIO, .off = TC_DRYING_OFF};
	if (!tc_within(thickness, 1e-8, 1e-2) || !tc_within(solids, 0.0, 0.99) ||
	    (below != NULL && !valid_carry(below, e->count)))
		return TC_DRYING_REFUSED;
	p.e = e;
	lay_down(thickness, solids, below, &p);
	out->count = e->count;
	out->samples = 0;
	out->binder = p.binder;
	out->initial = p.now.volume;
	out->cover = e->blend.cover;
	out->coldest = e->air;
	for (size_t i = 0; i < e->count; i++) {
		out->hansen[i] = e->hansen[i];
		out->size[i] = e->size[i];
	}
	keep_sample(&p, p.moles, 0.0, p.now.temperature, out);
	p.end = tc_larger(p.binder * e->set_share / (1.0 - e->set_share), dry_enough * out->initial);
	if (steps > 0)
		pace = (struct pace){.most = log(out->initial / p.end) / (double)steps, .off = 1.0};
	out->sets = dry_by_air(&p, pace, out);
	out->set_time = out->sets ? p.time : TC_DRYING_HORIZON;
	find_decay(&p, out);
	return out->sets ? TC_DRYING_SETS : TC_DRYING_RESTS;
}

enum tc_drying_status tc_drying_pass(const struct tc_evaporator *e, double thickness, double solids,
    const struct tc_drying_carry *below, struct tc_drying *out)
{
	return dry(e, thickness, solids, below, 0, out);
}

enum tc_drying_status tc_drying_run_steps(const struct tc_wet_film *film, const struct tc_drying_air *air,
    const struct tc_drying_law *law, const struct tc_drying_carry *below, size_t steps, struct tc_drying *out)
{
	struct tc_evaporator e;
	if (steps < TC_DRYING_STEPS_LEAST || steps > TC_DRYING_STEPS_MAX || !tc_evaporator_set(&e, film, air, law))
		return TC_DRYING_REFUSED;
	return dry(&e, film->thickness, film->solids, below, steps, out);
}

enum tc_drying_status tc_drying_run(const struct tc_wet_film *film, const struct tc_drying_air *air,
    const struct tc_drying_law *law, const struct tc_drying_carry *below, struct tc_drying *out)
{
	struct tc_evaporator e;
	if (!tc_evaporator_set(&e, film, air, law))
		return TC_DRYING_REFUSED;
	return dry(&e, film->thickness, film->solids, below, 0, out);
}
