/* The timetable drawn: a row for each body, time from left to right. Work is drawn to scale, but never narrower
 * than a finger's width of its number; long waits are cut short where the axis is broken, and their length stands
 * there. A plan that is too wide goes on in a further strip below. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/card_parts.h"

#define WIDTH 712.0
#define LEFT 96.0 /* names of the parts */
#define TOP 30.0  /* days and hours */
#define ROW 22.0
#define BOTTOM 18.0
#define BREAK 10800.0   /* s: a stretch that is longer is cut short */
#define BREAK_WIDE 36.0 /* that is how wide it is drawn */
#define WORK_LEAST 15.0
#define PAUSE_LEAST 3.0
#define LABEL 78.0 /* room for a day and hour */

/* A stretch of the axis between two knots. */
typedef struct stretch {
	double from, to; /* s */
	double x, wide;
	bool broken;
} stretch;

typedef struct strip {
	uint32_t first, last; /* stretches */
	double wide;
} strip;

typedef struct chart {
	tc_card *card;
	double *knot;
	uint32_t knots, stretches, strips, rows;
	stretch *stretch;
	strip *strip;
	uint32_t *row; /* parts */
	double wide;   /* of all strips */
} chart;

/* --- the axis ---------------------------------------------------------------------------------------------------- */

static int by_size(const void *a, const void *b)
{
	const double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

static bool make_knots(chart *c)
{
	const tc_timetable *table = c->card->table;
	c->knot = TC_ARRAY(c->card->arena, 2 * (size_t)table->tasks + 1, double);
	if (!c->knot)
		return false;
	for (uint32_t i = 0; i < table->tasks; i++) {
		c->knot[c->knots++] = table->task[i].start;
		c->knot[c->knots++] = table->task[i].end;
	}
	if (isfinite(c->card->plan->ready) && c->card->plan->ready > table->end)
		c->knot[c->knots++] = c->card->plan->ready;
	qsort(c->knot, c->knots, sizeof *c->knot, by_size);
	uint32_t kept = 0;
	for (uint32_t i = 0; i < c->knots; i++)
		if (kept == 0 || c->knot[i] > c->knot[kept - 1] + 1)
			c->knot[kept++] = c->knot[i];
	c->knots = kept;
	return true;
}

static bool worked_in(const chart *c, double from, double to)
{
	const double middle = (from + to) / 2;
	for (uint32_t i = 0; i < c->card->table->tasks; i++)
		if (c->card->table->task[i].start <= middle && c->card->table->task[i].end >= middle)
			return true;
	return false;
}

static bool begins_stint(const chart *c, double at)
{
	for (uint32_t i = 0; i < c->card->stints; i++)
		if (fabs(c->card->stint[i].from - at) <= 1)
			return true;
	return false;
}

/* Widths at a scale, px/s; returns all of them together. */
static double lay_out(chart *c, double scale)
{
	double all = 0, since = LABEL;
	for (uint32_t i = 0; i + 1 < c->knots; i++) {
		stretch *s = &c->stretch[i];
		*s = (stretch){.from = c->knot[i], .to = c->knot[i + 1]};
		s->broken = s->to - s->from > BREAK;
		s->wide = s->broken ? BREAK_WIDE
		                    : fmax((s->to - s->from) * scale,
		                          worked_in(c, s->from, s->to) ? WORK_LEAST : PAUSE_LEAST);
		if (begins_stint(c, s->from))
			since = 0;
		since += s->wide;
		if (begins_stint(c, s->to) && since < LABEL)
			s->wide += LABEL - since;
		all += s->wide;
	}
	return all;
}

static bool make_stretches(chart *c)
{
	static const double scales[] = {
	    6.0 / 60, 4.0 / 60, 2.5 / 60, 1.5 / 60, 1.0 / 60, 0.7 / 60, 0.5 / 60, 0.35 / 60};
	c->stretches = c->knots - 1;
	c->stretch = TC_ARRAY(c->card->arena, c->stretches, stretch);
	if (!c->stretch)
		return false;
	for (size_t i = 0; i < sizeof scales / sizeof *scales; i++)
		if (lay_out(c, scales[i]) <= WIDTH - LEFT)
			break;
	return true;
}

/* Does a day's label stand at the very end, where it has no room? */
static bool last_label(const chart *c, const strip *s)
{
	const stretch *e = &c->stretch[s->last];
	return s->last == c->stretches - 1 && (begins_stint(c, e->from) || begins_stint(c, e->to));
}

/* A strip ends in the last long wait that it has room for; where there is none, where its room ends. */
static uint32_t strip_end(const chart *c, uint32_t first)
{
	double x = 0;
	uint32_t last = first, wait = TC_NONE;
	for (uint32_t at = first; at < c->stretches; at++) {
		x += c->stretch[at].wide;
		if (at > first && x > WIDTH - LEFT)
			return wait != TC_NONE ? wait : last;
		last = at;
		if (c->stretch[at].broken && at > first)
			wait = at;
	}
	return last;
}

static bool make_strips(chart *c)
{
	uint32_t room = 0;
	for (uint32_t first = 0; first < c->stretches; first = c->strip[c->strips - 1].last + 1) {
		if (!tc_arena_grow(c->card->arena, (void **)&c->strip, c->strips, &room, sizeof *c->strip))
			return false;
		strip *s = &c->strip[c->strips++];
		*s = (strip){.first = first, .last = strip_end(c, first)};
		for (uint32_t i = first; i <= s->last; i++) {
			c->stretch[i].x = LEFT + s->wide;
			s->wide += c->stretch[i].wide;
		}
		c->wide = fmax(c->wide, LEFT + s->wide + (last_label(c, s) ? LABEL : 2));
	}
	return true;
}

static double from_of(const chart *c, const strip *s)
{
	return c->stretch[s->first].from;
}

static double to_of(const chart *c, const strip *s)
{
	return c->stretch[s->last].to;
}

static double x_of(const chart *c, const strip *s, double at)
{
	for (uint32_t i = s->first; i <= s->last; i++) {
		const stretch *e = &c->stretch[i];
		if (at <= e->to)
			return e->x + e->wide * fmax(0, at - e->from) / (e->to - e->from);
	}
	return c->stretch[s->last].x + c->stretch[s->last].wide;
}

/* --- rows -------------------------------------------------------------------------------------------------------- */

static bool make_rows(chart *c)
{
	const tc_model *model = c->card->model;
	c->row = TC_ARRAY(c->card->arena, model->parts + 1, uint32_t);
	for (uint32_t i = 0; c->row && i < model->parts; i++)
		if (model->part[i].written->whole == i)
			c->row[c->rows++] = i;
	return c->row != NULL;
}

static bool on_body(const chart *c, const tc_task *task, uint32_t body)
{
	for (uint32_t i = 0; i < c->card->model->parts; i++)
		if (task->parts >> i & 1 && c->card->model->part[i].written->whole == body)
			return true;
	return false;
}

static void add_span(const chart *c, const strip *s, const char *class, double from, double to, double y, double high)
{
	const double a = fmax(from, from_of(c, s)), b = fmin(to, to_of(c, s));
	if (b > a)
		tc_svg_rect(c->card->out, class, x_of(c, s, a), y, x_of(c, s, b) - x_of(c, s, a), high);
}

/* What keeps `to` waiting on its body: hatched from the end of the task before as far as no window is open. */
static void add_closed(const chart *c, const strip *s, uint32_t body, uint32_t to, double y)
{
	const tc_timetable *table = c->card->table;
	const double until = table->task[to].start;
	for (uint32_t i = 0; i < table->bounds; i++) {
		const tc_bound *b = &table->bound[i];
		if (b->to != to || b->to_end || b->from >= table->tasks || !on_body(c, &table->task[b->from], body) ||
		    b->kind == TC_BOUND_ORDER || b->kind == TC_BOUND_HANDS || b->kind == TC_BOUND_HOURS)
			continue;
		const double end = table->task[b->from].end;
		double open = end;
		for (uint32_t w = 0; w < b->windows; w++) {
			add_span(c, s, "closed", open, fmin(until, end + b->window[w].from), y + 5, ROW - 10);
			open = end + b->window[w].to;
		}
		add_span(c, s, "closed", open, until, y + 5, ROW - 10);
	}
}

static void add_block(const chart *c, const strip *s, const tc_task *task, double y)
{
	const double from = fmax(task->start, from_of(c, s)), to = fmin(task->end, to_of(c, s));
	if (task->start > to_of(c, s) || task->end < from_of(c, s) || (to <= from && s != c->strip))
		return;
	const double x = x_of(c, s, from), wide = fmax(x_of(c, s, to) - x, 3);
	tc_svg_rect(c->card->out, task->attended ? "hands" : "alone", x, y + 3, wide, ROW - 6);
	tc_buffer_print(&c->card->words, "%u", (unsigned)task->step->number);
	if (wide >= WORK_LEAST - 1)
		tc_svg_said(c->card, task->attended ? "in" : "on", "middle", x + wide / 2, y + ROW / 2 + 4, 0);
	c->card->words.length = 0;
}

static void add_row(const chart *c, const strip *s, uint32_t body, double y)
{
	const tc_timetable *table = c->card->table;
	tc_buffer_puts(&c->card->words, c->card->model->part[body].written->name);
	tc_svg_said(c->card, "name", "end", LEFT - 8, y + ROW / 2 + 4, LEFT - 10);
	tc_svg_line(c->card->out, "thread", LEFT, y + ROW / 2, LEFT + s->wide, y + ROW / 2);
	for (uint32_t i = 0; i < table->tasks; i++)
		if (on_body(c, &table->task[i], body))
			add_closed(c, s, body, i, y);
	for (uint32_t i = 0; i < table->tasks; i++)
		if (on_body(c, &table->task[i], body))
			add_block(c, s, &table->task[i], y);
}

/* --- a strip ----------------------------------------------------------------------------------------------------- */

/* The day without its year. */
static void add_day(const chart *c, double at)
{
	tc_buffer *words = &c->card->words;
	tc_card_day(c->card->plan, at, words);
	if (!tc_card_has_dates(c->card->plan) || words->failed)
		return;
	while (words->length > 0 && words->at[words->length - 1] != ' ')
		words->length--;
	if (words->length > 0)
		words->at[--words->length] = '\0';
}

static void add_bands(const chart *c, const strip *s, double high)
{
	for (uint32_t i = 0; i < c->card->stints; i++) {
		const tc_stint *stint = &c->card->stint[i];
		if (stint->from < from_of(c, s) || stint->from >= to_of(c, s))
			continue;
		const double x = x_of(c, s, stint->from);
		add_span(c, s, "band", stint->from, stint->to, TOP - 2, high + 4);
		tc_svg_line(c->card->out, "edge", x, 4, x, TOP + high + 4);
		add_day(c, stint->from);
		tc_svg_said(c->card, "daylabel", "start", x + 3, 12, 0);
		tc_card_clock(c->card->plan, stint->from, &c->card->words);
		tc_svg_said(c->card, "clock", "start", x + 3, 24, 0);
	}
}

static void add_breaks(const chart *c, const strip *s, double y)
{
	tc_svg_line(c->card->out, "axis", LEFT, y, LEFT + s->wide, y);
	for (uint32_t i = s->first; i <= s->last; i++) {
		const stretch *e = &c->stretch[i];
		if (!e->broken)
			continue;
		const double x = e->x + e->wide / 2;
		tc_svg_rect(c->card->out, "gap", x - 3, y - 3, 6, 6);
		tc_svg_line(c->card->out, "axis", x - 5, y + 4, x - 1, y - 4);
		tc_svg_line(c->card->out, "axis", x + 1, y + 4, x + 5, y - 4);
		tc_duration_print(&c->card->words, e->to - e->from);
		tc_svg_said(c->card, "clock", "middle", x, y + 14, 0);
	}
}

/* `at 18:30 step 3, wash detergent; …` of the tasks that begin in the strip. */
static void describe(const chart *c, const strip *s)
{
	const tc_timetable *table = c->card->table;
	tc_buffer *words = &c->card->words;
	const char *between = "";
	double before = NAN;
	for (uint32_t i = 0; i < table->tasks; i++) {
		const tc_task *task = &table->task[i];
		if (task->start < from_of(c, s) || task->start > to_of(c, s) ||
		    (task->start == to_of(c, s) && s != &c->strip[c->strips - 1]))
			continue;
		tc_buffer_puts(words, between);
		tc_card_moment(c->card->plan, task->start, before, words);
		tc_buffer_print(words, " step %u, ", (unsigned)task->step->number);
		tc_card_task_short(c->card->plan, task, words);
		between = "; ";
		before = task->start;
	}
	tc_buffer_puts(words, ". The same stands in the list of what to do.");
}

static void add_strip(const chart *c, const strip *s)
{
	const double high = c->rows * ROW;
	describe(c, s);
	tc_svg_open(c->card, "chart", c->wide, TOP + high + BOTTOM + 4, "Work and waiting of each part");
	add_bands(c, s, high);
	for (uint32_t i = 0; i < c->rows; i++)
		add_row(c, s, c->row[i], TOP + i * ROW);
	add_breaks(c, s, TOP + high + 4);
	tc_svg_close(c->card);
}

/* --- the whole --------------------------------------------------------------------------------------------------- */

static void add_sample(tc_buffer *out, const char *class, const char *says)
{
	tc_buffer_print(out,
	    "<span><svg class=\"sample\" viewBox=\"0 0 26 14\" aria-hidden=\"true\" focusable=\"false\">"
	    "<rect class=\"%s\" x=\"1\" y=\"1\" width=\"24\" height=\"12\"/></svg> %s</span>\n",
	    class, says);
}

static void add_key(tc_buffer *out)
{
	tc_html_put(out, "<p class=\"key\">\n");
	add_sample(out, "hands", "hands needed, by step");
	add_sample(out, "alone", "goes by itself");
	add_sample(out, "closed", "too early or too late");
	add_sample(out, "band", "at the bench");
	tc_html_put(out, "<span>Short work is drawn wider; a broken axis cuts a wait short.</span>\n"
	                 "</p>\n");
}

void tc_html_chart(tc_card *card)
{
	chart c = {.card = card, .wide = WIDTH};
	if (!card->timed || card->table->tasks == 0)
		return;
	if (!make_knots(&c)) {
		card->out->failed = true;
		return;
	}
	if (c.knots < 2)
		return;
	if (!make_stretches(&c) || !make_strips(&c) || !make_rows(&c)) {
		card->out->failed = true;
		return;
	}
	tc_html_open(card, "chart", "The work drawn");
	tc_html_put(
	    card->out, "<section class=\"scroll\" aria-label=\"The work drawn, scrolls sideways\" tabindex=\"0\">\n");
	for (uint32_t i = 0; i < c.strips; i++)
		add_strip(&c, &c.strip[i]);
	tc_html_put(card->out, "</section>\n");
	add_key(card->out);
	tc_html_close(card);
}
