/* A report's life, whatever its form. */
#include <string.h>

#include "report/private.h"

/* --- the forms --------------------------------------------------------------------------------------------------- */

typedef struct form {
	void (*begin)(tc_report *report); /* NULL: nothing stands before */
	void (*recipe)(tc_report *report, const char *file, const tc_judgement *judgement);
	void (*unreadable)(tc_report *report, const char *file, const tc_diags *diags);
	void (*end)(tc_report *report, bool complete); /* NULL: nothing stands behind */
} form;

static void line_recipe(tc_report *report, const char *file, const tc_judgement *judgement)
{
	(void)file;
	tc_line_recipe(report, judgement);
}

static void text_unreadable(tc_report *report, const char *file, const tc_diags *diags)
{
	(void)file;
	tc_text_unreadable(report, diags);
}

static const form *form_of(const tc_report *report)
{
	static const form forms[TC_FORMAT_COUNT] = {
	    [TC_FORMAT_TEXT] = {NULL, tc_text_recipe, text_unreadable, tc_text_end},
	    [TC_FORMAT_LINE] = {NULL, line_recipe, text_unreadable, NULL},
	    [TC_FORMAT_JSON] = {tc_json_begin, tc_json_recipe, tc_json_unreadable, tc_json_end},
	    [TC_FORMAT_JSON_LINES] = {tc_lines_json_begin, tc_lines_json_recipe, tc_lines_json_unreadable,
	        tc_lines_json_end},
	    [TC_FORMAT_SARIF] = {tc_sarif_begin, tc_sarif_recipe, tc_sarif_unreadable, tc_sarif_end},
	    [TC_FORMAT_JUNIT] = {tc_junit_begin, tc_junit_recipe, tc_junit_unreadable, tc_junit_end},
	};
	return &forms[report->options.format];
}

/* --- a report's life --------------------------------------------------------------------------------------------- */

tc_report *tc_report_new(
    const tc_report_options *options, const tc_rulebook *rulebook, const tc_allocator *from, tc_buffer *out)
{
	if (!from)
		from = tc_allocator_system();
	tc_report *report = from->get(from->user, NULL, sizeof *report);
	if (!report)
		return NULL;
	*report = (tc_report){.options = *options, .rulebook = rulebook, .from = from, .to = out};
	report->library = tc_rulebook_library(rulebook);
	if (tc_report_start(report)) {
		if (form_of(report)->begin)
			form_of(report)->begin(report);
		if (tc_report_settle(report) == TC_OK)
			return report;
	}
	tc_report_free(report);
	return NULL;
}

void tc_scratch_end(tc_report *report, tc_buffer *scratch)
{
	report->failed = report->failed || scratch->failed;
	tc_buffer_free(scratch);
}

void tc_summary_add(tc_summary *to, const tc_summary *more)
{
	to->errors += more->errors;
	to->warnings += more->warnings;
	to->notes += more->notes;
	to->undecided += more->undecided;
	to->accepted += more->accepted;
	to->known += more->known;
}

/* A recipe of which nothing can be said counts among what could not be read. */
static void count_unread(tc_report *report, const char *file)
{
	report->now->unread += !report->last_unread || !file || strcmp(report->last_unread, file) != 0;
	report->last_unread = file;
}

void tc_report_at_least(tc_report *report, tc_verdict at_least)
{
	report->options.at_least = at_least;
}

tc_status tc_report_recipe(tc_report *report, const char *file, const tc_judgement *judgement)
{
	tc_arena_reset(report->arena);
	form_of(report)->recipe(report, file, judgement);
	report->now->recipes++;
	tc_summary_add(&report->now->summary, &judgement->summary);
	if (judgement->bounded)
		count_unread(report, file);
	return tc_report_settle(report);
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
	form_of(report)->unreadable(report, file, diags);
	count_files(report, file, diags);
	return tc_report_settle(report);
}

bool tc_report_tells_absent(const tc_report *report)
{
	return report->options.format == TC_FORMAT_SARIF;
}

tc_status tc_report_absent(tc_report *report, const tc_vanished *absent)
{
	if (tc_report_tells_absent(report))
		tc_sarif_absence(report, absent);
	return tc_report_settle(report);
}

tc_status tc_report_end(tc_report *report, bool complete)
{
	if (form_of(report)->end)
		form_of(report)->end(report, complete);
	return tc_report_settle(report);
}

tc_summary tc_report_summary(const tc_report *report)
{
	return report->sum->summary;
}
