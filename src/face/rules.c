/* `tiecoat rules`: the list, and which part of the command is wanted. */
#include <string.h>

#include "face/commands.h"
#include "face/complain.h"
#include "face/rules.h"

static const char *const asked[TC_ASK_COUNT] = {
    [TC_ASK_RECIPE] = "Asked once of the recipe",
    [TC_ASK_PART] = "Asked of each part",
    [TC_ASK_STEP] = "Asked of each step, on each part that it works on",
    [TC_ASK_COAT] = "Asked of each layer that is laid, all its passes together",
    [TC_ASK_CONTACT] = "Asked of each layer and each material that it lands on, straight or through something thin",
    [TC_ASK_TOUCH] = "Asked of each liquid of a step and each material that it wets",
};

static void list_of(const tc_book *book, tc_ask ask, tc_page *page)
{
	bool any = false;
	tc_buffer text;
	tc_buffer_start(&text, NULL);
	for (uint32_t i = 0; i < tc_rulebook_rules(book->rulebook); i++) {
		const tc_rule *rule = tc_rulebook_rule(book->rulebook, i);
		if (rule->ask != ask)
			continue;
		if (!any)
			tc_page_heading(page, asked[ask]);
		any = true;
		text.length = 0;
		tc_buffer_print(&text, "%s: %s", tc_verdict_name(rule->verdict), rule->about);
		tc_page_item(page, 2, TC_INK_STRONG, rule->id, 6, "");
		tc_page_item(page, 0, TC_INK_PLAIN, "", 6, text.failed ? "" : text.at);
	}
	page->work.failed = page->work.failed || text.failed;
	tc_buffer_free(&text);
}

static void list_changes(const tc_book *book, tc_page *page)
{
	const uint32_t count = tc_rulebook_changes(book->rulebook);
	tc_buffer text;
	tc_buffer_start(&text, NULL);
	if (count)
		tc_page_heading(page, "Changed by a rulebook laid over another");
	for (uint32_t i = 0; i < count; i++) {
		const tc_change *change = tc_rulebook_change(book->rulebook, i);
		text.length = 0;
		tc_buffer_print(&text, "%s%s because: %s (%s:%u)", change->retired ? "retired" : "amended",
		    change->changed_when ? ", its `when` too," : "", change->because, change->place.file,
		    (unsigned)change->place.line);
		tc_page_item(page, 2, TC_INK_STRONG, change->id, 6, "");
		tc_page_item(page, 0, TC_INK_PLAIN, "", 6, text.failed ? "" : text.at);
	}
	page->work.failed = page->work.failed || text.failed;
	tc_buffer_free(&text);
}

void tc_rules_list(const tc_book *book, tc_page *page)
{
	tc_buffer text;
	tc_buffer_start(&text, NULL);
	tc_buffer_print(
	    &text, "%u rules; `tiecoat rules ID` explains one", (unsigned)tc_rulebook_rules(book->rulebook));
	tc_page_wrap(page, TC_INK_PLAIN, text.failed ? "" : text.at, 0, 0);
	tc_buffer_free(&text);
	for (unsigned ask = 0; ask < TC_ASK_COUNT; ask++)
		list_of(book, (tc_ask)ask, page);
	list_changes(book, page);
}

const tc_rule *tc_rules_find(const tc_book *book, const char *id)
{
	const tc_rule *rule = tc_rulebook_find(book->rulebook, tc_text_of(id));
	if (rule)
		return rule;
	tc_nearest nearest = TC_NEAREST(tc_text_of(id));
	for (uint32_t i = 0; i < tc_rulebook_rules(book->rulebook); i++)
		tc_nearest_offer(&nearest, tc_text_of(tc_rulebook_rule(book->rulebook, i)->id));
	if (nearest.found.length)
		tc_complain("no rule `%s`; `%.*s` is near", id, (int)nearest.found.length, nearest.found.at);
	else
		tc_complain("no rule `%s`; `tiecoat rules` lists them", id);
	return NULL;
}

/* --- which part -------------------------------------------------------------------------------------------------- */

static int explain_all(const tc_options *options, const tc_book *book, tc_page *page)
{
	int status = TC_EXIT_SOUND;
	for (int i = 0; i < options->operands; i++) {
		if (i > 0)
			tc_page_break(page);
		if (!tc_rules_explain(book, options->operand[i], page))
			status = TC_EXIT_TROUBLE;
	}
	return status;
}

static int choose(const tc_options *options, const tc_book *book, tc_page *page)
{
	if (options->verify)
		return tc_rules_verify(book, (const char *const *)options->operand, (uint32_t)options->operands, page);
	if (options->coverage)
		return tc_rules_coverage(options, book, page);
	if (options->code)
		return tc_rules_code(book, options->code, page) ? TC_EXIT_SOUND : TC_EXIT_TROUBLE;
	if (options->operands > 0)
		return explain_all(options, book, page);
	tc_rules_list(book, page);
	return TC_EXIT_SOUND;
}

static int run_with_book(const tc_options *options)
{
	tc_book book;
	tc_sheet sheet;
	if (!tc_book_open(options, options->verify || (options->operands > 0 && !options->coverage), &book))
		return TC_EXIT_TROUBLE;
	int status = TC_EXIT_TROUBLE;
	if (tc_sheet_open(options, &sheet)) {
		status = choose(options, &book, &sheet.page);
		status = tc_sheet_close(&sheet, status);
	}
	tc_book_close(&book);
	return status;
}

int tc_run_rules(const tc_options *options)
{
	if (options->fields + options->verify + options->coverage + (options->code != NULL) > 1) {
		tc_complain("--fields, --verify, --coverage and --code do not go together");
		return TC_EXIT_TROUBLE;
	}
	if (options->page && !options->coverage) {
		tc_complain("--format=html is for --coverage");
		return TC_EXIT_TROUBLE;
	}
	if (!options->fields)
		return run_with_book(options);
	tc_sheet sheet;
	if (!tc_sheet_open(options, &sheet))
		return TC_EXIT_TROUBLE;
	tc_rules_fields(&sheet.page);
	return tc_sheet_close(&sheet, TC_EXIT_SOUND);
}
