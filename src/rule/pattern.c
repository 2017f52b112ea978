/* Patterns of `matches`: checked at load, compiled when met, by one worker for itself. The text they are tried on is the user's,
 * so there is no JIT (it counts limits differently) and match, depth and heap are bounded. */
#define PCRE2_CODE_UNIT_WIDTH 8
#include <pcre2.h>
#include <stdio.h>
#include <string.h>

#include "rule/private.h"

#define OPTIONS (PCRE2_UTF | PCRE2_CASELESS | PCRE2_NEVER_BACKSLASH_C | PCRE2_NEVER_UCP)
#define KEPT 64u /* compiled patterns of one worker; a further one takes the place of another */

typedef struct kept {
	char *pattern; /* NULL: free */
	pcre2_code *code;
} kept;

struct tc_patterns {
	tc_allocator from;
	pcre2_general_context *general;
	pcre2_compile_context *compile;
	pcre2_match_context *match;
	pcre2_match_data *data;
	uint32_t next; /* the place that is taken when all are full */
	kept kept[KEPT];
};

static void *get(PCRE2_SIZE size, void *user)
{
	const tc_allocator *from = user;
	return from->get(from->user, NULL, size ? size : 1);
}

static void drop(void *old, void *user)
{
	const tc_allocator *from = user;
	if (old)
		from->get(from->user, old, 0);
}

/* --- what is allowed ------------------------------------------------------------------------------------------------ */

static bool refuse(char message[200], size_t *at, size_t where, const char *what)
{
	snprintf(message, 200, "%s", what);
	*at = where;
	return false;
}

/* After `(`: recursion, callouts, conditions, verbs. */
static const char *forbidden_group(const char *p)
{
	if (p[0] == '*')
		return "a pattern has no verbs `(*…)`";
	if (p[0] != '?')
		return NULL;
	if (p[1] == 'C')
		return "a pattern has no callouts";
	if (p[1] == 'R' || p[1] == '&' || p[1] == '+' || (p[1] >= '0' && p[1] <= '9') || (p[1] == 'P' && p[2] == '>') ||
	    (p[1] == '-' && p[2] >= '0' && p[2] <= '9'))
		return "a pattern has no recursion";
	if (p[1] == 'P' && p[2] == '=')
		return "a pattern has no back references";
	return p[1] == '(' ? "a pattern has no conditions" : NULL;
}

/* After a backslash: \1, \g, \k, \C. */
static const char *forbidden_escape(char c)
{
	return (c >= '1' && c <= '9') || c == 'g' || c == 'k' ? "a pattern has no back references and no recursion"
	                                                      : NULL;
}

static bool allowed(const char *pattern, char message[200], size_t *at)
{
	bool set = false;
	const size_t length = strlen(pattern);
	if (length > TC_PATTERN_MAX) {
		snprintf(message, 200, "a pattern has at most %u bytes; this one has %zu", TC_PATTERN_MAX, length);
		*at = 0;
		return false;
	}
	for (size_t i = 0; i < length; i++) {
		const char *what = NULL;
		if (pattern[i] == '\\' && pattern[i + 1])
			what = set ? NULL : forbidden_escape(pattern[i + 1]);
		else if (pattern[i] == '(' && !set)
			what = forbidden_group(pattern + i + 1);
		if (what)
			return refuse(message, at, i, what);
		if (pattern[i] == '\\')
			i++;
		else if (pattern[i] == '[')
			set = true;
		else if (pattern[i] == ']')
			set = false;
	}
	return true;
}

/* What PCRE2 says of a pattern that is allowed so far. */
static tc_status try_to_compile(pcre2_compile_context *context, const char *pattern, char message[200], size_t *at)
{
	int error = 0;
	PCRE2_SIZE where = 0;
	uint32_t references = 0;
	pcre2_code *code = pcre2_compile((PCRE2_SPTR)pattern, PCRE2_ZERO_TERMINATED, OPTIONS, &error, &where, context);
	if (!code) {
		PCRE2_UCHAR text[128];
		pcre2_get_error_message(error, text, sizeof text / sizeof *text);
		snprintf(message, 200, "the pattern does not compile: %s", (const char *)text);
		*at = where;
		return error == PCRE2_ERROR_HEAP_FAILED ? TC_NO_MEMORY : TC_BAD;
	}
	pcre2_pattern_info(code, PCRE2_INFO_BACKREFMAX, &references);
	pcre2_code_free(code);
	return references && !refuse(message, at, 0, "a pattern has no back references") ? TC_BAD : TC_OK;
}

