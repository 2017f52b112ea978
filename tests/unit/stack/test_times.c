/* `start`, `sessions`, `zone`: what is read, and how each slip is refused. Days of the week by ISO 8601 (bit 0 is Monday). */
#include "kit.h"

#include "stack/times.h"

enum { MON = 1, TUE = 2, WED = 4, THU = 8, FRI = 16, SAT = 32, SUN = 64, ALL = 127 };

static const tc_times *read_times(kit *k, const char *top)
{
	static char text[4096];
	snprintf(text, sizeof text, "on: brass\n%sstack: [{wait: 1 h}]\n", top);
	kit_read(k, text);
	if (k->status != TC_OK)
		kit_show(k->diags);
	assert_int_equal(k->status, TC_OK);
	return &k->recipe->times;
}

static void refuses(kit *k, const char *top, const char *lines)
{
	static char text[4096];
	snprintf(text, sizeof text, "on: brass\n%sstack: [{wait: 1 h}]\n", top);
	kit_refuses(k, text, lines);
}

static void reads_a_start(void **state)
{
	static const struct {
		const char *text;
		tc_wall start;
	} all[] = {{"start: 2031-05-17\n", {{2031, 5, 17}, 0}}, {"start: 2031-05-17 18:30\n", {{2031, 5, 17}, 1110}},
	    {"start: '2031-05-17T9:05'\n", {{2031, 5, 17}, 545}}, {"start: ' 2032-02-29 00:00 '\n", {{2032, 2, 29}, 0}},
	    {"start: 1970-01-01\n", {{1970, 1, 1}, 0}}, {"start: 2299-12-31 23:59\n", {{2299, 12, 31}, 1439}}};
	for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
		const tc_times *times = read_times(*state, all[i].text);
		assert_true(times->has_start);
		assert_int_equal(times->start.date.year, all[i].start.date.year);
		assert_int_equal(times->start.date.month, all[i].start.date.month);
		assert_int_equal(times->start.date.day, all[i].start.date.day);
		assert_int_equal(times->start.minute, all[i].start.minute);
		assert_int_equal(times->start_place.line, 2);
	}
	assert_false(read_times(*state, "")->has_start);
}

#define SHAPE "; write a date and maybe an hour, such as `2031-05-17 18:30` [wrong-shape]\n"

static void refuses_a_start(void **state)
{
	static const char *const all[][2] = {
	    {"start: tomorrow\n", "r.yaml:2:8: error: `start` is `tomorrow`" SHAPE},
	    {"start: 17.5.2031\n", "r.yaml:2:8: error: `start` is `17.5.2031`" SHAPE},
	    {"start: 2031-5-17\n", "r.yaml:2:8: error: `start` is `2031-5-17`" SHAPE},
	    {"start: 2031-05-17 at noon\n", "r.yaml:2:8: error: `start` is `2031-05-17 at noon`" SHAPE},
	    {"start: 2031-05-17 18:30 h\n", "r.yaml:2:8: error: `start` is `2031-05-17 18:30 h`" SHAPE},
	    {"start: [2031-05-17]\n", "r.yaml:2:8: error: `start` is a list" SHAPE},
	    {"start:\n", "r.yaml:2:7: error: `start` is empty" SHAPE},
	    {"start: 2031-02-30\n",
	        "r.yaml:2:8: error: `2031-02-30` is no day: February 2031 has the days 01 to 28 [date]\n"},
	    {"start: 2031-02-29\n",
	        "r.yaml:2:8: error: `2031-02-29` is no day: February 2031 has the days 01 to 28 [date]\n"},
	    {"start: 2031-04-31\n",
	        "r.yaml:2:8: error: `2031-04-31` is no day: April 2031 has the days 01 to 30 [date]\n"},
	    {"start: 2031-17-05\n",
	        "r.yaml:2:8: error: `2031-17-05` is no day: months are 01 to 12, after the year [date]\n"},
	    {"start: 1969-12-31\n",
	        "r.yaml:2:8: error: `1969-12-31` lies outside the years 1970 to 2299 that a plan may speak of "
	        "[out-of-range]\n"},
	    {"start: 2031-05-17 24:00\n",
	        "r.yaml:2:19: error: `24:00` ends a day; what begins then begins at 00:00 of the next one [date]\n"},
	    {"start: 2031-05-17 18:60\n",
	        "r.yaml:2:19: error: `18:60` is no time of day; those are 00:00 to 23:59 [date]\n"},
	};
	for (size_t i = 0; i < sizeof all / sizeof *all; i++)
		refuses(*state, all[i][0], all[i][1]);
}

