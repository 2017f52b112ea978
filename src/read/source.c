#include "read/source.h"

#include <string.h>

#include "base/limits.h"
#include "read/private.h"

#define FAULTS_MAX 20 /* characters complained of one by one; a file with more is no text */
#define DIRECTIVES_MAX 64

struct tc_source {
	const char *name;
	tc_text text;
	uint32_t *starts; /* byte offset of the start of each line */
	uint32_t lines;
	bool ascii, readable;
};

/* --- lines ------------------------------------------------------------------------------------------------------ */

#define EACH_BYTE(b) (0x0101010101010101u * (uint64_t)(b))

static uint64_t eight_bytes(const char *at)
{
	uint64_t word;
	memcpy(&word, at, sizeof word);
	return word;
}

static size_t count_lines(tc_text text)
{
	size_t lines = 1, i = 0;
	for (; text.length - i >= 8; i += 8) {
		/* The upper bit of each byte of `other` is set unless that byte is a line feed. */
		const uint64_t word = eight_bytes(text.at + i) ^ EACH_BYTE('\n');
		const uint64_t other = ((word & EACH_BYTE(0x7F)) + EACH_BYTE(0x7F)) | word;
		lines += (~other >> 7 & EACH_BYTE(1)) * EACH_BYTE(1) >> 56;
	}
	for (; i < text.length; i++)
		lines += text.at[i] == '\n';
	return lines;
}

/* Of a file that is too large only its start can be named: offsets are 32 bits wide. */
static bool find_lines(tc_source *source, tc_arena *arena)
{
	const tc_text text = {source->text.at, source->text.length <= TC_FILE_MAX ? source->text.length : 0};
	source->starts = TC_ARRAY(arena, count_lines(text), uint32_t);
	if (!source->starts)
		return false;
	source->starts[source->lines++] = 0;
	for (const char *at = text.at, *end = text.at + text.length; at < end;) {
		const char *feed = memchr(at, '\n', (size_t)(end - at));
		if (!feed)
			break;
		at = feed + 1;
		source->starts[source->lines++] = (uint32_t)(at - text.at);
	}
	return true;
}

tc_place tc_source_place(const tc_source *source, size_t offset)
{
	if (offset > source->text.length)
		offset = source->text.length;
	uint32_t low = 0, high = source->lines;
	while (high - low > 1) {
		const uint32_t middle = low + (high - low) / 2;
		if (source->starts[middle] <= offset)
			low = middle;
		else
			high = middle;
	}
	const size_t start = source->starts[low];
	const size_t before = tc_utf8_count(source->text.at + start, offset - start);
	return (tc_place){source->name, low + 1, (uint32_t)before + 1};
}

/* --- characters --------------------------------------------------------------------------------------------------- */

/* Bytes of plain ASCII text at the start: no control character, nothing beyond. */
static size_t plain_bytes(tc_text text, size_t from)
{
	size_t i = from;
	for (; text.length - i >= 8; i += 8) {
		const uint64_t word = eight_bytes(text.at + i);
		const uint64_t high = word | (word + EACH_BYTE(1)); /* 0x7F and above */
		const uint64_t low = (word - EACH_BYTE(0x20)) & ~word;
		if ((high | low) & EACH_BYTE(0x80))
			break;
	}
	for (; i < text.length; i++) {
		const unsigned char c = (unsigned char)text.at[i];
		if (c < 0x20 || c >= 0x7F)
			break;
	}
	return i - from;
}

static bool is_refused(uint32_t point)
{
	if (point < 0x20)
		return point != '\t' && point != '\n';
	return (point >= 0x7F && point < 0xA0) || point == 0x2028 || point == 0x2029 || point == 0xFEFF ||
	       point == 0xFFFE || point == 0xFFFF;
}

static void refuse(const tc_source *source, size_t offset, uint32_t point, tc_diags *diags)
{
	const tc_place place = tc_source_place(source, offset);
	const unsigned p = (unsigned)point;
	if (point == '\r')
		tc_diag_add(diags, TC_ERROR, "line-break", place,
		    "a carriage return (U+000D) without a line feed; end lines with LF or CR LF");
	else if (point == 0x85 || point == 0x2028 || point == 0x2029)
		tc_diag_add(diags, TC_ERROR, "line-break", place,
		    "U+%04X ends a line for YAML and not for editors; write a line feed or a blank", p);
	else if (point == 0xFEFF)
		tc_diag_add(diags, TC_ERROR, "control-character", place,
		    "a byte order mark (U+FEFF) inside the text; take it out");
	else
		tc_diag_add(
		    diags, TC_ERROR, "control-character", place, "the control character U+%04X; take it out", p);
}

