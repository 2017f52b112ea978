/* `tiecoat rules --verify`: the rulebook proves itself. Each rule's own examples must break it or hold; over recipes named
 * besides, which rules never fire and which always do; which materials nobody speaks of; where the figures come from.
 * Each remedy that a machine can carry out is carried out on the examples that break its rule: what comes of it must be a
 * recipe, and no other rule may find an error in it that was not there before. */
#include <stdio.h>

#include "face/complain.h"
#include "face/files.h"
#include "face/mend.h"
#include "face/mentions.h"
#include "face/rules.h"
#include "report/fix.h"
#include "report/words.h"

typedef struct verify {
	const tc_book *book;
	const tc_library *library;
	const tc_collection *collection; /* for the text of lets; NULL */
	tc_page *page;
	tc_worker *worker;
	tc_rule_names names;
	tc_arena *arena; /* of the recipe at hand */
	tc_buffer text;
	uint32_t rules, recipes;
	uint32_t *fired; /* of each rule: recipes of the paths in which it fired */
	bool *touched;   /* of each entry: some recipe names it */
	uint32_t shown, wrong;
	uint32_t remedies, helped; /* carried out; those that took the fault away */
	bool failed;               /* something could not be read, or memory ran out */
} verify;

/* Prints what was gathered, all of it at column `hang`. */
static void say(verify *v, size_t hang)
{
	tc_page_item(v->page, hang, TC_INK_PLAIN, "", hang, tc_words_text(&v->text));
	v->text.length = 0;
}

static void add_place(verify *v, tc_place place)
{
	tc_buffer_print(&v->text, "%s:%u:%u: ", place.file, (unsigned)place.line, (unsigned)place.column);
}

/* --- a rule's own examples --------------------------------------------------------------------------------------- */

static void touch(verify *v, const tc_recipe *recipe)
{
	for (uint32_t i = 0; i < recipe->products; i++)
		v->touched[recipe->product[i]->family->index] = true;
	for (uint32_t i = 0; i < recipe->parts; i++)
		v->touched[recipe->part[i].substrate->family->index] = true;
}

static void wrong(verify *v, const tc_rule *rule, const tc_shown_by *shown, const char *what)
{
	static const char *const names[] = {
	    [TC_SHOWN_BREAKS] = "breaks", [TC_SHOWN_HOLDS] = "holds", [TC_SHOWN_OPEN] = "open"};
	v->wrong++;
	add_place(v, tc_node_place(shown->source, shown->node));
	tc_buffer_print(&v->text, "error: %s: this `%s` %s [shown-by]", rule->id, names[shown->kind], what);
	say(v, 0);
}

static void compare(verify *v, const tc_rule *rule, const tc_shown_by *shown, bool fired, bool unsure)
{
	if (shown->kind == TC_SHOWN_BREAKS && !fired)
		wrong(v, rule, shown, unsure ? "is undecided: the rule lacks a datum" : "does not break the rule");
	else if (shown->kind == TC_SHOWN_HOLDS && fired)
		wrong(v, rule, shown, "breaks the rule");
	else if (shown->kind == TC_SHOWN_HOLDS && unsure)
		wrong(v, rule, shown, "is undecided, which does not count as held");
	else if (shown->kind == TC_SHOWN_OPEN && (fired || !unsure))
		wrong(v, rule, shown, fired ? "breaks the rule" : "is decided: the rule holds");
}

static void print_errors(verify *v, const tc_diags *diags)
{
	for (size_t i = 0; i < tc_diags_count(diags); i++)
		tc_diag_print(tc_diags_at(diags, i), v->page->out);
}

/* --- its remedies ----------------------------------------------------------------------------------------------- */

static const tc_finding *finding_of(const tc_judgement *judgement, const tc_rule *rule, uint32_t part)
{
	for (uint32_t i = 0; i < judgement->findings; i++) {
		const tc_finding *f = &judgement->finding[i];
		if (f->rule == rule && f->verdict != TC_V_UNDECIDED && (part == TC_NONE || f->part == part))
			return f;
	}
	return NULL;
}

