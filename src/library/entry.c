/* Kinds and materials: their keys, figures, hazards and cautions, and what they have from the kinds above. */
#include <stdlib.h>
#include <string.h>

#include "library/private.h"

/* The keys of an entry that are no figures; the first two are each of one sort of entry only. */
static const char *const plain_keys[] = {
    "under", "kind", "name", "also", "known_as", "about", "note", "from", "given", "hazards", "cautions"};
#define PLAIN_KEYS (sizeof plain_keys / sizeof *plain_keys)

/* An entry being read. */
typedef struct reading {
	tc_builder *b;
	const tc_item *item;
	tc_draft *draft;
	tc_entry *entry;
	tc_codes codes;
	const char *bare;                       /* a figure that no basis covers, or NULL */
	const tc_node *keys[TC_PROPERTY_COUNT]; /* where each figure stands */
	const tc_source *sources[TC_PROPERTY_COUNT];
} reading;

/* --- keys ------------------------------------------------------------------------------------------------------- */

static void say_no_key(const reading *r, const tc_reader *reader, const tc_node *key)
{
	const bool kind = r->entry->is_kind;
	if (tc_node_is(key, kind ? "kind" : "under")) {
		tc_lib_wrong(reader, "unknown-key", key, "%s",
		    kind ? "a kind names its parent by `under`" : "a material names its kind by `kind`");
		return;
	}
	tc_nearest nearest = TC_NEAREST(tc_node_text(key));
	for (size_t i = 0; i < PLAIN_KEYS; i++)
		if (i > 1 || kind == (i == 0))
			tc_nearest_offer(&nearest, tc_text_of(plain_keys[i]));
	for (unsigned p = 0; p < TC_PROPERTY_COUNT; p++)
		tc_nearest_offer(&nearest, tc_text_of(tc_property_row_of((tc_property)p)->key));
	tc_lib_wrong(reader, "unknown-key", key, "no key `%s` in section `%s`" TC_NEAR_F, key->text,
	    tc_section_name(r->entry->section), TC_NEAR(nearest, "; docs/rulebook.md lists the keys"));
}

static bool is_plain_key(const reading *r, const tc_node *key)
{
	for (size_t i = r->entry->is_kind ? 0 : 1; i < PLAIN_KEYS; i++)
		if (tc_node_is(key, plain_keys[i]))
			return !(r->entry->is_kind && i == 1);
	return false;
}

/* A property that means nothing for the materials of this section would never be looked at. */
static bool belongs(const reading *r, const tc_reader *reader, tc_property property, const tc_node *key)
{
	const tc_property_row *row = tc_property_row_of(property);
	if (r->entry->is_kind || row->sections & r->entry->sections)
		return true;
	tc_buffer all;
	tc_buffer_start(&all, tc_arena_allocator(r->b->scratch));
	for (tc_section s = 0; s < TC_SECTION_COUNT; s++)
		if (row->sections & 1u << s)
			tc_buffer_print(&all, "%s%s", all.length ? ", " : "", tc_section_name(s));
	tc_lib_wrong(reader, "wrong-section", key, "`%s` means nothing in section `%s`, only in %s", row->key,
	    tc_section_name(r->entry->section), all.at ? all.at : "");
	tc_buffer_free(&all);
	return false;
}

/* --- figures ---------------------------------------------------------------------------------------------------- */

static bool is_long(const tc_node *node)
{
	return node->kind == TC_MAP && tc_map_get(node, "is", NULL);
}

/* Remembers a figure without any basis; one message an entry is enough. */
static void need_basis(reading *r, const tc_node *key, const tc_node *value, const tc_basis *basis)
{
	if (!basis && !(is_long(value) && tc_map_get(value, "from", NULL)) && !r->bare)
		r->bare = key->text;
}

static bool first_time(reading *r, const tc_reader *reader, tc_property property, const tc_node *key)
{
	const tc_node *first = r->keys[property];
	if (first) {
		tc_lib_wrong(reader, "twice", key, "`%s` stands twice in `%s`; keep one figure and note the other",
		    key->text, r->entry->id);
		tc_diag_relate(reader->diags, tc_node_place(r->sources[property], first), "the other one stands here");
		return false;
	}
	r->keys[property] = key;
	r->sources[property] = reader->source;
	return true;
}

