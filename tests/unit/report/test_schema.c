/* Schemas: the tables that they are made from say all that the readers read; units in all their forms. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#define PCRE2_CODE_UNIT_WIDTH 8
#include <pcre2.h>

#include "report/schema_parts.h"
#include "stack/private.h"

/* Keys of steps and of their mappings stand in step_key.def. */
#define ELSEWHERE (IN_STEP | IN_THIN | IN_SCRIBE)

static void every_key_of_every_place_has_a_row(void **state)
{
	(void)state;
	for (uint32_t key = TC_KEY_NOTHING + 1; key < TC_KEY_COUNT; key++)
		for (uint32_t place = 1; place <= IN_SHELF_FILE; place <<= 1) {
			const bool stands = tc_key_row_of(key)->places & place & ~(uint32_t)ELSEWHERE;
			if (stands != tc_schema_has_key(key, place))
				print_error("`%s` at place %u\n", tc_key_row_of(key)->name, (unsigned)place);
			assert_int_equal(stands, tc_schema_has_key(key, place));
		}
}

static bool fits(const char *pattern, const char *text)
{
	int error;
	size_t at;
	pcre2_code *code = pcre2_compile(
	    (PCRE2_SPTR)pattern, PCRE2_ZERO_TERMINATED, PCRE2_UTF | PCRE2_ANCHORED | PCRE2_ENDANCHORED, &error, &at, NULL);
	assert_non_null(code);
	pcre2_match_data *data = pcre2_match_data_create_from_pattern(code, NULL);
	const bool yes = pcre2_match(code, (PCRE2_SPTR)text, strlen(text), 0, 0, data, NULL) >= 0;
	pcre2_match_data_free(data);
	pcre2_code_free(code);
	return yes;
}

/* What fits the pattern of a spelling is read as its unit. */
static void patterns_and_the_reader_agree(void **state)
{
	(void)state;
	static const char *const written[] = {"um", "µm", "\xCE\xBCm", "ug", "µg", "cm2", "cm²", "cm^2", "m3/h", "m³/h", "m^3/h",
	    "degC", "°C", "mPa.s", "mPa·s", "mPa⋅s", "MPa0.5", "MPa½", "MPa^0.5", "MPa^½", "%", "ppm", "h", "hours", "K",
	    "cm³/mol", "1/s", "cm", "hour5", "mum", "cm4", "MPa05", "mPa,s"};
	for (size_t w = 0; w < sizeof written / sizeof *written; w++) {
		const tc_unit *unit, *found = NULL, *read = tc_unit_find(tc_text_of(written[w]));
		for (size_t i = 0; tc_unit_spelling(i, &unit); i++) {
			tc_buffer pattern;
			tc_buffer_start(&pattern, NULL);
			tc_unit_pattern(i, &pattern);
			assert_false(pattern.failed);
			if (fits(pattern.at, written[w]))
				found = unit;
			tc_buffer_free(&pattern);
		}
		assert_ptr_equal(found, read);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(every_key_of_every_place_has_a_row),
	    cmocka_unit_test(patterns_and_the_reader_agree),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
