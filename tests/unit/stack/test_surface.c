/* What is exposed after each kind of work, and what meets what. Check values: own arithmetic on the kit's rulebook: a
 * light pass of lacquer primer leaves 10 µm · 20 % = 2 µm and closes at 3 µm, of oil enamel 20 µm · 50 % = 10 µm; P400
 * takes off 10 µm, P3000 1 µm, compound 2 µm. */
#include "kit.h"

#define END(k, expected) assert_string_equal(kit_surface((k)->model->part[0].end), (expected))
#define MET(k, i, expected) assert_string_equal(kit_contacts(&(k)->model->part[0].step[i]), (expected))
#define BEFORE(k, i, expected) assert_string_equal(kit_surface((k)->model->part[0].step[i].before), (expected))

/* The exposed material of that label at the end, on the first part. */
static const tc_exposed *at_end(const kit *k, const char *label)
{
	const tc_surface end = k->model->part[0].end;
	for (uint32_t i = 0; i < end.count; i++)
		if (strcmp(end.at[i].product->label, label) == 0)
			return &end.at[i];
	fail_msg("%s is not exposed", label);
	return NULL;
}

/* --- covering ---------------------------------------------------------------------------------------------------- */

static void a_closed_coat_is_all_that_is_exposed(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, coats: 2, pass: light}\n");
	BEFORE(k, 0, "polystyrene");
	MET(k, 0, "polystyrene");
	END(k, "lacquer primer");
	assert_true(at_end(k, "lacquer primer")->whole);
}

static void a_mist_coat_leaves_open_what_it_lies_on(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, pass: mist}\n  - wait: 1 h\n  - {coat: oil-enamel, pass: light}\n");
	BEFORE(k, 2, "polystyrene, lacquer primer");
	MET(k, 2, "polystyrene, lacquer primer");
	END(k, "oil enamel");
}

static void a_coat_of_unknown_film_covers(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - coat: mystery\n  - wait: 1 h\n  - {coat: etch, pass: light}\n");
	MET(k, 2, "mystery paint, polystyrene through nan µm of mystery paint");
	END(k, "etching primer");
	assert_false(kit_near(k->model->part[0].step[2].contact[1].film_between, 0));
}

/* Two mist coats of 0.4 µm in one layer with three wet ones of 8 µm: that closes it. */
static void a_layer_closes_when_its_passes_do(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, passes: [mist, mist]}\n  - wait: 5 min\n  - {coat: lacquer-primer, "
	             "coats: 3, pass: wet}\n");
	assert_int_equal(k->model->part[0].layers, 1);
	BEFORE(k, 1, "polystyrene, lacquer primer");
	END(k, "lacquer primer");
}

/* --- spots ------------------------------------------------------------------------------------------------------- */

static void a_spot_of_filler_is_exposed_beside(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, coats: 2, pass: light}\n"
	             "  - wait: 3 h\n"
	             "  - fill: putty\n"
	             "  - wait: 1 d\n"
	             "  - {coat: oil-enamel, pass: light}\n");
	MET(k, 2, "lacquer primer, polystyrene through 4.0 µm of lacquer primer");
	MET(k, 4, "lacquer primer, putty, polystyrene through 4.0 µm of lacquer primer");
	END(k, "oil enamel");
	assert_false(k->model->part[0].step[4].before.at[1].whole);
	assert_true(k->model->part[0].layer[0]->covered);
	assert_true(k->model->part[0].layer[1]->covered);
	assert_false(k->model->part[0].layer[2]->covered);
}

static void filler_feathers_beside_its_surroundings(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - fill: putty\n  - wait: 1 d\n  - sand: P400\n");
	END(k, "polystyrene, putty!");
	assert_true(at_end(k, "putty")->abraded);
	assert_near(at_end(k, "putty")->scratch_grain, 35e-6);
	assert_near(tc_layer_film(k->model->part[0].layer[0], k->model->end).number, 190e-6); /* 200 µm less 10 */
	assert_near(tc_layer_film(k->model->part[0].layer[0], 0).number, 200e-6);
}

static void glue_and_decals_are_spots(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - glue: glue-drops\n  - {decal: water-slide, softener: decal-softener, time: 3 min}\n");
	END(k, "polystyrene, glue drops!, water-slide decal!");
	const tc_part_step *step = &k->model->part[0].step[1];
	MET(k, 1, "polystyrene, glue drops");
	/* the softener wets the decal too, and under it what it lies on, which is exposed already */
	assert_int_equal(step->touches, 3);
	assert_string_equal(step->touch[2].under->product->label, "water-slide decal");
	assert_true(step->touch[2].direct);
	assert_near(step->touch[0].liquid->stays, 180);
	assert_false(step->touch[0].liquid->stays_assumed);
}

