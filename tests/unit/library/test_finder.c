/* Finding by name: ids, names, listed names, unclear words, patterns; and what a pattern may be. */
#include "book.h"

#define COATS (1u << TC_SECTION_COATINGS)
#define PARTS (1u << TC_SECTION_SUBSTRATES)
#define LIQUIDS (1u << TC_SECTION_SOLVENTS)
#define ANYTHING (~0u)

#define SHOP                                                                                                           \
	"kinds:\n"                                                                                                     \
	"  liquid: {from: practice}\n"                                                                                 \
	"  lacquer: {from: practice}\n"                                                                                \
	"  plastic: {from: practice}\n"                                                                                \
	"  enamel: {under: lacquer, from: practice}\n"                                                                 \
	"solvents:\n"                                                                                                  \
	"  spirit: {kind: liquid, from: practice, also: [White Ghost], known_as: 'nail varnish remover( "              \
	"\\(clear\\))?'}\n"                                                                                            \
	"coatings:\n"                                                                                                  \
	"  nitro-lacquer: {kind: enamel, name: Nitro, from: practice, known_as: '(NC|cellulose) (lacquer|dope)'}\n"    \
	"  dope: {kind: lacquer, from: practice, known_as: '.*dope|grün(er)? lack'}\n"                                \
	"substrates:\n"                                                                                                \
	"  sheet: {kind: plastic, name: acrylic, from: practice}\n"                                                    \
	"unclear:\n"                                                                                                   \
	"  acrylic: what cleans it up?\n"                                                                              \
	"  enamel: what thins it?\n"

static tc_find find;

static tc_found look(tc_finder *finder, const char *name, uint32_t sections)
{
	return tc_finder_find(finder, tc_text_of(name), sections, &find);
}

static void finds(tc_finder *finder, const char *name, uint32_t sections, const char *id)
{
	assert_int_equal(look(finder, name, sections), TC_FOUND);
	assert_string_equal(find.entry->id, id);
	assert_null(find.other);
}

static void by_exact_names(void **state)
{
	(void)state;
	book b = open_good(SHOP);
	tc_finder *f = tc_finder_new(b.library, NULL);
	assert_non_null(f);
	finds(f, "spirit", ANYTHING, "spirit");
	finds(f, "White Ghost", ANYTHING, "spirit");
	finds(f, " WHITE-ghost ", ANYTHING, "spirit");
	finds(f, "white_  ghost", ANYTHING, "spirit");
	finds(f, "white\xC2\xA0ghost", ANYTHING, "spirit"); /* a no-break blank */
	finds(f, "nitro", ANYTHING, "nitro-lacquer");
	finds(f, "Nitro Lacquer", ANYTHING, "nitro-lacquer"); /* its id, with a blank */
	assert_int_equal(look(f, "whiteghost", ANYTHING), TC_FOUND_NOTHING);
	tc_finder_free(f);
	tc_finder_free(NULL);
	close_book(&b);
}

static void sections_that_are_welcome(void **state)
{
	(void)state;
	book b = open_good(SHOP);
	tc_finder *f = tc_finder_new(b.library, NULL);
	assert_int_equal(look(f, "spirit", COATS), TC_FOUND_NOTHING);
	assert_string_equal(find.other->id, "spirit"); /* it is there, but not welcome */
	finds(f, "lacquer", COATS, "lacquer");         /* a kind with coatings below it */
	assert_int_equal(look(f, "lacquer", PARTS), TC_FOUND_NOTHING);
	assert_string_equal(find.other->id, "lacquer");
	finds(f, "spirit", COATS | LIQUIDS, "spirit");
	tc_finder_free(f);
	close_book(&b);
}

/* A welcome material before an unclear word, that before a kind. */
static void unclear_words(void **state)
{
	(void)state;
	book b = open_good(SHOP);
	tc_finder *f = tc_finder_new(b.library, NULL);
	finds(f, "Acrylic", PARTS, "sheet");
	assert_int_equal(look(f, "Acrylic", COATS), TC_FOUND_UNCLEAR);
	assert_string_equal(find.question, "what cleans it up?");
	assert_int_equal(look(f, "enamel", COATS), TC_FOUND_UNCLEAR);
	assert_string_equal(find.question, "what thins it?");
	assert_null(find.entry);
	tc_finder_free(f);
	close_book(&b);
}

