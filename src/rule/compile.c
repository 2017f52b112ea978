/* From a checked tree to instructions: postfix, operands of `and` and `or` by cost, jumps where the rest cannot matter.
 * Every node remembers its range of instructions, which leaves its value and nothing else. */
#include <string.h>

#include "rule/private.h"

#define SCIENCE 32u /* the weight of a field of cost 2: what is worth keeping outside an inner loop */

typedef struct emitter {
	tc_compiler *c;
	tc_ins *code;
	uint32_t length;
	tc_value *constants;
	uint32_t constant_count, constant_room;
	uint32_t *lists;
	uint32_t list_count, list_room;
	uint32_t depth, deepest;             /* of the value stack */
	uint32_t folds;                      /* that enclose what is emitted now */
	uint32_t fold_at[TC_FOLD_DEPTH_MAX]; /* their TC_OP_FOLD */
	uint8_t fold_slot[TC_FOLD_DEPTH_MAX];
	uint32_t bound_deps[TC_NAMES_MAX]; /* what a name bound by a let depends on */
	uint32_t memos;
	uint32_t kept; /* owner of what is being kept round this; UINT32_MAX: of nothing */
	bool failed;
} emitter;

static void emit(emitter *e, uint32_t node);

static tc_ast *at(const emitter *e, uint32_t node)
{
	return &e->c->nodes[node];
}

static uint32_t next(const emitter *e, uint32_t node)
{
	return e->c->nodes[node].next;
}

static void too_long(emitter *e)
{
	if (!e->failed)
		tc_wrong(e->c, "bound", 0, 0,
		    "with its lets written out this is longer than %u instructions; say it shorter", TC_CODE_MAX);
	e->failed = true;
}

/* One instruction, which changes the height of the stack by `change`. Returns its number. */
static uint32_t add(emitter *e, tc_op op, unsigned n, uint32_t a, uint32_t b, int change)
{
	if (e->length == TC_CODE_MAX)
		too_long(e);
	if (e->failed)
		return 0;
	e->code[e->length] = (tc_ins){.op = (uint8_t)op, .n = (uint8_t)n, .a = (uint16_t)a, .b = b};
	e->depth = (uint32_t)((int)e->depth + change);
	if (e->depth > e->deepest)
		e->deepest = e->depth;
	return e->length++;
}

static uint32_t constant(emitter *e, tc_type type, double number, const char *text)
{
	for (uint32_t i = 0; i < e->constant_count; i++) {
		const tc_value *v = &e->constants[i];
		if (v->type == type &&
		    (text ? strcmp(v->text, text) == 0 : memcmp(&v->number, &number, sizeof number) == 0))
			return i;
	}
	if (!tc_arena_grow(
	        e->c->scratch, (void **)&e->constants, e->constant_count, &e->constant_room, sizeof *e->constants)) {
		e->failed = true;
		return 0;
	}
	tc_value *v = &e->constants[e->constant_count];
	*v = (tc_value){.state = TC_SAID, .type = (uint8_t)type};
	if (text)
		v->text = text;
	else
		v->number = number;
	return e->constant_count++;
}

static void push_list(emitter *e, uint32_t number)
{
	if (tc_arena_grow(e->c->scratch, (void **)&e->lists, e->list_count, &e->list_room, sizeof *e->lists))
		e->lists[e->list_count++] = number;
	else
		e->failed = true;
}

/* The ids of an `is`: their number, then the words, or the first and last number of each kind. Returns where. */
static uint32_t list(emitter *e, const tc_ast *is, bool kinds)
{
	const uint32_t begin = e->list_count;
	push_list(e, is->ids_count);
	for (uint32_t i = 0; i < is->ids_count; i++) {
		const uint32_t id = e->c->ids[is->ids + i].value;
		push_list(e, id);
		if (kinds)
			push_list(e, tc_library_entry(e->c->library, id)->last);
	}
	return begin;
}

/* --- keeping what an inner loop does not change ------------------------------------------------------------------------ */

