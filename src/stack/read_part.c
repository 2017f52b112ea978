/* `parts`: what the model is made of. Each named area of a part becomes a part of its own; the part itself is what no
 * area names. */
#include <string.h>

#include "stack/private.h"

static tc_written_part *part_add(tc_reading *r, const tc_node *node, const char *name)
{
	if (r->recipe->parts == TC_PARTS_MAX) {
		tc_refuse(r, "bound", node, "`%s` is one part too many; a recipe has at most %u, areas included", name,
		    TC_PARTS_MAX);
		return NULL;
	}
	if (!tc_arena_grow(r->arena, (void **)&r->part, r->recipe->parts, &r->parts_room, sizeof *r->part))
		return NULL;
	tc_written_part *part = &r->part[r->recipe->parts];
	*part = (tc_written_part){.name = name,
	    .wipe_result = TC_NONE,
	    .whole = r->recipe->parts,
	    .share = 1,
	    .area = tc_unknown(TC_T_NUMBER),
	    .line_width = tc_absent(TC_T_NUMBER),
	    .line_depth = tc_absent(TC_T_NUMBER),
	    .thickness = tc_unknown(TC_T_NUMBER),
	    .stressed = tc_unknown(TC_T_TRUTH),
	    .flexible = tc_unknown(TC_T_TRUTH),
	    .lit = tc_unknown(TC_T_TRUTH),
	    .outdoors = tc_unknown(TC_T_TRUTH),
	    .handled = tc_unknown(TC_T_TRUTH),
	    .place = tc_node_place(r->source, node)};
	r->recipe->parts++;
	return part;
}

/* --- `size: 210 × 62 × 48 mm` ------------------------------------------------------------------------------------ */

/* Bytes of a sign of multiplication at the start of the text. */
static size_t times_length(tc_text text)
{
	if (tc_text_starts(text, "\xC3\x97"))
		return 2;
	return text.length && (text.at[0] == 'x' || text.at[0] == 'X' || text.at[0] == '*') ? 1 : 0;
}

static size_t until_times(tc_text text)
{
	size_t at = 0;
	while (at < text.length && times_length((tc_text){text.at + at, text.length - at}) == 0)
		at++;
	return at;
}

/* One edge; `scale` of the unit, or 0 where none is written. False: no such text. */
static bool read_edge(tc_text text, double *number, double *scale)
{
	const tc_unit *unit;
	text = tc_text_trim(text);
	const size_t digits = tc_number_read(text.at, text.length, false, number);
	if (digits == 0)
		return false;
	const tc_text behind = tc_text_trim((tc_text){text.at + digits, text.length - digits});
	*scale = 0;
	if (behind.length == 0)
		return true;
	if (tc_unit_read(behind, &unit) != behind.length || unit->type != TC_T_NUMBER ||
	    !tc_dim_same(unit->dim, TC_DIM_LENGTH))
		return false;
	*scale = unit->scale;
	return true;
}

static bool read_edges(tc_text text, double edge[3])
{
	double scale[3];
	for (int i = 0; i < 3; i++) {
		const size_t length = until_times(text);
		if (!read_edge((tc_text){text.at, length}, &edge[i], &scale[i]) || (i < 2) != (length < text.length))
			return false;
		if (i < 2) {
			const size_t behind = length + times_length((tc_text){text.at + length, text.length - length});
			text = (tc_text){text.at + behind, text.length - behind};
		}
	}
	for (int i = 0; i < 3; i++) {
		edge[i] *= scale[i] > 0 ? scale[i] : scale[2];
		if (!(edge[i] > 0 && edge[i] <= tc_wanted_of(TC_KEY_SIZE)->high))
			return false;
	}
	return true;
}

/* The area of a box of that size. */
static void read_size(tc_reading *r, const tc_node *node, tc_written_part *part)
{
	double e[3];
	if (!tc_scalar_given(node) || !read_edges(tc_node_text(node), e)) {
		tc_refuse(r, "quantity", node, "`size` is `%s`; write length, width and height, such as `%s`",
		    tc_node_shown(node), tc_wanted_of(TC_KEY_SIZE)->such);
		return;
	}
	part->area = tc_number(2 * (e[0] * e[1] + e[1] * e[2] + e[2] * e[0]));
	part->area_estimated = true;
}

/* --- what a part says of itself ---------------------------------------------------------------------------------- */

