/* A heap of which the Nth request fails: malloc and its kin of a test program, which stand before those of the C library, for
 * libyaml, PCRE2 and jansson too. That needs glibc and no sanitizer, which has its own; there only what goes through
 * heap_allocator fails. To be included by one file of a program. */
#ifndef TC_TESTS_HEAP_H
#define TC_TESTS_HEAP_H

#include <stdlib.h>

#include "base/arena.h"

#if defined __SANITIZE_ADDRESS__ || defined __SANITIZE_THREAD__
#define HEAP_SANITIZED 1
#elif defined __has_feature
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer)
#define HEAP_SANITIZED 1
#endif
#endif
#if defined __GLIBC__ && !defined HEAP_SANITIZED
#define HEAP_WHOLE 1
#else
#define HEAP_WHOLE 0
#endif

static struct {
	bool armed;
	long requests, fails_at; /* 0: none fails */
	bool from_then_on;       /* and every later one too */
	long outstanding;        /* of what was got while armed */
} heap;

static bool heap_refuses(void)
{
	if (!heap.armed)
		return false;
	heap.requests++;
	return heap.fails_at > 0 &&
	       (heap.from_then_on ? heap.requests >= heap.fails_at : heap.requests == heap.fails_at);
}

#if HEAP_WHOLE
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *old, size_t size);
void __libc_free(void *old);
/* Visible, so that the libraries find them too when the rest is built with hidden names. */
#define HEAP_VISIBLE __attribute__((visibility("default")))
HEAP_VISIBLE void *malloc(size_t size);
HEAP_VISIBLE void *calloc(size_t count, size_t size);
HEAP_VISIBLE void *realloc(void *old, size_t size);
HEAP_VISIBLE void free(void *old);

void *malloc(size_t size)
{
	void *fresh = heap_refuses() ? NULL : __libc_malloc(size);
	heap.outstanding += fresh != NULL && heap.armed;
	return fresh;
}

void *calloc(size_t count, size_t size)
{
	void *fresh = heap_refuses() ? NULL : __libc_calloc(count, size);
	heap.outstanding += fresh != NULL && heap.armed;
	return fresh;
}

void *realloc(void *old, size_t size)
{
	void *fresh = heap_refuses() ? NULL : __libc_realloc(old, size);
	heap.outstanding += fresh != NULL && old == NULL && heap.armed;
	return fresh;
}

void free(void *old)
{
	heap.outstanding -= old != NULL && heap.armed;
	__libc_free(old);
}
#endif

static void *heap_get(void *user, void *old, size_t size)
{
	(void)user;
	if (size == 0) {
		heap.outstanding -= !HEAP_WHOLE && old && heap.armed;
		free(old);
		return NULL;
	}
	if (HEAP_WHOLE)
		return realloc(old, size);
	if (heap_refuses())
		return NULL;
	void *fresh = realloc(old, size);
	heap.outstanding += fresh && !old && heap.armed;
	return fresh;
}

static const tc_allocator heap_allocator = {heap_get, NULL};

static inline void heap_arm(long fails_at)
{
	heap.armed = true;
	heap.requests = 0;
	heap.outstanding = 0;
	heap.fails_at = fails_at;
}

static inline void heap_disarm(void)
{
	heap.armed = false;
}

#endif
