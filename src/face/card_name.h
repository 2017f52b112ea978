/* Names of the files of cards: from the name of the recipe's file, each once, also where case does not count, and the same
 * for the same recipes in the same order. */
#ifndef TC_FACE_CARD_NAME_H
#define TC_FACE_CARD_NAME_H

#include "base/arena.h"

typedef struct tc_card_names {
	tc_arena *arena;
	uint32_t count, room;
	const char **taken;
} tc_card_names;

/* The name for the next card of a recipe's file, with its ending: `pilot-cutter.html`, `pilot-cutter-2.html`. It has letters,
 * digits, `.`, `_` and `-` alone, begins with none of the last three, and is never that of an index. NULL: out of memory. */
const char *tc_card_name(tc_card_names *names, const char *file, const char *ending);

#endif
