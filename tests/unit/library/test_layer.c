/* A second rulebook over the first: add, amend, retire (language.md, section 12). */
#include "book.h"

#define BELOW                                                                                                          \
	"kinds:\n"                                                                                                     \
	"  thing: {from: practice}\n"                                                                                  \
	"  paint-kind: {under: thing, from: practice}\n"                                                               \
	"solvents:\n"                                                                                                  \
	"  spirit:\n"                                                                                                  \
	"    kind: thing\n"                                                                                            \
	"    also: [ghost]\n"                                                                                          \
	"    from: {source: good-book, at: p. 3}\n"                                                                    \
	"    delta_d: 15 MPa½\n"                                                                                      \
	"    given:\n"                                                                                                 \
	"      - from: {source: old-book}\n"                                                                           \
	"        density: 0.8 g/cm³\n"                                                                                \
	"        hazards: [H225]\n"                                                                                    \
	"        delta_p: 5 MPa½\n"                                                                                   \
	"coatings:\n"                                                                                                  \
	"  paint: {kind: paint-kind, from: practice, solids: 30 %, pot_life: none, thinned_by: [spirit]}\n"            \
	"unclear:\n"                                                                                                   \
	"  enamel: what thins it?\n"                                                                                   \
	"rules:\n"                                                                                                     \
	"  too-thin: {when: a, about: b, shown_by: {}}\n"

static book good_layers(const char *above)
{
	book b = open_layers(BELOW, above);
	assert_string_equal(b.said, "");
	return b;
}

static void layered(const char *above, const char *said)
{
	expect(open_layers(BELOW, above), said);
}

static void an_upper_layer_adds(void **state)
{
	(void)state;
	book b = good_layers("coatings:\n  mine: {kind: paint-kind, from: practice}\n");
	assert_int_equal(tc_collection_find(b.collection, TC_TEXT("mine"))->layer, 1);
	assert_true(tc_entry_is(entry_of(&b, "mine"), entry_of(&b, "thing")));
	close_book(&b);
	layered("coatings:\n  paint: {kind: paint-kind, from: practice}\n",
	    "b.yaml:2:3: error: `paint` stands already in a layer below; change it under `amend`, or take another id "
	    "[duplicate-id]\n"
	    "a.yaml:16:3: note: `paint` stands here\n");
}

static void amended_figures_have_a_basis_of_their_own(void **state)
{
	(void)state;
	book b = good_layers("amend:\n"
	                     "  spirit: {delta_d: {is: 16 MPa½, from: practice}, because: measured again}\n"
	                     "  paint: {solids: 40 %, from: {source: old-book}, because: a thicker batch}\n");
	is_number(value_of(&b, "spirit", TC_P_DELTA_D), TC_T_NUMBER, 16e3);
	const tc_figure *d = entry_of(&b, "spirit")->figures[TC_P_DELTA_D],
	                *s = entry_of(&b, "paint")->figures[TC_P_SOLIDS];
	assert_int_equal(d->basis->source, TC_NONE);
	assert_string_equal(d->place.file, "b.yaml");
	assert_int_equal(d->place.line, 2);
	assert_int_equal(s->basis->source, 1);
	assert_true(s->basis->memory); /* the source says `read: no` */
	/* the entry keeps its basis for what was not amended */
	assert_int_equal(entry_of(&b, "paint")->basis->source, TC_NONE);
	assert_int_equal(entry_of(&b, "paint")->figures[TC_P_POT_LIFE]->basis->source, TC_NONE);
	assert_int_equal(tc_collection_changes(b.collection), 2);
	const tc_change *change = tc_collection_change(b.collection, 0);
	assert_string_equal(change->id, "paint"); /* by id */
	assert_string_equal(change->because, "a thicker batch");
	assert_false(change->retired);
	assert_false(change->changed_when);
	assert_string_equal(change->place.file, "b.yaml");
	assert_int_equal(change->place.line, 3);
	close_book(&b);
	/* a long form without a basis has that of the amendment */
	b = good_layers("amend:\n"
	                "  spirit: {delta_d: {is: 16 MPa½, note: moved}, from: {source: old-book}, because: x}\n");
	assert_string_equal(entry_of(&b, "spirit")->figures[TC_P_DELTA_D]->note, "moved");
	assert_int_equal(entry_of(&b, "spirit")->figures[TC_P_DELTA_D]->basis->source, 1);
	close_book(&b);
	layered("amend:\n  spirit: {delta_d: 16 MPa½, because: x}\n",
	    "b.yaml:2:12: error: the amended `delta_d` has no basis of its own; write `{is: …, from: …}`, or `from` "
	    "beside `because` [no-basis]\n");
	layered("amend:\n  spirit: {hazards: [H226], because: x}\n",
	    "b.yaml:2:12: error: the amended `hazards` has no basis of its own; write `{is: …, from: …}`, or `from` "
	    "beside `because` [no-basis]\n");
}

