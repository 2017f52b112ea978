/* What bounds the tasks of a timetable: order and waits as written, flash, windows, ages and pot lives of the materials,
 * and what rules ask for. */
#include "plan/tasks.h"

#include <string.h>

#include "science/potlife.h"

/* --- adding -------------------------------------------------------------------------------------------------------- */

static bool same(const tc_bound *a, const tc_bound *b)
{
	if (a->kind != b->kind || a->from != b->from || a->to != b->to || a->to_end != b->to_end ||
	    a->windows != b->windows || (a->text && b->text && strcmp(a->text, b->text) != 0))
		return false;
	for (uint32_t i = 0; i < a->windows; i++)
		if (a->window[i].from != b->window[i].from || a->window[i].to != b->window[i].to)
			return false;
	return true;
}

/* Parts that are worked on together bound each other in the same way: once is enough. */
bool tc_bound_add(tc_tabling *t, const tc_bound *bound)
{
	for (uint32_t i = 0; i < t->bounds; i++)
		if (same(&t->bound[i], bound))
			return true;
	if (t->bounds == t->bound_room &&
	    !tc_arena_grow(t->arena, (void **)&t->bound, t->bounds, &t->bound_room, sizeof *t->bound))
		return false;
	t->bound[t->bounds++] = *bound;
	return !tc_arena_failed(t->arena);
}

static tc_bound at_least(tc_bound_kind kind, uint32_t from, uint32_t to, double least)
{
	return (tc_bound){.kind = kind, .from = from, .to = to, .windows = 1, .window = {{least, INFINITY}}};
}

static const char *duration(tc_tabling *t, double seconds)
{
	tc_buffer out;
	tc_buffer_start(&out, tc_arena_allocator(t->arena));
	tc_duration_print(&out, seconds);
	const char *text = out.failed ? NULL : tc_arena_text(t->arena, out.at ? out.at : "", out.length);
	tc_buffer_free(&out);
	return text ? text : "";
}

/* --- order and waits ------------------------------------------------------------------------------------------------ */

/* What went on at a body so far. */
typedef struct tc_chain {
	uint32_t task; /* its last; TC_NONE */
	double waits;  /* since then */
	const tc_written_step *wait;
} tc_chain;

static bool follow(tc_tabling *t, tc_chain *chain, uint32_t task)
{
	tc_bound bound = at_least(TC_BOUND_ORDER, chain->task, task, chain->waits);
	if (chain->wait) {
		bound.kind = TC_BOUND_WAIT;
		bound.place = chain->wait->place;
		bound.text = tc_arena_print(t->arena, "the recipe waits %s", duration(t, chain->waits));
	} else {
		bound.text = "one step after the other, as the recipe has them";
		bound.place = t->task[task].step->place;
	}
	return (chain->task == TC_NONE && !chain->wait) || tc_bound_add(t, &bound);
}

/* The pauses between the passes of one step that are tasks of their own. */
static bool flashes(tc_tabling *t, uint32_t step)
{
	for (uint32_t i = t->first[step]; i != TC_NONE && i < t->last[step]; i++) {
		const tc_written_step *written = t->task[i].step;
		const double pause = tc_step_pause(written, t->task[i + 1].pass - 1);
		tc_bound bound = at_least(TC_BOUND_FLASH, i, i + 1, pause);
		bound.assumed = written->flashes == 0;
		bound.place = written->place;
		bound.text = tc_arena_print(t->arena, "%s between passes of %s", duration(t, pause),
		    written->with ? written->with->label : "it");
		if (!tc_bound_add(t, &bound))
			return false;
	}
	return true;
}

static bool waits_and_order(tc_tabling *t)
{
	tc_chain *chain = TC_ARRAY(t->arena, t->bodies, tc_chain);
	if (!chain)
		return false;
	for (uint32_t i = 0; i < t->bodies; i++)
		chain[i].task = TC_NONE;
	for (uint32_t s = 0; s < t->model->steps; s++) {
		const tc_written_step *step = t->model->step[s].written;
		const uint64_t bodies = tc_bodies_of(t, step->parts);
		for (uint32_t b = 0; b < t->bodies; b++) {
			if (!(bodies >> b & 1))
				continue;
			if (t->first[s] == TC_NONE) {
				chain[b].waits += step->wait.state == TC_SAID ? step->wait.number : 0;
				chain[b].wait = chain[b].wait ? chain[b].wait : step;
			} else if (!follow(t, &chain[b], t->first[s])) {
				return false;
			} else {
				chain[b] = (tc_chain){.task = t->last[s]};
			}
		}
		if (!flashes(t, s))
			return false;
	}
	return true;
}

