/* The table of properties against the types of base/, and absent, unknown and said by section. */
#include "book.h"

static void every_row_is_whole(void **state)
{
	(void)state;
	for (tc_property p = 0; p < TC_PROPERTY_COUNT; p++) {
		const tc_property_row *row = tc_property_row_of(p);
		assert_non_null(row->key);
		assert_int_equal(tc_property_find(tc_text_of(row->key)), p); /* also: no key twice */
		assert_true(row->sections != 0);
		assert_true(strlen(row->help) > 3);
		const bool words = row->type == TC_T_SYMBOL || row->type == TC_T_SYMBOLS;
		assert_int_equal(words, row->vocabulary != NULL);
		if (row->type == TC_T_NUMBER || row->type == TC_T_SHARE || row->type == TC_T_TEMPERATURE)
			assert_true(row->low < row->high);
	}
	for (tc_default d = 0; d < TC_DEFAULT_COUNT; d++) {
		assert_non_null(tc_default_row_of(d)->key);
		assert_true(tc_default_row_of(d)->low < tc_default_row_of(d)->high);
	}
}

/* The table spells its dimensions out, since those of base/quantity.h are no constant expressions in C17. */
static void dimensions_are_those_of_base(void **state)
{
	(void)state;
	static const struct {
		tc_property property;
		const tc_dim *dim;
	} samples[] = {
	    {TC_P_EVAPORATION_RATE, &TC_DIM_NONE},
	    {TC_P_FLASH, &TC_DIM_TIME},
	    {TC_P_FILM_WET, &TC_DIM_LENGTH},
	    {TC_P_SIZE, &TC_DIM_VOLUME},
	    {TC_P_VAPOUR_PRESSURE, &TC_DIM_PRESSURE},
	    {TC_P_MOLAR_MASS, &TC_DIM_MOLAR_MASS},
	    {TC_P_MOLAR_VOLUME, &TC_DIM_MOLAR_VOLUME},
	    {TC_P_DENSITY, &TC_DIM_DENSITY},
	    {TC_P_HEAT_OF_VAPORISATION, &TC_DIM_MOLAR_ENERGY},
	    {TC_P_SURFACE_TENSION, &TC_DIM_SURFACE_TENSION},
	    {TC_P_DELTA_D, &TC_DIM_SOLUBILITY},
	};
	for (size_t i = 0; i < sizeof samples / sizeof *samples; i++)
		assert_true(tc_dim_same(tc_property_row_of(samples[i].property)->dim, *samples[i].dim));
	assert_true(tc_dim_same(tc_default_row_of(TC_D_AIR_SPEED)->dim, TC_DIM_SPEED));
	assert_true(tc_dim_same(tc_default_row_of(TC_D_EXTRACTION)->dim, TC_DIM_FLOW));
	assert_true(tc_dim_same(tc_default_row_of(TC_D_FILM_DIFFUSIVITY)->dim, TC_DIM_DIFFUSIVITY));
	assert_true(tc_dim_same(tc_default_row_of(TC_D_SWELL_FALL)->dim, TC_DIM_MOLAR_VOLUME));
}

/* docs/rulebook.md is kept by hand: it has a row for each property and default, with the help as it stands. */
static void the_reference_has_every_row(void **state)
{
	(void)state;
	FILE *file = fopen("docs/rulebook.md", "rb");
	assert_non_null(file); /* tests run from the root of the repository */
	static char text[1 << 18];
	text[fread(text, 1, sizeof text - 1, file)] = 0;
	fclose(file);
	for (unsigned i = 0; i < TC_PROPERTY_COUNT + TC_DEFAULT_COUNT; i++) {
		const tc_property_row *row = i < TC_PROPERTY_COUNT
		                                 ? tc_property_row_of((tc_property)i)
		                                 : tc_default_row_of((tc_default)(i - TC_PROPERTY_COUNT));
		char start[100];
		snprintf(start, sizeof start, "\n| `%s` | ", row->key);
		const char *found = strstr(text, start);
		while (found &&
		       strncmp(strchr(found + 1, '\n') - strlen(row->help) - 2, row->help, strlen(row->help)) != 0)
			found = strstr(found + 1, start);
		if (!found)
			fail_msg("docs/rulebook.md has no row for %s", row->key);
	}
}

static void no_such_key(void **state)
{
	(void)state;
	assert_int_equal(tc_property_find(TC_TEXT("delta")), TC_PROPERTY_COUNT);
	assert_int_equal(tc_property_find(TC_TEXT("delta_dd")), TC_PROPERTY_COUNT);
	assert_int_equal(tc_property_find(TC_TEXT("")), TC_PROPERTY_COUNT);
	assert_int_equal(tc_property_find(TC_TEXT("Delta_d")), TC_PROPERTY_COUNT);
}

/* language.md, section 5: left out is unknown, `none` is absent; property.def: elsewhere there is no such thing. */
static void said_unknown_absent(void **state)
{
	(void)state;
	book b = open_good("kinds:\n"
	                   "  any: {from: practice, sheds: no}\n"
	                   "  lone: {from: practice}\n"
	                   "coatings:\n"
	                   "  paint: {kind: any, from: practice, pot_life: none, solids: 30 %}\n"
	                   "solvents:\n"
	                   "  spirit: {kind: any, from: practice}\n");
	is_number(value_of(&b, "paint", TC_P_SOLIDS), TC_T_SHARE, 0.3);
	assert_int_equal(value_of(&b, "paint", TC_P_SHEDS).truth, TC_FALSE);
	assert_int_equal(value_of(&b, "paint", TC_P_SHEDS).state, TC_SAID);
	const tc_value pot = value_of(&b, "paint", TC_P_POT_LIFE), mix = value_of(&b, "paint", TC_P_MIX);
	assert_int_equal(pot.state, TC_ABSENT);
	assert_int_equal(pot.type, TC_T_NUMBER);
	assert_int_equal(mix.state, TC_UNKNOWN);
	assert_int_equal(mix.type, TC_T_TEXT);
	/* a solvent does not shed, whatever the kind above it says of its solids */
	assert_int_equal(value_of(&b, "spirit", TC_P_SHEDS).state, TC_ABSENT);
	assert_int_equal(value_of(&b, "spirit", TC_P_DELTA_D).state, TC_UNKNOWN);
	/* a kind has what any of the sections below it has; one with nothing below it may be anything */
	assert_int_equal(value_of(&b, "any", TC_P_DELTA_D).state, TC_UNKNOWN);
	assert_int_equal(value_of(&b, "any", TC_P_STRESSED).state, TC_ABSENT);
	assert_int_equal(value_of(&b, "lone", TC_P_STRESSED).state, TC_UNKNOWN);
	close_book(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(every_row_is_whole),
	    cmocka_unit_test(dimensions_are_those_of_base),
	    cmocka_unit_test(the_reference_has_every_row),
	    cmocka_unit_test(no_such_key),
	    cmocka_unit_test(said_unknown_absent),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
