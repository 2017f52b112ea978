/* The places of steps in the text of a recipe. */
#include <string.h>

#include "report/fix_text.h"

size_t tc_fix_line_start(tc_text text, size_t at)
{
	while (at > 0 && text.at[at - 1] != '\n')
		at--;
	return at;
}

size_t tc_fix_line_after(tc_text text, size_t at, bool *open)
{
	const char *end = at < text.length ? memchr(text.at + at, '\n', text.length - at) : NULL;
	*open = !end;
	return end ? (size_t)(end - text.at) + 1 : text.length;
}

const char *tc_fix_line_end(tc_text text)
{
	const char *end = text.length ? memchr(text.at, '\n', text.length) : NULL;
	return end && end > text.at && end[-1] == '\r' ? "\r\n" : "\n";
}

/* --- steps ------------------------------------------------------------------------------------------------------- */

/* Is the node written at its place in the list? An alias stands for something before it. */
static bool stands(const tc_node *list, uint32_t index)
{
	const tc_node *node = list->items[index];
	size_t least = list->offset;
	for (uint32_t i = 0; i < index; i++)
		if (list->items[i]->end > least)
			least = list->items[i]->end;
	return node->offset >= least && node->end > node->offset;
}

/* The line of a block item: blanks, a dash, blanks, the step. */
static bool measure_block(tc_text text, tc_fix_step *step)
{
	const size_t at = step->node->offset;
	step->start = tc_fix_line_start(text, at);
	size_t i = step->start;
	while (i < at && text.at[i] == ' ')
		i++;
	step->dash = i - step->start;
	if (i >= at || text.at[i++] != '-')
		return false;
	while (i < at && text.at[i] == ' ')
		i++;
	if (i != at)
		return false;
	const size_t end = step->node->end;
	step->open = false;
	step->end = text.at[end - 1] == '\n' ? end : tc_fix_line_after(text, end, &step->open);
	return true;
}

bool tc_fix_step_at(const tc_recipe *recipe, uint32_t index, tc_fix_step *step)
{
	const tc_node *list = tc_map_get(recipe->root, "stack", NULL);
	if (!list || list->kind != TC_LIST || index >= list->count || !stands(list, index))
		return false;
	*step = (tc_fix_step){.node = list->items[index], .flow = list->flow};
	if (!list->flow)
		return measure_block(tc_source_text(recipe->source), step);
	step->start = step->node->offset;
	step->end = step->node->end;
	return true;
}

bool tc_fix_value_stands(const tc_node *map, const tc_node *key, const tc_node *value)
{
	return value->offset > key->offset && value->offset >= key->end && value->end > value->offset &&
	       value->end <= map->end;
}

/* --- YAML in a line ---------------------------------------------------------------------------------------------- */

static bool plain(const char *text)
{
	static const char *const words[] = {
	    "yes", "no", "true", "false", "on", "off", "y", "n", "null", "Yes", "No", "True", "False", "On", "Off"};
	const size_t length = strlen(text);
	bool letter = false;
	for (size_t i = 0; i < length; i++) {
		const char c = text[i];
		const bool is_letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (unsigned char)c >= 0x80;
		if (!is_letter && !(i > 0 && i + 1 < length && c == ' ') && !(i > 0 && strchr("0123456789_-/.", c)))
			return false;
		letter = letter || is_letter;
	}
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (strcmp(text, words[i]) == 0)
			return false;
	return letter;
}

void tc_fix_put_scalar(const char *text, tc_buffer *out)
{
	if (plain(text)) {
		tc_buffer_puts(out, text);
		return;
	}
	tc_buffer_char(out, '"');
	for (const char *c = text; *c; c++) {
		if (*c == '"' || *c == '\\')
			tc_buffer_char(out, '\\');
		if (*c == '\n')
			tc_buffer_puts(out, "\\n");
		else if (*c == '\t')
			tc_buffer_puts(out, "\\t");
		else
			tc_buffer_char(out, *c);
	}
	tc_buffer_char(out, '"');
}

/* Bytes up to the comma that ends the pair, or to the end of the text. */
static size_t pair_length(const char *yaml)
{
	unsigned depth = 0;
	char quote = 0;
	size_t i = 0;
	for (; yaml[i]; i++) {
		const char c = yaml[i];
		if (quote)
			quote = c == quote ? 0 : quote;
		else if (c == '"')
			quote = c;
		else if (c == '{' || c == '[')
			depth++;
		else if ((c == '}' || c == ']') && depth > 0)
			depth--;
		else if (c == ',' && depth == 0)
			break;
	}
	return i;
}

bool tc_fix_pair_next(const char **yaml, tc_fix_pair *pair)
{
	const size_t length = pair_length(*yaml);
	const char *colon = length ? memchr(*yaml, ':', length) : NULL;
	if (!colon || colon[1] != ' ')
		return false;
	pair->key = tc_text_trim((tc_text){*yaml, (size_t)(colon - *yaml)});
	pair->value = tc_text_trim((tc_text){colon + 1, length - (size_t)(colon + 1 - *yaml)});
	*yaml += length + ((*yaml)[length] == ',');
	return pair->key.length > 0 && pair->value.length > 0;
}
