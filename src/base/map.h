/* A map from text to a small number that lies in an arena: open addressing, no pointers but its own array, so that an
 * arena with maps in it can be written out and moved (uthash keeps its tables on the heap). Insertion order is kept by
 * the caller's own array; a map answers only 'which number has this name'. */
#ifndef TC_BASE_MAP_H
#define TC_BASE_MAP_H

#include "base/text.h"

typedef struct tc_map_slot {
	const char *key; /* NULL: empty */
	uint32_t length, value;
	uint64_t hash;
} tc_map_slot;

typedef struct tc_map {
	tc_map_slot *slots;
	uint32_t count, room; /* room is 0 or a power of two */
} tc_map;

/* Puts `key` (which must live as long as the map) with `value`. If it is there already its old value stays, and
 * *already (if not NULL) is set to it and true is returned as in every other case of success; false: out of memory. */
bool tc_map_put(tc_map *map, tc_arena *arena, tc_text key, uint32_t value, uint32_t *already);
#define TC_MAP_NONE UINT32_MAX
/* The value of `key`, or TC_MAP_NONE. */
uint32_t tc_map_find(const tc_map *map, tc_text key);

#endif
