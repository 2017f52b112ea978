/* The coverage of a rulebook for a person: as text, and as a page for a browser. */
#ifndef TC_REPORT_COVERAGE_H
#define TC_REPORT_COVERAGE_H

#include "judge/coverage.h"
#include "report/page.h"

/* A letter for what a cell says, and what the letter means. */
const char *tc_coverage_mark(tc_coverage_word word);
const char *tc_coverage_gist(tc_coverage_word word);
/* What a row or column is called, and the heading over the rows of its section. */
const char *tc_coverage_name(const tc_coverage_group *group);
const char *tc_coverage_section(tc_section section);
/* `9312 (48.5 %)`: pairs of materials known so, of all. */
void tc_coverage_share(const tc_coverage *coverage, tc_known_by by, tc_buffer *out);
const char *tc_coverage_by(tc_known_by by);

void tc_coverage_text(const tc_coverage *coverage, tc_page *page);
/* One page that needs no other file, no script and no colour. */
void tc_coverage_html(const tc_coverage *coverage, tc_buffer *out);

#endif
