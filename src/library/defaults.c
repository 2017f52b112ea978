/* What the bench assumes, and the words for defects. */
#include <string.h>

#include "library/private.h"

/* --- defaults --------------------------------------------------------------------------------------------------- */

static unsigned default_of(tc_text key)
{
	unsigned d = 0;
	while (d < TC_DEFAULT_COUNT && !tc_text_is(key, tc_default_row_of((tc_default)d)->key))
		d++;
	return d;
}

static void say_no_default(tc_builder *b, const tc_item *item)
{
	tc_nearest nearest = TC_NEAREST(tc_text_of(item->id));
	for (unsigned d = 0; d < TC_DEFAULT_COUNT; d++)
		tc_nearest_offer(&nearest, tc_text_of(tc_default_row_of((tc_default)d)->key));
	tc_diag_add(b->diags, TC_ERROR, "unknown-key", item->place, "no default `%s`" TC_NEAR_F, item->id,
	    TC_NEAR(nearest, "; docs/rulebook.md lists them"));
}

static void build_default(tc_builder *b, const tc_item *item, tc_default which)
{
	const tc_reader reader = tc_lib_reader(b, item->source);
	const tc_node *node = item->node;
	const bool is_map = node->kind == TC_MAP;
	if (is_map && !tc_map_get(node, "is", NULL)) {
		tc_lib_wrong(
		    &reader, "missing-key", node, "default `%s` has no `is`; write `{is: VALUE, from: …}`", item->id);
		return;
	}
	const tc_figure *figure = tc_lib_figure(&reader, tc_default_row_of(which), node, NULL, TC_NONE);
	if (figure && figure->value.state != TC_SAID)
		tc_lib_wrong(&reader, "missing-key", node, "default `%s` must have a figure", item->id);
	else if (figure && !figure->basis)
		tc_diag_add(b->diags, TC_ERROR, "no-basis", item->place,
		    "`%s` does not say where it comes from; write `{is: …, from: practice}` or `from: {source: ID, at: "
		    "…}`",
		    item->id);
	b->library->defaults[which] = figure;
}

/* Stands in for a default that is missing or broken, so that none is ever NULL; there is an error then. */
static void fill_default(tc_builder *b, tc_default which)
{
	tc_figure *figure = TC_NEW(b->arena, tc_figure);
	if (!figure)
		return;
	figure->value.state = TC_UNKNOWN;
	figure->value.type = (uint8_t)tc_default_row_of(which)->type;
	figure->entry = TC_NONE;
	b->library->defaults[which] = figure;
}

/* A message about what is not there stands at the file in which the section begins. */
static void say_missing(tc_builder *b, tc_default which)
{
	tc_place place = tc_collection_at(b->collection, TC_SECTION_DEFAULTS, 0)->place;
	place.line = place.column = 0;
	tc_diag_add(b->diags, TC_ERROR, "missing-key", place, "section `defaults` does not say `%s` (%s)",
	    tc_default_row_of(which)->key, tc_default_row_of(which)->help);
}

void tc_lib_build_defaults(tc_builder *b)
{
	bool given[TC_DEFAULT_COUNT] = {0};
	const size_t count = tc_collection_count(b->collection, TC_SECTION_DEFAULTS);
	if (count == 0)
		tc_diag_add(b->diags, TC_ERROR, "missing-key", (tc_place){0},
		    "no file of the rulebook has a section `defaults`");
	for (size_t i = 0; i < count; i++) {
		const tc_item *item = tc_collection_at(b->collection, TC_SECTION_DEFAULTS, i);
		const unsigned which = default_of(tc_text_of(item->id));
		if (which == TC_DEFAULT_COUNT) {
			say_no_default(b, item);
			continue;
		}
		given[which] = true;
		build_default(b, item, (tc_default)which);
	}
	for (tc_default d = 0; d < TC_DEFAULT_COUNT; d++) {
		if (count && !given[d])
			say_missing(b, d);
		if (!b->library->defaults[d])
			fill_default(b, d);
	}
}

const tc_figure *tc_library_default(const tc_library *library, tc_default which)
{
	return library->defaults[which];
}

/* --- defects ---------------------------------------------------------------------------------------------------- */

static const char *const defect_keys[] = {"about", "from", "note", NULL};

static void build_defect(tc_builder *b, const tc_item *item, uint32_t index)
{
	tc_library *l = b->library;
	tc_reader reader;
	const char *about = NULL;
	l->defects[index] = tc_lib_text(b, item->id);
	if (tc_lib_check_item(b, item, defect_keys, "a defect") || item->node->kind == TC_MAP) {
		tc_lib_item_basis(b, item);
		tc_lib_item_text(b, item, "note");
		about = tc_lib_item_text(b, item, "about");
		if (!tc_lib_item_get(b, item, "about", &reader))
			tc_diag_add(
			    b->diags, TC_ERROR, "missing-key", item->place, "defect `%s` has no `about`", item->id);
	}
	l->defects_about[index] = about ? about : l->defects[index];
}

void tc_lib_build_defects(tc_builder *b)
{
	tc_library *l = b->library;
	const uint32_t count = (uint32_t)tc_collection_count(b->collection, TC_SECTION_DEFECTS);
	l->defects = TC_ARRAY(b->arena, count, const char *);
	l->defects_about = TC_ARRAY(b->arena, count, const char *);
	for (uint32_t i = 0; l->defects && l->defects_about && i < count; i++) {
		build_defect(b, tc_collection_at(b->collection, TC_SECTION_DEFECTS, i), i);
		if (!l->defects[i] || !tc_map_put(&l->defect_ids, b->arena, tc_text_of(l->defects[i]), i, NULL))
			return;
		l->defects_count = i + 1;
	}
}

uint32_t tc_library_defects(const tc_library *library)
{
	return library->defects_count;
}

const char *tc_library_defect(const tc_library *library, uint32_t index, const char **about)
{
	if (about)
		*about = library->defects_about[index];
	return library->defects[index];
}

uint32_t tc_library_defect_find(const tc_library *library, tc_text id)
{
	const uint32_t index = tc_map_find(&library->defect_ids, id);
	return index == TC_MAP_NONE ? TC_NONE : index;
}
