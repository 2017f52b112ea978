/* Names, types and dimensions. A node that is wrong gets the type TC_T_BAD, and whatever uses it stays silent. Positions in
 * c->nodes are kept, never pointers, where a let may be grafted in between. */
#include <string.h>

#include "rule/private.h"

static tc_ast *at(tc_compiler *c, uint32_t node)
{
	return &c->nodes[node];
}

static uint32_t next(const tc_compiler *c, uint32_t node)
{
	return node == TC_NONE ? TC_NONE : c->nodes[node].next;
}

static tc_text text_of(const tc_compiler *c, const tc_ast *n, uint32_t from, uint32_t to)
{
	return (tc_text){c->opened[n->passage].passage.text.at + from, to - from};
}

static bool is_bad(const tc_compiler *c, uint32_t node)
{
	return node == TC_NONE || c->nodes[node].type == TC_T_BAD;
}

#define WRONG(c, node, id, ...) tc_wrong((c), (id), at((c), (node))->passage, at((c), (node))->from, __VA_ARGS__)

static bool is_number_like(const tc_ast *n)
{
	return n->type == TC_T_NUMBER || n->type == TC_T_SHARE || n->type == TC_T_TEMPERATURE;
}

/* --- names ------------------------------------------------------------------------------------------------------------ */

static void offer_field(void *user, uint32_t field, const char *name)
{
	(void)field;
	tc_nearest_offer(user, tc_text_of(name));
}

static bool has_ask_fields(tc_ask ask)
{
	return ask == TC_ASK_CONTACT || ask == TC_ASK_TOUCH;
}

static const tc_scope_name *in_scope(const tc_compiler *c, tc_text name)
{
	for (uint32_t i = c->scope_count; i > c->scope_floor; i--)
		if (tc_text_same(c->scope[i - 1].name, name))
			return &c->scope[i - 1];
	for (uint32_t i = 0; i < c->base_count; i++)
		if (c->slots & 1u << c->scope[i].slot && tc_text_same(c->scope[i].name, name))
			return &c->scope[i];
	return NULL;
}

static void no_such_name(tc_compiler *c, uint32_t node, tc_text name)
{
	static const char *const subjects[] = {"part", "step", "coat", "under", "liquid", "new"};
	for (size_t i = 0; i < sizeof subjects / sizeof *subjects; i++)
		if (tc_text_is(name, subjects[i])) {
			WRONG(c, node, "unknown-name", "there is no `%s` in what asks for %s", subjects[i],
			    tc_ask_name(c->ask));
			return;
		}
	if (tc_field_find(TC_S_ASK, name) != TC_NONE) {
		WRONG(c, node, "unknown-name", "there is no `%.*s` in what asks for %s; a contact and a touch have it",
		    TC_TEXT_F(name), tc_ask_name(c->ask));
		return;
	}
	tc_nearest nearest = TC_NEAREST(name);
	for (uint32_t i = 0; i < c->scope_count; i++)
		if (i >= c->scope_floor || (i < c->base_count && c->slots & 1u << c->scope[i].slot))
			tc_nearest_offer(&nearest, c->scope[i].name);
	for (uint32_t i = 0; i < c->lets->count; i++)
		tc_nearest_offer(&nearest, tc_text_of(c->lets->at[i].name));
	if (has_ask_fields(c->ask))
		tc_field_each(TC_S_ASK, offer_field, &nearest);
	WRONG(c, node, "unknown-name", "no name `%.*s` here" TC_NEAR_F, TC_TEXT_F(name), TC_NEAR(nearest, ""));
}

/* Remembers that a parameter of a let stands here, for the texts of leaves. */
static void note_swap(tc_compiler *c, uint32_t passage, uint32_t from, uint32_t to, const char *printed)
{
	tc_opened *opened = &c->opened[passage];
	if (!tc_arena_grow(c->scratch, (void **)&opened->swaps, opened->count, &opened->room, sizeof *opened->swaps))
		return;
	uint32_t i = opened->count++;
	for (; i > 0 && opened->swaps[i - 1].from > from; i--)
		opened->swaps[i] = opened->swaps[i - 1];
	opened->swaps[i] = (tc_swap){from, to, printed};
}

static void bind_name(tc_compiler *c, uint32_t node, const tc_scope_name *name)
{
	tc_ast *n = at(c, node);
	n->type = TC_T_SUBJECT;
	n->subject = name->subject;
	n->slot = name->slot;
	n->deps = 1u << name->slot;
	n->cost = 1;
	if (name->param)
		note_swap(c, n->passage, n->name_from, n->name_to, name->printed);
}

static void ask_field(tc_compiler *c, uint32_t node, uint32_t field)
{
	tc_field_row room;
	const tc_field_row *row = tc_field_row_of(field, &room);
	tc_ast *n = at(c, node);
	n->kind = TC_A_FIELD;
	n->type = (uint8_t)row->type;
	n->dim = row->dim;
	n->field = field;
	n->flags = (uint8_t)row->flags;
	n->cost = row->cost == 2 ? 32 : 4;
}

static void check_name(tc_compiler *c, uint32_t node)
{
	const tc_ast *n = at(c, node);
	const tc_text name = text_of(c, n, n->name_from, n->name_to);
	const tc_scope_name *bound = in_scope(c, name);
	const uint32_t field = has_ask_fields(c->ask) ? tc_field_find(TC_S_ASK, name) : TC_NONE;
	if (bound) {
		bind_name(c, node, bound);
	} else if (field != TC_NONE) {
		ask_field(c, node, field);
	} else {
		const uint32_t let = tc_map_find(&c->lets->names, name);
		if (let != TC_MAP_NONE)
			tc_let_graft(c, node, let);
		else
			no_such_name(c, node, name);
	}
}

