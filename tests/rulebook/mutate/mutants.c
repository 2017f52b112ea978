/* Mutants of an expression, from its words: parentheses give the depth, `and`, `or` and commas the operands. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "mutants.h"
#include "rule/private.h"

#define DEPTH_MAX 64u

typedef struct word {
	tc_token token;
	uint32_t depth;
	uint32_t partner; /* of a parenthesis or a bracket: the other one */
} word;

typedef struct work {
	mutants *m;
	tc_text text;
	word *words;
	uint32_t count, room;
} work;

typedef struct span {
	uint32_t from, to; /* words, `to` excluded */
} span;

/* --- words ----------------------------------------------------------------------------------------------------------- */

/* How the next word must be read: after `is` come ids, after a point comes a field. */
typedef enum mode { MODE_PLAIN, MODE_IS, MODE_LIST } mode;

static mode mode_after(mode before, tc_token_kind last)
{
	if (last == TC_TOK_IS)
		return MODE_IS;
	if (before == MODE_LIST)
		return last == TC_TOK_BRACKET_END ? MODE_PLAIN : MODE_LIST;
	if (before == MODE_IS && last == TC_TOK_BRACKET)
		return MODE_LIST;
	return before == MODE_IS && last != TC_TOK_ID ? MODE_IS : MODE_PLAIN;
}

static bool add_word(work *w, tc_token token, uint32_t *open, uint32_t *depth)
{
	if (!tc_arena_grow(w->m->arena, (void **)&w->words, w->count, &w->room, sizeof *w->words))
		return false;
	word *new = &w->words[w->count];
	*new = (word){.token = token, .depth = *depth};
	if (token.kind == TC_TOK_PAREN || token.kind == TC_TOK_BRACKET) {
		if (*depth == DEPTH_MAX)
			return false;
		open[(*depth)++] = w->count;
	} else if (token.kind == TC_TOK_PAREN_END || token.kind == TC_TOK_BRACKET_END) {
		if (*depth == 0)
			return false;
		new->depth = --*depth;
		new->partner = open[*depth];
		w->words[new->partner].partner = w->count;
	}
	w->count++;
	return true;
}

static bool read_words(work *w)
{
	uint32_t open[DEPTH_MAX], depth = 0, at = 0;
	tc_token_kind last = TC_TOK_END;
	mode how = MODE_PLAIN;
	for (;;) {
		tc_lex_error error;
		how = mode_after(how, last);
		const tc_token token = last == TC_TOK_POINT ? tc_lex_field(w->text, at, &error)
		                       : how == MODE_PLAIN  ? tc_lex(w->text, at, last, &error)
		                                            : tc_lex_id(w->text, at, &error);
		if (token.kind == TC_TOK_END)
			return depth == 0;
		if (token.kind == TC_TOK_BAD || !add_word(w, token, open, &depth))
			return false;
		last = token.kind;
		at = token.to;
	}
}

static tc_token_kind kind_at(const work *w, uint32_t at)
{
	return at < w->count ? w->words[at].token.kind : TC_TOK_END;
}

/* --- adding ---------------------------------------------------------------------------------------------------------- */

/* The text with the bytes from `from` to `to` replaced. */
static bool replace(work *w, mutant_kind kind, const char *what, uint32_t from, uint32_t to, const char *by)
{
	mutants *m = w->m;
	if (!tc_arena_grow(m->arena, (void **)&m->at, m->count, &m->room, sizeof *m->at))
		return false;
	char *text = tc_arena_print(
	    m->arena, "%.*s%s%.*s", (int)from, w->text.at, by, (int)(w->text.length - to), w->text.at + to);
	m->at[m->count++] = (mutant){.kind = kind, .what = what, .at = from, .text = text};
	return text != NULL;
}

static tc_text text_of(const work *w, span s)
{
	const uint32_t from = w->words[s.from].token.from, to = w->words[s.to - 1].token.to;
	return (tc_text){w->text.at + from, to - from};
}

static bool insert_not(work *w, span s)
{
	const uint32_t at = w->words[s.from].token.from;
	return replace(w, MUTANT_FLIP, "`not` put before", at, at, "not ");
}

/* --- tests turned round ------------------------------------------------------------------------------------------------ */

