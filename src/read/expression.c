/* What YAML may have done to an expression before anybody here saw it. */
#include <string.h>

#include "read/private.h"

/* Parentheses and brackets opened and not closed, those in '…' not counted; negative if one closes that was not
 * opened. */
static int open_brackets(tc_text text)
{
	int open = 0;
	bool quoted = false;
	for (size_t i = 0; i < text.length && open >= 0; i++) {
		const char c = text.at[i];
		if (c == '\'')
			quoted = !quoted;
		else if (!quoted)
			open += (c == '(' || c == '[') - (c == ')' || c == ']');
	}
	return open;
}

static bool in_word(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

/* Does the text end where something must follow? */
static bool is_incomplete(tc_text text)
{
	static const char *const words[] = {
	    "and", "or", "not", "is", "one", "of", "between", "in", "to", "matches", "has", "known", "as"};
	if (text.length == 0 || open_brackets(text) > 0 || strchr("+-*/<>=!(,[.", text.at[text.length - 1]))
		return true;
	size_t start = text.length;
	while (start && in_word(text.at[start - 1]))
		start--;
	if (start && text.at[start - 1] == '.')
		return false; /* after a point any word is a field */
	const tc_text last = {text.at + start, text.length - start};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (tc_text_is(last, words[i]))
			return true;
	return false;
}

static bool check_properties(const tc_source *source, const tc_node *scalar, tc_diags *diags)
{
	bool tagged;
	tc_node_behind_properties(tc_source_text(source), scalar->offset, &tagged);
	if (!tagged && !scalar->anchored)
		return true;
	tc_diag_add(diags, TC_ERROR, "property-of-expression", tc_node_place(source, scalar),
	    "YAML takes off what begins with `%s` in front of an expression; take it out, or turn the expression round",
	    tagged ? "!" : "&");
	return false;
}

static bool check_cut(const tc_source *source, const tc_node *scalar, bool sibling_without_value, tc_diags *diags)
{
	if (!scalar->flow || scalar->style != TC_PLAIN)
		return true;
	if (!sibling_without_value && open_brackets(tc_node_text(scalar)) == 0)
		return true;
	tc_diag_add(diags, TC_ERROR, "flow-expression", tc_node_place(source, scalar),
	    "inside { } and [ ] YAML ends a plain text at a comma, so this expression may be cut; quote it, or use "
	    "block style");
	return false;
}

static bool check_backslash(const tc_source *source, const tc_node *scalar, tc_diags *diags)
{
	const tc_text text = tc_source_text(source);
	if (scalar->style != TC_DOUBLE || scalar->end > text.length)
		return true;
	const char *found = memchr(text.at + scalar->offset, '\\', scalar->end - scalar->offset);
	if (!found)
		return true;
	tc_diag_add(diags, TC_ERROR, "escape-in-expression", tc_source_place(source, (size_t)(found - text.at)),
	    "in double quotes YAML changes what follows a backslash; use single quotes, or a block under `|`");
	return false;
}

/* A comment behind a plain expression, on the line where it ends. */
static bool check_comment(const tc_source *source, const tc_node *scalar, tc_diags *diags)
{
	const tc_text text = tc_source_text(source);
	if (scalar->style != TC_PLAIN)
		return true;
	size_t i = scalar->end;
	while (i < text.length && (text.at[i] == ' ' || text.at[i] == '\t'))
		i++;
	if (i == scalar->end || i >= text.length || text.at[i] != '#')
		return true;
	const bool cut = is_incomplete(tc_node_text(scalar));
	tc_diag_add(diags, cut ? TC_ERROR : TC_WARNING, "comment-in-expression", tc_source_place(source, i),
	    cut ? "for YAML ` #` begins a comment, which leaves this expression incomplete; quote it, or write it "
	          "under `|`"
	        : "for YAML ` #` begins a comment; if it belongs to the expression, quote that; else put it on its own "
	          "line");
	return !cut;
}

bool tc_yaml_expression_check(
    const tc_source *source, const tc_node *scalar, bool sibling_without_value, tc_diags *diags)
{
	if (scalar->kind != TC_SCALAR)
		return true;
	bool good = check_properties(source, scalar, diags);
	good &= check_cut(source, scalar, sibling_without_value, diags);
	good &= check_backslash(source, scalar, diags);
	good &= check_comment(source, scalar, diags);
	return good;
}