/* --- what materials want --------------------------------------------------------------------------------------------- */

/* The last task that laid a layer; TC_NONE for what came with the part. */
static uint32_t laid_by(const tc_tabling *t, const tc_layer *layer)
{
	return layer && layer->last_step ? t->last[layer->last_step->number - 1] : TC_NONE;
}

static bool is_coating(const tc_layer *layer)
{
	return layer->product->family->sections & 1u << TC_SECTION_COATINGS;
}

static const tc_place *figure_place(const tc_product *product, tc_property property)
{
	const tc_figure *figure = tc_product_figure(product, property);
	return figure && figure->place.file ? &figure->place : &product->place;
}

/* When the next layer may follow on one that it touches. What was abraded takes it at any later time. */
static bool window(tc_tabling *t, const tc_contact *contact, uint32_t to)
{
	const tc_layer *under = contact->under->layer;
	const uint32_t from = laid_by(t, under);
	const tc_value recoat =
	    from == TC_NONE ? tc_absent(TC_T_WINDOW) : tc_product_value(under->product, TC_P_RECOAT);
	if (!contact->direct || !tc_known(recoat) || recoat.window->count > TC_NETWORK_WINDOWS_MAX ||
	    !is_coating(under) || !is_coating(contact->coat))
		return true;
	tc_bound bound = {.kind = TC_BOUND_WINDOW,
	    .from = from,
	    .to = to,
	    .windows = recoat.window->count,
	    .assumed = recoat.state == TC_ASSUMED,
	    .place = *figure_place(under->product, TC_P_RECOAT)};
	memcpy(bound.window, recoat.window->spans, bound.windows * sizeof *bound.window);
	double *last = &bound.window[bound.windows - 1].to;
	if (contact->under->abraded)
		*last = INFINITY;
	const double first = bound.window[0].from;
	if (bound.windows > 1)
		bound.text = tc_arena_print(t->arena,
		    "%s takes the next layer %s to %s after its last pass, and again from %s on", under->product->label,
		    duration(t, first), duration(t, bound.window[0].to), duration(t, bound.window[1].from));
	else if (isinf(*last))
		bound.text = tc_arena_print(
		    t->arena, "%s takes the next layer from %s on", under->product->label, duration(t, first));
	else
		bound.text = tc_arena_print(t->arena, "%s takes the next layer %s to %s after its last pass",
		    under->product->label, duration(t, first), duration(t, *last));
	return tc_bound_add(t, &bound);
}

/* From when on what is exposed may be sanded, polished, masked. */
static bool age(tc_tabling *t, const tc_exposed *exposed, uint32_t to)
{
	static const struct {
		uint32_t verb;
		tc_property property;
		const char *done;
	} wants[] = {{TC_VERB_SAND, TC_P_SAND_AFTER, "sanded"}, {TC_VERB_POLISH, TC_P_POLISH_AFTER, "polished"},
	    {TC_VERB_MASK, TC_P_TAPE_AFTER, "masked"}};
	const uint32_t from = laid_by(t, exposed->layer);
	for (size_t i = 0; from != TC_NONE && i < sizeof wants / sizeof *wants; i++) {
		const tc_product *product = exposed->layer->product;
		const tc_value after = tc_product_value(product, wants[i].property);
		if (t->task[to].step->verb != wants[i].verb || !tc_known(after))
			continue;
		tc_bound bound = at_least(TC_BOUND_AGE, from, to, after.number);
		bound.assumed = after.state == TC_ASSUMED;
		bound.place = *figure_place(product, wants[i].property);
		bound.text = tc_arena_print(
		    t->arena, "%s may be %s from %s on", product->label, wants[i].done, duration(t, after.number));
		if (!tc_bound_add(t, &bound))
			return false;
	}
	return true;
}

static bool part_wants(tc_tabling *t, const tc_part *part)
{
	for (uint32_t i = 0; i < part->steps; i++) {
		const tc_part_step *at = &part->step[i];
		const uint32_t to = t->first[at->step->number - 1];
		for (uint32_t c = 0; to != TC_NONE && c < at->contacts; c++)
			if (!window(t, &at->contact[c], to))
				return false;
		for (uint32_t e = 0; to != TC_NONE && e < at->before.count; e++)
			if (!age(t, &at->before.at[e], to))
				return false;
	}
	return true;
}