/* The slots that a node depends on, those behind names of lets included. */
static uint32_t all_deps(const emitter *e, uint32_t deps)
{
	for (uint32_t i = 0; i < TC_NAMES_MAX; i++)
		if (deps & 1u << i)
			deps |= e->bound_deps[i];
	return deps;
}

/* The outermost enclosing fold whose name the node does not depend on, nor on any further in; e->folds: none. */
static uint32_t owner_of(const emitter *e, const tc_ast *n)
{
	const uint32_t deps = all_deps(e, n->deps);
	uint32_t owner = e->folds;
	while (owner > 0 && !(deps & 1u << e->fold_slot[owner - 1]))
		owner--;
	return owner;
}

/* Inside something that is kept already only what can be kept for longer. */
static bool worth_keeping(const emitter *e, const tc_ast *n)
{
	if (e->folds == 0 || e->memos == TC_MEMO_MAX || n->kind == TC_A_NUMBER || n->kind == TC_A_NAME ||
	    n->cost < SCIENCE)
		return false;
	const uint32_t owner = owner_of(e, n);
	return owner < e->folds && owner < e->kept;
}

/* --- leaves and fields -------------------------------------------------------------------------------------------------- */

static void emit_children(emitter *e, uint32_t node)
{
	for (uint32_t i = at(e, node)->child; i != TC_NONE; i = next(e, i))
		emit(e, i);
}

static uint32_t child_count(const emitter *e, uint32_t node)
{
	uint32_t count = 0;
	for (uint32_t i = at(e, node)->child; i != TC_NONE; i = next(e, i))
		count++;
	return count;
}

/* Receiver and arguments of a field; returns how many arguments. */
static uint32_t emit_receiver(emitter *e, uint32_t node, const tc_field_row *row)
{
	emit_children(e, node);
	uint32_t arguments = child_count(e, node) - 1;
	const size_t wanted = row->arguments ? strlen(row->arguments) : 0;
	if (arguments < wanted) { /* the bound that may be left out is 1 */
		add(e, TC_OP_CONST, 0, 0, constant(e, TC_T_NUMBER, 1, NULL), 1);
		arguments++;
	}
	return arguments;
}

/* 1 + the slot of a plain name, which then needs no instruction of its own; 0: something else. */
static unsigned plain_slot(const emitter *e, uint32_t node)
{
	return at(e, node)->kind == TC_A_NAME ? at(e, node)->slot + 1u : 0;
}

static void emit_field(emitter *e, uint32_t node)
{
	tc_field_row room;
	const tc_ast *n = at(e, node);
	const tc_field_row *row = tc_field_row_of(n->field, &room);
	if (n->child == TC_NONE) {
		add(e, TC_OP_ASK, 0, row->type, n->field, 1);
		return;
	}
	const unsigned slot = row->arguments ? 0 : plain_slot(e, n->child);
	const uint32_t arguments = slot ? 0 : emit_receiver(e, node, row);
	n = at(e, node);
	add(e, TC_OP_FIELD, slot, (uint32_t)row->type | arguments << 8, n->field, slot ? 1 : -(int)arguments);
}

static void emit_has(emitter *e, uint32_t node)
{
	tc_field_row room;
	const uint32_t path = at(e, node)->child;
	tc_ast *n = at(e, path);
	if (n->kind != TC_A_FIELD) {
		emit(e, path);
		add(e, TC_OP_HAS_VALUE, 0, 0, 0, 0);
		return;
	}
	n->start = e->length;
	const tc_field_row *row = tc_field_row_of(n->field, &room);
	if (n->child == TC_NONE) {
		add(e, TC_OP_HAS_ASK, 0, 0, n->field, 1);
		n->end = e->length;
		return;
	}
	const bool beyond = at(e, n->child)->subject == TC_S_EXPOSED && row->subject == TC_S_LAYER;
	const uint32_t arguments = emit_receiver(e, path, row);
	n = at(e, path);
	add(e, TC_OP_HAS, arguments, row->flags & TC_MAY_BE_ABSENT || beyond, n->field, -(int)arguments);
	n->end = e->length;
}

/* --- folds --------------------------------------------------------------------------------------------------------------- */

