/* Recipes and shelves, the steps aside: from schema_key.def. */
#include "report/schema_parts.h"
#include "stack/private.h"

#define S(section) (1u << TC_SECTION_##section)
#define NAME_PATTERN "^[^/]*[^/ \\t\\r\\n\\u00a0\\u202f\\u2007\\u2009][^/]*$"

typedef enum form {
	TEXT,
	TRUTH,
	WHOLE,
	WORD,
	RATIO,
	QUANTITY,
	MATERIAL,
	PLACES,
	START,
	SESSIONS,
	ZONE,
	MAPPING,
	LIST,
	EITHER,
	RULE,
	SHELF,
	PARTS,
	AREAS,
	SIZE,
	STACK
} form;
enum { NO, YES };

typedef struct row {
	uint32_t place, key;
	form form;
	uintptr_t argument; /* a number, or the address of a text */
	bool must;
	const char *help;
} row;

static const row rows[] = {
#define ROW(place, key, form, argument, must, help) {IN_##place, TC_KEY_##key, form, (uintptr_t)(argument), must, help},
#include "report/schema_key.def"
#undef ROW
};
#define ROWS (sizeof rows / sizeof *rows)

static json_t *make_place(tc_schema *s, const void *of);

static json_t *place_ref(tc_schema *s, uint32_t place)
{
	static const struct {
		uint32_t place;
		const char *name;
	} names[] = {{IN_WORKSHOP, "workshop"}, {IN_HABITS, "habits"}, {IN_PART, "part"}, {IN_LINES, "lines"},
	    {IN_TESTED, "tested"}, {IN_FINISH, "finish"}, {IN_LABEL, "label"}, {IN_ACCEPT, "acceptance"}};
	const char *name = "";
	for (size_t i = 0; i < sizeof names / sizeof *names; i++)
		if (names[i].place == place)
			name = names[i].name;
	return tc_schema_ref(s, name, make_place, &place);
}

/* --- forms ------------------------------------------------------------------------------------------------------- */

static json_t *names(tc_schema *s)
{
	return tc_schema_pattern(s, NAME_PATTERN);
}

static json_t *limited(tc_schema *s, json_t *map, uint32_t least, uint32_t most)
{
	if (least)
		tc_schema_count(s, map, "minProperties", least);
	tc_schema_count(s, map, "maxProperties", most);
	return map;
}

static json_t *labels(tc_schema *s)
{
	return limited(
	    s, tc_schema_map_of(s, tc_schema_pattern(s, "[^ \\t\\r\\n]"), place_ref(s, IN_LABEL)), 0, TC_SHELF_MAX);
}

/* Within the recipe, or the name of a file. */
static json_t *shelf(tc_schema *s, uint32_t place)
{
	return place == IN_SHELF_FILE ? labels(s) : tc_schema_any(s, labels(s), tc_schema_text(s));
}

static json_t *rule_ids(tc_schema *s)
{
	json_t *object = tc_json_object(&s->json), *ids = tc_json_array(&s->json);
	for (uint32_t i = 0; i < tc_rulebook_rules(s->rulebook); i++)
		tc_json_push(&s->json, ids, tc_json_text(&s->json, tc_rulebook_rule(s->rulebook, i)->id));
	tc_json_put(&s->json, object, "enum", ids);
	return object;
}

static json_t *texts(tc_schema *s)
{
	return tc_schema_any(s, tc_schema_text(s), tc_schema_list(s, tc_schema_text(s), 0, 0));
}

static json_t *quantity(tc_schema *s, uint32_t key)
{
	return tc_schema_quantity(s, tc_wanted_of(key)->type, tc_wanted_of(key)->dim);
}

static json_t *steps(tc_schema *s)
{
	return tc_schema_list(s, tc_schema_ref(s, "step", tc_schema_step, NULL), 1, TC_STEPS_MAX);
}

/* Mappings of what people name themselves. */
static json_t *named(tc_schema *s, form what)
{
	if (what == PARTS)
		return limited(s, tc_schema_map_of(s, names(s), place_ref(s, IN_PART)), 1, TC_PARTS_MAX);
	return limited(s, tc_schema_map_of(s, names(s), quantity(s, TC_KEY_AREAS)), 1, TC_AREAS_MAX);
}

static json_t *scalar_of(tc_schema *s, const row *r)
{
	const uint32_t number = (uint32_t)r->argument;
	switch (r->form) {
	case TRUTH:
		return tc_schema_truth(s);
	case WHOLE:
		return tc_schema_whole(s, number);
	case WORD:
		return tc_schema_word(s, (const char *)r->argument);
	case RATIO:
		return tc_schema_ratio(s, number);
	case QUANTITY:
		return quantity(s, number);
	case MATERIAL:
		return tc_schema_material(s, number);
	case START:
		return tc_schema_start(s);
	case ZONE:
		return tc_schema_zone(s);
	case RULE:
		return rule_ids(s);
	case SIZE:
		return tc_schema_size(s);
	default:
		return tc_schema_text(s);
	}
}

static json_t *value_of(tc_schema *s, const row *r)
{
	const uint32_t place = (uint32_t)r->argument;
	switch (r->form) {
	case PLACES:
		return tc_schema_places(s);
	case SESSIONS:
		return tc_schema_sessions(s);
	case MAPPING:
		return place_ref(s, place);
	case LIST:
		return tc_schema_list(s, place_ref(s, place), 0, 0);
	case EITHER:
		return tc_schema_any(
		    s, place_ref(s, place), tc_schema_list(s, place_ref(s, place), 0, TC_EXPOSED_MAX - 1));
	case SHELF:
		return shelf(s, r->place);
	case PARTS:
	case AREAS:
		return named(s, r->form);
	case STACK:
		return steps(s);
	default:
		return scalar_of(s, r);
	}
}

