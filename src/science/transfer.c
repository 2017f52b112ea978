#include "science/transfer.h"

#include <math.h>

#include "science/range.h"
#include "science/vapour.h"

static const double turbulent_from = 5e5; /* Reynolds number */

bool tc_transfer_plate(double speed, double length, double diffusivity, double *k)
{
	if (!tc_within(speed, 0.0, 50.0) || !tc_within(length, 1e-4, 10.0) || !tc_within(diffusivity, 1e-7, 1e-3))
		return false;
	double reynolds = speed * length / TC_AIR_VISCOSITY;
	double schmidt = TC_AIR_VISCOSITY / diffusivity;
	double sherwood = 0.664 * sqrt(reynolds) * cbrt(schmidt);
	if (reynolds > turbulent_from)
		sherwood = fmax(sherwood, 0.037 * pow(reynolds, 0.8) * cbrt(schmidt));
	*k = sherwood * diffusivity / length;
	return true;
}

bool tc_transfer(double speed, double length, double diffusivity, double still, double *k)
{
	double moving;
	if (!tc_within(still, 1e-5, 0.1) || !tc_transfer_plate(speed, length, diffusivity, &moving))
		return false;
	double ratio = diffusivity / TC_TRANSFER_REFERENCE;
	*k = fmax(moving, still * cbrt(ratio * ratio));
	return true;
}
