/* For each question, pair of materials and verb: the rules that can matter. A rule's door is shut by a test of kind or verb
 * that is false whatever else holds; most rules are shut for most pairs, and are then not asked at all. With them go the
 * bolts that several of these rules share. Lists are made when a pair first comes up, and kept by the worker. */
#include "judge/private.h"

#include <string.h>

typedef struct list {
	uint64_t key;
	const tc_open *open; /* NULL: empty */
	tc_truth spoken;     /* TC_UNSURE: not looked yet */
} list;

struct tc_doors {
	const tc_rulebook *rulebook;
	const tc_allocator *from;
	tc_arena *arena;
	list *lists;
	uint32_t count, room;              /* room: a power of two */
	uint32_t *by_ask;                  /* all rules, those of one ask together … */
	uint32_t begins[TC_ASK_COUNT + 1]; /* … from here on */
	uint32_t *scratch;                 /* rules */
	uint32_t *place;     /* of each rule: 1 + its place among those of the list that is being made, or 0 */
	tc_open_bolt *bolts; /* as many as any ask has */
};

static uint32_t most_bolts(const tc_rulebook *rulebook)
{
	uint32_t most = 0;

	for (int ask = 0; ask < TC_ASK_COUNT; ask++) {
		const tc_bolt *bolts;
		const uint32_t count = tc_rulebook_bolts(rulebook, (tc_ask)ask, &bolts);
		most = count > most ? count : most;
	}
	return most;
}

static bool sort_rules(tc_doors *doors)
{
	const uint32_t rules = tc_rulebook_rules(doors->rulebook);
	uint32_t count = 0;

	doors->by_ask = TC_ARRAY(doors->arena, rules + 1, uint32_t);
	for (int ask = 0; doors->by_ask && ask < TC_ASK_COUNT; ask++) {
		doors->begins[ask] = count;
		for (uint32_t i = 0; i < rules; i++)
			if (tc_rulebook_rule(doors->rulebook, i)->ask == (tc_ask)ask)
				doors->by_ask[count++] = i;
	}
	doors->begins[TC_ASK_COUNT] = count;
	return doors->by_ask != NULL;
}

tc_doors *tc_doors_new(const tc_rulebook *rulebook, const tc_allocator *from)
{
	tc_doors *doors = from->get(from->user, NULL, sizeof *doors);
	if (!doors)
		return NULL;
	*doors = (tc_doors){.rulebook = rulebook, .from = from, .arena = tc_arena_new(from, 1 << 15), .room = 256};
	if (doors->arena) {
		doors->lists = TC_ARRAY(doors->arena, doors->room, list);
		doors->scratch = TC_ARRAY(doors->arena, tc_rulebook_rules(rulebook) + 1, uint32_t);
		doors->place = TC_ARRAY(doors->arena, tc_rulebook_rules(rulebook) + 1, uint32_t);
		doors->bolts = TC_ARRAY(doors->arena, most_bolts(rulebook), tc_open_bolt);
	}
	if (!doors->lists || !doors->scratch || !doors->place || !doors->bolts || !sort_rules(doors)) {
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

	while (lists[i].open && lists[i].key != key)
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
		if (doors->lists[i].open)
			*find(lists, room, doors->lists[i].key) = doors->lists[i];
	doors->lists = lists;
	doors->room = room;
	return true;
}

/* The bolts of at least two of the rules. */
static bool find_bolts(tc_doors *doors, tc_ask ask, tc_open *open)
{
	const tc_bolt *all;
	const uint32_t count = tc_rulebook_bolts(doors->rulebook, ask, &all);
	const size_t words = (open->count + 63) / 64;

	for (uint32_t b = 0; b < count; b++) {
		uint64_t set[TC_OPEN_WORDS] = {0};
		uint32_t shut = 0;
		for (uint32_t i = 0; i < all[b].count; i++) {
			const uint32_t place = doors->place[all[b].rules[i]];
			if (place == 0)
				continue;
			set[(place - 1) / 64] |= (uint64_t)1 << (place - 1) % 64;
			shut++;
		}
		if (shut < 2)
			continue;
		const uint64_t *rules = tc_arena_copy(doors->arena, set, words * sizeof *set);
		if (!rules)
			return false;
		doors->bolts[open->bolts++] = (tc_open_bolt){&all[b], rules};
	}
	open->bolt = tc_arena_copy(doors->arena, doors->bolts, open->bolts * sizeof *open->bolt);
	return open->bolt != NULL;
}

/* The rules of this question whose door stands open. NULL: out of memory. */
static const tc_open *make(tc_doors *doors, tc_ask ask, const tc_entry *coat, const tc_entry *under, uint32_t verb)
{
	uint32_t count = 0;
	tc_open *open = TC_NEW(doors->arena, tc_open);

	if (!open)
		return NULL;
	for (uint32_t k = doors->begins[ask]; k < doors->begins[ask + 1]; k++) {
		const uint32_t i = doors->by_ask[k];
		const bool opens =
		    tc_rule_door(doors->rulebook, tc_rulebook_rule(doors->rulebook, i), coat, under, verb);
		if (opens)
			doors->scratch[count++] = i;
		doors->place[i] = opens ? count : 0;
	}
	open->rules = tc_arena_copy(doors->arena, doors->scratch, count * sizeof(uint32_t));
	open->count = count;
	return open->rules && find_bolts(doors, ask, open) ? open : NULL;
}

/* The list of a question, made if there is none yet. NULL: out of memory. */
static list *list_of(tc_doors *doors, tc_ask ask, const tc_entry *coat, const tc_entry *under, uint32_t verb)
{
	uint64_t key = key_of(ask, coat, under, verb);
	list *l = find(doors->lists, doors->room, key);

	if (l->open)
		return l;
	const tc_open *open = make(doors, ask, coat, under, verb);
	if (!open)
		return NULL;
	if (doors->count * 2 >= doors->room) {
		if (!grow(doors))
			return NULL;
		l = find(doors->lists, doors->room, key);
	}
	*l = (list){key, open, TC_UNSURE};
	doors->count++;
	return l;
}

const tc_open *tc_doors_open(tc_doors *doors, tc_ask ask, const tc_entry *coat, const tc_entry *under, uint32_t verb)
{
	const list *l = list_of(doors, ask, coat, under, verb);
	return l ? l->open : NULL;
}

static bool some_rule_speaks(const tc_rulebook *rulebook, const tc_entry *coat, const tc_entry *under)
{
	for (uint32_t i = 0; i < tc_rulebook_rules(rulebook); i++)
		if (tc_rule_speaks_of(rulebook, tc_rulebook_rule(rulebook, i), coat, under))
			return true;
	return false;
}

bool tc_doors_spoken(tc_doors *doors, const tc_entry *coat, const tc_entry *under, uint32_t verb)
{
	list *l = list_of(doors, TC_ASK_CONTACT, coat, under, verb);

	if (!l)
		return some_rule_speaks(doors->rulebook, coat, under);
	if (l->spoken == TC_UNSURE)
		l->spoken = some_rule_speaks(doors->rulebook, coat, under) ? TC_TRUE : TC_FALSE;
	return l->spoken == TC_TRUE;
}
