/* Time zones from the bytes of the time zone database. For zone.c, tests and fuzzing. */
#ifndef TC_PLAN_ZONE_READ_H
#define TC_PLAN_ZONE_READ_H

#include "base/text.h"
#include "plan/zone.h"

#define TC_ZONE_FILE_MAX (1u << 20) /* bytes; the largest of the database has some 4 kB */

/*
 * The bytes of a file as RFC 9636 has them (TZif, versions 1 to 4, without leap seconds), from `from` to `to` (s, UTC). The
 * zone keeps nothing of the bytes; its name is not set. TC_BAD: they are no such file.
 */
tc_status tc_zone_parse(tc_arena *arena, const char *bytes, size_t length, int64_t from, int64_t to, tc_zone *zone);

/* What is read of a rule such as `CET-1CEST,M3.5.0,M10.5.0/3` (POSIX.1-2017 §8.3, RFC 9636 §3.3.1). */
typedef struct tc_zone_date {
	char form; /* 'J' days without leap days from 1, 'n' with them from 0, 'M' weekday of a month */
	int32_t day, month, week;
	int32_t time; /* s from 00:00; may be negative, or of a later day */
} tc_zone_date;
typedef struct tc_zone_rule {
	tc_text name, summer_name;
	int32_t offset, summer_offset; /* s ahead of UTC */
	bool summer;                   /* clocks change */
	tc_zone_date begins, ends;
} tc_zone_rule;
bool tc_zone_rule_read(tc_text text, tc_zone_rule *rule);

/* When summer time begins and ends in a year, s, UTC. */
void tc_zone_rule_year(const tc_zone_rule *rule, int32_t year, int64_t *begins, int64_t *ends);

#endif