/* --- cups ------------------------------------------------------------------------------------------------------------ */

/* A layer that is laid from a cup which a step of its own has mixed: not before it has stood, nor after it has died. Both
 * count from when mixing begins. */
static bool stand(tc_tabling *t, const tc_layer *layer, uint32_t mix)
{
	const tc_product *product = layer->product;
	const tc_value said = t->task[mix].step->time;
	const tc_value stands = said.state == TC_SAID ? said : tc_product_value(product, TC_P_INDUCTION);
	if (!tc_known(stands))
		return true;
	tc_bound bound =
	    at_least(TC_BOUND_POT, mix, t->first[layer->step->number - 1], stands.number - t->task[mix].lasts);
	bound.place = said.state == TC_SAID ? t->task[mix].step->place : *figure_place(product, TC_P_INDUCTION);
	bound.assumed = stands.state == TC_ASSUMED;
	bound.text =
	    tc_arena_print(t->arena, "the mix of %s stands %s before use", product->label, duration(t, stands.number));
	return tc_bound_add(t, &bound);
}

static bool live(tc_tabling *t, const tc_layer *layer, uint32_t mix)
{
	const tc_product *product = layer->product;
	const tc_value life = tc_product_value(product, TC_P_POT_LIFE), at = tc_product_value(product, TC_P_CURE_AT);
	const double factor = tc_library_default(t->model->library, TC_D_POT_LIFE_FACTOR)->value.number;
	double lives;
	if (!tc_known(life) || !tc_known(at) ||
	    !tc_pot_life(life.number, at.number, factor, layer->temperature, &lives))
		return true;
	const tc_bound bound = {.kind = TC_BOUND_POT,
	    .from = mix,
	    .to = t->last[layer->last_step->number - 1],
	    .to_end = true,
	    .windows = 1,
	    .window = {{-INFINITY, lives - t->task[mix].lasts}},
	    .assumed = life.state == TC_ASSUMED,
	    .place = *figure_place(product, TC_P_POT_LIFE),
	    .text = tc_arena_print(t->arena, "the mix of %s lives %s", product->label, duration(t, lives))};
	return tc_bound_add(t, &bound);
}

static bool pots(tc_tabling *t, const tc_part *part)
{
	for (uint32_t i = 0; i < part->layers; i++) {
		const tc_layer *layer = part->layer[i];
		for (uint32_t s = 0; layer->step && s < layer->step->number; s++) {
			const tc_step *step = &t->model->step[s];
			if (step->written->verb == TC_VERB_MIX && step->written->with == layer->product &&
			    step->start == layer->mixed_at &&
			    !(stand(t, layer, t->last[s]) && live(t, layer, t->last[s])))
				return false;
		}
	}
	return true;
}

/* --- rules ------------------------------------------------------------------------------------------------------------ */

uint32_t tc_task_before(const tc_tabling *t, uint32_t task, uint32_t body)
{
	for (uint32_t i = task; i-- > 0;)
		if (t->task[i].step != t->task[task].step && tc_bodies_of(t, t->task[i].parts) >> body & 1)
			return i;
	return TC_NONE;
}

static bool asked(tc_tabling *t, const tc_asked *a)
{
	const uint32_t to = t->first[a->step - 1];
	const uint32_t from = a->after ? t->last[a->after - 1] : tc_task_before(t, to, t->body[a->part]);
	const tc_bound bound = {.kind = TC_BOUND_RULE,
	    .from = from,
	    .to = to,
	    .windows = 1,
	    .window = {{a->least, a->most}},
	    .place = a->place,
	    .rule = a->rule,
	    .text = a->text};
	return to == TC_NONE || from == TC_NONE || tc_bound_add(t, &bound);
}

bool tc_bounds_gather(tc_tabling *t, const tc_asked *more, uint32_t count)
{
	if (!waits_and_order(t))
		return false;
	for (uint32_t i = 0; i < t->model->parts; i++)
		if (!part_wants(t, &t->model->part[i]) || !pots(t, &t->model->part[i]))
			return false;
	for (uint32_t i = 0; i < count; i++)
		if (!asked(t, &more[i]))
			return false;
	return true;
}
