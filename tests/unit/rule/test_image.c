/* The image: what comes out of it is what the files give, instruction by instruction; what is broken is refused. */
#include <glob.h>
#include <sys/mman.h>

#include "fake.h"

static const char more[] =
    "rules:\n"
    "  a: {about: a, asks: contact, when: \"coat.label matches '^a(b|c)' and half_cured(under) and gap > 3 h\", "
    "verdict: error,\n"
    "      says: '{coat} on {under} after {gap as h}', from: {source: old-book, at: p. 1}, outranks: [b], defect: "
    "lifting,\n"
    "      note: a note, cautions: air-the-room,\n"
    "      remedies: [{wait: 3 h - gap}, {insert: {kind: barrier, that: new.solids > 3 %}, before: coat}],\n"
    "      shown_by: {breaks: [{on: steel}], holds: [{on: brass}]}}\n"
    "  b: {about: a, asks: coat, when: 'coat is lacquer and any(earlier layers as l, l.dry_film < 3 µm)', verdict: "
    "note,\n"
    "      says: '{l} {l.dry_film}', from: practice, shown_by: {breaks: [{on: steel}], holds: [{on: brass}]}}\n";

typedef struct shelf {
	tc_rulebook_file files[64];
	size_t count;
} shelf;

static shelf small_book(void)
{
	shelf s = {.count = 3};
	size_t length;
	char *const book = read_text_file("tests/unit/rule/book.yaml", &length), *const defaults = some_defaults();
	s.files[0] = (tc_rulebook_file){"book.yaml", book, length, 0};
	s.files[1] = (tc_rulebook_file){"defaults.yaml", defaults, strlen(defaults), 0};
	s.files[2] = (tc_rulebook_file){"more.yaml", strdup(more), sizeof more - 1, 0};
	return s;
}

/* The rulebook that is built into the program. */
static shelf default_book(void)
{
	shelf s = {.count = 0};
	glob_t found;
	if (glob("rules/*/*.yaml", 0, NULL, &found) != 0)
		fail_msg("no rules/ here; tests run from the root of the repository");
	for (size_t i = 0; i < found.gl_pathc && s.count < 64; i++) {
		size_t length;
		char *const text = read_text_file(found.gl_pathv[i], &length);
		s.files[s.count++] = (tc_rulebook_file){strdup(found.gl_pathv[i]), text, length, 0};
	}
	globfree(&found);
	return s;
}

static void close_shelf(shelf *s, bool names)
{
	for (size_t i = 0; i < s->count; i++) {
		free((char *)(uintptr_t)s->files[i].bytes);
		if (names)
			free((char *)(uintptr_t)s->files[i].name);
	}
}

static void dump_template(const tc_rulebook *book, const tc_template *t, tc_buffer *out)
{
	for (uint32_t i = 0; t && i < t->count; i++) {
		tc_buffer_print(out, "[%s] %s %u %u\n", t->pieces[i].text ? t->pieces[i].text : "",
		    t->pieces[i].unit ? t->pieces[i].unit : "", t->pieces[i].bounds[0], t->pieces[i].bounds[1]);
		if (t->pieces[i].expr)
			tc_expr_dump(book, t->pieces[i].expr, out);
	}
}

static void dump_remedy(const tc_rulebook *book, const tc_remedy *r, tc_buffer *out)
{
	tc_buffer_print(out, "edit %d %u %s %d\n", r->edit, r->kind, r->place ? r->place : "", r->after);
	if (r->amount)
		tc_expr_dump(book, r->amount, out);
	if (r->that)
		tc_expr_dump(book, r->that, out);
	for (uint32_t i = 0; i < r->count; i++) {
		tc_buffer_print(out, "%s %s\n", r->keys[i].key, r->keys[i].word ? r->keys[i].word : "");
		if (r->keys[i].amount)
			tc_expr_dump(book, r->keys[i].amount, out);
	}
	dump_template(book, r->says, out);
}

