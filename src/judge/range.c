/* What a fold ranges over. */
#include "judge/private.h"

/* The number of the first layer (from 0) that does not count as earlier than the anchor, or than the asked question. */
static uint32_t layers_before(const tc_scene *scene, tc_subject of, const void *anchor)
{
	const tc_layer *layer = anchor ? tc_subject_layer(of, anchor) : scene->contact ? scene->contact->coat : NULL;

	if (layer)
		return layer->order - 1;
	if (anchor && of == TC_S_STEP && scene->part)
		for (uint32_t i = 0; i < scene->part->steps; i++)
			if (scene->part->step[i].step == anchor)
				return scene->part->step[i].layers_before;
	if (anchor && of == TC_S_EXPOSED)
		return 0; /* the substrate */
	if (scene->at)
		return scene->at->layer && scene->at->layer->order <= scene->at->layers_before ? scene->at->layer->order - 1
		                                                                             : scene->at->layers_before;
	return scene->part ? scene->part->layers : 0;
}

/* The layers laid after the anchor: whatever is anchored to a layer starts behind that layer itself. */
static uint32_t layers_after(const tc_scene *scene, tc_subject of, const void *anchor)
{
	const tc_layer *layer = anchor ? tc_subject_layer(of, anchor) : scene->contact ? scene->contact->coat : NULL;

	if (layer)
		return layer->order;
	if (anchor && of == TC_S_EXPOSED)
		return 0;
	if (!anchor && scene->at && scene->at->layer)
		return scene->at->layer->order;
	return layers_before(scene, of, anchor);
}

/* The number of the anchor's step among those of the part; the asked one's without an anchor. */
static uint32_t step_index(const tc_scene *scene, tc_subject of, const void *anchor, bool after)
{
	const tc_part *part = scene->part;
	const tc_layer *layer = anchor ? tc_subject_layer(of, anchor) : NULL;
	const tc_step *step = of == TC_S_STEP && anchor ? anchor : layer ? (after ? layer->last_step : layer->step) : NULL;

	if (!step && !anchor && scene->at)
		step = scene->at->step;
	if (!part && step)
		return step->number - (after ? 0 : 1);
	for (uint32_t i = 0; part && i < part->steps; i++)
		if (part->step[i].step == step)
			return i + (after ? 1 : 0);
	return anchor || !part ? 0 : part->steps;
}

static uint32_t part_layers(const tc_scene *scene, uint32_t from, uint32_t to, const void *const **items)
{
	if (!scene->part || from >= to)
		return 0;
	*items = (const void *const *)scene->part->layer + from;
	return to - from;
}

/* Steps of the part, or where the whole recipe is asked, of the recipe. */
static uint32_t some_steps(const tc_scene *scene, uint32_t from, uint32_t to, const void *const **items)
{
	if (from >= to)
		return 0;
	*items = (const void *const *)(scene->part ? scene->part_steps[scene->part->index] : scene->steps) + from;
	return to - from;
}

static uint32_t all(const tc_scene *scene, tc_range range, const void *const **items)
{
	const tc_model *model = scene->model;

	switch (range) {
	case TC_R_ALL_LAYERS:
		if (scene->part)
			return part_layers(scene, 0, scene->part->layers, items);
		*items = (const void *const *)scene->layers;
		return scene->layer_count;
	case TC_R_ALL_STEPS:
		return some_steps(scene, 0, scene->part ? scene->part->steps : model->steps, items);
	case TC_R_ALL_PARTS:
		*items = (const void *const *)scene->parts;
		return model->parts;
	default:
		*items = (const void *const *)model->recipe->product;
		return model->recipe->products;
	}
}

static uint32_t exposed(const tc_scene *scene, const void *const **items)
{
	const tc_surface *surface = scene->at ? &scene->at->before : scene->part ? &scene->part->end : NULL;

	if (!surface || surface->count == 0)
		return 0;
	const void **at = TC_ARRAY(scene->arena, surface->count, const void *);
	if (!at)
		return 0;
	for (uint32_t i = 0; i < surface->count; i++)
		at[i] = &surface->at[i];
	*items = (const void *const *)at;
	return surface->count;
}

/* Each pass of a layer as a layer of one coat. */
static uint32_t passes(const tc_scene *scene, const tc_layer *layer, const void *const **items)
{
	if (!layer || layer->coats == 0)
		return 0;
	tc_layer *one = TC_ARRAY(scene->arena, layer->coats, tc_layer);
	const void **at = TC_ARRAY(scene->arena, layer->coats, const void *);
	if (!one || !at)
		return 0;
	for (uint32_t i = 0; i < layer->coats; i++) {
		one[i] = *layer;
		one[i].coats = 1;
		one[i].pass[0] = layer->pass[i];
		one[i].wet[0] = layer->wet[i];
		one[i].at[0] = one[i].begun = one[i].done = layer->at[i];
		one[i].flash_least = NAN;
		at[i] = &one[i];
	}
	*items = (const void *const *)at;
	return layer->coats;
}

uint32_t tc_get_range(const tc_question *question, tc_range range, tc_subject anchor_of, const void *anchor, tc_subject *of,
    const void *const **items)
{
	const tc_scene *scene = question->user;
	uint32_t last_layer = scene->part ? scene->part->layers : 0, last_step = scene->part ? scene->part->steps : scene->model->steps;

	*of = TC_S_LAYER;
	switch (range) {
	case TC_R_EARLIER_LAYERS:
		return part_layers(scene, 0, layers_before(scene, anchor_of, anchor), items);
	case TC_R_LATER_LAYERS:
		return part_layers(scene, layers_after(scene, anchor_of, anchor), last_layer, items);
	case TC_R_LAYERS_SINCE:
		return part_layers(scene, layers_after(scene, anchor_of, anchor), layers_before(scene, TC_S_STEP, NULL), items);
	case TC_R_EARLIER_STEPS:
		*of = TC_S_STEP;
		return some_steps(scene, 0, step_index(scene, anchor_of, anchor, false), items);
	case TC_R_LATER_STEPS:
		*of = TC_S_STEP;
		return some_steps(scene, step_index(scene, anchor_of, anchor, true), last_step, items);
	case TC_R_STEPS_SINCE:
		*of = TC_S_STEP;
		return some_steps(scene, step_index(scene, anchor_of, anchor, true), step_index(scene, TC_S_STEP, NULL, false), items);
	case TC_R_EXPOSED:
		*of = TC_S_EXPOSED;
		return exposed(scene, items);
	case TC_R_PASSES: {
		const tc_layer *layer = anchor ? tc_subject_layer(anchor_of, anchor) : scene->at ? scene->at->layer : NULL;
		return passes(scene, layer, items);
	}
	case TC_R_ALL_STEPS:
		*of = TC_S_STEP;
		break;
	case TC_R_ALL_PARTS:
		*of = TC_S_PART;
		break;
	case TC_R_ALL_PRODUCTS:
		*of = TC_S_PRODUCT;
		break;
	case TC_R_ALL_LAYERS:
		break;
	}
	return all(scene, range, items);
}
