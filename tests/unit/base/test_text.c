/* Slices, blanks, UTF-8, likeness of words. */
#include "base/text.h"

#include "check.h"

static void comparing(void **state)
{
	(void)state;
	assert_true(tc_text_same(TC_TEXT("abc"), tc_text_of("abc")));
	assert_false(tc_text_same(TC_TEXT("abc"), TC_TEXT("abd")));
	assert_false(tc_text_same(TC_TEXT("abc"), TC_TEXT("ab")));
	assert_true(tc_text_same(tc_text_of(NULL), (tc_text){NULL, 0}));
	assert_true(tc_text_is(TC_TEXT("primer"), "primer"));
	assert_false(tc_text_is(TC_TEXT("primer"), "prime"));
	assert_true(tc_text_starts(TC_TEXT("primer"), "prim"));
	assert_true(tc_text_starts(TC_TEXT("primer"), ""));
	assert_false(tc_text_starts(TC_TEXT("pri"), "prim"));
	assert_int_equal(tc_text_order(TC_TEXT("a"), TC_TEXT("b")), -1);
	assert_int_equal(tc_text_order(TC_TEXT("a"), TC_TEXT("ab")), -1);
	assert_int_equal(tc_text_order(TC_TEXT("z"), TC_TEXT("é")), -1); /* by bytes: 0x7A < 0xC3 */
	assert_int_equal(tc_text_order(TC_TEXT("b"), TC_TEXT("ab")), 1);
	assert_int_equal(tc_text_order(TC_TEXT(""), (tc_text){NULL, 0}), 0);
}

static void hashing(void **state)
{
	(void)state;
	/* FNV-1a of the empty text is its offset basis 0xCBF29CE484222325, of "a" 0xAF63DC4C8601EC8C (from memory of
	 * the authors' test vectors); ours folds the upper half into the lower (own arithmetic: x ^ x >> 32). */
	assert_true(tc_text_hash(TC_TEXT("")) == (0xCBF29CE484222325u ^ 0xCBF29CE4u));
	assert_true(tc_text_hash(TC_TEXT("a")) == (0xAF63DC4C8601EC8Cu ^ 0xAF63DC4Cu));
}

static void trimming(void **state)
{
	(void)state;
	static const struct {
		const char *text, *trimmed;
	} rows[] = {
	    {"", ""}, {"   ", ""}, {"  a b ", "a b"}, {"\t\r\na\n", "a"},
	    {"\xC2\xA0 12 min\xE2\x80\xAF", "12 min"}, /* U+00A0, U+202F */
	    {"\xE2\x80\x89µ\xE2\x80\x87", "µ"},        /* U+2009, U+2007; the last byte of µ is no blank */
	    {"\xC2\xA0", ""}, {"à", "à"},              /* C3 A0: ends in the byte of U+00A0's end */
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++)
		assert_true(tc_text_is(tc_text_trim(tc_text_of(rows[i].text)), rows[i].trimmed));
	assert_int_equal(tc_blank_length("x", 1), 0);
	assert_int_equal(tc_blank_length("", 0), 0);
	assert_int_equal(tc_blank_length("\xC2", 1), 0);
	assert_int_equal(tc_blank_length("\xC2\xA0", 2), 2);
}

static void ill_formed_utf8(void **state)
{
	(void)state;
	/* Sequences that RFC 3629 excludes, worked from its table in section 4. */
	static const char *const bad[] = {"\x80", "\xBF", "\xC0\x80", "\xC1\xBF", "\xC2", "\xC2 ", "\xE0\x9F\xBF",
	    "\xED\xA0\x80", "\xED\xBF\xBF", "\xE2\x82", "\xF0\x8F\xBF\xBF", "\xF4\x90\x80\x80", "\xF5\x80\x80\x80",
	    "\xFF", "\xF0\x9F\x8E"};
	for (size_t i = 0; i < COUNT_OF(bad); i++) {
		assert_int_equal(tc_utf8_bad(bad[i], strlen(bad[i])), 0);
		char behind[64];
		const int length = snprintf(behind, sizeof behind, "nine long µ%s", bad[i]);
		assert_int_equal(tc_utf8_bad(behind, (size_t)length), 12);
	}
	static const char good[] =
	    "\x7F\xC2\x80\xDF\xBF\xE0\xA0\x80\xED\x9F\xBF\xEE\x80\x80\xEF\xBF\xBF\xF0\x90\x80\x80"
	    "\xF4\x8F\xBF\xBF and ASCII behind it";
	assert_int_equal(tc_utf8_bad(good, sizeof good - 1), sizeof good - 1);
	assert_int_equal(tc_utf8_count(good, sizeof good - 1), 9 + 20); /* counted by hand */
}

/* The plain way, for the one that takes eight bytes at a time. */
static size_t count_one_by_one(const char *at, size_t length)
{
	size_t count = 0, i = 0;
	while (i < length) {
		uint32_t point;
		i += tc_utf8_next(at + i, length - i, &point);
		count++;
	}
	return count;
}

static void counting(void **state)
{
	(void)state;
	static const char text[] =
	    "a µ ½ € 🎨 ffi\xEF\xAC\x83 кисть 筆 and some more ASCII to pass eight bytes 🖌️ end";
	for (size_t from = 0; from < sizeof text; from++) {
		if (((unsigned char)text[from] & 0xC0) == 0x80)
			continue;
		for (size_t to = from; to < sizeof text; to++)
			if (((unsigned char)text[to] & 0xC0) != 0x80)
				assert_int_equal(
				    tc_utf8_count(text + from, to - from), count_one_by_one(text + from, to - from));
	}
}

