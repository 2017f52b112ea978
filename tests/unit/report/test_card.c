/* The card's forms: their words, what they make of hostile texts, and where memory fails. Figures of moments come from the recipes
 * here; forms are held to RFC 5545 (lines, folding, text) and RFC 4180 by readers of this file's own. */
#include <stdio.h>

#include "../heap.h"
#include "../plan/plan_of.h"
#include "report/card.h"
#include "report/card_words.h"

#define HEAD                                                                                                            \
	"workshop: {temperature: 20 °C, humidity: 50 %, room: 24 m³, currency: EUR, habits: {dust: yes, dry: yes}}\n" \
	"parts: {hull: {substrate: polystyrene, area: 300 cm²}, deck: {substrate: polystyrene, area: 90 cm²}}\n"
#define STACK                                                                                                          \
	"stack:\n"                                                                                                     \
	"  - sand: P1000\n"                                                                                            \
	"  - {coat: grey primer, role: primer, coats: 2, pass: light, flash: 15 min}\n"                                \
	"  - wait: 2 h\n"                                                                                              \
	"  - {coat: lamp black, role: colour, passes: [light, medium, medium], flash: 10 min, "                        \
	"thin: {with: lacquer-thinner, ratio: 2:1}, on: hull}\n"
#define SHELF                                                                                                          \
	"shelf:\n"                                                                                                     \
	"  grey primer: {family: mild-lacquer-primer, recoat: 1 h to 8 h}\n"                                           \
	"  lamp black: {family: acrylic-lacquer, shade: black, size: 60 ml, price: 7.50}\n"

/* 2031-10-26 is when clocks go back in that zone by the rules in force: 02:30 comes twice. */
static const char autumn[] =
    "recipe: Ferry, the long night\nstart: 2031-10-25 23:50\nzone: Europe/Berlin\n" HEAD SHELF STACK;
static const char undated[] = "recipe: Ferry, any day\n" HEAD SHELF STACK;

static const char *words(const tc_buffer *buffer)
{
	assert_false(buffer->failed);
	return tc_words_text(buffer);
}

/* --- words --------------------------------------------------------------------------------------------------------- */

static const tc_task *task_of(const tc_plan *plan, uint32_t step)
{
	for (uint32_t i = 0; i < plan->table->tasks; i++)
		if (plan->table->task[i].step->number == step)
			return &plan->table->task[i];
	fail();
	return NULL;
}

static void says(
    void (*add)(const tc_plan *, const tc_task *, tc_buffer *), const tc_plan *plan, uint32_t step, const char *text)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	add(plan, task_of(plan, step), &out);
	assert_string_equal(words(&out), text);
	tc_buffer_free(&out);
}

static void test_sentences(void **state)
{
	const tc_plan *plan = planned(*state, "ferry.yaml", undated);
	says(tc_card_task, plan, 1, "Sand hull and deck with P1000");
	says(tc_card_task, plan, 2, "Coat hull and deck with grey primer: 2 light passes, 15 min apart");
	says(tc_card_task, plan, 4,
	    "Coat hull with lamp black: 1 light, then 2 medium passes, 10 min apart, thinned 2:1 with lacquer thinner");
	says(tc_card_task_short, plan, 4, "coat lamp black");
}

static void at(void (*add)(const tc_plan *, double, tc_buffer *), const tc_plan *plan, double moment, const char *text)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	add(plan, moment, &out);
	assert_string_equal(words(&out), text);
	tc_buffer_free(&out);
}

static void test_moments(void **state)
{
	const tc_plan *dated = planned(*state, "ferry.yaml", autumn), *free_ = planned(*state, "ferry.yaml", undated);
	assert_true(tc_card_has_dates(dated));
	assert_false(tc_card_has_dates(free_));
	/* 2031-10-25 is a Saturday (ISO 8601); 23:50 + 10 min is the next day */
	at(tc_card_day, dated, 0, "Sat 25 Oct 2031");
	at(tc_card_day, dated, 600, "Sun 26 Oct 2031");
	at(tc_card_clock, dated, 599.99, "00:00");
	/* 2 h 50 min later it is 02:40 in summer time, an hour after that 02:40 again */
	at(tc_card_iso, dated, 10200, "2031-10-26T02:40:00+02:00");
	at(tc_card_iso, dated, 13800, "2031-10-26T02:40:00+01:00");
	at(tc_card_day, free_, 90000, "day 2");
	at(tc_card_clock, free_, 90000, "+1:00");
	at(tc_card_iso, free_, 90000, "PT25H0M");
	at(tc_card_clock, free_, (double)NAN, "");
	assert_false(tc_card_same_day(dated, 0, 600));
	assert_true(tc_card_same_day(free_, 0, 86399 - 30));
}

