/* The recipes in docs/recipe.md are recipes: each is read against the shipped library, and its model is built. Run
 * from the root of the repository. */
#include <dirent.h>
#include <stdlib.h>

#include "kit.h"

#define FILES_MAX 64

static char *slurp(const char *path, size_t *length)
{
	FILE *file = fopen(path, "rb");
	assert_non_null(file);
	char *bytes = malloc(1 << 22);
	assert_non_null(bytes);
	*length = fread(bytes, 1, (1 << 22) - 1, file);
	bytes[*length] = 0;
	fclose(file);
	return bytes;
}

/* The library in rules/library/. */
static const tc_library *shipped(tc_arena *book, tc_arena *scratch)
{
	static char names[FILES_MAX][512];
	tc_rulebook_file files[FILES_MAX];
	char *bytes[FILES_MAX];
	size_t count = 0;
	DIR *folder = opendir("rules/library");
	assert_non_null(folder);
	for (struct dirent *entry; (entry = readdir(folder)) != NULL;) {
		const size_t n = strlen(entry->d_name);
		if (n < 6 || strcmp(entry->d_name + n - 5, ".yaml") != 0)
			continue;
		assert_true(count < FILES_MAX);
		snprintf(names[count], sizeof names[count], "rules/library/%s", entry->d_name);
		size_t length;
		bytes[count] = slurp(names[count], &length);
		files[count] = (tc_rulebook_file){.name = names[count], .bytes = bytes[count], .length = length};
		count++;
	}
	closedir(folder);
	tc_diags *diags = tc_diags_new(scratch);
	const tc_collection *collection;
	const tc_library *library = NULL;
	assert_int_equal(tc_collect(scratch, files, count, diags, &collection), TC_OK);
	const tc_status status = tc_library_build(book, collection, diags, &library);
	kit_show(diags);
	assert_int_equal(status, TC_OK);
	for (size_t i = 0; i < count; i++)
		free(bytes[i]);
	return library;
}

static uint32_t any_rule(const void *user, tc_text id, tc_text *nearest)
{
	(void)user;
	(void)id;
	(void)nearest;
	return 0;
}

/* Reads one block; true if it is a recipe. Others are parts of one, and must be well-formed. */
static bool read_block(tc_arena *arena, const tc_library *library, tc_finder *finder, const char *text, size_t length)
{
	tc_diags *diags = tc_diags_new(arena);
	tc_source *source;
	const tc_document *documents;
	size_t count;
	assert_int_equal(tc_source_new(arena, "docs/recipe.md", text, length, diags, &source), TC_OK);
	assert_int_equal(tc_yaml_read(arena, source, diags, &documents, &count), TC_OK);
	assert_int_equal(count, 1);
	if (!tc_is_recipe(&documents[0]))
		return false;
	const tc_rule_names names = {.find = any_rule};
	const tc_recipe *recipe;
	const tc_status status =
	    tc_recipe_read(arena, library, finder, &names, NULL, source, documents[0].root, false, diags, &recipe);
	kit_show(diags);
	assert_int_equal(status, TC_OK);
	assert_non_null(tc_model_build(arena, recipe, library, TC_PASS_LIGHT));
	return true;
}

static void examples_of_the_reference_are_recipes(void **state)
{
	(void)state;
	size_t length, recipes = 0;
	tc_arena *book = tc_arena_new(NULL, 0), *scratch = tc_arena_new(NULL, 0), *arena = tc_arena_new(NULL, 0);
	const tc_library *library = shipped(book, scratch);
	tc_finder *finder = tc_finder_new(library, NULL);
	char *text = slurp("docs/recipe.md", &length);
	for (char *at = text; (at = strstr(at, "```yaml\n")) != NULL;) {
		at += strlen("```yaml\n");
		char *end = strstr(at, "```");
		assert_non_null(end);
		recipes += read_block(arena, library, finder, at, (size_t)(end - at));
		at = end + 3;
	}
	assert_int_equal(recipes, 2);
	free(text);
	tc_finder_free(finder);
	tc_arena_free(arena);
	tc_arena_free(scratch);
	tc_arena_free(book);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(examples_of_the_reference_are_recipes)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
