/* The air of the room. Where no source is named the figures were worked by hand, from the kit's round ones. */
#include "stuff.h"

#include <math.h>

#include "plan/breath_private.h"
#include "science/vapour.h"

/* The kit's room: 40 m³, leaks 20 m³/h, of which half counts. */
#define ROOM 40.0
#define FRESH (20.0 / 3600)
#define RATE (0.5 * FRESH / ROOM)

/* kg/m³ of a vapour as a volume share at 20 °C: R T / (M p). */
static double share_of(double molar_mass)
{
	return TC_GAS_CONSTANT * 293.15 / (molar_mass * 101325.0);
}

static const tc_vapour_in_air *vapour(const tc_sitting *s, const char *id)
{
	for (uint32_t i = 0; i < s->vapours; i++)
		if (strcmp(s->vapour[i].solvent->id, id) == 0)
			return &s->vapour[i];
	fail_msg("no %s in the air", id);
	return NULL;
}

/* --- one pass ------------------------------------------------------------------------------------------------------------ */

/* 1 m² × 40 µm / 0.5 = 80 ml in a minute, four fifths of it `quick` (its drying is not known: all at once); then for five
 * minutes half of a cleaning and of what stayed in the cup: (5 × 50:50 of quick and slow + 1 × 0.8 of quick) / 2. */
static void one_pass(void **state)
{
	const tc_breath *b = stuff_breath(*state, "parts: {hull: {substrate: styrene, area: 10000 cm²}}\n"
	                                          "workshop: {by: jet}\nstack: [{coat: quick-paint, pass: light}]\n");
	assert_close(b->room, ROOM, 1e-12);
	assert_close(b->fresh, FRESH, 1e-12);
	assert_close(b->leaks, FRESH, 1e-12);
	assert_true(b->extraction == 0);
	assert_true(b->room_assumed && b->extraction_assumed);
	assert_int_equal(b->sittings, 1);
	const tc_sitting *s = &b->sitting[0];
	assert_close(s->to - s->from, 360, 1e-9);
	const double sprayed = 80e-6 * 0.8 * 800, cleaning = 0.5 * (5e-6 * 0.5 + 1e-6 * 0.8) * 800;
	const double slow = 0.5 * 5e-6 * 0.5 * 1000;
	const double after = sprayed / 60 / (RATE * ROOM) * -expm1(-RATE * 60);
	const double end = after * exp(-RATE * 300) + cleaning / 300 / (RATE * ROOM) * -expm1(-RATE * 300);
	const double slow_end = slow / 300 / (RATE * ROOM) * -expm1(-RATE * 300);
	const tc_vapour_in_air *quick = vapour(s, "quick");
	assert_int_equal(s->vapours, 2);
	assert_ptr_equal(quick, &s->vapour[0]);
	assert_close(quick->mass, sprayed + cleaning, 1e-9);
	assert_close(s->mass, sprayed + cleaning + slow, 1e-9);
	assert_true(end > after);
	assert_close(quick->peak, end * share_of(0.080), 1e-9);
	assert_close(quick->limit, 100e-6, 1e-12);
	assert_close(s->peak_index, end * share_of(0.080) / 100e-6 + slow_end * share_of(0.160) / 50e-6, 1e-9);
	assert_close(s->lel_share, end * share_of(0.080) / 0.02 + slow_end * share_of(0.160) / 0.01, 1e-9);
	assert_close(s->worst_breath, s->to, 1e-12);
	/* by the balance: what came in less what is there has left with the air */
	const double quick_sum = (sprayed + cleaning - ROOM * end) / (RATE * ROOM);
	assert_close(quick->mean, quick_sum / 360 * share_of(0.080), 1e-6);
	assert_close(quick->mean_8h, quick_sum / 28800 * share_of(0.080), 1e-6);
	const double slow_sum = (slow - ROOM * slow_end) / (RATE * ROOM);
	assert_close(s->mean_index,
	    quick_sum / 28800 * share_of(0.080) / 100e-6 + slow_sum / 28800 * share_of(0.160) / 50e-6, 1e-6);
	assert_close(s->clear, log(s->peak_index / 0.1) / RATE, 1e-6);
	assert_true(s->mist && !s->dust && !s->isocyanate);
	assert_int_equal(s->unknowns, 0);
	assert_int_equal(b->worst, 0);
}

