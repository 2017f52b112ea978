/* Following a film: its moments in one row, with the least RED and the time below a bound. */
#include "judge/course.h"

typedef struct following {
	tc_course *course;
	tc_arena *arena;
	const struct tc_sphere *sphere;
	double bound, wetness, hot_until;
	const tc_film_passes *passes;
	double landed; /* of the pass at hand, s since the first */
	bool failed;
} following;

static void add_moment(following *f, uint32_t pass, const struct tc_attack_moment *m)
{
	tc_course *c = f->course;

	if (!tc_arena_grow(f->arena, (void **)&c->moment, c->count, &c->room, sizeof *c->moment)) {
		f->failed = true;
		return;
	}
	c->moment[c->count++] = (tc_try_moment){
	    .time = f->landed + m->time, .red = m->red, .wetness = m->wetness, .liquid = m->liquid, .pass = pass};
	if (isnan(c->red_least) || m->red < c->red_least) {
		c->red_least = m->red;
		c->worst_at = f->landed + m->time;
	}
}

static void add_pass(void *user, uint32_t pass, const struct tc_drying *drying, double until)
{
	following *f = user;
	struct tc_attack_moment row[TC_ATTACK_MOMENTS_MAX];
	const bool last = pass + 1 == f->passes->count;
	double hot = 0;

	const size_t count = tc_attack_course(drying, f->sphere, f->wetness, until, row);
	for (size_t i = 0; i < count && !f->failed; i++)
		add_moment(f, pass, &row[i]);
	if (tc_attack_hot_time(drying, f->sphere, f->bound, f->wetness, last ? fmin(until, f->hot_until) : until, &hot))
		f->course->hot_time += hot;
	f->landed += last ? 0 : until;
}

bool tc_course_follow(tc_scene *scene, const tc_film_passes *passes, const tc_liquid_mix *mix,
    const struct tc_sphere *sphere, double bound, double hot_until, tc_course *course)
{
	tc_apparatus a;
	struct tc_drying drying;
	following f = {.course = course,
	    .arena = scene->arena,
	    .sphere = sphere,
	    .bound = bound,
	    .hot_until = hot_until,
	    .passes = passes};

	*course = (tc_course){.red_least = NAN, .worst_at = NAN};
	tc_apparatus_set(scene, mix, passes->temperature, passes->chi, &a);
	f.wetness = a.wetness;
	const bool dried = tc_film_run(passes, mix, &a, add_pass, &f, &drying);
	if (!dried)
		course->count = 0;
	return dried && !f.failed;
}
