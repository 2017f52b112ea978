/* A rulebook's lets and rules: what is read, what is refused, and where. All figures are invented. */
#include "fake.h"

#define SHOWN "shown_by: {breaks: [{on: steel}], holds: [{on: brass}]}"
#define RULE(id, more)                                                                                                 \
	"rules:\n  " id ":\n    about: it may go wrong\n    asks: contact\n    when: direct\n    verdict: warning\n  " \
	"  says: it is so\n"                                                                                           \
	"    from: practice\n    " SHOWN "\n" more

/* All messages about `more`, laid beside the book of the tests. */
static void refused(const char *more, const char *wanted)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_rulebook *book = load_book(more, NULL, &out);
	assert_string_equal(out.at ? out.at : "", wanted);
	assert_null(book);
	tc_buffer_free(&out);
}

/* --- rules ---------------------------------------------------------------------------------------------------------- */

static void test_all_keys(void **state)
{
	(void)state;
	char *bytes;
	tc_rulebook *book = load_book(
	    "rules:\n"
	    "  b-rule:\n"
	    "    about: it may go wrong\n"
	    "    asks: touch\n"
	    "    when: >\n"
	    "      liquid is thinner\n"
	    "      and direct\n"
	    "    verdict: undecided\n"
	    "    defect: crazing\n"
	    "    says: '{liquid} on {under}'\n"
	    "    remedies:\n"
	    "      - wait: 2 h - gap\n"
	    "      - shorten: 5 min\n"
	    "      - remove: step\n"
	    "      - move: {after: step}\n"
	    "      - do: 'try {liquid} on a scrap'\n"
	    "      - instead: {kind: agent, that: new.removes is grease}\n"
	    "      - change: {coats: 2, pass: light, thin: {with: toluene, ratio: 2:1}, at: 20 °C, passes: [light, "
	    "wet]}\n"
	    "      - insert: {coat: lacquer-primer, role: primer, coats: 1}\n"
	    "        after: under\n"
	    "      - insert: {scribe: {width: 0.3 mm, depth: 0.2 mm}}\n"
	    "      - insert: {sand: P800, wet: yes}\n"
	    "    cautions: [air-the-room]\n"
	    "    outranks: [a-rule]\n"
	    "    note: a note\n"
	    "    from: [practice, {source: old-book, at: p. 3}]\n"
	    "    shown_by:\n"
	    "      breaks: {on: steel}\n"
	    "      holds: [{on: brass}, {on: polystyrene}]\n"
	    "      open: [{on: substrate}]\n"
	    "  a-rule: {about: a, asks: part, when: part.lit, verdict: note, says: s, from: practice, " SHOWN "}\n",
	    &bytes, NULL);
	assert_int_equal(tc_rulebook_rules(book), 2);
	const tc_rule *a = tc_rulebook_rule(book, 0), *b = tc_rulebook_find(book, TC_TEXT("b-rule"));
	assert_string_equal(a->id, "a-rule");
	assert_null(tc_rulebook_find(book, TC_TEXT("c-rule")));
	assert_null(tc_rulebook_rule(book, 2));
	assert_int_equal(b->index, 1);
	assert_int_equal(b->ask, TC_ASK_TOUCH);
	assert_int_equal(b->verdict, TC_V_UNDECIDED);
	assert_string_equal(tc_library_defect(tc_rulebook_library(book), b->defect, NULL), "crazing");
	assert_int_equal(a->defect, TC_NONE);
	assert_string_equal(b->about, "it may go wrong");
	assert_string_equal(b->note, "a note");
	assert_null(a->note);
	assert_string_equal(b->when_text, "liquid is thinner and direct\n");
	assert_string_equal(b->place.file, "more.yaml");
	assert_int_equal(b->place.line, 2);
	assert_int_equal(b->outranks[0], a->index);
	assert_int_equal(b->outranks[1], TC_NONE);
	assert_int_equal(a->outranks[0], TC_NONE);
	assert_int_equal(b->cautions[0], 0);
	assert_int_equal(b->cautions[1], TC_NONE);
	assert_int_equal(b->bases[0]->source, TC_NONE);
	assert_string_equal(b->bases[1]->at, "p. 3");
	assert_true(b->bases[1]->memory); /* its source was not read */
	assert_null(b->bases[2]);
	assert_int_equal(tc_rulebook_shown(book, 1), 4);
	assert_int_equal(tc_rulebook_shown_at(book, 1, 0)->kind, TC_SHOWN_BREAKS);
	assert_int_equal(tc_rulebook_shown_at(book, 1, 3)->kind, TC_SHOWN_OPEN);
	assert_true(tc_node_is(tc_map_get(tc_rulebook_shown_at(book, 1, 2)->node, "on", NULL), "polystyrene"));
	assert_null(tc_rulebook_shown_at(book, 1, 4));
	static const tc_edit edits[] = {TC_EDIT_WAIT, TC_EDIT_SHORTEN, TC_EDIT_REMOVE, TC_EDIT_MOVE, TC_EDIT_DO,
	    TC_EDIT_INSTEAD, TC_EDIT_CHANGE, TC_EDIT_INSERT, TC_EDIT_INSERT, TC_EDIT_INSERT};
	assert_int_equal(b->remedies, 10);
	for (uint32_t i = 0; i < 10; i++)
		assert_int_equal(b->remedy[i].edit, edits[i]);
	const tc_edit_key *change = b->remedy[6].keys;
	static const char *const keys[] = {"coats", "pass", "thin.with", "thin.ratio", "at", "passes", "passes"};
	assert_int_equal(b->remedy[6].count, 7);
	for (uint32_t i = 0; i < 7; i++)
		assert_string_equal(change[i].key, keys[i]);
	assert_non_null(change[0].amount);
	assert_string_equal(change[1].word, "light");
	assert_string_equal(change[3].word, "2:1");
	assert_string_equal(change[6].word, "wet");
	assert_string_equal(b->remedy[7].keys[0].key, "coat");
	assert_string_equal(b->remedy[7].keys[0].word, "lacquer-primer");
	assert_string_equal(b->remedy[7].place, "under");
	assert_true(b->remedy[7].after);
	assert_string_equal(b->remedy[8].keys[1].key, "scribe.depth");
	assert_string_equal(b->remedy[8].place, "step"); /* where nothing is said */
	assert_string_equal(b->remedy[9].keys[1].word, "yes");
	tc_rulebook_free(book);
	free(bytes);
}

