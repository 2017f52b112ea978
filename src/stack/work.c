/* What each verb does to a part: what meets what, and what is exposed afterwards. */
#include "stack/work.h"

/* --- liquids ----------------------------------------------------------------------------------------------------- */

/* A liquid wets everything that is exposed, and goes through what is thin. */
static bool touch(tc_building *b, const tc_bench *bench, const tc_step *step, const tc_product *product,
    tc_part_step *seen, tc_surface surface)
{
	const tc_value usual = tc_product_value(product, TC_P_TOUCH_TIME);
	const bool said = step->written->time.state == TC_SAID;
	const tc_contact *met = NULL;
	tc_liquid *liquid = TC_NEW(b->arena, tc_liquid);
	const uint32_t count = tc_contacts_of(b, bench, surface, NULL, step->start, &met);
	tc_touch *touches = TC_ARRAY(b->arena, count, tc_touch);
	if (!liquid || !touches || (count && !met))
		return false;
	*liquid = (tc_liquid){.product = product,
	    .step = step,
	    .stays = said              ? step->written->time.number
	             : tc_known(usual) ? usual.number
	                               : NAN,
	    .stays_assumed = !said};
	for (uint32_t i = 0; i < count; i++)
		touches[i] = (tc_touch){.liquid = liquid,
		    .under = met[i].under,
		    .direct = met[i].direct,
		    .film_between = met[i].film_between};
	seen->touches = count;
	seen->touch = touches;
	return true;
}

static void apply(tc_building *b, tc_bench *bench, const tc_product *product)
{
	tc_surface_clean(b, bench, tc_set_of(product, TC_P_REMOVES), tc_set_of(product, TC_P_LEAVES),
	    tc_set_of(product, TC_P_PREPARES));
}

static bool clean(tc_building *b, tc_bench *bench, const tc_step *step, tc_part_step *seen)
{
	const tc_product *agent = step->written->with;
	if (!agent)
		return true;
	if (!touch(b, bench, step, agent, seen, seen->before))
		return false;
	if (step->written->verb == TC_VERB_STRIP)
		tc_surface_strip(b, bench, step);
	apply(b, bench, agent);
	return true;
}

/* --- abrasives --------------------------------------------------------------------------------------------------- */

static void rub(tc_building *b, tc_bench *bench, const tc_step *step, const tc_product *abrasive, bool scuffs)
{
	const uint64_t kept_off = step->written->wet ? UINT64_MAX : b->dusted;
	tc_surface_cut(b, bench, tc_figure_of(abrasive, TC_P_CUT), step);
	tc_surface_rub(b, bench, tc_figure_of(abrasive, TC_P_GRAIN), scuffs);
	tc_surface_clean(b, bench, tc_set_of(abrasive, TC_P_REMOVES), tc_set_of(abrasive, TC_P_LEAVES) & ~kept_off,
	    tc_set_of(abrasive, TC_P_PREPARES));
}

/* A compound is a liquid too, where it is no paper or pad. */
static bool polish(tc_building *b, tc_bench *bench, const tc_step *step, tc_part_step *seen)
{
	const tc_product *compound = step->written->with;
	if (step->written->grade)
		rub(b, bench, step, step->written->grade, false);
	if (!compound)
		return true;
	if (compound->family->sections & ~(1u << TC_SECTION_ABRASIVES) &&
	    !touch(b, bench, step, compound, seen, seen->before))
		return false;
	rub(b, bench, step, compound, false);
	return true;
}

/* --- laying ------------------------------------------------------------------------------------------------------ */

/* A coat covers unless its film is known to be too thin to close. */
static bool covers(const tc_layer *layer, double now)
{
	const tc_value closed = tc_layer_closed(layer, now);
	return !layer->spot && !(tc_known(closed) && closed.truth == TC_FALSE);
}

static bool go_on(tc_building *b, tc_bench *bench, const tc_step *step, const tc_passes *passes, tc_part_step *seen)
{
	tc_layer *layer = bench->open;
	const bool covered = covers(layer, layer->done);
	tc_layer_more(b, layer, step, passes);
	seen->layer = layer;
	return covered || !covers(layer, layer->done) || tc_surface_cover(b, bench, layer);
}

static bool lay(tc_building *b, tc_bench *bench, const tc_step *step, const tc_passes *passes, tc_part_step *seen)
{
	if (!step->written->with)
		return true;
	if (passes && tc_layer_goes_on(bench, step, passes))
		return go_on(b, bench, step, passes, seen);
	tc_layer *layer = tc_layer_lay(b, bench, step, passes);
	if (!layer)
		return false;
	seen->layer = layer;
	seen->contacts = tc_contacts_of(b, bench, seen->before, layer, step->start, &seen->contact);
	for (uint32_t i = 0; passes && i < seen->before.count; i++)
		if (seen->before.at[i].layer)
			tc_laid_of(bench, seen->before.at[i].layer)->layer->covered = true;
	return tc_surface_lay(b, bench, layer, covers(layer, layer->done));
}

