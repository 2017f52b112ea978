/* Layers: films, passes, several steps in one, cups. Check values: own arithmetic on the kit's rulebook. */
#include "kit.h"

static const tc_layer *layer(const kit *k, uint32_t index)
{
	assert_true(index < k->model->part[0].layers);
	return k->model->part[0].layer[index];
}

/* --- films ------------------------------------------------------------------------------------------------------- */

static void dry_film_is_wet_film_by_solids(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, passes: [mist, light, medium, wet]}\n");
	/* (2 + 10 + 20 + 40) µm · 20 % */
	assert_near(layer(k, 0)->film.number, 14.4e-6);
	assert_int_equal(layer(k, 0)->film.state, TC_ASSUMED);
	assert_near(layer(k, 0)->wet[3], 40e-6);
	assert_int_equal(layer(k, 0)->pass[3], TC_PASS_WET);
	assert_true(layer(k, 0)->wet_assumed);
	assert_false(layer(k, 0)->pass_assumed);
	assert_int_equal(k->model->unsaid_passes, 0);
}

static void thinner_takes_from_the_solids(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, pass: wet, thin: {with: lacquer-thinner, ratio: 2:3}}\n");
	/* 20 % in 1 + 1.5 parts are 8 %; of 40 µm 3.2 µm */
	assert_near(layer(k, 0)->solids.number, 0.08);
	assert_near(layer(k, 0)->film.number, 3.2e-6);
	assert_true(layer(k, 0)->thin.said);
}

static void what_is_measured_is_said(void **state)
{
	kit *k = *state;
	kit_model(k,
	    "on: brass\nshelf: {black: {family: lacquer-colour, solids: 12 %, film_wet: 30 µm}}\n"
	    "stack: [{coat: black, coats: 2, wet_film: 20 µm}, {wait: 1 d}, {coat: black, role: clear, pass: wet}]\n");
	assert_near(layer(k, 0)->film.number, 4.8e-6);
	assert_int_equal(layer(k, 0)->film.state, TC_SAID);
	assert_int_equal(layer(k, 0)->pass[0], TC_PASS_UNSAID);
	assert_false(layer(k, 0)->pass_assumed);
	assert_near(layer(k, 1)->film.number, 3.6e-6);
	assert_int_equal(layer(k, 1)->film.state, TC_SAID);
	assert_false(layer(k, 1)->wet_assumed);
	assert_int_equal(k->model->unsaid_passes, 0);
}

static void an_unsaid_pass_is_asked_for(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - coat: lacquer-primer\n  - wait: 1 d\n  - {coat: lacquer-colour, role: colour, coats: 2}\n");
	assert_int_equal(k->model->unsaid_passes, 2);
	assert_true(layer(k, 0)->pass_assumed);
	assert_int_equal(layer(k, 0)->pass[0], TC_PASS_LIGHT);
	assert_near(layer(k, 0)->film.number, 2e-6);
	const tc_model *heavier = tc_model_build(k->arena, k->recipe, k->library, TC_PASS_MEDIUM);
	assert_non_null(heavier);
	assert_int_equal(heavier->part[0].layer[0]->pass[0], TC_PASS_MEDIUM);
	assert_near(heavier->part[0].layer[0]->film.number, 4e-6);
	assert_int_equal(heavier->part[0].layer[1]->pass[1], TC_PASS_MEDIUM);
}

static void an_unknown_film_stays_unknown(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: mystery, pass: wet}\n");
	assert_int_equal(layer(k, 0)->film.state, TC_UNKNOWN);
	assert_true(isnan(layer(k, 0)->wet[0]));
	assert_int_equal(tc_layer_film(layer(k, 0), 0).state, TC_UNKNOWN);
	assert_int_equal(tc_layer_closed(layer(k, 0), 0).state, TC_UNKNOWN);
	kit_stack(k, "  - {coat: etch, pass: light}\n"); /* closes_at: none */
	assert_int_equal(tc_layer_closed(layer(k, 0), 0).state, TC_ABSENT);
}