static void test_begins(void **state)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_card_begins(planned(*state, "ferry.yaml", autumn), &out);
	assert_string_equal(words(&out), "Sat 25 Oct 2031 23:50 (Europe/Berlin)");
	out.length = 0;
	const char hours[] = "recipe: Ferry\nsessions: 19:00 to 22:00\n" HEAD SHELF STACK;
	tc_card_begins(planned(*state, "ferry.yaml", hours), &out); /* today is 2031-05-14, in plan_of.h */
	assert_non_null(strstr(words(&out), "Wed 14 May 2031 19:00"));
	assert_non_null(strstr(words(&out), "says no start"));
	tc_buffer_free(&out);
}

/* --- a reader of iCalendar ------------------------------------------------------------------------------------------- */

/* Takes the folds out of a calendar and holds each line to RFC 5545, 3.1. */
static char *unfold(const tc_buffer *out)
{
	char *text = calloc(out->length + 1, 1), *to = text;
	assert_non_null(text);
	for (size_t from = 0; from < out->length;) {
		const char *line = out->at + from, *end = strstr(line, "\r\n");
		assert_non_null(end);
		const size_t length = (size_t)(end - line);
		assert_true(length > 0 && length <= 75);
		assert_int_equal(tc_utf8_bad(line, length), length); /* no character is parted */
		for (size_t i = 0; i < length; i++)
			assert_true((unsigned char)line[i] >= 0x20 && line[i] != 0x7F);
		if (from && *line == ' ')
			to[-1] = '\0', to--; /* joins it to the line before */
		memcpy(to, line + (from && *line == ' '), length - (from && *line == ' '));
		to += length - (from && *line == ' ');
		*to++ = '\n';
		from += length + 2;
	}
	return text;
}

static unsigned count_of(const char *text, const char *what)
{
	unsigned count = 0;
	for (const char *found = strstr(text, what); found; found = strstr(found + 1, what))
		count++;
	return count;
}

static char *calendar_of(const tc_plan *plan)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	assert_int_equal(tc_card_ical(plan, 1e9, &out), TC_OK);
	char *text = unfold(&out);
	tc_buffer_free(&out);
	return text;
}

static void test_calendar(void **state)
{
	char *text = calendar_of(planned(*state, "ferry.yaml", autumn));
	assert_true(strncmp(text, "BEGIN:VCALENDAR\nVERSION:2.0\n", 28) == 0);
	assert_non_null(strstr(text, "\nDTSTAMP:20010909T014640Z\n")); /* 10^9 s since 1970 (POSIX) */
	assert_int_equal(count_of(text, "BEGIN:VEVENT\n"), count_of(text, "END:VEVENT\n"));
	assert_int_equal(count_of(text, "BEGIN:VEVENT\n"), count_of(text, "\nUID:"));
	assert_int_equal(count_of(text, "BEGIN:VALARM\n"), count_of(text, "TRIGGER:"));
	/* in this zone clocks go back at 03:00 summer time on the last Sunday of October (directive 2000/84/EC) */
	assert_non_null(
	    strstr(text, "BEGIN:STANDARD\nDTSTART:20311026T030000\nTZOFFSETFROM:+0200\nTZOFFSETTO:+0100\n"));
	assert_non_null(
	    strstr(text, "BEGIN:DAYLIGHT\nDTSTART:20320328T020000\nTZOFFSETFROM:+0100\nTZOFFSETTO:+0200\n"));
	assert_non_null(strstr(text, "\nDTSTART;TZID=Europe/Berlin:20311025T235000\n"));
	char *again = calendar_of(planned(*state, "elsewhere/ferry.yaml", autumn));
	assert_string_equal(strstr(text, "\nUID:"), strstr(again, "\nUID:")); /* the folder is no part of it */
	free(text);
	free(again);
}

