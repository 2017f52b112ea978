/* The card's text: the timetable by day, with what stands at each step; and why there is none. */
#include <math.h>
#include <stdio.h>

#include "report/card_hands.h"
#include "report/card_text.h"

#define BOX_AT 2u
#define CLOCK_AT 6u /* columns of `[ ]` and its blank behind BOX_AT */
#define CLOCK 7u    /* `+23:59` and a blank */
#define STEP 4u
#define TEXT_AT (CLOCK_AT + CLOCK + STEP + 2)

/* --- pauses ------------------------------------------------------------------------------------------------------- */

/* Why hands wait for this. */
static void add_reason(tc_card_sheet *s, const tc_hand *hand)
{
	const tc_task *task = &s->plan->table->task[hand->task];
	if (hand->kind == TC_HAND_END)
		tc_buffer_print(&s->text, "step %u goes by itself", (unsigned)task->step->number);
	else if (task->held_by != TC_NONE && s->plan->table->bound[task->held_by].kind == TC_BOUND_HOURS)
		tc_buffer_puts(&s->text, "until the next session");
	else
		tc_card_held(s->plan, task, &s->text);
}

/* What lies between this and the last moment at which hands were needed. */
static void add_pause(tc_card_sheet *s, const tc_hand *hand, double until)
{
	const double pause = hand->from - until;
	if (!(pause >= 60))
		return;
	tc_buffer_puts(&s->text, "pause of ");
	tc_duration_print(&s->text, pause);
	const size_t from = s->text.length;
	tc_buffer_puts(&s->text, ": ");
	add_reason(s, hand);
	if (s->text.length == from + 2)
		tc_card_cut(&s->text, from);
	tc_card_row_add(s, CLOCK_AT, "…", TEXT_AT);
}

/* --- a step ------------------------------------------------------------------------------------------------------- */

static void add_cups(tc_card_sheet *s, uint32_t task)
{
	for (uint32_t i = 0; i < s->plan->supply->cups; i++) {
		const tc_cupful *cup = &s->plan->supply->cup[i];
		if (cup->task != task || (cup->pours == 1 && !isfinite(cup->ready) && !cup->lacks))
			continue; /* nothing to say of it */
		tc_buffer_puts(&s->text, "cup: ");
		tc_card_cup(cup, &s->text);
		tc_card_row_add(s, TEXT_AT, "", TEXT_AT + 2);
		tc_card_cup_about(s->plan, cup, &s->text);
		tc_card_row_add(s, TEXT_AT + 2, "", TEXT_AT + 2);
	}
}

/* `[ ] 19:00   12  ` */
static void add_box(tc_card_sheet *s, const tc_task *task, double at)
{
	char step[16];
	tc_page_blanks(s->page, BOX_AT);
	tc_page_put(s->page, TC_INK_STRONG, "[ ] ");
	tc_card_clock(s->plan, at, &s->text);
	tc_page_cell(s->page, TC_INK_STRONG, tc_words_text(&s->text), CLOCK, false);
	s->text.length = 0;
	snprintf(step, sizeof step, "%u", (unsigned)task->step->number);
	tc_page_cell(s->page, TC_INK_FAINT, step, STEP, true);
	tc_page_blanks(s->page, 2);
}

/* Puts words into brackets; nothing where there are none. */
static void add_bracketed(tc_card_sheet *s, size_t from, const char *close)
{
	if (s->text.length == from + 2)
		tc_card_cut(&s->text, from);
	else
		tc_buffer_puts(&s->text, close);
}

static void add_task(tc_card_sheet *s, uint32_t index)
{
	const tc_task *task = &s->plan->table->task[index];
	add_box(s, task, task->start);
	tc_card_task(s->plan, task, &s->text);
	size_t from = s->text.length;
	tc_buffer_puts(&s->text, " (");
	tc_card_takes(task, &s->text);
	if (!task->attended && isfinite(task->end)) {
		tc_buffer_puts(&s->text, " until ");
		tc_card_moment(s->plan, task->end, task->start, &s->text);
	}
	add_bracketed(s, from, ")");
	from = s->text.length;
	tc_buffer_puts(&s->text, " [");
	tc_card_caution_marks(s->plan, task, &s->text);
	add_bracketed(s, from, "]");
	tc_page_wrap(s->page, TC_INK_PLAIN, tc_words_text(&s->text), TEXT_AT, TEXT_AT);
	s->text.length = 0;
	add_cups(s, index);
	tc_card_latest(s->plan, task, &s->text);
	tc_card_row_add(s, TEXT_AT, "", TEXT_AT + 2);
}

