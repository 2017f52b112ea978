/*
 * Drying of pure liquids against published evaporation rates (n-butyl acetate = 1): the time until a tenth of a film
 * without binder is left, in dry air at 25 C.  The published rates come from memory and differ among themselves by 5 to
 * 40 %.
 */
#include <math.h>

#include "science/drying.h"

#include "solvents.h"

static struct table solvents;

struct rate {
	const char *id;
	double published, computed;
};

static double time_of(const struct tc_solvent *solvent)
{
	static const struct tc_drying_air air = {.temperature = 298.15, .speed = 0.1, .length = 0.1, .still = 1e-3};
	static const struct tc_drying_law law = {
		.set_share = 0.2, .chi = 0.4, .cooling = 0.5, .diffusivity = 1e-13, .size = 100e-6, .fall = 40e-6};
	double one = 1.0, time = 0.0;
	struct tc_wet_film film = {solvent, &one, 1, 20e-6, 0.0};
	struct tc_drying out;
	if (tc_drying_run(&film, &air, &law, NULL, &out) != TC_DRYING_SETS || !tc_drying_time_to(&out, 0.1, &time))
		exit(1);
	return time;
}

/* Mean rank of a value among others. */
static double rank(const struct rate *rates, size_t count, double value, bool published)
{
	double below = 0.0, same = 0.0;
	for (size_t i = 0; i < count; i++) {
		double other = published ? rates[i].published : rates[i].computed;
		below += other < value;
		same += other == value;
	}
	return below + 0.5 * (same + 1.0);
}

/* Spearman: the correlation of the ranks. */
static double spearman(const struct rate *rates, size_t count)
{
	double mean = 0.5 * ((double)count + 1.0), ab = 0.0, aa = 0.0, bb = 0.0;
	for (size_t i = 0; i < count; i++) {
		double a = rank(rates, count, rates[i].published, true) - mean;
		double b = rank(rates, count, rates[i].computed, false) - mean;
		ab += a * b;
		aa += a * a;
		bb += b * b;
	}
	return ab / sqrt(aa * bb);
}

static void print_factors(const struct rate *rates, size_t count, double *rms, size_t *within_two)
{
	double square = 0.0, bias = 0.0;
	size_t half = 0;
	*within_two = 0;
	for (size_t i = 0; i < count; i++) {
		double off = log(rates[i].computed / rates[i].published);
		square += off * off;
		bias += off;
		*within_two += fabs(off) < log(2.0);
		half += fabs(off) < log(1.5);
		printf("%-26s published %6.3f computed %6.3f factor %.2f\n", rates[i].id, rates[i].published,
			rates[i].computed, exp(off));
	}
	*rms = exp(sqrt(square / (double)count));
	printf("%zu solvents: rms factor %.3f, bias %.3f, within 1.5: %zu, within 2: %zu\n", count, *rms,
		exp(bias / (double)count), half, *within_two);
}

int main(void)
{
	struct rate rates[TABLE_ROWS];
	size_t count = 0, within_two;
	table_read(&solvents, "tests/reference/science/solvents.tsv");
	struct tc_solvent reference = solvent_named(&solvents, "n-butyl-acetate");
	double base = time_of(&reference), rms;
	for (size_t row = 0; row < solvents.rows; row++) {
		struct tc_solvent solvent = solvent_at(&solvents, row);
		const char *id = table_text(&solvents, row, "id");
		if (strcmp(id, "n-butyl-acetate") != 0)
			rates[count++] =
				(struct rate){id, table_number(&solvents, row, "rer"), base / time_of(&solvent)};
	}
	print_factors(rates, count, &rms, &within_two);
	double order = spearman(rates, count);
	printf("summary: %zu evaporation rates, Spearman %.3f, rms factor %.2f, %zu within a factor of 2\n", count,
		order, rms, within_two);
	return count >= 20 && order > 0.95 && rms < 1.5 && within_two * 10 >= count * 9 ? 0 : 1;
}
