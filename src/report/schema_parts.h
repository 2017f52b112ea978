/* What the files that make schemas share. Each function gives a new value, which the caller puts somewhere. */
#ifndef TC_REPORT_SCHEMA_PARTS_H
#define TC_REPORT_SCHEMA_PARTS_H

#include "report/json.h"
#include "report/schema.h"

typedef struct tc_schema {
	tc_json json;
	const tc_rulebook *rulebook;
	const tc_library *library;
	json_t *defs; /* `$defs`, made as they are asked for */
} tc_schema;

/* {"$ref": "#/$defs/NAME"}; `make` makes the definition when the name comes up first. */
typedef json_t *tc_schema_make(tc_schema *s, const void *of);
json_t *tc_schema_ref(tc_schema *s, const char *name, tc_schema_make *make, const void *of);

/* --- shapes ------------------------------------------------------------------------------------------------------ */
json_t *tc_schema_object(tc_schema *s); /* a mapping that takes no keys but those of tc_schema_key */
void tc_schema_key(tc_schema *s, json_t *object, const char *name, json_t *value);
void tc_schema_require(tc_schema *s, json_t *object, const char *name);
json_t *tc_schema_list(tc_schema *s, json_t *item, uint32_t least, uint32_t most);
json_t *tc_schema_any(tc_schema *s, json_t *one, json_t *other); /* either shape */
json_t *tc_schema_map_of(
    tc_schema *s, json_t *names, json_t *value);            /* any keys; `names`: what each is like, or NULL */
json_t *tc_schema_required(tc_schema *s, const char *name); /* {"required": [NAME]} */
json_t *tc_schema_described(
    tc_schema *s, json_t *value, const char *text);           /* the value with a description; NULL: none */
json_t *tc_schema_pattern(tc_schema *s, const char *pattern); /* a text of that form */
void tc_schema_set(tc_schema *s, json_t *object, const char *key, const char *text);
void tc_schema_count(tc_schema *s, json_t *object, const char *key, uint32_t count);

/* --- values ------------------------------------------------------------------------------------------------------ */
json_t *tc_schema_text(tc_schema *s); /* anything that is written */
json_t *tc_schema_truth(tc_schema *s);
json_t *tc_schema_quantity(tc_schema *s, tc_type type, const tc_dim *dim);
json_t *tc_schema_whole(tc_schema *s, uint32_t most);
json_t *tc_schema_ratio(tc_schema *s, unsigned most);
json_t *tc_schema_size(tc_schema *s);
json_t *tc_schema_word(tc_schema *s, const char *vocabulary);  /* `defect`: of the section `defects` */
json_t *tc_schema_words(tc_schema *s, const char *vocabulary); /* one, or a list */
json_t *tc_schema_material(tc_schema *s, uint32_t sections);   /* names are proposed, others let through */
json_t *tc_schema_places(tc_schema *s);                        /* a part, or a list of them */
json_t *tc_schema_id(tc_schema *s);
json_t *tc_schema_basis(tc_schema *s);
/* A property of the library, in its short and its long form, described. */
json_t *tc_schema_figure(tc_schema *s, const tc_property_row *row);

/* --- larger parts ------------------------------------------------------------------------------------------------ */
json_t *tc_schema_step(tc_schema *s, const void *unused);
json_t *tc_schema_recipe(tc_schema *s, const void *titled); /* NULL: of shown_by, without a title */
json_t *tc_schema_shelf(tc_schema *s);                      /* a file of a shelf */
json_t *tc_schema_settings(tc_schema *s);
json_t *tc_schema_book(tc_schema *s);
/* For tests: has a key of stack/key.def (TC_KEY_…) its row at that place? */
bool tc_schema_has_key(uint32_t key, uint32_t place);

/* schema_time.c */
json_t *tc_schema_start(tc_schema *s);
json_t *tc_schema_sessions(tc_schema *s);
json_t *tc_schema_zone(tc_schema *s);

#endif
