/* Forms of a report where memory fails; names of findings; advice as edits. With the small rulebook of the judge's tests. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "../heap.h"
#include "../judge/bench_of.h"
#include "../judge/small_book.h"
#include "report/fingerprint.h"
#include "report/fix.h"
#include "report/report.h"
#include "report/schema.h"
#include "report/xml.h"

typedef struct bench {
	tc_rulebook *rulebook;
	tc_arena *arena;
	tc_worker *worker;
	tc_diags *diags;
	const tc_judgement *judgement;
} bench;

static void set_up(bench *b)
{
	const tc_rulebook_file file = {.name = "small.yaml", .bytes = small_book, .length = strlen(small_book)};
	b->arena = tc_arena_new(NULL, 0);
	b->diags = tc_diags_new(b->arena);
	if (tc_rulebook_load(NULL, &file, 1, false, b->diags, &b->rulebook) != TC_OK)
		show(b->diags);
	assert_non_null(b->rulebook);
	b->worker = tc_worker_new(b->rulebook, NULL);
	assert_non_null(b->worker);
}

static void judge(bench *b, const char *text)
{
	if (judge_text(b->worker, b->arena, b->rulebook, "recipe.yaml", text, strlen(text), false, &b->judgement,
	        b->diags) != TC_OK) {
		show(b->diags);
		fail();
	}
}

static void take_down(bench *b)
{
	tc_worker_free(b->worker);
	tc_rulebook_free(b->rulebook);
	tc_arena_free(b->arena);
}

/* Errors, a caution, an acceptance that accepts nothing. */
static const char plan[] =
    "recipe: Skiff & <sons>\non: styrene\nstack:\n  - coat: hot-paint\n    role: colour\n    pass: wet\n"
    "  - wait: 1 h\n  - coat: hot-paint\n    role: colour\n    pass: wet\n"
    "accept:\n  - {defect: blushing, because: none is left}\n";

/* --- memory ------------------------------------------------------------------------------------------------------- */

static tc_status write_report(const bench *b, tc_format format, tc_buffer *out)
{
	const tc_report_options options = {.format = format, .at_least = TC_V_WARNING};
	tc_report *report = tc_report_new(&options, b->rulebook, &heap_allocator, out);
	if (!report)
		return TC_NO_MEMORY;
	tc_status status = tc_report_recipe(report, "recipe.yaml", b->judgement);
	if (status == TC_OK)
		status = tc_report_unreadable(report, "other.yaml", b->diags);
	if (status == TC_OK)
		status = tc_report_end(report, true);
	tc_report_free(report);
	return status;
}

static void every_allocation_of(const bench *b, tc_format format)
{
	tc_buffer whole, out;
	tc_buffer_start(&whole, &heap_allocator);
	heap_arm(0);
	assert_int_equal(write_report(b, format, &whole), TC_OK);
	heap_disarm();
	const long all = heap.requests;
	for (long n = 1; n <= all; n += 1 + n / 500) {
		tc_buffer_start(&out, &heap_allocator);
		heap_arm(n);
		const tc_status status = write_report(b, format, &out);
		const bool same = out.length == whole.length && memcmp(out.at, whole.at, out.length) == 0;
		tc_buffer_free(&out);
		heap_disarm();
		if (status == TC_OK) /* jansson can do without a thing or two */
			assert_true(same);
		else
			assert_int_equal(status, TC_NO_MEMORY);
		if (HEAP_WHOLE)
			assert_int_equal(heap.outstanding, 0);
	}
	tc_buffer_free(&whole);
}

static void reports_survive_every_failing_allocation(void **state)
{
	bench b = {0};
	(void)state;
	set_up(&b);
	judge(&b, plan);
	assert_true(b.judgement->findings > 0 && b.judgement->cautions > 0 && b.judgement->unused == 1);
	tc_diag_add(b.diags, TC_ERROR, "no-recipe", (tc_place){"other.yaml", 1, 1}, "no recipe");
	for (tc_format format = 0; format < TC_FORMAT_COUNT; format++)
		every_allocation_of(&b, format);
	take_down(&b);
}

