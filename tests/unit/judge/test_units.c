/* Units never change an answer: one plan of the default rulebook, written with every quantity in another unit, gives the same
 * findings with the same words. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "bench_of.h"

#define PLAN(temperature, humidity, speed, room, flow, area, line, solids, pot, flash, wet, depth, wait_h, wait_d, hot)          \
	"recipe: t\nscale: 1:48\nworkshop: {temperature: " temperature ", humidity: " humidity ", air_speed: " speed ", room: " room  \
	", extraction: " flow "}\nparts: {hull: {substrate: polystyrene, area: " area ", lines: {width: " line ", depth: " line     \
	"}, stressed: yes}}\nshelf:\n  black: {family: acrylic-lacquer, solids: " solids                                            \
	"}\n  gloss: {family: urethane-clear-2k, pot_life: " pot "}\nstack:\n"                                                       \
	"  - wash: detergent\n  - wait: " wait_h "\n  - fill: solvent-putty\n    depth: " depth "\n"                                  \
	"  - {coat: black, role: colour, coats: 3, wet_film: " wet ", flash: " flash "}\n  - {wait: " wait_h ", at: " hot "}\n"       \
	"  - mix: gloss\n  - wait: " wait_d "\n  - {coat: gloss, role: clear, coats: 2, wet_film: " wet ", flash: " flash "}\n"

static const char *const plans[] = {
    PLAN("25 °C", "80 %", "0.3 m/s", "30 m³", "360 m³/h", "250 cm²", "0.254 mm", "12 %", "2 h", "5 min", "50.8 µm", "0.4 mm", "3 h",
        "1 d", "86 °C"),
    PLAN("77 °F", "80 %", "59.05511811023622 ft/min", "30000 l", "360 m3/h", "2.5e-2 m²", "10 mil", "12 %", "120 min", "300 s", "2 mil", "400 µm",
        "180 min", "24 h", "186.8 °F"),
    PLAN("298.15 K", "800000 ppm", "0.3 m/s", "30000000 ml", "211.8880003 cfm", "25000 mm²", "0.01 in", "120000 ppm", "7200 s", "0.08333333333333333 h",
        "0.00508 cm", "0.04 cm", "10800 s", "86400 s", "359.15 K"),
};

static uint32_t judged(const tc_rulebook *rulebook, tc_worker *worker, tc_arena *arena, const char *plan,
    const tc_judgement **judgement)
{
	tc_diags *diags = tc_diags_new(arena);

	tc_status status = judge_text(worker, arena, rulebook, "r.yaml", plan, strlen(plan), false, judgement, diags);
	if (status != TC_OK)
		show(diags);
	assert_int_equal(status, TC_OK);
	return (*judgement)->findings;
}

static void the_same_plan_in_other_units(void **state)
{
	files f = default_files();
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(arena);
	tc_rulebook *rulebook;
	const tc_judgement *first = NULL, *other = NULL;
	(void)state;

	assert_int_equal(tc_rulebook_load(NULL, f.at, f.count, false, diags, &rulebook), TC_OK);
	tc_worker *worker = tc_worker_new(rulebook, NULL);
	uint32_t count = judged(rulebook, worker, arena, plans[0], &first);
	assert_true(count >= 5);
	for (size_t p = 1; p < sizeof plans / sizeof *plans; p++) {
		assert_int_equal(judged(rulebook, worker, arena, plans[p], &other), count);
		for (uint32_t i = 0; i < count; i++) {
			assert_ptr_equal(first->finding[i].rule, other->finding[i].rule);
			assert_int_equal(first->finding[i].verdict, other->finding[i].verdict);
			assert_string_equal(first->finding[i].message, other->finding[i].message);
		}
	}
	printf("summary: %u findings in %zu sets of units\n", count, sizeof plans / sizeof *plans);
	tc_worker_free(worker);
	tc_rulebook_free(rulebook);
	tc_arena_free(arena);
	free_files(&f);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(the_same_plan_in_other_units)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
