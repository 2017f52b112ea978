/*
 * Transfer: how fast vapour leaves a level film into air that moves along it.
 *
 * SI units.  Trust a coefficient within a factor of two: pools under turbulent room air lose about twice what the
 * laminar plate says (EPA penetration model, from memory).  Functions are pure; false means an input out of range.
 */
#ifndef TC_SCIENCE_TRANSFER_H
#define TC_SCIENCE_TRANSFER_H

#include <stdbool.h>

/* Diffusivity of n-butyl acetate in air at 25 C by Fuller, m^2/s: the vapour for which a still-air value is quoted. */
#define TC_TRANSFER_REFERENCE 7.22e-6

/*
 * Mean mass-transfer coefficient, m/s, along a flat plate: Sh = 0.664 Re^(1/2) Sc^(1/3) while Re < 5e5, then the
 * turbulent 0.037 Re^(4/5) Sc^(1/3).  At the change the larger of the two is used only above 5e5, so the coefficient
 * jumps there; it never falls as the air speeds up.
 * speed 0 to 50 m/s, length 1e-4 to 10 m (along the air), diffusivity 1e-7 to 1e-3 m^2/s.
 * Source: Incropera & DeWitt; Bird, Stewart & Lightfoot (from memory).
 */
bool tc_transfer_plate(double speed, double length, double diffusivity, double *k);

/*
 * The same with a floor for still air: never below still * (D / TC_TRANSFER_REFERENCE)^(2/3).  still: 1e-5 to 0.1
 * m/s. About 1e-3 m/s agrees with Mackay & van Wesenbeeck, Environ. Sci. Technol. 48 (2014) 10259 (1464 ug/(m^2 h)
 * per Pa g/mol is 1.008e-3 m/s at 25 C) and with a dense vapour over a level film (0.87e-3 m/s).
 */
bool tc_transfer(double speed, double length, double diffusivity, double still, double *k);

#endif
