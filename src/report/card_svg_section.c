/* The cross-section of each part, to scale: films as they are at the end, top coat first. What is thinner than a
 * line is drawn as one, what is far thicker than all else is cut short, and both say so. Engraved lines are drawn
 * before and after. */
#include <math.h>
#include <string.h>

#include "report/card_parts.h"

#define WIDE 300.0
#define BAND_X 14.0
#define BAND_WIDE 80.0
#define LABEL_X 106.0
#define STACK 110.0    /* all whole layers together */
#define SCALE_MOST 5e6 /* drawn for each m: 5 for 1 µm */
#define LEAST 3.0      /* a layer is no thinner than that */
#define SPOT_MOST 26.0 /* a spot of filler no thicker */
#define UNKNOWN_HIGH 10.0
#define PITCH 16.0 /* of labels */
#define BASE 16.0
#define TOP 8.0

typedef struct band {
	const tc_layer *layer; /* NULL: the substrate */
	double film;           /* m; NAN: not known */
	double y, high;
	bool thinner, cut;
} band;

typedef struct section {
	tc_card *card;
	const tc_part *part;
	uint32_t bands;
	band *band; /* from the top */
	double scale, high;
	uint64_t parts; /* that look the same */
	bool thinner, cut;
} section;

/* --- what lies there --------------------------------------------------------------------------------------------- */

static double film_of(const tc_card *card, const tc_layer *layer)
{
	const tc_value film = tc_layer_film(layer, card->model->end);
	if (film.state == TC_ABSENT)
		return 0;
	return tc_known(film) ? film.number : NAN;
}

static void scale_up(section *s)
{
	double whole = 0;
	for (uint32_t i = 0; i < s->bands; i++)
		if (s->band[i].layer && !s->band[i].layer->spot && isfinite(s->band[i].film))
			whole += s->band[i].film;
	s->scale = whole > 0 ? fmin(STACK / whole, SCALE_MOST) : SCALE_MOST;
}

static void place(section *s)
{
	double y = TOP;
	for (uint32_t i = 0; i < s->bands; i++) {
		band *b = &s->band[i];
		b->y = y;
		b->high = b->layer ? (isnan(b->film) ? UNKNOWN_HIGH : b->film * s->scale) : BASE;
		b->cut = b->layer && b->layer->spot && b->high > SPOT_MOST;
		if (b->cut)
			b->high = SPOT_MOST;
		b->thinner = b->layer && b->high < LEAST;
		if (b->thinner)
			b->high = LEAST;
		s->thinner = s->thinner || b->thinner;
		s->cut = s->cut || b->cut;
		y += b->high;
	}
	s->high = fmax(y, TOP + s->bands * PITCH) + 6;
}

static bool make_section(section *s)
{
	s->band = TC_ARRAY(s->card->arena, s->part->layers + 1, band);
	if (!s->band)
		return false;
	for (uint32_t i = s->part->layers; i-- > 0;) {
		const tc_layer *layer = s->part->layer[i];
		const double film = film_of(s->card, layer);
		if (film > 0 || isnan(film))
			s->band[s->bands++] = (band){.layer = layer, .film = film};
	}
	s->band[s->bands++] = (band){0};
	scale_up(s);
	place(s);
	return true;
}

static bool same_band(const band *a, const band *b)
{
	if (!a->layer || !b->layer)
		return a->layer == b->layer;
	return a->layer->product == b->layer->product && a->layer->step == b->layer->step &&
	       (a->film == b->film || (isnan(a->film) && isnan(b->film)));
}

static bool same_section(const section *a, const section *b)
{
	if (a->bands != b->bands || a->part->written->substrate != b->part->written->substrate ||
	    tc_known(a->part->line_width) || tc_known(b->part->line_width))
		return false;
	for (uint32_t i = 0; i < a->bands; i++)
		if (!same_band(&a->band[i], &b->band[i]))
			return false;
	return true;
}

/* --- words ------------------------------------------------------------------------------------------------------- */

