/* Bytes to a tree: never a crash, every place inside the file, and the way from a scalar's text back to its source
 * gives libyaml's text byte for byte. */
#include <stdlib.h>

#include "read/private.h"

#define NEVER(what)                                                                                                    \
	do {                                                                                                           \
		if (what)                                                                                              \
			abort();                                                                                       \
	} while (0)

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void look_at_scalar(const tc_source *source, const tc_node *scalar, tc_diags *diags)
{
	const tc_text text = tc_source_text(source);
	const size_t count = scalar->count;
	const size_t wanted[] = {0, 1, count / 2, count ? count - 1 : 0, count, count + 1};
	NEVER(scalar->text[count] != 0);
	for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++) {
		size_t origin;
		const tc_place place = tc_node_text_place(source, scalar, wanted[i]);
		NEVER(place.line == 0 || place.column == 0 || place.column > text.length + 1);
		if (scalar->offset == scalar->end)
			continue;
		if (!tc_node_origin(source, scalar, wanted[i], &origin)) {
			NEVER(count != 0); /* an anchor or a tag with nothing behind it */
			continue;
		}
		NEVER(origin < scalar->offset || origin > scalar->end);
		const char c = wanted[i] < count ? scalar->text[wanted[i]] : ' ';
		if (c != ' ' && c != '\n' && text.at[origin] != '\\' && scalar->style != TC_DOUBLE)
			NEVER(text.at[origin] != c);
	}
	tc_yaml_expression_check(source, scalar, count % 2, diags);
}

static void look_at(const tc_source *source, const tc_node *node, tc_diags *diags, unsigned depth, unsigned *budget)
{
	NEVER(depth > 64);
	NEVER(node->offset > node->end || node->end > tc_source_text(source).length);
	if (*budget == 0)
		return;
	--*budget;
	if (node->kind == TC_SCALAR) {
		look_at_scalar(source, node, diags);
		return;
	}
	const size_t children = node->kind == TC_MAP ? 2 * (size_t)node->count : node->count;
	for (size_t i = 0; i < children; i++)
		look_at(source, node->items[i], diags, depth + 1, budget);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = arena ? tc_diags_new(arena) : NULL;
	tc_source *source = NULL;
	const tc_document *documents = NULL;
	size_t count = 0;
	NEVER(!diags);
	const tc_status read = tc_source_new(arena, "fuzz.yaml", (const char *)data, size, diags, &source);
	NEVER(!source || (read == TC_BAD) != (tc_diags_errors(diags) > 0));
	const tc_status status = tc_yaml_read(arena, source, diags, &documents, &count);
	NEVER(status != TC_OK && tc_diags_errors(diags) == 0);
	NEVER(status == TC_OK && tc_diags_errors(diags) > 0);
	unsigned budget = 2000;
	for (size_t i = 0; i < count; i++)
		if (documents[i].root)
			look_at(source, documents[i].root, diags, 0, &budget);
	tc_diags_sort(diags);
	for (size_t i = 0; i < tc_diags_count(diags); i++)
		NEVER(!tc_diags_at(diags, i)->message);
	tc_arena_free(arena);
	return 0;
}
