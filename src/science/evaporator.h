/*
 * Private to src/science: a film's solvents, air and law made ready once, and how fast a liquid of any composition then
 * leaves.  Used by every pass of a coat and by every trial of a search, since none of it depends on thickness.
 */
#ifndef TC_SCIENCE_EVAPORATOR_H
#define TC_SCIENCE_EVAPORATOR_H

#include "science/drying.h"

struct tc_evaporator {
	size_t count;
	bool damp; /* some vapour is in the air already */
	double air, cooling, chi;
	double lowest;                           /* K: no film is followed below */
	double warming;                          /* W/(m^2 K) that the air brings, times R */
	double share[TC_SCI_COMPONENTS_MAX];     /* of the liquid that is sprayed, by volume */
	double space[TC_SCI_COMPONENTS_MAX];     /* m^3/mol, molar mass over density */
	double carries[TC_SCI_COMPONENTS_MAX];   /* k over R */
	double heat[TC_SCI_COMPONENTS_MAX];      /* k times heat of vaporisation */
	double ambient[TC_SCI_COMPONENTS_MAX];   /* Pa */
	double antoine_a[TC_SCI_COMPONENTS_MAX]; /* ln P[Pa] = a - b / (T + c), T in K */
	double antoine_b[TC_SCI_COMPONENTS_MAX];
	double antoine_c[TC_SCI_COMPONENTS_MAX];
	double leaving[TC_SCI_COMPONENTS_MAX]; /* pi^2 D_i / 4 in the set film, m^2/s */
	double set_share;
	struct tc_hansen hansen[TC_SCI_COMPONENTS_MAX];
	double size[TC_SCI_COMPONENTS_MAX]; /* m^3/mol */
	struct tc_activity blend;
};

/*
 * How fast a liquid goes, its amounts n_i in mol/m^2.  The clock here runs by the liquid left: dt = n dtau, n the sum
 * of all, so that a pure liquid decays exponentially and rates change only with composition:
 *     dn_i/dtau = -(loss_i n_i - back_i) where that is a loss, else 0; back_i > 0 only where the air holds the vapour.
 */
struct tc_flow {
	double loss[TC_SCI_COMPONENTS_MAX];
	double back[TC_SCI_COMPONENTS_MAX];
	double moles;                 /* n, mol/m^2 */
	double volume;                /* m */
	double shrinking;             /* m/s */
	double wet_bulb, temperature; /* K */
};

/* Checks everything but thickness, solids and what lies below.  False, *e undefined, when something is out of range. */
bool tc_evaporator_set(struct tc_evaporator *e, const struct tc_wet_film *film, const struct tc_drying_air *air,
    const struct tc_drying_law *law);

/* Rates at given amounts, over so much binder (m); flow->wet_bulb holds a guess (the air's temperature will do). */
void tc_evaporator_rates(const struct tc_evaporator *e, const double *moles, double binder, struct tc_flow *flow);

/* tc_drying_run with what tc_evaporator_set made of the film; its thickness and solids are checked here. */
enum tc_drying_status tc_drying_pass(const struct tc_evaporator *e, double thickness, double solids,
    const struct tc_drying_carry *below, struct tc_drying *out);

#endif
