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

tc_bearers tc_name_bearers(const tc_library *library, tc_text form, uint32_t sections)
{
	tc_bearers found = {TC_NONE, TC_NONE, TC_NONE, TC_NONE};
	const uint32_t by_id = tc_map_find(&library->ids, form);
	uint32_t i = tc_map_find(&library->names, form);
	for (i = i == TC_MAP_NONE ? TC_NONE : i; i != TC_NONE; i = library->named[i].next) {
		const tc_entry *entry = &library->entries[library->named[i].entry];
		if (found.any == TC_NONE)
			found.any = entry->index;
		if (entry->index == by_id && !entry->is_kind && entry->sections & sections)
			return (tc_bearers){by_id, TC_NONE, TC_NONE, by_id};
		if (!(entry->sections & sections) && !(entry->is_kind && sections == ~0u))
			continue;
		uint32_t *to = entry->is_kind              ? &found.kind
		               : found.material == TC_NONE ? &found.material
		                                           : &found.second;
		if (*to == TC_NONE)
			*to = entry->index;
	}
	return found;
}

/* The bearers of a name as it is written. */
static tc_bearers find_bearers(const tc_reader *reader, tc_text name, uint32_t sections)
{
	tc_buffer form;
	tc_buffer_start(&form, tc_arena_allocator(reader->arena));
	tc_name_form(name, &form);
	if (form.failed)
		tc_lib_no_memory(reader->arena);
	const tc_bearers found =
	    tc_name_bearers(reader->library, form.failed ? (tc_text){"", 0} : formed(&form), sections);
	tc_buffer_free(&form);
	return found;
}

/* --- references ------------------------------------------------------------------------------------------------- */

bool tc_lib_say_retired(const tc_reader *reader, const tc_node *node)
{
	const tc_change *change =
	    reader->builder ? tc_collection_retired(reader->builder->collection, tc_node_text(node)) : NULL;
	if (!change)
		return false;
	tc_lib_wrong(reader, "retired-name", node, "`%s` was retired, and this still refers to it", node->text);
	tc_diag_relate(reader->diags, change->place, "`%s` was retired here: %s", node->text, change->because);
	return true;
}

static void say_no_entry(const tc_reader *reader, const tc_node *node, uint32_t sections, const char *what)
{
	tc_nearest nearest = TC_NEAREST(tc_node_text(node));
	for (uint32_t i = 0; i < reader->library->count; i++) {
		const tc_entry *entry = &reader->library->entries[i];
		if (!(entry->sections & sections) && !(entry->is_kind && sections == ~0u))
			continue;
		tc_nearest_offer(&nearest, tc_text_of(entry->id));
		tc_nearest_offer(&nearest, tc_text_of(entry->name));
	}
	tc_lib_wrong(reader, "unknown-name", node, "`%s` of `%s` is nothing that the library has" TC_NEAR_F, node->text,
	    what, TC_NEAR(nearest, ""));
}

uint32_t tc_lib_read_entry(const tc_reader *reader, const tc_node *node, uint32_t sections, const char *what)
{
	const tc_text name = tc_node_text(node);
	const tc_entry *entries = reader->library->entries;
	const uint32_t by_id = tc_map_find(&reader->library->ids, name);
	if (by_id != TC_MAP_NONE)
		return by_id;
	const tc_bearers found = find_bearers(reader, name, sections);
	if (found.second != TC_NONE) {
		tc_lib_wrong(reader, "same-name", node, "`%s` may be `%s` or `%s`; write which", node->text,
		    entries[found.material].id, entries[found.second].id);
		return TC_NONE;
	}
	const uint32_t index = found.material != TC_NONE ? found.material
	                       : found.kind != TC_NONE   ? found.kind
	                                                 : found.any;
	if (index == TC_NONE && !tc_lib_say_retired(reader, node))
		say_no_entry(reader, node, sections, what);
	return index;
}

/* --- the map of names ------------------------------------------------------------------------------------------- */

/* Could a recipe that says the name where both are welcome not tell which is meant? A material goes before a kind. */
static bool same_rank(const tc_entry *a, const tc_entry *b)
{
	return a->is_kind == b->is_kind && a->section == b->section;
}

