/* The head of the card: what it is for, when, in which air, and what speaks against it. A plan with errors is
 * barred with hatching and words, so that it is told from others on a grey print too. */
#include "report/card_parts.h"

#define HATCH_BARS 40

/* --- fields ------------------------------------------------------------------------------------------------------ */

static void open_field(tc_card *card, const char *name)
{
	tc_buffer_print(card->out, "<div><dt>%s</dt><dd>", name);
}

static void close_field(tc_card *card)
{
	tc_html_said(card);
	tc_html_put(card->out, "</dd></div>\n");
}

/* Hands: working time of all tasks that need them, and over how many stints. */
static void add_hands(tc_card *card)
{
	double hands = 0;
	bool usual = false;
	if (!card->timed)
		return;
	for (uint32_t i = 0; i < card->table->tasks; i++)
		if (card->table->task[i].attended) {
			hands += card->table->task[i].lasts;
			usual = usual || card->table->task[i].lasts_assumed;
		}
	open_field(card, "Hands");
	tc_buffer_puts(&card->words, usual ? "about " : "");
	tc_duration_print(&card->words, hands);
	tc_buffer_puts(&card->words, " of work, ");
	if (tc_calendar_say(card->table->calendar).has_sessions)
		tc_words_count(card->stints, "session", "sessions", &card->words);
	else
		tc_words_count(card->stints, "stretch", "stretches", &card->words);
	close_field(card);
}

static void add_fields(tc_card *card)
{
	tc_html_put(card->out, "<dl class=\"fields\">\n");
	open_field(card, "Begins");
	tc_card_begins(card->plan, &card->words);
	close_field(card);
	if (card->timed) {
		open_field(card, "Ready");
		tc_card_ready(card->plan, &card->words);
		close_field(card);
	}
	add_hands(card);
	open_field(card, "Air in the workshop");
	tc_card_weather(card->plan, &card->words);
	close_field(card);
	tc_html_put(card->out, "</dl>\n");
}

/* --- verdict ----------------------------------------------------------------------------------------------------- */

static void add_hatching(tc_card *card)
{
	tc_html_put(card->out,
	    "<svg class=\"hatch\" viewBox=\"0 0 400 8\" preserveAspectRatio=\"none\" aria-hidden=\"true\""
	    " focusable=\"false\">");
	for (int i = 0; i < HATCH_BARS; i++)
		tc_buffer_print(card->out, "<path d=\"M%d 8h5l5-8h-5z\"/>", i * 10);
	tc_html_put(card->out, "</svg>\n");
}

static const char *lead_of(const tc_card *card, tc_verdict weight)
{
	if (weight == TC_V_ERROR)
		return card->timed ? "Do not begin" : "No timetable";
	if (weight == TC_V_WARNING)
		return "Look first";
	return card->groups.open ? "Ask first" : "Nothing found wrong";
}

/* What was found, in a line. Where something keeps the plan from being told at all, that. */
static void add_found(tc_card *card, tc_verdict weight)
{
	tc_buffer *words = &card->words;
	if (card->judged->bounded) {
		tc_card_verdict(card->plan, words);
	} else if (!card->timed) {
		tc_buffer_puts(words, card->table->state == TC_TABLE_UNKNOWN
		                          ? "it has more windows than could be tried; as written: "
		                          : "not all that is asked of the times can be kept; as written: ");
		tc_words_summary(&card->groups.summary, TC_V_NOTE, 0, true, words);
	} else if (weight == TC_V_NOTE && card->groups.summary.notes + card->groups.open == 0) {
		tc_buffer_puts(words, "at these times, by the rules that there are; the cautions hold all the same");
	} else {
		tc_words_summary(&card->groups.summary, TC_V_NOTE, 0, true, words);
		tc_buffer_puts(words, " at these times");
	}
	if (!card->judged->bounded)
		tc_card_verdict_rest(card->plan, words);
	tc_html_said(card);
}

static void add_verdict(tc_card *card)
{
	const tc_verdict weight = tc_card_weight(card->plan);
	const bool stop = weight == TC_V_ERROR;
	tc_buffer_print(card->out, "<div class=\"verdict %s\">\n",
	    stop                     ? "bad"
	    : weight == TC_V_WARNING ? "doubt"
	    : card->groups.open      ? "doubt"
	                             : "clear");
	if (stop)
		add_hatching(card);
	tc_html_put(card->out, "<p><strong>");
	tc_html_put(card->out, lead_of(card, weight));
	tc_html_put(card->out, "</strong> <span>");
	add_found(card, weight);
	tc_html_put(card->out, "</span></p>\n");
	if (stop)
		add_hatching(card);
	tc_html_put(card->out, "</div>\n");
}

/* --- title ------------------------------------------------------------------------------------------------------- */

static void add_scale(tc_card *card)
{
	const tc_recipe *recipe = card->plan->recipe;
	if (!(recipe->scale > 0))
		return;
	tc_html_put(card->out, "<p class=\"scale\"><span class=\"aside\">scale</span> 1:");
	tc_buffer_number(card->out, recipe->scale, 1, 6);
	tc_html_put(card->out, "</p>\n");
}

void tc_html_head(tc_card *card)
{
	const tc_recipe *recipe = card->plan->recipe;
	tc_html_put(card->out, "<header>\n<div class=\"title\">\n<div>\n<p class=\"kind\">Bench card <span "
	                       "class=\"file\">");
	tc_html_isolated(card, tc_source_name(recipe->source));
	tc_html_put(card->out, "</span></p>\n<h1>");
	tc_html_isolated(card, recipe->title && *recipe->title ? recipe->title : "untitled");
	tc_html_put(card->out, "</h1>\n</div>\n");
	add_scale(card);
	tc_html_put(card->out, "</div>\n");
	add_fields(card);
	add_verdict(card);
	tc_html_put(card->out, "</header>\n");
}
