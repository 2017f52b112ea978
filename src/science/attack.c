/*
 * Attack of a drying film on a solid.  A film's course is laid out as a row of moments (its samples, then a
 * geometric row in the second stage); hot time, least RED and depth are sums over that row.
 */
#include "science/attack.h"

#include <math.h>

#include "science/range.h"

#define LATE_MOMENTS 24
#define MOMENTS_MAX (TC_DRYING_SAMPLES_MAX + LATE_MOMENTS + 1)

struct moment {
	double time;    /* s */
	double wetness; /* liquid's share of the film */
	double liquid;  /* m */
	double red;
	double acting;   /* RED that counts for depth: in the second stage, that at its start */
	double mobility; /* likewise: m^2/s, mean over the liquid; 0 when no uptake is asked for */
};

/* Toward which solid, and with what mobility of each component (NULL when only RED counts). */
struct question {
	const struct tc_sphere *solid;
	const double *mobility;
};

static bool moment_of(const struct tc_drying *film, const struct tc_drying_sample *state, struct question asked,
	struct moment *moment)
{
	struct tc_hansen blend;
	moment->time = state->time;
	moment->liquid = state->solvent;
	moment->wetness = state->solvent > 0.0 ? state->solvent / (state->solvent + film->binder) : 0.0;
	moment->mobility = 0.0;
	if (!tc_hansen_blend(film->hansen, state->share, film->count, &blend)
		|| !tc_hansen_red(blend, asked.solid, &moment->red))
		return false;
	for (size_t i = 0; asked.mobility != NULL && i < film->count; i++)
		moment->mobility += state->share[i] * asked.mobility[i];
	moment->acting = moment->red;
	return true;
}

/* Appends the film at a time; ends the row (false) when no liquid is left to judge. */
static bool append(const struct tc_drying *film, double time, struct question asked, struct moment *row, size_t *count)
{
	struct tc_drying_sample state;
	if (!tc_drying_at(film, time, &state) || !moment_of(film, &state, asked, &row[*count]))
		return false;
	(*count)++;
	return true;
}

/* The same in the second stage, where `set` is the film at its start. */
static bool append_late(const struct tc_drying *film, double time, struct question asked, const struct moment *set,
	struct moment *row, size_t *count)
{
	if (!append(film, time, asked, row, count))
		return false;
	row[*count - 1].acting = set->acting;
	row[*count - 1].mobility = set->mobility;
	return true;
}

/*
 * When the second stage is over for every component that leaves, and its first moment worth a look, s after its
 * start.
 */
static void late_span(const struct tc_drying *film, double *first, double *last)
{
	double fastest = 0.0, slowest = INFINITY;
	for (size_t i = 0; i < film->count; i++) {
		if (film->decay[i] <= 0.0)
			continue;
		fastest = fmax(fastest, film->decay[i]);
		slowest = fmin(slowest, film->decay[i]);
	}
	*first = fastest > 0.0 ? fmin(TC_DRYING_HORIZON, 0.05 / fastest) : TC_DRYING_HORIZON;
	*last = fastest > 0.0 ? fmin(TC_DRYING_HORIZON, 12.0 / slowest) : TC_DRYING_HORIZON;
}

/* The row of moments from landing to `until`; the solid's sphere must be valid. */
static size_t lay_out(const struct tc_drying *film, struct question asked, double until, struct moment *row)
{
	size_t count = 0;
	double set = film->sample[film->samples - 1].time, first, last;
	for (size_t k = 0; k < film->samples && film->sample[k].time <= until; k++)
		if (moment_of(film, &film->sample[k], asked, &row[count]))
			count++;
	if (until <= set) {
		append(film, until, asked, row, &count);
		return count;
	}
	if (count == 0)
		return 0; /* not even the last sample holds a liquid */
	struct moment at_set = row[count - 1];
	late_span(film, &first, &last);
	double step = pow(last / first, 1.0 / (LATE_MOMENTS - 1)), after = first;
	for (int k = 0; k < LATE_MOMENTS && set + after < until; k++, after *= step)
		if (!append_late(film, set + after, asked, &at_set, row, &count))
			return count;
	append_late(film, fmin(until, set + fmax(last, first)), asked, &at_set, row, &count);
	return count;
}

/* Cuts an interval where the film stops being wet enough; false when it is so nowhere in it. */
static bool cut_dry(const struct moment *a, struct moment *b, double wetness)
{
	if (a->wetness < wetness)
		return false;
	if (b->wetness >= wetness)
		return true;
	double part = (a->wetness - wetness) / (a->wetness - b->wetness);
	b->time = a->time + part * (b->time - a->time);
	b->red = a->red + part * (b->red - a->red);
	b->liquid = a->liquid + part * (b->liquid - a->liquid);
	b->wetness = wetness;
	return true;
}

static double row_hot_time(const struct moment *row, size_t count, double bound, double wetness)
{
	double sum = 0.0;
	for (size_t k = 0; k + 1 < count; k++) {
		struct moment a = row[k], b = row[k + 1];
		if (!cut_dry(&a, &b, wetness))
			break;
		double length = b.time - a.time, low = fmin(a.red, b.red), high = fmax(a.red, b.red);
		if (high < bound)
			sum += length;
		else if (low < bound)
			sum += length * (bound - low) / (high - low);
	}
	return sum;
}

