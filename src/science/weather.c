#include "science/weather.h"

#include "science/range.h"
#include "science/vapour.h"

static bool valid_temperature(double t)
{
	return tc_within(t, 223.15, 373.15);
}

bool tc_weather_dew_margin(double air, double humidity, double surface, double *margin)
{
	double dew;
	if (!valid_temperature(surface) || !tc_dew_point(air, humidity, &dew))
		return false;
	*margin = surface - dew;
	return true;
}

bool tc_weather_blush_margin(double air, double humidity, double coldest_film, double *margin)
{
	double dew;
	if (!tc_within(coldest_film, TC_VAPOUR_COLDEST, TC_VAPOUR_HOTTEST) || !tc_dew_point(air, humidity, &dew))
		return false;
	*margin = coldest_film - dew;
	return true;
}

bool tc_weather_blush_humidity(double air, double coldest_film, double *humidity)
{
	return tc_humidity(air, coldest_film, humidity);
}

bool tc_weather_forming_margin(double surface, double lowest, double *margin)
{
	if (!valid_temperature(surface) || !valid_temperature(lowest))
		return false;
	*margin = surface - lowest;
	return true;
}
