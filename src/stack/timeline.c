/* When things happen. The clock starts at the first step; a wait moves it, pauses between passes do, and work that
 * says how long it takes. */
#include "stack/bench.h"

static double said(tc_value value, double otherwise)
{
	return value.state == TC_SAID ? value.number : otherwise;
}

double tc_step_lasts(const tc_written_step *step)
{
	if (step->verb == TC_VERB_WAIT)
		return said(step->wait, 0);
	return said(step->takes, said(step->time, 0));
}

double tc_step_pause(const tc_written_step *step, uint32_t pass)
{
	if (step->flashes > 0)
		return step->flash[step->flashes > 1 ? pass : 0];
	return step->with ? tc_figure_of(step->with, TC_P_FLASH) : NAN;
}

void tc_passes_of(const tc_written_step *step, tc_passes *passes)
{
	const uint32_t count = step->coats ? step->coats : 1;
	const double each = said(step->takes, 0) / count; /* spraying one pass */
	passes->count = count;
	passes->least = NAN;
	passes->usual = step->with ? tc_figure_of(step->with, TC_P_FLASH) : NAN;
	passes->assumed = step->flashes == 0 && count > 1;
	double clock = each;
	for (uint32_t i = 0; i < count; i++) {
		passes->after[i] = clock;
		if (i + 1 == count)
			break;
		const double flash = tc_step_pause(step, i);
		if (isnan(passes->least) || flash < passes->least)
			passes->least = flash;
		clock += each + (isnan(flash) ? 0 : flash);
	}
	passes->lasts = clock;
}

bool tc_stretch_add(tc_building *b, tc_bench *bench, double from, double to, double temperature)
{
	tc_part *part = bench->part;
	tc_stretch *last = part->stretches ? &bench->stretch[part->stretches - 1] : NULL;
	if (last && last->from == last->to) /* nothing has been spent in it */
		last->temperature = temperature;
	if (last && last->temperature == temperature) {
		last->to = to;
		return true;
	}
	if (!tc_arena_grow(
	        b->arena, (void **)&bench->stretch, part->stretches, &bench->stretches_room, sizeof *bench->stretch))
		return false;
	bench->stretch[part->stretches++] = (tc_stretch){from, to, temperature};
	return true;
}
