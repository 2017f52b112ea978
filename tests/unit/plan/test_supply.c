/* Cups and purchases. Where no source is named the figures were worked by hand from the kit's round ones. */
#include "stuff.h"

#include <math.h>

#include "../heap.h"
#include "science/potlife.h"

#define ML 1e-6

/* --- one cup ------------------------------------------------------------------------------------------------------------ */

/* 100 cm² × 40 µm × 3 = 1.2 ml on the part; half of what is sprayed lands: 2.4 ml, and 1 ml stays in the cup: 3.4 ml. */
static void one_cup(void **state)
{
	const tc_supply *s = stuff_supply(*state, "parts: {hull: {substrate: styrene, area: 100 cm²}}\n"
	                                          "workshop: {by: jet}\n"
	                                          "stack: [{coat: quick-paint, coats: 3, pass: light}]\n");
	assert_int_equal(s->cups, 1);
	const tc_cupful *cup = &s->cup[0];
	assert_close(cup->lands, 1.2 * ML, 1e-12);
	assert_close(cup->ready, 3.4 * ML, 1e-12);
	assert_close(cup->lost, 2.2 * ML, 1e-12);
	assert_close(cup->left, 1 * ML, 1e-12);
	assert_close(cup->transfer, 0.5, 1e-12);
	assert_true(cup->transfer_assumed);
	assert_true(cup->film_assumed); /* a light pass of the family */
	assert_int_equal(cup->passes, 3);
	assert_int_equal(cup->parts, 1);
	assert_int_equal(cup->pours, 1);
	assert_string_equal(cup->pour[0].name, "quick paint");
	assert_close(cup->pour[0].volume, 3.4 * ML, 1e-12);
	assert_null(cup->because);
	assert_true(isinf(cup->lives_until));
	assert_int_equal(s->layings, 3);
	for (uint32_t i = 0; i < 3; i++) {
		assert_close(s->laying[i].uses, 0.8 * ML, 1e-12);
		assert_close(s->laying[i].takes, 60, 1e-9); /* a pass of the kit takes a minute */
		assert_true(s->laying[i].sprayed);
	}
	assert_close(s->waste, (2.2 + 5) * ML, 1e-12);
}

/* 2:1 and 10 % of thinner is 2 : 1 : 0.3, base, hardener, thinner (the example of science/quantities.h). 33 cm² × 40 µm ×
 * 1 / 0.5 + 1 ml = 1.264 ml. */
static void ratio_and_thinner(void **state)
{
	const tc_supply *s =
	    stuff_supply(*state, "parts: {hull: {substrate: styrene, area: 33 cm²}}\nworkshop: {by: jet}\n"
	                         "stack: [{coat: gloss-2k, pass: light, thin: {with: reducer, add: 10 %}}]\n");
	const tc_cupful *cup = &s->cup[0];
	assert_int_equal(cup->pours, 3);
	assert_int_equal(cup->terms, 2);
	const double parts[] = {2, 1, 0.3};
	for (uint32_t i = 0; i < 3; i++) {
		assert_close(cup->pour[i].parts, parts[i], 1e-12);
		assert_close(cup->pour[i].volume, 1.264 * ML * parts[i] / 3.3, 1e-12);
	}
	assert_string_equal(cup->pour[0].name, "gloss 2k");
	assert_string_equal(cup->pour[1].name, "hardener of gloss 2k");
	assert_null(cup->pour[1].product);
	assert_string_equal(cup->pour[2].name, "reducer");
	const tc_purchase *hardener = stuff_line(s, "hardener of gloss 2k");
	assert_non_null(hardener);
	assert_string_equal(hardener->use, "hardener");
	assert_close(hardener->volume, 1.264 * ML / 3.3, 1e-12);
	assert_true(isnan(hardener->pack) && hardener->packs == 0 && isnan(hardener->cost));
}

