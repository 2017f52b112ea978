/*
 * Tooth: scratches that a coat holds on to, and those that show through it.
 *
 * Grain sizes are median diameters in m (the tables that turn a grade into a size belong to the rulebook), accepted
 * from 1e-8 to 5e-3 m.  Pure functions; false, the result untouched, out of range.
 */
#ifndef TC_SCIENCE_TOOTH_H
#define TC_SCIENCE_TOOTH_H

#include <stdbool.h>
#include <stddef.h>

/* A grade and its median grain, for tc_tooth_grain and tc_tooth_grade; rows by rising grade, hence falling grain. */
struct tc_grade {
	double grade; /* the number printed on the paper */
	double grain; /* m */
};

/*
 * Grain of any grade from a table of 2 to 256 rows, between rows on logarithmic scales.  The grade must lie within
 * the table; grades must rise and grains fall from row to row, all > 0.
 */
bool tc_tooth_grain(const struct tc_grade *table, size_t rows, double grade, double *grain);

/* The nearest grade of the table to a grain, by ratio; beyond its ends the end. */
bool tc_tooth_grade(const struct tc_grade *table, size_t rows, double grain, double *grade);

/* Depth of scratch: a share of the grain (0 to 1, by practice) that the grain sinks in. */
bool tc_tooth_depth(double grain, double share, double *depth);

/*
 * What of a scratch shows through a dry film over it, m: depth * swell - film * hiding, never below 0. swell (1 to
 * 10): how much a solvent on top opens the scratch; hiding (0 to 10): how far a film fills what lies below. depth
 * and film 0 to 0.1 m.
 */
bool tc_tooth_shows(double depth, double swell, double film, double hiding, double *shows);

/* Jump between two papers used in turn: coarse grain / fine grain (above 1 when the second is finer). */
bool tc_tooth_jump(double first, double second, double *ratio);

/* How far a scratch falls short of what a family needs: needed - depth, m; never below 0. */
bool tc_tooth_lacks(double depth, double needed, double *lacks);

#endif