static void add_length(tc_buffer *out, double length)
{
	tc_quantity_print(out, TC_T_NUMBER, TC_DIM_LENGTH, length, 2, NULL);
}

static void add_label(const section *s, const band *b)
{
	tc_buffer *words = &s->card->words;
	if (!b->layer) {
		tc_buffer_puts(words, s->part->written->substrate->label);
		return;
	}
	if (b->layer->coats > 1)
		tc_buffer_print(words, "%u × ", (unsigned)b->layer->coats);
	tc_buffer_puts(words, b->layer->product->label);
	if (b->layer->old)
		tc_buffer_puts(words, ", old");
}

static void add_film(const section *s, const band *b)
{
	tc_buffer *words = &s->card->words;
	if (!b->layer)
		return;
	if (isnan(b->film))
		tc_buffer_puts(words, "not known");
	else
		add_length(words, b->film);
	tc_buffer_puts(words, b->thinner ? " *" : b->cut ? " †" : "");
}

static void describe(const section *s)
{
	tc_buffer *words = &s->card->words;
	tc_buffer_puts(words, "From the top: ");
	for (uint32_t i = 0; i < s->bands; i++) {
		tc_buffer_puts(words, i ? "; " : "");
		add_label(s, &s->band[i]);
		if (!s->band[i].layer)
			break;
		tc_buffer_puts(words, isnan(s->band[i].film) ? ", thickness " : ", ");
		if (isnan(s->band[i].film))
			tc_buffer_puts(words, "not known");
		else
			add_length(words, s->band[i].film);
	}
}

/* --- drawing ----------------------------------------------------------------------------------------------------- */

static void draw_band(const section *s, uint32_t index)
{
	static const char *const looks[] = {"film0", "film1", "film2"};
	const band *b = &s->band[index];
	tc_buffer *out = s->card->out;
	if (!b->layer) {
		tc_svg_rect(out, "base", BAND_X, b->y, BAND_WIDE, b->high);
	} else if (b->layer->spot) {
		tc_svg_rect(out, "spot", BAND_X + 18, b->y, BAND_WIDE - 36, b->high);
		if (b->cut)
			tc_svg_line(out, "cutline", BAND_X + 13, b->y + b->high / 2 + 3, BAND_X + BAND_WIDE - 13,
			    b->y + b->high / 2 - 3);
	} else {
		tc_svg_rect(out,
		    isnan(b->film)  ? "unknown"
		    : b->layer->old ? "old"
		                    : looks[b->layer->order % 3],
		    BAND_X, b->y, BAND_WIDE, b->high);
	}
}

static void draw_label(const section *s, uint32_t index)
{
	const band *b = &s->band[index];
	const double y = TOP + index * PITCH + PITCH / 2,
	             from = b->layer && b->layer->spot ? BAND_X + BAND_WIDE - 18 : BAND_X + BAND_WIDE;
	tc_svg_line(s->card->out, "leader", from, b->y + b->high / 2, LABEL_X - 4, y);
	if (b->layer && b->layer->step) {
		tc_buffer_print(&s->card->words, "%u", (unsigned)b->layer->step->number);
		tc_svg_said(s->card, "stepno", "end", LABEL_X + 14, y + 4, 0);
	}
	add_label(s, b);
	tc_svg_said(s->card, b->layer ? "layer" : "layer ground", "start", LABEL_X + 20, y + 4,
	    b->layer ? 140 : WIDE - LABEL_X - 22);
	add_film(s, b);
	if (tc_html_any(s->card))
		tc_svg_said(s->card, "film", "end", WIDE - 2, y + 4, 0);
}

/* The longest of 1, 2, 5, 10 … µm that is drawn no longer than 40. */
static double bar_of(double scale)
{
	double bar = 1e-7;
	for (unsigned i = 0; i < 15; i++) {
		static const double steps[] = {2, 2.5, 2};
		const double next = bar * steps[i % 3];
		if (next * scale > 40)
			break;
		bar = next;
	}
	return bar;
}

