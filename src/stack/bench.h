/* The model while it is built: each part lies on the bench, the steps go over it one after the other. Private to this
 * folder.
 *
 * A surface is shared between steps as long as nothing changes it: what a step sees (tc_part_step.before) is never
 * written again, a change goes into a copy. So a pointer into it tells for ever how the material was at that moment. */
#ifndef TC_STACK_BENCH_H
#define TC_STACK_BENCH_H

#include "stack/model.h"

/* A layer and what lies under it. */
typedef struct tc_laid {
	tc_layer *layer;
	tc_surface on;          /* what it landed on */
	const tc_exposed *last; /* as it was when it was covered; NULL while it is exposed */
	uint32_t lamp_room, cut_room;
} tc_laid;

typedef struct tc_bench {
	tc_part *part;
	tc_laid *laid; /* part->layers of them */
	uint32_t laid_room;
	const tc_exposed *ground; /* the substrate as it was when it was covered; NULL while it is exposed */
	tc_exposed *now;          /* what is exposed, `shown` of them */
	uint32_t shown, room;
	bool shared;    /* `now` is seen by a step: copy before writing */
	tc_layer *open; /* laid by the last work on this part, nothing but waits since; NULL */
	bool taped;
	double taped_from;
	tc_surface under_tape; /* where only some of the part is taped: what was exposed then */
	tc_part_step *step;
	tc_stretch *stretch;
	uint32_t stretches_room;
	double waited;
} tc_bench;

/* What one has mixed of a product. */
typedef struct tc_cup {
	uint32_t number; /* 0: none yet */
	double mixed_at, last_used;
	tc_thin thin; /* of its `mix` step */
	tc_mix mix;
} tc_cup;

typedef struct tc_building {
	tc_arena *arena;
	const tc_recipe *recipe;
	const tc_library *library;
	tc_model *model;
	tc_step *step;
	tc_part *part;
	tc_bench *bench; /* by part */
	tc_cup *cup;     /* by product */
	uint32_t cups;
	unsigned pass;
	uint64_t dusted, dried;  /* soils that the workshop's habits take off */
	const tc_entry *lamp;    /* the agent that stands for the lamp, or NULL */
	const tc_entry *waiting; /* the kind below which stands what waiting does, or NULL */
} tc_building;

/* --- timeline.c: when -------------------------------------------------------------------------------------------- */

/* The passes of a coat step: when each is laid, s from the step's start. */
typedef struct tc_passes {
	uint32_t count;
	double after[TC_COATS_MAX];
	double least; /* shortest pause; NAN with one pass, or where nobody says */
	bool assumed; /* the pauses are the family's */
	double usual; /* the product's flash; NAN */
	double lasts; /* of the whole step, s */
} tc_passes;
void tc_passes_of(const tc_written_step *step, tc_passes *passes);
/* How long a step takes that is no coat, s. */
double tc_step_lasts(const tc_written_step *step);
/* The part spends from…to at a temperature; joins on to what was before. False: out of memory. */
bool tc_stretch_add(tc_building *b, tc_bench *bench, double from, double to, double temperature);

/* --- layer.c: what is laid --------------------------------------------------------------------------------------- */

/* A new layer of a step; `passes` of a coat, else NULL. NULL: out of memory. */
tc_layer *tc_layer_lay(tc_building *b, tc_bench *bench, const tc_step *step, const tc_passes *passes);
tc_layer *tc_layer_old(tc_building *b, tc_bench *bench, const tc_finish *finish);
/* Does this step only go on with the layer that lies on top? Then adds its passes. */
bool tc_layer_goes_on(const tc_bench *bench, const tc_step *step, const tc_passes *passes);
void tc_layer_more(tc_building *b, tc_layer *layer, const tc_step *step, const tc_passes *passes);
void tc_cup_mix(tc_building *b, const tc_step *step);
/* Notes a dose of lamp, or film taken off. */
void tc_layer_lamp(tc_building *b, tc_laid *laid, tc_event event);
void tc_layer_cut(tc_building *b, tc_laid *laid, tc_event event);

/* --- surface.c: what is exposed ---------------------------------------------------------------------------------- */

bool tc_surface_start(tc_building *b, tc_bench *bench); /* bare substrate */
tc_surface tc_surface_see(tc_bench *bench);             /* shared from here on */
/* A layer came on: exposed alone if it closes, else beside what it lies on. */
bool tc_surface_lay(tc_building *b, tc_bench *bench, tc_layer *layer, bool covers);
bool tc_surface_cover(tc_building *b, tc_bench *bench, const tc_layer *layer); /* all but this one is covered now */
/* Every exposed material loses soils, gets others, and has needs met. */
void tc_surface_clean(tc_building *b, tc_bench *bench, uint64_t removes, uint64_t leaves, uint64_t prepares);
/* What is exposed was gone over with that grain (`scuffs`: sanded, not polished). */
void tc_surface_rub(tc_building *b, tc_bench *bench, double grain, bool scuffs);
/* Takes film off all that is exposed; where a film is thinner than that, what lies under it comes out as a spot. */
void tc_surface_cut(tc_building *b, tc_bench *bench, double cut, const tc_step *step);
void tc_surface_strip(tc_building *b, tc_bench *bench, const tc_step *step);
void tc_surface_tape(tc_building *b, tc_bench *bench, double now);
void tc_surface_untape(tc_building *b, tc_bench *bench, double now);

/* --- contact.c --------------------------------------------------------------------------------------------------- */

/* Everything that something coming onto `surface` meets, direct or through; into the arena. */
uint32_t tc_contacts_of(tc_building *b, const tc_bench *bench, tc_surface surface, const tc_layer *coat, double now,
    const tc_contact **contacts);

/* What waiting has done to a part by now. */
void tc_surface_wait(tc_building *b, tc_bench *bench);

/* --- small ------------------------------------------------------------------------------------------------------- */

static inline tc_laid *tc_laid_of(const tc_bench *bench, const tc_layer *layer)
{
	return &bench->laid[layer->order - 1];
}
/* The words of a set property; none where it is unknown or absent. */
static inline uint64_t tc_set_of(const tc_product *product, tc_property property)
{
	const tc_value value = tc_product_value(product, property);
	return tc_known(value) ? value.set : 0;
}
static inline uint64_t tc_entry_set(const tc_entry *entry, tc_property property)
{
	const tc_value value = tc_entry_value(entry, property);
	return tc_known(value) ? value.set : 0;
}
static inline double tc_figure_of(const tc_product *product, tc_property property)
{
	const tc_value value = tc_product_value(product, property);
	return tc_known(value) ? value.number : NAN;
}

#endif
