/* Helpers over jansson. */
#include <math.h>
#include <string.h>

#include "report/json.h"

static json_t *checked(tc_json *json, json_t *value)
{
	json->failed = json->failed || !value;
	return value;
}

/* The text with U+FFFD for each byte that is not UTF-8. */
static void repair(tc_buffer *out, tc_text text)
{
	for (size_t from = 0; from < text.length;) {
		const size_t good = from + tc_utf8_bad(text.at + from, text.length - from);
		tc_buffer_add(out, (tc_text){text.at + from, good - from});
		if (good < text.length)
			tc_buffer_puts(out, "\xEF\xBF\xBD");
		from = good + 1;
	}
}

json_t *tc_json_text(tc_json *json, const char *text)
{
	if (!text)
		return checked(json, json_null());
	const tc_text t = tc_text_of(text);
	if (tc_utf8_bad(t.at, t.length) == t.length)
		return checked(json, json_stringn_nocheck(t.at, t.length));
	tc_buffer good;
	tc_buffer_start(&good, NULL);
	repair(&good, t);
	json_t *value = checked(json, good.failed ? NULL : json_stringn_nocheck(good.at, good.length));
	tc_buffer_free(&good);
	return value;
}

json_t *tc_json_number(tc_json *json, double number)
{
	return checked(json, isfinite(number) ? json_real(number) : json_null());
}

json_t *tc_json_count(tc_json *json, uint32_t count)
{
	return checked(json, json_integer((json_int_t)count));
}

json_t *tc_json_object(tc_json *json)
{
	return checked(json, json_object());
}

json_t *tc_json_array(tc_json *json)
{
	return checked(json, json_array());
}

void tc_json_put(tc_json *json, json_t *object, const char *key, json_t *value)
{
	if (json_object_set_new_nocheck(object, key, value) != 0) /* our keys are UTF-8 */
		json->failed = true;
}

void tc_json_push(tc_json *json, json_t *array, json_t *value)
{
	if (json_array_append_new(array, value) != 0)
		json->failed = true;
}

void tc_json_push_once(tc_json *json, json_t *array, json_t *value)
{
	for (size_t i = 0; i < json_array_size(array); i++)
		if (json_equal(json_array_get(array, i), value)) {
			json_decref(value);
			return;
		}
	tc_json_push(json, array, value);
}

/* Not by <ctype.h>: in some locales there are letters beyond ASCII in it. */
static bool is_plain(char c)
{
	return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || strchr("-._~/", c);
}

json_t *tc_json_uri(tc_json *json, const char *path)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	if (*path == '/')
		tc_buffer_puts(&out, "file://");
	for (const char *c = path; *c; c++) {
		if (is_plain(*c))
			tc_buffer_char(&out, *c);
		else
			tc_buffer_print(&out, "%%%02X", (unsigned)(unsigned char)*c);
	}
	json_t *value = checked(json, out.failed ? NULL : json_stringn(out.at ? out.at : "", out.length));
	tc_buffer_free(&out);
	return value;
}
