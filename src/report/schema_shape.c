/* Shapes of JSON Schema. */
#include "report/schema_parts.h"

json_t *tc_schema_ref(tc_schema *s, const char *name, tc_schema_make *make, const void *of)
{
	json_t *object = tc_json_object(&s->json);
	tc_buffer path;
	if (!json_object_get(s->defs, name)) {
		tc_json_put(&s->json, s->defs, name, tc_json_object(&s->json)); /* so that it may name itself */
		tc_json_put(&s->json, s->defs, name, make(s, of));
	}
	tc_buffer_start(&path, NULL);
	tc_buffer_print(&path, "#/$defs/%s", name);
	s->json.failed = s->json.failed || path.failed;
	tc_schema_set(s, object, "$ref", path.failed ? "" : path.at);
	tc_buffer_free(&path);
	return object;
}

void tc_schema_set(tc_schema *s, json_t *object, const char *key, const char *text)
{
	tc_json_put(&s->json, object, key, tc_json_text(&s->json, text));
}

void tc_schema_count(tc_schema *s, json_t *object, const char *key, uint32_t count)
{
	tc_json_put(&s->json, object, key, tc_json_count(&s->json, count));
}

json_t *tc_schema_object(tc_schema *s)
{
	json_t *object = tc_json_object(&s->json);
	tc_schema_set(s, object, "type", "object");
	tc_json_put(&s->json, object, "additionalProperties", json_false());
	tc_json_put(&s->json, object, "properties", tc_json_object(&s->json));
	return object;
}

void tc_schema_key(tc_schema *s, json_t *object, const char *name, json_t *value)
{
	tc_json_put(&s->json, json_object_get(object, "properties"), name, value);
}

void tc_schema_require(tc_schema *s, json_t *object, const char *name)
{
	if (!json_object_get(object, "required"))
		tc_json_put(&s->json, object, "required", tc_json_array(&s->json));
	tc_json_push(&s->json, json_object_get(object, "required"), tc_json_text(&s->json, name));
}

json_t *tc_schema_required(tc_schema *s, const char *name)
{
	json_t *object = tc_json_object(&s->json);
	tc_schema_require(s, object, name);
	return object;
}

json_t *tc_schema_list(tc_schema *s, json_t *item, uint32_t least, uint32_t most)
{
	json_t *object = tc_json_object(&s->json);
	tc_schema_set(s, object, "type", "array");
	tc_json_put(&s->json, object, "items", item);
	if (least)
		tc_schema_count(s, object, "minItems", least);
	if (most)
		tc_schema_count(s, object, "maxItems", most);
	return object;
}

json_t *tc_schema_any(tc_schema *s, json_t *one, json_t *other)
{
	json_t *object = tc_json_object(&s->json), *array = tc_json_array(&s->json);
	tc_json_push(&s->json, array, one);
	tc_json_push(&s->json, array, other);
	tc_json_put(&s->json, object, "anyOf", array);
	return object;
}

json_t *tc_schema_map_of(tc_schema *s, json_t *names, json_t *value)
{
	json_t *object = tc_json_object(&s->json);
	tc_schema_set(s, object, "type", "object");
	if (names)
		tc_json_put(&s->json, object, "propertyNames", names);
	tc_json_put(&s->json, object, "additionalProperties", value);
	return object;
}

json_t *tc_schema_described(tc_schema *s, json_t *value, const char *text)
{
	if (text && *text)
		tc_schema_set(s, value, "description", text);
	return value;
}

json_t *tc_schema_pattern(tc_schema *s, const char *pattern)
{
	json_t *object = tc_json_object(&s->json);
	tc_schema_set(s, object, "type", "string");
	tc_schema_set(s, object, "pattern", pattern);
	return object;
}
