/* What the files of a fix share. */
#ifndef TC_REPORT_FIX_PRIVATE_H
#define TC_REPORT_FIX_PRIVATE_H

#include "report/fix.h"
#include "report/fix_text.h"

typedef struct tc_fixer {
	tc_arena *arena;
	const tc_judgement *judgement;
	const tc_recipe *recipe;
	const tc_finding *finding;
	const tc_advice *advice;
	uint32_t choice;
	tc_text text;
	tc_buffer work; /* text that is being put together */
	tc_fix *fix;
	bool full; /* more edits than a fix can hold */
} tc_fixer;

/* Bytes from..to become the text, which must last. */
void tc_fixer_edit(tc_fixer *f, size_t from, size_t to, const char *text);
/* What was put together, kept; `work` is empty again. NULL: out of memory. */
const char *tc_fixer_take(tc_fixer *f);

/* A value written in one go becomes another; false: it is not plainly there. */
bool tc_fixer_replace(tc_fixer *f, const tc_node *map, const tc_node *key, const tc_node *value, tc_text text);
/* Puts steps of one-line YAML in, in their order, before step `index` or after it. */
bool tc_fixer_put_steps(tc_fixer *f, uint32_t index, bool after, const char *const *yaml, uint32_t count);
/* The index of the step before or behind which the advice puts something; TC_NONE: there is none. */
uint32_t tc_fixer_target(const tc_fixer *f);
/* A time as a recipe says it, no longer than it is: `90 min`. */
void tc_fixer_time(double seconds, tc_buffer *out);

/* Edits of stuff.c. */
bool tc_fixer_instead(tc_fixer *f);
bool tc_fixer_lay(tc_fixer *f);
bool tc_fixer_move(tc_fixer *f);

#endif
