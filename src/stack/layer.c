/* What is laid: films pass by pass, solids as thinned, the cup it came from. */
#include "stack/bench.h"

/* --- cups -------------------------------------------------------------------------------------------------------- */

/* Is the product mixed of parts, so that its age in the cup matters? */
static bool is_mixed(const tc_product *product, const tc_mix *mix)
{
	return mix->count > 0 || tc_known(tc_product_value(product, TC_P_MIX)) ||
	       tc_known(tc_product_value(product, TC_P_POT_LIFE));
}

void tc_cup_mix(tc_building *b, const tc_step *step)
{
	const tc_written_step *written = step->written;
	if (!written->with)
		return;
	b->cup[written->with->index] = (tc_cup){.number = ++b->cups,
	    .mixed_at = step->start,
	    .last_used = step->end,
	    .thin = written->thin,
	    .mix = written->mix};
}

/* The cup that a layer is laid from; a new one if there is none of this evening. */
static void take_cup(tc_building *b, tc_layer *layer, double first, double last)
{
	tc_cup *cup = &b->cup[layer->product->index];
	const double keeps = tc_library_default(b->library, TC_D_CUP_KEEPS)->value.number;
	if (cup->number == 0 || first - cup->last_used > keeps)
		*cup = (tc_cup){.number = ++b->cups, .mixed_at = first};
	if (last > cup->last_used)
		cup->last_used = last;
	layer->batch = cup->number;
	if (layer->mix.count == 0)
		layer->mix = cup->mix;
	if (!layer->thin.said)
		layer->thin = cup->thin;
	layer->mixed_at = is_mixed(layer->product, &layer->mix) ? cup->mixed_at : NAN;
}

/* --- films ------------------------------------------------------------------------------------------------------- */

static tc_value solids_of(const tc_product *product, const tc_thin *thin)
{
	tc_value solids = tc_product_value(product, TC_P_SOLIDS);
	if (tc_known(solids) && thin->said)
		solids.number /= 1 + thin->share;
	return solids;
}

/* Adds what a pass leaves to a film. */
static void add_film(tc_value *film, double wet, tc_value solids, bool assumed)
{
	if (film->state == TC_UNKNOWN)
		return;
	if (isnan(wet) || !tc_known(solids)) {
		*film = tc_unknown(TC_T_NUMBER);
		return;
	}
	film->number += wet * solids.number;
	if (assumed || solids.state == TC_ASSUMED)
		film->state = TC_ASSUMED;
}

/* How heavy pass `i` of a step is, and its wet film. */
static void pass_of(tc_building *b, tc_layer *layer, const tc_written_step *written, uint32_t i, uint32_t at)
{
	static const tc_property films[TC_PASS_COUNT] = {
	    TC_P_FILM_MIST, TC_P_FILM_LIGHT, TC_P_FILM_MEDIUM, TC_P_FILM_WET};
	uint8_t pass = written->passes ? written->pass[i] : written->pass[0];
	layer->pass[at] = pass;
	if (written->wet_film.state == TC_SAID) {
		layer->wet[at] = written->wet_film.number;
		return;
	}
	if (pass == TC_PASS_UNSAID) {
		if (!layer->pass_assumed)
			b->model->unsaid_passes++;
		layer->pass_assumed = true;
		layer->pass[at] = pass = (uint8_t)b->pass;
	}
	const tc_value wet = tc_product_value(layer->product, films[pass < TC_PASS_COUNT ? pass : TC_PASS_MEDIUM]);
	layer->wet[at] = tc_known(wet) ? wet.number : NAN;
	layer->wet_assumed |= wet.state != TC_SAID;
}

