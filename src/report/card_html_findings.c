/* What speaks against the plan, and what to do; or, where there is no timetable, which of its wishes cannot all be
 * kept. */
#include <string.h>

#include "report/card_parts.h"

/* --- findings ---------------------------------------------------------------------------------------------------- */

static void add_advice(tc_card *card, const tc_finding *finding)
{
	if (finding->advices == 0)
		return;
	tc_html_put(card->out, "<p class=\"do\"><b>Do</b> ");
	for (uint32_t i = 0; i < finding->advices; i++) {
		if (i)
			tc_html_put(card->out, " <i>or</i> ");
		tc_html_code(card, finding->advice[i].text);
		tc_html_put(card->out, i + 1 < finding->advices ? ";" : ".");
	}
	tc_html_put(card->out, "</p>\n");
}

/* The words put together so far, in which `…` is code. */
static void say_code(tc_card *card)
{
	const char *text =
	    tc_arena_text(card->arena, tc_words_text(&card->words), card->words.failed ? 0 : card->words.length);
	card->words.length = 0;
	tc_html_code(card, text ? text : "");
}

/* --- why --------------------------------------------------------------------------------------------------------- */

/* A figure that the rule read; words and plain truths are in the message anyway. */
static bool is_figure(const tc_reason *reason)
{
	return reason->about && reason->has_number && (reason->unit || reason->from.kind != TC_FROM_SAID);
}

/* `Why RED toward what it lands on: 0.787 (computed from …); …`, then who says so. */
static void add_reasons(tc_card *card, const tc_finding *finding)
{
	const char *own = tc_source_name(card->plan->recipe->source), *between = "<p class=\"why\"><b>Why</b> ";
	bool any = false;
	for (uint32_t i = 0; i < finding->reasons; i++) {
		const tc_reason *reason = &finding->reason[i];
		if (!is_figure(reason) || tc_reason_told_before(finding, i))
			continue;
		tc_html_put(card->out, any ? "; " : between);
		tc_buffer_print(
		    &card->words, "%.*s: %s (", (int)strcspn(reason->about, ";:"), reason->about, reason->text);
		tc_words_origin(card->model->library, &reason->from, own, &card->words);
		tc_buffer_puts(&card->words, ")");
		say_code(card);
		any = true;
	}
	if (any)
		tc_html_put(card->out, "</p>\n");
}

static void add_sources(tc_card *card, const tc_finding *finding)
{
	bool any = false;
	for (const tc_basis *const *basis = finding->rule->bases; basis && *basis; basis++) {
		tc_html_put(card->out, any ? "; " : "<p class=\"why\"><b>Says</b> ");
		tc_words_basis(card->model->library, *basis, &card->words);
		tc_html_said(card);
		any = true;
	}
	if (any) {
		tc_html_put(card->out, " [");
		tc_html_text(card->out, finding->rule->id);
		tc_html_put(card->out, "]</p>\n");
	}
}

void tc_html_where(tc_card *card, const tc_group *group)
{
	tc_words_parts(card->model, group->parts, &card->words);
	tc_html_isolated(card, tc_words_text(&card->words));
	card->words.length = 0;
	if (group->first->step) {
		tc_html_put(card->out, ", ");
		tc_html_step_link(card, group->first->step);
	}
}

static void add_where(tc_card *card, const tc_group *group)
{
	const tc_finding *finding = group->first;
	tc_html_put(card->out, "<span class=\"where\">");
	tc_html_where(card, group);
	if (finding->place.line) {
		tc_buffer_puts(&card->words, ", ");
		tc_words_place(finding->place, tc_source_name(card->plan->recipe->source), &card->words);
		tc_html_said(card);
	}
	if (finding->lowered)
		tc_html_put(card->out, ", lowered: it rests on what is assumed alone");
	tc_html_put(card->out, "</span>");
}

