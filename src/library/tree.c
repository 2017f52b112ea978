/* The tree of kinds with its materials as leaves: parents found, cycles cut, numbered in preorder.
 *
 * All entries are first put in the order of their ids, so that the numbers depend on nothing else. A draft's `parent`,
 * `child` and `next` are places in that order; once numbered, drafts and entries lie in preorder. */
#include <stdlib.h>
#include <string.h>

#include "library/private.h"

typedef struct tree {
	tc_builder *b;
	tc_draft *drafts; /* by id */
	tc_map places;
	uint32_t count;
} tree;

static int order_of_drafts(const void *left, const void *right)
{
	const tc_draft *a = left, *b = right;
	return strcmp(a->id, b->id);
}

static bool gather(tree *t)
{
	const tc_collection *collection = t->b->collection;
	size_t count = 0;
	for (tc_section s = TC_SECTION_KINDS; s <= TC_SECTION_METHODS; s++)
		count += tc_collection_count(collection, s);
	t->drafts = TC_ARRAY(t->b->scratch, count, tc_draft);
	if (!t->drafts)
		return false;
	for (tc_section s = TC_SECTION_KINDS; s <= TC_SECTION_METHODS; s++)
		for (size_t i = 0; i < tc_collection_count(collection, s); i++) {
			tc_draft *d = &t->drafts[t->count++];
			d->item = tc_collection_at(collection, s, i);
			d->id = d->item->id;
			d->is_kind = s == TC_SECTION_KINDS;
			d->parent = d->child = d->next = TC_NONE;
		}
	if (t->count > 1)
		qsort(t->drafts, t->count, sizeof *t->drafts, order_of_drafts);
	if (t->count > TC_ENTRIES_MAX) {
		tc_diag_add(t->b->diags, TC_ERROR, "bound", t->drafts[TC_ENTRIES_MAX].item->place,
		    "%u kinds and materials; a rulebook has at most %u", t->count, TC_ENTRIES_MAX);
		t->count = TC_ENTRIES_MAX;
	}
	for (uint32_t i = 0; i < t->count; i++)
		if (!tc_map_put(&t->places, t->b->scratch, tc_text_of(t->drafts[i].id), i, NULL))
			return false;
	return true;
}

/* --- parents ---------------------------------------------------------------------------------------------------- */

static void say_no_kind(tree *t, const tc_reader *reader, const tc_node *node)
{
	if (tc_lib_say_retired(reader, node))
		return;
	tc_nearest nearest = TC_NEAREST(tc_node_text(node));
	for (uint32_t i = 0; i < t->count; i++)
		if (t->drafts[i].is_kind)
			tc_nearest_offer(&nearest, tc_text_of(t->drafts[i].id));
	tc_lib_wrong(reader, "unknown-name", node, "no kind `%s`" TC_NEAR_F, node->text,
	    TC_NEAR(nearest, "; list it in section `kinds`"));
}

static void find_parent(tree *t, tc_draft *d)
{
	const char *key = d->is_kind ? "under" : "kind";
	tc_reader reader;
	const tc_node *node = tc_lib_item_get(t->b, d->item, key, &reader);
	if (!node) {
		if (!d->is_kind && d->item->node->kind == TC_MAP)
			tc_diag_add(t->b->diags, TC_ERROR, "missing-key", d->item->place,
			    "`%s` has no `kind`; every material is of one", d->id);
		return;
	}
	if (node->kind != TC_SCALAR || node->empty) {
		tc_lib_wrong(
		    &reader, "wrong-shape", node, "`%s` is the id of a kind; this is %s", key, tc_node_kind_name(node));
		return;
	}
	const uint32_t place = tc_map_find(&t->places, tc_node_text(node));
	if (place == TC_MAP_NONE)
		say_no_kind(t, &reader, node);
	else if (!t->drafts[place].is_kind) {
		tc_lib_wrong(&reader, "not-a-kind", node, "`%s` is a material; only kinds have something below them",
		    node->text);
		tc_diag_relate(reader.diags, t->drafts[place].item->place, "`%s` stands here", node->text);
	} else
		d->parent = place;
}

/* --- cycles and depth ------------------------------------------------------------------------------------------- */

static void say_cycle(tree *t, uint32_t in)
{
	uint32_t least = in;
	for (uint32_t i = t->drafts[in].parent; i != in; i = t->drafts[i].parent)
		least = i < least ? i : least;
	tc_draft *first = &t->drafts[least];
	tc_buffer way;
	tc_buffer_start(&way, tc_arena_allocator(t->b->scratch));
	for (uint32_t i = first->parent; i != least; i = t->drafts[i].parent)
		tc_buffer_print(&way, "`%s` under ", t->drafts[i].id);
	tc_reader reader;
	const tc_node *node = tc_lib_item_get(t->b, first->item, "under", &reader);
	if (node)
		tc_lib_wrong(&reader, "cycle", node, "`%s` stands under itself: under %s`%s`", first->id,
		    way.at ? way.at : "", first->id);
	tc_buffer_free(&way);
	first->parent = TC_NONE;
}

