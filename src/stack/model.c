/* Builds the model: the bench is laid out, the steps go over it, what came out is kept. */
#include "stack/work.h"

#include "science/lines.h"

#define LINE_MOST 0.1 /* m: stands for a width or depth that nobody says; science/lines.h takes no more */

/* --- the shop ---------------------------------------------------------------------------------------------------- */

static tc_value said_or_default(const tc_library *library, tc_value said, tc_default which)
{
	if (said.state == TC_SAID)
		return said;
	tc_value value = tc_library_default(library, which)->value;
	value.state = TC_ASSUMED;
	return value;
}

/* The agent that stands for a word of this format (a habit, the lamp), or NULL. */
static const tc_entry *agent(const tc_library *library, const char *id)
{
	const tc_entry *entry = tc_library_by_id(library, tc_text_of(id));
	return entry && entry->sections & 1u << TC_SECTION_AGENTS ? entry : NULL;
}

static void set_habits(tc_building *b)
{
	const tc_entry *dust = b->recipe->shop.dusts ? agent(b->library, "dust") : NULL;
	const tc_entry *dry = b->recipe->shop.dries ? agent(b->library, "dry") : NULL;
	b->dusted = dust ? tc_entry_set(dust, TC_P_REMOVES) : 0;
	b->dried = dry ? tc_entry_set(dry, TC_P_REMOVES) : 0;
	b->lamp = agent(b->library, "lamp");
	b->waiting = agent(b->library, "wait");
}

static void set_shop(tc_building *b)
{
	const tc_shop *shop = &b->recipe->shop;
	tc_model *m = b->model;
	m->temperature = said_or_default(b->library, shop->temperature, TC_D_TEMPERATURE);
	m->humidity = said_or_default(b->library, shop->humidity, TC_D_HUMIDITY);
	m->air_speed = said_or_default(b->library, shop->air_speed, TC_D_AIR_SPEED);
	m->room = said_or_default(b->library, shop->room, TC_D_ROOM);
	m->extraction = said_or_default(b->library, shop->extraction, TC_D_EXTRACTION);
	set_habits(b);
}

/* --- parts ------------------------------------------------------------------------------------------------------- */

static tc_value said_or_no(tc_value said)
{
	return said.state == TC_SAID ? said : (tc_value){.state = TC_SAID, .type = TC_T_TRUTH, .truth = TC_FALSE};
}

/* What nobody says of a part is as its material usually is; `none` there means no. */
static tc_value said_or_usual(tc_value said, const tc_product *substrate, tc_property property)
{
	if (said.state == TC_SAID)
		return said;
	tc_value usual = tc_product_value(substrate, property);
	if (usual.state == TC_ABSENT)
		usual = (tc_value){.type = TC_T_TRUTH, .truth = TC_FALSE};
	if (usual.state != TC_UNKNOWN)
		usual.state = TC_ASSUMED;
	return usual;
}

static uint32_t steps_of_part(const tc_recipe *recipe, uint32_t index)
{
	uint32_t count = 0;
	for (uint32_t i = 0; i < recipe->steps; i++)
		count += (recipe->step[i].parts >> index & 1) != 0;
	return count;
}

static void set_part(tc_part *part, const tc_written_part *written, uint32_t index)
{
	part->written = written;
	part->index = index;
	part->stressed = said_or_usual(written->stressed, written->substrate, TC_P_STRESSED);
	part->flexible = said_or_usual(written->flexible, written->substrate, TC_P_FLEXIBLE);
	if (part->flexible.state == TC_UNKNOWN)
		part->flexible = said_or_no(written->flexible);
	part->lit = said_or_no(written->lit);
	part->outdoors = said_or_no(written->outdoors);
	part->handled = said_or_no(written->handled);
	part->line_width = written->line_width;
	part->line_depth = written->line_depth;
}

/* Old finishes, oldest first: each lies on all that is exposed, and covers it. */
static bool lay_finishes(tc_building *b, tc_bench *bench)
{
	const tc_written_part *written = bench->part->written;
	double born = 0;
	for (uint32_t i = 0; i < written->finishes; i++) {
		tc_layer *layer = tc_layer_old(b, bench, &written->finish[i]);
		if (!layer || !tc_surface_lay(b, bench, layer, true))
			return false;
		layer->covered = i + 1 < written->finishes;
		if (layer->done < born)
			born = layer->done;
	}
	bench->part->line_from = bench->part->layers;
	return tc_stretch_add(b, bench, born, 0, b->model->temperature.number);
}

