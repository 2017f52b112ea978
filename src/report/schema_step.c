/* Steps: from rule/step_key.def. */
#include <string.h>

#include "base/limits.h"
#include "report/schema_parts.h"
#include "rule/step_key.h"

static bool is_inner(const tc_step_row *row)
{
	return strchr(row->name, '.') != NULL;
}

static json_t *const_of(tc_schema *s, const char *word)
{
	json_t *object = tc_json_object(&s->json);
	tc_schema_set(s, object, "const", word);
	return object;
}

/* --- mappings within a step -------------------------------------------------------------------------------------- */

static json_t *value_of(tc_schema *s, const tc_step_row *row);

/* The keys `scribe.width` … of `scribe`. */
static json_t *inner(tc_schema *s, const char *name)
{
	json_t *object = tc_schema_object(s);
	const size_t length = strlen(name);
	for (uint32_t i = 0; i < TC_STEP_KEY_COUNT; i++) {
		const tc_step_row *row = tc_step_key_of(i);
		if (strncmp(row->name, name, length) == 0 && row->name[length] == '.')
			tc_schema_key(
			    s, object, row->name + length + 1, tc_schema_described(s, value_of(s, row), row->help));
	}
	return object;
}

static json_t *either(tc_schema *s, json_t *object, const char *one, const char *other, const char *how)
{
	json_t *array = tc_json_array(&s->json);
	tc_json_push(&s->json, array, tc_schema_required(s, one));
	tc_json_push(&s->json, array, tc_schema_required(s, other));
	tc_json_put(&s->json, object, how, array);
	return object;
}

static json_t *map_of(tc_schema *s, const tc_step_row *row)
{
	if (strcmp(row->name, "scribe") == 0)
		return either(s, inner(s, row->name), "width", "depth", "anyOf");
	json_t *thin = tc_schema_any(s, either(s, inner(s, row->name), "ratio", "add", "oneOf"), tc_schema_ratio(s, 2));
	tc_json_push(&s->json, json_object_get(thin, "anyOf"), tc_schema_quantity(s, TC_T_SHARE, NULL));
	return thin;
}

/* --- values ------------------------------------------------------------------------------------------------------ */

static json_t *quantity(tc_schema *s, const tc_step_row *row)
{
	if (row->form == TC_STEP_SHARE)
		return tc_schema_quantity(s, TC_T_SHARE, NULL);
	if (row->form == TC_STEP_TEMPERATURE)
		return tc_schema_quantity(s, TC_T_TEMPERATURE, NULL);
	if (tc_dim_none(*row->dim))
		return tc_schema_whole(s, TC_COATS_MAX);
	json_t *one = tc_schema_quantity(s, TC_T_NUMBER, row->dim);
	if (strcmp(row->name, "flash") != 0)
		return one;
	return tc_schema_any(
	    s, one, tc_schema_list(s, tc_schema_quantity(s, TC_T_NUMBER, row->dim), 1, TC_COATS_MAX - 1));
}

static json_t *value_of(tc_schema *s, const tc_step_row *row)
{
	switch (row->form) {
	case TC_STEP_NUMBER:
	case TC_STEP_SHARE:
	case TC_STEP_TEMPERATURE:
		return quantity(s, row);
	case TC_STEP_SYMBOL:
		return tc_schema_word(s, row->vocabulary);
	case TC_STEP_SYMBOLS:
		return tc_schema_list(s, tc_schema_word(s, row->vocabulary), 1, TC_COATS_MAX);
	case TC_STEP_WORD:
		return tc_schema_any(s, const_of(s, row->vocabulary), tc_schema_truth(s));
	case TC_STEP_TRUTH:
		return tc_schema_truth(s);
	case TC_STEP_RATIO:
		return tc_schema_ratio(s, strcmp(row->name, "thin.ratio") == 0 ? 2 : TC_MIX_PARTS_MAX);
	case TC_STEP_MATERIAL:
		return tc_schema_material(s, row->sections);
	case TC_STEP_PARTS:
		return tc_schema_places(s);
	case TC_STEP_MAP:
		return map_of(s, row);
	default:
		return tc_schema_text(s);
	}
}

/* --- a step ------------------------------------------------------------------------------------------------------ */

static bool is_verb(const char *name)
{
	return tc_step_verb_find(tc_text_of(name)) != TC_NONE;
}

