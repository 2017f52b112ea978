/* What the files of the card's JSON share: values, each new, and the larger parts. Failures are kept in `json`. */
#ifndef TC_REPORT_CARD_JSON_H
#define TC_REPORT_CARD_JSON_H

#include "report/card_words.h"
#include "report/json_parts.h"

typedef struct tc_card_writing {
	tc_json json;
	const tc_plan *plan;
	const tc_judgement *judgement; /* that the card speaks of */
} tc_card_writing;

json_t *tc_card_nothing(tc_card_writing *w);
json_t *tc_card_value(tc_card_writing *w, const char *value); /* a text */
json_t *tc_card_count(tc_card_writing *w, uint32_t value);
json_t *tc_card_number(tc_card_writing *w, double value);
json_t *tc_card_index(tc_card_writing *w, uint32_t value); /* null for TC_NONE */
/* Whole seconds; null where they are not finite. */
json_t *tc_card_seconds(tc_card_writing *w, double value);
/* Words that were put together in a buffer; frees it. */
json_t *tc_card_taken(tc_card_writing *w, tc_buffer *buffer);
/* A moment: {seconds, time}; null where it is not finite. */
json_t *tc_card_at(tc_card_writing *w, double at);
json_t *tc_card_parts(tc_card_writing *w, uint64_t set); /* names of parts */
json_t *tc_card_counts(tc_card_writing *w, const uint32_t *at, uint32_t many);
/* A word of a vocabulary; NULL. */
const char *tc_card_word(const tc_card_writing *w, tc_text vocabulary, uint32_t which);

void tc_card_put(tc_card_writing *w, json_t *object, const char *key, json_t *value);
void tc_card_put_place(tc_card_writing *w, json_t *object, tc_place place);

json_t *tc_card_supply(tc_card_writing *w);
json_t *tc_card_room_air(tc_card_writing *w);
json_t *tc_card_all_parts(tc_card_writing *w);

#endif
