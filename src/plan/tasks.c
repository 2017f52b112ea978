/* The steps of a recipe as tasks: what is done in one go. */
#include "plan/tasks.h"

#include <string.h>

static double default_of(const tc_tabling *t, tc_default which)
{
	return tc_library_default(t->model->library, which)->value.number;
}

/* --- bodies -------------------------------------------------------------------------------------------------------- */

/* A part and its areas are one body: who works on one of them holds them all. */
static bool find_bodies(tc_tabling *t)
{
	const tc_recipe *recipe = t->model->recipe;
	t->body = TC_ARRAY(t->arena, recipe->parts, uint32_t);
	if (!t->body)
		return false;
	for (uint32_t i = 0; i < recipe->parts; i++)
		if (recipe->part[i].whole == i)
			t->body[i] = t->bodies++;
	for (uint32_t i = 0; i < recipe->parts; i++)
		t->body[i] = t->body[recipe->part[i].whole];
	return true;
}

uint64_t tc_bodies_of(const tc_tabling *t, uint64_t parts)
{
	uint64_t bodies = 0;
	for (uint32_t i = 0; i < t->model->parts; i++)
		if (parts >> i & 1)
			bodies |= 1ull << t->body[i];
	return bodies;
}

/* --- how long ------------------------------------------------------------------------------------------------------ */

/* What an ordinary go takes where the step does not say. */
static double hand_time(const tc_tabling *t, const tc_written_step *step)
{
	const tc_value usual = step->with ? tc_product_value(step->with, TC_P_HAND_TIME) : tc_absent(TC_T_NUMBER);
	return tc_known(usual) ? usual.number : default_of(t, TC_D_HAND_TIME);
}

/* A step other than a coat. `time` is the bath or the lamp: hands put the part in and take it out. */
static void set_length(const tc_tabling *t, tc_task *task)
{
	const tc_written_step *step = task->step;
	if (step->takes.state == TC_SAID) {
		task->lasts = step->takes.number;
		return;
	}
	if (step->time.state == TC_SAID && step->verb != TC_VERB_MIX) {
		task->lasts = step->time.number;
		task->attended = task->lasts <= t->stand_by;
		return;
	}
	task->lasts = hand_time(t, step);
	task->lasts_assumed = true;
}

/* --- coats --------------------------------------------------------------------------------------------------------- */

static bool add(tc_tabling *t, const tc_task *task)
{
	if (t->tasks == t->room && !tc_arena_grow(t->arena, (void **)&t->task, t->tasks, &t->room, sizeof *t->task))
		return false;
	t->task[t->tasks++] = *task;
	return true;
}

/* Passes whose pauses one waits out are one task; a longer pause parts them. */
static bool add_coat(tc_tabling *t, tc_task task)
{
	const tc_written_step *step = task.step;
	const uint32_t coats = step->coats ? step->coats : 1;
	const bool said = step->takes.state == TC_SAID;
	const double each = said ? step->takes.number / coats : hand_time(t, step);
	task.lasts_assumed = !said;
	task.pass = 0;
	task.passes = 0;
	task.lasts = 0;
	for (uint32_t i = 0; i < coats; i++) {
		task.passes++;
		task.lasts += each;
		const double pause = i + 1 < coats ? tc_step_pause(step, i) : INFINITY;
		if (!(pause > t->stand_by)) {
			task.lasts += isnan(pause) ? 0 : pause;
			continue;
		}
		if (!add(t, &task))
			return false;
		task.pass = i + 1;
		task.passes = 0;
		task.lasts = 0;
	}
	return true;
}

bool tc_tasks_lay_out(tc_tabling *t)
{
	const tc_recipe *recipe = t->model->recipe;
	t->stand_by = default_of(t, TC_D_STAND_BY);
	t->first = TC_ARRAY(t->arena, recipe->steps, uint32_t);
	t->last = TC_ARRAY(t->arena, recipe->steps, uint32_t);
	if (!t->first || !t->last || !find_bodies(t))
		return false;
	for (uint32_t i = 0; i < recipe->steps; i++) {
		const tc_written_step *step = &recipe->step[i];
		tc_task task = {.step = step,
		    .parts = step->parts,
		    .attended = true,
		    .temperature = t->model->step[i].temperature,
		    .start = NAN,
		    .end = NAN,
		    .latest = INFINITY,
		    .closes = INFINITY,
		    .held_by = TC_NONE,
		    .closed_by = TC_NONE};
		t->first[i] = t->last[i] = TC_NONE;
		if (step->verb == TC_VERB_WAIT)
			continue;
		t->first[i] = t->tasks;
		if (step->verb != TC_VERB_COAT)
			set_length(t, &task);
		if (!(step->verb == TC_VERB_COAT ? add_coat(t, task) : add(t, &task)))
			return false;
		t->last[i] = t->tasks - 1;
	}
	return true;
}
