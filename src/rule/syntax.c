/* Recursive descent: text to a tree. Each function is headed by its production (docs/language.md). Names are not looked at
 * here. The first error ends the reading of an expression: from then on every token is the end. */
#include <stdio.h>
#include <string.h>

#include "rule/private.h"

const char *const tc_compare_names[] = {"<", "<=", ">", ">=", "=", "!="};
const char *const tc_fold_names[] = {"any", "every", "no", "count", "sum", "least", "most", "first", "last"};
const char *const tc_range_names[] = {"earlier layers", "later layers", "earlier steps", "later steps", "layers since",
    "steps since", "all layers", "all steps", "all parts", "all products", "exposed", "passes"};
const char *const tc_free_names[] = {"min", "max", "abs"};

typedef struct parser {
	tc_compiler *c;
	uint32_t passage;
	tc_text text;
	tc_token now;
	uint32_t last_to; /* where the token before `now` ended */
	bool failed;
	tc_ast nothing; /* what a stopped parser writes to */
} parser;

static uint32_t expr(parser *p);
static uint32_t sum(parser *p);
static uint32_t path(parser *p);

/* --- tokens and errors ------------------------------------------------------------------------------------------- */

static void stop(parser *p)
{
	p->failed = true;
	p->now = (tc_token){.kind = TC_TOK_END, .from = (uint32_t)p->text.length, .to = (uint32_t)p->text.length};
}

#define FAIL(p, id, at, ...)                                                                                           \
	do {                                                                                                           \
		if (!(p)->failed)                                                                                      \
			tc_wrong((p)->c, (id), (p)->passage, (at), __VA_ARGS__);                                       \
		stop(p);                                                                                               \
	} while (0)

typedef enum lexing { WORDS, IDS, FIELDS } lexing;

static void advance(parser *p, lexing mode)
{
	if (p->failed)
		return;
	tc_lex_error error;
	const uint32_t at = p->now.to;
	const tc_token_kind before = p->now.kind;
	p->last_to = at;
	p->now = mode == IDS      ? tc_lex_id(p->text, at, &error)
	         : mode == FIELDS ? tc_lex_field(p->text, at, &error)
	                          : tc_lex(p->text, at, before, &error);
	if (p->now.kind == TC_TOK_BAD)
		FAIL(p, error.id, error.at, "%s", error.message);
}

static bool accept(parser *p, tc_token_kind kind)
{
	if (p->now.kind != kind)
		return false;
	advance(p, WORDS);
	return true;
}

static tc_text written(const parser *p, tc_token token)
{
	return (tc_text){p->text.at + token.from, token.to - token.from};
}

static void expected(parser *p, const char *what)
{
	if (p->now.kind == TC_TOK_END)
		FAIL(p, "syntax", p->now.from, "the expression ends here; %s is expected", what);
	else
		FAIL(p, "syntax", p->now.from, "`%.*s` stands where %s is expected", TC_TEXT_F(written(p, p->now)),
		    what);
}

/* The bracket that closes the one at `open`. */
static void close_bracket(parser *p, tc_token_kind kind, uint32_t open)
{
	if (accept(p, kind) || p->failed)
		return;
	const char *const closing = tc_token_name(kind), *const opening = kind == TC_TOK_PAREN_END ? "(" : "[";
	if (p->now.kind == TC_TOK_END)
		FAIL(p, "syntax", p->now.from, "the expression ends here; `%s` is expected", closing);
	else
		FAIL(p, "syntax", p->now.from, "`%.*s` stands where `%s` is expected", TC_TEXT_F(written(p, p->now)),
		    closing);
	tc_wrong_related(p->c, p->passage, open, "to close this `%s`", opening);
}

/* Parentheses, calls and `not`: the bound on nesting. */
static bool enter(parser *p, uint32_t at)
{
	if (p->c->depth < TC_EXPR_DEPTH_MAX) {
		p->c->depth++;
		return true;
	}
	FAIL(p, "bound", at, "nested deeper than %u; name a part of it with `let`", TC_EXPR_DEPTH_MAX);
	return false;
}

static void leave(parser *p)
{
	p->c->depth--;
}

/* --- nodes ----------------------------------------------------------------------------------------------------------- */

