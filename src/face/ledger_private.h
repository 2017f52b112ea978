/* What the files of a ledger share. */
#ifndef TC_FACE_LEDGER_PRIVATE_H
#define TC_FACE_LEDGER_PRIVATE_H

#include "base/map.h"
#include "face/ledger.h"

#define TC_LEDGER_VERSION 1u
#define TC_LEDGER_ACCEPTED UINT32_C(0x80000000) /* beside the number of an entry: the recipe accepts the finding */

typedef struct tc_entry_known {
	uint64_t high, low; /* of the fingerprint */
	uint32_t file, line;
	uint32_t rule; /* number of its name */
	uint8_t weight;
	bool met;      /* found again */
	bool accepted; /* found again, and accepted by its recipe */
} tc_entry_known;

typedef struct tc_known_file {
	const char *key;
	const char *path; /* as it was named, once it was read; NULL */
} tc_known_file;

struct tc_ledger {
	const char *path;
	char *folder; /* real path */
	bool writes;
	tc_arena *arena; /* names of files and rules */
	tc_map by_key, by_rule;
	tc_known_file *file;
	uint32_t files, files_room;
	const char **rule;
	uint32_t rules, rules_room;
	tc_entry_known *at; /* sorted by file and fingerprint */
	uint32_t count, room;
};

/* Reads all entries and sorts them. False with a complaint. */
bool tc_ledger_read(tc_ledger *ledger);
/* The order of entries: negative, 0, positive. */
int tc_ledger_order(const void *a, const void *b);
bool tc_ledger_same(const tc_entry_known *a, const tc_entry_known *b);
bool tc_ledger_hex(tc_text text, uint64_t *high, uint64_t *low);

#endif
