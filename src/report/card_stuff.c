/* The card's words: findings and conflicts, cups and purchases, air. */
#include <math.h>
#include <string.h>

#include "report/card_words.h"

#define VAPOURS_NAMED 3u /* of a sitting, by share of the limit */

/* --- findings ----------------------------------------------------------------------------------------------------- */

void tc_card_finding(const tc_judgement *judgement, const tc_group *group, tc_buffer *out)
{
	tc_group_where(judgement, group, out);
	tc_buffer_print(out, ": %s", group->first->message);
}

/* --- conflicts ---------------------------------------------------------------------------------------------------- */

static void add_task(const tc_plan *plan, uint32_t task, tc_buffer *out)
{
	const tc_timetable *table = plan->table;
	tc_buffer_print(out, "step %u (", (unsigned)table->task[task].step->number);
	tc_card_task_short(plan, &table->task[task], out);
	tc_buffer_char(out, ')');
}

void tc_card_bound(const tc_plan *plan, const tc_bound *bound, tc_buffer *out)
{
	tc_buffer_puts(out, bound->text ? bound->text : tc_bound_kind_name(bound->kind));
	if (bound->assumed)
		tc_buffer_puts(out, " (as usual for it; nobody says otherwise)");
	tc_buffer_puts(out, bound->from == TC_NONE ? "; for " : "; from ");
	if (bound->from != TC_NONE) {
		add_task(plan, bound->from, out);
		tc_buffer_puts(out, " to ");
	}
	add_task(plan, bound->to, out);
	if (bound->rule)
		tc_buffer_print(out, " [%s]", bound->rule->id);
	if (bound->place.file)
		tc_buffer_print(out, " %s:%u", bound->place.file, (unsigned)bound->place.line);
}

void tc_card_bound_dropped(const tc_plan *plan, const tc_bound *bound, tc_buffer *out)
{
	static const char *const meaning[] = {
	    [TC_BOUND_ORDER] = "the steps would change places; write them in another order if that is right",
	    [TC_BOUND_HANDS] = "a second pair of hands would be needed then",
	    [TC_BOUND_WAIT] = "the wait would be another than the recipe says; write there how long it may be",
	    [TC_BOUND_FLASH] = "the pause between the passes would be another",
	    [TC_BOUND_WINDOW] =
	        "the next layer would come outside of that window; `tiecoat check` says what it then risks",
	    [TC_BOUND_AGE] = "it would be worked on before that age; `tiecoat check` says what it then risks",
	    [TC_BOUND_POT] = "the mix would be too old, or not yet ready; with `mix` before that step it is a new cup",
	    [TC_BOUND_RULE] = "what the rule warns of would have to be accepted",
	    [TC_BOUND_HOURS] =
	        "work would fall outside of the hours; give more of them, or longer ones, under `sessions`",
	    [TC_BOUND_START] = "work would begin earlier",
	};
	(void)plan;
	tc_buffer_puts(out, meaning[bound->kind]);
}

/* --- figures ------------------------------------------------------------------------------------------------------ */

void tc_card_volume(double volume, tc_buffer *out)
{
	if (isfinite(volume))
		tc_quantity_print(out, TC_T_NUMBER, TC_DIM_VOLUME, volume, volume < 1e-4 ? 2 : 3, NULL);
	else
		tc_buffer_puts(out, "not known");
}

void tc_card_money(double amount, const char *currency, tc_buffer *out)
{
	if (!isfinite(amount))
		tc_buffer_puts(out, "not known");
	else {
		tc_card_cents(amount, out);
		tc_buffer_print(out, "%s%s", currency ? " " : "", currency ? currency : "");
	}
}

void tc_card_cents(double amount, tc_buffer *out)
{
	const double cents = rint(fabs(amount) * 100), whole = floor(cents / 100);
	tc_buffer_print(out, "%s%.0f.%02.0f", amount < 0 && cents > 0 ? "-" : "", whole, cents - whole * 100);
}

/* --- cups --------------------------------------------------------------------------------------------------------- */

static void add_terms(const tc_cupful *cup, tc_buffer *out)
{
	tc_buffer_puts(out, " (");
	for (uint32_t i = 0; i < cup->pours; i++) {
		tc_buffer_puts(out, i ? " : " : "");
		tc_buffer_number(out, cup->pour[i].parts, 1, 3);
	}
	tc_buffer_char(out, ')');
}

void tc_card_cup(const tc_cupful *cup, tc_buffer *out)
{
	for (uint32_t i = 0; i < cup->pours; i++) {
		tc_buffer_puts(out, i ? " + " : "");
		if (isfinite(cup->pour[i].volume)) {
			tc_card_volume(cup->pour[i].volume, out);
			tc_buffer_char(out, ' ');
		}
		tc_buffer_puts(out, cup->pour[i].name);
	}
	if (cup->pours > 1)
		add_terms(cup, out);
	if (!isfinite(cup->ready))
		tc_buffer_puts(out, ", how much is not known");
}

