/* Findings as SARIF results. */
#include <string.h>

#include "report/fingerprint.h"
#include "report/fix.h"
#include "report/json_parts.h"
#include "report/sarif.h"
#include "report/words.h"

/* --- the message ------------------------------------------------------------------------------------------------- */

/* What was found, what it lacks where it is open, and what would help. */
static json_t *message(tc_json *json, const tc_finding *f)
{
	tc_buffer text;
	tc_buffer_start(&text, NULL);
	tc_buffer_puts(&text, f->message);
	for (uint32_t i = 0; i < f->needs; i++) {
		tc_buffer_print(&text, "%s- %s", i ? "\n" : "\n\nIt cannot be decided without:\n", f->need[i].datum);
		if (f->need[i].where)
			tc_buffer_print(&text, ": %s", f->need[i].where);
	}
	for (uint32_t i = 0; i < f->advices; i++)
		tc_buffer_print(
		    &text, "%s- %s", i ? "\n" : "\n\nWhat would help, each by itself:\n", f->advice[i].text);
	json->failed = json->failed || text.failed;
	json_t *object = tc_sarif_message(json, tc_words_text(&text));
	tc_buffer_free(&text);
	return object;
}

/* --- places ------------------------------------------------------------------------------------------------------ */

static json_t *logical(tc_json *json, const tc_judgement *judgement, const tc_finding *f)
{
	const char *part = f->part == TC_NONE ? NULL : judgement->model->part[f->part].written->name;
	json_t *array = tc_json_array(json), *object = tc_json_object(json);
	tc_buffer path;
	tc_buffer_start(&path, NULL);
	tc_buffer_puts(&path, judgement->model->recipe->title);
	if (part)
		tc_buffer_print(&path, "/%s", part);
	tc_json_put(json, object, "name", tc_json_text(json, part ? part : judgement->model->recipe->title));
	tc_json_put(json, object, "fullyQualifiedName", tc_json_text(json, tc_words_text(&path)));
	tc_json_put(json, object, "kind", tc_json_text(json, part ? "part" : "recipe"));
	tc_json_push(json, array, object);
	json->failed = json->failed || path.failed;
	tc_buffer_free(&path);
	return array;
}

/* What stands at a place, to the end of its line. */
static tc_text line_from(tc_text text, tc_place place)
{
	size_t at = 0;
	for (uint32_t line = 1; line < place.line && at < text.length; at++)
		line += text.at[at] == '\n';
	for (uint32_t column = 1; column < place.column && at < text.length; column++) {
		uint32_t point;
		at += tc_utf8_next(text.at + at, text.length - at, &point);
	}
	size_t end = at;
	while (end < text.length && text.at[end] != '\n' && text.at[end] != '\r')
		end++;
	return (tc_text){text.at + at, end - at};
}

static void add_snippet(tc_json *json, json_t *location, const tc_recipe *recipe, tc_place place)
{
	json_t *region = json_object_get(json_object_get(location, "physicalLocation"), "region");
	tc_buffer line;
	if (!region)
		return;
	json_t *snippet = tc_json_object(json);
	tc_buffer_start(&line, NULL);
	tc_buffer_add(&line, line_from(tc_source_text(recipe->source), place));
	json->failed = json->failed || line.failed;
	tc_json_put(json, snippet, "text", tc_json_text(json, tc_words_text(&line)));
	tc_json_put(json, region, "snippet", snippet);
	tc_buffer_free(&line);
}

static json_t *locations(tc_json *json, const char *path, const tc_judgement *judgement, const tc_finding *f)
{
	json_t *array = tc_json_array(json);
	json_t *location = tc_sarif_location(json, path, f->place, NULL);
	add_snippet(json, location, judgement->model->recipe, f->place);
	tc_json_put(json, location, "logicalLocations", logical(json, judgement, f));
	tc_json_push(json, array, location);
	return array;
}

