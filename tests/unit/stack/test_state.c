/* How dry and how cured a layer is. Check values: own arithmetic. The law is degree = 1 - exp(-3 t/T), so after T it
 * is 1 - e^-3 = 95.02 %. The kit's lacquers take 1 h to dry through and 10 h to cure at 20 °C, twice as fast for 10 K
 * more. */
#include "kit.h"

static double dry(const kit *k, uint32_t l, double now)
{
	const tc_value v = tc_layer_through_dry(k->model, k->model->part[0].layer[l], now);
	assert_true(tc_known(v));
	assert_int_equal(v.type, TC_T_SHARE);
	return v.number;
}

static double cured(const kit *k, uint32_t l, double now)
{
	const tc_value v = tc_layer_cured(k->model, k->model->part[0].layer[l], now);
	assert_true(tc_known(v));
	return v.number;
}

static tc_value reaches(const kit *k, uint32_t l, double share, bool full)
{
	return tc_layer_reaches(k->model, k->model->part[0].layer[l], share, full);
}

static void ages_from_the_last_pass(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - wait: 1 h\n  - {coat: lacquer-primer, coats: 3, pass: light}\n  - wait: 1 h\n");
	const tc_layer *l = k->model->part[0].layer[0];
	assert_near(tc_layer_age(l, 0), 0);
	assert_near(dry(k, 0, 0), 0);
	assert_near(tc_layer_age(l, 3600), 0);
	assert_near(tc_layer_age(l, 3700), 100);
	assert_near(tc_layer_age(l, 3950), 50); /* the second pass came at 3900 s */
	assert_near(tc_layer_age(l, 7800), 3600);
}

static void dries_by_the_first_order_law(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, pass: light}\n  - wait: 1 h\n");
	assert_near(dry(k, 0, 0), 0);
	assert_near(dry(k, 0, 3600), 1 - exp(-3));
	assert_near(dry(k, 0, 7200), 1 - exp(-6)); /* past the end of the plan it goes on */
	assert_near(cured(k, 0, 3600), 1 - exp(-0.3));
	assert_near(dry(k, 0, 1e12), 1);
}

static void warmth_hurries_it(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, pass: light}\n  - {wait: 30 min, at: 40 °C}\n  - wait: 1 h\n");
	/* 20 K more: four times as fast; half an hour is worth two */
	assert_near(dry(k, 0, 1800), 1 - exp(-6));
	assert_near(dry(k, 0, 900), 1 - exp(-3));
	assert_near(cured(k, 0, 5400), 1 - exp(-0.9));
	/* the workshop itself */
	kit_model(k,
	    "on: brass\nworkshop: {temperature: 10 °C}\nstack: [{coat: lacquer-primer, pass: light}, {wait: 2 h}]\n");
	assert_near(dry(k, 0, 7200), 1 - exp(-3));
}

static void only_the_part_that_is_warmed_is(void **state)
{
	kit *k = *state;
	kit_model(k, "parts: {a: {substrate: brass}, b: {substrate: brass}}\n"
	             "stack: [{coat: lacquer-primer, pass: light}, {wait: 1 h, at: 30 °C, on: b}]\n");
	assert_near(dry(k, 0, 3600), 1 - exp(-3));
	assert_near(tc_layer_through_dry(k->model, k->model->part[1].layer[0], 3600).number, 1 - exp(-6));
}

/* A paint of the shelf at 20 °C and the given weather, an hour old. */
static double damp_dry(kit *k, const char *keys, const char *humidity, const char *wait)
{
	char text[512];
	snprintf(text, sizeof text,
	    "on: brass\nworkshop: {humidity: %s}\nshelf: {paint: {family: lacquer-primer, %s}}\n"
	    "stack: [{coat: paint, pass: light}, {wait: %s}]\n",
	    humidity, keys, wait);
	kit_model(k, text);
	return dry(k, 0, 3600);
}

