/* Decimal numbers in, without a locale and correctly rounded. */
#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/text.h"

/* A double is told from its neighbours by at most 767 significant digits (from memory; it is the length of the exact
 * half-way point below 2^-1022). Of longer numbers only 'something not zero follows' matters. */
#define DIGITS_MAX 768
#define EXPONENT_MAX 100000

typedef struct decimal {
	char digits[DIGITS_MAX + 1]; /* significant ones, no leading zeros; one more if the rest is not zero */
	unsigned count;
	bool rest;
	long exponent;  /* of ten, of the last digit kept */
	uint64_t whole; /* the digits as an integer while there are at most 19 */
} decimal;

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static void take_digit(decimal *d, char c, bool after_point)
{
	if (d->count < DIGITS_MAX) {
		if (c != '0' || d->count) {
			d->digits[d->count++] = c;
			if (d->count <= 19)
				d->whole = d->whole * 10 + (unsigned)(c - '0');
		}
		d->exponent -= after_point;
	} else {
		d->rest |= c != '0';
		d->exponent += !after_point;
	}
}

/* Digits with at most one point, which must touch a digit behind it; returns the bytes, 0 if there is no digit. */
static size_t scan_digits(const char *at, size_t length, decimal *d)
{
	size_t i = 0;
	for (; i < length && is_digit(at[i]); i++)
		take_digit(d, at[i], false);
	if (i + 1 < length && at[i] == '.' && is_digit(at[i + 1]))
		for (i++; i < length && is_digit(at[i]); i++)
			take_digit(d, at[i], true);
	return i;
}

/* `e`, a sign perhaps, digits; returns the bytes, 0 if it is not all there. */
static size_t scan_exponent(const char *at, size_t length, decimal *d)
{
	size_t i = 0;
	if (i == length || (at[i] != 'e' && at[i] != 'E'))
		return 0;
	i++;
	const bool minus = i < length && at[i] == '-';
	if (i < length && (at[i] == '-' || at[i] == '+'))
		i++;
	if (i == length || !is_digit(at[i]))
		return 0;
	long exponent = 0;
	for (; i < length && is_digit(at[i]); i++)
		if (exponent < 100 * (long)EXPONENT_MAX)
			exponent = exponent * 10 + (at[i] - '0');
	d->exponent += minus ? -exponent : exponent;
	return i;
}

/* The general case by the C library, which rounds correctly. Digits and an exponent without a point read the same in
 * every locale. */
static double by_library(decimal *d)
{
	char text[DIGITS_MAX + 32];
	if (d->rest) {
		d->digits[d->count++] = '1';
		d->exponent--;
	}
	/* However long the text, the first digit's own power of ten tells overflow and underflow. */
	const long first = d->exponent + (long)d->count;
	if (first > 400)
		return HUGE_VAL;
	if (first < -400)
		return 0;
	snprintf(text, sizeof text, "%.*se%ld", (int)d->count, d->digits, d->exponent);
	return strtod(text, NULL);
}

static double convert(decimal *d)
{
	static const double power[] = {1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14,
	    1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
	if (d->count == 0)
		return 0;
#if FLT_EVAL_METHOD == 0
	/* Both numbers are exact doubles, so the one operation rounds once. */
	if (d->count <= 19 && d->whole <= (uint64_t)1 << 53 && d->exponent >= -22 && d->exponent <= 22) {
		const double whole = (double)d->whole;
		return d->exponent < 0 ? whole / power[-d->exponent] : whole * power[d->exponent];
	}
#endif
	return by_library(d);
}

size_t tc_number_read(const char *at, size_t length, bool sign, double *number)
{
	decimal d;
	d.count = 0;
	d.rest = false;
	d.exponent = 0;
	d.whole = 0;
	const size_t minus = sign && length && at[0] == '-';
	const size_t digits = scan_digits(at + minus, length - minus, &d);
	if (digits == 0)
		return 0;
	size_t i = minus + digits;
	i += scan_exponent(at + i, length - i, &d);
	const double value = convert(&d);
	*number = minus ? -value : value;
	return i;
}
