/* The science's answers for a scene: what a layer or a liquid does to a solid, from the mix, the film, the air and the clock. */
#include "judge/apparatus.h"
#include "judge/kept.h"

#include <string.h>

/* Hansen's parameters of a solid as a value's figures; the state is the worst of the four. */
tc_solid tc_solid_of(tc_subject of, const void *subject)
{
	static const tc_property wanted[4] = {TC_P_DELTA_D, TC_P_DELTA_P, TC_P_DELTA_H, TC_P_R0};
	const tc_product *product = tc_subject_product(of, subject);
	tc_solid solid = {.state = TC_SAID, .product = product};
	double figures[4];

	if (!product)
		return (tc_solid){.state = TC_UNKNOWN};
	for (int i = 0; i < 4; i++) {
		tc_value v = tc_product_value(product, wanted[i]);
		if (v.state == TC_ABSENT || v.state == TC_UNKNOWN) {
			solid.state = (tc_state)v.state;
			return solid;
		}
		if (v.state == TC_ASSUMED)
			solid.state = TC_ASSUMED;
		figures[i] = v.number;
	}
	solid.sphere = (struct tc_sphere){{figures[0], figures[1], figures[2]}, figures[3]};
	return solid;
}

/* The state of an answer that needs both a liquid and a solid: absent wins, as in arithmetic. */
static tc_state both(const tc_liquid_mix *mix, const tc_solid *solid)
{
	if (mix->state == TC_ABSENT || solid->state == TC_ABSENT)
		return TC_ABSENT;
	if (mix->state == TC_UNKNOWN || solid->state == TC_UNKNOWN)
		return TC_UNKNOWN;
	return mix->state == TC_ASSUMED ? TC_ASSUMED : TC_SAID;
}

static tc_value answer(tc_state state, double number)
{
	if (state == TC_ABSENT || state == TC_UNKNOWN)
		return (tc_value){.state = (uint8_t)state, .type = TC_T_NUMBER};
	if (isnan(number))
		return tc_unknown(TC_T_NUMBER);
	return (tc_value){.state = (uint8_t)state, .type = TC_T_NUMBER, .number = number};
}

tc_value tc_bite_red(const tc_liquid_mix *mix, const tc_solid *solid)
{
	tc_state state = both(mix, solid);
	double red = NAN;

	if (state != TC_ABSENT && state != TC_UNKNOWN && !tc_hansen_red(mix->hansen, &solid->sphere, &red))
		red = NAN;
	return answer(state, red);
}

/* --- what a computation is given ------------------------------------------------------------------------------------ */

/* Inputs of a computation as 8-byte words: by their names (tc_kept_name) its results are kept. */
typedef struct inputs {
	uint32_t words;
	double at[8 + 3 * TC_COATS_MAX];
} inputs;

static void put(inputs *in, double number)
{
	in->at[in->words++] = number;
}

/* How long a pass is left before the next. After the last none follows: it counts as the one before. */
static double flash_of(const tc_film_passes *p, uint32_t pass)
{
	return pass + 1 < p->count ? p->flash[pass] : pass > 0 ? p->flash[pass - 1] : 0;
}

/* The name of what a film dries by; 0: it has none. The air's damp counts only where there is water in the film: so films
 * are found again that differ in nothing else. Passes that are alike are written once. */
static uint32_t film_name(const tc_scene *scene, const tc_liquid_mix *mix, const tc_film_passes *p)
{
	inputs in = {.words = 0};

	if (!mix->name)
		return 0;
	put(&in, (double)mix->name);
	put(&in, p->solids);
	put(&in, p->temperature);
	put(&in, isnan(p->chi) ? -1 : p->chi);
	put(&in, tc_mix_feels_damp(scene, mix) ? scene->model->humidity.number : -1);
	put(&in, scene->model->air_speed.number);
	for (uint32_t i = 0, next; i < p->count; i = next) {
		for (next = i + 1; next < p->count && p->wet[next] == p->wet[i] && flash_of(p, next) == flash_of(p, i);)
			next++;
		put(&in, p->wet[i]);
		put(&in, flash_of(p, i));
		put(&in, next - i);
	}
	return tc_kept_name(scene->worker->kept, in.at, in.words);
}

