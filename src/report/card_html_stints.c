/* A card before it is written: what its parts look at, and its work by the stints in which it is done. */
#include "report/card_parts.h"

#define LONG_PAUSE 10800.0 /* s: where no sessions are said, work goes on in another stint after this */

/* --- stints ------------------------------------------------------------------------------------------------------ */

static tc_span session_of(const tc_card *card, double at)
{
	tc_span span = {NAN, NAN};
	if (tc_calendar_say(card->table->calendar).has_sessions)
		tc_calendar_session(card->table->calendar, at, &span);
	return span;
}

static bool goes_on(const tc_card *card, const tc_stint *stint, const tc_hand *hand)
{
	if (!isnan(stint->session.from))
		return hand->from <= stint->session.to;
	return hand->from - stint->to <= LONG_PAUSE && tc_card_same_day(card->plan, stint->from, hand->from);
}

static bool make_stints(tc_card *card)
{
	tc_stint *at = NULL;
	uint32_t room = 0;
	if (!tc_hands_of(card->arena, card->table, &card->hands))
		return false;
	for (uint32_t i = 0; i < card->hands.count; i++) {
		const tc_hand *hand = &card->hands.at[i];
		if (card->stints == 0 || !goes_on(card, &at[card->stints - 1], hand)) {
			if (!tc_arena_grow(card->arena, (void **)&at, card->stints, &room, sizeof *at))
				return false;
			at[card->stints++] = (tc_stint){
			    .first = i, .from = hand->from, .to = hand->to, .session = session_of(card, hand->from)};
		}
		tc_stint *stint = &at[card->stints - 1];
		stint->last = i;
		stint->to = fmax(stint->to, hand->to);
	}
	card->stint = at;
	return true;
}

/* --- the card ---------------------------------------------------------------------------------------------------- */

bool tc_card_start(tc_card *card, const tc_plan *plan, tc_arena *arena, tc_buffer *out)
{
	const tc_judgement *judged = tc_card_judgement(plan);
	*card = (tc_card){.plan = plan,
	    .table = plan->table,
	    .judged = judged,
	    .model = judged->model,
	    .timed = tc_card_has_times(plan),
	    .arena = arena,
	    .out = out};
	tc_buffer_start(&card->words, out->from);
	return tc_groups_make(arena, judged, &card->groups) && (!card->timed || make_stints(card));
}

void tc_card_end(tc_card *card)
{
	tc_buffer_free(&card->words);
}

uint32_t tc_card_first_task(const tc_card *card, uint32_t step)
{
	for (uint32_t i = 0; i < card->table->tasks; i++)
		if (card->table->task[i].step->number == step)
			return i;
	return TC_NONE;
}

void tc_html_stint(tc_card *card, const tc_stint *stint)
{
	const bool session = !isnan(stint->session.from);
	const double from = session ? stint->session.from : stint->from, to = session ? stint->session.to : stint->to;
	tc_card_moment(card->plan, from, NAN, &card->words);
	if (to > from) {
		tc_buffer_puts(&card->words, " to ");
		tc_card_moment(card->plan, to, from, &card->words);
	}
	tc_html_said(card);
}

void tc_html_step_link(tc_card *card, uint32_t step)
{
	const uint32_t task = tc_card_first_task(card, step);
	if (task == TC_NONE)
		tc_buffer_print(card->out, "step %u", (unsigned)step);
	else
		tc_buffer_print(
		    card->out, "<a href=\"#task-%u\">step\xC2\xA0%u</a>", (unsigned)task + 1, (unsigned)step);
}
