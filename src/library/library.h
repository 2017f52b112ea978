/* The rulebook's facts: kinds, materials, sources, cautions, defect words, defaults. Immutable once built; any number of
 * threads may read it. All that it points to lies in one arena (no pointer to a literal, none to the heap), so that the
 * arena can be written into the program as an image and moved. */
#ifndef TC_LIBRARY_LIBRARY_H
#define TC_LIBRARY_LIBRARY_H

#include "base/limits.h"
#include "base/map.h"
#include "base/quantity.h"
#include "library/collect.h"
#include "science/cure.h"

#define TC_NONE UINT32_MAX

typedef enum tc_property {
#define PROPERTY(id, key, type, dim, words, low, high, sections, help) TC_P_##id,
#include "library/property.def"
#undef PROPERTY
	TC_PROPERTY_COUNT
} tc_property;

typedef enum tc_default {
#define DEFAULT(id, key, type, dim, low, high, help) TC_D_##id,
#include "library/default.def"
#undef DEFAULT
	TC_DEFAULT_COUNT
} tc_default;

/* What a property may hold beside the types of base/value.h: these two are seen by the library alone. */
typedef enum tc_property_form { TC_FORM_PLAIN, TC_FORM_BLEND, TC_FORM_ENTRIES, TC_FORM_RATIO } tc_property_form;

typedef struct tc_property_row {
	const char *key;
	tc_type type; /* of TC_FORM_ENTRIES and TC_FORM_RATIO: TC_T_TEXT */
	tc_property_form form;
	tc_dim dim;
	const char *vocabulary; /* NULL: none */
	double low, high;
	uint32_t sections; /* bit (1u << tc_section) */
	const char *help;
} tc_property_row;
const tc_property_row *tc_property_row_of(tc_property property);
tc_property tc_property_find(tc_text key); /* TC_PROPERTY_COUNT: no such key */
/* The row of a default, in the same form; of no section. */
const tc_property_row *tc_default_row_of(tc_default which);

/* Where a figure comes from. */
typedef struct tc_basis {
	uint32_t source; /* index of a source, or TC_NONE: common practice */
	bool memory;     /* remembered, not read there */
	const char *at;  /* table, chapter, or NULL */
} tc_basis;

typedef struct tc_source_entry {
	const char *id, *author, *title, *year, *note; /* NULL where not given, id and title never */
	bool read; /* read, not remembered */
	tc_place place;
} tc_source_entry;

/* A list of entries (kinds and materials). */
typedef struct tc_entries {
	uint32_t count;
	const uint32_t *at;
} tc_entries;

typedef struct tc_figure {
	tc_value value;             /* said; absent where it says `none`; unknown of a blend with `rest: unknown` */
	const tc_entries *entries;  /* of TC_FORM_ENTRIES */
	double least, most;         /* spread as published; both 0 where none is kept */
	double ratio[TC_MIX_PARTS_MAX];
	const tc_basis *basis;      /* NULL: none was written (on a shelf) */
	const char *note;           /* NULL: none */
	tc_place place;             /* of the value */
	uint32_t entry;             /* the entry or kind at which it stands, TC_NONE on a shelf */
} tc_figure;

/* A kind or a material. Numbered in preorder: `x is K` is K.first <= x.first && x.first <= K.last. */
typedef struct tc_entry {
	const char *id, *name, *about; /* name: what a person calls it; never NULL */
	uint32_t index;                /* its number in preorder = first */
	uint32_t last;                 /* last number below it (its own for a material) */
	uint32_t parent;               /* TC_NONE for a root */
	tc_section section;            /* of a kind: TC_SECTION_KINDS */
	uint32_t sections;             /* bits: its own; of a kind those of the materials below it, 0 if there is none */
	bool is_kind;
	const tc_figure *figures[TC_PROPERTY_COUNT]; /* with those of the kinds above; NULL: nobody says (unknown) */
	const char *const *hazards;    /* H-codes, with those of the kinds above; NULL-terminated; never NULL */
	const uint32_t *cautions;      /* cautions of its own; TC_NONE-terminated; never NULL */
	const char *const *also;       /* listed names; NULL-terminated; never NULL */
	const char *known_as;          /* pattern, or NULL */
	const tc_basis *basis;         /* of the entry as a whole; where it says none, that of its first block */
	tc_place place;
} tc_entry;