static void contradicts(verify *v, const tc_rule *rule, const tc_shown_by *shown, const char *remedy, const char *what)
{
	v->wrong++;
	add_place(v, tc_node_place(shown->source, shown->node));
	tc_buffer_print(&v->text, "error: %s: its remedy `%s` %s [remedy]", rule->id, remedy, what);
	say(v, 0);
}

/* Was it found already, or left unsaid since another rule outranks it? */
static bool was_there(const tc_judgement *before, const tc_finding *f)
{
	if (finding_of(before, f->rule, f->part))
		return true;
	for (uint32_t i = 0; i < before->findings; i++)
		for (uint32_t k = 0; k < before->finding[i].outranked; k++)
			if (before->finding[i].outrank[k] == f->rule)
				return true;
	return false;
}

/* An error of another rule on the same part that the remedy brings. */
static void compare_after(verify *v, const tc_shown_by *shown, const tc_judgement *before, const tc_judgement *after,
    const tc_finding *finding, const char *remedy)
{
	v->remedies++;
	v->helped += !finding_of(after, finding->rule, finding->part);
	for (uint32_t i = 0; i < after->findings; i++) {
		const tc_finding *f = &after->finding[i];
		if (f->verdict != TC_V_ERROR || f->part != finding->part || f->rule == finding->rule ||
		    was_there(before, f))
			continue;
		tc_buffer what;
		tc_buffer_start(&what, NULL);
		tc_buffer_print(&what, "makes %s find an error: %s", f->rule->id, f->message);
		contradicts(v, finding->rule, shown, remedy, tc_words_text(&what));
		tc_buffer_free(&what);
		return;
	}
}

static void try_remedy(verify *v, const tc_shown_by *shown, const tc_judgement *before, const tc_finding *finding,
    const tc_advice *advice, uint32_t choice)
{
	const tc_recipe *mended;
	const tc_judgement *after;
	const char *says = advice->text;
	bool reads;
	tc_diags *diags = tc_diags_new(v->arena);
	tc_status status =
	    diags ? tc_mend(v->arena, v->worker, shown, before, finding, advice, choice, diags, &says, &reads, &mended)
	          : TC_NO_MEMORY;
	if (status == TC_OK)
		status = tc_judge(v->worker, v->arena, mended, &after);
	if (status == TC_OK)
		compare_after(v, shown, before, after, finding, says);
	else if (status == TC_BAD && !reads)
		contradicts(v, finding->rule, shown, says, "leaves no recipe");
	else if (status != TC_BAD)
		v->failed = true;
}

static void try_remedies(verify *v, const tc_rule *rule, const tc_shown_by *shown, const tc_recipe *recipe)
{
	const tc_judgement *before;
	if (rule->remedies == 0 || shown->kind != TC_SHOWN_BREAKS)
		return;
	if (tc_judge(v->worker, v->arena, recipe, &before) != TC_OK) {
		v->failed = true;
		return;
	}
	const tc_finding *finding = finding_of(before, rule, TC_NONE);
	for (uint32_t i = 0; finding && i < finding->advices; i++)
		for (uint32_t k = 0; k < tc_fix_choices(&finding->advice[i]); k++)
			try_remedy(v, shown, before, finding, &finding->advice[i], k);
}

/* --- its examples ------------------------------------------------------------------------------------------------ */

