/* The command line: one table of commands, one of options (options.def). */
#include <getopt.h>
#include <string.h>

#include "face/complain.h"
#include "face/options.h"

enum { C = 1u << TC_CMD_CHECK, I = 1u << TC_CMD_BITE, R = 1u << TC_CMD_RULES, L = 1u << TC_CMD_LOOK, B = 1u << TC_CMD_BLANK,
	S = 1u << TC_CMD_SCHEMA, T = 1u << TC_CMD_SETTINGS, V = 1u << TC_CMD_VERSUS, K = 1u << TC_CMD_CARD };

#define JOBS_MOST 256u

typedef enum option_id {
#define OPTION(id, letter, name, argument, commands, help) O_##id,
#include "face/options.def"
#undef OPTION
	OPTIONS
} option_id;

typedef struct option_row {
	char letter;
	const char *name, *argument;
	unsigned commands;
	const char *help;
} option_row;

static const option_row rows[OPTIONS] = {
#define OPTION(id, letter, name, argument, commands, help) [O_##id] = {letter, name, argument, commands, help},
#include "face/options.def"
#undef OPTION
};

typedef struct command_row {
	const char *name, *synopsis, *gist, *more;
} command_row;

static const command_row commands[TC_CMD_COUNT] = {
    [TC_CMD_CHECK] = {"check", "tiecoat check [OPTION]… [PATH]…", "is each plan sound?",
        "Checks the recipes in the files PATH…, and in all .yaml and .yml files of the folders PATH… and those below "
        "them; "
        "without PATH those of this folder, and - is standard input. Exit status: 0 if nothing was found (see "
        "--at-least), 1 if "
        "something was, 2 if anything could not be read."},
    [TC_CMD_BITE] = {"bite", "tiecoat bite [OPTION]… SOLID LIQUID", "would this liquid attack this solid?",
        "Tries a thinner or a paint on a plastic, a dry paint or anything else of the library: LIQUID is a solvent, a "
        "blend, a "
        "cleaner, a family of paints, a label of --shelf, or parts by volume such as toluene:40,acetone:60. Exit "
        "status: 0 if no "
        "attack is expected, 1 if some is or it cannot be told, 2 if something could not be read."},
    [TC_CMD_RULES] = {"rules", "tiecoat rules [OPTION]… [ID]…", "list, explain and prove the rules",
        "Without ID lists the rules by what they are asked of; with ID explains those. With --verify the operands are "
        "paths of recipes, and the exit status is 1 if the rulebook does not prove itself; with --coverage they are kinds, "
        "of coats what is laid, of others what lies below, or one below and one above."},
    [TC_CMD_LOOK] = {"look", "tiecoat look [OPTION]… NAME…", "what the library says of a material",
        "Shows the library's entry of a material or of a kind of materials: every figure with its spread, its source "
        "and "
        "whether that was looked up. Names that the library lists for an entry will do."},
    [TC_CMD_BLANK] = {"blank", "tiecoat blank [OPTION]…", "an empty recipe with comments, to fill in",
        "Writes a recipe with blanks, and comments that say what may stand there."},
    [TC_CMD_SCHEMA] = {"schema", "tiecoat schema [OPTION]… recipe|shelf|settings|rulebook", "a JSON Schema, for editors",
        "Prints the JSON Schema of a recipe, of a shelf in a file of its own, of settings, or of a file of a rulebook, with the words "
        "of the rulebook, so that an editor can complete keys and names and mark what cannot be read. It takes less for "
        "wrong than check does."},
    [TC_CMD_SETTINGS] = {"settings", "tiecoat settings [OPTION]… [PATH]…", "which settings are in force, and who says so",
        "Shows for each file or folder PATH what the files tiecoat-settings.yaml in its folder and above it say, and which of "
        "them says each thing; without PATH for this folder."},
    [TC_CMD_VERSUS] = {"versus", "tiecoat versus [OPTION]… OLD NEW", "what does a change to a recipe change?",
        "Compares two versions of a file of recipes: which findings are new, gone or weigh otherwise, the dry film of each "
        "part, time, and cost where the shelf says prices. Exit status: 0 if nothing of the weight of --at-least is new, "
        "1 if something is, 2 if anything could not be read."},
    [TC_CMD_CARD] = {"card", "tiecoat card [OPTION]… PATH…", "the bench card: a timetable, what to mix, buy and breathe",
        "Works out when each step of a recipe can be done, by its `start`, `sessions` and `zone`, and writes what one tapes to "
        "the wall: steps with times, the latest moments, cups, what to buy, the air, cautions. Without hours times count "
        "from the beginning. With --output=DIR/ each recipe of the files and folders PATH… has its card there, and --format=html "
        "an index. Exit status: 0 if there is a timetable and nothing of the weight of --at-least was found at its times, 1 if "
        "there is none or something was, 2 if anything could not be read."},
};

