/* From a byte of a scalar's decoded text back to the byte of the file that it came from. The source is walked again by
 * the scalar's style, after libyaml's own way of reading it, and compared with the text on the way; nothing is kept. */
#include <string.h>

#include "read/private.h"

/* The walk: what is decoded is compared with the scalar's text, and the origin of byte `wanted` remembered. */
typedef struct walk {
	const char *at; /* the whole source */
	size_t i, end;  /* here; one past the last byte that may belong to the scalar */
	const tc_node *scalar;
	size_t decoded; /* bytes so far */
	size_t wanted;
	size_t origin; /* of byte `wanted`, once `decoded` is beyond it */
	bool differs;
} walk;

static void emit(walk *w, char c, size_t origin)
{
	if (w->decoded >= w->scalar->count || w->scalar->text[w->decoded] != c)
		w->differs = true;
	if (w->decoded == w->wanted)
		w->origin = origin;
	w->decoded++;
}

static bool more(const walk *w)
{
	return w->i < w->end && !w->differs;
}

static bool is_blank(char c)
{
	return c == ' ' || c == '\t';
}

/* The bytes of a line break at i, or 0. */
static size_t line_break(const walk *w, size_t i)
{
	if (i < w->end && w->at[i] == '\n')
		return 1;
	return i + 1 < w->end && w->at[i] == '\r' && w->at[i + 1] == '\n' ? 2 : 0;
}

static bool at_space(const walk *w)
{
	return is_blank(w->at[w->i]) || line_break(w, w->i) > 0;
}

/* Emits a line feed for each line break between two offsets; blanks between are dropped. */
static void emit_breaks(walk *w, size_t from, size_t to)
{
	for (size_t i = from; i < to;) {
		const size_t bytes = line_break(w, i);
		if (bytes)
			emit(w, '\n', i);
		i += bytes ? bytes : 1;
	}
}

/* Blanks and line breaks inside a plain or quoted text: blanks alone stay; the first line break becomes a blank, or
 * nothing if more follow, which stay. After an escaped line break (`escaped`) there is no first one any more. */
static void fold(walk *w, bool escaped)
{
	const size_t from = w->i;
	size_t first = 0, after_first = 0;
	bool several = false;
	while (w->i < w->end && at_space(w)) {
		const size_t bytes = line_break(w, w->i);
		if (bytes && (after_first || escaped))
			several = true;
		else if (bytes) {
			first = w->i;
			after_first = w->i + bytes;
		}
		w->i += bytes ? bytes : 1;
	}
	if (w->i == w->end)
		return; /* at the end of a plain text blanks belong to nothing */
	if (escaped)
		emit_breaks(w, from, w->i);
	else if (several)
		emit_breaks(w, after_first, w->i);
	else if (after_first)
		emit(w, ' ', first);
	else
		for (size_t i = from; i < w->i; i++)
			emit(w, w->at[i], i);
}

static void walk_plain(walk *w)
{
	while (more(w)) {
		if (at_space(w)) {
			fold(w, false);
		} else {
			emit(w, w->at[w->i], w->i);
			w->i++;
		}
	}
}

/* Quoted texts are folded next to their quotes too: what ends the walk is the closing quote. */
static void walk_single(walk *w)
{
	w->i++;
	while (more(w)) {
		if (at_space(w)) {
			fold(w, false);
			continue;
		}
		const bool quote = w->at[w->i] == '\'';
		if (quote && (w->i + 1 >= w->end || w->at[w->i + 1] != '\''))
			return;
		emit(w, w->at[w->i], w->i);
		w->i += quote ? 2 : 1;
	}
}

/* --- escapes ------------------------------------------------------------------------------------------------------ */

/* Emits a code point in UTF-8, all of it from one origin. */
static void emit_point(walk *w, uint32_t p, size_t origin)
{
	if (p < 0x80) {
		emit(w, (char)p, origin);
		return;
	}
	const int following = p < 0x800 ? 1 : p < 0x10000 ? 2 : 3;
	static const unsigned lead[] = {0, 0xC0, 0xE0, 0xF0};
	emit(w, (char)(lead[following] | p >> 6 * following), origin);
	for (int i = following - 1; i >= 0; i--)
		emit(w, (char)(0x80 | (p >> 6 * i & 0x3F)), origin);
}

