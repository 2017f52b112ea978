/* Small changes of an expression, each of which ought to be noticed by somebody: tests turned round, operands left out,
 * figures doubled and halved. Made on the words of the text, so that what is changed reads as a person would write it. */
#ifndef TC_TESTS_MUTANTS_H
#define TC_TESTS_MUTANTS_H

#include "base/text.h"

typedef enum mutant_kind {
	MUTANT_FLIP,  /* a test means its opposite: < is >=, `is` is `is not`, `any` is `no` … */
	MUTANT_DROP,  /* an operand of the uppermost `and` or `or` is left out */
	MUTANT_INNER, /* the same of an `and` or `or` in parentheses or in a fold */
	MUTANT_SHIFT, /* a figure is doubled or halved */
	MUTANT_KINDS
} mutant_kind;

typedef struct mutant {
	mutant_kind kind;
	const char *what; /* in words: `>= for <` */
	uint32_t at;      /* byte of the text where it was changed */
	char *text;       /* the changed expression */
} mutant;

typedef struct mutants {
	tc_arena *arena;
	mutant *at;
	uint32_t count, room;
} mutants;

/* Adds all mutants of an expression that the rulebook has loaded, so one that has no mistake. False: out of memory, or the
 * text is no expression. */
bool mutants_make(mutants *m, tc_text text);

#endif