tc_status tc_pattern_check(const tc_allocator *from, const char *pattern, char message[200], size_t *at)
{
	if (!allowed(pattern, message, at))
		return TC_BAD;
	tc_allocator own = *from;
	pcre2_general_context *general = pcre2_general_context_create(get, drop, &own);
	pcre2_compile_context *context = general ? pcre2_compile_context_create(general) : NULL;
	const tc_status status = context ? try_to_compile(context, pattern, message, at) : TC_NO_MEMORY;
	pcre2_compile_context_free(context);
	pcre2_general_context_free(general);
	return status;
}

/* --- a worker's patterns ---------------------------------------------------------------------------------------------- */

tc_patterns *tc_patterns_new(const tc_allocator *from)
{
	if (!from)
		from = tc_allocator_system();
	tc_patterns *p = from->get(from->user, NULL, sizeof *p);
	if (!p)
		return NULL;
	memset(p, 0, sizeof *p);
	p->from = *from;
	p->general = pcre2_general_context_create(get, drop, &p->from);
	p->compile = p->general ? pcre2_compile_context_create(p->general) : NULL;
	p->match = p->general ? pcre2_match_context_create(p->general) : NULL;
	p->data = p->general ? pcre2_match_data_create(1, p->general) : NULL;
	if (!p->compile || !p->match || !p->data) {
		tc_patterns_free(p);
		return NULL;
	}
	pcre2_set_match_limit(p->match, TC_MATCH_LIMIT);
	pcre2_set_depth_limit(p->match, TC_MATCH_DEPTH);
	pcre2_set_heap_limit(p->match, TC_MATCH_HEAP_KIB);
	return p;
}

void tc_patterns_free(tc_patterns *p)
{
	if (!p)
		return;
	for (uint32_t i = 0; i < KEPT; i++) {
		pcre2_code_free(p->kept[i].code);
		drop(p->kept[i].pattern, &p->from);
	}
	pcre2_match_data_free(p->data);
	pcre2_match_context_free(p->match);
	pcre2_compile_context_free(p->compile);
	pcre2_general_context_free(p->general);
	const tc_allocator from = p->from;
	from.get(from.user, p, 0);
}

/* The place of a pattern: its own, a free one, or one that gives way. */
static kept *place_of(tc_patterns *p, const char *pattern)
{
	for (uint32_t i = 0; i < KEPT; i++)
		if (!p->kept[i].pattern || strcmp(p->kept[i].pattern, pattern) == 0)
			return &p->kept[i];
	kept *k = &p->kept[p->next++ % KEPT];
	pcre2_code_free(k->code);
	drop(k->pattern, &p->from);
	*k = (kept){0};
	return k;
}

static pcre2_code *code_of(tc_patterns *p, const char *pattern)
{
	kept *k = place_of(p, pattern);
	if (k->code)
		return k->code;
	int error;
	PCRE2_SIZE where;
	const size_t size = strlen(pattern) + 1;
	char *copy = p->from.get(p->from.user, NULL, size);
	if (!copy)
		return NULL;
	memcpy(copy, pattern, size);
	k->code = pcre2_compile((PCRE2_SPTR)pattern, PCRE2_ZERO_TERMINATED, OPTIONS, &error, &where, p->compile);
	if (k->code)
		k->pattern = copy;
	else
		drop(copy, &p->from);
	return k->code;
}

tc_match tc_patterns_match(tc_patterns *patterns, const char *pattern, const char *text)
{
	const pcre2_code *code = patterns ? code_of(patterns, pattern) : NULL;
	if (!code)
		return TC_MATCH_CANNOT;
	const int found = pcre2_match(
	    code, (PCRE2_SPTR)text, PCRE2_ZERO_TERMINATED, 0, PCRE2_NO_JIT, patterns->data, patterns->match);
	return found >= 0 ? TC_MATCH_YES : found == PCRE2_ERROR_NOMATCH ? TC_MATCH_NO : TC_MATCH_CANNOT;
}