static void test_keys(void **state)
{
	(void)state;
	refused("rules:\n  a-rule: {about: a, asks: part}\n",
	    "more.yaml:2:3: error: `a-rule` has no `when` [missing-key]\n"
	    "more.yaml:2:3: error: `a-rule` has no `verdict` [missing-key]\n"
	    "more.yaml:2:3: error: `a-rule` has no `says` [missing-key]\n"
	    "more.yaml:2:3: error: `a-rule` has no `from` [missing-key]\n"
	    "more.yaml:2:3: error: `a-rule` has no `shown_by` [missing-key]\n");
	refused(
	    RULE("a-rule", "    remedy: []\n"), "more.yaml:10:5: error: a rule has no key `remedy` [unknown-key]\n");
	refused("rules:\n  a-rule: 7\n",
	    "more.yaml:2:11: error: a rule is a mapping of its keys; this is a text [wrong-shape]\n");
	refused(
	    "rules:\n  a-rule: {about: a, asks: contacts, when: direct, verdict: err, says: s, from: practice, " SHOWN
	    "}\n",
	    "more.yaml:2:28: error: `contacts` is nothing that `asks` can be; `contact` is near [unknown-name]\n"
	    "more.yaml:2:61: error: `err` is nothing that `verdict` can be [unknown-name]\n");
	refused(RULE("a-rule", "    defect: liftin\n    cautions: [air-room]\n    outranks: b-rule\n"),
	    "more.yaml:10:13: error: no defect `liftin`; `lifting` is near [unknown-name]\n"
	    "more.yaml:11:16: error: no caution `air-room` [unknown-name]\n"
	    "more.yaml:12:15: error: no rule `b-rule`; `a-rule` is near [unknown-name]\n");
	refused("rules:\n  a-rule: {about: a, asks: contact, when: direct, verdict: error, says: s, from: {source: "
	        "nobook}, " SHOWN "}\n",
	    "more.yaml:2:91: error: no source `nobook`; list it in section `sources` [unknown-name]\n");
}