static void spots_are_as_deep_as_the_step_says(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {fill: putty, depth: 0.4 mm}\n  - glue: glue-drops\n  - decal: water-slide\n");
	assert_near(layer(k, 0)->film.number, 400e-6);
	assert_int_equal(layer(k, 0)->film.state, TC_SAID);
	assert_near(layer(k, 1)->film.number, 50e-6);
	assert_int_equal(layer(k, 1)->film.state, TC_ASSUMED);
	assert_near(layer(k, 2)->film.number, 10e-6);
	for (uint32_t i = 0; i < 3; i++) {
		assert_true(layer(k, i)->spot);
		assert_int_equal(layer(k, i)->role, TC_NONE);
		assert_int_equal(layer(k, i)->coats, 1);
		assert_int_equal(tc_layer_closed(layer(k, i), 0).state, TC_ABSENT);
	}
}

/* --- words ------------------------------------------------------------------------------------------------------- */

static void words_come_from_the_step_else_from_the_product(void **state)
{
	kit *k = *state;
	kit_model(k,
	    "on: brass\nworkshop: {by: brush}\nshelf: {red: {family: lacquer-colour, effect: metallic, shade: dark}}\n"
	    "stack:\n"
	    "  - {coat: red, pass: light}\n"
	    "  - wait: 1 d\n"
	    "  - {coat: red, role: clear, effect: solid, sheen: matt, by: airbrush, pass: light, nozzle: 0.2 mm}\n"
	    "  - wait: 1 d\n"
	    "  - {coat: lacquer-primer, pass: light}\n");
	const tc_layer *first = layer(k, 0), *second = layer(k, 1), *third = layer(k, 2);
	assert_int_equal((uint64_t)1 << first->effect, kit_word(k, "effect", "metallic"));
	assert_int_equal((uint64_t)1 << first->sheen, kit_word(k, "sheen", "gloss"));
	assert_int_equal((uint64_t)1 << first->shade, kit_word(k, "shade", "dark"));
	assert_int_equal((uint64_t)1 << first->method, kit_word(k, "method", "brush"));
	assert_int_equal(first->role, TC_NONE); /* its family serves as two things */
	assert_true(isnan(first->nozzle));
	assert_int_equal((uint64_t)1 << second->effect, kit_word(k, "effect", "solid"));
	assert_int_equal((uint64_t)1 << second->sheen, kit_word(k, "sheen", "matt"));
	assert_int_equal((uint64_t)1 << second->method, kit_word(k, "method", "airbrush"));
	assert_int_equal((uint64_t)1 << second->role, kit_word(k, "role", "clear"));
	assert_near(second->nozzle, 0.2e-3);
	assert_int_equal((uint64_t)1 << third->role, kit_word(k, "role", "primer")); /* the one thing it serves as */
	assert_int_equal(third->effect, TC_NONE);
}

/* --- several steps, one layer ------------------------------------------------------------------------------------ */

static void steps_within_the_flash_are_one_layer(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, passes: [mist]}\n"
	             "  - wait: 3 min\n"
	             "  - {coat: lacquer-primer, coats: 2, pass: wet}\n");
	assert_int_equal(k->model->part[0].layers, 1);
	const tc_layer *l = layer(k, 0);
	assert_int_equal(l->coats, 3);
	assert_near(l->at[1], 180);
	assert_near(l->at[2], 480);
	assert_near(l->done, 480);
	assert_near(l->flash_least, 180);
	assert_near(l->film.number, 16.4e-6); /* (2 + 40 + 40) µm · 20 % */
	assert_int_equal(l->step->number, 1);
	assert_int_equal(l->last_step->number, 3);
	const tc_part_step *later = &k->model->part[0].step[2];
	assert_ptr_equal(later->layer, l);
	assert_int_equal(later->contacts, 0);
	assert_int_equal(later->layers_before, 1);
	assert_int_equal(k->model->part[0].step[0].contacts, 1);
}

