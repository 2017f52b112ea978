/* The bytes of one file and the way from a byte offset to a line and a column. */
#ifndef TC_READ_SOURCE_H
#define TC_READ_SOURCE_H

#include "base/diag.h"
#include "base/status.h"

typedef struct tc_source tc_source;

/* Wraps `length` bytes (which must live as long as the source) under the name that messages show. Checks what YAML
 * and editors disagree about: UTF-8, UTF-16, control characters, lone CR, U+0085, U+2028, U+2029, size; and looks
 * for runs of directives, which libyaml would take minutes over. *source is set whenever memory allows, also when TC_BAD
 * comes back. */
tc_status tc_source_new(tc_arena *arena, const char *name, const char *bytes, size_t length, tc_diags *diags,
    tc_source **source);

const char *tc_source_name(const tc_source *source);
tc_text tc_source_text(const tc_source *source); /* without a byte order mark */

/* Line and column, in code points from 1, of the byte at `offset` (of the text without its byte order mark). */
tc_place tc_source_place(const tc_source *source, size_t offset);

#endif
