/* libyaml's events to a tree. */
#include "read/yaml.h"

#include <string.h>

#include "base/limits.h"
#include "base/map.h"
#include "read/private.h"

#define FEW_KEYS 16 /* up to here keys are compared with each other, above through a map */

/* A node that an alias may stand for. Of one that is still open the size is not known, and it may not hold itself. */
typedef struct anchor {
	const tc_node *node;
	uint32_t size;  /* nodes, aliases written out */
	uint8_t height; /* 0 for a scalar */
	bool open;
} anchor;

/* A list or mapping whose end has not come yet. */
typedef struct frame {
	tc_node *node;
	size_t first; /* its children are the pending ones from here on */
	uint32_t nodes_before;
	uint32_t anchor; /* index + 1; 0: none */
	uint8_t height;  /* of the highest child, plus 1 */
} frame;

typedef struct reader {
	tc_arena *arena;
	const tc_source *source;
	tc_text text;
	tc_diags *diags;
	yaml_parser_t parser;

	tc_document *documents;
	uint32_t documents_count, documents_room;
	uint32_t nodes; /* of this document, aliases written out */

	frame frames[TC_DEPTH_MAX];
	unsigned depth;
	const tc_node **pending; /* children of all open frames, on the C library's side of the arena */
	size_t pending_count, pending_room;

	tc_map anchor_names;
	anchor *anchors;
	uint32_t anchors_count, anchors_room;

	tc_arena *scratch;              /* for the map of the keys of one mapping */
	size_t mark_index, mark_offset; /* the character looked up last, and its byte */
	uint32_t last_end; /* of the last scalar, alias or flow collection: where a block collection ends too */
	unsigned faults;
	bool no_memory;
} reader;

/* --- places and complaints
 * ------------------------------------------------------------------------------------------ */

static bool continues(char c)
{
	return ((unsigned char)c & 0xC0) == 0x80;
}

static bool eight_are_ascii(tc_text text, size_t at)
{
	uint64_t eight;
	if (text.length - at < sizeof eight)
		return false;
	memcpy(&eight, text.at + at, sizeof eight);
	return (eight & 0x8080808080808080u) == 0;
}

/* The byte of the character at `index`. Marks come nearly in order, so the way from the last one is short. */
static uint32_t offset_of(reader *r, size_t index)
{
	if (tc_source_is_ascii(r->source))
		return (uint32_t)(index < r->text.length ? index : r->text.length);
	size_t at = r->mark_offset;
	while (index - r->mark_index >= 8 && r->mark_index < index && eight_are_ascii(r->text, at)) {
		at += 8;
		r->mark_index += 8;
	}
	for (; r->mark_index < index && at < r->text.length; r->mark_index++)
		do
			at++;
		while (at < r->text.length && continues(r->text.at[at]));
	while (r->mark_index > index && at > 0) {
		do
			at--;
		while (at > 0 && continues(r->text.at[at]));
		r->mark_index--;
	}
	r->mark_offset = at;
	return (uint32_t)at;
}

/* The place for the next complaint. When no more will be shown it is not worked out: on one line of 8 MB that is
 * slow. */
static tc_place place_for_fault(reader *r, size_t offset)
{
	if (++r->faults > TC_MESSAGES_MAX)
		return (tc_place){.file = tc_source_name(r->source)};
	return tc_source_place(r->source, offset);
}

/* The same for the place beside it. */
static tc_place place_beside(const reader *r, size_t offset)
{
	if (r->faults > TC_MESSAGES_MAX)
		return (tc_place){.file = tc_source_name(r->source)};
	return tc_source_place(r->source, offset);
}

static bool out_of_memory(reader *r)
{
	r->no_memory = true;
	return false;
}

/* --- nodes
 * ---------------------------------------------------------------------------------------------------------- */

static bool push_pending(reader *r, const tc_node *node)
{
	if (r->pending_count == r->pending_room) {
		const tc_allocator *from = tc_arena_allocator(r->arena);
		const size_t room = r->pending_room ? 2 * r->pending_room : 256;
		const tc_node **larger = from->get(from->user, r->pending, room * sizeof *larger);
		if (!larger)
			return out_of_memory(r);
		r->pending = larger;
		r->pending_room = room;
	}
	r->pending[r->pending_count++] = node;
	return true;
}

static frame *innermost(reader *r)
{
	return r->depth ? &r->frames[r->depth - 1] : NULL;
}

