/*
 * The room against published worked examples, and against a numeric integration (Runge-Kutta, fourth order) of its balance.
 *
 * Read: 29 CFR 1910.1000(d); Design Guide for Heating, Ventilating, and Air Conditioning Systems (US Bureau of Reclamation,
 * 2006), p. 106. From memory: Industrial Ventilation (ACGIH), the example of dilution; Crowl & Louvar, Chemical Process Safety, the
 * examples on a mixture's lower limit and on a mixture's TLV (whose question was read: 5, 20 and 10 ppm).
 */
#include "stuff.h"

#include <math.h>
#include <stdlib.h>

#include "plan/breath_private.h"

#define FOOT3 0.028316846592 /* m³ */
#define MAX 16

/* A room, and what goes into it; a kilogram of each vapour makes a cubic metre. */
typedef struct room {
	tc_breath breath;
	tc_breathing b;
	tc_vapour vapour[MAX];
	uint32_t of_entry[4096];
	tc_sitting sitting[MAX];
	tc_release release[MAX * 40];
} room;

static room *new_room(stuff *s, double volume, double flow, double mixing)
{
	room *r = TC_NEW(s->arena, room);
	assert_non_null(r);
	tc_model *model = TC_NEW(s->arena, tc_model);
	model->library = s->library;
	r->breath.worst = TC_NONE;
	r->b = (tc_breathing){.arena = s->arena,
	    .model = model,
	    .breath = &r->breath,
	    .room = {.volume = volume, .flow = flow, .mixing = mixing},
	    .vapour = r->vapour,
	    .sitting = r->sitting,
	    .release = r->release,
	    .of_entry = r->of_entry};
	return r;
}

static uint32_t add_vapour(room *r, double limit, double lel)
{
	const uint32_t v = r->b.vapours++;
	const tc_entry *entry = tc_library_entry(r->b.model->library, v);
	r->vapour[v] = (tc_vapour){
	    .solvent = entry, .density = 1, .share = 1, .limit = limit, .lel = lel, .lel_unknown = isnan(lel)};
	r->of_entry[entry->index] = v + 1;
	return v;
}

static void add_sitting(room *r, double from, double to)
{
	r->sitting[r->breath.sittings++] = (tc_sitting){.from = from, .to = to, .worst_breath = NAN};
}

static void add_release(room *r, uint32_t vapour, double from, double to, double mass)
{
	r->release[r->b.releases++] = (tc_release){from, to, mass, vapour, 0};
}

static void follow(room *r)
{
	assert_true(tc_room_follow(&r->b));
}

/* A steady concentration: so strong a draught through so small a room that it is there at once. */
static void steady(room *r, uint32_t vapour, double from, double to, double concentration)
{
	add_release(r, vapour, from, to, concentration * r->b.room.flow * r->b.room.mixing * (to - from));
}

/* --- published examples --------------------------------------------------------------------------------------------------- */

/* (d)(1)(ii): 2 h at 150, 2 h at 75 and 4 h at 50 ppm are 81.25 ppm over 8 h. */
static void cumulative_exposure(void **state)
{
	room *r = new_room(*state, 1, 1, 1);
	const uint32_t v = add_vapour(r, 100e-6, NAN);
	add_sitting(r, 0, 8 * 3600);
	steady(r, v, 0, 2 * 3600, 150e-6);
	steady(r, v, 2 * 3600, 4 * 3600, 75e-6);
	steady(r, v, 4 * 3600, 8 * 3600, 50e-6);
	follow(r);
	assert_close(r->sitting[0].vapour[0].mean_8h, 81.25e-6, 1e-3);
	assert_close(r->sitting[0].vapour[0].mean, 81.25e-6, 1e-3);
	assert_close(r->sitting[0].vapour[0].peak, 150e-6, 1e-6);
	assert_close(r->sitting[0].mean_index, 0.8125, 1e-3);
}

/* (d)(2)(ii): 500 of 1000, 45 of 200 and 40 of 200 ppm for 8 h are 0.925. */
static void mixture(void **state)
{
	static const double is[] = {500e-6, 45e-6, 40e-6}, limit[] = {1000e-6, 200e-6, 200e-6};
	room *r = new_room(*state, 1, 1, 1);
	add_sitting(r, 0, 8 * 3600);
	for (int i = 0; i < 3; i++)
		steady(r, add_vapour(r, limit[i], NAN), 0, 8 * 3600, is[i]);
	follow(r);
	assert_close(r->sitting[0].peak_index, 0.925, 1e-6);
	assert_close(r->sitting[0].mean_index, 0.925, 1e-3);
	assert_ptr_equal(r->sitting[0].vapour[0].solvent, r->vapour[0].solvent); /* the heaviest first */
}