/* --- calls of what stands alone ---------------------------------------------------------------------------------------- */

static void add_children(tc_compiler *c, uint32_t node)
{
	uint32_t cost = 1, deps = 0;
	for (uint32_t i = at(c, node)->child; i != TC_NONE; i = next(c, i)) {
		cost += at(c, i)->cost;
		deps |= at(c, i)->deps;
	}
	at(c, node)->cost = cost;
	at(c, node)->deps = deps;
}

static void two_types(tc_compiler *c, uint32_t left, uint32_t right, uint32_t node, const char *does);

/* min, max, abs */
static void check_free(tc_compiler *c, uint32_t node, tc_free free)
{
	const uint32_t first = at(c, node)->child;
	uint32_t count = 0;
	bool all_absent = true, negative = false;
	for (uint32_t i = first; i != TC_NONE; i = next(c, i), count++) {
		tc_check(c, i, false);
		if (is_bad(c, i))
			return;
		all_absent &= (at(c, i)->flags & TC_AST_MAY_BE_ABSENT) != 0;
		negative |= (at(c, i)->flags & TC_AST_NEVER_NEGATIVE) == 0;
		if (!is_number_like(at(c, i)) || (free == TC_FREE_ABS && at(c, i)->type == TC_T_TEMPERATURE)) {
			WRONG(c, i, "type", "`%s` is %s; `%s` takes figures", tc_ast_text(c, i), tc_ast_type_name(c, i),
			    tc_free_names[free]);
			return;
		}
		if (at(c, i)->type != at(c, first)->type || !tc_dim_same(at(c, i)->dim, at(c, first)->dim)) {
			two_types(c, first, i, node, "compares");
			return;
		}
	}
	if (free == TC_FREE_ABS ? count != 1 : count < 2) {
		WRONG(c, node, "arguments", "`%s` takes %s", tc_free_names[free],
		    free == TC_FREE_ABS ? "one figure" : "two figures or more");
		return;
	}
	tc_ast *n = at(c, node);
	n->op = (uint8_t)free;
	n->type = at(c, first)->type;
	n->dim = at(c, first)->dim;
	n->flags = (uint8_t)((all_absent ? TC_AST_MAY_BE_ABSENT : 0) |
	                     (!negative || free == TC_FREE_ABS ? TC_AST_NEVER_NEGATIVE : 0));
	add_children(c, node);
}

static void check_call(tc_compiler *c, uint32_t node)
{
	const tc_ast *n = at(c, node);
	const tc_text name = text_of(c, n, n->name_from, n->name_to);
	for (tc_free f = TC_FREE_MIN; f <= TC_FREE_ABS; f++)
		if (tc_text_is(name, tc_free_names[f])) {
			check_free(c, node, f);
			return;
		}
	const uint32_t let = tc_map_find(&c->lets->names, name);
	if (let != TC_MAP_NONE)
		tc_let_graft(c, node, let);
	else if (in_scope(c, name) || (has_ask_fields(c->ask) && tc_field_find(TC_S_ASK, name) != TC_NONE))
		WRONG(c, node, "arguments", "`%.*s` takes no arguments", TC_TEXT_F(name));
	else
		no_such_name(c, node, name);
}

/* --- fields ------------------------------------------------------------------------------------------------------------ */

static bool is_exposed(const tc_ast *n)
{
	return n->type == TC_T_SUBJECT &&
	       (n->subject == TC_S_EXPOSED || n->subject == TC_S_LAYER || n->subject == TC_S_PRODUCT);
}

static bool argument_fits(const tc_ast *n, char wanted)
{
	switch (wanted) {
	case 'X':
		return is_exposed(n);
	case 'S':
		return n->type == TC_T_SHARE;
	case 'B':
		return n->type == TC_T_NUMBER && tc_dim_none(n->dim);
	default:
		return n->type == TC_T_NUMBER && tc_dim_same(n->dim, TC_DIM_LENGTH);
	}
}

static const char *argument_name(char wanted)
{
	return wanted == 'X'   ? "something exposed"
	       : wanted == 'S' ? "a share"
	       : wanted == 'B' ? "a bare number"
	                       : "a length";
}

/* The arguments behind the receiver; false with a message, or silently where one is broken. */
static bool check_arguments(tc_compiler *c, uint32_t node, const tc_field_row *row)
{
	const char *wanted = row->arguments ? row->arguments : "";
	uint32_t i = next(c, at(c, node)->child);
	if (!row->arguments && at(c, node)->flags & TC_AST_OPEN) {
		WRONG(c, node, "arguments", "`%s` takes no arguments", row->name);
		return false;
	}
	for (; *wanted && i != TC_NONE; wanted++, i = next(c, i)) {
		tc_check(c, i, false);
		if (is_bad(c, i))
			return false;
		if (argument_fits(at(c, i), *wanted))
			continue;
		WRONG(c, i, "arguments", "`%s` is %s; `%s` wants %s here", tc_ast_text(c, i), tc_ast_type_name(c, i),
		    row->name, argument_name(*wanted));
		return false;
	}
	if (i != TC_NONE)
		WRONG(c, i, "arguments", "`%s` takes no further argument", row->name);
	else if (*wanted && *wanted != 'B')
		WRONG(c, node, "arguments", "`%s` wants %s in parentheses", row->name, argument_name(*wanted));
	else
		return true;
	return false;
}

static void no_such_field(tc_compiler *c, uint32_t node, tc_subject subject, tc_text name)
{
	tc_nearest nearest = TC_NEAREST(name);
	tc_field_each(subject, offer_field, &nearest);
	const char *const hint = subject == TC_S_PART && tc_text_is(name, "layers") ? "; range over `all layers`" : "";
	tc_wrong(c, "unknown-name", at(c, node)->passage, at(c, node)->name_from, "no field `%.*s` of %s" TC_NEAR_F,
	    TC_TEXT_F(name), tc_subject_name(subject), TC_NEAR(nearest, hint));
}

