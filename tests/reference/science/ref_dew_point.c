/*
 * Dew point and wet bulb of water against dew-points.tsv, made by another library from other equations (ASHRAE 2017).
 */
#include <math.h>

#include "science/vapour.h"

#include "solvents.h"

static struct table points, solvents;

struct errors {
	double worst, square;
};

static void add(struct errors *errors, double difference)
{
	errors->worst = fmax(errors->worst, fabs(difference));
	errors->square += difference * difference;
}

int main(void)
{
	table_read(&points, "tests/reference/science/dew-points.tsv");
	table_read(&solvents, "tests/reference/science/solvents.tsv");
	struct tc_solvent water = solvent_named(&solvents, "water");
	struct errors dew = {0}, bulb = {0};
	for (size_t row = 0; row < points.rows; row++) {
		double air = table_number(&points, row, "temperature") + TC_CELSIUS_ZERO;
		double humidity = table_number(&points, row, "humidity") / 100.0, point, saturated, d, film;
		if (!tc_dew_point(air, humidity, &point) || !tc_water_pressure(air, &saturated)
			|| !tc_fuller_diffusivity(air, water.molar_mass, TC_FULLER_WATER, &d)
			|| !tc_wet_bulb(air, &water.antoine, water.vaporisation, d, humidity * saturated, &film)) {
			printf("row %zu: refused\n", row + 1);
			return 1;
		}
		add(&dew, point - TC_CELSIUS_ZERO - table_number(&points, row, "dew_point"));
		double off = film - TC_CELSIUS_ZERO - table_number(&points, row, "wet_bulb");
		if (fabs(off) > bulb.worst)
			printf("wet bulb at %.1f C, %.0f %%: off by %.2f K\n", air - TC_CELSIUS_ZERO, humidity * 100.0,
				off);
		add(&bulb, off);
	}
	double n = (double)points.rows;
	printf("dew point: %zu points, worst %.3f K, rms %.3f K\n", points.rows, dew.worst, sqrt(dew.square / n));
	printf("wet bulb of water: worst %.2f K, rms %.2f K\n", bulb.worst, sqrt(bulb.square / n));
	printf("summary: %zu dew points, worst %.3f K\n", points.rows, dew.worst);
	return points.rows >= 200 && dew.worst < 0.1 && bulb.worst < 1.2 ? 0 : 1;
}
