/* Which leaves decided, what is lacking, and how values read beside their bounds. All figures are invented. */
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

/* Decides and explains, and compares `leaf T|F|U: path = printed, path = printed` lines. */
static void explains(const char *data, const char *expression, const char *wanted)
{
	fake f;
	tc_leaf leaves[16];
	char got[2048] = "";
	fake_start(&f, book, tc_text_of(data));
	tc_diags *diags = tc_diags_new(f.arena);
	const tc_expr *x = tc_expr_compile(book, f.arena, f.q.ask, tc_text_of(expression), diags);
	assert_non_null(x);
	assert_int_not_equal(tc_decide(&f.q, x), TC_FALSE);
	const uint32_t count = tc_explain(&f.q, x, f.arena, leaves, 16);
	for (uint32_t i = 0; i < count && i < 16; i++) {
		size_t used = strlen(got);
		used +=
		    (size_t)snprintf(got + used, sizeof got - used, "%s %c:", leaves[i].text, "FUT"[leaves[i].truth]);
		for (uint32_t j = 0; j < leaves[i].count; j++)
			used += (size_t)snprintf(got + used, sizeof got - used, "%s %s = %s", j ? "," : "",
			    leaves[i].paths[j].text, leaves[i].paths[j].printed);
		snprintf(got + used, sizeof got - used, "\n");
	}
	assert_string_equal(got, wanted);
	fake_end(&f);
}

/* Source order, though the cheap one was asked first. */
static void test_order(void **state)
{
	(void)state;
	explains("coat.red = 0.5; direct = yes; under is brass", "coat.red(under) < 1 and direct and under is metal",
	    "coat.red(under) < 1 T: coat.red(under) = 0.5\ndirect T: direct = yes\nunder is metal T: under = brass\n");
}

static void test_or(void **state)
{
	(void)state;
	explains("coat.red = 0.5; direct = yes", "coat.red(under) < 1 or direct",
	    "coat.red(under) < 1 T: coat.red(under) = 0.5\n");
	explains("coat.red = 2; direct = yes", "coat.red(under) < 1 or direct", "direct T: direct = yes\n");
	explains("direct = no", "coat.red(under) < 1 or gap > 1 h or direct",
	    "coat.red(under) < 1 U: coat.red(under) = unknown\ngap > 1 h U: gap = unknown\n");
}

static void test_not(void **state)
{
	(void)state;
	explains("direct = no; coat.old = no", "not (direct or coat.old)",
	    "direct F: direct = no\ncoat.old F: coat.old = no\n");
	explains("direct = yes; coat.old = no", "not (direct and coat.old)", "coat.old F: coat.old = no\n");
	explains("direct = yes", "not coat.old and direct", "coat.old U: coat.old = unknown\n");
}

/* Known leaves under a U are no reasons; what is U all the way up is. */
static void test_unknown(void **state)
{
	(void)state;
	explains("direct = yes; gap = 2 h", "direct and (gap > 1 h and coat.old or coat.age > 1 h and coat.covered)",
	    "coat.old U: coat.old = unknown\ncoat.age > 1 h U: coat.age = unknown\ncoat.covered U: coat.covered = "
	    "unknown\n");
}

/* The root: what is unknown is the thinner, not its density. */
static void test_roots(void **state)
{
	(void)state;
	explains("coat is urethane-2k", "coat.thinner.density > 800 kg/m³",
	    "coat.thinner.density > 800 kg/m³ U: coat.thinner = unknown\n");
	explains("coat.thinner = t", "coat.thinner.density > 800 kg/m³",
	    "coat.thinner.density > 800 kg/m³ U: coat.thinner.density = unknown\n");
	explains("gap = 2 h", "gap + coat.flash_used > film_between / (film_between / coat.age)",
	    "gap + coat.flash_used > film_between / (film_between / coat.age) U: coat.flash_used = unknown, "
	    "film_between = unknown, "
	    "film_between = unknown, coat.age = unknown\n");
	explains("gap = 2 h", "gap / (gap - gap) > 1", "gap / (gap - gap) > 1 U: gap / (gap - gap) = unknown\n");
	explains(
	    "direct = yes", "coat.red(coat.thinner) < 1", "coat.red(coat.thinner) < 1 U: coat.thinner = unknown\n");
	explains("under is coating", "under is lacquer", "under is lacquer U: under = coating\n");
	explains(
	    "coat.thinner = unknown", "coat.thinner is thinner", "coat.thinner is thinner U: coat.thinner = unknown\n");
}

