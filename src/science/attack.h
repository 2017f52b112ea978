/*
 * Attack: what a drying film does to the solid that it lies on.
 *
 * Built on the trajectory of drying.h: how long its liquid lies inside a solid's sphere, how deep it softens it,
 * the same for a coat of several passes, and the heaviest film that stays below a given depth.  All constants of
 * practice come from the caller.  SI units; pure; false or a refusal, results untouched, for inputs out of range;
 * never infinite.
 */
#ifndef TC_SCIENCE_ATTACK_H
#define TC_SCIENCE_ATTACK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "science/drying.h"
#include "science/solvency.h"

#define TC_COAT_PASSES_MAX 64 /* passes of one coat */

/*
 * Least RED toward a solid while liquid makes up at least `wetness` (0 to 1) of the film and time <= until. Judged
 * at the samples, at the crossing of `wetness`, and at up to 41 moments of the second stage.  False also when the film
 * is never that wet.
 */
bool tc_attack_red_least(
    const struct tc_drying *film, const struct tc_sphere *solid, double wetness, double until, double *red);

/*
 * How long, in s up to `until`, RED toward a solid lies under `bound` (> 0) while liquid makes up at least
 * `wetness` of the film.  0 when it never does.
 */
bool tc_attack_hot_time(const struct tc_drying *film, const struct tc_sphere *solid, double bound, double wetness,
    double until, double *seconds);

/* A film at one of the moments at which the functions here judge it. */
struct tc_attack_moment {
	double time;    /* s since the pass landed */
	double wetness; /* liquid's share of the film */
	double liquid;  /* left, m */
	double red;     /* toward the solid */
};
#define TC_ATTACK_MOMENTS_MAX (TC_DRYING_SAMPLES_MAX + 42)

/*
 * The moments from landing to `until`, or to the crossing of `wetness` (0 to 1) where that comes first; returns how
 * many, at most TC_ATTACK_MOMENTS_MAX.  The least `red` of them is what tc_attack_red_least gives.  0 when an input is out of
 * range or the film is never that wet.
 */
size_t tc_attack_course(const struct tc_drying *film, const struct tc_sphere *solid, double wetness, double until,
    struct tc_attack_moment *row);

/*
 * How a solid takes up a solvent: constants of practice, from the rulebook.  `bound`: the RED at which attack
 * begins, 0.01 to 10.  `mobility`: D of a molecule of size `size` in the swelling skin under a liquid at RED 0,
 * m^2/s, 1e-20 to 1e-6.  `fall`: mobility falls as exp(-(V - size)/fall), m^3/mol, 1e-6 to 1.
 */
struct tc_uptake {
	double bound;
	double mobility;
	double size;
	double fall;
};

/*
 * Depth s, m, to which a drying film softens a solid between its landing and `until`, starting from a depth already
 * there (`from`, m, 0 to 1):
 *     d(s^2)/dt = [sum_i c_i M_i exp(-chi_i)] * (w (1 - (RED/bound)^2))^2 * L / (L + s)   while RED < bound, else 0
 * c_i the share of component i in the liquid, M_i = mobility exp((size - V_i)/fall), chi_i = V_i Ra_i^2 / (4 R T)
 * of that component alone with the solid at 25 C, w the liquid's share of the film, L the liquid left (m).
 * Reasoning: a front that diffuses in goes as sqrt(D t).  D in a glassy polymer falls steeply with the size of the
 * molecule (roughly exponentially in molar volume at these sizes: after Berens & Hopfenberg, J. Membr. Sci. 10
 * (1982) 283, from memory).  chi grows as Ra^2 (Hansen chapter 2, from memory), so what the solid takes up falls as
 * 1 - (RED/bound)^2, and of a blend it takes the likelier components first.  Driving force and the softened skin's
 * mobility both grow with the uptake, hence the square.  What has gone in is shared with what lies on top.
 * In the second stage w and L fall, but RED, c_i and so the speed's other factors stay as at the set point: in what
 * order the rest leaves so stiff a film is not known well enough.  A thicker film so never bites less deep.  The
 * combination is this program's own, not a published measure: compare depths, do not read them as measured ones.
 */
bool tc_attack_depth(const struct tc_drying *film, const struct tc_sphere *solid, const struct tc_uptake *uptake,
    double from, double until, double *depth);

