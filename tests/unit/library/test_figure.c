/* Figures by type, as the library and as a shelf read them: values, and each fault with its place. All figures are
 * invented (practice); conversions are by the definitions of the units. */
#include "book.h"

#define KIND "kinds: {any: {from: practice}}\ncoatings:\n  paint:\n    kind: any\n    from: practice\n"

/* One key of a paint, on line 6 from column 5. */
static book paint(const char *key)
{
	char text[2000];
	snprintf(text, sizeof text, "%s    %s\n", KIND, key);
	return open_text(text);
}

static book good_paint(const char *key)
{
	book b = paint(key);
	assert_string_equal(b.said, "");
	return b;
}

static void bad_paint(const char *key, const char *said)
{
	expect(paint(key), said);
}

static void measures(void **state)
{
	(void)state;
	static const struct {
		const char *key;
		tc_property property;
		tc_type type;
		double si;
	} good[] = {
	    {"film_wet: 25 µm", TC_P_FILM_WET, TC_T_NUMBER, 25e-6},
	    {"film_wet: 1 mil", TC_P_FILM_WET, TC_T_NUMBER, 25.4e-6}, {"flash: 5 min", TC_P_FLASH, TC_T_NUMBER, 300},
	    {"solids: 12.5 %", TC_P_SOLIDS, TC_T_SHARE, 0.125}, {"thin_most: 200 %", TC_P_THIN_MOST, TC_T_SHARE, 2},
	    {"coldest: 10 °C", TC_P_COLDEST, TC_T_TEMPERATURE, 283.15},
	    {"coldest: 50 °F", TC_P_COLDEST, TC_T_TEMPERATURE, 283.15},
	    {"coldest: 283.15 K", TC_P_COLDEST, TC_T_TEMPERATURE, 283.15},
	    {"density: 1.2 g/cm³", TC_P_DENSITY, TC_T_NUMBER, 1200}, {"r0: 10 MPa½", TC_P_R0, TC_T_NUMBER, 1e4},
	    {"price: 7.50", TC_P_PRICE, TC_T_NUMBER, 7.5}, {"size: 60 ml", TC_P_SIZE, TC_T_NUMBER, 60e-6},
	    {"solids: 100 %", TC_P_SOLIDS, TC_T_SHARE, 1}, /* the end of the range */
	    {"flash: 1 s", TC_P_FLASH, TC_T_NUMBER, 1},    /* its start */
	};
	for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
		book b = good_paint(good[i].key);
		is_number(value_of(&b, "paint", good[i].property), good[i].type, good[i].si);
		close_book(&b);
	}
}

static void bare_numbers_are_shown_a_unit(void **state)
{
	(void)state;
	bad_paint("film_wet: 18",
	    "a.yaml:6:15: error: `18` is a bare number and `film_wet` a length; write `18 µm` [dimensions]\n");
	bad_paint("film_dry: 18", "a.yaml:6:5: error: `film_dry` means nothing in section `coatings`, only in fillers, "
	                          "adhesives, decals [wrong-section]\n");
	bad_paint(
	    "flash: 5", "a.yaml:6:12: error: `5` is a bare number and `flash` a time; write `5 min` [dimensions]\n");
	bad_paint(
	    "solids: 12", "a.yaml:6:13: error: `12` is a bare number and `solids` a share; write `12 %` [share]\n");
	bad_paint("coldest: 10",
	    "a.yaml:6:14: error: `10` is a bare number and `coldest` a temperature; write `10 °C` [dimensions]\n");
	bad_paint("delta_d: 18", "a.yaml:6:14: error: `18` is a bare number and `delta_d` a solubility parameter; "
	                         "write `18 MPa½` [dimensions]\n");
	/* the unit that brings it into the range */
	bad_paint("density: 1200",
	    "a.yaml:6:14: error: `1200` is a bare number and `density` a density; write `1200 kg/m³` [dimensions]\n");
	bad_paint("density: 1.2",
	    "a.yaml:6:14: error: `1.2` is a bare number and `density` a density; write `1.2 g/cm³` [dimensions]\n");
}

