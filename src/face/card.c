/* `tiecoat card`: the bench card of each recipe. */
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>

#include "api/recipes.h"
#include "face/card_out.h"
#include "face/commands.h"
#include "face/complain.h"
#include "face/files.h"
#include "face/ground.h"
#include "face/signals.h"
#include "face/walk.h"
#include "stack/times.h"

typedef struct card {
	const tc_options *given;
	tc_ground ground;
	tc_worker *worker;
	tc_arena *arena; /* of the file at hand */
	tc_diags *diags;
	tc_walk *walk;
	tc_walk_item item;
	tc_card_out *out;
	tc_wall start;
	tc_calendar_wish wish;
	tc_date today;
	double now; /* s since 1970 */
	uint32_t recipes;
	bool unread, found, broken; /* broken: an error that ends the run was said */
} card;

static void take(card *c, tc_status status)
{
	if (status != TC_NO_MEMORY || c->broken)
		return;
	tc_complain_memory();
	c->broken = true;
}

/* --- when --------------------------------------------------------------------------------------------------------- */

/* The moment that counts as now: SOURCE_DATE_EPOCH where it is set, so that the same recipe gives the same bytes. */
static bool read_clock(card *c)
{
	const char *said = getenv("SOURCE_DATE_EPOCH");
	const time_t now = time(NULL);
	struct tm day;
	if (said && *said) {
		char *end;
		errno = 0;
		const long long seconds = strtoll(said, &end, 10);
		if (*end || errno || seconds < 0 || seconds > 253402300799LL) { /* the end of the year 9999 */
			tc_complain("SOURCE_DATE_EPOCH is a number of seconds since 1970, not `%s`", said);
			return false;
		}
		c->now = (double)seconds;
		c->today = tc_date_of((int32_t)(seconds / TC_DAY_SECONDS));
		return true;
	}
	c->now = (double)now;
	c->today = tc_date_of((int32_t)(now / TC_DAY_SECONDS));
	if (localtime_r(&now, &day))
		c->today = (tc_date){
		    .year = day.tm_year + 1900, .month = (uint8_t)(day.tm_mon + 1), .day = (uint8_t)day.tm_mday};
	return true;
}

static bool read_wish(card *c)
{
	tc_time_error error;
	c->wish.zone = c->given->zone;
	if (c->given->zone && !tc_zone_name_read(tc_text_of(c->given->zone), &error)) {
		tc_complain("--zone: %s", error.message);
		return false;
	}
	if (!c->given->start)
		return true;
	if (!tc_start_read(tc_text_of(c->given->start), &c->start, &error)) {
		tc_complain("--start: %s", error.message);
		return false;
	}
	c->wish.start = &c->start;
	return true;
}

/* --- a recipe ----------------------------------------------------------------------------------------------------- */

static tc_verdict threshold(const card *c)
{
	tc_verdict at_least = c->ground.options.at_least;
	if (!c->ground.options.at_least_said)
		tc_settings_at_least(c->item.settings, &at_least);
	return at_least;
}

static void add_plan(card *c, const tc_plan *plan)
{
	const tc_judgement *judgement = plan->timed ? plan->timed : plan->written;
	if (judgement->bounded)
		c->unread = true;
	c->found = c->found || plan->table->state != TC_TABLE_FOUND || tc_judgement_weighs(judgement, threshold(c));
	if (!tc_card_out_add(c->out, c->item.path, plan))
		c->broken = true;
}

/* Errors of the wish would come again for each recipe: they end the run. */
static bool is_of_the_wish(const card *c)
{
	for (size_t i = 0; i < tc_diags_count(c->diags); i++)
		if (tc_diags_at(c->diags, i)->severity == TC_ERROR && !tc_diags_at(c->diags, i)->place.file)
			return true;
	return false;
}

static tc_status take_recipe(void *user, const tc_recipe *recipe)
{
	card *c = user;
	const tc_plan *plan = NULL;
	const size_t errors = tc_diags_errors(c->diags);
	c->recipes++;
	tc_settings_check(c->item.settings, recipe, c->diags);
	if (tc_diags_errors(c->diags) > errors || c->broken)
		return TC_OK;
	const tc_status status = tc_plan_make(c->worker, c->arena, recipe, &c->wish, c->today, c->diags, &plan);
	if (status == TC_NO_MEMORY)
		return status;
	if (status == TC_BAD)
		c->broken = is_of_the_wish(c);
	else
		add_plan(c, plan);
	return TC_OK;
}

