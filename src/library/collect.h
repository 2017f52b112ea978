/* A rulebook as files, before anything in it is understood: every entry of every section by its id, with `amend` and
 * `retire` of the layers above already applied to the trees. The library and the rules are both built from this.
 *
 * Ids are one namespace over all sections. Three sections have words rather than ids, which may be the same as ids;
 * they are found, amended and retired as `words/role`, `defaults/temperature` and `unclear/lacquer`. */
#ifndef TC_LIBRARY_COLLECT_H
#define TC_LIBRARY_COLLECT_H

#include "read/yaml.h"

typedef enum tc_section {
	TC_SECTION_SOURCES, TC_SECTION_WORDS, TC_SECTION_KINDS, TC_SECTION_SOLVENTS, TC_SECTION_BLENDS, TC_SECTION_SUBSTRATES,
	TC_SECTION_COATINGS, TC_SECTION_FILLERS, TC_SECTION_ADHESIVES, TC_SECTION_DECALS, TC_SECTION_AGENTS,
	TC_SECTION_ABRASIVES, TC_SECTION_METHODS, TC_SECTION_CAUTIONS, TC_SECTION_DEFAULTS, TC_SECTION_DEFECTS, TC_SECTION_UNCLEAR, TC_SECTION_LET,
	TC_SECTION_RULES, TC_SECTION_COUNT,
	/* read by the collector itself */
	TC_SECTION_AMEND = TC_SECTION_COUNT, TC_SECTION_RETIRE
} tc_section;
const char *tc_section_name(tc_section section);

/* One file of a rulebook: its name in messages and its bytes. */
typedef struct tc_rulebook_file {
	const char *name;
	const char *bytes;
	size_t length;
	uint32_t layer; /* 0: the lowest */
} tc_rulebook_file;

typedef struct tc_item {
	tc_section section;
	const char *id;
	const tc_node *node;   /* as amended */
	const tc_source *source; /* of the file that it first stood in; amended keys: see tc_item_source */
	tc_place place;        /* of its id */
	uint32_t layer;
} tc_item;

/* What a layer changed in those below it; listed by the rulebook command and in every JSON report. */
typedef struct tc_change {
	const char *id, *because;
	bool retired;
	bool changed_when; /* an amended rule got another `when` */
	tc_place place;
} tc_change;

typedef struct tc_collection tc_collection;

/* Reads all files (order of files within a layer does not matter) and applies the layers in order. The collection
 * points into the files' bytes. With TC_BAD it is still handed out, so that more can be said about it, unless a file
 * is no YAML (then NULL: what would be missing was perhaps only not read). */
tc_status tc_collect(tc_arena *arena, const tc_rulebook_file *files, size_t count, tc_diags *diags,
    const tc_collection **collection);

size_t tc_collection_count(const tc_collection *collection, tc_section section);
const tc_item *tc_collection_at(const tc_collection *collection, tc_section section, size_t index); /* sorted by id */
const tc_item *tc_collection_find(const tc_collection *collection, tc_text id); /* ids are one namespace */
/* Of an id that a layer retired: that change, else NULL. */
const tc_change *tc_collection_retired(const tc_collection *collection, tc_text id);
/* In order of layers, in each by id. */
size_t tc_collection_changes(const tc_collection *collection);
const tc_change *tc_collection_change(const tc_collection *collection, size_t index);

/* The source in which the value of `key` of this item stands: its own, or that of the amendment that replaced the key. */
const tc_source *tc_item_source(const tc_collection *collection, const tc_item *item, const char *key);

#endif
