/* Values: texts, quantities with their units, words, names of materials. */
#include <stdio.h>
#include <string.h>

#include "report/schema_parts.h"
#include "report/words.h"

/* A blank in any of the forms that keyboards give, in a class and alone. */
#define BLANK_CLASS "[ \\t\\r\\n\\u00a0\\u202f\\u2007\\u2009]"
#define BLANKS BLANK_CLASS "*"
#define NUMBER "[0-9]+(?:\\.[0-9]+)?(?:[eE][-+]?[0-9]+)?"
#define ID "^[a-z0-9][a-z0-9-]*$"

static json_t *with_types(tc_schema *s, const char *one, const char *other, const char *third)
{
	const char *const names[] = {one, other, third};
	json_t *object = tc_json_object(&s->json), *types = tc_json_array(&s->json);
	for (size_t i = 0; i < 3 && names[i]; i++)
		tc_json_push(&s->json, types, tc_json_text(&s->json, names[i]));
	tc_json_put(&s->json, object, "type", types);
	return object;
}

static json_t *make_text(tc_schema *s, const void *unused)
{
	(void)unused;
	json_t *object = with_types(s, "string", "number", "boolean"); /* as other readers of YAML take a bare word */
	tc_schema_set(s, object, "pattern", "[^ \\t\\r\\n\\u00a0\\u202f\\u2007\\u2009]");
	return object;
}

json_t *tc_schema_text(tc_schema *s)
{
	return tc_schema_ref(s, "text", make_text, NULL);
}

static json_t *make_truth(tc_schema *s, const void *unused)
{
	(void)unused;
	json_t *object = tc_json_object(&s->json), *words = tc_json_array(&s->json);
	tc_json_push(&s->json, words, tc_json_text(&s->json, "yes"));
	tc_json_push(&s->json, words, tc_json_text(&s->json, "no"));
	tc_json_push(&s->json, words, json_true()); /* what readers of older YAML make of yes and no */
	tc_json_push(&s->json, words, json_false());
	tc_json_put(&s->json, object, "enum", words);
	tc_schema_set(s, object, "description", "write yes or no");
	return object;
}

json_t *tc_schema_truth(tc_schema *s)
{
	return tc_schema_ref(s, "truth", make_truth, NULL);
}

/* --- quantities -------------------------------------------------------------------------------------------------- */

typedef struct measure {
	tc_type type;
	tc_dim dim;
} measure;

static bool suits(const measure *m, const tc_unit *unit)
{
	if (m->type == TC_T_TEMPERATURE && unit->difference) /* K */
		return true;
	return unit->type == m->type && !unit->difference && (m->type != TC_T_NUMBER || tc_dim_same(unit->dim, m->dim));
}

/* `number unit`, for a pattern. */
static void put_quantity(const measure *m, tc_buffer *out)
{
	const tc_unit *unit;
	bool first = true;
	tc_buffer_puts(out, m->type == TC_T_TEMPERATURE ? "-?" : "");
	tc_buffer_puts(out, NUMBER BLANKS "(?:");
	for (size_t i = 0; tc_unit_spelling(i, &unit); i++) {
		if (!suits(m, unit))
			continue;
		tc_buffer_puts(out, first ? "" : "|");
		tc_unit_pattern(i, out);
		first = false;
	}
	tc_buffer_char(out, ')');
}

static json_t *of_pattern(tc_schema *s, tc_buffer *pattern)
{
	s->json.failed = s->json.failed || pattern->failed;
	json_t *object = tc_schema_pattern(s, tc_words_text(pattern));
	tc_buffer_free(pattern);
	return object;
}

/* 'a time in s, min, h …' */
static void describe(tc_schema *s, const measure *m, json_t *object)
{
	tc_buffer text;
	const tc_unit *unit, *units[64];
	size_t count = 0;
	tc_buffer_start(&text, NULL);
	if (m->type == TC_T_NUMBER)
		tc_dim_name(m->dim, &text);
	else
		tc_buffer_puts(&text, m->type == TC_T_SHARE ? "a share" : "a temperature");
	for (size_t i = 0; tc_unit_spelling(i, &unit) && count < 64; i++) {
		bool new = suits(m, unit);
		for (size_t j = 0; j < count; j++)
			new = new &&units[j] != unit;
		if (!new)
			continue;
		tc_buffer_print(&text, "%s%s", count ? ", " : " with its unit: ", unit->name);
		units[count++] = unit;
	}
	s->json.failed = s->json.failed || text.failed;
	tc_schema_set(s, object, "description", tc_words_text(&text));
	tc_buffer_free(&text);
}

