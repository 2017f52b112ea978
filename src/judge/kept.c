/* Results of the science, kept by the exact bytes of their inputs. The store is bounded and emptied as a whole: an answer
 * never depends on whether it was kept. */
#include "judge/kept.h"

#include <string.h>

#define KEPT_MAX 4096u          /* results */
#define KEPT_BYTES (1u << 20)   /* of keys */

typedef struct slot {
	uint64_t hash;
	const void *key; /* NULL: empty */
	size_t length;
	double results[TC_KEPT_RESULTS];
} slot;

struct tc_kept {
	const tc_allocator *from;
	tc_arena *keys;
	slot *slots; /* 2 × KEPT_MAX */
	uint32_t count;
	uint64_t asked, found;
	tc_dried *dried;
};

tc_kept *tc_kept_new(const tc_allocator *from)
{
	tc_kept *kept = from->get(from->user, NULL, sizeof *kept);
	if (!kept)
		return NULL;
	*kept = (tc_kept){.from = from, .keys = tc_arena_new(from, 1 << 16), .dried = tc_dried_new(from)};
	kept->slots = from->get(from->user, NULL, 2 * KEPT_MAX * sizeof(slot));
	if (!kept->keys || !kept->slots || !kept->dried) {
		tc_kept_free(kept);
		return NULL;
	}
	memset(kept->slots, 0, 2 * KEPT_MAX * sizeof(slot));
	return kept;
}

void tc_kept_free(tc_kept *kept)
{
	if (!kept)
		return;
	tc_arena_free(kept->keys);
	tc_dried_free(kept->dried);
	if (kept->slots)
		kept->from->get(kept->from->user, kept->slots, 0);
	kept->from->get(kept->from->user, kept, 0);
}

/* The slot that holds the key, or the empty one where it would go. */
static slot *find(const tc_kept *kept, const void *key, size_t length, uint64_t hash)
{
	uint32_t mask = 2 * KEPT_MAX - 1;
	uint32_t i = (uint32_t)hash & mask;

	while (kept->slots[i].key) {
		const slot *s = &kept->slots[i];
		if (s->hash == hash && s->length == length && memcmp(s->key, key, length) == 0)
			break;
		i = (i + 1) & mask;
	}
	return &kept->slots[i];
}

/* Keys are runs of 8-byte words; a multiply and a shift a word mix them well enough, and equality is checked anyway. */
static uint64_t hash_words(const void *key, size_t length)
{
	const unsigned char *at = key;
	uint64_t h = 0x9e3779b97f4a7c15u ^ length;

	for (size_t i = 0; i + 8 <= length; i += 8) {
		uint64_t word;
		memcpy(&word, at + i, 8);
		h = (h ^ word) * 0xff51afd7ed558ccdu;
		h ^= h >> 32;
	}
	return h;
}

const double *tc_kept_get(tc_kept *kept, const void *key, size_t length)
{
	const slot *s = find(kept, key, length, hash_words(key, length));

	kept->asked++;
	if (!s->key)
		return NULL;
	kept->found++;
	return s->results;
}

static void empty(tc_kept *kept)
{
	memset(kept->slots, 0, 2 * KEPT_MAX * sizeof(slot));
	tc_arena_reset(kept->keys);
	kept->count = 0;
}

void tc_kept_put(tc_kept *kept, const void *key, size_t length, const double results[TC_KEPT_RESULTS])
{
	uint64_t hash = hash_words(key, length);

	if (kept->count >= KEPT_MAX || tc_arena_used(kept->keys) + length > KEPT_BYTES || tc_arena_failed(kept->keys))
		empty(kept);
	slot *s = find(kept, key, length, hash);
	if (s->key)
		return;
	void *copy = tc_arena_copy(kept->keys, key, length);
	if (!copy)
		return;
	*s = (slot){.hash = hash, .key = copy, .length = length};
	memcpy(s->results, results, sizeof s->results);
	kept->count++;
}

tc_dried *tc_kept_dried(tc_kept *kept)
{
	return kept->dried;
}

void tc_kept_count(const tc_kept *kept, uint64_t *asked, uint64_t *found)
{
	*asked = kept->asked;
	*found = kept->found;
}
