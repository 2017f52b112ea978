/* What is asked of: labels of the shelf, names of the library, parts of a blend. */
#include "judge/try_private.h"

#include <string.h>

void tc_try_refuse(tc_trying *t, const char *id, const char *what, const char *format, ...)
{
	va_list list;
	va_start(list, format);
	const char *message = tc_arena_vprint(t->arena, format, list);
	va_end(list);
	if (message)
		tc_diag_add(t->diags, TC_ERROR, id, (tc_place){.file = what}, "%s", message);
}

static const tc_entry *family_of(const tc_recipe *recipe, const char *label)
{
	for (uint32_t i = 0; recipe && i < recipe->products; i++)
		if (recipe->product[i]->on_shelf && strcmp(recipe->product[i]->label, label) == 0)
			return recipe->product[i]->family;
	return NULL;
}

static void refuse_name(tc_trying *t, const char *what, tc_text name, tc_found found, const tc_find *find)
{
	const int length = (int)name.length;

	if (found == TC_FOUND_SEVERAL)
		tc_try_refuse(t, "several-names", what, "`%.*s` may be `%s` or `%s`; write the one that is meant",
		    length, name.at, find->entry->id, find->other->id);
	else if (found == TC_FOUND_UNCLEAR)
		tc_try_refuse(t, "unclear-name", what, "`%.*s` may be several unlike things: %s", length, name.at,
		    find->question);
	else if (found == TC_FOUND_LIMIT)
		tc_try_refuse(t, "bound", what,
		    "`%.*s` takes too long to compare with the patterns of the library; write its id", length, name.at);
	else if (find->nearest.length)
		tc_try_refuse(t, "unknown-name", what, "no `%.*s` in the library%s; `%.*s` is near", length, name.at,
		    t->shelf_path ? ", nor on the shelf" : "", (int)find->nearest.length, find->nearest.at);
	else
		tc_try_refuse(t, "unknown-name", what, "no `%.*s` in the library%s", length, name.at,
		    t->shelf_path ? ", nor on the shelf" : "");
}

const tc_entry *tc_try_find(tc_trying *t, const char *what, tc_text name, const uint32_t *groups, uint32_t count)
{
	tc_find find = {0};
	tc_found found = TC_FOUND_NOTHING;
	uint32_t all = 0;

	for (uint32_t i = 0; i < count && found == TC_FOUND_NOTHING; i++) {
		find = (tc_find){0};
		found = tc_finder_find(t->worker->finder, name, groups[i], &find);
		all |= groups[i];
	}
	if (found == TC_FOUND)
		return find.entry;
	if (found == TC_FOUND_NOTHING) {
		find = (tc_find){0};
		found = tc_finder_find(t->worker->finder, name, all, &find);
	}
	if (found == TC_FOUND_NO_MEMORY)
		t->no_memory = true;
	else
		refuse_name(t, what, name, found, &find);
	return NULL;
}

/* A label of the shelf, else an entry of the library; *written is how the recipe names it. */
static const tc_entry *settle_one(tc_trying *t, const char *what, const char *name, const uint32_t *groups,
    uint32_t count, const tc_recipe *labels, const char **written)
{
	const tc_entry *family = family_of(labels, name);
	uint32_t sections = 0;

	*written = name;
	if (!family) {
		const tc_entry *entry = tc_try_find(t, what, tc_text_of(name), groups, count);
		if (entry)
			*written = entry->id;
		return entry;
	}
	for (uint32_t i = 0; i < count; i++)
		sections |= groups[i];
	if (family->sections & sections)
		return family;
	tc_try_refuse(t, "wrong-material", what, "`%s` on the shelf is `%s`", name, family->id);
	return NULL;
}

#define BIT(section) (1u << TC_SECTION_##section)

tc_status tc_try_settle(tc_trying *t)
{
	static const uint32_t solids[] = {BIT(SUBSTRATES), BIT(COATINGS), BIT(FILLERS) | BIT(ADHESIVES) | BIT(DECALS)};
	static const uint32_t liquids[] = {
	    BIT(SOLVENTS) | BIT(BLENDS), BIT(COATINGS), BIT(AGENTS), BIT(FILLERS) | BIT(ADHESIVES)};
	const tc_try_ask *ask = t->ask;
	const tc_recipe *labels = NULL;
	tc_status status = ask->shelf ? tc_try_shelf(t) : TC_OK;

	if (status == TC_OK && ask->shelf)
		status = tc_try_labels(t, &labels);
	if (status != TC_OK)
		return status;
	if (tc_try_is_parts(ask->liquid) && !family_of(labels, ask->liquid)) {
		if (ask->shelf) {
			tc_try_refuse(t, "twice", "LIQUID",
			    "a blend of parts and a shelf do not go together; put the blend on the shelf");
			return TC_BAD;
		}
		status = tc_try_parts(t);
		t->liquid = tc_try_root(t, TC_SECTION_BLENDS);
		t->liquid_name = t->blend_label;
	} else {
		t->liquid = settle_one(
		    t, "LIQUID", ask->liquid, liquids, sizeof liquids / sizeof *liquids, labels, &t->liquid_name);
	}
	t->solid = settle_one(t, "SOLID", ask->solid, solids, sizeof solids / sizeof *solids, labels, &t->solid_name);
	if (t->no_memory || tc_arena_failed(t->arena))
		return TC_NO_MEMORY;
	return t->solid && t->liquid ? status : TC_BAD;
}

bool tc_try_is_paint(const tc_trying *t)
{
	return t->liquid->sections & BIT(COATINGS);
}

bool tc_try_is_part(const tc_trying *t)
{
	return t->solid->sections & BIT(SUBSTRATES);
}