/* Extraction counts where it is more than the leaks. */
static void extraction(void **state)
{
	static const char *const text =
	    "parts: {hull: {substrate: styrene, area: 10000 cm²}}\n"
	    "workshop: {by: jet, extraction: %s}\nstack: [{coat: quick-paint, pass: light}]\n";
	static const struct {
		const char *said;
		double fresh;
	} rows[] = {{"0 m³/h", FRESH}, {"10 m³/h", FRESH}, {"600 m³/h", 600.0 / 3600}};
	double before = INFINITY;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char recipe[300];
		snprintf(recipe, sizeof recipe, text, rows[i].said);
		const tc_breath *b = stuff_breath(*state, recipe);
		assert_close(b->fresh, rows[i].fresh, 1e-12);
		assert_false(b->extraction_assumed);
		assert_true(b->sitting[0].peak_index <= before);
		before = b->sitting[0].peak_index;
	}
}

/* With what it says is needed, the plan made anew peaks at 1, and at a quarter of the LEL. */
static void needed_is_enough(void **state)
{
	static const char *const text =
	    "parts: {hull: {substrate: styrene, area: %s}}\nworkshop: {by: jet, room: 2 m³, "
	    "extraction: %.9g m³/h}\nstack: [{coat: mixed-paint, coats: 4, pass: light}]\n";
	char recipe[400];
	snprintf(recipe, sizeof recipe, text, "2000 cm²", 0.0);
	const tc_sitting first = stuff_breath(*state, recipe)->sitting[0];
	assert_true(first.peak_index > 1);
	assert_true(first.needed_health > 0 && isfinite(first.needed_health));
	snprintf(recipe, sizeof recipe, text, "2000 cm²", first.needed_health * 3600);
	assert_close(stuff_breath(*state, recipe)->sitting[0].peak_index, 1, 1e-3);
	snprintf(recipe, sizeof recipe, text, "20000 cm²", 0.0);
	const tc_sitting second = stuff_breath(*state, recipe)->sitting[0];
	assert_true(second.lel_share > 0.25 && second.needed_fire > 0);
	snprintf(recipe, sizeof recipe, text, "20000 cm²", second.needed_fire * 3600);
	assert_close(stuff_breath(*state, recipe)->sitting[0].lel_share, 0.25, 1e-3);
	/* so little that the leaks do */
	snprintf(recipe, sizeof recipe, text, "0.1 cm²", 0.0);
	assert_true(stuff_breath(*state, recipe)->sitting[0].needed_fire == 0);
}

/* --- films ----------------------------------------------------------------------------------------------------------------- */

static const char *const film_recipe = "parts: {hull: {substrate: styrene, area: 10000 cm²}}\nworkshop: {by: bristle}\n"
                                       "stack: [{coat: drying-paint, coats: 3, pass: wet%s}]\n";

/* A film that can be followed gives off all that it holds, later than it is laid; the whole is the same. */
static void films_dry(void **state)
{
	stuff *k = *state;
	char recipe[400];
	snprintf(recipe, sizeof recipe, film_recipe, "");
	const tc_sitting s = stuff_breath(k, recipe)->sitting[0];
	/* 3 × 120 µm × 1 m² / 0.8 and half of 0.5 ml in the cup, four fifths of it volatile; the cleaning is of other solvents */
	const double volatile_part = (3 * 120e-6 / 0.8 + 0.5 * 0.5e-6) * 0.8;
	assert_close(vapour(&s, "ester")->mass, volatile_part * 0.6 * 881, 1e-3);
	assert_close(vapour(&s, "ring")->mass, volatile_part * 0.4 * 867, 1e-3);
	/* in the room at once it would be this much at least */
	const double at_once = volatile_part * 0.4 * 867 / ROOM * share_of(0.09214);
	assert_true(vapour(&s, "ring")->peak < at_once);
	assert_true(vapour(&s, "ring")->peak > 0.1 * at_once);
	/* and it goes on after the work: the room clears later than it would by the air of its end alone */
	const double index = vapour(&s, "ring")->peak / 20e-6 + vapour(&s, "ester")->peak / 50e-6;
	assert_true(s.clear > log(index / 0.1) / RATE);
}

