/* A ledger of known findings: a file with a line for each. Findings that it knows are left out of the report and do not
 * count; those that it holds and that no longer occur are told.
 *
 *     tiecoat-ledger 1 1
 *     # comment
 *     0123456789abcdef0123456789abcdef error decal-on-matt boats/ferry.yaml
 *
 * The first line has the version of the form and that of the fingerprints (report/fingerprint.h). Then: fingerprint, weight,
 * rule, and the recipe's path from the ledger's folder, with %XX for blanks, control characters and %. A finding is known by
 * its fingerprint and its file, unless it has become weightier. The rule stands there for the reader alone. */
#ifndef TC_FACE_LEDGER_H
#define TC_FACE_LEDGER_H

#include "report/compared.h"

typedef struct tc_ledger tc_ledger;

/* Reads a ledger; `write`: makes an empty one, in which everything is known. NULL with a complaint. */
tc_ledger *tc_ledger_open(const char *path, bool write);
void tc_ledger_free(tc_ledger *ledger);
bool tc_ledger_writes(const tc_ledger *ledger);

/* What the entries of one file are found by: its path from the ledger's folder. `real`: its real path. Appends; may be asked
 * for in any thread, as may the next two. */
void tc_ledger_key(const tc_ledger *ledger, const char *real, tc_buffer *key);

/* A judgement without what is known, in the arena (NULL: out of memory), with what it was compared with; which entries are in it
 * is appended to `met`. For a ledger to be written: without anything, and lines to be written in `lines`. */
const tc_judgement *tc_ledger_sift(const tc_ledger *ledger, tc_arena *arena, const char *key,
    const tc_judgement *judgement, tc_buffer *met, tc_buffer *lines);

/* In the main thread: a file was read whole, and these entries were met. False: out of memory. */
bool tc_ledger_met(tc_ledger *ledger, const char *key, const char *path, const tc_buffer *met);
/* Notes for entries that no longer occur: of files that were read, and of files that are gone. */
void tc_ledger_tell_gone(const tc_ledger *ledger, tc_diags *diags);
/* The next of them, but for those that a recipe accepts by now; start with {0}. `path` holds its text. False: no more. */
typedef struct tc_ledger_walk {
	uint32_t at;
	bool gone; /* the file of the entries at hand */
} tc_ledger_walk;
bool tc_ledger_absent(const tc_ledger *ledger, tc_ledger_walk *walk, tc_buffer *path, tc_vanished *absent);

/* The first line and a comment, for one that is written. */
void tc_ledger_head(tc_buffer *out);

#endif
