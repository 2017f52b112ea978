/* The handles of tiecoat.h, and how what lies behind them is shown. Private to this folder. */
#ifndef TC_API_PRIVATE_H
#define TC_API_PRIVATE_H

#include <stdatomic.h>

#include "api/tiecoat.h"
#include "judge/judge.h"

/* The public messages of a collector. */
typedef struct tc_messages {
	size_t count;
	const tiecoat_message *const *at;
} tc_messages;

struct tiecoat_rulebook {
	tc_allocator from;
	atomic_size_t holders; /* the caller, and each worker, result and answer */
	tc_arena *arena;       /* of messages and names of files */
	tc_rulebook *rulebook; /* NULL: it has errors */
	tc_messages messages;
	char stamp[17];
};

struct tiecoat_worker {
	tiecoat_rulebook *rulebook;
	tc_worker *worker;
};

/* The rulebook lives until it has been let go of as often as it was taken hold of. */
void tc_rulebook_hold(tiecoat_rulebook *rulebook);
void tc_rulebook_let_go(tiecoat_rulebook *rulebook);

/* `length` bytes of a text that came in, but one more than the bound on files at most, so that its reader can tell.
 * NULL: out of memory. */
const char *tc_intake_bytes(tc_arena *arena, const char *bytes, size_t *length);
const char *tc_intake_text(tc_arena *arena, const char *text); /* NULL stays NULL */

/* The reader that asks the caller (user: a tiecoat_beside). */
const char *tc_intake_beside(
    void *user, tc_arena *arena, const char *beside, const char *name, size_t *length, const char **reason);

/* These lay what is public into the arena; that it is full is seen by tc_arena_failed alone. */
void tc_show_messages(tc_arena *arena, tc_diags *diags, tc_messages *messages); /* sorts them */
const tiecoat_finding *const *tc_show_findings(tc_arena *arena, const tc_judgement *judgement);
const tiecoat_acceptance *tc_show_acceptance(tc_arena *arena, const struct tc_accept *accept);
const tiecoat_caution *const *tc_show_cautions(tc_arena *arena, const tc_caution_use *use, size_t count);
const tiecoat_recipe *tc_show_recipe(tc_arena *arena, const tc_judgement *judgement);
/* The bibliography's line; NULL for none. */
const char *tc_show_basis(tc_arena *arena, const tc_library *library, const tc_basis *basis);

/* Makes `count` zeroed structures and an array of pointers to them; NULL: out of memory. */
#define TC_LIST_OF(type, name)                                                                                         \
	static type **name(tc_arena *arena, size_t count)                                                              \
	{                                                                                                              \
		type **list = TC_ARRAY(arena, count, type *), *at = TC_ARRAY(arena, count, type);                      \
		for (size_t i = 0; list && at && i < count; i++)                                                       \
			list[i] = &at[i];                                                                              \
		return at ? list : NULL;                                                                               \
	}

#endif