static void wrong_dimensions(void **state)
{
	(void)state;
	/* a number that no unit brings into the range is shown the usual one */
	bad_paint("film_wet: 18e9",
	    "a.yaml:6:15: error: `18e9` is a bare number and `film_wet` a length; write `18e9 µm` [dimensions]\n");
	bad_paint("film_wet: 5 min",
	    "a.yaml:6:15: error: `5 min` is a time and `film_wet` a length; give it in µm [dimensions]\n");
	bad_paint("solids: 12 °C",
	    "a.yaml:6:13: error: `12 °C` is a temperature and `solids` a share; give it in % [share]\n");
	bad_paint("cure_factor: 200 %",
	    "a.yaml:6:18: error: `200 %` is a share and `cure_factor` a bare number; leave out the unit [share]\n");
	bad_paint("price: 7 ml",
	    "a.yaml:6:12: error: `7 ml` is a volume and `price` a bare number; leave out the unit [dimensions]\n");
}

static void out_of_range(void **state)
{
	(void)state;
	bad_paint("delta_d: 180 MPa½",
	    "a.yaml:6:14: error: `delta_d` is 180 MPa½; it can only lie between 5 MPa½ and 40 MPa½ [out-of-range]\n");
	bad_paint("flash: 0.5 s",
	    "a.yaml:6:12: error: `flash` is 0.5 s; it can only lie between 1 s and 11.6 d [out-of-range]\n");
	bad_paint("coldest: 200 °C",
	    "a.yaml:6:14: error: `coldest` is 200 °C; it can only lie between -13.2 °C and 76.8 °C [out-of-range]\n");
	bad_paint("solids: 101 %",
	    "a.yaml:6:13: error: `solids` is 101 %; it can only lie between 0.5 % and 100 % [out-of-range]\n");
}

/* The place is that of the trouble within the text. */
static void unreadable_quantities(void **state)
{
	(void)state;
	bad_paint("film_wet: 25 mym", "a.yaml:6:18: error: `film_wet`: no unit `mym`; `mm` is near [quantity]\n");
	bad_paint("film_wet: \"25  wug\"", "a.yaml:6:20: error: `film_wet`: no unit `wug`; `µg` is near [quantity]\n");
	bad_paint("film_wet:", "a.yaml:6:14: error: `film_wet` is a length; this is nothing [wrong-shape]\n");
	bad_paint("film_wet: [25 µm]", "a.yaml:6:15: error: `film_wet` is a length; this is a list [wrong-shape]\n");
	bad_paint("film_wet: {at: 25 µm}", "a.yaml:6:15: error: `film_wet` is a mapping without `is`; write the value "
	                                   "alone or `{is: VALUE, from: …}` [wrong-shape]\n");
}

static void truths(void **state)
{
	(void)state;
	book b = good_paint("bleeds: yes\n    sandable: no");
	assert_int_equal(value_of(&b, "paint", TC_P_BLEEDS).truth, TC_TRUE);
	assert_int_equal(value_of(&b, "paint", TC_P_SANDABLE).truth, TC_FALSE);
	close_book(&b);
	bad_paint("bleeds: true", "a.yaml:6:13: error: `bleeds` is `true`; write `yes` or `no` [not-a-truth]\n");
	bad_paint("bleeds: [yes]", "a.yaml:6:13: error: `bleeds` is a list; write `yes` or `no` [not-a-truth]\n");
}

