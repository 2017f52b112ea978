/* Files of a rulebook: its sections. Ids may stand in another file, so that those of the loaded rulebook are no more than proposed. */
#include "report/schema_parts.h"
#include "rule/step_key.h"

#define NAME "^[a-z][a-z0-9_]*$"

/* --- small ones -------------------------------------------------------------------------------------------------- */

static json_t *named(tc_schema *s, json_t *object, const char *key, json_t *value, const char *help)
{
	tc_schema_key(s, object, key, tc_schema_described(s, value, help));
	return object;
}

static json_t *expression(tc_schema *s)
{
	return tc_schema_text(s); /* docs/language.md; only the program knows it */
}

static json_t *id_or_list(tc_schema *s)
{
	return tc_schema_any(s, tc_schema_id(s), tc_schema_list(s, tc_schema_id(s), 0, 0));
}

static json_t *codes(tc_schema *s)
{
	const char *pattern = "^(?:H[0-9]{3}[A-Za-z]{0,2}|EUH[0-9]{3}[A-Z]?|none)$";
	return tc_schema_any(s, tc_schema_pattern(s, pattern), tc_schema_list(s, tc_schema_pattern(s, pattern), 0, 0));
}

static json_t *words_of(tc_schema *s, const char *const *words)
{
	json_t *object = tc_json_object(&s->json), *array = tc_json_array(&s->json);
	for (; *words; words++)
		tc_json_push(&s->json, array, tc_json_text(&s->json, *words));
	tc_json_put(&s->json, object, "enum", array);
	return object;
}

static json_t *asks(tc_schema *s)
{
	static const char *const words[] = {"recipe", "part", "step", "coat", "contact", "touch", NULL};
	return words_of(s, words);
}

/* --- sections ---------------------------------------------------------------------------------------------------- */

static json_t *source(tc_schema *s)
{
	json_t *object = tc_schema_object(s);
	named(s, object, "author", tc_schema_text(s), NULL);
	named(s, object, "title", tc_schema_text(s), NULL);
	named(s, object, "year", tc_schema_text(s), NULL);
	named(s, object, "read", tc_schema_truth(s), "yes: it was read; no: it is remembered");
	named(s, object, "note", tc_schema_text(s), NULL);
	tc_schema_require(s, object, "title");
	tc_schema_require(s, object, "read");
	return object;
}

static json_t *caution(tc_schema *s)
{
	json_t *object = tc_schema_object(s);
	json_t *verbs = tc_schema_words(s, "verb");
	named(s, object, "says", tc_schema_text(s), "the caution itself");
	named(s, object, "kinds", id_or_list(s), "kinds and materials that bring it up");
	named(s, object, "codes", codes(s), "hazard statements that bring it up");
	named(s, object, "verbs", verbs, "verbs at which it matters; left out: any");
	named(s, object, "breath", tc_schema_word(s, "breath"), "what it is that no figure of air clears");
	named(s, object, "rank", tc_schema_quantity(s, TC_T_NUMBER, NULL), "the smallest is shown first; 100 is usual");
	named(s, object, "from", tc_schema_basis(s), NULL);
	named(s, object, "note", tc_schema_text(s), NULL);
	tc_schema_require(s, object, "says");
	tc_schema_require(s, object, "from");
	return object;
}

static json_t *defect(tc_schema *s)
{
	json_t *object = tc_schema_object(s);
	named(s, object, "about", tc_schema_text(s), "what it looks like");
	named(s, object, "from", tc_schema_basis(s), NULL);
	named(s, object, "note", tc_schema_text(s), NULL);
	return object;
}

static json_t *let(tc_schema *s)
{
	static const char *const subjects[] = {
	    "recipe", "shop", "part", "step", "layer", "exposed", "liquid", "product", NULL};
	json_t *object = tc_schema_object(s);
	json_t *of = tc_schema_map_of(s, tc_schema_pattern(s, NAME), words_of(s, subjects));
	tc_schema_count(s, of, "minProperties", 1);
	tc_schema_count(s, of, "maxProperties", 2);
	named(s, object, "asks", asks(s), "the question in which it stands");
	named(s, object, "of", of, "one or two named subjects: {x: exposed}");
	named(s, object, "is", expression(s), "an expression");
	named(s, object, "about", tc_schema_text(s), NULL);
	named(s, object, "from", tc_json_object(&s->json), NULL);
	named(s, object, "note", tc_schema_text(s), NULL);
	tc_schema_require(s, object, "is");
	return object;
}

