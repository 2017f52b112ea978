/* What YAML may have done to an expression: the rows of the table in the rule language, §1. */
#include "check.h"

typedef struct row {
	const char *text;
	bool sibling, good;
	const char *expected;
} row;

/* Checks the value of `that`, wherever it stands. */
static const tc_node *expression_of(const tc_node *node)
{
	const tc_node *found = tc_map_get(node, "that", NULL);
	for (size_t i = 0; !found && node->kind != TC_SCALAR && i < node->count; i++)
		found = expression_of(node->kind == TC_MAP ? tc_map_value(node, i) : node->items[i]);
	return found;
}

static void check_rows(const row *rows, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		reading r = read_text(rows[i].text);
		const tc_node *scalar = expression_of(r.root);
		assert_non_null(scalar);
		assert_int_equal(tc_yaml_expression_check(r.source, scalar, rows[i].sibling, r.diags), rows[i].good);
		assert_string_equal(messages(&r), rows[i].expected);
		done(&r);
	}
}

static void untouched(void **state)
{
	(void)state;
	static const row rows[] = {
	    {"that: gap > 3 h and coat.red(under) < 1\n", false, true, ""},
	    {"that: x is one of [a, b]\n", false, true, ""},
	    {"that: min(a, 2) > 1\nother:\n", true, true, ""},
	    {"{that: coat.solids < 12 %, n: 1}\n", false, true, ""},
	    {"{that: 'min(a, 2) > 1', b}\n", true, true, ""},
	    {"{that: \"min(a, 2) > 1\", b}\n", true, true, ""},
	    {"that: 'x matches ''\\bgloss'''\n", false, true, ""},
	    {"that: |\n  x > 3 # 4\n", false, true, ""},
	    {"that: >-\n  x matches '\\bgloss'\n", false, true, ""},
	    {"that: x > 3#4\n", false, true, ""},
	    {"that: 'x > 3' # a comment\n", false, true, ""},
	    {"that: x > 3\n# a comment\n", false, true, ""},
	    {"a: &a {that: x > 3}\nb: *a\n", false, true, ""},
	};
	check_rows(rows, COUNT_OF(rows));
}

static void cut_at_a_comma(void **state)
{
	(void)state;
	static const char cut[] =
	    "t.yaml:1:23: error: inside { } and [ ] YAML ends a plain text at a comma, so this expression may "
	    "be cut; quote it, or use block style [flow-expression]\n";
	const row rows[] = {
	    {"{kind: coating, that: min(new.red(under), 2) > 1.2}\n", true, false, cut},
	    {"{kind: coating, that: min(new.red(under), 2) > 1.2}\n", false, false,
	        cut}, /* the parenthesis tells as well */
	    {"{kind: coating, that: a, b}\n", true, false, cut},
	    {"{kind: coating, that: a) > 1}\n", false, false, cut},
	    {"{kind: coating, that: x matches '(a'}\n", false, true, ""},
	};
	check_rows(rows, COUNT_OF(rows));
}

static void comments(void **state)
{
	(void)state;
#define INCOMPLETE                                                                                                     \
	"error: for YAML ` #` begins a comment, which leaves this expression incomplete; quote it, or write it under " \
	"`|` "                                                                                                         \
	"[comment-in-expression]\n"
#define COMPLETE                                                                                                       \
	"warning: for YAML ` #` begins a comment; if it belongs to the expression, quote that; else put it on its "    \
	"own line "                                                                                                    \
	"[comment-in-expression]\n"
	static const row rows[] = {
	    {"that: x > 3 #4\n", false, true, "t.yaml:1:13: " COMPLETE},
	    {"that: x > #4\n", false, false, "t.yaml:1:11: " INCOMPLETE},
	    {"that: µ and\t# y\n", false, false, "t.yaml:1:13: " INCOMPLETE},
	    {"that: min(a, # b\n", false, false, "t.yaml:1:14: " INCOMPLETE},
	    {"that: min(a # b\n", false, false, "t.yaml:1:13: " INCOMPLETE},
	    {"that: x is one of # y\n", false, false, "t.yaml:1:19: " INCOMPLETE},
	    {"that: x is not # y\n", false, false, "t.yaml:1:16: " INCOMPLETE},
	    {"that: a.in # a field\n", false, true, "t.yaml:1:12: " COMPLETE},
	    {"that: begin # no keyword\n", false, true, "t.yaml:1:13: " COMPLETE},
	    {"that: x\n  > 3 # y\n", false, true, "t.yaml:2:7: " COMPLETE},
	    {"that: x matches '(a' # y\n", false, true, "t.yaml:1:22: " COMPLETE},
	};
	check_rows(rows, COUNT_OF(rows));
}

static void backslashes(void **state)
{
	(void)state;
#define ESCAPE                                                                                                         \
	"error: in double quotes YAML changes what follows a backslash; use single quotes, or a block under `|` "      \
	"[escape-in-expression]\n"
	static const row rows[] = {
	    {"that: \"x matches '\\\\bgloss'\"\n", false, false, "t.yaml:1:19: " ESCAPE},
	    {"that: \"µ > 3 \\\n  and y\"\n", false, false, "t.yaml:1:14: " ESCAPE},
	};
	check_rows(rows, COUNT_OF(rows));
}

static void anchors_and_tags(void **state)
{
	(void)state;
	reading r = read_text("that: &x and y\n");
	assert_false(tc_yaml_expression_check(r.source, expression_of(r.root), false, r.diags));
	assert_string_equal(messages(&r),
	    "t.yaml:1:7: error: YAML takes off what begins with `&` in front of an expression; take it "
	    "out, or turn the expression round [property-of-expression]\n");
	done(&r);
	r = read_text("that: !x y\n");
	assert_int_equal(r.status, TC_BAD); /* the reader has spoken of the tag */
	assert_false(tc_yaml_expression_check(r.source, expression_of(r.root), false, r.diags));
	assert_int_equal(tc_diags_errors(r.diags), 2);
	done(&r);
	r = read_text("that: [a]\n"); /* not a text: its reader says so */
	assert_true(tc_yaml_expression_check(r.source, expression_of(r.root), false, r.diags));
	done(&r);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(untouched),
	    cmocka_unit_test(cut_at_a_comma),
	    cmocka_unit_test(comments),
	    cmocka_unit_test(backslashes),
	    cmocka_unit_test(anchors_and_tags),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
