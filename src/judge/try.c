/* A liquid on a solid: the verdict, and the figures that stand beside it. */
#include "judge/course.h"
#include "judge/try_private.h"

#include <stdlib.h>
#include <string.h>

/* The lets that say what counts as attack. */
typedef struct lets {
	const tc_expr *attacks, *crazes;
} lets;

/* One film of the liquid on the solid. Layer, contact and liquid are copies, so that their film can be made
 * another. */
typedef struct trial {
	tc_scene *scene;
	const lets *lets;
	tc_question question;
	uint32_t steps_left;
	bool paint;
	tc_layer layer;
	tc_contact contact;
	tc_liquid liquid;
	tc_touch touch;
	tc_solid solid;
	tc_liquid_mix mix;
} trial;

/* --- setting up ------------------------------------------------------------------------------------------------- */

/* NULL: out of memory, or refused. */
static const tc_expr *let_of(tc_trying *t, tc_ask ask, const char *name)
{
	tc_diags *unsaid = tc_diags_new(t->arena);
	const tc_expr *expr =
	    unsaid ? tc_expr_compile(t->worker->rulebook, t->arena, ask, tc_text_of(name), unsaid) : NULL;

	if (expr)
		return expr;
	if (!unsaid || tc_diags_errors(unsaid) == 0)
		t->no_memory = true;
	else
		tc_diag_add(t->diags, TC_ERROR, "unknown-name", (tc_place){.file = "rulebook"},
		    "no let `%s`; it says what counts as attack", name);
	return NULL;
}

static tc_status find_lets(tc_trying *t, lets *l)
{
	const bool paint = tc_try_is_paint(t);
	const tc_ask ask = paint ? TC_ASK_CONTACT : TC_ASK_TOUCH;

	l->attacks = let_of(t, ask, paint ? "bite_attacks" : "bite_attacks_wet");
	l->crazes = let_of(t, ask, paint ? "bite_crazes" : "bite_crazes_wet");
	if (t->no_memory || tc_arena_failed(t->arena))
		return TC_NO_MEMORY;
	return l->attacks && l->crazes ? TC_OK : TC_BAD;
}

/* The wet film of what only wets, as said. False: refused. */
static bool film_said(tc_trying *t, double *film)
{
	tc_quantity quantity;
	tc_quantity_error error;
	const char *text = t->ask->wet_film;

	*film = 0;
	if (!text)
		return true;
	if (!tc_quantity_read(tc_text_of(text), true, &quantity, &error)) {
		tc_try_refuse(t, "quantity", "--wet-film", "%s", error.message);
		return false;
	}
	if (quantity.type != TC_T_NUMBER || !tc_dim_same(quantity.dim, TC_DIM_LENGTH) ||
	    !(quantity.si >= 1e-7 && quantity.si <= TC_TRY_FILM_MOST)) {
		tc_try_refuse(
		    t, "quantity", "--wet-film", "`%s` is no wet film from 0.1 µm to 1 mm; write it as `30 µm`", text);
		return false;
	}
	*film = quantity.si;
	return true;
}

static bool bind_paint(trial *r, const tc_part_step *at)
{
	if (!at->layer || at->contacts == 0)
		return false;
	r->layer = *at->layer;
	r->contact = at->contact[0];
	r->contact.coat = &r->layer;
	r->scene->contact = &r->contact;
	r->question.bound[TC_SLOT_COAT] = tc_subject_value(TC_S_LAYER, &r->layer);
	r->question.bound[TC_SLOT_UNDER] = tc_subject_value(TC_S_EXPOSED, r->contact.under);
	r->solid = tc_solid_of(TC_S_EXPOSED, r->contact.under);
	const tc_liquid_mix *mix = tc_scene_mix(r->scene, &r->layer);
	if (mix)
		r->mix = *mix;
	return mix != NULL;
}

