/* Section `let`: names, what they ask for, and their expressions. */
#include <string.h>

#include "rule/private.h"

static const char *const keys[] = {"asks", "of", "is", "about", "from", "note"};
#define COUNT(array) (sizeof(array) / sizeof *(array))

/* Names that a let must not take. */
static const char *taken_by(tc_text name)
{
	static const char *const subjects[] = {"recipe", "shop", "part", "step", "coat", "under", "liquid", "new"};
	static const char *const ranges[] = {"layers", "steps", "parts", "products"};
	for (size_t i = 0; i < COUNT(subjects); i++)
		if (tc_text_is(name, subjects[i]))
			return "a subject";
	for (size_t i = 0; i < COUNT(ranges); i++)
		if (tc_text_is(name, ranges[i]))
			return "a range";
	for (tc_free f = TC_FREE_MIN; f <= TC_FREE_ABS; f++)
		if (tc_text_is(name, tc_free_names[f]))
			return "a function";
	if (tc_is_keyword(name))
		return "a word of the language";
	for (tc_subject s = TC_S_ASK; s < TC_SUBJECT_COUNT; s++)
		if (tc_field_find(s, name) != TC_NONE)
			return "a field";
	return NULL;
}

static uint32_t subject_of(const tc_node *node)
{
	static const char *const names[TC_SUBJECT_COUNT] = {[TC_S_RECIPE] = "recipe",
	    [TC_S_SHOP] = "shop",
	    [TC_S_PART] = "part",
	    [TC_S_STEP] = "step",
	    [TC_S_LAYER] = "layer",
	    [TC_S_EXPOSED] = "exposed",
	    [TC_S_LIQUID] = "liquid",
	    [TC_S_PRODUCT] = "product"};
	for (uint32_t s = 0; s < TC_SUBJECT_COUNT; s++)
		if (names[s] && tc_node_is(node, names[s]))
			return s;
	return TC_NONE;
}

static bool is_name(const tc_node *node)
{
	if (node->count == 0 || node->text[0] < 'a' || node->text[0] > 'z')
		return false;
	for (uint32_t i = 0; i < node->count; i++) {
		const char c = node->text[i];
		if (!(c >= 'a' && c <= 'z') && !(c >= '0' && c <= '9') && c != '_')
			return false;
	}
	return true;
}

static bool read_parameter(
    tc_rule_reader *r, const tc_source *source, const tc_node *key, const tc_node *value, tc_let *let)
{
	const uint32_t subject = subject_of(value);
	const char *taken = taken_by(tc_node_text(key));
	if (!is_name(key))
		tc_wrong_at(r, "bad-id", source, key, "`%s` is no name", key->text);
	else if (taken)
		tc_wrong_at(r, "taken", source, key, "`%s` is the name of %s already; take another", key->text, taken);
	else if (subject == TC_NONE)
		tc_wrong_at(r, "unknown-name", source, value,
		    "a parameter is one of part, step, layer, exposed, liquid and product");
	else {
		let->param[let->params] = tc_keep(r, tc_node_text(key));
		let->subject[let->params++] = subject;
		return true;
	}
	return false;
}

static bool read_of(tc_rule_reader *r, const tc_item *item, tc_let *let)
{
	const tc_node *of = tc_map_get(item->node, "of", NULL);
	const tc_source *source = tc_item_source(r->collection, item, "of");
	if (!of)
		return true;
	if (of->kind != TC_MAP || of->count == 0 || of->count > 2) {
		tc_wrong_at(r, "wrong-shape", source, of, "`of` gives one or two named subjects, as in `{x: exposed}`");
		return false;
	}
	for (uint32_t i = 0; i < of->count; i++)
		if (!read_parameter(r, source, tc_map_key(of, i), tc_map_value(of, i), let))
			return false;
	return true;
}

