/* Sets up every question of a recipe and asks the rules whose door stands open: each step on each part, each layer, each
 * contact and touch, each part, the recipe. */
#include "judge/private.h"

/* What is done with an answer: a full check gathers findings; a check of one rule only looks at the truth. */
typedef struct asking {
	tc_scene *scene;
	tc_findings *findings;  /* NULL: only one rule */
	const tc_rule *only;    /* NULL: all */
	tc_question question;
	bool fired, unsure, failed;
	uint32_t ordinal;       /* of the subject among those of its step and part */
} asking;

static void bind(tc_question *q, int slot, tc_subject of, const void *subject)
{
	q->bound[slot] = tc_subject_value(of, subject);
}

void tc_question_bind(const tc_scene *scene, tc_question *q)
{
	bind(q, TC_SLOT_RECIPE, TC_S_RECIPE, scene->model->recipe);
	bind(q, TC_SLOT_SHOP, TC_S_SHOP, scene->model);
	bind(q, TC_SLOT_PART, TC_S_PART, scene->part);
	bind(q, TC_SLOT_STEP, TC_S_STEP, scene->at ? scene->at->step : NULL);
	bind(q, TC_SLOT_COAT, TC_S_LAYER, NULL);
	bind(q, TC_SLOT_UNDER, TC_S_EXPOSED, NULL);
	bind(q, TC_SLOT_LIQUID, TC_S_LIQUID, NULL);
	bind(q, TC_SLOT_NEW, TC_S_PRODUCT, NULL);
}

tc_question tc_question_new(tc_scene *scene, uint32_t *steps_left)
{
	return (tc_question){.rulebook = scene->worker->rulebook,
	    .getter = tc_scene_getter(),
	    .user = scene,
	    .steps_left = steps_left,
	    .patterns = scene->worker->patterns,
	    .terse = scene->worker->brief};
}

static tc_place place_of(const asking *a)
{
	const tc_scene *scene = a->scene;

	if (scene->at)
		return scene->at->step->written->place;
	return scene->part ? scene->part->written->place : scene->model->recipe->place;
}

/* Where `under` was laid, for the reader to look at too. */
static void relate(const asking *a, tc_finding *f)
{
	const tc_exposed *under = a->scene->contact ? a->scene->contact->under : a->scene->touch ? a->scene->touch->under : NULL;

	f->under = !under ? TC_NONE : under->layer ? under->layer->order : 0;
	if (!under || !under->layer || !under->layer->place.file)
		return;
	f->related = under->layer->place;
	f->related_text = tc_arena_print(a->scene->arena, "%s was laid here", under->layer->product->label);
}

static tc_finding *new_finding(asking *a)
{
	tc_findings *fs = a->findings;

	if (fs->count == fs->room &&
	    !tc_arena_grow(a->scene->arena, (void **)&fs->at, fs->count, &fs->room, sizeof *fs->at)) {
		a->failed = true;
		return NULL;
	}
	return &fs->at[fs->count];
}

/* An undecided finding weighs as its rule does, at most a warning. */
static tc_verdict weight_of(const tc_rule *rule, tc_truth truth)
{
	if (truth == TC_TRUE && rule->verdict != TC_V_UNDECIDED)
		return rule->verdict;
	return rule->verdict == TC_V_NOTE ? TC_V_NOTE : TC_V_WARNING;
}

static void record(asking *a, const tc_rule *rule, tc_truth truth)
{
	tc_finding *f = new_finding(a);

	if (!f)
		return;
	*f = (tc_finding){.rule = rule,
	    .verdict = truth == TC_TRUE ? rule->verdict : TC_V_UNDECIDED,
	    .weight = weight_of(rule, truth),
	    .part = a->scene->part ? a->scene->part->index : TC_NONE,
	    .step = a->scene->at ? a->scene->at->step->number : 0,
	    .ordinal = a->ordinal,
	    .place = place_of(a)};
	if (rule->defect != TC_NONE)
		f->defect = tc_library_defect(a->scene->model->library, rule->defect, NULL);
	relate(a, f);
	a->findings->question = a->question;
	if (!tc_finding_fill(a->findings, f, truth))
		a->failed = true;
	a->findings->count++;
}

