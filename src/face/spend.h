/* What the paint of a plan costs, where its shelf says prices. */
#ifndef TC_FACE_SPEND_H
#define TC_FACE_SPEND_H

#include "stack/model.h"

typedef struct tc_spend {
	double cost;       /* of all that has a price and a size */
	bool priced;       /* something has */
	const char *lacks; /* a label with a price of which it cannot be told how much is used; NULL: none */
} tc_spend;

/* The share of a pack that is used counts, not the packs that must be bought; thinner too. The loss in cup and gun counts once
 * for each step and product. */
void tc_spend_of(const tc_model *model, tc_spend *spend);

#endif
