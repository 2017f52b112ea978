/* Where the steps of a recipe stand in its text, and what to write there. Offsets are bytes of the source's text. */
#ifndef TC_REPORT_FIX_TEXT_H
#define TC_REPORT_FIX_TEXT_H

#include "stack/recipe.h"

/* One step as it stands in the text. */
typedef struct tc_fix_step {
	const tc_node *node;
	bool flow;    /* in a list such as [a, b] */
	size_t start; /* block: start of the line of its dash */
	size_t end;   /* block: behind the last line of it; flow: of the step itself */
	size_t dash;  /* block: blanks before the dash */
	bool open;    /* block: its last line has no line end */
} tc_fix_step;

/* Step `index` (from 0). False where it does not stand there plainly: it comes by an alias, or shares its line. */
bool tc_fix_step_at(const tc_recipe *recipe, uint32_t index, tc_fix_step *step);

/* Is the value written between its key and the end of the mapping (and no alias to elsewhere)? */
bool tc_fix_value_stands(const tc_node *map, const tc_node *key, const tc_node *value);

/* The line end that the text uses: "\n" or "\r\n". */
const char *tc_fix_line_end(tc_text text);
/* The byte behind the line in which `at` stands; *open: it has no line end. */
size_t tc_fix_line_after(tc_text text, size_t at, bool *open);
size_t tc_fix_line_start(tc_text text, size_t at);

/* A text as a plain YAML scalar where that is sure to be read as it is, else in double quotes. */
void tc_fix_put_scalar(const char *text, tc_buffer *out);

/* The next `key: value` of one-line YAML such as an advice has, split at the commas outside of brackets and quotes. False: no
 * more, or not of that form. */
typedef struct tc_fix_pair {
	tc_text key, value;
} tc_fix_pair;
bool tc_fix_pair_next(const char **yaml, tc_fix_pair *pair);

#endif
