/* Vapour pressures, dew point, diffusion in air, wet bulb, transfer. */
#include "science/transfer.h"
#include "science/vapour.h"

#include "../../reference/science/solvents.h"
#include "near.h"

static struct table solvents;

static double celsius(double t)
{
	return t + TC_CELSIUS_ZERO;
}

/* n-Butyl acetate at 10, 20, 25, 30 C: worked by hand from the NIST WebBook constants. */
static void antoine(void **state)
{
	(void)state;
	static const double at[] = {10, 20, 25, 30}, expected[] = {594.7, 1133.6, 1533.4, 2048.6};
	struct tc_solvent acetate = solvent_named(&solvents, "n-butyl-acetate");
	double p[4];
	for (int i = 0; i < 4; i++) {
		assert_true(tc_antoine_pressure(&acetate.antoine, celsius(at[i]), &p[i]));
		assert_near(p[i], expected[i], 0.5);
	}
	assert_near(p[3] / p[1], 1.807, 1e-3);
	assert_near(p[0] / p[1], 0.525, 1e-3);
}

/*
 * Vapour pressures at 25 C in Perry's Chemical Engineers' Handbook, 8th ed., table 2-8, another correlation (read in
 * CalebBell/chemicals).
 */
static void antoine_against_perry(void **state)
{
	(void)state;
	static const struct {
		const char *id;
		double pascals, tolerance;
	} perry[] = {{"acetone", 30750, 0.01}, {"mek", 12310, 0.03}, {"mibk", 2651, 0.01},
		{"cyclohexanone", 551.9, 0.03}, {"n-butyl-acetate", 1493, 0.03}, {"acetonitrile", 12150, 0.03},
		{"water", 3170, 0.005}};
	for (size_t i = 0; i < sizeof perry / sizeof perry[0]; i++) {
		struct tc_solvent s = solvent_named(&solvents, perry[i].id);
		double p;
		assert_true(tc_antoine_pressure(&s.antoine, 298.15, &p));
		assert_near(p, perry[i].pascals, perry[i].pascals * perry[i].tolerance);
	}
}

/*
 * Water boils at 100 C under one atmosphere, and has 2339 Pa at 20 C (IAPWS, from memory); Clausius-Clapeyron
 * with 43.98 kJ/mol (CRC Handbook, 298 K) goes from 25 to 30 C, where IAPWS has 4247 Pa (from memory).
 */
static void water(void **state)
{
	(void)state;
	struct tc_solvent liquid = solvent_named(&solvents, "water");
	double p;
	assert_true(tc_antoine_pressure(&liquid.antoine, celsius(100.0), &p));
	assert_near(p, 101325.0, 300.0);
	assert_true(tc_clausius_clapeyron(3169.9, 298.15, 43980.0, 303.15, &p));
	assert_near(p, 4247.0, 10.0);
	assert_true(tc_water_pressure(celsius(20.0), &p));
	assert_near(p, 2339.0, 7.0);
	assert_near(p, 2333.0, 1.0); /* Alduchov & Eskridge's own value, worked by hand */
}

/* Worked by hand from Alduchov & Eskridge 1996: temperature C, humidity %, dew point C. */
static void dew_points(void **state)
{
	(void)state;
	static const double rows[][3] = {{0, 50, -9.20}, {5, 80, 1.84}, {10, 50, 0.05}, {10, 85, 7.59}, {15, 60, 7.30},
		{15, 85, 12.50}, {20, 30, 1.89}, {20, 40, 5.99}, {20, 50, 9.26}, {20, 60, 12.00}, {20, 70, 14.36},
		{20, 85, 17.40}, {25, 50, 13.86}, {25, 65, 17.96}, {25, 85, 22.30}, {30, 40, 14.93}, {30, 70, 23.93},
		{35, 60, 26.08}};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		double dew, back;
		assert_true(tc_dew_point(celsius(rows[i][0]), rows[i][1] / 100.0, &dew));
		assert_near(dew - TC_CELSIUS_ZERO, rows[i][2], 0.006);
		assert_true(tc_humidity(celsius(rows[i][0]), dew, &back));
		assert_near(back, rows[i][1] / 100.0, 1e-9);
	}
}

