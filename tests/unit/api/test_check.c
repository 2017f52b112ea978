/* The library from outside: what tiecoat.h promises of rulebooks, workers and results. The plans are those of
 * examples/, and what is wrong with them is what each says of itself. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <pthread.h>
#include <cmocka.h>

#include "api/tiecoat.h"
#include "desk.h"

static void the_built_in_rulebook(void **state)
{
	tiecoat_rulebook *rulebook = NULL;
	(void)state;
	assert_int_equal(tiecoat_rulebook_builtin(NULL, &rulebook), TIECOAT_OK);
	assert_int_equal(strlen(tiecoat_rulebook_stamp(rulebook)), 16);
	assert_int_equal(strspn(tiecoat_rulebook_stamp(rulebook), "0123456789abcdef"), 16);
	assert_null(tiecoat_rulebook_message(rulebook, tiecoat_rulebook_messages(rulebook)));
	tiecoat_rulebook_free(rulebook);
	tiecoat_rulebook_free(NULL);
}

static const tiecoat_finding *find(const tiecoat_recipe *recipe, const char *rule)
{
	for (size_t i = 0; i < recipe->findings; i++)
		if (strcmp(recipe->finding[i]->rule, rule) == 0)
			return recipe->finding[i];
	return NULL;
}

static void a_plan_with_a_fault(void **state)
{
	const char *path = "examples/lifeboat-day-old-enamel.yaml";
	desk d = desk_open();
	tiecoat_result *result = desk_check(&d, path);
	(void)state;
	assert_int_equal(tiecoat_result_outcome(result, TIECOAT_ERROR), TIECOAT_FOUND);
	assert_int_equal(tiecoat_result_recipes(result), 1);
	assert_null(tiecoat_result_recipe(result, 1));
	const tiecoat_recipe *recipe = tiecoat_result_recipe(result, 0);
	assert_true(recipe->judged);
	assert_int_equal(recipe->errors, 1);
	const tiecoat_finding *finding = find(recipe, "lifts-half-cured-enamel");
	assert_non_null(finding);
	assert_int_equal(finding->verdict, TIECOAT_ERROR);
	assert_int_equal(finding->weight, TIECOAT_ERROR);
	assert_string_equal(finding->file, path);
	assert_true(starts_at_line(path, finding->line, "lamp black"));
	assert_true(finding->reasons > 0 && finding->sources > 0 && finding->remedies > 0);
	assert_null(finding->acceptance);
	for (size_t i = 0; i < finding->reasons; i++)
		assert_true(finding->reason[i]->fact && finding->reason[i]->text);
	tiecoat_result_free(result);
	desk_close(&d);
}

/* docs/design.md: cautions cannot be left out. Every recipe has at least those of the whole plan. */
static void cautions_are_always_there(void **state)
{
	const char *const paths[] = {"examples/pilot-cutter.yaml", "examples/dredger.yaml", "examples/ferry.yaml"};
	desk d = desk_open();
	(void)state;
	for (size_t p = 0; p < sizeof paths / sizeof *paths; p++) {
		tiecoat_result *result = desk_check(&d, paths[p]);
		const tiecoat_recipe *recipe = tiecoat_result_recipe(result, 0);
		size_t whole = 0;
		for (size_t i = 0; i < recipe->cautions; i++) {
			assert_true(strlen(recipe->caution[i]->text) > 0);
			whole += recipe->caution[i]->steps == 0;
		}
		assert_true(whole > 0);
		assert_int_equal(tiecoat_result_outcome(result, TIECOAT_WARNING), TIECOAT_NOTHING_FOUND);
		tiecoat_result_free(result);
	}
	desk_close(&d);
}

/* --- ownership ---------------------------------------------------------------------------------------------------- */

/* Everything that came in is spoilt and freed, and the worker and the rulebook are let go of, before the result is
 * read. */
