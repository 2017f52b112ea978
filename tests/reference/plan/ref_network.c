/*
 * The network against published examples, and against shortest paths by Floyd and Warshall's method on random
 * networks: the distances of the distance graph are the bounds of the minimal network (Dechter, Meiri & Pearl,
 * "Temporal constraint networks", Artificial Intelligence 49 (1991) 61-95, section 3), so they give the earliest and
 * latest of each moment.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "plan/network.h"

enum { MOST = 40, ORIGIN = 0 };
#define NONE ((double)INFINITY)

/* distance[i][j]: j lies at most so far after i. */
typedef struct graph {
	int n;
	double distance[MOST][MOST];
} graph;

static int failures;

static void expect(int right, const char *what, int i, int j)
{
	if (right)
		return;
	failures++;
	printf("%s: %d %d\n", what, i, j);
}

static void graph_of(graph *g, int n)
{
	g->n = n;
	for (int i = 0; i < n; i++)
		for (int j = 0; j < n; j++)
			g->distance[i][j] = i == j || j == ORIGIN ? 0 : NONE; /* none before the origin */
}

static void graph_bound(graph *g, int from, int to, double least, double most)
{
	g->distance[from][to] = fmin(g->distance[from][to], most);
	g->distance[to][from] = fmin(g->distance[to][from], -least);
}

/* All shortest paths. False: a ring is shorter than nothing. */
static int floyd_warshall(graph *g)
{
	for (int k = 0; k < g->n; k++)
		for (int i = 0; i < g->n; i++)
			for (int j = 0; j < g->n; j++)
				g->distance[i][j] = fmin(g->distance[i][j], g->distance[i][k] + g->distance[k][j]);
	for (int i = 0; i < g->n; i++)
		if (g->distance[i][i] < 0)
			return 0;
	return 1;
}

/* --- John and Fred ------------------------------------------------------------------------------------------- */

/*
 * Dechter, Meiri & Pearl 1991, example 1.1: John goes to work by car (30 to 40 min) or by bus (at least 60 min), Fred
 * by car (20 to 30 min) or in a carpool (40 to 50 min). Today John left between 7:10 and 7:20, and Fred arrived
 * between 8:00 and 8:10. John arrived 10 to 20 min after Fred left. The story stands, with these figures, as an
 * example in public code of other hands too; the paper's tables below are from memory. Minutes after 7:00.
 */
enum { START, JOHN_LEFT, JOHN_CAME, FRED_LEFT, FRED_CAME, PEOPLE };

/*
 * Lengths of the shortest paths in the distance graph of John by car and Fred in the carpool (table 1, from memory).
 */
static const double shortest[PEOPLE][PEOPLE] = {
    {0, 20, 50, 30, 70},
    {-10, 0, 40, 20, 60},
    {-40, -30, 0, -10, 30},
    {-20, -10, 20, 0, 50},
    {-60, -50, -20, -40, 0},
};

static tc_network *of_the_story(tc_arena *arena, const tc_span *john, size_t johns, const tc_span *fred, size_t freds)
{
	tc_network *network = tc_network_new(arena);
	while (network && tc_network_moment(network) != FRED_CAME)
		;
	if (!network || !tc_network_bound(network, START, JOHN_LEFT, 10, 20, 1) ||
	    !tc_network_windows(network, JOHN_LEFT, JOHN_CAME, john, johns, 2) ||
	    !tc_network_bound(network, FRED_LEFT, JOHN_CAME, 10, 20, 3) ||
	    !tc_network_windows(network, FRED_LEFT, FRED_CAME, fred, freds, 4) ||
	    !tc_network_bound(network, START, FRED_CAME, 60, 70, 5))
		return NULL;
	return network;
}

static const tc_span car_or_bus[] = {{30, 40}, {60, (double)INFINITY}};
static const tc_span car_or_carpool[] = {{20, 30}, {40, 50}};

