/*
 * Solvency: does this liquid bite this solid?
 *
 * Hansen's three parameters place a liquid and a solid in one space; a solid's sphere holds the liquids that dissolve
 * it.  All parameters and radii are in Pa^0.5 (1 MPa^0.5 = 1000 Pa^0.5).
 *
 * Source: C. M. Hansen, Hansen Solubility Parameters: A User's Handbook, 2nd ed., CRC 2007, chapter 1 (from memory).
 *
 * Every function is pure.  Where one returns bool, false means that an input lies outside the range that its comment
 * names (or is not a number); the result is then left as it was.  No result is ever infinite or not a number.
 */
#ifndef TC_SCIENCE_SOLVENCY_H
#define TC_SCIENCE_SOLVENCY_H

#include <stdbool.h>
#include <stddef.h>

/* The most components that a blend may have, here and in every other module of this folder. */
#define TC_SCI_COMPONENTS_MAX 16

/* Dispersion, polar and hydrogen-bond parameter, Pa^0.5, each 0 to 1e6. */
struct tc_hansen {
	double d, p, h;
};

/* A solid's sphere: centre and radius r0, Pa^0.5, r0 > 0. */
struct tc_sphere {
	struct tc_hansen centre;
	double r0;
};

/* True when each parameter is a finite number from 0 to 1e6 Pa^0.5. */
bool tc_hansen_valid(struct tc_hansen at);

/* Distance Ra = sqrt(4 (dD)^2 + (dP)^2 + (dH)^2), Pa^0.5.  Both points must satisfy tc_hansen_valid. */
bool tc_hansen_distance(struct tc_hansen a, struct tc_hansen b, double *ra);

/* Hildebrand's total parameter sqrt(d^2 + p^2 + h^2), Pa^0.5.  The point must satisfy tc_hansen_valid. */
bool tc_hansen_total(struct tc_hansen at, double *total);

/*
 * Relative energy difference RED = Ra / r0, no unit: below 1 the liquid lies inside the solid's sphere.
 * Centre and liquid must satisfy tc_hansen_valid; r0 from 1 to 1e6 Pa^0.5.
 */
bool tc_hansen_red(struct tc_hansen liquid, const struct tc_sphere *solid, double *red);

/*
 * Parameters of a blend: the means of its parts' parameters by volume.  `volume` are amounts in any one unit, each
 * finite and >= 0, not all zero; they need not sum to 1.  1 to TC_SCI_COMPONENTS_MAX parts.
 */
bool tc_hansen_blend(const struct tc_hansen *part, const double *volume, size_t count, struct tc_hansen *blend);

#endif