/* `2.2 ml land on the parts (35 %, assumed), at the usual film of a pass` */
static void add_cup_losses(const tc_cupful *cup, tc_buffer *out)
{
	if (!isfinite(cup->lands))
		return;
	tc_card_volume(cup->lands, out);
	tc_buffer_puts(out, " of it land on the parts");
	if (isfinite(cup->transfer)) {
		tc_buffer_puts(out, " (");
		tc_quantity_print(out, TC_T_SHARE, TC_DIM_NONE, cup->transfer, 2, NULL);
		tc_buffer_puts(out, cup->transfer_assumed ? " of what is put on, assumed)" : " of what is put on)");
	}
	if (cup->film_assumed)
		tc_buffer_puts(out, ", film as usual");
}

static void add_areas(const tc_plan *plan, const char *lead, uint64_t parts, tc_buffer *out)
{
	if (!parts)
		return;
	tc_buffer_print(out, "%s%s", out->length ? "; " : "", lead);
	tc_words_parts(tc_card_judgement(plan)->model, parts, out);
}

static void add_time(const tc_plan *plan, const char *lead, double at, double beside, tc_buffer *out)
{
	tc_buffer_print(out, "%s%s", out->length ? "; " : "", lead);
	tc_card_moment(plan, at, beside, out);
}

static void add_cleaning(const tc_cupful *cup, tc_buffer *out)
{
	if (!cup->cleaner || !(cup->cleaning > 0))
		return;
	tc_buffer_print(out, "%sthen ", out->length ? "; " : "");
	tc_card_volume(cup->cleaning, out);
	tc_buffer_print(out, " %s to clean the tool", cup->cleaner->label);
	if (cup->cleanings > 1)
		tc_buffer_print(out, ", in %u goes", (unsigned)cup->cleanings);
}

void tc_card_cup_about(const tc_plan *plan, const tc_cupful *cup, tc_buffer *out)
{
	tc_buffer text;
	tc_buffer_start(&text, out->from);
	add_cup_losses(cup, &text);
	add_areas(plan, "nobody says the area of ", cup->lacks, &text);
	add_areas(plan, "area estimated from the size of ", cup->estimated, &text);
	if (cup->ready_from > cup->mixed)
		add_time(plan, "let it stand until ", cup->ready_from, cup->mixed, &text);
	if (isfinite(cup->lives_until))
		add_time(plan, "use it by ", cup->lives_until, cup->mixed, &text);
	if (cup->because)
		tc_buffer_print(&text, "%s%s", text.length ? "; " : "", cup->because);
	add_cleaning(cup, &text);
	tc_buffer_puts(out, tc_words_text(&text));
	out->failed = out->failed || text.failed;
	tc_buffer_free(&text);
}

/* --- purchases ---------------------------------------------------------------------------------------------------- */

void tc_card_purchase_used(const tc_purchase *purchase, tc_buffer *out)
{
	tc_card_volume(purchase->volume, out);
	if (purchase->more && isfinite(purchase->volume))
		tc_buffer_puts(out, " and some for washing or wiping");
	if (purchase->cleaning > 0 && tc_compare(purchase->cleaning, purchase->volume) >= 0) {
		tc_buffer_puts(out, ", all of it for cleaning");
	} else if (purchase->cleaning > 0) {
		tc_buffer_puts(out, ", of it ");
		tc_card_volume(purchase->cleaning, out);
		tc_buffer_puts(out, " for cleaning");
	}
}

void tc_card_purchase_buy(const tc_purchase *purchase, const char *currency, tc_buffer *out)
{
	if (purchase->packs == 0)
		return;
	tc_buffer_print(out, "%zu × ", purchase->packs);
	tc_card_volume(purchase->pack, out);
	if (purchase->pack_assumed)
		tc_buffer_puts(out, " (assumed)");
	if (isfinite(purchase->cost)) {
		tc_buffer_puts(out, ", ");
		tc_card_money(purchase->cost, currency, out);
	}
}

/* --- air ---------------------------------------------------------------------------------------------------------- */

void tc_card_room(const tc_plan *plan, tc_buffer *out)
{
	const tc_breath *breath = plan->breath;
	tc_buffer_puts(out, "room ");
	tc_quantity_print(out, TC_T_NUMBER, TC_DIM_VOLUME, breath->room, 3, NULL);
	tc_buffer_puts(out, breath->room_assumed ? " (assumed), " : ", ");
	if (breath->extraction > 0) {
		tc_quantity_print(out, TC_T_NUMBER, TC_DIM_FLOW, breath->extraction, 3, NULL);
		tc_buffer_puts(out, " drawn to the outdoors");
	} else {
		tc_buffer_puts(out, "nothing drawn to the outdoors");
	}
	if (breath->extraction_assumed)
		tc_buffer_puts(out, " (assumed)");
	if (breath->fresh > breath->extraction) {
		tc_buffer_puts(out, ", ");
		tc_quantity_print(out, TC_T_NUMBER, TC_DIM_FLOW, breath->fresh, 2, NULL);
		tc_buffer_puts(out, " come in by leaks");
	}
}

