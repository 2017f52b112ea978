/* Cautions of all that a plan uses: by H-code, by kind and by verb, with the steps at which they matter. Nothing here can
 * be switched off. */
#include "judge/private.h"

#include <stdlib.h>
#include <string.h>

#define STEP_WORDS (TC_STEPS_MAX / 64 + 1)

/* One caution's uses while they are gathered. */
typedef struct uses {
	uint64_t steps[STEP_WORDS]; /* set of their numbers */
	const char *code[32];
	uint32_t codes;
	const char *label[16];
	uint32_t labels;
	uint64_t *looked; /* set of the products whose codes and labels are there */
	bool any;
} uses;

typedef struct gathering {
	const tc_scene *scene;
	const tc_library *library;
	size_t words;     /* of a set of cautions */
	uses *of;         /* of each caution */
	uint64_t *bare;   /* set of the cautions that only a verb brings up */
	uint64_t *seen;   /* (product or none) × (step or none): was looked at, on this part or another */
	uint32_t steps;
} gathering;

static void put_in(uint64_t *set, size_t bit)
{
	set[bit / 64] |= UINT64_C(1) << bit % 64;
}

static bool is_in(const uint64_t *set, size_t bit)
{
	return set[bit / 64] >> bit % 64 & 1;
}

static void add_text(const char **list, uint32_t *count, uint32_t room, const char *text)
{
	for (uint32_t i = 0; i < *count; i++)
		if (strcmp(list[i], text) == 0)
			return;
	if (*count < room)
		list[(*count)++] = text;
}

/* --- what brings a caution up ------------------------------------------------------------------------------------ */

static bool open_caution(const tc_caution *c)
{
	return !c->codes[0] && c->kinds[0] == TC_NONE;
}

/* Adds the codes of a material that bring the caution up. */
static void add_codes(const tc_caution *c, const tc_entry *entry, uses *u)
{
	for (const char *const *code = c->codes; *code; code++)
		for (const char *const *h = entry->hazards; *h; h++)
			if (strcmp(*code, *h) == 0)
				add_text(u->code, &u->codes, 32, *h);
}

/* The cautions that a material brings up, each looked at once by each worker. */
static const uint64_t *brought_by(const gathering *g, const tc_entry *entry)
{
	tc_worker *worker = g->scene->worker;
	uint64_t *set = &worker->brings[entry->index * g->words];

	if (worker->brings_known[entry->index])
		return set;
	for (uint32_t i = 0; i < tc_library_cautions(g->library); i++) {
		const tc_caution *c = tc_library_caution(g->library, i);
		if (!open_caution(c) && tc_caution_fits(g->library, c, entry))
			put_in(set, i);
	}
	worker->brings_known[entry->index] = 1;
	return set;
}

/* --- what is touched --------------------------------------------------------------------------------------------- */

static void add_use(gathering *g, uint32_t number, const tc_step *step, const tc_product *product)
{
	const tc_caution *c = tc_library_caution(g->library, number);
	uses *u = &g->of[number];

	/* substrates and old finishes matter where they are worked on; a caution without verbs names them at once */
	if (c->verbs && !(step && c->verbs >> step->written->verb & 1))
		return;
	u->any = true;
	if (step)
		put_in(u->steps, step->number);
	if (!product || is_in(u->looked, product->index))
		return;
	put_in(u->looked, product->index);
	add_codes(c, product->family, u);
	add_text(u->label, &u->labels, 16, product->label);
}

/* A material at a step, once for all parts that share it; without a material the step alone, without a step what a part is
 * made of. */
static void touch(gathering *g, const tc_step *step, const tc_product *product)
{
	const size_t bit = (size_t)(product ? product->index + 1 : 0) * (g->steps + 1) + (step ? step->number : 0);

	if (is_in(g->seen, bit))
		return;
	put_in(g->seen, bit);
	const uint64_t *set = product ? brought_by(g, product->family) : g->bare;
	for (size_t w = 0; w < g->words; w++)
		for (uint64_t left = set[w]; left; left &= left - 1)
			add_use(g, (uint32_t)(w * 64 + (size_t)__builtin_ctzll(left)), step, product);
}

/* Verbs that wear away what is exposed: its dust counts too. */
static bool wears(uint32_t verb)
{
	return verb == TC_VERB_SAND || verb == TC_VERB_POLISH || verb == TC_VERB_SCRIBE || verb == TC_VERB_STRIP;
}

