/* What the files of this folder share among themselves. */
#ifndef TC_READ_PRIVATE_H
#define TC_READ_PRIVATE_H

#include <yaml.h>

#include "read/yaml.h"

/* May the bytes be given to libyaml? False after an error that makes the text unreadable or too costly to read. */
bool tc_source_readable(const tc_source *source);
/* Are there only ASCII characters, so that libyaml's marks, which count characters, are byte offsets? */
bool tc_source_is_ascii(const tc_source *source);

/* Where the text of a scalar itself begins, behind an anchor and a tag; *tagged (if not NULL) is set if there is
 * one. */
size_t tc_node_behind_properties(tc_text text, size_t offset, bool *tagged);

/* The byte of the source that the byte `index` of a scalar's text came from. False if the walk over the source does not
 * give the scalar's text. */
bool tc_node_origin(const tc_source *source, const tc_node *scalar, size_t index, size_t *origin);

/* What libyaml's parser complains of, in the words of somebody who writes a recipe. `text` is the source, `at` the byte
 * where the problem was found. */
typedef struct tc_syntax {
	const char *message;
	bool at_context; /* the place is where the context began, not where the problem was noticed */
	const char *related; /* what to say of the place where the context began; NULL: nothing */
} tc_syntax;
tc_syntax tc_syntax_explain(const yaml_parser_t *parser, tc_text text, size_t at);

#endif
