#include "science/vapour.h"

#include <math.h>

#include "science/range.h"

static const double pascals_in_mmhg = 133.322387; /* NIST SP 811: 1.333224E+02, more digits from memory */

static bool valid_temperature(double t)
{
	return tc_within(t, TC_VAPOUR_COLDEST, TC_VAPOUR_HOTTEST);
}

bool tc_antoine_valid(const struct tc_antoine *law)
{
	return tc_within(law->a, -20.0, 20.0) && tc_within(law->b, 0.0, 1e4) && tc_within(law->c, 1.0, 500.0);
}

bool tc_antoine_pressure(const struct tc_antoine *law, double temperature, double *pressure)
{
	if (!tc_antoine_valid(law) || !valid_temperature(temperature))
		return false;
	double above_pole = temperature - TC_CELSIUS_ZERO + law->c;
	if (above_pole <= 0.0)
		return false;
	double p = pascals_in_mmhg * pow(10.0, law->a - law->b / above_pole);
	if (!tc_within(p, 0.0, 1e9))
		return false;
	*pressure = p;
	return true;
}

bool tc_clausius_clapeyron(double pressure, double at, double heat, double to, double *moved)
{
	if (!tc_within(pressure, 1e-30, 1e9) || !valid_temperature(at) || !valid_temperature(to) ||
	    !tc_within(heat, 0.0, 2e5))
		return false;
	*moved = pressure * exp(-heat / TC_GAS_CONSTANT * (1.0 / to - 1.0 / at));
	return true;
}

/* Alduchov & Eskridge 1996, their form AERK: e = magnus_e exp(magnus_a t / (magnus_b + t)), t in degrees Celsius. */
static const double magnus_e = 610.94; /* Pa */
static const double magnus_a = 17.625;
static const double magnus_b = 243.04; /* degrees Celsius */

static bool valid_air(double t)
{
	return tc_within(t, 223.15, 373.15);
}

bool tc_water_pressure(double temperature, double *pressure)
{
	if (!valid_air(temperature))
		return false;
	double t = temperature - TC_CELSIUS_ZERO;
	*pressure = magnus_e * exp(magnus_a * t / (magnus_b + t));
	return true;
}

bool tc_dew_point(double temperature, double humidity, double *dew_point)
{
	if (!valid_air(temperature) || !tc_within(humidity, 0.001, 1.0))
		return false;
	double t = temperature - TC_CELSIUS_ZERO;
	double gamma = log(humidity) + magnus_a * t / (magnus_b + t);
	*dew_point = TC_CELSIUS_ZERO + magnus_b * gamma / (magnus_a - gamma);
	return true;
}

bool tc_humidity(double temperature, double dew_point, double *humidity)
{
	double there, dew;
	if (!tc_within(dew_point, 173.15, temperature) || !tc_water_pressure(temperature, &there))
		return false;
	double t = dew_point - TC_CELSIUS_ZERO;
	dew = magnus_e * exp(magnus_a * t / (magnus_b + t));
	*humidity = fmin(1.0, dew / there);
	return true;
}

bool tc_fuller_volume(struct tc_atoms atoms, double *volume)
{
	const unsigned most = 200;
	if (atoms.c > most || atoms.h > most || atoms.o > most || atoms.n > most || atoms.f > most || atoms.cl > most ||
	    atoms.aromatic_rings > most)
		return false;
	double sum = 15.9 * atoms.c + 2.31 * atoms.h + 6.11 * atoms.o + 4.54 * atoms.n + 14.7 * atoms.f +
	             21.0 * atoms.cl - 18.3 * atoms.aromatic_rings;
	if (sum <= 0.0)
		return false;
	*volume = sum * 1e-6;
	return true;
}

bool tc_fuller_diffusivity(double temperature, double molar_mass, double volume, double *diffusivity)
{
	static const double air_mass = 28.97;             /* g/mol */
	static const double air_width = 2.70077709684987; /* cube root of 19.7 cm^3/mol: Poling et al. table 11-1 */
	if (!valid_temperature(temperature) || !tc_within(molar_mass, 0.001, 2.0) || !tc_within(volume, 1e-6, 2e-3))
		return false;
	double mass = 2.0 / (1.0 / (molar_mass * 1e3) + 1.0 / air_mass);
	double width = cbrt(volume * 1e6) + air_width;
	double bar = TC_AIR_PRESSURE / 1e5, root = sqrt(temperature);
	double raised = temperature * root * sqrt(root); /* to the power of 1.75 */
	*diffusivity = 1e-4 * 0.00143 * raised / (bar * sqrt(mass) * width * width);
	return true;
}

/* Heat that the film gives off less what the air brings, W/m^2 for a unit mass-transfer coefficient. */
static bool heat_excess(double air, const struct tc_antoine *law, double heat, double lewis, double ambient,
    double temperature, double *excess)
{
	double pressure;
	if (!tc_antoine_pressure(law, temperature, &pressure))
		return false;
	double mean = 0.5 * (air + temperature);
	double gone = fmax(0.0, pressure - ambient) * heat / (TC_GAS_CONSTANT * mean);
	*excess = gone - TC_AIR_DENSITY * TC_AIR_HEAT * cbrt(lewis * lewis) * (air - temperature);
	return true;
}

bool tc_wet_bulb(
    double air, const struct tc_antoine *law, double heat, double diffusivity, double ambient, double *temperature)
{
	double excess;
	double lewis = TC_AIR_HEAT_DIFFUSIVITY / diffusivity;
	if (!valid_temperature(air) || !tc_within(heat, 0.0, 2e5) || !tc_within(diffusivity, 1e-7, 1e-3) ||
	    !tc_within(ambient, 0.0, 1e7) || !heat_excess(air, law, heat, lewis, ambient, air, &excess))
		return false;
	/* Below Antoine's pole there is no pressure; just above it there is next to none. */
	double low = fmax(TC_VAPOUR_COLDEST, TC_CELSIUS_ZERO - law->c + 1e-3), high = air;
	while (high - low > 1e-6) {
		double middle = 0.5 * (low + high);
		if (!heat_excess(air, law, heat, lewis, ambient, middle, &excess))
			return false;
		if (excess > 0.0)
			high = middle;
		else
			low = middle;
	}
	*temperature = high;
	return true;
}
