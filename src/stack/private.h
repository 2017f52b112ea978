/* The recipe reader from the inside: what its files share. A reading goes over the document once, in a fixed order of
 * keys whatever the order in the file; each fault adds a diagnostic and reading goes on. */
#ifndef TC_STACK_PRIVATE_H
#define TC_STACK_PRIVATE_H

#include "base/limits.h"
#include "rule/step_key.h"
#include "stack/common.h"

/* --- key.c: the known keys --------------------------------------------------------------------------------------- */

/* Places where keys stand. */
enum {
	IN_RECIPE = 1,
	IN_WORKSHOP = 1 << 1,
	IN_HABITS = 1 << 2,
	IN_PART = 1 << 3,
	IN_LINES = 1 << 4,
	IN_TESTED = 1 << 5,
	IN_FINISH = 1 << 6,
	IN_LABEL = 1 << 7,
	IN_STEP = 1 << 8,
	IN_THIN = 1 << 9,
	IN_SCRIBE = 1 << 10,
	IN_ACCEPT = 1 << 11,
	IN_SHELF_FILE = 1 << 12
};

/* TC_KEYS_<letter> is the first key of that letter. */
typedef enum tc_key {
	TC_KEY_NOTHING,
#define LETTER(l) TC_KEYS_##l, TC_KEYS_BEFORE_##l = TC_KEYS_##l - 1,
#define KEY(id, name, places) TC_KEY_##id,
#include "stack/key.def"
#undef LETTER
#undef KEY
	TC_KEY_COUNT
} tc_key;

typedef struct tc_key_row {
	const char *name;
	uint32_t length, places;
} tc_key_row;

const tc_key_row *tc_key_row_of(uint32_t key);
uint32_t tc_key_find(tc_text name); /* TC_KEY_COUNT: no such key */

/* --- a reading --------------------------------------------------------------------------------------------------- */

typedef struct tc_reading {
	tc_arena *arena;
	const tc_library *library;
	tc_finder *finder;
	const tc_rule_names *rules;
	const tc_reader *files;
	const tc_source *source; /* of the recipe; while a shelf file is read, of that file */
	tc_diags *diags;
	bool short_form, bad, no_memory;
	bool for_all; /* what is read is said for all recipes of a collection */
	tc_recipe *recipe;
	tc_written_part *part; /* recipe->parts of them */
	uint32_t parts_room;
	tc_written_step *step;
	tc_product **product; /* recipe->products of them */
	uint32_t products_room;
	tc_map labels; /* of the shelf, to product */
	uint16_t
	    *by_entry; /* for each entry of the library, one more than the product that is named by it; 0: none yet */
	/* while steps are read */
	uint64_t taped_areas, taped_parts; /* areas, and whole parts, that a `mask` covers */
	uint32_t taped_at[TC_PARTS_MAX];   /* number of the step that did */
} tc_reading;

/* Adds an error at a node. */
#define tc_refuse(reading, id, node, ...)                                                                              \
	((reading)->bad = true,                                                                                        \
	    tc_diag_add((reading)->diags, TC_ERROR, (id), tc_node_place((reading)->source, (node)), __VA_ARGS__))

/* The end of a message about an unknown word: "; `NEAREST` is near", or `otherwise`. */
#define TC_NEAREST_F "%s%.*s%s"
#define TC_NEAREST_A(nearest, otherwise)                                                                               \
	(nearest).length ? "; `" : "", (int)(nearest).length, (nearest).length ? (nearest).at : "",                    \
	    (nearest).length ? "` is near" : (otherwise)

/* The values of a mapping by their keys. */
typedef struct tc_keys {
	const tc_node *at[TC_KEY_COUNT];  /* NULL: not there */
	const tc_node *key[TC_KEY_COUNT]; /* where at[] is set: the key itself */
	uint32_t count;
	uint8_t id[TC_KEY_COUNT]; /* keys that are there, in the order of the file */
	bool slip;                /* there were unknown ones: what seems to be missing may be among them */
} tc_keys;
_Static_assert(TC_KEY_COUNT <= UINT8_MAX, "keys are kept in bytes");

/* Sorts a mapping's values by key; unknown keys are refused (`what`: 'a recipe', '`thin`' …). False if it is no
 * mapping; `shape`: how it would be written. */
bool tc_keys_gather(
    tc_reading *r, const tc_node *map, uint32_t place, const char *what, const char *shape, tc_keys *keys);
