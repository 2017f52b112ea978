/* Why a rule fired, or what it lacks: the tree is walked in the order in which it was written, and each leaf is run by the same
 * instructions that decided. A field's value comes from the getter, which keeps its results, so it cannot disagree. */
#include <string.h>

#include "rule/private.h"

typedef struct explainer {
	tc_question *q;
	const tc_expr *x;
	const tc_allocator *from;
	tc_leaf *leaves;
	uint32_t room, count;
	uint32_t left; /* instructions that this explanation may still spend */
} explainer;

#define PATHS (sizeof((tc_leaf *)0)->paths / sizeof *((tc_leaf *)0)->paths)

static const tc_branch *at(const explainer *e, uint32_t branch)
{
	return &e->x->branches[branch];
}

/* A branch's value; `second` gets the most that a fold with its known part can be. */
static tc_value run(explainer *e, const tc_branch *b, tc_value *second)
{
	const uint32_t budget = e->left < TC_STEPS_PER_ASK ? e->left : TC_STEPS_PER_ASK;
	const tc_value value = tc_run_branch(e->q, e->x, b, budget, second);
	e->left -= e->q->spent < e->left ? e->q->spent : e->left;
	return value;
}

static tc_truth truth(explainer *e, const tc_branch *b)
{
	return tc_truth_of(run(e, b, NULL));
}

/* --- the elements of a fold ------------------------------------------------------------------------------------------ */

typedef struct elements {
	const void *const *items;
	uint32_t count;
	tc_subject of;
} elements;

static elements elements_of(explainer *e, const tc_branch *fold)
{
	elements list = {.items = NULL};
	const bool anchored = fold->anchor_slot != UINT8_MAX;
	const tc_value anchor = anchored ? e->q->bound[fold->anchor_slot] : tc_absent(TC_T_SUBJECT);
	if (!anchored || tc_known(anchor))
		list.count =
		    e->q->getter->range(e->q, (tc_range)fold->range, anchored ? (tc_subject)anchor.subject : TC_S_ASK,
		        anchored ? anchor.is : NULL, &list.of, &list.items);
	return list;
}

static void bind(explainer *e, const tc_branch *fold, const elements *list, uint32_t index)
{
	e->q->bound[fold->slot] =
	    (tc_value){.state = TC_SAID, .type = TC_T_SUBJECT, .subject = (uint8_t)list->of, .is = list->items[index]};
}

static tc_truth truth_of_element(explainer *e, const tc_branch *fold, const elements *list, uint32_t index)
{
	bind(e, fold, list, index);
	return fold->child == TC_NONE ? TC_TRUE : truth(e, at(e, fold->child));
}

/* The first element whose test comes out so; its name stays bound. TC_NONE: none does. */
static uint32_t first_that_is(explainer *e, const tc_branch *fold, const elements *list, tc_truth wanted)
{
	for (uint32_t i = 0; i < list->count; i++)
		if (truth_of_element(e, fold, list, i) == wanted)
			return i;
	return TC_NONE;
}

static void bind_argument(explainer *e, const tc_branch *b)
{
	const tc_branch *argument = at(e, b->child);
	e->q->bound[b->slot] = run(e, argument, NULL);
}

/* --- the paths of a leaf ------------------------------------------------------------------------------------------------ */

static tc_value value_of(explainer *e, const tc_branch *b);

/* The value of a field, its subject and its arguments, as the evaluator would get them. */
static tc_value field_value(explainer *e, const tc_branch *b, tc_value *subject, tc_value arguments[2])
{
	tc_field_row room;
	const tc_field_row *row = tc_field_row_of(b->field, &room);
	tc_value all[3] = {{.state = TC_SAID, .type = TC_T_SUBJECT}, tc_number(1), tc_number(1)};
	uint32_t count = 0;
	for (uint32_t i = b->child; i != TC_NONE && count < 3; i = at(e, i)->next)
		all[count++] = value_of(e, at(e, i));
	*subject = all[0];
	arguments[0] = all[1];
	arguments[1] = all[2];
	tc_state state = TC_SAID;
	for (uint32_t i = 0; i < count && state != TC_ABSENT; i++)
		if (all[i].state == TC_ABSENT || all[i].state == TC_UNKNOWN)
			state = (tc_state)all[i].state;
	tc_value value = {.state = (uint8_t)state};
	if (state == TC_SAID)
		value = e->q->getter->field(e->q, b->field, b->child == TC_NONE ? TC_S_ASK : (tc_subject)all[0].subject,
		    b->child == TC_NONE ? NULL : all[0].is, arguments);
	value.type = (uint8_t)row->type;
	if (tc_known(value) && (row->type == TC_T_NUMBER || row->type == TC_T_SHARE || row->type == TC_T_TEMPERATURE) &&
	    !isfinite(value.number))
		value.state = TC_UNKNOWN;
	return value;
}