/* All of a rulebook's rules as text. */
static void dump_all(const tc_rulebook *book, tc_buffer *out)
{
	for (uint32_t i = 0; i < tc_rulebook_rules(book); i++) {
		const tc_rule *r = tc_rulebook_rule(book, i);
		tc_buffer_print(out, "%s %s %s %d %d %u %s %s:%u:%u\n", r->id, r->about, r->when_text, r->ask,
		    r->verdict, r->defect, r->note ? r->note : "", r->place.file, r->place.line, r->place.column);
		tc_expr_dump(book, r->when, out);
		for (uint32_t j = 0; j < r->when->branch_count; j++)
			tc_buffer_print(out, "%u %s %u %u\n", r->when->branches[j].kind,
			    r->when->branches[j].text ? r->when->branches[j].text : "", r->when->branches[j].start,
			    r->when->branches[j].end);
		dump_template(book, r->says, out);
		for (uint32_t j = 0; j < r->remedies; j++)
			dump_remedy(book, &r->remedy[j], out);
		for (const uint32_t *o = r->outranks; *o != TC_NONE; o++)
			tc_buffer_print(out, "outranks %u\n", *o);
		for (const uint32_t *c = r->cautions; *c != TC_NONE; c++)
			tc_buffer_print(out, "caution %s\n", tc_library_caution(tc_rulebook_library(book), *c)->id);
		for (const tc_basis *const *b = r->bases; *b; b++)
			tc_buffer_print(out, "from %u %d %s\n", (*b)->source, (*b)->memory, (*b)->at ? (*b)->at : "");
		assert_ptr_equal(tc_rulebook_find(book, tc_text_of(r->id)), r);
	}
	const tc_library *library = tc_rulebook_library(book);
	for (uint32_t i = 0; i < tc_library_count(library); i++) {
		const tc_entry *e = tc_library_entry(library, i);
		tc_buffer_print(out, "%s %s %u %u\n", e->id, e->name, e->last, e->parent);
		assert_ptr_equal(tc_library_by_id(library, tc_text_of(e->id)), e);
	}
}

static tc_buffer image_of(const shelf *s, tc_buffer *messages)
{
	tc_buffer image;
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(arena);
	tc_buffer_start(&image, NULL);
	tc_buffer_start(messages, NULL);
	const tc_status status = tc_rulebook_image(s->files, s->count, diags, &image);
	print_diags(diags, messages);
	if (status != TC_OK)
		tc_buffer_free(&image);
	tc_arena_free(arena);
	return image;
}

static void same_as_files(const shelf *s)
{
	tc_buffer messages, fresh, taken;
	tc_buffer image = image_of(s, &messages);
	if (!image.at)
		fail_msg("%s", messages.at);
	tc_arena *arena = tc_arena_new(NULL, 0);
	tc_rulebook *loaded, *book;
	assert_int_equal(tc_rulebook_load(NULL, s->files, s->count, false, tc_diags_new(arena), &loaded), TC_OK);
	assert_int_equal(tc_rulebook_from_image(NULL, image.at, image.length, &book), TC_OK);
	tc_buffer_start(&fresh, NULL);
	tc_buffer_start(&taken, NULL);
	dump_all(loaded, &fresh);
	dump_all(book, &taken);
	assert_true(fresh.length > 1000);
	assert_string_equal(taken.at, fresh.at);
	assert_true(tc_rulebook_stamp(book) == tc_rulebook_stamp(loaded));
	/* expressions compile against it, lets and all */
	tc_rulebook_free(loaded);
	tc_diags *diags = tc_diags_new(arena);
	assert_non_null(tc_expr_compile(book, arena, TC_ASK_CONTACT, TC_TEXT("coat is coating and gap > 3 h"), diags));
	tc_rulebook_free(book);
	tc_buffer_free(&fresh);
	tc_buffer_free(&taken);
	tc_buffer_free(&messages);
	tc_buffer_free(&image);
	tc_arena_free(arena);
}

static void test_small(void **state)
{
	(void)state;
	shelf s = small_book();
	same_as_files(&s);
	close_shelf(&s, false);
}

static void test_default(void **state)
{
	(void)state;
	shelf s = default_book();
	same_as_files(&s);
	close_shelf(&s, true);
}

/* The same files give the same bytes. */
static void test_same_bytes(void **state)
{
	(void)state;
	shelf s = small_book();
	tc_buffer messages;
	tc_buffer a = image_of(&s, &messages);
	tc_buffer_free(&messages);
	tc_buffer b = image_of(&s, &messages);
	tc_buffer_free(&messages);
	assert_int_equal(a.length, b.length);
	assert_memory_equal(a.at, b.at, a.length);
	tc_buffer_free(&a);
	tc_buffer_free(&b);
	close_shelf(&s, false);
}

/* An evaluated rule of an image answers as the loaded one does. */
static void test_answers(void **state)
{
	(void)state;
	shelf s = small_book();
	tc_buffer messages;
	tc_buffer image = image_of(&s, &messages);
	tc_rulebook *book;
	fake f;
	assert_int_equal(tc_rulebook_from_image(NULL, image.at, image.length, &book), TC_OK);
	fake_start(&f, book,
	    TC_TEXT("contact; coat is urethane-2k; under is alkyd-enamel; coat.label = 'ABx'; gap = 4 h; under.cure = "
	            "oxidation; under.cured = 50 %"));
	f.q.patterns = tc_patterns_new(NULL);
	const tc_rule *rule = tc_rulebook_find(book, TC_TEXT("a"));
	assert_int_equal(tc_decide(&f.q, rule->when), TC_TRUE);
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_template_print(&f.q, rule->says, &out);
	assert_string_equal(out.at, "two-part urethane on alkyd enamel after 4 h");
	tc_buffer_free(&out);
	tc_patterns_free(f.q.patterns);
	fake_end(&f);
	tc_rulebook_free(book);
	tc_buffer_free(&image);
	tc_buffer_free(&messages);
	close_shelf(&s, false);
}

