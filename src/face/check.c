/* `tiecoat check`: each file's recipes judged and reported, in the order of the files, by several threads. */
#include <stdlib.h>
#include <string.h>

#include "face/commands.h"
#include "face/complain.h"
#include "face/examine.h"
#include "face/ground.h"
#include "face/jobs.h"
#include "face/progress.h"
#include "face/sheet.h"
#include "face/signals.h"
#include "face/spill.h"
#include "face/walk.h"

#define FILES_A_THREAD 32u       /* under way at once */
#define FLUSH ((size_t)32 << 10) /* bytes of the report that are gathered before they are written */

typedef struct job {
	tc_examined file;
	uint32_t operand;
	bool settled; /* the walk's own trouble: there is nothing to be read */
} job;

typedef struct check {
	const tc_options *given;
	tc_ground ground;
	tc_globs *include, *exclude;
	tc_walk_ask ask;
	tc_walk *walk;
	tc_ledger *ledger;
	tc_output *output, *ledger_output;
	tc_report *report, *trouble; /* a share for what the walk cannot look at */
	tc_buffer text, lines;
	tc_spill spill;
	tc_examine_plan plan;
	tc_progress progress;
	job *jobs;
	void **job_at;
	size_t room;
	bool *fruitful; /* of each path: it led to a recipe, or to a message */
	uint32_t files, unread;
	bool terminal, found, broken; /* a finding that counts; out of memory or output failed */
	bool walked;                  /* to the end */
} check;

static void take(check *c, tc_status status)
{
	if (status == TC_NO_MEMORY && !c->broken) {
		tc_progress_end(&c->progress);
		tc_complain_memory();
		c->broken = true;
	}
}

static void flush(check *c)
{
	if (!c->broken && !tc_output_write(c->output, &c->text))
		c->broken = true;
	if (!c->broken && c->ledger_output && !tc_output_write(c->ledger_output, &c->lines))
		c->broken = true;
}

static bool keep(void *user, unsigned list, tc_text text)
{
	check *c = user;
	return tc_spill_keep(&c->spill, list, text);
}

static bool give(void *user, unsigned list, tc_buffer *to)
{
	check *c = user;
	const bool good = tc_spill_give(&c->spill, list, to);
	c->broken = c->broken || !good;
	return good;
}

static void full(void *user)
{
	flush(user);
}

static void report_diags(check *c, const char *path, tc_diags *diags)
{
	if (!diags || tc_diags_count(diags) == 0)
		return;
	tc_diags_sort(diags);
	c->unread += tc_diags_errors(diags) > 0;
	take(c, tc_report_unreadable(c->report, path, diags));
}

/* --- jobs -------------------------------------------------------------------------------------------------------- */

static void set_text(check *c, tc_buffer *to, const char *text)
{
	to->length = 0;
	tc_buffer_puts(to, text);
	if (to->failed)
		take(c, TC_NO_MEMORY);
}

/* Trouble is written at once, into its place among the files. */
static void settle(check *c, job *j, const tc_walk_item *item)
{
	tc_diags_sort(item->diags);
	j->settled = true;
	j->file.recipes = 1; /* something was said of that path: it is not barren */
	j->file.unread = tc_diags_errors(item->diags) > 0;
	j->file.found = j->file.no_memory = false;
	j->file.met.length = j->file.lines.length = 0;
	take(c, tc_report_unreadable(c->trouble, NULL, item->diags));
	take(c, tc_report_hand_over(c->trouble, j->file.piece));
}

static bool next_job(void *user, void *at)
{
	check *c = user;
	job *j = at;
	tc_walk_item item;
	if (c->broken || tc_interrupted())
		return false;
	const tc_walked walked = tc_walk_next(c->walk, &item);
	if (walked == TC_WALK_NO_MEMORY)
		take(c, TC_NO_MEMORY);
	c->walked = walked == TC_WALK_END;
	if (walked == TC_WALK_NO_MEMORY || walked == TC_WALK_END)
		return false;
	j->settled = false;
	j->operand = item.operand;
	j->file.named = item.named;
	j->file.settings = item.settings;
	set_text(c, &j->file.path, item.path);
	set_text(c, &j->file.real, item.real);
	if (walked == TC_WALK_TROUBLE)
		settle(c, j, &item);
	return !c->broken;
}

static void *begin(void *user)
{
	const check *c = user;
	return tc_examiner_new(&c->plan);
}

static void work(void *worker, void *at)
{
	job *j = at;
	if (!j->settled)
		tc_examine(worker, &j->file);
}

static void end(void *user, void *worker)
{
	(void)user;
	tc_examiner_free(worker);
}

