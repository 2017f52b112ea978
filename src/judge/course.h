/* A film's drying toward a solid, moment by moment: for charts, and for when the worst moment is. */
#ifndef TC_JUDGE_COURSE_H
#define TC_JUDGE_COURSE_H

#include "judge/apparatus.h"
#include "judge/try.h"

typedef struct tc_course {
	uint32_t count, room;
	tc_try_moment *moment;      /* while the film counts as wet, pass after pass */
	double red_least, worst_at; /* NAN: it never counts as wet */
	double hot_time;            /* s with RED below the bound, all passes together */
} tc_course;

/* Follows a film until each next pass lands, and the last until it is dry; `hot_until`: of the last pass only so
 * long counts for the hot time. False: out of memory, or out of the science's range (then count is 0). */
bool tc_course_follow(tc_scene *scene, const tc_film_passes *passes, const tc_liquid_mix *mix,
    const struct tc_sphere *sphere, double bound, double hot_until, tc_course *course);

#endif
