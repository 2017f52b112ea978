/* The tables of keys, against each other and against the reference. */
#include <stdlib.h>

#include "kit.h"
#include "stack/private.h"

static void each_key_is_found_by_its_name(void **state)
{
	(void)state;
	for (uint32_t i = 1; i < TC_KEY_COUNT; i++) {
		const tc_key_row *row = tc_key_row_of(i);
		assert_int_equal(row->length, strlen(row->name));
		assert_int_equal(tc_key_find(tc_text_of(row->name)), i);
		assert_int_not_equal(row->places, 0);
	}
}

static void other_words_are_not_found(void **state)
{
	(void)state;
	const char *const words[] = {"", "coa", "coatss", "Coat", "zebra", "\xC3\xA9tage", "{", "`"};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		assert_int_equal(tc_key_find(tc_text_of(words[i])), TC_KEY_COUNT);
}

/* Every verb and every key of the table of steps is a key of a step; `thin.with` is `with` of the mapping `thin`. */
static void the_table_of_steps_is_covered(void **state)
{
	(void)state;
	for (uint32_t verb = 0; verb < TC_VERB_COUNT; verb++) {
		const uint32_t key = tc_key_find(tc_text_of(tc_step_verb(verb)->name));
		assert_int_not_equal(key, TC_KEY_COUNT);
		assert_true(tc_key_row_of(key)->places & IN_STEP);
	}
	for (uint32_t i = 0; i < TC_STEP_KEY_COUNT; i++) {
		const char *name = tc_step_key_of(i)->name, *point = strchr(name, '.');
		const uint32_t key = tc_key_find(tc_text_of(point ? point + 1 : name));
		assert_int_not_equal(key, TC_KEY_COUNT);
		const uint32_t place = !point ? IN_STEP : strncmp(name, "thin", 4) == 0 ? IN_THIN : IN_SCRIBE;
		assert_true(tc_key_row_of(key)->places & place);
	}
}

/* docs/recipe.md speaks of every key, as code. Tests run from the root of the repository. */
static void the_reference_explains_each_key(void **state)
{
	(void)state;
	FILE *file = fopen("docs/recipe.md", "rb");
	assert_non_null(file);
	static char text[1 << 17];
	const size_t length = fread(text, 1, sizeof text - 1, file);
	fclose(file);
	text[length] = 0;
	for (uint32_t i = 1; i < TC_KEY_COUNT; i++) {
		char quoted[64];
		snprintf(quoted, sizeof quoted, "`%s`", tc_key_row_of(i)->name);
		if (!strstr(text, quoted))
			fail_msg("docs/recipe.md does not speak of %s", quoted);
	}
	for (uint32_t i = 0; i < TC_PROPERTY_COUNT; i++) {
		const tc_property_row *row = tc_property_row_of((tc_property)i);
		char quoted[64];
		snprintf(quoted, sizeof quoted, "`%s`", row->key);
		if (row->sections & TC_LAID_SECTIONS && !strstr(text, quoted))
			fail_msg("docs/recipe.md does not speak of the figure %s", quoted);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(each_key_is_found_by_its_name),
	    cmocka_unit_test(other_words_are_not_found),
	    cmocka_unit_test(the_table_of_steps_is_covered),
	    cmocka_unit_test(the_reference_explains_each_key),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
