/* What is wanted only at the end of a document: lists that grow with the collection, and are kept outside of memory if they
 * may. */
#include <string.h>

#include "report/private.h"

#define IN_MEMORY ((size_t)64 << 10) /* bytes of a list before the store is asked */
#define AT_ONCE ((size_t)64 << 10)   /* bytes that are written before the document may be taken */

void tc_report_store(tc_report *report, const tc_store *store)
{
	report->store = *store;
}

static tc_buffer *list_of(const tc_report *report, tc_later list)
{
	tc_piece *sum = report->sum;
	return list == TC_LATER_UNREADABLE ? &sum->unreadable : list == TC_LATER_REMARKS ? &sum->remarks : &sum->notes;
}

void tc_later_take(tc_report *report, tc_later list, tc_text text)
{
	tc_buffer *kept = list_of(report, list);
	if (text.length)
		tc_buffer_add(kept, text);
	if (kept->length < IN_MEMORY || !report->store.keep || report->refused)
		return;
	/* what comes after a refusal stays behind what was kept before it */
	report->refused = !report->store.keep(report->store.user, list, (tc_text){kept->at, kept->length});
	if (report->refused)
		return;
	report->stored[list] = true;
	kept->length = 0;
}

bool tc_later_any(const tc_report *report, tc_later list)
{
	return report->stored[list] || list_of(report, list)->length > 0;
}

/* --- writing ----------------------------------------------------------------------------------------------------- */

static void write_on(tc_report *report, tc_text text)
{
	tc_buffer_add(report->out, text);
	if (report->out->length < AT_ONCE)
		return;
	tc_report_settle(report);
	if (report->store.full)
		report->store.full(report->store.user);
}

void tc_later_write(tc_report *report, tc_later list, bool first)
{
	const tc_buffer *kept = list_of(report, list);
	size_t skip = first ? 1 : 0;
	tc_buffer piece;
	tc_buffer_start(&piece, report->from);
	while (report->stored[list] && !report->failed) {
		piece.length = 0;
		if (!report->store.give(report->store.user, list, &piece))
			report->failed = true;
		if (piece.length == 0)
			break;
		write_on(report, (tc_text){piece.at + skip, piece.length - skip});
		skip = 0;
	}
	for (size_t at = skip; at < kept->length; at += AT_ONCE) {
		const size_t left = kept->length - at;
		write_on(report, (tc_text){kept->at + at, left < AT_ONCE ? left : AT_ONCE});
	}
	tc_scratch_end(report, &piece);
}

/* --- artifacts --------------------------------------------------------------------------------------------------- */

static bool put_hash(uint64_t *set, size_t room, uint64_t hash)
{
	size_t i = (size_t)hash & (room - 1);
	while (set[i] && set[i] != hash)
		i = (i + 1) & (room - 1);
	const bool new = set[i] == 0;
	set[i] = hash;
	return new;
}

/* A set of twice the room. */
static bool grow(tc_report *report)
{
	const size_t room = report->seen_room ? 2 * report->seen_room : 256;
	uint64_t *set = report->from->get(report->from->user, NULL, room * sizeof *set);
	if (!set)
		return false;
	memset(set, 0, room * sizeof *set);
	for (size_t i = 0; i < report->seen_room; i++)
		if (report->seen[i])
			put_hash(set, room, report->seen[i]);
	if (report->seen)
		report->from->get(report->from->user, report->seen, 0);
	report->seen = set;
	report->seen_room = room;
	return true;
}

bool tc_later_is_new(tc_report *report, tc_text artifact)
{
	if (report->options.format != TC_FORMAT_SARIF || !report->options.repeats || artifact.length == 0)
		return true;
	if (2 * report->seen_count >= report->seen_room && !grow(report)) {
		report->failed = true;
		return true;
	}
	const uint64_t hash = tc_text_hash(artifact) | 1; /* 0 stands for an empty place */
	const bool new = put_hash(report->seen, report->seen_room, hash);
	report->seen_count += new;
	return new;
}
