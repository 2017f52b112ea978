/* Judging a recipe from end to end: the model, the questions, acceptances, cautions, assumptions, the order of it all. */
#include "judge/private.h"

#include <stdlib.h>
#include <string.h>

static int by_place(const void *a, const void *b)
{
	const tc_finding *x = a, *y = b;
	const uint64_t p[] = {x->place.line, x->place.column, x->rule->index, x->part, x->step, x->ordinal};
	const uint64_t q[] = {y->place.line, y->place.column, y->rule->index, y->part, y->step, y->ordinal};

	for (size_t i = 0; i < sizeof p / sizeof *p; i++)
		if (p[i] != q[i])
			return p[i] < q[i] ? -1 : 1;
	return 0;
}

/* --- passes that nobody gave -------------------------------------------------------------------------------------- */

/* The finding of the same rule on the same subject. Not by ordinal: heavier passes close sooner, and then meet less. */
static const tc_finding *same(const tc_findings *fs, const tc_finding *f)
{
	for (uint32_t i = 0; i < fs->count; i++) {
		const tc_finding *g = &fs->at[i];
		if (g->rule == f->rule && g->part == f->part && g->step == f->step && g->under == f->under)
			return g;
	}
	return NULL;
}

/* The layer whose unsaid pass decides a finding: that of its step, else the first of the part that says none. */
static const tc_layer *unsaid(const tc_model *model, const tc_finding *f)
{
	const tc_layer *found = NULL;

	if (f->part == TC_NONE)
		return NULL;
	const tc_part *part = &model->part[f->part];
	for (uint32_t i = 0; i < part->layers; i++) {
		const tc_layer *l = part->layer[i];
		if (!l->pass_assumed)
			continue;
		if (!found || (l->step && l->step->number == f->step))
			found = l;
	}
	return found;
}

/* Says that a finding depends on a pass that nobody gave. */
static bool open_question(const tc_scene *scene, tc_finding *f)
{
	const tc_layer *layer = unsaid(scene->model, f);
	tc_need *need = TC_NEW(scene->arena, tc_need);

	if (!need)
		return false;
	*need = (tc_need){.datum = tc_arena_print(scene->arena, "pass of %s", layer ? layer->product->label : "the coats"),
	    .where = "write `pass: light` (or mist, medium, wet) at the step",
	    .place = layer ? layer->place : f->place};
	f->verdict = TC_V_UNDECIDED;
	if (f->weight == TC_V_ERROR)
		f->weight = TC_V_WARNING;
	f->lowered = true;
	f->needs = 1;
	f->need = need;
	f->message = f->rule->about;
	return need->datum != NULL;
}

bool tc_merge_passes(tc_findings *light, const tc_findings *medium)
{
	for (uint32_t i = 0; i < light->count; i++) {
		tc_finding *f = &light->at[i];
		const tc_finding *g = same(medium, f);
		if ((!g || g->verdict != f->verdict) && f->verdict != TC_V_UNDECIDED && !open_question(light->scene, f))
			return false;
	}
	for (uint32_t i = 0; i < medium->count; i++) {
		if (same(light, &medium->at[i]))
			continue;
		if (light->count == light->room &&
		    !tc_arena_grow(light->scene->arena, (void **)&light->at, light->count, &light->room, sizeof *light->at))
			return false;
		tc_finding *f = &light->at[light->count++];
		*f = medium->at[i];
		if (f->verdict != TC_V_UNDECIDED && !open_question(light->scene, f))
			return false;
	}
	return true;
}

/* --- acceptances ---------------------------------------------------------------------------------------------------- */

static bool accepts(const tc_accept *a, const tc_finding *f)
{
	if (a->rule != TC_NONE && a->rule != f->rule->index)
		return false;
	if (a->rule == TC_NONE && (a->defect == TC_NONE || a->defect != f->rule->defect))
		return false;
	if (f->part != TC_NONE && !(a->parts >> f->part & 1))
		return false;
	return a->step == 0 || a->step == f->step;
}

/* A defect that is wanted at its step is accepted by the step itself. */
static bool intended(const tc_model *model, const tc_finding *f)
{
	if (f->step == 0 || f->rule->defect == TC_NONE)
		return false;
	return model->step[f->step - 1].written->intends == f->rule->defect;
}

static const tc_accept *by_intention(const tc_scene *scene, const tc_finding *f)
{
	tc_accept *a = TC_NEW(scene->arena, tc_accept);

	if (a)
		*a = (tc_accept){.rule = TC_NONE, .defect = f->rule->defect, .name = f->defect, .parts = UINT64_MAX, .step = f->step,
		    .because = "the step intends it", .place = f->place};
	return a;
}

