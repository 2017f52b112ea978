/* The bounds of reading: at each, and one past it. And texts that would keep libyaml busy for minutes: they are read in
 * this test, so it would not end. */
#include "check.h"

/* `before`, then `times` × `unit`, then `after`. */
static reading read_repeated(const char *before, const char *unit, size_t times, const char *after)
{
	const size_t length = strlen(before) + times * strlen(unit) + strlen(after);
	char *text = malloc(length + 1);
	assert_non_null(text);
	char *at = text + snprintf(text, length + 1, "%s", before);
	for (size_t i = 0; i < times; i++)
		at += snprintf(at, length + 1 - (size_t)(at - text), "%s", unit);
	snprintf(at, length + 1 - (size_t)(at - text), "%s", after);
	reading r = read_bytes(text, length);
	if (r.status != TC_NO_MEMORY)
		assert_non_null(messages(&r)); /* they do not point into the text */
	free(text);
	return r;
}

static void assert_first_message(const reading *r, const char *expected)
{
	assert_true(tc_diags_count(r->diags) > 0);
	assert_string_equal(tc_diags_at(r->diags, 0)->message, expected);
	assert_int_equal(r->status, TC_BAD);
}

static bool is_too_deep(const reading *r)
{
	bool found = false;
	for (size_t i = 0; i < tc_diags_count(r->diags); i++)
		found |=
		    strcmp(tc_diags_at(r->diags, i)->message, "lists and mappings are nested more than 64 deep") == 0;
	return found;
}

static void depth(void **state)
{
	(void)state;
	static const struct {
		const char *unit, *after;
		size_t each; /* depth of one unit */
	} ways[] = {{"[", "", 1}, {"- ", "x", 1}, {"{a: ", "", 1}, {"[{b: ", "", 2}, {"? ", "x", 1}};
	for (size_t i = 0; i < COUNT_OF(ways); i++) {
		reading r = read_repeated("", ways[i].unit, TC_DEPTH_MAX / ways[i].each, ways[i].after);
		assert_false(is_too_deep(&r));
		done(&r);
		r = read_repeated("", ways[i].unit, TC_DEPTH_MAX / ways[i].each + 1, ways[i].after);
		assert_true(is_too_deep(&r));
		assert_int_equal(r.status, TC_BAD);
		done(&r);
	}
	/* exactly at the bound, and well-formed */
	char text[2 * TC_DEPTH_MAX + 1];
	memset(text, '[', TC_DEPTH_MAX);
	memset(text + TC_DEPTH_MAX, ']', TC_DEPTH_MAX);
	text[2 * TC_DEPTH_MAX] = 0;
	reading r = read_text(text);
	assert_int_equal(r.status, TC_OK);
	done(&r);
}

/* An alias brings its own depth with it. */
static void depth_by_aliases(void **state)
{
	(void)state;
	for (unsigned outer = 30; outer < 35; outer++) {
		char text[400];
		size_t length = (size_t)snprintf(text, sizeof text, "- &x ");
		for (unsigned i = 0; i < 32; i++)
			text[length++] = '[';
		for (unsigned i = 0; i < 32; i++)
			text[length++] = ']';
		length += (size_t)snprintf(text + length, sizeof text - length, "\n- ");
		for (unsigned i = 0; i < outer; i++)
			text[length++] = '[';
		length += (size_t)snprintf(text + length, sizeof text - length, "*x");
		for (unsigned i = 0; i < outer; i++)
			text[length++] = ']';
		reading r = read_bytes(text, length);
		if (1 + outer + 32 <= TC_DEPTH_MAX) /* the list around it is one more */
			assert_int_equal(r.status, TC_OK);
		else
			assert_first_message(
			    &r, "with this alias written out, lists and mappings are nested more than 64 deep");
		done(&r);
	}
}

static void nodes(void **state)
{
	(void)state;
	/* the list is a node itself */
	reading r = read_repeated("", "- a\n", TC_NODES_MAX - 1, "");
	assert_int_equal(r.status, TC_OK);
	assert_int_equal(r.root->count, TC_NODES_MAX - 1);
	done(&r);
	r = read_repeated("", "- a\n", TC_NODES_MAX, "");
	assert_first_message(&r, "the document has more than 400000 values, those behind aliases counted each time");
	done(&r);
	/* counted for each document */
	r = read_repeated("- a\n---\n", "- a\n", TC_NODES_MAX - 1, "");
	assert_int_equal(r.status, TC_OK);
	done(&r);
}

