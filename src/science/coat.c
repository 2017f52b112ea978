/*
 * A coat of several passes: dried once for all solids, bitten into each, and the heaviest that bites no deeper than
 * allowed.
 */
#include "science/attack.h"

#include <math.h>

#include "science/evaporator.h"
#include "science/range.h"
#include "science/row.h"

/* Passes as they follow one another. */
struct walk {
	const struct tc_coat *coat;
	const struct tc_evaporator *e;
	double thickness; /* of every pass when above 0 */
	size_t pass;      /* the next one */
	double until;     /* how long the pass at hand is left alone */
	double left;      /* liquid's share just before it landed */
	struct tc_drying_carry below;
	struct tc_drying film;
};

static bool valid_coat(const struct tc_coat *coat)
{
	if (coat->passes < 1 || coat->passes > TC_COAT_PASSES_MAX || !(coat->until >= 0.0) ||
	    (coat->flash == NULL && coat->passes > 1 && !(coat->gap >= 0.0)))
		return false;
	for (size_t k = 0; coat->flash != NULL && k + 1 < coat->passes; k++)
		if (!(coat->flash[k] >= 0.0))
			return false;
	return true;
}

static void begin(struct walk *w, const struct tc_coat *coat, const struct tc_evaporator *e, double thickness)
{
	w->coat = coat;
	w->e = e;
	w->thickness = thickness;
	w->pass = 0;
	w->until = w->left = 0.0;
}

/* Dries the next pass.  False: it is out of range. */
static bool next_pass(struct walk *w)
{
	const struct tc_coat *coat = w->coat;
	bool first = w->pass == 0, last = w->pass + 1 == coat->passes;
	double thickness = coat->thickness != NULL ? coat->thickness[w->pass] : coat->film.thickness;
	if (w->thickness > 0.0)
		thickness = w->thickness;
	if (!first &&
	    (!tc_drying_wetness(&w->film, w->until, &w->left) || !tc_drying_carry_at(&w->film, w->until, &w->below)))
		return false;
	if (tc_drying_pass(w->e, thickness, coat->film.solids, first ? NULL : &w->below, &w->film) == TC_DRYING_REFUSED)
		return false;
	w->until = last ? coat->until : coat->flash != NULL ? coat->flash[w->pass] : coat->gap;
	w->pass++;
	return true;
}

/* The row of the pass at hand, into memory for it. */
static struct tc_row row_of(const struct walk *w, struct tc_coat_moment *moment, double *share)
{
	struct tc_row row = {.moment = moment, .share = share};
	tc_row_set(&w->film, w->until, &row);
	return row;
}

/* Sums one pass. */
static void add_row(
    const struct tc_row *row, const struct tc_asked *asked, double wetness, struct tc_coat_effect *effect)
{
	double square[TC_ATTACK_MOMENTS_MAX];
	tc_row_reds(row, asked, square);
	effect->depth = tc_row_depth(row, asked, square, effect->depth);
	effect->hot_time += tc_row_hot_time(row, square, asked->bound, wetness);
	double least = tc_row_least(row, square, wetness);
	if (least < effect->red_least * effect->red_least)
		effect->red_least = sqrt(least);
}

/* The last pass, from the end of its first stage on. */
static void keep_tail(const struct tc_drying *film, struct tc_coat_course *course)
{
	const struct tc_drying_sample *end = &film->sample[film->samples - 1];
	course->binder = film->binder;
	course->set_time = film->set_time;
	course->sets = film->sets;
	course->end = end->time;
	for (size_t i = 0; i < film->count; i++) {
		course->rest[i] = end->solvent * end->share[i];
		course->decay[i] = film->decay[i];
		course->hansen[i] = film->hansen[i];
		course->size[i] = film->size[i];
	}
}