/* --- help -------------------------------------------------------------------------------------------------------- */

static void add_option(const option_row *row, tc_page *page, tc_buffer *lead)
{
	lead->length = 0;
	if (row->letter)
		tc_buffer_print(lead, "-%c, ", row->letter);
	else
		tc_buffer_puts(lead, "    ");
	tc_buffer_print(lead, "--%s%s%s", row->name, row->argument ? "=" : "", row->argument ? row->argument : "");
	tc_page_item(page, 2, TC_INK_PLAIN, lead->failed ? "" : lead->at, 26, row->help);
}

static void add_options(tc_command command, tc_page *page)
{
	tc_buffer lead;
	tc_buffer_start(&lead, page->out->from);
	tc_page_heading(page, "Options");
	for (unsigned i = 0; i < OPTIONS; i++)
		if (rows[i].commands >> command & 1)
			add_option(&rows[i], page, &lead);
	tc_buffer_free(&lead);
}

void tc_options_help(tc_command command, tc_page *page)
{
	if (command < TC_CMD_COUNT) {
		tc_page_item(page, 0, TC_INK_PLAIN, "Usage:", 7, commands[command].synopsis);
		tc_page_wrap(page, TC_INK_PLAIN, commands[command].more, 0, 0);
		add_options(command, page);
		return;
	}
	tc_page_item(page, 0, TC_INK_PLAIN, "Usage:", 7, "tiecoat COMMAND [OPTION]… [OPERAND]…");
	tc_page_wrap(page, TC_INK_PLAIN, "Checks the finishing plan of a scale model against a rulebook.", 0, 0);
	tc_page_heading(page, "Commands");
	for (unsigned i = 0; i < TC_CMD_COUNT; i++)
		tc_page_item(page, 2, TC_INK_STRONG, commands[i].name, 12, commands[i].gist);
	tc_page_break(page);
	tc_page_wrap(page, TC_INK_PLAIN, "`tiecoat COMMAND --help` says more of each; the manual is tiecoat(1).", 0, 0);
}

/* --- words of options -------------------------------------------------------------------------------------------- */

/* The number of `given` among `words` (NULL-terminated), -1 with a complaint if it is none of them. */
static int choose(const char *option, const char *given, const char *const *words)
{
	tc_nearest nearest = TC_NEAREST(tc_text_of(given));
	for (int i = 0; words[i]; i++) {
		if (strcmp(words[i], given) == 0)
			return i;
		tc_nearest_offer(&nearest, tc_text_of(words[i]));
	}
	tc_buffer list;
	tc_buffer_start(&list, NULL);
	for (int i = 0; words[i]; i++)
		tc_buffer_print(&list, "%s%s", i == 0 ? "" : words[i + 1] ? ", " : " or ", words[i]);
	tc_complain("--%s is %s, not `%s`", option, list.failed ? "" : list.at, given);
	tc_buffer_free(&list);
	return -1;
}

static bool set_format(tc_options *options, const char *given)
{
	static const struct {
		const char *word;
		tc_format format;
		bool draws;
		tc_card_form card;
		unsigned commands;
	} forms[] = {{"text", TC_FORMAT_TEXT, false, TC_CARD_TEXT, C | I | R | T | V | K},
	    {"line", TC_FORMAT_LINE, false, TC_CARD_TEXT, C}, {"html", TC_FORMAT_TEXT, true, TC_CARD_HTML, R | K},
	    {"ical", TC_FORMAT_TEXT, false, TC_CARD_ICAL, K}, {"csv", TC_FORMAT_TEXT, false, TC_CARD_CSV, K},
	    {"json", TC_FORMAT_JSON, false, TC_CARD_JSON, C | I | T | V | K},
	    {"jsonl", TC_FORMAT_JSON_LINES, false, TC_CARD_TEXT, C}, {"sarif", TC_FORMAT_SARIF, false, TC_CARD_TEXT, C},
	    {"junit", TC_FORMAT_JUNIT, false, TC_CARD_TEXT, C}, {"svg", TC_FORMAT_TEXT, true, TC_CARD_TEXT, I}};
	const char *words[sizeof forms / sizeof *forms + 1];
	size_t at[sizeof forms / sizeof *forms], count = 0;
	for (size_t i = 0; i < sizeof forms / sizeof *forms; i++)
		if (forms[i].commands >> options->command & 1) {
			words[count] = forms[i].word;
			at[count++] = i;
		}
	words[count] = NULL;
	const int chosen = choose("format", given, words);
	if (chosen < 0)
		return false;
	options->format = forms[at[chosen]].format;
	options->card = forms[at[chosen]].card;
	options->draws = forms[at[chosen]].draws && options->command == TC_CMD_BITE;
	options->page = forms[at[chosen]].draws && options->command == TC_CMD_RULES;
	return true;
}

