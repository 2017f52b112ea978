/* Where a value in a reason comes from, and what is needed where one is unknown. */
#include "judge/private.h"

static const char *const names[] = {"said", "assumed", "library", "computed"};

const char *tc_origin_name(tc_origin_kind kind)
{
	return names[kind];
}

/* A figure of a product: the shelf's own, or its family's. */
static void property_origin(const struct tc_leaf_path *path, tc_origin *origin)
{
	const tc_product *product = tc_subject_product(path->of, path->subject);
	tc_property property = (tc_property)(path->field - TC_FIELD_PROPERTY);
	const tc_figure *figure = product ? tc_product_figure(product, property) : NULL;

	if (!figure) {
		origin->kind = TC_FROM_LIBRARY;
		origin->entry = product ? product->family->id : NULL;
		return;
	}
	bool own = product->own && product->own[property] == figure;
	origin->kind = own ? TC_FROM_SAID : path->value.state == TC_ASSUMED ? TC_FROM_ASSUMED : TC_FROM_LIBRARY;
	origin->place = figure->place;
	origin->entry = product->family->id;
	origin->basis = own ? NULL : figure->basis;
}

/* What a question about solvency was computed from, in words. */
static const char *solvency_of(const struct tc_leaf_path *path, tc_arena *arena)
{
	const tc_product *liquid = tc_subject_product(path->of, path->subject);
	tc_value x = path->arguments[0];
	const tc_product *solid = x.type == TC_T_SUBJECT && tc_known(x) ? tc_subject_product((tc_subject)x.subject, x.is) : NULL;

	if (!liquid || !solid)
		return NULL;
	const tc_figure *solvents = tc_product_figure(liquid, TC_P_SOLVENTS);
	bool own = liquid->own && liquid->own[TC_P_SOLVENTS] && liquid->own[TC_P_SOLVENTS] == solvents;
	return tc_arena_print(arena, "solvents of %s%s, solubility sphere of %s", liquid->label, own || !solvents ? "" : " (typical)",
	    solid->label);
}

static void layer_origin(const struct tc_leaf_path *path, const tc_field_row *row, tc_origin *origin, tc_arena *arena)
{
	const tc_layer *layer = tc_subject_layer(path->of, path->subject);

	if (row->arguments && row->arguments[0] == 'X')
		origin->of = solvency_of(path, arena);
	else if (row->cost == 2 && layer)
		origin->of = tc_arena_print(arena, "the times and figures of %s, the plan's waits and temperatures", layer->product->label);
	else if (layer)
		origin->of = tc_arena_print(arena, "the plan for %s", layer->product->label);
	if (layer)
		origin->place = layer->place;
}

static void shop_origin(const tc_scene *scene, const struct tc_leaf_path *path, tc_origin *origin)
{
	static const struct {
		uint32_t field;
		tc_default which;
	} rows[TC_SHOP_FIGURES] = {[TC_SHOP_TEMPERATURE] = {TC_F_SHOP_TEMPERATURE, TC_D_TEMPERATURE},
	    [TC_SHOP_HUMIDITY] = {TC_F_SHOP_HUMIDITY, TC_D_HUMIDITY},
	    [TC_SHOP_AIR_SPEED] = {TC_F_SHOP_AIR_SPEED, TC_D_AIR_SPEED},
	    [TC_SHOP_ROOM] = {TC_F_SHOP_ROOM, TC_D_ROOM},
	    [TC_SHOP_EXTRACTION] = {TC_F_SHOP_EXTRACTION, TC_D_EXTRACTION}};
	const tc_shop *shop = &scene->model->recipe->shop;

	if (path->value.state != TC_ASSUMED) {
		origin->place = shop->place;
		for (size_t i = 0; i < TC_SHOP_FIGURES; i++)
			if (rows[i].field == path->field && shop->said[i].file)
				origin->place = shop->said[i];
		return;
	}
	origin->of = "the workshop's temperature and humidity";
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (rows[i].field == path->field) {
			const tc_figure *figure = tc_library_default(scene->model->library, rows[i].which);
			origin->place = figure->place;
			origin->basis = figure->basis;
			origin->of = NULL;
		}
}

void tc_origin_of(const tc_scene *scene, const struct tc_leaf_path *path, tc_origin *origin, tc_arena *arena)
{
	tc_field_row room;

	*origin = (tc_origin){.kind = path->value.state == TC_ASSUMED ? TC_FROM_ASSUMED : TC_FROM_SAID};
	if (path->field == TC_NONE) { /* what a thing is */
		const tc_product *product = tc_subject_product(path->of, path->subject);
		origin->place = product ? product->place : (tc_place){0};
		origin->entry = product ? product->family->id : NULL;
		return;
	}
	if (path->field >= TC_FIELD_PROPERTY && path->field < TC_FIELD_PROPERTY + TC_PROPERTY_COUNT) {
		property_origin(path, origin);
		return;
	}
	const tc_field_row *row = tc_field_row_of(path->field, &room);
	if (row->unsaid == TC_UNSAID_COMPUTED && path->value.state != TC_ASSUMED)
		origin->kind = row->cost > 0 ? TC_FROM_COMPUTED : TC_FROM_SAID;
	if (path->of == TC_S_SHOP)
		shop_origin(scene, path, origin);
	else if (path->of == TC_S_PART)
		origin->place = ((const tc_part *)path->subject)->written->place;
	else if (path->of == TC_S_STEP)
		origin->place = ((const tc_step *)path->subject)->written->place;
	else
		layer_origin(path, row, origin, arena);
	if (!origin->place.file && scene->at)
		origin->place = scene->at->step->written->place;
}

