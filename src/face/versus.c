/* `tiecoat versus`: what the new version of a file of recipes changes: findings, film, time, cost. */
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "face/commands.h"
#include "face/complain.h"
#include "face/files.h"
#include "face/ground.h"
#include "face/versus.h"

/* One version of the file. */
typedef struct side {
	const char *path;
	uint32_t count, room, plan_room;
	const tc_judgement **judgement; /* of each recipe as written */
	const tc_plan **plan;           /* and what it takes */
} side;

typedef struct versus {
	const tc_options *options;
	tc_ground ground;
	tc_worker *worker;
	tc_rule_names names;
	tc_arena *arena;
	tc_diags *diags;
	side old, new;
	tc_verdict at_least;
	tc_versus_pair *pair;
	uint32_t pairs, pairs_room;
	bool worse, failed;
} versus;

/* --- reading ----------------------------------------------------------------------------------------------------- */

/* A shelf is looked for beside the new version where the old one comes out of a pipe. */
static const char *read_beside(
    void *user, tc_arena *arena, const char *beside, const char *name, size_t *length, const char **reason)
{
	const versus *v = user;
	struct stat info;
	const bool plain = stat(beside, &info) == 0 && S_ISREG(info.st_mode);
	return tc_file_beside(NULL, arena, plain ? beside : v->new.path, name, length, reason);
}

/* The day from which hours count where no start is said: any one, but always the same. */
static const tc_date some_monday = {2001, 1, 1};

static void read_recipe(versus *v, side *s, const tc_settings *settings, const tc_source *source, const tc_node *root)
{
	const tc_reader reader = {.read = read_beside, .user = v, .common = settings ? settings->common : NULL};
	const tc_recipe *recipe = NULL;
	const tc_plan *plan = NULL;
	tc_status status = tc_recipe_read(v->arena, tc_rulebook_library(v->ground.book.rulebook),
	    tc_worker_finder(v->worker), &v->names, &reader, source, root, false, v->diags, &recipe);
	if (status == TC_OK)
		status = tc_plan_make(v->worker, v->arena, recipe, NULL, some_monday, v->diags, &plan);
	if (status == TC_OK && plan->written->bounded)
		tc_diag_add(v->diags, TC_ERROR, "bound", recipe->place,
		    "the recipe's bound on evaluation was hit: nothing can be said of it");
	if (status == TC_OK &&
	    tc_arena_grow(v->arena, (void **)&s->judgement, s->count, &s->room, sizeof *s->judgement) &&
	    tc_arena_grow(v->arena, (void **)&s->plan, s->count, &s->plan_room, sizeof *s->plan)) {
		s->judgement[s->count] = plan->written;
		s->plan[s->count++] = plan;
	}
	v->failed = v->failed || status == TC_NO_MEMORY;
}

static void read_side(versus *v, side *s, const tc_settings *settings)
{
	const char *bytes;
	size_t length, count = 0;
	tc_source *source = NULL;
	const tc_document *documents = NULL;
	const size_t errors = tc_diags_errors(v->diags);
	if (tc_file_read(v->arena, s->path, v->diags, &bytes, &length) != TC_OK ||
	    tc_source_new(v->arena, s->path, bytes, length, v->diags, &source) != TC_OK ||
	    tc_yaml_read(v->arena, source, v->diags, &documents, &count) != TC_OK)
		return;
	for (size_t i = 0; i < count; i++)
		if (tc_is_recipe(&documents[i]))
			read_recipe(v, s, settings, source, documents[i].root);
	if (s->count == 0 && tc_diags_errors(v->diags) == errors)
		tc_diag_add(v->diags, TC_ERROR, "no-recipe", (tc_place){.file = s->path},
		    "no recipe in this file: none of its documents has the key `recipe`");
}

/* --- recipes ----------------------------------------------------------------------------------------------------- */

static const char *title_of(const tc_judgement *judgement)
{
	return judgement->model->recipe->title;
}

/* The old version of a recipe: of the same title, or the only one beside the only one. */
static const tc_judgement *old_of(const versus *v, const tc_judgement *new)
{
	for (uint32_t i = 0; i < v->old.count; i++)
		if (strcmp(title_of(v->old.judgement[i]), title_of(new)) == 0)
			return v->old.judgement[i];
	return v->old.count == 1 && v->new.count == 1 ? v->old.judgement[0] : NULL;
}

