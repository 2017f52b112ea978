/* Days of the calendar: Gregorian, also before it was in use anywhere (ISO 8601). Pure functions. */
#ifndef TC_BASE_DATE_H
#define TC_BASE_DATE_H

#include <stdbool.h>
#include <stdint.h>

/* Years that a plan may speak of. Before 1970 time zones are not recorded well; a later century than the last one is a slip of
 * the pen. */
#define TC_YEAR_FIRST 1970
#define TC_YEAR_LAST 2299

#define TC_DAY_SECONDS 86400
#define TC_DAY_MINUTES 1440

typedef struct tc_date {
	int32_t year;
	uint8_t month, day; /* from 1 */
} tc_date;

/* A day and a minute of it (0 to 1439), as the clock on the wall shows it. */
typedef struct tc_wall {
	tc_date date;
	uint16_t minute;
} tc_wall;

/* How many days a month (1 to 12) of a year has. */
unsigned tc_month_days(int32_t year, unsigned month);

/* Is there such a day? */
bool tc_date_real(tc_date date);

/* Days from 1970-01-01 to a real day, and back. For the years 0 to 9999. */
int32_t tc_date_number(tc_date date);
tc_date tc_date_of(int32_t number);

/* The day of the week of a day by its number: 0 is Monday (ISO 8601). */
unsigned tc_date_weekday(int32_t number);

#endif
