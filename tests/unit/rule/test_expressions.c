/* The cases of expressions.txt: groups of three lines, `data`, `expression`, `value`; blank lines and lines that begin with
 * `#` are passed over. A value is T, F, U, a printed value, or the messages whole (further ones behind ` | `). */
#include "fake.h"

typedef struct cases {
	tc_rulebook *rulebook;
	char *text;
	size_t at, length;
	uint32_t line;
} cases;

/* The next line that says something; false at the end. */
static bool next_line(cases *c, tc_text *line)
{
	while (c->at < c->length) {
		const char *begin = c->text + c->at, *end = memchr(begin, '\n', c->length - c->at);
		*line = (tc_text){begin, end ? (size_t)(end - begin) : c->length - c->at};
		c->at += line->length + 1;
		c->line++;
		if (line->length && line->at[0] != '#')
			return true;
	}
	return false;
}

/* `\n` in an expression stands for a line break, `\t` for a tab. */
static tc_text unescape(tc_text text, char *out)
{
	size_t length = 0;
	for (size_t i = 0; i < text.length; i++) {
		if (text.at[i] == '\\' && i + 1 < text.length && (text.at[i + 1] == 'n' || text.at[i + 1] == 't'))
			out[length++] = text.at[++i] == 'n' ? '\n' : '\t';
		else
			out[length++] = text.at[i];
	}
	return (tc_text){out, length};
}

/* An explanation must not disagree: leaves of a U rule are U, and something is said whenever the rule is not F. */
static void check_explanation(fake *f, const tc_expr *x, tc_truth truth, uint32_t line)
{
	tc_leaf leaves[32];
	if (truth == TC_FALSE)
		return;
	const uint32_t count = tc_explain(&f->q, x, f->arena, leaves, 32);
	if (count == 0)
		fail_msg("line %u: no leaf explains it", line);
	for (uint32_t i = 0; i < count && i < 32; i++) {
		if (truth == TC_UNSURE && leaves[i].truth != TC_UNSURE)
			fail_msg("line %u: leaf `%s` is not what makes it unknown", line, leaves[i].text);
		assert_non_null(leaves[i].text);
	}
}

static void print_result(fake *f, const tc_expr *x, tc_buffer *out, uint32_t line)
{
	static const char *const truths[] = {"F", "U", "T"};
	tc_field_row room;
	if (x->type == TC_T_TRUTH) {
		const tc_truth truth = tc_decide(&f->q, x);
		assert_int_equal(truth, tc_truth_of(tc_evaluate(&f->q, x)));
		check_explanation(f, x, truth, line);
		tc_buffer_puts(out, truths[truth]);
	} else {
		tc_value_print(&f->q, tc_evaluate(&f->q, x), x->dim, tc_vocabulary_of(x->vocabulary_field, &room), out);
	}
}

static void print_messages(tc_diags *diags, tc_buffer *out)
{
	tc_buffer raw;
	tc_buffer_start(&raw, NULL);
	print_diags(diags, &raw);
	for (size_t i = 0; i + 1 < raw.length; i++)
		if (raw.at[i] == '\n')
			tc_buffer_puts(out, " | ");
		else
			tc_buffer_char(out, raw.at[i]);
	tc_buffer_free(&raw);
}

static bool run_case(cases *c, tc_text data, tc_text expression, tc_text wanted, uint32_t line)
{
	fake f;
	char *plain = calloc(1, expression.length + 1);
	tc_buffer got;
	fake_start(&f, c->rulebook, data);
	tc_diags *diags = tc_diags_new(f.arena);
	tc_buffer_start(&got, NULL);
	f.q.patterns = tc_patterns_new(NULL);
	const tc_expr *x = tc_expr_compile(c->rulebook, f.arena, f.q.ask, unescape(expression, plain), diags);
	assert_true((x != NULL) == (tc_diags_errors(diags) == 0));
	if (x)
		print_result(&f, x, &got, line);
	else
		print_messages(diags, &got);
	const bool good = tc_text_same((tc_text){got.at, got.length}, wanted);
	if (!good)
		print_message("expressions.txt:%u: %.*s\n  %.*s\n  wanted %.*s\n  got    %s\n", line, (int)data.length,
		    data.at, (int)expression.length, expression.at, (int)wanted.length, wanted.at, got.at);
	tc_patterns_free(f.q.patterns);
	tc_buffer_free(&got);
	fake_end(&f);
	free(plain);
	return good;
}

static void test_cases(void **state)
{
	(void)state;
	cases c = {.rulebook = load_book(NULL, NULL, NULL)};
	c.text = read_text_file("tests/unit/rule/expressions.txt", &c.length);
	tc_text data, expression, wanted;
	uint32_t count = 0, wrong = 0;
	while (next_line(&c, &data)) {
		const uint32_t line = c.line;
		assert_true(next_line(&c, &expression) && next_line(&c, &wanted));
		wrong += !run_case(&c, data, expression, wanted, line);
		count++;
	}
	print_message("%u cases\n", count);
	assert_true(count > 100);
	assert_int_equal(wrong, 0);
	free(c.text);
	tc_rulebook_free(c.rulebook);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(test_cases)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
