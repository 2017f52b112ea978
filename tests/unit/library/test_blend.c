/* Blends: shares by volume out of all that may be written. Densities and shares are invented; sums by hand. */
#include "book.h"

#define SOLVENTS                                                                                                       \
	"kinds: {k: {from: practice}, mixed: {from: practice}}\n"                                                      \
	"solvents:\n"                                                                                                  \
	"  light: {kind: k, name: light spirit, from: practice, density: 0.8 g/cm³}\n"                                \
	"  heavy: {kind: k, from: practice, density: 1.6 g/cm³}\n"                                                    \
	"  odd: {kind: k, from: practice}\n"                                                                           \
	"blends:\n"                                                                                                    \
	"  half: {kind: mixed, from: practice, solvents: {light: 50 %, heavy: 50 %}}\n"

static void mixture(const book *b, const char *id, size_t count, const char *const *ids, const double *shares)
{
	const tc_value v = value_of(b, id, TC_P_SOLVENTS);
	assert_int_equal(v.state, TC_SAID);
	assert_int_equal(v.blend->count, count);
	double sum = 0;
	for (size_t i = 0; i < count; i++) {
		assert_string_equal(tc_library_entry(b->library, v.blend->parts[i].entry)->id, ids[i]);
		if (tc_compare(v.blend->parts[i].share, shares[i]) != 0)
			fail_msg("%s: %.17g is not %.17g", ids[i], v.blend->parts[i].share, shares[i]);
		sum += v.blend->parts[i].share;
	}
	assert_int_equal(tc_compare(sum, 1), 0);
}

static void one(const char *blend, const double *shares)
{
	static const char *const ids[] = {"heavy", "light"};
	char text[2000];
	snprintf(text, sizeof text, "%s  mine: {kind: mixed, from: practice, solvents: %s}\n", SOLVENTS, blend);
	book b = open_good(text);
	mixture(&b, "mine", 2, ids, shares);
	close_book(&b);
}

/* The line of `mine` is 8; its blend begins in column 49. */
static void bad(const char *blend, const char *said)
{
	char text[3000];
	snprintf(text, sizeof text, "%s  mine: {kind: mixed, from: practice, solvents: %s}\n", SOLVENTS, blend);
	says(text, said);
}

static void by_volume(void **state)
{
	(void)state;
	one("{light: 30 %, heavy: 70 %}", (const double[]){0.7, 0.3});
	one("{light: 30 %, heavy: 70 %, by: volume}", (const double[]){0.7, 0.3});
	one("{Light Spirit: 30 %, heavy: 70 %}", (const double[]){0.7, 0.3}); /* by its name */
	one("half", (const double[]){0.5, 0.5});                              /* all of it */
	/* within half a per cent the sum is set right: 30 / 99.5 */
	one("{light: 30 %, heavy: 69.5 %}", (const double[]){69.5 / 99.5, 30 / 99.5});
	one("{light: 30 %, heavy: 70.5 %}", (const double[]){70.5 / 100.5, 30 / 100.5});
}

/* Equal masses: volumes as 1/0.8 to 1/1.6, that is 2 to 1. */
static void by_mass(void **state)
{
	(void)state;
	one("{light: 50 %, heavy: 50 %, by: mass}", (const double[]){1.0 / 3, 2.0 / 3});
	/* a blend of density 1.2 as the half by mass: 1/1.6 of heavy beside 1/1.2 of the blend, of which half is heavy:
	 * heavy 0.625 + 0.41667, light 0.41667 of 1.45833 in all */
	one("{heavy: 50 %, half: 50 %, by: mass}", (const double[]){5.0 / 7, 2.0 / 7});
}

