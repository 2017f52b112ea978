/* The evaluator: a stack machine over flat instructions. It allocates nothing. A truth on the stack is a value of
 * TC_T_TRUTH: T and F are said, U is unknown; a truth field may also be absent, which every test takes for F. */
#include <math.h>
#include <string.h>

#include "rule/private.h"

typedef struct frame {
	const void *const *items;
	uint32_t count, done;
	uint32_t pack; /* TC_FOLD_PACK */
	tc_subject of;
	tc_truth truth;
	uint32_t trues, unsures;
	double sum;
	tc_value best;
	bool any, unknown, assumed;
} frame;

typedef struct machine {
	tc_question *q;
	const tc_expr *x;
	tc_value *top;  /* one past the uppermost value */
	uint32_t valid; /* bits of the memos that hold something */
	frame frames[TC_FOLD_DEPTH_MAX];
	tc_value memos[TC_MEMO_MAX];
	tc_value stack[TC_STACK_MAX + 1];
} machine;

static tc_value truth_value(tc_truth truth)
{
	return (tc_value){
	    .state = (uint8_t)(truth == TC_UNSURE ? TC_UNKNOWN : TC_SAID), .type = TC_T_TRUTH, .truth = truth};
}

tc_truth tc_truth_of(tc_value value)
{
	if (value.state == TC_UNKNOWN)
		return TC_UNSURE;
	return value.state == TC_ABSENT ? TC_FALSE : value.truth;
}

static void push(machine *m, tc_value value)
{
	*m->top++ = value;
}

static void push_truth(machine *m, tc_truth truth)
{
	*m->top++ = truth_value(truth);
}

/* --- fields ------------------------------------------------------------------------------------------------------------ */

static bool is_number_type(unsigned type)
{
	return type == TC_T_NUMBER || type == TC_T_SHARE || type == TC_T_TEMPERATURE;
}

/* What the judge handed over: of the field's type, and never without being a number. */
static inline tc_value taken(tc_value value, unsigned type)
{
	value.type = (uint8_t)type;
	if (tc_known(value) && is_number_type(type) && !isfinite(value.number))
		value.state = TC_UNKNOWN;
	return value;
}

static void do_ask(machine *m, const tc_ins *i)
{
	push(m, taken(m->q->getter->field(m->q, i->b, TC_S_ASK, NULL, NULL), i->a));
}

/* Is something among `count` values absent, or else unknown? */
static tc_state worst(const tc_value *values, uint32_t count)
{
	tc_state state = TC_SAID;
	for (uint32_t i = 0; i < count; i++) {
		if (values[i].state == TC_ABSENT)
			return TC_ABSENT;
		if (values[i].state == TC_UNKNOWN)
			state = TC_UNKNOWN;
	}
	return state;
}

/* A field without arguments of a name: half of all that is asked. */
static void do_field_of_name(machine *m, const tc_ins *i)
{
	const tc_value *receiver = &m->q->bound[i->n - 1];
	tc_value *v = m->top++;
	if (receiver->state == TC_ABSENT || receiver->state == TC_UNKNOWN)
		*v = (tc_value){.state = receiver->state, .type = (uint8_t)i->a};
	else
		*v = taken(m->q->getter->field(m->q, i->b, (tc_subject)receiver->subject, receiver->is, v + 1), i->a);
}

static void do_field(machine *m, const tc_ins *i)
{
	const uint32_t arguments = i->a >> 8;
	const unsigned type = i->a & 0xFF;
	m->top -= arguments;
	tc_value *receiver = m->top - 1;
	const tc_state state = worst(receiver, arguments + 1);
	if (state != TC_SAID)
		*receiver = (tc_value){.state = (uint8_t)state, .type = (uint8_t)type};
	else
		*receiver = taken(
		    m->q->getter->field(m->q, i->b, (tc_subject)receiver->subject, receiver->is, receiver + 1), type);
}

/* A material that is known only by a kind may still turn out to have no such thing. */
static bool is_vague(const machine *m, const tc_value *subject)
{
	if (subject->type != TC_T_SUBJECT || subject->subject < TC_S_LAYER)
		return false;
	const tc_entry *entry = m->q->getter->material(m->q, (tc_subject)subject->subject, subject->is);
	return !entry || entry->is_kind;
}

