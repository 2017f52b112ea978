/* `start`, `sessions`, `zone`: patterns of what src/stack/times.c reads. What only a calendar knows (a leap day, a session
 * without length) they let pass. */
#include "report/schema_parts.h"

#define BLANK "[ \\t\\r\\n\\u00a0\\u202f\\u2007\\u2009]"
#define DASH "[-\\u2010-\\u2015\\u2212]"
#define TO "[Tt][Oo]"

/* 1970 to 2299 (base/date.h) */
#define YEAR "(?:19[7-9][0-9]|2[0-2][0-9]{2})"
#define DATE                                                                                                           \
	YEAR "-(?:(?:0[13578]|1[02])-(?:0[1-9]|[12][0-9]|3[01])|(?:0[469]|11)-(?:0[1-9]|[12][0-9]|30)"                 \
	     "|02-(?:0[1-9]|[12][0-9]))"
#define TIME "(?:[01]?[0-9]|2[0-3]):[0-5][0-9]"

#define S_DAY "(?:[Dd][Aa][Yy])?"
#define DAY                                                                                                            \
	"(?:[Mm][Oo][Nn]" S_DAY "|[Tt][Uu][Ee](?:[Ss][Dd][Aa][Yy])?|[Ww][Ee][Dd](?:[Nn][Ee][Ss][Dd][Aa][Yy])?"         \
	"|[Tt][Hh][Uu](?:[Rr][Ss][Dd][Aa][Yy])?|[Ff][Rr][Ii]" S_DAY "|[Ss][Aa][Tt](?:[Uu][Rr][Dd][Aa][Yy])?"           \
	"|[Ss][Uu][Nn]" S_DAY ")"
#define RANGE DAY "(?:(?:" BLANK "*" DASH BLANK "*|" BLANK "+" TO BLANK "+)" DAY ")?"
#define MORE "(?:" BLANK "*," BLANK "*|" BLANK "+[Aa][Nn][Dd]" BLANK "+)" RANGE
#define DAYS "(?:[Dd][Aa][Ii][Ll][Yy]|" RANGE "(?:" MORE ")*)"
#define HOURS TIME BLANK "*(?:" DASH "|" TO ")" BLANK "*(?:" TIME "|24:00)"

#define START "^" BLANK "*" DATE "(?:[ T]" TIME ")?" BLANK "*$"
#define SESSION                                                                                                        \
	"^" BLANK "*(?:" DATE "(?:" BLANK "*[Nn][Oo][Nn][Ee]|" BLANK "+" HOURS ")|(?:" DAYS BLANK "*)?" HOURS          \
	")" BLANK "*$"
#define ZONE "^" BLANK "*[A-Z][-A-Za-z0-9_+]*(?:/[A-Z][-A-Za-z0-9_+]*)*" BLANK "*$"

json_t *tc_schema_start(tc_schema *s)
{
	return tc_schema_pattern(s, START);
}

json_t *tc_schema_sessions(tc_schema *s)
{
	return tc_schema_any(
	    s, tc_schema_pattern(s, SESSION), tc_schema_list(s, tc_schema_pattern(s, SESSION), 1, TC_SESSIONS_MAX));
}

json_t *tc_schema_zone(tc_schema *s)
{
	return tc_schema_pattern(s, ZONE);
}
