/* From a passage to a compiled expression: the order of the steps, and what they share. */
#include <string.h>

#include "rule/private.h"

void tc_compiler_start(
    tc_compiler *c, const tc_library *library, const tc_lets *lets, tc_arena *arena, tc_arena *scratch, tc_diags *diags)
{
	*c = (tc_compiler){.library = library, .lets = lets, .arena = arena, .scratch = scratch, .diags = diags};
}

/* --- places and messages ------------------------------------------------------------------------------------------- */

tc_place tc_passage_place(const tc_passage *passage, uint32_t at)
{
	if (passage->source)
		return tc_node_text_place(passage->source, passage->scalar, passage->base + at);
	/* `base` counts in the text that this one is a piece of */
	const tc_text whole = {passage->text.at - passage->base, passage->text.length + passage->base};
	tc_place place = {.file = passage->file, .line = 1};
	const size_t end = at + passage->base < whole.length ? at + passage->base : whole.length;
	size_t line = 0;
	for (size_t i = 0; i < end; i++) {
		if (whole.at[i] != '\n')
			continue;
		place.line++;
		line = i + 1;
	}
	place.column = (uint32_t)tc_utf8_count(whole.at + line, end - line) + 1;
	return place;
}

/* What is wrong with the text of a let where it is used is said at that place, with the let's own as a related one. */
static void add_message(tc_compiler *c, const char *id, uint32_t passage, uint32_t at, const char *message)
{
	const tc_opened *inner = &c->opened[passage], *outer = inner;
	uint32_t outer_at = at;
	while (outer->let) {
		outer_at = outer->use_at;
		outer = &c->opened[outer->use];
	}
	tc_diag_add(c->diags, TC_ERROR, id, tc_passage_place(&outer->passage, outer_at), "%s", message);
	if (inner != outer && inner->passage.source)
		tc_diag_relate(c->diags, tc_passage_place(&inner->passage, at), "in `%s`", inner->let);
}

void tc_wrong(tc_compiler *c, const char *id, uint32_t passage, uint32_t at, const char *format, ...)
{
	va_list list;
	va_start(list, format);
	const char *message = tc_arena_vprint(c->scratch, format, list);
	va_end(list);
	c->broken = true;
	if (!message)
		return;
	if (!c->silent)
		add_message(c, id, passage, at, message);
	else if (!c->unsaid)
		c->unsaid = message;
}

void tc_wrong_related(tc_compiler *c, uint32_t passage, uint32_t at, const char *format, ...)
{
	va_list list;
	va_start(list, format);
	const char *message = tc_arena_vprint(c->scratch, format, list);
	va_end(list);
	if (message && !c->silent)
		tc_diag_relate(c->diags, tc_passage_place(&c->opened[passage].passage, at), "%s", message);
}

/* --- nodes --------------------------------------------------------------------------------------------------------- */

uint32_t tc_ast_new(tc_compiler *c, tc_ast_kind kind, uint32_t passage, uint32_t from)
{
	if (c->count >= TC_ASTS_MAX) {
		if (!c->broken)
			tc_wrong(c, "bound", 0, 0,
			    "with its lets written out this is longer than %u instructions; say it shorter",
			    TC_CODE_MAX);
		return TC_NONE;
	}
	if (!tc_arena_grow(c->scratch, (void **)&c->nodes, c->count, &c->room, sizeof *c->nodes))
		return TC_NONE;
	c->nodes[c->count] = (tc_ast){.kind = (uint8_t)kind,
	    .passage = passage,
	    .from = from,
	    .to = from,
	    .child = TC_NONE,
	    .next = TC_NONE,
	    .field = TC_NONE,
	    .branch = TC_NONE};
	return c->count++;
}

uint32_t tc_open_passage(tc_compiler *c, const tc_passage *passage, const char *let, uint32_t use, uint32_t use_at)
{
	if (!tc_arena_grow(c->scratch, (void **)&c->opened, c->opened_count, &c->opened_room, sizeof *c->opened))
		return TC_NONE;
	c->opened[c->opened_count] = (tc_opened){.passage = *passage, .let = let, .use = use, .use_at = use_at};
	return c->opened_count++;
}