static const struct {
	tc_token_kind kind;
	const char *by, *what;
} opposites[] = {
    {TC_TOK_LESS, ">=", ">= for <"},
    {TC_TOK_LESS_SAME, ">", "> for <="},
    {TC_TOK_MORE, "<=", "<= for >"},
    {TC_TOK_MORE_SAME, "<", "< for >="},
    {TC_TOK_SAME, "!=", "!= for ="},
    {TC_TOK_NOT_SAME, "=", "= for !="},
    {TC_TOK_ANY, "no", "`no` for `any`"},
    {TC_TOK_NO, "any", "`any` for `no`"},
};

static const char *opposite(tc_token_kind kind, const char **what)
{
	for (size_t i = 0; i < sizeof opposites / sizeof *opposites; i++)
		if (opposites[i].kind == kind) {
			*what = opposites[i].what;
			return opposites[i].by;
		}
	return NULL;
}

/* `x between a and b` as `(x < a or x > b)`, which stays false where x is absent. */
static bool flip_between(work *w, span s, uint32_t between)
{
	uint32_t and = between + 1;
	while (and < s.to && !(kind_at(w, and) == TC_TOK_AND && w->words[and].depth == w->words[between].depth))
		and++;
	if (and+1 >= s.to || between == s.from)
		return false;
	const tc_text x = text_of(w, (span){s.from, between}), a = text_of(w, (span){between + 1, and}),
	              b = text_of(w, (span){and+1, s.to});
	const char *by = tc_arena_print(w->m->arena, "(%.*s < %.*s or %.*s > %.*s)", (int)x.length, x.at, (int)a.length,
	    a.at, (int)x.length, x.at, (int)b.length, b.at);
	return by &&
	       replace(w, MUTANT_FLIP, "not between", w->words[s.from].token.from, w->words[s.to - 1].token.to, by);
}

static bool flip_is(work *w, uint32_t is)
{
	const uint32_t at = w->words[is].token.to;
	if (kind_at(w, is + 1) == TC_TOK_NOT)
		return replace(w, MUTANT_FLIP, "`is` for `is not`", at, w->words[is + 1].token.to, "");
	return replace(w, MUTANT_FLIP, "`is not` for `is`", at, at, " not");
}

static bool is_group(const work *w, span s)
{
	return kind_at(w, s.from) == TC_TOK_PAREN && w->words[s.from].partner == s.to - 1;
}

/* One operand of a chain, turned round. What stands in parentheses alone is turned round inside. */
static bool flip(work *w, span s)
{
	const uint32_t depth = w->words[s.from].depth;
	const char *by, *what;
	if (kind_at(w, s.from) == TC_TOK_NOT)
		return replace(w, MUTANT_FLIP, "`not` taken out", w->words[s.from].token.from,
		    w->words[s.from + 1].token.from, "");
	for (uint32_t i = s.from; i < s.to; i++) {
		const tc_token token = w->words[i].token;
		if (w->words[i].depth != depth)
			continue;
		if (token.kind == TC_TOK_BETWEEN)
			return flip_between(w, s, i);
		if (token.kind == TC_TOK_IS)
			return flip_is(w, i);
		if (token.kind == TC_TOK_IN || token.kind == TC_TOK_MATCHES)
			return insert_not(w, s);
		if (token.kind >= TC_TOK_LESS && token.kind <= TC_TOK_NOT_SAME && (by = opposite(token.kind, &what)))
			return replace(w, MUTANT_FLIP, what, token.from, token.to, by);
	}
	by = opposite(kind_at(w, s.from), &what);
	if (by)
		return replace(w, MUTANT_FLIP, what, w->words[s.from].token.from, w->words[s.from].token.to, by);
	if (is_group(w, s) || kind_at(w, s.from) == TC_TOK_NUMBER)
		return true;
	return insert_not(w, s);
}

/* --- operands left out ----------------------------------------------------------------------------------------------- */

static uint32_t next_of(const work *w, span s, tc_token_kind kind)
{
	const uint32_t depth = w->words[s.from].depth;
	bool between = false;
	for (uint32_t i = s.from; i < s.to; i++) {
		if (w->words[i].depth != depth)
			continue;
		if (kind_at(w, i) == TC_TOK_BETWEEN)
			between = true;
		else if (kind_at(w, i) == TC_TOK_AND && between)
			between = false;
		else if (kind_at(w, i) == kind)
			return i;
	}
	return s.to;
}

static bool chain(work *w, span s, tc_token_kind kind, bool inner);

