/* The card as JSON: single values. */
#include <math.h>

#include "report/card_json.h"

/* --- values ------------------------------------------------------------------------------------------------------- */

json_t *tc_card_nothing(tc_card_writing *w)
{
	return tc_json_text(&w->json, NULL);
}

json_t *tc_card_value(tc_card_writing *w, const char *value)
{
	return tc_json_text(&w->json, value);
}

json_t *tc_card_count(tc_card_writing *w, uint32_t value)
{
	return tc_json_count(&w->json, value);
}

void tc_card_put(tc_card_writing *w, json_t *object, const char *key, json_t *value)
{
	tc_json_put(&w->json, object, key, value);
}

json_t *tc_card_number(tc_card_writing *w, double value)
{
	return tc_json_number(&w->json, value);
}

/* An index, null for none. */
json_t *tc_card_index(tc_card_writing *w, uint32_t value)
{
	return value == TC_NONE ? tc_card_nothing(w) : tc_card_count(w, value);
}

/* Whole seconds; null where they are not finite. */
json_t *tc_card_seconds(tc_card_writing *w, double value)
{
	if (!isfinite(value))
		return tc_card_nothing(w);
	json_t *whole = json_integer((json_int_t)llround(value));
	w->json.failed = w->json.failed || !whole;
	return whole;
}

/* Words that are put together in a buffer; frees it. */
json_t *tc_card_taken(tc_card_writing *w, tc_buffer *buffer)
{
	w->json.failed = w->json.failed || buffer->failed;
	json_t *value = tc_card_value(w, tc_words_text(buffer));
	tc_buffer_free(buffer);
	return value;
}

json_t *tc_card_at(tc_card_writing *w, double at)
{
	tc_buffer clock;
	if (!isfinite(at))
		return tc_card_nothing(w);
	json_t *object = tc_json_object(&w->json);
	tc_card_put(w, object, "seconds", tc_card_seconds(w, at));
	if (!tc_card_has_dates(w->plan)) {
		tc_card_put(w, object, "time", tc_card_nothing(w));
		return object;
	}
	tc_buffer_start(&clock, NULL);
	tc_card_iso(w->plan, at, &clock);
	tc_card_put(w, object, "time", tc_card_taken(w, &clock));
	return object;
}

json_t *tc_card_parts(tc_card_writing *w, uint64_t set)
{
	const tc_model *model = w->judgement->model;
	json_t *array = tc_json_array(&w->json);
	for (uint32_t i = 0; i < model->parts; i++)
		if (set >> i & 1)
			tc_json_push(&w->json, array, tc_card_value(w, model->part[i].written->name));
	return array;
}

json_t *tc_card_counts(tc_card_writing *w, const uint32_t *at, uint32_t many)
{
	json_t *array = tc_json_array(&w->json);
	for (uint32_t i = 0; i < many; i++)
		tc_json_push(&w->json, array, tc_card_count(w, at[i]));
	return array;
}

void tc_card_put_place(tc_card_writing *w, json_t *object, tc_place place)
{
	tc_card_put(w, object, "file", tc_card_value(w, place.file));
	tc_json_put_place(&w->json, object, place);
}

const char *tc_card_word(const tc_card_writing *w, tc_text vocabulary, uint32_t which)
{
	const tc_word_list *list = tc_library_words(w->judgement->model->library, vocabulary);
	return list && which < list->count ? list->words[which] : NULL;
}
