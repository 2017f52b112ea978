/* Advice that takes another material, lays one more, or moves a step. */
#include <string.h>

#include "report/fix_private.h"
#include "rule/step_key.h"

static const tc_entry *chosen(const tc_fixer *f)
{
	return tc_library_entry(tc_rulebook_library(f->judgement->rulebook), f->advice->material[f->choice]);
}

/* A label of the shelf stands before the library's names: who writes this id would get something else. */
static bool is_label(const tc_recipe *recipe, const char *id)
{
	for (uint32_t i = 0; i < recipe->products; i++)
		if (recipe->product[i]->on_shelf && strcmp(recipe->product[i]->label, id) == 0)
			return true;
	return false;
}

/* --- another material -------------------------------------------------------------------------------------------- */

/* The key that holds the material, in the step or in a mapping of it; NULL: none does. */
static const char *key_of(const tc_written_step *step, const tc_product *product, const char **map)
{
	*map = NULL;
	if (step->with == product)
		return tc_step_verb(step->verb)->name;
	if (step->softener == product)
		return "softener";
	if (step->grade == product)
		return "grade";
	if (step->thin.with != product)
		return NULL;
	*map = "thin";
	return "with";
}

/* What belongs to the paint of a step alone would be wrong for another one. */
static bool is_bound(const tc_written_step *step, const tc_product *product)
{
	return step->with == product && (step->thin.said || step->mix.count > 0);
}

bool tc_fixer_instead(tc_fixer *f)
{
	const tc_product *old = f->advice->replaced;
	const char *map_name;
	tc_fix_step step;
	if (f->finding->step == 0 || !old || f->advice->materials == 0 || f->advice->remedy->count > 0 ||
	    !tc_fix_step_at(f->recipe, f->finding->step - 1, &step))
		return false;
	const tc_written_step *written = &f->recipe->step[f->finding->step - 1];
	const char *name = key_of(written, old, &map_name);
	const tc_entry *new = chosen(f);
	const tc_node *key = NULL, *map = step.node;
	if (!name || is_bound(written, old) || is_label(f->recipe, new->id))
		return false;
	if (map_name)
		map = tc_map_get(map, map_name, NULL);
	const tc_node *value = map ? tc_map_get(map, name, &key) : NULL;
	f->fix->says = tc_arena_print(f->arena, "take %s in this step instead", new->name);
	return value && f->fix->says && tc_fixer_replace(f, map, key, value, tc_text_of(new->id));
}

/* --- one more coat ----------------------------------------------------------------------------------------------- */

/* How long it dries before the next step: till it may be coated, and till it is cured where that coat would dissolve it and
 * it may still be coated then. Negative: nobody knows. */
static double drying(const tc_entry *entry, bool bitten)
{
	const tc_value recoat = tc_entry_value(entry, TC_P_RECOAT), cured = tc_entry_value(entry, TC_P_FULL_CURE);
	double moment;
	if (!tc_known(recoat))
		return tc_known(cured) ? cured.number : -1;
	if (bitten && tc_known(cured) && tc_window_after(recoat.window, cured.number, &moment))
		return moment;
	return tc_window_after(recoat.window, 0, &moment) ? moment : -1;
}

bool tc_fixer_lay(tc_fixer *f)
{
	const tc_library *library = tc_rulebook_library(f->judgement->rulebook);
	const tc_entry *new = chosen(f);
	const uint32_t index = tc_fixer_target(f), role = f->advice->role[f->choice];
	const double dries = drying(new, f->advice->bitten[f->choice]);
	tc_buffer *out = &f->work;
	if (dries <= 0 || f->advice->remedy->count > 0 || f->advice->remedy->after || is_label(f->recipe, new->id))
		return false;
	tc_buffer_print(out, "coat: %s", new->id);
	if (role != TC_NONE)
		tc_buffer_print(out, ", role: %s", tc_library_words(library, TC_TEXT("role"))->words[role]);
	const char *coat = tc_fixer_take(f);
	tc_fixer_time(tc_wait_round_up(dries), out);
	const char *time = tc_fixer_take(f);
	const char *wait = time ? tc_arena_print(f->arena, "wait: %s", time) : NULL;
	if (!coat || !wait || index == TC_NONE)
		return false;
	f->fix->says =
	    tc_arena_print(f->arena, "lay %s before step %u, and wait %s", new->name, (unsigned)index + 1, time);
	return f->fix->says && tc_fixer_put_steps(f, index, false, (const char *const[]){coat, wait}, 2);
}

/* --- another place ----------------------------------------------------------------------------------------------- */

/* Is all of the node written between its ends? What comes by an alias stands before it. */
static bool is_whole(const tc_node *node, const tc_node *within)
{
	const uint32_t count = node->kind == TC_SCALAR ? 0 : node->kind == TC_MAP ? 2 * node->count : node->count;
	if (node->anchored || node->offset < within->offset || node->end > within->end)
		return false;
	for (uint32_t i = 0; i < count; i++)
		if (!is_whole(node->items[i], within))
			return false;
	return true;
}

static bool move_block(tc_fixer *f, const tc_fix_step *step, const tc_fix_step *to, bool after)
{
	const size_t at = after ? to->end : to->start;
	tc_buffer_add(&f->work, (tc_text){f->text.at + step->start, step->end - step->start});
	if (step->open)
		tc_buffer_puts(&f->work, tc_fix_line_end(f->text));
	const char *text = tc_fixer_take(f);
	if (!text || to->open || at >= step->start)
		return false;
	tc_fixer_edit(f, at, at, text);
	tc_fixer_edit(f, step->start, step->end, "");
	return true;
}

/* With the comma that parts it from the step before it. */
static bool move_flow(
    tc_fixer *f, const tc_fix_step *step, const tc_fix_step *before, const tc_fix_step *to, bool after)
{
	const tc_text item = {f->text.at + step->start, step->end - step->start};
	const size_t at = after ? to->end : to->start;
	tc_buffer_puts(&f->work, after ? ", " : "");
	tc_buffer_add(&f->work, item);
	tc_buffer_puts(&f->work, after ? "" : ", ");
	const char *text = tc_fixer_take(f);
	if (!text || at >= before->end)
		return false;
	tc_fixer_edit(f, at, at, text);
	tc_fixer_edit(f, before->end, step->end, "");
	return true;
}

bool tc_fixer_move(tc_fixer *f)
{
	const char *place = f->advice->remedy->place;
	const uint32_t from = f->finding->step ? f->finding->step - 1 : TC_NONE, to = tc_fixer_target(f);
	tc_fix_step step, before, beside;
	if (!place || strcmp(place, "under") != 0 || from == TC_NONE || to == TC_NONE || to >= from)
		return false;
	const uint64_t parts = f->recipe->step[from].parts;
	if (parts & (parts - 1)) /* on the other parts it may stand well where it is */
		return false;
	if (!tc_fix_step_at(f->recipe, from, &step) || !tc_fix_step_at(f->recipe, from - 1, &before) ||
	    !tc_fix_step_at(f->recipe, to, &beside) || !is_whole(step.node, step.node))
		return false;
	const bool after = f->advice->remedy->after;
	return step.flow ? move_flow(f, &step, &before, &beside, after) : move_block(f, &step, &beside, after);
}
