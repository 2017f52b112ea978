/* The bibliography. */
#include "library/private.h"

static const char *const keys[] = {"author", "title", "year", "read", "note", NULL};

static void build_source(tc_builder *b, const tc_item *item, tc_source_entry *source)
{
	const tc_reader own = tc_lib_reader(b, item->source);
	source->id = tc_lib_text(b, item->id);
	source->place = tc_lib_place(&own, item->place);
	source->title = source->id;
	if (!tc_lib_check_item(b, item, keys, "a source") && item->node->kind != TC_MAP)
		return;
	source->author = tc_lib_item_text(b, item, "author");
	source->year = tc_lib_item_text(b, item, "year");
	source->note = tc_lib_item_text(b, item, "note");
	const char *title = tc_lib_item_text(b, item, "title");
	tc_reader reader;
	if (title)
		source->title = title;
	else if (!tc_lib_item_get(b, item, "title", &reader))
		tc_diag_add(b->diags, TC_ERROR, "missing-key", item->place, "source `%s` has no `title`", item->id);
	const tc_node *read = tc_lib_item_get(b, item, "read", &reader);
	if (read)
		tc_lib_read_truth(&reader, read, "read", &source->read);
	else
		tc_diag_add(b->diags, TC_ERROR, "missing-key", item->place,
		    "source `%s` does not say whether it was read; write `read: yes`, or `read: no` if it is "
		    "remembered",
		    item->id);
}

void tc_lib_build_sources(tc_builder *b)
{
	tc_library *l = b->library;
	const uint32_t count = (uint32_t)tc_collection_count(b->collection, TC_SECTION_SOURCES);
	l->sources = TC_ARRAY(b->arena, count, tc_source_entry);
	if (!l->sources)
		return;
	for (uint32_t i = 0; i < count; i++) {
		tc_source_entry *source = &l->sources[i];
		build_source(b, tc_collection_at(b->collection, TC_SECTION_SOURCES, i), source);
		if (!source->id || !tc_map_put(&l->source_ids, b->arena, tc_text_of(source->id), i, NULL))
			return;
		l->sources_count = i + 1;
	}
}

uint32_t tc_library_sources(const tc_library *library)
{
	return library->sources_count;
}

const tc_source_entry *tc_library_source(const tc_library *library, uint32_t index)
{
	return &library->sources[index];
}
