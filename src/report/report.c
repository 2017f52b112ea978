/* A report's life, whatever its form. */
#include <string.h>

#include "report/private.h"

static void *get_kept_cautions(tc_report *report)
{
	const size_t words = tc_library_cautions(report->library) / 64 + 1;
	void *set = report->from->get(report->from->user, NULL, words * sizeof(uint64_t));
	if (set)
		memset(set, 0, words * sizeof(uint64_t));
	else
		report->failed = true;
	return set;
}

tc_report *tc_report_new(
    const tc_report_options *options, const tc_rulebook *rulebook, const tc_allocator *from, tc_buffer *out)
{
	if (!from)
		from = tc_allocator_system();
	tc_report *report = from->get(from->user, NULL, sizeof *report);
	if (!report)
		return NULL;
	*report = (tc_report){.options = *options, .rulebook = rulebook, .from = from, .out = out};
	report->library = tc_rulebook_library(rulebook);
	report->arena = tc_arena_new(from, 0);
	report->failed = !report->arena;
	tc_page_start(&report->page, out, options->width, options->color, options->ascii);
	if (options->format == TC_FORMAT_JSON)
		tc_json_begin(report);
	else if (options->format == TC_FORMAT_TEXT && options->quiet)
		report->cautions = get_kept_cautions(report);
	if (!report->failed)
		return report;
	tc_report_free(report);
	return NULL;
}

void tc_report_free(tc_report *report)
{
	if (!report)
		return;
	tc_json_free(report);
	tc_page_end(&report->page);
	tc_arena_free(report->arena);
	if (report->cautions)
		report->from->get(report->from->user, report->cautions, 0);
	report->from->get(report->from->user, report, 0);
}

static tc_status status_of(tc_report *report)
{
	report->failed =
	    report->failed || report->out->failed || report->page.work.failed || tc_arena_failed(report->arena);
	return report->failed ? TC_NO_MEMORY : TC_OK;
}

void tc_summary_add(tc_summary *to, const tc_summary *more)
{
	to->errors += more->errors;
	to->warnings += more->warnings;
	to->notes += more->notes;
	to->undecided += more->undecided;
	to->accepted += more->accepted;
}

/* A recipe of which nothing can be said counts among what could not be read. */
static void count_unread(tc_report *report, const char *file)
{
	report->unread += !report->last_unread || !file || strcmp(report->last_unread, file) != 0;
	report->last_unread = file;
}

tc_status tc_report_recipe(tc_report *report, const char *file, const tc_judgement *judgement)
{
	tc_arena_reset(report->arena);
	switch (report->options.format) {
	case TC_FORMAT_TEXT:
		tc_text_recipe(report, file, judgement);
		break;
	case TC_FORMAT_LINE:
		tc_line_recipe(report, judgement);
		break;
	case TC_FORMAT_JSON:
		tc_json_recipe(report, file, judgement);
		break;
	}
	report->recipes++;
	tc_summary_add(&report->summary, &judgement->summary);
	if (judgement->bounded)
		count_unread(report, file);
	return status_of(report);
}

/* Files with errors, each once: those of the path itself or, where none is given, of the places. */
static void count_files(tc_report *report, const char *file, const tc_diags *diags)
{
	if (file && tc_diags_errors(diags) > 0)
		count_unread(report, file);
	for (size_t i = 0; !file && i < tc_diags_count(diags); i++)
		if (tc_diags_at(diags, i)->severity == TC_ERROR)
			count_unread(report, tc_diags_at(diags, i)->place.file);
}

tc_status tc_report_unreadable(tc_report *report, const char *file, const tc_diags *diags)
{
	if (report->options.format == TC_FORMAT_JSON)
		tc_json_unreadable(report, file, diags);
	else
		tc_text_unreadable(report, diags);
	count_files(report, file, diags);
	return status_of(report);
}

tc_status tc_report_end(tc_report *report, bool complete)
{
	if (report->options.format == TC_FORMAT_JSON)
		tc_json_end(report, complete);
	else if (report->options.format == TC_FORMAT_TEXT)
		tc_text_end(report, complete);
	return status_of(report);
}

tc_summary tc_report_summary(const tc_report *report)
{
	return report->summary;
}