/* `digits` hexadecimal digits at i; UINT32_MAX if they are not all there. */
static uint32_t hexadecimal(const walk *w, size_t i, unsigned digits)
{
	uint32_t value = 0;
	for (; digits; digits--, i++) {
		const char c = i < w->end ? w->at[i] : 'x';
		if (c >= '0' && c <= '9')
			value = value << 4 | (uint32_t)(c - '0');
		else if ((c >= 'a' && c <= 'f') || (c >= 'A' && c <= 'F'))
			value = value << 4 | (uint32_t)((c | 0x20) - 'a' + 10);
		else
			return UINT32_MAX;
	}
	return value;
}

/* The character of a one-letter escape (YAML 1.1, section 5.6), UINT32_MAX if there is none. */
static uint32_t letter_escape(char c)
{
	static const char letters[] = "0abt\tnvfre \"'/\\N_LP";
	static const uint32_t points[] = {
	    0, 7, 8, 9, 9, 10, 11, 12, 13, 27, ' ', '"', '\'', '/', '\\', 0x85, 0xA0, 0x2028, 0x2029};
	const char *found = c ? strchr(letters, c) : NULL;
	return found ? points[found - letters] : UINT32_MAX;
}

/* One escape that is not a line break; the walk stands at its backslash. */
static void walk_escape(walk *w)
{
	const size_t origin = w->i;
	const char letter = w->i + 1 < w->end ? w->at[w->i + 1] : 0;
	const unsigned digits = letter == 'x' ? 2 : letter == 'u' ? 4 : letter == 'U' ? 8 : 0;
	const uint32_t point = digits ? hexadecimal(w, w->i + 2, digits) : letter_escape(letter);
	if (point > 0x10FFFF)
		w->differs = true;
	else
		emit_point(w, point, origin);
	w->i += 2 + digits;
}

static void walk_double(walk *w)
{
	w->i++;
	while (more(w) && w->at[w->i] != '"') {
		if (at_space(w)) {
			fold(w, false);
		} else if (w->at[w->i] != '\\') {
			emit(w, w->at[w->i], w->i);
			w->i++;
		} else if (line_break(w, w->i + 1)) {
			w->i += 1 + line_break(w, w->i + 1);
			fold(w, true);
		} else {
			walk_escape(w);
		}
	}
}

/* --- blocks
 * --------------------------------------------------------------------------------------------------------- */

/* What stands behind `|` or `>`: `-` strips the last line breaks, `+` keeps them all; a digit sets the indentation. */
typedef struct block_header {
	bool strip, keep, explicit_indent;
} block_header;

static size_t spaces_at(const walk *w, size_t i)
{
	size_t n = 0;
	while (i + n < w->end && w->at[i + n] == ' ')
		n++;
	return n;
}

/* Reads the header line and goes to the start of the next. */
static block_header walk_header(walk *w)
{
	block_header h = {0};
	for (w->i++; more(w) && !at_space(w) && w->at[w->i] != '#'; w->i++) {
		h.strip |= w->at[w->i] == '-';
		h.keep |= w->at[w->i] == '+';
		h.explicit_indent |= w->at[w->i] >= '1' && w->at[w->i] <= '9';
	}
	while (more(w) && !line_break(w, w->i))
		w->i++; /* blanks and a comment */
	w->i += line_break(w, w->i);
	return h;
}

/* The indentation of a block whose header does not set it: that of its first line that is more than blanks, or of the
 * longest of blanks before it. */
static size_t found_indent(const walk *w)
{
	size_t i = w->i, widest = 0;
	for (;;) {
		const size_t spaces = spaces_at(w, i);
		widest = spaces > widest ? spaces : widest;
		const size_t bytes = line_break(w, i + spaces);
		if (bytes == 0)
			return widest;
		i += spaces + bytes;
	}
}

/* If the header sets it, it counts from that of what is around, which is not known here. But the text tells: it begins
 * with a line feed for each empty line, and then with the blanks that the first line has beyond the indentation. */
static size_t told_indent(const walk *w)
{
	const tc_text text = tc_node_text(w->scalar);
	size_t i = w->i, n = 0, extra = 0;
	for (; n < text.length && text.at[n] == '\n'; n++) {
		i += spaces_at(w, i);
		i += line_break(w, i);
	}
	if (n == text.length)
		return SIZE_MAX; /* there are empty lines only, however many blanks they have */
	while (n + extra < text.length && text.at[n + extra] == ' ')
		extra++;
	const size_t spaces = spaces_at(w, i);
	return spaces > extra ? spaces - extra : 0;
}