/* Is the next child of the innermost frame the key of a mapping? */
static bool key_is_due(reader *r)
{
	const frame *in = innermost(r);
	return in && in->node->kind == TC_MAP && (r->pending_count - in->first) % 2 == 0;
}

/* A node with room for `more` bytes behind it. */
static tc_node *node_new(reader *r, tc_node_kind kind, size_t offset, size_t end, size_t more)
{
	tc_node *node = tc_arena_get(r->arena, sizeof *node + more);
	if (!node) {
		out_of_memory(r);
		return NULL;
	}
	const frame *in = innermost(r);
	node->kind = (uint8_t)kind;
	node->flow = in && in->node->flow;
	node->offset = (uint32_t)offset;
	node->end = (uint32_t)end;
	return node;
}

/* Counts nodes of the document; false at the bound. */
static bool count_nodes(reader *r, uint32_t more, size_t offset)
{
	r->nodes += more; /* both below TC_NODES_MAX + 2, so the sum fits */
	if (r->nodes <= TC_NODES_MAX)
		return true;
	tc_diag_add(r->diags, TC_ERROR, "too-large", place_for_fault(r, offset),
	    "the document has more than %u values, those behind aliases counted each time", TC_NODES_MAX);
	return false;
}

/* A key must be a text. In the place of another one an empty text is put, so that nobody above stumbles over it. */
static const tc_node *checked_key(reader *r, const tc_node *key, size_t offset)
{
	if (key->kind == TC_SCALAR && !key->empty) {
		if (key->style == TC_PLAIN && tc_node_is(key, "<<"))
			tc_diag_add(r->diags, TC_ERROR, "merge-key", place_for_fault(r, offset),
			    "the merge key `<<` is not supported; write the keys out, or use an alias for the whole "
			    "value");
		return key;
	}
	tc_diag_add(r->diags, TC_ERROR, "key-not-text", place_for_fault(r, offset),
	    "%s stands where a key is due; keys are plain words, quote a text that holds `[ ] { }`",
	    tc_node_kind_name(key));
	if (key->kind == TC_SCALAR)
		return key;
	tc_node *instead = node_new(r, TC_SCALAR, key->offset, key->end, 0);
	if (instead) {
		instead->text = "";
		instead->empty = true;
	}
	return instead;
}

/* Hands a finished node, written or alias at `offset`, to what it stands in. */
static bool give(reader *r, const tc_node *node, unsigned height, size_t offset)
{
	frame *in = innermost(r);
	if (!in) {
		if (r->documents_count && !node->empty)
			r->documents[r->documents_count - 1].root = node;
		return true;
	}
	if (in->height <= height)
		in->height = (uint8_t)(height + 1);
	if (key_is_due(r)) {
		node = checked_key(r, node, offset);
		if (!node)
			return false;
	}
	return push_pending(r, node);
}

/* --- anchors
 * -------------------------------------------------------------------------------------------------------- */

/* Remembers an anchor, a later one in the place of an earlier one of that name; its index + 1, 0 without memory. */
static uint32_t remember(reader *r, const yaml_char_t *name, anchor is)
{
	const tc_text key = tc_text_of((const char *)name);
	const char *kept = tc_arena_text(r->arena, key.at, key.length);
	uint32_t index;
	if (!kept || !tc_arena_grow(r->arena, (void **)&r->anchors, r->anchors_count, &r->anchors_room, sizeof is) ||
	    !tc_map_put(&r->anchor_names, r->arena, (tc_text){kept, key.length}, r->anchors_count, &index)) {
		out_of_memory(r);
		return 0;
	}
	if (index == TC_MAP_NONE)
		index = r->anchors_count++;
	r->anchors[index] = is;
	return index + 1;
}

static bool on_alias(reader *r, const yaml_event_t *event)
{
	const uint32_t offset = offset_of(r, event->start_mark.index);
	const char *name = (const char *)event->data.alias.anchor;
	r->last_end = offset_of(r, event->end_mark.index);
	const uint32_t index = tc_map_find(&r->anchor_names, tc_text_of(name));
	if (index == TC_MAP_NONE || r->anchors[index].open) {
		tc_diag_add(r->diags, TC_ERROR, "alias", place_for_fault(r, offset),
		    index == TC_MAP_NONE ? "no anchor `&%s` stands before this alias"
		                         : "the alias `*%s` stands within its own anchor",
		    name);
		tc_node *instead = node_new(r, TC_SCALAR, offset, r->last_end, 0);
		if (!instead)
			return false;
		instead->text = "";
		return count_nodes(r, 1, offset) && give(r, instead, 0, offset);
	}
	const anchor *a = &r->anchors[index];
	if (!count_nodes(r, a->size, offset))
		return false;
	if (r->depth + a->height > TC_DEPTH_MAX) {
		tc_diag_add(r->diags, TC_ERROR, "too-deep", place_for_fault(r, offset),
		    "with this alias written out, lists and mappings are nested more than %u deep", TC_DEPTH_MAX);
		return false;
	}
	return give(r, a->node, a->height, offset);
}

