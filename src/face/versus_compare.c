/* What the new version of a recipe changes. */
#include <string.h>

#include "face/versus.h"

tc_verdict tc_versus_weight(const tc_versus_item *i)
{
	return i->finding ? i->finding->weight : TC_V_WARNING;
}

const char *tc_versus_word(const tc_versus_item *i)
{
	if (!i->finding)
		return tc_verdict_name(TC_V_WARNING);
	return i->finding->accept ? "accepted" : tc_verdict_name(i->finding->verdict);
}

const char *tc_versus_kind_name(tc_versus_kind kind)
{
	static const char *const names[] = {
	    [TC_VERSUS_NEW] = "new", [TC_VERSUS_CHANGED] = "changed", [TC_VERSUS_GONE] = "gone"};
	return names[kind];
}

/* --- findings ---------------------------------------------------------------------------------------------------- */

/* Names hold the recipe's title: the old one's findings are named as if it were called like the new one. NULL: out of
 * memory. */
static tc_versus_item *list_items(tc_arena *arena, const tc_judgement *judgement, const char *title, uint32_t *count)
{
	tc_recipe recipe = *judgement->model->recipe;
	tc_model model = *judgement->model;
	tc_judgement renamed = *judgement;
	tc_versus_item *items = TC_ARRAY(arena, judgement->findings + judgement->unused, tc_versus_item);
	recipe.title = title;
	model.recipe = &recipe;
	renamed.model = &model;
	*count = 0;
	for (uint32_t i = 0; items && i < judgement->findings; i++, (*count)++) {
		items[*count].finding = &judgement->finding[i];
		tc_fingerprint(&renamed, &judgement->finding[i], items[*count].name);
	}
	for (uint32_t i = 0; items && i < judgement->unused; i++, (*count)++) {
		items[*count].unused = judgement->unused_accept[i];
		tc_fingerprint_unused(&renamed, judgement->unused_accept[i], items[*count].name);
	}
	return items;
}

static tc_versus_item *find_item(tc_versus_item *items, uint32_t count, const char *name)
{
	for (uint32_t i = 0; i < count; i++)
		if (!items[i].met && strcmp(items[i].name, name) == 0)
			return &items[i];
	return NULL;
}

static bool counts(const tc_versus_item *i, tc_verdict at_least)
{
	return !(i->finding && i->finding->accept) && tc_versus_weight(i) >= at_least;
}

static bool same_state(const tc_versus_item *a, const tc_versus_item *b)
{
	return strcmp(tc_versus_word(a), tc_versus_word(b)) == 0 && tc_versus_weight(a) == tc_versus_weight(b);
}

static bool compare_both(tc_arena *arena, tc_verdict at_least, tc_versus_pair *pair)
{
	const char *title = pair->new->model->recipe->title;
	uint32_t were, are;
	tc_versus_item *was = list_items(arena, pair->old, title, &were),
	               *is = list_items(arena, pair->new, title, &are);
	tc_versus_change *changes = TC_ARRAY(arena, were + are, tc_versus_change);
	if (!was || !is || !changes)
		return false;
	pair->change = changes;
	pair->none = were + are == 0;
	for (uint32_t i = 0; i < are; i++) {
		tc_versus_item *before = find_item(was, were, is[i].name);
		if (before)
			before->met = true;
		if (before && same_state(before, &is[i])) {
			pair->same++;
			continue;
		}
		const bool weighs = counts(&is[i], at_least) && !(before && counts(before, at_least));
		changes[pair->changes++] =
		    (tc_versus_change){before ? TC_VERSUS_CHANGED : TC_VERSUS_NEW, &is[i], before, pair->new, weighs};
		pair->worse = pair->worse || weighs;
	}
	for (uint32_t i = 0; i < were; i++)
		if (!was[i].met)
			changes[pair->changes++] = (tc_versus_change){TC_VERSUS_GONE, &was[i], NULL, pair->old, false};
	return true;
}

static bool has_weight(const tc_judgement *judgement, tc_verdict at_least)
{
	for (uint32_t i = 0; i < judgement->findings; i++)
		if (!judgement->finding[i].accept && judgement->finding[i].weight >= at_least)
			return true;
	return judgement->unused > 0 && at_least <= TC_V_WARNING;
}

bool tc_versus_compare(tc_arena *arena, tc_verdict at_least, tc_versus_pair *pair)
{
	if (pair->old && pair->new)
		return compare_both(arena, at_least, pair);
	pair->worse = pair->new &&has_weight(pair->new, at_least);
	return true;
}

/* --- figures ----------------------------------------------------------------------------------------------------- */

bool tc_versus_film(const tc_model *model, const tc_part *part, double *film)
{
	*film = 0;
	for (uint32_t i = 0; i < part->layers; i++) {
		const tc_value one = tc_layer_film(part->layer[i], model->end);
		if (part->layer[i]->spot || part->layer[i]->old)
			continue;
		if (!tc_known(one))
			return false;
		*film += one.number;
	}
	return true;
}

const tc_part *tc_versus_part(const tc_model *model, const char *name)
{
	for (uint32_t i = 0; i < model->parts; i++)
		if (strcmp(model->part[i].written->name, name) == 0)
			return &model->part[i];
	return NULL;
}
