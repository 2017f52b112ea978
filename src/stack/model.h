/* A recipe as parts × steps: what each thing lands on, in which state, and when. Defaults are filled in here. */
#ifndef TC_STACK_MODEL_H
#define TC_STACK_MODEL_H

#include "stack/recipe.h"

typedef struct tc_layer tc_layer;
typedef struct tc_part tc_part;
typedef struct tc_step tc_step;

/* A stretch of time that a part spends at one temperature. */
typedef struct tc_stretch {
	double from, to; /* s */
	double temperature; /* K */
} tc_stretch;

/* Film that went off a layer, or a dose of lamp that it got, at a moment. */
typedef struct tc_event {
	double at;     /* s */
	double amount; /* m of film, or s of lamp */
	uint32_t step;
} tc_event;

/* Whatever was laid: coat, fill, glue, decal (its carrier film), or an old finish. */
struct tc_layer {
	const tc_part *part;
	const tc_step *step;       /* that laid it (of several merged steps the first); NULL: an old finish */
	const tc_step *last_step;  /* the last step merged into it */
	const tc_product *product;
	uint32_t order;            /* on its part, from 1 */
	/* words, TC_NONE: none. role: the step's, else the only one that its family serves as; effect, sheen and shade: the
	 * step's, else the product's; method: the step's, else the workshop's */
	uint32_t role, effect, sheen, shade, method;
	bool spot;                 /* filler, glue, decal: not the whole surface */
	bool old;
	uint32_t coats;
	uint8_t pass[TC_COATS_MAX];       /* TC_PASS_…; 255: not said and not asked for */
	bool pass_assumed;
	double wet[TC_COATS_MAX];         /* wet film of each pass, m; NAN: unknown */
	double at[TC_COATS_MAX];          /* when each pass is laid, s from the start */
	double flash_least;               /* shortest pause between passes, s; NAN with one pass, or where nobody says */
	bool flash_assumed, wet_assumed;
	tc_value solids;                  /* volume solids after thinning */
	tc_value film;                    /* dry film of all passes as laid, m */
	tc_thin thin;
	tc_mix mix;
	double mixed_at;                  /* when its batch was mixed; NAN: not a mix */
	uint32_t batch;                   /* number of its batch in the recipe, 0: none */
	double nozzle;                    /* NAN: not said */
	double begun, done;               /* first and last pass, s; NAN: an old finish of unknown age */
	double temperature;               /* at which it is laid, K */
	bool lamp_said;
	uint32_t lamps, cuts;             /* lamp doses; film taken off */
	const tc_event *lamp, *cut;
	bool covered;                     /* a later coat lies on it */
	tc_place place;
};

/* One material that a part shows at one moment. */
typedef struct tc_exposed {
	const tc_part *part;
	const tc_layer *layer;     /* NULL: the substrate */
	const tc_product *product; /* of the layer, or the substrate */
	bool whole;
	double scratch_grain;      /* median grain of the last abrasive on it, m; NAN: never abraded, or (abraded) unknown */
	double before_grain;       /* of the one before; NAN */
	bool abraded;              /* since it was laid */
	uint64_t soil;             /* words of `soil` that lie on it */
	bool soil_known;
	uint64_t done;             /* words of `need` that have been met */
	double taped;              /* s of tape on it so far; NAN: none */
} tc_exposed;

typedef struct tc_surface {
	uint32_t count;
	const tc_exposed *at; /* oldest material first */
} tc_surface;

/* An incoming layer on one material. */
typedef struct tc_contact {
	const tc_layer *coat;
	const tc_exposed *under;
	bool direct;
	double film_between; /* dry film, m; NAN: unknown; 0 where direct */
	const tc_layer *between; /* the uppermost layer between; NULL where direct */
} tc_contact;

/* A liquid of a step on one exposed material. */
typedef struct tc_liquid {
	const tc_product *product;
	const tc_step *step;
	double stays; /* s; NAN: unknown */
	bool stays_assumed;
	double film;  /* wet film that it leaves, m; 0: what a wipe leaves */
} tc_liquid;
typedef struct tc_touch {
	const tc_liquid *liquid;
	const tc_exposed *under;
	bool direct;
	double film_between;
} tc_touch;