/* --- a file ------------------------------------------------------------------------------------------------------- */

/* Says what was wrong with a file; errors make it count as unread. */
static void tell(card *c, tc_diags *diags, const char *file)
{
	const char *why = NULL;
	tc_diags_sort(diags);
	tc_complain_diags(diags);
	for (size_t i = 0; i < tc_diags_count(diags) && !why; i++)
		if (tc_diags_at(diags, i)->severity == TC_ERROR)
			why = tc_diags_at(diags, i)->message;
	if (!why)
		return;
	c->unread = true;
	if (!tc_card_out_unread(c->out, file, why))
		c->broken = true;
}

static void read_file(card *c)
{
	const tc_settings *settings = c->item.settings;
	const tc_reader reader = {.read = tc_file_beside, .common = settings ? settings->common : NULL};
	tc_recipe_file file = {
	    .name = c->item.path, .named = c->item.named, .reader = &reader, .take = take_recipe, .user = c};
	uint32_t recipes = 0;
	tc_arena_reset(c->arena);
	c->diags = tc_diags_new(c->arena);
	if (!c->diags) {
		take(c, TC_NO_MEMORY);
		return;
	}
	tc_status status = tc_file_read(c->arena, file.name, c->diags, &file.bytes, &file.length);
	if (status == TC_OK)
		status = tc_recipes_read(c->arena, c->ground.book.rulebook, c->worker, &file, c->diags, &recipes);
	c->recipes += recipes > 0 || tc_diags_errors(c->diags) > 0;
	take(c, status);
	if (!c->broken || tc_diags_errors(c->diags))
		tell(c, c->diags, file.name);
}

/* --- the run ------------------------------------------------------------------------------------------------------ */

static void walk(card *c)
{
	while (!c->broken && !tc_interrupted()) {
		switch (tc_walk_next(c->walk, &c->item)) {
		case TC_WALK_FILE:
			read_file(c);
			break;
		case TC_WALK_TROUBLE:
			tell(c, c->item.diags, c->item.path);
			break;
		case TC_WALK_NO_MEMORY:
			take(c, TC_NO_MEMORY);
			return;
		case TC_WALK_END:
			if (c->recipes == 0 && !c->unread) {
				tc_complain("no recipe in %s", c->given->operand[0]);
				c->unread = true;
			}
			return;
		}
	}
}

static bool is_folder(const char *path)
{
	struct stat info;
	return stat(path, &info) == 0 && S_ISDIR(info.st_mode);
}

static bool start(card *c)
{
	const tc_walk_ask ask = {.paths = (const char *const *)c->given->operand,
	    .count = (uint32_t)c->given->operands,
	    .settings = c->ground.settings};
	c->worker = tc_worker_new(c->ground.book.rulebook, NULL);
	c->arena = tc_arena_new(NULL, 0);
	c->walk = tc_walk_new(&ask);
	if (!c->worker || !c->arena || !c->walk) {
		tc_complain_memory();
		return false;
	}
	const bool several = c->given->operands > 1 || is_folder(c->given->operand[0]);
	c->out = tc_card_out_open(c->given, several, c->now);
	if (!c->out)
		return false;
	walk(c);
	return tc_card_out_close(c->out, !c->broken && !tc_interrupted());
}

int tc_run_card(const tc_options *options)
{
	card c = {.given = options};
	if (options->operands == 0) {
		tc_complain(
		    "`card` needs a file with a recipe, such as `tiecoat card boat.yaml`; see `tiecoat card --help`");
		return TC_EXIT_TROUBLE;
	}
	tc_signals_catch();
	if (!read_clock(&c) || !read_wish(&c) || !tc_ground_open(&c.ground, options, options->operand[0]))
		return TC_EXIT_TROUBLE;
	const bool good = start(&c);
	tc_walk_free(c.walk);
	tc_worker_free(c.worker);
	tc_arena_free(c.arena);
	tc_ground_close(&c.ground);
	if (!good || c.broken || c.unread || tc_interrupted())
		return TC_EXIT_TROUBLE;
	return c.found ? TC_EXIT_FOUND : TC_EXIT_SOUND;
}
