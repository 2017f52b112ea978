/* Advice as edits of a recipe's text, byte for byte: another material, one more coat, a step moved. With the default rulebook
 * and a few rules laid over it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "../judge/bench_of.h"
#include "report/fix.h"

static const char house[] =
    "rules:\n"
    "  varnish-on-lacquer:\n    about: shellac on lacquer\n    asks: contact\n    when: coat is spirit-varnish and "
    "under is lacquer and direct\n"
    "    verdict: note\n    says: shellac on lacquer\n    from: practice\n"
    "    remedies:\n      - move: {before: under}\n      - move: {after: under}\n      - move: {before: coat}\n"
    "      - instead: {kind: waterborne-acrylics, that: new.roles is clear}\n"
    "      - insert: {kind: waterborne-acrylics, that: new.roles is clear}\n        before: coat\n"
    "    shown_by:\n      breaks: [{on: steel, stack: [{coat: acrylic-lacquer, pass: light}, {coat: shellac, pass: "
    "light}]}]\n"
    "      holds: [{on: steel, stack: [{coat: shellac, pass: light}]}]\n"
    "  no-lighter-fluid:\n    about: spirits\n    asks: touch\n    when: liquid is white-spirit\n"
    "    verdict: note\n    says: spirits\n    from: practice\n    remedies:\n      - instead: {kind: "
    "aqueous-cleaner, that: new.removes is grease and new.removes is dust}\n"
    "    shown_by:\n      breaks: [{on: steel, stack: [{wipe: white-spirit}]}]\n"
    "      holds: [{on: steel, stack: [{wipe: isopropanol}]}]\n";

typedef struct bench {
	files files;
	tc_rulebook *rulebook;
	tc_arena *arena;
	tc_worker *worker;
	tc_diags *diags;
} bench;

static int set_up(void **state)
{
	static bench b;
	b = (bench){.files = default_files(), .arena = tc_arena_new(NULL, 0)};
	b.diags = tc_diags_new(b.arena);
	b.files.at[b.files.count++] = (tc_rulebook_file){
	    .name = strdup("house.yaml"), .bytes = strdup(house), .length = strlen(house), .layer = 1};
	if (tc_rulebook_load(NULL, b.files.at, b.files.count, false, b.diags, &b.rulebook) != TC_OK)
		show(b.diags);
	b.worker = b.rulebook ? tc_worker_new(b.rulebook, NULL) : NULL;
	*state = &b;
	return b.worker ? 0 : -1;
}

static int take_down(void **state)
{
	bench *b = *state;
	tc_worker_free(b->worker);
	tc_rulebook_free(b->rulebook);
	tc_arena_free(b->arena);
	free_files(&b->files);
	return 0;
}

static const tc_finding *finding_of(const tc_judgement *judgement, const char *rule)
{
	for (uint32_t i = 0; i < judgement->findings; i++)
		if (strcmp(judgement->finding[i].rule->id, rule) == 0)
			return &judgement->finding[i];
	fail_msg("%s is not found", rule);
	return NULL;
}

/* The byte at a place; the plans here are ASCII. */
static size_t byte_at(const char *text, tc_place place)
{
	size_t at = 0;
	for (uint32_t line = 1; line < place.line; at++)
		line += text[at] == '\n';
	return at + place.column - 1;
}

static void apply(const char *text, const tc_fix *fix, tc_buffer *out)
{
	size_t done = 0;
	tc_buffer_start(out, NULL);
	for (uint32_t i = 0; i < fix->edits; i++) {
		const size_t from = byte_at(text, fix->edit[i].from);
		assert_true(from >= done); /* in the order of the text, none within another */
		tc_buffer_add(out, (tc_text){text + done, from - done});
		tc_buffer_puts(out, fix->edit[i].text);
		done = byte_at(text, fix->edit[i].to);
	}
	tc_buffer_puts(out, text + done);
}

