/* Remedies: typed edits. What a step's key takes stands in step_key.def. */
#include <string.h>

#include "rule/private.h"
#include "rule/step_key.h"

static const char *const edits[] = {"wait", "shorten", "change", "insert", "instead", "remove", "move", "do"};
#define EDITS (sizeof edits / sizeof *edits)

/* Keys that are being gathered for one remedy. */
typedef struct key_list {
	tc_edit_key *at;
	uint32_t count, room;
} key_list;

/* Where a remedy is being read. */
typedef struct reading {
	tc_rule_reader *r;
	const tc_source *source;
	const tc_node *map; /* the mapping round what is read */
} reading;

#define WRONG(x, id, node, ...) tc_wrong_at((x)->r, (id), (x)->source, (node), __VA_ARGS__)

/* --- expressions --------------------------------------------------------------------------------------------------- */

static const tc_expr *expression(
    const reading *x, const tc_node *node, const char *what, tc_type want, const tc_dim *dim, bool with_new)
{
	if (!tc_expression_node(x->r, x->source, x->map, node, what))
		return NULL;
	tc_request request = x->r->request;
	request.want = want;
	request.dim = dim;
	request.with_new = with_new;
	request.what = what;
	const tc_passage passage = tc_passage_of(x->source, node);
	return tc_expr_build(&x->r->compiler, &passage, &request, NULL);
}

static const tc_expr *quantity(const reading *x, const tc_node *node, const tc_step_row *row)
{
	const tc_type type = row->form == TC_STEP_SHARE         ? TC_T_SHARE
	                     : row->form == TC_STEP_TEMPERATURE ? TC_T_TEMPERATURE
	                                                        : TC_T_NUMBER;
	return expression(x, node, row->name, type, row->dim, false);
}

/* --- words, materials and the like ----------------------------------------------------------------------------------- */

static void offer_word(void *user, tc_text word)
{
	tc_nearest_offer(user, word);
}

static bool check_word(const reading *x, const tc_node *node, const tc_step_row *row)
{
	if (tc_word_of(x->r->library, row->vocabulary, tc_node_text(node)) != TC_NONE)
		return true;
	tc_nearest nearest = TC_NEAREST(tc_node_text(node));
	tc_words_each(x->r->library, row->vocabulary, offer_word, &nearest);
	WRONG(x, "unknown-name", node, "`%s` is no word of `%s`" TC_NEAR_F, node->text, row->vocabulary,
	    TC_NEAR(nearest, ""));
	return false;
}

static const tc_entry *entry_of(const reading *x, const tc_node *node)
{
	const tc_entry *entry = tc_library_by_id(x->r->library, tc_node_text(node));
	if (entry)
		return entry;
	tc_nearest nearest = TC_NEAREST(tc_node_text(node));
	for (uint32_t i = 0; i < tc_library_count(x->r->library); i++)
		tc_nearest_offer(&nearest, tc_text_of(tc_library_entry(x->r->library, i)->id));
	WRONG(x, "unknown-name", node, "no kind or material `%s`" TC_NEAR_F, node->text, TC_NEAR(nearest, ""));
	return NULL;
}

/* A material as a recipe would name it: here by its id, as a ready recipe has no shelf. */
static bool check_material(const reading *x, const tc_node *node, const tc_step_row *row)
{
	tc_text name = tc_node_text(node);
	char small[TC_SYMBOL_TEXT_MAX + 1]; /* P800 is the abrasive p800 */
	if (name.length <= TC_SYMBOL_TEXT_MAX && !tc_library_by_id(x->r->library, name)) {
		for (size_t i = 0; i < name.length; i++)
			small[i] = (char)(name.at[i] >= 'A' && name.at[i] <= 'Z' ? name.at[i] - 'A' + 'a' : name.at[i]);
		const tc_entry *entry = tc_library_by_id(x->r->library, (tc_text){small, name.length});
		if (entry)
			name.at = small;
	}
	const tc_entry *entry = tc_library_by_id(x->r->library, name);
	if (!entry)
		return entry_of(x, node) != NULL;
	if (!row->sections || entry->sections & row->sections)
		return true;
	WRONG(x, "remedy", node, "`%s` is nothing that `%s` takes", node->text, row->name);
	return false;
}

static bool check_ratio(const reading *x, const tc_node *node)
{
	double terms[TC_MIX_PARTS_MAX];
	tc_quantity_error error;
	if (tc_ratio_read(tc_node_text(node), terms, &error))
		return true;
	WRONG(x, "remedy", node, "%s", error.message);
	return false;
}