/* --- scalars
 * -------------------------------------------------------------------------------------------------------- */

static void refuse_tag(reader *r, size_t offset)
{
	tc_diag_add(r->diags, TC_ERROR, "tag", place_for_fault(r, offset),
	    "a tag `!…` is not supported; take it out, or quote the text if it begins with `!`");
}

/* The tag `!` alone does not show in the event, so the source is looked at. */
static void check_tag(reader *r, const tc_node *node, const yaml_char_t *tag)
{
	bool tagged = tag != NULL;
	const char first = node->offset < r->text.length ? r->text.at[node->offset] : 0;
	if (!tagged && (first == '!' || first == '&') && (!node->empty || node->anchored))
		tc_node_behind_properties(r->text, node->offset, &tagged);
	if (tagged)
		refuse_tag(r, node->offset);
}

/* The first character of a text that only an escape can have brought in and that no text may have; 0: none. */
static uint32_t hidden_escape(tc_text text, size_t *at)
{
	for (size_t i = 0; i < text.length;) {
		uint32_t point;
		*at = i;
		i += tc_utf8_next(text.at + i, text.length - i, &point);
		if (point == 0 || (point < 0x20 && point != '\t' && point != '\n'))
			return point ? point : UINT32_MAX;
		if ((point >= 0x7F && point < 0xA0) || point == 0x2028 || point == 0x2029 || point == 0xFEFF)
			return point;
	}
	return 0;
}

static void check_escapes(reader *r, const tc_node *node)
{
	size_t at;
	const uint32_t point = hidden_escape(tc_node_text(node), &at);
	if (point == 0)
		return;
	const tc_place place = place_for_fault(r, node->offset);
	tc_diag_add(r->diags, TC_ERROR, "control-character",
	    place.line ? tc_node_text_place(r->source, node, at) : place,
	    "an escape for the control character U+%04X; take it out", point == UINT32_MAX ? 0u : (unsigned)point);
}

static void check_scalar(reader *r, const tc_node *node, const yaml_char_t *tag)
{
	check_tag(r, node, tag);
	if (node->count > TC_SCALAR_MAX)
		tc_diag_add(r->diags, TC_ERROR, "too-large", place_for_fault(r, node->offset),
		    "a text of %u bytes; at most %u are read", (unsigned)node->count, TC_SCALAR_MAX);
	if (node->style == TC_DOUBLE)
		check_escapes(r, node);
}

static tc_style style_of(yaml_scalar_style_t style)
{
	switch (style) {
	case YAML_SINGLE_QUOTED_SCALAR_STYLE:
		return TC_SINGLE;
	case YAML_DOUBLE_QUOTED_SCALAR_STYLE:
		return TC_DOUBLE;
	case YAML_LITERAL_SCALAR_STYLE:
		return TC_LITERAL;
	case YAML_FOLDED_SCALAR_STYLE:
		return TC_FOLDED;
	default:
		return TC_PLAIN;
	}
}

static bool on_scalar(reader *r, const yaml_event_t *event)
{
	const size_t length = event->data.scalar.length;
	const uint32_t offset = offset_of(r, event->start_mark.index);
	r->last_end = offset_of(r, event->end_mark.index);
	tc_node *node = node_new(r, TC_SCALAR, offset, r->last_end, length + 1);
	if (!node)
		return false;
	node->text = memcpy(node + 1, event->data.scalar.value, length);
	node->style = (uint8_t)style_of(event->data.scalar.style);
	node->count = (uint32_t)length;
	node->empty = length == 0 && node->style == TC_PLAIN;
	node->anchored = event->data.scalar.anchor != NULL;
	if (node->anchored && !remember(r, event->data.scalar.anchor, (anchor){.node = node, .size = 1}))
		return false;
	check_scalar(r, node, event->data.scalar.tag);
	return count_nodes(r, 1, offset) && give(r, node, 0, offset);
}

