/* Names to numbers. */
#include "base/map.h"
#include "check.h"

static void putting_and_finding(void **state)
{
	(void)state;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_map map = {0};
	assert_int_equal(tc_map_find(&map, TC_TEXT("a")), TC_MAP_NONE);
	enum { KEYS = 5000 };
	for (uint32_t i = 0; i < KEYS; i++) {
		const char *key = tc_arena_print(arena, "key-%u", (unsigned)(i * 7919));
		uint32_t already = 7;
		assert_true(tc_map_put(&map, arena, tc_text_of(key), i, &already));
		assert_int_equal(already, TC_MAP_NONE);
	}
	assert_int_equal(map.count, KEYS);
	for (uint32_t i = 0; i < KEYS; i++) {
		char key[32];
		snprintf(key, sizeof key, "key-%u", (unsigned)(i * 7919));
		assert_int_equal(tc_map_find(&map, tc_text_of(key)), i);
	}
	assert_int_equal(tc_map_find(&map, TC_TEXT("key-")), TC_MAP_NONE);
	tc_arena_free(arena);
}

static void the_old_value_stays(void **state)
{
	(void)state;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_map map = {0};
	uint32_t already;
	assert_true(tc_map_put(&map, arena, TC_TEXT("primer"), 1, &already));
	assert_true(tc_map_put(&map, arena, TC_TEXT("primer"), 2, &already));
	assert_int_equal(already, 1);
	assert_true(tc_map_put(&map, arena, TC_TEXT("primer"), 3, NULL));
	assert_int_equal(tc_map_find(&map, TC_TEXT("primer")), 1);
	assert_int_equal(map.count, 1);
	/* a name that is the start of another, and the empty one */
	assert_true(tc_map_put(&map, arena, TC_TEXT("prime"), 4, &already));
	assert_int_equal(already, TC_MAP_NONE);
	assert_true(tc_map_put(&map, arena, (tc_text){NULL, 0}, 5, &already));
	assert_int_equal(already, TC_MAP_NONE);
	assert_int_equal(tc_map_find(&map, TC_TEXT("")), 5);
	assert_int_equal(tc_map_find(&map, TC_TEXT("prime")), 4);
	tc_arena_free(arena);
}

static void out_of_memory(void **state)
{
	(void)state;
	unsigned refused = 0;
	for (unsigned n = 2; n < 20; n++) {
		meter m = {.fails_at = n};
		const tc_allocator from = metered(&m);
		tc_arena *arena = tc_arena_new(&from, 64);
		if (!arena)
			continue;
		static char keys[100][8];
		tc_map map = {0};
		for (unsigned i = 0; i < 100; i++) {
			snprintf(keys[i], sizeof keys[i], "k%u", i);
			if (!tc_map_put(&map, arena, tc_text_of(keys[i]), i, NULL)) {
				refused++;
				assert_true(tc_arena_failed(arena));
				break;
			}
		}
		for (unsigned i = 0; i < map.count; i++)
			assert_int_equal(tc_map_find(&map, tc_text_of(keys[i])), i);
		tc_arena_free(arena);
		assert_int_equal(m.outstanding, 0);
	}
	assert_true(refused > 2);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(putting_and_finding),
	    cmocka_unit_test(the_old_value_stays),
	    cmocka_unit_test(out_of_memory),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