static void reads_hours_of_the_week(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		uint8_t days;
		unsigned from, to;
	} all[] = {{"mon-fri 19:00 to 22:00", MON | TUE | WED | THU | FRI, 1140, 1320},
	    {"sat 9:00 to 17:00", SAT, 540, 1020}, {"mon, wed, fri 19:00 to 22:00", MON | WED | FRI, 1140, 1320},
	    {"daily 09:00 to 10:30", ALL, 540, 630}, {"19:00 to 22:00", ALL, 1140, 1320},
	    {"fri-mon 8:00-9:00", FRI | SAT | SUN | MON, 480, 540}, {"Saturday 00:00 to 24:00", SAT, 0, 1440},
	    {"THURSDAY-Tue 1:00 to 2:00", ALL & ~WED, 60, 120}, {"sun 22:00 to 01:00", SUN, 1320, 1500},
	    {"sun 22:00 to 00:00", SUN, 1320, 1440}, {"tue – thu 10:00 – 11:00", TUE | WED | THU, 600, 660},
	    {"mon to wed and sat 10:00 to 11:00", MON | TUE | WED | SAT, 600, 660},
	    {"  sat,sun\u00a010:00\u00a0to\u00a011:00  ", SAT | SUN, 600, 660},
	    {"mon-mon 10:00 to 11:00", MON, 600, 660}, {"0:00 to 23:59", ALL, 0, 1439},
	    {"sat 10:00TO11:00", SAT, 600, 660}};
	for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
		tc_said_hours hours;
		tc_time_error error;
		if (!tc_hours_read(tc_text_of(all[i].text), &hours, &error))
			fail_msg("`%s`: %s", all[i].text, error.message);
		assert_false(hours.dated);
		assert_int_equal(hours.days, all[i].days);
		assert_int_equal(hours.from, all[i].from);
		assert_int_equal(hours.to, all[i].to);
	}
}

static void reads_lists(void **state)
{
	const tc_times *times =
	    read_times(*state, "sessions: [mon-fri 19:00 to 22:00, sat 09:00 to 17:00, \"mon, wed 6:00 to 7:00\"]\n");
	assert_true(times->hours.said);
	assert_int_equal(times->hours.weeklies, 3);
	assert_int_equal(times->hours.weekly[2].days, MON | WED);
	assert_int_equal(times->hours.dateds, 0);
	assert_int_equal(times->hours.place.line, 2);

	times = read_times(*state,
	    "sessions:\n- mon, wed, fri 19:00 to 22:00\n- 2031-05-24 14:00 to 16:00\n- 2031-05-20 NONE\n"
	    "- 2031-05-24 10:00 to 1:00\n");
	assert_int_equal(times->hours.weeklies, 1);
	assert_int_equal(times->hours.dateds, 3);
	assert_int_equal(times->hours.dated[0].date.day, 20);
	assert_int_equal(times->hours.dated[0].to, 0);
	assert_int_equal(times->hours.dated[1].from, 600);
	assert_int_equal(times->hours.dated[1].to, 1500);
	assert_int_equal(times->hours.dated[2].from, 840);

	times = read_times(*state, "sessions: sat 9:00 to 17:00\n");
	assert_int_equal(times->hours.weeklies, 1);
	assert_false(read_times(*state, "")->hours.said);
}

