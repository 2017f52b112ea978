/* Blends: shares by volume of solvents, out of shares by volume or by mass of solvents and of other blends.
 *
 * A blend that is named within another is replaced by its solvents. By mass, each term's volume is its share over its
 * density, that of a blend being the mean of its solvents' by volume (volumes are taken to add up). In the rulebook a
 * blend may be named before it was read; it is then read first, and a blend that comes to itself so is an error. */
#include "library/private.h"

#define SUM_TOLERANCE 0.005

enum { UNREAD, READING, READ }; /* tc_draft.mix_state */

#define WELCOME (1u << TC_SECTION_SOLVENTS | 1u << TC_SECTION_BLENDS)

typedef struct mix {
	const tc_reader *reader;
	const tc_node *node;
	bool by_mass, rest_unknown, unknown;
	double written; /* sum of the shares as written */
	double total;   /* sum of the parts' volumes */
	tc_blend_part parts[TC_BLEND_MAX];
	uint32_t count;
} mix;

/* --- blends within blends --------------------------------------------------------------------------------------- */

static void read_own(tc_builder *b, uint32_t index)
{
	tc_draft *d = &b->drafts[index];
	const tc_reader reader = tc_lib_reader(b, d->mix_source);
	d->mix_state = READING;
	b->depth++;
	b->library->entries[index].figures[TC_P_SOLVENTS] =
	    tc_lib_figure(&reader, tc_property_row_of(TC_P_SOLVENTS), d->mix, d->mix_basis, index);
	b->depth--;
	d->mix_state = READ;
}

/* The entry at or above this one that says `solvents`, read by now; TC_NONE if none does, or if it is being read. */
static uint32_t said_at(const mix *m, const tc_node *key, uint32_t index)
{
	tc_builder *b = m->reader->builder;
	while (index != TC_NONE && !b->drafts[index].mix)
		index = b->library->entries[index].parent;
	if (index == TC_NONE)
		tc_lib_wrong(m->reader, "no-solvents", key, "`%s` does not say its `solvents`", key->text);
	else if (b->drafts[index].mix_state == READING)
		tc_lib_wrong(m->reader, "cycle", key, "`%s` is made of itself by way of this blend", key->text);
	else if (b->drafts[index].mix_state == UNREAD && b->depth >= TC_BLEND_MAX)
		tc_lib_wrong(m->reader, "bound", key, "blends stand within blends more than %u deep", TC_BLEND_MAX);
	else if (b->drafts[index].mix_state == UNREAD)
		read_own(b, index);
	return index != TC_NONE && b->drafts[index].mix_state == READ ? index : TC_NONE;
}

/* The blend of an entry, NULL (with a message, if none was given before) where there is none or it is not known. */
static const tc_blend *blend_of(mix *m, const tc_node *key, uint32_t index)
{
	const bool building = m->reader->builder != NULL;
	if (building)
		index = said_at(m, key, index);
	if (index == TC_NONE)
		return NULL;
	const tc_figure *figure = m->reader->library->entries[index].figures[TC_P_SOLVENTS];
	if (figure && figure->value.state == TC_UNKNOWN)
		m->unknown = true;
	else if (figure ? figure->value.state == TC_ABSENT : !building)
		tc_lib_wrong(m->reader, "no-solvents", key, "`%s` does not say its `solvents`", key->text);
	return figure ? figure->value.blend : NULL;
}

/* --- terms ------------------------------------------------------------------------------------------------------ */

static bool add_part(mix *m, const tc_node *key, uint32_t entry, double volume)
{
	uint32_t i = 0;
	while (i < m->count && m->parts[i].entry < entry)
		i++;
	if (i == m->count || m->parts[i].entry != entry) {
		if (m->count == TC_BLEND_MAX) {
			tc_lib_wrong(m->reader, "bound", key, "more than %u solvents; leave out the least of them",
			    TC_BLEND_MAX);
			return false;
		}
		for (uint32_t j = m->count++; j > i; j--)
			m->parts[j] = m->parts[j - 1];
		m->parts[i] = (tc_blend_part){.entry = entry};
	}
	m->parts[i].share += volume;
	m->total += volume;
	return true;
}

/* The density of a solvent; false with a message where the library does not say it. */
static bool density_of(const mix *m, const tc_node *key, uint32_t entry, double *density)
{
	const tc_entry *solvent = &m->reader->library->entries[entry];
	const tc_figure *figure = solvent->figures[TC_P_DENSITY];
	if (figure && figure->value.state == TC_SAID) {
		*density = figure->value.number;
		return true;
	}
	tc_lib_wrong(m->reader, "no-density", key,
	    "`by: mass` needs the density of `%s`, which the library does not say; give the shares by volume",
	    solvent->id);
	return false;
}

static bool add_solvent(mix *m, const tc_node *key, uint32_t entry, double share)
{
	double density = 1;
	if (m->by_mass && !density_of(m, key, entry, &density))
		return false;
	return add_part(m, key, entry, share / density);
}

