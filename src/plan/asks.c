/* What rules ask of a timetable: the remedies `wait` and `shorten` of its findings, as bounds.
 *
 * A wait that the recipe writes is its author's: only an error lengthens it. Where the recipe leaves the wait out, or the table
 * itself brought the finding about, a warning is enough. */
#include "plan/asks.h"

#include <string.h>

#include "plan/turns.h"

#define SAME 1e-3 /* s */

/* --- is it the table's? ---------------------------------------------------------------------------------------------- */

static bool in_written(const tc_judgement *written, const tc_finding *f)
{
	for (uint32_t i = 0; i < written->findings; i++) {
		const tc_finding *w = &written->finding[i];
		if (w->rule == f->rule && w->part == f->part && w->step == f->step && w->under == f->under &&
		    !w->accept && w->verdict == f->verdict)
			return true;
	}
	return false;
}

/* Does the recipe write a wait just before this step on that part? */
static bool wait_written(const tc_model *model, uint32_t part, uint32_t step)
{
	const tc_part *p = &model->part[part];
	for (uint32_t i = 0; i < p->steps; i++)
		if (p->step[i].step->number == step)
			return i > 0 && p->step[i - 1].step->written->verb == TC_VERB_WAIT;
	return false;
}

static const tc_advice *advice_of(const tc_finding *f, tc_edit edit)
{
	for (uint32_t i = 0; i < f->advices; i++)
		if (f->advice[i].edit == edit && f->advice[i].amount > 0)
			return &f->advice[i];
	return NULL;
}

static bool listens(const tc_asks *asks, const tc_judgement *written, const tc_finding *f)
{
	if (f->accept || f->part == TC_NONE || f->step == 0)
		return false;
	if (f->verdict == TC_V_ERROR)
		return true;
	if (f->verdict != TC_V_WARNING || asks->errors_only)
		return false;
	return !in_written(written, f) || !wait_written(written->model, f->part, f->step);
}

/* --- from where it counts ----------------------------------------------------------------------------------------------- */

/* The step that last laid what the finding lies on; 0: none of the plan. */
static uint32_t anchor(const tc_model *model, const tc_finding *f)
{
	if (f->under == TC_NONE || f->under == 0 || f->under > model->part[f->part].layers)
		return 0;
	const tc_layer *under = model->part[f->part].layer[f->under - 1];
	return under->last_step ? under->last_step->number : 0;
}

/* The last task before the step's first one on the same body; TC_NONE. */
static uint32_t before(const tc_timetable *table, const tc_model *model, uint32_t part, uint32_t task)
{
	const uint64_t body = tc_body_of(model->recipe, part);
	for (uint32_t i = task; i-- > 0;)
		if (table->task[i].parts & body && table->task[i].step != table->task[task].step)
			return i;
	return TC_NONE;
}

/* --- keeping them -------------------------------------------------------------------------------------------------------- */

static const char *words(tc_arena *arena, const tc_asked *a)
{
	tc_buffer out;
	tc_buffer_start(&out, tc_arena_allocator(arena));
	tc_buffer_print(&out, "the rule %s asks for ", a->rule->id);
	tc_buffer_puts(&out, isinf(a->most) ? "at least " : "at most ");
	tc_duration_print(&out, isinf(a->most) ? a->least : a->most);
	tc_buffer_print(&out, ", or %s", a->rule->about);
	const char *text = out.failed ? NULL : tc_arena_text(arena, out.at, out.length);
	tc_buffer_free(&out);
	return text;
}

static tc_asked *like(const tc_asks *asks, const tc_asked *a)
{
	for (uint32_t i = 0; i < asks->count; i++) {
		tc_asked *b = &asks->at[i];
		if (b->rule == a->rule && b->after == a->after && b->step == a->step && b->part == a->part &&
		    isinf(b->most) == isinf(a->most))
			return b;
	}
	return NULL;
}

/* Asks only ever grow sterner, so that the search for a table ends. */
static bool keep(tc_arena *arena, tc_asks *asks, tc_asked *a, bool *more)
{
	tc_asked *old = like(asks, a);
	a->text = words(arena, a);
	if (old && a->least <= old->least + SAME && a->most >= old->most - SAME)
		return true;
	*more = true;
	if (old) {
		*old = *a;
		return a->text != NULL;
	}
	if (asks->count == asks->room &&
	    !tc_arena_grow(arena, (void **)&asks->at, asks->count, &asks->room, sizeof *asks->at))
		return false;
	asks->at[asks->count++] = *a;
	return a->text != NULL;
}

static bool ask(tc_arena *arena, const tc_timetable *table, const tc_judgement *timed, const tc_finding *f,
    tc_asks *asks, bool *more)
{
	const tc_advice *wait = advice_of(f, TC_EDIT_WAIT), *shorten = advice_of(f, TC_EDIT_SHORTEN);
	const uint32_t after = anchor(timed->model, f), to = tc_table_first(table, f->step);
	if ((!wait && !shorten) || to == TC_NONE)
		return true;
	const uint32_t from = after ? tc_table_last(table, after) : before(table, timed->model, f->part, to);
	if (from == TC_NONE)
		return true;
	const double gap = table->task[to].start - table->task[from].end;
	tc_asked a = {.after = after, .step = f->step, .part = f->part, .rule = f->rule, .place = f->rule->place};
	a.least = wait ? gap + wait->amount : -INFINITY;
	a.most = wait ? INFINITY : gap - shorten->amount;
	return keep(arena, asks, &a, more);
}

bool tc_asks_gather(tc_arena *arena, const tc_judgement *written, const tc_timetable *table, const tc_judgement *timed,
    tc_asks *asks, bool *more)
{
	*more = false;
	for (uint32_t i = 0; i < timed->findings; i++) {
		const tc_finding *f = &timed->finding[i];
		if (listens(asks, written, f) && !ask(arena, table, timed, f, asks, more))
			return false;
	}
	return true;
}
