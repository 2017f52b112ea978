/* Where the program writes: standard output, or a file that appears under its name only when it is complete. */
#ifndef TC_FACE_OUTPUT_H
#define TC_FACE_OUTPUT_H

#include "base/text.h"

typedef struct tc_output tc_output;

/* `path` NULL: standard output. What is no plain file (a device, a pipe) is written straight into. NULL with a complaint. */
tc_output *tc_output_open(const char *path);
/* Writes and empties the buffer. False, with a complaint at the first time, if that failed; a closed pipe is not complained
 * of. */
bool tc_output_write(tc_output *output, tc_buffer *text);
/* Ends the output: `keep` false takes away what was written to a file. Frees it. False if anything was not written. */
bool tc_output_close(tc_output *output, bool keep);

bool tc_output_is_terminal(const tc_output *output);
unsigned tc_output_width(const tc_output *output); /* columns, 0: no terminal */

#endif
