/* Moments, hours and time zones, read. */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "stack/times.h"

typedef struct cursor {
	tc_text text;
	size_t at;
	tc_time_error *error;
} cursor;

/* --- letters ----------------------------------------------------------------------------------------------------- */

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static bool is_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static char here(const cursor *c)
{
	return c->at < c->text.length ? c->text.at[c->at] : '\0';
}

static void skip_blanks(cursor *c)
{
	size_t length;
	while ((length = tc_blank_length(c->text.at + c->at, c->text.length - c->at)) > 0)
		c->at += length;
}

static tc_text word_at(const cursor *c)
{
	size_t end = c->at;
	while (end < c->text.length && is_letter(c->text.at[end]))
		end++;
	return (tc_text){c->text.at + c->at, end - c->at};
}

static bool same_word(tc_text word, const char *name)
{
	const size_t length = strlen(name);
	if (word.length != length)
		return false;
	for (size_t i = 0; i < length; i++)
		if ((word.at[i] | 0x20) != name[i])
			return false;
	return true;
}

static bool take_word(cursor *c, const char *name)
{
	if (!same_word(word_at(c), name))
		return false;
	c->at += strlen(name);
	return true;
}

/* A hyphen, or one of the dashes that a keyboard or a word processor puts in its place (U+2010 to U+2015, U+2212). */
static bool take_dash(cursor *c)
{
	uint32_t point;
	if (c->at >= c->text.length)
		return false;
	const size_t length = tc_utf8_next(c->text.at + c->at, c->text.length - c->at, &point);
	if (point != '-' && !(point >= 0x2010 && point <= 0x2015) && point != 0x2212)
		return false;
	c->at += length;
	return true;
}

/* What stands here up to a blank or comma, for a message. */
static tc_text piece_at(const cursor *c)
{
	size_t end = c->at;
	while (end < c->text.length && c->text.at[end] != ',' &&
	       tc_blank_length(c->text.at + end, c->text.length - end) == 0)
		end++;
	const tc_text piece = {c->text.at + c->at, end - c->at};
	return piece.length ? piece : (tc_text){c->text.at + c->at, c->at < c->text.length ? 1 : 0};
}

#define SHOWN(piece) (int)((piece).length > 40 ? 40 : (piece).length), (piece).at

__attribute__((format(printf, 4, 5))) static bool fault(
    const cursor *c, size_t at, const char *id, const char *format, ...)
{
	va_list list;
	va_start(list, format);
	c->error->id = id;
	c->error->at = at;
	vsnprintf(c->error->message, sizeof c->error->message, format, list);
	va_end(list);
	return false;
}

/* --- days -------------------------------------------------------------------------------------------------------- */

static unsigned digits(cursor *c, unsigned most, unsigned *number)
{
	unsigned count = 0;
	for (*number = 0; count < most && is_digit(here(c)); count++)
		*number = *number * 10 + (unsigned)(c->text.at[c->at++] - '0');
	return count;
}

static const char *const months[] = {"January", "February", "March", "April", "May", "June", "July", "August",
    "September", "October", "November", "December"};

/* Is it a day of the calendar, and one that a plan may name? `at`: where it stands. */
static bool check_date(const cursor *c, size_t at, tc_date date)
{
	const tc_text text = {c->text.at + at, c->at - at};
	if (date.year < TC_YEAR_FIRST || date.year > TC_YEAR_LAST)
		return fault(c, at, "out-of-range", "`%.*s` lies outside the years %d to %d that a plan may speak of",
		    SHOWN(text), TC_YEAR_FIRST, TC_YEAR_LAST);
	if (date.month < 1 || date.month > 12)
		return fault(c, at, "date", "`%.*s` is no day: months are 01 to 12, after the year", SHOWN(text));
	if (!tc_date_real(date))
		return fault(c, at, "date", "`%.*s` is no day: %s %d has the days 01 to %u", SHOWN(text),
		    months[date.month - 1], (int)date.year, tc_month_days(date.year, date.month));
	return true;
}

/* `2031-05-17`: `well`: it is written so. */
static bool take_date(cursor *c, tc_date *date, bool *well)
{
	unsigned year, month, day;
	const size_t at = c->at;
	*well = digits(c, 4, &year) == 4 && here(c) == '-' && (c->at++, digits(c, 2, &month) == 2) && here(c) == '-' &&
	        (c->at++, digits(c, 2, &day) == 2) && !is_digit(here(c));
	if (!*well) {
		c->at = at;
		return false;
	}
	*date = (tc_date){(int32_t)year, (uint8_t)month, (uint8_t)day};
	return check_date(c, at, *date);
}

