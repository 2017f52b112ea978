/* Quantities, windows and ratios in: each reader takes a whole text, and says what would be right where it is not. */
#include "base/quantity.h"

#include <stdio.h>
#include <string.h>

#include "base/limits.h"

#define QUOTED_MAX 40 /* bytes of the input that a message repeats */

/* --- errors ------------------------------------------------------------------------------------------------------- */

/* A text as a message quotes it: not too long, cut between code points. */
typedef struct quoted {
	char text[QUOTED_MAX + 4];
} quoted;

static quoted quote(tc_text text)
{
	quoted q;
	size_t length = text.length;
	if (length > QUOTED_MAX) {
		length = QUOTED_MAX;
		while (length && ((unsigned char)text.at[length] & 0xC0) == 0x80)
			length--;
	}
	snprintf(q.text, sizeof q.text, "%.*s%s", (int)length, text.at ? text.at : "", length < text.length ? "…" : "");
	return q;
}

__attribute__((format(printf, 3, 4))) static bool fail(tc_quantity_error *error, size_t at, const char *format, ...)
{
	va_list list;
	va_start(list, format);
	error->at = at;
	vsnprintf(error->message, sizeof error->message, format, list);
	va_end(list);
	return false;
}

/* --- the parts of a text ------------------------------------------------------------------------------------------ */

/* A reader's place within a text. */
typedef struct cursor {
	tc_text whole; /* without blanks at its ends */
	size_t before; /* bytes of the blanks that were taken off in front */
	size_t at;     /* within whole */
	tc_quantity_error *error;
} cursor;

static cursor start(tc_text text, tc_quantity_error *error)
{
	const tc_text whole = tc_text_trim(text);
	return (cursor){.whole = whole, .before = (size_t)(whole.at - text.at), .error = error};
}

static tc_text rest(const cursor *c)
{
	return (tc_text){c->whole.at + c->at, c->whole.length - c->at};
}

static bool starts_with_digit(tc_text text)
{
	return text.length && text.at[0] >= '0' && text.at[0] <= '9';
}

static size_t count_digits(tc_text text)
{
	size_t n = 0;
	while (n < text.length && text.at[n] >= '0' && text.at[n] <= '9')
		n++;
	return n;
}

static size_t count_blanks(tc_text text)
{
	size_t n = 0;
	for (size_t bytes; (bytes = tc_blank_length(text.at + n, text.length - n)) != 0;)
		n += bytes;
	return n;
}

static tc_text first_word(tc_text text)
{
	size_t n = 0;
	while (n < text.length && tc_blank_length(text.at + n, text.length - n) == 0)
		n++;
	return (tc_text){text.at, n};
}

static tc_text after(tc_text text, size_t bytes)
{
	return (tc_text){text.at + bytes, text.length - bytes};
}

/* --- numbers as people write them --------------------------------------------------------------------------------- */

/* A sign in front that only looks like a minus; the bytes of it. */
static size_t false_minus(tc_text text)
{
	static const char *const dashes[] = {"\xE2\x88\x92", "\xE2\x80\x93", "\xE2\x80\x94", "\xEF\xBC\x8D"};
	for (size_t i = 0; i < sizeof dashes / sizeof *dashes; i++)
		if (tc_text_starts(text, dashes[i]))
			return strlen(dashes[i]);
	return 0;
}

static bool no_number(const cursor *c)
{
	const tc_text text = rest(c);
	const size_t dash = false_minus(text);
	if (dash)
		return fail(c->error, c->before + c->at, "`%s` begins with a dash that is no minus sign; write `-%s`",
		    quote(text).text, quote(after(text, dash)).text);
	if (text.length == 0)
		return fail(
		    c->error, c->before + c->at, "there is no number; write one with its unit, such as `12 min`");
	if (text.at[0] == '+')
		return fail(c->error, c->before + c->at, "a `+` in front of a number is not needed; write `%s`",
		    quote(after(text, 1)).text);
	if (text.at[0] == ',' && starts_with_digit(after(text, 1)))
		return fail(c->error, c->before + c->at, "`%s` has a decimal comma; write `0.%s`", quote(text).text,
		    quote(after(text, 1)).text);
	return fail(c->error, c->before + c->at,
	    "`%s` does not begin with a number; write one with its unit, such as `12 min`", quote(text).text);
}

