/* Attack of one drying film on a solid: questions to its row of moments. */
#include "science/attack.h"

#include <math.h>

#include "science/range.h"
#include "science/row.h"

/* A film laid out toward one solid. */
struct laid {
	struct tc_lone_row lone;
	struct tc_asked asked;
	double square[TC_ATTACK_MOMENTS_MAX]; /* of RED */
};

static void lay_out(const struct tc_drying *film, const struct tc_sphere *solid, const struct tc_uptake *uptake,
    double until, struct laid *laid)
{
	struct tc_row *row = &laid->lone.row;
	row->moment = laid->lone.moment;
	row->share = laid->lone.share;
	tc_asked_set(solid, uptake, film->hansen, film->size, film->count, &laid->asked);
	tc_row_set(film, until, row);
	tc_row_reds(row, &laid->asked, laid->square);
}

bool tc_attack_red_least(
    const struct tc_drying *film, const struct tc_sphere *solid, double wetness, double until, double *red)
{
	struct laid laid;
	if (!tc_solid_valid(solid) || !tc_within(wetness, 0.0, 1.0) || !(until >= 0.0))
		return false;
	lay_out(film, solid, NULL, until, &laid);
	double least = tc_row_least(&laid.lone.row, laid.square, wetness);
	if (!(least < INFINITY))
		return false;
	*red = sqrt(least);
	return true;
}

size_t tc_attack_course(const struct tc_drying *film, const struct tc_sphere *solid, double wetness, double until,
    struct tc_attack_moment *row)
{
	struct laid laid;
	size_t kept = 0;
	if (!tc_solid_valid(solid) || !tc_within(wetness, 0.0, 1.0) || !(until >= 0.0))
		return 0;
	lay_out(film, solid, NULL, until, &laid);
	for (size_t k = 0; k < laid.lone.row.moments && laid.lone.moment[k].wetness >= wetness; k++) {
		const struct tc_coat_moment *m = &laid.lone.moment[k];
		row[kept++] = (struct tc_attack_moment){m->time, m->wetness, m->liquid, sqrt(laid.square[k])};
		if (k + 1 < laid.lone.row.moments && m[1].wetness < wetness)
			row[kept++] = tc_row_crossing(&laid.lone.row, laid.square, k, wetness);
	}
	return kept;
}

bool tc_attack_hot_time(const struct tc_drying *film, const struct tc_sphere *solid, double bound, double wetness,
    double until, double *seconds)
{
	struct laid laid;
	if (!tc_solid_valid(solid) || !tc_within(bound, 1e-9, 1e9) || !tc_within(wetness, 0.0, 1.0) || !(until >= 0.0))
		return false;
	lay_out(film, solid, NULL, until, &laid);
	*seconds = tc_row_hot_time(&laid.lone.row, laid.square, bound, wetness);
	return true;
}

bool tc_attack_depth(const struct tc_drying *film, const struct tc_sphere *solid, const struct tc_uptake *uptake,
    double from, double until, double *depth)
{
	struct laid laid;
	if (!tc_solid_valid(solid) || !tc_uptake_valid(uptake) || !tc_within(from, 0.0, 1.0) || !(until >= 0.0))
		return false;
	lay_out(film, solid, uptake, until, &laid);
	*depth = tc_row_depth(&laid.lone.row, &laid.asked, laid.square, from);
	return true;
}
