/* libyaml's complaints in plain words. */
#include <string.h>

#include "read/private.h"

typedef struct explanation {
	const char *problem; /* libyaml's own words, release 0.2.5 */
	const char *context; /* the start of its words for what it was doing; NULL: any */
	tc_syntax says;
} explanation;

static const explanation explanations[] = {
    {"mapping values are not allowed in this context", NULL,
        {.message = "`:` with a blank behind it is not allowed here; quote the text if it holds one, or mend the "
                    "indentation"}},
    {"block sequence entries are not allowed in this context", NULL,
        {.message = "a list item `- ` is not allowed here; begin each on a line of its own, all indented alike"}},
    {"mapping keys are not allowed in this context", NULL,
        {.message = "`? ` is not allowed here; quote a text that begins so"}},
    {"could not find expected ':'", NULL, {.message = "a key without its `:`; write `key: value`", .at_context = true}},
    {"found unexpected end of stream", "while scanning a quoted scalar",
        {.message = "the quote is not closed before the end of the file", .at_context = true}},
    {"found unexpected document indicator", NULL,
        {.message = "a line `---` or `...` ends the document inside a quoted text",
            .related = "the quote begins here"}},
    {"found unknown escape character", NULL,
        {.message = "in double quotes `\\` and this character mean nothing; use single quotes, or write `\\\\`"}},
    {"did not find expected hexdecimal number", NULL,
        {.message = "hexadecimal digits expected after `\\x`, `\\u` or `\\U`"}},
    {"found invalid Unicode character escape code", NULL, {.message = "the escape names no character"}},
    {"found a tab character where an indentation space is expected", NULL,
        {.message = "a tab cannot indent; use blanks", .related = "the block begins here"}},
    {"found a tab character that violates indentation", NULL, {.message = "a tab cannot indent; use blanks"}},
    {"found unexpected ':'", NULL, {.message = "quote a text that holds `:` inside { } or [ ]"}},
    {"did not find expected comment or line break", "while scanning a block scalar",
        {.message = "after `|` or `>` comes a new line; quote a text that begins so"}},
    {"found an indentation indicator equal to 0", NULL,
        {.message = "after `|` or `>` the indentation is 1 to 9, not 0"}},
    {"did not find expected alphabetic or numeric character", "while scanning an anchor",
        {.message = "`&` names an anchor; quote a text that begins so"}},
    {"did not find expected alphabetic or numeric character", "while scanning an alias",
        {.message = "`*` names an alias; quote a text that begins so"}},
    {"found undefined tag handle", NULL, {.message = "`!` begins a tag; quote a text that begins so"}},
    {"did not find expected <document start>", NULL,
        {.message =
                "the document has ended above this line; mend the indentation, or begin a new document with `---`"}},
    {"did not find expected node content", "while parsing a flow node",
        {.message = "a value expected here, inside { } or [ ]; quote a text that holds `[ ] { } ,` or `:`"}},
    {"did not find expected node content", NULL, {.message = "a value expected here; quote a text that begins so"}},
    {"did not find expected '-' indicator", NULL,
        {.message = "a list item `- ` expected here; mend the indentation", .related = "the list begins here"}},
    {"did not find expected key", NULL,
        {.message = "a key expected here; mend the indentation, or quote the text before",
            .related = "the mapping begins here"}},
    {"did not find expected ',' or ']'", NULL,
        {.message = "`,` or `]` expected; quote a text that holds `[ ] { } ,` or `:`", .related = "`[` stands here"}},
    {"did not find expected ',' or '}'", NULL,
        {.message = "`,` or `}` expected; quote a text that holds `[ ] { } ,` or `:`", .related = "`{` stands here"}},
    {"found incompatible YAML document", NULL,
        {.message = "only version 1.1 of YAML is read; take out the line `%YAML`"}},
};

static const tc_syntax tab = {.message = "a tab cannot indent; use blanks"};
static const tc_syntax no_token = {.message = "a text cannot begin with this character; quote it"};
static const tc_syntax directive = {
    .message = "a line that begins with `%` is a directive, and this one is wrong; take it out"};
static const tc_syntax tag = {.message = "`!` begins a tag, and this one is wrong; quote a text that begins so"};
static const tc_syntax other = {.message = "not well-formed YAML"};

static bool starts(const char *text, const char *with)
{
	return text && strncmp(text, with, strlen(with)) == 0;
}

tc_syntax tc_syntax_explain(const yaml_parser_t *parser, tc_text text, size_t at)
{
	const char *problem = parser->problem ? parser->problem : "";
	for (size_t i = 0; i < sizeof explanations / sizeof *explanations; i++) {
		const explanation *e = &explanations[i];
		if (strcmp(e->problem, problem) == 0 && (!e->context || starts(parser->context, e->context)))
			return e->says;
	}
	if (strcmp(problem, "found character that cannot start any token") == 0)
		return at < text.length && text.at[at] == '\t' ? tab : no_token;
	if (starts(parser->context, "while scanning a %") || starts(parser->context, "while scanning a directive") ||
	    strstr(problem, "directive"))
		return directive;
	if (starts(parser->context, "while scanning a tag") || starts(parser->context, "while parsing a tag"))
		return tag;
	return other;
}
