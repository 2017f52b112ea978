/* Text as XML has it. */
#include "report/xml.h"

#define REPLACEMENT "\xEF\xBF\xBD"

static const char *entity(uint32_t point, bool attribute)
{
	switch (point) {
	case '<':
		return "&lt;";
	case '>':
		return "&gt;";
	case '&':
		return "&amp;";
	case '"':
		return attribute ? "&quot;" : NULL;
	case '\n':
		return attribute ? "&#10;" : NULL;
	case '\t':
		return attribute ? "&#9;" : NULL;
	case 0xFFFE:
	case 0xFFFF:
		return REPLACEMENT;
	default:
		return NULL;
	}
}

static bool hidden(uint32_t point)
{
	return (point < 0x20 && point != '\n' && point != '\t') || (point >= 0x7F && point < 0xA0);
}

static void add_good(tc_buffer *out, tc_text text, bool attribute)
{
	for (size_t at = 0; at < text.length;) {
		uint32_t point;
		const size_t bytes = tc_utf8_next(text.at + at, text.length - at, &point);
		const char *instead = entity(point, attribute);
		if (instead)
			tc_buffer_puts(out, instead);
		else if (hidden(point))
			tc_buffer_print(out, "&lt;U+%04X&gt;", (unsigned)point);
		else
			tc_buffer_add(out, (tc_text){text.at + at, bytes});
		at += bytes;
	}
}

static void add(tc_buffer *out, const char *c_string, bool attribute)
{
	const tc_text text = tc_text_of(c_string);
	for (size_t from = 0; from < text.length;) {
		const size_t good = from + tc_utf8_bad(text.at + from, text.length - from);
		add_good(out, (tc_text){text.at + from, good - from}, attribute);
		if (good < text.length)
			tc_buffer_puts(out, REPLACEMENT);
		from = good + 1;
	}
}

void tc_xml_text(tc_buffer *out, const char *text)
{
	add(out, text, false);
}

void tc_xml_attribute(tc_buffer *out, const char *name, const char *value)
{
	tc_buffer_print(out, " %s=\"", name);
	add(out, value, true);
	tc_buffer_char(out, '"');
}

void tc_xml_count(tc_buffer *out, const char *name, uint32_t value)
{
	tc_buffer_print(out, " %s=\"%u\"", name, (unsigned)value);
}