static void set_spend(const side *s, const tc_judgement *judgement, tc_spend *spend)
{
	for (uint32_t i = 0; i < s->count; i++)
		if (s->judgement[i] == judgement)
			tc_spend_of(s->plan[i], spend);
}

static void add_pair(versus *v, const tc_judgement *old, const tc_judgement *new)
{
	tc_versus_pair pair = {.old = old, .new = new};
	set_spend(&v->old, old, &pair.was);
	set_spend(&v->new, new, &pair.is);
	if (!tc_versus_compare(v->arena, v->at_least, &pair) ||
	    !tc_arena_grow(v->arena, (void **)&v->pair, v->pairs, &v->pairs_room, sizeof *v->pair)) {
		v->failed = true;
		return;
	}
	v->pair[v->pairs++] = pair;
	v->worse = v->worse || pair.worse;
}

static void compare_all(versus *v)
{
	bool *met = TC_ARRAY(v->arena, v->old.count, bool);
	v->failed = v->failed || !met;
	for (uint32_t i = 0; met && i < v->new.count; i++) {
		const tc_judgement *new = v->new.judgement[i], *old = old_of(v, new);
		for (uint32_t k = 0; old && k < v->old.count; k++)
			met[k] = met[k] || v->old.judgement[k] == old;
		add_pair(v, old, new);
	}
	for (uint32_t i = 0; met && i < v->old.count; i++)
		if (!met[i])
			add_pair(v, v->old.judgement[i], NULL);
}

/* --- the whole --------------------------------------------------------------------------------------------------- */

static bool start(versus *v)
{
	v->arena = tc_arena_new(NULL, 0);
	v->diags = v->arena ? tc_diags_new(v->arena) : NULL;
	v->worker = tc_worker_new(v->ground.book.rulebook, NULL);
	v->names = tc_rulebook_names(v->ground.book.rulebook);
	v->at_least = v->ground.options.at_least;
	if (v->diags && v->worker)
		return true;
	tc_complain_memory();
	return false;
}

/* Both are judged by the settings of the new version. False: something could not be read, and that was said. */
static bool read_both(versus *v)
{
	const tc_settings *settings = NULL;
	if (v->ground.settings && !tc_settings_of(v->ground.settings, v->new.path, v->diags, &settings))
		v->failed = true;
	if (!v->options->at_least_said)
		tc_settings_at_least(settings, &v->at_least);
	read_side(v, &v->old, settings);
	read_side(v, &v->new, settings);
	v->failed = v->failed || tc_arena_failed(v->arena);
	tc_diags_sort(v->diags);
	tc_complain_diags(v->diags);
	if (v->failed)
		tc_complain_memory();
	return !v->failed && tc_diags_errors(v->diags) == 0;
}

static void write_all(versus *v, tc_sheet *sheet)
{
	const tc_versus_whole whole = {.old = v->old.path,
	    .new = v->new.path,
	    .rulebook = v->ground.book.rulebook,
	    .at_least = v->at_least,
	    .pairs = v->pairs,
	    .pair = v->pair};
	tc_buffer work;
	if (v->options->format == TC_FORMAT_JSON) {
		v->failed = tc_versus_json(&whole, &sheet->text) != TC_OK;
		return;
	}
	tc_buffer_start(&work, NULL);
	for (uint32_t i = 0; i < v->pairs; i++)
		tc_versus_text(sheet, &work, v->at_least, &v->pair[i]);
	v->failed = work.failed;
	tc_buffer_free(&work);
}

static int run(versus *v)
{
	tc_sheet sheet;
	if (!start(v) || !read_both(v) || !tc_sheet_open(v->options, &sheet))
		return TC_EXIT_TROUBLE;
	compare_all(v);
	if (!v->failed)
		write_all(v, &sheet);
	sheet.text.failed = sheet.text.failed || v->failed;
	return tc_sheet_close(&sheet, v->worse ? TC_EXIT_FOUND : TC_EXIT_SOUND);
}

int tc_run_versus(const tc_options *options)
{
	versus v = {.options = options};
	if (options->operands != 2) {
		tc_complain("`versus` compares two files: tiecoat versus OLD NEW");
		return TC_EXIT_TROUBLE;
	}
	v.old.path = options->operand[0];
	v.new.path = options->operand[1];
	if (!tc_ground_open(&v.ground, options, v.new.path))
		return TC_EXIT_TROUBLE;
	const int status = run(&v);
	tc_worker_free(v.worker);
	tc_arena_free(v.arena);
	tc_ground_close(&v.ground);
	return status;
}
