/* Values as keys take them: quantities, truths, words, texts, whole numbers, ratios. Each refusal says what would be
 * right. */
#include "stack/private.h"

#define COLDEST 223.15 /* K; with HOTTEST the range in which science/cure.h holds */
#define HOTTEST 473.15
#define LONGEST TC_TIME_MAX
#define THICK_MOST 1e-2 /* m: a wet film, a nozzle */

#define NUMBER(name, d, least, most, positive, u, example)                                                             \
	{                                                                                                              \
		.key = name, .type = TC_T_NUMBER, .dim = &TC_DIM_##d, .low = least, .high = most, .above = positive,   \
		.unit = u, .such = example                                                                             \
	}
#define DEGREES(name, least, most)                                                                                     \
	{                                                                                                              \
		.key = name, .type = TC_T_TEMPERATURE, .low = least, .high = most, .unit = "°C", .such = "21 °C"      \
	}
#define PERCENT(name, most, example)                                                                                   \
	{                                                                                                              \
		.key = name, .type = TC_T_SHARE, .low = 0, .high = most, .unit = "%", .such = example                  \
	}

static const tc_wanted wanted[TC_KEY_COUNT] = {
    /* workshop: ranges are those of src/library/default.def */
    [TC_KEY_TEMPERATURE] = DEGREES("temperature", 0, 0),
    [TC_KEY_HUMIDITY] = PERCENT("humidity", 0, "50 %"),
    [TC_KEY_AIR_SPEED] = NUMBER("air_speed", SPEED, 0, 0, false, "m/s", "0.3 m/s"),
    [TC_KEY_ROOM] = NUMBER("room", VOLUME, 0, 0, false, "m³", "32 m³"),
    [TC_KEY_EXTRACTION] = NUMBER("extraction", FLOW, 0, 0, false, "m³/h", "300 m³/h"),
    /* parts */
    [TC_KEY_AREA] = NUMBER("area", AREA, 0, 1e4, true, "cm²", "120 cm²"),
    [TC_KEY_AREAS] = PERCENT("areas", 1, "45 %"),
    [TC_KEY_SIZE] = NUMBER("size", LENGTH, 0, 100, true, "mm", "210 × 62 × 48 mm"),
    [TC_KEY_THICKNESS] = NUMBER("thickness", LENGTH, 0, 10, true, "mm", "1.5 mm"),
    [TC_KEY_AGE] = NUMBER("age", TIME, 0, LONGEST, false, "y", "10 y"),
    [TC_KEY_LINES] = NUMBER("lines", LENGTH, 0, 0.1, true, "mm", "0.3 mm"),
    [TC_KEY_WIDTH] = NUMBER("width", LENGTH, 0, 0.1, true, "mm", "0.3 mm"),
    /* steps */
    [TC_KEY_WAIT] = NUMBER("wait", TIME, 0, LONGEST, false, "min", "30 min"),
    [TC_KEY_TIME] = NUMBER("time", TIME, 0, LONGEST, false, "min", "5 min"),
    [TC_KEY_TAKES] = NUMBER("takes", TIME, 0, LONGEST, false, "min", "20 min"),
    [TC_KEY_FLASH] = NUMBER("flash", TIME, 0, LONGEST, false, "min", "5 min"),
    [TC_KEY_AT] = DEGREES("at", COLDEST, HOTTEST),
    [TC_KEY_DEPTH] = NUMBER("depth", LENGTH, 0, 0.1, true, "mm", "0.4 mm"),
    [TC_KEY_WET_FILM] = NUMBER("wet_film", LENGTH, 0, THICK_MOST, true, "µm", "18 µm"),
    [TC_KEY_NOZZLE] = NUMBER("nozzle", LENGTH, 0, THICK_MOST, true, "mm", "0.3 mm"),
    [TC_KEY_ADD] = PERCENT("add", 100, "30 %"),
};

const tc_wanted *tc_wanted_of(uint32_t key)
{
	return &wanted[key];
}

bool tc_scalar_given(const tc_node *node)
{
	if (node->kind != TC_SCALAR || node->count == 0)
		return false;
	if (node->text[0] > ' ') /* plain ASCII: the ordinary case */
		return true;
	return tc_text_trim(tc_node_text(node)).length > 0;
}

