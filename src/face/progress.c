/* The line that says how far a run is. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "face/progress.h"

#define EVERY 100 /* ms */
#define AFTER 500 /* ms: a run that is over by then shows nothing */
#define WIDTH 24

static int64_t now(void)
{
	struct timespec time;
	clock_gettime(CLOCK_MONOTONIC, &time);
	return (int64_t)time.tv_sec * 1000 + time.tv_nsec / 1000000;
}

void tc_progress_start(tc_progress *progress, bool output_is_terminal)
{
	const char *terminal = getenv("TERM");
	*progress = (tc_progress){.next = now() + AFTER};
	progress->on = !output_is_terminal && isatty(STDERR_FILENO) == 1 && terminal && strcmp(terminal, "dumb") != 0;
}

void tc_progress_tell(tc_progress *progress, uint32_t files, double share)
{
	char bar[WIDTH + 1];
	if (!progress->on || now() < progress->next)
		return;
	progress->next = now() + EVERY;
	progress->shown = true;
	const int done = share < 0 ? 0 : share > 1 ? WIDTH : (int)(share * WIDTH);
	memset(bar, '.', WIDTH);
	memset(bar, '#', (size_t)done);
	bar[WIDTH] = '\0';
	/* the cursor goes back to the start, where a message would write over the line */
	if (share < 0)
		fprintf(stderr, "%u files\033[K\r", (unsigned)files);
	else
		fprintf(stderr, "[%s] %3d %%  %u files\033[K\r", bar, (int)(share * 100), (unsigned)files);
	fflush(stderr);
}

void tc_progress_end(tc_progress *progress)
{
	if (progress->shown)
		fputs("\033[K", stderr);
	progress->shown = false;
}
