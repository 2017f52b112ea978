/*
 * Private to src/science: a film's course as a row of moments, the same for every solid: the samples of its first
 * stage, then a geometric row in the second.  Hot time, least RED and depth are sums over it.
 */
#ifndef TC_SCIENCE_ROW_H
#define TC_SCIENCE_ROW_H

#include "science/attack.h"

/* The memory belongs to the caller: TC_ATTACK_MOMENTS_MAX moments, TC_COAT_SHARES_MAX(components) shares. */
struct tc_row {
	size_t moments;
	size_t early; /* those of the first stage, which have shares by volume */
	size_t count; /* components */
	struct tc_coat_moment *moment;
	double *share;
};

/* A solid, and with what mobility each component enters it. */
struct tc_asked {
	struct tc_hansen centre;
	double per_radius; /* 1/R0 */
	double bound;      /* RED */
	double mobility[TC_SCI_COMPONENTS_MAX];
};

/* A row with memory of its own, for one film. */
struct tc_lone_row {
	struct tc_row row;
	struct tc_coat_moment moment[TC_ATTACK_MOMENTS_MAX];
	double share[TC_COAT_SHARES_MAX(TC_SCI_COMPONENTS_MAX)];
};

bool tc_solid_valid(const struct tc_sphere *solid);
bool tc_uptake_valid(const struct tc_uptake *uptake);

/* A question about a solid; uptake NULL: about RED alone. */
void tc_asked_set(const struct tc_sphere *solid, const struct tc_uptake *uptake, const struct tc_hansen *hansen,
    const double *size, size_t count, struct tc_asked *asked);

/* Lays out a film from landing to `until`. */
void tc_row_set(const struct tc_drying *film, double until, struct tc_row *row);

/* Squares of RED at each moment. */
void tc_row_reds(const struct tc_row *row, const struct tc_asked *asked, double *square);

/* The depth to which the film softens a solid already soft to `from`. */
double tc_row_depth(const struct tc_row *row, const struct tc_asked *asked, const double *square, double from);

double tc_row_hot_time(const struct tc_row *row, const double *square, double bound, double wetness);

/* The least square of RED while the film is wet; infinite when it never is. */
double tc_row_least(const struct tc_row *row, const double *square, double wetness);

/* RED and liquid of moment `from`, or where the film stops being wet after it, if that is before the next moment. */
struct tc_attack_moment tc_row_crossing(const struct tc_row *row, const double *square, size_t from, double wetness);

#endif
