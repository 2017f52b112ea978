/* The card as JSON: what it takes, the air, what lies on the parts. */
#include <math.h>

#include "report/card_json.h"

/* --- supply ------------------------------------------------------------------------------------------------------- */

static json_t *pours(tc_card_writing *w, const tc_cupful *cup)
{
	json_t *array = tc_json_array(&w->json);
	for (uint32_t i = 0; i < cup->pours; i++) {
		json_t *pour = tc_json_object(&w->json);
		tc_card_put(w, pour, "name", tc_card_value(w, cup->pour[i].name));
		tc_card_put(w, pour, "parts", tc_card_number(w, cup->pour[i].parts));
		tc_card_put(w, pour, "volume", tc_card_number(w, cup->pour[i].volume));
		tc_json_push(&w->json, array, pour);
	}
	return array;
}

static json_t *cup_of(tc_card_writing *w, const tc_cupful *cup)
{
	json_t *object = tc_json_object(&w->json);
	tc_card_put(w, object, "product", tc_card_value(w, cup->product->label));
	tc_card_put(w, object, "task", tc_card_index(w, cup->task));
	tc_card_put(w, object, "last_task", tc_card_index(w, cup->last_task));
	tc_card_put(w, object, "passes", tc_card_count(w, cup->passes));
	tc_card_put(w, object, "parts", tc_card_parts(w, cup->parts));
	tc_card_put(w, object, "mixed", tc_card_at(w, cup->mixed));
	tc_card_put(w, object, "ready_from", tc_card_at(w, cup->ready_from));
	tc_card_put(w, object, "lives_until", tc_card_at(w, cup->lives_until));
	tc_card_put(w, object, "pours", pours(w, cup));
	tc_card_put(w, object, "ready", tc_card_number(w, cup->ready));
	tc_card_put(w, object, "lands", tc_card_number(w, cup->lands));
	tc_card_put(w, object, "lost", tc_card_number(w, cup->lost));
	tc_card_put(w, object, "left", tc_card_number(w, cup->left));
	tc_card_put(w, object, "transfer", tc_card_number(w, cup->transfer));
	tc_card_put(w, object, "transfer_assumed", json_boolean(cup->transfer_assumed));
	tc_card_put(w, object, "film_assumed", json_boolean(cup->film_assumed));
	tc_card_put(w, object, "estimated", tc_card_parts(w, cup->estimated));
	tc_card_put(w, object, "lacks", tc_card_parts(w, cup->lacks));
	tc_card_put(w, object, "because", tc_card_value(w, cup->because));
	tc_card_put(w, object, "cleaner", tc_card_value(w, cup->cleaner ? cup->cleaner->label : NULL));
	tc_card_put(w, object, "cleanings", tc_card_count(w, cup->cleanings));
	tc_card_put(w, object, "cleaning", tc_card_number(w, cup->cleaning));
	return object;
}

static json_t *purchase_of(tc_card_writing *w, const tc_purchase *p)
{
	json_t *object = tc_json_object(&w->json);
	tc_card_put(w, object, "use", tc_card_value(w, p->use));
	tc_card_put(w, object, "name", tc_card_value(w, p->name));
	tc_card_put(w, object, "family", tc_card_value(w, p->family));
	tc_card_put(w, object, "volume", tc_card_number(w, p->volume));
	tc_card_put(w, object, "more", json_boolean(p->more));
	tc_card_put(w, object, "cleaning", tc_card_number(w, p->cleaning));
	tc_card_put(w, object, "pack", tc_card_number(w, p->pack));
	tc_card_put(w, object, "pack_assumed", json_boolean(p->pack_assumed));
	tc_card_put(w, object, "packs", tc_card_count(w, (uint32_t)(p->packs < UINT32_MAX ? p->packs : UINT32_MAX)));
	tc_card_put(w, object, "price", tc_card_number(w, p->price));
	tc_card_put(w, object, "cost", tc_card_number(w, p->cost));
	tc_card_put(w, object, "left", tc_card_number(w, p->left));
	tc_card_put(w, object, "on_shelf", json_boolean(p->on_shelf));
	tc_card_put(w, object, "steps", tc_card_counts(w, p->step, p->steps));
	return object;
}

