/* A window of jobs, and threads that work on them. */
#include <pthread.h>
#include <sched.h>
#include <stdint.h>
#include <stdlib.h>

#include "face/jobs.h"
#include "face/signals.h"

#define WORTH_A_THREAD 4u /* jobs: for fewer, starting a thread costs more than it saves */

typedef struct pool {
	const tc_jobs_plan *plan;
	pthread_mutex_t lock;
	pthread_cond_t work_there, first_done;
	/* under the lock; jobs are counted from the start of the run, job n lies at n modulo plan->jobs */
	uint64_t made, started, taken;
	bool *done;
	bool stop, failed;
	pthread_t *thread;
	unsigned threads;
} pool;

unsigned tc_jobs_processors(void)
{
	cpu_set_t set;
	const int count = sched_getaffinity(0, sizeof set, &set) == 0 ? CPU_COUNT(&set) : 1;
	return count > 0 ? (unsigned)count : 1;
}

/* --- in a thread ------------------------------------------------------------------------------------------------- */

static bool get_job(pool *p, uint64_t *number)
{
	pthread_mutex_lock(&p->lock);
	while (p->started == p->made && !p->stop)
		pthread_cond_wait(&p->work_there, &p->lock);
	const bool there = !p->stop;
	if (there)
		*number = p->started++;
	pthread_mutex_unlock(&p->lock);
	return there;
}

static void put_job(pool *p, uint64_t number)
{
	pthread_mutex_lock(&p->lock);
	p->done[number % p->plan->jobs] = true;
	if (number == p->taken)
		pthread_cond_signal(&p->first_done);
	pthread_mutex_unlock(&p->lock);
}

static void give_up(pool *p)
{
	pthread_mutex_lock(&p->lock);
	p->failed = p->stop = true;
	pthread_cond_broadcast(&p->work_there);
	pthread_cond_signal(&p->first_done);
	pthread_mutex_unlock(&p->lock);
}

static void *run_thread(void *user)
{
	pool *p = user;
	uint64_t number;
	tc_signals_leave();
	void *worker = p->plan->begin(p->plan->user);
	if (!worker)
		give_up(p);
	while (worker && get_job(p, &number)) {
		p->plan->work(worker, p->plan->job[number % p->plan->jobs]);
		put_job(p, number);
	}
	if (worker)
		p->plan->end(p->plan->user, worker);
	return NULL;
}

/* --- in the main thread ------------------------------------------------------------------------------------------ */

static void add_job(pool *p)
{
	pthread_mutex_lock(&p->lock);
	p->done[p->made % p->plan->jobs] = false;
	p->made++;
	pthread_cond_signal(&p->work_there);
	pthread_mutex_unlock(&p->lock);
}

/* Waits for the first of the jobs under way. False: a thread gave up. */
static bool wait_for_first(pool *p)
{
	pthread_mutex_lock(&p->lock);
	while (!p->done[p->taken % p->plan->jobs] && !p->failed)
		pthread_cond_wait(&p->first_done, &p->lock);
	const bool good = !p->failed;
	pthread_mutex_unlock(&p->lock);
	return good;
}

static void count_taken(pool *p)
{
	pthread_mutex_lock(&p->lock);
	p->taken++;
	pthread_mutex_unlock(&p->lock);
}

/* True: there are no more jobs. */
static bool fill(pool *p)
{
	while (p->made - p->taken < p->plan->jobs) {
		if (!p->plan->next(p->plan->user, p->plan->job[p->made % p->plan->jobs]))
			return true;
		add_job(p);
	}
	return false;
}

static bool start_threads(pool *p, unsigned wanted)
{
	while (p->threads < wanted && pthread_create(&p->thread[p->threads], NULL, run_thread, p) == 0)
		p->threads++;
	return p->threads > 0;
}

static void stop_threads(pool *p)
{
	pthread_mutex_lock(&p->lock);
	p->stop = true;
	pthread_cond_broadcast(&p->work_there);
	pthread_mutex_unlock(&p->lock);
	for (unsigned i = 0; i < p->threads; i++)
		pthread_join(p->thread[i], NULL);
}

/* All in this thread; the jobs that were made already first. */
static bool run_alone(pool *p, bool ended)
{
	const tc_jobs_plan *plan = p->plan;
	void *worker = plan->begin(plan->user);
	if (!worker)
		return false;
	for (bool go = true; go;) {
		void *job = plan->job[p->taken % plan->jobs];
		if (p->taken == p->made) {
			if (ended || !plan->next(plan->user, job))
				break;
			p->made++;
		}
		plan->work(worker, job);
		go = plan->take(plan->user, job);
		p->taken++;
	}
	plan->end(plan->user, worker);
	return true;
}

static void run_threads(pool *p, bool ended)
{
	while (p->taken < p->made && wait_for_first(p)) {
		const bool go = p->plan->take(p->plan->user, p->plan->job[p->taken % p->plan->jobs]);
		count_taken(p);
		if (!go)
			break;
		if (!ended)
			ended = fill(p);
	}
}

static bool run(pool *p)
{
	if (p->plan->threads < 2)
		return run_alone(p, false);
	const bool ended = fill(p); /* nobody works yet: how much there is to do is seen first */
	const uint64_t threads = (p->made + WORTH_A_THREAD - 1) / WORTH_A_THREAD;
	if (threads < 2 || !start_threads(p, threads < p->plan->threads ? (unsigned)threads : p->plan->threads))
		return run_alone(p, ended);
	run_threads(p, ended);
	stop_threads(p);
	return !p->failed;
}

bool tc_jobs_run(const tc_jobs_plan *plan)
{
	pool p = {.plan = plan, .done = calloc(plan->jobs, sizeof *p.done)};
	p.thread = calloc(plan->threads, sizeof *p.thread);
	bool good = p.done && p.thread && pthread_mutex_init(&p.lock, NULL) == 0;
	if (good) {
		pthread_cond_init(&p.work_there, NULL);
		pthread_cond_init(&p.first_done, NULL);
		good = run(&p);
		pthread_cond_destroy(&p.work_there);
		pthread_cond_destroy(&p.first_done);
		pthread_mutex_destroy(&p.lock);
	}
	free(p.done);
	free(p.thread);
	return good;
}
