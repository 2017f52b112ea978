/* Results of the science, kept by the exact inputs. Long inputs (a mix, a film, a solid) get names: numbers that are never
 * given to another, so that a result is found by two of them. The store is bounded and emptied as a whole: an answer never
 * depends on whether it was kept. Its arrays are as large as they will ever be: nothing is moved as they fill, and what is
 * not written to costs nothing. */
#include "judge/kept.h"

#include <string.h>

#define NAMES_MAX 4096u
#define WORDS_MAX (40u << 10) /* of all that has a name */
#define RESULTS_MAX 8192u

typedef struct name {
	uint32_t from, count; /* its words in the pool */
	uint32_t number;
} name;

typedef struct result {
	uint32_t film, asked; /* names */
	double figures[TC_KEPT_RESULTS];
} result;

/* Where things are, by hash: 1 + the place in their array, 0 is empty. Twice as large as what it leads to. */
typedef struct finder {
	uint32_t *at;
	uint32_t room; /* a power of two, or 0 */
} finder;

struct tc_kept {
	const tc_allocator *from;
	double *words;
	name *names;
	result *results;
	uint32_t word_count, name_count, result_count;
	finder name_finder, result_finder;
	uint32_t last; /* the newest number of a name; 0 is none */
	uint64_t asked, found;
	tc_dried *dried;
};

tc_kept *tc_kept_new(const tc_allocator *from)
{
	tc_kept *kept = from->get(from->user, NULL, sizeof *kept);
	if (!kept)
		return NULL;
	*kept = (tc_kept){.from = from, .dried = tc_dried_new(from)};
	kept->words = from->get(from->user, NULL, WORDS_MAX * sizeof *kept->words);
	kept->names = from->get(from->user, NULL, NAMES_MAX * sizeof *kept->names);
	kept->results = from->get(from->user, NULL, RESULTS_MAX * sizeof *kept->results);
	if (!kept->dried || !kept->words || !kept->names || !kept->results) {
		tc_kept_free(kept);
		return NULL;
	}
	return kept;
}

static void let_go(const tc_kept *kept, void *at)
{
	if (at)
		kept->from->get(kept->from->user, at, 0);
}

void tc_kept_free(tc_kept *kept)
{
	if (!kept)
		return;
	tc_dried_free(kept->dried);
	let_go(kept, kept->words);
	let_go(kept, kept->names);
	let_go(kept, kept->results);
	let_go(kept, kept->name_finder.at);
	let_go(kept, kept->result_finder.at);
	let_go(kept, kept);
}

/* --- finding ---------------------------------------------------------------------------------------------------------- */

/* Keys are runs of 8-byte words; a multiply and a shift a word mix them well enough, and equality is checked anyway. */
static uint64_t hash_words(const void *words, uint32_t count)
{
	const unsigned char *at = words;
	uint64_t h = 0x9e3779b97f4a7c15u ^ count;

	for (uint32_t i = 0; i < count; i++) {
		uint64_t word;
		memcpy(&word, at + 8 * (size_t)i, 8);
		h = (h ^ word) * 0xff51afd7ed558ccdu;
		h ^= h >> 32;
	}
	return h;
}

static uint64_t hash_result(uint32_t film, uint32_t asked)
{
	const uint64_t key = (uint64_t)film << 32 | asked;
	return hash_words(&key, 1);
}

static void enter(finder *f, uint64_t hash, uint32_t place)
{
	uint32_t i = (uint32_t)hash & (f->room - 1);

	while (f->at[i])
		i = (i + 1) & (f->room - 1);
	f->at[i] = place + 1;
}

/* A finder for `count` things; *anew: it was made larger, and is empty. False: out of memory. */
static bool finder_room(const tc_kept *kept, finder *f, uint32_t count, bool *anew)
{
	uint32_t room = f->room ? f->room : 128;

	*anew = 2 * count > f->room;
	if (!*anew)
		return true;
	while (room < 2 * count)
		room *= 2;
	uint32_t *at = kept->from->get(kept->from->user, f->at, room * sizeof *at);
	if (!at)
		return false;
	memset(at, 0, room * sizeof *at);
	*f = (finder){at, room};
	return true;
}

