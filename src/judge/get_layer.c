/* Fields of a layer, an exposed material, a liquid and a product. */
#include "judge/private.h"

#include "science/potlife.h"

#include <string.h>

/* --- a layer --------------------------------------------------------------------------------------------------------- */

/* The heaviest pass of a layer: its index, or TC_COATS_MAX. */
static uint32_t heaviest(const tc_layer *layer)
{
	uint32_t best = TC_COATS_MAX;

	for (uint32_t i = 0; i < layer->coats && i < TC_COATS_MAX; i++)
		if (best == TC_COATS_MAX || layer->wet[i] > layer->wet[best] ||
		    (isnan(layer->wet[best]) && layer->pass[i] != 255 && layer->pass[i] > layer->pass[best]))
			best = i;
	return best;
}

static tc_value pass_of(const tc_layer *layer)
{
	uint32_t i = heaviest(layer);

	if (i == TC_COATS_MAX || layer->old || layer->spot)
		return tc_absent(TC_T_SYMBOL);
	if (layer->pass[i] == 255)
		return tc_unknown(TC_T_SYMBOL);
	tc_value v = tc_symbol_value(layer->pass[i]);
	v.state = layer->pass_assumed ? TC_ASSUMED : TC_SAID;
	return v;
}

static tc_value wet_film(const tc_layer *layer)
{
	uint32_t i = heaviest(layer);

	if (i == TC_COATS_MAX || layer->old || layer->spot)
		return tc_absent(TC_T_NUMBER);
	tc_value v = tc_nan_as(tc_unknown(TC_T_NUMBER), TC_T_NUMBER, layer->wet[i]);
	if (v.state == TC_SAID && (layer->wet_assumed || layer->pass_assumed))
		v.state = TC_ASSUMED;
	return v;
}

static tc_value film_below(const tc_scene *scene, const tc_layer *layer)
{
	double sum = 0;

	for (uint32_t i = 0; i + 1 < layer->order; i++) {
		const tc_layer *l = layer->part->layer[i];
		tc_value film = l->spot ? tc_absent(TC_T_NUMBER) : tc_layer_film(l, scene->now);
		if (film.state == TC_UNKNOWN)
			return film;
		if (film.state != TC_ABSENT)
			sum += film.number;
	}
	return tc_typed(TC_T_NUMBER, sum);
}

/* Dry film between a layer and what lies below it. */
static tc_value film_through(const tc_scene *scene, const tc_layer *layer, const tc_value *x)
{
	const tc_layer *below = tc_subject_layer((tc_subject)x->subject, x->is);
	uint32_t from = below ? below->order : 0;
	double sum = 0;

	for (uint32_t i = from; i + 1 < layer->order; i++) {
		tc_value film = tc_layer_film(layer->part->layer[i], scene->now);
		if (film.state == TC_UNKNOWN)
			return film;
		if (film.state != TC_ABSENT)
			sum += film.number;
	}
	return tc_typed(TC_T_NUMBER, sum);
}

/* Is the material one of those that a list of entries names? */
static tc_truth listed(const tc_figure *list, const tc_scene *scene, const tc_entry *entry)
{
	tc_truth truth = TC_FALSE;

	for (uint32_t i = 0; list && list->entries && i < list->entries->count; i++)
		truth = tc_truth_or(truth, tc_entry_is_truth(entry, tc_library_entry(scene->model->library, list->entries->at[i])));
	return truth;
}

static tc_value truth_of(tc_truth truth)
{
	return truth == TC_UNSURE ? tc_unknown(TC_T_TRUTH) : tc_truth_value(truth == TC_TRUE);
}

static tc_value holds_on(const tc_scene *scene, const tc_product *product, const tc_value *x)
{
	const tc_product *below = tc_subject_product((tc_subject)x->subject, x->is);
	const tc_figure *list = tc_product_figure(product, TC_P_STICKS_TO);

	if (!below || (!list && product->family->is_kind))
		return tc_unknown(TC_T_TRUTH);
	return truth_of(listed(list, scene, below->family));
}

static tc_value thinner_suits(const tc_scene *scene, const tc_layer *layer)
{
	const tc_figure *list = tc_product_figure(layer->product, TC_P_THINNED_BY);

	if (!layer->thin.said)
		return tc_absent(TC_T_TRUTH);
	if (!layer->thin.with || !list || list->value.state == TC_ABSENT)
		return list && list->value.state == TC_ABSENT ? tc_truth_value(false) : tc_unknown(TC_T_TRUTH);
	return truth_of(listed(list, scene, layer->thin.with->family));
}

