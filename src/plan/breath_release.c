/* What each task sets free, and when: mist as it is sprayed, films as they dry, cleaning, wipes. */
#include <math.h>
#include <string.h>

#include "plan/breath_private.h"

#include "judge/fumes.h"

/* More films than this in one plan are not followed as they dry: all of them is set free as it is put on. */
#define FILMS_MAX 2000u

/* Films of one kind that dry alike, on all parts together. */
typedef struct tc_film {
	const tc_layer *layer;
	double area;                    /* m^2 */
	bool dries;                     /* its drying can be followed */
	uint32_t sitting[TC_COATS_MAX]; /* in which each pass is laid */
} tc_film;

typedef struct tc_releasing {
	tc_breathing *b;
	tc_fumes *fumes;
	tc_film *film;
	uint32_t films, films_room;
	uint32_t **film_of;    /* [part][order - 1]: one more than the film; 0: none */
	uint32_t passes;       /* of all films */
	const tc_film *drying; /* being followed */
	bool failed;
} tc_releasing;

/* --- vapours ---------------------------------------------------------------------------------------------------------- */

static double figure(const tc_entry *entry, tc_property property)
{
	const tc_value value = tc_entry_value(entry, property);
	return tc_known(value) ? value.number : NAN;
}

/* TC_NONE: it is none, since it neither has a limit value nor burns; or out of memory. */
static uint32_t add_vapour(tc_releasing *r, const tc_entry *solvent)
{
	tc_breathing *b = r->b;
	const tc_value limit = tc_entry_value(solvent, TC_P_EXPOSURE_LIMIT), lel = tc_entry_value(solvent, TC_P_LEL);
	if (limit.state == TC_ABSENT && lel.state == TC_ABSENT)
		return TC_NONE;
	if (!tc_arena_grow(b->arena, (void **)&b->vapour, b->vapours, &b->vapours_room, sizeof *b->vapour)) {
		r->failed = true;
		return TC_NONE;
	}
	tc_vapour *v = &b->vapour[b->vapours];
	*v = (tc_vapour){.solvent = solvent,
	    .density = figure(solvent, TC_P_DENSITY),
	    .share = NAN,
	    .limit = figure(solvent, TC_P_EXPOSURE_LIMIT),
	    .lel = figure(solvent, TC_P_LEL),
	    .limit_unknown = limit.state == TC_UNKNOWN,
	    .lel_unknown = lel.state == TC_UNKNOWN};
	if (!tc_air_share(1, figure(solvent, TC_P_MOLAR_MASS), b->model->temperature.number, &v->share))
		v->share = NAN;
	return b->vapours++;
}

static uint32_t vapour_of(tc_releasing *r, const tc_entry *solvent)
{
	uint32_t *known = &r->b->of_entry[solvent->index];
	if (*known == 0) {
		const uint32_t vapour = add_vapour(r, solvent);
		*known = vapour == TC_NONE ? TC_NONE : vapour + 1;
	}
	return *known == TC_NONE ? TC_NONE : *known - 1;
}

/* --- releases --------------------------------------------------------------------------------------------------------- */

/* `volume` m^3 of a liquid solvent. False: its mass, or what share of the air it makes, is not known. */
static bool release(tc_releasing *r, const tc_entry *solvent, double volume, double from, double to, uint32_t sitting)
{
	tc_breathing *b = r->b;
	const uint32_t vapour = vapour_of(r, solvent);
	if (vapour == TC_NONE || !(volume > 0))
		return true;
	const tc_vapour *v = &b->vapour[vapour];
	if (isnan(v->density) || isnan(v->share))
		return false;
	if (!tc_arena_grow(b->arena, (void **)&b->release, b->releases, &b->releases_room, sizeof *b->release)) {
		r->failed = true;
		return true;
	}
	b->release[b->releases++] =
	    (tc_release){.from = from, .to = to, .mass = volume * v->density, .vapour = vapour, .sitting = sitting};
	return true;
}

/* Is any of it a vapour that matters? What nobody knows is. */
static bool matters(tc_releasing *r, const tc_volatile *of)
{
	if (of->state == TC_UNKNOWN)
		return true;
	for (uint32_t i = 0; i < of->count; i++)
		if (vapour_of(r, of->solvent[i]) != TC_NONE)
			return true;
	return false;
}

/* `volume` of a whole liquid, solids and all, at a task. */
static void release_liquid(tc_releasing *r, const tc_volatile *of, double volume, double from, double to, uint32_t task)
{
	bool known = of->state != TC_UNKNOWN && !isnan(of->part) && !isnan(volume);
	for (uint32_t i = 0; known && i < of->count; i++)
		known = release(r, of->solvent[i], volume * of->part * of->share[i], from, to, r->b->of_task[task]);
	if (!known && matters(r, of))
		r->b->unknown[task] = 1;
}

