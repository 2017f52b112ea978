/* `stack`: the steps, each a mapping with one verb and keys that qualify it. What each takes stands in
 * rule/step_key.def. */
#include "stack/private.h"

/* One more than the verb, or than the row of step_key.def, that a key is; 0: none. A key may be both (mix). */
static const uint8_t verb_of[TC_KEY_COUNT] = {
#define VERB(id, name, form, dim, vocabulary, sections, help) [TC_KEY_##id] = TC_VERB_##id + 1,
#define KEY(id, name, form, dim, vocabulary, sections, verbs, help)
#include "rule/step_key.def"
#undef VERB
#undef KEY
};

static const uint8_t row_of[TC_KEY_COUNT] = {
    [TC_KEY_ON] = TC_K_ON + 1,
    [TC_KEY_ROLE] = TC_K_ROLE + 1,
    [TC_KEY_COATS] = TC_K_COATS + 1,
    [TC_KEY_PASS] = TC_K_PASS + 1,
    [TC_KEY_PASSES] = TC_K_PASSES + 1,
    [TC_KEY_WET_FILM] = TC_K_WET_FILM + 1,
    [TC_KEY_FLASH] = TC_K_FLASH + 1,
    [TC_KEY_THIN] = TC_K_THIN + 1,
    [TC_KEY_MIX] = TC_K_MIX_RATIO + 1,
    [TC_KEY_RATIO] = TC_K_RATIO + 1,
    [TC_KEY_NOZZLE] = TC_K_NOZZLE + 1,
    [TC_KEY_BY] = TC_K_BY + 1,
    [TC_KEY_EFFECT] = TC_K_EFFECT + 1,
    [TC_KEY_SHEEN] = TC_K_SHEEN + 1,
    [TC_KEY_SHADE] = TC_K_SHADE + 1,
    [TC_KEY_TIME] = TC_K_TIME + 1,
    [TC_KEY_TAKES] = TC_K_TAKES + 1,
    [TC_KEY_AT] = TC_K_AT + 1,
    [TC_KEY_DEPTH] = TC_K_DEPTH + 1,
    [TC_KEY_SOFTENER] = TC_K_SOFTENER + 1,
    [TC_KEY_WET] = TC_K_WET + 1,
    [TC_KEY_GRADE] = TC_K_GRADE + 1,
    [TC_KEY_INTENDS] = TC_K_INTENDS + 1,
    [TC_KEY_BECAUSE] = TC_K_BECAUSE + 1,
    [TC_KEY_REMARK] = TC_K_REMARK + 1,
};

/* --- the verb ---------------------------------------------------------------------------------------------------- */

/* The key that is the verb; TC_KEY_COUNT: refused. `mix` beside another verb is a ratio. */
static uint32_t find_verb(tc_reading *r, const tc_node *node, const tc_keys *keys)
{
	uint32_t verb = TC_KEY_COUNT;
	for (uint32_t i = 0; i < keys->count; i++) {
		const uint32_t key = keys->id[i];
		if (!verb_of[key] || (key == TC_KEY_MIX && verb != TC_KEY_COUNT))
			continue;
		if (verb != TC_KEY_COUNT && verb != TC_KEY_MIX) {
			tc_refuse(r, "one-verb", keys->key[key],
			    "`%s` beside `%s`; a step has one verb: make two steps of it", tc_key_row_of(key)->name,
			    tc_key_row_of(verb)->name);
			return TC_KEY_COUNT;
		}
		verb = key;
	}
	if (verb == TC_KEY_COUNT && !keys->slip)
		tc_refuse(r, "one-verb", node,
		    "the step says nothing to do; it needs a verb, such as `coat: grey primer` or `wait: 1 h`");
	return verb;
}