static void touch_at(gathering *g, const tc_part_step *at)
{
	const tc_written_step *w = at->step->written;
	const tc_product *const named[] = {w->with, w->thin.with, w->softener};

	touch(g, at->step, NULL);
	for (size_t i = 0; i < sizeof named / sizeof *named; i++)
		if (named[i])
			touch(g, at->step, named[i]);
	for (uint32_t i = 0; wears(w->verb) && i < at->before.count; i++)
		touch(g, at->step, at->before.at[i].product);
}

static void touch_all(gathering *g)
{
	const tc_model *model = g->scene->model;

	for (uint32_t p = 0; p < model->parts; p++) {
		const tc_part *part = &model->part[p];
		for (uint32_t s = 0; s < part->steps; s++)
			touch_at(g, &part->step[s]);
		touch(g, NULL, part->written->substrate);
	}
}

/* False: out of memory. */
static bool start(gathering *g)
{
	tc_arena *arena = g->scene->arena;
	const tc_model *model = g->scene->model;
	const uint32_t all = tc_library_cautions(g->library), products = model->recipe->products;
	const size_t looked = products / 64 + 1;
	uint64_t *sets = TC_ARRAY(arena, all * looked + 1, uint64_t);

	g->words = tc_caution_words(g->library);
	g->steps = model->steps;
	g->of = TC_ARRAY(arena, all + 1, uses);
	g->bare = TC_ARRAY(arena, g->words, uint64_t);
	g->seen = TC_ARRAY(arena, ((size_t)products + 1) * (g->steps + 1) / 64 + 1, uint64_t);
	if (!sets || !g->of || !g->bare || !g->seen)
		return false;
	for (uint32_t i = 0; i < all; i++) {
		const tc_caution *c = tc_library_caution(g->library, i);
		g->of[i].looked = sets + i * looked;
		g->of[i].any = open_caution(c) && !c->verbs; /* it always shows */
		if (open_caution(c) && c->verbs)
			put_in(g->bare, i);
	}
	return true;
}

/* --- cautions ---------------------------------------------------------------------------------------------------- */

static const char *joined(tc_arena *arena, const char *const *list, uint32_t count)
{
	tc_buffer out;
	const char *text;

	tc_buffer_start(&out, tc_arena_allocator(arena));
	for (uint32_t i = 0; i < count; i++) {
		tc_buffer_puts(&out, i ? ", " : "");
		tc_buffer_puts(&out, list[i]);
	}
	text = out.failed ? NULL : tc_arena_text(arena, out.at ? out.at : "", out.length);
	tc_buffer_free(&out);
	return text;
}

static uint32_t list_steps(const uses *u, uint32_t *list)
{
	uint32_t count = 0;

	for (uint32_t w = 0; w < STEP_WORDS; w++)
		for (uint64_t left = u->steps[w]; left; left &= left - 1)
			list[count++] = w * 64 + (uint32_t)__builtin_ctzll(left);
	return count;
}

static bool finish(const gathering *g, uint32_t number, tc_caution_use *use)
{
	tc_arena *arena = g->scene->arena;
	const uses *u = &g->of[number];
	uint32_t list[STEP_WORDS * 64];
	const uint32_t steps = list_steps(u, list);
	const char **codes = TC_ARRAY(arena, u->codes + 1, const char *);

	*use = (tc_caution_use){.caution = tc_library_caution(g->library, number),
	    .steps = steps,
	    .step = tc_arena_copy(arena, list, steps * sizeof *list),
	    .codes = codes,
	    .because = u->labels ? joined(arena, u->label, u->labels) : NULL};
	if (!codes || !use->step || (u->labels && !use->because))
		return false;
	for (uint32_t i = 0; i < u->codes; i++)
		codes[i] = u->code[i];
	return true;
}

static int by_rank(const void *a, const void *b)
{
	const tc_caution_use *x = a, *y = b;
	if (x->caution->rank != y->caution->rank)
		return x->caution->rank < y->caution->rank ? -1 : 1;
	return strcmp(x->caution->id, y->caution->id);
}

bool tc_gather_cautions(const tc_scene *scene, tc_judgement *judgement)
{
	gathering g = {.scene = scene, .library = scene->model->library};
	const uint32_t all = tc_library_cautions(g.library);
	tc_caution_use *list = TC_ARRAY(scene->arena, all + 1, tc_caution_use);
	uint32_t count = 0;

	if (!list || !start(&g))
		return false;
	touch_all(&g);
	for (uint32_t i = 0; i < all; i++)
		if (g.of[i].any && !finish(&g, i, &list[count++]))
			return false;
	qsort(list, count, sizeof *list, by_rank);
	judgement->caution = list;
	judgement->cautions = count;
	return true;
}
