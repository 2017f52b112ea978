/*
 * Supply: what to mix at each sitting, and what to buy.
 *
 * Sprayed volume = area * wet film * passes / share that lands + what stays in cup and gun (science/quantities.h). Areas
 * that nobody gave are not invented: what depends on them is unknown (NAN) and `lacks` names the part. Volumes in m^3.
 * Lives in the arena that it is given.
 */
#ifndef TC_PLAN_SUPPLY_H
#define TC_PLAN_SUPPLY_H

#include "plan/timetable.h"

/* One liquid of a mix. */
typedef struct tc_pour {
	const tc_product *product; /* NULL: a further term of the mixing ratio, as the hardener */
	const char *name;          /* `lamp black`, `hardener of two-part gloss`, `lacquer thinner` */
	double parts;              /* in the ratio of the cup, as poured: 2 : 1 : 0.3 */
	double volume;             /* NAN: unknown */
} tc_pour;

/* What is mixed at once: one cup of one product, filled for some passes. */
typedef struct tc_cupful {
	const tc_product *product;
	uint32_t task,
	    last_task;      /* first and last task of the timetable that are laid from it; in between others may lie */
	uint32_t passes;    /* laid from it */
	double mixed;       /* when it is mixed, s */
	double lives_until; /* s; INFINITY: one-part, or no pot life is known */
	uint32_t pours;
	const tc_pour *pour;
	double ready;    /* ready to lay, all pours together */
	double lands;    /* of it, wet film on the parts */
	double lost;     /* overspray and what stays in the cup */
	double transfer; /* share that lands; NAN: not sprayed */
	bool transfer_assumed;
	uint64_t estimated;  /* parts whose area was estimated from `size` */
	uint64_t lacks;      /* parts whose area nobody gave: then volumes are NAN */
	const char *because; /* why it is a cup of its own: `the one before outlived its pot life`; NULL */
} tc_cupful;

/* One line of the shopping list. */
typedef struct tc_purchase {
	const tc_product *product; /* NULL: hardener and the like */
	const char *name, *family; /* family: label of its family in the library */
	const char *use; /* `coat`, `thinner`, `cleaning`, `filler`, `abrasive`, `decal` … a word for sorting */
	double volume;   /* used, losses and cleaning included; NAN: unknown or not by volume */
	double cleaning; /* of it, for cleaning the gun between colours and at the end */
	double pack;     /* as sold, m^3; NAN: unknown */
	bool pack_assumed;
	size_t packs;       /* to buy; 0: unknown or not by volume */
	double price, cost; /* of one pack; of all; NAN: unknown */
	double left;        /* bought and not used: NAN */
	bool on_shelf;      /* it is a label of the recipe's shelf */
	uint32_t steps;     /* where it is used */
	const uint32_t *step;
} tc_purchase;

typedef struct tc_supply {
	uint32_t cups;
	const tc_cupful *cup; /* by time */
	uint32_t purchases;
	const tc_purchase *purchase; /* by use, then name */
	double cost;                 /* of all lines that have a price; NAN: none has */
	uint32_t priceless;          /* lines that have none */
	const char *currency;        /* as the recipe writes it, or NULL */
	double waste;   /* lost and left in cups, cleaning included: what goes to a hazardous-waste point; NAN */
	uint64_t lacks; /* parts without an area */
} tc_supply;

/* `model`: with the times of the table. TC_NO_MEMORY, or TC_OK with *supply set. Without times: cups as if each step were a
 * sitting of its own. */
tc_status tc_supply_make(tc_arena *arena, const tc_model *model, const tc_timetable *table, const tc_supply **supply);

#endif