static void test_shown(void **state)
{
	(void)state;
	refused("rules:\n  a-rule: {about: a, asks: contact, when: direct, verdict: error, says: s, from: practice, "
	        "shown_by: "
	        "{breaks: [], hold: []}}\n",
	    "more.yaml:2:102: error: `a-rule` has no recipe in which it breaks; `shown_by` gives at least one in "
	    "`breaks` [shown-by]\n"
	    "more.yaml:2:102: error: `a-rule` has no recipe in which it holds; `shown_by` gives at least one in "
	    "`holds` [shown-by]\n"
	    "more.yaml:2:115: error: `shown_by` has no key `hold`; it has `breaks`, `holds` and `open` "
	    "[unknown-key]\n");
}

static void test_cycles(void **state)
{
	(void)state;
#define OUT(id, outranks)                                                                                              \
	"  " id ": {about: a, asks: contact, when: direct, verdict: error, says: s, from: practice, " SHOWN            \
	", outranks: [" outranks "]}\n"
	refused("rules:\n" OUT("a", "b") OUT("b", "c") OUT("c", "a") OUT("d", "a"),
	    "more.yaml:2:3: error: `a` outranks itself by way of `c` [cycle]\nmore.yaml:4:3: note: `c` stands here\n");
	refused("rules:\n" OUT("a", "a"),
	    "more.yaml:2:3: error: `a` outranks itself by way of `a` [cycle]\nmore.yaml:2:3: note: `a` stands here\n");
	tc_rulebook *book = load_book("rules:\n" OUT("a", "b, c") OUT("b", "d") OUT("c", "d") OUT("d", ""), NULL, NULL);
	tc_rulebook_free(book); /* two ways to one rule are no cycle */
}

static void test_remedies(void **state)
{
	(void)state;
#define REMEDY(text) RULE("a-rule", "    remedies: [" text "]\n")
	refused(REMEDY("{wait: 3}"), "more.yaml:10:23: error: `3` is a bare number; wait wants a time [dimensions]\n");
	refused(REMEDY("{wait: coat.dry_film}"),
	    "more.yaml:10:23: error: `coat.dry_film` is a length; wait wants a time [dimensions]\n");
	refused(REMEDY("{wate: 3 h}"), "more.yaml:10:17: error: no edit `wate` [unknown-key]\n");
	refused(REMEDY("{wait: 3 h, shorten: 2 h}"),
	    "more.yaml:10:28: error: one remedy makes one edit; begin another item for `shorten` [remedy]\n");
	refused(REMEDY("{before: coat}"), "more.yaml:10:16: error: a remedy is an edit: wait, shorten, change, insert, "
	                                  "instead, remove, move or do [remedy]\n");
	refused(REMEDY("{change: {at: 20 K}}"),
	    "more.yaml:10:30: error: `20 K` is a difference of temperatures; at wants a temperature [type]\n");
	refused(REMEDY("{change: {pass: ligth}}"),
	    "more.yaml:10:32: error: `ligth` is no word of `pass`; `light` is near [unknown-name]\n");
	refused(
	    REMEDY("{change: {colour: red}}"), "more.yaml:10:26: error: a step has no key `colour` [unknown-key]\n");
	refused(
	    REMEDY("{change: {thin: {much: 3}}}"), "more.yaml:10:33: error: `thin` has no key `much` [unknown-key]\n");
	refused(REMEDY("{change: {thin: {ratio: 3}}}"),
	    "more.yaml:10:40: error: `3` is no ratio; write one as `2:1` or `4:1:1` [remedy]\n");
	refused(REMEDY("{insert: {grit: P800}}"), "more.yaml:10:25: error: an inserted step has a verb (`sand`, "
	                                          "`coat`, `cure` …), or is `{kind: K, that: …}` [remedy]\n");
	refused(REMEDY("{insert: {sand: P801}}"),
	    "more.yaml:10:32: error: no kind or material `P801`; `p800` is near [unknown-name]\n");
	refused(REMEDY("{insert: {sand: detergent}}"),
	    "more.yaml:10:32: error: `detergent` is nothing that `sand` takes [remedy]\n");
	refused(REMEDY("{insert: {sand: P800, role: primer}}"),
	    "more.yaml:10:38: error: `role` means nothing at `sand` [remedy]\n");
	refused(REMEDY("{insert: {cure: oven}}"),
	    "more.yaml:10:32: error: `oven` is nothing that `cure` takes; write `lamp` [remedy]\n");
	refused(REMEDY("{insert: {kind: barier}}"),
	    "more.yaml:10:32: error: no kind or material `barier`; `barrier` is near [unknown-name]\n");
	refused(REMEDY("{insert: {kind: barrier, that: new.age > 3 h}}"),
	    "more.yaml:10:51: error: no field `age` of a product [unknown-name]\n");
	refused(REMEDY("{instead: {coat: lacquer-primer}}"),
	    "more.yaml:10:26: error: `instead` names a `kind`: `{kind: K, that: …}` [remedy]\n");
	refused(REMEDY("{insert: {sand: P800}, before: liquid}"),
	    "more.yaml:10:47: error: `before` is `coat`, `step` or `under`, as far as the rule asks for it [remedy]\n");
	refused(
	    REMEDY("{remove: yes}"), "more.yaml:10:25: error: `remove: step` is all that `remove` takes [remedy]\n");
	refused(REMEDY("{move: coat}"), "more.yaml:10:23: error: `move` says where: `{before: coat}` [remedy]\n");
	refused(REMEDY("{do: 'wait for {rain}'}"), "more.yaml:10:32: error: no name `rain` here [unknown-name]\n");
	refused(REMEDY("{insert: {kind: barrier, that: min(new.solids, 3 %) > 2 %}}"),
	    "more.yaml:10:47: error: inside { } and [ ] YAML ends a plain text at a comma, so this expression may be "
	    "cut; quote it, or "
	    "use block style [flow-expression]\n");
}

