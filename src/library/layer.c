/* Layers: what `amend` and `retire` of an upper layer do to the trees of those below.
 *
 * An amendment replaces each key that it names whole. Its figures need a basis of their own: either each is in the long
 * form {is: …, from: …}, or the amendment says `from` for all of them; the short ones are then turned into long ones
 * here, so that the library reads every figure in one way. */
#include "library/layer.h"

#include <stdlib.h>
#include <string.h>

#include "base/limits.h"
#include "library/library.h"
#include "library/say.h"

/* --- trees, made anew ------------------------------------------------------------------------------------------- */

static const tc_node *new_text(tc_arena *arena, const char *text, const tc_node *where)
{
	tc_node *node = TC_NEW(arena, tc_node);
	if (!node)
		return NULL;
	node->kind = TC_SCALAR;
	node->offset = where->offset;
	node->end = where->end;
	node->count = (uint32_t)strlen(text);
	node->text = text;
	return node;
}

/* A copy of a list or map with room for `more` further items; *items is where they go. NULL: out of memory. */
static tc_node *new_collection(tc_arena *arena, const tc_node *like, size_t room, const tc_node ***items)
{
	tc_node *node = TC_NEW(arena, tc_node);
	*items = TC_ARRAY(arena, room, const tc_node *);
	if (!node || !*items)
		return NULL;
	*node = *like;
	node->items = *items;
	node->count = 0;
	return node;
}

/* The map with one key replaced, or appended; without it where `value` is NULL. */
static const tc_node *map_with(tc_arena *arena, const tc_node *map, const tc_node *key, const tc_node *value)
{
	const tc_node **items;
	tc_node *fresh = new_collection(arena, map, 2 * ((size_t)map->count + 1), &items);
	if (!fresh)
		return NULL;
	bool placed = value == NULL;
	for (uint32_t i = 0; i < map->count; i++) {
		const tc_node *old = tc_map_key(map, i);
		const bool same = tc_text_same(tc_node_text(old), tc_node_text(key));
		if (same && !value)
			continue;
		items[2 * fresh->count] = same ? key : old;
		items[2 * fresh->count + 1] = same ? value : tc_map_value(map, i);
		placed |= same;
		fresh->count++;
	}
	if (!placed) {
		items[2 * fresh->count] = key;
		items[2 * fresh->count + 1] = value;
		fresh->count++;
	}
	return fresh;
}

/* The list of blocks under `given`, none of which says `key` any more. */
static const tc_node *given_without(tc_arena *arena, const tc_node *given, const tc_node *key)
{
	const tc_node **items;
	tc_node *fresh = new_collection(arena, given, given->count, &items);
	if (!fresh)
		return NULL;
	for (uint32_t i = 0; i < given->count; i++) {
		const tc_node *block = given->items[i];
		const tc_node *kept = block;
		if (block->kind == TC_MAP && tc_map_get(block, key->text, NULL))
			kept = map_with(arena, block, key, NULL);
		if (!kept)
			return NULL;
		items[fresh->count++] = kept;
	}
	return fresh;
}

/* {is: value, from: from}, or a long form that lacks its basis with it. */
static const tc_node *long_form(tc_arena *arena, const tc_node *value, const tc_node *from)
{
	const tc_node *key = new_text(arena, "from", from);
	if (!key)
		return NULL;
	if (value->kind == TC_MAP && tc_map_get(value, "is", NULL))
		return map_with(arena, value, key, from);
	tc_node empty = {.kind = TC_MAP, .offset = value->offset, .end = value->end};
	const tc_node *is = new_text(arena, "is", value);
	const tc_node *map = is ? map_with(arena, &empty, is, value) : NULL;
	return map ? map_with(arena, map, key, from) : NULL;
}

/* --- one amendment ---------------------------------------------------------------------------------------------- */

typedef struct amendment {
	tc_collector *c;
	tc_held *held;
	const tc_loose *loose;
	const tc_node *from; /* the basis that it gives for its figures, or NULL */
	bool figures;        /* it has figures (hazards count as such) */
} amendment;

static void wrong(
    const tc_collector *c, const tc_loose *loose, const tc_node *node, const char *id, const char *message)
{
	tc_diag_add(c->diags, TC_ERROR, id, tc_node_place(loose->source, node), "`%s` %s", loose->key->text, message);
}

static bool is_figure(const tc_node *key)
{
	return tc_node_is(key, "hazards") || tc_property_find(tc_node_text(key)) != TC_PROPERTY_COUNT;
}

static bool has_basis(const tc_node *value)
{
	return value->kind == TC_MAP && tc_map_get(value, "is", NULL) && tc_map_get(value, "from", NULL);
}

/* The value as it goes into the entry's tree; NULL where the key is to vanish or the figure has no basis. */
static const tc_node *figure_value(const amendment *a, const tc_node *key, const tc_node *value)
{
	if (has_basis(value))
		return value;
	if (a->from)
		return long_form(a->c->arena, value, a->from);
	tc_diag_add(a->c->diags, TC_ERROR, "no-basis", tc_node_place(a->loose->source, key),
	    "the amended `%s` has no basis of its own; write `{is: …, from: …}`, or `from` beside `because`",
	    key->text);
	return NULL;
}