static void read_lines(tc_reading *r, const tc_node *node, tc_written_part *part)
{
	tc_keys keys;
	if (!tc_keys_gather(r, node, IN_LINES, "`lines`", "lines: {width: 0.3 mm, depth: 0.25 mm}", &keys))
		return;
	part->line_width = part->line_depth = tc_unknown(TC_T_NUMBER);
	if (keys.at[TC_KEY_WIDTH])
		tc_take_quantity(r, keys.at[TC_KEY_WIDTH], tc_wanted_of(TC_KEY_WIDTH), &part->line_width);
	if (keys.at[TC_KEY_DEPTH])
		tc_take_quantity(r, keys.at[TC_KEY_DEPTH], tc_wanted_of(TC_KEY_DEPTH), &part->line_depth);
	if (!keys.at[TC_KEY_WIDTH] && !keys.at[TC_KEY_DEPTH] && !keys.slip)
		tc_refuse(r, "missing-key", node,
		    "`lines` says neither width nor depth; write `lines: {width: 0.3 mm, depth: 0.25 mm}`");
}

static void read_tested(tc_reading *r, const tc_node *node, tc_written_part *part)
{
	tc_keys keys;
	const char *shape = "tested: {wipe: …, result: softens}";
	if (!tc_keys_gather(r, node, IN_TESTED, "`tested`", shape, &keys))
		return;
	if (!keys.at[TC_KEY_WIPE] || !keys.at[TC_KEY_RESULT]) {
		if (keys.slip)
			return;
		tc_refuse(r, "missing-key", node, "`tested` says with what, and what came of it; write `%s`", shape);
		return;
	}
	const tc_product *liquid = tc_take_material(r, keys.at[TC_KEY_WIPE], TC_WET_SECTIONS, "wipe");
	part->wiped_with = liquid ? liquid->label : NULL;
	part->wipe_result = tc_take_word(r, keys.at[TC_KEY_RESULT], "result", "rub");
}

static void read_finish(tc_reading *r, const tc_node *node, tc_finish *finish)
{
	tc_keys keys;
	*finish = (tc_finish){.age = tc_unknown(TC_T_NUMBER), .place = tc_node_place(r->source, node)};
	if (!tc_keys_gather(r, node, IN_FINISH, "an old finish", "finish: [{coat: …, age: 10 y}]", &keys))
		return;
	if (keys.at[TC_KEY_COAT])
		finish->coat =
		    tc_take_material(r, keys.at[TC_KEY_COAT], TC_LAID_SECTIONS | TC_SECTION_BIT(SUBSTRATES), "coat");
	else if (!keys.slip)
		tc_refuse(
		    r, "missing-key", node, "an old finish has no `coat`; write what it is, if only `coat: coating`");
	if (keys.at[TC_KEY_AGE])
		tc_take_quantity(r, keys.at[TC_KEY_AGE], tc_wanted_of(TC_KEY_AGE), &finish->age);
	if (keys.at[TC_KEY_REMARK])
		tc_take_text(r, keys.at[TC_KEY_REMARK], "remark", "found under the dirt");
}

static void read_finishes(tc_reading *r, const tc_node *node, tc_written_part *part)
{
	const tc_node *const one[] = {node};
	const uint32_t count = node->kind == TC_LIST ? node->count : 1;
	const tc_node *const *items = node->kind == TC_LIST ? node->items : one;
	if (count >= TC_EXPOSED_MAX) {
		tc_refuse(r, "bound", node, "`finish` lists %u layers; at most %u lie on one part", (unsigned)count,
		    TC_EXPOSED_MAX - 1);
		return;
	}
	tc_finish *finish = TC_ARRAY(r->arena, count, tc_finish);
	if (!finish)
		return;
	for (uint32_t i = 0; i < count; i++)
		read_finish(r, items[i], &finish[i]);
	part->finishes = count;
	part->finish = finish;
}

static void read_truths(tc_reading *r, const tc_keys *keys, tc_written_part *part)
{
	const struct {
		tc_key key;
		tc_value *value;
	} truths[] = {{TC_KEY_STRESSED, &part->stressed}, {TC_KEY_FLEXIBLE, &part->flexible}, {TC_KEY_LIT, &part->lit},
	    {TC_KEY_OUTDOORS, &part->outdoors}, {TC_KEY_HANDLED, &part->handled}};
	for (size_t i = 0; i < sizeof truths / sizeof *truths; i++) {
		const tc_node *node = keys->at[truths[i].key];
		bool truth;
		if (node && tc_take_truth(r, node, tc_key_row_of(truths[i].key)->name, &truth))
			*truths[i].value =
			    (tc_value){.state = TC_SAID, .type = TC_T_TRUTH, .truth = truth ? TC_TRUE : TC_FALSE};
	}
}