static void blends_within_blends(void **state)
{
	(void)state;
	one("{half: 40 %, light: 60 %}", (const double[]){0.2, 0.8});
	/* a blend that is named before it was read, and one that has its solvents from its kind */
	book b = open_good(SOLVENTS "  a-first: {kind: mixed, from: practice, solvents: {z-last: 100 %}}\n"
	                            "  z-last: {kind: strong, from: practice}\n"
	                            "  y-named: {kind: mixed, from: practice, solvents: {z-last: 50 %, light: 50 %}}\n"
	                            "---\nkinds: {strong: {under: mixed, from: practice, solvents: {heavy: 100 %}}}\n");
	mixture(&b, "a-first", 1, (const char *const[]){"heavy"}, (const double[]){1});
	mixture(&b, "z-last", 1, (const char *const[]){"heavy"}, (const double[]){1});
	mixture(&b, "y-named", 2, (const char *const[]){"heavy", "light"}, (const double[]){0.5, 0.5});
	close_book(&b);
}

static void the_rest_is_unknown(void **state)
{
	(void)state;
	book b = open_good(SOLVENTS "  mine: {kind: mixed, from: practice, solvents: {light: 30 %, rest: unknown}}\n"
	                            "  more: {kind: mixed, from: practice, solvents: {mine: 50 %, heavy: 50 %}}\n"
	                            "  nothing: {kind: mixed, from: practice, solvents: none}\n");
	assert_int_equal(value_of(&b, "mine", TC_P_SOLVENTS).state, TC_UNKNOWN);
	assert_int_equal(value_of(&b, "more", TC_P_SOLVENTS).state, TC_UNKNOWN); /* it spreads */
	assert_int_equal(value_of(&b, "more", TC_P_SOLVENTS).type, TC_T_BLEND);
	assert_int_equal(value_of(&b, "nothing", TC_P_SOLVENTS).state, TC_ABSENT);
	close_book(&b);
}

static void sums(void **state)
{
	(void)state;
	bad("{light: 30 %, heavy: 60 %}", "a.yaml:8:49: error: the shares add up to 90 %, not to 100 %; say `rest: "
	                                  "unknown` if the others are not known [sum]\n");
	bad("{light: 30 %, heavy: 80 %}", "a.yaml:8:49: error: the shares add up to 110 %, not to 100 % [sum]\n");
	bad("{light: 30 %, heavy: 80 %, rest: unknown}",
	    "a.yaml:8:49: error: the shares add up to 110 %, not to 100 % [sum]\n");
	bad("{light: 30 %, heavy: 69.4 %}", "a.yaml:8:49: error: the shares add up to 99.4 %, not to 100 %; say `rest: "
	                                    "unknown` if the others are not known [sum]\n");
	bad("{}", "a.yaml:8:49: error: the shares add up to 0 %, not to 100 %; say `rest: unknown` if the others are "
	          "not known [sum]\n");
}

static void faults(void **state)
{
	(void)state;
	bad("{light: 30, heavy: 70 %}",
	    "a.yaml:8:57: error: `30` is a bare number and `light` a share; write `30 %` [share]\n");
	bad("{light: 0 %, heavy: 100 %}", "a.yaml:8:57: error: `light` has no share; leave it out [out-of-range]\n");
	bad("{light: 130 %, heavy: 100 %}",
	    "a.yaml:8:57: error: `light` is 130 %; it can only lie between 0 % and 100 % [out-of-range]\n");
	bad("{light: 30 %, havy: 70 %}", "a.yaml:8:63: error: `havy` of `solvents` is nothing that the library has; "
	                                 "`heavy` is near [unknown-name]\n");
	bad("{light: 30 %, k: 70 %}", "a.yaml:8:63: error: `k` is no solvent and no blend [not-a-solvent]\n");
	bad("{light: 100 %, by: weight}", "a.yaml:8:68: error: shares are `by: volume` or `by: mass` [unknown-word]\n");
	bad("{light: 100 %, rest: water}", "a.yaml:8:70: error: `rest` can only be `unknown`; a solvent that is known "
	                                   "is listed by its name [unknown-word]\n");
	bad("{odd: 50 %, light: 50 %, by: mass}", "a.yaml:8:50: error: `by: mass` needs the density of `odd`, which "
	                                          "the library does not say; give the shares by volume [no-density]\n");
	bad("{light: 50 %, strange: 50 %, by: mass}}\n  strange: {kind: mixed, from: practice, solvents: {odd: 100 %}",
	    "a.yaml:8:63: error: `by: mass` needs the density of `odd`, which the library does not say; give the "
	    "shares by "
	    "volume [no-density]\n");
	bad("lihgt", "a.yaml:8:49: error: `lihgt` of `solvents` is nothing that the library has; `light` is near "
	             "[unknown-name]\n");
	bad("[light, heavy]",
	    "a.yaml:8:49: error: `solvents` is a mapping of solvents and their shares; this is a list [wrong-shape]\n");
	bad("{is: {light: 90 %}, from: practice}", "a.yaml:8:54: error: the shares add up to 90 %, not to 100 %; say "
	                                           "`rest: unknown` if the others are not known [sum]\n");
}