json_t *tc_card_supply(tc_card_writing *w)
{
	const tc_supply *s = w->plan->supply;
	json_t *object = tc_json_object(&w->json), *cups = tc_json_array(&w->json),
	       *purchases = tc_json_array(&w->json);
	for (uint32_t i = 0; i < s->cups; i++)
		tc_json_push(&w->json, cups, cup_of(w, &s->cup[i]));
	for (uint32_t i = 0; i < s->purchases; i++)
		tc_json_push(&w->json, purchases, purchase_of(w, &s->purchase[i]));
	tc_card_put(w, object, "cups", cups);
	tc_card_put(w, object, "purchases", purchases);
	tc_card_put(w, object, "cost", tc_card_number(w, s->cost));
	tc_card_put(w, object, "without_price", tc_card_count(w, s->priceless));
	tc_card_put(w, object, "currency", tc_card_value(w, s->currency));
	tc_card_put(w, object, "cleaning", tc_card_number(w, s->cleaning));
	tc_card_put(w, object, "waste", tc_card_number(w, s->waste));
	tc_card_put(w, object, "lacks", tc_card_parts(w, s->lacks));
	return object;
}

/* --- air ---------------------------------------------------------------------------------------------------------- */

static json_t *vapours(tc_card_writing *w, const tc_sitting *s)
{
	json_t *array = tc_json_array(&w->json);
	for (uint32_t i = 0; i < s->vapours; i++) {
		const tc_vapour_in_air *v = &s->vapour[i];
		json_t *object = tc_json_object(&w->json);
		tc_card_put(w, object, "solvent", tc_card_value(w, v->solvent->id));
		tc_card_put(w, object, "mass", tc_card_number(w, v->mass));
		tc_card_put(w, object, "peak", tc_card_number(w, v->peak));
		tc_card_put(w, object, "mean", tc_card_number(w, v->mean));
		tc_card_put(w, object, "mean_8h", tc_card_number(w, v->mean_8h));
		tc_card_put(w, object, "limit", tc_card_number(w, v->limit));
		tc_card_put(w, object, "lel", tc_card_number(w, v->lel));
		tc_json_push(&w->json, array, object);
	}
	return array;
}

static json_t *sitting_of(tc_card_writing *w, const tc_sitting *s)
{
	json_t *object = tc_json_object(&w->json);
	tc_card_put(w, object, "from", tc_card_at(w, s->from));
	tc_card_put(w, object, "to", tc_card_at(w, s->to));
	tc_card_put(w, object, "task", tc_card_count(w, s->task));
	tc_card_put(w, object, "last_task", tc_card_count(w, s->last_task));
	tc_card_put(w, object, "mass", tc_card_number(w, s->mass));
	tc_card_put(w, object, "vapours", vapours(w, s));
	tc_card_put(w, object, "peak_index", tc_card_number(w, s->peak_index));
	tc_card_put(w, object, "mean_index", tc_card_number(w, s->mean_index));
	tc_card_put(w, object, "without_limit", tc_card_count(w, s->unlimited));
	tc_card_put(w, object, "lel_share", tc_card_number(w, s->lel_share));
	tc_card_put(w, object, "without_lel", tc_card_count(w, s->lel_unknown));
	tc_card_put(w, object, "worst", tc_card_at(w, s->worst_breath));
	tc_card_put(w, object, "extraction_for_limits", tc_card_number(w, s->needed_health));
	tc_card_put(w, object, "extraction_for_lel", tc_card_number(w, s->needed_fire));
	tc_card_put(w, object, "clear_after", tc_card_seconds(w, s->clear));
	tc_card_put(w, object, "never_clear", json_boolean(isinf(s->clear)));
	tc_card_put(w, object, "isocyanate", json_boolean(s->isocyanate));
	tc_card_put(w, object, "mist", json_boolean(s->mist));
	tc_card_put(w, object, "dust", json_boolean(s->dust));
	tc_card_put(w, object, "unknown", tc_card_counts(w, s->unknown, s->unknowns));
	return object;
}