static void windows(void **state)
{
	(void)state;
	book b = good_paint("recoat: [48 h on, 10 min to 1 h]");
	const tc_value v = value_of(&b, "paint", TC_P_RECOAT);
	assert_int_equal(v.type, TC_T_WINDOW);
	assert_int_equal(v.window->count, 2);
	assert_true(v.window->spans[0].from == 600 && v.window->spans[0].to == 3600);
	assert_true(v.window->spans[1].from == 48 * 3600.0 && v.window->spans[1].to == HUGE_VAL);
	close_book(&b);
	b = good_paint("recoat: 10 min to 48 h");
	assert_int_equal(value_of(&b, "paint", TC_P_RECOAT).window->count, 1);
	close_book(&b);
	bad_paint("recoat: [10 min to 1 h, 30 min on]",
	    "a.yaml:6:13: error: two spans of `recoat` touch or overlap; make one of them [window]\n");
	bad_paint("recoat: [10 min to 1 h, 1 h on]",
	    "a.yaml:6:13: error: two spans of `recoat` touch or overlap; make one of them [window]\n");
	bad_paint("recoat: []",
	    "a.yaml:6:13: error: `recoat` has no span; write `none` if there is no such thing [window]\n");
	bad_paint("recoat: 10 min", "a.yaml:6:13: error: `recoat`: `10 min` is no window; write one as `10 min to 48 "
	                            "h` or `10 min on` [window]\n");
	bad_paint("recoat: [1 h on, {}]", "a.yaml:6:22: error: `recoat` is a window, such as `10 min to 48 h`, or a "
	                                  "list of them; this is a mapping [wrong-shape]\n");
	/* base/limits.h: TC_TIME_MAX is 100 years */
	b = good_paint("recoat: 1 h to 100 years");
	close_book(&b);
	bad_paint("recoat: 1 h to 101 years", "a.yaml:6:13: error: `recoat` is `1 h to 101 years`; a window lies "
	                                      "between 0 s and 100 years [out-of-range]\n");
}

static void symbols(void **state)
{
	(void)state;
	book b = good_paint(
	    "sheen: satin\n    roles: [clear, primer]\n    cure: two-part\n    carries: []\n    leaves: dust");
	assert_int_equal(value_of(&b, "paint", TC_P_SHEEN).symbol, 1);
	assert_int_equal(value_of(&b, "paint", TC_P_ROLES).set, 1u << 0 | 1u << 2);
	assert_int_equal(value_of(&b, "paint", TC_P_CURE).symbol, TC_CURE_TWO_PART);
	assert_int_equal(value_of(&b, "paint", TC_P_CARRIES).set, 0);
	assert_int_equal(value_of(&b, "paint", TC_P_CARRIES).state, TC_SAID);
	assert_int_equal(value_of(&b, "paint", TC_P_LEAVES).set, 1u << 1);
	close_book(&b);
	bad_paint("sheen: sating",
	    "a.yaml:6:12: error: `sating` of `sheen` is no word of `sheen`; `satin` is near [unknown-word]\n");
	bad_paint("sheen: red", "a.yaml:6:12: error: `red` of `sheen` is no word of `sheen`; its words are gloss, "
	                        "satin, matt [unknown-word]\n");
	bad_paint("roles: [clear, colur]",
	    "a.yaml:6:20: error: `colur` of `roles` is no word of `role`; `colour` is near [unknown-word]\n");
	bad_paint(
	    "roles: [clear, clear]", "a.yaml:6:20: error: `clear` stands twice in `roles`; once is enough [twice]\n");
	bad_paint("roles: [clear, [primer]]",
	    "a.yaml:6:20: error: `roles` is a list of words; here stands a list [wrong-shape]\n");
	bad_paint(
	    "sheen: [satin]", "a.yaml:6:12: error: `sheen` is one word of `sheen`; this is a list [wrong-shape]\n");
	bad_paint("roles: {}", "a.yaml:6:12: error: `roles` is a mapping without `is`; write the value alone or `{is: "
	                       "VALUE, from: …}` [wrong-shape]\n");
	bad_paint("effect: pearl", "a.yaml:6:13: error: `effect` takes a word of `effect`, which section `words` does "
	                           "not list [unknown-name]\n");
}

static void texts(void **state)
{
	(void)state;
	book b = open_good(
	    "kinds: {any: {from: practice}}\nsolvents: {spirit: {kind: any, from: practice, groups: '1:2,2:3'}}\n");
	assert_string_equal(value_of(&b, "spirit", TC_P_GROUPS).text, "1:2,2:3");
	assert_int_equal(value_of(&b, "spirit", TC_P_GROUPS).type, TC_T_TEXT);
	close_book(&b);
	says("kinds: {any: {from: practice}}\nsolvents: {spirit: {kind: any, from: practice, groups: [1]}}\n",
	    "a.yaml:2:56: error: `groups` is a text; this is a list [wrong-shape]\n");
}

