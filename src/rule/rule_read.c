/* One rule of a collection: its keys, each of the kind it must be, with the expressions compiled. */
#include <string.h>

#include "rule/private.h"

static const char *const asks[TC_ASK_COUNT] = {"recipe", "part", "step", "coat", "contact", "touch"};
static const char *const verdicts[] = {"note", "warning", "error", "undecided"};
static const char *const keys[] = {"about", "asks", "when", "verdict", "defect", "says", "remedies", "cautions",
    "outranks", "from", "shown_by", "note"};
#define COUNT(array) (sizeof(array) / sizeof *(array))

const char *tc_ask_name(tc_ask ask)
{
	static const char *const names[TC_ASK_COUNT] = {
	    "a recipe", "a part", "a step", "a coat", "a contact", "a touch"};
	return ask < TC_ASK_COUNT ? names[ask] : "nothing";
}

const char *tc_verdict_name(tc_verdict verdict)
{
	return verdict < COUNT(verdicts) ? verdicts[verdict] : "nothing";
}

uint32_t tc_ask_slots(tc_ask ask)
{
	enum {
		RECIPE = 1 << TC_SLOT_RECIPE | 1 << TC_SLOT_SHOP,
		PART = RECIPE | 1 << TC_SLOT_PART,
		STEP = PART | 1 << TC_SLOT_STEP,
		COAT = STEP | 1 << TC_SLOT_COAT
	};
	static const uint32_t slots[TC_ASK_COUNT] = {
	    [TC_ASK_RECIPE] = RECIPE,
	    [TC_ASK_PART] = PART,
	    [TC_ASK_STEP] = STEP,
	    [TC_ASK_COAT] = COAT,
	    [TC_ASK_CONTACT] = COAT | 1 << TC_SLOT_UNDER,
	    [TC_ASK_TOUCH] = STEP | 1 << TC_SLOT_LIQUID | 1 << TC_SLOT_UNDER,
	};
	return ask < TC_ASK_COUNT ? slots[ask] : 0;
}

/* --- small values ----------------------------------------------------------------------------------------------------- */

const char *tc_keep(tc_rule_reader *r, tc_text text)
{
	return tc_intern(&r->compiler, text);
}

tc_place tc_place_kept(tc_rule_reader *r, tc_place place)
{
	if (!place.file)
		return place;
	for (uint32_t i = 0; i < r->files_count; i++)
		if (r->files[i] == place.file || strcmp(r->files[i], place.file) == 0) {
			place.file = r->copies[i];
			return place;
		}
	const char *copy = tc_keep(r, tc_text_of(place.file));
	if (!copy || !tc_arena_grow(r->scratch, (void **)&r->files, r->files_count, &r->files_room, sizeof *r->files) ||
	    !tc_arena_grow(r->scratch, (void **)&r->copies, r->files_count, &r->copies_room, sizeof *r->copies))
		return (tc_place){0};
	r->files[r->files_count] = place.file;
	r->copies[r->files_count++] = copy;
	place.file = copy;
	return place;
}

tc_passage tc_passage_of(const tc_source *source, const tc_node *scalar)
{
	return (tc_passage){
	    .text = tc_node_text(scalar), .source = source, .scalar = scalar, .file = tc_source_name(source)};
}

static bool has_empty_value(const tc_node *map)
{
	for (uint32_t i = 0; map && map->kind == TC_MAP && i < map->count; i++)
		if (tc_map_value(map, i)->empty)
			return true;
	return false;
}

bool tc_expression_node(
    tc_rule_reader *r, const tc_source *source, const tc_node *map, const tc_node *node, const char *key)
{
	if (node->kind == TC_LIST && node->flow) {
		tc_wrong_at(r, "wrong-shape", source, node,
		    "`%s` is an expression, and one that begins with `[` is a list for YAML; turn it round, or put it "
		    "in quotes",
		    key);
		return false;
	}
	if (node->kind != TC_SCALAR) {
		tc_wrong_at(
		    r, "wrong-shape", source, node, "`%s` is an expression; this is %s", key, tc_node_kind_name(node));
		return false;
	}
	return tc_yaml_expression_check(source, node, has_empty_value(map), r->diags);
}

/* The text of a key that is one scalar; NULL with a message. */
static const char *text_value(tc_rule_reader *r, const tc_source *source, const tc_node *node, const char *key)
{
	if (node->kind == TC_SCALAR && !node->empty)
		return tc_keep(r, tc_node_text(node));
	tc_wrong_at(r, "wrong-shape", source, node, "`%s` is a text; this is %s", key, tc_node_kind_name(node));
	return NULL;
}

