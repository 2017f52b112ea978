#include "science/solvency.h"

#include <math.h>

#include "science/range.h"

static const double parameter_most = 1e6; /* Pa^0.5; water's total is 4.8e4 */

bool tc_hansen_valid(struct tc_hansen at)
{
	return tc_within(at.d, 0.0, parameter_most) && tc_within(at.p, 0.0, parameter_most)
	       && tc_within(at.h, 0.0, parameter_most);
}

static double distance(struct tc_hansen a, struct tc_hansen b)
{
	double d = a.d - b.d, p = a.p - b.p, h = a.h - b.h;
	return sqrt(4.0 * d * d + p * p + h * h);
}

bool tc_hansen_distance(struct tc_hansen a, struct tc_hansen b, double *ra)
{
	if (!tc_hansen_valid(a) || !tc_hansen_valid(b))
		return false;
	*ra = distance(a, b);
	return true;
}

bool tc_hansen_total(struct tc_hansen at, double *total)
{
	if (!tc_hansen_valid(at))
		return false;
	*total = sqrt(at.d * at.d + at.p * at.p + at.h * at.h);
	return true;
}

bool tc_hansen_red(struct tc_hansen liquid, const struct tc_sphere *solid, double *red)
{
	if (!tc_hansen_valid(liquid) || !tc_hansen_valid(solid->centre) || !tc_within(solid->r0, 1.0, 1e6))
		return false;
	*red = distance(liquid, solid->centre) / solid->r0;
	return true;
}

bool tc_hansen_blend(const struct tc_hansen *part, const double *volume, size_t count, struct tc_hansen *blend)
{
	double sum;
	if (count < 1 || count > TC_SCI_COMPONENTS_MAX || !tc_amounts(volume, count, &sum))
		return false;
	struct tc_hansen mean = {0.0, 0.0, 0.0};
	for (size_t i = 0; i < count; i++) {
		if (!tc_hansen_valid(part[i]))
			return false;
		double share = volume[i] / sum;
		mean.d += share * part[i].d;
		mean.p += share * part[i].p;
		mean.h += share * part[i].h;
	}
	*blend = mean;
	return true;
}
