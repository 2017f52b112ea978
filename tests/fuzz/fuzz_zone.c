/* Files of time zones, and the rules at their ends: rows in order, names and offsets within their bounds. */
#include <stdlib.h>
#include <string.h>

#include "plan/zone_read.h"

#define NEVER(what)                                                                                                    \
	do {                                                                                                           \
		if (what)                                                                                              \
			abort();                                                                                       \
	} while (0)

#define FROM 0
#define TO 7258118400 /* 2200-01-01 */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_zone zone;
	tc_zone_rule rule;
	const tc_status status = arena ? tc_zone_parse(arena, (const char *)data, size, FROM, TO, &zone) : TC_NO_MEMORY;
	NEVER(status == TC_OK && zone.count == 0);
	for (uint32_t i = 0; status == TC_OK && i < zone.count; i++) {
		NEVER(i == 0 ? zone.row[i].from != FROM : zone.row[i].from <= zone.row[i - 1].from);
		NEVER(zone.row[i].from > TO || abs(zone.row[i].offset) > 93600 || !zone.row[i].name);
	}
	int64_t last = INT64_MIN;
	for (int64_t wall = FROM; status == TC_OK && wall < TO; wall += 86400 * 91) {
		const int64_t utc = tc_zone_utc(&zone, wall);
		NEVER(utc < last);
		last = utc;
	}
	if (tc_zone_rule_read((tc_text){(const char *)data, size}, &rule) && rule.summer) {
		int64_t begins, ends;
		tc_zone_rule_year(&rule, 2031, &begins, &ends);
	}
	tc_arena_free(arena);
	return 0;
}
