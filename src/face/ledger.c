/* Known findings. */
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/map.h"
#include "face/complain.h"
#include "face/ledger.h"
#include "report/fingerprint.h"

#define VERSION 1u
#define LINE_MAX_BYTES 16384u

typedef struct entry {
	uint64_t high, low; /* of the fingerprint */
	uint32_t file, line;
	uint8_t weight;
	bool met;
} entry;

typedef struct known_file {
	const char *key;
	bool read;
} known_file;

struct tc_ledger {
	const char *path;
	char *folder; /* real path */
	bool writes;
	tc_arena *arena; /* the files' keys */
	tc_map by_key;
	known_file *file;
	uint32_t files, files_room;
	entry *at; /* sorted by file and fingerprint */
	uint32_t count, room;
};

/* --- keys -------------------------------------------------------------------------------------------------------- */

static void add_escaped(tc_buffer *out, const char *text)
{
	for (; *text; text++) {
		const unsigned char c = (unsigned char)*text;
		if (c <= ' ' || c == '%' || c == 0x7f)
			tc_buffer_print(out, "%%%02X", c);
		else
			tc_buffer_char(out, *text);
	}
}

void tc_ledger_key(const tc_ledger *ledger, const char *real, tc_buffer *key)
{
	const char *folder = ledger->folder;
	size_t common = 0;
	for (size_t i = 0; folder[i] && folder[i] == real[i]; i++)
		if (folder[i] == '/')
			common = i + 1;
	const size_t length = strlen(folder);
	if (length > 1 && strncmp(folder, real, length) == 0 && real[length] == '/')
		common = length + 1;
	for (size_t i = common; i < length; i++) /* a folder of the ledger's own that is left behind */
		if (i == common || folder[i - 1] == '/')
			tc_buffer_puts(key, "../");
	add_escaped(key, real + common);
}

/* --- reading ----------------------------------------------------------------------------------------------------- */

static bool refuse(const tc_ledger *ledger, uint32_t line, const char *why)
{
	tc_complain("%s:%u: %s", ledger->path, (unsigned)line, why);
	return false;
}

static bool read_hex(tc_text text, uint64_t *high, uint64_t *low)
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
	ledger->file[ledger->files] = (known_file){.key = copy};
	return ledger->files++;
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

