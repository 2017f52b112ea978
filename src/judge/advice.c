/* Remedies filled in for one finding: each as a sentence for a person and as the YAML of the edit for a machine. */
#include "judge/private.h"

#include <string.h>

typedef struct writer {
	tc_findings *fs;
	tc_arena *arena;
	tc_buffer text, yaml;
} writer;

static tc_value amount(writer *w, const tc_expr *expr, tc_dim *dim)
{
	tc_type type;

	tc_expr_type(expr, &type, dim);
	return tc_evaluate(&w->fs->question, expr);
}

/* A whole time in the largest unit that divides it, as a recipe reads it: `90 min`, not `1 h 30 min`. */
static void print_time(double seconds, tc_buffer *out)
{
	static const struct {
		double size;
		const char *unit;
	} rows[] = {{86400, "d"}, {3600, "h"}, {60, "min"}, {1, "s"}};
	size_t i = 0;

	while (i < 3 && tc_compare(seconds / rows[i].size, floor(seconds / rows[i].size + 1e-9)) != 0)
		i++;
	tc_buffer_number(out, ceil(seconds / rows[i].size - 1e-9), 1, 9);
	tc_buffer_print(out, " %s", rows[i].unit);
}

/* A value as a recipe would say it. */
static void print_value(writer *w, tc_value value, tc_dim dim, tc_buffer *out)
{
	if (value.type == TC_T_NUMBER && tc_dim_same(dim, TC_DIM_TIME))
		print_time(tc_wait_round_up(value.number), out);
	else if (value.type == TC_T_NUMBER && tc_dim_none(dim))
		tc_buffer_number(out, ceil(value.number - 1e-9), 1, 6);
	else
		tc_value_print(&w->fs->question, value, dim, NULL, out);
}

/* A key's value. False when it is unknown, absent or not above zero: the remedy is then left out. */
static bool print_amount(writer *w, const tc_edit_key *key, tc_buffer *out)
{
	tc_dim dim;

	if (!key->amount) {
		tc_buffer_puts(out, key->word ? key->word : "yes");
		return true;
	}
	tc_value value = amount(w, key->amount, &dim);
	if (!tc_known(value) || (value.type == TC_T_NUMBER && !(value.number > 0)))
		return false;
	print_value(w, value, dim, out);
	return true;
}

/* How many of the keys from `i` on belong into one value: the items of a list (one key again and again), or the keys of a
 * mapping (`thin.with`, `thin.ratio`). */
static uint32_t group(const tc_remedy *r, uint32_t i, bool *map)
{
	const char *dot = strchr(r->keys[i].key, '.');
	size_t length = dot ? (size_t)(dot - r->keys[i].key) + 1 : strlen(r->keys[i].key) + 1;
	uint32_t n = 1;

	*map = dot != NULL;
	while (i + n < r->count && strncmp(r->keys[i].key, r->keys[i + n].key, length) == 0)
		n++;
	return n;
}

static bool print_group(writer *w, const tc_edit_key *keys, uint32_t count, bool map, tc_buffer *out)
{
	const char *dot = strchr(keys[0].key, '.');

	tc_buffer_print(out, "%.*s: ", (int)(map ? dot - keys[0].key : (long)strlen(keys[0].key)), keys[0].key);
	if (map || count > 1)
		tc_buffer_char(out, map ? '{' : '[');
	for (uint32_t i = 0; i < count; i++) {
		if (i)
			tc_buffer_puts(out, ", ");
		if (map)
			tc_buffer_print(out, "%s: ", strchr(keys[i].key, '.') + 1);
		if (!print_amount(w, &keys[i], out))
			return false;
	}
	if (map || count > 1)
		tc_buffer_char(out, map ? '}' : ']');
	return true;
}

static bool print_keys(writer *w, const tc_remedy *r, tc_buffer *out)
{
	bool map;

	for (uint32_t i = 0; i < r->count;) {
		uint32_t n = group(r, i, &map);
		if (i)
			tc_buffer_puts(out, ", ");
		if (!print_group(w, &r->keys[i], n, map, out))
			return false;
		i += n;
	}
	return r->count > 0;
}

/* Where an inserted step goes, in words. */
static void print_where(writer *w, const tc_remedy *r, tc_buffer *out)
{
	const tc_scene *scene = w->fs->scene;
	const tc_exposed *under = scene->contact ? scene->contact->under : NULL;
	const char *side = r->after ? "after" : "before";

	if (r->place && strcmp(r->place, "under") == 0 && under && under->layer && under->layer->step)
		tc_buffer_print(out, " %s step %u (%s)", side, under->layer->step->number, under->layer->product->label);
	else if (scene->at)
		tc_buffer_print(out, " %s step %u", side, scene->at->step->number);
	else
		tc_buffer_print(out, " %s the plan begins", side);
}