static void say_same_name(
    tc_builder *b, const char *name, const tc_entry *first, const tc_entry *second, tc_place place)
{
	tc_diag_add(b->diags, TC_ERROR, "same-name", place,
	    "`%s` names both `%s` and `%s`; in one section a name belongs to one", name, first->id, second->id);
	tc_diag_relate(b->diags, b->drafts[first->index].item->place, "`%s` stands here", first->id);
}

/* Puts an entry down as the last of those that bear a name whose first is `at`. */
static void join(tc_builder *b, const char *name, const tc_entry *entry, uint32_t at, tc_place place)
{
	for (;; at = b->named[at].next) {
		const tc_entry *other = &b->library->entries[b->named[at].entry];
		if (other == entry)
			return;
		if (same_rank(other, entry)) {
			say_same_name(b, name, other, entry, place);
			return;
		}
		if (b->named[at].next == TC_NONE)
			break;
	}
	b->named[at].next = b->named_count;
	b->named[b->named_count].entry = entry->index;
	b->named[b->named_count++].next = TC_NONE;
}

/* Puts a name of an entry that nobody has borne. */
static void found_name(tc_builder *b, const char *name, tc_text form, const tc_entry *entry)
{
	const char *key = tc_text_is(form, name) ? name : tc_arena_text(b->arena, form.at, form.length);
	if (!key || !tc_map_put(&b->library->names, b->arena, tc_text_of(key), b->named_count, NULL))
		return;
	b->named[b->named_count].entry = entry->index;
	b->named[b->named_count++].next = TC_NONE;
}

static void put_name(tc_builder *b, const char *name, const tc_entry *entry, tc_place place)
{
	tc_buffer form;
	tc_buffer_start(&form, tc_arena_allocator(b->scratch));
	tc_name_form(tc_text_of(name), &form);
	if (form.failed) {
		tc_lib_no_memory(b->scratch);
	} else if (form.length &&
	           tc_arena_grow(b->scratch, (void **)&b->named, b->named_count, &b->named_room, sizeof *b->named)) {
		const uint32_t first = tc_map_find(&b->library->names, formed(&form));
		if (first == TC_MAP_NONE)
			found_name(b, name, formed(&form), entry);
		else
			join(b, name, entry, first, place);
	}
	tc_buffer_free(&form);
}

static void build_also(tc_builder *b, const tc_item *item, tc_entry *entry)
{
	tc_reader reader;
	const tc_node *one, *node = tc_lib_item_get(b, item, "also", &reader);
	tc_items items = {0};
	if (node && !tc_lib_read_items(&reader, node, "also", &one, &items))
		items.count = 0;
	const char **also = TC_ARRAY(b->arena, (size_t)items.count + 1, const char *);
	entry->also = also;
	uint32_t count = 0;
	for (uint32_t i = 0; also && i < items.count; i++) {
		const char *name = tc_lib_read_text(&reader, items.at[i], "also");
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
	const tc_node *node = tc_lib_item_get(b, item, "name", &reader);
	const char *name = node ? tc_lib_read_text(&reader, node, "name") : NULL;
	put_name(b, entry->id, entry, item->place);
	entry->name = name ? name : name_of_id(b, entry->id);
	if (name)
		put_name(b, name, entry, tc_node_place(reader.source, node));
	entry->about = tc_lib_item_text(b, item, "about");
	tc_lib_item_text(b, item, "note");
	build_also(b, item, entry);
	node = tc_lib_item_get(b, item, "known_as", &reader);
	if (node && tc_known_as_check(&reader, node))
		entry->known_as = tc_lib_text(b, node->text);
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
	const tc_reader reader = tc_lib_reader(b, item->source);
	tc_unclear *unclear = &b->library->unclear[index];
	unclear->word = tc_lib_text(b, item->id);
	const char *question = tc_lib_read_text(&reader, item->node, item->id);
	unclear->question = question ? question : unclear->word;
	tc_buffer form;
	tc_buffer_start(&form, tc_arena_allocator(b->scratch));
	tc_name_form(tc_text_of(item->id), &form);
	if (form.failed)
		tc_lib_no_memory(b->scratch);
	else
		put_question(b, item, formed(&form), index);
	tc_buffer_free(&form);
}

void tc_lib_build_names(tc_builder *b)
{
	tc_library *l = b->library;
	for (uint32_t i = 0; i < l->count; i++)
		build_entry_names(b, b->drafts[i].item, &l->entries[i]);
	l->named = tc_arena_copy(b->arena, b->named, b->named_count * sizeof *b->named);
	if (!l->named)
		return;
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
