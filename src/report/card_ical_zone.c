/* A VTIMEZONE of what the plan's calendar knows: the offset at its beginning, and each change of the clocks until its end
 * (RFC 5545, 3.6.5). */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "report/card_ical.h"

#define STRIDE (7 * 86400.0) /* no zone has set its clocks twice within a week and come back */
#define YEAR (366 * 86400.0)

/* A stretch with one offset. */
typedef struct stretch {
	double from;
	int32_t offset, before; /* s ahead of UTC, in it and before it */
	const char *name;
	bool summer;
} stretch;

typedef struct zone {
	tc_arena *arena;
	const tc_calendar *calendar;
	stretch *at;
	uint32_t count, room;
} zone;

static tc_civil civil(const zone *z, double at)
{
	return tc_calendar_civil(z->calendar, at);
}

/* The whole second within low..high at which the offset of `high` begins to hold. */
static double change_in(const zone *z, double low, double high)
{
	const int32_t offset = civil(z, low).utc_offset;
	while (high - low > 1) {
		const double middle = floor((low + high) / 2);
		if (civil(z, middle).utc_offset == offset)
			low = middle;
		else
			high = middle;
	}
	return high;
}

static void add_stretch(zone *z, double from, int32_t before)
{
	const tc_civil c = civil(z, from);
	if (!tc_arena_grow(z->arena, (void **)&z->at, z->count, &z->room, sizeof *z->at))
		return;
	z->at[z->count++] = (stretch){.from = from, .offset = c.utc_offset, .before = before, .name = c.zone};
}

static void find_stretches(zone *z, double from, double to)
{
	add_stretch(z, from, civil(z, from).utc_offset);
	for (double at = from; at < to && z->count; at += STRIDE) {
		const double next = at + STRIDE;
		const int32_t before = civil(z, at).utc_offset;
		if (civil(z, next).utc_offset != before)
			add_stretch(z, change_in(z, at, next), before);
	}
}

/* Summer time is what is ahead of the stretch after it, or else of the one before. */
static void tell_summer(zone *z)
{
	for (uint32_t i = 0; i < z->count; i++) {
		const stretch *beside = i + 1 < z->count ? &z->at[i + 1] : i > 0 ? &z->at[i - 1] : NULL;
		z->at[i].summer = beside && z->at[i].offset > beside->offset;
	}
}

/* --- writing ------------------------------------------------------------------------------------------------------ */

static void add_offset(tc_buffer *out, const char *name, int32_t offset)
{
	const int32_t size = abs(offset);
	char text[16];
	int length = snprintf(
	    text, sizeof text, "%c%02d%02d", offset < 0 ? '-' : '+', (int)(size / 3600), (int)(size / 60 % 60));
	if (size % 60 && length > 0)
		snprintf(text + length, sizeof text - (size_t)length, "%02d", (int)(size % 60));
	tc_ical_line(out, name, text);
}

/* Its beginning as the clock showed it that was in force before. */
static void add_begin(tc_buffer *out, const zone *z, const stretch *s)
{
	const tc_civil utc = tc_calendar_utc(z->calendar, s->from);
	const tc_date day = {.year = utc.year, .month = utc.month, .day = utc.day};
	const int64_t wall =
	    (int64_t)tc_date_number(day) * TC_DAY_SECONDS + utc.hour * 3600 + utc.minute * 60 + utc.second + s->before;
	const int32_t number = (int32_t)(wall / TC_DAY_SECONDS), rest = (int32_t)(wall % TC_DAY_SECONDS);
	const tc_date date = tc_date_of(number);
	char text[32];
	snprintf(text, sizeof text, "%04d%02u%02uT%02d%02d%02d", (int)date.year, (unsigned)date.month,
	    (unsigned)date.day, (int)(rest / 3600), (int)(rest / 60 % 60), (int)(rest % 60));
	tc_ical_line(out, "DTSTART", text);
}

static void add_rows(tc_buffer *out, const zone *z)
{
	for (uint32_t i = 0; i < z->count; i++) {
		const stretch *s = &z->at[i];
		const char *kind = s->summer ? "DAYLIGHT" : "STANDARD";
		tc_ical_line(out, "BEGIN", kind);
		add_begin(out, z, s);
		add_offset(out, "TZOFFSETFROM", s->before);
		add_offset(out, "TZOFFSETTO", s->offset);
		if (s->name)
			tc_ical_text(out, "TZNAME", s->name);
		tc_ical_line(out, "END", kind);
	}
}

void tc_ical_zone(tc_buffer *out, const tc_plan *plan, double from, double to)
{
	const char *name = tc_calendar_say(plan->table->calendar).zone;
	zone z = {.calendar = plan->table->calendar};
	if (!name)
		return;
	z.arena = tc_arena_new(out->from, 0);
	if (z.arena)
		find_stretches(&z, floor(from), ceil(fmax(to, from + YEAR)));
	if (!z.arena || tc_arena_failed(z.arena)) {
		out->failed = true;
		tc_arena_free(z.arena);
		return;
	}
	tell_summer(&z);
	tc_ical_line(out, "BEGIN", "VTIMEZONE");
	tc_ical_text(out, "TZID", name);
	add_rows(out, &z);
	tc_ical_line(out, "END", "VTIMEZONE");
	tc_arena_free(z.arena);
}