/* What results are asked of a film. Below 0, since the words of a film begin with a name, and those of a mix with 0. */
typedef enum question { ASKED_EFFECTS = -5, ASKED_FILM, ASKED_LEFT, ASKED_HEAVIEST, ASKED_WETS } question;

/* The name of a question to a film: of a solid, and with one further figure. */
static uint32_t asked_name(const tc_scene *scene, question what, const struct tc_sphere *sphere, double figure)
{
	const double words[] = {what, sphere->centre.d, sphere->centre.p, sphere->centre.h, sphere->r0, figure};
	return tc_kept_name(scene->worker->kept, words, sizeof words / sizeof *words);
}

static struct tc_coat coat_of(const tc_film_passes *p, const tc_liquid_mix *mix, const tc_apparatus *a)
{
	return (struct tc_coat){.film = {.solvent = a->solvent, .share = mix->share, .count = mix->count,
	                            .thickness = p->wet[0], .solids = p->solids},
	    .thickness = p->wet,
	    .flash = p->flash,
	    .passes = p->count,
	    .until = TC_DRYING_HORIZON};
}

/*
 * The course of a film, dried or kept. NULL: out of the science's range (then *refused), or out of memory: then its callers
 * do without.
 */
static const struct tc_coat_course *course_of(tc_scene *scene, const tc_film_passes *p, const tc_liquid_mix *mix,
    const tc_apparatus *a, bool *refused)
{
	tc_dried *dried = tc_kept_dried(scene->worker->kept);
	const uint32_t film = film_name(scene, mix, p);
	const struct tc_coat_course *course = film ? tc_dried_get(dried, &film, sizeof film) : NULL;

	*refused = false;
	if (course || !film)
		return course;
	struct tc_coat coat = coat_of(p, mix, a);
	return tc_dried_put(dried, &film, sizeof film, &coat, &a->air, &a->law, refused);
}

/* --- a layer --------------------------------------------------------------------------------------------------------- */

/* What a film does to a solid. False: out of the science's range. */
static bool bite(tc_scene *scene, const tc_film_passes *p, const tc_liquid_mix *mix, const struct tc_sphere *sphere, double bound,
    struct tc_coat_effect *effect)
{
	tc_apparatus a;
	bool refused;

	tc_apparatus_set(scene, mix, p->temperature, p->chi, &a);
	a.uptake.bound = bound;
	const struct tc_coat_course *course = course_of(scene, p, mix, &a, &refused);
	if (course)
		return tc_coat_bite(course, sphere, &a.uptake, a.wetness, effect);
	if (refused)
		return false;
	struct tc_coat coat = coat_of(p, mix, &a);
	return tc_coat_effect(&coat, &a.air, &a.law, sphere, &a.uptake, a.wetness, effect) != TC_DRYING_REFUSED;
}

/* An effect of a layer, computed or kept: those on a solid together, and those that concern the film alone, so that these
 * are not kept for each solid. False: out of the science's range. */
static bool effect_of(tc_scene *scene, const tc_film_passes *p, const tc_liquid_mix *mix, const struct tc_sphere *sphere,
    tc_bite what, double bound, double *figure)
{
	const bool film_alone = what >= TC_BITE_LEFT;
	const unsigned at = (unsigned)what % TC_KEPT_RESULTS;
	const uint32_t film = film_name(scene, mix, p),
	               asked = asked_name(scene, film_alone ? ASKED_FILM : ASKED_EFFECTS, sphere, bound);

	const double *kept = tc_kept_get(scene->worker->kept, film, asked);
	if (kept) {
		*figure = kept[at];
		return !isnan(kept[0]);
	}
	double results[TC_KEPT_RESULTS] = {NAN, NAN, NAN};
	struct tc_coat_effect e;
	if (bite(scene, p, mix, sphere, bound, &e)) {
		results[0] = film_alone ? e.left : e.depth;
		results[1] = film_alone ? e.set_time : e.hot_time;
		results[2] = film_alone ? e.coldest : e.red_least;
	}
	tc_kept_put(scene->worker->kept, film, asked, results);
	*figure = results[at];
	return !isnan(results[0]);
}

