/*
 * Films for the tests of drying and attack.  Compositions are typical by practice (no source), made up for these tests;
 * the solvents' data are those of the table, with their sources.
 */
#ifndef TC_TEST_PAINTS_H
#define TC_TEST_PAINTS_H

#include "science/attack.h"

#include "../../reference/science/solvents.h"
#include "near.h"

#define PAINT_SOLVENTS 5

struct paint {
	const char *id[PAINT_SOLVENTS];
	double share[PAINT_SOLVENTS]; /* of the liquids, by volume */
	double solids;                /* ready to spray */
	double chi;
};

static const struct paint lacquer = {
	{"acetone", "toluene", "n-butyl-acetate", "isopropanol"}, {20, 45, 20, 15}, 0.12, 0.4};
static const struct paint waterborne = {{"water", "2-butoxyethanol", "dpgme"}, {92, 5, 3}, 0.25, 3.0};
static const struct paint alcohol_borne = {
	{"isopropanol", "ethanol", "pgme", "2-butoxyethanol"}, {50, 30, 12, 8}, 0.15, 0.4};
static const struct paint enamel = {{"white-spirit"}, {1}, 0.40, 0.4};
static const struct paint thinner = {
	{"acetone", "toluene", "n-butyl-acetate", "isopropanol"}, {20, 45, 20, 15}, 0.0, 0.4};

/* Still air of a room at 22 C; practice. */
static const struct tc_drying_air room = {.temperature = 295.15, .speed = 0.2, .length = 0.2, .still = 1e-3};

/* Set point: 10 to 25 % by memory of Hansen 1970 and Wicks, Jones & Pappas; the other constants are practice. */
static const struct tc_drying_law usual = {
	.set_share = 0.2, .chi = 0.4, .cooling = 0.5, .diffusivity = 1e-13, .size = 100e-6, .fall = 40e-6};

/* A paint as a film; `store` must live as long as the film. */
static inline struct tc_wet_film film_of(
	const struct table *table, const struct paint *paint, double thickness, struct tc_solvent store[PAINT_SOLVENTS])
{
	size_t count = 0;
	for (; count < PAINT_SOLVENTS && paint->id[count] != NULL; count++) {
		store[count] = solvent_named(table, paint->id[count]);
		if (strcmp(paint->id[count], "water") == 0) {
			/* half of saturation at 22 C */
			double saturated = 0.0;
			(void)tc_water_pressure(295.15, &saturated);
			store[count].ambient = 0.5 * saturated;
		}
	}
	return (struct tc_wet_film){store, paint->share, count, thickness, paint->solids};
}

static inline struct tc_drying_law law_of(const struct paint *paint)
{
	struct tc_drying_law law = usual;
	law.chi = paint->chi;
	return law;
}

/* A random film of 1 to 6 solvents from the table, in random air. */
struct random_film {
	struct tc_solvent solvent[6];
	double share[6];
	struct tc_wet_film film;
	struct tc_drying_air air;
	struct tc_drying_law law;
};

static inline void random_film(const struct table *table, uint64_t *seed, struct random_film *out)
{
	size_t count = 1 + random_bits(seed) % 6;
	for (size_t i = 0; i < count; i++) {
		out->solvent[i] = solvent_at(table, random_bits(seed) % table->rows);
		out->share[i] = random_size(seed, 1e-4, 1.0);
	}
	out->film = (struct tc_wet_film){
		out->solvent, out->share, count, random_size(seed, 1e-6, 1e-3), random_between(seed, 0.02, 0.7)};
	out->air = (struct tc_drying_air){.temperature = random_between(seed, 278.15, 333.15),
		.speed = random_between(seed, 0, 3),
		.length = random_size(seed, 0.01, 1),
		.still = 1e-3};
	out->law = usual;
	out->law.set_share = random_between(seed, 0.05, 0.4);
	out->law.chi = random_between(seed, 0.0, 3.0);
	out->law.cooling = random_between(seed, 0.0, 1.0);
	out->law.diffusivity = random_size(seed, 1e-16, 1e-11);
}

#endif