static bool check_plain(const reading *x, const tc_node *node, const tc_step_row *row)
{
	switch (row->form) {
	case TC_STEP_SYMBOL:
	case TC_STEP_SYMBOLS:
		return check_word(x, node, row);
	case TC_STEP_WORD:
		if (tc_node_is(node, row->vocabulary))
			return true;
		WRONG(x, "remedy", node, "`%s` is nothing that `%s` takes; write `%s`", node->text, row->name,
		    row->vocabulary);
		return false;
	case TC_STEP_TRUTH:
		if (tc_node_is(node, "yes") || tc_node_is(node, "no"))
			return true;
		WRONG(x, "remedy", node, "`%s` is `yes` or `no`", row->name);
		return false;
	case TC_STEP_MATERIAL:
		return check_material(x, node, row);
	case TC_STEP_RATIO:
		return check_ratio(x, node);
	default:
		return true;
	}
}

/* --- keys of a step -------------------------------------------------------------------------------------------------- */

static void push(const reading *x, key_list *list, tc_edit_key key)
{
	if (tc_arena_grow(x->r->arena, (void **)&list->at, list->count, &list->room, sizeof *list->at))
		list->at[list->count++] = key;
}

static bool add_scalar(const reading *x, key_list *list, const tc_node *node, const tc_step_row *row)
{
	tc_edit_key key = {.key = tc_keep(x->r, tc_text_of(row->name))};
	if (node->kind != TC_SCALAR || node->empty) {
		WRONG(x, "remedy", node, "`%s` takes one value; this is %s", row->name, tc_node_kind_name(node));
		return false;
	}
	if (tc_step_is_quantity(row) && !tc_node_is(node, "none")) {
		key.amount = quantity(x, node, row);
		if (!key.amount)
			return false;
	} else if (tc_node_is(node, "none") || check_plain(x, node, row)) {
		key.word = tc_keep(x->r, tc_node_text(node));
	} else {
		return false;
	}
	push(x, list, key);
	return true;
}

/* A list only where the recipe has one: passes, parts, flashes. */
static bool add_value(const reading *x, key_list *list, const tc_node *node, const tc_step_row *row)
{
	const bool many = row->form == TC_STEP_SYMBOLS || row->form == TC_STEP_PARTS || strcmp(row->name, "flash") == 0;
	bool good = true;
	if (node->kind != TC_LIST || !many)
		return add_scalar(x, list, node, row);
	for (uint32_t i = 0; i < node->count; i++)
		good &= add_scalar(x, list, node->items[i], row);
	return good;
}

static void no_such_key(const reading *x, const tc_node *key)
{
	tc_nearest nearest = TC_NEAREST(tc_node_text(key));
	for (uint32_t i = 0; tc_step_key_of(i); i++)
		tc_nearest_offer(&nearest, tc_text_of(tc_step_key_of(i)->name));
	for (uint32_t i = 0; tc_step_verb(i); i++)
		tc_nearest_offer(&nearest, tc_text_of(tc_step_verb(i)->name));
	WRONG(x, "unknown-key", key, "a step has no key `%s`" TC_NEAR_F, key->text, TC_NEAR(nearest, ""));
}

/* `thin: {with: …, ratio: …}` as `thin.with`, `thin.ratio`. */
static bool add_mapping(const reading *x, key_list *list, const char *name, const tc_node *node)
{
	const reading inner = {x->r, x->source, node};
	bool good = true;
	if (node->kind != TC_MAP) {
		WRONG(x, "remedy", node, "`%s` is a mapping of its keys; this is %s", name, tc_node_kind_name(node));
		return false;
	}
	for (uint32_t i = 0; i < node->count; i++) {
		const tc_node *key = tc_map_key(node, i);
		const char *dotted = tc_arena_print(x->r->scratch, "%s.%s", name, key->text);
		const uint32_t index = dotted ? tc_step_key_find(tc_text_of(dotted)) : TC_NONE;
		if (index == TC_NONE) {
			WRONG(x, "unknown-key", key, "`%s` has no key `%s`", name, key->text);
			good = false;
			continue;
		}
		good &= add_value(&inner, list, tc_map_value(node, i), tc_step_key_of(index));
	}
	return good;
}

/* One key of the step; `verb`: the step's verb, TC_NONE where it is not known. */
static bool add_key(const reading *x, key_list *list, const tc_node *key, const tc_node *value, uint32_t verb)
{
	const uint32_t index = tc_step_key_find(tc_node_text(key)), as_verb = tc_step_verb_find(tc_node_text(key));
	const tc_step_row *row = index == TC_NONE ? NULL : tc_step_key_of(index);
	if (row && verb != TC_NONE && !(row->verbs & 1u << verb)) {
		WRONG(x, "remedy", key, "`%s` means nothing at `%s`", row->name, tc_step_verb(verb)->name);
		return false;
	}
	if (!row && as_verb != TC_NONE && verb == TC_NONE)
		row = tc_step_verb(as_verb);
	if (!row || memchr(key->text, '.', key->count)) {
		no_such_key(x, key);
		return false;
	}
	return row->form == TC_STEP_MAP ? add_mapping(x, list, row->name, value) : add_value(x, list, value, row);
}

