/* The volatile part of what is used, and its way into the air, by the same laws that the rules ask. */
#include "judge/fumes.h"

#include "judge/apparatus.h"

_Static_assert(TC_VOLATILE_MAX >= TC_SCI_COMPONENTS_MAX, "what is told holds what is dried");

#define FIRST_STRETCH 15.0 /* s; each next one ends at twice the time */
#define NOTHING_LEFT 1e-4  /* of what a pass began with: no longer followed */

/* The scene of the model with a worker that knows solvents and nothing else. */
struct tc_fumes {
	tc_scene scene;
	tc_worker worker;
};

tc_fumes *tc_fumes_new(tc_arena *arena, const tc_model *model)
{
	const uint32_t entries = tc_library_count(model->library);
	tc_fumes *f = TC_NEW(arena, tc_fumes);
	if (!f)
		return NULL;
	f->worker.library = model->library;
	f->worker.solvent = TC_ARRAY(arena, entries + 1, struct tc_solvent);
	f->worker.solvent_state = TC_ARRAY(arena, entries + 1, uint8_t);
	f->scene.worker = &f->worker;
	f->scene.arena = arena;
	f->scene.model = model;
	return f->worker.solvent && f->worker.solvent_state ? f : NULL;
}

/* --- composition ----------------------------------------------------------------------------------------------------- */

/* Without solids in it at all (a thinner, a wash) everything is volatile. */
static double volatile_part(const tc_product *product)
{
	const tc_value solids = tc_product_value(product, TC_P_SOLIDS);
	if (solids.state == TC_ABSENT)
		return 1;
	return tc_known(solids) ? 1 - solids.number : NAN;
}

static void add(tc_volatile *out, const tc_entry *solvent, double volume)
{
	uint32_t i = 0;
	while (i < out->count && out->solvent[i] != solvent)
		i++;
	if (i == out->count)
		out->solvent[out->count++] = solvent;
	out->share[i] += volume;
}

/* Adds a product's own solvents, `volume` in all; how well they are known. */
static tc_state add_product(const tc_library *library, tc_volatile *out, const tc_product *product, double volume)
{
	if (product->family->section == TC_SECTION_SOLVENTS) {
		add(out, product->family, volume);
		return TC_SAID;
	}
	const tc_value blend = tc_product_value(product, TC_P_SOLVENTS);
	for (uint32_t i = 0; tc_known(blend) && i < blend.blend->count; i++)
		add(out, tc_library_entry(library, blend.blend->parts[i].entry), volume * blend.blend->parts[i].share);
	return (tc_state)blend.state;
}

static void add_thinner(const tc_library *library, tc_volatile *out, const tc_thin *thin)
{
	const tc_state state = thin->with ? add_product(library, out, thin->with, thin->share) : TC_UNKNOWN;
	if (state == TC_UNKNOWN || out->state == TC_ABSENT)
		out->state = state;
	else if (state == TC_ASSUMED)
		out->state = TC_ASSUMED;
}

void tc_fumes_of(tc_fumes *f, const tc_product *product, const tc_thin *thin, tc_volatile *out)
{
	const tc_library *library = f->worker.library;
	const double part = volatile_part(product);
	double sum = 0;
	*out = (tc_volatile){.part = part};
	out->state = add_product(library, out, product, isnan(part) ? 1 : part);
	if (out->state != TC_UNKNOWN && thin && thin->said && thin->share > 0) {
		add_thinner(library, out, thin);
		out->part = (part + thin->share) / (1 + thin->share);
	}
	for (uint32_t i = 0; i < out->count; i++)
		sum += out->share[i];
	if (out->state == TC_UNKNOWN || !(sum > 0)) {
		out->state = out->state == TC_UNKNOWN ? TC_UNKNOWN : TC_ABSENT;
		out->count = 0;
	}
	for (uint32_t i = 0; i < out->count; i++)
		out->share[i] /= sum;
}

/* --- drying ---------------------------------------------------------------------------------------------------------- */

typedef struct tc_following {
	const tc_layer *layer;
	const tc_volatile *of;
	tc_gone *tell;
	void *user;
} tc_following;

/* Tells what left between two states of a film. */
static void tell(const tc_following *f, uint32_t pass, double from, double to, const struct tc_drying_sample *before,
    const struct tc_drying_sample *after)
{
	double gone[TC_SCI_COMPONENTS_MAX];
	for (uint32_t i = 0; i < f->of->count; i++)
		gone[i] = fmax(0, before->solvent * before->share[i] - after->solvent * after->share[i]);
	f->tell(f->user, pass, from, to, f->of, gone);
}

static void follow_pass(void *user, uint32_t pass, const struct tc_drying *drying, double until)
{
	const tc_following *f = user;
	struct tc_drying_sample before, after;
	const double landed = f->layer->at[pass];
	if (!tc_drying_at(drying, 0, &before))
		return;
	for (double from = 0, to = FIRST_STRETCH; from < until; from = to, to *= 2, before = after) {
		to = fmin(to, until);
		if (!tc_drying_at(drying, to, &after))
			return;
		tell(f, pass, landed + from, landed + to, &before, &after);
		if (after.solvent < NOTHING_LEFT * drying->initial)
			return;
	}
}

bool tc_fumes_dry(tc_fumes *fumes, const tc_layer *layer, tc_gone *told, void *user)
{
	tc_film_passes passes;
	tc_liquid_mix mix;
	tc_apparatus a;
	struct tc_drying drying;
	tc_volatile of = {.part = NAN};
	tc_following f = {.layer = layer, .of = &of, .tell = told, .user = user};

	tc_product_mix(&fumes->worker, layer->product, &layer->thin, &mix);
	if (!tc_known((tc_value){.state = (uint8_t)mix.state}))
		return false;
	of.state = mix.state;
	for (; of.count < mix.count; of.count++) {
		of.solvent[of.count] = tc_library_entry(fumes->worker.library, mix.entry[of.count]);
		of.share[of.count] = mix.share[of.count];
	}
	if (of.count == 0 || !mix.dries || !tc_film_of_layer(layer, &passes))
		return false;
	tc_apparatus_set(&fumes->scene, &mix, passes.temperature, passes.chi, &a);
	return tc_film_run(&passes, &mix, &a, NULL, NULL, &drying) &&
	       tc_film_run(&passes, &mix, &a, follow_pass, &f, &drying);
}
