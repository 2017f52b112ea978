/* The command line understood. */
#ifndef TC_FACE_OPTIONS_H
#define TC_FACE_OPTIONS_H

#include "judge/try.h"
#include "report/page.h"
#include "report/report.h"

#ifndef TC_VERSION
#define TC_VERSION "0.1.0"
#endif

/* Exit statuses. Of several the greatest holds. */
enum { TC_EXIT_SOUND = 0, TC_EXIT_FOUND = 1, TC_EXIT_TROUBLE = 2 };

typedef enum tc_command { TC_CMD_CHECK, TC_CMD_BITE, TC_CMD_RULES, TC_CMD_LOOK, TC_CMD_BLANK, TC_CMD_SCHEMA, TC_CMD_SETTINGS, TC_CMD_VERSUS, TC_CMD_CARD,
	TC_CMD_COUNT } tc_command;

/* Forms of the card. */
typedef enum tc_card_form { TC_CARD_TEXT, TC_CARD_HTML, TC_CARD_ICAL, TC_CARD_CSV, TC_CARD_JSON } tc_card_form;

typedef enum tc_when { TC_WHEN_AUTO, TC_WHEN_ALWAYS, TC_WHEN_NEVER } tc_when;

typedef struct tc_options {
	tc_command command;
	tc_format format;
	tc_verdict at_least;
	tc_when color;
	bool at_least_said;      /* on the command line */
	bool quiet, fields, verify;
	bool null, write_ledger, no_settings;
	const char *files_from;  /* NULL */
	const char *ledger;      /* NULL */
	unsigned jobs;           /* 0: as many as there are processors */
	const char **include, **exclude; /* globs */
	int include_count, exclude_count;
	const char *code;        /* NULL */
	tc_try_ask ask;          /* of bite; its solid and liquid are operands */
	const char *svg;         /* file for its chart; NULL */
	bool draws;              /* its format is SVG */
	bool coverage, page;     /* of rules; its format is HTML */
	tc_card_form card;       /* form of a card */
	const char *zone, *start; /* of a card, over what the recipe says; NULL */
	const char *output;      /* NULL: standard output */
	const char **rules;      /* folders, lowest first */
	int rules_count;
	char *const *operand;
	int operands;
} tc_options;

typedef enum tc_parsed { TC_PARSED_RUN, TC_PARSED_HELP, TC_PARSED_VERSION, TC_PARSED_WRONG } tc_parsed;

/* Reads the arguments; wrong ones are complained of on standard error. *command is TC_CMD_COUNT for help of the whole. `lists`
 * must have room for 3 * argc pointers. */
tc_parsed tc_options_read(int argc, char **argv, const char **lists, tc_options *options);

/* The text of --help; TC_CMD_COUNT: of the whole program. */
void tc_options_help(tc_command command, tc_page *page);

#endif