/* The step's ratio stands before the product's, and four terms are four pours. */
static void other_ratios(void **state)
{
	const tc_supply *s = stuff_supply(*state,
	    "parts: {hull: {substrate: styrene, area: 100 cm²}}\nworkshop: {by: jet}\n"
	    "shelf: {two: {family: gloss-2k, mix: 4:1}, three: {family: gloss-2k, mix: 4:1:1}}\n"
	    "stack: [{coat: two, pass: light, mix: 3:1}, {wait: 1 h}, {coat: three, pass: light, thin: 1:1}]\n");
	assert_int_equal(s->cups, 2);
	assert_close(s->cup[0].pour[0].parts / s->cup[0].pour[1].parts, 3, 1e-12);
	assert_int_equal(s->cup[1].pours, 4);
	assert_string_equal(s->cup[1].pour[2].name, "part 3 of three");
	assert_string_equal(s->cup[1].pour[3].name, "thinner of three");
	assert_null(s->cup[1].pour[3].product);
	assert_close(s->cup[1].pour[3].volume, s->cup[1].ready / 2, 1e-12);
}

/* --- how much lands ------------------------------------------------------------------------------------------------------- */

static double transfer_of(void **state, const char *shelf, const char *step)
{
	char text[600];
	snprintf(text, sizeof text,
	    "parts: {hull: {substrate: styrene, area: 100 cm²}}\nshelf: {%s}\nstack: [{coat: x, pass: light%s}]\n",
	    shelf, step);
	return stuff_supply(*state, text)->cup[0].transfer;
}

static void who_says_how_much_lands(void **state)
{
	assert_close(transfer_of(state, "x: {family: quick-paint}", ""), 0.25, 1e-12);
	assert_close(transfer_of(state, "x: {family: quick-paint}", ", by: jet"), 0.5, 1e-12);
	assert_close(transfer_of(state, "x: {family: quick-paint}", ", by: bristle"), 0.8, 1e-12);
	assert_close(transfer_of(state, "x: {family: quick-paint}", ", by: cloth"), 0.25, 1e-12);
	assert_close(transfer_of(state, "x: {family: quick-paint, transfer: 70 %}", ", by: bristle"), 0.7, 1e-12);
	stuff *s = *state;
	assert_false(s->supply->cup[0].transfer_assumed);
	/* what drives itself out comes as what does so, though nobody says it */
	assert_close(transfer_of(state, "x: {family: bomb-paint}", ""), 0.4, 1e-12);
	assert_int_equal(s->supply->cup[0].cleanings, 0);
	assert_true(s->supply->cup[0].left == 0);
	assert_close(transfer_of(state, "x: {family: quick-paint}", ", by: bristle"), 0.8, 1e-12);
	assert_false(s->supply->laying[0].sprayed);
}

/* --- areas ------------------------------------------------------------------------------------------------------------------ */

static void areas(void **state)
{
	const tc_supply *s = stuff_supply(*state,
	    "parts:\n  hull: {substrate: styrene, area: 100 cm², areas: {bottom: 40 %}}\n  cabin: {substrate: "
	    "styrene}\n"
	    "  mast: {substrate: styrene, size: 10 × 10 × 10 mm}\nworkshop: {by: jet}\n"
	    "stack: [{coat: quick-paint, pass: light, on: hull}, {wait: 1 d}, {coat: mixed-paint, pass: light, on: "
	    "hull/bottom},\n"
	    " {wait: 1 d}, {coat: odd-paint, pass: light, on: [cabin, mast]}]\n");
	assert_int_equal(s->cups, 3);
	assert_close(s->cup[0].lands, 100e-4 * 40e-6, 1e-12);
	assert_close(s->cup[1].lands, 40e-4 * 40e-6, 1e-12);
	const tc_cupful *cup = &s->cup[2];
	assert_true(isnan(cup->ready) && isnan(cup->lands) && isnan(cup->lost) && isnan(cup->pour[0].volume));
	uint32_t cabin = TC_NONE, mast = TC_NONE;
	const tc_model *model = ((stuff *)*state)->model;
	for (uint32_t p = 0; p < model->parts; p++) {
		cabin = strcmp(model->part[p].written->name, "cabin") == 0 ? p : cabin;
		mast = strcmp(model->part[p].written->name, "mast") == 0 ? p : mast;
	}
	assert_int_equal(cup->lacks, 1u << cabin);
	assert_int_equal(cup->estimated, 1u << mast);
	assert_int_equal(s->lacks, 1u << cabin);
	assert_int_equal(s->cup[0].lacks, 0);
	assert_true(isnan(s->waste));
	assert_true(isnan(stuff_line(s, "odd paint")->volume));
	assert_true(isfinite(stuff_line(s, "quick paint")->volume));
}

