/* The table of units, and the forms in which keyboards give them. */
#include <string.h>

#include "base/quantity.h"

/* Exponents in halves: 2 is one, 1 a square root. */
#define LENGTH .length = 2
#define AREA .length = 4
#define VOLUME .length = 6
#define MASS .mass = 2
#define TIME .time = 2
#define KELVIN .temperature = 2
#define SPEED .length = 2, .time = -2
#define FLOW .length = 6, .time = -2
#define PRESSURE .length = -2, .mass = 2, .time = -4
#define VISCOSITY .length = -2, .mass = 2, .time = -2
#define MOLAR_MASS .mass = 2, .amount = -2
#define MOLAR_VOLUME .length = 6, .amount = -2
#define DENSITY .length = -6, .mass = 2
#define MOLAR_ENERGY .length = 4, .mass = 2, .time = -4, .amount = -2
#define SURFACE_TENSION .mass = 2, .time = -4
#define SOLUBILITY .length = -1, .mass = 1, .time = -2
#define DIFFUSIVITY .length = 4, .time = -2
#define PER_LENGTH .length = -2
#define PER_TIME .time = -2

const tc_dim TC_DIM_NONE = {0}, TC_DIM_TIME = {TIME}, TC_DIM_LENGTH = {LENGTH}, TC_DIM_AREA = {AREA},
             TC_DIM_VOLUME = {VOLUME}, TC_DIM_MASS = {MASS}, TC_DIM_KELVIN = {KELVIN}, TC_DIM_SPEED = {SPEED},
             TC_DIM_FLOW = {FLOW}, TC_DIM_PRESSURE = {PRESSURE}, TC_DIM_VISCOSITY = {VISCOSITY},
             TC_DIM_MOLAR_MASS = {MOLAR_MASS}, TC_DIM_MOLAR_VOLUME = {MOLAR_VOLUME}, TC_DIM_DENSITY = {DENSITY},
             TC_DIM_MOLAR_ENERGY = {MOLAR_ENERGY}, TC_DIM_SURFACE_TENSION = {SURFACE_TENSION},
             TC_DIM_SOLUBILITY = {SOLUBILITY}, TC_DIM_DIFFUSIVITY = {DIFFUSIVITY},
             TC_DIM_MASS_CONCENTRATION = {DENSITY};

// clang-format off
enum {
	UM, MM, CM, M, MIL, INCH, FT,
	MM2, CM2, M2, FT2,
	ML, L, FLOZ, CM3, M3, FT3,
	UG, MG, G, KG, OZ, LB,
	S, MIN, H, D, WEEK, MONTH, YEAR,
	CELSIUS, FAHRENHEIT, K,
	PERCENT, PPM, PPB,
	M_S, FT_MIN, M3_H, CFM,
	PA, KPA, MPA, BAR, PSI, MPA_S,
	G_MOL, CM3_MOL, G_CM3, KG_M3, G_ML, KJ_MOL, MN_M, MPA_HALF, M2_S, MG_M3, M2_L, PER_S,
	UNITS
};
// clang-format on

#define NUMBER(what, scale_, name_)                                                                                    \
	{                                                                                                              \
		.type = TC_T_NUMBER, .dim = {what}, .scale = (scale_), .name = (name_)                                 \
	}
#define SHARE(scale_, name_)                                                                                           \
	{                                                                                                              \
		.type = TC_T_SHARE, .scale = (scale_), .name = (name_)                                                 \
	}

/* The inch is 25.4 mm, the pound 0.453 592 37 kg, the US fluid ounce 1/128 of a gallon of 231 cubic inches, the
 * standard gravity 9.806 65 m/s² (all exact by definition; from memory). A month is 30 d, a year 365.25 d. */
#define FOOT 0.3048
#define POUND 0.45359237

