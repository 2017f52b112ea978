/* Kinds and materials: what they have of their own, what from above, and where it comes from. */
#include "book.h"

static void the_nearest_kind_wins(void **state)
{
	(void)state;
	book b = open_good("kinds:\n"
	                   "  coating: {from: practice, bleeds: no, pot_life: 2 h, cure_factor: 2, sandable: yes}\n"
	                   "  lacquer: {under: coating, from: {source: good-book}, bleeds: yes, pot_life: none}\n"
	                   "coatings:\n"
	                   "  nitro: {kind: lacquer, from: practice, sandable: no}\n"
	                   "  gloss: {kind: coating, from: practice}\n");
	assert_int_equal(value_of(&b, "nitro", TC_P_BLEEDS).truth, TC_TRUE);
	assert_int_equal(value_of(&b, "nitro", TC_P_POT_LIFE).state, TC_ABSENT); /* `none` counts as given */
	assert_int_equal(value_of(&b, "nitro", TC_P_SANDABLE).truth, TC_FALSE);
	is_number(value_of(&b, "nitro", TC_P_CURE_FACTOR), TC_T_NUMBER, 2);
	is_number(value_of(&b, "gloss", TC_P_POT_LIFE), TC_T_NUMBER, 7200);
	const tc_figure *bleeds = entry_of(&b, "nitro")->figures[TC_P_BLEEDS];
	assert_int_equal(bleeds->entry, entry_of(&b, "lacquer")->index); /* it says where it stands */
	assert_int_equal(bleeds->basis->source, 0);
	assert_ptr_equal(bleeds, entry_of(&b, "lacquer")->figures[TC_P_BLEEDS]);
	close_book(&b);
}

static void hazards_add_up(void **state)
{
	(void)state;
	book b =
	    open_good("kinds:\n"
	              "  liquid: {from: practice, hazards: [H336]}\n"
	              "  fuel: {under: liquid, from: practice, hazards: H225}\n"
	              "  calm: {under: liquid, from: practice, hazards: none}\n"
	              "solvents:\n"
	              "  spirit: {kind: fuel, from: practice, hazards: [H360FD, EUH066], given: [{from: practice, "
	              "hazards: [H225, H319]}]}\n"
	              "  water: {kind: calm, from: practice}\n"
	              "  milk: {kind: calm, from: practice, hazards: {is: [EUH210A], from: {source: old-book}}}\n");
	static const char *const spirit[] = {"EUH066", "H225", "H319", "H336", "H360FD", NULL};
	const char *const *codes = entry_of(&b, "spirit")->hazards;
	for (size_t i = 0; spirit[i]; i++)
		assert_string_equal(codes[i], spirit[i]);
	assert_null(codes[5]);
	assert_string_equal(entry_of(&b, "water")->hazards[0], "H336"); /* nothing frees it of what holds above */
	assert_null(entry_of(&b, "water")->hazards[1]);
	assert_string_equal(entry_of(&b, "milk")->hazards[0], "EUH210A");
	close_book(&b);
}

static void hazard_codes(void **state)
{
	(void)state;
	says("kinds:\n  k: {from: practice, hazards: [H22, H2255, H225abc, h225, EUH066a, EUH066AB, H350i, EUH 066, "
	     "[]]}\n",
	    "a.yaml:2:33: error: `H22` is no hazard code; write H and three digits, such as H225, or EUH and three "
	    "digits, such as EUH066 [hazard-code]\n"
	    "a.yaml:2:38: error: `H2255` is no hazard code; write H and three digits, such as H225, or EUH and three "
	    "digits, such as EUH066 [hazard-code]\n"
	    "a.yaml:2:45: error: `H225abc` is no hazard code; write H and three digits, such as H225, or EUH and three "
	    "digits, such as EUH066 [hazard-code]\n"
	    "a.yaml:2:54: error: `h225` is no hazard code; write H and three digits, such as H225, or EUH and three "
	    "digits, such as EUH066 [hazard-code]\n"
	    "a.yaml:2:60: error: `EUH066a` is no hazard code; write H and three digits, such as H225, or EUH and three "
	    "digits, such as EUH066 [hazard-code]\n"
	    "a.yaml:2:69: error: `EUH066AB` is no hazard code; write H and three digits, such as H225, or EUH and "
	    "three digits, such as EUH066 [hazard-code]\n"
	    "a.yaml:2:86: error: `EUH 066` is no hazard code; write H and three digits, such as H225, or EUH and three "
	    "digits, such as EUH066 [hazard-code]\n"
	    "a.yaml:2:95: error: `hazards` is a list of words; here stands a list [wrong-shape]\n");
}

