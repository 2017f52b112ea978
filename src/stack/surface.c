/* What is exposed at each moment. */
#include <string.h>

#include "stack/bench.h"

/* --- the list ---------------------------------------------------------------------------------------------------- */

tc_surface tc_surface_see(tc_bench *bench)
{
	bench->shared = true;
	return (tc_surface){bench->shown, bench->now};
}

/* Makes `now` writable, with room for `more` materials. False: out of memory, and nothing may be written. */
static bool own(tc_building *b, tc_bench *bench, uint32_t more)
{
	if (!bench->shared && bench->shown + more <= bench->room)
		return true;
	const uint32_t room = bench->shown + more + 1;
	tc_exposed *copy = TC_ARRAY(b->arena, room, tc_exposed);
	if (!copy)
		return false;
	if (bench->shown)
		memcpy(copy, bench->now, bench->shown * sizeof *copy);
	bench->now = copy;
	bench->room = room;
	bench->shared = false;
	return true;
}

static const tc_exposed *find(tc_surface surface, const tc_layer *layer)
{
	for (uint32_t i = 0; i < surface.count; i++)
		if (surface.at[i].layer == layer)
			return &surface.at[i];
	return NULL;
}

/* Oldest material first: the substrate, then layers by their order. */
static void put(tc_bench *bench, tc_exposed e)
{
	uint32_t i = bench->shown++;
	const uint32_t order = e.layer ? e.layer->order : 0;
	for (; i > 0 && (bench->now[i - 1].layer ? bench->now[i - 1].layer->order : 0) > order; i--)
		bench->now[i] = bench->now[i - 1];
	bench->now[i] = e;
}

static tc_exposed fresh(const tc_bench *bench, const tc_layer *layer, const tc_product *product, bool whole)
{
	const tc_value carries = tc_product_value(product, TC_P_CARRIES);
	return (tc_exposed){.part = bench->part,
	    .layer = layer,
	    .product = product,
	    .whole = whole,
	    .scratch_grain = NAN,
	    .before_grain = NAN,
	    .soil = tc_known(carries) ? carries.set : 0,
	    .soil_known = carries.state != TC_UNKNOWN,
	    .done = layer ? tc_set_of(product, TC_P_PREPARES) : 0,
	    .taped = NAN};
}

/* Where it is kept how a material was when it was covered. */
static const tc_exposed **last_of(tc_bench *bench, const tc_layer *layer)
{
	return layer ? &tc_laid_of(bench, layer)->last : &bench->ground;
}

bool tc_surface_start(tc_building *b, tc_bench *bench)
{
	if (!own(b, bench, 1))
		return false;
	put(bench, fresh(bench, NULL, bench->part->written->substrate, true));
	return true;
}

/* --- laying ------------------------------------------------------------------------------------------------------ */

bool tc_surface_cover(tc_building *b, tc_bench *bench, const tc_layer *layer)
{
	const tc_surface before = tc_surface_see(bench);
	tc_exposed *only = TC_ARRAY(b->arena, 2, tc_exposed);
	if (!only)
		return false;
	bench->shown = 0;
	for (uint32_t i = 0; i < before.count; i++) {
		if (before.at[i].layer == layer)
			only[bench->shown++] = before.at[i];
		else
			*last_of(bench, before.at[i].layer) = &before.at[i];
	}
	bench->now = only;
	bench->room = 2;
	bench->shared = false;
	return true;
}

bool tc_surface_lay(tc_building *b, tc_bench *bench, tc_layer *layer, bool covers)
{
	tc_laid_of(bench, layer)->on = tc_surface_see(bench);
	if (covers && !tc_surface_cover(b, bench, layer))
		return false;
	if (!own(b, bench, 1))
		return false;
	put(bench, fresh(bench, layer, layer->product, !layer->spot));
	return true;
}

/* --- cleaning and rubbing ---------------------------------------------------------------------------------------- */

void tc_surface_clean(tc_building *b, tc_bench *bench, uint64_t removes, uint64_t leaves, uint64_t prepares)
{
	bool change = false;
	for (uint32_t i = 0; i < bench->shown; i++) {
		const tc_exposed *e = &bench->now[i];
		change |= ((e->soil & ~removes) | leaves) != e->soil || (e->done | prepares) != e->done;
	}
	if (!change || !own(b, bench, 0))
		return;
	for (uint32_t i = 0; i < bench->shown; i++) {
		bench->now[i].soil = (bench->now[i].soil & ~removes) | leaves;
		bench->now[i].done |= prepares;
	}
}