/* --- needs ------------------------------------------------------------------------------------------------------------ */

static bool need(tc_need *n, const char *datum, const char *where, tc_place place)
{
	*n = (tc_need){datum, where, place};
	return datum && where;
}

/* A thing is known by a kind alone, or a figure of it is not known. */
static bool need_of_product(const tc_product *product, const char *key, tc_need *n, tc_arena *arena)
{
	if (product->family->is_kind)
		return need(n, tc_arena_print(arena, "what %s is", product->label),
		    tc_arena_print(arena, "`%s` is only a kind: name the material itself, or a family nearer to it", product->label),
		    product->place);
	if (!key)
		return need(n, tc_arena_print(arena, "more of %s", product->label),
		    tc_arena_print(arena, "describe %s on the shelf", product->label), product->place);
	const char *where = product->on_shelf
	    ? tc_arena_print(arena, "write `%s: …` at `%s` on the shelf", key, product->label)
	    : tc_arena_print(arena, "put %s on the shelf with its family and `%s: …`", product->label, key);
	return need(n, tc_arena_print(arena, "%s of %s", key, product->label), where, product->place);
}

/* What a question about solvency lacks: the solvents of the liquid, or the sphere of the solid. */
static bool need_of_solvency(const tc_scene *scene, const struct tc_leaf_path *path, tc_need *n, tc_arena *arena)
{
	const tc_product *liquid = tc_subject_product(path->of, path->subject);
	tc_value x = path->arguments[0];
	const tc_product *solid = x.type == TC_T_SUBJECT && tc_known(x) ? tc_subject_product((tc_subject)x.subject, x.is) : NULL;
	const tc_layer *layer = tc_subject_layer(path->of, path->subject);
	tc_liquid_mix mix;

	if (!liquid)
		return false;
	tc_product_mix(scene->worker, liquid, layer ? &layer->thin : NULL, &mix);
	if (mix.state == TC_UNKNOWN)
		return need_of_product(mix.lacks ? mix.lacks : liquid, "solvents", n, arena);
	if (solid && tc_solid_of(TC_S_PRODUCT, solid).state == TC_UNKNOWN)
		return need_of_product(solid, "r0", n, arena);
	if (layer && layer->coats > 0 && isnan(layer->wet[0]))
		return need(n, tc_arena_print(arena, "pass of %s", liquid->label), "write `pass: light` (or mist, medium, wet) at the step",
		    layer->place);
	return need_of_product(liquid, "solids", n, arena);
}

static bool need_of_layer(const struct tc_leaf_path *path, const tc_field_row *row, tc_need *n, tc_arena *arena)
{
	const tc_layer *layer = tc_subject_layer(path->of, path->subject);
	const tc_product *product = tc_subject_product(path->of, path->subject);

	if (layer && layer->product->family->is_kind)
		return need_of_product(layer->product, NULL, n, arena);
	if (layer)
		return need(n, tc_arena_print(arena, "%s of %s", row->name, layer->product->label),
		    tc_arena_print(arena, "say more of %s at its step or on the shelf: %s", layer->product->label, row->help), layer->place);
	return product && need_of_product(product, row->name, n, arena);
}

bool tc_need_of(const tc_scene *scene, const struct tc_leaf_path *path, tc_need *n, tc_arena *arena)
{
	const tc_product *product = path->subject ? tc_subject_product(path->of, path->subject) : NULL;
	tc_field_row room;

	if (path->field == TC_NONE)
		return product && need_of_product(product, NULL, n, arena);
	const tc_field_row *row = tc_field_row_of(path->field, &room);
	if (path->field >= TC_FIELD_PROPERTY)
		return product && need_of_product(product, row->name, n, arena);
	if (row->arguments && row->arguments[0] == 'X')
		return need_of_solvency(scene, path, n, arena);
	if (path->of == TC_S_LAYER || path->of == TC_S_EXPOSED)
		return need_of_layer(path, row, n, arena);
	if (path->of == TC_S_PART) {
		const tc_part *part = path->subject;
		return need(n, tc_arena_print(arena, "%s of %s", row->name, part->written->name),
		    tc_arena_print(arena, "write `%s: …` at the part `%s`", row->name, part->written->name), part->written->place);
	}
	if (path->of == TC_S_STEP && path->subject) {
		const tc_step *step = path->subject;
		return need(n, tc_arena_print(arena, "%s of step %u", row->name, step->number),
		    tc_arena_print(arena, "write `%s: …` at that step", row->name), step->written->place);
	}
	return need(n, tc_arena_print(arena, "%s", row->name), row->help, scene->model->recipe->place);
}
