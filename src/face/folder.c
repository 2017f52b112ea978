/* Reading a folder. */
#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "face/folder.h"
#include "face/walk.h"

bool tc_is_yaml_name(const char *name)
{
	const char *point = strrchr(name, '.');
	return point && (strcmp(point, ".yaml") == 0 || strcmp(point, ".yml") == 0);
}

const char *tc_folder_name(const tc_folder *folder, uint32_t index)
{
	return folder->names.at + folder->at[index] + 1;
}

tc_sort tc_folder_sort(const tc_folder *folder, uint32_t index)
{
	return (tc_sort)folder->names.at[folder->at[index]];
}

void tc_folder_free(tc_folder *folder)
{
	tc_buffer_free(&folder->names);
	free(folder->at);
	*folder = (tc_folder){0};
}

static tc_sort sort_of(const struct dirent *entry)
{
	switch (entry->d_type) {
	case DT_REG:
		return TC_SORT_FILE;
	case DT_DIR:
		return TC_SORT_FOLDER;
	case DT_LNK:
		return TC_SORT_LINK;
	case DT_UNKNOWN:
		return TC_SORT_UNKNOWN;
	default:
		return TC_SORT_ELSE;
	}
}

static bool add(tc_folder *folder, const char *name, tc_sort sort)
{
	if (folder->count == folder->room) {
		const uint32_t room = folder->room ? 2 * folder->room : 64;
		uint32_t *more = realloc(folder->at, room * sizeof *more);
		if (!more)
			return false;
		folder->at = more;
		folder->room = room;
	}
	if (folder->names.length > UINT32_MAX / 2)
		return false;
	folder->at[folder->count++] = (uint32_t)folder->names.length;
	tc_buffer_char(&folder->names, (char)sort);
	tc_buffer_add(&folder->names, (tc_text){name, strlen(name) + 1});
	return !folder->names.failed;
}

/* False: out of memory. */
static bool take(tc_folder *folder, const struct dirent *entry, bool all)
{
	const tc_sort sort = sort_of(entry);
	if (strcmp(entry->d_name, TC_IGNORE_NAME) == 0)
		folder->has_ignore = true;
	else if (strcmp(entry->d_name, TC_SETTINGS_NAME) == 0)
		folder->has_settings = true;
	else if (entry->d_name[0] != '.' && sort != TC_SORT_ELSE &&
	         (all || sort == TC_SORT_FOLDER || sort == TC_SORT_UNKNOWN || tc_is_yaml_name(entry->d_name)))
		return add(folder, entry->d_name, sort);
	return true;
}

static int by_name(const void *a, const void *b, void *names)
{
	const char *const at = names;
	return strcmp(at + *(const uint32_t *)a + 1, at + *(const uint32_t *)b + 1);
}

int tc_folder_read(tc_folder *folder, const char *path, bool all)
{
	*folder = (tc_folder){0};
	tc_buffer_start(&folder->names, NULL);
	DIR *open = opendir(path);
	if (!open)
		return errno;
	errno = 0;
	for (struct dirent *entry; (entry = readdir(open)); errno = 0)
		if (!take(folder, entry, all)) {
			errno = ENOMEM;
			break;
		}
	const int why = errno;
	closedir(open);
	if (folder->count > 1)
		qsort_r(folder->at, folder->count, sizeof *folder->at, by_name, folder->names.at);
	return why;
}
