#include "base/diag.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/limits.h"
#include "base/map.h"

#define ELLIPSIS "\xE2\x80\xA6"

typedef struct entry {
	tc_diag diag;
	uint32_t order;
	bool last; /* the word that the rest of the file was dropped: it sorts behind all others of its file */
} entry;

/* How many a file has. Files are few and diagnostics of one come together, so the one looked at last is kept. */
typedef struct tally {
	const char *file; /* NULL: diagnostics without a file */
	uint32_t count;
	uint32_t more; /* index of the entry that says that there are more, plus 1 */
} tally;

struct tc_diags {
	tc_arena *arena;
	entry *entries;
	uint32_t count, room;
	tally *tallies;
	uint32_t tallies_count, tallies_room;
	tc_map by_file;
	size_t errors;
	tc_diag *latest; /* what a related place is added to; NULL if that one was dropped */
};

/* --- making characters visible ---------------------------------------------------------------------------------- */

static bool is_hidden(uint32_t point)
{
	return point < 0x20 || (point >= 0x7F && point < 0xA0) || point == 0x061C || point == 0x200E ||
	       point == 0x200F || (point >= 0x2028 && point <= 0x202E) || (point >= 0x2066 && point <= 0x2069) ||
	       point == 0xFEFF;
}

/* Bytes at the beginning that are plain ASCII, of which nothing is hidden. */
static size_t plain_length(const char *at, size_t length)
{
	size_t i = 0;
	while (i < length && at[i] >= 0x20 && at[i] < 0x7F)
		i++;
	return i;
}

void tc_text_visible(tc_buffer *out, tc_text text)
{
	size_t from = 0;
	for (size_t i = 0; i < text.length;) {
		i += plain_length(text.at + i, text.length - i);
		const size_t good = i + tc_utf8_bad(text.at + i, text.length - i);
		while (i < good) {
			uint32_t point;
			const size_t bytes = tc_utf8_next(text.at + i, good - i, &point);
			if (is_hidden(point)) {
				tc_buffer_add(out, (tc_text){text.at + from, i - from});
				tc_buffer_print(out, "<U+%04X>", (unsigned)point);
				from = i + bytes;
			}
			i += bytes;
		}
		if (i == text.length)
			break;
		tc_buffer_add(out, (tc_text){text.at + from, i - from});
		tc_buffer_print(out, "<0x%02X>", (unsigned)(unsigned char)text.at[i]);
		from = ++i;
	}
	tc_buffer_add(out, (tc_text){text.at + from, text.length - from});
}

/* At most `bound` bytes of the text, not cutting a code point in two. */
static size_t cut(const char *at, size_t length, size_t bound)
{
	if (length <= bound)
		return length;
	while (bound && ((unsigned char)at[bound] & 0xC0) == 0x80)
		bound--;
	return bound;
}

/* Formats a message into the arena: visible, and no longer than TC_MESSAGE_MAX. */
static const char *message(tc_arena *arena, const char *format, va_list list)
{
	char raw[TC_MESSAGE_MAX + 8];
	const int wanted = vsnprintf(raw, sizeof raw, format, list);
	if (wanted < 0)
		return "";
	const size_t had = (size_t)wanted < sizeof raw ? (size_t)wanted : cut(raw, sizeof raw - 1, sizeof raw - 5);
	tc_buffer seen;
	tc_buffer_start(&seen, tc_arena_allocator(arena));
	tc_text_visible(&seen, (tc_text){raw, had});
	const char *text = NULL;
	if (seen.failed)
		tc_arena_get(arena, SIZE_MAX); /* which fails, and that is remembered */
	else if ((size_t)wanted == had && seen.length <= TC_MESSAGE_MAX)
		text = tc_arena_text(arena, seen.at ? seen.at : "", seen.length);
	else
		text =
		    tc_arena_print(arena, "%.*s" ELLIPSIS, (int)cut(seen.at, seen.length, TC_MESSAGE_MAX - 3), seen.at);
	tc_buffer_free(&seen);
	return text;
}

/* --- the collector ---------------------------------------------------------------------------------------------- */

tc_diags *tc_diags_new(tc_arena *arena)
{
	tc_diags *diags = TC_NEW(arena, tc_diags);
	if (diags)
		diags->arena = arena;
	return diags;
}

static tally *tally_of(tc_diags *diags, const char *file)
{
	if (diags->tallies_count) {
		tally *latest = &diags->tallies[diags->tallies_count - 1];
		if (latest->file == file)
			return latest;
	}
	/* Room first, so that the map never names a tally that there is none of. */
	if (!tc_arena_grow(diags->arena, (void **)&diags->tallies, diags->tallies_count, &diags->tallies_room,
	        sizeof *diags->tallies))
		return NULL;
	/* A file name is never empty, so the empty key stands for 'no file'. */
	uint32_t index;
	if (!tc_map_put(&diags->by_file, diags->arena, tc_text_of(file), diags->tallies_count, &index))
		return NULL;
	if (index != TC_MAP_NONE)
		return &diags->tallies[index];
	tally *fresh = &diags->tallies[diags->tallies_count++];
	*fresh = (tally){.file = file};
	return fresh;
}

