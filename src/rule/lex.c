/* Words of an expression. Nothing is looked ahead: the parser says where, and whether ids or fields are due. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "rule/private.h"

static const char *const names[TC_TOKENS] = {[TC_TOK_END] = "the end",
    [TC_TOK_NUMBER] = "a number",
    [TC_TOK_NAME] = "a name",
    [TC_TOK_ID] = "an id",
    [TC_TOK_TEXT] = "a text",
    [TC_TOK_PAREN] = "(",
    [TC_TOK_PAREN_END] = ")",
    [TC_TOK_BRACKET] = "[",
    [TC_TOK_BRACKET_END] = "]",
    [TC_TOK_COMMA] = ",",
    [TC_TOK_POINT] = ".",
    [TC_TOK_PLUS] = "+",
    [TC_TOK_MINUS] = "-",
    [TC_TOK_TIMES] = "*",
    [TC_TOK_SLASH] = "/",
    [TC_TOK_LESS] = "<",
    [TC_TOK_LESS_SAME] = "<=",
    [TC_TOK_MORE] = ">",
    [TC_TOK_MORE_SAME] = ">=",
    [TC_TOK_SAME] = "=",
    [TC_TOK_NOT_SAME] = "!=",
#define X(id, word) [TC_TOK_##id] = word,
    TC_KEYWORDS(X)
#undef X
};

const char *tc_token_name(tc_token_kind kind)
{
	return kind < TC_TOKENS && names[kind] ? names[kind] : "";
}

static tc_token_kind keyword(tc_text word)
{
	for (tc_token_kind k = TC_TOK_KEYWORD + 1; k < TC_TOKENS; k++)
		if (tc_text_is(word, names[k]))
			return k;
	return TC_TOK_NAME;
}

bool tc_is_keyword(tc_text word)
{
	return keyword(word) != TC_TOK_NAME;
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static bool is_small(char c)
{
	return c >= 'a' && c <= 'z';
}

static char at_of(tc_text text, uint32_t at)
{
	return at < text.length ? text.at[at] : '\0';
}

static tc_text after(tc_text text, uint32_t at)
{
	return (tc_text){text.at + at, text.length - at};
}

static uint32_t skip_blanks(tc_text text, uint32_t at)
{
	for (size_t blank; at < text.length && (blank = tc_blank_length(text.at + at, text.length - at)) != 0;)
		at += (uint32_t)blank;
	return at;
}

static tc_token bad(tc_token token, tc_lex_error *error, const char *id, uint32_t at, const char *format, ...)
    __attribute__((format(printf, 5, 6)));
static tc_token bad(tc_token token, tc_lex_error *error, const char *id, uint32_t at, const char *format, ...)
{
	va_list list;
	va_start(list, format);
	vsnprintf(error->message, sizeof error->message, format, list);
	va_end(list);
	error->at = at;
	error->id = id;
	token.kind = TC_TOK_BAD;
	return token;
}

/* --- numbers ------------------------------------------------------------------------------------------------------ */

/* `7,5`, `1 000`, `1_000`, `7.`, `1e5x` … */
static bool number_misspelt(tc_text text, tc_token *token, tc_lex_error *error)
{
	const char next = at_of(text, token->to), second = at_of(text, token->to + 1);
	const uint32_t behind = skip_blanks(text, token->to);
	const tc_text written = {text.at + token->from, token->to - token->from};
	if (next == ',' && is_digit(second))
		*token = bad(*token, error, "number-form", token->from,
		    "`%.*s,%c` has a comma; the decimal sign is a point, and in a list a blank follows the comma",
		    TC_TEXT_F(written), second);
	else if (next == '_' && is_digit(second))
		*token = bad(*token, error, "number-form", token->from,
		    "`%.*s_%c` has a `_`; digits stand without marks between them", TC_TEXT_F(written), second);
	else if (behind > token->to && is_digit(at_of(text, behind)))
		*token = bad(*token, error, "number-form", token->from,
		    "`%.*s %c` has a blank; digits stand without marks between them", TC_TEXT_F(written),
		    at_of(text, behind));
	else if (next == '.' && !is_small(second))
		*token = bad(*token, error, "number-form", token->from, "`%.*s.` has a point without digits behind it",
		    TC_TEXT_F(written));
	else
		return false;
	return true;
}

/* A unit, with or without a blank before it. A keyword is none. */
static void take_unit(tc_text text, tc_token *token)
{
	const uint32_t at = skip_blanks(text, token->to);
	uint32_t end = at;
	while (is_small(at_of(text, end)) || at_of(text, end) == '_')
		end++;
	const tc_text word = {text.at + at, end - at};
	if (at == text.length || (word.length && !tc_text_is(word, "in") && tc_is_keyword(word)))
		return;
	const size_t bytes = tc_unit_read(after(text, at), &token->unit);
	if (bytes)
		token->to = at + (uint32_t)bytes;
	else
		token->unit = NULL;
}

