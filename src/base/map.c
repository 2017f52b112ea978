#include "base/map.h"

/* The slot that holds the key, or the empty one where it belongs. */
static tc_map_slot *slot_of(tc_map_slot *slots, uint32_t room, tc_text key, uint64_t hash)
{
	uint32_t i = (uint32_t)hash & (room - 1);
	for (; slots[i].key; i = (i + 1) & (room - 1))
		if (slots[i].hash == hash && tc_text_same((tc_text){slots[i].key, slots[i].length}, key))
			break;
	return &slots[i];
}

/* Doubles the table; the old one stays behind in the arena. */
static bool grow(tc_map *map, tc_arena *arena)
{
	if (map->room > UINT32_MAX / 4)
		return false;
	const uint32_t room = map->room ? 2 * map->room : 16;
	tc_map_slot *slots = TC_ARRAY(arena, room, tc_map_slot);
	if (!slots)
		return false;
	for (uint32_t i = 0; i < map->room; i++) {
		const tc_map_slot *old = &map->slots[i];
		if (old->key)
			*slot_of(slots, room, (tc_text){old->key, old->length}, old->hash) = *old;
	}
	map->slots = slots;
	map->room = room;
	return true;
}

bool tc_map_put(tc_map *map, tc_arena *arena, tc_text key, uint32_t value, uint32_t *already)
{
	if (already)
		*already = TC_MAP_NONE;
	if (key.length > UINT32_MAX)
		return false;
	if (map->count >= map->room - map->room / 4 && !grow(map, arena))
		return false;
	const uint64_t hash = tc_text_hash(key);
	tc_map_slot *slot = slot_of(map->slots, map->room, key, hash);
	if (slot->key) {
		if (already)
			*already = slot->value;
		return true;
	}
	*slot = (tc_map_slot){
	    .key = key.length ? key.at : "", .length = (uint32_t)key.length, .value = value, .hash = hash};
	map->count++;
	return true;
}

uint32_t tc_map_find(const tc_map *map, tc_text key)
{
	if (map->room == 0)
		return TC_MAP_NONE;
	const tc_map_slot *slot = slot_of(map->slots, map->room, key, tc_text_hash(key));
	return slot->key ? slot->value : TC_MAP_NONE;
}