static bool take_job(void *user, void *at)
{
	check *c = user;
	const job *j = at;
	const tc_examined *file = &j->file;
	take(c, file->no_memory ? TC_NO_MEMORY : TC_OK);
	if (c->broken)
		return false;
	take(c, tc_report_take_in(c->report, file->piece));
	c->files += !j->settled;
	c->unread += file->unread;
	c->found = c->found || file->found;
	if (file->recipes > 0 || file->unread)
		c->fruitful[j->operand] = true;
	if (c->ledger && !j->settled && !file->unread)
		if (!tc_ledger_met(c->ledger, file->key.at, file->path.at, &file->met))
			take(c, TC_NO_MEMORY);
	if (c->ledger_output && file->lines.length)
		tc_buffer_add(&c->lines, (tc_text){file->lines.at, file->lines.length});
	if (c->lines.failed)
		take(c, TC_NO_MEMORY);
	if (c->terminal || c->text.length >= FLUSH || c->lines.length >= FLUSH)
		flush(c);
	tc_progress_tell(&c->progress, c->files, tc_walk_share(c->walk));
	return !c->broken;
}

/* --- the end of a run -------------------------------------------------------------------------------------------- */

/* Folders that were named and held no recipe: a mistyped path must not look like a sound collection. */
static void report_barren(check *c, tc_arena *arena)
{
	for (uint32_t i = 0; i < c->ask.count && !c->broken; i++) {
		tc_diags *diags = c->fruitful[i] ? NULL : tc_diags_new(arena);
		if (!diags)
			continue;
		tc_diag_add(
		    diags, TC_ERROR, "no-recipe", (tc_place){.file = c->ask.paths[i]}, "no recipe in this folder");
		report_diags(c, c->ask.paths[i], diags);
	}
}

/* Each as a result. */
static void report_absent(check *c)
{
	tc_vanished absent;
	tc_buffer path;
	tc_ledger_walk walk = {0};
	tc_buffer_start(&path, NULL);
	while (!c->broken && tc_ledger_absent(c->ledger, &walk, &path, &absent)) {
		take(c, path.failed ? TC_NO_MEMORY : tc_report_absent(c->report, &absent));
		if (c->text.length >= FLUSH)
			flush(c);
	}
	tc_buffer_free(&path);
}

static void report_gone(check *c, tc_arena *arena)
{
	tc_diags *diags = tc_diags_new(arena);
	if (!diags || !c->ledger || c->broken)
		return;
	if (tc_report_tells_absent(c->report)) {
		report_absent(c);
		return;
	}
	tc_ledger_tell_gone(c->ledger, diags);
	report_diags(c, NULL, diags);
}

static void say_what_is_missing(const check *c)
{
	if (c->broken || c->unread == 0)
		return;
	const bool shown = c->given->format == TC_FORMAT_TEXT || c->given->format == TC_FORMAT_LINE;
	if (c->given->output || !shown || c->ledger_output)
		tc_complain("%u %s could not be read", (unsigned)c->unread, c->unread == 1 ? "file" : "files");
}

static void close_report(check *c)
{
	tc_arena *arena = tc_arena_new(NULL, 0);
	const bool complete = c->walked && !tc_interrupted();
	if (!arena)
		take(c, TC_NO_MEMORY);
	if (arena && complete) {
		report_barren(c, arena);
		report_gone(c, arena);
	}
	if (!c->broken)
		take(c, tc_report_end(c->report, complete));
	flush(c);
	tc_arena_free(arena);
	say_what_is_missing(c);
}

/* --- the beginning ----------------------------------------------------------------------------------------------- */

static tc_globs *read_globs(const char *option, const char *const *given, int count)
{
	tc_globs *globs = tc_globs_new();
	char trouble[160] = "out of memory";
	bool good = globs != NULL;
	for (int i = 0; i < count && good; i++)
		good = tc_globs_add(globs, tc_text_of(given[i]), trouble);
	if (good)
		return globs;
	tc_complain("--%s: %s", option, trouble);
	tc_globs_free(globs);
	return NULL;
}

static bool start_ask(check *c)
{
	static const char *const here[] = {"."};
	const tc_options *o = c->given;
	bool standard = false;
	c->ask = (tc_walk_ask){.paths = (const char *const *)o->operand, .count = (uint32_t)o->operands};
	if (o->operands == 0 && !o->files_from) {
		c->ask.paths = here;
		c->ask.count = 1;
	}
	for (uint32_t i = 0; i < c->ask.count; i++)
		standard = standard || strcmp(c->ask.paths[i], "-") == 0;
	if (standard && o->files_from && strcmp(o->files_from, "-") == 0) {
		tc_complain("standard input can hold a recipe or the list of --files-from, not both");
		return false;
	}
	if (o->write_ledger && !o->ledger) {
		tc_complain("--write-ledger needs --ledger=FILE");
		return false;
	}
	c->include = read_globs("include", o->include, o->include_count);
	c->exclude = c->include ? read_globs("exclude", o->exclude, o->exclude_count) : NULL;
	c->ask.list = o->files_from;
	c->ask.null = o->null;
	c->ask.include = c->include;
	c->ask.exclude = c->exclude;
	return c->exclude != NULL;
}

static bool start_ground(check *c)
{
	const bool good = tc_ground_open(&c->ground, c->given, c->ask.count ? c->ask.paths[0] : ".");
	c->ask.settings = c->ground.settings;
	return good;
}

