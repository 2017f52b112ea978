/* Names of findings. The hash is FNV-1a of 128 bits: simple, the same everywhere, and not meant to withstand an enemy. */
#include <stdio.h>
#include <string.h>

#include "report/fingerprint.h"
#include "rule/step_key.h"

/* FNV-1a, 128 bits: offset basis 0x6c62272e07bb014262b821756295c58d, prime 2^88 + 2^8 + 0x3b (draft-eastlake-fnv; from
 * memory, held to its published value for "a" by hand). */
typedef struct hash {
	uint64_t high, low;
} hash;

static const hash BASIS = {0x6c62272e07bb0142u, 0x62b821756295c58du};
#define PRIME_LOW 0x13bu
#define PRIME_SHIFT 24 /* 2^88 is 2^24 in the upper half */

/* Times the prime, modulo 2^128. */
static hash times_prime(hash h)
{
	const uint64_t a = (h.low & UINT32_MAX) * PRIME_LOW, b = (h.low >> 32) * PRIME_LOW;
	const uint64_t middle = (a >> 32) + (b & UINT32_MAX);
	hash to;
	to.low = (middle << 32) | (a & UINT32_MAX);
	to.high = h.high * PRIME_LOW + (b >> 32) + (middle >> 32) + (h.low << PRIME_SHIFT);
	return to;
}

/* The text and the NUL behind it, so that two texts never run into each other; NULL is another thing than empty. */
static void add(hash *h, const char *text)
{
	const char *c = text ? text : "\x01";
	do {
		h->low ^= (unsigned char)*c;
		*h = times_prime(*h);
	} while (*c++);
}

static void print(hash h, char hex[TC_FINGERPRINT_SIZE])
{
	snprintf(hex, TC_FINGERPRINT_SIZE, "%016llx%016llx", (unsigned long long)h.high, (unsigned long long)h.low);
}

/* --- what a finding is told by ----------------------------------------------------------------------------------- */

typedef struct traits {
	const char *rule, *defect, *part, *verb, *label, *under;
} traits;
#define TRAITS 6

static const char *label_of(const tc_written_step *step)
{
	return step->with ? step->with->label : step->text;
}

/* The label that was laid at a place. */
static const char *label_at(const tc_recipe *recipe, tc_place place)
{
	for (uint32_t i = 0; place.file && i < recipe->steps; i++)
		if (recipe->step[i].place.line == place.line && recipe->step[i].place.column == place.column)
			return label_of(&recipe->step[i]);
	return NULL;
}

static traits traits_of(const tc_judgement *judgement, const tc_finding *f)
{
	const tc_recipe *recipe = judgement->model->recipe;
	const tc_written_step *step = f->step ? &recipe->step[f->step - 1] : NULL;
	return (traits){
	    .rule = f->rule->id,
	    .defect = f->defect,
	    .part = f->part == TC_NONE ? NULL : judgement->model->part[f->part].written->name,
	    .verb = step ? tc_step_verb(step->verb)->name : NULL,
	    .label = step ? label_of(step) : NULL,
	    .under = label_at(recipe, f->related),
	};
}

static bool same_text(const char *a, const char *b)
{
	return a == b || (a && b && strcmp(a, b) == 0);
}

static bool same(const traits *a, const traits *b)
{
	return same_text(a->rule, b->rule) && same_text(a->defect, b->defect) && same_text(a->part, b->part) &&
	       same_text(a->verb, b->verb) && same_text(a->label, b->label) && same_text(a->under, b->under);
}

/* How many findings before this one have the same traits. */
static uint32_t alike_before(const tc_judgement *judgement, const tc_finding *finding, const traits *own)
{
	uint32_t count = 0;
	for (const tc_finding *f = judgement->finding; f < finding; f++) {
		if (f->rule != finding->rule || f->part != finding->part)
			continue;
		const traits others = traits_of(judgement, f);
		count += same(&others, own);
	}
	return count;
}

void tc_fingerprint(const tc_judgement *judgement, const tc_finding *finding, char hex[TC_FINGERPRINT_SIZE])
{
	const traits own = traits_of(judgement, finding);
	const char *const texts[TRAITS] = {own.rule, own.defect, own.part, own.verb, own.label, own.under};
	char number[16];
	hash h = BASIS;
	add(&h, judgement->model->recipe->title);
	for (size_t i = 0; i < TRAITS; i++)
		add(&h, texts[i]);
	snprintf(number, sizeof number, "%u", (unsigned)alike_before(judgement, finding, &own));
	add(&h, number);
	print(h, hex);
}

void tc_fingerprint_unused(const tc_judgement *judgement, const tc_accept *accept, char hex[TC_FINGERPRINT_SIZE])
{
	const tc_recipe *recipe = judgement->model->recipe;
	uint32_t alike = 0;
	char number[16];
	hash h = BASIS;
	for (uint32_t i = 0; i < judgement->unused && judgement->unused_accept[i] != accept; i++)
		alike += strcmp(judgement->unused_accept[i]->name, accept->name) == 0;
	snprintf(number, sizeof number, "%u", (unsigned)alike);
	add(&h, recipe->title);
	add(&h, "unused-acceptance");
	add(&h, accept->name);
	add(&h, number);
	print(h, hex);
}