static void read_extent(tc_reading *r, const tc_keys *keys, tc_written_part *part)
{
	if (keys->at[TC_KEY_AREA] && keys->at[TC_KEY_SIZE])
		tc_refuse(r, "twice", keys->key[TC_KEY_SIZE],
		    "`size` beside `area`; one is enough, and `area` is the better");
	if (keys->at[TC_KEY_AREA])
		tc_take_quantity(r, keys->at[TC_KEY_AREA], tc_wanted_of(TC_KEY_AREA), &part->area);
	else if (keys->at[TC_KEY_SIZE])
		read_size(r, keys->at[TC_KEY_SIZE], part);
	if (keys->at[TC_KEY_THICKNESS])
		tc_take_quantity(r, keys->at[TC_KEY_THICKNESS], tc_wanted_of(TC_KEY_THICKNESS), &part->thickness);
	if (keys->at[TC_KEY_LINES])
		read_lines(r, keys->at[TC_KEY_LINES], part);
}

/* --- areas ------------------------------------------------------------------------------------------------------- */

static bool good_name(tc_reading *r, const tc_node *key, const char *what)
{
	const tc_text name = tc_node_text(key);
	if (tc_text_trim(name).length > 0 && !memchr(name.at, '/', name.length))
		return true;
	tc_refuse(r, "bad-name", key, "`%s` cannot be the name of %s; it needs a letter and no `/`", key->text, what);
	return false;
}

/* One area of part `whole`: the same material and truths, its share of the area. */
static bool read_area(tc_reading *r, const tc_node *key, const tc_node *value, uint32_t whole, double *rest)
{
	tc_value share;
	if (!good_name(r, key, "an area") || !tc_take_quantity(r, value, tc_wanted_of(TC_KEY_AREAS), &share))
		return false;
	if (!(share.number > 0)) {
		tc_refuse(r, "out-of-range", value, "an area of `%s`; it must be above zero", value->text);
		return false;
	}
	const char *name = tc_arena_print(r->arena, "%s/%s", r->part[whole].name, key->text);
	tc_written_part *area = name ? part_add(r, key, name) : NULL;
	if (!area)
		return false;
	const tc_place place = area->place;
	*area = r->part[whole];
	area->name = name;
	area->place = place;
	area->whole = whole;
	area->share = share.number;
	if (tc_known(area->area))
		area->area.number *= share.number;
	*rest -= share.number;
	return true;
}

static void read_areas(tc_reading *r, const tc_node *node, uint32_t whole)
{
	double rest = 1;
	if (node->kind != TC_MAP || node->count == 0) {
		tc_refuse(r, "wrong-shape", node,
		    "`areas` is %s; write the share of each, such as `areas: {bottom: 45 %%}`",
		    tc_node_kind_name(node));
		return;
	}
	if (node->count > TC_AREAS_MAX) {
		tc_refuse(
		    r, "bound", node, "`areas` names %u; a part has at most %u", (unsigned)node->count, TC_AREAS_MAX);
		return;
	}
	for (uint32_t i = 0; i < node->count; i++)
		if (!read_area(r, tc_map_key(node, i), tc_map_value(node, i), whole, &rest))
			return;
	if (rest < 1e-6) {
		tc_refuse(r, "areas", node,
		    rest > -1e-6
		        ? "the areas make up all of `%s`; leave the largest out: the part itself is what no area names"
		        : "the areas make up more than all of `%s`",
		    r->part[whole].name);
		return;
	}
	r->part[whole].share = rest;
	if (tc_known(r->part[whole].area))
		r->part[whole].area.number *= rest;
}

/* --- parts ------------------------------------------------------------------------------------------------------- */