static void do_has(machine *m, const tc_ins *i)
{
	m->top -= i->n;
	tc_value *receiver = m->top - 1;
	const tc_state state = worst(receiver, i->n + 1u);
	if (state != TC_SAID) {
		*receiver = truth_value(state == TC_ABSENT ? TC_FALSE : TC_UNSURE);
		return;
	}
	const tc_value value =
	    m->q->getter->field(m->q, i->b, (tc_subject)receiver->subject, receiver->is, receiver + 1);
	tc_truth has = value.state == TC_ABSENT ? TC_FALSE : TC_TRUE;
	for (uint32_t j = 0; value.state == TC_UNKNOWN && i->a && j <= i->n; j++)
		if (is_vague(m, receiver + j))
			has = TC_UNSURE;
	*receiver = truth_value(has);
}

static void do_has_ask(machine *m, const tc_ins *i)
{
	const tc_value value = m->q->getter->field(m->q, i->b, TC_S_ASK, NULL, NULL);
	push_truth(m, value.state == TC_ABSENT ? TC_FALSE : TC_TRUE);
}

static void do_has_value(machine *m)
{
	const tc_state state = (tc_state)m->top[-1].state;
	m->top[-1] = truth_value(state == TC_ABSENT ? TC_FALSE : state == TC_UNKNOWN ? TC_UNSURE : TC_TRUE);
}

static void do_known(machine *m)
{
	m->top[-1] = truth_value(m->top[-1].state == TC_UNKNOWN ? TC_FALSE : TC_TRUE);
}

/* --- truths ------------------------------------------------------------------------------------------------------------- */

/* Both return the instruction to go on with. */
static uint32_t do_and(machine *m, const tc_ins *i, uint32_t at)
{
	m->top--;
	const tc_truth truth = tc_truth_and(tc_truth_of(m->top[-1]), tc_truth_of(m->top[0]));
	m->top[-1] = truth_value(truth);
	return i->a && truth == TC_FALSE ? i->a : at + 1;
}

static uint32_t do_or(machine *m, const tc_ins *i, uint32_t at)
{
	m->top--;
	const tc_truth truth = tc_truth_or(tc_truth_of(m->top[-1]), tc_truth_of(m->top[0]));
	m->top[-1] = truth_value(truth);
	return i->a && truth == TC_TRUE ? i->a : at + 1;
}

static void do_not(machine *m)
{
	m->top[-1] = truth_value(tc_truth_not(tc_truth_of(m->top[-1])));
}

/* --- comparisons -------------------------------------------------------------------------------------------------------- */

static tc_truth compare_numbers(tc_compare_op op, double a, double b)
{
	const int order = tc_compare(a, b);
	switch (op) {
	case TC_LESS:
		return order < 0 ? TC_TRUE : TC_FALSE;
	case TC_LESS_SAME:
		return order <= 0 ? TC_TRUE : TC_FALSE;
	case TC_MORE:
		return order > 0 ? TC_TRUE : TC_FALSE;
	case TC_MORE_SAME:
		return order >= 0 ? TC_TRUE : TC_FALSE;
	default:
		return order == 0 ? TC_TRUE : TC_FALSE;
	}
}

/* Absent is F whatever the other side is. */
static tc_truth compare_values(tc_compare_op op, const tc_value *a, const tc_value *b)
{
	if (a->state == TC_ABSENT || b->state == TC_ABSENT)
		return TC_FALSE;
	if (a->state == TC_UNKNOWN || b->state == TC_UNKNOWN)
		return TC_UNSURE;
	if (a->type == TC_T_TEXT)
		return strcmp(a->text, b->text) == 0 ? TC_TRUE : TC_FALSE;
	return compare_numbers(op, a->number, b->number);
}

static void do_compare(machine *m, const tc_ins *i)
{
	const tc_value *right = i->a ? &m->x->constants[i->a - 1] : --m->top;
	m->top[-1] = truth_value(compare_values((tc_compare_op)i->n, m->top - 1, right));
}

/* The known part and the most that it can be: where both ends of that stretch agree, so does all between them. Of `=` they
 * agree on F only on one side of the bound. */
