/* What must hold of the cups and the air of every example, with the default rulebook. */
#include "plan_of.h"

#include <math.h>

#define NEAR(a, b) assert_true(fabs((a) - (b)) <= 1e-9 * fmax(fabs(a), fabs(b)) + 1e-18)

static void check_supply(const tc_supply *s, const tc_timetable *table)
{
	double uses = 0, ready = 0, left = 0;
	for (uint32_t i = 0; i < s->cups; i++) {
		const tc_cupful *cup = &s->cup[i];
		assert_true(cup->passes > 0 && cup->pours > 0 && cup->terms > 0);
		assert_true(cup->task <= cup->last_task && cup->last_task < table->tasks);
		assert_true(cup->lacks == 0 || isnan(cup->ready));
		if (isnan(cup->ready))
			continue;
		assert_true(cup->lands > 0 && cup->lost > 0 && cup->ready < 1);
		NEAR(cup->lands + cup->lost, cup->ready);
		ready += cup->ready;
		left += cup->left;
	}
	for (uint32_t i = 0; i < s->layings; i++)
		uses += isnan(s->cup[s->laying[i].cup].ready) ? 0 : s->laying[i].uses;
	NEAR(uses + left, ready);
	for (uint32_t i = 0; i < s->purchases; i++) {
		assert_true(s->purchase[i].steps > 0);
		assert_true(i == 0 || strcmp(s->purchase[i - 1].name, s->purchase[i].name) != 0);
	}
}

/* The steps at which a caution of that id shows. */
static bool cautioned(const tc_judgement *judgement, const char *id, uint32_t step)
{
	for (uint32_t i = 0; i < judgement->cautions; i++)
		for (uint32_t k = 0; k < judgement->caution[i].steps; k++)
			if (strcmp(judgement->caution[i].caution->id, id) == 0 && judgement->caution[i].step[k] == step)
				return true;
	return false;
}

static void check_breath(const tc_plan *plan)
{
	const tc_breath *b = plan->breath;
	double mass = 0, liquid = plan->supply->cleaning;
	for (uint32_t i = 0; i < b->sittings; i++) {
		const tc_sitting *s = &b->sitting[i];
		bool isocyanate = false;
		assert_true(s->from <= s->to && s->task <= s->last_task);
		assert_true(i == 0 || (s->from > b->sitting[i - 1].to && s->task == b->sitting[i - 1].last_task + 1));
		assert_true(s->peak_index >= 0 && s->mean_index >= 0 && s->lel_share >= 0 && s->clear >= 0);
		for (uint32_t v = 0; v < s->vapours; v++)
			assert_true(s->vapour[v].mean <= s->vapour[v].peak * (1 + 1e-9));
		for (uint32_t t = s->task; t <= s->last_task; t++)
			isocyanate |= cautioned(plan->written, "isocyanate-spray", plan->table->task[t].step->number);
		assert_int_equal(s->isocyanate, isocyanate);
		mass += s->mass;
	}
	for (uint32_t i = 0; i < plan->supply->cups; i++)
		liquid += isnan(plan->supply->cup[i].ready) ? 0 : plan->supply->cup[i].ready;
	for (uint32_t p = 0; p < plan->written->model->parts; p++) { /* and what wipes leave, 100 µm each */
		const tc_part *part = &plan->written->model->part[p];
		if (tc_known(part->written->area))
			liquid += part->written->area.number * 1e-4 * part->steps;
	}
	assert_true(mass <= liquid * 1700); /* none is heavier than that, kg/m³ */
}

static uint32_t look_at(bench *b, const char *pattern)
{
	glob_t found;
	assert_int_equal(glob(pattern, 0, NULL, &found), 0);
	for (size_t i = 0; i < found.gl_pathc; i++) {
		size_t length;
		char *text = slurp(found.gl_pathv[i], &length);
		assert_non_null(text);
		const tc_plan *plan = planned(b, found.gl_pathv[i], text);
		check_supply(plan->supply, plan->table);
		check_breath(plan);
		free(text);
	}
	const uint32_t count = (uint32_t)found.gl_pathc;
	globfree(&found);
	return count;
}

static void examples(void **state)
{
	assert_true(look_at(*state, "examples/*.yaml") >= 10);
}

static void reference_recipes(void **state)
{
	assert_true(look_at(*state, "tests/reference/sound/*.yaml") >= 30);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(examples), cmocka_unit_test(reference_recipes)};
	return cmocka_run_group_tests(tests, bench_open, bench_close);
}