/* Of a large collection cautions are cut, but each stands there once at least. */
static void no_caution_is_lost_where_they_are_cut(void **state)
{
	const tc_report_options options = {.format = TC_FORMAT_SARIF};
	bench b = {0};
	tc_buffer out;
	(void)state;
	set_up(&b);
	tc_buffer_start(&out, NULL);
	tc_report *report = tc_report_new(&options, b.rulebook, NULL, &out);
	assert_non_null(report);
	judge(&b, "recipe: Tin boat\non: tin\nstack: [{coat: cool-paint, pass: light}]\n");
	for (int i = 0; i < 5000; i++)
		assert_int_equal(tc_report_recipe(report, "tin.yaml", b.judgement), TC_OK);
	judge(&b, plan);
	assert_int_equal(tc_report_recipe(report, "plan.yaml", b.judgement), TC_OK);
	assert_int_equal(tc_report_end(report, true), TC_OK);
	const char *notes = strstr(out.at, "toolExecutionNotifications");
	assert_non_null(notes);
	assert_non_null(strstr(notes, "read the label"));
	assert_non_null(strstr(notes, "keep flames away"));
	assert_true(strlen(notes) < (2u << 20));
	tc_report_free(report);
	tc_buffer_free(&out);
	take_down(&b);
}

/* A store that holds its lists in memory, and takes no more after some bytes. */
typedef struct shelf {
	tc_buffer list[TC_STORE_LISTS];
	size_t given[TC_STORE_LISTS], most, fullest;
	tc_buffer *out;
} shelf;

static bool shelf_keep(void *user, unsigned list, tc_text text)
{
	shelf *s = user;
	if (s->list[list].length + text.length > s->most)
		return false;
	tc_buffer_add(&s->list[list], text);
	return true;
}

static bool shelf_give(void *user, unsigned list, tc_buffer *to)
{
	shelf *s = user;
	const size_t left = s->list[list].length - s->given[list], now = left < 1000 ? left : 1000;
	if (now)
		tc_buffer_add(to, (tc_text){s->list[list].at + s->given[list], now});
	s->given[list] += now;
	return true;
}

static void shelf_full(void *user)
{
	shelf *s = user;
	s->fullest = s->out->length > s->fullest ? s->out->length : s->fullest;
}

static void write_many(bench *b, tc_format format, size_t most, shelf *s, tc_buffer *out)
{
	const tc_report_options options = {.format = format};
	const tc_store store = {s, shelf_keep, shelf_give, shelf_full};
	char paths[1500][32];
	*s = (shelf){.most = most, .out = out};
	for (unsigned i = 0; i < TC_STORE_LISTS; i++)
		tc_buffer_start(&s->list[i], NULL);
	tc_buffer_start(out, NULL);
	tc_report *report = tc_report_new(&options, b->rulebook, NULL, out);
	assert_non_null(report);
	if (most)
		tc_report_store(report, &store);
	for (int i = 0; i < 1500; i++) {
		snprintf(paths[i], sizeof paths[i], "boats/tin-%d.yaml", i);
		assert_int_equal(tc_report_recipe(report, paths[i], b->judgement), TC_OK);
		assert_int_equal(tc_report_unreadable(report, paths[i], b->diags), TC_OK);
	}
	assert_int_equal(tc_report_end(report, true), TC_OK);
	tc_report_free(report);
}

static void put_away(shelf *s, tc_buffer *out)
{
	for (unsigned i = 0; i < TC_STORE_LISTS; i++)
		tc_buffer_free(&s->list[i]);
	tc_buffer_free(out);
}

/* What is kept elsewhere, all of it or until there is no more room, comes back in its place. */
static void a_store_changes_no_byte(void **state)
{
	static const tc_format formats[] = {TC_FORMAT_SARIF, TC_FORMAT_JSON};
	static const size_t most[] = {SIZE_MAX, 100000};
	bench b = {0};
	shelf none, some;
	tc_buffer whole, out;
	(void)state;
	set_up(&b);
	judge(&b, "recipe: Tin boat\non: tin\nstack: [{coat: cool-paint, pass: light}]\n");
	tc_diag_add(
	    b.diags, TC_ERROR, "no-recipe", (tc_place){NULL, 1, 1}, "no recipe of a boat in this file, it seems");
	for (size_t f = 0; f < 2; f++)
		for (size_t m = 0; m < 2; m++) {
			write_many(&b, formats[f], 0, &none, &whole);
			write_many(&b, formats[f], most[m], &some, &out);
			assert_int_equal(out.length, whole.length);
			assert_memory_equal(out.at, whole.at, whole.length);
			assert_true(some.list[0].length > 0 && some.given[0] == some.list[0].length);
			assert_true(some.fullest > 0);
			put_away(&none, &whole);
			put_away(&some, &out);
		}
	take_down(&b);
}

