/* Coverage: sums, single pairs whose answer is known, and every allocation failing once. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "../heap.h"
#include "bench_of.h"
#include "judge/coverage.h"

typedef struct kit {
	files f;
	tc_rulebook *book;
} kit;

static int set_up(void **state)
{
	static kit k;
	tc_arena *arena = tc_arena_new(NULL, 0);
	k.f = default_files();
	const tc_status status = tc_rulebook_load(NULL, k.f.at, k.f.count, false, tc_diags_new(arena), &k.book);
	tc_arena_free(arena);
	*state = &k;
	return status == TC_OK ? 0 : -1;
}

static int tear_down(void **state)
{
	kit *k = *state;
	tc_rulebook_free(k->book);
	free_files(&k->f);
	return 0;
}

static const tc_entry *entry(const kit *k, const char *id)
{
	return id ? tc_library_by_id(tc_rulebook_library(k->book), tc_text_of(id)) : NULL;
}

/* Every pair is counted once, in its cell and in the whole; what is known of none is listed, row by row. */
static void sums(void **state)
{
	const kit *k = *state;
	tc_arena *arena = tc_arena_new(NULL, 0);
	const tc_coverage *c = tc_coverage_make(arena, k->book, NULL, NULL);
	uint32_t sum[TC_KNOWN_COUNT] = {0}, pairs = 0, below = 0, above = 0;

	assert_non_null(c);
	for (uint32_t row = 0; row < c->below.count; row++)
		below += c->below.group[row].count;
	for (uint32_t column = 0; column < c->above.count; column++)
		above += c->above.group[column].count;
	for (uint32_t row = 0; row < c->below.count; row++)
		for (uint32_t column = 0; column < c->above.count; column++) {
			const tc_coverage_cell *cell = tc_coverage_at(c, row, column);
			uint32_t of_cell = 0;
			for (int by = 0; by < TC_KNOWN_COUNT; by++) {
				sum[by] += cell->pairs[by];
				of_cell += cell->pairs[by];
			}
			assert_int_equal(of_cell, c->below.group[row].count * c->above.group[column].count);
			pairs += of_cell;
		}
	assert_int_equal(pairs, below * above);
	assert_memory_equal(sum, c->all.pairs, sizeof sum);
	assert_int_equal(c->nothings, sum[TC_BY_NOTHING]);
	for (uint32_t i = 1; i < c->nothings; i++)
		assert_true(c->nothing[i - 1].row <= c->nothing[i].row);
	tc_arena_free(arena);
}

static void single_pairs(void **state)
{
	static const struct {
		const char *below, *above;
		tc_known_by by;
		tc_coverage_word word;
	} cases[] = {
	    {"steel", "acrylic-lacquer", TC_BY_RULE, TC_COVERED_BY_RULES},           /* bare-metal-lacquer */
	    {"polycarbonate", "acrylic-lacquer", TC_BY_MODEL, TC_COVERED_BY_MODEL}, /* sphere and solvents */
	    {"glass", "acrylic-lacquer", TC_BY_MODEL, TC_COVERED_BY_MODEL},         /* inert */
	    {"phenolic", "acrylic-lacquer", TC_BY_NOTHING, TC_COVERED_NOT},         /* no sphere is known */
	};
	const kit *k = *state;

	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		tc_arena *arena = tc_arena_new(NULL, 0);
		const tc_coverage *c = tc_coverage_make(arena, k->book, entry(k, cases[i].below), entry(k, cases[i].above));
		assert_non_null(c);
		assert_int_equal(c->below.count, 1);
		assert_int_equal(c->above.count, 1);
		assert_int_equal(c->all.pairs[cases[i].by], 1);
		assert_int_equal(tc_coverage_word_of(tc_coverage_at(c, 0, 0)), cases[i].word);
		tc_arena_free(arena);
	}
}

/* A kind gives each of its materials a row of its own; what is no coat gives no column. */
static void narrowed(void **state)
{
	const kit *k = *state;
	tc_arena *arena = tc_arena_new(NULL, 0);
	const tc_coverage *c = tc_coverage_make(arena, k->book, entry(k, "styrenic"), entry(k, "urethane-two-part"));

	assert_non_null(c);
	assert_true(c->below.count > 3 && c->above.count > 3);
	for (uint32_t row = 0; row < c->below.count; row++) {
		assert_int_equal(c->below.group[row].count, 1);
		assert_false(c->below.group[row].entry->is_kind);
		assert_true(tc_entry_is(c->below.group[row].entry, entry(k, "styrenic")));
	}
	c = tc_coverage_make(arena, k->book, NULL, entry(k, "steel"));
	assert_non_null(c);
	assert_int_equal(c->above.count, 0);
	tc_arena_free(arena);
}

static void every_allocation(void **state)
{
	const kit *k = *state;
	long all = 1;

	for (long n = 0; n <= all; n++) {
		heap_arm(n);
		tc_arena *arena = tc_arena_new(&heap_allocator, 0);
		const tc_coverage *c = arena ? tc_coverage_make(arena, k->book, entry(k, "thermoset"), entry(k, "lacquer")) : NULL;
		if (n == 0) {
			assert_non_null(c);
			all = heap.requests;
		}
		tc_arena_free(arena);
		heap_disarm();
		if (HEAP_WHOLE)
			assert_int_equal(heap.outstanding, 0);
		if (n > 0)
			assert_null(c);
	}
	assert_true(all > 3);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(sums),
	    cmocka_unit_test(single_pairs),
	    cmocka_unit_test(narrowed),
	    cmocka_unit_test(every_allocation),
	};
	return cmocka_run_group_tests(tests, set_up, tear_down);
}
