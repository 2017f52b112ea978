/* `tiecoat look`: an entry of the library with every figure and where each comes from. */
#include <stdio.h>
#include <string.h>

#include "base/limits.h"
#include "face/book.h"
#include "face/commands.h"
#include "face/complain.h"
#include "face/figure_text.h"
#include "face/mentions.h"
#include "face/sheet.h"
#include "report/words.h"

#define VALUE_AT 24u /* column of the values */
#define RULE_AT  36u /* of what stands behind an id */

typedef struct look {
	const tc_book *book;
	const tc_library *library;
	tc_page *page;
	tc_buffer text; /* scratch */
	const tc_entry *entry;
	const tc_basis *bases[TC_PROPERTY_COUNT + 1]; /* numbered from 1 in order of appearance */
	unsigned count;
} look;

static const char *take(look *l)
{
	return tc_words_text(&l->text);
}

/* --- bases ------------------------------------------------------------------------------------------------------- */

static bool same_basis(const tc_basis *a, const tc_basis *b)
{
	const bool at = a->at && b->at ? strcmp(a->at, b->at) == 0 : a->at == b->at;
	return a->source == b->source && a->memory == b->memory && at;
}

/* The number of a basis, given at its first appearance; 0 for none. */
static unsigned number_of(look *l, const tc_basis *basis)
{
	if (!basis)
		return 0;
	for (unsigned i = 0; i < l->count; i++)
		if (same_basis(l->bases[i], basis))
			return i + 1;
	l->bases[l->count++] = basis;
	return l->count;
}

static void add_bases(look *l)
{
	if (l->count)
		tc_page_heading(l->page, "Where from");
	for (unsigned i = 0; i < l->count; i++) {
		char lead[16];
		snprintf(lead, sizeof lead, "[%u]", i + 1);
		l->text.length = 0;
		tc_words_basis(l->library, l->bases[i], &l->text);
		const tc_source_entry *source =
		    l->bases[i]->source == TC_NONE ? NULL : tc_library_source(l->library, l->bases[i]->source);
		if (source && source->note)
			tc_buffer_print(&l->text, "; %s", source->note);
		tc_page_item(l->page, 2, TC_INK_PLAIN, lead, 8, take(l));
	}
}

/* --- figures ----------------------------------------------------------------------------------------------------- */

static void add_figure(look *l, tc_property property, const tc_figure *figure)
{
	const tc_property_row *row = tc_property_row_of(property);
	l->text.length = 0;
	tc_figure_words(l->library, row, figure, &l->text);
	const unsigned number = number_of(l, figure->basis);
	if (number)
		tc_buffer_print(&l->text, " [%u]", number);
	if (figure->entry != TC_NONE && figure->entry != l->entry->index)
		tc_buffer_print(&l->text, " as every %s", tc_library_entry(l->library, figure->entry)->name);
	if (figure->note)
		tc_buffer_print(&l->text, "; %s", figure->note);
	tc_page_item(l->page, 2, TC_INK_PLAIN, row->key, VALUE_AT, take(l));
}

static void add_figures(look *l)
{
	bool any = false;
	for (unsigned p = 0; p < TC_PROPERTY_COUNT; p++) {
		const tc_figure *figure = l->entry->figures[p];
		if (!figure || figure->value.state == TC_ABSENT)
			continue;
		if (!any)
			tc_page_heading(l->page, "Figures");
		any = true;
		add_figure(l, (tc_property)p, figure);
	}
}

/* What the entry could say and does not: a rule that asks for it is undecided. */
static void add_unknown(look *l)
{
	l->text.length = 0;
	const char *between = "";
	for (unsigned p = 0; p < TC_PROPERTY_COUNT && !l->entry->is_kind; p++) {
		if (l->entry->figures[p] || !(tc_property_row_of((tc_property)p)->sections & l->entry->sections))
			continue;
		tc_buffer_print(&l->text, "%s%s", between, tc_property_row_of((tc_property)p)->key);
		between = ", ";
	}
	if (*between)
		tc_page_item(l->page, 2, TC_INK_PLAIN, "not known", VALUE_AT, take(l));
}

/* --- the entry itself -------------------------------------------------------------------------------------------- */

static void add_kind_path(look *l)
{
	const char *ids[TC_KIND_DEPTH_MAX + 1];
	unsigned count = 0;
	for (uint32_t at = l->entry->parent; at != TC_NONE && count <= TC_KIND_DEPTH_MAX;
	     at = tc_library_entry(l->library, at)->parent)
		ids[count++] = tc_library_entry(l->library, at)->id;
	l->text.length = 0;
	while (count > 0)
		tc_buffer_print(&l->text, "%s > ", ids[--count]);
	tc_buffer_puts(&l->text, l->entry->id);
	tc_page_item(l->page, 2, TC_INK_PLAIN, "kind", VALUE_AT, take(l));
}

static void add_list(look *l, const char *lead, const char *const *texts)
{
	l->text.length = 0;
	for (unsigned i = 0; texts[i]; i++)
		tc_buffer_print(&l->text, "%s%s", i ? ", " : "", texts[i]);
	if (texts[0])
		tc_page_item(l->page, 2, TC_INK_PLAIN, lead, VALUE_AT, take(l));
}

