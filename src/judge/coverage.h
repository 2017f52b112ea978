/* What is known of each pair of a coat and what it lands on: whether a rule speaks of it, whether the model alone has an
 * answer, or nothing. Counted over materials, laid out by the kinds right above them. */
#ifndef TC_JUDGE_COVERAGE_H
#define TC_JUDGE_COVERAGE_H

#include "judge/judge.h"

typedef enum tc_known_by {
	TC_BY_RULE, /* a rule asked of contacts speaks of it (tc_rule_speaks_of) and means something nearer than any coat at all */
	TC_BY_MODEL, /* the coat's solvents and the ground's sphere are known, or the ground is inert, or the library says
	                * that the coat holds there by itself */
	TC_BY_GENERAL, /* only rules that hold of every coat on every coat */
	TC_BY_NOTHING,
	TC_KNOWN_COUNT
} tc_known_by;

/* A row or a column: the materials right below a kind, or a single material. */
typedef struct tc_coverage_group {
	const tc_entry *entry;
	tc_section section;
	uint32_t count;
	const tc_entry *const *material;
} tc_coverage_group;

typedef struct tc_coverage_axis {
	uint32_t count;
	const tc_coverage_group
	    *group; /* substrates first, then what is laid, each in the order of the tree of kinds */
} tc_coverage_axis;

/* Pairs of materials, by what is known of them. */
typedef struct tc_coverage_cell {
	uint32_t pairs[TC_KNOWN_COUNT];
} tc_coverage_cell;

typedef struct tc_coverage_pair {
	const tc_entry *below, *above;
	uint32_t row, column;
} tc_coverage_pair;

typedef struct tc_coverage {
	const tc_rulebook *rulebook;
	tc_coverage_axis below, above;
	const tc_coverage_cell *cell; /* row after row */
	tc_coverage_cell all;
	uint32_t nothings; /* by row and ground, then by column and coat */
	const tc_coverage_pair *nothing;
} tc_coverage;

/* What stands below: substrates, fillers, decals and coats; above: coats. `below`, `above`: only what is that kind or
 * material, each material a row or a column of its own; NULL: all. An axis may come out empty. NULL: out of memory. The
 * coverage lives in `arena` as long as the rulebook does. */
const tc_coverage *tc_coverage_make(
    tc_arena *arena, const tc_rulebook *rulebook, const tc_entry *below, const tc_entry *above);

const tc_coverage_cell *tc_coverage_at(const tc_coverage *coverage, uint32_t row, uint32_t column);

/* What a cell says of all its pairs together. */
typedef enum tc_coverage_word {
	TC_COVERED_BY_RULES, /* a rule speaks of each pair */
	TC_COVERED_BY_BOTH,  /* rules of some, the model of the rest */
	TC_COVERED_BY_MODEL,
	TC_COVERED_GENERALLY, /* only general rules of some */
	TC_COVERED_IN_PART,   /* nothing is known of some */
	TC_COVERED_NOT,       /* nothing is known of any */
	TC_COVERED_COUNT
} tc_coverage_word;
tc_coverage_word tc_coverage_word_of(const tc_coverage_cell *cell);

#endif
