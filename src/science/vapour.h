/*
 * Vapour: pressures of liquids, water in air, diffusion in air, and how far an evaporating film cools.
 *
 * Units are SI (K, Pa, kg/mol, m^2/s, J/mol).  Temperatures are accepted from TC_VAPOUR_COLDEST to TC_VAPOUR_HOTTEST.
 * Every function is pure and returns false, its result untouched, for an input outside its range or not a number, and
 * where the answer would not be a finite number.
 */
#ifndef TC_SCIENCE_VAPOUR_H
#define TC_SCIENCE_VAPOUR_H

#include <stdbool.h>

#define TC_VAPOUR_COLDEST 203.15 /* K */
#define TC_VAPOUR_HOTTEST 473.15 /* K */

/* The molar gas constant, J/(mol K): exact since the SI of 2019 (CODATA 2018). */
#define TC_GAS_CONSTANT 8.314462618

/* 0 degrees Celsius in K (definition). */
#define TC_CELSIUS_ZERO 273.15

/* Air near 25 C and one atmosphere, as used in all film computations here (Incropera & DeWitt, from memory). */
#define TC_AIR_DENSITY 1.184           /* kg/m^3 */
#define TC_AIR_HEAT 1006.0             /* J/(kg K) */
#define TC_AIR_VISCOSITY 1.562e-5      /* kinematic, m^2/s */
#define TC_AIR_HEAT_DIFFUSIVITY 2.2e-5 /* m^2/s */
#define TC_AIR_PRESSURE 101325.0       /* Pa: the standard atmosphere (definition) */

/*
 * Antoine's constants as they are published: log10 P = a - b / (t + c), P in mmHg, t in degrees Celsius.
 * Valid: a from -20 to 20, b from 0 to 10000, c from 1 to 500.
 */
struct tc_antoine {
	double a, b, c;
};

/* True when the constants lie in the range above. */
bool tc_antoine_valid(const struct tc_antoine *law);

/*
 * Saturated vapour pressure in Pa at a temperature in K.  1 mmHg = 133.322387 Pa.  The constants' own range is the
 * caller's business: outside it this extrapolates.  False where t + c <= 0 or the pressure exceeds 1e9 Pa.
 * Source: Antoine 1888; form as in Poling, Prausnitz & O'Connell, Properties of Gases and Liquids, 5th ed. 2000.
 */
bool tc_antoine_pressure(const struct tc_antoine *law, double temperature, double *pressure);

/*
 * Moves a vapour pressure (Pa, > 0) from one temperature to another: ln(p2/p1) = -(dH/R) (1/T2 - 1/T1).
 * dH in J/mol, 0 to 2e5.  Source: Clausius-Clapeyron, any text of physical chemistry.
 */
bool tc_clausius_clapeyron(double pressure, double at, double heat, double to, double *moved);

/*
 * Saturated vapour pressure of water over water, Pa: 610.94 exp(17.625 t / (243.04 + t)), t in degrees Celsius.
 * Range of the source -40 to 50 C; accepted from 223.15 to 373.15 K.
 * Source: Alduchov & Eskridge, J. Appl. Meteorol. 35 (1996) 601.
 */
bool tc_water_pressure(double temperature, double *pressure);

/*
 * Dew point in K of air at a temperature (K, 223.15 to 373.15) and a relative humidity (share, 0.001 to 1), by the
 * same formula solved for t.
 */
bool tc_dew_point(double temperature, double humidity, double *dew_point);

/* Relative humidity (share, 0 to 1) of air with a given dew point; the dew point may not exceed the temperature. */
bool tc_humidity(double temperature, double dew_point, double *humidity);

/* Atoms of a molecule, for the Fuller diffusion volume. */
struct tc_atoms {
	unsigned c, h, o, n, f, cl, aromatic_rings;
};

/*
 * Fuller's diffusion volume of a molecule, m^3/mol: C 15.9, H 2.31, O 6.11, N 4.54, F 14.7, Cl 21.0, aromatic ring
 * -18.3 cm^3/mol.  (Water has its own, 13.1: TC_FULLER_WATER.)  At most 200 atoms of a kind; the sum must be > 0.
 * Source: Fuller, Schettler & Giddings, as in Poling et al. 5th ed. table 11-1 (from memory).
 */
bool tc_fuller_volume(struct tc_atoms atoms, double *volume);

#define TC_FULLER_WATER 13.1e-6 /* m^3/mol, same source */

/*
 * Diffusion coefficient of a vapour in air, m^2/s, at a temperature (K) and one atmosphere (taken as 1.01325 bar):
 * D[cm^2/s] = 0.00143 T^1.75 / (p[bar] M^0.5 (va^(1/3) + 19.7^(1/3))^2), M = 2 / (1/M_A + 1/28.97).
 * molar_mass 0.001 to 2 kg/mol, volume (Fuller's) 1e-6 to 2e-3 m^3/mol.
 * Source: Fuller, Schettler & Giddings, as in Poling et al. 5th ed. eq. 11-4.4 (from memory); error about 5 %.
 */
bool tc_fuller_diffusivity(double temperature, double molar_mass, double volume, double *diffusivity);

/*
 * Wet-bulb temperature (K) of a pure liquid that evaporates into moving air with no heat from below:
 *     rho cp Le^(2/3) (T_air - T) = (P(T) - ambient) dH / (R T_mean),   Le = alpha / D,   T_mean = (T_air + T) / 2.
 * heat: of vaporisation, J/mol, 0 to 2e5.  diffusivity: of the vapour in air, m^2/s, 1e-7 to 1e-3.  ambient: the
 * vapour's partial pressure in the air, Pa, >= 0.  Never above T_air, never below TC_VAPOUR_COLDEST: a film that
 * would cool further (dichloromethane in warm air does not) rests there. Source: the psychrometer equation with the
 * Chilton-Colburn analogy (Bird, Stewart & Lightfoot, from memory).
 */
bool tc_wet_bulb(
    double air, const struct tc_antoine *law, double heat, double diffusivity, double ambient, double *temperature);

#endif