static void damp_slows_or_hurries_it(void **state)
{
	kit *k = *state;
	/* what dries alone does not ask */
	assert_near(damp_dry(k, "cure_humidity: 50 %", "80 %", "1 h"), 1 - exp(-3));
	/* water must leave: (1 - 0.75) / (1 - 0.5) of the speed */
	assert_near(damp_dry(k, "cure: coalescence, cure_humidity: 50 %", "75 %", "1 h"), 1 - exp(-1.5));
	assert_near(damp_dry(k, "cure: coalescence, cure_humidity: 50 %", "100 %", "1 h"), 0);
	assert_int_equal(reaches(k, 0, 0.5, false).state, TC_ABSENT); /* never in such air */
	/* water must come: 0.25 / 0.5 */
	assert_near(damp_dry(k, "cure: moisture, cure_humidity: 50 %", "25 %", "1 h"), 1 - exp(-1.5));
	/* (1 - 0.4 * 0.75) / (1 - 0.4 * 0.5) */
	assert_near(damp_dry(k, "cure: oxidation, cure_humidity: 50 %, damp_slows: 40 %", "75 %", "1 h"), 1 - exp(-3 * 0.875));
	/* nobody says at what humidity its times hold: they hold */
	assert_near(damp_dry(k, "cure: coalescence", "75 %", "1 h"), 1 - exp(-3));
}

/* Air of 20 °C and 75 % at 40 °C: saturation 2333 Pa and 7379 Pa (Alduchov and Eskridge 1996), so 23.7 %. */
static void warmed_air_is_drier(void **state)
{
	kit *k = *state;
	const double speed = 4 * (1 - 0.2371) / 0.5;
	const double got = damp_dry(k, "cure: coalescence, cure_humidity: 50 %, through_dry_time: 10 h", "75 %", "1 h, at: 40 °C");
	assert_true(fabs(got - (1 - exp(-0.3 * speed))) < 1e-3);
}

static void reaches_is_the_inverse(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - wait: 7 min\n"
	             "  - {coat: oil-enamel, coats: 2, pass: light}\n"
	             "  - wait: 1 h\n"
	             "  - {wait: 2 h, at: 45 °C}\n"
	             "  - {wait: 3 h, at: 5 °C}\n"
	             "  - wait: 1 h\n");
	const tc_layer *l = k->model->part[0].layer[0];
	const double shares[] = {0.001, 0.1, 0.3, 0.5, 0.75, 0.9, 0.999};
	for (int full = 0; full < 2; full++)
		for (size_t i = 0; i < sizeof shares / sizeof *shares; i++) {
			const tc_value age = reaches(k, 0, shares[i], full);
			assert_true(tc_known(age));
			const double then = l->done + age.number;
			assert_near((full ? cured : dry)(k, 0, then), shares[i]);
		}
	assert_near(reaches(k, 0, 0, true).number, 0);
	assert_int_equal(reaches(k, 0, 1, true).state, TC_ABSENT);
}

static void light_cures_by_the_dose(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {fill: lamp-putty}\n"
	             "  - {cure: lamp, time: 15 s}\n"
	             "  - wait: 1 h\n"
	             "  - {cure: lamp, time: 30 s}\n"
	             "  - {coat: lamp-clear, pass: light}\n"
	             "  - wait: 1 min\n"
	             "  - cure: lamp\n");
	/* the putty wants 60 s, the clear 120 s; a lamp that says no time gives each its own */
	assert_near(cured(k, 0, 14), 0);
	assert_near(cured(k, 0, 15), 0.25);
	assert_near(cured(k, 0, 3645), 0.75);
	assert_near(dry(k, 0, 3644), 0.25);
	assert_near(cured(k, 1, 3704), 0);
	assert_near(cured(k, 1, 3705), 1);
	assert_near(cured(k, 0, 1e9), 1);
	assert_true(k->model->part[0].layer[0]->lamp_said);
	assert_false(k->model->part[0].layer[1]->lamp_said);
	assert_int_equal(k->model->part[0].layer[0]->lamps, 3);
	assert_near(reaches(k, 0, 0.5, true).number, 3645);
	assert_near(reaches(k, 0, 0.25, false).number, 15);
	assert_near(reaches(k, 1, 0.9, true).number, 60);
	kit_stack(k, "  - {fill: lamp-putty}\n  - {cure: lamp, time: 15 s}\n");
	assert_int_equal(reaches(k, 0, 0.5, true).state, TC_ABSENT);
	/* light means nothing to other layers */
	kit_stack(k, "  - {fill: putty}\n  - cure: lamp\n");
	assert_int_equal(k->model->part[0].layer[0]->lamps, 0);
}

static void a_coat_after_the_lamp_has_no_dose(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lamp-clear, pass: light}\n  - cure: lamp\n  - sand: P400\n  - {coat: lamp-clear, "
	             "pass: light}\n");
	assert_near(cured(k, 0, 0), 1);
	assert_near(cured(k, 1, 1e9), 0);
}

