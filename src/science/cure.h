/*
 * Cure: how far a layer has come, as a degree from 0 to 1.
 *
 * The law is first order, 1 - exp(-u), where u grows as rate/tau while the layer lies in given air; tau, how it
 * answers to warmth, humidity and light, and below what it stops are constants of the layer's family and come from
 * the caller. SI units (s, K, J/mol); humidity is a share from 0 to 1.  Pure functions; false, results untouched,
 * for inputs out of range.  No result is infinite or not a number.
 */
#ifndef TC_SCIENCE_CURE_H
#define TC_SCIENCE_CURE_H

#include <stdbool.h>
#include <stddef.h>

/* By what a layer hardens.  It settles what humidity and light do: */
enum tc_cure_mechanism {
	TC_CURE_EVAPORATION, /* neither counts */
	TC_CURE_COALESCENCE, /* water must leave: rate as 1 - humidity */
	TC_CURE_OXIDATION,   /* rate as 1 - damp * humidity (damp: a constant of the family) */
	TC_CURE_TWO_PART,    /* neither counts */
	TC_CURE_LIGHT,       /* only under the lamp: rate as irradiance */
	TC_CURE_MOISTURE     /* takes water from the air: rate as humidity */
};

/*
 * The law of one family.  Where humidity counts, tau is that at `humidity`.
 * `activation` > 0 (up to 3e5 J/mol): Arrhenius.  Otherwise the rate grows by the factor `per_ten` (1 to 10) for each
 * 10 K.  Below `coldest` (K; 0 for none) nothing happens, as with a dispersion under its film-forming temperature.
 */
struct tc_cure_law {
	enum tc_cure_mechanism mechanism;
	double tau;        /* s at `reference` and `humidity`, 1e-3 to 1e10 */
	double reference;  /* K, 223.15 to 473.15 */
	double activation; /* J/mol */
	double per_ten;    /* no unit */
	double coldest;    /* K */
	double humidity;   /* share, above 0 and below 1 */
	double damp;       /* 0 to 1, oxidation only */
	double induction;  /* s at the reference rate before cure begins, 0 to 1e8 */
};

/* Air (and light) that lasts for a while.  irradiance: 1 is the lamp for which tau holds; 0 to 100. */
struct tc_cure_span {
	double duration;    /* s, 0 to 1e10 */
	double temperature; /* K, 223.15 to 473.15 */
	double humidity;    /* share, 0 to 1 */
	double irradiance;
};

/* Ratio of two rates by Arrhenius: exp(E/R (1/from - 1/to)).  E 0 to 3e5 J/mol, temperatures 223.15 to 473.15 K. */
bool tc_arrhenius(double activation, double from, double to, double *ratio);

/*
 * The activation energy, J/mol, with which a rate grows by `ratio` (above 1, to 1e6) from one temperature to a
 * higher.
 */
bool tc_arrhenius_energy(double ratio, double from, double to, double *activation);

/* Ratio of two rates where every 10 K multiply by per_ten (1 to 10): per_ten^((to - from)/10). */
bool tc_per_ten(double per_ten, double from, double to, double *ratio);

/* Speed of cure in given air, 1 at the law's own temperature, humidity and lamp; 0 where it stands still. */
bool tc_cure_rate(const struct tc_cure_law *law, const struct tc_cure_span *air, double *rate);

/*
 * Degree of cure (0 to 1) at an age in s (0 to 1e11) after spans that follow one another from age 0.  The last span
 * goes on for ever.  1 to 4096 spans.
 */
bool tc_cure_degree(
	const struct tc_cure_law *law, const struct tc_cure_span *span, size_t count, double age, double *degree);

/*
 * The age at which a degree (0 to below 1) is reached.  False also when it never is: `never`, if not NULL, tells that
 * from a bad input.
 */
bool tc_cure_reaches(const struct tc_cure_law *law, const struct tc_cure_span *span, size_t count, double degree,
	double *age, bool *never);

#endif
