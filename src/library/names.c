/* Names: the form in which they are compared, the map of them, and the words that are unclear. */
#include <string.h>

#include "library/private.h"

/* --- the form --------------------------------------------------------------------------------------------------- */

void tc_name_form(tc_text name, tc_buffer *out)
{
	bool gap = false, begun = false;
	for (size_t i = 0; i < name.length;) {
		const size_t blank = tc_blank_length(name.at + i, name.length - i);
		char c = name.at[i];
		if (blank || c == '-' || c == '_') {
			gap = true;
			i += blank ? blank : 1;
			continue;
		}
		if (gap && begun)
			tc_buffer_char(out, '-');
		gap = false;
		begun = true;
		if (c >= 'A' && c <= 'Z')
			c = (char)(c - 'A' + 'a');
		tc_buffer_char(out, c);
		i++;
	}
}

static tc_text formed(const tc_buffer *buffer)
{
	return (tc_text){buffer->at ? buffer->at : "", buffer->length};
}

/* The entry of that id, name or listed name, or TC_NONE. */
static uint32_t find_name(const tc_reader *reader, tc_text name)
{
	const uint32_t by_id = tc_map_find(&reader->library->ids, name);
	if (by_id != TC_MAP_NONE)
		return by_id;
	tc_buffer form;
	tc_buffer_start(&form, tc_arena_allocator(reader->arena));
	tc_name_form(name, &form);
	const uint32_t by_name = form.failed ? TC_MAP_NONE : tc_map_find(&reader->library->names, formed(&form));
	if (form.failed)
		tc_no_memory(reader->arena);
	tc_buffer_free(&form);
	return by_name == TC_MAP_NONE ? TC_NONE : by_name;
}

/* --- references ------------------------------------------------------------------------------------------------- */

bool tc_say_retired(const tc_reader *reader, const tc_node *node)
{
	const tc_change *change =
	    reader->builder ? tc_collection_retired(reader->builder->collection, tc_node_text(node)) : NULL;
	if (!change)
		return false;
	tc_wrong(reader, "retired-name", node, "`%s` was retired, and this still refers to it", node->text);
	tc_diag_relate(reader->diags, change->place, "`%s` was retired here: %s", node->text, change->because);
	return true;
}

uint32_t tc_read_entry(const tc_reader *reader, const tc_node *node, uint32_t sections, const char *what)
{
	const tc_text name = tc_node_text(node);
	const uint32_t index = find_name(reader, name);
	if (index != TC_NONE)
		return index;
	if (tc_say_retired(reader, node))
		return TC_NONE;
	tc_nearest nearest = TC_NEAREST(name);
	for (uint32_t i = 0; i < reader->library->count; i++) {
		const tc_entry *entry = &reader->library->entries[i];
		if (!(entry->sections & sections) && !(entry->is_kind && sections == ~0u))
			continue;
		tc_nearest_offer(&nearest, tc_text_of(entry->id));
		tc_nearest_offer(&nearest, tc_text_of(entry->name));
	}
	tc_wrong(reader, "unknown-name", node, "`%s` of `%s` is nothing that the library has" TC_NEAR_F, node->text,
	    what, TC_NEAR(nearest, ""));
	return TC_NONE;
}

/* --- the map of names ------------------------------------------------------------------------------------------- */

/* The entry that has a name of this form already, or TC_MAP_NONE after the name was put down for this one. */
static uint32_t claim(tc_builder *b, const char *name, tc_text form, const tc_entry *entry)
{
	tc_library *l = b->library;
	uint32_t already = tc_map_find(&l->names, form);
	if (already != TC_MAP_NONE || form.length == 0)
		return already;
	const char *key = tc_text_is(form, name) ? name : tc_arena_text(b->arena, form.at, form.length);
	if (key)
		tc_map_put(&l->names, b->arena, tc_text_of(key), entry->index, &already);
	return already;
}

/* Puts a name of an entry; two entries of one name are an error at the second. */
static void put_name(tc_builder *b, const char *name, const tc_entry *entry, tc_place place)
{
	tc_buffer form;
	tc_buffer_start(&form, tc_arena_allocator(b->scratch));
	tc_name_form(tc_text_of(name), &form);
	if (form.failed)
		tc_no_memory(b->scratch);
	const uint32_t already = form.failed ? TC_MAP_NONE : claim(b, name, formed(&form), entry);
	if (already != TC_MAP_NONE && already != entry->index) {
		const char *other = b->library->entries[already].id;
		tc_diag_add(b->diags, TC_ERROR, "same-name", place,
		    "`%s` names both `%s` and `%s`; a name belongs to one", name, other, entry->id);
		tc_diag_relate(b->diags, b->drafts[already].item->place, "`%s` stands here", other);
	}
	tc_buffer_free(&form);
}

