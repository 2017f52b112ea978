/* Rulebooks from bytes, and one liquid on one solid. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <glob.h>
#include <cmocka.h>

#include "api/tiecoat.h"
#include "desk.h"

static const char *const fault = "examples/lifeboat-day-old-enamel.yaml";

static uint32_t errors_with(tiecoat_rulebook *rulebook)
{
	desk d = {.rulebook = rulebook};
	assert_int_equal(tiecoat_worker_new(rulebook, &d.worker), TIECOAT_OK);
	tiecoat_result *result = desk_check(&d, fault);
	const uint32_t errors = tiecoat_result_recipe(result, 0)->errors;
	tiecoat_result_free(result);
	tiecoat_worker_free(d.worker);
	return errors;
}

static tiecoat_status lay_over(const char *text, tiecoat_rulebook **rulebook)
{
	char name[] = "house.yaml", *bytes = strdup(text);
	const tiecoat_file file = {.name = name, .bytes = bytes, .length = strlen(text)};
	assert_non_null(bytes);
	const tiecoat_status status = tiecoat_rulebook_load(NULL, &file, 1, true, rulebook);
	memset(bytes, '#', file.length);
	memset(name, '#', sizeof name - 1);
	free(bytes);
	return status;
}

static void a_rulebook_laid_over(void **state)
{
	tiecoat_rulebook *builtin = NULL, *mine = NULL;
	(void)state;
	assert_int_equal(tiecoat_rulebook_builtin(NULL, &builtin), TIECOAT_OK);
	assert_int_equal(
	    lay_over("amend:\n  lifts-half-cured-enamel: {verdict: warning, because: a test}\n", &mine), TIECOAT_OK);
	assert_string_not_equal(tiecoat_rulebook_stamp(builtin), tiecoat_rulebook_stamp(mine));
	assert_int_equal(errors_with(builtin), 1);
	assert_int_equal(errors_with(mine), 0);
	tiecoat_rulebook_free(mine);
	tiecoat_rulebook_free(builtin);
}

static void a_rulebook_with_errors(void **state)
{
	tiecoat_rulebook *rulebook = NULL;
	tiecoat_worker *worker = NULL;
	(void)state;
	assert_int_equal(lay_over("\nretire:\n  no-such-rule: a test\n", &rulebook), TIECOAT_BAD);
	assert_non_null(rulebook);
	assert_int_equal(tiecoat_rulebook_messages(rulebook), 1);
	const tiecoat_message *message = tiecoat_rulebook_message(rulebook, 0);
	assert_string_equal(message->file, "house.yaml");
	assert_int_equal(message->line, 3);
	assert_int_equal(message->severity, TIECOAT_MESSAGE_ERROR);
	assert_string_equal(tiecoat_rulebook_stamp(rulebook), "");
	assert_int_equal(tiecoat_worker_new(rulebook, &worker), TIECOAT_MISUSE);
	assert_null(worker);
	tiecoat_rulebook_free(rulebook);
}

/* All files of rules/ by their own names, above nothing, are the built-in rulebook. */
static void a_rulebook_of_files_alone(void **state)
{
	glob_t found;
	tiecoat_file files[128] = {{0}};
	tiecoat_rulebook *builtin = NULL, *same = NULL, *none = NULL;
	(void)state;
	assert_int_equal(glob("rules/*/*.yaml", 0, NULL, &found), 0);
	assert_true(found.gl_pathc < 128);
	for (size_t i = 0; i < found.gl_pathc; i++) {
		files[i].name = found.gl_pathv[i];
		files[i].bytes = slurp(found.gl_pathv[i], &files[i].length);
	}
	assert_int_equal(tiecoat_rulebook_load(NULL, files, found.gl_pathc, false, &same), TIECOAT_OK);
	assert_int_equal(tiecoat_rulebook_builtin(NULL, &builtin), TIECOAT_OK);
	assert_string_equal(tiecoat_rulebook_stamp(same), tiecoat_rulebook_stamp(builtin));
	assert_int_equal(errors_with(same), 1);
	assert_int_not_equal(tiecoat_rulebook_load(NULL, NULL, 0, false, &none), TIECOAT_OK);
	tiecoat_rulebook_free(none);
	tiecoat_rulebook_free(builtin);
	tiecoat_rulebook_free(same);
	for (size_t i = 0; i < found.gl_pathc; i++)
		free((char *)files[i].bytes);
	globfree(&found);
}

/* --- bite --------------------------------------------------------------------------------------------------------- */

/* Acetone dissolves polystyrene: so handbooks of plastics say (from memory). */
static void a_bite(void **state)
{
	desk d = desk_open();
	tiecoat_bite_ask ask = TIECOAT_BITE_ASK;
	tiecoat_answer *answer = NULL;
	const char *json;
	size_t length = 0;
	(void)state;
	ask.solid = "polystyrene";
	ask.liquid = "acetone";
	assert_int_equal(tiecoat_bite(d.worker, &ask, NULL, &answer), TIECOAT_OK);
	desk_close(&d);
	assert_int_equal(tiecoat_answer_verdict(answer), TIECOAT_BITE_DISSOLVES);
	assert_string_equal(tiecoat_answer_text(answer), "dissolves");
	assert_true(tiecoat_answer_cautions(answer) > 0);
	assert_true(strlen(tiecoat_answer_caution(answer, 0)->text) > 0);
	assert_int_equal(tiecoat_answer_json(answer, &json, &length), TIECOAT_OK);
	assert_int_equal(strlen(json), length);
	assert_non_null(strstr(json, "tiecoat-bite"));
	tiecoat_answer_free(answer);
	tiecoat_answer_free(NULL);
}

static void a_bite_of_what_nobody_knows(void **state)
{
	desk d = desk_open();
	tiecoat_bite_ask ask = TIECOAT_BITE_ASK;
	tiecoat_answer *answer = NULL;
	const char *json = "";
	(void)state;
	ask.solid = "polystirene";
	ask.liquid = "acetone";
	assert_int_equal(tiecoat_bite(d.worker, &ask, NULL, &answer), TIECOAT_BAD);
	assert_int_equal(tiecoat_answer_messages(answer), 1);
	assert_string_equal(tiecoat_answer_message(answer, 0)->file, "SOLID");
	assert_non_null(strstr(tiecoat_answer_message(answer, 0)->text, "polystyrene"));
	assert_int_equal(tiecoat_answer_verdict(answer), TIECOAT_BITE_UNDECIDED);
	assert_null(tiecoat_answer_text(answer));
	assert_int_equal(tiecoat_answer_json(answer, &json, NULL), TIECOAT_BAD);
	assert_null(json);
	tiecoat_answer_free(answer);
	ask.size = 3;
	assert_int_equal(tiecoat_bite(d.worker, &ask, NULL, &answer), TIECOAT_MISUSE);
	assert_null(answer);
	desk_close(&d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(a_rulebook_laid_over),
	    cmocka_unit_test(a_rulebook_with_errors),
	    cmocka_unit_test(a_rulebook_of_files_alone),
	    cmocka_unit_test(a_bite),
	    cmocka_unit_test(a_bite_of_what_nobody_knows),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
