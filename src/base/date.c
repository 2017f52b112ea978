/* Days of the calendar. */
#include "base/date.h"

#define ERA 146097 /* days in 400 years, after which the calendar repeats */

static bool is_leap(int32_t year)
{
	return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

unsigned tc_month_days(int32_t year, unsigned month)
{
	static const uint8_t days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
	return month == 2 && is_leap(year) ? 29 : days[month - 1];
}

bool tc_date_real(tc_date date)
{
	return date.month >= 1 && date.month <= 12 && date.day >= 1 && date.day <= tc_month_days(date.year, date.month);
}

/* Days before the first day of a year, from the first day of the year 0. */
static int32_t days_before(int32_t year)
{
	const int32_t past = year - 1; /* the year 0 is a leap year */
	return year <= 0 ? 0 : year * 365 + past / 4 - past / 100 + past / 400 + 1;
}

#define EPOCH 719528 /* days_before(1970) */

int32_t tc_date_number(tc_date date)
{
	int32_t days = days_before(date.year) - EPOCH + date.day - 1;
	for (unsigned month = 1; month < date.month; month++)
		days += (int32_t)tc_month_days(date.year, month);
	return days;
}

tc_date tc_date_of(int32_t number)
{
	const int32_t days = number + EPOCH;
	/* never too early by more than a year: an era's days spread evenly over its years */
	int32_t year = (int32_t)((int64_t)days * 400 / ERA);
	while (days_before(year) > days)
		year--;
	while (days_before(year + 1) <= days)
		year++;
	int32_t rest = days - days_before(year);
	unsigned month = 1;
	for (; rest >= (int32_t)tc_month_days(year, month); month++)
		rest -= (int32_t)tc_month_days(year, month);
	return (tc_date){year, (uint8_t)month, (uint8_t)(rest + 1)};
}

unsigned tc_date_weekday(int32_t number)
{
	/* 1970-01-01 was a Thursday */
	return (unsigned)(((number % 7) + 7 + 3) % 7);
}
