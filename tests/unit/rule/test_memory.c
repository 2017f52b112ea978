/* Every allocation fails once, and from some point on all do: no rulebook comes out, none leaks, nothing crashes. */
#include "fake.h"

typedef struct meter {
	long countdown; /* the allocation that fails; below zero: none */
	bool for_ever;  /* and all after it */
	long live;
} meter;

static void *get(void *user, void *old, size_t size)
{
	meter *m = user;
	if (size == 0) {
		m->live -= old != NULL;
		free(old);
		return NULL;
	}
	if (m->countdown == 0 || (m->for_ever && m->countdown < 0)) {
		m->countdown = m->for_ever ? -1 : m->countdown - 1;
		return NULL;
	}
	m->countdown -= m->countdown > 0;
	void *fresh = realloc(old, size);
	m->live += fresh && !old;
	return fresh;
}

static const char more[] =
    "rules:\n"
    "  a: {about: a, asks: contact, when: \"coat.label matches '^a(b|c)' and half_cured(under) and gap > 3 h\", "
    "verdict: error,\n"
    "      says: '{coat} on {under} after {gap}', from: {source: old-book, at: p. 1}, outranks: [b], defect: lifting,\n"
    "      remedies: [{wait: 3 h - gap}, {insert: {kind: barrier, that: new.solids > 3 %}, before: coat}],\n"
    "      shown_by: {breaks: [{on: steel}], holds: [{on: brass}]}}\n"
    "  b: {about: a, asks: coat, when: 'any(earlier layers as l, l.old)', verdict: note, says: '{l}', from: practice,\n"
    "      shown_by: {breaks: [{on: steel}], holds: [{on: brass}]}}\n";

typedef struct files {
	tc_rulebook_file at[3];
	char *book, *defaults;
} files;

static files open_files(void)
{
	files f;
	size_t length;
	f.book = read_text_file("tests/unit/rule/book.yaml", &length);
	f.defaults = some_defaults();
	f.at[0] = (tc_rulebook_file){"book.yaml", f.book, length, 0};
	f.at[1] = (tc_rulebook_file){"defaults.yaml", f.defaults, strlen(f.defaults), 0};
	f.at[2] = (tc_rulebook_file){"more.yaml", more, sizeof more - 1, 0};
	return f;
}

static void close_files(files *f)
{
	free(f->book);
	free(f->defaults);
}

static void loads(bool for_ever)
{
	files f = open_files();
	long n = 0;
	for (tc_status status = TC_NO_MEMORY; status != TC_OK; n++) {
		meter m = {.countdown = n, .for_ever = for_ever};
		const tc_allocator from = {get, &m};
		tc_arena *arena = tc_arena_new(NULL, 0);
		tc_diags *diags = tc_diags_new(arena);
		tc_rulebook *book = NULL;
		status = tc_rulebook_load(&from, f.at, 3, false, diags, &book);
		if (status != TC_OK) {
			assert_int_equal(status, TC_NO_MEMORY);
			assert_null(book);
		}
		tc_rulebook_free(book);
		assert_int_equal(m.live, 0);
		tc_arena_free(arena);
		assert_true(n < 100000);
	}
	assert_true(n > 10);
	close_files(&f);
}

static void test_load_once(void **state)
{
	(void)state;
	loads(false);
}

static void test_load_for_ever(void **state)
{
	(void)state;
	loads(true);
}

static void test_image(void **state)
{
	(void)state;
	files f = open_files();
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(arena);
	tc_buffer image;
	tc_buffer_start(&image, NULL);
	assert_int_equal(tc_rulebook_image(f.at, 3, diags, &image), TC_OK);
	for (long n = 0;; n++) {
		meter m = {.countdown = n, .for_ever = true};
		const tc_allocator from = {get, &m};
		tc_rulebook *book;
		const tc_status status = tc_rulebook_from_image(&from, image.at, image.length, &book);
		assert_int_equal(status, n < 2 ? TC_NO_MEMORY : TC_OK); /* the arena and its block */
		tc_rulebook_free(book);
		assert_int_equal(m.live, 0);
		if (status == TC_OK)
			break;
	}
	tc_buffer_free(&image);
	tc_arena_free(arena);
	close_files(&f);
}

/* One expression, of which the caller's arena may fail. */
static void test_expression(void **state)
{
	(void)state;
	tc_rulebook *book = load_book(NULL, NULL, NULL);
	const tc_text text =
	    TC_TEXT("coat.label matches '^a(b|c)' and half_cured(under) and any(earlier layers as l, l.old)");
	bool done = false;
	for (long n = 0; !done; n++) {
		meter m = {.countdown = n, .for_ever = true};
		const tc_allocator from = {get, &m};
		tc_arena *messages = tc_arena_new(NULL, 0), *arena = tc_arena_new(&from, 64);
		tc_diags *diags = tc_diags_new(messages);
		const tc_expr *x = arena ? tc_expr_compile(book, arena, TC_ASK_CONTACT, text, diags) : NULL;
		assert_int_equal(tc_diags_count(diags), 0);
		done = x != NULL;
		tc_arena_free(arena);
		assert_int_equal(m.live, 0);
		tc_arena_free(messages);
	}
	tc_rulebook_free(book);
}

/* Patterns: the handle itself, and the first match with it, which then cannot be decided. */
static void test_patterns(void **state)
{
	(void)state;
	bool done = false;
	for (long n = 0; !done; n++) {
		meter m = {.countdown = n, .for_ever = true};
		const tc_allocator from = {get, &m};
		tc_patterns *patterns = tc_patterns_new(&from);
		const tc_match match = tc_patterns_match(patterns, "^(a|b)+c$", "abac");
		assert_true(match == TC_MATCH_YES || match == TC_MATCH_CANNOT);
		done = match == TC_MATCH_YES;
		tc_patterns_free(patterns);
		assert_int_equal(m.live, 0);
	}
	/* more patterns than a worker keeps */
	tc_patterns *patterns = tc_patterns_new(NULL);
	for (int round = 0; round < 2; round++)
		for (int i = 0; i < 200; i++) {
			char pattern[16], text[16];
			snprintf(pattern, sizeof pattern, "^x%d$", i);
			snprintf(text, sizeof text, "X%d", i);
			assert_int_equal(tc_patterns_match(patterns, pattern, text), TC_MATCH_YES);
			assert_int_equal(tc_patterns_match(patterns, pattern, "y"), TC_MATCH_NO);
		}
	tc_patterns_free(patterns);
	assert_int_equal(tc_patterns_match(NULL, "a", "a"), TC_MATCH_CANNOT);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(test_load_once), cmocka_unit_test(test_load_for_ever),
	    cmocka_unit_test(test_image), cmocka_unit_test(test_expression), cmocka_unit_test(test_patterns)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
