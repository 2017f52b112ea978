/* Two versions of a file of recipes, compared: what `tiecoat versus` tells as text and as JSON. */
#ifndef TC_FACE_VERSUS_H
#define TC_FACE_VERSUS_H

#include "face/sheet.h"
#include "face/spend.h"
#include "report/fingerprint.h"

/* A finding, or an acceptance that accepts nothing, as it is compared. */
typedef struct tc_versus_item {
	char name[TC_FINGERPRINT_SIZE];
	const tc_finding *finding; /* NULL: an unused acceptance */
	const struct tc_accept *unused;
	bool met;
} tc_versus_item;
tc_verdict tc_versus_weight(const tc_versus_item *item);
const char *tc_versus_word(const tc_versus_item *item); /* a verdict, or `accepted` */

typedef enum tc_versus_kind { TC_VERSUS_NEW, TC_VERSUS_CHANGED, TC_VERSUS_GONE } tc_versus_kind;
const char *tc_versus_kind_name(tc_versus_kind kind);

typedef struct tc_versus_change {
	tc_versus_kind kind;
	const tc_versus_item *item;    /* of the old version where it is gone */
	const tc_versus_item *was;     /* of what has changed; else NULL */
	const tc_judgement *judgement; /* that it is of */
	bool counts;                   /* it is new, or weighs more, and has the weight of --at-least */
} tc_versus_change;

/* A recipe in both versions; one of them is NULL where it is new or no longer there, and then nothing is compared. */
typedef struct tc_versus_pair {
	const tc_judgement *old, *new;
	tc_spend was, is; /* of the old version and the new */
	uint32_t changes; /* what is new or changed in the order of the new version, then what is gone */
	const tc_versus_change *change;
	uint32_t same; /* findings that are as they were */
	bool none;     /* neither version has any */
	bool worse;    /* something that counts */
} tc_versus_pair;

/* False: out of memory. */
bool tc_versus_compare(tc_arena *arena, tc_verdict at_least, tc_versus_pair *pair);

const tc_part *tc_versus_part(const tc_model *model, const char *name); /* NULL: there is none */
/* Dry film of all layers of a part at the end, without spots and old finishes. False: of one it is not known. */
bool tc_versus_film(const tc_model *model, const tc_part *part, double *film);

/* Adds a pair to the sheet. */
void tc_versus_text(tc_sheet *sheet, tc_buffer *work, tc_verdict at_least, const tc_versus_pair *pair);

typedef struct tc_versus_whole {
	const char *old, *new; /* paths */
	const tc_rulebook *rulebook;
	tc_verdict at_least;
	uint32_t pairs;
	const tc_versus_pair *pair;
} tc_versus_whole;
tc_status tc_versus_json(const tc_versus_whole *whole, tc_buffer *out); /* docs/json.md */

#endif
