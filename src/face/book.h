/* The rulebook that the options ask for. */
#ifndef TC_FACE_BOOK_H
#define TC_FACE_BOOK_H

#include "face/options.h"
#include "rule/rulebook.h"

typedef struct tc_book {
	tc_arena *arena;          /* holds the files */
	tc_rulebook *rulebook;
	tc_rulebook_file *files;  /* only if they were asked for */
	size_t count;
	tc_diags *diags;          /* warnings and notes of its files */
} tc_book;

/* Loads it; messages go to standard error. `files`: from its files, with shown_by, even if the image would do. False: there
 * is none, and that was said. */
bool tc_book_open(const tc_options *options, bool files, tc_book *book);
void tc_book_close(tc_book *book);

#endif
