/* Quantities, windows, ratios: in, out, and what is said of what is wrong. */
#include "base/quantity.h"

#include "base/limits.h"
#include "check.h"

static tc_quantity read_one(const char *text, bool absolute_k)
{
	tc_quantity q;
	tc_quantity_error error = {0};
	if (!tc_quantity_read(tc_text_of(text), absolute_k, &q, &error))
		fail_msg("`%s`: %s", text, error.message);
	return q;
}

static void assert_close(double actual, double expected)
{
	if (!(fabs(actual - expected) <= 1e-12 * fabs(expected)))
		fail_msg("%.17g is not %.17g", actual, expected);
}

typedef struct reading {
	const char *text;
	tc_type type;
	const tc_dim *dim;
	double si;
} reading;

/* Every unit of the table, with its definition in SI. Factors of inch, pound, psi, US fluid ounce: exact by the
 * international yard and pound of 1959 and the US gallon of 231 in³, from memory; the rest follow by own arithmetic. */
static const reading units[] = {
    {"1 µm", TC_T_NUMBER, &TC_DIM_LENGTH, 1e-6},
    {"1 um", TC_T_NUMBER, &TC_DIM_LENGTH, 1e-6},
    {"1 mm", TC_T_NUMBER, &TC_DIM_LENGTH, 1e-3},
    {"1 cm", TC_T_NUMBER, &TC_DIM_LENGTH, 1e-2},
    {"1 m", TC_T_NUMBER, &TC_DIM_LENGTH, 1},
    {"1 mil", TC_T_NUMBER, &TC_DIM_LENGTH, 25.4e-6},
    {"1 in", TC_T_NUMBER, &TC_DIM_LENGTH, 0.0254},
    {"1 ft", TC_T_NUMBER, &TC_DIM_LENGTH, 0.3048},
    {"1 mm²", TC_T_NUMBER, &TC_DIM_AREA, 1e-6},
    {"1 cm²", TC_T_NUMBER, &TC_DIM_AREA, 1e-4},
    {"1 m²", TC_T_NUMBER, &TC_DIM_AREA, 1},
    {"1 ft²", TC_T_NUMBER, &TC_DIM_AREA, 0.09290304},
    {"1 ml", TC_T_NUMBER, &TC_DIM_VOLUME, 1e-6},
    {"1 l", TC_T_NUMBER, &TC_DIM_VOLUME, 1e-3},
    {"1 floz", TC_T_NUMBER, &TC_DIM_VOLUME, 231.0 / 128 * 0.0254 * 0.0254 * 0.0254},
    {"1 cm³", TC_T_NUMBER, &TC_DIM_VOLUME, 1e-6},
    {"1 m³", TC_T_NUMBER, &TC_DIM_VOLUME, 1},
    {"1 ft³", TC_T_NUMBER, &TC_DIM_VOLUME, 0.028316846592},
    {"1 µg", TC_T_NUMBER, &TC_DIM_MASS, 1e-9},
    {"1 mg", TC_T_NUMBER, &TC_DIM_MASS, 1e-6},
    {"1 g", TC_T_NUMBER, &TC_DIM_MASS, 1e-3},
    {"1 kg", TC_T_NUMBER, &TC_DIM_MASS, 1},
    {"1 oz", TC_T_NUMBER, &TC_DIM_MASS, 0.028349523125},
    {"1 lb", TC_T_NUMBER, &TC_DIM_MASS, 0.45359237},
    {"1 s", TC_T_NUMBER, &TC_DIM_TIME, 1},
    {"1 min", TC_T_NUMBER, &TC_DIM_TIME, 60},
    {"1 h", TC_T_NUMBER, &TC_DIM_TIME, 3600},
    {"1 d", TC_T_NUMBER, &TC_DIM_TIME, 86400},
    {"1 week", TC_T_NUMBER, &TC_DIM_TIME, 604800},
    {"1 month", TC_T_NUMBER, &TC_DIM_TIME, 2592000},
    {"1 year", TC_T_NUMBER, &TC_DIM_TIME, 31557600},
    {"0 °C", TC_T_TEMPERATURE, &TC_DIM_NONE, 273.15},
    {"212 °F", TC_T_TEMPERATURE, &TC_DIM_NONE, 373.15},
    {"-40 degF", TC_T_TEMPERATURE, &TC_DIM_NONE, 233.15},
    {"1 K", TC_T_NUMBER, &TC_DIM_KELVIN, 1},
    {"15 %", TC_T_SHARE, &TC_DIM_NONE, 0.15},
    {"20 ppm", TC_T_SHARE, &TC_DIM_NONE, 20e-6},
    {"5 ppb", TC_T_SHARE, &TC_DIM_NONE, 5e-9},
    {"1 m/s", TC_T_NUMBER, &TC_DIM_SPEED, 1},
    {"1 ft/min", TC_T_NUMBER, &TC_DIM_SPEED, 0.00508},
    {"1 m³/h", TC_T_NUMBER, &TC_DIM_FLOW, 1 / 3600.0},
    {"1 cfm", TC_T_NUMBER, &TC_DIM_FLOW, 0.028316846592 / 60},
    {"1 Pa", TC_T_NUMBER, &TC_DIM_PRESSURE, 1},
    {"1 kPa", TC_T_NUMBER, &TC_DIM_PRESSURE, 1000},
    {"1 MPa", TC_T_NUMBER, &TC_DIM_PRESSURE, 1e6},
    {"1 bar", TC_T_NUMBER, &TC_DIM_PRESSURE, 1e5},
    {"1 psi", TC_T_NUMBER, &TC_DIM_PRESSURE, 6894.757293168361}, /* lbf/in², from memory */
    {"1 mPa·s", TC_T_NUMBER, &TC_DIM_VISCOSITY, 1e-3},
    {"1 g/mol", TC_T_NUMBER, &TC_DIM_MOLAR_MASS, 1e-3},
    {"1 cm³/mol", TC_T_NUMBER, &TC_DIM_MOLAR_VOLUME, 1e-6},
    {"1 g/cm³", TC_T_NUMBER, &TC_DIM_DENSITY, 1000},
    {"1 kg/m³", TC_T_NUMBER, &TC_DIM_DENSITY, 1},
    {"1 g/ml", TC_T_NUMBER, &TC_DIM_DENSITY, 1000},
    {"1 kJ/mol", TC_T_NUMBER, &TC_DIM_MOLAR_ENERGY, 1000},
    {"1 mN/m", TC_T_NUMBER, &TC_DIM_SURFACE_TENSION, 1e-3},
    {"1 MPa½", TC_T_NUMBER, &TC_DIM_SOLUBILITY, 1000},
    {"1 m²/s", TC_T_NUMBER, &TC_DIM_DIFFUSIVITY, 1},
    {"1 mg/m³", TC_T_NUMBER, &TC_DIM_MASS_CONCENTRATION, 1e-6},
};

