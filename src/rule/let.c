/* Named expressions, written out in the place where the name stands. Each is checked by itself, with its own messages; where it
 * is used it is read again in silence, with what stands for its parameters. */
#include <string.h>

#include "rule/private.h"

static tc_ast *at(tc_compiler *c, uint32_t node)
{
	return &c->nodes[node];
}

#define WRONG(c, node, id, ...) tc_wrong((c), (id), at((c), (node))->passage, at((c), (node))->from, __VA_ARGS__)

/* Layers, exposed materials, products and liquids may stand for one another; what the let asks of them decides. */
static bool is_matter(uint32_t subject)
{
	return subject == TC_S_LAYER || subject == TC_S_EXPOSED || subject == TC_S_PRODUCT || subject == TC_S_LIQUID;
}

static bool check_argument(tc_compiler *c, uint32_t argument, const tc_let *let, uint32_t index)
{
	tc_check(c, argument, false);
	const tc_ast *n = at(c, argument);
	if (n->type == TC_T_BAD)
		return false;
	if (n->type == TC_T_SUBJECT &&
	    (n->subject == let->subject[index] || (is_matter(n->subject) && is_matter(let->subject[index]))))
		return true;
	WRONG(c, argument, "arguments", "`%s` is %s; `%s` wants %s here", tc_ast_text(c, argument),
	    tc_ast_type_name(c, argument), let->name, tc_subject_name((tc_subject)let->subject[index]));
	return false;
}

/* An argument that is no plain name gets a slot of its own, behind those that it needs itself and before those of the
 * argument that follows it. */
static bool take_slot(tc_compiler *c, uint32_t node, uint32_t argument, uint8_t *slot)
{
	*slot = at(c, argument)->slot;
	if (at(c, argument)->kind == TC_A_NAME)
		return true;
	if (c->next_slot == TC_NAMES_MAX) {
		WRONG(c, node, "bound", "more than %u names of subjects are bound here", TC_NAMES_MAX);
		return false;
	}
	*slot = c->next_slot++;
	return true;
}

static bool check_arguments(tc_compiler *c, uint32_t node, const tc_let *let, uint32_t arguments[2], uint8_t slots[2])
{
	uint32_t count = 0;
	for (uint32_t i = at(c, node)->child; i != TC_NONE; i = at(c, i)->next, count++) {
		if (count == let->params)
			break;
		arguments[count] = i;
		if (!check_argument(c, i, let, count) || !take_slot(c, node, i, &slots[count]))
			return false;
		if (at(c, i)->next == TC_NONE && count + 1 == let->params)
			return true;
	}
	if (let->params == 0 && at(c, node)->child == TC_NONE && at(c, node)->kind == TC_A_NAME)
		return true;
	if (let->params == 0)
		WRONG(c, node, "arguments", "`%s` takes no arguments", let->name);
	else
		WRONG(c, node, "arguments", "`%s` takes %s: `%s(%s%s%s)`", let->name,
		    let->params == 1 ? "one subject" : "two subjects", let->name, let->param[0],
		    let->params == 2 ? ", " : "", let->params == 2 ? let->param[1] : "");
	return false;
}

/* What the let asks for must be asked here too. */
static bool names_stand(tc_compiler *c, uint32_t node, const tc_let *let)
{
	const uint32_t missing = tc_ask_slots((tc_ask)let->ask) & ~tc_ask_slots(c->ask);
	const bool of_pair = let->ask == TC_ASK_CONTACT || let->ask == TC_ASK_TOUCH;
	if (!missing && (!of_pair || c->ask == TC_ASK_CONTACT || c->ask == TC_ASK_TOUCH))
		return true;
	WRONG(c, node, "unknown-name", "`%s` asks for %s, and this asks for %s", let->name,
	    tc_ask_name((tc_ask)let->ask), tc_ask_name(c->ask));
	return false;
}

static tc_passage passage_of(const tc_compiler *c, uint32_t let)
{
	if (c->lets->sources)
		return c->lets->sources[let].passage;
	return (tc_passage){.text = {c->lets->at[let].text, c->lets->at[let].length}, .file = c->lets->at[let].name};
}

/* What a let does not see of its surroundings, put away while its body is read. */
typedef struct surroundings {
	uint32_t scope_count, scope_floor, slots;
	tc_ask ask;
	uint8_t next_slot;
} surroundings;

static surroundings surroundings_of(const tc_compiler *c)
{
	return (surroundings){c->scope_count, c->scope_floor, c->slots, c->ask, c->next_slot};
}