static void try_shown(verify *v, const tc_rule *rule, const tc_shown_by *shown)
{
	tc_arena_reset(v->arena);
	tc_diags *diags = tc_diags_new(v->arena);
	const tc_recipe *recipe = NULL;
	bool fired = false, unsure = false;
	if (!diags) {
		v->failed = true;
		return;
	}
	v->shown++;
	tc_status status = tc_recipe_read(v->arena, v->library, tc_worker_finder(v->worker), &v->names, NULL,
	    shown->source, shown->node, true, diags, &recipe);
	if (status == TC_OK)
		status = tc_judge_rule(v->worker, v->arena, recipe, rule, &fired, &unsure);
	if (status == TC_OK) {
		touch(v, recipe);
		compare(v, rule, shown, fired, unsure);
		try_remedies(v, rule, shown, recipe);
	} else if (status == TC_BAD) {
		print_errors(v, diags);
		wrong(v, rule, shown, "is no recipe");
	} else {
		v->failed = true;
	}
}

static void prove(verify *v, const tc_rule *rule)
{
	const uint32_t count = tc_rulebook_shown(v->book->rulebook, rule->index);
	bool breaks = false, holds = false;
	for (uint32_t i = 0; i < count; i++) {
		const tc_shown_by *shown = tc_rulebook_shown_at(v->book->rulebook, rule->index, i);
		breaks = breaks || shown->kind == TC_SHOWN_BREAKS;
		holds = holds || shown->kind == TC_SHOWN_HOLDS;
		try_shown(v, rule, shown);
	}
	if ((breaks || rule->verdict == TC_V_UNDECIDED) && holds)
		return;
	v->wrong++;
	add_place(v, rule->place);
	tc_buffer_print(
	    &v->text, "error: %s has no example that %s it [shown-by]", rule->id, breaks ? "holds" : "breaks");
	say(v, 0);
}

/* --- recipes of paths -------------------------------------------------------------------------------------------- */

/* A rule may say `undecided` itself; it then lacks nothing. */
static bool has_fired(const tc_finding *finding)
{
	return finding->verdict != TC_V_UNDECIDED || (finding->rule->verdict == TC_V_UNDECIDED && finding->needs == 0);
}

static void count_fired(verify *v, const tc_judgement *judgement)
{
	uint32_t last = TC_NONE;
	v->recipes++;
	for (uint32_t r = 0; r < v->rules; r++)
		for (uint32_t i = 0; i < judgement->findings && last != r; i++)
			if (judgement->finding[i].rule->index == r && has_fired(&judgement->finding[i])) {
				v->fired[r]++;
				last = r;
			}
}

static void try_document(verify *v, const tc_source *source, const tc_document *document, tc_diags *diags)
{
	const tc_reader reader = {.read = tc_file_beside};
	const tc_recipe *recipe = NULL;
	const tc_judgement *judgement = NULL;
	if (!tc_is_recipe(document))
		return;
	tc_status status = tc_recipe_read(v->arena, v->library, tc_worker_finder(v->worker), &v->names, &reader, source,
	    document->root, false, diags, &recipe);
	if (status != TC_OK)
		return;
	status = tc_judge(v->worker, v->arena, recipe, &judgement);
	if (status != TC_OK) {
		v->failed = true;
		return;
	}
	touch(v, recipe);
	count_fired(v, judgement);
}

static void try_file(verify *v, const char *path)
{
	tc_arena_reset(v->arena);
	tc_diags *diags = tc_diags_new(v->arena);
	const char *bytes = NULL;
	size_t length = 0, count = 0;
	tc_source *source = NULL;
	const tc_document *documents = NULL;
	tc_status status = diags ? tc_file_read(v->arena, path, diags, &bytes, &length) : TC_NO_MEMORY;
	if (status == TC_OK)
		status = tc_source_new(v->arena, path, bytes, length, diags, &source);
	if (status == TC_OK)
		status = tc_yaml_read(v->arena, source, diags, &documents, &count);
	for (size_t i = 0; status == TC_OK && i < count; i++)
		try_document(v, source, &documents[i], diags);
	if (!diags || status != TC_OK || tc_diags_errors(diags))
		v->failed = true;
	if (diags)
		print_errors(v, diags);
}

