/* Breath while it is made: what is set free when, and the room that it goes through. Private to this folder. */
#ifndef TC_PLAN_BREATH_PRIVATE_H
#define TC_PLAN_BREATH_PRIVATE_H

#include "plan/breath.h"

#include "science/air.h"

/* A vapour that has a limit value or can burn, or of which nobody knows whether. */
typedef struct tc_vapour {
	const tc_entry *solvent;
	double density;     /* of the liquid, kg/m^3 */
	double share;       /* volume share that 1 kg/m^3 makes, m^3/kg */
	double limit, lel;  /* volume shares; NAN: none known */
	bool limit_unknown; /* nobody says whether there is one */
	bool lel_unknown;
} tc_vapour;

/* So much of a vapour, evenly over a stretch of time; `to` = `from`: at once. */
typedef struct tc_release {
	double from, to; /* s */
	double mass;     /* kg */
	uint32_t vapour;
	uint32_t sitting; /* whose work sets it free */
} tc_release;

/* A moment at which a source begins or ends. */
typedef struct tc_turning_point {
	double at;
	double rate; /* that is added, kg/s */
	double mass; /* that comes at once, kg */
	uint32_t vapour, sitting;
} tc_turning_point;

typedef struct tc_breathing {
	tc_arena *arena;
	const tc_model *model;
	const tc_timetable *table;
	const tc_supply *supply;
	tc_breath *breath;
	struct tc_air_room room;
	tc_sitting *sitting; /* breath->sittings of them */
	uint32_t sittings_room;
	uint32_t *of_task; /* the sitting of each task */
	tc_vapour *vapour;
	uint32_t vapours, vapours_room;
	uint32_t *of_entry; /* the vapour of each entry of the library; one more; 0: not looked at; TC_NONE: is none */
	tc_release *release;
	uint32_t releases, releases_room;
	tc_turning_point *point; /* by time */
	uint32_t points;
	uint8_t *unknown; /* by task */
	uint8_t *sprayed; /* by task */
} tc_breathing;

/* release.c: everything that all tasks set free. False: out of memory. */
bool tc_releases_gather(tc_breathing *b);

/* air.c: the room over the whole plan: each sitting's vapours, indices, needed air, and when it clears. False: out of memory. */
bool tc_room_follow(tc_breathing *b);

/* flags.c: what no figure clears. False: out of memory. */
bool tc_breath_flags(tc_breathing *b);

#endif
