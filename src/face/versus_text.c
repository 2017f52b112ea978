/* A comparison as text. */
#include <string.h>

#include "face/spend.h"
#include "face/versus.h"
#include "report/words.h"

#define TEXT_AT 10u /* column of what stands behind a word of change */

typedef struct versus {
	tc_page *page;
	tc_buffer *text;
} versus;

static void put_row(versus *v, size_t indent, const char *lead, size_t hang)
{
	tc_page_item(v->page, indent, TC_INK_PLAIN, lead, hang, tc_words_text(v->text));
	v->text->length = 0;
}

/* --- findings ---------------------------------------------------------------------------------------------------- */

static void add_change(versus *v, const tc_versus_change *change)
{
	const tc_versus_item *i = change->item;
	const tc_ink ink = change->kind == TC_VERSUS_GONE ? TC_INK_FAINT : TC_INK_WARNING;
	if (change->was)
		tc_buffer_print(v->text, ", was %s", tc_versus_word(change->was));
	if (i->finding) {
		const tc_finding *f = i->finding;
		tc_buffer_print(v->text, ": %s (", f->message);
		tc_words_parts(change->judgement->model, f->part == TC_NONE ? 0 : UINT64_C(1) << f->part, v->text);
		tc_buffer_print(v->text, "; line %u) [%s]", (unsigned)f->place.line, f->rule->id);
	} else {
		tc_buffer_print(v->text, ": the acceptance of %s accepts nothing (line %u)", i->unused->name,
		    (unsigned)i->unused->place.line);
	}
	tc_page_blanks(v->page, 2);
	tc_page_cell(v->page, TC_INK_STRONG, tc_versus_kind_name(change->kind), TEXT_AT - 2, false);
	const size_t at = TEXT_AT + tc_page_put(v->page, ink, tc_versus_word(i));
	tc_page_wrap(v->page, TC_INK_PLAIN, tc_words_text(v->text), at, TEXT_AT);
	v->text->length = 0;
}

static void add_findings(versus *v, const tc_versus_pair *pair)
{
	tc_page_heading(v->page, "Findings");
	for (uint32_t i = 0; i < pair->changes; i++)
		add_change(v, &pair->change[i]);
	if (pair->same)
		tc_words_count(pair->same, "is as it was", "are as they were", v->text);
	else
		tc_buffer_puts(v->text, pair->none ? "none, now as before" : "none is as it was");
	put_row(v, 2, "", 2);
}

/* --- figures ----------------------------------------------------------------------------------------------------- */

static void add_film(versus *v, const tc_model *model, const tc_part *part)
{
	double film;
	if (!part)
		tc_buffer_puts(v->text, "no such part");
	else if (tc_versus_film(model, part, &film))
		tc_quantity_print(v->text, TC_T_NUMBER, TC_DIM_LENGTH, film, 3, NULL);
	else
		tc_buffer_puts(v->text, "not known");
}

static void add_part(versus *v, const tc_model *old, const tc_model *new, const char *name)
{
	const tc_part *was = tc_versus_part(old, name), *is = tc_versus_part(new, name);
	double before = 0, after = 0;
	add_film(v, old, was);
	tc_buffer_puts(v->text, " → ");
	add_film(v, new, is);
	if (was && is && tc_versus_film(old, was, &before) && tc_versus_film(new, is, &after) &&
	    tc_compare(before, after) == 0)
		tc_buffer_puts(v->text, ", unchanged");
	if (was && is && was->layers != is->layers)
		tc_buffer_print(v->text, " (layers: %u → %u)", (unsigned)was->layers, (unsigned)is->layers);
	put_row(v, 2, name, 18);
}

static void add_films(versus *v, const tc_model *old, const tc_model *new)
{
	tc_page_heading(v->page, "Dry film of each part, without fillers, glue, decals and old finishes");
	for (uint32_t i = 0; i < new->parts; i++)
		add_part(v, old, new, new->part[i].written->name);
	for (uint32_t i = 0; i < old->parts; i++)
		if (!tc_versus_part(new, old->part[i].written->name))
			add_part(v, old, new, old->part[i].written->name);
}

static void add_cost(versus *v, const tc_spend *spend)
{
	if (!spend->priced)
		tc_buffer_puts(v->text, "no prices");
	else if (spend->lacks)
		tc_buffer_print(v->text, "not known (how much of %s is used)", spend->lacks);
	else
		tc_buffer_print(v->text, "%.2f", spend->cost);
}

static void add_figures(versus *v, const tc_versus_pair *pair)
{
	const tc_model *old = pair->old->model, *new = pair->new->model;
	tc_page_heading(v->page, "The whole");
	tc_duration_print(v->text, old->end);
	tc_buffer_puts(v->text, " → ");
	tc_duration_print(v->text, new->end);
	if (tc_compare(old->end, new->end) == 0)
		tc_buffer_puts(v->text, ", unchanged");
	put_row(v, 2, "time", 18);
	tc_buffer_print(v->text, "%u → %u", (unsigned)old->steps, (unsigned)new->steps);
	put_row(v, 2, "steps", 18);
	if (!pair->was.priced && !pair->is.priced)
		return;
	add_cost(v, &pair->was);
	tc_buffer_puts(v->text, " → ");
	add_cost(v, &pair->is);
	tc_buffer_puts(v->text, ", what has a price, by what is used of a pack, losses and cleaning included");
	put_row(v, 2, "cost", 18);
}

/* --- recipes ----------------------------------------------------------------------------------------------------- */

static const char *title_of(const tc_judgement *judgement)
{
	return judgement->model->recipe->title;
}

/* A recipe that has no other version. */
static void add_single(versus *v, tc_sheet *sheet, tc_verdict at_least, const tc_versus_pair *pair)
{
	const tc_judgement *judgement = pair->new ? pair->new : pair->old;
	tc_buffer_print(v->text, "%s: %s recipe; ", title_of(judgement), pair->new ? "a new" : "no longer a");
	tc_words_summary(&judgement->summary, at_least, 0, true, v->text);
	tc_sheet_title(sheet, tc_words_text(v->text));
	v->text->length = 0;
}

void tc_versus_text(tc_sheet *sheet, tc_buffer *work, tc_verdict at_least, const tc_versus_pair *pair)
{
	versus v = {&sheet->page, work};
	if (!pair->old || !pair->new) {
		add_single(&v, sheet, at_least, pair);
		return;
	}
	if (strcmp(title_of(pair->old), title_of(pair->new)) != 0)
		tc_buffer_print(work, "%s → ", title_of(pair->old));
	tc_buffer_puts(work, title_of(pair->new));
	tc_sheet_title(sheet, tc_words_text(work));
	work->length = 0;
	add_findings(&v, pair);
	add_films(&v, pair->old->model, pair->new->model);
	add_figures(&v, pair);
}
