/* JSON Schemas (draft 2020-12) of what people write for the program, made from the tables by which it reads and the words of a
 * rulebook: for editors that complete and check YAML. A schema knows keys, shapes, units and words; what only the whole of a plan
 * or a rulebook can tell (docs/json.md lists it) it lets through. */
#ifndef TC_REPORT_SCHEMA_H
#define TC_REPORT_SCHEMA_H

#include "rule/rulebook.h"

typedef enum tc_schema_of {
	TC_SCHEMA_RECIPE,
	TC_SCHEMA_SHELF,
	TC_SCHEMA_SETTINGS,
	TC_SCHEMA_RULEBOOK,
	TC_SCHEMA_COUNT
} tc_schema_of;
/* recipe, shelf, settings, rulebook; NULL past the last */
const char *tc_schema_name(unsigned of);

/* Appends the schema as a JSON document. TC_NO_MEMORY or TC_OK. */
tc_status tc_schema_print(tc_schema_of of, const tc_rulebook *rulebook, tc_buffer *out);

#endif
