/*
 * Timetables of real recipes. What a table must keep is checked here from the recipe alone, not from the bounds that made it: the
 * order on each body, the waits, one pair of hands, the hours.
 */
#include "plan_of.h"

#include <glob.h>

#include "plan/turns.h"

/* --- a model at other times ------------------------------------------------------------------------------------------- */

/* Turns at the very times of the recipe. */
static const tc_turns *same_turns(tc_arena *arena, const tc_model *model)
{
	tc_turns *turns = TC_NEW(arena, tc_turns);
	tc_turn *turn = TC_ARRAY(arena, model->steps, tc_turn);
	assert_non_null(turns);
	assert_non_null(turn);
	for (uint32_t i = 0; i < model->steps; i++)
		turn[i] = (tc_turn){.step = i,
		    .parts = model->step[i].written->parts,
		    .start = model->step[i].start,
		    .end = model->step[i].end};
	*turns = (tc_turns){model->steps, turn};
	return turns;
}

static void assert_same(const tc_judgement *a, const tc_judgement *b, const char *name)
{
	if (a->findings != b->findings)
		fprintf(stderr, "%s: %u findings against %u\n", name, a->findings, b->findings);
	assert_int_equal(a->findings, b->findings);
	for (uint32_t i = 0; i < a->findings; i++) {
		assert_ptr_equal(a->finding[i].rule, b->finding[i].rule);
		assert_int_equal(a->finding[i].part, b->finding[i].part);
		assert_int_equal(a->finding[i].step, b->finding[i].step);
		assert_int_equal(a->finding[i].under, b->finding[i].under);
		assert_string_equal(a->finding[i].message, b->finding[i].message);
	}
}

static size_t each_file(bench *b, const char *pattern, void (*look)(bench *, const char *, const char *))
{
	glob_t found;
	assert_int_equal(glob(pattern, 0, NULL, &found), 0);
	for (size_t i = 0; i < found.gl_pathc; i++) {
		size_t length;
		char *text = slurp(found.gl_pathv[i], &length);
		assert_non_null(text);
		look(b, found.gl_pathv[i], text);
		free(text);
	}
	const size_t count = found.gl_pathc;
	globfree(&found);
	return count;
}

static void look_same(bench *b, const char *name, const char *text)
{
	const tc_judgement *written = judged(b, name, text), *again = NULL;
	assert_int_equal(
	    tc_judge_at(b->worker, b->arena, written->model->recipe, same_turns(b->arena, written->model), &again),
	    TC_OK);
	assert_same(written, again, name);
	assert_true(written->model->end == again->model->end);
}

static void the_same_times_give_the_same_judgement(void **state)
{
	assert_true(each_file(*state, "examples/*.yaml", look_same) >= 10);
	assert_true(each_file(*state, "examples/faults/*.yaml", look_same) >= 3);
}

/* --- what a table keeps ------------------------------------------------------------------------------------------------- */

static uint64_t body(const tc_recipe *recipe, uint64_t parts)
{
	uint64_t all = 0;
	for (uint32_t i = 0; i < recipe->parts; i++)
		for (uint32_t k = 0; k < recipe->parts; k++)
			if (parts >> k & 1 && recipe->part[k].whole == recipe->part[i].whole)
				all |= 1ull << i;
	return all;
}

static double start_of(const tc_timetable *table, uint32_t step)
{
	return table->task[tc_table_first(table, step)].start;
}
static double end_of(const tc_timetable *table, uint32_t step)
{
	return table->task[tc_table_last(table, step)].end;
}

/* On each body the steps follow as written, with the waits between them. */
static void assert_order(const tc_recipe *recipe, const tc_timetable *table)
{
	for (uint32_t p = 0; p < recipe->parts; p++) {
		double free = 0;
		for (uint32_t s = 0; s < recipe->steps; s++) {
			const tc_written_step *step = &recipe->step[s];
			if (!(body(recipe, step->parts) >> p & 1))
				continue;
			if (step->verb == TC_VERB_WAIT) {
				free += step->wait.number;
				continue;
			}
			assert_true(start_of(table, step->number) >= free - 1e-3);
			free = end_of(table, step->number);
		}
	}
}

static void assert_one_pair_of_hands(const tc_timetable *table)
{
	for (uint32_t i = 0; i < table->tasks; i++)
		for (uint32_t k = 0; k < i; k++) {
			const tc_task *a = &table->task[k], *b = &table->task[i];
			assert_true(a->start <= b->start);
			assert_true(!a->attended || a->end <= b->start + 1e-3);
		}
}