static void field_of_subject(tc_compiler *c, uint32_t node, tc_text name)
{
	const uint32_t receiver = at(c, node)->child;
	const tc_subject subject = (tc_subject)at(c, receiver)->subject;
	const uint32_t field = tc_field_find(subject, name);
	tc_field_row room;
	if (field == TC_NONE) {
		no_such_field(c, node, subject, name);
		return;
	}
	const tc_field_row *row = tc_field_row_of(field, &room);
	if (!check_arguments(c, node, row))
		return;
	unsigned flags = row->flags & ~(unsigned)TC_MAY_BE_ABSENT;
	bool may_be_absent = row->flags & TC_MAY_BE_ABSENT || (subject == TC_S_EXPOSED && row->subject == TC_S_LAYER);
	for (uint32_t i = receiver; i != TC_NONE; i = next(c, i))
		may_be_absent |= (at(c, i)->flags & TC_AST_MAY_BE_ABSENT) != 0;
	add_children(c, node);
	tc_ast *n = at(c, node);
	n->field = field;
	n->type = (uint8_t)row->type;
	n->dim = row->dim;
	n->subject = (uint8_t)row->of;
	n->flags = (uint8_t)(flags | (may_be_absent ? TC_AST_MAY_BE_ABSENT : 0));
	n->cost += row->cost == 2 ? 32 : row->cost == 1 ? 4 : 1;
}

/* w.first, w.last, w.after(t) */
static void field_of_window(tc_compiler *c, uint32_t node, tc_text name)
{
	const uint32_t argument = next(c, at(c, node)->child);
	const bool after = tc_text_is(name, "after");
	if (!after && !tc_text_is(name, "first") && !tc_text_is(name, "last")) {
		tc_wrong(c, "unknown-name", at(c, node)->passage, at(c, node)->name_from,
		    "no field `%.*s` of a window; it has `first`, `last` and `after(t)`", TC_TEXT_F(name));
		return;
	}
	if (after && argument != TC_NONE) {
		tc_check(c, argument, false);
		if (is_bad(c, argument))
			return;
	}
	if (after != (argument != TC_NONE) || (!after && at(c, node)->flags & TC_AST_OPEN) ||
	    next(c, argument) != TC_NONE) {
		WRONG(c, node, "arguments", "`%.*s` of a window takes %s", TC_TEXT_F(name),
		    after ? "one time" : "no arguments");
		return;
	}
	if (after && !(at(c, argument)->type == TC_T_NUMBER && tc_dim_same(at(c, argument)->dim, TC_DIM_TIME))) {
		WRONG(c, argument, "arguments", "`%s` is %s; `after` wants a time", tc_ast_text(c, argument),
		    tc_ast_type_name(c, argument));
		return;
	}
	add_children(c, node);
	tc_ast *n = at(c, node);
	const bool first = tc_text_is(name, "first");
	n->kind = (uint8_t)(after ? TC_A_WINDOW_AFTER : first ? TC_A_WINDOW_FIRST : TC_A_WINDOW_LAST);
	n->type = TC_T_NUMBER;
	n->dim = TC_DIM_TIME;
	n->flags = TC_AST_NEVER_NEGATIVE | TC_AST_MAY_BE_ABSENT;
}

static void check_field(tc_compiler *c, uint32_t node)
{
	const uint32_t receiver = at(c, node)->child;
	tc_check(c, receiver, false);
	if (is_bad(c, receiver))
		return;
	const tc_ast *n = at(c, node);
	const tc_text name = text_of(c, n, n->name_from, n->name_to);
	if (at(c, receiver)->type == TC_T_SUBJECT)
		field_of_subject(c, node, name);
	else if (at(c, receiver)->type == TC_T_WINDOW)
		field_of_window(c, node, name);
	else
		tc_wrong(c, "type", n->passage, n->name_from, "`%s` is %s and has no field `%.*s`",
		    tc_ast_text(c, receiver), tc_ast_type_name(c, receiver), TC_TEXT_F(name));
}

/* --- folds ---------------------------------------------------------------------------------------------------------- */

static tc_subject element_of(tc_range range)
{
	switch (range) {
	case TC_R_EARLIER_STEPS:
	case TC_R_LATER_STEPS:
	case TC_R_STEPS_SINCE:
	case TC_R_ALL_STEPS:
		return TC_S_STEP;
	case TC_R_ALL_PARTS:
		return TC_S_PART;
	case TC_R_ALL_PRODUCTS:
		return TC_S_PRODUCT;
	case TC_R_EXPOSED:
		return TC_S_EXPOSED;
	default:
		return TC_S_LAYER;
	}
}

/* Has the question itself a place from which this range is counted? */
static bool hangs_on_ask(tc_range range, tc_ask ask)
{
	switch (range) {
	case TC_R_EARLIER_LAYERS:
	case TC_R_LATER_LAYERS:
	case TC_R_EARLIER_STEPS:
	case TC_R_LATER_STEPS:
	case TC_R_LAYERS_SINCE:
	case TC_R_STEPS_SINCE:
		return ask >= TC_ASK_STEP;
	case TC_R_PASSES:
		return ask == TC_ASK_COAT || ask == TC_ASK_CONTACT;
	case TC_R_EXPOSED:
		return ask >= TC_ASK_PART;
	default:
		return true;
	}
}

static bool may_anchor(tc_range range, uint8_t subject)
{
	if (range == TC_R_PASSES)
		return subject == TC_S_LAYER;
	return subject == TC_S_LAYER || subject == TC_S_STEP || subject == TC_S_EXPOSED;
}

