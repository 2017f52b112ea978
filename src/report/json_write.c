/* JSON trees into text, straight into a buffer: the library's own way hands out each comma by a call, which costs more than
 * all the rest of a report. The bytes are the same as from it, with an indent of one. */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "report/json.h"

#define DIGITS 6

typedef struct writing {
	tc_buffer *out;
	size_t depth; /* of the line at hand */
	bool tight;   /* all on one line, without blanks */
} writing;

static void end_line(const writing *w)
{
	static const char line[] = "\n                                                                ";
	if (w->tight)
		return;
	const size_t at_once = w->depth < sizeof line - 2 ? w->depth : sizeof line - 2;
	tc_buffer_add(w->out, (tc_text){line, 1 + at_once});
	tc_buffer_fill(w->out, ' ', w->depth - at_once);
}

/* --- scalars ----------------------------------------------------------------------------------------------------- */

/* How a character that cannot stand by itself is written. */
static void add_escape(tc_buffer *out, unsigned char c)
{
	static const char letters[] = {['\b'] = 'b', ['\f'] = 'f', ['\n'] = 'n', ['\r'] = 'r', ['\t'] = 't'};
	tc_buffer_char(out, '\\');
	if (c == '"' || c == '\\')
		tc_buffer_char(out, (char)c);
	else if (c < sizeof letters && letters[c])
		tc_buffer_char(out, letters[c]);
	else
		tc_buffer_print(out, "u%04X", c);
}

static bool stands(unsigned char c)
{
	return c >= ' ' && c != '"' && c != '\\';
}

static void add_text(tc_buffer *out, const char *text, size_t length)
{
	tc_buffer_char(out, '"');
	for (size_t from = 0; from < length;) {
		size_t to = from;
		while (to < length && stands((unsigned char)text[to]))
			to++;
		tc_buffer_add(out, (tc_text){text + from, to - from});
		if (to < length)
			add_escape(out, (unsigned char)text[to++]);
		from = to;
	}
	tc_buffer_char(out, '"');
}

static void add_integer(tc_buffer *out, json_int_t number)
{
	char digits[24];
	size_t at = sizeof digits;
	if (number < 0) {
		tc_buffer_print(out, "%" JSON_INTEGER_FORMAT, number);
		return;
	}
	do
		digits[--at] = (char)('0' + number % 10);
	while ((number /= 10) > 0);
	tc_buffer_add(out, (tc_text){digits + at, sizeof digits - at});
}

/* Whatever a locale puts for the point of a number becomes one. */
static void point(char *text)
{
	char *to = text;
	for (const char *c = text; *c; c++) {
		if ((*c >= '0' && *c <= '9') || strchr("+-e", *c))
			*to++ = *c;
		else if (to == text || to[-1] != '.')
			*to++ = '.';
	}
	*to = 0;
}

/* Six digits, always with a point or an exponent, the exponent without `+` and zeros in front. */
static void add_real(tc_buffer *out, double number)
{
	char text[48];
	const int length = snprintf(text, sizeof text, "%.*g", DIGITS, number);
	if (length < 0 || (size_t)length >= sizeof text) {
		out->failed = true;
		return;
	}
	point(text);
	char *exponent = strchr(text, 'e');
	if (!exponent) {
		tc_buffer_puts(out, text);
		if (!strchr(text, '.'))
			tc_buffer_puts(out, ".0");
		return;
	}
	const char *digits = exponent + 1 + (exponent[1] == '+' || exponent[1] == '-');
	while (*digits == '0' && digits[1])
		digits++;
	tc_buffer_add(out, (tc_text){text, (size_t)(exponent - text)});
	tc_buffer_puts(out, exponent[1] == '-' ? "e-" : "e");
	tc_buffer_puts(out, digits);
}

/* --- trees ------------------------------------------------------------------------------------------------------- */

static void add_value(writing *w, const json_t *value);

static void add_array(writing *w, const json_t *array)
{
	const size_t count = json_array_size(array);
	tc_buffer_char(w->out, '[');
	w->depth++;
	for (size_t i = 0; i < count; i++) {
		if (i)
			tc_buffer_char(w->out, ',');
		end_line(w);
		add_value(w, json_array_get(array, i));
	}
	w->depth--;
	if (count)
		end_line(w);
	tc_buffer_char(w->out, ']');
}

/* What stands between the braces; false: nothing. */
static bool add_members(writing *w, const json_t *value)
{
	json_t *object = (json_t *)value; /* its walk takes no const, and changes nothing */
	bool first = true;
	for (void *at = json_object_iter(object); at; at = json_object_iter_next(object, at)) {
		const char *key = json_object_iter_key(at);
		if (!first)
			tc_buffer_char(w->out, ',');
		first = false;
		end_line(w);
		add_text(w->out, key, strlen(key));
		tc_buffer_puts(w->out, w->tight ? ":" : ": ");
		add_value(w, json_object_iter_value(at));
	}
	return !first;
}

static void add_object(writing *w, const json_t *object)
{
	tc_buffer_char(w->out, '{');
	w->depth++;
	const bool any = add_members(w, object);
	w->depth--;
	if (any)
		end_line(w);
	tc_buffer_char(w->out, '}');
}

static void add_value(writing *w, const json_t *value)
{
	switch (json_typeof(value)) {
	case JSON_OBJECT:
		add_object(w, value);
		break;
	case JSON_ARRAY:
		add_array(w, value);
		break;
	case JSON_STRING:
		add_text(w->out, json_string_value(value), json_string_length(value));
		break;
	case JSON_INTEGER:
		add_integer(w->out, json_integer_value(value));
		break;
	case JSON_REAL:
		add_real(w->out, json_real_value(value));
		break;
	case JSON_TRUE:
		tc_buffer_puts(w->out, "true");
		break;
	case JSON_FALSE:
		tc_buffer_puts(w->out, "false");
		break;
	case JSON_NULL:
		tc_buffer_puts(w->out, "null");
		break;
	}
}

static void write(tc_json *json, const json_t *value, writing *w, bool bare)
{
	if (json->failed || !value) {
		json->failed = true;
		return;
	}
	if (bare)
		add_members(w, value);
	else
		add_value(w, value);
	json->failed = w->out->failed;
}

void tc_json_write(tc_json *json, const json_t *value, size_t depth, tc_buffer *out)
{
	write(json, value, &(writing){.out = out, .depth = depth}, false);
}

void tc_json_write_line(tc_json *json, const json_t *value, bool bare, tc_buffer *out)
{
	write(json, value, &(writing){.out = out, .tight = true}, bare);
}
