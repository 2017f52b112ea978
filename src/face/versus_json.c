/* A comparison as JSON: docs/json.md lists the keys. */
#include <math.h>
#include <string.h>

#include "face/spend.h"
#include "face/versus.h"
#include "report/json_parts.h"

#define FORMAT "tiecoat-versus"
#define VERSION 1u

/* --- findings ---------------------------------------------------------------------------------------------------- */

static json_t *state(tc_json *json, const tc_versus_item *item)
{
	if (!item)
		return tc_json_text(json, NULL);
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "verdict", tc_json_text(json, tc_versus_word(item)));
	tc_json_put(json, object, "weight", tc_json_text(json, tc_verdict_name(tc_versus_weight(item))));
	return object;
}

static json_t *change(tc_json *json, const tc_versus_change *c)
{
	const tc_versus_item *item = c->item;
	const bool gone = c->kind == TC_VERSUS_GONE;
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "change", tc_json_text(json, tc_versus_kind_name(c->kind)));
	tc_json_put(json, object, "counts", json_boolean(c->counts));
	tc_json_put(json, object, "old", state(json, gone ? item : c->was));
	tc_json_put(json, object, "new", state(json, gone ? NULL : item));
	tc_json_put(json, object, "finding",
	    item->finding ? tc_json_finding(json, c->judgement, item->finding) : tc_json_text(json, NULL));
	tc_json_put(json, object, "unused_acceptance",
	    item->unused ? tc_json_acceptance(json, item->unused) : tc_json_text(json, NULL));
	return object;
}

static json_t *findings(tc_json *json, const tc_versus_pair *pair)
{
	json_t *array = tc_json_array(json);
	for (uint32_t i = 0; i < pair->changes; i++)
		tc_json_push(json, array, change(json, &pair->change[i]));
	return array;
}

/* --- figures ----------------------------------------------------------------------------------------------------- */

static json_t *film(tc_json *json, const tc_model *model, const tc_part *part)
{
	double dry;
	if (!part)
		return tc_json_text(json, NULL);
	json_t *object = tc_json_object(json);
	if (!tc_versus_film(model, part, &dry))
		dry = NAN;
	tc_json_put(json, object, "dry_m", tc_json_number(json, dry));
	tc_json_put(json, object, "layers", tc_json_count(json, part->layers));
	return object;
}

static void push_part(tc_json *json, json_t *array, const tc_versus_pair *pair, const char *name)
{
	const tc_model *old = pair->old->model, *new = pair->new->model;
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "part", tc_json_text(json, name));
	tc_json_put(json, object, "old", film(json, old, tc_versus_part(old, name)));
	tc_json_put(json, object, "new", film(json, new, tc_versus_part(new, name)));
	tc_json_push(json, array, object);
}

static json_t *films(tc_json *json, const tc_versus_pair *pair)
{
	const tc_model *old = pair->old->model, *new = pair->new->model;
	json_t *array = tc_json_array(json);
	for (uint32_t i = 0; i < new->parts; i++)
		push_part(json, array, pair, new->part[i].written->name);
	for (uint32_t i = 0; i < old->parts; i++)
		if (!tc_versus_part(new, old->part[i].written->name))
			push_part(json, array, pair, old->part[i].written->name);
	return array;
}

static json_t *cost(tc_json *json, const tc_spend *spend)
{
	if (!spend->priced)
		return tc_json_text(json, NULL);
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "sum", tc_json_number(json, spend->lacks ? NAN : spend->cost));
	tc_json_put(json, object, "lacks", tc_json_text(json, spend->lacks));
	return object;
}

/* Of one version; null where there is none. */
static json_t *side(tc_json *json, const tc_judgement *judgement, const tc_spend *spend)
{
	if (!judgement)
		return tc_json_text(json, NULL);
	const tc_recipe *recipe = judgement->model->recipe;
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "recipe", tc_json_text(json, recipe->title));
	tc_json_put_place(json, object, recipe->place);
	tc_json_put(json, object, "time_s", tc_json_number(json, judgement->model->end));
	tc_json_put(json, object, "steps", tc_json_count(json, judgement->model->steps));
	tc_json_put(json, object, "cost", cost(json, spend));
	tc_json_put(json, object, "summary", tc_json_summary(json, &judgement->summary));
	return object;
}

/* --- the whole --------------------------------------------------------------------------------------------------- */

static json_t *recipe(tc_json *json, const tc_versus_pair *pair)
{
	const bool both = pair->old && pair->new;
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "change", tc_json_text(json, both ? "compared" : pair->new ? "new" : "gone"));
	tc_json_put(json, object, "worse", json_boolean(pair->worse));
	tc_json_put(json, object, "old", side(json, pair->old, &pair->was));
	tc_json_put(json, object, "new", side(json, pair->new, &pair->is));
	tc_json_put(json, object, "findings", findings(json, pair));
	tc_json_put(json, object, "same", tc_json_count(json, pair->same));
	tc_json_put(json, object, "films", both ? films(json, pair) : tc_json_array(json));
	return object;
}

tc_status tc_versus_json(const tc_versus_whole *whole, tc_buffer *out)
{
	tc_json json = {false};
	json_t *object = tc_json_object(&json), *recipes = tc_json_array(&json);
	bool worse = false;
	for (uint32_t i = 0; i < whole->pairs; i++) {
		tc_json_push(&json, recipes, recipe(&json, &whole->pair[i]));
		worse = worse || whole->pair[i].worse;
	}
	tc_json_put(&json, object, "format", tc_json_text(&json, FORMAT));
	tc_json_put(&json, object, "version", tc_json_count(&json, VERSION));
	tc_json_put(&json, object, "rulebook", tc_json_rulebook(&json, whole->rulebook));
	tc_json_put(&json, object, "old", tc_json_text(&json, whole->old));
	tc_json_put(&json, object, "new", tc_json_text(&json, whole->new));
	tc_json_put(&json, object, "at_least", tc_json_text(&json, tc_verdict_name(whole->at_least)));
	tc_json_put(&json, object, "recipes", recipes);
	tc_json_put(&json, object, "worse", json_boolean(worse));
	tc_json_write(&json, object, 0, out);
	tc_buffer_char(out, '\n');
	json_decref(object);
	return json.failed || out->failed ? TC_NO_MEMORY : TC_OK;
}