/* --- when a cup ends ---------------------------------------------------------------------------------------------------------- */

/* The rows that tc_pot_mixes counts, laid as passes of one coat: as many cups as it counts mixes. */
static void pot_life_ends_a_cup(void **state)
{
	static const struct {
		const char *flash, *life, *at;
		double pause, lives;
	} rows[] = {{"90 min", "2 h", "20 °C", 5400, 7200}, {"130 min", "2 h", "20 °C", 7800, 7200},
	    {"30 min", "2 h", "20 °C", 1800, 7200}, {"45 min", "2 h", "30 °C", 2700, 3600},
	    {"61 min", "2 h", "30 °C", 3660, 3600}};
	for (size_t r = 0; r < sizeof rows / sizeof *rows; r++) {
		char text[500];
		double moment[6];
		size_t mixes;
		snprintf(text, sizeof text,
		    "parts: {hull: {substrate: styrene, area: 50 cm²}}\nworkshop: {by: jet, temperature: %s}\n"
		    "shelf: {clear: {family: gloss-2k, pot_life: %s, recoat: 1 min on}}\n"
		    "stack: [{coat: clear, coats: 6, pass: light, flash: %s}]\n",
		    rows[r].at, rows[r].life, rows[r].flash);
		const tc_model *written = stuff_read(*state, text);
		(void)written;
		stuff *s = *state;
		/* the table keeps a cup's passes within its life, so the passes are put at their times by hand */
		const tc_task task = {.step = s->model->step[0].written,
		    .passes = 6,
		    .parts = 1,
		    .attended = true,
		    .temperature = s->model->step[0].temperature,
		    .start = s->model->step[0].start,
		    .end = s->model->step[0].end,
		    .lasts = s->model->step[0].end - s->model->step[0].start};
		const tc_timetable table = {.state = TC_TABLE_FOUND, .tasks = 1, .task = &task};
		assert_int_equal(tc_supply_make(s->arena, s->model, &table, &s->supply), TC_OK);
		for (int i = 0; i < 6; i++)
			moment[i] = i * rows[r].pause;
		assert_true(tc_pot_mixes(moment, 6, rows[r].lives, 0, &mixes));
		assert_int_equal(s->supply->cups, mixes);
		uint32_t passes = 0;
		for (uint32_t i = 0; i < s->supply->cups; i++) {
			const tc_cupful *cup = &s->supply->cup[i];
			assert_close(cup->lives_until - cup->mixed, rows[r].lives, 1e-9);
			if (i > 0)
				assert_string_equal(cup->because, "the one before outlived its pot life");
			passes += cup->passes;
		}
		assert_int_equal(passes, 6);
	}
}

/* A mix must stand before use: it is made that much before its first pass, or at its own step. */
static void mixing_and_standing(void **state)
{
	stuff *k = *state;
	const tc_supply *s = stuff_supply(k,
	    "parts: {hull: {substrate: styrene, area: 50 cm²}}\nworkshop: {by: jet}\n"
	    "shelf: {clear: {family: gloss-2k, induction: 30 min}}\n"
	    "stack:\n - sand: p400\n   takes: 1 h\n - coat: clear\n   pass: light\n - wait: 20 min\n"
	    " - mix: clear\n   time: 40 min\n   ratio: 3:1\n   thin: 30 %\n - coat: clear\n   pass: light\n");
	assert_int_equal(s->cups, 2);
	const tc_cupful *a = &s->cup[0], *b = &s->cup[1];
	const tc_laying *first = &s->laying[0];
	assert_close(a->mixed, first->at - first->takes - 1800, 1e-9);
	assert_close(a->ready_from, first->at - first->takes, 1e-9);
	assert_string_equal(b->because, "the recipe mixes anew");
	for (uint32_t i = 0; i < k->table->tasks; i++)
		if (k->table->task[i].step->verb == TC_VERB_MIX) {
			assert_close(b->mixed, k->table->task[i].start, 1e-9);
			assert_close(b->ready_from, k->table->task[i].start + 2400, 1e-9);
		}
	assert_close(b->lives_until - b->mixed, 7200, 1e-9);
	assert_close(b->pour[0].parts / b->pour[1].parts, 3, 1e-12);
	assert_close(b->pour[2].parts, 0.3 * 4, 1e-12);
}