/* Passes of one coat, laid one on another. */
struct tc_coat {
	struct tc_wet_film film; /* of each pass; its thickness is that of the first when `thickness` is NULL */
	const double *thickness; /* wet, of each pass, m; or NULL: all as `film` says */
	const double *flash;     /* s after each pass but the last (passes - 1 of them), each >= 0; or NULL: `gap` */
	double gap;              /* s between passes, when `flash` is NULL */
	size_t passes;           /* 1 to TC_COAT_PASSES_MAX */
	double until;            /* s after the last pass, to which it is followed; >= 0 */
};

/* A drying film at one moment, toward no solid in particular. */
struct tc_coat_moment {
	double time;            /* s since its pass landed */
	double wetness;         /* liquid's share of the film */
	double liquid;          /* m */
	struct tc_hansen blend; /* of the liquid */
};

/*
 * A coat as any solid below meets it: the course of each pass, found once.  The caller gives the two arrays and their
 * rooms; tc_coat_dry needs `passes` times TC_ATTACK_MOMENTS_MAX moments and `passes` times
 * TC_COAT_SHARES_MAX(components) shares, and uses far fewer: what it used may be copied elsewhere, as long as the
 * pointers follow.  All else is for reading.
 */
#define TC_COAT_SHARES_MAX(components) ((TC_DRYING_SAMPLES_MAX + 1) * (components))
struct tc_coat_course {
	struct tc_coat_moment *moment; /* of all passes, one after another */
	double *share;                 /* by volume, of each component at each moment of a first stage */
	size_t moment_room, share_room;
	size_t moments, shares; /* used */
	size_t passes, count;
	struct {
		uint16_t moments, early; /* early: those of the first stage */
	} pass[TC_COAT_PASSES_MAX];
	double left;     /* liquid's share of the film just before the last pass; 0 for one pass */
	double set_time; /* s after the last pass */
	double coldest;  /* lowest temperature of the film in any pass, K */
	bool sets;
	/* the last pass, from the end of its first stage on */
	double end, binder;                  /* s; m, with what lay below */
	double rest[TC_SCI_COMPONENTS_MAX];  /* liquids there, m */
	double decay[TC_SCI_COMPONENTS_MAX]; /* and their rates, 1/s */
	struct tc_hansen hansen[TC_SCI_COMPONENTS_MAX];
	double size[TC_SCI_COMPONENTS_MAX];
};

/* Follows every pass, each with what the one before left.  Refuses also when a room is too small. */
enum tc_drying_status tc_coat_dry(const struct tc_coat *coat, const struct tc_drying_air *air,
    const struct tc_drying_law *law, struct tc_coat_course *course);

/* Liquid's share of the film (0 to 1) at a time >= 0 s after the last pass. */
bool tc_coat_wetness(const struct tc_coat_course *course, double time, double *share);

/* What a solid goes through below such a coat. */
struct tc_coat_effect {
	double depth;     /* of attack, m: tc_attack_depth, carried from pass to pass */
	double hot_time;  /* s, summed */
	double red_least; /* the least of all; 1e6 when the film is never wet enough to judge */
	double left;      /* liquid's share of the film just before the last pass; 0 for one pass */
	double set_time;  /* s after the last pass */
	double coldest;   /* lowest temperature of the film, K */
	bool sets;
};

/* Sums what a coat that was dried does to a solid.  `wetness` as in tc_attack_hot_time. */
bool tc_coat_bite(const struct tc_coat_course *course, const struct tc_sphere *solid, const struct tc_uptake *uptake,
    double wetness, struct tc_coat_effect *effect);

/* Both in one, without memory: the same figures as tc_coat_dry and tc_coat_bite. */
enum tc_drying_status tc_coat_effect(const struct tc_coat *coat, const struct tc_drying_air *air,
    const struct tc_drying_law *law, const struct tc_sphere *solid, const struct tc_uptake *uptake, double wetness,
    struct tc_coat_effect *effect);

/*
 * The heaviest wet film, m, from 1e-7 to `most` (up to 1e-2), that every pass may have so that the depth of attack
 * stays at or below `depth`, to 0.5 % of the thickness.  `most` when even that stays below.  False
 * also when 1e-7 m is already too much.  coat->thickness is not used.
 */
bool tc_coat_heaviest(const struct tc_coat *coat, const struct tc_drying_air *air, const struct tc_drying_law *law,
    const struct tc_sphere *solid, const struct tc_uptake *uptake, double depth, double most, double *thickness);

#endif
