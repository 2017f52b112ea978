/* The coverage as text: a letter for each cell, columns by number, in as many blocks as the width asks for. */
#include <stdio.h>

#include "report/coverage.h"
#include "report/words.h"

#define NAME_COLUMNS 30u /* of a row's name */
#define CELL_COLUMNS 3u

typedef struct sheet {
	const tc_coverage *c;
	tc_page *page;
	tc_buffer text;
} sheet;

static void say(sheet *s, size_t indent, const char *lead, size_t hang)
{
	tc_page_item(s->page, indent, TC_INK_PLAIN, lead, hang, tc_words_text(&s->text));
	s->page->work.failed = s->page->work.failed || s->text.failed;
	s->text.length = 0;
}

static tc_ink ink_of(tc_coverage_word word)
{
	return word == TC_COVERED_NOT || word == TC_COVERED_IN_PART ? TC_INK_WARNING : TC_INK_PLAIN;
}

static void add_key(sheet *s)
{
	for (unsigned w = 0; w < TC_COVERED_COUNT; w++) {
		tc_buffer_puts(&s->text, tc_coverage_gist((tc_coverage_word)w));
		say(s, 2, tc_coverage_mark((tc_coverage_word)w), 5);
	}
}

static void add_columns(sheet *s)
{
	tc_page_heading(s->page, "Columns: what is laid");
	for (uint32_t i = 0; i < s->c->above.count; i++)
		tc_buffer_print(
		    &s->text, "%s%u %s", i ? ", " : "", (unsigned)i + 1, tc_coverage_name(&s->c->above.group[i]));
	say(s, 2, "", 2);
}

static void add_head(sheet *s, uint32_t from, uint32_t to)
{
	tc_page_blanks(s->page, NAME_COLUMNS);
	for (uint32_t i = from; i < to; i++) {
		char number[12];
		snprintf(number, sizeof number, "%u", (unsigned)i + 1);
		tc_page_cell(s->page, TC_INK_FAINT, number, CELL_COLUMNS, true);
	}
	tc_page_break(s->page);
}

static void add_row(sheet *s, uint32_t row, uint32_t from, uint32_t to)
{
	tc_page_blanks(s->page, 2);
	tc_page_cell(s->page, TC_INK_PLAIN, tc_coverage_name(&s->c->below.group[row]), NAME_COLUMNS - 2, false);
	for (uint32_t i = from; i < to; i++) {
		const tc_coverage_word word = tc_coverage_word_of(tc_coverage_at(s->c, row, i));
		tc_page_cell(s->page, ink_of(word), tc_coverage_mark(word), CELL_COLUMNS, true);
	}
	tc_page_break(s->page);
}

static void add_block(sheet *s, uint32_t from, uint32_t to)
{
	tc_section section = TC_SECTION_COUNT;
	tc_page_break(s->page);
	add_head(s, from, to);
	for (uint32_t row = 0; row < s->c->below.count; row++) {
		if (s->c->below.group[row].section != section) {
			section = s->c->below.group[row].section;
			tc_page_wrap(s->page, TC_INK_STRONG, tc_coverage_section(section), 0, 0);
		}
		add_row(s, row, from, to);
	}
}

static void add_matrix(sheet *s)
{
	const uint32_t width =
	    s->page->width > NAME_COLUMNS + CELL_COLUMNS ? s->page->width : NAME_COLUMNS + CELL_COLUMNS;
	const uint32_t fit = (width - NAME_COLUMNS) / CELL_COLUMNS;
	for (uint32_t from = 0; from < s->c->above.count; from += fit)
		add_block(s, from, from + fit < s->c->above.count ? from + fit : s->c->above.count);
}

static void add_shares(sheet *s)
{
	tc_page_heading(s->page, "Pairs of a coat and what it lands on");
	for (unsigned by = 0; by < TC_KNOWN_COUNT; by++) {
		tc_coverage_share(s->c, (tc_known_by)by, &s->text);
		say(s, 2, tc_coverage_by((tc_known_by)by), 26);
	}
}

/* The pairs of which nothing is known, those of a row together: what is laid, and on what. */
static void add_nothing(sheet *s)
{
	if (s->c->nothings == 0)
		return;
	tc_page_heading(s->page, "Pairs of which nothing is known");
	const tc_entry *below = NULL;
	for (uint32_t i = 0; i < s->c->nothings; i++) {
		const tc_coverage_pair *pair = &s->c->nothing[i];
		tc_buffer_print(&s->text, "%s%s", pair->below == below ? ", " : "", pair->above->name);
		below = pair->below;
		if (i + 1 == s->c->nothings || s->c->nothing[i + 1].below != below) {
			tc_buffer_print(&s->text, " on %s", below->name);
			say(s, 2, "", 6);
			below = NULL;
		}
	}
}

void tc_coverage_text(const tc_coverage *coverage, tc_page *page)
{
	sheet s = {.c = coverage, .page = page};
	tc_buffer_start(&s.text, page->out->from);
	tc_page_wrap(page, TC_INK_PLAIN,
	    "What is known of each coat (columns) on each ground (rows), by the kinds of both:", 0, 0);
	add_key(&s);
	add_columns(&s);
	add_matrix(&s);
	add_shares(&s);
	add_nothing(&s);
	tc_buffer_free(&s.text);
}
