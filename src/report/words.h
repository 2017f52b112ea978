/* Places, parts, origins and the bibliography in words. All append to a buffer. */
#ifndef TC_REPORT_WORDS_H
#define TC_REPORT_WORDS_H

#include "judge/judge.h"

/* The bibliography's line for a basis: author, title, year, where in it, and whether it was looked up. NULL: nothing. */
void tc_words_basis(const tc_library *library, const tc_basis *basis, tc_buffer *out);
/* The same in a word or two: its id and where in it, `common practice`. */
void tc_words_basis_short(const tc_library *library, const tc_basis *basis, tc_buffer *out);

/* `line 31`, or `shelf.yaml line 31` where it stands in another file than `own`. */
void tc_words_place(tc_place place, const char *own, tc_buffer *out);

/* Where a value comes from: `said in line 31`, `assumed: common practice` … */
void tc_words_origin(const tc_library *library, const tc_origin *origin, const char *own, tc_buffer *out);

/* `hull, wheelhouse`; `whole recipe` for none. */
void tc_words_parts(const tc_model *model, uint64_t parts, tc_buffer *out);

/* `1 error`, `3 errors`. */
void tc_words_count(uint32_t count, const char *one, const char *many, tc_buffer *out);

/* What came out, in a line. Says `sound` only if nothing was found, nothing is open and nothing was left unread. */
void tc_words_summary(const tc_summary *summary, tc_verdict at_least, uint32_t unread, bool complete, tc_buffer *out);

/* Rising numbers, runs of them drawn together: `2, 5–9`. */
void tc_words_numbers(const uint32_t *numbers, uint32_t count, tc_buffer *out);

/* The text of a scratch buffer, "" where it is empty or out of memory. */
const char *tc_words_text(const tc_buffer *buffer);

#endif