/* At its home address it is used where it lies, read-only. */
static void test_home(void **state)
{
	(void)state;
	shelf s = small_book();
	tc_buffer messages, fresh, mapped;
	tc_buffer image = image_of(&s, &messages);
	assert_null(tc_rulebook_image_home(image.at, 100));
	void *const home = (void *)(uintptr_t)tc_rulebook_image_home(image.at, image.length);
	assert_non_null(home);
	void *const at =
	    mmap(home, image.length, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS | MAP_FIXED_NOREPLACE, -1, 0);
	if (at == home) { /* else something lies there already, as under some sanitizers */
		tc_rulebook *copied, *there;
		memcpy(at, image.at, image.length);
		assert_int_equal(mprotect(at, image.length, PROT_READ), 0);
		assert_int_equal(tc_rulebook_from_image(NULL, at, image.length, &there), TC_OK);
		assert_int_equal(tc_rulebook_from_image(NULL, image.at, image.length, &copied), TC_OK);
		assert_true((char *)there >= (char *)at && (char *)there < (char *)at + image.length);
		tc_buffer_start(&fresh, NULL);
		tc_buffer_start(&mapped, NULL);
		dump_all(copied, &fresh);
		dump_all(there, &mapped);
		assert_string_equal(mapped.at, fresh.at);
		tc_buffer_free(&fresh);
		tc_buffer_free(&mapped);
		tc_rulebook_free(there); /* which frees nothing */
		tc_rulebook_free(copied);
	}
	if (at != MAP_FAILED)
		munmap(at, image.length);
	tc_buffer_free(&image);
	tc_buffer_free(&messages);
	close_shelf(&s, false);
}

/* Cut, or made for another program or machine. */
static void test_refused(void **state)
{
	(void)state;
	shelf s = small_book();
	tc_buffer messages;
	tc_buffer image = image_of(&s, &messages);
	tc_rulebook *book;
	for (size_t length = 0; length < image.length; length = length < 100 ? length + 1 : length + 9973) {
		assert_int_equal(tc_rulebook_from_image(NULL, image.at, length, &book), TC_BAD);
		assert_null(book);
	}
	for (size_t byte = 0; byte < 80; byte++) { /* of the header, the lowest bit */
		image.at[byte] ^= 1;
		assert_int_equal(tc_rulebook_from_image(NULL, image.at, image.length, &book), TC_BAD);
		image.at[byte] ^= 1;
	}
	assert_int_equal(tc_rulebook_from_image(NULL, image.at, image.length, &book), TC_OK);
	tc_rulebook_free(book);
	tc_buffer_free(&image);
	tc_buffer_free(&messages);
	close_shelf(&s, false);
}

static void test_broken_rulebook(void **state)
{
	(void)state;
	shelf s = small_book();
	tc_buffer messages;
	s.files[2].length = 40;
	tc_buffer image = image_of(&s, &messages);
	assert_null(image.at);
	assert_true(messages.length > 0);
	tc_buffer_free(&messages);
	close_shelf(&s, false);
}

/* The stamp follows the bytes, not the order of the files. */
static void test_stamp(void **state)
{
	(void)state;
	shelf s = small_book();
	tc_arena *arena = tc_arena_new(NULL, 0);
	uint64_t stamps[3];
	for (int i = 0; i < 3; i++) {
		tc_rulebook *book;
		if (i == 1) {
			const tc_rulebook_file first = s.files[0];
			s.files[0] = s.files[1];
			s.files[1] = first;
		} else if (i == 2) {
			((char *)(uintptr_t)s.files[2].bytes)[sizeof more - 2] = ' ';
		}
		assert_int_equal(tc_rulebook_load(NULL, s.files, 3, false, tc_diags_new(arena), &book), TC_OK);
		stamps[i] = tc_rulebook_stamp(book);
		tc_rulebook_free(book);
	}
	assert_true(stamps[0] == stamps[1]);
	assert_true(stamps[0] != stamps[2]);
	tc_arena_free(arena);
	close_shelf(&s, false);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(test_small), cmocka_unit_test(test_default),
	    cmocka_unit_test(test_same_bytes), cmocka_unit_test(test_answers), cmocka_unit_test(test_home),
	    cmocka_unit_test(test_refused), cmocka_unit_test(test_broken_rulebook), cmocka_unit_test(test_stamp)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