static bool set_at_least(tc_options *options, const char *given)
{
	static const char *const words[] = {
	    [TC_V_NOTE] = "note", [TC_V_WARNING] = "warning", [TC_V_ERROR] = "error", NULL};
	const int chosen = choose("at-least", given, words);
	options->at_least = (tc_verdict)(chosen < 0 ? 0 : chosen);
	options->at_least_said = true;
	return chosen >= 0;
}

static bool set_color(tc_options *options, const char *given)
{
	static const char *const words[] = {
	    [TC_WHEN_AUTO] = "auto", [TC_WHEN_ALWAYS] = "always", [TC_WHEN_NEVER] = "never", NULL};
	const int chosen = choose("color", given, words);
	options->color = (tc_when)(chosen < 0 ? 0 : chosen);
	return chosen >= 0;
}

static bool set_jobs(tc_options *options, const char *given)
{
	unsigned jobs = 0;
	for (const char *c = given; *c >= '0' && *c <= '9' && jobs <= JOBS_MOST; c++)
		jobs = jobs * 10 + (unsigned)(*c - '0');
	if (jobs < 1 || jobs > JOBS_MOST || given[strspn(given, "0123456789")]) {
		tc_complain("--jobs is a number from 1 to %u, not `%s`", JOBS_MOST, given);
		return false;
	}
	options->jobs = jobs;
	return true;
}

/* --- reading ----------------------------------------------------------------------------------------------------- */

/* Where the text of an option of `bite` goes; NULL: it is none of them. */
static const char **asked_text(tc_try_ask *ask, option_id id)
{
	switch (id) {
	case O_SHELF:
		return &ask->shelf;
	case O_PASS:
		return &ask->pass;
	case O_WET_FILM:
		return &ask->wet_film;
	case O_COATS:
		return &ask->coats;
	case O_FLASH:
		return &ask->flash;
	case O_THIN:
		return &ask->thin;
	case O_TIME:
		return &ask->time;
	case O_TEMPERATURE:
		return &ask->temperature;
	case O_HUMIDITY:
		return &ask->humidity;
	case O_AIR_SPEED:
		return &ask->air_speed;
	default:
		return NULL;
	}
}

static bool set(tc_options *options, option_id id, const char *argument)
{
	const char **text = asked_text(&options->ask, id);
	if (text) {
		*text = argument;
		return true;
	}
	switch (id) {
	case O_FORMAT:
		return set_format(options, argument);
	case O_AT_LEAST:
		return set_at_least(options, argument);
	case O_COLOR:
		return set_color(options, argument);
	case O_RULES:
		options->rules[options->rules_count++] = argument;
		return true;
	case O_ZONE:
		options->zone = argument;
		return true;
	case O_START:
		options->start = argument;
		return true;
	case O_OUTPUT:
		options->output = argument;
		return true;
	case O_INCLUDE:
		options->include[options->include_count++] = argument;
		return true;
	case O_EXCLUDE:
		options->exclude[options->exclude_count++] = argument;
		return true;
	case O_FILES_FROM:
		options->files_from = argument;
		return true;
	case O_JOBS:
		return set_jobs(options, argument);
	case O_LEDGER:
		options->ledger = argument;
		return true;
	case O_NUL:
		options->null = true;
		return true;
	case O_WRITE_LEDGER:
		options->write_ledger = true;
		return true;
	case O_NO_SETTINGS:
		options->no_settings = true;
		return true;
	case O_CODE:
		options->code = argument;
		return true;
	case O_QUIET:
		options->quiet = true;
		return true;
	case O_FIELDS:
		options->fields = true;
		return true;
	case O_VERIFY:
		options->verify = true;
		return true;
	case O_COVERAGE:
		options->coverage = true;
		return true;
	case O_STRESSED:
		options->ask.stressed = true;
		return true;
	case O_SVG:
		options->svg = argument;
		return true;
	default:
		break;
	}
	return true;
}

