/* Quantities out: with a unit that suits the size. */
#include <string.h>

#include "base/quantity.h"

/* A step of a ladder: from `least` SI units upwards this unit is used. */
typedef struct rung {
	double least;
	const char *unit;
} rung;

#define RUNGS_MAX 5

typedef struct ladder {
	const tc_dim *dim;
	const char *name; /* 'a time' … */
	rung rungs[RUNGS_MAX];
} ladder;

#define HOUR 3600.0
#define DAY 86400.0

static const tc_dim per_time = {.time = -2}, coverage = {.length = -2};

static const ladder ladders[] = {
    {&TC_DIM_TIME, "a time", {{0, "s"}, {60, "min"}, {HOUR, "h"}, {3 * DAY, "d"}, {1000 * DAY, "year"}}},
    {&TC_DIM_LENGTH, "a length", {{0, "µm"}, {1e-3, "mm"}, {1, "m"}}},
    {&TC_DIM_AREA, "an area", {{0, "mm²"}, {1e-4, "cm²"}, {1, "m²"}}},
    {&TC_DIM_VOLUME, "a volume", {{0, "ml"}, {1e-3, "l"}, {1, "m³"}}},
    {&TC_DIM_MASS, "a mass", {{0, "µg"}, {1e-6, "mg"}, {1e-3, "g"}, {1, "kg"}}},
    {&TC_DIM_KELVIN, "a difference of temperatures", {{0, "K"}}},
    {&TC_DIM_SPEED, "a speed", {{0, "m/s"}}},
    {&TC_DIM_FLOW, "a flow", {{0, "m³/h"}}},
    {&TC_DIM_PRESSURE, "a pressure", {{0, "Pa"}, {100, "kPa"}, {1e7, "MPa"}}},
    {&TC_DIM_VISCOSITY, "a viscosity", {{0, "mPa·s"}}},
    {&TC_DIM_MOLAR_MASS, "a molar mass", {{0, "g/mol"}}},
    {&TC_DIM_MOLAR_VOLUME, "a molar volume", {{0, "cm³/mol"}}},
    {&TC_DIM_DENSITY, "a density", {{0, "mg/m³"}, {0.1, "kg/m³"}, {100, "g/cm³"}}},
    {&TC_DIM_MOLAR_ENERGY, "an energy per mole", {{0, "kJ/mol"}}},
    {&TC_DIM_SURFACE_TENSION, "a surface tension", {{0, "mN/m"}}},
    {&TC_DIM_SOLUBILITY, "a solubility parameter", {{0, "MPa½"}}},
    {&TC_DIM_DIFFUSIVITY, "a diffusivity", {{0, "m²/s"}}},
    {&per_time, "a rate", {{0, "1/s"}}},
    {&coverage, "a coverage", {{0, "m²/l"}}},
};

static const ladder *ladder_of(tc_dim dim)
{
	for (size_t i = 0; i < sizeof ladders / sizeof *ladders; i++)
		if (tc_dim_same(*ladders[i].dim, dim))
			return &ladders[i];
	return NULL;
}

/* --- dimensions --------------------------------------------------------------------------------------------------- */

static void add_power(tc_buffer *out, const char *base, int halves, bool *first)
{
	if (halves == 0)
		return;
	if (!*first)
		tc_buffer_puts(out, "·");
	*first = false;
	tc_buffer_puts(out, base);
	if (halves == 4)
		tc_buffer_puts(out, "²");
	else if (halves == 6)
		tc_buffer_puts(out, "³");
	else if (halves == 1)
		tc_buffer_puts(out, "½");
	else if (halves % 2)
		tc_buffer_print(out, "^%d/2", halves);
	else if (halves != 2)
		tc_buffer_print(out, "^%d", halves / 2);
}

static void add_base_units(tc_buffer *out, tc_dim dim)
{
	bool first = true;
	add_power(out, "m", dim.length, &first);
	add_power(out, "kg", dim.mass, &first);
	add_power(out, "s", dim.time, &first);
	add_power(out, "K", dim.temperature, &first);
	add_power(out, "mol", dim.amount, &first);
}

void tc_dim_name(tc_dim dim, tc_buffer *out)
{
	const ladder *known = ladder_of(dim);
	if (tc_dim_none(dim)) {
		tc_buffer_puts(out, "a number");
	} else if (known) {
		tc_buffer_puts(out, known->name);
	} else {
		tc_buffer_puts(out, "a figure in ");
		add_base_units(out, dim);
	}
}

