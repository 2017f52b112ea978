/*
 * Activity: how far a solvent in a blend departs from Raoult's law, and what the binder takes off.
 *
 * Activity coefficients come from UNIFAC, original parameters (groups R and Q, interactions a_mn) as published by
 * the Dortmund Data Bank; the table is unifac.def.  Formulas: Fredenslund, Jones & Prausnitz, AIChE J. 21 (1975)
 * 1086, in the r, q form (from memory).  Meant for 250 to 400 K and ordinary pressure.
 *
 * A blend is prepared once for a temperature (interactions, pure liquids); then its coefficients for any composition
 * are cheap.  Where groups or parameters are missing, the coefficient is 1 and the blend says so.
 */
#ifndef TC_SCIENCE_ACTIVITY_H
#define TC_SCIENCE_ACTIVITY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "science/solvency.h"

#define TC_GROUPS_MAX 8          /* kinds of group in one molecule */
#define TC_ACTIVITY_MAINS_MAX 20 /* main groups in one blend: more than the table has */

/* A molecule as UNIFAC sees it; none when count is 0.  Subgroup numbers are the published ones (1 = CH3 ...). */
struct tc_groups {
	size_t count;
	struct {
		uint16_t subgroup;
		uint16_t times;
	} of[TC_GROUPS_MAX];
};

/* How much of a blend the published parameters cover. */
enum tc_activity_cover {
	TC_ACTIVITY_FULL,   /* every component has groups, every pair a parameter */
	TC_ACTIVITY_PARTLY, /* components without groups: theirs is 1, the others are reckoned among themselves */
	TC_ACTIVITY_IDEAL   /* no groups at all, or a pair without a published parameter: every coefficient is 1 */
};

/*
 * A prepared blend.  Plain data, read only by the functions below; may be copied.  Subgroups of one main group share
 * their interactions, so what is reckoned at each composition runs over the main groups.
 */
struct tc_activity {
	enum tc_activity_cover cover;
	size_t components, mains;
	bool known[TC_SCI_COMPONENTS_MAX];
	double r[TC_SCI_COMPONENTS_MAX], q[TC_SCI_COMPONENTS_MAX];
	double own[TC_SCI_COMPONENTS_MAX];   /* all terms of ln(gamma) that depend on the pure liquid alone */
	size_t kinds[TC_SCI_COMPONENTS_MAX]; /* main groups in a molecule */
	struct {
		size_t main;
		double surface; /* of its groups of that kind: times * Q */
	} part[TC_SCI_COMPONENTS_MAX][TC_GROUPS_MAX];
	double psi[TC_ACTIVITY_MAINS_MAX][TC_ACTIVITY_MAINS_MAX]; /* [m][n], */
	double turned[TC_ACTIVITY_MAINS_MAX]
	             [TC_ACTIVITY_MAINS_MAX]; /* [n][m]; an odd count has a column of 0 beside it */
};

/* True when the published table has this subgroup. */
bool tc_unifac_has(unsigned subgroup);

/* The published R (volume) and Q (surface) of a subgroup, no unit.  False when the table lacks it. */
bool tc_unifac_size(unsigned subgroup, double *r, double *q);

/*
 * Prepares a blend of 1 to TC_SCI_COMPONENTS_MAX molecules at a temperature of 200 to 500 K.  A molecule with an
 * unknown subgroup counts as having no groups.  False, the blend untouched, outside these ranges.
 */
bool tc_activity_prepare(const struct tc_groups *molecule, size_t count, double temperature, struct tc_activity *blend);

/*
 * Activity coefficients for mole amounts x (any one unit, each finite and >= 0, not all zero).  Writes one
 * coefficient for each component, also for one whose amount is 0 (its value at infinite dilution).  Coefficients are
 * kept between 1e-6 and 1e6.  False, gamma untouched, when an amount is out of range.
 */
bool tc_activity_gamma(const struct tc_activity *blend, const double *x, double *gamma);

/*
 * The same as logarithms, for callers that know their amounts to be in range: nothing is checked.  0 where the
 * coefficient is 1.
 */
void tc_activity_logs(const struct tc_activity *blend, const double *x, double *ln_gamma);

/*
 * What a dissolved binder of very long chains takes off a solvent's activity, by Flory-Huggins: the factor
 *     (1 - phi) exp(phi + chi phi^2),
 * phi the binder's volume share (0 to 1), chi 0 to 10.  Kept at or below 1, so a chi above 1 or so stands for a
 * binder that the solvent does not dissolve (a dispersion in water).  Source: Flory-Huggins, as in Flory,
 * Principles of Polymer Chemistry, 1953 (from memory).
 */
bool tc_binder_activity(double phi, double chi, double *factor);

#endif