/* --- sanding ----------------------------------------------------------------------------------------------------- */

static void sanding_goes_through_a_thin_film(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - wash: detergent\n"
	             "  - wait: 2 h\n"
	             "  - {coat: lacquer-primer, coats: 2, pass: light}\n"
	             "  - wait: 3 h\n"
	             "  - sand: P400\n"
	             "  - {coat: oil-enamel, pass: light}\n");
	BEFORE(k, 5, "polystyrene!, lacquer primer");
	MET(k, 5, "polystyrene, lacquer primer");
	const tc_exposed *bare = &k->model->part[0].step[5].before.at[0];
	/* as it was when it was covered: washed and dried; and sanded now */
	assert_int_equal(
	    bare->done, kit_word(k, "need", "wash") | kit_word(k, "need", "dry") | kit_word(k, "need", "abrade"));
	assert_int_equal(bare->soil, kit_word(k, "soil", "dust"));
	assert_true(bare->abraded);
	assert_near(tc_layer_film(k->model->part[0].layer[0], k->model->end).number, 0);
}

static void fine_paper_leaves_the_film_whole(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, coats: 2, pass: light}\n  - wait: 3 h\n  - sand: P3000\n");
	END(k, "lacquer primer");
	assert_near(tc_layer_film(k->model->part[0].layer[0], k->model->end).number, 3e-6);
	assert_int_equal(k->model->part[0].layer[0]->cuts, 1);
	assert_int_equal(k->model->part[0].layer[0]->cut[0].step, 3);
}

/* 10 µm of enamel under a cut of exactly 10 µm: not thinner than the cut. */
static void a_film_as_thick_as_the_cut_holds(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: oil-enamel, pass: light}\n  - wait: 7 d\n  - sand: P400\n  - sand: P3000\n");
	BEFORE(k, 3, "oil enamel");
	END(k, "polystyrene!, oil enamel");
}

static void papers_follow_one_another(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - sand: P400\n  - sand: P3000\n");
	const tc_exposed *e = at_end(k, "polystyrene");
	assert_near(e->scratch_grain, 6e-6);
	assert_near(e->before_grain, 35e-6);
	assert_true(e->abraded);
	/* what an earlier step saw has not changed */
	assert_true(isnan(k->model->part[0].step[0].before.at[0].scratch_grain));
	assert_near(k->model->part[0].step[1].before.at[0].scratch_grain, 35e-6);
	assert_true(isnan(k->model->part[0].step[1].before.at[0].before_grain));
}

static void a_new_coat_is_smooth_and_clean(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - sand: P400\n  - {coat: oil-enamel, pass: light}\n");
	const tc_exposed *e = at_end(k, "oil enamel");
	assert_true(isnan(e->scratch_grain));
	assert_false(e->abraded);
	assert_int_equal(e->soil, 0);
	assert_true(e->soil_known);
	assert_int_equal(e->done, 0);
}

/* --- soil and needs ---------------------------------------------------------------------------------------------- */

static void soils_come_and_go(void **state)
{
	kit *k = *state;
	kit_model(k, "on: resin\nstack:\n"
	             "  - wash: detergent\n"
	             "  - wait: 59 min\n"
	             "  - wait: 1 min\n"
	             "  - sand: P400\n"
	             "  - dust: yes\n"
	             "  - {sand: P400, wet: yes}\n"
	             "  - {polish: compound}\n");
	const char *const soils[] = {"release-agent", "moisture", "moisture", NULL, "dust", NULL, NULL};
	const tc_part *part = &k->model->part[0];
	for (uint32_t i = 0; i < 7; i++)
		assert_int_equal(part->step[i].before.at[0].soil, soils[i] ? kit_word(k, "soil", soils[i]) : 0);
	assert_int_equal(part->end.at[0].soil, kit_word(k, "soil", "wax"));
	assert_int_equal(part->end.at[0].done,
	    kit_word(k, "need", "wash") | kit_word(k, "need", "dry") | kit_word(k, "need", "abrade"));
}

static void unknown_soil_stays_unknown(void **state)
{
	kit *k = *state;
	kit_model(k, "on: brass\nstack: [{wash: detergent}]\n"); /* the kit does not say what brass carries */
	assert_false(at_end(k, "brass")->soil_known);
	kit_stack(k, "  - coat: mystery\n");
	assert_false(at_end(k, "mystery paint")->soil_known);
}

