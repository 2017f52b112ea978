/* Content lines of iCalendar (RFC 5545, 3.1 and 3.3). */
#include <math.h>

#include "base/diag.h"
#include "report/card_ical.h"

#define LINE_MAX 75u /* octets of a line without its end (RFC 5545, 3.1) */

/* --- lines -------------------------------------------------------------------------------------------------------- */

/* Folds a whole line; the blank that begins each further one counts. */
static void add_folded(tc_buffer *out, tc_text line)
{
	size_t used = 0;
	for (size_t at = 0; at < line.length;) {
		uint32_t point;
		const size_t bytes = tc_utf8_next(line.at + at, line.length - at, &point);
		if (used + bytes > LINE_MAX) {
			tc_buffer_puts(out, "\r\n ");
			used = 1;
		}
		tc_buffer_add(out, (tc_text){line.at + at, bytes});
		used += bytes;
		at += bytes;
	}
	tc_buffer_puts(out, "\r\n");
}

static void add_line(tc_buffer *out, tc_buffer *line)
{
	out->failed = out->failed || line->failed;
	if (!line->failed)
		add_folded(out, (tc_text){tc_words_text(line), line->length});
	tc_buffer_free(line);
}

void tc_ical_line(tc_buffer *out, const char *name, const char *value)
{
	tc_buffer line;
	tc_buffer_start(&line, out->from);
	tc_buffer_print(&line, "%s:%s", name, value);
	add_line(out, &line);
}

/* --- text --------------------------------------------------------------------------------------------------------- */

/* Without line ends: what stands for itself, and what needs a backslash. */
static void add_escaped(tc_buffer *line, tc_text text)
{
	for (size_t i = 0; i < text.length; i++) {
		if (text.at[i] == '\\' || text.at[i] == ';' || text.at[i] == ',')
			tc_buffer_char(line, '\\');
		tc_buffer_char(line, text.at[i]);
	}
}

static size_t line_end(tc_text text, size_t from)
{
	while (from < text.length && text.at[from] != '\n')
		from++;
	return from;
}

void tc_ical_text(tc_buffer *out, const char *name, const char *value)
{
	const tc_text text = tc_text_of(value);
	tc_buffer line, plain;
	tc_buffer_start(&line, out->from);
	tc_buffer_start(&plain, out->from);
	tc_buffer_print(&line, "%s:", name);
	for (size_t from = 0; from < text.length;) {
		const size_t end = line_end(text, from);
		plain.length = 0;
		tc_text_visible(&plain, (tc_text){text.at + from, end - from});
		add_escaped(&line, (tc_text){tc_words_text(&plain), plain.failed ? 0 : plain.length});
		if (end < text.length)
			tc_buffer_puts(&line, "\\n");
		from = end + 1;
	}
	line.failed = line.failed || plain.failed;
	tc_buffer_free(&plain);
	add_line(out, &line);
}

/* --- times -------------------------------------------------------------------------------------------------------- */

static bool same_wall(const tc_civil *a, const tc_civil *b)
{
	return a->year == b->year && a->month == b->month && a->day == b->day && a->hour == b->hour &&
	       a->minute == b->minute && a->second == b->second;
}

/* Does the clock on the wall show this also at another moment, so far before or after? No clock is set back by more than some
 * hours. */
static bool shown_again(const tc_calendar *calendar, double at, const tc_civil *now, double away)
{
	const tc_civil far = tc_calendar_civil(calendar, at + away);
	if (away < 0 ? far.utc_offset <= now->utc_offset : far.utc_offset >= now->utc_offset)
		return false;
	const tc_civil other = tc_calendar_civil(calendar, at + (now->utc_offset - far.utc_offset));
	return other.utc_offset == far.utc_offset && same_wall(&other, now);
}

static bool is_twice(const tc_calendar *calendar, double at, const tc_civil *now)
{
	const double look = 6 * 3600;
	return shown_again(calendar, at, now, -look) || shown_again(calendar, at, now, look);
}

void tc_ical_moment(tc_buffer *out, const char *name, const tc_plan *plan, double at)
{
	const double whole = floor(at + 0.5);
	tc_civil c = tc_calendar_civil(plan->table->calendar, whole);
	const char *zone = tc_calendar_say(plan->table->calendar).zone, *end = "";
	tc_buffer line;
	tc_buffer_start(&line, out->from);
	tc_buffer_puts(&line, name);
	if (zone && is_twice(plan->table->calendar, whole, &c)) {
		c = tc_calendar_utc(plan->table->calendar, whole);
		end = "Z";
	} else if (zone) {
		tc_buffer_print(&line, ";TZID=%s", zone);
	}
	tc_buffer_print(&line, ":%04d%02u%02uT%02u%02u%02u%s", (int)c.year, (unsigned)c.month, (unsigned)c.day,
	    (unsigned)c.hour, (unsigned)c.minute, (unsigned)c.second, end);
	add_line(out, &line);
}

void tc_ical_duration(tc_buffer *out, double seconds)
{
	const double whole = floor(fabs(seconds) + 0.5), hours = floor(whole / 3600),
	             minutes = floor(fmod(whole, 3600) / 60), rest = fmod(whole, 60);
	tc_buffer_puts(out, seconds < 0 && whole > 0 ? "-PT" : "PT");
	if (hours > 0)
		tc_buffer_print(out, "%.0fH", hours);
	if (minutes > 0 || (hours > 0 && rest > 0)) /* no field is left out between two others */
		tc_buffer_print(out, "%.0fM", minutes);
	if (rest > 0 || whole == 0)
		tc_buffer_print(out, "%.0fS", rest);
}
