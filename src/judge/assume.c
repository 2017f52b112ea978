/* What nobody said and the defaults supplied, listed so that it can be said. */
#include "judge/private.h"

static const char *print(tc_arena *arena, tc_type type, tc_dim dim, double si)
{
	tc_buffer out;

	tc_buffer_start(&out, tc_arena_allocator(arena));
	tc_quantity_print(&out, type, dim, si, 3, NULL);
	const char *text = out.failed ? NULL : tc_arena_text(arena, out.at ? out.at : "", out.length);
	tc_buffer_free(&out);
	return text;
}

static bool shop(const tc_scene *scene, tc_judgement *j, tc_assumption *list)
{
	const tc_model *m = scene->model;
	const struct {
		const char *what;
		tc_value value;
		tc_dim dim;
		tc_default which;
	} rows[5] = {{"temperature of the workshop", m->temperature, TC_DIM_NONE, TC_D_TEMPERATURE},
	    {"humidity of the workshop", m->humidity, TC_DIM_NONE, TC_D_HUMIDITY},
	    {"air speed across the work", m->air_speed, TC_DIM_SPEED, TC_D_AIR_SPEED},
	    {"volume of the room", m->room, TC_DIM_VOLUME, TC_D_ROOM},
	    {"extraction to the outdoors", m->extraction, TC_DIM_FLOW, TC_D_EXTRACTION}};

	for (int i = 0; i < 5; i++) {
		if (rows[i].value.state != TC_ASSUMED)
			continue;
		const tc_figure *figure = tc_library_default(m->library, rows[i].which);
		tc_assumption a = {.what = rows[i].what,
		    .text = print(scene->arena, (tc_type)rows[i].value.type, rows[i].dim, rows[i].value.number),
		    .basis = figure->basis,
		    .mattered = scene->read_shop[i]};
		if (!a.text)
			return false;
		list[j->assumptions++] = a;
	}
	return true;
}

/* A layer whose film, flash or solvents are its family's usual ones. */
static bool layer(const tc_scene *scene, const tc_layer *l, tc_judgement *j, tc_assumption *list)
{
	const tc_liquid_mix *mix = l->old ? NULL : tc_scene_mix((tc_scene *)scene, l);

	if (!mix || mix->state != TC_ASSUMED || !l->step)
		return true;
	for (uint32_t i = 0; i < l->order - 1; i++)
		if (l->part->layer[i]->product == l->product)
			return true;
	for (uint32_t p = 0; p < l->part->index; p++)
		for (uint32_t i = 0; i < scene->model->part[p].layers; i++)
			if (scene->model->part[p].layer[i]->product == l->product)
				return true;
	const tc_figure *figure = tc_product_figure(l->product, TC_P_SOLVENTS);
	tc_assumption a = {.what = tc_arena_print(scene->arena, "solvents of %s", l->product->label),
	    .text = tc_arena_print(scene->arena, "those usual for %s", l->product->family->name),
	    .basis = figure ? figure->basis : NULL,
	    .mattered = true};
	if (!a.what || !a.text)
		return false;
	list[j->assumptions++] = a;
	return true;
}

bool tc_gather_assumptions(const tc_scene *scene, tc_judgement *j)
{
	tc_assumption *list = TC_ARRAY(scene->arena, 5 + scene->layer_count + 1, tc_assumption);

	if (!list || !shop(scene, j, list))
		return false;
	for (uint32_t i = 0; i < scene->layer_count; i++)
		if (!layer(scene, scene->layers[i], j, list))
			return false;
	j->assumption = list;
	return true;
}
