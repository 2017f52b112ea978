/* Looking at the tree. */
#include <string.h>

#include "read/private.h"

tc_text tc_node_text(const tc_node *scalar)
{
	return scalar && scalar->kind == TC_SCALAR ? (tc_text){scalar->text, scalar->count} : TC_TEXT("");
}

bool tc_node_is(const tc_node *node, const char *word)
{
	return node && node->kind == TC_SCALAR && tc_text_is(tc_node_text(node), word);
}

const tc_node *tc_map_key(const tc_node *map, size_t index)
{
	return map && map->kind == TC_MAP && index < map->count ? map->items[2 * index] : NULL;
}

const tc_node *tc_map_value(const tc_node *map, size_t index)
{
	return map && map->kind == TC_MAP && index < map->count ? map->items[2 * index + 1] : NULL;
}

const tc_node *tc_map_get(const tc_node *map, const char *key, const tc_node **key_node)
{
	if (!map || map->kind != TC_MAP)
		return NULL;
	const tc_text wanted = tc_text_of(key);
	for (size_t i = 0; i < map->count; i++) {
		if (!tc_text_same(tc_node_text(map->items[2 * i]), wanted))
			continue;
		if (key_node)
			*key_node = map->items[2 * i];
		return map->items[2 * i + 1];
	}
	return NULL;
}

const char *tc_node_kind_name(const tc_node *node)
{
	if (!node || (node->kind == TC_SCALAR && node->empty))
		return "nothing";
	return node->kind == TC_SCALAR ? "a text" : node->kind == TC_LIST ? "a list" : "a mapping";
}

tc_place tc_node_place(const tc_source *source, const tc_node *node)
{
	return tc_source_place(source, node->offset);
}
