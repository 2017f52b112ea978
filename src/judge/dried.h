/* Courses of coats, kept by the exact bytes of their inputs: a coat is dried once, however many solids are asked about. The
 * store is bounded and emptied as a whole: an answer never depends on whether a course was kept. */
#ifndef TC_JUDGE_DRIED_H
#define TC_JUDGE_DRIED_H

#include "base/arena.h"
#include "science/attack.h"

typedef struct tc_dried tc_dried;

tc_dried *tc_dried_new(const tc_allocator *from); /* NULL: out of memory */
void tc_dried_free(tc_dried *dried);

/* The course kept under the bytes of a key, or NULL. It stays valid until the next tc_dried_put. */
const struct tc_coat_course *tc_dried_get(const tc_dried *dried, const void *key, size_t length);

/* Dries a coat and keeps its course. NULL: out of the science's range (then *refused is true), or out of memory. */
const struct tc_coat_course *tc_dried_put(tc_dried *dried, const void *key, size_t length, const struct tc_coat *coat,
    const struct tc_drying_air *air, const struct tc_drying_law *law, bool *refused);

#endif
