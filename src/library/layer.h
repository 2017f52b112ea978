/* What the collector's two files share: the collection from the inside, and the step from loose amendments to trees. */
#ifndef TC_LIBRARY_LAYER_H
#define TC_LIBRARY_LAYER_H

#include "base/map.h"
#include "library/collect.h"

/* A key whose value came from an amendment. */
typedef struct tc_amended {
	const char *key;
	const tc_source *source;
	const struct tc_amended *next;
} tc_amended;

/* An item and its history. The item comes first: a tc_item that was handed out is the head of its tc_held. */
typedef struct tc_held {
	tc_item item;
	const char *address;       /* the id, or SECTION/WORD */
	const tc_amended *amended; /* the latest first */
	uint32_t touched;          /* 1 + the layer that amended or retired it last; 0: none did */
	tc_place touched_at;
	uint32_t retired; /* 1 + the index of the change that retired it; 0: it stands */
} tc_held;

typedef struct tc_shelved {
	const tc_item **items;
	uint32_t count;
} tc_shelved;

struct tc_collection {
	tc_held **held;
	uint32_t count, room;
	tc_map by_address;
	tc_shelved sections[TC_SECTION_COUNT];
	tc_change *changes;
	uint32_t changes_count, changes_room;
};

/* An entry of `amend` or `retire` before it is applied. */
typedef struct tc_loose {
	const tc_node *key, *value;
	const tc_source *source;
} tc_loose;

typedef struct tc_looses {
	tc_loose *at;
	uint32_t count, room;
} tc_looses;

typedef struct tc_collector {
	tc_arena *arena;
	tc_diags *diags;
	tc_collection *collection;
	uint32_t layer; /* the one being read */
	tc_looses amend, retire;
	bool unreadable; /* some file is no YAML */
} tc_collector;

/* Is this a section of kinds or materials? */
bool tc_section_has_entries(tc_section section);

/* Applies what the layer just read amends and retires to the layers below it. */
void tc_layer_apply(tc_collector *collector);

#endif