static void read_figure(reading *r, const tc_reader *reader, tc_property property, const tc_node *key,
    const tc_node *value, const tc_basis *basis)
{
	if (!belongs(r, reader, property, key) || !first_time(r, reader, property, key))
		return;
	need_basis(r, key, value, basis);
	if (property == TC_P_SOLVENTS) {
		r->draft->mix = value;
		r->draft->mix_source = reader->source;
		r->draft->mix_basis = basis;
		return;
	}
	r->entry->figures[property] =
	    tc_lib_figure(reader, tc_property_row_of(property), value, basis, r->entry->index);
}

static void read_hazards(
    reading *r, const tc_reader *reader, const tc_node *key, const tc_node *value, const tc_basis *basis)
{
	static const char *const long_keys[] = {"is", "from", "note", NULL};
	need_basis(r, key, value, basis);
	if (is_long(value)) {
		const tc_node *from = tc_map_get(value, "from", NULL);
		if (tc_lib_check_keys(reader, value, long_keys, "`hazards`") && from)
			tc_lib_basis(reader, from);
		value = tc_map_get(value, "is", NULL);
	}
	tc_lib_read_codes(reader, value, "hazards", r->b->scratch, &r->codes);
}

/* --- blocks ----------------------------------------------------------------------------------------------------- */

static void read_block_key(
    reading *r, const tc_reader *reader, const tc_node *key, const tc_node *value, const tc_basis *basis)
{
	const tc_property property = tc_property_find(tc_node_text(key));
	if (property != TC_PROPERTY_COUNT)
		read_figure(r, reader, property, key, value, basis);
	else if (tc_node_is(key, "hazards"))
		read_hazards(r, reader, key, value, basis);
	else if (tc_node_is(key, "note"))
		tc_lib_read_text(reader, value, "note");
	else if (!tc_node_is(key, "from"))
		say_no_key(r, reader, key);
}

static void read_block(reading *r, const tc_reader *reader, const tc_node *block)
{
	if (block->kind != TC_MAP) {
		tc_lib_wrong(reader, "wrong-shape", block,
		    "a block of `given` is a mapping of `from` and figures; this is %s", tc_node_kind_name(block));
		return;
	}
	const tc_node *from = tc_map_get(block, "from", NULL);
	const tc_basis *basis = from ? tc_lib_basis(reader, from) : NULL;
	if (!from)
		tc_lib_wrong(reader, "no-basis", block,
		    "a block of `given` without `from`; write `from: {source: ID, at: …}` in it");
	if (!basis)
		return;
	if (!r->entry->basis)
		r->entry->basis = basis;
	for (uint32_t i = 0; i < block->count; i++)
		read_block_key(r, reader, tc_map_key(block, i), tc_map_value(block, i), basis);
}

static void read_given(reading *r)
{
	tc_reader reader;
	const tc_node *given = tc_lib_item_get(r->b, r->item, "given", &reader);
	if (!given)
		return;
	if (given->kind != TC_LIST) {
		tc_lib_wrong(&reader, "wrong-shape", given,
		    "`given` is a list of blocks, each with its `from`; this is %s", tc_node_kind_name(given));
		return;
	}
	for (uint32_t i = 0; i < given->count; i++)
		read_block(r, &reader, given->items[i]);
}

/* --- cautions --------------------------------------------------------------------------------------------------- */

static uint32_t caution_of(const tc_reader *reader, const tc_node *node)
{
	const tc_library *l = reader->library;
	if (!tc_lib_read_item(reader, node, "cautions"))
		return TC_NONE;
	const uint32_t index = tc_map_find(&l->caution_ids, tc_node_text(node));
	if (index != TC_MAP_NONE || tc_lib_say_retired(reader, node))
		return index;
	tc_nearest nearest = TC_NEAREST(tc_node_text(node));
	for (uint32_t i = 0; i < l->cautions_count; i++)
		tc_nearest_offer(&nearest, tc_text_of(l->cautions[i].id));
	tc_lib_wrong(reader, "unknown-name", node, "no caution `%s`" TC_NEAR_F, node->text,
	    TC_NEAR(nearest, "; list it in section `cautions`"));
	return TC_NONE;
}

static int order_of_numbers(const void *left, const void *right)
{
	const uint32_t a = *(const uint32_t *)left, b = *(const uint32_t *)right;
	return (a > b) - (a < b);
}