static void blends_that_cannot_be_taken_apart(void **state)
{
	(void)state;
	says(SOLVENTS "  mine: {kind: mixed, from: practice, solvents: {empty: 100 %}}\n"
	              "  empty: {kind: mixed, from: practice}\n",
	    "a.yaml:8:50: error: `empty` does not say its `solvents` [no-solvents]\n");
	says(SOLVENTS "  mine: {kind: mixed, from: practice, solvents: {empty: 100 %}}\n"
	              "  empty: {kind: mixed, from: practice, solvents: none}\n",
	    "a.yaml:8:50: error: `empty` does not say its `solvents` [no-solvents]\n");
	says(SOLVENTS "  mine: {kind: mixed, from: practice, solvents: {other: 100 %}}\n"
	              "  other: {kind: mixed, from: practice, solvents: {mine: 50 %, light: 50 %}}\n",
	    "a.yaml:9:51: error: `mine` is made of itself by way of this blend [cycle]\n");
	/* one message for the one fault, not one more for each blend that is made of it */
	says(SOLVENTS "  mine: {kind: mixed, from: practice, solvents: {light: 10 %}}\n"
	              "  more: {kind: mixed, from: practice, solvents: {mine: 100 %}}\n",
	    "a.yaml:8:49: error: the shares add up to 10 %, not to 100 %; say `rest: unknown` if the others are not "
	    "known [sum]\n");
}

/* `count` solvents in one blend. */
static char *many(unsigned count)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_buffer_puts(&out, "kinds: {k: {from: practice}}\nsolvents:\n");
	for (unsigned i = 0; i < count; i++)
		tc_buffer_print(&out, "  s%02u: {kind: k, from: practice}\n", i);
	tc_buffer_puts(&out, "blends:\n  all:\n    kind: k\n    from: practice\n    solvents:\n");
	for (unsigned i = 0; i < count; i++)
		tc_buffer_print(&out, "      s%02u: %.6f %%\n", i, 100.0 / count);
	return out.at;
}

/* base/limits.h: TC_BLEND_MAX is 16. */
static void number_of_solvents(void **state)
{
	(void)state;
	char *at = many(16), *past = many(17);
	says(at, "");
	says(past, "a.yaml:41:7: error: more than 16 solvents; leave out the least of them [bound]\n");
	free(at);
	free(past);
}

/* A blend of a blend of a blend …, read from its top. */
static char *nested(unsigned depth)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_buffer_puts(&out, "kinds: {k: {from: practice}}\nsolvents: {s: {kind: k, from: practice}}\nblends:\n");
	for (unsigned i = 1; i < depth; i++)
		tc_buffer_print(&out, "  b%02u: {kind: k, from: practice, solvents: {b%02u: 100 %%}}\n", i, i + 1);
	tc_buffer_print(&out, "  b%02u: {kind: k, from: practice, solvents: {s: 100 %%}}\n", depth);
	return out.at;
}

static void depth_of_blends(void **state)
{
	(void)state;
	char *at = nested(16), *past = nested(17);
	says(at, "");
	says(past, "a.yaml:19:45: error: blends stand within blends more than 16 deep [bound]\n");
	free(at);
	free(past);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(by_volume),
	    cmocka_unit_test(by_mass),
	    cmocka_unit_test(blends_within_blends),
	    cmocka_unit_test(the_rest_is_unknown),
	    cmocka_unit_test(sums),
	    cmocka_unit_test(faults),
	    cmocka_unit_test(blends_that_cannot_be_taken_apart),
	    cmocka_unit_test(number_of_solvents),
	    cmocka_unit_test(depth_of_blends),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
