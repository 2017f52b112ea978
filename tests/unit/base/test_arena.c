/* The arena: pieces are zeroed, aligned, apart from each other, and stay; failure is sticky and leaks nothing. */
#include "base/arena.h"

#include "check.h"

static void pieces_are_zeroed_aligned_and_apart(void **state)
{
	(void)state;
	enum { PIECES = 3000 };
	static unsigned char *pieces[PIECES];
	tc_arena *arena = tc_arena_new(NULL, 100);
	assert_non_null(arena);
	for (size_t i = 0; i < PIECES; i++) {
		const size_t size = i * 7 % 300; /* 0 and multiples of 16 among them */
		pieces[i] = tc_arena_get(arena, size);
		assert_non_null(pieces[i]);
		assert_int_equal((uintptr_t)pieces[i] % 16, 0);
		for (size_t j = 0; j < size; j++)
			assert_int_equal(pieces[i][j], 0);
		memset(pieces[i], (int)(i % 251), size);
	}
	for (size_t i = 0; i < PIECES; i++)
		for (size_t j = 0; j < i * 7 % 300; j++)
			assert_int_equal(pieces[i][j], i % 251);
	assert_false(tc_arena_failed(arena));
	tc_arena_free(arena);
	tc_arena_free(NULL);
}

static void large_pieces(void **state)
{
	(void)state;
	tc_arena *arena = tc_arena_new(NULL, 0);
	char *small = tc_arena_get(arena, 10);
	char *large = tc_arena_get(arena, (size_t)5 << 20);
	assert_non_null(large);
	memset(large, 'x', (size_t)5 << 20);
	char *after = tc_arena_get(arena, 10);
	assert_non_null(small);
	assert_non_null(after);
#ifndef TC_ARENA_DEBUG
	assert_ptr_equal(after, small + 16); /* the rest of the first block was not lost */
#endif
	assert_int_equal(tc_arena_used(arena), ((size_t)5 << 20) + 32);
	tc_arena_free(arena);
}

static void reset_keeps_the_first_block(void **state)
{
	(void)state;
	meter m = {0};
	const tc_allocator from = metered(&m);
	tc_arena *arena = tc_arena_new(&from, 1024);
	assert_ptr_equal(tc_arena_allocator(arena), &from);
	for (int i = 0; i < 100; i++)
		memset(tc_arena_get(arena, 100), 0xAA, 100);
	tc_arena_reset(arena);
	assert_int_equal(tc_arena_used(arena), 0);
	const unsigned before = m.requests;
	unsigned char *again = tc_arena_get(arena, 100);
	for (int i = 0; i < 100; i++)
		assert_int_equal(again[i], 0);
#ifndef TC_ARENA_DEBUG
	assert_int_equal(m.requests, before);
#else
	assert_true(m.requests > before);
#endif
	tc_arena_free(arena);
	assert_int_equal(m.outstanding, 0);
}

static void sizes_that_overflow(void **state)
{
	(void)state;
	tc_arena *arena = tc_arena_new(NULL, 0);
	assert_null(tc_arena_array(arena, SIZE_MAX / 2, 4));
	assert_true(tc_arena_failed(arena));
	assert_null(tc_arena_get(arena, 1)); /* sticky */
	tc_arena_reset(arena);
	assert_false(tc_arena_failed(arena));
	assert_null(tc_arena_get(arena, SIZE_MAX));
	tc_arena_reset(arena);
	assert_null(tc_arena_get(arena, SIZE_MAX - 8));
	tc_arena_reset(arena);
	assert_null(tc_arena_text(arena, "", SIZE_MAX));
	tc_arena_reset(arena);
	assert_non_null(tc_arena_get(arena, 1));
	tc_arena_free(arena);
}

static void copies_and_prints(void **state)
{
	(void)state;
	tc_arena *arena = tc_arena_new(NULL, 0);
	assert_memory_equal(tc_arena_copy(arena, "abc", 3), "abc", 3);
	assert_string_equal(tc_arena_text(arena, "abcdef", 3), "abc");
	assert_string_equal(tc_arena_text(arena, NULL, 0), "");
	assert_string_equal(tc_arena_print(arena, "%d of %s", 3, "many"), "3 of many");
	char long_text[5000];
	memset(long_text, 'y', sizeof long_text - 1);
	long_text[sizeof long_text - 1] = 0;
	assert_string_equal(tc_arena_print(arena, "%s", long_text), long_text);
	tc_arena_free(arena);
}

static void growing_array(void **state)
{
	(void)state;
	tc_arena *arena = tc_arena_new(NULL, 0);
	uint32_t *array = NULL, room = 0;
	for (uint32_t i = 0; i < 1000; i++) {
		assert_true(tc_arena_grow(arena, (void **)&array, i, &room, sizeof *array));
		assert_true(room > i);
		array[i] = i * i;
	}
	for (uint32_t i = 0; i < 1000; i++)
		assert_int_equal(array[i], i * i);
	uint32_t *const before = array;
	room = UINT32_MAX - 1;
	assert_false(tc_arena_grow(arena, (void **)&array, UINT32_MAX - 1, &room, sizeof *array));
	assert_ptr_equal(array, before);
	assert_true(tc_arena_failed(arena));
	tc_arena_free(arena);
}

/* One use of everything; false when something came back NULL. */
static bool use(const tc_allocator *from)
{
	tc_arena *arena = tc_arena_new(from, 64);
	if (!arena)
		return false;
	bool good = true;
	void *array = NULL;
	uint32_t room = 0;
	for (uint32_t i = 0; i < 40; i++) {
		good &= tc_arena_get(arena, 100) != NULL;
		good &= tc_arena_text(arena, "text", 4) != NULL;
		good &= tc_arena_print(arena, "%u", i) != NULL;
		good &= tc_arena_grow(arena, &array, i, &room, 8);
	}
	assert_int_equal(good, !tc_arena_failed(arena));
	tc_arena_free(arena);
	return good;
}

static void each_allocation_fails_once(void **state)
{
	(void)state;
	bool good = false;
	for (unsigned n = 1; !good; n++) {
		meter m = {.fails_at = n};
		const tc_allocator from = metered(&m);
		good = use(&from);
		assert_int_equal(m.outstanding, 0);
		assert_true(n < 1000);
		if (n == 1)
			assert_false(good);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(pieces_are_zeroed_aligned_and_apart),
	    cmocka_unit_test(large_pieces),
	    cmocka_unit_test(reset_keeps_the_first_block),
	    cmocka_unit_test(sizes_that_overflow),
	    cmocka_unit_test(copies_and_prints),
	    cmocka_unit_test(growing_array),
	    cmocka_unit_test(each_allocation_fails_once),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
