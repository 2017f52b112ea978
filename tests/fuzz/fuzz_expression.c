/* An expression out of arbitrary text: an error exactly when there is a message; what compiles is dumped, decided, evaluated
 * and explained with a getter that answers anything, and must give the same answer twice. The first byte chooses the
 * question, the second what the getter says. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "../unit/stack/kit_rulebook.h"
#include "rule/eval.h"

#define NEVER(what)                                                                                                    \
	do {                                                                                                           \
		if (what)                                                                                              \
			abort();                                                                                       \
	} while (0)

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Subjects are places in this pool; what kind they are the value says. */
#define POOL 16u

typedef struct bench {
	const tc_rulebook *rulebook;
	uint64_t seed;
	uint64_t pool[POOL];
	const void *items[8];
} bench;

static const char lets[] = "let:\n"
                           "  thin_film: {asks: coat, is: coat.dry_film < 12 µm}\n"
                           "  half: {of: {x: exposed}, is: x.cure is oxidation and x.cured between 15 % and 85 %}\n"
                           "  bites: {of: {l: layer, x: exposed}, is: l.red(x) < 1}\n"
                           "  newest: {asks: coat, is: \"last(earlier layers as q, q.role is primer)\"}\n"
                           "  thick: {asks: recipe, is: 20 µm}\n";

static const tc_rulebook *open_book(void)
{
	static tc_rulebook *book;
	if (book)
		return book;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(arena);
	tc_rulebook_file files[KIT_FILES + 1];
	for (size_t i = 0; i < KIT_FILES; i++)
		files[i] =
		    (tc_rulebook_file){.name = kit_names[i], .bytes = kit_texts[i], .length = strlen(kit_texts[i])};
	files[KIT_FILES] = (tc_rulebook_file){.name = "lets.yaml", .bytes = lets, .length = sizeof lets - 1};
	NEVER(tc_rulebook_load(NULL, files, KIT_FILES + 1, false, diags, &book) != TC_OK);
	tc_arena_free(arena);
	return book;
}

/* --- a getter that answers anything, but the same thing twice ------------------------------------------------------- */

static uint64_t mix(uint64_t hash, uint64_t more)
{
	hash = (hash ^ more) * 0x9E3779B97F4A7C15u;
	return hash ^ hash >> 29;
}

static uint64_t index_of(const bench *b, const void *subject)
{
	return subject ? (uint64_t)((const uint64_t *)subject - b->pool) : POOL;
}

static double some_number(uint64_t hash)
{
	static const double odd[] = {0, -1, 1, 1e-6, 3600, 0.15, 0.85, 293.15, 1e300, -1e300, NAN, HUGE_VAL};
	return odd[hash % (sizeof odd / sizeof *odd)];
}

static uint32_t words_in(const bench *b, const char *vocabulary)
{
	if (strcmp(vocabulary, "defect") == 0)
		return tc_library_defects(tc_rulebook_library(b->rulebook));
	const tc_word_list *list = tc_library_words(tc_rulebook_library(b->rulebook), tc_text_of(vocabulary));
	return list ? list->count : 0;
}

static tc_value some_value(const bench *b, const tc_field_row *row, uint64_t hash)
{
	static const tc_span spans[] = {{600, 3600}, {172800, HUGE_VAL}};
	static const tc_window windows[] = {{2, spans}, {1, spans}, {1, spans + 1}};
	static const char *const texts[] = {"", "lamp black", "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaa", "gr\xC3\xBCn"};
	tc_value v = {.state = (uint8_t)(hash % 4), .type = (uint8_t)row->type};
	hash >>= 8;
	switch (row->type) {
	case TC_T_TRUTH:
		v.truth = hash % 2 ? TC_TRUE : TC_FALSE;
		break;
	case TC_T_SYMBOL:
		v.symbol = words_in(b, row->vocabulary) ? (uint32_t)(hash % words_in(b, row->vocabulary)) : 0;
		break;
	case TC_T_SYMBOLS:
		v.set = hash;
		break;
	case TC_T_TEXT:
		v.text = texts[hash % 4];
		break;
	case TC_T_WINDOW:
		v.window = &windows[hash % 3];
		break;
	case TC_T_SUBJECT:
		v.subject = (uint8_t)row->of;
		v.is = &b->pool[hash % POOL];
		break;
	default:
		v.number = some_number(hash);
	}
	return v;
}

static tc_value get_field(
    const tc_question *q, uint32_t field, tc_subject of, const void *subject, const tc_value *arguments)
{
	const bench *b = q->user;
	tc_field_row room;
	const tc_field_row *row = tc_field_row_of(field, &room);
	NEVER(!row || (of != TC_S_ASK && !subject));
	uint64_t hash = mix(mix(mix(b->seed, field), of), index_of(b, subject));
	for (const char *a = row->arguments; a && *a; a++, arguments++) {
		NEVER(!tc_known(*arguments));
		uint64_t bits = 0;
		if (*a == 'X')
			bits = index_of(b, arguments->is);
		else
			memcpy(&bits, &arguments->number, sizeof bits);
		hash = mix(hash, bits);
	}
	return some_value(b, row, hash);
}

