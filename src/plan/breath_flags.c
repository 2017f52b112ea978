/* What no figure of air clears: the cautions of what is used say what they are about. */
#include "plan/breath_private.h"

/* Verbs that wear away what is exposed: its dust counts too. */
static bool wears(uint32_t verb)
{
	return verb == TC_VERB_SAND || verb == TC_VERB_POLISH || verb == TC_VERB_SCRIBE || verb == TC_VERB_STRIP;
}

static void set_flag(tc_sitting *s, uint32_t breath)
{
	s->isocyanate |= breath == TC_BREATH_ISOCYANATE;
	s->mist |= breath == TC_BREATH_MIST;
	s->dust |= breath == TC_BREATH_DUST;
}

/* A caution without kinds and codes is brought up by its verb alone. */
static bool is_open(const tc_caution *c)
{
	return !c->codes[0] && c->kinds[0] == TC_NONE;
}

/* No mist where nothing is sprayed, no dust under water. */
static bool can_be(const tc_breathing *b, uint32_t task, uint32_t breath)
{
	if (breath == TC_BREATH_DUST)
		return !b->table->task[task].step->wet;
	return breath != TC_BREATH_MIST || b->sprayed[task];
}

/* What a material brings up at a task; NULL: the verb alone. */
static void flag(tc_breathing *b, uint32_t task, const tc_product *product)
{
	const tc_library *library = b->model->library;
	const uint32_t verb = b->table->task[task].step->verb;
	if (b->of_task[task] == TC_NONE)
		return;
	for (uint32_t i = 0; i < tc_library_cautions(library); i++) {
		const tc_caution *c = tc_library_caution(library, i);
		if (c->breath == TC_NONE || (c->verbs && !(c->verbs >> verb & 1)))
			continue;
		if (product ? tc_caution_fits(library, c, product->family) : is_open(c))
			if (can_be(b, task, c->breath))
				set_flag(&b->sitting[b->of_task[task]], c->breath);
	}
}

static void flag_exposed(tc_breathing *b, uint32_t task)
{
	const tc_task *t = &b->table->task[task];
	for (uint32_t p = 0; p < b->model->parts; p++) {
		const tc_part *part = &b->model->part[p];
		for (uint32_t i = 0; i < part->steps; i++) {
			const tc_part_step *at = &part->step[i];
			if (at->step->written->number != t->step->number)
				continue;
			for (uint32_t k = 0; k < at->before.count; k++)
				flag(b, task, at->before.at[k].product);
		}
	}
}

bool tc_breath_flags(tc_breathing *b)
{
	b->sprayed = TC_ARRAY(b->arena, b->table->tasks + 1, uint8_t);
	if (!b->sprayed)
		return false;
	for (uint32_t i = 0; i < b->supply->layings; i++)
		b->sprayed[b->supply->laying[i].task] |= b->supply->laying[i].sprayed;
	for (uint32_t i = 0; i < b->table->tasks; i++) {
		const tc_written_step *step = b->table->task[i].step;
		const tc_product *const named[] = {step->with, step->thin.with, step->softener, step->grade};
		flag(b, i, NULL);
		for (size_t k = 0; k < sizeof named / sizeof *named; k++)
			if (named[k])
				flag(b, i, named[k]);
		if (wears(step->verb))
			flag_exposed(b, i);
	}
	return true;
}
