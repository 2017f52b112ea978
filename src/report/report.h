/* From judgements to bytes: text for a person, lines for an editor, JSON for a machine. Decides nothing. */
#ifndef TC_REPORT_REPORT_H
#define TC_REPORT_REPORT_H

#include "report/compared.h"

typedef enum tc_format {
	TC_FORMAT_TEXT,
	TC_FORMAT_LINE,
	TC_FORMAT_JSON,       /* one document */
	TC_FORMAT_JSON_LINES, /* an object on each line */
	TC_FORMAT_SARIF,
	TC_FORMAT_JUNIT,
	TC_FORMAT_COUNT
} tc_format;

typedef struct tc_report_options {
	tc_format format;
	bool color;            /* only for TC_FORMAT_TEXT; never the only carrier of a meaning */
	bool ascii;            /* only for TC_FORMAT_TEXT: the terminal shows nothing but ASCII */
	unsigned width;        /* columns of the terminal, 0: 80 */
	tc_verdict at_least;   /* the threshold, for the last line, exit codes in a log and what fails */
	bool quiet;            /* text: only recipes with something to say, no cross-sections */
	bool repeats;          /* SARIF: the same file may come again */
} tc_report_options;

typedef struct tc_report tc_report;

/* A report that collects into `out`. The caller may take and empty `out` between recipes (streaming). NULL: out of memory. */
tc_report *tc_report_new(const tc_report_options *options, const tc_rulebook *rulebook, const tc_allocator *from, tc_buffer *out);
void tc_report_free(tc_report *report);

/* Where a report keeps what is wanted only at the end of its document, so that its memory does not grow with a collection. Three
 * lists, each read from its beginning when all is there. Without a store, and where it refuses, they are kept in memory. */
typedef struct tc_store {
	void *user;
	bool (*keep)(void *user, unsigned list, tc_text text);  /* behind what is there; false: no, and nothing of it is kept */
	bool (*give)(void *user, unsigned list, tc_buffer *to); /* adds the next piece, at the end nothing; false: it cannot */
	void (*full)(void *user); /* while the document is closed: `out` holds a lot, and may be taken and emptied */
} tc_store;
#define TC_STORE_LISTS 3u
void tc_report_store(tc_report *report, const tc_store *store); /* before anything is added */

/* From now on another threshold: that of the recipe that comes next. */
void tc_report_at_least(tc_report *report, tc_verdict at_least);
/* Adds a judged recipe of a file, in the order in which they are to appear. `file` must live as long as the report. */
tc_status tc_report_recipe(tc_report *report, const char *file, const tc_judgement *judgement);
/* Adds what could not be read: the diagnostics of one file. (Warnings and notes of a file that could be read come so too:
 * only errors make a file count as unread.) `file` may be NULL: the place of each diagnostic says it. */
tc_status tc_report_unreadable(tc_report *report, const char *file, const tc_diags *diags);
/* Adds a finding of an earlier run that no longer occurs, after all recipes. Only SARIF has a place for it: of the others, false. */
bool tc_report_tells_absent(const tc_report *report);
tc_status tc_report_absent(tc_report *report, const tc_vanished *absent);
/* Closes the document. `complete`: false after an interruption. */
tc_status tc_report_end(tc_report *report, bool complete);

/* --- on several threads ---
 * A share writes what it is given apart from the report, on a thread of its own. What it wrote of one file is handed over as
 * a piece, and the report takes the pieces in in the order of their files: then the bytes are those that the report would
 * have written itself. Within a share too the files must come in that order. */
typedef struct tc_piece tc_piece;
tc_report *tc_report_share(const tc_report *report); /* NULL: out of memory. Free it with tc_report_free. */
tc_piece *tc_piece_new(const tc_report *report);     /* an empty one; NULL: out of memory */
void tc_piece_free(tc_piece *piece);
size_t tc_piece_size(const tc_piece *piece);         /* bytes that it holds */
/* What the share wrote since the last time, instead of what the piece held before. */
tc_status tc_report_hand_over(tc_report *share, tc_piece *piece);
tc_status tc_report_take_in(tc_report *report, const tc_piece *piece);

/* Counts so far. */
tc_summary tc_report_summary(const tc_report *report);

/* The cross-section of one part as text, top coat first (also used by `look` and tests). */
void tc_section_draw(const tc_judgement *judgement, uint32_t part, const tc_report_options *options, tc_buffer *out);

#endif
