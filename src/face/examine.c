/* One file: from its path to its piece of the report. */
#include <stdlib.h>

#include "api/recipes.h"
#include "face/examine.h"
#include "face/files.h"

#define FIRST_BLOCK ((size_t)256 << 10) /* an ordinary recipe and all that is found in it */

struct tc_examiner {
	const tc_examine_plan *plan;
	tc_worker *worker;
	tc_report *share;
	tc_arena *arena; /* of the file at hand */
	/* of the file at hand */
	tc_examined *file;
	tc_diags *diags;
};

static void take(tc_examiner *e, tc_status status)
{
	e->file->no_memory = e->file->no_memory || status == TC_NO_MEMORY;
}

/* --- a recipe ---------------------------------------------------------------------------------------------------- */

static tc_verdict threshold(const tc_examiner *e)
{
	tc_verdict at_least = e->plan->at_least;
	if (!e->plan->at_least_said)
		tc_settings_at_least(e->file->settings, &at_least);
	return at_least;
}

static void judge(tc_examiner *e, const tc_recipe *recipe)
{
	const tc_judgement *judgement = NULL;
	tc_examined *file = e->file;
	if (tc_judge(e->worker, e->arena, recipe, &judgement) != TC_OK) {
		file->no_memory = true;
		return;
	}
	if (e->plan->ledger)
		judgement =
		    tc_ledger_sift(e->plan->ledger, e->arena, file->key.at, judgement, &file->met, &file->lines);
	if (!judgement) {
		file->no_memory = true;
		return;
	}
	if (judgement->bounded)
		file->unread = 1;
	file->found = file->found || tc_judgement_weighs(judgement, threshold(e));
	tc_report_at_least(e->share, threshold(e));
	take(e, tc_report_recipe(e->share, file->path.at, judgement));
}

static tc_status take_recipe(void *user, const tc_recipe *recipe)
{
	tc_examiner *e = user;
	const size_t errors = tc_diags_errors(e->diags);
	tc_settings_check(e->file->settings, recipe, e->diags);
	if (tc_diags_errors(e->diags) == errors)
		judge(e, recipe);
	return e->file->no_memory ? TC_NO_MEMORY : TC_OK;
}

/* --- a file ------------------------------------------------------------------------------------------------------ */

static void read_file(tc_examiner *e)
{
	const tc_settings *settings = e->file->settings;
	const tc_reader reader = {.read = tc_file_beside, .common = settings ? settings->common : NULL};
	tc_recipe_file file = {
	    .name = e->file->path.at, .named = e->file->named, .reader = &reader, .take = take_recipe, .user = e};
	tc_status status = tc_file_read(e->arena, file.name, e->diags, &file.bytes, &file.length);
	if (status == TC_OK)
		status = tc_recipes_read(e->arena, e->plan->rulebook, e->worker, &file, e->diags, &e->file->recipes);
	take(e, status);
}

static void report_diags(tc_examiner *e)
{
	if (tc_diags_count(e->diags) == 0)
		return;
	tc_diags_sort(e->diags);
	if (tc_diags_errors(e->diags))
		e->file->unread = 1;
	take(e, tc_report_unreadable(e->share, e->file->path.at, e->diags));
}

void tc_examine(tc_examiner *e, tc_examined *file)
{
	tc_arena_reset(e->arena);
	e->file = file;
	e->diags = tc_diags_new(e->arena);
	file->recipes = file->unread = 0;
	file->found = false;
	file->no_memory = !e->diags;
	file->key.length = file->met.length = file->lines.length = 0;
	if (e->plan->ledger)
		tc_ledger_key(e->plan->ledger, file->real.at, &file->key);
	if (file->no_memory || file->key.failed) {
		file->no_memory = true;
		return;
	}
	read_file(e);
	report_diags(e);
	take(e, tc_report_hand_over(e->share, file->piece));
}

/* --- life -------------------------------------------------------------------------------------------------------- */

tc_examiner *tc_examiner_new(const tc_examine_plan *plan)
{
	tc_examiner *e = calloc(1, sizeof *e);
	if (!e)
		return NULL;
	e->plan = plan;
	e->worker = tc_worker_new(plan->rulebook, NULL);
	e->share = tc_report_share(plan->report);
	e->arena = tc_arena_new(NULL, FIRST_BLOCK);
	if (e->worker && plan->brief)
		tc_worker_brief(e->worker);
	if (e->worker && e->share && e->arena)
		return e;
	tc_examiner_free(e);
	return NULL;
}

void tc_examiner_free(tc_examiner *e)
{
	if (!e)
		return;
	tc_worker_free(e->worker);
	tc_report_free(e->share);
	tc_arena_free(e->arena);
	free(e);
}

bool tc_examined_start(tc_examined *file, const tc_report *report)
{
	*file = (tc_examined){.piece = tc_piece_new(report)};
	tc_buffer *const buffers[] = {&file->path, &file->real, &file->key, &file->met, &file->lines};
	for (size_t i = 0; i < sizeof buffers / sizeof *buffers; i++)
		tc_buffer_start(buffers[i], NULL);
	return file->piece != NULL;
}

void tc_examined_end(tc_examined *file)
{
	tc_piece_free(file->piece);
	tc_buffer_free(&file->path);
	tc_buffer_free(&file->real);
	tc_buffer_free(&file->key);
	tc_buffer_free(&file->met);
	tc_buffer_free(&file->lines);
}