static void a_result_stands_alone(void **state)
{
	size_t length = 0;
	char *text = slurp("examples/lifeboat-day-old-enamel.yaml", &length), name[] = "plan.yaml";
	desk d = desk_open();
	tiecoat_result *result = NULL, *other = NULL;
	const char *json, *again;
	size_t bytes;
	(void)state;
	assert_int_equal(tiecoat_check(d.worker, name, text, length, NULL, &result), TIECOAT_OK);
	assert_int_equal(tiecoat_check(d.worker, "other.yaml", "recipe: [", 9, NULL, &other), TIECOAT_BAD);
	memset(text, '#', length);
	memset(name, '#', sizeof name - 1);
	free(text);
	desk_close(&d);
	const tiecoat_recipe *recipe = tiecoat_result_recipe(result, 0);
	assert_string_equal(recipe->finding[0]->file, "plan.yaml");
	assert_non_null(strstr(recipe->finding[0]->message, "lamp black"));
	assert_int_equal(tiecoat_result_json(result, &json, &bytes), TIECOAT_OK);
	assert_int_equal(strlen(json), bytes);
	assert_non_null(strstr(json, recipe->finding[0]->rule));
	assert_non_null(strstr(json, "\"file\": \"plan.yaml\""));
	assert_int_equal(tiecoat_result_json(result, &again, NULL), TIECOAT_OK);
	assert_ptr_equal(json, again);
	tiecoat_result_free(result);
	assert_int_equal(tiecoat_result_messages(other), 1);
	tiecoat_result_free(other);
	tiecoat_result_free(NULL);
	tiecoat_worker_free(NULL);
}

/* The edits of a remedy are carried out on the text: what it was for is gone. */
static void a_remedy_carried_out(void **state)
{
	const char *path = "examples/lifeboat-day-old-enamel.yaml", *rule = "lifts-half-cured-enamel";
	desk d = desk_open();
	size_t length = 0;
	char *text = slurp(path, &length);
	tiecoat_result *result = desk_check(&d, path), *mended = NULL;
	const tiecoat_finding *finding = find(tiecoat_result_recipe(result, 0), rule);
	(void)state;
	assert_non_null(finding);
	const tiecoat_remedy *remedy = finding->remedy[0];
	assert_int_equal(remedy->edits, 1);
	assert_true(remedy->seconds > 0);
	char *changed = carry_out(text, length, remedy->edit[0]);
	tiecoat_check(d.worker, path, changed, strlen(changed), NULL, &mended);
	assert_int_equal(tiecoat_result_messages(mended), 0);
	assert_null(find(tiecoat_result_recipe(mended, 0), rule));
	tiecoat_result_free(mended);
	tiecoat_result_free(result);
	free(changed);
	free(text);
	desk_close(&d);
}

/* --- what cannot be read ------------------------------------------------------------------------------------------ */

static void check_unread(const char *text, size_t length, const char *id, uint32_t line)
{
	desk d = desk_open();
	tiecoat_result *result = NULL;
	const char *json;
	assert_int_equal(tiecoat_check(d.worker, "bad.yaml", text, length, NULL, &result), TIECOAT_BAD);
	assert_non_null(result);
	assert_int_equal(tiecoat_result_outcome(result, TIECOAT_ERROR), TIECOAT_NOT_READ);
	const tiecoat_message *message = tiecoat_result_message(result, 0);
	assert_non_null(message);
	assert_string_equal(message->id, id);
	assert_string_equal(message->file, "bad.yaml");
	assert_int_equal(message->severity, TIECOAT_MESSAGE_ERROR);
	assert_int_equal(message->line, line);
	assert_int_equal(tiecoat_result_json(result, &json, NULL), TIECOAT_OK);
	assert_non_null(strstr(json, message->id));
	tiecoat_result_free(result);
	desk_close(&d);
}

static void what_cannot_be_read(void **state)
{
	const size_t large = ((size_t)8 << 20) + 2; /* base/limits.h: 8 MiB at most */
	char *many = malloc(large);
	(void)state;
	assert_non_null(many);
	memset(many, '#', large);
	check_unread(NULL, 0, "no-recipe", 0);
	check_unread("- a list", 8, "no-recipe", 0);
	check_unread("recipe: a\nparts: {\n", 19, "yaml-syntax", 3);
	check_unread("recipe: \xff", 9, "encoding", 1);
	check_unread("recipe: \0", 9, "control-character", 1);
	check_unread(many, large, "too-large", 0);
	free(many);
}

