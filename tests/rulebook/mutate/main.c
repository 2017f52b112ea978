/* How much of the rulebook is held by its own examples and by the reference recipes: each rule's `when`, and each `let`, is
 * changed a little in many ways, and somebody ought to notice. A mutant is noticed when one of the examples (shown_by) of a
 * rule that it changes no longer does what it says, or when a reference recipe stops to agree with its `# expect:` line.
 * What the compiler refuses is not counted. The rulebook stays loaded: only the compiled `when`s are put in and out.
 *
 *   mutate [--least PERCENT] [--unnoticed KINDS] [RULE-OR-LET]…       from the root of the repository
 *
 * Exit status 1: fewer than PERCENT of flips and drops were noticed. KINDS: letters of f d i s, which of them to list. */
#include <errno.h>
#include <glob.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "judge/judge.h"
#include "mutants.h"
#include "rule/private.h"

#define WORKERS 2

/* --- what is loaded once ---------------------------------------------------------------------------------------------- */

typedef struct reference {
	const tc_recipe *recipe;
	const char *path;
	char want[16], rule[64];
	bool counts; /* it agrees with the rulebook as it is */
} reference;

typedef struct bench {
	tc_arena *arena; /* of all that lasts */
	tc_arena *work;  /* of one mutant */
	tc_diags *diags;
	tc_rulebook *book;
	tc_worker *worker;
	uint32_t rules;
	tc_rule *rule; /* the rulebook's own, to be changed */
	tc_doors *doors;
	tc_let *let;
	const tc_recipe ***shown; /* [rule][example] */
	uint32_t references;
	reference *reference;
	tc_template silent; /* a `says` without holes */
} bench;

typedef struct result {
	uint32_t made[MUTANT_KINDS], noticed[MUTANT_KINDS], refused, by_recipe;
} result;

static void give_up(const char *why)
{
	fprintf(stderr, "mutate: %s\n", why);
	exit(2);
}

static void *must(void *at)
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

static bool agrees(bench *b, const reference *ref)
{
	const tc_judgement *j;
	if (tc_judge(b->worker, b->work, ref->recipe, &j) != TC_OK)
		give_up("out of memory");
	return as_expected(ref, j);
}

static void add_reference(bench *b, const char *path, uint32_t *room)
{
	size_t length, count;
	tc_source *source;
	const tc_document *documents = NULL;
	reference ref = {.path = must(tc_arena_print(b->arena, "%s", path))};
	const char *bytes = slurp(b, path, &length);
	if (sscanf(bytes, "# expect: %15[a-z-]%*1[ ]%63[a-z0-9-]", ref.want, ref.rule) < 1)
		return;
	if (tc_source_new(b->arena, ref.path, bytes, length, b->diags, &source) != TC_OK ||
	    tc_yaml_read(b->arena, source, b->diags, &documents, &count) != TC_OK || count == 0)
		give_up(path);
	ref.recipe = read_recipe(b, source, documents[0].root, false);
	ref.counts = agrees(b, &ref);
	tc_arena_reset(b->work);
	if (!tc_arena_grow(b->arena, (void **)&b->reference, b->references, room, sizeof ref))
		give_up("out of memory");
	b->reference[b->references++] = ref;
}

static void read_references(bench *b)
{
	glob_t found;
	uint32_t room = 0;
	if (glob("tests/reference/*/*.yaml", 0, NULL, &found) != 0)
		give_up("no tests/reference/ here");
	for (size_t i = 0; i < found.gl_pathc; i++)
		add_reference(b, found.gl_pathv[i], &room);
	globfree(&found);
}

static void start(bench *b)
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

/* --- one mutant --------------------------------------------------------------------------------------------------------- */

/* Does this rule's every example still do what it says? */
static bool shows(bench *b, uint32_t rule)
{
	for (uint32_t i = 0; i < tc_rulebook_shown(b->book, rule); i++) {
		bool fired, unsure;
		if (tc_judge_rule(b->worker, b->work, b->shown[rule][i], &b->rule[rule], &fired, &unsure) != TC_OK)
			give_up("out of memory");
		const tc_shown kind = tc_rulebook_shown_at(b->book, rule, i)->kind;
		const bool good = kind == TC_SHOWN_BREAKS  ? fired
		                  : kind == TC_SHOWN_HOLDS ? !fired && !unsure
		                                           : !fired && unsure;
		if (!good)
			return false;
	}
	return true;
}

static bool references_agree(bench *b)
{
	tc_worker *kept = b->worker;
	b->worker = must(tc_worker_new(b->book, NULL)); /* the old one keeps which doors stand open */
	bool good = true;
	for (uint32_t i = 0; good && i < b->references; i++) {
		const reference *ref = &b->reference[i];
		good = !ref->counts || agrees(b, ref);
	}
	tc_worker_free(b->worker);
	b->worker = kept;
	return good;
}

