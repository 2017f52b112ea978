/* Each bound of a recipe (base/limits.h): good at it, refused one past it, and the message names it. */
#include "kit.h"

typedef struct writer {
	char text[1 << 18];
	size_t length;
} writer;

__attribute__((format(printf, 2, 3))) static void add(writer *w, const char *format, ...)
{
	va_list list;
	va_start(list, format);
	w->length += (size_t)vsnprintf(w->text + w->length, sizeof w->text - w->length, format, list);
	va_end(list);
	assert_true(w->length < sizeof w->text);
}

static writer paper;

static writer *clean_sheet(void)
{
	paper.length = 0;
	return &paper;
}

static void good(kit *k, const writer *w)
{
	kit_model(k, w->text);
	assert_int_equal(tc_diags_count(k->diags), 0);
}

static const char *parts(unsigned count)
{
	writer *w = clean_sheet();
	add(w, "stack: [{sand: P400}]\nparts:\n");
	for (unsigned i = 0; i < count; i++)
		add(w, "  part %u: {substrate: brass}\n", i);
	return w->text;
}

static void bound_of_parts(void **state)
{
	parts(TC_PARTS_MAX);
	good(*state, &paper);
	assert_int_equal(((kit *)*state)->recipe->step[0].parts, UINT64_MAX);
	kit_refuses(*state, parts(TC_PARTS_MAX + 1),
	    "r.yaml:67:3: error: `part 64` is one part too many; a recipe has at most 64, areas included [bound]\n");
}

static const char *areas(unsigned count)
{
	writer *w = clean_sheet();
	add(w, "stack: [{sand: P400}]\nparts: {hull: {substrate: brass, areas: {");
	for (unsigned i = 0; i < count; i++)
		add(w, "%s%c: 1 %%", i ? ", " : "", 'a' + i);
	add(w, "}}}\n");
	return w->text;
}

static void bound_of_areas(void **state)
{
	areas(TC_AREAS_MAX);
	good(*state, &paper);
	kit_refuses(
	    *state, areas(TC_AREAS_MAX + 1), "r.yaml:2:41: error: `areas` names 9; a part has at most 8 [bound]\n");
}

static const char *steps(unsigned count)
{
	writer *w = clean_sheet();
	add(w, "on: brass\nstack:\n");
	for (unsigned i = 0; i < count; i++)
		add(w, "  - wait: 1 h\n");
	return w->text;
}

static void bound_of_steps(void **state)
{
	steps(TC_STEPS_MAX);
	good(*state, &paper);
	kit_refuses(
	    *state, steps(TC_STEPS_MAX + 1), "r.yaml:3:3: error: the stack has 257 steps; at most 256 [bound]\n");
}

static const char *shelf(unsigned count)
{
	writer *w = clean_sheet();
	add(w, "on: brass\nstack: [{wait: 1 h}]\nshelf:\n");
	for (unsigned i = 0; i < count; i++)
		add(w, "  paint %u: {family: oil-enamel}\n", i);
	return w->text;
}

static void bound_of_the_shelf(void **state)
{
	shelf(TC_SHELF_MAX);
	good(*state, &paper);
	kit_refuses(
	    *state, shelf(TC_SHELF_MAX + 1), "r.yaml:4:3: error: the shelf has 513 labels; at most 512 [bound]\n");
}

static const char *passes(unsigned count)
{
	writer *w = clean_sheet();
	add(w, "on: brass\nstack:\n  - coat: oil-enamel\n    passes: [");
	for (unsigned i = 0; i < count; i++)
		add(w, "%slight", i ? ", " : "");
	add(w, "]\n");
	return w->text;
}

static void bound_of_passes(void **state)
{
	kit *k = *state;
	passes(TC_COATS_MAX);
	good(k, &paper);
	assert_int_equal(k->model->part[0].layer[0]->coats, TC_COATS_MAX);
	kit_refuses(
	    k, passes(TC_COATS_MAX + 1), "r.yaml:4:13: error: `passes` lists 51; a layer has at most 50 [bound]\n");
	/* two steps that would be one layer stay two where that is past the bound */
	kit_stack(
	    k, "  - {coat: oil-enamel, coats: 50, pass: light, flash: 1 s}\n  - {coat: oil-enamel, pass: light}\n");
	assert_int_equal(k->model->part[0].layers, 2);
}

static const char *layers(unsigned finishes, unsigned count)
{
	writer *w = clean_sheet();
	add(w, "stack:\n");
	for (unsigned i = 0; i < count; i++)
		add(w, "  - {fill: putty}\n");
	add(w, "parts: {hull: {substrate: brass, finish: [");
	for (unsigned i = 0; i < finishes; i++)
		add(w, "%s{coat: coating}", i ? ", " : "");
	add(w, "]}}\n");
	return w->text;
}

static void bound_of_layers(void **state)
{
	kit *k = *state;
	layers(2, TC_EXPOSED_MAX - 3);
	good(k, &paper);
	assert_int_equal(k->model->part[0].layers, TC_EXPOSED_MAX - 1);
	kit_refuses(k, layers(2, TC_EXPOSED_MAX - 2),
	    "r.yaml:2:3: error: 64 layers lie on `hull`; at most 63, spots of filler and old finishes included "
	    "[bound]\n");
	kit_refuses(k, layers(TC_EXPOSED_MAX, 1),
	    "r.yaml:3:42: error: `finish` lists 64 layers; at most 63 lie on one part [bound]\n");
}

/* Everything that is ever laid shows at once: mist coats that never close, and spots. */
static void all_may_be_exposed(void **state)
{
	kit *k = *state;
	writer *w = clean_sheet();
	add(w, "on: brass\nstack:\n");
	for (unsigned i = 0; i < TC_EXPOSED_MAX - 1; i++)
		add(w, i % 2 ? "  - {fill: putty}\n" : "  - {coat: lacquer-primer, pass: mist}\n  - {wait: 1 h}\n");
	good(k, w);
	const tc_part *part = &k->model->part[0];
	assert_int_equal(part->end.count, TC_EXPOSED_MAX);
	assert_int_equal(part->step[part->steps - 2].contacts, TC_EXPOSED_MAX - 1);
}

static void bound_of_time(void **state)
{
	kit_stack(*state, "  - wait: 100 y\n  - {coat: clear-2k, mix: 4:1:1:1, pass: light}\n");
	kit_refuses(*state, "on: brass\nstack: [{wait: 100.1 y}]\n",
	    "r.yaml:2:16: error: `wait` is `100.1 y`, longer than the 100 years that a plan may take [bound]\n");
	kit_refuses(*state, "on: brass\nstack: [{coat: clear-2k, mix: 4:1:1:1:1}]\n",
	    "r.yaml:2:39: error: `mix`: a ratio has at most 4 terms [ratio]\n");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(bound_of_parts),
	    cmocka_unit_test(bound_of_areas),
	    cmocka_unit_test(bound_of_steps),
	    cmocka_unit_test(bound_of_the_shelf),
	    cmocka_unit_test(bound_of_passes),
	    cmocka_unit_test(bound_of_layers),
	    cmocka_unit_test(all_may_be_exposed),
	    cmocka_unit_test(bound_of_time),
	};
	return cmocka_run_group_tests(tests, kit_setup, kit_teardown);
}
