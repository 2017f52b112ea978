/* The program: which command, and what the whole process needs. */
#include <locale.h>
#include <signal.h>
#include <stdlib.h>

#include "face/commands.h"
#include "face/complain.h"
#include "face/sheet.h"

static int show_help(const tc_options *options)
{
	tc_sheet sheet;
	if (!tc_sheet_open(&(tc_options){0}, &sheet))
		return TC_EXIT_TROUBLE;
	tc_options_help(options->command, &sheet.page);
	return tc_sheet_close(&sheet, TC_EXIT_SOUND);
}

static int show_version(void)
{
	tc_sheet sheet;
	if (!tc_sheet_open(&(tc_options){0}, &sheet))
		return TC_EXIT_TROUBLE;
	tc_page_wrap(&sheet.page, TC_INK_PLAIN, "tiecoat " TC_VERSION, 0, 0);
	return tc_sheet_close(&sheet, TC_EXIT_SOUND);
}

static int run(const tc_options *options)
{
	static int (*const commands[TC_CMD_COUNT])(const tc_options *) = {[TC_CMD_CHECK] = tc_run_check,
	    [TC_CMD_BITE] = tc_run_bite,
	    [TC_CMD_RULES] = tc_run_rules,
	    [TC_CMD_LOOK] = tc_run_look,
	    [TC_CMD_BLANK] = tc_run_blank,
	    [TC_CMD_SCHEMA] = tc_run_schema,
	    [TC_CMD_SETTINGS] = tc_run_settings,
	    [TC_CMD_VERSUS] = tc_run_versus,
	    [TC_CMD_CARD] = tc_run_card};
	return commands[options->command](options);
}

int main(int argc, char **argv)
{
	signal(SIGPIPE, SIG_IGN); /* a closed pipe is an error of writing */
	setlocale(LC_CTYPE, "");  /* for the character set alone */
	const char **lists = calloc(3 * (size_t)argc + 1, sizeof *lists);
	if (!lists) {
		tc_complain_memory();
		return TC_EXIT_TROUBLE;
	}
	tc_options options;
	int status = TC_EXIT_TROUBLE;
	switch (tc_options_read(argc, argv, lists, &options)) {
	case TC_PARSED_RUN:
		status = run(&options);
		break;
	case TC_PARSED_HELP:
		status = show_help(&options);
		break;
	case TC_PARSED_VERSION:
		status = show_version();
		break;
	case TC_PARSED_WRONG:
		break;
	}
	free(lists);
	return status;
}
