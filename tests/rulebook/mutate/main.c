/* How much of the rulebook is held by its own examples and by the reference recipes: each rule's `when`, and each `let`, is
 * changed a little in many ways, and somebody ought to notice. A mutant is noticed when one of the examples (shown_by) of a
 * rule that it changes no longer does what it says, when a reference recipe stops to agree with its `# expect:` line, or when
 * other findings come up in an example whose findings stand in a golden file.
 * What the compiler refuses is not counted, nor lets that no rule uses: what other commands ask of them has tests of its own.
 * The rulebook stays loaded: only the compiled `when`s are put in and out.
 *
 *   mutate [--least PERCENT] [--unnoticed KINDS] [RULE-OR-LET]…       from the root of the repository
 *
 * Exit status 1: fewer than PERCENT of flips and drops were noticed. KINDS: letters of f d i s, which of them to list. */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "mutants.h"
#include "trial.h"

#define WORKERS 2

typedef struct result {
	uint32_t made[MUTANT_KINDS], noticed[MUTANT_KINDS], refused, by_recipe;
	uint32_t unused; /* lets in which no rule stands */
} result;

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
	const bool used = memchr(uses, true, b->rules) != NULL;
	r->unused += !used;
	if (used && !mutants_make(&all, (tc_text){b->let[let].text, b->let[let].length}))
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
		sum.unused += r.unused;
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
	printf("%u by a recipe alone; %u refused by the compiler, not counted; %u lets that no rule uses "
	       "left out\n",
	    (unsigned)r->by_recipe, (unsigned)r->refused, (unsigned)r->unused);
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
	setvbuf(stdout, NULL, _IOLBF, 0); /* the parts write line by line */
	bench b = {0};
	bench_start(&b);
	const result r = run(&b, &w);
	bench_end(&b);
	return report(&r, &w);
}
