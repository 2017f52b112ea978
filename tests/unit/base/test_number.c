/* Numbers in and out, in any locale. */
#include <float.h>
#include <locale.h>
#include <math.h>

#include "base/text.h"
#include "check.h"

static double read_all(const char *text)
{
	double number = NAN;
	assert_int_equal(tc_number_read(text, strlen(text), true, &number), strlen(text));
	return number;
}

static void reading(void **state)
{
	(void)state;
	/* The compiler reads the right-hand sides: it rounds correctly. */
	assert_true(read_all("0") == 0);
	assert_true(read_all("12") == 12);
	assert_true(read_all("0.35") == 0.35);
	assert_true(read_all(".5") == 0.5);
	assert_true(read_all("-5.25") == -5.25);
	assert_true(read_all("1e-3") == 1e-3);
	assert_true(read_all("1E+3") == 1e3);
	assert_true(read_all("000012.500") == 12.5);
	assert_true(read_all("9007199254740993") == 9007199254740993.0);
	assert_true(read_all("0.1234567890123456789") == 0.1234567890123456789);
	assert_true(read_all("123456789012345678901234567890") == 123456789012345678901234567890.0);
	assert_true(read_all("1e23") == 1e23);
	assert_true(read_all("8.5e-22") == 8.5e-22);
	assert_true(read_all("1.7976931348623157e308") == DBL_MAX);
	assert_true(read_all("2.2250738585072014e-308") == DBL_MIN);
	assert_true(read_all("4.9e-324") == 4.9e-324);
	assert_true(read_all("2e-324") == 0);
	assert_true(read_all("1e309") == HUGE_VAL);
	assert_true(read_all("-1e400") == -HUGE_VAL);
	assert_true(read_all("1e99999999999999999999") == HUGE_VAL);
	assert_true(read_all("1e-99999999999999999999") == 0);
	assert_true(read_all("0e99999999999999999999") == 0);
	assert_true(signbit(read_all("-0")));
}

static void what_is_left(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		size_t bytes;
		double number;
	} rows[] = {
	    {"12 min", 2, 12}, {"12min", 2, 12},
	    {"1.", 1, 1}, /* a point belongs to a number only with a digit behind it */
	    {"1.first", 1, 1}, {"1.2.3", 3, 1.2}, {"7,5", 1, 7}, {"1_000", 1, 1}, {"5e", 1, 5}, {"5e+", 1, 5},
	    {"5e+x", 1, 5}, {"3e2h", 3, 300}, {"0x10", 1, 0}, {"", 0, 0}, {".", 0, 0}, {".e3", 0, 0}, {"-", 0, 0},
	    {"- 5", 0, 0}, {"+5", 0, 0}, {"inf", 0, 0}, {"nan", 0, 0},
	    {"\xE2\x88\x92"
	     "5",
	        0, 0}, /* U+2212 */
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		double number = 0;
		assert_int_equal(tc_number_read(rows[i].text, strlen(rows[i].text), true, &number), rows[i].bytes);
		if (rows[i].bytes)
			assert_true(number == rows[i].number);
	}
	double number;
	assert_int_equal(tc_number_read("-5", 2, false, &number), 0);
	assert_int_equal(tc_number_read("123", 2, false, &number), 2); /* does not look beyond the length */
	assert_true(number == 12);
}

/* A long run of digits: the half-way point between two doubles, told from its neighbours only by its last digit. */
static void long_numbers(void **state)
{
	(void)state;
	/* 1 + 2^-53 is half-way between 1 and 1 + 2^-52 (own arithmetic); exact decimal digits of it below. */
	static const char half[] = "1.00000000000000011102230246251565404236316680908203125";
	char text[2000];
	assert_true(read_all(half) == 1); /* ties to even */
	snprintf(text, sizeof text, "%s%0*d1", half, 1500, 0);
	assert_true(read_all(text) == 1 + DBL_EPSILON);
	snprintf(text, sizeof text, "%s%0*d", half, 1500, 0);
	assert_true(read_all(text) == 1);
	snprintf(text, sizeof text, "1%0*de-1500", 1500, 0);
	assert_true(read_all(text) == 1);
	snprintf(text, sizeof text, "0.%0*d1e1501", 1500, 0);
	assert_true(read_all(text) == 1);
}

static uint64_t next_random(uint64_t *x)
{
	/* xorshift64 (Marsaglia 2003, from memory); any sequence would do */
	*x ^= *x << 13;
	*x ^= *x >> 7;
	*x ^= *x << 17;
	return *x;
}

/* Whatever the C library prints, we read as it does. */
static void against_the_c_library(void **state)
{
	(void)state;
	uint64_t x = 88172645463325252u;
	for (int i = 0; i < 200000; i++) {
		const uint64_t bits = next_random(&x);
		double number;
		memcpy(&number, &bits, sizeof number);
		if (!isfinite(number))
			continue;
		char text[64];
		snprintf(text, sizeof text, "%.*e", (int)(next_random(&x) % 20), number);
		assert_true(read_all(text) == strtod(text, NULL));
		snprintf(text, sizeof text, "%.*f", (int)(next_random(&x) % 12), (double)(int64_t)bits / 1e12);
		assert_true(read_all(text) == strtod(text, NULL));
	}
}

