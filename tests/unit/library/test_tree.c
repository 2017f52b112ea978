/* The tree of kinds: numbers, `is`, parents, cycles, bounds. */
#include "book.h"

static void numbered_in_preorder_by_id(void **state)
{
	(void)state;
	book b = open_good("coatings:\n"
	                   "  lac-b: {kind: lacquer, from: practice}\n"
	                   "  lac-a: {kind: lacquer, from: practice}\n"
	                   "kinds:\n"
	                   "  wood: {from: practice}\n"
	                   "  lacquer: {under: coating, from: practice}\n"
	                   "  coating: {from: practice}\n"
	                   "  enamel: {under: coating, from: practice}\n"
	                   "substrates:\n"
	                   "  oak: {kind: wood, from: practice}\n");
	static const char *const order[] = {"coating", "enamel", "lacquer", "lac-a", "lac-b", "wood", "oak"};
	static const uint32_t last[] = {4, 1, 4, 3, 4, 6, 6}, parent[] = {TC_NONE, 0, 0, 2, 2, TC_NONE, 5};
	assert_int_equal(tc_library_count(b.library), 7);
	for (uint32_t i = 0; i < 7; i++) {
		const tc_entry *entry = tc_library_entry(b.library, i);
		assert_string_equal(entry->id, order[i]);
		assert_int_equal(entry->index, i);
		assert_int_equal(entry->last, last[i]);
		assert_int_equal(entry->parent, parent[i]);
	}
	const tc_entry *coating = entry_of(&b, "coating"), *enamel = entry_of(&b, "enamel"), *oak = entry_of(&b, "oak");
	assert_true(coating->is_kind);
	assert_int_equal(coating->section, TC_SECTION_KINDS);
	assert_int_equal(coating->sections, 1u << TC_SECTION_COATINGS);
	assert_int_equal(enamel->sections, 0); /* nothing stands below it */
	assert_false(oak->is_kind);
	assert_int_equal(oak->sections, 1u << TC_SECTION_SUBSTRATES);
	assert_int_equal(oak->place.line, 10);
	assert_int_equal(oak->place.column, 3);
	assert_null(tc_library_by_id(b.library, TC_TEXT("Oak"))); /* ids, not names */
	close_book(&b);
}

/* language.md, section 7: T if the kind asked is at or above it, U below, F beside. */
static void is_and_its_three_truths(void **state)
{
	(void)state;
	book b = open_good("kinds:\n"
	                   "  coating: {from: practice}\n"
	                   "  lacquer: {under: coating, from: practice}\n"
	                   "  enamel: {under: coating, from: practice}\n"
	                   "coatings:\n"
	                   "  nitro: {kind: lacquer, from: practice}\n");
	const tc_entry *coating = entry_of(&b, "coating"), *lacquer = entry_of(&b, "lacquer"),
	               *enamel = entry_of(&b, "enamel"), *nitro = entry_of(&b, "nitro");
	assert_true(tc_entry_is(nitro, lacquer));
	assert_true(tc_entry_is(nitro, coating));
	assert_true(tc_entry_is(lacquer, lacquer));
	assert_false(tc_entry_is(nitro, enamel));
	assert_false(tc_entry_is(coating, lacquer));
	assert_int_equal(tc_entry_is_truth(nitro, coating), TC_TRUE);
	assert_int_equal(tc_entry_is_truth(coating, lacquer), TC_UNSURE); /* some old finish: perhaps a lacquer */
	assert_int_equal(tc_entry_is_truth(coating, nitro), TC_UNSURE);
	assert_int_equal(tc_entry_is_truth(lacquer, enamel), TC_FALSE);
	close_book(&b);
}

static void parents_that_are_not_there(void **state)
{
	(void)state;
	says("kinds:\n"
	     "  coating: {from: practice}\n"
	     "  lacquer: {under: coatin, from: practice}\n"
	     "  wood: {under: tree, from: practice}\n"
	     "  glass: {under: [a], from: practice}\n"
	     "coatings:\n"
	     "  nitro: {from: practice}\n"
	     "  dope: {kind: nitro, from: practice}\n",
	    "a.yaml:3:20: error: no kind `coatin`; `coating` is near [unknown-name]\n"
	    "a.yaml:4:17: error: no kind `tree`; list it in section `kinds` [unknown-name]\n"
	    "a.yaml:5:18: error: `under` is the id of a kind; this is a list [wrong-shape]\n"
	    "a.yaml:7:3: error: `nitro` has no `kind`; every material is of one [missing-key]\n"
	    "a.yaml:8:16: error: `nitro` is a material; only kinds have something below them [not-a-kind]\n"
	    "a.yaml:7:3: note: `nitro` stands here\n");
}

static void cycles(void **state)
{
	(void)state;
	says("kinds:\n  a: {under: a, from: practice}\n",
	    "a.yaml:2:14: error: `a` stands under itself: under `a` [cycle]\n");
	/* one message a cycle, at its first id, though the walk comes in from outside */
	says("kinds:\n"
	     "  a: {under: q, from: practice}\n"
	     "  q: {under: r, from: practice}\n"
	     "  r: {under: p, from: practice}\n"
	     "  p: {under: q, from: practice}\n"
	     "coatings:\n"
	     "  z: {kind: a, from: practice}\n",
	    "a.yaml:5:14: error: `p` stands under itself: under `q` under `r` under `p` [cycle]\n");
}

/* A chain of kinds of that depth. */
static char *chain(unsigned depth)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_buffer_puts(&out, "kinds:\n  k01: {from: practice}\n");
	for (unsigned i = 2; i <= depth; i++)
		tc_buffer_print(&out, "  k%02u: {under: k%02u, from: practice}\n", i, i - 1);
	return out.at;
}

/* base/limits.h: TC_KIND_DEPTH_MAX is 16. */
static void depth_of_kinds(void **state)
{
	(void)state;
	char *at = chain(16), *past = chain(18);
	says(at, "");
	says(past, "a.yaml:18:3: error: `k17` lies deeper in the tree of kinds than 16 [bound]\n");
	free(at);
	free(past);
}

static char *many(unsigned count)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_buffer_puts(&out, "kinds:\n");
	for (unsigned i = 1; i <= count; i++)
		tc_buffer_print(&out, "  k%04u: {from: practice}\n", i);
	return out.at;
}

/* base/limits.h: TC_ENTRIES_MAX is 4096. */
static void number_of_entries(void **state)
{
	(void)state;
	char *at = many(4096), *past = many(4097);
	says(at, "");
	says(past, "a.yaml:4098:3: error: 4097 kinds and materials; a rulebook has at most 4096 [bound]\n");
	free(at);
	free(past);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(numbered_in_preorder_by_id),
	    cmocka_unit_test(is_and_its_three_truths),
	    cmocka_unit_test(parents_that_are_not_there),
	    cmocka_unit_test(cycles),
	    cmocka_unit_test(depth_of_kinds),
	    cmocka_unit_test(number_of_entries),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