/* The plan after fix `choice` of the advice of that number of a rule's first finding; NULL: there is no such fix. */
static void expect(bench *b, const char *rule, uint32_t advice, uint32_t choice, const char *text, const char *says,
    const char *expected)
{
	const tc_judgement *judgement = NULL;
	tc_fix fix;
	tc_buffer out;
	if (judge_text(b->worker, b->arena, b->rulebook, "plan.yaml", text, strlen(text), false, &judgement,
	        b->diags) != TC_OK)
		show(b->diags);
	assert_non_null(judgement);
	const tc_finding *f = finding_of(judgement, rule);
	assert_true(f->advices > advice && tc_fix_choices(&f->advice[advice]) > choice);
	const bool made = tc_fix_choose(b->arena, judgement, f, &f->advice[advice], choice, &fix);
	assert_int_equal(made, expected != NULL);
	if (!made)
		return;
	apply(text, &fix, &out);
	assert_string_equal(out.at, expected);
	if (says)
		assert_string_equal(fix.says, says);
	assert_int_equal(
	    judge_text(b->worker, b->arena, b->rulebook, "fixed.yaml", out.at, out.length, false, &judgement, b->diags),
	    TC_OK);
	tc_buffer_free(&out);
}

#define HEAD "recipe: Skiff\non: steel\nstack:\n"
#define FLOW "recipe: Skiff\non: steel\nstack: "
#define SHELLAC "varnish-on-lacquer"
enum { MOVE_BEFORE, MOVE_AFTER, MOVE_NOWHERE, INSTEAD, LAY };

static void a_step_is_moved(void **state)
{
	expect(*state, SHELLAC, MOVE_BEFORE, 0,
	    HEAD "  - coat: acrylic-lacquer   # red\n    pass: light\n  # dry\n  - wait: 1 d\n  - coat: shellac  # "
	         "clear\n    pass: light\n"
	         "  - wait: 1 h\n",
	    NULL,
	    HEAD "  - coat: shellac  # clear\n    pass: light\n  - coat: acrylic-lacquer   # red\n    pass: light\n  # "
	         "dry\n  - wait: 1 d\n"
	         "  - wait: 1 h\n");
	expect(*state, SHELLAC, MOVE_AFTER, 0,
	    HEAD "- coat: acrylic-lacquer\n  pass: light\n- wait: 1 d\n- {coat: shellac, pass: light}", NULL,
	    HEAD "- coat: acrylic-lacquer\n  pass: light\n- {coat: shellac, pass: light}\n- wait: 1 d\n");
	expect(*state, SHELLAC, MOVE_BEFORE, 0,
	    "recipe: Skiff\r\non: steel\r\nstack:\r\n- coat: acrylic-lacquer\r\n- wait: 1 d\r\n- coat: shellac", NULL,
	    "recipe: Skiff\r\non: steel\r\nstack:\r\n- coat: shellac\r\n- coat: acrylic-lacquer\r\n- wait: 1 d\r\n");
	expect(*state, SHELLAC, MOVE_BEFORE, 0,
	    FLOW "[{coat: acrylic-lacquer}, {wait: 1 d}, {coat: shellac}, {wait: 1 h}]\n", NULL,
	    FLOW "[{coat: shellac}, {coat: acrylic-lacquer}, {wait: 1 d}, {wait: 1 h}]\n");
	expect(*state, SHELLAC, MOVE_AFTER, 0, FLOW "[{coat: acrylic-lacquer}, {wait: 1 d}, {coat: shellac}]\n", NULL,
	    FLOW "[{coat: acrylic-lacquer}, {coat: shellac}, {wait: 1 d}]\n");
}

