/* `tiecoat rules ID`: a rule as it is written, with the words of its sources; and its compiled form. */
#include <string.h>

#include "face/complain.h"
#include "face/rules.h"
#include "report/words.h"
#include "rule/eval.h"

#define VALUE_AT 12u

typedef struct explained {
	const tc_book *book;
	const tc_library *library;
	const tc_collection *collection;
	const tc_item *item;
	const tc_rule *rule;
	tc_page *page;
	tc_buffer text;
} explained;

/* --- YAML as written --------------------------------------------------------------------------------------------- */

static size_t blanks_at(tc_text text, size_t at)
{
	size_t count = 0;
	while (at + count < text.length && text.at[at + count] == ' ')
		count++;
	return count;
}

/* A node's text, each line set `out` columns to the left of where it stands in the file, wrapped. */
static void add_lines(explained *e, tc_text text, size_t out, size_t column)
{
	for (size_t from = 0; from < text.length;) {
		size_t end = from;
		while (end < text.length && text.at[end] != '\n')
			end++;
		size_t indent = from ? blanks_at(text, from) : 0;
		const size_t start = from + indent;
		indent = indent > out ? indent - out : 0;
		e->text.length = 0;
		tc_buffer_add(&e->text, (tc_text){text.at + start, end - start});
		if (from)
			tc_page_blanks(e->page, column + indent);
		tc_page_wrap(e->page, TC_INK_PLAIN, tc_words_text(&e->text), column + indent, column + indent + 2);
		from = end + 1;
	}
}

/* A key of the rule as it stands in its file; nothing if it has none. */
static void add_written(explained *e, const char *key, const char *lead, const tc_node *map)
{
	const tc_node *node = tc_map_get(map, key, NULL);
	if (!node)
		return;
	const tc_source *source = tc_item_source(e->collection, e->item, map == e->item->node ? key : "shown_by");
	const tc_text all = tc_source_text(source),
	              text = tc_text_trim((tc_text){all.at + node->offset, node->end - node->offset});
	tc_page_blanks(e->page, 2);
	const size_t at = 2 + tc_page_put(e->page, TC_INK_FAINT, lead);
	tc_page_blanks(e->page, VALUE_AT - at);
	add_lines(e, text, tc_node_place(source, node).column - 1, VALUE_AT);
}

/* --- the rule ---------------------------------------------------------------------------------------------------- */

static void add_item(explained *e, const char *lead, const char *text)
{
	tc_page_item(e->page, 2, TC_INK_FAINT, lead, VALUE_AT, text);
}

static void add_head(explained *e)
{
	const tc_rule *rule = e->rule;
	tc_buffer_print(&e->text, "%s, asked of %s", tc_verdict_name(rule->verdict), tc_ask_name(rule->ask));
	tc_page_item(e->page, 0, TC_INK_STRONG, rule->id, 0, tc_words_text(&e->text));
	add_item(e, "about", rule->about);
	add_item(e, "when", rule->when_text);
	if (rule->defect == TC_NONE)
		return;
	const char *about = "", *defect = tc_library_defect(e->library, rule->defect, &about);
	e->text.length = 0;
	tc_buffer_print(&e->text, "%s%s%s", defect, about && *about ? ": " : "", about ? about : "");
	add_item(e, "defect", tc_words_text(&e->text));
}

static void add_references(explained *e)
{
	for (const uint32_t *other = e->rule->outranks; other && *other != TC_NONE; other++)
		add_item(
		    e, other == e->rule->outranks ? "outranks" : "", tc_rulebook_rule(e->book->rulebook, *other)->id);
	for (const uint32_t *caution = e->rule->cautions; caution && *caution != TC_NONE; caution++)
		add_item(
		    e, caution == e->rule->cautions ? "cautions" : "", tc_library_caution(e->library, *caution)->says);
	for (const tc_basis *const *basis = e->rule->bases; basis && *basis; basis++) {
		e->text.length = 0;
		tc_words_basis(e->library, *basis, &e->text);
		add_item(e, basis == e->rule->bases ? "source" : "", tc_words_text(&e->text));
	}
	if (e->rule->note)
		add_item(e, "note", e->rule->note);
	e->text.length = 0;
	tc_words_place(e->rule->place, NULL, &e->text);
	add_item(e, "stands in", tc_words_text(&e->text));
}

static void show(explained *e)
{
	add_head(e);
	add_written(e, "says", "says", e->item->node);
	add_written(e, "remedies", "remedies", e->item->node);
	add_references(e);
	const tc_node *shown = tc_map_get(e->item->node, "shown_by", NULL);
	if (!shown || shown->kind != TC_MAP)
		return;
	add_written(e, "breaks", "breaks", shown);
	add_written(e, "holds", "holds", shown);
	add_written(e, "open", "open", shown);
}

bool tc_rules_explain(const tc_book *book, const char *id, tc_page *page)
{
	explained e = {.book = book, .page = page, .library = tc_rulebook_library(book->rulebook)};
	e.rule = tc_rules_find(book, id);
	tc_diags *diags = tc_diags_new(book->arena);
	if (!e.rule || !diags)
		return false;
	if (tc_collect(book->arena, book->files, book->count, diags, &e.collection) == TC_OK)
		e.item = tc_collection_find(e.collection, tc_text_of(id));
	if (!e.item) {
		tc_complain_memory(); /* the rulebook was loaded from the same files */
		return false;
	}
	tc_buffer_start(&e.text, NULL);
	show(&e);
	page->work.failed = page->work.failed || e.text.failed;
	tc_buffer_free(&e.text);
	return true;
}

bool tc_rules_code(const tc_book *book, const char *id, tc_page *page)
{
	const tc_rule *rule = tc_rules_find(book, id);
	if (!rule)
		return false;
	tc_page_wrap(page, TC_INK_STRONG, rule->when_text, 0, 2);
	tc_expr_dump(book->rulebook, rule->when, page->out);
	return true;
}