static void every_unit(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(units); i++) {
		const tc_quantity q = read_one(units[i].text, false);
		assert_int_equal(q.type, units[i].type);
		assert_true(tc_dim_same(q.dim, *units[i].dim));
		assert_false(q.bare);
		assert_close(q.si, units[i].si);
	}
	const tc_quantity coverage = read_one("8 m²/l", false), rate = read_one("0.5 1/s", false);
	assert_close(coverage.si, 8000);
	assert_true(tc_dim_same(coverage.dim, (tc_dim){.length = -2}));
	assert_close(rate.si, 0.5);
	assert_true(tc_dim_same(rate.dim, (tc_dim){.time = -2}));
}

static void forms_that_keyboards_give(void **state)
{
	(void)state;
	static const char *const same[][8] = {
	    {"18 µm", "18 \xC2\xB5m", "18 \xCE\xBCm", "18um", " 18\xC2\xA0µm ", "18\xE2\x80\xAFum", "18.0 um",
	        "1.8e1 µm"},
	    {"410 cm²", "410 cm2", "410 cm^2", "410cm²"},
	    {"32 m³", "32 m3", "32 m^3"},
	    {"300 m³/h", "300 m3/h", "300 m^3/h"},
	    {"21 °C", "21 degC", "21°C", "294.15 K"},
	    {"18.2 MPa½", "18.2 MPa^0.5", "18.2 MPa^½", "18.2 MPa0.5"},
	    {"25 mPa·s", "25 mPa.s", "25 mPa⋅s"},
	    {"120 cm³/mol", "120 cm3/mol"},
	    {"1.2 g/cm³", "1.2 g/cm3", "1.2 g/cm^3", "1.2 g/ml"},
	    {"2 l", "2 L", "2000 mL", "2000 ml", "2000 cm3"},
	    {"0.5 in", ".5 in", "0.5 inch", "0.5 inches"},
	    {"90 s", "90 seconds", "1.5 min", "1.5 minutes", "0.025 h"},
	    {"48 h", "48 hours", "2 d", "2 days"},
	    {"2 week", "2 weeks", "14 d"},
	    {"3 months", "3 month", "90 d"},
	    {"10 y", "10 years", "10 year", "3652.5 d"},
	    {"2 mil", "2 mils", "50.8 µm"},
	};
	for (size_t i = 0; i < COUNT_OF(same); i++) {
		const tc_quantity first = read_one(same[i][0], true);
		for (size_t j = 1; j < COUNT_OF(same[i]) && same[i][j]; j++) {
			const tc_quantity q = read_one(same[i][j], true);
			assert_int_equal(q.type, first.type);
			assert_true(tc_dim_same(q.dim, first.dim));
			assert_close(q.si, first.si);
		}
	}
}

