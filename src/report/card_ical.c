/*
 * The plan as iCalendar (RFC 5545). What a person wants of a calendar is when to be at the bench, so tasks that follow one
 * another, with pauses that one waits out beside the work (the rulebook's stand_by), are one event; a long bath or lamp is one
 * event where it begins and one where it ends. Where a window, an age or a pot life closes on a task, there is a reminder:
 * within the event, or, where it closes later than one stays at the bench, an event of its own at the last moment, which takes
 * no time of the day.
 */
#include <math.h>
#include <string.h>

#include "report/card.h"
#include "report/card_hands.h"
#include "report/card_ical.h"

#define TITLE_MAX 60u /* characters of the title in a heading */
#define NAMED 3u      /* tasks that a heading names */

typedef struct book {
	const tc_plan *plan;
	tc_buffer *out, text; /* text: scratch */
	const char *title;    /* cut */
	uint64_t key;         /* of the recipe */
	double stamp, stand_by;
	tc_hands hands;
} book;

static const tc_task *task_of(const book *b, const tc_hand *h)
{
	return &b->plan->table->task[h->task];
}

/* --- when hands are needed ----------------------------------------------------------------------------------------- */

/* The one behind the last that belongs to the event that begins with `first`; when that ends. */
static uint32_t run_end(const book *b, uint32_t first, double *until)
{
	uint32_t next = first + 1;
	*until = b->hands.at[first].to;
	for (; next < b->hands.count && b->hands.at[next].from <= *until + b->stand_by; next++)
		if (b->hands.at[next].to > *until)
			*until = b->hands.at[next].to;
	return next;
}

/* --- texts -------------------------------------------------------------------------------------------------------- */

static void put_text(book *b, const char *name)
{
	tc_ical_text(b->out, name, tc_words_text(&b->text));
	b->text.length = 0;
}

static void add_line_with(
    book *b, const char *lead, void (*add)(const tc_plan *, const tc_task *, tc_buffer *), const tc_task *task)
{
	const size_t from = b->text.length;
	tc_buffer_puts(&b->text, lead);
	const size_t begun = b->text.length;
	add(b->plan, task, &b->text);
	if (b->text.length == begun)
		tc_card_cut(&b->text, from);
	else
		tc_buffer_char(&b->text, '\n');
}

static void add_cups(book *b, uint32_t task)
{
	const tc_supply *supply = b->plan->supply;
	for (uint32_t i = 0; i < supply->cups; i++) {
		if (supply->cup[i].task != task)
			continue;
		tc_buffer_puts(&b->text, "    cup: ");
		tc_card_cup(&supply->cup[i], &b->text);
		tc_buffer_char(&b->text, '\n');
	}
}

static void add_hand(book *b, const tc_hand *h)
{
	const tc_task *task = task_of(b, h);
	tc_card_clock(b->plan, h->from, &b->text);
	tc_buffer_print(
	    &b->text, " step %u: %s", (unsigned)task->step->number, h->kind == TC_HAND_END ? "end of: " : "");
	tc_card_task(b->plan, task, &b->text);
	const size_t from = b->text.length;
	tc_buffer_puts(&b->text, " (");
	tc_card_takes(task, &b->text);
	if (b->text.length == from + 2)
		tc_card_cut(&b->text, from);
	else
		tc_buffer_puts(&b->text, ")");
	tc_buffer_char(&b->text, '\n');
	if (h->kind == TC_HAND_END)
		return;
	add_cups(b, h->task);
	add_line_with(b, "    ", tc_card_latest, task);
}

static bool matters(const book *b, const tc_caution_use *use, uint32_t first, uint32_t end)
{
	if (use->steps == 0)
		return true;
	for (uint32_t i = first; i < end; i++)
		if (tc_card_caution_at(use, task_of(b, &b->hands.at[i])->step->number))
			return true;
	return false;
}

/* The cautions of these steps and of the whole plan, in full. */
static void add_cautions(book *b, uint32_t first, uint32_t end)
{
	const tc_judgement *judgement = tc_card_judgement(b->plan);
	tc_buffer_puts(&b->text, "\nTake care:\n");
	for (uint32_t i = 0; i < judgement->cautions; i++)
		if (matters(b, &judgement->caution[i], first, end))
			tc_buffer_print(&b->text, "! %s\n", judgement->caution[i].caution->says);
}