static void nodes_by_aliases(void **state)
{
	(void)state;
	/* 1 + 99 999 nodes behind the anchor, then three aliases: with the list around it 400 001 and one less. */
	for (unsigned last = 0; last < 2; last++) {
		char before[100];
		snprintf(before, sizeof before, "- &x\n");
		reading r = read_repeated(before, "  - a\n", 99998 + last, "- *x\n- *x\n- *x\n");
		if (last == 0) {
			assert_int_equal(r.status, TC_OK); /* 1 + 4 × 99 999 = 399 997 (own arithmetic) */
		} else {
			assert_first_message(
			    &r, "the document has more than 400000 values, those behind aliases counted each time");
			assert_string_equal(tc_diags_at(r.diags, 0)->id, "too-large"); /* 1 + 4 × 100 000 */
		}
		done(&r);
	}
	/* nine aliases of nine aliases of …: 9^9 nodes of which a few hundred are written */
	char bomb[2000];
	size_t length = (size_t)snprintf(bomb, sizeof bomb, "a0: &a0 x\n");
	for (unsigned i = 1; i < 10; i++) {
		length += (size_t)snprintf(bomb + length, sizeof bomb - length, "a%u: &a%u [", i, i);
		for (unsigned j = 0; j < 9; j++)
			length += (size_t)snprintf(bomb + length, sizeof bomb - length, "%s*a%u", j ? ", " : "", i - 1);
		length += (size_t)snprintf(bomb + length, sizeof bomb - length, "]\n");
	}
	reading r = read_bytes(bomb, length);
	assert_first_message(&r, "the document has more than 400000 values, those behind aliases counted each time");
	done(&r);
}

static void scalar(void **state)
{
	(void)state;
	reading r = read_repeated("a: '", "x", TC_SCALAR_MAX, "'\n");
	assert_int_equal(r.status, TC_OK);
	assert_int_equal(tc_map_value(r.root, 0)->count, TC_SCALAR_MAX);
	done(&r);
	r = read_repeated("a: '", "x", TC_SCALAR_MAX + 1, "'\nb: c\n");
	assert_first_message(&r, "a text of 65537 bytes; at most 65536 are read");
	assert_true(tc_node_is(tc_map_get(r.root, "b", NULL), "c")); /* reading went on */
	done(&r);
}

static void documents(void **state)
{
	(void)state;
	reading r = read_repeated("", "--- a\n", TC_DOCUMENTS_MAX, "");
	assert_int_equal(r.status, TC_OK);
	assert_int_equal(r.count, TC_DOCUMENTS_MAX);
	done(&r);
	r = read_repeated("", "--- a\n", TC_DOCUMENTS_MAX + 1, "");
	assert_first_message(&r, "more than 1000 documents in one file");
	assert_int_equal(r.count, TC_DOCUMENTS_MAX);
	done(&r);
}

/* Far too deep, far too many, all on one line: libyaml alone takes minutes over some of these. */
static void texts_that_could_last(void **state)
{
	(void)state;
	static const char *const units[] = {"[", "{", "[a,", "{a: ", "{? ", "- ", "? ", "[? ", "[[],",
	    "{\"a\":", "a: ", "&a ", "*a ", "! ", "a", "a ", "'", "\"\\u0041", "#", "\n", "-\n", " -\n", "a:\n",
	    "- |\n a\n", "%TAG !x! y\n"};
	for (size_t i = 0; i < COUNT_OF(units); i++) {
		reading r = read_repeated("", units[i], ((size_t)1 << 20) / strlen(units[i]), "");
		done(&r);
	}
}

/* A fault for each of very many values on one line: the places of those that are not shown are not worked out. */
static void many_faults_on_one_line(void **state)
{
	(void)state;
	reading r = read_repeated("[", "{a: 1, a: 2}, ", 60000, "]");
	assert_int_equal(r.status, TC_BAD);
	assert_int_equal(tc_diags_count(r.diags), TC_MESSAGES_MAX + 1);
	assert_int_equal(tc_diags_errors(r.diags), 60000);
	done(&r);
	r = read_repeated("[µ, ", "*a, ", 200000, "]");
	assert_int_equal(tc_diags_errors(r.diags), 200000);
	done(&r);
	r = read_repeated("{", "a: 1, ", 100000, "}");
	assert_int_equal(tc_diags_errors(r.diags), 99999);
	done(&r);
	/* anchors of one name, and looked up as often */
	r = read_repeated("[", "&a b, *a, ", 100000, "]");
	assert_int_equal(r.status, TC_OK);
	assert_int_equal(r.root->count, 200000);
	done(&r);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(depth),
	    cmocka_unit_test(depth_by_aliases),
	    cmocka_unit_test(nodes),
	    cmocka_unit_test(nodes_by_aliases),
	    cmocka_unit_test(scalar),
	    cmocka_unit_test(documents),
	    cmocka_unit_test(texts_that_could_last),
	    cmocka_unit_test(many_faults_on_one_line),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