static bool add_blend(mix *m, const tc_node *key, uint32_t entry, double share)
{
	const tc_blend *blend = blend_of(m, key, entry);
	if (!blend)
		return m->unknown;
	double density = 0;
	for (uint32_t i = 0; i < blend->count; i++) {
		double one = 1;
		if (m->by_mass && !density_of(m, key, blend->parts[i].entry, &one))
			return false;
		density += blend->parts[i].share * one;
	}
	for (uint32_t i = 0; i < blend->count; i++)
		if (!add_part(m, key, blend->parts[i].entry, blend->parts[i].share * share / density))
			return false;
	return true;
}

static bool add_term(mix *m, const tc_node *key, double share)
{
	const uint32_t entry = tc_lib_read_entry(m->reader, key, WELCOME, "solvents");
	if (entry == TC_NONE)
		return false;
	m->written += share;
	const tc_section section = m->reader->library->entries[entry].section;
	if (section == TC_SECTION_SOLVENTS)
		return add_solvent(m, key, entry, share);
	if (section == TC_SECTION_BLENDS)
		return add_blend(m, key, entry, share);
	tc_lib_wrong(m->reader, "not-a-solvent", key, "`%s` is no solvent and no blend", key->text);
	return false;
}

static bool read_share(const mix *m, const tc_node *key, const tc_node *node, double *share)
{
	const tc_property_row row = {.key = key->text, .type = TC_T_SHARE, .low = 0, .high = 1};
	if (!tc_lib_read_measure(m->reader, &row, node, share))
		return false;
	if (*share > 0)
		return true;
	tc_lib_wrong(m->reader, "out-of-range", node, "`%s` has no share; leave it out", key->text);
	return false;
}

/* --- the mapping ------------------------------------------------------------------------------------------------ */

/* `by` and `rest`; false if one of them has another word than it can have. */
static bool read_manner(mix *m)
{
	const tc_node *by = tc_map_get(m->node, "by", NULL), *rest = tc_map_get(m->node, "rest", NULL);
	m->by_mass = by && tc_node_is(by, "mass");
	m->rest_unknown = rest != NULL;
	if (by && !m->by_mass && !tc_node_is(by, "volume"))
		tc_lib_wrong(m->reader, "unknown-word", by, "shares are `by: volume` or `by: mass`");
	else if (rest && !tc_node_is(rest, "unknown"))
		tc_lib_wrong(m->reader, "unknown-word", rest,
		    "`rest` can only be `unknown`; a solvent that is known is listed by its name");
	else
		return true;
	return false;
}

static bool check_sum(const mix *m)
{
	const double percent = 100 * m->written;
	if (tc_compare(m->written, 1 + SUM_TOLERANCE) <= 0 &&
	    (m->rest_unknown || tc_compare(m->written, 1 - SUM_TOLERANCE) >= 0))
		return true;
	tc_buffer sum;
	tc_buffer_start(&sum, tc_arena_allocator(m->reader->arena));
	tc_buffer_number(&sum, percent, 1, 5);
	tc_lib_wrong(m->reader, "sum", m->node, "the shares add up to %s %%, not to 100 %%%s", sum.at ? sum.at : "",
	    m->written < 1 ? "; say `rest: unknown` if the others are not known" : "");
	tc_buffer_free(&sum);
	return false;
}

static bool read_terms(mix *m)
{
	bool good = read_manner(m);
	for (uint32_t i = 0; i < m->node->count; i++) {
		const tc_node *key = tc_map_key(m->node, i);
		double share;
		if (tc_node_is(key, "by") || tc_node_is(key, "rest"))
			continue;
		if (!read_share(m, key, tc_map_value(m->node, i), &share) || !add_term(m, key, share))
			good = false;
	}
	return good && check_sum(m);
}

static const tc_blend *kept(const mix *m)
{
	tc_blend *blend = TC_NEW(m->reader->arena, tc_blend);
	tc_blend_part *parts = TC_ARRAY(m->reader->arena, m->count, tc_blend_part);
	if (!blend || !parts)
		return NULL;
	for (uint32_t i = 0; i < m->count; i++) {
		parts[i].entry = m->parts[i].entry;
		parts[i].share = m->parts[i].share / m->total;
	}
	blend->count = m->count;
	blend->parts = parts;
	return blend;
}

const tc_blend *tc_lib_read_blend(
    const tc_reader *reader, const tc_property_row *row, const tc_node *node, bool *unknown)
{
	mix m = {.reader = reader, .node = node};
	if (node->kind == TC_SCALAR && !node->empty) {
		if (!add_term(&m, node, 1))
			return NULL;
	} else if (node->kind != TC_MAP) {
		tc_lib_wrong(reader, "wrong-shape", node, "`%s` is a mapping of solvents and their shares; this is %s",
		    row->key, tc_node_kind_name(node));
		return NULL;
	} else if (!read_terms(&m)) {
		return NULL;
	}
	*unknown = m.rest_unknown || m.unknown;
	return *unknown ? NULL : kept(&m);
}

void tc_lib_build_blends(tc_builder *b)
{
	for (uint32_t i = 0; i < b->library->count; i++)
		if (b->drafts[i].mix && b->drafts[i].mix_state == UNREAD)
			read_own(b, i);
	tc_lib_hand_down(b->library, TC_P_SOLVENTS);
}