/* --- lists and mappings
 * --------------------------------------------------------------------------------------------- */

static bool on_start(reader *r, const yaml_event_t *event)
{
	const bool list = event->type == YAML_SEQUENCE_START_EVENT;
	const yaml_char_t *name = list ? event->data.sequence_start.anchor : event->data.mapping_start.anchor;
	const yaml_char_t *tag = list ? event->data.sequence_start.tag : event->data.mapping_start.tag;
	const uint32_t offset = offset_of(r, event->start_mark.index);
	if (r->depth == TC_DEPTH_MAX) {
		tc_diag_add(r->diags, TC_ERROR, "too-deep", place_for_fault(r, offset),
		    "lists and mappings are nested more than %u deep", TC_DEPTH_MAX);
		return false;
	}
	const uint32_t nodes_before = r->nodes;
	tc_node *node = node_new(r, list ? TC_LIST : TC_MAP, offset, offset_of(r, event->end_mark.index), 0);
	if (!node || !count_nodes(r, 1, offset))
		return false;
	node->flow |= list ? event->data.sequence_start.style == YAML_FLOW_SEQUENCE_STYLE
	                   : event->data.mapping_start.style == YAML_FLOW_MAPPING_STYLE;
	node->anchored = name != NULL;
	check_tag(r, node, tag);
	frame *in = &r->frames[r->depth];
	*in = (frame){.node = node, .first = r->pending_count, .nodes_before = nodes_before, .height = 1};
	if (name && (in->anchor = remember(r, name, (anchor){.node = node, .open = true})) == 0)
		return false;
	r->depth++;
	return true;
}

static void report_duplicate(reader *r, const tc_node *key, const tc_node *first)
{
	tc_diag_add(r->diags, TC_ERROR, "duplicate-key", place_for_fault(r, key->offset),
	    "the key `%.*s` stands here a second time; keep one of the two", (int)(key->count < 80 ? key->count : 80),
	    key->text);
	tc_diag_relate(r->diags, place_beside(r, first->offset), "the first one");
}

static void compare_keys(reader *r, const tc_node *map)
{
	for (uint32_t i = 1; i < map->count; i++) {
		const tc_node *key = map->items[2 * i];
		for (uint32_t j = 0; j < i; j++) {
			const tc_node *first = map->items[2 * j];
			if (first->count != key->count || memcmp(first->text, key->text, key->count) != 0 || key->empty)
				continue;
			report_duplicate(r, key, first);
			break;
		}
	}
}

static bool look_up_keys(reader *r, const tc_node *map)
{
	if (!r->scratch && !(r->scratch = tc_arena_new(tc_arena_allocator(r->arena), 0)))
		return out_of_memory(r);
	tc_arena_reset(r->scratch);
	tc_map seen = {0};
	for (uint32_t i = 0; i < map->count; i++) {
		const tc_node *key = map->items[2 * i];
		uint32_t first;
		if (key->empty)
			continue;
		if (!tc_map_put(&seen, r->scratch, tc_node_text(key), i, &first))
			return out_of_memory(r);
		if (first != TC_MAP_NONE)
			report_duplicate(r, key, map->items[2 * first]);
	}
	return true;
}

/* Moves the children of the innermost frame to their node and takes the frame away. */
static bool close_frame(reader *r)
{
	const frame done = *innermost(r);
	tc_node *node = done.node;
	size_t count = r->pending_count - done.first;
	if (node->kind == TC_MAP)
		count -= count % 2; /* a key alone is left where the text broke off */
	node->items = NULL;
	if (count) {
		node->items = tc_arena_copy(r->arena, r->pending + done.first, count * sizeof *r->pending);
		if (!node->items)
			return out_of_memory(r);
	}
	if (node->end < r->last_end)
		node->end = r->last_end;
	node->count = (uint32_t)(node->kind == TC_MAP ? count / 2 : count);
	r->pending_count = done.first;
	r->depth--;
	if (done.anchor && r->anchors[done.anchor - 1].node == node) /* and no later one of that name has come */
		r->anchors[done.anchor - 1] =
		    (anchor){.node = node, .size = r->nodes - done.nodes_before, .height = done.height};
	if (node->kind == TC_MAP && node->count <= FEW_KEYS)
		compare_keys(r, node);
	else if (node->kind == TC_MAP && !look_up_keys(r, node))
		return false;
	return give(r, node, done.height, node->offset);
}

