/* What the parts of the card's page share. Each part adds its section, or nothing where there is nothing to say.
 * Text of a recipe reaches the page through tc_html_text and tc_html_said alone, which make it inert. */
#ifndef TC_REPORT_CARD_PARTS_H
#define TC_REPORT_CARD_PARTS_H

#include "report/card_hands.h"
#include "report/card_words.h"

/* Work that is done in one go: that of a session, or with no long pause in it. */
typedef struct tc_stint {
	uint32_t first, last; /* of the hands */
	double from, to;      /* of the work in it, s */
	tc_span session;      /* that holds it; both NAN where no sessions are said */
} tc_stint;

typedef struct tc_card {
	const tc_plan *plan;
	const tc_timetable *table;
	const tc_judgement *judged; /* at the times of the table, else as written */
	const tc_model *model;      /* of that judgement */
	tc_groups groups;           /* its findings */
	bool timed;
	tc_hands hands; /* none without times */
	uint32_t stints;
	const tc_stint *stint;
	tc_arena *arena;
	tc_buffer *out;
	tc_buffer words;   /* scratch: words are put together here, then said */
	unsigned drawings; /* so far: each has ids of its own */
} tc_card;

/* False: out of memory. */
bool tc_card_start(tc_card *card, const tc_plan *plan, tc_arena *arena, tc_buffer *out);
void tc_card_end(tc_card *card);

/* --- markup ------------------------------------------------------------------------------------------------------ */
/* Markup as it is: literals of this program only. */
void tc_html_put(tc_buffer *out, const char *markup);
/* Text between tags or within the quotes of an attribute: markup escaped; control, direction and line-separating
 * characters made visible; line ends and tabs as blanks; a number is not parted from the unit behind it. */
void tc_html_text(tc_buffer *out, const char *text);
/* The words put together so far, as text; then there are none. */
void tc_html_said(tc_card *card);
/* The same with a tag around that isolates the direction of its text. */
void tc_html_isolated(tc_card *card, const char *text);
/* Text that isolates its direction, too, in which `…` is code. No words may be waiting. */
void tc_html_code(tc_card *card, const char *text);
/* A name of the rulebook in words: blanks for its hyphens. */
void tc_html_id(tc_card *card, const char *id);
bool tc_html_any(const tc_card *card); /* have words been put together? */

/* `<section aria-labelledby=…><h2 id=…>`; the id is made of lower-case letters and hyphens. */
void tc_html_open(tc_card *card, const char *id, const char *heading);
void tc_html_close(tc_card *card);

/* The head of a page up to its body, and its end. */
void tc_html_page(tc_buffer *out, const char *title, const char *body_class);
void tc_html_page_end(tc_buffer *out);
extern const char *const tc_card_style[]; /* NULL behind the last piece */

/* --- drawings ---------------------------------------------------------------------------------------------------- */
/* Patterns that all drawings of the page share: #hatch, #dots, #dense. */
void tc_svg_patterns(tc_buffer *out);
/* Opens a drawing of that size in its own units, with a title (that of `title`, a literal of the program) and a
 * description (the words put together so far) for who cannot see it. */
void tc_svg_open(tc_card *card, const char *class, double width, double height, const char *title);
void tc_svg_close(tc_card *card);
void tc_svg_rect(tc_buffer *out, const char *class, double x, double y, double width, double height);
void tc_svg_line(tc_buffer *out, const char *class, double x1, double y1, double x2, double y2);
void tc_svg_number(tc_buffer *out, double number); /* to a tenth */
/* The words put together so far, at a place, cut with an ellipsis to what `room` holds (0: whole). `anchor`:
 * start, middle, end. */
void tc_svg_said(tc_card *card, const char *class, const char *anchor, double x, double y, double room);

/* --- parts of the page, in the order in which they stand there --------------------------------------------------- */
void tc_html_head(tc_card *card);
void tc_html_conflict(tc_card *card);
void tc_html_findings(tc_card *card);
void tc_html_days(tc_card *card);
void tc_html_chart(tc_card *card);
void tc_html_cups(tc_card *card);
void tc_html_shopping(tc_card *card);
void tc_html_sections(tc_card *card);
void tc_html_air(tc_card *card);
void tc_html_open_questions(tc_card *card);
void tc_html_accepted(tc_card *card);
void tc_html_assumed(tc_card *card);
void tc_html_cautions(tc_card *card);

/* A curve for each layer of which it is known how it dries; how many there are. */
uint32_t tc_svg_dries(const tc_card *card);
void tc_svg_drying(tc_card *card);

/* What they share. */
/* A caution's heading: its id in words. */
void tc_html_caution_name(tc_card *card, uint32_t caution);
/* The day and hours of a stint: `Sat 17 May 2031, 18:30 to 22:00`. */
void tc_html_stint(tc_card *card, const tc_stint *stint);
/* `step 12` with a link to the step's first task, if there is one. */
void tc_html_step_link(tc_card *card, uint32_t step);
/* Where a finding is: its parts, and its step as a link. */
void tc_html_where(tc_card *card, const tc_group *group);
/* The task of a step that comes first; TC_NONE. */
uint32_t tc_card_first_task(const tc_card *card, uint32_t step);

#endif