/* A sphere for questions that concern the film alone. */
static const tc_solid no_solid = {.state = TC_SAID, .sphere = {{1e4, 1e4, 1e4}, 1e3}};

tc_value tc_bite_layer(tc_scene *scene, const tc_layer *layer, const tc_solid *solid, tc_bite what, double bound)
{
	const tc_liquid_mix *mix = tc_scene_mix(scene, layer);
	tc_film_passes p;
	double figure;

	if (!mix)
		return tc_unknown(TC_T_NUMBER);
	if (!solid)
		solid = &no_solid;
	if (what != TC_BITE_HOT_TIME)
		bound = tc_constant(scene, TC_D_SWELL_BOUND);
	tc_state state = both(mix, solid);
	if (layer->old)
		return tc_absent(TC_T_NUMBER);
	if (state == TC_ABSENT || state == TC_UNKNOWN)
		return answer(state, NAN);
	if (!mix->dries || !tc_film_of_layer(layer, &p) ||
	    !effect_of(scene, &p, mix, &solid->sphere, what, bound, &figure))
		return tc_unknown(TC_T_NUMBER);
	if (what == TC_BITE_RED_LEAST && figure > 1e5) /* never wet enough to judge */
		return tc_bite_red(mix, solid);
	return answer(layer->pass_assumed ? TC_ASSUMED : state, figure);
}

/* Liquid's share of a film so long after its last pass; NAN: out of the science's range. */
static double wetness_at(tc_scene *scene, const tc_film_passes *p, const tc_liquid_mix *mix, double age)
{
	tc_apparatus a;
	struct tc_drying drying;
	double share;
	bool refused, known;

	tc_apparatus_set(scene, mix, p->temperature, p->chi, &a);
	const struct tc_coat_course *course = course_of(scene, p, mix, &a, &refused);
	if (course)
		known = tc_coat_wetness(course, age, &share);
	else
		known = !refused && tc_film_run(p, mix, &a, NULL, NULL, &drying) && tc_drying_wetness(&drying, age, &share);
	return known ? share : NAN;
}

tc_value tc_bite_solvent_left(tc_scene *scene, const tc_layer *layer, double now)
{
	const tc_liquid_mix *mix = tc_scene_mix(scene, layer);
	double results[TC_KEPT_RESULTS] = {NAN, NAN, NAN};
	tc_film_passes p;

	if (!mix || mix->state == TC_UNKNOWN)
		return tc_unknown(TC_T_SHARE);
	if (mix->state == TC_ABSENT || layer->old)
		return tc_typed(TC_T_SHARE, 0);
	if (!mix->dries || !tc_film_of_layer(layer, &p))
		return tc_unknown(TC_T_SHARE);
	double age = tc_layer_age(layer, now);
	const uint32_t film = film_name(scene, mix, &p), asked = asked_name(scene, ASKED_LEFT, &no_solid.sphere, age);
	const double *kept = tc_kept_get(scene->worker->kept, film, asked);
	if (kept) {
		results[0] = kept[0];
	} else {
		results[0] = wetness_at(scene, &p, mix, age);
		tc_kept_put(scene->worker->kept, film, asked, results);
	}
	if (isnan(results[0]))
		return tc_unknown(TC_T_SHARE);
	return (tc_value){.state = (uint8_t)mix->state, .type = TC_T_SHARE, .number = results[0]};
}

/* The heaviest wet pass, m; NAN: there is none so light, `most` and more: none so heavy. */
static double heaviest(tc_scene *scene, const tc_film_passes *p, const tc_liquid_mix *mix, const struct tc_sphere *sphere,
    double depth, double most)
{
	double results[TC_KEPT_RESULTS] = {NAN, NAN, NAN};
	tc_apparatus a;
	const uint32_t film = film_name(scene, mix, p), asked = asked_name(scene, ASKED_HEAVIEST, sphere, depth);

	const double *kept = tc_kept_get(scene->worker->kept, film, asked);
	if (kept)
		return kept[0];
	tc_apparatus_set(scene, mix, p->temperature, p->chi, &a);
	struct tc_coat coat = coat_of(p, mix, &a);
	coat.thickness = NULL;
	if (!tc_coat_heaviest(&coat, &a.air, &a.law, sphere, &a.uptake, depth, most, &results[0]))
		results[0] = NAN;
	tc_kept_put(scene->worker->kept, film, asked, results);
	return results[0];
}

