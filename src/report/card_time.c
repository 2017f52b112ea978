/* The card's words: moments, durations, the head. */
#include <math.h>

#include "base/diag.h"
#include "report/card_words.h"

#define DAY 86400.0

const tc_judgement *tc_card_judgement(const tc_plan *plan)
{
	return plan->timed ? plan->timed : plan->written;
}

bool tc_card_has_times(const tc_plan *plan)
{
	return plan->table->state == TC_TABLE_FOUND;
}

bool tc_card_has_dates(const tc_plan *plan)
{
	const tc_calendar_facts facts = tc_calendar_say(plan->table->calendar);
	return facts.has_start || facts.start_assumed;
}

void tc_card_cut(tc_buffer *buffer, size_t length)
{
	if (buffer->failed || length >= buffer->length)
		return;
	buffer->length = length;
	buffer->at[length] = '\0';
}

void tc_card_plain(tc_buffer *out, const char *text)
{
	const tc_text t = tc_text_of(text);
	for (size_t from = 0; from < t.length;) {
		size_t end = from;
		while (end < t.length && t.at[end] != '\n' && t.at[end] != '\r' && t.at[end] != '\t')
			end++;
		tc_text_visible(out, (tc_text){t.at + from, end - from});
		if (end < t.length)
			tc_buffer_char(out, ' ');
		from = end + 1;
	}
}

/* --- moments ------------------------------------------------------------------------------------------------------ */

/* Whole minutes, so that 18:29:59.99 is 18:30. */
static double to_minute(double at)
{
	return floor((at + 30) / 60) * 60;
}

static tc_civil civil_of(const tc_plan *plan, double at)
{
	return tc_calendar_civil(plan->table->calendar, to_minute(at));
}

static unsigned long day_number(double at)
{
	return (unsigned long)floor(to_minute(at) / DAY) + 1;
}