/* The same film on two parts is one film of both areas. */
static void films_add_up(void **state)
{
	char recipe[400];
	snprintf(recipe, sizeof recipe, film_recipe, "");
	const tc_sitting one = stuff_breath(*state, recipe)->sitting[0];
	const tc_sitting two =
	    stuff_breath(*state, "parts: {bow: {substrate: styrene, area: 4000 cm²}, stern: {substrate: styrene, area: "
	                         "6000 cm²}}\nworkshop: {by: bristle}\n"
	                         "stack: [{coat: drying-paint, coats: 3, pass: wet}]\n")
	        ->sitting[0];
	assert_close(two.mass, one.mass, 1e-9);
	assert_close(two.peak_index, one.peak_index, 1e-9);
	assert_close(two.clear, one.clear, 1e-9);
}

/* --- sittings ---------------------------------------------------------------------------------------------------------------- */

/* What the first evening left is still there on the second; a long break parts them, a short one does not. */
static void evenings(void **state)
{
	static const char *const text =
	    "parts: {hull: {substrate: styrene, area: 10000 cm²}}\nworkshop: {by: jet}\n"
	    "stack: [{coat: quick-paint, pass: light}, {wait: %s}, {sand: p400, wet: yes}]\n";
	char recipe[400];
	snprintf(recipe, sizeof recipe, text, "1 h");
	assert_int_equal(stuff_breath(*state, recipe)->sittings, 1);
	snprintf(recipe, sizeof recipe, text, "5 h");
	const tc_breath *b = stuff_breath(*state, recipe);
	assert_int_equal(b->sittings, 2);
	const tc_sitting *first = &b->sitting[0], *second = &b->sitting[1];
	assert_true(second->mass == 0);
	assert_close(second->peak_index, first->peak_index * exp(-RATE * (second->from - first->to)), 1e-6);
	assert_close(second->worst_breath, second->from, 1e-12);
	assert_int_equal(b->worst, 0);
	assert_int_equal(second->task, 1);
	assert_false(second->dust); /* under water */
	assert_false(second->mist);
	assert_close(first->clear, log(first->peak_index / 0.1) / RATE, 1e-6);
}

/* A long bath is begun and left; it makes no sitting longer. */
static void a_bath_is_left(void **state)
{
	const tc_breath *b = stuff_breath(
	    *state, "on: styrene\nstack: [{wash: soap, time: 20 h}, {sand: p400}, {wait: 20 h}, {sand: p400}]\n");
	assert_int_equal(b->sittings, 3);
	assert_true(b->sitting[0].to - b->sitting[0].from < 3600);
	for (uint32_t i = 0; i < 3; i++) {
		assert_int_equal(b->sitting[i].vapours, 0);
		assert_true(b->sitting[i].peak_index == 0 && b->sitting[i].mean_index == 0);
		assert_true(b->sitting[i].lel_share == 0 && b->sitting[i].clear == 0);
		assert_true(b->sitting[i].needed_health == 0 && b->sitting[i].needed_fire == 0);
	}
	assert_int_equal(b->worst, TC_NONE);
}

/* --- what no figure clears, what is not known ---------------------------------------------------------------------------------- */

static const tc_sitting *sitting_of(void **state, const char *part, const char *steps)
{
	char text[700];
	snprintf(text, sizeof text, "parts: {hull: {substrate: %s}}\nstack: [%s]\n", part, steps);
	return &stuff_breath(*state, text)->sitting[0];
}

static void flags(void **state)
{
	static const struct {
		const char *part, *steps;
		bool isocyanate, mist, dust;
	} rows[] = {
	    {"styrene, area: 1 cm²", "{coat: gloss-2k, pass: light, by: jet}", true, true, false},
	    {"styrene, area: 1 cm²", "{coat: gloss-2k, pass: light, by: bristle}", true, false, false},
	    {"styrene, area: 1 cm²", "{coat: quick-paint, pass: light}", false, true, false}, /* nobody says how */
	    {"styrene, area: 1 cm²", "{coat: water-paint, pass: light, by: jet}", false, true, false},
	    {"styrene", "{sand: p400}", false, false, false},
	    {"oak", "{sand: p400}", false, false, true},
	    {"oak", "{sand: p400, wet: yes}", false, false, false},
	    {"styrene, area: 1 cm²", "{coat: quick-paint, pass: light, by: bristle}, {wait: 1 h}, {sand: p400}", false,
	        false, true},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const tc_sitting *s = sitting_of(state, rows[i].part, rows[i].steps);
		assert_int_equal(s->isocyanate, rows[i].isocyanate);
		assert_int_equal(s->mist, rows[i].mist);
		assert_int_equal(s->dust, rows[i].dust);
	}
}