/* --- quantities --------------------------------------------------------------------------------------------------- */

/* Units that are words take the plural. */
static bool is_word(const char *unit)
{
	return strcmp(unit, "week") == 0 || strcmp(unit, "month") == 0 || strcmp(unit, "year") == 0;
}

static void add_in_unit(tc_buffer *out, double si, int digits, const tc_unit *unit)
{
	const size_t from = out->length;
	tc_buffer_number(out, tc_unit_from_si(unit, si), 1, digits);
	const bool one = !out->failed && tc_text_is((tc_text){out->at + from, out->length - from}, "1");
	tc_buffer_char(out, ' ');
	tc_buffer_puts(out, unit->name);
	if (is_word(unit->name) && !one)
		tc_buffer_char(out, 's');
}

/* The unit for a size. What rounds up to a rung stands on it, so that 999.7 µm is `1 mm`, not `1000 µm`. */
static const tc_unit *unit_for(const ladder *l, double size, int digits)
{
	const double rounded = size * (1 + 0.5 * pow(10, -(digits < 1 ? 1 : digits)));
	const char *name = l->rungs[0].unit;
	for (size_t i = 1; i < RUNGS_MAX && l->rungs[i].unit; i++)
		if (rounded >= l->rungs[i].least)
			name = l->rungs[i].unit;
	return tc_unit_find(tc_text_of(size > 0 ? name : l->rungs[0].unit));
}

void tc_quantity_print(tc_buffer *out, tc_type type, tc_dim dim, double si, int digits, const tc_unit *in)
{
	if (type == TC_T_SHARE && !in)
		in = tc_unit_find(TC_TEXT("%"));
	else if (type == TC_T_TEMPERATURE && !in)
		in = tc_unit_find(TC_TEXT("degC"));
	const ladder *known = ladder_of(dim);
	if (!in && type == TC_T_NUMBER && known)
		in = unit_for(known, fabs(si), digits);
	if (in && in->difference && type == TC_T_TEMPERATURE) {
		tc_buffer_number(out, si, 1, digits);
		tc_buffer_puts(out, " K");
	} else if (in) {
		add_in_unit(out, si, digits, in);
	} else {
		tc_buffer_number(out, si, 1, digits);
		if (!tc_dim_none(dim))
			tc_buffer_char(out, ' ');
		add_base_units(out, dim);
	}
}

/* --- times -------------------------------------------------------------------------------------------------------- */

static void add_count(tc_buffer *out, double count, const char *unit)
{
	tc_buffer_number(out, count, 1, 17);
	tc_buffer_char(out, ' ');
	tc_buffer_puts(out, unit);
}

void tc_duration_print(tc_buffer *out, double seconds)
{
	static const struct {
		double size, fine;
		const char *unit, *fine_unit;
	} scales[] = {{DAY, HOUR, "d", "h"}, {HOUR, 60, "h", "min"}, {60, 1, "min", "s"}};
	if (!isfinite(seconds) || fabs(seconds) >= 1000 * DAY) {
		tc_quantity_print(out, TC_T_NUMBER, TC_DIM_TIME, seconds, 3, NULL);
		return;
	}
	if (seconds < 0) {
		tc_buffer_char(out, '-');
		seconds = -seconds;
	}
	for (size_t i = 0; i < sizeof scales / sizeof *scales; i++) {
		const double rounded = rint(seconds / scales[i].fine) * scales[i].fine;
		if (rounded < scales[i].size)
			continue;
		const double whole = floor(rounded / scales[i].size), part = rounded - whole * scales[i].size;
		add_count(out, whole, scales[i].unit);
		if (part > 0) {
			tc_buffer_char(out, ' ');
			add_count(out, part / scales[i].fine, scales[i].fine_unit);
		}
		return;
	}
	tc_quantity_print(out, TC_T_NUMBER, TC_DIM_TIME, seconds, 3, NULL);
}

double tc_wait_round_up(double seconds)
{
	const double step = seconds < HOUR ? 60 : seconds < 12 * HOUR ? 900 : seconds < 3 * DAY ? HOUR : DAY;
	const double steps = seconds / step, nearest = rint(steps);
	return (tc_compare(steps, nearest) == 0 ? nearest : ceil(steps)) * step;
}
