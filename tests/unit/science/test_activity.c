/* UNIFAC against published examples, its table against the published rows, Flory-Huggins. */
#include "science/activity.h"

#include "../../reference/science/solvents.h"
#include "near.h"

static struct table table_solvents, table_groups, table_pairs;

struct example {
	const char *groups[2];
	double kelvin, x[2], gamma[2], tolerance;
};

static const struct example examples[] = {
	/* Gmehling et al., Chemical Thermodynamics, problem 05.22 (read in CalebBell/thermo tests) */
	{{"1:2 2:4", "1:1 2:1 18:1"}, 333.15, {0.5, 0.5}, {1.4276, 1.36466}, 1e-4},
	/* Poling et al. 5th ed. example 8-12: acetone in pentane, 4.99 and 1.005 there (more figures worked apart) */
	{{"1:1 18:1", "1:2 2:3"}, 307.0, {0.047, 0.953}, {4.992, 1.00526}, 1e-4},
	/* Elliott & Lira, ACTCOEFF.XLS: isopropanol and water (read there) */
	{{"1:2 3:1 14:1", "16:1"}, 353.52, {0.5, 0.5}, {1.26676, 1.70019}, 1e-4},
	{{"1:2 3:1 14:1", "16:1"}, 353.52, {0.1, 0.9}, {5.09714, 1.05864}, 1e-4},
	/* Walas, Phase Equilibria in Chemical Engineering, example 4.14: ethanol and benzene (2.9119, 1.10832 in print)
         */
	{{"1:1 2:1 14:1", "9:6"}, 345.0, {0.2, 0.8}, {2.9119, 1.10832}, 5e-3},
	/* worked apart from this program with the same published parameters */
	{{"1:1 2:3 21:1", "9:5 11:1"}, 298.15, {0.5, 0.5}, {1.0201, 0.9440}, 1e-4},
	{{"1:1 2:1 18:1", "9:5 11:1"}, 298.15, {0.5, 0.5}, {1.0768, 1.0617}, 1e-4},
	{{"1:1 2:3 14:1", "9:5 11:1"}, 298.15, {0.3, 0.7}, {1.8637, 1.2111}, 1e-4},
	{{"1:2 3:1 14:1", "1:1 2:1 21:1"}, 298.15, {0.5, 0.5}, {1.2867, 1.2958}, 1e-4},
	{{"9:5 11:1", "1:1 2:1 14:1"}, 298.15, {0.5, 0.5}, {1.6624, 1.5084}, 1e-4},
	{{"1:1 2:1 14:1", "1:1 2:3 21:1"}, 298.15, {0.1, 0.9}, {2.6541, 1.0110}, 1e-4},
};

static void published_examples(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof examples / sizeof examples[0]; i++) {
		const struct example *e = &examples[i];
		struct tc_groups molecule[] = {solvent_groups(e->groups[0]), solvent_groups(e->groups[1])};
		struct tc_activity blend;
		double gamma[2];
		assert_true(tc_activity_prepare(molecule, 2, e->kelvin, &blend));
		assert_int_equal(blend.cover, TC_ACTIVITY_FULL);
		assert_true(tc_activity_gamma(&blend, e->x, gamma));
		assert_near(gamma[0], e->gamma[0], e->tolerance);
		assert_near(gamma[1], e->gamma[1], e->tolerance);
	}
}

/* Ethanol 20 and toluene 80 by volume: the alcohol leaves 2.26 times as fast as Raoult says (worked by hand). */
static void alcohol_leaves_early(void **state)
{
	(void)state;
	struct tc_groups molecule[] = {solvent_groups("1:1 2:1 14:1"), solvent_groups("9:5 11:1")};
	struct tc_activity blend;
	double gamma[2];
	assert_true(tc_activity_prepare(molecule, 2, 298.15, &blend));
	assert_true(tc_activity_gamma(&blend, (double[]){0.3128, 0.6872}, gamma));
	assert_near(gamma[0], 2.26, 0.01);
}

