/* The clock of a time zone as a table: from when on it is how far ahead of UTC. */
#ifndef TC_PLAN_ZONE_H
#define TC_PLAN_ZONE_H

#include "base/arena.h"
#include "base/status.h"

/* From a moment (s since 1970-01-01 00:00 UTC) on. The first row's moment counts for all time before it, too. */
typedef struct tc_zone_row {
	int64_t from;
	int32_t offset;   /* s ahead of UTC */
	const char *name; /* such as UTC; NULL: a clock without a zone */
} tc_zone_row;

typedef struct tc_zone {
	const char *name; /* NULL: no zone; the clock on the wall, which is never changed */
	uint32_t count;   /* at least 1 */
	const tc_zone_row *row;
} tc_zone;

/*
 * The rows of a zone of the system's time zone database from `from` to `to` (s, UTC; years 1900 to 9000), in the arena. `name`
 * NULL: none. TC_BAD: there is no such zone. TC_SYSTEM: the system has no such database.
 */
tc_status tc_zone_new(tc_arena *arena, const char *name, int64_t from, int64_t to, const tc_zone **zone);

/* The name of the database that is nearest to one that is not in it, in the arena. NULL: none is near, or it has no list. */
const char *tc_zone_nearest(tc_arena *arena, const char *name);

/* What holds at a moment. */
const tc_zone_row *tc_zone_at(const tc_zone *zone, int64_t utc);

/* The first moment at which the clock on the wall shows `wall` (s since 1970-01-01 00:00 on the wall) or more: the first of
 * two, and the end of the gap where it is left out. Rises with `wall`. */
int64_t tc_zone_utc(const tc_zone *zone, int64_t wall);

#endif