void tc_card_day(const tc_plan *plan, double at, tc_buffer *out)
{
	static const char *const days[] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
	static const char *const months[] = {
	    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
	if (!isfinite(at))
		return;
	if (!tc_card_has_dates(plan)) {
		tc_buffer_print(out, "day %lu", day_number(at));
		return;
	}
	const tc_civil c = civil_of(plan, at);
	tc_buffer_print(
	    out, "%s %u %s %d", days[c.weekday % 7], (unsigned)c.day, months[(c.month + 11) % 12], (int)c.year);
}

void tc_card_clock(const tc_plan *plan, double at, tc_buffer *out)
{
	if (!isfinite(at))
		return;
	if (tc_card_has_dates(plan)) {
		const tc_civil c = civil_of(plan, at);
		tc_buffer_print(out, "%02u:%02u", (unsigned)c.hour, (unsigned)c.minute);
		return;
	}
	const double minutes = fmod(to_minute(at), DAY) / 60, hours = floor(minutes / 60);
	tc_buffer_print(out, "+%.0f:%02.0f", hours, minutes - hours * 60);
}

bool tc_card_same_day(const tc_plan *plan, double a, double b)
{
	if (!isfinite(a) || !isfinite(b))
		return false;
	if (!tc_card_has_dates(plan))
		return day_number(a) == day_number(b);
	const tc_civil x = civil_of(plan, a), y = civil_of(plan, b);
	return x.year == y.year && x.month == y.month && x.day == y.day;
}

void tc_card_moment(const tc_plan *plan, double at, double beside, tc_buffer *out)
{
	if (!isfinite(at))
		return;
	if (!tc_card_same_day(plan, at, beside)) {
		tc_card_day(plan, at, out);
		tc_buffer_char(out, ' ');
	}
	tc_card_clock(plan, at, out);
}

static void add_offset(const tc_civil *c, tc_buffer *out)
{
	const int32_t offset = c->utc_offset, size = offset < 0 ? -offset : offset;
	if (!c->zone)
		return;
	tc_buffer_print(out, "%c%02d:%02d", offset < 0 ? '-' : '+', (int)(size / 3600), (int)(size / 60 % 60));
	if (size % 60)
		tc_buffer_print(out, ":%02d", (int)(size % 60));
}

void tc_card_iso(const tc_plan *plan, double at, tc_buffer *out)
{
	if (!isfinite(at))
		return;
	if (tc_card_has_dates(plan)) {
		const tc_civil c = tc_calendar_civil(plan->table->calendar, floor(at + 0.5));
		tc_buffer_print(out, "%04d-%02u-%02uT%02u:%02u:%02u", (int)c.year, (unsigned)c.month, (unsigned)c.day,
		    (unsigned)c.hour, (unsigned)c.minute, (unsigned)c.second);
		add_offset(&c, out);
		return;
	}
	const double seconds = floor(at + 0.5), hours = floor(seconds / 3600), rest = seconds - hours * 3600;
	tc_buffer_print(out, "PT%.0fH%.0fM", hours, floor(rest / 60));
	if (fmod(rest, 60) > 0)
		tc_buffer_print(out, "%.0fS", fmod(rest, 60));
}

/* --- the head ----------------------------------------------------------------------------------------------------- */

void tc_card_begins(const tc_plan *plan, tc_buffer *out)
{
	const tc_calendar_facts facts = tc_calendar_say(plan->table->calendar);
	if (!facts.has_start && !facts.start_assumed) {
		tc_buffer_puts(out, "whenever you like; days, hours and minutes count from then");
		return;
	}
	double first = 0;
	if (tc_card_has_times(plan) && plan->table->tasks)
		first = plan->table->task[0].start;
	tc_card_moment(plan, first, NAN, out);
	if (facts.zone)
		tc_buffer_print(out, " (%s)", facts.zone);
	else
		tc_buffer_puts(out, " (by the clock on the wall, no time zone)");
	if (facts.start_assumed)
		tc_buffer_puts(out, "; the recipe says no start, so its hours were counted from today");
}

void tc_card_ready(const tc_plan *plan, tc_buffer *out)
{
	const tc_timetable *table = plan->table;
	if (!tc_card_has_times(plan))
		return;
	tc_buffer_puts(out, "last work done ");
	tc_card_moment(plan, table->end, NAN, out);
	if (isfinite(plan->ready)) {
		tc_buffer_puts(out, "; dry all through ");
		tc_card_moment(plan, plan->ready, table->end, out);
	} else if (isinf(plan->ready)) {
		tc_buffer_puts(out, "; some layer never dries all through as planned");
	} else {
		tc_buffer_puts(out, "; when all is dry is not known");
	}
}

static void add_figure(const char *lead, tc_value value, tc_type type, tc_dim dim, const char *trail, tc_buffer *out)
{
	if (!tc_known(value))
		return;
	tc_buffer_puts(out, lead);
	tc_quantity_print(out, type, dim, value.number, 3, NULL);
	tc_buffer_puts(out, trail);
	if (value.state == TC_ASSUMED)
		tc_buffer_puts(out, " (assumed)");
}

void tc_card_weather(const tc_plan *plan, tc_buffer *out)
{
	const tc_model *m = tc_card_judgement(plan)->model;
	add_figure("", m->temperature, TC_T_TEMPERATURE, TC_DIM_NONE, "", out);
	add_figure(", ", m->humidity, TC_T_SHARE, TC_DIM_NONE, " humidity", out);
	add_figure(", air across the work ", m->air_speed, TC_T_NUMBER, TC_DIM_SPEED, "", out);
}

/* --- verdict ------------------------------------------------------------------------------------------------------ */

tc_verdict tc_card_weight(const tc_plan *plan)
{
	const tc_judgement *judgement = tc_card_judgement(plan);
	tc_verdict weight = judgement->unused ? TC_V_WARNING : TC_V_NOTE;
	if (!tc_card_has_times(plan) || judgement->bounded)
		return TC_V_ERROR;
	for (uint32_t i = 0; i < judgement->findings; i++)
		if (!judgement->finding[i].accept && judgement->finding[i].weight > weight)
			weight = judgement->finding[i].weight;
	return weight;
}

static void add_findings(const tc_judgement *judgement, tc_buffer *out)
{
	tc_groups groups;
	tc_arena *arena = tc_arena_new(out->from, 0);
	if (arena && tc_groups_make(arena, judgement, &groups))
		tc_words_summary(&groups.summary, TC_V_ERROR, 0, true, out);
	else
		out->failed = true;
	tc_arena_free(arena);
}

/* Does the timetable take away what is wrong with the recipe as written? */
static bool was_worse(const tc_plan *plan)
{
	const tc_timetable *table = plan->table;
	bool asked = false;
	for (uint32_t i = 0; i < table->bounds; i++)
		asked = asked || table->bound[i].kind == TC_BOUND_RULE;
	return plan->timed && asked && plan->written->summary.errors > plan->timed->summary.errors;
}

void tc_card_verdict(const tc_plan *plan, tc_buffer *out)
{
	const tc_judgement *judgement = tc_card_judgement(plan);
	if (judgement->bounded) {
		tc_buffer_puts(out, "the recipe's bound on evaluation was hit: nothing can be said of it");
		return;
	}
	if (plan->table->state == TC_TABLE_UNKNOWN)
		tc_buffer_puts(out, "no timetable: it has more windows than could be tried; judged as written — ");
	else if (!tc_card_has_times(plan))
		tc_buffer_puts(
		    out, "no timetable: not all that is asked of the times can be kept; judged as written — ");
	else
		tc_buffer_puts(out, "there is a timetable; judged at its times — ");
	add_findings(judgement, out);
	tc_card_verdict_rest(plan, out);
}

void tc_card_verdict_rest(const tc_plan *plan, tc_buffer *out)
{
	if (tc_card_has_times(plan) && !plan->table->earliest)
		tc_buffer_puts(out, "; with so many windows there may be an earlier one");
	if (tc_card_has_times(plan) && !plan->settled)
		tc_buffer_puts(out, "; the rules would still have other times");
	if (was_worse(plan)) {
		tc_buffer_puts(out, ". With the waits as they are written: ");
		add_findings(plan->written, out);
		tc_buffer_puts(out, "; so the timetable waits as the rules ask");
	}
}
