/* Flammable limits, saturated vapour, rooms; quantities. */
#include "science/air.h"
#include "science/quantities.h"

#include "near.h"

/* Crowl & Louvar, Chemical Process Safety, example on the LFL of a mixture (from memory): 2.75 %, 13 % in the book. */
static void le_chatelier(void **state)
{
	(void)state;
	double limit;
	const double moles[] = {0.8, 2.0, 0.5};
	assert_true(tc_air_mixed_limit(moles, (double[]){0.012, 0.053, 0.031}, 3, &limit));
	assert_near(limit, 0.0274, 1e-4);
	assert_true(tc_air_mixed_limit(moles, (double[]){0.075, 0.15, 0.32}, 3, &limit));
	assert_near(limit, 0.129, 1e-3);
	/* toluene, n-butyl acetate, MEK (NFPA 497 and lower IEC 60079-20-1 limits; worked by hand) */
	assert_true(tc_air_mixed_limit((double[]){0.3, 0.3, 0.4}, (double[]){0.011, 0.017, 0.014}, 3, &limit));
	assert_near(limit, 0.01361, 1e-5);
	assert_true(tc_air_mixed_limit((double[]){0.3, 0.3, 0.4}, (double[]){0.010, 0.012, 0.014}, 3, &limit));
	assert_near(limit, 0.01197, 1e-5);
	/* toluene and acetone, half each by mass (worked by hand) */
	assert_true(tc_air_mixed_limit((double[]){1 / 92.14, 1 / 58.08}, (double[]){0.011, 0.025}, 2, &limit));
	assert_near(limit, 0.01676, 1e-5);
	assert_false(tc_air_mixed_limit(moles, (double[]){0.012, 0.0, 0.031}, 3, &limit));
}

/* Vapour pressures at 25 C over the standard atmosphere (worked by hand): share of the air, and a limit's two units. */
static void saturation_and_units(void **state)
{
	(void)state;
	double share, mass;
	assert_true(tc_air_saturation(30780.0, &share));
	assert_near(share, 0.3038, 1e-4);
	assert_true(tc_air_saturation(3789.0, &share));
	assert_near(share, 0.03739, 1e-5);
	assert_true(tc_air_saturation(1533.4, &share));
	assert_near(share, 0.01513, 1e-5);
	/* NIOSH prints 710 and 713 mg/m^3 for 150 ppm of n-butyl acetate (cdc.gov/niosh/idlh/123864.html) */
	assert_true(tc_air_mass(150e-6, 0.11616, 298.15, &mass));
	assert_near(mass * 1e6, 712.6, 1.0);
	assert_true(tc_air_share(mass, 0.11616, 298.15, &share));
	assert_near(share, 150e-6, 1e-12);
}

/* Toluene, 30 ml/h at 25 C (worked by hand): 2.51 m^3/h to stay at a quarter of 1.1 %, 69.0 m^3/h for 100 ppm. */
static void needed_air(void **state)
{
	(void)state;
	double source = 30e-6 * 867.0 / 3600.0, limit, flow;
	assert_true(tc_air_mass(0.25 * 0.011, 0.09214, 298.15, &limit));
	assert_true(tc_air_needed(source, limit, 1.0, &flow));
	assert_near(flow * 3600.0, 2.51, 0.01);
	assert_true(tc_air_mass(100e-6, 0.09214, 298.15, &limit));
	assert_true(tc_air_needed(source, limit, 1.0, &flow));
	assert_near(flow * 3600.0, 69.0, 0.1);
}

/*
 * ACGIH Industrial Ventilation manual's example (from memory): 1.5 pint/h of a solvent, SG 1.32, 133.4 g/mol, to stay
 * at 350 ppm with K 5: 1425 ft^3/min in the book, with 403 ft^3 for a pound-mole-pint at 70 F.
 */
static void acgih_example(void **state)
{
	(void)state;
	double pint = 0.473176473e-3, foot = 0.3048, limit, flow;
	double source = 1.5 * pint * 1320.0 / 3600.0; /* kg/s */
	assert_true(tc_air_mass(350e-6, 0.1334, 294.26, &limit));
	assert_true(tc_air_needed(source, limit, 1.0 / 5.0, &flow));
	assert_near(flow * 60.0 / (foot * foot * foot), 1425.0, 12.0);
}

