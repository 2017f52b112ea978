/* Bolts: tests that stand among the top conjuncts of several rules of one ask. Where one of them is F all of these rules are,
 * so it is decided once for a subject and not once for each rule. */
#include <stdlib.h>
#include <string.h>

#include "rule/private.h"

/* A top conjunct of a rule's `when`. */
typedef struct conjunct {
	uint64_t hash; /* of what it does: conjuncts that do the same have the same */
	const tc_expr *x;
	uint32_t rule, start, end;
} conjunct;

typedef struct maker {
	tc_arena *arena, *scratch;
	conjunct *at;
	uint32_t count, room;
} maker;

/* --- what an instruction does, wherever it stands ----------------------------------------------------------------------- */

static bool jumps(const tc_ins *i)
{
	return i->op == TC_OP_AND || i->op == TC_OP_OR || i->op == TC_OP_FALSE_JUMP || i->op == TC_OP_TRUE_JUMP ||
	       i->op == TC_OP_FOLD || i->op == TC_OP_NEXT || i->op == TC_OP_ONCE;
}

static bool has_list(const tc_ins *i)
{
	return i->op == TC_OP_IS_KIND || i->op == TC_OP_IS_WORD || i->op == TC_OP_IS_MEMBER;
}

/* The constant of an instruction, or NULL. */
static const tc_value *constant_of(const tc_expr *x, const tc_ins *i)
{
	if (i->op == TC_OP_CONST || i->op == TC_OP_MATCHES)
		return &x->constants[i->b];
	return i->op == TC_OP_COMPARE && i->a ? &x->constants[i->a - 1] : NULL;
}

/* Words of a list of `is`, its count among them. */
static size_t list_length(const tc_ins *i, const uint32_t *list)
{
	return 1 + (size_t)list[0] * (i->op == TC_OP_IS_KIND ? 2 : 1);
}

/* Where a jump goes, from the conjunct's beginning; of others the operand, unless it is the number of a constant. */
static uint32_t operand(const tc_ins *i, uint32_t start)
{
	if (jumps(i))
		return i->a ? i->a - start : UINT32_MAX;
	return i->op == TC_OP_COMPARE ? i->a != 0 : i->a;
}

static bool same_constant(const tc_value *v, const tc_value *w)
{
	if (!v || !w)
		return v == w;
	if (v->type != w->type)
		return false;
	return v->type == TC_T_TEXT ? strcmp(v->text, w->text) == 0 : v->set == w->set; /* a number bit for bit */
}

static bool same_ins(const conjunct *p, const conjunct *q, uint32_t at)
{
	const tc_ins *i = &p->x->code[p->start + at], *j = &q->x->code[q->start + at];

	if (i->op != j->op || i->n != j->n || operand(i, p->start) != operand(j, q->start))
		return false;
	if (has_list(i)) {
		const uint32_t *k = p->x->lists + i->b, *l = q->x->lists + j->b;
		return k[0] == l[0] && memcmp(k, l, list_length(i, k) * sizeof *k) == 0;
	}
	if (i->op == TC_OP_CONST || i->op == TC_OP_MATCHES || i->op == TC_OP_COMPARE)
		return same_constant(constant_of(p->x, i), constant_of(q->x, j));
	return i->b == j->b;
}

static bool same(const conjunct *p, const conjunct *q)
{
	if (p->hash != q->hash || p->end - p->start != q->end - q->start)
		return false;
	for (uint32_t i = 0; i < p->end - p->start; i++)
		if (!same_ins(p, q, i))
			return false;
	return true;
}

static uint64_t mix(uint64_t hash, uint64_t word)
{
	hash = (hash ^ word) * 0xff51afd7ed558ccdu;
	return hash ^ hash >> 32;
}

static uint64_t hash_of(const tc_expr *x, uint32_t start, uint32_t end)
{
	uint64_t hash = end - start;

	for (uint32_t k = start; k < end; k++) {
		const tc_ins *i = &x->code[k];
		const tc_value *v = constant_of(x, i);
		hash = mix(hash, (uint64_t)i->op << 40 | (uint64_t)i->n << 32 | operand(i, start));
		if (has_list(i))
			for (size_t w = 0; w < list_length(i, x->lists + i->b); w++)
				hash = mix(hash, x->lists[i->b + w]);
		else if (v)
			hash = mix(hash, v->type == TC_T_TEXT ? tc_text_hash(tc_text_of(v->text)) : v->set);
		else
			hash = mix(hash, i->b);
	}
	return hash;
}

/* --- gathering ------------------------------------------------------------------------------------------------------------ */