static void blocks_have_their_basis(void **state)
{
	(void)state;
	book b = open_good("kinds: {k: {from: practice}}\n"
	                   "solvents:\n"
	                   "  spirit:\n"
	                   "    kind: k\n"
	                   "    from: practice\n"
	                   "    delta_d: 15 MPa½\n"
	                   "    given:\n"
	                   "      - {from: {source: good-book, at: p. 1}, delta_p: 5 MPa½, note: read twice}\n"
	                   "      - {from: {source: good-book, memory: yes}, delta_h: {is: 7 MPa½, from: practice}, "
	                   "density: 0.8 g/cm³}\n"
	                   "  ghost:\n"
	                   "    kind: k\n"
	                   "    given: [{from: {source: old-book}, density: 0.9 g/cm³}]\n");
	const tc_entry *spirit = entry_of(&b, "spirit"), *ghost = entry_of(&b, "ghost");
	assert_int_equal(spirit->figures[TC_P_DELTA_D]->basis->source, TC_NONE);
	assert_int_equal(spirit->figures[TC_P_DELTA_P]->basis->source, 0);
	assert_string_equal(spirit->figures[TC_P_DELTA_P]->basis->at, "p. 1");
	assert_false(spirit->figures[TC_P_DELTA_P]->basis->memory);
	assert_int_equal(spirit->figures[TC_P_DELTA_H]->basis->source, TC_NONE);
	assert_true(spirit->figures[TC_P_DENSITY]->basis->memory);
	assert_null(spirit->figures[TC_P_DENSITY]->basis->at);
	/* all figures of `ghost` stand in blocks, so it needs no basis itself */
	assert_ptr_equal(ghost->basis, ghost->figures[TC_P_DENSITY]->basis);
	assert_true(ghost->basis->memory); /* its source says `read: no` */
	close_book(&b);
}

static void nothing_without_a_basis(void **state)
{
	(void)state;
	says("kinds:\n"
	     "  a: {}\n"
	     "  b: {bleeds: no, sheds: no}\n"
	     "  c: {bleeds: {is: no, from: practice}, hazards: [H225]}\n"
	     "  d: {given: [{bleeds: no}], from: practice}\n"
	     "  e: {from: hearsay}\n"
	     "  f: {from: [practice]}\n"
	     "  g: {from: {at: p. 3}}\n"
	     "  h: {from: {source: nobook}}\n"
	     "  i: {from: {source: good-book, memory: maybe}}\n"
	     "  j: {from: {source: good-book, page: 3}}\n"
	     "  k: {given: {bleeds: no}, from: practice}\n"
	     "  l: {given: [none], from: practice}\n"
	     "  m: {from: {source: [good-book]}}\n"
	     "  n: {from: {source: good-book, at: ''}}\n",
	    "a.yaml:2:3: error: `a` does not say where it comes from; write `from: practice` or `from: {source: ID, "
	    "at: …}` [no-basis]\n"
	    "a.yaml:3:3: error: `bleeds` of `b` does not say where it comes from; write `from` at the entry, or the "
	    "figure as `{is: …, from: …}` [no-basis]\n"
	    "a.yaml:4:3: error: `hazards` of `c` does not say where it comes from; write `from` at the entry, or the "
	    "figure as `{is: …, from: …}` [no-basis]\n"
	    "a.yaml:5:15: error: a block of `given` without `from`; write `from: {source: ID, at: …}` in it "
	    "[no-basis]\n"
	    "a.yaml:6:13: error: `from` is `practice` or `{source: ID, at: …}`; this is another text [no-basis]\n"
	    "a.yaml:7:13: error: `from` is `practice` or `{source: ID, at: …}`; this is a list [no-basis]\n"
	    "a.yaml:8:13: error: `from` names no source; write `{source: ID, at: …}` or `practice` [no-basis]\n"
	    "a.yaml:9:22: error: no source `nobook`; list it in section `sources` [unknown-name]\n"
	    "a.yaml:10:41: error: `memory` is `maybe`; write `yes` or `no` [not-a-truth]\n"
	    "a.yaml:11:33: error: no key `page` in `from`; docs/rulebook.md lists the keys [unknown-key]\n"
	    "a.yaml:12:14: error: `given` is a list of blocks, each with its `from`; this is a mapping [wrong-shape]\n"
	    "a.yaml:13:15: error: a block of `given` is a mapping of `from` and figures; this is a text "
	    "[wrong-shape]\n"
	    "a.yaml:14:22: error: `source` is the id of a source; this is a list [wrong-shape]\n"
	    "a.yaml:15:37: error: `at` is empty; give a text, or leave the key out [wrong-shape]\n");
}

static void twice_the_same_figure(void **state)
{
	(void)state;
	says("kinds: {k: {from: practice}}\n"
	     "solvents:\n"
	     "  spirit:\n"
	     "    kind: k\n"
	     "    from: practice\n"
	     "    density: 0.8 g/cm³\n"
	     "    given:\n"
	     "      - from: practice\n"
	     "        density: 0.9 g/cm³\n",
	    "a.yaml:9:9: error: `density` stands twice in `spirit`; keep one figure and note the other [twice]\n"
	    "a.yaml:6:5: note: the other one stands here\n");
}