/* The name after `of` or `since`. */
static bool check_anchor(tc_compiler *c, uint32_t node)
{
	tc_ast *n = at(c, node);
	const tc_range range = (tc_range)n->range;
	const bool since = range == TC_R_LAYERS_SINCE || range == TC_R_STEPS_SINCE;
	n->anchor_slot = UINT8_MAX;
	if ((n->of_to == n->of_from || since) && !hangs_on_ask(range, c->ask)) {
		const bool may_say_of = n->of_to == n->of_from && (range <= TC_R_LATER_STEPS || range == TC_R_PASSES);
		WRONG(c, node, "range", "what asks for %s has no place from which `%s` could be counted%s",
		    tc_ask_name(c->ask), tc_range_names[range], may_say_of ? "; write `of` and a name" : "");
		return false;
	}
	if (n->of_to == n->of_from)
		return true;
	const tc_text name = text_of(c, n, n->of_from, n->of_to);
	const tc_scope_name *bound = in_scope(c, name);
	if (!bound) {
		tc_wrong(c, "unknown-name", n->passage, n->of_from, "`%.*s` names no subject here", TC_TEXT_F(name));
		return false;
	}
	if (!may_anchor(range, bound->subject)) {
		tc_wrong(c, "range", n->passage, n->of_from, "`%.*s` is %s; `%s` cannot be counted from it",
		    TC_TEXT_F(name), tc_subject_name((tc_subject)bound->subject), tc_range_names[range]);
		return false;
	}
	n->anchor_slot = bound->slot;
	if (bound->param)
		note_swap(c, n->passage, n->of_from, n->of_to, bound->printed);
	return true;
}

/* A new name must not hide another one. */
static bool check_new_name(tc_compiler *c, uint32_t node)
{
	const tc_ast *n = at(c, node);
	const tc_text name = text_of(c, n, n->name_from, n->name_to);
	const char *taken = NULL;
	if (in_scope(c, name))
		taken = "a subject";
	else if (tc_field_find(TC_S_ASK, name) != TC_NONE)
		taken = "a field of a contact";
	else if (tc_map_find(&c->lets->names, name) != TC_MAP_NONE)
		taken = "a let";
	for (tc_free f = TC_FREE_MIN; f <= TC_FREE_ABS; f++)
		if (tc_text_is(name, tc_free_names[f]))
			taken = "a function";
	if (!taken)
		return true;
	tc_wrong(c, "taken", n->passage, n->name_from, "`%.*s` is the name of %s already; take another",
	    TC_TEXT_F(name), taken);
	return false;
}

static bool check_body(tc_compiler *c, uint32_t node)
{
	const uint32_t body = at(c, node)->child;
	const tc_fold fold = (tc_fold)at(c, node)->op;
	if (body == TC_NONE)
		return true;
	tc_check(c, body, false);
	if (is_bad(c, body))
		return false;
	const tc_ast *b = at(c, body);
	const bool figures = fold >= TC_FOLD_SUM && fold <= TC_FOLD_MOST;
	if (figures ? is_number_like(b) && (fold != TC_FOLD_SUM || b->type != TC_T_TEMPERATURE) : b->type == TC_T_TRUTH)
		return true;
	WRONG(c, body, "type", "`%s` is %s; `%s` wants %s", tc_ast_text(c, body), tc_ast_type_name(c, body),
	    tc_fold_names[fold],
	    !figures              ? "a test"
	    : fold == TC_FOLD_SUM ? "figures that can be added"
	                          : "figures");
	return false;
}

static void type_fold(tc_compiler *c, uint32_t node, tc_subject element)
{
	tc_ast *n = at(c, node);
	const tc_ast *body = n->child == TC_NONE ? NULL : at(c, n->child);
	switch ((tc_fold)n->op) {
	case TC_FOLD_COUNT:
		n->type = TC_T_NUMBER;
		n->flags = TC_AST_NEVER_NEGATIVE | TC_AST_AS_WRITTEN;
		break;
	case TC_FOLD_SUM:
	case TC_FOLD_LEAST:
	case TC_FOLD_MOST:
		n->type = body->type;
		n->dim = body->dim;
		n->flags = (uint8_t)((body->flags & TC_AST_NEVER_NEGATIVE) |
		                     (n->op == TC_FOLD_SUM ? 0 : TC_AST_MAY_BE_ABSENT));
		break;
	case TC_FOLD_FIRST:
	case TC_FOLD_LAST:
		n->type = TC_T_SUBJECT;
		n->subject = (uint8_t)element;
		n->flags = TC_AST_MAY_BE_ABSENT;
		break;
	default:
		n->type = TC_T_TRUTH;
	}
}

static void check_fold(tc_compiler *c, uint32_t node, bool conjunct)
{
	const tc_subject element = element_of((tc_range)at(c, node)->range);
	if (c->fold_depth == TC_FOLD_DEPTH_MAX) {
		WRONG(c, node, "bound", "folds stand at most %u deep in one another", TC_FOLD_DEPTH_MAX);
		return;
	}
	if (c->next_slot == TC_NAMES_MAX || c->scope_count == TC_SCOPE_MAX) {
		WRONG(c, node, "bound", "more than %u names of subjects are bound here", TC_NAMES_MAX);
		return;
	}
	if (!check_anchor(c, node) || !check_new_name(c, node))
		return;
	tc_ast *n = at(c, node);
	const tc_scope_name name = {
	    .name = text_of(c, n, n->name_from, n->name_to), .slot = c->next_slot++, .subject = (uint8_t)element};
	n->slot = name.slot;
	c->scope[c->scope_count++] = name;
	c->fold_depth++;
	const bool good = check_body(c, node);
	c->fold_depth--;
	c->scope_count--;
	const bool visible = conjunct && at(c, node)->op == TC_FOLD_ANY && c->scope_floor == c->base_count;
	if (visible)
		c->visible[c->visible_count++] = name;
	else
		c->next_slot--;
	if (!good)
		return;
	type_fold(c, node, element);
	n = at(c, node);
	const uint32_t body = n->child;
	n->cost = 8 + 6 * (body == TC_NONE ? 1 : at(c, body)->cost);
	n->deps = (body == TC_NONE ? 0 : at(c, body)->deps & ~(1u << name.slot)) |
	          (n->anchor_slot == UINT8_MAX ? 0 : 1u << n->anchor_slot);
	if (visible)
		n->flags |= TC_AST_VISIBLE;
}