/* Figures of a section's entries, TC_SECTION_KINDS: all. */
static void add_figures(tc_schema *s, json_t *object, tc_section section)
{
	for (unsigned p = 0; p < TC_PROPERTY_COUNT; p++) {
		const tc_property_row *row = tc_property_row_of((tc_property)p);
		if (section == TC_SECTION_KINDS || row->sections & 1u << section)
			tc_schema_key(s, object, row->key, tc_schema_figure(s, row));
	}
}

static json_t *hazards(tc_schema *s)
{
	json_t *object = tc_schema_object(s);
	named(s, object, "is", codes(s), NULL);
	named(s, object, "from", tc_schema_basis(s), NULL);
	named(s, object, "note", tc_schema_text(s), NULL);
	tc_schema_require(s, object, "is");
	json_t *any = tc_schema_any(s, codes(s), object);
	return any;
}

static json_t *block(tc_schema *s, tc_section section)
{
	json_t *object = tc_schema_object(s);
	add_figures(s, object, section);
	named(s, object, "hazards", hazards(s), "hazard statements by their codes");
	named(s, object, "from", tc_schema_basis(s), NULL);
	named(s, object, "note", tc_schema_text(s), NULL);
	tc_schema_require(s, object, "from");
	return object;
}

static json_t *make_entry(tc_schema *s, const void *of)
{
	const tc_section section = *(const tc_section *)of;
	const bool kind = section == TC_SECTION_KINDS;
	json_t *object = tc_schema_object(s);
	json_t *names = tc_schema_any(s, tc_schema_text(s), tc_schema_list(s, tc_schema_text(s), 0, 0));
	named(s, object, kind ? "under" : "kind", tc_schema_id(s), kind ? "the kind above" : "the kind that it is of");
	named(s, object, "name", tc_schema_text(s), "what a person calls it");
	named(s, object, "also", names, "further names");
	named(s, object, "known_as", tc_schema_text(s),
	    "a pattern of names: a regular expression, anchored, case ignored");
	named(s, object, "about", tc_schema_text(s), NULL);
	named(s, object, "note", tc_schema_text(s), NULL);
	named(s, object, "from", tc_schema_basis(s), NULL);
	named(s, object, "given", tc_schema_list(s, block(s, section), 0, 0),
	    "blocks of figures, each with its own `from`");
	named(s, object, "hazards", hazards(s), "hazard statements by their codes");
	named(s, object, "cautions", id_or_list(s), "ids of cautions");
	add_figures(s, object, section);
	if (!kind)
		tc_schema_require(s, object, "kind");
	return object;
}

/* --- rules ------------------------------------------------------------------------------------------------------- */

/* Keys of a step with expressions and words, for a remedy. */
static json_t *make_edit(tc_schema *s, const void *unused)
{
	(void)unused;
	json_t *object = tc_json_object(&s->json), *names = tc_json_array(&s->json), *keys = tc_json_object(&s->json);
	tc_json_push(&s->json, names, tc_json_text(&s->json, "kind"));
	tc_json_push(&s->json, names, tc_json_text(&s->json, "that"));
	for (uint32_t v = 0; v < TC_VERB_COUNT; v++)
		tc_json_push(&s->json, names, tc_json_text(&s->json, tc_step_verb(v)->name));
	for (uint32_t k = 0; k < TC_STEP_KEY_COUNT; k++) {
		const tc_text name = tc_text_of(tc_step_key_of(k)->name);
		bool whole = tc_step_verb_find(name) == TC_NONE;
		for (size_t i = 0; i < name.length; i++)
			whole = whole && name.at[i] != '.';
		if (whole)
			tc_json_push(&s->json, names, tc_json_text(&s->json, name.at));
	}
	tc_json_put(&s->json, keys, "enum", names);
	tc_schema_set(s, object, "type", "object");
	tc_json_put(&s->json, object, "propertyNames", keys);
	tc_schema_count(s, object, "minProperties", 1);
	return object;
}