/* A fold whose known part may decide a comparison. */
static bool has_known_part(const tc_ast *n)
{
	return n->kind == TC_A_FOLD &&
	       (n->op == TC_FOLD_COUNT || (n->op == TC_FOLD_SUM && n->flags & TC_AST_NEVER_NEGATIVE));
}

static void emit_fold(emitter *e, uint32_t node, bool pair)
{
	tc_ast *n = at(e, node);
	const bool anchored = n->anchor_slot != UINT8_MAX;
	const uint32_t flags = (pair ? TC_FOLD_PAIR : 0u) | (anchored ? TC_FOLD_ANCHORED : 0u) |
	                       (n->type == TC_T_SHARE ? TC_FOLD_SHARE : 0u) |
	                       (n->type == TC_T_TEMPERATURE ? TC_FOLD_TEMPERATURE : 0u);
	const uint32_t level = e->folds;
	n->start = e->length;
	if (pair)
		n->flags |= TC_BRANCH_PAIR;
	if (anchored)
		add(e, TC_OP_SLOT, 0, 0, n->anchor_slot, 1);
	const uint32_t begin =
	    add(e, TC_OP_FOLD, 0, 0, TC_FOLD_PACK(n->op, n->range, n->slot, level, flags), anchored ? -1 : 0);
	e->fold_at[level] = begin;
	e->fold_slot[level] = n->slot;
	e->folds++;
	const uint32_t body = e->length;
	if (n->child != TC_NONE)
		emit(e, n->child);
	else
		add(e, TC_OP_CONST, 0, 0, constant(e, TC_T_TRUTH, 0, NULL), 1);
	e->folds--;
	add(e, TC_OP_NEXT, level, body, 0, pair ? 1 : 0);
	if (!e->failed)
		e->code[begin].a = (uint16_t)e->length;
	at(e, node)->end = e->length;
}

static void emit_bind(emitter *e, uint32_t node)
{
	const uint32_t argument = at(e, node)->child;
	const uint8_t slot = at(e, node)->slot;
	emit(e, argument);
	add(e, TC_OP_BIND, 0, 0, slot, -1);
	const uint32_t before = e->bound_deps[slot];
	e->bound_deps[slot] = all_deps(e, at(e, argument)->deps);
	emit(e, next(e, argument));
	e->bound_deps[slot] = before;
}

/* --- tests --------------------------------------------------------------------------------------------------------------- */

/* An operand of a comparison; true if it left its known part too. */
static bool emit_operand(emitter *e, uint32_t node, bool may_pair)
{
	const bool pair = may_pair && has_known_part(at(e, node));
	if (pair)
		emit_fold(e, node, true);
	else
		emit(e, node);
	return pair;
}

static void emit_compare(emitter *e, uint32_t node)
{
	const uint32_t left = at(e, node)->child, right = next(e, left);
	const tc_compare_op written = (tc_compare_op)at(e, node)->op, op = written == TC_NOT_SAME ? TC_SAME : written;
	const bool left_pair = emit_operand(e, left, true);
	const tc_ast *r = at(e, right);
	if (!left_pair && r->kind == TC_A_NUMBER) {
		add(e, TC_OP_COMPARE, op, constant(e, (tc_type)r->type, r->number, NULL) + 1, 0, 0);
	} else {
		const bool right_pair = emit_operand(e, right, !left_pair);
		const bool pair = left_pair || right_pair;
		add(e, pair ? TC_OP_COMPARE_PAIR : TC_OP_COMPARE, op, right_pair, 0, pair ? -2 : -1);
	}
	if (written == TC_NOT_SAME)
		add(e, TC_OP_NOT, 0, 0, 0, 0);
}

static void emit_between(emitter *e, uint32_t node)
{
	const uint32_t value = at(e, node)->child, low = next(e, value), high = next(e, low);
	const bool pair = emit_operand(e, value, true);
	emit(e, low);
	emit(e, high);
	add(e, pair ? TC_OP_BETWEEN_PAIR : TC_OP_BETWEEN, 0, 0, 0, pair ? -3 : -2);
}

