/* The place of a mistake is that in the file, in every style that YAML has for a text. */
#include "fake.h"

static void says(const char *more, const char *wanted)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	assert_null(load_book(more, NULL, &out));
	assert_string_equal(out.at, wanted);
	tc_buffer_free(&out);
}

#define HEAD                                                                                                           \
	"rules:\n  a:\n    about: a\n    asks: contact\n    verdict: note\n    from: practice\n"                       \
	"    shown_by: {breaks: [{on: steel}], holds: [{on: brass}]}\n"

static void test_plain(void **state)
{
	(void)state;
	says(HEAD "    says: s\n    when: gap > 3 h and coat.ag > 3 h\n",
	    "more.yaml:9:30: error: no field `ag` of a layer; `age` is near [unknown-name]\n");
	/* over two lines, which YAML joins */
	says(HEAD "    says: s\n    when: gap > 3 h and\n      direct and coat.ag > 3 h\n",
	    "more.yaml:10:23: error: no field `ag` of a layer; `age` is near [unknown-name]\n");
}

static void test_single(void **state)
{
	(void)state;
	says(HEAD "    says: s\n    when: 'coat.label = ''it''''s'' and coat.ag > 3 h'\n",
	    "more.yaml:9:46: error: no field `ag` of a layer; `age` is near [unknown-name]\n");
}

static void test_double(void **state)
{
	(void)state;
	says(HEAD "    says: s\n    when: \"coat.label = 'grün' and coat.ag > 3 h\"\n",
	    "more.yaml:9:41: error: no field `ag` of a layer; `age` is near [unknown-name]\n");
	says(HEAD "    says: s\n    when: \"coat.label matches '\\x41'\"\n",
	    "more.yaml:9:32: error: in double quotes YAML changes what follows a backslash; use single quotes, or a "
	    "block under `|` "
	    "[escape-in-expression]\n");
}

static void test_folded(void **state)
{
	(void)state;
	says(HEAD "    says: s\n    when: >\n      gap > 3 h\n      and direct\n\n      and coat.ag > 3 h\n",
	    "more.yaml:13:16: error: no field `ag` of a layer; `age` is near [unknown-name]\n");
	says(HEAD "    says: s\n    when: >-\n      gap > 3 h and\n        direct and coat.ag > 3 h\n",
	    "more.yaml:11:25: error: no field `ag` of a layer; `age` is near [unknown-name]\n");
}

static void test_literal(void **state)
{
	(void)state;
	says(HEAD "    says: s\n    when: |\n      gap > 3 h\n      and coat.ag > 3 h\n",
	    "more.yaml:11:16: error: no field `ag` of a layer; `age` is near [unknown-name]\n");
}

static void test_flow(void **state)
{
	(void)state;
	says("rules:\n  a: {about: a, asks: contact, verdict: note, from: practice, says: s,\n"
	     "      shown_by: {breaks: [{on: steel}], holds: [{on: brass}]}, when: coat.ag > 3 h}\n",
	    "more.yaml:3:75: error: no field `ag` of a layer; `age` is near [unknown-name]\n");
	says("rules:\n  a: {about: a, asks: contact, verdict: note, from: practice, says: s,\n"
	     "      shown_by: {breaks: [{on: steel}], holds: [{on: brass}]}, when: min(coat.age, 2 h) > 3 h}\n",
	    "more.yaml:3:70: error: inside { } and [ ] YAML ends a plain text at a comma, so this expression may be "
	    "cut; quote it, or "
	    "use block style [flow-expression]\n"
	    "more.yaml:3:84: error: a rule has no key `2 h) > 3 h` [unknown-key]\n");
	says("rules:\n  a: {about: a, asks: contact, verdict: note, from: practice, says: s,\n"
	     "      shown_by: {breaks: [{on: steel}], holds: [{on: brass}]}, when: [gap] }\n",
	    "more.yaml:3:70: error: `when` is an expression, and one that begins with `[` is a list for YAML; turn it "
	    "round, or put it "
	    "in quotes [wrong-shape]\n");
}

/* Holes of a template, and amounts of remedies. */
static void test_holes(void **state)
{
	(void)state;
	says(HEAD "    when: direct\n    says: >\n      {coat} lies on {under}\n      after {gp}\n",
	    "more.yaml:11:14: error: no name `gp` here; `gap` is near [unknown-name]\n");
	says(HEAD "    when: direct\n    says: \"{coat} on {under.curred}\"\n",
	    "more.yaml:9:29: error: no field `curred` of an exposed material; `cured` is near [unknown-name]\n");
	says(HEAD "    when: direct\n    says: {coat}\n",
	    "more.yaml:9:11: error: `says` is a text; this is a mapping. One that begins with `{` is quoted "
	    "[wrong-shape]\n");
	says(HEAD "    when: direct\n    says: s\n    remedies:\n      - wait: gap +\n          3 µm\n",
	    "more.yaml:11:15: error: `gap + 3 µm` adds a time to a length [dimensions]\nmore.yaml:12:11: note: `3 µm` "
	    "is a length\n");
}

static void test_comment(void **state)
{
	(void)state;
	says(HEAD "    says: s\n    when: gap > #4\n", "more.yaml:9:17: error: for YAML ` #` begins a comment, which "
	                                               "leaves this expression incomplete; quote it, or write it under "
	                                               "`|` [comment-in-expression]\n");
}

/* CR LF counts as one end of line, a byte order mark as nothing. */
static void test_windows_file(void **state)
{
	(void)state;
	says("\xEF\xBB\xBF"
	     "let:\r\n  a_let:\r\n    asks: coat\r\n    is: >\r\n      coat.old\r\n      or coat.ag > 3 h\r\n",
	    "more.yaml:6:15: error: no field `ag` of a layer; `age` is near [unknown-name]\n");
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(test_plain), cmocka_unit_test(test_single),
	    cmocka_unit_test(test_double), cmocka_unit_test(test_folded), cmocka_unit_test(test_literal),
	    cmocka_unit_test(test_flow), cmocka_unit_test(test_holes), cmocka_unit_test(test_comment),
	    cmocka_unit_test(test_windows_file)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
