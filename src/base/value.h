/* Values as the rule language, the library and the recipe hold them: a figure with a dimension, a share, a temperature,
 * a window, a word of a vocabulary, a set of such words, text, a truth, or a reference to a subject; and beside it how
 * it is known. */
#ifndef TC_BASE_VALUE_H
#define TC_BASE_VALUE_H

#include <math.h>

#include "base/text.h"

/* Exponents of length, mass, time, temperature, amount of substance, in HALVES (a solubility parameter is Pa^½). */
typedef struct tc_dim {
	int8_t length, mass, time, temperature, amount;
} tc_dim;
bool tc_dim_same(tc_dim a, tc_dim b);
bool tc_dim_none(tc_dim a);

typedef enum tc_type {
	TC_T_BAD,         /* a broken expression; silent from there on */
	TC_T_TRUTH,
	TC_T_NUMBER,      /* SI, with a tc_dim */
	TC_T_SHARE,       /* 15 % is 0.15 */
	TC_T_TEMPERATURE, /* absolute, K */
	TC_T_WINDOW,
	TC_T_SYMBOL,      /* one word of a vocabulary */
	TC_T_SYMBOLS,     /* a set of words of a vocabulary */
	TC_T_TEXT,
	TC_T_SUBJECT,     /* a part, step, layer …, or a material */
	TC_T_BLEND        /* shares of solvents; the language sees it only through functions */
} tc_type;

typedef enum tc_truth { TC_FALSE, TC_UNSURE, TC_TRUE } tc_truth;
tc_truth tc_truth_and(tc_truth a, tc_truth b);
tc_truth tc_truth_or(tc_truth a, tc_truth b);
tc_truth tc_truth_not(tc_truth a);

/* How a value is known. Unknown: it exists and nobody says it. Absent: there is no such thing. */
typedef enum tc_state { TC_SAID, TC_ASSUMED, TC_UNKNOWN, TC_ABSENT } tc_state;

/* Sorted, disjoint, closed spans of seconds; `to` is HUGE_VAL where there is no end. */
typedef struct tc_span {
	double from, to;
} tc_span;
typedef struct tc_window {
	uint32_t count;
	const tc_span *spans;
} tc_window;
bool tc_window_holds(const tc_window *window, double t);        /* ends included, to 1 part in 10^9 */
/* The first moment not before t that lies in the window; false if there is none. */
bool tc_window_after(const tc_window *window, double t, double *moment);

/* Shares by volume of entries of the library (index into the rulebook's entries); they add up to 1. */
typedef struct tc_blend_part {
	uint32_t entry;
	double share;
} tc_blend_part;
typedef struct tc_blend {
	uint32_t count;
	const tc_blend_part *parts;
} tc_blend;

typedef struct tc_value {
	uint8_t state; /* tc_state */
	uint8_t type;  /* tc_type; also of an unknown or absent value */
	uint8_t subject; /* of TC_T_SUBJECT: which kind of subject (rule/field.h) */
	union {
		double number; /* number, share, temperature */
		uint64_t set;  /* symbols */
		uint32_t symbol;
		tc_truth truth;
		const char *text; /* NUL-terminated */
		const tc_window *window;
		const tc_blend *blend;
		const void *is; /* subject */
	};
} tc_value;

static inline bool tc_known(tc_value v)
{
	return v.state == TC_SAID || v.state == TC_ASSUMED;
}
static inline tc_value tc_number(double n)
{
	return (tc_value){.state = TC_SAID, .type = TC_T_NUMBER, .number = n};
}
static inline tc_value tc_unknown(tc_type type)
{
	return (tc_value){.state = TC_UNKNOWN, .type = (uint8_t)type};
}
static inline tc_value tc_absent(tc_type type)
{
	return (tc_value){.state = TC_ABSENT, .type = (uint8_t)type};
}

/* Numbers that differ by less than 1 part in 10^9 count as equal: -1, 0, 1. */
int tc_compare(double a, double b);

#endif
