/* Known findings. */
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "face/complain.h"
#include "face/ledger_private.h"
#include "report/fingerprint.h"

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

/* --- life -------------------------------------------------------------------------------------------------------- */

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
	good = good && (write || tc_ledger_read(ledger));
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
	    TC_LEDGER_VERSION, TC_FINGERPRINT_VERSION);
}

/* --- sifting ----------------------------------------------------------------------------------------------------- */

bool tc_ledger_same(const tc_entry_known *a, const tc_entry_known *b)
{
	return a->file == b->file && a->high == b->high && a->low == b->low;
}

/* The first entry of that file and fingerprint; TC_NONE. */
static uint32_t find(const tc_ledger *ledger, uint32_t file, const char *hex)
{
	tc_entry_known wanted = {.file = file};
	if (file == TC_MAP_NONE || !tc_ledger_hex(tc_text_of(hex), &wanted.high, &wanted.low))
		return TC_NONE;
	uint32_t from = 0, to = ledger->count;
	while (from < to) {
		const uint32_t middle = from + (to - from) / 2;
		if (tc_ledger_order(&ledger->at[middle], &wanted) < 0)
			from = middle + 1;
		else
			to = middle;
	}
	return from < ledger->count && tc_ledger_same(&ledger->at[from], &wanted) ? from : TC_NONE;
}

typedef struct sifting {
	const tc_ledger *ledger;
	const char *key;
	uint32_t file;
	tc_buffer *met, *lines;
} sifting;

/* What the ledger says of a finding; that it was met is noted. */
static tc_past past_of(sifting *s, const char *hex, tc_verdict weight, const char *rule, bool accepted)
{
	const tc_ledger *ledger = s->ledger;
	tc_past past = {TC_SINCE_NEW, ledger->writes && !accepted, 0};
	if (past.known)
		tc_buffer_print(s->lines, "%s %s %s %s\n", hex, tc_verdict_name(weight), rule, s->key);
	const uint32_t found = ledger->writes ? TC_NONE : find(ledger, s->file, hex);
	if (found == TC_NONE)
		return past;
	const uint32_t note = found | (accepted ? TC_LEDGER_ACCEPTED : 0);
	tc_buffer_add(s->met, (tc_text){(const char *)&note, sizeof note});
	past = (tc_past){TC_SINCE_MORE, false, ledger->at[found].line};
	for (uint32_t i = found; i < ledger->count && tc_ledger_same(&ledger->at[i], &ledger->at[found]); i++)
		if (ledger->at[i].weight >= weight)
			past = (tc_past){TC_SINCE_SAME, !accepted, ledger->at[i].line};
	return past;
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

static bool sift_findings(sifting *s, tc_arena *arena, tc_compared *compared, tc_judgement *made)
{
	const tc_judgement *judgement = compared->whole;
	tc_finding *left = TC_ARRAY(arena, judgement->findings, tc_finding);
	tc_past *past = TC_ARRAY(arena, judgement->findings, tc_past);
	if (!left || !past)
		return false;
	made->finding = left;
	made->findings = 0;
	compared->finding = past;
	for (uint32_t i = 0; i < judgement->findings; i++) {
		const tc_finding *finding = &judgement->finding[i];
		char hex[TC_FINGERPRINT_SIZE];
		tc_fingerprint(judgement, finding, hex);
		past[i] = past_of(s, hex, finding->weight, finding->rule->id, finding->accept != NULL);
		if (past[i].known)
			count_known(&made->summary, finding->verdict);
		else
			left[made->findings++] = *finding;
	}
	return true;
}

static bool sift_unused(sifting *s, tc_arena *arena, tc_compared *compared, tc_judgement *made)
{
	const tc_judgement *judgement = compared->whole;
	const tc_accept **left = TC_ARRAY(arena, judgement->unused, const tc_accept *);
	tc_past *past = TC_ARRAY(arena, judgement->unused, tc_past);
	if (!left || !past)
		return false;
	made->unused_accept = left;
	made->unused = 0;
	compared->unused = past;
	for (uint32_t i = 0; i < judgement->unused; i++) {
		char hex[TC_FINGERPRINT_SIZE];
		tc_fingerprint_unused(judgement, judgement->unused_accept[i], hex);
		past[i] = past_of(s, hex, TC_V_WARNING, TC_RULE_UNUSED, false);
		if (past[i].known)
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
	tc_compared *compared = TC_NEW(arena, tc_compared);
	if (!made || !compared)
		return NULL;
	*made = *judgement;
	made->compared = compared;
	*compared = (tc_compared){.whole = judgement, .ledger = ledger->path, .written = ledger->writes};
	if (!sift_findings(&s, arena, compared, made) || !sift_unused(&s, arena, compared, made))
		return NULL;
	return met->failed || lines->failed ? NULL : made;
}
