/* Cost of what a plan uses. */
#include "face/spend.h"

void tc_spend_of(const tc_plan *plan, tc_spend *spend)
{
	*spend = (tc_spend){0};
	for (uint32_t i = 0; i < plan->supply->purchases; i++) {
		const tc_purchase *p = &plan->supply->purchase[i];
		if (isnan(p->price) || isnan(p->pack) || p->pack <= 0)
			continue;
		spend->priced = true;
		if (!isnan(p->volume))
			spend->cost += p->price * p->volume / p->pack;
		else if (!spend->lacks)
			spend->lacks = p->name;
	}
}
