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

static const char *label_of(const tc_written_step *step)
{
	return step->with ? step->with->label : step->text;
}

static bool alike(const tc_written_step *a, const tc_written_step *b)
{
	const char *one = label_of(a), *other = label_of(b);
	return a->verb == b->verb && (one == other || (one && other && strcmp(one, other) == 0));
}

static void add_number(hash *h, uint32_t number)
{
	char text[16];
	snprintf(text, sizeof text, "%u", (unsigned)number);
	add(h, text);
}

/* What the step does, with what, and the how-manyth step of the recipe it is that does that. `index` past the last: none. */
static void add_step(hash *h, const tc_recipe *recipe, uint32_t index)
{
	uint32_t before = 0;
	if (index >= recipe->steps) {
		add(h, NULL);
		return;
	}
	for (uint32_t i = 0; i < index; i++)
		before += alike(&recipe->step[i], &recipe->step[index]);
	add(h, tc_step_verb(recipe->step[index].verb)->name);
	add(h, label_of(&recipe->step[index]));
	add_number(h, before);
}

/* The step at a place; as many as there are if none stands there. */
static uint32_t step_at(const tc_recipe *recipe, tc_place place)
{
	uint32_t i = 0;
	while (i < recipe->steps && !(place.file && recipe->step[i].place.line == place.line &&
	                                recipe->step[i].place.column == place.column))
		i++;
	return i;
}

/* Findings before this one that differ from it in nothing but their place among the rule's subjects of one step. */
static uint32_t same_before(const tc_judgement *judgement, const tc_finding *finding)
{
	uint32_t count = 0;
	for (const tc_finding *f = finding; f > judgement->finding; f--) {
		const tc_finding *before = f - 1;
		if (before->place.line != finding->place.line || before->place.column != finding->place.column)
			break; /* they are sorted by place */
		count += before->rule == finding->rule && before->part == finding->part &&
		         before->step == finding->step && before->related.line == finding->related.line &&
		         before->related.column == finding->related.column;
	}
	return count;
}

void tc_fingerprint(const tc_judgement *judgement, const tc_finding *finding, char hex[TC_FINGERPRINT_SIZE])
{
	const tc_recipe *recipe = judgement->model->recipe;
	hash h = BASIS;
	add(&h, recipe->title);
	add(&h, finding->rule->id);
	add(&h, finding->defect);
	add(&h, finding->part == TC_NONE ? NULL : judgement->model->part[finding->part].written->name);
	add_step(&h, recipe, finding->step ? finding->step - 1 : recipe->steps);
	add_step(&h, recipe, step_at(recipe, finding->related));
	add_number(&h, same_before(judgement, finding));
	print(h, hex);
}

void tc_fingerprint_unused(const tc_judgement *judgement, const tc_accept *accept, char hex[TC_FINGERPRINT_SIZE])
{
	const tc_recipe *recipe = judgement->model->recipe;
	uint32_t before = 0;
	hash h = BASIS;
	for (uint32_t i = 0; i < judgement->unused && judgement->unused_accept[i] != accept; i++)
		before += strcmp(judgement->unused_accept[i]->name, accept->name) == 0;
	add(&h, recipe->title);
	add(&h, "unused-acceptance");
	add(&h, accept->name);
	add_number(&h, before);
	print(h, hex);
}