/* A key that means nothing with the verb is refused. */
static void check_keys(tc_reading *r, const tc_keys *keys, uint32_t verb_key)
{
	const uint32_t verb = verb_of[verb_key] - 1u;
	for (uint32_t i = 0; i < keys->count; i++) {
		const uint32_t key = keys->id[i];
		if (key == verb_key || (verb_of[key] && key != TC_KEY_MIX))
			continue;
		if (!(tc_step_key_of(row_of[key] - 1u)->verbs & 1u << verb))
			tc_refuse(r, "misplaced-key", keys->key[key], "`%s` means nothing with `%s`",
			    tc_key_row_of(key)->name, tc_key_row_of(verb_key)->name);
	}
}

/* The entry of the library that a bare verb (`dust: yes`) stands for: the one whose id is the verb. */
static const tc_product *bare_verb(tc_reading *r, const tc_node *node, uint32_t verb)
{
	const tc_step_row *row = tc_step_verb(verb);
	const tc_entry *entry = tc_library_by_id(r->library, tc_text_of(row->name));
	if (entry && entry->sections & row->sections)
		return tc_product_of_entry(r, entry, tc_node_place(r->source, node));
	if (verb != TC_VERB_DUST)
		tc_refuse(r, "missing-name", node, "`%s: yes` does not say with what", row->name);
	return NULL;
}

static void read_scribe(tc_reading *r, const tc_node *node, tc_written_step *step)
{
	const char *shape = "scribe: {width: 0.3 mm, depth: 0.25 mm}";
	tc_keys keys;
	if (!tc_keys_gather(r, node, IN_SCRIBE, "`scribe`", shape, &keys))
		return;
	if (!keys.at[TC_KEY_WIDTH] && !keys.at[TC_KEY_DEPTH] && !keys.slip)
		tc_refuse(r, "missing-key", node, "`scribe` says neither width nor depth; write `%s`", shape);
	if (keys.at[TC_KEY_WIDTH])
		tc_take_quantity(r, keys.at[TC_KEY_WIDTH], tc_wanted_of(TC_KEY_WIDTH), &step->width);
	if (keys.at[TC_KEY_DEPTH])
		tc_take_quantity(r, keys.at[TC_KEY_DEPTH], tc_wanted_of(TC_KEY_DEPTH), &step->depth);
}

static void read_cure(tc_reading *r, const tc_node *node)
{
	const char *word = tc_step_verb(TC_VERB_CURE)->vocabulary;
	if (!tc_node_is(node, word) && !tc_node_is(node, "yes"))
		tc_refuse(
		    r, "unknown-word", node, "`cure` takes no word `%s`; write `cure: %s`", tc_node_shown(node), word);
}

/* `mask` and `unmask`: a part or an area, or in words what is taped, or with what. True: it named places. */
static bool read_tape(tc_reading *r, const tc_node *node, const char *verb, tc_written_step *step, tc_places *places)
{
	tc_find find = {0};
	if (node->kind == TC_LIST || !tc_scalar_given(node) || tc_part_find(r, tc_node_text(node)) != TC_NONE)
		return tc_take_places(r, node, verb, places);
	if (tc_finder_find(r->finder, tc_node_text(node), TC_SECTION_BIT(AGENTS), &find) == TC_FOUND) {
		step->with = tc_product_of_entry(r, find.entry, tc_node_place(r->source, node));
		return false;
	}
	/* a slip of the pen, not a word of its own */
	if (tc_part_nearest(r, tc_node_text(node)).found.length)
		return tc_take_places(r, node, verb, places);
	for (const char *at = node->text; *at; at++)
		if (*at == '/')
			return tc_take_places(r, node, verb, places);
	if (!tc_node_is(node, "yes"))
		step->text = node->text;
	return false;
}

