/* A recipe, read against the small rulebook of the tests of src/stack and built into a model: never a crash, an error
 * exactly when there is a message, a model whose surfaces, times and states hold together, and a calendar. */
#include <stdlib.h>
#include <string.h>

#include "../unit/stack/kit_rulebook.h"
#include "plan/calendar.h"
#include "stack/model.h"

#define NEVER(what)                                                                                                    \
	do {                                                                                                           \
		if (what)                                                                                              \
			abort();                                                                                       \
	} while (0)

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* What is read once and kept for all inputs. */
typedef struct book {
	const tc_library *library;
	tc_finder *finder;
} book;

static const book *open_book(void)
{
	static book b;
	if (b.finder)
		return &b;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(arena);
	tc_rulebook_file files[KIT_FILES];
	const tc_collection *collection;
	for (size_t i = 0; i < KIT_FILES; i++)
		files[i] =
		    (tc_rulebook_file){.name = kit_names[i], .bytes = kit_texts[i], .length = strlen(kit_texts[i])};
	NEVER(tc_collect(arena, files, KIT_FILES, diags, &collection) != TC_OK);
	NEVER(tc_library_build(arena, collection, diags, &b.library) != TC_OK);
	b.finder = tc_finder_new(b.library, NULL);
	NEVER(!b.finder);
	return &b;
}

static const char *shelf_file(
    void *user, tc_arena *arena, const char *beside, const char *name, size_t *length, const char **reason)
{
	static const char shelf[] = "grey primer: {family: lacquer-primer}\n";
	(void)user;
	(void)arena;
	(void)beside;
	*reason = "no such file";
	*length = sizeof shelf - 1;
	return strcmp(name, "shelf.yaml") == 0 ? shelf : NULL;
}

static uint32_t find_rule(const void *user, tc_text id, tc_text *nearest)
{
	(void)user;
	(void)nearest;
	return tc_text_is(id, "too-smooth-to-key") ? 0 : TC_NONE;
}

static void look_at_surface(tc_surface surface)
{
	NEVER(surface.count == 0 || surface.count > TC_EXPOSED_MAX);
	for (uint32_t i = 0; i < surface.count; i++) {
		const tc_exposed *e = &surface.at[i];
		NEVER(!e->product || !e->part);
		NEVER(
		    i && (!e->layer || (e[-1].layer && e[-1].layer->order >= e->layer->order))); /* sorted, each once */
		NEVER(e->taped < 0 || e->scratch_grain <= 0);
	}
}

static void look_at_step(const tc_part_step *step)
{
	look_at_surface(step->before);
	NEVER(!(step->step->end >= step->step->start) || !(step->waited >= 0));
	NEVER(step->contacts && !step->layer);
	for (uint32_t i = 0; i < step->contacts; i++) {
		const tc_contact *c = &step->contact[i];
		NEVER(!c->under || c->coat != step->layer || c->direct != (c->between == NULL));
		NEVER(c->film_between < 0 || (c->direct && c->film_between != 0));
		NEVER(c->under->layer == c->coat);
	}
	for (uint32_t i = 0; i < step->touches; i++)
		NEVER(!step->touch[i].under || step->touch[i].liquid->stays < 0);
}

static void look_at_share(tc_value value)
{
	NEVER(tc_known(value) && !(value.number >= 0 && value.number <= 1));
}

static void look_at_layer(const tc_model *model, const tc_layer *layer)
{
	NEVER(layer->coats == 0 || layer->coats > TC_COATS_MAX);
	for (uint32_t i = 1; i < layer->coats; i++)
		NEVER(!(layer->at[i] >= layer->at[i - 1]));
	const double moments[] = {0, layer->done, model->end / 2, model->end, model->end + 1e6};
	for (size_t i = 0; i < sizeof moments / sizeof *moments; i++) {
		look_at_share(tc_layer_cured(model, layer, moments[i]));
		look_at_share(tc_layer_through_dry(model, layer, moments[i]));
		NEVER(tc_layer_age(layer, moments[i]) < 0);
		NEVER(tc_known(tc_layer_film(layer, moments[i])) && tc_layer_film(layer, moments[i]).number < 0);
	}
	for (double share = 0.1; share < 1; share += 0.2) {
		const tc_value age = tc_layer_reaches(model, layer, share, true);
		if (!tc_known(age))
			continue;
		const tc_value then = tc_layer_cured(model, layer, layer->done + age.number);
		NEVER(!tc_known(then) || then.number < share - 1e-6);
	}
}

