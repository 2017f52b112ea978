/* A rulebook: the library and the rules, compiled. Immutable; any number of threads may check against it. */
#ifndef TC_RULE_RULEBOOK_H
#define TC_RULE_RULEBOOK_H

#include "rule/field.h"

typedef enum tc_ask { TC_ASK_RECIPE, TC_ASK_PART, TC_ASK_STEP, TC_ASK_COAT, TC_ASK_CONTACT, TC_ASK_TOUCH, TC_ASK_COUNT } tc_ask;
typedef enum tc_verdict { TC_V_NOTE, TC_V_WARNING, TC_V_ERROR, TC_V_UNDECIDED } tc_verdict;
const char *tc_ask_name(tc_ask ask);
/* The slots of tc_question.bound that such a question binds, as bits 1 << TC_SLOT_…; the names that its rules may use. */
uint32_t tc_ask_slots(tc_ask ask);
const char *tc_verdict_name(tc_verdict verdict); /* note, warning, error, undecided */

typedef struct tc_expr tc_expr;         /* a compiled expression */
typedef struct tc_template tc_template; /* text with holes */

/* --- remedies: typed edits ---------------------------------------------------------------------------------------- */
typedef enum tc_edit { TC_EDIT_WAIT, TC_EDIT_SHORTEN, TC_EDIT_CHANGE, TC_EDIT_INSERT, TC_EDIT_INSTEAD, TC_EDIT_REMOVE,
	TC_EDIT_MOVE, TC_EDIT_DO } tc_edit;

/* One key of a step and its new value: an expression for a quantity, else a word, text or material as in a recipe.
 * `key` is a name of step_key.def, dotted for the keys of a mapping (`thin.with`); of a list, one row for each item. */
typedef struct tc_edit_key {
	const char *key;
	const tc_expr *amount; /* NULL: `word` */
	const char *word;
} tc_edit_key;

typedef struct tc_remedy {
	tc_edit edit;
	const tc_expr *amount;    /* wait, shorten */
	uint32_t count;           /* change; insert of a step */
	const tc_edit_key *keys;  /* an inserted step: its verb is keys[0].key */
	uint32_t kind;            /* insert or instead by kind: entry, else TC_NONE */
	const tc_expr *that;      /* condition on `new`, or NULL */
	const char *place;        /* insert, move: the name of the subject before or after which: coat, step, under */
	bool after;
	const tc_template *says;  /* do: the sentence */
} tc_remedy;

/* A recipe of shown_by, kept as the tree that the recipe reader takes. */
typedef enum tc_shown { TC_SHOWN_BREAKS, TC_SHOWN_HOLDS, TC_SHOWN_OPEN } tc_shown;
typedef struct tc_shown_by {
	tc_shown kind;
	const tc_node *node;
	const tc_source *source;
} tc_shown_by;

typedef struct tc_rule {
	const char *id, *about;
	uint32_t index;          /* rules are sorted by id */
	tc_ask ask;
	tc_verdict verdict;
	uint32_t defect;         /* TC_NONE */
	const tc_expr *when;
	const char *when_text;   /* as written, for `rules ID` */
	const tc_template *says;
	uint32_t remedies;
	const tc_remedy *remedy;
	const uint32_t *cautions; /* TC_NONE-terminated */
	const uint32_t *outranks; /* indexes of rules, TC_NONE-terminated */
	const tc_basis *const *bases; /* NULL-terminated: `from` may be a list */
	const char *note;
	tc_place place;
} tc_rule;

typedef struct tc_rulebook tc_rulebook;

/* Reads, checks and compiles a whole rulebook. All errors are in `diags`; on TC_BAD there is no rulebook. The rulebook
 * lives in an arena of its own, drawn from `from`, until tc_rulebook_free. `keep_shown`: keep the recipes of shown_by
 * (they need the files' bytes for as long). */
tc_status tc_rulebook_load(const tc_allocator *from, const tc_rulebook_file *files, size_t count, bool keep_shown,
    tc_diags *diags, tc_rulebook **rulebook);
void tc_rulebook_free(tc_rulebook *rulebook);

const tc_library *tc_rulebook_library(const tc_rulebook *rulebook);
uint32_t tc_rulebook_rules(const tc_rulebook *rulebook);
const tc_rule *tc_rulebook_rule(const tc_rulebook *rulebook, uint32_t index);
const tc_rule *tc_rulebook_find(const tc_rulebook *rulebook, tc_text id); /* NULL */
uint32_t tc_rulebook_shown(const tc_rulebook *rulebook, uint32_t rule);
const tc_shown_by *tc_rulebook_shown_at(const tc_rulebook *rulebook, uint32_t rule, uint32_t index);
uint32_t tc_rulebook_changes(const tc_rulebook *rulebook);
const tc_change *tc_rulebook_change(const tc_rulebook *rulebook, uint32_t index);
uint64_t tc_rulebook_stamp(const tc_rulebook *rulebook); /* hash of the sources and of the tables of fields and properties */

/* Does a rule's door let this pair of materials in (NULL: not of this question)? False only if a test of kind or verb among the
 * top conjuncts of `when` that depends on these alone is F. Words of an entry (`under.cure is oxidation`) are no door: a shelf
 * may say otherwise. */
bool tc_rule_door(const tc_rulebook *rulebook, const tc_rule *rule, const tc_entry *coat, const tc_entry *under, uint32_t verb);
/* A test that stands among the top conjuncts of several rules of an ask: where it is F, so are all of them (tc_bolted in eval.h). */
typedef struct tc_bolt {
	const tc_expr *expr;       /* of one of the rules; the test is its instructions from `start` to `end` */
	uint32_t start, end, weight;
	uint32_t count;
	const uint32_t *rules;     /* by index, in order */
} tc_bolt;
/* The bolts of an ask; first what is cheap for the number of its rules. None of them asks for the science. */
uint32_t tc_rulebook_bolts(const tc_rulebook *rulebook, tc_ask ask, const tc_bolt **bolts);

/* Does the rule speak of this pair (language.md §10): it has tests of kind on both its sides among the top conjuncts of
 * `when`, none with `not`, and none of them is F? `coat` is the layer's material, or in a touch the liquid's. */
bool tc_rule_speaks_of(const tc_rulebook *rulebook, const tc_rule *rule, const tc_entry *coat, const tc_entry *under);

/* Does a rule ask on both its sides for no more than a whole tree of kinds, such as any coat? What it speaks of is then no
 * pair in particular. */
bool tc_rule_is_general(const tc_rulebook *rulebook, const tc_rule *rule);

/* --- the image ---------------------------------------------------------------------------------------------------- */
/* Writes a loaded rulebook (without shown_by) as an image: the block of memory that it lies in, and where pointers are
 * in it. The same files give the same bytes. */
tc_status tc_rulebook_image(const tc_rulebook_file *files, size_t count, tc_diags *diags, tc_buffer *image);
/* A rulebook from an image, copied and set right; TC_BAD if it was made for other tables or another kind of machine. */
tc_status tc_rulebook_from_image(const tc_allocator *from, const void *image, size_t length, tc_rulebook **rulebook);
/* The address, on a page, at which an image would be used where it lies, without a copy; read-only memory will do, and must
 * stay until the rulebook is freed. NULL: not an image for this program. */
const void *tc_rulebook_image_home(const void *image, size_t length);

#endif
