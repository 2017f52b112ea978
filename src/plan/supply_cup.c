/* Cups: which passes come out of one mix, how it is poured, and what cleaning follows. */
#include <math.h>

#include "plan/supply_private.h"

#include "science/potlife.h"
#include "science/quantities.h"

typedef struct tc_filling {
	tc_supplying *s;
	uint32_t *open; /* by product: its cup, TC_NONE */
	tc_thin *thin;  /* of each cup */
	tc_mix *mix;
	double *last; /* of each cup: when it was used last */
	uint32_t room_thin, room_mix, room_last;
} tc_filling;

/* --- how it is mixed ----------------------------------------------------------------------------------------------- */

tc_thin tc_thin_of(const tc_laying *laying, const tc_task *task)
{
	return task->step->thin.said ? task->step->thin : laying->layer->thin;
}

tc_mix tc_mix_of(const tc_laying *laying, const tc_task *task)
{
	tc_mix mix = task->step->mix.count ? task->step->mix : laying->layer->mix;
	const tc_product *product = laying->layer->product;
	const tc_value usual = tc_product_value(product, TC_P_MIX);
	if (mix.count || !tc_known(usual))
		return mix;
	tc_quantity_error error;
	mix.count = tc_ratio_read(tc_text_of(usual.text), mix.terms, &error);
	mix.text = usual.text;
	return mix;
}

static bool same_thin(const tc_thin *a, const tc_thin *b)
{
	if (a->said != b->said)
		return false;
	return !a->said || (a->with == b->with && tc_compare(a->share, b->share) == 0);
}

static bool same_mix(const tc_mix *a, const tc_mix *b)
{
	if (a->count != b->count)
		return false;
	/* as ratios: 2:1 and 4:2 are one */
	for (unsigned i = 1; i < a->count; i++)
		if (tc_compare(a->terms[i] * b->terms[0], b->terms[i] * a->terms[0]) != 0)
			return false;
	return true;
}

/* --- how long it lives ---------------------------------------------------------------------------------------------- */

static double pot_life(const tc_model *model, const tc_product *product, double temperature)
{
	const tc_value life = tc_product_value(product, TC_P_POT_LIFE), at = tc_product_value(product, TC_P_CURE_AT);
	double here;
	if (!tc_known(life))
		return INFINITY;
	if (tc_known(at) &&
	    tc_pot_life(life.number, at.number, tc_usual(model, TC_D_POT_LIFE_FACTOR), temperature, &here))
		return here;
	return life.number;
}

/* The last `mix` step of a product that comes before a task and after another one (TC_NONE: any); TC_NONE. */
static uint32_t mix_before(const tc_supplying *s, const tc_product *product, uint32_t task, uint32_t after)
{
	for (uint32_t i = task; i-- > 0 && (after == TC_NONE || i > after);) {
		const tc_task *t = &s->table->task[i];
		if (t->step->verb == TC_VERB_MIX && t->step->with == product)
			return i;
	}
	return TC_NONE;
}

/* Sets when a cup is mixed, by its `mix` step or so that it is ready for its first pass. */
static void set_life(const tc_supplying *s, tc_cupful *cup, const tc_laying *first, uint32_t mix_task)
{
	const tc_value stand = tc_product_value(cup->product, TC_P_INDUCTION);
	const double stands = tc_known(stand) ? stand.number : 0;
	const double begins = first->at - first->takes;
	cup->mixed = cup->ready_from = NAN;
	cup->lives_until = INFINITY;
	if (!s->timed)
		return;
	cup->mixed = mix_task != TC_NONE ? s->table->task[mix_task].start : begins - stands;
	cup->ready_from = cup->mixed + stands;
	if (mix_task != TC_NONE) {
		const tc_task *mix = &s->table->task[mix_task];
		const tc_value time = mix->step->time;
		if (time.state == TC_SAID)
			cup->ready_from = fmax(cup->ready_from, mix->start + time.number);
	}
	cup->lives_until = cup->mixed + pot_life(s->model, cup->product, first->layer->temperature);
}

/* --- filling -------------------------------------------------------------------------------------------------------- */

/* Why a pass cannot come from a cup; NULL: it can. */
static const char *parted(
    const tc_filling *f, const tc_laying *l, uint32_t number, const tc_thin *thin, const tc_mix *mix, uint32_t mix_task)
{
	const tc_cupful *cup = &f->s->cup[number];
	if (mix_task != TC_NONE)
		return "the recipe mixes anew";
	if (!same_mix(mix, &f->mix[number]))
		return "it is mixed otherwise than the one before";
	if (!same_thin(thin, &f->thin[number]))
		return "it is thinned otherwise than the one before";
	if (!f->s->timed)
		return l->task != cup->last_task ? "it is another step" : NULL;
	if (tc_compare(l->at, cup->lives_until) > 0)
		return "the one before outlived its pot life";
	if (tc_compare(l->at - l->takes - f->last[number], tc_usual(f->s->model, TC_D_CUP_KEEPS)) > 0)
		return "the one before is of another day";
	return NULL;
}