static void look_at_part(const tc_model *model, const tc_part *part)
{
	NEVER(part->stretches == 0 || part->stretch[part->stretches - 1].to != model->end);
	for (uint32_t i = 1; i < part->stretches; i++)
		NEVER(part->stretch[i].from != part->stretch[i - 1].to);
	for (uint32_t i = 0; i < part->layers; i++)
		look_at_layer(model, part->layer[i]);
	for (uint32_t i = 0; i < part->steps; i++)
		look_at_step(&part->step[i]);
	look_at_surface(part->end);
}

static void build(tc_arena *arena, const book *b, const tc_recipe *recipe)
{
	for (unsigned pass = 0; pass < TC_PASS_COUNT; pass++) {
		const tc_model *model = tc_model_build(arena, recipe, b->library, pass);
		NEVER(!model || model->parts != recipe->parts || model->steps != recipe->steps);
		for (uint32_t i = 0; i < model->parts; i++)
			look_at_part(model, &model->part[i]);
	}
}

/* Whatever its hours are: what is found lies in a session, in order, and there and back is the same. */
static void look_at_calendar(tc_arena *arena, const tc_recipe *recipe)
{
	const tc_calendar *calendar;
	tc_diags *diags = tc_diags_new(arena);
	const tc_status status = tc_calendar_new(arena, recipe, NULL, (tc_date){2031, 5, 17}, diags, &calendar);
	NEVER(status != TC_OK && (status != TC_BAD || tc_diags_errors(diags) == 0));
	for (double at = 0, lasts = 0; status == TC_OK && at < 1e8; at = at * 3 + 1000, lasts = lasts * 2 + 60) {
		const double next = tc_calendar_next(calendar, at, lasts), last = tc_calendar_last(calendar, at, lasts);
		tc_span span;
		NEVER(next < at || last > at || last < 0);
		NEVER(!isnan(next) && !(tc_calendar_session(calendar, next, &span) && span.to + 1e-5 >= next + lasts));
		NEVER(!isnan(next) && !(fabs(tc_calendar_last(calendar, next, lasts) - next) < 1e-5));
		NEVER(tc_calendar_coming(calendar, at, &span) &&
		      (span.to <= at || span.from < 0 || span.to > TC_TIME_MAX));
		NEVER(tc_calendar_civil(calendar, at).weekday > 6);
	}
}

static void read_document(
    tc_arena *arena, const tc_source *source, const tc_node *root, tc_diags *diags, bool short_form)
{
	const book *b = open_book();
	const tc_rule_names names = {.find = find_rule};
	const tc_reader reader = {.read = shelf_file};
	const size_t before = tc_diags_errors(diags);
	const tc_recipe *recipe;
	const tc_status status =
	    tc_recipe_read(arena, b->library, b->finder, &names, &reader, source, root, short_form, diags, &recipe);
	NEVER(status != TC_OK && status != TC_BAD);
	NEVER((status == TC_OK) != (recipe != NULL));
	/* messages past the bound of a file are dropped, but never all of them */
	NEVER(status == TC_OK ? tc_diags_errors(diags) != before : tc_diags_errors(diags) == 0);
	if (recipe)
		look_at_calendar(arena, recipe);
	if (recipe)
		build(arena, b, recipe);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = arena ? tc_diags_new(arena) : NULL;
	tc_source *source;
	const tc_document *documents = NULL;
	size_t count = 0;
	NEVER(!diags);
	if (tc_source_new(arena, "fuzz.yaml", (const char *)data, size, diags, &source) == TC_OK &&
	    tc_yaml_read(arena, source, diags, &documents, &count) == TC_OK)
		for (size_t i = 0; i < count && i < 4; i++)
			if (documents[i].root)
				read_document(arena, source, documents[i].root, diags, !tc_is_recipe(&documents[i]));
	tc_arena_free(arena);
	return 0;
}
