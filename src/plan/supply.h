/*
 * Supply: what to mix at each sitting, and what to buy.
 *
 * Volume = area * wet film * passes / share that lands + what stays in cup and tool (science/quantities.h). Areas that
 * nobody gave are not invented: what depends on them is unknown (NAN) and `lacks` names the part. A coat whose pass nobody
 * said counts at the weight that the model was built with. Volumes in m^3. Lives in the arena that it is given.
 */
#ifndef TC_PLAN_SUPPLY_H
#define TC_PLAN_SUPPLY_H

#include "plan/timetable.h"

/* One pass on one part, or a spot of filler or glue. */
typedef struct tc_laying {
	uint32_t task, cup, part;
	const tc_layer *layer;
	uint32_t pass;        /* of the layer, from 0 */
	double at;            /* when it has been laid, s; without times on the model's clock */
	double takes;         /* putting it on, s, until `at` */
	double lands;         /* wet on the part, m^3; NAN: unknown */
	double uses;          /* of the cup, m^3: what lands and what goes past; NAN */
	double transfer;      /* share that lands; NAN: unknown, or a spot */
	const tc_entry *tool; /* way of putting on, of section `methods`; NULL: not known */
	bool sprayed;         /* a mist, or nobody says that it is none; never a spot */
	double cleaned;       /* thinner that cleans the tool after it, m^3; 0: it is not cleaned then */
} tc_laying;

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
	uint32_t task, last_task; /* first and last that are laid from it; in between others may lie */
	uint32_t passes;          /* laid from it, on however many parts at once */
	uint64_t parts;           /* laid on */
	double mixed;             /* when it is mixed, s; NAN without times */
	double ready_from;        /* when it has stood long enough, s; `mixed` where it need not stand */
	double lives_until;       /* s; INFINITY: one-part, or no pot life is known */
	uint32_t pours;
	const tc_pour *pour; /* in the order of pouring: base, hardener, thinner */
	uint32_t terms;      /* those of the mixing ratio; a pour after them is the thinner */
	double ready;        /* ready to lay, all pours together */
	double lands;        /* of it, wet film on the parts */
	double lost;         /* what goes past and what stays in the cup */
	double left;         /* of it, what stays in the cup */
	double transfer; /* share that lands of what is put on, by volume where it varies; NAN: unknown, or a spot */
	bool transfer_assumed;
	bool film_assumed;   /* some pass or its film is not the recipe's own */
	uint64_t estimated;  /* parts whose area was estimated from `size` */
	uint64_t lacks;      /* parts whose area nobody gave: then volumes are NAN */
	const char *because; /* why it is a cup of its own: `the one before outlived its pot life`; NULL */
	/* cleaning of the tool whenever another cup, or the end of the sitting, follows on it */
	uint32_t cleanings;
	double cleaning;           /* all of them, m^3 */
	const tc_product *cleaner; /* NULL: none is known, or none is needed */
} tc_cupful;

/* One line of the shopping list. */
typedef struct tc_purchase {
	const tc_product *product; /* NULL: hardener and the like */
	const char *name, *family; /* family: label of its family in the library */
	/* a word for sorting: coat, hardener, thinner, cleaning, filler, adhesive, decal, softener, wash, polish, abrasive,
	 * masking, other; of several uses the first of these */
	const char *use;
	double volume;   /* used, losses and cleaning included; NAN: unknown or not by volume */
	bool more;       /* and besides some that is not counted: a wash, a wipe */
	double cleaning; /* of it, for cleaning the tool between colours and at the end */
	double pack;     /* as sold, m^3; NAN: unknown */
	bool pack_assumed;
	size_t packs;       /* to buy; 0: unknown or not by volume */
	double price, cost; /* of one pack; of all; NAN: unknown */
	double left;        /* bought and not used: NAN */
	bool on_shelf;      /* it is a label of the recipe's shelf */
	uint32_t steps;     /* where it is used: their numbers, rising */
	const uint32_t *step;
} tc_purchase;

typedef struct tc_supply {
	uint32_t cups;
	const tc_cupful *cup; /* by time */
	uint32_t purchases;
	const tc_purchase *purchase; /* by use, then name */
	double cost;                 /* of all lines that have one; NAN: none has */
	uint32_t priceless;          /* lines whose cost is not known */
	const char *currency;        /* as the recipe writes it, or NULL */
	double cleaning;             /* of tools, all cups together, m^3 */
	double waste;   /* lost and left in cups, cleaning included: what goes to a hazardous-waste point; NAN */
	uint64_t lacks; /* parts without an area */
	uint32_t layings;
	const tc_laying *laying; /* by time */
} tc_supply;

/* `model`: with the times of the table. TC_NO_MEMORY, or TC_OK with *supply set. Without times: cups as if each step were a
 * sitting of its own. */
tc_status tc_supply_make(tc_arena *arena, const tc_model *model, const tc_timetable *table, const tc_supply **supply);

#endif
