/* What could not be decided, gathered by the datum that would settle most. */
#include <string.h>

#include "report/private.h"

#define TEXT_AT 5u

typedef struct topic {
	const tc_need *need; /* NULL: questions that lack nothing that could be said */
	uint32_t alone;      /* questions that lack nothing else */
	uint32_t count;
} topic;

static bool lacks(const tc_finding *finding, const tc_need *need)
{
	for (uint32_t i = 0; i < finding->needs; i++)
		if (strcmp(finding->need[i].datum, need->datum) == 0)
			return true;
	return false;
}

static topic weigh(const tc_groups *groups, const bool *told, const tc_need *need)
{
	topic t = {.need = need};
	for (uint32_t i = 0; i < groups->count; i++) {
		if (told[i] || !lacks(groups->at[i].first, need))
			continue;
		t.count++;
		t.alone += groups->at[i].first->needs == 1;
	}
	return t;
}

/* The datum that bears on most of the questions that are left; among equals the one that decides more by itself, then the
 * first. */
static topic widest(const tc_groups *groups, const bool *told)
{
	topic best = {NULL, 0, 0};
	for (uint32_t i = 0; i < groups->count; i++)
		for (uint32_t n = 0; !told[i] && n < groups->at[i].first->needs; n++) {
			const topic t = weigh(groups, told, &groups->at[i].first->need[n]);
			if (t.count > best.count || (t.count == best.count && t.alone > best.alone))
				best = t;
		}
	return best;
}

static void add_topic(tc_report *report, const tc_judgement *judgement, const topic *t)
{
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	if (t->need) {
		tc_buffer_print(&text, "%s: %s ", t->need->datum, t->alone == t->count ? "decides" : "bears on");
		tc_words_count(t->count, "question", "questions", &text);
		if (t->need->where)
			tc_buffer_print(&text, "; %s", t->need->where);
		if (t->need->place.file) {
			tc_buffer_puts(&text, " (");
			tc_words_place(t->need->place, tc_source_name(judgement->model->recipe->source), &text);
			tc_buffer_puts(&text, ")");
		}
	} else {
		tc_buffer_puts(&text, "not for the recipe to say:");
	}
	tc_page_break(&report->page);
	tc_page_wrap(&report->page, TC_INK_PLAIN, tc_words_text(&text), 0, 2);
	tc_scratch_end(report, &text);
}

static void add_others(tc_report *report, const tc_finding *finding, const tc_need *need)
{
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	tc_buffer_puts(&text, "it lacks also: ");
	const char *between = "";
	for (uint32_t i = 0; i < finding->needs; i++) {
		if (need && strcmp(finding->need[i].datum, need->datum) == 0)
			continue;
		tc_buffer_print(&text, "%s%s", between, finding->need[i].datum);
		between = ", ";
	}
	if (*between)
		tc_page_item(&report->page, TEXT_AT, TC_INK_FAINT, "", TEXT_AT, tc_words_text(&text));
	tc_scratch_end(report, &text);
}

static void add_question(tc_report *report, const tc_judgement *judgement, const tc_group *group, const tc_need *need)
{
	const tc_finding *finding = group->first;
	tc_buffer text;
	tc_buffer_start(&text, report->from);
	tc_buffer_print(&text, "%s (", finding->message);
	tc_words_parts(judgement->model, group->parts, &text);
	if (finding->step)
		tc_buffer_print(&text, "; step %u", (unsigned)finding->step);
	tc_buffer_print(&text, ") [%s]", finding->rule->id);
	tc_page_cell(&report->page, TC_INK_OPEN, group->mark, TEXT_AT - 2, true);
	tc_page_blanks(&report->page, 2);
	tc_page_wrap(&report->page, TC_INK_PLAIN, tc_words_text(&text), TEXT_AT, TEXT_AT);
	tc_scratch_end(report, &text);
	add_others(report, finding, need);
}

static bool is_open(const tc_group *group)
{
	return group->first->verdict == TC_V_UNDECIDED && !group->first->accept;
}

void tc_open_add(tc_report *report, const tc_judgement *judgement, const tc_groups *groups)
{
	bool *told = TC_ARRAY(report->arena, groups->count + 1, bool);
	if (!told || groups->open == 0)
		return;
	for (uint32_t i = 0; i < groups->count; i++)
		told[i] = !is_open(&groups->at[i]);
	tc_page_heading(&report->page, "What is open");
	for (uint32_t left = groups->open; left > 0;) {
		const topic t = widest(groups, told);
		add_topic(report, judgement, &t);
		for (uint32_t i = 0; i < groups->count; i++) {
			if (told[i] || (t.need && !lacks(groups->at[i].first, t.need)))
				continue;
			add_question(report, judgement, &groups->at[i], t.need);
			told[i] = true;
			left--;
		}
	}
}
