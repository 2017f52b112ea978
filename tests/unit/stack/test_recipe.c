/* What the reader makes of recipes without a fault. Check values: own arithmetic. */
#include "kit.h"

static const char whole[] = "recipe: Pilot cutter\n"
                            "scale: 1:48\n"
                            "start: 2031-05-17 18:30\n"
                            "sessions: [sat 9:00 to 17:00]\n"
                            "remark: for the spring show\n"
                            "workshop:\n"
                            "  temperature: 70 °F\n"
                            "  humidity: 55 %\n"
                            "  air_speed: 0.4 m/s\n"
                            "  room: 32 m³\n"
                            "  extraction: 360 m³/h\n"
                            "  habits: {dust: yes, dry: no}\n"
                            "  by: airbrush\n"
                            "  currency: EUR\n"
                            "parts:\n"
                            "  hull:\n"
                            "    substrate: resin\n"
                            "    size: 20 × 10 × 5 cm\n"
                            "    thickness: 3 mm\n"
                            "    lines: {width: 0.3 mm, depth: 0.25 mm}\n"
                            "    areas: {bottom: 40 %, side: 10 %}\n"
                            "    stressed: yes\n"
                            "    lit: no\n"
                            "    finish: [{coat: coating, age: 10 y}, {coat: oil-enamel}]\n"
                            "    tested: {wipe: Lacquer Thinner, result: softens}\n"
                            "  house: {substrate: polystyrene, area: 120 cm²}\n"
                            "shelf:\n"
                            "  black: {family: lacquer-colour, solids: 12 %, bleeds: yes}\n"
                            "  spare: {family: oil-enamel}\n"
                            "stack:\n"
                            "  - wash: detergent\n"
                            "    time: 10 min\n"
                            "    on: hull\n"
                            "  - coat: black\n"
                            "    on: hull/bottom\n"
                            "    role: colour\n"
                            "    effect: metallic\n"
                            "    sheen: matt\n"
                            "    shade: dark\n"
                            "    by: brush\n"
                            "    passes: [mist, medium, wet]\n"
                            "    flash: [5 min, 10 min]\n"
                            "    thin: {with: propanone, ratio: 2:1}\n"
                            "    nozzle: 0.3 mm\n"
                            "    wet_film: 18 µm\n"
                            "    at: 25 °C\n"
                            "    takes: 30 min\n"
                            "    intends: crackle\n"
                            "    because: as in the old photographs\n"
                            "  - wait: 2 d\n"
                            "  - mix: clear-2k\n"
                            "    ratio: 4:1:1\n"
                            "    thin: 25 %\n"
                            "  - coat: clear-2k\n"
                            "    coats: 2\n"
                            "    pass: wet\n"
                            "    flash: 12 min\n"
                            "    mix: 2:1\n"
                            "    on: [house, hull/side]\n"
                            "  - decal: water-slide\n"
                            "    softener: decal-softener\n"
                            "  - polish: compound\n"
                            "    grade: P3000\n"
                            "    wet: yes\n"
                            "  - do: photograph it\n"
                            "accept:\n"
                            "  - rule: too-smooth-to-key\n"
                            "    on: hull\n"
                            "    step: 5\n"
                            "    because: test panel held\n"
                            "  - defect: lifting\n"
                            "    because: known\n";

static kit *read_whole(void **state)
{
	kit *k = *state;
	kit_read_as(k, whole, false);
	kit_show(k->diags);
	assert_int_equal(k->status, TC_OK);
	return k;
}

static void reads_the_top_and_the_workshop(void **state)
{
	const tc_recipe *r = read_whole(state)->recipe;
	assert_string_equal(r->title, "Pilot cutter");
	assert_near(r->scale, 48);
	assert_near(r->shop.temperature.number, 294.2611111111111); /* (70 °F + 459.67) · 5/9 */
	assert_near(r->shop.humidity.number, 0.55);
	assert_near(r->shop.air_speed.number, 0.4);
	assert_near(r->shop.room.number, 32);
	assert_near(r->shop.extraction.number, 0.1);
	assert_true(r->shop.dusts);
	assert_false(r->shop.dries);
	assert_int_equal((uint64_t)1 << r->shop.method, kit_word(*state, "method", "airbrush"));
	assert_int_equal(r->shop.place.line, 7); /* of what is behind the key */
}