/* A printed dew-point chart in degrees F, rounded by hand (handypdf.com): temperature, humidity %, dew point. */
static void dew_point_chart(void **state)
{
	(void)state;
	static const double rows[][3] = {{40, 90, 37}, {60, 90, 57}, {70, 90, 67}, {80, 90, 77}, {40, 70, 31},
		{60, 70, 50}, {70, 70, 60}, {80, 70, 68}, {40, 50, 23}, {60, 50, 40}, {70, 50, 50}, {80, 50, 59},
		{60, 30, 28}, {70, 30, 36}, {80, 30, 44}, {40, 30, 13}};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		double dew;
		assert_true(tc_dew_point(celsius((rows[i][0] - 32.0) / 1.8), rows[i][1] / 100.0, &dew));
		assert_near((dew - TC_CELSIUS_ZERO) * 1.8 + 32.0, rows[i][2], 2.0);
	}
}

/* n-Butyl acetate: volume 135.34, D = 0.0722 cm^2/s at 25 C, worked by hand after Poling et al. 5th ed. eq. 11-4.4. */
static void diffusion(void **state)
{
	(void)state;
	double volume, d;
	assert_true(tc_fuller_volume((struct tc_atoms){.c = 6, .h = 12, .o = 2}, &volume));
	assert_near(volume, 135.34e-6, 1e-11);
	assert_true(tc_fuller_diffusivity(298.15, 0.11616, volume, &d));
	assert_near(d, 7.22e-6, 0.5e-8);
	/* water vapour in air at 25 C: 0.26 cm^2/s measured (Incropera & DeWitt table A.8, from memory) */
	assert_true(tc_fuller_diffusivity(298.15, 0.01802, TC_FULLER_WATER, &d));
	assert_near(d, 2.6e-5, 0.13e-5);
	/* toluene: 0.0849 cm^2/s measured at 25 C (Lugg 1968, from memory) */
	assert_true(tc_fuller_volume((struct tc_atoms){.c = 7, .h = 8, .aromatic_rings = 1}, &volume));
	assert_true(tc_fuller_diffusivity(298.15, 0.09214, volume, &d));
	assert_near(d, 8.49e-6, 0.06 * 8.49e-6);
	assert_false(tc_fuller_volume((struct tc_atoms){.aromatic_rings = 1}, &volume));
}

/* Temperatures of films in dry air at 25 C, C: worked by hand from the psychrometer equation. */
static void wet_bulbs(void **state)
{
	(void)state;
	static const struct {
		const char *id;
		struct tc_atoms atoms;
		double expected;
	} rows[] = {{"acetone", {.c = 3, .h = 6, .o = 1}, -10.5}, {"mek", {.c = 4, .h = 8, .o = 1}, 1.4},
		{"ethyl-acetate", {.c = 4, .h = 8, .o = 2}, 1.3},
		{"toluene", {.c = 7, .h = 8, .aromatic_rings = 1}, 12.3},
		{"n-butyl-acetate", {.c = 6, .h = 12, .o = 2}, 17.9},
		{"xylene", {.c = 8, .h = 10, .aromatic_rings = 1}, 19.4}};
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct tc_solvent s = solvent_named(&solvents, rows[i].id);
		double volume, d, film;
		assert_true(tc_fuller_volume(rows[i].atoms, &volume));
		assert_true(tc_fuller_diffusivity(298.15, s.molar_mass, volume, &d));
		assert_true(tc_wet_bulb(298.15, &s.antoine, s.vaporisation, d, 0.0, &film));
		assert_near(film - TC_CELSIUS_ZERO, rows[i].expected, 0.15);
	}
}

/*
 * Water's wet bulb against psychrometer tables: 25 C and 50 % is 17.9 C, 20 C and 60 % is 15.1 C (psychrometric charts,
 * from memory).
 */