static tc_value value_of(explainer *e, const tc_branch *b)
{
	tc_value subject, arguments[2];
	return b->kind == TC_A_FIELD ? field_value(e, b, &subject, arguments) : run(e, b, NULL);
}

/* The bounds that a direct operand of a comparison stands beside. */
static uint32_t bounds_of(explainer *e, const tc_branch *leaf, uint32_t operand, tc_value *bounds, uint32_t room)
{
	uint32_t count = 0;
	if (leaf->kind != TC_A_COMPARE && leaf->kind != TC_A_BETWEEN && leaf->kind != TC_A_IN)
		return 0;
	for (uint32_t i = leaf->child; i != TC_NONE; i = at(e, i)->next) {
		if (i == operand || (leaf->kind == TC_A_BETWEEN && operand != leaf->child && i != leaf->child))
			continue;
		const tc_branch *b = at(e, i);
		if (b->kind != TC_A_SPANS && b->type != TC_T_WINDOW && count < room)
			bounds[count++] = value_of(e, b);
		for (uint32_t s = b->kind == TC_A_SPANS ? b->child : TC_NONE; s != TC_NONE; s = at(e, s)->next)
			for (uint32_t j = at(e, s)->child; j != TC_NONE && count < room; j = at(e, j)->next)
				bounds[count++] = value_of(e, at(e, j));
	}
	return count;
}

static void print_path(
    explainer *e, const tc_branch *b, struct tc_leaf_path *path, const tc_value *bounds, uint32_t count, bool at_least)
{
	tc_field_row room;
	tc_buffer out;
	if (e->q->terse)
		return; /* `printed` is empty */
	tc_buffer_start(&out, e->from);
	if (at_least)
		tc_buffer_puts(&out, "at least ");
	tc_value_beside(e->q, path->value, b->dim, tc_vocabulary_of(b->field, &room), NULL, bounds, count, &out);
	size_t length = out.failed || !out.at ? 0 : out.length;
	if (length >= sizeof path->printed) /* not cutting a code point in two */
		for (length = sizeof path->printed - 1; length && ((unsigned char)out.at[length] & 0xC0) == 0x80;)
			length--;
	if (length)
		memcpy(path->printed, out.at, length);
	path->printed[length] = '\0';
	tc_buffer_free(&out);
}

/* Adds a path to the leaf: a field with whose it is, a bare subject, or a fold. */
static void add_path(explainer *e, tc_leaf *leaf, const tc_branch *b, const tc_value *bounds, uint32_t count)
{
	if (leaf->count == PATHS)
		return;
	struct tc_leaf_path *path = &leaf->paths[leaf->count++];
	*path = (struct tc_leaf_path){.text = b->text, .field = TC_NONE, .dim = b->dim};
	const tc_branch *field = b;
	if (b->kind == TC_A_WINDOW_FIRST || b->kind == TC_A_WINDOW_LAST || b->kind == TC_A_WINDOW_AFTER)
		field = at(e, b->child);
	tc_value subject = tc_absent(TC_T_SUBJECT), second;
	bool at_least = false;
	if (field->kind == TC_A_FIELD) {
		path->value = field_value(e, field, &subject, path->arguments);
		path->field = field->field;
	}
	if (field != b || field->kind != TC_A_FIELD) {
		path->value = run(e, b, &second);
		at_least = b->flags & TC_BRANCH_PAIR && b->kind == TC_A_FOLD && tc_known(path->value) &&
		           tc_compare(path->value.number, second.number) != 0;
	}
	if (b->kind == TC_A_NAME)
		subject = path->value;
	path->of = field->child == TC_NONE && field->kind == TC_A_FIELD ? TC_S_ASK : (tc_subject)subject.subject;
	path->subject = tc_known(subject) ? subject.is : NULL;
	print_path(e, b, path, bounds, count, at_least);
}