static void draw_bar(const section *s, double y)
{
	const double bar = bar_of(s->scale), high = bar * s->scale;
	tc_svg_line(s->card->out, "bar", 6, y - high, 6, y);
	tc_svg_line(s->card->out, "bar", 3, y - high, 9, y - high);
	tc_svg_line(s->card->out, "bar", 3, y, 9, y);
}

static void draw(const section *s)
{
	describe(s);
	tc_svg_open(s->card, "cross", WIDE, s->high, "Cross-section, top coat first");
	for (uint32_t i = 0; i < s->bands; i++)
		draw_band(s, i);
	for (uint32_t i = 0; i < s->bands; i++)
		draw_label(s, i);
	const band *ground = &s->band[s->bands - 1];
	if (s->bands > 1)
		draw_bar(s, ground->y);
	tc_svg_close(s->card);
}

static void add_notes(const section *s)
{
	tc_card *card = s->card;
	if (s->bands > 1) {
		tc_buffer_puts(&card->words, "The bar is ");
		add_length(&card->words, bar_of(s->scale));
		tc_buffer_puts(&card->words, " of film.");
	}
	if (s->thinner)
		tc_buffer_puts(&card->words, " * thinner than it is drawn.");
	if (s->cut)
		tc_buffer_puts(&card->words, " † a spot, drawn cut short.");
	tc_html_said(card);
}

/* --- engraved lines ---------------------------------------------------------------------------------------------- */

#define LINE_WIDE 300.0
#define LINE_HIGH 92.0
#define GROOVE 54.0 /* the larger of width and depth */

static bool has_lines(const tc_part *p)
{
	return tc_known(p->line_width) && tc_known(p->line_depth) && tc_known(p->width_left) && tc_known(p->depth_left);
}

/* Width and depth. */
static void add_size(tc_buffer *out, double width, double depth)
{
	add_length(out, width);
	tc_buffer_puts(out, " × ");
	add_length(out, depth);
}

/* A groove and the ground beside it, its mouth at `y`. */
static void add_groove(tc_buffer *out, const char *class, double x, double y, double wide, double deep, double reach)
{
	tc_buffer_print(out, "<path class=\"%s\" d=\"M", class);
	tc_svg_number(out, x - reach);
	tc_buffer_char(out, ' ');
	tc_svg_number(out, y);
	tc_html_put(out, "H");
	tc_svg_number(out, x - wide / 2);
	tc_html_put(out, "v");
	tc_svg_number(out, deep);
	tc_html_put(out, "h");
	tc_svg_number(out, wide);
	tc_html_put(out, "V");
	tc_svg_number(out, y);
	tc_html_put(out, "H");
	tc_svg_number(out, x + reach);
	if (strcmp(class, "cutline") != 0) {
		tc_html_put(out, "V");
		tc_svg_number(out, LINE_HIGH - 2);
		tc_html_put(out, "H");
		tc_svg_number(out, x - reach);
		tc_html_put(out, "z");
	}
	tc_html_put(out, "\"/>\n");
}

static void describe_line(const section *s)
{
	const tc_part *p = s->part;
	const double scale = s->card->plan->recipe->scale;
	tc_buffer *words = &s->card->words;
	tc_buffer_puts(words, "Engraved lines, width and depth: cut ");
	add_size(words, p->line_width.number, p->line_depth.number);
	if (p->width_left.number <= 0 || p->depth_left.number <= 0) {
		tc_buffer_puts(words, "; paint fills them");
		return;
	}
	tc_buffer_puts(words, "; left ");
	add_size(words, p->width_left.number, p->depth_left.number);
	if (scale > 0) {
		tc_buffer_puts(words, ", at full scale ");
		add_size(words, p->width_left.number * scale, p->depth_left.number * scale);
	}
}