static void unknown_and_absent_times(void **state)
{
	kit *k = *state;
	kit_model(k, "on: brass\nshelf: {odd: {family: lacquer-colour, full_cure: none}}\n"
	             "stack: [{coat: mystery}, {coat: odd, pass: light}]\n");
	const tc_model *m = k->model;
	const tc_layer *mystery = m->part[0].layer[0], *odd = m->part[0].layer[1];
	assert_int_equal(tc_layer_cured(m, mystery, 60).state, TC_UNKNOWN);
	assert_int_equal(tc_layer_through_dry(m, mystery, 60).state, TC_UNKNOWN);
	assert_int_equal(tc_layer_reaches(m, mystery, 0.5, true).state, TC_UNKNOWN);
	assert_int_equal(tc_layer_cured(m, odd, 60).state, TC_ABSENT);
	assert_int_equal(tc_layer_reaches(m, odd, 0.5, true).state, TC_ABSENT);
	assert_int_equal(tc_layer_through_dry(m, odd, 60).state, TC_ASSUMED);
}

static void old_finishes_have_aged(void **state)
{
	kit *k = *state;
	kit_model(k,
	    "parts: {hull: {substrate: brass, finish: [{coat: oil-enamel, age: 100 h}, {coat: lacquer-primer}]}}\n"
	    "stack: [{wait: 1 h}]\n");
	assert_near(cured(k, 0, 0), 1 - exp(-3));
	assert_int_equal(tc_layer_cured(k->model, k->model->part[0].layer[1], 0).state, TC_UNKNOWN);
	assert_int_equal(reaches(k, 1, 0.5, true).state, TC_UNKNOWN);
	assert_near(reaches(k, 0, 0.5, true).number, log(2) * 100 * 3600 / 3);
}

static void said_and_assumed(void **state)
{
	kit *k = *state;
	const char *const recipe = "on: brass\n%sshelf: {black: {family: lacquer-colour, full_cure: 10 h%s}}\n"
	                           "stack: [{coat: black, pass: light}, {wait: 1 h}]\n";
	const struct {
		const char *shop, *figures;
		tc_state state;
	} all[] = {
	    {"", ", cure_at: 20 °C", TC_ASSUMED},                 /* the workshop's temperature is assumed */
	    {"workshop: {temperature: 20 °C}\n", "", TC_ASSUMED}, /* the family's cure_at is */
	    {"workshop: {temperature: 20 °C}\n", ", cure_at: 20 °C", TC_SAID},
	};
	for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
		char text[512];
		snprintf(text, sizeof text, recipe, all[i].shop, all[i].figures);
		kit_model(k, text);
		const tc_value v = tc_layer_cured(k->model, k->model->part[0].layer[0], 3600);
		assert_int_equal(v.state, all[i].state);
		assert_near(v.number, 1 - exp(-0.3));
	}
}

static void closed_is_a_matter_of_film(void **state)
{
	kit *k = *state;
	kit_stack(k,
	    "  - {coat: oil-enamel, pass: light}\n  - wait: 30 d\n  - sand: P3000\n  - sand: P3000\n  - sand: P3000\n");
	const tc_layer *l = k->model->part[0].layer[0];
	assert_int_equal(tc_layer_closed(l, 0).truth, TC_TRUE); /* 10 µm; it closes at 8 */
	assert_int_equal(tc_layer_closed(l, 0).state, TC_ASSUMED);
	assert_int_equal(tc_layer_closed(l, k->model->end).truth, TC_FALSE);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(ages_from_the_last_pass),
	    cmocka_unit_test(dries_by_the_first_order_law),
	    cmocka_unit_test(warmth_hurries_it),
	    cmocka_unit_test(only_the_part_that_is_warmed_is),
	    cmocka_unit_test(damp_slows_or_hurries_it),
	    cmocka_unit_test(warmed_air_is_drier),
	    cmocka_unit_test(reaches_is_the_inverse),
	    cmocka_unit_test(light_cures_by_the_dose),
	    cmocka_unit_test(a_coat_after_the_lamp_has_no_dose),
	    cmocka_unit_test(unknown_and_absent_times),
	    cmocka_unit_test(old_finishes_have_aged),
	    cmocka_unit_test(said_and_assumed),
	    cmocka_unit_test(closed_is_a_matter_of_film),
	};
	return cmocka_run_group_tests(tests, kit_setup, kit_teardown);
}
