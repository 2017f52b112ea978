/* The words of the card, the same in all its forms. All append to a buffer. Words of the recipe stand in them as they were
 * written: each form makes them inert. Moments are s from the calendar's origin. */
#ifndef TC_REPORT_CARD_WORDS_H
#define TC_REPORT_CARD_WORDS_H

#include "plan/plan.h"
#include "report/marks.h"
#include "report/words.h"

/* The judgement that the card speaks of: at the times of the table, or as written where there are none. */
const tc_judgement *tc_card_judgement(const tc_plan *plan);
/* Are there times (of the clock, or from the beginning)? Are there dates? */
bool tc_card_has_times(const tc_plan *plan);
bool tc_card_has_dates(const tc_plan *plan);

/* Cuts what was put together to a length that it had before. */
void tc_card_cut(tc_buffer *buffer, size_t length);

/* A text on one line: line ends and tabs as blanks, other control and direction characters made visible. */
void tc_card_plain(tc_buffer *out, const char *text);

/* --- the head ----------------------------------------------------------------------------------------------------- */
/* The heaviest thing that stands against the plan: TC_V_ERROR too where there is no timetable; TC_V_NOTE: nothing that
 * counts. */
tc_verdict tc_card_weight(const tc_plan *plan);
/* In a line: `a timetable, and nothing found wrong`, `1 error, 2 warnings at these times`, `no timetable: …`. */
void tc_card_verdict(const tc_plan *plan, tc_buffer *out);
/* What stands behind the counts in that line: `; with so many windows there may be an earlier one` …; empty if nothing does. */
void tc_card_verdict_rest(const tc_plan *plan, tc_buffer *out);
/* `21 °C, 55 % humidity, air 0.3 m/s (assumed)` */
void tc_card_weather(const tc_plan *plan, tc_buffer *out);
/* `Sat 17 May 2031 18:30 (Invented/Zone)`, `whenever you like: times count from the beginning` */
void tc_card_begins(const tc_plan *plan, tc_buffer *out);
/* `Mon 19 May 2031 20:15; through-dry on Tue 20 May 2031 08:00` ; empty without times */
void tc_card_ready(const tc_plan *plan, tc_buffer *out);

/* --- moments ------------------------------------------------------------------------------------------------------ */
/* `Sat 17 May 2031`; without dates `day 3`. */
void tc_card_day(const tc_plan *plan, double at, tc_buffer *out);
/* `18:30`; without dates hours and minutes from the beginning of that day, counted in 24 h from the first task, `+2:30`. */
void tc_card_clock(const tc_plan *plan, double at, tc_buffer *out);
/* Both, the day only where it is not that of `beside` (NAN: always). */
void tc_card_moment(const tc_plan *plan, double at, double beside, tc_buffer *out);
bool tc_card_same_day(const tc_plan *plan, double a, double b);
/* ISO 8601: `2031-05-17T18:30:00+02:00`; without a zone no offset; without dates a duration, `PT26H30M`. */
void tc_card_iso(const tc_plan *plan, double at, tc_buffer *out);

/* --- figures ------------------------------------------------------------------------------------------------------ */
/* `6.4 ml`; `not known` for NAN. m^3. */
void tc_card_volume(double volume, tc_buffer *out);
/* `12.50 EUR`; `not known` for NAN; currency NULL: none is shown. */
void tc_card_money(double amount, const char *currency, tc_buffer *out);
/* `12.50`, never with the point of a locale. Finite. */
void tc_card_cents(double amount, tc_buffer *out);

/* --- tasks -------------------------------------------------------------------------------------------------------- */
/* What is to be done, as a sentence without its full stop: `Coat hull with lamp black: 2 light passes, 5 min apart, thinned
 * 1:1 with lacquer thinner`. */
void tc_card_task(const tc_plan *plan, const tc_task *task, tc_buffer *out);
/* In a few words, without the parts: `coat lamp black`. */
void tc_card_task_short(const tc_plan *plan, const tc_task *task, tc_buffer *out);
/* `20 min`, `about 20 min` where the time is the usual one, `2 h, by itself` where no hands are needed. Empty for 0 s, and where
 * the sentence says it. */
void tc_card_takes(const tc_task *task, tc_buffer *out);
/* `begin by Mon 19 May 2031 19:40; closes 20:10: …`, empty where nothing closes. */
void tc_card_latest(const tc_plan *plan, const tc_task *task, tc_buffer *out);
/* Why it does not begin earlier: the text of the bound; empty if nothing holds it. */
void tc_card_held(const tc_plan *plan, const tc_task *task, tc_buffer *out);
/* When to remind of a task whose latest beginning comes near: the rulebook's share of its room before that; NAN: nothing closes
 * on it. */
double tc_card_alarm(const tc_plan *plan, const tc_task *task);

/* Cautions are numbered from 1 in the order of the judgement. */
bool tc_card_caution_at(const tc_caution_use *use, uint32_t step);
/* `!1–4, 8` of a task; those of the whole plan are not among them. */
void tc_card_caution_marks(const tc_plan *plan, const tc_task *task, tc_buffer *out);
/* Where and why a caution came up: `steps 2, 5–9; lamp black; H226`; may be empty. */
void tc_card_caution_why(const tc_caution_use *use, tc_buffer *out);

/* --- findings, conflicts ------------------------------------------------------------------------------------------ */
/* Where, and its message: `hull; step 12, line 47: …`. */
void tc_card_finding(const tc_judgement *judgement, const tc_group *group, tc_buffer *out);
/* A bound of a conflict: what it asks, between which steps, and `file:line`. */
void tc_card_bound(const tc_plan *plan, const tc_bound *bound, tc_buffer *out);
/* What giving it up would mean. */
void tc_card_bound_dropped(const tc_plan *plan, const tc_bound *bound, tc_buffer *out);

/* --- supply ------------------------------------------------------------------------------------------------------- */
/* `6.4 ml lamp black + 6.4 ml lacquer thinner (1 : 1)`; what it yields, loses and lacks stands in _about. */
void tc_card_cup(const tc_cupful *cup, tc_buffer *out);
void tc_card_cup_about(const tc_plan *plan, const tc_cupful *cup, tc_buffer *out);
/* How much of a purchase is used, and what to buy: `14 ml, of it 6 ml for cleaning`, `1 pack of 30 ml (assumed)`. */
void tc_card_purchase_used(const tc_purchase *purchase, tc_buffer *out);
void tc_card_purchase_buy(const tc_purchase *purchase, const char *currency, tc_buffer *out);

/* --- air ---------------------------------------------------------------------------------------------------------- */
/* What the room was taken for: `room 30 m³ (assumed), no extraction (assumed)`. */
void tc_card_room(const tc_plan *plan, tc_buffer *out);
/* What a sitting puts into the air, and what that needs; `of` which vapours, heaviest first. */
void tc_card_air(const tc_plan *plan, const tc_sitting *sitting, tc_buffer *out);
/* What no figure clears in that sitting: isocyanate, mist, dust, what has no limit or is not known; empty if there is none. */
void tc_card_air_open(const tc_plan *plan, const tc_sitting *sitting, tc_buffer *out);
/* The sentence that stands below all figures of air. Static. */
const char *tc_card_air_defers(void);

#endif
