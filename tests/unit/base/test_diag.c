/* Diagnostics: collected, bounded, ordered, printed; nothing hidden in them. */
#include "base/diag.h"

#include "base/limits.h"
#include "check.h"

static const char *const known_ids[] = {
#define DIAG(id, help) id,
#include "base/diag_ids.def"
#undef DIAG
};
static const char *const helps[] = {
#define DIAG(id, help) help,
#include "base/diag_ids.def"
#undef DIAG
};

static void print_all(const tc_diags *diags, tc_buffer *out)
{
	for (size_t i = 0; i < tc_diags_count(diags); i++)
		tc_diag_print(tc_diags_at(diags, i), out);
}

static void the_list_of_ids(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(known_ids); i++) {
		assert_int_equal(strspn(known_ids[i], "abcdefghijklmnopqrstuvwxyz0123456789-"), strlen(known_ids[i]));
		assert_true(strlen(helps[i]) > 10);
		for (size_t j = 0; j < i; j++)
			assert_string_not_equal(known_ids[i], known_ids[j]);
	}
}

static void order_and_print(void **state)
{
	(void)state;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(arena);
	tc_diag_add(diags, TC_WARNING, "w", (tc_place){"b.yaml", 3, 1}, "third of b");
	tc_diag_add(diags, TC_ERROR, "e", (tc_place){"b.yaml", 2, 9}, "`%s` is wrong", "x");
	tc_diag_relate(diags, (tc_place){"a.yaml", 7, 2}, "here it was %s", "right");
	tc_diag_add(diags, TC_NOTE, "n", (tc_place){"b.yaml", 2, 9}, "same place, later");
	tc_diag_add(diags, TC_ERROR, "f", (tc_place){.file = "a.yaml"}, "the file as a whole");
	tc_diag_add(diags, TC_ERROR, "g", (tc_place){.file = NULL}, "no file");
	tc_diag_add(diags, TC_NOTE, "n", (tc_place){"b.yaml", 2, 10}, "next column");
	assert_int_equal(tc_diags_errors(diags), 3);
	assert_int_equal(tc_diags_count(diags), 6);
	assert_null(tc_diags_at(diags, 6));
	tc_diags_sort(diags);
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	print_all(diags, &out);
	assert_text(out, "error: no file [g]\n"
	                 "a.yaml: error: the file as a whole [f]\n"
	                 "b.yaml:2:9: error: `x` is wrong [e]\n"
	                 "a.yaml:7:2: note: here it was right\n"
	                 "b.yaml:2:9: note: same place, later [n]\n"
	                 "b.yaml:2:10: note: next column [n]\n"
	                 "b.yaml:3:1: warning: third of b [w]\n");
	tc_buffer_free(&out);
	tc_arena_free(arena);
}

static void bounded_per_file(void **state)
{
	(void)state;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(arena);
	for (unsigned i = 0; i < TC_MESSAGES_MAX; i++)
		tc_diag_add(diags, TC_NOTE, "n", (tc_place){"many.yaml", 1000 - i, 1}, "%u", i);
	assert_int_equal(tc_diags_count(diags), TC_MESSAGES_MAX); /* at the bound nothing is said */
	tc_diag_add(diags, TC_NOTE, "n", (tc_place){"many.yaml", 1, 1}, "one past it");
	tc_diag_relate(diags, (tc_place){"many.yaml", 1, 1}, "must not hang itself on another");
	assert_int_equal(tc_diags_count(diags), TC_MESSAGES_MAX + 1);
	const tc_diag *last = tc_diags_at(diags, TC_MESSAGES_MAX);
	assert_string_equal(last->id, "too-many-messages");
	assert_string_equal(last->message, "more than 100 messages; the rest is not shown");
	assert_int_equal(last->severity, TC_NOTE);
	assert_null(last->related.file);
	assert_null(tc_diags_at(diags, TC_MESSAGES_MAX - 1)->related.file);

	/* Another file has its own count, also under a name of the same letters at another address. */
	char name[] = "few.yaml";
	tc_diag_add(diags, TC_WARNING, "w", (tc_place){name, 1, 1}, "kept");
	tc_diag_add(diags, TC_WARNING, "w", (tc_place){"few.yaml", 2, 1}, "kept");
	char again[] = "many.yaml";
	tc_diags_sort(diags);
	tc_diag_add(diags, TC_ERROR, "e", (tc_place){again, 1, 1}, "dropped, but it was an error");
	assert_int_equal(tc_diags_count(diags), TC_MESSAGES_MAX + 3);
	assert_int_equal(tc_diags_errors(diags), 1);
	tc_diags_sort(diags);
	last = tc_diags_at(diags, tc_diags_count(diags) - 1);
	assert_string_equal(last->id, "too-many-messages");
	assert_int_equal(last->severity, TC_ERROR);
	tc_arena_free(arena);
}

