/* Every bound of the language: at it and one past it. */
#include "fake.h"

static tc_rulebook *book;

static int load(void **state)
{
	(void)state;
	book = load_book(NULL, NULL, NULL);
	return 0;
}

static int unload(void **state)
{
	(void)state;
	tc_rulebook_free(book);
	return 0;
}

/* Compiles text; its message (without place) or "" is in `message`. */
static const tc_expr *compile(fake *f, const char *text, char message[256])
{
	tc_diags *diags = tc_diags_new(f->arena);
	const tc_expr *x = tc_expr_compile(book, f->arena, f->q.ask, tc_text_of(text), diags);
	snprintf(message, 256, "%s", tc_diags_count(diags) ? tc_diags_at(diags, 0)->message : "");
	assert_true((x == NULL) == (tc_diags_count(diags) > 0));
	return x;
}

static char *repeat(const char *before, const char *piece, size_t times, const char *after)
{
	char *text = calloc(1, strlen(before) + strlen(piece) * times + strlen(after) + 1), *at = stpcpy(text, before);
	for (size_t i = 0; i < times; i++)
		at = stpcpy(at, piece);
	stpcpy(at, after);
	return text;
}

/* Good at `most`, refused at one more with a message that holds `wanted`. */
static void pair(char *good, char *bad, const char *wanted)
{
	fake f;
	char message[256];
	fake_start(&f, book, TC_TEXT("contact"));
	assert_non_null(compile(&f, good, message));
	assert_null(compile(&f, bad, message));
	if (!strstr(message, wanted))
		fail_msg("%s", message);
	fake_end(&f);
	free(good);
	free(bad);
}

static void test_text(void **state)
{
	(void)state;
	const size_t rest = strlen("gap > 3 h");
	pair(repeat("gap > 3 h", " ", TC_EXPR_TEXT_MAX - rest, ""),
	    repeat("gap > 3 h", " ", TC_EXPR_TEXT_MAX - rest + 1, ""), "at most 4096 bytes; this one has 4097");
}

static void test_depth(void **state)
{
	(void)state;
	char *closing[2] = {
	    repeat("direct", ")", TC_EXPR_DEPTH_MAX, ""), repeat("direct", ")", TC_EXPR_DEPTH_MAX + 1, "")};
	pair(repeat("", "(", TC_EXPR_DEPTH_MAX, closing[0]), repeat("", "(", TC_EXPR_DEPTH_MAX + 1, closing[1]),
	    "nested deeper than 32");
	free(closing[0]);
	free(closing[1]);
	pair(repeat("", "not ", TC_EXPR_DEPTH_MAX, "direct"), repeat("", "not ", TC_EXPR_DEPTH_MAX + 1, "direct"),
	    "nested deeper than 32");
}

/* n operands are n values, n - 1 `and`s and one jump: 256 are 512 instructions. */
static void test_code(void **state)
{
	(void)state;
	pair(repeat("direct", " and direct", 255, ""), repeat("not direct", " and direct", 255, ""),
	    "longer than 512 instructions");
	fake f;
	char message[256];
	char *text = repeat("direct", " and direct", 255, "");
	fake_start(&f, book, TC_TEXT("contact"));
	assert_int_equal(compile(&f, text, message)->length, TC_CODE_MAX);
	fake_end(&f);
	free(text);
}

static void test_stack(void **state)
{
	(void)state;
	pair(repeat("min(1", ", 1", TC_STACK_MAX - 1, ") > 0"), repeat("min(1", ", 1", TC_STACK_MAX, ") > 0"),
	    "needs 65 values at once");
}

static char *many_names(uint32_t count)
{
	char *text = calloc(1, 64 * count), *at = text;
	for (uint32_t i = 0; i < count; i++)
		at += sprintf(at, "%sany(earlier layers as l%u)", i ? " and " : "", i);
	return text;
}