static json_t *make_quantity(tc_schema *s, const void *of)
{
	tc_buffer pattern;
	tc_buffer_start(&pattern, NULL);
	tc_buffer_puts(&pattern, "^" BLANKS);
	put_quantity(of, &pattern);
	tc_buffer_puts(&pattern, BLANKS "$");
	json_t *object = of_pattern(s, &pattern);
	describe(s, of, object);
	return object;
}

static json_t *make_number(tc_schema *s, const void *unused)
{
	(void)unused;
	json_t *object = with_types(s, "string", "number", NULL);
	tc_schema_set(s, object, "pattern", "^" BLANKS "-?" NUMBER BLANKS "$");
	tc_schema_set(s, object, "description", "a number without a unit");
	return object;
}

json_t *tc_schema_quantity(tc_schema *s, tc_type type, const tc_dim *dim)
{
	const measure m = {.type = type, .dim = dim ? *dim : TC_DIM_NONE};
	char name[48] = "share";
	if (type == TC_T_NUMBER && tc_dim_none(m.dim))
		return tc_schema_ref(s, "number", make_number, NULL);
	if (type == TC_T_TEMPERATURE)
		snprintf(name, sizeof name, "temperature");
	else if (type == TC_T_NUMBER)
		snprintf(name, sizeof name, "quantity-%d.%d.%d.%d.%d", m.dim.length, m.dim.mass, m.dim.time,
		    m.dim.temperature, m.dim.amount);
	return tc_schema_ref(s, name, make_quantity, &m);
}

json_t *tc_schema_whole(tc_schema *s, uint32_t most)
{
	json_t *object = with_types(s, "string", "integer", NULL);
	tc_schema_set(s, object, "pattern", "^" BLANKS "0*[1-9][0-9]*(?:\\.0+)?" BLANKS "$");
	tc_schema_count(s, object, "minimum", 1);
	if (most)
		tc_schema_count(s, object, "maximum", most);
	return object;
}

json_t *tc_schema_ratio(tc_schema *s, unsigned most)
{
	char pattern[256];
	snprintf(pattern, sizeof pattern, "^" BLANKS "%s(?:" BLANKS ":" BLANKS "%s){1,%u}" BLANKS "$", NUMBER, NUMBER,
	    most - 1);
	return tc_schema_described(s, tc_schema_pattern(s, pattern), "a ratio such as 2:1");
}

/* Three edges, of which the last has a unit. */
json_t *tc_schema_size(tc_schema *s)
{
	const measure length = {.type = TC_T_NUMBER, .dim = TC_DIM_LENGTH};
	tc_buffer edge, pattern;
	tc_buffer_start(&edge, NULL);
	tc_buffer_start(&pattern, NULL);
	put_quantity(&length, &edge);
	const char *e = tc_words_text(&edge);
	const char *times = BLANKS "[×xX*]" BLANKS;
	tc_buffer_print(
	    &pattern, "^" BLANKS "(?:%s|" NUMBER ")%s(?:%s|" NUMBER ")%s%s" BLANKS "$", e, times, e, times, e);
	pattern.failed = pattern.failed || edge.failed;
	tc_buffer_free(&edge);
	return of_pattern(s, &pattern);
}

static json_t *make_window(tc_schema *s, const void *unused)
{
	(void)unused;
	const measure time = {.type = TC_T_NUMBER, .dim = TC_DIM_TIME};
	tc_buffer pattern;
	tc_buffer_start(&pattern, NULL);
	tc_buffer_puts(&pattern, "^" BLANKS);
	put_quantity(&time, &pattern);
	tc_buffer_puts(&pattern, BLANK_CLASS "+(?:on|to" BLANK_CLASS "+");
	put_quantity(&time, &pattern);
	tc_buffer_puts(&pattern, ")" BLANKS "$");
	return tc_schema_described(s, of_pattern(s, &pattern), "a window such as 10 min to 48 h, or 10 min on");
}

/* --- words and names --------------------------------------------------------------------------------------------- */

typedef struct meanings {
	json_t *words;
	tc_buffer text;
} meanings;

