/* From files to items: sections, ids, duplicates, layers. */
#include "library/collect.h"

#include <stdlib.h>
#include <string.h>

#include "base/limits.h"
#include "library/layer.h"
#include "library/say.h"

static const char *const section_names[] = {
    [TC_SECTION_SOURCES] = "sources",
    [TC_SECTION_WORDS] = "words",
    [TC_SECTION_KINDS] = "kinds",
    [TC_SECTION_SOLVENTS] = "solvents",
    [TC_SECTION_BLENDS] = "blends",
    [TC_SECTION_SUBSTRATES] = "substrates",
    [TC_SECTION_COATINGS] = "coatings",
    [TC_SECTION_FILLERS] = "fillers",
    [TC_SECTION_ADHESIVES] = "adhesives",
    [TC_SECTION_DECALS] = "decals",
    [TC_SECTION_AGENTS] = "agents",
    [TC_SECTION_ABRASIVES] = "abrasives",
    [TC_SECTION_METHODS] = "methods",
    [TC_SECTION_CAUTIONS] = "cautions",
    [TC_SECTION_DEFAULTS] = "defaults",
    [TC_SECTION_DEFECTS] = "defects",
    [TC_SECTION_UNCLEAR] = "unclear",
    [TC_SECTION_LET] = "let",
    [TC_SECTION_RULES] = "rules",
    [TC_SECTION_AMEND] = "amend",
    [TC_SECTION_RETIRE] = "retire",
};
#define SECTIONS (sizeof section_names / sizeof *section_names)

const char *tc_section_name(tc_section section)
{
	return section_names[section];
}

bool tc_section_has_entries(tc_section section)
{
	return section >= TC_SECTION_KINDS && section <= TC_SECTION_METHODS;
}

/* --- ids -------------------------------------------------------------------------------------------------------- */

/* Sections whose keys are words of a namespace of their own. */
static bool has_words(tc_section section)
{
	return section == TC_SECTION_WORDS || section == TC_SECTION_DEFAULTS || section == TC_SECTION_UNCLEAR;
}

