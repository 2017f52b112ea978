/* What the air of the room holds, by sitting; and that no figure of it clears a room. */
#include <math.h>

#include "report/card_parts.h"

#define NEARLY 0.9 /* of the index: the vapours beyond that are counted, not named */
#define NAMED_MOST 3u
#define LITTLE 0.01 /* below this the figure itself is noise */

static void open_cell(tc_card *card, const char *column)
{
	tc_buffer_print(card->out, "<td data-of=\"%s\">", column);
}

static void close_cell(tc_card *card)
{
	tc_html_said(card);
	tc_html_put(card->out, "</td>");
}

/* --- figures ----------------------------------------------------------------------------------------------------- */

static void add_index(tc_card *card, const char *column, double index)
{
	open_cell(card, column);
	if (isfinite(index) && index > 0 && index < LITTLE) {
		tc_buffer_puts(&card->words, "< 0.01 ×");
	} else if (isfinite(index)) {
		tc_buffer_number(&card->words, index, 1, 2);
		tc_buffer_puts(&card->words, " ×");
	} else {
		tc_buffer_puts(&card->words, "not known");
	}
	close_cell(card);
}

static void add_share(tc_card *card, const char *column, double share)
{
	open_cell(card, column);
	if (isfinite(share) && share > 0 && share < LITTLE / 100)
		tc_buffer_puts(&card->words, "< 0.01 %");
	else if (isfinite(share))
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

static void add_clear(tc_card *card, double clear)
{
	open_cell(card, "thin again after");
	if (isinf(clear))
		tc_buffer_puts(&card->words, "never");
	else if (isfinite(clear))
		tc_duration_print(&card->words, clear);
	close_cell(card);
}

/* --- vapours ----------------------------------------------------------------------------------------------------- */

/* As many of the heaviest as make up nearly all of the index, at least one, and not many. */
static uint32_t vapours_that_count(const tc_sitting *s)
{
	double all = 0, so_far = 0;
	uint32_t count = 0;
	for (uint32_t i = 0; i < s->vapours; i++)
		all += isfinite(s->vapour[i].limit) ? s->vapour[i].peak / s->vapour[i].limit : 0;
	while (count < s->vapours && count < NAMED_MOST && (count == 0 || so_far < NEARLY * all)) {
		const tc_vapour_in_air *v = &s->vapour[count++];
		so_far += isfinite(v->limit) ? v->peak / v->limit : 0;
	}
	return count;
}

static void add_vapour(const tc_vapour_in_air *v, tc_buffer *out)
{
	tc_buffer_puts(out, v->solvent->name);
	if (!isfinite(v->peak))
		return;
	tc_buffer_char(out, ' ');
	tc_buffer_number(out, v->peak * 1e6, 1, 2);
	if (isfinite(v->limit)) {
		tc_buffer_puts(out, " of ");
		tc_buffer_number(out, v->limit * 1e6, 1, 3);
	}
	tc_buffer_puts(out, " ppm");
}

static void add_vapours(tc_card *card, const tc_sitting *s)
{
	const uint32_t shown = vapours_that_count(s);
	tc_html_put(card->out, "<tr class=\"more\"><td colspan=\"7\">");
	if (isfinite(s->mass))
		tc_quantity_print(&card->words, TC_T_NUMBER, TC_DIM_MASS, s->mass, 2, NULL);
	else
		tc_buffer_puts(&card->words, "an unknown amount");
	tc_buffer_puts(&card->words, shown ? " of solvent; at the peak, of the limit: " : " of solvent");
	for (uint32_t i = 0; i < shown; i++) {
		tc_buffer_puts(&card->words, i ? ", " : "");
		add_vapour(&s->vapour[i], &card->words);
	}
	if (shown < s->vapours)
		tc_buffer_print(&card->words, ", and %u more that add less", (unsigned)(s->vapours - shown));
	tc_html_said(card);
	tc_card_air_open(card->plan, s, &card->words);
	if (tc_html_any(card)) {
		tc_html_put(card->out, ". <b>");
		tc_html_said(card);
		tc_html_put(card->out, "</b>");
	}
	tc_html_put(card->out, "</td></tr>\n");
}

/* --- the whole --------------------------------------------------------------------------------------------------- */

static void add_sitting(tc_card *card, const tc_sitting *s)
{
	tc_html_put(card->out, "<tbody>\n<tr><th scope=\"row\">");
	tc_card_moment(card->plan, s->from, NAN, &card->words);
	tc_buffer_puts(&card->words, " to ");
	tc_card_moment(card->plan, s->to, s->from, &card->words);
	tc_html_said(card);
	tc_html_put(card->out, "</th>");
	add_index(card, "peak, of the limits", s->peak_index);
	add_index(card, "over 8 h, of the limits", s->mean_index);
	add_share(card, "peak, of the explosive limit", s->lel_share);
	add_flow(card, "extraction for the limits", s->needed_health);
	add_flow(card, "extraction against fire", s->needed_fire);
	add_clear(card, s->clear);
	tc_html_put(card->out, "</tr>\n");
	add_vapours(card, s);
	tc_html_put(card->out, "</tbody>\n");
}

static void add_room(tc_card *card)
{
	tc_html_put(card->out, "<p>");
	tc_card_room(card->plan, &card->words);
	tc_buffer_puts(&card->words,
	    ". Figures are multiples of the limit values taken together: above 1 they are passed. "
	    "Vapour is to stay below ");
	tc_quantity_print(&card->words, TC_T_SHARE, TC_DIM_NONE,
	    tc_library_default(card->model->library, TC_D_LEL_SHARE)->value.number, 3, NULL);
	tc_buffer_puts(&card->words, " of its lower explosive limit.");
	tc_html_said(card);
	tc_html_put(card->out, "</p>\n");
}

void tc_html_air(tc_card *card)
{
	const tc_breath *breath = card->plan->breath;
	if (!breath || breath->sittings == 0)
		return;
	tc_html_open(card, "air", "The air you work in");
	add_room(card);
	tc_html_put(card->out,
	    "<table class=\"flow air\">\n<thead><tr><th scope=\"col\">sitting</th>"
	    "<th scope=\"col\">peak, of the limits</th><th scope=\"col\">over 8 h, of the limits</th>"
	    "<th scope=\"col\">peak, of the explosive limit</th>"
	    "<th scope=\"col\">extraction for the limits</th>"
	    "<th scope=\"col\">extraction against fire</th><th scope=\"col\">thin again after</th></tr>"
	    "</thead>\n");
	for (uint32_t i = 0; i < breath->sittings; i++)
		add_sitting(card, &breath->sitting[i]);
	tc_html_put(card->out, "</table>\n<p class=\"defer\">");
	tc_html_text(card->out, tc_card_air_defers());
	tc_html_put(card->out, "</p>\n");
	tc_html_close(card);
}
