/* A plan: judged as written, timed, judged at those times, until no rule asks for others. */
#include "plan/plan.h"

#include "plan/asks.h"
#include "plan/turns.h"

#define ROUNDS_MAX 16u /* tables made for one plan: each makes some ask sterner */

typedef struct tc_planning {
	tc_worker *worker;
	tc_arena *arena;
	const tc_recipe *recipe;
	const tc_calendar *calendar;
	tc_plan *plan;
	tc_asks asks;
} tc_planning;

static tc_status make_table(tc_planning *p, bool draft)
{
	return tc_timetable_make(
	    p->arena, p->plan->written->model, p->calendar, p->asks.at, p->asks.count, draft, &p->plan->table);
}

static tc_status judge_table(tc_planning *p)
{
	p->plan->timed = NULL;
	if (p->plan->table->state != TC_TABLE_FOUND)
		return TC_OK;
	const tc_turns *turns = tc_turns_of(p->arena, p->plan->written->model, p->plan->table);
	return turns ? tc_judge_at(p->worker, p->arena, p->recipe, turns, &p->plan->timed) : TC_NO_MEMORY;
}

/* Tables with what is asked by then, until nothing more is asked or there is none. */
static tc_status settle(tc_planning *p)
{
	tc_plan *plan = p->plan;
	plan->settled = false;
	for (plan->rounds = 0; !plan->settled && plan->rounds < ROUNDS_MAX; plan->rounds++) {
		bool more = false;
		tc_status status = make_table(p, true);
		if (status == TC_OK)
			status = judge_table(p);
		if (status != TC_OK)
			return status;
		if (plan->timed && !tc_asks_gather(p->arena, plan->written, plan->table, plan->timed, &p->asks, &more))
			return TC_NO_MEMORY;
		plan->settled = !more;
	}
	return TC_OK;
}

/* A warning is no reason to have no plan at all. */
static tc_status settle_at_all(tc_planning *p)
{
	const tc_status status = settle(p);
	if (status != TC_OK || p->plan->timed || p->asks.count == 0)
		return status;
	p->asks = (tc_asks){.errors_only = true};
	return settle(p);
}

/* The last table once more, with its latest moments; and where rules would ask on without end, with all that they asked. */
static tc_status finish(tc_planning *p)
{
	const tc_status status = p->plan->timed ? make_table(p, false) : TC_OK;
	return status == TC_OK && !p->plan->settled ? judge_table(p) : status;
}

/* When all is done and the last layer is through-dry. */
static double ready(const tc_timetable *table, const tc_judgement *timed)
{
	double last = table->end;
	for (uint32_t i = 0; timed && i < timed->model->parts; i++) {
		const tc_part *part = &timed->model->part[i];
		for (uint32_t k = 0; k < part->layers; k++) {
			const tc_layer *layer = part->layer[k];
			if (layer->old)
				continue;
			const tc_value age = tc_layer_reaches(timed->model, layer, TC_DRY_SHARE, false);
			if (age.state == TC_UNKNOWN)
				return NAN;
			last = fmax(last, age.state == TC_ABSENT ? INFINITY : layer->done + age.number);
		}
	}
	return timed ? last : NAN;
}

tc_status tc_plan_make(tc_worker *worker, tc_arena *arena, const tc_recipe *recipe, const tc_calendar_wish *wish,
    tc_date today, tc_diags *diags, const tc_plan **plan)
{
	tc_planning p = {.worker = worker, .arena = arena, .recipe = recipe, .plan = TC_NEW(arena, tc_plan)};
	if (!p.plan)
		return TC_NO_MEMORY;
	p.plan->recipe = recipe;
	tc_status status = tc_calendar_new(arena, recipe, wish, today, diags, &p.calendar);
	if (status == TC_OK)
		status = tc_judge(worker, arena, recipe, &p.plan->written);
	if (status == TC_OK)
		status = settle_at_all(&p);
	if (status == TC_OK)
		status = finish(&p);
	if (status != TC_OK)
		return status;
	const tc_model *model = p.plan->timed ? p.plan->timed->model : p.plan->written->model;
	status = tc_supply_make(arena, model, p.plan->table, &p.plan->supply);
	if (status == TC_OK)
		status = tc_breath_make(arena, model, p.plan->table, p.plan->supply, &p.plan->breath);
	p.plan->ready = ready(p.plan->table, p.plan->timed);
	*plan = p.plan;
	return status == TC_OK && tc_arena_failed(arena) ? TC_NO_MEMORY : status;
}