/* What stands behind the verb. True: places, which are set. */
static bool read_object(tc_reading *r, const tc_node *node, tc_written_step *step, tc_places *places)
{
	const tc_step_row *row = tc_step_verb(step->verb);
	switch (row->form) {
	case TC_STEP_MATERIAL:
		step->with = tc_node_is(node, "yes") ? bare_verb(r, node, step->verb)
		                                     : tc_take_material(r, node, row->sections, row->name);
		return false;
	case TC_STEP_NUMBER:
		tc_take_quantity(r, node, tc_wanted_of(TC_KEY_WAIT), &step->wait);
		return false;
	case TC_STEP_MAP:
		read_scribe(r, node, step);
		return false;
	case TC_STEP_WORD:
		read_cure(r, node);
		return false;
	case TC_STEP_PARTS:
		return read_tape(r, node, row->name, step, places);
	default:
		step->text = tc_take_text(r, node, row->name, "the railings");
		return false;
	}
}

/* --- passes ------------------------------------------------------------------------------------------------------ */

static void read_passes(tc_reading *r, const tc_node *node, const tc_keys *keys, tc_written_step *step)
{
	if (node->kind != TC_LIST || node->count == 0) {
		tc_refuse(
		    r, "wrong-shape", node, "`passes` is a list of what each pass is; write `[light, medium, medium]`");
		return;
	}
	if (node->count > TC_COATS_MAX) {
		tc_refuse(
		    r, "bound", node, "`passes` lists %u; a layer has at most %u", (unsigned)node->count, TC_COATS_MAX);
		return;
	}
	for (uint32_t i = 0; i < node->count; i++)
		step->pass[i] = (uint8_t)tc_take_word(r, node->items[i], "passes", "pass");
	step->passes = node->count;
	if (step->coats && step->coats != node->count)
		tc_refuse(r, "twice", keys->key[TC_KEY_COATS], "`coats` is %u and `passes` lists %u; leave `coats` out",
		    (unsigned)step->coats, (unsigned)node->count);
	if (keys->at[TC_KEY_PASS])
		tc_refuse(r, "twice", keys->key[TC_KEY_PASS], "`pass` beside `passes`; write one of them");
	step->coats = node->count;
}

static void read_flash_list(tc_reading *r, const tc_node *node, tc_written_step *step)
{
	const uint32_t pauses = step->coats ? step->coats - 1 : 0;
	tc_value value;
	if (node->count != pauses || pauses == 0) {
		tc_refuse(r, "wrong-shape", node, "`flash` lists %u; with `coats: %u` there are %u pauses",
		    (unsigned)node->count, step->coats ? (unsigned)step->coats : 1, (unsigned)pauses);
		return;
	}
	for (uint32_t i = 0; i < pauses; i++)
		if (tc_take_quantity(r, node->items[i], tc_wanted_of(TC_KEY_FLASH), &value))
			step->flash[i] = value.number;
	step->flashes = pauses;
}

static void read_flash(tc_reading *r, const tc_node *node, tc_written_step *step)
{
	tc_value value;
	if (node->kind == TC_LIST)
		read_flash_list(r, node, step);
	else if (tc_take_quantity(r, node, tc_wanted_of(TC_KEY_FLASH), &value)) {
		step->flash[0] = value.number;
		step->flashes = 1;
	}
}

static void read_coats(tc_reading *r, const tc_keys *keys, tc_written_step *step)
{
	if (keys->at[TC_KEY_COATS])
		step->coats = tc_take_whole(r, keys->at[TC_KEY_COATS], "coats", TC_COATS_MAX, "a layer has");
	if (keys->at[TC_KEY_PASSES])
		read_passes(r, keys->at[TC_KEY_PASSES], keys, step);
	else if (keys->at[TC_KEY_PASS]) {
		const uint32_t pass = tc_take_word(r, keys->at[TC_KEY_PASS], "pass", "pass");
		step->pass[0] = pass == TC_NONE ? TC_PASS_UNSAID : (uint8_t)pass;
	}
	if (keys->at[TC_KEY_FLASH] && !(keys->at[TC_KEY_COATS] && step->coats == 0))
		read_flash(r, keys->at[TC_KEY_FLASH], step);
}

/* --- thinning and mixing ----------------------------------------------------------------------------------------- */