static void by_pattern(void **state)
{
	(void)state;
	book b = open_good(SHOP);
	tc_finder *f = tc_finder_new(b.library, NULL);
	finds(f, "nail varnish remover", ANYTHING, "spirit");
	finds(f, "Nail Varnish Remover (clear)", ANYTHING, "spirit");
	finds(f, "nc LACQUER", ANYTHING, "nitro-lacquer");
	finds(f, "model dope", COATS, "dope");
	finds(f, "GRÜNER Lack", COATS, "dope"); /* case beyond ASCII */
	/* anchored at both ends, also where the pattern has alternatives */
	assert_int_equal(look(f, "old nail varnish remover", ANYTHING), TC_FOUND_NOTHING);
	assert_int_equal(look(f, "nail varnish remover, clear", ANYTHING), TC_FOUND_NOTHING);
	assert_int_equal(look(f, "grün lackiert", ANYTHING), TC_FOUND_NOTHING);
	/* all branches are tried: two fit */
	assert_int_equal(look(f, "cellulose dope", ANYTHING), TC_FOUND_SEVERAL);
	assert_string_equal(find.entry->id, "dope");
	assert_string_equal(find.other->id, "nitro-lacquer");
	/* one of two is not welcome */
	assert_int_equal(look(f, "nail varnish remover", COATS), TC_FOUND_NOTHING);
	tc_finder_free(f);
	close_book(&b);
}

static void nearest_names(void **state)
{
	(void)state;
	book b = open_good(SHOP);
	tc_finder *f = tc_finder_new(b.library, NULL);
	assert_int_equal(look(f, "spirrit", ANYTHING), TC_FOUND_NOTHING);
	assert_true(tc_text_is(find.nearest, "spirit"));
	assert_int_equal(look(f, "white gost", ANYTHING), TC_FOUND_NOTHING);
	assert_true(tc_text_is(find.nearest, "White Ghost"));
	assert_int_equal(look(f, "spirrit", COATS), TC_FOUND_NOTHING);
	assert_int_equal(find.nearest.length, 0);
	assert_int_equal(look(f, "", ANYTHING), TC_FOUND_NOTHING);
	assert_int_equal(look(f, "a\xFF", ANYTHING), TC_FOUND_NOTHING); /* no UTF-8 */
	tc_finder_free(f);
	close_book(&b);
}

/* A pattern that doubles its ways with each letter is given up, not waited for; the next name is looked up as ever. */
static void patterns_without_end(void **state)
{
	(void)state;
	book b = open_good("kinds: {k: {from: practice}}\n"
	                   "coatings:\n"
	                   "  slow: {kind: k, from: practice, known_as: '(a+)+b'}\n"
	                   "  quick: {kind: k, from: practice, known_as: 'q+'}\n");
	tc_finder *f = tc_finder_new(b.library, NULL);
	assert_int_equal(look(f, "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaac", ANYTHING), TC_FOUND_LIMIT);
	assert_null(find.entry);
	finds(f, "qqq", ANYTHING, "quick");
	finds(f, "aaab", ANYTHING, "slow");
	tc_finder_free(f);
	close_book(&b);
}

/* More than PCRE2 takes in one piece: 64 KiB compiled. Each pattern is still found, and two of them by one name. */
static void more_patterns_than_one_match_holds(void **state)
{
	(void)state;
	enum { PATTERNS = 300 };
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_buffer_puts(&out, "kinds: {k: {from: practice}}\ncoatings:\n");
	for (unsigned i = 0; i < PATTERNS; i++) {
		tc_buffer_print(&out, "  c%03u: {kind: k, from: practice, known_as: 'x%03u", i, i);
		tc_buffer_fill(&out, 'y', 900);
		tc_buffer_puts(&out, i % 299 ? "'}\n" : "|twin'}\n");
	}
	book b = open_good(out.at);
	tc_finder *f = tc_finder_new(b.library, NULL);
	char name[1000];
	for (unsigned i = 0; i < PATTERNS; i += 13) {
		memset(name, 'Y', sizeof name);
		name[snprintf(name, sizeof name, "X%03u", i)] = 'Y';
		name[904] = 0;
		char id[8];
		snprintf(id, sizeof id, "c%03u", i);
		finds(f, name, ANYTHING, id);
	}
	assert_int_equal(look(f, "twin", ANYTHING), TC_FOUND_SEVERAL);
	assert_string_equal(find.entry->id, "c000");
	assert_string_equal(find.other->id, "c299");
	tc_finder_free(f);
	close_book(&b);
	tc_buffer_free(&out);
}