static bool is_path(const tc_branch *b)
{
	return b->kind == TC_A_FIELD || b->kind == TC_A_NAME || b->kind == TC_A_FOLD || b->kind == TC_A_WINDOW_FIRST ||
	       b->kind == TC_A_WINDOW_LAST || b->kind == TC_A_WINDOW_AFTER;
}

/* All paths under `b`, in the order in which they stand. */
static void add_paths(explainer *e, tc_leaf *leaf, const tc_branch *test, uint32_t branch)
{
	const tc_branch *b = at(e, branch);
	tc_value bounds[4];
	if (is_path(b)) {
		add_path(e, leaf, b, bounds, bounds_of(e, test, branch, bounds, 4));
		return;
	}
	if (b->kind == TC_A_BIND)
		bind_argument(e, b);
	for (uint32_t i = b->child; i != TC_NONE; i = at(e, i)->next)
		add_paths(e, leaf, test, i);
}

/* --- what is lacking ------------------------------------------------------------------------------------------------------ */

static void add_roots(explainer *e, tc_leaf *leaf, const tc_branch *b);

static void add_roots_of_fold(explainer *e, tc_leaf *leaf, const tc_branch *b)
{
	const elements list = elements_of(e, b);
	if (b->anchor_slot != UINT8_MAX && e->q->bound[b->anchor_slot].state == TC_UNKNOWN) {
		add_path(e, leaf, b, NULL, 0);
		return;
	}
	for (uint32_t i = 0; i < list.count && leaf->count < PATHS && b->child != TC_NONE && e->left; i++) {
		bind(e, b, &list, i);
		if (run(e, at(e, b->child), NULL).state == TC_UNKNOWN)
			add_roots(e, leaf, at(e, b->child));
	}
}

/* The unknown children, or this itself where all of them are known (a division by zero, a field that nobody says). */
static void add_roots_of_children(explainer *e, tc_leaf *leaf, const tc_branch *b)
{
	bool found = false;
	for (uint32_t i = b->child; i != TC_NONE && leaf->count < PATHS; i = at(e, i)->next) {
		const tc_branch *child = at(e, i);
		if (child->kind == TC_A_SPANS || child->kind == TC_A_SPAN) {
			add_roots_of_children(e, leaf, child);
			found |= leaf->count > 0;
			continue;
		}
		tc_value most;
		const tc_value value = child->kind == TC_A_FIELD ? value_of(e, child) : run(e, child, &most);
		const bool partly = child->kind == TC_A_FOLD && child->flags & TC_BRANCH_PAIR && tc_known(value) &&
		                    tc_compare(value.number, most.number) != 0;
		if (value.state != TC_UNKNOWN && !partly)
			continue;
		add_roots(e, leaf, child);
		found = true;
	}
	if (!found && b->text)
		add_path(e, leaf, b, NULL, 0);
}

/* The data that an unknown branch lacks. */
static void add_roots(explainer *e, tc_leaf *leaf, const tc_branch *b)
{
	switch ((tc_ast_kind)b->kind) {
	case TC_A_NAME:
	case TC_A_NUMBER:
	case TC_A_TEXT:
		if (b->text)
			add_path(e, leaf, b, NULL, 0);
		break;
	case TC_A_FOLD:
		add_roots_of_fold(e, leaf, b);
		break;
	case TC_A_BIND:
		bind_argument(e, b);
		add_roots(e, leaf, at(e, at(e, b->child)->next));
		break;
	default:
		add_roots_of_children(e, leaf, b);
	}
}

/* --- leaves ---------------------------------------------------------------------------------------------------------------- */

static bool is_figure_operand(const tc_branch *b)
{
	return b->kind == TC_A_IS || b->kind == TC_A_HAS || b->kind == TC_A_KNOWN;
}

/* An `is` of something known, yet U: its material is known too vaguely. */
static bool lacks_nothing(const tc_leaf *leaf)
{
	return leaf->count == 0;
}

static void add_leaf(explainer *e, uint32_t branch, tc_truth truth)
{
	const tc_branch *b = at(e, branch);
	tc_leaf scratch, *leaf = e->count < e->room ? &e->leaves[e->count] : &scratch;
	e->count++;
	memset(leaf, 0, sizeof *leaf);
	leaf->text = b->text ? b->text : e->x->text;
	leaf->truth = truth;
	if (e->count > e->room)
		return;
	if (b->kind == TC_A_FIELD) {
		if (truth == TC_UNSURE)
			add_roots(e, leaf, b);
		else
			add_path(e, leaf, b, NULL, 0);
		return;
	}
	if (truth == TC_UNSURE && !is_figure_operand(b))
		add_roots(e, leaf, b);
	else if (truth == TC_UNSURE && b->child != TC_NONE && value_of(e, at(e, b->child)).state == TC_UNKNOWN)
		add_roots(e, leaf, at(e, b->child));
	if (truth != TC_UNSURE || lacks_nothing(leaf))
		for (uint32_t i = b->child; i != TC_NONE && b->kind != TC_A_FOLD; i = at(e, i)->next)
			add_paths(e, leaf, b, i);
}

