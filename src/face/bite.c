/* `tiecoat bite`: one liquid on one solid. */
#include <stdio.h>

#include "face/book.h"
#include "face/commands.h"
#include "face/complain.h"
#include "face/files.h"
#include "face/sheet.h"
#include "report/bite.h"

/* A message about a file has its place; one about what was asked names it. */
static void complain_of(tc_diags *diags)
{
	tc_diags_sort(diags);
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	for (size_t i = 0; i < tc_diags_count(diags); i++) {
		const tc_diag *diag = tc_diags_at(diags, i);
		out.length = 0;
		tc_diag_print(diag, &out);
		if (diag->place.line == 0)
			tc_complain("%s: %s", diag->place.file, diag->message);
		else if (!out.failed)
			fputs(out.at, stderr);
	}
	tc_buffer_free(&out);
}

/* --- output ------------------------------------------------------------------------------------------------------ */

/* Writes the chart to the file of --svg. */
static bool write_chart(const char *path, const tc_try *result)
{
	tc_output *output = tc_output_open(path);
	if (!output)
		return false;
	tc_buffer text;
	tc_buffer_start(&text, NULL);
	tc_bite_svg(result, &text);
	if (text.failed)
		tc_complain_memory();
	bool good = !text.failed && tc_output_write(output, &text);
	if (!tc_output_close(output, good))
		good = false;
	tc_buffer_free(&text);
	return good;
}

static int report(const tc_options *options, const tc_try *result)
{
	tc_sheet sheet;
	int status = result->word == TC_TRY_NONE ? TC_EXIT_SOUND : TC_EXIT_FOUND;
	if (options->svg && !write_chart(options->svg, result))
		return TC_EXIT_TROUBLE;
	if (!tc_sheet_open(options, &sheet))
		return TC_EXIT_TROUBLE;
	if (options->draws)
		tc_bite_svg(result, &sheet.text);
	else if (options->format != TC_FORMAT_JSON)
		tc_bite_text(result, &sheet.page);
	else if (tc_bite_json(result, &sheet.text) != TC_OK)
		sheet.text.failed = true;
	return tc_sheet_close(&sheet, status);
}

/* --- asking ------------------------------------------------------------------------------------------------------ */

static int try_with(const tc_options *options, tc_worker *worker, tc_arena *arena)
{
	const tc_reader files = {.read = tc_file_beside};
	tc_try_ask ask = options->ask;
	tc_diags *diags = tc_diags_new(arena);
	const tc_try *result = NULL;
	ask.solid = options->operand[0];
	ask.liquid = options->operand[1];
	const tc_status status = diags ? tc_try_bite(worker, arena, &ask, &files, diags, &result) : TC_NO_MEMORY;
	if (diags)
		complain_of(diags);
	if (status == TC_NO_MEMORY)
		tc_complain_memory();
	return status == TC_OK ? report(options, result) : TC_EXIT_TROUBLE;
}

int tc_run_bite(const tc_options *options)
{
	tc_book book;
	if (options->operands != 2) {
		tc_complain("`bite` needs a solid and a liquid, such as `tiecoat bite polystyrene lacquer-thinner`; "
		            "see `tiecoat bite --help`");
		return TC_EXIT_TROUBLE;
	}
	if (!tc_book_open(options, false, &book))
		return TC_EXIT_TROUBLE;
	tc_worker *worker = tc_worker_new(book.rulebook, NULL);
	tc_arena *arena = tc_arena_new(NULL, 1u << 20);
	int status = TC_EXIT_TROUBLE;
	if (worker && arena)
		status = try_with(options, worker, arena);
	else
		tc_complain_memory();
	tc_arena_free(arena);
	tc_worker_free(worker);
	tc_book_close(&book);
	return status;
}