static const tc_expr *compile(bench *b, tc_ask ask, const char *text)
{
	tc_diags *diags = must(tc_diags_new(b->work));
	const tc_expr *expr = tc_expr_compile(b->book, b->work, ask, tc_text_of(text), diags);
	return expr && expr->type == TC_T_TRUTH ? expr : NULL;
}

static bool put_in(bench *b, uint32_t rule, const tc_expr *when)
{
	b->rule[rule].when = when;
	return tc_doors_find(b->work, when, b->rule[rule].ask, &b->doors[rule]);
}

typedef struct changed {
	uint32_t rule;
	const tc_expr *when;
	tc_doors doors;
} changed;

typedef enum outcome { REFUSED, UNNOTICED, NOTICED_BY_EXAMPLE, NOTICED_BY_RECIPE } outcome;

/* With these rules changed: who notices? Puts them back. */
static outcome try_out(bench *b, const changed *was, uint32_t count)
{
	bool good = true;
	for (uint32_t i = 0; good && i < count; i++)
		good = shows(b, was[i].rule);
	const outcome out = !good ? NOTICED_BY_EXAMPLE : references_agree(b) ? UNNOTICED : NOTICED_BY_RECIPE;
	for (uint32_t i = 0; i < count; i++) {
		b->rule[was[i].rule].when = was[i].when;
		b->doors[was[i].rule] = was[i].doors;
	}
	tc_arena_reset(b->work);
	return out;
}

static changed keep(const bench *b, uint32_t rule)
{
	return (changed){rule, b->rule[rule].when, b->doors[rule]};
}

static outcome try_rule(bench *b, uint32_t rule, const char *text)
{
	const tc_expr *when = compile(b, b->rule[rule].ask, text);
	const changed was = keep(b, rule);
	if (!when) {
		tc_arena_reset(b->work);
		return REFUSED;
	}
	if (!put_in(b, rule, when))
		give_up("out of memory");
	return try_out(b, &was, 1);
}

/* A let stands in rules and in other lets, so every rule is compiled anew; those in which it does not stand come out as they
 * were. False: some rule no longer compiles. */
static bool change_all(bench *b, const bool *uses, changed *was, uint32_t *count)
{
	for (uint32_t r = 0; r < b->rules; r++) {
		if (!uses[r])
			continue;
		const tc_expr *when = compile(b, b->rule[r].ask, b->rule[r].when_text);
		if (!when)
			return false;
		was[*count] = keep(b, r);
		(*count)++;
		if (!put_in(b, r, when))
			give_up("out of memory");
	}
	return true;
}

static outcome try_let(bench *b, uint32_t let, const bool *uses, const char *text)
{
	const tc_let kept = b->let[let];
	changed *was = must(calloc(b->rules, sizeof *was));
	uint32_t count = 0;
	b->let[let].text = text;
	b->let[let].length = (uint32_t)strlen(text);
	const bool good = change_all(b, uses, was, &count);
	outcome out = REFUSED;
	if (good) {
		out = try_out(b, was, count);
	} else {
		for (uint32_t i = 0; i < count; i++) {
			b->rule[was[i].rule].when = was[i].when;
			b->doors[was[i].rule] = was[i].doors;
		}
		tc_arena_reset(b->work);
	}
	b->let[let] = kept;
	free(was);
	return out;
}

/* --- all of them -------------------------------------------------------------------------------------------------------- */

typedef struct wish {
	const char *list; /* kinds of which the unnoticed are listed */
	char *const *only;
	int only_count;
	double least;
} wish;

static const char letters[] = "fdis";

static void note(result *r, const wish *w, const char *id, const mutant *m, outcome out)
{
	if (out == REFUSED) {
		r->refused++;
		return;
	}
	r->made[m->kind]++;
	r->noticed[m->kind] += out != UNNOTICED;
	r->by_recipe += out == NOTICED_BY_RECIPE;
	if (out != UNNOTICED || !strchr(w->list, letters[m->kind]))
		return;
	printf("%c %s: %s at %u: %s\n", letters[m->kind], id, m->what, (unsigned)m->at, m->text);
}

static bool is_wanted(const wish *w, const char *id)
{
	for (int i = 0; i < w->only_count; i++)
		if (strcmp(w->only[i], id) == 0)
			return true;
	return w->only_count == 0;
}

static bool is_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' || c == '-' || c == '.';
}

static bool names(const char *text, const char *name)
{
	const size_t length = strlen(name);
	for (const char *at = text; (at = strstr(at, name)); at++)
		if ((at == text || !is_letter(at[-1])) && !is_letter(at[length]))
			return true;
	return false;
}

/* The lets and then the rules in which a let stands, straight or by way of others. */
static void find_uses(const bench *b, uint32_t let, bool *lets, bool *rules)
{
	lets[let] = true;
	for (uint32_t i = 0; i < b->book->lets.count; i++)
		if (!lets[i] && names(b->let[i].text, b->let[let].name))
			find_uses(b, i, lets, rules);
	for (uint32_t r = 0; r < b->rules; r++)
		rules[r] = rules[r] || names(b->rule[r].when_text, b->let[let].name);
}