static bool say_wait(writer *w, const tc_remedy *r, tc_advice *advice)
{
	tc_dim dim;
	tc_value value = amount(w, r->amount, &dim);

	if (!tc_known(value) || !(value.number > 0) || value.number > TC_TIME_MAX)
		return false;
	advice->amount = r->edit == TC_EDIT_WAIT ? tc_wait_round_up(value.number) : value.number;
	if (r->edit == TC_EDIT_WAIT) {
		tc_buffer_puts(&w->text, "wait ");
		tc_duration_print(&w->text, advice->amount);
		tc_buffer_puts(&w->text, " more before this step");
		tc_buffer_puts(&w->yaml, "wait: ");
		print_time(advice->amount, &w->yaml);
	} else {
		tc_buffer_puts(&w->text, "shorten the wait before this step by ");
		tc_duration_print(&w->text, advice->amount);
	}
	return true;
}

/* --- other materials ------------------------------------------------------------------------------------------------ */

/* Does the product meet the remedy's condition, and in place of a coat can it serve as that coat does? */
static bool product_would_do(writer *w, const tc_remedy *r, const tc_product *candidate)
{
	const tc_scene *scene = w->fs->scene;
	tc_question question = w->fs->question;

	if (r->edit == TC_EDIT_INSTEAD && scene->at && scene->at->layer && scene->at->layer->role != TC_NONE) {
		tc_value roles = tc_product_value(candidate, TC_P_ROLES);
		if (!tc_known(roles) || !(roles.set >> scene->at->layer->role & 1))
			return false;
	}
	if (!r->that)
		return true;
	question.bound[TC_SLOT_NEW] = tc_subject_value(TC_S_PRODUCT, candidate);
	tc_value yes = tc_evaluate(&question, r->that);
	return tc_known(yes) && yes.truth == TC_TRUE;
}

static bool would_do(writer *w, const tc_remedy *r, const tc_entry *entry)
{
	const tc_product candidate = {.label = entry->name, .family = entry};

	return product_would_do(w, r, &candidate);
}

/* The first role in which it would do, unless it would do in any of several. */
static uint32_t role_of(writer *w, const tc_remedy *r, const tc_entry *entry)
{
	const tc_figure *own[TC_PROPERTY_COUNT] = {NULL};
	const tc_product candidate = {.label = entry->name, .family = entry, .own = own};
	tc_figure one = {.value = tc_entry_value(entry, TC_P_ROLES)};
	const uint64_t roles = tc_known(one.value) ? one.value.set : 0;
	uint64_t good = 0;
	uint32_t first = 0;

	own[TC_P_ROLES] = &one;
	for (uint32_t i = 0; i < 64; i++) {
		one.value.set = UINT64_C(1) << i;
		if (roles >> i & 1 && product_would_do(w, r, &candidate))
			good |= one.value.set;
	}
	if (good == 0 || (good == roles && good & (good - 1)))
		return TC_NONE;
	while (!(good >> first & 1))
		first++;
	return first;
}

/* Does the coat that would lie on it dissolve it: does its liquid, as it lands, lie inside the solid's sphere? */
static bool is_bitten(writer *w, const tc_entry *entry)
{
	const tc_product candidate = {.label = entry->name, .family = entry};
	tc_scene *scene = w->fs->scene;
	const tc_solid solid = tc_solid_of(TC_S_PRODUCT, &candidate);
	const tc_liquid_mix *mix = scene->at && scene->at->layer ? tc_scene_mix(scene, scene->at->layer) : NULL;

	if (!mix)
		return false;
	const tc_value red = tc_bite_red(mix, &solid);
	return red.state == TC_UNKNOWN || (tc_known(red) && red.number < 1);
}

/* Gathers what of a kind would do. */
static void find_materials(writer *w, const tc_remedy *r, tc_advice *advice)
{
	const tc_library *library = w->fs->scene->model->library;
	const tc_entry *kind = tc_library_entry(library, r->kind);

	for (uint32_t i = kind->index; i <= kind->last && advice->materials < TC_ADVICE_MATERIALS; i++) {
		const tc_entry *entry = tc_library_entry(library, i);
		if (entry->is_kind || !would_do(w, r, entry))
			continue;
		const bool laid = r->edit == TC_EDIT_INSERT;
		advice->role[advice->materials] = laid ? role_of(w, r, entry) : TC_NONE;
		advice->bitten[advice->materials] = laid && is_bitten(w, entry);
		advice->material[advice->materials++] = i;
	}
}