/* --- lets ------------------------------------------------------------------------------------------------------------ */

static void test_lets(void **state)
{
	(void)state;
	refused("let:\n  a_let: {asks: coat, is: coat.ag > 3 h}\n",
	    "more.yaml:2:32: error: no field `ag` of a layer; `age` is near [unknown-name]\n");
	refused("let:\n  a_let: {asks: coat, is: b_let}\n  b_let: {asks: coat, is: c_let}\n  c_let: {asks: coat, is: "
	        "a_let}\n",
	    "more.yaml:4:27: error: `a_let` is named by means of itself [cycle]\n");
	refused("let:\n  a_let: {asks: coat, is: a_let}\n",
	    "more.yaml:2:27: error: `a_let` is named by means of itself [cycle]\n");
	refused("let:\n  cured: {asks: coat, is: coat.age > 3 h}\n  min: {asks: coat, is: coat.age > 3 h}\n"
	        "  any: {asks: coat, is: coat.age > 3 h}\n  layers: {asks: coat, is: coat.age > 3 h}\n"
	        "  coat: {asks: coat, is: coat.age > 3 h}\n",
	    "more.yaml:2:3: error: `cured` is the name of a field already; take another [taken]\n"
	    "more.yaml:3:3: error: `min` is the name of a function already; take another [taken]\n"
	    "more.yaml:4:3: error: `any` is the name of a word of the language already; take another [taken]\n"
	    "more.yaml:5:3: error: `layers` is the name of a range already; take another [taken]\n"
	    "more.yaml:6:3: error: `coat` is the name of a subject already; take another [taken]\n");
	refused("let:\n  thin_film: {asks: coat, is: coat.age > 3 h}\n",
	    "more.yaml:2:3: error: `thin_film` stands already in `let`; an id is given once [duplicate-id]\n"
	    "book.yaml:54:3: note: `thin_film` stands here\n");
	refused(
	    "let:\n  a_let: {is: 3 h}\n", "more.yaml:2:3: error: `a_let` has neither `asks` nor `of` [missing-key]\n");
	refused("let:\n  a_let: {asks: coat}\n", "more.yaml:2:3: error: `a_let` has no `is` [missing-key]\n");
	refused("let:\n  a_let: {asks: coats, is: 3 h}\n",
	    "more.yaml:2:17: error: `asks` is one of recipe, part, step, coat, contact and touch [unknown-name]\n");
	refused("let:\n  a_let: {of: {x: thing}, is: 3 h}\n",
	    "more.yaml:2:19: error: a parameter is one of part, step, "
	    "layer, exposed, liquid and product [unknown-name]\n");
	refused("let:\n  a_let: {of: {coat: layer}, is: 3 h}\n",
	    "more.yaml:2:16: error: `coat` is the name of a subject already; take another [taken]\n");
	refused("let:\n  a_let: {of: {x: layer, y: layer, z: layer}, is: 3 h}\n",
	    "more.yaml:2:15: error: `of` gives one or two named subjects, as in `{x: exposed}` [wrong-shape]\n");
	refused("let:\n  a_let: {of: {x: layer}, is: gap > 3 h}\n",
	    "more.yaml:2:31: error: there is no `gap` in what asks for a recipe; a contact and a touch have it "
	    "[unknown-name]\n");
	refused("let:\n  a_let: 3 h\n",
	    "more.yaml:2:10: error: a let is a mapping with `asks` or `of`, and `is`; this is a text [wrong-shape]\n");
}