/* A span with no end leaves one bound, another two; the bits of b say which. */
static void emit_in(emitter *e, uint32_t node)
{
	const uint32_t value = at(e, node)->child, window = next(e, value);
	emit(e, value);
	if (at(e, window)->kind != TC_A_SPANS) {
		emit(e, window);
		add(e, TC_OP_IN, 0, 0, 0, -1);
		return;
	}
	uint32_t count = 0, bounds = 0, open = 0;
	at(e, window)->start = e->length;
	for (uint32_t s = at(e, window)->child; s != TC_NONE; s = next(e, s), count++) {
		if (count == 32) {
			tc_wrong(
			    e->c, "bound", at(e, s)->passage, at(e, s)->from, "a window has at most 32 spans here");
			e->failed = true;
			return;
		}
		if (at(e, s)->flags & TC_AST_OPEN)
			open |= 1u << count;
		for (uint32_t i = at(e, s)->child; i != TC_NONE; i = next(e, i), bounds++)
			emit(e, i);
	}
	at(e, window)->end = e->length;
	add(e, TC_OP_IN_SPANS, count, bounds, open, -(int)bounds);
}

static void emit_is(emitter *e, uint32_t node)
{
	const tc_ast *left = at(e, at(e, node)->child);
	const tc_op op = left->type == TC_T_SYMBOL    ? TC_OP_IS_WORD
	                 : left->type == TC_T_SYMBOLS ? TC_OP_IS_MEMBER
	                                              : TC_OP_IS_KIND;
	const unsigned slot = plain_slot(e, at(e, node)->child);
	if (!slot)
		emit(e, at(e, node)->child);
	const uint32_t ids = list(e, at(e, node), op == TC_OP_IS_KIND);
	add(e, op, slot, 0, ids, slot ? 1 : 0);
	if (at(e, node)->flags & TC_AST_NEGATED)
		add(e, TC_OP_NOT, 0, 0, 0, 0);
}

/* The operands by cost; equal ones stay as they were written. Returns the first, and links them in *after. */
static uint32_t by_cost(const emitter *e, uint32_t node, uint32_t *sorted, uint32_t room)
{
	uint32_t count = 0;
	for (uint32_t i = at(e, node)->child; i != TC_NONE && count < room; i = next(e, i)) {
		uint32_t j = count++;
		for (; j > 0 && at(e, sorted[j - 1])->cost > at(e, i)->cost; j--)
			sorted[j] = sorted[j - 1];
		sorted[j] = i;
	}
	return count;
}

static void emit_chain(emitter *e, uint32_t node)
{
	const bool is_and = at(e, node)->kind == TC_A_AND;
	const uint32_t room = child_count(e, node);
	uint32_t *sorted = TC_ARRAY(e->c->scratch, room, uint32_t), *jumps = TC_ARRAY(e->c->scratch, room, uint32_t);
	if (!sorted || !jumps) {
		e->failed = true;
		return;
	}
	const uint32_t count = by_cost(e, node, sorted, room);
	for (uint32_t i = 0; i < count && !e->failed; i++) {
		emit(e, sorted[i]);
		if (i > 0)
			jumps[i] = add(e, is_and ? TC_OP_AND : TC_OP_OR, 0, 0, 0, -1);
		else
			jumps[i] = add(e, is_and ? TC_OP_FALSE_JUMP : TC_OP_TRUE_JUMP, 0, 0, 0, 0);
	}
	for (uint32_t i = 0; i + 1 < count && !e->failed; i++)
		e->code[jumps[i]].a = (uint16_t)e->length;
}

/* --- all ------------------------------------------------------------------------------------------------------------------ */

static void emit_free(emitter *e, uint32_t node)
{
	static const tc_op ops[] = {[TC_FREE_MIN] = TC_OP_MIN, [TC_FREE_MAX] = TC_OP_MAX, [TC_FREE_ABS] = TC_OP_ABS};
	emit_children(e, node);
	const uint32_t count = child_count(e, node);
	if (count > UINT8_MAX)
		too_long(e);
	else
		add(e, ops[at(e, node)->op], count, 0, 0, 1 - (int)count);
}