static void a_workshop_that_is_not_said_is_absent(void **state)
{
	kit *k = *state;
	kit_read(k, "on: brass\nstack: [{wait: 1 h}]\n");
	assert_int_equal(k->status, TC_OK);
	assert_null(k->recipe->title);
	assert_near(k->recipe->scale, 0);
	assert_int_equal(k->recipe->shop.temperature.state, TC_ABSENT);
	assert_int_equal(k->recipe->shop.humidity.state, TC_ABSENT);
	assert_int_equal(k->recipe->shop.method, TC_NONE);
	assert_int_equal(k->recipe->parts, 1);
	assert_string_equal(k->recipe->part[0].name, "brass");
	assert_int_equal(k->recipe->part[0].area.state, TC_UNKNOWN);
	assert_int_equal(k->recipe->part[0].line_width.state, TC_ABSENT);
	assert_int_equal(k->recipe->part[0].lit.state, TC_UNKNOWN);
}

static void reads_parts_and_areas(void **state)
{
	const tc_recipe *r = read_whole(state)->recipe;
	const char *const names[] = {"hull", "hull/bottom", "hull/side", "house"};
	const uint32_t wholes[] = {0, 0, 0, 3};
	const double shares[] = {0.5, 0.4, 0.1, 1};
	/* a box of 20 × 10 × 5 cm has 2 (200 + 50 + 100) cm² */
	const double areas[] = {350e-4, 280e-4, 70e-4, 120e-4};
	assert_int_equal(r->parts, 4);
	for (uint32_t i = 0; i < 4; i++) {
		assert_string_equal(r->part[i].name, names[i]);
		assert_int_equal(r->part[i].whole, wholes[i]);
		assert_near(r->part[i].share, shares[i]);
		assert_near(r->part[i].area.number, areas[i]);
		assert_int_equal(r->part[i].area_estimated, i < 3);
	}
	for (uint32_t i = 0; i < 3; i++) {
		const tc_written_part *p = &r->part[i];
		assert_string_equal(p->substrate->label, "cast resin");
		assert_near(p->line_width.number, 0.3e-3);
		assert_near(p->line_depth.number, 0.25e-3);
		assert_near(p->thickness.number, 3e-3);
		assert_int_equal(p->stressed.truth, TC_TRUE);
		assert_int_equal(p->lit.state, TC_SAID);
		assert_int_equal(p->lit.truth, TC_FALSE);
		assert_int_equal(p->outdoors.state, TC_UNKNOWN);
		assert_int_equal(p->finishes, 2);
		assert_true(p->finish[0].coat->family->is_kind);
		assert_near(p->finish[0].age.number, 10 * 365.25 * 86400);
		assert_int_equal(p->finish[1].age.state, TC_UNKNOWN);
		assert_string_equal(p->wiped_with, "lacquer thinner");
		assert_int_equal(p->wipe_result, 0); /* the first word of `rub` in the kit */
	}
}

static void reads_the_shelf(void **state)
{
	const tc_recipe *r = read_whole(state)->recipe;
	const tc_product *black = r->product[0], *spare = r->product[1];
	assert_string_equal(black->label, "black");
	assert_string_equal(black->family->id, "lacquer-colour");
	assert_true(black->on_shelf && black->used);
	assert_true(spare->on_shelf && !spare->used);
	for (uint32_t i = 0; i < r->products; i++)
		assert_int_equal(r->product[i]->index, i);
	/* the label's own figure is said, its family's are assumed */
	const tc_value own = tc_product_value(black, TC_P_SOLIDS), family = tc_product_value(spare, TC_P_SOLIDS);
	assert_int_equal(own.state, TC_SAID);
	assert_near(own.number, 0.12);
	assert_int_equal(family.state, TC_ASSUMED);
	assert_near(family.number, 0.5);
	assert_int_equal(tc_product_value(black, TC_P_BLEEDS).truth, TC_TRUE);
	assert_int_equal(tc_product_value(spare, TC_P_BLEEDS).state, TC_ASSUMED);
	/* what a family is does not vary; what means nothing for paint is absent; what nobody says is unknown */
	assert_int_equal(tc_product_value(black, TC_P_CURE).state, TC_SAID);
	assert_int_equal(tc_product_value(black, TC_P_NEEDS).state, TC_ABSENT);
	assert_int_equal(tc_product_value(black, TC_P_POT_LIFE).state, TC_ABSENT); /* `none` at its kind */
	assert_int_equal(tc_product_value(black, TC_P_DELTA_D).state, TC_UNKNOWN);
	assert_null(tc_product_figure(black, TC_P_DELTA_D));
	assert_non_null(tc_product_figure(black, TC_P_FLASH));
}