static uint32_t cups_of(void **state, const char *first, const char *pause, const char *second)
{
	char text[700];
	snprintf(text, sizeof text,
	    "parts: {hull: {substrate: styrene, area: 50 cm²}}\nworkshop: {by: jet}\nstack: [{coat: quick-paint, pass: "
	    "light%s}, {wait: %s}, {coat: quick-paint, role: colour, pass: light%s}]\n",
	    first, pause, second);
	return stuff_supply(*state, text)->cups;
}

static void evenings_and_thinning(void **state)
{
	stuff *s = *state;
	assert_int_equal(cups_of(state, "", "3 h", ""), 1);
	assert_int_equal(s->supply->cup[0].passes, 2);
	assert_int_equal(s->supply->cup[0].last_task - s->supply->cup[0].task, 1);
	assert_int_equal(cups_of(state, "", "13 h", ""), 2);
	assert_string_equal(s->supply->cup[1].because, "the one before is of another day");
	assert_int_equal(cups_of(state, ", thin: {with: lacquer-thinner, ratio: 1:1}", "1 h", ""), 2);
	assert_string_equal(s->supply->cup[1].because, "it is thinned otherwise than the one before");
	assert_int_equal(
	    cups_of(state, ", thin: {with: quick, ratio: 2:1}", "1 h", ", thin: {with: quick, add: 50 %}"), 1);
	assert_int_equal(
	    cups_of(state, ", thin: {with: quick, ratio: 2:1}", "1 h", ", thin: {with: slow, add: 50 %}"), 2);
	assert_int_equal(cups_of(state, ", mix: 2:1", "1 h", ", mix: 4:2"), 1);
	assert_int_equal(cups_of(state, ", mix: 2:1", "1 h", ", mix: 3:1"), 2);
	assert_string_equal(s->supply->cup[1].because, "it is mixed otherwise than the one before");
}

/* Without times each step is a sitting of its own. */
static void without_times(void **state)
{
	stuff *s = *state;
	assert_int_equal(cups_of(state, "", "3 h", ""), 1);
	const tc_model *written = tc_model_build(s->arena, s->model->recipe, s->library, TC_PASS_LIGHT);
	tc_task *task = tc_arena_copy(s->arena, s->table->task, s->table->tasks * sizeof *task);
	for (uint32_t i = 0; i < s->table->tasks; i++)
		task[i].start = task[i].end = NAN;
	tc_timetable table = *s->table;
	table.state = TC_TABLE_CONFLICT;
	table.task = task;
	assert_int_equal(tc_supply_make(s->arena, written, &table, &s->supply), TC_OK);
	assert_int_equal(s->supply->cups, 2);
	for (uint32_t i = 0; i < 2; i++) {
		assert_true(isnan(s->supply->cup[i].mixed));
		assert_close(s->supply->cup[i].ready, (50e-4 * 40e-6 / 0.5) + 1 * ML, 1e-12);
		assert_int_equal(s->supply->cup[i].cleanings, 1);
	}
	assert_int_equal(tc_breath_make(s->arena, written, &table, s->supply, &s->breath), TC_OK);
	assert_int_equal(s->breath->sittings, 0);
	assert_int_equal(s->breath->worst, TC_NONE);
	assert_close(s->breath->room, 40, 1e-12);
}

/* --- cleaning ----------------------------------------------------------------------------------------------------------------- */