static void later_steps_are_a_layer_of_their_own(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, pass: wet}\n  - wait: 6 min\n  - {coat: lacquer-primer, pass: wet}\n");
	assert_int_equal(k->model->part[0].layers, 2);
	assert_int_equal(k->model->part[0].step[2].contacts, 2);
	/* a shorter pause within the later step is the shortest of all */
	kit_stack(k, "  - {coat: lacquer-primer, pass: wet}\n  - wait: 5 min\n"
		     "  - {coat: lacquer-primer, pass: wet, coats: 2, flash: 2 min}\n");
	assert_int_equal(k->model->part[0].layers, 1);
	assert_near(layer(k, 0)->flash_least, 120);
	/* the step's own flash stretches it */
	kit_stack(k, "  - {coat: lacquer-primer, pass: wet}\n  - wait: 6 min\n  - {coat: lacquer-primer, pass: wet, "
	             "coats: 2, flash: 6 min}\n");
	assert_int_equal(k->model->part[0].layers, 1);
}

/* An enamel may be gone on with in its early window, 2 h, and not in the closed middle. */
static void the_early_window_counts(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: oil-enamel, pass: light}\n  - wait: 2 h\n  - {coat: oil-enamel, pass: light}\n");
	assert_int_equal(k->model->part[0].layers, 1);
	kit_stack(k, "  - {coat: oil-enamel, pass: light}\n  - wait: 3 h\n  - {coat: oil-enamel, pass: light}\n");
	assert_int_equal(k->model->part[0].layers, 2);
}

static void what_parts_two_layers(void **state)
{
	kit *k = *state;
	const char *const between[] = {
	    "  - sand: P3000\n",
	    "  - {coat: lacquer-primer, pass: light}\n",
	    "  - wipe: lacquer-thinner\n",
	    "  - mix: lacquer-colour\n",
	};
	for (size_t i = 0; i < sizeof between / sizeof *between; i++) {
		char text[512];
		snprintf(text, sizeof text,
		    "  - {coat: lacquer-colour, role: colour, pass: light}\n%s  - {coat: lacquer-colour, role: colour, "
		    "pass: light}\n",
		    between[i]);
		kit_stack(k, text);
		assert_int_equal(k->model->part[0].layers, i == 1 ? 3 : 2);
	}
	kit_stack(k, "  - {coat: lacquer-colour, role: colour, pass: light}\n  - {coat: lacquer-colour, role: clear, "
	             "pass: light}\n");
	assert_int_equal(k->model->part[0].layers, 2);
	kit_stack(k, "  - {coat: lacquer-colour, role: colour, pass: light}\n"
	             "  - mix: clear-2k\n"
	             "  - {coat: lacquer-colour, role: colour, effect: metallic, pass: light}\n");
	assert_int_equal(k->model->part[0].layers, 2);
	/* what leaves the part alone does not part them */
	kit_stack(k, "  - {coat: lacquer-colour, role: colour, pass: light}\n"
	             "  - mix: clear-2k\n"
	             "  - {coat: lacquer-colour, role: colour, pass: light}\n");
	assert_int_equal(k->model->part[0].layers, 1);
}

static void parts_have_layers_of_their_own(void **state)
{
	kit *k = *state;
	kit_model(k,
	    "parts: {a: {substrate: brass}, b: {substrate: resin}}\n"
	    "stack: [{coat: oil-enamel, pass: light}, {sand: P3000, on: b}, {coat: oil-enamel, pass: light}]\n");
	assert_int_equal(k->model->part[0].layers, 1);
	assert_int_equal(k->model->part[1].layers, 2);
	assert_int_equal(k->model->part[0].layer[0]->batch, k->model->part[1].layer[1]->batch);
	assert_ptr_equal(k->model->part[1].layer[1]->part, &k->model->part[1]);
	assert_int_equal(k->model->part[1].layer[1]->order, 2);
}

