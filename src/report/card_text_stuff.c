/* The card's text: the parts drawn, what to buy, the air. */
#include <math.h>
#include <string.h>

#include "report/card_text.h"

/* --- parts -------------------------------------------------------------------------------------------------------- */

static tc_buffer *draw(tc_card_sheet *s, tc_arena *arena)
{
	const uint32_t parts = s->judgement->model->parts;
	tc_buffer *drawn = TC_ARRAY(arena, parts, tc_buffer), *out = s->page->out;
	for (uint32_t i = 0; drawn && i < parts; i++) {
		tc_buffer_start(&drawn[i], out->from);
		s->page->out = &drawn[i];
		tc_section_add(s->page, s->judgement, &s->groups, i);
		out->failed = out->failed || drawn[i].failed;
	}
	s->page->out = out;
	return drawn;
}

static bool equal(const tc_buffer *a, const tc_buffer *b)
{
	return a->length == b->length && memcmp(tc_words_text(a), tc_words_text(b), a->length) == 0;
}

/* Parts that look alike are drawn once. */
static void add_drawing(tc_card_sheet *s, const tc_buffer *drawn, uint32_t part)
{
	uint64_t same = 0;
	for (uint32_t i = 0; i < s->judgement->model->parts; i++)
		if (equal(&drawn[i], &drawn[part])) {
			if (i < part)
				return;
			same |= UINT64_C(1) << i;
		}
	tc_words_parts(s->judgement->model, same, &s->text);
	tc_page_heading(s->page, tc_words_text(&s->text));
	s->text.length = 0;
	tc_buffer_add(s->page->out, (tc_text){tc_words_text(&drawn[part]), drawn[part].length});
}

void tc_card_text_layers(tc_card_sheet *s)
{
	tc_arena *arena = tc_arena_new(s->page->out->from, 0);
	tc_buffer *drawn = arena ? draw(s, arena) : NULL;
	s->page->out->failed = s->page->out->failed || !drawn;
	for (uint32_t i = 0; !s->page->out->failed && i < s->judgement->model->parts; i++)
		add_drawing(s, drawn, i);
	for (uint32_t i = 0; drawn && i < s->judgement->model->parts; i++)
		tc_buffer_free(&drawn[i]);
	tc_arena_free(arena);
}

/* --- to buy ------------------------------------------------------------------------------------------------------- */

static void add_purchase(tc_card_sheet *s, const tc_purchase *p, const char *currency)
{
	tc_buffer_puts(&s->text, p->name);
	if (p->family && strcmp(p->family, p->name) != 0)
		tc_buffer_print(&s->text, " (%s)", p->family);
	if (isfinite(p->volume)) {
		tc_buffer_puts(&s->text, ": ");
		tc_card_purchase_used(p, &s->text);
	} else if (isfinite(p->pack)) {
		tc_buffer_puts(&s->text, ": how much is not known");
	}
	if (p->packs) {
		tc_buffer_puts(&s->text, "; ");
		tc_card_purchase_buy(p, currency, &s->text);
	}
	if (p->steps) {
		tc_buffer_puts(&s->text, p->steps == 1 ? "; step " : "; steps ");
		tc_words_numbers(p->step, p->steps, &s->text);
	}
	tc_card_row_add(s, 2, "[ ]", 6);
}

static void add_sums(tc_card_sheet *s)
{
	const tc_supply *supply = s->plan->supply;
	if (isfinite(supply->cost)) {
		tc_buffer_puts(&s->text, "cost ");
		tc_card_money(supply->cost, supply->currency, &s->text);
		if (supply->priceless) {
			tc_buffer_puts(&s->text, ", without ");
			tc_words_count(
			    supply->priceless, "line that has no price", "lines that have no price", &s->text);
		}
		tc_card_row_add(s, 2, "", 2);
	}
	if (isfinite(supply->waste)) {
		tc_buffer_puts(&s->text, "waste ");
		tc_card_volume(supply->waste, &s->text);
		tc_buffer_puts(&s->text, ", overspray and what is left in cups and of cleaning");
		tc_card_row_add(s, 2, "", 2);
	}
	if (supply->lacks) {
		tc_buffer_puts(&s->text, "no amounts where an area is missing: say `area` or `size` of ");
		tc_words_parts(s->judgement->model, supply->lacks, &s->text);
		tc_card_row_add(s, 2, "", 2);
	}
}

void tc_card_text_stuff(tc_card_sheet *s)
{
	const tc_supply *supply = s->plan->supply;
	const char *use = NULL;
	if (!supply || supply->purchases == 0)
		return;
	tc_page_heading(s->page, "What it takes");
	for (uint32_t i = 0; i < supply->purchases; i++) {
		const tc_purchase *p = &supply->purchase[i];
		if (!use || strcmp(use, p->use) != 0)
			tc_page_wrap(s->page, TC_INK_FAINT, p->use, 0, 0);
		use = p->use;
		add_purchase(s, p, supply->currency);
	}
	add_sums(s);
}

/* --- air ---------------------------------------------------------------------------------------------------------- */

static void add_sitting(tc_card_sheet *s, const tc_sitting *sitting)
{
	tc_card_moment(s->plan, sitting->from, NAN, &s->text);
	tc_buffer_puts(&s->text, " to ");
	tc_card_moment(s->plan, sitting->to, sitting->from, &s->text);
	tc_buffer_puts(&s->text, ": ");
	tc_card_air(s->plan, sitting, &s->text);
	tc_card_row_add(s, 0, "", 2);
	tc_card_air_open(s->plan, sitting, &s->text);
	tc_card_row_add(s, 0, "", 2);
}

void tc_card_text_air(tc_card_sheet *s)
{
	const tc_breath *breath = s->plan->breath;
	if (!breath || breath->sittings == 0)
		return;
	tc_page_heading(s->page, "Air of the room");
	tc_card_room(s->plan, &s->text);
	tc_card_row_add(s, 0, "", 2);
	for (uint32_t i = 0; i < breath->sittings; i++)
		add_sitting(s, &breath->sitting[i]);
	tc_page_item(s->page, 0, TC_INK_WARNING, "", 0, tc_card_air_defers());
}
