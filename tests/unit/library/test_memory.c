/* Every allocation may fail; the library stands alone in its arena; the same input gives the same bytes. */
/* The arena with an allocation for each piece, so that each can fail; the linker then leaves the usual one where it is. */
#define TC_ARENA_DEBUG
#include "base/arena.c"

#include "book.h"

#define GOOD                                                                                                           \
	"kinds:\n"                                                                                                     \
	"  liquid: {from: practice, hazards: [H336]}\n"                                                                \
	"  paint-kind: {from: practice, bleeds: no, pot_life: none}\n"                                                 \
	"solvents:\n"                                                                                                  \
	"  light:\n"                                                                                                   \
	"    kind: liquid\n"                                                                                           \
	"    name: Light Spirit\n"                                                                                     \
	"    also: [ghost, white ghost]\n"                                                                             \
	"    known_as: 'remover( clear)?'\n"                                                                           \
	"    about: light\n"                                                                                           \
	"    from: {source: good-book, at: table 1}\n"                                                                 \
	"    density: {is: 0.8 g/cm³, spread: 0.7 g/cm³ to 0.9 g/cm³, note: read}\n"                                \
	"    given:\n"                                                                                                 \
	"      - {from: {source: old-book, memory: yes}, delta_d: 15 MPa½, hazards: [H225, EUH066]}\n"                \
	"  heavy: {kind: liquid, from: practice, density: 1.6 g/cm³}\n"                                               \
	"blends:\n"                                                                                                    \
	"  half: {kind: liquid, from: practice, solvents: {light: 50 %, heavy: 50 %, by: mass}}\n"                     \
	"coatings:\n"                                                                                                  \
	"  paint: {kind: paint-kind, from: practice, solids: 30 %, recoat: [10 min to 1 h, 24 h on], mix: 2:1,\n"      \
	"    roles: [primer, clear], cure: light, thinned_by: [half], solvents: {half: 100 %}, cautions: [care]}\n"    \
	"cautions:\n"                                                                                                  \
	"  care: {says: careful, kinds: [liquid], codes: [H225], verbs: [coat], rank: 3, from: practice}\n"            \
	"defects:\n"                                                                                                   \
	"  lifting: {about: swells, from: practice}\n"                                                                 \
	"unclear:\n"                                                                                                   \
	"  enamel: what thins it?\n"

#define ABOVE                                                                                                          \
	"amend:\n"                                                                                                     \
	"  paint: {solids: 40 %, from: practice, about: thick, because: x}\n"                                          \
	"  light: {delta_d: {is: 16 MPa½, from: practice}, because: x}\n"                                             \
	"  defaults/humidity: {is: 60 %, from: practice, because: x}\n"                                                \
	"retire:\n"                                                                                                    \
	"  lifting: gone\n"

static void files_of(tc_rulebook_file *files, const char *below)
{
	files[0] = file_of("bench.yaml", BENCH, 0);
	files[1] = file_of("a.yaml", below, 0);
	files[2] = file_of("b.yaml", ABOVE, 1);
}

/* --- an allocator that fails ---------------------------------------------------------------------------------------- */

typedef struct failing {
	unsigned requests, fail_at; /* from 1 */
	bool once;                  /* only that one; else all from there on */
	size_t living;
} failing;

static void *failing_get(void *user, void *old, size_t size)
{
	failing *f = user;
	if (size == 0) {
		f->living -= old != NULL;
		free(old);
		return NULL;
	}
	f->requests++;
	if (f->once ? f->requests == f->fail_at : f->requests >= f->fail_at)
		return NULL;
	void *at = realloc(old, size);
	f->living += old == NULL;
	return at;
}

typedef struct run {
	tc_arena *files, *arena;
	tc_diags *diags;
	tc_finder *finder;
} run;