static double default_of(const tc_plan *plan, tc_default which)
{
	return tc_library_default(tc_card_judgement(plan)->model->library, which)->value.number;
}

static void add_flow(const char *lead, double flow, const char *trail, tc_buffer *out)
{
	if (!(flow > 0) || !isfinite(flow))
		return;
	tc_buffer_puts(out, lead);
	tc_quantity_print(out, TC_T_NUMBER, TC_DIM_FLOW, flow, 2, NULL);
	tc_buffer_puts(out, trail);
}

static void add_index(const tc_sitting *s, tc_buffer *out)
{
	if (isfinite(s->peak_index)) {
		tc_buffer_puts(out, "; at its peak ");
		tc_buffer_number(out, s->peak_index, 1, 2);
		tc_buffer_puts(out, " times the limit values taken together");
	}
	if (isfinite(s->mean_index)) {
		tc_buffer_puts(out, s->peak_index == s->peak_index ? ", over 8 h " : "; over 8 h ");
		tc_buffer_number(out, s->mean_index, 1, 2);
		tc_buffer_puts(out, isfinite(s->peak_index) ? " times" : " times the limit values taken together");
	}
	if (isfinite(s->lel_share)) {
		tc_buffer_puts(out, "; ");
		tc_quantity_print(out, TC_T_SHARE, TC_DIM_NONE, s->lel_share, 2, NULL);
		tc_buffer_puts(out, " of its lower explosive limit");
		if (s->lel_unknown)
			tc_buffer_puts(out, ", without those whose own is not known");
	}
}

void tc_card_air(const tc_plan *plan, const tc_sitting *s, tc_buffer *out)
{
	tc_quantity_print(out, TC_T_NUMBER, TC_DIM_MASS, s->mass, 2, NULL);
	tc_buffer_puts(out, " of solvent into the air");
	for (uint32_t i = 0; i < s->vapours && i < VAPOURS_NAMED; i++)
		tc_buffer_print(out, "%s%s",
		    i > 0                        ? ", "
		    : s->vapours > VAPOURS_NAMED ? ", what weighs most "
		                                 : ": ",
		    s->vapour[i].solvent->name);
	add_index(s, out);
	add_flow("; to keep the peak at the limit values it would take ", s->needed_health, " of fresh air", out);
	if (s->needed_fire > 0 && isfinite(s->needed_fire)) {
		tc_buffer_puts(out, "; to keep it at ");
		tc_quantity_print(out, TC_T_SHARE, TC_DIM_NONE, default_of(plan, TC_D_LEL_SHARE), 2, NULL);
		add_flow(" of the explosive limit ", s->needed_fire, "", out);
	}
	if (isinf(s->clear)) {
		tc_buffer_puts(out, "; with no more fresh air it stays");
	} else if (s->clear > 0) {
		tc_buffer_puts(out, "; down to ");
		tc_quantity_print(out, TC_T_SHARE, TC_DIM_NONE, default_of(plan, TC_D_CLEAR_SHARE), 2, NULL);
		tc_buffer_puts(out, " of the limit values ");
		tc_duration_print(out, tc_wait_round_up(s->clear));
		tc_buffer_puts(out, " after the work");
	}
}

void tc_card_air_open(const tc_plan *plan, const tc_sitting *s, tc_buffer *out)
{
	const size_t from = out->length;
	const struct {
		bool is;
		const char *what;
	} never[] = {{s->isocyanate, "isocyanate"}, {s->mist, "spray mist"}, {s->dust, "dust"}};
	for (size_t i = 0; i < sizeof never / sizeof *never; i++)
		if (never[i].is)
			tc_buffer_print(out, "%s%s", out->length > from ? ", " : "not reckoned: ", never[i].what);
	if (s->unlimited) {
		tc_buffer_puts(out, out->length > from ? "; " : "");
		tc_words_count(s->unlimited, "vapour without a limit value is left out",
		    "vapours without a limit value are left out", out);
	}
	for (uint32_t i = 0; i < s->unknowns; i++) {
		if (i == 0)
			tc_buffer_print(out, "%snot known what evaporates in ", out->length > from ? "; " : "");
		tc_buffer_puts(out, i ? ", " : "");
		add_task(plan, s->unknown[i], out);
	}
}

const char *tc_card_air_defers(void)
{
	return "These figures are of a model: a room that is mixed evenly, and all solvent in it. They clear no room "
	       "and replace no "
	       "measurement. What the label, the safety data sheet, local codes and licensed practice ask comes first.";
}
