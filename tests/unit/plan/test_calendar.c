/*
 * The calendar of a plan: sessions on the clock on the wall, moments in elapsed seconds.
 *
 * Check values: changes of clocks are those of the zones' own rules (Europe/Berlin and America/New_York: last Sunday of March
 * and October, second Sunday of March and first of November; Australia/Lord_Howe: half an hour; Pacific/Apia: 2011-12-30 was
 * left out), weekdays by ISO 8601; everything else is arithmetic on them. tests/reference/plan holds the zones to another
 * reading of the same database. The brute force below knows nothing of days or zones' rules: it walks minute by minute.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "../heap.h"
#include "plan/calendar.h"
#include "plan/zone.h"

#define HOUR 3600.0
#define DAY 86400.0
#define WEEKDAYS 31
#define ALL 127
#define HOURS(d, from, to)                                                                                             \
	{                                                                                                              \
		(d), (from)*60, (to)*60                                                                                \
	}

typedef struct plan {
	const char *zone;
	tc_wall start;
	uint32_t weeklies, dateds;
	tc_weekly weekly[8];
	tc_dated dated[8];
} plan;

static const tc_date today = {2031, 5, 17};

static tc_recipe recipe_of(const plan *p)
{
	return (tc_recipe){.times = {.has_start = p->start.date.year > 0,
	                       .start = p->start,
	                       .zone = p->zone,
	                       .zone_place = {"r.yaml", 3, 7},
	                       .hours = {.said = p->weeklies + p->dateds > 0,
	                           .weeklies = p->weeklies,
	                           .weekly = p->weekly,
	                           .dateds = p->dateds,
	                           .dated = p->dated}}};
}

static const tc_calendar *make(tc_arena *arena, const plan *p)
{
	tc_recipe *recipe = TC_NEW(arena, tc_recipe);
	const tc_calendar *calendar;
	*recipe = recipe_of(p);
	assert_int_equal(tc_calendar_new(arena, recipe, NULL, today, tc_diags_new(arena), &calendar), TC_OK);
	return calendar;
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

/* `Sat 2031-05-17 18:30:00 +0000` */
static const char *civil(tc_civil c)
{
	static const char days[7][4] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
	static char text[80];
	snprintf(text, sizeof text, "%s %04d-%02u-%02u %02u:%02u:%02u %+d %s", days[c.weekday], (int)c.year, c.month,
	    c.day, c.hour, c.minute, c.second, (int)c.utc_offset / 60, c.zone ? c.zone : "-");
	return text;
}

/* --- what is known ----------------------------------------------------------------------------------------------- */

static void without_anything(void **state)
{
	const plan p = {0};
	const tc_calendar *c = make(*state, &p);
	const tc_calendar_facts f = tc_calendar_say(c);
	assert_true(f.floating && !f.has_start && !f.start_assumed && !f.has_sessions && !f.zone);
	assert_true(tc_calendar_next(c, 5.5, 1e6) == 5.5 && tc_calendar_last(c, 5.5, 1e6) == 5.5);
	assert_true(tc_calendar_next(c, -3, 1) == 0 && isnan(tc_calendar_last(c, -3, 1)));
	assert_true(isnan(tc_calendar_next(c, 0, TC_TIME_MAX + 1)) && isnan(tc_calendar_next(c, TC_TIME_MAX, 1)));
	assert_true(tc_calendar_next(c, 0, TC_TIME_MAX) == 0 &&
	            tc_calendar_last(c, TC_TIME_MAX, 10) == TC_TIME_MAX - 10 + 1e-6);
	assert_true(tc_calendar_open(c, 0) && tc_calendar_open(c, 1e9) && !tc_calendar_open(c, -1));
	assert_true(isnan(tc_calendar_next(c, NAN, 1)) && isnan(tc_calendar_last(c, NAN, 1)) &&
	            isnan(tc_calendar_next(c, 0, NAN)));
}

