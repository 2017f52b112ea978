/* The text for a person: a recipe's title, its parts drawn, what is wrong and open, what to take care of, the last line. */
#include <string.h>

#include "report/private.h"

/* --- title ------------------------------------------------------------------------------------------------------- */

static void add_title(tc_report *report, const char *file, const tc_judgement *judgement)
{
	const tc_model *model = judgement->model;
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	tc_lead(report, "\n");
	tc_page_wrap(&report->page, TC_INK_STRONG, model->recipe->title ? model->recipe->title : "untitled", 0, 0);
	tc_buffer_print(&text, "%s: ", file);
	tc_words_count(model->parts, "part", "parts", &text);
	tc_buffer_puts(&text, ", ");
	tc_words_count(model->steps, "step", "steps", &text);
	tc_buffer_puts(&text, ", ");
	tc_duration_print(&text, model->end);
	if (model->recipe->scale > 0) {
		tc_buffer_puts(&text, ", scale 1:");
		tc_buffer_number(&text, model->recipe->scale, 1, 6);
	}
	tc_page_wrap(&report->page, TC_INK_FAINT, tc_words_text(&text), 0, 2);
	tc_scratch_end(report, &text);
}

/* --- parts ------------------------------------------------------------------------------------------------------- */

/* The drawing of each part, so that equal ones are shown once. */
static tc_buffer *draw_parts(tc_report *report, const tc_judgement *judgement, const tc_groups *groups)
{
	const uint32_t parts = judgement->model->parts;
	tc_buffer *drawn = TC_ARRAY(report->arena, parts, tc_buffer), *out = report->page.out;
	for (uint32_t i = 0; drawn && i < parts; i++) {
		tc_buffer_start(&drawn[i], report->from);
		report->page.out = &drawn[i];
		tc_section_add(&report->page, judgement, groups, i);
		report->failed = report->failed || drawn[i].failed;
	}
	report->page.out = out;
	return drawn;
}

static bool equal(const tc_buffer *a, const tc_buffer *b)
{
	return a->length == b->length && memcmp(tc_words_text(a), tc_words_text(b), a->length) == 0;
}

static void add_drawing(tc_report *report, const tc_judgement *judgement, const tc_buffer *drawn, uint32_t part)
{
	uint64_t same = 0;
	for (uint32_t i = 0; i < judgement->model->parts; i++)
		if (equal(&drawn[i], &drawn[part])) {
			if (i < part)
				return;
			same |= UINT64_C(1) << i;
		}
	tc_buffer names;
	tc_buffer_start(&names, report->from);
	tc_words_parts(judgement->model, same, &names);
	tc_page_heading(&report->page, tc_words_text(&names));
	tc_buffer_add(report->out, (tc_text){tc_words_text(&drawn[part]), drawn[part].length});
	tc_scratch_end(report, &names);
}

static void add_parts(tc_report *report, const tc_judgement *judgement, const tc_groups *groups)
{
	tc_buffer *drawn = draw_parts(report, judgement, groups);
	if (!drawn) {
		report->failed = true;
		return;
	}
	for (uint32_t i = 0; i < judgement->model->parts && !report->failed; i++)
		add_drawing(report, judgement, drawn, i);
	for (uint32_t i = 0; i < judgement->model->parts; i++)
		tc_buffer_free(&drawn[i]);
}

/* --- last lines -------------------------------------------------------------------------------------------------- */

static void add_summary(tc_report *report, const tc_summary *summary, const char *lead, uint32_t unread, bool complete)
{
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	tc_buffer_puts(&text, lead);
	tc_words_summary(summary, report->options.at_least, unread, complete, &text);
	tc_page_break(&report->page);
	tc_page_wrap(&report->page, TC_INK_STRONG, tc_words_text(&text), 0, 2);
	tc_scratch_end(report, &text);
}

static bool has_something(const tc_judgement *judgement)
{
	return judgement->findings > 0 || judgement->unused > 0 || judgement->bounded;
}

/* Quiet: the cautions of all recipes come once, at the end. */
static void keep_cautions(tc_report *report, const tc_judgement *judgement)
{
	for (uint32_t i = 0; i < judgement->cautions; i++)
		tc_keep_caution(report, judgement->caution[i].caution);
}

static void add_kept_cautions(tc_report *report)
{
	bool first = true;
	for (uint32_t i = 0; i < tc_library_cautions(report->library); i++) {
		if (!(report->sum->cautions[i / 64] >> i % 64 & 1))
			continue;
		if (first)
			tc_page_heading(&report->page, "Take care");
		first = false;
		tc_page_item(&report->page, 0, TC_INK_WARNING, "!", 2, tc_library_caution(report->library, i)->says);
	}
}

void tc_text_recipe(tc_report *report, const char *file, const tc_judgement *judgement)
{
	if (report->options.quiet) {
		keep_cautions(report, judgement);
		if (!has_something(judgement))
			return;
	}
	tc_groups groups;
	if (!tc_groups_make(report->arena, judgement, &groups)) {
		report->failed = true;
		return;
	}
	tc_summary_add(&report->now->shown, &groups.summary);
	add_title(report, file, judgement);
	tc_led(report);
	if (judgement->bounded) {
		tc_page_wrap(&report->page, TC_INK_ERROR,
		    "error: the recipe's bound on evaluation was hit: nothing can be said of it", 0, 2);
		return;
	}
	if (!report->options.quiet)
		add_parts(report, judgement, &groups);
	tc_findings_add(report, judgement, &groups);
	tc_open_add(report, judgement, &groups);
	tc_tail_add(report, judgement, &groups);
	add_summary(report, &groups.summary, "", 0, true);
}

void tc_text_unreadable(tc_report *report, const tc_diags *diags)
{
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	if (tc_diags_count(diags) > 0)
		tc_lead(report, "\n");
	for (size_t i = 0; i < tc_diags_count(diags); i++)
		tc_diag_print(tc_diags_at(diags, i), &text);
	tc_buffer_add(report->out, (tc_text){tc_words_text(&text), text.length});
	tc_scratch_end(report, &text);
}

static void add_nothing(tc_report *report, tc_buffer *text, bool complete)
{
	tc_buffer_puts(text, "no recipe was judged");
	if (report->sum->unread) {
		tc_buffer_puts(text, "; ");
		tc_words_count(report->sum->unread, "file could not be read", "files could not be read", text);
	}
	if (!complete)
		tc_buffer_puts(text, "; stopped before the end");
	tc_page_break(&report->page);
	tc_page_wrap(&report->page, TC_INK_STRONG, tc_words_text(text), 0, 2);
}

void tc_text_end(tc_report *report, bool complete)
{
	if (report->options.quiet)
		add_kept_cautions(report);
	if (report->sum->recipes == 1 && report->sum->unread == 0 && complete && !report->options.quiet)
		return; /* the recipe's own summary was the last line */
	tc_buffer lead;
	tc_buffer_start(&lead, report->from);
	if (report->sum->recipes > 0) {
		tc_words_count(report->sum->recipes, "recipe", "recipes", &lead);
		tc_buffer_puts(&lead, ": ");
		add_summary(report, &report->sum->shown, tc_words_text(&lead), report->sum->unread, complete);
	} else {
		add_nothing(report, &lead, complete);
	}
	tc_scratch_end(report, &lead);
}