static tc_value mix_differs(const tc_layer *layer)
{
	const tc_figure *right = tc_product_figure(layer->product, TC_P_MIX);

	if (layer->mix.count == 0)
		return tc_absent(TC_T_TRUTH);
	if (!right)
		return tc_unknown(TC_T_TRUTH);
	if (right->value.state == TC_ABSENT)
		return tc_truth_value(true);
	for (unsigned i = 0; i < TC_MIX_PARTS_MAX; i++) {
		double a = i < layer->mix.count ? layer->mix.terms[i] / layer->mix.terms[0] : 0;
		double b = right->ratio[i] / right->ratio[0];
		if (tc_compare(a, b) != 0)
			return tc_truth_value(true);
	}
	return tc_truth_value(false);
}

static tc_value written_layer(const tc_layer *layer, uint32_t field)
{
	switch (field) {
	case TC_F_LAYER_STEP:
		return tc_subject_value(TC_S_STEP, layer->step);
	case TC_F_LAYER_MATERIAL:
		return tc_subject_value(TC_S_PRODUCT, layer->product);
	case TC_F_LAYER_LABEL:
		return (tc_value){.state = TC_SAID, .type = TC_T_TEXT, .text = layer->product->label};
	case TC_F_LAYER_ORDER:
		return tc_typed(TC_T_NUMBER, layer->order);
	case TC_F_LAYER_ROLE:
		return tc_symbol_value(layer->role);
	case TC_F_LAYER_BY:
		return tc_symbol_value(layer->method);
	case TC_F_LAYER_COATS:
		return tc_typed(TC_T_NUMBER, layer->coats);
	case TC_F_LAYER_PASS:
		return pass_of(layer);
	case TC_F_LAYER_WET_FILM:
		return wet_film(layer);
	case TC_F_LAYER_FILM_LAID:
		return layer->film;
	case TC_F_LAYER_THINNER:
		if (layer->thin.said && !layer->thin.with)
			return (tc_value){.state = TC_UNKNOWN, .type = TC_T_SUBJECT, .subject = TC_S_PRODUCT};
		return tc_subject_value(TC_S_PRODUCT, layer->thin.with);
	case TC_F_LAYER_THINNED:
		return layer->thin.said ? tc_typed(TC_T_SHARE, layer->thin.share) : tc_absent(TC_T_SHARE);
	case TC_F_LAYER_MIXED:
		return layer->mix.count ? (tc_value){.state = TC_SAID, .type = TC_T_TEXT, .text = layer->mix.text} : tc_absent(TC_T_TEXT);
	case TC_F_LAYER_MIX_DIFFERS:
		return mix_differs(layer);
	case TC_F_LAYER_NOZZLE:
		return tc_nan_as(tc_absent(TC_T_NUMBER), TC_T_NUMBER, layer->nozzle);
	case TC_F_LAYER_COVERED:
		return tc_truth_value(layer->covered);
	case TC_F_LAYER_OLD:
		return tc_truth_value(layer->old);
	default:
		return tc_unknown(TC_T_BAD);
	}
}

static tc_value flash_used(const tc_layer *layer)
{
	tc_value v = tc_nan_as(tc_absent(TC_T_NUMBER), TC_T_NUMBER, layer->flash_least);
	if (v.state == TC_SAID && layer->flash_assumed)
		v.state = TC_ASSUMED;
	return v;
}

static tc_value batch_age(const tc_layer *layer, double at)
{
	if (isnan(layer->mixed_at))
		return tc_absent(TC_T_NUMBER);
	return tc_typed(TC_T_NUMBER, fmax(at - layer->mixed_at, 0));
}

/* The pot life of a family holds at its own temperature; warmth shortens it. */
static tc_value lives(const tc_scene *scene, const tc_layer *layer)
{
	tc_value life = tc_product_value(layer->product, TC_P_POT_LIFE);
	const tc_value at = tc_product_value(layer->product, TC_P_CURE_AT);
	const double factor = tc_library_default(scene->model->library, TC_D_POT_LIFE_FACTOR)->value.number;
	double here;

	if (!tc_known(life) || !tc_known(at) || !tc_pot_life(life.number, at.number, factor, layer->temperature, &here))
		return life;
	life.number = here;
	if (at.state == TC_ASSUMED)
		life.state = TC_ASSUMED;
	return life;
}

static tc_value age(const tc_scene *scene, const tc_layer *layer)
{
	return tc_typed(TC_T_NUMBER, tc_layer_age(layer, scene->now));
}

static tc_value as_temperature(tc_value v)
{
	v.type = TC_T_TEMPERATURE;
	return v;
}

