/* The calendar of a plan. Days are looked at one by one, from near the moment that is asked for; the whole is never made. */
#include <math.h>

#include "plan/calendar.h"
#include "plan/zone.h"

#define SLACK 1e-6 /* s of a job's length that do not count */

/* One session as it is said, in minutes from 00:00 of its day. */
typedef struct slot {
	uint16_t from, to;
} slot;

typedef struct slots {
	uint32_t count;
	const slot *slot; /* rising, apart from each other */
} slots;

/* A day that is said by its date. */
typedef struct odd_day {
	int32_t day;
	slots slots;
} odd_day;

struct tc_calendar {
	const tc_zone *zone;
	tc_calendar_facts facts;
	int64_t origin; /* s, UTC (or wall) */
	double usual;   /* s: longer than this are only the sessions of `rare` */
	uint32_t rares;
	tc_span *rare;       /* in order */
	int32_t first, last; /* days on which a session may begin */
	slots week[7];
	bool idle;     /* no weekday has a session */
	bool seamless; /* the sessions of a week leave no gap */
	uint32_t odds;
	const odd_day *odd; /* rising */
};

/* A session of the calendar in s, UTC. */
typedef struct stretch {
	int64_t from, to;
} stretch;

/* --- days -------------------------------------------------------------------------------------------------------- */

static int64_t on_wall(const tc_calendar *c, int32_t day, uint32_t minute)
{
	return tc_zone_utc(c->zone, (int64_t)day * TC_DAY_SECONDS + (int64_t)minute * 60);
}

static int32_t day_of(const tc_calendar *c, int64_t utc)
{
	const int64_t wall = utc + tc_zone_at(c->zone, utc)->offset;
	const int64_t day = wall / TC_DAY_SECONDS;
	return (int32_t)(wall % TC_DAY_SECONDS < 0 ? day - 1 : day);
}

