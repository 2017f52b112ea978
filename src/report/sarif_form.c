/* The SARIF log of a run, written a recipe at a time. Results come as they are found; what the run was like, and the cautions,
 * stand at the end. */
#include "report/private.h"
#include "report/sarif.h"

#define SCHEMA "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
#define NOTE ",\n      " /* before a notification */
#define DEPTH 5          /* blanks before a result */

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

/* For the end of the log, on a line of its own: of a large collection much is kept so. */
static void add_later(tc_json *json, tc_buffer *list, const char *lead, json_t *value)
{
	tc_buffer_puts(list, lead);
	tc_json_write_line(json, value, false, list);
	json_decref(value);
}

static void add_artifact(tc_report *report, tc_json *json, const char *path)
{
	json_t *object = tc_json_object(json), *roles = tc_json_array(json);
	tc_json_put(json, object, "location", tc_sarif_artifact(json, path));
	tc_json_push(json, roles, tc_json_text(json, "analysisTarget"));
	tc_json_put(json, object, "roles", roles);
	tc_json_put(json, object, "mimeType", tc_json_text(json, "application/yaml"));
	add_later(json, &report->now->remarks, ",\n    ", object);
}

/* A file is told once, whether recipes of it were judged or messages came of it; of the same file taken in again the report
 * knows. */
static void note_file(tc_report *report, tc_json *json, const char *path)
{
	if (report->last_file == path)
		return;
	report->last_file = path;
	add_artifact(report, json, path);
}

static void add_caution(
    tc_report *report, tc_json *json, const char *path, const tc_judgement *judgement, const tc_caution_use *use)
{
	tc_buffer *notes = &report->now->notes;
	const size_t from = notes->length;
	add_later(json, notes, NOTE, tc_sarif_caution(json, path, judgement, use));
	tc_noted(report, use->caution, from);
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
		add_later(&json, later, NOTE, tc_sarif_bounded(&json, path, judgement->model->recipe));
	/* here what a ledger knows is shown too */
	const tc_compared *compared = judgement->compared;
	const tc_judgement *whole = compared ? compared->whole : judgement;
	for (uint32_t i = 0; i < whole->findings; i++)
		add_result(report, &json, tc_sarif_result(&json, report->arena, path, whole, compared, i));
	for (uint32_t i = 0; i < whole->unused; i++)
		add_result(report, &json, tc_sarif_unused(&json, path, whole, compared, i));
	for (uint32_t i = 0; i < judgement->cautions; i++)
		add_caution(report, &json, path, judgement, &judgement->caution[i]);
	report->failed = report->failed || json.failed;
}

void tc_sarif_absence(tc_report *report, const tc_vanished *absent)
{
	tc_json json = {false};
	add_result(report, &json, tc_sarif_absent(&json, report->rulebook, absent));
	report->failed = report->failed || json.failed;
}

void tc_sarif_unreadable(tc_report *report, const char *path, const tc_diags *diags)
{
	tc_json json = {false};
	if (path)
		note_file(report, &json, path);
	for (size_t i = 0; i < tc_diags_count(diags); i++)
		add_later(&json, &report->now->unreadable, NOTE, tc_sarif_diag(&json, path, tc_diags_at(diags, i)));
	report->failed = report->failed || json.failed;
}

static void write_artifacts(tc_report *report)
{
	const bool any = tc_later_any(report, TC_LATER_REMARKS);
	tc_buffer_puts(report->out, ",\n   \"artifacts\": [");
	tc_later_write(report, TC_LATER_REMARKS, true);
	tc_buffer_puts(report->out, any ? "\n   ]" : "]");
}

/* Cautions that would stand in the list if that had not been cut. */
static bool write_rest(tc_report *report, bool first)
{
	tc_json json = {false};
	tc_buffer rest;
	tc_buffer_start(&rest, report->from);
	for (uint32_t i = 0; i < tc_library_cautions(report->library); i++)
		if (tc_is_unnoted(report, i))
			add_later(&json, &rest, NOTE, tc_sarif_bare_caution(&json, report->library, i));
	const bool any = rest.length > 0;
	if (any)
		tc_buffer_add(report->out, (tc_text){rest.at + first, rest.length - first});
	report->failed = report->failed || json.failed;
	tc_scratch_end(report, &rest);
	return any;
}

/* Messages first, then the cautions of the recipes. */
static void write_notifications(tc_report *report)
{
	bool any = tc_later_any(report, TC_LATER_UNREADABLE);
	tc_buffer_puts(report->out, ",\n     \"toolExecutionNotifications\": [");
	tc_later_write(report, TC_LATER_UNREADABLE, true);
	tc_later_write(report, TC_LATER_NOTES, !any);
	any = any || tc_later_any(report, TC_LATER_NOTES);
	any = write_rest(report, !any) || any;
	tc_buffer_puts(report->out, any ? "\n     ]" : "]");
}

void tc_sarif_end(tc_report *report, bool complete)
{
	static const char *const meanings[] = {"nothing of the weight that was asked for was found",
	    "something was found", "not all could be read, or the run was cut short"};
	const bool whole = complete && report->sum->unread == 0;
	const unsigned code = !whole ? 2 : report->sum->weighs ? 1 : 0;
	tc_buffer_puts(report->out, report->sum->led ? "\n   ]" : "]");
	write_artifacts(report);
	tc_buffer_print(report->out,
	    ",\n   \"invocations\": [\n    {\n     \"executionSuccessful\": %s,\n     \"exitCode\": %u,\n"
	    "     \"exitCodeDescription\": \"%s\"",
	    whole ? "true" : "false", code, meanings[code]);
	write_notifications(report);
	tc_buffer_puts(report->out, "\n    }\n   ]\n  }\n ]\n}\n");
}
