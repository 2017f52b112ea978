/* Which rules speak of which materials: by the ids that stand in the text of `when`. Lets are not followed. */
#ifndef TC_FACE_MENTIONS_H
#define TC_FACE_MENTIONS_H

#include "rule/rulebook.h"

/* Does the id stand in the expression as a whole word? */
bool tc_mentions_id(const char *expression, const char *id);

/* Does the rule's `when` name this entry, or a kind above it that is no root? */
bool tc_rule_mentions(const tc_library *library, const tc_rule *rule, const tc_entry *entry);

#endif
