/* Patterns of `known_as`: which may stand among the others.
 *
 * All patterns of a library are one alternation in which every branch must be tried on its own account (finder.c). What
 * reaches beyond its branch, or costs without bound, is refused: back references, recursion, callouts, verbs. */
#include <string.h>

#include "library/pattern.h"
#include "library/private.h"

/* --- memory ----------------------------------------------------------------------------------------------------- */

static void *get(size_t size, void *user)
{
	const tc_allocator *from = user;
	return from->get(from->user, NULL, size);
}

static void give(void *old, void *user)
{
	const tc_allocator *from = user;
	if (old)
		from->get(from->user, old, 0);
}

pcre2_general_context *tc_known_as_memory(const tc_allocator *from)
{
	union {
		const tc_allocator *from;
		void *user;
	} plain = {.from = from}; /* PCRE2 hands it back unchanged */
	return pcre2_general_context_create(get, give, plain.user);
}

/* --- what may not stand in one ---------------------------------------------------------------------------------- */

/* One past a class such as [a-z] or []\]] that begins at `at`. */
static size_t behind_class(tc_text p, size_t at)
{
	size_t i = at + 1;
	if (i < p.length && p.at[i] == '^')
		i++;
	if (i < p.length && p.at[i] == ']')
		i++;
	while (i < p.length && p.at[i] != ']') {
		if (p.at[i] == '\\')
			i++;
		else if (p.at[i] == '[' && i + 1 < p.length && p.at[i + 1] == ':') {
			const char *end = memmem(p.at + i, p.length - i, ":]", 2);
			i = end ? (size_t)(end - p.at) + 1 : i;
		}
		i++;
	}
	return i + 1;
}

/* What is wrong with a parenthesis at the start of the text, or NULL. */
static const char *group_fault(tc_text p)
{
	if (tc_text_starts(p, "(*"))
		return "verbs such as `(*…)` are not allowed in a pattern";
	if (tc_text_starts(p, "(?C"))
		return "callouts are not allowed in a pattern";
	if (!tc_text_starts(p, "(?") || p.length < 4)
		return NULL;
	const char c = p.at[2], d = p.at[3];
	if (c == '(')
		return "conditions are not allowed in a pattern";
	if (c == 'P' && d == '=')
		return "back references are not allowed in a pattern";
	const bool digit = (c >= '0' && c <= '9') || ((c == '+' || c == '-') && d >= '0' && d <= '9');
	if (c == 'R' || c == '&' || digit || (c == 'P' && d == '>'))
		return "recursion is not allowed in a pattern";
	return NULL;
}

/* What is wrong with a backslash at the start of the text, or NULL. */
static const char *escape_fault(tc_text p)
{
	const char c = p.length > 1 ? p.at[1] : 0, d = p.length > 2 ? p.at[2] : 0;
	if (c == 'Q')
		return "`\\Q` is not allowed in a pattern; write `\\` before each sign";
	if (c == 'g' && (d == '<' || d == '\''))
		return "recursion is not allowed in a pattern";
	if (c == 'g' || c == 'k' || (c >= '1' && c <= '9'))
		return "back references are not allowed in a pattern";
	return NULL;
}

/* The first thing that may not stand in a pattern, and where; NULL if there is none. */
static const char *find_fault(tc_text p, size_t *at)
{
	size_t i = 0;
	while (i < p.length) {
		const tc_text rest = {p.at + i, p.length - i};
		const char *fault = NULL;
		*at = i;
		if (p.at[i] == '\\') {
			fault = escape_fault(rest);
			i += 2;
		} else if (p.at[i] == '[') {
			i = behind_class(p, i);
		} else {
			fault = p.at[i] == '(' ? group_fault(rest) : NULL;
			i++;
		}
		if (fault)
			return fault;
	}
	return NULL;
}

/* --- compiling -------------------------------------------------------------------------------------------------- */

void tc_known_as_branch(tc_buffer *out, const char *pattern, uint32_t number)
{
	tc_buffer_print(out, "(?>(?:%s)\\z)(?C'%u')", pattern, (unsigned)number);
}

/* PCRE2's code for a pattern that compiles: 0. *at: where it does not. */
static int compile(pcre2_compile_context *context, tc_text pattern, size_t *at)
{
	int code = 0;
	PCRE2_SIZE offset = 0;
	pcre2_code *compiled =
	    pcre2_compile((PCRE2_SPTR)pattern.at, pattern.length, TC_KNOWN_AS_OPTIONS, &code, &offset, context);
	if (compiled)
		code = 0;
	pcre2_code_free(compiled);
	*at = offset;
	return code;
}

static void say_no_pattern(const tc_reader *reader, const tc_node *node, int code, size_t at)
{
	char message[160] = "";
	if (code == PCRE2_ERROR_HEAP_FAILED) {
		tc_lib_no_memory(reader->arena);
		return;
	}
	if (at >= node->count) /* something is missing: show the last sign */
		for (at = node->count - 1; at > 0 && ((unsigned char)node->text[at] & 0xC0) == 0x80; at--)
			;
	pcre2_get_error_message(code, (PCRE2_UCHAR *)message, sizeof message);
	tc_diag_add(reader->diags, TC_ERROR, "pattern", tc_node_text_place(reader->source, node, at),
	    "the pattern does not compile: %s", message);
}

/* Compiles it alone, for the place of an error, and as the branch that it will be. */
static bool compiles(const tc_reader *reader, const tc_node *node, pcre2_compile_context *context)
{
	size_t at;
	int code = compile(context, tc_node_text(node), &at);
	if (code == 0) {
		tc_buffer branch;
		tc_buffer_start(&branch, tc_arena_allocator(reader->arena));
		tc_known_as_branch(&branch, node->text, 0);
		code = branch.failed ? PCRE2_ERROR_HEAP_FAILED
		                     : compile(context, (tc_text){branch.at, branch.length}, &at);
		tc_buffer_free(&branch);
		at = 0;
	}
	if (code)
		say_no_pattern(reader, node, code, at);
	return code == 0;
}

bool tc_known_as_check(const tc_reader *reader, const tc_node *node)
{
	size_t at = 0;
	if (node->kind != TC_SCALAR || node->empty) {
		tc_lib_wrong(
		    reader, "wrong-shape", node, "`known_as` is a pattern; this is %s", tc_node_kind_name(node));
		return false;
	}
	if (node->count > TC_PATTERN_MAX) {
		tc_lib_wrong(
		    reader, "bound", node, "the pattern has %u bytes; one has at most %u", node->count, TC_PATTERN_MAX);
		return false;
	}
	const char *fault = find_fault(tc_node_text(node), &at);
	if (fault) {
		tc_diag_add(
		    reader->diags, TC_ERROR, "pattern", tc_node_text_place(reader->source, node, at), "%s", fault);
		return false;
	}
	pcre2_general_context *memory = tc_known_as_memory(tc_arena_allocator(reader->arena));
	pcre2_compile_context *context = memory ? pcre2_compile_context_create(memory) : NULL;
	bool good = false;
	if (context) {
		pcre2_set_parens_nest_limit(context, TC_EXPR_DEPTH_MAX);
		good = compiles(reader, node, context);
	} else {
		tc_lib_no_memory(reader->arena);
	}
	pcre2_compile_context_free(context);
	pcre2_general_context_free(memory);
	return good;
}
