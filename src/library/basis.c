/* Where a figure comes from: `practice`, or a source and a place in it. */
#include "library/private.h"

static const char *const keys[] = {"source", "at", "memory", NULL};

static uint32_t source_of(const tc_reader *reader, const tc_node *node)
{
	if (node->kind != TC_SCALAR) {
		tc_lib_wrong(
		    reader, "wrong-shape", node, "`source` is the id of a source; this is %s", tc_node_kind_name(node));
		return TC_NONE;
	}
	const uint32_t index = tc_map_find(&reader->library->source_ids, tc_node_text(node));
	if (index != TC_MAP_NONE)
		return index;
	if (tc_lib_say_retired(reader, node))
		return TC_NONE;
	tc_nearest nearest = TC_NEAREST(tc_node_text(node));
	for (uint32_t i = 0; i < reader->library->sources_count; i++)
		tc_nearest_offer(&nearest, tc_text_of(reader->library->sources[i].id));
	tc_lib_wrong(reader, "unknown-name", node, "no source `%s`" TC_NEAR_F, node->text,
	    TC_NEAR(nearest, "; list it in section `sources`"));
	return TC_NONE;
}

static bool read_parts(const tc_reader *reader, const tc_node *node, tc_basis *basis)
{
	const tc_node *source = tc_map_get(node, "source", NULL), *at = tc_map_get(node, "at", NULL);
	const tc_node *memory = tc_map_get(node, "memory", NULL);
	if (!tc_lib_check_keys(reader, node, keys, "`from`"))
		return false;
	if (!source) {
		tc_lib_wrong(
		    reader, "no-basis", node, "`from` names no source; write `{source: ID, at: …}` or `practice`");
		return false;
	}
	basis->source = source_of(reader, source);
	if (basis->source == TC_NONE)
		return false;
	if (memory && !tc_lib_read_truth(reader, memory, "memory", &basis->memory))
		return false;
	basis->memory |= !reader->library->sources[basis->source].read;
	basis->at = at ? tc_lib_read_text(reader, at, "at") : NULL;
	return !at || basis->at;
}

const tc_basis *tc_lib_basis(const tc_reader *reader, const tc_node *node)
{
	const bool practice = tc_node_is(node, "practice");
	if (!practice && node->kind != TC_MAP) {
		tc_lib_wrong(reader, "no-basis", node, "`from` is `practice` or `{source: ID, at: …}`; this is %s",
		    node->kind == TC_SCALAR && !node->empty ? "another text" : tc_node_kind_name(node));
		return NULL;
	}
	tc_basis *basis = TC_NEW(reader->arena, tc_basis);
	if (!basis)
		return NULL;
	basis->source = TC_NONE;
	return practice || read_parts(reader, node, basis) ? basis : NULL;
}

const tc_basis *tc_basis_read(
    const tc_library *library, tc_arena *arena, const tc_source *source, const tc_node *node, tc_diags *diags)
{
	const tc_reader reader = {.library = library, .arena = arena, .diags = diags, .source = source};
	return tc_lib_basis(&reader, node);
}

const tc_basis *tc_lib_item_basis(tc_builder *builder, const tc_item *item)
{
	tc_reader reader;
	const tc_node *from = tc_lib_item_get(builder, item, "from", &reader);
	if (from)
		return tc_lib_basis(&reader, from);
	tc_diag_add(builder->diags, TC_ERROR, "no-basis", item->place,
	    "`%s` does not say where it comes from; write `from: practice` or `from: {source: ID, at: …}`", item->id);
	return NULL;
}
