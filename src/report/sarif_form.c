/* The SARIF log of a run, written a recipe at a time. Results come as they are found; what the run was like, and the cautions,
 * stand at the end. */
#include "report/private.h"
#include "report/sarif.h"

#define SCHEMA "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
#define DEPTH 5 /* blanks before a result */

static void write_member(tc_report *report, tc_json *json, const char *lead, json_t *value)
{
	tc_buffer_puts(report->out, lead);
	tc_json_write(json, value, 3, report->out);
	json_decref(value);
	report->failed = report->failed || json->failed;
}

static json_t *bases(tc_json *json)
{
	json_t *object = tc_json_object(json), *root = tc_json_object(json);
	tc_json_put(json, root, "description", tc_sarif_message(json, "the folder in which the program was run"));
	tc_json_put(json, object, "%SRCROOT%", root);
	return object;
}

void tc_sarif_begin(tc_report *report)
{
	tc_json json = {false};
	tc_buffer_puts(report->out, "{\n \"$schema\": \"" SCHEMA "\",\n \"version\": \"2.1.0\",\n \"runs\": [\n  {");
	write_member(report, &json, "\n   \"tool\": ", tc_sarif_tool(&json, report->rulebook));
	tc_buffer_puts(report->out, ",\n   \"columnKind\": \"unicodeCodePoints\",\n   \"defaultEncoding\": \"UTF-8\"");
	write_member(report, &json, ",\n   \"originalUriBaseIds\": ", bases(&json));
	tc_buffer_puts(report->out, ",\n   \"results\": [");
}

static void add_result(tc_report *report, tc_json *json, json_t *result)
{
	tc_lead(report, ",");
	tc_buffer_puts(report->out, "\n    ");
	tc_led(report);
	tc_json_write(json, result, DEPTH - 1, report->out);
	json_decref(result);
}

static void add_later(tc_json *json, tc_buffer *list, json_t *value)
{
	tc_buffer_puts(list, ",\n      ");
	tc_json_write(json, value, DEPTH + 1, list);
	json_decref(value);
}

static void add_artifact(tc_report *report, tc_json *json, const char *path)
{
	json_t *object = tc_json_object(json), *roles = tc_json_array(json);
	tc_json_put(json, object, "location", tc_sarif_artifact(json, path));
	tc_json_push(json, roles, tc_json_text(json, "analysisTarget"));
	tc_json_put(json, object, "roles", roles);
	tc_json_put(json, object, "mimeType", tc_json_text(json, "application/yaml"));
	tc_buffer_puts(&report->now->remarks, ",\n    ");
	tc_json_write(json, object, DEPTH - 1, &report->now->remarks);
	json_decref(object);
}

/* A file is told once, whether recipes of it were judged or messages came of it. */
static void note_file(tc_report *report, tc_json *json, const char *path)
{
	if (report->last_file == path)
		return;
	report->last_file = path;
	add_artifact(report, json, path);
}

static bool weighs(const tc_judgement *judgement, tc_verdict at_least)
{
	for (uint32_t i = 0; i < judgement->findings; i++)
		if (!judgement->finding[i].accept && judgement->finding[i].weight >= at_least)
			return true;
	return judgement->unused > 0 && at_least <= TC_V_WARNING;
}

void tc_sarif_recipe(tc_report *report, const char *path, const tc_judgement *judgement)
{
	tc_json json = {false};
	tc_buffer *later = &report->now->unreadable;
	note_file(report, &json, path);
	report->now->weighs = report->now->weighs || weighs(judgement, report->options.at_least);
	if (judgement->bounded)
		add_later(&json, later, tc_sarif_bounded(&json, path, judgement->model->recipe));
	for (uint32_t i = 0; i < judgement->findings; i++)
		add_result(
		    report, &json, tc_sarif_result(&json, report->arena, path, judgement, &judgement->finding[i]));
	for (uint32_t i = 0; i < judgement->unused; i++)
		add_result(report, &json, tc_sarif_unused(&json, path, judgement, judgement->unused_accept[i]));
	for (uint32_t i = 0; i < judgement->cautions; i++)
		add_later(&json, later, tc_sarif_caution(&json, path, judgement, &judgement->caution[i]));
	report->failed = report->failed || json.failed;
}

void tc_sarif_unreadable(tc_report *report, const char *path, const tc_diags *diags)
{
	tc_json json = {false};
	if (path)
		note_file(report, &json, path);
	for (size_t i = 0; i < tc_diags_count(diags); i++)
		add_later(&json, &report->now->unreadable, tc_sarif_diag(&json, path, tc_diags_at(diags, i)));
	report->failed = report->failed || json.failed;
}

static void write_list(tc_report *report, const char *lead, const tc_buffer *list, const char *end)
{
	tc_buffer_puts(report->out, lead);
	if (list->length)
		tc_buffer_add(report->out, (tc_text){list->at + 1, list->length - 1});
	tc_buffer_puts(report->out, list->length ? end : "]");
}

void tc_sarif_end(tc_report *report, bool complete)
{
	static const char *const meanings[] = {"nothing of the weight that was asked for was found",
	    "something was found", "not all could be read, or the run was cut short"};
	const bool whole = complete && report->sum->unread == 0;
	const unsigned code = !whole ? 2 : report->sum->weighs ? 1 : 0;
	tc_buffer_puts(report->out, report->sum->led ? "\n   ]" : "]");
	write_list(report, ",\n   \"artifacts\": [", &report->sum->remarks, "\n   ]");
	tc_buffer_print(report->out,
	    ",\n   \"invocations\": [\n    {\n     \"executionSuccessful\": %s,\n     \"exitCode\": %u,\n"
	    "     \"exitCodeDescription\": \"%s\"",
	    whole ? "true" : "false", code, meanings[code]);
	write_list(report, ",\n     \"toolExecutionNotifications\": [", &report->sum->unreadable, "\n     ]");
	tc_buffer_puts(report->out, "\n    }\n   ]\n  }\n ]\n}\n");
}
