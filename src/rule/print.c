/* Values as a person reads them. */
#include <math.h>
#include <string.h>

#include "rule/private.h"

#define DIGITS 3      /* significant ones, the house's choice */
#define DIGITS_MOST 6 /* and the most, where fewer would read the same as a bound */

const char *tc_vocabulary_of(uint32_t field, tc_field_row *room)
{
	const tc_field_row *row = field == TC_NONE ? NULL : tc_field_row_of(field, room);
	return row ? row->vocabulary : NULL;
}

static const char *word_at(const tc_library *library, const char *vocabulary, uint32_t index)
{
	if (vocabulary && strcmp(vocabulary, "defect") == 0)
		return index < tc_library_defects(library) ? tc_library_defect(library, index, NULL) : NULL;
	const tc_word_list *list = vocabulary ? tc_library_words(library, tc_text_of(vocabulary)) : NULL;
	return list && index < list->count ? list->words[index] : NULL;
}

static void print_set(const tc_question *question, uint64_t set, const char *vocabulary, tc_buffer *out)
{
	bool any = false;
	for (uint32_t i = 0; i < 64; i++) {
		const char *word = set & (uint64_t)1 << i ? word_at(question->rulebook->library, vocabulary, i) : NULL;
		if (!word)
			continue;
		tc_buffer_puts(out, any ? ", " : "");
		tc_buffer_puts(out, word);
		any = true;
	}
	if (!any)
		tc_buffer_puts(out, "nothing");
}

static void print_window(const tc_window *window, int digits, const tc_unit *unit, tc_buffer *out)
{
	for (uint32_t i = 0; i < window->count; i++) {
		tc_buffer_puts(out, i ? ", " : "");
		tc_quantity_print(out, TC_T_NUMBER, TC_DIM_TIME, window->spans[i].from, digits, unit);
		if (isinf(window->spans[i].to)) {
			tc_buffer_puts(out, " on");
			continue;
		}
		tc_buffer_puts(out, " to ");
		tc_quantity_print(out, TC_T_NUMBER, TC_DIM_TIME, window->spans[i].to, digits, unit);
	}
}

/* The judge's word for a subject, made harmless. */
static void print_subject(const tc_question *question, tc_value value, tc_buffer *out)
{
	tc_buffer raw;
	tc_buffer_start(&raw, out->from);
	question->getter->print(question, (tc_subject)value.subject, value.is, &raw);
	tc_text_visible(out, (tc_text){raw.at ? raw.at : "", raw.length});
	out->failed |= raw.failed;
	tc_buffer_free(&raw);
}

static void print_known(tc_question *question, tc_value value, tc_dim dim, const char *vocabulary, int digits,
    const tc_unit *unit, tc_buffer *out)
{
	const char *word;
	switch ((tc_type)value.type) {
	case TC_T_TRUTH:
		tc_buffer_puts(out, value.truth == TC_TRUE ? "yes" : "no");
		break;
	case TC_T_NUMBER:
	case TC_T_SHARE:
	case TC_T_TEMPERATURE:
		tc_quantity_print(out, (tc_type)value.type, dim, value.number, digits, unit);
		break;
	case TC_T_WINDOW:
		print_window(value.window, digits, unit, out);
		break;
	case TC_T_SYMBOL:
		word = word_at(question->rulebook->library, vocabulary, value.symbol);
		tc_buffer_puts(out, word ? word : "unknown");
		break;
	case TC_T_SYMBOLS:
		print_set(question, value.set, vocabulary, out);
		break;
	case TC_T_TEXT:
		tc_text_visible(out, tc_text_of(value.text));
		break;
	case TC_T_SUBJECT:
		print_subject(question, value, out);
		break;
	default:
		break;
	}
}

void tc_value_digits(tc_question *question, tc_value value, tc_dim dim, const char *vocabulary, int digits,
    const tc_unit *unit, tc_buffer *out)
{
	if (value.state == TC_UNKNOWN)
		tc_buffer_puts(out, "unknown");
	else if (value.state == TC_ABSENT)
		tc_buffer_puts(out, "none");
	else
		print_known(question, value, dim, vocabulary, digits, unit, out);
}

void tc_value_print(tc_question *question, tc_value value, tc_dim dim, const char *vocabulary, tc_buffer *out)
{
	tc_value_digits(question, value, dim, vocabulary, DIGITS, NULL, out);
}

/* The unit that a printed figure ends with, so that its bound is printed in the same one. */
static const tc_unit *unit_at_end(tc_text text)
{
	size_t from = text.length;
	while (from && text.at[from - 1] != ' ')
		from--;
	return from ? tc_unit_find((tc_text){text.at + from, text.length - from}) : NULL;
}

/* Do two figures that differ read the same with so many digits? */
static bool reads_same(tc_question *question, tc_value a, tc_value b, tc_dim dim, int digits, const tc_unit *unit,
    const tc_allocator *from)
{
	if (!tc_known(b) || b.type != a.type || tc_compare(a.number, b.number) == 0)
		return false;
	tc_buffer left, right;
	tc_buffer_start(&left, from);
	tc_buffer_start(&right, from);
	tc_value_digits(question, a, dim, NULL, digits, unit, &left);
	if (!unit && !left.failed)
		unit = unit_at_end((tc_text){left.at, left.length});
	tc_value_digits(question, b, dim, NULL, digits, unit, &right);
	const bool same = !left.failed && !right.failed &&
	                  tc_text_same((tc_text){left.at, left.length}, (tc_text){right.at, right.length});
	tc_buffer_free(&left);
	tc_buffer_free(&right);
	return same;
}

void tc_value_beside(tc_question *question, tc_value value, tc_dim dim, const char *vocabulary, const tc_unit *unit,
    const tc_value *bounds, uint32_t count, tc_buffer *out)
{
	int digits = DIGITS;
	const bool figure = value.type == TC_T_NUMBER || value.type == TC_T_SHARE || value.type == TC_T_TEMPERATURE;
	for (uint32_t i = 0; figure && tc_known(value) && i < count; i++)
		while (digits < DIGITS_MOST && reads_same(question, value, bounds[i], dim, digits, unit, out->from))
			digits++;
	tc_value_digits(question, value, dim, vocabulary, digits, unit, out);
}
