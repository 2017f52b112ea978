/* What comes in is copied. */
#include <string.h>

#include "api/private.h"

const char *tc_intake_bytes(tc_arena *arena, const char *bytes, size_t *length)
{
	if (*length > TC_FILE_MAX)
		*length = TC_FILE_MAX + 1;
	return tc_arena_text(arena, bytes ? bytes : "", *length);
}

const char *tc_intake_text(tc_arena *arena, const char *text)
{
	return text ? tc_arena_text(arena, text, strlen(text)) : NULL;
}

const char *tc_intake_beside(
    void *user, tc_arena *arena, const char *beside, const char *name, size_t *length, const char **reason)
{
	const tiecoat_beside *caller = user;
	const char *why = NULL, *bytes = caller->read(caller->user, beside, name, length, &why);
	if (bytes)
		return tc_intake_bytes(arena, bytes, length);
	*reason = why ? tc_intake_text(arena, why) : "the program that checks this does not have it";
	return NULL;
}