static void draw_line(const section *s)
{
	const tc_part *p = s->part;
	const double k = GROOVE / fmax(p->line_width.number, p->line_depth.number), x = 54;
	describe_line(s);
	tc_svg_open(s->card, "cross", LINE_WIDE, LINE_HIGH, "An engraved line, to scale, as cut and as it is left");
	const double film = (p->line_width.number - fmax(0, p->width_left.number)) / 2 * k;
	const double top = fmin(8 + film, 24);
	add_groove(s->card->out, "film2", x, top - fmin(film, top - 2), fmax(0, p->width_left.number) * k,
	    fmax(0, p->depth_left.number) * k, 40);
	add_groove(s->card->out, "base", x, top, p->line_width.number * k, p->line_depth.number * k, 40);
	tc_buffer_puts(&s->card->words, "line as cut: ");
	add_size(&s->card->words, p->line_width.number, p->line_depth.number);
	tc_svg_said(s->card, "layer", "start", LABEL_X, 24, 0);
	tc_buffer_puts(&s->card->words, "painted: ");
	if (p->width_left.number > 0 && p->depth_left.number > 0)
		add_size(&s->card->words, p->width_left.number, p->depth_left.number);
	else
		tc_buffer_puts(&s->card->words, "filled");
	tc_svg_said(s->card, "layer ground", "start", LABEL_X, 44, 0);
	if (s->card->plan->recipe->scale > 0 && p->width_left.number > 0 && p->depth_left.number > 0) {
		const double scale = s->card->plan->recipe->scale;
		tc_buffer_puts(&s->card->words, "at full scale: ");
		add_size(&s->card->words, p->width_left.number * scale, p->depth_left.number * scale);
		tc_svg_said(s->card, "layer", "start", LABEL_X, 64, 0);
	}
	tc_svg_close(s->card);
}

/* --- the whole --------------------------------------------------------------------------------------------------- */

static void add_section(const section *s)
{
	tc_card *card = s->card;
	tc_html_put(card->out, "<figure>\n<figcaption><b>");
	tc_words_parts(card->model, s->parts, &card->words);
	tc_html_isolated(card, tc_words_text(&card->words));
	card->words.length = 0;
	tc_html_put(card->out, "</b> <span class=\"aside\">");
	add_notes(s);
	tc_html_put(card->out, "</span></figcaption>\n");
	draw(s);
	if (has_lines(s->part))
		draw_line(s);
	tc_html_put(card->out, "</figure>\n");
}

/* On paper three sections, or four curves, stand in a row: do more curves than two belong to a row of two sections,
 * they go into a row of their own. */
static bool crowded(const tc_card *card, const section *all)
{
	uint32_t figures = 0;
	for (uint32_t i = 0; i < card->model->parts; i++)
		figures += all[i].parts != 0;
	return figures % 3 == 2 && tc_svg_dries(card) > 2;
}

void tc_html_sections(tc_card *card)
{
	const uint32_t parts = card->model->parts;
	section *all = TC_ARRAY(card->arena, parts + 1, section);
	if (!all || parts == 0) {
		card->out->failed = card->out->failed || !all;
		return;
	}
	for (uint32_t i = 0; i < parts; i++) {
		all[i] = (section){.card = card, .part = &card->model->part[i]};
		if (!make_section(&all[i])) {
			card->out->failed = true;
			return;
		}
		uint32_t first = 0;
		while (first < i && !same_section(&all[first], &all[i]))
			first++;
		all[first].parts |= UINT64_C(1) << i;
	}
	tc_html_open(card, "layers", tc_svg_dries(card) ? "The layers, and how they dry" : "The layers");
	if (tc_svg_dries(card))
		tc_html_put(card->out, "<p class=\"aside\">Curves: how far a layer is dry all through, against the "
		                       "time since its last pass; the dot is "
		                       "when the next layer comes.</p>\n");
	tc_html_put(card->out, crowded(card, all) ? "<div class=\"figures apart\">\n" : "<div class=\"figures\">\n");
	for (uint32_t i = 0; i < parts; i++)
		if (all[i].parts)
			add_section(&all[i]);
	tc_svg_drying(card);
	tc_html_put(card->out, "</div>\n");
	tc_html_close(card);
}