/* Crowl & Louvar: 5 ppm of 10, 20 of 50 and 10 of 20; the mixture's TLV is 25 ppm and 35 are there. */
static void mixture_of_three(void **state)
{
	static const double is[] = {5e-6, 20e-6, 10e-6}, limit[] = {10e-6, 50e-6, 20e-6};
	room *r = new_room(*state, 1, 1, 1);
	add_sitting(r, 0, 8 * 3600);
	for (int i = 0; i < 3; i++)
		steady(r, add_vapour(r, limit[i], NAN), 0, 8 * 3600, is[i]);
	follow(r);
	assert_close(r->sitting[0].peak_index, 35.0 / 25, 1e-3);
}

/* Crowl & Louvar: 0.8 % hexane, 2.0 % methane, 0.5 % ethylene; the lower limit of the mixture is 2.75 %. */
static void le_chatelier(void **state)
{
	static const double is[] = {0.008, 0.020, 0.005}, lel[] = {0.012, 0.053, 0.031};
	room *r = new_room(*state, 1, 1, 1);
	add_sitting(r, 0, 3600);
	for (int i = 0; i < 3; i++)
		steady(r, add_vapour(r, 1, lel[i]), 0, 3600, is[i]);
	follow(r);
	assert_close(r->sitting[0].lel_share, 0.033 / 0.0275, 5e-3);
}

/* The Bureau: from 20 % down to 1.4 % at two changes a minute and K 0.2 takes 6.65 min. The kit clears at a tenth of the limit. */
static void purge(void **state)
{
	room *r = new_room(*state, 1000 * FOOT3, 2000 * FOOT3 / 60, 0.2);
	const uint32_t v = add_vapour(r, 0.14, NAN);
	add_sitting(r, 0, 0);
	add_release(r, v, 0, 0, 0.20 * 1000 * FOOT3);
	follow(r);
	assert_close(r->sitting[0].vapour[0].peak, 0.20, 1e-9);
	assert_close(r->sitting[0].clear, 6.65 * 60, 1e-3);
}

/* The Bureau: 15 ft³/min of gas into 1000 ft³ through which 85 ft³/min of air go, K 0.2: -K N = ln(1 - C Q / G) gives 1.666 changes
 * (worked from its formula) until 5 % are there. */
static void filling(void **state)
{
	/* the guide's rise goes to G/Q, where the balance with K has G/(K Q): its K is put into the volume here */
	const double changes = -log(1 - 0.05 * 85 / 15) / 0.2, time = changes * 1000 / 85 * 60;
	room *r = new_room(*state, 1000 * FOOT3 / 0.2, 85 * FOOT3 / 60, 1);
	const uint32_t v = add_vapour(r, 1, NAN);
	add_sitting(r, 0, time);
	add_release(r, v, 0, time, 15 * FOOT3 / 60 * time);
	follow(r);
	assert_close(changes, 1.666, 1e-3);
	assert_close(r->sitting[0].vapour[0].peak, 0.05, 1e-9);
}

/* ACGIH: 1.5 pints an hour of a solvent (SG 1.32, 133.4 g/mol) and K 5 want 1425 ft³/min to stay at 350 ppm. */
static void dilution(void **state)
{
	/* 403 ft³ of vapour for each pound-mole in a pint of water: so much vapour an hour */
	const double vapour = 403 * 1.32 * 1.5 / 133.4 * FOOT3, hours = 200;
	room *r = new_room(*state, 100, 1, 1.0 / 5);
	const uint32_t v = add_vapour(r, 350e-6, NAN);
	add_sitting(r, 0, hours * 3600);
	add_release(r, v, 0, hours * 3600, vapour * hours);
	follow(r);
	assert_close(r->sitting[0].needed_health * 60 / FOOT3, 1425, 5e-3);
}

/* --- numeric integration ---------------------------------------------------------------------------------------------------- */

static double random_of(uint64_t *seed, double low, double high)
{
	*seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
	return low + (high - low) * (double)(*seed >> 11) / 9007199254740992.0;
}

static int by_size(const void *left, const void *right)
{
	const double a = *(const double *)left, b = *(const double *)right;
	return (a > b) - (a < b);
}