static tc_token number(tc_text text, tc_token token, tc_lex_error *error)
{
	const size_t bytes = tc_number_read(text.at + token.from, text.length - token.from, true, &token.number);
	if (bytes == 0)
		return bad(token, error, "number-form", token.from, "`%c` begins no number", at_of(text, token.from));
	token.kind = TC_TOK_NUMBER;
	token.to = token.from + (uint32_t)bytes;
	if (!isfinite(token.number))
		return bad(token, error, "number-form", token.from, "`%.*s` is too large a number", (int)bytes,
		    text.at + token.from);
	if (number_misspelt(text, &token, error))
		return token;
	take_unit(text, &token);
	const char next = at_of(text, token.to);
	if (!token.unit && (is_small(next) || (next >= 'A' && next <= 'Z') || (unsigned char)next >= 0x80)) {
		uint32_t end = token.to;
		while (end < text.length && tc_blank_length(text.at + end, text.length - end) == 0 &&
		       text.at[end] != ')' && text.at[end] != ',' && text.at[end] != ']')
			end++;
		const tc_text word = {text.at + token.to, end - token.to}, near = tc_unit_nearest(word);
		if (skip_blanks(text, token.to) == token.to)
			return bad(token, error, "unit", token.to, "no unit `%.*s`%s%.*s%s", TC_TEXT_F(word),
			    near.length ? "; `" : "", TC_TEXT_F(near), near.length ? "` is near" : "");
	}
	return token;
}

/* A `-` that touches a digit belongs to the number where no operand stands before it to subtract from, and also behind a
 * blank: `gap -5 h` is no subtraction. */
static bool begins_number(tc_text text, tc_token token, tc_token_kind before)
{
	const char c = at_of(text, token.from);
	if (is_digit(c))
		return true;
	if (c != '-' || !is_digit(at_of(text, token.from + 1)))
		return false;
	const bool operand = before == TC_TOK_NUMBER || before == TC_TOK_NAME || before == TC_TOK_TEXT ||
	                     before == TC_TOK_ID || before == TC_TOK_PAREN_END || before == TC_TOK_BRACKET_END;
	return token.blank_before || !operand;
}

/* --- other words --------------------------------------------------------------------------------------------------- */

static tc_token quoted(tc_text text, tc_token token, tc_lex_error *error)
{
	for (uint32_t i = token.from + 1; i < text.length; i++) {
		if (text.at[i] != '\'')
			continue;
		if (at_of(text, i + 1) == '\'') {
			i++;
			continue;
		}
		token.kind = TC_TOK_TEXT;
		token.to = i + 1;
		return token;
	}
	return bad(token, error, "syntax", token.from, "a text begins here and does not end; `'` is expected");
}

const char *tc_lex_text(tc_arena *arena, tc_text text, tc_token token)
{
	char *out = tc_arena_get(arena, token.to - token.from);
	if (!out)
		return NULL;
	size_t length = 0;
	for (uint32_t i = token.from + 1; i + 1 < token.to; i++) {
		out[length++] = text.at[i];
		i += text.at[i] == '\'';
	}
	out[length] = '\0';
	return out;
}

static tc_token word(tc_text text, tc_token token, bool fields)
{
	token.to = token.from;
	while (is_small(at_of(text, token.to)) || is_digit(at_of(text, token.to)) || at_of(text, token.to) == '_')
		token.to++;
	const tc_text w = {text.at + token.from, token.to - token.from};
	token.kind = fields ? TC_TOK_NAME : keyword(w);
	return token;
}

static tc_token sign(tc_text text, tc_token token, tc_lex_error *error)
{
	static const struct {
		const char *written;
		tc_token_kind kind;
	} signs[] = {{"<=", TC_TOK_LESS_SAME}, {">=", TC_TOK_MORE_SAME}, {"!=", TC_TOK_NOT_SAME}, {"<", TC_TOK_LESS},
	    {">", TC_TOK_MORE}, {"=", TC_TOK_SAME}, {"(", TC_TOK_PAREN}, {")", TC_TOK_PAREN_END}, {"[", TC_TOK_BRACKET},
	    {"]", TC_TOK_BRACKET_END}, {",", TC_TOK_COMMA}, {".", TC_TOK_POINT}, {"+", TC_TOK_PLUS},
	    {"-", TC_TOK_MINUS}, {"*", TC_TOK_TIMES}, {"/", TC_TOK_SLASH}};
	const tc_text rest = after(text, token.from);
	if (tc_text_starts(rest, "=="))
		return bad(token, error, "syntax", token.from, "`==` is not a sign of the language; write `=`");
	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++) {
		if (!tc_text_starts(rest, signs[i].written))
			continue;
		token.kind = signs[i].kind;
		token.to = token.from + (uint32_t)strlen(signs[i].written);
		return token;
	}
	return token;
}