static tc_truth compare_stretch(
    tc_compare_op op, const tc_value *low, const tc_value *high, const tc_value *bound, bool bound_left)
{
	const tc_truth a = bound_left ? compare_values(op, bound, low) : compare_values(op, low, bound);
	const tc_truth b = bound_left ? compare_values(op, bound, high) : compare_values(op, high, bound);
	if (a != b || a == TC_UNSURE)
		return TC_UNSURE;
	if (op != TC_SAME || a == TC_TRUE || !tc_known(*low) || !tc_known(*bound))
		return a;
	const bool within = tc_compare(low->number, bound->number) < 0 && tc_compare(high->number, bound->number) > 0;
	return within ? TC_UNSURE : TC_FALSE;
}

static void do_compare_pair(machine *m, const tc_ins *i)
{
	m->top -= 2;
	tc_value *v = m->top - 1;
	*v = truth_value(i->a ? compare_stretch((tc_compare_op)i->n, v + 1, v + 2, v, true)
	                      : compare_stretch((tc_compare_op)i->n, v, v + 1, v + 2, false));
}

static void do_between(machine *m)
{
	m->top -= 2;
	tc_value *v = m->top - 1;
	*v = truth_value(tc_truth_and(compare_values(TC_MORE_SAME, v, v + 1), compare_values(TC_LESS_SAME, v, v + 2)));
}

static void do_between_pair(machine *m)
{
	m->top -= 3;
	tc_value *v = m->top - 1;
	*v = truth_value(tc_truth_and(compare_stretch(TC_MORE_SAME, v, v + 1, v + 2, false),
	    compare_stretch(TC_LESS_SAME, v, v + 1, v + 3, false)));
}

static void do_in(machine *m)
{
	m->top--;
	tc_value *v = m->top - 1;
	const tc_state state = worst(v, 2);
	if (state == TC_SAID)
		*v = truth_value(tc_window_holds(v[1].window, v->number) ? TC_TRUE : TC_FALSE);
	else
		*v = truth_value(state == TC_ABSENT ? TC_FALSE : TC_UNSURE);
}

static void do_in_spans(machine *m, const tc_ins *i)
{
	m->top -= i->a;
	tc_value *v = m->top - 1;
	const tc_value *bound = m->top;
	tc_truth in = TC_FALSE;
	for (uint32_t s = 0; s < i->n; s++) {
		tc_truth here = compare_values(TC_MORE_SAME, v, bound++);
		if (!(i->b & 1u << s))
			here = tc_truth_and(here, compare_values(TC_LESS_SAME, v, bound++));
		in = tc_truth_or(in, here);
	}
	*v = truth_value(in);
}

/* --- is, matches -------------------------------------------------------------------------------------------------------- */

static tc_truth is_kind(const machine *m, const tc_value *v, const uint32_t *list)
{
	if (v->state == TC_ABSENT)
		return TC_FALSE;
	const tc_entry *entry = tc_known(*v) ? m->q->getter->material(m->q, (tc_subject)v->subject, v->is) : NULL;
	if (!entry)
		return TC_UNSURE;
	tc_truth is = TC_FALSE;
	for (uint32_t i = 0; i < list[0] && is != TC_TRUE; i++)
		is = tc_truth_or(is, tc_is_within(entry, list[2 * i + 1], list[2 * i + 2]));
	return is;
}

/* What an `is` asks of: a name, which is pushed now, or what was computed. */
static tc_value *asked(machine *m, const tc_ins *i)
{
	if (i->n)
		push(m, m->q->bound[i->n - 1]);
	return m->top - 1;
}

static void do_is_kind(machine *m, const tc_ins *i)
{
	tc_value *v = asked(m, i);
	*v = truth_value(is_kind(m, v, m->x->lists + i->b));
}

static void do_is_word(machine *m, const tc_ins *i)
{
	tc_value *v = asked(m, i);
	const uint32_t *list = m->x->lists + i->b;
	tc_truth is = v->state == TC_UNKNOWN ? TC_UNSURE : TC_FALSE;
	for (uint32_t j = 1; tc_known(*v) && j <= list[0]; j++)
		if (v->symbol == list[j])
			is = TC_TRUE;
	*v = truth_value(is);
}

