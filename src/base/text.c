#include "base/text.h"

#include <string.h>

tc_text tc_text_of(const char *c_string)
{
	return c_string ? (tc_text){c_string, strlen(c_string)} : TC_TEXT("");
}

bool tc_text_same(tc_text a, tc_text b)
{
	return a.length == b.length && (a.length == 0 || memcmp(a.at, b.at, a.length) == 0);
}

bool tc_text_is(tc_text a, const char *c_string)
{
	return tc_text_same(a, tc_text_of(c_string));
}

bool tc_text_starts(tc_text a, const char *prefix)
{
	const size_t length = strlen(prefix);
	return a.length >= length && (length == 0 || memcmp(a.at, prefix, length) == 0);
}

int tc_text_order(tc_text a, tc_text b)
{
	const size_t least = a.length < b.length ? a.length : b.length;
	const int order = least ? memcmp(a.at, b.at, least) : 0;
	if (order != 0)
		return order < 0 ? -1 : 1;
	return (a.length > b.length) - (a.length < b.length);
}

size_t tc_blank_length(const char *at, size_t length)
{
	static const char *const wide[] = {
	    "\xC2\xA0",     /* U+00A0 no-break */
	    "\xE2\x80\x87", /* U+2007 figure */
	    "\xE2\x80\x89", /* U+2009 thin */
	    "\xE2\x80\xAF", /* U+202F narrow no-break */
	};
	if (length == 0)
		return 0;
	if (*at == ' ' || *at == '\t' || *at == '\n' || *at == '\r')
		return 1;
	if ((unsigned char)*at < 0xC2) /* none of the wide ones begins so: nearly every byte ends here */
		return 0;
	for (size_t i = 0; i < sizeof wide / sizeof *wide; i++)
		if (tc_text_starts((tc_text){at, length}, wide[i]))
			return strlen(wide[i]);
	return 0;
}

/* The bytes of a blank that ends the text. */
static size_t blank_before(tc_text a)
{
	for (size_t bytes = 1; bytes <= 3 && bytes <= a.length; bytes++)
		if (tc_blank_length(a.at + a.length - bytes, bytes) == bytes)
			return bytes;
	return 0;
}

tc_text tc_text_trim(tc_text a)
{
	for (size_t bytes; (bytes = tc_blank_length(a.at, a.length)) != 0;) {
		a.at += bytes;
		a.length -= bytes;
	}
	for (size_t bytes; (bytes = blank_before(a)) != 0;)
		a.length -= bytes;
	return a;
}

/* FNV-1a, 64 bits: offset basis and prime from memory of its authors' publication; the last line spreads the upper
 * bits downwards, because a table looks at the lower ones only. */
uint64_t tc_text_hash(tc_text a)
{
	uint64_t hash = 0xCBF29CE484222325u;
	for (size_t i = 0; i < a.length; i++)
		hash = (hash ^ (unsigned char)a.at[i]) * 0x100000001B3u;
	return hash ^ hash >> 32;
}
