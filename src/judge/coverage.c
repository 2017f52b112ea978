/* Coverage: every pair of materials is looked at once. */
#include "judge/coverage.h"
#include "judge/private.h"

#include <stdlib.h>

typedef struct maker {
	tc_arena *arena;
	tc_worker *worker;
	const tc_library *library;
	tc_coverage *coverage;
	tc_coverage_cell *cells;
	tc_coverage_pair *nothing;
	uint32_t room;
	bool *general; /* by rule */
} maker;

/* --- axes ----------------------------------------------------------------------------------------------------------- */

static const tc_entry *group_of(const tc_library *library, const tc_entry *material, const tc_entry *only)
{
	return only || material->parent == TC_NONE ? material : tc_library_entry(library, material->parent);
}

static bool belongs(const tc_entry *entry, tc_section section, const tc_entry *only)
{
	return !entry->is_kind && entry->section == section && (!only || tc_entry_is(entry, only));
}

/* The materials of a section that stand in a group, in the order of the tree; returns how many. */
static uint32_t gather(
    const maker *m, tc_section section, const tc_entry *group, const tc_entry *only, const tc_entry **into)
{
	uint32_t count = 0;

	for (uint32_t i = group->index; i <= group->last; i++) {
		const tc_entry *entry = tc_library_entry(m->library, i);
		if (!belongs(entry, section, only) || group_of(m->library, entry, only) != group)
			continue;
		if (into)
			into[count] = entry;
		count++;
	}
	return count;
}

static bool add_section(maker *m, tc_section section, const tc_entry *only, tc_coverage_group *groups, uint32_t *count)
{
	for (uint32_t i = 0; i < tc_library_count(m->library); i++) {
		const tc_entry *entry = tc_library_entry(m->library, i);
		const uint32_t members = gather(m, section, entry, only, NULL);
		if (members == 0)
			continue;
		const tc_entry **list = TC_ARRAY(m->arena, members, const tc_entry *);
		if (!list)
			return false;
		gather(m, section, entry, only, list);
		groups[(*count)++] = (tc_coverage_group){entry, section, members, list};
	}
	return true;
}

static bool make_axis(maker *m, const tc_section *sections, size_t count, const tc_entry *only, tc_coverage_axis *axis)
{
	tc_coverage_group *groups = TC_ARRAY(m->arena, tc_library_count(m->library) + 1, tc_coverage_group);

	if (!groups)
		return false;
	for (size_t i = 0; i < count; i++)
		if (!add_section(m, sections[i], only, groups, &axis->count))
			return false;
	axis->group = groups;
	return true;
}

/* --- pairs ------------------------------------------------------------------------------------------------------------ */

static bool sort_rules(maker *m)
{
	const tc_rulebook *book = m->coverage->rulebook;
	const uint32_t rules = tc_rulebook_rules(book);

	m->general = TC_ARRAY(m->arena, rules + 1, bool);
	for (uint32_t i = 0; m->general && i < rules; i++)
		m->general[i] = tc_rule_is_general(book, tc_rulebook_rule(book, i));
	return m->general != NULL;
}

static bool some_rule_speaks(const maker *m, const tc_entry *below, const tc_entry *above, bool general)
{
	const tc_rulebook *book = m->coverage->rulebook;

	for (uint32_t i = 0; i < tc_rulebook_rules(book); i++) {
		const tc_rule *rule = tc_rulebook_rule(book, i);
		if (rule->ask == TC_ASK_CONTACT && m->general[i] == general &&
		    tc_rule_speaks_of(book, rule, above, below))
			return true;
	}
	return false;
}

static bool holds_on(const maker *m, const tc_entry *above, const tc_entry *below)
{
	const tc_figure *sticks = above->figures[TC_P_STICKS_TO];

	for (uint32_t i = 0; sticks && sticks->entries && i < sticks->entries->count; i++)
		if (tc_entry_is_truth(below, tc_library_entry(m->library, sticks->entries->at[i])) == TC_TRUE)
			return true;
	return false;
}

static bool model_knows(const maker *m, const tc_entry *below, const tc_entry *above)
{
	const tc_product coat = {.label = above->name, .family = above},
	                 ground = {.label = below->name, .family = below};
	const tc_value structure = tc_entry_value(below, TC_P_STRUCTURE);
	tc_liquid_mix mix;

	if (tc_known(structure) && structure.symbol == TC_INERT)
		return true;
	if (holds_on(m, above, below))
		return true;
	const tc_solid solid = tc_solid_of(TC_S_PRODUCT, &ground);
	tc_product_mix(m->worker, &coat, NULL, &mix);
	return tc_known(tc_bite_red(&mix, &solid));
}

