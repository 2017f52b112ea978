/* A recipe of shown_by with a remedy carried out. */
#ifndef TC_FACE_MEND_H
#define TC_FACE_MEND_H

#include "judge/judge.h"

/* Carries out an advice (of tc_fix_choices that one) on the recipe that was judged, whose text is that of `shown`, and reads it again. *says: what
 * was done. TC_BAD: no machine can carry it out; *reads tells that one could and that what came of it is no recipe, which is a fault of the remedy. */
tc_status tc_mend(tc_arena *arena, tc_worker *worker, const tc_shown_by *shown, const tc_judgement *judged,
    const tc_finding *finding, const tc_advice *advice, uint32_t choice, tc_diags *diags, const char **says, bool *reads,
    const tc_recipe **mended);

#endif
