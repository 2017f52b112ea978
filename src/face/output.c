/* Output by file descriptor, whole or not at all. */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <fcntl.h>
#include <unistd.h>

#include "face/complain.h"
#include "face/output.h"

struct tc_output {
	int fd;
	bool failed;
	const char *shown; /* in messages */
	char *path;        /* the file as it will be named; NULL: nothing is renamed */
	char *temporary;
};

static void complain_of(const tc_output *output, const char *doing)
{
	tc_complain("cannot %s %s: %s", doing, output->shown, strerror(errno));
}

static bool is_plain_or_new(const char *path)
{
	struct stat info;
	return stat(path, &info) != 0 ? errno == ENOENT : S_ISREG(info.st_mode);
}

/* The rights that a new file of this process would have, or those of the file that is replaced. */
static mode_t rights_for(const char *path)
{
	struct stat info;
	if (stat(path, &info) == 0)
		return info.st_mode & 0777;
	const mode_t mask = umask(0);
	umask(mask);
	return 0666 & ~mask;
}

static void open_temporary(tc_output *output, const char *path)
{
	char *real = realpath(path, NULL); /* through a link, to what it points to */
	output->path = real ? real : strdup(path);
	if (!output->path || asprintf(&output->temporary, "%s.XXXXXX", output->path) < 0) {
		output->temporary = NULL;
		errno = ENOMEM;
		return;
	}
	output->fd = mkostemp(output->temporary, O_CLOEXEC);
	if (output->fd < 0) {
		free(output->temporary);
		output->temporary = NULL;
	} else if (fchmod(output->fd, rights_for(output->path)) != 0) {
		complain_of(output, "set the rights of");
	}
}

static void release(tc_output *output)
{
	free(output->path);
	free(output->temporary);
	free(output);
}

tc_output *tc_output_open(const char *path)
{
	tc_output *output = malloc(sizeof *output);
	if (!output) {
		tc_complain_memory();
		return NULL;
	}
	*output = (tc_output){.fd = -1, .shown = path ? path : "standard output"};
	if (!path)
		output->fd = STDOUT_FILENO;
	else if (is_plain_or_new(path))
		open_temporary(output, path);
	else
		output->fd = open(path, O_WRONLY | O_CLOEXEC);
	if (output->fd >= 0)
		return output;
	complain_of(output, "write");
	release(output);
	return NULL;
}

static void fail(tc_output *output, const char *doing)
{
	if (!output->failed && errno != EPIPE)
		complain_of(output, doing);
	output->failed = true;
}

bool tc_output_write(tc_output *output, tc_buffer *text)
{
	size_t done = 0;
	while (!output->failed && done < text->length) {
		const ssize_t wrote = write(output->fd, text->at + done, text->length - done);
		if (wrote >= 0)
			done += (size_t)wrote;
		else if (errno != EINTR)
			fail(output, "write");
	}
	text->length = 0;
	return !output->failed;
}

bool tc_output_close(tc_output *output, bool keep)
{
	if (keep && output->temporary && !output->failed && fsync(output->fd) != 0 && errno != EINVAL && errno != EROFS)
		fail(output, "write");
	if (close(output->fd) != 0)
		fail(output, "write");
	if (output->temporary) {
		if (keep && !output->failed && rename(output->temporary, output->path) != 0)
			fail(output, "write");
		if (!keep || output->failed)
			unlink(output->temporary);
	}
	const bool written = !output->failed;
	release(output);
	return written;
}

bool tc_output_is_terminal(const tc_output *output)
{
	return isatty(output->fd) == 1;
}

unsigned tc_output_width(const tc_output *output)
{
	struct winsize size;
	return ioctl(output->fd, TIOCGWINSZ, &size) == 0 ? size.ws_col : 0;
}