/* A caution applies to a step when one of its materials bears one of the codes, or is one of the kinds (no codes and no
 * kinds: any material, or none), and the step's verb is one of the verbs (none: any). */
typedef struct tc_caution {
	const char *id, *says;
	const char *const *codes; /* NULL-terminated */
	const uint32_t *kinds;    /* TC_NONE-terminated */
	uint64_t verbs;           /* set of the vocabulary `verb`; 0: any */
	uint32_t breath;          /* what it is that no figure of air clears: TC_BREATH_…; TC_NONE: nothing */
	const tc_basis *basis;
	uint32_t rank;            /* smallest first: the order in which they are shown and numbered */
	tc_place place;
} tc_caution;

typedef struct tc_word_list {
	const char *id;
	uint32_t count;
	const char *const *words;
	const char *const *about; /* "" where nothing is said of a word */
	bool fixed; /* by the model, not by the rulebook */
} tc_word_list;

/* A name that fits several unlike things; the reader answers with the question. */
typedef struct tc_unclear {
	const char *word, *question;
} tc_unclear;

typedef struct tc_library tc_library;

/* Builds the library of a collection into `arena`, which holds nothing of the collection then: all is copied. TC_BAD if
 * any entry has an error; all messages are in `diags`. The library is handed out then too, without what was wrong, so
 * that rules can be checked against it for more messages; it must not be acted upon. */
tc_status tc_library_build(tc_arena *arena, const tc_collection *collection, tc_diags *diags,
    const tc_library **library);

uint32_t tc_library_count(const tc_library *library); /* of kinds and materials */
const tc_entry *tc_library_entry(const tc_library *library, uint32_t index);
const tc_entry *tc_library_by_id(const tc_library *library, tc_text id); /* NULL */
/* The value of a property: absent where it means nothing for the entry's sections, unknown where nobody says it. */
tc_value tc_entry_value(const tc_entry *entry, tc_property property);
bool tc_entry_is(const tc_entry *entry, const tc_entry *kind);

/* `x is K` for something known only as `entry` (see language.md §7): true, false, or unsure where `entry` is a kind above K. */
tc_truth tc_entry_is_truth(const tc_entry *entry, const tc_entry *kind);

uint32_t tc_library_sources(const tc_library *library);
const tc_source_entry *tc_library_source(const tc_library *library, uint32_t index);
uint32_t tc_library_cautions(const tc_library *library);
const tc_caution *tc_library_caution(const tc_library *library, uint32_t index);
/* Does a material bring a caution up: by its kind, by one of its codes, or as one of its own? */
bool tc_caution_fits(const tc_library *library, const tc_caution *caution, const tc_entry *entry);
uint32_t tc_library_defects(const tc_library *library);
const char *tc_library_defect(const tc_library *library, uint32_t index, const char **about);
uint32_t tc_library_defect_find(const tc_library *library, tc_text id); /* TC_NONE */
const tc_figure *tc_library_default(const tc_library *library, tc_default which); /* never NULL */
uint32_t tc_library_unclear(const tc_library *library);
const tc_unclear *tc_library_unclear_at(const tc_library *library, uint32_t index);

