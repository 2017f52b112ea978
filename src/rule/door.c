/* The door of a rule: the tests of kind and of verb among its top conjuncts that hang on these alone. */
#include "rule/private.h"

typedef struct finder {
	tc_arena *arena;
	const tc_expr *x;
	tc_ask ask;
	tc_door *doors;
	uint32_t count, room;
} finder;

bool tc_door_side_of(const tc_expr *x, tc_ask ask, const tc_branch *is, tc_door_side *side)
{
	const tc_branch *left = &x->branches[is->child];
	if (left->kind == TC_A_NAME && left->slot == TC_SLOT_UNDER)
		*side = TC_DOOR_UNDER;
	else if (left->kind == TC_A_NAME && left->slot == (ask == TC_ASK_TOUCH ? TC_SLOT_LIQUID : TC_SLOT_COAT))
		*side = TC_DOOR_COAT;
	else if (left->kind == TC_A_FIELD && left->field == TC_F_STEP_VERB &&
	         x->branches[left->child].kind == TC_A_NAME && x->branches[left->child].slot == TC_SLOT_STEP)
		*side = TC_DOOR_VERB;
	else
		return false;
	return true;
}

static void add_test(finder *f, const tc_branch *is, bool negated)
{
	tc_door_side side;
	if (!tc_door_side_of(f->x, f->ask, is, &side))
		return;
	negated ^= (is->flags & TC_AST_NEGATED) != 0;
	/* the instruction that asks is the last of the leaf, or the last but one where `not` follows */
	const tc_ins *ins = &f->x->code[is->end - (is->flags & TC_AST_NEGATED ? 2 : 1)];
	if (!tc_arena_grow(f->arena, (void **)&f->doors, f->count, &f->room, sizeof *f->doors))
		return;
	tc_door *door = &f->doors[f->count++];
	const uint32_t *list = f->x->lists + ins->b;
	door->side = (uint8_t)side;
	door->negated = negated;
	door->count = (uint16_t)list[0];
	door->at = list + 1;
}

static void walk(finder *f, uint32_t branch, bool negated)
{
	const tc_branch *b = &f->x->branches[branch];
	if (b->kind == TC_A_IS)
		add_test(f, b, negated);
	else if (b->kind == TC_A_NOT)
		walk(f, b->child, !negated);
	else if (b->kind == (negated ? TC_A_OR : TC_A_AND)) /* not (a or b) is not a and not b */
		for (uint32_t i = b->child; i != TC_NONE; i = f->x->branches[i].next)
			walk(f, i, negated);
}

bool tc_doors_find(tc_arena *arena, const tc_expr *when, tc_ask ask, tc_doors *doors)
{
	finder f = {.arena = arena, .x = when, .ask = ask};
	walk(&f, when->root, false);
	doors->count = f.count;
	doors->at = f.doors;
	return !tc_arena_failed(arena);
}

static tc_truth is_one(const tc_door *door, const tc_entry *entry)
{
	tc_truth is = TC_FALSE;
	for (uint32_t i = 0; i < door->count && is != TC_TRUE; i++)
		is = tc_truth_or(is, tc_is_within(entry, door->at[2 * i], door->at[2 * i + 1]));
	return door->negated ? tc_truth_not(is) : is;
}

static tc_truth is_verb(const tc_door *door, uint32_t verb)
{
	tc_truth is = TC_FALSE;
	for (uint32_t i = 0; i < door->count; i++)
		if (door->at[i] == verb)
			is = TC_TRUE;
	return door->negated ? tc_truth_not(is) : is;
}

bool tc_rule_door(
    const tc_rulebook *rulebook, const tc_rule *rule, const tc_entry *coat, const tc_entry *under, uint32_t verb)
{
	const tc_doors *doors = &rulebook->doors[rule->index];
	for (uint32_t i = 0; i < doors->count; i++) {
		const tc_door *door = &doors->at[i];
		const tc_entry *entry = door->side == TC_DOOR_COAT ? coat : under;
		if (door->side == TC_DOOR_VERB ? verb != TC_NONE && is_verb(door, verb) == TC_FALSE
		                               : entry && is_one(door, entry) == TC_FALSE)
			return false;
	}
	return true;
}

bool tc_rule_speaks_of(const tc_rulebook *rulebook, const tc_rule *rule, const tc_entry *coat, const tc_entry *under)
{
	const tc_doors *doors = &rulebook->doors[rule->index];
	bool of_coat = false, of_under = false;
	for (uint32_t i = 0; i < doors->count; i++) {
		const tc_door *door = &doors->at[i];
		if (door->side == TC_DOOR_VERB)
			continue;
		const tc_entry *entry = door->side == TC_DOOR_COAT ? coat : under;
		if (entry && is_one(door, entry) == TC_FALSE)
			return false;
		of_coat |= door->side == TC_DOOR_COAT && !door->negated;
		of_under |= door->side == TC_DOOR_UNDER && !door->negated;
	}
	return of_coat && of_under;
}

bool tc_rule_is_general(const tc_rulebook *rulebook, const tc_rule *rule)
{
	const tc_doors *doors = &rulebook->doors[rule->index];
	for (uint32_t i = 0; i < doors->count; i++) {
		const tc_door *door = &doors->at[i];
		for (uint32_t k = 0; door->side != TC_DOOR_VERB && !door->negated && k < door->count; k++)
			if (tc_library_entry(rulebook->library, door->at[2 * k])->parent != TC_NONE)
				return false;
	}
	return true;
}
