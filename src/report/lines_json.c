/* JSON lines: an object on each line, so that a run can be read while it goes on. The first says what the lines are, the last that
 * all is said; those between are recipes, and messages about files. */
#include "report/json_parts.h"
#include "report/private.h"

#define FORMAT "tiecoat-check-lines"
#define VERSION 1u

/* The object with `kind` before its other members, and the line's end. */
static void write_line(tc_report *report, tc_json *json, const char *kind, json_t *object)
{
	tc_buffer_print(report->out, "{\"kind\":\"%s\",", kind);
	tc_json_write_line(json, object, true, report->out);
	tc_buffer_puts(report->out, "}\n");
	json_decref(object);
	report->failed = report->failed || json->failed;
}

void tc_lines_json_begin(tc_report *report)
{
	tc_json json = {false};
	json_t *object = tc_json_object(&json);
	tc_json_put(&json, object, "format", tc_json_text(&json, FORMAT));
	tc_json_put(&json, object, "version", tc_json_count(&json, VERSION));
	tc_json_put(&json, object, "rulebook", tc_json_rulebook(&json, report->rulebook));
	write_line(report, &json, "run", object);
}

void tc_lines_json_recipe(tc_report *report, const char *file, const tc_judgement *judgement)
{
	tc_json json = {false};
	write_line(report, &json, "recipe", tc_json_judgement(&json, file, judgement));
}

void tc_lines_json_unreadable(tc_report *report, const char *file, const tc_diags *diags)
{
	for (size_t i = 0; i < tc_diags_count(diags); i++) {
		const tc_diag *diag = tc_diags_at(diags, i);
		tc_json json = {false};
		write_line(report, &json, diag->severity == TC_ERROR ? "unreadable" : "remark",
		    tc_json_diag(&json, file, diag));
	}
}

void tc_lines_json_end(tc_report *report, bool complete)
{
	tc_json json = {false};
	json_t *object = tc_json_object(&json);
	tc_json_put(&json, object, "complete", json_boolean(complete));
	tc_json_put(&json, object, "summary", tc_json_total(&json, report));
	write_line(report, &json, "end", object);
}
