/* The verbs and keys of a recipe's steps as a table: the rows of step_key.def. Remedies are checked against it and the
 * recipe reader reads by it. */
#ifndef TC_RULE_STEP_KEY_H
#define TC_RULE_STEP_KEY_H

#include "base/limits.h"
#include "library/library.h"

typedef enum tc_step_form {
	TC_STEP_NUMBER, TC_STEP_SHARE, TC_STEP_TEMPERATURE, /* quantities: expressions in a remedy */
	TC_STEP_SYMBOL, TC_STEP_SYMBOLS, TC_STEP_WORD, TC_STEP_TRUTH, TC_STEP_TEXT, TC_STEP_RATIO, TC_STEP_MATERIAL,
	TC_STEP_PARTS, TC_STEP_MAP
} tc_step_form;

/* TC_K_<ID>: the keys; the verbs are TC_VERB_<ID> of library.h. */
typedef enum tc_step_key {
#define VERB(id, name, form, dim, vocabulary, sections, help)
#define KEY(id, name, form, dim, vocabulary, sections, verbs, help) TC_K_##id,
#include "rule/step_key.def"
#undef VERB
#undef KEY
	TC_STEP_KEY_COUNT
} tc_step_key;

typedef struct tc_step_row {
	const char *name;       /* `thin.with`: key `with` of the mapping `thin` */
	tc_step_form form;
	const tc_dim *dim;      /* of TC_STEP_NUMBER */
	const char *vocabulary; /* NULL: none */
	uint32_t sections;      /* of TC_STEP_MATERIAL: bits (1u << tc_section) */
	uint32_t verbs;         /* of a key: bits (1u << TC_VERB_…) */
	const char *help;
} tc_step_row;

const tc_step_row *tc_step_verb(uint32_t verb);    /* NULL past the last */
const tc_step_row *tc_step_key_of(uint32_t key);   /* NULL past the last */
uint32_t tc_step_verb_find(tc_text name);          /* TC_VERB_…, or TC_NONE */
uint32_t tc_step_key_find(tc_text name);           /* TC_K_…, or TC_NONE; a key of a mapping by its dotted name */
bool tc_step_is_quantity(const tc_step_row *row);

#endif