static uint32_t new_cup(tc_filling *f, const tc_laying *l, const tc_thin *thin, const tc_mix *mix)
{
	tc_supplying *s = f->s;
	const uint32_t number = s->supply->cups;
	if (!tc_arena_grow(s->arena, (void **)&s->cup, number, &s->cups_room, sizeof *s->cup) ||
	    !tc_arena_grow(s->arena, (void **)&f->thin, number, &f->room_thin, sizeof *f->thin) ||
	    !tc_arena_grow(s->arena, (void **)&f->mix, number, &f->room_mix, sizeof *f->mix) ||
	    !tc_arena_grow(s->arena, (void **)&f->last, number, &f->room_last, sizeof *f->last))
		return TC_NONE;
	f->thin[number] = *thin;
	f->mix[number] = *mix;
	s->cup[number] = (tc_cupful){.product = l->layer->product, .task = l->task, .last_task = l->task};
	s->supply->cups++;
	return number;
}

/* What stays in cup and tool at a filling. */
static double stays(const tc_supplying *s, const tc_laying *l)
{
	const double by_tool = tc_tool_figure(l->tool, TC_P_LEFT_IN_CUP);
	return isnan(by_tool) ? tc_usual(s->model, TC_D_CUP_LOSS) : by_tool;
}

/* Adds a pass to its cup. `anew`: it is the first of this pass, not the same on a further part. */
static void pour_out(const tc_supplying *s, tc_cupful *cup, const tc_laying *l, bool anew)
{
	const tc_written_part *part = l->layer->part->written;
	const uint64_t bit = UINT64_C(1) << l->part;
	const tc_product *product = cup->product;
	cup->last_task = l->task;
	cup->passes += anew;
	cup->parts |= bit;
	cup->lands += l->lands;
	cup->ready += l->uses;
	if (l->layer->spot)
		return;
	cup->left = fmax(cup->left, stays(s, l));
	cup->film_assumed |= l->layer->wet_assumed || l->layer->pass_assumed;
	cup->transfer_assumed |= !(product->own && product->own[TC_P_TRANSFER]);
	if (!tc_known(part->area))
		cup->lacks |= bit;
	else if (part->area_estimated)
		cup->estimated |= bit;
}

/* The cup that a pass comes from; TC_NONE: out of memory. */
static uint32_t cup_for(tc_filling *f, const tc_laying *l)
{
	tc_supplying *s = f->s;
	const tc_task *task = &s->table->task[l->task];
	uint32_t *open = &f->open[l->layer->product->index];
	const tc_thin thin = tc_thin_of(l, task);
	const tc_mix mix = tc_mix_of(l, task);
	const uint32_t after = *open == TC_NONE ? TC_NONE : s->cup[*open].last_task;
	const uint32_t mix_task = mix_before(s, l->layer->product, l->task, after);
	const char *because = *open == TC_NONE ? NULL : parted(f, l, *open, &thin, &mix, mix_task);
	if (*open != TC_NONE && !because)
		return *open;
	const uint32_t number = new_cup(f, l, &thin, &mix);
	if (number == TC_NONE)
		return TC_NONE;
	set_life(s, &s->cup[number], l, mix_task);
	s->cup[number].because = because;
	return *open = number;
}

static bool fill(tc_filling *f)
{
	tc_supplying *s = f->s;
	for (uint32_t i = 0; i < s->supply->layings; i++) {
		tc_laying *l = &s->laying[i];
		l->cup = cup_for(f, l);
		if (l->cup == TC_NONE)
			return false;
		const tc_laying *before = i ? l - 1 : NULL;
		const bool anew = !before || before->task != l->task || before->at != l->at || before->cup != l->cup;
		f->last[l->cup] = l->at;
		pour_out(s, &s->cup[l->cup], l, anew);
	}
	return true;
}

/* --- pouring -------------------------------------------------------------------------------------------------------- */

static const char *term_name(tc_arena *arena, const tc_product *product, unsigned term)
{
	if (term == 1)
		return tc_arena_print(arena, "hardener of %s", product->label);
	return tc_arena_print(arena, "part %u of %s", term + 1, product->label);
}

/* Base, hardener and what else the ratio names, then the thinner: its share counts on what is mixed so far. */
static bool pour(const tc_supplying *s, tc_cupful *cup, const tc_thin *thin, const tc_mix *mix)
{
	const unsigned terms = mix->count ? mix->count : 1, count = terms + (thin->said && thin->share > 0);
	tc_pour *pours = TC_ARRAY(s->arena, count, tc_pour);
	double part[TC_MIX_PARTS_MAX + 1], volume[TC_MIX_PARTS_MAX + 1], sum = 0;
	if (!pours)
		return false;
	for (unsigned i = 0; i < terms; i++)
		sum += part[i] = mix->count ? mix->terms[i] : 1;
	if (count > terms)
		part[terms] = sum * thin->share;
	const bool known = !isnan(cup->ready) && tc_quantity_split(cup->ready, part, count, volume);
	for (unsigned i = 0; i < count; i++) {
		pours[i] = (tc_pour){.parts = part[i], .volume = known ? volume[i] : NAN};
		if (i < terms) {
			pours[i].product = i ? NULL : cup->product;
			pours[i].name = i ? term_name(s->arena, cup->product, i) : cup->product->label;
		} else {
			pours[i].product = thin->with;
			pours[i].name = thin->with ? thin->with->label
			                           : tc_arena_print(s->arena, "thinner of %s", cup->product->label);
		}
		if (!pours[i].name)
			return false;
	}
	cup->pour = pours;
	cup->pours = count;
	cup->terms = terms;
	return true;
}