static void add_summary(book *b, uint32_t first, uint32_t end)
{
	tc_buffer_print(&b->text, "%s: ", b->title);
	for (uint32_t i = first; i < end && i < first + NAMED; i++) {
		tc_buffer_puts(&b->text, i > first ? ", " : "");
		tc_buffer_puts(&b->text, b->hands.at[i].kind == TC_HAND_END ? "end of " : "");
		tc_card_task_short(b->plan, task_of(b, &b->hands.at[i]), &b->text);
	}
	if (end - first > NAMED)
		tc_buffer_print(&b->text, " and %u more", (unsigned)(end - first - NAMED));
	put_text(b, "SUMMARY");
}

/* --- events ------------------------------------------------------------------------------------------------------- */

static void add_stamp(book *b)
{
	const double days = floor(b->stamp / TC_DAY_SECONDS);
	const tc_date date = tc_date_of((int32_t)days);
	const unsigned rest = (unsigned)(b->stamp - days * TC_DAY_SECONDS);
	tc_buffer_print(&b->text, "%04d%02u%02uT%02u%02u%02uZ", (int)date.year, (unsigned)date.month,
	    (unsigned)date.day, rest / 3600, rest / 60 % 60, rest % 60);
	tc_ical_line(b->out, "DTSTAMP", tc_words_text(&b->text));
	b->text.length = 0;
}

/* The same for each run of the program as long as recipe, step and pass are the same. */
static void begin_event(book *b, const tc_task *task, const char *kind)
{
	tc_ical_line(b->out, "BEGIN", "VEVENT");
	tc_buffer_print(&b->text, "%016llx-step-%u-pass-%u-%s@tiecoat", (unsigned long long)b->key,
	    (unsigned)task->step->number, (unsigned)task->pass, kind);
	put_text(b, "UID");
	add_stamp(b);
}

/* A reminder, so far from the event's beginning. */
static void add_alarm(book *b, const tc_task *task, double trigger)
{
	tc_ical_line(b->out, "BEGIN", "VALARM");
	tc_ical_line(b->out, "ACTION", "DISPLAY");
	tc_ical_duration(&b->text, trigger);
	tc_ical_line(b->out, "TRIGGER", tc_words_text(&b->text));
	b->text.length = 0;
	tc_card_task_short(b->plan, task, &b->text);
	tc_buffer_puts(&b->text, ": ");
	tc_card_latest(b->plan, task, &b->text);
	put_text(b, "DESCRIPTION");
	tc_ical_line(b->out, "END", "VALARM");
}

static bool closes(const tc_task *task)
{
	return task->closed_by != TC_NONE && isfinite(task->latest) && task->latest >= task->start;
}

/* Does it close later than one stays at the bench? */
static bool closes_later(const book *b, const tc_task *task)
{
	return closes(task) && task->latest - task->start > b->stand_by;
}

static void add_alarms(book *b, uint32_t first, uint32_t end)
{
	for (uint32_t i = first; i < end; i++) {
		const tc_task *task = task_of(b, &b->hands.at[i]);
		if (b->hands.at[i].kind != TC_HAND_END && closes(task) && !closes_later(b, task))
			add_alarm(b, task, tc_card_alarm(b->plan, task) - b->hands.at[first].from);
	}
}

static void add_run(book *b, uint32_t first, uint32_t end, double until)
{
	static const char *const kinds[] = {[TC_HAND_WORK] = "work", [TC_HAND_BEGIN] = "begin", [TC_HAND_END] = "end"};
	const tc_hand *h = &b->hands.at[first];
	begin_event(b, task_of(b, h), kinds[h->kind]);
	tc_ical_moment(b->out, "DTSTART", b->plan, h->from);
	if (floor(until + 0.5) > floor(h->from + 0.5))
		tc_ical_moment(b->out, "DTEND", b->plan, until);
	add_summary(b, first, end);
	for (uint32_t i = first; i < end; i++)
		add_hand(b, &b->hands.at[i]);
	add_cautions(b, first, end);
	tc_buffer_char(&b->text, '\n');
	tc_card_verdict(b->plan, &b->text);
	put_text(b, "DESCRIPTION");
	add_alarms(b, first, end);
	tc_ical_line(b->out, "END", "VEVENT");
}

