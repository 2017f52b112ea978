/* A page of text on the output that the options ask for. */
#ifndef TC_FACE_SHEET_H
#define TC_FACE_SHEET_H

#include "face/options.h"
#include "face/output.h"

typedef struct tc_sheet {
	tc_output *output;
	tc_buffer text;
	tc_page page;
} tc_sheet;

/* Width, colour and character set of an output (NULL: files), by the options, the terminal and the environment. */
void tc_style_of(const tc_options *options, const tc_output *output, tc_report_options *style);

/* False: the output cannot be opened, and that was said. */
bool tc_sheet_open(const tc_options *options, tc_sheet *sheet);
/* A strong line, with a blank one above unless it is the first. */
void tc_sheet_title(tc_sheet *sheet, const char *title);
/* Writes what is on the sheet and closes it: `status`, or trouble if it could not be written. */
int tc_sheet_close(tc_sheet *sheet, int status);

#endif