/* The layer below, and where what lacks would be said. Each place once. */
static json_t *related(tc_json *json, const tc_finding *f)
{
	json_t *array = tc_json_array(json);
	if (f->related.file)
		tc_json_push(json, array, tc_sarif_location(json, f->related.file, f->related, f->related_text));
	for (uint32_t i = 0; i < f->needs; i++)
		if (f->need[i].place.file)
			tc_json_push_once(json, array,
			    tc_sarif_location(json, f->need[i].place.file, f->need[i].place, f->need[i].datum));
	for (size_t i = 0; i < json_array_size(array); i++)
		tc_json_put(json, json_array_get(array, i), "id", tc_json_count(json, (uint32_t)i));
	return array;
}

/* --- fixes ------------------------------------------------------------------------------------------------------- */

static json_t *replacement(tc_json *json, const tc_fix_edit *edit)
{
	json_t *object = tc_json_object(json), *region = tc_json_object(json), *content = tc_json_object(json);
	tc_json_put(json, region, "startLine", tc_json_count(json, edit->from.line));
	tc_json_put(json, region, "startColumn", tc_json_count(json, edit->from.column));
	tc_json_put(json, region, "endLine", tc_json_count(json, edit->to.line));
	tc_json_put(json, region, "endColumn", tc_json_count(json, edit->to.column));
	tc_json_put(json, content, "text", tc_json_text(json, edit->text));
	tc_json_put(json, object, "deletedRegion", region);
	tc_json_put(json, object, "insertedContent", content);
	return object;
}

static json_t *fix_of(tc_json *json, const char *path, const tc_advice *advice, const tc_fix *fix)
{
	json_t *object = tc_json_object(json), *changes = tc_json_array(json), *change = tc_json_object(json);
	json_t *replacements = tc_json_array(json);
	for (uint32_t i = 0; i < fix->edits; i++)
		tc_json_push(json, replacements, replacement(json, &fix->edit[i]));
	tc_json_put(json, change, "artifactLocation", tc_sarif_artifact(json, path));
	tc_json_put(json, change, "replacements", replacements);
	tc_json_push(json, changes, change);
	tc_json_put(json, object, "description", tc_sarif_message(json, fix->says ? fix->says : advice->text));
	tc_json_put(json, object, "artifactChanges", changes);
	return object;
}

static json_t *fixes(
    tc_json *json, tc_arena *arena, const char *path, const tc_judgement *judgement, const tc_finding *f)
{
	json_t *array = tc_json_array(json);
	tc_fix fix;
	for (uint32_t i = 0; i < f->advices; i++)
		for (uint32_t k = 0; k < tc_fix_choices(&f->advice[i]); k++)
			if (tc_fix_choose(arena, judgement, f, &f->advice[i], k, &fix))
				tc_json_push(json, array, fix_of(json, path, &f->advice[i], &fix));
	return array;
}

/* --- the rest ---------------------------------------------------------------------------------------------------- */

static json_t *suppression(tc_json *json, const char *kind, const char *because, json_t *location)
{
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "kind", tc_json_text(json, kind));
	tc_json_put(json, object, "status", tc_json_text(json, "accepted"));
	if (because)
		tc_json_put(json, object, "justification", tc_json_text(json, because));
	tc_json_put(json, object, "location", location);
	return object;
}

/* By a ledger, in a line of it; 0: that is being written. */
static json_t *by_ledger(tc_json *json, const char *ledger, uint32_t line)
{
	return suppression(json, "external", NULL, tc_sarif_location(json, ledger, (tc_place){NULL, line, 0}, NULL));
}

/* Every result has the list, since either all of a run may have it or none. */
static json_t *suppressions(
    tc_json *json, const char *path, const tc_accept *accept, const tc_compared *compared, const tc_past *past)
{
	json_t *array = tc_json_array(json);
	if (accept)
		tc_json_push(json, array,
		    suppression(json, "inSource", accept->because, tc_sarif_location(json, path, accept->place, NULL)));
	if (past && past->known)
		tc_json_push(json, array, by_ledger(json, compared->ledger, past->line));
	return array;
}