/* The first day said by its date that is not before `day`; c->odds: none. */
static uint32_t odd_from(const tc_calendar *c, int32_t day)
{
	uint32_t low = 0, high = c->odds;
	while (low < high) {
		const uint32_t middle = low + (high - low) / 2;
		if (c->odd[middle].day < day)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

static const slots *slots_of(const tc_calendar *c, int32_t day)
{
	const uint32_t odd = odd_from(c, day);
	if (odd < c->odds && c->odd[odd].day == day)
		return &c->odd[odd].slots;
	return &c->week[tc_date_weekday(day)];
}

/* The next day in a direction that may have a session. */
static int32_t step_on(const tc_calendar *c, int32_t day)
{
	if (!c->idle)
		return day + 1;
	const uint32_t odd = odd_from(c, day + 1);
	return odd < c->odds ? c->odd[odd].day : c->last + 1;
}

static int32_t step_back(const tc_calendar *c, int32_t day)
{
	if (!c->idle)
		return day - 1;
	const uint32_t odd = odd_from(c, day);
	return odd > 0 ? c->odd[odd - 1].day : c->first - 1;
}

/* --- sessions ---------------------------------------------------------------------------------------------------- */

/* A day and its sessions; `even`: no clock is changed until its sessions have ended, so that moments are sums. */
typedef struct view {
	int32_t number;
	bool even;
	int64_t begins;
	const slots *slots;
} view;

static view look_at(const tc_calendar *c, int32_t number)
{
	const int64_t begins = on_wall(c, number, 0);
	const tc_zone_row *before = tc_zone_at(c->zone, begins - 1);
	const bool even = before == tc_zone_at(c->zone, on_wall(c, number + 2, 0));
	return (view){number, even, begins, slots_of(c, number)};
}

static stretch stretch_of(const tc_calendar *c, const view *d, uint32_t i)
{
	const slot s = d->slots->slot[i];
	if (d->even)
		return (stretch){d->begins + s.from * 60, d->begins + s.to * 60};
	return (stretch){on_wall(c, d->number, s.from), on_wall(c, d->number, s.to)};
}

/* In a week without gaps what began by `day` goes on to the next day that is said by its date: so many days need no look. */
static int32_t seamless_to(const tc_calendar *c, int32_t day)
{
	const uint32_t odd = odd_from(c, day);
	const int32_t end = odd < c->odds ? c->odd[odd].day : c->last + 1;
	return c->seamless && end > day + 2 ? end : day;
}

/* And what holds on `day` began after the last such day before it, or some days later. */
static int32_t seamless_from(const tc_calendar *c, int32_t day)
{
	const uint32_t odd = odd_from(c, day + 1);
	const int32_t start = odd > 0 ? c->odd[odd - 1].day + 3 : c->first;
	return c->seamless && start < day ? start : day;
}

/* Where the session ends that goes on at `to`, in a slot of `day`: perhaps with one that began before. */
static int64_t grow_on(const tc_calendar *c, int32_t day, int64_t to)
{
	for (day = day - 2 > c->first ? day - 2 : c->first; day <= c->last && on_wall(c, day, 0) <= to; day++) {
		const view d = look_at(c, day);
		for (uint32_t i = 0; i < d.slots->count; i++) {
			const stretch more = stretch_of(c, &d, i);
			if (more.from > to) /* and so do all that come after it */
				return to;
			if (more.to > to)
				to = more.to;
		}
		const int32_t leap = seamless_to(c, day);
		if (leap > day && on_wall(c, day + 1, 0) <= to) {
			const int64_t reached = on_wall(c, leap, 0);
			to = reached > to ? reached : to;
			day = leap - 2;
		}
	}
	return to;
}

/* Where it begins: slots may reach into the day after theirs. */
static int64_t grow_back(const tc_calendar *c, int32_t day, int64_t from)
{
	for (; day >= c->first && on_wall(c, day + 2, 0) >= from; day--) {
		const view d = look_at(c, day);
		for (uint32_t i = d.slots->count; i-- > 0;) {
			const stretch more = stretch_of(c, &d, i);
			if (more.to >= from && more.from < from)
				from = more.from;
		}
		const int32_t leap = seamless_from(c, day);
		if (leap < day && on_wall(c, day, 0) >= from) {
			const int64_t reached = on_wall(c, leap, 0);
			from = reached < from ? reached : from;
			day = leap + 1;
		}
	}
	return from;
}

static tc_span grow(const tc_calendar *c, int32_t day, stretch s)
{
	const int64_t from = grow_back(c, day, s.from) - c->origin, to = grow_on(c, day, s.to) - c->origin;
	return (tc_span){from < 0 ? 0 : (double)from, to > (int64_t)TC_TIME_MAX ? TC_TIME_MAX : (double)to};
}

/* Is anything of it within the calendar? */
static bool counts(const tc_calendar *c, stretch s)
{
	return s.from < s.to && s.to > c->origin && s.from < c->origin + (int64_t)TC_TIME_MAX;
}

static bool whole(double at, bool later, tc_span *span)
{
	*span = (tc_span){0, TC_TIME_MAX};
	return later ? at < TC_TIME_MAX : at <= TC_TIME_MAX;
}

/* The first session that ends at `at` or later; `later`: later only. */
static bool session_from(const tc_calendar *c, double at, bool later, tc_span *span)
{
	if (!c->facts.has_sessions)
		return whole(at, later, span);
	if (!(at <= TC_TIME_MAX))
		return false;
	at = at < 0 ? 0 : at;
	const int64_t utc = c->origin + (int64_t)floor(at);
	const int32_t near = day_of(c, utc) - 3;
	for (int32_t day = near > c->first ? near : c->first; day <= c->last; day = step_on(c, day)) {
		const view d = look_at(c, day);
		for (uint32_t i = 0; i < d.slots->count; i++) {
			const stretch one = stretch_of(c, &d, i);
			const double to = (double)(one.to - c->origin);
			if (!counts(c, one) || to < at || (later && to <= at))
				continue;
			*span = grow(c, day, one);
			return !later || span->to > at;
		}
	}
	return false;
}

/* The last session that begins at `at` or before. */
static bool session_to(const tc_calendar *c, double at, tc_span *span)
{
	if (!(at >= 0))
		return false;
	at = at > TC_TIME_MAX ? TC_TIME_MAX : at;
	if (!c->facts.has_sessions)
		return whole(at, false, span);
	const int64_t utc = c->origin + (int64_t)floor(at);
	const int32_t near = day_of(c, utc) + 1;
	for (int32_t day = near < c->last ? near : c->last; day >= c->first; day = step_back(c, day)) {
		const view d = look_at(c, day);
		for (uint32_t i = d.slots->count; i-- > 0;) {
			const stretch one = stretch_of(c, &d, i);
			if (!counts(c, one) || one.from > utc)
				continue;
			*span = grow(c, day, one);
			return true;
		}
	}
	return false;
}

/* --- moments ----------------------------------------------------------------------------------------------------- */

/* `at` or later in a session; NAN: a job of that length does not fit then. */
static double first_in(tc_span span, double at, double length)
{
	const double t = at > span.from ? at : span.from;
	return t + length <= span.to ? t : NAN;
}

static double last_in(tc_span span, double at, double length)
{
	const double t = at < span.to - length ? at : span.to - length;
	return t >= span.from ? t : NAN;
}

double tc_calendar_next(const tc_calendar *c, double at, double lasts)
{
	const double length = lasts > SLACK ? lasts - SLACK : 0;
	tc_span span;
	double t = NAN;
	if (isnan(at) || !(lasts <= TC_TIME_MAX))
		return NAN;
	at = at < 0 ? 0 : at;
	if (c->facts.has_sessions && length > c->usual) {
		for (uint32_t i = 0; i < c->rares && isnan(t); i++)
			t = first_in(c->rare[i], at, length);
		return t;
	}
	bool found = session_from(c, at, false, &span);
	for (; found && isnan(t = first_in(span, at, length));)
		found = session_from(c, span.to, true, &span);
	return t;
}

double tc_calendar_last(const tc_calendar *c, double at, double lasts)
{
	const double length = lasts > SLACK ? lasts - SLACK : 0;
	tc_span span;
	double t = NAN;
	if (isnan(at) || !(lasts <= TC_TIME_MAX))
		return NAN;
	if (c->facts.has_sessions && length > c->usual) {
		for (uint32_t i = c->rares; i > 0 && isnan(t); i--)
			t = last_in(c->rare[i - 1], at, length);
		return t;
	}
	/* instants are whole seconds: what begins earlier does so a second earlier at least */
	bool found = session_to(c, at, &span);
	for (; found && isnan(t = last_in(span, at, length));)
		found = session_to(c, span.from - 1, &span);
	return t;
}

bool tc_calendar_session(const tc_calendar *c, double at, tc_span *span)
{
	return at >= 0 && session_from(c, at, false, span) && span->from <= at;
}

bool tc_calendar_open(const tc_calendar *c, double at)
{
	tc_span span;
	return tc_calendar_session(c, at, &span);
}

bool tc_calendar_coming(const tc_calendar *c, double at, tc_span *span)
{
	return session_from(c, at, true, span);
}

/* --- the clock on the wall --------------------------------------------------------------------------------------- */

static int64_t utc_of(const tc_calendar *c, double at)
{
	if (!(at >= -TC_TIME_MAX)) /* NAN, too */
		at = -TC_TIME_MAX;
	return c->origin + (int64_t)floor(at > 2 * TC_TIME_MAX ? 2 * TC_TIME_MAX : at);
}

static tc_civil civil(int64_t wall, int32_t offset, const char *zone)
{
	int64_t day = wall / TC_DAY_SECONDS, rest = wall % TC_DAY_SECONDS;
	if (rest < 0) {
		day--;
		rest += TC_DAY_SECONDS;
	}
	const tc_date date = tc_date_of((int32_t)day);
	return (tc_civil){.year = date.year,
	    .month = date.month,
	    .day = date.day,
	    .hour = (uint8_t)(rest / 3600),
	    .minute = (uint8_t)(rest / 60 % 60),
	    .second = (uint8_t)(rest % 60),
	    .weekday = (uint8_t)tc_date_weekday((int32_t)day),
	    .utc_offset = offset,
	    .zone = zone};
}

tc_civil tc_calendar_civil(const tc_calendar *c, double at)
{
	const int64_t utc = utc_of(c, at);
	const tc_zone_row *row = tc_zone_at(c->zone, utc);
	return civil(utc + row->offset, row->offset, row->name);
}

tc_civil tc_calendar_utc(const tc_calendar *c, double at)
{
	return civil(utc_of(c, at), 0, c->facts.floating ? NULL : "UTC");
}

tc_calendar_facts tc_calendar_say(const tc_calendar *c)
{
	return c->facts;
}

/* --- making one -------------------------------------------------------------------------------------------------- */

/* Takes a session in among those of its day, in order, joined with what it touches. There is room for one more. */
static uint32_t insert(slot *of_day, uint32_t count, slot new)
{
	uint32_t kept = 0, at = 0;
	for (uint32_t i = 0; i < count; i++) {
		const slot old = of_day[i];
		if (old.from > new.to || old.to < new.from) {
			of_day[kept++] = old;
			at += old.to < new.from;
			continue;
		}
		new.from = old.from < new.from ? old.from : new.from;
		new.to = old.to > new.to ? old.to : new.to;
	}
	for (uint32_t i = kept; i > at; i--)
		of_day[i] = of_day[i - 1];
	of_day[at] = new;
	return kept + 1;
}

static bool make_week(tc_arena *arena, tc_calendar *c, const tc_hours *hours)
{
	c->idle = true;
	for (unsigned day = 0; day < 7; day++) {
		slot *room = TC_ARRAY(arena, hours->weeklies + 1, slot);
		uint32_t count = 0;
		if (!room)
			return false;
		for (uint32_t i = 0; i < hours->weeklies; i++)
			if (hours->weekly[i].days >> day & 1)
				count = insert(room, count, (slot){hours->weekly[i].from, hours->weekly[i].to});
		c->week[day] = (slots){count, room};
		c->idle = c->idle && count == 0;
	}
	return true;
}

/* Nothing is said of the usual days: free if days are only taken away, closed if some are given. */
static bool open_week(tc_arena *arena, tc_calendar *c, const tc_hours *hours)
{
	slot *day = TC_NEW(arena, slot);
	for (uint32_t i = 0; i < hours->dateds; i++)
		if (hours->dated[i].to > 0)
			return true;
	if (!day)
		return false;
	*day = (slot){0, TC_DAY_MINUTES};
	for (unsigned i = 0; i < 7; i++)
		c->week[i] = (slots){1, day};
	c->idle = false;
	return true;
}

static bool make_odd_days(tc_arena *arena, tc_calendar *c, const tc_hours *hours)
{
	odd_day *odd = TC_ARRAY(arena, hours->dateds, odd_day);
	slot *room = TC_ARRAY(arena, hours->dateds, slot);
	if (!odd || !room)
		return false;
	for (uint32_t i = 0; i < hours->dateds; i++) {
		const tc_dated *d = &hours->dated[i];
		const int32_t day = tc_date_number(d->date);
		if (c->odds == 0 || odd[c->odds - 1].day != day)
			odd[c->odds++] = (odd_day){.day = day, .slots = {0, &room[i]}};
		odd_day *made = &odd[c->odds - 1];
		if (d->to > 0) /* each has room for those of its day that come after it */
			made->slots.count = insert((slot *)made->slots.slot, made->slots.count, (slot){d->from, d->to});
	}
	c->odd = odd;
	return true;
}

/* How far the sessions of an ordinary week go on from the first one of a day, in minutes from 00:00 of that day; at most two
 * weeks. */
static uint32_t reach(const tc_calendar *c, unsigned first, uint32_t from, uint32_t to)
{
	for (uint32_t day = 0; day < 14; day++) {
		const slots *s = &c->week[(first + day) % 7];
		for (uint32_t i = 0; i < s->count; i++) {
			const uint32_t begins = day * TC_DAY_MINUTES + s->slot[i].from;
			const uint32_t ends = day * TC_DAY_MINUTES + s->slot[i].to;
			if (begins >= from && begins <= to && ends > to)
				to = ends;
		}
	}
	return to;
}

/* The longest session of an ordinary week, s, and whether a week has no gap at all. */
static double measure_week(tc_calendar *c)
{
	uint32_t longest = 0;
	for (unsigned day = 0; day < 7; day++)
		for (uint32_t i = 0; i < c->week[day].count; i++) {
			const slot s = c->week[day].slot[i];
			const uint32_t length = reach(c, day, s.from, s.to) - s.from;
			longest = length > longest ? length : longest;
		}
	c->seamless = longest >= 7 * TC_DAY_MINUTES;
	return longest * 60.0;
}

/* Keeps a session that is longer than all usual ones, in order. */
static void add_rare(tc_calendar *c, tc_span span)
{
	uint32_t at = c->rares;
	while (at > 0 && c->rare[at - 1].from > span.from)
		at--;
	if (!(span.to - span.from > c->usual) || (at > 0 && c->rare[at - 1].from == span.from))
		return;
	for (uint32_t i = c->rares++; i > at; i--)
		c->rare[i] = c->rare[i - 1];
	c->rare[at] = span;
}

/* Longer than usual are sessions over an hour that comes twice, and those with a day that is said by its date. */
static bool measure(tc_arena *arena, tc_calendar *c, const tc_hours *hours)
{
	const double week = measure_week(c);
	c->usual = c->seamless ? TC_TIME_MAX : week;
	c->rare = TC_ARRAY(arena, c->zone->count + hours->dateds, tc_span);
	if (!c->rare)
		return false;
	for (uint32_t i = 0; i < c->odds; i++) {
		const view d = look_at(c, c->odd[i].day);
		for (uint32_t j = 0; j < d.slots->count; j++) {
			const stretch one = stretch_of(c, &d, j);
			if (counts(c, one))
				add_rare(c, grow(c, d.number, one));
		}
	}
	for (uint32_t i = 1; i < c->zone->count; i++) {
		tc_span span;
		if (c->zone->row[i].offset < c->zone->row[i - 1].offset &&
		    tc_calendar_session(c, (double)(c->zone->row[i].from - c->origin), &span))
			add_rare(c, span);
	}
	return true;
}

static bool make_hours(tc_arena *arena, tc_calendar *c, const tc_hours *hours)
{
	if (!make_week(arena, c, hours) || !make_odd_days(arena, c, hours))
		return false;
	if (hours->weeklies == 0 && !open_week(arena, c, hours))
		return false;
	return measure(arena, c, hours);
}

/* Years before and after what is needed of a zone. */
#define MARGIN (366 * (int64_t)TC_DAY_SECONDS)

static void refuse_zone(tc_arena *arena, const char *name, tc_place place, tc_status status, tc_diags *diags)
{
	const char *near = status == TC_BAD ? tc_zone_nearest(arena, name) : NULL;
	if (near)
		tc_diag_add(diags, TC_ERROR, "unknown-zone", place, "no time zone `%s` is known here; `%s` is near",
		    name, near);
	else if (status == TC_BAD)
		tc_diag_add(diags, TC_ERROR, "unknown-zone", place,
		    "no time zone `%s` is known here; write its IANA name, such as `Etc/UTC`", name);
	else
		tc_diag_add(diags, TC_ERROR, "unknown-zone", place,
		    "this machine has no database of time zones to look up `%s` in; install the package tzdata, or "
		    "leave the "
		    "zone out",
		    name);
}

static tc_status make_clock(tc_arena *arena, tc_calendar *c, const tc_recipe *recipe, const char *name, tc_wall start,
    bool wished, tc_diags *diags)
{
	const int64_t wall = (int64_t)tc_date_number(start.date) * TC_DAY_SECONDS + start.minute * 60;
	const tc_status status =
	    tc_zone_new(arena, name, wall - MARGIN, wall + (int64_t)TC_TIME_MAX + MARGIN, &c->zone);
	if (status == TC_BAD || status == TC_SYSTEM) {
		refuse_zone(arena, name, wished ? (tc_place){0} : recipe->times.zone_place, status, diags);
		return tc_arena_failed(arena) ? TC_NO_MEMORY : TC_BAD;
	}
	if (status != TC_OK)
		return status;
	c->origin = tc_zone_utc(c->zone, wall);
	c->first = day_of(c, c->origin) - 3;
	c->last = day_of(c, c->origin + (int64_t)TC_TIME_MAX);
	return TC_OK;
}

tc_status tc_calendar_new(tc_arena *arena, const tc_recipe *recipe, const tc_calendar_wish *wish, tc_date today,
    tc_diags *diags, const tc_calendar **calendar)
{
	const tc_times *times = &recipe->times;
	const bool zone_wished = wish && wish->zone, start_wished = wish && wish->start;
	const char *zone = zone_wished ? wish->zone : times->zone;
	const bool has_start = start_wished || times->has_start;
	tc_wall start = start_wished ? *wish->start : times->start;
	tc_calendar *c = TC_NEW(arena, tc_calendar);
	*calendar = NULL;
	if (!c)
		return TC_NO_MEMORY;
	if (!has_start)
		start = (tc_wall){.date = today};
	const tc_status status = make_clock(arena, c, recipe, zone, start, zone_wished, diags);
	if (status != TC_OK)
		return status;
	c->facts = (tc_calendar_facts){.has_start = has_start,
	    .start_assumed = !has_start && times->hours.said,
	    .has_sessions = times->hours.said,
	    .floating = !zone,
	    .zone = zone};
	if (times->hours.said && !make_hours(arena, c, &times->hours))
		return TC_NO_MEMORY;
	*calendar = c;
	return TC_OK;
}
