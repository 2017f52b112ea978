/* Slices of text, growing text, and the few things that must not depend on a locale: numbers in and out, UTF-8, case.
 * Text is bytes in UTF-8; a slice need not end in NUL. */
#ifndef TC_BASE_TEXT_H
#define TC_BASE_TEXT_H

#include "base/arena.h"

typedef struct tc_text {
	const char *at;
	size_t length;
} tc_text;

#define TC_TEXT(literal) ((tc_text){(literal), sizeof(literal) - 1})
tc_text tc_text_of(const char *c_string); /* NULL gives the empty text */

bool tc_text_same(tc_text a, tc_text b);
bool tc_text_is(tc_text a, const char *c_string);
bool tc_text_starts(tc_text a, const char *prefix);
int tc_text_order(tc_text a, tc_text b); /* by bytes, which for UTF-8 is by code points */
/* The bytes of the blank at the start of the text: ASCII blank, tab or line end, no-break (U+00A0, U+202F), figure
 * (U+2007) or thin blank (U+2009); 0 if there is none. */
size_t tc_blank_length(const char *at, size_t length);
tc_text tc_text_trim(tc_text a); /* without such blanks at both ends */
uint64_t tc_text_hash(tc_text a);        /* the same on every machine and in every run */

/* The offset of the first byte that is not part of well-formed UTF-8 (RFC 3629), or `length` if all is. */
size_t tc_utf8_bad(const char *at, size_t length);
/* Decodes one code point of well-formed UTF-8 at `at` (of `length` > 0 bytes), stores it, returns its bytes. */
size_t tc_utf8_next(const char *at, size_t length, uint32_t *point);
/* Code points in well-formed UTF-8. */
size_t tc_utf8_count(const char *at, size_t length);
/* Columns that a terminal gives this text: wide and combining characters counted as such. */
size_t tc_utf8_columns(tc_text a);

/* Reads a decimal number: digits with at most one point, an optional exponent, an optional leading '-' if `sign`.
 * Returns the bytes read, 0 if there is no number. Never reads a locale. Too large a number gives infinity. */
size_t tc_number_read(const char *at, size_t length, bool sign, double *number);

/* The distance between two words, counting a swap of neighbours as one change, at most `bound` + 1. ASCII case
 * ignored. */
unsigned tc_text_distance(tc_text a, tc_text b, unsigned bound);

/* Keeps the nearest candidate to a misspelt word. Start with TC_NEAREST(word); offer each candidate; `found.length`
 * is 0 if none was near enough to be worth naming (about a third of the letters wrong is not near). */
typedef struct tc_nearest {
	tc_text word, found;
	unsigned distance;
} tc_nearest;
#define TC_NEAREST(w) ((tc_nearest){.word = (w), .distance = 1000})
void tc_nearest_offer(tc_nearest *nearest, tc_text candidate);

/* Growing text on an allocator. Failure is sticky: appending to a failed buffer does nothing. */
typedef struct tc_buffer {
	char *at; /* NUL-terminated when length > 0 or room > 0 */
	size_t length, room;
	bool failed;
	const tc_allocator *from;
} tc_buffer;
void tc_buffer_start(tc_buffer *buffer, const tc_allocator *from); /* NULL: the C library's */
void tc_buffer_free(tc_buffer *buffer);
void tc_buffer_add(tc_buffer *buffer, tc_text text);
void tc_buffer_puts(tc_buffer *buffer, const char *c_string);
void tc_buffer_char(tc_buffer *buffer, char c);
void tc_buffer_fill(tc_buffer *buffer, char c, size_t times);
void tc_buffer_print(tc_buffer *buffer, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* A number with at least `least` and at most `most` significant digits, trailing zeros beyond `least` dropped, half to
 * even, plain notation where it has at most 7 digits before the point, never a locale's point. */
void tc_buffer_number(tc_buffer *buffer, double number, int least, int most);

#endif
