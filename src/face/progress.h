/* How far a run is: a line on standard error that is written over, and only where that is a terminal which shows nothing
 * else meanwhile. */
#ifndef TC_FACE_PROGRESS_H
#define TC_FACE_PROGRESS_H

#include <stdbool.h>
#include <stdint.h>

typedef struct tc_progress {
	bool on, shown;
	int64_t next; /* ms of the clock when it is written again */
} tc_progress;

/* `output_is_terminal`: the report itself goes to a terminal, where such a line would stand in its middle. */
void tc_progress_start(tc_progress *progress, bool output_is_terminal);
/* `share`: 0 to 1, negative where nobody knows. Writes at most some times a second. */
void tc_progress_tell(tc_progress *progress, uint32_t files, double share);
void tc_progress_end(tc_progress *progress); /* takes the line away */

#endif
