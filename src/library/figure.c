/* One figure: its value by the type of its row, in the short form or in the long one {is, from, spread, note}. */
#include "library/private.h"

static const char *const long_keys[] = {"is", "from", "spread", "note", NULL};

/* --- words of vocabularies -------------------------------------------------------------------------------------- */

static void say_no_word(
    const tc_reader *reader, const tc_property_row *row, const tc_word_list *list, const tc_node *node)
{
	tc_nearest nearest = TC_NEAREST(tc_node_text(node));
	tc_buffer all;
	tc_buffer_start(&all, tc_arena_allocator(reader->arena));
	for (uint32_t i = 0; i < list->count; i++) {
		tc_nearest_offer(&nearest, tc_text_of(list->words[i]));
		tc_buffer_puts(&all, i ? ", " : "; its words are ");
		tc_buffer_puts(&all, list->words[i]);
	}
	tc_lib_wrong(reader, "unknown-word", node, "`%s` of `%s` is no word of `%s`" TC_NEAR_F, node->text, row->key,
	    list->id, TC_NEAR(nearest, all.at ? all.at : ""));
	tc_buffer_free(&all);
}

static const tc_word_list *words_of(const tc_reader *reader, const tc_property_row *row, const tc_node *node)
{
	const tc_word_list *list = tc_library_words(reader->library, tc_text_of(row->vocabulary));
	if (!list)
		tc_lib_wrong(reader, "unknown-name", node,
		    "`%s` takes a word of `%s`, which section `words` does not list", row->key, row->vocabulary);
	return list;
}

static uint32_t read_word(
    const tc_reader *reader, const tc_property_row *row, const tc_word_list *list, const tc_node *node)
{
	if (!tc_lib_read_item(reader, node, row->key))
		return TC_NONE;
	const uint32_t word = tc_word_find(list, tc_node_text(node));
	if (word == TC_NONE)
		say_no_word(reader, row, list, node);
	return word;
}

static bool read_symbol(const tc_reader *reader, const tc_property_row *row, const tc_node *node, tc_value *value)
{
	const tc_word_list *list = words_of(reader, row, node);
	if (!list)
		return false;
	if (node->kind != TC_SCALAR || node->empty) {
		tc_lib_wrong(reader, "wrong-shape", node, "`%s` is one word of `%s`; this is %s", row->key, list->id,
		    tc_node_kind_name(node));
		return false;
	}
	const uint32_t word = read_word(reader, row, list, node);
	value->symbol = word;
	return word != TC_NONE;
}

static bool read_symbols(const tc_reader *reader, const tc_property_row *row, const tc_node *node, tc_value *value)
{
	const tc_node *one;
	tc_items items;
	const tc_word_list *list = words_of(reader, row, node);
	if (!list || !tc_lib_read_items(reader, node, row->key, &one, &items))
		return false;
	bool good = true;
	for (uint32_t i = 0; i < items.count; i++) {
		const uint32_t word = read_word(reader, row, list, items.at[i]);
		if (word == TC_NONE)
			good = false;
		else if (value->set >> word & 1) {
			tc_lib_wrong(reader, "twice", items.at[i], "`%s` stands twice in `%s`; once is enough",
			    items.at[i]->text, row->key);
			good = false;
		} else
			value->set |= (uint64_t)1 << word;
	}
	return good;
}

/* --- ratios and lists of entries -------------------------------------------------------------------------------- */

static bool read_ratio(const tc_reader *reader, const tc_property_row *row, const tc_node *node, tc_figure *figure)
{
	tc_quantity_error error;
	figure->value.text = tc_lib_read_text(reader, node, row->key);
	if (!figure->value.text)
		return false;
	if (tc_ratio_read(tc_node_text(node), figure->ratio, &error))
		return true;
	tc_diag_add(reader->diags, TC_ERROR, "ratio", tc_node_text_place(reader->source, node, error.at), "`%s`: %s",
	    row->key, error.message);
	return false;
}

static bool is_in(const uint32_t *entries, uint32_t count, uint32_t entry)
{
	for (uint32_t i = 0; i < count; i++)
		if (entries[i] == entry)
			return true;
	return false;
}

static const tc_entries *read_entries(const tc_reader *reader, const tc_property_row *row, const tc_node *node)
{
	const tc_node *one;
	tc_items items;
	if (!tc_lib_read_items(reader, node, row->key, &one, &items))
		return NULL;
	tc_entries *entries = TC_NEW(reader->arena, tc_entries);
	uint32_t *at = TC_ARRAY(reader->arena, items.count, uint32_t);
	if (!entries || !at)
		return NULL;
	for (uint32_t i = 0; i < items.count; i++) {
		if (!tc_lib_read_item(reader, items.at[i], row->key))
			return NULL;
		const uint32_t entry = tc_lib_read_entry(reader, items.at[i], ~0u, row->key);
		if (entry == TC_NONE)
			return NULL;
		if (is_in(at, i, entry)) {
			tc_lib_wrong(reader, "twice", items.at[i], "`%s` stands twice in `%s`; once is enough",
			    items.at[i]->text, row->key);
			return NULL;
		}
		at[i] = entry;
	}
	entries->count = items.count;
	entries->at = at;
	return entries;
}

/* --- by type ---------------------------------------------------------------------------------------------------- */

