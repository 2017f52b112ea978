/* Globs through PCRE2: each becomes a pattern. */
#define PCRE2_CODE_UNIT_WIDTH 8
#include <pcre2.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/limits.h"
#include "face/globs.h"

typedef struct glob {
	pcre2_code *code;
	bool whole;  /* compared with the path, not with the name */
	bool folder; /* fits folders alone */
} glob;

struct tc_globs {
	size_t count, room;
	glob *at;
	pcre2_match_data *match;
	pcre2_match_context *bounds;
};

tc_globs *tc_globs_new(void)
{
	tc_globs *globs = calloc(1, sizeof *globs);
	if (!globs)
		return NULL;
	globs->match = pcre2_match_data_create(1, NULL);
	globs->bounds = pcre2_match_context_create(NULL);
	if (!globs->match || !globs->bounds) {
		tc_globs_free(globs);
		return NULL;
	}
	pcre2_set_match_limit(globs->bounds, TC_MATCH_LIMIT);
	pcre2_set_depth_limit(globs->bounds, TC_MATCH_DEPTH);
	pcre2_set_heap_limit(globs->bounds, TC_MATCH_HEAP_KIB);
	return globs;
}

void tc_globs_free(tc_globs *globs)
{
	if (!globs)
		return;
	for (size_t i = 0; i < globs->count; i++)
		pcre2_code_free(globs->at[i].code);
	free(globs->at);
	pcre2_match_data_free(globs->match);
	pcre2_match_context_free(globs->bounds);
	free(globs);
}

bool tc_globs_any(const tc_globs *globs)
{
	return globs && globs->count > 0;
}

/* --- making ------------------------------------------------------------------------------------------------------ */

static bool refuse(char trouble[160], const char *why)
{
	snprintf(trouble, 160, "%s", why);
	return false;
}

static bool refuse_number(char trouble[160], int number)
{
	PCRE2_UCHAR words[120];
	if (pcre2_get_error_message(number, words, sizeof words) < 0)
		words[0] = '\0';
	return refuse(trouble, (const char *)words);
}

static pcre2_code *compile(tc_text text, char trouble[160])
{
	PCRE2_UCHAR *pattern = NULL;
	PCRE2_SIZE length = 0, at;
	int number = pcre2_pattern_convert(
	    (PCRE2_SPTR)text.at, text.length, PCRE2_CONVERT_GLOB | PCRE2_CONVERT_UTF, &pattern, &length, NULL);
	if (number != 0) {
		refuse_number(trouble, number);
		return NULL;
	}
	/* names of files need not be UTF-8 */
	pcre2_code *code = pcre2_compile(pattern, length, PCRE2_UTF | PCRE2_MATCH_INVALID_UTF, &number, &at, NULL);
	pcre2_converted_pattern_free(pattern);
	if (!code)
		refuse_number(trouble, number);
	return code;
}

static bool make_room(tc_globs *globs)
{
	if (globs->count < globs->room)
		return true;
	const size_t room = globs->room ? 2 * globs->room : 8;
	glob *more = realloc(globs->at, room * sizeof *more);
	if (!more)
		return false;
	globs->at = more;
	globs->room = room;
	return true;
}

bool tc_globs_add(tc_globs *globs, tc_text text, char trouble[160])
{
	glob new = {0};
	if (text.length > TC_PATTERN_MAX)
		return refuse(trouble, "it is longer than 1024 bytes");
	if (tc_utf8_bad(text.at, text.length) < text.length)
		return refuse(trouble, "it is not UTF-8");
	if (text.length && text.at[text.length - 1] == '/') {
		new.folder = true;
		text.length--;
	}
	new.whole = text.length &&memchr(text.at, '/', text.length);
	if (text.length && text.at[0] == '/')
		text = (tc_text){text.at + 1, text.length - 1};
	if (text.length == 0)
		return refuse(trouble, "it is empty");
	if (!make_room(globs))
		return refuse(trouble, "out of memory");
	new.code = compile(text, trouble);
	if (!new.code)
		return false;
	globs->at[globs->count++] = new;
	return true;
}

/* --- comparing --------------------------------------------------------------------------------------------------- */

static bool fit(const tc_globs *globs, tc_text path, bool folder)
{
	const char *slash = memrchr(path.at, '/', path.length), *name = slash ? slash + 1 : path.at;
	const tc_text last = {name, path.length - (size_t)(name - path.at)};
	for (size_t i = 0; i < globs->count; i++) {
		const glob *g = &globs->at[i];
		const tc_text text = g->whole ? path : last;
		if (g->folder && !folder)
			continue;
		/* one that runs into a bound does not fit: then a file is checked that was not meant to be, and never
		 * the other way round */
		if (pcre2_match(g->code, (PCRE2_SPTR)text.at, text.length, 0, 0, globs->match, globs->bounds) >= 0)
			return true;
	}
	return false;
}

bool tc_globs_fit(const tc_globs *globs, const char *path, bool folder)
{
	return tc_globs_any(globs) && fit(globs, tc_text_of(path), folder);
}

bool tc_globs_fit_way(const tc_globs *globs, const char *path)
{
	if (!tc_globs_any(globs))
		return false;
	for (const char *slash = strchr(path, '/'); slash; slash = strchr(slash + 1, '/'))
		if (slash > path && fit(globs, (tc_text){path, (size_t)(slash - path)}, true))
			return true;
	return fit(globs, tc_text_of(path), false);
}
