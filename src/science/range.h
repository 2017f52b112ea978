/* Range checks of this folder's functions.  Private to src/science. */
#ifndef TC_SCIENCE_RANGE_H
#define TC_SCIENCE_RANGE_H

#include <stdbool.h>
#include <stddef.h>

/* True when low <= x <= high; false for anything that is not a number. */
bool tc_within(double x, double low, double high);

/* True when every amount lies from 0 to 1e290 and their sum is above 1e-290; then gives the sum. */
bool tc_amounts(const double *amount, size_t count, double *sum);

/* For inner loops, of numbers only: fmin and fmax are calls. */
static inline double tc_lesser(double a, double b)
{
	return a < b ? a : b;
}

static inline double tc_larger(double a, double b)
{
	return a > b ? a : b;
}

#endif
