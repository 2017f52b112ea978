/* Growing text. */
#include "base/text.h"
#include "check.h"

static void growing(void **state)
{
	(void)state;
	tc_buffer b;
	tc_buffer_start(&b, NULL);
	assert_null(b.at);
	tc_buffer_puts(&b, "one");
	tc_buffer_char(&b, ' ');
	tc_buffer_add(&b, (tc_text){"two three", 3});
	tc_buffer_fill(&b, '.', 3);
	tc_buffer_print(&b, "%d-%s", 4, "five");
	tc_buffer_add(&b, (tc_text){NULL, 0});
	assert_text(b, "one two...4-five");
	assert_int_equal(b.length, strlen(b.at));
	tc_buffer_free(&b);
	assert_null(b.at);
	assert_int_equal(b.length, 0);
	for (int i = 0; i < 10000; i++)
		tc_buffer_print(&b, "%d,", i % 10);
	assert_int_equal(b.length, 20000);
	assert_int_equal(b.at[19998], '9');
	assert_int_equal(b.at[20000], 0);
	tc_buffer_free(&b);
	tc_buffer_free(&b);
}

/* The last byte of the room is the NUL's. */
static void to_the_brim(void **state)
{
	(void)state;
	for (size_t n = 60; n < 70; n++) {
		tc_buffer b;
		tc_buffer_start(&b, NULL);
		tc_buffer_fill(&b, 'x', n);
		assert_true(b.room > n);
		tc_buffer_print(&b, "%s", "yz");
		assert_int_equal(b.length, n + 2);
		assert_int_equal(strlen(b.at), n + 2);
		tc_buffer_free(&b);
	}
}

static void failure_is_sticky(void **state)
{
	(void)state;
	for (unsigned n = 1; n < 4; n++) {
		meter m = {.fails_at = n};
		const tc_allocator from = metered(&m);
		tc_buffer b;
		tc_buffer_start(&b, &from);
		for (int i = 0; i < 1000; i++)
			tc_buffer_puts(&b, "something");
		assert_true(b.failed);
		const size_t length = b.length;
		m.fails_at = 0;
		tc_buffer_char(&b, 'x');
		tc_buffer_fill(&b, 'x', 3);
		tc_buffer_print(&b, "%d", 1);
		tc_buffer_number(&b, 1, 1, 3);
		assert_int_equal(b.length, length);
		assert_true(n == 1 ? b.at == NULL : strlen(b.at) == length);
		tc_buffer_free(&b);
		assert_int_equal(m.outstanding, 0);
	}
	tc_buffer b;
	tc_buffer_start(&b, NULL);
	tc_buffer_fill(&b, 'x', SIZE_MAX - 10);
	assert_true(b.failed);
	tc_buffer_free(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(growing),
	    cmocka_unit_test(to_the_brim),
	    cmocka_unit_test(failure_is_sticky),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
