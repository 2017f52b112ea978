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

void tc_signals_catch(void)
{
	struct sigaction action = {.sa_flags = SA_RESETHAND}; /* no SA_RESTART: a read that waits ends */
	action.sa_handler = note;
	sigemptyset(&action.sa_mask);
	sigaction(SIGINT, &action, NULL);
	sigaction(SIGTERM, &action, NULL);
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
