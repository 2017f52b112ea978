/* What the air of the room holds, by sitting; and that no figure of it clears a room. */
#include <math.h>

#include "report/card_parts.h"

static void open_cell(tc_card *card, const char *column)
{
	tc_buffer_print(card->out, "<td data-of=\"%s\">", column);
}

static void close_cell(tc_card *card)
{
	tc_html_said(card);
	tc_html_put(card->out, "</td>");
}

static void add_figure(tc_card *card, const char *column, double figure, const char *unit)
{
	open_cell(card, column);
	if (isfinite(figure)) {
		tc_buffer_number(&card->words, figure, 1, 2);
		tc_buffer_puts(&card->words, unit);
	} else {
		tc_buffer_puts(&card->words, "not known");
	}
	close_cell(card);
}

static void add_share(tc_card *card, const char *column, double share)
{
	open_cell(card, column);
	if (isfinite(share))
		tc_quantity_print(&card->words, TC_T_SHARE, TC_DIM_NONE, share, 2, NULL);
	else
		tc_buffer_puts(&card->words, "not known");
	close_cell(card);
}

static void add_flow(tc_card *card, const char *column, double flow)
{
	open_cell(card, column);
	if (isfinite(flow))
		tc_quantity_print(&card->words, TC_T_NUMBER, TC_DIM_FLOW, flow, 2, NULL);
	else
		tc_buffer_puts(&card->words, "not known");
	close_cell(card);
}

static void add_clear(tc_card *card, const tc_sitting *s)
{
	open_cell(card, "thin again after");
	if (isinf(s->clear))
		tc_buffer_puts(&card->words, "never, without extraction");
	else if (isfinite(s->clear))
		tc_duration_print(&card->words, s->clear);
	close_cell(card);
}

static void add_vapours(tc_card *card, const tc_sitting *s)
{
	tc_html_put(card->out, "<tr class=\"more\"><td colspan=\"7\">");
	tc_quantity_print(&card->words, TC_T_NUMBER, TC_DIM_MASS, s->mass, 2, NULL);
	tc_buffer_puts(&card->words, " of solvent");
	for (uint32_t i = 0; i < s->vapours; i++) {
		const tc_vapour_in_air *v = &s->vapour[i];
		tc_buffer_print(&card->words, "%s%s", i ? "; " : ": ", v->solvent->name);
		if (!isfinite(v->peak))
			continue;
		tc_buffer_char(&card->words, ' ');
		tc_buffer_number(&card->words, v->peak * 1e6, 1, 2);
		tc_buffer_puts(&card->words, " ppm at the peak");
		if (isfinite(v->limit)) {
			tc_buffer_puts(&card->words, ", limit ");
			tc_buffer_number(&card->words, v->limit * 1e6, 1, 3);
			tc_buffer_puts(&card->words, " ppm");
		}
	}
	tc_html_said(card);
	tc_card_air_open(card->plan, s, &card->words);
	if (tc_html_any(card)) {
		tc_html_put(card->out, ". <b>");
		tc_html_said(card);
		tc_html_put(card->out, "</b>");
	}
	tc_html_put(card->out, "</td></tr>\n");
}

static void add_sitting(tc_card *card, const tc_sitting *s)
{
	tc_html_put(card->out, "<tbody>\n<tr><th scope=\"row\">");
	tc_card_moment(card->plan, s->from, NAN, &card->words);
	tc_buffer_puts(&card->words, " to ");
	tc_card_moment(card->plan, s->to, s->from, &card->words);
	tc_html_said(card);
	tc_html_put(card->out, "</th>");
	add_figure(card, "peak, of the limits", s->peak_index, " ×");
	add_figure(card, "over 8 h, of the limits", s->mean_index, " ×");
	add_share(card, "peak, of the explosive limit", s->lel_share);
	add_flow(card, "extraction for the limits", s->needed_health);
	add_flow(card, "extraction against fire", s->needed_fire);
	add_clear(card, s);
	tc_html_put(card->out, "</tr>\n");
	add_vapours(card, s);
	tc_html_put(card->out, "</tbody>\n");
}

void tc_html_air(tc_card *card)
{
	const tc_breath *breath = card->plan->breath;
	if (!breath || breath->sittings == 0)
		return;
	tc_html_open(card, "air", "The air you work in");
	tc_html_put(card->out, "<p>");
	tc_card_room(card->plan, &card->words);
	tc_html_said(card);
	tc_html_put(card->out,
	    ". Vapour is held below a quarter (25\xC2\xA0%) of its lower explosive limit, and below "
	    "1\xC2\xA0× the limit values taken together.</p>\n<table class=\"flow air\">\n<thead><tr>"
	    "<th scope=\"col\">sitting</th><th scope=\"col\">peak, of the limits</th>"
	    "<th scope=\"col\">over 8 h, of the limits</th><th scope=\"col\">peak, of the explosive limit</th>"
	    "<th scope=\"col\">extraction for the limits</th><th scope=\"col\">extraction against fire</th><th "
	    "scope=\"col\">thin again after</th></tr>"
	    "</thead>\n");
	for (uint32_t i = 0; i < breath->sittings; i++)
		add_sitting(card, &breath->sitting[i]);
	tc_html_put(card->out, "</table>\n<p class=\"defer\">");
	tc_html_text(card->out, tc_card_air_defers());
	tc_html_put(card->out, "</p>\n");
	tc_html_close(card);
}