static void exact_where_it_can_be(void **state)
{
	(void)state;
	assert_true(read_one("35 %", false).si == 0.35);
	assert_true(read_one("7 %", false).si == 0.07);
	assert_true(read_one("35 µm", false).si == 35e-6);
	assert_true(read_one("0.3 mm", false).si == 0.3e-3);
	assert_true(read_one("-273.15 °C", false).si == 0);
	assert_true(read_one("-459.67 °F", false).si == 0);
	assert_true(read_one("0 K", true).si == 0);
}

static void bare_numbers_and_kelvin(void **state)
{
	(void)state;
	const tc_quantity q = read_one(" 7.50 ", false);
	assert_true(q.bare);
	assert_int_equal(q.type, TC_T_NUMBER);
	assert_true(tc_dim_none(q.dim));
	assert_true(q.si == 7.5);
	assert_int_equal(read_one("300 K", true).type, TC_T_TEMPERATURE);
	assert_true(tc_dim_none(read_one("300 K", true).dim));
	assert_int_equal(read_one("300 K", false).type, TC_T_NUMBER);
	assert_true(read_one("-5 K", false).si == -5);
	assert_true(read_one("-5 %", false).si == -0.05);
}

typedef struct refusal {
	const char *text;
	size_t at;
	const char *message;
} refusal;