/* The fixed vocabularies (verb, pass, cure, structure, breath) have the same numbers in every library: */
enum { TC_PASS_MIST, TC_PASS_LIGHT, TC_PASS_MEDIUM, TC_PASS_WET, TC_PASS_COUNT };
/* cure: enum tc_cure_mechanism of science/cure.h, in its order */
enum { TC_AMORPHOUS, TC_CROSSLINKED, TC_SEMICRYSTALLINE, TC_INERT };
enum { TC_BREATH_ISOCYANATE, TC_BREATH_MIST, TC_BREATH_DUST, TC_BREATH_COUNT };
enum { TC_VERB_WASH, TC_VERB_DEGREASE, TC_VERB_CLEAN, TC_VERB_SAND, TC_VERB_GLUE, TC_VERB_FILL, TC_VERB_CURE, TC_VERB_SCRIBE,
	TC_VERB_COAT, TC_VERB_WAIT, TC_VERB_DECAL, TC_VERB_MASK, TC_VERB_UNMASK, TC_VERB_POLISH, TC_VERB_DUST, TC_VERB_STRIP,
	TC_VERB_WIPE, TC_VERB_FIT, TC_VERB_MIX, TC_VERB_TEST, TC_VERB_DO, TC_VERB_COUNT };
/* Others come from section `words` of the rulebook: role, effect, soil, need, sheen, shade, hardness, method … */
const tc_word_list *tc_library_words(const tc_library *library, tc_text vocabulary); /* NULL: no such list */
uint32_t tc_word_find(const tc_word_list *list, tc_text word);                       /* TC_NONE */

/* Reads one property's value as an entry or a shelf writes it: a scalar, a list, a mapping for a blend; or the long form
 * {is: VALUE, from: …, spread: A to B, note: …}. Also used by the recipe reader for a shelf. `solvents` of a shelf may
 * say `by: mass` and `rest: unknown`. NULL (with a diagnostic) on error. */
const tc_figure *tc_figure_read(const tc_library *library, tc_arena *arena, const tc_source *source, tc_property property,
    const tc_node *node, tc_diags *diags);

/* Reads a basis: `practice`, {source: ID, at: …}, {source: ID, memory: yes}. NULL (with a diagnostic) on error. */
const tc_basis *tc_basis_read(const tc_library *library, tc_arena *arena, const tc_source *source, const tc_node *node,
    tc_diags *diags);

/* Finds materials by name for one worker: by id, name or listed name (case and blank/hyphen/underscore do not matter),
 * and on a miss by the `known_as` patterns of all entries, compiled at the first miss into one match without JIT.
 *
 * Within a section a name belongs to one material, and among kinds to one kind. A lookup goes in this order: a welcome
 * material of that id; the welcome materials of that name; a word of `unclear`; a welcome kind of that name; the
 * patterns. So a word such as `enamel` may be unclear for a coat though a kind is called so, and yet be clear where it
 * names a material of a section that is welcome. */
typedef struct tc_finder tc_finder;
tc_finder *tc_finder_new(const tc_library *library, const tc_allocator *from); /* NULL: out of memory */
void tc_finder_free(tc_finder *finder);

typedef enum tc_found {
	TC_FOUND,
	TC_FOUND_SEVERAL,  /* two materials of unlike sections have that name, or the patterns of two entries fit */
	TC_FOUND_UNCLEAR,
	TC_FOUND_NOTHING,
	TC_FOUND_LIMIT,    /* a pattern takes too long over this name: it cannot be told */
	TC_FOUND_NO_MEMORY
} tc_found;
typedef struct tc_find {
	const tc_entry *entry;   /* TC_FOUND; of several: the first */
	const tc_entry *other;   /* of several: the second; of nothing: one of that name that is not welcome */
	const char *question;    /* TC_FOUND_UNCLEAR */
	tc_text nearest;         /* TC_FOUND_NOTHING: the nearest name, or empty */
} tc_find;
/* `sections`: bits of the sections that are welcome (a kind is welcome if its `sections` meet them, or they are ~0). */
tc_found tc_finder_find(tc_finder *finder, tc_text name, uint32_t sections, tc_find *find);

#endif