static void do_is_member(machine *m, const tc_ins *i)
{
	tc_value *v = asked(m, i);
	const uint32_t *list = m->x->lists + i->b;
	tc_truth is = v->state == TC_UNKNOWN ? TC_UNSURE : TC_FALSE;
	for (uint32_t j = 1; tc_known(*v) && j <= list[0]; j++)
		if (list[j] < 64 && v->set & (uint64_t)1 << list[j])
			is = TC_TRUE;
	*v = truth_value(is);
}

static void do_matches(machine *m, const tc_ins *i)
{
	tc_value *v = m->top - 1;
	if (!tc_known(*v)) {
		*v = truth_value(tc_truth_of(*v));
		return;
	}
	const tc_match match = tc_patterns_match(m->q->patterns, m->x->constants[i->b].text, v->text);
	*v = truth_value(match == TC_MATCH_YES ? TC_TRUE : match == TC_MATCH_NO ? TC_FALSE : TC_UNSURE);
}

/* --- arithmetic --------------------------------------------------------------------------------------------------------- */

static tc_value figure(unsigned type, double number, bool assumed)
{
	if (!isfinite(number))
		return tc_unknown((tc_type)type);
	return (tc_value){.state = (uint8_t)(assumed ? TC_ASSUMED : TC_SAID), .type = (uint8_t)type, .number = number};
}

static void do_arithmetic(machine *m, const tc_ins *i)
{
	m->top--;
	tc_value *v = m->top - 1;
	const tc_state state = worst(v, 2);
	if (state != TC_SAID) {
		*v = (tc_value){.state = (uint8_t)state, .type = (uint8_t)i->a};
		return;
	}
	const double a = v[0].number, b = v[1].number;
	const double result = i->op == TC_OP_ADD        ? a + b
	                      : i->op == TC_OP_SUBTRACT ? a - b
	                      : i->op == TC_OP_MULTIPLY ? a * b
	                                                : a / b;
	*v = figure(i->a, result, v[0].state == TC_ASSUMED || v[1].state == TC_ASSUMED);
}

static void do_negate(machine *m)
{
	if (tc_known(m->top[-1]))
		m->top[-1].number = -m->top[-1].number;
}

static void do_abs(machine *m)
{
	if (tc_known(m->top[-1]))
		m->top[-1].number = fabs(m->top[-1].number);
}

/* Passes over what is absent. */
static void do_min_max(machine *m, const tc_ins *i)
{
	m->top -= i->n - 1;
	tc_value *v = m->top - 1;
	tc_value best = {.state = TC_ABSENT, .type = v->type};
	bool assumed = false;
	for (uint32_t j = 0; j < i->n && best.state != TC_UNKNOWN; j++) {
		if (v[j].state == TC_ABSENT)
			continue;
		assumed |= v[j].state == TC_ASSUMED;
		if (v[j].state == TC_UNKNOWN || best.state == TC_ABSENT ||
		    (v[j].number < best.number) == (i->op == TC_OP_MIN))
			best = v[j];
	}
	if (assumed && tc_known(best))
		best.state = TC_ASSUMED;
	*v = best;
}

/* --- windows ------------------------------------------------------------------------------------------------------------ */

static void do_window_end(machine *m, const tc_ins *i)
{
	tc_value *v = m->top - 1;
	if (!tc_known(*v)) {
		v->type = TC_T_NUMBER;
		return;
	}
	const tc_window *w = v->window;
	const bool assumed = v->state == TC_ASSUMED;
	if (w->count == 0)
		*v = tc_absent(TC_T_NUMBER);
	else if (i->op == TC_OP_WINDOW_FIRST)
		*v = figure(TC_T_NUMBER, w->spans[0].from, assumed);
	else if (isinf(w->spans[w->count - 1].to))
		*v = tc_absent(TC_T_NUMBER);
	else
		*v = figure(TC_T_NUMBER, w->spans[w->count - 1].to, assumed);
}