/* A broken let has its messages once, however often it is used; and what is wrong only where it is used is said there. */
static void test_broken_let(void **state)
{
	(void)state;
	refused("let:\n  a_let: {asks: coat, is: coat.ag > 3 h}\n  b_let: {asks: coat, is: a_let and coat.old}\n"
	        "rules:\n  a: {about: a, asks: contact, when: b_let or a_let, verdict: error, says: s, from: "
	        "practice, " SHOWN "}\n",
	    "more.yaml:2:32: error: no field `ag` of a layer; `age` is near [unknown-name]\n");
	refused("rules:\n  a: {about: a, asks: contact, when: not half_cured(under), verdict: error, says: s, from: "
	        "practice, " SHOWN "}\n",
	    "more.yaml:2:42: error: `under.cured` can be absent under `not`; write `has under.cured and …` "
	    "[absent-negated]\n"
	    "book.yaml:55:62: note: in `half_cured`\n");
}

/* --- doors ------------------------------------------------------------------------------------------------------------ */

static const tc_entry *entry(const tc_rulebook *book, const char *id)
{
	const tc_entry *found = tc_library_by_id(tc_rulebook_library(book), tc_text_of(id));
	assert_non_null(found);
	return found;
}

static void test_doors(void **state)
{
	(void)state;
#define WHEN(id, asks, when)                                                                                           \
	"  " id ": {about: a, asks: " asks ", when: '" when "', verdict: error, says: s, from: practice, " SHOWN "}\n"
	tc_rulebook *book = load_book(
	    "rules:\n" WHEN("a", "contact", "coat is lacquer and under is enamel and gap > 3 h")
	        WHEN("b", "contact", "coat is lacquer or under is enamel")
	            WHEN("c", "contact", "coat is not one of [lacquer, enamel] and under is metal")
	                WHEN("d", "step", "step.verb is one of [sand, wait] and step.at > 30 °C")
	                    WHEN("e", "touch", "liquid is thinner and (under is thermoplastic and not under is metal)")
	                        WHEN("f", "contact", "not (coat is lacquer or under is enamel)"),
	    NULL, NULL);
	const tc_rule *a = tc_rulebook_rule(book, 0), *b = a + 1, *c = a + 2, *d = a + 3, *e = a + 4, *f = a + 5;
	const tc_entry *lacquer = entry(book, "nitrocellulose-lacquer"), *enamel = entry(book, "alkyd-enamel"),
	               *brass = entry(book, "brass"), *plastic = entry(book, "polystyrene"),
	               *any = entry(book, "coating");
	assert_true(tc_rule_door(book, a, lacquer, enamel, TC_NONE));
	assert_false(tc_rule_door(book, a, enamel, enamel, TC_NONE));
	assert_false(tc_rule_door(book, a, lacquer, brass, TC_NONE));
	assert_true(tc_rule_door(book, a, any, any, TC_NONE)); /* U does not shut it */
	assert_true(tc_rule_door(book, a, NULL, enamel, TC_NONE));
	assert_true(tc_rule_door(book, b, enamel, brass, TC_NONE)); /* an `or` is no door */
	assert_false(tc_rule_door(book, c, lacquer, brass, TC_NONE));
	assert_true(tc_rule_door(book, c, entry(book, "urethane-2k"), brass, TC_NONE));
	assert_true(tc_rule_door(book, d, NULL, NULL, TC_VERB_SAND));
	assert_false(tc_rule_door(book, d, NULL, NULL, TC_VERB_COAT));
	assert_true(tc_rule_door(book, d, NULL, NULL, TC_NONE));
	assert_true(tc_rule_door(book, e, entry(book, "toluene"), plastic, TC_NONE));
	assert_false(tc_rule_door(book, e, entry(book, "toluene"), brass, TC_NONE));
	assert_false(tc_rule_door(book, e, entry(book, "detergent"), plastic, TC_NONE));
	assert_false(tc_rule_door(book, f, lacquer, brass, TC_NONE)); /* not (a or b): each must be F */
	assert_true(tc_rule_door(book, f, enamel, brass, TC_NONE));
	assert_true(tc_rule_speaks_of(book, a, lacquer, enamel));
	assert_false(tc_rule_speaks_of(book, a, lacquer, brass));
	assert_false(tc_rule_speaks_of(book, b, lacquer, enamel)); /* no conjuncts */
	assert_false(tc_rule_speaks_of(book, c, any, brass));      /* one side only with `not` */
	assert_true(tc_rule_speaks_of(book, e, entry(book, "toluene"), plastic));
	assert_false(tc_rule_speaks_of(book, d, lacquer, brass));
	tc_rulebook_free(book);
}