/* Every published row stands in the program: sizes directly, interactions through two lone groups. */
static void table_is_the_published_one(void **state)
{
	(void)state;
	assert_int_equal(table_groups.rows, 30);
	assert_int_equal(table_pairs.rows, 280);
	for (size_t row = 0; row < table_groups.rows; row++) {
		double r, q;
		unsigned id = (unsigned)table_number(&table_groups, row, "subgroup_id");
		assert_true(tc_unifac_size(id, &r, &q));
		assert_near(r, table_number(&table_groups, row, "R"), 1e-12);
		assert_near(q, table_number(&table_groups, row, "Q"), 1e-12);
	}
	for (size_t row = 0; row < table_pairs.rows; row++) {
		const char *main_i = table_text(&table_pairs, row, "main_i"),
			   *main_j = table_text(&table_pairs, row, "main_j");
		size_t i = table_find(&table_groups, "main_group_id", main_i);
		size_t j = table_find(&table_groups, "main_group_id", main_j);
		struct tc_groups lone[2] = {{.count = 1}, {.count = 1}};
		lone[0].of[0].subgroup = (uint16_t)table_number(&table_groups, i, "subgroup_id");
		lone[1].of[0].subgroup = (uint16_t)table_number(&table_groups, j, "subgroup_id");
		lone[0].of[0].times = lone[1].of[0].times = 1;
		struct tc_activity blend;
		assert_true(tc_activity_prepare(lone, 2, 300.0, &blend));
		assert_int_equal(blend.cover, TC_ACTIVITY_FULL);
		assert_near(-300.0 * log(blend.psi[0][1]), table_number(&table_pairs, row, "a_ij_K"), 1e-8);
	}
	double r = 5.0, q = 5.0;
	assert_false(tc_unifac_size(0, &r, &q));
	assert_false(tc_unifac_has(9999));
	assert_true(r == 5.0 && q == 5.0);
}

/* What is missing is said, and reckoned as ideal. */
static void falls_back_and_says_so(void **state)
{
	(void)state;
	struct tc_groups toluene = solvent_groups("9:5 11:1"), ethanol = solvent_groups("1:1 2:1 14:1"), none = {0};
	struct tc_groups unknown = solvent_groups("999:1");
	struct tc_activity blend;
	double gamma[3], pair[2];
	assert_true(tc_activity_prepare((struct tc_groups[]){toluene, none, ethanol}, 3, 298.15, &blend));
	assert_int_equal(blend.cover, TC_ACTIVITY_PARTLY);
	assert_true(tc_activity_gamma(&blend, (double[]){0.3, 0.4, 0.3}, gamma));
	assert_true(gamma[1] == 1.0);
	assert_true(tc_activity_prepare((struct tc_groups[]){toluene, ethanol}, 2, 298.15, &blend));
	assert_true(tc_activity_gamma(&blend, (double[]){0.5, 0.5}, pair));
	assert_near(gamma[0], pair[0], 1e-12);
	assert_near(gamma[2], pair[1], 1e-12);
	assert_true(tc_activity_prepare((struct tc_groups[]){none, unknown}, 2, 298.15, &blend));
	assert_int_equal(blend.cover, TC_ACTIVITY_IDEAL);
	assert_true(tc_activity_gamma(&blend, (double[]){0.5, 0.5}, pair));
	assert_true(pair[0] == 1.0 && pair[1] == 1.0);
}

/* Pairs of main groups without a published parameter exist in the table; each must fall back as a whole. */
static void missing_pair(void **state)
{
	(void)state;
	size_t missing = 0;
	for (size_t i = 0; i < table_groups.rows; i++)
		for (size_t j = 0; j < table_groups.rows; j++) {
			const char *a = table_text(&table_groups, i, "main_group_id");
			const char *b = table_text(&table_groups, j, "main_group_id");
			bool published = strcmp(a, b) == 0;
			for (size_t row = 0; row < table_pairs.rows && !published; row++)
				published = strcmp(table_text(&table_pairs, row, "main_i"), a) == 0
				            && strcmp(table_text(&table_pairs, row, "main_j"), b) == 0;
			if (published || table_number(&table_groups, i, "Q") == 0.0
				|| table_number(&table_groups, j, "Q") == 0.0)
				continue;
			struct tc_groups lone[2] = {{.count = 1}, {.count = 1}};
			lone[0].of[0].subgroup = (uint16_t)table_number(&table_groups, i, "subgroup_id");
			lone[1].of[0].subgroup = (uint16_t)table_number(&table_groups, j, "subgroup_id");
			lone[0].of[0].times = lone[1].of[0].times = 1;
			struct tc_activity blend;
			double gamma[2];
			assert_true(tc_activity_prepare(lone, 2, 300.0, &blend));
			assert_int_equal(blend.cover, TC_ACTIVITY_IDEAL);
			assert_true(tc_activity_gamma(&blend, (double[]){1, 1}, gamma));
			assert_true(gamma[0] == 1.0 && gamma[1] == 1.0);
			missing++;
		}
	assert_true(missing > 0);
}

