/* Hazard statements by their codes (H and three digits, up to two letters; EUH and three digits, up to one letter). */
#include <stdlib.h>
#include <string.h>

#include "library/private.h"

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static bool is_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool is_code(tc_text code)
{
	const bool supplemental = tc_text_starts(code, "EUH");
	const size_t head = supplemental ? 3 : 1, letters = supplemental ? 1 : 2;
	if ((!supplemental && !tc_text_starts(code, "H")) || code.length < head + 3 || code.length > head + 3 + letters)
		return false;
	for (size_t i = head; i < head + 3; i++)
		if (!is_digit(code.at[i]))
			return false;
	for (size_t i = head + 3; i < code.length; i++)
		if (!is_letter(code.at[i]) || (supplemental && code.at[i] > 'Z'))
			return false;
	return true;
}

static void push(tc_arena *scratch, tc_codes *codes, const char *code)
{
	if (code && tc_arena_grow(scratch, (void **)&codes->at, codes->count, &codes->room, sizeof *codes->at))
		codes->at[codes->count++] = code;
}

void tc_lib_read_codes(
    const tc_reader *reader, const tc_node *node, const char *what, tc_arena *scratch, tc_codes *codes)
{
	const tc_node *one;
	tc_items items;
	if (tc_node_is(node, "none") || !tc_lib_read_items(reader, node, what, &one, &items))
		return;
	for (uint32_t i = 0; i < items.count; i++) {
		const tc_node *item = items.at[i];
		if (!tc_lib_read_item(reader, item, what))
			continue;
		if (is_code(tc_node_text(item)))
			push(scratch, codes, tc_arena_text(reader->arena, item->text, item->count));
		else
			tc_lib_wrong(reader, "hazard-code", item,
			    "`%s` is no hazard code; write H and three digits, such as H225, or EUH and three digits, "
			    "such as EUH066",
			    item->text);
	}
}

void tc_lib_codes_add(tc_arena *scratch, tc_codes *codes, const char *const *more)
{
	for (; more && *more; more++)
		push(scratch, codes, *more);
}

static int order_of_codes(const void *left, const void *right)
{
	return strcmp(*(const char *const *)left, *(const char *const *)right);
}

const char *const *tc_lib_codes_end(tc_arena *arena, tc_codes *codes)
{
	if (codes->count > 1)
		qsort(codes->at, codes->count, sizeof *codes->at, order_of_codes);
	uint32_t count = 0;
	for (uint32_t i = 0; i < codes->count; i++)
		if (count == 0 || strcmp(codes->at[count - 1], codes->at[i]) != 0)
			codes->at[count++] = codes->at[i];
	const char **end = TC_ARRAY(arena, (size_t)count + 1, const char *);
	if (end && count)
		memcpy(end, codes->at, count * sizeof *end);
	return end;
}
