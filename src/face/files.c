/* Looking for files and reading them. */
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/limits.h"
#include "face/files.h"

#define FIRST_PIECE (64u << 10)

typedef struct search {
	tc_arena *arena;
	tc_diags *diags;
	tc_inputs *inputs;
	uint32_t operand;
	bool wrong;
} search;

static void complain_of(tc_diags *diags, const char *path, const char *doing, int why)
{
	tc_diag_add(diags, TC_ERROR, "file", (tc_place){.file = path}, "cannot %s: %s", doing, strerror(why));
}

/* --- finding ----------------------------------------------------------------------------------------------------- */

static void add_input(search *s, const char *path, bool named)
{
	tc_inputs *inputs = s->inputs;
	if (tc_arena_grow(s->arena, (void **)&inputs->at, inputs->count, &inputs->room, sizeof *inputs->at))
		inputs->at[inputs->count++] = (tc_input){.path = path, .operand = s->operand, .named = named};
}

static bool is_yaml(const char *name)
{
	const char *point = strrchr(name, '.');
	return point && (strcmp(point, ".yaml") == 0 || strcmp(point, ".yml") == 0);
}

static void search_folder(search *s, const char *path);

static void search_entry(search *s, const char *folder, const char *name)
{
	const size_t length = strlen(folder);
	const char *path =
	    tc_arena_print(s->arena, "%s%s%s", folder, length && folder[length - 1] == '/' ? "" : "/", name);
	struct stat info;
	if (!path)
		return;
	if (lstat(path, &info) != 0) {
		complain_of(s->diags, path, "look at this file", errno);
		s->wrong = true;
	} else if (S_ISDIR(info.st_mode)) {
		search_folder(s, path);
	} else if (is_yaml(name)) {
		add_input(s, path, false);
	}
}

static int by_name(const void *a, const void *b)
{
	return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* The names in a folder, in the arena, sorted by bytes. False with errno if it could not be read. */
static bool list_names(tc_arena *arena, const char *path, const char ***names, uint32_t *count)
{
	DIR *folder = opendir(path);
	uint32_t room = 0;
	if (!folder)
		return false;
	errno = 0;
	for (struct dirent *entry; (entry = readdir(folder)); errno = 0) {
		if (entry->d_name[0] == '.')
			continue;
		const char *name = tc_arena_text(arena, entry->d_name, strlen(entry->d_name));
		if (name && tc_arena_grow(arena, (void **)names, *count, &room, sizeof **names))
			(*names)[(*count)++] = name;
	}
	const int why = errno;
	closedir(folder);
	errno = why;
	if (*count)
		qsort(*names, *count, sizeof **names, by_name);
	return why == 0;
}

/* Its depth is bounded by the system's bound on the length of a path. */
static void search_folder(search *s, const char *path)
{
	const char **names = NULL;
	uint32_t count = 0;
	if (!list_names(s->arena, path, &names, &count)) {
		complain_of(s->diags, path, "read this folder", errno);
		s->wrong = true;
	}
	for (uint32_t i = 0; i < count; i++)
		search_entry(s, path, names[i]);
}

static void search_path(search *s, const char *path)
{
	struct stat info;
	if (strcmp(path, "-") == 0) {
		add_input(s, path, true);
	} else if (stat(path, &info) != 0) {
		complain_of(s->diags, path, "read", errno);
		s->wrong = true;
	} else if (S_ISDIR(info.st_mode)) {
		search_folder(s, path);
	} else {
		add_input(s, path, true);
	}
}

tc_status tc_files_find(
    tc_arena *arena, const char *const *paths, uint32_t count, tc_diags *diags, bool *wrong, tc_inputs *inputs)
{
	for (uint32_t i = 0; i < count; i++) {
		search s = {.arena = arena, .diags = diags, .inputs = inputs, .operand = i};
		search_path(&s, paths[i]);
		wrong[i] = s.wrong;
	}
	return tc_arena_failed(arena) ? TC_NO_MEMORY : TC_OK;
}

/* --- reading ----------------------------------------------------------------------------------------------------- */

/* All that `fd` gives, at most TC_FILE_MAX + 1 bytes. False: errno says why. */
static bool read_all(int fd, tc_buffer *into)
{
	char piece[FIRST_PIECE];
	while (into->length <= TC_FILE_MAX && !into->failed) {
		const size_t left = TC_FILE_MAX + 1 - into->length;
		const ssize_t got = read(fd, piece, left < sizeof piece ? left : sizeof piece);
		if (got < 0 && errno == EINTR)
			continue;
		if (got < 0)
			return false;
		if (got == 0)
			break;
		tc_buffer_add(into, (tc_text){piece, (size_t)got});
	}
	errno = into->failed ? ENOMEM : 0;
	return !into->failed;
}

/* The bytes of a file in the arena; NULL: errno says why. */
static const char *slurp(tc_arena *arena, const char *path, size_t *length)
{
	const bool standard = strcmp(path, "-") == 0;
	const int fd = standard ? STDIN_FILENO : open(path, O_RDONLY | O_CLOEXEC);
	if (fd < 0)
		return NULL;
	tc_buffer all;
	tc_buffer_start(&all, tc_arena_allocator(arena));
	const bool good = read_all(fd, &all);
	const int why = errno;
	if (!standard)
		close(fd);
	const char *bytes = good ? tc_arena_text(arena, all.at ? all.at : "", all.length) : NULL;
	*length = all.length;
	tc_buffer_free(&all);
	errno = good ? ENOMEM : why;
	return bytes;
}

tc_status tc_file_read(tc_arena *arena, const char *path, tc_diags *diags, const char **bytes, size_t *length)
{
	*bytes = slurp(arena, path, length);
	if (*bytes)
		return TC_OK;
	if (tc_arena_failed(arena))
		return TC_NO_MEMORY;
	complain_of(diags, path, "read", errno);
	return TC_SYSTEM;
}

const char *tc_file_beside(
    void *user, tc_arena *arena, const char *beside, const char *name, size_t *length, const char **reason)
{
	(void)user;
	const char *slash = strrchr(beside, '/');
	const int folder = slash && *name != '/' ? (int)(slash - beside) + 1 : 0;
	const char *path = tc_arena_print(arena, "%.*s%s", folder, beside, name);
	const char *bytes = path ? slurp(arena, path, length) : NULL;
	if (!bytes)
		*reason = tc_arena_print(arena, "%s", strerror(errno));
	return bytes;
}