/* Since the ledger was written; as the standard has it, on all results of a run or on none. */
static void put_state(tc_json *json, json_t *object, const tc_compared *compared, const tc_past *past)
{
	static const char *const states[] = {
	    [TC_SINCE_NEW] = "new", [TC_SINCE_SAME] = "unchanged", [TC_SINCE_MORE] = "updated"};
	if (compared && !compared->written)
		tc_json_put(json, object, "baselineState", tc_json_text(json, states[past->since]));
}

static json_t *fingerprints(tc_json *json, const char *hex)
{
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "finding/v1", tc_json_text(json, hex));
	return object;
}
_Static_assert(TC_FINGERPRINT_VERSION == 1, "its version stands in the name");

static json_t *taxa(tc_json *json, const tc_library *library, const char *defect)
{
	json_t *array = tc_json_array(json);
	const uint32_t index = defect ? tc_library_defect_find(library, tc_text_of(defect)) : TC_NONE;
	if (index == TC_NONE)
		return array;
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "id", tc_json_text(json, defect));
	tc_json_put(json, object, "index", tc_json_count(json, index));
	tc_json_push(json, array, object);
	return array;
}

static json_t *properties(tc_json *json, const tc_judgement *judgement, const tc_finding *f)
{
	const tc_library *library = tc_rulebook_library(judgement->rulebook);
	json_t *bag = tc_json_object(json), *reasons = tc_json_array(json), *outranked = tc_json_array(json);
	for (uint32_t i = 0; i < f->reasons; i++)
		tc_json_push(json, reasons, tc_json_reason(json, library, &f->reason[i]));
	for (uint32_t i = 0; i < f->outranked; i++)
		tc_json_push(json, outranked, tc_json_text(json, f->outrank[i]->id));
	tc_json_put(json, bag, "recipe", tc_json_text(json, judgement->model->recipe->title));
	tc_json_put(json, bag, "part",
	    tc_json_text(json, f->part == TC_NONE ? NULL : judgement->model->part[f->part].written->name));
	tc_json_put(json, bag, "step", f->step ? tc_json_count(json, f->step) : tc_json_text(json, NULL));
	tc_json_put(json, bag, "weight", tc_json_text(json, tc_verdict_name(f->weight)));
	tc_json_put(json, bag, "lowered", json_boolean(f->lowered));
	tc_json_put(json, bag, "reasons", reasons);
	tc_json_put(json, bag, "outranked", outranked);
	return bag;
}

json_t *tc_sarif_result(tc_json *json, tc_arena *arena, const char *path, const tc_judgement *judgement,
    const tc_compared *compared, uint32_t index)
{
	const tc_finding *f = &judgement->finding[index];
	const tc_past *past = compared ? &compared->finding[index] : NULL;
	const bool open = f->verdict == TC_V_UNDECIDED;
	json_t *object = tc_json_object(json);
	char hex[TC_FINGERPRINT_SIZE];
	tc_fingerprint(judgement, f, hex);
	tc_json_put(json, object, "ruleId", tc_json_text(json, f->rule->id));
	tc_json_put(json, object, "ruleIndex", tc_json_count(json, f->rule->index));
	tc_json_put(json, object, "kind", tc_json_text(json, open ? "open" : "fail"));
	tc_json_put(json, object, "level", tc_json_text(json, open ? "none" : tc_verdict_name(f->verdict)));
	tc_json_put(json, object, "message", message(json, f));
	tc_json_put(json, object, "locations", locations(json, path, judgement, f));
	tc_json_put(json, object, "relatedLocations", related(json, f));
	tc_json_put(json, object, "partialFingerprints", fingerprints(json, hex));
	tc_json_put(json, object, "taxa", taxa(json, tc_rulebook_library(judgement->rulebook), f->defect));
	tc_json_put(json, object, "fixes", fixes(json, arena, path, judgement, f));
	tc_json_put(json, object, "suppressions", suppressions(json, path, f->accept, compared, past));
	put_state(json, object, compared, past);
	tc_json_put(json, object, "properties", properties(json, judgement, f));
	return object;
}