/* Tests that hang on the door are left out: behind it none of them is F. */
static void gather(maker *m, const tc_rule *rule, uint32_t branch)
{
	const tc_expr *x = rule->when;
	const tc_branch *b = &x->branches[branch];
	tc_door_side side;

	if (b->kind == TC_A_AND) {
		for (uint32_t i = b->child; i != TC_NONE; i = x->branches[i].next)
			gather(m, rule, i);
		return;
	}
	if (b->kind == TC_A_IS && tc_door_side_of(x, rule->ask, b, &side))
		return;
	if (!tc_arena_grow(m->scratch, (void **)&m->at, m->count, &m->room, sizeof *m->at))
		return;
	m->at[m->count++] = (conjunct){hash_of(x, b->start, b->end), x, rule->index, b->start, b->end};
}

static int by_hash(const void *a, const void *b)
{
	const conjunct *p = a, *q = b;

	if (p->hash != q->hash)
		return p->hash < q->hash ? -1 : 1;
	if (p->rule != q->rule)
		return p->rule < q->rule ? -1 : 1;
	return p->start < q->start ? -1 : p->start > q->start;
}

/* How much it asks for: a fold counts by what it may go round, the science most of all. */
static uint32_t weight_of(const conjunct *c)
{
	uint32_t weight = 0, folds = 0;
	tc_field_row room;

	for (uint32_t k = c->start; k < c->end; k++) {
		const tc_ins *i = &c->x->code[k];
		const bool asks =
		    i->op == TC_OP_FIELD || i->op == TC_OP_ASK || i->op == TC_OP_HAS || i->op == TC_OP_HAS_ASK;
		const int cost = asks ? tc_field_row_of(i->b, &room)->cost : 0;
		folds += i->op == TC_OP_FOLD;
		weight += (cost == 2 ? TC_BOLT_SCIENCE : 1) * (folds ? 8 : 1);
		folds -= i->op == TC_OP_NEXT;
	}
	return weight;
}

/* A bolt of the conjuncts from `from`, all of which do the same. Returns how many there are. */
static uint32_t make(maker *m, uint32_t from, tc_bolt *bolt)
{
	const conjunct *c = &m->at[from];
	uint32_t n = 1, rules = 0;

	while (from + n < m->count && same(c, c + n))
		n++;
	*bolt = (tc_bolt){.expr = c->x, .start = c->start, .end = c->end, .weight = weight_of(c)};
	if (n < 2 || bolt->weight >= TC_BOLT_SCIENCE)
		return n;
	uint32_t *list = TC_ARRAY(m->arena, n, uint32_t);
	for (uint32_t i = 0; list && i < n; i++)
		if (rules == 0 || list[rules - 1] != c[i].rule)
			list[rules++] = c[i].rule;
	bolt->rules = list;
	bolt->count = rules;
	return n;
}

/* What is cheap for what it may save comes first. */
static int by_worth(const void *a, const void *b)
{
	const tc_bolt *p = a, *q = b;
	const uint64_t x = (uint64_t)p->weight * q->count, y = (uint64_t)q->weight * p->count;

	if (x != y)
		return x < y ? -1 : 1;
	if (p->rules[0] != q->rules[0])
		return p->rules[0] < q->rules[0] ? -1 : 1;
	return p->start < q->start ? -1 : p->start > q->start;
}

static bool make_for(maker *m, tc_rulebook *book, tc_ask ask)
{
	uint32_t count = 0;

	m->count = 0;
	for (uint32_t i = 0; i < book->rule_count; i++)
		if (book->rules[i].ask == ask && book->rules[i].when)
			gather(m, &book->rules[i], book->rules[i].when->root);
	tc_bolt *bolts = TC_ARRAY(m->scratch, m->count + 1, tc_bolt);
	if (!bolts)
		return false;
	if (m->count > 1)
		qsort(m->at, m->count, sizeof *m->at, by_hash);
	for (uint32_t i = 0; i < m->count && !tc_arena_failed(m->arena);) {
		i += make(m, i, &bolts[count]);
		count += bolts[count].count > 1;
	}
	if (count > 1)
		qsort(bolts, count, sizeof *bolts, by_worth);
	book->bolts[ask] = tc_arena_copy(m->arena, bolts, count * sizeof *bolts);
	book->bolt_count[ask] = count;
	return book->bolts[ask] != NULL;
}

bool tc_bolts_make(tc_arena *arena, tc_arena *scratch, tc_rulebook *book)
{
	maker m = {.arena = arena, .scratch = scratch};

	for (int ask = 0; ask < TC_ASK_COUNT; ask++)
		if (!make_for(&m, book, (tc_ask)ask))
			return false;
	return !tc_arena_failed(scratch);
}

uint32_t tc_rulebook_bolts(const tc_rulebook *rulebook, tc_ask ask, const tc_bolt **bolts)
{
	*bolts = rulebook->bolts[ask];
	return rulebook->bolt_count[ask];
}