static bool lay_out(tc_building *b, uint32_t index)
{
	tc_bench *bench = &b->bench[index];
	bench->part = &b->part[index];
	set_part(bench->part, &b->recipe->part[index], index);
	bench->step = TC_ARRAY(b->arena, steps_of_part(b->recipe, index), tc_part_step);
	return bench->step && tc_surface_start(b, bench) && lay_finishes(b, bench);
}

/* --- steps ------------------------------------------------------------------------------------------------------- */

/* One part does, or waits through, a step whose times are set. */
static bool take_part(tc_building *b, uint32_t index, const tc_step *step, const tc_passes *passes, bool works)
{
	tc_bench *bench = &b->bench[index];
	const tc_written_step *written = step->written;
	const double shop = b->model->temperature.number, lasts = step->end - step->start;
	if (works && !tc_work(b, bench, step, passes))
		return false;
	if (written->verb == TC_VERB_WAIT) {
		bench->waited += lasts;
		tc_surface_wait(b, bench);
	}
	/* a new cup ends a layer: the next coat comes from another mix */
	if (written->verb == TC_VERB_MIX && bench->open && bench->open->product == written->with)
		bench->open = NULL;
	return lasts <= 0 || tc_stretch_add(b, bench, step->start, step->end, works ? step->temperature : shop);
}

static void set_step(tc_building *b, tc_step *step, double start, double end)
{
	const tc_written_step *written = step->written;
	step->number = written->number;
	step->start = start;
	step->end = end;
	step->temperature = written->at.state == TC_SAID ? written->at.number : b->model->temperature.number;
	if (written->verb == TC_VERB_MIX)
		tc_cup_mix(b, step);
}

static bool do_step(tc_building *b, tc_step *step, double *clock)
{
	const tc_written_step *written = step->written;
	tc_passes passes;
	const bool coat = written->verb == TC_VERB_COAT;
	if (coat)
		tc_passes_of(written, &passes);
	const double lasts = coat ? passes.lasts : tc_step_lasts(written);
	set_step(b, step, *clock, *clock + lasts);
	*clock = step->end;
	for (uint32_t i = 0; i < b->recipe->parts; i++)
		if (!take_part(b, i, step, coat ? &passes : NULL, written->parts >> i & 1))
			return false;
	return !tc_arena_failed(b->arena);
}

/* --- at the times of a timetable ------------------------------------------------------------------------------------ */

static double here(const tc_bench *bench)
{
	return bench->part->stretches ? bench->stretch[bench->part->stretches - 1].to : 0;
}

/* The part lies about at the shop's temperature until `now`: a wait that nobody wrote. */
static bool lie(tc_building *b, tc_bench *bench, double now)
{
	const double from = here(bench);
	if (now <= from)
		return true;
	bench->waited += now - from;
	tc_surface_wait(b, bench);
	return tc_stretch_add(b, bench, from, now, b->model->temperature.number);
}

static bool do_turn(tc_building *b, const tc_turn *turn)
{
	tc_step *step = &b->step[turn->step], at = *step;
	const tc_written_step *written = step->written;
	tc_passes passes;
	const bool coat = written->verb == TC_VERB_COAT, again = step->number > 0;
	if (coat)
		tc_passes_of(written, &passes);
	for (uint32_t i = 0; coat && turn->pass && i < passes.count; i++)
		passes.after[i] = turn->pass[i] - turn->start;
	if (coat)
		passes.lasts = turn->end - turn->start;
	set_step(b, step, turn->start, turn->end);
	for (uint32_t i = 0; i < b->recipe->parts; i++)
		if (turn->parts >> i & 1 &&
		    (!lie(b, &b->bench[i], turn->start) || !take_part(b, i, step, coat ? &passes : NULL, true)))
			return false;
	if (again) { /* a wait of several parts: from the first to the last of them */
		step->start = fmin(step->start, at.start);
		step->end = fmax(step->end, at.end);
	}
	return !tc_arena_failed(b->arena);
}

static bool do_turns(tc_building *b, const tc_turns *turns, double *clock)
{
	for (uint32_t i = 0; i < turns->count; i++) {
		if (!do_turn(b, &turns->turn[i]))
			return false;
		*clock = fmax(*clock, turns->turn[i].end);
	}
	for (uint32_t i = 0; i < b->recipe->parts; i++)
		if (!lie(b, &b->bench[i], *clock))
			return false;
	return true;
}

