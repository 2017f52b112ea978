/* A document as a recipe: its top, and the order in which the rest is read. */
#include "stack/private.h"

bool tc_is_recipe(const tc_document *document)
{
	return document->root && tc_map_get(document->root, "recipe", NULL) != NULL;
}

static void read_scale(tc_reading *r, const tc_node *node)
{
	double terms[TC_MIX_PARTS_MAX];
	if (!tc_take_ratio(r, node, "scale", 2, terms))
		return;
	r->recipe->scale = terms[1] / terms[0];
	if (!(r->recipe->scale >= 1 && r->recipe->scale <= 10000))
		tc_refuse(r, "out-of-range", node,
		    "`scale` is `%s`; it lies between 1:1 and 1:10000, the model's side first", node->text);
}

static void read_title(tc_reading *r, const tc_node *root, const tc_keys *keys)
{
	const tc_node *node = keys->at[TC_KEY_RECIPE];
	if (node)
		r->recipe->title = tc_take_text(r, node, "recipe", "Pilot cutter, harbour service");
	else if (!r->short_form && !keys->slip)
		tc_refuse(r, "missing-key", root, "no `recipe`; this key says what the recipe is called");
}

static void read_materials(tc_reading *r, const tc_node *root, const tc_keys *keys)
{
	const tc_node *parts = keys->at[TC_KEY_PARTS], *on = keys->at[TC_KEY_ON];
	if (keys->at[TC_KEY_SHELF])
		tc_read_shelf(r, keys->at[TC_KEY_SHELF]);
	if (parts && on)
		tc_refuse(r, "twice", keys->key[TC_KEY_ON],
		    "`on` beside `parts`; the short form is for a recipe of one part");
	if (parts)
		tc_read_parts(r, parts);
	else if (on)
		tc_read_one_part(r, on);
	else if (!keys->slip)
		tc_refuse(
		    r, "missing-key", root, "the recipe has no `parts`; say what is finished, and what it is made of");
}

static void read_top(tc_reading *r, const tc_node *root)
{
	tc_keys keys;
	if (!tc_keys_gather(r, root, IN_RECIPE, "a recipe", "recipe: …", &keys))
		return;
	read_title(r, root, &keys);
	if (keys.at[TC_KEY_SCALE])
		read_scale(r, keys.at[TC_KEY_SCALE]);
	tc_read_shop(r, keys.at[TC_KEY_WORKSHOP]);
	read_materials(r, root, &keys);
	if (keys.at[TC_KEY_STACK])
		tc_read_steps(r, keys.at[TC_KEY_STACK]);
	else if (!keys.slip)
		tc_refuse(r, "missing-key", root, "the recipe has no `stack`; write the steps in order");
	if (keys.at[TC_KEY_ACCEPT])
		tc_read_accepts(r, keys.at[TC_KEY_ACCEPT]);
	tc_read_times(r, keys.at[TC_KEY_START], keys.at[TC_KEY_SESSIONS], keys.at[TC_KEY_ZONE]);
	if (keys.at[TC_KEY_REMARK])
		tc_take_text(r, keys.at[TC_KEY_REMARK], "remark", "for the spring show");
}

uint64_t tc_body_of(const tc_recipe *recipe, uint32_t part)
{
	uint64_t body = 0;
	for (uint32_t i = 0; i < recipe->parts; i++)
		if (recipe->part[i].whole == recipe->part[part].whole)
			body |= 1ull << i;
	return body;
}

tc_status tc_recipe_read(tc_arena *arena, const tc_library *library, tc_finder *finder, const tc_rule_names *rules,
    const tc_reader *reader, const tc_source *source, const tc_node *root, bool short_form, tc_diags *diags,
    const tc_recipe **recipe)
{
	tc_reading r = {.arena = arena,
	    .library = library,
	    .finder = finder,
	    .rules = rules,
	    .files = reader,
	    .source = source,
	    .diags = diags,
	    .short_form = short_form};
	*recipe = NULL;
	r.recipe = TC_NEW(arena, tc_recipe);
	r.by_entry = TC_ARRAY(arena, tc_library_count(library), uint16_t);
	if (!r.recipe || !r.by_entry)
		return TC_NO_MEMORY;
	r.recipe->source = source;
	r.recipe->root = root;
	r.recipe->place = tc_node_place(source, root);
	read_top(&r, root);
	if (r.no_memory || tc_arena_failed(arena))
		return TC_NO_MEMORY;
	if (r.bad)
		return TC_BAD;
	r.recipe->part = r.part;
	r.recipe->step = r.step;
	r.recipe->product = (const tc_product *const *)r.product;
	*recipe = r.recipe;
	return TC_OK;
}
