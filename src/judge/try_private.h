/* What the files of a trial share: the small recipe that it is made of. */
#ifndef TC_JUDGE_TRY_PRIVATE_H
#define TC_JUDGE_TRY_PRIVATE_H

#include "judge/private.h"
#include "judge/try.h"

#define TC_TRY_LINES_MAX 64

/* A trial while it is set up. */
typedef struct tc_trying {
	tc_worker *worker;
	tc_arena *arena;
	const tc_try_ask *ask;
	const tc_reader *files;
	tc_diags *diags;
	/* the shelf: where its labels stand; path NULL: there is none */
	const char *shelf_path, *shelf_bytes;
	size_t shelf_length;
	/* the blend that was asked for by its parts; count 0: none */
	uint32_t parts;
	uint32_t part[TC_BLEND_MAX]; /* entries of solvents */
	double share[TC_BLEND_MAX];
	bool typical; /* some part is a blend, of which the usual composition was taken */
	const char *blend_label;
	/* what the two are: where they stand in the library */
	const tc_entry *solid, *liquid;
	bool no_memory; /* where the arena itself has not failed */
	const char *solid_name, *liquid_name; /* as the recipe names them */
} tc_trying;

/* The recipe that stands for a question. */
typedef struct tc_try_form {
	bool stressed;
	bool plain_pass; /* without what was said of pass and wet film: the model's own pass counts */
} tc_try_form;

/* An error about what was asked: `what` is SOLID, LIQUID or an option. */
void tc_try_refuse(tc_trying *t, const char *id, const char *what, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Finds the shelf's labels in a file, which may be a recipe. TC_BAD, TC_NO_MEMORY. */
tc_status tc_try_shelf(tc_trying *t);
/* Reads `a:40,b:60`. */
tc_status tc_try_parts(tc_trying *t);
bool tc_try_is_parts(const char *liquid);

/* An entry by name, in the first of the groups of sections that has it. NULL with a diagnostic. */
const tc_entry *tc_try_find(tc_trying *t, const char *what, tc_text name, const uint32_t *groups, uint32_t count);

/* The kind above all materials of a section: what a thing is of which nothing else is known. NULL: there is none. */
const tc_entry *tc_try_root(const tc_trying *t, tc_section section);

/* Settles what solid and liquid are. */
tc_status tc_try_settle(tc_trying *t);
/* Writes and reads the recipe. */
tc_status tc_try_recipe(tc_trying *t, tc_try_form form, const tc_recipe **recipe);

/* A recipe with nothing but the shelf, for its labels; says what is wrong with them. */
tc_status tc_try_labels(tc_trying *t, const tc_recipe **recipe);

bool tc_try_is_paint(const tc_trying *t);
bool tc_try_is_part(const tc_trying *t); /* the solid is what a part is made of, not a film */

#endif
