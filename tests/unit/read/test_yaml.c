/* Bytes to a tree: shapes and places, and everything that is refused, with its place. */
#include "check.h"

/* The tree in one line: scalars in brackets with a letter for their style, * for an anchor, ~ for nothing written. */
static void sketch(const tc_node *node, tc_buffer *out)
{
	static const char styles[] = {
	    [TC_PLAIN] = 'p', [TC_SINGLE] = 's', [TC_DOUBLE] = 'd', [TC_LITERAL] = 'l', [TC_FOLDED] = 'f'};
	if (node->anchored)
		tc_buffer_char(out, '*');
	if (node->kind == TC_SCALAR && node->empty) {
		tc_buffer_char(out, '~');
	} else if (node->kind == TC_SCALAR) {
		tc_buffer_print(out, "%c[%s]", styles[node->style], node->text);
	} else if (node->kind == TC_LIST) {
		tc_buffer_puts(out, node->flow ? "L,(" : "L(");
		for (size_t i = 0; i < node->count; i++)
			sketch(node->items[i], out);
		tc_buffer_char(out, ')');
	} else {
		tc_buffer_puts(out, node->flow ? "M,(" : "M(");
		for (size_t i = 0; i < node->count; i++) {
			sketch(tc_map_key(node, i), out);
			tc_buffer_char(out, '=');
			sketch(tc_map_value(node, i), out);
		}
		tc_buffer_char(out, ')');
	}
}

static void assert_sketch(const char *text, const char *expected)
{
	reading r = read_text(text);
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	for (size_t i = 0; i < r.count; i++) {
		if (i)
			tc_buffer_puts(&out, " --- ");
		if (r.documents[i].root)
			sketch(r.documents[i].root, &out);
	}
	assert_text(out, expected);
	tc_buffer_free(&out);
	done(&r);
}