/* --- edits ----------------------------------------------------------------------------------------------------------- */

static bool read_kind(const reading *x, const tc_node *node, tc_remedy *remedy)
{
	const tc_node *kind = tc_map_get(node, "kind", NULL), *that = tc_map_get(node, "that", NULL);
	const reading inner = {x->r, x->source, node};
	if (kind->kind != TC_SCALAR) {
		WRONG(x, "remedy", kind, "`kind` is the id of a kind; this is %s", tc_node_kind_name(kind));
		return false;
	}
	const tc_entry *entry = entry_of(x, kind);
	if (!entry)
		return false;
	remedy->kind = entry->index;
	if (that)
		remedy->that = expression(&inner, that, "that", TC_T_TRUTH, NULL, true);
	return !that || remedy->that;
}

/* Further keys of an inserted or exchanged step. */
static bool read_rest(const reading *x, const tc_node *node, uint32_t verb, const tc_node *verb_key, tc_remedy *remedy)
{
	const reading inner = {x->r, x->source, node};
	key_list list = {0};
	bool good = true;
	if (verb_key)
		good = verb == TC_VERB_SCRIBE
		           ? add_mapping(&inner, &list, "scribe", tc_map_get(node, "scribe", NULL))
		           : add_value(&inner, &list, tc_map_get(node, verb_key->text, NULL), tc_step_verb(verb));
	for (uint32_t i = 0; i < node->count; i++) {
		const tc_node *key = tc_map_key(node, i);
		if (key != verb_key && !tc_node_is(key, "kind") && !tc_node_is(key, "that"))
			good &= add_key(&inner, &list, key, tc_map_value(node, i), verb);
	}
	remedy->count = list.count;
	remedy->keys = list.at;
	return good;
}

static bool read_insert(const reading *x, const tc_node *node, tc_remedy *remedy)
{
	if (node->kind != TC_MAP) {
		WRONG(x, "remedy", node, "`%s` is a step, or `{kind: K, that: …}`; this is %s", edits[remedy->edit],
		    tc_node_kind_name(node));
		return false;
	}
	if (tc_map_get(node, "kind", NULL))
		return read_kind(x, node, remedy) && read_rest(x, node, TC_VERB_COAT, NULL, remedy);
	if (remedy->edit == TC_EDIT_INSTEAD) {
		WRONG(x, "remedy", node, "`instead` names a `kind`: `{kind: K, that: …}`");
		return false;
	}
	for (uint32_t i = 0; i < node->count; i++) {
		const tc_node *key = tc_map_key(node, i);
		const uint32_t verb = tc_step_verb_find(tc_node_text(key));
		if (verb != TC_NONE)
			return read_rest(x, node, verb, key, remedy);
	}
	WRONG(x, "remedy", node, "an inserted step has a verb (`sand`, `coat`, `cure` …), or is `{kind: K, that: …}`");
	return false;
}

static bool read_change(const reading *x, const tc_node *node, tc_remedy *remedy)
{
	if (node->kind != TC_MAP || node->count == 0) {
		WRONG(x, "remedy", node, "`change` is a mapping of keys of the step; this is %s",
		    tc_node_kind_name(node));
		return false;
	}
	return read_rest(x, node, TC_NONE, NULL, remedy);
}

static bool read_place(const reading *x, const tc_node *node, bool after, tc_remedy *remedy)
{
	static const struct {
		const char *name;
		uint32_t slot;
	} names[] = {{"coat", TC_SLOT_COAT}, {"step", TC_SLOT_STEP}, {"under", TC_SLOT_UNDER}};
	for (size_t i = 0; i < sizeof names / sizeof *names; i++)
		if (tc_node_is(node, names[i].name) && tc_ask_slots(x->r->rule->ask) & 1u << names[i].slot) {
			remedy->place = tc_keep(x->r, tc_text_of(names[i].name));
			remedy->after = after;
			return true;
		}
	WRONG(x, "remedy", node, "`%s` is `coat`, `step` or `under`, as far as the rule asks for it",
	    after ? "after" : "before");
	return false;
}