/* --- the end ----------------------------------------------------------------------------------------------------- */

/* Dry film of the layers since the lines were cut; NAN where it is not known. */
static double film_over_lines(const tc_building *b, const tc_part *part)
{
	double film = 0;
	for (uint32_t i = part->line_from; i < part->layers; i++) {
		const tc_value own = tc_layer_film(part->layer[i], b->model->end);
		if (!part->layer[i]->spot)
			film += tc_known(own) ? own.number : NAN;
	}
	return film;
}

/* What these leave of the lines. Assumed at best: how paint runs into a line is the rulebook's. */
static void set_lines(const tc_building *b, tc_part *part)
{
	const bool width = tc_known(part->line_width), depth = tc_known(part->line_depth);
	const struct tc_line cut = {
	    width ? part->line_width.number : LINE_MOST, depth ? part->line_depth.number : LINE_MOST};
	struct tc_line left;
	part->width_left = part->line_width;
	part->depth_left = part->line_depth;
	if (!width && !depth)
		return;
	const bool known =
	    tc_line_left(cut, film_over_lines(b, part), tc_library_default(b->library, TC_D_LINE_WALL)->value.number,
	        tc_library_default(b->library, TC_D_LINE_LEVELLING)->value.number, &left);
	if (width)
		part->width_left = known ? (tc_value){.state = TC_ASSUMED, .type = TC_T_NUMBER, .number = left.width}
		                         : tc_unknown(TC_T_NUMBER);
	if (depth)
		part->depth_left = known ? (tc_value){.state = TC_ASSUMED, .type = TC_T_NUMBER, .number = left.depth}
		                         : tc_unknown(TC_T_NUMBER);
}

static bool finish_part(tc_building *b, uint32_t index)
{
	tc_bench *bench = &b->bench[index];
	tc_part *part = bench->part;
	const tc_layer **layers = TC_ARRAY(b->arena, part->layers, const tc_layer *);
	if (!layers)
		return false;
	for (uint32_t i = 0; i < part->layers; i++)
		layers[i] = bench->laid[i].layer;
	part->layer = layers;
	part->step = bench->step;
	part->stretch = bench->stretch;
	part->end = tc_surface_see(bench);
	set_lines(b, part);
	return true;
}

static bool build(tc_building *b, const tc_turns *turns)
{
	double clock = 0;
	set_shop(b);
	for (uint32_t i = 0; i < b->recipe->parts; i++)
		if (!lay_out(b, i))
			return false;
	for (uint32_t i = 0; i < b->recipe->steps; i++)
		b->step[i].written = &b->recipe->step[i];
	for (uint32_t i = 0; !turns && i < b->recipe->steps; i++)
		if (!do_step(b, &b->step[i], &clock))
			return false;
	if (turns && !do_turns(b, turns, &clock))
		return false;
	b->model->end = clock;
	for (uint32_t i = 0; i < b->recipe->parts; i++)
		if (!finish_part(b, i))
			return false;
	return true;
}

const tc_model *tc_model_build(tc_arena *arena, const tc_recipe *recipe, const tc_library *library, unsigned pass)
{
	return tc_model_build_at(arena, recipe, library, pass, NULL);
}

const tc_model *tc_model_build_at(
    tc_arena *arena, const tc_recipe *recipe, const tc_library *library, unsigned pass, const tc_turns *turns)
{
	tc_building b = {.arena = arena, .recipe = recipe, .library = library, .pass = pass};
	b.model = TC_NEW(arena, tc_model);
	b.step = TC_ARRAY(arena, recipe->steps, tc_step);
	b.part = TC_ARRAY(arena, recipe->parts, tc_part);
	b.bench = TC_ARRAY(arena, recipe->parts, tc_bench);
	b.cup = TC_ARRAY(arena, recipe->products, tc_cup);
	if (!b.model || !b.step || !b.part || !b.bench || !b.cup)
		return NULL;
	*b.model = (tc_model){.recipe = recipe,
	    .library = library,
	    .steps = recipe->steps,
	    .step = b.step,
	    .parts = recipe->parts,
	    .part = b.part};
	return build(&b, turns) && !tc_arena_failed(arena) ? b.model : NULL;
}
