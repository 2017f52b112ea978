/* The rule at the end of a time zone's file: what holds for all years after those that are listed. */
#include "base/date.h"
#include "plan/zone_read.h"

typedef struct cursor {
	const char *at, *end;
} cursor;

static bool take(cursor *c, char what)
{
	if (c->at == c->end || *c->at != what)
		return false;
	c->at++;
	return true;
}

static bool take_number(cursor *c, int32_t least, int32_t most, int32_t *number)
{
	const char *first = c->at;
	for (*number = 0; c->at < c->end && *c->at >= '0' && *c->at <= '9' && c->at - first < 4; c->at++)
		*number = *number * 10 + (*c->at - '0');
	return c->at > first && *number >= least && *number <= most;
}

/* `CET`, or `<+0330>` where it has other signs than letters. */
static bool take_name(cursor *c, tc_text *name)
{
	const bool quoted = take(c, '<');
	const char *first = c->at;
	for (; c->at < c->end; c->at++) {
		const char lower = (char)(*c->at | 0x20), now = *c->at;
		const bool letter = lower >= 'a' && lower <= 'z';
		if (!letter && !(quoted && ((now >= '0' && now <= '9') || now == '+' || now == '-')))
			break;
	}
	*name = (tc_text){first, (size_t)(c->at - first)};
	return name->length >= 3 && (!quoted || take(c, '>'));
}

/* `-3`, `5:30`, `2:00:15`, in s. */
static bool take_clock(cursor *c, int32_t hours_most, int32_t *seconds)
{
	int32_t hours, minutes = 0, rest = 0;
	const bool minus = take(c, '-');
	if (!minus)
		take(c, '+');
	if (!take_number(c, 0, hours_most, &hours) || (take(c, ':') && !take_number(c, 0, 59, &minutes)) ||
	    (take(c, ':') && !take_number(c, 0, 59, &rest)))
		return false;
	*seconds = hours * 3600 + minutes * 60 + rest;
	if (minus)
		*seconds = -*seconds;
	return true;
}

/* `M3.5.0/2`, `J60`, `59/-1`. */
static bool take_date(cursor *c, tc_zone_date *date)
{
	bool good;
	*date = (tc_zone_date){.form = 'n', .time = 2 * 3600};
	if (take(c, 'M')) {
		date->form = 'M';
		good = take_number(c, 1, 12, &date->month) && take(c, '.') && take_number(c, 1, 5, &date->week) &&
		       take(c, '.') && take_number(c, 0, 6, &date->day);
	} else if (take(c, 'J')) {
		date->form = 'J';
		good = take_number(c, 1, 365, &date->day);
	} else {
		good = take_number(c, 0, 365, &date->day);
	}
	return good && (!take(c, '/') || take_clock(c, 167, &date->time));
}

bool tc_zone_rule_read(tc_text text, tc_zone_rule *rule)
{
	cursor c = {text.at, text.at + text.length};
	*rule = (tc_zone_rule){0};
	if (!take_name(&c, &rule->name) || !take_clock(&c, 24, &rule->offset))
		return false;
	rule->offset = -rule->offset; /* the rule counts westward */
	if (c.at == c.end)
		return true;
	rule->summer = true;
	rule->summer_offset = rule->offset + 3600;
	if (!take_name(&c, &rule->summer_name))
		return false;
	if (c.at < c.end && *c.at != ',') {
		if (!take_clock(&c, 24, &rule->summer_offset))
			return false;
		rule->summer_offset = -rule->summer_offset;
	}
	return take(&c, ',') && take_date(&c, &rule->begins) && take(&c, ',') && take_date(&c, &rule->ends) &&
	       c.at == c.end;
}

/* The day by its number. */
static int32_t day_in(const tc_zone_date *date, int32_t year)
{
	const int32_t first = tc_date_number((tc_date){year, 1, 1});
	const bool leap = tc_month_days(year, 2) == 29;
	if (date->form == 'n')
		return first + date->day;
	if (date->form == 'J')
		return first + date->day - 1 + (leap && date->day >= 60); /* J60 is the first of March in every year */
	const uint8_t month = (uint8_t)date->month;
	const int32_t begins = tc_date_number((tc_date){year, month, 1});
	const int32_t weekday = ((int32_t)tc_date_weekday(begins) + 1) % 7; /* 0 is Sunday here */
	const int32_t day = begins + (date->day - weekday + 7) % 7 + (date->week - 1) * 7;
	return day - begins < (int32_t)tc_month_days(year, month) ? day : day - 7; /* week 5 is the last one */
}

void tc_zone_rule_year(const tc_zone_rule *rule, int32_t year, int64_t *begins, int64_t *ends)
{
	*begins = (int64_t)day_in(&rule->begins, year) * TC_DAY_SECONDS + rule->begins.time - rule->offset;
	*ends = (int64_t)day_in(&rule->ends, year) * TC_DAY_SECONDS + rule->ends.time - rule->summer_offset;
}