/* Parameters are the only names that are added; of those of the question the let sees what it asks for. False: no room. */
static bool enter(tc_compiler *c, uint32_t node, const tc_let *let, const uint32_t arguments[2], const uint8_t slots[2])
{
	if (c->scope_count + let->params > TC_SCOPE_MAX) {
		WRONG(c, node, "bound", "lets are nested too deep here");
		return false;
	}
	c->scope_floor = c->scope_count;
	for (uint32_t i = 0; i < let->params; i++) {
		const char *const printed = tc_ast_text(c, arguments[i]);
		c->scope[c->scope_count++] = (tc_scope_name){.name = tc_text_of(let->param[i]),
		    .slot = slots[i],
		    .subject = at(c, arguments[i])->subject,
		    .param = true,
		    .printed = printed};
	}
	c->slots = tc_ask_slots((tc_ask)let->ask);
	c->ask = (tc_ask)let->ask;
	return true;
}

static void leave(tc_compiler *c, const surroundings *outside)
{
	c->scope_count = outside->scope_count;
	c->scope_floor = outside->scope_floor;
	c->slots = outside->slots;
	c->ask = outside->ask;
	c->next_slot = outside->next_slot;
}

/* The body, read and checked in silence; TC_NONE when it is broken. */
static uint32_t read_body(tc_compiler *c, uint32_t node, uint32_t let)
{
	const tc_passage passage = passage_of(c, let);
	const uint32_t opened =
	    tc_open_passage(c, &passage, c->lets->at[let].name, at(c, node)->passage, at(c, node)->from);
	uint32_t body = opened == TC_NONE ? TC_NONE : tc_parse(c, opened, false, NULL);
	if (body != TC_NONE)
		tc_check(c, body, false);
	return body != TC_NONE && at(c, body)->type != TC_T_BAD ? body : TC_NONE;
}

/* Binds one argument that is no plain name round `body`. */
static uint32_t bind(tc_compiler *c, uint32_t argument, uint8_t slot, uint32_t body)
{
	const uint32_t node = tc_ast_new(c, TC_A_BIND, at(c, body)->passage, at(c, body)->from);
	if (node == TC_NONE)
		return TC_NONE;
	tc_ast *n = at(c, node);
	const tc_ast *b = at(c, body);
	n->to = b->to;
	n->type = b->type;
	n->dim = b->dim;
	n->subject = b->subject;
	n->field = b->field;
	n->flags = b->flags;
	n->slot = slot;
	n->cost = b->cost + at(c, argument)->cost;
	n->deps = (b->deps & ~(1u << slot)) | at(c, argument)->deps;
	n->child = argument;
	at(c, argument)->next = body;
	at(c, body)->next = TC_NONE;
	return node;
}

/* Puts `body` in the place of `node`. A figure keeps the name that it was given, a test shows what it asks. */
static void put(tc_compiler *c, uint32_t node, uint32_t body)
{
	const tc_ast use = *at(c, node);
	*at(c, node) = *at(c, body);
	tc_ast *n = at(c, node);
	n->next = use.next;
	const bool path = n->kind == TC_A_FIELD || n->kind == TC_A_NAME;
	if (n->type == TC_T_TRUTH || path)
		return;
	n->passage = use.passage;
	n->from = use.from;
	n->to = use.to;
}

static void report_inside(tc_compiler *c, uint32_t node, const tc_let *let, bool was_broken, const char *unsaid)
{
	const char *inside = c->unsaid;
	c->unsaid = unsaid;
	if (c->silent && !unsaid)
		c->unsaid = inside;
	if (inside && !c->silent && !was_broken)
		WRONG(c, node, "let", "%s, in `%s` as it stands here", inside, let->name);
}

/* The state of a let that a load is still checking; reports a cycle. */
static bool is_usable(tc_compiler *c, uint32_t node, uint32_t let)
{
	if (!c->lets->sources)
		return true;
	const tc_let_state state = c->lets->sources[let].state;
	if (state == TC_LET_BUSY)
		WRONG(c, node, "cycle", "`%s` is named by means of itself", c->lets->at[let].name);
	if (state == TC_LET_BUSY || state == TC_LET_BAD)
		c->broken = true;
	return state != TC_LET_BUSY && state != TC_LET_BAD;
}