static void add_word(tc_schema *s, meanings *m, const char *word, const char *about)
{
	tc_json_push(&s->json, m->words, tc_json_text(&s->json, word));
	tc_buffer_print(&m->text, "%s%s", m->text.length ? "\n" : "", word);
	if (about && *about)
		tc_buffer_print(&m->text, ": %s", about);
}

static json_t *make_word(tc_schema *s, const void *of)
{
	const char *vocabulary = of;
	const tc_word_list *list = tc_library_words(s->library, tc_text_of(vocabulary));
	json_t *object = tc_json_object(&s->json);
	meanings m = {.words = tc_json_array(&s->json)};
	tc_buffer_start(&m.text, NULL);
	if (strcmp(vocabulary, "defect") == 0)
		for (uint32_t i = 0; i < tc_library_defects(s->library); i++) {
			const char *about = NULL, *word = tc_library_defect(s->library, i, &about);
			add_word(s, &m, word, about);
		}
	for (uint32_t i = 0; list && i < list->count; i++)
		add_word(s, &m, list->words[i], list->about[i]);
	s->json.failed = s->json.failed || m.text.failed;
	tc_json_put(&s->json, object, "enum", m.words);
	tc_schema_set(s, object, "description", tc_words_text(&m.text));
	tc_buffer_free(&m.text);
	return object;
}

json_t *tc_schema_word(tc_schema *s, const char *vocabulary)
{
	char name[64];
	snprintf(name, sizeof name, "word-%s", vocabulary);
	return tc_schema_ref(s, name, make_word, vocabulary);
}

json_t *tc_schema_words(tc_schema *s, const char *vocabulary)
{
	return tc_schema_any(
	    s, tc_schema_word(s, vocabulary), tc_schema_list(s, tc_schema_word(s, vocabulary), 0, TC_SYMBOLS_MAX));
}

static json_t *make_material(tc_schema *s, const void *of)
{
	const uint32_t sections = *(const uint32_t *)of;
	json_t *object = tc_json_object(&s->json), *names = tc_json_array(&s->json);
	for (uint32_t i = 0; i < tc_library_count(s->library); i++) {
		const tc_entry *entry = tc_library_entry(s->library, i);
		if (entry->sections & sections)
			tc_json_push(&s->json, names, tc_json_text(&s->json, entry->id));
	}
	tc_json_put(&s->json, object, "enum", names);
	return object;
}

json_t *tc_schema_material(tc_schema *s, uint32_t sections)
{
	char name[32];
	snprintf(name, sizeof name, "material-%x", (unsigned)sections);
	json_t *value = tc_schema_any(s, tc_schema_ref(s, name, make_material, &sections), tc_schema_text(s));
	return value;
}

json_t *tc_schema_places(tc_schema *s)
{
	return tc_schema_any(s, tc_schema_text(s), tc_schema_list(s, tc_schema_text(s), 1, 0));
}

static json_t *make_id(tc_schema *s, const void *unused)
{
	(void)unused;
	json_t *object = with_types(s, "string", "integer", NULL);
	tc_schema_set(s, object, "pattern", ID);
	tc_schema_count(s, object, "maxLength", TC_SYMBOL_TEXT_MAX);
	return object;
}

json_t *tc_schema_id(tc_schema *s)
{
	return tc_schema_ref(s, "id", make_id, NULL);
}

/* --- figures ----------------------------------------------------------------------------------------------------- */

static json_t *make_basis(tc_schema *s, const void *unused)
{
	(void)unused;
	json_t *practice = tc_json_object(&s->json), *object = tc_schema_object(s);
	tc_schema_set(s, practice, "const", "practice");
	tc_schema_key(s, object, "source", tc_schema_described(s, tc_schema_id(s), "id of a source"));
	tc_schema_key(s, object, "at", tc_schema_described(s, tc_schema_text(s), "table, chapter, page"));
	tc_schema_key(s, object, "memory", tc_schema_described(s, tc_schema_truth(s), "remembered, not read there"));
	tc_schema_require(s, object, "source");
	return tc_schema_described(
	    s, tc_schema_any(s, practice, object), "where it comes from: practice, or {source: ID, at: …}");
}

json_t *tc_schema_basis(tc_schema *s)
{
	return tc_schema_ref(s, "basis", make_basis, NULL);
}