/* Tables for getopt_long: the options of one command. val is 256 + id. */
static void build_tables(tc_command command, struct option *longs, char *shorts)
{
	size_t l = 0, s = 0;
	shorts[s++] = ':'; /* a missing argument comes back as ':' */
	for (unsigned i = 0; i < OPTIONS; i++) {
		if (!(rows[i].commands >> command & 1))
			continue;
		longs[l++] = (struct option){
		    rows[i].name, rows[i].argument ? required_argument : no_argument, NULL, 256 + (int)i};
		if (rows[i].letter)
			shorts[s++] = rows[i].letter;
		if (rows[i].letter && rows[i].argument)
			shorts[s++] = ':';
	}
	longs[l] = (struct option){0};
	shorts[s] = '\0';
}

static option_id by_value(int value)
{
	for (unsigned i = 0; i < OPTIONS; i++)
		if (value == 256 + (int)i || (rows[i].letter && value == rows[i].letter))
			return (option_id)i;
	return OPTIONS;
}

/* An option that the command does not have, or one that is cut too short to be told. */
static void complain_of(tc_command command, const char *written)
{
	if (written[0] != '-' || written[1] != '-') {
		tc_complain("`%s` has no option `-%c`; see `tiecoat %s --help`", commands[command].name, optopt,
		    commands[command].name);
		return;
	}
	const tc_text word = {written + 2, strcspn(written + 2, "=")};
	tc_nearest nearest = TC_NEAREST(word);
	for (unsigned i = 0; i < OPTIONS; i++) {
		if (!(rows[i].commands >> command & 1))
			continue;
		if (tc_text_is(word, rows[i].name)) {
			tc_complain("--%s takes no argument", rows[i].name);
			return;
		}
		tc_nearest_offer(&nearest, tc_text_of(rows[i].name));
	}
	if (nearest.found.length)
		tc_complain("`%s` has no option `%.*s`; `--%.*s` is near", commands[command].name,
		    (int)(word.length + 2), written, (int)nearest.found.length, nearest.found.at);
	else
		tc_complain("`%s` has no option `%.*s`; see `tiecoat %s --help`", commands[command].name,
		    (int)(word.length + 2), written, commands[command].name);
}

static tc_parsed read_options(int argc, char **argv, tc_options *options)
{
	struct option longs[OPTIONS + 1];
	char shorts[2 * OPTIONS + 2];
	build_tables(options->command, longs, shorts);
	opterr = 0;
	optind = 1;
	for (;;) {
		const int value = getopt_long(argc, argv, shorts, longs, NULL);
		if (value == -1)
			break;
		if (value == '?') {
			complain_of(options->command, argv[optind - 1]);
			return TC_PARSED_WRONG;
		}
		if (value == ':') {
			tc_complain("`%s` needs an argument", argv[optind - 1]);
			return TC_PARSED_WRONG;
		}
		const option_id id = by_value(value);
		if (id == O_HELP)
			return TC_PARSED_HELP;
		if (id == O_VERSION)
			return TC_PARSED_VERSION;
		if (!set(options, id, optarg))
			return TC_PARSED_WRONG;
	}
	options->operand = argv + optind;
	options->operands = argc - optind;
	return TC_PARSED_RUN;
}

static tc_parsed complain_of_command(const char *given)
{
	tc_nearest nearest = TC_NEAREST(tc_text_of(given));
	for (unsigned i = 0; i < TC_CMD_COUNT; i++)
		tc_nearest_offer(&nearest, tc_text_of(commands[i].name));
	if (nearest.found.length)
		tc_complain("no command `%s`; `%.*s` is near", given, (int)nearest.found.length, nearest.found.at);
	else
		tc_complain("no command `%s`; see `tiecoat --help`", given);
	return TC_PARSED_WRONG;
}

tc_parsed tc_options_read(int argc, char **argv, const char **lists, tc_options *options)
{
	*options = (tc_options){.command = TC_CMD_COUNT,
	    .at_least = TC_V_ERROR,
	    .rules = lists,
	    .include = lists + argc,
	    .exclude = lists + 2 * argc};
	if (argc < 2) {
		tc_complain("a command is missing; see `tiecoat --help`");
		return TC_PARSED_WRONG;
	}
	if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0)
		return TC_PARSED_HELP;
	if (strcmp(argv[1], "--version") == 0 || strcmp(argv[1], "-V") == 0)
		return TC_PARSED_VERSION;
	for (unsigned i = 0; i < TC_CMD_COUNT; i++)
		if (strcmp(argv[1], commands[i].name) == 0)
			options->command = (tc_command)i;
	if (options->command == TC_CMD_COUNT)
		return complain_of_command(argv[1]);
	return read_options(argc - 1, argv + 1, options);
}
