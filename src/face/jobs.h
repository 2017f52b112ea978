/* Jobs in an order, worked on by several threads. Only so many are under way at once, so that memory does not grow with
 * their number: where the first of them takes long the others wait. */
#ifndef TC_FACE_JOBS_H
#define TC_FACE_JOBS_H

#include <stdbool.h>
#include <stddef.h>

typedef struct tc_jobs_plan {
	void *user;
	unsigned threads; /* 1 at least: then all is done in this thread */
	void **job;       /* room for jobs under way, made by the caller; used again and again */
	size_t jobs;
	/* In this thread: makes the next job. False: there is none, or the run is to end. */
	bool (*next)(void *user, void *job);
	/* What a thread needs for its work; NULL: it has none, and the run ends. In the thread itself. */
	void *(*begin)(void *user);
	void (*work)(void *worker, void *job);
	void (*end)(void *user, void *worker);
	/* In this thread, in the order of the jobs: takes what came out. False: the run is to end. */
	bool (*take)(void *user, void *job);
} tc_jobs_plan;

/* Runs until there are no more jobs and all are taken, or until take says so. False: a thread could not begin. */
bool tc_jobs_run(const tc_jobs_plan *plan);

/* The processors that this process may use. */
unsigned tc_jobs_processors(void);

#endif
