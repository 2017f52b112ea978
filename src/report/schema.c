/* A schema as a document. */
#include "report/schema_parts.h"

#define DRAFT "https://json-schema.org/draft/2020-12/schema"

const char *tc_schema_name(unsigned of)
{
	static const char *const names[TC_SCHEMA_COUNT] = {"recipe", "shelf", "settings", "rulebook"};
	return of < TC_SCHEMA_COUNT ? names[of] : NULL;
}

static json_t *make(tc_schema *s, tc_schema_of of)
{
	switch (of) {
	case TC_SCHEMA_RECIPE:
		return tc_schema_recipe(s, s);
	case TC_SCHEMA_SHELF:
		return tc_schema_shelf(s);
	case TC_SCHEMA_SETTINGS:
		return tc_schema_settings(s);
	default:
		return tc_schema_book(s);
	}
}

/* The head's members before those of the rest. */
static json_t *document(tc_schema *s, tc_schema_of of)
{
	static const char *const titles[TC_SCHEMA_COUNT] = {"A recipe: the finishing plan of one model",
	    "A shelf: labels with their families", "Settings of a folder of recipes", "A file of a rulebook"};
	json_t *root = tc_json_object(&s->json), *rest = make(s, of);
	tc_buffer id;
	tc_buffer_start(&id, NULL);
	tc_buffer_print(&id, "urn:tiecoat:schema:%s:1", tc_schema_name(of));
	s->json.failed = s->json.failed || id.failed;
	tc_schema_set(s, root, "$schema", DRAFT);
	tc_schema_set(s, root, "$id", id.failed ? "" : id.at);
	tc_schema_set(s, root, "title", titles[of]);
	tc_buffer_free(&id);
	if (json_object_update(root, rest) != 0)
		s->json.failed = true;
	json_decref(rest);
	tc_json_put(&s->json, root, "$defs", json_incref(s->defs));
	return root;
}

tc_status tc_schema_print(tc_schema_of of, const tc_rulebook *rulebook, tc_buffer *out)
{
	tc_schema s = {.rulebook = rulebook, .library = tc_rulebook_library(rulebook)};
	s.defs = tc_json_object(&s.json);
	json_t *root = document(&s, of);
	if (!s.json.failed)
		tc_json_write(&s.json, root, 0, out);
	tc_buffer_char(out, '\n');
	json_decref(root);
	json_decref(s.defs);
	return s.json.failed || out->failed ? TC_NO_MEMORY : TC_OK;
}
