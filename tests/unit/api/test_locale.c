/* A program may have set any locale: what the library reads and writes is the same. A locale with a comma for the point and with
 * letters beyond ASCII is made for the test, where localedef and its sources are here (package locales). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <locale.h>
#include <unistd.h>
#include <cmocka.h>

#include "api/tiecoat.h"
#include "desk.h"

static char *json_of(const char *path, const char *name)
{
	desk d = desk_open();
	size_t length = 0;
	char *text = slurp(path, &length);
	tiecoat_result *result = NULL;
	const char *json = NULL;
	assert_int_equal(tiecoat_check(d.worker, name, text, length, NULL, &result), TIECOAT_OK);
	assert_int_equal(tiecoat_result_json(result, &json, NULL), TIECOAT_OK);
	char *copy = strdup(json);
	assert_non_null(copy);
	tiecoat_result_free(result);
	desk_close(&d);
	free(text);
	return copy;
}

/* 14.25 in its digits, as this locale writes it. */
static bool has_comma(void)
{
	char text[16];
	snprintf(text, sizeof text, "%.2f", 14.25);
	return strcmp(text, "14,25") == 0;
}

static bool enter_locale(char *folder)
{
	char command[256];
	if (!mkdtemp(folder))
		return false;
	snprintf(command, sizeof command, "localedef -i de_DE -f ISO-8859-1 %s/de_DE >/dev/null 2>&1", folder);
	if (system(command) < 0 || setenv("LOCPATH", folder, 1) != 0)
		return false;
	return setlocale(LC_ALL, "de_DE") && has_comma();
}

static void the_same_in_every_locale(void **state)
{
	/* a byte that is a letter in that locale and no UTF-8 */
	const char *const paths[] = {"examples/ferry.yaml", "examples/lifeboat-day-old-enamel.yaml"},
	                  *name = "bench\xe9/plan.yaml";
	char folder[] = "/tmp/tiecoat-locale.XXXXXX", command[64];
	char *before[2], *after[2];
	(void)state;
	for (int i = 0; i < 2; i++)
		before[i] = json_of(paths[i], name);
	assert_non_null(strstr(before[1], "\"number\": 0.")); /* there is a figure with a point in it */
	const bool entered = enter_locale(folder);
	for (int i = 0; i < 2; i++)
		after[i] = json_of(paths[i], name);
	setlocale(LC_ALL, "C");
	snprintf(command, sizeof command, "rm -rf %s", folder);
	assert_int_equal(system(command), 0);
	for (int i = 0; i < 2; i++) {
		assert_string_equal(before[i], after[i]);
		assert_non_null(strstr(before[i], "bench%E9"));
		free(before[i]);
		free(after[i]);
	}
	if (!entered) {
		printf("summary: not tried, there is no such locale here\n");
		skip();
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(the_same_in_every_locale)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
