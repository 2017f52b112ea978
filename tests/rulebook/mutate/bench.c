/* Loading for the mutants. */
#include <glob.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bench.h"

void give_up(const char *why)
{
	fprintf(stderr, "mutate: %s\n", why);
	exit(2);
}

void *must(void *at)
{
	if (!at)
		give_up("out of memory");
	return at;
}

static char *slurp(bench *b, const char *path, size_t *length)
{
	FILE *in = fopen(path, "rb");
	if (!in)
		give_up(path);
	fseek(in, 0, SEEK_END);
	const long size = ftell(in);
	rewind(in);
	char *bytes = must(tc_arena_get(b->arena, (size_t)size + 1));
	*length = fread(bytes, 1, (size_t)size, in);
	fclose(in);
	return bytes;
}

static void say_diags(const tc_diags *diags)
{
	tc_buffer text;
	tc_buffer_start(&text, NULL);
	for (size_t i = 0; i < tc_diags_count(diags); i++)
		tc_diag_print(tc_diags_at(diags, i), &text);
	fputs(text.failed || !text.length ? "" : text.at, stderr);
	tc_buffer_free(&text);
}

static void load_book(bench *b)
{
	glob_t found;
	if (glob("rules/*/*.yaml", 0, NULL, &found) != 0)
		give_up("no rules/ here");
	tc_rulebook_file *files = must(TC_ARRAY(b->arena, found.gl_pathc, tc_rulebook_file));
	for (size_t i = 0; i < found.gl_pathc; i++) {
		files[i].name = must(tc_arena_print(b->arena, "%s", found.gl_pathv[i]));
		files[i].bytes = slurp(b, found.gl_pathv[i], &files[i].length);
	}
	if (tc_rulebook_load(NULL, files, found.gl_pathc, true, b->diags, &b->book) != TC_OK) {
		say_diags(b->diags);
		give_up("the rulebook has errors");
	}
	globfree(&found);
	b->rules = b->book->rule_count;
	/* all lie in the rulebook's own arena, which can be written; only its users must not */
	b->rule = (tc_rule *)(uintptr_t)b->book->rules;
	b->doors = (tc_doors *)(uintptr_t)b->book->doors;
	memset(b->book->bolt_count, 0, sizeof b->book->bolt_count); /* a mutant would still be shut by what it had */
	b->let = (tc_let *)(uintptr_t)b->book->lets.at;
}

static const tc_recipe *read_recipe(bench *b, const tc_source *source, const tc_node *root, bool short_form)
{
	const tc_recipe *recipe = NULL;
	const tc_rule_names names = tc_rulebook_names(b->book);
	const tc_status status = tc_recipe_read(b->arena, b->book->library, tc_worker_finder(b->worker), &names, NULL,
	    source, root, short_form, b->diags, &recipe);
	if (status != TC_OK) {
		say_diags(b->diags);
		give_up("a recipe cannot be read");
	}
	return recipe;
}

static void read_shown(bench *b)
{
	b->shown = must(TC_ARRAY(b->arena, b->rules, const tc_recipe **));
	for (uint32_t r = 0; r < b->rules; r++) {
		const uint32_t count = tc_rulebook_shown(b->book, r);
		b->shown[r] = must(TC_ARRAY(b->arena, count + 1, const tc_recipe *));
		for (uint32_t i = 0; i < count; i++) {
			const tc_shown_by *s = tc_rulebook_shown_at(b->book, r, i);
			b->shown[r][i] = read_recipe(b, s->source, s->node, true);
		}
	}
}

/* --- recipes with an expectation -------------------------------------------------------------------------------------- */

static bool as_expected(const reference *ref, const tc_judgement *j)
{
	uint32_t errors = 0, warnings = 0, notes = j->cautions;
	bool fired = !ref->rule[0];
	warnings = j->unused;
	for (uint32_t i = 0; i < j->findings; i++) {
		const tc_finding *f = &j->finding[i];
		fired = fired || strcmp(f->rule->id, ref->rule) == 0;
		errors += !f->accept && f->weight == TC_V_ERROR;
		warnings += !f->accept && f->weight == TC_V_WARNING && f->verdict != TC_V_UNDECIDED;
		notes += f->accept || f->weight == TC_V_NOTE;
	}
	if (!fired)
		return false;
	if (strcmp(ref->want, "error") == 0)
		return errors > 0;
	if (strcmp(ref->want, "no-error") == 0)
		return errors == 0;
	if (strcmp(ref->want, "warning") == 0)
		return errors == 0 && warnings > 0;
	if (strcmp(ref->want, "note") == 0)
		return errors == 0 && warnings == 0 && notes > 0;
	return errors == 0 && warnings == 0;
}

