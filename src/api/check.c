/* Workers, and checking a file of recipes. */
#include "api/private.h"
#include "api/recipes.h"
#include "report/report.h"

#define FIRST_BLOCK ((size_t)256 << 10) /* an ordinary recipe and all that is found in it */

struct tiecoat_result {
	tiecoat_rulebook *rulebook;
	tc_arena *arena; /* holds the result itself, too */
	tc_diags *diags;
	const char *name;
	uint32_t recipes, room;
	const tc_judgement **judgement;
	const tiecoat_recipe **recipe;
	tc_messages messages;
	bool unread;
	tc_buffer json;
	bool written;
};

/* --- workers ------------------------------------------------------------------------------------------------------ */

tiecoat_status tiecoat_worker_new(tiecoat_rulebook *rulebook, tiecoat_worker **worker)
{
	if (!worker)
		return TIECOAT_MISUSE;
	*worker = NULL;
	if (!rulebook || !rulebook->rulebook)
		return TIECOAT_MISUSE;
	tiecoat_worker *made = rulebook->from.get(rulebook->from.user, NULL, sizeof *made);
	if (!made)
		return TIECOAT_NO_MEMORY;
	*made = (tiecoat_worker){.rulebook = rulebook, .worker = tc_worker_new(rulebook->rulebook, &rulebook->from)};
	if (!made->worker) {
		rulebook->from.get(rulebook->from.user, made, 0);
		return TIECOAT_NO_MEMORY;
	}
	tc_rulebook_hold(rulebook);
	*worker = made;
	return TIECOAT_OK;
}

void tiecoat_worker_free(tiecoat_worker *worker)
{
	if (!worker)
		return;
	tiecoat_rulebook *rulebook = worker->rulebook;
	tc_worker_free(worker->worker);
	rulebook->from.get(rulebook->from.user, worker, 0);
	tc_rulebook_let_go(rulebook);
}

/* --- a file ------------------------------------------------------------------------------------------------------- */

typedef struct checking {
	tiecoat_worker *worker;
	tiecoat_result *result;
} checking;

static tc_status judge(void *user, const tc_recipe *recipe)
{
	checking *c = user;
	tiecoat_result *r = c->result;
	const tc_judgement *judgement = NULL;
	if (tc_judge(c->worker->worker, r->arena, recipe, &judgement) != TC_OK)
		return TC_NO_MEMORY;
	uint32_t room = r->room;
	if (!tc_arena_grow(r->arena, (void **)&r->judgement, r->recipes, &room, sizeof *r->judgement) ||
	    !tc_arena_grow(r->arena, (void **)&r->recipe, r->recipes, &r->room, sizeof *r->recipe))
		return TC_NO_MEMORY;
	r->judgement[r->recipes] = judgement;
	r->recipe[r->recipes] = tc_show_recipe(r->arena, judgement);
	r->recipes++;
	r->unread = r->unread || judgement->bounded;
	return tc_arena_failed(r->arena) ? TC_NO_MEMORY : TC_OK;
}

static tiecoat_result *new_result(tiecoat_worker *worker, const char *name)
{
	tc_arena *arena = tc_arena_new(&worker->rulebook->from, FIRST_BLOCK);
	tiecoat_result *result = arena ? TC_NEW(arena, tiecoat_result) : NULL;
	if (!result) {
		tc_arena_free(arena);
		return NULL;
	}
	*result = (tiecoat_result){.rulebook = worker->rulebook,
	    .arena = arena,
	    .diags = tc_diags_new(arena),
	    .name = tc_intake_text(arena, name)};
	tc_buffer_start(&result->json, &worker->rulebook->from);
	tc_rulebook_hold(worker->rulebook);
	return result;
}

