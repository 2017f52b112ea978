/* Cautions of all that a plan uses: by H-code, by kind and by verb, with the steps at which they matter. Nothing here can
 * be switched off. */
#include "judge/private.h"

#include <stdlib.h>
#include <string.h>

/* A material at a step, once for all parts that share it; without a material the step alone, without a step what a part is
 * made of. In the order in which parts and steps come to them. */
typedef struct touch {
	uint32_t number; /* of the step; 0: none */
	uint32_t verb;
	const tc_product *product; /* NULL */
} touch;

typedef struct touches {
	touch *at;
	uint32_t count, room;
	uint64_t *seen; /* (product or none) × (step or none) */
	uint32_t steps;
} touches;

/* One caution's uses while they are gathered. */
typedef struct uses {
	const tc_scene *scene;
	const tc_caution *caution;
	uint32_t index; /* of the caution */
	uint32_t step[TC_STEPS_MAX], steps;
	const char *code[32];
	uint32_t codes;
	const char *label[16];
	uint32_t labels;
	bool any;
} uses;

static void add_step(uses *u, uint32_t number)
{
	if (u->steps < TC_STEPS_MAX && (u->steps == 0 || u->step[u->steps - 1] != number))
		u->step[u->steps++] = number;
}

static void add_text(const char **list, uint32_t *count, uint32_t room, const char *text)
{
	for (uint32_t i = 0; i < *count; i++)
		if (strcmp(list[i], text) == 0)
			return;
	if (*count < room)
		list[(*count)++] = text;
}

static bool open_caution(const tc_caution *c)
{
	return !c->codes[0] && c->kinds[0] == TC_NONE;
}

/* The codes of a material that bring the caution up; adds them where `u` gathers. */
static bool by_code(const tc_caution *c, const tc_entry *entry, uses *u)
{
	bool hit = false;

	for (const char *const *code = c->codes; *code; code++)
		for (const char *const *h = entry->hazards; *h; h++)
			if (strcmp(*code, *h) == 0) {
				hit = true;
				if (u)
					add_text(u->code, &u->codes, 32, *h);
			}
	return hit;
}

static bool by_kind(const tc_library *library, const tc_caution *c, const tc_entry *entry)
{
	for (const uint32_t *k = c->kinds; *k != TC_NONE; k++)
		if (tc_entry_is_truth(entry, tc_library_entry(library, *k)) != TC_FALSE)
			return true;
	for (const uint32_t *own = entry->cautions; *own != TC_NONE; own++)
		if (tc_library_caution(library, *own) == c)
			return true;
	return false;
}

/* Does this material bring the caution up? Looked at once by each worker for each pair. */
static bool brings(uses *u, const tc_entry *entry)
{
	tc_worker *worker = u->scene->worker;
	uint8_t *known = &worker->brings[(size_t)u->index * tc_library_count(worker->library) + entry->index];

	if (*known == 0)
		*known = by_kind(worker->library, u->caution, entry) || by_code(u->caution, entry, NULL) ? 2 : 1;
	if (*known == 2)
		by_code(u->caution, entry, u);
	return *known == 2;
}

static void material(uses *u, uint32_t step, const tc_product *product)
{
	if (!brings(u, product->family))
		return;
	u->any = true;
	if (step)
		add_step(u, step);
	add_text(u->label, &u->labels, 16, product->label);
}

static void look_at(uses *u, const touch *t)
{
	const uint64_t verbs = u->caution->verbs;

	if (t->number == 0) {
		/* substrates and old finishes matter where they are worked on; a caution without verbs names them at once */
		if (!verbs && !open_caution(u->caution))
			material(u, 0, t->product);
		return;
	}
	if (verbs && !(verbs >> t->verb & 1))
		return;
	if (!open_caution(u->caution)) {
		if (t->product)
			material(u, t->number, t->product);
	} else if (verbs) {
		u->any = true;
		add_step(u, t->number);
	}
}

/* --- what is touched --------------------------------------------------------------------------------------------- */

/* Verbs that wear away what is exposed: its dust counts too. */
static bool wears(uint32_t verb)
{
	return verb == TC_VERB_SAND || verb == TC_VERB_POLISH || verb == TC_VERB_SCRIBE || verb == TC_VERB_STRIP;
}

