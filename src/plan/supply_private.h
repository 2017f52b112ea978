/* Supply while it is made: passes, cups, lines to buy. Private to this folder. */
#ifndef TC_PLAN_SUPPLY_PRIVATE_H
#define TC_PLAN_SUPPLY_PRIVATE_H

#include "plan/supply.h"

/* What a coat step does on a part: its first pass in the layer. */
typedef struct tc_laid_by {
	const tc_layer *layer; /* NULL: nothing */
	uint32_t pass;
} tc_laid_by;

typedef struct tc_supplying {
	tc_arena *arena;
	const tc_model *model;
	const tc_timetable *table;
	bool timed;
	tc_supply *supply;
	tc_laying *laying; /* supply->layings of them, by time */
	uint32_t layings_room;
	tc_cupful *cup; /* supply->cups of them */
	uint32_t cups_room;
	const tc_word_list *methods; /* NULL: the rulebook lists none */
} tc_supplying;

/* lay.c: gathers the passes and spots of all tasks. False: out of memory. */
bool tc_lay_gather(tc_supplying *s);

/* cup.c: fills the cups from the layings, and counts cleanings. False: out of memory. */
bool tc_cups_fill(tc_supplying *s);
/* As a step or a cup has it. */
tc_thin tc_thin_of(const tc_laying *laying, const tc_task *task);
tc_mix tc_mix_of(const tc_laying *laying, const tc_task *task);

/* buy.c: the shopping list. False: out of memory. */
bool tc_purchases_list(tc_supplying *s);

/* A figure of a way of putting on; NAN: not known. */
double tc_tool_figure(const tc_entry *tool, tc_property property);

static inline double tc_usual(const tc_model *model, tc_default which)
{
	return tc_library_default(model->library, which)->value.number;
}

#endif
