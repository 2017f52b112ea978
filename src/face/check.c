/* `tiecoat check`: each file's recipes judged and reported. */
#include <signal.h>
#include <string.h>

#include "face/book.h"
#include "face/commands.h"
#include "face/complain.h"
#include "face/files.h"
#include "face/sheet.h"

/* Set by a signal: what was begun is closed and said to be incomplete. */
static volatile sig_atomic_t interrupted;

static void interrupt(int number)
{
	(void)number;
	interrupted = 1;
}

static void catch_signals(void)
{
	struct sigaction action = {.sa_flags = SA_RESETHAND}; /* the second one ends the process */
	action.sa_handler = interrupt;
	sigemptyset(&action.sa_mask);
	sigaction(SIGINT, &action, NULL);
	sigaction(SIGTERM, &action, NULL);
}

typedef struct check {
	const tc_options *options;
	tc_book book;
	tc_worker *worker;
	tc_rule_names names;
	tc_report *report;
	tc_output *output;
	tc_buffer text;
	tc_arena *arena;   /* of the whole run: paths */
	tc_arena *recipes; /* of the file at hand */
	tc_inputs inputs;
	const char *const *paths;
	uint32_t path_count;
	bool *fruitful;     /* of each path: it led to a recipe, or to a message */
	uint32_t unread;    /* files with errors */
	bool found, broken; /* a finding that counts; out of memory or output failed */
} check;

static void flush(check *c)
{
	if (!tc_output_write(c->output, &c->text))
		c->broken = true;
}

static void take(check *c, tc_status status)
{
	if (status == TC_NO_MEMORY && !c->broken) {
		tc_complain_memory();
		c->broken = true;
	}
}

/* --- a recipe ---------------------------------------------------------------------------------------------------- */

/* Does the judgement hold anything of the weight that was asked for? */
static bool weighs(const tc_judgement *judgement, tc_verdict at_least)
{
	for (uint32_t i = 0; i < judgement->findings; i++)
		if (!judgement->finding[i].accept && judgement->finding[i].weight >= at_least)
			return true;
	return judgement->unused > 0 && at_least <= TC_V_WARNING;
}

static void judge(check *c, const char *path, const tc_recipe *recipe)
{
	const tc_judgement *judgement;
	const tc_status status = tc_judge(c->worker, c->recipes, recipe, &judgement);
	take(c, status);
	if (status != TC_OK)
		return;
	c->unread += judgement->bounded;
	c->found = c->found || weighs(judgement, c->options->at_least);
	take(c, tc_report_recipe(c->report, path, judgement));
	flush(c);
}

static void report_diags(check *c, const char *path, tc_diags *diags)
{
	if (tc_diags_count(diags) == 0)
		return;
	tc_diags_sort(diags);
	c->unread += tc_diags_errors(diags) > 0;
	take(c, tc_report_unreadable(c->report, path, diags));
	flush(c);
}

/* --- a file ------------------------------------------------------------------------------------------------------ */

typedef struct reading {
	check *check;
	const tc_input *input;
	const tc_source *source;
	tc_diags *diags;
	uint32_t recipes; /* documents that are recipes, good or bad */
} reading;

static void read_recipe(reading *r, const tc_node *root)
{
	check *c = r->check;
	const tc_reader reader = {.read = tc_file_beside};
	const tc_recipe *recipe = NULL;
	const size_t errors = tc_diags_errors(r->diags);
	const tc_status status = tc_recipe_read(c->recipes, tc_rulebook_library(c->book.rulebook),
	    tc_worker_finder(c->worker), &c->names, &reader, r->source, root, false, r->diags, &recipe);
	take(c, status);
	if (status == TC_OK && tc_diags_errors(r->diags) == errors)
		judge(c, r->input->path, recipe);
}

static void read_documents(reading *r, const tc_document *documents, size_t count)
{
	for (size_t i = 0; i < count && !r->check->broken; i++) {
		if (!tc_is_recipe(&documents[i]))
			continue;
		r->recipes++;
		read_recipe(r, documents[i].root);
	}
	if (r->recipes == 0 && r->input->named)
		tc_diag_add(r->diags, TC_ERROR, "no-recipe", (tc_place){.file = r->input->path},
		    "no recipe in this file: none of its documents has the key `recipe`");
}

