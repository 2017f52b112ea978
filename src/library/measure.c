/* Numbers with units: read as the row of a property wants them, or refused with a word on how to write them. */
#include <string.h>

#include "library/private.h"

/* Units that a message may propose, the likeliest of each dimension first. */
static const char *const proposals[] = {"µm", "mm", "cm", "m", "min", "h", "d", "s", "%", "°C", "ml", "l", "m³", "m³/h",
    "m/s", "MPa½", "cm³/mol", "g/mol", "g/cm³", "kg/m³", "Pa", "kPa", "kJ/mol", "mN/m", "m²/s"};

static bool ranged(const tc_property_row *row)
{
	return row->low < row->high;
}

static bool within(const tc_property_row *row, double si)
{
	return !ranged(row) || (tc_compare(si, row->low) >= 0 && tc_compare(si, row->high) <= 0);
}

static bool suits(const tc_property_row *row, const tc_unit *unit)
{
	return unit->type == row->type && !unit->difference &&
	       (row->type != TC_T_NUMBER || tc_dim_same(unit->dim, row->dim));
}

/* A unit for a bare number: the first that puts it into the range, else the first of the dimension; "" for none. */
static const char *unit_for(const tc_property_row *row, double number)
{
	const char *first = "";
	for (size_t i = 0; i < sizeof proposals / sizeof *proposals; i++) {
		const tc_unit *unit = tc_unit_find(tc_text_of(proposals[i]));
		if (!unit || !suits(row, unit))
			continue;
		if (within(row, tc_unit_to_si(unit, number)))
			return proposals[i];
		if (!*first)
			first = proposals[i];
	}
	return first;
}

static void kind_name(tc_type type, tc_dim dim, tc_buffer *out)
{
	if (type == TC_T_SHARE)
		tc_buffer_puts(out, "a share");
	else if (type == TC_T_TEMPERATURE)
		tc_buffer_puts(out, "a temperature");
	else if (tc_dim_none(dim))
		tc_buffer_puts(out, "a bare number");
	else
		tc_dim_name(dim, out);
}

static const char *shown(const tc_buffer *buffer)
{
	return buffer->at ? buffer->at : "";
}

/* The wrong kind of quantity: what it is, what is due, and how that would be written. */
static void say_mismatch(
    const tc_reader *reader, const tc_property_row *row, const tc_node *node, tc_text text, const tc_quantity *q)
{
	tc_buffer is, due, hint;
	tc_buffer_start(&is, tc_arena_allocator(reader->arena));
	tc_buffer_start(&due, tc_arena_allocator(reader->arena));
	tc_buffer_start(&hint, tc_arena_allocator(reader->arena));
	kind_name(q->type, q->bare ? TC_DIM_NONE : q->dim, &is);
	kind_name(row->type, row->dim, &due);
	const bool want_bare = row->type == TC_T_NUMBER && tc_dim_none(row->dim);
	if (want_bare)
		tc_buffer_puts(&hint, "leave out the unit");
	else if (q->bare)
		tc_buffer_print(&hint, "write `%.*s %s`", (int)text.length, text.at, unit_for(row, q->si));
	else
		tc_buffer_print(&hint, "give it in %s", unit_for(row, 1));
	tc_lib_wrong(reader, row->type == TC_T_SHARE || q->type == TC_T_SHARE ? "share" : "dimensions", node,
	    "`%.*s` is %s and `%s` %s; %s", (int)text.length, text.at, shown(&is), row->key, shown(&due), shown(&hint));
	tc_buffer_free(&is);
	tc_buffer_free(&due);
	tc_buffer_free(&hint);
}

static void say_out_of_range(const tc_reader *reader, const tc_property_row *row, const tc_node *node, tc_text text)
{
	tc_buffer low, high;
	tc_buffer_start(&low, tc_arena_allocator(reader->arena));
	tc_buffer_start(&high, tc_arena_allocator(reader->arena));
	tc_quantity_print(&low, row->type, row->dim, row->low, 3, NULL);
	tc_quantity_print(&high, row->type, row->dim, row->high, 3, NULL);
	tc_lib_wrong(reader, "out-of-range", node, "`%s` is %.*s; it can only lie between %s and %s", row->key,
	    (int)text.length, text.at, shown(&low), shown(&high));
	tc_buffer_free(&low);
	tc_buffer_free(&high);
}

static bool fits(const tc_property_row *row, const tc_quantity *q)
{
	if (q->type != row->type)
		return false;
	if (row->type != TC_T_NUMBER)
		return true;
	return tc_dim_same(q->dim, row->dim) && q->bare == tc_dim_none(row->dim);
}

bool tc_lib_read_measure_text(
    const tc_reader *reader, const tc_property_row *row, const tc_node *node, tc_text text, double *si)
{
	tc_quantity q;
	tc_quantity_error error;
	text = tc_text_trim(text);
	if (!tc_quantity_read(text, true, &q, &error)) {
		const size_t offset = (size_t)(text.at - node->text);
		tc_diag_add(reader->diags, TC_ERROR, "quantity",
		    tc_node_text_place(reader->source, node, offset + error.at), "`%s`: %s", row->key, error.message);
		return false;
	}
	if (!fits(row, &q))
		say_mismatch(reader, row, node, text, &q);
	else if (!isfinite(q.si) || !within(row, q.si))
		say_out_of_range(reader, row, node, text);
	else {
		*si = q.si;
		return true;
	}
	return false;
}

bool tc_lib_read_measure(const tc_reader *reader, const tc_property_row *row, const tc_node *node, double *si)
{
	if (node->kind == TC_SCALAR && !node->empty)
		return tc_lib_read_measure_text(reader, row, node, tc_node_text(node), si);
	tc_buffer due;
	tc_buffer_start(&due, tc_arena_allocator(reader->arena));
	kind_name(row->type, row->dim, &due);
	tc_lib_wrong(
	    reader, "wrong-shape", node, "`%s` is %s; this is %s", row->key, shown(&due), tc_node_kind_name(node));
	tc_buffer_free(&due);
	return false;
}

/* Where ` to ` stands in the text, or its length. */
static size_t find_to(tc_text text)
{
	for (size_t i = 0; i + 4 <= text.length; i++)
		if (memcmp(text.at + i, " to ", 4) == 0)
			return i;
	return text.length;
}

bool tc_lib_read_spread(
    const tc_reader *reader, const tc_property_row *row, const tc_node *node, double *least, double *most)
{
	const tc_text text = node->kind == TC_SCALAR ? tc_node_text(node) : (tc_text){NULL, 0};
	const size_t to = find_to(text);
	if (row->form != TC_FORM_PLAIN ||
	    (row->type != TC_T_NUMBER && row->type != TC_T_SHARE && row->type != TC_T_TEMPERATURE)) {
		tc_lib_wrong(reader, "spread", node, "`%s` is no number and has no `spread`", row->key);
		return false;
	}
	if (to == text.length) {
		tc_lib_wrong(reader, "spread", node, "a `spread` is written `A to B`, each with its unit");
		return false;
	}
	if (!tc_lib_read_measure_text(reader, row, node, (tc_text){text.at, to}, least) ||
	    !tc_lib_read_measure_text(reader, row, node, (tc_text){text.at + to + 4, text.length - to - 4}, most))
		return false;
	if (tc_compare(*least, *most) <= 0)
		return true;
	tc_lib_wrong(reader, "spread", node,
	    "the `spread` of `%s` ends below its start; write the smaller figure first", row->key);
	return false;
}