/*
 * Gibbs and Duhem: along a binary, x1 dln(g1) + x2 dln(g2) = 0, which ties both coefficients together; and a pure
 * liquid has a coefficient of 1.  For each pair of solvents in the table.
 */
static void gibbs_duhem(void **state)
{
	(void)state;
	size_t checked = 0;
	for (size_t i = 0; i < table_solvents.rows; i++)
		for (size_t j = i + 1; j < table_solvents.rows; j++) {
			struct tc_groups pair[] = {solvent_groups(table_text(&table_solvents, i, "unifac")),
				solvent_groups(table_text(&table_solvents, j, "unifac"))};
			struct tc_activity blend;
			assert_true(tc_activity_prepare(pair, 2, 298.15, &blend));
			if (blend.cover != TC_ACTIVITY_FULL)
				continue;
			double low[2], high[2], pure[2], step = 1e-4;
			for (double x = 0.1; x < 0.95; x += 0.2) {
				assert_true(tc_activity_gamma(&blend, (double[]){x - step, 1 - x + step}, low));
				assert_true(tc_activity_gamma(&blend, (double[]){x + step, 1 - x - step}, high));
				double sum = x * log(high[0] / low[0]) + (1 - x) * log(high[1] / low[1]);
				assert_near(sum / (2 * step), 0.0, 1e-4);
			}
			assert_true(tc_activity_gamma(&blend, (double[]){1.0, 0.0}, pure));
			assert_near(pure[0], 1.0, 1e-9);
			checked++;
		}
	assert_true(checked > 300);
}

/* phi 0.3 gives 0.98, phi 0.7 gives 0.735 with chi 0.4 (worked by hand after Flory 1953). */
static void binder(void **state)
{
	(void)state;
	double a, before = 1.0;
	assert_true(tc_binder_activity(0.3, 0.4, &a));
	assert_near(a, 0.98, 1e-3);
	assert_true(tc_binder_activity(0.7, 0.4, &a));
	assert_near(a, 0.735, 1e-3);
	assert_true(tc_binder_activity(1.0, 0.4, &a) && a == 0.0);
	for (double phi = 0.0; phi <= 1.0; phi += 0.01) {
		assert_true(tc_binder_activity(phi, 0.4, &a));
		assert_true(a <= before + 1e-12);
		before = a;
	}
	assert_false(tc_binder_activity(1.1, 0.4, &a));
	assert_false(tc_binder_activity(0.5, (double)NAN, &a));
}

static void blows_up_nowhere(void **state)
{
	(void)state;
	uint64_t seed = 7;
	for (int round = 0; round < 20000; round++) {
		size_t count = 1 + random_bits(&seed) % TC_SCI_COMPONENTS_MAX;
		struct tc_groups molecule[TC_SCI_COMPONENTS_MAX] = {0};
		double x[TC_SCI_COMPONENTS_MAX], gamma[TC_SCI_COMPONENTS_MAX];
		for (size_t i = 0; i < count; i++) {
			molecule[i].count = random_bits(&seed) % (TC_GROUPS_MAX + 2);
			for (size_t g = 0; g < TC_GROUPS_MAX; g++) {
				size_t row = random_bits(&seed) % table_groups.rows;
				molecule[i].of[g].subgroup = (uint16_t)table_number(&table_groups, row, "subgroup_id");
				molecule[i].of[g].times = (uint16_t)(random_bits(&seed) % 7);
			}
			x[i] = random_bits(&seed) % 3 == 0 ? 0.0 : random_size(&seed, 1e-12, 1.0);
		}
		struct tc_activity blend;
		assert_true(tc_activity_prepare(molecule, count, random_between(&seed, 200, 500), &blend));
		if (!tc_activity_gamma(&blend, x, gamma))
			continue;
		for (size_t i = 0; i < count; i++)
			assert_true(gamma[i] >= 0.999e-6 && gamma[i] <= 1.001e6);
	}
}

int main(void)
{
	table_read(&table_solvents, "tests/reference/science/solvents.tsv");
	table_read(&table_groups, "tests/reference/science/unifac_groups.tsv");
	table_read(&table_pairs, "tests/reference/science/unifac_interactions.tsv");
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(published_examples),
		cmocka_unit_test(alcohol_leaves_early),
		cmocka_unit_test(table_is_the_published_one),
		cmocka_unit_test(falls_back_and_says_so),
		cmocka_unit_test(missing_pair),
		cmocka_unit_test(gibbs_duhem),
		cmocka_unit_test(binder),
		cmocka_unit_test(blows_up_nowhere),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
