/* Interruption: what was begun is closed and said to be incomplete. */
#ifndef TC_FACE_SIGNALS_H
#define TC_FACE_SIGNALS_H

#include <stdbool.h>

/* From now on the first SIGINT or SIGTERM is only noted; a second one ends the process. */
void tc_signals_catch(void);
bool tc_interrupted(void);

/* In a thread: leaves all signals to the main one. */
void tc_signals_leave(void);

#endif