/* Named groups of one name in two patterns, options of one that must not reach the other. */
static void patterns_keep_to_themselves(void **state)
{
	(void)state;
	book b = open_good("kinds: {k: {from: practice}}\n"
	                   "coatings:\n"
	                   "  a: {kind: k, from: practice, known_as: '(?-i)(?<tone>AB)c|x'}\n"
	                   "  b: {kind: k, from: practice, known_as: '(?<tone>de)f'}\n"
	                   "  c: {kind: k, from: practice, known_as: '[](*]g|\\(\\*h'}\n"
	                   "  d: {kind: k, from: practice, known_as: '[^]q]z|][\\](*]y'}\n");
	tc_finder *f = tc_finder_new(b.library, NULL);
	finds(f, "ABc", ANYTHING, "a");
	assert_int_equal(look(f, "abc", ANYTHING), TC_FOUND_NOTHING);
	finds(f, "DEF", ANYTHING, "b");
	finds(f, "(g", ANYTHING, "c");
	finds(f, "(*H", ANYTHING, "c");
	finds(f, "az", ANYTHING, "d");
	finds(f, "](y", ANYTHING, "d");
	assert_int_equal(look(f, "qz", ANYTHING), TC_FOUND_NOTHING);
	tc_finder_free(f);
	close_book(&b);
}

static void no_patterns_at_all(void **state)
{
	(void)state;
	book b = open_good("kinds: {k: {from: practice}}\n");
	tc_finder *f = tc_finder_new(b.library, NULL);
	assert_int_equal(look(f, "anything", ANYTHING), TC_FOUND_NOTHING);
	finds(f, "K", ANYTHING, "k"); /* whoever takes anything takes a kind with nothing below it */
	assert_int_equal(look(f, "K", COATS), TC_FOUND_NOTHING);
	tc_finder_free(f);
	close_book(&b);
}

/* --- what is refused at load -------------------------------------------------------------------------------------- */

/* The pattern begins in line 5, column 16; single quotes count. */
static void refused(const char *pattern, const char *said)
{
	char text[3000], all[3000];
	snprintf(text, sizeof text,
	    "kinds: {k: {from: practice}}\ncoatings:\n  a:\n    kind: k\n    known_as: '%s'\n    from: practice\n",
	    pattern);
	snprintf(all, sizeof all, "a.yaml:5:%s\n", said);
	says(text, all);
}

static void patterns_that_are_refused(void **state)
{
	(void)state;
	refused("a(b", "18: error: the pattern does not compile: missing closing parenthesis [pattern]");
	refused(
	    "grün[b", "21: error: the pattern does not compile: missing terminating ] for character class [pattern]");
	refused("a)|(b", "17: error: the pattern does not compile: unmatched closing parenthesis [pattern]");
	refused("(grün", "20: error: the pattern does not compile: missing closing parenthesis [pattern]");
	refused("a{2,1}", "21: error: the pattern does not compile: numbers out of order in {} quantifier [pattern]");
}

static void constructs_that_are_refused(void **state)
{
	(void)state;
	static const struct {
		const char *pattern, *said;
	} all[] = {
	    {"(a)\\1", "19: error: back references are not allowed in a pattern [pattern]"},
	    {"(?<n>a)\\k<n>", "23: error: back references are not allowed in a pattern [pattern]"},
	    {"(?<n>a)(?P=n)", "23: error: back references are not allowed in a pattern [pattern]"},
	    {"(a)\\g{1}", "19: error: back references are not allowed in a pattern [pattern]"},
	    {"a(?R)?b", "17: error: recursion is not allowed in a pattern [pattern]"},
	    {"(a)(?1)", "19: error: recursion is not allowed in a pattern [pattern]"},
	    {"(a)(?-1)", "19: error: recursion is not allowed in a pattern [pattern]"},
	    {"(?<n>a)(?&n)", "23: error: recursion is not allowed in a pattern [pattern]"},
	    {"(a)\\g<1>", "19: error: recursion is not allowed in a pattern [pattern]"},
	    {"a(?C1)", "17: error: callouts are not allowed in a pattern [pattern]"},
	    {"(*ACCEPT)a", "16: error: verbs such as `(*…)` are not allowed in a pattern [pattern]"},
	    {"[[:alpha:]](*COMMIT)", "27: error: verbs such as `(*…)` are not allowed in a pattern [pattern]"},
	    {"(?(?=a)b|c)", "16: error: conditions are not allowed in a pattern [pattern]"},
	    {"\\Qa", "16: error: `\\Q` is not allowed in a pattern; write `\\` before each sign [pattern]"},
	    /* a comment that would swallow what comes behind the pattern */
	    {"(?x)a # b", "16: error: the pattern does not compile: missing closing parenthesis [pattern]"},
	};
	for (size_t i = 0; i < sizeof all / sizeof *all; i++)
		refused(all[i].pattern, all[i].said);
}

