/* What a film between a coat and what lies below lets through: thin films in proportion, closed ones by what softens them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "bench_of.h"

/* A rule that tells the share. */
static const char teller[] =
    "rules:\n"
    "  tells:\n    about: tells\n    asks: contact\n    when: under.is_substrate and known let_through\n    verdict: note\n"
    "    says: \"{let_through}\"\n    from: practice\n"
    "    shown_by:\n      breaks: [{on: polystyrene, stack: [{coat: waterborne-acrylic, pass: light}]}]\n"
    "      holds: [{on: polystyrene, stack: [{wait: 1 h}]}]\n";

/* 40 µm wet of 25 % leave 10 µm; its sphere is so small that water does not soften it */
#define SHELF                                                                                                          \
	"shelf:\n"                                                                                                     \
	"  half: {family: waterborne-acrylic, solids: 25 %, closes_at: 20 µm, r0: 0.5 MPa½}\n"                         \
	"  other: {family: waterborne-acrylic, solids: 25 %, closes_at: 40 µm, r0: 0.5 MPa½}\n"                        \
	"  whole: {family: waterborne-acrylic, solids: 25 %, closes_at: 5 µm, r0: 0.5 MPa½}\n"

typedef struct bench {
	files files;
	tc_rulebook *rulebook;
	tc_worker *worker;
	tc_arena *arena;
} bench;

static int set_up(void **state)
{
	static bench b;
	b.arena = tc_arena_new(NULL, 0);
	b.files = default_files();
	tc_diags *diags = tc_diags_new(b.arena);
	tc_rulebook_file all[FILES_MAX + 1];
	memcpy(all, b.files.at, b.files.count * sizeof *all);
	all[b.files.count] = (tc_rulebook_file){.name = "teller.yaml", .bytes = teller, .length = sizeof teller - 1};
	if (tc_rulebook_load(NULL, all, b.files.count + 1, false, diags, &b.rulebook) != TC_OK) {
		show(diags);
		return 1;
	}
	b.worker = tc_worker_new(b.rulebook, NULL);
	*state = &b;
	return b.worker ? 0 : 1;
}

static int tear_down(void **state)
{
	bench *b = *state;
	tc_worker_free(b->worker);
	tc_rulebook_free(b->rulebook);
	tc_arena_free(b->arena);
	free_files(&b->files);
	return 0;
}

/* The share that the last coat of a plan finds open toward the part. */
static const char *share(bench *b, const char *stack)
{
	char text[2048];
	const tc_judgement *j = NULL;
	tc_diags *diags = tc_diags_new(b->arena);
	const char *found = "none";

	snprintf(text, sizeof text, "recipe: t\n%son: polystyrene\nstack:\n%s", SHELF, stack);
	if (judge_text(b->worker, b->arena, b->rulebook, "r.yaml", text, strlen(text), false, &j, diags) != TC_OK)
		show(diags);
	assert_non_null(j);
	for (uint32_t i = 0; i < j->findings; i++)
		if (strcmp(j->finding[i].rule->id, "tells") == 0)
			found = j->finding[i].message;
	return found;
}

#define LAST "  - {wait: 1 h}\n  - {coat: waterborne-acrylic, role: colour, wet_film: 20 µm}\n"

static void nothing_between_lets_all_through(void **state)
{
	assert_string_equal(share(*state, LAST), "100 %");
}

static void a_thin_film_is_open_in_proportion(void **state)
{
	/* 10 µm of 20 µm, own arithmetic */
	assert_string_equal(share(*state, "  - {coat: half, role: colour, wet_film: 40 µm}\n" LAST), "50 %");
}

static void thin_films_cover_each_for_itself(void **state)
{
	/* (1 - 10/20) (1 - 10/40), own arithmetic */
	assert_string_equal(share(*state,
	                        "  - {coat: half, role: colour, wet_film: 40 µm}\n  - {wait: 1 h}\n"
	                        "  - {coat: other, role: colour, wet_film: 40 µm}\n" LAST),
	    "37.5 %");
}

static void a_closed_film_that_nothing_softens_lets_nothing_through(void **state)
{
	assert_string_equal(share(*state, "  - {coat: whole, role: colour, wet_film: 40 µm}\n" LAST), "0 %");
}

static void what_is_sanded_away_is_open_again(void **state)
{
	assert_string_equal(
	    share(*state, "  - {coat: whole, role: colour, wet_film: 40 µm}\n  - {wait: 2 d}\n  - {sand: P240}\n" LAST), "100 %");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(nothing_between_lets_all_through),
	    cmocka_unit_test(a_thin_film_is_open_in_proportion),
	    cmocka_unit_test(thin_films_cover_each_for_itself),
	    cmocka_unit_test(a_closed_film_that_nothing_softens_lets_nothing_through),
	    cmocka_unit_test(what_is_sanded_away_is_open_again),
	};
	return cmocka_run_group_tests(tests, set_up, tear_down);
}
