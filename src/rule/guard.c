/* An ordering test, `between`, `in` or a truth field is F of what is absent (docs/language.md), so under an odd number of `not`
 * and `no` it would be T of what does not exist. There `has` of the same path must stand in the same chain of `and` or in
 * one around it. */
#include <string.h>

#include "rule/private.h"

typedef struct guards {
	const struct guards *outer;
	uint32_t chain; /* an `and`: its operands `has …` guard */
} guards;

static const tc_ast *at(const tc_compiler *c, uint32_t node)
{
	return &c->nodes[node];
}

/* --- paths ---------------------------------------------------------------------------------------------------------- */

static bool same(tc_compiler *c, uint32_t a, uint32_t b);

static bool same_children(tc_compiler *c, uint32_t a, uint32_t b)
{
	uint32_t i = at(c, a)->child, j = at(c, b)->child;
	for (; i != TC_NONE && j != TC_NONE; i = at(c, i)->next, j = at(c, j)->next)
		if (!same(c, i, j))
			return false;
	return i == j;
}

static bool same_ids(const tc_compiler *c, const tc_ast *a, const tc_ast *b)
{
	if (a->ids_count != b->ids_count)
		return false;
	for (uint32_t i = 0; i < a->ids_count; i++)
		if (c->ids[a->ids + i].value != c->ids[b->ids + i].value)
			return false;
	return true;
}

static bool same(tc_compiler *c, uint32_t a, uint32_t b)
{
	const tc_ast *x = at(c, a), *y = at(c, b);
	if (x->kind != y->kind || x->type != y->type || x->op != y->op || x->range != y->range ||
	    x->field != y->field || x->slot != y->slot || x->anchor_slot != y->anchor_slot ||
	    !tc_dim_same(x->dim, y->dim) || !same_ids(c, x, y))
		return false;
	if ((x->flags ^ y->flags) & TC_AST_NEGATED)
		return false;
	if (x->kind == TC_A_NUMBER && tc_compare(x->number, y->number) != 0)
		return false;
	if ((x->text || y->text) && (!x->text || !y->text || strcmp(x->text, y->text) != 0))
		return false;
	return same_children(c, a, b);
}

/* Does `has guard` make sure that `path` is not absent? It does of the path itself, and of a receiver of it when what follows
 * cannot be absent on its own. */
static bool guards_path(tc_compiler *c, uint32_t guard, uint32_t path)
{
	if (same(c, guard, path))
		return true;
	const tc_ast *n = at(c, path);
	tc_field_row room;
	if (n->kind != TC_A_FIELD || n->child == TC_NONE)
		return false;
	const tc_ast *receiver = at(c, n->child);
	const tc_field_row *row = tc_field_row_of(n->field, &room);
	if (row->flags & TC_MAY_BE_ABSENT || (receiver->subject == TC_S_EXPOSED && row->subject == TC_S_LAYER))
		return false;
	return guards_path(c, guard, n->child);
}

static bool chain_guards(tc_compiler *c, uint32_t chain, uint32_t path)
{
	for (uint32_t i = at(c, chain)->child; i != TC_NONE; i = at(c, i)->next) {
		const tc_ast *n = at(c, i);
		if (n->kind == TC_A_HAS && guards_path(c, n->child, path))
			return true;
		if (n->kind == TC_A_AND && chain_guards(c, i, path))
			return true;
	}
	return false;
}

static bool guarded(tc_compiler *c, const guards *g, uint32_t path)
{
	for (; g; g = g->outer)
		if (chain_guards(c, g->chain, path))
			return true;
	return false;
}

/* --- walking ---------------------------------------------------------------------------------------------------------- */

static void check_paths(tc_compiler *c, const guards *g, uint32_t node)
{
	const tc_ast *n = at(c, node);
	const bool path = n->kind == TC_A_FIELD || n->kind == TC_A_WINDOW_FIRST || n->kind == TC_A_WINDOW_LAST ||
	                  n->kind == TC_A_WINDOW_AFTER || n->kind == TC_A_FOLD;
	if (!(n->flags & TC_AST_MAY_BE_ABSENT) || n->type == TC_T_BAD)
		return;
	if (!path) {
		for (uint32_t i = n->child; i != TC_NONE; i = at(c, i)->next)
			check_paths(c, g, i);
		return;
	}
	if (guarded(c, g, node))
		return;
	const char *const text = tc_ast_text(c, node);
	tc_wrong(c, "absent-negated", n->passage, n->from, "`%s` can be absent under `not`; write `has %s and …`", text,
	    text);
}

static void walk(tc_compiler *c, const guards *g, uint32_t node, bool negated);

/* Folds inside the operands of a test are tests of their own. */
static void walk_folds(tc_compiler *c, const guards *g, uint32_t node)
{
	for (uint32_t i = at(c, node)->child; i != TC_NONE; i = at(c, i)->next)
		if (at(c, i)->kind == TC_A_FOLD)
			walk(c, g, i, false);
		else
			walk_folds(c, g, i);
}

static void walk_test(tc_compiler *c, const guards *g, uint32_t node, bool negated)
{
	const tc_ast *n = at(c, node);
	walk_folds(c, g, node);
	if (!negated)
		return;
	if (n->kind == TC_A_FIELD) {
		check_paths(c, g, node);
		return;
	}
	if (n->kind != TC_A_BETWEEN && n->kind != TC_A_IN && (n->kind != TC_A_COMPARE || n->op >= TC_SAME))
		return;
	for (uint32_t i = n->child; i != TC_NONE; i = at(c, i)->next) {
		if (at(c, i)->kind != TC_A_SPANS) {
			check_paths(c, g, i);
			continue;
		}
		for (uint32_t s = at(c, i)->child; s != TC_NONE; s = at(c, s)->next)
			for (uint32_t b = at(c, s)->child; b != TC_NONE; b = at(c, b)->next)
				check_paths(c, g, b);
	}
}

static void walk(tc_compiler *c, const guards *g, uint32_t node, bool negated)
{
	const tc_ast *n = at(c, node);
	const guards inner = {g, node};
	switch ((tc_ast_kind)n->kind) {
	case TC_A_AND:
		g = &inner;
		/* fall through */
	case TC_A_OR:
	case TC_A_NOT:
		negated ^= n->kind == TC_A_NOT;
		for (uint32_t i = n->child; i != TC_NONE; i = at(c, i)->next)
			walk(c, g, i, negated);
		break;
	case TC_A_FOLD:
		if (n->child != TC_NONE && at(c, n->child)->type == TC_T_TRUTH)
			walk(c, g, n->child, n->type == TC_T_TRUTH && negated != (n->op == TC_FOLD_NO));
		else if (n->child != TC_NONE)
			walk_folds(c, g, node);
		break;
	case TC_A_BIND:
		walk_folds(c, g, node);
		walk(c, g, at(c, n->child)->next, negated);
		break;
	case TC_A_HAS:
	case TC_A_KNOWN:
		walk_folds(c, g, node);
		break;
	default:
		walk_test(c, g, node, negated);
	}
}

void tc_guard_check(tc_compiler *c, uint32_t root)
{
	walk(c, NULL, root, false);
}