/* The body with its arguments bound round it, read in silence; TC_NONE when it is broken. */
static uint32_t expand(tc_compiler *c, uint32_t node, uint32_t let, const uint32_t arguments[2], const uint8_t slots[2])
{
	const tc_let *l = &c->lets->at[let];
	const char *const unsaid = c->unsaid;
	const bool was_broken = c->broken;
	c->unsaid = NULL;
	c->depth++;
	c->silent++;
	uint32_t body = read_body(c, node, let);
	for (uint32_t i = l->params; body != TC_NONE && i > 0; i--)
		if (at(c, arguments[i - 1])->kind != TC_A_NAME)
			body = bind(c, arguments[i - 1], slots[i - 1], body);
	c->silent--;
	c->depth--;
	report_inside(c, node, l, was_broken, unsaid);
	return body;
}

void tc_let_graft(tc_compiler *c, uint32_t node, uint32_t let)
{
	const tc_let *l = &c->lets->at[let];
	const surroundings outside = surroundings_of(c);
	uint32_t arguments[2] = {TC_NONE, TC_NONE}, body = TC_NONE;
	uint8_t slots[2] = {0, 0};
	if (is_usable(c, node, let) && check_arguments(c, node, l, arguments, slots) && names_stand(c, node, l)) {
		if (c->depth == TC_EXPR_DEPTH_MAX)
			WRONG(c, node, "bound", "nested deeper than %u with its lets written out", TC_EXPR_DEPTH_MAX);
		else if (enter(c, node, l, arguments, slots))
			body = expand(c, node, let, arguments, slots);
	}
	leave(c, &outside);
	if (body != TC_NONE)
		put(c, node, body);
	else
		c->broken = true;
}

/* --- lets of a load ----------------------------------------------------------------------------------------------------- */

/* Parameters as names of their own: slots behind those of the question. */
static uint32_t check_alone(tc_compiler *c, const tc_let *let, const tc_passage *passage)
{
	const uint32_t opened = tc_open_passage(c, passage, NULL, 0, 0);
	if (opened == TC_NONE)
		return TC_NONE;
	for (uint32_t i = 0; i < let->params; i++)
		c->scope[c->scope_count++] = (tc_scope_name){
		    .name = tc_text_of(let->param[i]), .slot = c->next_slot++, .subject = (uint8_t)let->subject[i]};
	const uint32_t root = tc_parse(c, opened, false, NULL);
	if (root == TC_NONE)
		return TC_NONE;
	tc_check(c, root, false);
	if (!c->broken && !tc_arena_failed(c->scratch))
		tc_guard_check(c, root);
	return root;
}

static void check_one(tc_compiler *outer, tc_lets *lets, uint32_t let);

/* The lets that this one names are checked before it, so that each has its own messages first. Names are found by the
 * words of the text, which is a little more than needed and cannot miss one. */
static void check_named(tc_compiler *c, tc_lets *lets, uint32_t let)
{
	const tc_text text = lets->sources[let].passage.text;
	tc_lex_error error;
	tc_token token = {.kind = TC_TOK_END};
	do {
		token = tc_lex(text, token.to, token.kind, &error);
		if (token.kind != TC_TOK_NAME)
			continue;
		const uint32_t other =
		    tc_map_find(&lets->names, (tc_text){text.at + token.from, token.to - token.from});
		if (other != TC_MAP_NONE && lets->sources[other].state == TC_LET_NEW && c->depth < TC_EXPR_DEPTH_MAX) {
			c->depth++;
			check_one(c, lets, other);
			c->depth--;
		}
	} while (token.kind != TC_TOK_END && token.kind != TC_TOK_BAD);
}

static void check_one(tc_compiler *outer, tc_lets *lets, uint32_t let)
{
	tc_let_source *source = &lets->sources[let];
	if (source->state != TC_LET_NEW)
		return;
	source->state = TC_LET_BUSY;
	check_named(outer, lets, let);
	tc_compiler c;
	tc_compiler_start(&c, outer->library, lets, outer->arena, outer->scratch, outer->diags);
	const tc_request request = {.ask = (tc_ask)lets->at[let].ask, .what = "let"};
	tc_compiler_reset(&c, &request);
	check_alone(&c, &lets->at[let], &source->passage);
	outer->no_memory |= c.no_memory;
	source->state = c.broken ? TC_LET_BAD : TC_LET_GOOD;
}

void tc_lets_check(tc_compiler *c, tc_lets *lets)
{
	for (uint32_t i = 0; i < lets->count; i++)
		check_one(c, lets, i);
}
