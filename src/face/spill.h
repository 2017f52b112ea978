/* What a report wants only at the end of its document, kept in files that have no name and vanish with the process. They are
 * made in TMPDIR (/tmp) when there is something to be kept. */
#ifndef TC_FACE_SPILL_H
#define TC_FACE_SPILL_H

#include "report/report.h"

typedef struct tc_spill {
	struct {
		int fd; /* -1: not made */
		uint64_t length, given;
	} file[TC_STORE_LISTS];
} tc_spill;

void tc_spill_start(tc_spill *spill);
void tc_spill_end(tc_spill *spill);
/* The two calls of a tc_store. That a file cannot be made or written is not said: the report keeps the rest in memory. */
bool tc_spill_keep(tc_spill *spill, unsigned list, tc_text text);
/* False: it cannot be read again, and that was said. */
bool tc_spill_give(tc_spill *spill, unsigned list, tc_buffer *to);

#endif