static void unknowns(void **state)
{
	static const struct {
		const char *part, *steps;
		bool unknown;
	} rows[] = {
	    {"styrene, area: 1 cm²", "{coat: quick-paint, pass: light, by: jet}", false},
	    {"styrene", "{coat: quick-paint, pass: light, by: jet}", true},  /* no area */
	    {"styrene", "{coat: water-paint, pass: light, by: jet}", false}, /* nothing that matters */
	    {"styrene, area: 1 cm²", "{coat: secret-paint, pass: light, by: jet}", true},
	    {"styrene, area: 1 cm²", "{coat: quick-paint, pass: light, by: bomb}", true}, /* its gas */
	    {"styrene, area: 1 cm²", "{coat: bomb-paint, pass: light}", true},
	    {"styrene, area: 1 cm²", "{coat: quick-paint, pass: light, by: jet, thin: 1:1}", true}, /* with what? */
	    {"styrene, area: 1 cm²", "{degrease: degreaser}", true},                                /* the cloth */
	    {"styrene, area: 1 cm²", "{wash: soap}", false},
	    {"styrene", "{fill: putty}", true},
	    {"styrene", "{fill: two-part-putty}", false}, /* nothing volatile */
	    {"styrene", "{decal: slide, softener: softener}", true},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const tc_sitting *s = sitting_of(state, rows[i].part, rows[i].steps);
		assert_int_equal(s->unknowns, rows[i].unknown);
		if (s->unknowns)
			assert_int_equal(s->unknown[0], 0);
	}
	/* 100 µm on 1 dm² of a wipe, and no more is counted */
	assert_close(
	    sitting_of(state, "styrene, area: 100 cm²", "{degrease: degreaser}")->mass, 1e-2 * 1e-4 * 800, 1e-9);
}

static void without_limits(void **state)
{
	const tc_sitting *s = sitting_of(state, "styrene, area: 1000 cm²", "{coat: odd-paint, pass: light, by: cloth}");
	/* cloth is no entry: the usual cleaning, with lacquer thinner, has limits; the paint's own solvent has none */
	assert_int_equal(s->unlimited, 1);
	assert_int_equal(s->lel_unknown, 1);
	assert_true(isnan(vapour(s, "odd")->limit) && isnan(vapour(s, "odd")->lel));
	assert_true(s->peak_index > 0);
	s = sitting_of(state, "styrene, area: 1000 cm²", "{coat: odd-paint, pass: light, by: bomb}");
	assert_int_equal(s->vapours, 1);
	assert_true(isnan(s->peak_index) && isnan(s->mean_index) && isnan(s->lel_share) && isnan(s->clear));
	assert_true(isnan(s->needed_health) && isnan(s->needed_fire) && isnan(s->worst_breath));
	assert_int_equal(((stuff *)*state)->breath->worst, TC_NONE);
}

/* Water is no vapour here. */
static void water(void **state)
{
	const tc_sitting *s =
	    sitting_of(state, "styrene, area: 1000 cm²", "{coat: water-paint, coats: 4, pass: wet, by: jet}");
	assert_int_equal(s->vapours, 0);
	assert_true(s->mass == 0 && s->peak_index == 0 && s->clear == 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(one_pass),
	    cmocka_unit_test(extraction),
	    cmocka_unit_test(needed_is_enough),
	    cmocka_unit_test(films_dry),
	    cmocka_unit_test(films_add_up),
	    cmocka_unit_test(evenings),
	    cmocka_unit_test(a_bath_is_left),
	    cmocka_unit_test(flags),
	    cmocka_unit_test(unknowns),
	    cmocka_unit_test(without_limits),
	    cmocka_unit_test(water),
	};
	return cmocka_run_group_tests(tests, stuff_open, stuff_close);
}
