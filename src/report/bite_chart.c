/* The chart in a terminal: a row for each tenth or so of the axis, plain ASCII, so that it reads anywhere and
 * aloud the figures above it say the same. */
#include <math.h>
#include <string.h>

#include "report/bite_chart.h"

#define ROWS 10u
#define LEFT 8u /* columns of the axis */
#define COLUMNS_MOST 64u

typedef struct grid {
	const tc_try *result;
	tc_bite_chart chart;
	unsigned columns;
	char cell[ROWS + 1][COLUMNS_MOST + 1];
} grid;

static unsigned row_of(const grid *g, double red)
{
	const double row = (1 - red / g->chart.most) * ROWS;
	return row < 0 ? 0 : row > ROWS ? ROWS : (unsigned)(row + 0.5);
}

/* RED at a time between two moments of one pass, or NAN. */
static double red_at(const grid *g, double time)
{
	const tc_try_moment *m = g->result->moment;
	for (uint32_t i = 0; i + 1 < g->chart.moments; i++) {
		if (m[i].pass != m[i + 1].pass || time < m[i].time || time > m[i + 1].time)
			continue;
		const double length = m[i + 1].time - m[i].time, part = length > 0 ? (time - m[i].time) / length : 0;
		return m[i].red + part * (m[i + 1].red - m[i].red);
	}
	return NAN;
}

static void draw(grid *g)
{
	for (unsigned r = 0; r <= ROWS; r++) {
		memset(g->cell[r], r == row_of(g, 1) ? '-' : ' ', g->columns);
		g->cell[r][g->columns] = '\0';
	}
	for (unsigned c = 0; c < g->columns; c++) {
		const double red = red_at(g, (c + 0.5) * g->chart.end / g->columns);
		if (!isnan(red))
			g->cell[row_of(g, red)][c] = red < 1 ? '#' : '*';
	}
}

/* What stands left of a row: the axis at its marks and at 1. */
static void label_of(const grid *g, unsigned row, tc_buffer *out)
{
	const double from = (1 - (row + 0.5) / ROWS) * g->chart.most, to = (1 - (row - 0.5) / ROWS) * g->chart.most;
	const double mark = g->chart.step * ceil(from / g->chart.step - 1e-9);
	out->length = 0;
	if (row == row_of(g, 1))
		tc_buffer_puts(out, "1 ");
	else if (mark < to && mark >= 0)
		tc_buffer_number(out, mark, 1, 2), tc_buffer_char(out, ' ');
}

static void add_rows(const grid *g, tc_page *page)
{
	tc_buffer label;
	tc_buffer_start(&label, page->out->from);
	for (unsigned r = 0; r <= ROWS; r++) {
		label_of(g, r, &label);
		tc_page_cell(page, TC_INK_PLAIN, label.length && !label.failed ? label.at : "", LEFT, true);
		tc_page_put(page, TC_INK_PLAIN, "|");
		tc_page_put(page, TC_INK_PLAIN, g->cell[r]);
		tc_page_break(page);
	}
	tc_buffer_free(&label);
}

/* The axis of time, with a mark where each pass lands. */
static void add_axis(const grid *g, tc_page *page)
{
	char line[COLUMNS_MOST + 1];
	memset(line, '-', g->columns);
	line[g->columns] = '\0';
	uint32_t pass = 0;
	for (uint32_t i = 0; i < g->chart.moments; i++) {
		if (i > 0 && g->result->moment[i].pass == pass)
			continue;
		pass = g->result->moment[i].pass;
		const double at = g->result->moment[i].time / g->chart.end * g->columns;
		line[at < g->columns ? (unsigned)at : g->columns - 1] = '^';
	}
	tc_page_blanks(page, LEFT);
	tc_page_put(page, TC_INK_PLAIN, "+");
	tc_page_put(page, TC_INK_PLAIN, line);
	tc_page_break(page);
}

static void add_times(const grid *g, tc_page *page)
{
	tc_buffer text;
	tc_buffer_start(&text, page->out->from);
	tc_buffer_puts(&text, "0");
	tc_page_blanks(page, LEFT + 1);
	const size_t used = tc_page_put(page, TC_INK_PLAIN, "0");
	text.length = 0;
	tc_bite_time(g->chart.end, &text);
	const char *end = text.failed ? "" : text.at;
	const size_t columns = tc_page_columns(page, end);
	tc_page_blanks(page, g->columns > used + columns ? g->columns - used - columns : 1);
	tc_page_put(page, TC_INK_PLAIN, end);
	tc_page_break(page);
	tc_buffer_free(&text);
}

void tc_bite_chart_text(const tc_try *result, tc_page *page)
{
	grid g = {.result = result, .chart = tc_bite_chart_of(result)};
	if (!g.chart.drawn || page->width < LEFT + 20)
		return;
	g.columns = page->width - LEFT - 2 < COLUMNS_MOST ? page->width - LEFT - 2 : COLUMNS_MOST;
	draw(&g);
	tc_page_heading(page, "RED of what is left, against time");
	add_rows(&g, page);
	add_axis(&g, page);
	add_times(&g, page);
	tc_page_wrap(page, TC_INK_PLAIN, "# below 1, inside the sphere; * outside it; ^ a pass lands", 2, 2);
}
