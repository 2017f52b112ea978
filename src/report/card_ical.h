/* Writing iCalendar (RFC 5545): content lines, and what a time zone is. */
#ifndef TC_REPORT_CARD_ICAL_H
#define TC_REPORT_CARD_ICAL_H

#include "report/card_words.h"

/* A content line of a name with its parameters, and a value that needs no escape. Lines are folded at 75 octets, never within a
 * character, and end in CR LF. */
void tc_ical_line(tc_buffer *out, const char *name, const char *value);
/* The same with a value of type TEXT: escaped; line ends stay, other control characters and those of direction are made
 * visible. */
void tc_ical_text(tc_buffer *out, const char *name, const char *value);
/* A property of type DATE-TIME at a moment of the plan: with its TZID; without a zone floating; in UTC where the clock on the
 * wall shows the same twice: by the standard that would be the first time, but readers differ. */
void tc_ical_moment(tc_buffer *out, const char *name, const tc_plan *plan, double at);
/* `PT2H30M` or with a minus; whole seconds. */
void tc_ical_duration(tc_buffer *out, double seconds);

/* The VTIMEZONE of the plan's zone for all moments from..to; nothing without a zone. */
void tc_ical_zone(tc_buffer *out, const tc_plan *plan, double from, double to);

#endif