static void habits_are_done_though_no_step_says_so(void **state)
{
	kit *k = *state;
	kit_model(k, "on: polystyrene\nworkshop: {habits: {dust: yes, dry: yes}}\nstack:\n"
	             "  - wash: detergent\n"
	             "  - sand: P400\n"
	             "  - {coat: oil-enamel, pass: light}\n");
	assert_int_equal(k->model->part[0].step[1].before.at[0].soil, kit_word(k, "soil", "moisture"));
	assert_int_equal(k->model->part[0].step[2].before.at[0].soil, 0);
	kit_stack(k, "  - wash: detergent\n  - sand: P400\n  - {coat: oil-enamel, pass: light}\n");
	assert_int_equal(k->model->part[0].step[2].contact[0].under->soil,
	    kit_word(k, "soil", "moisture") | kit_word(k, "soil", "dust"));
}

static void the_lamp_meets_needs_of_a_print(void **state)
{
	kit *k = *state;
	kit_model(k, "on: print\nstack: [{cure: lamp}]\n");
	assert_int_equal(at_end(k, "print")->soil, 0);
	assert_int_equal(at_end(k, "print")->done, kit_word(k, "need", "postcure"));
}

static void an_etching_coat_prepares(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: etch, pass: light}\n");
	assert_int_equal(at_end(k, "etching primer")->done, kit_word(k, "need", "etch"));
}

/* --- liquids ----------------------------------------------------------------------------------------------------- */

static void a_liquid_wets_all_that_is_exposed(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, coats: 2, pass: light}\n  - wait: 1 h\n  - fill: putty\n  - wipe: "
	             "lacquer-thinner\n");
	const tc_part_step *step = &k->model->part[0].step[3];
	assert_int_equal(step->touches, 3);
	assert_string_equal(step->touch[0].under->product->label, "lacquer primer");
	assert_string_equal(step->touch[1].under->product->label, "putty");
	assert_string_equal(step->touch[2].under->product->label, "polystyrene");
	assert_true(step->touch[0].direct && step->touch[1].direct && !step->touch[2].direct);
	assert_near(step->touch[2].film_between, 4e-6);
	assert_near(step->touch[0].liquid->stays, 10);
	assert_true(step->touch[0].liquid->stays_assumed);
	assert_ptr_equal(step->touch[0].liquid->step, step->step);
	assert_int_equal(step->contacts, 0);
}

static void polish_is_a_liquid_and_takes_film(void **state)
{
	kit *k = *state;
	kit_stack(
	    k, "  - {coat: oil-enamel, coats: 2, pass: light}\n  - wait: 30 d\n  - {polish: compound, grade: P3000}\n");
	assert_int_equal(k->model->part[0].step[2].touches, 2);
	/* 20 µm less 1 µm of P3000 and 2 µm of compound */
	assert_near(tc_layer_film(k->model->part[0].layer[0], k->model->end).number, 17e-6);
	assert_near(at_end(k, "oil enamel")->scratch_grain, 2e-6);
	assert_false(at_end(k, "oil enamel")->abraded);
}

static void stripping_bares_the_part(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - fill: putty\n"
	             "  - wait: 1 d\n"
	             "  - {coat: lacquer-primer, coats: 2, pass: light}\n"
	             "  - wait: 1 d\n"
	             "  - decal: water-slide\n"
	             "  - {strip: paint-stripper, time: 1 h}\n"
	             "  - wait: 2 h\n"
	             "  - {coat: oil-enamel, pass: light}\n");
	BEFORE(k, 6, "polystyrene, putty!");
	MET(k, 7, "polystyrene, putty");
	const tc_layer *primer = k->model->part[0].layer[1];
	assert_near(tc_layer_film(primer, k->model->end).number, 0);
	assert_near(tc_layer_film(primer, k->model->step[4].start).number, 4e-6);
	assert_int_equal(tc_layer_film(primer, k->model->end).state, TC_SAID);
}

/* --- through ----------------------------------------------------------------------------------------------------- */

