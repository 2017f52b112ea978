/* The card as text: what one prints and tapes to the wall. */
#include <stdio.h>

#include "report/card_text.h"

#define LEAD_AT 2u
#define TEXT_AT 5u /* of findings, behind their mark */
#define HEAD_AT 9u /* of the head's rows */

void tc_card_row_add(tc_card_sheet *sheet, size_t indent, const char *lead, size_t hang)
{
	if (sheet->text.length)
		tc_page_item(sheet->page, indent, TC_INK_FAINT, lead, hang, tc_words_text(&sheet->text));
	sheet->text.length = 0;
}

/* --- the head ----------------------------------------------------------------------------------------------------- */

static void add_title(tc_card_sheet *s)
{
	const tc_model *model = s->judgement->model;
	const tc_recipe *recipe = s->plan->recipe;
	tc_page_wrap(s->page, TC_INK_STRONG, recipe->title ? recipe->title : "untitled", 0, 0);
	tc_buffer_print(&s->text, "%s: ", tc_source_name(recipe->source));
	tc_words_count(model->parts, "part", "parts", &s->text);
	tc_buffer_puts(&s->text, ", ");
	tc_words_count(model->steps, "step", "steps", &s->text);
	if (recipe->scale > 0) {
		tc_buffer_puts(&s->text, ", scale 1:");
		tc_buffer_number(&s->text, recipe->scale, 1, 6);
	}
	tc_card_row_add(s, 0, "", 0);
}

static void add_head(tc_card_sheet *s)
{
	tc_page_break(s->page);
	tc_card_begins(s->plan, &s->text);
	tc_card_row_add(s, 0, "begins", HEAD_AT);
	tc_card_ready(s->plan, &s->text);
	tc_card_row_add(s, 0, "ready", HEAD_AT);
	tc_card_weather(s->plan, &s->text);
	tc_card_row_add(s, 0, "air", HEAD_AT);
	tc_page_break(s->page);
	tc_card_verdict(s->plan, &s->text);
	tc_page_wrap(s->page, TC_INK_STRONG, tc_words_text(&s->text), 0, 2);
	s->text.length = 0;
}

/* --- findings in short ----------------------------------------------------------------------------------------------- */

static void add_finding(tc_card_sheet *s, const tc_group *group)
{
	const tc_finding *finding = group->first;
	tc_page_cell(s->page, tc_finding_ink(finding), group->mark, TEXT_AT - 2, true);
	tc_page_blanks(s->page, 2);
	const size_t at = TEXT_AT + tc_page_put(s->page, tc_finding_ink(finding), tc_verdict_name(finding->verdict));
	tc_page_put(s->page, TC_INK_PLAIN, ":");
	tc_page_blanks(s->page, 1);
	tc_card_finding(s->judgement, group, &s->text);
	tc_page_wrap(s->page, TC_INK_PLAIN, tc_words_text(&s->text), at + 2, TEXT_AT);
	s->text.length = 0;
	if (finding->advices)
		tc_buffer_puts(&s->text, finding->advice[0].text);
	tc_card_row_add(s, TEXT_AT, "do", TEXT_AT + 4);
}

static void add_findings(tc_card_sheet *s, bool open, const char *heading)
{
	bool any = false;
	for (uint32_t i = 0; i < s->groups.count; i++) {
		const tc_finding *finding = s->groups.at[i].first;
		if (finding->accept || (finding->verdict == TC_V_UNDECIDED) != open)
			continue;
		if (!any)
			tc_page_heading(s->page, heading);
		any = true;
		add_finding(s, &s->groups.at[i]);
	}
}

static void add_accepted(tc_card_sheet *s)
{
	bool any = false;
	for (uint32_t i = 0; i < s->groups.count; i++) {
		const tc_group *group = &s->groups.at[i];
		if (!group->first->accept)
			continue;
		if (!any)
			tc_page_heading(s->page, "Accepted in the recipe");
		any = true;
		tc_buffer_print(&s->text, "%s: ", tc_verdict_name(group->first->verdict));
		tc_card_finding(s->judgement, group, &s->text);
		tc_buffer_print(&s->text, " (because: %s)", group->first->accept->because);
		tc_card_row_add(s, 0, "", LEAD_AT);
	}
}

