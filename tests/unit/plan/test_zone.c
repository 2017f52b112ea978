/* Files of time zones and the rules at their ends. Check values: the standard's own examples where it says so, arithmetic
 * otherwise; tests/reference/plan/ref_calendar.c holds whole zones to another reader. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "base/date.h"
#include "plan/zone_read.h"

/* --- rules ------------------------------------------------------------------------------------------------------- */

static int64_t utc(int32_t year, unsigned month, unsigned day, int32_t seconds)
{
	return (int64_t)tc_date_number((tc_date){year, (uint8_t)month, (uint8_t)day}) * TC_DAY_SECONDS + seconds;
}

static void rules(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		int32_t offset, summer_offset;
	} all[] = {
	    /* second Sunday of March and first of November, 02:00 on the wall */
	    {"EST5EDT,M3.2.0,M11.1.0", -18000, -14400},
	    /* RFC 9636 §3.3.1: hours may be negative, names in < > */
	    {"<-03>3<-02>,M3.5.0/-2,M10.5.0/-1", -10800, -7200},
	    {"CET-1CEST,M3.5.0,M10.5.0/3", 3600, 7200},
	    {"<+1030>-10:30<+11>-11,M10.1.0,M4.1.0", 37800, 39600},
	    {"ABC4:00:30DEF,J60/0,59/1:30", -14430, -10830},
	};
	tc_zone_rule rule;
	int64_t begins, ends;
	for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
		assert_true(tc_zone_rule_read(tc_text_of(all[i].text), &rule));
		assert_true(rule.summer && rule.offset == all[i].offset && rule.summer_offset == all[i].summer_offset);
	}
	/* days of 2031 by a calendar: Sundays are March 9 and 30, October 5 and 26, November 2, April 6 */
	assert_true(tc_zone_rule_read(tc_text_of(all[0].text), &rule));
	tc_zone_rule_year(&rule, 2031, &begins, &ends);
	assert_true(begins == utc(2031, 3, 9, 7 * 3600) && ends == utc(2031, 11, 2, 6 * 3600));
	assert_true(tc_zone_rule_read(tc_text_of(all[1].text), &rule));
	tc_zone_rule_year(&rule, 2031, &begins, &ends);
	assert_true(begins == utc(2031, 3, 30, 3600) && ends == utc(2031, 10, 26, 3600));
	assert_true(tc_zone_rule_read(tc_text_of(all[3].text), &rule));
	tc_zone_rule_year(&rule, 2031, &begins, &ends);
	assert_true(begins == utc(2031, 10, 4, 55800) && ends == utc(2031, 4, 5, 15 * 3600));
	/* J60 is the first of March in every year, 59 the 29th of February in a leap year */
	assert_true(tc_zone_rule_read(tc_text_of(all[4].text), &rule));
	tc_zone_rule_year(&rule, 2032, &begins, &ends);
	assert_true(begins == utc(2032, 3, 1, 14430) && ends == utc(2032, 2, 29, 5400 + 10830));
	tc_zone_rule_year(&rule, 2031, &begins, &ends);
	assert_true(begins == utc(2031, 3, 1, 14430) && ends == utc(2031, 3, 1, 5400 + 10830));
	assert_true(tc_zone_rule_read(TC_TEXT("UTC0"), &rule) && !rule.summer && rule.offset == 0);
}

static void bad_rules(void **state)
{
	(void)state;
	static const char *const bad[] = {"", "U", "UTC", "UT0", "UTC25", "UTC0UTD", "EST5EDT,M3.2.0",
	    "EST5EDT,M13.2.0,M11.1.0", "EST5EDT,M3.6.0,M11.1.0", "EST5EDT,M3.2.7,M11.1.0", "EST5EDT,J0,J60",
	    "EST5EDT,J366,J60", "EST5EDT,366,J60", "EST5EDT,M3.2.0,M11.1.0x", "EST5EDT,M3.2.0/168,M11.1.0", "<-03",
	    "<-0>3", "UTC0:60", "EST5EDT,M3.2.0 M11.1.0", "EST5EDT,M3.2.0/,M11.1.0", "UTC99999999999"};
	tc_zone_rule rule;
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
		assert_false(tc_zone_rule_read(tc_text_of(bad[i]), &rule));
}

