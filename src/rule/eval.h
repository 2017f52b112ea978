/* Asking: expressions are evaluated against a question that the judge sets up. The evaluator knows no recipe: every field
 * comes through the getter. No allocation while deciding. */
#ifndef TC_RULE_EVAL_H
#define TC_RULE_EVAL_H

#include "rule/rulebook.h"

/* The names that a question binds: slots of tc_question.bound. Folds and lets bind further ones behind these. */
enum { TC_SLOT_RECIPE, TC_SLOT_SHOP, TC_SLOT_PART, TC_SLOT_STEP, TC_SLOT_COAT, TC_SLOT_UNDER, TC_SLOT_LIQUID, TC_SLOT_NEW,
	TC_SLOT_COUNT };

/* Ranges of a fold (language.md §3, §6). */
typedef enum tc_range { TC_R_EARLIER_LAYERS, TC_R_LATER_LAYERS, TC_R_EARLIER_STEPS, TC_R_LATER_STEPS, TC_R_LAYERS_SINCE,
	TC_R_STEPS_SINCE, TC_R_ALL_LAYERS, TC_R_ALL_STEPS, TC_R_ALL_PARTS, TC_R_ALL_PRODUCTS, TC_R_EXPOSED, TC_R_PASSES } tc_range;

typedef struct tc_question tc_question;

/* Compiled patterns of `matches`, for one worker: filled as they are met, without JIT. Never shared. NULL: out of memory. */
typedef struct tc_patterns tc_patterns;
tc_patterns *tc_patterns_new(const tc_allocator *from);
void tc_patterns_free(tc_patterns *patterns);

/* What the judge supplies. `user` is the judge's. */
typedef struct tc_getter {
	/* The value of a field of `subject` (its type is given by `of`), with its arguments already evaluated. An argument X comes
	 * as a value of TC_T_SUBJECT. Never called with an unknown or absent subject or argument. */
	tc_value (*field)(const tc_question *question, uint32_t field, tc_subject of, const void *subject, const tc_value *arguments);
	/* The elements of a range, oldest first: sets *items to an array of `count` subjects of kind *of that lives as long as the
	 * question; `anchor` is the subject after `of` or `since` (NULL: the asked one). */
	uint32_t (*range)(const tc_question *question, tc_range range, tc_subject anchor_of, const void *anchor,
	    tc_subject *of, const void *const **items);
	/* The material of a subject, for `is`: its entry, or NULL where it is not known at all. */
	const tc_entry *(*material)(const tc_question *question, tc_subject of, const void *subject);
	/* Text for a template's hole: how a subject or a text prints. */
	void (*print)(const tc_question *question, tc_subject of, const void *subject, tc_buffer *out);
} tc_getter;

struct tc_question {
	const tc_rulebook *rulebook;
	const tc_getter *getter;
	void *user;
	tc_patterns *patterns;        /* NULL: every `matches` is U */
	tc_ask ask;
	tc_value bound[TC_NAMES_MAX]; /* subjects; those that the question has not are absent */
	uint32_t *steps_left;         /* of the recipe, TC_STEPS_PER_CHECK at first; 0 ends everything with U */
	uint32_t spent;               /* instructions of the last tc_decide */
	bool terse;                   /* tc_explain prints no values: nobody reads them */
	bool hit_rule_bound, hit_check_bound; /* set by whatever hit the bound, cleared by nobody but the judge */
};

/* Decides `when`: operands by cost, first F of an `and` and first T of an `or` end it. */
tc_truth tc_decide(tc_question *question, const tc_expr *when);

/* Is this test, which several rules share, F of the question's subject? */
bool tc_bolted(tc_question *question, const tc_bolt *bolt);

/* The value of any expression (amounts of remedies, lets). */
tc_value tc_evaluate(tc_question *question, const tc_expr *expr);

/* --- explaining --------------------------------------------------------------------------------------------------- */
/* A leaf that decided: a comparison or a truth field, and the values in it. Only for `when` that came out T or U. */
typedef struct tc_leaf {
	const char *text;      /* as written: `coat.red(under) < 1` */
	tc_truth truth;
	uint32_t count;        /* of paths in the leaf */
	struct tc_leaf_path {
		const char *text;  /* `coat.red(under)` */
		uint32_t field;    /* the last field of the path, TC_NONE for a bare subject */
		tc_subject of;     /* whose field it is */
		const void *subject;
		tc_value value;
		tc_value arguments[2];
		tc_dim dim;
		char printed[48];  /* with unit, digits so that it does not read as its bound */
	} paths[4];
} tc_leaf;

/* The leaves that decided, in source order, at most `room`; returns how many there are. When `when` is U these are the unknown
 * leaves under a subexpression that is U all the way up. Also leaves in question->bound what an `any` among the top
 * conjuncts bound, for templates and remedies. */
uint32_t tc_explain(tc_question *question, const tc_expr *when, tc_arena *arena, tc_leaf *leaves, uint32_t room);
/* Only the last of this: leaves bound what an `any` among the top conjuncts binds. */
void tc_bind_names(tc_question *question, const tc_expr *when);

/* Fills in a template. */
void tc_template_print(tc_question *question, const tc_template *template, tc_buffer *out);

/* Prints a value of an expression's type as a template would: unit by size, three digits. */
void tc_value_print(tc_question *question, tc_value value, tc_dim dim, const char *vocabulary, tc_buffer *out);

/* The compiled form, for golden tests and `rules --code ID`. */
void tc_expr_dump(const tc_rulebook *rulebook, const tc_expr *expr, tc_buffer *out);
void tc_expr_type(const tc_expr *expr, tc_type *type, tc_dim *dim);

/* Compiles a single expression (tests, fuzzing, `bite`), with the names of `ask` in scope. NULL with diagnostics, or with
 * none when out of memory. */
const tc_expr *tc_expr_compile(const tc_rulebook *rulebook, tc_arena *arena, tc_ask ask, tc_text text, tc_diags *diags);

#endif