static void plain_materials_are_said(void **state)
{
	const tc_recipe *r = read_whole(state)->recipe;
	const tc_value touch = tc_product_value(r->step[0].with, TC_P_TOUCH_TIME);
	assert_int_equal(touch.state, TC_SAID);
	assert_near(touch.number, 300);
	assert_int_equal(tc_product_value(r->part[0].substrate, TC_P_NEEDS).state, TC_SAID);
}

static void reads_a_wash_and_a_coat(void **state)
{
	kit *k = read_whole(state);
	const tc_written_step *wash = &k->recipe->step[0], *coat = &k->recipe->step[1];
	assert_int_equal(wash->number, 1);
	assert_int_equal(wash->verb, TC_VERB_WASH);
	assert_string_equal(wash->with->label, "detergent");
	assert_near(wash->time.number, 600);
	assert_int_equal(wash->parts, 7); /* the hull and both its areas */
	assert_false(wash->on_area);
	assert_int_equal(wash->place.line, 31);
	assert_int_equal(wash->place.column, 5);

	assert_int_equal(coat->parts, 2);
	assert_int_equal(coat->areas, 2);
	assert_true(coat->on_area);
	assert_int_equal((uint64_t)1 << coat->role, kit_word(k, "role", "colour"));
	assert_int_equal((uint64_t)1 << coat->effect, kit_word(k, "effect", "metallic"));
	assert_int_equal((uint64_t)1 << coat->sheen, kit_word(k, "sheen", "matt"));
	assert_int_equal((uint64_t)1 << coat->shade, kit_word(k, "shade", "dark"));
	assert_int_equal((uint64_t)1 << coat->method, kit_word(k, "method", "brush"));
	assert_int_equal(coat->coats, 3);
	assert_int_equal(coat->passes, 3);
	assert_int_equal(coat->pass[0], TC_PASS_MIST);
	assert_int_equal(coat->pass[1], TC_PASS_MEDIUM);
	assert_int_equal(coat->pass[2], TC_PASS_WET);
	assert_int_equal(coat->flashes, 2);
	assert_near(coat->flash[0], 300);
	assert_near(coat->flash[1], 600);
	assert_true(coat->thin.said);
	assert_string_equal(coat->thin.with->label, "acetone");
	assert_near(coat->thin.share, 0.5); /* 2 of paint, 1 of thinner */
	assert_near(coat->nozzle.number, 0.3e-3);
	assert_near(coat->wet_film.number, 18e-6);
	assert_near(coat->at.number, 298.15);
	assert_near(coat->takes.number, 1800);
	assert_true(coat->on_purpose);
	assert_string_equal(tc_library_defect(k->library, coat->intends, &(const char *){NULL}), "crackle");
}

static void reads_the_other_steps(void **state)
{
	const tc_recipe *r = read_whole(state)->recipe;
	assert_int_equal(r->steps, 8);
	assert_int_equal(r->step[2].verb, TC_VERB_WAIT);
	assert_near(r->step[2].wait.number, 2 * 86400.0);
	assert_int_equal(r->step[2].parts, 15);
	assert_int_equal(r->step[3].verb, TC_VERB_MIX);
	assert_int_equal(r->step[3].mix.count, 3);
	assert_near(r->step[3].mix.terms[0], 4);
	assert_string_equal(r->step[3].mix.text, "4:1:1");
	assert_near(r->step[3].thin.share, 0.25);
	assert_null(r->step[3].thin.with);
	const tc_written_step *clear = &r->step[4];
	assert_int_equal(clear->coats, 2);
	assert_int_equal(clear->passes, 0);
	assert_int_equal(clear->pass[0], TC_PASS_WET);
	assert_int_equal(clear->flashes, 1);
	assert_int_equal(clear->mix.count, 2);
	assert_int_equal(clear->parts, 12);
	assert_int_equal(clear->areas, 4);
	assert_ptr_equal(clear->with, r->step[3].with);
	assert_string_equal(r->step[5].softener->label, "decal softener");
	assert_string_equal(r->step[6].grade->label, "P3000");
	assert_true(r->step[6].wet);
	assert_string_equal(r->step[7].text, "photograph it");
}