static bool accept(const tc_scene *scene, tc_findings *fs, tc_judgement *j)
{
	const tc_recipe *recipe = scene->model->recipe;
	const tc_accept **unused = TC_ARRAY(scene->arena, recipe->accepts + 1, const tc_accept *);
	bool *used = TC_ARRAY(scene->arena, recipe->accepts + 1, bool);

	if (!unused || !used)
		return false;
	for (uint32_t i = 0; i < fs->count; i++) {
		tc_finding *f = &fs->at[i];
		for (uint32_t a = 0; a < recipe->accepts; a++)
			if (accepts(&recipe->accept[a], f)) {
				used[a] = true;
				f->accept = &recipe->accept[a];
			}
		if (!f->accept && intended(scene->model, f) && !(f->accept = by_intention(scene, f)))
			return false;
	}
	for (uint32_t a = 0; a < recipe->accepts; a++)
		if (!used[a])
			unused[j->unused++] = &recipe->accept[a];
	j->unused_accept = unused;
	return true;
}

static void count(const tc_findings *fs, tc_judgement *j)
{
	j->summary.warnings = j->unused;
	for (uint32_t i = 0; i < fs->count; i++) {
		const tc_finding *f = &fs->at[i];
		if (f->accept)
			j->summary.accepted++;
		else if (f->verdict == TC_V_UNDECIDED)
			j->summary.undecided++;
		else if (f->verdict == TC_V_ERROR)
			j->summary.errors++;
		else if (f->verdict == TC_V_WARNING)
			j->summary.warnings++;
		else
			j->summary.notes++;
	}
}

/* --- the whole -------------------------------------------------------------------------------------------------------- */

static tc_status ask_with(tc_worker *worker, tc_arena *arena, const tc_recipe *recipe, const tc_turns *turns,
    unsigned pass, tc_findings *fs)
{
	const tc_model *model = tc_model_build_at(arena, recipe, worker->library, pass, turns);
	tc_scene *scene = model ? tc_scene_new(worker, arena, model) : NULL;

	return scene ? tc_ask_all(scene, fs) : TC_NO_MEMORY;
}

static void read_too(tc_scene *into, const tc_scene *other)
{
	for (int i = 0; i < 5; i++)
		into->read_shop[i] |= other->read_shop[i];
}

tc_status tc_judge(tc_worker *worker, tc_arena *arena, const tc_recipe *recipe, const tc_judgement **judgement)
{
	return tc_judge_at(worker, arena, recipe, NULL, judgement);
}

tc_status tc_judge_at(tc_worker *worker, tc_arena *arena, const tc_recipe *recipe, const tc_turns *turns,
    const tc_judgement **judgement)
{
	tc_findings fs = {0}, medium = {0};
	tc_judgement *j = TC_NEW(arena, tc_judgement);
	tc_status status = j ? ask_with(worker, arena, recipe, turns, TC_PASS_LIGHT, &fs) : TC_NO_MEMORY;

	if (status != TC_OK)
		return status;
	if (fs.scene->model->unsaid_passes > 0) {
		status = ask_with(worker, arena, recipe, turns, TC_PASS_MEDIUM, &medium);
		if (status != TC_OK || !tc_merge_passes(&fs, &medium))
			return TC_NO_MEMORY;
		read_too(fs.scene, medium.scene);
	}
	if (fs.count > 1)
		qsort(fs.at, fs.count, sizeof *fs.at, by_place);
	j->rulebook = worker->rulebook;
	j->model = fs.scene->model;
	j->bounded = fs.bounded || medium.bounded;
	if (!accept(fs.scene, &fs, j) || !tc_gather_cautions(fs.scene, j) || !tc_gather_assumptions(fs.scene, j))
		return TC_NO_MEMORY;
	j->findings = fs.count;
	j->finding = fs.at;
	count(&fs, j);
	*judgement = j;
	return tc_arena_failed(arena) ? TC_NO_MEMORY : TC_OK;
}

tc_status tc_judge_rule(tc_worker *worker, tc_arena *arena, const tc_recipe *recipe, const tc_rule *rule, bool *fired,
    bool *unsure)
{
	static const unsigned weights[2] = {TC_PASS_LIGHT, TC_PASS_MEDIUM};
	bool f[2] = {false, false}, u[2] = {false, false};
	int runs = 1;

	for (int i = 0; i < runs; i++) {
		const tc_model *model = tc_model_build(arena, recipe, worker->library, weights[i]);
		tc_scene *scene = model ? tc_scene_new(worker, arena, model) : NULL;
		tc_status status = scene ? tc_ask_one(scene, rule, &f[i], &u[i]) : TC_NO_MEMORY;
		if (status != TC_OK)
			return status;
		if (i == 0 && model->unsaid_passes > 0)
			runs = 2;
	}
	/* an unsaid pass that decides makes it unsure, as in a full check */
	*fired = runs == 1 ? f[0] : f[0] && f[1];
	*unsure = u[0] || u[1] || (runs == 2 && f[0] != f[1]);
	return TC_OK;
}