/* `7,5` or `1,000`, with what follows. */
static bool comma(const cursor *c, tc_text number, tc_text behind)
{
	const quoted before = quote(number), written = quote(rest(c));
	const size_t digits = count_digits(after(behind, 1));
	const quoted tail = quote(after(behind, 1));
	if (digits == 3)
		return fail(c->error, c->before + c->at,
		    "`%s` has a comma; write `%s%s`, or `%s.%s` if it is a decimal comma", written.text, before.text,
		    tail.text, before.text, tail.text);
	return fail(c->error, c->before + c->at, "`%s` has a decimal comma; write `%s.%s`", written.text, before.text,
	    tail.text);
}

/* Bytes of what people put between groups of digits, at the start of the text: `_`, `'`, ’ or one blank. */
static size_t group_mark(tc_text text)
{
	if (text.length && (text.at[0] == '_' || text.at[0] == '\''))
		return 1;
	if (tc_text_starts(text, "\xE2\x80\x99"))
		return 3;
	return tc_blank_length(text.at, text.length);
}

/* `1 000`, `1_000`, `1'000 000`: shows the number without the marks. */
static bool groups(const cursor *c, tc_text number, tc_text behind)
{
	char joined[QUOTED_MAX + 1];
	size_t length = number.length < QUOTED_MAX ? number.length : QUOTED_MAX;
	memcpy(joined, number.at, length);
	while (behind.length) {
		const size_t mark = group_mark(behind);
		const size_t digits = count_digits(after(behind, mark));
		if (mark == 0 || digits == 0)
			break;
		if (length + digits <= QUOTED_MAX) {
			memcpy(joined + length, behind.at + mark, digits);
			length += digits;
		}
		behind = after(behind, mark + digits);
	}
	joined[length] = 0;
	return fail(c->error, c->before + c->at, "`%s` has its digits in groups; write `%s%s`", quote(rest(c)).text,
	    joined, quote(behind).text);
}

/* Refuses what may follow a number and make it another one. */
static bool ends_well(const cursor *c, tc_text number, tc_text behind)
{
	if (behind.length == 0)
		return true;
	if (behind.at[0] == ',' && starts_with_digit(after(behind, 1)))
		return comma(c, number, behind);
	const size_t mark = group_mark(behind);
	const tc_unit *unit;
	if (mark && starts_with_digit(after(behind, mark)) && tc_unit_read(after(behind, mark), &unit) == 0)
		return groups(c, number, behind);
	if (behind.at[0] == '.')
		return fail(c->error, c->before + c->at,
		    starts_with_digit(after(behind, 1)) ? "`%s` has two points"
		                                        : "`%s` has a point without digits behind it",
		    quote(rest(c)).text);
	return true;
}

/* Reads a number and passes over it. */
static bool take_number(cursor *c, bool sign, double *number)
{
	const tc_text text = rest(c);
	const size_t bytes = tc_number_read(text.at, text.length, sign, number);
	if (bytes == 0)
		return no_number(c);
	if (!ends_well(c, (tc_text){text.at, bytes}, after(text, bytes)))
		return false;
	if (!isfinite(*number))
		return fail(
		    c->error, c->before + c->at, "`%s` is too large a number", quote((tc_text){text.at, bytes}).text);
	c->at += bytes;
	return true;
}

/* --- quantities --------------------------------------------------------------------------------------------------- */

/* A ratio, a window or a span with a dash where a unit is due. */
static bool two_figures(tc_text more)
{
	const size_t dash = more.length && more.at[0] == '-' ? 1 : false_minus(more);
	return more.at[0] == ':' || tc_text_is(first_word(more), "to") || tc_text_is(more, "on") ||
	       (dash && starts_with_digit(after(more, dash)));
}

