/* `tiecoat versus`: what the new version of a file of recipes changes: findings, film, time, cost. */
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "face/commands.h"
#include "face/complain.h"
#include "face/files.h"
#include "face/ground.h"
#include "face/sheet.h"
#include "face/spend.h"
#include "report/fingerprint.h"
#include "report/words.h"

#define TEXT_AT 10u /* column of what stands behind a word of change */

/* One version of the file. */
typedef struct side {
	const char *path;
	uint32_t count, room;
	const tc_judgement **judgement; /* of each recipe */
} side;

typedef struct versus {
	const tc_options *options;
	tc_ground ground;
	tc_worker *worker;
	tc_rule_names names;
	tc_arena *arena;
	tc_diags *diags;
	tc_sheet sheet;
	tc_page *page;
	tc_buffer text;
	side old, new;
	tc_verdict at_least;
	bool worse, failed;
} versus;

static void put_row(versus *v, size_t indent, const char *lead, size_t hang)
{
	tc_page_item(v->page, indent, TC_INK_PLAIN, lead, hang, tc_words_text(&v->text));
	v->text.length = 0;
}

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

static void read_recipe(versus *v, side *s, const tc_settings *settings, const tc_source *source, const tc_node *root)
{
	const tc_reader reader = {.read = read_beside, .user = v, .common = settings ? settings->common : NULL};
	const tc_recipe *recipe = NULL;
	const tc_judgement *judgement = NULL;
	tc_status status = tc_recipe_read(v->arena, tc_rulebook_library(v->ground.book.rulebook),
	    tc_worker_finder(v->worker), &v->names, &reader, source, root, false, v->diags, &recipe);
	if (status == TC_OK)
		status = tc_judge(v->worker, v->arena, recipe, &judgement);
	if (status == TC_OK && judgement->bounded)
		tc_diag_add(v->diags, TC_ERROR, "bound", recipe->place,
		    "the recipe's bound on evaluation was hit: nothing can be said of it");
	if (status == TC_OK &&
	    tc_arena_grow(v->arena, (void **)&s->judgement, s->count, &s->room, sizeof *s->judgement))
		s->judgement[s->count++] = judgement;
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

/* --- findings ---------------------------------------------------------------------------------------------------- */

/* A finding, or an acceptance that accepts nothing, as it is compared. */
typedef struct item {
	char name[TC_FINGERPRINT_SIZE];
	const tc_finding *finding; /* NULL: an unused acceptance */
	const tc_accept *unused;
	bool met;
} item;

/* Names hold the recipe's title: the old one's findings are named as if it were called like the new one. */
static uint32_t list_items(versus *v, const tc_judgement *judgement, const char *title, item **items)
{
	tc_recipe recipe = *judgement->model->recipe;
	tc_model model = *judgement->model;
	tc_judgement renamed = *judgement;
	uint32_t count = 0;
	recipe.title = title;
	model.recipe = &recipe;
	renamed.model = &model;
	*items = TC_ARRAY(v->arena, judgement->findings + judgement->unused, item);
	if (!*items)
		return 0;
	for (uint32_t i = 0; i < judgement->findings; i++, count++) {
		(*items)[count].finding = &judgement->finding[i];
		tc_fingerprint(&renamed, &judgement->finding[i], (*items)[count].name);
	}
	for (uint32_t i = 0; i < judgement->unused; i++, count++) {
		(*items)[count].unused = judgement->unused_accept[i];
		tc_fingerprint_unused(&renamed, judgement->unused_accept[i], (*items)[count].name);
	}
	return count;
}

static tc_verdict weight_of(const item *i)
{
	return i->finding ? i->finding->weight : TC_V_WARNING;
}

static const char *word_of(const item *i)
{
	if (!i->finding)
		return tc_verdict_name(TC_V_WARNING);
	return i->finding->accept ? "accepted" : tc_verdict_name(i->finding->verdict);
}

/* `was`: the word for it before, where that has changed. */
static void add_item(versus *v, const char *change, const tc_judgement *judgement, const item *i, const char *was)
{
	const tc_ink ink = strcmp(change, "gone") == 0 ? TC_INK_FAINT : TC_INK_WARNING;
	if (was)
		tc_buffer_print(&v->text, ", was %s", was);
	if (i->finding) {
		const tc_finding *f = i->finding;
		tc_buffer_print(&v->text, ": %s (", f->message);
		tc_words_parts(judgement->model, f->part == TC_NONE ? 0 : UINT64_C(1) << f->part, &v->text);
		tc_buffer_print(&v->text, "; line %u) [%s]", (unsigned)f->place.line, f->rule->id);
	} else {
		tc_buffer_print(&v->text, ": the acceptance of %s accepts nothing (line %u)", i->unused->name,
		    (unsigned)i->unused->place.line);
	}
	tc_page_blanks(v->page, 2);
	tc_page_cell(v->page, TC_INK_STRONG, change, TEXT_AT - 2, false);
	const size_t at = TEXT_AT + tc_page_put(v->page, ink, word_of(i));
	tc_page_wrap(v->page, TC_INK_PLAIN, tc_words_text(&v->text), at, TEXT_AT);
	v->text.length = 0;
}

static item *find_item(item *items, uint32_t count, const char *name)
{
	for (uint32_t i = 0; i < count; i++)
		if (!items[i].met && strcmp(items[i].name, name) == 0)
			return &items[i];
	return NULL;
}

static bool counts(const versus *v, const item *i)
{
	return !(i->finding && i->finding->accept) && weight_of(i) >= v->at_least;
}

static bool same_state(const item *a, const item *b)
{
	return strcmp(word_of(a), word_of(b)) == 0 && weight_of(a) == weight_of(b);
}

/* One of the new version, with what it was before, if it was. */
static void compare_item(versus *v, const tc_judgement *judgement, const item *is, const item *was)
{
	if (was && same_state(was, is))
		return;
	add_item(v, was ? "changed" : "new", judgement, is, was ? word_of(was) : NULL);
	v->worse = v->worse || (counts(v, is) && !(was && counts(v, was)));
}

static void compare_findings(versus *v, const tc_judgement *old, const tc_judgement *new)
{
	item *was, *is;
	const char *title = new->model->recipe->title;
	const uint32_t were = list_items(v, old, title, &was), are = list_items(v, new, title, &is);
	uint32_t same = 0;
	if (!was || !is) {
		v->failed = true;
		return;
	}
	tc_page_heading(v->page, "Findings");
	for (uint32_t i = 0; i < are; i++) {
		item *before = find_item(was, were, is[i].name);
		if (before)
			before->met = true;
		same += before && same_state(before, &is[i]);
		compare_item(v, new, &is[i], before);
	}
	for (uint32_t i = 0; i < were; i++)
		if (!was[i].met)
			add_item(v, "gone", old, &was[i], NULL);
	if (same)
		tc_words_count(same, "is as it was", "are as they were", &v->text);
	else
		tc_buffer_puts(&v->text, were + are ? "none is as it was" : "none, now as before");
	put_row(v, 2, "", 2);
}

/* --- figures ----------------------------------------------------------------------------------------------------- */

/* Dry film of all layers of a part at the end. False: of one it is not known. */
static bool film_of(const tc_model *model, const tc_part *part, double *film)
{
	*film = 0;
	for (uint32_t i = 0; i < part->layers; i++) {
		const tc_value one = tc_layer_film(part->layer[i], model->end);
		if (part->layer[i]->spot || part->layer[i]->old)
			continue;
		if (!tc_known(one))
			return false;
		*film += one.number;
	}
	return true;
}

static const tc_part *find_part(const tc_model *model, const char *name)
{
	for (uint32_t i = 0; i < model->parts; i++)
		if (strcmp(model->part[i].written->name, name) == 0)
			return &model->part[i];
	return NULL;
}

static void add_film(versus *v, const tc_model *model, const tc_part *part)
{
	double film;
	if (!part)
		tc_buffer_puts(&v->text, "no such part");
	else if (film_of(model, part, &film))
		tc_quantity_print(&v->text, TC_T_NUMBER, TC_DIM_LENGTH, film, 3, NULL);
	else
		tc_buffer_puts(&v->text, "not known");
}

static void compare_part(versus *v, const tc_model *old, const tc_model *new, const char *name)
{
	const tc_part *was = find_part(old, name), *is = find_part(new, name);
	double before = 0, after = 0;
	add_film(v, old, was);
	tc_buffer_puts(&v->text, " → ");
	add_film(v, new, is);
	if (was && is && film_of(old, was, &before) && film_of(new, is, &after) && tc_compare(before, after) == 0)
		tc_buffer_puts(&v->text, ", unchanged");
	if (was && is && was->layers != is->layers)
		tc_buffer_print(&v->text, " (layers: %u → %u)", (unsigned)was->layers, (unsigned)is->layers);
	put_row(v, 2, name, 18);
}

static void compare_films(versus *v, const tc_model *old, const tc_model *new)
{
	tc_page_heading(v->page, "Dry film of each part, without fillers, glue, decals and old finishes");
	for (uint32_t i = 0; i < new->parts; i++)
		compare_part(v, old, new, new->part[i].written->name);
	for (uint32_t i = 0; i < old->parts; i++)
		if (!find_part(new, old->part[i].written->name))
			compare_part(v, old, new, old->part[i].written->name);
}

static void add_cost(versus *v, const tc_spend *spend)
{
	if (!spend->priced)
		tc_buffer_puts(&v->text, "no prices");
	else if (spend->lacks)
		tc_buffer_print(&v->text, "not known (how much of %s is used)", spend->lacks);
	else
		tc_buffer_print(&v->text, "%.2f", spend->cost);
}

static void compare_figures(versus *v, const tc_model *old, const tc_model *new)
{
	tc_spend was, is;
	tc_page_heading(v->page, "The whole");
	tc_duration_print(&v->text, old->end);
	tc_buffer_puts(&v->text, " → ");
	tc_duration_print(&v->text, new->end);
	if (tc_compare(old->end, new->end) == 0)
		tc_buffer_puts(&v->text, ", unchanged");
	put_row(v, 2, "time", 18);
	tc_buffer_print(&v->text, "%u → %u", (unsigned)old->steps, (unsigned)new->steps);
	put_row(v, 2, "steps", 18);
	tc_spend_of(old, &was);
	tc_spend_of(new, &is);
	if (!was.priced && !is.priced)
		return;
	add_cost(v, &was);
	tc_buffer_puts(&v->text, " → ");
	add_cost(v, &is);
	tc_buffer_puts(&v->text, ", paint and thinner that have a price, by what is used of a pack");
	put_row(v, 2, "cost", 18);
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

static void compare(versus *v, const tc_judgement *old, const tc_judgement *new)
{
	if (strcmp(title_of(old), title_of(new)) != 0)
		tc_buffer_print(&v->text, "%s → ", title_of(old));
	tc_buffer_puts(&v->text, title_of(new));
	tc_sheet_title(&v->sheet, tc_words_text(&v->text));
	v->text.length = 0;
	compare_findings(v, old, new);
	compare_films(v, old->model, new->model);
	compare_figures(v, old->model, new->model);
}

static bool has_weight(const versus *v, const tc_judgement *judgement)
{
	for (uint32_t i = 0; i < judgement->findings; i++)
		if (!judgement->finding[i].accept && judgement->finding[i].weight >= v->at_least)
			return true;
	return judgement->unused > 0 && v->at_least <= TC_V_WARNING;
}

/* A recipe that has no other version. */
static void add_single(versus *v, const tc_judgement *judgement, bool is_new)
{
	tc_buffer_print(&v->text, "%s: %s recipe; ", title_of(judgement), is_new ? "a new" : "no longer a");
	tc_words_summary(&judgement->summary, v->at_least, 0, true, &v->text);
	tc_sheet_title(&v->sheet, tc_words_text(&v->text));
	v->text.length = 0;
	v->worse = v->worse || (is_new && has_weight(v, judgement));
}

static void compare_all(versus *v)
{
	bool *met = TC_ARRAY(v->arena, v->old.count, bool);
	v->failed = v->failed || !met;
	for (uint32_t i = 0; met && i < v->new.count; i++) {
		const tc_judgement *new = v->new.judgement[i], *old = old_of(v, new);
		for (uint32_t k = 0; old && k < v->old.count; k++)
			met[k] = met[k] || v->old.judgement[k] == old;
		if (old)
			compare(v, old, new);
		else
			add_single(v, new, true);
	}
	for (uint32_t i = 0; met && i < v->old.count; i++)
		if (!met[i])
			add_single(v, v->old.judgement[i], false);
}

/* --- the whole --------------------------------------------------------------------------------------------------- */

static bool start(versus *v)
{
	v->arena = tc_arena_new(NULL, 0);
	v->diags = v->arena ? tc_diags_new(v->arena) : NULL;
	v->worker = tc_worker_new(v->ground.book.rulebook, NULL);
	v->names = tc_rulebook_names(v->ground.book.rulebook);
	v->at_least = v->ground.options.at_least;
	tc_buffer_start(&v->text, NULL);
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

static int run(versus *v)
{
	if (!start(v) || !read_both(v) || !tc_sheet_open(v->options, &v->sheet))
		return TC_EXIT_TROUBLE;
	v->page = &v->sheet.page;
	compare_all(v);
	v->page->work.failed = v->page->work.failed || v->failed || v->text.failed;
	return tc_sheet_close(&v->sheet, v->worse ? TC_EXIT_FOUND : TC_EXIT_SOUND);
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
	tc_buffer_free(&v.text);
	tc_worker_free(v.worker);
	tc_arena_free(v.arena);
	tc_ground_close(&v.ground);
	return status;
}