static bool start_ledger(check *c)
{
	if (!c->given->ledger)
		return true;
	c->ledger = tc_ledger_open(c->given->ledger, c->given->write_ledger);
	if (!c->ledger)
		return false;
	if (!c->given->write_ledger)
		return true;
	c->ledger_output = tc_output_open(c->given->ledger);
	tc_ledger_head(&c->lines);
	return c->ledger_output != NULL;
}

static bool start_jobs(check *c, unsigned threads)
{
	c->room = threads < 2 ? 1 : (size_t)threads * FILES_A_THREAD;
	c->jobs = calloc(c->room, sizeof *c->jobs);
	c->job_at = calloc(c->room, sizeof *c->job_at);
	if (!c->jobs || !c->job_at)
		return false;
	for (size_t i = 0; i < c->room; i++) {
		c->job_at[i] = &c->jobs[i];
		if (!tc_examined_start(&c->jobs[i].file, c->report))
			return false;
	}
	return true;
}

static bool start_report(check *c, unsigned threads)
{
	const tc_store store = {.user = c, .keep = keep, .give = give, .full = full};
	tc_report_options style;
	tc_style_of(&c->ground.options, c->output, &style);
	style.repeats = c->ask.count > 1 || c->ask.list;
	c->terminal = tc_output_is_terminal(c->output);
	tc_progress_start(&c->progress, c->terminal);
	c->report = tc_report_new(&style, c->ground.book.rulebook, NULL, &c->text);
	if (c->report)
		tc_report_store(c->report, &store);
	c->trouble = c->report ? tc_report_share(c->report) : NULL;
	c->walk = tc_walk_new(&c->ask);
	c->fruitful = calloc(c->ask.count + 1, sizeof *c->fruitful);
	if (c->trouble && c->walk && c->fruitful && start_jobs(c, threads)) {
		c->plan = (tc_examine_plan){.rulebook = c->ground.book.rulebook,
		    .report = c->report,
		    .ledger = c->ledger,
		    .brief = c->given->format == TC_FORMAT_LINE,
		    .at_least = c->ground.options.at_least,
		    .at_least_said = c->ground.options.at_least_said};
		return true;
	}
	take(c, TC_NO_MEMORY);
	return false;
}

static void run(check *c, unsigned threads)
{
	const tc_jobs_plan plan = {.user = c,
	    .threads = threads,
	    .job = c->job_at,
	    .jobs = c->room,
	    .next = next_job,
	    .begin = begin,
	    .work = work,
	    .end = end,
	    .take = take_job};
	if (!tc_jobs_run(&plan))
		take(c, TC_NO_MEMORY);
	tc_progress_end(&c->progress);
	close_report(c);
}

/* A ledger is written where everything was read, else it would leave out what is not known. */
static void finish_ledger(check *c)
{
	if (!c->ledger_output)
		return;
	const bool keep = !c->broken && !tc_interrupted() && c->unread == 0;
	const uint32_t known = c->report ? tc_report_summary(c->report).known : 0;
	if (!tc_output_close(c->ledger_output, keep))
		c->broken = true;
	else if (!keep)
		tc_complain("%s was not written", c->given->ledger);
	else
		tc_complain("%u known %s written to %s", (unsigned)known, known == 1 ? "finding" : "findings",
		    c->given->ledger);
}

static void finish(check *c)
{
	/* a file appears whole or not at all */
	const bool cut_short = c->given->output && tc_interrupted();
	if (c->output && !tc_output_close(c->output, !c->broken && !cut_short))
		c->broken = true;
	finish_ledger(c);
	for (size_t i = 0; c->jobs && i < c->room; i++)
		tc_examined_end(&c->jobs[i].file);
	free(c->jobs);
	free(c->job_at);
	free(c->fruitful);
	tc_walk_free(c->walk);
	tc_report_free(c->trouble);
	tc_report_free(c->report);
	tc_ledger_free(c->ledger);
	tc_globs_free(c->include);
	tc_globs_free(c->exclude);
	tc_ground_close(&c->ground);
	tc_buffer_free(&c->text);
	tc_buffer_free(&c->lines);
	tc_spill_end(&c->spill);
}

static int status_of(const check *c)
{
	if (c->broken || c->unread || tc_interrupted())
		return TC_EXIT_TROUBLE;
	return c->found ? TC_EXIT_FOUND : TC_EXIT_SOUND;
}

int tc_run_check(const tc_options *options)
{
	check c = {.given = options, .broken = true};
	const unsigned threads = options->jobs ? options->jobs : tc_jobs_processors();
	tc_buffer_start(&c.text, NULL);
	tc_buffer_start(&c.lines, NULL);
	tc_spill_start(&c.spill);
	tc_signals_catch();
	if (start_ask(&c) && start_ground(&c) && start_ledger(&c) && (c.output = tc_output_open(options->output))) {
		c.broken = false;
		if (start_report(&c, threads))
			run(&c, threads);
	}
	finish(&c);
	return status_of(&c);
}