static void reads_acceptances(void **state)
{
	const tc_recipe *r = read_whole(state)->recipe;
	assert_int_equal(r->accepts, 2);
	assert_int_equal(r->accept[0].rule, 7);
	assert_int_equal(r->accept[0].defect, TC_NONE);
	assert_string_equal(r->accept[0].name, "too-smooth-to-key");
	assert_int_equal(r->accept[0].parts, 7);
	assert_int_equal(r->accept[0].step, 5);
	assert_string_equal(r->accept[0].because, "test panel held");
	assert_int_equal(r->accept[1].rule, TC_NONE);
	assert_int_not_equal(r->accept[1].defect, TC_NONE);
	assert_int_equal(r->accept[1].parts, UINT64_MAX);
	assert_int_equal(r->accept[1].step, 0);
}

static void an_unsaid_step_says_nothing(void **state)
{
	kit *k = *state;
	kit_read(k, "on: brass\nstack: [{coat: lacquer-primer}]\n");
	assert_int_equal(k->status, TC_OK);
	const tc_written_step *s = &k->recipe->step[0];
	assert_int_equal(s->coats, 0);
	assert_int_equal(s->pass[0], TC_PASS_UNSAID);
	assert_int_equal(s->flashes, 0);
	assert_int_equal(s->role, TC_NONE);
	assert_int_equal(s->intends, TC_NONE);
	assert_int_equal(s->wet_film.state, TC_ABSENT);
	assert_int_equal(s->at.state, TC_ABSENT);
	assert_false(s->thin.said);
	assert_int_equal(s->parts, 1);
}

/* --- names ------------------------------------------------------------------------------------------------------- */

static void a_label_stands_before_the_library(void **state)
{
	kit *k = *state;
	kit_read(k, "on: brass\nshelf: {putty: {family: oil-enamel}}\nstack: [{coat: putty}]\n");
	assert_int_equal(k->status, TC_OK);
	assert_string_equal(k->recipe->step[0].with->family->id, "oil-enamel");
	kit_refuses(k, "on: brass\nshelf: {putty: {family: oil-enamel}}\nstack: [{fill: putty}]\n",
	    "r.yaml:3:16: error: `putty` on the shelf is `oil-enamel`, none of the fillers or adhesives, which `fill` "
	    "takes "
	    "[wrong-material]\n");
}

static void one_entry_is_one_product(void **state)
{
	kit *k = *state;
	kit_read(k, "on: brass\nstack: [{coat: lacquer-primer}, {coat: Surfacer}, {coat: lacquer primer}]\n");
	assert_int_equal(k->status, TC_OK);
	assert_ptr_equal(k->recipe->step[0].with, k->recipe->step[1].with);
	assert_ptr_equal(k->recipe->step[0].with, k->recipe->step[2].with);
	assert_int_equal(k->recipe->products, 2);
}

static void near_labels_are_offered(void **state)
{
	kit *k = *state;
	kit_refuses(k, "on: brass\nshelf: {grey primer: {family: lacquer-primer}}\nstack: [{coat: gray primer}]\n",
	    "r.yaml:3:16: error: no `gray primer` among the coatings or agents, nor on the shelf; `grey primer` is "
	    "near "
	    "[unknown-name]\n");
}

static void a_bare_verb_is_the_entry_of_that_name(void **state)
{
	kit *k = *state;
	kit_read(k, "on: brass\nstack: [{dust: yes}, {mask: yes}, {unmask: yes}, {cure: yes}]\n");
	assert_int_equal(k->status, TC_OK);
	assert_string_equal(k->recipe->step[0].with->family->id, "dust");
	assert_null(k->recipe->step[1].with);
}

