/* Wrapping, escaping, colour. */
#include <ctype.h>
#include <string.h>

#include "base/diag.h"
#include "report/page.h"

#define WIDTH_DEFAULT 80u
#define UNIT_COLUMNS 4u /* a word as short as this, behind a number, is taken for its unit */

void tc_page_start(tc_page *page, tc_buffer *out, unsigned width, bool color, bool ascii)
{
	*page = (tc_page){.out = out, .width = width ? width : WIDTH_DEFAULT, .color = color, .ascii = ascii};
	tc_buffer_start(&page->work, out->from);
}

void tc_page_end(tc_page *page)
{
	tc_buffer_free(&page->work);
}

/* --- ASCII ------------------------------------------------------------------------------------------------------- */

static const struct {
	uint32_t point;
	const char *plain;
} substitutes[] = {
    {0x00A0, " "},
    {0x00B0, "deg"},
    {0x00B1, "+-"},
    {0x00B2, "2"},
    {0x00B3, "3"},
    {0x00B5, "u"},
    {0x00B7, "."},
    {0x00BD, "^0.5"},
    {0x00D7, "x"},
    {0x0394, "d"},
    {0x03B4, "d"},
    {0x03BC, "u"},
    {0x2009, " "},
    {0x2010, "-"},
    {0x2011, "-"},
    {0x2013, "-"},
    {0x2014, "-"},
    {0x2018, "'"},
    {0x2019, "'"},
    {0x201C, "\""},
    {0x201D, "\""},
    {0x2026, "~"},
    {0x202F, " "},
    {0x2212, "-"},
    {0x2248, "~"},
    {0x2264, "<="},
    {0x2265, ">="},
    {0x2500, "-"},
    {0x2504, "."},
    {0x2581, "_"},
    {0x2588, "#"},
    {0x2591, ":"},
    {0x2592, "="},
    {0x2593, "%"},
    {0x25B8, ">"},
};

static void add_ascii(tc_buffer *out, uint32_t point)
{
	if (point < 0x80) {
		tc_buffer_char(out, (char)point);
		return;
	}
	for (size_t i = 0; i < sizeof substitutes / sizeof *substitutes; i++)
		if (substitutes[i].point == point) {
			tc_buffer_puts(out, substitutes[i].plain);
			return;
		}
	tc_buffer_char(out, '?');
}

static bool is_blank(char c)
{
	return c == ' ' || c == '\n' || c == '\t';
}

/* Line ends and tabs as blanks, other control characters made visible. */
static void add_visible(tc_buffer *out, tc_text text)
{
	for (size_t from = 0; from < text.length;) {
		size_t end = from;
		while (end < text.length && text.at[end] != '\n' && text.at[end] != '\t')
			end++;
		tc_text_visible(out, (tc_text){text.at + from, end - from});
		if (end < text.length)
			tc_buffer_char(out, ' ');
		from = end + 1;
	}
}

/* The text as this page shows it, in page->work. */
static tc_text shown(tc_page *page, tc_text text)
{
	page->work.length = 0;
	add_visible(&page->work, text);
	if (!page->ascii)
		return (tc_text){page->work.length ? page->work.at : "", page->work.length};
	const size_t first = page->work.length;
	for (size_t at = 0; at < first && !page->work.failed;) {
		uint32_t point;
		at += tc_utf8_next(page->work.at + at, first - at, &point);
		add_ascii(&page->work, point);
	}
	return page->work.failed ? (tc_text){"", 0} : (tc_text){page->work.at + first, page->work.length - first};
}

size_t tc_page_columns(tc_page *page, const char *text)
{
	return tc_utf8_columns(shown(page, tc_text_of(text)));
}

/* --- ink --------------------------------------------------------------------------------------------------------- */

static void ink_on(const tc_page *page, tc_ink ink)
{
	static const char *const codes[] = {[TC_INK_PLAIN] = "",
	    [TC_INK_ERROR] = "\033[1;31m",
	    [TC_INK_WARNING] = "\033[33m",
	    [TC_INK_NOTE] = "\033[36m",
	    [TC_INK_OPEN] = "\033[35m",
	    [TC_INK_STRONG] = "\033[1m",
	    [TC_INK_FAINT] = "\033[2m"};
	if (page->color)
		tc_buffer_puts(page->out, codes[ink]);
}

static void ink_off(const tc_page *page, tc_ink ink)
{
	if (page->color && ink != TC_INK_PLAIN)
		tc_buffer_puts(page->out, "\033[0m");
}

