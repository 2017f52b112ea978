/* What to mix and what to buy, as tables that fall into blocks where the page is narrow. */
#include <math.h>
#include <string.h>

#include "report/card_parts.h"

/* --- cells ------------------------------------------------------------------------------------------------------- */

/* Opens a cell that has the heading of its column with it, for narrow pages. */
static void open_cell(tc_card *card, const char *column)
{
	tc_buffer_print(card->out, "<td class=\"%.*s\" data-of=\"%s\">", (int)strcspn(column, " "), column, column);
}

static void close_cell(tc_card *card)
{
	tc_html_said(card);
	tc_html_put(card->out, "</td>");
}

static void add_money(tc_card *card, double amount)
{
	if (isfinite(amount))
		tc_card_money(amount, card->plan->supply->currency, &card->words);
	else
		tc_buffer_puts(&card->words, "not known");
}

/* --- cups -------------------------------------------------------------------------------------------------------- */

static void add_when(tc_card *card, const tc_cupful *cup)
{
	const tc_task *task = cup->task < card->table->tasks ? &card->table->task[cup->task] : NULL;
	if (card->timed && isfinite(cup->mixed)) {
		tc_card_moment(card->plan, cup->mixed, NAN, &card->words);
		tc_buffer_puts(&card->words, ", ");
		tc_html_said(card);
	}
	if (task)
		tc_html_step_link(card, task->step->number);
}

/* What comes of it, and what of that lands. */
static void add_yield(tc_card *card, const tc_cupful *cup)
{
	open_cell(card, "makes");
	tc_card_volume(cup->ready, &card->words);
	close_cell(card);
	open_cell(card, "lands");
	if (isfinite(cup->lands))
		tc_card_volume(cup->lands, &card->words);
	if (isfinite(cup->transfer)) {
		tc_buffer_puts(&card->words, " (");
		tc_quantity_print(&card->words, TC_T_SHARE, TC_DIM_NONE, cup->transfer, 2, NULL);
		tc_buffer_puts(&card->words, cup->transfer_assumed ? ", assumed)" : ")");
	}
	close_cell(card);
}

static void add_keeps(tc_card *card, const tc_cupful *cup)
{
	tc_buffer *words = &card->words;
	if (isfinite(cup->lives_until) && card->timed) {
		tc_buffer_puts(words, "use it up by ");
		tc_card_moment(card->plan, cup->lives_until, cup->mixed, words);
	}
	if (cup->lacks) {
		tc_buffer_print(words, "%snobody says the area of ", tc_html_any(card) ? "; " : "");
		tc_words_parts(card->model, cup->lacks, words);
	}
	if (cup->estimated) {
		tc_buffer_print(words, "%sarea estimated from the size of ", tc_html_any(card) ? "; " : "");
		tc_words_parts(card->model, cup->estimated, words);
	}
	if (cup->because)
		tc_buffer_print(words, "%s%s", tc_html_any(card) ? "; " : "", cup->because);
}

static void add_cup(tc_card *card, const tc_cupful *cup)
{
	tc_html_put(card->out, "<tr><th scope=\"row\">");
	tc_html_isolated(card, cup->product ? cup->product->label : "");
	tc_html_put(card->out, "</th>");
	open_cell(card, "when");
	add_when(card, cup);
	close_cell(card);
	open_cell(card, "into the cup");
	tc_card_cup(cup, &card->words);
	close_cell(card);
	add_yield(card, cup);
	open_cell(card, "keeps");
	add_keeps(card, cup);
	close_cell(card);
	tc_html_put(card->out, "</tr>\n");
}

void tc_html_cups(tc_card *card)
{
	const tc_supply *supply = card->plan->supply;
	if (!supply || supply->cups == 0)
		return;
	tc_html_open(card, "mix", "To mix");
	tc_html_put(card->out,
	    "<table class=\"flow\">\n<thead><tr><th scope=\"col\">cup of</th><th scope=\"col\">when</th>"
	    "<th scope=\"col\">into the cup, in this order</th><th scope=\"col\">makes</th><th "
	    "scope=\"col\">lands</th><th scope=\"col\">keeps</th></tr></thead>\n"
	    "<tbody>\n");
	for (uint32_t i = 0; i < supply->cups; i++)
		add_cup(card, &supply->cup[i]);
	tc_html_put(card->out, "</tbody>\n</table>\n");
	tc_html_close(card);
}

/* --- shopping ---------------------------------------------------------------------------------------------------- */

enum { PACKS = 1, COSTS = 2 }; /* columns that have something in them */

static unsigned columns_of(const tc_supply *supply)
{
	unsigned columns = 0;
	for (uint32_t i = 0; i < supply->purchases; i++) {
		columns |= supply->purchase[i].packs ? PACKS : 0;
		columns |= isfinite(supply->purchase[i].cost) ? COSTS : 0;
	}
	return columns;
}

static void add_packs(tc_card *card, const tc_purchase *p)
{
	if (p->packs == 0)
		return;
	tc_buffer_print(&card->words, "%zu × ", p->packs);
	tc_card_volume(p->pack, &card->words);
	tc_buffer_puts(&card->words, p->pack_assumed ? " (assumed)" : "");
}

