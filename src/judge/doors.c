/* For each question, pair of materials and verb: the rules that can matter. A rule's door is shut by a test of kind or verb
 * that is false whatever else holds; most rules are shut for most pairs, and are then not asked at all. Lists are made
 * when a pair first comes up, and kept by the worker. */
#include "judge/private.h"

#include <string.h>

typedef struct list {
	uint64_t key;
	const uint32_t *rules;
	uint32_t count;
	bool used;
} list;

struct tc_doors {
	const tc_rulebook *rulebook;
	const tc_allocator *from;
	tc_arena *arena;
	list *lists;
	uint32_t count, room; /* room: a power of two */
	uint32_t *scratch;
};

tc_doors *tc_doors_new(const tc_rulebook *rulebook, const tc_allocator *from)
{
	tc_doors *doors = from->get(from->user, NULL, sizeof *doors);
	if (!doors)
		return NULL;
	*doors = (tc_doors){.rulebook = rulebook, .from = from, .arena = tc_arena_new(from, 1 << 15), .room = 256};
	if (doors->arena) {
		doors->lists = TC_ARRAY(doors->arena, doors->room, list);
		doors->scratch = TC_ARRAY(doors->arena, tc_rulebook_rules(rulebook) + 1, uint32_t);
	}
	if (!doors->lists || !doors->scratch) {
		tc_doors_free(doors);
		return NULL;
	}
	return doors;
}

void tc_doors_free(tc_doors *doors)
{
	if (!doors)
		return;
	tc_arena_free(doors->arena);
	doors->from->get(doors->from->user, doors, 0);
}

static uint64_t key_of(tc_ask ask, const tc_entry *coat, const tc_entry *under, uint32_t verb)
{
	uint64_t a = coat ? coat->index + 1 : 0, b = under ? under->index + 1 : 0, v = verb == TC_NONE ? 0 : verb + 1;
	return (uint64_t)ask << 48 | v << 40 | a << 20 | b;
}

static list *find(list *lists, uint32_t room, uint64_t key)
{
	uint32_t i = (uint32_t)((key * 0x9e3779b97f4a7c15u) >> 33) & (room - 1);

	while (lists[i].used && lists[i].key != key)
		i = (i + 1) & (room - 1);
	return &lists[i];
}

static bool grow(tc_doors *doors)
{
	uint32_t room = doors->room * 2;
	list *lists = TC_ARRAY(doors->arena, room, list);

	if (!lists)
		return false;
	for (uint32_t i = 0; i < doors->room; i++)
		if (doors->lists[i].used)
			*find(lists, room, doors->lists[i].key) = doors->lists[i];
	doors->lists = lists;
	doors->room = room;
	return true;
}

/* The rules of this question whose door stands open. */
static bool make(tc_doors *doors, list *out, tc_ask ask, const tc_entry *coat, const tc_entry *under, uint32_t verb)
{
	uint32_t count = 0, rules = tc_rulebook_rules(doors->rulebook);

	for (uint32_t i = 0; i < rules; i++) {
		const tc_rule *rule = tc_rulebook_rule(doors->rulebook, i);
		if (rule->ask == ask && tc_rule_door(doors->rulebook, rule, coat, under, verb))
			doors->scratch[count++] = i;
	}
	out->rules = tc_arena_copy(doors->arena, doors->scratch, count * sizeof(uint32_t));
	out->count = count;
	return out->rules != NULL;
}

bool tc_doors_open(tc_doors *doors, tc_ask ask, const tc_entry *coat, const tc_entry *under, uint32_t verb,
    const uint32_t **rules, uint32_t *count)
{
	uint64_t key = key_of(ask, coat, under, verb);
	list *l = find(doors->lists, doors->room, key);

	if (!l->used) {
		list made = {.key = key, .used = true};
		if (!make(doors, &made, ask, coat, under, verb))
			return false;
		if (doors->count * 2 >= doors->room) {
			if (!grow(doors))
				return false;
			l = find(doors->lists, doors->room, key);
		}
		*l = made;
		doors->count++;
	}
	*rules = l->rules;
	*count = l->count;
	return true;
}
