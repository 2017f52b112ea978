#include "science/cure.h"

#include <math.h>

#include "science/range.h"
#include "science/vapour.h"

#define SPANS_MAX 4096

static bool valid_temperature(double t)
{
	return tc_within(t, 223.15, 473.15);
}

bool tc_arrhenius(double activation, double from, double to, double *ratio)
{
	if (!tc_within(activation, 0.0, 3e5) || !valid_temperature(from) || !valid_temperature(to))
		return false;
	*ratio = exp(activation / TC_GAS_CONSTANT * (1.0 / from - 1.0 / to));
	return true;
}

bool tc_arrhenius_energy(double ratio, double from, double to, double *activation)
{
	if (!tc_within(ratio, 1.0, 1e6) || ratio <= 1.0 || !valid_temperature(from) || !valid_temperature(to)
		|| to - from < 1e-3)
		return false;
	*activation = TC_GAS_CONSTANT * log(ratio) / (1.0 / from - 1.0 / to);
	return true;
}

bool tc_per_ten(double per_ten, double from, double to, double *ratio)
{
	if (!tc_within(per_ten, 1.0, 10.0) || !valid_temperature(from) || !valid_temperature(to))
		return false;
	*ratio = pow(per_ten, (to - from) / 10.0);
	return true;
}

static bool valid_law(const struct tc_cure_law *law)
{
	bool warms = law->activation > 0.0 ? law->activation <= 3e5 : tc_within(law->per_ten, 1.0, 10.0);
	return warms && law->mechanism >= TC_CURE_EVAPORATION && law->mechanism <= TC_CURE_MOISTURE
	       && tc_within(law->activation, 0.0, 3e5) && tc_within(law->tau, 1e-3, 1e10)
	       && valid_temperature(law->reference) && tc_within(law->coldest, 0.0, 473.15)
	       && tc_within(law->humidity, 0.001, 0.999) && tc_within(law->damp, 0.0, 1.0)
	       && tc_within(law->induction, 0.0, 1e8);
}

static bool valid_span(const struct tc_cure_span *air)
{
	return tc_within(air->duration, 0.0, 1e10) && valid_temperature(air->temperature)
	       && tc_within(air->humidity, 0.0, 1.0) && tc_within(air->irradiance, 0.0, 100.0);
}

/* What humidity and light make of the rate. */
static double by_mechanism(const struct tc_cure_law *law, const struct tc_cure_span *air)
{
	switch (law->mechanism) {
	case TC_CURE_COALESCENCE:
		return (1.0 - air->humidity) / (1.0 - law->humidity);
	case TC_CURE_OXIDATION:
		return (1.0 - law->damp * air->humidity) / (1.0 - law->damp * law->humidity);
	case TC_CURE_LIGHT:
		return air->irradiance;
	case TC_CURE_MOISTURE:
		return air->humidity / law->humidity;
	case TC_CURE_EVAPORATION:
	case TC_CURE_TWO_PART:
		break;
	}
	return 1.0;
}

bool tc_cure_rate(const struct tc_cure_law *law, const struct tc_cure_span *air, double *rate)
{
	double warmth;
	if (!valid_law(law) || !valid_span(air))
		return false;
	if (air->temperature < law->coldest) {
		*rate = 0.0;
		return true;
	}
	bool known = law->activation > 0.0 ? tc_arrhenius(law->activation, law->reference, air->temperature, &warmth)
	                                   : tc_per_ten(law->per_ten, law->reference, air->temperature, &warmth);
	if (!known)
		return false;
	*rate = warmth * by_mechanism(law, air);
	return true;
}

static bool valid_history(const struct tc_cure_law *law, const struct tc_cure_span *span, size_t count)
{
	if (count < 1 || count > SPANS_MAX || !valid_law(law))
		return false;
	for (size_t i = 0; i < count; i++)
		if (!valid_span(&span[i]))
			return false;
	return true;
}

bool tc_cure_degree(
	const struct tc_cure_law *law, const struct tc_cure_span *span, size_t count, double age, double *degree)
{
	if (!valid_history(law, span, count) || !tc_within(age, 0.0, 1e11))
		return false;
	double left = age, done = 0.0, rate;
	for (size_t i = 0; i < count && left > 0.0; i++) {
		double here = i + 1 == count ? left : fmin(left, span[i].duration);
		if (!tc_cure_rate(law, &span[i], &rate))
			return false;
		done += rate * here;
		left -= here;
	}
	*degree = -expm1(-fmax(0.0, done - law->induction) / law->tau);
	return true;
}

bool tc_cure_reaches(const struct tc_cure_law *law, const struct tc_cure_span *span, size_t count, double degree,
	double *age, bool *never)
{
	if (never != NULL)
		*never = false;
	if (!valid_history(law, span, count) || !(degree >= 0.0 && degree < 1.0))
		return false;
	double needed = degree > 0.0 ? law->induction - law->tau * log1p(-degree) : 0.0, at = 0.0, rate;
	for (size_t i = 0; i < count; i++) {
		if (!tc_cure_rate(law, &span[i], &rate))
			return false;
		bool last = i + 1 == count;
		if (needed <= 0.0 || (rate > 0.0 && (last || needed <= rate * span[i].duration))) {
			double found = needed <= 0.0 ? at : at + needed / rate;
			if (found > 1e11)
				break;
			*age = found;
			return true;
		}
		needed -= rate * span[i].duration;
		at += span[i].duration;
	}
	if (never != NULL)
		*never = true;
	return false;
}
