/* Growing text. */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"

void tc_buffer_start(tc_buffer *buffer, const tc_allocator *from)
{
	*buffer = (tc_buffer){.from = from ? from : tc_allocator_system()};
}

void tc_buffer_free(tc_buffer *buffer)
{
	if (buffer->at)
		buffer->from->get(buffer->from->user, buffer->at, 0);
	tc_buffer_start(buffer, buffer->from);
}

static bool grow(tc_buffer *buffer, size_t more)
{
	size_t room = buffer->room ? buffer->room : 64;
	while (room - buffer->length <= more && room <= SIZE_MAX / 2)
		room *= 2;
	char *larger = NULL;
	if (room - buffer->length > more)
		larger = buffer->from->get(buffer->from->user, buffer->at, room);
	if (!larger) {
		buffer->failed = true;
		return false;
	}
	buffer->at = larger;
	buffer->room = room;
	return true;
}

/* Makes room for `more` bytes and a NUL. */
static inline bool make_room(tc_buffer *buffer, size_t more)
{
	if (buffer->failed)
		return false;
	return (buffer->at && more < buffer->room - buffer->length) || grow(buffer, more);
}

void tc_buffer_add(tc_buffer *buffer, tc_text text)
{
	if (!make_room(buffer, text.length))
		return;
	if (text.length)
		memcpy(buffer->at + buffer->length, text.at, text.length);
	buffer->length += text.length;
	buffer->at[buffer->length] = 0;
}

void tc_buffer_puts(tc_buffer *buffer, const char *c_string)
{
	tc_buffer_add(buffer, tc_text_of(c_string));
}

void tc_buffer_char(tc_buffer *buffer, char c)
{
	if (!make_room(buffer, 1))
		return;
	buffer->at[buffer->length++] = c;
	buffer->at[buffer->length] = 0;
}

void tc_buffer_fill(tc_buffer *buffer, char c, size_t times)
{
	if (!make_room(buffer, times))
		return;
	memset(buffer->at + buffer->length, c, times);
	buffer->length += times;
	buffer->at[buffer->length] = 0;
}

void tc_buffer_print(tc_buffer *buffer, const char *format, ...)
{
	va_list list, again;
	va_start(list, format);
	va_copy(again, list);
	/* most texts fit into the room that is there, and need no second look */
	const size_t left = buffer->at && !buffer->failed ? buffer->room - buffer->length : 0;
	const int length = vsnprintf(left ? buffer->at + buffer->length : NULL, left, format, list);
	const bool fits = length >= 0 && (size_t)length < left;
	if (fits)
		buffer->length += (size_t)length;
	else if (left)
		buffer->at[buffer->length] = 0; /* what was cut off again */
	if (length < 0)
		buffer->failed = true;
	else if (!fits && make_room(buffer, (size_t)length)) {
		if (vsnprintf(buffer->at + buffer->length, (size_t)length + 1, format, again) == length)
			buffer->length += (size_t)length;
		else
			buffer->failed = true;
	}
	va_end(again);
	va_end(list);
}

/* --- numbers ------------------------------------------------------------------------------------------------- */

/* 15 digits are what a double keeps of every decimal. Fewer are rounded from those, not from the binary value, so that
 * a half is what a reader sees as one: 0.125 and 2.675 both end in a 5. */
#define DIGITS_KEPT 15
#define DIGITS_ALL 17

/* A decimal figure: digits d.ddd × 10^exponent. */
typedef struct figure {
	char digits[DIGITS_ALL + 2];
	int count, exponent;
} figure;

#ifdef __SIZEOF_INT128__
__extension__ typedef unsigned __int128 wide;

/* number × 10^up, rounded to a whole one, half to even. Exact: a double is m × 2^e with 53 bits in m, and 5^27 has 63. */
static uint64_t scaled(double number, int up)
{
	int e;
	wide five = 1;
	for (int i = 0; i < up; i++)
		five *= 5;
	const wide product = (wide)(uint64_t)ldexp(frexp(number, &e), 53) * five;
	const int shift = 53 - e - up; /* above 0 for what comes to less than 2^52 */
	const wide half = (wide)1 << (shift - 1), rest = product & (2 * half - 1);
	const uint64_t whole = (uint64_t)(product >> shift);
	return whole + (rest > half || (rest == half && whole % 2));
}