static void print_one(double number, int least, int most, const char *expected)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_buffer_number(&out, number, least, most);
	assert_text(out, expected);
	tc_buffer_free(&out);
}

static void printing(void **state)
{
	(void)state;
	print_one(0, 1, 3, "0");
	print_one(-0.0, 1, 3, "0");
	print_one(12, 1, 3, "12");
	print_one(12, 4, 6, "12.00");
	print_one(0.597, 1, 3, "0.597");
	print_one(0.5, 1, 3, "0.5");
	print_one(1234.5, 1, 3, "1230");
	print_one(999.6, 1, 3, "1000");
	print_one(0.0009996, 1, 3, "0.001");
	print_one(-47.43, 1, 3, "-47.4");
	print_one(1234567, 1, 7, "1234567");
	print_one(12345678, 1, 3, "1.23e7");
	print_one(9999999, 1, 3, "1e7");
	print_one(1e300, 1, 3, "1e300");
	print_one(0.00001234, 1, 3, "0.0000123");
	print_one(0.000001234, 1, 3, "1.23e-6");
	print_one(0.1, 1, 17, "0.10000000000000001");
	print_one(0.1, 1, 15, "0.1");
	/* half to even, of the decimal that a reader sees (own arithmetic) */
	print_one(0.125, 1, 2, "0.12");
	print_one(0.375, 1, 2, "0.38");
	print_one(12.25, 1, 3, "12.2");
	print_one(12.35, 1, 3, "12.4");
	print_one(2.675, 1, 3, "2.68");
	print_one(2.5, 1, 1, "2");
	print_one(3.5, 1, 1, "4");
	print_one(9.5, 1, 1, "10");
	print_one(0.95, 1, 1, "1");
	print_one(2.51, 1, 1, "3");
	print_one(HUGE_VAL, 1, 3, "inf");
	print_one(-HUGE_VAL, 1, 3, "-inf");
	print_one(NAN, 1, 3, "nan");
	print_one(5, 0, 0, "5"); /* counts out of range are taken as the nearest that make sense */
	print_one(1.0 / 3, 1, 99, "0.33333333333333331");
}

/* With 17 digits every double comes back. */
static void printed_numbers_come_back(void **state)
{
	(void)state;
	uint64_t x = 1;
	for (int i = 0; i < 20000; i++) {
		const uint64_t bits = next_random(&x);
		double number;
		memcpy(&number, &bits, sizeof number);
		if (!isfinite(number))
			continue;
		tc_buffer out;
		tc_buffer_start(&out, NULL);
		tc_buffer_number(&out, number, 1, 17);
		assert_true(read_all(out.at) == number);
		tc_buffer_free(&out);
	}
}

/* Numbers of ordinary size do not go through printf; 15 digits of them are those of the C library all the same. */
static void as_the_c_library_prints(void **state)
{
	(void)state;
	uint64_t x = 7;
	for (int i = 0; i < 200000; i++) {
		const uint64_t bits = next_random(&x);
		const double whole = (double)(bits >> 40), scale = pow(10, (int)(bits % 26) - 12);
		const double number = i % 4 == 0   ? nextafter(scale, bits & 1024 ? 1e300 : 0)
		                      : i % 4 == 1 ? whole / scale
		                      : i % 4 == 2 ? whole / 1099511627776.0 /* ends in a 5: halves are met */
		                                   : (double)(bits >> 11) / 9007199254740992.0 * scale;
		char expected[64], mantissa[64] = "";
		if (!(number > 0))
			continue;
		snprintf(expected, sizeof expected, "%.14e", number);
		tc_buffer out;
		tc_buffer_start(&out, NULL);
		tc_buffer_number(&out, number, 15, 15);
		assert_true(strtod(out.at, NULL) == strtod(expected, NULL));
		snprintf(mantissa, sizeof mantissa, "%.14e", strtod(out.at, NULL));
		assert_string_equal(mantissa, expected);
		tc_buffer_free(&out);
	}
}

/* Under a locale with a decimal comma nothing changes. Where none is installed the plain one is tested again. */
static void in_another_locale(void **state)
{
	const char *const names[] = {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "C"};
	for (size_t i = 0; i < COUNT_OF(names) && !setlocale(LC_ALL, names[i]); i++)
		;
	reading(state);
	long_numbers(state);
	printing(state);
	setlocale(LC_ALL, "C");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(reading),
	    cmocka_unit_test(what_is_left),
	    cmocka_unit_test(long_numbers),
	    cmocka_unit_test(against_the_c_library),
	    cmocka_unit_test(printing),
	    cmocka_unit_test(printed_numbers_come_back),
	    cmocka_unit_test(as_the_c_library_prints),
	    cmocka_unit_test(in_another_locale),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
