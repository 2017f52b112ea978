/* The library from the inside, and what its builder's files share. */
#ifndef TC_LIBRARY_PRIVATE_H
#define TC_LIBRARY_PRIVATE_H

#include "library/library.h"
#include "library/say.h"

/* An entry that bears a name, and the next one of that name (TC_NONE: no more). */
typedef struct tc_named {
	uint32_t entry, next;
} tc_named;

/* All of it lies in the arena that it was built into: no pointer leads out. */
struct tc_library {
	tc_entry *entries; /* in preorder */
	uint32_t count;
	tc_map ids;   /* of entries */
	tc_map names; /* ids, names and listed names, in the form of tc_name_form: the first in `named` */
	const tc_named *named;
	tc_unclear *unclear;
	uint32_t unclear_count;
	tc_map questions; /* words of `unclear`, in the form of tc_name_form */
	tc_source_entry *sources;
	uint32_t sources_count;
	tc_map source_ids;
	tc_caution *cautions; /* as they are shown: by rank, then by id */
	uint32_t cautions_count;
	tc_map caution_ids;
	const char **defects, **defects_about;
	uint32_t defects_count;
	tc_map defect_ids;
	tc_word_list *words; /* the fixed ones first */
	uint32_t words_count;
	tc_map word_ids;
	const tc_figure *defaults[TC_DEFAULT_COUNT];
};

/* What an entry is built from; in preorder, as the entries. Lies in the scratch arena. */
typedef struct tc_draft {
	const tc_item *item;
	const char *id;
	uint32_t parent, child, next; /* by order of ids while the tree is made; TC_NONE */
	uint32_t walk, depth, index;
	bool is_kind;
	/* Its own `solvents`, read after everything else: see blend.c. */
	const tc_node *mix; /* NULL: none */
	const tc_source *mix_source;
	const tc_basis *mix_basis;
	uint8_t mix_state;
	const char *const *hazards; /* its own, NULL-terminated; NULL: none */
} tc_draft;

typedef struct tc_builder {
	tc_arena *arena;   /* of the library: nothing but what belongs to it */
	tc_arena *scratch; /* thrown away at the end */
	const tc_collection *collection;
	tc_diags *diags;
	tc_library *library;
	tc_draft *drafts;
	const char **files, **file_copies; /* names of files, as collected and as kept */
	uint32_t files_count, files_room, copies_room;
	uint32_t depth;  /* of blends within blends */
	tc_named *named; /* library.named while it grows */
	uint32_t named_count, named_room;
} tc_builder;

/* Where a value is being read: for the library (builder) or for a shelf (builder NULL). */
typedef struct tc_reader {
	const tc_library *library;
	tc_arena *arena;
	tc_diags *diags;
	const tc_source *source;
	tc_builder *builder;
} tc_reader;

/* Adds an error at a node of the reader's source. */
#define tc_lib_wrong(reader, id, node, ...)                                                                            \
	tc_diag_add((reader)->diags, TC_ERROR, (id), tc_node_place((reader)->source, (node)), __VA_ARGS__)

/* Remembers in an arena that memory ran out elsewhere. */
void tc_lib_no_memory(tc_arena *arena);

/* --- value.c: small values and the keys of items ---------------------------------------------------------------- */

tc_reader tc_lib_reader(tc_builder *builder, const tc_source *source);
/* The value of an item's key, NULL if it is not given; *reader is set to the source in which it stands. */
const tc_node *tc_lib_item_get(tc_builder *builder, const tc_item *item, const char *key, tc_reader *reader);
/* A place whose file name lives as long as the library. */
tc_place tc_lib_place(const tc_reader *reader, tc_place place);
const char *tc_lib_text(tc_builder *builder, const char *text); /* a copy in the library's arena */

/* Text that is not blank, copied; NULL with a message. `what`: the key, for the message. */
const char *tc_lib_read_text(const tc_reader *reader, const tc_node *node, const char *what);
/* The same of an item's key; NULL without a message where it is not given. */
const char *tc_lib_item_text(tc_builder *builder, const tc_item *item, const char *key);
/* `yes` or `no`; false with a message. */
bool tc_lib_read_truth(const tc_reader *reader, const tc_node *node, const char *what, bool *truth);

/* The items of a list of texts, or a single text as a list of one (*one is its room). Items that are no texts are for
 * the caller's tc_lib_read_item to refuse. False with a message where it is neither. */
typedef struct tc_items {
	const tc_node *const *at;
	uint32_t count;
} tc_items;
bool tc_lib_read_items(
    const tc_reader *reader, const tc_node *node, const char *what, const tc_node **one, tc_items *items);
bool tc_lib_read_item(const tc_reader *reader, const tc_node *node, const char *what);

