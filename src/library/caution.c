/* Cautions: what to say when a step uses a material of some kind or with some hazard. */
#include <stdlib.h>
#include <string.h>

#include "library/private.h"

static const char *const keys[] = {"says", "kinds", "codes", "verbs", "breath", "rank", "from", "note", NULL};

#define RANK_USUAL 100
#define RANK_MOST 9999

/* Either list may be left out; both are never NULL in the end. */
static void read_kinds(tc_builder *b, const tc_item *item, tc_caution *caution)
{
	tc_reader reader;
	const tc_node *one, *node = tc_lib_item_get(b, item, "kinds", &reader);
	tc_items items = {0};
	if (node && !tc_lib_read_items(&reader, node, "kinds", &one, &items))
		items.count = 0;
	uint32_t *kinds = TC_ARRAY(b->arena, (size_t)items.count + 1, uint32_t);
	if (!kinds)
		return;
	uint32_t count = 0;
	for (uint32_t i = 0; i < items.count; i++) {
		if (!tc_lib_read_item(&reader, items.at[i], "kinds"))
			continue;
		kinds[count] = tc_lib_read_entry(&reader, items.at[i], ~0u, "kinds");
		count += kinds[count] != TC_NONE;
	}
	for (uint32_t i = count; i <= items.count; i++)
		kinds[i] = TC_NONE;
	caution->kinds = kinds;
}

static void read_codes(tc_builder *b, const tc_item *item, tc_caution *caution)
{
	tc_reader reader;
	tc_codes codes = {0};
	const tc_node *node = tc_lib_item_get(b, item, "codes", &reader);
	if (node)
		tc_lib_read_codes(&reader, node, "codes", b->scratch, &codes);
	caution->codes = tc_lib_codes_end(b->arena, &codes);
}

static void read_verbs(tc_builder *b, const tc_item *item, tc_caution *caution)
{
	const tc_property_row row = {.key = "verbs", .type = TC_T_SYMBOLS, .vocabulary = "verb"};
	tc_reader reader;
	const tc_node *node = tc_lib_item_get(b, item, "verbs", &reader);
	const tc_figure *figure = node ? tc_lib_figure(&reader, &row, node, NULL, TC_NONE) : NULL;
	if (figure && figure->value.state == TC_SAID)
		caution->verbs = figure->value.set;
}

static void read_breath(tc_builder *b, const tc_item *item, tc_caution *caution)
{
	const tc_property_row row = {.key = "breath", .type = TC_T_SYMBOL, .vocabulary = "breath"};
	tc_reader reader;
	const tc_node *node = tc_lib_item_get(b, item, "breath", &reader);
	const tc_figure *figure = node ? tc_lib_figure(&reader, &row, node, NULL, TC_NONE) : NULL;
	caution->breath = figure && figure->value.state == TC_SAID ? figure->value.symbol : TC_NONE;
}

static void read_rank(tc_builder *b, const tc_item *item, tc_caution *caution)
{
	tc_reader reader;
	const tc_node *node = tc_lib_item_get(b, item, "rank", &reader);
	caution->rank = RANK_USUAL;
	if (!node)
		return;
	double rank = -1;
	const tc_text text = node->kind == TC_SCALAR ? tc_node_text(node) : (tc_text){NULL, 0};
	if (text.length && tc_number_read(text.at, text.length, false, &rank) == text.length && rank <= RANK_MOST &&
	    floor(rank) == rank)
		caution->rank = (uint32_t)rank;
	else
		tc_lib_wrong(&reader, "out-of-range", node, "`rank` is a whole number from 0 to %d", RANK_MOST);
}

static void build_caution(tc_builder *b, const tc_item *item, tc_caution *caution)
{
	const tc_reader own = tc_lib_reader(b, item->source);
	caution->id = tc_lib_text(b, item->id);
	caution->breath = TC_NONE;
	caution->place = tc_lib_place(&own, item->place);
	read_kinds(b, item, caution);
	read_codes(b, item, caution);
	read_rank(b, item, caution);
	if (!tc_lib_check_item(b, item, keys, "a caution") && item->node->kind != TC_MAP)
		return;
	read_verbs(b, item, caution);
	read_breath(b, item, caution);
	caution->says = tc_lib_item_text(b, item, "says");
	caution->basis = tc_lib_item_basis(b, item);
	tc_lib_item_text(b, item, "note");
	tc_reader reader;
	if (!tc_lib_item_get(b, item, "says", &reader))
		tc_diag_add(b->diags, TC_ERROR, "missing-key", item->place, "caution `%s` has no `says`", item->id);
}

static int order_of_cautions(const void *left, const void *right)
{
	const tc_caution *a = left, *b = right;
	if (a->rank != b->rank)
		return a->rank < b->rank ? -1 : 1;
	return strcmp(a->id, b->id);
}

void tc_lib_build_cautions(tc_builder *b)
{
	tc_library *l = b->library;
	const uint32_t count = (uint32_t)tc_collection_count(b->collection, TC_SECTION_CAUTIONS);
	l->cautions = TC_ARRAY(b->arena, count, tc_caution);
	for (uint32_t i = 0; l->cautions && i < count; i++) {
		tc_caution *caution = &l->cautions[i];
		build_caution(b, tc_collection_at(b->collection, TC_SECTION_CAUTIONS, i), caution);
		if (!caution->id)
			return;
		if (!caution->says)
			caution->says = caution->id;
		l->cautions_count = i + 1;
	}
	if (l->cautions_count > 1)
		qsort(l->cautions, l->cautions_count, sizeof *l->cautions, order_of_cautions);
	for (uint32_t i = 0; i < l->cautions_count; i++)
		if (!tc_map_put(&l->caution_ids, b->arena, tc_text_of(l->cautions[i].id), i, NULL))
			return;
}

uint32_t tc_library_cautions(const tc_library *library)
{
	return library->cautions_count;
}

const tc_caution *tc_library_caution(const tc_library *library, uint32_t index)
{
	return &library->cautions[index];
}

bool tc_caution_fits(const tc_library *library, const tc_caution *caution, const tc_entry *entry)
{
	for (const uint32_t *k = caution->kinds; *k != TC_NONE; k++)
		if (tc_entry_is_truth(entry, tc_library_entry(library, *k)) != TC_FALSE)
			return true;
	for (const uint32_t *own = entry->cautions; *own != TC_NONE; own++)
		if (tc_library_caution(library, *own) == caution)
			return true;
	for (const char *const *code = caution->codes; *code; code++)
		for (const char *const *h = entry->hazards; *h; h++)
			if (strcmp(*code, *h) == 0)
				return true;
	return false;
}
