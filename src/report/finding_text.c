/* What is wrong, in words: what, why, what to do, says who. */
#include <string.h>

#include "report/private.h"

#define TEXT_AT 5u   /* column of a finding's text, behind its mark */
#define ASIDE_AT 13u /* column of the text behind `why`, `do`, `source` */

/* `lead` once, blanks for the items after the first. */
static void aside(tc_page *page, const char **lead, const char *text)
{
	tc_page_item(page, TEXT_AT, TC_INK_FAINT, *lead, ASIDE_AT, text);
	*lead = "";
}

/* --- why ------------------------------------------------------------------------------------------------------------ */

/* Figures have a line each; words and counts are drawn together; what the message names anyway (a bare subject, a plain
 * yes, that there is such a thing) is left to the JSON. */
typedef enum weight { W_FIGURE, W_WORD, W_PLAIN } weight;

static weight weight_of(const tc_reason *reason)
{
	if (!reason->about || strcmp(reason->text, "yes") == 0 || tc_text_starts(tc_text_of(reason->test), "has "))
		return W_PLAIN;
	if (!reason->has_number || (!reason->unit && reason->from.kind == TC_FROM_SAID))
		return W_WORD;
	return W_FIGURE;
}

/* The first clause of a field's help. */
static size_t gist(const char *about)
{
	return strcspn(about, ";:");
}

static void add_figure(tc_report *report, const tc_finding *finding, const tc_reason *reason, const char **lead)
{
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	tc_buffer_print(&text, "%s = %s: %.*s; ", reason->fact, reason->text, (int)gist(reason->about), reason->about);
	tc_words_origin(report->library, &reason->from, finding->place.file, &text);
	aside(&report->page, lead, tc_words_text(&text));
	tc_scratch_end(report, &text);
}

static void add_word(tc_report *report, const tc_finding *finding, const tc_reason *reason, tc_buffer *text)
{
	tc_buffer_print(text, "%s%s = %s (", text->length ? "; " : "", reason->fact, reason->text);
	tc_words_origin(report->library, &reason->from, finding->place.file, text);
	tc_buffer_puts(text, ")");
}

static void add_related(tc_report *report, const tc_finding *finding, const char **lead)
{
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	tc_words_place(finding->related, finding->place.file, &text);
	tc_buffer_print(&text, ": %s", finding->related_text ? finding->related_text : "what it meets");
	aside(&report->page, lead, tc_words_text(&text));
	tc_scratch_end(report, &text);
}

static void add_reasons(tc_report *report, const tc_finding *finding)
{
	const char *lead = "why";
	tc_buffer words;
	tc_buffer_start(&words, report->from);
	for (uint32_t i = 0; i < finding->reasons; i++) {
		const tc_reason *reason = &finding->reason[i];
		if (tc_reason_told_before(finding, i))
			continue;
		if (weight_of(reason) == W_FIGURE)
			add_figure(report, finding, reason, &lead);
		else if (weight_of(reason) == W_WORD)
			add_word(report, finding, reason, &words);
	}
	if (words.length)
		aside(&report->page, &lead, tc_words_text(&words));
	tc_scratch_end(report, &words);
	if (finding->related.file)
		add_related(report, finding, &lead);
}

/* --- what to do, says who ---------------------------------------------------------------------------------------- */

static void add_advice(tc_report *report, const tc_finding *finding)
{
	const char *lead = "do";
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	for (uint32_t i = 0; i < finding->advices; i++) {
		text.length = 0;
		tc_buffer_print(&text, "%s%s", i ? "or: " : "", finding->advice[i].text);
		aside(&report->page, &lead, tc_words_text(&text));
	}
	tc_scratch_end(report, &text);
}

static void add_sources(tc_report *report, const tc_finding *finding)
{
	const char *lead = "source";
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	for (const tc_basis *const *basis = finding->rule->bases; basis && *basis; basis++) {
		text.length = 0;
		tc_words_basis(report->library, *basis, &text);
		aside(&report->page, &lead, tc_words_text(&text));
	}
	tc_scratch_end(report, &text);
}

static void add_rule(tc_report *report, const tc_finding *finding)
{
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	tc_buffer_puts(&text, finding->rule->id);
	for (uint32_t i = 0; i < finding->outranked; i++)
		tc_buffer_print(&text, "%s%s", i ? ", " : "; makes needless: ", finding->outrank[i]->id);
	const char *lead = "rule";
	aside(&report->page, &lead, tc_words_text(&text));
	tc_scratch_end(report, &text);
}

/* --- a finding --------------------------------------------------------------------------------------------------- */

static void add_head(tc_report *report, const tc_judgement *judgement, const tc_group *group)
{
	const tc_finding *finding = group->first;
	tc_page *page = &report->page;
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	tc_page_cell(page, tc_finding_ink(finding), group->mark, TEXT_AT - 2, true);
	tc_page_blanks(page, 2);
	size_t at = TEXT_AT + tc_page_put(page, tc_finding_ink(finding), tc_verdict_name(finding->verdict));
	if (finding->defect)
		tc_buffer_print(&text, ": %s", finding->defect);
	tc_buffer_puts(&text, " (");
	tc_group_where(judgement, group, &text);
	tc_buffer_puts(&text, ")");
	if (finding->lowered)
		tc_buffer_puts(&text, ", lowered: it rests on what is assumed alone");
	const char *words = tc_words_text(&text);
	if (*words == ':')
		at += tc_page_put(page, TC_INK_PLAIN, ":");
	tc_page_blanks(page, 1);
	tc_page_wrap(page, TC_INK_PLAIN, *words == ':' ? words + 1 : words, at + 1, TEXT_AT);
	tc_scratch_end(report, &text);
}

void tc_findings_add(tc_report *report, const tc_judgement *judgement, const tc_groups *groups)
{
	if (groups->decided == 0)
		return;
	tc_page_heading(&report->page, "What goes wrong");
	for (uint32_t i = 0; i < groups->count; i++) {
		const tc_finding *finding = groups->at[i].first;
		if (finding->accept || finding->verdict == TC_V_UNDECIDED)
			continue;
		tc_page_break(&report->page);
		add_head(report, judgement, &groups->at[i]);
		tc_page_item(&report->page, 0, TC_INK_PLAIN, "", TEXT_AT, finding->message);
		add_reasons(report, finding);
		add_advice(report, finding);
		add_sources(report, finding);
		add_rule(report, finding);
	}
}
