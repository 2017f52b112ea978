/* What the check of patterns and the match of all of them share. */
#ifndef TC_LIBRARY_PATTERN_H
#define TC_LIBRARY_PATTERN_H

#define PCRE2_CODE_UNIT_WIDTH 8
#include <pcre2.h>

#include "base/text.h"

#define TC_KNOWN_AS_OPTIONS                                                                                            \
	(PCRE2_UTF | PCRE2_CASELESS | PCRE2_ANCHORED | PCRE2_DUPNAMES | PCRE2_NEVER_BACKSLASH_C | PCRE2_NO_AUTO_CAPTURE)

/* A general context that draws from the allocator, which must outlive it; NULL: out of memory. */
pcre2_general_context *tc_known_as_memory(const tc_allocator *from);

/* Appends the branch of an alternation that tries `pattern` on the whole name and calls out with `number`. The group
 * forgets its ways of matching when it is through, so that each branch is reported once. */
void tc_known_as_branch(tc_buffer *out, const char *pattern, uint32_t number);

#endif