static void explain(explainer *e, uint32_t branch, tc_truth truth);

/* `and` and `or`: the operand that decided alone, or all that came out like the whole. */
static void explain_chain(explainer *e, const tc_branch *b, tc_truth wanted)
{
	const bool one = wanted == (b->kind == TC_A_OR ? TC_TRUE : TC_FALSE);
	for (uint32_t i = b->child; i != TC_NONE; i = at(e, i)->next) {
		if (truth(e, at(e, i)) != wanted)
			continue;
		explain(e, i, wanted);
		if (one)
			return;
	}
}

/* A fold that is T, F or U because of one element, of each of several, or of none at all. */
static void explain_fold(explainer *e, uint32_t branch, tc_truth wanted)
{
	const tc_branch *b = at(e, branch);
	const elements list = elements_of(e, b);
	tc_truth body = wanted;
	if (b->op == TC_FOLD_NO)
		body = tc_truth_not(wanted);
	const bool by_one = body == (b->op == TC_FOLD_EVERY ? TC_FALSE : TC_TRUE);
	if (b->child == TC_NONE || list.count == 0 || (!by_one && wanted != TC_UNSURE)) {
		add_leaf(e, branch, wanted);
		return;
	}
	for (uint32_t i = 0; i < list.count && e->left; i++) {
		if (truth_of_element(e, b, &list, i) != body)
			continue;
		explain(e, b->child, body);
		if (by_one)
			return;
	}
}

static void explain(explainer *e, uint32_t branch, tc_truth wanted)
{
	const tc_branch *b = at(e, branch);
	if (e->left == 0)
		return;
	switch ((tc_ast_kind)b->kind) {
	case TC_A_AND:
	case TC_A_OR:
		explain_chain(e, b, wanted);
		break;
	case TC_A_NOT:
		explain(e, b->child, tc_truth_not(wanted));
		break;
	case TC_A_BIND:
		bind_argument(e, b);
		explain(e, at(e, b->child)->next, wanted);
		break;
	case TC_A_FOLD:
		if (b->type == TC_T_TRUTH) {
			explain_fold(e, branch, wanted);
			break;
		}
		/* fall through */
	default:
		add_leaf(e, branch, wanted);
	}
}

/* What the `any`s among the top conjuncts bound: the first element that made it T, or where none did the first that
 * might. */
static void bind_visible(explainer *e, uint32_t branch)
{
	const tc_branch *b = at(e, branch);
	if (b->kind == TC_A_AND)
		for (uint32_t i = b->child; i != TC_NONE; i = at(e, i)->next)
			bind_visible(e, i);
	if (b->kind != TC_A_FOLD || !(b->flags & TC_AST_VISIBLE))
		return;
	const elements list = elements_of(e, b);
	if (first_that_is(e, b, &list, TC_TRUE) == TC_NONE && first_that_is(e, b, &list, TC_UNSURE) == TC_NONE)
		e->q->bound[b->slot] = tc_absent(TC_T_SUBJECT);
}

void tc_bind_names(tc_question *question, const tc_expr *when)
{
	explainer e = {.q = question, .x = when, .left = 8 * TC_STEPS_PER_ASK};
	const bool hit = question->hit_rule_bound;
	bind_visible(&e, when->root);
	question->hit_rule_bound = hit; /* an explanation that was cut short decides nothing */
}

uint32_t tc_explain(tc_question *question, const tc_expr *when, tc_arena *arena, tc_leaf *leaves, uint32_t room)
{
	explainer e = {.q = question,
	    .x = when,
	    .from = tc_arena_allocator(arena),
	    .leaves = leaves,
	    .room = room,
	    .left = 8 * TC_STEPS_PER_ASK};
	const bool hit = question->hit_rule_bound;
	explain(&e, when->root, truth(&e, at(&e, when->root)));
	question->hit_rule_bound = hit;
	tc_bind_names(question, when);
	return e.count;
}