static void ask_rule(asking *a, const tc_rule *rule)
{
	tc_truth truth = tc_decide(&a->question, rule->when);

	if (truth == TC_FALSE)
		return;
	if (a->only) {
		a->fired |= truth == TC_TRUE;
		a->unsure |= truth == TC_UNSURE;
		return;
	}
	record(a, rule, truth);
}

/* Drops findings of this one subject whose rule is outranked by a rule that fired on it, and lists them there. */
static void outrank(asking *a, uint32_t from)
{
	tc_findings *fs = a->findings;
	uint32_t kept = from;

	for (uint32_t i = from; i < fs->count; i++) {
		tc_finding *over = NULL;
		for (uint32_t j = from; j < fs->count && !over; j++) {
			if (fs->at[j].verdict == TC_V_UNDECIDED && fs->at[j].rule->verdict != TC_V_UNDECIDED)
				continue;
			for (const uint32_t *r = fs->at[j].rule->outranks; j != i && *r != TC_NONE; r++)
				if (*r == fs->at[i].rule->index)
					over = &fs->at[j];
		}
		if (!over)
			continue;
		const tc_rule **list = TC_ARRAY(a->scene->arena, over->outranked + 1, const tc_rule *);
		if (!list) {
			a->failed = true;
			return;
		}
		for (uint32_t k = 0; k < over->outranked; k++)
			list[k] = over->outrank[k];
		list[over->outranked++] = fs->at[i].rule;
		over->outrank = list;
		fs->at[i].ordinal = TC_NONE; /* dropped below */
	}
	for (uint32_t i = from; i < fs->count; i++)
		if (fs->at[i].ordinal != TC_NONE)
			fs->at[kept++] = fs->at[i];
	fs->count = kept;
}

/* Have two sets at least two rules in common? */
static bool has_two(const uint64_t *a, const uint64_t *b, uint32_t words)
{
	bool one = false;

	for (uint32_t w = 0; w < words; w++) {
		const uint64_t both = a[w] & b[w];
		if (both && (one || both & (both - 1)))
			return true;
		one |= both != 0;
	}
	return false;
}

/* Of a set of rules those that no bolt shuts. A bolt is looked at only where it may spare two rules or more: one alone gets
 * there by itself, after tests that cost less. */
static void shut_bolts(asking *a, const tc_open *open, uint64_t *left)
{
	const uint32_t words = (open->count + 63) / 64;

	for (uint32_t b = 0; b < open->bolts; b++) {
		const uint64_t *of = open->bolt[b].rules;
		if (!has_two(left, of, words) || !tc_bolted(&a->question, open->bolt[b].bolt))
			continue;
		for (uint32_t w = 0; w < words; w++)
			left[w] &= ~of[w];
	}
}

static void ask_open(asking *a, const tc_open *open)
{
	uint64_t left[TC_OPEN_WORDS];
	const uint32_t words = (open->count + 63) / 64;

	for (uint32_t w = 0; w < words; w++)
		left[w] = w + 1 < words || open->count % 64 == 0 ? UINT64_MAX : ((uint64_t)1 << open->count % 64) - 1;
	shut_bolts(a, open, left);
	for (uint32_t w = 0; w < words; w++)
		for (; left[w]; left[w] &= left[w] - 1) {
			const uint32_t i = w * 64 + (uint32_t)__builtin_ctzll(left[w]);
			ask_rule(a, tc_rulebook_rule(a->scene->worker->rulebook, open->rules[i]));
		}
}

/* Asks every rule that may matter of the subject that the scene is set to. */
static void ask_subject(asking *a, tc_ask ask, const tc_entry *coat, const tc_entry *under, uint32_t verb)
{
	uint32_t before = a->findings ? a->findings->count : 0;

	if (a->failed)
		return;
	if (a->only) {
		if (a->only->ask == ask)
			ask_rule(a, a->only);
	} else {
		const tc_open *open = tc_doors_open(a->scene->worker->doors, ask, coat, under, verb);
		if (open)
			ask_open(a, open);
		else
			a->failed = true;
		if (a->findings->count - before > 1)
			outrank(a, before);
	}
	a->ordinal++;
}