/* Walks up from each draft; a draft met twice on one walk closes a cycle. */
static void cut_cycles(tree *t)
{
	for (uint32_t start = 0; start < t->count; start++) {
		uint32_t i = start;
		for (; i != TC_NONE && t->drafts[i].walk == 0; i = t->drafts[i].parent)
			t->drafts[i].walk = start + 1;
		if (i != TC_NONE && t->drafts[i].walk == start + 1)
			say_cycle(t, i);
	}
}

static void measure_depth(tree *t, tc_draft *d)
{
	d->depth = 1;
	for (uint32_t i = d->parent; i != TC_NONE && d->depth <= TC_KIND_DEPTH_MAX + 1; i = t->drafts[i].parent)
		d->depth++;
	if (d->is_kind && d->depth == TC_KIND_DEPTH_MAX + 1)
		tc_diag_add(t->b->diags, TC_ERROR, "bound", d->item->place,
		    "`%s` lies deeper in the tree of kinds than %u", d->id, TC_KIND_DEPTH_MAX);
}

/* --- numbers ---------------------------------------------------------------------------------------------------- */

/* Chains each draft into its parent's children; roots into *roots. Backwards, so that chains come out in order. */
static void chain(tree *t, uint32_t *roots)
{
	*roots = TC_NONE;
	for (uint32_t i = t->count; i-- > 0;) {
		uint32_t *head = t->drafts[i].parent == TC_NONE ? roots : &t->drafts[t->drafts[i].parent].child;
		t->drafts[i].next = *head;
		*head = i;
	}
}

static bool fill_entry(tc_builder *b, const tree *t, const tc_draft *d, tc_entry *entry)
{
	const tc_reader reader = tc_lib_reader(b, d->item->source);
	entry->id = tc_lib_text(b, d->id);
	entry->index = entry->last = d->index;
	entry->parent = d->parent == TC_NONE ? TC_NONE : t->drafts[d->parent].index;
	entry->section = d->item->section;
	entry->sections = d->is_kind ? 0 : 1u << d->item->section;
	entry->is_kind = d->is_kind;
	entry->place = tc_lib_place(&reader, d->item->place);
	return entry->id && tc_map_put(&b->library->ids, b->arena, tc_text_of(entry->id), entry->index, NULL);
}

/* Numbers by going down first, then on, then up; each entry is filled in when it is met. */
static bool number(tree *t)
{
	tc_builder *b = t->b;
	uint32_t i, count = 0;
	chain(t, &i);
	while (i != TC_NONE) {
		tc_draft *d = &t->drafts[i];
		d->index = count++;
		b->drafts[d->index] = *d;
		if (!fill_entry(b, t, d, &b->library->entries[d->index]))
			return false;
		if (d->child != TC_NONE) {
			i = d->child;
			continue;
		}
		while (i != TC_NONE && t->drafts[i].next == TC_NONE)
			i = t->drafts[i].parent;
		if (i != TC_NONE)
			i = t->drafts[i].next;
	}
	b->library->count = count;
	return true;
}

/* Hands the last number and the sections of each entry up to its parent, from the last entry to the first. */
static void gather_up(tc_library *l)
{
	for (uint32_t i = l->count; i-- > 0;) {
		const tc_entry *entry = &l->entries[i];
		if (entry->parent == TC_NONE)
			continue;
		tc_entry *parent = &l->entries[entry->parent];
		parent->sections |= entry->sections;
		if (parent->last < entry->last)
			parent->last = entry->last;
	}
}

void tc_lib_build_tree(tc_builder *b)
{
	tree t = {.b = b};
	if (!gather(&t))
		return;
	for (uint32_t i = 0; i < t.count; i++)
		find_parent(&t, &t.drafts[i]);
	cut_cycles(&t);
	for (uint32_t i = 0; i < t.count; i++)
		measure_depth(&t, &t.drafts[i]);
	b->drafts = TC_ARRAY(b->scratch, t.count, tc_draft);
	b->library->entries = TC_ARRAY(b->arena, t.count, tc_entry);
	if (b->drafts && b->library->entries && number(&t))
		gather_up(b->library);
}

/* --- questions -------------------------------------------------------------------------------------------------- */

uint32_t tc_library_count(const tc_library *library)
{
	return library->count;
}

const tc_entry *tc_library_entry(const tc_library *library, uint32_t index)
{
	return &library->entries[index];
}

const tc_entry *tc_library_by_id(const tc_library *library, tc_text id)
{
	const uint32_t index = tc_map_find(&library->ids, id);
	return index == TC_MAP_NONE ? NULL : &library->entries[index];
}

bool tc_entry_is(const tc_entry *entry, const tc_entry *kind)
{
	return kind->index <= entry->index && entry->index <= kind->last;
}

tc_truth tc_entry_is_truth(const tc_entry *entry, const tc_entry *kind)
{
	if (tc_entry_is(entry, kind))
		return TC_TRUE;
	return tc_entry_is(kind, entry) ? TC_UNSURE : TC_FALSE;
}