static void start_and_today(void **state)
{
	const plan said = {.start = {{2031, 5, 17}, 1110}};
	tc_calendar_facts f = tc_calendar_say(make(*state, &said));
	assert_true(f.has_start && !f.start_assumed);
	assert_string_equal(civil(tc_calendar_civil(make(*state, &said), 90.9)), "Sat 2031-05-17 18:31:30 +0 -");
	const plan hours = {.weeklies = 1, .weekly = {HOURS(ALL, 9, 10)}};
	const tc_calendar *c = make(*state, &hours);
	f = tc_calendar_say(c);
	assert_true(!f.has_start && f.start_assumed && f.has_sessions);
	assert_string_equal(civil(tc_calendar_civil(c, 0)), "Sat 2031-05-17 00:00:00 +0 -");
	assert_string_equal(civil(tc_calendar_utc(c, 0)), "Sat 2031-05-17 00:00:00 +0 -");
}

static void a_wish_comes_first(void **state)
{
	const plan p = {.zone = "Europe/Berlin", .start = {{2031, 5, 17}, 1110}};
	const tc_recipe recipe = recipe_of(&p);
	const tc_wall start = {{2031, 1, 31}, 60};
	const tc_calendar *c;
	tc_diags *diags = tc_diags_new(*state);
	assert_int_equal(
	    tc_calendar_new(*state, &recipe, &(tc_calendar_wish){.start = &start}, today, diags, &c), TC_OK);
	assert_string_equal(civil(tc_calendar_civil(c, 0)), "Fri 2031-01-31 01:00:00 +60 CET");
	assert_int_equal(
	    tc_calendar_new(*state, &recipe, &(tc_calendar_wish){.zone = "Etc/UTC"}, today, diags, &c), TC_OK);
	assert_string_equal(civil(tc_calendar_civil(c, 0)), "Sat 2031-05-17 18:30:00 +0 UTC");
	assert_string_equal(tc_calendar_say(c).zone, "Etc/UTC");
	assert_false(tc_calendar_say(c).floating);
	assert_int_equal(tc_diags_count(diags), 0);
}

static void unknown_zones(void **state)
{
	static const char *const bad[][2] = {{"Etc/UTX", "no time zone `Etc/UTX` is known here; `Etc/UCT` is near"},
	    {"Harbour/Slip", "no time zone `Harbour/Slip` is known here; write its IANA name, such as `Etc/UTC`"},
	    {"/etc/passwd", "no time zone `/etc/passwd` is known here; write its IANA name, such as `Etc/UTC`"}};
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		const plan p = {.zone = bad[i][0]};
		const tc_recipe recipe = recipe_of(&p);
		const tc_calendar *c;
		tc_diags *diags = tc_diags_new(*state);
		assert_int_equal(tc_calendar_new(*state, &recipe, NULL, today, diags, &c), TC_BAD);
		assert_null(c);
		assert_int_equal(tc_diags_count(diags), 1);
		assert_string_equal(tc_diags_at(diags, 0)->id, "unknown-zone");
		assert_string_equal(tc_diags_at(diags, 0)->place.file, "r.yaml");
		if (i > 0) /* which of several near ones is offered is the list's affair */
			assert_string_equal(tc_diags_at(diags, 0)->message, bad[i][1]);
		else
			assert_non_null(strstr(tc_diags_at(diags, 0)->message, "is near"));
	}
}

/* --- weeks ------------------------------------------------------------------------------------------------------- */

/* The start is a Saturday at 18:30; evenings on weekdays, Saturdays from 9 to 17. */
static const plan evenings = {
    .start = {{2031, 5, 17}, 1110}, .weeklies = 2, .weekly = {HOURS(WEEKDAYS, 19, 22), HOURS(32, 9, 17)}};
#define MONDAY (2 * DAY + 0.5 * HOUR) /* 19:00, from the start */

