/* What the tests of the ground floor share: cmocka with what it wants included before it, an allocator that fails on
 * demand, and small makers of text. */
#ifndef CHECK_H
#define CHECK_H

// clang-format off
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>
// clang-format on

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"

#define COUNT_OF(array) (sizeof(array) / sizeof *(array))

/* Takes from the C library, counts what is out, and fails from the `fails_at`th request on (0: never). */
typedef struct meter {
	unsigned requests, fails_at;
	long outstanding;
} meter;

static inline void *meter_get(void *user, void *old, size_t size)
{
	meter *m = user;
	if (size == 0) {
		m->outstanding -= old != NULL;
		free(old);
		return NULL;
	}
	m->requests++;
	if (m->fails_at && m->requests >= m->fails_at)
		return NULL;
	void *fresh = realloc(old, size);
	m->outstanding += fresh != NULL && old == NULL;
	return fresh;
}

static inline tc_allocator metered(meter *m)
{
	return (tc_allocator){meter_get, m};
}

#define assert_text(actual, expected) assert_string_equal((actual).at ? (actual).at : "", (expected))

#endif
