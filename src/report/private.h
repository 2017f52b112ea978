/* What the files of this floor share. */
#ifndef TC_REPORT_PRIVATE_H
#define TC_REPORT_PRIVATE_H

#include "report/marks.h"
#include "report/page.h"
#include "report/report.h"
#include "report/words.h"

struct tc_report {
	tc_report_options options;
	const tc_rulebook *rulebook;
	const tc_library *library;
	const tc_allocator *from;
	tc_buffer *out;
	tc_arena *arena; /* of the recipe at hand */
	tc_page page;    /* text */
	tc_summary summary;  /* of all findings */
	tc_summary shown;    /* text: findings that differ in their part alone counted once */
	uint32_t recipes, unread; /* unread: files with errors, each counted once */
	const char *last_unread;
	uint64_t *cautions;        /* quiet text: set of the cautions so far */
	struct json_t *unreadable; /* JSON: what could not be read, an array until the end */
	struct json_t *remarks;    /* JSON: warnings and notes of files that could be read */
	bool failed;               /* out of memory */
};

/* Adds the counts of one to another. */
void tc_summary_add(tc_summary *to, const tc_summary *more);

/* The three forms. Each adds to report->out and sets report->failed. */
void tc_text_recipe(tc_report *report, const char *file, const tc_judgement *judgement);
void tc_text_unreadable(tc_report *report, const tc_diags *diags);
void tc_text_end(tc_report *report, bool complete);

void tc_line_recipe(tc_report *report, const tc_judgement *judgement);

void tc_json_begin(tc_report *report);
void tc_json_recipe(tc_report *report, const char *file, const tc_judgement *judgement);
void tc_json_unreadable(tc_report *report, const char *file, const tc_diags *diags);
void tc_json_end(tc_report *report, bool complete);
void tc_json_free(tc_report *report);

/* Parts of the text. */
void tc_section_add(tc_page *page, const tc_judgement *judgement, const tc_groups *groups, uint32_t part);
void tc_findings_add(tc_report *report, const tc_judgement *judgement, const tc_groups *groups);
void tc_open_add(tc_report *report, const tc_judgement *judgement, const tc_groups *groups);
void tc_tail_add(tc_report *report, const tc_judgement *judgement, const tc_groups *groups);

#endif