static const tc_unit units[UNITS] = {
    [UM] = NUMBER(LENGTH, 1e-6, "µm"),
    [MM] = NUMBER(LENGTH, 1e-3, "mm"),
    [CM] = NUMBER(LENGTH, 1e-2, "cm"),
    [M] = NUMBER(LENGTH, 1, "m"),
    [MIL] = NUMBER(LENGTH, 25.4e-6, "mil"),
    [INCH] = NUMBER(LENGTH, 0.0254, "in"),
    [FT] = NUMBER(LENGTH, FOOT, "ft"),
    [MM2] = NUMBER(AREA, 1e-6, "mm²"),
    [CM2] = NUMBER(AREA, 1e-4, "cm²"),
    [M2] = NUMBER(AREA, 1, "m²"),
    [FT2] = NUMBER(AREA, FOOT *FOOT, "ft²"),
    [ML] = NUMBER(VOLUME, 1e-6, "ml"),
    [L] = NUMBER(VOLUME, 1e-3, "l"),
    [FLOZ] = NUMBER(VOLUME, 29.5735295625e-6, "floz"),
    [CM3] = NUMBER(VOLUME, 1e-6, "cm³"),
    [M3] = NUMBER(VOLUME, 1, "m³"),
    [FT3] = NUMBER(VOLUME, FOOT *FOOT *FOOT, "ft³"),
    [UG] = NUMBER(MASS, 1e-9, "µg"),
    [MG] = NUMBER(MASS, 1e-6, "mg"),
    [G] = NUMBER(MASS, 1e-3, "g"),
    [KG] = NUMBER(MASS, 1, "kg"),
    [OZ] = NUMBER(MASS, POUND / 16, "oz"),
    [LB] = NUMBER(MASS, POUND, "lb"),
    [S] = NUMBER(TIME, 1, "s"),
    [MIN] = NUMBER(TIME, 60, "min"),
    [H] = NUMBER(TIME, 3600, "h"),
    [D] = NUMBER(TIME, 86400, "d"),
    [WEEK] = NUMBER(TIME, 7 * 86400.0, "week"),
    [MONTH] = NUMBER(TIME, 30 * 86400.0, "month"),
    [YEAR] = NUMBER(TIME, 365.25 * 86400.0, "year"),
    [CELSIUS] = {.type = TC_T_TEMPERATURE, .scale = 1, .offset = 273.15, .name = "°C"},
    [FAHRENHEIT] = {.type = TC_T_TEMPERATURE, .scale = 5.0 / 9, .offset = 459.67 * 5 / 9, .name = "°F"},
    [K] = {.type = TC_T_NUMBER, .dim = {KELVIN}, .scale = 1, .name = "K", .difference = true},
    [PERCENT] = SHARE(1e-2, "%"),
    [PPM] = SHARE(1e-6, "ppm"),
    [PPB] = SHARE(1e-9, "ppb"),
    [M_S] = NUMBER(SPEED, 1, "m/s"),
    [FT_MIN] = NUMBER(SPEED, FOOT / 60, "ft/min"),
    [M3_H] = NUMBER(FLOW, 1 / 3600.0, "m³/h"),
    [CFM] = NUMBER(FLOW, FOOT *FOOT *FOOT / 60, "cfm"),
    [PA] = NUMBER(PRESSURE, 1, "Pa"),
    [KPA] = NUMBER(PRESSURE, 1e3, "kPa"),
    [MPA] = NUMBER(PRESSURE, 1e6, "MPa"),
    [BAR] = NUMBER(PRESSURE, 1e5, "bar"),
    [PSI] = NUMBER(PRESSURE, POUND * 9.80665 / (0.0254 * 0.0254), "psi"),
    [MPA_S] = NUMBER(VISCOSITY, 1e-3, "mPa·s"),
    [G_MOL] = NUMBER(MOLAR_MASS, 1e-3, "g/mol"),
    [CM3_MOL] = NUMBER(MOLAR_VOLUME, 1e-6, "cm³/mol"),
    [G_CM3] = NUMBER(DENSITY, 1e3, "g/cm³"),
    [KG_M3] = NUMBER(DENSITY, 1, "kg/m³"),
    [G_ML] = NUMBER(DENSITY, 1e3, "g/ml"),
    [KJ_MOL] = NUMBER(MOLAR_ENERGY, 1e3, "kJ/mol"),
    [MN_M] = NUMBER(SURFACE_TENSION, 1e-3, "mN/m"),
    [MPA_HALF] = NUMBER(SOLUBILITY, 1e3, "MPa½"),
    [M2_S] = NUMBER(DIFFUSIVITY, 1, "m²/s"),
    [MG_M3] = NUMBER(DENSITY, 1e-6, "mg/m³"),
    [M2_L] = NUMBER(PER_LENGTH, 1e3, "m²/l"),
    [PER_S] = NUMBER(PER_TIME, 1, "1/s"),
};

