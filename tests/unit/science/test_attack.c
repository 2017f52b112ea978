/* Attack: hot time, depth, coats, the heaviest film.  Spheres: Hansen 2007 table A.2 (ABS entry 390), Burke 1984 (PS).
 */
#include "science/attack.h"

#include "paints.h"

static struct table solvents;

static const struct tc_sphere polystyrene = {{21300, 5800, 4300}, 12700};
static const struct tc_sphere abs_plastic = {{17600, 8600, 6400}, 10900};

/* Practice: attack begins at RED 1; a molecule of acetone's size goes in at 1e-12 m^2/s, one e times slower each 30
 * cm^3/mol. */
static const struct tc_uptake uptake = {.bound = 1.0, .mobility = 1e-12, .size = 74e-6, .fall = 30e-6};
static const double wetness = 0.2;

static struct tc_coat_effect effect_of(
	const struct paint *paint, const struct tc_sphere *solid, double thickness, size_t passes, double gap)
{
	struct tc_solvent store[PAINT_SOLVENTS];
	struct tc_drying_law law = law_of(paint);
	struct tc_coat coat = {
		.film = film_of(&solvents, paint, thickness, store), .gap = gap, .passes = passes, .until = 1e6};
	struct tc_coat_effect effect = {0};
	assert_int_equal(tc_coat_effect(&coat, &room, &law, solid, &uptake, wetness, &effect), TC_DRYING_SETS);
	return effect;
}

/* A film of one solvent has one RED throughout: it is hot until it sets, and its depth has a closed form. */
static void one_solvent(void **state)
{
	(void)state;
	struct tc_solvent s = solvent_named(&solvents, "toluene");
	double one = 1.0, seconds, least, red, depth;
	struct tc_wet_film film = {&s, &one, 1, 40e-6, 0.3};
	struct tc_drying out;
	assert_int_equal(tc_drying_run(&film, &room, &usual, NULL, &out), TC_DRYING_SETS);
	assert_true(tc_hansen_red(s.hansen, &polystyrene, &red));
	assert_true(tc_attack_hot_time(&out, &polystyrene, 1.0, wetness, 1e6, &seconds));
	assert_near(seconds, out.set_time, 0.01 * out.set_time);
	assert_true(tc_attack_red_least(&out, &polystyrene, wetness, 1e6, &least));
	assert_near(least, red, 1e-9);
	assert_true(tc_attack_hot_time(&out, &polystyrene, 0.99 * red, wetness, 1e6, &seconds));
	assert_true(seconds == 0.0);
	assert_true(tc_drying_red(&out, 1.0, &polystyrene, &least));
	assert_near(least, red, 1e-9);
	/* in so short a time that the liquid hardly changes: s^2 (1 + s/L) = M exp(-chi) (w g)^2 t, from the header */
	double ra = red * polystyrene.r0, t = 1e-3, liquid = out.initial, w = 0.7, g = 1.0 - red * red;
	double chi = s.molar_volume * ra * ra / (4.0 * TC_GAS_CONSTANT * 298.15);
	double speed = 1e-12 * exp((74e-6 - s.molar_volume) / 30e-6 - chi) * (w * g) * (w * g);
	assert_true(tc_attack_depth(&out, &polystyrene, &uptake, 0.0, t, &depth));
	assert_near(depth * depth * (1.0 + depth / liquid), speed * t, 1e-3 * speed * t);
	/* what went in before takes its share of the liquid: from a depth of L the same time brings half as much */
	assert_true(tc_attack_depth(&out, &polystyrene, &uptake, liquid, 1.0, &depth));
	assert_near((depth - liquid) * (depth + liquid), 0.5 * speed, 0.02 * speed);
}

/*
 * Common practice (no source): a hot lacquer on polystyrene in light passes is everyday work, full wet passes craze it;
 * a thick wet film bites about four times as long as a thin one; an enamel thinned with white spirit does not bite.
 */