static void schemas_survive_failing_allocations(void **state)
{
	bench b = {0};
	(void)state;
	set_up(&b);
	for (unsigned of = 0; of < TC_SCHEMA_COUNT; of++) {
		tc_buffer out;
		tc_buffer_start(&out, &heap_allocator);
		heap_arm(0);
		assert_int_equal(tc_schema_print((tc_schema_of)of, b.rulebook, &out), TC_OK);
		heap_disarm();
		const long all = heap.requests;
		tc_buffer_free(&out);
		for (long n = 1; n <= all; n += 1 + n / 20) {
			tc_buffer_start(&out, &heap_allocator);
			heap_arm(n);
			const tc_status status = tc_schema_print((tc_schema_of)of, b.rulebook, &out);
			tc_buffer_free(&out);
			heap_disarm();
			assert_int_equal(status, TC_NO_MEMORY);
			if (HEAP_WHOLE)
				assert_int_equal(heap.outstanding, 0);
		}
	}
	take_down(&b);
}

/* --- names of findings -------------------------------------------------------------------------------------------- */

/* Of the nth finding of a plan. */
static void name_of(const char *text, uint32_t index, char hex[TC_FINGERPRINT_SIZE])
{
	bench b = {0};
	set_up(&b);
	judge(&b, text);
	assert_true(b.judgement->findings > index);
	tc_fingerprint(b.judgement, &b.judgement->finding[index], hex);
	take_down(&b);
}

static void a_name_outlives_edits_elsewhere(void **state)
{
	char one[TC_FINGERPRINT_SIZE], other[TC_FINGERPRINT_SIZE];
	(void)state;
	name_of("recipe: Skiff\non: styrene\nstack: [{coat: hot-paint, pass: wet}]\n", 0, one);
	name_of("# a word\nrecipe: Skiff\n\non: styrene\nstack:\n  - do: look\n  - wait: 2 h\n  - coat: hot-paint\n    "
	        "pass: wet\n",
	    0, other);
	assert_string_equal(one, other);
	name_of("recipe: Skiff\non: styrene\nstack: [{coat: hot-paint, pass: medium, coats: 3}]\n", 0, other);
	assert_string_equal(one, other);
	name_of("recipe: Other skiff\non: styrene\nstack: [{coat: hot-paint, pass: wet}]\n", 0, other);
	assert_string_not_equal(one, other);
	/* kept in ledgers: if this changes, TC_FINGERPRINT_VERSION must rise */
	assert_string_equal(one, "0a84ee086cb4bf9d97be362a5bb12571");
}

/* --- advice as edits ---------------------------------------------------------------------------------------------- */

/* The text after the first fix of a made-up advice at the plan's first finding. */
static void expect_fix(
    const char *text, tc_edit edit, const char *yaml, double amount, bool after, const char *expected)
{
	bench b = {0};
	tc_fix fix;
	set_up(&b);
	judge(&b, text);
	assert_true(b.judgement->findings > 0);
	const tc_remedy remedy = {.edit = edit, .place = "step", .after = after};
	const tc_advice advice = {.edit = edit, .text = "", .remedy = &remedy, .yaml = yaml, .amount = amount};
	const bool made = tc_fix_make(b.arena, b.judgement, &b.judgement->finding[0], &advice, &fix);
	assert_int_equal(made, expected != NULL);
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	uint32_t line = 1, column = 1, next = 0;
	for (const char *c = text;; c++) { /* the plans here are ASCII */
		while (made && next < fix.edits && fix.edit[next].from.line == line &&
		       fix.edit[next].from.column == column) {
			tc_buffer_puts(&out, fix.edit[next].text);
			while (line != fix.edit[next].to.line || column != fix.edit[next].to.column) {
				column = *c == '\n' ? 1 : column + 1;
				line += *c++ == '\n';
			}
			next++;
		}
		if (!*c)
			break;
		tc_buffer_char(&out, *c);
		column = *c == '\n' ? 1 : column + 1;
		line += *c == '\n';
	}
	if (made) {
		assert_int_equal(next, fix.edits);
		assert_string_equal(out.at, expected);
	}
	tc_buffer_free(&out);
	take_down(&b);
}

#define HEAD "recipe: Skiff\non: styrene\nstack:\n"

