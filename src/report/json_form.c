/* The JSON document, written a recipe at a time: what is known before stands first, what is known only at the end last. */
#include <stdio.h>

#include "report/json_parts.h"
#include "report/private.h"

#define FORMAT "tiecoat-check"
#define VERSION 1u

/* Writes `"key": value` with what stands before it, and lets the value go. */
static void write_member(tc_report *report, tc_json *json, const char *lead, json_t *value)
{
	tc_buffer_puts(report->out, lead);
	tc_json_write(json, value, 1, report->out);
	json_decref(value);
	report->failed = report->failed || json->failed;
}

static json_t *changes(tc_json *json, const tc_rulebook *rulebook)
{
	json_t *array = tc_json_array(json);
	for (uint32_t i = 0; i < tc_rulebook_changes(rulebook); i++) {
		const tc_change *change = tc_rulebook_change(rulebook, i);
		json_t *object = tc_json_object(json);
		tc_json_put(json, object, "id", tc_json_text(json, change->id));
		tc_json_put(json, object, "change", tc_json_text(json, change->retired ? "retired" : "amended"));
		tc_json_put(json, object, "when_changed", json_boolean(change->changed_when));
		tc_json_put(json, object, "because", tc_json_text(json, change->because));
		tc_json_put(json, object, "file", tc_json_text(json, change->place.file));
		tc_json_put_place(json, object, change->place);
		tc_json_push(json, array, object);
	}
	return array;
}

json_t *tc_json_rulebook(tc_json *json, const tc_rulebook *rulebook)
{
	json_t *book = tc_json_object(json);
	char stamp[24];
	snprintf(stamp, sizeof stamp, "%016llx", (unsigned long long)tc_rulebook_stamp(rulebook));
	tc_json_put(json, book, "version", tc_json_text(json, stamp));
	tc_json_put(json, book, "changes", changes(json, rulebook));
	return book;
}

void tc_json_begin(tc_report *report)
{
	tc_json json = {false};
	json_t *book = tc_json_rulebook(&json, report->rulebook);
	tc_buffer_print(report->out, "{\n \"format\": \"%s\",\n \"version\": %u", FORMAT, VERSION);
	write_member(report, &json, ",\n \"rulebook\": ", book);
	tc_buffer_puts(report->out, ",\n \"recipes\": [");
}

static json_t *findings(tc_json *json, const tc_judgement *judgement, bool accepted)
{
	json_t *array = tc_json_array(json);
	for (uint32_t i = 0; i < judgement->findings; i++)
		if (!judgement->finding[i].accept == !accepted)
			tc_json_push(json, array, tc_json_finding(json, judgement, &judgement->finding[i]));
	return array;
}

static void put_rest(tc_json *json, json_t *object, const tc_judgement *judgement)
{
	json_t *unused = tc_json_array(json), *cautions = tc_json_array(json), *assumptions = tc_json_array(json);
	for (uint32_t i = 0; i < judgement->unused; i++)
		tc_json_push(json, unused, tc_json_acceptance(json, judgement->unused_accept[i]));
	for (uint32_t i = 0; i < judgement->cautions; i++)
		tc_json_push(json, cautions, tc_json_caution(json, &judgement->caution[i]));
	for (uint32_t i = 0; i < judgement->assumptions; i++)
		tc_json_push(json, assumptions, tc_json_assumption(json, judgement, &judgement->assumption[i]));
	tc_json_put(json, object, "unused_acceptances", unused);
	tc_json_put(json, object, "cautions", cautions);
	tc_json_put(json, object, "assumptions", assumptions);
}

json_t *tc_json_judgement(tc_json *json, const char *file, const tc_judgement *judgement)
{
	const tc_recipe *recipe = judgement->model->recipe;
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "file", tc_json_text(json, file));
	tc_json_put(json, object, "uri", tc_json_uri(json, file));
	tc_json_put(json, object, "recipe", tc_json_text(json, recipe->title));
	tc_json_put_place(json, object, recipe->place);
	tc_json_put(json, object, "judged", json_boolean(!judgement->bounded));
	tc_json_put(json, object, "findings", findings(json, judgement, false));
	tc_json_put(json, object, "accepted", findings(json, judgement, true));
	put_rest(json, object, judgement);
	tc_json_put(json, object, "summary", tc_json_summary(json, &judgement->summary));
	return object;
}

void tc_json_recipe(tc_report *report, const char *file, const tc_judgement *judgement)
{
	tc_json json = {false};
	json_t *object = tc_json_judgement(&json, file, judgement);
	tc_lead(report, ",");
	tc_buffer_puts(report->out, "\n  ");
	tc_led(report);
	if (!json.failed)
		tc_json_write(&json, object, 2, report->out);
	json_decref(object);
	report->failed = report->failed || json.failed;
}

json_t *tc_json_diag(tc_json *json, const char *file, const tc_diag *diag)
{
	static const char *const names[] = {[TC_NOTE] = "note", [TC_WARNING] = "warning", [TC_ERROR] = "error"};
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "file", tc_json_text(json, diag->place.file ? diag->place.file : file));
	tc_json_put_place(json, object, diag->place);
	tc_json_put(json, object, "severity", tc_json_text(json, names[diag->severity]));
	tc_json_put(json, object, "id", tc_json_text(json, diag->id));
	tc_json_put(json, object, "message", tc_json_text(json, diag->message));
	return object;
}

void tc_json_unreadable(tc_report *report, const char *file, const tc_diags *diags)
{
	tc_json json = {false};
	for (size_t i = 0; i < tc_diags_count(diags); i++) {
		const tc_diag *diag = tc_diags_at(diags, i);
		tc_buffer *list = diag->severity == TC_ERROR ? &report->now->unreadable : &report->now->remarks;
		json_t *object = tc_json_diag(&json, file, diag);
		tc_buffer_puts(list, ",\n  ");
		tc_json_write(&json, object, 2, list);
		json_decref(object);
	}
	report->failed = report->failed || json.failed;
}

json_t *tc_json_total(tc_json *json, const tc_report *report)
{
	json_t *summary = tc_json_summary(json, &report->sum->summary);
	tc_json_put(json, summary, "recipes", tc_json_count(json, report->sum->recipes));
	tc_json_put(json, summary, "unreadable", tc_json_count(json, report->sum->unread));
	return summary;
}

/* A list of objects that were kept for the end, each with a comma before it. */
static void write_list(tc_report *report, const char *lead, tc_later list)
{
	const bool any = tc_later_any(report, list);
	tc_buffer_puts(report->out, lead);
	tc_later_write(report, list, true);
	tc_buffer_puts(report->out, any ? "\n ]" : "]");
}

void tc_json_end(tc_report *report, bool complete)
{
	tc_json json = {false};
	json_t *summary = tc_json_total(&json, report);
	tc_buffer_puts(report->out, report->sum->recipes ? "\n ]" : "]");
	write_list(report, ",\n \"unreadable\": [", TC_LATER_UNREADABLE);
	write_list(report, ",\n \"remarks\": [", TC_LATER_REMARKS);
	tc_buffer_print(report->out, ",\n \"complete\": %s", complete ? "true" : "false");
	write_member(report, &json, ",\n \"summary\": ", summary);
	tc_buffer_puts(report->out, "\n}\n");
}
