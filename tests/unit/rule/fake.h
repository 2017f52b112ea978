/* A question out of a line of text, and a getter over a little table.
 *
 *   data = item { ";" item }
 *   item = recipe | part | step | coat | contact | touch            what is asked (contact)
 *        | NAME "is" MATERIAL | NAME "is nothing"                   a subject's entry; unknown material
 *        | [NAME "."] FIELD "=" VALUE                               without NAME: of the question itself
 *        | RANGE ":" { NAME }                                       its elements, oldest first
 *   VALUE = unknown | absent | assumed VALUE | yes | no | QUANTITY | WORD {"," WORD} | 'TEXT' | SPAN {"," SPAN} | NAME
 *         | argument N                                              what was passed as that argument, in SI
 * Whatever was not said is unknown. */
#ifndef TEST_RULE_FAKE_H
#define TEST_RULE_FAKE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "rule/private.h"

#define THINGS_MAX 32
#define SAID_MAX   64
#define ITEMS_MAX  256

typedef struct thing {
	char name[32];
	tc_subject subject;
	const tc_entry *entry;
} thing;

typedef struct said {
	const thing *of; /* NULL: the question */
	uint32_t field;
	tc_value value;
	int argument; /* 1, 2: the argument is the value */
} said;

typedef struct fake {
	tc_question q;
	tc_getter getter;
	const tc_rulebook *rulebook;
	tc_arena *arena;
	thing things[THINGS_MAX];
	said said[SAID_MAX];
	const void *items[TC_R_PASSES + 1][ITEMS_MAX];
	uint32_t counts[TC_R_PASSES + 1];
	uint32_t thing_count, said_count;
	uint32_t calls; /* of the field getter */
	uint32_t steps_left;
	const void *anchor; /* of the last range */
} fake;

/* --- a rulebook of the tests ------------------------------------------------------------------------------------------- */

static inline char *read_text_file(const char *name, size_t *length)
{
	FILE *file = fopen(name, "rb");
	if (!file)
		fail_msg("%s cannot be opened; tests run from the root of the repository", name);
	char *text = calloc(1, 1u << 20);
	*length = fread(text, 1, (1u << 20) - 1, file);
	fclose(file);
	return text;
}

/* Some figure for every default. */
static inline char *some_defaults(void)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_buffer_puts(&out, "defaults:\n");
#define DEFAULT(id, key, type, dim, low, high, help)                                                                    \
	tc_buffer_puts(&out, "  " key ": {is: ");                                                                           \
	tc_quantity_print(&out, TC_T_##type, TC_DIM_##dim, ((low) + (high)) / 2.0, 3, NULL);                                \
	tc_buffer_puts(&out, ", from: practice}\n");
#include "library/default.def"
#undef DEFAULT
	return out.at;
}

static inline void print_diags(tc_diags *diags, tc_buffer *out)
{
	tc_diags_sort(diags);
	for (size_t i = 0; i < tc_diags_count(diags); i++)
		tc_diag_print(tc_diags_at(diags, i), out);
}

/* The book of the tests with `more` behind it; NULL on errors, with all messages in `out`. `bytes`: the recipes of shown_by
 * are kept, and what they need, for the caller to free after the book; else NULL. */
static inline tc_rulebook *load_book(const char *more, char **bytes, tc_buffer *out)
{
	size_t length;
	char *const book = read_text_file("tests/unit/rule/book.yaml", &length), *const defaults = some_defaults();
	const tc_rulebook_file files[] = {{"book.yaml", book, length, 0}, {"defaults.yaml", defaults, strlen(defaults), 0},
	    {"more.yaml", more ? more : "", more ? strlen(more) : 0, 0}};
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(arena);
	tc_rulebook *rulebook = NULL;
	const tc_status status = tc_rulebook_load(NULL, files, 3, bytes != NULL, diags, &rulebook);
	assert_true((status == TC_OK) == (rulebook != NULL));
	if (out)
		print_diags(diags, out);
	else if (status != TC_OK) {
		tc_buffer all;
		tc_buffer_start(&all, NULL);
		print_diags(diags, &all);
		fail_msg("%s", all.at);
	}
	tc_arena_free(arena);
	if (bytes)
		*bytes = book;
	else
		free(book);
	free(defaults);
	return rulebook;
}

/* --- the getter -------------------------------------------------------------------------------------------------------- */

