/* Asks each rule of each subject of a recipe, and gathers what came out: findings with their reasons, what was accepted,
 * what was assumed, and the cautions of all that is used. Decides nothing that a rule does not say.
 *
 * A judgement lives in the arena that it is given, beside the recipe and its model. The same input gives the same bytes. */
#ifndef TC_JUDGE_JUDGE_H
#define TC_JUDGE_JUDGE_H

#include "rule/eval.h"
#include "stack/model.h"

/* Where a value in a reason comes from. */
typedef enum tc_origin_kind { TC_FROM_SAID, TC_FROM_ASSUMED, TC_FROM_LIBRARY, TC_FROM_COMPUTED } tc_origin_kind;
const char *tc_origin_name(tc_origin_kind kind); /* said, assumed, library, computed */
typedef struct tc_origin {
	tc_origin_kind kind;
	tc_place place;            /* in the recipe (said) or in the rulebook; file NULL: none */
	const char *entry;         /* id of the library's entry, or NULL */
	const tc_basis *basis;     /* of a library figure, or NULL */
	const char *of;            /* computed: from what, in words (`solvents of lamp black (typical), sphere of polystyrene`); NULL */
} tc_origin;

typedef struct tc_reason {
	const char *fact;          /* the path as written in the rule: `coat.red(under)` */
	const char *about;         /* the field's line of help */
	const char *text;          /* the value as printed, with its unit */
	bool has_number;
	double number;             /* SI */
	const char *unit;          /* SI unit of `number`, or NULL */
	const char *test;          /* the whole leaf as written: `coat.red(under) < 1` */
	tc_origin from;
} tc_reason;

/* What an undecided finding lacks. */
typedef struct tc_need {
	const char *datum;         /* `solvents of lamp black`, `humidity` */
	const char *where;         /* how to say it: `write solvents: {…} at lamp black on the shelf` */
	tc_place place;
} tc_need;

#define TC_ADVICE_MATERIALS 3u
typedef struct tc_advice {
	tc_edit edit;
	const char *text;          /* as a sentence */
	const tc_remedy *remedy;
	double amount;             /* wait, shorten: s, rounded; else 0 */
	const char *yaml;          /* the edit as YAML: what to insert or the keys to change; NULL where it is none */
	/* insert or instead by kind: materials that would do, the first of them in order of the library */
	uint32_t materials;
	uint32_t material[TC_ADVICE_MATERIALS]; /* entries */
	uint32_t role[TC_ADVICE_MATERIALS];     /* insert: what it is laid as, where only that would do; TC_NONE */
	bool bitten[TC_ADVICE_MATERIALS];       /* insert: the coat dissolves it until it is cured, or nobody knows */
	const tc_product *replaced;             /* instead: what the step uses now */
} tc_advice;

typedef struct tc_finding {
	const tc_rule *rule;
	tc_verdict verdict;        /* as it is reported: TC_V_UNDECIDED where the rule could not be decided */
	tc_verdict weight;         /* what it counts as for --at-least: an undecided at most a warning */
	bool lowered;              /* an error that rests on assumed weather or an assumed pass alone: reported as a warning or undecided */
	const char *defect;        /* NULL: none */
	uint32_t part;             /* index in the model, TC_NONE: of the whole recipe */
	uint32_t step;             /* 1-based; 0: none */
	uint32_t ordinal;          /* among the rule's subjects there */
	uint32_t under;            /* of a contact or touch: the number of the layer below, 0 the substrate; else TC_NONE */
	tc_place place, related;   /* related: where `under` was laid; file NULL: none */
	const char *related_text;
	const char *message;
	uint32_t reasons, needs, advices, outranked;
	const tc_reason *reason;
	const tc_need *need;
	const tc_advice *advice;
	const tc_rule *const *outrank; /* rules that this one made needless here */
	const struct tc_accept *accept; /* accepted by this, or NULL */
} tc_finding;

/* A caution that applies, and where. */
typedef struct tc_caution_use {
	const tc_caution *caution;
	uint32_t steps;            /* numbers of the steps at which it matters; 0: the whole plan */
	const uint32_t *step;
	const char *const *codes;  /* H-codes that brought it up; NULL-terminated */
	const char *because;       /* materials that brought it up, joined: `two-part gloss, lamp black` ; NULL: all */
} tc_caution_use;

/* Something that nobody said and that was taken from the defaults. */
typedef struct tc_assumption {
	const char *what;          /* `humidity` , `pass of lamp black (step 5)` */
	const char *text;          /* `50 %` */
	const tc_basis *basis;
	bool mattered;             /* some rule read it */
} tc_assumption;

typedef struct tc_summary {
	uint32_t errors, warnings, notes, undecided, accepted;
	uint32_t known; /* left out, since a ledger of known findings has them; the judge itself leaves out nothing */
} tc_summary;

typedef struct tc_judgement {
	const tc_rulebook *rulebook;
	const tc_model *model;
	uint32_t findings;         /* sorted by line, column, rule, part, ordinal; accepted ones among them */
	const tc_finding *finding;
	uint32_t unused;           /* acceptances that accepted nothing */
	const struct tc_accept *const *unused_accept;
	uint32_t cautions;
	const tc_caution_use *caution;
	uint32_t assumptions;
	const tc_assumption *assumption;
	tc_summary summary;        /* accepted findings are counted only in `accepted`; an unused acceptance is a warning */
	bool bounded;              /* the recipe's bound on evaluation was hit: nothing can be said */
	const struct tc_compared *compared; /* what an earlier run says (report/compared.h); NULL: the judge compares nothing */
} tc_judgement;

/* A worker: what one thread keeps between recipes (finder of names, results kept by their exact inputs, compiled patterns).
 * Never shared. NULL: out of memory. */
typedef struct tc_worker tc_worker;
tc_worker *tc_worker_new(const tc_rulebook *rulebook, const tc_allocator *from);
void tc_worker_free(tc_worker *worker);
tc_finder *tc_worker_finder(tc_worker *worker);

/* From now on judgements have no reasons and no remedies, for a report that shows neither; verdicts, messages, what is lacking
 * and cautions are the same. */
void tc_worker_brief(tc_worker *worker);

/* Names of rules for the recipe reader's `accept`. */
tc_rule_names tc_rulebook_names(const tc_rulebook *rulebook);

/* Judges a recipe. TC_NO_MEMORY, or TC_OK with *judgement set. */
tc_status tc_judge(tc_worker *worker, tc_arena *arena, const tc_recipe *recipe, const tc_judgement **judgement);

/* The same at the times of a timetable; turns NULL: as written. */
tc_status tc_judge_at(tc_worker *worker, tc_arena *arena, const tc_recipe *recipe, const tc_turns *turns,
    const tc_judgement **judgement);

/* Asks one rule alone (shown_by): the strongest truth that it had for any subject, and whether it was U for any. */
tc_status tc_judge_rule(tc_worker *worker, tc_arena *arena, const tc_recipe *recipe, const tc_rule *rule,
    bool *fired, bool *unsure);

/* How many questions of how many were answered from what was kept; for the bench. */
void tc_worker_kept(const tc_worker *worker, uint64_t *asked, uint64_t *kept);

#endif