static void ratios(void **state)
{
	(void)state;
	book b = good_paint("mix: 4:1:1");
	const tc_figure *mix = entry_of(&b, "paint")->figures[TC_P_MIX];
	assert_string_equal(mix->value.text, "4:1:1");
	assert_true(mix->ratio[0] == 4 && mix->ratio[1] == 1 && mix->ratio[2] == 1 && mix->ratio[3] == 0);
	close_book(&b);
	bad_paint(
	    "mix: 2 to 1", "a.yaml:6:10: error: `mix`: `2 to 1` is no ratio; write one as `2:1` or `4:1:1` [ratio]\n");
	bad_paint("mix: [2, 1]", "a.yaml:6:10: error: `mix` is a text; this is a list [wrong-shape]\n");
}

static void entries(void **state)
{
	(void)state;
	book b = good_paint("sticks_to: [paint, any]\n    thinned_by: any");
	const tc_entries *e = entry_of(&b, "paint")->figures[TC_P_STICKS_TO]->entries;
	assert_int_equal(e->count, 2);
	assert_int_equal(e->at[0], entry_of(&b, "paint")->index);
	assert_int_equal(e->at[1], entry_of(&b, "any")->index);
	assert_int_equal(entry_of(&b, "paint")->figures[TC_P_THINNED_BY]->entries->count, 1);
	close_book(&b);
	bad_paint("sticks_to: [any, paynt]", "a.yaml:6:22: error: `paynt` of `sticks_to` is nothing that the library "
	                                     "has; `paint` is near [unknown-name]\n");
	bad_paint(
	    "sticks_to: [any, any]", "a.yaml:6:22: error: `any` stands twice in `sticks_to`; once is enough [twice]\n");
}

static void the_long_form(void **state)
{
	(void)state;
	book b = good_paint(
	    "coldest: {is: 10 °C, from: {source: good-book, at: table 2}, spread: 8 °C to 12 °C, note: the sheet}");
	const tc_figure *f = entry_of(&b, "paint")->figures[TC_P_COLDEST];
	is_number(f->value, TC_T_TEMPERATURE, 283.15);
	assert_true(tc_compare(f->least, 281.15) == 0 && tc_compare(f->most, 285.15) == 0);
	assert_string_equal(f->note, "the sheet");
	assert_int_equal(f->basis->source, 0);
	assert_string_equal(f->basis->at, "table 2");
	assert_false(f->basis->memory);
	assert_int_equal(f->place.line, 6);
	assert_int_equal(f->place.column, 14);
	assert_int_equal(f->entry, entry_of(&b, "paint")->index);
	close_book(&b);
	b = good_paint("coldest: {is: none, from: practice}");
	assert_int_equal(value_of(&b, "paint", TC_P_COLDEST).state, TC_ABSENT);
	close_book(&b);
}

static void faults_of_the_long_form(void **state)
{
	(void)state;
	bad_paint("coldest: {is: 10 °C, sprad: 8 °C to 12 °C}",
	    "a.yaml:6:26: error: no key `sprad` in a figure; `spread` is near [unknown-key]\n");
	bad_paint("coldest: {is: 10 °C, spread: 8 °C}",
	    "a.yaml:6:34: error: a `spread` is written `A to B`, each with its unit [spread]\n");
	bad_paint("coldest: {is: 10 °C, spread: 8 to 12 °C}",
	    "a.yaml:6:34: error: `8` is a bare number and `coldest` a temperature; write `8 °C` [dimensions]\n");
	bad_paint("coldest: {is: 10 °C, spread: 12 °C to 8 °C}",
	    "a.yaml:6:34: error: the `spread` of `coldest` ends below "
	    "its start; write the smaller figure first [spread]\n");
	bad_paint("coldest: {is: 7 °C, spread: 8 °C to 12 °C}",
	    "a.yaml:6:33: error: `coldest` does not lie in its `spread` "
	    "of 8 °C to 12 °C; one of them is wrong [spread]\n");
	bad_paint("coldest: {is: 10 °C, spread: 8 °C to 12 °K}",
	    "a.yaml:6:45: error: `coldest`: no unit `°K`; `°C` is near [quantity]\n");
	bad_paint("sheen: {is: gloss, spread: 1 to 2}",
	    "a.yaml:6:32: error: `sheen` is no number and has no `spread` [spread]\n");
	bad_paint("coldest: {is: 10 °C, note: }",
	    "a.yaml:6:32: error: `note` is empty; give a text, or leave the key out [wrong-shape]\n");
	bad_paint("coldest: {is: 10 °C, from: {source: god-book}}",
	    "a.yaml:6:41: error: no source `god-book`; `good-book` is near [unknown-name]\n");
}

