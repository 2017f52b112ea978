/* The volatile part of what is laid: a product's solvents, thinned as the plan thins it. */
#include "judge/private.h"

#include <string.h>

enum { NOT_LOOKED_AT, HANSEN_ONLY, DRIES, NOTHING };

static double figure(const tc_entry *entry, tc_property property)
{
	const tc_figure *f = entry->figures[property];
	return f && f->value.state == TC_SAID ? f->value.number : NAN;
}

/* Reads `1:2,2:3,21:1` (checked when the library was loaded). */
static void groups_of(const tc_entry *entry, struct tc_groups *groups)
{
	const tc_figure *f = entry->figures[TC_P_GROUPS];

	groups->count = 0;
	if (!f || f->value.state != TC_SAID)
		return;
	for (const char *at = f->value.text; *at && groups->count < TC_GROUPS_MAX;) {
		unsigned number = 0, times = 0;
		for (; *at >= '0' && *at <= '9'; at++)
			number = number * 10 + (unsigned)(*at - '0');
		if (*at == ':')
			at++;
		for (; *at >= '0' && *at <= '9'; at++)
			times = times * 10 + (unsigned)(*at - '0');
		groups->of[groups->count].subgroup = (uint16_t)number;
		groups->of[groups->count++].times = (uint16_t)times;
		while (*at == ',' || *at == ' ')
			at++;
	}
}

static uint8_t look(const tc_entry *entry, struct tc_solvent *s)
{
	double d = figure(entry, TC_P_DELTA_D), p = figure(entry, TC_P_DELTA_P), h = figure(entry, TC_P_DELTA_H);

	if (isnan(d) || isnan(p) || isnan(h))
		return NOTHING;
	s->hansen = (struct tc_hansen){d, p, h};
	s->molar_mass = figure(entry, TC_P_MOLAR_MASS);
	s->density = figure(entry, TC_P_DENSITY);
	s->molar_volume = figure(entry, TC_P_MOLAR_VOLUME);
	s->diffusion_volume = figure(entry, TC_P_DIFFUSION_VOLUME) * 1e-6; /* Fuller's sums are in cm³/mol */
	s->vaporisation = figure(entry, TC_P_HEAT_OF_VAPORISATION);
	s->antoine = (struct tc_antoine){figure(entry, TC_P_ANTOINE_A), figure(entry, TC_P_ANTOINE_B), figure(entry, TC_P_ANTOINE_C)};
	if (isnan(s->diffusion_volume))
		s->diffusion_volume = 0;
	groups_of(entry, &s->groups);
	if (isnan(s->molar_mass) || isnan(s->density) || isnan(s->molar_volume) || isnan(s->vaporisation) ||
	    isnan(s->antoine.a) || isnan(s->antoine.b) || isnan(s->antoine.c))
		return HANSEN_ONLY;
	return DRIES;
}

static uint8_t solvent(tc_worker *worker, uint32_t entry)
{
	if (worker->solvent_state[entry] == NOT_LOOKED_AT)
		worker->solvent_state[entry] = look(tc_library_entry(worker->library, entry), &worker->solvent[entry]);
	return worker->solvent_state[entry];
}

/* Adds `volume` of a solvent. False when there are too many. */
static bool pour(tc_liquid_mix *mix, uint32_t entry, double volume)
{
	for (uint32_t i = 0; i < mix->count; i++)
		if (mix->entry[i] == entry) {
			mix->share[i] += volume;
			return true;
		}
	if (mix->count == TC_SCI_COMPONENTS_MAX)
		return false;
	mix->entry[mix->count] = entry;
	mix->share[mix->count++] = volume;
	return true;
}

/* Adds a product's solvents, `volume` in all. Returns how well they are known. */
static tc_state pour_product(tc_liquid_mix *mix, const tc_product *product, double volume)
{
	if (product->family->section == TC_SECTION_SOLVENTS)
		return pour(mix, product->family->index, volume) ? TC_SAID : TC_UNKNOWN;
	tc_value blend = tc_product_value(product, TC_P_SOLVENTS);
	if (!tc_known(blend))
		return (tc_state)blend.state;
	for (uint32_t i = 0; i < blend.blend->count; i++)
		if (!pour(mix, blend.blend->parts[i].entry, volume * blend.blend->parts[i].share))
			return TC_UNKNOWN;
	return (tc_state)blend.state;
}

/* Shares that add up to 1, Hansen's parameters of the whole, and whether its drying can be followed. */
static void settle(tc_worker *worker, tc_liquid_mix *mix)
{
	struct tc_hansen part[TC_SCI_COMPONENTS_MAX];
	double sum = 0;

	mix->dries = true;
	for (uint32_t i = 0; i < mix->count; i++) {
		uint8_t state = solvent(worker, mix->entry[i]);
		if (state == NOTHING)
			mix->state = TC_UNKNOWN;
		if (state != DRIES)
			mix->dries = false;
		part[i] = worker->solvent[mix->entry[i]].hansen;
		sum += mix->share[i];
	}
	if (!tc_known((tc_value){.state = (uint8_t)mix->state}))
		return;
	if (mix->count == 0 || !(sum > 0) || !tc_hansen_blend(part, mix->share, mix->count, &mix->hansen)) {
		mix->state = TC_ABSENT;
		return;
	}
	for (uint32_t i = 0; i < mix->count; i++)
		mix->share[i] /= sum;
}

void tc_product_mix(tc_worker *worker, const tc_product *product, const tc_thin *thin, tc_liquid_mix *mix)
{
	double volatile_part = 1;
	tc_value solids = tc_product_value(product, TC_P_SOLIDS);

	memset(mix, 0, sizeof *mix);
	if (thin && tc_known(solids))
		volatile_part = 1 - solids.number;
	mix->state = pour_product(mix, product, volatile_part);
	if (mix->state == TC_UNKNOWN)
		mix->lacks = product;
	if (thin && thin->said && thin->with && mix->state != TC_UNKNOWN) {
		tc_state state = pour_product(mix, thin->with, thin->share);
		if (state == TC_UNKNOWN) {
			mix->lacks = thin->with;
			mix->state = TC_UNKNOWN;
		} else if (state == TC_ASSUMED || mix->state == TC_ABSENT) {
			mix->state = state;
		}
	} else if (thin && thin->said && !thin->with && mix->state != TC_UNKNOWN) {
		mix->state = TC_UNKNOWN;
		mix->lacks = product;
	}
	if (mix->state == TC_SAID || mix->state == TC_ASSUMED)
		settle(worker, mix);
	if (mix->state == TC_UNKNOWN && !mix->lacks)
		mix->lacks = product;
}

void tc_mix_name(tc_worker *worker, tc_liquid_mix *mix)
{
	double words[1 + 2 * TC_SCI_COMPONENTS_MAX] = {0};

	for (uint32_t i = 0; i < mix->count; i++) {
		words[1 + 2 * i] = mix->entry[i];
		words[2 + 2 * i] = mix->share[i];
	}
	mix->name = tc_kept_name(worker->kept, words, 1 + 2 * mix->count);
}

const tc_liquid_mix *tc_scene_mix(tc_scene *scene, const tc_layer *layer)
{
	const tc_liquid_mix **at = &scene->mix[layer->part->index][layer->order - 1];

	if (!*at) {
		tc_liquid_mix *mix = TC_NEW(scene->arena, tc_liquid_mix);
		if (!mix)
			return NULL;
		tc_product_mix(scene->worker, layer->product, &layer->thin, mix);
		tc_mix_name(scene->worker, mix);
		*at = mix;
	}
	return *at;
}
