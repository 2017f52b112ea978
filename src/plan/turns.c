/* The times of a table as a model takes them: what a task lays lands pass by pass, and a wait begins when the work before it on
 * that body is done. */
#include "plan/turns.h"

#include <stdlib.h>

typedef struct tc_turning {
	tc_arena *arena;
	const tc_model *written;
	const tc_timetable *table;
	tc_turns *turns;
	tc_turn *turn;
	uint32_t room;
} tc_turning;

uint32_t tc_table_first(const tc_timetable *table, uint32_t step)
{
	for (uint32_t i = 0; i < table->tasks; i++)
		if (table->task[i].step->number == step)
			return i;
	return TC_NONE;
}

uint32_t tc_table_last(const tc_timetable *table, uint32_t step)
{
	for (uint32_t i = table->tasks; i-- > 0;)
		if (table->task[i].step->number == step)
			return i;
	return TC_NONE;
}

static bool add(tc_turning *x, const tc_turn *turn)
{
	if (x->turns->count == x->room &&
	    !tc_arena_grow(x->arena, (void **)&x->turn, x->turns->count, &x->room, sizeof *x->turn))
		return false;
	x->turn[x->turns->count++] = *turn;
	return true;
}

/* --- work ---------------------------------------------------------------------------------------------------------- */

static double pause_after(const tc_task *task, uint32_t pass)
{
	const double pause = tc_step_pause(task->step, task->pass + pass);
	return isnan(pause) ? 0 : pause;
}

/* The passes share what the task lasts beside their pauses. */
static void lay_passes(const tc_task *task, double *at)
{
	double pauses = 0, clock = task->start;
	for (uint32_t i = 0; i + 1 < task->passes; i++)
		pauses += pause_after(task, i);
	const double each = (task->lasts - pauses) / task->passes;
	for (uint32_t i = 0; i < task->passes; i++) {
		clock += each;
		at[task->pass + i] = clock;
		clock += pause_after(task, i);
	}
}

static bool add_work(tc_turning *x, const tc_written_step *step)
{
	const uint32_t first = tc_table_first(x->table, step->number), last = tc_table_last(x->table, step->number);
	tc_turn turn = {.step = step->number - 1, .parts = step->parts};
	double *at = NULL;
	if (step->verb == TC_VERB_COAT) {
		at = TC_ARRAY(x->arena, TC_COATS_MAX, double);
		if (!at)
			return false;
		for (uint32_t i = first; i <= last; i++)
			if (x->table->task[i].step == step)
				lay_passes(&x->table->task[i], at);
	}
	turn.start = x->table->task[first].start;
	turn.end = x->table->task[last].end;
	turn.pass = at;
	return add(x, &turn);
}

/* --- waits ---------------------------------------------------------------------------------------------------------- */

/* One body's waits: each begins where the step before it on that body ended. */
static bool add_waits(tc_turning *x, uint64_t body)
{
	double clock = 0;
	for (uint32_t i = 0; i < x->written->steps; i++) {
		const tc_written_step *step = x->written->step[i].written;
		if (!(step->parts & body))
			continue;
		if (step->verb != TC_VERB_WAIT) {
			clock = x->table->task[tc_table_last(x->table, step->number)].end;
			continue;
		}
		const double lasts = step->wait.state == TC_SAID ? step->wait.number : 0;
		const tc_turn turn = {.step = i, .parts = step->parts & body, .start = clock, .end = clock + lasts};
		if (!add(x, &turn))
			return false;
		clock += lasts;
	}
	return true;
}

static int by_start(const void *left, const void *right)
{
	const tc_turn *a = left, *b = right;
	if (a->start != b->start)
		return a->start < b->start ? -1 : 1;
	return a->step < b->step ? -1 : a->step > b->step;
}

const tc_turns *tc_turns_of(tc_arena *arena, const tc_model *written, const tc_timetable *table)
{
	tc_turning x = {.arena = arena, .written = written, .table = table, .turns = TC_NEW(arena, tc_turns)};
	const tc_recipe *recipe = written->recipe;
	if (!x.turns)
		return NULL;
	for (uint32_t i = 0; i < recipe->steps; i++)
		if (recipe->step[i].verb != TC_VERB_WAIT && !add_work(&x, &recipe->step[i]))
			return NULL;
	for (uint32_t i = 0; i < recipe->parts; i++)
		if (recipe->part[i].whole == i && !add_waits(&x, tc_body_of(recipe, i)))
			return NULL;
	if (x.turns->count > 1)
		qsort(x.turn, x.turns->count, sizeof *x.turn, by_start);
	x.turns->turn = x.turn;
	return x.turns;
}
