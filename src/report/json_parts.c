/* Findings, cautions and assumptions as JSON. */
#include <string.h>

#include "report/json_parts.h"
#include "report/words.h"

void tc_json_put_place(tc_json *json, json_t *object, tc_place place)
{
	tc_json_put(json, object, "line", place.line ? tc_json_count(json, place.line) : tc_json_text(json, NULL));
	tc_json_put(json, object, "column", place.line ? tc_json_count(json, place.column) : tc_json_text(json, NULL));
}

static json_t *buffer_text(tc_json *json, tc_buffer *buffer)
{
	json->failed = json->failed || buffer->failed;
	json_t *value = tc_json_text(json, tc_words_text(buffer));
	tc_buffer_free(buffer);
	return value;
}

json_t *tc_json_basis(tc_json *json, const tc_library *library, const tc_basis *basis)
{
	if (!basis)
		return tc_json_text(json, NULL);
	json_t *object = tc_json_object(json);
	const tc_source_entry *source = basis->source == TC_NONE ? NULL : tc_library_source(library, basis->source);
	tc_buffer text;
	tc_buffer_start(&text, NULL);
	tc_words_basis(library, basis, &text);
	tc_json_put(json, object, "id", tc_json_text(json, source ? source->id : "practice"));
	tc_json_put(json, object, "text", buffer_text(json, &text));
	tc_json_put(json, object, "at", tc_json_text(json, basis->at));
	tc_json_put(json, object, "read", json_boolean(source && source->read && !basis->memory));
	return object;
}

/* --- reasons ----------------------------------------------------------------------------------------------------- */

static json_t *origin(tc_json *json, const tc_library *library, const tc_origin *from)
{
	json_t *object = tc_json_object(json), *of = tc_json_array(json);
	tc_json_put(json, object, "kind", tc_json_text(json, tc_origin_name(from->kind)));
	tc_json_put(json, object, "file", tc_json_text(json, from->place.file));
	tc_json_put_place(json, object, from->place);
	tc_json_put(json, object, "entry", tc_json_text(json, from->entry));
	tc_json_put(json, object, "source", tc_json_basis(json, library, from->basis));
	if (from->of)
		tc_json_push(json, of, tc_json_text(json, from->of));
	tc_json_put(json, object, "of", of);
	return object;
}

json_t *tc_json_reason(tc_json *json, const tc_library *library, const tc_reason *r)
{
	json_t *object = tc_json_object(json), *value = tc_json_object(json);
	tc_json_put(json, object, "fact", tc_json_text(json, r->fact));
	tc_json_put(json, object, "about", tc_json_text(json, r->about));
	tc_json_put(json, object, "test", tc_json_text(json, r->test));
	tc_json_put(json, value, "text", tc_json_text(json, r->text));
	tc_json_put(json, value, "number", r->has_number ? tc_json_number(json, r->number) : tc_json_text(json, NULL));
	tc_json_put(json, value, "unit", tc_json_text(json, r->has_number ? r->unit : NULL));
	tc_json_put(json, object, "value", value);
	tc_json_put(json, object, "from", origin(json, library, &r->from));
	return object;
}

static json_t *reasons(tc_json *json, const tc_judgement *judgement, const tc_finding *finding)
{
	json_t *array = tc_json_array(json);
	for (uint32_t i = 0; i < finding->reasons; i++)
		tc_json_push(json, array, tc_json_reason(json, tc_rulebook_library(judgement->rulebook), &finding->reason[i]));
	return array;
}

/* --- what to do, says who, what is lacking ----------------------------------------------------------------------- */

static json_t *remedies(tc_json *json, const tc_finding *finding)
{
	static const char *const edits[] = {[TC_EDIT_WAIT] = "wait",
	    [TC_EDIT_SHORTEN] = "shorten",
	    [TC_EDIT_CHANGE] = "change",
	    [TC_EDIT_INSERT] = "insert",
	    [TC_EDIT_INSTEAD] = "instead",
	    [TC_EDIT_REMOVE] = "remove",
	    [TC_EDIT_MOVE] = "move",
	    [TC_EDIT_DO] = "do"};
	json_t *array = tc_json_array(json);
	for (uint32_t i = 0; i < finding->advices; i++) {
		const tc_advice *advice = &finding->advice[i];
		const bool timed = advice->edit == TC_EDIT_WAIT || advice->edit == TC_EDIT_SHORTEN;
		json_t *object = tc_json_object(json);
		tc_json_put(json, object, "edit", tc_json_text(json, edits[advice->edit]));
		tc_json_put(json, object, "text", tc_json_text(json, advice->text));
		tc_json_put(
		    json, object, "seconds", timed ? tc_json_number(json, advice->amount) : tc_json_text(json, NULL));
		tc_json_put(json, object, "yaml", tc_json_text(json, advice->yaml));
		tc_json_push(json, array, object);
	}
	return array;
}

static json_t *sources(tc_json *json, const tc_judgement *judgement, const tc_finding *finding)
{
	json_t *array = tc_json_array(json);
	for (const tc_basis *const *basis = finding->rule->bases; basis && *basis; basis++)
		tc_json_push(json, array, tc_json_basis(json, tc_rulebook_library(judgement->rulebook), *basis));
	return array;
}

