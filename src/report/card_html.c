/* The bench card as a page for a browser and for paper: its frame, and how text gets onto it. The page is
 * well-formed XML too, has no script, and asks for nothing from elsewhere. */
#include <ctype.h>
#include <string.h>

#include "base/diag.h"
#include "report/card.h"
#include "report/card_parts.h"
#include "report/xml.h"

/* --- text -------------------------------------------------------------------------------------------------------- */

void tc_html_put(tc_buffer *out, const char *markup)
{
	tc_buffer_puts(out, markup);
}

#define UNIT_BYTES 6u /* a word as short as this, behind a number, is taken for its unit */

/* Is the blank at `at` one between a number and its unit? */
static bool binds(tc_text text, size_t at)
{
	size_t end = at + 1;
	if (at > 1 && text.at[at - 1] == ':' && text.at[at - 2] == ' ') /* 1 : 2 */
		return text.at[at] == ' ';
	if (at == 0 || text.at[at] != ' ' || !isdigit((unsigned char)text.at[at - 1]))
		return false;
	while (end < text.length && text.at[end] != ' ')
		end++;
	return end > at + 1 && end - at - 1 <= UNIT_BYTES && !isdigit((unsigned char)text.at[at + 1]);
}

static void add_bound(tc_buffer *out, tc_text text)
{
	for (size_t i = 0; i < text.length; i++) {
		if (text.at[i] == '\n' || text.at[i] == '\t' || text.at[i] == '\r')
			tc_buffer_char(out, ' ');
		else if (binds(text, i))
			tc_buffer_puts(out, "\xC2\xA0");
		else
			tc_buffer_char(out, text.at[i]);
	}
}

void tc_html_text(tc_buffer *out, const char *text)
{
	tc_buffer blanks, seen;
	tc_buffer_start(&blanks, out->from);
	tc_buffer_start(&seen, out->from);
	add_bound(&blanks, tc_text_of(text));
	tc_text_visible(&seen, (tc_text){tc_words_text(&blanks), blanks.failed ? 0 : blanks.length});
	/* quotes are escaped too, since the text may stand in an attribute */
	for (const char *from = tc_words_text(&seen); *from;) {
		const size_t plain = strcspn(from, "\"");
		tc_buffer piece;
		tc_buffer_start(&piece, out->from);
		tc_buffer_add(&piece, (tc_text){from, plain});
		tc_xml_text(out, tc_words_text(&piece));
		out->failed = out->failed || piece.failed;
		tc_buffer_free(&piece);
		from += plain;
		if (*from == '"') {
			tc_buffer_puts(out, "&quot;");
			from++;
		}
	}
	out->failed = out->failed || seen.failed || blanks.failed;
	tc_buffer_free(&seen);
	tc_buffer_free(&blanks);
}

bool tc_html_any(const tc_card *card)
{
	return card->words.length > 0 && !card->words.failed;
}

void tc_html_said(tc_card *card)
{
	card->out->failed = card->out->failed || card->words.failed;
	tc_html_text(card->out, tc_words_text(&card->words));
	card->words.length = 0;
}

void tc_html_isolated(tc_card *card, const char *text)
{
	tc_html_put(card->out, "<bdi>");
	tc_html_text(card->out, text);
	tc_html_put(card->out, "</bdi>");
}

void tc_html_id(tc_card *card, const char *id)
{
	for (const char *c = id; *c; c++)
		tc_buffer_char(&card->words, *c == '-' ? ' ' : *c);
	tc_html_said(card);
}

void tc_html_code(tc_card *card, const char *text)
{
	tc_html_put(card->out, "<bdi>");
	bool code = false;
	for (const char *from = text; from;) {
		const char *tick = strchr(from, '`');
		const bool pair = tick && (code || strchr(tick + 1, '`'));
		const size_t length = pair ? (size_t)(tick - from) : strlen(from);
		tc_buffer_add(&card->words, (tc_text){from, length});
		tc_html_said(card);
		if (pair) {
			tc_html_put(card->out, code ? "</code>" : "<code>");
			code = !code;
		}
		from = pair ? tick + 1 : NULL;
	}
	tc_html_put(card->out, "</bdi>");
}

/* --- frame ------------------------------------------------------------------------------------------------------- */

void tc_html_open(tc_card *card, const char *id, const char *heading)
{
	tc_buffer_print(card->out, "<section aria-labelledby=\"%s\">\n<h2 id=\"%s\">", id, id);
	tc_html_text(card->out, heading);
	tc_html_put(card->out, "</h2>\n<div class=\"body\">\n");
}

void tc_html_close(tc_card *card)
{
	tc_html_put(card->out, "</div>\n</section>\n");
}

void tc_html_page(tc_buffer *out, const char *title, const char *body_class)
{
	tc_html_put(out, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
	                 "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
	                 "'unsafe-inline'\"/>\n"
	                 "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
	                 "<meta name=\"color-scheme\" content=\"light dark\"/>\n<title>");
	tc_html_text(out, title);
	tc_html_put(out, "</title>\n<style>\n");
	for (const char *const *piece = tc_card_style; *piece; piece++)
		tc_html_put(out, *piece);
	tc_buffer_print(out, "</style>\n</head>\n<body class=\"%s\">\n", body_class);
}

void tc_html_page_end(tc_buffer *out)
{
	tc_html_put(out, "</body>\n</html>\n");
}

/* --- the card ---------------------------------------------------------------------------------------------------- */

static const char *title_of(const tc_recipe *recipe)
{
	return recipe->title && *recipe->title ? recipe->title : "untitled";
}

static void add_parts(tc_card *card)
{
	static void (*const parts[])(tc_card *) = {tc_html_conflict, tc_html_findings, tc_html_days, tc_html_chart,
	    tc_html_cups, tc_html_shopping, tc_html_sections, tc_html_air, tc_html_open_questions, tc_html_accepted,
	    tc_html_assumed, tc_html_cautions};
	tc_html_head(card);
	tc_html_put(card->out, "<main id=\"card\">\n");
	for (size_t i = 0; i < sizeof parts / sizeof *parts && !card->out->failed; i++)
		parts[i](card);
	tc_html_put(card->out, "</main>\n");
}

static void add_page(tc_card *card)
{
	tc_buffer title;
	tc_buffer_start(&title, card->out->from);
	tc_buffer_print(&title, "%s: bench card", title_of(card->plan->recipe));
	tc_html_page(card->out, tc_words_text(&title), tc_card_weight(card->plan) == TC_V_ERROR ? "card stop" : "card");
	card->out->failed = card->out->failed || title.failed;
	tc_buffer_free(&title);
	tc_html_put(card->out, "<a class=\"skip\" href=\"#card\">to the work</a>\n");
	tc_svg_patterns(card->out);
	add_parts(card);
	tc_html_page_end(card->out);
}

void tc_card_html(const tc_plan *plan, tc_buffer *out)
{
	tc_card card;
	tc_arena *arena = tc_arena_new(out->from, 0);
	if (!arena || !tc_card_start(&card, plan, arena, out)) {
		out->failed = true;
	} else {
		add_page(&card);
		out->failed = out->failed || tc_arena_failed(arena);
		tc_card_end(&card);
	}
	tc_arena_free(arena);
}