/* --- a shelf in another file -------------------------------------------------------------------------------------- */

typedef struct shelf {
	char text[256];
	const char *why;
	int calls;
} shelf;

static const char *give_shelf(void *user, const char *beside, const char *name, size_t *length, const char **reason)
{
	shelf *s = user;
	s->calls++;
	assert_string_equal(beside, "bench/plan.yaml");
	assert_string_equal(name, "tins.yaml");
	if (s->why) {
		*reason = s->why;
		return NULL;
	}
	*length = strlen(s->text);
	return s->text;
}

static const char *const plan_with_shelf = "recipe: Skiff\nscale: 1:48\nshelf: tins.yaml\n"
                                           "parts:\n  hull: {substrate: polystyrene}\n"
                                           "stack:\n  - coat: bench blue\n    pass: light\n";

static void a_shelf_beside(void **state)
{
	desk d = desk_open();
	shelf s = {.text = "bench blue: {family: acrylic-lacquer}\n"};
	const tiecoat_beside beside = {give_shelf, &s};
	tiecoat_result *result = NULL;
	const size_t length = strlen(plan_with_shelf);
	(void)state;
	tiecoat_status status = tiecoat_check(d.worker, "bench/plan.yaml", plan_with_shelf, length, &beside, &result);
	show_messages(result);
	assert_int_equal(status, TIECOAT_OK);
	assert_int_equal(s.calls, 1);
	memset(s.text, '#', sizeof s.text - 1);
	assert_string_equal(tiecoat_result_recipe(result, 0)->title, "Skiff");
	tiecoat_result_free(result);
	s.why = "the tins are out on loan";
	status = tiecoat_check(d.worker, "bench/plan.yaml", plan_with_shelf, length, &beside, &result);
	assert_int_equal(status, TIECOAT_BAD);
	assert_non_null(strstr(tiecoat_result_message(result, 0)->text, s.why));
	assert_int_equal(tiecoat_result_message(result, 0)->line, 3);
	tiecoat_result_free(result);
	status = tiecoat_check(d.worker, "bench/plan.yaml", plan_with_shelf, length, NULL, &result);
	assert_int_equal(status, TIECOAT_BAD);
	tiecoat_result_free(result);
	desk_close(&d);
}

/* --- threads ------------------------------------------------------------------------------------------------------ */

typedef struct hand {
	tiecoat_rulebook *rulebook;
	const char *path, *expected;
	int good;
} hand;

static void *check_over_and_over(void *user)
{
	hand *h = user;
	tiecoat_worker *worker = NULL;
	size_t length = 0;
	char *text = slurp(h->path, &length);
	if (!text || tiecoat_worker_new(h->rulebook, &worker) != TIECOAT_OK)
		return NULL;
	for (int i = 0; i < 5; i++) {
		tiecoat_result *result = NULL;
		const char *json = NULL;
		tiecoat_check(worker, h->path, text, length, NULL, &result);
		if (tiecoat_result_json(result, &json, NULL) == TIECOAT_OK && strcmp(json, h->expected) == 0)
			h->good++;
		tiecoat_result_free(result);
	}
	tiecoat_worker_free(worker);
	free(text);
	return NULL;
}

/* One rulebook, a worker for each thread: the same bytes as alone, and whoever comes last lets go of the rulebook. */
static void threads_share_a_rulebook(void **state)
{
	const char *const paths[] = {
	    "examples/ferry.yaml", "examples/dredger.yaml", "examples/steam-pinnace.yaml", "examples/ferry.yaml"};
	enum { HANDS = 4 };
	desk d = desk_open();
	tiecoat_result *alone[HANDS];
	hand hands[HANDS];
	pthread_t threads[HANDS];
	(void)state;
	for (int i = 0; i < HANDS; i++) {
		alone[i] = desk_check(&d, paths[i]);
		hands[i] = (hand){.rulebook = d.rulebook, .path = paths[i]};
		assert_int_equal(tiecoat_result_json(alone[i], &hands[i].expected, NULL), TIECOAT_OK);
	}
	for (int i = 0; i < HANDS; i++)
		assert_int_equal(pthread_create(&threads[i], NULL, check_over_and_over, &hands[i]), 0);
	for (int i = 0; i < HANDS; i++) {
		assert_int_equal(pthread_join(threads[i], NULL), 0);
		assert_int_equal(hands[i].good, 5);
	}
	desk_close(&d);
	for (int i = 0; i < HANDS; i++)
		tiecoat_result_free(alone[i]);
}

