/* The chart as SVG. It says what it shows in title and description, tells things apart by shape and hatching and
 * not by colour, takes dark paper where the reader's page is dark, and holds no script. */
#include <math.h>
#include <string.h>

#include "report/bite_parts.h"

#define TITLE_MOST 84u /* signs of the title */
#define WIDTH 640.0
#define HEIGHT 400.0
#define LEFT 60.0
#define TOP 80.0
#define RIGHT 620.0
#define BOTTOM 330.0

typedef struct drawing {
	const tc_try *t;
	tc_bite_chart chart;
	tc_buffer *out;
	tc_buffer text; /* scratch */
} drawing;

/* Text with the signs of XML written out; what XML cannot hold is made visible. */
static void add_escaped(tc_buffer *out, const char *text)
{
	tc_buffer seen;
	tc_buffer_start(&seen, out->from);
	tc_text_visible(&seen, tc_text_of(text));
	for (size_t i = 0; i < seen.length && !seen.failed; i++) {
		const char c = seen.at[i];
		if (c == '<')
			tc_buffer_puts(out, "&lt;");
		else if (c == '>')
			tc_buffer_puts(out, "&gt;");
		else if (c == '&')
			tc_buffer_puts(out, "&amp;");
		else if (c == '"')
			tc_buffer_puts(out, "&quot;");
		else
			tc_buffer_char(out, c);
	}
	out->failed = out->failed || seen.failed;
	tc_buffer_free(&seen);
}

static void add_number(drawing *d, double number)
{
	tc_buffer_number(d->out, round(number * 10) / 10, 1, 5);
}

/* ` name="number"` */
static void add_measure(drawing *d, const char *name, double number)
{
	tc_buffer_print(d->out, " %s=\"", name);
	add_number(d, number);
	tc_buffer_char(d->out, '"');
}

static const char *scratch(drawing *d)
{
	d->out->failed = d->out->failed || d->text.failed;
	return d->text.length && !d->text.failed ? d->text.at : "";
}

/* The text so far, at a place. */
static void add_text(drawing *d, double x, double y, const char *attributes)
{
	tc_buffer_puts(d->out, "<text");
	add_measure(d, "x", x);
	add_measure(d, "y", y);
	tc_buffer_print(d->out, "%s>", attributes);
	add_escaped(d->out, scratch(d));
	tc_buffer_puts(d->out, "</text>\n");
	d->text.length = 0;
}

static void add_line(drawing *d, double x1, double y1, double x2, double y2, const char *attributes)
{
	tc_buffer_puts(d->out, "<line");
	add_measure(d, "x1", x1);
	add_measure(d, "y1", y1);
	add_measure(d, "x2", x2);
	add_measure(d, "y2", y2);
	tc_buffer_print(d->out, "%s/>\n", attributes);
}

static double x_of(const drawing *d, double time)
{
	return LEFT + (RIGHT - LEFT) * fmin(time / d->chart.end, 1);
}

static double y_of(const drawing *d, double red)
{
	return BOTTOM - (BOTTOM - TOP) * fmin(red / d->chart.most, 1);
}

/* --- what it says ----------------------------------------------------------------------------------------------- */

static void describe(drawing *d)
{
	const tc_try *t = d->t;
	tc_buffer_print(&d->text, "The verdict is: %s. ", tc_bite_word(t->word));
	if (tc_known(t->red)) {
		tc_buffer_puts(&d->text, "RED is ");
		tc_bite_red_words(t->red.number, &d->text);
		tc_buffer_puts(&d->text, " as the liquid lands");
		if (tc_known(t->red_least) && !isnan(t->worst_at)) {
			tc_buffer_puts(&d->text, " and at least ");
			tc_bite_red_words(t->red_least.number, &d->text);
			tc_buffer_puts(&d->text, " after ");
			tc_bite_time(t->worst_at, &d->text);
		}
		tc_buffer_puts(&d->text, "; below 1 it lies inside the solid's sphere. ");
	}
	if (tc_known(t->hot_time)) {
		tc_buffer_puts(&d->text, "It is under attack for ");
		tc_bite_time(t->hot_time.number, &d->text);
		tc_buffer_puts(&d->text, ". ");
	}
	tc_buffer_puts(&d->text, tc_bite_try_first());
}

