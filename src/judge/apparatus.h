/* What the computations of this folder are given: air, law of drying, uptake, solvents, and the passes of a film. */
#ifndef TC_JUDGE_APPARATUS_H
#define TC_JUDGE_APPARATUS_H

#include "judge/private.h"

typedef struct tc_apparatus {
	struct tc_solvent solvent[TC_SCI_COMPONENTS_MAX];
	struct tc_drying_air air;
	struct tc_drying_law law;
	struct tc_uptake uptake;
	double wetness; /* share of liquid below which a film no longer counts as wet */
} tc_apparatus;

double tc_constant(const tc_scene *scene, tc_default which);

/* From the shop, the rulebook's defaults and the library; chi NAN: the usual binder's. */
void tc_apparatus_set(const tc_scene *scene, const tc_liquid_mix *mix, double temperature, double chi, tc_apparatus *a);

/* Passes of one film as the science takes them. */
typedef struct tc_film_passes {
	uint32_t count;
	double wet[TC_COATS_MAX];        /* m */
	double flash[TC_COATS_MAX];      /* s after each pass; the last one's is 0 */
	double solids, temperature, chi; /* chi: NAN, the usual one */
} tc_film_passes;

/* Those of a layer. False: old, or something of its film is not known. */
/* Does the damp of the room's air change how a mix dries? */
bool tc_mix_feels_damp(const tc_scene *scene, const tc_liquid_mix *mix);
bool tc_film_of_layer(const tc_layer *layer, tc_film_passes *p);
/* What a liquid leaves where it wets: one pass without a binder. */
void tc_film_of_liquid(const tc_scene *scene, const tc_liquid *liquid, tc_film_passes *p);

/* Dries the passes one on another; `visit` (or NULL) sees each as it dries, and until when it is left alone (the
 * horizon for the last). *drying is the last one. False: out of the science's range. */
typedef void tc_pass_visit(void *user, uint32_t pass, const struct tc_drying *drying, double until);
bool tc_film_run(const tc_film_passes *p, const tc_liquid_mix *mix, const tc_apparatus *a, tc_pass_visit *visit,
    void *user, struct tc_drying *drying);

#endif