static entry *entry_new(tc_diags *diags)
{
	if (!tc_arena_grow(diags->arena, (void **)&diags->entries, diags->count, &diags->room, sizeof *diags->entries))
		return NULL;
	entry *fresh = &diags->entries[diags->count];
	*fresh = (entry){.order = diags->count};
	diags->count++;
	return fresh;
}

/* One more than is kept: says so once, as loud as the loudest of those dropped. */
static void drop(tc_diags *diags, tally *of, tc_severity severity)
{
	if (of->more == 0) {
		const char *text =
		    tc_arena_print(diags->arena, "more than %u messages; the rest is not shown", TC_MESSAGES_MAX);
		entry *word = text ? entry_new(diags) : NULL;
		if (!word)
			return;
		word->last = true;
		word->diag = (tc_diag){.severity = severity, .id = "too-many-messages", .place = {.file = of->file}};
		word->diag.message = text;
		of->more = diags->count;
	} else if (severity > diags->entries[of->more - 1].diag.severity) {
		diags->entries[of->more - 1].diag.severity = severity;
	}
}

void tc_diag_add(tc_diags *diags, tc_severity severity, const char *id, tc_place place, const char *format, ...)
{
	if (severity == TC_ERROR)
		diags->errors++;
	diags->latest = NULL;
	tally *of = tally_of(diags, place.file);
	if (!of)
		return;
	if (of->count == TC_MESSAGES_MAX) {
		drop(diags, of, severity);
		return;
	}
	va_list list;
	va_start(list, format);
	const char *text = message(diags->arena, format, list);
	va_end(list);
	entry *fresh = text ? entry_new(diags) : NULL;
	if (!fresh)
		return;
	of->count++;
	fresh->diag = (tc_diag){.severity = severity, .id = id, .place = place, .message = text};
	diags->latest = &fresh->diag;
}

void tc_diag_relate(tc_diags *diags, tc_place place, const char *format, ...)
{
	if (!diags->latest)
		return;
	va_list list;
	va_start(list, format);
	const char *text = message(diags->arena, format, list);
	va_end(list);
	if (!text)
		return;
	diags->latest->related = place;
	diags->latest->related_message = text;
}

size_t tc_diags_count(const tc_diags *diags)
{
	return diags->count;
}

size_t tc_diags_errors(const tc_diags *diags)
{
	return diags->errors;
}

const tc_diag *tc_diags_at(const tc_diags *diags, size_t index)
{
	return index < diags->count ? &diags->entries[index].diag : NULL;
}

/* --- order and printing ----------------------------------------------------------------------------------------- */

static int order_of_files(const char *a, const char *b)
{
	if (!a || !b)
		return (a != NULL) - (b != NULL);
	return strcmp(a, b);
}

static int order_of_numbers(uint32_t a, uint32_t b)
{
	return (a > b) - (a < b);
}

static int order_of_entries(const void *left, const void *right)
{
	const entry *a = left, *b = right;
	int order = order_of_files(a->diag.place.file, b->diag.place.file);
	if (order == 0)
		order = order_of_numbers(a->last, b->last);
	if (order == 0)
		order = order_of_numbers(a->diag.place.line, b->diag.place.line);
	if (order == 0)
		order = order_of_numbers(a->diag.place.column, b->diag.place.column);
	return order ? order : order_of_numbers(a->order, b->order);
}

void tc_diags_sort(tc_diags *diags)
{
	if (diags->count < 2)
		return;
	qsort(diags->entries, diags->count, sizeof *diags->entries, order_of_entries);
	diags->latest = NULL;
	for (uint32_t i = 0; i < diags->count; i++) {
		if (!diags->entries[i].last)
			continue;
		tally *of = tally_of(diags, diags->entries[i].diag.place.file);
		if (of)
			of->more = i + 1;
	}
}

static void print_place(tc_place place, tc_buffer *out)
{
	if (!place.file)
		return;
	tc_text_visible(out, tc_text_of(place.file));
	if (place.line)
		tc_buffer_print(out, ":%u:%u", (unsigned)place.line, (unsigned)place.column);
	tc_buffer_puts(out, ": ");
}

void tc_diag_print(const tc_diag *diag, tc_buffer *out)
{
	static const char *const severities[] = {[TC_NOTE] = "note", [TC_WARNING] = "warning", [TC_ERROR] = "error"};
	print_place(diag->place, out);
	tc_buffer_print(out, "%s: %s [%s]\n", severities[diag->severity], diag->message ? diag->message : "", diag->id);
	if (!diag->related.file)
		return;
	print_place(diag->related, out);
	tc_buffer_print(out, "note: %s\n", diag->related_message ? diag->related_message : "");
}
