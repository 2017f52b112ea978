/* Names of the files of cards. */
#include <ctype.h>
#include <string.h>
#include <strings.h>

#include "face/card_name.h"

#define NAME_MAX_BYTES 100u
#define INDEX "index"

/* The last name of the path without .yaml or .yml, and only with what every file system takes. */
static char *base_of(tc_arena *arena, const char *file)
{
	const char *slash = strrchr(file, '/'), *from = slash ? slash + 1 : file, *point = strrchr(from, '.');
	size_t length = strlen(from);
	if (point && point > from && (strcasecmp(point, ".yaml") == 0 || strcasecmp(point, ".yml") == 0))
		length = (size_t)(point - from);
	while (length > 0 && !isalnum((unsigned char)*from)) {
		from++;
		length--;
	}
	if (length > NAME_MAX_BYTES)
		length = NAME_MAX_BYTES;
	char *base = length ? tc_arena_text(arena, from, length) : tc_arena_text(arena, "recipe", 6);
	for (char *c = base; c && *c; c++)
		if ((unsigned char)*c >= 0x80 || !(isalnum((unsigned char)*c) || strchr("._-", *c)))
			*c = '-';
	return base;
}

static bool is_taken(const tc_card_names *names, const char *name)
{
	for (uint32_t i = 0; i < names->count; i++)
		if (strcasecmp(names->taken[i], name) == 0)
			return true;
	return strcasecmp(name, INDEX) == 0;
}

const char *tc_card_name(tc_card_names *names, const char *file, const char *ending)
{
	const char *base = base_of(names->arena, file), *name = base;
	for (unsigned long number = 2; name && is_taken(names, name); number++)
		name = tc_arena_print(names->arena, "%s-%lu", base, number);
	if (!name ||
	    !tc_arena_grow(names->arena, (void **)&names->taken, names->count, &names->room, sizeof *names->taken))
		return NULL;
	names->taken[names->count++] = name;
	return tc_arena_print(names->arena, "%s.%s", name, ending);
}
