/* What the tests of this floor share: a small rulebook of invented figures, a bench that reads recipes against it, and
 * short ways to ask. Every figure here is made up to give round results; none is meant to be right of any paint. */
#ifndef TC_TESTS_STACK_KIT_H
#define TC_TESTS_STACK_KIT_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>

#include "kit_rulebook.h"
#include "stack/model.h"

typedef struct kit {
	tc_arena *book, *arena;
	const tc_library *library;
	tc_finder *finder;
	tc_diags *diags;
	const tc_recipe *recipe;
	const tc_model *model;
	tc_status status;
	const char *name;                     /* of the recipe's file; NULL: r.yaml */
	const char *shelf_name, *shelf_bytes; /* the one file beside the recipe */
} kit;

static uint32_t kit_rule(const void *user, tc_text id, tc_text *nearest)
{
	(void)user;
	if (tc_text_is(id, "too-smooth-to-key"))
		return 7;
	if (tc_text_starts(id, "too-smooth"))
		*nearest = TC_TEXT("too-smooth-to-key");
	return TC_NONE;
}

static const char *kit_file(
    void *user, tc_arena *arena, const char *beside, const char *name, size_t *length, const char **reason)
{
	const kit *k = user;
	(void)arena;
	(void)beside;
	if (!k->shelf_name || strcmp(name, k->shelf_name) != 0) {
		*reason = "no such file";
		return NULL;
	}
	*length = strlen(k->shelf_bytes);
	return k->shelf_bytes;
}

static inline void kit_show(const tc_diags *diags)
{
	for (size_t i = 0; i < tc_diags_count(diags); i++) {
		tc_buffer line;
		tc_buffer_start(&line, NULL);
		tc_diag_print(tc_diags_at(diags, i), &line);
		printf("%s", line.at ? line.at : "");
		tc_buffer_free(&line);
	}
}

static inline tc_status kit_library(tc_arena *scratch, tc_arena *book, tc_diags *diags, const tc_library **library)
{
	const tc_collection *collection;
	tc_rulebook_file files[KIT_FILES];
	for (size_t i = 0; i < KIT_FILES; i++)
		files[i] =
		    (tc_rulebook_file){.name = kit_names[i], .bytes = kit_texts[i], .length = strlen(kit_texts[i])};
	const tc_status status = tc_collect(scratch, files, KIT_FILES, diags, &collection);
	return status == TC_OK ? tc_library_build(book, collection, diags, library) : status;
}

static inline int kit_setup(void **state)
{
	static kit k;
	memset(&k, 0, sizeof k);
	k.book = tc_arena_new(NULL, 0);
	tc_arena *scratch = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(scratch);
	const tc_status status = kit_library(scratch, k.book, diags, &k.library);
	kit_show(diags);
	tc_arena_free(scratch);
	if (status != TC_OK)
		return -1;
	k.finder = tc_finder_new(k.library, NULL);
	k.arena = tc_arena_new(NULL, 0);
	*state = &k;
	return k.finder && k.arena ? 0 : -1;
}

static inline int kit_teardown(void **state)
{
	kit *k = *state;
	tc_finder_free(k->finder);
	tc_arena_free(k->arena);
	tc_arena_free(k->book);
	return 0;
}

/* Reads a recipe; what came out stays in the kit until the next one. */
static inline void kit_read_as(kit *k, const char *text, bool short_form)
{
	tc_arena_reset(k->arena);
	k->diags = tc_diags_new(k->arena);
	k->recipe = NULL;
	k->model = NULL;
	tc_source *source;
	const tc_document *documents;
	size_t count;
	assert_int_equal(tc_source_new(k->arena, k->name ? k->name : "r.yaml", text, strlen(text), k->diags, &source), TC_OK);
	k->status = tc_yaml_read(k->arena, source, k->diags, &documents, &count);
	if (k->status != TC_OK)
		return;
	assert_int_equal(count, 1);
	const tc_rule_names names = {.find = kit_rule};
	const tc_reader reader = {.read = kit_file, .user = k};
	k->status = tc_recipe_read(k->arena, k->library, k->finder, &names, &reader, source, documents[0].root,
	    short_form, k->diags, &k->recipe);
	tc_diags_sort(k->diags);
}