static void emit_operator(emitter *e, uint32_t node)
{
	static const struct {
		tc_op op;
		int change;
	} ops[] = {
	    [TC_A_WINDOW_FIRST] = {TC_OP_WINDOW_FIRST, 0},
	    [TC_A_WINDOW_LAST] = {TC_OP_WINDOW_LAST, 0},
	    [TC_A_WINDOW_AFTER] = {TC_OP_WINDOW_AFTER, -1},
	    [TC_A_NEGATE] = {TC_OP_NEGATE, 0},
	    [TC_A_ADD] = {TC_OP_ADD, -1},
	    [TC_A_SUBTRACT] = {TC_OP_SUBTRACT, -1},
	    [TC_A_MULTIPLY] = {TC_OP_MULTIPLY, -1},
	    [TC_A_DIVIDE] = {TC_OP_DIVIDE, -1},
	    [TC_A_KNOWN] = {TC_OP_KNOWN, 0},
	    [TC_A_NOT] = {TC_OP_NOT, 0},
	};
	const uint8_t kind = at(e, node)->kind;
	emit_children(e, node);
	add(e, ops[kind].op, 0, at(e, node)->type, 0, ops[kind].change);
}

static void emit_kind(emitter *e, uint32_t node)
{
	const tc_ast *n = at(e, node);
	switch ((tc_ast_kind)n->kind) {
	case TC_A_NUMBER:
		add(e, TC_OP_CONST, 0, 0, constant(e, (tc_type)n->type, n->number, NULL), 1);
		break;
	case TC_A_TEXT:
		add(e, TC_OP_CONST, 0, 0, constant(e, TC_T_TEXT, 0, n->text), 1);
		break;
	case TC_A_NAME:
		add(e, TC_OP_SLOT, 0, 0, n->slot, 1);
		break;
	case TC_A_FIELD:
		emit_field(e, node);
		break;
	case TC_A_CALL:
		emit_free(e, node);
		break;
	case TC_A_FOLD:
		emit_fold(e, node, false);
		break;
	case TC_A_BIND:
		emit_bind(e, node);
		break;
	case TC_A_HAS:
		emit_has(e, node);
		break;
	case TC_A_COMPARE:
		emit_compare(e, node);
		break;
	case TC_A_BETWEEN:
		emit_between(e, node);
		break;
	case TC_A_IN:
		emit_in(e, node);
		break;
	case TC_A_IS:
		emit_is(e, node);
		break;
	case TC_A_MATCHES:
		emit(e, n->child);
		add(e, TC_OP_MATCHES, 0, 0, constant(e, TC_T_TEXT, 0, at(e, node)->text), 0);
		break;
	case TC_A_AND:
	case TC_A_OR:
		emit_chain(e, node);
		break;
	default:
		emit_operator(e, node);
	}
}

static void emit(emitter *e, uint32_t node)
{
	if (e->failed)
		return;
	at(e, node)->start = e->length;
	if (!worth_keeping(e, at(e, node))) {
		emit_kind(e, node);
		at(e, node)->end = e->length;
		return;
	}
	const uint32_t memo = e->memos++, owner = owner_of(e, at(e, node));
	e->code[e->fold_at[owner]].n |= (uint8_t)(1u << memo);
	const uint32_t outer = e->kept;
	e->kept = owner;
	const uint32_t once = add(e, TC_OP_ONCE, memo, 0, 0, 0), start = at(e, node)->start;
	emit_kind(e, node);
	add(e, TC_OP_KEEP, memo, 0, 0, 0);
	e->kept = outer;
	if (!e->failed)
		e->code[once].a = (uint16_t)e->length;
	at(e, node)->start = start;
	at(e, node)->end = e->length;
}

/* --- into the rulebook's arena ------------------------------------------------------------------------------------------- */

static uint32_t count_nodes(const emitter *e, uint32_t node)
{
	uint32_t count = 1;
	for (uint32_t i = at(e, node)->child; i != TC_NONE; i = next(e, i))
		count += count_nodes(e, i);
	return count;
}

static bool wants_text(tc_ast_kind kind)
{
	return kind != TC_A_NUMBER && kind != TC_A_TEXT && kind != TC_A_BIND && kind != TC_A_AND && kind != TC_A_OR &&
	       kind != TC_A_NOT && kind != TC_A_SPANS && kind != TC_A_SPAN;
}

