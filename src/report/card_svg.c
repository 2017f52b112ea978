/* What the drawings of the card are made of. They tell things apart by shape and hatching, never by colour alone;
 * their looks stand in the page's style, so that they follow light, dark and paper. */
#include <math.h>
#include <string.h>

#include "base/diag.h"
#include "report/card_parts.h"

void tc_svg_patterns(tc_buffer *out)
{
	tc_html_put(out,
	    "<svg class=\"patterns\" width=\"0\" height=\"0\" aria-hidden=\"true\" focusable=\"false\"><defs>\n"
	    "<pattern id=\"hatch\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\"><path class=\"ink\" "
	    "d=\"M-1 7 7 -1M-1 1 1 -1M5 7 7 5\" stroke-width=\"0.9\"/></pattern>\n"
	    "<pattern id=\"dots\" width=\"4\" height=\"4\" patternUnits=\"userSpaceOnUse\"><path class=\"ink\" "
	    "d=\"M1 1.5h1M3 3.5h1\" stroke-width=\"1\"/></pattern>\n"
	    "<pattern id=\"dense\" width=\"3\" height=\"3\" patternUnits=\"userSpaceOnUse\"><path class=\"ink\" "
	    "d=\"M0 1.5h3M1.5 0v3\" stroke-width=\"0.8\"/></pattern>\n</defs></svg>\n");
}

void tc_svg_number(tc_buffer *out, double number)
{
	const double tenth = isfinite(number) ? round(number * 10) / 10 : 0;
	tc_buffer_number(out, tenth == 0 ? 0.0 : tenth, 1, 6); /* -0 is 0 */
}

static void add_measure(tc_buffer *out, const char *name, double number)
{
	tc_buffer_print(out, " %s=\"", name);
	tc_svg_number(out, number);
	tc_buffer_char(out, '"');
}

void tc_svg_open(tc_card *card, const char *class, double width, double height, const char *title)
{
	const unsigned n = ++card->drawings;
	tc_buffer_print(card->out, "<svg class=\"%s\" viewBox=\"0 0 ", class);
	tc_svg_number(card->out, width);
	tc_buffer_char(card->out, ' ');
	tc_svg_number(card->out, height);
	tc_buffer_print(card->out,
	    "\" role=\"img\" aria-labelledby=\"drawing-%u-title drawing-%u-about\">\n<title id=\"drawing-%u-title\">",
	    n, n, n);
	tc_html_text(card->out, title);
	tc_buffer_print(card->out, "</title>\n<desc id=\"drawing-%u-about\">", n);
	tc_html_said(card);
	tc_html_put(card->out, "</desc>\n");
}

void tc_svg_close(tc_card *card)
{
	tc_html_put(card->out, "</svg>\n");
}

void tc_svg_rect(tc_buffer *out, const char *class, double x, double y, double width, double height)
{
	tc_buffer_print(out, "<rect class=\"%s\"", class);
	add_measure(out, "x", x);
	add_measure(out, "y", y);
	add_measure(out, "width", fmax(0, width));
	add_measure(out, "height", fmax(0, height));
	tc_html_put(out, "/>\n");
}

void tc_svg_line(tc_buffer *out, const char *class, double x1, double y1, double x2, double y2)
{
	tc_buffer_print(out, "<line class=\"%s\"", class);
	add_measure(out, "x1", x1);
	add_measure(out, "y1", y1);
	add_measure(out, "x2", x2);
	add_measure(out, "y2", y2);
	tc_html_put(out, "/>\n");
}

/* --- text -------------------------------------------------------------------------------------------------------- */

#define EM 11.5 /* of the drawings' text; widths are those of a wide face, in bold */

/* How wide a sign is at the most, nearly. */
static double wide(uint32_t point, tc_text sign)
{
	if (point >= 0x80)
		return EM * (tc_utf8_columns(sign) > 1 ? 1.05 : 0.8 * (double)tc_utf8_columns(sign));
	if (strchr("ijlI.,:;'|! ", (int)point))
		return EM * 0.4;
	if (strchr("mwMW@%", (int)point))
		return EM * 1.08;
	return EM * (point >= 'A' && point <= 'Z' ? 0.78 : 0.68);
}

/* The words as they are seen, with an ellipsis where the room ends. */
static void fit(tc_card *card, double room)
{
	tc_buffer seen, *words = &card->words;
	size_t end = 0, last = 0;
	double x = 0;
	tc_buffer_start(&seen, card->out->from);
	tc_text_visible(&seen, (tc_text){tc_words_text(words), words->failed ? 0 : words->length});
	while (end < seen.length && !seen.failed && x <= room) {
		uint32_t point;
		const size_t bytes = tc_utf8_next(seen.at + end, seen.length - end, &point);
		if (x + EM <= room) /* so far an ellipsis would fit behind it */
			last = end;
		x += wide(point, (tc_text){seen.at + end, bytes});
		end += bytes;
	}
	words->length = 0;
	tc_buffer_add(words, (tc_text){tc_words_text(&seen), x <= room ? seen.length : last});
	tc_buffer_puts(words, x <= room ? "" : "…");
	words->failed = words->failed || seen.failed;
	tc_buffer_free(&seen);
}

void tc_svg_said(tc_card *card, const char *class, const char *anchor, double x, double y, double room)
{
	tc_buffer_print(card->out, "<text class=\"%s\" text-anchor=\"%s\"", class, anchor);
	add_measure(card->out, "x", x);
	add_measure(card->out, "y", y);
	if (room > 0)
		fit(card, room);
	tc_html_put(card->out, ">");
	tc_html_said(card);
	tc_html_put(card->out, "</text>\n");
}