/* The second 02:30 of a night can only be told in UTC (RFC 5545, 3.3.5: a time that comes twice means the first), and of the first
 * readers make either. */
static void test_twice(void **state)
{
	static const char text[] =
	    "recipe: Ferry\nstart: 2031-10-26 01:30\nzone: Europe/Berlin\n" HEAD SHELF
	    "stack:\n  - {sand: P1000, takes: 5 min}\n  - wait: 115 min\n  - {sand: P2000, takes: 5 min}\n";
	char *calendar = calendar_of(planned(*state, "ferry.yaml", text));
	assert_non_null(strstr(calendar, "\nDTSTART;TZID=Europe/Berlin:20311026T013000\n"));
	assert_non_null(strstr(calendar, "\nDTSTART:20311026T013000Z\n")); /* 02:30, the second one, is 01:30 UTC */
	free(calendar);
}

static void test_no_calendar(void **state)
{
	static const char never[] =
	    "recipe: Ferry\nstart: 2031-05-12 19:00\nsessions: mon 19:00 to 20:00\n" HEAD SHELF STACK;
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	assert_int_equal(tc_card_ical(planned(*state, "ferry.yaml", undated), 0, &out), TC_BAD);
	const tc_plan *plan = planned(*state, "ferry.yaml", never); /* 1 h to 8 h after Monday there is no session */
	assert_int_equal(plan->table->state, TC_TABLE_CONFLICT);
	assert_int_equal(tc_card_ical(plan, 0, &out), TC_BAD);
	assert_int_equal(out.length, 0);
	assert_int_equal(tc_card_weight(plan), TC_V_ERROR);
	tc_buffer_free(&out);
}

/* --- hostile texts ---------------------------------------------------------------------------------------------------- */

/* What the reader lets through, and beyond that what it refuses (escapes of a terminal, marks of direction). */
#define NASTY "</p><script>alert(1)</script>, ; \\\\ \\n BEGIN:VEVENT \\t =cmd|'/c calc'!A1 é漢🚢"
#define NASTIER "</p><script>alert(1)</script>, ; \\ \x1b[31m \u202E \u2028 \xC2\x85 \r\nBEGIN:VEVENT \t é漢🚢 "

static const char hostile_shelf[] =
    "shelf:\n  \"=1+1\": {family: mild-lacquer-primer, recoat: 1 h to 8 h}\n  \"@x,\\\"y\\\"\\n-2\": {family: "
    "acrylic-lacquer}\n"
    "stack:\n  - {coat: \"=1+1\", role: primer}\n  - wait: 2 h\n  - {coat: \"@x,\\\"y\\\"\\n-2\", role: colour}\n"
    "  - do: \"" NASTY "\"\n";

/* A plan whose labels and texts are nasty, and its title nastier, and as long as you like. */
static const tc_plan *hostile(bench *b, size_t letters)
{
	static const char text[] = "recipe: \"" NASTY "\"\nstart: 2031-05-14 19:00\n" HEAD;
	tc_plan *plan = TC_NEW(b->arena, tc_plan);
	tc_recipe *recipe = TC_NEW(b->arena, tc_recipe);
	tc_buffer title;
	tc_buffer_start(&title, NULL);
	tc_buffer_puts(&title, text);
	tc_buffer_puts(&title, hostile_shelf);
	*plan = *planned(b, "nasty.yaml", words(&title));
	title.length = 0;
	tc_buffer_puts(&title, NASTIER);
	for (size_t i = 0; i < letters; i++)
		tc_buffer_puts(&title, i % 50 == 49 ? " " : "é");
	*recipe = *plan->recipe;
	recipe->title = tc_arena_text(b->arena, words(&title), title.length);
	plan->recipe = recipe;
	tc_buffer_free(&title);
	return plan;
}