/* --- misuse ------------------------------------------------------------------------------------------------------- */

static void what_must_not_be_null(void **state)
{
	desk d = desk_open();
	tiecoat_worker *worker = d.worker;
	tiecoat_result *result = NULL;
	const tiecoat_beside nobody = {NULL, NULL};
	const tiecoat_memory nothing = {NULL, NULL};
	tiecoat_rulebook *rulebook = NULL;
	const char *json;
	(void)state;
	assert_int_equal(tiecoat_rulebook_builtin(NULL, NULL), TIECOAT_MISUSE);
	assert_int_equal(tiecoat_rulebook_builtin(&nothing, &rulebook), TIECOAT_MISUSE);
	assert_int_equal(tiecoat_rulebook_load(NULL, NULL, 1, true, &rulebook), TIECOAT_MISUSE);
	assert_int_equal(tiecoat_worker_new(NULL, &worker), TIECOAT_MISUSE);
	assert_null(worker);
	assert_int_equal(tiecoat_worker_new(d.rulebook, NULL), TIECOAT_MISUSE);
	assert_int_equal(tiecoat_check(NULL, "a", "b", 1, NULL, &result), TIECOAT_MISUSE);
	assert_int_equal(tiecoat_check(d.worker, NULL, "b", 1, NULL, &result), TIECOAT_MISUSE);
	assert_int_equal(tiecoat_check(d.worker, "a", NULL, 1, NULL, &result), TIECOAT_MISUSE);
	assert_int_equal(tiecoat_check(d.worker, "a", "b", 1, &nobody, &result), TIECOAT_MISUSE);
	assert_int_equal(tiecoat_check(d.worker, "a", "b", 1, NULL, NULL), TIECOAT_MISUSE);
	assert_null(result);
	assert_int_equal(tiecoat_result_json(NULL, &json, NULL), TIECOAT_MISUSE);
	assert_int_equal(tiecoat_result_outcome(NULL, TIECOAT_NOTE), TIECOAT_NOT_READ);
	assert_int_equal(tiecoat_result_recipes(NULL), 0);
	assert_null(tiecoat_result_message(NULL, 0));
	assert_string_equal(tiecoat_rulebook_stamp(NULL), "");
	desk_close(&d);
}

static void words(void **state)
{
	(void)state;
	for (int i = 0; i <= 4; i++)
		assert_true(strlen(tiecoat_status_text((tiecoat_status)i)) > 3);
	assert_string_equal(tiecoat_verdict_name(TIECOAT_UNDECIDED), "undecided");
	assert_null(tiecoat_verdict_name((tiecoat_verdict)4));
	char header[32];
	snprintf(
	    header, sizeof header, "%d.%d.%d", TIECOAT_VERSION_MAJOR, TIECOAT_VERSION_MINOR, TIECOAT_VERSION_PATCH);
	assert_string_equal(tiecoat_version(), header);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(the_built_in_rulebook),
	    cmocka_unit_test(a_plan_with_a_fault),
	    cmocka_unit_test(cautions_are_always_there),
	    cmocka_unit_test(a_result_stands_alone),
	    cmocka_unit_test(a_remedy_carried_out),
	    cmocka_unit_test(what_cannot_be_read),
	    cmocka_unit_test(a_shelf_beside),
	    cmocka_unit_test(threads_share_a_rulebook),
	    cmocka_unit_test(what_must_not_be_null),
	    cmocka_unit_test(words),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