const char *tc_node_shown(const tc_node *node)
{
	if (tc_scalar_given(node))
		return node->text;
	return node->kind == TC_SCALAR ? "empty" : tc_node_kind_name(node);
}

/* --- quantities -------------------------------------------------------------------------------------------------- */

/* What a person calls such a quantity, into `name`. */
static void name_kind(tc_type type, tc_dim dim, tc_buffer *name)
{
	if (type == TC_T_SHARE)
		tc_buffer_puts(name, "a share");
	else if (type == TC_T_TEMPERATURE)
		tc_buffer_puts(name, "a temperature");
	else
		tc_dim_name(dim, name);
}

static const char *shown(const tc_buffer *buffer)
{
	return buffer->at ? buffer->at : "";
}

static void refuse_kind(tc_reading *r, const tc_node *node, const tc_wanted *want, const tc_quantity *q)
{
	tc_buffer is, due;
	tc_buffer_start(&is, tc_arena_allocator(r->arena));
	tc_buffer_start(&due, tc_arena_allocator(r->arena));
	name_kind(q->type, q->dim, &is);
	name_kind(want->type, want->dim ? *want->dim : TC_DIM_NONE, &due);
	tc_refuse(r, "dimensions", node, "`%s` is %s and `%s` takes %s; write it as `%s`", node->text, shown(&is),
	    want->key, shown(&due), want->such);
	tc_buffer_free(&is);
	tc_buffer_free(&due);
}

static void refuse_range(tc_reading *r, const tc_node *node, const tc_wanted *want, double si)
{
	tc_buffer low, high;
	if (want->dim && tc_dim_same(*want->dim, TC_DIM_TIME) && si > want->high) {
		tc_refuse(r, "bound", node, "`%s` is `%s`, longer than the 100 years that a plan may take", want->key,
		    node->text);
		return;
	}
	if (want->above && si <= want->low) {
		tc_refuse(r, "out-of-range", node, "`%s` is `%s`; it must be above zero", want->key, node->text);
		return;
	}
	tc_buffer_start(&low, tc_arena_allocator(r->arena));
	tc_buffer_start(&high, tc_arena_allocator(r->arena));
	const tc_dim dim = want->dim ? *want->dim : TC_DIM_NONE;
	tc_quantity_print(&low, want->type, dim, want->low, 3, NULL);
	tc_quantity_print(&high, want->type, dim, want->high, 3, NULL);
	tc_refuse(r, "out-of-range", node, "`%s` is `%s`; it can only lie between %s and %s", want->key, node->text,
	    shown(&low), shown(&high));
	tc_buffer_free(&low);
	tc_buffer_free(&high);
}

static bool in_range(const tc_wanted *want, double si)
{
	if (!isfinite(si) || tc_compare(si, want->high) > 0)
		return false;
	return want->above ? si > want->low : tc_compare(si, want->low) >= 0;
}

bool tc_take_quantity(tc_reading *r, const tc_node *node, const tc_wanted *want, tc_value *value)
{
	tc_quantity q;
	tc_quantity_error error;
	if (!tc_scalar_given(node)) {
		tc_refuse(r, "wrong-shape", node, "`%s` is %s; write `%s`", want->key, tc_node_shown(node), want->such);
		return false;
	}
	if (!tc_quantity_read(tc_node_text(node), true, &q, &error)) {
		r->bad = true;
		tc_diag_add(r->diags, TC_ERROR, "quantity", tc_node_text_place(r->source, node, error.at), "`%s`: %s",
		    want->key, error.message);
		return false;
	}
	if (q.bare)
		tc_refuse(r, "no-unit", node, "`%s` has no unit; write `%s %s`", node->text, node->text, want->unit);
	else if (q.type != want->type || (want->dim && !tc_dim_same(q.dim, *want->dim)))
		refuse_kind(r, node, want, &q);
	else if (!in_range(want, q.si))
		refuse_range(r, node, want, q.si);
	else {
		*value = (tc_value){.state = TC_SAID, .type = (uint8_t)want->type, .number = q.si};
		return true;
	}
	return false;
}

/* --- whole numbers and ratios ------------------------------------------------------------------------------------ */