static void add_head(look *l)
{
	const tc_entry *e = l->entry;
	l->text.length = 0;
	tc_buffer_puts(&l->text, e->name);
	if (strcmp(e->name, e->id) != 0)
		tc_buffer_print(&l->text, " (%s)", e->id);
	tc_page_wrap(l->page, TC_INK_STRONG, take(l), 0, 0);
	if (e->about)
		tc_page_item(l->page, 2, TC_INK_PLAIN, "about", VALUE_AT, e->about);
	add_kind_path(l);
	add_list(l, "also called", e->also);
	if (e->known_as)
		tc_page_item(l->page, 2, TC_INK_PLAIN, "and what fits", VALUE_AT, e->known_as);
	add_list(l, "hazards", e->hazards);
}

static void add_cautions(look *l)
{
	for (const uint32_t *c = l->entry->cautions; *c != TC_NONE; c++)
		tc_page_item(l->page, 2, TC_INK_WARNING, "caution", VALUE_AT, tc_library_caution(l->library, *c)->says);
}

/* Of a kind: what stands right below it. */
static void add_below(look *l)
{
	bool any = false;
	for (uint32_t i = l->entry->index + 1; l->entry->is_kind && i <= l->entry->last; i++) {
		const tc_entry *below = tc_library_entry(l->library, i);
		if (below->parent != l->entry->index)
			continue;
		if (!any)
			tc_page_heading(l->page, "Below it");
		any = true;
		l->text.length = 0;
		tc_buffer_print(&l->text, "%s%s", below->name, below->is_kind ? " (a kind)" : "");
		tc_page_item(l->page, 2, TC_INK_PLAIN, below->id, RULE_AT, take(l));
	}
}

static void add_rules(look *l)
{
	bool any = false;
	for (uint32_t i = 0; i < tc_rulebook_rules(l->book->rulebook); i++) {
		const tc_rule *rule = tc_rulebook_rule(l->book->rulebook, i);
		if (!tc_mentions_entry(l->library, rule->when_text, l->entry))
			continue;
		if (!any)
			tc_page_heading(l->page, "Rules that name it or its kind");
		any = true;
		tc_page_item(l->page, 2, TC_INK_PLAIN, rule->id, RULE_AT, rule->about);
	}
}

static void show(look *l)
{
	add_head(l);
	add_cautions(l);
	add_figures(l);
	add_unknown(l);
	add_bases(l);
	add_below(l);
	add_rules(l);
	l->page->work.failed = l->page->work.failed || l->text.failed;
}

/* --- finding it -------------------------------------------------------------------------------------------------- */

static void complain_of(const char *name, tc_found found, const tc_find *find)
{
	if (found == TC_FOUND_SEVERAL)
		tc_complain("`%s` fits both %s and %s", name, find->entry->id, find->other->id);
	else if (found == TC_FOUND_UNCLEAR)
		tc_complain("`%s` can be several things: %s", name, find->question);
	else if (found == TC_FOUND_LIMIT)
		tc_complain("`%s` takes too long to look for", name);
	else if (found == TC_FOUND_NO_MEMORY)
		tc_complain_memory();
	else if (find->nearest.length)
		tc_complain(
		    "the library has no `%s`; `%.*s` is near", name, (int)find->nearest.length, find->nearest.at);
	else
		tc_complain("the library has no `%s`", name);
}

static const tc_entry *find(const tc_library *library, tc_finder *finder, const char *name)
{
	const tc_entry *entry = tc_library_by_id(library, tc_text_of(name));
	if (entry)
		return entry;
	tc_find find = {0};
	const tc_found found = tc_finder_find(finder, tc_text_of(name), UINT32_MAX, &find);
	if (found == TC_FOUND)
		return find.entry;
	complain_of(name, found, &find);
	return NULL;
}

static int show_all(const tc_options *options, const tc_book *book, tc_finder *finder)
{
	int status = TC_EXIT_SOUND;
	tc_sheet sheet;
	if (!tc_sheet_open(options, &sheet))
		return TC_EXIT_TROUBLE;
	for (int i = 0; i < options->operands; i++) {
		look l = {.book = book, .library = tc_rulebook_library(book->rulebook), .page = &sheet.page};
		tc_buffer_start(&l.text, NULL);
		l.entry = find(l.library, finder, options->operand[i]);
		if (l.entry && i > 0)
			tc_page_break(&sheet.page);
		if (l.entry)
			show(&l);
		else
			status = TC_EXIT_TROUBLE;
		tc_buffer_free(&l.text);
	}
	return tc_sheet_close(&sheet, status);
}

int tc_run_look(const tc_options *options)
{
	tc_book book;
	if (options->operands == 0) {
		tc_complain("`look` needs the name of a material or a kind; see `tiecoat look --help`");
		return TC_EXIT_TROUBLE;
	}
	if (!tc_book_open(options, false, &book))
		return TC_EXIT_TROUBLE;
	tc_finder *finder = tc_finder_new(tc_rulebook_library(book.rulebook), NULL);
	int status = TC_EXIT_TROUBLE;
	if (finder)
		status = show_all(options, &book, finder);
	else
		tc_complain_memory();
	tc_finder_free(finder);
	tc_book_close(&book);
	return status;
}