static uint32_t one_of(tc_rule_reader *r, const tc_source *source, const tc_node *node, const char *key,
    const char *const *words, size_t count)
{
	tc_nearest nearest = TC_NEAREST(node->kind == TC_SCALAR ? tc_node_text(node) : TC_TEXT(""));
	for (uint32_t i = 0; i < count; i++) {
		if (tc_node_is(node, words[i]))
			return i;
		tc_nearest_offer(&nearest, tc_text_of(words[i]));
	}
	if (node->kind != TC_SCALAR) {
		tc_wrong_at(
		    r, "wrong-shape", source, node, "`%s` is one word; this is %s", key, tc_node_kind_name(node));
		return TC_NONE;
	}
	tc_wrong_at(r, "unknown-name", source, node, "`%s` is nothing that `%s` can be" TC_NEAR_F, node->text, key,
	    TC_NEAR(nearest, ""));
	return TC_NONE;
}

/* --- lists of ids -------------------------------------------------------------------------------------------------------- */

static bool say_retired(tc_rule_reader *r, const tc_source *source, const tc_node *node)
{
	const tc_change *change = tc_collection_retired(r->collection, tc_node_text(node));
	if (!change)
		return false;
	tc_wrong_at(r, "retired", source, node, "`%s` was retired", node->text);
	tc_diag_relate(r->diags, change->place, "retired here: %s", change->because ? change->because : "");
	return true;
}

static uint32_t find_caution(tc_rule_reader *r, const tc_source *source, const tc_node *node)
{
	tc_nearest nearest = TC_NEAREST(tc_node_text(node));
	for (uint32_t i = 0; i < tc_library_cautions(r->library); i++) {
		const char *id = tc_library_caution(r->library, i)->id;
		if (tc_node_is(node, id))
			return i;
		tc_nearest_offer(&nearest, tc_text_of(id));
	}
	if (!say_retired(r, source, node))
		tc_wrong_at(
		    r, "unknown-name", source, node, "no caution `%s`" TC_NEAR_F, node->text, TC_NEAR(nearest, ""));
	return TC_NONE;
}

static uint32_t find_rule(tc_rule_reader *r, const tc_source *source, const tc_node *node)
{
	const size_t count = tc_collection_count(r->collection, TC_SECTION_RULES);
	tc_nearest nearest = TC_NEAREST(tc_node_text(node));
	for (uint32_t i = 0; i < count; i++) {
		const char *id = tc_collection_at(r->collection, TC_SECTION_RULES, i)->id;
		if (tc_node_is(node, id))
			return i;
		tc_nearest_offer(&nearest, tc_text_of(id));
	}
	if (!say_retired(r, source, node))
		tc_wrong_at(
		    r, "unknown-name", source, node, "no rule `%s`" TC_NEAR_F, node->text, TC_NEAR(nearest, ""));
	return TC_NONE;
}

/* A list of ids (or one alone), ended by TC_NONE; never NULL unless out of memory. */
static const uint32_t *read_ids(
    tc_rule_reader *r, const char *key, uint32_t (*find)(tc_rule_reader *, const tc_source *, const tc_node *))
{
	const tc_node *node = tc_map_get(r->item->node, key, NULL);
	const tc_source *source = tc_item_source(r->collection, r->item, key);
	const bool list = node && node->kind == TC_LIST;
	const uint32_t count = !node || tc_node_is(node, "none") ? 0 : list ? node->count : 1;
	uint32_t *ids = TC_ARRAY(r->arena, count + 1u, uint32_t), kept = 0;
	if (!ids)
		return NULL;
	for (uint32_t i = 0; i < count; i++) {
		const tc_node *one = list ? node->items[i] : node;
		uint32_t id = TC_NONE;
		if (one->kind == TC_SCALAR)
			id = find(r, source, one);
		else
			tc_wrong_at(r, "wrong-shape", source, one, "`%s` is a list of ids; this is %s", key,
			    tc_node_kind_name(one));
		if (id != TC_NONE)
			ids[kept++] = id;
	}
	ids[kept] = TC_NONE;
	return ids;
}

/* --- basis, defect, shown_by ---------------------------------------------------------------------------------------------- */

static void read_bases(tc_rule_reader *r)
{
	const tc_node *node = tc_map_get(r->item->node, "from", NULL);
	const tc_source *source = tc_item_source(r->collection, r->item, "from");
	if (!node)
		return;
	const bool list = node->kind == TC_LIST;
	const uint32_t count = list ? node->count : 1;
	const tc_basis **bases = TC_ARRAY(r->arena, count + 1u, const tc_basis *);
	if (!bases)
		return;
	if (count == 0)
		tc_wrong_at(
		    r, "no-basis", source, node, "`from` says nothing; write `practice` or `{source: ID, at: …}`");
	for (uint32_t i = 0; i < count; i++)
		bases[i] = tc_basis_read(r->library, r->arena, source, list ? node->items[i] : node, r->diags);
	r->rule->bases = bases;
}

