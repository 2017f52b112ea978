/* The coverage as a page for a browser: one table that scrolls in its own frame, key and sums beside it. Each cell has its
 * letter, so colour only helps; headers name rows and columns; the frame can be reached and scrolled by keyboard. */
#include "report/coverage.h"
#include "report/xml.h"

static const char head[] =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
    "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
    "<meta name=\"color-scheme\" content=\"light dark\">\n<title>Coverage of the rulebook</title>\n<style>\n";

static const char style[] =
    ":root{color-scheme:light dark;--paper:#fff;--ink:#1b1d20;--soft:#555b63;--line:#c3c8ce;--head:#eef0f3;"
    "--rule:#cfe6d4;--both:#e2f0d9;--model:#e3ebf6;--general:#f6edcf;--part:#fbdcc4;--none:#f6c6c6}\n"
    "@media(prefers-color-scheme:dark){:root{--paper:#15171a;--ink:#e7e9ec;--soft:#a9b0b8;--line:#444a52;--head:#"
    "22262b;"
    "--rule:#1f4a2d;--both:#2b4426;--model:#22344e;--general:#4a401c;--part:#5b3618;--none:#5c2226}}\n"
    "*{box-sizing:border-box}\n"
    "body{margin:0;background:var(--paper);color:var(--ink);font:16px/1.5 system-ui,sans-serif}\n"
    "main{max-width:90rem;margin:0 auto;padding:1rem}\n"
    "h1{font-size:1.6rem;line-height:1.2;margin:.5rem 0}\nh2{font-size:1.2rem;margin:1.6rem 0 .4rem}\n"
    "p,ul,dl{max-width:46rem}\n"
    "dl{display:grid;grid-template-columns:2rem 1fr;gap:.3rem .7rem;margin:.5rem 0}\ndd{margin:0}\n"
    "dt,td{text-align:center;font-weight:600}\ndt{height:1.6rem;line-height:1.6rem}\n"
    "table{border-collapse:collapse}\ncaption{text-align:left;color:var(--soft);padding:0 0 .5rem;caption-side:top}\n"
    "th,td{border:1px solid var(--line);padding:.15rem "
    ".35rem}\nth{font-weight:500;text-align:left;background:var(--head)}\n"
    ".frame{overflow:auto;width:fit-content;max-width:100%;max-height:90vh;border:1px solid var(--line)}\n"
    ".frame:focus-visible{outline:3px solid #4d90d6;outline-offset:2px}\n"
    ".frame table{border-collapse:separate;border-spacing:0;font-size:.875rem}\n"
    ".frame th,.frame td{border-width:0 1px 1px 0}\n.frame td{min-width:1.7rem}\n"
    ".frame thead th{position:sticky;top:0;z-index:1;vertical-align:bottom}\n"
    ".frame tbody th,.frame thead th:first-child{position:sticky;left:0}\n.frame thead th:first-child{z-index:2}\n"
    ".frame tbody th[scope=row]{min-width:7rem;max-width:11rem}\n"
    ".turned{writing-mode:vertical-rl;transform:rotate(180deg);max-height:9.5rem;line-height:1.2}\n"
    ".frame caption{padding:.3rem .35rem}.frame caption span{display:block;max-width:min(40rem,calc(100vw - 3.5rem))}\n"
    ".share{white-space:nowrap}\n"
    ".sum td{text-align:right;font-variant-numeric:tabular-nums;padding:.15rem .7rem}\n"
    ".sum th{padding:.15rem .7rem}\n"
    "th[scope=rowgroup]{font-weight:700}\n"
    ".w0{background:var(--rule)}.w1{background:var(--both)}.w2{background:var(--model)}.w3{background:var(--general)}"
    ".w4{background:var(--part)}.w5{background:var(--none)}\n"
    "li{margin:.2rem 0}\n"
    "@media print{@page{size:A4 "
    "landscape;margin:10mm}main{max-width:none;padding:0}body{font-size:9pt;background:#fff;color:#000}"
    ".frame{overflow:visible;max-height:none;border:0}.frame table{font-size:7pt;border-collapse:collapse}"
    ".frame th,.frame td{border:1px solid #888;position:static!important}.frame td{min-width:0}"
    "tr,li{break-inside:avoid}thead{display:table-header-group}ul{max-width:none}}\n";

static void add_sums(const tc_coverage *c, tc_buffer *out)
{
	tc_buffer_puts(out,
	    "<table class=\"sum\">\n<caption>Pairs of materials, and what is known of them</caption>\n"
	    "<thead><tr><th scope=\"col\">known</th><th scope=\"col\">pairs</th></tr></thead>\n<tbody>\n");
	for (unsigned by = 0; by < TC_KNOWN_COUNT; by++) {
		tc_buffer_puts(out, "<tr><th scope=\"row\">");
		tc_xml_text(out, tc_coverage_by((tc_known_by)by));
		tc_buffer_puts(out, "</th><td class=\"share\">");
		tc_coverage_share(c, (tc_known_by)by, out);
		tc_buffer_puts(out, "</td></tr>\n");
	}
	tc_buffer_puts(out, "</tbody>\n</table>\n");
}