static void unknown_keys(void **state)
{
	(void)state;
	says("kinds:\n"
	     "  k: {from: practice, kind: k, pot_lfe: 2 h}\n"
	     "coatings:\n"
	     "  paint: {kind: k, from: practice, under: k, nmae: x, xyzzy: 1}\n"
	     "  other: {kind: k, given: [{from: practice, densty: 1 g/cm³}]}\n",
	    "a.yaml:2:23: error: a kind names its parent by `under` [unknown-key]\n"
	    "a.yaml:2:32: error: no key `pot_lfe` in section `kinds`; `pot_life` is near [unknown-key]\n"
	    "a.yaml:4:36: error: a material names its kind by `kind` [unknown-key]\n"
	    "a.yaml:4:46: error: no key `nmae` in section `coatings`; `name` is near [unknown-key]\n"
	    "a.yaml:4:55: error: no key `xyzzy` in section `coatings`; docs/rulebook.md lists the keys [unknown-key]\n"
	    "a.yaml:5:45: error: no key `densty` in section `coatings`; `density` is near [unknown-key]\n");
}

static void a_figure_where_it_means_nothing(void **state)
{
	(void)state;
	says("kinds: {k: {from: practice, recoat: 1 h on}}\nsolvents:\n  spirit: {kind: k, from: practice, recoat: 1 h "
	     "on}\n",
	    "a.yaml:3:37: error: `recoat` means nothing in section `solvents`, only in coatings, fillers, adhesives, "
	    "decals [wrong-section]\n");
}

static void names_and_notes(void **state)
{
	(void)state;
	book b = open_good("kinds:\n"
	                   "  old-paint: {from: practice}\n"
	                   "coatings:\n"
	                   "  paint: {kind: old-paint, name: '  Grey paint ', about: a line, also: [grey, Dull Grey], "
	                   "note: x, from: practice}\n");
	const tc_entry *kind = entry_of(&b, "old-paint"), *paint = entry_of(&b, "paint");
	assert_string_equal(kind->name, "old paint"); /* made of the id */
	assert_null(kind->about);
	assert_null(kind->also[0]);
	assert_null(kind->known_as);
	assert_string_equal(paint->name, "Grey paint");
	assert_string_equal(paint->about, "a line");
	assert_string_equal(paint->also[0], "grey");
	assert_string_equal(paint->also[1], "Dull Grey");
	assert_null(paint->also[2]);
	close_book(&b);
	says("kinds:\n  k: {name: [a], about: '', also: {}, note: [], from: practice}\n  l: {also: [[], x], from: "
	     "practice}\n",
	    "a.yaml:2:13: error: `name` is a text; this is a list [wrong-shape]\n"
	    "a.yaml:2:25: error: `about` is empty; give a text, or leave the key out [wrong-shape]\n"
	    "a.yaml:2:35: error: `also` is a list, or a single word; this is a mapping [wrong-shape]\n"
	    "a.yaml:2:45: error: `note` is a text; this is a list [wrong-shape]\n"
	    "a.yaml:3:14: error: `also` is a text; this is a list [wrong-shape]\n");
}

static void cautions_of_an_entry(void **state)
{
	(void)state;
	book b = open_good("kinds:\n"
	                   "  k: {from: practice, cautions: [late, soon]}\n"
	                   "  l: {from: practice, cautions: none}\n"
	                   "cautions:\n"
	                   "  late: {says: x, rank: 20, from: practice}\n"
	                   "  soon: {says: y, rank: 3, from: practice}\n");
	const uint32_t *own = entry_of(&b, "k")->cautions;
	assert_string_equal(
	    tc_library_caution(b.library, own[0])->id, "soon"); /* in the order in which they are shown */
	assert_string_equal(tc_library_caution(b.library, own[1])->id, "late");
	assert_int_equal(own[2], TC_NONE);
	assert_int_equal(entry_of(&b, "l")->cautions[0], TC_NONE);
	close_book(&b);
	says("kinds:\n  k: {from: practice, cautions: [lat, none, []]}\ncautions:\n  late: {says: x, from: practice}\n",
	    "a.yaml:2:34: error: no caution `lat`; `late` is near [unknown-name]\n"
	    "a.yaml:2:39: error: no caution `none`; list it in section `cautions` [unknown-name]\n"
	    "a.yaml:2:45: error: `cautions` is a list of words; here stands a list [wrong-shape]\n");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(the_nearest_kind_wins),
	    cmocka_unit_test(hazards_add_up),
	    cmocka_unit_test(hazard_codes),
	    cmocka_unit_test(blocks_have_their_basis),
	    cmocka_unit_test(nothing_without_a_basis),
	    cmocka_unit_test(twice_the_same_figure),
	    cmocka_unit_test(unknown_keys),
	    cmocka_unit_test(a_figure_where_it_means_nothing),
	    cmocka_unit_test(names_and_notes),
	    cmocka_unit_test(cautions_of_an_entry),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
