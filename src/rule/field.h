/* What a rule can ask, as data: the rows of field.def and, behind them, the properties of the library. */
#ifndef TC_RULE_FIELD_H
#define TC_RULE_FIELD_H

#include "base/limits.h"
#include "library/library.h"

typedef enum tc_subject {
	TC_S_ASK, TC_S_RECIPE, TC_S_SHOP, TC_S_PART, TC_S_STEP, TC_S_LAYER, TC_S_EXPOSED, TC_S_LIQUID, TC_S_PRODUCT,
	TC_SUBJECT_COUNT
} tc_subject;

/* F_<SUBJECT>_<NAME> for both forms of row. */
typedef enum tc_field {
#define FIELD(subject, id, name, type, dim, extra, flags, unsaid, cost, help) TC_F_##subject##_##id,
#define CALL(subject, id, name, type, dim, extra, flags, unsaid, cost, args, help) TC_F_##subject##_##id,
#include "rule/field.def"
#undef FIELD
#undef CALL
	TC_FIELD_COUNT,
	/* TC_FIELD_PROPERTY + p is property p of the subject's material */
	TC_FIELD_PROPERTY = 256
} tc_field;

enum { TC_MAY_BE_ABSENT = 1, TC_NEVER_NEGATIVE = 2, TC_AS_WRITTEN = 4 };
typedef enum tc_unsaid { TC_UNSAID_UNKNOWN, TC_UNSAID_NO, TC_UNSAID_ASSUMED, TC_UNSAID_ABSENT, TC_UNSAID_COMPUTED } tc_unsaid;

typedef struct tc_field_row {
	tc_subject subject;
	const char *name;
	tc_type type;
	tc_dim dim;
	const char *vocabulary;  /* of symbols; NULL */
	tc_subject of;           /* of TC_T_SUBJECT: which */
	unsigned flags;
	tc_unsaid unsaid;
	int cost;
	const char *arguments;   /* NULL: a plain field; "XB": see field.def */
	const char *help;
} tc_field_row;

/* The row of a field; for TC_FIELD_PROPERTY + p a row made of the property's. */
const tc_field_row *tc_field_row_of(uint32_t field, tc_field_row *room);
/* The field of that name which the subject has (following EXPOSED → LAYER → properties …), or TC_NONE. */
uint32_t tc_field_find(tc_subject subject, tc_text name);
/* Offers every field name of the subject, for 'is near' and for help. */
void tc_field_each(tc_subject subject, void (*each)(void *user, uint32_t field, const char *name), void *user);
const char *tc_subject_name(tc_subject subject); /* 'a layer', 'an exposed material' … */

#endif