static bool read_blend(const tc_reader *reader, const tc_property_row *row, const tc_node *node, tc_value *value)
{
	bool unknown = false;
	value->blend = tc_lib_read_blend(reader, row, node, &unknown);
	if (unknown)
		value->state = TC_UNKNOWN;
	return unknown || value->blend;
}

static bool read_truth(const tc_reader *reader, const tc_property_row *row, const tc_node *node, tc_value *value)
{
	bool truth;
	if (!tc_lib_read_truth(reader, node, row->key, &truth))
		return false;
	value->truth = truth ? TC_TRUE : TC_FALSE;
	return true;
}

static bool read_plain(const tc_reader *reader, const tc_property_row *row, const tc_node *node, tc_value *value)
{
	switch (row->type) {
	case TC_T_NUMBER:
	case TC_T_SHARE:
	case TC_T_TEMPERATURE:
		return tc_lib_read_measure(reader, row, node, &value->number);
	case TC_T_TRUTH:
		return read_truth(reader, row, node, value);
	case TC_T_WINDOW:
		value->window = tc_lib_read_window(reader, row, node);
		return value->window != NULL;
	case TC_T_SYMBOL:
		return read_symbol(reader, row, node, value);
	case TC_T_SYMBOLS:
		return read_symbols(reader, row, node, value);
	case TC_T_TEXT:
		value->text = tc_lib_read_text(reader, node, row->key);
		return value->text != NULL;
	case TC_T_BAD:
	case TC_T_SUBJECT:
	case TC_T_BLEND:
		break;
	}
	return false; /* no row is of these */
}

static bool read_value(const tc_reader *reader, const tc_property_row *row, const tc_node *node, tc_figure *figure)
{
	figure->value.type = (uint8_t)row->type;
	if (tc_node_is(node, "none")) {
		figure->value.state = TC_ABSENT;
		return true;
	}
	figure->value.state = TC_SAID;
	switch (row->form) {
	case TC_FORM_BLEND:
		return read_blend(reader, row, node, &figure->value);
	case TC_FORM_ENTRIES:
		figure->entries = read_entries(reader, row, node);
		return figure->entries != NULL;
	case TC_FORM_RATIO:
		return read_ratio(reader, row, node, figure);
	case TC_FORM_PLAIN:
		break;
	}
	return read_plain(reader, row, node, &figure->value);
}

/* --- the long form ---------------------------------------------------------------------------------------------- */

static bool read_around(const tc_reader *reader, const tc_property_row *row, const tc_node *map, tc_figure *figure)
{
	const tc_node *from = tc_map_get(map, "from", NULL), *spread = tc_map_get(map, "spread", NULL);
	const tc_node *note = tc_map_get(map, "note", NULL);
	bool good = tc_lib_check_keys(reader, map, long_keys, "a figure");
	if (from) {
		figure->basis = tc_lib_basis(reader, from);
		good &= figure->basis != NULL;
	}
	if (note) {
		figure->note = tc_lib_read_text(reader, note, "note");
		good &= figure->note != NULL;
	}
	if (spread)
		good &= tc_lib_read_spread(reader, row, spread, &figure->least, &figure->most);
	return good;
}

/* A published spread holds the figure that was taken from it. */
static bool check_spread(
    const tc_reader *reader, const tc_property_row *row, const tc_node *map, const tc_figure *figure)
{
	const tc_node *spread = tc_map_get(map, "spread", NULL);
	const double n = figure->value.number;
	if (!spread ||
	    (figure->value.state == TC_SAID && tc_compare(n, figure->least) >= 0 && tc_compare(n, figure->most) <= 0))
		return true;
	tc_lib_wrong(reader, "spread", spread, "`%s` does not lie in its `spread` of %s; one of them is wrong",
	    row->key, spread->text);
	return false;
}

const tc_figure *tc_lib_figure(
    const tc_reader *reader, const tc_property_row *row, const tc_node *node, const tc_basis *basis, uint32_t entry)
{
	tc_figure *figure = TC_NEW(reader->arena, tc_figure);
	if (!figure)
		return NULL;
	figure->basis = basis;
	figure->entry = entry;
	figure->place = tc_lib_place(reader, tc_node_place(reader->source, node));
	const tc_node *is = node->kind == TC_MAP ? tc_map_get(node, "is", NULL) : NULL;
	if (is) {
		const bool around = read_around(reader, row, node, figure);
		return read_value(reader, row, is, figure) && around && check_spread(reader, row, node, figure) ? figure
		                                                                                                : NULL;
	}
	if (node->kind == TC_MAP && row->form != TC_FORM_BLEND) {
		tc_lib_wrong(reader, "wrong-shape", node,
		    "`%s` is a mapping without `is`; write the value alone or `{is: VALUE, from: …}`", row->key);
		return NULL;
	}
	return read_value(reader, row, node, figure) ? figure : NULL;
}

const tc_figure *tc_figure_read(const tc_library *library, tc_arena *arena, const tc_source *source,
    tc_property property, const tc_node *node, tc_diags *diags)
{
	const tc_reader reader = {.library = library, .arena = arena, .diags = diags, .source = source};
	return tc_lib_figure(&reader, tc_property_row_of(property), node, NULL, TC_NONE);
}