/* What goes in at a moment within a stretch on which no source begins or ends, kg/s. */
static double source(const room *r, uint32_t vapour, double middle, uint32_t last_sitting)
{
	double sum = 0;
	for (uint32_t i = 0; i < r->b.releases; i++) {
		const tc_release *x = &r->release[i];
		if (x->vapour == vapour && x->from <= middle && middle < x->to && x->sitting <= last_sitting)
			sum += x->mass / (x->to - x->from);
	}
	return sum;
}

static double slope(const room *r, double flow, double g, double c)
{
	return (g - r->b.room.mixing * flow * c) / r->b.room.volume;
}

/* What the integration sees of a sitting. */
typedef struct seen {
	double peak[MAX], sum[MAX];
	double index, lel, mean_index, clear;
} seen;

/* One Runge-Kutta step of every vapour; the integral goes along as one more equation. */
static void step(const room *r, double flow, double middle, double h, uint32_t last, double *c, double *sum)
{
	for (uint32_t v = 0; v < r->b.vapours; v++) {
		const double g = source(r, v, middle, last), c0 = c[v];
		const double k1 = slope(r, flow, g, c0), k2 = slope(r, flow, g, c0 + h / 2 * k1);
		const double k3 = slope(r, flow, g, c0 + h / 2 * k2), k4 = slope(r, flow, g, c0 + h * k3);
		c[v] = c0 + h / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
		if (sum)
			sum[v] += h / 6 * (6 * c0 + h * (k1 + k2 + k3));
	}
}

static void look(const room *r, const double *c, seen *s)
{
	double index = 0, lel = 0;
	for (uint32_t v = 0; v < r->b.vapours; v++) {
		s->peak[v] = fmax(s->peak[v], c[v]);
		index += c[v] / r->vapour[v].limit;
		lel += c[v] / r->vapour[v].lel;
	}
	s->index = fmax(s->index, index);
	s->lel = fmax(s->lel, lel);
}

/* All moments at which something changes, and a grid in between; rising. */
static size_t moments(const room *r, uint32_t sitting, double until, double grid, double *at, size_t most)
{
	size_t n = 0;
	for (uint32_t i = 0; i < r->b.releases; i++) {
		at[n++] = r->release[i].from;
		at[n++] = r->release[i].to;
	}
	at[n++] = 0;
	at[n++] = r->sitting[sitting].from;
	at[n++] = r->sitting[sitting].to;
	at[n++] = until;
	for (double t = 0; t < until && n < most; t += grid)
		at[n++] = t;
	qsort(at, n, sizeof *at, by_size);
	return n;
}

static seen integrate(const room *r, uint32_t sitting, double flow, double until)
{
	enum { MOST = 1000000 };
	/* short against the time in which air goes once through the room */
	const double grid = fmin(5, 0.05 * r->b.room.volume / (r->b.room.mixing * fmax(flow, 1e-9)));
	double *at = malloc(MOST * sizeof *at), c[MAX] = {0}, sum[MAX] = {0};
	assert_non_null(at);
	const size_t n = moments(r, sitting, until, grid, at, MOST);
	const double from = r->sitting[sitting].from, to = r->sitting[sitting].to;
	seen s = {.clear = 0};
	for (size_t i = 0; i + 1 < n && at[i] < until; i++) {
		const double h = at[i + 1] - at[i];
		const bool inside = at[i] >= from && at[i + 1] <= to;
		if (at[i] >= from && at[i] <= to)
			look(r, c, &s);
		if (h > 0)
			step(r, flow, at[i] + h / 2, h, at[i] >= to ? sitting : UINT32_MAX, c, inside ? sum : NULL);
		if (at[i + 1] >= from && at[i + 1] <= to)
			look(r, c, &s);
		double index = 0;
		for (uint32_t v = 0; v < r->b.vapours; v++)
			index += c[v] / r->vapour[v].limit;
		if (at[i + 1] > to && index > 0.1)
			s.clear = at[i + 1] - to;
	}
	for (uint32_t v = 0; v < r->b.vapours; v++) {
		s.sum[v] = sum[v];
		s.mean_index += sum[v] / 28800 / r->vapour[v].limit;
	}
	free(at);
	return s;
}