static void add_key(tc_buffer *out)
{
	tc_buffer_puts(out, "<h2>The letters</h2>\n<dl>\n");
	for (unsigned w = 0; w < TC_COVERED_COUNT; w++) {
		tc_buffer_print(out, "<dt class=\"w%u\">%s</dt><dd>", w, tc_coverage_mark((tc_coverage_word)w));
		tc_xml_text(out, tc_coverage_gist((tc_coverage_word)w));
		tc_buffer_puts(out, "</dd>\n");
	}
	tc_buffer_puts(out, "</dl>\n");
}

static void add_columns(const tc_coverage *c, tc_buffer *out)
{
	tc_buffer_puts(out, "<thead>\n<tr><th scope=\"col\">ground</th>");
	for (uint32_t i = 0; i < c->above.count; i++) {
		tc_buffer_puts(out, "<th scope=\"col\"><span class=\"turned\">");
		tc_xml_text(out, tc_coverage_name(&c->above.group[i]));
		tc_buffer_puts(out, "</span></th>");
	}
	tc_buffer_puts(out, "</tr>\n</thead>\n");
}

static void add_cell(const tc_coverage *c, uint32_t row, uint32_t column, tc_buffer *out)
{
	const tc_coverage_cell *cell = tc_coverage_at(c, row, column);
	const tc_coverage_word word = tc_coverage_word_of(cell);
	tc_buffer_print(out, "<td class=\"w%u\" title=\"", (unsigned)word);
	tc_xml_text(out, tc_coverage_name(&c->above.group[column]));
	tc_buffer_puts(out, " on ");
	tc_xml_text(out, tc_coverage_name(&c->below.group[row]));
	for (unsigned by = 0; by < TC_KNOWN_COUNT; by++)
		if (cell->pairs[by])
			tc_buffer_print(out, "; %u %s", (unsigned)cell->pairs[by], tc_coverage_by((tc_known_by)by));
	tc_buffer_print(out, "\">%s</td>", tc_coverage_mark(word));
}

static void add_rows(const tc_coverage *c, tc_buffer *out)
{
	tc_section section = TC_SECTION_COUNT;
	for (uint32_t row = 0; row < c->below.count; row++) {
		if (c->below.group[row].section != section) {
			tc_buffer_puts(out, row ? "</tbody>\n<tbody>\n" : "<tbody>\n");
			section = c->below.group[row].section;
			tc_buffer_print(out, "<tr><th scope=\"rowgroup\">%s</th><td colspan=\"%u\"></td></tr>\n",
			    tc_coverage_section(section), (unsigned)c->above.count);
		}
		tc_buffer_puts(out, "<tr><th scope=\"row\">");
		tc_xml_text(out, tc_coverage_name(&c->below.group[row]));
		tc_buffer_puts(out, "</th>");
		for (uint32_t i = 0; i < c->above.count; i++)
			add_cell(c, row, i, out);
		tc_buffer_puts(out, "</tr>\n");
	}
	tc_buffer_puts(out, c->below.count ? "</tbody>\n" : "");
}

static void add_nothing(const tc_coverage *c, tc_buffer *out)
{
	if (c->nothings == 0)
		return;
	tc_buffer_puts(out, "<h2>Pairs of which nothing is known</h2>\n<ul>\n");
	const tc_entry *below = NULL;
	for (uint32_t i = 0; i < c->nothings; i++) {
		const tc_coverage_pair *pair = &c->nothing[i];
		if (pair->below != below) {
			tc_buffer_puts(out, below ? "</li>\n<li>on <strong>" : "<li>on <strong>");
			tc_xml_text(out, pair->below->name);
			tc_buffer_puts(out, "</strong>: ");
		} else {
			tc_buffer_puts(out, ", ");
		}
		below = pair->below;
		tc_xml_text(out, pair->above->name);
	}
	tc_buffer_puts(out, "</li>\n</ul>\n");
}

void tc_coverage_html(const tc_coverage *coverage, tc_buffer *out)
{
	tc_buffer_puts(out, head);
	tc_buffer_puts(out, style);
	tc_buffer_puts(out,
	    "</style>\n</head>\n<body>\n<main>\n<h1>Coverage of the rulebook</h1>\n"
	    "<p>What is known of each coat on each ground. Rows and columns are kinds; a cell stands for every pair of "
	    "their materials. That a pair is covered means that a plan with it gets an answer, not which.</p>\n");
	add_sums(coverage, out);
	add_key(out);
	tc_buffer_puts(out, "<h2 id=\"matrix\">Coats on grounds</h2>\n"
	                    "<div class=\"frame\" role=\"region\" aria-labelledby=\"matrix\" tabindex=\"0\">\n<table>\n"
	                    "<caption><span>Rows: the ground below. Columns: the coat that is laid. The letters are "
	                    "explained above.</span></caption>\n");
	add_columns(coverage, out);
	add_rows(coverage, out);
	tc_buffer_puts(out, "</table>\n</div>\n");
	add_nothing(coverage, out);
	tc_buffer_puts(out, "</main>\n</body>\n</html>\n");
}