static void do_window_after(machine *m)
{
	m->top--;
	tc_value *v = m->top - 1;
	const tc_state state = worst(v, 2);
	double moment;
	if (state != TC_SAID)
		*v = (tc_value){.state = (uint8_t)state, .type = TC_T_NUMBER};
	else if (tc_window_after(v[0].window, v[1].number, &moment))
		*v = figure(TC_T_NUMBER, moment, v[0].state == TC_ASSUMED || v[1].state == TC_ASSUMED);
	else
		*v = tc_absent(TC_T_NUMBER);
}

/* --- folds -------------------------------------------------------------------------------------------------------------- */

static unsigned fold_of(const frame *f)
{
	return f->pack & 0xF;
}

static tc_type figure_type(const frame *f)
{
	const uint32_t flags = f->pack >> 24;
	return flags & TC_FOLD_SHARE ? TC_T_SHARE : flags & TC_FOLD_TEMPERATURE ? TC_T_TEMPERATURE : TC_T_NUMBER;
}

static tc_value subject_value(tc_subject of, const void *is)
{
	return (tc_value){.state = TC_SAID, .type = TC_T_SUBJECT, .subject = (uint8_t)of, .is = is};
}

/* The element that comes next; `last` begins with the newest. */
static const void *element(const frame *f)
{
	return f->items[fold_of(f) == TC_FOLD_LAST ? f->count - 1 - f->done : f->done];
}

static void bind_element(machine *m, const frame *f)
{
	m->q->bound[(f->pack >> 8) & 0xFF] = subject_value(f->of, element(f));
}

/* A figure of a fold, with the most that it can be if the comparison asks for it. */
static void push_figure(machine *m, const frame *f, tc_value known, bool more_possible, double most)
{
	tc_value high = known;
	if (!(f->pack >> 24 & TC_FOLD_PAIR)) {
		push(m, more_possible ? tc_unknown((tc_type)known.type) : known);
		return;
	}
	if (more_possible)
		high.number = most;
	push(m, known);
	push(m, high);
}

static void push_state(machine *m, const frame *f, tc_state state)
{
	const unsigned fold = fold_of(f);
	if (fold <= TC_FOLD_NO) {
		push_truth(m, state == TC_ABSENT ? TC_FALSE : TC_UNSURE);
		return;
	}
	const tc_value value = {
	    .state = (uint8_t)state, .type = (uint8_t)(fold >= TC_FOLD_FIRST ? TC_T_SUBJECT : figure_type(f))};
	push(m, value);
	if (f->pack >> 24 & TC_FOLD_PAIR)
		push(m, value);
}

static void push_result(machine *m, const frame *f)
{
	switch ((tc_fold)fold_of(f)) {
	case TC_FOLD_ANY:
	case TC_FOLD_EVERY:
		push_truth(m, f->truth);
		break;
	case TC_FOLD_NO:
		push_truth(m, tc_truth_not(f->truth));
		break;
	case TC_FOLD_COUNT:
		push_figure(m, f, tc_number(f->trues), f->unsures > 0, (double)f->trues + f->unsures);
		break;
	case TC_FOLD_SUM:
		push_figure(m, f, figure(figure_type(f), f->sum, f->assumed), f->unknown, HUGE_VAL);
		break;
	case TC_FOLD_LEAST:
	case TC_FOLD_MOST:
		push(m, f->unknown ? tc_unknown(figure_type(f)) : f->any ? f->best : tc_absent(figure_type(f)));
		break;
	default:
		push(m, f->unknown ? tc_unknown(TC_T_SUBJECT) : f->any ? f->best : tc_absent(TC_T_SUBJECT));
	}
}

/* Returns the instruction to go on with. */
static uint32_t do_fold(machine *m, const tc_ins *i, uint32_t at)
{
	frame *f = &m->frames[(i->b >> 16) & 0xFF];
	*f = (frame){.pack = i->b, .truth = (i->b & 0xF) == TC_FOLD_EVERY ? TC_TRUE : TC_FALSE};
	m->valid &= ~(uint32_t)i->n;
	tc_value anchor = {0};
	const bool anchored = i->b >> 24 & TC_FOLD_ANCHORED;
	if (anchored)
		anchor = *--m->top;
	if (anchored && !tc_known(anchor)) {
		push_state(m, f, (tc_state)anchor.state);
		return i->a;
	}
	f->count = m->q->getter->range(m->q, (tc_range)((i->b >> 4) & 0xF), (tc_subject)anchor.subject,
	    anchored ? anchor.is : NULL, &f->of, &f->items);
	if (f->count == 0) {
		push_result(m, f);
		return i->a;
	}
	bind_element(m, f);
	return at + 1;
}

