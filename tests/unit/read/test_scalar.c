/* From a scalar's decoded text back to the file: by hand for each style, then for many made-up scalars against the rule
 * that an undisguised character stands where its place says. */
#include "check.h"
#include "read/private.h"

/* Where each byte of a text is expected: `line:column`, blank between, one per byte, the last for the end of the
 * text. */
static void assert_origins(const char *yaml, const char *text, const char *places)
{
	reading r = read_text(yaml);
	assert_int_equal(r.status, TC_OK);
	const tc_node *scalar = r.root;
	while (scalar->kind != TC_SCALAR)
		scalar = scalar->kind == TC_MAP ? tc_map_value(scalar, 0) : scalar->items[0];
	assert_string_equal(scalar->text, text);
	char found[1000] = "";
	size_t length = 0;
	for (size_t i = 0; i <= scalar->count; i++) {
		const tc_place place = tc_node_text_place(r.source, scalar, i);
		length += (size_t)snprintf(
		    found + length, sizeof found - length, "%s%u:%u", i ? " " : "", place.line, place.column);
	}
	assert_string_equal(found, places);
	size_t origin;
	assert_true(tc_node_origin(r.source, scalar, 0, &origin) || scalar->count == 0);
	done(&r);
}

/* Places counted by hand on the text as it stands here. */
static void by_hand(void **state)
{
	(void)state;
	/* plain: of several lines, with an empty line, blanks at the ends of lines, a comment behind */
	assert_origins("a: bc d", "bc d", "1:4 1:5 1:6 1:7 1:8");
	assert_origins("a: b  \n   c\n\n\n  d # e\n", "b c\n\nd", "1:4 1:7 2:4 3:1 4:1 5:3 5:4");
	assert_origins("a: b\r\n  c\r\n\r\n  d\r\n", "b c\nd", "1:4 1:5 2:3 3:1 4:3 4:4");
	assert_origins("[ b\n c, d ]", "b c", "1:3 1:4 2:2 2:3");
	assert_origins("a: µ ½\n  b", "µ ½ b", "1:4 1:4 1:5 1:6 1:6 1:7 2:3 2:4");
	assert_origins("a:\n  b\n", "b", "2:3 2:4");
	/* an anchor before it, on the same line or another */
	assert_origins("a: &x  b\n", "b", "1:8 1:9");
	assert_origins("a: &x # c\n  # d\n  b\n", "b", "3:3 3:4");
	/* single quotes */
	assert_origins("a: 'b''c'", "b'c", "1:5 1:6 1:8 1:9");
	assert_origins("a: ''''", "'", "1:5 1:7");
	assert_origins("a: ' b\n\n   c \n '", " b\nc ", "1:5 1:6 2:1 3:4 3:6 4:2");
	assert_origins("a: 'b \\n'", "b \\n", "1:5 1:6 1:7 1:8 1:9");
	/* double quotes: escapes, folds, line breaks that are escaped away */
	assert_origins("a: \"\\tb\\u00b5c\"",
	    "\tb\xC2\xB5"
	    "c",
	    "1:5 1:7 1:8 1:8 1:14 1:15");
	assert_origins("a: \"\\x41\\U0001F3A8\\\"\"", "A\xF0\x9F\x8E\xA8\"", "1:5 1:9 1:9 1:9 1:9 1:19 1:21");
	assert_origins("a: \"b\n  c\"", "b c", "1:5 1:6 2:3 2:4");
	assert_origins("a: \"b \\\n  c\"", "b c", "1:5 1:6 2:3 2:4");
	assert_origins("a: \"b\\\n\n\n  c\"", "b\n\nc", "1:5 2:1 3:1 4:3 4:4");
	assert_origins("a: \"b\r\n\r\n c\"", "b\nc", "1:5 2:1 3:2 3:3");
	assert_origins("a: \"\"", "", "1:5");
	/* blocks */
	assert_origins("a: |\n  b\n   c\n\n  d\n", "b\n c\n\nd\n", "2:3 2:4 3:3 3:4 3:5 4:1 5:3 5:4 6:1");
	assert_origins("a: |-  # e\n  b\n  c\n", "b\nc", "2:3 2:4 3:3 3:4");
	assert_origins("a: |+\n  b\n\n", "b\n\n", "2:3 2:4 3:1 4:1");
	assert_origins("a: |2\n    b\n  c\n", "  b\nc\n", "2:3 2:4 2:5 2:6 3:3 3:4 4:1");
	assert_origins("a: |\n\n  b\n", "\nb\n", "2:1 3:3 3:4 4:1");
	assert_origins("a: >\n  b\n  c\n\n  d\n", "b c\nd\n", "2:3 2:4 3:3 4:1 5:3 5:4 6:1");
	assert_origins("a: >\n  b\n   c\n  d\n", "b\n c\nd\n", "2:3 2:4 3:3 3:4 3:5 4:3 4:4 5:1");
	assert_origins("a: >-\n  b\n \n  c", "b\nc", "2:3 3:2 4:3 4:4");
	assert_origins("a: |\r\n  b\r\n  c\r\n", "b\nc\n", "2:3 2:4 3:3 3:4 4:1");
	assert_origins("a: |\n  µ\n", "µ\n", "2:3 2:3 2:4 3:1");
	assert_origins("- - |\n   b\n  \n", "b\n", "2:4 2:5 3:1");
	assert_origins("--- |1\n b\n", "b\n", "2:2 2:3 3:1");
}