static uint32_t put_branch(emitter *e, tc_branch *branches, uint32_t *count, uint32_t node)
{
	const tc_ast *n = at(e, node);
	const uint32_t index = (*count)++;
	tc_branch *b = &branches[index];
	b->kind = n->kind;
	b->type = n->type;
	b->subject = n->subject;
	b->op = n->op;
	b->range = n->range;
	b->flags = n->flags;
	b->slot = n->slot;
	b->anchor_slot = n->anchor_slot;
	b->dim = n->dim;
	b->start = n->start;
	b->end = n->end;
	b->field = n->kind == TC_A_NUMBER ? constant(e, (tc_type)n->type, n->number, NULL) : n->field;
	if (wants_text((tc_ast_kind)n->kind)) {
		b->text = tc_intern(e->c, tc_text_of(tc_ast_text(e->c, node)));
	}
	b->child = b->next = TC_NONE;
	uint32_t *link = &b->child;
	for (uint32_t i = n->child; i != TC_NONE; i = next(e, i)) {
		*link = put_branch(e, branches, count, i);
		link = &branches[*link].next;
	}
	return index;
}

/* Member by member, so that no padding comes along. */
static const tc_value *keep_constants(emitter *e)
{
	tc_value *kept = TC_ARRAY(e->c->arena, e->constant_count, tc_value);
	for (uint32_t i = 0; kept && i < e->constant_count; i++) {
		const tc_value *v = &e->constants[i];
		kept[i].state = v->state;
		kept[i].type = v->type;
		if (v->type == TC_T_TEXT)
			kept[i].text = tc_intern(e->c, tc_text_of(v->text));
		else if (v->type == TC_T_TRUTH)
			kept[i].truth = TC_TRUE;
		else
			kept[i].number = v->number;
	}
	return kept;
}

/* The field whose vocabulary a symbol prints with. */
static uint32_t vocabulary_field(const emitter *e, uint32_t node)
{
	const tc_ast *n = at(e, node);
	return n->type == TC_T_SYMBOL || n->type == TC_T_SYMBOLS ? n->field : TC_NONE;
}

static const tc_expr *keep(emitter *e, uint32_t root)
{
	tc_arena *arena = e->c->arena;
	tc_expr *x = TC_NEW(arena, tc_expr);
	const tc_text text = e->c->opened[0].passage.text;
	tc_branch *branches = TC_ARRAY(arena, count_nodes(e, root), tc_branch);
	if (!x || !branches)
		return NULL;
	x->text = tc_intern(e->c, text);
	x->code = tc_arena_copy(arena, e->code, e->length * sizeof *e->code);
	x->length = e->length;
	x->root = put_branch(e, branches, &x->branch_count, root);
	x->branches = branches;
	x->constants = keep_constants(e);
	x->constant_count = e->constant_count;
	x->lists = tc_arena_copy(arena, e->lists, e->list_count * sizeof *e->lists);
	x->list_count = e->list_count;
	x->stack = e->deepest;
	x->type = at(e, root)->type;
	x->subject = at(e, root)->subject;
	x->dim = at(e, root)->dim;
	x->ask = (uint8_t)e->c->ask;
	x->vocabulary_field = vocabulary_field(e, root);
	return tc_arena_failed(arena) || tc_arena_failed(e->c->scratch) ? NULL : x;
}

const tc_expr *tc_compile(tc_compiler *c, uint32_t root)
{
	emitter e = {.c = c, .code = TC_ARRAY(c->scratch, TC_CODE_MAX, tc_ins), .kept = UINT32_MAX};
	if (!e.code)
		return NULL;
	emit(&e, root);
	if (!e.failed && e.deepest > TC_STACK_MAX) {
		tc_wrong(c, "bound", 0, 0, "this needs %u values at once, and %u is the most; say it in smaller steps",
		    e.deepest, TC_STACK_MAX);
		e.failed = true;
	}
	return e.failed || tc_arena_failed(c->scratch) ? NULL : keep(&e, root);
}