/* A filler's or an adhesive's solvents lie there until they are gone. */
static bool bind_wet(trial *r, const tc_part_step *at, double film)
{
	if (at->touches > 0) {
		r->touch = at->touch[0];
		r->liquid = *at->touch[0].liquid;
	} else if (at->before.count > 0) {
		r->touch = (tc_touch){.under = &at->before.at[0], .direct = true};
		r->liquid =
		    (tc_liquid){.product = at->step->written->with, .step = at->step, .stays = TC_DRYING_HORIZON};
	} else {
		return false;
	}
	r->liquid.film = film;
	r->touch.liquid = &r->liquid;
	r->scene->touch = &r->touch;
	r->question.bound[TC_SLOT_LIQUID] = tc_subject_value(TC_S_LIQUID, &r->liquid);
	r->question.bound[TC_SLOT_UNDER] = tc_subject_value(TC_S_EXPOSED, r->touch.under);
	r->solid = tc_solid_of(TC_S_EXPOSED, r->touch.under);
	tc_product_mix(r->scene->worker, r->liquid.product, NULL, &r->mix);
	return true;
}

/* NULL: out of memory. A recipe of this form always has one part, and one step on it. */
static trial *set_up(tc_trying *t, const lets *l, const tc_recipe *recipe, uint32_t pass, double film)
{
	trial *r = TC_NEW(t->arena, trial);
	const tc_model *model = tc_model_build(t->arena, recipe, t->worker->library, pass);
	tc_scene *scene = model ? tc_scene_new(t->worker, t->arena, model) : NULL;

	if (!r || !scene)
		return NULL;
	const tc_part *part = &model->part[0];
	const tc_part_step *at = &part->step[0];
	r->scene = scene;
	r->lets = l;
	r->paint = tc_try_is_paint(t);
	scene->part = part;
	scene->at = at;
	scene->now = at->step->start;
	r->question = tc_question_new(scene, &r->steps_left);
	tc_question_bind(scene, &r->question);
	return (r->paint ? bind_paint(r, at) : bind_wet(r, at, film)) ? r : NULL;
}

/* --- the verdict ------------------------------------------------------------------------------------------------ */

static tc_truth decide(trial *r, const tc_expr *let)
{
	r->steps_left = TC_STEPS_PER_CHECK;
	return tc_decide(&r->question, let);
}

static uint32_t structure_of(const trial *r)
{
	const tc_value v = tc_product_value(r->solid.product, TC_P_STRUCTURE);
	return tc_known(v) ? v.symbol : TC_NONE;
}

static tc_try_word attack_word(const trial *r)
{
	switch (structure_of(r)) {
	case TC_AMORPHOUS:
		return TC_TRY_DISSOLVES;
	case TC_CROSSLINKED:
	case TC_SEMICRYSTALLINE:
		return TC_TRY_SWELLS;
	case TC_INERT:
		return TC_TRY_NONE;
	default:
		return TC_TRY_UNDECIDED;
	}
}

/* *by is the let that decided and its truth *truth; NULL where neither was true or open. */
static tc_try_word word_of(trial *r, const tc_expr **by, tc_truth *truth)
{
	const tc_truth attacks = decide(r, r->lets->attacks);

	*by = r->lets->attacks;
	*truth = attacks;
	if (attacks == TC_TRUE)
		return attack_word(r);
	if (attacks == TC_UNSURE)
		return TC_TRY_UNDECIDED;
	const tc_truth crazes = decide(r, r->lets->crazes);
	*by = r->lets->crazes;
	*truth = crazes;
	if (crazes == TC_TRUE)
		return TC_TRY_CRAZES;
	if (crazes == TC_UNSURE)
		return TC_TRY_UNDECIDED;
	*by = NULL;
	return TC_TRY_NONE;
}

static tc_try_word plain_word(trial *r)
{
	const tc_expr *by;
	tc_truth truth;
	return word_of(r, &by, &truth);
}

