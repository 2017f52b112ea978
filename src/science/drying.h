/*
 * Drying: what lies on the surface, minute by minute, after a wet film is laid down.
 *
 * First stage, controlled by the air: component i leaves at k_i (a_i P_i(T_film) - ambient_i) / (R T_film) mol/(m^2
 * s), with a_i = x_i gamma_i F(binder): UNIFAC at the air's temperature times Flory-Huggins.  The film cools: it
 * stands at a share `cooling` of the way from the air's temperature to the wet bulb of its blend at that moment.
 * The composition drifts. The stage ends at the set point, when solvent makes up the share `set_share` of the film
 * (for a liquid without binder: when a thousandth of it is left).
 *
 * Second stage, controlled by diffusion through the stiffening film: each component decays as exp(-t/tau_i), tau_i
 * the sum of what the air allows at the set point and of 4 h^2 / (pi^2 D_i), h the film there, D_i falling with the
 * size of the molecule.  That is the leading term of diffusion out of a sheet with one face open (Crank, The
 * Mathematics of Diffusion, 2nd ed. 1975, from memory).
 *
 * Sources and the check against published evaporation rates: docs/science.md.  Rates are good to about a factor of
 * two, since the air's coefficient is.  Stefan's correction for high vapour pressures is left out.
 *
 * SI units.  Everything is pure and thread-safe; no function allocates.  A function that returns bool gives false,
 * its results untouched, for inputs outside the stated ranges.  No result is ever infinite or not a number.
 */
#ifndef TC_SCIENCE_DRYING_H
#define TC_SCIENCE_DRYING_H

#include <stdbool.h>
#include <stddef.h>

#include "science/activity.h"
#include "science/solvency.h"
#include "science/vapour.h"

#define TC_DRYING_SAMPLES_MAX 64 /* states kept of the first stage */
#define TC_DRYING_HORIZON 3.2e7  /* s, about a year: nothing is followed further */

/* A volatile liquid. */
struct tc_solvent {
	struct tc_hansen hansen;
	double molar_mass;       /* kg/mol, 0.001 to 2 */
	double density;          /* kg/m^3, 100 to 5000 */
	double molar_volume;     /* m^3/mol, 1e-6 to 2e-3: its size, on which its way into solids depends */
	double diffusion_volume; /* Fuller's, m^3/mol, 1e-6 to 2e-3; 0: the molar volume stands in (D within some 6 %)
	                          */
	struct tc_antoine antoine;
	double vaporisation; /* J/mol, 0 to 2e5 */
	double ambient; /* partial pressure in the room's air, Pa, 0 to 1e5: for water, humidity times saturation */
	struct tc_groups groups; /* UNIFAC; count 0 when they are not known */
};

/* The air over the film. */
struct tc_drying_air {
	double temperature; /* K, 253.15 to 373.15 */
	double speed;       /* m/s, 0 to 50 */
	double length;      /* of the piece along the air, m, 1e-4 to 10 */
	double still;       /* coefficient in still air, m/s, 1e-5 to 0.1 (about 1e-3) */
	double transfer; /* 0, or one coefficient for every vapour, m/s, 1e-5 to 1: then speed and length do not count
	                  */
};

/* How this kind of film dries: constants of practice, from the rulebook. */
struct tc_drying_law {
	double set_share;   /* solvent's share of the film by volume at the set point, 0.01 to 0.9 */
	double chi;         /* Flory-Huggins of binder and blend, 0 to 10 */
	double cooling;     /* 0: film as warm as the air; 1: at its wet bulb; 0.5 fits published rates */
	double diffusivity; /* D in the set film of a molecule of size `size`, m^2/s, 1e-20 to 1e-8 */
	double size;        /* m^3/mol, 1e-6 to 2e-3 */
	double fall;        /* D_i = D exp(-(V_i - size)/fall), m^3/mol, 1e-6 to 1 */
};

/* What is sprayed. */
struct tc_wet_film {
	const struct tc_solvent *solvent; /* count of them, 1 to TC_SCI_COMPONENTS_MAX */
	const double *share;              /* volume shares of the liquids among themselves, any unit, not all zero */
	size_t count;
	double thickness; /* wet, m, 1e-8 to 1e-2 */
	double solids;    /* volume share that stays, after thinning, 0 to 0.99 */
};