static void lacquer_on_polystyrene(void **state)
{
	(void)state;
	struct tc_coat_effect light = effect_of(&lacquer, &polystyrene, 10e-6, 1, 0);
	struct tc_coat_effect five_light = effect_of(&lacquer, &polystyrene, 10e-6, 5, 300);
	struct tc_coat_effect three_wet = effect_of(&lacquer, &polystyrene, 60e-6, 3, 300);
	struct tc_coat_effect full = effect_of(&lacquer, &polystyrene, 40e-6, 1, 0);
	struct tc_coat_effect oil = effect_of(&enamel, &polystyrene, 40e-6, 1, 0);
	assert_near(full.hot_time / light.hot_time, 4.0, 0.2);
	assert_true(light.red_least < 1.0);
	assert_true(five_light.depth < 0.5 * three_wet.depth);
	assert_true(five_light.hot_time > 4.0 * light.hot_time);
	assert_true(oil.depth == 0.0 && oil.hot_time == 0.0 && oil.red_least > 1.0);
	print_message("lacquer on polystyrene: 1 x 10 um %.2f, 5 x 10 um %.2f, 3 x 60 um %.2f um deep\n",
		light.depth * 1e6, five_light.depth * 1e6, three_wet.depth * 1e6);
}

/*
 * Common practice (no source): waterborne and alcohol-borne acrylics with their tail of glycol ethers go on ABS every
 * day, in light and medium passes; a full wet lacquer on polystyrene is the attack to be told from these.
 */
static void acrylics_on_abs(void **state)
{
	(void)state;
	double bad = effect_of(&lacquer, &polystyrene, 60e-6, 3, 300).depth;
	double water = effect_of(&waterborne, &abs_plastic, 20e-6, 1, 0).depth;
	double alcohol = effect_of(&alcohol_borne, &abs_plastic, 20e-6, 1, 0).depth;
	assert_true(water < 0.15 * bad);
	assert_true(alcohol < 0.5 * bad);
	print_message(
		"on ABS, 20 um: waterborne %.2f, alcohol-borne %.2f um; full wet lacquer on polystyrene %.2f um\n",
		water * 1e6, alcohol * 1e6, bad * 1e6);
}

/* A flash too short leaves solvent that sums; a long one does not. */
static void short_flash_sums(void **state)
{
	(void)state;
	struct tc_coat_effect hasty = effect_of(&lacquer, &polystyrene, 25e-6, 3, 20);
	struct tc_coat_effect patient = effect_of(&lacquer, &polystyrene, 25e-6, 3, 1800);
	assert_true(hasty.left > 0.5 && patient.left < 0.2);
	assert_true(hasty.set_time > patient.set_time);
}

/* Per-pass thicknesses and flashes say the same as the short form when they are equal. */
static void passes_one_by_one(void **state)
{
	(void)state;
	struct tc_solvent store[PAINT_SOLVENTS];
	struct tc_coat coat = {
		.film = film_of(&solvents, &lacquer, 20e-6, store), .gap = 120, .passes = 3, .until = 1e6};
	struct tc_coat_effect all, each, heavier;
	assert_int_equal(tc_coat_effect(&coat, &room, &usual, &polystyrene, &uptake, wetness, &all), TC_DRYING_SETS);
	coat.thickness = (double[]){20e-6, 20e-6, 20e-6};
	coat.flash = (double[]){120, 120};
	coat.gap = -1.0;
	assert_int_equal(tc_coat_effect(&coat, &room, &usual, &polystyrene, &uptake, wetness, &each), TC_DRYING_SETS);
	assert_true(all.depth == each.depth && all.hot_time == each.hot_time && all.left == each.left);
	coat.thickness = (double[]){20e-6, 30e-6, 40e-6};
	assert_int_equal(
		tc_coat_effect(&coat, &room, &usual, &polystyrene, &uptake, wetness, &heavier), TC_DRYING_SETS);
	assert_true(heavier.depth > each.depth);
	coat.flash = NULL;
	assert_int_equal(
		tc_coat_effect(&coat, &room, &usual, &polystyrene, &uptake, wetness, &each), TC_DRYING_REFUSED);
}

