/* A small rulebook out of strings, and all that is said about it. */
#ifndef TEST_LIBRARY_BOOK_H
#define TEST_LIBRARY_BOOK_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "library/library.h"

/* What every rulebook needs, and what many tests use. All figures here are practice: invented round ones. */
#define BENCH                                                                                                          \
	"sources:\n"                                                                                                   \
	"  good-book: {author: A. Writer, title: A good book, year: 2001, read: yes}\n"                                \
	"  old-book: {title: An old book, read: no}\n"                                                                 \
	"words:\n"                                                                                                     \
	"  role: {primer: first, colour: seen, clear: last}\n"                                                         \
	"  soil: {grease: fat, dust: dry}\n"                                                                           \
	"  need: {wash: washed, abrade: sanded}\n"                                                                     \
	"  sheen: {gloss: bright, satin: between, matt: dull}\n"                                                       \
	"defaults:\n"                                                                                                  \
	"  temperature: {is: 21 °C, from: practice}\n"                                                                \
	"  humidity: {is: 50 %, from: practice}\n"                                                                     \
	"  air_speed: {is: 0.3 m/s, from: practice}\n"                                                                 \
	"  room: {is: 30 m³, from: practice}\n"                                                                       \
	"  extraction: {is: 100 m³/h, from: practice}\n"                                                              \
	"  part_length: {is: 10 cm, from: practice}\n"                                                                 \
	"  scratch_of_grain: {is: 0.2, from: practice}\n"                                                              \
	"  still_air_transfer: {is: 0.002 m/s, from: practice}\n"                                                      \
	"  set_solvent: {is: 20 %, from: practice}\n"                                                                  \
	"  film_diffusivity: {is: 1e-12 m²/s, from: practice}\n"                                                      \
	"  film_chi: {is: 0.4, from: practice}\n"                                                                      \
	"  film_cooling: {is: 0.5, from: practice}\n"                                                                  \
	"  molecule: {is: 100 cm³/mol, from: practice}\n"                                                             \
	"  film_fall: {is: 20 cm³/mol, from: practice}\n"                                                             \
	"  swell_diffusivity: {is: 1e-12 m²/s, from: practice}\n"                                                     \
	"  swell_fall: {is: 20 cm³/mol, from: practice}\n"                                                            \
	"  swell_bound: {is: 1, from: practice}\n"                                                                     \
	"  wet_share: {is: 30 %, from: practice}\n"                                                                    \
	"  wipe_film: {is: 20 µm, from: practice}\n"                                                                  \
	"  line_wall: {is: 1, from: practice}\n"                                                                       \
	"  line_levelling: {is: 1.5, from: practice}\n"                                                                \
	"  pot_life_factor: {is: 2, from: practice}\n"                                                                 \
	"  cup_loss: {is: 2 ml, from: practice}\n" \
	"  hand_time: {is: 5 min, from: practice}\n" \
	"  stand_by: {is: 45 min, from: practice}\n" \
	"  tool_cleaning: {is: 10 ml, from: practice}\n"                                                               \
	"  cup_keeps: {is: 12 h, from: practice}\n"                                                                    \
	"  sitting_gap: {is: 2 h, from: practice}\n"                                                                   \
	"  air_mixing: {is: 0.5, from: practice}\n"                                                                    \
	"  air_change: {is: 5 h, from: practice}\n"                                                                    \
	"  lel_share: {is: 25 %, from: practice}\n"                                                                    \
	"  limit_time: {is: 8 h, from: practice}\n"                                                                    \
	"  clear_share: {is: 10 %, from: practice}\n"                                                                  \
	"  cleaning_vapour: {is: 50 %, from: practice}\n"                                                              \
	"  alarm_share: {is: 25 %, from: practice}\n"

typedef struct book {
	tc_arena *files; /* trees and messages */
	tc_arena *arena; /* the library */
	tc_diags *diags;
	const tc_collection *collection;
	const tc_library *library;
	tc_status collected, built;
	char *said; /* all messages, sorted, a line each */
} book;

static inline char *all_said(tc_diags *diags)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_diags_sort(diags);
	for (size_t i = 0; i < tc_diags_count(diags); i++)
		tc_diag_print(tc_diags_at(diags, i), &out);
	return out.at ? out.at : calloc(1, 1);
}

static inline book open_files(const tc_rulebook_file *files, size_t count)
{
	book b = {.files = tc_arena_new(NULL, 0), .arena = tc_arena_new(NULL, 0)};
	b.diags = tc_diags_new(b.files);
	b.collected = tc_collect(b.files, files, count, b.diags, &b.collection);
	b.built = b.collection ? tc_library_build(b.arena, b.collection, b.diags, &b.library) : TC_BAD;
	b.said = all_said(b.diags);
	return b;
}

static inline void close_book(book *b)
{
	free(b->said);
	tc_arena_free(b->files);
	tc_arena_free(b->arena);
}

static inline tc_rulebook_file file_of(const char *name, const char *text, uint32_t layer)
{
	return (tc_rulebook_file){.name = name, .bytes = text, .length = strlen(text), .layer = layer};
}

/* The bench and `a.yaml`. */
static inline book open_text(const char *text)
{
	const tc_rulebook_file files[] = {file_of("bench.yaml", BENCH, 0), file_of("a.yaml", text, 0)};
	return open_files(files, 2);
}

/* The bench, `a.yaml` below and `b.yaml` in a layer above. */
static inline book open_layers(const char *below, const char *above)
{
	const tc_rulebook_file files[] = {
	    file_of("bench.yaml", BENCH, 0), file_of("a.yaml", below, 0), file_of("b.yaml", above, 1)};
	return open_files(files, 3);
}

/* A rulebook without a fault. */
static inline book open_good(const char *text)
{
	book b = open_text(text);
	assert_string_equal(b.said, "");
	assert_int_equal(b.collected, TC_OK);
	assert_int_equal(b.built, TC_OK);
	return b;
}

static inline void expect(book b, const char *said)
{
	assert_string_equal(b.said, said);
	assert_true(*said ? b.collected == TC_BAD || b.built == TC_BAD : b.collected == TC_OK && b.built == TC_OK);
	close_book(&b);
}

/* The whole of what is said about `a.yaml`. */
static inline void says(const char *text, const char *said)
{
	expect(open_text(text), said);
}

static inline const tc_entry *entry_of(const book *b, const char *id)
{
	const tc_entry *entry = tc_library_by_id(b->library, tc_text_of(id));
	assert_non_null(entry);
	return entry;
}

static inline tc_value value_of(const book *b, const char *id, tc_property property)
{
	return tc_entry_value(entry_of(b, id), property);
}

/* A number as said, to 1 part in 10^9. */
static inline void is_number(tc_value value, tc_type type, double number)
{
	assert_int_equal(value.state, TC_SAID);
	assert_int_equal(value.type, type);
	if (tc_compare(value.number, number) != 0)
		fail_msg("%.17g is not %.17g", value.number, number);
}

#endif