static uint32_t get_range(const tc_question *q, tc_range range, tc_subject anchor_of, const void *anchor,
    tc_subject *of, const void *const **items)
{
	static const tc_subject subjects[] = {TC_S_LAYER, TC_S_LAYER, TC_S_STEP, TC_S_STEP, TC_S_LAYER, TC_S_STEP,
	    TC_S_LAYER, TC_S_STEP, TC_S_PART, TC_S_PRODUCT, TC_S_EXPOSED, TC_S_LAYER};
	const bench *b = q->user;
	NEVER(range > TC_R_PASSES);
	*of = subjects[range];
	*items = b->items;
	return (uint32_t)(mix(mix(mix(b->seed, range), anchor_of), index_of(b, anchor)) % 6);
}

static const tc_entry *get_material(const tc_question *q, tc_subject of, const void *subject)
{
	const bench *b = q->user;
	const tc_library *library = tc_rulebook_library(b->rulebook);
	const uint64_t hash = mix(mix(b->seed + 7, of), index_of(b, subject));
	return hash % 8 ? tc_library_entry(library, (uint32_t)(hash % tc_library_count(library))) : NULL;
}

static void print(const tc_question *q, tc_subject of, const void *subject, tc_buffer *out)
{
	tc_buffer_print(out, "%u of %u\xE2\x80\xAE", (unsigned)index_of(q->user, subject), (unsigned)of);
}

/* --- one input ------------------------------------------------------------------------------------------------------ */

static void start(tc_question *q, bench *b, tc_getter *getter, tc_ask ask, uint32_t *left)
{
	static const tc_subject subjects[TC_SLOT_COUNT] = {
	    TC_S_RECIPE, TC_S_SHOP, TC_S_PART, TC_S_STEP, TC_S_LAYER, TC_S_EXPOSED, TC_S_LIQUID, TC_S_PRODUCT};
	*getter = (tc_getter){get_field, get_range, get_material, print};
	*left = 1000000;
	*q = (tc_question){.rulebook = b->rulebook, .getter = getter, .user = b, .ask = ask, .steps_left = left};
	for (uint32_t i = 0; i < TC_NAMES_MAX; i++)
		q->bound[i] = tc_absent(TC_T_SUBJECT);
	for (uint32_t i = 0; i < TC_SLOT_COUNT; i++)
		if (tc_ask_slots(ask) & 1u << i)
			q->bound[i] = (tc_value){
			    .state = TC_SAID, .type = TC_T_SUBJECT, .subject = (uint8_t)subjects[i], .is = &b->pool[i]};
	for (uint32_t i = 0; i < 8; i++)
		b->items[i] = &b->pool[8 + i];
}

static void ask_it(bench *b, tc_arena *arena, tc_patterns *patterns, tc_ask ask, const tc_expr *x)
{
	tc_question q;
	tc_getter getter;
	uint32_t left;
	tc_leaf leaves[8];
	tc_buffer out;
	tc_type type;
	tc_dim dim;
	start(&q, b, &getter, ask, &left);
	q.patterns = patterns;
	tc_buffer_start(&out, NULL);
	tc_expr_dump(b->rulebook, x, &out);
	tc_expr_type(x, &type, &dim);
	const tc_value value = tc_evaluate(&q, x);
	NEVER(value.state > TC_ABSENT);
	if (type == TC_T_NUMBER || type == TC_T_SHARE || type == TC_T_TEMPERATURE)
		NEVER(tc_known(value) && !isfinite(value.number));
	tc_value_print(&q, value, dim, NULL, &out);
	if (type == TC_T_TRUTH) {
		const tc_truth first = tc_decide(&q, x), second = tc_decide(&q, x);
		NEVER(first != second);
		const uint32_t count = first == TC_FALSE ? 1 : tc_explain(&q, x, arena, leaves, 8);
		NEVER(count == 0 && !q.hit_check_bound && !q.hit_rule_bound);
		for (uint32_t i = 0;
		     first == TC_UNSURE && i < count && i < 8 && !q.hit_check_bound && !q.hit_rule_bound; i++)
			NEVER(leaves[i].truth != TC_UNSURE);
	}
	tc_buffer_free(&out);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	if (size < 2)
		return 0;
	bench b = {.rulebook = open_book(), .seed = data[1]};
	const tc_ask ask = (tc_ask)(data[0] % TC_ASK_COUNT);
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(arena);
	tc_patterns *patterns = tc_patterns_new(NULL);
	const tc_text text = {(const char *)data + 2, size - 2};
	const tc_expr *x = NULL;
	/* a text with what the reader refuses never comes here */
	if (tc_utf8_bad(text.at, text.length) == text.length && !memchr(text.at, 0, text.length)) {
		x = tc_expr_compile(b.rulebook, arena, ask, text, diags);
		NEVER((x == NULL) != (tc_diags_errors(diags) > 0));
	}
	if (x)
		ask_it(&b, arena, patterns, ask, x);
	tc_patterns_free(patterns);
	tc_arena_free(arena);
	return 0;
}
