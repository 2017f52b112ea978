/* One liquid tried on one solid: would it attack, how wet and how long? Made of the same parts as a check: a small
 * recipe is read and modelled, and the rulebook is asked of the contact (or, of a liquid that only wets, of the
 * touch).
 *
 * The bounds between the verdicts stand in the rulebook, as two lets for each of the two questions:
 *   bite_attacks, bite_crazes            names of a contact in scope: coat, under, part …
 *   bite_attacks_wet, bite_crazes_wet    names of a touch: liquid, under, part …
 * What is said here is only which of them is asked first, and that what cannot dissolve swells. */
#ifndef TC_JUDGE_TRY_H
#define TC_JUDGE_TRY_H

#include "judge/judge.h"

/* In the order of weight; the last one is none. */
typedef enum tc_try_word {
	TC_TRY_NONE,      /* no attack expected */
	TC_TRY_CRAZES,    /* may craze where the solid holds stress */
	TC_TRY_SWELLS,    /* attacks what cannot dissolve: crosslinked, semicrystalline */
	TC_TRY_DISSOLVES, /* attacks what can */
	TC_TRY_UNDECIDED  /* something is not known: see `need` */
} tc_try_word;

/* What is asked, as a person writes it. NULL: not said. */
typedef struct tc_try_ask {
	const char *solid;  /* a material or a label of the shelf; of a coating its dried film is meant */
	const char *liquid; /* likewise, or parts of a blend: `toluene:40,acetone:60` */
	const char *shelf;  /* a file with a shelf: of its own, or in a recipe */
	const char *pass, *wet_film, *coats, *flash, *thin, *time;
	const char *temperature, *air_speed, *humidity;
	bool stressed;
} tc_try_ask;

/* The film at one moment. */
typedef struct tc_try_moment {
	double time; /* s since the first pass landed */
	double red;
	double wetness; /* liquid's share of the film */
	double liquid;  /* left, m */
	uint32_t pass;  /* from 0 */
} tc_try_moment;

/* How much of something is borne. */
typedef struct tc_try_bound {
	tc_value value; /* absent: the least of it is too much, or there is no such thing */
	bool any;       /* the most that was tried is borne too: TC_TRY_FILM_MOST, TC_TRY_TIME_MOST */
} tc_try_bound;

/* What comes out at one weight of pass. */
typedef struct tc_try_pass {
	uint32_t pass; /* TC_PASS_… */
	double wet;    /* m */
	tc_try_word word;
	tc_value red_least, attack, hot_time;
} tc_try_pass;

typedef struct tc_try {
	tc_try_word word;
	tc_try_word under_stress; /* the same if the part holds stress */
	bool stressed;            /* said, or usual for the solid */
	bool paint; /* the liquid is a coat: it forms a film; else it only wets, or only its solvents are looked at */
	const tc_product *solid, *liquid, *thinner; /* thinner: NULL, none */
	double thinned;                             /* thinner as a share of the paint */
	uint32_t structure;                         /* TC_AMORPHOUS …, TC_NONE: not known */
	bool no_solvent;                            /* the liquid has none */

	/* the film */
	uint32_t coats;
	uint32_t pass; /* TC_PASS_…, or TC_PASS_UNSAID where a wet film was given or means nothing */
	bool pass_assumed, film_assumed;
	double wet;   /* of a pass, m; NAN: not known */
	double flash; /* s; NAN with one coat */
	bool flash_assumed;
	double solids; /* as laid; NAN: none, or not known */
	double stays;  /* of what only wets: s; NAN: not known, or a paint */
	bool stays_assumed;
	tc_value temperature, humidity, air_speed;

	/* the liquid: solvents, the largest share first */
	tc_state liquid_state; /* how its composition is known */
	uint32_t solvents;
	uint32_t solvent[TC_BLEND_MAX]; /* entries */
	double share[TC_BLEND_MAX];

	/* what it does; unknown, or absent where there is nothing for a solvent to do */
	tc_value red;       /* as it lands */
	tc_value red_least; /* at the worst moment of its drying */
	double worst_at;    /* s since the first pass landed; NAN */
	tc_value hot_time;  /* s during which RED lies below `hot_bound`, all passes together */
	double hot_bound;
	tc_value attack; /* depth, m */
	/* The heaviest wet film of a pass, m, at which it neither dissolves nor swells; and, on a part that holds
	 * stress, at which no attack is expected. Of what only wets also how long it may lie there, s, before it
	 * does the first. */
	tc_try_bound heaviest, heaviest_stressed, longest;
	uint32_t passes; /* of a paint whose family gives films: each weight of pass by itself */
	tc_try_pass at_pass[TC_PASS_COUNT];

	uint32_t moments; /* of the drying, while it counts as wet */
	const tc_try_moment *moment;

	uint32_t reasons; /* leaves of the let that decided; none where no let was true */
	const tc_reason *reason;
	uint32_t needs;
	const tc_need *need;
	uint32_t cautions;
	const tc_caution_use *caution;
	const tc_model *model;
	const tc_rulebook *rulebook;
} tc_try;

#define TC_TRY_FILM_MOST 1e-3    /* m */
#define TC_TRY_TIME_MOST 86400.0 /* s */

/* TC_BAD: something of what was asked has an error, and `diags` says which; the place of a message is a file of
 * the shelf, or its `file` names what was asked (`SOLID`, `--thin`) and its line is 0. */
tc_status tc_try_bite(tc_worker *worker, tc_arena *arena, const tc_try_ask *ask, const tc_reader *files,
    tc_diags *diags, const tc_try **result);

#endif