static void note_source(const amendment *a, const tc_node *key)
{
	tc_amended *amended = TC_NEW(a->c->arena, tc_amended);
	if (!amended)
		return;
	amended->key = key->text;
	amended->source = a->loose->source;
	amended->next = a->held->amended;
	a->held->amended = amended;
}

static void put_key(const amendment *a, const tc_node *key, const tc_node *value)
{
	tc_item *item = &a->held->item;
	const tc_node *map = map_with(a->c->arena, item->node, key, value);
	if (!map)
		return;
	item->node = map;
	note_source(a, key);
}

/* A figure of an entry may stand in a block of `given` below: there it goes. */
static void forget_given(const amendment *a, const tc_node *key)
{
	tc_item *item = &a->held->item;
	const tc_node *given_key, *given = tc_map_get(item->node, "given", &given_key);
	if (!given || given->kind != TC_LIST)
		return;
	const tc_node *rest = given_without(a->c->arena, given, key);
	const tc_node *map = rest ? map_with(a->c->arena, item->node, given_key, rest) : NULL;
	if (map)
		item->node = map;
}

static void amend_entry_key(const amendment *a, const tc_node *key, const tc_node *value)
{
	if (tc_node_is(key, "from") && a->figures)
		return; /* it is the basis of the amended figures, and the entry keeps its own for the others */
	if (is_figure(key)) {
		const tc_node *figure = figure_value(a, key, value);
		forget_given(a, key);
		if (figure)
			put_key(a, key, figure);
	} else {
		put_key(a, key, tc_node_is(value, "none") ? NULL : value);
	}
}

static void amend_key(const amendment *a, const tc_node *key, const tc_node *value)
{
	if (tc_section_has_entries(a->held->item.section))
		amend_entry_key(a, key, value);
	else
		put_key(a, key, tc_node_is(value, "none") ? NULL : value);
}

/* An item that is one scalar (a question under `unclear`) has a single key, `is`. */
static void amend_scalar(const amendment *a, const tc_node *value)
{
	const tc_node *is = tc_map_get(value, "is", NULL);
	if (!is || value->count != 2) {
		wrong(
		    a->c, a->loose, value, "amend", "is one text; an amendment of it has the keys `is` and `because`");
		return;
	}
	a->held->item.node = is;
	a->held->item.source = a->loose->source;
}

/* A default is one figure: it is amended whole. */
static void amend_default(const amendment *a, const tc_node *value)
{
	const tc_node *key;
	if (!has_basis(value)) {
		wrong(a->c, a->loose, value, "no-basis",
		    "is one figure and is amended whole; write `is`, `from` and `because`");
		return;
	}
	tc_map_get(value, "because", &key);
	const tc_node *figure = map_with(a->c->arena, value, key, NULL);
	if (!figure)
		return;
	a->held->item.node = figure;
	a->held->item.source = a->loose->source;
}

/* Who changes when a rule fires shows again that it does. */
static void check_shown(const amendment *a, const tc_node *value)
{
	const tc_node *key;
	if (a->held->item.section == TC_SECTION_RULES && tc_map_get(value, "when", &key) &&
	    !tc_map_get(value, "shown_by", NULL))
		tc_diag_add(a->c->diags, TC_ERROR, "amend", tc_node_place(a->loose->source, key),
		    "`when` of `%s` is amended without `shown_by`; give examples that the new `when` breaks and holds",
		    a->loose->key->text);
}

static const tc_node *because_of(const tc_collector *c, const tc_loose *loose)
{
	const tc_node *because = tc_map_get(loose->value, "because", NULL);
	if (because && because->kind == TC_SCALAR && tc_text_trim(tc_node_text(because)).length)
		return because;
	wrong(c, loose, because ? because : loose->key, "amend", "is amended without a reason; write `because: …`");
	return NULL;
}

static tc_change *add_change(tc_collector *c, tc_held *held, const tc_loose *loose, const tc_node *because)
{
	tc_collection *collection = c->collection;
	held->touched = c->layer + 1;
	held->touched_at = tc_node_place(loose->source, loose->key);
	if (!tc_arena_grow(c->arena, (void **)&collection->changes, collection->changes_count,
	        &collection->changes_room, sizeof *collection->changes))
		return NULL;
	tc_change *change = &collection->changes[collection->changes_count++];
	*change = (tc_change){.id = held->address, .because = because->text, .place = held->touched_at};
	return change;
}

static void amend_map(amendment *a, const tc_node *value, tc_change *change)
{
	for (uint32_t i = 0; i < value->count; i++)
		a->figures |= is_figure(tc_map_key(value, i));
	for (uint32_t i = 0; i < value->count; i++) {
		const tc_node *key = tc_map_key(value, i);
		if (tc_node_is(key, "because"))
			continue;
		change->changed_when |= a->held->item.section == TC_SECTION_RULES && tc_node_is(key, "when");
		amend_key(a, key, tc_map_value(value, i));
	}
}