/* What went by itself and is over. */
static void add_end(tc_card_sheet *s, const tc_task *task)
{
	add_box(s, task, task->end);
	tc_buffer_puts(&s->text, "End of: ");
	tc_card_task_short(s->plan, task, &s->text);
	tc_page_wrap(s->page, TC_INK_PLAIN, tc_words_text(&s->text), TEXT_AT, TEXT_AT);
	s->text.length = 0;
}

static void add_day(tc_card_sheet *s, double at)
{
	tc_page_break(s->page);
	tc_card_day(s->plan, at, &s->text);
	tc_page_wrap(s->page, TC_INK_STRONG, tc_words_text(&s->text), 0, 0);
	s->text.length = 0;
}

static void add_timed(tc_card_sheet *s, const tc_hands *hands)
{
	const tc_timetable *table = s->plan->table;
	double until = hands->count ? hands->at[0].from : 0;
	tc_page_heading(s->page, "Timetable");
	if (table->reordered)
		tc_buffer_puts(&s->text, "Parts go side by side: some steps come earlier than the recipe writes them.");
	tc_card_row_add(s, 0, "", 0);
	for (uint32_t i = 0; i < hands->count; i++) {
		const tc_hand *hand = &hands->at[i];
		add_pause(s, hand, until);
		if (i == 0 || !tc_card_same_day(s->plan, hand->from, hands->at[i - 1].from))
			add_day(s, hand->from);
		if (hand->kind == TC_HAND_END)
			add_end(s, &table->task[hand->task]);
		else
			add_task(s, hand->task);
		until = hand->to > until ? hand->to : until;
	}
}

void tc_card_text_table(tc_card_sheet *s)
{
	const tc_timetable *table = s->plan->table;
	tc_hands hands;
	tc_arena *arena = tc_arena_new(s->page->out->from, 0);
	if (!arena || (tc_card_has_times(s->plan) && !tc_hands_of(arena, table, &hands))) {
		s->page->out->failed = true;
	} else if (tc_card_has_times(s->plan)) {
		add_timed(s, &hands);
	} else {
		tc_page_heading(s->page, "The steps as written, without times");
		for (uint32_t i = 0; i < table->tasks; i++)
			add_task(s, i);
	}
	tc_arena_free(arena);
}

/* --- no times ------------------------------------------------------------------------------------------------------- */

static void add_bound(tc_card_sheet *s, uint32_t number, const tc_bound *bound)
{
	char lead[16];
	snprintf(lead, sizeof lead, "%u.", (unsigned)number);
	tc_card_bound(s->plan, bound, &s->text);
	tc_card_row_add(s, 2, lead, 5);
	tc_card_bound_dropped(s->plan, bound, &s->text);
	tc_card_row_add(s, 5, "given up:", 5);
}

void tc_card_text_conflict(tc_card_sheet *s)
{
	const tc_timetable *table = s->plan->table;
	if (table->state == TC_TABLE_FOUND)
		return;
	tc_page_heading(s->page, "Why there is no timetable");
	if (table->state == TC_TABLE_UNKNOWN)
		tc_buffer_puts(&s->text,
		    "There are more windows than can all be tried. Say fewer of them, or name the waits yourself.");
	else if (table->conflicts == 0)
		tc_buffer_puts(&s->text, "The order of the steps alone leaves no times.");
	else
		tc_buffer_print(&s->text, "These cannot all be kept%s; to give up any one of them would do:",
		    table->smallest ? ", and fewer would not conflict" : "");
	tc_card_row_add(s, 0, "", 0);
	for (uint32_t i = 0; i < table->conflicts; i++)
		add_bound(s, i + 1, &table->bound[table->conflict[i]]);
}
