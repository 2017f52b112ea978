/*
 * The calendar of a plan: which moments of its clock lie in a session, and what the clock on the wall shows.
 *
 * The plan's clock counts elapsed seconds from its origin, the start of the work; the origin is 0. Sessions are hours of
 * the clock on the wall. Where a time zone is named the two part when clocks change:
 *
 *   - a session over the hour that is left out in spring is an hour shorter, one over the hour that comes twice in autumn
 *     an hour longer;
 *   - a wall time that is left out means the first moment that exists after it;
 *   - a wall time that comes twice means the first time that it comes.
 *
 * So a start, or the end of a session, at 02:30 on such a night is never an error. Without a zone days have 24 hours.
 *
 * Sessions that touch or overlap are one, also over midnight. A session belongs to the day on which it begins: what is said
 * of one day (`2031-05-20 none`) does not cut off what began the evening before. The calendar runs from the origin to
 * TC_TIME_MAX after it, and sessions are cut there. Without sessions it is one session.
 *
 * Lives in the arena that it is given, with the recipe, and is never written again: threads may share it.
 */
#ifndef TC_PLAN_CALENDAR_H
#define TC_PLAN_CALENDAR_H

#include "stack/recipe.h"

typedef struct tc_calendar tc_calendar;

/* What is said over the recipe's head. NULL: what the recipe says. */
typedef struct tc_calendar_wish {
	const char *zone;
	const tc_wall *start;
} tc_calendar_wish;

/*
 * The calendar of a recipe. `wish`: NULL for none. `today`: the day at whose 00:00 the calendar begins where neither recipe
 * nor wish says a start. TC_BAD: nobody knows the time zone; `diags` has an error (its place without a file if the zone is
 * the wish's).
 */
tc_status tc_calendar_new(tc_arena *arena, const tc_recipe *recipe, const tc_calendar_wish *wish, tc_date today,
    tc_diags *diags, const tc_calendar **calendar);

/* What is known of it. */
typedef struct tc_calendar_facts {
	bool has_start;     /* a start is said, by the recipe or the wish */
	bool start_assumed; /* sessions are said and no start: it begins today */
	bool has_sessions;  /* sessions are said: not any time will do */
	bool floating;      /* no time zone: the clock on the wall, whatever it is */
	const char *zone;   /* its name; NULL if floating */
} tc_calendar_facts;
tc_calendar_facts tc_calendar_say(const tc_calendar *calendar);

/*
 * The least moment t >= `at`, s, such that t to t + `lasts` lies within one session, ends included. NAN: there is none, or
 * `lasts` is longer than any session. A microsecond of `lasts` does not count, so that a job of three hours fits a session
 * of three hours however its length was computed. Rises with `at` and with `lasts`.
 */
double tc_calendar_next(const tc_calendar *calendar, double at, double lasts);

/* The greatest such moment t <= `at`; NAN: there is none (the origin is the earliest). Rises with `at`, falls with `lasts`. */
double tc_calendar_last(const tc_calendar *calendar, double at, double lasts);

/* Does the moment lie in a session, its ends included? */
bool tc_calendar_open(const tc_calendar *calendar, double at);

/* The session that holds the moment; where one ends just as the moment comes, that one. False: none does. */
bool tc_calendar_session(const tc_calendar *calendar, double at, tc_span *span);

/*
 * The first session that ends after `at`. False: none. All sessions of a range, in order:
 *   for (double at = from; tc_calendar_coming(calendar, at, &span) && span.from < to; at = span.to)
 */
bool tc_calendar_coming(const tc_calendar *calendar, double at, tc_span *span);

/* What clock and calendar on the wall show. */
typedef struct tc_civil {
	int32_t year;
	uint8_t month, day;           /* from 1 */
	uint8_t hour, minute, second; /* 0 to 23, 59, 59; parts of a second are dropped */
	uint8_t weekday;              /* 0 is Monday */
	int32_t utc_offset;           /* s, east positive; 0 if floating */
	const char *zone;             /* such as UTC; NULL if floating. Lives as long as the calendar */
} tc_civil;

/* At a moment of the plan's clock. */
tc_civil tc_calendar_civil(const tc_calendar *calendar, double at);
/* The same moment in UTC. A floating calendar has no UTC: its wall time comes back. */
tc_civil tc_calendar_utc(const tc_calendar *calendar, double at);

#endif
