/* The known keys, found by their first letter. */
#include <string.h>

#include "stack/private.h"

static const tc_key_row rows[] = {
#define LETTER(l)
#define KEY(id, name, places) [TC_KEY_##id] = {name, sizeof(name) - 1, places},
#include "stack/key.def"
#undef LETTER
#undef KEY
};

/* The first key of each letter, and one past the last. */
static const uint8_t starts[] = {
#define LETTER(l) TC_KEYS_##l,
#define KEY(id, name, places)
#include "stack/key.def"
#undef LETTER
#undef KEY
    TC_KEY_COUNT};
_Static_assert(sizeof starts == 27, "key.def has each letter once");

const tc_key_row *tc_key_row_of(uint32_t key)
{
	return &rows[key];
}

uint32_t tc_key_find(tc_text name)
{
	if (name.length == 0 || name.at[0] < 'a' || name.at[0] > 'z')
		return TC_KEY_COUNT;
	const uint32_t letter = (uint32_t)(name.at[0] - 'a');
	for (uint32_t i = starts[letter]; i < starts[letter + 1]; i++)
		if (rows[i].length == name.length && memcmp(rows[i].name, name.at, name.length) == 0)
			return i;
	return TC_KEY_COUNT;
}

void tc_key_unknown(tc_reading *r, const tc_node *key, uint32_t place, const char *what, bool properties)
{
	tc_nearest nearest = TC_NEAREST(tc_node_text(key));
	for (uint32_t i = 0; i < TC_KEY_COUNT; i++)
		if (rows[i].places & place)
			tc_nearest_offer(&nearest, tc_text_of(rows[i].name));
	for (uint32_t i = 0; properties && i < TC_PROPERTY_COUNT; i++)
		tc_nearest_offer(&nearest, tc_text_of(tc_property_row_of((tc_property)i)->key));
	tc_refuse(r, "unknown-key", key, "no key `%s` in %s" TC_NEAREST_F, key->text, what,
	    TC_NEAREST_A(nearest.found, "; docs/recipe.md lists the keys"));
}

bool tc_keys_gather(
    tc_reading *r, const tc_node *map, uint32_t place, const char *what, const char *shape, tc_keys *keys)
{
	keys->count = 0;
	keys->slip = false;
	memset(keys->at, 0, sizeof keys->at);
	if (map->kind != TC_MAP) {
		tc_refuse(r, "wrong-shape", map, "%s is a mapping and this is %s; write `%s`", what,
		    tc_node_kind_name(map), shape);
		return false;
	}
	for (uint32_t i = 0; i < map->count; i++) {
		const tc_node *key = tc_map_key(map, i);
		const uint32_t id = tc_key_find(tc_node_text(key));
		if (id == TC_KEY_COUNT || !(rows[id].places & place)) {
			tc_key_unknown(r, key, place, what, false);
			keys->slip = true;
			continue;
		}
		keys->at[id] = tc_map_value(map, i);
		keys->key[id] = key;
		keys->id[keys->count++] = (uint8_t)id;
	}
	return true;
}