/* --- layers ----------------------------------------------------------------------------------------------------------- */

/* What an upper layer changes is listed, and its expressions are placed in its own file. */
static void test_layers(void **state)
{
	(void)state;
	size_t length;
	char *const book = read_text_file("tests/unit/rule/book.yaml", &length), *const defaults = some_defaults();
	const char *const below = RULE("a-rule", "");
	const char *above = "amend:\n  a-rule: {verdict: note, because: I am used to it}\n"
	                    "  thin_film: {is: coat.dry_film < 9 µm, because: mine are thinner}\n";
	tc_rulebook_file files[] = {{"book.yaml", book, length, 0}, {"defaults.yaml", defaults, strlen(defaults), 0},
	    {"below.yaml", below, strlen(below), 0}, {"above.yaml", above, strlen(above), 1}};
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(arena);
	tc_rulebook *rulebook;
	assert_int_equal(tc_rulebook_load(NULL, files, 4, false, diags, &rulebook), TC_OK);
	assert_int_equal(tc_rulebook_rule(rulebook, 0)->verdict, TC_V_NOTE);
	assert_int_equal(tc_rulebook_changes(rulebook), 2);
	assert_string_equal(tc_rulebook_change(rulebook, 0)->id, "a-rule");
	assert_string_equal(tc_rulebook_change(rulebook, 0)->because, "I am used to it");
	assert_string_equal(tc_rulebook_change(rulebook, 0)->place.file, "above.yaml");
	assert_null(tc_rulebook_change(rulebook, 2));
	tc_rulebook_free(rulebook);
	above = "amend:\n  thin_film: {is: coat.dry_fill < 9 µm, because: mine are thinner}\n";
	files[3] = (tc_rulebook_file){"above.yaml", above, strlen(above), 1};
	assert_int_equal(tc_rulebook_load(NULL, files, 4, false, diags, &rulebook), TC_BAD);
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	print_diags(diags, &out);
	assert_string_equal(
	    out.at, "above.yaml:2:24: error: no field `dry_fill` of a layer; `dry_film` is near [unknown-name]\n");
	tc_buffer_free(&out);
	tc_arena_free(arena);
	free(book);
	free(defaults);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(test_all_keys), cmocka_unit_test(test_keys),
	    cmocka_unit_test(test_shown), cmocka_unit_test(test_cycles), cmocka_unit_test(test_remedies),
	    cmocka_unit_test(test_lets), cmocka_unit_test(test_broken_let), cmocka_unit_test(test_doors),
	    cmocka_unit_test(test_layers)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
