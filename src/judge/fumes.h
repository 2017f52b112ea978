/* What goes into the air of a room: the volatile part of what is used, and what a film gives off while it dries. */
#ifndef TC_JUDGE_FUMES_H
#define TC_JUDGE_FUMES_H

#include "stack/model.h"

typedef struct tc_fumes tc_fumes;

#define TC_VOLATILE_MAX (2 * TC_BLEND_MAX) /* those of a product, and of its thinner */

/* The volatile part of a product, thinned. Known by its composition alone: how it dissolves is not asked. */
typedef struct tc_volatile {
	/* TC_SAID; TC_ASSUMED: usual for the family; TC_UNKNOWN; TC_ABSENT: there is none */
	tc_state state;
	uint32_t count;
	const tc_entry *solvent[TC_VOLATILE_MAX];
	double share[TC_VOLATILE_MAX]; /* of each in the volatile part, by volume */
	double part;                   /* volatile part of the liquid, by volume; NAN: not known */
} tc_volatile;

/* For one model, in the arena. NULL: out of memory. */
tc_fumes *tc_fumes_new(tc_arena *arena, const tc_model *model);

/* `thin` NULL: as supplied. */
void tc_fumes_of(tc_fumes *fumes, const tc_product *product, const tc_thin *thin, tc_volatile *out);

/* From `from` to `to`, s on the clock of the model, after a pass (from 0) has come on, `gone[i]` m³ of each solvent have left
 * each m². */
typedef void tc_gone(void *user, uint32_t pass, double from, double to, const tc_volatile *of, const double *gone);

/* Follows a layer's passes as they dry one on another. False: its drying is not known, and nothing was told. */
bool tc_fumes_dry(tc_fumes *fumes, const tc_layer *layer, tc_gone *tell, void *user);

#endif
