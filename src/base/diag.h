/* Diagnostics are data: they go to a collector that the caller passes; faces sort and print them. One list
 * (diag_ids.def) gives each its identifier and a line of help. */
#ifndef TC_BASE_DIAG_H
#define TC_BASE_DIAG_H

#include "base/text.h"

/* error: the input cannot be used. warning: it can, but probably does not mean what was meant. note: worth knowing. */
typedef enum tc_severity { TC_NOTE, TC_WARNING, TC_ERROR } tc_severity;

/* A place in a file: line and column from 1, the column in code points. line 0: the file as a whole. file NULL:
 * none. */
typedef struct tc_place {
	const char *file;
	uint32_t line, column;
} tc_place;

typedef struct tc_diag {
	tc_severity severity;
	const char *id; /* short name, shown in brackets: `unknown-name`, `dimensions` … */
	tc_place place;
	const char *message; /* what is wrong, then what would be right; no capital, no full stop */
	tc_place related;    /* file NULL: none */
	const char *related_message;
} tc_diag;

typedef struct tc_diags tc_diags;

/* A collector whose messages live in `arena`; NULL when out of memory. */
tc_diags *tc_diags_new(tc_arena *arena);

/* Adds a diagnostic. At most TC_MESSAGES_MAX are kept for one file (by place.file); one more says that the rest was
 * dropped. Control and direction characters in the text come out as <U+XXXX>. Out of memory is remembered by the
 * arena. */
void tc_diag_add(tc_diags *diags, tc_severity severity, const char *id, tc_place place, const char *format, ...)
    __attribute__((format(printf, 5, 6)));
/* Adds a related place to the diagnostic that was added last. */
void tc_diag_relate(tc_diags *diags, tc_place place, const char *format, ...) __attribute__((format(printf, 3, 4)));

size_t tc_diags_count(const tc_diags *diags);
size_t tc_diags_errors(const tc_diags *diags); /* those that were dropped included */
const tc_diag *tc_diags_at(const tc_diags *diags, size_t index);

/* Sorts by file, line, column, order of arrival. */
void tc_diags_sort(tc_diags *diags);

/* `file:line:column: severity: message [id]`, one line each, related places behind it as notes. */
void tc_diag_print(const tc_diag *diag, tc_buffer *out);

/* Appends text with control, direction and line-separating characters made visible as <U+XXXX>. */
void tc_text_visible(tc_buffer *out, tc_text text);

#endif
