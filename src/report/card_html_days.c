/* The timetable of the card: what to do by day and session, each with a box to tick, the latest moment, what to
 * mix, and what to take care of. The cautions of a stint are named before its first task; each task has their
 * marks. */
#include <math.h>
#include <string.h>

#include "report/card_parts.h"

/* --- cautions at a task ------------------------------------------------------------------------------------------ */

void tc_html_caution_name(tc_card *card, uint32_t caution)
{
	static const char behind[] = "-caution"; /* where the id had to differ from a material's */
	const char *id = card->judged->caution[caution].caution->id;
	const size_t length = strlen(id), tail = sizeof behind - 1;
	const bool has_tail = length > tail && strcmp(id + length - tail, behind) == 0;
	const char *name = tc_arena_text(card->arena, id, has_tail ? length - tail : length);
	tc_html_id(card, name ? name : "");
}

/* The task of a line: lines are hands where there are times, else tasks. */
static const tc_task *task_of(const tc_card *card, uint32_t line)
{
	return &card->table->task[card->timed ? card->hands.at[line].task : line];
}

static bool matters(const tc_card *card, uint32_t caution, uint32_t first, uint32_t last)
{
	for (uint32_t i = first; i <= last; i++)
		if (tc_card_caution_at(&card->judged->caution[caution], task_of(card, i)->step->number))
			return true;
	return false;
}

/* The cautions of a stint by name, once, before its first task. */
static void add_care(tc_card *card, uint32_t first, uint32_t last)
{
	const char *lead = "<p class=\"care\"><b>Take care</b> ";
	bool any = false;
	for (uint32_t i = 0; i < card->judged->cautions; i++) {
		if (!matters(card, i, first, last))
			continue;
		tc_html_put(card->out, any ? " " : lead);
		tc_buffer_print(card->out, "<a href=\"#care-%u\">!%u\xC2\xA0", (unsigned)i + 1, (unsigned)i + 1);
		tc_html_caution_name(card, i);
		tc_html_put(card->out, "</a>");
		any = true;
	}
	if (any)
		tc_html_put(card->out, "</p>\n");
}

/* Those of a task by their marks. */
static void add_marks(tc_card *card, const tc_task *task)
{
	tc_card_caution_marks(card->plan, task, &card->words);
	if (!tc_html_any(card))
		return;
	tc_html_put(card->out, " <span class=\"marks\"><span class=\"hidden\">take care: </span>");
	tc_html_said(card);
	tc_html_put(card->out, "</span>");
}

/* --- what else stands at a task ---------------------------------------------------------------------------------- */

static void add_cups(tc_card *card, uint32_t task)
{
	const tc_supply *supply = card->plan->supply;
	for (uint32_t i = 0; supply && i < supply->cups; i++) {
		if (supply->cup[i].task != task)
			continue;
		tc_html_put(card->out,
		    supply->cup[i].pours > 1 ? "<p class=\"mix\"><b>Mix</b> " : "<p class=\"mix\"><b>Take</b> ");
		tc_card_cup(&supply->cup[i], &card->words);
		tc_html_said(card);
		if (isfinite(supply->cup[i].lives_until)) {
			tc_buffer_puts(&card->words, "; use it up by ");
			tc_card_moment(
			    card->plan, supply->cup[i].lives_until, card->table->task[task].start, &card->words);
			tc_html_said(card);
		}
		tc_html_put(card->out, "</p>\n");
	}
}

static void add_flaws(tc_card *card, const tc_task *task)
{
	for (uint32_t i = 0; i < card->groups.count; i++) {
		const tc_group *group = &card->groups.at[i];
		if (group->first->accept || group->first->step != task->step->number)
			continue;
		const bool open = group->first->verdict == TC_V_UNDECIDED;
		tc_buffer_print(card->out,
		    "<p class=\"flaw %s\"><a href=\"#%s-%s\"><b class=\"tag\">%s\xC2\xA0%s</b></a> ",
		    tc_verdict_name(group->first->verdict), open ? "question" : "finding", group->mark,
		    open ? "open" : tc_verdict_name(group->first->verdict), group->mark);
		tc_html_id(card, group->first->defect ? group->first->defect : group->first->rule->id);
		tc_html_put(card->out, "</p>\n");
	}
}

static void add_latest(tc_card *card, const tc_task *task)
{
	if (!isfinite(task->latest) && !isfinite(task->closes))
		return;
	tc_card_latest(card->plan, task, &card->words);
	if (!tc_html_any(card))
		return;
	tc_html_put(card->out, "<p class=\"latest\"><b>Latest</b> ");
	tc_html_said(card);
	tc_html_put(card->out, "</p>\n");
}

/* Why the stint begins no earlier, where that is more than the hours of the day. */
static void add_held(tc_card *card, const tc_stint *stint, uint32_t index)
{
	const tc_task *task = &card->table->task[index];
	if (!stint || index != card->hands.at[stint->first].task || task->held_by >= card->table->bounds)
		return;
	const tc_bound_kind kind = card->table->bound[task->held_by].kind;
	if (kind == TC_BOUND_ORDER || kind == TC_BOUND_HANDS || kind == TC_BOUND_HOURS || kind == TC_BOUND_START)
		return;
	tc_card_held(card->plan, task, &card->words);
	if (!tc_html_any(card))
		return;
	tc_html_put(card->out, "<p class=\"held\"><b>Not before</b> ");
	tc_html_said(card);
	tc_html_put(card->out, "</p>\n");
}

/* --- passes ------------------------------------------------------------------------------------------------------ */