#define COURSE_PASSES 4

/* Memory for the course of a coat. */
static struct tc_coat_course room_for_course(void)
{
	static struct tc_coat_moment moment[COURSE_PASSES * TC_ATTACK_MOMENTS_MAX];
	static double share[COURSE_PASSES * TC_COAT_SHARES_MAX(TC_SCI_COMPONENTS_MAX)];
	return (struct tc_coat_course){.moment = moment,
		.share = share,
		.moment_room = sizeof moment / sizeof moment[0],
		.share_room = sizeof share / sizeof share[0]};
}

/* A coat dried once bites each solid as tc_coat_effect says, to the last bit, also from a copy of what it used. */
static void dried_once(void **state)
{
	(void)state;
	uint64_t seed = 24;
	struct random_film r;
	static struct tc_coat_moment moment[COURSE_PASSES * TC_ATTACK_MOMENTS_MAX];
	static double share[COURSE_PASSES * TC_COAT_SHARES_MAX(TC_SCI_COMPONENTS_MAX)];
	for (int round = 0; round < 500; round++) {
		random_film(&solvents, &seed, &r);
		struct tc_coat coat = {.film = r.film,
			.gap = random_size(&seed, 1, 1e5),
			.passes = 1 + random_bits(&seed) % COURSE_PASSES,
			.until = random_size(&seed, 1, 1e8)};
		struct tc_coat_course course = room_for_course();
		assert_int_not_equal(tc_coat_dry(&coat, &r.air, &r.law, &course), TC_DRYING_REFUSED);
		memcpy(moment, course.moment, course.moments * sizeof moment[0]);
		memcpy(share, course.share, course.shares * sizeof share[0]);
		course.moment = moment;
		course.share = share;
		for (int k = 0; k < 3; k++) {
			struct tc_sphere solid = {{random_between(&seed, 15e3, 22e3), random_between(&seed, 0, 14e3),
							  random_between(&seed, 0, 14e3)},
				random_between(&seed, 3e3, 14e3)};
			struct tc_coat_effect a, b;
			assert_int_not_equal(
				tc_coat_effect(&coat, &r.air, &r.law, &solid, &uptake, wetness, &a), TC_DRYING_REFUSED);
			assert_true(tc_coat_bite(&course, &solid, &uptake, wetness, &b));
			assert_true(a.depth == b.depth && a.hot_time == b.hot_time && a.red_least == b.red_least);
			assert_true(a.left == b.left && a.set_time == b.set_time && a.coldest == b.coldest);
			assert_true(a.sets == b.sets);
		}
	}
}

/* How wet the last pass still is, as the film itself says; refusals write nothing. */
static void course_keeps_the_rest(void **state)
{
	(void)state;
	struct tc_solvent store[PAINT_SOLVENTS];
	struct tc_coat coat = {.film = film_of(&solvents, &lacquer, 30e-6, store), .passes = 1, .until = TC_DRYING_HORIZON};
	struct tc_coat_course course = room_for_course();
	struct tc_drying film;
	double share, expected;
	assert_int_equal(tc_coat_dry(&coat, &room, &usual, &course), TC_DRYING_SETS);
	assert_int_equal(tc_drying_run(&coat.film, &room, &usual, NULL, &film), TC_DRYING_SETS);
	assert_true(course.set_time == film.set_time && course.coldest == film.coldest && course.left == 0.0);
	for (double t = 0.0; t < 1e9; t = t * 1.3 + 0.1) {
		assert_true(tc_coat_wetness(&course, t, &share));
		assert_true(tc_drying_wetness(&film, t, &expected));
		assert_near(share, expected, 1e-9);
	}
	assert_false(tc_coat_wetness(&course, -1.0, &share));
	course.moments = 77;
	course.share_room = TC_COAT_SHARES_MAX(coat.film.count) - 1;
	assert_int_equal(tc_coat_dry(&coat, &room, &usual, &course), TC_DRYING_REFUSED);
	course = room_for_course();
	course.moments = 77;
	course.moment_room = TC_ATTACK_MOMENTS_MAX - 1;
	assert_int_equal(tc_coat_dry(&coat, &room, &usual, &course), TC_DRYING_REFUSED);
	coat.passes = 0;
	course = room_for_course();
	course.moments = 77;
	assert_int_equal(tc_coat_dry(&coat, &room, &usual, &course), TC_DRYING_REFUSED);
	assert_true(course.moments == 77);
}

