/* What the mutants are tried on: the default rulebook from its files, its examples read once, the reference recipes with what they
 * expect, and the examples whose findings golden files hold. */
#ifndef TC_TESTS_BENCH_H
#define TC_TESTS_BENCH_H

#include "judge/judge.h"
#include "rule/private.h"

typedef struct reference {
	const tc_recipe *recipe;
	const char *path;
	char want[16], rule[64]; /* what its first line says; empty: a golden file holds all that is found in it … */
	uint64_t findings;       /* … which is this, as the rulebook is */
	bool counts;             /* it agrees with the rulebook as it is */
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

/* Ends the program. */
_Noreturn void give_up(const char *why);
void *must(void *at); /* gives up on NULL */

/* From the files below this folder, which is the root of the repository. Gives up if anything is wrong. */
void bench_start(bench *b);
void bench_end(bench *b);

/* Does a reference recipe still do what its first line says, or is still found in it what was found? */
bool bench_agrees(bench *b, const reference *ref);

#endif
