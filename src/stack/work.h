/* What each verb does to a part. Private to this folder. */
#ifndef TC_STACK_WORK_H
#define TC_STACK_WORK_H

#include "stack/bench.h"

/* One step on one part. `passes` of a coat, else NULL. False: out of memory. */
bool tc_work(tc_building *b, tc_bench *bench, const tc_step *step, const tc_passes *passes);

#endif
