/* `shelf`: labels with their families and figures of their own, in the recipe or in a file beside it. */
#include <string.h>

#include "stack/private.h"

/* Figures of a label; NULL where one was refused. */
static const tc_figure *const *read_figures(
    tc_reading *r, const tc_node *label, const tc_node *map, const tc_entry *family, bool *slip)
{
	const tc_figure **own = TC_ARRAY(r->arena, TC_PROPERTY_COUNT, const tc_figure *);
	if (!own)
		return NULL;
	for (uint32_t i = 0; i < map->count; i++) {
		const tc_node *key = tc_map_key(map, i), *value = tc_map_value(map, i);
		const uint32_t known = tc_key_find(tc_node_text(key));
		if (known != TC_KEY_COUNT && tc_key_row_of(known)->places & IN_LABEL) {
			if (known == TC_KEY_REMARK)
				tc_take_text(r, value, "remark", "half empty");
			continue;
		}
		const tc_property property = tc_property_find(tc_node_text(key));
		if (property == TC_PROPERTY_COUNT) {
			tc_key_unknown(r, key, IN_LABEL, "a label of the shelf", true);
			*slip = true;
		} else if (family && !(tc_property_row_of(property)->sections & family->sections))
			tc_refuse(r, "misplaced-key", key, "`%s` means nothing for `%s`, which is `%s`", key->text,
			    label->text, family->id);
		else {
			own[property] = tc_figure_read(r->library, r->arena, r->source, property, value, r->diags);
			r->bad |= !own[property];
		}
	}
	return own;
}

static void read_label(tc_reading *r, const tc_node *key, const tc_node *value)
{
	uint32_t already;
	if (tc_text_trim(tc_node_text(key)).length == 0) {
		tc_refuse(r, "bad-name", key, "a label of the shelf is empty");
		return;
	}
	if (value->kind != TC_MAP) {
		tc_refuse(r, "wrong-shape", value,
		    "`%s` on the shelf is a mapping and this is %s; write `{family: %s}`", key->text,
		    tc_node_kind_name(value), tc_scalar_given(value) ? value->text : "…");
		return;
	}
	/* a family is an entry of the library, never another label */
	const tc_node *node = tc_map_get(value, "family", NULL);
	const tc_entry *family = node ? tc_take_entry(r, node, TC_ALL_SECTIONS, "family") : NULL;
	bool slip = false;
	const tc_figure *const *own = read_figures(r, key, value, family, &slip);
	if (!node && !slip)
		tc_refuse(r, "missing-key", key, "`%s` has no `family`; say what it is, if only its kind", key->text);
	if (!family || !own)
		return;
	const tc_product *product = tc_product_add(r, (tc_product){.label = key->text,
	                                                  .family = family,
	                                                  .own = own,
	                                                  .on_shelf = true,
	                                                  .place = tc_node_place(r->source, key)});
	if (product)
		tc_map_put(&r->labels, r->arena, tc_node_text(key), product->index, &already);
}

static void read_labels(tc_reading *r, const tc_node *map)
{
	if (map->kind != TC_MAP) {
		tc_refuse(r, "wrong-shape", map,
		    "`shelf` is %s; write labels with their families, such as "
		    "`grey primer: {family: …}`, or the name of a file that does",
		    tc_node_kind_name(map));
		return;
	}
	if (map->count > TC_SHELF_MAX) {
		tc_refuse(r, "bound", map, "the shelf has %u labels; at most %u", (unsigned)map->count, TC_SHELF_MAX);
		return;
	}
	for (uint32_t i = 0; i < map->count; i++)
		read_label(r, tc_map_key(map, i), tc_map_value(map, i));
}

/* --- a shelf in a file of its own -------------------------------------------------------------------------------- */

/* A file holds `shelf: {…}`, or the labels themselves. */
static void read_shelf_root(tc_reading *r, const tc_node *root)
{
	const tc_node *shelf = tc_map_get(root, "shelf", NULL);
	tc_keys keys;
	if (!shelf || (shelf->kind == TC_MAP && tc_map_get(shelf, "family", NULL))) {
		read_labels(r, root);
		return;
	}
	if (!tc_keys_gather(r, root, IN_SHELF_FILE, "a file of a shelf", "shelf: {…}", &keys))
		return;
	if (shelf->kind == TC_SCALAR)
		tc_refuse(
		    r, "wrong-shape", shelf, "the shelf of this file stands in another one; name that in the recipe");
	else
		read_labels(r, shelf);
}

/* The file's name in messages: relative to where the recipe's own name is. */
static const char *shelf_name(const tc_reading *r, const char *name)
{
	const char *recipe = tc_source_name(r->source);
	const char *slash = strrchr(recipe, '/');
	if (!slash || name[0] == '/')
		return name;
	return tc_arena_print(r->arena, "%.*s/%s", (int)(slash - recipe), recipe, name);
}

static void read_shelf_bytes(tc_reading *r, const tc_node *node, const char *bytes, size_t length)
{
	const char *name = shelf_name(r, node->text);
	const tc_document *documents;
	size_t count = 0;
	tc_source *file = NULL;
	const tc_source *const recipe = r->source;
	if (!name || tc_source_new(r->arena, name, bytes, length, r->diags, &file) != TC_OK ||
	    tc_yaml_read(r->arena, file, r->diags, &documents, &count) != TC_OK) {
		r->bad = true;
		return;
	}
	if (count == 0 || !documents[0].root) {
		tc_refuse(
		    r, "shelf-file", node, "`%s` is empty; it should hold labels with their families", node->text);
		return;
	}
	r->source = file;
	read_shelf_root(r, documents[0].root);
	r->source = recipe;
}

static void read_shelf_file(tc_reading *r, const tc_node *node)
{
	const char *reason = "files beside a recipe are not read here";
	size_t length = 0;
	const char *bytes =
	    r->files ? r->files->read(r->files->user, r->arena, tc_source_name(r->source), node->text, &length, &reason)
	             : NULL;
	if (bytes)
		read_shelf_bytes(r, node, bytes, length);
	else
		tc_refuse(r, "shelf-file", node, "the shelf `%s` cannot be read: %s", node->text,
		    reason ? reason : "no reason given");
}

void tc_read_shelf(tc_reading *r, const tc_node *node)
{
	if (tc_scalar_given(node))
		read_shelf_file(r, node);
	else
		read_labels(r, node);
}
