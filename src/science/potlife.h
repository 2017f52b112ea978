/*
 * Pot life: how long a two-part mix lasts, and how many mixes a session takes.
 *
 * Times in s (0 to 1e8), temperatures in K from 223.15 to 373.15.  Pure functions; false, the result untouched, out
 * of range.
 */
#ifndef TC_SCIENCE_POTLIFE_H
#define TC_SCIENCE_POTLIFE_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Pot life at a temperature: life at `reference` / per_ten^((t - reference)/10).  per_ten 1 to 10; UFGS 09971
 * halves it for every +10 C, so 2.
 */
bool tc_pot_life(double life, double reference, double per_ten, double temperature, double *at);

/*
 * Least number of mixes for passes sprayed at rising moments: a mix is made at the first pass that the one before
 * does not reach; it may be used from `induction` s after mixing (the mix is made that much before its pass) until
 * `life` s after mixing.  1 to 4096 passes, moments in s, not falling; life > 0.  False also when induction > life.
 */
bool tc_pot_mixes(const double *moment, size_t passes, double life, double induction, size_t *mixes);

#endif
