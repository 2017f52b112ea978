#include "science/range.h"

bool tc_within(double x, double low, double high)
{
	return x >= low && x <= high;
}

bool tc_amounts(const double *amount, size_t count, double *sum)
{
	double total = 0.0;
	for (size_t i = 0; i < count; i++) {
		if (!tc_within(amount[i], 0.0, 1e290))
			return false;
		total += amount[i];
	}
	if (total <= 1e-290)
		return false;
	*sum = total;
	return true;
}