tc_value tc_bite_heaviest(tc_scene *scene, const tc_layer *layer, const tc_solid *solid, double depth)
{
	const tc_liquid_mix *mix = tc_scene_mix(scene, layer);
	const double most = 1e-3;
	tc_film_passes p;

	if (!mix)
		return tc_unknown(TC_T_NUMBER);
	tc_state state = both(mix, solid);
	if (state == TC_ABSENT || state == TC_UNKNOWN)
		return answer(state, NAN);
	if (!mix->dries || !tc_film_of_layer(layer, &p))
		return tc_unknown(TC_T_NUMBER);
	double thickness = heaviest(scene, &p, mix, &solid->sphere, depth, most);
	return isnan(thickness) || thickness >= most ? tc_absent(TC_T_NUMBER) : answer(state, thickness);
}

/* --- a liquid that only wets ------------------------------------------------------------------------------------------ */

enum { WETS_DRIES = TC_BITE_HOT_TIME }; /* which nobody asks of a liquid */

/* What a liquid does to a solid, computed or kept: its depth (NAN: out of the science's range, or nobody says how long it
 * stays) and its least RED (NAN: never wet enough to judge). False: it cannot be dried. */
static bool wets(tc_scene *scene, const tc_liquid *liquid, const tc_liquid_mix *mix, const struct tc_sphere *sphere,
    double results[TC_KEPT_RESULTS])
{
	struct tc_drying drying;
	tc_film_passes p;
	tc_apparatus a;

	tc_film_of_liquid(scene, liquid, &p);
	const double stays = isnan(liquid->stays) ? -1 : liquid->stays;
	const uint32_t film = film_name(scene, mix, &p), asked = asked_name(scene, ASKED_WETS, sphere, stays);
	const double *kept = tc_kept_get(scene->worker->kept, film, asked);
	if (kept) {
		memcpy(results, kept, TC_KEPT_RESULTS * sizeof(double));
		return results[WETS_DRIES] > 0;
	}
	for (int i = 0; i < TC_KEPT_RESULTS; i++)
		results[i] = NAN;
	tc_apparatus_set(scene, mix, p.temperature, p.chi, &a);
	const bool dries = tc_film_run(&p, mix, &a, NULL, NULL, &drying);
	if (dries && (isnan(liquid->stays) ||
	              !tc_attack_depth(&drying, sphere, &a.uptake, 0, liquid->stays, &results[TC_BITE_DEPTH])))
		results[TC_BITE_DEPTH] = NAN;
	if (dries &&
	    !tc_attack_red_least(&drying, sphere, a.wetness, TC_DRYING_HORIZON, &results[TC_BITE_RED_LEAST]))
		results[TC_BITE_RED_LEAST] = NAN;
	results[WETS_DRIES] = dries;
	tc_kept_put(scene->worker->kept, film, asked, results);
	return dries;
}

tc_value tc_bite_liquid(tc_scene *scene, const tc_liquid *liquid, const tc_solid *solid, tc_bite what)
{
	double results[TC_KEPT_RESULTS];
	tc_liquid_mix mix;

	tc_product_mix(scene->worker, liquid->product, NULL, &mix);
	tc_state state = both(&mix, solid);
	if (state == TC_ABSENT || state == TC_UNKNOWN)
		return answer(state, NAN);
	tc_mix_name(scene->worker, &mix);
	if (!mix.dries || (what == TC_BITE_DEPTH && isnan(liquid->stays)) ||
	    !wets(scene, liquid, &mix, &solid->sphere, results))
		return tc_unknown(TC_T_NUMBER);
	if (what == TC_BITE_RED_LEAST && isnan(results[what]))
		return tc_bite_red(&mix, solid);
	return answer(liquid->stays_assumed && state == TC_SAID ? TC_ASSUMED : state, results[what]);
}