static void assert_hours(const tc_timetable *table)
{
	for (uint32_t i = 0; i < table->tasks; i++) {
		const tc_task *t = &table->task[i];
		tc_span span;
		assert_true(tc_calendar_open(table->calendar, t->start));
		assert_true(tc_calendar_open(table->calendar, t->end));
		if (t->attended && t->lasts > 0) {
			assert_true(tc_calendar_session(table->calendar, t->start + t->lasts / 2, &span));
			assert_true(span.from <= t->start + 1e-3 && t->end <= span.to + 1e-3);
		}
		assert_true(t->latest >= t->start - 1e-3);
		assert_true(t->closes >= t->start - 1e-3);
	}
}

static void look_kept(bench *b, const char *name, const char *text)
{
	const tc_plan *plan = planned(b, name, text);
	const tc_timetable *table = plan->table;
	if (table->state != TC_TABLE_FOUND)
		fprintf(stderr, "%s has no timetable\n", name);
	assert_int_equal(table->state, TC_TABLE_FOUND);
	assert_true(plan->settled);
	assert_order(plan->recipe, table);
	assert_one_pair_of_hands(table);
	assert_hours(table);
	assert_non_null(plan->timed);
	assert_int_equal(plan->timed->bounded, false);
	assert_true(isnan(plan->ready) || plan->ready >= table->end);
}

/* The hands of an evening: the same recipe with sessions. */
static void look_evenings(bench *b, const char *name, const char *text)
{
	const char *hours = "start: 2031-05-14 08:00\nsessions: ['mon-fri 18:30 to 23:00', 'sat 09:00 to 18:00']\n";
	if (strstr(text, "\nsessions:"))
		hours = "";
	char *both = tc_arena_print(b->arena, "%s%s", text, hours);
	const tc_plan *plan = planned(b, name, both);
	if (plan->table->state != TC_TABLE_FOUND) {
		assert_true(plan->table->conflicts > 0);
		return;
	}
	assert_order(plan->recipe, plan->table);
	assert_one_pair_of_hands(plan->table);
	assert_hours(plan->table);
}

static void tables_keep_order_waits_hands_and_hours(void **state)
{
	assert_true(each_file(*state, "examples/*.yaml", look_kept) >= 10);
	each_file(*state, "examples/*.yaml", look_evenings);
}

/* --- left-out waits ------------------------------------------------------------------------------------------------------ */

/* A plan that is sound with its waits gets them back from the rulebook when they are left out: at the table's times no rule
 * asks for more time. */
static void look_without_waits(bench *b, const char *name, const char *text)
{
	if (judged(b, name, text)->summary.errors > 0)
		return;
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	for (const char *line = text; *line;) {
		const char *end = strchr(line, '\n');
		const size_t length = end ? (size_t)(end - line) + 1 : strlen(line);
		const bool wait =
		    strncmp(line, "  - wait:", 9) == 0 && (line[length] == ' ' && line[length + 2] == '-');
		if (!wait)
			tc_buffer_add(&out, (tc_text){line, length});
		line += length;
	}
	const tc_plan *plan = planned(b, name, out.at);
	assert_int_equal(plan->table->state, TC_TABLE_FOUND);
	assert_true(plan->settled);
	for (uint32_t i = 0; i < plan->timed->findings; i++) {
		const tc_finding *f = &plan->timed->finding[i];
		for (uint32_t k = 0; k < f->advices && f->verdict == TC_V_ERROR && !f->accept; k++) {
			if (f->advice[k].edit == TC_EDIT_WAIT)
				fprintf(stderr, "%s: %s\n", name, f->message);
			assert_true(f->advice[k].edit != TC_EDIT_WAIT);
		}
	}
	tc_buffer_free(&out);
}

static void waits_that_are_left_out_come_from_the_rules(void **state)
{
	assert_true(each_file(*state, "examples/*.yaml", look_without_waits) >= 10);
}

/* --- conflicts ----------------------------------------------------------------------------------------------------------- */

#define BLACK_AND_GLOSS(hours, recoat, wait)                                                                           \
	"recipe: Gloss in time\nstart: 2031-05-16 18:00\n" hours "on: polyurethane-resin\n"                            \
	"shelf:\n  lamp black: {family: acrylic-lacquer, recoat: " recoat "}\n"                                        \
	"stack:\n"                                                                                                     \
	"  - wash: detergent\n  - wait: 12 h\n  - sand: P400\n"                                                        \
	"  - coat: lamp black\n    role: colour\n    coats: 3\n    pass: light\n"                                      \
	"  - wait: " wait "\n"                                                                                         \
	"  - coat: urethane-clear-2k\n    role: clear\n    passes: [light, medium]\n"

