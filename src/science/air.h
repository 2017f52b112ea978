/*
 * Air: what a painter's room holds while solvent leaves.
 *
 * SI units; concentrations in kg/m^3 or as volume shares (1 ppm = 1e-6).  Pure functions; false, results untouched,
 * out of range; nothing infinite.  No figure from here clears a workplace: read docs/science.md on what is left
 * out.
 */
#ifndef TC_SCIENCE_AIR_H
#define TC_SCIENCE_AIR_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Lower (or upper) flammable limit of mixed vapours, volume share: 1 / sum(y_i / limit_i), y normalised from
 * amounts of moles.  Limits above 0, to 1.  1 to TC_SCI_COMPONENTS_MAX (16) vapours. Source: Le Chatelier; Mashuga
 * & Crowl, Process Safety Progress 19 (2000) 112.
 */
bool tc_air_mixed_limit(const double *moles, const double *limit, size_t count, double *mixed);

/* Volume share of saturated vapour, pressure / 101325 Pa, at most 1.  pressure >= 0. */
bool tc_air_saturation(double pressure, double *share);

/* Volume share to kg/m^3 at a temperature (K, 223.15 to 373.15) and one atmosphere: share * M p / (R T), and back. */
bool tc_air_mass(double share, double molar_mass, double temperature, double *concentration);
bool tc_air_share(double concentration, double molar_mass, double temperature, double *share);

/* A well-mixed room. */
struct tc_air_room {
	double volume; /* m^3, 0.01 to 1e7 */
	double flow;   /* fresh air, m^3/s, 0 to 1e4 */
	double mixing; /* 1 for perfect mixing, down to 0.05 (ACGIH's 1/K): flow counts by this factor */
};

/*
 * Concentration after `time` s of a steady source (kg/s) from a starting one (kg/m^3):
 * V dC/dt = G - m Q C.  Closed form; without flow it rises in proportion to time.  source 0 to 1e3 kg/s, start 0 to
 * 1e20 kg/m^3, time 0 to 1e10 s.
 */
bool tc_air_after(const struct tc_air_room *room, double source, double start, double time, double *concentration);

/*
 * The same, and the time integral of the concentration over that time, kg s/m^3: by the balance itself, what came in
 * less what is there has left.
 */
bool tc_air_through(const struct tc_air_room *room, double source, double start, double time, double *concentration,
	double *integral);

/* Where it settles, G / (m Q).  False also without flow. */
bool tc_air_settles(const struct tc_air_room *room, double source, double *concentration);

/* A source that lasts for a while, in a row of them. */
struct tc_air_span {
	double duration; /* s */
	double source;   /* kg/s, >= 0 */
};

/* Peak and time-weighted mean over a row of 1 to 4096 spans, from clean air.  Exact. */
bool tc_air_session(
	const struct tc_air_room *room, const struct tc_air_span *span, size_t count, double *peak, double *mean);

/* Fresh air, m^3/s, that keeps a steady source (kg/s) at or below a concentration (kg/m^3, > 0) with this mixing. */
bool tc_air_needed(double source, double concentration, double mixing, double *flow);

/*
 * Additive index of several vapours: sum of concentration / limit, any one unit, limits > 0.  Above 1: over the
 * limit.
 */
bool tc_air_index(const double *concentration, const double *limit, size_t count, double *index);

#endif
