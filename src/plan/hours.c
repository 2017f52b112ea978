/* Working hours as a domain: when a task may begin. */
#include "plan/tasks.h"

#define SAME 1e-6  /* s: a moment reckoned in two ways */
#define TRIES 4096 /* sessions looked through for one whose end another meets: ten years of evenings */

/* Hands begin it and hands end it; what lies between may be night. */
double tc_opening_next(const void *user, double at)
{
	const tc_opening *o = user;
	if (o->attended)
		return tc_calendar_next(o->calendar, at, o->lasts);
	for (int i = 0; i < TRIES; i++) {
		at = tc_calendar_next(o->calendar, at, 0);
		const double end = tc_calendar_next(o->calendar, at + o->lasts, 0);
		if (isnan(at) || isnan(end))
			return NAN;
		if (end <= at + o->lasts + SAME)
			return at;
		at = end - o->lasts;
	}
	return NAN;
}

double tc_opening_last(const void *user, double at)
{
	const tc_opening *o = user;
	if (o->attended)
		return tc_calendar_last(o->calendar, at, o->lasts);
	for (int i = 0; i < TRIES; i++) {
		at = tc_calendar_last(o->calendar, at, 0);
		const double end = tc_calendar_last(o->calendar, at + o->lasts, 0);
		if (isnan(at) || isnan(end) || end < o->lasts)
			return NAN;
		if (end >= at + o->lasts - SAME)
			return at;
		at = end - o->lasts;
	}
	return NAN;
}