static bool is_small(char c)
{
	return c >= 'a' && c <= 'z';
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static bool is_id(tc_text id)
{
	if (id.length == 0 || !(is_small(id.at[0]) || is_digit(id.at[0])))
		return false;
	for (size_t i = 1; i < id.length; i++)
		if (!is_small(id.at[i]) && !is_digit(id.at[i]) && id.at[i] != '-')
			return false;
	return true;
}

static bool is_name(tc_text name)
{
	if (name.length == 0 || !is_small(name.at[0]))
		return false;
	for (size_t i = 1; i < name.length; i++)
		if (!is_small(name.at[i]) && !is_digit(name.at[i]) && name.at[i] != '_')
			return false;
	return true;
}

static bool check_id(tc_collector *c, tc_section section, const tc_source *source, const tc_node *key)
{
	const tc_text id = tc_node_text(key);
	const bool name = section == TC_SECTION_LET || section == TC_SECTION_DEFAULTS;
	const tc_place place = tc_node_place(source, key);
	if (id.length > TC_SYMBOL_TEXT_MAX)
		tc_diag_add(c->diags, TC_ERROR, "bad-id", place, "an id has at most %u bytes; this one has %zu",
		    TC_SYMBOL_TEXT_MAX, id.length);
	else if (section == TC_SECTION_UNCLEAR)
		return true;
	else if (name && !is_name(id))
		tc_diag_add(c->diags, TC_ERROR, "bad-id", place,
		    "`%s` is no name; in `%s` a name is a small letter, then small letters, digits and `_`", key->text,
		    tc_section_name(section));
	else if (!name && !is_id(id))
		tc_diag_add(c->diags, TC_ERROR, "bad-id", place,
		    "`%s` is no id; an id is a small letter or digit, then small letters, digits and `-`", key->text);
	else
		return true;
	return false;
}

static const char *address_of(tc_arena *arena, tc_section section, const char *id)
{
	return has_words(section) ? tc_arena_print(arena, "%s/%s", tc_section_name(section), id) : id;
}

/* --- items ------------------------------------------------------------------------------------------------------ */

static void say_duplicate(tc_collector *c, const tc_held *first, const char *id, tc_place place)
{
	if (first->item.layer == c->layer)
		tc_diag_add(c->diags, TC_ERROR, "duplicate-id", place,
		    "`%s` stands already in `%s`; an id is given once", id, tc_section_name(first->item.section));
	else
		tc_diag_add(c->diags, TC_ERROR, "duplicate-id", place,
		    "`%s` stands already in a layer below; change it under `amend`, or take another id", id);
	tc_diag_relate(c->diags, first->item.place, "`%s` stands here", id);
}

static void add_item(
    tc_collector *c, tc_section section, const tc_source *source, const tc_node *key, const tc_node *value)
{
	if (!check_id(c, section, source, key))
		return;
	tc_collection *collection = c->collection;
	const char *address = address_of(c->arena, section, key->text);
	if (!address || !tc_arena_grow(c->arena, (void **)&collection->held, collection->count, &collection->room,
	                    sizeof *collection->held))
		return;
	const tc_place place = tc_node_place(source, key);
	uint32_t already;
	if (!tc_map_put(&collection->by_address, c->arena, tc_text_of(address), collection->count, &already))
		return;
	if (already != TC_MAP_NONE) {
		say_duplicate(c, collection->held[already], key->text, place);
		return;
	}
	tc_held *held = TC_NEW(c->arena, tc_held);
	if (!held)
		return;
	held->item = (tc_item){
	    .section = section, .id = key->text, .node = value, .source = source, .place = place, .layer = c->layer};
	held->address = address;
	collection->held[collection->count++] = held;
}

/* --- sections --------------------------------------------------------------------------------------------------- */

static void push_loose(tc_collector *c, tc_looses *looses, tc_loose loose)
{
	if (tc_arena_grow(c->arena, (void **)&looses->at, looses->count, &looses->room, sizeof *looses->at))
		looses->at[looses->count++] = loose;
}

static void add_section(tc_collector *c, unsigned section, const tc_source *source, const tc_node *map)
{
	for (uint32_t i = 0; i < map->count; i++) {
		const tc_node *key = tc_map_key(map, i), *value = tc_map_value(map, i);
		if (section == TC_SECTION_AMEND)
			push_loose(c, &c->amend, (tc_loose){key, value, source});
		else if (section == TC_SECTION_RETIRE)
			push_loose(c, &c->retire, (tc_loose){key, value, source});
		else
			add_item(c, (tc_section)section, source, key, value);
	}
}

static unsigned section_of(tc_text name)
{
	unsigned section = 0;
	while (section < SECTIONS && !tc_text_is(name, section_names[section]))
		section++;
	return section;
}

static void say_no_section(tc_collector *c, const tc_source *source, const tc_node *key)
{
	tc_nearest nearest = TC_NEAREST(tc_node_text(key));
	for (unsigned i = 0; i < SECTIONS; i++)
		tc_nearest_offer(&nearest, tc_text_of(section_names[i]));
	tc_diag_add(c->diags, TC_ERROR, "unknown-section", tc_node_place(source, key), "no section `%s`" TC_NEAR_F,
	    key->text, TC_NEAR(nearest, "; docs/rulebook.md lists the sections"));
}

static void add_document(tc_collector *c, const tc_source *source, const tc_node *root)
{
	if (!root)
		return;
	if (root->kind != TC_MAP) {
		tc_diag_add(c->diags, TC_ERROR, "wrong-shape", tc_node_place(source, root),
		    "a rulebook file is a mapping of sections; this is %s", tc_node_kind_name(root));
		return;
	}
	for (uint32_t i = 0; i < root->count; i++) {
		const tc_node *key = tc_map_key(root, i), *value = tc_map_value(root, i);
		const unsigned section = section_of(tc_node_text(key));
		if (section == SECTIONS)
			say_no_section(c, source, key);
		else if (value->kind == TC_MAP)
			add_section(c, section, source, value);
		else if (!value->empty)
			tc_diag_add(c->diags, TC_ERROR, "wrong-shape", tc_node_place(source, value),
			    "section `%s` is a mapping of its entries by id; this is %s", key->text,
			    tc_node_kind_name(value));
	}
}

/* --- files and layers ------------------------------------------------------------------------------------------- */

static tc_status add_file(tc_collector *c, const tc_rulebook_file *file)
{
	tc_source *source = NULL;
	tc_status status = tc_source_new(c->arena, file->name, file->bytes, file->length, c->diags, &source);
	const tc_document *documents = NULL;
	size_t count = 0;
	if (status == TC_OK)
		status = tc_yaml_read(c->arena, source, c->diags, &documents, &count);
	if (status != TC_OK) {
		c->unreadable = true;
		return status;
	}
	for (size_t i = 0; i < count; i++)
		add_document(c, source, documents[i].root);
	return TC_OK;
}

static int order_of_files(const void *left, const void *right)
{
	const tc_rulebook_file *a = *(const tc_rulebook_file *const *)left,
	                       *b = *(const tc_rulebook_file *const *)right;
	if (a->layer != b->layer)
		return a->layer < b->layer ? -1 : 1;
	return strcmp(a->name, b->name);
}

/* The files by layer and name, so that the caller's order does not matter. NULL: out of memory. */
static const tc_rulebook_file **sorted_files(tc_arena *arena, const tc_rulebook_file *files, size_t count)
{
	const tc_rulebook_file **sorted = TC_ARRAY(arena, count, const tc_rulebook_file *);
	if (!sorted)
		return NULL;
	for (size_t i = 0; i < count; i++)
		sorted[i] = &files[i];
	if (count > 1)
		qsort(sorted, count, sizeof(*sorted), order_of_files);
	return sorted;
}

static tc_status add_layers(tc_collector *c, const tc_rulebook_file *const *files, size_t count)
{
	tc_status worst = TC_OK;
	for (size_t i = 0; i < count; i++) {
		c->layer = files[i]->layer;
		const tc_status status = add_file(c, files[i]);
		if (status == TC_NO_MEMORY)
			return status;
		if (status != TC_OK)
			worst = status;
		if (i + 1 == count || files[i + 1]->layer != c->layer)
			tc_layer_apply(c);
	}
	return worst;
}

static int order_of_items(const void *left, const void *right)
{
	const tc_item *a = *(const tc_item *const *)left, *b = *(const tc_item *const *)right;
	return strcmp(a->id, b->id);
}

static bool sort_section(tc_arena *arena, tc_collection *collection, tc_section section)
{
	tc_shelved *shelved = &collection->sections[section];
	for (uint32_t i = 0; i < collection->count; i++)
		shelved->count += collection->held[i]->item.section == section && !collection->held[i]->retired;
	shelved->items = TC_ARRAY(arena, shelved->count, const tc_item *);
	if (!shelved->items)
		return false;
	uint32_t count = 0;
	for (uint32_t i = 0; i < collection->count; i++)
		if (collection->held[i]->item.section == section && !collection->held[i]->retired)
			shelved->items[count++] = &collection->held[i]->item;
	if (count > 1)
		qsort(shelved->items, count, sizeof(*shelved->items), order_of_items);
	return true;
}

tc_status tc_collect(
    tc_arena *arena, const tc_rulebook_file *files, size_t count, tc_diags *diags, const tc_collection **collection)
{
	*collection = NULL;
	const size_t errors = tc_diags_errors(diags);
	tc_collector c = {.arena = arena, .diags = diags, .collection = TC_NEW(arena, tc_collection)};
	const tc_rulebook_file **sorted = sorted_files(arena, files, count);
	if (!c.collection || !sorted)
		return TC_NO_MEMORY;
	const tc_status status = add_layers(&c, sorted, count);
	for (tc_section s = 0; s < TC_SECTION_COUNT && !tc_arena_failed(arena); s++)
		sort_section(arena, c.collection, s);
	if (status == TC_NO_MEMORY || tc_arena_failed(arena))
		return TC_NO_MEMORY;
	if (!c.unreadable)
		*collection = c.collection;
	return status != TC_OK || tc_diags_errors(diags) > errors ? TC_BAD : TC_OK;
}

/* --- questions -------------------------------------------------------------------------------------------------- */

size_t tc_collection_count(const tc_collection *collection, tc_section section)
{
	return collection->sections[section].count;
}

const tc_item *tc_collection_at(const tc_collection *collection, tc_section section, size_t index)
{
	return collection->sections[section].items[index];
}

static const tc_held *held_of(const tc_collection *collection, tc_text id)
{
	const uint32_t index = tc_map_find(&collection->by_address, id);
	return index == TC_MAP_NONE ? NULL : collection->held[index];
}

const tc_item *tc_collection_find(const tc_collection *collection, tc_text id)
{
	const tc_held *held = held_of(collection, id);
	return held && !held->retired ? &held->item : NULL;
}

const tc_change *tc_collection_retired(const tc_collection *collection, tc_text id)
{
	const tc_held *held = held_of(collection, id);
	return held && held->retired ? &collection->changes[held->retired - 1] : NULL;
}

size_t tc_collection_changes(const tc_collection *collection)
{
	return collection->changes_count;
}

const tc_change *tc_collection_change(const tc_collection *collection, size_t index)
{
	return &collection->changes[index];
}

const tc_source *tc_item_source(const tc_collection *collection, const tc_item *item, const char *key)
{
	(void)collection;
	const tc_held *held = (const tc_held *)(const void *)item;
	for (const tc_amended *a = held->amended; a; a = a->next)
		if (strcmp(a->key, key) == 0)
			return a->source;
	return item->source;
}