/* One broken key is one message, and the next key is read. */
static void carries_on(void **state)
{
	(void)state;
	bad_paint("flash: 5\n    solids: 12\n    bleeds: maybe\n    coldest: 10 °C",
	    "a.yaml:6:12: error: `5` is a bare number and `flash` a time; write `5 min` [dimensions]\n"
	    "a.yaml:7:13: error: `12` is a bare number and `solids` a share; write `12 %` [share]\n"
	    "a.yaml:8:13: error: `bleeds` is `maybe`; write `yes` or `no` [not-a-truth]\n");
}

/* --- a shelf ---------------------------------------------------------------------------------------------------- */

typedef struct shelf {
	book book;
	tc_arena *arena;
	tc_source *source;
	const tc_document *documents;
	tc_diags *diags;
} shelf;

static shelf open_shelf(const char *text)
{
	shelf s = {.book = open_good("kinds: {any: {from: practice}}\nsolvents:\n  spirit: {kind: any, name: White "
	                             "Ghost, from: practice}\n"),
	    .arena = tc_arena_new(NULL, 0)};
	size_t count;
	s.diags = tc_diags_new(s.arena);
	assert_int_equal(tc_source_new(s.arena, "r.yaml", text, strlen(text), s.diags, &s.source), TC_OK);
	assert_int_equal(tc_yaml_read(s.arena, s.source, s.diags, &s.documents, &count), TC_OK);
	return s;
}

static const tc_figure *on_shelf(const shelf *s, tc_property property)
{
	const tc_node *node = tc_map_get(s->documents->root, tc_property_row_of(property)->key, NULL);
	return tc_figure_read(s->book.library, s->arena, s->source, property, node, s->diags);
}

static void close_shelf(shelf *s)
{
	tc_arena_free(s->arena);
	close_book(&s->book);
}

static void a_shelf(void **state)
{
	(void)state;
	shelf s = open_shelf("solids: 12 %\nsolvents: {white ghost: 50 %, rest: unknown}\nsheen: glos\npot_life: "
	                     "none\nfrom: {source: good-book, at: p. 9}\n");
	const tc_figure *f = on_shelf(&s, TC_P_SOLIDS);
	is_number(f->value, TC_T_SHARE, 0.12);
	assert_null(f->basis);
	assert_int_equal(f->entry, TC_NONE);
	assert_string_equal(f->place.file, "r.yaml");
	assert_int_equal(on_shelf(&s, TC_P_SOLVENTS)->value.state, TC_UNKNOWN);
	assert_int_equal(on_shelf(&s, TC_P_POT_LIFE)->value.state, TC_ABSENT);
	assert_null(on_shelf(&s, TC_P_SHEEN));
	const tc_node *from = tc_map_get(s.documents->root, "from", NULL);
	const tc_basis *basis = tc_basis_read(s.book.library, s.arena, s.source, from, s.diags);
	assert_int_equal(basis->source, 0);
	assert_string_equal(basis->at, "p. 9");
	char *said = all_said(s.diags);
	assert_string_equal(
	    said, "r.yaml:3:8: error: `glos` of `sheen` is no word of `sheen`; `gloss` is near [unknown-word]\n");
	free(said);
	close_shelf(&s);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(measures),
	    cmocka_unit_test(bare_numbers_are_shown_a_unit),
	    cmocka_unit_test(wrong_dimensions),
	    cmocka_unit_test(out_of_range),
	    cmocka_unit_test(unreadable_quantities),
	    cmocka_unit_test(truths),
	    cmocka_unit_test(windows),
	    cmocka_unit_test(symbols),
	    cmocka_unit_test(texts),
	    cmocka_unit_test(ratios),
	    cmocka_unit_test(entries),
	    cmocka_unit_test(the_long_form),
	    cmocka_unit_test(faults_of_the_long_form),
	    cmocka_unit_test(carries_on),
	    cmocka_unit_test(a_shelf),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
