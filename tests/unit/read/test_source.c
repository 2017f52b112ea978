/* Bytes of a file: encodings, characters, lines and columns, size. */
#include "check.h"

static void good_texts(void **state)
{
	(void)state;
	static const char *const good[] = {
	    "", "\n", "a", "a: b\r\nc: d\r\n", "\ta: µ 🎨 \xEF\xBF\xBD\n", "\xEF\xBB\xBF", "\xC2\xA0"};
	for (size_t i = 0; i < COUNT_OF(good); i++) {
		tc_arena *arena = tc_arena_new(NULL, 0);
		tc_diags *diags = tc_diags_new(arena);
		tc_source *source;
		assert_int_equal(tc_source_new(arena, "t", good[i], strlen(good[i]), diags, &source), TC_OK);
		assert_int_equal(tc_diags_count(diags), 0);
		assert_string_equal(tc_source_name(source), "t");
		tc_arena_free(arena);
	}
}

static void refused_characters(void **state)
{
	(void)state;
	static const struct {
		const char *text, *expected;
	} rows[] = {
	    {"a\rb", "t.yaml:1:2: error: a carriage return (U+000D) without a line feed; end lines with LF or CR LF "
	             "[line-break]\n"},
	    {"a\r\r\nb\r", "t.yaml:1:2: error: a carriage return (U+000D) without a line feed; end lines with LF or CR "
	                   "LF [line-break]\n"
	                   "t.yaml:2:2: error: a carriage return (U+000D) without a line feed; end lines with LF or CR "
	                   "LF [line-break]\n"},
	    {"µ\xC2\x85", "t.yaml:1:2: error: U+0085 ends a line for YAML and not for editors; write a line feed or a "
	                  "blank [line-break]\n"},
	    {"\n\n \xE2\x80\xA8", "t.yaml:3:2: error: U+2028 ends a line for YAML and not for editors; write a line "
	                          "feed or a blank [line-break]\n"},
	    {"\xE2\x80\xA9", "t.yaml:1:1: error: U+2029 ends a line for YAML and not for editors; write a line feed or "
	                     "a blank [line-break]\n"},
	    {"123456789 12345\x01",
	        "t.yaml:1:16: error: the control character U+0001; take it out [control-character]\n"},
	    {"a\x1B[0m", "t.yaml:1:2: error: the control character U+001B; take it out [control-character]\n"},
	    {"a\x7F", "t.yaml:1:2: error: the control character U+007F; take it out [control-character]\n"},
	    {"a\xC2\x9B", "t.yaml:1:2: error: the control character U+009B; take it out [control-character]\n"},
	    {"a\xEF\xBB\xBF",
	        "t.yaml:1:2: error: a byte order mark (U+FEFF) inside the text; take it out [control-character]\n"},
	    {"\xEF\xBB\xBF\xEF\xBB\xBF",
	        "t.yaml:1:1: error: a byte order mark (U+FEFF) inside the text; take it out [control-character]\n"},
	    {"a\xEF\xBF\xBF", "t.yaml:1:2: error: the control character U+FFFF; take it out [control-character]\n"},
	    {"caf\xE9\n", "t.yaml:1:4: error: the byte 0xE9 is not UTF-8 here; the file seems to be in another "
	                  "encoding, save it as UTF-8 [encoding]\n"},
	    {"\xEF\xBB\xBF"
	     "caf\xE9\x01",
	        "t.yaml:1:4: error: the byte 0xE9 is not UTF-8 here; the file seems to be in another encoding, save it "
	        "as UTF-8 [encoding]\n"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++)
		assert_messages(rows[i].text, rows[i].expected);
	reading r = read_bytes("a\0b", 3);
	assert_string_equal(
	    messages(&r), "t.yaml:1:2: error: the control character U+0000; take it out [control-character]\n");
	done(&r);
}

static void every_ascii_character(void **state)
{
	(void)state;
	/* Allowed below U+0080 are tab, line feed and U+0020 to U+007E; at every offset of the eight bytes looked at
	 * at once. */
	for (int c = 0; c < 0x80; c++) {
		for (size_t at = 0; at < 20; at++) {
			char text[20];
			memset(text, 'x', sizeof text);
			text[at] = (char)c;
			reading r = read_bytes(text, sizeof text);
			const bool allowed = c == '\t' || c == '\n' || (c >= 0x20 && c < 0x7F);
			assert_int_equal(r.source_status, allowed ? TC_OK : TC_BAD);
			done(&r);
		}
	}
}

static void other_encodings(void **state)
{
	(void)state;
	static const struct {
		const char *bytes;
		size_t length;
		const char *name;
	} rows[] = {
	    {"\xFF\xFE"
	     "a\0:\0",
	        6, "UTF-16"},
	    {"\xFE\xFF"
	     "\0a\0:",
	        6, "UTF-16"},
	    {"a\0:\0 \0b\0", 8, "UTF-16"},
	    {"\0a\0:\0 \0b", 8, "UTF-16"},
	    {"\xFF\xFE\0\0a\0\0\0", 8, "UTF-32"},
	    {"\0\0\xFE\xFF\0\0\0a", 8, "UTF-32"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		char expected[200];
		snprintf(expected, sizeof expected,
		    "t.yaml: error: the file is in %s; save it as UTF-8 (in most editors: Save As, Encoding) "
		    "[encoding]\n",
		    rows[i].name);
		reading r = read_bytes(rows[i].bytes, rows[i].length);
		assert_string_equal(messages(&r), expected);
		assert_int_equal(r.source_status, TC_BAD);
		assert_int_equal(r.status, TC_BAD);
		assert_int_equal(r.count, 0);
		done(&r);
	}
}

static void many_faults(void **state)
{
	(void)state;
	char text[1000];
	memset(text, 1, sizeof text);
	reading r = read_bytes(text, sizeof text);
	assert_int_equal(tc_diags_count(r.diags), 20);
	done(&r);
}

/* Counted the plain way. */
static tc_place place_one_by_one(const char *text, size_t offset)
{
	tc_place place = {"t.yaml", 1, 1};
	for (size_t i = 0; i < offset; i++) {
		if (text[i] == '\n') {
			place.line++;
			place.column = 1;
		} else if (((unsigned char)text[i] & 0xC0) != 0x80) {
			place.column++;
		}
	}
	return place;
}

static void assert_places(const char *text, size_t length)
{
	reading r = read_bytes(text, length);
	const tc_text seen = tc_source_text(r.source);
	for (size_t i = 0; i <= seen.length; i++) {
		if (i < seen.length && ((unsigned char)seen.at[i] & 0xC0) == 0x80)
			continue;
		const tc_place place = tc_source_place(r.source, i), plain = place_one_by_one(seen.at, i);
		assert_int_equal(place.line, plain.line);
		assert_int_equal(place.column, plain.column);
	}
	assert_int_equal(
	    tc_source_place(r.source, seen.length + 100).line, place_one_by_one(seen.at, seen.length).line);
	done(&r);
}

static void places(void **state)
{
	(void)state;
	static const char *const texts[] = {"", "\n", "a", "a\n", "\n\n\n", "a: µm\r\nb: 🎨 x\n\n  кисть: 1\n",
	    "\xEF\xBB\xBF\x61\nµ\n", "0123456\n0123456\n01234567\n\n\n\n\n\n\n\n\n\nx\x0A\x8Ay"};
	for (size_t i = 0; i < COUNT_OF(texts); i++)
		assert_places(texts[i], strlen(texts[i]));
	/* bytes that differ from a line feed in one bit, at every offset of eight */
	uint32_t x = 7;
	for (int n = 0; n < 300; n++) {
		char text[200];
		const size_t length = (size_t)n % sizeof text;
		for (size_t i = 0; i < length; i++) {
			static const char alphabet[] = "\n\n\n\x0B\x08\x0E\x02\x1A*JZ x";
			x = x * 1664525u + 1013904223u;
			text[i] = alphabet[(x >> 16) % (sizeof alphabet - 1)];
		}
		assert_places(text, length);
	}
}

static void size_of_a_file(void **state)
{
	(void)state;
	char *text = malloc(TC_FILE_MAX + 1);
	assert_non_null(text);
	memset(text, '\n', TC_FILE_MAX + 1);
	reading r = read_bytes(text, TC_FILE_MAX);
	assert_int_equal(r.source_status, TC_OK);
	assert_int_equal(r.status, TC_OK);
	assert_int_equal(tc_source_place(r.source, TC_FILE_MAX).line, TC_FILE_MAX + 1);
	done(&r);
	r = read_bytes(text, TC_FILE_MAX + 1);
	assert_int_equal(r.source_status, TC_BAD);
	assert_string_equal(
	    messages(&r), "t.yaml: error: the file has 8388609 bytes; at most 8388608 are read [too-large]\n");
	assert_int_equal(tc_source_place(r.source, 5).line, 1);
	done(&r);
	free(text);
}

static void number_of_directives(void **state)
{
	(void)state;
	char text[2000];
	size_t length = 0;
	for (int i = 0; i < 64; i++)
		length += (size_t)snprintf(text + length, sizeof text - length, "%%TAG !a%d! x\n", i);
	reading r = read_bytes(text, length);
	assert_int_equal(r.source_status, TC_OK);
	done(&r);
	length += (size_t)snprintf(text + length, sizeof text - length, "%%TAG !b! x\n");
	r = read_bytes(text, length);
	assert_string_equal(messages(&r), "t.yaml:65:1: error: more than 64 lines begin with `%`; directives are not "
	                                  "needed, take them out [too-large]\n");
	done(&r);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(good_texts),
	    cmocka_unit_test(refused_characters),
	    cmocka_unit_test(every_ascii_character),
	    cmocka_unit_test(other_encodings),
	    cmocka_unit_test(many_faults),
	    cmocka_unit_test(places),
	    cmocka_unit_test(size_of_a_file),
	    cmocka_unit_test(number_of_directives),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