/* Looks at each character of the text, which is well-formed UTF-8; false if one is refused. */
static bool check_characters(tc_source *source, tc_text text, tc_diags *diags)
{
	unsigned faults = 0;
	for (size_t i = 0; i < text.length && faults < FAULTS_MAX;) {
		i += plain_bytes(text, i);
		if (i == text.length)
			break;
		uint32_t point;
		const size_t bytes = tc_utf8_next(text.at + i, text.length - i, &point);
		if (bytes > 1)
			source->ascii = false;
		const bool pair = point == '\r' && i + 1 < text.length && text.at[i + 1] == '\n';
		if (!pair && is_refused(point)) {
			refuse(source, i, point, diags);
			faults++;
		}
		i += bytes;
	}
	return faults == 0;
}

/* --- encodings ---------------------------------------------------------------------------------------------------- */

/* The name of an encoding of two or four bytes a character that the bytes look like, or NULL. */
static const char *wide_encoding(tc_text bytes)
{
	static const struct {
		const char *start;
		size_t length;
		const char *name;
	} marks[] = {
	    {"\xFF\xFE\0\0", 4, "UTF-32"},
	    {"\0\0\xFE\xFF", 4, "UTF-32"},
	    {"\xFF\xFE", 2, "UTF-16"},
	    {"\xFE\xFF", 2, "UTF-16"},
	};
	for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
		if (bytes.length >= marks[i].length && memcmp(bytes.at, marks[i].start, marks[i].length) == 0)
			return marks[i].name;
	if (bytes.length >= 4 && (!bytes.at[0] != !bytes.at[1]) && (!bytes.at[2] != !bytes.at[3]))
		return "UTF-16";
	return NULL;
}

static bool check_encoding(const tc_source *source, size_t good, tc_diags *diags)
{
	const tc_text text = source->text;
	const char *wide = wide_encoding(text);
	if (wide) {
		tc_diag_add(diags, TC_ERROR, "encoding", (tc_place){.file = source->name},
		    "the file is in %s; save it as UTF-8 (in most editors: Save As, Encoding)", wide);
		return false;
	}
	if (good < text.length) {
		tc_diag_add(diags, TC_ERROR, "encoding", tc_source_place(source, good),
		    "the byte 0x%02X is not UTF-8 here; the file seems to be in another encoding, save it as UTF-8",
		    (unsigned)(unsigned char)text.at[good]);
		return false;
	}
	return true;
}

/* --- what libyaml would take minutes over ------------------------------------------------------------------------- */

/* Nesting needs no look ahead: libyaml's scanner is quadratic in it, but runs at most 1024 characters (the longest key)
 * ahead of the events that it hands out, and the reader stops at the event that goes too deep. Measured with 8 MB of
 * `[`, `{`, `[a,`, `{a: `, `- `, `? ` and mixtures: 2 ms at most. Directives come before any event, and each `%TAG` is
 * compared with all earlier ones: 1 MB of them takes 4.7 s. */
static bool check_directives(const tc_source *source, tc_diags *diags)
{
	unsigned found = 0;
	for (uint32_t i = 0; i < source->lines; i++) {
		const size_t start = source->starts[i];
		if (start == source->text.length || source->text.at[start] != '%')
			continue;
		if (++found > DIRECTIVES_MAX) {
			tc_diag_add(diags, TC_ERROR, "too-large", tc_source_place(source, start),
			    "more than %d lines begin with `%%`; directives are not needed, take them out",
			    DIRECTIVES_MAX);
			return false;
		}
	}
	return true;
}

/* --- all together ------------------------------------------------------------------------------------------------- */

static void check(tc_source *source, tc_diags *diags)
{
	const tc_text text = source->text;
	if (text.length > TC_FILE_MAX) {
		tc_diag_add(diags, TC_ERROR, "too-large", (tc_place){.file = source->name},
		    "the file has %zu bytes; at most %u are read", text.length, TC_FILE_MAX);
		return;
	}
	const size_t good = tc_utf8_bad(text.at, text.length);
	if (!check_encoding(source, good, diags))
		return;
	const bool characters = check_characters(source, text, diags);
	source->readable = check_directives(source, diags) && characters;
}

tc_status tc_source_new(
    tc_arena *arena, const char *name, const char *bytes, size_t length, tc_diags *diags, tc_source **source)
{
	*source = NULL;
	tc_source *fresh = TC_NEW(arena, tc_source);
	const char *own_name = fresh ? tc_arena_text(arena, name, strlen(name)) : NULL;
	if (!own_name)
		return TC_NO_MEMORY;
	const size_t mark = length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
	*fresh = (tc_source){.name = own_name, .text = {length ? bytes + mark : "", length - mark}, .ascii = true};
	if (!find_lines(fresh, arena))
		return TC_NO_MEMORY;
	check(fresh, diags);
	if (tc_arena_failed(arena))
		return TC_NO_MEMORY;
	*source = fresh;
	return fresh->readable ? TC_OK : TC_BAD;
}

const char *tc_source_name(const tc_source *source)
{
	return source->name;
}

tc_text tc_source_text(const tc_source *source)
{
	return source->text;
}

bool tc_source_readable(const tc_source *source)
{
	return source->readable;
}

bool tc_source_is_ascii(const tc_source *source)
{
	return source->ascii;
}