static bool row_red_least(const struct moment *row, size_t count, double wetness, double *red)
{
	double least = INFINITY;
	for (size_t k = 0; k < count && row[k].wetness >= wetness; k++) {
		least = fmin(least, row[k].red);
		struct moment b = row[k + 1 < count ? k + 1 : k];
		if (cut_dry(&row[k], &b, wetness))
			least = fmin(least, b.red);
	}
	if (!(least < INFINITY))
		return false;
	*red = least;
	return true;
}

/* How fast a front goes at a moment: d(s^2)/dt before the liquid is shared, m^2/s. */
static double drive(const struct moment *m, double bound)
{
	double near = m->acting / bound;
	if (near >= 1.0)
		return 0.0;
	double uptake = m->wetness * (1.0 - near * near);
	return m->mobility * uptake * uptake;
}

static double row_depth(const struct moment *row, size_t count, double bound, double from)
{
	double depth = from;
	for (size_t k = 0; k + 1 < count; k++) {
		double gain =
			0.5 * (drive(&row[k], bound) + drive(&row[k + 1], bound)) * (row[k + 1].time - row[k].time);
		double liquid = 0.5 * (row[k].liquid + row[k + 1].liquid);
		if (gain <= 0.0 || liquid <= 0.0)
			continue;
		/* depth^2 = old^2 + gain liquid/(liquid + depth): the right side falls with depth, so halving finds it
		 */
		double low = depth, high = sqrt(depth * depth + gain);
		for (int round = 0; round < 40 && high - low > 1e-9 * high; round++) {
			double middle = 0.5 * (low + high);
			if (middle * middle < depth * depth + gain * liquid / (liquid + middle))
				low = middle;
			else
				high = middle;
		}
		depth = high;
	}
	return depth;
}

static bool valid_solid(const struct tc_sphere *solid)
{
	return tc_hansen_valid(solid->centre) && tc_within(solid->r0, 1.0, 1e6);
}

static bool valid_uptake(const struct tc_uptake *uptake)
{
	return tc_within(uptake->bound, 0.01, 10.0) && tc_within(uptake->mobility, 1e-20, 1e-6)
	       && tc_within(uptake->size, 1e-6, 2e-3) && tc_within(uptake->fall, 1e-6, 1.0);
}

/* Of each component: its own mobility, times how readily the solid takes it rather than the others, exp(-chi). */
static void mobilities(
	const struct tc_drying *film, const struct tc_sphere *solid, const struct tc_uptake *uptake, double *mobility)
{
	static const double four_rt = 4.0 * TC_GAS_CONSTANT * 298.15; /* J/mol */
	for (size_t i = 0; i < film->count; i++) {
		double ra, chi = 0.0;
		if (tc_hansen_distance(film->hansen[i], solid->centre, &ra))
			chi = film->size[i] * ra * ra / four_rt;
		mobility[i] = uptake->mobility * exp(fmin(30.0, (uptake->size - film->size[i]) / uptake->fall - chi));
	}
}

bool tc_attack_red_least(
	const struct tc_drying *film, const struct tc_sphere *solid, double wetness, double until, double *red)
{
	struct moment row[MOMENTS_MAX];
	if (!valid_solid(solid) || !tc_within(wetness, 0.0, 1.0) || !(until >= 0.0))
		return false;
	size_t count = lay_out(film, (struct question){solid, NULL}, until, row);
	return row_red_least(row, count, wetness, red);
}

static void push(struct tc_attack_moment *row, size_t *count, const struct moment *m)
{
	row[(*count)++] = (struct tc_attack_moment){
		.time = m->time, .wetness = m->wetness, .liquid = m->liquid, .red = m->red};
}

size_t tc_attack_course(const struct tc_drying *film, const struct tc_sphere *solid, double wetness, double until,
	struct tc_attack_moment *row)
{
	struct moment all[MOMENTS_MAX];
	size_t kept = 0;
	if (!valid_solid(solid) || !tc_within(wetness, 0.0, 1.0) || !(until >= 0.0))
		return 0;
	size_t count = lay_out(film, (struct question){solid, NULL}, until, all);
	for (size_t k = 0; k < count && all[k].wetness >= wetness; k++) {
		push(row, &kept, &all[k]);
		if (k + 1 < count && all[k + 1].wetness < wetness) {
			cut_dry(&all[k], &all[k + 1], wetness);
			push(row, &kept, &all[k + 1]);
			break;
		}
	}
	return kept;
}

bool tc_attack_hot_time(const struct tc_drying *film, const struct tc_sphere *solid, double bound, double wetness,
	double until, double *seconds)
{
	struct moment row[MOMENTS_MAX];
	if (!valid_solid(solid) || !tc_within(bound, 1e-9, 1e9) || !tc_within(wetness, 0.0, 1.0) || !(until >= 0.0))
		return false;
	size_t count = lay_out(film, (struct question){solid, NULL}, until, row);
	*seconds = row_hot_time(row, count, bound, wetness);
	return true;
}

