/* What a collection says for all of its recipes: a workshop and a shelf, read once. A recipe's own words come before it. */
#ifndef TC_STACK_COMMON_H
#define TC_STACK_COMMON_H

#include "stack/recipe.h"

typedef struct tc_common {
	tc_shop shop;
	uint32_t products;
	const tc_product *const *product;
	tc_map labels; /* of the products */
} tc_common;

/* Reads `workshop` and `shelf` of settings (NULL: not said) over what is said further out (NULL: nothing), which must live as
 * long; `reader` finds a shelf in a file beside `source`. TC_BAD with diagnostics. */
tc_status tc_common_read(tc_arena *arena, const tc_library *library, tc_finder *finder, const tc_reader *reader,
    const tc_source *source, const tc_node *workshop, const tc_node *shelf, const tc_common *outer, tc_diags *diags,
    const tc_common **common);

#endif
