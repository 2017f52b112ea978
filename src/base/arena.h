/* Memory by arena. A rulebook, a recipe and a set of findings each live in one arena and are freed at once.
 *
 * Pieces never move and are never freed singly; they are zeroed and aligned to 16 bytes. Failure is sticky: after one
 * allocation has failed every later one of that arena fails too, so a long building phase may look at
 * tc_arena_failed() once at its end, as long as it dereferences nothing that came back NULL. Built with
 * -DTC_ARENA_DEBUG each piece is an allocation of its own, so that the address sanitizer sees overruns. */
#ifndef TC_BASE_ARENA_H
#define TC_BASE_ARENA_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Where memory comes from. `get(user, old, size)` behaves as realloc, and frees `old` and returns NULL for size 0. */
typedef struct tc_allocator {
	void *(*get)(void *user, void *old, size_t size);
	void *user;
} tc_allocator;

typedef struct tc_arena tc_arena;

/* The C library's realloc and free. The result lives for ever. */
const tc_allocator *tc_allocator_system(void);

/* A new empty arena that takes its blocks from `from` (NULL: the C library's), the first one of `first_block` bytes
 * (0: a default). NULL when out of memory. The allocator must outlive the arena. */
tc_arena *tc_arena_new(const tc_allocator *from, size_t first_block);

/* Frees the arena and all that lies in it. NULL is allowed. */
void tc_arena_free(tc_arena *arena);

/* Forgets all pieces and clears the failure, but keeps the first block for the next use. */
void tc_arena_reset(tc_arena *arena);

/* A zeroed piece of `size` bytes (0 gives a valid pointer to nothing), or NULL when out of memory. */
void *tc_arena_get(tc_arena *arena, size_t size);

/* `count` × `size` zeroed bytes; NULL when out of memory or when the product overflows. */
void *tc_arena_array(tc_arena *arena, size_t count, size_t size);

/* A copy of `size` bytes at `from`. */
void *tc_arena_copy(tc_arena *arena, const void *from, size_t size);

/* A copy of the `length` bytes at `text`, with a NUL after them. */
char *tc_arena_text(tc_arena *arena, const char *text, size_t length);

/* printf into the arena. NULL when out of memory. */
char *tc_arena_print(tc_arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));
char *tc_arena_vprint(tc_arena *arena, const char *format, va_list list) __attribute__((format(printf, 2, 0)));

/* Has any allocation failed since the arena was made or reset? */
bool tc_arena_failed(const tc_arena *arena);

/* Bytes handed out so far, padding included. */
size_t tc_arena_used(const tc_arena *arena);

/* The allocator that the arena draws from (for buffers that live beside it). */
const tc_allocator *tc_arena_allocator(const tc_arena *arena);

#define TC_NEW(arena, type)          ((type *)tc_arena_get((arena), sizeof(type)))
#define TC_ARRAY(arena, count, type) ((type *)tc_arena_array((arena), (count), sizeof(type)))

/* Makes room for one more element in a growing array that lies in the arena: `*array` has `count` elements of `size`
 * bytes and room for `*room`. The old piece stays where it is (pointers into it stay valid but stale). False when
 * out of memory; the array is then unchanged. */
bool tc_arena_grow(tc_arena *arena, void **array, uint32_t count, uint32_t *room, size_t size);

#endif