static bool no_unit(const cursor *c)
{
	const tc_text word = first_word(rest(c));
	const tc_text near = tc_unit_nearest(word);
	if (two_figures(rest(c)))
		return fail(c->error, c->before + c->at, "`%s` is not one figure, and one is wanted here",
		    quote(c->whole).text);
	if (near.length)
		return fail(c->error, c->before + c->at, "no unit `%s`; `%s` is near", quote(word).text, near.at);
	return fail(c->error, c->before + c->at, "no unit `%s`", quote(word).text);
}

/* Something behind a quantity: a second one, a window, or anything else. */
static bool too_much(const cursor *c, tc_quantity first)
{
	const tc_text more = rest(c);
	tc_quantity second;
	tc_quantity_error ignored;
	if (tc_dim_same(first.dim, TC_DIM_TIME) && tc_quantity_read(more, false, &second, &ignored) && !second.bare &&
	    tc_dim_same(second.dim, TC_DIM_TIME)) {
		char sum[32];
		const double minutes = (first.si + second.si) / 60;
		snprintf(sum, sizeof sum, "%.0f", minutes == floor(minutes) ? minutes : minutes * 60);
		return fail(c->error, c->before + c->at, "`%s` is two times in one; write `%s %s`",
		    quote(c->whole).text, sum, minutes == floor(minutes) ? "min" : "s");
	}
	if (two_figures(more))
		return fail(c->error, c->before + c->at, "`%s` is not one figure, and one is wanted here",
		    quote(c->whole).text);
	return fail(c->error, c->before + c->at, "`%s` behind the unit is not understood", quote(more).text);
}

static bool with_unit(cursor *c, double number, bool absolute_k, tc_quantity *quantity)
{
	const size_t begin = c->at;
	const tc_unit *unit;
	const size_t bytes = tc_unit_read(rest(c), &unit);
	if (bytes == 0)
		return no_unit(c);
	c->at += bytes;
	*quantity = (tc_quantity){.type = unit->type, .dim = unit->dim, .si = tc_unit_to_si(unit, number)};
	if (unit->difference && absolute_k) {
		quantity->type = TC_T_TEMPERATURE;
		quantity->dim = TC_DIM_NONE;
	}
	if (!isfinite(quantity->si))
		return fail(c->error, c->before, "`%s` is too large a number", quote(c->whole).text);
	if (quantity->type == TC_T_TEMPERATURE && quantity->si < 0)
		return fail(c->error, c->before, "`%s` is below absolute zero", quote(c->whole).text);
	c->at += count_blanks(rest(c));
	if (c->at == c->whole.length)
		return true;
	/* `m` of `m³/s`, say: the word as a whole is the unknown unit. */
	if (tc_blank_length(c->whole.at + begin + bytes, c->whole.length - begin - bytes) == 0) {
		c->at = begin;
		return no_unit(c);
	}
	return too_much(c, *quantity);
}

bool tc_quantity_read(tc_text text, bool absolute_k, tc_quantity *quantity, tc_quantity_error *error)
{
	cursor c = start(text, error);
	double number;
	if (!take_number(&c, true, &number))
		return false;
	c.at += count_blanks(rest(&c));
	if (c.at < c.whole.length)
		return with_unit(&c, number, absolute_k, quantity);
	*quantity = (tc_quantity){.type = TC_T_NUMBER, .si = number, .bare = true};
	return true;
}

/* --- windows ------------------------------------------------------------------------------------------------------ */

/* The offset of the word `to` between blanks, or the text's length. */
static size_t find_to(tc_text text)
{
	size_t at = 0;
	while (at < text.length) {
		const tc_text word = first_word(after(text, at));
		if (tc_text_is(word, "to"))
			return at;
		at += word.length;
		at += count_blanks(after(text, at));
	}
	return text.length;
}

