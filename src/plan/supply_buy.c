/* The shopping list: all that the plan uses, a line for each product. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "plan/supply_private.h"

#include "science/quantities.h"

#define STEP_WORDS (TC_STEPS_MAX / 64 + 1)

typedef enum tc_use {
	TC_USE_COAT,
	TC_USE_HARDENER,
	TC_USE_THINNER,
	TC_USE_CLEANING,
	TC_USE_FILLER,
	TC_USE_ADHESIVE,
	TC_USE_DECAL,
	TC_USE_SOFTENER,
	TC_USE_WASH,
	TC_USE_POLISH,
	TC_USE_ABRASIVE,
	TC_USE_MASKING,
	TC_USE_OTHER
} tc_use;

static const char *const use_names[] = {[TC_USE_COAT] = "coat",
    [TC_USE_HARDENER] = "hardener",
    [TC_USE_THINNER] = "thinner",
    [TC_USE_CLEANING] = "cleaning",
    [TC_USE_FILLER] = "filler",
    [TC_USE_ADHESIVE] = "adhesive",
    [TC_USE_DECAL] = "decal",
    [TC_USE_SOFTENER] = "softener",
    [TC_USE_WASH] = "wash",
    [TC_USE_POLISH] = "polish",
    [TC_USE_ABRASIVE] = "abrasive",
    [TC_USE_MASKING] = "masking",
    [TC_USE_OTHER] = "other"};

/* A line while it is added up. */
typedef struct tc_line {
	tc_purchase p;
	const tc_entry *family;
	tc_use use;
	bool counted; /* something of it is a volume */
	uint64_t steps[STEP_WORDS];
} tc_line;

typedef struct tc_listing {
	tc_supplying *s;
	tc_line *line;
	uint32_t lines, room;
	uint64_t (*at)[STEP_WORDS]; /* of each cup the steps that it serves */
	bool failed;
} tc_listing;

/* --- lines ---------------------------------------------------------------------------------------------------------- */

/* `none` under `size`: it is at hand. */
static bool is_bought(const tc_product *product)
{
	const tc_figure *size = tc_product_figure(product, TC_P_SIZE);
	return !(size && size->value.state == TC_ABSENT);
}

/* One material stands in one line: a label of the shelf by itself, others by what they are. */
static bool same_thing(const tc_line *line, const tc_product *product, const char *name)
{
	if (!product || !line->p.product)
		return !product && !line->p.product && strcmp(line->p.name, name) == 0;
	if (product->on_shelf || line->p.product->on_shelf)
		return product == line->p.product;
	return product->family == line->p.product->family;
}

/* The line of a product, or of a name where there is none; NULL: it is not bought, or out of memory. `of`: whose family
 * it is sorted under. */
static tc_line *line_of(tc_listing *l, const tc_product *product, const char *name, const tc_product *of, tc_use use)
{
	if (product && !is_bought(product))
		return NULL;
	for (uint32_t i = 0; i < l->lines; i++)
		if (same_thing(&l->line[i], product, name)) {
			l->line[i].use = use < l->line[i].use ? use : l->line[i].use;
			return &l->line[i];
		}
	if (!tc_arena_grow(l->s->arena, (void **)&l->line, l->lines, &l->room, sizeof *l->line)) {
		l->failed = true;
		return NULL;
	}
	tc_line *line = &l->line[l->lines++];
	*line = (tc_line){.family = of->family, .use = use};
	line->p.product = product;
	line->p.name = name;
	return line;
}

static void at_step(tc_line *line, uint32_t number)
{
	line->steps[number / 64] |= UINT64_C(1) << number % 64;
}

/* Once a volume is not known, the whole is not. */
static void add_volume(tc_line *line, double volume)
{
	line->counted = true;
	line->p.volume += volume;
}

/* --- what comes out of cups ------------------------------------------------------------------------------------------- */

static bool uses_spot(const tc_supplying *s, const tc_cupful *cup)
{
	return s->table->task[cup->task].step->verb != TC_VERB_COAT;
}

