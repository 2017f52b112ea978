/* Breath: sittings, what is set free in them, the room, and what no figure clears. */
#include "plan/breath.h"

#include <math.h>

#include "plan/breath_private.h"

/* --- sittings ---------------------------------------------------------------------------------------------------------- */

/* When one has to do with a task: a long bath is begun, and left alone. */
static double busy_until(const tc_task *task)
{
	return task->attended ? task->end : task->start;
}

static bool begin_sitting(tc_breathing *b, uint32_t task)
{
	uint32_t *count = &b->breath->sittings;
	if (!tc_arena_grow(b->arena, (void **)&b->sitting, *count, &b->sittings_room, sizeof *b->sitting))
		return false;
	const double start = b->table->task[task].start;
	b->sitting[(*count)++] =
	    (tc_sitting){.from = start, .to = start, .task = task, .last_task = task, .worst_breath = NAN};
	return true;
}

static bool cut_sittings(tc_breathing *b)
{
	const double gap = tc_library_default(b->model->library, TC_D_SITTING_GAP)->value.number;
	b->of_task = TC_ARRAY(b->arena, b->table->tasks + 1, uint32_t);
	b->unknown = TC_ARRAY(b->arena, b->table->tasks + 1, uint8_t);
	if (!b->of_task || !b->unknown)
		return false;
	for (uint32_t i = 0; i < b->table->tasks; i++) {
		const tc_task *task = &b->table->task[i];
		const uint32_t count = b->breath->sittings;
		if ((count == 0 || task->start - b->sitting[count - 1].to > gap) && !begin_sitting(b, i))
			return false;
		tc_sitting *s = &b->sitting[b->breath->sittings - 1];
		b->of_task[i] = b->breath->sittings - 1;
		s->last_task = i;
		s->to = fmax(s->to, busy_until(task));
	}
	return true;
}

/* Whoever cleans the tool is still there. */
static void add_cleaning_up(tc_breathing *b)
{
	const double takes = tc_library_default(b->model->library, TC_D_HAND_TIME)->value.number;
	for (uint32_t i = 0; i < b->supply->layings; i++) {
		const tc_laying *l = &b->supply->laying[i];
		tc_sitting *s = &b->sitting[b->of_task[l->task]];
		if (l->cleaned > 0)
			s->to = fmax(s->to, l->at + takes);
	}
}

/* --- the room ---------------------------------------------------------------------------------------------------------- */

static void set_room(tc_breathing *b)
{
	const tc_model *model = b->model;
	const double change = tc_library_default(model->library, TC_D_AIR_CHANGE)->value.number;
	tc_breath *breath = b->breath;
	breath->room = model->room.number;
	breath->extraction = model->extraction.number;
	breath->mixing = tc_library_default(model->library, TC_D_AIR_MIXING)->value.number;
	breath->leaks = change > 0 ? breath->room / change : 0;
	breath->fresh = fmax(breath->extraction, breath->leaks);
	breath->room_assumed = model->room.state == TC_ASSUMED;
	breath->extraction_assumed = model->extraction.state == TC_ASSUMED;
	b->room = (struct tc_air_room){.volume = breath->room, .flow = breath->fresh, .mixing = breath->mixing};
}

/* --- what is not known ---------------------------------------------------------------------------------------------------- */

static bool list_unknown(tc_breathing *b)
{
	for (uint32_t s = 0; s < b->breath->sittings; s++) {
		uint32_t count = 0;
		uint32_t *list = TC_ARRAY(b->arena, b->sitting[s].last_task - b->sitting[s].task + 1, uint32_t);
		if (!list)
			return false;
		for (uint32_t i = b->sitting[s].task; i <= b->sitting[s].last_task; i++)
			if (b->unknown[i])
				list[count++] = i;
		b->sitting[s].unknown = list;
		b->sitting[s].unknowns = count;
	}
	return true;
}

static uint32_t worst_of(const tc_breathing *b)
{
	uint32_t worst = TC_NONE;
	for (uint32_t s = 0; s < b->breath->sittings; s++)
		if (b->sitting[s].peak_index > (worst == TC_NONE ? 0 : b->sitting[worst].peak_index))
			worst = s;
	return worst;
}

tc_status tc_breath_make(tc_arena *arena, const tc_model *model, const tc_timetable *table, const tc_supply *supply,
    const tc_breath **breath)
{
	tc_breathing b = {
	    .arena = arena, .model = model, .table = table, .supply = supply, .breath = TC_NEW(arena, tc_breath)};
	if (!b.breath)
		return TC_NO_MEMORY;
	*breath = b.breath;
	b.breath->worst = TC_NONE;
	set_room(&b);
	if (table->state != TC_TABLE_FOUND || table->tasks == 0)
		return TC_OK;
	if (!cut_sittings(&b))
		return TC_NO_MEMORY;
	add_cleaning_up(&b);
	if (!tc_releases_gather(&b) || !tc_room_follow(&b) || !list_unknown(&b))
		return TC_NO_MEMORY;
	if (!tc_breath_flags(&b))
		return TC_NO_MEMORY;
	b.breath->sitting = b.sitting;
	b.breath->worst = worst_of(&b);
	return tc_arena_failed(arena) ? TC_NO_MEMORY : TC_OK;
}
