/* Civil times and offsets of many zones against Python's zoneinfo (civil_times.py, beside this file), which reads the same
 * database on its own. Run from the top of the tree; needs python3 and tzdata. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "plan/calendar.h"

#define MIDDLE 2524608000.0 /* 2050-01-01, s: the second calendar begins there, since one ends after 100 years */

typedef struct bench {
	tc_arena *arena;
	char zone[80];
	const tc_calendar *from_1970, *from_2050;
	double origin_1970, origin_2050; /* s, UTC */
	long moments, walls, zones;
} bench;

static const tc_calendar *begin(bench *b, tc_wall start, double *origin)
{
	tc_recipe *recipe = TC_NEW(b->arena, tc_recipe);
	const tc_calendar *calendar;
	recipe->times = (tc_times){.has_start = true, .start = start, .zone = b->zone};
	assert_int_equal(tc_calendar_new(b->arena, recipe, NULL, start.date, tc_diags_new(b->arena), &calendar), TC_OK);
	const tc_civil utc = tc_calendar_utc(calendar, 0);
	*origin = (double)tc_date_number((tc_date){utc.year, utc.month, utc.day}) * 86400 + utc.hour * 3600 +
	          utc.minute * 60 + utc.second;
	return calendar;
}

static void take_zone(bench *b, const char *line)
{
	tc_arena_reset(b->arena);
	assert_int_equal(sscanf(line, "Z %79s", b->zone), 1);
	b->from_1970 = begin(b, (tc_wall){{1970, 1, 2}, 0}, &b->origin_1970);
	b->from_2050 = begin(b, (tc_wall){{2050, 1, 1}, 0}, &b->origin_2050);
	b->zones++;
}

static void take_moment(bench *b, const char *line)
{
	double utc;
	char name[32];
	int offset, year, month, day, hour, minute, second, weekday;
	assert_int_equal(sscanf(line, "U %lf %d %31s %d %d %d %d %d %d %d", &utc, &offset, name, &year, &month, &day,
	                     &hour, &minute, &second, &weekday),
	    10);
	const bool late = utc > MIDDLE;
	if (!late && utc < b->origin_1970)
		return;
	const tc_calendar *calendar = late ? b->from_2050 : b->from_1970;
	const tc_civil c = tc_calendar_civil(calendar, utc - (late ? b->origin_2050 : b->origin_1970));
	const bool same = c.utc_offset == offset && strcmp(c.zone, name) == 0 && c.year == year && c.month == month &&
	                  c.day == day && c.hour == hour && c.minute == minute && c.second == second &&
	                  c.weekday == weekday;
	if (!same)
		fail_msg("%s: %d-%02u-%02u %02u:%02u:%02u %+d %s, but %s", b->zone, (int)c.year, c.month, c.day, c.hour,
		    c.minute, c.second, (int)c.utc_offset, c.zone, line);
	b->moments++;
}

static void take_wall(bench *b, const char *line)
{
	double expected, origin;
	int year, month, day, hour, minute;
	assert_int_equal(sscanf(line, "W %d %d %d %d %d %lf", &year, &month, &day, &hour, &minute, &expected), 6);
	if (year < 1970)
		return;
	tc_arena *outer = b->arena;
	b->arena = tc_arena_new(NULL, 0);
	begin(b, (tc_wall){{year, (uint8_t)month, (uint8_t)day}, (uint16_t)(hour * 60 + minute)}, &origin);
	tc_arena_free(b->arena);
	b->arena = outer;
	if (origin != expected)
		fail_msg("%s: begins at %.0f, not %.0f: %s", b->zone, origin, expected, line);
	b->walls++;
}

static void same_as_zoneinfo(void **state)
{
	(void)state;
	static bench b;
	char line[200];
	FILE *from = popen("python3 tests/reference/plan/civil_times.py", "r");
	assert_non_null(from);
	b.arena = tc_arena_new(NULL, 0);
	while (fgets(line, sizeof line, from)) {
		if (line[0] == 'Z')
			take_zone(&b, line);
		else if (line[0] == 'U')
			take_moment(&b, line);
		else
			take_wall(&b, line);
	}
	assert_int_equal(pclose(from), 0);
	tc_arena_free(b.arena);
	print_message("summary: %ld zones, %ld moments, %ld wall times\n", b.zones, b.moments, b.walls);
	assert_true(b.zones > 30 && b.moments > 10000 && b.walls > 10000);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(same_as_zoneinfo),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