static inline tc_value fake_field(const tc_question *q, uint32_t field, tc_subject of, const void *subject,
    const tc_value *arguments)
{
	fake *f = q->user;
	tc_field_row room;
	const tc_field_row *row = tc_field_row_of(field, &room);
	f->calls++;
	assert_non_null(row);
	assert_true(of == TC_S_ASK || subject != NULL);
	for (uint32_t i = f->said_count; i > 0; i--) {
		const said *s = &f->said[i - 1];
		if (s->field != field || s->of != subject)
			continue;
		return s->argument ? arguments[s->argument - 1] : s->value;
	}
	return tc_unknown(row->type);
}

static inline uint32_t fake_range(const tc_question *q, tc_range range, tc_subject anchor_of, const void *anchor, tc_subject *of,
    const void *const **items)
{
	fake *f = q->user;
	(void)anchor_of;
	f->anchor = anchor;
	*items = f->items[range];
	if (f->counts[range])
		*of = ((const thing *)f->items[range][0])->subject;
	return f->counts[range];
}

static inline const tc_entry *fake_material(const tc_question *q, tc_subject of, const void *subject)
{
	(void)q;
	(void)of;
	return ((const thing *)subject)->entry;
}

static inline void fake_print(const tc_question *q, tc_subject of, const void *subject, tc_buffer *out)
{
	(void)q;
	(void)of;
	const thing *t = subject;
	tc_buffer_puts(out, t->entry ? t->entry->name : t->name);
}

/* --- out of a line ------------------------------------------------------------------------------------------------------ */

static inline thing *thing_of(fake *f, tc_text name, tc_subject subject)
{
	for (uint32_t i = 0; i < f->thing_count; i++)
		if (tc_text_is(name, f->things[i].name))
			return &f->things[i];
	assert_true(f->thing_count < THINGS_MAX && name.length < sizeof f->things[0].name);
	thing *t = &f->things[f->thing_count++];
	memcpy(t->name, name.at, name.length);
	t->subject = subject;
	return t;
}

static inline tc_text cut_before(tc_text *rest, const char *sign)
{
	const char *at = rest->length ? memmem(rest->at, rest->length, sign, strlen(sign)) : NULL;
	const tc_text head = {rest->at, at ? (size_t)(at - rest->at) : rest->length};
	const size_t used = at ? head.length + strlen(sign) : rest->length;
	*rest = (tc_text){rest->at + used, rest->length - used};
	return tc_text_trim(head);
}

static inline tc_value window_value(fake *f, tc_text text)
{
	tc_window *w = TC_NEW(f->arena, tc_window);
	tc_span *spans = TC_ARRAY(f->arena, 8, tc_span);
	tc_quantity_error error;
	while (text.length)
		assert_true(tc_span_read(cut_before(&text, ","), &spans[w->count++], &error));
	w->spans = spans;
	return (tc_value){.state = TC_SAID, .type = TC_T_WINDOW, .window = w};
}

static inline tc_value value_of_text(fake *f, const tc_field_row *row, tc_text text)
{
	tc_value v = {.state = TC_SAID, .type = (uint8_t)row->type};
	tc_quantity quantity;
	tc_quantity_error error;
	if (tc_text_is(text, "unknown") || tc_text_is(text, "absent")) {
		v.state = tc_text_is(text, "unknown") ? TC_UNKNOWN : TC_ABSENT;
	} else if (tc_text_starts(text, "assumed ")) {
		v = value_of_text(f, row, (tc_text){text.at + 8, text.length - 8});
		v.state = TC_ASSUMED;
	} else if (row->type == TC_T_TRUTH) {
		v.truth = tc_text_is(text, "yes") ? TC_TRUE : TC_FALSE;
	} else if (row->type == TC_T_SYMBOL) {
		v.symbol = tc_word_of(f->rulebook->library, row->vocabulary, text);
		assert_int_not_equal(v.symbol, TC_NONE);
	} else if (row->type == TC_T_SYMBOLS) {
		while (text.length) {
			const tc_text word = cut_before(&text, ",");
			if (!tc_text_is(word, "nothing"))
				v.set |= (uint64_t)1 << tc_word_of(f->rulebook->library, row->vocabulary, word);
		}
	} else if (row->type == TC_T_TEXT) {
		v.text = tc_arena_text(f->arena, text.at + 1, text.length - 2);
	} else if (row->type == TC_T_WINDOW) {
		v = window_value(f, text);
	} else if (row->type == TC_T_SUBJECT) {
		v.subject = (uint8_t)row->of;
		v.is = thing_of(f, text, row->of);
	} else if (row->type != TC_T_BLEND) {
		if (!tc_quantity_read(text, false, &quantity, &error))
			fail_msg("%.*s: %s", (int)text.length, text.at, error.message);
		v.number = quantity.si;
	}
	return v;
}