static void visible(void **state)
{
	(void)state;
	static const struct {
		const char *text, *seen;
	} rows[] = {
	    {"plain µ 🎨", "plain µ 🎨"},
	    {"a\nb\tc\rd", "a<U+000A>b<U+0009>c<U+000D>d"},
	    {"\x1B[31m", "<U+001B>[31m"},
	    {"\x7F", "<U+007F>"},
	    {"\xC2\x85\xC2\x9B", "<U+0085><U+009B>"},
	    {"a\xE2\x80\xAE"
	     "b",
	        "a<U+202E>b"},
	    {"\xE2\x80\xA8\xE2\x80\xA9", "<U+2028><U+2029>"},
	    {"\xE2\x81\xA6x\xE2\x81\xA9", "<U+2066>x<U+2069>"},
	    {"\xE2\x80\x8E\xE2\x80\x8F\xD8\x9C", "<U+200E><U+200F><U+061C>"},
	    {"\xEF\xBB\xBF", "<U+FEFF>"},
	    {"a\xFF"
	     "b\xE2\x82",
	        "a<0xFF>b<0xE2><0x82>"},
	    {"", ""},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		tc_buffer out;
		tc_buffer_start(&out, NULL);
		tc_text_visible(&out, tc_text_of(rows[i].text));
		assert_text(out, rows[i].seen);
		tc_buffer_free(&out);
	}
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_text_visible(&out, (tc_text){"a\0b", 3});
	assert_text(out, "a<U+0000>b");
	tc_buffer_free(&out);
	/* in messages and file names */
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(arena);
	tc_diag_add(diags, TC_ERROR, "e", (tc_place){"a\nb.yaml", 1, 1}, "`%s`", "x\xE2\x80\xAEy");
	tc_buffer_start(&out, NULL);
	print_all(diags, &out);
	assert_text(out, "a<U+000A>b.yaml:1:1: error: `x<U+202E>y` [e]\n");
	tc_buffer_free(&out);
	tc_arena_free(arena);
}

static void long_messages(void **state)
{
	(void)state;
	char text[3 * TC_MESSAGE_MAX];
	memset(text, 'x', sizeof text);
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(arena);
	tc_diag_add(diags, TC_ERROR, "e", (tc_place){"f", 1, 1}, "%.*s", (int)TC_MESSAGE_MAX, text);
	tc_diag_add(diags, TC_ERROR, "e", (tc_place){"f", 1, 1}, "%.*s", (int)TC_MESSAGE_MAX + 1, text);
	tc_diag_add(diags, TC_ERROR, "e", (tc_place){"f", 1, 1}, "%.*s", (int)sizeof text, text);
	assert_int_equal(strlen(tc_diags_at(diags, 0)->message), TC_MESSAGE_MAX);
	assert_int_equal(tc_diags_at(diags, 0)->message[TC_MESSAGE_MAX - 1], 'x');
	for (size_t i = 1; i < 3; i++) {
		const char *message = tc_diags_at(diags, i)->message;
		assert_int_equal(strlen(message), TC_MESSAGE_MAX);
		assert_string_equal(message + TC_MESSAGE_MAX - 3, "…");
	}
	/* never cut within a code point, wherever the bound falls */
	for (size_t shift = 0; shift < 9; shift++) {
		for (size_t i = shift; i + 4 <= sizeof text; i += 4)
			memcpy(text + i, "🎨", 4);
		tc_diag_add(diags, TC_ERROR, "e", (tc_place){"f", 1, 1}, "%.*s", (int)(sizeof text - 16), text);
		const char *message = tc_diags_at(diags, tc_diags_count(diags) - 1)->message;
		assert_true(strlen(message) <= TC_MESSAGE_MAX && strlen(message) > TC_MESSAGE_MAX - 8);
		assert_int_equal(tc_utf8_bad(message, strlen(message)), strlen(message));
		assert_null(strstr(message, "<0x"));
		memset(text, 'y', shift + 1);
	}
	tc_arena_free(arena);
}

static void out_of_memory(void **state)
{
	(void)state;
	bool good = false;
	for (unsigned n = 1; !good; n++) {
		meter m = {.fails_at = n};
		const tc_allocator from = metered(&m);
		tc_arena *arena = tc_arena_new(&from, 64);
		tc_diags *diags = arena ? tc_diags_new(arena) : NULL;
		for (unsigned i = 0; diags && i < 150; i++) {
			tc_diag_add(diags, TC_ERROR, "e", (tc_place){"f", i, 1}, "number %u\n", i);
			tc_diag_relate(diags, (tc_place){"g", i, 1}, "related");
		}
		good = diags && !tc_arena_failed(arena);
		if (diags) {
			assert_int_equal(tc_diags_errors(diags), 150);
			tc_diags_sort(diags);
			for (size_t i = 0; i < tc_diags_count(diags); i++)
				assert_true(strlen(tc_diags_at(diags, i)->message) > 8);
		}
		if (good)
			assert_int_equal(tc_diags_count(diags), TC_MESSAGES_MAX + 1);
		tc_arena_free(arena);
		assert_int_equal(m.outstanding, 0);
		assert_true(n < 2000);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(the_list_of_ids),
	    cmocka_unit_test(order_and_print),
	    cmocka_unit_test(bounded_per_file),
	    cmocka_unit_test(visible),
	    cmocka_unit_test(long_messages),
	    cmocka_unit_test(out_of_memory),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
