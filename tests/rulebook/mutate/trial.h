/* One mutant in the place of what it was made of: who notices? All is put back afterwards. */
#ifndef TC_TESTS_TRIAL_H
#define TC_TESTS_TRIAL_H

#include "bench.h"

typedef enum outcome { REFUSED, UNNOTICED, NOTICED_BY_EXAMPLE, NOTICED_BY_RECIPE } outcome;

/* With another `when` of a rule. */
outcome try_rule(bench *b, uint32_t rule, const char *text);
/* With another text of a let, in all rules in which it stands: `uses`, by rule. */
outcome try_let(bench *b, uint32_t let, const bool *uses, const char *text);

#endif