static void read_defect(tc_rule_reader *r)
{
	const tc_node *node = tc_map_get(r->item->node, "defect", NULL);
	const tc_source *source = tc_item_source(r->collection, r->item, "defect");
	r->rule->defect = TC_NONE;
	if (!node || tc_node_is(node, "none"))
		return;
	if (node->kind == TC_SCALAR)
		r->rule->defect = tc_library_defect_find(r->library, tc_node_text(node));
	if (r->rule->defect != TC_NONE || (node->kind == TC_SCALAR && say_retired(r, source, node)))
		return;
	tc_nearest nearest = TC_NEAREST(node->kind == TC_SCALAR ? tc_node_text(node) : TC_TEXT(""));
	for (uint32_t i = 0; i < tc_library_defects(r->library); i++)
		tc_nearest_offer(&nearest, tc_text_of(tc_library_defect(r->library, i, NULL)));
	tc_wrong_at(r, "unknown-name", source, node, "no defect `%s`" TC_NEAR_F,
	    node->kind == TC_SCALAR ? node->text : "…", TC_NEAR(nearest, "; list it in section `defects`"));
}

static const char *const shown_names[] = {"breaks", "holds", "open"};

static uint32_t recipes_of(const tc_node *node)
{
	return !node || node->empty ? 0 : node->kind == TC_LIST ? node->count : 1;
}

static void keep_shown(tc_rule_reader *r, const tc_source *source, const tc_node *map)
{
	uint32_t count = 0, kept = 0;
	for (size_t k = 0; k < COUNT(shown_names); k++)
		count += recipes_of(tc_map_get(map, shown_names[k], NULL));
	tc_shown_by *shown = TC_ARRAY(r->scratch, count, tc_shown_by);
	for (size_t k = 0; shown && k < COUNT(shown_names); k++) {
		const tc_node *node = tc_map_get(map, shown_names[k], NULL);
		for (uint32_t i = 0; i < recipes_of(node); i++)
			shown[kept++] =
			    (tc_shown_by){(tc_shown)k, node->kind == TC_LIST ? node->items[i] : node, source};
	}
	if (!shown)
		return;
	/* these arrays lie in the arena of the trees, as what they point to does */
	((const tc_shown_by **)(uintptr_t)r->rulebook->shown)[r->rule->index] = shown;
	((uint32_t *)(uintptr_t)r->rulebook->shown_count)[r->rule->index] = kept;
}

static void read_shown(tc_rule_reader *r)
{
	const tc_node *map = tc_map_get(r->item->node, "shown_by", NULL);
	const tc_source *source = tc_item_source(r->collection, r->item, "shown_by");
	if (!map)
		return;
	if (map->kind != TC_MAP) {
		tc_wrong_at(r, "shown-by", source, map, "`shown_by` is a mapping with `breaks` and `holds`; this is %s",
		    tc_node_kind_name(map));
		return;
	}
	for (uint32_t i = 0; i < map->count; i++) {
		const tc_node *key = tc_map_key(map, i);
		bool known = false;
		for (size_t k = 0; k < COUNT(shown_names); k++)
			known |= tc_node_is(key, shown_names[k]);
		if (!known)
			tc_wrong_at(r, "unknown-key", source, key,
			    "`shown_by` has no key `%s`; it has `breaks`, `holds` and `open`", key->text);
	}
	for (size_t k = 0; k < 2; k++)
		if (recipes_of(tc_map_get(map, shown_names[k], NULL)) == 0)
			tc_wrong_at(r, "shown-by", source, map,
			    "`%s` has no recipe in which it %s; `shown_by` gives at least one in `%s`", r->item->id,
			    shown_names[k], shown_names[k]);
	if (r->keep_shown)
		keep_shown(r, source, map);
}

/* --- expressions -------------------------------------------------------------------------------------------------------- */

/* `when`, and the names that it binds for what follows. */
static void read_when(tc_rule_reader *r)
{
	const tc_node *node = tc_map_get(r->item->node, "when", NULL);
	const tc_source *source = tc_item_source(r->collection, r->item, "when");
	r->request = (tc_request){.ask = r->rule->ask, .want = TC_T_TRUTH, .what = "when"};
	if (!node || !tc_expression_node(r, source, r->item->node, node, "when"))
		return;
	const tc_passage passage = tc_passage_of(source, node);
	r->rule->when_text = tc_keep(r, tc_node_text(node));
	r->rule->when = tc_expr_build(&r->compiler, &passage, &r->request, NULL);
	r->request.names_count = 0;
	for (uint32_t i = 0; i < r->compiler.visible_count; i++) {
		tc_scope_name name = r->compiler.visible[i];
		bool twice = false;
		for (uint32_t j = 0; j < i; j++)
			twice |= tc_text_same(r->compiler.visible[j].name, name.name);
		if (!twice)
			r->names[r->request.names_count++] = name;
	}
	r->request.names = r->names;
}

