/* The index of a folder's cards. */
#include <math.h>
#include <string.h>

#include "report/card.h"
#include "report/card_parts.h"

typedef struct sums {
	uint32_t errors, warnings, unread;
	bool priced, mixed; /* mixed: more than one currency */
	double cost;
	const char *currency;
} sums;

static bool same_text(const char *a, const char *b)
{
	return tc_text_same(tc_text_of(a), tc_text_of(b));
}

static sums sum_up(const tc_card_row *row, uint32_t rows)
{
	sums s = {0};
	for (uint32_t i = 0; i < rows; i++) {
		s.unread += !row[i].read;
		s.errors += row[i].read && row[i].weight == TC_V_ERROR;
		s.warnings += row[i].read && row[i].weight == TC_V_WARNING;
		if (!isfinite(row[i].cost))
			continue;
		s.mixed = s.mixed || (s.priced && !same_text(s.currency, row[i].currency));
		s.priced = true;
		s.currency = row[i].currency;
		s.cost += row[i].cost;
	}
	return s;
}

static void add_count(tc_buffer *out, uint32_t count, const char *one, const char *many)
{
	if (count == 0)
		return;
	tc_html_put(out, "; ");
	tc_words_count(count, one, many, out);
}

static void add_summary(const tc_card_row *row, uint32_t rows, tc_buffer *out)
{
	const sums s = sum_up(row, rows);
	tc_html_put(out, "<p class=\"sum\"><strong>");
	tc_words_count(rows, "recipe", "recipes", out);
	add_count(out, s.errors, "with errors: do not begin it", "with errors: do not begin them");
	add_count(out, s.warnings, "with warnings", "with warnings");
	add_count(out, s.unread, "could not be read", "could not be read");
	if (s.priced && !s.mixed) {
		tc_html_put(out, "; to buy for ");
		tc_buffer money;
		tc_buffer_start(&money, out->from);
		tc_card_money(s.cost, s.currency, &money);
		tc_html_text(out, tc_words_text(&money));
		out->failed = out->failed || money.failed;
		tc_buffer_free(&money);
	}
	tc_html_put(out, "</strong></p>\n");
}

static void add_cell(tc_buffer *out, const char *column, const char *text)
{
	tc_buffer_print(out, "<td data-of=\"%s\">", column);
	tc_html_text(out, text);
	tc_html_put(out, "</td>");
}

static void add_figures(const tc_card_row *row, tc_buffer *out)
{
	tc_buffer text;
	tc_buffer_start(&text, out->from);
	tc_buffer_print(out, "<td data-of=\"parts\" class=\"n\">%u</td><td data-of=\"steps\" class=\"n\">%u</td>",
	    (unsigned)row->parts, (unsigned)row->steps);
	if (isfinite(row->lasts))
		tc_duration_print(&text, row->lasts);
	add_cell(out, "takes", tc_words_text(&text));
	tc_html_put(out, "<td class=\"soon\" data-of=\"ready\">");
	tc_html_text(out, row->ready);
	tc_html_put(out, "</td>");
	text.length = 0;
	if (isfinite(row->cost))
		tc_card_money(row->cost, row->currency, &text);
	add_cell(out, "to buy", tc_words_text(&text));
	out->failed = out->failed || text.failed;
	tc_buffer_free(&text);
}

static const char *mark_of(const tc_card_row *row)
{
	if (!row->read)
		return "unread";
	return row->weight == TC_V_ERROR ? "error" : row->weight == TC_V_WARNING ? "warning" : "";
}

/* The path as a reference that is relative whatever it holds (RFC 3986): a name with a colon is no scheme. */
static void add_link(tc_buffer *out, const char *path)
{
	for (const unsigned char *c = (const unsigned char *)path; *c; c++) {
		const bool plain = (*c >= 'a' && *c <= 'z') || (*c >= 'A' && *c <= 'Z') || (*c >= '0' && *c <= '9') ||
		                   strchr("-._~/", *c);
		if (plain)
			tc_buffer_char(out, (char)*c);
		else
			tc_buffer_print(out, "%%%02X", (unsigned)*c);
	}
}

static void add_row(const tc_card_row *row, tc_buffer *out)
{
	const char *mark = mark_of(row);
	tc_html_put(out, "<tr><th scope=\"row\">");
	if (row->link) {
		tc_html_put(out, "<a href=\"");
		add_link(out, row->link);
		tc_html_put(out, "\">");
	}
	tc_html_put(out, "<bdi>");
	tc_html_text(out, row->title && *row->title ? row->title : row->file);
	tc_html_put(out, row->link ? "</bdi></a>" : "</bdi>");
	tc_html_put(out, " <span class=\"file\"><bdi>");
	tc_html_text(out, row->file);
	tc_html_put(out, "</bdi></span></th><td data-of=\"verdict\">");
	if (*mark)
		tc_buffer_print(out, "<b class=\"tag %s\">%s</b> ", mark, mark);
	tc_html_text(out, row->verdict);
	tc_html_put(out, "</td>");
	if (row->read)
		add_figures(row, out);
	else
		tc_html_put(out, "<td colspan=\"5\"></td>");
	tc_html_put(out, "</tr>\n");
}

void tc_card_index_html(const tc_card_row *row, uint32_t rows, tc_buffer *out)
{
	tc_html_page(out, "Bench cards", "index");
	tc_html_put(out, "<a class=\"skip\" href=\"#cards\">to the cards</a>\n<header>\n<h1>Bench cards</h1>\n");
	add_summary(row, rows, out);
	tc_html_put(out,
	    "</header>\n<main id=\"cards\">\n<table class=\"flow cards\">\n<thead><tr><th scope=\"col\">recipe</th>"
	    "<th scope=\"col\">verdict</th><th scope=\"col\">parts</th><th scope=\"col\">steps</th>"
	    "<th scope=\"col\">takes</th><th scope=\"col\">ready</th><th scope=\"col\">to buy</th></tr></thead>\n"
	    "<tbody>\n");
	for (uint32_t i = 0; i < rows; i++)
		add_row(&row[i], out);
	tc_html_put(out, "</tbody>\n</table>\n</main>\n");
	tc_html_page_end(out);
}
