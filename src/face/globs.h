/* Lists of globs: `*` and `?` and `[…]` within a name, `**` across folders. One without `/` is compared with the name of a
 * file or folder, wherever it is; one with `/` with its path from the folder that the list belongs to; one that ends in
 * `/` with folders alone. */
#ifndef TC_FACE_GLOBS_H
#define TC_FACE_GLOBS_H

#include "base/text.h"

typedef struct tc_globs tc_globs;

tc_globs *tc_globs_new(void); /* NULL: out of memory */
void tc_globs_free(tc_globs *globs);

/* False: it cannot be used, and `trouble` says why. */
bool tc_globs_add(tc_globs *globs, tc_text glob, char trouble[160]);
bool tc_globs_any(const tc_globs *globs); /* NULL has none */

/* Does one of them fit? `path`: from the list's folder, without a `/` at its start or end. */
bool tc_globs_fit(const tc_globs *globs, const char *path, bool folder);
/* Does one fit this file, or a folder on the way to it? */
bool tc_globs_fit_way(const tc_globs *globs, const char *path);

#endif