static void add_passes(tc_building *b, tc_layer *layer, const tc_step *step, const tc_passes *passes, tc_value solids)
{
	for (uint32_t i = 0; i < passes->count; i++) {
		const uint32_t at = layer->coats++;
		pass_of(b, layer, step->written, i, at);
		layer->at[at] = step->start + passes->after[i];
		add_film(&layer->film, layer->wet[at], solids, layer->wet_assumed || layer->pass_assumed);
	}
	layer->done = layer->at[layer->coats - 1];
	layer->flash_assumed |= passes->assumed;
}

/* Fillers, glues and decals are as thick as the step says, or as they usually are. */
static void spot_film(tc_layer *layer, const tc_step *step)
{
	const tc_value depth = step->written->depth;
	layer->spot = true;
	layer->film = depth.state == TC_SAID ? depth : tc_product_value(layer->product, TC_P_FILM_DRY);
	layer->solids = tc_product_value(layer->product, TC_P_SOLIDS);
	layer->wet[0] = tc_known(layer->film) ? layer->film.number : NAN;
	layer->wet_assumed = depth.state != TC_SAID;
	layer->pass[0] = TC_PASS_UNSAID;
	layer->coats = 1;
	layer->at[0] = layer->begun = layer->done = step->start;
	layer->flash_least = NAN;
}

/* --- layers ------------------------------------------------------------------------------------------------------ */

static uint32_t word_or(uint32_t said, const tc_product *product, tc_property property)
{
	if (said != TC_NONE)
		return said;
	const tc_value value = tc_product_value(product, property);
	return tc_known(value) ? value.symbol : TC_NONE;
}

/* What the step says, else the one thing that the family serves as, if it is one. */
static uint32_t role_of(const tc_written_step *written)
{
	if (written->verb != TC_VERB_COAT || written->role != TC_NONE)
		return written->role;
	const uint64_t roles = tc_set_of(written->with, TC_P_ROLES);
	return roles && !(roles & (roles - 1)) ? (uint32_t)__builtin_ctzll(roles) : TC_NONE;
}

static tc_layer *blank_layer(tc_building *b, tc_bench *bench, const tc_product *product)
{
	tc_part *part = bench->part;
	tc_layer *layer = TC_NEW(b->arena, tc_layer);
	if (!layer ||
	    !tc_arena_grow(b->arena, (void **)&bench->laid, part->layers, &bench->laid_room, sizeof *bench->laid))
		return NULL;
	bench->laid[part->layers] = (tc_laid){.layer = layer};
	layer->part = part;
	layer->product = product;
	layer->order = ++part->layers;
	layer->role = layer->method = TC_NONE;
	layer->effect = word_or(TC_NONE, product, TC_P_EFFECT);
	layer->sheen = word_or(TC_NONE, product, TC_P_SHEEN);
	layer->shade = word_or(TC_NONE, product, TC_P_SHADE);
	layer->mixed_at = layer->nozzle = layer->flash_least = NAN;
	return layer;
}

tc_layer *tc_layer_old(tc_building *b, tc_bench *bench, const tc_finish *finish)
{
	tc_layer *layer = blank_layer(b, bench, finish->coat);
	if (!layer)
		return NULL;
	layer->old = true;
	layer->coats = 1;
	layer->pass[0] = TC_PASS_UNSAID;
	layer->wet[0] = NAN;
	layer->solids = tc_product_value(finish->coat, TC_P_SOLIDS);
	layer->film = tc_unknown(TC_T_NUMBER);
	layer->at[0] = layer->begun = layer->done = tc_known(finish->age) ? -finish->age.number : NAN;
	layer->temperature = b->model->temperature.number;
	layer->place = finish->place;
	return layer;
}

