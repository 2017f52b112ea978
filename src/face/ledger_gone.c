/* Entries of a ledger that no longer occur. */
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "face/ledger_private.h"

/* Where several entries are alike, one finding meets them all. */
static void meet(tc_ledger *ledger, uint32_t note)
{
	const uint32_t first = note & ~TC_LEDGER_ACCEPTED;
	for (uint32_t i = first; i < ledger->count && tc_ledger_same(&ledger->at[i], &ledger->at[first]); i++) {
		ledger->at[i].met = ledger->at[i].met || !(note & TC_LEDGER_ACCEPTED);
		ledger->at[i].accepted = ledger->at[i].accepted || (note & TC_LEDGER_ACCEPTED);
	}
}

bool tc_ledger_met(tc_ledger *ledger, const char *key, const char *path, const tc_buffer *met)
{
	const uint32_t file = tc_map_find(&ledger->by_key, tc_text_of(key));
	if (file != TC_MAP_NONE && !ledger->file[file].path) {
		ledger->file[file].path = tc_arena_text(ledger->arena, path, strlen(path));
		if (!ledger->file[file].path)
			return false;
	}
	for (size_t i = 0; i + sizeof(uint32_t) <= met->length; i += sizeof(uint32_t)) {
		uint32_t note;
		memcpy(&note, met->at + i, sizeof note);
		meet(ledger, note);
	}
	return true;
}

static void add_plain(tc_buffer *out, const char *escaped)
{
	unsigned byte;
	for (const char *c = escaped; *c; c++)
		if (*c == '%' && sscanf(c + 1, "%2X", &byte) == 1 && c[1] && c[2]) {
			tc_buffer_char(out, (char)byte);
			c += 2;
		} else {
			tc_buffer_char(out, *c);
		}
}

/* Is the file of these entries gone from the disk? */
static bool is_gone(const tc_ledger *ledger, const char *key)
{
	tc_buffer path;
	tc_buffer_start(&path, NULL);
	tc_buffer_print(&path, "%s/", ledger->folder);
	add_plain(&path, key);
	const bool gone = !path.failed && access(path.at, F_OK) != 0 && errno == ENOENT;
	tc_buffer_free(&path);
	return gone;
}

/* The next entry that no longer occurs; NULL: there is none. */
static const tc_entry_known *next(const tc_ledger *ledger, tc_ledger_walk *walk)
{
	while (walk->at < ledger->count) {
		const tc_entry_known *e = &ledger->at[walk->at];
		const tc_known_file *file = &ledger->file[e->file];
		if (walk->at == 0 || ledger->at[walk->at - 1].file != e->file)
			walk->gone = !file->path && is_gone(ledger, file->key);
		walk->at++;
		if (!e->met && (file->path || walk->gone))
			return e;
	}
	return NULL;
}

void tc_ledger_tell_gone(const tc_ledger *ledger, tc_diags *diags)
{
	tc_ledger_walk walk = {0};
	for (const tc_entry_known *e; (e = next(ledger, &walk)) != NULL;)
		tc_diag_add(diags, TC_NOTE, "ledger", (tc_place){.file = ledger->path, .line = e->line, .column = 1},
		    walk.gone ? "the file of this finding is gone: %s; take the line out"
		              : "this finding of %s no longer occurs; take the line out",
		    ledger->file[e->file].key);
}

/* --- as results -------------------------------------------------------------------------------------------------- */

/* Where the file was: by the ledger's folder, from the folder of the run where it lies below that. */
static void add_path(const tc_ledger *ledger, const char *key, tc_buffer *out)
{
	char here[PATH_MAX];
	const char *folder = ledger->folder;
	size_t length = strlen(folder);
	for (; strncmp(key, "../", 3) == 0; key += 3)
		while (length > 0 && folder[--length] != '/')
			;
	tc_buffer_add(out, (tc_text){folder, length});
	tc_buffer_char(out, '/');
	add_plain(out, key);
	if (out->failed || !getcwd(here, sizeof here))
		return;
	const size_t start = strlen(here);
	if (strncmp(out->at, here, start) == 0 && out->at[start] == '/') {
		memmove(out->at, out->at + start + 1, out->length - start);
		out->length -= start + 1;
	}
}

bool tc_ledger_absent(const tc_ledger *ledger, tc_ledger_walk *walk, tc_buffer *path, tc_vanished *absent)
{
	const tc_entry_known *e = next(ledger, walk);
	while (e && e->accepted)
		e = next(ledger, walk);
	if (!e)
		return false;
	const tc_known_file *file = &ledger->file[e->file];
	path->length = 0;
	if (file->path)
		tc_buffer_puts(path, file->path);
	else
		add_path(ledger, file->key, path);
	*absent = (tc_vanished){.path = path->at,
	    .rule = ledger->rule[e->rule],
	    .weight = (tc_verdict)e->weight,
	    .ledger = ledger->path,
	    .line = e->line,
	    .gone = walk->gone};
	snprintf(absent->fingerprint, sizeof absent->fingerprint, "%016llx%016llx", (unsigned long long)e->high,
	    (unsigned long long)e->low);
	return true;
}