/* A node; TC_NONE when out of memory or past the bound, and then the parser has stopped. */
static uint32_t node(parser *p, tc_ast_kind kind, uint32_t from)
{
	const uint32_t index = tc_ast_new(p->c, kind, p->passage, from);
	if (index == TC_NONE)
		stop(p);
	return index;
}

static tc_ast *at(parser *p, uint32_t index)
{
	return index == TC_NONE ? &p->nothing : &p->c->nodes[index];
}

/* Hangs `child` behind the children of `parent`. */
static void hang(parser *p, uint32_t parent, uint32_t child)
{
	if (parent == TC_NONE || child == TC_NONE)
		return;
	tc_ast *nodes = p->c->nodes;
	uint32_t *link = &nodes[parent].child;
	while (*link != TC_NONE)
		link = &nodes[*link].next;
	*link = child;
}

static uint32_t end(parser *p, uint32_t index)
{
	at(p, index)->to = p->last_to;
	return index;
}

static bool is_fold(tc_token_kind kind)
{
	return kind >= TC_TOK_ANY && kind <= TC_TOK_LAST;
}

static uint32_t start_of(parser *p, uint32_t index)
{
	return index == TC_NONE ? 0 : p->c->nodes[index].from;
}

/* --- primary, path, factor ----------------------------------------------------------------------------------------- */

/* args = "(" [ expr { "," expr } ] ")" */
static void args(parser *p, uint32_t call)
{
	const uint32_t open = p->now.from;
	if (!enter(p, open))
		return;
	advance(p, WORDS);
	if (p->now.kind != TC_TOK_PAREN_END) {
		do
			hang(p, call, expr(p));
		while (accept(p, TC_TOK_COMMA));
	}
	close_bracket(p, TC_TOK_PAREN_END, open);
	leave(p);
}

typedef struct range_word {
	const char *word;
	tc_range range;
} range_word;

/* "layers", "steps" … behind `earlier`, `later` or `all`. */
static void range_of(parser *p, uint32_t fold, const range_word *words, size_t count, const char *what)
{
	for (size_t i = 0; i < count; i++) {
		if (p->now.kind != TC_TOK_NAME || !tc_text_is(written(p, p->now), words[i].word))
			continue;
		at(p, fold)->range = (uint8_t)words[i].range;
		advance(p, WORDS);
		return;
	}
	expected(p, what);
}

static void anchor(parser *p, uint32_t fold)
{
	if (p->now.kind != TC_TOK_NAME) {
		expected(p, "the name of a subject");
		return;
	}
	at(p, fold)->of_from = p->now.from;
	at(p, fold)->of_to = p->now.to;
	advance(p, WORDS);
}

/* range = ("earlier"|"later") ("layers"|"steps") ["of" name] | ("layers"|"steps") "since" name
 *       | "all" ("layers"|"steps"|"parts"|"products") | "exposed" | "passes" ["of" name] */
static void range(parser *p, uint32_t fold)
{
	static const range_word earlier[] = {{"layers", TC_R_EARLIER_LAYERS}, {"steps", TC_R_EARLIER_STEPS}};
	static const range_word later[] = {{"layers", TC_R_LATER_LAYERS}, {"steps", TC_R_LATER_STEPS}};
	static const range_word since[] = {{"layers", TC_R_LAYERS_SINCE}, {"steps", TC_R_STEPS_SINCE}};
	static const range_word all[] = {{"layers", TC_R_ALL_LAYERS}, {"steps", TC_R_ALL_STEPS},
	    {"parts", TC_R_ALL_PARTS}, {"products", TC_R_ALL_PRODUCTS}};
	bool may_be_anchored = false;
	if (accept(p, TC_TOK_EARLIER)) {
		range_of(p, fold, earlier, 2, "`layers` or `steps`");
		may_be_anchored = true;
	} else if (accept(p, TC_TOK_LATER)) {
		range_of(p, fold, later, 2, "`layers` or `steps`");
		may_be_anchored = true;
	} else if (accept(p, TC_TOK_ALL)) {
		range_of(p, fold, all, 4, "`layers`, `steps`, `parts` or `products`");
	} else if (accept(p, TC_TOK_EXPOSED)) {
		at(p, fold)->range = TC_R_EXPOSED;
	} else if (accept(p, TC_TOK_PASSES)) {
		at(p, fold)->range = TC_R_PASSES;
		may_be_anchored = true;
	} else {
		range_of(p, fold, since, 2, "a range (`earlier layers`, `all steps`, `exposed` …)");
		if (!accept(p, TC_TOK_SINCE))
			expected(p, "`since`");
		anchor(p, fold);
		return;
	}
	if (may_be_anchored && accept(p, TC_TOK_OF))
		anchor(p, fold);
}