typedef struct spelling {
	const char *text; /* plain: see plain_form() */
	uint8_t unit;
} spelling;

/* Sorted by bytes, for a search by halves. */
static const spelling spellings[] = {
    {"%", PERCENT},
    {"1/s", PER_S},
    {"K", K},
    {"L", L},
    {"MPa", MPA},
    {"MPa0.5", MPA_HALF},
    {"Pa", PA},
    {"bar", BAR},
    {"cfm", CFM},
    {"cm", CM},
    {"cm2", CM2},
    {"cm3", CM3},
    {"cm3/mol", CM3_MOL},
    {"d", D},
    {"day", D},
    {"days", D},
    {"degC", CELSIUS},
    {"degF", FAHRENHEIT},
    {"floz", FLOZ},
    {"ft", FT},
    {"ft/min", FT_MIN},
    {"ft2", FT2},
    {"ft3", FT3},
    {"g", G},
    {"g/cm3", G_CM3},
    {"g/ml", G_ML},
    {"g/mol", G_MOL},
    {"h", H},
    {"hour", H},
    {"hours", H},
    {"in", INCH},
    {"inch", INCH},
    {"inches", INCH},
    {"kJ/mol", KJ_MOL},
    {"kPa", KPA},
    {"kg", KG},
    {"kg/m3", KG_M3},
    {"l", L},
    {"lb", LB},
    {"m", M},
    {"m/s", M_S},
    {"m2", M2},
    {"m2/l", M2_L},
    {"m2/s", M2_S},
    {"m3", M3},
    {"m3/h", M3_H},
    {"mL", ML},
    {"mN/m", MN_M},
    {"mPa.s", MPA_S},
    {"mg", MG},
    {"mg/m3", MG_M3},
    {"mil", MIL},
    {"mils", MIL},
    {"min", MIN},
    {"minute", MIN},
    {"minutes", MIN},
    {"ml", ML},
    {"mm", MM},
    {"mm2", MM2},
    {"month", MONTH},
    {"months", MONTH},
    {"oz", OZ},
    {"ppb", PPB},
    {"ppm", PPM},
    {"psi", PSI},
    {"s", S},
    {"second", S},
    {"seconds", S},
    {"ug", UG},
    {"um", UM},
    {"week", WEEK},
    {"weeks", WEEK},
    {"y", YEAR},
    {"year", YEAR},
    {"years", YEAR},
};
#define SPELLINGS (sizeof spellings / sizeof *spellings)

/* --- plain form --------------------------------------------------------------------------------------------------- */

#define PLAIN_MAX 12 /* longer than every spelling */

/* The start of a text with its signs turned into those of the table of spellings. */
typedef struct plain {
	char text[PLAIN_MAX + 4];
	uint8_t ends[PLAIN_MAX +
	             4]; /* ends[n]: bytes of the source that the first n characters stand for; 0: n is inside one */
	size_t length;
} plain;

static bool is_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

typedef struct sign {
	const char *written, *plain;
} sign;

/* Signs and their plain forms, the longer before the shorter one that it starts with. */
static const sign signs[] = {
    {"\xC2\xB5", "u"},     /* micro sign U+00B5 */
    {"\xCE\xBC", "u"},     /* Greek mu U+03BC */
    {"\xC2\xB0", "deg"},   /* degree sign U+00B0 */
    {"\xC2\xB2", "2"},     /* ² */
    {"\xC2\xB3", "3"},     /* ³ */
    {"\xC2\xBD", "0.5"},   /* ½ */
    {"\xC2\xB7", "."},     /* middle dot U+00B7 */
    {"\xE2\x8B\x85", "."}, /* dot operator U+22C5 */
    {"^0.5", "0.5"},
    {"^\xC2\xBD", "0.5"},
    {"^2", "2"},
    {"^3", "3"},
};

