/* Small helpers over jansson: each failure is kept in `failed`, and nothing has to be looked at until the end. */
#ifndef TC_REPORT_JSON_H
#define TC_REPORT_JSON_H

#include <jansson.h>

#include "base/text.h"

typedef struct tc_json {
	bool failed;
} tc_json;

/* New values. A NULL text and a number that is not finite give null; bytes that are not UTF-8 give U+FFFD. */
json_t *tc_json_text(tc_json *json, const char *text);
json_t *tc_json_number(tc_json *json, double number);
json_t *tc_json_count(tc_json *json, uint32_t count);
json_t *tc_json_object(tc_json *json);
json_t *tc_json_array(tc_json *json);

/* Give a value to an object or an array; the value belongs to it then. */
void tc_json_put(tc_json *json, json_t *object, const char *key, json_t *value);
void tc_json_push(tc_json *json, json_t *array, json_t *value);
/* The same, unless an equal one stands there already. */
void tc_json_push_once(tc_json *json, json_t *array, json_t *value);

/* A path as a relative reference or a file URI: every byte but the unreserved ones and `/` as %XX. */
json_t *tc_json_uri(tc_json *json, const char *path);

/* Appends the value, its lines indented by `depth` blanks. Real numbers have six digits. */
void tc_json_write(tc_json *json, const json_t *value, size_t depth, tc_buffer *out);
/* The same on one line; `bare`: the members of an object without its braces. */
void tc_json_write_line(tc_json *json, const json_t *value, bool bare, tc_buffer *out);

#endif