/* What still lies below when a further pass lands: amounts for each m^2.  All zero for bare ground. */
struct tc_drying_carry {
	double binder;                         /* m */
	double solvent[TC_SCI_COMPONENTS_MAX]; /* m */
};

/* A film at one moment. */
struct tc_drying_sample {
	double time;                         /* s since the pass landed */
	double solvent;                      /* liquid left, m (m^3 for each m^2) */
	double share[TC_SCI_COMPONENTS_MAX]; /* of each component in that liquid, by volume; sums to 1 while solvent > 0
	                                      */
	double temperature;                  /* of the film, K */
};

enum tc_drying_status {
	TC_DRYING_SETS,   /* the set point is reached */
	TC_DRYING_RESTS,  /* the air holds the film back (water in damp air): it never sets within the horizon */
	TC_DRYING_REFUSED /* an input is out of range: nothing was written */
};

/*
 * The drying of one pass.  sample[0] is the wet film, sample[samples-1] the end of the first stage.  Fields are for
 * reading; the functions below interpolate between samples and follow the second stage in closed form.
 */
struct tc_drying {
	size_t count;   /* components */
	size_t samples; /* 1 to TC_DRYING_SAMPLES_MAX */
	bool sets;
	double set_time; /* s; the horizon when it never sets */
	double binder;   /* m */
	double initial;  /* liquid at the start, m */
	double coldest;  /* lowest film temperature, K */
	enum tc_activity_cover cover;
	struct tc_drying_sample sample[TC_DRYING_SAMPLES_MAX];
	double decay[TC_SCI_COMPONENTS_MAX]; /* 1/tau_i of the second stage, 1/s */
	struct tc_hansen hansen[TC_SCI_COMPONENTS_MAX];
	double size[TC_SCI_COMPONENTS_MAX]; /* molar volumes, m^3/mol */
};

/*
 * Dries one pass on top of `below` (NULL for none; what is there mixes into the new film).  The first stage takes at
 * most half of TC_DRYING_SAMPLES_MAX steps whatever the input.
 */
enum tc_drying_status tc_drying_run(const struct tc_wet_film *film, const struct tc_drying_air *air,
    const struct tc_drying_law *law, const struct tc_drying_carry *below, struct tc_drying *out);

/*
 * The same in about a given number of steps of one size, TC_DRYING_STEPS_LEAST to TC_DRYING_STEPS_MAX, two samples
 * each: for tests of convergence.  In tc_drying_run a step shrinks the liquid by e^-TC_DRYING_RATIO at most, and by
 * less where it is foretold wrong by more than TC_DRYING_OFF of the liquid.
 */
enum tc_drying_status tc_drying_run_steps(const struct tc_wet_film *film, const struct tc_drying_air *air,
    const struct tc_drying_law *law, const struct tc_drying_carry *below, size_t steps, struct tc_drying *out);
#define TC_DRYING_STEPS_LEAST 3
#define TC_DRYING_STEPS_MAX (TC_DRYING_SAMPLES_MAX / 2 - 1)
#define TC_DRYING_RATIO 0.45
#define TC_DRYING_OFF 0.003

/* The film at a time >= 0 s; after the horizon, as at the horizon.  False for a negative time or one not a number. */
bool tc_drying_at(const struct tc_drying *film, double time, struct tc_drying_sample *state);

/* Liquid left at a time, as a share of what there was at the start (0 to 1). */
bool tc_drying_left(const struct tc_drying *film, double time, double *share);

/* Liquid's share of the whole film by volume at a time (0 to 1). */
bool tc_drying_wetness(const struct tc_drying *film, double time, double *share);

/* Time until only `share` (above 0, below 1) of the starting liquid is left.  False also when it is never reached. */
bool tc_drying_time_to(const struct tc_drying *film, double share, double *time);

/* RED of the remaining liquid toward a solid at a time.  False also when no liquid is left. */
bool tc_drying_red(const struct tc_drying *film, double time, const struct tc_sphere *solid, double *red);

/* What is left at a time, for the next pass. */
bool tc_drying_carry_at(const struct tc_drying *film, double time, struct tc_drying_carry *carry);

#endif