/* --- the shelf in a file ----------------------------------------------------------------------------------------- */

static void a_shelf_may_stand_in_a_file(void **state)
{
	kit *k = *state;
	const char *const files[] = {"grey primer: {family: lacquer-primer}\n",
	    "shelf:\n  grey primer: {family: lacquer-primer}\nremark: mine\n"};
	k->shelf_name = "mine.yaml";
	for (size_t i = 0; i < 2; i++) {
		k->shelf_bytes = files[i];
		kit_read(k, "on: brass\nshelf: mine.yaml\nstack: [{coat: grey primer}]\n");
		assert_int_equal(k->status, TC_OK);
		assert_string_equal(k->recipe->step[0].with->label, "grey primer");
		assert_string_equal(k->recipe->step[0].with->place.file, "mine.yaml");
	}
	k->shelf_name = NULL;
}

static void faults_of_a_shelf_bear_its_name(void **state)
{
	kit *k = *state;
	const char *const recipe = "on: brass\nshelf: mine.yaml\nstack: [{wait: 5}]\n";
	const char *const unit = "r.yaml:3:16: error: `5` has no unit; write `5 min` [no-unit]\n";
	static const char *const files[][2] = {
	    {"grey primer: {family: lacquer-primr}\n",
	        "mine.yaml:1:23: error: no `lacquer-primr` among the solvents, blends, substrates, coatings, fillers, "
	        "adhesives, "
	        "decals, agents or abrasives; `lacquer-primer` is near [unknown-name]\n"},
	    {"shelf: other.yaml\n",
	        "mine.yaml:1:8: error: the shelf of this file stands in another one; name that in the recipe "
	        "[wrong-shape]\n"},
	    {"shelf: {}\nsehlf: {}\n",
	        "mine.yaml:2:1: error: no key `sehlf` in a file of a shelf; `shelf` is near [unknown-key]\n"},
	};
	k->shelf_name = "mine.yaml";
	for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
		char all[512];
		k->shelf_bytes = files[i][0];
		snprintf(all, sizeof all, "%s%s", files[i][1], unit);
		kit_refuses(k, recipe, all);
	}
	k->shelf_bytes = "";
	kit_refuses(k, "on: brass\nshelf: mine.yaml\nstack: [{wait: 5 min}]\n",
	    "r.yaml:2:8: error: `mine.yaml` is empty; it should hold labels with their families [shelf-file]\n");
	k->shelf_name = NULL;
}

static void a_shelf_file_is_named_beside_the_recipe(void **state)
{
	kit *k = *state;
	k->name = "plans/harbour/ferry.yaml";
	k->shelf_name = "../mine.yaml";
	k->shelf_bytes = "grey primer: {family: lacquer-primer, flash: 5}\n";
	kit_refuses(k, "on: brass\nshelf: ../mine.yaml\nstack: [{wait: 1 h}]\n",
	    "plans/harbour/../mine.yaml:1:46: error: `5` is a bare number and `flash` a time; write `5 min` [dimensions]\n");
	k->shelf_bytes = "grey primer: {\n";
	kit_read(k, "on: brass\nshelf: ../mine.yaml\nstack: [{wait: 1 h}]\n");
	assert_int_equal(k->status, TC_BAD);
	assert_string_equal(tc_diags_at(k->diags, 0)->place.file, "plans/harbour/../mine.yaml");
	assert_string_equal(tc_diags_at(k->diags, 0)->id, "yaml-syntax");
	k->name = k->shelf_name = NULL;
}