/* --- arithmetic ------------------------------------------------------------------------------------------------------ */

/* A bare number where a share or a quantity is due: say how it would be written. */
static bool bare_number(tc_compiler *c, uint32_t left, uint32_t right)
{
	const bool left_bare = at(c, left)->flags & TC_AST_BARE, right_bare = at(c, right)->flags & TC_AST_BARE;
	if (left_bare == right_bare)
		return false;
	const uint32_t bare = left_bare ? left : right, other = left_bare ? right : left;
	const char *const b = tc_ast_text(c, bare), *const o = tc_ast_text(c, other);
	if (at(c, other)->type == TC_T_SHARE)
		WRONG(c, bare, "share", "`%s` is a bare number and `%s` a share; write `%s %%`", b, o, b);
	else if (at(c, other)->type == TC_T_TEMPERATURE)
		WRONG(c, bare, "dimensions", "`%s` is a bare number and `%s` a temperature; write `%s °C`", b, o, b);
	else if (at(c, other)->type == TC_T_NUMBER)
		WRONG(c, bare, "dimensions", "`%s` is a bare number and `%s` %s; write its unit", b, o,
		    tc_ast_type_name(c, other));
	else
		return false;
	tc_wrong_related(c, at(c, other)->passage, at(c, other)->from, "`%s` stands here", o);
	return true;
}

/* Two operands that do not go together: what each is, and where. `does`: adds, subtracts, compares … */
static void two_types(tc_compiler *c, uint32_t left, uint32_t right, uint32_t node, const char *does)
{
	if (bare_number(c, left, right))
		return;
	const tc_ast *l = at(c, left), *r = at(c, right);
	const bool share = l->type == TC_T_SHARE || r->type == TC_T_SHARE;
	const char *const id = l->type == TC_T_NUMBER && r->type == TC_T_NUMBER ? "dimensions"
	                       : share                                          ? "share"
	                                                                        : "type";
	const char *hint = "";
	if ((l->type == TC_T_TEMPERATURE) != (r->type == TC_T_TEMPERATURE) && strcmp(does, "compares") == 0)
		hint = "; a temperature is written in °C or °F, and K is a difference";
	WRONG(c, node, id, "`%s` %s %s %s %s%s", tc_ast_text(c, node), does, tc_ast_type_name(c, left),
	    strcmp(does, "adds") == 0        ? "to"
	    : strcmp(does, "subtracts") == 0 ? "and"
	                                     : "with",
	    tc_ast_type_name(c, right), hint);
	tc_wrong_related(c, at(c, right)->passage, at(c, right)->from, "`%s` is %s", tc_ast_text(c, right),
	    tc_ast_type_name(c, right));
}

static bool is_kelvin(const tc_ast *n)
{
	return n->type == TC_T_NUMBER && tc_dim_same(n->dim, TC_DIM_KELVIN);
}

/* The type of left ± right; TC_T_BAD: none. */
static tc_type type_of_sum(const tc_ast *l, const tc_ast *r, bool minus)
{
	if (l->type == TC_T_NUMBER && r->type == TC_T_NUMBER)
		return tc_dim_same(l->dim, r->dim) ? TC_T_NUMBER : TC_T_BAD;
	if (l->type == TC_T_SHARE && r->type == TC_T_SHARE)
		return TC_T_SHARE;
	if (l->type == TC_T_TEMPERATURE && r->type == TC_T_TEMPERATURE)
		return minus ? TC_T_NUMBER : TC_T_BAD;
	if (l->type == TC_T_TEMPERATURE && is_kelvin(r))
		return TC_T_TEMPERATURE;
	return r->type == TC_T_TEMPERATURE && is_kelvin(l) && !minus ? TC_T_TEMPERATURE : TC_T_BAD;
}

static bool both_figures(tc_compiler *c, uint32_t node, uint32_t left, uint32_t right)
{
	for (uint32_t i = left;; i = right) {
		if (!is_number_like(at(c, i))) {
			WRONG(c, i, "type", "`%s` is %s, no figure", tc_ast_text(c, i), tc_ast_type_name(c, i));
			return false;
		}
		if (i == right)
			break;
	}
	(void)node;
	return true;
}

static void check_sum(tc_compiler *c, uint32_t node, uint32_t left, uint32_t right)
{
	const bool minus = at(c, node)->kind == TC_A_SUBTRACT;
	const tc_ast *l = at(c, left), *r = at(c, right);
	const tc_type type = type_of_sum(l, r, minus);
	if (type == TC_T_BAD) {
		two_types(c, left, right, node, minus ? "subtracts" : "adds");
		return;
	}
	tc_ast *n = at(c, node);
	n->type = (uint8_t)type;
	n->dim = type != TC_T_NUMBER ? TC_DIM_NONE : l->type == TC_T_TEMPERATURE ? TC_DIM_KELVIN : l->dim;
	n->flags = (uint8_t)(((l->flags | r->flags) & TC_AST_MAY_BE_ABSENT) |
	                     (minus ? 0 : l->flags & r->flags & TC_AST_NEVER_NEGATIVE));
}