static void amend(tc_collector *c, tc_held *held, const tc_loose *loose)
{
	const tc_node *value = loose->value;
	if (value->kind != TC_MAP) {
		wrong(c, loose, value, "wrong-shape", "is amended by a mapping of its new keys and `because`");
		return;
	}
	const tc_node *because = because_of(c, loose);
	tc_change *change = because ? add_change(c, held, loose, because) : NULL;
	if (!change)
		return;
	amendment a = {.c = c, .held = held, .loose = loose, .from = tc_map_get(value, "from", NULL)};
	check_shown(&a, value);
	if (held->item.section == TC_SECTION_DEFAULTS)
		amend_default(&a, value);
	else if (held->item.node->kind != TC_MAP)
		amend_scalar(&a, value);
	else
		amend_map(&a, value, change);
}

static void retire(tc_collector *c, tc_held *held, const tc_loose *loose)
{
	const tc_node *reason = loose->value;
	if (reason->kind != TC_SCALAR || tc_text_trim(tc_node_text(reason)).length == 0) {
		wrong(c, loose, reason->empty ? loose->key : reason, "retire",
		    "is retired without a reason; write `ID: reason`");
		return;
	}
	tc_change *change = add_change(c, held, loose, reason);
	if (!change)
		return;
	change->retired = true;
	held->retired = c->collection->changes_count;
}

/* --- a layer ---------------------------------------------------------------------------------------------------- */

static void say_unknown(tc_collector *c, const tc_loose *loose)
{
	static const char *const prefixes[] = {"words", "defaults", "unclear"};
	const tc_place place = tc_node_place(loose->source, loose->key);
	for (size_t i = 0; i < sizeof prefixes / sizeof *prefixes; i++) {
		const char *address = tc_arena_print(c->arena, "%s/%s", prefixes[i], loose->key->text);
		if (address && tc_map_find(&c->collection->by_address, tc_text_of(address)) != TC_MAP_NONE) {
			tc_diag_add(c->diags, TC_ERROR, "unknown-name", place, "`%s` is no id; write `%s`",
			    loose->key->text, address);
			return;
		}
	}
	tc_nearest nearest = TC_NEAREST(tc_node_text(loose->key));
	for (uint32_t i = 0; i < c->collection->count; i++)
		tc_nearest_offer(&nearest, tc_text_of(c->collection->held[i]->address));
	tc_diag_add(c->diags, TC_ERROR, "unknown-name", place, "no layer below has `%s`" TC_NEAR_F, loose->key->text,
	    TC_NEAR(nearest, "; only what stands below can be changed"));
}

/* The item that an amendment or a retirement is for, if it may be touched. */
static tc_held *touch(tc_collector *c, const tc_loose *loose)
{
	const uint32_t index = tc_map_find(&c->collection->by_address, tc_node_text(loose->key));
	if (index == TC_MAP_NONE) {
		say_unknown(c, loose);
		return NULL;
	}
	tc_held *held = c->collection->held[index];
	if (held->item.layer == c->layer) {
		wrong(c, loose, loose->key, "amend", "stands in this very layer; change it where it stands");
		tc_diag_relate(c->diags, held->item.place, "`%s` stands here", loose->key->text);
	} else if (held->touched == c->layer + 1) {
		wrong(c, loose, loose->key, "amend", "is amended or retired twice in this layer; keep one");
		tc_diag_relate(c->diags, held->touched_at, "the other one stands here");
	} else if (held->retired) {
		wrong(c, loose, loose->key, "retired-name", "was retired by a layer below; nothing is left to change");
		tc_diag_relate(c->diags, held->touched_at, "`%s` was retired here", loose->key->text);
	} else {
		return held;
	}
	return NULL;
}

static int order_of_looses(const void *left, const void *right)
{
	const tc_loose *a = left, *b = right;
	const int order = strcmp(a->key->text, b->key->text);
	if (order)
		return order;
	const int files = strcmp(tc_source_name(a->source), tc_source_name(b->source));
	return files ? files : a->key->offset < b->key->offset ? -1 : a->key->offset > b->key->offset;
}

static void apply(tc_collector *c, tc_looses *looses, void (*one)(tc_collector *, tc_held *, const tc_loose *))
{
	if (looses->count > 1)
		qsort(looses->at, looses->count, sizeof *looses->at, order_of_looses);
	for (uint32_t i = 0; i < looses->count; i++) {
		tc_held *held = touch(c, &looses->at[i]);
		if (held)
			one(c, held, &looses->at[i]);
	}
	looses->count = 0;
}

void tc_layer_apply(tc_collector *collector)
{
	apply(collector, &collector->amend, amend);
	apply(collector, &collector->retire, retire);
}