static json_t *edit(tc_schema *s)
{
	return tc_schema_ref(s, "edit", make_edit, NULL);
}

static json_t *place(tc_schema *s)
{
	static const char *const words[] = {"coat", "step", "under", NULL};
	return words_of(s, words);
}

static json_t *make_remedy(tc_schema *s, const void *unused)
{
	(void)unused;
	static const char *const edits[] = {"wait", "shorten", "change", "insert", "instead", "remove", "move", "do"};
	static const char *const step[] = {"step", NULL};
	json_t *object = tc_schema_object(s), *one = tc_json_array(&s->json), *move = tc_schema_object(s);
	named(s, move, "before", place(s), NULL);
	named(s, move, "after", place(s), NULL);
	named(s, object, "wait", expression(s), "wait longer: a time, as an expression");
	named(s, object, "shorten", expression(s), "wait less");
	named(s, object, "change", edit(s), "other keys at the step");
	named(s, object, "insert", edit(s), "a step, or {kind: K, that: …}");
	named(s, object, "instead", edit(s), "another material: {kind: K, that: …}");
	named(s, object, "remove", words_of(s, step), "leave the step out");
	named(s, object, "move", move, "{before: coat}");
	named(s, object, "do", tc_schema_text(s), "a sentence");
	named(s, object, "before", place(s), "where it is put in");
	named(s, object, "after", place(s), "where it is put in");
	for (size_t i = 0; i < sizeof edits / sizeof *edits; i++)
		tc_json_push(&s->json, one, tc_schema_required(s, edits[i]));
	tc_json_put(&s->json, object, "oneOf", one);
	return object;
}

/* One recipe, or some. */
static json_t *shown(tc_schema *s, uint32_t least)
{
	return tc_schema_any(s, tc_schema_ref(s, "short-recipe", tc_schema_recipe, NULL),
	    tc_schema_list(s, tc_schema_ref(s, "short-recipe", tc_schema_recipe, NULL), least, 0));
}

static json_t *shown_by(tc_schema *s)
{
	json_t *object = tc_schema_object(s);
	named(s, object, "breaks", shown(s, 1), "recipes in which it fires");
	named(s, object, "holds", shown(s, 1), "recipes in which it is false for every subject");
	named(s, object, "open", shown(s, 0), "recipes in which it is undecided");
	tc_schema_require(s, object, "breaks");
	tc_schema_require(s, object, "holds");
	return object;
}

static json_t *make_rule(tc_schema *s, const void *unused)
{
	(void)unused;
	static const char *const verdicts[] = {"note", "warning", "error", "undecided", NULL};
	static const char *const must[] = {"about", "asks", "when", "verdict", "says", "from", "shown_by"};
	json_t *object = tc_schema_object(s);
	named(s, object, "about", tc_schema_text(s), "in a line, what may go wrong");
	named(s, object, "asks", asks(s), "the question's subject");
	named(s, object, "when", expression(s), "an expression that is true where it goes wrong");
	named(s, object, "verdict", words_of(s, verdicts), NULL);
	named(s, object, "defect", tc_schema_text(s), "id of the defect that is to be expected");
	named(s, object, "says", tc_schema_text(s), "the message, with {expressions}");
	named(s, object, "remedies",
	    tc_schema_any(s, tc_schema_list(s, tc_schema_ref(s, "remedy", make_remedy, NULL), 0, 0),
	        tc_schema_pattern(s, "^none$")),
	    "edits that a machine can make and check again");
	named(s, object, "cautions", id_or_list(s), "ids of cautions");
	named(s, object, "outranks", id_or_list(s), "ids of rules that this one makes needless");
	named(
	    s, object, "from", tc_schema_any(s, tc_schema_basis(s), tc_schema_list(s, tc_schema_basis(s), 1, 0)), NULL);
	named(s, object, "shown_by", shown_by(s), "the rule's own tests");
	named(s, object, "note", tc_schema_text(s), NULL);
	for (size_t i = 0; i < sizeof must / sizeof *must; i++)
		tc_schema_require(s, object, must[i]);
	return object;
}