void tc_surface_wait(tc_building *b, tc_bench *bench)
{
	if (!b->waiting)
		return;
	for (uint32_t i = b->waiting->index + 1; i <= b->waiting->last; i++) {
		const tc_entry *entry = tc_library_entry(b->library, i);
		const tc_value takes = tc_entry_value(entry, TC_P_TOUCH_TIME);
		if (!entry->is_kind && tc_known(takes) && tc_compare(bench->waited, takes.number) >= 0)
			tc_surface_clean(
			    b, bench, tc_entry_set(entry, TC_P_REMOVES), 0, tc_entry_set(entry, TC_P_PREPARES));
	}
}

void tc_surface_rub(tc_building *b, tc_bench *bench, double grain, bool scuffs)
{
	if (!own(b, bench, 0))
		return;
	for (uint32_t i = 0; i < bench->shown; i++) {
		tc_exposed *e = &bench->now[i];
		if (scuffs || !isnan(grain)) {
			e->before_grain = e->scratch_grain;
			e->scratch_grain = grain;
		}
		e->abraded |= scuffs;
	}
}

/* What lies right under a layer comes out beside it, as it was when it was covered. */
static void come_out(tc_building *b, tc_bench *bench, const tc_layer *layer)
{
	const tc_surface on = tc_laid_of(bench, layer)->on;
	if (!own(b, bench, on.count))
		return;
	for (uint32_t i = 0; i < on.count; i++) {
		const tc_layer *below = on.at[i].layer;
		const tc_exposed **last = last_of(bench, below);
		if (!*last || find((tc_surface){bench->shown, bench->now}, below))
			continue;
		tc_exposed e = **last;
		e.whole = false;
		*last = NULL;
		put(bench, e);
	}
}

void tc_surface_cut(tc_building *b, tc_bench *bench, double cut, const tc_step *step)
{
	const tc_layer *layers[TC_EXPOSED_MAX];
	uint32_t count = 0;
	if (isnan(cut) || cut <= 0)
		return;
	for (uint32_t i = 0; i < bench->shown && count < TC_EXPOSED_MAX; i++)
		if (bench->now[i].layer)
			layers[count++] = bench->now[i].layer;
	for (uint32_t i = 0; i < count; i++) {
		const tc_value film = tc_layer_film(layers[i], step->end);
		tc_layer_cut(b, tc_laid_of(bench, layers[i]), (tc_event){step->end, cut, step->number});
		if (tc_known(film) && tc_compare(film.number, cut) < 0)
			come_out(b, bench, layers[i]);
	}
}

void tc_surface_strip(tc_building *b, tc_bench *bench, const tc_step *step)
{
	for (uint32_t i = 0; i < bench->part->layers; i++)
		if (!bench->laid[i].layer->spot)
			tc_layer_cut(b, &bench->laid[i], (tc_event){step->end, HUGE_VAL, step->number});
	const tc_surface before = tc_surface_see(bench);
	tc_exposed *bare = TC_ARRAY(b->arena, TC_EXPOSED_MAX, tc_exposed);
	if (!bare)
		return;
	const tc_exposed ground = bench->ground ? *bench->ground : *find(before, NULL);
	bench->now = bare;
	bench->room = TC_EXPOSED_MAX;
	bench->shown = 0;
	bench->shared = false;
	put(bench, ground);
	bench->now[0].whole = true;
	bench->ground = NULL;
	/* fillers and glues stay where they are */
	for (uint32_t i = 0; i < bench->part->layers; i++) {
		tc_laid *laid = &bench->laid[i];
		const tc_exposed *shown = laid->last ? laid->last : find(before, laid->layer);
		if (!laid->layer->spot || laid->layer->step->written->verb == TC_VERB_DECAL || !shown)
			continue;
		put(bench, *shown);
		laid->last = NULL;
	}
}

/* --- tape -------------------------------------------------------------------------------------------------------- */

static void tape_for(tc_exposed *e, double seconds)
{
	e->taped = isnan(e->taped) ? seconds : e->taped + seconds;
}

void tc_surface_tape(tc_building *b, tc_bench *bench, double now)
{
	if (bench->taped || !own(b, bench, 0))
		return;
	for (uint32_t i = 0; i < bench->shown; i++)
		tape_for(&bench->now[i], 0);
	bench->taped = true;
	bench->taped_from = now;
	bench->under_tape = tc_surface_see(bench);
}

void tc_surface_untape(tc_building *b, tc_bench *bench, double now)
{
	const tc_surface kept = bench->under_tape;
	if (!bench->taped || !own(b, bench, kept.count))
		return;
	for (uint32_t i = 0; i < kept.count; i++) {
		const tc_layer *layer = kept.at[i].layer;
		tc_exposed *e = (tc_exposed *)(uintptr_t)find((tc_surface){bench->shown, bench->now}, layer);
		if (!e) {
			put(bench, kept.at[i]);
			*last_of(bench, layer) = NULL;
			e = (tc_exposed *)(uintptr_t)find((tc_surface){bench->shown, bench->now}, layer);
		}
		tape_for(e, now - bench->taped_from);
	}
	bench->taped = false;
}