/* One end of a window that lies `from` bytes into the text. */
static bool read_end(const cursor *c, size_t from, tc_text text, double *seconds)
{
	tc_quantity q;
	if (!tc_quantity_read(text, false, &q, c->error)) {
		c->error->at += c->before + from;
		return false;
	}
	const quoted written = quote(tc_text_trim(text));
	if (q.bare)
		return fail(c->error, c->before + from, "`%s` has no unit; write `%s min` or `%s h`", written.text,
		    written.text, written.text);
	if (q.type != TC_T_NUMBER || !tc_dim_same(q.dim, TC_DIM_TIME))
		return fail(c->error, c->before + from, "`%s` is no time; a window runs from one time to another",
		    written.text);
	if (q.si < 0)
		return fail(
		    c->error, c->before + from, "`%s` is below zero; a window begins at `0 s` or later", written.text);
	*seconds = q.si;
	return true;
}

static bool no_window(const cursor *c)
{
	return fail(c->error, c->before, "`%s` is no window; write one as `10 min to 48 h` or `10 min on`",
	    quote(c->whole).text);
}

static bool read_from_to(const cursor *c, size_t to, tc_span *span)
{
	const size_t second = to + 2 + count_blanks(after(c->whole, to + 2));
	tc_span s;
	if (to == 0 || second == c->whole.length)
		return no_window(c);
	if (!read_end(c, 0, (tc_text){c->whole.at, to}, &s.from) ||
	    !read_end(c, second, after(c->whole, second), &s.to))
		return false;
	if (s.from > s.to)
		return fail(c->error, c->before, "`%s` ends before it begins", quote(c->whole).text);
	*span = s;
	return true;
}

bool tc_span_read(tc_text text, tc_span *span, tc_quantity_error *error)
{
	const cursor c = start(text, error);
	const size_t to = find_to(c.whole);
	if (to < c.whole.length)
		return read_from_to(&c, to, span);
	tc_text from = {c.whole.at, c.whole.length < 2 ? 0 : c.whole.length - 2};
	if (from.length == 0 || !tc_text_is(after(c.whole, from.length), "on"))
		return no_window(&c);
	const size_t with_blanks = from.length;
	from.length = tc_text_trim(from).length;
	double begin;
	if (from.length == with_blanks)
		return no_window(&c);
	if (!read_end(&c, 0, from, &begin))
		return false;
	*span = (tc_span){begin, HUGE_VAL};
	return true;
}

/* --- ratios ------------------------------------------------------------------------------------------------------- */

static unsigned no_ratio(const cursor *c)
{
	fail(c->error, c->before, "`%s` is no ratio; write one as `2:1` or `4:1:1`", quote(c->whole).text);
	return 0;
}

/* One term; on success the cursor stands behind it and the blanks that follow. */
static bool take_term(cursor *c, double *term)
{
	if (!starts_with_digit(rest(c)) && rest(c).length && rest(c).at[0] != '.')
		return no_ratio(c) != 0;
	const size_t at = c->at;
	if (!take_number(c, false, term))
		return false;
	if (!(*term > 0))
		return fail(
		    c->error, c->before + at, "a term of `%s` is zero; each must be above it", quote(c->whole).text);
	c->at += count_blanks(rest(c));
	return true;
}

unsigned tc_ratio_read(tc_text text, double *terms, tc_quantity_error *error)
{
	cursor c = start(text, error);
	unsigned count = 0;
	for (;;) {
		if (count == TC_MIX_PARTS_MAX) {
			fail(error, c.before + c.at, "a ratio has at most %u terms", TC_MIX_PARTS_MAX);
			return 0;
		}
		if (!take_term(&c, &terms[count]))
			return 0;
		count++;
		if (c.at == c.whole.length)
			break;
		if (c.whole.at[c.at] != ':')
			return no_ratio(&c);
		c.at++;
		c.at += count_blanks(rest(&c));
	}
	return count > 1 ? count : no_ratio(&c);
}
