/* Ids in the text of expressions. */
#include <ctype.h>
#include <string.h>

#include "face/mentions.h"

static bool is_id_char(char c)
{
	return islower((unsigned char)c) || isdigit((unsigned char)c) || c == '-' || c == '_' || c == '.';
}

/* Does the id stand in the expression as a whole word? */
static bool mentions(const char *expression, const char *id)
{
	const size_t length = strlen(id);
	for (const char *at = expression; (at = strstr(at, id)); at++)
		if ((at == expression || !is_id_char(at[-1])) && !is_id_char(at[length]))
			return true;
	return false;
}

bool tc_mentions_entry(const tc_library *library, const char *expression, const tc_entry *entry)
{
	while (entry) {
		if (entry->parent == TC_NONE && entry->is_kind)
			return false;
		if (mentions(expression, entry->id))
			return true;
		entry = entry->parent == TC_NONE ? NULL : tc_library_entry(library, entry->parent);
	}
	return false;
}