/* fold = ("any"|"every"|"no"|"count"|"sum"|"least"|"most"|"first"|"last") "(" range "as" name [ "," expr ] ")" */
static uint32_t fold(parser *p)
{
	const uint32_t result = node(p, TC_A_FOLD, p->now.from);
	at(p, result)->op = (uint8_t)(p->now.kind - TC_TOK_ANY);
	const char *const name = tc_token_name(p->now.kind);
	advance(p, WORDS);
	if (p->now.kind != TC_TOK_PAREN) {
		expected(p, "`(` with a range, as in `any(earlier layers as l, …)`,");
		return result;
	}
	const uint32_t open = p->now.from;
	if (!enter(p, open))
		return result;
	advance(p, WORDS);
	range(p, result);
	if (!accept(p, TC_TOK_AS))
		expected(p, "`as` and a name");
	if (p->now.kind != TC_TOK_NAME)
		expected(p, "a name");
	at(p, result)->name_from = p->now.from;
	at(p, result)->name_to = p->now.to;
	advance(p, WORDS);
	if (accept(p, TC_TOK_COMMA))
		hang(p, result, expr(p));
	else if (!p->failed && (at(p, result)->op >= TC_FOLD_SUM && at(p, result)->op <= TC_FOLD_MOST))
		FAIL(p, "syntax", p->now.from, "`%s` needs an expression: `, …`", name);
	close_bracket(p, TC_TOK_PAREN_END, open);
	leave(p);
	return end(p, result);
}

static uint32_t name(parser *p)
{
	const uint32_t result = node(p, TC_A_NAME, p->now.from);
	at(p, result)->name_from = p->now.from;
	at(p, result)->name_to = p->now.to;
	advance(p, WORDS);
	if (p->now.kind == TC_TOK_PAREN && !p->now.blank_before) {
		at(p, result)->kind = TC_A_CALL;
		args(p, result);
	}
	return end(p, result);
}

/* path = ( name [args] | fold ) { "." name [args] } */
static uint32_t path(parser *p)
{
	if (p->now.kind != TC_TOK_NAME && !is_fold(p->now.kind)) {
		expected(p, "a name");
		return TC_NONE;
	}
	uint32_t result = is_fold(p->now.kind) ? fold(p) : name(p);
	while (p->now.kind == TC_TOK_POINT) {
		const uint32_t field = node(p, TC_A_FIELD, start_of(p, result));
		hang(p, field, result);
		advance(p, FIELDS);
		if (p->now.kind != TC_TOK_NAME)
			expected(p, "the name of a field");
		at(p, field)->name_from = p->now.from;
		at(p, field)->name_to = p->now.to;
		advance(p, WORDS);
		if (p->now.kind == TC_TOK_PAREN && !p->now.blank_before) {
			at(p, field)->flags |= TC_AST_OPEN; /* it was called, if with nothing */
			args(p, field);
		}
		result = end(p, field);
	}
	return result;
}

static void give_unit(tc_ast *n, tc_token token)
{
	n->number = token.unit ? tc_unit_to_si(token.unit, token.number) : token.number;
	n->type = (uint8_t)(token.unit ? token.unit->type : TC_T_NUMBER);
	n->dim = token.unit && token.unit->type == TC_T_NUMBER ? token.unit->dim : TC_DIM_NONE;
	n->flags = (uint8_t)(TC_AST_AS_WRITTEN | TC_AST_LITERAL | (n->number >= 0 ? TC_AST_NEVER_NEGATIVE : 0) |
	                     (token.unit ? 0 : TC_AST_BARE));
}

