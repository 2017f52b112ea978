/* Pages: wrapping, escapes, ASCII; and the last line, which must not promise more than was found out. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "report/json.h"
#include "report/page.h"
#include "report/words.h"

static tc_buffer out;
static tc_page page;

static void begin(unsigned width, bool color, bool ascii)
{
	tc_buffer_start(&out, NULL);
	tc_page_start(&page, &out, width, color, ascii);
}

static void expect(const char *text)
{
	assert_false(out.failed);
	assert_string_equal(out.length ? out.at : "", text);
	tc_page_end(&page);
	tc_buffer_free(&out);
}

static void wraps_at_the_width(void **state)
{
	(void)state;
	begin(20, false, false);
	tc_page_wrap(&page, TC_INK_PLAIN, "a lacquer lifts yesterday's enamel", 0, 2);
	expect("a lacquer lifts\n  yesterday's enamel\n");
}

static void keeps_a_unit_with_its_number(void **state)
{
	(void)state;
	begin(12, false, false);
	tc_page_wrap(&page, TC_INK_PLAIN, "it waits 24 h more", 0, 0);
	expect("it waits\n24 h more\n");
}

static void counts_columns_and_not_bytes(void **state)
{
	(void)state;
	begin(10, false, false);
	tc_page_wrap(&page, TC_INK_PLAIN, "µµµµ µµµµµ x", 0, 0);
	expect("µµµµ µµµµµ\nx\n");
}

static void long_words_stand_alone(void **state)
{
	(void)state;
	begin(8, false, false);
	tc_page_wrap(&page, TC_INK_PLAIN, "a incompressible b", 0, 1);
	expect("a\n incompressible\n b\n");
}

static void hidden_characters_are_shown(void **state)
{
	(void)state;
	begin(80, false, false);
	tc_page_wrap(&page, TC_INK_PLAIN, "black\033[2J\xE2\x80\xAE paint\n", 0, 0);
	expect("black<U+001B>[2J<U+202E> paint\n");
}

static void falls_back_to_ascii(void **state)
{
	(void)state;
	begin(80, false, true);
	tc_page_wrap(&page, TC_INK_PLAIN, "2 × 18 µm at 21 °C, naïve", 0, 0);
	expect("2 x 18 um at 21 degC, na?ve\n");
}

static void cells_are_padded_and_cut(void **state)
{
	(void)state;
	begin(80, false, false);
	tc_page_cell(&page, TC_INK_PLAIN, "ab", 4, true);
	tc_page_cell(&page, TC_INK_PLAIN, "µµµµµ", 4, false);
	tc_page_cell(&page, TC_INK_PLAIN, "c", 4, false);
	tc_page_break(&page);
	expect("  abµµµ…c\n");
}

static void color_wraps_nothing_else(void **state)
{
	(void)state;
	begin(10, true, false);
	tc_page_wrap(&page, TC_INK_STRONG, "abcd efgh", 0, 0);
	expect("\033[1mabcd efgh\033[0m\n");
}

/* --- the last line ---------------------------------------------------------------------------------------------------- */

static void expect_summary(tc_summary summary, tc_verdict at_least, uint32_t unread, bool complete, const char *text)
{
	tc_buffer line;
	tc_buffer_start(&line, NULL);
	tc_words_summary(&summary, at_least, unread, complete, &line);
	assert_string_equal(line.at, text);
	tc_buffer_free(&line);
}

static void sound_only_when_all_is_known(void **state)
{
	(void)state;
	expect_summary((tc_summary){0}, TC_V_ERROR, 0, true, "sound: nothing found wrong");
	expect_summary((tc_summary){.accepted = 1}, TC_V_ERROR, 0, true, "sound: nothing found wrong; 1 finding accepted");
	expect_summary((tc_summary){.undecided = 3}, TC_V_ERROR, 0, true, "nothing found wrong; 3 questions open");
	expect_summary((tc_summary){0}, TC_V_ERROR, 1, true, "nothing found wrong; 1 file could not be read");
	expect_summary((tc_summary){0}, TC_V_ERROR, 0, false, "nothing found wrong; stopped before the end");
}

static void counts_what_was_found(void **state)
{
	(void)state;
	expect_summary((tc_summary){.errors = 1, .warnings = 2, .undecided = 1}, TC_V_ERROR, 0, true,
	    "1 error, 2 warnings; 1 question open");
	expect_summary((tc_summary){.warnings = 1}, TC_V_ERROR, 0, true, "no error found; 1 warning");
	expect_summary((tc_summary){.notes = 1}, TC_V_WARNING, 0, true, "no error or warning found; 1 note");
	expect_summary((tc_summary){.notes = 2}, TC_V_NOTE, 0, true, "2 notes");
}

/* --- JSON ----------------------------------------------------------------------------------------------------------------- */

static void expect_json(tc_json *json, json_t *value, const char *text)
{
	tc_buffer written;
	tc_buffer_start(&written, NULL);
	json_t *array = tc_json_array(json);
	tc_json_push(json, array, value);
	tc_json_write(json, array, 1, &written);
	assert_false(json->failed);
	assert_string_equal(written.at, text);
	json_decref(array);
	tc_buffer_free(&written);
}

static void json_holds_no_nan_and_no_bad_bytes(void **state)
{
	(void)state;
	tc_json json = {false};
	expect_json(&json, tc_json_number(&json, NAN), "[\n  null\n ]");
	expect_json(&json, tc_json_number(&json, HUGE_VAL), "[\n  null\n ]");
	expect_json(&json, tc_json_number(&json, 1.23456789e-5), "[\n  1.23457e-5\n ]");
	expect_json(&json, tc_json_text(&json, "a\xFF" "b"), "[\n  \"a\xEF\xBF\xBD" "b\"\n ]");
	expect_json(&json, tc_json_uri(&json, "my plans/µ.yaml"), "[\n  \"my%20plans/%C2%B5.yaml\"\n ]");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(wraps_at_the_width),
	    cmocka_unit_test(keeps_a_unit_with_its_number),
	    cmocka_unit_test(counts_columns_and_not_bytes),
	    cmocka_unit_test(long_words_stand_alone),
	    cmocka_unit_test(hidden_characters_are_shown),
	    cmocka_unit_test(falls_back_to_ascii),
	    cmocka_unit_test(cells_are_padded_and_cut),
	    cmocka_unit_test(color_wraps_nothing_else),
	    cmocka_unit_test(sound_only_when_all_is_known),
	    cmocka_unit_test(counts_what_was_found),
	    cmocka_unit_test(json_holds_no_nan_and_no_bad_bytes),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
