/* Bytes to a tree, with a place on every node. By libyaml's events, never its document loader: depth, nodes, aliases
 * and scalar sizes are counted while they come (base/limits.h). Plain scalars are never typed here: every scalar is
 * text until its key's type reads it. Duplicate keys, merge keys, tags, keys that are not scalars, and anchors on
 * anything but whole nodes are refused with a hint. Aliases are expanded by reference within the bound on nodes. */
#ifndef TC_READ_YAML_H
#define TC_READ_YAML_H

#include "read/source.h"

typedef enum tc_node_kind { TC_SCALAR, TC_LIST, TC_MAP } tc_node_kind;
typedef enum tc_style { TC_PLAIN, TC_SINGLE, TC_DOUBLE, TC_LITERAL, TC_FOLDED } tc_style;

typedef struct tc_node tc_node;
struct tc_node {
	uint8_t kind;       /* tc_node_kind */
	uint8_t style;      /* tc_style of a scalar */
	bool flow;          /* stands in, or is, a flow collection */
	bool empty;         /* a scalar of which nothing was written (a key without a value) */
	bool anchored;      /* carries an anchor */
	uint32_t offset;    /* first byte of the node in the source text */
	uint32_t end;       /* one past its last byte */
	uint32_t count;     /* bytes of a scalar, items of a list, pairs of a map */
	union {
		const char *text;           /* scalar, NUL-terminated too (it holds no NUL) */
		const tc_node *const *items; /* list; map: key, value, key, value … */
	};
};

typedef struct tc_document {
	const tc_node *root; /* NULL for an empty document */
	uint32_t offset;
} tc_document;

/* Reads all documents of a source. On TC_BAD what stands before the first error of syntax is still handed out, so that
 * more can be said about it, but it must not be acted upon. */
tc_status tc_yaml_read(tc_arena *arena, const tc_source *source, tc_diags *diags, const tc_document **documents,
    size_t *count);

tc_text tc_node_text(const tc_node *scalar);
bool tc_node_is(const tc_node *node, const char *word); /* a scalar with just this text */
const tc_node *tc_map_key(const tc_node *map, size_t index);
const tc_node *tc_map_value(const tc_node *map, size_t index);
/* The value of a key, or NULL; *key_node (if not NULL) is set to the key. */
const tc_node *tc_map_get(const tc_node *map, const char *key, const tc_node **key_node);
const char *tc_node_kind_name(const tc_node *node); /* 'a text', 'a list', 'a mapping', 'nothing' */

tc_place tc_node_place(const tc_source *source, const tc_node *node);

/* The place of the byte `index` of a scalar's decoded text (at its length or beyond: of the text's end): the
 * scalar's source bytes are walked again by its style (folds, indentation, quotes, escapes). Where that walk does
 * not give libyaml's text byte for byte, the scalar's start. */
tc_place tc_node_text_place(const tc_source *source, const tc_node *scalar, size_t index);

/* Does YAML hide something of an expression that stands in this scalar? (language.md §1: cut at a comma in flow
 * style, a ` #` after it, an escape in double quotes, a tag or an anchor.) Adds diagnostics; false if the text
 * cannot be trusted. `sibling_without_value`: the map around it has a key without a value, the sign of a cut at a
 * comma. */
bool tc_yaml_expression_check(const tc_source *source, const tc_node *scalar, bool sibling_without_value,
    tc_diags *diags);

#endif