static void decoding(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		uint32_t point;
	} rows[] = {{"A", 'A'}, {"µ", 0xB5}, {"€", 0x20AC}, {"🎨", 0x1F3A8}};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		uint32_t point;
		assert_int_equal(tc_utf8_next(rows[i].text, strlen(rows[i].text), &point), strlen(rows[i].text));
		assert_int_equal(point, rows[i].point);
	}
	uint32_t point;
	assert_int_equal(tc_utf8_next("\xE2", 1, &point), 1); /* cut off: does not read beyond */
}

static void columns(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		size_t columns;
	} rows[] = {
	    {"", 0},
	    {"hull", 4},
	    {"20 µm", 5},
	    {"e\xCC\x81", 1}, /* e and a combining acute */
	    {"筆", 2},        /* CJK: wide (Unicode East Asian Width, from memory) */
	    {"ﾌﾃﾞ", 3},       /* halfwidth katakana, halfwidth voiced mark */
	    {"Ａ", 2},        /* fullwidth A */
	    {"🎨", 2},
	    {"한글", 4},
	    {"\xE2\x80\x8B", 0}, /* zero width space */
	    {"кисть", 5},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++)
		assert_int_equal(tc_utf8_columns(tc_text_of(rows[i].text)), rows[i].columns);
}

static void distances(void **state)
{
	(void)state;
	/* Worked by hand: inserts, drops, replacements and swaps of neighbours count one each. */
	static const struct {
		const char *a, *b;
		unsigned distance;
	} rows[] = {
	    {"cured", "cured", 0}, {"curred", "cured", 1}, {"cuerd", "cured", 1}, {"crued", "cured", 1},
	    {"Cured", "cured", 0}, {"", "abc", 3}, {"abc", "", 3}, {"lacquer", "laquer", 1}, {"thinner", "tinnerx", 2},
	    {"abcd", "dcba", 3}, /* b and c swapped, a and d replaced */
	    {"ca", "abc", 3},    /* no byte is changed twice */
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		const tc_text a = tc_text_of(rows[i].a), b = tc_text_of(rows[i].b);
		assert_int_equal(tc_text_distance(a, b, 20), rows[i].distance);
		assert_int_equal(tc_text_distance(b, a, 20), rows[i].distance);
		for (unsigned bound = 0; bound < 5; bound++)
			assert_int_equal(
			    tc_text_distance(a, b, bound), rows[i].distance <= bound ? rows[i].distance : bound + 1);
	}
	char long_a[200], long_b[200];
	memset(long_a, 'a', sizeof long_a);
	memcpy(long_b, long_a, sizeof long_b);
	assert_int_equal(tc_text_distance((tc_text){long_a, 200}, (tc_text){long_b, 200}, 3), 0);
	long_b[0] = 'b';
	assert_int_equal(tc_text_distance((tc_text){long_a, 200}, (tc_text){long_b, 200}, 3), 4);
	assert_int_equal(tc_text_distance((tc_text){long_a, 128}, (tc_text){long_b, 128}, 3), 1);
	assert_int_equal(tc_text_distance((tc_text){long_a, 129}, (tc_text){long_b, 129}, 3), 4);
}

static const char *nearest_of(const char *word, const char *const *candidates, size_t count)
{
	static char found[64];
	tc_nearest nearest = TC_NEAREST(tc_text_of(word));
	for (size_t i = 0; i < count; i++)
		tc_nearest_offer(&nearest, tc_text_of(candidates[i]));
	snprintf(found, sizeof found, "%.*s", (int)nearest.found.length, nearest.found.at ? nearest.found.at : "");
	return found;
}

static void nearest(void **state)
{
	(void)state;
	static const char *const fields[] = {"cured", "cure", "age", "role", "solids", "through_dry", "red"};
	assert_string_equal(nearest_of("curred", fields, COUNT_OF(fields)), "cured");
	assert_string_equal(nearest_of("cured", fields, COUNT_OF(fields)), "cured");
	assert_string_equal(nearest_of("thruogh_dry", fields, COUNT_OF(fields)), "through_dry");
	assert_string_equal(nearest_of("solid", fields, COUNT_OF(fields)), "solids");
	assert_string_equal(nearest_of("colour", fields, COUNT_OF(fields)), "");
	assert_string_equal(nearest_of("ag", fields, COUNT_OF(fields)), "age");
	assert_string_equal(nearest_of("x", fields, COUNT_OF(fields)), "");
	assert_string_equal(nearest_of("", fields, COUNT_OF(fields)), "");
	static const char *const same_distance[] = {"wat", "wit"};
	assert_string_equal(nearest_of("wet", same_distance, 2), "wat"); /* the first one offered */
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(comparing),
	    cmocka_unit_test(hashing),
	    cmocka_unit_test(trimming),
	    cmocka_unit_test(ill_formed_utf8),
	    cmocka_unit_test(counting),
	    cmocka_unit_test(decoding),
	    cmocka_unit_test(columns),
	    cmocka_unit_test(distances),
	    cmocka_unit_test(nearest),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