/* --- places ------------------------------------------------------------------------------------------------------ */

/* At least one of two keys; `only` that. */
static void one_of(tc_schema *s, json_t *object, const char *one, const char *other, bool only)
{
	json_t *array = tc_json_array(&s->json);
	tc_json_push(&s->json, array, tc_schema_required(s, one));
	tc_json_push(&s->json, array, tc_schema_required(s, other));
	tc_json_put(&s->json, object, only ? "oneOf" : "anyOf", array);
}

static void not_both(tc_schema *s, json_t *object, const char *one, const char *other)
{
	json_t *both = tc_schema_required(s, one);
	tc_schema_require(s, both, other);
	tc_json_put(&s->json, object, "not", both);
}

static json_t *object_of(tc_schema *s, uint32_t place)
{
	json_t *object = tc_schema_object(s);
	for (size_t i = 0; i < ROWS; i++) {
		const char *name = tc_key_row_of(rows[i].key)->name;
		if (rows[i].place != place)
			continue;
		tc_schema_key(s, object, name, tc_schema_described(s, value_of(s, &rows[i]), rows[i].help));
		if (rows[i].must)
			tc_schema_require(s, object, name);
	}
	return object;
}

static json_t *make_place(tc_schema *s, const void *of)
{
	const uint32_t place = *(const uint32_t *)of;
	json_t *object = object_of(s, place);
	if (place == IN_LABEL)
		for (unsigned p = 0; p < TC_PROPERTY_COUNT; p++) {
			const tc_property_row *property = tc_property_row_of((tc_property)p);
			tc_schema_key(s, object, property->key, tc_schema_figure(s, property));
		}
	else if (place == IN_PART)
		not_both(s, object, "area", "size");
	else if (place == IN_LINES)
		one_of(s, object, "width", "depth", false);
	else if (place == IN_ACCEPT)
		one_of(s, object, "rule", "defect", true);
	return object;
}

json_t *tc_schema_recipe(tc_schema *s, const void *titled)
{
	json_t *object = object_of(s, IN_RECIPE);
	one_of(s, object, "parts", "on", true);
	if (!titled) {
		json_t *must = tc_json_array(&s->json);
		tc_json_push(&s->json, must, tc_json_text(&s->json, "stack"));
		tc_json_put(&s->json, object, "required", must);
	}
	return object;
}

/* One word, or a list of them. */
static json_t *required_data(tc_schema *s)
{
	static const char *const names_of[] = {
	    "temperature", "humidity", "air_speed", "room", "extraction", "scale", "area", "pass"};
	json_t *both[2];
	for (size_t i = 0; i < 2; i++) {
		json_t *list = tc_json_array(&s->json);
		for (size_t j = 0; j < sizeof names_of / sizeof *names_of; j++)
			tc_json_push(&s->json, list, tc_json_text(&s->json, names_of[j]));
		both[i] = tc_json_object(&s->json);
		tc_json_put(&s->json, both[i], "enum", list);
	}
	return tc_schema_any(s, both[0], tc_schema_list(s, both[1], 0, 0));
}

static json_t *thresholds(tc_schema *s)
{
	json_t *object = tc_json_object(&s->json), *list = tc_json_array(&s->json);
	for (tc_verdict verdict = TC_V_NOTE; verdict <= TC_V_ERROR; verdict++)
		tc_json_push(&s->json, list, tc_json_text(&s->json, tc_verdict_name(verdict)));
	tc_json_put(&s->json, object, "enum", list);
	return object;
}

/* Read by face/settings.c; a test holds the two together. */
json_t *tc_schema_settings(tc_schema *s)
{
	const struct {
		const char *key;
		json_t *value;
		const char *help;
	} keys[] = {{"settings", tc_schema_text(s), "whose settings these are"},
	    {"remark", tc_schema_text(s), "a word to oneself"},
	    {"outermost", tc_schema_truth(s), "yes: settings further up do not count"},
	    {"rules", texts(s), "folders of rulebooks over the built-in one, lowest first; from this folder"},
	    {"at_least", thresholds(s), "what --at-least says unless it is given"},
	    {"workshop", place_ref(s, IN_WORKSHOP),
	        "what every recipe would have to say; its own words come before it"},
	    {"shelf", shelf(s, IN_RECIPE), "labels that every recipe may use, or the name of a file with them"},
	    {"sessions", tc_schema_sessions(s), "when there is time to work, for recipes that do not say it"},
	    {"zone", tc_schema_zone(s), "the time zone of recipes that do not say one, by its IANA name: Etc/UTC"},
	    {"exclude", texts(s), "files and folders that are left out"},
	    {"require", required_data(s), "what must not be left to the assumptions of the rulebook"}};
	json_t *object = tc_schema_object(s);
	for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
		tc_schema_key(s, object, keys[i].key, tc_schema_described(s, keys[i].value, keys[i].help));
	return object;
}

/* `shelf: {…}`, or the labels themselves. */
json_t *tc_schema_shelf(tc_schema *s)
{
	return tc_schema_any(s, object_of(s, IN_SHELF_FILE), labels(s));
}

bool tc_schema_has_key(uint32_t key, uint32_t place)
{
	for (size_t i = 0; i < ROWS; i++)
		if (rows[i].key == key && rows[i].place == place)
			return true;
	return false;
}