static void a_way_through_open_films_goes_down(void **state)
{
	kit *k = *state;
	/* 4 µm closed primer; enamel sanded from 10 µm to 1 µm, then 0.9999…: it is open again, and so is the primer
	 * at 1 µm */
	kit_stack(k, "  - {coat: lacquer-primer, coats: 2, pass: light}\n"
	             "  - wait: 1 d\n"
	             "  - {sand: P3000}\n"
	             "  - {sand: P3000}\n"
	             "  - {coat: oil-enamel, pass: light}\n"
	             "  - wait: 30 d\n"
	             "  - {polish: compound}\n"
	             "  - {polish: compound}\n"
	             "  - {coat: lacquer-colour, pass: wet}\n");
	/* enamel 10 - 4 = 6 µm, closes at 8 µm; primer 4 - 2 = 2 µm, closes at 3 µm: the colour reaches the
	 * polystyrene */
	MET(k, 8, "oil enamel, lacquer primer through 6.0 µm of oil enamel, polystyrene through 8.0 µm of oil enamel");
}

static void a_way_that_joins_another_counts_once(void **state)
{
	kit *k = *state;
	/* 0.4 µm of mist on 4 µm of primer, then 10 µm of enamel over both, polished down to 6 µm: open again */
	kit_stack(k, "  - {coat: lacquer-primer, coats: 2, pass: light}\n"
		     "  - wait: 1 d\n"
		     "  - {coat: lacquer-colour, pass: mist}\n"
		     "  - wait: 1 d\n"
		     "  - {coat: oil-enamel, pass: light}\n"
		     "  - wait: 30 d\n"
		     "  - {polish: compound}\n"
		     "  - {polish: compound}\n"
		     "  - {coat: lacquer-colour, pass: wet}\n");
	MET(k, 8, "oil enamel, lacquer primer through 6.0 µm of oil enamel, "
		  "lacquer colour through 6.0 µm of oil enamel");
}

static void closed_films_are_passed_once_only(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, coats: 2, pass: light}\n"
	             "  - wait: 1 d\n"
	             "  - {coat: oil-enamel, pass: light}\n"
	             "  - wait: 1 d\n"
	             "  - {coat: lacquer-colour, pass: wet}\n");
	MET(k, 4, "oil enamel, lacquer primer through 10.0 µm of oil enamel");
}

static void of_two_ways_the_thinner_counts(void **state)
{
	kit *k = *state;
	/* both spots of decal lie on the enamel, which is exposed: it is met directly and not again through a decal */
	kit_stack(k, "  - {coat: oil-enamel, pass: light}\n"
	             "  - wait: 1 d\n"
	             "  - decal: water-slide\n"
	             "  - decal: water-slide\n"
	             "  - {coat: lacquer-colour, pass: wet}\n");
	MET(k, 4, "oil enamel, water-slide decal, water-slide decal, polystyrene through 10.0 µm of oil enamel");
}

/* --- tape -------------------------------------------------------------------------------------------------------- */

static void a_masked_area_is_left_alone(void **state)
{
	kit *k = *state;
	kit_model(k, "parts: {hull: {substrate: polystyrene, areas: {bottom: 45 %}}}\n"
	             "stack:\n"
	             "  - {coat: lacquer-primer, coats: 2, pass: light}\n"
	             "  - wait: 1 d\n"
	             "  - mask: hull/bottom\n"
	             "  - {coat: oil-enamel, pass: light, on: hull}\n"
	             "  - wait: 2 h\n"
	             "  - unmask: hull/bottom\n"
	             "  - {coat: lacquer-colour, pass: wet, coats: 2}\n");
	const tc_part *top = &k->model->part[0], *bottom = &k->model->part[1];
	assert_int_equal(top->steps, 5);
	assert_int_equal(bottom->steps, 6);
	assert_int_equal(top->layers, 3);
	assert_int_equal(bottom->layers, 2);
	assert_string_equal(kit_surface(bottom->step[4].before), "lacquer primer");
	assert_near(bottom->step[3].before.at[0].taped, 0);
	assert_near(bottom->step[4].before.at[0].taped, 2 * 3600);
	assert_true(isnan(bottom->step[2].before.at[0].taped));
	assert_string_equal(
	    kit_contacts(&bottom->step[5]), "lacquer primer, polystyrene through 4.0 µm of lacquer primer");
	assert_string_equal(kit_contacts(&top->step[4]), "oil enamel, lacquer primer through 10.0 µm of oil enamel");
}