/* Reads, builds and looks names up; true if all of it went well. */
static bool all_of_it(run *r, const tc_allocator *from, const char *below)
{
	tc_rulebook_file files[3];
	const tc_collection *collection;
	const tc_library *library;
	tc_find find;
	files_of(files, below);
	r->files = tc_arena_new(from, 0);
	r->arena = tc_arena_new(from, 0);
	r->diags = r->files ? tc_diags_new(r->files) : NULL;
	if (!r->arena || !r->diags)
		return false;
	const tc_status collected = tc_collect(r->files, files, 3, r->diags, &collection);
	if (!collection) {
		assert_int_not_equal(collected, TC_OK);
		return false;
	}
	const tc_status built = tc_library_build(r->arena, collection, r->diags, &library);
	assert_true(library != NULL || built == TC_NO_MEMORY);
	if (built != TC_OK)
		return false;
	r->finder = tc_finder_new(library, from);
	if (!r->finder || tc_finder_find(r->finder, TC_TEXT("Half"), ~0u, &find) != TC_FOUND)
		return false;
	const tc_found found = tc_finder_find(r->finder, TC_TEXT("remover clear"), ~0u, &find);
	if (found == TC_FOUND)
		return true;
	assert_int_equal(found, TC_FOUND_NO_MEMORY);
	/* and again, when there is memory */
	assert_true(
	    tc_finder_find(r->finder, TC_TEXT("remover clear"), ~0u, &find) == TC_FOUND_NO_MEMORY || find.entry);
	return false;
}

static void end_run(run *r)
{
	tc_finder_free(r->finder);
	tc_arena_free(r->files);
	tc_arena_free(r->arena);
}

static void every_allocation_fails(const char *below, bool once, bool sound)
{
	bool done = false;
	for (unsigned n = 1; !done; n++) {
		failing f = {.fail_at = n, .once = once};
		const tc_allocator from = {failing_get, &f};
		run r = {0};
		const bool good = all_of_it(&r, &from, below);
		done = f.requests < n;
		if (sound)
			assert_int_equal(good, done); /* what failed is never taken for done */
		end_run(&r);
		assert_int_equal(f.living, 0);
	}
}

static void allocations_fail_one_by_one(void **state)
{
	(void)state;
	every_allocation_fails(GOOD, true, true);
	every_allocation_fails(GOOD, false, true);
}

/* The same over a rulebook with faults: messages are made of memory too. */
static void allocations_fail_among_faults(void **state)
{
	(void)state;
	static const char faults[] =
	    GOOD "  zzz: [x]\n"
	         "adhesives:\n"
	         "  a: {kind: liquit, known_as: '(b', flash: 3, mix: 3, cure: lihgt, recoat: 3, name: ghost}\n"
	         "  b: {kind: a, solvents: {ligth: 30 %, heavy: 10 %}, solids: 300 %, thinned_by: [lite]}\n";
	every_allocation_fails(faults, true, false);
	every_allocation_fails(faults, false, false);
}

/* --- where things lie ----------------------------------------------------------------------------------------------- */

#define BLOCKS 20000

/* Hands out zeroed blocks and remembers them. */
typedef struct recorder {
	char *at[BLOCKS];
	size_t size[BLOCKS];
	size_t count;
} recorder;

static void *record(void *user, void *old, size_t size)
{
	recorder *r = user;
	if (size == 0) {
		for (size_t i = 0; i < r->count; i++)
			if (r->at[i] == old)
				r->at[i] = NULL;
		free(old);
		return NULL;
	}
	assert_null(old); /* an arena does not ask for more room for what it has */
	assert_true(r->count < BLOCKS);
	r->size[r->count] = size;
	return r->at[r->count++] = calloc(1, size);
}

static bool is_within(uintptr_t word, const recorder *r)
{
	for (size_t i = 0; i < r->count; i++)
		if (r->at[i] && word >= (uintptr_t)r->at[i] && word < (uintptr_t)r->at[i] + r->size[i])
			return true;
	return false;
}

typedef struct placed {
	recorder files, library;
	tc_allocator files_from, library_from;
	tc_arena *files_arena, *arena;
	const tc_library *built;
} placed;

static void place(placed *p)
{
	tc_rulebook_file files[3];
	const tc_collection *collection;
	files_of(files, GOOD);
	p->files_from = (tc_allocator){record, &p->files};
	/* The library's builder draws its scratch arena from the same allocator, which gives that back at the end. */
	p->library_from = (tc_allocator){record, &p->library};
	p->files_arena = tc_arena_new(NULL, 0);
	p->arena = tc_arena_new(&p->library_from, (size_t)1 << 20);
	tc_arena *words = tc_arena_new(&p->files_from, (size_t)1 << 20);
	tc_diags *diags = tc_diags_new(p->files_arena);
	assert_int_equal(tc_collect(words, files, 3, diags, &collection), TC_OK);
	assert_int_equal(tc_library_build(p->arena, collection, diags, &p->built), TC_OK);
	tc_arena_free(p->files_arena);
	p->files_arena = words;
}