#define DAYS 7
#define ALL_DAYS 0x7f

static const char *const day_names[DAYS] = {
    "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"};
static const char *const short_names[DAYS] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};

static bool take_day(cursor *c, unsigned *day)
{
	const tc_text word = word_at(c);
	tc_nearest nearest = TC_NEAREST(word);
	for (*day = 0; *day < DAYS; ++*day) {
		if (same_word(word, day_names[*day]) || same_word(word, short_names[*day])) {
			c->at += word.length;
			return true;
		}
		tc_nearest_offer(&nearest, tc_text_of(day_names[*day]));
		tc_nearest_offer(&nearest, tc_text_of(short_names[*day]));
	}
	const tc_text piece = word.length ? word : piece_at(c);
	if (nearest.found.length && word.length)
		return fault(c, c->at, "hours", "`%.*s` is no day of the week; `%.*s` is near", SHOWN(piece),
		    SHOWN(nearest.found));
	return fault(c, c->at, "hours", "`%.*s` is no day of the week; those are `mon` to `sun`, and `daily` is all",
	    SHOWN(piece));
}

/* The days from one to another, over the end of the week if need be. */
static uint8_t days_from(unsigned first, unsigned last)
{
	uint8_t days = (uint8_t)(1u << last);
	for (unsigned day = first; day != last; day = (day + 1) % DAYS)
		days |= (uint8_t)(1u << day);
	return days;
}

/* A day, or a range of days. */
static bool take_range(cursor *c, uint8_t *days)
{
	unsigned first, last;
	if (!take_day(c, &first))
		return false;
	last = first;
	skip_blanks(c);
	if (take_dash(c) || take_word(c, "to")) {
		skip_blanks(c);
		if (!take_day(c, &last))
			return false;
	}
	*days |= days_from(first, last);
	return true;
}

/* What goes on with a further day: a comma, `and`. */
static bool take_more(cursor *c)
{
	skip_blanks(c);
	const size_t at = c->at;
	if (here(c) == ',')
		c->at++;
	else if (!take_word(c, "and"))
		return false;
	skip_blanks(c);
	if (is_letter(here(c)))
		return true;
	c->at = at;
	return false;
}

static bool take_days(cursor *c, uint8_t *days)
{
	*days = 0;
	if (!is_letter(here(c)) || take_word(c, "daily")) {
		*days = ALL_DAYS;
		return true;
	}
	do {
		if (!take_range(c, days))
			return false;
	} while (take_more(c));
	return true;
}

/* --- times of day ------------------------------------------------------------------------------------------------ */

/* `9:00`; `most`: 24:00 counts, as an end. */
static bool take_time(cursor *c, const char *id, bool end, uint16_t *minute)
{
	unsigned hours, minutes;
	const size_t at = c->at;
	const tc_text piece = piece_at(c);
	if (digits(c, 2, &hours) == 0 || here(c) != ':' || (c->at++, digits(c, 2, &minutes)) != 2 || is_digit(here(c)))
		return fault(
		    c, at, id, "`%.*s` is no time of day; write hours and minutes, such as `9:00`", SHOWN(piece));
	if (hours == 24 && minutes == 0 && !end)
		return fault(c, at, id, "`24:00` ends a day; what begins then begins at 00:00 of the next one");
	if (hours > 24 || minutes > 59 || (hours == 24 && minutes > 0))
		return fault(c, at, id, "`%.*s` is no time of day; those are 00:00 to %s", SHOWN(piece),
		    end ? "24:00" : "23:59");
	*minute = (uint16_t)(hours * 60 + minutes);
	return true;
}

/* Hours by the half day: said how it is written here. */
static bool check_half_day(const cursor *c, uint16_t minute)
{
	const bool after_noon = same_word(word_at(c), "pm"), before_noon = same_word(word_at(c), "am");
	const unsigned hour = minute / 60u % 12u + (after_noon ? 12u : 0u);
	if ((after_noon || before_noon) && minute < 13 * 60)
		return fault(c, c->at, "hours", "hours count from 0 to 24; write `%u:%02u`", hour, minute % 60u);
	return true;
}

