/* What a plan uses of what has a price, in money. */
#ifndef TC_FACE_SPEND_H
#define TC_FACE_SPEND_H

#include "plan/plan.h"

typedef struct tc_spend {
	double cost;       /* of all that has a price and a pack */
	bool priced;       /* something has */
	const char *lacks; /* what has a price and of which it cannot be told how much is used; NULL: none */
} tc_spend;

/* The share of a pack that is used counts, not the packs that must be bought: two versions of a recipe differ in that. Amounts are
 * those of the bench card, losses and cleaning included. */
void tc_spend_of(const tc_plan *plan, tc_spend *spend);

#endif