/* The key goes wherever it stood below: at the entry or in a block. The other figures of the block stay. */
static void amending_what_stands_in_a_block(void **state)
{
	(void)state;
	book b = good_layers(
	    "amend:\n  spirit: {density: 0.9 g/cm³, hazards: [H301], delta_p: none, from: practice, because: x}\n");
	is_number(value_of(&b, "spirit", TC_P_DENSITY), TC_T_NUMBER, 900);
	assert_int_equal(value_of(&b, "spirit", TC_P_DELTA_P).state, TC_ABSENT);
	is_number(value_of(&b, "spirit", TC_P_DELTA_D), TC_T_NUMBER, 15e3);
	assert_string_equal(entry_of(&b, "spirit")->hazards[0], "H301");
	assert_null(entry_of(&b, "spirit")->hazards[1]);
	close_book(&b);
}

static void keys_are_replaced_whole_and_none_removes_them(void **state)
{
	(void)state;
	book b = good_layers("amend:\n  spirit: {also: none, name: Geist, kind: paint-kind, because: x}\n");
	const tc_entry *spirit = entry_of(&b, "spirit");
	assert_null(spirit->also[0]);
	assert_string_equal(spirit->name, "Geist");
	assert_true(tc_entry_is(spirit, entry_of(&b, "paint-kind")));
	const tc_item *item = tc_collection_find(b.collection, TC_TEXT("spirit"));
	assert_string_equal(tc_source_name(tc_item_source(b.collection, item, "name")), "b.yaml");
	assert_string_equal(tc_source_name(tc_item_source(b.collection, item, "from")), "a.yaml");
	close_book(&b);
}

/* A fault in an amended key is shown where the amendment stands. */
static void faults_of_amendments_have_their_place(void **state)
{
	(void)state;
	layered("amend:\n  paint: {solids: {is: 3000 %, from: practice}, colour: red, because: x}\n",
	    "b.yaml:2:24: error: `solids` is 3000 %; it can only lie between 0.5 % and 100 % [out-of-range]\n"
	    "b.yaml:2:49: error: no key `colour` in section `coatings`; docs/rulebook.md lists the keys "
	    "[unknown-key]\n");
}

static void words_defaults_and_questions(void **state)
{
	(void)state;
	book b = good_layers("amend:\n"
	                     "  words/sheen: {eggshell: nearly matt, satin: none, because: our words}\n"
	                     "  defaults/temperature: {is: 28 °C, from: practice, because: a warm shed}\n"
	                     "  unclear/enamel: {is: what washes the brush?, because: clearer}\n");
	const tc_word_list *sheen = tc_library_words(b.library, TC_TEXT("sheen"));
	assert_int_equal(sheen->count, 3);
	assert_string_equal(sheen->words[0], "gloss");
	assert_string_equal(sheen->words[1], "matt");
	assert_string_equal(sheen->words[2], "eggshell");
	is_number(tc_library_default(b.library, TC_D_TEMPERATURE)->value, TC_T_TEMPERATURE, 301.15);
	assert_string_equal(tc_library_default(b.library, TC_D_TEMPERATURE)->place.file, "b.yaml");
	assert_string_equal(tc_library_unclear_at(b.library, 0)->question, "what washes the brush?");
	close_book(&b);
	layered("amend:\n"
	        "  temperature: {is: 28 °C, from: practice, because: x}\n"
	        "  defaults/humidity: {is: 60 %, because: x}\n"
	        "  unclear/enamel: {question: what?, because: x}\n",
	    "b.yaml:2:3: error: `temperature` is no id; write `defaults/temperature` [unknown-name]\n"
	    "b.yaml:3:22: error: `defaults/humidity` is one figure and is amended whole; write `is`, `from` and "
	    "`because` [no-basis]\n"
	    "b.yaml:4:19: error: `unclear/enamel` is one text; an amendment of it has the keys `is` and `because` "
	    "[amend]\n");
}

static void rules_show_again_what_they_do(void **state)
{
	(void)state;
	book b = good_layers("amend:\n  too-thin: {when: c, shown_by: {breaks: []}, because: x}\n");
	assert_true(tc_collection_change(b.collection, 0)->changed_when);
	const tc_item *rule = tc_collection_find(b.collection, TC_TEXT("too-thin"));
	assert_true(tc_node_is(tc_map_get(rule->node, "when", NULL), "c"));
	assert_true(tc_node_is(tc_map_get(rule->node, "about", NULL), "b"));
	close_book(&b);
	layered("amend:\n  too-thin: {when: c, because: x}\n",
	    "b.yaml:2:14: error: `when` of `too-thin` is amended without `shown_by`; give examples that the new `when` "
	    "breaks and holds [amend]\n");
}

static void an_amendment_says_why(void **state)
{
	(void)state;
	layered("amend:\n  paint: {name: Paint}\n  spirit: {name: Spirit, because: ' '}\n  thing: new\n",
	    "b.yaml:2:3: error: `paint` is amended without a reason; write `because: …` [amend]\n"
	    "b.yaml:3:35: error: `spirit` is amended without a reason; write `because: …` [amend]\n"
	    "b.yaml:4:10: error: `thing` is amended by a mapping of its new keys and `because` [wrong-shape]\n");
}

