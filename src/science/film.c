#include "science/film.h"

#include <math.h>

#include "science/range.h"

static const double thickest = 0.1; /* m */

bool tc_film_thinned(double solids, double thinner, double *thinned)
{
	if (!tc_within(solids, 0.0, 1.0) || !tc_within(thinner, 0.0, 100.0))
		return false;
	*thinned = solids / (1.0 + thinner);
	return true;
}

bool tc_film_dry(double wet, double solids, double *dry)
{
	if (!tc_within(wet, 0.0, thickest) || !tc_within(solids, 0.0, 1.0))
		return false;
	*dry = wet * solids;
	return true;
}

bool tc_film_wet(double dry, double solids, double *wet)
{
	if (!tc_within(dry, 0.0, thickest) || !tc_within(solids, 0.001, 1.0))
		return false;
	*wet = dry / solids;
	return true;
}

bool tc_film_spread(double solids, double dry, double *rate)
{
	if (!tc_within(solids, 0.0, 1.0) || !tc_within(dry, 1e-8, thickest))
		return false;
	*rate = solids / dry;
	return true;
}

bool tc_film_practical_spread(double rate, double loss, double *practical)
{
	if (!tc_within(rate, 0.0, 1e9) || !tc_within(loss, 0.0, 1.0))
		return false;
	*practical = rate * (1.0 - loss);
	return true;
}

bool tc_film_sanded(double film, double taken, double *left)
{
	if (!tc_within(film, 0.0, thickest) || !tc_within(taken, 0.0, thickest))
		return false;
	*left = fmax(0.0, film - taken);
	return true;
}

bool tc_film_total(const double *film, size_t count, double *total)
{
	double sum = 0.0;
	if (count > 4096)
		return false;
	for (size_t i = 0; i < count; i++) {
		if (!tc_within(film[i], 0.0, thickest))
			return false;
		sum += film[i];
	}
	*total = sum;
	return true;
}

bool tc_film_shrink(double film, double wetness, double *shrink)
{
	if (!tc_within(film, 0.0, thickest) || !tc_within(wetness, 0.0, 1.0))
		return false;
	*shrink = film * wetness;
	return true;
}
