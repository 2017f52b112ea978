/* Tables of time zones. */
#include <string.h>

#include "plan/zone.h"
#include "plan/zone_read.h"

#define OFFSET_MOST                                                                                                    \
	93600 /* s: no clock is further than 26 h from UTC (RFC 9636 §3.2 has 25:59:59 as the end of the range) */

typedef struct reading {
	tc_arena *arena;
	tc_zone *zone;
	tc_zone_row *row; /* zone->count of them */
	uint32_t room;
} reading;

static bool take_row(void *user, int64_t from, int32_t offset, const char *name)
{
	reading *r = user;
	const tc_zone_row *before = r->zone->count ? &r->row[r->zone->count - 1] : NULL;
	const bool same = before && strcmp(before->name, name) == 0;
	const char *kept = same ? before->name : tc_arena_text(r->arena, name, strlen(name));
	if (!kept || !tc_arena_grow(r->arena, (void **)&r->row, r->zone->count, &r->room, sizeof *r->row))
		return false;
	r->row[r->zone->count++] = (tc_zone_row){from, offset, kept};
	return true;
}

static tc_status read_rows(reading *r, int64_t from, int64_t to)
{
	const tc_zone_answer answer = tc_zone_walk(r->zone->name, from, to, take_row, r);
	if (answer == TC_ZONE_NO_MEMORY || tc_arena_failed(r->arena))
		return TC_NO_MEMORY;
	return answer == TC_ZONE_READ && r->zone->count > 0 ? TC_OK : TC_BAD;
}

tc_status tc_zone_new(tc_arena *arena, const char *name, int64_t from, int64_t to, const tc_zone **zone)
{
	tc_zone *made = TC_NEW(arena, tc_zone);
	reading r = {.arena = arena, .zone = made};
	*zone = NULL;
	if (!made)
		return TC_NO_MEMORY;
	if (name) {
		made->name = tc_arena_text(arena, name, strlen(name));
		const tc_status status = made->name ? read_rows(&r, from, to) : TC_NO_MEMORY;
		if (status != TC_OK)
			return status;
	} else {
		r.row = TC_NEW(arena, tc_zone_row);
		made->count = 1;
		if (!r.row)
			return TC_NO_MEMORY;
	}
	made->row = r.row;
	*zone = made;
	return TC_OK;
}

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