/* --- films ------------------------------------------------------------------------------------------------------------ */

static bool same_film(const tc_layer *a, const tc_layer *b)
{
	return a->product == b->product && a->step->number == b->step->number && a->coats == b->coats &&
	       a->temperature == b->temperature && a->thin.with == b->thin.with && a->thin.share == b->thin.share &&
	       memcmp(a->wet, b->wet, a->coats * sizeof *a->wet) == 0 &&
	       memcmp(a->at, b->at, a->coats * sizeof *a->at) == 0;
}

/* The film of a layer, shared with parts on which the same one lies. False: out of memory. */
static bool add_film(tc_releasing *r, const tc_layer *layer, uint32_t *of)
{
	const tc_value area = layer->part->written->area;
	if (!tc_known(area))
		return true;
	uint32_t i = 0;
	while (i < r->films && !same_film(r->film[i].layer, layer))
		i++;
	if (i == r->films) {
		if (!tc_arena_grow(r->b->arena, (void **)&r->film, r->films, &r->films_room, sizeof *r->film))
			return false;
		r->film[r->films++] = (tc_film){.layer = layer};
		r->passes += layer->coats;
	}
	r->film[i].area += area.number;
	*of = i + 1;
	return true;
}

static bool add_pass(tc_releasing *r, const tc_laying *l)
{
	uint32_t *of = &r->film_of[l->part][l->layer->order - 1];
	if (l->layer->spot)
		return true;
	if (*of == 0 && !add_film(r, l->layer, of))
		return false;
	if (*of)
		r->film[*of - 1].sitting[l->pass] = r->b->of_task[l->task];
	return true;
}

static bool gather_films(tc_releasing *r)
{
	const tc_model *model = r->b->model;
	r->film_of = TC_ARRAY(r->b->arena, model->parts + 1, uint32_t *);
	for (uint32_t p = 0; r->film_of && p < model->parts; p++) {
		r->film_of[p] = TC_ARRAY(r->b->arena, model->part[p].layers + 1, uint32_t);
		if (!r->film_of[p])
			return false;
	}
	if (!r->film_of)
		return false;
	for (uint32_t i = 0; i < r->b->supply->layings; i++)
		if (!add_pass(r, &r->b->supply->laying[i]))
			return false;
	return true;
}

static void gone(void *user, uint32_t pass, double from, double to, const tc_volatile *of, const double *left)
{
	tc_releasing *r = user;
	for (uint32_t i = 0; i < of->count; i++)
		release(r, of->solvent[i], left[i] * r->drying->area, from, to, r->drying->sitting[pass]);
}

static void dry_films(tc_releasing *r)
{
	for (uint32_t i = 0; i < r->films && r->passes <= FILMS_MAX; i++) {
		r->drying = &r->film[i];
		r->film[i].dries = tc_fumes_dry(r->fumes, r->film[i].layer, gone, r);
	}
}

/* --- passes ----------------------------------------------------------------------------------------------------------- */

static bool dries(const tc_releasing *r, const tc_laying *l)
{
	const uint32_t film = r->film_of[l->part][l->layer->order - 1];
	return film && r->film[film - 1].dries;
}

static bool is_propelled(const tc_laying *l)
{
	const tc_value own = tc_product_value(l->layer->product, TC_P_PROPELLED);
	const tc_value tool = l->tool ? tc_entry_value(l->tool, TC_P_PROPELLED) : tc_unknown(TC_T_TRUTH);
	return (tc_known(own) && own.truth == TC_TRUE) || (tc_known(tool) && tool.truth == TC_TRUE);
}

/* What of a pass is in the air as it is sprayed: what goes past, and what lands too where nobody knows how it dries. */
static double at_once(const tc_releasing *r, const tc_laying *l)
{
	return dries(r, l) ? l->uses - l->lands : l->uses;
}

/* One pass, on all its parts together: the layings from `l` to before `end`. */
static void release_pass(tc_releasing *r, const tc_laying *l, const tc_laying *end)
{
	const tc_task *task = &r->b->table->task[l->task];
	const tc_thin thin = task->step->thin.said ? task->step->thin : l->layer->thin;
	double volume = 0;
	tc_volatile of;
	tc_fumes_of(r->fumes, l->layer->product, &thin, &of);
	for (const tc_laying *at = l; at < end; at++) {
		const double more = at->layer->spot ? NAN : at_once(r, at);
		volume += isnan(more) ? 0 : more;
		if ((isnan(more) && matters(r, &of)) || (!at->layer->spot && is_propelled(at)))
			r->b->unknown[l->task] = 1;
	}
	release_liquid(r, &of, volume, l->at - l->takes, l->at, l->task);
}

