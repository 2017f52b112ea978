/* From the bytes of a file to the recipes in it: what the program and the library do alike. */
#ifndef TC_API_RECIPES_H
#define TC_API_RECIPES_H

#include "judge/judge.h"

typedef struct tc_recipe_file {
	const char *name; /* in messages */
	const char *bytes;
	size_t length;
	bool named;              /* asked for by name: holding no recipe is an error */
	const tc_reader *reader; /* of what lies beside it; as for tc_recipe_read */
	/* Given each recipe without an error, in the order of the file; TC_OK or TC_NO_MEMORY, which ends the reading. */
	tc_status (*take)(void *user, const tc_recipe *recipe);
	void *user;
} tc_recipe_file;

/* Reads all recipes of a file into the arena, which the bytes must outlive. `recipes`: documents that are recipes,
 * good or bad. TC_NO_MEMORY, or TC_OK: errors are in `diags`. */
tc_status tc_recipes_read(tc_arena *arena, const tc_rulebook *rulebook, tc_worker *worker, const tc_recipe_file *file,
    tc_diags *diags, uint32_t *recipes);

/* Does the judgement hold anything of at least that weight? What is accepted does not count; an acceptance that accepts
 * nothing counts as a warning. */
bool tc_judgement_weighs(const tc_judgement *judgement, tc_verdict at_least);

#endif