/* base/limits.h: TC_PATTERN_MAX is 1024, and PCRE2's parentheses are held to TC_EXPR_DEPTH_MAX, 32. */
static void bounds_of_patterns(void **state)
{
	(void)state;
	char at[1025], past[1026];
	memset(at, 'a', 1024);
	memset(past, 'a', 1025);
	at[1024] = past[1025] = 0;
	refused(past, "15: error: the pattern has 1025 bytes; one has at most 1024 [bound]");
	char text[2000];
	snprintf(text, sizeof text,
	    "kinds: {k: {from: practice}}\ncoatings: {a: {kind: k, known_as: %s, from: practice}}\n", at);
	says(text, "");
	says("kinds:\n  k: {from: practice, known_as: [a]}\n",
	    "a.yaml:2:33: error: `known_as` is a pattern; this is a list [wrong-shape]\n");
}

static void in_one_section_a_name_belongs_to_one(void **state)
{
	(void)state;
	says("kinds: {k: {from: practice}, l: {name: K, from: practice}}\n"
	     "coatings:\n"
	     "  grey-paint: {kind: k, from: practice}\n"
	     "  mouse: {kind: k, name: Mouse, also: [Grey Paint, mouse], from: practice}\n"
	     "  owl: {kind: k, name: MOUSE, from: practice}\n",
	    "a.yaml:1:40: error: `K` names both `k` and `l`; in one section a name belongs to one [same-name]\n"
	    "a.yaml:1:9: note: `k` stands here\n"
	    "a.yaml:4:40: error: `Grey Paint` names both `grey-paint` and `mouse`; in one section a name belongs to "
	    "one [same-name]\n"
	    "a.yaml:3:3: note: `grey-paint` stands here\n"
	    "a.yaml:5:24: error: `MOUSE` names both `mouse` and `owl`; in one section a name belongs to one "
	    "[same-name]\n"
	    "a.yaml:4:3: note: `mouse` stands here\n");
}

/* A material goes before a kind; of two materials that one which is welcome; an id before a name. */
static void one_name_in_several_sections(void **state)
{
	(void)state;
	book b = open_good("kinds: {k: {name: Grey, from: practice}}\n"
	                   "solvents:\n"
	                   "  styrol: {kind: k, also: [glass], from: practice}\n"
	                   "substrates:\n"
	                   "  sheet: {kind: k, also: [styrol, glass], from: practice}\n"
	                   "coatings:\n"
	                   "  mouse: {kind: k, name: grey, from: practice}\n");
	tc_finder *f = tc_finder_new(b.library, NULL);
	finds(f, "styrol", LIQUIDS, "styrol");
	finds(f, "styrol", PARTS, "sheet");
	finds(f, "styrol", ANYTHING, "styrol");
	finds(f, "grey", ANYTHING, "mouse");
	finds(f, "grey", PARTS, "k");
	assert_int_equal(look(f, "glass", ANYTHING), TC_FOUND_SEVERAL);
	assert_string_equal(find.entry->id, "sheet");
	assert_string_equal(find.other->id, "styrol");
	finds(f, "glass", LIQUIDS, "styrol");
	tc_finder_free(f);
	close_book(&b);
	says("kinds: {k: {from: practice}}\n"
	     "solvents: {a: {kind: k, also: [x], from: practice}}\n"
	     "coatings: {b: {kind: k, also: [x], from: practice, sticks_to: x}}\n",
	    "a.yaml:3:63: error: `x` may be `a` or `b`; write which [same-name]\n");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(by_exact_names),
	    cmocka_unit_test(sections_that_are_welcome),
	    cmocka_unit_test(unclear_words),
	    cmocka_unit_test(by_pattern),
	    cmocka_unit_test(nearest_names),
	    cmocka_unit_test(patterns_without_end),
	    cmocka_unit_test(more_patterns_than_one_match_holds),
	    cmocka_unit_test(patterns_keep_to_themselves),
	    cmocka_unit_test(no_patterns_at_all),
	    cmocka_unit_test(patterns_that_are_refused),
	    cmocka_unit_test(constructs_that_are_refused),
	    cmocka_unit_test(bounds_of_patterns),
	    cmocka_unit_test(in_one_section_a_name_belongs_to_one),
	    cmocka_unit_test(one_name_in_several_sections),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
