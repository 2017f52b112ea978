#include "base/value.h"

#define SAME 1e-9 /* language.md §4: figures nearer than 1 part in 10^9 count as equal */

bool tc_dim_same(tc_dim a, tc_dim b)
{
	return a.length == b.length && a.mass == b.mass && a.time == b.time && a.temperature == b.temperature &&
	       a.amount == b.amount;
}

bool tc_dim_none(tc_dim a)
{
	return tc_dim_same(a, (tc_dim){0});
}

/* TC_FALSE < TC_UNSURE < TC_TRUE: `and` is the least, `or` the greatest of two. */
tc_truth tc_truth_and(tc_truth a, tc_truth b)
{
	return a < b ? a : b;
}

tc_truth tc_truth_or(tc_truth a, tc_truth b)
{
	return a > b ? a : b;
}

tc_truth tc_truth_not(tc_truth a)
{
	return a == TC_TRUE ? TC_FALSE : a == TC_FALSE ? TC_TRUE : TC_UNSURE;
}

int tc_compare(double a, double b)
{
	if (a == b || fabs(a - b) < SAME * fmax(fabs(a), fabs(b)))
		return 0;
	return a < b ? -1 : 1;
}

bool tc_window_holds(const tc_window *window, double t)
{
	for (uint32_t i = 0; i < window->count; i++) {
		const tc_span *span = &window->spans[i];
		if (tc_compare(t, span->from) >= 0 && tc_compare(t, span->to) <= 0)
			return true;
	}
	return false;
}

bool tc_window_after(const tc_window *window, double t, double *moment)
{
	for (uint32_t i = 0; i < window->count; i++) {
		const tc_span *span = &window->spans[i];
		if (tc_compare(t, span->to) > 0)
			continue;
		*moment = tc_compare(t, span->from) >= 0 ? t : span->from;
		return true;
	}
	return false;
}