/*
 * A coat's last pass over one that is as good as dry: what little is left below changes depth and set time by no more
 * than its share of the liquid, so that longer flashes bring them to a rest.
 */
static void long_flashes_come_to_rest(void **state)
{
	(void)state;
	struct tc_coat_effect day = effect_of(&lacquer, &polystyrene, 25e-6, 3, 86400);
	struct tc_coat_effect week = effect_of(&lacquer, &polystyrene, 25e-6, 3, 7 * 86400);
	assert_true(day.left < 1e-3 && week.left <= day.left);
	assert_near(week.depth, day.depth, 0.01 * day.depth);
	assert_near(week.set_time, day.set_time, 0.01 * day.set_time);
}

/* A thicker film never shortens an attack, nor does following it longer; depth stays within what there is in figures.
 */
static void orders(void **state)
{
	(void)state;
	uint64_t seed = 21;
	struct random_film r;
	int bitten = 0;
	for (int round = 0; round < 3000; round++) {
		random_film(&solvents, &seed, &r);
		struct tc_sphere solid = {{random_between(&seed, 15e3, 22e3), random_between(&seed, 0, 14e3),
						  random_between(&seed, 0, 14e3)},
			random_between(&seed, 3e3, 14e3)};
		struct tc_drying thin, thick;
		assert_int_not_equal(tc_drying_run(&r.film, &r.air, &r.law, NULL, &thin), TC_DRYING_REFUSED);
		struct tc_wet_film more = r.film;
		more.thickness *= random_between(&seed, 1.0, 6.0);
		assert_int_not_equal(tc_drying_run(&more, &r.air, &r.law, NULL, &thick), TC_DRYING_REFUSED);
		double a, b, early, hot_a, hot_b, until = random_size(&seed, 1, 1e5);
		assert_true(tc_attack_depth(&thin, &solid, &uptake, 0.0, 3e7, &a));
		assert_true(tc_attack_depth(&thick, &solid, &uptake, 0.0, 3e7, &b));
		assert_true(b >= a * 0.999);
		assert_true(tc_attack_depth(&thin, &solid, &uptake, 0.0, until, &early));
		assert_true(early <= a * 1.02 + 1e-12);
		assert_true(tc_attack_hot_time(&thin, &solid, 1.0, r.law.set_share, 3e7, &hot_a));
		assert_true(tc_attack_hot_time(&thick, &solid, 1.0, r.law.set_share, 3e7, &hot_b));
		assert_true(hot_b >= hot_a * 0.999);
		bitten += a > 0.0;
	}
	assert_true(bitten > 1000);
}

