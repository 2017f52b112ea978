#include "science/quantities.h"

#include <math.h>

#include "science/range.h"

bool tc_quantity_sprayed(double area, double wet, size_t passes, double efficiency, double loss, double *volume)
{
	if (!tc_within(area, 0.0, 1e4) || !tc_within(wet, 0.0, 0.1) || passes < 1 || passes > 1000
		|| !tc_within(efficiency, 0.01, 1.0) || !tc_within(loss, 0.0, 1.0))
		return false;
	*volume = area * wet * (double)passes / efficiency + loss;
	return true;
}

bool tc_quantity_split(double volume, const double *part, size_t count, double *share)
{
	double sum;
	if (!tc_within(volume, 0.0, 1e6) || count < 1 || count > 16 || !tc_amounts(part, count, &sum))
		return false;
	for (size_t i = 0; i < count; i++)
		share[i] = volume * (part[i] / sum);
	return true;
}

bool tc_quantity_paint(double volume, double thinner, double *paint)
{
	if (!tc_within(volume, 0.0, 1e6) || !tc_within(thinner, 0.0, 100.0))
		return false;
	*paint = volume / (1.0 + thinner);
	return true;
}

bool tc_quantity_packs(double volume, double pack, size_t *packs)
{
	if (!tc_within(volume, 0.0, 1e6) || !tc_within(pack, 1e-12, 1e6) || volume / pack > 1e6)
		return false;
	*packs = (size_t)ceil(volume / pack * (1.0 - 1e-9));
	return true;
}
