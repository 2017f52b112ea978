/* Materials by name: a label on the shelf first, then the library. */
#include "stack/private.h"

#define PRODUCTS_MAX (UINT16_MAX - 1u) /* by_entry counts in 16 bits; labels and entries together have lower bounds */
_Static_assert(TC_SHELF_MAX + TC_ENTRIES_MAX < PRODUCTS_MAX, "products are counted in 16 bits");

tc_product *tc_product_add(tc_reading *r, tc_product product)
{
	product.index = r->recipe->products;
	tc_product *kept = TC_NEW(r->arena, tc_product);
	if (!kept ||
	    !tc_arena_grow(r->arena, (void **)&r->product, product.index, &r->products_room, sizeof *r->product))
		return NULL;
	*kept = product;
	r->product[r->recipe->products++] = kept;
	return kept;
}

const tc_product *tc_product_of_entry(tc_reading *r, const tc_entry *entry, tc_place place)
{
	if (r->by_entry[entry->index])
		return r->product[r->by_entry[entry->index] - 1];
	const tc_product *product =
	    tc_product_add(r, (tc_product){.label = entry->name, .family = entry, .used = true, .place = place});
	if (product)
		r->by_entry[entry->index] = (uint16_t)(product->index + 1);
	return product;
}

/* --- refusals ---------------------------------------------------------------------------------------------------- */

/* 'agents, blends or coatings' */
static void name_sections(uint32_t sections, tc_buffer *out)
{
	bool first = true;
	for (uint32_t s = 0; s < TC_SECTION_COUNT; s++) {
		if (!(sections & 1u << s))
			continue;
		sections &= ~(1u << s);
		if (!first)
			tc_buffer_puts(out, sections ? ", " : " or ");
		tc_buffer_puts(out, tc_section_name((tc_section)s));
		first = false;
	}
}

static tc_text nearest_name(const tc_reading *r, tc_text name, tc_text in_library, uint32_t sections)
{
	tc_nearest nearest = TC_NEAREST(name);
	if (in_library.length)
		tc_nearest_offer(&nearest, in_library);
	for (uint32_t i = 0; i < r->recipe->products; i++)
		if (r->product[i]->on_shelf && r->product[i]->family->sections & sections)
			tc_nearest_offer(&nearest, tc_text_of(r->product[i]->label));
	const tc_common *common = r->files ? r->files->common : NULL;
	for (uint32_t i = 0; common && i < common->products; i++)
		if (common->product[i]->family->sections & sections)
			tc_nearest_offer(&nearest, tc_text_of(common->product[i]->label));
	return nearest.found.length ? nearest.found : in_library;
}

static void refuse_unknown(
    tc_reading *r, const tc_node *node, uint32_t sections, const char *key, bool shelf, const tc_find *find)
{
	tc_buffer due;
	tc_buffer_start(&due, tc_arena_allocator(r->arena));
	name_sections(sections, &due);
	const char *takes = due.at ? due.at : "";
	const tc_text near = shelf ? nearest_name(r, tc_node_text(node), find->nearest, sections) : find->nearest;
	if (find->other)
		tc_refuse(
		    r, "wrong-material", node, "`%s` is none of the %s, which `%s` takes", node->text, takes, key);
	else
		tc_refuse(r, "unknown-name", node, "no `%s` among the %s%s" TC_NEAREST_F, node->text, takes,
		    shelf ? ", nor on the shelf" : "", TC_NEAREST_A(near, ""));
	tc_buffer_free(&due);
}

static const tc_entry *take_entry(tc_reading *r, const tc_node *node, uint32_t sections, const char *key, bool shelf)
{
	tc_find find = {0};
	switch (tc_finder_find(r->finder, tc_node_text(node), sections, &find)) {
	case TC_FOUND:
		return find.entry;
	case TC_FOUND_SEVERAL:
		tc_refuse(r, "several-names", node, "`%s` may be `%s` or `%s`; write the one that is meant", node->text,
		    find.entry->id, find.other->id);
		break;
	case TC_FOUND_UNCLEAR:
		tc_refuse(r, "unclear-name", node, "`%s` may be several unlike things: %s", node->text, find.question);
		break;
	case TC_FOUND_LIMIT:
		tc_refuse(r, "bound", node,
		    "`%s` takes too long to compare with the patterns of the library; write its id", node->text);
		break;
	case TC_FOUND_NOTHING:
		refuse_unknown(r, node, sections, key, shelf, &find);
		break;
	case TC_FOUND_NO_MEMORY:
		r->no_memory = true;
		break;
	}
	return NULL;
}

const tc_entry *tc_take_entry(tc_reading *r, const tc_node *node, uint32_t sections, const char *key)
{
	if (tc_scalar_given(node))
		return take_entry(r, node, sections, key, false);
	tc_refuse(r, "wrong-shape", node, "`%s` is %s; write the name of a material", key, tc_node_shown(node));
	return NULL;
}

/* The product of a label: of the recipe's own shelf, else of the one that all recipes of the collection share. */
static uint32_t find_label(tc_reading *r, tc_text name)
{
	const uint32_t own = tc_map_find(&r->labels, name);
	const tc_common *common = r->files ? r->files->common : NULL;
	const uint32_t shared = own == TC_MAP_NONE && common ? tc_map_find(&common->labels, name) : TC_MAP_NONE;
	if (shared == TC_MAP_NONE)
		return own;
	const tc_product *product = tc_product_add(r, *common->product[shared]);
	if (!product)
		return TC_MAP_NONE;
	tc_map_put(&r->labels, r->arena, tc_text_of(product->label), product->index, NULL);
	return product->index;
}

const tc_product *tc_take_material(tc_reading *r, const tc_node *node, uint32_t sections, const char *key)
{
	if (!tc_scalar_given(node)) {
		tc_refuse(r, "wrong-shape", node, "`%s` is %s; write the name of a material", key, tc_node_shown(node));
		return NULL;
	}
	const uint32_t label = find_label(r, tc_node_text(node));
	if (label == TC_MAP_NONE) {
		const tc_entry *entry = take_entry(r, node, sections, key, true);
		return entry ? tc_product_of_entry(r, entry, tc_node_place(r->source, node)) : NULL;
	}
	tc_product *product = r->product[label];
	if (product->family->sections & sections) {
		product->used = true;
		return product;
	}
	tc_buffer due;
	tc_buffer_start(&due, tc_arena_allocator(r->arena));
	name_sections(sections, &due);
	tc_refuse(r, "wrong-material", node, "`%s` on the shelf is `%s`, none of the %s, which `%s` takes", node->text,
	    product->family->id, due.at ? due.at : "", key);
	tc_buffer_free(&due);
	return NULL;
}
