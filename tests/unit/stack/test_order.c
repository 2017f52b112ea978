/* The order of keys never matters: a recipe with the keys of its mappings in any order makes the same model. */
#include <stdlib.h>

#include "kit.h"

/* A mapping as its lines; what is indented below a line belongs to it. The stack is a list and keeps its order. */
typedef struct block {
	const char *const *lines;
	size_t count;
} block;

static const char *const top[] = {
    "recipe: x\n", "scale: 1:48\n", "workshop:\n%W", "parts:\n%P", "shelf:\n%S", "stack:\n%T", "accept: [{%A}]\n"};
static const char *const shop[] = {
    "  temperature: 19 °C\n", "  humidity: 40 %\n", "  habits: {dry: yes, dust: no}\n", "  by: brush\n"};
static const char *const part[] = {"    substrate: resin\n", "    area: 30 cm²\n", "    areas: {bottom: 40 %}\n",
    "    lit: yes\n", "    finish: [{age: 3 y, coat: oil-enamel}]\n", "    lines: {depth: 0.2 mm, width: 0.3 mm}\n"};
static const char *const label[] = {
    "    family: clear-2k\n", "    solids: 30 %\n", "    pot_life: 3 h\n", "    flash: 9 min\n"};
static const char *const coat[] = {"      coat: gloss\n", "      coats: 3\n", "      flash: [4 min, 6 min]\n",
    "      pass: wet\n", "      mix: 4:1\n", "      on: hull\n", "      role: clear\n",
    "      thin: {ratio: 2:1, with: acetone}\n"};
static const char *const decal[] = {
    "      decal: water-slide\n", "      softener: decal-softener\n", "      time: 2 min\n"};
static const char *const accept[] = {"rule: too-smooth-to-key", "because: x", "on: hull/bottom", "step: 2"};

#define BLOCK(array) ((block){(array), sizeof(array) / sizeof *(array)})

typedef struct sheet {
	char text[8192];
	size_t length;
	uint32_t seed;
} sheet;

static uint32_t next(sheet *s)
{
	s->seed =
	    s->seed * 1664525u + 1013904223u; /* a plain congruential generator, for the same orders on every machine */
	return s->seed >> 8;
}

static void put(sheet *s, const char *text)
{
	const size_t n = strlen(text);
	assert_true(s->length + n < sizeof s->text);
	memcpy(s->text + s->length, text, n + 1);
	s->length += n;
}

static void put_block(sheet *s, block b, const char *between);

static void put_steps(sheet *s)
{
	put(s, "  - {wait: 1 h}\n  -\n");
	put_block(s, BLOCK(coat), "");
	put(s, "  - {wait: 1 d}\n  -\n");
	put_block(s, BLOCK(decal), "");
}

/* A line; `%X` in it stands for another block. */
static void put_line(sheet *s, const char *line)
{
	const char *percent = strchr(line, '%');
	while (percent && (percent[1] < 'A' || percent[1] > 'Z'))
		percent = strchr(percent + 1, '%');
	if (!percent) {
		put(s, line);
		return;
	}
	char head[64];
	snprintf(head, sizeof head, "%.*s", (int)(percent - line), line);
	put(s, head);
	switch (percent[1]) {
	case 'W':
		put_block(s, BLOCK(shop), "");
		break;
	case 'P':
		put(s, "  hull:\n");
		put_block(s, BLOCK(part), "");
		break;
	case 'S':
		put(s, "  gloss:\n");
		put_block(s, BLOCK(label), "");
		break;
	case 'A':
		put_block(s, BLOCK(accept), ", ");
		break;
	default:
		put_steps(s);
	}
	put(s, percent + 2);
}

static void put_block(sheet *s, block b, const char *between)
{
	size_t order[16];
	for (size_t i = 0; i < b.count; i++)
		order[i] = i;
	for (size_t i = b.count; s->seed && i > 1; i--) {
		const size_t j = next(s) % i, kept = order[i - 1];
		order[i - 1] = order[j];
		order[j] = kept;
	}
	for (size_t i = 0; i < b.count; i++) {
		if (i)
			put(s, between);
		put_line(s, b.lines[order[i]]);
	}
}

/* Everything of a model that does not tell where in the file it stood. */
static void describe(const kit *k, tc_buffer *out)
{
	const tc_model *m = k->model;
	tc_buffer_print(out, "%s %g %g %g %u %u\n", m->recipe->title, m->recipe->scale, m->temperature.number,
	    m->humidity.number, m->recipe->products, m->recipe->accept[0].step);
	tc_buffer_print(
	    out, "accepts %llx %s\n", (unsigned long long)m->recipe->accept[0].parts, m->recipe->accept[0].because);
	for (uint32_t i = 0; i < m->recipe->products; i++)
		tc_buffer_print(
		    out, "product %s %s\n", m->recipe->product[i]->label, m->recipe->product[i]->family->id);
	for (uint32_t p = 0; p < m->parts; p++) {
		const tc_part *part_of = &m->part[p];
		tc_buffer_print(out, "%s %g %d %g %g: %s\n", part_of->written->name, part_of->written->area.number,
		    (int)part_of->lit.truth, part_of->width_left.number, part_of->depth_left.number,
		    kit_surface(part_of->end));
		for (uint32_t i = 0; i < part_of->layers; i++) {
			const tc_layer *l = part_of->layer[i];
			tc_buffer_print(out, "  layer %s %u %u %u %g %g %g %u %g\n", l->product->label, l->role,
			    l->method, l->coats, l->film.number, l->done, l->flash_least, l->batch,
			    tc_layer_cured(m, l, m->end).number);
		}
		for (uint32_t i = 0; i < part_of->steps; i++)
			tc_buffer_print(out, "  step %u %g %u %s\n", part_of->step[i].step->number,
			    part_of->step[i].step->start, part_of->step[i].touches, kit_contacts(&part_of->step[i]));
	}
}

static void write_and_read(kit *k, uint32_t seed, tc_buffer *out)
{
	static sheet s;
	s.length = 0;
	s.seed = seed;
	put_block(&s, BLOCK(top), "");
	kit_model(k, s.text);
	tc_buffer_start(out, NULL);
	describe(k, out);
}

static void order_of_keys_does_not_matter(void **state)
{
	tc_buffer first;
	write_and_read(*state, 0, &first);
	assert_non_null(strstr(first.at, "layer gloss"));
	for (uint32_t seed = 1; seed <= 500; seed++) {
		tc_buffer other;
		write_and_read(*state, seed, &other);
		assert_string_equal(other.at, first.at);
		tc_buffer_free(&other);
	}
	tc_buffer_free(&first);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(order_of_keys_does_not_matter)};
	return cmocka_run_group_tests(tests, kit_setup, kit_teardown);
}
