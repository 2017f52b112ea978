/*
 * Film: what builds up from what is laid on.
 *
 * Thickness in m, shares from 0 to 1, areas in m^2, volumes in m^3.  Pure functions; false, the result untouched, for
 * inputs out of range.  Thickness is accepted from 0 to 0.1 m.
 * Sources: ISO 23811 and ASTM D2697 say how solids are measured; the relations are arithmetic.
 */
#ifndef TC_SCIENCE_FILM_H
#define TC_SCIENCE_FILM_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Solids by volume after thinning with `thinner` volumes for each volume of paint (0 to 100): solids / (1 +
 * thinner).
 */
bool tc_film_thinned(double solids, double thinner, double *thinned);

/* Dry film from wet: wet * solids (share by volume, after thinning). */
bool tc_film_dry(double wet, double solids, double *dry);

/* Wet film for a dry one: dry / solids; solids 0.001 to 1. */
bool tc_film_wet(double dry, double solids, double *wet);

/* Theoretical spreading rate, m^2 for each m^3: solids / dry; dry 1e-8 to 0.1 m.  (1 m^2/l is 1000 m^2/m^3.) */
bool tc_film_spread(double solids, double dry, double *rate);

/* Spreading rate in practice: theoretical * (1 - loss); loss 0 to 1. */
bool tc_film_practical_spread(double rate, double loss, double *practical);

/* What sanding leaves of a film: film - taken, never below 0. */
bool tc_film_sanded(double film, double taken, double *left);

/* Sum of up to 4096 films. */
bool tc_film_total(const double *film, size_t count, double *total);

/*
 * Thickness that a dry film shrinks by as trapped liquid leaves, film * wetness: what may sink into scratches later.
 * wetness: liquid's share of the film.
 */
bool tc_film_shrink(double film, double wetness, double *shrink);

#endif
