#include "base/arena.h"

#include <stdalign.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define ALIGNMENT ((size_t)16)
#define FIRST_DEFAULT ((size_t)16 << 10)
#define BLOCK_MAX ((size_t)1 << 20)

/* Where malloc promises less than our alignment a block is asked for with room to move its start up. */
#define SLACK (alignof(max_align_t) >= 16 ? (size_t)0 : ALIGNMENT - 1)

typedef struct block {
	struct block *next;
	char *start; /* aligned */
	size_t size, used;
} block;

struct tc_arena {
	const tc_allocator *from;
	block *first;   /* kept by a reset; NULL in the debugging mode */
	block *others;  /* all further ones */
	block *current; /* the one that pieces are cut from */
	size_t next_size, used;
	bool failed;
};

static void *system_get(void *user, void *old, size_t size)
{
	(void)user;
	if (size == 0) {
		free(old);
		return NULL;
	}
	return realloc(old, size);
}

const tc_allocator *tc_allocator_system(void)
{
	static const tc_allocator system = {system_get, NULL};
	return &system;
}

static size_t padded(size_t size)
{
	return (size + ALIGNMENT - 1) & ~(ALIGNMENT - 1);
}

static block *block_new(const tc_allocator *from, size_t size)
{
	const size_t extra = padded(sizeof(block)) + SLACK;
	if (size > SIZE_MAX - extra)
		return NULL;
	block *b = from->get(from->user, NULL, size + extra);
	if (!b)
		return NULL;
	const size_t beyond = ((uintptr_t)b + sizeof *b) % ALIGNMENT;
	*b = (block){.start = (char *)b + sizeof *b + (beyond ? ALIGNMENT - beyond : 0), .size = size};
	return b;
}

tc_arena *tc_arena_new(const tc_allocator *from, size_t first_block)
{
	if (!from)
		from = tc_allocator_system();
	tc_arena *arena = from->get(from->user, NULL, sizeof *arena);
	if (!arena)
		return NULL;
	const size_t first = first_block ? padded(first_block) : FIRST_DEFAULT;
	*arena = (tc_arena){.from = from, .next_size = first < BLOCK_MAX / 2 ? 2 * first : BLOCK_MAX};
#ifndef TC_ARENA_DEBUG
	arena->current = arena->first = block_new(from, first);
	if (!arena->first) {
		from->get(from->user, arena, 0);
		return NULL;
	}
#endif
	return arena;
}

static void drop(const tc_allocator *from, block *b)
{
	while (b) {
		block *next = b->next;
		from->get(from->user, b, 0);
		b = next;
	}
}

void tc_arena_free(tc_arena *arena)
{
	if (!arena)
		return;
	drop(arena->from, arena->others);
	drop(arena->from, arena->first);
	arena->from->get(arena->from->user, arena, 0);
}

void tc_arena_reset(tc_arena *arena)
{
	drop(arena->from, arena->others);
	arena->others = NULL;
	arena->current = arena->first;
	if (arena->first)
		arena->first->used = 0;
	arena->used = 0;
	arena->failed = false;
}

static block *another_block(tc_arena *arena, size_t size)
{
	block *b = block_new(arena->from, size);
	if (b) {
		b->next = arena->others;
		arena->others = b;
	}
	return b;
}

#ifdef TC_ARENA_DEBUG
/* A block for this piece alone, exactly as long as the piece. */
static void *piece(tc_arena *arena, size_t size)
{
	block *b = another_block(arena, size);
	return b ? b->start : NULL;
}
#else
/* For a piece that the current block has no room for. A large one gets a block of its own, so that the rest of the
 * current one is not lost. */
static void *piece_elsewhere(tc_arena *arena, size_t size)
{
	if (size > arena->next_size / 4) {
		block *own = another_block(arena, size);
		return own ? own->start : NULL;
	}
	block *b = another_block(arena, arena->next_size);
	if (!b)
		return NULL;
	arena->next_size = arena->next_size < BLOCK_MAX / 2 ? 2 * arena->next_size : BLOCK_MAX;
	arena->current = b;
	b->used = size;
	return b->start;
}

static void *piece(tc_arena *arena, size_t size)
{
	block *b = arena->current;
	size = padded(size);
	if (size > b->size - b->used)
		return piece_elsewhere(arena, size);
	void *at = b->start + b->used;
	b->used += size;
	return at;
}
#endif

/* As tc_arena_get, but not zeroed. */
static void *raw(tc_arena *arena, size_t size)
{
	if (arena->failed)
		return NULL;
	void *at = size <= SIZE_MAX - ALIGNMENT ? piece(arena, size) : NULL;
	if (at)
		arena->used += padded(size);
	else
		arena->failed = true;
	return at;
}

void *tc_arena_get(tc_arena *arena, size_t size)
{
	void *at = raw(arena, size);
	return at ? memset(at, 0, size) : NULL;
}

void *tc_arena_array(tc_arena *arena, size_t count, size_t size)
{
	if (size && count > SIZE_MAX / size) {
		arena->failed = true;
		return NULL;
	}
	return tc_arena_get(arena, count * size);
}

void *tc_arena_copy(tc_arena *arena, const void *from, size_t size)
{
	void *at = raw(arena, size);
	if (at && size)
		memcpy(at, from, size);
	return at;
}

char *tc_arena_text(tc_arena *arena, const char *text, size_t length)
{
	if (length == SIZE_MAX) {
		arena->failed = true;
		return NULL;
	}
	char *at = raw(arena, length + 1);
	if (!at)
		return NULL;
	if (length)
		memcpy(at, text, length);
	at[length] = 0;
	return at;
}

char *tc_arena_vprint(tc_arena *arena, const char *format, va_list list)
{
	va_list again;
	va_copy(again, list);
	const int length = vsnprintf(NULL, 0, format, list);
	char *at = NULL;
	if (length < 0)
		arena->failed = true;
	else
		at = raw(arena, (size_t)length + 1);
	if (at && vsnprintf(at, (size_t)length + 1, format, again) != length) {
		arena->failed = true;
		at = NULL;
	}
	va_end(again);
	return at;
}

char *tc_arena_print(tc_arena *arena, const char *format, ...)
{
	va_list list;
	va_start(list, format);
	char *at = tc_arena_vprint(arena, format, list);
	va_end(list);
	return at;
}

bool tc_arena_failed(const tc_arena *arena)
{
	return arena->failed;
}

size_t tc_arena_used(const tc_arena *arena)
{
	return arena->used;
}

const tc_allocator *tc_arena_allocator(const tc_arena *arena)
{
	return arena->from;
}

bool tc_arena_grow(tc_arena *arena, void **array, uint32_t count, uint32_t *room, size_t size)
{
	if (count < *room)
		return true;
	if (count > UINT32_MAX / 2) {
		arena->failed = true;
		return false;
	}
	const uint32_t more = count < 4 ? 8 : 2 * count;
	void *larger = tc_arena_array(arena, more, size);
	if (!larger)
		return false;
	if (count)
		memcpy(larger, *array, (size_t)count * size);
	*array = larger;
	*room = more;
	return true;
}