/* Passes over line breaks and indentation up to the next line of the block's text. */
static void skip_breaks(walk *w, size_t indent)
{
	for (;;) {
		const size_t spaces = spaces_at(w, w->i);
		w->i += spaces < indent ? spaces : indent;
		const size_t bytes = line_break(w, w->i);
		if (bytes == 0)
			return;
		w->i += bytes;
	}
}

/* How many blanks stand before i on its line. */
static size_t column(const walk *w, size_t i)
{
	size_t n = 0;
	while (n < i && w->at[i - n - 1] == ' ')
		n++;
	return n;
}

static void walk_block(walk *w)
{
	const bool literal = w->scalar->style == TC_LITERAL;
	const block_header h = walk_header(w);
	const size_t indent = h.explicit_indent ? told_indent(w) : found_indent(w);
	/* The line break that ended the last line, and those of the empty lines behind it. */
	size_t leading = w->i, leading_end = w->i, trailing = w->i;
	bool blank_before = false;
	skip_breaks(w, indent);
	size_t trailing_end = w->i;
	while (more(w) && indent > 0 && column(w, w->i) == indent) {
		const bool blank = is_blank(w->at[w->i]);
		const bool folds = !literal && leading_end > leading && !blank_before && !blank;
		if (!folds)
			emit_breaks(w, leading, leading_end);
		else if (!memchr(w->at + trailing, '\n', trailing_end - trailing))
			emit(w, ' ', leading);
		emit_breaks(w, trailing, trailing_end);
		blank_before = blank;
		while (more(w) && !line_break(w, w->i)) {
			emit(w, w->at[w->i], w->i);
			w->i++;
		}
		leading = w->i;
		w->i += line_break(w, w->i);
		leading_end = trailing = w->i;
		skip_breaks(w, indent);
		trailing_end = w->i;
	}
	if (!h.strip)
		emit_breaks(w, leading, leading_end);
	if (h.keep)
		emit_breaks(w, trailing, trailing_end);
	w->i = h.strip ? leading : h.keep ? trailing_end : leading_end;
}

/* --- all together
 * --------------------------------------------------------------------------------------------------- */

/* Blanks, line breaks and comments between an anchor and its text. */
static size_t skip_between(tc_text text, size_t i)
{
	while (i < text.length) {
		const char c = text.at[i];
		if (c == '#')
			while (i < text.length && text.at[i] != '\n')
				i++;
		else if (is_blank(c) || c == '\n' || c == '\r')
			i++;
		else
			break;
	}
	return i;
}

static bool in_anchor_name(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
}

size_t tc_node_behind_properties(tc_text text, size_t offset, bool *tagged)
{
	size_t i = offset;
	if (tagged)
		*tagged = false;
	while (i < text.length && (text.at[i] == '&' || text.at[i] == '!')) {
		const bool anchor = text.at[i++] == '&';
		if (tagged)
			*tagged |= !anchor;
		while (i < text.length &&
		       (anchor ? in_anchor_name(text.at[i]) : !is_blank(text.at[i]) && text.at[i] != '\n'))
			i++;
		i = skip_between(text, i);
	}
	return i;
}

bool tc_node_origin(const tc_source *source, const tc_node *scalar, size_t index, size_t *origin)
{
	const tc_text text = tc_source_text(source);
	if (scalar->kind != TC_SCALAR || scalar->end > text.length)
		return false;
	const size_t start = tc_node_behind_properties(text, scalar->offset, NULL);
	walk w = {.at = text.at, .i = start, .end = scalar->end, .scalar = scalar, .wanted = index};
	if (start >= scalar->end)
		return false;
	if (scalar->style == TC_PLAIN)
		walk_plain(&w);
	else if (scalar->style == TC_SINGLE)
		walk_single(&w);
	else if (scalar->style == TC_DOUBLE)
		walk_double(&w);
	else
		walk_block(&w);
	*origin = index < w.decoded ? w.origin : w.i; /* behind the last byte the end of the text */
	return !w.differs && w.decoded == scalar->count;
}

tc_place tc_node_text_place(const tc_source *source, const tc_node *scalar, size_t index)
{
	const tc_text text = tc_source_text(source);
	size_t origin;
	if (!tc_node_origin(source, scalar, index, &origin))
		return tc_node_place(source, scalar);
	while (origin > 0 && origin < text.length && ((unsigned char)text.at[origin] & 0xC0) == 0x80)
		origin--; /* inside a character: its start */
	return tc_source_place(source, origin);
}