static void evenings_and_saturdays(void **state)
{
	const tc_calendar *c = make(*state, &evenings);
	tc_span span;
	assert_true(tc_calendar_next(c, 0, HOUR) == MONDAY);
	assert_true(tc_calendar_next(c, MONDAY + HOUR, 2 * HOUR) == MONDAY + HOUR);
	assert_true(tc_calendar_next(c, MONDAY + HOUR + 1, 2 * HOUR) == MONDAY + DAY);
	assert_true(tc_calendar_next(c, MONDAY, 3 * HOUR + 1e-7) == MONDAY);
	assert_true(tc_calendar_next(c, MONDAY, 3 * HOUR + 1) == MONDAY + 4 * DAY + 14 * HOUR); /* Saturday, 9:00 */
	assert_true(tc_calendar_next(c, MONDAY, 8 * HOUR) == MONDAY + 4 * DAY + 14 * HOUR);
	assert_true(isnan(tc_calendar_next(c, MONDAY, 8 * HOUR + 1)));
	assert_true(isnan(tc_calendar_last(c, MONDAY - 1, 0)));
	assert_true(tc_calendar_last(c, MONDAY + DAY - 1, 0) == MONDAY + 3 * HOUR);
	assert_true(fabs(tc_calendar_last(c, MONDAY + DAY - 1, HOUR) - (MONDAY + 2 * HOUR)) < 1e-5);
	assert_true(
	    tc_calendar_session(c, MONDAY + 3 * HOUR, &span) && span.from == MONDAY && span.to == MONDAY + 3 * HOUR);
	assert_false(tc_calendar_open(c, MONDAY - 1) || tc_calendar_open(c, MONDAY + 3 * HOUR + 1));
	assert_true(tc_calendar_coming(c, MONDAY + 3 * HOUR, &span) && span.from == MONDAY + DAY);
	unsigned count = 0;
	for (double at = 0; tc_calendar_coming(c, at, &span) && span.from < 7 * DAY; at = span.to)
		count++;
	assert_int_equal(count, 6);
}

static void nights_belong_to_the_day_before(void **state)
{
	/* Friday 22:00 to 01:00; the Saturday after is said to have no time, the Friday after that other hours */
	const plan p = {.start = {{2031, 5, 17}, 0},
	    .weeklies = 1,
	    .weekly = {{16, 22 * 60, 25 * 60}},
	    .dateds = 2,
	    .dated = {{{2031, 5, 24}, 0, 0}, {{2031, 5, 30}, 60, 120}}};
	const tc_calendar *c = make(*state, &p);
	const double friday = 6 * DAY + 22 * HOUR;
	tc_span span;
	assert_true(tc_calendar_coming(c, 0, &span) && span.from == 0 && span.to == HOUR); /* of the Friday before */
	assert_true(tc_calendar_coming(c, span.to, &span) && span.from == friday && span.to == friday + 3 * HOUR);
	assert_true(
	    tc_calendar_coming(c, span.to, &span) && span.from == 13 * DAY + HOUR && span.to == 13 * DAY + 2 * HOUR);
	assert_true(tc_calendar_coming(c, span.to, &span) && span.from == friday + 14 * DAY);
}

static void a_session_that_runs_at_the_start(void **state)
{
	const plan p = {.start = {{2031, 5, 24}, 30}, .weeklies = 1, .weekly = {{16, 22 * 60, 25 * 60}}};
	const tc_calendar *c = make(*state, &p);
	tc_span span;
	assert_true(tc_calendar_session(c, 0, &span) && span.from == 0 && span.to == 1800);
	const plan late = {.start = {{2031, 5, 24}, 60}, .weeklies = 1, .weekly = {{16, 22 * 60, 25 * 60}}};
	assert_true(tc_calendar_next(make(*state, &late), 0, 0) == 6 * DAY + 21 * HOUR);
}

