/* Advice as edits of the recipe's text. */
#include <stdio.h>
#include <string.h>

#include "report/fix_private.h"
#include "rule/step_key.h"

void tc_fixer_edit(tc_fixer *f, size_t from, size_t to, const char *text)
{
	const tc_source *source = f->recipe->source;
	f->full = f->full || f->fix->edits == TC_FIX_EDITS_MAX;
	if (!f->full)
		f->fix->edit[f->fix->edits++] =
		    (tc_fix_edit){tc_source_place(source, from), tc_source_place(source, to), text};
}

const char *tc_fixer_take(tc_fixer *f)
{
	const char *text =
	    f->work.failed ? NULL : tc_arena_text(f->arena, f->work.at ? f->work.at : "", f->work.length);
	f->work.length = 0;
	return text;
}

static bool put_in(tc_fixer *f, size_t at)
{
	const char *text = tc_fixer_take(f);
	if (text)
		tc_fixer_edit(f, at, at, text);
	return text != NULL;
}

/* --- putting a step in ------------------------------------------------------------------------------------------- */

uint32_t tc_fixer_target(const tc_fixer *f)
{
	const char *place = f->advice->remedy->place;
	const tc_place related = f->finding->related;
	for (uint32_t i = 0; place && strcmp(place, "under") == 0 && related.file && i < f->recipe->steps; i++)
		if (f->recipe->step[i].place.line == related.line && f->recipe->step[i].place.column == related.column)
			return i;
	return f->finding->step ? f->finding->step - 1 : TC_NONE;
}

/* The part that a step put in is for, where it would else be for more than the finding speaks of. */
static const char *part_named(const tc_fixer *f, const char *yaml)
{
	if (f->recipe->parts < 2 || f->finding->part == TC_NONE || strncmp(yaml, "wait:", 5) == 0)
		return NULL;
	return f->recipe->part[f->finding->part].name;
}

/* `key: value` of the new step one after the other, with what stands between them. False: not of that form. */
static bool put_pairs(tc_fixer *f, const char *yaml, const char *between)
{
	const char *part = part_named(f, yaml);
	tc_fix_pair pair;
	bool first = true;
	while (*yaml) {
		if (!tc_fix_pair_next(&yaml, &pair))
			return false;
		tc_buffer_print(&f->work, "%s%.*s: %.*s", first ? "" : between, (int)pair.key.length, pair.key.at,
		    (int)pair.value.length, pair.value.at);
		first = false;
		if (tc_text_is(pair.key, "on"))
			part = NULL;
	}
	if (part) {
		tc_buffer_print(&f->work, "%son: ", between);
		tc_fix_put_scalar(part, &f->work);
	}
	return !first;
}

static bool put_block_steps(tc_fixer *f, const tc_fix_step *beside, bool after, const char *const *yaml, uint32_t count)
{
	const char *end = tc_fix_line_end(f->text);
	char between[128];
	if (beside->dash > 100)
		return false;
	snprintf(between, sizeof between, "%s%*s", end, (int)beside->dash + 2, "");
	for (uint32_t i = 0; i < count; i++) {
		if (after && beside->open)
			tc_buffer_puts(&f->work, end);
		tc_buffer_fill(&f->work, ' ', beside->dash);
		tc_buffer_puts(&f->work, "- ");
		if (!put_pairs(f, yaml[i], between))
			return false;
		if (!(after && beside->open))
			tc_buffer_puts(&f->work, end);
	}
	return put_in(f, after ? beside->end : beside->start);
}

static bool put_flow_steps(tc_fixer *f, const tc_fix_step *beside, bool after, const char *const *yaml, uint32_t count)
{
	for (uint32_t i = 0; i < count; i++) {
		tc_buffer_puts(&f->work, after ? ", {" : "{");
		if (!put_pairs(f, yaml[i], ", "))
			return false;
		tc_buffer_puts(&f->work, after ? "}" : "}, ");
	}
	return put_in(f, after ? beside->end : beside->start);
}

bool tc_fixer_put_steps(tc_fixer *f, uint32_t index, bool after, const char *const *yaml, uint32_t count)
{
	tc_fix_step beside;
	if (index == TC_NONE || !tc_fix_step_at(f->recipe, index, &beside))
		return false;
	return beside.flow ? put_flow_steps(f, &beside, after, yaml, count)
	                   : put_block_steps(f, &beside, after, yaml, count);
}