static bool add_powers(tc_dim l, tc_dim r, int sign, tc_dim *sum)
{
	const int powers[5] = {l.length + sign * r.length, l.mass + sign * r.mass, l.time + sign * r.time,
	    l.temperature + sign * r.temperature, l.amount + sign * r.amount};
	for (size_t i = 0; i < 5; i++)
		if (powers[i] < INT8_MIN || powers[i] > INT8_MAX)
			return false;
	*sum = (tc_dim){(int8_t)powers[0], (int8_t)powers[1], (int8_t)powers[2], (int8_t)powers[3], (int8_t)powers[4]};
	return true;
}

/* Share × quantity keeps the quantity's dimension; a share of a share and a multiple of a share are shares; share / share
 * is a number. */
static void check_product(tc_compiler *c, uint32_t node, uint32_t left, uint32_t right)
{
	const tc_ast *l = at(c, left), *r = at(c, right);
	const bool divide = at(c, node)->kind == TC_A_DIVIDE;
	for (uint32_t i = left;; i = right) {
		if (at(c, i)->type == TC_T_TEMPERATURE) {
			WRONG(c, i, "type",
			    "`%s` is a temperature, which cannot be %s; take its difference from another one",
			    tc_ast_text(c, i), divide ? "divided" : "multiplied");
			return;
		}
		if (i == right)
			break;
	}
	tc_ast *n = at(c, node);
	tc_dim dim;
	if (!add_powers(l->dim, r->dim, divide ? -1 : 1, &dim)) {
		WRONG(c, node, "dimensions", "`%s` has a dimension beyond all use", tc_ast_text(c, node));
		return;
	}
	const bool l_share = l->type == TC_T_SHARE, r_share = r->type == TC_T_SHARE;
	bool share = divide ? l_share && !r_share && tc_dim_none(r->dim) : l_share || r_share;
	share &= tc_dim_none(dim);
	n->type = share ? TC_T_SHARE : TC_T_NUMBER;
	n->dim = dim;
	n->flags =
	    (uint8_t)(((l->flags | r->flags) & TC_AST_MAY_BE_ABSENT) | (l->flags & r->flags & TC_AST_NEVER_NEGATIVE));
}

static void check_arithmetic(tc_compiler *c, uint32_t node)
{
	const uint32_t left = at(c, node)->child, right = next(c, left);
	tc_check(c, left, false);
	tc_check(c, right, false);
	if (is_bad(c, left) || is_bad(c, right) || !both_figures(c, node, left, right))
		return;
	if (at(c, node)->kind == TC_A_ADD || at(c, node)->kind == TC_A_SUBTRACT)
		check_sum(c, node, left, right);
	else
		check_product(c, node, left, right);
	add_children(c, node);
}

static void check_negate(tc_compiler *c, uint32_t node)
{
	const uint32_t child = at(c, node)->child;
	tc_check(c, child, false);
	if (is_bad(c, child))
		return;
	const tc_ast *of = at(c, child);
	if (of->type != TC_T_NUMBER && of->type != TC_T_SHARE) {
		WRONG(c, node, "type", "`%s` is %s, which has no negative%s", tc_ast_text(c, child),
		    tc_ast_type_name(c, child),
		    of->type == TC_T_TEMPERATURE && of->flags & TC_AST_LITERAL
		        ? "; the sign of a number touches it: `-5 °C`"
		        : "");
		return;
	}
	tc_ast *n = at(c, node);
	n->type = of->type;
	n->dim = of->dim;
	n->flags = of->flags & TC_AST_MAY_BE_ABSENT;
	add_children(c, node);
}

/* --- tests ---------------------------------------------------------------------------------------------------------- */

static void test_type(tc_compiler *c, uint32_t node)
{
	add_children(c, node);
	at(c, node)->type = TC_T_TRUTH;
}

static void check_path_test(tc_compiler *c, uint32_t node)
{
	const uint32_t child = at(c, node)->child;
	const char *const word = at(c, node)->kind == TC_A_HAS ? "has" : "known";
	tc_check(c, child, false);
	if (is_bad(c, child))
		return;
	const uint8_t kind = at(c, child)->kind;
	if (kind != TC_A_FIELD && kind != TC_A_NAME && kind != TC_A_FOLD && kind != TC_A_WINDOW_FIRST &&
	    kind != TC_A_WINDOW_LAST && kind != TC_A_WINDOW_AFTER) {
		WRONG(c, child, "type", "`%s` is no field; `%s` asks for a field or a subject", tc_ast_text(c, child),
		    word);
		return;
	}
	if (kind == TC_A_FOLD && at(c, child)->type == TC_T_TRUTH) {
		WRONG(c, child, "type", "`%s` is a test; `%s` asks for a field or a subject", tc_ast_text(c, child),
		    word);
		return;
	}
	test_type(c, node);
}

static bool check_operands(tc_compiler *c, uint32_t node)
{
	bool good = true;
	for (uint32_t i = at(c, node)->child; i != TC_NONE; i = next(c, i)) {
		tc_check(c, i, false);
		good &= !is_bad(c, i);
	}
	return good;
}

/* `=` and `!=`: text, counts and figures as written. */
static void check_equal(tc_compiler *c, uint32_t node, uint32_t left, uint32_t right)
{
	for (uint32_t i = left;; i = right) {
		const tc_ast *n = at(c, i);
		const char *const text = tc_ast_text(c, i), *const sign = tc_compare_names[at(c, node)->op];
		if (n->type == TC_T_TRUTH)
			WRONG(c, i, "equals", "`%s` is a truth; write it alone, or `not` before it", text);
		else if (n->type == TC_T_SYMBOL || n->type == TC_T_SYMBOLS || n->type == TC_T_SUBJECT)
			WRONG(c, i, "equals", "`%s` is %s; write `is` and a word, not `%s`", text,
			    tc_ast_type_name(c, i), sign);
		else if (n->type != TC_T_TEXT && !is_number_like(n))
			WRONG(c, i, "equals", "`%s` is %s; `%s` compares texts and figures as written", text,
			    tc_ast_type_name(c, i), sign);
		else if (n->type != TC_T_TEXT && !(n->flags & TC_AST_AS_WRITTEN))
			WRONG(c, i, "equals",
			    "`%s` is computed; `%s` compares figures as written: write `between … and …`", text, sign);
		else if (i == left)
			continue;
		break;
	}
	if (!c->broken)
		test_type(c, node);
}