static json_t *make_blend(tc_schema *s, const void *unused)
{
	(void)unused;
	json_t *object = tc_schema_map_of(s, NULL, tc_schema_quantity(s, TC_T_SHARE, NULL));
	json_t *keys = tc_json_object(&s->json), *by = tc_json_object(&s->json), *rest = tc_json_object(&s->json);
	json_t *words = tc_json_array(&s->json);
	tc_json_push(&s->json, words, tc_json_text(&s->json, "volume"));
	tc_json_push(&s->json, words, tc_json_text(&s->json, "mass"));
	tc_json_put(&s->json, by, "enum", words);
	tc_schema_set(s, rest, "const", "unknown");
	tc_json_put(&s->json, keys, "by", by);
	tc_json_put(&s->json, keys, "rest", rest);
	tc_json_put(&s->json, object, "properties", keys);
	tc_json_put(&s->json, object, "not", tc_schema_required(s, "is"));
	tc_schema_set(s, object, "description", "shares of solvents: {toluene: 60 %, acetone: 40 %}");
	return tc_schema_any(s, object, tc_schema_text(s));
}

static json_t *none(tc_schema *s)
{
	json_t *object = tc_json_object(&s->json);
	tc_schema_set(s, object, "const", "none");
	return object;
}

static json_t *names(tc_schema *s)
{
	return tc_schema_any(
	    s, tc_schema_material(s, UINT32_MAX), tc_schema_list(s, tc_schema_material(s, UINT32_MAX), 0, 0));
}

static json_t *plain_value(tc_schema *s, const tc_property_row *row)
{
	switch (row->type) {
	case TC_T_NUMBER:
	case TC_T_SHARE:
	case TC_T_TEMPERATURE:
		return tc_schema_quantity(s, row->type, &row->dim);
	case TC_T_WINDOW:
		return tc_schema_any(s, tc_schema_ref(s, "window", make_window, NULL),
		    tc_schema_list(s, tc_schema_ref(s, "window", make_window, NULL), 1, 0));
	case TC_T_SYMBOL:
		return tc_schema_word(s, row->vocabulary);
	case TC_T_SYMBOLS:
		return tc_schema_words(s, row->vocabulary);
	case TC_T_TRUTH:
		return tc_schema_truth(s);
	default:
		return tc_schema_text(s);
	}
}

static json_t *value_of(tc_schema *s, const tc_property_row *row)
{
	switch (row->form) {
	case TC_FORM_BLEND:
		return tc_schema_ref(s, "blend", make_blend, NULL);
	case TC_FORM_ENTRIES:
		return names(s);
	case TC_FORM_RATIO:
		return tc_schema_ratio(s, TC_MIX_PARTS_MAX);
	default:
		return plain_value(s, row);
	}
}

static json_t *long_form(tc_schema *s, json_t *value)
{
	json_t *object = tc_schema_object(s);
	tc_schema_key(s, object, "is", tc_schema_any(s, value, none(s)));
	tc_schema_key(s, object, "from", tc_schema_basis(s));
	tc_schema_key(s, object, "spread", tc_schema_described(s, tc_schema_text(s), "as published: A to B"));
	tc_schema_key(s, object, "note", tc_schema_text(s));
	tc_schema_require(s, object, "is");
	return object;
}

static json_t *make_figure(tc_schema *s, const void *of)
{
	const tc_property_row *row = of;
	json_t *shapes = tc_schema_any(s, value_of(s, row), none(s));
	tc_json_push(&s->json, json_object_get(shapes, "anyOf"), long_form(s, value_of(s, row)));
	return shapes;
}

/* The help, and the range where there is one. */
static json_t *with_range(tc_schema *s, json_t *value, const tc_property_row *row)
{
	tc_buffer text;
	tc_buffer_start(&text, NULL);
	tc_buffer_puts(&text, row->help);
	if (row->low < row->high) {
		tc_buffer_puts(&text, "; between ");
		tc_quantity_print(&text, row->type, row->dim, row->low, 3, NULL);
		tc_buffer_puts(&text, " and ");
		tc_quantity_print(&text, row->type, row->dim, row->high, 3, NULL);
	}
	s->json.failed = s->json.failed || text.failed;
	tc_schema_set(s, value, "description", tc_words_text(&text));
	tc_buffer_free(&text);
	return value;
}

json_t *tc_schema_figure(tc_schema *s, const tc_property_row *row)
{
	char name[64];
	snprintf(name, sizeof name, "figure-%s", row->key);
	return with_range(s, tc_schema_ref(s, name, make_figure, row), row);
}