static void without_areas_old_and_new_show_after_unmasking(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - {coat: lacquer-primer, coats: 2, pass: light}\n"
	             "  - wait: 1 d\n"
	             "  - mask: tape\n"
	             "  - {coat: oil-enamel, pass: light}\n"
	             "  - wait: 1 d\n"
	             "  - unmask: yes\n"
	             "  - {coat: lacquer-colour, pass: wet}\n");
	BEFORE(k, 3, "lacquer primer");
	MET(k, 3, "lacquer primer, polystyrene through 4.0 µm of lacquer primer");
	BEFORE(k, 5, "lacquer primer, oil enamel");
	assert_near(k->model->part[0].step[5].before.at[0].taped, 86400);
	assert_true(isnan(k->model->part[0].step[5].before.at[1].taped));
	MET(k, 6, "lacquer primer, oil enamel, polystyrene through 4.0 µm of lacquer primer");
	assert_string_equal(k->recipe->step[2].with->label, "tape");
}

static void a_masked_part_is_passed_over_unless_it_is_named(void **state)
{
	kit *k = *state;
	kit_model(k, "parts: {hull: {substrate: polystyrene}, rail: {substrate: brass}}\n"
	             "stack:\n"
	             "  - mask: rail\n"
	             "  - {coat: oil-enamel, pass: light}\n"
	             "  - {coat: lacquer-primer, pass: wet, on: rail}\n"
	             "  - unmask: rail\n"
	             "  - sand: P400\n");
	assert_int_equal(k->recipe->step[1].parts, 1);
	assert_int_equal(k->recipe->step[2].parts, 2);
	assert_int_equal(k->recipe->step[4].parts, 3);
	assert_string_equal(kit_surface(k->model->part[1].end), "brass, lacquer primer");
	/* the only part there is is not passed over: something of it is taped */
	kit_model(k, "parts: {hull: {substrate: polystyrene}}\nstack:\n  - mask: hull\n  - {coat: oil-enamel, pass: "
	             "light}\n  - unmask: hull\n");
	END(k, "polystyrene, oil enamel");
}

static void unmasking_what_is_not_masked_does_nothing(void **state)
{
	kit *k = *state;
	kit_stack(k, "  - unmask: yes\n  - mask: windows\n  - mask: yes\n  - unmask: yes\n");
	END(k, "polystyrene");
	assert_string_equal(k->recipe->step[1].text, "windows");
	assert_near(at_end(k, "polystyrene")->taped, 0);
}

/* --- old finishes ------------------------------------------------------------------------------------------------ */

static void an_old_finish_is_what_one_starts_on(void **state)
{
	kit *k = *state;
	kit_model(k, "parts: {hull: {substrate: brass, finish: [{coat: coating}, {coat: oil-enamel, age: 10 y}]}}\n"
	             "stack: [{sand: P400}, {coat: lacquer-primer, coats: 2, pass: light}]\n");
	const tc_part *part = &k->model->part[0];
	BEFORE(k, 0, "oil enamel");
	BEFORE(k, 1, "oil enamel"); /* nobody knows how thick it is: paper is not taken to go through */
	MET(k, 1, "oil enamel, coating through nan µm of oil enamel");
	assert_int_equal(part->layers, 3);
	assert_true(part->layer[0]->old && part->layer[0]->covered);
	assert_null(part->layer[0]->step);
	assert_true(isnan(tc_layer_age(part->layer[0], 0)));
	assert_near(tc_layer_age(part->layer[1], 0), 10 * 365.25 * 86400);
	assert_int_equal(tc_layer_film(part->layer[1], 0).state, TC_UNKNOWN);
	assert_near(part->stretch[0].from, -10 * 365.25 * 86400);
	assert_int_equal(part->step[1].layers_before, 2);
}

/* --- truths and lines -------------------------------------------------------------------------------------------- */

static void what_nobody_says_of_a_part(void **state)
{
	kit *k = *state;
	kit_model(k, "parts: {a: {substrate: resin}, b: {substrate: brass}, c: {substrate: resin, stressed: no, lit: "
	             "yes}, d: {substrate: print}}\n"
	             "stack: [{wait: 1 h}]\n");
	const tc_part *p = k->model->part;
	assert_int_equal(p[0].stressed.state, TC_ASSUMED);
	assert_int_equal(p[0].stressed.truth, TC_TRUE);
	assert_int_equal(p[1].stressed.state, TC_UNKNOWN);
	assert_int_equal(p[2].stressed.state, TC_SAID);
	assert_int_equal(p[2].stressed.truth, TC_FALSE);
	assert_int_equal(p[3].stressed.truth, TC_FALSE); /* `none` */
	assert_int_equal(p[2].lit.truth, TC_TRUE);
	for (int i = 0; i < 2; i++) {
		assert_int_equal(p[i].lit.state, TC_SAID);
		assert_int_equal(p[i].lit.truth, TC_FALSE);
		assert_int_equal(p[i].handled.truth, TC_FALSE);
		assert_int_equal(p[i].outdoors.truth, TC_FALSE);
		assert_int_equal(p[i].flexible.truth, TC_FALSE);
	}
}

