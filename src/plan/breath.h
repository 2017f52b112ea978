/*
 * Breath: what the air of the room holds while the work is done and after it.
 *
 * All solvent that is laid, sprayed past, or used for cleaning ends in the room, mixed by the rulebook's factor
 * (science/air.h): V dC/dt = G - m Q C. What goes past the part is in the air as it is put on, a film gives off what its
 * drying says (science/drying.h). Peak and mean of each vapour over a sitting, added up against the limit values (additive
 * formula) and against the mixture's lower explosive limit (Le Chatelier). What an earlier sitting left is still there. No
 * figure from here clears a room: isocyanate, dust and mist are named and never reckoned. docs/science.md says which way each
 * part errs. Lives in the arena that it is given. Concentrations are shares by volume (1 ppm = 1e-6), masses kg, flows m^3/s.
 */
#ifndef TC_PLAN_BREATH_H
#define TC_PLAN_BREATH_H

#include "plan/supply.h"

typedef struct tc_vapour_in_air {
	const tc_entry *solvent;
	double mass;       /* that the work of the sitting sets free, now or later, kg */
	double peak, mean; /* over the sitting; share by volume */
	double mean_8h;    /* spread over the rulebook's limit_time (8 h), as limit values are meant */
	double limit;      /* for 8 h; NAN: none known */
	double lel;        /* NAN: none known */
} tc_vapour_in_air;

/* A stretch of work without a pause longer than the rulebook's sitting_gap, until its vapour has left. */
typedef struct tc_sitting {
	double from, to;          /* s */
	uint32_t task, last_task; /* of the timetable */
	uint32_t vapours;
	const tc_vapour_in_air
	    *vapour; /* by share of the limit, heaviest first; what has neither limit nor LEL is no vapour */
	double mass; /* of all solvent, kg */
	double peak_index, mean_index; /* sum of concentration over limit, at its peak and over 8 h; NAN: unknown */
	uint32_t unlimited;            /* vapours that have no limit in the library, left out of the index */
	double lel_share;              /* peak over the mixture's lower explosive limit; NAN */
	uint32_t lel_unknown;          /* vapours whose LEL is not known, left out of that */
	double worst_breath;           /* s: when the index peaks; NAN */
	/* extraction that would keep the peak index at 1, and the vapour at the rulebook's lel_share of the LEL, were it on all
	 * through the plan, m^3/s; 0: none is needed for that; NAN: unknown, or none would do */
	double needed_health, needed_fire;
	/* s after `to` until the index is below the rulebook's clear_share of 1; INFINITY: it does not get there */
	double clear;
	bool isocyanate, mist, dust; /* never cleared by a figure */
	const uint32_t *unknown;     /* tasks whose solvents or amounts are not known, or not all of them */
	uint32_t unknowns;
} tc_sitting;

typedef struct tc_breath {
	double room, extraction, mixing; /* as taken: m^3, m^3/s, factor */
	double leaks;                    /* fresh air of the room without extraction, m^3/s */
	double fresh; /* fresh air as reckoned, m^3/s: the extraction, or the leaks where they are more */
	bool room_assumed, extraction_assumed;
	uint32_t sittings;
	const tc_sitting *sitting;
	uint32_t worst; /* the sitting with the highest peak index; TC_NONE */
} tc_breath;

/* TC_NO_MEMORY, or TC_OK with *breath set. No sittings without times. */
tc_status tc_breath_make(tc_arena *arena, const tc_model *model, const tc_timetable *table, const tc_supply *supply,
    const tc_breath **breath);

#endif