static void wet_bulb_of_water(void **state)
{
	(void)state;
	static const double rows[][3] = {{25, 0.5, 17.9}, {20, 0.6, 15.1}, {25, 0.0, 8.0}};
	struct tc_solvent s = solvent_named(&solvents, "water");
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		double air = celsius(rows[i][0]), d, saturated, film;
		assert_true(tc_fuller_diffusivity(air, s.molar_mass, TC_FULLER_WATER, &d));
		assert_true(tc_water_pressure(air, &saturated));
		assert_true(tc_wet_bulb(air, &s.antoine, s.vaporisation, d, rows[i][1] * saturated, &film));
		assert_near(film - TC_CELSIUS_ZERO, rows[i][2], 0.6);
	}
}

/* n-Butyl acetate along 0.1 m: m/s, worked by hand from Sh = 0.664 Re^(1/2) Sc^(1/3). */
static void transfer(void **state)
{
	(void)state;
	static const double rows[][2] = {{0.1, 1.569e-3}, {0.5, 3.509e-3}, {2.0, 7.017e-3}};
	double k, slower = 0.0;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		assert_true(tc_transfer_plate(rows[i][0], 0.1, 7.22e-6, &k));
		assert_near(k, rows[i][1], 2e-6);
	}
	assert_true(tc_transfer(0.0, 0.1, TC_TRANSFER_REFERENCE, 1e-3, &k));
	assert_near(k, 1e-3, 1e-12);
	for (double v = 0.0; v <= 50.0; v += 0.25) {
		assert_true(tc_transfer(v, 1.0, 8e-6, 1e-3, &k));
		assert_true(k >= slower);
		slower = k;
	}
	assert_false(tc_transfer(-1.0, 0.1, 8e-6, 1e-3, &k));
	assert_false(tc_transfer(1.0, 0.0, 8e-6, 1e-3, &k));
	/* Mackay & van Wesenbeeck 2014: 1464 ug/(m^2 h) for each Pa g/mol is a coefficient near 1e-3 m/s */
	assert_near(1464e-9 / 3600.0 * TC_GAS_CONSTANT * 298.15 * 1e3, 1.008e-3, 1e-6);
}

/* Nothing infinite, nothing that is no number, whatever goes in. */
static void blows_up_nowhere(void **state)
{
	(void)state;
	uint64_t seed = 42;
	size_t answered = 0;
	for (int round = 0; round < 50000; round++) {
		struct tc_antoine law = {
			random_between(&seed, -25, 25), random_size(&seed, 1, 2e4), random_between(&seed, 0, 600)};
		double t = random_between(&seed, 150, 600), out = 0.0, film = 0.0;
		if (tc_antoine_pressure(&law, t, &out))
			assert_true(isfinite(out) && out >= 0.0);
		if (tc_wet_bulb(t, &law, random_between(&seed, 0, 2e5), random_size(&seed, 1e-7, 1e-3), 0.0, &film)) {
			assert_true(film <= t && film >= TC_VAPOUR_COLDEST);
			answered++;
		}
		if (tc_dew_point(t, random_between(&seed, -0.1, 1.1), &out))
			assert_true(isfinite(out) && out <= t + 1e-9);
	}
	assert_true(answered > 5000);
	double untouched = 3.0;
	assert_false(tc_dew_point((double)NAN, 0.5, &untouched));
	assert_false(tc_dew_point(293.15, 0.0, &untouched));
	assert_true(untouched == 3.0);
}

int main(void)
{
	table_read(&solvents, "tests/reference/science/solvents.tsv");
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(antoine),
		cmocka_unit_test(antoine_against_perry),
		cmocka_unit_test(water),
		cmocka_unit_test(dew_points),
		cmocka_unit_test(dew_point_chart),
		cmocka_unit_test(diffusion),
		cmocka_unit_test(wet_bulbs),
		cmocka_unit_test(wet_bulb_of_water),
		cmocka_unit_test(transfer),
		cmocka_unit_test(blows_up_nowhere),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
