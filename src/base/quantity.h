/* Quantities with units as a bench writes them: parse, convert, print. One table of units (unit.c) is the whole
 * list; the recipe reader, the rulebook reader and the rule language all read through it.
 *
 * Accepted spellings: µ as U+00B5 or U+03BC or `u`; no-break and thin blanks as blanks; ² ³ ½ or ^2 ^3 ^0.5 or plain
 * 2, 3; ° or `deg`. U+2212 (minus) is refused with a word on `-`; a decimal comma, digit groups and `_` likewise.
 * Three sizes with `x` or × between them are the recipe reader's affair.
 *
 * Units: µm um mm cm m mil in ft · mm² cm² m² ft² · ml l floz m³ ft³ cm³ · µg mg g kg oz lb · s min h d
 * week month year y (month = 30 d, year = 365.25 d; also second minute hour day inch, mL, L, and the plurals of
 * words) · °C °F degC degF K · % ppm ppb · m/s ft/min · m³/h cfm · Pa kPa MPa bar psi · mPa·s · g/mol cm³/mol g/cm³
 * kg/m³ g/ml · kJ/mol · mN/m · MPa½ · m²/s · mg/m³ · m²/l · 1/s. */
#ifndef TC_BASE_QUANTITY_H
#define TC_BASE_QUANTITY_H

#include "base/value.h"

typedef struct tc_quantity {
	tc_type type; /* TC_T_NUMBER, TC_T_SHARE or TC_T_TEMPERATURE */
	tc_dim dim;   /* of a number; all zero for a bare one */
	double si;    /* m, kg, s, K, mol; a share as a fraction */
	bool bare;    /* no unit was written */
} tc_quantity;

/* What went wrong, for a diagnostic: `at` is the byte offset of the trouble within the text. */
typedef struct tc_quantity_error {
	size_t at;
	char message[160];
} tc_quantity_error;

/* Reads a whole text as one quantity. `absolute_k`: a `K` is a temperature (in recipes), not a difference (in the rule
 * language). A temperature below 0 K is refused. False with *error filled in. */
bool tc_quantity_read(tc_text text, bool absolute_k, tc_quantity *quantity, tc_quantity_error *error);

/* The longest unit at the start of `text` (blanks before it are the caller's): stores what one of it is, returns its
 * bytes, 0 if there is none. A unit ends where a word ends: `mins` is not `min`, and an `s`.
 * `scale` and `offset`: si = number × scale + offset (offset only for °C and °F); convert with tc_unit_to_si. */
typedef struct tc_unit {
	tc_type type;
	tc_dim dim;
	double scale, offset;
	const char *name;  /* as printed */
	bool difference;   /* `K` */
} tc_unit;
size_t tc_unit_read(tc_text text, const tc_unit **unit);
/* The unit of that name as written in the language after `as`, or NULL. */
const tc_unit *tc_unit_find(tc_text name);
/* The name of the nearest unit of the table, or the empty text. */
tc_text tc_unit_nearest(tc_text name);
/* For schemas: the spellings in their plain form (`um`, `cm2`), NULL past the last; and a regular expression, such as PCRE2 and
 * ECMAScript both read, of all forms in which that one may be written. */
const char *tc_unit_spelling(size_t index, const tc_unit **unit);
void tc_unit_pattern(size_t index, tc_buffer *out);
/* A number of units as SI, and back, rounded once where the unit allows: 35 % is the double nearest to 0.35. */
double tc_unit_to_si(const tc_unit *unit, double number);
double tc_unit_from_si(const tc_unit *unit, double si);

/* A window: `10 min to 48 h`, `10 min on`, `none` is the caller's affair. Several spans come as several texts. */
bool tc_span_read(tc_text text, tc_span *span, tc_quantity_error *error);

/* A ratio `2:1` or `4:1:1`: up to TC_MIX_PARTS_MAX positive terms, returns how many, 0 with *error on bad text. */
unsigned tc_ratio_read(tc_text text, double *terms, tc_quantity_error *error);

/* The dimensions by name, for tables. */
extern const tc_dim TC_DIM_NONE, TC_DIM_TIME, TC_DIM_LENGTH, TC_DIM_AREA, TC_DIM_VOLUME, TC_DIM_MASS, TC_DIM_KELVIN,
    TC_DIM_SPEED, TC_DIM_FLOW, TC_DIM_PRESSURE, TC_DIM_VISCOSITY, TC_DIM_MOLAR_MASS, TC_DIM_MOLAR_VOLUME,
    TC_DIM_DENSITY,
    TC_DIM_MOLAR_ENERGY, TC_DIM_SURFACE_TENSION, TC_DIM_SOLUBILITY, TC_DIM_DIFFUSIVITY, TC_DIM_MASS_CONCENTRATION;

/* What a person calls the dimension: 'a time', 'a length' …, 'a number' for none, else built from the base units. */
void tc_dim_name(tc_dim dim, tc_buffer *out);

/* Prints a value with a unit that suits its size (µm below 1 mm for lengths of films, min, h, d for times …), at
 * most `digits` significant digits (3 is the house's choice), or in the unit given. A share prints with %, a
 * temperature in °C. */
void tc_quantity_print(tc_buffer *out, tc_type type, tc_dim dim, double si, int digits, const tc_unit *in);
/* A duration as a person writes it: `5 min`, `1 h 30 min`, `2 d`. */
void tc_duration_print(tc_buffer *out, double seconds);

/* Rounds a wait up: to the minute below 1 h, 15 min below 12 h, 1 h below 3 d, then days. */
double tc_wait_round_up(double seconds);

#endif