static void refusals(void **state)
{
	(void)state;
	static const refusal rows[] = {
	    {"7,5 ml", 0, "`7,5 ml` has a decimal comma; write `7.5 ml`"},
	    {"  7,5", 2, "`7,5` has a decimal comma; write `7.5`"},
	    {",5 mm", 0, "`,5 mm` has a decimal comma; write `0.5 mm`"},
	    {"1,000 ml", 0, "`1,000 ml` has a comma; write `1000 ml`, or `1.000 ml` if it is a decimal comma"},
	    {"1 000 ml", 0, "`1 000 ml` has its digits in groups; write `1000 ml`"},
	    {"1\xC2\xA0"
	     "000 ml",
	        0,
	        "`1\xC2\xA0"
	        "000 ml` has its digits in groups; write `1000 ml`"},
	    {"1_000", 0, "`1_000` has its digits in groups; write `1000`"},
	    {"12'345'678 s", 0, "`12'345'678 s` has its digits in groups; write `12345678 s`"},
	    {"1’000 g", 0, "`1’000 g` has its digits in groups; write `1000 g`"},
	    {"\xE2\x88\x92"
	     "5 °C",
	        0,
	        "`\xE2\x88\x92"
	        "5 °C` begins with a dash that is no minus sign; write `-5 °C`"},
	    {"–5 °C", 0, "`–5 °C` begins with a dash that is no minus sign; write `-5 °C`"},
	    {"+5 m", 0, "a `+` in front of a number is not needed; write `5 m`"},
	    {"1.2.3", 0, "`1.2.3` has two points"},
	    {"1. mm", 0, "`1. mm` has a point without digits behind it"},
	    {"12 mins", 3, "no unit `mins`; `min` is near"},
	    {"5 hr", 2, "no unit `hr`; `h` is near"},
	    {"5 sec", 2, "no unit `sec`; `s` is near"},
	    {"30 C", 3, "no unit `C`; `°C` is near"},
	    {"30 °c", 3, "no unit `°c`; `°C` is near"},
	    {"40 microns", 3, "no unit `microns`; `µm` is near"},
	    {"3 hous", 2, "no unit `hous`; `h` is near"},
	    {"3 furlongs", 2, "no unit `furlongs`"},
	    {"5 m³/s", 2, "no unit `m³/s`; `m³/h` is near"},
	    {"5 m_x", 2, "no unit `m_x`"},
	    {"5 mé", 2, "no unit `mé`"},
	    {"60 ml tin", 6, "`tin` behind the unit is not understood"},
	    {"1 h 30 min", 4, "`1 h 30 min` is two times in one; write `90 min`"},
	    {"1 min 30 s", 6, "`1 min 30 s` is two times in one; write `90 s`"},
	    {"10 min to 48 h", 7, "`10 min to 48 h` is not one figure, and one is wanted here"},
	    {"10 min on", 7, "`10 min on` is not one figure, and one is wanted here"},
	    {"10 to 20 min", 3, "`10 to 20 min` is not one figure, and one is wanted here"},
	    {"10-20 min", 2, "`10-20 min` is not one figure, and one is wanted here"},
	    {"10–20 min", 2, "`10–20 min` is not one figure, and one is wanted here"},
	    {"2:1", 1, "`2:1` is not one figure, and one is wanted here"},
	    {"-300 °C", 0, "`-300 °C` is below absolute zero"},
	    {"-1 K", 0, "`-1 K` is below absolute zero"},
	    {"1e999 m", 0, "`1e999` is too large a number"},
	    {"1e308 d", 0, "`1e308 d` is too large a number"},
	    {"inf", 0, "`inf` does not begin with a number; write one with its unit, such as `12 min`"},
	    {"nan mm", 0, "`nan mm` does not begin with a number; write one with its unit, such as `12 min`"},
	    {"0x10 m", 1, "no unit `x10`"},
	    {"- 5 °C", 0, "`- 5 °C` does not begin with a number; write one with its unit, such as `12 min`"},
	    {"", 0, "there is no number; write one with its unit, such as `12 min`"},
	    {"  ", 2, "there is no number; write one with its unit, such as `12 min`"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		tc_quantity q;
		tc_quantity_error error = {0};
		assert_false(tc_quantity_read(tc_text_of(rows[i].text), true, &q, &error));
		assert_string_equal(error.message, rows[i].message);
		assert_int_equal(error.at, rows[i].at);
	}
}

/* However long the text, the message is cut between code points and fits. */
static void long_refusals(void **state)
{
	(void)state;
	char text[500];
	for (size_t shift = 0; shift < 6; shift++) {
		memset(text, '1', shift);
		for (size_t i = shift; i + 2 < sizeof text; i += 2)
			memcpy(text + i, "µ", 2);
		text[498] = 0;
		tc_quantity q;
		tc_quantity_error error = {0};
		assert_false(tc_quantity_read(tc_text_of(text), true, &q, &error));
		assert_int_equal(tc_utf8_bad(error.message, strlen(error.message)), strlen(error.message));
		assert_non_null(strstr(error.message, "…`"));
	}
	memset(text, '1', sizeof text);
	memcpy(text + 200, "_111", 4);
	tc_quantity q;
	tc_quantity_error error = {0};
	assert_false(tc_quantity_read((tc_text){text, sizeof text}, true, &q, &error));
	assert_true(strlen(error.message) < sizeof error.message);
}

static void units_at_the_start(void **state)
{
	(void)state;
	static const struct {
		const char *text, *name;
		size_t bytes;
	} rows[] = {
	    {"min, 3)", "min", 3},
	    {"m/s", "m/s", 3},
	    {"m/step", "m", 1}, /* a division by something called step */
	    {"h/2", "h", 1},
	    {"h.first", "h", 1},
	    {"in under.recoat", "in", 2},
	    {"%)", "%", 1},
	    {"% - x", "%", 1},
	    {"cm²]", "cm²", 4},
	    {"°C and", "°C", 3},
	    {"MPa½", "MPa½", 5},
	    {"MPa*2", "MPa", 3},
	    {"1/s", "1/s", 3},
	    {"hours", "h", 5},
	    {"d\xC2\xA0", "d", 1},
	    {"m^2/l ", "m²/l", 5},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		const tc_unit *unit = NULL;
		assert_int_equal(tc_unit_read(tc_text_of(rows[i].text), &unit), rows[i].bytes);
		assert_string_equal(unit->name, rows[i].name);
	}
	static const char *const none[] = {
	    "", " min", "mins", "to 3", "x", "°", "µ", "/s", "min_x", "cm²x", "hä", "^2", "1"};
	for (size_t i = 0; i < COUNT_OF(none); i++) {
		const tc_unit *unit;
		assert_int_equal(tc_unit_read(tc_text_of(none[i]), &unit), 0);
	}
	assert_non_null(tc_unit_find(TC_TEXT("m³/h")));
	assert_null(tc_unit_find(TC_TEXT("m³/h ")));
	assert_null(tc_unit_find(TC_TEXT("")));
	assert_true(tc_unit_find(TC_TEXT("K"))->difference);
	assert_true(tc_text_is(tc_unit_nearest(TC_TEXT("minuts")), "min"));
	assert_true(tc_text_is(tc_unit_nearest(TC_TEXT("KJ/mol")), "kJ/mol"));
	assert_true(tc_text_is(tc_unit_nearest(TC_TEXT("stone")), ""));
}

static const char *printed(tc_type type, tc_dim dim, double si, int digits, const char *unit)
{
	static char text[100];
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_quantity_print(&out, type, dim, si, digits, unit ? tc_unit_find(tc_text_of(unit)) : NULL);
	snprintf(text, sizeof text, "%s", out.at);
	tc_buffer_free(&out);
	return text;
}

static void printing(void **state)
{
	(void)state;
	static const struct {
		const char *read, *printed;
	} rows[] = {
	    {"18 µm", "18 µm"},
	    {"0.4 mm", "400 µm"},
	    {"999.4 µm", "999 µm"},
	    {"999.7 µm", "1 mm"},
	    {"0.999 mm", "999 µm"},
	    {"62 mm", "62 mm"},
	    {"210 mm", "210 mm"},
	    {"1.5 m", "1.5 m"},
	    {"0 mm", "0 µm"},
	    {"-3 mm", "-3 mm"},
	    {"30 s", "30 s"},
	    {"90 s", "1.5 min"},
	    {"5 min", "5 min"},
	    {"59.99 min", "1 h"},
	    {"24 h", "24 h"},
	    {"47.43 h", "47.4 h"},
	    {"72 h", "3 d"},
	    {"300 d", "300 d"},
	    {"1 y", "365 d"},
	    {"10 y", "10 years"},
	    {"410 cm²", "410 cm²"},
	    {"50 mm²", "50 mm²"},
	    {"2 m²", "2 m²"},
	    {"60 ml", "60 ml"},
	    {"1.25 l", "1.25 l"},
	    {"32 m³", "32 m³"},
	    {"7 mg", "7 mg"},
	    {"1.5 g", "1.5 g"},
	    {"2 kg", "2 kg"},
	    {"0.4 m/s", "0.4 m/s"},
	    {"300 m³/h", "300 m³/h"},
	    {"1.5 bar", "150 kPa"},
	    {"5 Pa", "5 Pa"},
	    {"2400 MPa", "2400 MPa"},
	    {"25 mPa·s", "25 mPa·s"},
	    {"92.14 g/mol", "92.1 g/mol"},
	    {"106.3 cm³/mol", "106 cm³/mol"},
	    {"0.867 g/cm³", "0.867 g/cm³"},
	    {"377 mg/m³", "377 mg/m³"},
	    {"35 kJ/mol", "35 kJ/mol"},
	    {"28.4 mN/m", "28.4 mN/m"},
	    {"18.2 MPa½", "18.2 MPa½"},
	    {"1e-13 m²/s", "1e-13 m²/s"},
	    {"8 m²/l", "8 m²/l"},
	    {"0.5 1/s", "0.5 1/s"},
	    {"61.7 %", "61.7 %"},
	    {"21 °C", "21 °C"},
	    {"70 °F", "21.1 °C"},
	    {"10 K", "10 K"},
	    {"7.5", "7.5"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		const tc_quantity q = read_one(rows[i].read, false);
		assert_string_equal(printed(q.type, q.dim, q.si, 3, NULL), rows[i].printed);
	}
	assert_string_equal(printed(TC_T_NUMBER, TC_DIM_TIME, 5400, 3, "min"), "90 min");
	assert_string_equal(printed(TC_T_NUMBER, TC_DIM_TIME, 604800, 3, "week"), "1 week");
	assert_string_equal(printed(TC_T_NUMBER, TC_DIM_TIME, 1209600, 3, "week"), "2 weeks");
	assert_string_equal(printed(TC_T_TEMPERATURE, TC_DIM_NONE, 294.15, 3, "degF"), "69.8 °F");
	assert_string_equal(printed(TC_T_TEMPERATURE, TC_DIM_NONE, 294.15, 5, "K"), "294.15 K");
	assert_string_equal(printed(TC_T_SHARE, TC_DIM_NONE, 20e-6, 3, "ppm"), "20 ppm");
	assert_string_equal(
	    printed(TC_T_NUMBER, (tc_dim){.length = 2, .mass = 2, .time = -4}, 3, 3, NULL), "3 m·kg·s^-2");
	assert_string_equal(printed(TC_T_NUMBER, TC_DIM_TIME, HUGE_VAL, 3, NULL), "inf years");
}

/* What is printed with 15 digits reads back as the same value, whatever unit was chosen. */
static void printed_quantities_come_back(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(units); i++) {
		const tc_quantity one = read_one(units[i].text, false);
		for (double scale = 1e-7; scale < 1e8; scale *= 3.7) {
			const double si = one.si * scale;
			tc_quantity_error error;
			tc_quantity back;
			const char *text = printed(one.type, one.dim, si, 15, NULL);
			assert_true(tc_quantity_read(tc_text_of(text), false, &back, &error));
			assert_int_equal(back.type, one.type);
			assert_true(tc_dim_same(back.dim, one.dim));
			/* a temperature is read as a difference from 273.15 K, so its error is one of that size */
			assert_true(
			    fabs(back.si - si) <= 1e-13 * fmax(fabs(si), one.type == TC_T_TEMPERATURE ? 300 : 0));
		}
	}
}

static void names_of_dimensions(void **state)
{
	(void)state;
	static const struct {
		tc_dim dim;
		const char *name;
	} rows[] = {
	    {{0}, "a number"},
	    {{.time = 2}, "a time"},
	    {{.length = 2}, "a length"},
	    {{.length = 4}, "an area"},
	    {{.temperature = 2}, "a difference of temperatures"},
	    {{.length = -1, .mass = 1, .time = -2}, "a solubility parameter"},
	    {{.length = -6, .mass = 2}, "a density"},
	    {{.length = 2, .mass = 2, .time = -4}, "a figure in m·kg·s^-2"},
	    {{.length = 6, .time = 3, .amount = 1}, "a figure in m³·s^3/2·mol½"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		tc_buffer out;
		tc_buffer_start(&out, NULL);
		tc_dim_name(rows[i].dim, &out);
		assert_text(out, rows[i].name);
		tc_buffer_free(&out);
	}
}

static void durations(void **state)
{
	(void)state;
	static const struct {
		double seconds;
		const char *text;
	} rows[] = {
	    {0, "0 s"},
	    {0.25, "0.25 s"},
	    {42, "42 s"},
	    {59.6, "1 min"},
	    {90, "1 min 30 s"},
	    {300, "5 min"},
	    {3599.7, "1 h"},
	    {5400, "1 h 30 min"},
	    {86400 - 10, "1 d"},
	    {86400, "1 d"},
	    {2 * 86400, "2 d"},
	    {2 * 86400 + 4 * 3600 + 10, "2 d 4 h"},
	    {300 * 86400.0, "300 d"},
	    {10 * 365.25 * 86400, "10 years"},
	    {-5400, "-1 h 30 min"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		tc_buffer out;
		tc_buffer_start(&out, NULL);
		tc_duration_print(&out, rows[i].seconds);
		assert_text(out, rows[i].text);
		tc_buffer_free(&out);
	}
}

/* The steps are those of the rule language, §10. */
static void waits_round_up(void **state)
{
	(void)state;
	static const struct {
		double seconds, rounded;
	} rows[] = {
	    {0, 0},
	    {1, 60},
	    {60, 60},
	    {60 * (1 + 1e-12), 60},
	    {61, 120},
	    {3599, 3600},
	    {3600, 3600},
	    {3601, 4500},
	    {11.9 * 3600, 12 * 3600},
	    {12 * 3600 + 1, 13 * 3600},
	    {23.43 * 3600, 24 * 3600}, /* worked in the rule language, §15 */
	    {71.5 * 3600, 72 * 3600},
	    {72 * 3600, 3 * 86400},
	    {72 * 3600 + 60, 4 * 86400},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++)
		assert_true(tc_wait_round_up(rows[i].seconds) == rows[i].rounded);
}

static void spans(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		double from, to;
	} rows[] = {
	    {"10 min to 48 h", 600, 172800},
	    {" 10min  to  48h ", 600, 172800},
	    {"10 min on", 600, HUGE_VAL},
	    {"0 s to 1 h", 0, 3600},
	    {"48 h\xC2\xA0on", 172800, HUGE_VAL},
	    {"1 h to 60 min", 3600, 3600},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		tc_span span;
		tc_quantity_error error = {0};
		assert_true(tc_span_read(tc_text_of(rows[i].text), &span, &error));
		assert_true(span.from == rows[i].from && span.to == rows[i].to);
	}
	static const refusal bad[] = {
	    {"10 min", 0, "`10 min` is no window; write one as `10 min to 48 h` or `10 min on`"},
	    {"", 0, "`` is no window; write one as `10 min to 48 h` or `10 min on`"},
	    {"on", 0, "`on` is no window; write one as `10 min to 48 h` or `10 min on`"},
	    {" to 3 h", 1, "`to 3 h` is no window; write one as `10 min to 48 h` or `10 min on`"},
	    {"3 h to ", 0, "`3 h to` is no window; write one as `10 min to 48 h` or `10 min on`"},
	    {"10 minon", 0, "`10 minon` is no window; write one as `10 min to 48 h` or `10 min on`"},
	    {"10 to 48 h", 0, "`10` has no unit; write `10 min` or `10 h`"},
	    {" 10 min to 48", 11, "`48` has no unit; write `48 min` or `48 h`"},
	    {"10 mm to 48 h", 0, "`10 mm` is no time; a window runs from one time to another"},
	    {"10 % on", 0, "`10 %` is no time; a window runs from one time to another"},
	    {"-1 h to 48 h", 0, "`-1 h` is below zero; a window begins at `0 s` or later"},
	    {"2 d to 48 h to 3 d", 15 - 3, "`48 h to 3 d` is not one figure, and one is wanted here"},
	    {"3 d to 48 h", 0, "`3 d to 48 h` ends before it begins"},
	    {"10 min to 48 hrs", 13, "no unit `hrs`; `h` is near"},
	};
	for (size_t i = 0; i < COUNT_OF(bad); i++) {
		tc_span span;
		tc_quantity_error error = {0};
		assert_false(tc_span_read(tc_text_of(bad[i].text), &span, &error));
		assert_string_equal(error.message, bad[i].message);
		assert_int_equal(error.at, bad[i].at);
	}
}

static void ratios(void **state)
{
	(void)state;
	double terms[TC_MIX_PARTS_MAX];
	tc_quantity_error error = {0};
	assert_int_equal(tc_ratio_read(TC_TEXT("2:1"), terms, &error), 2);
	assert_true(terms[0] == 2 && terms[1] == 1);
	assert_int_equal(tc_ratio_read(TC_TEXT(" 1.5 : 1 "), terms, &error), 2);
	assert_true(terms[0] == 1.5);
	assert_int_equal(tc_ratio_read(TC_TEXT("4:1:1:0.5"), terms, &error), TC_MIX_PARTS_MAX);
	assert_true(terms[3] == 0.5);
	static const refusal bad[] = {
	    {"5:4:3:2:1", 8, "a ratio has at most 4 terms"},
	    {"2", 0, "`2` is no ratio; write one as `2:1` or `4:1:1`"},
	    {"2:", 2, "there is no number; write one with its unit, such as `12 min`"},
	    {":1", 0, "`:1` is no ratio; write one as `2:1` or `4:1:1`"},
	    {"2:0", 2, "a term of `2:0` is zero; each must be above it"},
	    {"2:-1", 0, "`2:-1` is no ratio; write one as `2:1` or `4:1:1`"},
	    {"2/1", 0, "`2/1` is no ratio; write one as `2:1` or `4:1:1`"},
	    {"2 parts:1", 0, "`2 parts:1` is no ratio; write one as `2:1` or `4:1:1`"},
	    {"1,5:1", 0, "`1,5:1` has a decimal comma; write `1.5:1`"},
	    {"", 0, "there is no number; write one with its unit, such as `12 min`"},
	};
	for (size_t i = 0; i < COUNT_OF(bad); i++) {
		assert_int_equal(tc_ratio_read(tc_text_of(bad[i].text), terms, &error), 0);
		assert_string_equal(error.message, bad[i].message);
		assert_int_equal(error.at, bad[i].at);
	}
}

/* Any bytes at all: an answer, a message that fits, an offset inside the text. */
static void any_bytes(void **state)
{
	(void)state;
	static const char alphabet[] = "0123456789.,eE-+ _:%/minhdsKCF°µ²½^to on\xC2\xA0\xE2\x88\x92\x80\xFF";
	uint32_t x = 1;
	for (int i = 0; i < 200000; i++) {
		char text[16];
		size_t length = 0;
		x = x * 1664525u + 1013904223u; /* any sequence would do */
		for (const size_t wanted = x >> 28; length < wanted; length++) {
			x = x * 1664525u + 1013904223u;
			text[length] = alphabet[(x >> 8) % (sizeof alphabet - 1)];
		}
		const tc_text t = {text, length};
		tc_quantity q = {0};
		tc_quantity_error error = {.at = 0};
		if (tc_quantity_read(t, true, &q, &error))
			assert_true(isfinite(q.si));
		else
			assert_true(error.at <= length && error.message[0]);
		tc_span span;
		if (tc_span_read(t, &span, &error))
			assert_true(span.from >= 0 && span.to >= span.from);
		else
			assert_true(error.at <= length && error.message[0]);
		double terms[TC_MIX_PARTS_MAX];
		if (tc_ratio_read(t, terms, &error) == 0)
			assert_true(error.at <= length && error.message[0]);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(every_unit),
	    cmocka_unit_test(forms_that_keyboards_give),
	    cmocka_unit_test(exact_where_it_can_be),
	    cmocka_unit_test(bare_numbers_and_kelvin),
	    cmocka_unit_test(refusals),
	    cmocka_unit_test(long_refusals),
	    cmocka_unit_test(units_at_the_start),
	    cmocka_unit_test(printing),
	    cmocka_unit_test(printed_quantities_come_back),
	    cmocka_unit_test(names_of_dimensions),
	    cmocka_unit_test(durations),
	    cmocka_unit_test(waits_round_up),
	    cmocka_unit_test(spans),
	    cmocka_unit_test(ratios),
	    cmocka_unit_test(any_bytes),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
