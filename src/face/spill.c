/* Files without a name. */
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "face/complain.h"
#include "face/spill.h"

#define PIECE 16384u

void tc_spill_start(tc_spill *spill)
{
	for (unsigned i = 0; i < TC_STORE_LISTS; i++) {
		spill->file[i].fd = -1;
		spill->file[i].length = spill->file[i].given = 0;
	}
}

void tc_spill_end(tc_spill *spill)
{
	for (unsigned i = 0; i < TC_STORE_LISTS; i++)
		if (spill->file[i].fd >= 0)
			close(spill->file[i].fd);
	tc_spill_start(spill);
}

/* Some file systems know no files without a name: there it gets one, and loses it at once. */
static int open_nameless(void)
{
	const char *folder = getenv("TMPDIR");
	char *path;
	if (!folder || !*folder)
		folder = "/tmp";
	int fd = open(folder, O_TMPFILE | O_RDWR | O_CLOEXEC, 0600);
	if (fd >= 0 || asprintf(&path, "%s/tiecoat.XXXXXX", folder) < 0)
		return fd;
	fd = mkostemp(path, O_CLOEXEC);
	if (fd >= 0)
		unlink(path);
	free(path);
	return fd;
}

bool tc_spill_keep(tc_spill *spill, unsigned list, tc_text text)
{
	size_t done = 0;
	if (spill->file[list].fd < 0)
		spill->file[list].fd = open_nameless();
	while (spill->file[list].fd >= 0 && done < text.length) {
		const ssize_t wrote = pwrite(
		    spill->file[list].fd, text.at + done, text.length - done, (off_t)(spill->file[list].length + done));
		if (wrote > 0)
			done += (size_t)wrote;
		else if (wrote == 0 || errno != EINTR)
			return false;
	}
	if (done == text.length)
		spill->file[list].length += done; /* what was begun and refused is written over, and never read */
	return done == text.length;
}

bool tc_spill_give(tc_spill *spill, unsigned list, tc_buffer *to)
{
	char bytes[PIECE];
	const uint64_t left = spill->file[list].length - spill->file[list].given;
	ssize_t got;
	if (left == 0)
		return true;
	do
		got = pread(
		    spill->file[list].fd, bytes, left < PIECE ? (size_t)left : PIECE, (off_t)spill->file[list].given);
	while (got < 0 && errno == EINTR);
	if (got <= 0) {
		tc_complain(
		    "cannot read what was kept for the end: %s", got < 0 ? strerror(errno) : "it has become shorter");
		return false;
	}
	spill->file[list].given += (size_t)got;
	tc_buffer_add(to, (tc_text){bytes, (size_t)got});
	return true;
}
