/* Pages on the output. */
#include <langinfo.h>
#include <stdlib.h>
#include <string.h>

#include "face/complain.h"
#include "face/sheet.h"

#define WIDEST 120u /* longer lines read badly */
#define NARROWEST 40u

static bool is_set(const char *variable)
{
	const char *value = getenv(variable);
	return value && *value;
}

static bool wants_color(const tc_options *options, const tc_output *output)
{
	if (options->color != TC_WHEN_AUTO)
		return options->color == TC_WHEN_ALWAYS;
	const char *terminal = getenv("TERM");
	return output && tc_output_is_terminal(output) && !is_set("NO_COLOR") && terminal && strcmp(terminal, "dumb") != 0;
}

static unsigned width_of(const tc_output *output)
{
	const unsigned width = output ? tc_output_width(output) : 0;
	if (width == 0)
		return 0;
	return width > WIDEST ? WIDEST : width < NARROWEST ? NARROWEST : width;
}

void tc_style_of(const tc_options *options, const tc_output *output, tc_report_options *style)
{
	*style = (tc_report_options){.format = options->format,
	    .color = wants_color(options, output),
	    .ascii = strcmp(nl_langinfo(CODESET), "UTF-8") != 0,
	    .width = width_of(output),
	    .at_least = options->at_least,
	    .quiet = options->quiet};
}

bool tc_sheet_open(const tc_options *options, tc_sheet *sheet)
{
	*sheet = (tc_sheet){.output = tc_output_open(options->output)};
	if (!sheet->output)
		return false;
	tc_report_options style;
	tc_style_of(options, sheet->output, &style);
	tc_buffer_start(&sheet->text, NULL);
	tc_page_start(&sheet->page, &sheet->text, style.width, style.color, style.ascii);
	return true;
}

void tc_sheet_title(tc_sheet *sheet, const char *title)
{
	if (sheet->text.length)
		tc_page_break(&sheet->page);
	tc_page_wrap(&sheet->page, TC_INK_STRONG, title, 0, 0);
}

int tc_sheet_close(tc_sheet *sheet, int status)
{
	bool good = !sheet->text.failed && !sheet->page.work.failed;
	if (!good)
		tc_complain_memory();
	good = good && tc_output_write(sheet->output, &sheet->text);
	if (!tc_output_close(sheet->output, good))
		good = false;
	tc_page_end(&sheet->page);
	tc_buffer_free(&sheet->text);
	return good ? status : TC_EXIT_TROUBLE;
}