static void without_a_way_to_files_a_named_shelf_is_refused(void **state)
{
	kit *k = *state;
	kit_read(k, "on: brass\nstack: [{wait: 1 h}]\n");
	tc_source *source;
	const tc_document *documents;
	size_t count;
	const char *const text = "on: brass\nshelf: mine.yaml\nstack: [{wait: 1 h}]\n";
	const tc_recipe *recipe;
	assert_int_equal(tc_source_new(k->arena, "r.yaml", text, strlen(text), k->diags, &source), TC_OK);
	assert_int_equal(tc_yaml_read(k->arena, source, k->diags, &documents, &count), TC_OK);
	assert_int_equal(tc_recipe_read(k->arena, k->library, k->finder, NULL, NULL, source, documents[0].root, true,
			     k->diags, &recipe),
	    TC_BAD);
	assert_string_equal(tc_diags_at(k->diags, 0)->message,
	    "the shelf `mine.yaml` cannot be read: files beside a recipe are not read here");
}

static void remarks_may_stand_everywhere(void **state)
{
	kit *k = *state;
	kit_read(k, "remark: a\nworkshop: {remark: b}\nshelf: {c: {family: putty, remark: c}}\n"
		    "parts: {d: {substrate: brass, remark: d, finish: {coat: coating, remark: e}}}\n"
		    "stack: [{wait: 1 h, remark: f}]\naccept: [{defect: lifting, because: g, remark: h}]\n");
	assert_int_equal(k->status, TC_OK);
	assert_int_equal(k->recipe->part[0].finishes, 1); /* a single finish needs no list */
}

static void blanks_round_a_text_do_not_matter(void **state)
{
	kit *k = *state;
	kit_read(k, "on: ' brass '\nstack: [{coat: \" lacquer-primer\"}]\n");
	assert_int_equal(k->status, TC_OK);
	assert_string_equal(k->recipe->step[0].with->family->id, "lacquer-primer");
	kit_refuses_as(k, "recipe: '  '\non: brass\nstack: [{wait: 1 h}]\n", false,
	    "r.yaml:1:9: error: `recipe` is empty; write a text, such as `Pilot cutter, harbour service` [wrong-shape]\n");
}

/* --- what is a recipe -------------------------------------------------------------------------------------------- */

static void a_recipe_has_the_key_recipe(void **state)
{
	kit *k = *state;
	const struct {
		const char *text;
		bool is;
	} all[] = {{"recipe: x\n", true}, {"recipes: x\n", false}, {"[recipe]\n", false}, {"recipe\n", false},
	    {"a: {recipe: x}\n", false}};
	for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
		tc_source *source;
		const tc_document *documents;
		size_t count;
		tc_arena_reset(k->arena);
		k->diags = tc_diags_new(k->arena);
		assert_int_equal(
		    tc_source_new(k->arena, "r.yaml", all[i].text, strlen(all[i].text), k->diags, &source), TC_OK);
		assert_int_equal(tc_yaml_read(k->arena, source, k->diags, &documents, &count), TC_OK);
		assert_int_equal(tc_is_recipe(&documents[0]), all[i].is);
	}
	assert_false(tc_is_recipe(&(tc_document){.root = NULL}));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(reads_the_top_and_the_workshop),
	    cmocka_unit_test(a_workshop_that_is_not_said_is_absent),
	    cmocka_unit_test(reads_parts_and_areas),
	    cmocka_unit_test(reads_the_shelf),
	    cmocka_unit_test(plain_materials_are_said),
	    cmocka_unit_test(reads_a_wash_and_a_coat),
	    cmocka_unit_test(reads_the_other_steps),
	    cmocka_unit_test(reads_acceptances),
	    cmocka_unit_test(an_unsaid_step_says_nothing),
	    cmocka_unit_test(a_label_stands_before_the_library),
	    cmocka_unit_test(one_entry_is_one_product),
	    cmocka_unit_test(near_labels_are_offered),
	    cmocka_unit_test(a_bare_verb_is_the_entry_of_that_name),
	    cmocka_unit_test(a_shelf_may_stand_in_a_file),
	    cmocka_unit_test(faults_of_a_shelf_bear_its_name),
	    cmocka_unit_test(a_shelf_file_is_named_beside_the_recipe),
	    cmocka_unit_test(without_a_way_to_files_a_named_shelf_is_refused),
	    cmocka_unit_test(remarks_may_stand_everywhere),
	    cmocka_unit_test(blanks_round_a_text_do_not_matter),
	    cmocka_unit_test(a_recipe_has_the_key_recipe),
	};
	return cmocka_run_group_tests(tests, kit_setup, kit_teardown);
}
