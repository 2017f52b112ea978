/* A page of text for a person: wraps to a width, makes control and direction characters visible, falls back to ASCII,
 * colours. All text of this floor and of the face that a person reads goes through here. Colour never carries a meaning
 * that the words beside it do not carry. */
#ifndef TC_REPORT_PAGE_H
#define TC_REPORT_PAGE_H

#include "base/text.h"

typedef enum tc_ink {
	TC_INK_PLAIN,
	TC_INK_ERROR,
	TC_INK_WARNING,
	TC_INK_NOTE,
	TC_INK_OPEN,
	TC_INK_STRONG,
	TC_INK_FAINT
} tc_ink;

typedef struct tc_page {
	tc_buffer *out;
	tc_buffer work; /* of this module */
	unsigned width; /* columns */
	bool color, ascii;
} tc_page;

/* A page that writes to `out`; width 0: 80. Free it with tc_page_end (which leaves `out` alone). */
void tc_page_start(tc_page *page, tc_buffer *out, unsigned width, bool color, bool ascii);
void tc_page_end(tc_page *page);

/* Adds text to the line as it is; returns its columns. */
size_t tc_page_put(tc_page *page, tc_ink ink, const char *text);
/* The same, padded with blanks to `columns` (on the left if `right`); longer text is cut with an ellipsis. */
void tc_page_cell(tc_page *page, tc_ink ink, const char *text, size_t columns, bool right);
void tc_page_blanks(tc_page *page, size_t times);
void tc_page_break(tc_page *page); /* ends the line */

/* Columns that the text takes on this page. */
size_t tc_page_columns(tc_page *page, const char *text);

/* Adds text that goes on at column `at` (from 0) and wraps; further lines start at column `hang`. Ends the line. A number
 * is not parted from the unit behind it; a line end in the text is a blank. */
void tc_page_wrap(tc_page *page, tc_ink ink, const char *text, size_t at, size_t hang);

/* `lead` at column `indent`, and text that wraps beside it from column `hang` on. */
void tc_page_item(tc_page *page, size_t indent, tc_ink ink, const char *lead, size_t hang, const char *text);

/* A heading: strong, with a blank line above. */
void tc_page_heading(tc_page *page, const char *text);

#endif