bool tc_attack_depth(const struct tc_drying *film, const struct tc_sphere *solid, const struct tc_uptake *uptake,
	double from, double until, double *depth)
{
	struct moment row[MOMENTS_MAX];
	double mobility[TC_SCI_COMPONENTS_MAX];
	if (!valid_solid(solid) || !valid_uptake(uptake) || !tc_within(from, 0.0, 1.0) || !(until >= 0.0))
		return false;
	mobilities(film, solid, uptake, mobility);
	size_t count = lay_out(film, (struct question){solid, mobility}, until, row);
	*depth = row_depth(row, count, uptake->bound, from);
	return true;
}

static bool valid_coat(const struct tc_coat *coat)
{
	if (coat->passes < 1 || coat->passes > TC_COAT_PASSES_MAX || !(coat->until >= 0.0)
		|| (coat->flash == NULL && coat->passes > 1 && !(coat->gap >= 0.0)))
		return false;
	for (size_t k = 0; coat->flash != NULL && k + 1 < coat->passes; k++)
		if (!(coat->flash[k] >= 0.0))
			return false;
	return true;
}

/* Adds one dried pass to the effect, and leaves what the next one finds. */
static void add_pass(const struct tc_drying *film, const struct question *asked, double bound, double wetness,
	double until, struct tc_coat_effect *effect)
{
	struct moment row[MOMENTS_MAX];
	double red;
	size_t count = lay_out(film, *asked, until, row);
	effect->depth = row_depth(row, count, bound, effect->depth);
	effect->hot_time += row_hot_time(row, count, bound, wetness);
	if (row_red_least(row, count, wetness, &red))
		effect->red_least = fmin(effect->red_least, red);
	effect->set_time = film->set_time;
	effect->sets = film->sets;
}

enum tc_drying_status tc_coat_effect(const struct tc_coat *coat, const struct tc_drying_air *air,
	const struct tc_drying_law *law, const struct tc_sphere *solid, const struct tc_uptake *uptake, double wetness,
	struct tc_coat_effect *effect)
{
	struct tc_coat_effect sum = {.red_least = 1e6, .sets = false};
	struct tc_drying_carry below;
	struct tc_drying film;
	double mobility[TC_SCI_COMPONENTS_MAX];
	if (!valid_coat(coat) || !valid_solid(solid) || !valid_uptake(uptake) || !tc_within(wetness, 0.0, 1.0))
		return TC_DRYING_REFUSED;
	for (size_t pass = 0; pass < coat->passes; pass++) {
		struct tc_wet_film wet = coat->film;
		bool last = pass + 1 == coat->passes;
		if (coat->thickness != NULL)
			wet.thickness = coat->thickness[pass];
		if (tc_drying_run(&wet, air, law, pass > 0 ? &below : NULL, &film) == TC_DRYING_REFUSED)
			return TC_DRYING_REFUSED;
		double until = last ? coat->until : coat->flash != NULL ? coat->flash[pass] : coat->gap;
		mobilities(&film, solid, uptake, mobility);
		add_pass(&film, &(struct question){solid, mobility}, uptake->bound, wetness, until, &sum);
		if (!last && (!tc_drying_wetness(&film, until, &sum.left) || !tc_drying_carry_at(&film, until, &below)))
			return TC_DRYING_REFUSED;
	}
	*effect = sum;
	return sum.sets ? TC_DRYING_SETS : TC_DRYING_RESTS;
}

/* Whether passes of one thickness stay at or below a depth; false in `known` when they cannot be followed. */
static bool stays_below(const struct tc_coat *coat, const struct tc_drying_air *air, const struct tc_drying_law *law,
	const struct tc_sphere *solid, const struct tc_uptake *uptake, double depth, double thickness, bool *known)
{
	struct tc_coat trial = *coat;
	struct tc_coat_effect effect;
	trial.thickness = NULL;
	trial.film.thickness = thickness;
	*known = tc_coat_effect(&trial, air, law, solid, uptake, 1.0, &effect) != TC_DRYING_REFUSED;
	return *known && effect.depth <= depth;
}

bool tc_coat_heaviest(const struct tc_coat *coat, const struct tc_drying_air *air, const struct tc_drying_law *law,
	const struct tc_sphere *solid, const struct tc_uptake *uptake, double depth, double most, double *thickness)
{
	static const double least = 1e-7, close = 1.005;
	bool known;
	double low = least, high = most;
	if (!tc_within(depth, 0.0, 1.0) || !tc_within(most, least, 1e-2))
		return false;
	if (stays_below(coat, air, law, solid, uptake, depth, most, &known)) {
		*thickness = most;
		return true;
	}
	if (!known || !stays_below(coat, air, law, solid, uptake, depth, least, &known))
		return false;
	while (high > low * close) {
		double middle = sqrt(low * high);
		if (stays_below(coat, air, law, solid, uptake, depth, middle, &known))
			low = middle;
		else
			high = middle;
	}
	*thickness = low;
	return true;
}