static void steps_are_put_in(void **state)
{
	(void)state;
	expect_fix(HEAD "  - coat: hot-paint # now\n    pass: wet\n", TC_EDIT_INSERT, "wait: 2 h, at: 30 °C", 0, false,
	    HEAD "  - wait: 2 h\n    at: 30 °C\n  - coat: hot-paint # now\n    pass: wet\n");
	expect_fix(HEAD "- coat: hot-paint\n  pass: wet", TC_EDIT_INSERT, "cure: lamp", 0, true,
	    HEAD "- coat: hot-paint\n  pass: wet\n- cure: lamp");
	expect_fix("recipe: Skiff\non: styrene\nstack: [{coat: hot-paint, pass: wet}]\n", TC_EDIT_WAIT, "wait: 2 h", 0,
	    false, "recipe: Skiff\non: styrene\nstack: [{wait: 2 h}, {coat: hot-paint, pass: wet}]\n");
	expect_fix("recipe: Skiff\nparts: {hull: {substrate: styrene}, 'a, b': {substrate: tin}}\nstack:\n  - coat: "
	           "hot-paint\n    pass: wet\n",
	    TC_EDIT_INSERT, "cure: lamp", 0, false,
	    "recipe: Skiff\nparts: {hull: {substrate: styrene}, 'a, b': {substrate: tin}}\nstack:\n  - cure: lamp\n    "
	    "on: hull\n  - coat: hot-paint\n    pass: wet\n");
}

static void keys_are_changed(void **state)
{
	(void)state;
	expect_fix(HEAD "  - coat: hot-paint\n    pass: wet\n", TC_EDIT_CHANGE, "pass: light, coats: 3", 0, false,
	    HEAD "  - coat: hot-paint\n    coats: 3\n    pass: light\n");
	expect_fix(HEAD "  - {coat: hot-paint, pass: wet}\n", TC_EDIT_CHANGE, "flash: 5 min", 0, false,
	    HEAD "  - {coat: hot-paint, flash: 5 min, pass: wet}\n");
	expect_fix(HEAD "  - coat: hot-paint\n    passes: [wet, wet]\n", TC_EDIT_CHANGE, "pass: light", 0, false, NULL);
	expect_fix(HEAD "  - coat:\n      hot-paint\n    pass: wet\n", TC_EDIT_CHANGE, "flash: 5 min", 0, false, NULL);
}

static void waits_are_shortened_and_steps_left_out(void **state)
{
	(void)state;
	expect_fix(HEAD "  - wait: 3 h\n  - coat: hot-paint\n    pass: wet\n", TC_EDIT_SHORTEN, NULL, 3600, false,
	    HEAD "  - wait: 2 h\n  - coat: hot-paint\n    pass: wet\n");
	expect_fix(
	    HEAD "  - wait: 1 h\n  - coat: hot-paint\n    pass: wet\n", TC_EDIT_SHORTEN, NULL, 7200, false, NULL);
	expect_fix(HEAD "  - coat: hot-paint\n    pass: wet\n  # a word\n  - wait: 3 h\n", TC_EDIT_REMOVE, NULL, 0,
	    false, HEAD "  # a word\n  - wait: 3 h\n");
	expect_fix(HEAD "  - coat: hot-paint\n    pass: wet\n", TC_EDIT_REMOVE, NULL, 0, false, NULL);
}

/* --- XML ---------------------------------------------------------------------------------------------------------- */

static void xml_text_is_escaped(void **state)
{
	tc_buffer out;
	(void)state;
	tc_buffer_start(&out, NULL);
	tc_xml_text(&out, "a<b>&\"c\"\n\x01\xFF\xEF\xBF\xBEµ");
	tc_xml_attribute(&out, "n", "a\"\n\t<");
	assert_string_equal(
	    out.at, "a&lt;b&gt;&amp;\"c\"\n&lt;U+0001&gt;\xEF\xBF\xBD\xEF\xBF\xBDµ n=\"a&quot;&#10;&#9;&lt;\"");
	tc_buffer_free(&out);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(reports_survive_every_failing_allocation),
	    cmocka_unit_test(no_caution_is_lost_where_they_are_cut),
	    cmocka_unit_test(a_store_changes_no_byte),
	    cmocka_unit_test(schemas_survive_failing_allocations),
	    cmocka_unit_test(a_name_outlives_edits_elsewhere),
	    cmocka_unit_test(steps_are_put_in),
	    cmocka_unit_test(keys_are_changed),
	    cmocka_unit_test(waits_are_shortened_and_steps_left_out),
	    cmocka_unit_test(xml_text_is_escaped),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