/* primary = number [unit] | text | "(" expr ")" | path */
static uint32_t primary(parser *p)
{
	uint32_t result;
	if (p->now.kind == TC_TOK_NUMBER) {
		result = node(p, TC_A_NUMBER, p->now.from);
		give_unit(at(p, result), p->now);
	} else if (p->now.kind == TC_TOK_TEXT) {
		result = node(p, TC_A_TEXT, p->now.from);
		at(p, result)->text = tc_lex_text(p->c->scratch, p->text, p->now);
	} else if (p->now.kind == TC_TOK_PAREN) {
		const uint32_t open = p->now.from;
		if (!enter(p, open))
			return TC_NONE;
		advance(p, WORDS);
		result = expr(p);
		close_bracket(p, TC_TOK_PAREN_END, open);
		leave(p);
		at(p, result)->from = open;
		return end(p, result);
	} else if (p->now.kind == TC_TOK_NAME || is_fold(p->now.kind)) {
		return path(p);
	} else {
		expected(p, "a value");
		return TC_NONE;
	}
	advance(p, WORDS);
	return end(p, result);
}

/* factor = ["-"] primary */
static uint32_t factor(parser *p)
{
	if (p->now.kind != TC_TOK_MINUS)
		return primary(p);
	const uint32_t result = node(p, TC_A_NEGATE, p->now.from);
	advance(p, WORDS);
	hang(p, result, primary(p));
	return end(p, result);
}

/* --- terms and sums -------------------------------------------------------------------------------------------------- */

static uint32_t pair(parser *p, tc_ast_kind kind, uint32_t left, uint32_t (*right)(parser *))
{
	const uint32_t result = node(p, kind, start_of(p, left));
	advance(p, WORDS);
	hang(p, result, left);
	hang(p, result, right(p));
	return end(p, result);
}

/* term = factor { ("*" | "/") factor } */
static uint32_t term(parser *p)
{
	uint32_t result = factor(p);
	while (p->now.kind == TC_TOK_TIMES || p->now.kind == TC_TOK_SLASH)
		result = pair(p, p->now.kind == TC_TOK_TIMES ? TC_A_MULTIPLY : TC_A_DIVIDE, result, factor);
	return result;
}

/* `gap-flash` and `gap -flash` may be meant as names or as signs. */
static void check_minus(parser *p)
{
	const uint32_t behind = p->now.to;
	const bool blank_behind =
	    behind == p->text.length || tc_blank_length(p->text.at + behind, p->text.length - behind);
	if (!p->now.blank_before || !blank_behind)
		FAIL(p, "syntax", p->now.from, "a subtraction has blanks round its `-`: `a - b`");
}

/* sum = term { ("+" | "-") term } */
static uint32_t sum(parser *p)
{
	uint32_t result = term(p);
	while (p->now.kind == TC_TOK_PLUS || p->now.kind == TC_TOK_MINUS) {
		if (p->now.kind == TC_TOK_MINUS)
			check_minus(p);
		if (p->failed)
			break;
		result = pair(p, p->now.kind == TC_TOK_PLUS ? TC_A_ADD : TC_A_SUBTRACT, result, term);
	}
	return result;
}

/* --- tests --------------------------------------------------------------------------------------------------------- */

static void add_id(parser *p, uint32_t is)
{
	tc_compiler *c = p->c;
	if (p->now.kind != TC_TOK_ID) {
		expected(p, "an id");
		return;
	}
	if (!tc_arena_grow(c->scratch, (void **)&c->ids, c->ids_count, &c->ids_room, sizeof *c->ids)) {
		stop(p);
		return;
	}
	c->ids[c->ids_count++] = (tc_ast_id){.from = p->now.from, .to = p->now.to};
	at(p, is)->ids_count++;
}