static bool decal(tc_building *b, tc_bench *bench, const tc_step *step, tc_part_step *seen)
{
	if (!lay(b, bench, step, NULL, seen))
		return false;
	const tc_product *softener = step->written->softener;
	if (!softener)
		return true;
	if (!touch(b, bench, step, softener, seen, tc_surface_see(bench)))
		return false;
	apply(b, bench, softener);
	return true;
}

/* --- lamp, lines, tape ------------------------------------------------------------------------------------------- */

/* The lamp reaches every light-curing layer of the part, and does what it does to a surface to all that is exposed. */
static void cure(tc_building *b, tc_bench *bench, const tc_step *step)
{
	const tc_value time = step->written->time;
	for (uint32_t i = 0; i < bench->part->layers; i++) {
		tc_laid *laid = &bench->laid[i];
		const tc_value by = tc_product_value(laid->layer->product, TC_P_CURE);
		if (!tc_known(by) || by.symbol != TC_CURE_LIGHT)
			continue;
		const double usual = tc_figure_of(laid->layer->product, TC_P_LAMP_TIME);
		const bool said = time.state == TC_SAID;
		laid->layer->lamp_said |= said;
		tc_layer_lamp(b, laid, (tc_event){step->end, said ? time.number : usual, step->number});
	}
	if (b->lamp)
		tc_surface_clean(b, bench, tc_entry_set(b->lamp, TC_P_REMOVES), tc_entry_set(b->lamp, TC_P_LEAVES),
		    tc_entry_set(b->lamp, TC_P_PREPARES));
}

static void scribe(tc_bench *bench, const tc_written_step *written)
{
	tc_part *part = bench->part;
	if (written->width.state == TC_SAID)
		part->line_width = written->width;
	if (written->depth.state == TC_SAID)
		part->line_depth = written->depth;
	part->line_from = part->layers;
}

/* --- steps ------------------------------------------------------------------------------------------------------- */

static bool lays(uint32_t verb)
{
	return verb == TC_VERB_COAT || verb == TC_VERB_FILL || verb == TC_VERB_GLUE || verb == TC_VERB_DECAL;
}

static bool do_verb(tc_building *b, tc_bench *bench, const tc_step *step, const tc_passes *passes, tc_part_step *seen)
{
	switch (step->written->verb) {
	case TC_VERB_WASH:
	case TC_VERB_DEGREASE:
	case TC_VERB_CLEAN:
	case TC_VERB_WIPE:
	case TC_VERB_STRIP:
		return clean(b, bench, step, seen);
	case TC_VERB_SAND:
		if (step->written->with)
			rub(b, bench, step, step->written->with, true);
		return true;
	case TC_VERB_POLISH:
		return polish(b, bench, step, seen);
	case TC_VERB_DUST:
		if (step->written->with)
			apply(b, bench, step->written->with);
		return true;
	case TC_VERB_COAT:
		return lay(b, bench, step, passes, seen);
	case TC_VERB_FILL:
	case TC_VERB_GLUE:
		return lay(b, bench, step, NULL, seen);
	case TC_VERB_DECAL:
		return decal(b, bench, step, seen);
	case TC_VERB_CURE:
		cure(b, bench, step);
		return true;
	case TC_VERB_SCRIBE:
		scribe(bench, step->written);
		return true;
	case TC_VERB_MASK:
		tc_surface_tape(b, bench, step->end);
		return true;
	default:
		return true;
	}
}

bool tc_work(tc_building *b, tc_bench *bench, const tc_step *step, const tc_passes *passes)
{
	const uint32_t verb = step->written->verb;
	if (lays(verb))
		tc_surface_clean(b, bench, b->dusted | b->dried, 0, 0);
	if (verb == TC_VERB_UNMASK)
		tc_surface_untape(b, bench, step->start);
	tc_part_step *seen = &bench->step[bench->part->steps++];
	seen->step = step;
	seen->before = tc_surface_see(bench);
	seen->layers_before = bench->part->layers;
	seen->waited = bench->waited;
	if (!do_verb(b, bench, step, passes, seen))
		return false;
	if (verb == TC_VERB_WAIT || verb == TC_VERB_MIX) /* the part itself is left alone */
		return true;
	bench->waited = 0;
	bench->open = verb == TC_VERB_COAT ? (tc_layer *)(uintptr_t)seen->layer : NULL;
	return true;
}
