/* What a collection says for all of its recipes: a workshop, a shelf, hours and their clock, read once. A recipe's own words come before it. */
#ifndef TC_STACK_COMMON_H
#define TC_STACK_COMMON_H

#include "stack/recipe.h"

typedef struct tc_common {
	tc_shop shop;
	tc_times times; /* without a start */
	uint32_t products;
	const tc_product *const *product;
	tc_map labels; /* of the products */
} tc_common;

/* The values of such keys in settings; NULL: not said. */
typedef struct tc_common_nodes {
	const tc_node *workshop, *shelf, *sessions, *zone;
} tc_common_nodes;

/* Reads them over what is said further out (NULL: nothing), which must live as long; `reader` finds a shelf in a file beside
 * `source`. TC_BAD with diagnostics. */
tc_status tc_common_read(tc_arena *arena, const tc_library *library, tc_finder *finder, const tc_reader *reader,
    const tc_source *source, const tc_common_nodes *nodes, const tc_common *outer, tc_diags *diags,
    const tc_common **common);

#endif
