/* `start`, `sessions`, `zone`. */
#include <string.h>

#include "stack/private.h"
#include "stack/times.h"

/* --- sessions ---------------------------------------------------------------------------------------------------- */

typedef struct gathering {
	tc_reading *r;
	tc_weekly *weekly; /* room for one of each text */
	tc_dated *dated;
	const tc_node **dated_at; /* the text of each */
	uint32_t weeklies, dateds;
} gathering;

#define SUCH "sat 9:00 to 17:00"

static void refuse_text(tc_reading *r, const tc_node *node, const tc_time_error *error)
{
	r->bad = true;
	tc_diag_add(
	    r->diags, TC_ERROR, error->id, tc_node_text_place(r->source, node, error->at), "%s", error->message);
}

static int order_of(const tc_dated *a, const tc_dated *b)
{
	const int32_t day_a = tc_date_number(a->date), day_b = tc_date_number(b->date);
	if (day_a != day_b)
		return day_a < day_b ? -1 : 1;
	return a->from < b->from ? -1 : a->from > b->from;
}

/* `none` stands alone on its day. */
static void check_none(gathering *s, const tc_dated *new, const tc_node *node)
{
	for (uint32_t i = 0; i < s->dateds; i++) {
		const tc_dated *old = &s->dated[i];
		if (tc_date_number(old->date) != tc_date_number(new->date) || (old->to > 0 && new->to > 0))
			continue;
		tc_refuse(s->r, "twice", node,
		    "%04d-%02u-%02u is said twice, and once it has no time; keep one of the two", (int)new->date.year,
		    new->date.month, new->date.day);
		tc_diag_relate(s->r->diags, tc_node_place(s->r->source, s->dated_at[i]), "here, too");
		return;
	}
}

static void add_dated(gathering *s, const tc_said_hours *said, const tc_node *node)
{
	const tc_dated new = {.date = said->date, .from = said->from, .to = said->to};
	check_none(s, &new, node);
	uint32_t at = s->dateds++;
	for (; at > 0 && order_of(&s->dated[at - 1], &new) > 0; at--) {
		s->dated[at] = s->dated[at - 1];
		s->dated_at[at] = s->dated_at[at - 1];
	}
	s->dated[at] = new;
	s->dated_at[at] = node;
}

static void add(gathering *s, const tc_said_hours *said, const tc_node *node)
{
	if (said->dated)
		add_dated(s, said, node);
	else
		s->weekly[s->weeklies++] = (tc_weekly){.days = said->days, .from = said->from, .to = said->to};
}

/* Days that a comma of [ ] took from the hours behind them: `[mon, wed, fri 19:00 to 22:00]`. Counts the texts of days alone
 * from `first` on, and writes down how they would be whole with the text after them; 0: that is not what happened. */
static uint32_t torn_days(const tc_node *list, uint32_t first, tc_buffer *whole)
{
	tc_said_hours said;
	tc_time_error error;
	for (uint32_t i = first; i < list->count; i++) {
		const tc_node *node = list->items[i];
		if (!node->flow || node->style != TC_PLAIN || !tc_scalar_given(node))
			return 0;
		tc_buffer_puts(whole, i > first ? ", " : "");
		tc_buffer_add(whole, tc_text_trim(tc_node_text(node)));
		if (tc_hours_read(tc_node_text(node), &said, &error))
			return said.dated ? 0 : i - first;
		if (!error.no_hours)
			return 0;
	}
	return 0;
}

/* Days without hours: one message for all that were torn off at once. The number of texts that it speaks of. */
static uint32_t refuse_days(tc_reading *r, const tc_node *list, uint32_t i, const tc_time_error *error)
{
	tc_buffer whole;
	tc_buffer_start(&whole, tc_arena_allocator(r->arena));
	const uint32_t torn = torn_days(list, i, &whole);
	if (torn == 0 || whole.failed)
		refuse_text(r, list->items[i], error);
	else
		tc_refuse(r, "hours", list->items[i],
		    "`%s` has no hours: inside [ ] a comma begins the next text; write it in quotes, `\"%s\"`",
		    list->items[i]->text, whole.at);
	tc_buffer_free(&whole);
	return torn ? torn : 1;
}

