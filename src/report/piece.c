/* Pieces: what one file adds to a report, so that files can be written on several threads and taken in in their order. */
#include <jansson.h>
#include <string.h>

#include "report/private.h"

#define KEPT_ROOM (256u << 10) /* bytes of text for which a piece keeps its memory */
#define NOTES_MOST (1u << 20)  /* bytes of cautions that are kept for the end: those of some hundred recipes */

static void *get(const tc_allocator *from, void *old, size_t size)
{
	return from->get(from->user, old, size);
}

static uint64_t *new_set(const tc_allocator *from, size_t words)
{
	uint64_t *set = get(from, NULL, words * sizeof *set);
	if (set)
		memset(set, 0, words * sizeof *set);
	return set;
}

static size_t words_of(const tc_report *report)
{
	return tc_library_cautions(report->library) / 64 + 1;
}

/* --- pieces ------------------------------------------------------------------------------------------------------ */

tc_piece *tc_piece_new(const tc_report *report)
{
	const tc_allocator *from = report->from;
	tc_piece *piece = get(from, NULL, sizeof *piece);
	if (!piece)
		return NULL;
	*piece = (tc_piece){.from = from, .words = words_of(report)};
	tc_buffer_start(&piece->text, from);
	tc_buffer_start(&piece->unreadable, from);
	tc_buffer_start(&piece->remarks, from);
	tc_buffer_start(&piece->notes, from);
	piece->cautions = new_set(from, piece->words);
	piece->noted = new_set(from, piece->words);
	if (piece->cautions && piece->noted)
		return piece;
	tc_piece_free(piece);
	return NULL;
}

void tc_piece_free(tc_piece *piece)
{
	if (!piece)
		return;
	tc_buffer_free(&piece->text);
	tc_buffer_free(&piece->unreadable);
	tc_buffer_free(&piece->remarks);
	tc_buffer_free(&piece->notes);
	if (piece->mark)
		get(piece->from, piece->mark, 0);
	if (piece->cautions)
		get(piece->from, piece->cautions, 0);
	if (piece->noted)
		get(piece->from, piece->noted, 0);
	if (piece->note)
		get(piece->from, piece->note, 0);
	get(piece->from, piece, 0);
}

size_t tc_piece_size(const tc_piece *piece)
{
	return piece->text.length + piece->unreadable.length + piece->remarks.length + piece->notes.length;
}

static void empty_buffer(tc_buffer *buffer, const tc_allocator *from)
{
	if (buffer->room > KEPT_ROOM) {
		tc_buffer_free(buffer);
		tc_buffer_start(buffer, from);
	}
	buffer->length = 0;
}

static void empty(tc_piece *piece)
{
	empty_buffer(&piece->text, piece->from);
	empty_buffer(&piece->unreadable, piece->from);
	empty_buffer(&piece->remarks, piece->from);
	empty_buffer(&piece->notes, piece->from);
	piece->marks = piece->note_count = 0;
	piece->summary = piece->shown = (tc_summary){0};
	piece->recipes = piece->unread = 0;
	piece->led = piece->weighs = false;
	memset(piece->cautions, 0, piece->words * sizeof *piece->cautions);
}

static bool failed(const tc_piece *piece)
{
	return piece->text.failed || piece->unreadable.failed || piece->remarks.failed || piece->notes.failed;
}

/* --- marks ------------------------------------------------------------------------------------------------------- */

/* Adds a mark to a list of a piece. */
static void add_mark(tc_report *report, tc_piece_mark **list, uint32_t *count, uint32_t *room, tc_piece_mark is)
{
	if (*count == *room) {
		const uint32_t more = *room ? 2 * *room : 32;
		tc_piece_mark *larger = get(report->from, *list, more * sizeof *larger);
		if (!larger) {
			report->failed = true;
			return;
		}
		*list = larger;
		*room = more;
	}
	(*list)[(*count)++] = is;
}

static void mark(tc_report *report, size_t from, uint32_t caution)
{
	tc_piece *piece = report->now;
	add_mark(report, &piece->mark, &piece->marks, &piece->room, (tc_piece_mark){from, piece->text.length, caution});
}

void tc_lead(tc_report *report, const char *text)
{
	const size_t from = report->out->length;
	tc_buffer_puts(report->out, text);
	if (!report->now->led)
		mark(report, from, TC_NONE);
}

void tc_led(tc_report *report)
{
	report->now->led = true;
}

static bool in_set(const uint64_t *set, uint32_t number)
{
	return set[number / 64] >> number % 64 & 1;
}

static void put_in(uint64_t *set, uint32_t number)
{
	set[number / 64] |= UINT64_C(1) << number % 64;
}

static uint32_t number_of(const tc_report *report, const tc_caution *caution)
{
	return (uint32_t)(caution - tc_library_caution(report->library, 0));
}

void tc_keep_caution(tc_report *report, const tc_caution *caution)
{
	put_in(report->now->cautions, number_of(report, caution));
}

void tc_noted(tc_report *report, const tc_caution *caution, size_t from)
{
	tc_piece *piece = report->now;
	tc_keep_caution(report, caution);
	add_mark(report, &piece->note, &piece->note_count, &piece->note_room,
	    (tc_piece_mark){from, piece->notes.length, number_of(report, caution)});
}