static tc_value dries_at(const tc_scene *scene, const tc_layer *layer)
{
	tc_value v = tc_typed(TC_T_TEMPERATURE, layer->temperature);
	if (layer->temperature == scene->model->temperature.number)
		v.state = scene->model->temperature.state;
	return v;
}

static tc_value computed_layer(tc_scene *scene, const tc_layer *layer, uint32_t field)
{
	switch (field) {
	case TC_F_LAYER_DRY_FILM:
		return tc_layer_film(layer, scene->now);
	case TC_F_LAYER_FILM_BELOW:
		return film_below(scene, layer);
	case TC_F_LAYER_FLASH_USED:
		return flash_used(layer);
	case TC_F_LAYER_THINNER_SUITS:
		return thinner_suits(scene, layer);
	case TC_F_LAYER_RECOAT_SAID:
		return tc_truth_value(layer->product->own && layer->product->own[TC_P_RECOAT]);
	case TC_F_LAYER_BATCH_AGE:
		return batch_age(layer, layer->done);
	case TC_F_LAYER_LIVES:
		return lives(scene, layer);
	case TC_F_LAYER_STOOD:
		return batch_age(layer, layer->begun);
	case TC_F_LAYER_AREA_ONLY:
		return tc_truth_value(layer->step && layer->step->written->on_area);
	case TC_F_LAYER_DRIES_AT:
		return dries_at(scene, layer);
	case TC_F_LAYER_AGE:
		return age(scene, layer);
	case TC_F_LAYER_THROUGH_DRY:
		return tc_layer_through_dry(scene->model, layer, scene->now);
	case TC_F_LAYER_CURED:
		return tc_layer_cured(scene->model, layer, scene->now);
	case TC_F_LAYER_SOLVENT_LEFT:
		return tc_bite_solvent_left(scene, layer, scene->now);
	case TC_F_LAYER_SET_TIME:
		return tc_bite_layer(scene, layer, NULL, TC_BITE_SET_TIME, 1);
	case TC_F_LAYER_CLOSED:
		return tc_layer_closed(layer, scene->now);
	case TC_F_LAYER_SURFACE_COOLED:
		return as_temperature(tc_bite_layer(scene, layer, NULL, TC_BITE_COLDEST, 1));
	default:
		return written_layer(layer, field);
	}
}

static double bound_of(const tc_value *arguments)
{
	return tc_known(arguments[1]) ? arguments[1].number : 1;
}

static tc_value called_layer(tc_scene *scene, const tc_layer *layer, uint32_t field, const tc_value *x)
{
	tc_solid solid = tc_solid_of((tc_subject)x->subject, x->is);

	switch (field) {
	case TC_F_LAYER_RED: {
		const tc_liquid_mix *mix = tc_scene_mix(scene, layer);
		return mix ? tc_bite_red(mix, &solid) : tc_unknown(TC_T_NUMBER);
	}
	case TC_F_LAYER_RED_LEAST:
		return tc_bite_layer(scene, layer, &solid, TC_BITE_RED_LEAST, 1);
	case TC_F_LAYER_HOT_TIME:
		return tc_bite_layer(scene, layer, &solid, TC_BITE_HOT_TIME, bound_of(x));
	case TC_F_LAYER_ATTACK:
		return tc_bite_layer(scene, layer, &solid, TC_BITE_DEPTH, 1);
	default:
		return tc_bite_heaviest(scene, layer, &solid, x[1].number);
	}
}

tc_value tc_get_layer(tc_scene *scene, const tc_layer *layer, uint32_t field, const tc_value *arguments)
{
	switch (field) {
	case TC_F_LAYER_RED:
	case TC_F_LAYER_RED_LEAST:
	case TC_F_LAYER_HOT_TIME:
	case TC_F_LAYER_ATTACK:
	case TC_F_LAYER_HEAVIEST_PASS:
		return called_layer(scene, layer, field, arguments);
	case TC_F_LAYER_FILM_THROUGH:
		return film_through(scene, layer, arguments);
	case TC_F_LAYER_REACHES:
		return tc_layer_reaches(scene->model, layer, arguments[0].number, false);
	case TC_F_LAYER_CURED_AT:
		return tc_layer_reaches(scene->model, layer, arguments[0].number, true);
	case TC_F_LAYER_HOLDS_ON:
		return holds_on(scene, layer->product, arguments);
	default:
		return computed_layer(scene, layer, field);
	}
}

/* --- an exposed material ---------------------------------------------------------------------------------------------- */