/* Is every key of the map one of `allowed` (NULL-terminated)? Says which is not; true if all are. */
bool tc_lib_check_keys(const tc_reader *reader, const tc_node *map, const char *const *allowed, const char *what);
/* The same of an item, whose keys may stand in several sources; also refuses an item that is no map. */
bool tc_lib_check_item(tc_builder *builder, const tc_item *item, const char *const *allowed, const char *what);

/* --- hazard.c --------------------------------------------------------------------------------------------------- */

/* Appends the codes of a list to `codes` (copied; sorted and each once at the end: tc_lib_codes_end). */
typedef struct tc_codes {
	const char **at;
	uint32_t count, room;
} tc_codes;
void tc_lib_read_codes(
    const tc_reader *reader, const tc_node *node, const char *what, tc_arena *scratch, tc_codes *codes);
void tc_lib_codes_add(tc_arena *scratch, tc_codes *codes, const char *const *more);
/* NULL-terminated in `arena`; NULL: out of memory. */
const char *const *tc_lib_codes_end(tc_arena *arena, tc_codes *codes);

/* --- basis.c ---------------------------------------------------------------------------------------------------- */

/* `from: …`; NULL with a message. */
const tc_basis *tc_lib_basis(const tc_reader *reader, const tc_node *node);
/* The basis of an item that must have one (a caution, a defect). */
const tc_basis *tc_lib_item_basis(tc_builder *builder, const tc_item *item);

/* --- figure.c --------------------------------------------------------------------------------------------------- */

/* Reads the value of a row in the short or the long form. `basis` is that of the block around it, or NULL. */
const tc_figure *tc_lib_figure(
    const tc_reader *reader, const tc_property_row *row, const tc_node *node, const tc_basis *basis, uint32_t entry);

/* --- measure.c -------------------------------------------------------------------------------------------------- */

/* A number, share or temperature as the row wants it, within its range, in SI; false with a message. */
bool tc_lib_read_measure(const tc_reader *reader, const tc_property_row *row, const tc_node *node, double *si);
/* The same of a piece of a scalar's text. */
bool tc_lib_read_measure_text(
    const tc_reader *reader, const tc_property_row *row, const tc_node *node, tc_text text, double *si);
/* `A to B`. */
bool tc_lib_read_spread(
    const tc_reader *reader, const tc_property_row *row, const tc_node *node, double *least, double *most);

/* --- window.c, blend.c ------------------------------------------------------------------------------------------ */

const tc_window *tc_lib_read_window(const tc_reader *reader, const tc_property_row *row, const tc_node *node);
/* Shares of solvents. *unknown: the rest of it is not known. NULL with a message (or when *unknown). */
const tc_blend *tc_lib_read_blend(
    const tc_reader *reader, const tc_property_row *row, const tc_node *node, bool *unknown);
/* Reads `solvents` of all entries and hands them down; everything else of the entries is there by then. */
void tc_lib_build_blends(tc_builder *builder);

/* --- names.c ---------------------------------------------------------------------------------------------------- */

/* The form in which names are compared: ASCII small, blanks, hyphens and underscores one hyphen. Appends to `out`. */
void tc_name_form(tc_text name, tc_buffer *out);
/* The entries of one name, by what may be welcome; TC_NONE where there is none. A welcome material whose id it is goes
 * before all others. */
typedef struct tc_bearers {
	uint32_t material, second; /* welcome materials */
	uint32_t kind;             /* a welcome kind */
	uint32_t any;              /* the first of that name, welcome or not */
} tc_bearers;
tc_bearers tc_name_bearers(const tc_library *library, tc_text form, uint32_t sections);
/* The entry that a text names, by its id or by its name among `sections` (~0: all, and kinds), or TC_NONE with a
 * message. */
uint32_t tc_lib_read_entry(const tc_reader *reader, const tc_node *node, uint32_t sections, const char *what);
/* Says so if a layer retired what the text refers to. */
bool tc_lib_say_retired(const tc_reader *reader, const tc_node *node);
/* name, also, about, known_as of all entries; the map of names; `unclear`. */
void tc_lib_build_names(tc_builder *builder);

/* --- pattern.c -------------------------------------------------------------------------------------------------- */

/* May the pattern stand among the others? Says what is wrong with it. */
bool tc_known_as_check(const tc_reader *reader, const tc_node *node);
/* --- the other builders, in the order in which tc_library_build calls them --------------------------------------- */

void tc_lib_build_words(tc_builder *builder);
void tc_lib_build_sources(tc_builder *builder);
void tc_lib_build_tree(tc_builder *builder);
void tc_lib_build_cautions(tc_builder *builder);
void tc_lib_build_entries(tc_builder *builder);
/* Hands a property of each kind down to what stands below it and does not say it. */
void tc_lib_hand_down(tc_library *library, tc_property property);
void tc_lib_build_defects(tc_builder *builder);
void tc_lib_build_defaults(tc_builder *builder);

#endif
