/*
 * RED < 1 as a prediction of attack, against outcomes from sources to which no sphere was fitted.  Stress cracks and
 * little swelling ("partly") are counted apart: RED alone does not claim to tell them.  Outcomes only seen above 30 C
 * are left out. The spheres were chosen after a look at such outcomes: the accuracy is optimistic.
 */
#include <math.h>

#include "science/solvency.h"

#include "solvents.h"

static struct table solvents, spheres, outcomes;

struct tally {
	const char *family;
	size_t rows, right, alarms, misses;
};

static bool at_room(const char *temperature)
{
	char *end;
	double from = strtod(temperature, &end);
	return strcmp(temperature, "room") == 0 || (end != temperature && from <= 30.0);
}

static bool sphere_of(const char *family, struct tc_sphere *sphere)
{
	for (size_t row = 0; row < spheres.rows; row++) {
		if (strcmp(table_text(&spheres, row, "family"), family) != 0)
			continue;
		sphere->centre = (struct tc_hansen){table_number(&spheres, row, "d") * 1e3,
			table_number(&spheres, row, "p") * 1e3, table_number(&spheres, row, "h") * 1e3};
		sphere->r0 = table_number(&spheres, row, "r0") * 1e3;
		return true;
	}
	return false;
}

static struct tally *tally_of(struct tally *tallies, size_t *count, const char *family)
{
	for (size_t i = 0; i < *count; i++)
		if (strcmp(tallies[i].family, family) == 0)
			return &tallies[i];
	tallies[*count] = (struct tally){.family = family};
	return &tallies[(*count)++];
}

static void judge(struct tally *tally, const char *solvent, bool attacked, double red)
{
	bool predicted = red < 1.0;
	tally->rows++;
	tally->right += predicted == attacked;
	tally->alarms += predicted && !attacked;
	tally->misses += !predicted && attacked;
	if (predicted != attacked)
		printf("%-6s %-22s RED %.2f, %s\n", tally->family, solvent, red, attacked ? "missed" : "false alarm");
}

int main(void)
{
	static struct tally tallies[64];
	struct tally all = {.family = "all"};
	size_t families = 0, apart = 0, apart_hot = 0, attacks = 0;
	table_read(&solvents, "tests/reference/science/solvents.tsv");
	table_read(&spheres, "tests/reference/science/spheres.tsv");
	table_read(&outcomes, "tests/reference/science/outcomes.tsv");
	for (size_t row = 0; row < outcomes.rows; row++) {
		struct tc_sphere sphere;
		const char *family = table_text(&outcomes, row, "family"), *id = table_text(&outcomes, row, "solvent");
		const char *attacked = table_text(&outcomes, row, "attacked");
		double red;
		struct tc_solvent solvent = solvent_named(&solvents, id);
		if (!at_room(table_text(&outcomes, row, "temperature")) || !sphere_of(family, &sphere))
			continue;
		if (!tc_hansen_red(solvent.hansen, &sphere, &red))
			return 1;
		if (strcmp(attacked, "yes") != 0 && strcmp(attacked, "no") != 0) {
			printf("%-6s %-22s RED %.2f, apart: %s\n", family, id, red,
				table_text(&outcomes, row, "outcome"));
			apart++;
			apart_hot += red < 1.0;
			continue;
		}
		attacks += strcmp(attacked, "yes") == 0;
		judge(tally_of(tallies, &families, family), id, strcmp(attacked, "yes") == 0, red);
	}
	printf("family   rows right false-alarms misses\n");
	for (size_t i = 0; i < families; i++) {
		struct tally *t = &tallies[i];
		printf("%-8s %4zu %5zu %12zu %6zu\n", t->family, t->rows, t->right, t->alarms, t->misses);
		all.rows += t->rows;
		all.right += t->right;
		all.alarms += t->alarms;
		all.misses += t->misses;
	}
	printf("counted apart: %zu rows, RED below 1 in %zu\n", apart, apart_hot);
	printf("of %zu attacks %zu missed; of %zu without attack %zu false alarms\n", attacks, all.misses,
		all.rows - attacks, all.alarms);
	double accuracy = (double)all.right / (double)all.rows;
	printf("summary: %zu outcomes on %zu solids: %.0f %% right, %zu false alarms, %zu misses\n", all.rows, families,
		accuracy * 100.0, all.alarms, all.misses);
	return families >= 6 && all.rows >= 60 && accuracy > 0.75 ? 0 : 1;
}