static double pause_after(const tc_task *task, uint32_t pass)
{
	const tc_written_step *step = task->step;
	if (step->flashes)
		return step->flash[step->flashes == 1 ? 0 : task->pass + pass];
	const tc_value usual = step->with ? tc_product_value(step->with, TC_P_FLASH) : tc_unknown(TC_T_NUMBER);
	return tc_known(usual) ? usual.number : NAN;
}

/* A box for each pass, with its time: hand time is shared out evenly. */
static void add_passes(tc_card *card, const tc_task *task)
{
	double pauses = 0, at = task->start;
	if (task->passes < 2)
		return;
	for (uint32_t i = 0; i + 1 < task->passes; i++)
		pauses += pause_after(task, i);
	const double hand = fmax(0, task->lasts - pauses) / task->passes;
	tc_html_put(card->out, "<p class=\"passes\">");
	for (uint32_t i = 0; i < task->passes; i++) {
		tc_html_put(card->out, i ? " <span><i class=\"tick\"></i> " : "<span><i class=\"tick\"></i> ");
		if (isfinite(at) && !isnan(pauses))
			tc_card_clock(card->plan, at, &card->words);
		else
			tc_buffer_print(&card->words, "pass %u", (unsigned)(task->pass + i + 1));
		tc_html_said(card);
		tc_html_put(card->out, "</span>");
		at += hand + pause_after(task, i);
	}
	tc_html_put(card->out, "</p>\n");
}

/* --- a task ------------------------------------------------------------------------------------------------------ */

static void add_time(tc_card *card, const tc_stint *stint, double at)
{
	tc_html_put(card->out, "<p class=\"at\">");
	if (stint) {
		if (tc_card_same_day(card->plan, stint->from, at))
			tc_card_clock(card->plan, at, &card->words);
		else
			tc_card_moment(card->plan, at, stint->from, &card->words);
		tc_html_said(card);
	}
	tc_html_put(card->out, "</p>\n");
}

static void add_number(tc_card *card, const tc_task *task)
{
	tc_buffer_print(card->out,
	    "<p class=\"no\"><span class=\"hidden\">step </span>%u</p>\n<div class=\"what\">\n<p>",
	    (unsigned)task->step->number);
}

/* What went by itself is over. */
static void add_end(tc_card *card, const tc_stint *stint, const tc_task *task)
{
	tc_html_put(card->out, "<li class=\"alone\">\n<i class=\"box\"></i>\n");
	add_time(card, stint, task->end);
	add_number(card, task);
	tc_buffer_puts(&card->words, "End of: ");
	tc_card_task_short(card->plan, task, &card->words);
	tc_html_said(card);
	add_marks(card, task);
	tc_html_put(card->out, "</p>\n</div>\n</li>\n");
}

static void add_until(tc_card *card, const tc_task *task)
{
	if (task->attended || !isfinite(task->end) || !(task->end > task->start))
		return;
	tc_html_put(card->out, "<p class=\"held\"><b>Until</b> ");
	tc_card_moment(card->plan, task->end, task->start, &card->words);
	tc_html_said(card);
	tc_html_put(card->out, ", by itself</p>\n");
}

static void add_task(tc_card *card, const tc_stint *stint, uint32_t index)
{
	const tc_task *task = &card->table->task[index];
	tc_buffer_print(card->out, "<li id=\"task-%u\"%s>\n<i class=\"box\"></i>\n", (unsigned)index + 1,
	    task->attended ? "" : " class=\"alone\"");
	add_time(card, stint, task->start);
	add_number(card, task);
	tc_card_task(card->plan, task, &card->words);
	tc_html_said(card);
	add_marks(card, task);
	tc_html_put(card->out, "</p>\n");
	add_held(card, stint, index);
	add_until(card, task);
	add_cups(card, index);
	add_passes(card, task);
	add_latest(card, task);
	add_flaws(card, task);
	tc_html_put(card->out, "</div>\n<p class=\"takes\">");
	tc_card_takes(task, &card->words);
	tc_html_said(card);
	tc_html_put(card->out, "</p>\n</li>\n");
}

/* --- the whole --------------------------------------------------------------------------------------------------- */

static void add_stint(tc_card *card, const tc_stint *stint)
{
	tc_html_put(card->out, "<div class=\"day\">\n<h3>");
	tc_html_stint(card, stint);
	tc_html_put(card->out, "</h3>\n");
	add_care(card, stint->first, stint->last);
	tc_html_put(card->out, "<ol class=\"tasks\">\n");
	for (uint32_t i = stint->first; i <= stint->last; i++) {
		const tc_hand *hand = &card->hands.at[i];
		if (hand->kind == TC_HAND_END)
			add_end(card, stint, &card->table->task[hand->task]);
		else
			add_task(card, stint, hand->task);
	}
	tc_html_put(card->out, "</ol>\n</div>\n");
}

void tc_html_days(tc_card *card)
{
	tc_html_open(card, "work", card->timed ? "What to do, and when" : "What is to be done, as written");
	for (uint32_t i = 0; i < card->stints; i++)
		add_stint(card, &card->stint[i]);
	if (!card->timed && card->table->tasks > 0) {
		add_care(card, 0, card->table->tasks - 1);
		tc_html_put(card->out, "<ol class=\"tasks\">\n");
		for (uint32_t i = 0; i < card->table->tasks; i++)
			add_task(card, NULL, i);
		tc_html_put(card->out, "</ol>\n");
	}
	if (card->table->reordered)
		tc_html_put(card->out,
		    "<p class=\"aside\">Some steps come before others that the recipe writes earlier: they are on "
		    "other parts, and the hands are free.</p>\n");
	tc_html_close(card);
}
