/* What the files of this floor share. */
#ifndef TC_REPORT_PRIVATE_H
#define TC_REPORT_PRIVATE_H

#include "report/marks.h"
#include "report/page.h"
#include "report/report.h"
#include "report/words.h"

/* Bytes of a piece that may fall away when it is taken in: a lead where nothing stands before it, a caution that was told. */
typedef struct tc_piece_mark {
	size_t from, to;
	uint32_t caution; /* its number in the library; TC_NONE: a lead */
} tc_piece_mark;

struct tc_piece {
	const tc_allocator *from;
	tc_buffer text;
	tc_buffer unreadable, remarks; /* JSON: objects of the lists that stand at the end, each with `,` before it; SARIF:
	                                * notifications and artifacts */
	tc_buffer notes;     /* SARIF: cautions of recipes; cut where there are too many */
	tc_piece_mark *note; /* each of them */
	uint32_t note_count, note_room;
	uint64_t *noted;     /* of the sum: set of those that stand in `notes` */
	size_t noted_bytes;  /* of the sum: of all that were taken in */
	bool cut;            /* of the sum: no more are taken in */
	tc_piece_mark *mark;
	uint32_t marks, room;
	tc_summary summary;       /* of all findings */
	tc_summary shown;         /* text: findings that differ in their part alone counted once */
	uint32_t recipes, unread; /* unread: files with errors, each counted once */
	bool weighs;              /* SARIF: something of the weight that was asked for was found */
	bool led;                 /* something stands here that a lead parts from what comes next */
	uint64_t *cautions;       /* set of those that were told, by their number in the library */
	size_t words;             /* of the set */
};

struct tc_json;

struct tc_report {
	tc_report_options options;
	const tc_rulebook *rulebook;
	const tc_library *library;
	const tc_allocator *from;
	tc_piece *now;   /* that is being written */
	tc_piece *sum;   /* of all that was taken in: counts, cautions, what stands at the end */
	tc_buffer *out;  /* the text of `now` */
	tc_buffer *to;   /* where pieces are taken in; NULL: this is a share */
	tc_arena *arena; /* of the recipe at hand */
	tc_page page;    /* text */
	tc_store store;  /* `keep` NULL: there is none */
	bool stored[TC_STORE_LISTS]; /* it holds something of that list */
	bool refused;                /* it takes no more */
	uint64_t *seen;              /* SARIF: hashes of the artifacts that were taken in, where a file may come again */
	size_t seen_count, seen_room;
	const char *last_unread;
	const char *last_file; /* SARIF: told last as an artifact */
	uint64_t *told; /* lines: cautions that stand in an earlier piece of this share */
	bool failed;    /* out of memory */
};

/* Makes what a report and a share have in common; false: out of memory, and tc_report_free is due. */
bool tc_report_start(tc_report *report);
/* Takes in what was just written, unless this is a share. */
tc_status tc_report_settle(tc_report *report);

/* Adds what parts a thing from the one before it; it falls away where none is. tc_led: such a thing has been added. */
void tc_lead(tc_report *report, const char *text);
void tc_led(tc_report *report);
/* Of what was added since `from` says that it is this caution, which is told once in a run. */
void tc_told(tc_report *report, const tc_caution *caution, size_t from);
/* Is it needless to add this caution, since it stands before? */
bool tc_is_told(const tc_report *report, const tc_caution *caution);
/* Adds to the set of this piece's cautions. */
void tc_keep_caution(tc_report *report, const tc_caution *caution);

/* Frees a buffer in which words were put together; that it failed is kept. */
void tc_scratch_end(tc_report *report, tc_buffer *scratch);
/* SARIF: what was added to the list of cautions since `from` is this one; a caution that came up in the run and does not stand in
 * the list, since that was cut. */
void tc_noted(tc_report *report, const tc_caution *caution, size_t from);
bool tc_is_unnoted(const tc_report *report, uint32_t caution);

/* The lists for the end of a document. */
typedef enum tc_later { TC_LATER_UNREADABLE, TC_LATER_REMARKS, TC_LATER_NOTES } tc_later;
/* Takes in what a piece has of a list, or some of it. */
void tc_later_take(tc_report *report, tc_later list, tc_text text);
/* Is this artifact new to the report? */
bool tc_later_is_new(tc_report *report, tc_text artifact);
bool tc_later_any(const tc_report *report, tc_later list);
/* Writes a list behind what was written, a piece after the other; `first`: without its first byte, the comma. */
void tc_later_write(tc_report *report, tc_later list, bool first);

/* Adds the counts of one to another. */
void tc_summary_add(tc_summary *to, const tc_summary *more);

/* The forms; report.c has the table of them. Each adds to report->out and sets report->failed. */
void tc_text_recipe(tc_report *report, const char *file, const tc_judgement *judgement);
void tc_text_unreadable(tc_report *report, const tc_diags *diags);
void tc_text_end(tc_report *report, bool complete);

void tc_line_recipe(tc_report *report, const tc_judgement *judgement);

void tc_json_begin(tc_report *report);
void tc_json_recipe(tc_report *report, const char *file, const tc_judgement *judgement);
void tc_json_unreadable(tc_report *report, const char *file, const tc_diags *diags);
void tc_json_end(tc_report *report, bool complete);
struct json_t *tc_json_total(struct tc_json *json, const tc_report *report); /* counts of all that was taken in */

void tc_lines_json_begin(tc_report *report);
void tc_lines_json_recipe(tc_report *report, const char *file, const tc_judgement *judgement);
void tc_lines_json_unreadable(tc_report *report, const char *file, const tc_diags *diags);
void tc_lines_json_end(tc_report *report, bool complete);

void tc_sarif_begin(tc_report *report);
void tc_sarif_recipe(tc_report *report, const char *file, const tc_judgement *judgement);
void tc_sarif_unreadable(tc_report *report, const char *file, const tc_diags *diags);
void tc_sarif_absence(tc_report *report, const tc_vanished *absent);
void tc_sarif_end(tc_report *report, bool complete);

void tc_junit_begin(tc_report *report);
void tc_junit_recipe(tc_report *report, const char *file, const tc_judgement *judgement);
void tc_junit_unreadable(tc_report *report, const char *file, const tc_diags *diags);
void tc_junit_end(tc_report *report, bool complete);

/* Parts of the text. */
void tc_section_add(tc_page *page, const tc_judgement *judgement, const tc_groups *groups, uint32_t part);
void tc_findings_add(tc_report *report, const tc_judgement *judgement, const tc_groups *groups);
void tc_open_add(tc_report *report, const tc_judgement *judgement, const tc_groups *groups);
void tc_tail_add(tc_report *report, const tc_judgement *judgement, const tc_groups *groups);

#endif