/* The 15 digits of a number of ordinary size, as printf would give them but at a tenth of its cost. */
static bool take_apart_quickly(double number, figure *f)
{
	int e;
	if (!(number >= 1e-11 && number < 1e14))
		return false;
	frexp(number, &e);
	int power = (int)floor((e - 1) * 0.30103); /* of ten: this one, or the next */
	uint64_t whole = scaled(number, DIGITS_KEPT - 1 - power);
	if (whole >= 1000000000000000u)
		whole = scaled(number, DIGITS_KEPT - 1 - ++power);
	f->count = DIGITS_KEPT;
	f->exponent = power;
	for (int i = DIGITS_KEPT - 1; i >= 0; i--, whole /= 10)
		f->digits[i] = (char)('0' + whole % 10);
	return true;
}
#else
static bool take_apart_quickly(double number, figure *f)
{
	(void)number;
	(void)f;
	return false;
}
#endif

static void take_apart(double number, int digits, figure *f)
{
	char text[64];
	if (digits == DIGITS_KEPT && take_apart_quickly(number, f))
		return;
	snprintf(text, sizeof text, "%.*e", digits - 1, number);
	f->count = 0;
	const char *at = text;
	for (; *at && *at != 'e'; at++) /* whatever stands for the point is passed over */
		if (*at >= '0' && *at <= '9' && f->count < DIGITS_ALL)
			f->digits[f->count++] = *at;
	f->exponent = *at ? (int)strtol(at + 1, NULL, 10) : 0;
}

/* Rounds to `digits`, half to even. */
static void round_to(figure *f, int digits)
{
	if (digits >= f->count)
		return;
	const char next = f->digits[digits];
	bool more = false;
	for (int i = digits + 1; i < f->count; i++)
		more |= f->digits[i] != '0';
	const bool odd = (f->digits[digits - 1] - '0') % 2 != 0;
	f->count = digits;
	if (next < '5' || (next == '5' && !more && !odd))
		return;
	int i = digits - 1;
	while (i >= 0 && f->digits[i] == '9')
		f->digits[i--] = '0';
	if (i >= 0) {
		f->digits[i]++;
	} else {
		f->digits[0] = '1';
		f->exponent++;
	}
}

/* The digits with the point behind the first `before` ones (0 or less: zeros come first). */
static void add_plain(tc_buffer *buffer, const figure *f, int before)
{
	if (before <= 0) {
		tc_buffer_puts(buffer, "0.");
		tc_buffer_fill(buffer, '0', (size_t)-before);
		tc_buffer_add(buffer, (tc_text){f->digits, (size_t)f->count});
		return;
	}
	const int whole = before < f->count ? before : f->count;
	tc_buffer_add(buffer, (tc_text){f->digits, (size_t)whole});
	tc_buffer_fill(buffer, '0', (size_t)(before - whole));
	if (f->count > whole) {
		tc_buffer_char(buffer, '.');
		tc_buffer_add(buffer, (tc_text){f->digits + whole, (size_t)(f->count - whole)});
	}
}

void tc_buffer_number(tc_buffer *buffer, double number, int least, int most)
{
	if (!isfinite(number)) {
		tc_buffer_puts(buffer, isnan(number) ? "nan" : number < 0 ? "-inf" : "inf");
		return;
	}
	most = most < 1 ? 1 : most > DIGITS_ALL ? DIGITS_ALL : most;
	least = least < 1 ? 1 : least > most ? most : least;
	figure f;
	take_apart(fabs(number), most < DIGITS_KEPT ? DIGITS_KEPT : most, &f);
	round_to(&f, most);
	while (f.count > least && f.digits[f.count - 1] == '0')
		f.count--;
	if (number < 0)
		tc_buffer_char(buffer, '-');
	if (f.exponent >= -5 && f.exponent <= 6) {
		add_plain(buffer, &f, f.exponent + 1);
	} else {
		add_plain(buffer, &f, 1);
		tc_buffer_print(buffer, "e%d", f.exponent);
	}
}