static bool add_entry(tc_ledger *ledger, const entry *new)
{
	if (ledger->count == ledger->room) {
		const uint32_t room = ledger->room ? ledger->room * 2 : 256;
		entry *more = realloc(ledger->at, room * sizeof *more);
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
	entry new = {.line = line};
	const tc_text hex = next_word(&text), weight = next_word(&text), rule = next_word(&text),
	              file = next_word(&text);
	if (!read_hex(hex, &new.high, &new.low) || !read_weight(weight, &new.weight) || !rule.length || !file.length ||
	    next_word(&text).length)
		return refuse(ledger, line,
		    "this is no entry: a fingerprint of 32 digits, note, warning or error, a rule, a file");
	new.file = number_file(ledger, file);
	if (new.file != TC_NONE && add_entry(ledger, &new))
		return true;
	tc_complain_memory();
	return false;
}

static bool read_head(tc_ledger *ledger, tc_text text)
{
	char head[64];
	snprintf(head, sizeof head, "tiecoat-ledger %u %u", VERSION, TC_FINGERPRINT_VERSION);
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

static int by_file(const void *a, const void *b)
{
	const entry *x = a, *y = b;
	if (x->file != y->file)
		return x->file < y->file ? -1 : 1;
	if (x->high != y->high)
		return x->high < y->high ? -1 : 1;
	if (x->low != y->low)
		return x->low < y->low ? -1 : 1;
	return x->line < y->line ? -1 : x->line > y->line;
}

static bool read_all(tc_ledger *ledger)
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
		qsort(ledger->at, ledger->count, sizeof *ledger->at, by_file);
	return good;
}

static char *folder_of(const char *path)
{
	char parent[PATH_MAX];
	const char *slash = strrchr(path, '/');
	const size_t length = slash ? (size_t)(slash - path) + 1 : 0;
	if (length >= sizeof parent) {
		errno = ENAMETOOLONG;
		return NULL;
	}
	memcpy(parent, path, length);
	parent[length] = '\0';
	return realpath(length ? parent : ".", NULL);
}

tc_ledger *tc_ledger_open(const char *path, bool write)
{
	tc_ledger *ledger = calloc(1, sizeof *ledger);
	if (!ledger) {
		tc_complain_memory();
		return NULL;
	}
	ledger->path = path;
	ledger->writes = write;
	ledger->arena = tc_arena_new(NULL, 0);
	ledger->folder = folder_of(path);
	bool good = ledger->arena && ledger->folder;
	if (!ledger->arena)
		tc_complain_memory();
	else if (!ledger->folder)
		tc_complain("cannot %s %s: %s", write ? "write" : "read", path, strerror(errno));
	good = good && (write || read_all(ledger));
	if (good)
		return ledger;
	tc_ledger_free(ledger);
	return NULL;
}

void tc_ledger_free(tc_ledger *ledger)
{
	if (!ledger)
		return;
	tc_arena_free(ledger->arena);
	free(ledger->folder);
	free(ledger->at);
	free(ledger);
}

bool tc_ledger_writes(const tc_ledger *ledger)
{
	return ledger && ledger->writes;
}

void tc_ledger_head(tc_buffer *out)
{
	tc_buffer_print(out,
	    "tiecoat-ledger %u %u\n# Known findings, left out of `tiecoat check --ledger`: fingerprint, weight, rule, "
	    "file.\n",
	    VERSION, TC_FINGERPRINT_VERSION);
}

/* --- sifting ----------------------------------------------------------------------------------------------------- */

/* The first entry of that file and fingerprint; TC_NONE. */
static uint32_t find(const tc_ledger *ledger, uint32_t file, const char *hex)
{
	entry wanted = {.file = file};
	if (file == TC_MAP_NONE || !read_hex(tc_text_of(hex), &wanted.high, &wanted.low))
		return TC_NONE;
	uint32_t from = 0, to = ledger->count;
	while (from < to) {
		const uint32_t middle = from + (to - from) / 2;
		if (by_file(&ledger->at[middle], &wanted) < 0)
			from = middle + 1;
		else
			to = middle;
	}
	if (from < ledger->count && ledger->at[from].file == file && ledger->at[from].high == wanted.high &&
	    ledger->at[from].low == wanted.low)
		return from;
	return TC_NONE;
}

typedef struct sifting {
	const tc_ledger *ledger;
	const char *key;
	uint32_t file;
	tc_buffer *met, *lines;
} sifting;

static bool is_known(sifting *s, const char *hex, tc_verdict weight, const char *rule)
{
	if (s->ledger->writes) {
		tc_buffer_print(s->lines, "%s %s %s %s\n", hex, tc_verdict_name(weight), rule, s->key);
		return true;
	}
	const uint32_t found = find(s->ledger, s->file, hex);
	if (found == TC_NONE)
		return false;
	tc_buffer_add(s->met, (tc_text){(const char *)&found, sizeof found});
	return s->ledger->at[found].weight >= weight;
}

/* A finding that is left out is counted as known, and no longer as what it is. */
static void count_known(tc_summary *summary, tc_verdict verdict)
{
	switch (verdict) {
	case TC_V_NOTE:
		summary->notes--;
		break;
	case TC_V_WARNING:
		summary->warnings--;
		break;
	case TC_V_ERROR:
		summary->errors--;
		break;
	case TC_V_UNDECIDED:
		summary->undecided--;
		break;
	}
	summary->known++;
}

static bool sift_findings(sifting *s, tc_arena *arena, const tc_judgement *judgement, tc_judgement *made)
{
	tc_finding *left = TC_ARRAY(arena, judgement->findings, tc_finding);
	if (!left)
		return false;
	made->finding = left;
	made->findings = 0;
	for (uint32_t i = 0; i < judgement->findings; i++) {
		const tc_finding *finding = &judgement->finding[i];
		char hex[TC_FINGERPRINT_SIZE];
		if (!finding->accept) {
			tc_fingerprint(judgement, finding, hex);
			if (is_known(s, hex, finding->weight, finding->rule->id)) {
				count_known(&made->summary, finding->verdict);
				continue;
			}
		}
		left[made->findings++] = *finding;
	}
	return true;
}

static bool sift_unused(sifting *s, tc_arena *arena, const tc_judgement *judgement, tc_judgement *made)
{
	const tc_accept **left = TC_ARRAY(arena, judgement->unused, const tc_accept *);
	if (!left)
		return false;
	made->unused_accept = left;
	made->unused = 0;
	for (uint32_t i = 0; i < judgement->unused; i++) {
		char hex[TC_FINGERPRINT_SIZE];
		tc_fingerprint_unused(judgement, judgement->unused_accept[i], hex);
		if (is_known(s, hex, TC_V_WARNING, "unused-acceptance"))
			count_known(&made->summary, TC_V_WARNING);
		else
			left[made->unused++] = judgement->unused_accept[i];
	}
	return true;
}

const tc_judgement *tc_ledger_sift(const tc_ledger *ledger, tc_arena *arena, const char *key,
    const tc_judgement *judgement, tc_buffer *met, tc_buffer *lines)
{
	sifting s = {.ledger = ledger, .key = key, .met = met, .lines = lines};
	s.file = tc_map_find(&ledger->by_key, tc_text_of(key));
	tc_judgement *made = TC_NEW(arena, tc_judgement);
	if (!made)
		return NULL;
	*made = *judgement;
	if (!sift_findings(&s, arena, judgement, made) || !sift_unused(&s, arena, judgement, made))
		return NULL;
	return met->failed || lines->failed ? NULL : made;
}

/* --- what is gone ------------------------------------------------------------------------------------------------ */

void tc_ledger_met(tc_ledger *ledger, const char *key, const tc_buffer *met)
{
	const uint32_t file = tc_map_find(&ledger->by_key, tc_text_of(key));
	if (file != TC_MAP_NONE)
		ledger->file[file].read = true;
	for (size_t i = 0; i + sizeof(uint32_t) <= met->length; i += sizeof(uint32_t)) {
		uint32_t number;
		memcpy(&number, met->at + i, sizeof number);
		ledger->at[number].met = true;
	}
}

static void add_plain(tc_buffer *out, const char *escaped)
{
	unsigned byte;
	for (const char *c = escaped; *c; c++)
		if (*c == '%' && sscanf(c + 1, "%2X", &byte) == 1 && c[1] && c[2]) {
			tc_buffer_char(out, (char)byte);
			c += 2;
		} else {
			tc_buffer_char(out, *c);
		}
}

/* Is the file of these entries gone from the disk? */
static bool is_gone(const tc_ledger *ledger, const char *key)
{
	tc_buffer path;
	tc_buffer_start(&path, NULL);
	tc_buffer_print(&path, "%s/", ledger->folder);
	add_plain(&path, key);
	const bool gone = !path.failed && access(path.at, F_OK) != 0 && errno == ENOENT;
	tc_buffer_free(&path);
	return gone;
}

void tc_ledger_tell_gone(const tc_ledger *ledger, tc_diags *diags)
{
	uint32_t last = TC_NONE;
	bool gone = false;
	for (uint32_t i = 0; i < ledger->count; i++) {
		const entry *e = &ledger->at[i];
		const known_file *file = &ledger->file[e->file];
		if (e->file != last)
			gone = !file->read && is_gone(ledger, file->key);
		last = e->file;
		if (e->met || (!file->read && !gone))
			continue;
		tc_diag_add(diags, TC_NOTE, "ledger", (tc_place){.file = ledger->path, .line = e->line, .column = 1},
		    gone ? "the file of this finding is gone: %s; take the line out"
		         : "this finding of %s no longer occurs; take the line out",
		    file->key);
	}
}