enum tc_drying_status tc_coat_dry(const struct tc_coat *coat, const struct tc_drying_air *air,
    const struct tc_drying_law *law, struct tc_coat_course *course)
{
	struct tc_evaporator e;
	struct walk w;
	size_t moments = 0, shares = 0;
	if (!valid_coat(coat) || !tc_evaporator_set(&e, &coat->film, air, law) ||
	    course->moment_room < coat->passes * TC_ATTACK_MOMENTS_MAX ||
	    course->share_room < coat->passes * TC_COAT_SHARES_MAX(e.count))
		return TC_DRYING_REFUSED;
	begin(&w, coat, &e, 0.0);
	double coldest = e.air;
	while (w.pass < coat->passes) {
		if (!next_pass(&w))
			return TC_DRYING_REFUSED;
		struct tc_row row = row_of(&w, course->moment + moments, course->share + shares);
		course->pass[w.pass - 1].moments = (uint16_t)row.moments;
		course->pass[w.pass - 1].early = (uint16_t)row.early;
		moments += row.moments;
		shares += row.early * row.count;
		coldest = fmin(coldest, w.film.coldest);
	}
	course->moments = moments;
	course->shares = shares;
	course->passes = coat->passes;
	course->count = e.count;
	course->left = w.left;
	course->coldest = coldest;
	keep_tail(&w.film, course);
	return course->sets ? TC_DRYING_SETS : TC_DRYING_RESTS;
}

/* Liquid at a time of the first stage: between two moments. */
static double liquid_early(const struct tc_coat_moment *moment, size_t early, double time)
{
	size_t k = 1;
	while (k + 1 < early && moment[k].time <= time)
		k++;
	if (k >= early)
		return early > 0 ? moment[0].liquid : 0.0;
	const struct tc_coat_moment *a = &moment[k - 1], *b = &moment[k];
	return a->liquid + (b->liquid - a->liquid) * fmin(1.0, (time - a->time) / (b->time - a->time));
}

bool tc_coat_wetness(const struct tc_coat_course *course, double time, double *share)
{
	size_t last = course->passes - 1, moments = course->pass[last].moments;
	double t = fmin(time, TC_DRYING_HORIZON), liquid = 0.0;
	if (!(time >= 0.0))
		return false;
	if (t < course->end)
		liquid = liquid_early(course->moment + course->moments - moments, course->pass[last].early, t);
	for (size_t i = 0; i < course->count && t >= course->end; i++)
		liquid += course->rest[i] * exp(-course->decay[i] * (t - course->end));
	*share = liquid > 0.0 ? liquid / (liquid + course->binder) : 0.0;
	return true;
}

bool tc_coat_bite(const struct tc_coat_course *course, const struct tc_sphere *solid, const struct tc_uptake *uptake,
    double wetness, struct tc_coat_effect *effect)
{
	struct tc_coat_effect sum = {.red_least = 1e6,
	    .left = course->left,
	    .set_time = course->set_time,
	    .coldest = course->coldest,
	    .sets = course->sets};
	struct tc_asked asked;
	struct tc_row row = {.count = course->count, .moment = course->moment, .share = course->share};
	if (!tc_solid_valid(solid) || !tc_uptake_valid(uptake) || !tc_within(wetness, 0.0, 1.0))
		return false;
	tc_asked_set(solid, uptake, course->hansen, course->size, course->count, &asked);
	for (size_t pass = 0; pass < course->passes; pass++) {
		row.moments = course->pass[pass].moments;
		row.early = course->pass[pass].early;
		add_row(&row, &asked, wetness, &sum);
		row.moment += row.moments;
		row.share += row.early * row.count;
	}
	*effect = sum;
	return true;
}