/* Two colours in turn through one jet are cleaned between, and at the end; what the brush does meanwhile is no change. */
static void cleaning(void **state)
{
	const tc_supply *s = stuff_supply(*state,
	    "parts: {hull: {substrate: styrene, area: 50 cm²}}\nworkshop: {by: jet}\n"
	    "stack:\n - {coat: quick-paint, pass: light, thin: {with: quick, ratio: 1:1}}\n - {wait: 20 min}\n"
	    " - {coat: odd-paint, pass: light, by: bristle}\n - {wait: 20 min}\n"
	    " - {coat: quick-paint, role: colour, pass: light, thin: {with: quick, ratio: 1:1}}\n - {wait: 20 min}\n"
	    " - {coat: mixed-paint, pass: light}\n - {wait: 20 min}\n"
	    " - {coat: quick-paint, role: primer, pass: light, thin: {with: quick, ratio: 1:1}}\n");
	assert_int_equal(s->cups, 3);
	const tc_cupful *quick = &s->cup[0], *odd = &s->cup[1], *mixed = &s->cup[2];
	assert_ptr_equal(quick->product, s->laying[0].layer->product);
	assert_int_equal(quick->passes, 3);
	assert_int_equal(quick->cleanings, 2);
	assert_close(quick->cleaning, 10 * ML, 1e-12);
	assert_string_equal(quick->cleaner->label, "quick"); /* what it is thinned with */
	assert_int_equal(odd->cleanings, 1);
	assert_close(odd->cleaning, 3 * ML, 1e-12);
	assert_string_equal(odd->cleaner->label, "lacquer thinner"); /* what suits it first */
	assert_int_equal(mixed->cleanings, 1);
	assert_close(s->cleaning, 18 * ML, 1e-12);
	double cleaned = 0;
	for (uint32_t i = 0; i < s->layings; i++)
		cleaned += s->laying[i].cleaned;
	assert_close(cleaned, 18 * ML, 1e-12);
	assert_close(stuff_line(s, "lacquer thinner")->cleaning, 8 * ML, 1e-12);
	assert_string_equal(stuff_line(s, "lacquer thinner")->use, "cleaning");
	assert_string_equal(stuff_line(s, "quick")->use, "thinner");
}

/* A tool that nobody names takes the usual; what nothing thins is cleaned with something that nobody knows. */
static void cleaning_unknown(void **state)
{
	const tc_supply *s = stuff_supply(*state, "parts: {hull: {substrate: styrene, area: 50 cm²}}\n"
	                                          "stack: [{coat: secret-paint, pass: light}]\n");
	assert_close(s->cup[0].cleaning, 7 * ML, 1e-12);
	assert_null(s->cup[0].cleaner);
	assert_close(s->cup[0].left, 2 * ML, 1e-12);
	assert_close(stuff_line(s, "cleaner of secret paint")->volume, 7 * ML, 1e-12);
}

/* --- purchases ------------------------------------------------------------------------------------------------------------------ */

