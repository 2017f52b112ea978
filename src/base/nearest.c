/* Misspelt words: the nearest one of those that would be right. */
#include <string.h>

#include "base/text.h"

#define WORD_MAX 128 /* longer words are near only to themselves */

static char lower(char c)
{
	return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

static unsigned least(unsigned a, unsigned b)
{
	return a < b ? a : b;
}

/* Changes (of bytes: insert, drop, replace, swap neighbours, no byte changed twice) that make a out of b, by rows. */
static unsigned distance(tc_text a, tc_text b)
{
	unsigned rows[3][WORD_MAX + 1];
	unsigned *before = rows[0], *above = rows[1], *row = rows[2];
	for (unsigned j = 0; j <= b.length; j++)
		row[j] = j;
	for (unsigned i = 1; i <= a.length; i++) {
		unsigned *const oldest = before;
		before = above;
		above = row;
		row = oldest;
		row[0] = i;
		for (unsigned j = 1; j <= b.length; j++) {
			const char x = lower(a.at[i - 1]), y = lower(b.at[j - 1]);
			row[j] = least(least(above[j], row[j - 1]) + 1, above[j - 1] + (x != y));
			if (i > 1 && j > 1 && x == lower(b.at[j - 2]) && y == lower(a.at[i - 2]))
				row[j] = least(row[j], before[j - 2] + 1);
		}
	}
	return row[b.length];
}

unsigned tc_text_distance(tc_text a, tc_text b, unsigned bound)
{
	if (tc_text_same(a, b))
		return 0;
	const size_t apart = a.length > b.length ? a.length - b.length : b.length - a.length;
	if (apart > bound || a.length > WORD_MAX || b.length > WORD_MAX)
		return bound + 1;
	return least(distance(a, b), bound + 1);
}

/* The most changes for which a word of so many bytes is still worth naming: one in three, four to six … letters. */
static unsigned near_enough(size_t length)
{
	if (length < 3)
		return 0;
	return length < 7 ? 1 : (unsigned)(length - 1) / 3;
}

void tc_nearest_offer(tc_nearest *nearest, tc_text candidate)
{
	const size_t longer = nearest->word.length > candidate.length ? nearest->word.length : candidate.length;
	const unsigned enough = near_enough(longer < WORD_MAX ? longer : WORD_MAX);
	if (nearest->distance == 0)
		return;
	const unsigned bound = least(enough, nearest->distance - 1);
	const unsigned d = tc_text_distance(nearest->word, candidate, bound);
	if (d > bound)
		return;
	nearest->found = candidate;
	nearest->distance = d;
}