static inline void kit_read(kit *k, const char *text)
{
	kit_read_as(k, text, true);
}

/* A recipe that must be good, and its model; coats that say no pass are taken as light. */
static inline const tc_model *kit_model(kit *k, const char *text)
{
	kit_read(k, text);
	if (k->status != TC_OK)
		kit_show(k->diags);
	assert_int_equal(k->status, TC_OK);
	k->model = tc_model_build(k->arena, k->recipe, k->library, TC_PASS_LIGHT);
	assert_non_null(k->model);
	return k->model;
}

/* The steps of a recipe for one part of polystyrene. */
static inline const tc_model *kit_stack(kit *k, const char *steps)
{
	static char text[8192];
	snprintf(text, sizeof text, "on: polystyrene\nstack:\n%s", steps);
	return kit_model(k, text);
}

/* The recipe must be refused with exactly these lines. */
static inline void kit_refuses_as(kit *k, const char *text, bool short_form, const char *lines)
{
	tc_buffer all;
	tc_buffer_start(&all, NULL);
	kit_read_as(k, text, short_form);
	for (size_t i = 0; i < tc_diags_count(k->diags); i++)
		tc_diag_print(tc_diags_at(k->diags, i), &all);
	assert_string_equal(all.at ? all.at : "", lines);
	assert_int_equal(k->status, TC_BAD);
	assert_null(k->recipe);
	tc_buffer_free(&all);
}

static inline void kit_refuses(kit *k, const char *text, const char *lines)
{
	kit_refuses_as(k, text, true, lines);
}

/* --- asking the model -------------------------------------------------------------------------------------------- */

/* What is exposed, as `polystyrene, putty!`: a spot bears a `!`. */
static inline const char *kit_surface(tc_surface s)
{
	static char text[1024];
	text[0] = 0;
	for (uint32_t i = 0; i < s.count; i++) {
		const size_t n = strlen(text);
		snprintf(text + n, sizeof text - n, "%s%s%s", i ? ", " : "", s.at[i].product->label,
		    s.at[i].whole ? "" : "!");
	}
	return text;
}

/* The materials that a step's coat meets: `direct grey primer, through 6.0 µm polystyrene`. */
static inline const char *kit_contacts(const tc_part_step *step)
{
	static char text[1024];
	text[0] = 0;
	for (uint32_t i = 0; i < step->contacts; i++) {
		const tc_contact *c = &step->contact[i];
		const size_t n = strlen(text);
		if (c->direct)
			snprintf(text + n, sizeof text - n, "%s%s", i ? ", " : "", c->under->product->label);
		else
			snprintf(text + n, sizeof text - n, "%s%s through %.1f µm of %s", i ? ", " : "",
			    c->under->product->label, c->film_between * 1e6, c->between->product->label);
	}
	return text;
}

static inline uint64_t kit_word(const kit *k, const char *vocabulary, const char *word)
{
	const tc_word_list *list = tc_library_words(k->library, tc_text_of(vocabulary));
	assert_non_null(list);
	const uint32_t w = tc_word_find(list, tc_text_of(word));
	assert_int_not_equal(w, TC_NONE);
	return (uint64_t)1 << w;
}

static inline bool kit_near(double value, double expected)
{
	return fabs(value - expected) <= 1e-9 * fmax(fabs(expected), 1e-9);
}
#define assert_near(value, expected)                                                                                   \
	do {                                                                                                           \
		if (!kit_near((value), (expected)))                                                                    \
			fail_msg("%s is %.12g, not %.12g", #value, (double)(value), (double)(expected));               \
	} while (0)

#endif