static void shapes(void **state)
{
	(void)state;
	static const struct {
		const char *text, *expected;
	} rows[] = {
	    {"", ""},
	    {"# nothing but a comment\n", ""},
	    {"---\n", ""},
	    {"just a text", "p[just a text]"},
	    {"''", "s[]"},
	    {"a: 1\nb: 2\n", "M(p[a]=p[1]p[b]=p[2])"},
	    {"a:\nb: ~\n", "M(p[a]=~p[b]=p[~])"},
	    {"- a\n- - b\n  - c\n-\n", "L(p[a]L(p[b]p[c])~)"},
	    {"a: [1, {b: c, d}, []]\n", "M(p[a]=L,(p[1]M,(p[b]=p[c]p[d]=~)L,()))"},
	    {"[a: b]", "L,(M,(p[a]=p[b]))"},
	    {"scale: 1:48\nmix: 2:1\nat: 12:30\non: yes\n",
	        "M(p[scale]=p[1:48]p[mix]=p[2:1]p[at]=p[12:30]p[on]=p[yes])"},
	    {"a: 'b'\nc: \"d\"\ne: |\n  f\ng: >\n  h\n", "M(p[a]=s[b]p[c]=d[d]p[e]=l[f\n]p[g]=f[h\n])"},
	    {"a: &x b\nc: *x\n", "M(p[a]=*p[b]p[c]=*p[b])"},
	    {"a: &x [1]\nb: *x\nc: &x 2\nd: *x\n", "M(p[a]=*L,(p[1])p[b]=*L,(p[1])p[c]=*p[2]p[d]=*p[2])"},
	    {"&k a: &v\n*k : 1\n", "M(*p[a]=*~*p[a]=p[1])"}, /* the duplicate key is told of below */
	    {"a: 1\n---\nb: 2\n...\n---\n---\nc\n", "M(p[a]=p[1]) --- M(p[b]=p[2]) ---  --- p[c]"},
	    {"%YAML 1.1\n---\na\n", "p[a]"},
	    {"? a\n: b\n", "M(p[a]=p[b])"},
	    {"a: b\r\nc: d e\r\n  f\r\n", "M(p[a]=p[b]p[c]=p[d e f])"},
	    {"\xEF\xBB\xBF"
	     "a: µ\n",
	        "M(p[a]=p[µ])"},
	    {"a: \"\\t\\n \\u00b5\"\n", "M(p[a]=d[\t\n µ])"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++)
		assert_sketch(rows[i].text, rows[i].expected);
}

static void looking_up(void **state)
{
	(void)state;
	reading r = read_text("a: 1\nbb: [x, y]\n'': 3\nc:\n");
	const tc_node *key = NULL;
	assert_true(tc_node_is(tc_map_get(r.root, "a", &key), "1"));
	assert_true(tc_node_is(key, "a"));
	assert_true(tc_node_is(tc_map_get(r.root, "", NULL), "3"));
	assert_null(tc_map_get(r.root, "b", NULL));
	assert_null(tc_map_get(NULL, "b", NULL));
	assert_null(tc_map_get(tc_map_get(r.root, "a", NULL), "b", NULL));
	assert_null(tc_map_key(r.root, 4));
	assert_null(tc_map_value(r.root, 4));
	assert_null(tc_map_value(tc_map_get(r.root, "bb", NULL), 0));
	assert_false(tc_node_is(NULL, ""));
	assert_false(tc_node_is(r.root, ""));
	assert_int_equal(tc_node_text(r.root).length, 0);
	assert_string_equal(tc_node_kind_name(r.root), "a mapping");
	assert_string_equal(tc_node_kind_name(tc_map_get(r.root, "bb", NULL)), "a list");
	assert_string_equal(tc_node_kind_name(tc_map_get(r.root, "a", NULL)), "a text");
	assert_string_equal(tc_node_kind_name(tc_map_get(r.root, "c", NULL)), "nothing");
	assert_string_equal(tc_node_kind_name(NULL), "nothing");
	done(&r);
}

static void places(void **state)
{
	(void)state;
	static const char text[] = "\xEF\xBB\xBF"
	                           "µ: 🎨 x\n"                 /* 1: characters of two and four bytes */
	                           "list:\n"                  /* 2 */
	                           "  - a\n"                  /* 3 */
	                           "  - {кисть: b, c: [d]}\n" /* 4 */
	                           "\n"
	                           "block: &x |\n" /* 6 */
	                           "   ü\n"        /* 7 */
	                           "after: µ\n";   /* 8 */
	reading r = read_text(text);
	assert_int_equal(r.status, TC_OK);
	const tc_node *list = tc_map_get(r.root, "list", NULL), *map = list->items[1];
	const struct {
		const tc_node *node;
		uint32_t line, column;
		const char *written;
	} rows[] = {
	    {tc_map_key(r.root, 0), 1, 1, "µ"},
	    {tc_map_value(r.root, 0), 1, 4, "🎨 x"},
	    {list, 3, 3, "- a\n  - {кисть: b, c: [d]}"},
	    {list->items[0], 3, 5, "a"},
	    {map, 4, 5, "{кисть: b, c: [d]}"},
	    {tc_map_value(map, 0), 4, 13, "b"},
	    {tc_map_key(map, 1), 4, 16, "c"},
	    {tc_map_value(map, 1), 4, 19, "[d]"},
	    {tc_map_value(r.root, 2), 6, 8, "&x |\n   ü\n"},
	    {tc_map_value(r.root, 3), 8, 8, "µ"},
	    {r.root, 1, 1, text + 3},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		const tc_place place = tc_node_place(r.source, rows[i].node);
		assert_string_equal(place.file, "t.yaml");
		assert_int_equal(place.line, rows[i].line);
		assert_int_equal(place.column, rows[i].column);
		const tc_text all = tc_source_text(r.source);
		const tc_text written = {all.at + rows[i].node->offset, rows[i].node->end - rows[i].node->offset};
		/* the mapping as a whole ends with its last value, before the last line feed */
		assert_memory_equal(written.at, rows[i].written, written.length);
		assert_true(strlen(rows[i].written) - written.length <= (rows[i].node == r.root));
	}
	done(&r);
}

static void documents(void **state)
{
	(void)state;
	reading r = read_text("a: 1\n--- # two\nb: 2\n");
	assert_int_equal(r.count, 2);
	assert_int_equal(r.documents[0].offset, 0);
	assert_int_equal(r.documents[1].offset, 5);
	done(&r);
}

static void keys_refused(void **state)
{
	(void)state;
	assert_messages("a: 1\nb: 2\na: 3\n",
	    "t.yaml:3:1: error: the key `a` stands here a second time; keep one of the two [duplicate-key]\n"
	    "t.yaml:1:1: note: the first one\n");
	assert_messages("x: {'a': 1, a: 2, \"a\": 3}\n",
	    "t.yaml:1:13: error: the key `a` stands here a second time; keep one of the two [duplicate-key]\n"
	    "t.yaml:1:5: note: the first one\n"
	    "t.yaml:1:19: error: the key `a` stands here a second time; keep one of the two [duplicate-key]\n"
	    "t.yaml:1:5: note: the first one\n");
	assert_messages("a: {b: 1}\nc: {b: 1}\n", ""); /* each mapping for itself */
	assert_messages("a: &x {b: 1}\n<<: *x\n", "t.yaml:2:1: error: the merge key `<<` is not supported; write the "
	                                          "keys out, or use an alias for the whole value [merge-key]\n");
	assert_messages("'<<': 1\n", "");
	assert_messages("? [a]\n: b\n? {c: d}\n: e\n",
	    "t.yaml:1:3: error: a list stands where a key is due; keys are plain words, quote a text that holds `[ ] { "
	    "}` [key-not-text]\n"
	    "t.yaml:3:3: error: a mapping stands where a key is due; keys are plain words, quote a text that holds `[ "
	    "] { }` [key-not-text]\n");
	assert_messages("? \n: b\n", "t.yaml:1:2: error: nothing stands where a key is due; keys are plain words, "
	                             "quote a text that holds `[ ] { }` [key-not-text]\n");
	assert_messages("a: &x [1]\n*x : b\n", "t.yaml:2:1: error: a list stands where a key is due; keys are plain "
	                                       "words, quote a text that holds `[ ] { }` [key-not-text]\n");
	/* Nobody above meets a key that is no text. */
	assert_sketch("? [a]\n: b\nc: d\n", "M(~=p[b]p[c]=p[d])");
}

/* Above 16 keys they are looked up in a map; the answer must not change. */
static void many_keys(void **state)
{
	(void)state;
	for (unsigned keys = 14; keys < 20; keys++) {
		char text[1000];
		size_t length = 0;
		for (unsigned i = 0; i < keys; i++)
			length += (size_t)snprintf(text + length, sizeof text - length, "k%u: 1\n", i);
		reading r = read_bytes(text, length);
		assert_int_equal(r.status, TC_OK);
		done(&r);
		length += (size_t)snprintf(text + length, sizeof text - length, "k3: 1\nz: 1\nk3: 1\n");
		char expected[400];
		snprintf(expected, sizeof expected,
		    "t.yaml:%u:1: error: the key `k3` stands here a second time; keep one of the two [duplicate-key]\n"
		    "t.yaml:4:1: note: the first one\n"
		    "t.yaml:%u:1: error: the key `k3` stands here a second time; keep one of the two [duplicate-key]\n"
		    "t.yaml:4:1: note: the first one\n",
		    keys + 1, keys + 3);
		r = read_bytes(text, length);
		assert_string_equal(messages(&r), expected);
		done(&r);
	}
}

static void tags_and_aliases_refused(void **state)
{
	(void)state;
	static const char tag[] =
	    "error: a tag `!…` is not supported; take it out, or quote the text if it begins with `!` [tag]";
	static const char *const tagged[] = {"a: !!str 4\n", "a: ! x\n", "a: !x y\n", "a: !<x> y\n", "a: ! [b]\n",
	    "a: !!map {b: c}\n", "a: ! {b: c}\n", "a: !\n", "a: &x ! b\n", "a: ! &x b\n", "a: ! |\n  x\n",
	    "a: ! 'x'\n"};
	for (size_t i = 0; i < COUNT_OF(tagged); i++) {
		char expected[200];
		snprintf(expected, sizeof expected, "t.yaml:1:4: %s\n", tag);
		assert_messages(tagged[i], expected);
	}
	assert_messages("a: '! x'\nb: x!\nc: |\n  ! x\n&x d: e ! f\n", "");
	assert_messages("%TAG !e! x\n---\na\n", "t.yaml:1:1: error: a tag `!…` is not supported; take it out, or quote "
	                                        "the text if it begins with `!` [tag]\n");
	assert_messages("a: *b\n", "t.yaml:1:4: error: no anchor `&b` stands before this alias [alias]\n");
	assert_messages("a: &b [1, *b]\n", "t.yaml:1:11: error: the alias `*b` stands within its own anchor [alias]\n");
	assert_messages(
	    "a: &b {c: {d: *b}}\n", "t.yaml:1:15: error: the alias `*b` stands within its own anchor [alias]\n");
	assert_messages(
	    "a: &b 1\n---\na: *b\n", "t.yaml:3:4: error: no anchor `&b` stands before this alias [alias]\n");
	/* The inner anchor of the same name is the later one, also after the outer one has ended. */
	assert_sketch("a: &b [&b x, *b]\nc: *b\n", "M(p[a]=*L,(*p[x]*p[x])p[c]=*p[x])");
	assert_sketch("a: *b\nc: 1\n", "M(p[a]=p[]p[c]=p[1])");
}

static void escaped_controls_refused(void **state)
{
	(void)state;
	static const struct {
		const char *text, *point;
		unsigned column;
	} rows[] = {
	    {"a: \"x\\0\"\n", "0000", 6},
	    {"a: \"\\e\"\n", "001B", 5},
	    {"a: \"µ \\x07\"\n", "0007", 7},
	    {"a: \"\\r\"\n", "000D", 5},
	    {"a: \"\\u0085\"\n", "0085", 5},
	    {"a: \"\\N\"\n", "0085", 5},
	    {"a: \"b \\L\"\n", "2028", 7},
	    {"a: \"\\P\"\n", "2029", 5},
	    {"a: \"\\x7f\"\n", "007F", 5},
	    {"a: \"\\uFEFF\"\n", "FEFF", 5},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		char expected[200];
		snprintf(expected, sizeof expected,
		    "t.yaml:1:%u: error: an escape for the control character U+%s; take it out [control-character]\n",
		    rows[i].column, rows[i].point);
		assert_messages(rows[i].text, expected);
	}
	assert_messages("a: \"\\t\\n\\_ \\/ \\u00b5 \\U0001F3A8\"\n", "");
}

/* Each complaint of libyaml that a recipe may well cause. */
static void syntax(void **state)
{
	(void)state;
	static const struct {
		const char *text, *expected;
	} rows[] = {
	    {"a: b: c\n", "t.yaml:1:5: error: `:` with a blank behind it is not allowed here; quote the text if it "
	                  "holds one, or mend the indentation [yaml-syntax]\n"},
	    {"a: 1\n  b: 2\n", "t.yaml:2:4: error: `:` with a blank behind it is not allowed here; quote the text if "
	                       "it holds one, or mend the indentation [yaml-syntax]\n"},
	    {"µ: - b\n", "t.yaml:1:4: error: a list item `- ` is not allowed here; begin each on a line of its own, "
	                 "all indented alike [yaml-syntax]\n"},
	    {"a: ? b\n", "t.yaml:1:4: error: `? ` is not allowed here; quote a text that begins so [yaml-syntax]\n"},
	    {"a: 1\nb\nc: 2\n", "t.yaml:2:1: error: a key without its `:`; write `key: value` [yaml-syntax]\n"},
	    {"a: 'b\nc: d\n", "t.yaml:1:4: error: the quote is not closed before the end of the file [yaml-syntax]\n"},
	    {"a: \"b\n---\n",
	        "t.yaml:2:1: error: a line `---` or `...` ends the document inside a quoted text [yaml-syntax]\n"
	        "t.yaml:1:4: note: the quote begins here\n"},
	    {"a: \"\\q\"\n", "t.yaml:1:5: error: in double quotes `\\` and this character mean nothing; use single "
	                     "quotes, or write `\\\\` [yaml-syntax]\n"},
	    {"a: \"\\xZZ\"\n",
	        "t.yaml:1:7: error: hexadecimal digits expected after `\\x`, `\\u` or `\\U` [yaml-syntax]\n"},
	    {"a: \"\\uD800\"\n", "t.yaml:1:7: error: the escape names no character [yaml-syntax]\n"},
	    {"a:\n\tb: 1\n", "t.yaml:2:1: error: a tab cannot indent; use blanks [yaml-syntax]\n"},
	    {"a: @b\n", "t.yaml:1:4: error: a text cannot begin with this character; quote it [yaml-syntax]\n"},
	    {"a: `b`\n", "t.yaml:1:4: error: a text cannot begin with this character; quote it [yaml-syntax]\n"},
	    {"a: %b\n", "t.yaml:1:4: error: a text cannot begin with this character; quote it [yaml-syntax]\n"},
	    {"a: | b\n",
	        "t.yaml:1:6: error: after `|` or `>` comes a new line; quote a text that begins so [yaml-syntax]\n"},
	    {"a: > 3 mm\n",
	        "t.yaml:1:6: error: after `|` or `>` comes a new line; quote a text that begins so [yaml-syntax]\n"},
	    {"a: |0\n b\n", "t.yaml:1:5: error: after `|` or `>` the indentation is 1 to 9, not 0 [yaml-syntax]\n"},
	    {"a: & b\n", "t.yaml:1:5: error: `&` names an anchor; quote a text that begins so [yaml-syntax]\n"},
	    {"a: * b\n", "t.yaml:1:5: error: `*` names an alias; quote a text that begins so [yaml-syntax]\n"},
	    {"a: !e!x b\n", "t.yaml:1:4: error: `!` begins a tag; quote a text that begins so [yaml-syntax]\n"},
	    {"a: 1\n- b\n",
	        "t.yaml:2:1: error: a key expected here; mend the indentation, or quote the text before [yaml-syntax]\n"
	        "t.yaml:1:1: note: the mapping begins here\n"},
	    {"- a\nb: 1\n", "t.yaml:2:1: error: a list item `- ` expected here; mend the indentation [yaml-syntax]\n"
	                    "t.yaml:1:1: note: the list begins here\n"},
	    {"'a' b\n", "t.yaml:1:5: error: the document has ended above this line; mend the indentation, or begin a "
	                "new document with `---` [yaml-syntax]\n"},
	    {"a: [1, 2\nb: 3\n",
	        "t.yaml:2:2: error: `,` or `]` expected; quote a text that holds `[ ] { } ,` or `:` [yaml-syntax]\n"
	        "t.yaml:1:4: note: `[` stands here\n"},
	    {"a: {that: x is one of [a, b]}\n",
	        "t.yaml:1:23: error: `,` or `}` expected; quote a text that holds `[ ] { } ,` or `:` [yaml-syntax]\n"
	        "t.yaml:1:4: note: `{` stands here\n"},
	    {"a: ]\n", "t.yaml:1:4: error: a value expected here; quote a text that begins so [yaml-syntax]\n"},
	    {"a: [:\n", "t.yaml:1:5: error: a value expected here, inside { } or [ ]; quote a text that holds `[ ] { } "
	                ",` or `:` [yaml-syntax]\n"},
	    {"%YAML 1.9\n---\na\n",
	        "t.yaml:1:1: error: only version 1.1 of YAML is read; take out the line `%YAML` [yaml-syntax]\n"},
	    {"%FOO\n", "t.yaml:1:5: error: a line that begins with `%` is a directive, and this one is wrong; take it "
	               "out [yaml-syntax]\n"},
	    {"a: |\n\tx\n", "t.yaml:2:1: error: a tab cannot indent; use blanks [yaml-syntax]\n"
	                    "t.yaml:1:4: note: the block begins here\n"},
	    {"a: b\n\tc\n", "t.yaml:2:1: error: a tab cannot indent; use blanks [yaml-syntax]\n"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		reading r = read_text(rows[i].text);
		assert_int_equal(r.status, TC_BAD);
		assert_int_equal(tc_diags_count(r.diags), 1);
		assert_string_equal(messages(&r), rows[i].expected);
		done(&r);
	}
}

/* What stands before an error of syntax is handed out. */
static void the_part_before_an_error(void **state)
{
	(void)state;
	assert_sketch("a: 1\nb: [x, {c: d,\n  e: f,\n  g: @\n", "M(p[a]=p[1]p[b]=L,(p[x]M,(p[c]=p[d]p[e]=p[f])))");
	assert_sketch("a: 1\n---\nb: 2\n---\n- c\nd: 3\n", "M(p[a]=p[1]) --- M(p[b]=p[2]) --- L(p[c])");
	reading r = read_text("a: 1\na: 2\n b: @\n");
	assert_int_equal(r.status, TC_BAD);
	assert_int_equal(tc_diags_count(r.diags), 2); /* the key and the syntax */
	done(&r);
}

static void a_source_that_cannot_be_read(void **state)
{
	(void)state;
	reading r = read_text("a: \x01\n");
	assert_int_equal(r.source_status, TC_BAD);
	assert_int_equal(r.status, TC_BAD);
	assert_int_equal(r.count, 0);
	assert_null(r.documents);
	done(&r);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(shapes),
	    cmocka_unit_test(looking_up),
	    cmocka_unit_test(places),
	    cmocka_unit_test(documents),
	    cmocka_unit_test(keys_refused),
	    cmocka_unit_test(many_keys),
	    cmocka_unit_test(tags_and_aliases_refused),
	    cmocka_unit_test(escaped_controls_refused),
	    cmocka_unit_test(syntax),
	    cmocka_unit_test(the_part_before_an_error),
	    cmocka_unit_test(a_source_that_cannot_be_read),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