static void add_purchase(tc_card *card, const tc_purchase *p, unsigned columns)
{
	tc_html_put(card->out, "<tr><th scope=\"row\"><i class=\"tick\"></i> ");
	tc_html_isolated(card, p->name);
	if (p->family && strcmp(p->family, p->name) != 0) {
		tc_html_put(card->out, " <span class=\"where\">");
		tc_html_isolated(card, p->family);
		tc_html_put(card->out, "</span>");
	}
	tc_html_put(card->out, "</th>");
	open_cell(card, "for");
	tc_buffer_puts(&card->words, p->use);
	if (p->steps) {
		tc_buffer_puts(&card->words, p->steps == 1 ? ", step " : ", steps ");
		tc_words_numbers(p->step, p->steps, &card->words);
	}
	close_cell(card);
	open_cell(card, "needed");
	if (isfinite(p->volume))
		tc_card_purchase_used(p, &card->words);
	else
		tc_buffer_puts(&card->words, "not known");
	close_cell(card);
	if (columns & PACKS) {
		open_cell(card, "to buy");
		add_packs(card, p);
		close_cell(card);
		open_cell(card, "left over");
		if (isfinite(p->left))
			tc_card_volume(p->left, &card->words);
		close_cell(card);
	}
	if (columns & COSTS) {
		open_cell(card, "cost");
		if (isfinite(p->cost))
			add_money(card, p->cost);
		close_cell(card);
	}
	tc_html_put(card->out, "</tr>\n");
}

/* Is there nothing to tell of it but that it is used? */
static bool is_plain(const tc_purchase *p)
{
	return p->packs == 0 && !isfinite(p->volume) && !isfinite(p->cost);
}

/* What is used and not measured, in a row. */
static void add_plain(tc_card *card)
{
	const tc_supply *s = card->plan->supply;
	bool any = false;
	for (uint32_t i = 0; i < s->purchases; i++) {
		const tc_purchase *p = &s->purchase[i];
		if (!is_plain(p))
			continue;
		tc_html_put(card->out, any ? " " : "<p class=\"rest\"><b>Besides</b>, see how much is left: ");
		tc_html_put(card->out, "<span><i class=\"tick\"></i> ");
		tc_html_isolated(card, p->name);
		if (p->steps) {
			tc_buffer_puts(&card->words, p->steps == 1 ? " (step " : " (steps ");
			tc_words_numbers(p->step, p->steps, &card->words);
			tc_buffer_puts(&card->words, ")");
			tc_html_said(card);
		}
		tc_html_put(card->out, "</span>");
		any = true;
	}
	if (any)
		tc_html_put(card->out, "</p>\n");
}

static void add_sums(tc_card *card)
{
	const tc_supply *s = card->plan->supply;
	tc_html_put(card->out, "<p><b>All together</b> ");
	add_money(card, s->cost);
	if (s->priceless) {
		tc_buffer_puts(&card->words, isfinite(s->cost) ? ", without " : "; without a price: ");
		tc_words_count(s->priceless, isfinite(s->cost) ? "line that has no price" : "line",
		    isfinite(s->cost) ? "lines that have no price" : "lines", &card->words);
		tc_buffer_puts(&card->words, " (write size and price at the label on the shelf)");
	}
	if (isfinite(s->waste)) {
		tc_buffer_puts(&card->words, ". For the hazardous-waste point: about ");
		tc_card_volume(s->waste, &card->words);
	}
	tc_html_said(card);
	tc_html_put(card->out, ".</p>\n");
	if (!s->lacks)
		return;
	tc_html_put(card->out, "<p><b>Not known</b> how much paint ");
	tc_words_parts(card->model, s->lacks, &card->words);
	tc_buffer_puts(&card->words, " takes: write area, or size, at the part");
	tc_html_said(card);
	tc_html_put(card->out, ".</p>\n");
}

static void add_table_head(tc_card *card, unsigned columns)
{
	tc_html_put(card->out,
	    "<table class=\"flow\">\n<thead><tr><th scope=\"col\">what</th><th scope=\"col\">for</th>"
	    "<th scope=\"col\">needed</th>");
	if (columns & PACKS)
		tc_html_put(card->out, "<th scope=\"col\">to buy</th><th scope=\"col\">left over</th>");
	if (columns & COSTS)
		tc_html_put(card->out, "<th scope=\"col\">cost</th>");
	tc_html_put(card->out, "</tr></thead>\n<tbody>\n");
}

static void add_table(tc_card *card)
{
	const tc_supply *supply = card->plan->supply;
	const unsigned columns = columns_of(supply);
	bool any = false;
	for (uint32_t i = 0; i < supply->purchases; i++) {
		if (is_plain(&supply->purchase[i]))
			continue;
		if (!any)
			add_table_head(card, columns);
		any = true;
		add_purchase(card, &supply->purchase[i], columns);
	}
	if (any)
		tc_html_put(card->out, "</tbody>\n</table>\n");
}

void tc_html_shopping(tc_card *card)
{
	if (!card->plan->supply || card->plan->supply->purchases == 0)
		return;
	tc_html_open(card, "buy", "To have at hand, and to buy");
	add_table(card);
	add_plain(card);
	add_sums(card);
	tc_html_close(card);
}