static void add_finding(tc_card *card, const tc_group *group)
{
	const tc_finding *finding = group->first;
	tc_buffer_print(card->out, "<li id=\"finding-%s\" class=\"%s\">\n<p><b class=\"tag\">%s\xC2\xA0%s</b> ",
	    group->mark, tc_verdict_name(finding->verdict), tc_verdict_name(finding->verdict), group->mark);
	if (finding->defect) {
		tc_html_put(card->out, "<b>");
		tc_html_id(card, finding->defect);
		tc_html_put(card->out, "</b> ");
	}
	add_where(card, group);
	tc_html_put(card->out, "</p>\n<p>");
	tc_html_code(card, finding->message);
	tc_html_put(card->out, "</p>\n");
	add_advice(card, finding);
	add_reasons(card, finding);
	add_sources(card, finding);
	tc_html_put(card->out, "</li>\n");
}

static bool told_here(const tc_group *group)
{
	return !group->first->accept && group->first->verdict != TC_V_UNDECIDED;
}

static void add_unused(tc_card *card)
{
	for (uint32_t i = 0; i < card->judged->unused; i++) {
		const tc_accept *accept = card->judged->unused_accept[i];
		tc_html_put(card->out, "<li class=\"warning\">\n<p><b class=\"tag\">warning</b> the acceptance of ");
		tc_html_isolated(card, accept->name);
		tc_buffer_print(
		    card->out, " (line %u) accepts nothing: take it out</p>\n</li>\n", (unsigned)accept->place.line);
	}
}

void tc_html_findings(tc_card *card)
{
	if (card->groups.decided == 0 && card->judged->unused == 0)
		return;
	tc_html_open(card, "wrong", "What goes wrong");
	tc_html_put(card->out, "<ul class=\"findings\">\n");
	for (tc_verdict verdict = TC_V_ERROR + 1; verdict-- > TC_V_NOTE;)
		for (uint32_t i = 0; i < card->groups.count; i++)
			if (told_here(&card->groups.at[i]) && card->groups.at[i].first->verdict == verdict)
				add_finding(card, &card->groups.at[i]);
	add_unused(card);
	tc_html_put(card->out, "</ul>\n");
	tc_html_close(card);
}

/* --- conflicts --------------------------------------------------------------------------------------------------- */

static void add_bound(tc_card *card, const tc_bound *bound)
{
	tc_html_put(card->out, "<li>\n<p>");
	tc_card_bound(card->plan, bound, &card->words);
	say_code(card);
	tc_html_put(card->out, "</p>\n<p class=\"do\"><b>Without it</b> ");
	tc_card_bound_dropped(card->plan, bound, &card->words);
	say_code(card);
	tc_html_put(card->out, "</p>\n</li>\n");
}

void tc_html_conflict(tc_card *card)
{
	const tc_timetable *table = card->table;
	if (card->timed)
		return;
	tc_html_open(card, "conflict", "Why there is no timetable");
	if (table->state == TC_TABLE_UNKNOWN || table->conflicts == 0) {
		tc_html_put(card->out,
		    table->state == TC_TABLE_UNKNOWN
		        ? "<p>There are more windows than could be tried. Split the plan into two recipes, or "
		          "take out windows that do not matter.</p>\n"
		        : "<p>Nothing that could be given up would help.</p>\n");
		tc_html_close(card);
		return;
	}
	tc_buffer_print(card->out, "<p>These cannot all be kept. %s</p>\n<ol class=\"bounds\">\n",
	    table->conflicts == 1 ? "It asks for what cannot be; change it."
	                          : "Giving up one of them, whichever it is, would let the others stand.");
	for (uint32_t i = 0; i < table->conflicts; i++)
		add_bound(card, &table->bound[table->conflict[i]]);
	tc_html_put(card->out, "</ol>\n");
	if (!table->smallest)
		tc_html_put(
		    card->out, "<p class=\"aside\">A smaller set may conflict already: not all were tried.</p>\n");
	tc_html_close(card);
}