static void add_head(drawing *d)
{
	tc_buffer_puts(d->out, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"640\" height=\"400\" viewBox=\"0 0 "
	                       "640 400\" role=\"img\" "
	                       "aria-labelledby=\"bite-title bite-about\">\n<title id=\"bite-title\">");
	tc_buffer_puts(&d->text, "RED against time: ");
	tc_bite_title(d->t, &d->text);
	add_escaped(d->out, scratch(d));
	d->text.length = 0;
	tc_buffer_puts(d->out, "</title>\n<desc id=\"bite-about\">");
	describe(d);
	add_escaped(d->out, scratch(d));
	d->text.length = 0;
	tc_buffer_puts(d->out,
	    "</desc>\n<style>\n"
	    ".paper { fill: #fff; }\n.ink { stroke: #111; fill: none; }\n.edge { stroke: #111; }\n"
	    "text { fill: #111; font: 13px sans-serif; }\n.head { font-weight: bold; }\n"
	    ".over { paint-order: stroke; stroke: #fff; stroke-width: 4px; }\n"
	    "@media (prefers-color-scheme: dark) {\n.paper { fill: #161616; }\n.ink, .edge { stroke: #eee; }\ntext { "
	    "fill: #eee; }\n"
	    ".over { stroke: #161616; }\n}\n"
	    "@media print {\n.paper { fill: #fff; }\n.ink, .edge { stroke: #000; }\ntext { fill: #000; }\n.over { "
	    "stroke: #fff; }\n}\n"
	    "</style>\n<defs><pattern id=\"inside\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\">"
	    "<path class=\"edge\" d=\"M-2 10 10 -2M-2 2 2 -2M6 10 10 6\" stroke-width=\"0.5\" "
	    "opacity=\"0.5\"/></pattern></defs>\n"
	    "<rect class=\"paper\" width=\"640\" height=\"400\"/>\n");
}

/* --- axes ------------------------------------------------------------------------------------------------------- */

static void add_red_axis(drawing *d)
{
	for (double red = 0; red <= d->chart.most + 1e-9; red += d->chart.step) {
		add_line(d, LEFT - 5, y_of(d, red), LEFT, y_of(d, red), " class=\"ink\"");
		tc_buffer_number(&d->text, red, 1, 2);
		add_text(d, LEFT - 8, y_of(d, red) + 4, " text-anchor=\"end\"");
	}
	tc_buffer_puts(&d->text, "RED");
	add_text(d, LEFT - 8, TOP - 12, " text-anchor=\"end\"");
}

/* A round step that gives four to eight marks. */
static double time_step(double end)
{
	static const double steps[] = {1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 28800,
	    86400, 172800, 604800, 2592000};
	for (size_t i = 0; i < sizeof steps / sizeof *steps; i++)
		if (end / steps[i] <= 8)
			return steps[i];
	return end / 4;
}

static void add_time_axis(drawing *d)
{
	const double step = time_step(d->chart.end);
	for (unsigned i = 0; i * step <= d->chart.end * (1 + 1e-9); i++) {
		const double x = x_of(d, i * step);
		add_line(d, x, BOTTOM, x, BOTTOM + 5, " class=\"ink\"");
		if (i == 0)
			tc_buffer_puts(&d->text, "0");
		else
			tc_bite_time(i * step, &d->text);
		add_text(d, x, BOTTOM + 20, " text-anchor=\"middle\"");
	}
	tc_buffer_puts(&d->text, "time since the first pass landed");
	add_text(d, (LEFT + RIGHT) / 2, BOTTOM + 40, " text-anchor=\"middle\"");
}

static void add_inside(drawing *d)
{
	tc_buffer_puts(d->out, "<rect fill=\"url(#inside)\"");
	add_measure(d, "x", LEFT);
	add_measure(d, "y", y_of(d, 1));
	add_measure(d, "width", RIGHT - LEFT);
	add_measure(d, "height", BOTTOM - y_of(d, 1));
	tc_buffer_puts(d->out, "/>\n");
	add_line(d, LEFT, y_of(d, 1), RIGHT, y_of(d, 1), " class=\"ink\" stroke-dasharray=\"6 4\"");
	tc_buffer_puts(&d->text, "below 1: inside the solid's sphere");
	add_text(d, RIGHT - 4, BOTTOM - 8, " class=\"over\" text-anchor=\"end\"");
	add_line(d, LEFT, TOP, LEFT, BOTTOM, " class=\"ink\"");
	add_line(d, LEFT, BOTTOM, RIGHT, BOTTOM, " class=\"ink\"");
}