static void john_by_car_and_fred_in_the_carpool(tc_arena *arena)
{
	const tc_network *network = of_the_story(arena, &car_or_bus[0], 1, &car_or_carpool[1], 1);
	double at[PEOPLE], latest;
	graph g;

	graph_of(&g, PEOPLE);
	graph_bound(&g, START, JOHN_LEFT, 10, 20);
	graph_bound(&g, JOHN_LEFT, JOHN_CAME, 30, 40);
	graph_bound(&g, FRED_LEFT, JOHN_CAME, 10, 20);
	graph_bound(&g, FRED_LEFT, FRED_CAME, 40, 50);
	graph_bound(&g, START, FRED_CAME, 60, 70);
	expect(floyd_warshall(&g), "the story is consistent", 0, 0);
	expect(tc_network_earliest(network, 1000, at) == TC_NETWORK_SOLVED, "a plan", 0, 0);
	for (int i = 0; i < PEOPLE; i++) {
		expect(at[i] == -shortest[i][START], "earliest", i, 0);
		expect(tc_network_latest(network, 1000, NULL, (uint32_t)i, &latest) == TC_NETWORK_SOLVED &&
		           latest == shortest[START][i],
		    "latest", i, 0);
		for (int j = 0; j < PEOPLE; j++) {
			double fixed[PEOPLE] = {(double)NAN, (double)NAN, (double)NAN, (double)NAN, (double)NAN};
			expect(g.distance[i][j] == shortest[i][j], "distance", i, j);
			fixed[i] = at[i]; /* a minimal network can be followed from any value */
			const double most = i == j ? at[i] : fmin(shortest[START][j], at[i] + shortest[i][j]);
			expect(tc_network_latest(network, 1000, fixed, (uint32_t)j, &latest) == TC_NETWORK_SOLVED &&
			           latest == most,
			    "latest with one fixed", i, j);
		}
	}
}

/*
 * The paper's questions: is the story consistent, can John have come by bus and Fred in the carpool, when may Fred
 * have left?
 */
static void the_whole_story(tc_arena *arena)
{
	double at[PEOPLE], latest;
	const uint32_t *group;
	size_t count;
	bool smallest;
	const tc_network *network = of_the_story(arena, car_or_bus, 2, car_or_carpool, 2);

	expect(tc_network_earliest(network, 1000, at) == TC_NETWORK_SOLVED, "consistent", 0, 0);
	/*
	 * Fred left at 7:20 at the earliest, and at 7:50 at the latest (by hand: by car and in at 8:10, John in at
	 * 8:00)
	 */
	expect(at[FRED_LEFT] == 20, "Fred's earliest", 0, 0);
	expect(tc_network_latest(network, 1000, NULL, FRED_LEFT, &latest) == TC_NETWORK_SOLVED && latest == 50,
	    "Fred's latest", 0, 0);
	/* the bus and the carpool cannot both be: John in at 8:10 or later, Fred away from 7:50, in at 8:30 */
	network = of_the_story(arena, &car_or_bus[1], 1, &car_or_carpool[1], 1);
	expect(tc_network_earliest(network, 1000, at) == TC_NETWORK_CONFLICT, "bus and carpool", 0, 0);
	/* when John left does not matter: had he left at 7:00, Fred would still be in at 8:20 */
	expect(tc_network_conflict(network, 1000, arena, &group, &count, &smallest) == TC_NETWORK_CONFLICT && smallest,
	    "conflict", 0, 0);
	expect(count == 4 && group[0] == 2 && group[3] == 5, "the other four sentences are needed", 0, 0);
}

/* --- random networks ------------------------------------------------------------------------------------------ */

static uint64_t seed = 1991;

static int any(int least, int most)
{
	seed = seed * 6364136223846793005u + 1442695040888963407u;
	return least + (int)((seed >> 33) % (uint64_t)(most - least + 1));
}

enum { BOUNDS = 110, HORIZON = 100000 };

typedef struct bound {
	int from, to, least, most;
} bound;

static void same_answers(const tc_network *network, const graph *distances, const graph *plain)
{
	double at[MOST], latest, fixed[MOST];
	graph g;

	expect(tc_network_earliest(network, HORIZON, at) == TC_NETWORK_SOLVED, "solved", 0, 0);
	for (int m = 0; m < MOST; m++) {
		expect(at[m] == -distances->distance[m][ORIGIN], "earliest", m, 0);
		expect(tc_network_latest(network, HORIZON, NULL, (uint32_t)m, &latest) == TC_NETWORK_SOLVED, "latest",
		    m, 0);
		expect(latest == distances->distance[ORIGIN][m], "latest", m, 0);
	}
	memcpy(&g, plain, sizeof g);
	for (int m = 0; m < MOST; m++) { /* some as they came out, or a little later */
		fixed[m] = m == ORIGIN || any(0, 4) ? (double)NAN : at[m] + (any(0, 3) ? 0 : any(0, 20));
		if (!isnan(fixed[m]))
			graph_bound(&g, ORIGIN, m, fixed[m], fixed[m]);
	}
	const int holds = floyd_warshall(&g), m = any(0, MOST - 1);
	const tc_network_answer answer = tc_network_latest(network, HORIZON, fixed, (uint32_t)m, &latest);
	expect(answer == (holds ? TC_NETWORK_SOLVED : TC_NETWORK_CONFLICT), "latest with some fixed", m, answer);
	if (holds)
		expect(latest == g.distance[ORIGIN][m], "latest with some fixed", m, 0);
}