static bool finish(const tc_filling *f, uint32_t number)
{
	tc_supplying *s = f->s;
	tc_cupful *cup = &s->cup[number];
	const double put_on = cup->ready;
	cup->ready = put_on + cup->left;
	cup->lost = cup->ready - cup->lands;
	cup->transfer = put_on > 0 ? cup->lands / put_on : NAN;
	s->supply->lacks |= cup->lacks;
	return pour(s, cup, &f->thin[number], &f->mix[number]);
}

/* --- cleaning ------------------------------------------------------------------------------------------------------- */

/* A product of the recipe that is this material, one of the shelf before others; else one made up for it. */
static const tc_product *product_of(const tc_supplying *s, const tc_entry *entry)
{
	const tc_recipe *recipe = s->model->recipe;
	const tc_product *found = NULL;
	for (uint32_t i = 0; i < recipe->products; i++) {
		const tc_product *product = recipe->product[i];
		if (tc_entry_is(product->family, entry) && (!found || (product->on_shelf && !found->on_shelf)))
			found = product;
	}
	if (found)
		return found;
	tc_product *made = TC_NEW(s->arena, tc_product);
	if (made)
		*made = (tc_product){.label = entry->name, .family = entry, .index = TC_NONE};
	return made;
}

/* What cleans after a cup: its own thinner, else the first that suits it. NULL: nobody says. */
static const tc_product *cleaner_of(const tc_supplying *s, const tc_product *product, const tc_thin *thin)
{
	if (thin->said && thin->with)
		return thin->with;
	const tc_figure *suits = tc_product_figure(product, TC_P_THINNED_BY);
	if (!suits || !suits->entries || suits->entries->count == 0)
		return NULL;
	return product_of(s, tc_library_entry(s->model->library, suits->entries->at[0]));
}

/* The next pass that the same tool lays, while the layings are gone through from the last one on. */
typedef struct tc_next {
	const tc_entry *tool;
	const tc_laying *laying;
} tc_next;

static tc_next *next_of(tc_next *next, uint32_t *count, const tc_entry *tool)
{
	uint32_t i = 0;
	while (i < *count && next[i].tool != tool)
		i++;
	if (i == *count)
		next[(*count)++] = (tc_next){.tool = tool};
	return &next[i];
}

/* The tool is cleaned when another cup, or the end of a sitting, follows on a pass. */
static bool is_cleaned(const tc_supplying *s, const tc_laying *l, const tc_laying *next)
{
	if (!next || next->cup != l->cup)
		return true;
	if (!s->timed)
		return next->task != l->task;
	return next->at - next->takes - l->at > tc_usual(s->model, TC_D_SITTING_GAP);
}

static void count_cleanings(const tc_filling *f)
{
	const tc_supplying *s = f->s;
	tc_next next[TC_SYMBOLS_MAX + 1]; /* a tool is a word of a vocabulary, or unknown */
	uint32_t tools = 0;
	for (uint32_t i = s->supply->layings; i-- > 0;) {
		tc_laying *l = &s->laying[i];
		tc_cupful *cup = &s->cup[l->cup];
		if (l->layer->spot)
			continue;
		tc_next *after = next_of(next, &tools, l->tool);
		const double by_tool = tc_tool_figure(l->tool, TC_P_CLEANING);
		const double takes = isnan(by_tool) ? tc_usual(s->model, TC_D_TOOL_CLEANING) : by_tool;
		if (takes > 0 && is_cleaned(s, l, after->laying)) {
			if (cup->cleanings++ == 0)
				cup->cleaner = cleaner_of(s, cup->product, &f->thin[l->cup]);
			l->cleaned = takes;
			cup->cleaning += takes;
			s->supply->cleaning += takes;
		}
		after->laying = l;
	}
}

bool tc_cups_fill(tc_supplying *s)
{
	const uint32_t products = s->model->recipe->products;
	tc_filling f = {.s = s, .open = TC_ARRAY(s->arena, products + 1, uint32_t)};
	if (!f.open)
		return false;
	for (uint32_t i = 0; i < products; i++)
		f.open[i] = TC_NONE;
	if (!fill(&f))
		return false;
	for (uint32_t i = 0; i < s->supply->cups; i++)
		if (!finish(&f, i))
			return false;
	count_cleanings(&f);
	return !tc_arena_failed(s->arena);
}