/* No control but line ends, no mark of direction (U+202E, U+2028, U+0085), all well-formed. */
static void is_inert(const tc_buffer *out)
{
	assert_false(out->failed);
	assert_int_equal(tc_utf8_bad(out->at, out->length), out->length);
	for (size_t i = 0; i < out->length;) {
		uint32_t point;
		i += tc_utf8_next(out->at + i, out->length - i, &point);
		assert_true(point == '\n' || point == '\r' ||
		            (point >= 0x20 && point != 0x7F && !(point >= 0x80 && point < 0xA0)));
		assert_true(point != 0x202E && point != 0x2028 && point != 0x2029);
	}
}

static void test_hostile(void **state)
{
	for (size_t letters = 0; letters <= 60000; letters += 60000) {
		const tc_plan *plan = hostile(*state, letters);
		tc_buffer out;
		tc_page page;
		tc_buffer_start(&out, NULL);
		tc_page_start(&page, &out, 80, false, false);
		tc_card_text(plan, &page);
		tc_page_end(&page);
		is_inert(&out);
		out.length = 0;
		assert_int_equal(tc_card_ical(plan, 0, &out), TC_OK);
		is_inert(&out);
		char *lines = unfold(&out);
		assert_int_equal(count_of(lines, "\nBEGIN:VEVENT\n"), count_of(lines, "\nEND:VEVENT\n"));
		assert_non_null(strstr(
		    lines, "NAME:</p><script>alert(1)</script>\\, \\; \\\\ <U+001B>[31m <U+202E> <U+2028> <U+0085>"));
		free(lines);
		out.length = 0;
		tc_card_csv(plan, &out);
		is_inert(&out);
		out.length = 0;
		assert_int_equal(tc_card_json(plan, &out), TC_OK);
		assert_int_equal(tc_utf8_bad(out.at, out.length), out.length);
		assert_null(strchr(out.at, 0x1B));
		tc_buffer_free(&out);
	}
}

static void test_csv(void **state)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_card_csv(hostile(*state, 0), &out);
	const char *text = words(&out);
	assert_non_null(strstr(text, "\r\n\"coat\",\"'=1+1\",\"mild lacquer primer\","));
	assert_non_null(strstr(text, ",\"'@x,\"\"y\"\" -2\",\"acrylic lacquer\","));
	for (const char *c = text; *c; c++)
		assert_true(*c != '\n' || (c > text && c[-1] == '\r'));
	tc_buffer_free(&out);
}

/* --- memory ------------------------------------------------------------------------------------------------------------ */

/* Writes all forms; true if nothing failed. What failed must have been said. */
static bool write_all(const tc_plan *plan)
{
	tc_buffer out;
	tc_page page;
	tc_buffer_start(&out, &heap_allocator);
	tc_page_start(&page, &out, 80, true, true);
	tc_card_text(plan, &page);
	const bool page_failed = page.work.failed;
	tc_page_end(&page);
	tc_card_csv(plan, &out);
	const tc_status ical = tc_card_ical(plan, 0, &out), json = tc_card_json(plan, &out);
	const bool good = ical == TC_OK && json == TC_OK && !out.failed && !page_failed;
	tc_buffer_free(&out);
	return good;
}

static void test_memory(void **state)
{
	const tc_plan *plan = planned(*state, "ferry.yaml", autumn);
	bool good = false;
	write_all(plan); /* what libraries keep for themselves is made now */
	for (long fails = 1; !good;
	     fails += 1 + fails / 40) { /* each of the first, then ever fewer: there are thousands */
		heap_arm(fails);
		good = write_all(plan);
		const long requests = heap.requests, left = heap.outstanding;
		heap_disarm();
		assert_int_equal(left, 0);
		assert_true(good == (requests < fails));
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_sentences),
	    cmocka_unit_test(test_moments),
	    cmocka_unit_test(test_begins),
	    cmocka_unit_test(test_calendar),
	    cmocka_unit_test(test_twice),
	    cmocka_unit_test(test_no_calendar),
	    cmocka_unit_test(test_hostile),
	    cmocka_unit_test(test_csv),
	    cmocka_unit_test(test_memory),
	};
	return cmocka_run_group_tests(tests, bench_open, bench_close);
}
