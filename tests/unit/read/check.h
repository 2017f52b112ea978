/* What the tests of reading share: a text read in one go, with its arena and diagnostics. */
#ifndef READ_CHECK_H
#define READ_CHECK_H

#include "../base/check.h"
#include "base/limits.h"
#include "read/yaml.h"

typedef struct reading {
	tc_arena *arena;
	tc_diags *diags;
	tc_source *source;
	tc_status source_status, status;
	const tc_document *documents;
	size_t count;
	const tc_node *root; /* of the first document */
} reading;

static inline reading read_bytes(const char *bytes, size_t length)
{
	reading r = {.arena = tc_arena_new(NULL, 0)};
	r.diags = tc_diags_new(r.arena);
	r.source_status = tc_source_new(r.arena, "t.yaml", bytes, length, r.diags, &r.source);
	assert_non_null(r.source);
	r.status = tc_yaml_read(r.arena, r.source, r.diags, &r.documents, &r.count);
	r.root = r.count ? r.documents[0].root : NULL;
	return r;
}

static inline reading read_text(const char *text)
{
	return read_bytes(text, strlen(text));
}

/* All diagnostics as they print, sorted, in a static buffer. */
static inline const char *messages(const reading *r)
{
	static char text[4000];
	tc_buffer out;
	tc_buffer_start(&out, NULL);
	tc_diags_sort(r->diags);
	for (size_t i = 0; i < tc_diags_count(r->diags); i++)
		tc_diag_print(tc_diags_at(r->diags, i), &out);
	snprintf(text, sizeof text, "%s", out.at ? out.at : "");
	tc_buffer_free(&out);
	return text;
}

static inline void done(reading *r)
{
	tc_arena_free(r->arena);
}

/* The text must give these diagnostics, each of its own line. */
static inline void assert_messages(const char *text, const char *expected)
{
	reading r = read_text(text);
	assert_string_equal(messages(&r), expected);
	assert_int_equal(r.source_status == TC_BAD || r.status == TC_BAD, tc_diags_errors(r.diags) > 0);
	done(&r);
}

#endif