static bool take_time_of(cursor *c, bool end, uint16_t *minute)
{
	if (!take_time(c, "hours", end, minute))
		return false;
	skip_blanks(c);
	return check_half_day(c, *minute);
}

/* `19:00 to 22:00`. */
static bool take_hours(cursor *c, tc_said_hours *hours)
{
	const size_t at = c->at;
	const tc_text begin = piece_at(c);
	if (!take_time_of(c, false, &hours->from))
		return false;
	if (!take_dash(c) && !take_word(c, "to"))
		return fault(
		    c, c->at, "hours", "the session has no end; write both, such as `%.*s to 22:00`", SHOWN(begin));
	skip_blanks(c);
	if (!take_time_of(c, true, &hours->to))
		return false;
	if (hours->to == hours->from)
		return fault(c, at, "hours", "the session ends when it begins; a whole day is `00:00 to 24:00`");
	if (hours->to < hours->from)
		hours->to = (uint16_t)(hours->to + TC_DAY_MINUTES);
	return true;
}

static bool check_end(cursor *c)
{
	skip_blanks(c);
	if (c->at == c->text.length)
		return true;
	if (here(c) == ',' || here(c) == ';' || same_word(word_at(c), "and"))
		return fault(
		    c, c->at, "hours", "one text is one session; write several as a list, one line with `- ` for each");
	const tc_text piece = piece_at(c);
	return fault(c, c->at, "hours", "`%.*s` behind the hours means nothing; one text is one session", SHOWN(piece));
}

bool tc_hours_read(tc_text text, tc_said_hours *hours, tc_time_error *error)
{
	cursor c = {.text = text, .error = error};
	bool date;
	*hours = (tc_said_hours){0};
	error->no_hours = false;
	skip_blanks(&c);
	if (!take_date(&c, &hours->date, &date) && date)
		return false;
	hours->dated = date;
	if (!date && !take_days(&c, &hours->days))
		return false;
	skip_blanks(&c);
	if (date && take_word(&c, "none"))
		return check_end(&c);
	if (c.at == c.text.length) {
		const tc_text whole = tc_text_trim(text);
		error->no_hours = !date;
		return fault(&c, 0, "hours", "`%.*s` has no hours; write `%.*s 19:00 to 22:00`%s", SHOWN(whole),
		    SHOWN(whole), date ? ", or `none` behind the day" : "");
	}
	return take_hours(&c, hours) && check_end(&c);
}

/* --- a start, a zone --------------------------------------------------------------------------------------------- */

static bool start_shape(const cursor *c, tc_text text)
{
	return fault(c, 0, "wrong-shape",
	    "`start` is `%.*s`; write a date and maybe an hour, such as `2031-05-17 18:30`", SHOWN(text));
}

bool tc_start_read(tc_text text, tc_wall *start, tc_time_error *error)
{
	cursor c = {.text = tc_text_trim(text), .error = error};
	bool well;
	*start = (tc_wall){0};
	error->no_hours = false;
	if (!take_date(&c, &start->date, &well))
		return well ? false : start_shape(&c, c.text);
	if (c.at == c.text.length)
		return true;
	if (here(&c) != ' ' && here(&c) != 'T')
		return start_shape(&c, c.text);
	c.at++;
	if (!is_digit(here(&c)))
		return start_shape(&c, c.text);
	if (!take_time(&c, "date", false, &start->minute))
		return false;
	return c.at == c.text.length || start_shape(&c, c.text);
}

static bool in_name(char c)
{
	return is_letter(c) || is_digit(c) || c == '_' || c == '-' || c == '+';
}

bool tc_zone_name_read(tc_text text, tc_time_error *error)
{
	cursor c = {.text = text, .error = error};
	error->no_hours = false;
	for (; c.at < text.length; c.at++) {
		const char now = here(&c);
		const bool begins = c.at == 0 || text.at[c.at - 1] == '/';
		const bool ends = now == '/' && !begins && c.at + 1 < text.length;
		if (begins ? !(now >= 'A' && now <= 'Z') : !in_name(now) && !ends)
			break;
	}
	if (c.at == text.length && text.length > 0 && text.length <= TC_ZONE_NAME_MAX)
		return true;
	return fault(
	    &c, 0, "zone", "`%.*s` is no name of a time zone; write its IANA name, such as `Etc/UTC`", SHOWN(text));
}