static void build_also(tc_builder *b, const tc_item *item, tc_entry *entry)
{
	tc_reader reader;
	const tc_node *one, *node = tc_item_get(b, item, "also", &reader);
	tc_items items = {0};
	if (node && !tc_read_items(&reader, node, "also", &one, &items))
		items.count = 0;
	const char **also = TC_ARRAY(b->arena, (size_t)items.count + 1, const char *);
	entry->also = also;
	uint32_t count = 0;
	for (uint32_t i = 0; also && i < items.count; i++) {
		const char *name = tc_read_text(&reader, items.at[i], "also");
		if (!name)
			continue;
		also[count++] = name;
		put_name(b, name, entry, tc_node_place(reader.source, items.at[i]));
	}
}

/* The id with blanks for hyphens, where an entry gives no name. */
static const char *name_of_id(tc_builder *b, const char *id)
{
	char *name = tc_arena_text(b->arena, id, strlen(id));
	for (char *c = name; c && *c; c++)
		if (*c == '-')
			*c = ' ';
	return name;
}

static void build_entry_names(tc_builder *b, const tc_item *item, tc_entry *entry)
{
	tc_reader reader;
	const tc_node *node = tc_item_get(b, item, "name", &reader);
	const char *name = node ? tc_read_text(&reader, node, "name") : NULL;
	put_name(b, entry->id, entry, item->place);
	entry->name = name ? name : name_of_id(b, entry->id);
	if (name)
		put_name(b, name, entry, tc_node_place(reader.source, node));
	entry->about = tc_item_text(b, item, "about");
	tc_item_text(b, item, "note");
	build_also(b, item, entry);
	node = tc_item_get(b, item, "known_as", &reader);
	if (node && tc_pattern_check(&reader, node))
		entry->known_as = tc_text_kept(b, node->text);
}

/* --- unclear words ---------------------------------------------------------------------------------------------- */

static void put_question(tc_builder *b, const tc_item *item, tc_text form, uint32_t index)
{
	tc_library *l = b->library;
	const char *key = tc_arena_text(b->arena, form.at, form.length);
	uint32_t already;
	if (form.length == 0)
		tc_diag_add(b->diags, TC_ERROR, "bad-id", item->place, "`%s` is no word", item->id);
	else if (key && tc_map_put(&l->questions, b->arena, tc_text_of(key), index, &already) && already != TC_MAP_NONE)
		tc_diag_add(b->diags, TC_ERROR, "same-name", item->place, "`%s` and `%s` read alike; keep one of them",
		    item->id, l->unclear[already].word);
}

static void build_question(tc_builder *b, const tc_item *item, uint32_t index)
{
	const tc_reader reader = tc_reader_of(b, item->source);
	tc_unclear *unclear = &b->library->unclear[index];
	unclear->word = tc_text_kept(b, item->id);
	const char *question = tc_read_text(&reader, item->node, item->id);
	unclear->question = question ? question : unclear->word;
	tc_buffer form;
	tc_buffer_start(&form, tc_arena_allocator(b->scratch));
	tc_name_form(tc_text_of(item->id), &form);
	if (form.failed)
		tc_no_memory(b->scratch);
	else
		put_question(b, item, formed(&form), index);
	tc_buffer_free(&form);
}

void tc_build_names(tc_builder *b)
{
	tc_library *l = b->library;
	for (uint32_t i = 0; i < l->count; i++)
		build_entry_names(b, b->drafts[i].item, &l->entries[i]);
	const uint32_t count = (uint32_t)tc_collection_count(b->collection, TC_SECTION_UNCLEAR);
	l->unclear = TC_ARRAY(b->arena, count, tc_unclear);
	for (uint32_t i = 0; l->unclear && i < count; i++) {
		build_question(b, tc_collection_at(b->collection, TC_SECTION_UNCLEAR, i), i);
		l->unclear_count = i + 1;
	}
}

uint32_t tc_library_unclear(const tc_library *library)
{
	return library->unclear_count;
}

const tc_unclear *tc_library_unclear_at(const tc_library *library, uint32_t index)
{
	return &library->unclear[index];
}