json_t *tc_card_room_air(tc_card_writing *w)
{
	const tc_breath *b = w->plan->breath;
	json_t *object = tc_json_object(&w->json), *sittings = tc_json_array(&w->json);
	for (uint32_t i = 0; i < b->sittings; i++)
		tc_json_push(&w->json, sittings, sitting_of(w, &b->sitting[i]));
	tc_card_put(w, object, "room", tc_card_number(w, b->room));
	tc_card_put(w, object, "room_assumed", json_boolean(b->room_assumed));
	tc_card_put(w, object, "extraction", tc_card_number(w, b->extraction));
	tc_card_put(w, object, "extraction_assumed", json_boolean(b->extraction_assumed));
	tc_card_put(w, object, "fresh", tc_card_number(w, b->fresh));
	tc_card_put(w, object, "mixing", tc_card_number(w, b->mixing));
	tc_card_put(w, object, "sittings", sittings);
	tc_card_put(w, object, "worst", tc_card_index(w, b->worst));
	tc_card_put(w, object, "defers", tc_card_value(w, tc_card_air_defers()));
	return object;
}

/* --- parts -------------------------------------------------------------------------------------------------------- */

static json_t *known(tc_card_writing *w, tc_value value)
{
	return tc_known(value) ? tc_card_number(w, value.number) : tc_card_nothing(w);
}

static json_t *layer_of(tc_card_writing *w, const tc_layer *layer, double end)
{
	json_t *object = tc_json_object(&w->json);
	tc_card_put(w, object, "label", tc_card_value(w, layer->product->label));
	tc_card_put(w, object, "family", tc_card_value(w, layer->product->family->id));
	tc_card_put(w, object, "step", layer->step ? tc_card_count(w, layer->step->number) : tc_card_nothing(w));
	tc_card_put(w, object, "role", tc_card_value(w, tc_card_word(w, TC_TEXT("role"), layer->role)));
	tc_card_put(w, object, "coats", tc_card_count(w, layer->coats));
	tc_card_put(w, object, "spot", json_boolean(layer->spot));
	tc_card_put(w, object, "old", json_boolean(layer->old));
	tc_card_put(w, object, "film", known(w, tc_layer_film(layer, end)));
	return object;
}

static json_t *lines_of(tc_card_writing *w, const tc_part *part)
{
	if (!tc_known(part->line_width) && !tc_known(part->line_depth))
		return tc_card_nothing(w);
	json_t *object = tc_json_object(&w->json);
	tc_card_put(w, object, "width", known(w, part->line_width));
	tc_card_put(w, object, "depth", known(w, part->line_depth));
	tc_card_put(w, object, "width_left", known(w, part->width_left));
	tc_card_put(w, object, "depth_left", known(w, part->depth_left));
	return object;
}

json_t *tc_card_all_parts(tc_card_writing *w)
{
	const tc_model *model = w->judgement->model;
	json_t *array = tc_json_array(&w->json);
	for (uint32_t i = 0; i < model->parts; i++) {
		const tc_part *part = &model->part[i];
		json_t *object = tc_json_object(&w->json), *layers = tc_json_array(&w->json);
		for (uint32_t l = 0; l < part->layers; l++)
			tc_json_push(&w->json, layers, layer_of(w, part->layer[l], model->end));
		tc_card_put(w, object, "name", tc_card_value(w, part->written->name));
		tc_card_put(w, object, "substrate", tc_card_value(w, part->written->substrate->label));
		tc_card_put(w, object, "layers", layers);
		tc_card_put(w, object, "lines", lines_of(w, part));
		tc_json_push(&w->json, array, object);
	}
	return array;
}
