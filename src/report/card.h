/* The bench card: the sheet that one tapes to the wall, in the forms that people and programs read. Decides nothing: all
 * comes from the plan. No text of a recipe reaches a form without being made inert there. */
#ifndef TC_REPORT_CARD_H
#define TC_REPORT_CARD_H

#include "plan/plan.h"
#include "report/page.h"

/* The plan on a terminal or a sheet of plain text. */
void tc_card_text(const tc_plan *plan, tc_page *page);

/* One HTML page that needs no other file, no network and no script: prints on A4 and Letter, light and dark. */
void tc_card_html(const tc_plan *plan, tc_buffer *out);

/* An iCalendar object (RFC 5545): each task that needs hands, with alarms for windows that close. `stamp`: seconds since 1970,
 * for DTSTAMP. Without times: TC_BAD. TC_NO_MEMORY or TC_OK. */
tc_status tc_card_ical(const tc_plan *plan, double stamp, tc_buffer *out);

/* The shopping list as CSV (RFC 4180), with a heading line; no cell begins a formula. */
void tc_card_csv(const tc_plan *plan, tc_buffer *out);

/* The whole plan as one JSON document (docs/json.md). TC_NO_MEMORY or TC_OK. */
tc_status tc_card_json(const tc_plan *plan, tc_buffer *out);

/* A row of an index of cards. */
typedef struct tc_card_row {
	const char *title, *file; /* of the recipe */
	const char *link;         /* of its card, relative to the index; NULL: there is none */
	const char *verdict;      /* in words */
	tc_verdict weight;        /* the heaviest finding; TC_V_NOTE: none that counts */
	bool read;                /* false: could not be read, `verdict` says why */
	uint32_t parts, steps;
	double lasts;      /* s; NAN */
	const char *ready; /* when it is done, in words; NULL */
	double cost;       /* NAN */
	const char *currency;
} tc_card_row;
void tc_card_index_html(const tc_card_row *row, uint32_t rows, tc_buffer *out);

#endif