/* The sign at the start of the text as a plain form; 0 bytes if none is there. */
static size_t sign_at(tc_text text, const char **form)
{
	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++) {
		if (tc_text_starts(text, signs[i].written)) {
			*form = signs[i].plain;
			return strlen(signs[i].written);
		}
	}
	return 0;
}

static void plain_form(tc_text text, plain *p)
{
	size_t at = 0;
	p->length = 0;
	while (p->length < PLAIN_MAX && at < text.length) {
		const char c = text.at[at];
		if (is_letter(c) || is_digit(c) || c == '/' || c == '.' || c == '%') {
			p->text[p->length++] = c;
			at++;
		} else {
			const char *form;
			const size_t bytes = sign_at((tc_text){text.at + at, text.length - at}, &form);
			if (bytes == 0)
				break;
			for (; *form; form++) {
				p->ends[p->length + 1] = 0;
				p->text[p->length++] = *form;
			}
			at += bytes;
		}
		p->ends[p->length] = (uint8_t)at;
	}
}

/* --- finding ------------------------------------------------------------------------------------------------------ */

static const tc_unit *search(tc_text plain_text)
{
	size_t low = 0, high = SPELLINGS;
	while (low < high) {
		const size_t middle = (low + high) / 2;
		const int order = tc_text_order(plain_text, tc_text_of(spellings[middle].text));
		if (order == 0)
			return &units[spellings[middle].unit];
		if (order < 0)
			high = middle;
		else
			low = middle + 1;
	}
	return NULL;
}

static bool in_word(char c)
{
	return is_letter(c) || is_digit(c) || c == '_';
}

/* May a unit end after the first n characters? Not within a word, so that `mins` is no `min`. */
static bool may_end(const plain *p, size_t n, tc_text text)
{
	const size_t bytes = p->ends[n];
	if (bytes == 0)
		return false;
	if (!in_word(p->text[n - 1]))
		return true;
	if (n < p->length)
		return !in_word(p->text[n]);
	return bytes == text.length || (!in_word(text.at[bytes]) && (unsigned char)text.at[bytes] < 0x80) ||
	       tc_blank_length(text.at + bytes, text.length - bytes) > 0;
}

size_t tc_unit_read(tc_text text, const tc_unit **unit)
{
	plain p;
	plain_form(text, &p);
	for (size_t n = p.length; n > 0; n--) {
		if (!may_end(&p, n, text))
			continue;
		const tc_unit *found = search((tc_text){p.text, n});
		if (found) {
			*unit = found;
			return p.ends[n];
		}
	}
	return 0;
}

const tc_unit *tc_unit_find(tc_text name)
{
	const tc_unit *unit;
	return name.length && tc_unit_read(name, &unit) == name.length ? unit : NULL;
}

/* What people write that is no unit here and too short, or too far off, to be found by likeness. */
typedef struct habit {
	const char *written, *right;
} habit;

static const habit habits[] = {
    {"C", "°C"},
    {"F", "°F"},
    {"celsius", "°C"},
    {"fahrenheit", "°F"},
    {"hr", "h"},
    {"hrs", "h"},
    {"sec", "s"},
    {"secs", "s"},
    {"mins", "min"},
    {"yr", "year"},
    {"yrs", "year"},
    {"wk", "week"},
    {"micron", "µm"},
    {"microns", "µm"},
    {"thou", "mil"},
    {"cc", "ml"},
    {"gr", "g"},
    {"gram", "g"},
    {"grams", "g"},
    {"litre", "l"},
    {"liter", "l"},
    {"litres", "l"},
    {"liters", "l"},
    {"percent", "%"},
    {"pct", "%"},
    {"cP", "mPa·s"},
    {"mPas", "mPa·s"},
    {"sqcm", "cm²"},
};