static inline void take_value(fake *f, tc_text left, tc_text right)
{
	tc_text name = {NULL, 0};
	if (memchr(left.at, '.', left.length))
		name = cut_before(&left, ".");
	thing *t = name.length ? thing_of(f, name, TC_S_LAYER) : NULL;
	said *s = &f->said[f->said_count++];
	assert_true(f->said_count <= SAID_MAX);
	s->of = t;
	s->field = tc_field_find(t ? t->subject : TC_S_ASK, left);
	if (s->field == TC_NONE)
		fail_msg("no field %.*s", (int)left.length, left.at);
	tc_field_row room;
	const tc_field_row *row = tc_field_row_of(s->field, &room);
	if (tc_text_starts(right, "argument "))
		s->argument = right.at[9] - '0';
	else
		s->value = value_of_text(f, row, right);
}

static inline void take_range(fake *f, tc_text left, tc_text names)
{
	uint32_t range = 0;
	while (!tc_text_is(left, tc_range_names[range]))
		assert_true(++range <= TC_R_PASSES);
	static const tc_subject subjects[] = {[TC_R_EARLIER_STEPS] = TC_S_STEP, [TC_R_LATER_STEPS] = TC_S_STEP,
	    [TC_R_STEPS_SINCE] = TC_S_STEP, [TC_R_ALL_STEPS] = TC_S_STEP, [TC_R_ALL_PARTS] = TC_S_PART,
	    [TC_R_ALL_PRODUCTS] = TC_S_PRODUCT, [TC_R_EXPOSED] = TC_S_EXPOSED, [TC_R_PASSES] = TC_S_LAYER};
	while (names.length) {
		const tc_text name = cut_before(&names, " ");
		if (name.length)
			f->items[range][f->counts[range]++] = thing_of(f, name, subjects[range] ? subjects[range] : TC_S_LAYER);
	}
}

static inline void take_item(fake *f, tc_text item)
{
	static const char *const asks[] = {"recipe", "part", "step", "coat", "contact", "touch"};
	for (uint32_t a = 0; a < TC_ASK_COUNT; a++)
		if (tc_text_is(item, asks[a])) {
			f->q.ask = (tc_ask)a;
			return;
		}
	tc_text right = item;
	if (item.length == 0)
		return;
	if (memchr(item.at, '=', item.length)) {
		const tc_text left = cut_before(&right, "=");
		take_value(f, left, tc_text_trim(right));
	} else if (memchr(item.at, ':', item.length)) {
		const tc_text left = cut_before(&right, ":");
		take_range(f, left, right);
	} else {
		const tc_text left = cut_before(&right, " is ");
		thing *t = thing_of(f, left, TC_S_LAYER);
		t->entry = tc_library_by_id(f->rulebook->library, tc_text_trim(right));
		if (!t->entry && !tc_text_is(right, "nothing"))
			fail_msg("no material %.*s", (int)right.length, right.at);
	}
}

static inline void fake_start(fake *f, const tc_rulebook *rulebook, tc_text data)
{
	static const struct {
		const char *name;
		tc_subject subject;
	} slots[TC_SLOT_COUNT] = {{"recipe", TC_S_RECIPE}, {"shop", TC_S_SHOP}, {"part", TC_S_PART}, {"step", TC_S_STEP},
	    {"coat", TC_S_LAYER}, {"under", TC_S_EXPOSED}, {"liquid", TC_S_LIQUID}, {"new", TC_S_PRODUCT}};
	memset(f, 0, sizeof *f);
	f->rulebook = rulebook;
	f->arena = tc_arena_new(NULL, 0);
	f->getter = (tc_getter){fake_field, fake_range, fake_material, fake_print};
	f->steps_left = TC_STEPS_PER_CHECK;
	f->q = (tc_question){.rulebook = rulebook, .getter = &f->getter, .user = f, .ask = TC_ASK_CONTACT,
	    .steps_left = &f->steps_left};
	for (uint32_t i = 0; i < TC_NAMES_MAX; i++)
		f->q.bound[i] = tc_absent(TC_T_SUBJECT);
	for (uint32_t i = 0; i < TC_SLOT_COUNT; i++)
		f->q.bound[i] = (tc_value){.state = TC_SAID, .type = TC_T_SUBJECT, .subject = (uint8_t)slots[i].subject,
		    .is = thing_of(f, tc_text_of(slots[i].name), slots[i].subject)};
	while (data.length)
		take_item(f, cut_before(&data, ";"));
}

static inline void fake_end(fake *f)
{
	tc_arena_free(f->arena);
}

#endif