static void shopping_list(void **state)
{
	const tc_supply *s = stuff_supply(*state,
	    "parts: {hull: {substrate: styrene, area: 100 cm²}}\nworkshop: {by: jet, currency: EUR}\n"
	    "shelf: {black: {family: quick-paint, size: 2 ml, price: 1.50}, house thinner: {family: lacquer-thinner, "
	    "price: 5}}\n"
	    "stack:\n - {wash: soap}\n - {wash: rinse}\n - {degrease: house thinner}\n - {sand: p400}\n - {glue: "
	    "glue}\n"
	    " - {coat: black, coats: 3, pass: light, thin: {with: house thinner, ratio: 1:1}}\n - {wait: 1 d}\n - "
	    "{sand: "
	    "p400}\n"
	    " - {coat: water-paint, pass: light}\n - {decal: slide, softener: softener}\n - {fill: two-part-putty}\n");
	static const struct {
		const char *name, *use;
	} lines[] = {{"black", "coat"}, {"water paint", "coat"}, {"hardener of two part putty", "hardener"},
	    {"house thinner", "thinner"}, {"two part putty", "filler"}, {"glue", "adhesive"}, {"slide", "decal"},
	    {"softener", "softener"}, {"soap", "wash"}, {"P400", "abrasive"}};
	assert_int_equal(s->purchases, sizeof lines / sizeof *lines);
	for (uint32_t i = 0; i < s->purchases; i++) {
		assert_string_equal(s->purchase[i].name, lines[i].name);
		assert_string_equal(s->purchase[i].use, lines[i].use);
	}
	/* 3.4 ml in the cup, half of it paint: 1.7 ml, one pack of 2 ml */
	const tc_purchase *black = &s->purchase[0], *thinner = stuff_line(s, "house thinner");
	assert_close(black->volume, 1.7 * ML, 1e-12);
	assert_int_equal(black->packs, 1);
	assert_false(black->pack_assumed);
	assert_close(black->cost, 1.5, 1e-12);
	assert_close(black->left, 0.3 * ML, 1e-9);
	assert_true(black->on_shelf);
	assert_string_equal(black->family, "quick paint");
	assert_int_equal(black->steps, 1);
	assert_int_equal(black->step[0], 6);
	/* 1.7 ml and 5 ml of cleaning, and a wipe besides that nobody measured; the family says the pack, the shelf the price */
	assert_close(thinner->volume, 6.7 * ML, 1e-12);
	assert_close(thinner->cleaning, 5 * ML, 1e-12);
	assert_true(thinner->more);
	assert_true(thinner->pack_assumed);
	assert_close(thinner->price, 5, 1e-12);
	assert_close(thinner->cost, 5, 1e-12);
	assert_int_equal(thinner->steps, 2);
	assert_int_equal(thinner->step[0], 3);
	/* not by volume */
	const tc_purchase *slide = stuff_line(s, "slide"), *paper = stuff_line(s, "P400");
	assert_true(isnan(slide->volume) && slide->packs == 0 && isnan(slide->cost));
	assert_close(slide->price, 4, 1e-12);
	assert_int_equal(paper->steps, 2);
	assert_true(isnan(stuff_line(s, "two part putty")->volume));
	assert_null(stuff_line(s, "rinse")); /* it is at hand */
	assert_null(stuff_line(s, "wet"));
	assert_close(s->cost, 6.5, 1e-12);
	assert_int_equal(s->priceless, 8);
	assert_string_equal(s->currency, "EUR");
}

static void nothing_to_buy(void **state)
{
	const tc_supply *s = stuff_supply(*state, "on: styrene\nstack: [{wash: rinse}]\n");
	assert_int_equal(s->purchases, 0);
	assert_int_equal(s->cups, 0);
	assert_true(isnan(s->cost));
	assert_true(s->waste == 0);
	assert_null(s->currency);
}

/* --- what must hold of any plan --------------------------------------------------------------------------------------------- */

static uint32_t draw(uint64_t *seed, uint32_t below)
{
	*seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
	return (uint32_t)(*seed >> 33) % below;
}

static void random_recipe(uint64_t *seed, char *text, size_t room)
{
	static const char *const paints[] = {
	    "quick-paint", "mixed-paint", "odd-paint", "gloss-2k", "bomb-paint", "drying-paint"};
	static const char *const tools[] = {"jet", "bristle", "cloth"};
	size_t at = (size_t)snprintf(text, room,
	    "parts: {hull: {substrate: styrene, area: %u cm²}, cabin: {substrate: oak, area: %u cm²}}\nstack:\n",
	    1 + draw(seed, 900), 1 + draw(seed, 900));
	for (uint32_t i = 0, steps = 1 + draw(seed, 8); i < steps; i++) {
		at += (size_t)snprintf(text + at, room - at, " - {coat: %s, coats: %u, pass: %s, on: %s",
		    paints[draw(seed, 6)], 1 + draw(seed, 5), draw(seed, 2) ? "light" : "wet",
		    draw(seed, 2) ? "hull" : "[hull, cabin]");
		if (draw(seed, 2))
			at += (size_t)snprintf(text + at, room - at, ", by: %s", tools[draw(seed, 3)]);
		if (draw(seed, 2))
			at += (size_t)snprintf(text + at, room - at, ", thin: {with: %s, add: %u %%}",
			    draw(seed, 2) ? "lacquer-thinner" : "slow", draw(seed, 200));
		at += (size_t)snprintf(text + at, room - at, "}\n - {wait: %u min}\n", 15 + draw(seed, 1500));
	}
}

