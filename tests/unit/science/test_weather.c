/* Dew margins, blushing, film-forming temperature; pot life. */
#include "science/potlife.h"
#include "science/weather.h"

#include "../../reference/science/solvents.h"
#include "near.h"

static struct table solvents;

/*
 * A coating course's case (Scribd 146044552): 16 C, 71 % humidity, substrate at 13 C, its dew point 11 C and margin 2:
 * too little.  By the formula 10.75 C and 2.25 K: the same verdict against 3 K (ISO 8502-4).
 */
static void dew_margin(void **state)
{
	(void)state;
	double margin;
	assert_true(tc_weather_dew_margin(289.15, 0.71, 286.15, &margin));
	assert_near(margin, 2.25, 0.01);
	assert_true(margin < 3.0);
	/* 20 C, 60 %: dew point 12.0 C, so 15 C is just enough (WMO guide's constants, from memory) */
	assert_true(tc_weather_dew_margin(293.15, 0.60, 288.15, &margin));
	assert_near(margin, 3.0, 0.02);
	assert_false(tc_weather_dew_margin(293.15, 1.2, 288.15, &margin));
}

/*
 * FAA handbook: blushing threatens above 80 % humidity; acetone's film in 25 C dry air stands near -10 C at its wet
 * bulb, half-way about 7 C: below the dew point of 25 C and 80 %, above that of very dry air.
 */
static void blushing(void **state)
{
	(void)state;
	struct tc_solvent acetone = solvent_named(&solvents, "acetone");
	double d, bulb, margin, humidity;
	assert_true(tc_fuller_diffusivity(298.15, acetone.molar_mass, 66.86e-6, &d));
	assert_true(tc_wet_bulb(298.15, &acetone.antoine, acetone.vaporisation, d, 0.0, &bulb));
	double film = 0.5 * (298.15 + bulb);
	assert_true(tc_weather_blush_margin(298.15, 0.8, film, &margin));
	assert_true(margin < 0.0);
	assert_true(tc_weather_blush_margin(298.15, 0.2, film, &margin));
	assert_true(margin > 0.0);
	assert_true(tc_weather_blush_humidity(298.15, film, &humidity));
	assert_true(tc_weather_blush_margin(298.15, humidity, film, &margin));
	assert_near(margin, 0.0, 1e-6);
}

static void forming(void **state)
{
	(void)state;
	double margin;
	assert_true(tc_weather_forming_margin(281.15, 283.15, &margin));
	assert_near(margin, -2.0, 1e-12);
	assert_false(tc_weather_forming_margin((double)NAN, 283.15, &margin));
}

/* UFGS 09971: pot life halves for +10 C and doubles for -10 C from 21 C; 2 h for a polyurethane, 4 h for an epoxy. */
static void pot_life(void **state)
{
	(void)state;
	double life;
	assert_true(tc_pot_life(7200.0, 294.15, 2.0, 304.15, &life));
	assert_near(life, 3600.0, 1e-9);
	assert_true(tc_pot_life(14400.0, 294.15, 2.0, 284.15, &life));
	assert_near(life, 28800.0, 1e-9);
	assert_false(tc_pot_life(7200.0, 294.15, 0.5, 304.15, &life));
}

/* Worked by hand: a pass each quarter of an hour, a mix that lasts half an hour. */
static void mixes(void **state)
{
	(void)state;
	const double moment[] = {0, 900, 1800, 2700, 3600};
	size_t count;
	assert_true(tc_pot_mixes(moment, 5, 1800, 0, &count));
	assert_int_equal(count, 2);
	assert_true(tc_pot_mixes(moment, 5, 1799, 0, &count));
	assert_int_equal(count, 3);
	assert_true(tc_pot_mixes(moment, 5, 3600, 0, &count));
	assert_int_equal(count, 1);
	assert_true(tc_pot_mixes(moment, 5, 3600, 1800, &count));
	assert_int_equal(count, 2);
	assert_false(tc_pot_mixes((double[]){5, 1}, 2, 1800, 0, &count));
	assert_false(tc_pot_mixes(moment, 5, 1800, 1801, &count));
}

int main(void)
{
	table_read(&solvents, "tests/reference/science/solvents.tsv");
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(dew_margin),
		cmocka_unit_test(blushing),
		cmocka_unit_test(forming),
		cmocka_unit_test(pot_life),
		cmocka_unit_test(mixes),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
