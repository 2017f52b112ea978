/* Noting signals. */
#include <pthread.h>
#include <signal.h>

#include "face/signals.h"

/* The one variable of the program that is not handed around: a signal handler is given nothing but a number. */
static volatile sig_atomic_t interrupted;

static void note(int number)
{
	(void)number;
	interrupted = 1;
}

/* One that is ignored stays so: a shell starts its background jobs that way. */
static void catch_one(int number)
{
	struct sigaction action = {.sa_flags = SA_RESETHAND}, before; /* no SA_RESTART: a read that waits ends */
	action.sa_handler = note;
	sigemptyset(&action.sa_mask);
	if (sigaction(number, NULL, &before) == 0 && before.sa_handler != SIG_IGN)
		sigaction(number, &action, NULL);
}

void tc_signals_catch(void)
{
	catch_one(SIGINT);
	catch_one(SIGTERM);
}

bool tc_interrupted(void)
{
	return interrupted != 0;
}

void tc_signals_leave(void)
{
	sigset_t all;
	sigfillset(&all);
	pthread_sigmask(SIG_BLOCK, &all, NULL);
}
