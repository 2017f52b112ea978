/* Messages on standard error. */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

#include "face/complain.h"

void tc_complain(const char *format, ...)
{
	char *text = NULL;
	va_list list;
	va_start(list, format);
	const int length = vasprintf(&text, format, list);
	va_end(list);
	if (length < 0)
		return;
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_text_visible(&out, (tc_text){text, (size_t)length});
	fprintf(stderr, "tiecoat: %s\n", out.failed || !out.at ? "" : out.at);
	tc_buffer_free(&out);
	free(text);
}

void tc_complain_memory(void)
{
	fputs("tiecoat: out of memory\n", stderr);
}

void tc_complain_diags(const tc_diags *diags)
{
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	for (size_t i = 0; i < tc_diags_count(diags); i++)
		tc_diag_print(tc_diags_at(diags, i), &out);
	if (out.length && !out.failed)
		fputs(out.at, stderr);
	tc_buffer_free(&out);
}
