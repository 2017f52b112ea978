/* Reading a ledger. */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "face/complain.h"
#include "face/ledger_private.h"
#include "report/fingerprint.h"

#define LINE_MAX_BYTES 16384u

static bool refuse(const tc_ledger *ledger, uint32_t line, const char *why)
{
	tc_complain("%s:%u: %s", ledger->path, (unsigned)line, why);
	return false;
}

bool tc_ledger_hex(tc_text text, uint64_t *high, uint64_t *low)
{
	uint64_t parts[2] = {0, 0};
	if (text.length != TC_FINGERPRINT_SIZE - 1)
		return false;
	for (size_t i = 0; i < text.length; i++) {
		const char c = text.at[i];
		const int digit = c >= '0' && c <= '9' ? c - '0' : c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1;
		if (digit < 0)
			return false;
		parts[i / 16] = parts[i / 16] << 4 | (unsigned)digit;
	}
	*high = parts[0];
	*low = parts[1];
	return true;
}

static bool read_weight(tc_text text, uint8_t *weight)
{
	static const tc_verdict verdicts[] = {TC_V_NOTE, TC_V_WARNING, TC_V_ERROR};
	for (size_t i = 0; i < sizeof verdicts / sizeof *verdicts; i++)
		if (tc_text_is(text, tc_verdict_name(verdicts[i]))) {
			*weight = (uint8_t)verdicts[i];
			return true;
		}
	return false;
}

/* The number of a file, made where it is new. TC_NONE: out of memory. */
static uint32_t number_file(tc_ledger *ledger, tc_text key)
{
	const uint32_t known = tc_map_find(&ledger->by_key, key);
	if (known != TC_MAP_NONE)
		return known;
	const char *copy = tc_arena_text(ledger->arena, key.at, key.length);
	if (!copy ||
	    !tc_arena_grow(
	        ledger->arena, (void **)&ledger->file, ledger->files, &ledger->files_room, sizeof *ledger->file) ||
	    !tc_map_put(&ledger->by_key, ledger->arena, (tc_text){copy, key.length}, ledger->files, NULL))
		return TC_NONE;
	ledger->file[ledger->files] = (tc_known_file){.key = copy};
	return ledger->files++;
}

/* The same of a rule. */
static uint32_t number_rule(tc_ledger *ledger, tc_text name)
{
	const uint32_t known = tc_map_find(&ledger->by_rule, name);
	if (known != TC_MAP_NONE)
		return known;
	const char *copy = tc_arena_text(ledger->arena, name.at, name.length);
	if (!copy ||
	    !tc_arena_grow(
	        ledger->arena, (void **)&ledger->rule, ledger->rules, &ledger->rules_room, sizeof *ledger->rule) ||
	    !tc_map_put(&ledger->by_rule, ledger->arena, (tc_text){copy, name.length}, ledger->rules, NULL))
		return TC_NONE;
	ledger->rule[ledger->rules] = copy;
	return ledger->rules++;
}

static tc_text next_word(tc_text *rest)
{
	size_t length = 0;
	while (rest->length && *rest->at == ' ')
		*rest = (tc_text){rest->at + 1, rest->length - 1};
	while (length < rest->length && rest->at[length] != ' ')
		length++;
	const tc_text word = {rest->at, length};
	*rest = (tc_text){rest->at + length, rest->length - length};
	return word;
}

static bool add_entry(tc_ledger *ledger, const tc_entry_known *new)
{
	if (ledger->count == ledger->room) {
		const uint32_t room = ledger->room ? ledger->room * 2 : 256;
		tc_entry_known *more = realloc(ledger->at, room * sizeof *more);
		if (!more)
			return false;
		ledger->at = more;
		ledger->room = room;
	}
	ledger->at[ledger->count++] = *new;
	return true;
}

static bool read_entry(tc_ledger *ledger, uint32_t line, tc_text text)
{
	tc_entry_known new = {.line = line};
	const tc_text hex = next_word(&text), weight = next_word(&text), rule = next_word(&text),
	              file = next_word(&text);
	if (!tc_ledger_hex(hex, &new.high, &new.low) || !read_weight(weight, &new.weight) || !rule.length ||
	    !file.length || next_word(&text).length)
		return refuse(ledger, line,
		    "this is no entry: a fingerprint of 32 digits, note, warning or error, a rule, a file");
	new.file = number_file(ledger, file);
	new.rule = number_rule(ledger, rule);
	if (new.file != TC_NONE &&new.rule != TC_NONE && add_entry(ledger, &new))
		return true;
	tc_complain_memory();
	return false;
}

static bool read_head(tc_ledger *ledger, tc_text text)
{
	char head[64];
	snprintf(head, sizeof head, "tiecoat-ledger %u %u", TC_LEDGER_VERSION, TC_FINGERPRINT_VERSION);
	if (tc_text_is(text, head))
		return true;
	if (tc_text_starts(text, "tiecoat-ledger "))
		return refuse(ledger, 1, "a ledger of another version: write it anew with --write-ledger");
	return refuse(ledger, 1, "this is no ledger: its first line would be `tiecoat-ledger 1 1`");
}

static bool read_line(tc_ledger *ledger, uint32_t line, tc_text text)
{
	text = tc_text_trim(text);
	if (line == 1)
		return read_head(ledger, text);
	return text.length == 0 || text.at[0] == '#' || read_entry(ledger, line, text);
}

static bool read_stream(tc_ledger *ledger, FILE *in)
{
	char *text = NULL;
	size_t room = 0;
	uint32_t line = 0;
	bool good = true;
	for (ssize_t length; good && (length = getline(&text, &room, in)) >= 0;) {
		line++;
		good = (size_t)length <= LINE_MAX_BYTES ? read_line(ledger, line, (tc_text){text, (size_t)length})
		                                        : refuse(ledger, line, "a line as long as no ledger has");
	}
	free(text);
	if (good && ferror(in)) {
		tc_complain("cannot read %s: %s", ledger->path, strerror(errno));
		good = false;
	}
	return good && (line > 0 || read_head(ledger, TC_TEXT("")));
}

int tc_ledger_order(const void *a, const void *b)
{
	const tc_entry_known *x = a, *y = b;
	if (x->file != y->file)
		return x->file < y->file ? -1 : 1;
	if (x->high != y->high)
		return x->high < y->high ? -1 : 1;
	if (x->low != y->low)
		return x->low < y->low ? -1 : 1;
	return x->line < y->line ? -1 : x->line > y->line;
}

bool tc_ledger_read(tc_ledger *ledger)
{
	FILE *in = fopen(ledger->path, "re");
	if (!in) {
		tc_complain("cannot read %s: %s%s", ledger->path, strerror(errno),
		    errno == ENOENT ? "; --write-ledger makes it" : "");
		return false;
	}
	const bool good = read_stream(ledger, in);
	fclose(in);
	if (good && ledger->count)
		qsort(ledger->at, ledger->count, sizeof *ledger->at, tc_ledger_order);
	return good;
}
