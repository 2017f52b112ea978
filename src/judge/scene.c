/* The scene: one recipe's model under judgement, and the door through which the evaluator reaches it. */
#include "judge/private.h"

static const void *const *pointers(tc_arena *arena, const void *first, size_t size, uint32_t count)
{
	const void **at = TC_ARRAY(arena, count + 1, const void *);

	if (at)
		for (uint32_t i = 0; i < count; i++)
			at[i] = (const char *)first + i * size;
	return (const void *const *)at;
}

static bool scene_parts(tc_scene *scene)
{
	const tc_model *model = scene->model;
	tc_arena *arena = scene->arena;

	scene->mix = TC_ARRAY(arena, model->parts + 1, const tc_liquid_mix **);
	scene->part_steps = TC_ARRAY(arena, model->parts + 1, const tc_step *const *);
	scene->parts = (const tc_part *const *)pointers(arena, model->part, sizeof *model->part, model->parts);
	scene->steps = (const tc_step *const *)pointers(arena, model->step, sizeof *model->step, model->steps);
	if (!scene->mix || !scene->part_steps || !scene->parts || !scene->steps)
		return false;
	for (uint32_t i = 0; i < model->parts; i++) {
		const tc_part *part = &model->part[i];
		const tc_step **steps = TC_ARRAY(arena, part->steps + 1, const tc_step *);
		scene->mix[i] = TC_ARRAY(arena, part->layers + 1, const tc_liquid_mix *);
		if (!steps || !scene->mix[i])
			return false;
		for (uint32_t s = 0; s < part->steps; s++)
			steps[s] = part->step[s].step;
		scene->part_steps[i] = steps;
	}
	return true;
}

static bool scene_layers(tc_scene *scene)
{
	uint32_t count = 0, n = 0;

	for (uint32_t i = 0; i < scene->model->parts; i++)
		count += scene->model->part[i].layers;
	const tc_layer **layers = TC_ARRAY(scene->arena, count + 1, const tc_layer *);
	if (!layers)
		return false;
	for (uint32_t i = 0; i < scene->model->parts; i++)
		for (uint32_t l = 0; l < scene->model->part[i].layers; l++)
			layers[n++] = scene->model->part[i].layer[l];
	scene->layers = layers;
	scene->layer_count = count;
	return true;
}

tc_scene *tc_scene_new(tc_worker *worker, tc_arena *arena, const tc_model *model)
{
	tc_scene *scene = TC_NEW(arena, tc_scene);

	if (!scene)
		return NULL;
	scene->worker = worker;
	scene->arena = arena;
	scene->model = model;
	return scene_parts(scene) && scene_layers(scene) ? scene : NULL;
}

const tc_product *tc_subject_product(tc_subject of, const void *subject)
{
	switch (of) {
	case TC_S_LAYER:
		return ((const tc_layer *)subject)->product;
	case TC_S_EXPOSED:
		return ((const tc_exposed *)subject)->product;
	case TC_S_LIQUID:
		return ((const tc_liquid *)subject)->product;
	case TC_S_PRODUCT:
		return subject;
	default:
		return NULL;
	}
}

const tc_layer *tc_subject_layer(tc_subject of, const void *subject)
{
	if (of == TC_S_LAYER)
		return subject;
	return of == TC_S_EXPOSED ? ((const tc_exposed *)subject)->layer : NULL;
}

tc_value tc_get_property(tc_subject of, const void *subject, uint32_t field)
{
	const tc_layer *layer = tc_subject_layer(of, subject);
	tc_property property = (tc_property)(field - TC_FIELD_PROPERTY);

	/* what the step says of this very layer stands before what its product says */
	if (layer && property == TC_P_EFFECT)
		return tc_symbol_value(layer->effect);
	if (layer && property == TC_P_SHEEN && layer->sheen != TC_NONE)
		return tc_symbol_value(layer->sheen);
	if (layer && property == TC_P_SHADE && layer->shade != TC_NONE)
		return tc_symbol_value(layer->shade);
	return tc_product_value(tc_subject_product(of, subject), property);
}

static tc_value field(const tc_question *question, uint32_t field, tc_subject of, const void *subject, const tc_value *arguments)
{
	tc_scene *scene = question->user;

	if (field >= TC_FIELD_PROPERTY)
		return tc_get_property(of, subject, field);
	switch (of) {
	case TC_S_ASK:
		return tc_get_ask(scene, question, field);
	case TC_S_RECIPE:
		return tc_get_recipe(scene, field);
	case TC_S_SHOP:
		return tc_get_shop(scene, field);
	case TC_S_PART:
		return tc_get_part(scene, subject, field);
	case TC_S_STEP:
		return tc_get_step(scene, subject, field);
	case TC_S_LAYER:
		return tc_get_layer(scene, subject, field, arguments);
	case TC_S_EXPOSED:
		return tc_get_exposed(scene, subject, field, arguments);
	case TC_S_LIQUID:
		return tc_get_liquid(scene, subject, field, arguments);
	case TC_S_PRODUCT:
		return tc_get_product(scene, subject, field, arguments);
	case TC_SUBJECT_COUNT:
		break;
	}
	return tc_unknown(TC_T_BAD);
}

static const tc_entry *material(const tc_question *question, tc_subject of, const void *subject)
{
	const tc_product *product = tc_subject_product(of, subject);

	(void)question;
	return product ? product->family : NULL;
}

/* A layer prints its label; of two products with one label nobody can tell them apart on the shelf either. */
static void print(const tc_question *question, tc_subject of, const void *subject, tc_buffer *out)
{
	const tc_product *product = tc_subject_product(of, subject);
	const tc_scene *scene = question->user;

	if (product)
		tc_buffer_puts(out, product->label);
	else if (of == TC_S_PART)
		tc_buffer_puts(out, ((const tc_part *)subject)->written->name);
	else if (of == TC_S_STEP)
		tc_buffer_print(out, "step %u", ((const tc_step *)subject)->number);
	else if (of == TC_S_RECIPE)
		tc_buffer_puts(out, scene->model->recipe->title ? scene->model->recipe->title : "the recipe");
	else
		tc_buffer_puts(out, "the workshop");
}

static const tc_getter getter = {.field = field, .range = tc_get_range, .material = material, .print = print};

const tc_getter *tc_scene_getter(void)
{
	return &getter;
}