static bool read_asks(tc_rule_reader *r, const tc_item *item, tc_let *let)
{
	static const char *const names[TC_ASK_COUNT] = {"recipe", "part", "step", "coat", "contact", "touch"};
	const tc_node *asks = tc_map_get(item->node, "asks", NULL);
	let->ask = TC_ASK_RECIPE;
	for (uint32_t a = 0; asks && a < TC_ASK_COUNT; a++)
		if (tc_node_is(asks, names[a])) {
			let->ask = a;
			return true;
		}
	if (asks) {
		tc_wrong_at(r, "unknown-name", tc_item_source(r->collection, item, "asks"), asks,
		    "`asks` is one of recipe, part, step, coat, contact and touch");
		return false;
	}
	if (let->params)
		return true;
	tc_diag_add(r->diags, TC_ERROR, "missing-key", item->place, "`%s` has neither `asks` nor `of`", item->id);
	return false;
}

static bool check_keys(tc_rule_reader *r, const tc_item *item)
{
	bool good = true;
	for (uint32_t i = 0; i < item->node->count; i++) {
		const tc_node *key = tc_map_key(item->node, i);
		bool known = false;
		for (size_t k = 0; k < COUNT(keys); k++)
			known |= tc_node_is(key, keys[k]);
		if (!known)
			tc_wrong_at(r, "unknown-key", tc_item_source(r->collection, item, key->text), key,
			    "a let has no key `%s`; it has `asks`, `of` and `is`", key->text);
		good &= known;
	}
	return good;
}

/* True if the let can be checked further. */
static bool read_let(tc_rule_reader *r, const tc_item *item, tc_let *let, tc_let_source *source)
{
	const char *taken = taken_by(tc_text_of(item->id));
	let->name = tc_keep(r, tc_text_of(item->id));
	source->place = item->place;
	source->state = TC_LET_BAD;
	if (item->node->kind != TC_MAP) {
		tc_wrong_at(r, "wrong-shape", item->source, item->node,
		    "a let is a mapping with `asks` or `of`, and `is`; this is %s", tc_node_kind_name(item->node));
		return false;
	}
	if (taken)
		tc_diag_add(r->diags, TC_ERROR, "taken", item->place, "`%s` is the name of %s already; take another",
		    item->id, taken);
	const tc_node *is = tc_map_get(item->node, "is", NULL);
	const tc_source *where = tc_item_source(r->collection, item, "is");
	if (!is)
		tc_diag_add(r->diags, TC_ERROR, "missing-key", item->place, "`%s` has no `is`", item->id);
	bool good = check_keys(r, item) && !taken && is;
	good &= read_of(r, item, let) && read_asks(r, item, let);
	if (!good || !tc_expression_node(r, where, item->node, is, "is"))
		return false;
	let->length = is->count;
	let->text = tc_keep(r, tc_node_text(is));
	source->passage = tc_passage_of(where, is);
	source->state = TC_LET_NEW;
	return true;
}

bool tc_lets_read(tc_rule_reader *r)
{
	const size_t count = tc_collection_count(r->collection, TC_SECTION_LET);
	tc_lets *lets = &r->rulebook->lets;
	tc_let *at = TC_ARRAY(r->arena, count, tc_let);
	lets->sources = TC_ARRAY(r->scratch, count, tc_let_source);
	if (!at || !lets->sources)
		return false;
	if (count > TC_LETS_MAX)
		tc_diag_add(r->diags, TC_ERROR, "bound",
		    tc_collection_at(r->collection, TC_SECTION_LET, TC_LETS_MAX)->place,
		    "a rulebook has at most %u lets", TC_LETS_MAX);
	lets->at = at;
	for (uint32_t i = 0; i < count && i < TC_LETS_MAX; i++) {
		read_let(r, tc_collection_at(r->collection, TC_SECTION_LET, i), &at[i], &lets->sources[i]);
		if (!at[i].name || !tc_map_put(&lets->names, r->arena, tc_text_of(at[i].name), i, NULL))
			return false;
		lets->count = i + 1;
	}
	tc_lets_check(&r->compiler, lets);
	return !tc_arena_failed(r->arena) && !tc_arena_failed(r->scratch);
}