tc_layer *tc_layer_lay(tc_building *b, tc_bench *bench, const tc_step *step, const tc_passes *passes)
{
	const tc_written_step *written = step->written;
	tc_layer *layer = blank_layer(b, bench, written->with);
	if (!layer)
		return NULL;
	layer->step = layer->last_step = step;
	layer->place = written->place;
	layer->role = role_of(written);
	layer->effect = word_or(written->effect, written->with, TC_P_EFFECT);
	layer->sheen = word_or(written->sheen, written->with, TC_P_SHEEN);
	layer->shade = word_or(written->shade, written->with, TC_P_SHADE);
	layer->temperature = step->temperature;
	layer->thin = written->thin;
	layer->mix = written->mix;
	if (written->verb != TC_VERB_DECAL)
		take_cup(b, layer, step->start, step->end);
	if (!passes) {
		spot_film(layer, step);
		return layer;
	}
	layer->method = written->method != TC_NONE ? written->method : b->recipe->shop.method;
	if (written->nozzle.state == TC_SAID)
		layer->nozzle = written->nozzle.number;
	layer->solids = solids_of(layer->product, &layer->thin);
	layer->film = tc_number(0);
	layer->flash_least = passes->least;
	add_passes(b, layer, step, passes, layer->solids);
	layer->begun = layer->at[0];
	return layer;
}

/* --- a layer in several steps ------------------------------------------------------------------------------------ */

/* The early window of a product that has a closed middle: until when one may go on with it. */
static double early_window(const tc_product *product)
{
	const tc_value recoat = tc_product_value(product, TC_P_RECOAT);
	return tc_known(recoat) && recoat.window->count > 1 ? recoat.window->spans[0].to : 0;
}

bool tc_layer_goes_on(const tc_bench *bench, const tc_step *step, const tc_passes *passes)
{
	const tc_layer *layer = bench->open;
	const tc_written_step *written = step->written;
	if (!layer || layer->spot || layer->product != written->with || layer->role != role_of(written) ||
	    layer->coats + passes->count > TC_COATS_MAX)
		return false;
	if ((written->effect != TC_NONE && written->effect != layer->effect) ||
	    (written->method != TC_NONE && written->method != layer->method))
		return false;
	const double gap = step->start - layer->done;
	double most = early_window(layer->product);
	if (passes->usual > most)
		most = passes->usual;
	if (written->flashes && written->flash[0] > most)
		most = written->flash[0];
	return tc_compare(gap, most) <= 0;
}

void tc_layer_more(tc_building *b, tc_layer *layer, const tc_step *step, const tc_passes *passes)
{
	const double gap = step->start + passes->after[0] - layer->done;
	const tc_thin *thin = step->written->thin.said ? &step->written->thin : &layer->thin;
	const tc_value solids = solids_of(layer->product, thin);
	tc_cup *cup = &b->cup[layer->product->index];
	if (cup->last_used < step->end)
		cup->last_used = step->end;
	if (layer->coats == 1 || gap < layer->flash_least)
		layer->flash_least = gap;
	if (passes->least < layer->flash_least)
		layer->flash_least = passes->least;
	add_passes(b, layer, step, passes, solids);
	/* of two ways of thinning the one with more thinner bites more */
	if (thin->said && (!layer->thin.said || thin->share > layer->thin.share)) {
		layer->thin = *thin;
		layer->solids = solids;
	}
	layer->last_step = step;
}

/* --- what happens to a layer later ------------------------------------------------------------------------------- */

void tc_layer_lamp(tc_building *b, tc_laid *laid, tc_event event)
{
	tc_layer *layer = laid->layer;
	tc_event *events = (tc_event *)(uintptr_t)layer->lamp;
	if (!tc_arena_grow(b->arena, (void **)&events, layer->lamps, &laid->lamp_room, sizeof *events))
		return;
	events[layer->lamps++] = event;
	layer->lamp = events;
}

void tc_layer_cut(tc_building *b, tc_laid *laid, tc_event event)
{
	tc_layer *layer = laid->layer;
	tc_event *events = (tc_event *)(uintptr_t)layer->cut;
	if (!tc_arena_grow(b->arena, (void **)&events, layer->cuts, &laid->cut_room, sizeof *events))
		return;
	events[layer->cuts++] = event;
	layer->cut = events;
}