static void test_names(void **state)
{
	(void)state;
	pair(many_names(TC_NAMES_MAX - TC_SLOT_COUNT), many_names(TC_NAMES_MAX - TC_SLOT_COUNT + 1),
	    "more than 16 names");
}

static void test_folds(void **state)
{
	(void)state;
	pair(repeat("", "any(all parts as p, any(all steps as s, direct))", 1, ""),
	    repeat("", "any(all parts as p, any(all steps as s, any(exposed as e, direct)))", 1, ""), "at most 2 deep");
}

static void test_pattern(void **state)
{
	(void)state;
	pair(repeat("coat.label matches '", "a", TC_PATTERN_MAX, "'"),
	    repeat("coat.label matches '", "a", TC_PATTERN_MAX + 1, "'"),
	    "a pattern has at most 1024 bytes; this one has 1025");
}

static void test_spans(void **state)
{
	(void)state;
	pair(repeat("gap in [1 h on", ", 1 h on", 31, "]"), repeat("gap in [1 h on", ", 1 h on", 32, "]"),
	    "at most 32 spans");
}

/* p `direct`s before a fold of 210 by 237: p asks and p `and`s, a jump, 1 + 210 · (2 + 2 · 237) instructions of the fold:
 * 100 000 with p = 19. */
static void test_steps_of_a_rule(void **state)
{
	(void)state;
	fake f;
	char message[256];
	char *good = repeat("", "direct and ", 19, "every(earlier layers as l, every(later layers as m, l.old))");
	char *bad = repeat(
	    "not spoken_of and ", "direct and ", 18, "every(earlier layers as l, every(later layers as m, l.old))");
	fake_start(&f, book, TC_TEXT("contact; direct = yes; spoken_of = no; coat.old = yes"));
	for (uint32_t i = 0; i < 210; i++)
		f.items[TC_R_EARLIER_LAYERS][i] = &f.things[TC_SLOT_COAT];
	for (uint32_t i = 0; i < 237; i++)
		f.items[TC_R_LATER_LAYERS][i] = &f.things[TC_SLOT_COAT];
	f.counts[TC_R_EARLIER_LAYERS] = 210;
	f.counts[TC_R_LATER_LAYERS] = 237;
	assert_int_equal(tc_decide(&f.q, compile(&f, good, message)), TC_TRUE);
	assert_int_equal(f.q.spent, TC_STEPS_PER_ASK);
	assert_false(f.q.hit_rule_bound);
	assert_int_equal(f.steps_left, TC_STEPS_PER_CHECK - TC_STEPS_PER_ASK);
	assert_int_equal(tc_decide(&f.q, compile(&f, bad, message)), TC_UNSURE);
	assert_true(f.q.hit_rule_bound);
	assert_false(f.q.hit_check_bound);
	fake_end(&f);
	free(good);
	free(bad);
}

static void test_steps_of_a_recipe(void **state)
{
	(void)state;
	fake f;
	char message[256];
	fake_start(&f, book, TC_TEXT("contact; direct = yes; gap = 1 h"));
	const tc_expr *x = compile(&f, "direct and gap < 3 h", message); /* ask, jump, ask, compare, and */
	f.steps_left = 5;
	assert_int_equal(tc_decide(&f.q, x), TC_TRUE);
	assert_int_equal(f.steps_left, 0);
	assert_false(f.q.hit_check_bound);
	f.steps_left = 4;
	assert_int_equal(tc_decide(&f.q, x), TC_UNSURE);
	assert_true(f.q.hit_check_bound);
	assert_false(f.q.hit_rule_bound);
	fake_end(&f);
}