static bool same_type(tc_compiler *c, uint32_t node, uint32_t left, uint32_t right, const char *does)
{
	const tc_ast *l = at(c, left), *r = at(c, right);
	if (l->type == r->type && (l->type != TC_T_NUMBER || tc_dim_same(l->dim, r->dim)))
		return true;
	two_types(c, left, right, node, does);
	return false;
}

static bool can_be_ordered(tc_compiler *c, uint32_t node)
{
	if (is_number_like(at(c, node)))
		return true;
	WRONG(c, node, "type", "`%s` is %s, which is neither more nor less than another", tc_ast_text(c, node),
	    tc_ast_type_name(c, node));
	return false;
}

static void check_compare(tc_compiler *c, uint32_t node)
{
	const uint32_t left = at(c, node)->child, right = next(c, left);
	if (!check_operands(c, node))
		return;
	if (at(c, node)->op >= TC_SAME) {
		const bool was_broken = c->broken;
		c->broken = false;
		if (at(c, left)->type == at(c, right)->type || !is_number_like(at(c, left)))
			check_equal(c, node, left, right);
		if (!c->broken && !same_type(c, node, left, right, "compares"))
			at(c, node)->type = TC_T_BAD;
		c->broken |= was_broken;
		return;
	}
	if (can_be_ordered(c, left) && can_be_ordered(c, right) && same_type(c, node, left, right, "compares"))
		test_type(c, node);
}

static void check_between(tc_compiler *c, uint32_t node)
{
	const uint32_t value = at(c, node)->child, low = next(c, value), high = next(c, low);
	if (!check_operands(c, node) || !can_be_ordered(c, value) || !can_be_ordered(c, low) ||
	    !can_be_ordered(c, high))
		return;
	if (!same_type(c, node, value, low, "compares") || !same_type(c, node, value, high, "compares"))
		return;
	const tc_ast *l = at(c, low), *h = at(c, high);
	if (l->kind == TC_A_NUMBER && h->kind == TC_A_NUMBER && tc_compare(l->number, h->number) > 0) {
		WRONG(c, low, "order", "`%s` is more than `%s`; nothing lies between them", tc_ast_text(c, low),
		    tc_ast_text(c, high));
		return;
	}
	test_type(c, node);
}

/* [a to b, c on]: of the type of what is looked for; in order where they are plain figures. */
static bool check_spans(tc_compiler *c, uint32_t node, uint32_t value, uint32_t spans)
{
	double last = -HUGE_VAL;
	for (uint32_t s = at(c, spans)->child; s != TC_NONE; s = next(c, s)) {
		uint32_t deps = 0, cost = 1;
		for (uint32_t i = at(c, s)->child; i != TC_NONE; i = next(c, i)) {
			tc_check(c, i, false);
			if (is_bad(c, i) || !can_be_ordered(c, i) || !same_type(c, node, value, i, "compares"))
				return false;
			deps |= at(c, i)->deps;
			cost += at(c, i)->cost;
			if (at(c, i)->kind != TC_A_NUMBER)
				continue;
			if (tc_compare(at(c, i)->number, last) < 0) {
				WRONG(c, i, "order",
				    "`%s` is less than what stands before it; spans are written in order",
				    tc_ast_text(c, i));
				return false;
			}
			last = at(c, i)->number;
		}
		at(c, s)->deps = deps;
		at(c, s)->cost = cost;
		at(c, s)->type = at(c, value)->type;
	}
	add_children(c, spans);
	at(c, spans)->type = TC_T_WINDOW;
	return true;
}

static void check_in(tc_compiler *c, uint32_t node)
{
	const uint32_t value = at(c, node)->child, window = next(c, value);
	tc_check(c, value, false);
	if (is_bad(c, value) || !can_be_ordered(c, value))
		return;
	if (at(c, window)->kind == TC_A_SPANS) {
		if (check_spans(c, node, value, window))
			test_type(c, node);
		return;
	}
	tc_check(c, window, false);
	if (is_bad(c, window))
		return;
	if (at(c, window)->type != TC_T_WINDOW)
		WRONG(c, window, "type", "`%s` is %s; `in` wants a window", tc_ast_text(c, window),
		    tc_ast_type_name(c, window));
	else if (at(c, value)->type != TC_T_NUMBER || !tc_dim_same(at(c, value)->dim, TC_DIM_TIME))
		WRONG(c, value, "dimensions", "`%s` is %s; only a time lies in a window", tc_ast_text(c, value),
		    tc_ast_type_name(c, value));
	else
		test_type(c, node);
}

static void offer_word(void *user, tc_text word)
{
	tc_nearest_offer(user, word);
}

static void no_such_id(tc_compiler *c, uint32_t node, const tc_ast_id *id, tc_text word, const char *vocabulary)
{
	tc_nearest nearest = TC_NEAREST(word);
	if (vocabulary) {
		tc_words_each(c->library, vocabulary, offer_word, &nearest);
		tc_wrong(c, "unknown-name", at(c, node)->passage, id->from, "`%.*s` is no word of `%s`" TC_NEAR_F,
		    TC_TEXT_F(word), vocabulary, TC_NEAR(nearest, ""));
		return;
	}
	for (uint32_t i = 0; i < tc_library_count(c->library); i++)
		tc_nearest_offer(&nearest, tc_text_of(tc_library_entry(c->library, i)->id));
	tc_wrong(c, "unknown-name", at(c, node)->passage, id->from, "no kind or material `%.*s`" TC_NEAR_F,
	    TC_TEXT_F(word), TC_NEAR(nearest, ""));
}