/* ids = id | "one" "of" "[" id { "," id } "]"          with "is" ["not"] before it */
static uint32_t is(parser *p, uint32_t left)
{
	const uint32_t result = node(p, TC_A_IS, start_of(p, left));
	hang(p, result, left);
	at(p, result)->ids = p->c->ids_count;
	advance(p, IDS);
	if (p->now.kind == TC_TOK_NOT) {
		at(p, result)->flags |= TC_AST_NEGATED;
		advance(p, IDS);
	}
	if (p->now.kind != TC_TOK_ONE) {
		add_id(p, result);
		advance(p, WORDS);
		return end(p, result);
	}
	advance(p, IDS);
	if (p->now.kind != TC_TOK_OF)
		expected(p, "`of`");
	advance(p, IDS);
	const uint32_t open = p->now.from;
	if (p->now.kind != TC_TOK_BRACKET)
		expected(p, "`[`");
	do {
		advance(p, IDS);
		add_id(p, result);
		advance(p, IDS);
	} while (p->now.kind == TC_TOK_COMMA);
	close_bracket(p, TC_TOK_BRACKET_END, open);
	return end(p, result);
}

/* span = sum ( "to" sum | "on" ) */
static uint32_t span(parser *p)
{
	const uint32_t first = sum(p), result = node(p, TC_A_SPAN, start_of(p, first));
	hang(p, result, first);
	if (accept(p, TC_TOK_TO))
		hang(p, result, sum(p));
	else if (accept(p, TC_TOK_ON))
		at(p, result)->flags |= TC_AST_OPEN;
	else
		expected(p, "`to` or `on`");
	return end(p, result);
}

/* window = path | "[" span { "," span } "]" */
static uint32_t window(parser *p)
{
	if (p->now.kind != TC_TOK_BRACKET)
		return path(p);
	const uint32_t open = p->now.from, result = node(p, TC_A_SPANS, open);
	advance(p, WORDS);
	do
		hang(p, result, span(p));
	while (accept(p, TC_TOK_COMMA));
	close_bracket(p, TC_TOK_BRACKET_END, open);
	return end(p, result);
}

static bool is_comparison(tc_token_kind kind)
{
	return kind >= TC_TOK_LESS && kind <= TC_TOK_NOT_SAME;
}

/* `1 < x < 2`, and the way it is written here. */
static void refuse_chain(parser *p, uint32_t first)
{
	if (p->failed || !is_comparison(p->now.kind))
		return;
	const uint32_t sign = p->now.from;
	const tc_ast *n = at(p, first);
	const uint32_t low = n->child, middle = at(p, low)->next;
	const bool rising = n->op <= TC_LESS_SAME && (p->now.kind == TC_TOK_LESS || p->now.kind == TC_TOK_LESS_SAME);
	const bool falling = (n->op == TC_MORE || n->op == TC_MORE_SAME) &&
	                     (p->now.kind == TC_TOK_MORE || p->now.kind == TC_TOK_MORE_SAME);
	const char *const a = tc_ast_text(p->c, low), *const x = tc_ast_text(p->c, middle);
	advance(p, WORDS);
	const uint32_t last = sum(p);
	if (p->failed)
		return;
	const char *const b = tc_ast_text(p->c, last);
	if (rising || falling)
		FAIL(p, "syntax", sign, "comparisons do not chain; write `%s between %s and %s`", x, rising ? a : b,
		    rising ? b : a);
	else
		FAIL(p, "syntax", sign, "comparisons do not chain; write `… %s %s and %s %s …`",
		    tc_compare_names[n->op], x, x, "<");
}

static uint32_t compare(parser *p, uint32_t left)
{
	const uint32_t result = node(p, TC_A_COMPARE, start_of(p, left));
	at(p, result)->op = (uint8_t)(p->now.kind - TC_TOK_LESS);
	advance(p, WORDS);
	hang(p, result, left);
	hang(p, result, sum(p));
	end(p, result);
	refuse_chain(p, result);
	return result;
}

static uint32_t between(parser *p, uint32_t left)
{
	const uint32_t result = node(p, TC_A_BETWEEN, start_of(p, left));
	advance(p, WORDS);
	hang(p, result, left);
	hang(p, result, sum(p));
	if (!accept(p, TC_TOK_AND))
		expected(p, "`and`");
	hang(p, result, sum(p));
	return end(p, result);
}

static uint32_t matches(parser *p, uint32_t left)
{
	const uint32_t result = node(p, TC_A_MATCHES, start_of(p, left));
	advance(p, WORDS);
	hang(p, result, left);
	if (p->now.kind != TC_TOK_TEXT)
		expected(p, "a pattern in single quotes");
	else
		at(p, result)->text = tc_lex_text(p->c->scratch, p->text, p->now);
	at(p, result)->name_from = p->now.from;
	at(p, result)->name_to = p->now.to;
	advance(p, WORDS);
	return end(p, result);
}

