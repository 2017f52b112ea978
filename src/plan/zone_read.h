/* The way to the library of time zones, which is of C++: for zone.c alone. */
#ifndef TC_PLAN_ZONE_READ_H
#define TC_PLAN_ZONE_READ_H

#include <stdbool.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef enum tc_zone_answer { TC_ZONE_READ, TC_ZONE_UNKNOWN, TC_ZONE_NO_MEMORY } tc_zone_answer;

/* Takes what holds from a moment on (s, UTC): s ahead of UTC, and the name of that clock, which lives during the call. False:
 * enough. */
typedef bool tc_zone_take(void *user, int64_t from, int32_t offset, const char *name);

/* Calls `take` for what holds at `from`, and for each change after it until `to`. From any thread. */
tc_zone_answer tc_zone_walk(const char *name, int64_t from, int64_t to, tc_zone_take *take, void *user);

#ifdef __cplusplus
}
#endif

#endif