/* What does not depend on the inner name is computed once a fold, not once an element. */
static void test_kept_out_of_loops(void **state)
{
	(void)state;
	fake f;
	char message[256];
	fake_start(&f, book,
	    TC_TEXT("contact; earlier layers: a b c d; exposed: x y z; coat.red = 2; a.old = yes; b.old = yes; "
	            "c.old = yes; d.old = yes"));
	const tc_expr *x = compile(&f, "any(earlier layers as l, l.old and coat.red(under) < 1)", message);
	f.calls = 0;
	assert_int_equal(tc_decide(&f.q, x), TC_FALSE);
	assert_int_equal(f.calls, 4 + 1);
	x = compile(&f, "any(earlier layers as l, any(exposed as e, l.red(coat) < 1 or coat.red(under) < 1))", message);
	f.calls = 0;
	assert_int_equal(tc_decide(&f.q, x), TC_UNSURE);
	assert_int_equal(f.calls, 4 + 1);
	x = compile(&f, "any(earlier layers as l, any(exposed as e, coat.red(e) < 1))", message);
	f.calls = 0;
	tc_decide(&f.q, x);
	assert_int_equal(f.calls, 3); /* the whole inner fold once */
	fake_end(&f);
}

/* --- of a rulebook --------------------------------------------------------------------------------------------------- */

static char *many(const char *head, const char *format, uint32_t count)
{
	char *text = calloc(1, 256 * (size_t)count + 64), *at = stpcpy(text, head);
	for (uint32_t i = 0; i < count; i++)
		at += sprintf(at, format, i);
	return text;
}

static void count_bound(const char *head, const char *format, uint32_t most, const char *wanted)
{
	char *good = many(head, format, most), *bad = many(head, format, most + 1);
	tc_buffer out;
	tc_rulebook_free(load_book(good, NULL, NULL));
	tc_buffer_start(&out, NULL);
	assert_null(load_book(bad, NULL, &out));
	assert_non_null(strstr(out.at, wanted));
	tc_buffer_free(&out);
	free(good);
	free(bad);
}

static void test_rules(void **state)
{
	(void)state;
	count_bound("rules:\n",
	    "  r%u: {about: a, asks: contact, when: direct, verdict: note, says: s, from: practice, "
	    "shown_by: {breaks: [{on: steel}], holds: [{on: brass}]}}\n",
	    TC_RULES_MAX, "a rulebook has at most 1024 rules");
}

static void test_lets(void **state)
{
	(void)state;
	size_t length;
	char *const text = read_text_file("tests/unit/rule/book.yaml", &length);
	uint32_t in_book = 0;
	for (const char *at = strstr(text, "\nlet:"); (at = strstr(at, "\n  ")) != NULL; at++)
		in_book++;
	free(text);
	count_bound("let:\n", "  l%u: {asks: contact, is: gap < 3 h}\n", TC_LETS_MAX - in_book,
	    "a rulebook has at most 1024 lets");
}

/* Lets that double at each step end at the bound on instructions, not at the end of memory. */
static void test_runaway_lets(void **state)
{
	(void)state;
	char text[4096], *at = text + sprintf(text, "let:\n  d0: {asks: contact, is: direct}\n");
	for (int i = 1; i <= 30; i++)
		at += sprintf(at, "  d%d: {asks: contact, is: d%d or d%d}\n", i, i - 1, i - 1);
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	assert_null(load_book(text, NULL, &out));
	assert_non_null(strstr(out.at, "with its lets written out this is longer than 512 instructions"));
	tc_buffer_free(&out);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(test_text), cmocka_unit_test(test_depth),
	    cmocka_unit_test(test_code), cmocka_unit_test(test_stack), cmocka_unit_test(test_names),
	    cmocka_unit_test(test_folds), cmocka_unit_test(test_pattern), cmocka_unit_test(test_spans),
	    cmocka_unit_test(test_steps_of_a_rule), cmocka_unit_test(test_steps_of_a_recipe),
	    cmocka_unit_test(test_kept_out_of_loops), cmocka_unit_test(test_rules), cmocka_unit_test(test_lets),
	    cmocka_unit_test(test_runaway_lets)};
	return cmocka_run_group_tests(tests, load, unload);
}