/* Takes one element's figure in. */
static void take_figure(frame *f, tc_value v)
{
	if (v.state == TC_ABSENT)
		return;
	if (v.state == TC_UNKNOWN) {
		f->unknown = true;
		return;
	}
	f->assumed |= v.state == TC_ASSUMED;
	f->sum += v.number;
	if (!f->any || (fold_of(f) == TC_FOLD_LEAST ? v.number < f->best.number : v.number > f->best.number))
		f->best = v;
	f->any = true;
}

/* Takes one element's test in; true if nothing further can matter. */
static bool take_test(machine *m, frame *f, tc_truth truth)
{
	switch ((tc_fold)fold_of(f)) {
	case TC_FOLD_ANY:
	case TC_FOLD_NO:
		f->truth = tc_truth_or(f->truth, truth);
		return f->truth == TC_TRUE;
	case TC_FOLD_EVERY:
		f->truth = tc_truth_and(f->truth, truth);
		return f->truth == TC_FALSE;
	case TC_FOLD_COUNT:
		f->trues += truth == TC_TRUE;
		f->unsures += truth == TC_UNSURE;
		return false;
	default:
		f->unknown |= truth == TC_UNSURE;
		if (truth != TC_TRUE)
			return false;
		f->any = true;
		f->best = m->q->bound[(f->pack >> 8) & 0xFF];
		return true;
	}
}

static uint32_t do_next(machine *m, const tc_ins *i, uint32_t at)
{
	frame *f = &m->frames[i->n];
	const tc_value v = *--m->top;
	const unsigned fold = fold_of(f);
	bool over = false;
	if (fold >= TC_FOLD_SUM && fold <= TC_FOLD_MOST)
		take_figure(f, v);
	else
		over = take_test(m, f, tc_truth_of(v));
	f->done++;
	if (over || f->done == f->count) {
		push_result(m, f);
		return at + 1;
	}
	bind_element(m, f);
	return i->a;
}

/* --- the loop ------------------------------------------------------------------------------------------------------------ */

/* Everything that neither jumps nor loops. */
static inline void do_plain(machine *m, const tc_ins *i)
{
	switch ((tc_op)i->op) {
	case TC_OP_CONST:
		push(m, m->x->constants[i->b]);
		break;
	case TC_OP_BIND:
		m->q->bound[i->b] = *--m->top;
		break;
	case TC_OP_HAS:
		do_has(m, i);
		break;
	case TC_OP_HAS_ASK:
		do_has_ask(m, i);
		break;
	case TC_OP_HAS_VALUE:
		do_has_value(m);
		break;
	case TC_OP_KNOWN:
		do_known(m);
		break;
	case TC_OP_COMPARE_PAIR:
		do_compare_pair(m, i);
		break;
	case TC_OP_BETWEEN:
		do_between(m);
		break;
	case TC_OP_BETWEEN_PAIR:
		do_between_pair(m);
		break;
	case TC_OP_IN:
		do_in(m);
		break;
	case TC_OP_IN_SPANS:
		do_in_spans(m, i);
		break;
	case TC_OP_MATCHES:
		do_matches(m, i);
		break;
	case TC_OP_ADD:
	case TC_OP_SUBTRACT:
	case TC_OP_MULTIPLY:
	case TC_OP_DIVIDE:
		do_arithmetic(m, i);
		break;
	case TC_OP_NEGATE:
		do_negate(m);
		break;
	case TC_OP_ABS:
		do_abs(m);
		break;
	case TC_OP_MIN:
	case TC_OP_MAX:
		do_min_max(m, i);
		break;
	case TC_OP_WINDOW_FIRST:
	case TC_OP_WINDOW_LAST:
		do_window_end(m, i);
		break;
	case TC_OP_WINDOW_AFTER:
		do_window_after(m);
		break;
	case TC_OP_KEEP:
		m->memos[i->n] = m->top[-1];
		m->valid |= 1u << i->n;
		break;
	default:
		break;
	}
}