static void add_unused(tc_card_sheet *s)
{
	for (uint32_t i = 0; i < s->judgement->unused; i++) {
		const tc_accept *accept = s->judgement->unused_accept[i];
		if (i == 0)
			tc_page_heading(s->page, "Acceptances that accept nothing");
		tc_buffer_print(
		    &s->text, "warning: %s, line %u; take it out", accept->name, (unsigned)accept->place.line);
		tc_card_row_add(s, 0, "", LEAD_AT);
	}
}

static void add_all_findings(tc_card_sheet *s)
{
	const bool timed = s->plan->timed != NULL;
	add_findings(s, false, timed ? "What goes wrong at these times" : "What goes wrong as written");
	add_findings(s, true, "What cannot be told");
	add_accepted(s);
	add_unused(s);
	if (s->groups.decided + s->groups.open == 0)
		return;
	tc_buffer_puts(&s->text, timed ? "Reasons and sources stand in the card's forms html and json."
	                               : "Reasons and sources: see `tiecoat check`.");
	tc_card_row_add(s, 0, "", LEAD_AT);
}

/* --- what stands at the end ------------------------------------------------------------------------------------------ */

static void add_cautions(tc_card_sheet *s)
{
	char lead[16];
	if (s->judgement->cautions)
		tc_page_heading(s->page, "Take care (the numbers stand at the steps)");
	for (uint32_t i = 0; i < s->judgement->cautions; i++) {
		const tc_caution_use *use = &s->judgement->caution[i];
		tc_buffer_puts(&s->text, use->caution->says);
		const size_t from = s->text.length;
		tc_buffer_puts(&s->text, " [");
		tc_card_caution_why(use, &s->text);
		if (s->text.length == from + 2)
			tc_card_cut(&s->text, from);
		else
			tc_buffer_puts(&s->text, "]");
		snprintf(lead, sizeof lead, "!%u", (unsigned)i + 1);
		tc_page_cell(s->page, TC_INK_WARNING, lead, 4, true);
		tc_page_blanks(s->page, 1);
		if (!s->text.failed)
			tc_page_wrap(s->page, TC_INK_PLAIN, s->text.at, TEXT_AT, TEXT_AT);
		s->text.length = 0;
	}
}

static void add_assumptions(tc_card_sheet *s)
{
	const tc_library *library = s->judgement->model->library;
	bool any = false;
	for (uint32_t i = 0; i < s->judgement->assumptions; i++) {
		const tc_assumption *a = &s->judgement->assumption[i];
		if (!a->mattered)
			continue;
		if (!any)
			tc_page_heading(s->page, "Assumed, since the recipe does not say");
		any = true;
		tc_buffer_print(&s->text, "%s: %s", a->what, a->text);
		if (a->basis) {
			tc_buffer_puts(&s->text, " (");
			tc_words_basis_short(library, a->basis, &s->text);
			tc_buffer_puts(&s->text, ")");
		}
		tc_card_row_add(s, 0, "", LEAD_AT);
	}
}

/* --- the whole ---------------------------------------------------------------------------------------------------- */

static void add_all(tc_card_sheet *s)
{
	add_title(s);
	add_head(s);
	if (s->judgement->bounded)
		return;
	tc_card_text_conflict(s);
	add_all_findings(s);
	tc_card_text_table(s);
	tc_card_text_layers(s);
	tc_card_text_stuff(s);
	tc_card_text_air(s);
	add_assumptions(s);
	add_cautions(s);
}

void tc_card_text(const tc_plan *plan, tc_page *page)
{
	tc_card_sheet sheet = {.plan = plan, .judgement = tc_card_judgement(plan), .page = page};
	tc_arena *arena = tc_arena_new(page->out->from, 0);
	tc_buffer_start(&sheet.text, page->out->from);
	if (arena && tc_groups_make(arena, sheet.judgement, &sheet.groups))
		add_all(&sheet);
	else
		page->out->failed = true;
	page->out->failed = page->out->failed || sheet.text.failed;
	tc_buffer_free(&sheet.text);
	tc_arena_free(arena);
}