/* The unknown structure of the solid is what an open verdict may lack without any let being open. */
static bool explain(trial *r, const tc_expr *by, tc_truth truth, tc_try *out)
{
	tc_why why = {0};

	if (by && (truth == TC_TRUE || truth == TC_UNSURE) && !tc_why_of(&r->question, by, truth, &why))
		return false;
	out->reasons = why.reasons;
	out->reason = why.reason;
	out->needs = why.needs;
	out->need = why.need;
	if (out->word != TC_TRY_UNDECIDED || why.needs > 0)
		return true;
	tc_need *need = TC_NEW(r->scene->arena, tc_need);
	if (!need)
		return false;
	*need = (tc_need){.datum = tc_arena_print(r->scene->arena, "structure of %s", r->solid.product->label),
	    .where = tc_arena_print(
	        r->scene->arena, "put %s on the shelf with its family and `structure: …`", r->solid.product->label),
	    .place = r->solid.product->place};
	out->needs = 1;
	out->need = need;
	return need->datum && need->where;
}

/* --- how heavy, how long ---------------------------------------------------------------------------------------- */

static void set_film(trial *r, double wet)
{
	for (uint32_t i = 0; i < r->layer.coats; i++)
		r->layer.wet[i] = wet;
	r->liquid.film = wet;
}

static void set_time(trial *r, double stays)
{
	r->liquid.stays = stays;
}

typedef void setter(trial *r, double measure);

/* Is the verdict at this measure at most `word`? */
static bool spared(trial *r, setter *set, double measure, tc_try_word word, bool *known)
{
	set(r, measure);
	const tc_try_word got = plain_word(r);
	*known = got != TC_TRY_UNDECIDED;
	return got <= word;
}

/* The most of a measure, from `low` to `high`, at which the verdict is at most `word`, by bisection to half a
 * percent. The trial stands at another measure then. */
static tc_try_bound most(trial *r, setter *set, double low, double high, tc_try_word word)
{
	static const double close = 1.005;
	bool known;

	if (spared(r, set, high, word, &known))
		return (tc_try_bound){.value = tc_number(high), .any = true};
	if (!known)
		return (tc_try_bound){.value = tc_unknown(TC_T_NUMBER)};
	if (!spared(r, set, low, word, &known))
		return (tc_try_bound){.value = known ? tc_absent(TC_T_NUMBER) : tc_unknown(TC_T_NUMBER)};
	while (high > low * close) {
		const double middle = sqrt(low * high);
		if (spared(r, set, middle, word, &known))
			low = middle;
		else
			high = middle;
	}
	return (tc_try_bound){.value = tc_number(low)};
}

static tc_try_bound heaviest(trial *r, tc_try_word word)
{
	return most(r, set_film, 1e-7, TC_TRY_FILM_MOST, word);
}

/* Of a coat there is no such thing. The film is as the trial has it. */
static tc_try_bound longest(trial *r)
{
	if (r->paint)
		return (tc_try_bound){.value = tc_absent(TC_T_NUMBER)};
	const double stays = r->liquid.stays;
	const tc_try_bound bound = most(r, set_time, 1, TC_TRY_TIME_MOST, TC_TRY_CRAZES);
	r->liquid.stays = stays;
	return bound;
}

/* --- figures ---------------------------------------------------------------------------------------------------- */

static tc_value effect_of(trial *r, tc_bite what, double bound)
{
	return r->paint ? tc_bite_layer(r->scene, &r->layer, &r->solid, what, bound)
	                : tc_bite_liquid(r->scene, &r->liquid, &r->solid, what);
}

static bool film_of(const trial *r, tc_film_passes *p)
{
	if (r->paint)
		return tc_film_of_layer(&r->layer, p);
	tc_film_of_liquid(r->scene, &r->liquid, p);
	return true;
}