static void read_file(reading *r)
{
	check *c = r->check;
	const char *bytes;
	size_t length, count = 0;
	tc_source *source = NULL;
	const tc_document *documents = NULL;
	tc_status status = tc_file_read(c->recipes, r->input->path, r->diags, &bytes, &length);
	if (status == TC_OK)
		status = tc_source_new(c->recipes, r->input->path, bytes, length, r->diags, &source);
	if (status == TC_OK)
		status = tc_yaml_read(c->recipes, source, r->diags, &documents, &count);
	take(c, status);
	r->source = source;
	if (status == TC_OK)
		read_documents(r, documents, count);
}

static void check_file(check *c, const tc_input *input)
{
	tc_arena_reset(c->recipes);
	reading r = {.check = c, .input = input, .diags = tc_diags_new(c->recipes)};
	if (!r.diags) {
		take(c, TC_NO_MEMORY);
		return;
	}
	read_file(&r);
	report_diags(c, input->path, r.diags);
	if (r.recipes > 0 || tc_diags_errors(r.diags) > 0)
		c->fruitful[input->operand] = true;
}

/* --- a run ------------------------------------------------------------------------------------------------------- */

static bool start(check *c)
{
	tc_report_options style;
	tc_style_of(c->options, c->output, &style);
	tc_buffer_start(&c->text, NULL);
	c->arena = tc_arena_new(NULL, 0);
	c->recipes = tc_arena_new(NULL, 1u << 20);
	c->worker = tc_worker_new(c->book.rulebook, NULL);
	c->report = tc_report_new(&style, c->book.rulebook, NULL, &c->text);
	c->fruitful = c->arena ? TC_ARRAY(c->arena, c->path_count, bool) : NULL;
	if (!c->recipes || !c->worker || !c->report || !c->fruitful) {
		take(c, TC_NO_MEMORY);
		return false;
	}
	c->names = tc_rulebook_names(c->book.rulebook);
	return true;
}

/* Looks for the files; what cannot be looked at is reported first. */
static void find_files(check *c)
{
	tc_diags *diags = tc_diags_new(c->arena);
	take(
	    c, diags ? tc_files_find(c->arena, c->paths, c->path_count, diags, c->fruitful, &c->inputs) : TC_NO_MEMORY);
	for (size_t i = 0; diags && i < tc_diags_count(diags); i++) /* one file each */
		c->unread += i > 0;
	if (diags)
		report_diags(c, NULL, diags);
}

static void report_barren(check *c)
{
	for (uint32_t i = 0; i < c->path_count && !c->broken; i++) {
		tc_diags *diags = c->fruitful[i] ? NULL : tc_diags_new(c->arena);
		if (!diags)
			continue;
		tc_diag_add(diags, TC_ERROR, "no-recipe", (tc_place){.file = c->paths[i]}, "no recipe in this folder");
		report_diags(c, c->paths[i], diags);
	}
}

static void run(check *c)
{
	find_files(c);
	for (uint32_t i = 0; i < c->inputs.count && !c->broken && !interrupted; i++)
		check_file(c, &c->inputs.at[i]);
	if (!interrupted)
		report_barren(c);
	take(c, tc_report_end(c->report, !interrupted));
	if (!c->broken)
		flush(c);
	if (c->unread > 0 && !c->broken && (c->options->output || c->options->format == TC_FORMAT_JSON))
		tc_complain("%u %s could not be read", (unsigned)c->unread, c->unread == 1 ? "file" : "files");
}

static void finish(check *c)
{
	if (!tc_output_close(c->output, !c->broken))
		c->broken = true;
	tc_report_free(c->report);
	tc_worker_free(c->worker);
	tc_arena_free(c->recipes);
	tc_arena_free(c->arena);
	tc_buffer_free(&c->text);
}

int tc_run_check(const tc_options *options)
{
	static const char *const here[] = {"."};
	check c = {.options = options, .paths = options->operands ? (const char *const *)options->operand : here};
	c.path_count = options->operands ? (uint32_t)options->operands : 1;
	if (!tc_book_open(options, false, &c.book))
		return TC_EXIT_TROUBLE;
	c.output = tc_output_open(options->output);
	if (!c.output) {
		tc_book_close(&c.book);
		return TC_EXIT_TROUBLE;
	}
	catch_signals();
	if (start(&c))
		run(&c);
	finish(&c);
	tc_book_close(&c.book);
	return c.broken || c.unread || interrupted ? TC_EXIT_TROUBLE : c.found ? TC_EXIT_FOUND : TC_EXIT_SOUND;
}
