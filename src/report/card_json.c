/* The card as JSON: the whole plan. Moments are whole seconds from the calendar's origin, and beside them the clock on the
 * wall (ISO 8601), where there are dates. */
#include <math.h>

#include "report/card.h"
#include "report/card_json.h"

#define FORMAT "tiecoat-card"
#define VERSION 1u

/* --- the timetable ------------------------------------------------------------------------------------------------ */

static json_t *cautions_at(tc_card_writing *w, const tc_task *task)
{
	json_t *array = tc_json_array(&w->json);
	for (uint32_t i = 0; i < w->judgement->cautions; i++)
		if (tc_card_caution_at(&w->judgement->caution[i], task->step->number))
			tc_json_push(&w->json, array, tc_card_value(w, w->judgement->caution[i].caution->id));
	return array;
}

static void put_times(tc_card_writing *w, json_t *object, const tc_task *task)
{
	tc_card_put(w, object, "start", tc_card_at(w, task->start));
	tc_card_put(w, object, "end", tc_card_at(w, task->end));
	tc_card_put(w, object, "latest", tc_card_at(w, task->latest));
	tc_card_put(w, object, "closes", tc_card_at(w, task->closes));
	tc_card_put(w, object, "held_by", tc_card_index(w, task->held_by));
	tc_card_put(w, object, "closed_by", tc_card_index(w, task->closed_by));
}

static json_t *task_of(tc_card_writing *w, const tc_task *task)
{
	tc_buffer sentence;
	json_t *object = tc_json_object(&w->json);
	tc_buffer_start(&sentence, NULL);
	tc_card_task(w->plan, task, &sentence);
	tc_card_put(w, object, "step", tc_card_count(w, task->step->number));
	tc_card_put(w, object, "verb", tc_card_value(w, tc_card_word(w, TC_TEXT("verb"), task->step->verb)));
	tc_card_put(w, object, "text", tc_card_taken(w, &sentence));
	tc_card_put(w, object, "pass", task->passes ? tc_card_count(w, task->pass + 1) : tc_card_nothing(w));
	tc_card_put(w, object, "passes", task->passes ? tc_card_count(w, task->passes) : tc_card_nothing(w));
	tc_card_put(w, object, "parts", tc_card_parts(w, task->parts));
	tc_card_put(w, object, "attended", json_boolean(task->attended));
	tc_card_put(w, object, "lasts", tc_card_seconds(w, task->lasts));
	tc_card_put(w, object, "lasts_assumed", json_boolean(task->lasts_assumed));
	tc_card_put(w, object, "temperature", tc_card_number(w, task->temperature));
	put_times(w, object, task);
	tc_card_put(w, object, "cautions", cautions_at(w, task));
	tc_card_put_place(w, object, task->step->place);
	return object;
}

static json_t *windows(tc_card_writing *w, const tc_bound *bound)
{
	json_t *array = tc_json_array(&w->json);
	for (uint32_t i = 0; i < bound->windows; i++) {
		json_t *window = tc_json_object(&w->json);
		tc_card_put(w, window, "least", tc_card_seconds(w, bound->window[i].from));
		tc_card_put(w, window, "most", tc_card_seconds(w, bound->window[i].to));
		tc_json_push(&w->json, array, window);
	}
	return array;
}

static json_t *bound_of(tc_card_writing *w, const tc_bound *bound)
{
	json_t *object = tc_json_object(&w->json);
	tc_card_put(w, object, "kind", tc_card_value(w, tc_bound_kind_name(bound->kind)));
	tc_card_put(w, object, "from", tc_card_index(w, bound->from));
	tc_card_put(w, object, "to", tc_card_index(w, bound->to));
	tc_card_put(w, object, "to_end", json_boolean(bound->to_end));
	tc_card_put(w, object, "windows", windows(w, bound));
	tc_card_put(w, object, "text", tc_card_value(w, bound->text));
	tc_card_put(w, object, "assumed", json_boolean(bound->assumed));
	tc_card_put(w, object, "rule", tc_card_value(w, bound->rule ? bound->rule->id : NULL));
	tc_card_put_place(w, object, bound->place);
	return object;
}

static json_t *conflict(tc_card_writing *w)
{
	const tc_timetable *table = w->plan->table;
	if (table->state != TC_TABLE_CONFLICT)
		return tc_card_nothing(w);
	json_t *object = tc_json_object(&w->json);
	tc_card_put(w, object, "bounds", tc_card_counts(w, table->conflict, table->conflicts));
	tc_card_put(w, object, "smallest", json_boolean(table->smallest));
	return object;
}