/* Which rules find something, where, and how much it weighs, in one number. */
static uint64_t findings_of(const tc_judgement *j)
{
	uint64_t hash = 1;
	for (uint32_t i = 0; i < j->findings; i++) {
		const tc_finding *f = &j->finding[i];
		const uint32_t words[] = {f->rule->index, f->verdict, f->weight, f->part, f->step, f->accept != NULL};
		hash = (hash ^ tc_text_hash((tc_text){(const char *)words, sizeof words})) * 0x9E3779B97F4A7C15u;
	}
	return hash;
}

static const tc_judgement *judge(bench *b, const tc_recipe *recipe)
{
	const tc_judgement *j;
	if (tc_judge(b->worker, b->work, recipe, &j) != TC_OK)
		give_up("out of memory");
	return j;
}

bool bench_agrees(bench *b, const reference *ref)
{
	const tc_judgement *j = judge(b, ref->recipe);
	return ref->want[0] ? as_expected(ref, j) : findings_of(j) == ref->findings;
}

static void add_document(bench *b, const tc_source *source, const tc_node *root, reference ref, uint32_t *room)
{
	ref.recipe = read_recipe(b, source, root, false);
	ref.findings = findings_of(judge(b, ref.recipe));
	ref.counts = bench_agrees(b, &ref);
	tc_arena_reset(b->work);
	if (!tc_arena_grow(b->arena, (void **)&b->reference, b->references, room, sizeof ref))
		give_up("out of memory");
	b->reference[b->references++] = ref;
}

/* The recipes of a file; `golden`: they have golden files, and no first line. */
static void add_file(bench *b, const char *path, bool golden, uint32_t *room)
{
	size_t length, count = 0;
	tc_source *source;
	const tc_document *documents = NULL;
	reference ref = {.path = must(tc_arena_print(b->arena, "%s", path))};
	const char *bytes = slurp(b, path, &length);
	if (!golden && sscanf(bytes, "# expect: %15[a-z-]%*1[ ]%63[a-z0-9-]", ref.want, ref.rule) < 1)
		return;
	if (tc_source_new(b->arena, ref.path, bytes, length, b->diags, &source) != TC_OK ||
	    tc_yaml_read(b->arena, source, b->diags, &documents, &count) != TC_OK || count == 0)
		give_up(path);
	for (size_t i = 0; i < count; i++)
		add_document(b, source, documents[i].root, ref, room);
}

static void read_references(bench *b)
{
	static const struct {
		const char *files;
		bool golden;
	} places[] = {{"tests/reference/*/*.yaml", false}, {"examples/*.yaml", true}, {"examples/faults/*.yaml", true}};
	uint32_t room = 0;
	for (size_t p = 0; p < sizeof places / sizeof *places; p++) {
		glob_t found;
		if (glob(places[p].files, 0, NULL, &found) != 0)
			give_up(places[p].files);
		for (size_t i = 0; i < found.gl_pathc; i++)
			add_file(b, found.gl_pathv[i], places[p].golden, &room);
		globfree(&found);
	}
}

void bench_start(bench *b)
{
	b->arena = must(tc_arena_new(NULL, 1u << 20));
	b->work = must(tc_arena_new(NULL, 1u << 20));
	b->diags = must(tc_diags_new(b->arena));
	load_book(b);
	b->worker = must(tc_worker_new(b->book, NULL));
	read_shown(b);
	read_references(b);
	for (uint32_t r = 0; r < b->rules; r++) { /* a template may print what a mutant no longer binds */
		b->rule[r].says = &b->silent;
		b->rule[r].remedies = 0;
	}
}

void bench_end(bench *b)
{
	tc_worker_free(b->worker);
	tc_rulebook_free(b->book);
	tc_arena_free(b->work);
	tc_arena_free(b->arena);
}
