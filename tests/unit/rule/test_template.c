/* Templates: holes, units, braces, digits, and what is wrong with them. All figures are invented. */
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

/* A rule's `says` with a `when`, as a rule would compile it; the text, or the messages. */
static void prints(const char *data, const char *when, const char *says, const char *wanted)
{
	fake f;
	tc_compiler c;
	tc_buffer out;
	fake_start(&f, book, tc_text_of(data));
	tc_diags *diags = tc_diags_new(f.arena);
	tc_buffer_start(&out, NULL);
	tc_compiler_start(&c, tc_rulebook_library(book), &book->lets, f.arena, f.arena, diags);
	tc_request request = {.ask = f.q.ask, .want = TC_T_TRUTH, .what = "when"};
	const tc_passage test = {.text = tc_text_of(when), .file = "when"},
	                 text = {.text = tc_text_of(says), .file = "says"};
	const tc_expr *x = tc_expr_build(&c, &test, &request, NULL);
	assert_non_null(x);
	tc_scope_name names[TC_NAMES_MAX];
	memcpy(names, c.visible, sizeof names);
	request.names = names;
	request.names_count = c.visible_count;
	request.what = "says";
	const tc_template *t = tc_template_build(&c, &text, &request, x);
	if (t) {
		tc_leaf leaf;
		assert_int_equal(tc_decide(&f.q, x), TC_TRUE);
		tc_explain(&f.q, x, f.arena, &leaf, 1);
		tc_template_print(&f.q, t, &out);
	} else {
		print_diags(diags, &out);
	}
	assert_string_equal(out.at, wanted);
	tc_buffer_free(&out);
	fake_end(&f);
}

static void test_plain(void **state)
{
	(void)state;
	prints("direct = yes", "direct", "nothing in it", "nothing in it");
	prints("direct = yes", "direct", "a {{brace}} stays", "a {brace} stays");
	prints("direct = yes; coat is urethane-2k", "direct", "{coat}", "two-part urethane");
	prints("direct = yes; coat is urethane-2k", "direct", "{coat}{coat}", "two-part urethanetwo-part urethane");
	prints("direct = yes; gap = 5400 s", "direct", "{gap}, {gap as min}, {gap as h}, {gap as s}",
	    "1.5 h, 90 min, 1.5 h, 5400 s");
	prints("direct = yes; film_between = 25.4 mm", "direct", "{film_between as in}", "1 in");
	prints("direct = yes; shop.temperature = 21 °C", "direct", "{shop.temperature as °F}", "69.8 °F");
	prints("direct = yes; coat.solids = 12 %", "direct", "{coat.solids as ppm}", "120000 ppm");
}

static void test_states(void **state)
{
	(void)state;
	prints("direct = yes", "direct", "{gap}", "unknown");
	prints("direct = yes; gap = absent", "direct", "{gap}", "none");
	prints("direct = yes", "direct", "{direct}", "yes");
	prints("direct = yes; coat.old = no", "direct", "{coat.old}", "no");
	prints("direct = yes; coat.role = clear; under.soil = dust, wax", "direct", "{coat.role} on {under.soil}",
	    "clear on dust, wax");
	prints("direct = yes", "direct", "{2 * 3} {'}'} {gap > 3 h}", "6 } unknown");
}

/* Control and direction characters of a recipe's text are shown, not obeyed. */
static void test_harmless(void **state)
{
	(void)state;
	prints("direct = yes; coat.label = 'a\xE2\x80\xAE"
	       "b'",
	    "direct", "{coat.label}", "a<U+202E>b");
}

static void test_digits(void **state)
{
	(void)state;
	prints("coat.red = 0.99987", "coat.red(under) < 1", "{coat.red(under)}", "0.9999");
	prints("coat.red = 0.99987", "coat.old or not coat.old or coat.red(under) < 1 or direct", "{coat.red(under)}",
	    "0.9999");
	prints("coat.red = 0.5", "coat.red(under) < 1", "{coat.red(under)}", "0.5");
	prints("gap = 71.996 h", "gap < 72 h", "{gap}", "71.996 h");
	prints("gap = 71.996 h; coat.red = 0.5", "coat.red(under) < 1", "{gap}", "3 d"); /* no bound, no more digits */
	prints("under.cured = 84.996 %", "under.cured between 15 % and 85 %", "{under.cured}", "84.996 %");
	prints("coat.dry_film = 19.996 µm", "thin_film or below_bound(coat)", "{coat.dry_film}", "19.996 µm");
	prints("gap = 59.9 s; coat.age = 59.996 s", "coat.age > gap", "{coat.age} {gap}", "1 min 59.9 s");
}

/* The name that an `any` bound, in a condition of its own and in bounds. */
static void test_bound_name(void **state)
{
	(void)state;
	const char *const layers =
	    "earlier layers: a b c; a is urethane-2k; b is alkyd-enamel; c is alkyd-enamel; a.age = 9 h; "
	    "b.age = 2.9996 h; c.age = 1 h; direct = yes";
	prints(
	    layers, "direct and any(earlier layers as l, l.age < 3 h)", "{l} of {l.age}", "alkyd enamel of 2.9996 h");
	prints(layers, "any(earlier layers as l, l.age < 3 h) and any(earlier layers as m, m.age > 8 h)",
	    "{m} under {l}", "two-part urethane under alkyd enamel");
	prints(layers, "direct or any(earlier layers as l, l.age < 3 h)", "{l}",
	    "says:1:2: error: no name `l` here [unknown-name]\n");
	prints(layers, "not no(earlier layers as l, l.old) or direct", "{l}",
	    "says:1:2: error: no name `l` here [unknown-name]\n");
}

static void test_wrong(void **state)
{
	(void)state;
	prints(
	    "", "direct", "{coat", "says:1:1: error: this `{` has no `}`; a brace itself is written `{{` [template]\n");
	prints("", "direct", "coat}",
	    "says:1:5: error: a `}` without its `{`; a brace itself is written `}}` [template]\n");
	prints("", "direct", "{}", "says:1:2: error: an expression is expected here [syntax]\n");
	prints("", "direct", "{coat.ag}", "says:1:7: error: no field `ag` of a layer; `age` is near [unknown-name]\n");
	prints("", "direct", "grün {gap as µm}", "says:1:14: error: `µm` is no unit of a time [unit]\n");
	prints("", "direct", "{gap as hx}", "says:1:9: error: no unit `hx` [unit]\n");
	prints("", "direct", "{coat as h}", "says:1:10: error: `h` is no unit of a layer [unit]\n");
	prints("", "direct", "{coat.solvents}",
	    "says:1:2: error: `coat.solvents` is a composition; says wants something that can be printed [type]\n");
	prints("", "direct", "{gap + 1} and {coat.red}",
	    "says:1:8: error: `1` is a bare number and `gap` a time; write its unit [dimensions]\nsays:1:2: note: "
	    "`gap` stands here\n"
	    "says:1:16: error: `red` wants something exposed in parentheses [arguments]\n");
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(test_plain), cmocka_unit_test(test_states),
	    cmocka_unit_test(test_harmless), cmocka_unit_test(test_digits), cmocka_unit_test(test_bound_name),
	    cmocka_unit_test(test_wrong)};
	return cmocka_run_group_tests(tests, load, unload);
}