static json_t *calendar(tc_card_writing *w)
{
	const tc_calendar_facts facts = tc_calendar_say(w->plan->table->calendar);
	json_t *object = tc_json_object(&w->json);
	tc_card_put(w, object, "origin", tc_card_has_dates(w->plan) ? tc_card_at(w, 0) : tc_card_nothing(w));
	tc_card_put(w, object, "start_said", json_boolean(facts.has_start));
	tc_card_put(w, object, "start_assumed", json_boolean(facts.start_assumed));
	tc_card_put(w, object, "sessions_said", json_boolean(facts.has_sessions));
	tc_card_put(w, object, "zone", tc_card_value(w, facts.zone));
	return object;
}

static void put_table(tc_card_writing *w, json_t *object)
{
	static const char *const states[] = {
	    [TC_TABLE_FOUND] = "found", [TC_TABLE_CONFLICT] = "conflict", [TC_TABLE_UNKNOWN] = "unknown"};
	const tc_timetable *table = w->plan->table;
	json_t *tasks = tc_json_array(&w->json), *bounds = tc_json_array(&w->json);
	for (uint32_t i = 0; i < table->tasks; i++)
		tc_json_push(&w->json, tasks, task_of(w, &table->task[i]));
	for (uint32_t i = 0; i < table->bounds; i++)
		tc_json_push(&w->json, bounds, bound_of(w, &table->bound[i]));
	tc_card_put(w, object, "calendar", calendar(w));
	tc_card_put(w, object, "state", tc_card_value(w, states[table->state]));
	tc_card_put(w, object, "settled", json_boolean(w->plan->settled));
	tc_card_put(w, object, "rounds", tc_card_count(w, w->plan->rounds));
	tc_card_put(w, object, "reordered", json_boolean(table->reordered));
	tc_card_put(w, object, "earliest", json_boolean(table->earliest));
	tc_card_put(w, object, "end", tc_card_at(w, table->state == TC_TABLE_FOUND ? table->end : NAN));
	tc_card_put(w, object, "ready", tc_card_at(w, table->state == TC_TABLE_FOUND ? w->plan->ready : NAN));
	tc_card_put(w, object, "never_ready", json_boolean(isinf(w->plan->ready)));
	tc_card_put(w, object, "tasks", tasks);
	tc_card_put(w, object, "bounds", bounds);
	tc_card_put(w, object, "conflict", conflict(w));
}

/* --- the whole ---------------------------------------------------------------------------------------------------- */

static json_t *card(tc_card_writing *w)
{
	tc_buffer verdict;
	json_t *object = tc_json_object(&w->json);
	tc_buffer_start(&verdict, NULL);
	tc_card_verdict(w->plan, &verdict);
	tc_card_put(w, object, "format", tc_card_value(w, FORMAT));
	tc_card_put(w, object, "version", tc_card_count(w, VERSION));
	tc_card_put(w, object, "rulebook", tc_json_rulebook(&w->json, w->judgement->rulebook));
	tc_card_put(w, object, "recipe", tc_card_value(w, w->plan->recipe->title));
	tc_card_put(w, object, "verdict", tc_card_taken(w, &verdict));
	tc_card_put(w, object, "weight", tc_card_value(w, tc_verdict_name(tc_card_weight(w->plan))));
	put_table(w, object);
	tc_card_put(w, object, "supply", tc_card_supply(w));
	tc_card_put(w, object, "air", tc_card_room_air(w));
	tc_card_put(w, object, "parts", tc_card_all_parts(w));
	tc_card_put(w, object, "timed", json_boolean(w->plan->timed != NULL));
	tc_card_put(
	    w, object, "judgement", tc_json_judgement(&w->json, tc_source_name(w->plan->recipe->source), w->judgement));
	return object;
}

tc_status tc_card_json(const tc_plan *plan, tc_buffer *out)
{
	tc_card_writing w = {.plan = plan, .judgement = tc_card_judgement(plan)};
	json_t *object = card(&w);
	if (!w.json.failed)
		tc_json_write(&w.json, object, 0, out);
	json_decref(object);
	return w.json.failed || out->failed ? TC_NO_MEMORY : TC_OK;
}