static void refuses_sessions(void **state)
{
	static const char *const all[][2] = {
	    {"sessions: []\n",
	        "r.yaml:2:11: error: `sessions` is an empty list; left out it means any time; write `[sat "
	        "9:00 to 17:00]` [wrong-shape]\n"},
	    {"sessions: fry 9:00 to 10:00\n",
	        "r.yaml:2:11: error: `fry` is no day of the week; `fri` is near [hours]\n"},
	    {"sessions: mon-frday 9:00 to 10:00\n",
	        "r.yaml:2:15: error: `frday` is no day of the week; `friday` is near [hours]\n"},
	    {"sessions: weekdays 9:00 to 10:00\n",
	        "r.yaml:2:11: error: `weekdays` is no day of the week; those are `mon` to `sun`, and `daily` is all "
	        "[hours]\n"},
	    {"sessions: sat 9 to 17:00\n",
	        "r.yaml:2:15: error: `9` is no time of day; write hours and minutes, such as `9:00` [hours]\n"},
	    {"sessions: sat 9:00 to 5 pm\n",
	        "r.yaml:2:23: error: `5` is no time of day; write hours and minutes, such as `9:00` [hours]\n"},
	    {"sessions: sat 9:00 to 5:30 pm\n",
	        "r.yaml:2:28: error: hours count from 0 to 24; write `17:30` [hours]\n"},
	    {"sessions: sat 12:15 am to 5:30\n",
	        "r.yaml:2:21: error: hours count from 0 to 24; write `0:15` [hours]\n"},
	    {"sessions: sat 24:00 to 1:00\n",
	        "r.yaml:2:15: error: `24:00` ends a day; what begins then begins at 00:00 of the next one [hours]\n"},
	    {"sessions: sat 9:00 to 24:30\n",
	        "r.yaml:2:23: error: `24:30` is no time of day; those are 00:00 to 24:00 [hours]\n"},
	    {"sessions: sat 9:75 to 10:00\n",
	        "r.yaml:2:15: error: `9:75` is no time of day; those are 00:00 to 23:59 [hours]\n"},
	    {"sessions: sat 10:00\n",
	        "r.yaml:2:20: error: the session has no end; write both, such as `10:00 to 22:00` [hours]\n"},
	    {"sessions: sat 10:00 to 10:00\n",
	        "r.yaml:2:15: error: the session ends when it begins; a whole day is `00:00 to 24:00` [hours]\n"},
	    {"sessions: sat 9:00 to 12:00, 14:00 to 17:00\n",
	        "r.yaml:2:28: error: one text is one session; write several as a list, one line with `- ` for each "
	        "[hours]\n"},
	    {"sessions: sat 9:00 to 12:00 sharp\n",
	        "r.yaml:2:29: error: `sharp` behind the hours means nothing; one text is one session [hours]\n"},
	    {"sessions: 2031-02-30 none\n",
	        "r.yaml:2:11: error: `2031-02-30` is no day: February 2031 has the days 01 to 28 [date]\n"},
	    {"sessions: 2031-05-20\n",
	        "r.yaml:2:11: error: `2031-05-20` has no hours; write `2031-05-20 19:00 to 22:00`, or "
	        "`none` behind the day [hours]\n"},
	    {"sessions: mon-fri\n",
	        "r.yaml:2:11: error: `mon-fri` has no hours; write `mon-fri 19:00 to 22:00` [hours]\n"},
	    {"sessions: sat none\n",
	        "r.yaml:2:15: error: `none` is no time of day; write hours and minutes, such as `9:00` [hours]\n"},
	    {"sessions: [2031-05-20 none, 2031-05-20 9:00 to 10:00]\n",
	        "r.yaml:2:29: error: 2031-05-20 is said twice, and once it has no time; keep one of the two [twice]\n"
	        "r.yaml:2:12: note: here, too\n"},
	};
	for (size_t i = 0; i < sizeof all / sizeof *all; i++)
		refuses(*state, all[i][0], all[i][1]);
}