static void sessions_that_touch_are_one(void **state)
{
	const plan p = {.start = {{2031, 5, 17}, 0},
	    .weeklies = 4,
	    .weekly = {HOURS(32, 9, 12), HOURS(32, 11, 14), HOURS(32, 20, 24), HOURS(64, 0, 3)}};
	const tc_calendar *c = make(*state, &p);
	tc_span span;
	assert_true(tc_calendar_coming(c, 0, &span) && span.from == 9 * HOUR && span.to == 14 * HOUR);
	assert_true(tc_calendar_coming(c, span.to, &span) && span.from == 20 * HOUR && span.to == 27 * HOUR);
	assert_true(tc_calendar_session(c, 26 * HOUR, &span) && span.from == 20 * HOUR);
	assert_true(tc_calendar_next(c, 0, 7 * HOUR) == 20 * HOUR && isnan(tc_calendar_next(c, 0, 7.01 * HOUR)));
}

static void all_week(void **state)
{
	const plan p = {.start = {{2031, 5, 17}, 0}, .weeklies = 1, .weekly = {HOURS(ALL, 0, 24)}};
	const tc_calendar *c = make(*state, &p);
	tc_span span;
	assert_true(tc_calendar_session(c, 5 * DAY, &span) && span.from == 0 && span.to == TC_TIME_MAX);
	assert_true(tc_calendar_next(c, 7, TC_TIME_MAX - 7) == 7);
	assert_false(tc_calendar_coming(c, TC_TIME_MAX, &span));
	/* days taken out of it, 60 years from now too; nothing is said of the week: so it is free */
	const plan out = {
	    .start = {{2031, 5, 17}, 0}, .dateds = 2, .dated = {{{2031, 5, 20}, 0, 0}, {{2091, 5, 17}, 0, 0}}};
	const tc_calendar *o = make(*state, &out);
	const double far = 21915 * DAY; /* 60 years with 15 leap days */
	assert_true(tc_calendar_session(o, 0, &span) && span.to == 3 * DAY);
	assert_true(tc_calendar_coming(o, 3 * DAY, &span) && span.from == 4 * DAY && span.to == far);
	assert_true(tc_calendar_session(o, 30 * 365 * DAY, &span) && span.from == 4 * DAY && span.to == far);
	assert_true(tc_calendar_coming(o, far, &span) && span.from == far + DAY && span.to == TC_TIME_MAX);
	assert_true(tc_calendar_last(o, 3.5 * DAY, 0) == 3 * DAY);
}

static void only_days_by_date(void **state)
{
	const plan p = {.start = {{2031, 5, 17}, 0},
	    .dateds = 3,
	    .dated = {{{2031, 5, 24}, 600, 960}, {{2091, 5, 17}, 600, 960}, {{2231, 5, 17}, 600, 960}}};
	const tc_calendar *c = make(*state, &p);
	assert_true(tc_calendar_next(c, 0, HOUR) == 7 * DAY + 10 * HOUR);
	assert_true(tc_calendar_next(c, 8 * DAY, HOUR) == 21915 * DAY + 10 * HOUR);
	assert_true(tc_calendar_last(c, 21915 * DAY, 0) == 7 * DAY + 16 * HOUR);
	assert_true(isnan(tc_calendar_next(c, 21916 * DAY, HOUR))); /* the next one is 200 years away */
}

/* --- changes of clocks ------------------------------------------------------------------------------------------- */