static void try_paths(verify *v, const char *const *paths, uint32_t count)
{
	tc_inputs inputs = {0};
	tc_diags *diags = tc_diags_new(v->book->arena);
	bool *bad = TC_ARRAY(v->book->arena, count + 1, bool);
	if (!diags || !bad || tc_files_find(v->book->arena, paths, count, diags, bad, &inputs) != TC_OK) {
		v->failed = true;
		return;
	}
	v->failed = v->failed || tc_diags_errors(diags) > 0;
	print_errors(v, diags);
	for (uint32_t i = 0; i < inputs.count; i++)
		try_file(v, inputs.at[i].path);
}

/* --- what is worth knowing --------------------------------------------------------------------------------------- */

static void list_rules(verify *v, uint32_t times, const char *lead)
{
	const char *between = "";
	for (uint32_t i = 0; i < v->rules; i++) {
		if (v->fired[i] != times)
			continue;
		tc_buffer_print(&v->text, "%s%s", between, tc_rulebook_rule(v->book->rulebook, i)->id);
		between = ", ";
	}
	if (*between) {
		tc_page_heading(v->page, lead);
		say(v, 2);
	}
}

static void list_firing(verify *v)
{
	if (v->recipes == 0)
		return;
	list_rules(v, 0, "Rules that fire in none of the recipes");
	if (v->recipes > 1)
		list_rules(v, v->recipes, "Rules that fire in every recipe");
}

/* The text of a let: a scalar, or the key `is` of a mapping; NULL for none. */
static const char *let_text(const tc_node *node)
{
	const tc_node *is = node && node->kind == TC_MAP ? tc_map_get(node, "is", NULL) : node;
	return is && is->kind == TC_SCALAR ? is->text : NULL;
}

static bool let_mentions(const verify *v, const tc_entry *entry)
{
	const size_t lets = v->collection ? tc_collection_count(v->collection, TC_SECTION_LET) : 0;
	for (size_t i = 0; i < lets; i++) {
		const char *text = let_text(tc_collection_at(v->collection, TC_SECTION_LET, i)->node);
		if (text && tc_mentions_entry(v->library, text, entry))
			return true;
	}
	return false;
}

static bool spoken_of(const verify *v, const tc_entry *entry)
{
	if (v->touched[entry->index])
		return true;
	for (uint32_t i = 0; i < v->rules; i++)
		if (tc_mentions_entry(v->library, tc_rulebook_rule(v->book->rulebook, i)->when_text, entry))
			return true;
	return let_mentions(v, entry);
}

static void list_untouched(verify *v)
{
	const char *between = "";
	for (uint32_t i = 0; i < tc_library_count(v->library); i++) {
		const tc_entry *entry = tc_library_entry(v->library, i);
		if (entry->is_kind || entry->section == TC_SECTION_SOLVENTS || spoken_of(v, entry))
			continue;
		tc_buffer_print(&v->text, "%s%s", between, entry->id);
		between = ", ";
	}
	if (*between) {
		tc_page_heading(v->page, "Materials that no rule names and no example uses");
		say(v, 2);
	}
}

/* --- where the figures come from --------------------------------------------------------------------------------- */

typedef struct tally {
	uint32_t read, memory, practice;
	uint32_t *by_source;
} tally;

static void count_basis(const verify *v, tally *t, const tc_basis *basis)
{
	if (!basis)
		return;
	if (basis->source == TC_NONE) {
		t->practice++;
		return;
	}
	const bool read = !basis->memory && tc_library_source(v->library, basis->source)->read;
	t->read += read;
	t->memory += !read;
	t->by_source[basis->source]++;
}

static void count_figures(const verify *v, tally *t)
{
	for (uint32_t i = 0; i < tc_library_count(v->library); i++) {
		const tc_entry *entry = tc_library_entry(v->library, i);
		for (unsigned p = 0; p < TC_PROPERTY_COUNT; p++)
			if (entry->figures[p] && entry->figures[p]->entry == entry->index)
				count_basis(v, t, entry->figures[p]->basis);
	}
	for (unsigned d = 0; d < TC_DEFAULT_COUNT; d++)
		count_basis(v, t, tc_library_default(v->library, (tc_default)d)->basis);
}