static bool names(const tc_timetable *table, tc_bound_kind kind, uint32_t line)
{
	for (uint32_t i = 0; i < table->conflicts; i++) {
		const tc_bound *b = &table->bound[table->conflict[i]];
		if (b->kind == kind && b->place.line == line && b->text && *b->text)
			return true;
	}
	return false;
}

static void a_wait_longer_than_the_window_is_a_conflict(void **state)
{
	const tc_plan *plan = planned(*state, "late.yaml", BLACK_AND_GLOSS("", "10 min to 12 h", "24 h"));
	assert_int_equal(plan->table->state, TC_TABLE_CONFLICT);
	assert_null(plan->timed);
	assert_int_equal(plan->table->conflicts, 2);
	assert_true(plan->table->smallest);
	assert_true(names(plan->table, TC_BOUND_WAIT, 14));
	assert_true(names(plan->table, TC_BOUND_WINDOW, 5));
}

static void evenings_that_miss_a_window_are_named(void **state)
{
	const tc_plan *plan = planned(
	    *state, "evenings.yaml", BLACK_AND_GLOSS("sessions: [mon-fri 19:00 to 22:00]\n", "10 min to 12 h", "12 h"));
	assert_int_equal(plan->table->state, TC_TABLE_CONFLICT);
	assert_true(names(plan->table, TC_BOUND_HOURS, 3));
	assert_true(names(plan->table, TC_BOUND_WAIT, 15));
	assert_true(names(plan->table, TC_BOUND_WINDOW, 6));
}

static void a_step_longer_than_any_session(void **state)
{
	const tc_plan *plan = planned(*state, "long.yaml",
	    "recipe: Long\nsessions: [mon-fri 19:00 to 22:00]\non: polystyrene\n"
	    "stack:\n  - wash: detergent\n  - do: fair the hull\n    takes: 4 h\n");
	assert_int_equal(plan->table->state, TC_TABLE_CONFLICT);
	assert_int_equal(plan->table->conflicts, 1);
	assert_true(names(plan->table, TC_BOUND_HOURS, 2));
}

/* --- closed middles, evenings ------------------------------------------------------------------------------------------- */

/* The sheet closes from 1 h to 24 h: an author's wait of 2 h falls into it, and the table leaps over. */
static void a_closed_middle_is_leapt_over(void **state)
{
	const tc_plan *plan = planned(*state, "middle.yaml", BLACK_AND_GLOSS("", "[10 min to 1 h, 24 h on]", "2 h"));
	const tc_timetable *table = plan->table;
	assert_int_equal(table->state, TC_TABLE_FOUND);
	const tc_task *gloss = &table->task[table->tasks - 1], *black = &table->task[table->tasks - 2];
	assert_true(fabs(gloss->start - black->end - 24 * 3600) < 1e-3);
	assert_int_equal(table->bound[gloss->held_by].kind, TC_BOUND_WINDOW);
}

/* Friday 22:00 is too late to leave a window of 24 h for Saturday morning, but the week has Thursdays: the latest moment of
 * the colour follows from the window of the clear. */
static void the_latest_moment_looks_ahead(void **state)
{
	const tc_plan *plan = planned(
	    *state, "ahead.yaml", BLACK_AND_GLOSS("sessions: [fri-sat 09:00 to 22:00]\n", "10 min to 24 h", "12 h"));
	const tc_timetable *table = plan->table;
	assert_int_equal(table->state, TC_TABLE_FOUND);
	const tc_task *gloss = &table->task[table->tasks - 1];
	const tc_civil start = tc_calendar_civil(table->calendar, gloss->start);
	const tc_civil latest = tc_calendar_civil(table->calendar, gloss->latest);
	assert_true(isfinite(gloss->latest) && isfinite(gloss->closes));
	assert_int_equal(start.weekday, 5);
	assert_int_equal(latest.day, start.day);
	assert_true(gloss->latest + gloss->lasts <= gloss->closes + gloss->lasts + 1e-3);
}

/* 32 choices of three windows in a row are more than can be tried: what comes out keeps everything, and says that it may not
 * be the earliest. */