static void check_cups(const tc_supply *s)
{
	double all = 0, uses = 0, left = 0;
	for (uint32_t i = 0; i < s->cups; i++) {
		const tc_cupful *cup = &s->cup[i];
		double poured = 0, laid = 0;
		for (uint32_t k = 0; k < cup->pours; k++)
			poured += cup->pour[k].volume;
		for (uint32_t k = 0; k < s->layings; k++)
			laid += s->laying[k].cup == i ? s->laying[k].uses : 0;
		assert_close(poured, cup->ready, 1e-9);
		assert_close(cup->lands + cup->lost, cup->ready, 1e-9);
		assert_close(laid + cup->left, cup->ready, 1e-9);
		assert_true(cup->transfer > 0.2 && cup->transfer <= 0.8 + 1e-9);
		all += cup->ready;
		left += cup->left;
	}
	for (uint32_t k = 0; k < s->layings; k++)
		uses += s->laying[k].uses;
	assert_close(uses + left, all, 1e-9);
}

/* What is poured and what cleans is what is bought. */
static void volumes_add_up(void **state)
{
	uint64_t seed = 7;
	for (int round = 0; round < 300; round++) {
		char text[4000];
		random_recipe(&seed, text, sizeof text);
		const tc_supply *s = stuff_supply(*state, text);
		double bought = 0, poured = 0, cleaning = 0;
		check_cups(s);
		for (uint32_t i = 0; i < s->cups; i++) {
			poured += s->cup[i].ready;
			cleaning += s->cup[i].cleaning;
		}
		for (uint32_t i = 0; i < s->purchases; i++) {
			bought += s->purchase[i].volume;
			if (s->purchase[i].packs)
				assert_true(s->purchase[i].left >= -1e-12 && s->purchase[i].left < s->purchase[i].pack);
		}
		assert_close(bought, poured + cleaning, 1e-9);
		assert_close(cleaning, s->cleaning, 1e-9);
	}
}

/* --- memory ------------------------------------------------------------------------------------------------------------------- */

static void every_allocation(void **state)
{
	stuff *s = *state;
	uint64_t seed = 11;
	char text[4000];
	random_recipe(&seed, text, sizeof text);
	stuff_time(s, text);
	long all = 0, refused = 0;
	double due = 0;
	for (long n = 0; n <= all; n++) {
		const tc_supply *supply = NULL;
		const tc_breath *breath = NULL;
		heap_arm(n);
		tc_arena *arena = tc_arena_new(&heap_allocator, 64);
		tc_status status = arena ? tc_supply_make(arena, s->model, s->table, &supply) : TC_NO_MEMORY;
		if (status == TC_OK)
			status = tc_breath_make(arena, s->model, s->table, supply, &breath);
		const double peak = status == TC_OK ? breath->sitting[breath->worst].peak_index : 0;
		tc_arena_free(arena);
		heap_disarm();
		if (n == 0) {
			all = heap.requests;
			due = peak;
			assert_int_equal(status, TC_OK);
		}
		refused += status != TC_OK;
		/* the room that qsort would like is the one thing that may be done without */
		if (status == TC_OK)
			assert_true(n == 0 || peak == due);
		else
			assert_int_equal(status, TC_NO_MEMORY);
		assert_int_equal(heap.outstanding, 0);
	}
	assert_true(all > 3 && refused >= all - 4);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(one_cup),
	    cmocka_unit_test(ratio_and_thinner),
	    cmocka_unit_test(other_ratios),
	    cmocka_unit_test(who_says_how_much_lands),
	    cmocka_unit_test(areas),
	    cmocka_unit_test(pot_life_ends_a_cup),
	    cmocka_unit_test(mixing_and_standing),
	    cmocka_unit_test(evenings_and_thinning),
	    cmocka_unit_test(without_times),
	    cmocka_unit_test(cleaning),
	    cmocka_unit_test(cleaning_unknown),
	    cmocka_unit_test(shopping_list),
	    cmocka_unit_test(nothing_to_buy),
	    cmocka_unit_test(volumes_add_up),
	    cmocka_unit_test(every_allocation),
	};
	return cmocka_run_group_tests(tests, stuff_open, stuff_close);
}