static bool read_places(const reading *x, const tc_node *map, const tc_node *otherwise, tc_remedy *remedy)
{
	const tc_node *before = tc_map_get(map, "before", NULL), *after = tc_map_get(map, "after", NULL);
	if (before && after) {
		WRONG(x, "remedy", after, "either `before` or `after`");
		return false;
	}
	if (before || after)
		return read_place(x, before ? before : after, after != NULL, remedy);
	if (otherwise) {
		WRONG(x, "remedy", otherwise, "`%s` says where: `before: step`, `after: under` …", edits[remedy->edit]);
		return false;
	}
	remedy->place = tc_keep(x->r, TC_TEXT("step"));
	return true;
}

static bool read_sentence(const reading *x, const tc_node *node, tc_remedy *remedy)
{
	tc_request request = x->r->request;
	request.what = "do";
	if (node->kind != TC_SCALAR || node->empty) {
		WRONG(x, "remedy", node, "`do` is a sentence; this is %s", tc_node_kind_name(node));
		return false;
	}
	const tc_passage passage = tc_passage_of(x->source, node);
	remedy->says = tc_template_build(&x->r->compiler, &passage, &request, x->r->rule->when);
	return remedy->says != NULL;
}

static bool read_edit(const reading *x, const tc_node *node, tc_remedy *remedy)
{
	switch (remedy->edit) {
	case TC_EDIT_WAIT:
	case TC_EDIT_SHORTEN:
		remedy->amount = expression(x, node, edits[remedy->edit], TC_T_NUMBER, &TC_DIM_TIME, false);
		return remedy->amount != NULL;
	case TC_EDIT_CHANGE:
		return read_change(x, node, remedy);
	case TC_EDIT_INSERT:
	case TC_EDIT_INSTEAD:
		return read_insert(x, node, remedy) &&
		       (remedy->edit == TC_EDIT_INSTEAD || read_places(x, x->map, NULL, remedy));
	case TC_EDIT_REMOVE:
		if (tc_node_is(node, "step"))
			return true;
		WRONG(x, "remedy", node, "`remove: step` is all that `remove` takes");
		return false;
	case TC_EDIT_MOVE:
		if (node->kind == TC_MAP)
			return read_places(x, node, node, remedy);
		WRONG(x, "remedy", node, "`move` says where: `{before: coat}`");
		return false;
	default:
		return read_sentence(x, node, remedy);
	}
}

/* --- the list --------------------------------------------------------------------------------------------------------- */

static uint32_t edit_of(const tc_node *key)
{
	for (uint32_t i = 0; i < EDITS; i++)
		if (tc_node_is(key, edits[i]))
			return i;
	return TC_NONE;
}

static bool check_keys(const reading *x, const tc_node *map, const tc_node **edit, tc_remedy *remedy)
{
	*edit = NULL;
	for (uint32_t i = 0; i < map->count; i++) {
		const tc_node *key = tc_map_key(map, i);
		const uint32_t e = edit_of(key);
		if (e != TC_NONE && *edit) {
			WRONG(x, "remedy", key, "one remedy makes one edit; begin another item for `%s`", key->text);
			return false;
		}
		if (e != TC_NONE) {
			*edit = tc_map_value(map, i);
			remedy->edit = (tc_edit)e;
		} else if (!tc_node_is(key, "before") && !tc_node_is(key, "after")) {
			tc_nearest nearest = TC_NEAREST(tc_node_text(key));
			for (uint32_t j = 0; j < EDITS; j++)
				tc_nearest_offer(&nearest, tc_text_of(edits[j]));
			WRONG(x, "unknown-key", key, "no edit `%s`" TC_NEAR_F, key->text, TC_NEAR(nearest, ""));
			return false;
		}
	}
	if (*edit)
		return true;
	WRONG(x, "remedy", map, "a remedy is an edit: wait, shorten, change, insert, instead, remove, move or do");
	return false;
}

static bool read_one(tc_rule_reader *r, const tc_source *source, const tc_node *node, tc_remedy *remedy)
{
	const reading x = {r, source, node};
	const tc_node *edit;
	remedy->kind = TC_NONE;
	if (node->kind != TC_MAP) {
		WRONG(&x, "remedy", node, "a remedy is a mapping such as `{wait: 2 h}`; this is %s",
		    tc_node_kind_name(node));
		return false;
	}
	return check_keys(&x, node, &edit, remedy) && read_edit(&x, edit, remedy);
}

void tc_remedies_read(tc_rule_reader *r, const tc_source *source, const tc_node *node)
{
	if (node->kind != TC_LIST) {
		tc_wrong_at(
		    r, "wrong-shape", source, node, "`remedies` is a list; this is %s", tc_node_kind_name(node));
		return;
	}
	tc_remedy *remedies = TC_ARRAY(r->arena, node->count, tc_remedy);
	for (uint32_t i = 0; remedies && i < node->count; i++)
		read_one(r, source, node->items[i], &remedies[i]);
	r->rule->remedies = node->count;
	r->rule->remedy = remedies;
}