/* Room for one more to be found. */
static bool name_room(tc_kept *kept)
{
	bool anew;

	if (!finder_room(kept, &kept->name_finder, kept->name_count + 1, &anew))
		return false;
	for (uint32_t i = 0; anew && i < kept->name_count; i++)
		enter(&kept->name_finder, hash_words(kept->words + kept->names[i].from, kept->names[i].count), i);
	return true;
}

static bool result_room(tc_kept *kept)
{
	bool anew;

	if (!finder_room(kept, &kept->result_finder, kept->result_count + 1, &anew))
		return false;
	for (uint32_t i = 0; anew && i < kept->result_count; i++)
		enter(&kept->result_finder, hash_result(kept->results[i].film, kept->results[i].asked), i);
	return true;
}

static void empty(tc_kept *kept)
{
	kept->word_count = kept->name_count = kept->result_count = 0;
	if (kept->name_finder.at)
		memset(kept->name_finder.at, 0, kept->name_finder.room * sizeof *kept->name_finder.at);
	if (kept->result_finder.at)
		memset(kept->result_finder.at, 0, kept->result_finder.room * sizeof *kept->result_finder.at);
}

/* --- outside ------------------------------------------------------------------------------------------------------------ */

static const name *find_name(const tc_kept *kept, const double *words, uint32_t count, uint64_t hash)
{
	const finder *f = &kept->name_finder;

	for (uint32_t i = (uint32_t)hash & (f->room - 1); f->room && f->at[i]; i = (i + 1) & (f->room - 1)) {
		const name *n = &kept->names[f->at[i] - 1];
		if (n->count == count && memcmp(kept->words + n->from, words, count * sizeof *words) == 0)
			return n;
	}
	return NULL;
}

uint32_t tc_kept_name(tc_kept *kept, const double *words, uint32_t count)
{
	const uint64_t hash = hash_words(words, count);
	const name *known = find_name(kept, words, count, hash);

	if (known)
		return known->number;
	if (kept->name_count >= NAMES_MAX || kept->word_count + count > WORDS_MAX)
		empty(kept);
	if (kept->last == UINT32_MAX || !name_room(kept)) /* the last number there is: nothing more is kept */
		return 0;
	memcpy(kept->words + kept->word_count, words, count * sizeof *words);
	kept->names[kept->name_count] = (name){kept->word_count, count, ++kept->last};
	enter(&kept->name_finder, hash, kept->name_count++);
	kept->word_count += count;
	return kept->last;
}

static const result *find_result(const tc_kept *kept, uint32_t film, uint32_t asked)
{
	const finder *f = &kept->result_finder;

	for (uint32_t i = (uint32_t)hash_result(film, asked) & (f->room - 1); f->room && f->at[i];
	     i = (i + 1) & (f->room - 1)) {
		const result *r = &kept->results[f->at[i] - 1];
		if (r->film == film && r->asked == asked)
			return r;
	}
	return NULL;
}

const double *tc_kept_get(tc_kept *kept, uint32_t film, uint32_t asked)
{
	const result *r = find_result(kept, film, asked);

	kept->asked++;
	if (!r)
		return NULL;
	kept->found++;
	return r->figures;
}

void tc_kept_put(tc_kept *kept, uint32_t film, uint32_t asked, const double results[TC_KEPT_RESULTS])
{
	if (!film || !asked || find_result(kept, film, asked))
		return;
	if (kept->result_count >= RESULTS_MAX)
		empty(kept);
	if (!result_room(kept))
		return;
	result *r = &kept->results[kept->result_count];
	r->film = film;
	r->asked = asked;
	memcpy(r->figures, results, sizeof r->figures);
	enter(&kept->result_finder, hash_result(film, asked), kept->result_count++);
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
