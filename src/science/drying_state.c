/* A drying film at any moment: between the samples of the first stage, and in the second. */
#include <math.h>

#include "science/drying.h"
#include "science/range.h"

/* Volumes from one sample, m. */
static void volumes(const struct tc_drying *film, const struct tc_drying_sample *sample, double *volume)
{
	for (size_t i = 0; i < film->count; i++)
		volume[i] = sample->solvent * sample->share[i];
}

/* A state from volumes. */
static void settle(const struct tc_drying *film, const double *volume, struct tc_drying_sample *state)
{
	state->solvent = 0.0;
	for (size_t i = 0; i < film->count; i++)
		state->solvent += volume[i];
	for (size_t i = 0; i < TC_SCI_COMPONENTS_MAX; i++)
		state->share[i] = i < film->count && state->solvent > 0.0 ? volume[i] / state->solvent : 0.0;
}

/* Index of the sample that opens the interval in which the time lies; time is within the first stage. */
static size_t interval(const struct tc_drying *film, double time)
{
	size_t low = 0, high = film->samples - 1;
	while (high - low > 1) {
		size_t middle = low + (high - low) / 2;
		if (film->sample[middle].time <= time)
			low = middle;
		else
			high = middle;
	}
	return low;
}

bool tc_drying_at(const struct tc_drying *film, double time, struct tc_drying_sample *state)
{
	if (!(time >= 0.0))
		return false;
	double t = fmin(time, TC_DRYING_HORIZON), volume[TC_SCI_COMPONENTS_MAX], next[TC_SCI_COMPONENTS_MAX];
	const struct tc_drying_sample *last = &film->sample[film->samples - 1];
	if (t >= last->time) {
		volumes(film, last, volume);
		for (size_t i = 0; i < film->count; i++)
			volume[i] *= exp(-film->decay[i] * (t - last->time));
		state->temperature = last->temperature;
	} else {
		const struct tc_drying_sample *a = &film->sample[interval(film, t)], *b = a + 1;
		double part = (t - a->time) / (b->time - a->time);
		volumes(film, a, volume);
		volumes(film, b, next);
		for (size_t i = 0; i < film->count; i++)
			volume[i] += part * (next[i] - volume[i]);
		state->temperature = a->temperature + part * (b->temperature - a->temperature);
	}
	settle(film, volume, state);
	state->time = t;
	return true;
}

bool tc_drying_left(const struct tc_drying *film, double time, double *share)
{
	struct tc_drying_sample state;
	if (!tc_drying_at(film, time, &state))
		return false;
	*share = fmin(1.0, state.solvent / film->initial);
	return true;
}

bool tc_drying_wetness(const struct tc_drying *film, double time, double *share)
{
	struct tc_drying_sample state;
	if (!tc_drying_at(film, time, &state))
		return false;
	double all = state.solvent + film->binder;
	*share = all > 0.0 ? state.solvent / all : 0.0;
	return true;
}

bool tc_drying_time_to(const struct tc_drying *film, double share, double *time)
{
	double left, low = 0.0, high = TC_DRYING_HORIZON;
	if (!(share > 0.0 && share < 1.0) || !tc_drying_left(film, high, &left) || left > share)
		return false;
	for (int round = 0; round < 100 && high - low > 1e-9 * high; round++) {
		double middle = 0.5 * (low + high);
		if (!tc_drying_left(film, middle, &left))
			return false;
		if (left > share)
			low = middle;
		else
			high = middle;
	}
	*time = high;
	return true;
}

bool tc_drying_red(const struct tc_drying *film, double time, const struct tc_sphere *solid, double *red)
{
	struct tc_drying_sample state;
	struct tc_hansen blend;
	return tc_drying_at(film, time, &state) && tc_hansen_blend(film->hansen, state.share, film->count, &blend)
	       && tc_hansen_red(blend, solid, red);
}

bool tc_drying_carry_at(const struct tc_drying *film, double time, struct tc_drying_carry *carry)
{
	struct tc_drying_sample state;
	if (!tc_drying_at(film, time, &state))
		return false;
	carry->binder = film->binder;
	for (size_t i = 0; i < TC_SCI_COMPONENTS_MAX; i++)
		carry->solvent[i] = i < film->count ? state.solvent * state.share[i] : 0.0;
	return true;
}