/* The instruction to go on with. What is met most stands here, in the first of two switches. */
static inline uint32_t step(machine *m, const tc_ins *i, uint32_t at)
{
	switch ((tc_op)i->op) {
	case TC_OP_SLOT:
		push(m, m->q->bound[i->b]);
		break;
	case TC_OP_ASK:
		do_ask(m, i);
		break;
	case TC_OP_FIELD:
		if (i->n)
			do_field_of_name(m, i);
		else
			do_field(m, i);
		break;
	case TC_OP_COMPARE:
		do_compare(m, i);
		break;
	case TC_OP_IS_KIND:
		do_is_kind(m, i);
		break;
	case TC_OP_IS_WORD:
		do_is_word(m, i);
		break;
	case TC_OP_IS_MEMBER:
		do_is_member(m, i);
		break;
	case TC_OP_NOT:
		do_not(m);
		break;
	case TC_OP_AND:
		return do_and(m, i, at);
	case TC_OP_OR:
		return do_or(m, i, at);
	case TC_OP_FALSE_JUMP:
		return tc_truth_of(m->top[-1]) == TC_FALSE ? i->a : at + 1;
	case TC_OP_TRUE_JUMP:
		return tc_truth_of(m->top[-1]) == TC_TRUE ? i->a : at + 1;
	case TC_OP_FOLD:
		return do_fold(m, i, at);
	case TC_OP_NEXT:
		return do_next(m, i, at);
	case TC_OP_ONCE:
		if (!(m->valid & 1u << i->n))
			break;
		push(m, m->memos[i->n]);
		return i->a;
	default:
		do_plain(m, i);
	}
	return at + 1;
}

/* Counts what was spent against the recipe's bound. */
static void pay(tc_question *q, uint32_t spent, bool over, bool by_recipe)
{
	q->spent = spent;
	if (q->steps_left)
		*q->steps_left -= spent;
	if (over && by_recipe)
		q->hit_check_bound = true;
	else if (over)
		q->hit_rule_bound = true;
}

tc_value tc_run(
    tc_question *question, const tc_expr *expr, uint32_t start, uint32_t end, uint32_t budget, tc_value *second)
{
	machine m;
	m.q = question;
	m.x = expr;
	m.top = m.stack;
	m.valid = 0;
	const bool by_recipe = question->steps_left && *question->steps_left < budget;
	const uint32_t most = by_recipe ? *question->steps_left : budget;
	uint32_t left = most, at = start;
	while (at < end && left > 0) {
		left--;
		at = step(&m, &expr->code[at], at);
	}
	const bool over = at < end;
	pay(question, most - left, over, by_recipe);
	if (over)
		m.stack[0] = m.stack[1] = tc_unknown((tc_type)expr->type);
	if (second)
		*second = m.top == m.stack + 2 || over ? m.stack[1] : m.stack[0];
	return m.stack[0];
}

tc_value tc_run_branch(
    tc_question *question, const tc_expr *expr, const tc_branch *branch, uint32_t budget, tc_value *second)
{
	if (branch->kind != TC_A_NAME && branch->kind != TC_A_NUMBER)
		return tc_run(question, expr, branch->start, branch->end, budget, second);
	const tc_value value =
	    branch->kind == TC_A_NAME ? question->bound[branch->slot] : expr->constants[branch->field];
	question->spent = 0;
	if (second)
		*second = value;
	return value;
}

tc_truth tc_decide(tc_question *question, const tc_expr *when)
{
	return tc_truth_of(tc_run(question, when, 0, when->length, TC_STEPS_PER_ASK, NULL));
}

bool tc_bolted(tc_question *question, const tc_bolt *bolt)
{
	return tc_truth_of(tc_run(question, bolt->expr, bolt->start, bolt->end, TC_STEPS_PER_ASK, NULL)) == TC_FALSE;
}

tc_value tc_evaluate(tc_question *question, const tc_expr *expr)
{
	return tc_run(question, expr, 0, expr->length, TC_STEPS_PER_ASK, NULL);
}

void tc_expr_type(const tc_expr *expr, tc_type *type, tc_dim *dim)
{
	*type = (tc_type)expr->type;
	*dim = expr->dim;
}