/* Each id by what the left side can be. */
static bool resolve_ids(tc_compiler *c, uint32_t node, const char *vocabulary)
{
	const tc_ast *n = at(c, node);
	for (uint32_t i = 0; i < n->ids_count; i++) {
		tc_ast_id *id = &c->ids[n->ids + i];
		const tc_text word = text_of(c, n, id->from, id->to);
		if (vocabulary) {
			id->value = tc_word_of(c->library, vocabulary, word);
		} else {
			const tc_entry *entry = tc_library_by_id(c->library, word);
			id->value = entry ? entry->index : TC_NONE;
		}
		if (id->value == TC_NONE) {
			no_such_id(c, node, id, word, vocabulary);
			return false;
		}
	}
	return true;
}

static bool has_material(const tc_ast *n)
{
	return is_exposed(n) || (n->type == TC_T_SUBJECT && n->subject == TC_S_LIQUID);
}

static void check_is(tc_compiler *c, uint32_t node)
{
	const uint32_t left = at(c, node)->child;
	tc_field_row room;
	tc_check(c, left, false);
	if (is_bad(c, left))
		return;
	const tc_ast *l = at(c, left);
	const char *vocabulary = NULL;
	if (l->type == TC_T_SYMBOL || l->type == TC_T_SYMBOLS) {
		vocabulary = tc_vocabulary_of(l->field, &room);
	} else if (!has_material(l)) {
		const char *hint = l->type == TC_T_TRUTH ? "; write it alone, or `not` before it" : "";
		if (l->type == TC_T_SUBJECT && l->subject == TC_S_PART)
			hint = "; ask its `substrate`";
		WRONG(c, left, "type", "`%s` is %s; `is` asks for kinds, materials and words%s", tc_ast_text(c, left),
		    tc_ast_type_name(c, left), hint);
		return;
	}
	if (resolve_ids(c, node, vocabulary))
		test_type(c, node);
}

static void check_matches(tc_compiler *c, uint32_t node)
{
	const uint32_t left = at(c, node)->child;
	tc_check(c, left, false);
	if (is_bad(c, left))
		return;
	if (at(c, left)->type != TC_T_TEXT) {
		WRONG(c, left, "type", "`%s` is %s; `matches` asks for a text", tc_ast_text(c, left),
		    tc_ast_type_name(c, left));
		return;
	}
	char message[200];
	size_t where = 0;
	const char *const pattern = at(c, node)->text;
	const tc_status status =
	    pattern ? tc_pattern_check(tc_arena_allocator(c->scratch), pattern, message, &where) : TC_NO_MEMORY;
	if (status == TC_NO_MEMORY)
		c->no_memory = c->broken = true;
	if (status == TC_BAD)
		tc_wrong(
		    c, "pattern", at(c, node)->passage, at(c, node)->name_from + 1 + (uint32_t)where, "%s", message);
	if (status != TC_OK)
		return;
	test_type(c, node);
	at(c, node)->cost += 16;
}

static void check_chain(tc_compiler *c, uint32_t node, bool conjunct)
{
	bool good = true;
	const char *const word = at(c, node)->kind == TC_A_AND ? "and" : at(c, node)->kind == TC_A_OR ? "or" : "not";
	for (uint32_t i = at(c, node)->child; i != TC_NONE; i = next(c, i)) {
		tc_check(c, i, conjunct && at(c, node)->kind == TC_A_AND);
		if (!is_bad(c, i) && at(c, i)->type != TC_T_TRUTH) {
			WRONG(c, i, "type", "`%s` is %s, no test; `%s` joins tests", tc_ast_text(c, i),
			    tc_ast_type_name(c, i), word);
			good = false;
		}
		good &= !is_bad(c, i);
	}
	if (good)
		test_type(c, node);
}

/* --- all ------------------------------------------------------------------------------------------------------------ */

void tc_check(tc_compiler *c, uint32_t node, bool conjunct)
{
	if (node == TC_NONE)
		return;
	switch ((tc_ast_kind)at(c, node)->kind) {
	case TC_A_NUMBER:
		at(c, node)->cost = 0;
		break;
	case TC_A_TEXT:
		at(c, node)->type = TC_T_TEXT;
		at(c, node)->flags = TC_AST_AS_WRITTEN;
		break;
	case TC_A_NAME:
		check_name(c, node);
		break;
	case TC_A_FIELD:
		check_field(c, node);
		break;
	case TC_A_CALL:
		check_call(c, node);
		break;
	case TC_A_FOLD:
		check_fold(c, node, conjunct);
		break;
	case TC_A_NEGATE:
		check_negate(c, node);
		break;
	case TC_A_ADD:
	case TC_A_SUBTRACT:
	case TC_A_MULTIPLY:
	case TC_A_DIVIDE:
		check_arithmetic(c, node);
		break;
	case TC_A_HAS:
	case TC_A_KNOWN:
		check_path_test(c, node);
		break;
	case TC_A_COMPARE:
		check_compare(c, node);
		break;
	case TC_A_BETWEEN:
		check_between(c, node);
		break;
	case TC_A_IN:
		check_in(c, node);
		break;
	case TC_A_IS:
		check_is(c, node);
		break;
	case TC_A_MATCHES:
		check_matches(c, node);
		break;
	case TC_A_NOT:
	case TC_A_AND:
	case TC_A_OR:
		check_chain(c, node, conjunct);
		break;
	default:
		break;
	}
}