static tc_value set_value(bool known, uint64_t set)
{
	return known ? (tc_value){.state = TC_SAID, .type = TC_T_SYMBOLS, .set = set} : tc_unknown(TC_T_SYMBOLS);
}

static tc_value scratch(const tc_scene *scene, const tc_exposed *exposed)
{
	if (isnan(exposed->scratch_grain))
		return tc_absent(TC_T_NUMBER);
	double share = tc_library_default(scene->model->library, TC_D_SCRATCH_OF_GRAIN)->value.number;
	return tc_typed(TC_T_NUMBER, exposed->scratch_grain * share);
}

/* A field of the layer that an exposed material is; for a substrate there is no such thing. */
static tc_value layer_field(tc_scene *scene, const tc_exposed *exposed, uint32_t field, const tc_value *arguments)
{
	tc_field_row room;

	if (exposed->layer)
		return tc_get_layer(scene, exposed->layer, field, arguments);
	if (field == TC_F_LAYER_MATERIAL)
		return tc_subject_value(TC_S_PRODUCT, exposed->product);
	if (field == TC_F_LAYER_LABEL)
		return (tc_value){.state = TC_SAID, .type = TC_T_TEXT, .text = exposed->product->label};
	if (field == TC_F_LAYER_OLD || field == TC_F_LAYER_AREA_ONLY)
		return tc_truth_value(false);
	if (field == TC_F_LAYER_COVERED)
		return tc_truth_value(true);
	const tc_field_row *row = tc_field_row_of(field, &room);
	tc_value v = tc_absent(row->type);
	v.subject = (uint8_t)row->of;
	return v;
}

tc_value tc_get_exposed(tc_scene *scene, const tc_exposed *exposed, uint32_t field, const tc_value *arguments)
{
	switch (field) {
	case TC_F_EXPOSED_IS_SUBSTRATE:
		return tc_truth_value(!exposed->layer);
	case TC_F_EXPOSED_WHOLE:
		return tc_truth_value(exposed->whole);
	case TC_F_EXPOSED_SCRATCH:
		return scratch(scene, exposed);
	case TC_F_EXPOSED_ABRADED:
		return tc_truth_value(exposed->abraded);
	case TC_F_EXPOSED_LAST_GRAIN:
		return tc_nan_as(tc_absent(TC_T_NUMBER), TC_T_NUMBER, exposed->scratch_grain);
	case TC_F_EXPOSED_COARSEST_GRAIN:
		return tc_nan_as(tc_absent(TC_T_NUMBER), TC_T_NUMBER, exposed->before_grain);
	case TC_F_EXPOSED_SOIL:
		return set_value(exposed->soil_known, exposed->soil);
	case TC_F_EXPOSED_DONE:
		return set_value(true, exposed->done);
	case TC_F_EXPOSED_TAPED:
		return tc_nan_as(tc_absent(TC_T_NUMBER), TC_T_NUMBER, exposed->taped);
	default:
		return layer_field(scene, exposed, field, arguments);
	}
}

/* --- a liquid and a product -------------------------------------------------------------------------------------------- */

tc_value tc_get_liquid(tc_scene *scene, const tc_liquid *liquid, uint32_t field, const tc_value *arguments)
{
	if (field == TC_F_LIQUID_STAYS) {
		tc_value v = tc_nan_as(tc_unknown(TC_T_NUMBER), TC_T_NUMBER, liquid->stays);
		if (v.state == TC_SAID && liquid->stays_assumed)
			v.state = TC_ASSUMED;
		return v;
	}
	tc_solid solid = tc_solid_of((tc_subject)arguments->subject, arguments->is);
	if (field == TC_F_LIQUID_RED) {
		tc_liquid_mix mix;
		tc_product_mix(scene->worker, liquid->product, NULL, &mix);
		return tc_bite_red(&mix, &solid);
	}
	return tc_bite_liquid(scene, liquid, &solid, field == TC_F_LIQUID_ATTACK ? TC_BITE_DEPTH : TC_BITE_RED_LEAST);
}

tc_value tc_get_product(tc_scene *scene, const tc_product *product, uint32_t field, const tc_value *arguments)
{
	if (field == TC_F_PRODUCT_NAME)
		return (tc_value){.state = TC_SAID, .type = TC_T_TEXT, .text = product->label};
	if (field == TC_F_PRODUCT_HOLDS_ON)
		return holds_on(scene, product, arguments);
	tc_solid solid = tc_solid_of((tc_subject)arguments->subject, arguments->is);
	tc_liquid_mix mix;
	tc_product_mix(scene->worker, product, NULL, &mix);
	return tc_bite_red(&mix, &solid);
}