static void spring(void **state)
{
	/* 2031-03-30, 02:00 is 03:00 */
	const plan p = {.zone = "Europe/Berlin",
	    .start = {{2031, 3, 29}, 0},
	    .weeklies = 4,
	    .weekly = {{32, 22 * 60, 30 * 60}, HOURS(64, 10, 12), {2, 150, 270}, {64, 26 * 60 + 30, 28 * 60}}};
	const tc_calendar *c = make(*state, &p);
	tc_span span;
	assert_true(tc_calendar_coming(c, 0, &span) && span.from == 22 * HOUR && span.to == 29 * HOUR); /* 7 h, not 8 */
	assert_string_equal(civil(tc_calendar_civil(c, 26 * HOUR - 1)), "Sun 2031-03-30 01:59:59 +60 CET");
	assert_string_equal(civil(tc_calendar_civil(c, 26 * HOUR)), "Sun 2031-03-30 03:00:00 +120 CEST");
	assert_string_equal(civil(tc_calendar_utc(c, 26 * HOUR)), "Sun 2031-03-30 01:00:00 +0 UTC");
	assert_true(tc_calendar_coming(c, span.to, &span) && span.from == 33 * HOUR && span.to == 35 * HOUR);
	/* a start at a time that is left out, a session within the hour that is, one that begins in it, one that ends in it */
	const plan gap = {.zone = "Europe/Berlin", .start = {{2031, 3, 30}, 150}};
	assert_string_equal(civil(tc_calendar_civil(make(*state, &gap), 0)), "Sun 2031-03-30 03:00:00 +120 CEST");
	const plan within = {
	    .zone = "Europe/Berlin", .start = {{2031, 3, 30}, 0}, .dateds = 1, .dated = {{{2031, 3, 30}, 130, 170}}};
	assert_true(isnan(tc_calendar_next(make(*state, &within), 0, 0)));
	const plan begins = {
	    .zone = "Europe/Berlin", .start = {{2031, 3, 30}, 0}, .dateds = 1, .dated = {{{2031, 3, 30}, 150, 300}}};
	assert_true(
	    tc_calendar_coming(make(*state, &begins), 0, &span) && span.from == 2 * HOUR && span.to == 4 * HOUR);
	const plan ends = {
	    .zone = "Europe/Berlin", .start = {{2031, 3, 30}, 0}, .dateds = 1, .dated = {{{2031, 3, 30}, 60, 150}}};
	assert_true(tc_calendar_coming(make(*state, &ends), 0, &span) && span.from == HOUR && span.to == 2 * HOUR);
}

static void autumn(void **state)
{
	/* 2031-10-26, 03:00 is 02:00 */
	const plan p = {
	    .zone = "Europe/Berlin", .start = {{2031, 10, 25}, 0}, .weeklies = 1, .weekly = {{32, 22 * 60, 30 * 60}}};
	const tc_calendar *c = make(*state, &p);
	tc_span span;
	assert_true(tc_calendar_coming(c, 0, &span) && span.from == 22 * HOUR && span.to == 31 * HOUR); /* 9 h */
	assert_true(tc_calendar_next(c, 0, 9 * HOUR) == 22 * HOUR);
	assert_true(isnan(tc_calendar_next(c, 2 * DAY, 9 * HOUR + 2))); /* never longer */
	assert_string_equal(civil(tc_calendar_civil(c, 26.5 * HOUR)), "Sun 2031-10-26 02:30:00 +120 CEST");
	assert_string_equal(civil(tc_calendar_civil(c, 27.5 * HOUR)), "Sun 2031-10-26 02:30:00 +60 CET");
	const plan twice = {.zone = "Europe/Berlin", .start = {{2031, 10, 26}, 150}};
	assert_string_equal(civil(tc_calendar_civil(make(*state, &twice), 0)), "Sun 2031-10-26 02:30:00 +120 CEST");
	const plan ends = {
	    .zone = "Europe/Berlin", .start = {{2031, 10, 26}, 0}, .dateds = 1, .dated = {{{2031, 10, 26}, 60, 150}}};
	assert_true(tc_calendar_coming(make(*state, &ends), 0, &span) && span.from == HOUR && span.to == 2.5 * HOUR);
	const plan begins = {
	    .zone = "Europe/Berlin", .start = {{2031, 10, 26}, 0}, .dateds = 1, .dated = {{{2031, 10, 26}, 150, 240}}};
	assert_true(
	    tc_calendar_coming(make(*state, &begins), 0, &span) && span.from == 2.5 * HOUR && span.to == 5 * HOUR);
}

