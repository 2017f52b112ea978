/* Figures in words. */
#include "face/figure_text.h"

#define DIGITS 6 /* as published, not rounded */

static void add_quantity(const tc_property_row *row, double si, tc_buffer *out)
{
	if (row->type == TC_T_NUMBER && tc_dim_same(row->dim, TC_DIM_TIME))
		tc_duration_print(out, si);
	else
		tc_quantity_print(out, row->type, row->dim, si, DIGITS, NULL);
}

static void add_window(const tc_window *window, tc_buffer *out)
{
	for (uint32_t i = 0; i < window->count; i++) {
		if (i)
			tc_buffer_puts(out, ", ");
		tc_duration_print(out, window->spans[i].from);
		if (!isfinite(window->spans[i].to)) {
			tc_buffer_puts(out, " on");
			continue;
		}
		tc_buffer_puts(out, " to ");
		tc_duration_print(out, window->spans[i].to);
	}
}

static void add_blend(const tc_library *library, const tc_blend *blend, tc_buffer *out)
{
	for (uint32_t i = 0; i < blend->count; i++) {
		tc_buffer_print(out, "%s%s ", i ? ", " : "", tc_library_entry(library, blend->parts[i].entry)->id);
		tc_quantity_print(out, TC_T_SHARE, TC_DIM_NONE, blend->parts[i].share, 3, NULL);
	}
}

static void add_entries(const tc_library *library, const tc_entries *entries, tc_buffer *out)
{
	for (uint32_t i = 0; i < entries->count; i++)
		tc_buffer_print(out, "%s%s", i ? ", " : "", tc_library_entry(library, entries->at[i])->id);
	if (entries->count == 0)
		tc_buffer_puts(out, "nothing");
}

static void add_words(const tc_library *library, const char *vocabulary, uint64_t set, tc_buffer *out)
{
	const tc_word_list *list = tc_library_words(library, tc_text_of(vocabulary));
	const char *between = "";
	for (uint32_t i = 0; list && i < list->count && i < 64; i++) {
		if (!(set >> i & 1))
			continue;
		tc_buffer_print(out, "%s%s", between, list->words[i]);
		between = ", ";
	}
	if (!*between)
		tc_buffer_puts(out, "nothing");
}

static void add_plain(const tc_library *library, const tc_property_row *row, const tc_value *value, tc_buffer *out)
{
	switch ((tc_type)value->type) {
	case TC_T_NUMBER:
	case TC_T_SHARE:
	case TC_T_TEMPERATURE:
		add_quantity(row, value->number, out);
		break;
	case TC_T_WINDOW:
		add_window(value->window, out);
		break;
	case TC_T_SYMBOL:
		add_words(library, row->vocabulary, UINT64_C(1) << (value->symbol & 63), out);
		break;
	case TC_T_SYMBOLS:
		add_words(library, row->vocabulary, value->set, out);
		break;
	case TC_T_TRUTH:
		tc_buffer_puts(out, value->truth == TC_TRUE ? "yes" : value->truth == TC_FALSE ? "no" : "unsure");
		break;
	case TC_T_TEXT:
		tc_buffer_puts(out, value->text);
		break;
	case TC_T_BLEND:
		add_blend(library, value->blend, out);
		break;
	case TC_T_BAD:
	case TC_T_SUBJECT:
		break;
	}
}

void tc_figure_words(const tc_library *library, const tc_property_row *row, const tc_figure *figure, tc_buffer *out)
{
	if (figure->value.state == TC_ABSENT)
		tc_buffer_puts(out, "none");
	else if (figure->value.state == TC_UNKNOWN)
		tc_buffer_puts(out, "unknown");
	else if (row->form == TC_FORM_ENTRIES && figure->entries)
		add_entries(library, figure->entries, out);
	else
		add_plain(library, row, &figure->value, out);
	if (figure->least == 0 && figure->most == 0)
		return;
	tc_buffer_puts(out, " (published: ");
	add_quantity(row, figure->least, out);
	tc_buffer_puts(out, " to ");
	add_quantity(row, figure->most, out);
	tc_buffer_puts(out, ")");
}

void tc_type_words(tc_type type, tc_dim dim, const char *vocabulary, tc_buffer *out)
{
	static const char *const names[] = {[TC_T_BAD] = "",
	    [TC_T_TRUTH] = "yes or no",
	    [TC_T_NUMBER] = "",
	    [TC_T_SHARE] = "a share",
	    [TC_T_TEMPERATURE] = "a temperature",
	    [TC_T_WINDOW] = "a window of time",
	    [TC_T_SYMBOL] = "a word of ",
	    [TC_T_SYMBOLS] = "words of ",
	    [TC_T_TEXT] = "text",
	    [TC_T_SUBJECT] = "a subject",
	    [TC_T_BLEND] = "shares of solvents"};
	tc_buffer_puts(out, names[type]);
	if (type == TC_T_NUMBER)
		tc_dim_name(dim, out);
	if ((type == TC_T_SYMBOL || type == TC_T_SYMBOLS) && vocabulary)
		tc_buffer_puts(out, vocabulary);
}
