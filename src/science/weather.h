/*
 * Weather: may anything be sprayed in this air?
 *
 * Temperatures in K from 223.15 to 373.15, humidity as a share from 0.001 to 1.  Margins are differences in K,
 * negative when the wrong side is reached.  Pure functions; false, the result untouched, out of range.
 */
#ifndef TC_SCIENCE_WEATHER_H
#define TC_SCIENCE_WEATHER_H

#include <stdbool.h>

/* How far a surface stands above the dew point of the air (Alduchov & Eskridge).  ISO 8502-4 is the method. */
bool tc_weather_dew_margin(double air, double humidity, double surface, double *margin);

/*
 * How far the coldest moment of a drying film (from drying.h, in the same air) stands above the dew point: below 0
 * water settles on the wet film, the mechanism of blushing.
 */
bool tc_weather_blush_margin(double air, double humidity, double coldest_film, double *margin);

/* The humidity at which that film would just reach the dew point (share, 0 to 1).  coldest_film <= air. */
bool tc_weather_blush_humidity(double air, double coldest_film, double *humidity);

/* How far a surface stands above the lowest temperature at which a dispersion forms a film. */
bool tc_weather_forming_margin(double surface, double lowest, double *margin);

#endif