/* The text from `from` to `to` with parameters replaced and blanks made one; returns its length, writes it if `out`. */
static size_t tidy(const tc_opened *opened, uint32_t from, uint32_t to, char *out)
{
	const tc_text text = opened->passage.text;
	size_t length = 0;
	uint32_t swap = 0;
	for (uint32_t i = from; i < to;) {
		while (swap < opened->count && opened->swaps[swap].from < i)
			swap++;
		if (swap < opened->count && opened->swaps[swap].from == i) {
			const size_t bytes = strlen(opened->swaps[swap].printed);
			if (out)
				memcpy(out + length, opened->swaps[swap].printed, bytes);
			length += bytes;
			i = opened->swaps[swap].to;
			continue;
		}
		size_t blank = tc_blank_length(text.at + i, to - i);
		const bool was_blank = blank != 0;
		for (; blank; blank = tc_blank_length(text.at + i, to - i))
			i += (uint32_t)blank;
		if (was_blank && (i == to || length == 0))
			continue;
		if (out)
			out[length] = was_blank ? ' ' : text.at[i];
		length++;
		i += !was_blank;
	}
	return length;
}

const char *tc_ast_text(tc_compiler *c, uint32_t node)
{
	if (node == TC_NONE)
		return "…";
	const tc_ast *n = &c->nodes[node];
	const tc_opened *opened = &c->opened[n->passage];
	char *out = tc_arena_get(c->scratch, tidy(opened, n->from, n->to, NULL) + 1);
	if (!out)
		return "…";
	tidy(opened, n->from, n->to, out);
	return out;
}

const char *tc_intern(tc_compiler *c, tc_text text)
{
	const uint32_t known = tc_map_find(&c->interned, text);
	if (known != TC_MAP_NONE)
		return c->texts[known];
	const char *copy = tc_arena_text(c->arena, text.at, text.length);
	if (!copy || !tc_arena_grow(c->scratch, (void **)&c->texts, c->texts_count, &c->texts_room, sizeof *c->texts) ||
	    !tc_map_put(&c->interned, c->scratch, (tc_text){copy, text.length}, c->texts_count, NULL))
		return NULL;
	c->texts[c->texts_count++] = copy;
	return copy;
}

/* --- types by name -------------------------------------------------------------------------------------------------- */

const char *tc_type_name(tc_arena *scratch, tc_type type, tc_dim dim, tc_subject subject)
{
	static const char *const names[] = {[TC_T_BAD] = "something broken",
	    [TC_T_TRUTH] = "a truth",
	    [TC_T_SHARE] = "a share",
	    [TC_T_TEMPERATURE] = "a temperature",
	    [TC_T_WINDOW] = "a window",
	    [TC_T_SYMBOL] = "a word",
	    [TC_T_SYMBOLS] = "a set of words",
	    [TC_T_TEXT] = "a text",
	    [TC_T_BLEND] = "a composition"};
	if (type == TC_T_SUBJECT)
		return tc_subject_name(subject);
	if (type != TC_T_NUMBER)
		return names[type];
	tc_buffer name;
	tc_buffer_start(&name, tc_arena_allocator(scratch));
	tc_dim_name(dim, &name);
	const char *kept = name.failed ? NULL : tc_arena_text(scratch, name.at, name.length);
	tc_buffer_free(&name);
	return kept ? kept : "a number";
}

const char *tc_ast_type_name(tc_compiler *c, uint32_t node)
{
	const tc_ast *n = &c->nodes[node];
	if (n->flags & TC_AST_BARE)
		return "a bare number";
	return tc_type_name(c->scratch, (tc_type)n->type, n->dim, (tc_subject)n->subject);
}

/* --- words of a vocabulary ----------------------------------------------------------------------------------------- */

uint32_t tc_word_of(const tc_library *library, const char *vocabulary, tc_text word)
{
	if (strcmp(vocabulary, "defect") == 0)
		return tc_library_defect_find(library, word);
	const tc_word_list *list = tc_library_words(library, tc_text_of(vocabulary));
	return list ? tc_word_find(list, word) : TC_NONE;
}

void tc_words_each(
    const tc_library *library, const char *vocabulary, void (*each)(void *user, tc_text word), void *user)
{
	const bool defects = strcmp(vocabulary, "defect") == 0;
	const tc_word_list *list = defects ? NULL : tc_library_words(library, tc_text_of(vocabulary));
	const uint32_t count = defects ? tc_library_defects(library) : list ? list->count : 0;
	for (uint32_t i = 0; i < count; i++)
		each(user, tc_text_of(defects ? tc_library_defect(library, i, NULL) : list->words[i]));
}

/* --- building ------------------------------------------------------------------------------------------------------- */

static bool push_name(tc_compiler *c, tc_scope_name name)
{
	if (c->scope_count == TC_SCOPE_MAX)
		return false;
	c->scope[c->scope_count++] = name;
	return true;
}