/* --- unwrapped --------------------------------------------------------------------------------------------------- */

size_t tc_page_put(tc_page *page, tc_ink ink, const char *text)
{
	const tc_text t = shown(page, tc_text_of(text));
	if (t.length == 0)
		return 0;
	ink_on(page, ink);
	tc_buffer_add(page->out, t);
	ink_off(page, ink);
	return tc_utf8_columns(t);
}

/* The longest beginning of `text` that takes at most `columns`. */
static tc_text cut_to(tc_text text, size_t columns)
{
	size_t end = 0;
	while (end < text.length) {
		uint32_t point;
		const size_t next = end + tc_utf8_next(text.at + end, text.length - end, &point);
		if (tc_utf8_columns((tc_text){text.at, next}) > columns)
			break;
		end = next;
	}
	return (tc_text){text.at, end};
}

void tc_page_cell(tc_page *page, tc_ink ink, const char *text, size_t columns, bool right)
{
	tc_text t = shown(page, tc_text_of(text));
	const bool cut = tc_utf8_columns(t) > columns;
	if (cut)
		t = cut_to(t, columns ? columns - 1 : 0);
	const size_t used = tc_utf8_columns(t) + cut, pad = columns > used ? columns - used : 0;
	if (right)
		tc_page_blanks(page, pad);
	ink_on(page, t.length ? ink : TC_INK_PLAIN);
	tc_buffer_add(page->out, t);
	if (cut)
		tc_buffer_puts(page->out, page->ascii ? "~" : "…");
	ink_off(page, t.length ? ink : TC_INK_PLAIN);
	if (!right)
		tc_page_blanks(page, pad);
}

void tc_page_blanks(tc_page *page, size_t times)
{
	tc_buffer_fill(page->out, ' ', times);
}

void tc_page_break(tc_page *page)
{
	tc_buffer *out = page->out;
	while (out->length > 0 && !out->failed && out->at[out->length - 1] == ' ')
		out->length--;
	tc_buffer_char(out, '\n');
}

/* --- wrapped ----------------------------------------------------------------------------------------------------- */

static size_t word_end(tc_text text, size_t at)
{
	while (at < text.length && !is_blank(text.at[at]))
		at++;
	return at;
}

static size_t word_start(tc_text text, size_t at)
{
	while (at < text.length && is_blank(text.at[at]))
		at++;
	return at;
}

/* The end of what must stand on one line: a word, and behind a number its unit. */
static size_t piece_end(tc_text text, size_t at)
{
	const size_t end = word_end(text, at), next = word_start(text, end), unit = word_end(text, next);
	if (end == at || unit == next || !isdigit((unsigned char)text.at[end - 1]) ||
	    isdigit((unsigned char)text.at[next]) ||
	    tc_utf8_columns((tc_text){text.at + next, unit - next}) > UNIT_COLUMNS)
		return end;
	return unit;
}

void tc_page_wrap(tc_page *page, tc_ink ink, const char *text, size_t at, size_t hang)
{
	const tc_text t = shown(page, tc_text_of(text));
	size_t column = at;
	bool fresh = true;
	ink_on(page, ink);
	for (size_t from = word_start(t, 0); from < t.length;) {
		const size_t end = piece_end(t, from);
		const tc_text piece = {t.at + from, end - from};
		const size_t columns = tc_utf8_columns(piece);
		if (!fresh && column + 1 + columns > page->width) {
			tc_buffer_char(page->out, '\n');
			tc_buffer_fill(page->out, ' ', hang);
			column = hang;
		} else if (!fresh) {
			tc_buffer_char(page->out, ' ');
			column++;
		}
		tc_buffer_add(page->out, piece);
		column += columns;
		fresh = false;
		from = word_start(t, end);
	}
	ink_off(page, ink);
	tc_page_break(page);
}

void tc_page_item(tc_page *page, size_t indent, tc_ink ink, const char *lead, size_t hang, const char *text)
{
	tc_page_blanks(page, indent);
	size_t at = indent + tc_page_put(page, ink, lead);
	if (at < hang) {
		tc_page_blanks(page, hang - at);
		at = hang;
	} else if (*lead) {
		tc_page_blanks(page, 1);
		at++;
	}
	tc_page_wrap(page, TC_INK_PLAIN, text, at, hang);
}

void tc_page_heading(tc_page *page, const char *text)
{
	tc_page_break(page);
	tc_page_wrap(page, TC_INK_STRONG, text, 0, 0);
}
