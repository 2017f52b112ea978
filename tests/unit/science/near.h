/* Helpers of these tests: comparing figures, and random inputs that are the same on each run. */
#ifndef TC_TEST_NEAR_H
#define TC_TEST_NEAR_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

#define assert_near(value, expected, tolerance) near_or_fail(value, expected, tolerance, #value, __FILE__, __LINE__)

static inline void near_or_fail(
	double value, double expected, double tolerance, const char *what, const char *file, int line)
{
	if (fabs(value - expected) <= tolerance)
		return;
	print_error("%s: %.9g, expected %.9g within %g\n", what, value, expected, tolerance);
	_fail(file, line);
}

/* xorshift64 (Marsaglia, J. Statistical Software 8 (2003) 14). */
static inline uint64_t random_bits(uint64_t *seed)
{
	*seed ^= *seed << 13;
	*seed ^= *seed >> 7;
	*seed ^= *seed << 17;
	return *seed;
}

static inline double random_between(uint64_t *seed, double low, double high)
{
	return low + (high - low) * (double)(random_bits(seed) >> 11) / 9007199254740992.0;
}

/* Even on a logarithmic scale. */
static inline double random_size(uint64_t *seed, double low, double high)
{
	return low * pow(high / low, random_between(seed, 0.0, 1.0));
}

#endif