/* --- files ------------------------------------------------------------------------------------------------------- */

typedef struct file {
	unsigned char at[4096];
	size_t length;
} file;

static void put(file *f, int64_t number, unsigned bytes)
{
	for (unsigned i = bytes; i-- > 0;)
		f->at[f->length++] = (unsigned char)(i < 8 ? (uint64_t)number >> 8 * i : 0);
}

static void put_text(file *f, const char *text, size_t length)
{
	memcpy(f->at + f->length, text, length);
	f->length += length;
}

typedef struct block {
	uint32_t times, types, letters, leaps;
	const int64_t *time;
	const char *index;
	const int32_t (*type)[3];
	const char *letter;
} block;

static void put_block(file *f, char version, unsigned wide, const block *b)
{
	put_text(f, "TZif", 4);
	put(f, version, 1);
	for (int i = 0; i < 15; i++)
		put(f, 0, 1);
	const uint32_t counts[] = {0, 0, b->leaps, b->times, b->types, b->letters};
	for (int i = 0; i < 6; i++)
		put(f, counts[i], 4);
	for (uint32_t i = 0; i < b->times; i++)
		put(f, b->time[i], wide);
	for (uint32_t i = 0; i < b->times; i++)
		put(f, b->index[i], 1);
	for (uint32_t i = 0; i < b->types; i++) {
		put(f, b->type[i][0], 4);
		put(f, b->type[i][1], 1);
		put(f, b->type[i][2], 1);
	}
	put_text(f, b->letter, b->letters);
	for (uint32_t i = 0; i < b->leaps; i++)
		put(f, 0, wide + 4);
}

static const block nothing = {.types = 1, .letters = 1, .type = (const int32_t[][3]){{0, 0, 0}}, .letter = ""};

static file of_version_2(const block *b, const char *rule)
{
	file f = {.length = 0};
	put_block(&f, '2', 4, &nothing);
	put_block(&f, '2', 8, b);
	put_text(&f, "\n", 1);
	put_text(&f, rule, strlen(rule));
	put_text(&f, "\n", 1);
	return f;
}

/* The example of RFC 9636 (and RFC 8536) appendix B.2, from memory. */
static const int64_t times[] = {-2334101314, -1157283000, -1155436200, -880198200, -769395600, -765376200, -712150200};
static const int32_t types[][3] = {
    {-37886, 0, 0}, {-37800, 0, 4}, {-34200, 1, 8}, {-34200, 1, 12}, {-34200, 1, 16}, {-36000, 0, 4}};
static const block islands = {.times = 7,
    .types = 6,
    .letters = 20,
    .time = times,
    .index = "\1\2\1\3\4\1\5",
    .type = types,
    .letter = "LMT\0HST\0HDT\0HWT\0HPT"};

static tc_status parse(const file *f, int64_t from, int64_t to, tc_zone *zone, tc_arena *arena)
{
	tc_arena_reset(arena);
	return tc_zone_parse(arena, (const char *)f->at, f->length, from, to, zone);
}

static int setup(void **state)
{
	*state = tc_arena_new(NULL, 0);
	return *state ? 0 : -1;
}

static int teardown(void **state)
{
	tc_arena_free(*state);
	return 0;
}

static void a_file(void **state)
{
	const file f = of_version_2(&islands, "HST10");
	tc_zone zone;
	assert_int_equal(parse(&f, -3000000000, 2000000000, &zone, *state), TC_OK);
	assert_int_equal(zone.count, 8);
	for (uint32_t i = 1; i < 8; i++) {
		assert_true(zone.row[i].from == times[i - 1]);
		assert_int_equal(zone.row[i].offset, types[(int)islands.index[i - 1]][0]);
	}
	assert_string_equal(zone.row[4].name, "HWT");
	assert_string_equal(tc_zone_at(&zone, -2334101315)->name, "LMT");
	assert_int_equal(tc_zone_at(&zone, 1900000000)->offset, -36000);
	/* a part of it: what holds at its beginning, and no more than asked for */
	assert_int_equal(parse(&f, -800000000, -769395600, &zone, *state), TC_OK);
	assert_int_equal(zone.count, 2);
	assert_true(
	    zone.row[0].from == -800000000 && zone.row[0].offset == -34200 && strcmp(zone.row[0].name, "HWT") == 0);
	assert_true(zone.row[1].from == -769395600 && strcmp(zone.row[1].name, "HPT") == 0);
}