static tc_use use_of_cup(const tc_supplying *s, const tc_cupful *cup)
{
	const uint32_t verb = s->table->task[cup->task].step->verb;
	return verb == TC_VERB_COAT ? TC_USE_COAT : verb == TC_VERB_FILL ? TC_USE_FILLER : TC_USE_ADHESIVE;
}

/* For each cup the set of its steps. False: out of memory. */
static bool find_steps(tc_listing *l)
{
	const tc_supplying *s = l->s;
	l->at = tc_arena_array(s->arena, s->supply->cups, sizeof *l->at);
	if (!l->at)
		return false;
	for (uint32_t i = 0; i < s->supply->layings; i++) {
		const uint32_t number = s->table->task[s->laying[i].task].step->number;
		l->at[s->laying[i].cup][number / 64] |= UINT64_C(1) << number % 64;
	}
	return true;
}

static void mark_cup(const tc_listing *l, tc_line *line, uint32_t cup)
{
	for (uint32_t w = 0; w < STEP_WORDS; w++)
		line->steps[w] |= l->at[cup][w];
}

static void add_pours(tc_listing *l, uint32_t number)
{
	const tc_supplying *s = l->s;
	const tc_cupful *cup = &s->cup[number];
	for (uint32_t i = 0; i < cup->pours; i++) {
		const tc_pour *pour = &cup->pour[i];
		const tc_use use = i == 0 ? use_of_cup(s, cup) : i < cup->terms ? TC_USE_HARDENER : TC_USE_THINNER;
		tc_line *line =
		    line_of(l, pour->product, pour->name, pour->product ? pour->product : cup->product, use);
		if (!line)
			continue;
		mark_cup(l, line, number);
		if (uses_spot(s, cup))
			line->p.more = true;
		else
			add_volume(line, pour->volume);
	}
}

static void add_cleaning(tc_listing *l, uint32_t number)
{
	const tc_cupful *cup = &l->s->cup[number];
	if (cup->cleanings == 0)
		return;
	const char *name =
	    cup->cleaner ? cup->cleaner->label : tc_arena_print(l->s->arena, "cleaner of %s", cup->product->label);
	if (!name) {
		l->failed = true;
		return;
	}
	tc_line *line = line_of(l, cup->cleaner, name, cup->cleaner ? cup->cleaner : cup->product, TC_USE_CLEANING);
	if (!line)
		return;
	mark_cup(l, line, number);
	add_volume(line, cup->cleaning);
	line->p.cleaning += cup->cleaning;
}

/* --- what steps use besides -------------------------------------------------------------------------------------------- */

static tc_use use_of_step(uint32_t verb, const tc_product *product)
{
	if (product->family->section == TC_SECTION_ABRASIVES)
		return TC_USE_ABRASIVE;
	switch (verb) {
	case TC_VERB_WASH:
	case TC_VERB_DEGREASE:
	case TC_VERB_CLEAN:
	case TC_VERB_WIPE:
	case TC_VERB_STRIP:
		return TC_USE_WASH;
	case TC_VERB_SAND:
		return TC_USE_ABRASIVE;
	case TC_VERB_POLISH:
		return TC_USE_POLISH;
	case TC_VERB_DECAL:
		return TC_USE_DECAL;
	case TC_VERB_MASK:
		return TC_USE_MASKING;
	default:
		return TC_USE_OTHER;
	}
}

/* Nobody says how much of it: a line without a volume, or a volume and more. */
static void add_uncounted(tc_listing *l, const tc_written_step *step, const tc_product *product, tc_use use)
{
	tc_line *line = product ? line_of(l, product, product->label, product, use) : NULL;
	if (!line)
		return;
	line->p.more = true;
	at_step(line, step->number);
}