static void read_list(gathering *s, const tc_node *list)
{
	tc_said_hours said;
	tc_time_error error;
	for (uint32_t i = 0; i < list->count;) {
		const tc_node *node = list->items[i];
		if (!tc_scalar_given(node)) {
			tc_take_text(s->r, node, "sessions", SUCH);
		} else if (tc_hours_read(tc_node_text(node), &said, &error)) {
			add(s, &said, node);
		} else if (error.no_hours) {
			i += refuse_days(s->r, list, i, &error);
			continue;
		} else {
			refuse_text(s->r, node, &error);
		}
		i++;
	}
}

static void read_one(gathering *s, const tc_node *node)
{
	tc_said_hours said;
	tc_time_error error;
	if (!tc_take_text(s->r, node, "sessions", SUCH))
		return;
	if (tc_hours_read(tc_node_text(node), &said, &error))
		add(s, &said, node);
	else
		refuse_text(s->r, node, &error);
}

static void read_sessions(tc_reading *r, const tc_node *node)
{
	const bool list = node->kind == TC_LIST;
	const uint32_t count = list ? node->count : 1;
	if (count == 0)
		tc_refuse(r, "wrong-shape", node,
		    "`sessions` is an empty list; left out it means any time; write `[%s]`", SUCH);
	if (count > TC_SESSIONS_MAX)
		tc_refuse(r, "bound", node, "%u sessions are too many; a recipe has at most %u", (unsigned)count,
		    TC_SESSIONS_MAX);
	if (count == 0 || count > TC_SESSIONS_MAX)
		return;
	gathering s = {.r = r,
	    .weekly = TC_ARRAY(r->arena, count, tc_weekly),
	    .dated = TC_ARRAY(r->arena, count, tc_dated),
	    .dated_at = TC_ARRAY(r->arena, count, const tc_node *)};
	if (!s.weekly || !s.dated || !s.dated_at) {
		r->no_memory = true;
		return;
	}
	if (list)
		read_list(&s, node);
	else
		read_one(&s, node);
	r->recipe->times.hours = (tc_hours){.said = true,
	    .weeklies = s.weeklies,
	    .weekly = s.weekly,
	    .dateds = s.dateds,
	    .dated = s.dated,
	    .place = tc_node_place(r->source, node)};
}

/* --- start and zone ---------------------------------------------------------------------------------------------- */

static void read_start(tc_reading *r, const tc_node *node)
{
	tc_times *times = &r->recipe->times;
	tc_time_error error;
	if (!tc_scalar_given(node)) {
		tc_refuse(r, "wrong-shape", node,
		    "`start` is %s; write a date and maybe an hour, such as `2031-05-17 18:30`", tc_node_shown(node));
	} else if (tc_start_read(tc_node_text(node), &times->start, &error)) {
		times->has_start = true;
		times->start_place = tc_node_place(r->source, node);
	} else {
		refuse_text(r, node, &error);
	}
}

static void read_zone(tc_reading *r, const tc_node *node)
{
	tc_time_error error;
	const char *name = tc_take_text(r, node, "zone", "Etc/UTC");
	if (!name)
		return;
	const tc_text text = tc_text_trim(tc_node_text(node));
	if (!tc_zone_name_read(text, &error)) {
		refuse_text(r, node, &error);
		return;
	}
	r->recipe->times.zone = tc_arena_text(r->arena, text.at, text.length);
	r->recipe->times.zone_place = tc_node_place(r->source, node);
}

void tc_read_times(tc_reading *r, const tc_node *start, const tc_node *sessions, const tc_node *zone)
{
	if (r->files && r->files->common)
		r->recipe->times = r->files->common->times;
	if (start)
		read_start(r, start);
	if (sessions)
		read_sessions(r, sessions);
	if (zone)
		read_zone(r, zone);
}