static tc_known_by known_by(const maker *m, const tc_entry *below, const tc_entry *above)
{
	if (some_rule_speaks(m, below, above, false))
		return TC_BY_RULE;
	if (model_knows(m, below, above))
		return TC_BY_MODEL;
	return some_rule_speaks(m, below, above, true) ? TC_BY_GENERAL : TC_BY_NOTHING;
}

static bool note_nothing(maker *m, tc_coverage_pair pair)
{
	tc_coverage *c = m->coverage;

	if (!tc_arena_grow(m->arena, (void **)&m->nothing, c->nothings, &m->room, sizeof *m->nothing))
		return false;
	m->nothing[c->nothings++] = pair;
	c->nothing = m->nothing;
	return true;
}

static bool fill_cell(maker *m, uint32_t row, uint32_t column)
{
	const tc_coverage_group *below = &m->coverage->below.group[row], *above = &m->coverage->above.group[column];
	tc_coverage_cell *cell = &m->cells[(size_t)row * m->coverage->above.count + column];

	for (uint32_t b = 0; b < below->count; b++)
		for (uint32_t a = 0; a < above->count; a++) {
			const tc_coverage_pair pair = {below->material[b], above->material[a], row, column};
			const tc_known_by by = known_by(m, pair.below, pair.above);
			cell->pairs[by]++;
			m->coverage->all.pairs[by]++;
			if (by == TC_BY_NOTHING && !note_nothing(m, pair))
				return false;
		}
	return true;
}

/* By rows, in a row by ground, then by what is laid. */
static int by_ground(const void *a, const void *b)
{
	const tc_coverage_pair *x = a, *y = b;
	const uint32_t p[] = {x->row, x->below->index, x->column, x->above->index};
	const uint32_t q[] = {y->row, y->below->index, y->column, y->above->index};

	for (size_t i = 0; i < sizeof p / sizeof *p; i++)
		if (p[i] != q[i])
			return p[i] < q[i] ? -1 : 1;
	return 0;
}

static bool fill(maker *m, const tc_entry *below, const tc_entry *above)
{
	static const tc_section grounds[] = {
	    TC_SECTION_SUBSTRATES, TC_SECTION_FILLERS, TC_SECTION_DECALS, TC_SECTION_COATINGS};
	static const tc_section coats[] = {TC_SECTION_COATINGS};
	tc_coverage *c = m->coverage;

	if (!make_axis(m, grounds, sizeof grounds / sizeof *grounds, below, &c->below) ||
	    !make_axis(m, coats, 1, above, &c->above) || !sort_rules(m))
		return false;
	m->cells = TC_ARRAY(m->arena, (size_t)c->below.count * c->above.count + 1, tc_coverage_cell);
	c->cell = m->cells;
	for (uint32_t row = 0; m->cells && row < c->below.count; row++)
		for (uint32_t column = 0; column < c->above.count; column++)
			if (!fill_cell(m, row, column))
				return false;
	if (c->nothings > 1)
		qsort(m->nothing, c->nothings, sizeof *m->nothing, by_ground);
	return m->cells != NULL;
}

/* --- outside ------------------------------------------------------------------------------------------------------------ */

const tc_coverage *tc_coverage_make(
    tc_arena *arena, const tc_rulebook *rulebook, const tc_entry *below, const tc_entry *above)
{
	maker m = {.arena = arena,
	    .library = tc_rulebook_library(rulebook),
	    .worker = tc_worker_new(rulebook, tc_arena_allocator(arena)),
	    .coverage = TC_NEW(arena, tc_coverage)};
	bool good = m.worker && m.coverage;

	if (good) {
		m.coverage->rulebook = rulebook;
		good = fill(&m, below, above);
	}
	tc_worker_free(m.worker);
	return good && !tc_arena_failed(arena) ? m.coverage : NULL;
}

const tc_coverage_cell *tc_coverage_at(const tc_coverage *coverage, uint32_t row, uint32_t column)
{
	return &coverage->cell[(size_t)row * coverage->above.count + column];
}

tc_coverage_word tc_coverage_word_of(const tc_coverage_cell *cell)
{
	const uint32_t *pairs = cell->pairs;

	if (pairs[TC_BY_NOTHING])
		return pairs[TC_BY_RULE] || pairs[TC_BY_MODEL] || pairs[TC_BY_GENERAL] ? TC_COVERED_IN_PART
		                                                                       : TC_COVERED_NOT;
	if (pairs[TC_BY_GENERAL])
		return TC_COVERED_GENERALLY;
	if (!pairs[TC_BY_RULE])
		return TC_COVERED_BY_MODEL;
	return pairs[TC_BY_MODEL] ? TC_COVERED_BY_BOTH : TC_COVERED_BY_RULES;
}
