/* Each allocation fails once, those that libyaml makes by itself included: an answer each time, and nothing is
 * leaked. */
#include "check.h"

#include "../heap.h"

static void walk(const tc_source *source, const tc_node *node, tc_diags *diags)
{
	if (node->kind == TC_SCALAR) {
		tc_node_text_place(source, node, node->count / 2);
		tc_yaml_expression_check(source, node, true, diags);
		return;
	}
	for (size_t i = 0; i < node->count * (node->kind == TC_MAP ? 2u : 1u); i++)
		walk(source, node->items[i], diags);
}

/* Everything once; true if no allocation failed. */
static bool use(const char *text, tc_status expected)
{
	tc_arena *arena = tc_arena_new(&heap_allocator, 64);
	tc_diags *diags = arena ? tc_diags_new(arena) : NULL;
	tc_source *source = NULL;
	const tc_document *documents;
	size_t count;
	tc_status status = TC_NO_MEMORY;
	if (diags)
		status = tc_source_new(arena, "t.yaml", text, strlen(text), diags, &source);
	if (status == TC_OK)
		status = tc_yaml_read(arena, source, diags, &documents, &count);
	if (status != TC_NO_MEMORY) {
		for (size_t i = 0; i < count; i++)
			if (documents[i].root)
				walk(source, documents[i].root, diags);
		assert_int_equal(status, expected);
	}
	const bool good = status != TC_NO_MEMORY && !tc_arena_failed(arena);
	tc_arena_free(arena);
	return good;
}

static const char good_text[] = "parts: &p\n  hull: {substrate: brass, area: 410 cm²}\n  mast: [a, b, *p2]\n";

static const char honest[] =
    "recipe: Harbour launch\nshelf:\n  grey: &g {family: lacquer-primer, solids: 12 %}\n  other: *g\n"
    "stack:\n  - coat: grey   # thin\n    says: \"a \\u00b5 b\"\n    when: |\n      x > 3\n"
    "      and y\n  - wait: 'it''s 3 h'\n  - note: >-\n      folded\n      text\n"
    "many: {a: 1, b: 1, c: 1, d: 1, e: 1, f: 1, g: 1, h: 1, i: 1, j: 1, k: 1, l: 1, m: 1, n: 1, o: 1,\n"
    "  p: 1, q: 1, r: 1}\n---\n- second\n";
static const char faulty[] = "a: 1\na: 2\n? [x]\n: y\nz: !!str 3\n<<: *none\nw: \"\\e\"\nv: [1, 2\nb: 3\n";

static void fail_each(const char *text, tc_status expected, bool only_once)
{
	bool good = false;
	long n = 1;
	for (; !good; n++) {
		heap.from_then_on = !only_once;
		heap_arm(n);
		good = use(text, expected);
		heap_disarm();
		assert_int_equal(heap.outstanding, 0);
		if (good)
			assert_true(heap.requests < n); /* no failure was swallowed */
		assert_true(n < 100000);
	}
	assert_true(n > (HEAP_WHOLE ? 50 : 5)); /* that many failed in turn */
}

static void each_allocation_fails(void **state)
{
	(void)state;
	fail_each(honest, TC_OK, false);
	fail_each(honest, TC_OK, true);
	fail_each(faulty, TC_BAD, false);
	fail_each(faulty, TC_BAD, true);
	fail_each(good_text, TC_BAD, true); /* an alias without its anchor */
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(each_allocation_fails)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