/* The course of the drying; without one the figures that come of it stay unknown. False: out of memory. */
static bool follow(trial *r, tc_try *out)
{
	tc_film_passes p;
	tc_course course;
	const bool sphere = r->solid.state == TC_SAID || r->solid.state == TC_ASSUMED;
	const bool liquid = r->mix.state == TC_SAID || r->mix.state == TC_ASSUMED;

	out->hot_bound = tc_constant(r->scene, TC_D_SWELL_BOUND);
	out->worst_at = NAN;
	out->hot_time = out->red_least.state == TC_ABSENT ? tc_absent(TC_T_NUMBER) : tc_unknown(TC_T_NUMBER);
	if (!sphere || !liquid || !r->mix.dries || !film_of(r, &p))
		return true;
	const double until = isnan(out->stays) ? TC_DRYING_HORIZON : out->stays;
	if (!tc_course_follow(r->scene, &p, &r->mix, &r->solid.sphere, out->hot_bound, until, &course))
		return !tc_arena_failed(r->scene->arena);
	out->moments = course.count;
	out->moment = course.moment;
	out->worst_at = course.worst_at;
	out->hot_time = tc_number(course.hot_time);
	return true;
}

static void describe_film(const trial *r, tc_try *out)
{
	tc_film_passes p;

	out->pass = TC_PASS_UNSAID;
	out->wet = out->flash = out->solids = out->stays = NAN;
	if (film_of(r, &p)) {
		out->coats = p.count;
		out->wet = p.wet[0];
		out->flash = p.count > 1 ? p.flash[0] : NAN;
	}
	if (!r->paint) {
		out->stays = r->liquid.stays;
		out->stays_assumed = r->liquid.stays_assumed;
		out->film_assumed = !(r->liquid.film > 0);
		return;
	}
	out->coats = r->layer.coats;
	out->pass = r->layer.pass[0];
	out->pass_assumed = r->layer.pass_assumed;
	out->film_assumed = r->layer.wet_assumed;
	out->flash_assumed = r->layer.flash_assumed;
	out->solids = tc_known(r->layer.solids) ? r->layer.solids.number : NAN;
	out->thinner = r->layer.thin.said ? r->layer.thin.with : NULL;
	out->thinned = r->layer.thin.said ? r->layer.thin.share : 0;
}

/* The largest share first, of equal ones the earlier entry. */
static void describe_liquid(const tc_trying *t, const trial *r, tc_try *out)
{
	const bool known = r->mix.state == TC_SAID || r->mix.state == TC_ASSUMED;

	out->liquid_state = known && t->typical ? TC_ASSUMED : r->mix.state;
	out->no_solvent = r->mix.state == TC_ABSENT;
	for (uint32_t i = 0; known && i < r->mix.count; i++) {
		uint32_t at = out->solvents++;
		for (; at > 0 && out->share[at - 1] < r->mix.share[i]; at--) {
			out->share[at] = out->share[at - 1];
			out->solvent[at] = out->solvent[at - 1];
		}
		out->share[at] = r->mix.share[i];
		out->solvent[at] = r->mix.entry[i];
	}
}
_Static_assert(TC_BLEND_MAX >= TC_SCI_COMPONENTS_MAX, "a mix fits into the result");

static bool gather_cautions(const trial *r, tc_try *out)
{
	tc_judgement j = {0};

	if (!tc_gather_cautions(r->scene, &j))
		return false;
	out->cautions = j.cautions;
	out->caution = j.caution;
	return true;
}

static bool describe(tc_trying *t, trial *r, tc_try *out)
{
	const tc_model *model = r->scene->model;

	out->model = model;
	out->rulebook = t->worker->rulebook;
	out->paint = r->paint;
	out->solid = r->solid.product;
	out->liquid = r->paint ? r->layer.product : r->liquid.product;
	out->structure = structure_of(r);
	out->stressed = tc_known(r->scene->part->stressed) && r->scene->part->stressed.truth == TC_TRUE;
	out->temperature = model->temperature;
	out->humidity = model->humidity;
	out->air_speed = model->air_speed;
	describe_film(r, out);
	describe_liquid(t, r, out);
	out->red = tc_bite_red(&r->mix, &r->solid);
	out->red_least = effect_of(r, TC_BITE_RED_LEAST, 1);
	out->attack = effect_of(r, TC_BITE_DEPTH, 1);
	return follow(r, out) && gather_cautions(r, out);
}

