/* When things happen, and at which temperature. Check values: own arithmetic on the kit's rulebook. */
#include "kit.h"

static void steps_follow_at_once(void **state)
{
	const tc_model *m = kit_stack(*state, "  - sand: P400\n"
	                                      "  - wait: 2 h\n"
	                                      "  - {wash: detergent, time: 10 min}\n"
	                                      "  - {sand: P400, takes: 30 min}\n"
	                                      "  - {wash: detergent, time: 10 min, takes: 25 min}\n"
	                                      "  - do: look\n");
	const double starts[] = {0, 0, 7200, 7800, 9600, 11100}, ends[] = {0, 7200, 7800, 9600, 11100, 11100};
	for (uint32_t i = 0; i < 6; i++) {
		assert_int_equal(m->step[i].number, i + 1);
		assert_near(m->step[i].start, starts[i]);
		assert_near(m->step[i].end, ends[i]);
	}
	assert_near(m->end, 11100);
}

static void passes_have_pauses_between_them(void **state)
{
	const tc_model *m = kit_stack(*state, "  - {coat: lacquer-primer, coats: 3, pass: light}\n"
	                                      "  - wait: 1 h\n"
	                                      "  - {coat: oil-enamel, coats: 3, pass: light, flash: [5 min, 20 min]}\n"
	                                      "  - wait: 1 h\n"
	                                      "  - {coat: lacquer-primer, coats: 2, pass: light, flash: 7 min}\n"
	                                      "  - wait: 1 h\n"
	                                      "  - {coat: lacquer-colour, pass: light}\n");
	const tc_part *part = &m->part[0];
	assert_int_equal(part->layers, 4);
	/* the family's 5 min, twice */
	assert_near(m->step[0].end, 600);
	assert_near(part->layer[0]->at[1], 300);
	assert_near(part->layer[0]->done, 600);
	assert_near(part->layer[0]->flash_least, 300);
	assert_true(part->layer[0]->flash_assumed);
	/* a list of pauses */
	assert_near(part->layer[1]->at[0], 4200);
	assert_near(part->layer[1]->at[1], 4500);
	assert_near(part->layer[1]->at[2], 5700);
	assert_near(part->layer[1]->flash_least, 300);
	assert_false(part->layer[1]->flash_assumed);
	assert_near(part->layer[2]->flash_least, 420);
	assert_true(isnan(part->layer[3]->flash_least));
	assert_near(part->layer[3]->begun, part->layer[3]->done);
}

/* 30 min of spraying in three passes, with pauses of 5 min: each pass is laid at the end of its own 10 min. */
static void spraying_may_take_time(void **state)
{
	const tc_model *m = kit_stack(*state, "  - {coat: lacquer-primer, coats: 3, pass: light, takes: 30 min}\n");
	const tc_layer *layer = m->part[0].layer[0];
	assert_near(layer->at[0], 600);
	assert_near(layer->at[1], 1500);
	assert_near(layer->at[2], 2400);
	assert_near(m->step[0].end, 2400);
}

static void unknown_pauses_take_no_time(void **state)
{
	const tc_model *m = kit_stack(*state, "  - {coat: etch, coats: 2, pass: light}\n");
	assert_near(m->end, 0);
	assert_true(isnan(m->part[0].layer[0]->flash_least));
	assert_true(m->part[0].layer[0]->flash_assumed);
}

static void waits_add_up_until_the_next_work(void **state)
{
	const tc_model *m = kit_model(*state, "parts: {hull: {substrate: brass}, house: {substrate: resin}}\n"
	                                      "stack:\n"
	                                      "  - {sand: P400, on: hull}\n"
	                                      "  - wait: 1 h\n"
	                                      "  - {sand: P400, on: house}\n"
	                                      "  - {wait: 2 h, on: house}\n"
	                                      "  - mix: clear-2k\n"
	                                      "  - sand: P3000\n");
	const tc_part *hull = &m->part[0], *house = &m->part[1];
	assert_int_equal(hull->steps, 4); /* sand, wait, mix, sand: the second wait names the other part */
	assert_int_equal(house->steps, 5);
	assert_near(hull->step[3].waited, 3 * 3600);
	assert_near(house->step[1].waited, 3600);
	assert_near(house->step[4].waited, 2 * 3600);
}

static void parts_keep_their_own_temperatures(void **state)
{
	const tc_model *m = kit_model(*state, "workshop: {temperature: 18 °C}\n"
	                                      "parts: {hull: {substrate: brass}, house: {substrate: resin}}\n"
	                                      "stack:\n"
	                                      "  - wait: 1 h\n"
	                                      "  - {wait: 2 h, at: 45 °C, on: hull}\n"
	                                      "  - {wait: 1 h, at: 45 °C, on: hull}\n"
	                                      "  - wait: 1 h\n");
	const tc_part *hull = &m->part[0], *house = &m->part[1];
	assert_int_equal(hull->stretches, 3);
	assert_near(hull->stretch[0].temperature, 291.15);
	assert_near(hull->stretch[0].from, 0);
	assert_near(hull->stretch[0].to, 3600);
	assert_near(hull->stretch[1].temperature, 318.15);
	assert_near(hull->stretch[1].to, 4 * 3600);
	assert_near(hull->stretch[2].to, 5 * 3600);
	assert_int_equal(house->stretches, 1);
	assert_near(house->stretch[0].to, 5 * 3600);
	assert_near(m->step[1].temperature, 318.15);
	assert_near(m->step[3].temperature, 291.15);
	assert_int_equal(m->temperature.state, TC_SAID);
	assert_int_equal(m->humidity.state, TC_ASSUMED);
	assert_near(m->humidity.number, 0.5);
}

static void coats_are_laid_at_their_temperature(void **state)
{
	const tc_model *m =
	    kit_stack(*state, "  - {coat: lacquer-primer, coats: 2, pass: light, at: 30 °C}\n  - wait: 1 h\n");
	assert_near(m->part[0].layer[0]->temperature, 303.15);
	assert_int_equal(m->part[0].stretches, 2); /* the flash, the wait */
	assert_near(m->part[0].stretch[0].temperature, 303.15);
	assert_near(m->part[0].stretch[0].to, 300);
	assert_near(m->part[0].stretch[1].temperature, 293.15);
	assert_int_equal(m->temperature.state, TC_ASSUMED);
	assert_near(m->temperature.number, 293.15);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(steps_follow_at_once),
	    cmocka_unit_test(passes_have_pauses_between_them),
	    cmocka_unit_test(spraying_may_take_time),
	    cmocka_unit_test(unknown_pauses_take_no_time),
	    cmocka_unit_test(waits_add_up_until_the_next_work),
	    cmocka_unit_test(parts_keep_their_own_temperatures),
	    cmocka_unit_test(coats_are_laid_at_their_temperature),
	};
	return cmocka_run_group_tests(tests, kit_setup, kit_teardown);
}