static void of_two_thinnings_the_stronger_stands_for_the_layer(void **state)
{
	kit *k = *state;
	kit_stack(k,
	    "  - {coat: lacquer-primer, pass: wet, thin: 25 %}\n  - {coat: lacquer-primer, pass: wet, thin: 100 %}\n"
	    "  - {coat: lacquer-primer, pass: wet, thin: 60 %}\n");
	assert_int_equal(k->model->part[0].layers, 1);
	assert_near(layer(k, 0)->thin.share, 1);
	assert_near(layer(k, 0)->solids.number, 0.1);
	assert_near(layer(k, 0)->film.number, 15.4e-6); /* 40 µm · (16 + 10 + 12.5) % */
}

/* --- cups -------------------------------------------------------------------------------------------------------- */

static void one_evening_is_one_cup(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: clear-2k, pass: light}\n"
	             "  - wait: 3 h\n"
	             "  - {coat: clear-2k, pass: light}\n"
	             "  - wait: 12 h\n"
	             "  - {coat: clear-2k, pass: light}\n"
	             "  - wait: 12.5 h\n"
	             "  - {coat: clear-2k, pass: light}\n");
	assert_int_equal(layer(k, 0)->batch, 1);
	assert_int_equal(layer(k, 1)->batch, 1);
	assert_int_equal(layer(k, 2)->batch, 1);
	assert_near(layer(k, 1)->mixed_at, 0); /* three hours old: past its pot life, and a rule may say so */
	assert_int_equal(layer(k, 3)->batch, 2);
	assert_near(layer(k, 3)->mixed_at, 27.5 * 3600);
}

static void a_mix_step_starts_a_cup(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {mix: clear-2k, ratio: 3:1, thin: 10 %, time: 15 min}\n"
	             "  - {coat: clear-2k, pass: light}\n"
	             "  - wait: 1 h\n"
	             "  - mix: clear-2k\n"
	             "  - {coat: clear-2k, pass: light, mix: 2:1}\n");
	assert_near(layer(k, 0)->mixed_at, 0);
	assert_near(layer(k, 0)->begun, 900);
	assert_int_equal(layer(k, 0)->mix.count, 2);
	assert_near(layer(k, 0)->mix.terms[0], 3);
	assert_near(layer(k, 0)->thin.share, 0.1);
	assert_near(layer(k, 1)->mixed_at, 4500);
	assert_near(layer(k, 1)->mix.terms[0], 2);
	assert_false(layer(k, 1)->thin.said);
	assert_int_equal(layer(k, 1)->batch, 2);
}

static void what_is_not_mixed_has_no_age_in_the_cup(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, pass: light}\n  - {coat: lacquer-colour, pass: light}\n  - decal: "
	             "water-slide\n");
	assert_true(isnan(layer(k, 0)->mixed_at));
	assert_int_equal(layer(k, 0)->batch, 1);
	assert_int_equal(layer(k, 1)->batch, 2);
	assert_int_equal(layer(k, 2)->batch, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(dry_film_is_wet_film_by_solids),
	    cmocka_unit_test(thinner_takes_from_the_solids),
	    cmocka_unit_test(what_is_measured_is_said),
	    cmocka_unit_test(an_unsaid_pass_is_asked_for),
	    cmocka_unit_test(an_unknown_film_stays_unknown),
	    cmocka_unit_test(spots_are_as_deep_as_the_step_says),
	    cmocka_unit_test(words_come_from_the_step_else_from_the_product),
	    cmocka_unit_test(steps_within_the_flash_are_one_layer),
	    cmocka_unit_test(later_steps_are_a_layer_of_their_own),
	    cmocka_unit_test(the_early_window_counts),
	    cmocka_unit_test(what_parts_two_layers),
	    cmocka_unit_test(parts_have_layers_of_their_own),
	    cmocka_unit_test(of_two_thinnings_the_stronger_stands_for_the_layer),
	    cmocka_unit_test(one_evening_is_one_cup),
	    cmocka_unit_test(a_mix_step_starts_a_cup),
	    cmocka_unit_test(what_is_not_mixed_has_no_age_in_the_cup),
	};
	return cmocka_run_group_tests(tests, kit_setup, kit_teardown);
}
