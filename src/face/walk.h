/* Walking over the files of a run, one after the other: those named, those of folders and below, those of a list. The same
 * tree gives the same order: within a folder by the bytes of the names. What is kept are the names of the folders on the way
 * down, not those of all files. */
#ifndef TC_FACE_WALK_H
#define TC_FACE_WALK_H

#include "base/diag.h"
#include "face/globs.h"
#include "face/settings.h"

#define TC_IGNORE_NAME ".tiecoat-ignore"

typedef struct tc_walk tc_walk;

typedef struct tc_walk_ask {
	const char *const *paths; /* `-`: standard input */
	uint32_t count;
	const char *list;                  /* a file with further paths, `-`: standard input; NULL */
	bool null;                         /* they end in NUL, not in line ends */
	const tc_globs *include, *exclude; /* NULL: none */
	bool plain;                        /* takes no notice of ignore files */
	tc_settings_desk *settings;        /* NULL: there are none */
} tc_walk_ask;

typedef enum tc_walked {
	TC_WALK_FILE,
	TC_WALK_TROUBLE, /* `diags` say what cannot be looked at; the walk goes on */
	TC_WALK_END,
	TC_WALK_NO_MEMORY
} tc_walked;

/* What was come to; all of it until the next call. */
typedef struct tc_walk_item {
	const char *path, *real;     /* as it was named, and its real path */
	uint32_t operand;            /* number of the path that led to it; their count: the list did */
	bool named;                  /* a path of the command line itself */
	const tc_settings *settings; /* in force there, or NULL; as long as the desk */
	tc_diags *diags;
} tc_walk_item;

/* NULL: out of memory. All that `ask` points to must live as long. */
tc_walk *tc_walk_new(const tc_walk_ask *ask);
void tc_walk_free(tc_walk *walk);
tc_walked tc_walk_next(tc_walk *walk, tc_walk_item *item);

/* How far it is, from 0 to 1, counting each folder of a folder alike; negative: nobody knows. */
double tc_walk_share(const tc_walk *walk);

#endif
