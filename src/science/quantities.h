/*
 * Quantities: what to mix and buy.
 *
 * Volumes in m^3, areas in m^2, thickness in m.  Pure functions; false, results untouched, out of range.
 */
#ifndef TC_SCIENCE_QUANTITIES_H
#define TC_SCIENCE_QUANTITIES_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Ready-to-spray volume: area * wet * passes / efficiency + cup loss.  area 0 to 1e4 m^2, wet 0 to 0.1 m, passes 1 to
 * 1000, efficiency (share of what leaves the gun that lands) 0.01 to 1, loss 0 to 1 m^3.
 */
bool tc_quantity_sprayed(double area, double wet, size_t passes, double efficiency, double loss, double *volume);

/*
 * Splits a volume by a mix ratio of 1 to 16 parts, each >= 0, not all zero ("2 : 1 : 10 %" is 2, 1, 0.3).  Volumes
 * are taken to add up.
 */
bool tc_quantity_split(double volume, const double *part, size_t count, double *share);

/* Paint in a thinned volume with `thinner` volumes for each volume of paint (0 to 100): volume / (1 + thinner). */
bool tc_quantity_paint(double volume, double thinner, double *paint);

/* Whole packs of a size (> 0) that hold a volume; at most 1e6. */
bool tc_quantity_packs(double volume, double pack, size_t *packs);

#endif
