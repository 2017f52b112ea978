/* Lists of paths. */
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "face/list.h"
#include "face/signals.h"

#define PIECE ((size_t)64 << 10) /* a path is shorter than this */

struct tc_list {
	int fd;
	bool null, ended;
	size_t from, to; /* what is in `bytes` and not handed out yet */
	char bytes[PIECE + 1];
};

tc_list *tc_list_open(const char *path, bool null)
{
	const bool standard = strcmp(path, "-") == 0;
	const int fd = standard ? STDIN_FILENO : open(path, O_RDONLY | O_CLOEXEC);
	if (fd < 0)
		return NULL;
	tc_list *list = malloc(sizeof *list);
	if (!list) {
		if (!standard)
			close(fd);
		errno = ENOMEM;
		return NULL;
	}
	list->fd = fd;
	list->null = null;
	list->ended = false;
	list->from = list->to = 0;
	return list;
}

void tc_list_close(tc_list *list)
{
	if (list && list->fd != STDIN_FILENO)
		close(list->fd);
	free(list);
}

/* Reads more behind what is there. 0, or errno. */
static int fill(tc_list *list)
{
	memmove(list->bytes, list->bytes + list->from, list->to - list->from);
	list->to -= list->from;
	list->from = 0;
	if (list->to == PIECE)
		return ENAMETOOLONG;
	for (;;) {
		const ssize_t got = read(list->fd, list->bytes + list->to, PIECE - list->to);
		if (got < 0 && errno == EINTR && !tc_interrupted())
			continue;
		if (got < 0)
			return errno;
		list->ended = got == 0;
		list->to += (size_t)got;
		return 0;
	}
}

/* The next path, which may be empty; NULL as tc_list_next. */
static char *next(tc_list *list, int *why)
{
	for (;;) {
		char *start = list->bytes + list->from;
		char *end = memchr(start, list->null ? '\0' : '\n', list->to - list->from);
		if (!end && list->ended && list->from < list->to)
			end = list->bytes + list->to;
		if (end) {
			list->from = (size_t)(end - list->bytes) + (end < list->bytes + list->to);
			if (!list->null && end > start && end[-1] == '\r')
				end--;
			*end = '\0';
			return start;
		}
		*why = 0;
		if (list->ended || (*why = fill(list)) != 0)
			return NULL;
	}
}

const char *tc_list_next(tc_list *list, int *why)
{
	const char *path;
	do
		path = next(list, why);
	while (path && !*path);
	return path;
}