static void add_step(tc_listing *l, const tc_written_step *step)
{
	const uint32_t verb = step->verb;
	const bool poured = verb == TC_VERB_COAT || verb == TC_VERB_FILL || verb == TC_VERB_GLUE;
	if (step->with && !poured && verb != TC_VERB_MIX && verb != TC_VERB_WAIT)
		add_uncounted(l, step, step->with, use_of_step(verb, step->with));
	if (step->grade)
		add_uncounted(l, step, step->grade, use_of_step(verb, step->grade));
	if (step->softener)
		add_uncounted(l, step, step->softener, TC_USE_SOFTENER);
}

/* --- what it costs ---------------------------------------------------------------------------------------------------- */

/* Packs, cost, and what is left; a hardener comes in packs that nobody told. */
static void price(tc_line *line)
{
	tc_purchase *p = &line->p;
	const tc_product *product = p->product;
	const tc_value size = product ? tc_product_value(product, TC_P_SIZE) : tc_unknown(TC_T_NUMBER);
	const tc_value each = product ? tc_product_value(product, TC_P_PRICE) : tc_unknown(TC_T_NUMBER);
	p->volume = line->counted ? p->volume : NAN;
	p->pack = tc_known(size) ? size.number : NAN;
	p->pack_assumed = tc_known(size) && !(product->own && product->own[TC_P_SIZE]);
	p->price = tc_known(each) ? each.number : NAN;
	p->cost = p->left = NAN;
	p->on_shelf = product && product->on_shelf;
	p->family = line->family->name;
	p->use = use_names[line->use];
	if (isnan(p->volume) || isnan(p->pack) || !tc_quantity_packs(p->volume, p->pack, &p->packs))
		p->packs = 0;
	if (p->packs == 0)
		return;
	p->left = (double)p->packs * p->pack - p->volume;
	p->cost = (double)p->packs * p->price;
}

static bool list_steps(tc_arena *arena, tc_line *line)
{
	uint32_t list[STEP_WORDS * 64], count = 0;
	for (uint32_t w = 0; w < STEP_WORDS; w++)
		for (uint64_t left = line->steps[w]; left; left &= left - 1)
			list[count++] = w * 64 + (uint32_t)__builtin_ctzll(left);
	line->p.steps = count;
	line->p.step = tc_arena_copy(arena, list, count * sizeof *list);
	return line->p.step != NULL;
}

static int by_use(const void *left, const void *right)
{
	const tc_line *a = left, *b = right;
	if (a->use != b->use)
		return a->use < b->use ? -1 : 1;
	const int named = strcmp(a->p.name, b->p.name);
	return named ? named : strcmp(a->family->id, b->family->id);
}

static void add_up(tc_supply *supply, const tc_purchase *p)
{
	if (isnan(p->cost)) {
		supply->priceless++;
		return;
	}
	supply->cost = isnan(supply->cost) ? p->cost : supply->cost + p->cost;
}

static bool hand_out(tc_listing *l)
{
	tc_supplying *s = l->s;
	tc_purchase *list = TC_ARRAY(s->arena, l->lines, tc_purchase);
	if (!list)
		return false;
	if (l->lines > 1)
		qsort(l->line, l->lines, sizeof *l->line, by_use);
	s->supply->cost = NAN;
	for (uint32_t i = 0; i < l->lines; i++) {
		price(&l->line[i]);
		if (!list_steps(s->arena, &l->line[i]))
			return false;
		list[i] = l->line[i].p;
		add_up(s->supply, &list[i]);
	}
	s->supply->purchase = list;
	s->supply->purchases = l->lines;
	return true;
}

bool tc_purchases_list(tc_supplying *s)
{
	tc_listing l = {.s = s};
	if (!find_steps(&l))
		return false;
	for (uint32_t i = 0; i < s->supply->cups; i++) {
		add_pours(&l, i);
		add_cleaning(&l, i);
	}
	for (uint32_t i = 0; i < s->model->recipe->steps; i++)
		add_step(&l, &s->model->recipe->step[i]);
	return !l.failed && hand_out(&l);
}