static json_t *needs(tc_json *json, const tc_finding *finding)
{
	json_t *array = tc_json_array(json);
	for (uint32_t i = 0; i < finding->needs; i++) {
		const tc_need *need = &finding->need[i];
		json_t *object = tc_json_object(json);
		tc_json_put(json, object, "datum", tc_json_text(json, need->datum));
		tc_json_put(json, object, "where", tc_json_text(json, need->where));
		tc_json_put(json, object, "file", tc_json_text(json, need->place.file));
		tc_json_put_place(json, object, need->place);
		tc_json_push(json, array, object);
	}
	return array;
}

static json_t *related(tc_json *json, const tc_finding *finding)
{
	if (!finding->related.file)
		return tc_json_text(json, NULL);
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "file", tc_json_text(json, finding->related.file));
	tc_json_put_place(json, object, finding->related);
	tc_json_put(json, object, "text", tc_json_text(json, finding->related_text));
	return object;
}

static json_t *outranked(tc_json *json, const tc_finding *finding)
{
	json_t *array = tc_json_array(json);
	for (uint32_t i = 0; i < finding->outranked; i++)
		tc_json_push(json, array, tc_json_text(json, finding->outrank[i]->id));
	return array;
}

json_t *tc_json_finding(tc_json *json, const tc_judgement *judgement, const tc_finding *f)
{
	const char *part = f->part == TC_NONE ? NULL : judgement->model->part[f->part].written->name;
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "rule", tc_json_text(json, f->rule->id));
	tc_json_put(json, object, "verdict", tc_json_text(json, tc_verdict_name(f->verdict)));
	tc_json_put(json, object, "weight", tc_json_text(json, tc_verdict_name(f->weight)));
	tc_json_put(json, object, "lowered", json_boolean(f->lowered));
	tc_json_put(json, object, "defect", tc_json_text(json, f->defect));
	tc_json_put(json, object, "part", tc_json_text(json, part));
	tc_json_put(json, object, "step", f->step ? tc_json_count(json, f->step) : tc_json_text(json, NULL));
	tc_json_put_place(json, object, f->place);
	tc_json_put(json, object, "message", tc_json_text(json, f->message));
	tc_json_put(json, object, "about", tc_json_text(json, f->rule->about));
	tc_json_put(json, object, "reasons", reasons(json, judgement, f));
	tc_json_put(json, object, "remedies", remedies(json, f));
	tc_json_put(json, object, "sources", sources(json, judgement, f));
	tc_json_put(json, object, "needs", needs(json, f));
	tc_json_put(json, object, "related", related(json, f));
	tc_json_put(json, object, "outranked", outranked(json, f));
	if (f->accept)
		tc_json_put(json, object, "acceptance", tc_json_acceptance(json, f->accept));
	return object;
}

/* --- the rest ---------------------------------------------------------------------------------------------------- */

json_t *tc_json_acceptance(tc_json *json, const tc_accept *accept)
{
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "name", tc_json_text(json, accept->name));
	tc_json_put(json, object, "because", tc_json_text(json, accept->because));
	tc_json_put_place(json, object, accept->place);
	return object;
}

json_t *tc_json_caution(tc_json *json, const tc_caution_use *use)
{
	json_t *object = tc_json_object(json), *codes = tc_json_array(json), *steps = tc_json_array(json);
	for (const char *const *code = use->codes; code && *code; code++)
		tc_json_push(json, codes, tc_json_text(json, *code));
	for (uint32_t i = 0; i < use->steps; i++)
		tc_json_push(json, steps, tc_json_count(json, use->step[i]));
	tc_json_put(json, object, "id", tc_json_text(json, use->caution->id));
	tc_json_put(json, object, "text", tc_json_text(json, use->caution->says));
	tc_json_put(json, object, "codes", codes);
	tc_json_put(json, object, "steps", steps);
	tc_json_put(json, object, "because", tc_json_text(json, use->because));
	return object;
}

json_t *tc_json_assumption(tc_json *json, const tc_judgement *judgement, const tc_assumption *assumption)
{
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "what", tc_json_text(json, assumption->what));
	tc_json_put(json, object, "text", tc_json_text(json, assumption->text));
	tc_json_put(
	    json, object, "source", tc_json_basis(json, tc_rulebook_library(judgement->rulebook), assumption->basis));
	tc_json_put(json, object, "mattered", json_boolean(assumption->mattered));
	return object;
}

json_t *tc_json_summary(tc_json *json, const tc_summary *summary)
{
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "errors", tc_json_count(json, summary->errors));
	tc_json_put(json, object, "warnings", tc_json_count(json, summary->warnings));
	tc_json_put(json, object, "notes", tc_json_count(json, summary->notes));
	tc_json_put(json, object, "undecided", tc_json_count(json, summary->undecided));
	tc_json_put(json, object, "accepted", tc_json_count(json, summary->accepted));
	if (summary->known)
		tc_json_put(json, object, "known", tc_json_count(json, summary->known));
	return object;
}