static tc_status check(checking *c, const char *bytes, size_t length, const tiecoat_beside *beside)
{
	tiecoat_result *r = c->result;
	tiecoat_beside caller = beside ? *beside : (tiecoat_beside){0};
	const tc_reader reader = {.read = tc_intake_beside, .user = &caller};
	const char *taken = tc_intake_bytes(r->arena, bytes, &length);
	if (tc_arena_failed(r->arena))
		return TC_NO_MEMORY;
	const tc_recipe_file file = {.name = r->name,
	    .bytes = taken,
	    .length = length,
	    .named = true,
	    .reader = beside ? &reader : NULL,
	    .take = judge,
	    .user = c};
	uint32_t recipes;
	const tc_status status =
	    tc_recipes_read(r->arena, r->rulebook->rulebook, c->worker->worker, &file, r->diags, &recipes);
	r->unread = r->unread || tc_diags_errors(r->diags) > 0;
	tc_show_messages(r->arena, r->diags, &r->messages);
	return tc_arena_failed(r->arena) ? TC_NO_MEMORY : status;
}

tiecoat_status tiecoat_check(tiecoat_worker *worker, const char *name, const char *bytes, size_t length,
    const tiecoat_beside *beside, tiecoat_result **result)
{
	if (!result)
		return TIECOAT_MISUSE;
	*result = NULL;
	if (!worker || !name || (!bytes && length) || (beside && !beside->read))
		return TIECOAT_MISUSE;
	checking c = {.worker = worker, .result = new_result(worker, name)};
	if (!c.result || check(&c, bytes, length, beside) != TC_OK) {
		tiecoat_result_free(c.result);
		return TIECOAT_NO_MEMORY;
	}
	*result = c.result;
	return c.result->unread ? TIECOAT_BAD : TIECOAT_OK;
}

void tiecoat_result_free(tiecoat_result *result)
{
	if (!result)
		return;
	tiecoat_rulebook *rulebook = result->rulebook;
	tc_buffer_free(&result->json);
	tc_arena_free(result->arena);
	tc_rulebook_let_go(rulebook);
}

/* --- looking ------------------------------------------------------------------------------------------------------ */

tiecoat_outcome tiecoat_result_outcome(const tiecoat_result *result, tiecoat_verdict at_least)
{
	if (!result || result->unread)
		return TIECOAT_NOT_READ;
	for (uint32_t i = 0; i < result->recipes; i++)
		if (tc_judgement_weighs(result->judgement[i], (tc_verdict)at_least))
			return TIECOAT_FOUND;
	return TIECOAT_NOTHING_FOUND;
}

size_t tiecoat_result_recipes(const tiecoat_result *result)
{
	return result ? result->recipes : 0;
}

const tiecoat_recipe *tiecoat_result_recipe(const tiecoat_result *result, size_t index)
{
	return index < tiecoat_result_recipes(result) ? result->recipe[index] : NULL;
}

size_t tiecoat_result_messages(const tiecoat_result *result)
{
	return result ? result->messages.count : 0;
}

const tiecoat_message *tiecoat_result_message(const tiecoat_result *result, size_t index)
{
	return index < tiecoat_result_messages(result) ? result->messages.at[index] : NULL;
}

/* --- JSON --------------------------------------------------------------------------------------------------------- */

static tc_status write_json(tiecoat_result *r)
{
	const tc_report_options options = {.format = TC_FORMAT_JSON};
	r->json.length = 0;
	tc_report *report = tc_report_new(&options, r->rulebook->rulebook, &r->rulebook->from, &r->json);
	tc_status status = report ? TC_OK : TC_NO_MEMORY;
	for (uint32_t i = 0; status == TC_OK && i < r->recipes; i++)
		status = tc_report_recipe(report, r->name, r->judgement[i]);
	if (status == TC_OK && tc_diags_count(r->diags) > 0)
		status = tc_report_unreadable(report, r->name, r->diags);
	if (status == TC_OK)
		status = tc_report_end(report, true);
	tc_report_free(report);
	return r->json.failed ? TC_NO_MEMORY : status;
}

tiecoat_status tiecoat_result_json(tiecoat_result *result, const char **json, size_t *length)
{
	if (!json)
		return TIECOAT_MISUSE;
	*json = NULL;
	if (!result)
		return TIECOAT_MISUSE;
	if (!result->written && write_json(result) != TC_OK) {
		tc_buffer_free(&result->json);
		tc_buffer_start(&result->json, &result->rulebook->from);
		return TIECOAT_NO_MEMORY;
	}
	result->written = true;
	*json = result->json.at;
	if (length)
		*length = result->json.length;
	return TIECOAT_OK;
}
