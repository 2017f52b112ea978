/* From the bytes of a file to the recipes in it. */
#include "api/recipes.h"

static tc_status read_documents(tc_arena *arena, const tc_rulebook *rulebook, tc_worker *worker,
    const tc_recipe_file *file, const tc_source *source, tc_diags *diags, uint32_t *recipes)
{
	const tc_rule_names names = tc_rulebook_names(rulebook);
	const tc_document *documents = NULL;
	size_t count = 0;
	tc_status status = tc_yaml_read(arena, source, diags, &documents, &count);
	if (status != TC_OK)
		return status;
	for (size_t i = 0; i < count && status != TC_NO_MEMORY; i++) {
		const tc_recipe *recipe = NULL;
		if (!tc_is_recipe(&documents[i]))
			continue;
		++*recipes;
		status = tc_recipe_read(arena, tc_rulebook_library(rulebook), tc_worker_finder(worker), &names,
		    file->reader, source, documents[i].root, false, diags, &recipe);
		if (status == TC_OK)
			status = file->take(file->user, recipe);
	}
	if (status != TC_NO_MEMORY && *recipes == 0 && file->named)
		tc_diag_add(diags, TC_ERROR, "no-recipe", (tc_place){.file = file->name},
		    "no recipe in this file: none of its documents has the key `recipe`");
	return status;
}

tc_status tc_recipes_read(tc_arena *arena, const tc_rulebook *rulebook, tc_worker *worker, const tc_recipe_file *file,
    tc_diags *diags, uint32_t *recipes)
{
	tc_source *source = NULL;
	*recipes = 0;
	tc_status status = tc_source_new(arena, file->name, file->bytes, file->length, diags, &source);
	if (status == TC_OK)
		status = read_documents(arena, rulebook, worker, file, source, diags, recipes);
	return status == TC_NO_MEMORY || tc_arena_failed(arena) ? TC_NO_MEMORY : TC_OK;
}

bool tc_judgement_weighs(const tc_judgement *judgement, tc_verdict at_least)
{
	for (uint32_t i = 0; i < judgement->findings; i++)
		if (!judgement->finding[i].accept && judgement->finding[i].weight >= at_least)
			return true;
	return judgement->unused > 0 && at_least <= TC_V_WARNING;
}