static bool operand(work *w, span s, tc_token_kind kind, bool inner)
{
	return kind == TC_TOK_OR ? chain(w, s, TC_TOK_AND, inner) : flip(w, s);
}

/* Operands parted by `kind`: each is left out in turn, and looked into. */
static bool chain(work *w, span s, tc_token_kind kind, bool inner)
{
	const bool single = next_of(w, s, kind) == s.to;
	for (uint32_t from = s.from; from < s.to;) {
		const uint32_t end = next_of(w, (span){from, s.to}, kind);
		if (end == from || (end < s.to && end + 1 == s.to))
			return false;
		if (!single) {
			const bool last = end == s.to;
			const uint32_t a = last ? w->words[from - 1].token.from : w->words[from].token.from;
			const uint32_t b = last ? w->words[end - 1].token.to : w->words[end + 1].token.from;
			if (!replace(w, inner ? MUTANT_INNER : MUTANT_DROP, kind == TC_TOK_OR ? "of `or`" : "of `and`",
			        a, b, ""))
				return false;
		}
		if (!operand(w, (span){from, end}, kind, inner))
			return false;
		from = end + 1;
	}
	return true;
}

/* --- figures ----------------------------------------------------------------------------------------------------------- */

static bool shift(work *w, tc_token token)
{
	const char *at = w->text.at + token.from;
	const uint32_t length = token.to - token.from;
	uint32_t digits = 0;
	while (digits < length && strchr("-0123456789.", at[digits]))
		digits++;
	if (token.number == 0 || fabs(token.number) > 1e9)
		return true;
	for (int i = 0; i < 2; i++) {
		char by[32];
		snprintf(by, sizeof by, "%.10g", token.number * (i ? 0.5 : 2));
		if (!replace(w, MUTANT_SHIFT, i ? "halved" : "doubled", token.from, token.from + digits, by))
			return false;
	}
	return true;
}

/* --- the whole ----------------------------------------------------------------------------------------------------------- */

/* Whether an argument or the inside of parentheses is a test: it has a sign or word of one at its own depth. */
static bool is_test(const work *w, span s)
{
	const uint32_t depth = w->words[s.from].depth;
	for (uint32_t i = s.from; i < s.to; i++) {
		const tc_token_kind kind = kind_at(w, i);
		if (w->words[i].depth == depth &&
		    ((kind >= TC_TOK_LESS && kind <= TC_TOK_NOT_SAME) || kind == TC_TOK_IS || kind == TC_TOK_IN ||
		        kind == TC_TOK_BETWEEN || kind == TC_TOK_MATCHES || kind == TC_TOK_AND || kind == TC_TOK_OR ||
		        kind == TC_TOK_HAS || kind == TC_TOK_KNOWN || kind == TC_TOK_NOT))
			return true;
	}
	return false;
}

static bool asks_truth(tc_token_kind fold)
{
	return fold == TC_TOK_ANY || fold == TC_TOK_EVERY || fold == TC_TOK_NO || fold == TC_TOK_COUNT ||
	       fold == TC_TOK_FIRST || fold == TC_TOK_LAST;
}

/* What stands in a pair of parentheses: parts between commas, of which those are looked into that are tests. */
static bool inside(work *w, uint32_t open)
{
	const uint32_t close = w->words[open].partner, depth = w->words[open].depth + 1;
	const bool fold = open > 0 && asks_truth(kind_at(w, open - 1));
	uint32_t part = 0;
	for (uint32_t from = open + 1; from < close; part++) {
		uint32_t end = from;
		while (end < close && !(kind_at(w, end) == TC_TOK_COMMA && w->words[end].depth == depth))
			end++;
		const span s = {from, end};
		if (end > from && (is_test(w, s) || (fold && part == 1)) && !chain(w, s, TC_TOK_OR, true))
			return false;
		from = end + 1;
	}
	return true;
}

bool mutants_make(mutants *m, tc_text text)
{
	work w = {.m = m, .text = text};
	if (!read_words(&w) || w.count == 0)
		return false;
	if (!chain(&w, (span){0, w.count}, TC_TOK_OR, false))
		return false;
	for (uint32_t i = 0; i < w.count; i++) {
		const tc_token token = w.words[i].token;
		if (token.kind == TC_TOK_PAREN && !inside(&w, i))
			return false;
		if (token.kind == TC_TOK_NUMBER && !shift(&w, token))
			return false;
	}
	return true;
}
