/* The compiled form, against dump.txt. A change is accepted by a person who has read the difference:
 * TIECOAT_ACCEPT=1 build/tests/unit/rule/test_dump writes the file anew. */
#include "fake.h"

static const char *const expressions[] = {
    "coat.red(under) < 1 and half_cured(under) and coat is lacquer and direct",
    "gap > 3 h or coat.old or film_between < 12 µm and not direct",
    "any(earlier layers as l, l.cure is light and l.cured < 90 %)",
    "any(earlier layers as l, l.old and coat.red(under) < 1)",
    "count(earlier layers of coat as l, l.role is one of [primer, colour]) > 2",
    "90 µm < sum(all layers as l, l.dry_film)",
    "any(earlier layers as l, any(exposed as e, l.red(e) < 1 or coat.red(under) < 1))",
    "last(earlier layers as l, l.role is primer).age between 1 h and 2 h",
    "below_bound(newest_primer)",
    "gap in under.recoat and gap in [10 min to 1 h, 2 d on]",
    "has coat.pot_life and has gap and known under and has last(earlier layers as l)",
    "coat.label matches '^a' and coat.role is not primer and under.soil is not one of [dust, wax]",
    "min(gap, 3 h, under.recoat.after(gap)) - abs(-2 h) * 3 / 2",
    "shop.temperature + 5 K",
    "recipe.title != 'boat' and recipe.scale = 48",
    "under.reaches(85 %) - gap",
    "coat.hot_time(under)",
};

static void test_golden(void **state)
{
	(void)state;
	tc_rulebook *book = load_book(NULL, NULL, NULL);
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(arena);
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	for (size_t i = 0; i < sizeof expressions / sizeof *expressions; i++) {
		const tc_expr *x = tc_expr_compile(book, arena, TC_ASK_CONTACT, tc_text_of(expressions[i]), diags);
		if (!x)
			fail_msg("%s: %s", expressions[i], tc_diags_at(diags, 0)->message);
		tc_buffer_print(&out, "%s\n", expressions[i]);
		tc_expr_dump(book, x, &out);
		tc_buffer_char(&out, '\n');
	}
	if (getenv("TIECOAT_ACCEPT")) {
		FILE *file = fopen("tests/unit/rule/dump.txt", "wb");
		assert_non_null(file);
		assert_int_equal(fwrite(out.at, 1, out.length, file), out.length);
		fclose(file);
	}
	size_t length;
	char *const wanted = read_text_file("tests/unit/rule/dump.txt", &length);
	assert_string_equal(out.at, wanted);
	free(wanted);
	tc_buffer_free(&out);
	tc_arena_free(arena);
	tc_rulebook_free(book);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(test_golden)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