static void a_rule_goes_on(void **state)
{
	const file f = of_version_2(&islands, "AAA10BBB,M3.2.0,M11.1.0");
	tc_zone zone;
	assert_int_equal(parse(&f, utc(2031, 1, 1, 0), utc(2035, 1, 1, 0), &zone, *state), TC_OK);
	assert_int_equal(zone.count, 9);
	assert_true(zone.row[0].offset == -36000 && zone.row[1].from == utc(2031, 3, 9, 12 * 3600) &&
	            zone.row[1].offset == -32400);
	/* summer all year: RFC 9636 §3.3.1 has such a rule */
	const file summer = of_version_2(&nothing, "XXX3EDT4,0/0,J365/23");
	assert_int_equal(parse(&summer, utc(2031, 1, 1, 0), utc(2035, 1, 1, 0), &zone, *state), TC_OK);
	for (uint32_t i = 0; i < zone.count; i++)
		assert_true(zone.row[i].offset == -14400 && strcmp(zone.row[i].name, "EDT") == 0);
}

static void an_old_file(void **state)
{
	file f = {.length = 0};
	put_block(&f, '\0', 4,
	    &(block){.times = 1,
	        .types = 2,
	        .letters = 8,
	        .time = (const int64_t[]){1000},
	        .index = "\1",
	        .type = (const int32_t[][3]){{0, 0, 0}, {3600, 0, 4}},
	        .letter = "ABC\0DEF"});
	tc_zone zone;
	assert_int_equal(parse(&f, 0, 5000, &zone, *state), TC_OK);
	assert_int_equal(zone.count, 2);
	assert_true(zone.row[1].from == 1000 && zone.row[1].offset == 3600);
}

static void bad_files(void **state)
{
	const file good = of_version_2(&islands, "HST10");
	tc_zone zone;
	for (size_t length = 0; length < good.length; length++) {
		char *part = malloc(length ? length : 1); /* of just this length, for the sanitizer */
		memcpy(part, good.at, length);
		assert_int_equal(tc_zone_parse(*state, part, length, 0, 1000, &zone), TC_BAD);
		free(part);
	}
	block b = islands;
	b.leaps = 1;
	file f = of_version_2(&b, "HST10");
	assert_int_equal(parse(&f, 0, 1000, &zone, *state), TC_BAD);
	b = islands;
	b.index = "\1\2\1\6\4\1\5";
	f = of_version_2(&b, "HST10");
	assert_int_equal(parse(&f, 0, 1000, &zone, *state), TC_BAD);
	b = islands;
	b.letters = 19; /* the last name has no end */
	f = of_version_2(&b, "HST10");
	assert_int_equal(parse(&f, 0, 1000, &zone, *state), TC_BAD);
	b = islands;
	b.time = (const int64_t[]){1, 2, 3, 4, 4, 5, 6};
	f = of_version_2(&b, "HST10");
	assert_int_equal(parse(&f, 0, 1000, &zone, *state), TC_BAD);
	b = islands;
	b.type = (const int32_t[][3]){{-37886, 0, 0}, {93600, 0, 4}, {0}, {0}, {0}, {0}};
	f = of_version_2(&b, "HST10");
	assert_int_equal(parse(&f, 0, 1000, &zone, *state), TC_BAD);
	f = of_version_2(&islands, "HST");
	assert_int_equal(parse(&f, 0, 1000, &zone, *state), TC_BAD);
	f = good;
	memset(f.at + 20, 0xff, 24); /* counts beyond all bounds */
	assert_int_equal(parse(&f, 0, 1000, &zone, *state), TC_BAD);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(rules),
	    cmocka_unit_test(bad_rules),
	    cmocka_unit_test_setup_teardown(a_file, setup, teardown),
	    cmocka_unit_test_setup_teardown(a_rule_goes_on, setup, teardown),
	    cmocka_unit_test_setup_teardown(an_old_file, setup, teardown),
	    cmocka_unit_test_setup_teardown(bad_files, setup, teardown),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