/* Names what of a kind would do: up to three materials, or the kind where all of it may. False when nothing would. */
static bool print_materials(writer *w, const tc_remedy *r, tc_advice *advice)
{
	const tc_library *library = w->fs->scene->model->library;
	const tc_entry *kind = tc_library_entry(library, r->kind);

	find_materials(w, r, advice);
	if (!kind->is_kind || (!r->that && r->edit == TC_EDIT_INSERT)) {
		tc_buffer_puts(&w->text, kind->name);
		return true;
	}
	for (uint32_t i = 0; i < advice->materials; i++)
		tc_buffer_print(&w->text, "%s%s", i == 0 ? "" : i + 1 < advice->materials ? ", " : " or ",
		    tc_library_entry(library, advice->material[i])->name);
	return advice->materials > 0;
}

static bool say_instead(writer *w, const tc_remedy *r, tc_advice *advice)
{
	const tc_scene *scene = w->fs->scene;

	if (scene->touch)
		advice->replaced = scene->touch->liquid->product;
	else if (scene->at)
		advice->replaced = scene->at->layer ? scene->at->layer->product : scene->at->step->written->with;
	tc_buffer_puts(&w->text, "take another material in this step, such as ");
	return print_materials(w, r, advice);
}

static bool say_insert(writer *w, const tc_remedy *r, tc_advice *advice)
{
	if (r->kind != TC_NONE) {
		tc_buffer_puts(&w->text, "lay ");
		if (!print_materials(w, r, advice))
			return false;
		print_where(w, r, &w->text);
		return true;
	}
	tc_buffer_puts(&w->text, "add the step `");
	if (!print_keys(w, r, &w->text) || !print_keys(w, r, &w->yaml))
		return false;
	tc_buffer_char(&w->text, '`');
	print_where(w, r, &w->text);
	return true;
}

static bool say_change(writer *w, const tc_remedy *r)
{
	tc_buffer_puts(&w->text, "write `");
	if (!print_keys(w, r, &w->text) || !print_keys(w, r, &w->yaml))
		return false;
	tc_buffer_puts(&w->text, "` at this step");
	return true;
}

static void say_move(writer *w, const tc_remedy *r)
{
	const tc_scene *scene = w->fs->scene;
	const tc_exposed *under = scene->contact ? scene->contact->under : NULL;

	tc_buffer_print(&w->text, "move this step %s ", r->after ? "behind" : "before");
	if (r->place && strcmp(r->place, "under") == 0 && under && under->layer && under->layer->step)
		tc_buffer_print(&w->text, "step %u (%s)", under->layer->step->number, under->layer->product->label);
	else
		tc_buffer_print(&w->text, "the %s", r->place ? r->place : "coat");
}

static bool say(writer *w, const tc_remedy *r, tc_advice *advice)
{
	switch (r->edit) {
	case TC_EDIT_WAIT:
	case TC_EDIT_SHORTEN:
		return say_wait(w, r, advice);
	case TC_EDIT_CHANGE:
		return say_change(w, r);
	case TC_EDIT_INSERT:
		return say_insert(w, r, advice);
	case TC_EDIT_INSTEAD:
		return say_instead(w, r, advice);
	case TC_EDIT_REMOVE:
		tc_buffer_puts(&w->text, "leave this step out");
		return true;
	case TC_EDIT_MOVE:
		say_move(w, r);
		return true;
	case TC_EDIT_DO:
		tc_template_print(&w->fs->question, r->says, &w->text);
		return true;
	}
	return false;
}

/* One remedy; false only when out of memory. A remedy whose amount makes no sense here is left out. */
static bool advise(tc_findings *fs, const tc_remedy *r, tc_finding *f, tc_advice *list)
{
	writer w = {.fs = fs, .arena = fs->scene->arena};
	tc_advice advice = {.edit = r->edit, .remedy = r};
	bool kept, failed;

	tc_buffer_start(&w.text, tc_arena_allocator(w.arena));
	tc_buffer_start(&w.yaml, tc_arena_allocator(w.arena));
	kept = say(&w, r, &advice);
	failed = w.text.failed || w.yaml.failed;
	if (kept && !failed) {
		advice.text = tc_arena_text(w.arena, w.text.at ? w.text.at : "", w.text.length);
		if (w.yaml.length)
			advice.yaml = tc_arena_text(w.arena, w.yaml.at, w.yaml.length);
		failed = !advice.text;
		list[f->advices++] = advice;
	}
	tc_buffer_free(&w.text);
	tc_buffer_free(&w.yaml);
	return !failed;
}

bool tc_advise(tc_findings *fs, tc_finding *f)
{
	tc_advice *list = TC_ARRAY(fs->scene->arena, f->rule->remedies + 1, tc_advice);

	if (!list)
		return false;
	f->advice = list;
	for (uint32_t i = 0; i < f->rule->remedies; i++)
		if (!advise(fs, &f->rule->remedy[i], f, list))
			return false;
	return true;
}