/* Text that is a ratio or a share: `1:1`, `30 %`. */
static bool read_amount(tc_reading *r, const tc_node *node, const char *key, bool ratio, tc_written_step *step)
{
	double terms[TC_MIX_PARTS_MAX];
	tc_value share;
	if (!ratio) {
		if (!tc_take_quantity(r, node, tc_wanted_of(TC_KEY_ADD), &share))
			return false;
		step->thin.share = share.number;
		return true;
	}
	if (!tc_take_ratio(r, node, key, 2, terms))
		return false;
	step->thin.share = terms[1] / terms[0];
	if (step->thin.share <= tc_wanted_of(TC_KEY_ADD)->high)
		return true;
	tc_refuse(r, "bound", node, "`%s` is `%s`; at most 100 of thinner to 1 of paint (write paint first)", key,
	    node->text);
	return false;
}

static bool has_colon(const tc_node *node)
{
	for (const char *at = node->text; *at; at++)
		if (*at == ':')
			return true;
	return false;
}

static void read_thin(tc_reading *r, const tc_node *node, tc_written_step *step)
{
	const char *shape = "thin: {with: …, ratio: 1:1}";
	tc_keys keys;
	step->thin.place = tc_node_place(r->source, node);
	if (tc_scalar_given(node) && node->text[0] >= '0' && node->text[0] <= '9') {
		step->thin.said = read_amount(r, node, "thin", has_colon(node), step);
		return;
	}
	if (!tc_keys_gather(r, node, IN_THIN, "`thin`", shape, &keys))
		return;
	const tc_node *ratio = keys.at[TC_KEY_RATIO], *add = keys.at[TC_KEY_ADD];
	if (keys.at[TC_KEY_WITH])
		step->thin.with =
		    tc_take_material(r, keys.at[TC_KEY_WITH], tc_step_key_of(TC_K_THIN_WITH)->sections, "thin");
	if (ratio && add)
		tc_refuse(r, "twice", keys.key[TC_KEY_ADD], "`add` beside `ratio`; write one of them");
	else if (ratio || add)
		step->thin.said = read_amount(r, ratio ? ratio : add, ratio ? "ratio" : "add", ratio != NULL, step);
	else if (!keys.slip)
		tc_refuse(r, "missing-key", node, "`thin` does not say how much; write `%s`", shape);
}

static void read_mix(tc_reading *r, const tc_node *node, const char *key, tc_written_step *step)
{
	step->mix.count = tc_take_ratio(r, node, key, TC_MIX_PARTS_MAX, step->mix.terms);
	step->mix.text = step->mix.count ? node->text : NULL;
}

/* --- other keys -------------------------------------------------------------------------------------------------- */

static void read_quantities(tc_reading *r, const tc_keys *keys, tc_written_step *step)
{
	const struct {
		tc_key key;
		tc_value *value;
	} figures[] = {{TC_KEY_TIME, &step->time}, {TC_KEY_TAKES, &step->takes}, {TC_KEY_AT, &step->at},
	    {TC_KEY_DEPTH, &step->depth}, {TC_KEY_WET_FILM, &step->wet_film}, {TC_KEY_NOZZLE, &step->nozzle}};
	for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
		if (keys->at[figures[i].key])
			tc_take_quantity(r, keys->at[figures[i].key], tc_wanted_of(figures[i].key), figures[i].value);
}

static void read_words(tc_reading *r, const tc_keys *keys, tc_written_step *step)
{
	const struct {
		tc_key key;
		uint32_t *word;
	} words[] = {{TC_KEY_ROLE, &step->role}, {TC_KEY_EFFECT, &step->effect}, {TC_KEY_SHEEN, &step->sheen},
	    {TC_KEY_SHADE, &step->shade}, {TC_KEY_BY, &step->method}, {TC_KEY_INTENDS, &step->intends}};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
		const tc_step_row *row = tc_step_key_of(row_of[words[i].key] - 1u);
		if (keys->at[words[i].key])
			*words[i].word = tc_take_word(r, keys->at[words[i].key], row->name, row->vocabulary);
	}
	step->on_purpose = step->intends != TC_NONE;
}