static void what_cannot_be_amended(void **state)
{
	(void)state;
	layered("amend:\n  pain: {name: x, because: x}\n  nonsense: {because: x}\n",
	    "b.yaml:2:3: error: no layer below has `pain`; `paint` is near [unknown-name]\n"
	    "b.yaml:3:3: error: no layer below has `nonsense`; only what stands below can be changed [unknown-name]\n");
	layered("coatings:\n  mine: {kind: thing, from: practice}\namend:\n  mine: {name: x, because: x}\n",
	    "b.yaml:4:3: error: `mine` stands in this very layer; change it where it stands [amend]\n"
	    "b.yaml:2:3: note: `mine` stands here\n");
	layered("amend:\n  paint: {name: x, because: x}\n---\namend:\n  paint: {about: x, because: x}\n",
	    "b.yaml:5:3: error: `paint` is amended or retired twice in this layer; keep one [amend]\n"
	    "b.yaml:2:3: note: the other one stands here\n");
	layered("amend:\n  paint: {name: x, because: x}\nretire:\n  paint: gone\n",
	    "b.yaml:4:3: error: `paint` is amended or retired twice in this layer; keep one [amend]\n"
	    "b.yaml:2:3: note: the other one stands here\n");
}

static void retiring(void **state)
{
	(void)state;
	book b = good_layers("retire:\n  paint: not made any more\n");
	assert_null(tc_library_by_id(b.library, TC_TEXT("paint")));
	assert_null(tc_collection_find(b.collection, TC_TEXT("paint")));
	assert_null(tc_collection_retired(b.collection, TC_TEXT("spirit")));
	const tc_change *change = tc_collection_retired(b.collection, TC_TEXT("paint"));
	assert_non_null(change);
	assert_true(change->retired);
	assert_string_equal(change->because, "not made any more");
	close_book(&b);
	layered("retire:\n  paint:\n  spirit: [a]\n",
	    "b.yaml:2:3: error: `paint` is retired without a reason; write `ID: reason` [retire]\n"
	    "b.yaml:3:11: error: `spirit` is retired without a reason; write `ID: reason` [retire]\n");
}

static void retired_but_still_referred_to(void **state)
{
	(void)state;
	layered("retire:\n  spirit: banned\n  paint-kind: folded\n",
	    "a.yaml:16:17: error: `paint-kind` was retired, and this still refers to it [retired-name]\n"
	    "b.yaml:3:3: note: `paint-kind` was retired here: folded\n"
	    "a.yaml:16:88: error: `spirit` was retired, and this still refers to it [retired-name]\n"
	    "b.yaml:2:3: note: `spirit` was retired here: banned\n");
	layered("retire:\n  good-book: lost\n",
	    "a.yaml:8:20: error: `good-book` was retired, and this still refers to it [retired-name]\n"
	    "b.yaml:2:3: note: `good-book` was retired here: lost\n");
}

static void three_layers(void **state)
{
	(void)state;
	const tc_rulebook_file files[] = {
	    file_of("c.yaml",
	        "amend:\n  paint: {solids: {is: 50 %, from: practice}, because: third}\n  thing: {name: x, because: "
	        "x}\n",
	        2),
	    file_of("b.yaml",
	        "amend:\n  paint: {solids: {is: 40 %, from: practice}, because: second}\nretire:\n  too-thin: x\n", 1),
	    file_of("a.yaml", BELOW, 0),
	    file_of("bench.yaml", BENCH, 0),
	    file_of("d.yaml", "amend:\n  too-thin: {about: x, because: x}\n", 3),
	};
	book b = open_files(files, 4);
	assert_string_equal(b.said, "");
	is_number(value_of(&b, "paint", TC_P_SOLIDS), TC_T_SHARE, 0.5);
	assert_string_equal(entry_of(&b, "paint")->figures[TC_P_SOLIDS]->place.file, "c.yaml");
	assert_string_equal(tc_collection_change(b.collection, 0)->because, "second");
	assert_string_equal(tc_collection_change(b.collection, 2)->because, "third");
	close_book(&b);
	expect(open_files(files, 5),
	    "d.yaml:2:3: error: `too-thin` was retired by a layer below; nothing is left to change [retired-name]\n"
	    "b.yaml:4:3: note: `too-thin` was retired here\n");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(an_upper_layer_adds),
	    cmocka_unit_test(amended_figures_have_a_basis_of_their_own),
	    cmocka_unit_test(amending_what_stands_in_a_block),
	    cmocka_unit_test(keys_are_replaced_whole_and_none_removes_them),
	    cmocka_unit_test(faults_of_amendments_have_their_place),
	    cmocka_unit_test(words_defaults_and_questions),
	    cmocka_unit_test(rules_show_again_what_they_do),
	    cmocka_unit_test(an_amendment_says_why),
	    cmocka_unit_test(what_cannot_be_amended),
	    cmocka_unit_test(retiring),
	    cmocka_unit_test(retired_but_still_referred_to),
	    cmocka_unit_test(three_layers),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