static void paint_closes_lines(void **state)
{
	kit *k = *state;
	const char *const recipe = "parts: {hull: {substrate: polystyrene, lines: {width: 0.3 mm, depth: 0.25 mm}}}\n"
	                           "stack:\n"
	                           "  - {coat: oil-enamel, coats: 2, pass: wet}\n%s"
	                           "  - wait: 60 d\n"
	                           "  - fill: putty\n"
	                           "  - {coat: lacquer-primer, coats: 2, pass: light}\n";
	char text[512];
	snprintf(text, sizeof text, recipe, "");
	kit_model(k, text);
	/* 2 · 50 µm · 50 % and 4 µm make 54 µm: 300 - 2 · 54, and 250 + 54 - 54 · 1.5 */
	assert_near(k->model->part[0].width_left.number, 192e-6);
	assert_near(k->model->part[0].depth_left.number, 223e-6);
	assert_int_equal(k->model->part[0].width_left.state, TC_ASSUMED);
	snprintf(text, sizeof text, recipe, "  - wait: 60 d\n  - scribe: {width: 0.35 mm}\n");
	kit_model(k, text);
	assert_near(k->model->part[0].line_width.number, 350e-6);
	assert_near(k->model->part[0].width_left.number, 342e-6);
	assert_near(k->model->part[0].depth_left.number, 248e-6);
	assert_int_equal(k->model->part[0].line_from, 1);
	/* without lines there is nothing to leave; over an unknown film nobody can tell */
	kit_stack(k, "  - {coat: oil-enamel, pass: wet}\n");
	assert_int_equal(k->model->part[0].width_left.state, TC_ABSENT);
	kit_stack(k, "  - scribe: {depth: 0.3 mm}\n  - coat: mystery\n");
	assert_int_equal(k->model->part[0].depth_left.state, TC_UNKNOWN);
	assert_int_equal(k->model->part[0].width_left.state, TC_ABSENT);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(a_closed_coat_is_all_that_is_exposed),
	    cmocka_unit_test(a_mist_coat_leaves_open_what_it_lies_on),
	    cmocka_unit_test(a_coat_of_unknown_film_covers),
	    cmocka_unit_test(a_layer_closes_when_its_passes_do),
	    cmocka_unit_test(a_spot_of_filler_is_exposed_beside),
	    cmocka_unit_test(filler_feathers_beside_its_surroundings),
	    cmocka_unit_test(glue_and_decals_are_spots),
	    cmocka_unit_test(sanding_goes_through_a_thin_film),
	    cmocka_unit_test(fine_paper_leaves_the_film_whole),
	    cmocka_unit_test(a_film_as_thick_as_the_cut_holds),
	    cmocka_unit_test(papers_follow_one_another),
	    cmocka_unit_test(a_new_coat_is_smooth_and_clean),
	    cmocka_unit_test(soils_come_and_go),
	    cmocka_unit_test(unknown_soil_stays_unknown),
	    cmocka_unit_test(habits_are_done_though_no_step_says_so),
	    cmocka_unit_test(the_lamp_meets_needs_of_a_print),
	    cmocka_unit_test(an_etching_coat_prepares),
	    cmocka_unit_test(a_liquid_wets_all_that_is_exposed),
	    cmocka_unit_test(polish_is_a_liquid_and_takes_film),
	    cmocka_unit_test(stripping_bares_the_part),
	    cmocka_unit_test(a_way_through_open_films_goes_down),
	    cmocka_unit_test(a_way_that_joins_another_counts_once),
	    cmocka_unit_test(closed_films_are_passed_once_only),
	    cmocka_unit_test(of_two_ways_the_thinner_counts),
	    cmocka_unit_test(a_masked_area_is_left_alone),
	    cmocka_unit_test(without_areas_old_and_new_show_after_unmasking),
	    cmocka_unit_test(a_masked_part_is_passed_over_unless_it_is_named),
	    cmocka_unit_test(unmasking_what_is_not_masked_does_nothing),
	    cmocka_unit_test(an_old_finish_is_what_one_starts_on),
	    cmocka_unit_test(what_nobody_says_of_a_part),
	    cmocka_unit_test(paint_closes_lines),
	};
	return cmocka_run_group_tests(tests, kit_setup, kit_teardown);
}