/* The last moment of a task, as a mark in the day. */
static void add_last_call(book *b, uint32_t index)
{
	const tc_task *task = task_of(b, &b->hands.at[index]);
	begin_event(b, task, "latest");
	tc_ical_moment(b->out, "DTSTART", b->plan, task->latest);
	tc_ical_line(b->out, "TRANSP", "TRANSPARENT");
	tc_buffer_print(&b->text, "%s: last moment for ", b->title);
	tc_card_task_short(b->plan, task, &b->text);
	put_text(b, "SUMMARY");
	tc_buffer_print(&b->text, "step %u: ", (unsigned)task->step->number);
	tc_card_task(b->plan, task, &b->text);
	tc_buffer_char(&b->text, '\n');
	add_line_with(b, "", tc_card_latest, task);
	add_cautions(b, index, index + 1);
	put_text(b, "DESCRIPTION");
	add_alarm(b, task, tc_card_alarm(b->plan, task) - task->latest);
	tc_ical_line(b->out, "END", "VEVENT");
}

static void add_events(book *b)
{
	double until;
	for (uint32_t first = 0, end; first < b->hands.count; first = end) {
		end = run_end(b, first, &until);
		add_run(b, first, end, until);
	}
	for (uint32_t i = 0; i < b->hands.count; i++)
		if (b->hands.at[i].kind != TC_HAND_END && closes_later(b, task_of(b, &b->hands.at[i])))
			add_last_call(b, i);
}

/* --- the calendar ------------------------------------------------------------------------------------------------- */

static double last_moment(const book *b)
{
	double last = b->plan->table->end;
	for (uint32_t i = 0; i < b->plan->table->tasks; i++)
		if (closes(&b->plan->table->task[i]) && b->plan->table->task[i].latest > last)
			last = b->plan->table->task[i].latest;
	return last;
}

/* The first characters of a title, on one line; `most` 0: all. */
static const char *title_of(tc_arena *arena, const tc_recipe *recipe, size_t most)
{
	tc_buffer plain;
	tc_buffer_start(&plain, tc_arena_allocator(arena));
	tc_card_plain(&plain, recipe->title && *recipe->title ? recipe->title : "untitled");
	const tc_text t = {tc_words_text(&plain), plain.failed ? 0 : plain.length};
	size_t end = 0, count = 0;
	uint32_t point;
	while (end < t.length && (most == 0 || count++ < most))
		end += tc_utf8_next(t.at + end, t.length - end, &point);
	const char *copy =
	    plain.failed ? NULL : tc_arena_print(arena, "%.*s%s", (int)end, t.at, end < t.length ? "…" : "");
	tc_buffer_free(&plain);
	return copy;
}

/* The recipe by its title and the last name of its file. */
static uint64_t key_of(tc_arena *arena, const tc_recipe *recipe)
{
	const char *file = tc_source_name(recipe->source), *slash = strrchr(file, '/');
	const char *whole =
	    tc_arena_print(arena, "%s\n%s", slash ? slash + 1 : file, recipe->title ? recipe->title : "");
	return tc_text_hash(tc_text_of(whole));
}

static void add_calendar(book *b, const char *name)
{
	tc_ical_line(b->out, "BEGIN", "VCALENDAR");
	tc_ical_line(b->out, "VERSION", "2.0");
	tc_ical_line(b->out, "PRODID", "-//tiecoat//bench card 1//EN");
	tc_ical_line(b->out, "CALSCALE", "GREGORIAN");
	tc_ical_text(b->out, "NAME", name); /* RFC 7986 */
	tc_ical_zone(b->out, b->plan, b->hands.at[0].from, last_moment(b));
	add_events(b);
	tc_ical_line(b->out, "END", "VCALENDAR");
}

tc_status tc_card_ical(const tc_plan *plan, double stamp, tc_buffer *out)
{
	book b = {.plan = plan, .out = out, .stamp = stamp};
	const tc_library *library = tc_card_judgement(plan)->model->library;
	if (!tc_card_has_times(plan) || !tc_card_has_dates(plan) || plan->table->tasks == 0)
		return TC_BAD;
	tc_arena *arena = tc_arena_new(out->from, 0);
	b.title = arena ? title_of(arena, plan->recipe, TITLE_MAX) : NULL;
	const char *name = b.title ? title_of(arena, plan->recipe, 0) : NULL;
	b.stand_by = tc_library_default(library, TC_D_STAND_BY)->value.number;
	tc_buffer_start(&b.text, out->from);
	if (name && tc_hands_of(arena, plan->table, &b.hands)) {
		b.key = key_of(arena, plan->recipe);
		add_calendar(&b, name);
	}
	const bool failed = !name || !b.hands.at || tc_arena_failed(arena) || b.text.failed || out->failed;
	tc_buffer_free(&b.text);
	tc_arena_free(arena);
	return failed ? TC_NO_MEMORY : TC_OK;
}