/* --- each weight of pass ---------------------------------------------------------------------------------------- */

static tc_status at_each_pass(tc_trying *t, const lets *l, tc_try *out)
{
	const tc_recipe *recipe;
	tc_status status;

	if (!(t->liquid->sections & 1u << TC_SECTION_COATINGS))
		return TC_OK;
	status = tc_try_recipe(t, (tc_try_form){.stressed = t->ask->stressed, .plain_pass = true}, &recipe);
	for (uint32_t pass = 0; pass < TC_PASS_COUNT && status == TC_OK; pass++) {
		trial *r = set_up(t, l, recipe, pass, 0);
		if (!r)
			return TC_NO_MEMORY;
		if (r->layer.coats == 0 || isnan(r->layer.wet[0]))
			continue;
		out->at_pass[out->passes++] = (tc_try_pass){.pass = pass,
		    .wet = r->layer.wet[0],
		    .word = plain_word(r),
		    .red_least = effect_of(r, TC_BITE_RED_LEAST, 1),
		    .attack = effect_of(r, TC_BITE_DEPTH, 1),
		    .hot_time = effect_of(r, TC_BITE_HOT_TIME, out->hot_bound)};
	}
	return status;
}

/* --- the whole -------------------------------------------------------------------------------------------------- */

static tc_status try_as_said(tc_trying *t, const lets *l, double film, tc_try *out)
{
	const tc_recipe *recipe;
	const tc_expr *by;
	tc_truth truth;
	const tc_status status = tc_try_recipe(t, (tc_try_form){.stressed = t->ask->stressed}, &recipe);
	trial *r = status == TC_OK ? set_up(t, l, recipe, TC_PASS_MEDIUM, film) : NULL;

	if (!r)
		return status == TC_OK ? TC_NO_MEMORY : status;
	out->word = word_of(r, &by, &truth);
	if (!explain(r, by, truth, out) || !describe(t, r, out))
		return TC_NO_MEMORY;
	out->longest = longest(r);
	out->heaviest = heaviest(r, TC_TRY_CRAZES);
	return TC_OK;
}

static tc_status try_under_stress(tc_trying *t, const lets *l, double film, tc_try *out)
{
	const tc_recipe *recipe;
	const tc_status status = tc_try_recipe(t, (tc_try_form){.stressed = true}, &recipe);
	trial *r = status == TC_OK ? set_up(t, l, recipe, TC_PASS_MEDIUM, film) : NULL;

	if (!r)
		return status == TC_OK ? TC_NO_MEMORY : status;
	out->under_stress = plain_word(r);
	out->heaviest_stressed = heaviest(r, TC_TRY_NONE);
	return TC_OK;
}

tc_status tc_try_bite(tc_worker *worker, tc_arena *arena, const tc_try_ask *ask, const tc_reader *files,
    tc_diags *diags, const tc_try **result)
{
	tc_trying *t = TC_NEW(arena, tc_trying);
	tc_try *out = TC_NEW(arena, tc_try);
	double film = 0;
	lets l;

	*result = NULL;
	if (!t || !out)
		return TC_NO_MEMORY;
	*t = (tc_trying){.worker = worker, .arena = arena, .ask = ask, .files = files, .diags = diags};
	tc_status status = tc_try_settle(t);
	if (status == TC_OK)
		status = find_lets(t, &l);
	if (status == TC_OK && !tc_try_is_paint(t) && !film_said(t, &film))
		status = TC_BAD;
	if (status == TC_OK)
		status = try_as_said(t, &l, film, out);
	if (status == TC_OK)
		status = try_under_stress(t, &l, film, out);
	if (status == TC_OK)
		status = at_each_pass(t, &l, out);
	if (tc_arena_failed(arena))
		return TC_NO_MEMORY;
	if (status == TC_OK)
		*result = out;
	return status;
}