static bool on_end(reader *r, const yaml_event_t *event)
{
	if (innermost(r)->node->flow)
		r->last_end = offset_of(r, event->end_mark.index);
	return close_frame(r);
}

/* --- documents
 * ------------------------------------------------------------------------------------------------------ */

static bool on_document(reader *r, const yaml_event_t *event)
{
	const uint32_t offset = offset_of(r, event->start_mark.index);
	if (r->documents_count == TC_DOCUMENTS_MAX) {
		tc_diag_add(r->diags, TC_ERROR, "too-large", place_for_fault(r, offset),
		    "more than %u documents in one file", TC_DOCUMENTS_MAX);
		return false;
	}
	if (event->data.document_start.tag_directives.start != event->data.document_start.tag_directives.end)
		refuse_tag(r, offset);
	if (!tc_arena_grow(
	        r->arena, (void **)&r->documents, r->documents_count, &r->documents_room, sizeof *r->documents))
		return out_of_memory(r);
	r->documents[r->documents_count++] = (tc_document){.offset = offset};
	r->nodes = 0;
	r->anchor_names = (tc_map){0};
	r->anchors_count = 0;
	return true;
}

static bool on_event(reader *r, const yaml_event_t *event)
{
	switch (event->type) {
	case YAML_DOCUMENT_START_EVENT:
		return on_document(r, event);
	case YAML_ALIAS_EVENT:
		return on_alias(r, event);
	case YAML_SCALAR_EVENT:
		return on_scalar(r, event);
	case YAML_SEQUENCE_START_EVENT:
	case YAML_MAPPING_START_EVENT:
		return on_start(r, event);
	case YAML_SEQUENCE_END_EVENT:
	case YAML_MAPPING_END_EVENT:
		return on_end(r, event);
	default:
		return true;
	}
}

static void on_syntax(reader *r)
{
	const yaml_parser_t *parser = &r->parser;
	if (parser->error == YAML_MEMORY_ERROR || parser->error == YAML_NO_ERROR) {
		r->no_memory = true;
		return;
	}
	size_t at = offset_of(r, parser->problem_mark.index);
	if (parser->error == YAML_READER_ERROR)
		at = parser->problem_offset;
	const tc_syntax says = tc_syntax_explain(parser, r->text, at);
	const size_t context = parser->context ? offset_of(r, parser->context_mark.index) : at;
	tc_diag_add(
	    r->diags, TC_ERROR, "yaml-syntax", place_for_fault(r, says.at_context ? context : at), "%s", says.message);
	if (says.related && parser->context)
		tc_diag_relate(r->diags, place_beside(r, context), "%s", says.related);
}

/* Reads events up to the end of the text or to the first thing after which reading cannot go on. */
static void read_events(reader *r)
{
	bool more = true;
	while (more) {
		yaml_event_t event;
		if (!yaml_parser_parse(&r->parser, &event)) {
			on_syntax(r);
			return;
		}
		more = event.type != YAML_STREAM_END_EVENT && on_event(r, &event);
		yaml_event_delete(&event);
	}
}

static void run(reader *r)
{
	if (!yaml_parser_initialize(&r->parser)) {
		r->no_memory = true;
		return;
	}
	yaml_parser_set_encoding(&r->parser, YAML_UTF8_ENCODING);
	yaml_parser_set_input_string(&r->parser, (const unsigned char *)r->text.at, r->text.length);
	read_events(r);
	while (r->depth && !r->no_memory && close_frame(r))
		;
	yaml_parser_delete(&r->parser);
}

tc_status tc_yaml_read(
    tc_arena *arena, const tc_source *source, tc_diags *diags, const tc_document **documents, size_t *count)
{
	*documents = NULL;
	*count = 0;
	if (!tc_source_readable(source))
		return TC_BAD;
	reader r = {.arena = arena, .source = source, .text = tc_source_text(source), .diags = diags};
	run(&r);
	const tc_allocator *from = tc_arena_allocator(arena);
	if (r.pending)
		from->get(from->user, r.pending, 0);
	tc_arena_free(r.scratch);
	if (r.no_memory || tc_arena_failed(arena))
		return TC_NO_MEMORY;
	*documents = r.documents;
	*count = r.documents_count;
	return r.faults ? TC_BAD : TC_OK;
}
