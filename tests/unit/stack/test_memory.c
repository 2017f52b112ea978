/* Every allocation fails once: reading and building end with TC_NO_MEMORY or NULL, without a crash or a leak. */
#include <stdlib.h>

#include "kit.h"

/* Hands out memory in pieces below a limit, and at most `left` of them. */
typedef struct purse {
	size_t left, limit, live;
} purse;

static void *purse_get(void *user, void *old, size_t size)
{
	purse *p = user;
	if (size == 0) {
		if (old)
			p->live--;
		free(old);
		return NULL;
	}
	if (p->left == 0 || size >= p->limit)
		return NULL;
	p->left--;
	void *at = realloc(old, size);
	if (at && !old)
		p->live++;
	return at;
}

static const char text[] =
    "recipe: x\n"
    "workshop: {temperature: 19 °C, habits: {dust: yes, dry: yes}}\n"
    "parts:\n"
    "  hull: {substrate: resin, size: 3 x 4 x 5 cm, areas: {bottom: 40 %}, lines: {width: 0.3 mm, depth: 0.2 mm},\n"
    "    finish: [{coat: coating}, {coat: oil-enamel, age: 3 y}]}\n"
    "  house: {substrate: polystyrene}\n"
    "shelf:\n"
    "  gloss: {family: clear-2k, solids: 30 %, recoat: [0 s to 2 h, 2 d on]}\n"
    "stack:\n"
    "  - wash: detergent\n"
    "  - wait: 2 h\n"
    "  - {coat: lacquer-primer, passes: [mist, light, wet]}\n"
    "  - {wait: 1 h, at: 45 °C}\n"
    "  - {fill: lamp-putty, on: hull}\n"
    "  - {cure: lamp, time: 30 s}\n"
    "  - {cure: lamp, time: 40 s}\n"
    "  - sand: P400\n"
    "  - sand: P400\n"
    "  - {mask: hull/bottom}\n"
    "  - {mask: tape, on: house}\n"
    "  - {mix: gloss, ratio: 2:1}\n"
    "  - {coat: gloss, coats: 2, pass: wet, thin: {with: acetone, add: 10 %}}\n"
    "  - {coat: gloss, pass: wet}\n"
    "  - wait: 1 d\n"
    "  - unmask: yes\n"
    "  - {decal: water-slide, softener: decal-softener}\n"
    "  - {polish: compound, grade: P3000}\n"
    "  - {strip: paint-stripper}\n"
    "accept: [{rule: too-smooth-to-key, on: hull, because: x}]\n";

/* A recipe full of faults: messages take memory too. */
static const char faulty[] =
    "recipe: \n"
    "workshop: {temprature: 19 °C, humidity: 120 %, room: 3 m}\n"
    "parts: {hull: {substrate: brss, size: 3}, house: {area: 5}}\n"
    "shelf: {black: {family: acrylic, solid: 3 %}, white: nitro}\n"
    "stack: [{coat: acrylic}, {coat: detergnt}, {wait: 5}, {sand: P400, role: primr}, {fill: nitro paint}]\n"
    "accept: [{rul: x}, {defect: liftng}]\n";

/* Reads and builds in an arena of one block of `room` bytes that gets no second one: the piece for which there is no
 * room is the one that fails. `buffers`: may the reader have buffers for its messages? */
static tc_status attempt(const kit *k, const char *recipe_text, size_t room, bool buffers, tc_status good)
{
	purse p = {.left = SIZE_MAX, .limit = SIZE_MAX};
	const tc_allocator from = {purse_get, &p};
	tc_arena *arena = tc_arena_new(&from, room);
	assert_non_null(arena);
	p.limit = room / 2; /* an arena asks for more than that, what lies beside it for less */
	tc_status status = TC_NO_MEMORY;
	tc_diags *diags = tc_diags_new(arena);
	tc_source *source;
	const tc_document *documents;
	size_t count = 0;
	const tc_recipe *recipe = NULL;
	const tc_rule_names names = {.find = kit_rule};
	if (diags && tc_source_new(arena, "r.yaml", recipe_text, strlen(recipe_text), diags, &source) == TC_OK &&
	    tc_yaml_read(arena, source, diags, &documents, &count) == TC_OK && count == 1) {
		p.left = buffers ? SIZE_MAX : 0;
		status = tc_recipe_read(
		    arena, k->library, k->finder, &names, NULL, source, documents[0].root, false, diags, &recipe);
		assert_true(status == TC_NO_MEMORY || status == good);
		assert_int_equal(recipe != NULL, status == TC_OK);
		if (status == TC_OK && !tc_model_build(arena, recipe, k->library, TC_PASS_LIGHT))
			status = TC_NO_MEMORY;
	}
	tc_arena_free(arena);
	assert_int_equal(p.live, 0);
	return status;
}

/* From a room in which not even the document fits, byte by byte as pieces are aligned, until there is enough. */
static void until_it_succeeds(const kit *k, const char *recipe_text, bool buffers, tc_status good)
{
	size_t room = 4096;
	while (attempt(k, recipe_text, room, buffers, good) != good) {
		room += 16;
		assert_true(room < 1 << 18);
	}
	assert_true(room > 8192);
}

static void a_good_recipe_survives_each_failure(void **state)
{
	until_it_succeeds(*state, text, false, TC_OK);
	until_it_succeeds(*state, text, true, TC_OK);
}

static void a_faulty_recipe_survives_each_failure(void **state)
{
	until_it_succeeds(*state, faulty, true, TC_BAD);
}

/* The finder takes memory of its own on its first miss. */
static void a_finder_without_memory_is_no_wrong_name(void **state)
{
	kit *k = *state;
	bool missed = false;
	for (size_t allocations = 0; allocations < 200; allocations++) {
		purse p = {.left = allocations, .limit = SIZE_MAX};
		const tc_allocator from = {purse_get, &p};
		tc_finder *finder = tc_finder_new(k->library, &from);
		if (!finder)
			continue;
		tc_finder *const kept = k->finder;
		k->finder = finder;
		kit_read(k, "on: brass\nstack: [{coat: nitro}]\n");
		k->finder = kept;
		tc_finder_free(finder);
		assert_true(k->status == TC_OK || k->status == TC_NO_MEMORY);
		assert_int_equal(tc_diags_count(k->diags), 0);
		missed |= k->status == TC_NO_MEMORY;
	}
	assert_int_equal(k->status, TC_OK);
	assert_true(missed);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(a_good_recipe_survives_each_failure),
	    cmocka_unit_test(a_faulty_recipe_survives_each_failure),
	    cmocka_unit_test(a_finder_without_memory_is_no_wrong_name),
	};
	return cmocka_run_group_tests(tests, kit_setup, kit_teardown);
}
