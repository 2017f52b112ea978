/* Tables of time zones. */
#include "plan/zone.h"

#define OFFSET_MOST                                                                                                    \
	93600 /* s: no clock is further than 26 h from UTC (RFC 9636 §3.2 has 25:59:59 as the end of the range) */

tc_status tc_zone_new(tc_arena *arena, const char *name, int64_t from, int64_t to, const tc_zone **zone)
{
	tc_zone *made = TC_NEW(arena, tc_zone);
	tc_zone_row *row = TC_NEW(arena, tc_zone_row);
	*zone = NULL;
	(void)from, (void)to;
	if (!made || !row)
		return TC_NO_MEMORY;
	if (name)
		return TC_BAD;
	*made = (tc_zone){.count = 1, .row = row};
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