uint32_t tc_take_whole(tc_reading *r, const tc_node *node, const char *key, uint32_t most, const char *of)
{
	tc_quantity q;
	tc_quantity_error error;
	if (!tc_scalar_given(node) || !tc_quantity_read(tc_node_text(node), true, &q, &error) || !q.bare ||
	    q.si != floor(q.si))
		tc_refuse(r, "wrong-shape", node, "`%s` is `%s`; it is a whole number, such as `2`", key,
		    tc_node_shown(node));
	else if (q.si < 1)
		tc_refuse(r, "out-of-range", node, "`%s` is `%s`; it is 1 at least", key, node->text);
	else if (q.si > most)
		tc_refuse(r, "bound", node, "`%s` is `%s`; %s at most %u", key, node->text, of, (unsigned)most);
	else
		return (uint32_t)q.si;
	return 0;
}

unsigned tc_take_ratio(tc_reading *r, const tc_node *node, const char *key, unsigned most, double *terms)
{
	tc_quantity_error error;
	if (!tc_scalar_given(node)) {
		tc_refuse(r, "wrong-shape", node, "`%s` is %s; write a ratio, such as `2:1`", key, tc_node_shown(node));
		return 0;
	}
	const unsigned count = tc_ratio_read(tc_node_text(node), terms, &error);
	if (count == 0) {
		r->bad = true;
		tc_diag_add(r->diags, TC_ERROR, "ratio", tc_node_text_place(r->source, node, error.at), "`%s`: %s", key,
		    error.message);
	} else if (count > most) {
		tc_refuse(r, "ratio", node, "`%s` is `%s`; it has two terms, such as `1:1`", key, node->text);
		return 0;
	}
	return count;
}

/* --- truths, texts, words ---------------------------------------------------------------------------------------- */

bool tc_take_truth(tc_reading *r, const tc_node *node, const char *key, bool *truth)
{
	*truth = tc_node_is(node, "yes");
	if (*truth || tc_node_is(node, "no"))
		return true;
	tc_refuse(r, "not-a-truth", node, "`%s` is `%s`; write `yes` or `no`", key, tc_node_shown(node));
	return false;
}

const char *tc_take_text(tc_reading *r, const tc_node *node, const char *key, const char *such)
{
	if (tc_scalar_given(node))
		return node->text;
	tc_refuse(r, "wrong-shape", node, "`%s` is %s; write a text, such as `%s`", key, tc_node_shown(node), such);
	return NULL;
}

/* The words of a vocabulary, or of the section `defects`, one after the other; NULL past the last. */
typedef struct words {
	const tc_library *library;
	const tc_word_list *list; /* NULL: defects */
} words;

static const char *word_at(words w, uint32_t index)
{
	const char *about;
	if (w.list)
		return index < w.list->count ? w.list->words[index] : NULL;
	return index < tc_library_defects(w.library) ? tc_library_defect(w.library, index, &about) : NULL;
}

static void refuse_word(tc_reading *r, const tc_node *node, const char *key, words w)
{
	tc_nearest nearest = TC_NEAREST(tc_node_text(node));
	tc_buffer all;
	tc_buffer_start(&all, tc_arena_allocator(r->arena));
	const char *word;
	for (uint32_t i = 0; (word = word_at(w, i)) != NULL; i++) {
		tc_nearest_offer(&nearest, tc_text_of(word));
		tc_buffer_puts(&all, i ? ", " : "; it is one of ");
		tc_buffer_puts(&all, word);
	}
	tc_refuse(r, "unknown-word", node, "`%s` takes no word `%s`" TC_NEAREST_F, key, tc_node_shown(node),
	    TC_NEAREST_A(nearest.found, shown(&all)));
	tc_buffer_free(&all);
}

uint32_t tc_take_word(tc_reading *r, const tc_node *node, const char *key, const char *vocabulary)
{
	words w = {.library = r->library};
	uint32_t word;
	if (tc_text_is(tc_text_of(vocabulary), "defect"))
		word = tc_scalar_given(node) ? tc_library_defect_find(r->library, tc_node_text(node)) : TC_NONE;
	else {
		w.list = tc_library_words(r->library, tc_text_of(vocabulary));
		if (!w.list) {
			tc_refuse(r, "unknown-name", node,
			    "`%s` takes a word of `%s`, which the rulebook does not list", key, vocabulary);
			return TC_NONE;
		}
		word = tc_scalar_given(node) ? tc_word_find(w.list, tc_node_text(node)) : TC_NONE;
	}
	if (word == TC_NONE)
		refuse_word(r, node, key, w);
	return word;
}
