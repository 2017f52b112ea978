/* Files and folders as the command line names them. */
#ifndef TC_FACE_FILES_H
#define TC_FACE_FILES_H

#include "base/diag.h"
#include "base/status.h"

typedef struct tc_input {
	const char *path; /* `-`: standard input */
	uint32_t operand; /* which of the paths named led to it */
	bool named;       /* it was named itself, not found in a folder */
} tc_input;

typedef struct tc_inputs {
	uint32_t count, room;
	tc_input *at;
} tc_inputs;

/* Finds the files of few paths at once, for a rulebook (walk.h goes over a collection): those named as they are, of folders
 * all .yaml and .yml files below, by name; what starts with a point and linked folders are passed over. Folders and files
 * that cannot be looked at come as diagnostics; their operands are set in `wrong` (an array of `count` truths).
 * TC_NO_MEMORY or TC_OK. */
tc_status tc_files_find(
    tc_arena *arena, const char *const *paths, uint32_t count, tc_diags *diags, bool *wrong, tc_inputs *inputs);

/* The folder of a path: `.` where none is named. NULL: out of memory. */
const char *tc_path_folder(tc_arena *arena, const char *path);

/* Reads a whole file (one byte more than the bound on files at most, so that its reader can tell). TC_SYSTEM with a diagnostic. */
tc_status tc_file_read(tc_arena *arena, const char *path, tc_diags *diags, const char **bytes, size_t *length);

/* The reader of shelves that recipes name (tc_reader.read). */
const char *tc_file_beside(
    void *user, tc_arena *arena, const char *beside, const char *name, size_t *length, const char **reason);

#endif