/* The step of the advice. */
static bool put_step(tc_fixer *f, uint32_t index, bool after)
{
	return f->advice->yaml && tc_fixer_put_steps(f, index, after, &f->advice->yaml, 1);
}

/* --- changing keys of a step ------------------------------------------------------------------------------------- */

/* Keys of which a step has one or the other. */
static bool excluded(const tc_node *map, tc_text key)
{
	if (tc_text_is(key, "pass") || tc_text_is(key, "coats"))
		return tc_map_get(map, "passes", NULL) != NULL;
	if (tc_text_is(key, "passes"))
		return tc_map_get(map, "pass", NULL) || tc_map_get(map, "coats", NULL);
	return false;
}

static const tc_node *get(const tc_node *map, tc_text key, const tc_node **key_node)
{
	for (uint32_t i = 0; i < map->count; i++)
		if (tc_text_same(tc_node_text(tc_map_key(map, i)), key)) {
			*key_node = tc_map_key(map, i);
			return tc_map_value(map, i);
		}
	return NULL;
}

bool tc_fixer_replace(tc_fixer *f, const tc_node *map, const tc_node *key, const tc_node *value, tc_text text)
{
	const bool one = value->kind == TC_SCALAR ? value->style <= TC_DOUBLE : value->kind == TC_LIST && value->flow;
	if (!one || value->anchored || !tc_fix_value_stands(map, key, value))
		return false;
	tc_buffer_add(&f->work, text);
	const char *kept = tc_fixer_take(f);
	if (kept)
		tc_fixer_edit(f, value->offset, value->end, kept);
	return kept != NULL;
}

/* The verb of the step: behind it a new key is put. */
static const tc_node *verb_of(const tc_fixer *f, const tc_node *map, const tc_node **key)
{
	const uint32_t verb = f->recipe->step[f->finding->step - 1].verb;
	return get(map, tc_text_of(tc_step_verb(verb)->name), key);
}

static bool put_key(tc_fixer *f, const tc_fix_step *step, const tc_fix_pair *pair)
{
	const tc_node *key, *value = verb_of(f, step->node, &key);
	bool open;
	if (!value || value->kind != TC_SCALAR || value->style > TC_DOUBLE ||
	    !tc_fix_value_stands(step->node, key, value))
		return false;
	if (step->node->flow) {
		if (f->text.at[step->node->offset] != '{')
			return false;
		tc_buffer_print(&f->work, ", %.*s: %.*s", (int)pair->key.length, pair->key.at, (int)pair->value.length,
		    pair->value.at);
		return put_in(f, value->end);
	}
	const size_t line = tc_fix_line_start(f->text, key->offset);
	const size_t after = tc_fix_line_after(f->text, value->end, &open);
	if (tc_fix_line_start(f->text, value->end) != line)
		return false;
	if (open)
		tc_buffer_puts(&f->work, tc_fix_line_end(f->text));
	tc_buffer_fill(&f->work, ' ', key->offset - line);
	tc_buffer_print(&f->work, "%.*s: %.*s%s", (int)pair->key.length, pair->key.at, (int)pair->value.length,
	    pair->value.at, open ? "" : tc_fix_line_end(f->text));
	return put_in(f, after);
}

static bool change(tc_fixer *f)
{
	const char *yaml = f->advice->yaml;
	tc_fix_step step;
	tc_fix_pair pair;
	if (!yaml || f->finding->step == 0 || !tc_fix_step_at(f->recipe, f->finding->step - 1, &step))
		return false;
	while (*yaml) {
		const tc_node *key;
		if (!tc_fix_pair_next(&yaml, &pair) || excluded(step.node, pair.key))
			return false;
		const tc_node *value = get(step.node, pair.key, &key);
		if (!(value ? tc_fixer_replace(f, step.node, key, value, pair.value) : put_key(f, &step, &pair)))
			return false;
	}
	return f->fix->edits > 0;
}

/* --- leaving out, shortening ------------------------------------------------------------------------------------- */

static bool leave_out(tc_fixer *f)
{
	const uint32_t index = f->finding->step - 1;
	tc_fix_step step, next;
	if (f->finding->step == 0 || f->recipe->steps < 2 || !tc_fix_step_at(f->recipe, index, &step))
		return false;
	const uint64_t parts = f->recipe->step[index].parts;
	if (parts & (parts - 1)) /* the other parts may need it */
		return false;
	size_t end = step.end;
	if (step.flow) {
		if (!tc_fix_step_at(f->recipe, index + 1, &next))
			return false;
		end = next.start;
	}
	tc_fixer_edit(f, step.start, end, "");
	return true;
}