static void other_changes(void **state)
{
	tc_span span;
	const plan half = {
	    .zone = "Australia/Lord_Howe", .start = {{2031, 10, 5}, 0}, .weeklies = 1, .weekly = {HOURS(64, 1, 4)}};
	assert_true(tc_calendar_coming(make(*state, &half), 0, &span) && span.from == HOUR && span.to == 3.5 * HOUR);
	/* 2011-12-30 was left out: what would begin or end then does at the first moment of the 31st */
	const plan lost = {
	    .zone = "Pacific/Apia", .start = {{2011, 12, 29}, 0}, .weeklies = 1, .weekly = {HOURS(ALL, 12, 18)}};
	const tc_calendar *c = make(*state, &lost);
	assert_true(tc_calendar_coming(c, 0, &span) && span.from == 12 * HOUR);
	assert_true(tc_calendar_coming(c, span.to, &span) && span.from == 36 * HOUR && span.to == 42 * HOUR);
	assert_string_equal(civil(tc_calendar_civil(c, 24 * HOUR)), "Sat 2011-12-31 00:00:00 +840 +14");
	const plan day = {.zone = "Pacific/Apia", .start = {{2011, 12, 30}, 600}};
	assert_string_equal(civil(tc_calendar_civil(make(*state, &day), 0)), "Sat 2011-12-31 00:00:00 +840 +14");
	const plan every = {
	    .zone = "Pacific/Apia", .start = {{2011, 12, 29}, 0}, .weeklies = 1, .weekly = {HOURS(ALL, 0, 24)}};
	assert_true(
	    tc_calendar_session(make(*state, &every), 30 * HOUR, &span) && span.from == 0 && span.to == TC_TIME_MAX);
}

/* --- against brute force ----------------------------------------------------------------------------------------- */

#define SPAN_DAYS 16
#define MINUTES (SPAN_DAYS * 1440)

#ifndef PLANS
#define PLANS 80
#endif

static uint64_t seed;

static unsigned draw(unsigned below)
{
	seed = seed * 6364136223846793005u + 1442695040888963407u;
	return (unsigned)((seed >> 33) % below);
}

static void draw_hours(uint16_t *from, uint16_t *to)
{
	const unsigned length = draw(3) ? 1 + draw(300) : 1 + draw(1440);
	*from = (uint16_t)(draw(3) ? draw(1440) : 100 + draw(120));
	*to = (uint16_t)(*from + length);
}

static plan draw_plan(void)
{
	static const struct {
		const char *zone;
		tc_date date;
	} begins[] = {{"Europe/Berlin", {2031, 3, 20}}, {"Europe/Berlin", {2044, 10, 20}},
	    {"America/New_York", {2031, 3, 1}}, {"America/New_York", {2060, 10, 30}},
	    {"Australia/Lord_Howe", {2031, 4, 1}}, {"Australia/Lord_Howe", {2050, 9, 28}},
	    {"Pacific/Apia", {2011, 12, 20}}, {"Africa/Casablanca", {2031, 1, 1}}, {NULL, {2031, 12, 25}}};
	const size_t which = draw(sizeof begins / sizeof *begins);
	plan p = {.zone = begins[which].zone, .start = {begins[which].date, (uint16_t)draw(1440)}};
	p.weeklies = draw(5);
	for (uint32_t i = 0; i < p.weeklies; i++) {
		p.weekly[i].days = (uint8_t)(1 + draw(127));
		draw_hours(&p.weekly[i].from, &p.weekly[i].to);
	}
	p.dateds = draw(4) + (p.weeklies == 0);
	int32_t day = tc_date_number(p.start.date);
	for (uint32_t i = 0; i < p.dateds; i++) {
		day += (int32_t)(draw(7) + (i > 0 && p.dated[i - 1].to == 0));
		p.dated[i].date = tc_date_of(day);
		if (draw(3)) {
			draw_hours(&p.dated[i].from, &p.dated[i].to);
			if (i > 0 && tc_date_number(p.dated[i - 1].date) == day &&
			    p.dated[i - 1].from > p.dated[i].from)
				p.dated[i] = p.dated[i - 1];
		} else if (i > 0 && tc_date_number(p.dated[i - 1].date) == day) {
			p.dated[i].date = tc_date_of(++day);
		}
	}
	return p;
}

