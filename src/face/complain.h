/* Messages to the person at the terminal, on standard error. */
#ifndef TC_FACE_COMPLAIN_H
#define TC_FACE_COMPLAIN_H

#include "base/diag.h"

/* `tiecoat: text`, control characters made visible. */
void tc_complain(const char *format, ...) __attribute__((format(printf, 1, 2)));
void tc_complain_memory(void);
/* All diagnostics, a line each. */
void tc_complain_diags(const tc_diags *diags);

#endif