void tc_fixer_time(double seconds, tc_buffer *out)
{
	static const struct {
		double size;
		const char *unit;
	} rows[] = {{86400, "d"}, {3600, "h"}, {60, "min"}, {1, "s"}};
	const double step = seconds >= 2 * 3600.0 ? 300 : seconds >= 120 ? 60 : 1;
	const double whole = floor(seconds / step + 1e-9) * step;
	size_t i = 0;
	while (i < 3 && floor(whole / rows[i].size) * rows[i].size < whole)
		i++;
	tc_buffer_number(out, whole / rows[i].size, 1, 9);
	tc_buffer_print(out, " %s", rows[i].unit);
}

static bool shorten(tc_fixer *f)
{
	const uint32_t number = f->finding->step; /* the wait is the step before */
	tc_fix_step step;
	const tc_node *key;
	if (number < 2 || f->recipe->step[number - 2].verb != TC_VERB_WAIT)
		return false;
	const tc_value wait = f->recipe->step[number - 2].wait;
	if (!tc_known(wait) || !(wait.number - f->advice->amount >= 1) || !tc_fix_step_at(f->recipe, number - 2, &step))
		return false;
	const tc_node *value = get(step.node, TC_TEXT("wait"), &key);
	tc_buffer time;
	tc_buffer_start(&time, f->work.from);
	tc_fixer_time(wait.number - f->advice->amount, &time);
	const bool good =
	    value && !time.failed && tc_fixer_replace(f, step.node, key, value, (tc_text){time.at, time.length});
	tc_buffer_free(&time);
	return good;
}

/* --- all of it --------------------------------------------------------------------------------------------------- */

static bool make(tc_fixer *f)
{
	switch (f->advice->edit) {
	case TC_EDIT_WAIT:
		return f->finding->step && put_step(f, f->finding->step - 1, false);
	case TC_EDIT_INSERT:
		return f->advice->materials ? tc_fixer_lay(f)
		                            : put_step(f, tc_fixer_target(f), f->advice->remedy->after);
	case TC_EDIT_INSTEAD:
		return tc_fixer_instead(f);
	case TC_EDIT_MOVE:
		return tc_fixer_move(f);
	case TC_EDIT_CHANGE:
		return change(f);
	case TC_EDIT_REMOVE:
		return leave_out(f);
	case TC_EDIT_SHORTEN:
		return shorten(f);
	default:
		return false;
	}
}

/* In the order of the text, as applying them needs it. Two at one place keep their order. */
static void sort(tc_fix *fix)
{
	for (uint32_t i = 1; i < fix->edits; i++) {
		const tc_fix_edit edit = fix->edit[i];
		uint32_t j = i;
		for (; j > 0 && (fix->edit[j - 1].from.line > edit.from.line ||
		                    (fix->edit[j - 1].from.line == edit.from.line &&
		                        fix->edit[j - 1].from.column > edit.from.column));
		     j--)
			fix->edit[j] = fix->edit[j - 1];
		fix->edit[j] = edit;
	}
}

uint32_t tc_fix_choices(const tc_advice *advice)
{
	return advice->materials ? advice->materials : 1;
}

bool tc_fix_choose(tc_arena *arena, const tc_judgement *judgement, const tc_finding *finding, const tc_advice *advice,
    uint32_t choice, tc_fix *fix)
{
	tc_fixer f = {.arena = arena,
	    .judgement = judgement,
	    .recipe = judgement->model->recipe,
	    .finding = finding,
	    .advice = advice,
	    .choice = choice,
	    .fix = fix};
	f.text = tc_source_text(f.recipe->source);
	*fix = (tc_fix){0};
	tc_buffer_start(&f.work, tc_arena_allocator(arena));
	const bool good = make(&f) && !f.full && !f.work.failed && !tc_arena_failed(arena);
	tc_buffer_free(&f.work);
	if (good)
		sort(fix);
	else
		fix->edits = 0;
	return good;
}

bool tc_fix_make(
    tc_arena *arena, const tc_judgement *judgement, const tc_finding *finding, const tc_advice *advice, tc_fix *fix)
{
	return tc_fix_choose(arena, judgement, finding, advice, 0, fix);
}
