/* `tiecoat schema`: the JSON Schema of what people write. */
#include <string.h>

#include "face/book.h"
#include "face/commands.h"
#include "face/complain.h"
#include "face/sheet.h"
#include "report/schema.h"

/* TC_SCHEMA_COUNT with a complaint if there is none of that name. */
static unsigned find(const char *name)
{
	tc_nearest nearest = TC_NEAREST(tc_text_of(name));
	for (unsigned of = 0; of < TC_SCHEMA_COUNT; of++) {
		if (strcmp(tc_schema_name(of), name) == 0)
			return of;
		tc_nearest_offer(&nearest, tc_text_of(tc_schema_name(of)));
	}
	if (nearest.found.length)
		tc_complain("no schema `%s`; `%.*s` is near", name, (int)nearest.found.length, nearest.found.at);
	else
		tc_complain("no schema `%s`; there are those of recipe, shelf, settings and rulebook", name);
	return TC_SCHEMA_COUNT;
}

static int print(const tc_options *options, tc_schema_of of)
{
	tc_book book;
	tc_sheet sheet;
	if (!tc_book_open(options, false, &book))
		return TC_EXIT_TROUBLE;
	if (!tc_sheet_open(options, &sheet)) {
		tc_book_close(&book);
		return TC_EXIT_TROUBLE;
	}
	if (tc_schema_print(of, book.rulebook, &sheet.text) != TC_OK)
		sheet.text.failed = true;
	tc_book_close(&book);
	return tc_sheet_close(&sheet, TC_EXIT_SOUND);
}

int tc_run_schema(const tc_options *options)
{
	if (options->operands != 1) {
		tc_complain("`schema` needs one of recipe, shelf, settings and rulebook; see `tiecoat schema --help`");
		return TC_EXIT_TROUBLE;
	}
	const unsigned of = find(options->operand[0]);
	return of == TC_SCHEMA_COUNT ? TC_EXIT_TROUBLE : print(options, (tc_schema_of)of);
}