static void no_text_at_all(void **state)
{
	(void)state;
	reading r = read_text("a:\nb: [c]\nd: &x\n");
	const tc_node *nothing = tc_map_get(r.root, "a", NULL), *list = tc_map_get(r.root, "b", NULL);
	assert_int_equal(tc_node_text_place(r.source, nothing, 0).line, 1);
	assert_int_equal(tc_node_text_place(r.source, nothing, 5).column, 3);
	assert_int_equal(tc_node_text_place(r.source, list, 3).column, 4);
	assert_int_equal(tc_node_text_place(r.source, tc_map_get(r.root, "d", NULL), 0).line, 3);
	done(&r);
}

/* Where the walk fails the scalar's start is given: here the scalar's text is changed behind the reader's back. */
static void text_that_does_not_fit(void **state)
{
	(void)state;
	reading r = read_text("a: bcd\ne: 'f'\ng: |\n  h\ni: \"j\"\n");
	for (size_t i = 0; i < 4; i++) {
		tc_node changed = *tc_map_value(r.root, i);
		size_t origin;
		assert_true(tc_node_origin(r.source, &changed, 0, &origin));
		changed.text = "xyz";
		assert_false(tc_node_origin(r.source, &changed, 0, &origin));
		assert_int_equal(tc_node_text_place(r.source, &changed, 1).column, 4);
		changed = *tc_map_value(r.root, i);
		changed.count++;
		assert_false(tc_node_origin(r.source, &changed, 0, &origin));
		changed.end = 1000;
		assert_false(tc_node_origin(r.source, &changed, 0, &origin));
	}
	done(&r);
}

/* --- made-up scalars
 * ------------------------------------------------------------------------------------------------ */

static uint32_t dice(uint32_t *x, uint32_t sides)
{
	*x = *x * 1664525u + 1013904223u; /* any sequence would do */
	return (*x >> 16) % sides;
}

typedef struct maker {
	char text[600];
	size_t length;
	uint32_t x;
	bool crlf;
} maker;

static void put(maker *m, const char *piece)
{
	m->length += (size_t)snprintf(m->text + m->length, sizeof m->text - m->length, "%s", piece);
}

static void put_break(maker *m)
{
	put(m, m->crlf ? "\r\n" : "\n");
}

static void put_blanks(maker *m, uint32_t most)
{
	for (uint32_t n = dice(&m->x, most + 1); n; n--)
		put(m, " ");
}

