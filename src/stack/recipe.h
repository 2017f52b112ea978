/* A recipe as its author wrote it, understood: parts, shelf, workshop, steps with their quantities and materials. No
 * defaults are filled in here and nothing is computed; model.h does that. Lives in the caller's arena, which must also
 * hold the source and its tree. */
#ifndef TC_STACK_RECIPE_H
#define TC_STACK_RECIPE_H

#include "base/date.h"
#include "base/limits.h"
#include "library/library.h"

/* A material as a recipe names it: a label on the shelf with figures of its own, or an entry of the library (a kind, where
 * nothing nearer is known). */
typedef struct tc_product {
	const char *label;       /* as shown to a person */
	const tc_entry *family;  /* never NULL */
	const tc_figure *const *own; /* TC_PROPERTY_COUNT figures of the shelf, NULL where it says nothing; NULL: not on a shelf */
	bool on_shelf, used;
	uint32_t index;          /* among the recipe's products, in order of first mention */
	tc_place place;
} tc_product;

/* A property of a product: the shelf's own figure, else its family's. Figures of a family that vary from product to
 * product (solvents, solids, films, times) are TC_ASSUMED, properties of a plain material are TC_SAID; TC_ABSENT where
 * the property means nothing for its section; TC_UNKNOWN where nobody says. */
tc_value tc_product_value(const tc_product *product, tc_property property);
const tc_figure *tc_product_figure(const tc_product *product, tc_property property); /* NULL: unknown, or absent by section */

#define TC_PASS_UNSAID 255

typedef struct tc_thin {
	const tc_product *with; /* NULL: not said */
	double share;           /* thinner as a share of the paint: 1:1 is 1 */
	bool said;
	tc_place place;
} tc_thin;

typedef struct tc_mix {
	unsigned count;
	double terms[TC_MIX_PARTS_MAX];
	const char *text;
} tc_mix;

typedef struct tc_written_step {
	uint32_t number;         /* from 1 */
	uint32_t verb;           /* TC_VERB_… */
	const tc_product *with;  /* the material, agent or abrasive of its verb; NULL: none, or a place (mask) */
	uint64_t parts;          /* bit per part or area of the recipe, already resolved */
	bool on_area;            /* names an area, not a whole part */
	uint64_t areas;          /* those of `parts` that were named as areas */
	const char *text;        /* of `do`, `test`, `fit`: what is to be done; else NULL */
	/* quantities: state TC_ABSENT where the step says nothing */
	tc_value time, takes, at, depth, width, wet_film, nozzle, wait;
	bool wet, on_purpose;
	uint32_t role, effect, sheen, shade, method, intends; /* words of their vocabularies (intends: a defect), or TC_NONE */
	uint32_t coats;          /* 0: not said */
	uint32_t passes;         /* how many `passes` are listed; 0: none */
	uint8_t pass[TC_COATS_MAX]; /* TC_PASS_…; pass[0] alone if `pass` was said; TC_PASS_UNSAID */
	uint32_t flashes;        /* 0 none, 1 one for all, else a list */
	double flash[TC_COATS_MAX];
	tc_thin thin;
	tc_mix mix;              /* count 0: not said; `ratio` of a mix step too */
	const tc_product *softener; /* of a decal */
	const tc_product *grade; /* abrasive used besides: polish, scribe, strip */
	tc_place place;          /* of its verb's key */
	const tc_node *node;
} tc_written_step;

/* An old, plated or factory finish that a part comes with, oldest first. */
typedef struct tc_finish {
	const tc_product *coat;
	tc_value age;
	tc_place place;
} tc_finish;

typedef struct tc_written_part {
	const char *name;        /* 'hull', or 'hull/bottom' for an area */
	uint32_t whole;          /* index of the part that an area belongs to; its own index otherwise */
	double share;            /* of the whole part's area: 1 for a part without areas */
	const tc_product *substrate;
	/* area: of this one alone, the share taken already */
	tc_value area, line_width, line_depth, thickness; /* TC_UNKNOWN or TC_ABSENT where not said */
	bool area_estimated;     /* from `size` */
	tc_value stressed, flexible, lit, outdoors, handled; /* truths; TC_UNKNOWN: not said */
	uint32_t finishes;
	const tc_finish *finish;
	const char *wiped_with;  /* `tested: {wipe: …, result: …}`; NULL */
	uint32_t wipe_result;    /* word of the vocabulary `rub`, or TC_NONE */
	tc_place place;
} tc_written_part;

