/* `tiecoat rules --coverage`: what is known of each coat on each ground. */
#include "face/complain.h"
#include "face/rules.h"
#include "judge/coverage.h"
#include "report/coverage.h"

static const tc_entry *find(const tc_book *book, const char *id)
{
	const tc_library *library = tc_rulebook_library(book->rulebook);
	const tc_entry *entry = tc_library_by_id(library, tc_text_of(id));
	tc_nearest nearest = TC_NEAREST(tc_text_of(id));
	if (entry)
		return entry;
	for (uint32_t i = 0; i < tc_library_count(library); i++)
		tc_nearest_offer(&nearest, tc_text_of(tc_library_entry(library, i)->id));
	if (nearest.found.length)
		tc_complain(
		    "no kind or material `%s`; `%.*s` is near", id, (int)nearest.found.length, nearest.found.at);
	else
		tc_complain("no kind or material `%s`", id);
	return NULL;
}

static bool is_coat(const tc_entry *entry)
{
	return entry->sections >> TC_SECTION_COATINGS & 1;
}

/* One kind narrows the columns if it is laid as a coat, else the rows; two are the ground and the coat. */
static bool narrow(const tc_options *options, const tc_book *book, const tc_entry **below, const tc_entry **above)
{
	const tc_entry *one = options->operands > 0 ? find(book, options->operand[0]) : NULL;
	const tc_entry *two = options->operands > 1 ? find(book, options->operand[1]) : NULL;
	*below = *above = NULL;
	if (options->operands > 2) {
		tc_complain("--coverage takes a ground and a coat at most");
		return false;
	}
	if ((options->operands > 0 && !one) || (options->operands > 1 && !two))
		return false;
	if (two || (one && !is_coat(one)))
		*below = one;
	if (two || (one && is_coat(one)))
		*above = two ? two : one;
	return true;
}

int tc_rules_coverage(const tc_options *options, const tc_book *book, tc_page *page)
{
	const tc_entry *below, *above;
	if (!narrow(options, book, &below, &above))
		return TC_EXIT_TROUBLE;
	const tc_coverage *coverage = tc_coverage_make(book->arena, book->rulebook, below, above);
	if (!coverage) {
		page->work.failed = true;
		return TC_EXIT_TROUBLE;
	}
	if (coverage->below.count == 0 || coverage->above.count == 0) {
		tc_complain("no coat of `%s` lands on anything there", options->operand[options->operands - 1]);
		return TC_EXIT_TROUBLE;
	}
	if (options->page)
		tc_coverage_html(coverage, page->out);
	else
		tc_coverage_text(coverage, page);
	return TC_EXIT_SOUND;
}