/* In [ ] YAML parts days at their commas: one message for all that came off. */
static void refuses_days_that_came_off(void **state)
{
	refuses(*state, "sessions: [mon, wed, fri 19:00 to 22:00, sat 9:00 to 17:00]\n",
	    "r.yaml:2:12: error: `mon` has no hours: inside [ ] a comma begins the next text; write it in quotes, "
	    "`\"mon, wed, "
	    "fri 19:00 to 22:00\"` [hours]\n");
	refuses(*state, "sessions: [sat 9:00 to 17:00, mon, wed]\n",
	    "r.yaml:2:31: error: `mon` has no hours; write `mon 19:00 to 22:00` [hours]\n"
	    "r.yaml:2:36: error: `wed` has no hours; write `wed 19:00 to 22:00` [hours]\n");
	refuses(*state, "sessions: [mon, 2031-05-20 none]\n",
	    "r.yaml:2:12: error: `mon` has no hours; write `mon 19:00 to 22:00` [hours]\n");
	refuses(*state, "sessions:\n- mon\n- tue 9:00 to 10:00\n",
	    "r.yaml:3:3: error: `mon` has no hours; write `mon 19:00 to 22:00` [hours]\n");
}

static void reads_a_zone(void **state)
{
	static const char *const good[] = {"Etc/UTC", "UTC", "Etc/GMT+5", "America/Argentina/Buenos_Aires", "EST5EDT",
	    "GMT0", "Etc/GMT-14", "America/Port-au-Prince"};
	static const char *const bad[] = {"etc/utc", "/Etc/UTC", "Etc/UTC/", "Etc//UTC", "../Etc/UTC", "Etc/../UTC",
	    "Etc/.UTC", "+02:00", "posixrules", "localtime", "right/Etc/UTC", "Etc/UTC ", "Etc UTC", "",
	    "Aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"};
	tc_time_error error;
	for (size_t i = 0; i < sizeof good / sizeof *good; i++)
		assert_true(tc_zone_name_read(tc_text_of(good[i]), &error));
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
		assert_false(tc_zone_name_read(tc_text_of(bad[i]), &error));
	const tc_times *times = read_times(*state, "zone: ' Etc/UTC '\n");
	assert_string_equal(times->zone, "Etc/UTC");
	assert_int_equal(times->zone_place.column, 7);
	assert_null(read_times(*state, "")->zone);
	refuses(*state, "zone: utc\n",
	    "r.yaml:2:7: error: `utc` is no name of a time zone; write its IANA name, such as `Etc/UTC` [zone]\n");
	refuses(*state, "zone: [UTC]\n",
	    "r.yaml:2:7: error: `zone` is a list; write a text, such as `Etc/UTC` [wrong-shape]\n");
}

static void bound_of_sessions(void **state)
{
	static char text[1 << 16];
	for (unsigned more = 0; more < 2; more++) {
		size_t length = (size_t)snprintf(text, sizeof text, "on: brass\nstack: [{wait: 1 h}]\nsessions:\n");
		for (unsigned i = 0; i < TC_SESSIONS_MAX + more; i++)
			length += (size_t)snprintf(text + length, sizeof text - length,
			    "- %04u-%02u-%02u 9:00 to 10:00\n", 2031 + i / 336, i / 28 % 12 + 1, i % 28 + 1);
		assert_true(length < sizeof text);
		if (more)
			kit_refuses(*state, text,
			    "r.yaml:4:1: error: 257 sessions are too many; a recipe has at most 256 [bound]\n");
		else
			kit_model(*state, text);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(reads_a_start),
	    cmocka_unit_test(refuses_a_start),
	    cmocka_unit_test(reads_hours_of_the_week),
	    cmocka_unit_test(reads_lists),
	    cmocka_unit_test(refuses_sessions),
	    cmocka_unit_test(refuses_days_that_came_off),
	    cmocka_unit_test(reads_a_zone),
	    cmocka_unit_test(bound_of_sessions),
	};
	return cmocka_run_group_tests(tests, kit_setup, kit_teardown);
}
