/* A workshop, a shelf, hours and their clock for all recipes of a collection: read as those of a recipe that says nothing else. */
#include "stack/private.h"

static void add_outer(tc_reading *r, const tc_common *outer)
{
	for (uint32_t i = 0; i < outer->products; i++) {
		const tc_text label = tc_text_of(outer->product[i]->label);
		if (tc_map_find(&r->labels, label) != TC_MAP_NONE)
			continue;
		const tc_product *product = tc_product_add(r, *outer->product[i]);
		if (product)
			tc_map_put(&r->labels, r->arena, label, product->index, NULL);
	}
}

tc_status tc_common_read(tc_arena *arena, const tc_library *library, tc_finder *finder, const tc_reader *reader,
    const tc_source *source, const tc_common_nodes *nodes, const tc_common *outer, tc_diags *diags,
    const tc_common **common)
{
	const tc_reader files = {.read = reader->read, .user = reader->user, .common = outer};
	tc_reading r = {.arena = arena,
	    .library = library,
	    .finder = finder,
	    .files = &files,
	    .source = source,
	    .diags = diags,
	    .for_all = true};
	tc_common *made = TC_NEW(arena, tc_common);
	r.recipe = TC_NEW(arena, tc_recipe);
	*common = NULL;
	if (!made || !r.recipe)
		return TC_NO_MEMORY;
	tc_read_shop(&r, nodes->workshop);
	tc_read_times(&r, NULL, nodes->sessions, nodes->zone);
	if (nodes->shelf)
		tc_read_shelf(&r, nodes->shelf);
	if (outer)
		add_outer(&r, outer);
	if (r.no_memory || tc_arena_failed(arena))
		return TC_NO_MEMORY;
	if (r.bad)
		return TC_BAD;
	*made = (tc_common){.shop = r.recipe->shop,
	    .times = r.recipe->times,
	    .products = r.recipe->products,
	    .product = (const tc_product *const *)r.product,
	    .labels = r.labels};
	*common = made;
	return TC_OK;
}
