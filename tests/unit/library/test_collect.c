/* Sections, ids and duplicates: every fault with its place. */
#include "book.h"

static void sections_of_several_files_and_documents(void **state)
{
	(void)state;
	book b = open_good(
	    "kinds:\n  zinc: {from: practice}\n---\n\n---\nkinds: {amber: {from: practice}}\nlet:\nrules: {}\n");
	assert_int_equal(tc_collection_count(b.collection, TC_SECTION_KINDS), 2);
	const tc_item *first = tc_collection_at(b.collection, TC_SECTION_KINDS, 0);
	assert_string_equal(first->id, "amber"); /* by id, not by place */
	assert_string_equal(first->place.file, "a.yaml");
	assert_int_equal(first->place.line, 6);
	assert_int_equal(first->place.column, 9);
	assert_int_equal(first->section, TC_SECTION_KINDS);
	assert_ptr_equal(tc_collection_find(b.collection, TC_TEXT("amber")), first);
	assert_null(tc_collection_find(b.collection, TC_TEXT("copper")));
	assert_null(tc_collection_find(b.collection, TC_TEXT("temperature")));
	assert_non_null(tc_collection_find(b.collection, TC_TEXT("defaults/temperature")));
	assert_non_null(tc_collection_find(b.collection, TC_TEXT("words/role")));
	assert_int_equal(tc_collection_count(b.collection, TC_SECTION_RULES), 0);
	assert_int_equal(tc_collection_changes(b.collection), 0);
	assert_string_equal(tc_section_name(TC_SECTION_LET), "let");
	assert_string_equal(tc_section_name(TC_SECTION_RETIRE), "retire");
	close_book(&b);
}

static void the_order_of_files_does_not_matter(void **state)
{
	(void)state;
	const char *one = "kinds:\n  b: {from: practice}\n",
	           *two = "kinds:\n  a: {under: b, from: practice}\n  b: {}\n";
	const tc_rulebook_file forth[] = {
	    file_of("1.yaml", one, 0), file_of("2.yaml", two, 0), file_of("0.yaml", BENCH, 0)};
	const tc_rulebook_file back[] = {forth[2], forth[1], forth[0]};
	const char *said = "2.yaml:3:3: error: `b` stands already in `kinds`; an id is given once [duplicate-id]\n"
	                   "1.yaml:2:3: note: `b` stands here\n";
	expect(open_files(forth, 3), said);
	expect(open_files(back, 3), said);
}

static void unknown_sections(void **state)
{
	(void)state;
	says("coating: {}\nfoo: {}\nrules:\n",
	    "a.yaml:1:1: error: no section `coating`; `coatings` is near [unknown-section]\n"
	    "a.yaml:2:1: error: no section `foo`; docs/rulebook.md lists the sections [unknown-section]\n");
}

static void wrong_shapes(void **state)
{
	(void)state;
	says(
	    "- kinds\n", "a.yaml:1:1: error: a rulebook file is a mapping of sections; this is a list [wrong-shape]\n");
	says("kinds: [a]\nsolvents: none\n",
	    "a.yaml:1:8: error: section `kinds` is a mapping of its entries by id; this is a list [wrong-shape]\n"
	    "a.yaml:2:11: error: section `solvents` is a mapping of its entries by id; this is a text [wrong-shape]\n");
	says("kinds:\n  a: practice\n  b:\n",
	    "a.yaml:2:6: error: `a` is a mapping of its keys; this is a text [wrong-shape]\n"
	    "a.yaml:3:5: error: `b` is a mapping of its keys; this is nothing [wrong-shape]\n");
}

static void bad_ids(void **state)
{
	(void)state;
	says("kinds:\n  Lacquer: {from: practice}\n  a_b: {from: practice}\n  -c: {from: practice}\n  9: {from: "
	     "practice}\n"
	     "let:\n  half-cured: {}\n  _x: {}\n  thin_film: {}\n",
	    "a.yaml:2:3: error: `Lacquer` is no id; an id is a small letter or digit, then small letters, digits and "
	    "`-` [bad-id]\n"
	    "a.yaml:3:3: error: `a_b` is no id; an id is a small letter or digit, then small letters, digits and `-` "
	    "[bad-id]\n"
	    "a.yaml:4:3: error: `-c` is no id; an id is a small letter or digit, then small letters, digits and `-` "
	    "[bad-id]\n"
	    "a.yaml:7:3: error: `half-cured` is no name; in `let` a name is a small letter, then small letters, digits "
	    "and `_` [bad-id]\n"
	    "a.yaml:8:3: error: `_x` is no name; in `let` a name is a small letter, then small letters, digits and `_` "
	    "[bad-id]\n");
}

/* base/limits.h: TC_SYMBOL_TEXT_MAX is 64. */
static void the_longest_id(void **state)
{
	(void)state;
	char at[200], past[200], said[300];
	snprintf(at, sizeof at, "kinds:\n  %0*d: {from: practice}\n", 64, 1);
	snprintf(past, sizeof past, "kinds:\n  %0*d: {from: practice}\n", 65, 1);
	says(at, "");
	snprintf(said, sizeof said, "a.yaml:2:3: error: an id has at most 64 bytes; this one has 65 [bad-id]\n");
	says(past, said);
}

static void duplicates_over_sections(void **state)
{
	(void)state;
	says("kinds:\n  k: {from: practice}\nsolvents:\n  k: {kind: k, from: practice}\nsources:\n  good-book: {title: "
	     "x, read: no}\n",
	    "a.yaml:4:3: error: `k` stands already in `kinds`; an id is given once [duplicate-id]\n"
	    "a.yaml:2:3: note: `k` stands here\n"
	    "bench.yaml:2:3: error: `good-book` stands already in `sources`; an id is given once [duplicate-id]\n"
	    "a.yaml:6:3: note: `good-book` stands here\n");
	/* words, defaults and unclear words are no ids */
	says("kinds:\n  role: {from: practice}\n  gloss: {from: practice}\nunclear:\n  role: is it one?\n", "");
}

/* One file that is no YAML: nothing is said of what would be missing without it. */
static void broken_yaml(void **state)
{
	(void)state;
	book b = open_text("kinds:\n  a: {from: practice\n");
	assert_int_equal(b.collected, TC_BAD);
	assert_null(b.collection);
	assert_non_null(strstr(b.said, "a.yaml:"));
	assert_non_null(strstr(b.said, "[yaml-syntax]"));
	assert_int_equal(tc_diags_errors(b.diags), 1);
	close_book(&b);
}

static void no_files(void **state)
{
	(void)state;
	book b = open_files(NULL, 0);
	assert_int_equal(b.collected, TC_OK);
	assert_string_equal(b.said, "error: no file of the rulebook has a section `defaults` [missing-key]\n");
	close_book(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(sections_of_several_files_and_documents),
	    cmocka_unit_test(the_order_of_files_does_not_matter),
	    cmocka_unit_test(unknown_sections),
	    cmocka_unit_test(wrong_shapes),
	    cmocka_unit_test(bad_ids),
	    cmocka_unit_test(the_longest_id),
	    cmocka_unit_test(duplicates_over_sections),
	    cmocka_unit_test(broken_yaml),
	    cmocka_unit_test(no_files),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
