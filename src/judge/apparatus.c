/* Setting up the science for a scene. */
#include "judge/apparatus.h"

#define UNIFAC_WATER 16 /* the subgroup H2O: the one vapour of which the room's air already holds some */

double tc_constant(const tc_scene *scene, tc_default which)
{
	return tc_library_default(scene->model->library, which)->value.number;
}

static bool is_water(const struct tc_solvent *s)
{
	return s->groups.count == 1 && s->groups.of[0].subgroup == UNIFAC_WATER;
}

static double ambient(const struct tc_solvent *s, double temperature, double humidity)
{
	double pressure;

	if (!is_water(s) || !tc_water_pressure(temperature, &pressure))
		return 0;
	return pressure * humidity;
}

bool tc_mix_feels_damp(const tc_scene *scene, const tc_liquid_mix *mix)
{
	for (uint32_t i = 0; i < mix->count; i++)
		if (is_water(&scene->worker->solvent[mix->entry[i]]))
			return true;
	return false;
}

void tc_apparatus_set(const tc_scene *scene, const tc_liquid_mix *mix, double temperature, double chi, tc_apparatus *a)
{
	const tc_model *model = scene->model;

	for (uint32_t i = 0; i < mix->count; i++) {
		a->solvent[i] = scene->worker->solvent[mix->entry[i]];
		a->solvent[i].ambient = ambient(&a->solvent[i], temperature, model->humidity.number);
	}
	a->air = (struct tc_drying_air){.temperature = temperature,
	    .speed = model->air_speed.number,
	    .length = tc_constant(scene, TC_D_PART_LENGTH),
	    .still = tc_constant(scene, TC_D_STILL_AIR_TRANSFER)};
	a->law = (struct tc_drying_law){.set_share = tc_constant(scene, TC_D_SET_SOLVENT),
	    .chi = isnan(chi) ? tc_constant(scene, TC_D_FILM_CHI) : chi,
	    .cooling = tc_constant(scene, TC_D_FILM_COOLING),
	    .diffusivity = tc_constant(scene, TC_D_FILM_DIFFUSIVITY),
	    .size = tc_constant(scene, TC_D_MOLECULE),
	    .fall = tc_constant(scene, TC_D_FILM_FALL)};
	a->uptake = (struct tc_uptake){.bound = tc_constant(scene, TC_D_SWELL_BOUND),
	    .mobility = tc_constant(scene, TC_D_SWELL_DIFFUSIVITY),
	    .size = tc_constant(scene, TC_D_MOLECULE),
	    .fall = tc_constant(scene, TC_D_SWELL_FALL)};
	a->wetness = tc_constant(scene, TC_D_WET_SHARE);
}

bool tc_film_of_layer(const tc_layer *layer, tc_film_passes *p)
{
	if (layer->coats == 0 || layer->old || !tc_known(layer->solids))
		return false;
	p->count = layer->coats;
	p->solids = fmin(layer->solids.number, 0.99);
	p->temperature = layer->temperature;
	tc_value chi = tc_product_value(layer->product, TC_P_BINDER_CHI);
	p->chi = tc_known(chi) ? chi.number : NAN;
	for (uint32_t i = 0; i < layer->coats; i++) {
		if (isnan(layer->wet[i]))
			return false;
		p->wet[i] = layer->wet[i];
		p->flash[i] = i + 1 < layer->coats ? layer->at[i + 1] - layer->at[i] : 0;
	}
	return true;
}

void tc_film_of_liquid(const tc_scene *scene, const tc_liquid *liquid, tc_film_passes *p)
{
	p->count = 1;
	p->wet[0] = liquid->film > 0 ? liquid->film : tc_constant(scene, TC_D_WIPE_FILM);
	p->flash[0] = 0;
	p->solids = 0;
	p->temperature = scene->model->temperature.number;
	p->chi = NAN;
}

bool tc_film_run(const tc_film_passes *p, const tc_liquid_mix *mix, const tc_apparatus *a, tc_pass_visit *visit,
    void *user, struct tc_drying *drying)
{
	struct tc_drying_carry carry = {0};

	for (uint32_t i = 0; i < p->count; i++) {
		const bool last = i + 1 == p->count;
		struct tc_wet_film film = {.solvent = a->solvent,
		    .share = mix->share,
		    .count = mix->count,
		    .thickness = p->wet[i],
		    .solids = p->solids};
		if (tc_drying_run(&film, &a->air, &a->law, &carry, drying) == TC_DRYING_REFUSED)
			return false;
		if (visit)
			visit(user, i, drying, last ? TC_DRYING_HORIZON : p->flash[i]);
		if (!last && !tc_drying_carry_at(drying, p->flash[i], &carry))
			return false;
	}
	return true;
}
