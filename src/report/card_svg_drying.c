/* How each layer dries: its through-dry share against the time since its last pass, and the moment at which the
 * next layer comes. Layers of which nobody knows it have no drawing. */
#include <math.h>

#include "report/card_parts.h"

#define WIDE 184.0
#define HIGH 104.0
#define LEFT 6.0
#define RIGHT 178.0
#define TOP 22.0
#define BOTTOM 74.0
#define FIRST 60.0          /* s: where the axis begins */
#define LAST (30 * 86400.0) /* and ends */
#define POINTS 56

static double x_of(double age)
{
	const double at = fmin(fmax(age, FIRST), LAST);
	return LEFT + (RIGHT - LEFT) * log(at / FIRST) / log(LAST / FIRST);
}

static double y_of(double share)
{
	return BOTTOM - (BOTTOM - TOP) * fmin(fmax(share, 0), 1);
}

static tc_value dry_at(const tc_card *card, const tc_layer *layer, double age)
{
	return tc_layer_through_dry(card->model, layer, layer->done + age);
}

/* How long it lies before the next layer begins; NAN: it is the last. */
static double next_after(const tc_layer *layer)
{
	const tc_part *part = layer->part;
	return layer->order < part->layers ? part->layer[layer->order]->begun - layer->done : NAN;
}

static bool is_shown(const tc_card *card, const tc_layer *layer)
{
	return layer->step && !layer->old && isfinite(layer->done) && tc_known(dry_at(card, layer, FIRST)) &&
	       tc_known(dry_at(card, layer, LAST));
}

/* A layer of the same step was drawn before, of another part. */
static bool was_drawn(const tc_card *card, uint32_t part, const tc_layer *layer)
{
	for (uint32_t i = 0; i < part; i++)
		for (uint32_t k = 0; k < card->model->part[i].layers; k++)
			if (card->model->part[i].layer[k]->step == layer->step)
				return true;
	return false;
}

/* Of the layers of that step the one that is soonest laid over; itself if none is. */
static const tc_layer *soonest(const tc_card *card, const tc_layer *layer)
{
	const tc_layer *best = layer;
	for (uint32_t i = 0; i < card->model->parts; i++)
		for (uint32_t k = 0; k < card->model->part[i].layers; k++) {
			const tc_layer *other = card->model->part[i].layer[k];
			const double a = next_after(other), b = next_after(best);
			if (other->step == layer->step && is_shown(card, other) && isfinite(a) && !(b <= a))
				best = other;
		}
	return best;
}

/* --- words ------------------------------------------------------------------------------------------------------- */

static void add_share(tc_buffer *words, double share)
{
	tc_buffer_print(words, "%.0f %%", floor(share * 100 + 1e-9));
}

static void add_next(const tc_card *card, const tc_layer *layer, tc_buffer *words)
{
	const double next = next_after(layer);
	const tc_value half = tc_layer_reaches(card->model, layer, 0.9, false);
	if (isfinite(next)) {
		tc_buffer_puts(words, "next after ");
		tc_duration_print(words, next);
		tc_buffer_puts(words, ": ");
		add_share(words, dry_at(card, layer, next).number);
	} else if (tc_known(half)) {
		tc_buffer_puts(words, "90 % dry at ");
		tc_duration_print(words, half.number);
	} else {
		tc_buffer_puts(words, "never 90 % dry");
	}
}

static void describe(tc_card *card, const tc_layer *layer)
{
	static const double ages[] = {3600, 21600, 86400, 604800};
	tc_buffer_print(&card->words, "%s, step %u: ", layer->product->label, (unsigned)layer->step->number);
	for (size_t i = 0; i < sizeof ages / sizeof *ages; i++) {
		add_share(&card->words, dry_at(card, layer, ages[i]).number);
		tc_buffer_puts(&card->words, " after ");
		tc_duration_print(&card->words, ages[i]);
		tc_buffer_puts(&card->words, "; ");
	}
	add_next(card, layer, &card->words);
}

/* --- drawing ----------------------------------------------------------------------------------------------------- */

static void add_curve(tc_card *card, const tc_layer *layer)
{
	tc_html_put(card->out, "<path class=\"curve\" d=\"");
	for (unsigned i = 0; i < POINTS; i++) {
		const double age = FIRST * pow(LAST / FIRST, i / (POINTS - 1.0));
		tc_buffer_char(card->out, i ? 'L' : 'M');
		tc_svg_number(card->out, x_of(age));
		tc_buffer_char(card->out, ' ');
		tc_svg_number(card->out, y_of(dry_at(card, layer, age).number));
	}
	tc_html_put(card->out, "\"/>\n");
}

static void add_axes(tc_card *card)
{
	static const struct {
		double age;
		const char *says, *anchor;
	} ticks[] = {{60, "1 min", "start"}, {3600, "1 h", "middle"}, {86400, "1 d", "middle"}, {LAST, "30 d", "end"}};
	tc_svg_rect(card->out, "frame", LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP);
	for (size_t i = 0; i < sizeof ticks / sizeof *ticks; i++) {
		const double x = x_of(ticks[i].age);
		tc_svg_line(card->out, "grid", x, TOP, x, BOTTOM + 3);
		tc_buffer_puts(&card->words, ticks[i].says);
		tc_svg_said(card, "clock", ticks[i].anchor, x, BOTTOM + 13, 0);
	}
}

static void add_mark(tc_card *card, const tc_layer *layer)
{
	const double next = next_after(layer);
	if (!isfinite(next))
		return;
	const double x = x_of(next), y = y_of(dry_at(card, layer, next).number);
	tc_svg_line(card->out, "next", x, TOP, x, BOTTOM);
	tc_buffer_puts(card->out, "<circle class=\"nextdot\" r=\"3.5\" cx=\"");
	tc_svg_number(card->out, x);
	tc_html_put(card->out, "\" cy=\"");
	tc_svg_number(card->out, y);
	tc_html_put(card->out, "\"/>\n");
}

static void add_drawing(tc_card *card, const tc_layer *layer)
{
	describe(card, layer);
	tc_html_put(card->out, "<div class=\"dry\">\n");
	tc_svg_open(card, "plot", WIDE, HIGH, "Through-dry share against time since the last pass");
	tc_buffer_print(&card->words, "%u  %s", (unsigned)layer->step->number, layer->product->label);
	tc_svg_said(card, "layer ground", "start", LEFT, 14, RIGHT - LEFT);
	add_axes(card);
	add_curve(card, layer);
	add_mark(card, layer);
	add_next(card, layer, &card->words);
	tc_svg_said(card, "layer", "start", LEFT, HIGH - 3, 0);
	tc_svg_close(card);
	tc_html_put(card->out, "</div>\n");
}

/* Is it the first of the layers that share a drawing? */
static bool leads(const tc_card *card, uint32_t part, const tc_layer *layer)
{
	return is_shown(card, layer) && !was_drawn(card, part, layer);
}

uint32_t tc_svg_dries(const tc_card *card)
{
	uint32_t count = 0;
	for (uint32_t i = 0; i < card->model->parts; i++)
		for (uint32_t k = 0; k < card->model->part[i].layers; k++)
			count += leads(card, i, card->model->part[i].layer[k]);
	return count;
}

void tc_svg_drying(tc_card *card)
{
	for (uint32_t i = 0; i < card->model->parts; i++) {
		const tc_part *part = &card->model->part[i];
		for (uint32_t k = 0; k < part->layers; k++)
			if (leads(card, i, part->layer[k]))
				add_drawing(card, soonest(card, part->layer[k]));
	}
}