json_t *tc_sarif_unused(
    tc_json *json, const char *path, const tc_judgement *judgement, const tc_compared *compared, uint32_t index)
{
	const tc_accept *accept = judgement->unused_accept[index];
	const tc_past *past = compared ? &compared->unused[index] : NULL;
	json_t *object = tc_json_object(json), *array = tc_json_array(json);
	tc_buffer text;
	char hex[TC_FINGERPRINT_SIZE];
	tc_fingerprint_unused(judgement, accept, hex);
	tc_buffer_start(&text, NULL);
	tc_buffer_print(&text, "the acceptance of %s accepts nothing", accept->name);
	json->failed = json->failed || text.failed;
	tc_json_put(json, object, "ruleId", tc_json_text(json, TC_RULE_UNUSED));
	tc_json_put(json, object, "ruleIndex", tc_json_count(json, tc_rulebook_rules(judgement->rulebook)));
	tc_json_put(json, object, "kind", tc_json_text(json, "fail"));
	tc_json_put(json, object, "level", tc_json_text(json, "warning"));
	tc_json_put(json, object, "message", tc_sarif_message(json, tc_words_text(&text)));
	tc_json_push(json, array, tc_sarif_location(json, path, accept->place, NULL));
	tc_json_put(json, object, "locations", array);
	tc_json_put(json, object, "partialFingerprints", fingerprints(json, hex));
	tc_json_put(json, object, "suppressions", suppressions(json, path, NULL, compared, past));
	put_state(json, object, compared, past);
	tc_buffer_free(&text);
	return object;
}

/* --- what is gone ------------------------------------------------------------------------------------------------ */

/* The rule, where the rulebook still has it. */
static void put_rule(tc_json *json, json_t *object, const tc_rulebook *rulebook, const char *id)
{
	const tc_library *library = tc_rulebook_library(rulebook);
	const tc_rule *rule = tc_rulebook_find(rulebook, tc_text_of(id));
	const bool unused = strcmp(id, TC_RULE_UNUSED) == 0;
	const char *about,
	    *defect = rule && rule->defect != TC_NONE ? tc_library_defect(library, rule->defect, &about) : NULL;
	tc_json_put(json, object, "ruleId", tc_json_text(json, id));
	if (rule || unused)
		tc_json_put(
		    json, object, "ruleIndex", tc_json_count(json, rule ? rule->index : tc_rulebook_rules(rulebook)));
	tc_json_put(json, object, "taxa", taxa(json, library, defect));
}

json_t *tc_sarif_absent(tc_json *json, const tc_rulebook *rulebook, const tc_vanished *absent)
{
	json_t *object = tc_json_object(json), *places = tc_json_array(json), *by = tc_json_array(json);
	put_rule(json, object, rulebook, absent->rule);
	tc_json_put(json, object, "kind", tc_json_text(json, "fail"));
	tc_json_put(json, object, "level", tc_json_text(json, tc_verdict_name(absent->weight)));
	tc_json_put(json, object, "message",
	    tc_sarif_message(json, absent->gone ? "the file of this finding is gone; take its line out of the ledger"
	                                        : "this finding no longer occurs; take its line out of the ledger"));
	tc_json_push(json, places, tc_sarif_location(json, absent->path, (tc_place){NULL, 0, 0}, NULL));
	tc_json_put(json, object, "locations", places);
	tc_json_put(json, object, "partialFingerprints", fingerprints(json, absent->fingerprint));
	tc_json_push(json, by, by_ledger(json, absent->ledger, absent->line));
	tc_json_put(json, object, "suppressions", by);
	tc_json_put(json, object, "baselineState", tc_json_text(json, "absent"));
	return object;
}
