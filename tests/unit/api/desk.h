/* What the tests of this folder share: a rulebook with a worker, files, and edits of a text. */
#ifndef TC_TESTS_API_DESK_H
#define TC_TESTS_API_DESK_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/tiecoat.h"

typedef struct desk {
	tiecoat_rulebook *rulebook;
	tiecoat_worker *worker;
} desk;

static inline desk desk_open(void)
{
	desk d = {NULL, NULL};
	assert_int_equal(tiecoat_rulebook_builtin(NULL, &d.rulebook), TIECOAT_OK);
	assert_int_equal(tiecoat_worker_new(d.rulebook, &d.worker), TIECOAT_OK);
	return d;
}

/* The rulebook first, since the order does not matter. */
static inline void desk_close(desk *d)
{
	tiecoat_rulebook_free(d->rulebook);
	tiecoat_worker_free(d->worker);
	*d = (desk){NULL, NULL};
}

static inline char *slurp(const char *path, size_t *length)
{
	FILE *in = fopen(path, "rb");
	if (!in)
		return NULL;
	fseek(in, 0, SEEK_END);
	const long size = ftell(in);
	rewind(in);
	char *bytes = malloc((size_t)size + 1);
	*length = bytes ? fread(bytes, 1, (size_t)size, in) : 0;
	if (bytes)
		bytes[*length] = 0;
	fclose(in);
	return bytes;
}

static inline void show_messages(const tiecoat_result *result)
{
	for (size_t i = 0; i < tiecoat_result_messages(result); i++)
		printf("%u: %s [%s]\n", (unsigned)tiecoat_result_message(result, i)->line,
		    tiecoat_result_message(result, i)->text, tiecoat_result_message(result, i)->id);
}

/* Checks a file that can be read. */
static inline tiecoat_result *desk_check(desk *d, const char *path)
{
	size_t length = 0;
	char *text = slurp(path, &length);
	tiecoat_result *result = NULL;
	assert_non_null(text);
	assert_int_equal(tiecoat_check(d->worker, path, text, length, NULL, &result), TIECOAT_OK);
	free(text);
	return result;
}

/* The offset of a line and column of ASCII text. */
static inline size_t offset_of(const char *text, uint32_t line, uint32_t column)
{
	const char *at = text;
	for (uint32_t i = 1; i < line && at; i++)
		at = strchr(at, '\n') + 1;
	return (size_t)(at - text) + column - 1;
}

/* Does that line of the file hold these words? */
static inline bool starts_at_line(const char *path, uint32_t line, const char *words)
{
	size_t length = 0;
	char *text = slurp(path, &length);
	char *at = text + offset_of(text, line, 1);
	at[strcspn(at, "\n")] = 0;
	const bool holds = strstr(at, words) != NULL;
	free(text);
	return holds;
}

/* The text with one edit carried out; to be freed. */
static inline char *carry_out(const char *text, size_t length, const tiecoat_edit *edit)
{
	const size_t from = offset_of(text, edit->from_line, edit->from_column);
	const size_t to = offset_of(text, edit->to_line, edit->to_column), more = strlen(edit->text);
	char *changed = malloc(length + more + 1);
	assert_non_null(changed);
	assert_true(from <= to && to <= length);
	memcpy(changed, text, from);
	memcpy(changed + from, edit->text, more);
	memcpy(changed + from + more, text + to, length - to + 1);
	return changed;
}

#endif