/* test = ("has" | "known") path
 *      | sum [ cmp sum | "between" sum "and" sum | "is" ["not"] ids | "matches" text | "in" window ] */
static uint32_t test(parser *p)
{
	if (p->now.kind == TC_TOK_HAS || p->now.kind == TC_TOK_KNOWN) {
		const uint32_t result = node(p, p->now.kind == TC_TOK_HAS ? TC_A_HAS : TC_A_KNOWN, p->now.from);
		advance(p, WORDS);
		hang(p, result, path(p));
		return end(p, result);
	}
	const uint32_t left = sum(p);
	if (is_comparison(p->now.kind))
		return compare(p, left);
	if (p->now.kind == TC_TOK_BETWEEN)
		return between(p, left);
	if (p->now.kind == TC_TOK_IS)
		return is(p, left);
	if (p->now.kind == TC_TOK_MATCHES)
		return matches(p, left);
	if (p->now.kind == TC_TOK_IN)
		return pair(p, TC_A_IN, left, window);
	return left;
}

/* not = "not" not | test */
static uint32_t not_(parser *p)
{
	if (p->now.kind != TC_TOK_NOT)
		return test(p);
	const uint32_t result = node(p, TC_A_NOT, p->now.from);
	if (!enter(p, p->now.from))
		return result;
	advance(p, WORDS);
	hang(p, result, not_(p));
	leave(p);
	return end(p, result);
}

static uint32_t chain(parser *p, tc_token_kind word, tc_ast_kind kind, uint32_t (*operand)(parser *))
{
	const uint32_t first = operand(p);
	if (p->now.kind != word)
		return first;
	const uint32_t result = node(p, kind, start_of(p, first));
	hang(p, result, first);
	while (accept(p, word))
		hang(p, result, operand(p));
	return end(p, result);
}

/* and = not { "and" not } */
static uint32_t and_(parser *p)
{
	return chain(p, TC_TOK_AND, TC_A_AND, not_);
}

/* expr = and { "or" and } */
static uint32_t expr(parser *p)
{
	return p->failed ? TC_NONE : chain(p, TC_TOK_OR, TC_A_OR, and_);
}

/* What stands behind a whole expression. */
static void left_over(parser *p)
{
	const tc_text word = written(p, p->now);
	if (p->now.kind == TC_TOK_NUMBER && word.at[0] == '-')
		FAIL(p, "syntax", p->now.from,
		    "`%.*s` is a number of its own; a subtraction has blanks round its `-`: `a - b`", TC_TEXT_F(word));
	else
		FAIL(p, "syntax", p->now.from, "`%.*s` is not expected here; the expression was complete before it",
		    TC_TEXT_F(word));
}

/* hole = "{" expr [ "as" unit ] "}"          without its braces, and where no hole is meant just expr */
uint32_t tc_parse(tc_compiler *c, uint32_t passage, bool may_end_with_as, tc_text *rest)
{
	parser p = {.c = c, .passage = passage, .text = c->opened[passage].passage.text};
	if (rest)
		*rest = (tc_text){p.text.at + p.text.length, 0};
	if (p.text.length > TC_EXPR_TEXT_MAX) {
		FAIL(&p, "bound", 0,
		    "an expression has at most %u bytes; this one has %zu; name parts of it with `let`",
		    TC_EXPR_TEXT_MAX, p.text.length);
		return TC_NONE;
	}
	const uint32_t depth = c->depth;
	advance(&p, WORDS);
	if (!p.failed && p.now.kind == TC_TOK_END)
		FAIL(&p, "syntax", 0, "an expression is expected here");
	const uint32_t root = expr(&p);
	if (may_end_with_as && p.now.kind == TC_TOK_AS)
		*rest = (tc_text){p.text.at + p.now.to, p.text.length - p.now.to};
	else if (!p.failed && p.now.kind != TC_TOK_END)
		left_over(&p);
	c->depth = depth;
	return p.failed ? TC_NONE : root;
}
