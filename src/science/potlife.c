#include "science/potlife.h"

#include <math.h>

#include "science/range.h"

static const double longest = 1e8; /* s */

bool tc_pot_life(double life, double reference, double per_ten, double temperature, double *at)
{
	if (!tc_within(life, 0.0, longest) || !tc_within(reference, 223.15, 373.15) || !tc_within(per_ten, 1.0, 10.0)
		|| !tc_within(temperature, 223.15, 373.15))
		return false;
	*at = life / pow(per_ten, (temperature - reference) / 10.0);
	return true;
}

bool tc_pot_mixes(const double *moment, size_t passes, double life, double induction, size_t *mixes)
{
	if (passes < 1 || passes > 4096 || !tc_within(life, 1e-3, longest) || !tc_within(induction, 0.0, life))
		return false;
	for (size_t i = 0; i < passes; i++)
		if (!tc_within(moment[i], i > 0 ? moment[i - 1] : -1e11, 1e11))
			return false;
	size_t count = 1;
	double first = moment[0];
	for (size_t i = 1; i < passes; i++)
		if (moment[i] - first > life - induction) {
			first = moment[i];
			count++;
		}
	*mixes = count;
	return true;
}