void tc_key_unknown(tc_reading *r, const tc_node *key, uint32_t place, const char *what, bool properties);

/* --- take.c: values ---------------------------------------------------------------------------------------------- */

/* What a key takes: a number of that dimension, a share or a temperature, between bounds. */
typedef struct tc_wanted {
	const char *key;
	tc_type type;
	const tc_dim *dim; /* of a number */
	double low, high;  /* SI */
	bool above;        /* `low` itself is too little */
	const char *unit;  /* for a bare number */
	const char *such;  /* how one is written: `5 min` */
} tc_wanted;
bool tc_take_quantity(tc_reading *r, const tc_node *node, const tc_wanted *want, tc_value *value);
/* The wanted row of a key, or of a key of a mapping (lines.width …). */
const tc_wanted *tc_wanted_of(uint32_t key);

bool tc_take_truth(tc_reading *r, const tc_node *node, const char *key, bool *truth);
const char *tc_take_text(tc_reading *r, const tc_node *node, const char *key, const char *such); /* NULL: refused */
/* A word of a vocabulary of the library, or (defects) of the section `defects`; TC_NONE: refused. */
uint32_t tc_take_word(tc_reading *r, const tc_node *node, const char *key, const char *vocabulary);
uint32_t tc_take_whole(
    tc_reading *r, const tc_node *node, const char *key, uint32_t most, const char *of); /* 0: refused */
unsigned tc_take_ratio(tc_reading *r, const tc_node *node, const char *key, unsigned most, double *terms);
bool tc_scalar_given(const tc_node *node);      /* a text of which something is written */
const char *tc_node_shown(const tc_node *node); /* its text, or 'a list', 'a mapping', 'empty' */

/* --- material.c: names of materials ------------------------------------------------------------------------------ */

/* NULL: refused. `key`: for messages. */
const tc_product *tc_take_material(tc_reading *r, const tc_node *node, uint32_t sections, const char *key);
/* An entry of the library alone. NULL: refused. */
const tc_entry *tc_take_entry(tc_reading *r, const tc_node *node, uint32_t sections, const char *key);
/* The product of an entry of the library that is named by itself. */
const tc_product *tc_product_of_entry(tc_reading *r, const tc_entry *entry, tc_place place);
tc_product *tc_product_add(tc_reading *r, tc_product product); /* NULL: out of memory */
#define TC_SECTION_BIT(section) (1u << TC_SECTION_##section)
#define TC_LAID_SECTIONS                                                                                               \
	(TC_SECTION_BIT(COATINGS) | TC_SECTION_BIT(FILLERS) | TC_SECTION_BIT(ADHESIVES) | TC_SECTION_BIT(DECALS))
#define TC_WET_SECTIONS (TC_SECTION_BIT(AGENTS) | TC_SECTION_BIT(BLENDS) | TC_SECTION_BIT(SOLVENTS))
#define TC_ALL_SECTIONS (TC_LAID_SECTIONS | TC_WET_SECTIONS | TC_SECTION_BIT(SUBSTRATES) | TC_SECTION_BIT(ABRASIVES))

/* --- the parts of a recipe --------------------------------------------------------------------------------------- */

void tc_read_shop(tc_reading *r, const tc_node *node); /* NULL: not said */
tc_shop tc_shop_silent(void);                          /* that says nothing */
void tc_read_times(tc_reading *r, const tc_node *start, const tc_node *sessions, const tc_node *zone); /* NULL: not said */
void tc_read_shelf(tc_reading *r, const tc_node *node);
void tc_read_parts(tc_reading *r, const tc_node *node);    /* `parts` */
void tc_read_one_part(tc_reading *r, const tc_node *node); /* `on`: the short form */
void tc_read_steps(tc_reading *r, const tc_node *node);
void tc_read_accepts(tc_reading *r, const tc_node *node);

/* Places that a step or an acceptance works on. */
typedef struct tc_places {
	uint64_t parts; /* with the areas of whole parts */
	uint64_t areas; /* those of them that were named as areas, or lie in a part that was not named */
} tc_places;
/* A part, part/area, or a list of these; false: refused. */
bool tc_take_places(tc_reading *r, const tc_node *node, const char *key, tc_places *places);
uint32_t tc_part_find(const tc_reading *r, tc_text name); /* TC_NONE */
tc_nearest tc_part_nearest(const tc_reading *r, tc_text name);
uint64_t tc_part_bits(const tc_reading *r, uint32_t part); /* with its areas */

#endif