static void read_rest(tc_reading *r, const tc_keys *keys, tc_written_step *step)
{
	read_quantities(r, keys, step);
	read_words(r, keys, step);
	if (step->verb == TC_VERB_COAT)
		read_coats(r, keys, step);
	if (keys->at[TC_KEY_THIN])
		read_thin(r, keys->at[TC_KEY_THIN], step);
	if (keys->at[TC_KEY_MIX] && step->verb != TC_VERB_MIX)
		read_mix(r, keys->at[TC_KEY_MIX], "mix", step);
	if (keys->at[TC_KEY_RATIO])
		read_mix(r, keys->at[TC_KEY_RATIO], "ratio", step);
	if (keys->at[TC_KEY_SOFTENER])
		step->softener =
		    tc_take_material(r, keys->at[TC_KEY_SOFTENER], tc_step_key_of(TC_K_SOFTENER)->sections, "softener");
	if (keys->at[TC_KEY_GRADE])
		step->grade =
		    tc_take_material(r, keys->at[TC_KEY_GRADE], tc_step_key_of(TC_K_GRADE)->sections, "grade");
	if (keys->at[TC_KEY_WET])
		tc_take_truth(r, keys->at[TC_KEY_WET], "wet", &step->wet);
	if (keys->at[TC_KEY_BECAUSE])
		tc_take_text(r, keys->at[TC_KEY_BECAUSE], "because", "it looked dull");
	if (keys->at[TC_KEY_REMARK])
		tc_take_text(r, keys->at[TC_KEY_REMARK], "remark", "mind the bow");
}

/* --- on what it works -------------------------------------------------------------------------------------------- */

static uint64_t every_part(const tc_reading *r)
{
	return r->recipe->parts >= 64 ? UINT64_MAX : ((uint64_t)1 << r->recipe->parts) - 1;
}

/* Tape keeps a step off masked areas; off masked parts too, unless it names them: then it works beside the tape. */
static void keep_off_tape(tc_reading *r, const tc_node *node, tc_places *places, bool named)
{
	const uint64_t bare = places->parts & ~r->taped_areas;
	if (!named && bare & ~r->taped_parts) {
		places->parts = bare & ~r->taped_parts;
		return;
	}
	if (bare == 0 && places->parts) {
		uint32_t part = 0;
		while (!(places->parts >> part & 1))
			part++;
		tc_refuse(r, "masked", node, "`%s` is masked since step %u; `unmask` it first, or work elsewhere",
		    r->part[part].name, (unsigned)r->taped_at[part]);
	}
	places->parts = bare;
}

static void put_tape(tc_reading *r, const tc_written_step *step, bool named)
{
	for (uint32_t i = 0; i < r->recipe->parts; i++)
		if (step->parts >> i & 1 && !((r->taped_areas | r->taped_parts) >> i & 1))
			r->taped_at[i] = step->number;
	r->taped_areas |= step->areas;
	if (named)
		r->taped_parts |= step->parts & ~step->areas;
}

static void read_places(
    tc_reading *r, const tc_keys *keys, uint32_t verb_key, tc_written_step *step, bool taped, tc_places places)
{
	const tc_node *on = keys->at[TC_KEY_ON];
	tc_places named = {.parts = every_part(r)};
	if (on && !tc_take_places(r, on, "on", &named))
		return;
	if (taped) {
		if (on)
			tc_refuse(r, "twice", keys->key[TC_KEY_ON],
			    "`on` beside the place that `%s` names; write one of them", tc_key_row_of(verb_key)->name);
		named = places;
	}
	const bool everywhere =
	    step->verb == TC_VERB_WAIT || step->verb == TC_VERB_MASK || step->verb == TC_VERB_UNMASK;
	if (!everywhere)
		keep_off_tape(r, on ? on : keys->key[verb_key], &named, on != NULL);
	step->parts = named.parts;
	step->areas = named.areas;
	step->on_area = named.areas != 0;
	if (step->verb == TC_VERB_MASK)
		put_tape(r, step, taped);
	else if (step->verb == TC_VERB_UNMASK) {
		r->taped_areas &= ~named.parts;
		r->taped_parts &= ~named.parts;
	}
}