static void read_cautions(reading *r)
{
	tc_reader reader;
	const tc_node *one, *node = tc_lib_item_get(r->b, r->item, "cautions", &reader);
	tc_items items = {0};
	if (node && (tc_node_is(node, "none") || !tc_lib_read_items(&reader, node, "cautions", &one, &items)))
		items.count = 0;
	uint32_t *at = TC_ARRAY(r->b->arena, (size_t)items.count + 1, uint32_t);
	if (!at)
		return;
	uint32_t count = 0;
	for (uint32_t i = 0; i < items.count; i++) {
		at[count] = caution_of(&reader, items.at[i]);
		count += at[count] != TC_NONE;
	}
	if (count > 1)
		qsort(at, count, sizeof *at, order_of_numbers);
	for (uint32_t i = count; i <= items.count; i++)
		at[i] = TC_NONE;
	r->entry->cautions = at;
}

/* --- one entry -------------------------------------------------------------------------------------------------- */

static void read_keys(reading *r)
{
	const tc_node *map = r->item->node;
	for (uint32_t i = 0; i < map->count; i++) {
		const tc_node *key = tc_map_key(map, i), *value = tc_map_value(map, i);
		const tc_reader reader = tc_lib_reader(r->b, tc_item_source(r->b->collection, r->item, key->text));
		const tc_property property = tc_property_find(tc_node_text(key));
		if (property != TC_PROPERTY_COUNT)
			read_figure(r, &reader, property, key, value, r->entry->basis);
		else if (tc_node_is(key, "hazards"))
			read_hazards(r, &reader, key, value, r->entry->basis);
		else if (!is_plain_key(r, key))
			say_no_key(r, &reader, key);
	}
}

static void check_basis(const reading *r, bool from)
{
	if (from)
		return;
	if (r->bare)
		tc_diag_add(r->b->diags, TC_ERROR, "no-basis", r->item->place,
		    "`%s` of `%s` does not say where it comes from; write `from` at the entry, or the figure as `{is: "
		    "…, from: …}`",
		    r->bare, r->entry->id);
	else if (!r->entry->basis)
		tc_diag_add(r->b->diags, TC_ERROR, "no-basis", r->item->place,
		    "`%s` does not say where it comes from; write `from: practice` or `from: {source: ID, at: …}`",
		    r->entry->id);
}

static void end_hazards(reading *r)
{
	if (r->codes.count)
		r->draft->hazards = tc_lib_codes_end(r->b->scratch, &r->codes);
}

static void build_entry(tc_builder *b, uint32_t index)
{
	reading r = {
	    .b = b, .item = b->drafts[index].item, .draft = &b->drafts[index], .entry = &b->library->entries[index]};
	read_cautions(&r);
	tc_reader reader = tc_lib_reader(b, r.item->source);
	if (r.item->node->kind != TC_MAP) {
		tc_lib_wrong(&reader, "wrong-shape", r.item->node, "`%s` is a mapping of its keys; this is %s",
		    r.entry->id, tc_node_kind_name(r.item->node));
		return;
	}
	const tc_node *from = tc_lib_item_get(b, r.item, "from", &reader);
	r.entry->basis = from ? tc_lib_basis(&reader, from) : NULL;
	read_keys(&r);
	read_given(&r);
	check_basis(&r, from != NULL);
	end_hazards(&r);
}

/* --- from the kinds above --------------------------------------------------------------------------------------- */

void tc_lib_hand_down(tc_library *l, tc_property property)
{
	for (uint32_t i = 0; i < l->count; i++)
		if (!l->entries[i].figures[property] && l->entries[i].parent != TC_NONE)
			l->entries[i].figures[property] = l->entries[l->entries[i].parent].figures[property];
}

/* Hazards add up on the way down: nothing below a kind is freed of what holds for the kind. */
static void hand_down_hazards(tc_builder *b)
{
	tc_library *l = b->library;
	const char *const *none = TC_ARRAY(b->arena, 1, const char *);
	for (uint32_t i = 0; i < l->count; i++) {
		tc_entry *entry = &l->entries[i];
		const char *const *above = entry->parent == TC_NONE ? none : l->entries[entry->parent].hazards;
		tc_codes codes = {0};
		tc_lib_codes_add(b->scratch, &codes, above);
		tc_lib_codes_add(b->scratch, &codes, b->drafts[i].hazards);
		entry->hazards = b->drafts[i].hazards ? tc_lib_codes_end(b->arena, &codes) : above;
	}
}

void tc_lib_build_entries(tc_builder *b)
{
	for (uint32_t i = 0; i < b->library->count; i++)
		build_entry(b, i);
	for (unsigned p = 0; p < TC_PROPERTY_COUNT; p++)
		if (p != TC_P_SOLVENTS)
			tc_lib_hand_down(b->library, (tc_property)p);
	hand_down_hazards(b);
}