static void read_part(tc_reading *r, const tc_node *key, const tc_node *value)
{
	tc_keys keys;
	tc_written_part *part = good_name(r, key, "a part") ? part_add(r, key, key->text) : NULL;
	if (!part || !tc_keys_gather(r, value, IN_PART, "a part", "hull: {substrate: …}", &keys))
		return;
	const uint32_t index = r->recipe->parts - 1;
	if (keys.at[TC_KEY_SUBSTRATE])
		part->substrate =
		    tc_take_material(r, keys.at[TC_KEY_SUBSTRATE], TC_SECTION_BIT(SUBSTRATES), "substrate");
	else if (!keys.slip)
		tc_refuse(r, "missing-key", key,
		    "part `%s` has no `substrate`; say what it is made of, if only its kind", key->text);
	read_extent(r, &keys, part);
	read_truths(r, &keys, part);
	if (keys.at[TC_KEY_FINISH])
		read_finishes(r, keys.at[TC_KEY_FINISH], part);
	if (keys.at[TC_KEY_TESTED])
		read_tested(r, keys.at[TC_KEY_TESTED], part);
	if (keys.at[TC_KEY_REMARK])
		tc_take_text(r, keys.at[TC_KEY_REMARK], "remark", "cast last winter");
	if (keys.at[TC_KEY_AREAS])
		read_areas(r, keys.at[TC_KEY_AREAS], index);
}

void tc_read_parts(tc_reading *r, const tc_node *node)
{
	if (node->kind != TC_MAP || node->count == 0) {
		tc_refuse(r, "wrong-shape", node,
		    "`parts` is %s; write each part by its name, such as `hull: {substrate: …}`",
		    node->kind == TC_MAP ? "empty" : tc_node_kind_name(node));
		return;
	}
	for (uint32_t i = 0; i < node->count; i++)
		read_part(r, tc_map_key(node, i), tc_map_value(node, i));
}

void tc_read_one_part(tc_reading *r, const tc_node *node)
{
	const tc_product *substrate = tc_take_material(r, node, TC_SECTION_BIT(SUBSTRATES), "on");
	tc_written_part *part = substrate ? part_add(r, node, substrate->label) : NULL;
	if (part)
		part->substrate = substrate;
}

/* --- places ------------------------------------------------------------------------------------------------------ */

uint32_t tc_part_find(const tc_reading *r, tc_text name)
{
	for (uint32_t i = 0; i < r->recipe->parts; i++)
		if (tc_text_is(name, r->part[i].name))
			return i;
	return TC_NONE;
}

uint64_t tc_part_bits(const tc_reading *r, uint32_t part)
{
	uint64_t bits = (uint64_t)1 << part;
	for (uint32_t i = part + 1; i < r->recipe->parts && r->part[i].whole == part; i++)
		bits |= (uint64_t)1 << i;
	return bits;
}

tc_nearest tc_part_nearest(const tc_reading *r, tc_text name)
{
	tc_nearest nearest = TC_NEAREST(name);
	for (uint32_t i = 0; i < r->recipe->parts; i++)
		tc_nearest_offer(&nearest, tc_text_of(r->part[i].name));
	return nearest;
}

static bool take_place(tc_reading *r, const tc_node *node, const char *key, tc_places *places)
{
	if (!tc_scalar_given(node)) {
		tc_refuse(r, "wrong-shape", node, "`%s` is %s; write a part, `part/area`, or a list of these", key,
		    tc_node_shown(node));
		return false;
	}
	const uint32_t part = tc_part_find(r, tc_node_text(node));
	if (part == TC_NONE) {
		/* a broken `parts` has been refused already, and what it lacks would be refused again here */
		if (r->recipe->parts > 0)
			tc_refuse(r, "unknown-name", node, "no part or area `%s`" TC_NEAREST_F, node->text,
			    TC_NEAREST_A(tc_part_nearest(r, tc_node_text(node)).found, ""));
		return false;
	}
	places->parts |= tc_part_bits(r, part);
	if (r->part[part].whole != part)
		places->areas |= (uint64_t)1 << part;
	return true;
}

bool tc_take_places(tc_reading *r, const tc_node *node, const char *key, tc_places *places)
{
	*places = (tc_places){0};
	if (node->kind != TC_LIST)
		return take_place(r, node, key, places);
	if (node->count == 0) {
		tc_refuse(r, "wrong-shape", node, "`%s` is an empty list; leave it out to mean every part", key);
		return false;
	}
	bool good = true;
	for (uint32_t i = 0; i < node->count; i++)
		good &= take_place(r, node->items[i], key, places);
	return good;
}