/* Keys that may stand beside this verb. */
static json_t *keys_beside(tc_schema *s, uint32_t verb)
{
	json_t *names = tc_json_array(&s->json), *object = tc_json_object(&s->json);
	tc_json_push(&s->json, names, tc_json_text(&s->json, tc_step_verb(verb)->name));
	for (uint32_t i = 0; i < TC_STEP_KEY_COUNT; i++) {
		const tc_step_row *row = tc_step_key_of(i);
		if (!is_inner(row) && row->verbs & 1u << verb)
			tc_json_push(&s->json, names, tc_json_text(&s->json, row->name));
	}
	tc_json_put(&s->json, object, "enum", names);
	return object;
}

/* A key that is a verb in other steps (mix): what it takes beside this one. */
static void add_double(tc_schema *s, json_t *then, uint32_t verb)
{
	json_t *keys = tc_json_object(&s->json);
	for (uint32_t i = 0; i < TC_STEP_KEY_COUNT; i++) {
		const tc_step_row *row = tc_step_key_of(i);
		if (is_verb(row->name) && row->verbs & 1u << verb)
			tc_json_put(&s->json, keys, row->name, value_of(s, row));
	}
	if (json_object_size(keys))
		tc_json_put(&s->json, then, "properties", keys);
	else
		json_decref(keys);
}

/* Is this verb a key beside others, so that its being there does not make it the verb? */
static uint32_t verbs_beside(uint32_t verb)
{
	const uint32_t key = tc_step_key_find(tc_text_of(tc_step_verb(verb)->name));
	return key == TC_NONE ? 0 : tc_step_key_of(key)->verbs;
}

/* {"required": [VERB]}, and none of those beside which it is a mere key. */
static json_t *has_verb(tc_schema *s, uint32_t verb)
{
	json_t *object = tc_schema_required(s, tc_step_verb(verb)->name);
	const uint32_t others = verbs_beside(verb);
	if (!others)
		return object;
	json_t *any = tc_json_array(&s->json), *not = tc_json_object(&s->json);
	for (uint32_t v = 0; v < TC_VERB_COUNT; v++)
		if (others & 1u << v)
			tc_json_push(&s->json, any, tc_schema_required(s, tc_step_verb(v)->name));
	tc_json_put(&s->json, not, "anyOf", any);
	tc_json_put(&s->json, object, "not", not );
	return object;
}

static json_t *rule_of_verb(tc_schema *s, uint32_t verb)
{
	json_t *object = tc_json_object(&s->json), *then = tc_json_object(&s->json);
	tc_json_put(&s->json, then, "propertyNames", keys_beside(s, verb));
	if (verbs_beside(verb)) {
		json_t *own = tc_json_object(&s->json);
		tc_json_put(&s->json, own, tc_step_verb(verb)->name, value_of(s, tc_step_verb(verb)));
		tc_json_put(&s->json, then, "properties", own);
	} else
		add_double(s, then, verb);
	tc_json_put(&s->json, object, "if", has_verb(s, verb));
	tc_json_put(&s->json, object, "then", then);
	return object;
}

static void add_keys(tc_schema *s, json_t *object)
{
	for (uint32_t i = 0; i < TC_STEP_KEY_COUNT; i++) {
		const tc_step_row *row = tc_step_key_of(i);
		if (!is_inner(row) && !is_verb(row->name))
			tc_schema_key(s, object, row->name, tc_schema_described(s, value_of(s, row), row->help));
	}
	for (uint32_t v = 0; v < TC_VERB_COUNT; v++) {
		const tc_step_row *row = tc_step_verb(v);
		json_t *value = verbs_beside(v) ? tc_json_object(&s->json) : value_of(s, row);
		tc_schema_key(s, object, row->name, tc_schema_described(s, value, row->help));
	}
}

json_t *tc_schema_step(tc_schema *s, const void *unused)
{
	(void)unused;
	json_t *object = tc_schema_object(s), *one = tc_json_array(&s->json), *all = tc_json_array(&s->json);
	add_keys(s, object);
	for (uint32_t v = 0; v < TC_VERB_COUNT; v++) {
		tc_json_push(&s->json, one, has_verb(s, v));
		tc_json_push(&s->json, all, rule_of_verb(s, v));
	}
	json_t *last = tc_json_object(&s->json); /* what passes tells of has not its own count besides */
	json_t *both = tc_schema_required(s, "passes");
	tc_schema_require(s, both, "pass");
	tc_json_put(&s->json, last, "not", both);
	tc_json_push(&s->json, all, last);
	tc_json_put(&s->json, object, "oneOf", one);
	tc_json_put(&s->json, object, "allOf", all);
	return tc_schema_described(s, object, "one verb, and keys that qualify it");
}