static bool add_touch(touches *ts, tc_arena *arena, const tc_step *step, const tc_product *product)
{
	const uint32_t number = step ? step->number : 0;
	const size_t bit = (size_t)(product ? product->index + 1 : 0) * (ts->steps + 1) + number;

	if (ts->seen[bit / 64] >> bit % 64 & 1)
		return true;
	ts->seen[bit / 64] |= UINT64_C(1) << bit % 64;
	if (!tc_arena_grow(arena, (void **)&ts->at, ts->count, &ts->room, sizeof *ts->at))
		return false;
	ts->at[ts->count++] = (touch){number, step ? step->written->verb : 0, product};
	return true;
}

static bool add_part_step(touches *ts, tc_arena *arena, const tc_part_step *at)
{
	const tc_written_step *w = at->step->written;
	const tc_product *const named[] = {NULL, w->with, w->thin.with, w->softener};
	bool good = true;

	for (size_t i = 0; i < sizeof named / sizeof *named; i++)
		if (i == 0 || named[i])
			good = good && add_touch(ts, arena, at->step, named[i]);
	for (uint32_t i = 0; wears(w->verb) && i < at->before.count; i++)
		good = good && add_touch(ts, arena, at->step, at->before.at[i].product);
	return good;
}

static bool gather_touches(const tc_model *model, tc_arena *arena, touches *ts)
{
	const size_t bits = (size_t)(model->recipe->products + 1) * (model->steps + 1);
	bool good = true;

	*ts = (touches){.steps = model->steps, .seen = TC_ARRAY(arena, bits / 64 + 1, uint64_t)};
	if (!ts->seen)
		return false;
	for (uint32_t p = 0; p < model->parts; p++) {
		const tc_part *part = &model->part[p];
		for (uint32_t s = 0; s < part->steps; s++)
			good = good && add_part_step(ts, arena, &part->step[s]);
		good = good && add_touch(ts, arena, NULL, part->written->substrate);
	}
	return good;
}

/* --- a caution --------------------------------------------------------------------------------------------------- */

static int by_number(const void *a, const void *b)
{
	uint32_t x = *(const uint32_t *)a, y = *(const uint32_t *)b;
	return x < y ? -1 : x > y;
}

static const char *joined(tc_arena *arena, const char *const *list, uint32_t count)
{
	tc_buffer out;
	const char *text;

	tc_buffer_start(&out, tc_arena_allocator(arena));
	for (uint32_t i = 0; i < count; i++)
		tc_buffer_print(&out, "%s%s", i ? ", " : "", list[i]);
	text = out.failed ? NULL : tc_arena_text(arena, out.at ? out.at : "", out.length);
	tc_buffer_free(&out);
	return text;
}

static bool finish(uses *u, tc_caution_use *use)
{
	tc_arena *arena = u->scene->arena;
	uint32_t kept = 0;

	qsort(u->step, u->steps, sizeof *u->step, by_number);
	for (uint32_t i = 0; i < u->steps; i++)
		if (i == 0 || u->step[i] != u->step[i - 1])
			u->step[kept++] = u->step[i];
	const char **codes = TC_ARRAY(arena, u->codes + 1, const char *);
	*use = (tc_caution_use){.caution = u->caution,
	    .steps = kept,
	    .step = tc_arena_copy(arena, u->step, kept * sizeof *u->step),
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
	const tc_library *library = scene->model->library;
	uint32_t all = tc_library_cautions(library), count = 0;
	tc_caution_use *list = TC_ARRAY(scene->arena, all + 1, tc_caution_use);
	touches ts;
	uses u; /* its arrays are large: filled as needed, not zeroed for each caution */

	if (!list || !gather_touches(scene->model, scene->arena, &ts))
		return false;
	for (uint32_t i = 0; i < all; i++) {
		u.scene = scene;
		u.caution = tc_library_caution(library, i);
		u.index = i;
		u.steps = u.codes = u.labels = 0;
		u.any = open_caution(u.caution) && !u.caution->verbs; /* it always shows */
		for (uint32_t t = 0; t < ts.count; t++)
			look_at(&u, &ts.at[t]);
		if (u.any && !finish(&u, &list[count++]))
			return false;
	}
	qsort(list, count, sizeof *list, by_rank);
	judgement->caution = list;
	judgement->cautions = count;
	return true;
}
