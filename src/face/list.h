/* A list of paths in a file or on standard input, read as it comes. */
#ifndef TC_FACE_LIST_H
#define TC_FACE_LIST_H

#include "base/text.h"

typedef struct tc_list tc_list;

/* `path`: `-` is standard input. `null`: each path ends in NUL, else in a line end. NULL: errno says why. */
tc_list *tc_list_open(const char *path, bool null);
void tc_list_close(tc_list *list);

/* The next path that is not empty, until the next call. NULL: there is none; *why is 0 at the end, else an errno. */
const char *tc_list_next(tc_list *list, int *why);

#endif