/* A step as one part sees it. */
typedef struct tc_part_step {
	const tc_step *step;
	tc_surface before;       /* what is exposed when it begins */
	const tc_layer *layer;   /* that it lays or adds to on this part; NULL */
	uint32_t contacts, touches;
	const tc_contact *contact;
	const tc_touch *touch;
	uint32_t layers_before;  /* layers of the part laid before it */
	double waited;           /* s of waits since the step before on this part */
} tc_part_step;

struct tc_step {
	const tc_written_step *written;
	uint32_t number;
	double start, end;      /* s from the start of the recipe */
	double temperature;     /* K */
};

struct tc_part {
	const tc_written_part *written;
	uint32_t index;
	tc_value stressed, flexible, lit, outdoors, handled;
	uint32_t layers;
	const tc_layer *const *layer;   /* in order of laying */
	uint32_t steps;
	const tc_part_step *step;       /* those that work on it, waits included */
	tc_surface end;                 /* what is exposed at the end */
	uint32_t stretches;
	const tc_stretch *stretch;      /* its temperatures, without gaps, from the start (or an old finish's birth) to the end */
	tc_value line_width, line_depth; /* as last cut, before paint */
	uint32_t line_from;             /* layers laid before this one were cut through by the last scribing */
	tc_value width_left, depth_left; /* at the end */
};

typedef struct tc_model {
	const tc_recipe *recipe;
	const tc_library *library;
	tc_value temperature, humidity, air_speed, room, extraction; /* TC_SAID or TC_ASSUMED */
	uint32_t steps;
	const tc_step *step;
	uint32_t parts;
	const tc_part *part;
	double end;              /* s */
	uint32_t unsaid_passes;  /* layers whose pass nobody said: judged at more than one */
} tc_model;

/* Builds the model. `pass`: the pass taken for coats that say neither pass nor film (TC_PASS_…). NULL: out of memory. */
const tc_model *tc_model_build(tc_arena *arena, const tc_recipe *recipe, const tc_library *library, unsigned pass);

/* One step, on some of its parts, at the time that a timetable gives it. */
typedef struct tc_turn {
	uint32_t step;      /* index in the recipe */
	uint64_t parts;     /* of it; a wait may come at one time for one part and at another for the next */
	double start, end;  /* s */
	const double *pass; /* of a coat: when each pass is laid, s; else NULL */
} tc_turn;

/* A recipe's steps at other times than it writes: by start. Each part has its steps in the order of the recipe, and each
 * step comes once for each of its parts. */
typedef struct tc_turns {
	uint32_t count;
	const tc_turn *turn;
} tc_turns;

/* The same at the times of `turns`; NULL: as written. */
const tc_model *tc_model_build_at(
    tc_arena *arena, const tc_recipe *recipe, const tc_library *library, unsigned pass, const tc_turns *turns);

#define TC_DRY_SHARE 0.95 /* how far a film has come at its family's through_dry_time, or full_cure */

/* --- states at a moment ------------------------------------------------------------------------------------------- */
/* s since its last pass before `now`; 0 at least; NAN for an old finish of unknown age. */
double tc_layer_age(const tc_layer *layer, double now);
tc_value tc_layer_film(const tc_layer *layer, double now);                    /* dry film less what went off */
tc_value tc_layer_through_dry(const tc_model *model, const tc_layer *layer, double now); /* share */
tc_value tc_layer_cured(const tc_model *model, const tc_layer *layer, double now);       /* share */
/* The age at which it will be so far through-dry (or cured) if it stays at the temperatures of the plan, and after the plan's
 * end at the last; absent if never. */
tc_value tc_layer_reaches(const tc_model *model, const tc_layer *layer, double share, bool cured);
tc_value tc_layer_closed(const tc_layer *layer, double now);                  /* truth */

#endif