/* Are these minutes of a plan's days, counted from 00:00 of `day`, in a session that begins on it? */
static bool said(const plan *p, int32_t day, int64_t minute)
{
	bool by_date = false, any_hours = false;
	for (uint32_t i = 0; i < p->dateds; i++) {
		const bool mine = tc_date_number(p->dated[i].date) == day;
		by_date = by_date || mine;
		any_hours = any_hours || p->dated[i].to > 0;
		if (mine && minute >= p->dated[i].from && minute < p->dated[i].to)
			return true;
	}
	if (by_date)
		return false;
	if (p->weeklies == 0)
		return !any_hours && minute >= 0 && minute < 1440;
	for (uint32_t i = 0; i < p->weeklies; i++)
		if (p->weekly[i].days >> tc_date_weekday(day) & 1 && minute >= p->weekly[i].from &&
		    minute < p->weekly[i].to)
			return true;
	return false;
}

/* Which minutes from the start on are in a session. What counts of the wall is the latest that it has shown: so an hour that
 * comes twice is there once, with its second coming a part of its end. */
static void walk(const plan *p, const tc_calendar *c, bool *open)
{
	int64_t latest = INT64_MIN;
	for (int i = 0; i < MINUTES; i++) {
		const tc_civil now = tc_calendar_civil(c, i * 60.0);
		const int64_t wall = (int64_t)tc_date_number((tc_date){now.year, now.month, now.day}) * 1440 +
		                     now.hour * 60 + now.minute;
		latest = wall > latest ? wall : latest;
		open[i] = false;
		for (int32_t day = (int32_t)(latest / 1440) - 2; day <= latest / 1440 && !open[i]; day++)
			open[i] = said(p, day, latest - (int64_t)day * 1440);
	}
}

static void compare(const tc_calendar *c, const bool *open, const int *run)
{
	static const int lengths[] = {0, 1, 7, 45, 180, 500};
	const int length = lengths[draw(6)];
	const int at = (int)draw(MINUTES / 2) + MINUTES / 4;
	/* the first minute from which so many are open */
	int next = at, last = at;
	while (next < MINUTES && run[next] < (length ? length : 1) && !(length == 0 && next > 0 && open[next - 1]))
		next++;
	while (last >= 0 && run[last] < (length ? length : 1) && !(length == 0 && last > 0 && open[last - 1]))
		last--;
	const double t = tc_calendar_next(c, at * 60.0, length * 60.0),
	             u = tc_calendar_last(c, at * 60.0, length * 60.0);
	if (next < MINUTES - 600)
		assert_true(t == next * 60.0);
	if (last >= 0 ? !(fabs(u - last * 60.0) < 1e-5) : !isnan(u))
		fail_msg("the last moment at %d min for %d min is %g min, not %d", at, length, u / 60, last);
	if (!isnan(t)) { /* there and back */
		assert_true(fabs(tc_calendar_last(c, t, length * 60.0) - t) < 1e-5);
		assert_true(tc_calendar_next(c, t, length * 60.0) == t);
		assert_true(!(tc_calendar_next(c, at * 60.0 + 17, length * 60.0) < t));
		assert_true(!(tc_calendar_next(c, at * 60.0, length * 60.0 + 60) < t));
		assert_true(tc_calendar_open(c, t) && tc_calendar_open(c, t + length * 60.0));
	}
	if (!isnan(u) && !isnan(tc_calendar_last(c, at * 60.0 - 17, length * 60.0)))
		assert_true(tc_calendar_last(c, at * 60.0 - 17, length * 60.0) <= u);
}