static void a_step_stays_where_moving_it_is_no_simple_edit(void **state)
{
	/* where it is already */
	expect(*state, SHELLAC, MOVE_AFTER, 0, HEAD "  - coat: acrylic-lacquer\n  - coat: shellac\n", NULL, NULL);
	expect(*state, SHELLAC, MOVE_AFTER, 0, FLOW "[{coat: acrylic-lacquer}, {coat: shellac}]\n", NULL, NULL);
	/* before itself */
	expect(*state, SHELLAC, MOVE_NOWHERE, 0, HEAD "  - coat: acrylic-lacquer\n  - wait: 1 d\n  - coat: shellac\n",
	    NULL, NULL);
	/* a value by an alias */
	expect(*state, SHELLAC, MOVE_BEFORE, 0,
	    HEAD "  - coat: acrylic-lacquer\n    flash: &a 10 min\n  - wait: 1 d\n  - coat: shellac\n    flash: *a\n",
	    NULL, NULL);
	/* another part is served by it too */
	expect(*state, SHELLAC, MOVE_BEFORE, 0,
	    "recipe: Skiff\nparts: {hull: {substrate: steel}, deck: {substrate: brass}}\nstack:\n  - coat: "
	    "acrylic-lacquer\n"
	    "  - wait: 1 d\n  - coat: shellac\n",
	    NULL, NULL);
}

static void another_material_is_taken(void **state)
{
	expect(*state, SHELLAC, INSTEAD, 0,
	    HEAD "  - coat: acrylic-lacquer\n  - wait: 1 d\n  - coat: 'shellac' # clear\n    pass: light\n",
	    "take acrylic floor polish in this step instead",
	    HEAD "  - coat: acrylic-lacquer\n  - wait: 1 d\n  - coat: acrylic-floor-polish # clear\n    pass: light\n");
	expect(*state, SHELLAC, INSTEAD, 1,
	    FLOW "[{coat: acrylic-lacquer}, {wait: 1 d}, {coat: shellac, pass: light}]\n",
	    "take waterborne barrier coat in this step instead",
	    FLOW "[{coat: acrylic-lacquer}, {wait: 1 d}, {coat: waterborne-barrier, pass: light}]\n");
	expect(*state, "no-lighter-fluid", 0, 0, HEAD "  - wipe: white-spirit\n    time: 10 s\n", NULL,
	    HEAD "  - wipe: detergent\n    time: 10 s\n");
	/* thinned with what belongs to the old paint */
	expect(*state, SHELLAC, INSTEAD, 0,
	    HEAD "  - coat: acrylic-lacquer\n  - wait: 1 d\n  - coat: shellac\n    thin: {with: ethanol, ratio: 1:1}\n",
	    NULL, NULL);
	/* a label of the shelf that would be taken instead of the library's material */
	expect(*state, SHELLAC, INSTEAD, 0,
	    "recipe: Skiff\non: steel\nshelf: {acrylic-floor-polish: {family: acrylic-lacquer}}\nstack: [{coat: "
	    "acrylic-floor-polish}, "
	    "{wait: 1 d}, {coat: shellac}]\n",
	    NULL, NULL);
}

static void one_more_coat_is_laid_and_dries(void **state)
{
	expect(*state, SHELLAC, LAY, 0, HEAD "  - coat: acrylic-lacquer\n  - wait: 1 d\n  - coat: shellac\n",
	    "lay acrylic floor polish before step 3, and wait 15 min",
	    HEAD "  - coat: acrylic-lacquer\n  - wait: 1 d\n  - coat: acrylic-floor-polish\n    role: clear\n  - wait: "
	         "15 min\n"
	         "  - coat: shellac\n");
	expect(*state, SHELLAC, LAY, 1,
	    "recipe: Skiff\nparts: {hull: {substrate: steel}, deck: {substrate: brass}}\nstack: [{coat: "
	    "acrylic-lacquer}, {wait: 1 d}, "
	    "{coat: shellac}]\n",
	    NULL,
	    "recipe: Skiff\nparts: {hull: {substrate: steel}, deck: {substrate: brass}}\nstack: [{coat: "
	    "acrylic-lacquer}, {wait: 1 d}, "
	    "{coat: waterborne-barrier, role: clear, on: hull}, {wait: 15 min}, {coat: shellac}]\n");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(a_step_is_moved),
	    cmocka_unit_test(a_step_stays_where_moving_it_is_no_simple_edit),
	    cmocka_unit_test(another_material_is_taken),
	    cmocka_unit_test(one_more_coat_is_laid_and_dries),
	};
	return cmocka_run_group_tests(tests, set_up, take_down);
}
