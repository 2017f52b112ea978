/* Gathering of findings that differ in nothing but their part. */
#include <stdio.h>
#include <string.h>

#include "report/marks.h"
#include "report/words.h"

static bool same(const tc_finding *a, const tc_finding *b)
{
	return a->rule == b->rule && a->verdict == b->verdict && a->step == b->step && a->accept == b->accept &&
	       a->lowered == b->lowered && strcmp(a->message, b->message) == 0;
}

static tc_group *group_of(tc_group *groups, uint32_t count, const tc_finding *finding)
{
	for (uint32_t i = count; i-- > 0;)
		if (same(groups[i].first, finding))
			return &groups[i];
	return NULL;
}

static void letter(char mark[12], uint32_t n)
{
	char reversed[8];
	size_t length = 0;
	for (n++; n > 0 && length < sizeof reversed; n = (n - 1) / 26)
		reversed[length++] = (char)('a' + (n - 1) % 26);
	for (size_t i = 0; i < length; i++)
		mark[i] = reversed[length - 1 - i];
	mark[length] = '\0';
}

static void number(tc_groups *groups, tc_group *at)
{
	for (uint32_t i = 0; i < groups->count; i++) {
		if (at[i].first->accept) {
			groups->accepted++;
		} else if (at[i].first->verdict == TC_V_UNDECIDED) {
			letter(at[i].mark, groups->open++);
			at[i].rank = groups->open;
		} else {
			at[i].rank = ++groups->decided;
			snprintf(at[i].mark, sizeof at[i].mark, "%u", (unsigned)at[i].rank);
		}
	}
}

static void summarise(tc_groups *groups, const tc_judgement *judgement)
{
	tc_summary *s = &groups->summary;
	*s = (tc_summary){.warnings = judgement->unused,
	    .undecided = groups->open,
	    .accepted = groups->accepted,
	    .known = judgement->summary.known};
	for (uint32_t i = 0; i < groups->count; i++) {
		const tc_finding *finding = groups->at[i].first;
		s->errors += !finding->accept && finding->verdict == TC_V_ERROR;
		s->warnings += !finding->accept && finding->verdict == TC_V_WARNING;
		s->notes += !finding->accept && finding->verdict == TC_V_NOTE;
	}
}

bool tc_groups_make(tc_arena *arena, const tc_judgement *judgement, tc_groups *groups)
{
	tc_group *at = TC_ARRAY(arena, judgement->findings, tc_group);
	*groups = (tc_groups){.at = at};
	if (!at)
		return false;
	for (uint32_t i = 0; i < judgement->findings; i++) {
		const tc_finding *finding = &judgement->finding[i];
		tc_group *group = group_of(at, groups->count, finding);
		if (!group) {
			group = &at[groups->count++];
			group->first = finding;
		}
		if (finding->part != TC_NONE)
			group->parts |= UINT64_C(1) << finding->part;
	}
	number(groups, at);
	summarise(groups, judgement);
	return true;
}

/* --- words of a finding ------------------------------------------------------------------------------------------ */

tc_ink tc_finding_ink(const tc_finding *finding)
{
	static const tc_ink inks[] = {[TC_V_NOTE] = TC_INK_NOTE,
	    [TC_V_WARNING] = TC_INK_WARNING,
	    [TC_V_ERROR] = TC_INK_ERROR,
	    [TC_V_UNDECIDED] = TC_INK_OPEN};
	return inks[finding->verdict];
}

bool tc_reason_told_before(const tc_finding *finding, uint32_t index)
{
	for (uint32_t i = 0; i < index; i++)
		if (strcmp(finding->reason[i].fact, finding->reason[index].fact) == 0 &&
		    strcmp(finding->reason[i].text, finding->reason[index].text) == 0)
			return true;
	return false;
}

void tc_group_where(const tc_judgement *judgement, const tc_group *group, tc_buffer *out)
{
	const tc_finding *finding = group->first;
	tc_words_parts(judgement->model, group->parts, out);
	if (finding->step)
		tc_buffer_print(out, "; step %u", (unsigned)finding->step);
	if (finding->place.line)
		tc_buffer_print(out, ", line %u", (unsigned)finding->place.line);
}
