/* What stands behind the card: what is open, what was accepted and assumed, and all cautions in full. */
#include <string.h>

#include "report/card_parts.h"

/* --- open -------------------------------------------------------------------------------------------------------- */

static void add_needs(tc_card *card, const tc_finding *finding)
{
	if (finding->needs == 0)
		return;
	tc_html_put(card->out, "<p class=\"do\"><b>To settle it</b> ");
	for (uint32_t i = 0; i < finding->needs; i++) {
		const tc_need *need = &finding->need[i];
		if (i)
			tc_html_put(card->out, "; ");
		tc_html_code(card, need->where ? need->where : need->datum);
		if (!need->place.file)
			continue;
		tc_buffer_puts(&card->words, " (");
		tc_words_place(need->place, tc_source_name(card->plan->recipe->source), &card->words);
		tc_buffer_puts(&card->words, ")");
		tc_html_said(card);
	}
	tc_html_put(card->out, "</p>\n");
}

static void add_question(tc_card *card, const tc_group *group)
{
	const tc_finding *finding = group->first;
	tc_buffer_print(card->out, "<li id=\"question-%s\">\n<p><b class=\"tag\">%s</b> ", group->mark, group->mark);
	tc_html_isolated(card, finding->message);
	tc_html_put(card->out, " <span class=\"where\">");
	tc_html_where(card, group);
	tc_html_put(card->out, "</span></p>\n");
	add_needs(card, finding);
	tc_html_put(card->out, "</li>\n");
}

void tc_html_open_questions(tc_card *card)
{
	if (card->groups.open == 0)
		return;
	tc_html_open(card, "open", "What is open");
	tc_html_put(card->out, "<ul class=\"questions\">\n");
	for (uint32_t i = 0; i < card->groups.count; i++) {
		const tc_finding *finding = card->groups.at[i].first;
		if (finding->verdict == TC_V_UNDECIDED && !finding->accept)
			add_question(card, &card->groups.at[i]);
	}
	tc_html_put(card->out, "</ul>\n");
	tc_html_close(card);
}

/* --- accepted, assumed ------------------------------------------------------------------------------------------- */

void tc_html_accepted(tc_card *card)
{
	if (card->groups.accepted == 0)
		return;
	tc_html_open(card, "accepted", "Accepted");
	tc_html_put(card->out, "<ul class=\"plain\">\n");
	for (uint32_t i = 0; i < card->groups.count; i++) {
		const tc_finding *finding = card->groups.at[i].first;
		if (!finding->accept)
			continue;
		tc_buffer_print(card->out, "<li><b>%s</b> ", tc_verdict_name(finding->verdict));
		tc_html_isolated(card, finding->message);
		tc_html_put(card->out, " <span class=\"where\">");
		tc_words_parts(card->model, card->groups.at[i].parts, &card->words);
		if (finding->step)
			tc_buffer_print(&card->words, ", step %u", (unsigned)finding->step);
		tc_buffer_print(&card->words, ", accepted in line %u because:", (unsigned)finding->accept->place.line);
		tc_html_said(card);
		tc_html_put(card->out, "</span> ");
		tc_html_isolated(card, finding->accept->because);
		tc_html_put(card->out, "</li>\n");
	}
	tc_html_put(card->out, "</ul>\n");
	tc_html_close(card);
}

static bool any_matters(const tc_judgement *judged)
{
	for (uint32_t i = 0; i < judged->assumptions; i++)
		if (judged->assumption[i].mattered)
			return true;
	return false;
}

void tc_html_assumed(tc_card *card)
{
	if (!any_matters(card->judged))
		return;
	tc_html_open(card, "assumed", "Assumed, since the recipe does not say");
	tc_html_put(card->out, "<ul class=\"plain fine\">\n");
	for (uint32_t i = 0; i < card->judged->assumptions; i++) {
		const tc_assumption *a = &card->judged->assumption[i];
		if (!a->mattered)
			continue;
		tc_html_put(card->out, "<li><b>");
		tc_html_isolated(card, a->what);
		tc_html_put(card->out, "</b>: ");
		tc_html_isolated(card, a->text);
		if (a->basis) {
			tc_buffer_puts(&card->words, " (");
			tc_words_basis_short(card->model->library, a->basis, &card->words);
			tc_buffer_puts(&card->words, ")");
			tc_html_said(card);
		}
		tc_html_put(card->out, "</li>\n");
	}
	tc_html_put(card->out, "</ul>\n");
	tc_html_close(card);
}

/* --- cautions ---------------------------------------------------------------------------------------------------- */

/* Where it came up, and why. The materials are left away on paper, where the steps name them. */
static void add_why(tc_card *card, const tc_caution_use *use)
{
	if (use->steps) {
		tc_buffer_puts(&card->words, use->steps == 1 ? "step " : "steps ");
		tc_words_numbers(use->step, use->steps, &card->words);
	}
	for (const char *const *code = use->codes; code && *code; code++)
		tc_buffer_print(&card->words, "%s%s", code == use->codes ? (use->steps ? "; " : "") : ", ", *code);
	if (tc_html_any(card)) {
		tc_html_put(card->out, " <span class=\"where\">");
		tc_html_said(card);
		tc_html_put(card->out, "</span>");
	}
	if (!use->because)
		return;
	tc_html_put(card->out, " <span class=\"where cause\">");
	tc_html_isolated(card, use->because);
	tc_html_put(card->out, "</span>");
}

static void add_caution(tc_card *card, uint32_t i)
{
	const tc_caution_use *use = &card->judged->caution[i];
	tc_buffer_print(card->out, "<li id=\"care-%u\"><b>!%u\xC2\xA0", (unsigned)i + 1, (unsigned)i + 1);
	tc_html_caution_name(card, i);
	tc_html_put(card->out, "</b> ");
	tc_html_text(card->out, use->caution->says);
	add_why(card, use);
	tc_html_put(card->out, "</li>\n");
}

void tc_html_cautions(tc_card *card)
{
	if (card->judged->cautions == 0)
		return;
	tc_html_open(card, "care", "Take care");
	tc_html_put(card->out, "<ol class=\"cautions\">\n");
	for (uint32_t i = 0; i < card->judged->cautions; i++)
		add_caution(card, i);
	tc_html_put(card->out, "</ol>\n");
	tc_html_close(card);
}
