/* What stands behind the findings: what was accepted, what was assumed, and the cautions. */
#include <string.h>

#include "report/private.h"

#define TEXT_AT 2u

/* --- accepted ---------------------------------------------------------------------------------------------------- */

static void add_accepted(tc_report *report, const tc_judgement *judgement, const tc_group *group)
{
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	tc_buffer_print(&text, "%s: %s (", tc_verdict_name(group->first->verdict), group->first->message);
	tc_words_parts(judgement->model, group->parts, &text);
	if (group->first->step)
		tc_buffer_print(&text, "; step %u", (unsigned)group->first->step);
	tc_buffer_print(&text, ") [%s]; accepted in line %u because: %s", group->first->rule->id,
	    (unsigned)group->first->accept->place.line, group->first->accept->because);
	tc_page_item(&report->page, 0, TC_INK_PLAIN, "", TEXT_AT, tc_words_text(&text));
	tc_scratch_end(report, &text);
}

static void add_acceptances(tc_report *report, const tc_judgement *judgement, const tc_groups *groups)
{
	if (groups->accepted) {
		tc_page_heading(&report->page, "Accepted");
		for (uint32_t i = 0; i < groups->count; i++)
			if (groups->at[i].first->accept)
				add_accepted(report, judgement, &groups->at[i]);
	}
	if (!judgement->unused)
		return;
	tc_page_heading(&report->page, "Acceptances that accept nothing");
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	for (uint32_t i = 0; i < judgement->unused; i++) {
		text.length = 0;
		tc_buffer_print(&text, ": %s, line %u; take it out", judgement->unused_accept[i]->name,
		    (unsigned)judgement->unused_accept[i]->place.line);
		tc_page_blanks(&report->page, TEXT_AT);
		const size_t at = TEXT_AT + tc_page_put(&report->page, TC_INK_WARNING, "warning");
		tc_page_wrap(&report->page, TC_INK_PLAIN, tc_words_text(&text), at, TEXT_AT);
	}
	tc_scratch_end(report, &text);
}

/* --- assumed ----------------------------------------------------------------------------------------------------- */

static void add_assumptions(tc_report *report, const tc_judgement *judgement)
{
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	bool first = true;
	for (uint32_t i = 0; i < judgement->assumptions; i++) {
		const tc_assumption *a = &judgement->assumption[i];
		if (!a->mattered)
			continue;
		if (first)
			tc_page_heading(&report->page, "Assumed, since the recipe does not say");
		first = false;
		text.length = 0;
		tc_buffer_print(&text, "%s: %s", a->what, a->text);
		if (a->basis) {
			tc_buffer_puts(&text, " (");
			tc_words_basis_short(report->library, a->basis, &text);
			tc_buffer_puts(&text, ")");
		}
		tc_page_item(&report->page, 0, TC_INK_PLAIN, "", TEXT_AT, tc_words_text(&text));
	}
	tc_scratch_end(report, &text);
}

/* --- cautions ---------------------------------------------------------------------------------------------------- */

static void add_caution(tc_report *report, const tc_caution_use *use)
{
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	tc_buffer_puts(&text, use->caution->says);
	const bool why = use->steps || use->because || (use->codes && *use->codes);
	const char *between = "";
	if (why)
		tc_buffer_puts(&text, " [");
	if (use->steps) {
		tc_buffer_puts(&text, use->steps == 1 ? "step " : "steps ");
		tc_words_numbers(use->step, use->steps, &text);
		between = "; ";
	}
	if (use->because) {
		tc_buffer_print(&text, "%s%s", between, use->because);
		between = "; ";
	}
	for (const char *const *code = use->codes; code && *code; code++) {
		tc_buffer_print(&text, "%s%s", between, *code);
		between = ", ";
	}
	if (why)
		tc_buffer_puts(&text, "]");
	tc_page_item(&report->page, 0, TC_INK_WARNING, "!", TEXT_AT, tc_words_text(&text));
	tc_scratch_end(report, &text);
}

static void add_cautions(tc_report *report, const tc_judgement *judgement)
{
	if (judgement->cautions)
		tc_page_heading(&report->page, "Take care");
	for (uint32_t i = 0; i < judgement->cautions; i++)
		add_caution(report, &judgement->caution[i]);
}

void tc_tail_add(tc_report *report, const tc_judgement *judgement, const tc_groups *groups)
{
	add_acceptances(report, judgement, groups);
	if (report->options.quiet)
		return;
	add_assumptions(report, judgement);
	add_cautions(report, judgement);
}
