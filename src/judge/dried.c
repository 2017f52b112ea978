/* Courses of coats by their exact inputs: a short list, and room to dry in. */
#include "judge/dried.h"

#include <string.h>

#define DRIED_MAX 64u            /* courses */
#define DRIED_BYTES (256u << 10) /* of courses and keys; a single one that is larger stands alone */

typedef struct entry {
	const void *key;
	size_t length;
	struct tc_coat_course course;
} entry;

struct tc_dried {
	const tc_allocator *from;
	tc_arena *arena;
	void *room; /* what a course needs at most, while it is found */
	size_t room_size;
	uint32_t count;
	entry *at[DRIED_MAX];
};

tc_dried *tc_dried_new(const tc_allocator *from)
{
	tc_dried *dried = from->get(from->user, NULL, sizeof *dried);
	if (!dried)
		return NULL;
	*dried = (tc_dried){.from = from, .arena = tc_arena_new(from, DRIED_BYTES)};
	if (!dried->arena) {
		tc_dried_free(dried);
		return NULL;
	}
	return dried;
}

void tc_dried_free(tc_dried *dried)
{
	if (!dried)
		return;
	tc_arena_free(dried->arena);
	if (dried->room)
		dried->from->get(dried->from->user, dried->room, 0);
	dried->from->get(dried->from->user, dried, 0);
}

const struct tc_coat_course *tc_dried_get(const tc_dried *dried, const void *key, size_t length)
{
	for (uint32_t i = 0; i < dried->count; i++)
		if (dried->at[i]->length == length && memcmp(dried->at[i]->key, key, length) == 0)
			return &dried->at[i]->course;
	return NULL;
}

/* Room for any course of a coat. False: out of memory. */
static bool make_room(tc_dried *dried, const struct tc_coat *coat, struct tc_coat_course *course)
{
	const size_t moments = coat->passes * TC_ATTACK_MOMENTS_MAX;
	const size_t shares = coat->passes * TC_COAT_SHARES_MAX(coat->film.count);
	const size_t size = moments * sizeof(struct tc_coat_moment) + shares * sizeof(double);

	if (size > dried->room_size) {
		void *room = dried->from->get(dried->from->user, dried->room, size);
		if (!room)
			return false;
		dried->room = room;
		dried->room_size = size;
	}
	course->moment = dried->room;
	course->moment_room = moments;
	course->share = (double *)(void *)(course->moment + moments);
	course->share_room = shares;
	return true;
}

static void empty(tc_dried *dried)
{
	tc_arena_reset(dried->arena);
	dried->count = 0;
}

/* Copies what a course used. NULL: out of memory. */
static const struct tc_coat_course *keep(tc_dried *dried, const void *key, size_t length, const struct tc_coat_course *course)
{
	const size_t moments = course->moments * sizeof *course->moment, shares = course->shares * sizeof *course->share;
	const size_t size = sizeof(entry) + length + moments + shares + 64; /* and what rounding up may add */
	if (dried->count >= DRIED_MAX || tc_arena_used(dried->arena) + size > DRIED_BYTES || tc_arena_failed(dried->arena))
		empty(dried);
	entry *e = TC_NEW(dried->arena, entry);
	const void *words = tc_arena_copy(dried->arena, key, length);
	struct tc_coat_moment *moment = tc_arena_copy(dried->arena, course->moment, moments);
	double *share = tc_arena_copy(dried->arena, course->share, shares);
	if (!e || !words || !moment || !share)
		return NULL;
	*e = (entry){.key = words, .length = length, .course = *course};
	e->course.moment = moment;
	e->course.share = share;
	e->course.moment_room = course->moments;
	e->course.share_room = course->shares;
	dried->at[dried->count++] = e;
	return &e->course;
}

const struct tc_coat_course *tc_dried_put(tc_dried *dried, const void *key, size_t length, const struct tc_coat *coat,
    const struct tc_drying_air *air, const struct tc_drying_law *law, bool *refused)
{
	struct tc_coat_course course;

	*refused = false;
	if (!make_room(dried, coat, &course))
		return NULL;
	if (tc_coat_dry(coat, air, law, &course) == TC_DRYING_REFUSED) {
		*refused = true;
		return NULL;
	}
	return keep(dried, key, length, &course);
}