static room *random_room(stuff *k, uint64_t *seed)
{
	room *r = new_room(k, random_of(seed, 2, 60), random_of(seed, 0.002, 0.2), random_of(seed, 0.1, 1));
	const uint32_t vapours = 1 + (uint32_t)random_of(seed, 0, 4), sittings = 1 + (uint32_t)random_of(seed, 0, 3);
	for (uint32_t i = 0; i < vapours; i++)
		add_vapour(r, random_of(seed, 1e-5, 1e-3), random_of(seed, 0.005, 0.05));
	double clock = 0;
	for (uint32_t i = 0; i < sittings; i++) {
		const double from = clock + random_of(seed, 0, 9000), to = from + random_of(seed, 60, 6000);
		add_sitting(r, from, to);
		clock = to;
	}
	for (uint32_t i = 0, count = 1 + (uint32_t)random_of(seed, 0, 12); i < count; i++) {
		const uint32_t s = (uint32_t)random_of(seed, 0, sittings);
		const double from = random_of(seed, r->sitting[s].from, r->sitting[s].to);
		r->release[r->b.releases++] = (tc_release){.from = from,
		    .to = from + random_of(seed, 1, 4000),
		    .mass = random_of(seed, 1e-6, 1e-2),
		    .vapour = (uint32_t)random_of(seed, 0, vapours),
		    .sitting = s};
	}
	return r;
}

static const tc_vapour_in_air *told(const tc_sitting *s, const tc_entry *solvent)
{
	for (uint32_t i = 0; i < s->vapours; i++)
		if (s->vapour[i].solvent == solvent)
			return &s->vapour[i];
	return NULL;
}

/* Of an index: to a millionth of it, or of a millionth. */
#define assert_beside(is, due) assert_true(fabs((is) - (due)) <= 1e-6 * (due) + 1e-12)

static void compare(const room *r, uint32_t number)
{
	const tc_sitting *s = &r->sitting[number];
	const double most = 0.2 * r->b.room.volume / r->b.room.mixing; /* steps grow too many beyond */
	const double until = fmin(s->to + s->clear + 300, 2.5e5);
	const seen due = integrate(r, number, r->b.room.flow, until);
	assert_beside(s->peak_index, due.index);
	assert_beside(s->lel_share, due.lel);
	assert_beside(s->mean_index, due.mean_index);
	if (s->to + s->clear < until)
		assert_true(fabs(s->clear - due.clear) <= 5 + 1e-6 * s->clear); /* its grid is 5 s */
	for (uint32_t v = 0; v < r->b.vapours; v++) {
		const tc_vapour_in_air *is = told(s, r->vapour[v].solvent);
		if (!is) /* so thin that it is not told */
			assert_true(due.peak[v] < 1e-3 * fmin(r->vapour[v].limit, r->vapour[v].lel));
		else {
			assert_beside(is->peak / r->vapour[v].limit, due.peak[v] / r->vapour[v].limit);
			assert_beside(is->mean_8h / r->vapour[v].limit, due.sum[v] / 28800 / r->vapour[v].limit);
		}
	}
	if (s->needed_health > 0 && s->needed_health < most)
		assert_close(integrate(r, number, s->needed_health, s->to + 1).index, 1, 1e-3);
	if (s->needed_fire > 0 && s->needed_fire < most)
		assert_close(integrate(r, number, s->needed_fire, s->to + 1).lel, 0.25, 1e-3);
}

static void random_rooms(void **state)
{
	uint64_t seed = 2031;
	uint32_t sittings = 0, over = 0, burns = 0;
	for (int round = 0; round < 60; round++) {
		tc_arena_reset(((stuff *)*state)->arena);
		room *r = random_room(*state, &seed);
		follow(r);
		for (uint32_t i = 0; i < r->breath.sittings; i++) {
			compare(r, i);
			sittings++;
			over += r->sitting[i].needed_health > 0;
			burns += r->sitting[i].needed_fire > 0;
		}
	}
	printf("summary: %u random sittings against an integration; air was needed for health in %u, for fire in %u\n",
	    sittings, over, burns);
	assert_true(over > 20);
}

/* Without any fresh air it stays. */
static void no_air(void **state)
{
	room *r = new_room(*state, 30, 0, 1);
	const uint32_t v = add_vapour(r, 100e-6, 0.01);
	add_sitting(r, 0, 600);
	add_release(r, v, 0, 600, 30 * 1e-3);
	follow(r);
	assert_close(r->sitting[0].peak_index, 10, 1e-9);
	assert_close(r->sitting[0].vapour[0].mean, 0.5e-3, 1e-9);
	assert_true(isinf(r->sitting[0].clear));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(cumulative_exposure),
	    cmocka_unit_test(mixture),
	    cmocka_unit_test(mixture_of_three),
	    cmocka_unit_test(le_chatelier),
	    cmocka_unit_test(purge),
	    cmocka_unit_test(filling),
	    cmocka_unit_test(dilution),
	    cmocka_unit_test(random_rooms),
	    cmocka_unit_test(no_air),
	};
	return cmocka_run_group_tests(tests, stuff_open, stuff_close);
}
