/* The passes of a plan one by one: which film, how much of it on which part, how it is put on. */
#include <math.h>
#include <stdlib.h>

#include "plan/supply_private.h"

#include "science/quantities.h"

double tc_tool_figure(const tc_entry *tool, tc_property property)
{
	const tc_value value = tool ? tc_entry_value(tool, property) : tc_unknown(TC_T_NUMBER);
	return tc_known(value) ? value.number : NAN;
}

/* --- ways of putting on ------------------------------------------------------------------------------------------ */

static bool is_yes(tc_value value)
{
	return tc_known(value) && value.truth == TC_TRUE;
}

static const tc_entry *tool_of_word(const tc_supplying *s, uint32_t word)
{
	const tc_entry *tool = tc_library_by_id(s->model->library, tc_text_of(s->methods->words[word]));
	return tool && tool->section == TC_SECTION_METHODS ? tool : NULL;
}

/* As the recipe says; what drives itself out can only come as what does so. */
static const tc_entry *tool_of(const tc_supplying *s, const tc_layer *layer)
{
	if (!s->methods)
		return NULL;
	if (layer->method != TC_NONE)
		return tool_of_word(s, layer->method);
	if (!is_yes(tc_product_value(layer->product, TC_P_PROPELLED)))
		return NULL;
	for (uint32_t i = 0; i < s->methods->count; i++) {
		const tc_entry *tool = tool_of_word(s, i);
		if (tool && is_yes(tc_entry_value(tool, TC_P_PROPELLED)))
			return tool;
	}
	return NULL;
}

/* The product's own figure, else that of the way of putting on, else the family's. */
static double transfer_of(const tc_layer *layer, const tc_entry *tool)
{
	const tc_product *product = layer->product;
	const tc_value usual = tc_product_value(product, TC_P_TRANSFER);
	const double by_tool = tc_tool_figure(tool, TC_P_TRANSFER);
	if (!isnan(by_tool) && !(product->own && product->own[TC_P_TRANSFER]))
		return by_tool;
	return tc_known(usual) ? usual.number : NAN;
}

/* --- what each step lays ------------------------------------------------------------------------------------------ */

/* For each part and step the layer and its first pass; NULL: out of memory. */
static tc_laid_by *steps_of_parts(const tc_supplying *s)
{
	const tc_model *model = s->model;
	const size_t width = (size_t)model->recipe->steps + 1;
	tc_laid_by *by = TC_ARRAY(s->arena, width * (model->parts + 1), tc_laid_by);
	for (uint32_t p = 0; by && p < model->parts; p++) {
		const tc_layer *layer = NULL;
		uint32_t passes = 0;
		for (uint32_t i = 0; i < model->part[p].steps; i++) {
			const tc_part_step *step = &model->part[p].step[i];
			if (!step->layer)
				continue;
			passes = step->layer == layer ? passes : 0;
			layer = step->layer;
			by[p * width + step->step->written->number] = (tc_laid_by){layer, passes};
			passes += step->step->written->coats ? step->step->written->coats : 1;
		}
	}
	return by;
}

static bool add(tc_supplying *s, const tc_laying *laying)
{
	tc_supply *supply = s->supply;
	if (!tc_arena_grow(s->arena, (void **)&s->laying, supply->layings, &s->layings_room, sizeof *s->laying))
		return false;
	s->laying[supply->layings++] = *laying;
	return true;
}

static bool add_pass(tc_supplying *s, uint32_t task, uint32_t part, const tc_layer *layer, uint32_t pass, double takes)
{
	const tc_value area = layer->part->written->area;
	tc_laying l = {.task = task,
	    .cup = TC_NONE,
	    .part = part,
	    .layer = layer,
	    .pass = pass,
	    .at = layer->at[pass],
	    .takes = takes,
	    .lands = NAN,
	    .uses = NAN,
	    .transfer = NAN};
	if (!layer->spot) {
		l.tool = tool_of(s, layer);
		l.transfer = transfer_of(layer, l.tool);
		const tc_value sprays = l.tool ? tc_entry_value(l.tool, TC_P_SPRAYS) : tc_unknown(TC_T_TRUTH);
		l.sprayed = !(tc_known(sprays) && sprays.truth == TC_FALSE);
		if (tc_known(area) && !isnan(layer->wet[pass])) {
			l.lands = area.number * layer->wet[pass];
			if (!tc_quantity_sprayed(area.number, layer->wet[pass], 1, l.transfer, 0, &l.uses))
				l.uses = NAN;
		}
	}
	return add(s, &l);
}

/* How long one pass of a task takes to put on. */
static double takes_of(const tc_supplying *s, const tc_task *task, const tc_laid_by *by)
{
	if (!s->timed || by->layer->spot)
		return 0;
	return fmax(0, by->layer->at[by->pass + task->pass] - task->start);
}

static bool add_task(tc_supplying *s, uint32_t number, const tc_laid_by *by)
{
	const tc_task *task = &s->table->task[number];
	const size_t width = (size_t)s->model->recipe->steps + 1;
	for (uint32_t p = 0; p < s->model->parts; p++) {
		const tc_laid_by *at = &by[p * width + task->step->number];
		if (!(task->parts >> p & 1) || !at->layer || at->layer->product != task->step->with)
			continue;
		const uint32_t first = at->pass + task->pass, passes = task->passes ? task->passes : 1;
		if (first + passes > at->layer->coats)
			continue;
		const double takes = takes_of(s, task, at);
		for (uint32_t i = first; i < first + passes; i++)
			if (!add_pass(s, number, p, at->layer, i, takes))
				return false;
	}
	return true;
}

static int by_time(const void *left, const void *right)
{
	const tc_laying *a = left, *b = right;
	if (a->at != b->at)
		return a->at < b->at ? -1 : 1;
	if (a->task != b->task)
		return a->task < b->task ? -1 : 1;
	if (a->pass != b->pass)
		return a->pass < b->pass ? -1 : 1;
	return a->part < b->part ? -1 : a->part > b->part;
}

bool tc_lay_gather(tc_supplying *s)
{
	const tc_laid_by *by = steps_of_parts(s);
	if (!by)
		return false;
	for (uint32_t i = 0; i < s->table->tasks; i++) {
		const uint32_t verb = s->table->task[i].step->verb;
		if ((verb == TC_VERB_COAT || verb == TC_VERB_FILL || verb == TC_VERB_GLUE) && !add_task(s, i, by))
			return false;
	}
	if (s->supply->layings > 1)
		qsort(s->laying, s->supply->layings, sizeof *s->laying, by_time);
	return true;
}
