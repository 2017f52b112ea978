/* The names in one folder. */
#ifndef TC_FACE_FOLDER_H
#define TC_FACE_FOLDER_H

#include "base/text.h"

typedef enum tc_sort { TC_SORT_FILE, TC_SORT_FOLDER, TC_SORT_LINK, TC_SORT_ELSE, TC_SORT_UNKNOWN } tc_sort;

typedef struct tc_folder {
	tc_buffer names; /* each: its sort as a byte, the name, NUL */
	uint32_t *at;    /* of each name, its offset; sorted by the bytes of the names */
	uint32_t count, room;
	bool has_ignore, has_settings; /* files of these names, which are not among the names */
} tc_folder;

/* Reads a folder; names that start with a point are left out, and plain files that do not end in .yaml or .yml unless
 * `all`. 0, or errno: what was read before is there. */
int tc_folder_read(tc_folder *folder, const char *path, bool all);
void tc_folder_free(tc_folder *folder);

const char *tc_folder_name(const tc_folder *folder, uint32_t index);
tc_sort tc_folder_sort(const tc_folder *folder, uint32_t index);

bool tc_is_yaml_name(const char *name);

#endif
