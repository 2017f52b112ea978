/* What the tests of this folder share: the default rulebook from the repository's files, and recipes judged from text. */
#ifndef TC_TESTS_JUDGE_BENCH_H
#define TC_TESTS_JUDGE_BENCH_H

#include <glob.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "judge/judge.h"

#define FILES_MAX 128

typedef struct files {
	tc_rulebook_file at[FILES_MAX];
	size_t count;
} files;

static inline char *slurp(const char *name, size_t *length)
{
	FILE *in = fopen(name, "rb");
	if (!in)
		return NULL;
	fseek(in, 0, SEEK_END);
	long size = ftell(in);
	rewind(in);
	char *bytes = malloc((size_t)size + 1);
	*length = bytes ? fread(bytes, 1, (size_t)size, in) : 0;
	if (bytes)
		bytes[*length] = 0;
	fclose(in);
	return bytes;
}

static inline files default_files(void)
{
	files f = {.count = 0};
	glob_t found;

	if (glob("rules/*/*.yaml", 0, NULL, &found) != 0)
		return f;
	for (size_t i = 0; i < found.gl_pathc && i < FILES_MAX; i++) {
		size_t length = 0;
		char *bytes = slurp(found.gl_pathv[i], &length);
		f.at[f.count++] = (tc_rulebook_file){.name = strdup(found.gl_pathv[i]), .bytes = bytes, .length = length};
	}
	globfree(&found);
	return f;
}

static inline void free_files(files *f)
{
	for (size_t i = 0; i < f->count; i++) {
		free((char *)f->at[i].bytes);
		free((char *)f->at[i].name);
	}
	f->count = 0;
}

static inline void show(const tc_diags *diags)
{
	for (size_t i = 0; i < tc_diags_count(diags); i++) {
		tc_buffer out;
		tc_buffer_start(&out, NULL);
		tc_diag_print(tc_diags_at(diags, i), &out);
		fputs(out.at ? out.at : "", stderr);
		tc_buffer_free(&out);
	}
}

/* Judges the first document of a text. */
static inline tc_status judge_text(tc_worker *worker, tc_arena *arena, const tc_rulebook *rulebook, const char *name,
    const char *text, size_t length, bool short_form, const tc_judgement **judgement, tc_diags *diags)
{
	tc_source *source;
	const tc_document *documents;
	const tc_recipe *recipe;
	size_t count;
	tc_rule_names names = tc_rulebook_names(rulebook);

	tc_status status = tc_source_new(arena, name, text, length, diags, &source);
	if (status == TC_OK)
		status = tc_yaml_read(arena, source, diags, &documents, &count);
	if (status == TC_OK && (count == 0 || !documents[0].root))
		return TC_BAD;
	if (status == TC_OK)
		status = tc_recipe_read(arena, tc_rulebook_library(rulebook), tc_worker_finder(worker), &names, NULL, source,
		    documents[0].root, short_form, diags, &recipe);
	return status == TC_OK ? tc_judge(worker, arena, recipe, judgement) : status;
}

#endif