/* A line of words and of what is special in one style or another. */
static void put_words(maker *m, uint32_t style)
{
	static const char *const words[] = {"a", "gap", "µm", "🎨", "x.y", "\"", "''", "\\", "|", "#x", ":x", ">"};
	static const char *const escapes[] = {"\\t", "\\\"", "\\u00b5", "\\x41", "\\\\", "\\n", "\\ "};
	for (uint32_t n = 1 + dice(&m->x, 5); n; n--) {
		const char *word = words[dice(&m->x, COUNT_OF(words))];
		if (style == TC_DOUBLE && (*word == '"' || *word == '\\'))
			word = escapes[dice(&m->x, COUNT_OF(escapes))];
		put(m, word);
		if (n > 1)
			put_blanks(m, 3);
	}
}

static void put_scalar(maker *m, uint32_t style, unsigned indent)
{
	static const char *const headers[] = {"", "-", "+", " # c", "2", "-2", "3+"};
	static const char *const starts[] = {"", "'", "\"", "|", ">"};
	put(m, starts[style]);
	if (style == TC_LITERAL || style == TC_FOLDED) {
		put(m, headers[dice(&m->x, COUNT_OF(headers))]);
		put_break(m);
	}
	for (uint32_t lines = 1 + dice(&m->x, 5); lines; lines--) {
		for (unsigned i = 0; i < indent; i++)
			put(m, " ");
		if (dice(&m->x, 4) == 0)
			put_blanks(m, 3);
		if (dice(&m->x, 5))
			put_words(m, style);
		if (style == TC_DOUBLE && dice(&m->x, 5) == 0)
			put(m, " \\");
		if (dice(&m->x, 4) == 0)
			put_blanks(m, 3);
		if (lines > 1 || style == TC_LITERAL || style == TC_FOLDED)
			put_break(m);
		for (uint32_t empty = dice(&m->x, 6); empty > 4; empty--)
			put_break(m);
	}
	put(m, style == TC_SINGLE ? "'" : style == TC_DOUBLE ? "\"" : "");
}

/* Each byte that is no blank, line feed or escape must stand in the source where its place says. */
static void check_bytes(const reading *r, const tc_node *scalar, const char *yaml)
{
	const tc_text source = tc_source_text(r->source);
	size_t last = 0;
	for (size_t i = 0; i <= scalar->count; i++) {
		size_t origin = 0;
		if (!tc_node_origin(r->source, scalar, i, &origin))
			fail_msg("no way back in %s", yaml);
		if (origin < last)
			fail_msg("the way back goes backwards at %zu in %s", i, yaml);
		last = origin;
		const char c = scalar->text[i];
		if (i < scalar->count && c != ' ' && c != '\n' && source.at[origin] != '\\' &&
		    ((unsigned char)c & 0xC0) != 0x80 && source.at[origin] != c)
			fail_msg("`%c` stands at %zu in %s", c, origin, yaml);
	}
}

static void made_up(void **state)
{
	(void)state;
	unsigned read[5] = {0};
	maker m = {.x = 1};
	for (unsigned n = 0; n < 40000; n++) {
		const uint32_t style = n % 5;
		const bool flow = style < TC_LITERAL && dice(&m.x, 4) == 0;
		m.length = 0;
		m.crlf = dice(&m.x, 4) == 0;
		put(&m, flow ? "{ö: " : dice(&m.x, 2) ? "ö: " : "- - ö: &a ");
		put_scalar(&m, style, 5);
		put(&m, flow ? "}" : "");
		put_break(&m);
		reading r = read_text(m.text);
		const tc_node *scalar = r.status == TC_OK ? r.root : NULL;
		while (scalar && scalar->kind != TC_SCALAR)
			scalar = scalar->kind == TC_MAP ? tc_map_value(scalar, 0) : scalar->items[0];
		if (scalar && scalar->count) {
			read[scalar->style]++;
			check_bytes(&r, scalar, m.text);
		}
		done(&r);
	}
	for (int style = 0; style < 5; style++)
		assert_true(read[style] > 1000); /* or the made-up texts are no test */
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(by_hand),
	    cmocka_unit_test(no_text_at_all),
	    cmocka_unit_test(text_that_does_not_fit),
	    cmocka_unit_test(made_up),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
