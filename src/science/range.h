/* Range checks of this folder's functions.  Private to src/science. */
#ifndef TC_SCIENCE_RANGE_H
#define TC_SCIENCE_RANGE_H

#include <stdbool.h>
#include <stddef.h>

/* True when low <= x <= high; false for anything that is not a number. */
static inline bool tc_within(double x, double low, double high)
{
	return x >= low && x <= high;
}

/* True when every amount lies from 0 to 1e300 / count and their sum is above 0; gives the sum. */
static inline bool tc_amounts(const double *amount, size_t count, double *sum)
{
	double total = 0.0;
	for (size_t i = 0; i < count; i++) {
		if (!tc_within(amount[i], 0.0, 1e290))
			return false;
		total += amount[i];
	}
	*sum = total;
	return total > 1e-290;
}

#endif
