/* Supply: passes, then cups, then what to buy. */
#include <math.h>

#include "plan/supply_private.h"

/* What is lost and what cleans: NAN where some of it is not known. */
static double waste_of(const tc_supplying *s)
{
	double waste = s->supply->cleaning;
	for (uint32_t i = 0; i < s->supply->cups; i++)
		if (s->table->task[s->cup[i].task].step->verb == TC_VERB_COAT)
			waste += s->cup[i].lost;
	return waste;
}

tc_status tc_supply_make(tc_arena *arena, const tc_model *model, const tc_timetable *table, const tc_supply **supply)
{
	tc_supply *made = TC_NEW(arena, tc_supply);
	tc_supplying s = {.arena = arena,
	    .model = model,
	    .table = table,
	    .timed = table->state == TC_TABLE_FOUND,
	    .supply = made,
	    .methods = tc_library_words(model->library, TC_TEXT("method"))};
	if (!made || !tc_lay_gather(&s) || !tc_cups_fill(&s) || !tc_purchases_list(&s) || tc_arena_failed(arena))
		return TC_NO_MEMORY;
	made->laying = s.laying;
	made->cup = s.cup;
	made->currency = model->recipe->shop.currency;
	made->waste = waste_of(&s);
	*supply = made;
	return TC_OK;
}
