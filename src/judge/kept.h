/* What a worker keeps of the science besides results: the courses of coats. */
#ifndef TC_JUDGE_KEPT_H
#define TC_JUDGE_KEPT_H

#include "judge/dried.h"
#include "judge/private.h"

tc_dried *tc_kept_dried(tc_kept *kept);

#endif
