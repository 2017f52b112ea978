/* Remedies carried out on the examples of a rulebook. */
#include "face/mend.h"
#include "report/fix.h"

static bool is_at(tc_place a, tc_place b)
{
	return a.line == b.line && a.column == b.column;
}

/* The text of the recipe alone, edits made in it, indented as it stands in its file so that its lines keep their order. */
static bool rewrite(const tc_shown_by *shown, const tc_fix *fix, tc_buffer *out)
{
	const tc_text text = tc_source_text(shown->source);
	const tc_node *node = shown->node;
	uint32_t next = 0;
	size_t at = node->offset;
	tc_buffer_fill(out, ' ', tc_source_place(shown->source, node->offset).column - 1);
	while (at <= node->end) {
		const tc_place here = tc_source_place(shown->source, at);
		if (next < fix->edits && is_at(here, fix->edit[next].from)) {
			tc_buffer_puts(out, fix->edit[next].text);
			while (at < node->end && !is_at(tc_source_place(shown->source, at), fix->edit[next].to))
				at++;
			next++;
			continue;
		}
		if (at < node->end)
			tc_buffer_char(out, text.at[at]);
		at++;
	}
	tc_buffer_char(out, '\n');
	return next == fix->edits && !out->failed;
}

static tc_status read_again(tc_arena *arena, tc_worker *worker, const tc_judgement *judged, const tc_buffer *text,
    tc_diags *diags, const tc_recipe **mended)
{
	const tc_rule_names names = tc_rulebook_names(judged->rulebook);
	const char *bytes = tc_arena_text(arena, text->at, text->length);
	const tc_document *documents;
	size_t count = 0;
	tc_source *source;
	if (!bytes)
		return TC_NO_MEMORY;
	tc_status status = tc_source_new(arena, "mended", bytes, text->length, diags, &source);
	if (status == TC_OK)
		status = tc_yaml_read(arena, source, diags, &documents, &count);
	if (status != TC_OK)
		return status;
	return count == 1 ? tc_recipe_read(arena, tc_rulebook_library(judged->rulebook), tc_worker_finder(worker),
	                        &names, NULL, source, documents[0].root, true, diags, mended)
	                  : TC_BAD;
}

tc_status tc_mend(tc_arena *arena, tc_worker *worker, const tc_shown_by *shown, const tc_judgement *judged,
    const tc_finding *finding, const tc_advice *advice, uint32_t choice, tc_diags *diags, const char **says,
    bool *reads, const tc_recipe **mended)
{
	tc_fix fix;
	tc_buffer text;
	*reads = true;
	if (!tc_fix_choose(arena, judged, finding, advice, choice, &fix))
		return tc_arena_failed(arena) ? TC_NO_MEMORY : TC_BAD;
	*says = fix.says ? fix.says : advice->text;
	tc_buffer_start(&text, tc_arena_allocator(arena));
	tc_status status = TC_BAD;
	if (rewrite(shown, &fix, &text)) {
		status = read_again(arena, worker, judged, &text, diags, mended);
		*reads = status != TC_BAD;
	} else if (text.failed) {
		status = TC_NO_MEMORY;
	}
	tc_buffer_free(&text);
	return status;
}
