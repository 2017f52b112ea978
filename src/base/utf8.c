/* UTF-8 by RFC 3629: no surrogates, no overlong forms, nothing beyond U+10FFFF. */
#include <string.h>

#include "base/text.h"

static bool continues(unsigned char c)
{
	return (c & 0xC0) == 0x80;
}

/* The bytes of the well-formed sequence at `at`, 0 if there is none. */
static size_t sequence(const unsigned char *at, size_t length)
{
	const unsigned char c = at[0];
	if (c < 0x80)
		return 1;
	if (c < 0xC2 || c > 0xF4)
		return 0;
	const size_t bytes = c < 0xE0 ? 2 : c < 0xF0 ? 3 : 4;
	if (bytes > length)
		return 0;
	for (size_t i = 1; i < bytes; i++)
		if (!continues(at[i]))
			return 0;
	if ((c == 0xE0 && at[1] < 0xA0) || (c == 0xED && at[1] > 0x9F))
		return 0; /* overlong; a surrogate */
	if ((c == 0xF0 && at[1] < 0x90) || (c == 0xF4 && at[1] > 0x8F))
		return 0; /* overlong; beyond U+10FFFF */
	return bytes;
}

size_t tc_utf8_bad(const char *at, size_t length)
{
	size_t i = 0;
	while (i < length) {
		uint64_t eight;
		while (length - i >= sizeof eight) {
			memcpy(&eight, at + i, sizeof eight);
			if (eight & 0x8080808080808080u)
				break;
			i += sizeof eight;
		}
		if (i == length)
			break;
		const size_t bytes = sequence((const unsigned char *)at + i, length - i);
		if (bytes == 0)
			return i;
		i += bytes;
	}
	return length;
}

size_t tc_utf8_next(const char *at, size_t length, uint32_t *point)
{
	const unsigned char *u = (const unsigned char *)at;
	const size_t bytes = u[0] < 0xC0 ? 1 : u[0] < 0xE0 ? 2 : u[0] < 0xF0 ? 3 : 4;
	if (bytes == 1 || bytes > length) {
		*point = u[0];
		return 1;
	}
	uint32_t p = u[0] & (0x7Fu >> bytes);
	for (size_t i = 1; i < bytes; i++)
		p = p << 6 | (u[i] & 0x3Fu);
	*point = p;
	return bytes;
}

size_t tc_utf8_count(const char *at, size_t length)
{
	size_t continuing = 0, i = 0;
	for (; length - i >= 8; i += 8) {
		uint64_t eight;
		memcpy(&eight, at + i, sizeof eight);
		/* The lowest bit of each byte that begins with the bits 10; the product adds them up in the top
		 * byte. */
		const uint64_t bits = eight >> 7 & ~eight >> 6 & 0x0101010101010101u;
		continuing += bits * 0x0101010101010101u >> 56;
	}
	for (; i < length; i++)
		continuing += continues((unsigned char)at[i]);
	return length - continuing;
}

typedef struct range {
	uint32_t first, last;
} range;

/* What takes no column: combining marks, joiners, direction marks, variation selectors. The scripts that a recipe may
 * well be written in, from memory of the Unicode character database (categories Mn, Me, Cf); not the whole of it. */
static const range no_column[] = {
    {0x0300, 0x036F},
    {0x0483, 0x0489},
    {0x0591, 0x05BD},
    {0x05BF, 0x05BF},
    {0x05C1, 0x05C2},
    {0x05C4, 0x05C5},
    {0x05C7, 0x05C7},
    {0x0610, 0x061A},
    {0x064B, 0x065F},
    {0x0670, 0x0670},
    {0x06D6, 0x06DC},
    {0x06DF, 0x06E4},
    {0x06E7, 0x06E8},
    {0x06EA, 0x06ED},
    {0x0900, 0x0902},
    {0x093A, 0x093A},
    {0x093C, 0x093C},
    {0x0941, 0x0948},
    {0x094D, 0x094D},
    {0x0951, 0x0957},
    {0x0E31, 0x0E31},
    {0x0E34, 0x0E3A},
    {0x0E47, 0x0E4E},
    {0x1AB0, 0x1AFF},
    {0x1DC0, 0x1DFF},
    {0x200B, 0x200F},
    {0x202A, 0x202E},
    {0x2060, 0x2064},
    {0x2066, 0x206F},
    {0x20D0, 0x20F0},
    {0x302A, 0x302D},
    {0x3099, 0x309A},
    {0xFE00, 0xFE0F},
    {0xFE20, 0xFE2F},
    {0xFEFF, 0xFEFF},
    {0xE0001, 0xE007F},
    {0xE0100, 0xE01EF},
};