/* --- the file ---------------------------------------------------------------------------------------------------- */

static json_t *entries(tc_schema *s, tc_section section)
{
	tc_buffer name;
	tc_buffer_start(&name, NULL);
	tc_buffer_print(&name, "entry-%s", tc_section_name(section));
	s->json.failed = s->json.failed || name.failed;
	json_t *ref = tc_schema_ref(s, name.failed ? "" : name.at, make_entry, &section);
	tc_buffer_free(&name);
	return ref;
}

static json_t *defaults(tc_schema *s)
{
	json_t *object = tc_schema_object(s);
	for (unsigned d = 0; d < TC_DEFAULT_COUNT; d++) {
		const tc_property_row *row = tc_default_row_of((tc_default)d);
		json_t *figure = tc_schema_object(s);
		named(s, figure, "is", tc_schema_quantity(s, row->type, &row->dim), NULL);
		named(s, figure, "from", tc_schema_basis(s), NULL);
		named(s, figure, "spread", tc_schema_text(s), NULL);
		named(s, figure, "note", tc_schema_text(s), NULL);
		tc_schema_require(s, figure, "is");
		tc_schema_require(s, figure, "from");
		named(s, object, row->key, figure, row->help);
	}
	return object;
}

/* A change of what stands below: any of its keys, and why. */
static json_t *amendment(tc_schema *s)
{
	json_t *object = tc_schema_map_of(s, NULL, json_true()), *keys = tc_json_object(&s->json);
	tc_json_put(&s->json, keys, "because", tc_schema_text(s));
	tc_json_put(&s->json, object, "properties", keys);
	tc_schema_require(s, object, "because");
	return object;
}

static json_t *by_id(tc_schema *s, json_t *value)
{
	return tc_schema_map_of(s, tc_schema_id(s), value);
}

static json_t *by_name(tc_schema *s, json_t *value)
{
	return tc_schema_map_of(s, tc_schema_pattern(s, NAME), value);
}

static json_t *section_of(tc_schema *s, unsigned section)
{
	switch (section) {
	case TC_SECTION_SOURCES:
		return by_id(s, source(s));
	case TC_SECTION_WORDS:
		return by_id(s, tc_schema_map_of(s, tc_schema_id(s), tc_schema_text(s)));
	case TC_SECTION_CAUTIONS:
		return by_id(s, caution(s));
	case TC_SECTION_DEFAULTS:
		return defaults(s);
	case TC_SECTION_DEFECTS:
		return by_id(s, defect(s));
	case TC_SECTION_UNCLEAR:
	case TC_SECTION_RETIRE:
		return tc_schema_map_of(s, NULL, tc_schema_text(s));
	case TC_SECTION_LET:
		return by_name(s, let(s));
	case TC_SECTION_RULES:
		return by_id(s, tc_schema_ref(s, "rule", make_rule, NULL));
	case TC_SECTION_AMEND:
		return tc_schema_map_of(s, NULL, amendment(s));
	default:
		return by_id(s, entries(s, (tc_section)section));
	}
}

json_t *tc_schema_book(tc_schema *s)
{
	json_t *object = tc_schema_object(s);
	for (unsigned section = 0; section <= TC_SECTION_RETIRE; section++) {
		json_t *nothing = tc_json_object(&s->json), *both = tc_json_array(&s->json);
		tc_json_push(&s->json, both, json_null());
		tc_json_push(&s->json, both, tc_json_text(&s->json, ""));
		tc_json_put(&s->json, nothing, "enum", both); /* a section without entries */
		tc_schema_key(
		    s, object, tc_section_name((tc_section)section), tc_schema_any(s, section_of(s, section), nothing));
	}
	return object;
}
