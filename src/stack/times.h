/* Moments, hours and time zones as texts. For recipes, and for whoever takes a start or a zone from elsewhere (an option of a
 * command). */
#ifndef TC_STACK_TIMES_H
#define TC_STACK_TIMES_H

#include "base/date.h"
#include "base/text.h"

/* What is wrong with a text. */
typedef struct tc_time_error {
	const char *id; /* of the diagnostic */
	size_t at;      /* the byte where it is */
	char message[256];
	bool no_hours; /* days alone, without hours behind them */
} tc_time_error;

/* A date, and maybe a time of day: `2031-05-17`, `2031-05-17 18:30`, `2031-05-17T18:30` (ISO 8601); 00:00 where there is no
 * time. False with *error: it is not written so, or there is no such day. */
bool tc_start_read(tc_text text, tc_wall *start, tc_time_error *error);

#define TC_ZONE_NAME_MAX 64 /* bytes; the longest of the database has half of it */

/* Could this be the name of a time zone of the IANA database, such as `Etc/UTC`? Parts that begin with a capital, between
 * slashes: names of files elsewhere, and of what a machine keeps beside the zones, are none. */
bool tc_zone_name_read(tc_text text, tc_time_error *error);

/* One session as it is said. */
typedef struct tc_said_hours {
	bool dated; /* of the day `date`, in place of its usual hours; else of `days` of every week */
	tc_date date;
	uint8_t days; /* bit 0 is Monday */
	uint16_t from,
	    to; /* minutes from 00:00 of the day on which it begins; from < to <= from + 1440. Both 0: `none` */
} tc_said_hours;

/*
 * `[days] HH:MM to HH:MM`, `DATE HH:MM to HH:MM` or `DATE none`. Days: `mon-fri`, `sat`, `mon, wed, fri`, `daily` or none for
 * all; in any case, by three letters or in full. An end before the beginning is on the day after; 24:00 is an end.
 * Well-formed UTF-8. False with *error.
 */
bool tc_hours_read(tc_text text, tc_said_hours *hours, tc_time_error *error);

#endif
