/* Tables of time zones. */
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "plan/zone_read.h"
#include "stack/times.h"

#define OFFSET_MOST                                                                                                    \
	93600 /* s: no clock is further than 26 h from UTC (RFC 9636 §3.2 has 25:59:59 as the end of the range) */

/* Where the database lies, by the custom of systems. */
static const char *const folders[] = {
    "/usr/share/zoneinfo", "/usr/lib/zoneinfo", "/usr/share/lib/zoneinfo", "/etc/zoneinfo"};
#define FOLDERS (sizeof folders / sizeof *folders)

#define PATH_MOST 256

/* The bytes of a plain file, on the heap of the arena; NULL with *status. */
static char *read_file(tc_arena *arena, const char *path, size_t *length, tc_status *status)
{
	const tc_allocator *heap = tc_arena_allocator(arena);
	struct stat info;
	char *bytes = NULL;
	const int file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
	*status = TC_BAD;
	*length = 0;
	if (file < 0)
		return NULL;
	if (fstat(file, &info) == 0 && S_ISREG(info.st_mode) && info.st_size > 0 && info.st_size <= TC_ZONE_FILE_MAX) {
		bytes = heap->get(heap->user, NULL, (size_t)info.st_size);
		*status = bytes ? TC_OK : TC_NO_MEMORY;
	}
	for (ssize_t got = 1; bytes && got > 0 && *length<(size_t)info.st_size; *length += got> 0 ? (size_t)got : 0)
		got = read(file, bytes + *length, (size_t)info.st_size - *length);
	close(file);
	return bytes;
}

/* TC_SYSTEM: there is no database. */
static tc_status read_zone(tc_arena *arena, const char *name, int64_t from, int64_t to, tc_zone *zone)
{
	const tc_allocator *heap = tc_arena_allocator(arena);
	bool any = false;
	for (size_t i = 0; i < FOLDERS; i++) {
		char path[PATH_MOST];
		size_t length;
		tc_status status;
		if (access(folders[i], X_OK) != 0)
			continue;
		any = true;
		if (snprintf(path, sizeof path, "%s/%s", folders[i], name) >= (int)sizeof path)
			return TC_BAD;
		char *bytes = read_file(arena, path, &length, &status);
		if (bytes)
			status = tc_zone_parse(arena, bytes, length, from, to, zone);
		if (bytes)
			heap->get(heap->user, bytes, 0);
		if (status != TC_BAD)
			return status;
	}
	return any ? TC_BAD : TC_SYSTEM;
}

tc_status tc_zone_new(tc_arena *arena, const char *name, int64_t from, int64_t to, const tc_zone **zone)
{
	tc_zone *made = TC_NEW(arena, tc_zone);
	tc_zone_row *row = name ? NULL : TC_NEW(arena, tc_zone_row);
	tc_time_error error;
	*zone = NULL;
	if (!made || !(name || row))
		return TC_NO_MEMORY;
	if (!name) {
		*made = (tc_zone){.count = 1, .row = row};
	} else {
		if (!tc_zone_name_read(tc_text_of(name), &error))
			return TC_BAD;
		const tc_status status = read_zone(arena, name, from, to, made);
		if (status != TC_OK)
			return status;
		made->name = tc_arena_text(arena, name, strlen(name));
	}
	if (tc_arena_failed(arena))
		return TC_NO_MEMORY;
	*zone = made;
	return TC_OK;
}

/* --- the nearest name -------------------------------------------------------------------------------------------- */

/* Lines `Z NAME …` and `L OTHER NAME` are the zones and their other names. */
static void offer_line(tc_nearest *nearest, tc_text line)
{
	if (line.length < 3 || (line.at[0] != 'Z' && line.at[0] != 'L') || line.at[1] != ' ')
		return;
	const char *name = line.at + 2, *end = line.at + line.length;
	const char *blank = memchr(name, ' ', (size_t)(end - name));
	if (line.at[0] == 'L')
		name = blank ? blank + 1 : end;
	else
		end = blank ? blank : end;
	tc_nearest_offer(nearest, (tc_text){name, (size_t)(end - name)});
}

const char *tc_zone_nearest(tc_arena *arena, const char *name)
{
	const tc_allocator *heap = tc_arena_allocator(arena);
	tc_nearest nearest = TC_NEAREST(tc_text_of(name));
	const char *found = NULL;
	for (size_t i = 0; i < FOLDERS && !found; i++) {
		char path[PATH_MOST];
		size_t length;
		tc_status status;
		snprintf(path, sizeof path, "%s/tzdata.zi", folders[i]);
		char *bytes = read_file(arena, path, &length, &status);
		for (size_t at = 0; bytes && at < length;) {
			const char *end = memchr(bytes + at, '\n', length - at);
			const size_t line = end ? (size_t)(end - bytes) - at : length - at;
			offer_line(&nearest, (tc_text){bytes + at, line});
			at += line + 1;
		}
		if (nearest.found.length)
			found = tc_arena_text(arena, nearest.found.at, nearest.found.length);
		if (bytes)
			heap->get(heap->user, bytes, 0);
	}
	return found;
}

/* --- asking ------------------------------------------------------------------------------------------------------ */

/* The number of the row that holds at a moment. */
static uint32_t row_at(const tc_zone *zone, int64_t utc)
{
	uint32_t low = 0, high = zone->count;
	while (high - low > 1) {
		const uint32_t middle = low + (high - low) / 2;
		if (zone->row[middle].from <= utc)
			low = middle;
		else
			high = middle;
	}
	return low;
}

const tc_zone_row *tc_zone_at(const tc_zone *zone, int64_t utc)
{
	return &zone->row[row_at(zone, utc)];
}

int64_t tc_zone_utc(const tc_zone *zone, int64_t wall)
{
	/* so early that the wall cannot show it yet */
	uint32_t i = row_at(zone, wall - OFFSET_MOST);
	for (;; i++) {
		const tc_zone_row *row = &zone->row[i];
		const int64_t utc = wall - row->offset, begins = i ? row->from : INT64_MIN;
		const int64_t first = utc > begins ? utc : begins;
		if (i + 1 == zone->count || first < zone->row[i + 1].from)
			return first;
	}
}