static void read_says(tc_rule_reader *r)
{
	const tc_node *node = tc_map_get(r->item->node, "says", NULL);
	const tc_source *source = tc_item_source(r->collection, r->item, "says");
	if (!node)
		return;
	if (node->kind != TC_SCALAR || node->empty) {
		tc_wrong_at(r, "wrong-shape", source, node, "`says` is a text; this is %s%s", tc_node_kind_name(node),
		    node->kind == TC_MAP && node->flow ? ". One that begins with `{` is quoted" : "");
		return;
	}
	tc_request request = r->request;
	request.what = "says";
	const tc_passage passage = tc_passage_of(source, node);
	if (r->rule->when) /* else its names are not known, and its messages would be none of its own */
		r->rule->says = tc_template_build(&r->compiler, &passage, &request, r->rule->when);
}

static void check_keys(tc_rule_reader *r)
{
	static const char *const required[] = {"about", "asks", "when", "verdict", "says", "from", "shown_by"};
	const tc_node *map = r->item->node;
	for (uint32_t i = 0; i < map->count; i++) {
		const tc_node *key = tc_map_key(map, i);
		const tc_source *source = tc_item_source(r->collection, r->item, key->text);
		tc_nearest nearest = TC_NEAREST(tc_node_text(key));
		bool known = false;
		for (size_t k = 0; k < COUNT(keys); k++) {
			known |= tc_node_is(key, keys[k]);
			tc_nearest_offer(&nearest, tc_text_of(keys[k]));
		}
		if (!known)
			tc_wrong_at(r, "unknown-key", source, key, "a rule has no key `%s`" TC_NEAR_F, key->text,
			    TC_NEAR(nearest, ""));
	}
	for (size_t k = 0; k < COUNT(required); k++)
		if (!tc_map_get(map, required[k], NULL))
			tc_diag_add(r->diags, TC_ERROR, "missing-key", r->item->place, "`%s` has no `%s`", r->item->id,
			    required[k]);
}

/* Keys that hold one word or a text. */
static void read_words(tc_rule_reader *r)
{
	static const struct {
		const char *key;
		size_t offset;
	} texts[] = {{"about", offsetof(tc_rule, about)}, {"note", offsetof(tc_rule, note)}};
	for (size_t i = 0; i < COUNT(texts); i++) {
		const tc_node *node = tc_map_get(r->item->node, texts[i].key, NULL);
		if (node && !tc_node_is(node, "none"))
			*(const char **)(void *)((char *)r->rule + texts[i].offset) =
			    text_value(r, tc_item_source(r->collection, r->item, texts[i].key), node, texts[i].key);
	}
	const tc_node *verdict = tc_map_get(r->item->node, "verdict", NULL);
	if (verdict) {
		const uint32_t v = one_of(r, tc_item_source(r->collection, r->item, "verdict"), verdict, "verdict",
		    verdicts, COUNT(verdicts));
		r->rule->verdict = v == TC_NONE ? TC_V_NOTE : (tc_verdict)v;
	}
}

bool tc_rule_read(tc_rule_reader *r, const tc_item *item, tc_rule *rule, uint32_t index)
{
	r->item = item;
	r->rule = rule;
	rule->id = tc_keep(r, tc_text_of(item->id));
	rule->index = index;
	rule->place = tc_place_kept(r, item->place);
	if (item->node->kind != TC_MAP) {
		tc_wrong_at(r, "wrong-shape", item->source, item->node, "a rule is a mapping of its keys; this is %s",
		    tc_node_kind_name(item->node));
		return false;
	}
	check_keys(r);
	read_words(r);
	read_defect(r);
	read_bases(r);
	rule->cautions = read_ids(r, "cautions", find_caution);
	rule->outranks = read_ids(r, "outranks", find_rule);
	read_shown(r);
	const tc_node *ask = tc_map_get(item->node, "asks", NULL);
	const uint32_t a =
	    ask ? one_of(r, tc_item_source(r->collection, item, "asks"), ask, "asks", asks, COUNT(asks)) : TC_NONE;
	if (a == TC_NONE)
		return false;
	rule->ask = (tc_ask)a;
	read_when(r);
	read_says(r);
	const tc_node *remedies = tc_map_get(item->node, "remedies", NULL);
	if (remedies && rule->when && !tc_node_is(remedies, "none"))
		tc_remedies_read(r, tc_item_source(r->collection, item, "remedies"), remedies);
	return rule->when &&
	       tc_doors_find(r->arena, rule->when, rule->ask, (tc_doors *)(uintptr_t)&r->rulebook->doors[index]);
}