/* --- the curve -------------------------------------------------------------------------------------------------- */

/* One line for each pass, and a triangle where it lands. */
static void add_curve(drawing *d)
{
	const tc_try_moment *m = d->t->moment;
	for (uint32_t i = 0; i < d->chart.moments; i++) {
		if (i == 0 || m[i].pass != m[i - 1].pass)
			tc_buffer_puts(d->out, i == 0 ? "<path class=\"ink\" stroke-width=\"2\" d=\"M" : "M");
		else
			tc_buffer_char(d->out, ' ');
		add_number(d, x_of(d, m[i].time));
		tc_buffer_char(d->out, ',');
		add_number(d, y_of(d, m[i].red));
	}
	tc_buffer_puts(d->out, "\"/>\n");
	for (uint32_t i = 0; i < d->chart.moments; i++)
		if (i == 0 || m[i].pass != m[i - 1].pass) {
			tc_buffer_puts(d->out, "<path class=\"ink\" d=\"M");
			add_number(d, x_of(d, m[i].time) - 4);
			tc_buffer_char(d->out, ',');
			add_number(d, BOTTOM - 8);
			tc_buffer_puts(d->out, "h8l-4,8z\"/>\n");
		}
}

static void add_worst(drawing *d)
{
	const tc_try *t = d->t;
	if (!tc_known(t->red_least) || isnan(t->worst_at) || t->worst_at > d->chart.end)
		return;
	const double x = x_of(d, t->worst_at), y = y_of(d, t->red_least.number);
	const bool right = x > (LEFT + RIGHT) / 2;
	tc_buffer_puts(d->out, "<circle class=\"ink\" r=\"5\"");
	add_measure(d, "cx", x);
	add_measure(d, "cy", y);
	tc_buffer_puts(d->out, "/>\n");
	tc_buffer_puts(&d->text, "at worst ");
	tc_bite_red_words(t->red_least.number, &d->text);
	tc_buffer_puts(&d->text, ", ");
	tc_bite_time(t->worst_at, &d->text);
	add_text(d, right ? x - 8 : x + 8, y + 20 < BOTTOM - 24 ? y + 20 : y - 10,
	    right ? " class=\"over\" text-anchor=\"end\"" : " class=\"over\"");
}

/* The title is cut where it would run out of the picture. */
static void add_captions(drawing *d)
{
	tc_bite_title(d->t, &d->text);
	size_t end = 0, columns = 0;
	while (end < d->text.length && !d->text.failed && columns < TITLE_MOST) {
		uint32_t point;
		end += tc_utf8_next(d->text.at + end, d->text.length - end, &point);
		columns++;
	}
	if (end < d->text.length) {
		d->text.length = end;
		tc_buffer_puts(&d->text, "…");
	}
	add_text(d, 16, 24, "");
	tc_buffer_puts(&d->text, tc_bite_word(d->t->word));
	add_text(d, 16, 44, " class=\"head\"");
	tc_buffer_puts(&d->text, tc_bite_try_first());
	add_text(d, 16, HEIGHT - 8, "");
}

static void add_figure(drawing *d)
{
	if (!d->chart.drawn) {
		tc_buffer_puts(&d->text, d->t->moments ? "RED does not change while it dries" : "nothing to draw");
		if (d->t->moments) {
			tc_buffer_puts(&d->text, ": ");
			tc_bite_red_words(d->t->moment[0].red, &d->text);
		}
		add_text(d, WIDTH / 2, (TOP + BOTTOM) / 2, " text-anchor=\"middle\"");
		return;
	}
	add_inside(d);
	add_red_axis(d);
	add_time_axis(d);
	add_curve(d);
	add_worst(d);
}

void tc_bite_svg(const tc_try *result, tc_buffer *out)
{
	drawing d = {.t = result, .chart = tc_bite_chart_of(result), .out = out};
	tc_buffer_start(&d.text, out->from);
	add_head(&d);
	add_figure(&d);
	add_captions(&d);
	tc_buffer_puts(out, "</svg>\n");
	tc_buffer_free(&d.text);
}
