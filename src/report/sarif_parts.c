/* Small parts of a SARIF log: messages, places, notifications. */
#include <string.h>

#include "report/sarif.h"
#include "report/words.h"

json_t *tc_sarif_message(tc_json *json, const char *text)
{
	json_t *object = tc_json_object(json);
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	for (const char *c = text ? text : ""; *c; c++) {
		if (*c == '{' || *c == '}')
			tc_buffer_char(&out, *c);
		tc_buffer_char(&out, *c);
	}
	json->failed = json->failed || out.failed;
	tc_json_put(json, object, "text", tc_json_text(json, tc_words_text(&out)));
	tc_buffer_free(&out);
	return object;
}

json_t *tc_sarif_artifact(tc_json *json, const char *path)
{
	json_t *object = tc_json_object(json);
	while (path[0] == '.' && path[1] == '/' && path[2] != '/')
		path += 2;
	tc_json_put(json, object, "uri", tc_json_uri(json, path));
	/* what leads out of the folder cannot be said relative to it */
	if (path[0] != '/' && strncmp(path, "../", 3) != 0 && !strstr(path, "/../"))
		tc_json_put(json, object, "uriBaseId", tc_json_text(json, "%SRCROOT%"));
	return object;
}

json_t *tc_sarif_location(tc_json *json, const char *path, tc_place place, const char *text)
{
	json_t *object = tc_json_object(json), *physical = tc_json_object(json);
	tc_json_put(json, physical, "artifactLocation", tc_sarif_artifact(json, path));
	if (place.line) {
		json_t *region = tc_json_object(json);
		tc_json_put(json, region, "startLine", tc_json_count(json, place.line));
		if (place.column)
			tc_json_put(json, region, "startColumn", tc_json_count(json, place.column));
		tc_json_put(json, physical, "region", region);
	}
	tc_json_put(json, object, "physicalLocation", physical);
	if (text)
		tc_json_put(json, object, "message", tc_sarif_message(json, text));
	return object;
}

/* --- notifications ----------------------------------------------------------------------------------------------- */

static json_t *notification(tc_json *json, const char *id, uint32_t index, const char *level, const char *text)
{
	json_t *object = tc_json_object(json), *descriptor = tc_json_object(json);
	tc_json_put(json, descriptor, "id", tc_json_text(json, id));
	if (index != TC_NONE)
		tc_json_put(json, descriptor, "index", tc_json_count(json, index));
	tc_json_put(json, object, "descriptor", descriptor);
	tc_json_put(json, object, "level", tc_json_text(json, level));
	tc_json_put(json, object, "message", tc_sarif_message(json, text));
	return object;
}

static json_t *only(tc_json *json, json_t *value)
{
	json_t *array = tc_json_array(json);
	tc_json_push(json, array, value);
	return array;
}

json_t *tc_sarif_diag(tc_json *json, const char *path, const tc_diag *diag)
{
	static const char *const levels[] = {[TC_NOTE] = "note", [TC_WARNING] = "warning", [TC_ERROR] = "error"};
	const char *file = diag->place.file ? diag->place.file : path;
	json_t *object = notification(json, diag->id, TC_NONE, levels[diag->severity], diag->message);
	if (file)
		tc_json_put(json, object, "locations", only(json, tc_sarif_location(json, file, diag->place, NULL)));
	return object;
}

/* The numbers of the steps; of the first the notification has the place. */
static json_t *numbers(tc_json *json, const tc_caution_use *use)
{
	json_t *array = tc_json_array(json);
	for (uint32_t i = 0; i < use->steps; i++)
		tc_json_push(json, array, tc_json_count(json, use->step[i]));
	return array;
}

json_t *tc_sarif_caution(tc_json *json, const char *path, const tc_judgement *judgement, const tc_caution_use *use)
{
	const tc_library *library = tc_rulebook_library(judgement->rulebook);
	const tc_recipe *recipe = judgement->model->recipe;
	const uint32_t index = (uint32_t)(use->caution - tc_library_caution(library, 0));
	const tc_place place = use->steps ? recipe->step[use->step[0] - 1].place : recipe->place;
	json_t *object = notification(json, use->caution->id, index, "note", use->caution->says);
	json_t *codes = tc_json_array(json), *bag = tc_json_object(json);
	for (const char *const *code = use->codes; code && *code; code++)
		tc_json_push(json, codes, tc_json_text(json, *code));
	tc_json_put(json, bag, "recipe", tc_json_text(json, recipe->title));
	tc_json_put(json, bag, "codes", codes);
	tc_json_put(json, bag, "steps", numbers(json, use));
	tc_json_put(json, object, "locations", only(json, tc_sarif_location(json, path, place, use->because)));
	tc_json_put(json, object, "properties", bag);
	return object;
}

json_t *tc_sarif_bare_caution(tc_json *json, const tc_library *library, uint32_t caution)
{
	const tc_caution *c = tc_library_caution(library, caution);
	return notification(json, c->id, caution, "note", c->says);
}

json_t *tc_sarif_bounded(tc_json *json, const char *path, const tc_recipe *recipe)
{
	json_t *object = notification(
	    json, "bound", TC_NONE, "error", "the recipe's bound on evaluation was hit: nothing can be said of it");
	tc_json_put(json, object, "locations", only(json, tc_sarif_location(json, path, recipe->place, NULL)));
	return object;
}
