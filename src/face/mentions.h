/* Which expressions speak of which materials: by the ids that stand in their text. */
#ifndef TC_FACE_MENTIONS_H
#define TC_FACE_MENTIONS_H

#include "library/library.h"

/* Does the expression name this entry, or a kind above it that is no root? */
bool tc_mentions_entry(const tc_library *library, const char *expression, const tc_entry *entry);

#endif