bool tc_is_unnoted(const tc_report *report, uint32_t caution)
{
	return in_set(report->sum->cautions, caution) && !in_set(report->sum->noted, caution);
}

bool tc_is_told(const tc_report *report, const tc_caution *caution)
{
	return in_set(report->told, number_of(report, caution));
}

void tc_told(tc_report *report, const tc_caution *caution, size_t from)
{
	const uint32_t number = number_of(report, caution);
	put_in(report->told, number);
	mark(report, from, number);
}

/* --- taking in --------------------------------------------------------------------------------------------------- */

static bool falls_away(const tc_report *report, const tc_piece_mark *m)
{
	return m->caution == TC_NONE ? !report->sum->led : in_set(report->sum->cautions, m->caution);
}

static void take_text(tc_report *report, const tc_piece *piece)
{
	size_t done = 0;
	for (uint32_t i = 0; i < piece->marks; i++) {
		const tc_piece_mark *m = &piece->mark[i];
		const size_t until = falls_away(report, m) ? m->from : m->to;
		tc_buffer_add(report->to, (tc_text){piece->text.at + done, until - done});
		done = m->to;
		if (m->caution != TC_NONE)
			put_in(report->sum->cautions, m->caution);
	}
	if (done < piece->text.length)
		tc_buffer_add(report->to, (tc_text){piece->text.at + done, piece->text.length - done});
}

static tc_text whole(const tc_buffer *buffer)
{
	return (tc_text){buffer->at, buffer->length};
}

/* Cautions of more and more recipes are the same ones: beyond a bound only which they are is kept. */
static void take_notes(tc_report *report, const tc_piece *piece)
{
	tc_piece *sum = report->sum;
	for (uint32_t i = 0; i < piece->note_count && !sum->cut; i++) {
		const tc_piece_mark *note = &piece->note[i];
		sum->cut = sum->noted_bytes + (note->to - note->from) > NOTES_MOST;
		if (sum->cut)
			return;
		tc_later_take(report, TC_LATER_NOTES, (tc_text){piece->notes.at + note->from, note->to - note->from});
		sum->noted_bytes += note->to - note->from;
		put_in(sum->noted, note->caution);
	}
}

tc_status tc_report_take_in(tc_report *report, const tc_piece *piece)
{
	tc_piece *sum = report->sum;
	if (!failed(piece)) {
		take_text(report, piece);
		tc_later_take(report, TC_LATER_UNREADABLE, whole(&piece->unreadable));
		if (tc_later_is_new(report, whole(&piece->remarks)))
			tc_later_take(report, TC_LATER_REMARKS, whole(&piece->remarks));
		take_notes(report, piece);
	}
	tc_summary_add(&sum->summary, &piece->summary);
	tc_summary_add(&sum->shown, &piece->shown);
	sum->recipes += piece->recipes;
	sum->unread += piece->unread;
	sum->led = sum->led || piece->led;
	sum->weighs = sum->weighs || piece->weighs;
	for (size_t i = 0; i < sum->words; i++)
		sum->cautions[i] |= piece->cautions[i];
	report->failed = report->failed || report->to->failed || failed(piece) || failed(sum);
	return report->failed ? TC_NO_MEMORY : TC_OK;
}

tc_status tc_report_hand_over(tc_report *share, tc_piece *piece)
{
	const tc_piece held = *piece;
	*piece = *share->now;
	*share->now = held;
	empty(share->now);
	share->last_unread = share->last_file = NULL;
	return share->failed || failed(piece) ? TC_NO_MEMORY : TC_OK;
}

/* --- a report and its shares ------------------------------------------------------------------------------------- */

bool tc_report_start(tc_report *report)
{
	report->now = tc_piece_new(report);
	report->sum = tc_piece_new(report);
	report->told = new_set(report->from, words_of(report));
	report->arena = tc_arena_new(report->from, 0);
	if (!report->now || !report->sum || !report->told || !report->arena)
		return false;
	report->out = &report->now->text;
	tc_page_start(&report->page, report->out, report->options.width, report->options.color, report->options.ascii);
	return true;
}

tc_report *tc_report_share(const tc_report *report)
{
	json_object_seed(1); /* before threads make objects; their keys are our own */
	tc_report *share = get(report->from, NULL, sizeof *share);
	if (!share)
		return NULL;
	*share = (tc_report){
	    .options = report->options, .rulebook = report->rulebook, .library = report->library, .from = report->from};
	if (tc_report_start(share))
		return share;
	tc_report_free(share);
	return NULL;
}

/* What was just written is taken in, unless this is a share. */
tc_status tc_report_settle(tc_report *report)
{
	const tc_piece *now = report->now;
	report->failed = report->failed || failed(now) || report->page.work.failed || tc_arena_failed(report->arena);
	if (report->to) {
		tc_report_take_in(report, now);
		empty(report->now);
	}
	return report->failed ? TC_NO_MEMORY : TC_OK;
}

void tc_report_free(tc_report *report)
{
	if (!report)
		return;
	if (report->out)
		tc_page_end(&report->page);
	tc_piece_free(report->now);
	tc_piece_free(report->sum);
	tc_arena_free(report->arena);
	if (report->told)
		get(report->from, report->told, 0);
	if (report->seen)
		get(report->from, report->seen, 0);
	get(report->from, report, 0);
}
