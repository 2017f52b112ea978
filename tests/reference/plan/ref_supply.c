/*
 * Cups against printed spreading rates and transfer efficiencies.
 *
 * Read in public copies: a coating trade's sheet of general information on spreading rate (65 % solids at 5.0 mils: 208.52 ft²/gal;
 * at 125 µm: 5.2 m²/l); a conversion chart with a table of theoretical spreading rates (1604 × solids / mils, rounded to whole
 * ft²/gal); a worked quantity with 30 % of loss (9.310489 l become 13.3 l); table 1 of 40 CFR 60 subpart EE, as section NR 440.48 of
 * the Wisconsin Administrative Code carries it.
 */
#include "stuff.h"

#include <glob.h>
#include <math.h>
#include <stdlib.h>

#define GALLON 3.785411784e-3 /* US, m³ */
#define FOOT2 0.09290304      /* m² */
#define MIL 25.4e-6           /* m */

/* What a cup holds for an area at a dry film, when everything lands and nothing stays in it. */
static double ready_for(void **state, double area, double solids, double dry, double transfer)
{
	char text[500];
	snprintf(text, sizeof text,
	    "parts: {hull: {substrate: styrene, area: %.12g cm²}}\n"
	    "shelf: {paint: {family: quick-paint, solids: %.12g %%, transfer: %.12g %%}}\n"
	    "stack: [{coat: paint, by: bomb, wet_film: %.12g µm}]\n",
	    area * 1e4, solids * 100, transfer * 100, dry / solids * 1e6);
	const tc_supply *s = stuff_supply(*state, text);
	assert_int_equal(s->cups, 1);
	assert_close(s->laying[0].layer->film.number, dry, 1e-9);
	return s->cup[0].ready;
}

static void spreading_rate(void **state)
{
	assert_close(
	    ready_for(state, 208.52 * FOOT2, 0.65, 5 * MIL, 1) / GALLON, 1, 2e-4); /* 1604 is 1604.17 rounded */
	assert_close(ready_for(state, 5.2, 0.65, 125e-6, 1) / 1e-3, 1, 1e-9);
}

static void table_of_rates(void **state)
{
	static const struct {
		double solids, mils, feet; /* %, mil, ft²/gal */
	} rows[] = {{30, 1, 481}, {35, 2, 281}, {40, 4, 160}, {45, 5, 144}, {50, 3, 267}, {55, 6, 147}, {60, 8, 120},
	    {65, 10, 104}, {70, 2, 561}, {74, 3, 396}, {80, 5, 257}, {86, 4, 345}, {90, 6, 241}, {94, 8, 188},
	    {100, 10, 160}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const double area = 100; /* m² */
		const double gallons = ready_for(state, area, rows[i].solids / 100, rows[i].mils * MIL, 1) / GALLON;
		assert_true(fabs(area / FOOT2 / gallons - rows[i].feet) < 0.6); /* printed without decimals */
	}
}

static void practical_quantity(void **state)
{
	/* as much area as 9.310489 l cover without loss, at 50 % and 50 µm */
	const double area = 9.310489e-3 * 0.50 / 50e-6;
	assert_close(ready_for(state, area, 0.50, 50e-6, 1), 9.310489e-3, 1e-9);
	assert_close(ready_for(state, area, 0.50, 50e-6, 0.7), 13.3e-3, 1e-3);
}

/* Thinning adds liquid and no film: the same dry film takes the same paint, and the thinner on top. */
static void thinned(void **state)
{
	char text[500];
	const double plain = ready_for(state, 1, 0.40, 40e-6, 1);
	snprintf(text, sizeof text,
	    "parts: {hull: {substrate: styrene, area: 1 m²}}\n"
	    "shelf: {paint: {family: quick-paint, solids: 40 %%, transfer: 100 %%}}\n"
	    "stack: [{coat: paint, by: bomb, wet_film: 125 µm, thin: {with: slow, add: 25 %%}}]\n");
	const tc_supply *s = stuff_supply(*state, text);
	assert_close(s->laying[0].layer->film.number, 40e-6, 1e-9);
	assert_close(s->cup[0].pour[0].volume, plain, 1e-9);
	assert_close(s->cup[0].pour[1].volume, plain / 4, 1e-9);
}