static void end_place(placed *p)
{
	tc_arena_free(p->files_arena);
	tc_arena_free(p->arena);
}

extern char __executable_start, end;

#define FIRST 1 /* block 0 is the arena itself */

/* No word of the library's blocks is an address of the trees, of the program or of its literals. */
static void the_library_points_only_to_itself(void **state)
{
	(void)state;
	static placed p;
	memset(&p, 0, sizeof p);
	place(&p);
	size_t inner = 0;
	for (size_t i = FIRST; i < p.library.count; i++) {
		if (!p.library.at[i])
			continue;
		/* behind the block's own header, which the arena keeps and which ends at a multiple of 16 */
		for (size_t at = 64; at + sizeof(uintptr_t) <= p.library.size[i]; at += sizeof(uintptr_t)) {
			uintptr_t word;
			memcpy(&word, p.library.at[i] + at, sizeof word);
			assert_false(is_within(word, &p.files));
			assert_false(word >= (uintptr_t)&__executable_start && word < (uintptr_t)&end);
			inner += is_within(word, &p.library);
		}
	}
	assert_true(inner > 200); /* there was something to look at */
	end_place(&p);
}

/* The trees and the files' bytes are gone: all that was kept is still there (under the address sanitizer). */
static void the_library_outlives_its_files(void **state)
{
	(void)state;
	static placed p;
	memset(&p, 0, sizeof p);
	place(&p);
	tc_arena_free(p.files_arena);
	p.files_arena = NULL;
	const tc_entry *light = tc_library_by_id(p.built, TC_TEXT("light")),
	               *paint = tc_library_by_id(p.built, TC_TEXT("paint"));
	assert_string_equal(light->name, "Light Spirit");
	assert_string_equal(light->place.file, "a.yaml");
	assert_string_equal(light->also[1], "white ghost");
	assert_string_equal(light->figures[TC_P_DENSITY]->note, "read");
	assert_string_equal(light->figures[TC_P_DELTA_D]->place.file, "b.yaml");
	assert_string_equal(light->basis->at, "table 1");
	assert_string_equal(light->hazards[0], "EUH066");
	assert_string_equal(paint->figures[TC_P_MIX]->value.text, "2:1");
	assert_int_equal(tc_entry_value(paint, TC_P_SOLVENTS).blend->count, 2);
	assert_string_equal(tc_library_source(p.built, 0)->title, "A good book");
	assert_string_equal(tc_library_caution(p.built, 0)->says, "careful");
	assert_string_equal(tc_library_words(p.built, TC_TEXT("role"))->about[0], "first");
	tc_finder *f = tc_finder_new(p.built, NULL);
	tc_find find;
	assert_int_equal(tc_finder_find(f, TC_TEXT("remover"), ~0u, &find), TC_FOUND);
	tc_finder_free(f);
	end_place(&p);
}

/* Two builds: each word the same, or in both the same way into their own blocks. */
static void the_same_bytes_every_time(void **state)
{
	(void)state;
	static placed a, b;
	place(&a);
	place(&b);
	assert_int_equal(tc_arena_used(a.arena), tc_arena_used(b.arena));
	assert_int_equal(a.library.count, b.library.count);
	for (size_t i = FIRST; i < a.library.count; i++) {
		assert_int_equal(a.library.size[i], b.library.size[i]);
		for (size_t at = 64; a.library.at[i] && at + sizeof(uintptr_t) <= a.library.size[i];
		     at += sizeof(uintptr_t)) {
			uintptr_t one, other;
			memcpy(&one, a.library.at[i] + at, sizeof one);
			memcpy(&other, b.library.at[i] + at, sizeof other);
			if (one == other)
				continue;
			size_t j = 0;
			while (j < a.library.count && !(a.library.at[j] && one >= (uintptr_t)a.library.at[j] &&
			                                  one <= (uintptr_t)a.library.at[j] + a.library.size[j]))
				j++;                      /* the address of nothing may be the end of its block */
			assert_true(j < a.library.count); /* it differs, so it must be an address */
			assert_true(one - (uintptr_t)a.library.at[j] == other - (uintptr_t)b.library.at[j]);
		}
	}
	end_place(&a);
	end_place(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(allocations_fail_one_by_one),
	    cmocka_unit_test(allocations_fail_among_faults),
	    cmocka_unit_test(the_library_points_only_to_itself),
	    cmocka_unit_test(the_library_outlives_its_files),
	    cmocka_unit_test(the_same_bytes_every_time),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