static void ask_contacts(asking *a, const tc_part_step *at)
{
	for (uint32_t i = 0; i < at->contacts; i++) {
		const tc_contact *c = &at->contact[i];
		a->scene->contact = c;
		bind(&a->question, TC_SLOT_COAT, TC_S_LAYER, c->coat);
		bind(&a->question, TC_SLOT_UNDER, TC_S_EXPOSED, c->under);
		ask_subject(a, TC_ASK_CONTACT, c->coat->product->family, c->under->product->family, at->step->written->verb);
	}
	a->scene->contact = NULL;
	bind(&a->question, TC_SLOT_UNDER, TC_S_EXPOSED, NULL);
}

static void ask_touches(asking *a, const tc_part_step *at)
{
	for (uint32_t i = 0; i < at->touches; i++) {
		const tc_touch *t = &at->touch[i];
		a->scene->touch = t;
		bind(&a->question, TC_SLOT_LIQUID, TC_S_LIQUID, t->liquid);
		bind(&a->question, TC_SLOT_UNDER, TC_S_EXPOSED, t->under);
		ask_subject(a, TC_ASK_TOUCH, t->liquid->product->family, t->under->product->family, at->step->written->verb);
	}
	a->scene->touch = NULL;
	bind(&a->question, TC_SLOT_LIQUID, TC_S_LIQUID, NULL);
	bind(&a->question, TC_SLOT_UNDER, TC_S_EXPOSED, NULL);
}

static void ask_step(asking *a, const tc_part_step *at)
{
	tc_scene *scene = a->scene;

	scene->at = at;
	scene->now = at->step->start;
	a->ordinal = 0;
	tc_question_bind(a->scene, &a->question);
	ask_subject(a, TC_ASK_STEP, at->step->written->with ? at->step->written->with->family : NULL, NULL, at->step->written->verb);
	if (at->layer && at->layer->step == at->step) {
		bind(&a->question, TC_SLOT_COAT, TC_S_LAYER, at->layer);
		ask_subject(a, TC_ASK_COAT, at->layer->product->family, NULL, at->step->written->verb);
		ask_contacts(a, at);
		bind(&a->question, TC_SLOT_COAT, TC_S_LAYER, NULL);
	}
	ask_touches(a, at);
	scene->at = NULL;
}

static void ask_part(asking *a, const tc_part *part)
{
	tc_scene *scene = a->scene;

	scene->part = part;
	for (uint32_t i = 0; i < part->steps; i++)
		ask_step(a, &part->step[i]);
	scene->now = scene->model->end;
	a->ordinal = 0;
	tc_question_bind(a->scene, &a->question);
	ask_subject(a, TC_ASK_PART, part->written->substrate->family, NULL, TC_NONE);
	scene->part = NULL;
}

static void ask_everything(asking *a, uint32_t *steps_left)
{
	tc_scene *scene = a->scene;

	a->question = tc_question_new(scene, steps_left);
	for (uint32_t i = 0; i < scene->model->parts; i++)
		ask_part(a, &scene->model->part[i]);
	scene->now = scene->model->end;
	a->ordinal = 0;
	tc_question_bind(a->scene, &a->question);
	ask_subject(a, TC_ASK_RECIPE, NULL, NULL, TC_NONE);
}

tc_status tc_ask_all(tc_scene *scene, tc_findings *findings)
{
	uint32_t steps_left = TC_STEPS_PER_CHECK;
	asking a = {.scene = scene, .findings = findings};

	findings->scene = scene;
	ask_everything(&a, &steps_left);
	findings->bounded = a.question.hit_check_bound;
	return a.failed || tc_arena_failed(scene->arena) ? TC_NO_MEMORY : TC_OK;
}

tc_status tc_ask_one(tc_scene *scene, const tc_rule *rule, bool *fired, bool *unsure)
{
	uint32_t steps_left = TC_STEPS_PER_CHECK;
	asking a = {.scene = scene, .only = rule};

	ask_everything(&a, &steps_left);
	*fired = a.fired;
	*unsure = a.unsure;
	return a.failed || tc_arena_failed(scene->arena) ? TC_NO_MEMORY : TC_OK;
}