/* --- the default rulebook --------------------------------------------------------------------------------------------------- */

static char *slurp(const char *name, size_t *length)
{
	FILE *in = fopen(name, "rb");
	assert_non_null(in);
	char *bytes = calloc(1, 1 << 20);
	*length = fread(bytes, 1, (1 << 20) - 1, in);
	fclose(in);
	return bytes;
}

static const tc_library *default_library(tc_arena *scratch, tc_arena *book)
{
	tc_rulebook_file file[64];
	size_t count = 0;
	glob_t found;
	tc_diags *diags = tc_diags_new(scratch);
	const tc_collection *collection;
	const tc_library *library = NULL;
	assert_int_equal(glob("rules/*/*.yaml", 0, NULL, &found), 0);
	for (size_t i = 0; i < found.gl_pathc && count < 64; i++) {
		size_t length;
		char *bytes = slurp(found.gl_pathv[i], &length);
		file[count++] =
		    (tc_rulebook_file){.name = tc_arena_text(scratch, found.gl_pathv[i], strlen(found.gl_pathv[i])),
		        .bytes = bytes,
		        .length = length};
	}
	globfree(&found);
	assert_int_equal(tc_collect(scratch, file, count, diags, &collection), TC_OK);
	assert_int_equal(tc_library_build(book, collection, diags, &library), TC_OK);
	for (size_t i = 0; i < count; i++)
		free((char *)file[i].bytes);
	return library;
}

static double figure(const tc_library *library, const char *id, tc_property property)
{
	const tc_entry *entry = tc_library_by_id(library, tc_text_of(id));
	assert_non_null(entry);
	const tc_value value = tc_entry_value(entry, property);
	assert_int_equal(value.state, TC_SAID);
	return value.number;
}

/* Each word has its entry with all that the plan asks of it; where the table has the way, its figure stands in the rulebook. */
static void ways_of_putting_on(void **state)
{
	(void)state;
	tc_arena *scratch = tc_arena_new(NULL, 0), *book = tc_arena_new(NULL, 0);
	const tc_library *library = default_library(scratch, book);
	const tc_word_list *words = tc_library_words(library, TC_TEXT("method"));
	assert_non_null(words);
	for (uint32_t i = 0; i < words->count; i++) {
		const tc_entry *entry = tc_library_by_id(library, tc_text_of(words->words[i]));
		assert_non_null(entry);
		assert_int_equal(entry->section, TC_SECTION_METHODS);
		assert_true(tc_known(tc_entry_value(entry, TC_P_SPRAYS)));
		assert_true(tc_known(tc_entry_value(entry, TC_P_PROPELLED)));
		assert_true(figure(library, words->words[i], TC_P_TRANSFER) > 0);
		assert_true(figure(library, words->words[i], TC_P_LEFT_IN_CUP) >= 0);
		assert_true(figure(library, words->words[i], TC_P_CLEANING) >= 0);
	}
	assert_close(figure(library, "spray-gun", TC_P_TRANSFER), 0.25, 1e-9);   /* a) air atomized spray */
	assert_close(figure(library, "dip", TC_P_TRANSFER), 0.90, 1e-9);         /* f) dip coat and flow coat */
	const tc_value lel = tc_library_default(library, TC_D_LEL_SHARE)->value; /* IMC 502.7.3.3 */
	assert_close(lel.number, 0.25, 1e-9);
	tc_arena_free(book);
	tc_arena_free(scratch);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(spreading_rate),
	    cmocka_unit_test(table_of_rates),
	    cmocka_unit_test(practical_quantity),
	    cmocka_unit_test(thinned),
	    cmocka_unit_test(ways_of_putting_on),
	};
	return cmocka_run_group_tests(tests, stuff_open, stuff_close);
}