static void list_bases(verify *v)
{
	const uint32_t sources = tc_library_sources(v->library);
	tally t = {.by_source = TC_ARRAY(v->book->arena, sources + 1, uint32_t)};
	if (!t.by_source) {
		v->failed = true;
		return;
	}
	count_figures(v, &t);
	tc_page_heading(v->page, "Where the figures come from");
	tc_buffer_print(&v->text, "%u read in a source, %u remembered from one, %u common practice", (unsigned)t.read,
	    (unsigned)t.memory, (unsigned)t.practice);
	say(v, 2);
	for (uint32_t i = 0; i < sources; i++) {
		char number[16];
		if (!t.by_source[i])
			continue;
		snprintf(number, sizeof number, "%u", (unsigned)t.by_source[i]);
		tc_page_blanks(v->page, 2);
		tc_page_cell(v->page, TC_INK_PLAIN, number, 6, true);
		tc_page_blanks(v->page, 2);
		tc_page_wrap(v->page, TC_INK_PLAIN, tc_library_source(v->library, i)->id, 10, 10);
	}
}

/* --- the whole --------------------------------------------------------------------------------------------------- */

static void summarise(verify *v)
{
	tc_words_count(v->rules, "rule", "rules", &v->text);
	tc_buffer_puts(&v->text, ", ");
	tc_words_count(v->shown, "example", "examples", &v->text);
	if (v->recipes) {
		tc_buffer_puts(&v->text, ", ");
		tc_words_count(v->recipes, "recipe", "recipes", &v->text);
	}
	tc_buffer_print(
	    &v->text, ", %u of %u remedies take their fault away", (unsigned)v->helped, (unsigned)v->remedies);
	tc_buffer_puts(&v->text, v->wrong ? ": " : ": the rulebook proves itself");
	if (v->wrong)
		tc_words_count(v->wrong, "fault", "faults", &v->text);
	tc_page_break(v->page);
	say(v, 0);
}

static bool start(verify *v)
{
	v->library = tc_rulebook_library(v->book->rulebook);
	v->rules = tc_rulebook_rules(v->book->rulebook);
	v->names = tc_rulebook_names(v->book->rulebook);
	v->arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(v->book->arena);
	if (!diags || tc_collect(v->book->arena, v->book->files, v->book->count, diags, &v->collection) != TC_OK)
		return false;
	v->worker = tc_worker_new(v->book->rulebook, NULL);
	v->fired = TC_ARRAY(v->book->arena, v->rules + 1, uint32_t);
	v->touched = TC_ARRAY(v->book->arena, tc_library_count(v->library) + 1, bool);
	tc_buffer_start(&v->text, NULL);
	return v->arena && v->worker && v->fired && v->touched;
}

static void run(verify *v, const char *const *paths, uint32_t count)
{
	for (uint32_t i = 0; i < v->rules; i++)
		prove(v, tc_rulebook_rule(v->book->rulebook, i));
	try_paths(v, paths, count);
	list_firing(v);
	list_untouched(v);
	list_bases(v);
	summarise(v);
}

int tc_rules_verify(const tc_book *book, const char *const *paths, uint32_t count, tc_page *page)
{
	verify v = {.book = book, .page = page};
	if (start(&v))
		run(&v, paths, count);
	else
		v.failed = true;
	if (v.failed)
		tc_complain("not everything could be looked through");
	page->work.failed = page->work.failed || v.text.failed;
	tc_buffer_free(&v.text);
	tc_worker_free(v.worker);
	tc_arena_free(v.arena);
	return v.failed ? TC_EXIT_TROUBLE : v.wrong ? TC_EXIT_FOUND : TC_EXIT_SOUND;
}