static void mutate_let(bench *b, uint32_t let, const wish *w, result *r)
{
	bool *lets = must(calloc(b->book->lets.count + 1, 1)), *uses = must(calloc(b->rules + 1, 1));
	mutants all = {.arena = must(tc_arena_new(NULL, 0))};
	find_uses(b, let, lets, uses);
	if (!mutants_make(&all, (tc_text){b->let[let].text, b->let[let].length}))
		give_up(b->let[let].name);
	for (uint32_t i = 0; i < all.count; i++)
		note(r, w, b->let[let].name, &all.at[i], try_let(b, let, uses, all.at[i].text));
	tc_arena_free(all.arena);
	free(lets);
	free(uses);
}

static void mutate_rule(bench *b, uint32_t rule, const wish *w, result *r)
{
	mutants all = {.arena = must(tc_arena_new(NULL, 0))};
	if (!mutants_make(&all, tc_text_of(b->rule[rule].when_text)))
		give_up(b->rule[rule].id);
	for (uint32_t i = 0; i < all.count; i++)
		note(r, w, b->rule[rule].id, &all.at[i], try_rule(b, rule, all.at[i].text));
	tc_arena_free(all.arena);
}

/* What falls to one process: every WORKERSth rule and let. */
static result share(bench *b, const wish *w, uint32_t number)
{
	result r = {0};
	for (uint32_t i = 0; i < b->book->lets.count; i++)
		if (i % WORKERS == number && is_wanted(w, b->let[i].name))
			mutate_let(b, i, w, &r);
	for (uint32_t i = 0; i < b->rules; i++)
		if (i % WORKERS == number && is_wanted(w, b->rule[i].id))
			mutate_rule(b, i, w, &r);
	return r;
}

static result run(bench *b, const wish *w)
{
	int ends[WORKERS][2];
	result sum = {0};
	for (uint32_t i = 0; i < WORKERS; i++) {
		if (pipe(ends[i]) != 0)
			give_up(strerror(errno));
		const pid_t child = fork();
		if (child < 0)
			give_up(strerror(errno));
		if (child == 0) {
			const result r = share(b, w, i);
			fflush(stdout);
			_exit(write(ends[i][1], &r, sizeof r) == sizeof r ? 0 : 2);
		}
		close(ends[i][1]);
	}
	for (uint32_t i = 0; i < WORKERS; i++) {
		result r;
		if (read(ends[i][0], &r, sizeof r) != sizeof r)
			give_up("a part did not come to its end");
		close(ends[i][0]);
		for (int k = 0; k < MUTANT_KINDS; k++) {
			sum.made[k] += r.made[k];
			sum.noticed[k] += r.noticed[k];
		}
		sum.refused += r.refused;
		sum.by_recipe += r.by_recipe;
	}
	while (wait(NULL) > 0)
		;
	return sum;
}

/* --- the outcome -------------------------------------------------------------------------------------------------------- */

static double percent(uint32_t noticed, uint32_t made)
{
	return made ? 100.0 * noticed / made : 100;
}

static int report(const result *r, const wish *w)
{
	static const char *const names[MUTANT_KINDS] = {[MUTANT_FLIP] = "tests turned round",
	    [MUTANT_DROP] = "operands left out",
	    [MUTANT_INNER] = "the same inside",
	    [MUTANT_SHIFT] = "figures ×2 and ×½"};
	for (int k = 0; k < MUTANT_KINDS; k++)
		printf("%-20s %5u mutants, %5u noticed, %5.1f %%\n", names[k], (unsigned)r->made[k],
		    (unsigned)r->noticed[k], percent(r->noticed[k], r->made[k]));
	printf("%u by a reference recipe alone; %u refused by the compiler, not counted\n", (unsigned)r->by_recipe,
	    (unsigned)r->refused);
	const double share = percent(r->noticed[MUTANT_FLIP] + r->noticed[MUTANT_DROP] + r->noticed[MUTANT_INNER],
	    r->made[MUTANT_FLIP] + r->made[MUTANT_DROP] + r->made[MUTANT_INNER]);
	printf("summary: %.1f %% of tests turned round and operands left out are noticed (at least %.1f %%)\n", share,
	    w->least);
	return share < w->least ? 1 : 0;
}

int main(int argc, char **argv)
{
	wish w = {.list = ""};
	int at = 1;
	for (; at + 1 < argc && argv[at][0] == '-'; at += 2) {
		if (strcmp(argv[at], "--least") == 0)
			w.least = strtod(argv[at + 1], NULL);
		else if (strcmp(argv[at], "--unnoticed") == 0)
			w.list = argv[at + 1];
		else
			give_up("usage: mutate [--least PERCENT] [--unnoticed KINDS] [RULE-OR-LET]…");
	}
	w.only = argv + at;
	w.only_count = argc - at;
	bench b = {0};
	start(&b);
	const result r = run(&b, &w);
	tc_worker_free(b.worker);
	tc_rulebook_free(b.book);
	tc_arena_free(b.work);
	tc_arena_free(b.arena);
	return report(&r, &w);
}