typedef struct tc_accept {
	uint32_t rule;           /* index in the rulebook, or TC_NONE where it is by defect */
	uint32_t defect;         /* TC_NONE where it is by rule */
	const char *name;        /* as written */
	uint64_t parts;          /* all bits: any */
	uint32_t step;           /* 0: any */
	const char *because;
	tc_place place;
} tc_accept;

/* The figures of a workshop. */
typedef enum tc_shop_figure {
	TC_SHOP_TEMPERATURE,
	TC_SHOP_HUMIDITY,
	TC_SHOP_AIR_SPEED,
	TC_SHOP_ROOM,
	TC_SHOP_EXTRACTION,
	TC_SHOP_FIGURES
} tc_shop_figure;

typedef struct tc_shop {
	tc_value temperature, humidity, air_speed, room, extraction; /* TC_ABSENT: not said */
	tc_place said[TC_SHOP_FIGURES]; /* where each is said: in the recipe the whole `workshop`, else its key in the settings */
	bool dusts, dries;
	uint32_t method;         /* `by` of all coats that say none, or TC_NONE */
	const char *currency;    /* of the prices on the shelf, as written; NULL: not said */
	tc_place place;
} tc_shop;

/* Hours of some days of every week, in minutes from 00:00 of the day on which they begin: from < to <= from + 1440. */
typedef struct tc_weekly {
	uint8_t days;            /* bit 0 is Monday */
	uint16_t from, to;
} tc_weekly;

/* Hours of one day, in place of its usual ones; both 0: no time on that day. */
typedef struct tc_dated {
	tc_date date;
	uint16_t from, to;
} tc_dated;

/* When there is time to work (`sessions`). */
typedef struct tc_hours {
	bool said;
	uint32_t weeklies;       /* as written; 0: the days that `dated` has not are free, if it only says `none`, else closed */
	const tc_weekly *weekly;
	uint32_t dateds;         /* by date and `from` */
	const tc_dated *dated;
	tc_place place;          /* of the key's value */
} tc_hours;

/* When, and by which clock. */
typedef struct tc_times {
	bool has_start;
	tc_wall start;
	tc_place start_place;
	tc_hours hours;
	const char *zone;        /* name of a time zone, of the right shape; NULL: not said */
	tc_place zone_place;
} tc_times;

typedef struct tc_recipe {
	const char *title;
	double scale;            /* 48 for 1:48; 0: not said */
	tc_shop shop;
	tc_times times;          /* sessions and zone of the settings where the recipe says none */
	uint32_t parts;
	const tc_written_part *part;
	uint32_t products;       /* all that the recipe names, shelf labels that are never used included */
	const tc_product *const *product;
	uint32_t steps;
	const tc_written_step *step;
	uint32_t accepts;
	const tc_accept *accept;
	const tc_source *source;
	const tc_node *root;
	tc_place place;
} tc_recipe;

/* Names a rule by its id for `accept`: its index, or TC_NONE; *nearest may be set. Supplied by the judge, since this floor
 * knows no rules. */
typedef struct tc_rule_names {
	uint32_t (*find)(const void *user, tc_text id, tc_text *nearest);
	const void *user;
} tc_rule_names;

/* What lies beside a recipe: for `shelf: ../my-shelf.yaml`. Hands back the bytes of a file named relative to the recipe (they
 * must live as long as `arena`), or NULL with *reason set. NULL reader: such a shelf is an error. */
struct tc_common;
typedef struct tc_reader {
	const char *(*read)(void *user, tc_arena *arena, const char *beside, const char *name, size_t *length, const char **reason);
	void *user;
	const struct tc_common *common; /* what is said for all recipes of a collection (common.h); NULL: nothing */
} tc_reader;

/* The pause behind a pass of a coat, from 0: as the step says, else as its product usually wants; s. NAN: nobody says. */
double tc_step_pause(const tc_written_step *step, uint32_t pass);

/* A part and its areas are one body. The parts that are one with this one, itself included, as bits. */
uint64_t tc_body_of(const tc_recipe *recipe, uint32_t part);

/* Is this document a recipe (does its mapping have the key `recipe`)? */
bool tc_is_recipe(const tc_document *document);

/* Understands one document. TC_BAD if it has any error; all messages are in `diags`. `short_form`: a recipe of `shown_by`,
 * which needs no title and may say `on: SUBSTRATE` (that short form is allowed in full recipes too). */
tc_status tc_recipe_read(tc_arena *arena, const tc_library *library, tc_finder *finder, const tc_rule_names *rules,
    const tc_reader *reader, const tc_source *source, const tc_node *root, bool short_form, tc_diags *diags,
    const tc_recipe **recipe);

#endif
