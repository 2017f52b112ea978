/* Small values, and the keys of items with the sources in which they stand. */
#include <string.h>

#include "library/private.h"

void tc_lib_no_memory(tc_arena *arena)
{
	tc_arena_get(arena, SIZE_MAX); /* which cannot be had, and the arena remembers */
}

tc_reader tc_lib_reader(tc_builder *builder, const tc_source *source)
{
	return (tc_reader){.library = builder->library,
	    .arena = builder->arena,
	    .diags = builder->diags,
	    .source = source,
	    .builder = builder};
}

const tc_node *tc_lib_item_get(tc_builder *builder, const tc_item *item, const char *key, tc_reader *reader)
{
	*reader = tc_lib_reader(builder, tc_item_source(builder->collection, item, key));
	return item->node->kind == TC_MAP ? tc_map_get(item->node, key, NULL) : NULL;
}

/* --- what is kept ----------------------------------------------------------------------------------------------- */

const char *tc_lib_text(tc_builder *builder, const char *text)
{
	return tc_arena_text(builder->arena, text, strlen(text));
}

static const char *file_kept(tc_builder *b, const char *file)
{
	for (uint32_t i = b->files_count; i-- > 0;)
		if (b->files[i] == file || strcmp(b->files[i], file) == 0)
			return b->file_copies[i];
	const char *copy = tc_lib_text(b, file);
	if (!copy || !tc_arena_grow(b->scratch, (void **)&b->files, b->files_count, &b->files_room, sizeof *b->files) ||
	    !tc_arena_grow(
	        b->scratch, (void **)&b->file_copies, b->files_count, &b->copies_room, sizeof *b->file_copies))
		return NULL;
	b->files[b->files_count] = file;
	b->file_copies[b->files_count++] = copy;
	return copy;
}

tc_place tc_lib_place(const tc_reader *reader, tc_place place)
{
	if (reader->builder && place.file)
		place.file = file_kept(reader->builder, place.file);
	return place;
}

/* --- texts and truths ------------------------------------------------------------------------------------------- */

const char *tc_lib_read_text(const tc_reader *reader, const tc_node *node, const char *what)
{
	if (node->kind != TC_SCALAR) {
		tc_lib_wrong(reader, "wrong-shape", node, "`%s` is a text; this is %s", what, tc_node_kind_name(node));
		return NULL;
	}
	const tc_text text = tc_text_trim(tc_node_text(node));
	if (text.length == 0) {
		tc_lib_wrong(reader, "wrong-shape", node, "`%s` is empty; give a text, or leave the key out", what);
		return NULL;
	}
	return tc_arena_text(reader->arena, text.at, text.length);
}

const char *tc_lib_item_text(tc_builder *builder, const tc_item *item, const char *key)
{
	tc_reader reader;
	const tc_node *node = tc_lib_item_get(builder, item, key, &reader);
	return node ? tc_lib_read_text(&reader, node, key) : NULL;
}

bool tc_lib_read_truth(const tc_reader *reader, const tc_node *node, const char *what, bool *truth)
{
	*truth = tc_node_is(node, "yes");
	if (*truth || tc_node_is(node, "no"))
		return true;
	if (node->kind == TC_SCALAR)
		tc_lib_wrong(reader, "not-a-truth", node, "`%s` is `%s`; write `yes` or `no`", what, node->text);
	else
		tc_lib_wrong(
		    reader, "not-a-truth", node, "`%s` is %s; write `yes` or `no`", what, tc_node_kind_name(node));
	return false;
}

/* --- lists ------------------------------------------------------------------------------------------------------ */

bool tc_lib_read_items(
    const tc_reader *reader, const tc_node *node, const char *what, const tc_node **one, tc_items *items)
{
	*one = node;
	*items = (tc_items){one, 1};
	if (node->kind == TC_LIST)
		*items = (tc_items){node->items, node->count};
	else if (node->kind == TC_MAP || node->empty) {
		tc_lib_wrong(reader, "wrong-shape", node, "`%s` is a list, or a single word; this is %s", what,
		    tc_node_kind_name(node));
		return false;
	}
	return true;
}

bool tc_lib_read_item(const tc_reader *reader, const tc_node *node, const char *what)
{
	if (node->kind == TC_SCALAR && !node->empty)
		return true;
	tc_lib_wrong(
	    reader, "wrong-shape", node, "`%s` is a list of words; here stands %s", what, tc_node_kind_name(node));
	return false;
}

/* --- keys ------------------------------------------------------------------------------------------------------- */

static bool check_key(const tc_reader *reader, const tc_node *key, const char *const *allowed, const char *what)
{
	tc_nearest nearest = TC_NEAREST(tc_node_text(key));
	for (const char *const *a = allowed; *a; a++) {
		if (tc_node_is(key, *a))
			return true;
		tc_nearest_offer(&nearest, tc_text_of(*a));
	}
	tc_lib_wrong(reader, "unknown-key", key, "no key `%s` in %s" TC_NEAR_F, key->text, what,
	    TC_NEAR(nearest, "; docs/rulebook.md lists the keys"));
	return false;
}

bool tc_lib_check_keys(const tc_reader *reader, const tc_node *map, const char *const *allowed, const char *what)
{
	bool good = true;
	for (uint32_t i = 0; i < map->count; i++)
		good &= check_key(reader, tc_map_key(map, i), allowed, what);
	return good;
}

bool tc_lib_check_item(tc_builder *builder, const tc_item *item, const char *const *allowed, const char *what)
{
	tc_reader reader = tc_lib_reader(builder, item->source);
	if (item->node->kind != TC_MAP) {
		tc_lib_wrong(&reader, "wrong-shape", item->node, "`%s` is a mapping of the keys of %s; this is %s",
		    item->id, what, tc_node_kind_name(item->node));
		return false;
	}
	bool good = true;
	for (uint32_t i = 0; i < item->node->count; i++) {
		const tc_node *key = tc_map_key(item->node, i);
		reader = tc_lib_reader(builder, tc_item_source(builder->collection, item, key->text));
		good &= check_key(&reader, key, allowed, what);
	}
	return good;
}
