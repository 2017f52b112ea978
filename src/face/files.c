/* Looking for files and reading them. */
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/limits.h"
#include "face/files.h"
#include "face/signals.h"
#include "face/walk.h"

#define PIECE ((size_t)64 << 10)

/* --- finding ----------------------------------------------------------------------------------------------------- */

static void add_input(tc_arena *arena, tc_inputs *inputs, const tc_walk_item *item)
{
	const char *path = tc_arena_text(arena, item->path, strlen(item->path));
	if (path && tc_arena_grow(arena, (void **)&inputs->at, inputs->count, &inputs->room, sizeof *inputs->at))
		inputs->at[inputs->count++] = (tc_input){.path = path, .operand = item->operand, .named = item->named};
}

/* Trouble outlives the walk: its texts go into the arena. */
static void add_trouble(tc_arena *arena, tc_diags *diags, bool *wrong, const tc_walk_item *item)
{
	for (size_t i = 0; i < tc_diags_count(item->diags); i++) {
		const tc_diag *diag = tc_diags_at(item->diags, i);
		tc_place place = diag->place;
		place.file = place.file ? tc_arena_text(arena, place.file, strlen(place.file)) : NULL;
		tc_diag_add(diags, diag->severity, diag->id, place, "%s", diag->message);
	}
	wrong[item->operand] = true;
}

tc_status tc_files_find(
    tc_arena *arena, const char *const *paths, uint32_t count, tc_diags *diags, bool *wrong, tc_inputs *inputs)
{
	const tc_walk_ask ask = {.paths = paths, .count = count, .plain = true};
	tc_walk *walk = tc_walk_new(&ask);
	tc_walk_item item;
	tc_walked walked = TC_WALK_NO_MEMORY;
	while (walk && ((walked = tc_walk_next(walk, &item)) == TC_WALK_FILE || walked == TC_WALK_TROUBLE)) {
		if (walked == TC_WALK_FILE)
			add_input(arena, inputs, &item);
		else
			add_trouble(arena, diags, wrong, &item);
	}
	tc_walk_free(walk);
	return walked == TC_WALK_NO_MEMORY || tc_arena_failed(arena) ? TC_NO_MEMORY : TC_OK;
}

const char *tc_path_folder(tc_arena *arena, const char *path)
{
	const char *slash = strrchr(path, '/');
	if (!slash)
		return ".";
	return slash == path ? "/" : tc_arena_text(arena, path, (size_t)(slash - path));
}

/* --- reading ----------------------------------------------------------------------------------------------------- */

static ssize_t read_piece(int fd, char *into, size_t size)
{
	for (;;) {
		const ssize_t got = read(fd, into, size);
		if (got >= 0 || errno != EINTR || tc_interrupted())
			return got;
	}
}

/* A file of a known size, straight into the arena; one that grows meanwhile is read as long as it was. NULL: errno. */
static const char *read_plain(tc_arena *arena, int fd, size_t size, size_t *length)
{
	char *bytes = tc_arena_get(arena, size + 1);
	errno = ENOMEM;
	for (*length = 0; bytes && *length < size;) {
		const ssize_t got = read_piece(fd, bytes + *length, size - *length);
		if (got < 0)
			return NULL;
		if (got == 0)
			break;
		*length += (size_t)got;
	}
	return bytes;
}

/* All that `fd` gives, as far as the bound on files and one byte on. NULL: errno. */
static const char *read_stream(tc_arena *arena, int fd, size_t *length)
{
	char piece[PIECE];
	ssize_t got = 0;
	tc_buffer all;
	tc_buffer_start(&all, tc_arena_allocator(arena));
	while (all.length <= TC_FILE_MAX && !all.failed) {
		const size_t left = TC_FILE_MAX + 1 - all.length;
		got = read_piece(fd, piece, left < sizeof piece ? left : sizeof piece);
		if (got <= 0)
			break;
		tc_buffer_add(&all, (tc_text){piece, (size_t)got});
	}
	const int why = got < 0 ? errno : ENOMEM;
	const char *bytes = got < 0 || all.failed ? NULL : tc_arena_text(arena, all.at ? all.at : "", all.length);
	*length = all.length;
	tc_buffer_free(&all);
	errno = why;
	return bytes;
}

/* The bytes of a file in the arena; NULL: errno says why. */
static const char *slurp(tc_arena *arena, const char *path, size_t *length)
{
	const bool standard = strcmp(path, "-") == 0;
	const int fd = standard ? STDIN_FILENO : open(path, O_RDONLY | O_CLOEXEC);
	struct stat info;
	if (fd < 0)
		return NULL;
	const char *bytes = NULL;
	if (fstat(fd, &info) == 0) {
		const size_t size = info.st_size > TC_FILE_MAX ? TC_FILE_MAX + 1 : (size_t)info.st_size;
		bytes = S_ISREG(info.st_mode) && size > 0 && !standard ? read_plain(arena, fd, size, length)
		                                                       : read_stream(arena, fd, length);
	}
	const int why = errno;
	if (!standard)
		close(fd);
	errno = why;
	return bytes;
}

tc_status tc_file_read(tc_arena *arena, const char *path, tc_diags *diags, const char **bytes, size_t *length)
{
	*bytes = slurp(arena, path, length);
	if (*bytes)
		return TC_OK;
	if (tc_arena_failed(arena))
		return TC_NO_MEMORY;
	tc_diag_add(diags, TC_ERROR, "file", (tc_place){.file = path}, "cannot read: %s", strerror(errno));
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