/* A wrong power is no slip of spelling: `m3/s` is near to `m3/h`, not to `m2/s` or `m/s`. */
static bool same_digits(tc_text a, tc_text b)
{
	size_t i = 0, j = 0;
	for (;;) {
		while (i < a.length && !is_digit(a.at[i]))
			i++;
		while (j < b.length && !is_digit(b.at[j]))
			j++;
		if (i == a.length || j == b.length)
			return i == a.length && j == b.length;
		if (a.at[i++] != b.at[j++])
			return false;
	}
}

tc_text tc_unit_nearest(tc_text name)
{
	for (size_t i = 0; i < sizeof habits / sizeof *habits; i++)
		if (tc_text_distance(name, tc_text_of(habits[i].written), 0) == 0)
			return tc_text_of(habits[i].right);
	plain p;
	plain_form(name, &p);
	const bool whole = p.length && p.ends[p.length] == name.length;
	tc_nearest nearest = TC_NEAREST((whole ? (tc_text){p.text, p.length} : name));
	for (size_t i = 0; i < SPELLINGS; i++)
		if (same_digits(nearest.word, tc_text_of(spellings[i].text)))
			tc_nearest_offer(&nearest, tc_text_of(spellings[i].text));
	const tc_unit *unit = nearest.found.length ? search(nearest.found) : NULL;
	return unit ? tc_text_of(unit->name) : TC_TEXT("");
}

/* --- for schemas -------------------------------------------------------------------------------------------------- */

const char *tc_unit_spelling(size_t index, const tc_unit **unit)
{
	if (index >= SPELLINGS)
		return NULL;
	*unit = &units[spellings[index].unit];
	return spellings[index].text;
}

static void put_literal(const char *text, size_t length, tc_buffer *out)
{
	for (size_t i = 0; i < length; i++) {
		if (strchr("^.$*+?()[]{}|\\", text[i]))
			tc_buffer_char(out, '\\');
		tc_buffer_char(out, text[i]);
	}
}

/* The longest plain form of a sign at the start of the text, or NULL. A `u` is a micro sign only in front. */
static const char *form_at(const char *text, bool first)
{
	const char *form = NULL;
	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++) {
		const char *plain_text = signs[i].plain;
		const size_t length = strlen(plain_text);
		if (strncmp(text, plain_text, length) == 0 && (first || *plain_text != 'u') &&
		    (!form || length > strlen(form)))
			form = plain_text;
	}
	return form;
}

void tc_unit_pattern(size_t index, tc_buffer *out)
{
	const char *text = spellings[index].text;
	for (size_t at = 0; text[at];) {
		const char *form = form_at(text + at, at == 0 && (text[1] == 'm' || text[1] == 'g'));
		if (!form) {
			put_literal(text + at++, 1, out);
			continue;
		}
		tc_buffer_puts(out, "(?:");
		put_literal(form, strlen(form), out);
		for (size_t i = 0; i < sizeof signs / sizeof *signs; i++) {
			if (strcmp(signs[i].plain, form) != 0)
				continue;
			tc_buffer_char(out, '|');
			put_literal(signs[i].written, strlen(signs[i].written), out);
		}
		tc_buffer_char(out, ')');
		at += strlen(form);
	}
}

/* --- converting --------------------------------------------------------------------------------------------------- */

/* Where a unit is one over a whole number of base units the conversion divides: 35 / 100 is the double nearest to 0.35,
 * 35 × 0.01 is its neighbour. */
static double whole_inverse(double scale)
{
	if (scale >= 1)
		return 0;
	const double inverse = round(1 / scale);
	return fabs(inverse * scale - 1) < 1e-15 ? inverse : 0;
}

double tc_unit_to_si(const tc_unit *unit, double number)
{
	const double inverse = whole_inverse(unit->scale);
	const double si = (inverse > 0 ? number / inverse : number * unit->scale) + unit->offset;
	const bool rounding_only = unit->offset > 0 && fabs(si) < 1e-9; /* -459.67 °F is 0 K and not just below */
	return rounding_only ? 0 : si;
}

double tc_unit_from_si(const tc_unit *unit, double si)
{
	const double inverse = whole_inverse(unit->scale);
	const double above = si - unit->offset;
	return inverse > 0 ? above * inverse : above / unit->scale;
}