/* The thinner that cleans, and at the cup's last pass what stays in it. */
static void release_cleaning(tc_releasing *r, const tc_laying *l, bool last)
{
	const tc_library *library = r->b->model->library;
	const tc_cupful *cup = &r->b->supply->cup[l->cup];
	const double share = tc_library_default(library, TC_D_CLEANING_VAPOUR)->value.number;
	const double takes = tc_library_default(library, TC_D_HAND_TIME)->value.number;
	const tc_thin thin =
	    r->b->table->task[l->task].step->thin.said ? r->b->table->task[l->task].step->thin : l->layer->thin;
	tc_volatile of;
	if (last && cup->left > 0) {
		tc_fumes_of(r->fumes, cup->product, &thin, &of);
		release_liquid(r, &of, share * cup->left, l->at, l->at + takes, l->task);
	}
	if (!(l->cleaned > 0))
		return;
	of = (tc_volatile){.state = TC_UNKNOWN, .part = NAN};
	if (cup->cleaner)
		tc_fumes_of(r->fumes, cup->cleaner, NULL, &of);
	release_liquid(r, &of, share * l->cleaned, l->at, l->at + takes, l->task);
}

static bool same_pass(const tc_laying *a, const tc_laying *b)
{
	return a->task == b->task && a->at == b->at && a->takes == b->takes && a->cup == b->cup &&
	       a->layer->thin.with == b->layer->thin.with && a->layer->thin.share == b->layer->thin.share;
}

static bool release_passes(tc_releasing *r)
{
	const tc_supply *supply = r->b->supply;
	uint32_t *last = TC_ARRAY(r->b->arena, supply->cups, uint32_t);
	if (!last)
		return false;
	for (uint32_t i = 0; i < supply->layings; i++)
		last[supply->laying[i].cup] = i;
	for (uint32_t i = 0; i < supply->layings; i++)
		if (!supply->laying[i].layer->spot)
			release_cleaning(r, &supply->laying[i], last[supply->laying[i].cup] == i);
	for (uint32_t i = 0, next; i < supply->layings; i = next) {
		next = i + 1;
		while (next < supply->layings && same_pass(&supply->laying[i], &supply->laying[next]))
			next++;
		release_pass(r, &supply->laying[i], &supply->laying[next]);
	}
	return true;
}

/* --- liquids that only wet -------------------------------------------------------------------------------------------- */

/* What a wipe or a bath leaves on the parts goes into the air; how much cloth and bath give off, nobody says. */
static void release_wet(tc_releasing *r, uint32_t number, const tc_product *product)
{
	const tc_breathing *b = r->b;
	const tc_task *task = &b->table->task[number];
	const double film = tc_library_default(b->model->library, TC_D_WIPE_FILM)->value.number;
	double area = 0;
	tc_volatile of;
	if (!product || product->family->section == TC_SECTION_ABRASIVES)
		return;
	tc_fumes_of(r->fumes, product, NULL, &of);
	if (!matters(r, &of))
		return;
	b->unknown[number] = 1;
	for (uint32_t p = 0; p < b->model->parts; p++)
		if (task->parts >> p & 1 && tc_known(b->model->part[p].written->area))
			area += b->model->part[p].written->area.number;
	release_liquid(r, &of, area * film, task->start, task->end, number);
}

static void release_wets(tc_releasing *r)
{
	for (uint32_t i = 0; i < r->b->table->tasks; i++) {
		const tc_written_step *step = r->b->table->task[i].step;
		switch (step->verb) {
		case TC_VERB_WASH:
		case TC_VERB_DEGREASE:
		case TC_VERB_CLEAN:
		case TC_VERB_WIPE:
		case TC_VERB_STRIP:
		case TC_VERB_POLISH:
			release_wet(r, i, step->with);
			break;
		case TC_VERB_DECAL:
			release_wet(r, i, step->softener);
			break;
		default:
			break;
		}
	}
}

bool tc_releases_gather(tc_breathing *b)
{
	tc_releasing r = {.b = b, .fumes = tc_fumes_new(b->arena, b->model)};
	b->of_entry = TC_ARRAY(b->arena, tc_library_count(b->model->library) + 1, uint32_t);
	if (!r.fumes || !b->of_entry || !gather_films(&r))
		return false;
	dry_films(&r);
	if (r.failed || !release_passes(&r))
		return false;
	release_wets(&r);
	return !r.failed;
}