/* What takes two columns: Unicode's East Asian Width, classes W and F, from memory and by whole blocks. */
static const range two_columns[] = {
    {0x1100, 0x115F},
    {0x231A, 0x231B},
    {0x2329, 0x232A},
    {0x23E9, 0x23EC},
    {0x23F0, 0x23F0},
    {0x23F3, 0x23F3},
    {0x25FD, 0x25FE},
    {0x2614, 0x2615},
    {0x2648, 0x2653},
    {0x267F, 0x267F},
    {0x2693, 0x2693},
    {0x26A1, 0x26A1},
    {0x26AA, 0x26AB},
    {0x26BD, 0x26BE},
    {0x26C4, 0x26C5},
    {0x26CE, 0x26CE},
    {0x26D4, 0x26D4},
    {0x26EA, 0x26EA},
    {0x26F2, 0x26F3},
    {0x26F5, 0x26F5},
    {0x26FA, 0x26FA},
    {0x26FD, 0x26FD},
    {0x2705, 0x2705},
    {0x270A, 0x270B},
    {0x2728, 0x2728},
    {0x274C, 0x274C},
    {0x274E, 0x274E},
    {0x2753, 0x2755},
    {0x2757, 0x2757},
    {0x2795, 0x2797},
    {0x27B0, 0x27B0},
    {0x27BF, 0x27BF},
    {0x2B1B, 0x2B1C},
    {0x2B50, 0x2B50},
    {0x2B55, 0x2B55},
    {0x2E80, 0x303E},
    {0x3041, 0x4DBF},
    {0x4E00, 0xA4CF},
    {0xA960, 0xA97F},
    {0xAC00, 0xD7A3},
    {0xF900, 0xFAFF},
    {0xFE10, 0xFE19},
    {0xFE30, 0xFE6F},
    {0xFF01, 0xFF60},
    {0xFFE0, 0xFFE6},
    {0x16FE0, 0x18AFF},
    {0x1B000, 0x1B2FF},
    {0x1F004, 0x1F004},
    {0x1F0CF, 0x1F0CF},
    {0x1F18E, 0x1F18E},
    {0x1F191, 0x1F19A},
    {0x1F200, 0x1F320},
    {0x1F32D, 0x1F335},
    {0x1F337, 0x1F37C},
    {0x1F37E, 0x1F393},
    {0x1F3A0, 0x1F3CA},
    {0x1F3CF, 0x1F3D3},
    {0x1F3E0, 0x1F3F0},
    {0x1F3F4, 0x1F3F4},
    {0x1F3F8, 0x1F43E},
    {0x1F440, 0x1F440},
    {0x1F442, 0x1F4FC},
    {0x1F4FF, 0x1F53D},
    {0x1F54B, 0x1F54E},
    {0x1F550, 0x1F567},
    {0x1F57A, 0x1F57A},
    {0x1F595, 0x1F596},
    {0x1F5A4, 0x1F5A4},
    {0x1F5FB, 0x1F64F},
    {0x1F680, 0x1F6C5},
    {0x1F6CC, 0x1F6CC},
    {0x1F6D0, 0x1F6D2},
    {0x1F6D5, 0x1F6D7},
    {0x1F6EB, 0x1F6EC},
    {0x1F6F4, 0x1F6FC},
    {0x1F7E0, 0x1F7EB},
    {0x1F90C, 0x1F93A},
    {0x1F93C, 0x1F945},
    {0x1F947, 0x1F9FF},
    {0x1FA70, 0x1FAFF},
    {0x20000, 0x2FFFD},
    {0x30000, 0x3FFFD},
};

static bool lies_in(const range *ranges, size_t count, uint32_t point)
{
	size_t low = 0, high = count;
	while (low < high) {
		const size_t middle = (low + high) / 2;
		if (point > ranges[middle].last)
			low = middle + 1;
		else if (point < ranges[middle].first)
			high = middle;
		else
			return true;
	}
	return false;
}

static size_t columns_of(uint32_t point)
{
	if (point < 0x20 || (point >= 0x7F && point < 0xA0))
		return 0;
	if (point < 0x300)
		return 1;
	if (lies_in(no_column, sizeof no_column / sizeof *no_column, point))
		return 0;
	return lies_in(two_columns, sizeof two_columns / sizeof *two_columns, point) ? 2 : 1;
}

size_t tc_utf8_columns(tc_text a)
{
	size_t columns = 0;
	for (size_t i = 0; i < a.length;) {
		uint32_t point;
		i += tc_utf8_next(a.at + i, a.length - i, &point);
		columns += columns_of(point);
	}
	return columns;
}