enum tc_drying_status tc_coat_effect(const struct tc_coat *coat, const struct tc_drying_air *air,
    const struct tc_drying_law *law, const struct tc_sphere *solid, const struct tc_uptake *uptake, double wetness,
    struct tc_coat_effect *effect)
{
	struct tc_coat_effect sum = {.red_least = 1e6};
	struct tc_evaporator e;
	struct tc_lone_row lone;
	struct tc_asked asked;
	struct walk w;
	if (!valid_coat(coat) || !tc_solid_valid(solid) || !tc_uptake_valid(uptake) || !tc_within(wetness, 0.0, 1.0) ||
	    !tc_evaporator_set(&e, &coat->film, air, law))
		return TC_DRYING_REFUSED;
	tc_asked_set(solid, uptake, e.hansen, e.size, e.count, &asked);
	begin(&w, coat, &e, 0.0);
	sum.coldest = e.air;
	while (w.pass < coat->passes) {
		if (!next_pass(&w))
			return TC_DRYING_REFUSED;
		lone.row = row_of(&w, lone.moment, lone.share);
		add_row(&lone.row, &asked, wetness, &sum);
		sum.coldest = fmin(sum.coldest, w.film.coldest);
	}
	sum.left = w.left;
	sum.set_time = w.film.set_time;
	sum.sets = w.film.sets;
	*effect = sum;
	return sum.sets ? TC_DRYING_SETS : TC_DRYING_RESTS;
}

/* A search for the heaviest pass. */
struct search {
	const struct tc_coat *coat;
	const struct tc_evaporator *e;
	const struct tc_asked *asked;
};

/* Depth of attack with passes of one thickness; NAN when they cannot be followed. */
static double depth_of(const struct search *s, double thickness)
{
	double square[TC_ATTACK_MOMENTS_MAX], depth = 0.0;
	struct tc_lone_row lone;
	struct walk w;
	begin(&w, s->coat, s->e, thickness);
	while (w.pass < s->coat->passes) {
		if (!next_pass(&w))
			return NAN;
		lone.row = row_of(&w, lone.moment, lone.share);
		tc_row_reds(&lone.row, s->asked, square);
		depth = tc_row_depth(&lone.row, s->asked, square, depth);
	}
	return depth;
}

/* A thickness and the depth that it leads to; -1 where that is not known. */
struct trial {
	double thickness, depth;
};

/* The thickness next to be tried: where a power law through what is known meets just below `depth`. */
static double next_trial(struct trial low, struct trial high, double depth, int round)
{
	double power = 0.8, aim = 0.999 * depth;
	if (low.depth > 0.0)
		power = log(high.depth / low.depth) / log(high.thickness / low.thickness);
	double next = high.thickness * pow(aim / high.depth, 1.0 / power);
	bool inside = next > low.thickness && next < high.thickness;
	return inside && round % 4 != 3 ? next : sqrt(low.thickness * high.thickness);
}

/* Between a thickness below which nothing is asked and one that bites too deep; 0 when even the former does. */
static double search_between(const struct search *s, struct trial low, struct trial high, double depth)
{
	static const double close = 1.005;
	for (int round = 0; round < 60 && high.thickness > low.thickness * close; round++) {
		struct trial at = {.thickness = next_trial(low, high, depth, round)};
		at.depth = depth_of(s, at.thickness);
		if (at.depth > depth)
			high = at;
		else
			low = at;
		/* depth goes as the thickness to a power of a half at least: so near it, the thickness is near */
		if (at.depth <= depth && at.depth > 0.998 * depth)
			break;
	}
	bool known = low.depth >= 0.0 || depth_of(s, low.thickness) <= depth;
	return known ? low.thickness : 0.0;
}

bool tc_coat_heaviest(const struct tc_coat *coat, const struct tc_drying_air *air, const struct tc_drying_law *law,
    const struct tc_sphere *solid, const struct tc_uptake *uptake, double depth, double most, double *thickness)
{
	static const double least = 1e-7;
	struct tc_evaporator e;
	struct tc_asked asked;
	if (!tc_within(depth, 0.0, 1.0) || !tc_within(most, least, 1e-2) || !valid_coat(coat) ||
	    !tc_solid_valid(solid) || !tc_uptake_valid(uptake) || !tc_evaporator_set(&e, &coat->film, air, law))
		return false;
	tc_asked_set(solid, uptake, e.hansen, e.size, e.count, &asked);
	struct search s = {coat, &e, &asked};
	struct trial low = {least, -1.0}, high = {most, depth_of(&s, most)};
	double found = most;
	if (isnan(high.depth))
		return false;
	if (high.depth > depth)
		found = search_between(&s, low, high, depth);
	if (found <= 0.0)
		return false;
	*thickness = found;
	return true;
}