/* The names that the question gives, and those that `when` bound. */
static void fill_scope(tc_compiler *c, const tc_request *request)
{
	static const struct {
		const char *name;
		uint8_t subject;
	} names[TC_SLOT_COUNT] = {
	    [TC_SLOT_RECIPE] = {"recipe", TC_S_RECIPE},
	    [TC_SLOT_SHOP] = {"shop", TC_S_SHOP},
	    [TC_SLOT_PART] = {"part", TC_S_PART},
	    [TC_SLOT_STEP] = {"step", TC_S_STEP},
	    [TC_SLOT_COAT] = {"coat", TC_S_LAYER},
	    [TC_SLOT_UNDER] = {"under", TC_S_EXPOSED},
	    [TC_SLOT_LIQUID] = {"liquid", TC_S_LIQUID},
	    [TC_SLOT_NEW] = {"new", TC_S_PRODUCT},
	};
	const uint32_t slots = tc_ask_slots(request->ask) | (request->with_new ? 1u << TC_SLOT_NEW : 0);
	for (uint8_t i = 0; i < TC_SLOT_COUNT; i++)
		if (slots & 1u << i)
			push_name(c,
			    (tc_scope_name){.name = tc_text_of(names[i].name), .slot = i, .subject = names[i].subject});
	c->base_count = c->scope_floor = c->scope_count;
	c->slots = slots;
	c->next_slot = TC_SLOT_COUNT;
	for (uint32_t i = 0; i < request->names_count; i++) {
		push_name(c, request->names[i]);
		if (request->names[i].slot >= c->next_slot)
			c->next_slot = (uint8_t)(request->names[i].slot + 1);
	}
}

void tc_compiler_reset(tc_compiler *c, const tc_request *request)
{
	c->nodes = NULL;
	c->ids = NULL;
	c->opened = NULL;
	c->count = c->room = c->ids_count = c->ids_room = c->opened_count = c->opened_room = 0;
	c->scope_count = c->depth = c->fold_depth = c->visible_count = 0;
	c->broken = false;
	c->silent = 0;
	c->unsaid = NULL;
	c->ask = request->ask;
	fill_scope(c, request);
}

/* The whole expression is what was wanted. */
static void check_wanted(tc_compiler *c, uint32_t root, const tc_request *request)
{
	const tc_ast *n = &c->nodes[root];
	const bool fits = request->want == TC_T_BAD
	                      ? n->type != TC_T_BLEND
	                      : n->type == request->want && (request->want != TC_T_NUMBER || !request->dim ||
	                                                        tc_dim_same(n->dim, *request->dim));
	if (n->type == TC_T_BAD || fits)
		return;
	const char *const wanted =
	    request->want == TC_T_BAD ? "something that can be printed"
	    : request->want == TC_T_TRUTH
	        ? "a test"
	        : tc_type_name(c->scratch, request->want, request->dim ? *request->dim : TC_DIM_NONE, TC_S_ASK);
	tc_wrong(c, request->want == TC_T_NUMBER && n->type == TC_T_NUMBER ? "dimensions" : "type", n->passage, n->from,
	    "`%s` is %s; %s wants %s", tc_ast_text(c, root), tc_ast_type_name(c, root), request->what, wanted);
}

const tc_expr *tc_expr_build(tc_compiler *c, const tc_passage *passage, const tc_request *request, tc_text *rest)
{
	tc_compiler_reset(c, request);
	const uint32_t opened = tc_open_passage(c, passage, NULL, 0, 0);
	if (opened == TC_NONE)
		return NULL;
	const uint32_t root = tc_parse(c, opened, request->may_end_with_as, rest);
	if (root == TC_NONE)
		return NULL;
	tc_check(c, root, true);
	check_wanted(c, root, request);
	if (!c->broken && !tc_arena_failed(c->scratch))
		tc_guard_check(c, root);
	return c->broken || tc_arena_failed(c->scratch) ? NULL : tc_compile(c, root);
}

const tc_expr *tc_expr_compile(const tc_rulebook *rulebook, tc_arena *arena, tc_ask ask, tc_text text, tc_diags *diags)
{
	tc_arena *scratch = tc_arena_new(tc_arena_allocator(arena), 0);
	if (!scratch)
		return NULL;
	tc_compiler c;
	tc_compiler_start(&c, rulebook->library, &rulebook->lets, arena, scratch, diags);
	const tc_passage passage = {.text = text, .file = "expression"};
	const tc_expr *expr = tc_expr_build(&c, &passage, &(tc_request){.ask = ask, .what = "the expression"}, NULL);
	tc_arena_free(scratch);
	return tc_arena_failed(arena) ? NULL : expr;
}
