/* The shopping list as CSV (RFC 4180): each text in quotes, lines end in CR LF. A spreadsheet takes a cell for a formula
 * if it begins with certain characters: an apostrophe goes before these. */
#include <math.h>

#include "report/card.h"
#include "report/card_words.h"

#define ML 1e-6 /* m^3 */

/* --- cells -------------------------------------------------------------------------------------------------------- */

/* Plain and full-width `=`, `+`, `-`, `@`, behind blanks too. */
static bool begins_formula(tc_text text)
{
	static const uint32_t starts[] = {'=', '+', '-', '@', 0x2212, 0xFF0B, 0xFF0D, 0xFF1D, 0xFF20};
	const tc_text t = tc_text_trim(text);
	uint32_t point;
	if (t.length == 0)
		return false;
	tc_utf8_next(t.at, t.length, &point);
	for (size_t i = 0; i < sizeof starts / sizeof *starts; i++)
		if (point == starts[i])
			return true;
	return false;
}

static void add_text(tc_buffer *out, const char *text)
{
	tc_buffer plain;
	tc_buffer_start(&plain, out->from);
	tc_card_plain(&plain, text);
	const tc_text t = {tc_words_text(&plain), plain.failed ? 0 : plain.length};
	tc_buffer_char(out, '"');
	if (begins_formula(t))
		tc_buffer_char(out, '\'');
	for (size_t i = 0; i < t.length; i++) {
		if (t.at[i] == '"')
			tc_buffer_char(out, '"');
		tc_buffer_char(out, t.at[i]);
	}
	tc_buffer_char(out, '"');
	out->failed = out->failed || plain.failed;
	tc_buffer_free(&plain);
}

/* A cell behind the first; empty for what is not known. */
static void add_number(tc_buffer *out, double number, double unit)
{
	tc_buffer_char(out, ',');
	if (isfinite(number))
		tc_buffer_number(out, number / unit, 1, 4);
}

static void add_amount(tc_buffer *out, double amount)
{
	tc_buffer_char(out, ',');
	if (isfinite(amount))
		tc_card_cents(amount, out);
}

/* --- lines -------------------------------------------------------------------------------------------------------- */

static void add_purchase(tc_buffer *out, const tc_purchase *p, const char *currency)
{
	tc_buffer steps;
	tc_buffer_start(&steps, out->from);
	for (uint32_t i = 0; i < p->steps; i++)
		tc_buffer_print(&steps, "%s%u", i ? " " : "", (unsigned)p->step[i]);
	add_text(out, p->use);
	tc_buffer_char(out, ',');
	add_text(out, p->name);
	tc_buffer_char(out, ',');
	add_text(out, p->family);
	add_number(out, p->volume, ML);
	tc_buffer_puts(out, p->more ? ",yes" : ",no");
	add_number(out, p->cleaning, ML);
	add_number(out, p->pack, ML);
	tc_buffer_puts(out, !isfinite(p->pack) ? "," : p->pack_assumed ? ",yes" : ",no");
	if (p->packs)
		tc_buffer_print(out, ",%zu", p->packs);
	else
		tc_buffer_char(out, ',');
	add_amount(out, p->price);
	add_amount(out, p->cost);
	tc_buffer_char(out, ',');
	add_text(out, currency);
	add_number(out, p->left, ML);
	tc_buffer_puts(out, p->on_shelf ? ",yes," : ",no,");
	add_text(out, tc_words_text(&steps));
	tc_buffer_puts(out, "\r\n");
	out->failed = out->failed || steps.failed;
	tc_buffer_free(&steps);
}

void tc_card_csv(const tc_plan *plan, tc_buffer *out)
{
	tc_buffer_puts(out, "use,name,family,used (ml),and more,of it cleaning (ml),pack (ml),pack assumed,packs,price "
	                    "of a pack,cost,currency,"
	                    "left over (ml),on the shelf,steps\r\n");
	for (uint32_t i = 0; i < plan->supply->purchases; i++)
		add_purchase(out, &plan->supply->purchase[i], plan->supply->currency);
}
