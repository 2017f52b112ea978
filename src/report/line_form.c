/* A line a finding, for editors and scripts: `file:line:column: severity: text [rule]`. */
#include "report/private.h"

static void add_place(tc_buffer *out, tc_place place)
{
	tc_text_visible(out, tc_text_of(place.file));
	if (place.line)
		tc_buffer_print(out, ":%u:%u", (unsigned)place.line, (unsigned)(place.column ? place.column : 1));
	tc_buffer_puts(out, ": ");
}

/* The text on one line. */
static void add_text(tc_buffer *out, const char *text)
{
	const size_t from = out->length;
	tc_buffer_puts(out, text);
	for (size_t i = from; !out->failed && i < out->length; i++)
		if (out->at[i] == '\n' || out->at[i] == '\t')
			out->at[i] = ' ';
	while (!out->failed && out->length > from && out->at[out->length - 1] == ' ')
		out->length--;
}

/* Ends a line: text in `line` made visible. */
static void end_line(tc_report *report, tc_buffer *line, const char *id)
{
	tc_text_visible(report->out, (tc_text){tc_words_text(line), line->length});
	tc_buffer_print(report->out, " [%s]\n", id);
	line->length = 0;
}

static void add_needs(const tc_finding *finding, tc_buffer *line)
{
	for (uint32_t i = 0; i < finding->needs; i++)
		tc_buffer_print(line, "%s%s", i ? ", " : "; lacks ", finding->need[i].datum);
}

static void add_group(tc_report *report, const tc_judgement *judgement, const tc_group *group, tc_buffer *line)
{
	const tc_finding *finding = group->first;
	add_place(report->out, finding->place);
	tc_buffer_print(line, "%s: ", tc_verdict_name(finding->accept ? TC_V_NOTE : finding->weight));
	if (finding->accept)
		tc_buffer_print(line, "accepted %s: ", tc_verdict_name(finding->verdict));
	else if (finding->verdict == TC_V_UNDECIDED)
		tc_buffer_puts(line, "undecided: ");
	tc_words_parts(judgement->model, group->parts, line);
	tc_buffer_puts(line, ": ");
	add_text(line, finding->message);
	if (finding->verdict == TC_V_UNDECIDED)
		add_needs(finding, line);
	if (finding->accept) {
		tc_buffer_puts(line, "; because ");
		add_text(line, finding->accept->because);
	}
	end_line(report, line, finding->rule->id);
}

/* In full where it first comes up in a run: repeated at every recipe, cautions would drown the findings and be read by
 * nobody. */
static void add_caution(tc_report *report, const tc_judgement *judgement, const tc_caution_use *use, tc_buffer *line)
{
	const tc_recipe *recipe = judgement->model->recipe;
	const size_t from = report->out->length;
	if (tc_is_told(report, use->caution))
		return;
	add_place(report->out, use->steps ? recipe->step[use->step[0] - 1].place : recipe->place);
	tc_buffer_puts(line, "note: caution: ");
	add_text(line, use->caution->says);
	end_line(report, line, use->caution->id);
	tc_told(report, use->caution, from);
}

void tc_line_recipe(tc_report *report, const tc_judgement *judgement)
{
	tc_groups groups;
	tc_buffer line;
	tc_buffer_start(&line, report->from);
	if (!tc_groups_make(report->arena, judgement, &groups)) {
		report->failed = true;
		return;
	}
	if (judgement->bounded) {
		add_place(report->out, judgement->model->recipe->place);
		tc_buffer_puts(&line, "error: the recipe's bound on evaluation was hit: nothing can be said of it");
		end_line(report, &line, "bound");
	}
	for (uint32_t i = 0; i < groups.count; i++)
		add_group(report, judgement, &groups.at[i], &line);
	for (uint32_t i = 0; i < judgement->unused; i++) {
		add_place(report->out, judgement->unused_accept[i]->place);
		tc_buffer_print(
		    &line, "warning: the acceptance of %s accepts nothing", judgement->unused_accept[i]->name);
		end_line(report, &line, "unused-acceptance");
	}
	for (uint32_t i = 0; i < judgement->cautions; i++)
		add_caution(report, judgement, &judgement->caution[i], &line);
	report->failed = report->failed || line.failed;
	tc_buffer_free(&line);
}