static void test_folds(void **state)
{
	(void)state;
	explains("earlier layers: a b c; a.old = no; b.old = yes; b.age = 3 h; c.old = yes; c.age = 9 h",
	    "any(earlier layers as l, l.old and l.age < 4 h)", "l.old T: l.old = yes\nl.age < 4 h T: l.age = 3 h\n");
	explains("earlier layers: a b", "no(earlier layers as l, l.old)",
	    "l.old U: l.old = unknown\nl.old U: l.old = unknown\n");
	explains("earlier layers: a b; a.old = no; b.old = no", "no(earlier layers as l, l.old)",
	    "no(earlier layers as l, l.old) T:\n");
	explains("direct = yes", "every(earlier layers as l, l.old)", "every(earlier layers as l, l.old) T:\n");
	explains("earlier layers: a b; a.old = yes; b.old = no", "not every(earlier layers as l, l.old)",
	    "l.old F: l.old = no\n");
	explains("earlier layers: a b; a.dry_film = 95 µm", "sum(earlier layers as l, l.dry_film) > 90 µm",
	    "sum(earlier layers as l, l.dry_film) > 90 µm T: sum(earlier layers as l, l.dry_film) = at least 95 µm\n");
	explains("earlier layers: a b; a.dry_film = 85 µm", "sum(earlier layers as l, l.dry_film) > 90 µm",
	    "sum(earlier layers as l, l.dry_film) > 90 µm U: l.dry_film = unknown\n");
	explains("earlier layers: a b; a.old = yes; a.age = 1 h", "last(earlier layers as l, l.old).age < 2 h",
	    "last(earlier layers as l, l.old).age < 2 h U: l.old = unknown\n");
}

/* Texts of lets show what stands for their parameters, figures keep the names that they were given. */
static void test_lets(void **state)
{
	(void)state;
	explains("coat.red = 0.5", "bites(coat, under)", "coat.red(under) < 1 T: coat.red(under) = 0.5\n");
	explains("coat.dry_film = 3 µm", "below_bound(coat)", "coat.dry_film < bound T: coat.dry_film = 3 µm\n");
	explains("earlier layers: a; a.role = primer; a.dry_film = 3 µm", "below_bound(newest_primer)",
	    "newest_primer.dry_film < bound T: newest_primer.dry_film = 3 µm\n");
}

/* `RED 1 < 1` never stands in a report. */
static void test_digits(void **state)
{
	(void)state;
	explains("coat.red = 0.99987", "coat.red(under) < 1", "coat.red(under) < 1 T: coat.red(under) = 0.9999\n");
	explains("coat.red = 0.9999996", "coat.red(under) < 1",
	    "coat.red(under) < 1 T: coat.red(under) = 1\n"); /* six, no more */
	explains("coat.red = 0.5", "coat.red(under) < 1", "coat.red(under) < 1 T: coat.red(under) = 0.5\n");
	explains("under.cured = 84.996 %", "under.cured between 15 % and 85 %",
	    "under.cured between 15 % and 85 % T: under.cured = 84.996 %\n");
	explains("gap = 1 h", "gap <= 60 min", "gap <= 60 min T: gap = 1 h\n");
}

static void test_windows(void **state)
{
	(void)state;
	explains("gap = 5 h; under.recoat = 10 min to 1 h, 48 h on", "under.recoat.after(gap) > gap",
	    "under.recoat.after(gap) > gap T: under.recoat.after(gap) = 48 h, gap = 5 h\n");
	explains("gap = 30 min; under.recoat = 10 min to 1 h, 48 h on", "gap in under.recoat",
	    "gap in under.recoat T: gap = 30 min, under.recoat = 10 min to 1 h, 48 h on\n");
}

/* What a leaf says of its fields: whose they are, and with which arguments. */
static void test_fields(void **state)
{
	(void)state;
	fake f;
	tc_leaf leaf;
	fake_start(&f, book, TC_TEXT("coat.hot_time = 3 s"));
	tc_diags *diags = tc_diags_new(f.arena);
	const tc_expr *x = tc_expr_compile(book, f.arena, TC_ASK_CONTACT, TC_TEXT("coat.hot_time(under) > 1 s"), diags);
	assert_int_equal(tc_decide(&f.q, x), TC_TRUE);
	assert_int_equal(tc_explain(&f.q, x, f.arena, &leaf, 1), 1);
	assert_int_equal(leaf.count, 1);
	assert_int_equal(leaf.paths[0].field, TC_F_LAYER_HOT_TIME);
	assert_int_equal(leaf.paths[0].of, TC_S_LAYER);
	assert_ptr_equal(leaf.paths[0].subject, f.q.bound[TC_SLOT_COAT].is);
	assert_ptr_equal(leaf.paths[0].arguments[0].is, f.q.bound[TC_SLOT_UNDER].is);
	assert_true(leaf.paths[0].arguments[1].number == 1);
	assert_true(tc_dim_same(leaf.paths[0].dim, TC_DIM_TIME));
	/* more leaves than room: counted, not written */
	x = tc_expr_compile(
	    book, f.arena, TC_ASK_CONTACT, TC_TEXT("coat.hot_time(under) > 1 s and coat.hot_time(under) > 2 s"), diags);
	assert_int_equal(tc_explain(&f.q, x, f.arena, &leaf, 1), 2);
	fake_end(&f);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(test_order), cmocka_unit_test(test_or),
	    cmocka_unit_test(test_not), cmocka_unit_test(test_unknown), cmocka_unit_test(test_roots),
	    cmocka_unit_test(test_folds), cmocka_unit_test(test_lets), cmocka_unit_test(test_digits),
	    cmocka_unit_test(test_windows), cmocka_unit_test(test_fields)};
	return cmocka_run_group_tests(tests, load, unload);
}