/* A character that begins nothing. */
static tc_token stray(tc_text text, tc_token token, tc_lex_error *error)
{
	static const struct {
		const char *written, *say;
	} known[] = {{"\xE2\x88\x92", "`\xE2\x88\x92` is not the minus of the keyboard; write `-`"},
	    {"\xE2\x80\x93", "`\xE2\x80\x93` is a dash; write `-`"}, {"\xE2\x89\xA4", "`\xE2\x89\xA4` is written `<=`"},
	    {"\xE2\x89\xA5", "`\xE2\x89\xA5` is written `>=`"}, {"\xE2\x89\xA0", "`\xE2\x89\xA0` is written `!=`"},
	    {"\xC3\x97", "`\xC3\x97` is written `*`"}, {"\"", "a text stands in single quotes: `'…'`"},
	    {"!", "`!` alone is no sign; write `not`, or `!=`"}, {"&", "`&` is written `and`"},
	    {"|", "`|` is written `or`"}, {"%", "`%` stands right behind a number"}};
	const tc_text rest = after(text, token.from);
	for (size_t i = 0; i < sizeof known / sizeof *known; i++)
		if (tc_text_starts(rest, known[i].written))
			return bad(token, error, "syntax", token.from, "%s", known[i].say);
	const char c = rest.at[0];
	if (c >= 'A' && c <= 'Z')
		return bad(
		    token, error, "syntax", token.from, "`%c` is a capital; names are written in small letters", c);
	uint32_t point;
	if (tc_utf8_bad(rest.at, rest.length < 4 ? rest.length : 4) == 0)
		return bad(token, error, "syntax", token.from, "this is not UTF-8");
	const size_t bytes = tc_utf8_next(rest.at, rest.length, &point);
	return bad(token, error, "syntax", token.from, "`%.*s` means nothing here", (int)bytes, rest.at);
}

static tc_token start(tc_text text, uint32_t at)
{
	tc_token token = {.kind = TC_TOK_END, .from = skip_blanks(text, at)};
	token.to = token.from;
	token.blank_before = token.from > at || at == 0;
	return token;
}

static tc_token lex(tc_text text, tc_token token, tc_token_kind before, bool fields, tc_lex_error *error)
{
	if (token.from == text.length)
		return token;
	const char c = text.at[token.from];
	if (!fields && begins_number(text, token, before))
		return number(text, token, error);
	if (is_small(c))
		return word(text, token, fields);
	if (c == '\'')
		return quoted(text, token, error);
	if (c == '.' && is_digit(at_of(text, token.from + 1)) && before != TC_TOK_NAME && before != TC_TOK_PAREN_END)
		return bad(token, error, "number-form", token.from, "`.%c` has no digit before the point; write `0.%c`",
		    at_of(text, token.from + 1), at_of(text, token.from + 1));
	const tc_token found = sign(text, token, error);
	return found.kind == TC_TOK_END ? stray(text, token, error) : found;
}

tc_token tc_lex(tc_text text, uint32_t at, tc_token_kind before, tc_lex_error *error)
{
	return lex(text, start(text, at), before, false, error);
}

tc_token tc_lex_field(tc_text text, uint32_t at, tc_lex_error *error)
{
	return lex(text, start(text, at), TC_TOK_POINT, true, error);
}

tc_token tc_lex_id(tc_text text, uint32_t at, tc_lex_error *error)
{
	tc_token token = start(text, at);
	const char c = at_of(text, token.from);
	if (!is_small(c) && !is_digit(c))
		return lex(text, token, TC_TOK_IS, true, error);
	while (is_small(at_of(text, token.to)) || is_digit(at_of(text, token.to)) || at_of(text, token.to) == '-')
		token.to++;
	const tc_text id = {text.at + token.from, token.to - token.from};
	token.kind = TC_TOK_ID;
	if (tc_text_is(id, "not") || tc_text_is(id, "one") || tc_text_is(id, "of"))
		token.kind = keyword(id);
	else if (at_of(text, token.to) == '_')
		return bad(token, error, "syntax", token.to, "ids have no `_`; write `-`");
	return token;
}
