/* Windows: one span or several, sorted and disjoint. */
#include <stdlib.h>

#include "library/private.h"

static bool read_span(const tc_reader *reader, const tc_property_row *row, const tc_node *node, tc_span *span)
{
	tc_quantity_error error;
	if (node->kind != TC_SCALAR || node->empty) {
		tc_lib_wrong(reader, "wrong-shape", node,
		    "`%s` is a window, such as `10 min to 48 h`, or a list of them; this is %s", row->key,
		    tc_node_kind_name(node));
		return false;
	}
	if (!tc_span_read(tc_node_text(node), span, &error)) {
		tc_diag_add(reader->diags, TC_ERROR, "window", tc_node_text_place(reader->source, node, error.at),
		    "`%s`: %s", row->key, error.message);
		return false;
	}
	if (span->from >= 0 && (!isfinite(span->to) || span->to <= TC_TIME_MAX) && span->from <= TC_TIME_MAX)
		return true;
	tc_lib_wrong(reader, "out-of-range", node, "`%s` is `%s`; a window lies between 0 s and 100 years", row->key,
	    node->text);
	return false;
}

static int order_of_spans(const void *left, const void *right)
{
	const tc_span *a = left, *b = right;
	return a->from < b->from ? -1 : a->from > b->from;
}

const tc_window *tc_lib_read_window(const tc_reader *reader, const tc_property_row *row, const tc_node *node)
{
	const tc_node *const one[] = {node};
	const uint32_t count = node->kind == TC_LIST ? node->count : 1;
	const tc_node *const *items = node->kind == TC_LIST ? node->items : one;
	tc_window *window = TC_NEW(reader->arena, tc_window);
	tc_span *spans = TC_ARRAY(reader->arena, count, tc_span);
	if (!window || !spans)
		return NULL;
	if (count == 0) {
		tc_lib_wrong(
		    reader, "window", node, "`%s` has no span; write `none` if there is no such thing", row->key);
		return NULL;
	}
	for (uint32_t i = 0; i < count; i++)
		if (!read_span(reader, row, items[i], &spans[i]))
			return NULL;
	if (count > 1)
		qsort(spans, count, sizeof *spans, order_of_spans);
	for (uint32_t i = 1; i < count; i++) {
		if (tc_compare(spans[i].from, spans[i - 1].to) > 0)
			continue;
		tc_lib_wrong(reader, "window", node, "two spans of `%s` touch or overlap; make one of them", row->key);
		return NULL;
	}
	window->count = count;
	window->spans = spans;
	return window;
}