/* The heaviest film bites just as deep as allowed. */
static void heaviest(void **state)
{
	(void)state;
	struct tc_solvent store[PAINT_SOLVENTS];
	struct tc_coat coat = {
		.film = film_of(&solvents, &lacquer, 20e-6, store), .gap = 300, .passes = 2, .until = 1e6};
	struct tc_coat_effect effect;
	double most, allowed = 1e-6;
	assert_true(tc_coat_heaviest(&coat, &room, &usual, &polystyrene, &uptake, allowed, 1e-3, &most));
	coat.film.thickness = most;
	assert_int_equal(tc_coat_effect(&coat, &room, &usual, &polystyrene, &uptake, wetness, &effect), TC_DRYING_SETS);
	assert_true(effect.depth <= allowed && effect.depth > 0.98 * allowed);
	coat.film.thickness = most * 1.005;
	assert_int_equal(tc_coat_effect(&coat, &room, &usual, &polystyrene, &uptake, wetness, &effect), TC_DRYING_SETS);
	assert_true(effect.depth > allowed);
	assert_true(tc_coat_heaviest(&coat, &room, &usual, &polystyrene, &uptake, 1e-3, 2e-4, &most));
	assert_true(most == 2e-4);
	assert_false(tc_coat_heaviest(&coat, &room, &usual, &polystyrene, &uptake, 0.0, 2e-4, &most));
}

/* In the tail of a blend RED drifts toward the slow part's. */
static void red_drifts(void **state)
{
	(void)state;
	struct tc_solvent store[PAINT_SOLVENTS];
	struct tc_wet_film film = film_of(&solvents, &lacquer, 40e-6, store);
	struct tc_drying out;
	double late, slow;
	assert_int_equal(tc_drying_run(&film, &room, &usual, NULL, &out), TC_DRYING_SETS);
	assert_true(tc_drying_red(&out, out.set_time, &abs_plastic, &late));
	assert_true(tc_hansen_red(store[2].hansen, &abs_plastic, &slow)); /* n-butyl acetate */
	assert_near(late, slow, 0.1);
}

static void blows_up_nowhere(void **state)
{
	(void)state;
	uint64_t seed = 22;
	struct random_film r;
	int refused = 0;
	for (int round = 0; round < 2000; round++) {
		random_film(&solvents, &seed, &r);
		struct tc_sphere solid = {
			{random_size(&seed, 1, 1e6), random_size(&seed, 1, 1e6), random_size(&seed, 1, 1e6)},
			random_size(&seed, 0.5, 1.5e6)};
		struct tc_uptake any = {random_size(&seed, 0.005, 12), random_size(&seed, 5e-21, 2e-6),
			random_size(&seed, 1e-6, 2e-3), random_size(&seed, 5e-7, 1.5)};
		struct tc_coat coat = {.film = r.film,
			.gap = random_size(&seed, 1e-3, 1e9),
			.passes = 1 + random_bits(&seed) % 6,
			.until = random_size(&seed, 1e-3, 1e9)};
		struct tc_coat_effect e = {.depth = 5.0};
		if (tc_coat_effect(&coat, &r.air, &r.law, &solid, &any, random_between(&seed, 0, 1), &e)
			== TC_DRYING_REFUSED) {
			assert_true(e.depth == 5.0);
			refused++;
			continue;
		}
		assert_true(isfinite(e.depth) && e.depth >= 0.0);
		assert_true(isfinite(e.hot_time) && e.hot_time >= 0.0);
		assert_true(isfinite(e.red_least) && isfinite(e.set_time));
		assert_true(e.left >= 0.0 && e.left <= 1.0);
	}
	assert_in_range(refused, 1, 1500);
}

int main(void)
{
	table_read(&solvents, "tests/reference/science/solvents.tsv");
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(one_solvent),
		cmocka_unit_test(lacquer_on_polystyrene),
		cmocka_unit_test(acrylics_on_abs),
		cmocka_unit_test(short_flash_sums),
		cmocka_unit_test(passes_one_by_one),
		cmocka_unit_test(dried_once),
		cmocka_unit_test(course_keeps_the_rest),
		cmocka_unit_test(long_flashes_come_to_rest),
		cmocka_unit_test(orders),
		cmocka_unit_test(heaviest),
		cmocka_unit_test(red_drifts),
		cmocka_unit_test(blows_up_nowhere),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