/* Sessions one after the other are the runs of open minutes. */
static void compare_sessions(const tc_calendar *c, const bool *open)
{
	tc_span span;
	double at = 0;
	for (int i = 0; i < MINUTES;) {
		if (!open[i]) {
			i++;
			continue;
		}
		int end = i;
		while (end < MINUTES && open[end])
			end++;
		if (end == MINUTES)
			return;
		assert_true(tc_calendar_coming(c, at, &span));
		assert_true(span.from == i * 60.0 && span.to == end * 60.0);
		assert_true(
		    tc_calendar_session(c, (i + end) * 30.0, &span) && span.from == i * 60.0 && span.to == end * 60.0);
		at = span.to;
		i = end;
	}
}

static void brute_force(void **state)
{
	static bool open[MINUTES];
	static int run[MINUTES + 1];
	(void)state;
	for (seed = 1; seed < PLANS;) {
		const uint64_t number = seed;
		tc_arena *arena = tc_arena_new(NULL, 0);
		const plan p = draw_plan();
		const tc_calendar *c = make(arena, &p);
		walk(&p, c, open);
		run[MINUTES] = 0;
		for (int i = MINUTES; i-- > 0;)
			run[i] = open[i] ? run[i + 1] + 1 : 0;
		compare_sessions(c, open);
		for (int i = 0; i < 60; i++)
			compare(c, open, run);
		tc_arena_free(arena);
		seed = number + 1;
	}
}

/* --- memory ------------------------------------------------------------------------------------------------------ */

/* Each allocation fails in turn. */
static void memory(void **state)
{
	const plan p = {.zone = "Europe/Berlin",
	    .start = {{2031, 3, 29}, 0},
	    .weeklies = 1,
	    .weekly = {HOURS(ALL, 9, 10)},
	    .dateds = 1,
	    .dated = {{{2031, 5, 24}, 600, 960}}};
	const tc_recipe recipe = recipe_of(&p);
	const plan unknown = {.zone = "Etc/UTX"};
	const tc_recipe other = recipe_of(&unknown);
	(void)state;
	for (unsigned which = 0; which < 2; which++) {
		tc_status status = TC_NO_MEMORY;
		for (long n = 1; n < 1000 && status == TC_NO_MEMORY; n++) {
			const tc_calendar *c;
			heap_arm(n);
			tc_arena *arena = tc_arena_new(&heap_allocator, 64);
			tc_diags *diags = arena ? tc_diags_new(arena) : NULL;
			status = diags ? tc_calendar_new(arena, which ? &other : &recipe, NULL, today, diags, &c)
			               : TC_NO_MEMORY;
			tc_arena_free(arena);
			heap_disarm();
			assert_int_equal(heap.outstanding, 0);
		}
		assert_int_equal(status, which ? TC_BAD : TC_OK);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test_setup_teardown(without_anything, setup, teardown),
	    cmocka_unit_test_setup_teardown(start_and_today, setup, teardown),
	    cmocka_unit_test_setup_teardown(a_wish_comes_first, setup, teardown),
	    cmocka_unit_test_setup_teardown(unknown_zones, setup, teardown),
	    cmocka_unit_test_setup_teardown(evenings_and_saturdays, setup, teardown),
	    cmocka_unit_test_setup_teardown(nights_belong_to_the_day_before, setup, teardown),
	    cmocka_unit_test_setup_teardown(a_session_that_runs_at_the_start, setup, teardown),
	    cmocka_unit_test_setup_teardown(sessions_that_touch_are_one, setup, teardown),
	    cmocka_unit_test_setup_teardown(all_week, setup, teardown),
	    cmocka_unit_test_setup_teardown(only_days_by_date, setup, teardown),
	    cmocka_unit_test_setup_teardown(spring, setup, teardown),
	    cmocka_unit_test_setup_teardown(autumn, setup, teardown),
	    cmocka_unit_test_setup_teardown(other_changes, setup, teardown),
	    cmocka_unit_test(brute_force),
	    cmocka_unit_test(memory),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