/* --- the fewest bounds that conflict ------------------------------------------------------------------------ */

/* The shortest of a way of `a` and then one of `b`. */
static void compose(graph *to, const graph *a, const graph *b)
{
	for (int i = 0; i < MOST; i++)
		for (int j = 0; j < MOST; j++) {
			double best = NONE;
			for (int k = 0; k < MOST; k++)
				best = fmin(best, a->distance[i][k] + b->distance[k][j]);
			to->distance[i][j] = best;
		}
}

/* By powers of the matrix of single bounds, with what costs nothing (no moment before the origin) in between. */
static int fewest(const bound *bounds)
{
	static graph nothing, single, ways, longer;

	graph_of(&nothing, MOST);
	graph_of(&single, MOST);
	for (int i = 0; i < MOST; i++)
		for (int j = 0; j < MOST; j++)
			single.distance[i][j] = i == j ? 0 : NONE;
	for (int b = 0; b < BOUNDS; b++)
		graph_bound(&single, bounds[b].from, bounds[b].to, bounds[b].least, bounds[b].most);
	memcpy(&ways, &nothing, sizeof ways);
	for (int count = 1; count <= BOUNDS; count++) {
		compose(&longer, &ways, &single);
		compose(&ways, &longer, &nothing);
		for (int m = 0; m < MOST; m++)
			if (ways.distance[m][m] < 0)
				return count;
	}
	return 0;
}

static void same_conflict(const tc_network *network, tc_arena *arena, const bound *bounds)
{
	const uint32_t *group = NULL;
	size_t count = 0;
	bool smallest = false;

	expect(tc_network_conflict(network, HORIZON, arena, &group, &count, &smallest) == TC_NETWORK_CONFLICT,
	    "conflict", 0, 0);
	expect(smallest && (int)count == fewest(bounds), "smallest", (int)count, fewest(bounds));
	for (size_t without = 0; without <= count; without++) {
		graph g;
		graph_of(&g, MOST);
		for (size_t i = 0; i < count; i++) {
			const bound *b = &bounds[group[i] - 1];
			if (i != without)
				graph_bound(&g, b->from, b->to, b->least, b->most);
		}
		expect(floyd_warshall(&g) == (without < count), "irreducible", (int)without, (int)count);
	}
}

static void random_networks(void)
{
	enum { NETWORKS = 400 };
	int solved = 0, sizes[10] = {0};

	for (int round = 0; round < NETWORKS; round++) {
		static bound bounds[BOUNDS];
		static graph plain, g;
		int plan[MOST] = {0};
		tc_arena *arena = tc_arena_new(NULL, 0);
		tc_network *network = tc_network_new(arena);
		const int broken = any(0, 4); /* bounds that are not made around a plan */
		graph_of(&plain, MOST);
		for (int m = 1; m < MOST; m++) {
			plan[m] = any(0, 1000);
			(void)tc_network_moment(network);
		}
		for (int i = 0; i < BOUNDS; i++) {
			bound *b = &bounds[i];
			b->from = any(0, MOST - 1);
			b->to = (b->from + any(1, MOST - 1)) % MOST;
			const int distance = plan[b->to] - plan[b->from] + (i < broken ? any(-300, 300) : 0);
			b->least = distance - any(0, 150);
			b->most = distance + any(0, 150);
			graph_bound(&plain, b->from, b->to, b->least, b->most);
			expect(tc_network_bound(
			           network, (uint32_t)b->from, (uint32_t)b->to, b->least, b->most, (uint32_t)i + 1),
			    "bound", i, 0);
		}
		memcpy(&g, &plain, sizeof g);
		if (floyd_warshall(&g)) {
			same_answers(network, &g, &plain);
			solved++;
		} else {
			const int size = fewest(bounds);
			same_conflict(network, arena, bounds);
			sizes[size < 9 ? size : 9]++;
		}
		tc_arena_free(arena);
	}
	expect(solved > NETWORKS / 5 && solved < NETWORKS * 4 / 5, "both kinds", solved, NETWORKS);
	printf(
	    "summary: 2 examples, %d of %d random networks with a plan; conflicts of 2: %d, 3: %d, 4: %d, more: %d\n",
	    solved, NETWORKS, sizes[2], sizes[3], sizes[4], sizes[5] + sizes[6] + sizes[7] + sizes[8] + sizes[9]);
}

int main(void)
{
	tc_arena *arena = tc_arena_new(NULL, 0);

	john_by_car_and_fred_in_the_carpool(arena);
	the_whole_story(arena);
	tc_arena_free(arena);
	random_networks();
	if (failures)
		printf("%d failures\n", failures);
	return failures != 0;
}