/* --- steps ------------------------------------------------------------------------------------------------------- */

static void blank_step(tc_written_step *step, uint32_t number, const tc_node *node)
{
	const tc_value none = tc_absent(TC_T_NUMBER);
	*step = (tc_written_step){.number = number,
	    .node = node,
	    .verb = TC_VERB_DO,
	    .time = none,
	    .takes = none,
	    .at = tc_absent(TC_T_TEMPERATURE),
	    .depth = none,
	    .width = none,
	    .wet_film = none,
	    .nozzle = none,
	    .wait = none,
	    .role = TC_NONE,
	    .effect = TC_NONE,
	    .sheen = TC_NONE,
	    .shade = TC_NONE,
	    .method = TC_NONE,
	    .intends = TC_NONE};
	step->pass[0] = TC_PASS_UNSAID;
}

static void read_step(tc_reading *r, const tc_node *node, uint32_t number, tc_written_step *step)
{
	tc_keys keys;
	tc_places places = {0};
	blank_step(step, number, node);
	step->place = tc_node_place(r->source, node);
	if (tc_scalar_given(node)) {
		tc_refuse(r, "wrong-shape", node, "a step is a mapping; write `%s: …`", node->text);
		return;
	}
	if (!tc_keys_gather(r, node, IN_STEP, "a step", "coat: grey primer", &keys))
		return;
	const uint32_t verb_key = find_verb(r, node, &keys);
	if (verb_key == TC_KEY_COUNT)
		return;
	step->verb = verb_of[verb_key] - 1u;
	step->place = tc_node_place(r->source, keys.key[verb_key]);
	check_keys(r, &keys, verb_key);
	const bool taped = read_object(r, keys.at[verb_key], step, &places);
	read_places(r, &keys, verb_key, step, taped, places);
	read_rest(r, &keys, step);
}

/* What one part may show at once is bounded, and each thing that is laid may show beside all before it. */
static void check_layers(tc_reading *r, const tc_node *node)
{
	const uint32_t lays = 1u << TC_VERB_COAT | 1u << TC_VERB_FILL | 1u << TC_VERB_GLUE | 1u << TC_VERB_DECAL;
	for (uint32_t p = 0; p < r->recipe->parts; p++) {
		uint32_t laid = r->part[p].finishes;
		for (uint32_t i = 0; i < r->recipe->steps; i++)
			laid += lays >> r->step[i].verb & 1 && r->step[i].parts >> p & 1;
		if (laid < TC_EXPOSED_MAX)
			continue;
		tc_refuse(r, "bound", node,
		    "%u layers lie on `%s`; at most %u, spots of filler and old finishes included", (unsigned)laid,
		    r->part[p].name, TC_EXPOSED_MAX - 1);
	}
}

void tc_read_steps(tc_reading *r, const tc_node *node)
{
	if (node->kind != TC_LIST || node->count == 0) {
		tc_refuse(r, "wrong-shape", node, "`stack` is %s; write the steps in order, each behind a `-`",
		    node->kind == TC_LIST ? "empty" : tc_node_kind_name(node));
		return;
	}
	if (node->count > TC_STEPS_MAX) {
		tc_refuse(r, "bound", node, "the stack has %u steps; at most %u", (unsigned)node->count, TC_STEPS_MAX);
		return;
	}
	r->step = TC_ARRAY(r->arena, node->count, tc_written_step);
	if (!r->step)
		return;
	for (uint32_t i = 0; i < node->count; i++)
		read_step(r, node->items[i], i + 1, &r->step[i]);
	r->recipe->steps = node->count;
	check_layers(r, node);
}