static void too_many_windows_still_give_a_plan(void **state)
{
	bench *b = *state;
	tc_buffer text;
	tc_buffer_start(&text, NULL);
	tc_buffer_puts(&text,
	    "recipe: Many windows\nstart: 2031-05-14 18:00\nsessions: ['daily 19:00 to 23:00']\n"
	    "on: polyurethane-resin\n"
	    "shelf:\n  e: {family: alkyd-enamel, recoat: [10 min to 4 h, 47 h to 60 h, 90 h on]}\nstack:\n");
	for (int i = 0; i < 32; i++)
		tc_buffer_puts(
		    &text, "  - coat: e\n    role: colour\n    pass: light\n    takes: 20 min\n  - do: look\n");
	const tc_plan *plan = planned(b, "many.yaml", text.at);
	tc_buffer_free(&text);
	assert_int_equal(plan->table->state, TC_TABLE_FOUND);
	assert_false(plan->table->earliest);
	assert_order(plan->recipe, plan->table);
	assert_one_pair_of_hands(plan->table);
	assert_hours(plan->table);
	for (uint32_t i = 0; i < plan->table->bounds; i++) {
		const tc_bound *w = &plan->table->bound[i];
		if (w->kind != TC_BOUND_WINDOW)
			continue;
		const double gap = plan->table->task[w->to].start - plan->table->task[w->from].end;
		assert_true((gap >= 600 - 1e-3 && gap <= 4 * 3600 + 1e-3) ||
		            (gap >= 47 * 3600 - 1e-3 && gap <= 60 * 3600 + 1e-3) || gap >= 90 * 3600 - 1e-3);
	}
}

/* --- cups ------------------------------------------------------------------------------------------------------------------ */

static void a_cup_that_dies_in_the_flash_is_a_conflict(void **state)
{
	const tc_plan *plan = planned(*state, "cup.yaml",
	    "recipe: Slow cup\nworkshop: {temperature: 21 °C}\non: polyurethane-resin\n"
	    "shelf:\n  gloss: {family: urethane-clear-2k, pot_life: 1 h, cure_at: 21 °C}\n"
	    "stack:\n  - mix: gloss\n  - coat: gloss\n    role: clear\n    coats: 3\n    pass: light\n    flash: 40 "
	    "min\n");
	assert_int_equal(plan->table->state, TC_TABLE_CONFLICT);
	assert_true(names(plan->table, TC_BOUND_POT, 5));
}

/* The mix stands 20 min from when it is made, 5 min of which the mixing takes. */
static void a_mix_stands_as_long_as_its_step_says(void **state)
{
	const tc_plan *plan = planned(*state, "stand.yaml",
	    "recipe: Standing\non: polyurethane-resin\nstack:\n  - mix: urethane-clear-2k\n    time: 20 min\n"
	    "  - coat: urethane-clear-2k\n    role: clear\n    pass: light\n");
	const tc_timetable *table = plan->table;
	assert_int_equal(table->state, TC_TABLE_FOUND);
	assert_true(fabs(start_of(table, 2) - 20 * 60) < 1e-3);
	assert_int_equal(table->bound[table->task[1].held_by].kind, TC_BOUND_POT);
}

/* --- side by side ------------------------------------------------------------------------------------------------------------ */

static void one_body_dries_while_the_other_is_worked_on(void **state)
{
	const tc_plan *plan = planned(*state, "two.yaml",
	    "recipe: Two\nparts:\n  hull: {substrate: polystyrene}\n  mast: {substrate: brass}\n"
	    "stack:\n  - do: first of the hull\n    on: hull\n    takes: 10 min\n  - wait: 5 h\n    on: hull\n"
	    "  - do: second of the hull\n    on: hull\n    takes: 10 min\n"
	    "  - do: first of the mast\n    on: mast\n    takes: 1 h\n  - wait: 6 h\n    on: mast\n"
	    "  - do: second of the mast\n    on: mast\n    takes: 10 min\n");
	const tc_timetable *table = plan->table;
	assert_int_equal(table->state, TC_TABLE_FOUND);
	assert_true(table->reordered);
	/* mast: 10 min to 1 h 10 min, then six hours; the hull's five end earlier */
	assert_true(fabs(start_of(table, 4) - 600) < 1e-3);
	assert_true(fabs(start_of(table, 3) - 5 * 3600 - 600) < 1e-3);
	assert_true(fabs(table->end - (600 + 3600 + 6 * 3600 + 600)) < 1e-3);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(the_same_times_give_the_same_judgement),
	    cmocka_unit_test(tables_keep_order_waits_hands_and_hours),
	    cmocka_unit_test(waits_that_are_left_out_come_from_the_rules),
	    cmocka_unit_test(a_wait_longer_than_the_window_is_a_conflict),
	    cmocka_unit_test(evenings_that_miss_a_window_are_named),
	    cmocka_unit_test(a_step_longer_than_any_session),
	    cmocka_unit_test(a_closed_middle_is_leapt_over),
	    cmocka_unit_test(the_latest_moment_looks_ahead),
	    cmocka_unit_test(too_many_windows_still_give_a_plan),
	    cmocka_unit_test(a_cup_that_dies_in_the_flash_is_a_conflict),
	    cmocka_unit_test(a_mix_stands_as_long_as_its_step_says),
	    cmocka_unit_test(one_body_dries_while_the_other_is_worked_on),
	};
	return cmocka_run_group_tests(tests, bench_open, bench_close);
}