/* Exact solution of the balance against small steps of it; without flow; and where it settles. */
static void room_balance(void **state)
{
	(void)state;
	struct tc_air_room room = {30.0, 0.02, 0.5};
	const struct tc_air_span span[] = {{600, 1e-5}, {300, 0}, {900, 3e-5}, {3600, 0}};
	double peak, mean, stepped = 0.0, highest = 0.0, sum = 0.0, elapsed = 0.0;
	for (size_t i = 0; i < 4; i++)
		for (int k = 0; k < (int)(span[i].duration * 20); k++) {
			double before = stepped;
			stepped += 0.05 * (span[i].source - 0.5 * 0.02 * stepped) / 30.0;
			sum += 0.05 * 0.5 * (before + stepped);
			highest = fmax(highest, stepped);
			elapsed += 0.05;
		}
	assert_true(tc_air_session(&room, span, 4, &peak, &mean));
	assert_near(peak, highest, 1e-4 * highest);
	assert_near(mean, sum / elapsed, 1e-4 * mean);
	double at;
	assert_true(tc_air_after(&room, 1e-5, 0.0, 1e7, &at));
	assert_true(tc_air_settles(&room, 1e-5, &stepped));
	assert_near(at, stepped, 1e-12);
	room.flow = 0.0;
	assert_true(tc_air_after(&room, 1e-5, 0.0, 600, &at));
	assert_near(at, 1e-5 * 600 / 30.0, 1e-12);
	assert_true(tc_air_session(&room, span, 1, &peak, &mean));
	assert_near(mean, 0.5 * peak, 1e-12);
	assert_false(tc_air_settles(&room, 1e-5, &at));
}

/* A session is its spans one after the other, each from where the one before ended. */
static void through_spans(void **state)
{
	(void)state;
	const struct tc_air_room room = {30.0, 0.02, 0.5};
	const struct tc_air_span span[] = {{600, 1e-5}, {300, 0}, {900, 3e-5}, {3600, 0}};
	double peak, mean, at = 0.0, sum = 0.0, part;
	for (size_t i = 0; i < 4; i++) {
		assert_true(tc_air_through(&room, span[i].source, at, span[i].duration, &at, &part));
		sum += part;
	}
	assert_true(tc_air_session(&room, span, 4, &peak, &mean));
	assert_near(sum / 5400, mean, 1e-15);
	assert_true(tc_air_through(&room, 0.0, 1.0, 0.0, &at, &part));
	assert_near(at, 1.0, 0.0);
	assert_near(part, 0.0, 0.0);
	assert_false(tc_air_through(&room, 0.0, -1.0, 1.0, &at, &part));
}

static void index_adds(void **state)
{
	(void)state;
	double index;
	assert_true(tc_air_index((double[]){50, 100}, (double[]){100, 400}, 2, &index));
	assert_near(index, 0.75, 1e-12);
	assert_false(tc_air_index((double[]){50}, (double[]){0}, 1, &index));
}

static void rooms_stay_finite(void **state)
{
	(void)state;
	uint64_t seed = 51;
	for (int round = 0; round < 20000; round++) {
		struct tc_air_room room = {random_size(&seed, 0.01, 1e7),
			random_bits(&seed) % 4 ? random_size(&seed, 1e-12, 1e4) : 0.0, random_between(&seed, 0.05, 1)};
		struct tc_air_span span[3];
		double peak, mean;
		for (int i = 0; i < 3; i++)
			span[i] = (struct tc_air_span){random_size(&seed, 1e-3, 1e9), random_size(&seed, 1e-12, 1e3)};
		assert_true(tc_air_session(&room, span, 3, &peak, &mean));
		assert_true(isfinite(peak) && isfinite(mean) && mean >= 0.0 && mean <= peak * (1 + 1e-6));
	}
}

static void quantities(void **state)
{
	(void)state;
	double volume, share[3];
	size_t packs;
	/* worked by hand: 0.05 m^2, 40 um wet, 3 passes, half lands, 5 ml stay in the cup */
	assert_true(tc_quantity_sprayed(0.05, 40e-6, 3, 0.5, 5e-6, &volume));
	assert_near(volume, 17e-6, 1e-12);
	assert_true(tc_quantity_split(volume, (double[]){2, 1, 0.3}, 3, share));
	assert_near(share[0] + share[1] + share[2], volume, 1e-15);
	assert_near(share[0] / share[1], 2.0, 1e-12);
	assert_true(tc_quantity_paint(15e-6, 0.5, &volume));
	assert_near(volume, 10e-6, 1e-15);
	assert_true(tc_quantity_packs(30e-6, 10e-6, &packs));
	assert_int_equal(packs, 3);
	assert_true(tc_quantity_packs(31e-6, 10e-6, &packs));
	assert_int_equal(packs, 4);
	assert_true(tc_quantity_packs(0.0, 10e-6, &packs));
	assert_int_equal(packs, 0);
	assert_false(tc_quantity_packs(1.0, 0.0, &packs));
	assert_false(tc_quantity_sprayed(0.05, 40e-6, 0, 0.5, 0, &volume));
	assert_false(tc_quantity_sprayed(0.05, 40e-6, 1, 0.0, 0, &volume));
	assert_false(tc_quantity_split(volume, (double[]){0, 0}, 2, share));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(le_chatelier),
		cmocka_unit_test(saturation_and_units),
		cmocka_unit_test(needed_air),
		cmocka_unit_test(acgih_example),
		cmocka_unit_test(room_balance),
		cmocka_unit_test(through_spans),
		cmocka_unit_test(index_adds),
		cmocka_unit_test(rooms_stay_finite),
		cmocka_unit_test(quantities),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
