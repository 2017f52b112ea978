/* The room over the whole plan: sources come and go, fresh air takes along what it can. Between two moments at which a source
 * changes every concentration, and every sum of them, goes one way; so peaks lie at these moments. */
#include <math.h>
#include <stdlib.h>

#include "plan/breath_private.h"

#define HALVINGS 48     /* of a logarithm of the flow, or of a time: well below what the figures mean */
#define FLOW_LEAST 1e-7 /* m^3/s */
#define FLOW_MOST 1e4   /* science/air.h takes no more */
#define INDEX_UNIT 1e-6 /* an index goes through the room's balance as a concentration this much smaller */
#define FAINT 1e-3      /* of a limit value, or of the LEL */

/* What weighs a concentration: its part of an index. */
typedef double tc_weight(const tc_vapour *v);

static double by_limit(const tc_vapour *v)
{
	return v->limit > 0 && v->share > 0 ? v->share / v->limit : 0;
}

static double by_lel(const tc_vapour *v)
{
	return v->lel > 0 && v->share > 0 ? v->share / v->lel : 0;
}

/* --- moments ------------------------------------------------------------------------------------------------------------ */

static int by_time(const void *left, const void *right)
{
	const tc_turning_point *a = left, *b = right;
	/* what comes together is told apart too, so that sums are the same to the last bit however it is sorted */
	const double by[][2] = {{a->at, b->at}, {a->vapour, b->vapour}, {a->sitting, b->sitting}, {a->rate, b->rate}};
	for (size_t i = 0; i < sizeof by / sizeof *by; i++)
		if (by[i][0] != by[i][1])
			return by[i][0] < by[i][1] ? -1 : 1;
	return (a->mass > b->mass) - (a->mass < b->mass);
}

static bool make_points(tc_breathing *b)
{
	b->point = TC_ARRAY(b->arena, (size_t)b->releases * 2 + 1, tc_turning_point);
	for (uint32_t i = 0; b->point && i < b->releases; i++) {
		const tc_release *r = &b->release[i];
		const tc_turning_point from = {.at = r->from, .vapour = r->vapour, .sitting = r->sitting};
		tc_turning_point *point = &b->point[b->points];
		point[0] = from;
		if (r->to > r->from) {
			point[0].rate = r->mass / (r->to - r->from);
			point[1] = from;
			point[1].at = r->to;
			point[1].rate = -point[0].rate;
		} else {
			point[0].mass = r->mass;
		}
		b->points += r->to > r->from ? 2 : 1;
	}
	if (b->point && b->points > 1)
		qsort(b->point, b->points, sizeof *b->point, by_time);
	return b->point != NULL;
}

/* --- one index ------------------------------------------------------------------------------------------------------------ */

/* An index on its way through a room. */
typedef struct tc_course_of {
	struct tc_air_room room;
	double at, index, source;
	bool failed;
} tc_course_of;

static double after(const tc_course_of *c, double time)
{
	double then = NAN;
	return tc_air_after(&c->room, fmax(0, c->source), c->index, time, &then) ? then : NAN;
}

static void go_to(tc_course_of *c, double at)
{
	if (at > c->at)
		c->index = after(c, at - c->at);
	c->at = fmax(c->at, at);
	c->failed |= isnan(c->index);
}

static void turn(tc_course_of *c, const tc_breathing *b, const tc_turning_point *p, tc_weight *weight)
{
	const double each = weight(&b->vapour[p->vapour]) * INDEX_UNIT;
	c->source += p->rate * each;
	c->index += p->mass * each / c->room.volume;
}

/* Peak of an index within a sitting with that much fresh air; NAN: out of the science's range. */
static double peak_with(const tc_breathing *b, const tc_sitting *s, double flow, tc_weight *weight)
{
	tc_course_of c = {.room = b->room, .at = b->points ? b->point[0].at : 0};
	double peak = 0;
	c.room.flow = flow;
	for (uint32_t i = 0; i < b->points && b->point[i].at <= s->to && !c.failed; i++) {
		if (b->point[i].at >= s->from && c.at < s->from) {
			go_to(&c, s->from);
			peak = fmax(peak, c.index);
		}
		go_to(&c, b->point[i].at);
		if (c.at >= s->from)
			peak = fmax(peak, c.index);
		turn(&c, b, &b->point[i], weight);
		if (c.at >= s->from)
			peak = fmax(peak, c.index);
	}
	if (c.at < s->from)
		go_to(&c, s->from);
	peak = fmax(peak, c.index);
	go_to(&c, s->to);
	return c.failed ? NAN : fmax(peak, c.index) / INDEX_UNIT;
}

/* Extraction that holds the peak of an index at `most`; 0: leaks alone do, NAN: none does. */
static double needed(const tc_breathing *b, const tc_sitting *s, tc_weight *weight, double most)
{
	double low = log(FLOW_LEAST), high = log(FLOW_MOST);
	const double leaks = b->breath->leaks;
	if (peak_with(b, s, leaks, weight) <= most)
		return 0;
	if (!(peak_with(b, s, FLOW_MOST, weight) <= most))
		return NAN;
	for (int i = 0; i < HALVINGS && high - low > 1e-4; i++) {
		const double middle = 0.5 * (low + high);
		if (peak_with(b, s, exp(middle), weight) <= most)
			high = middle;
		else
			low = middle;
	}
	return exp(high);
}

/* --- clearing ------------------------------------------------------------------------------------------------------------- */

/* Within a stretch at whose end an index lies below `most` and at whose beginning above: when it passes it. */
static double passes(const tc_course_of *c, double time, double most)
{
	double low = 0, high = time;
	for (int i = 0; i < HALVINGS; i++) {
		const double middle = 0.5 * (low + high);
		if (after(c, middle) > most)
			low = middle;
		else
			high = middle;
	}
	return high;
}

/* After the last source: pure decay. */
static double decays(const tc_course_of *c, double most)
{
	const double rate = c->room.mixing * c->room.flow / c->room.volume;
	if (c->index <= most)
		return 0;
	return rate > 0 ? log(c->index / most) / rate : INFINITY;
}

/* When the index of a sitting, of what its work and earlier work set free, lies below `most` for good; `index`: at its end. */
static double clears(const tc_breathing *b, const tc_sitting *s, double index, double most)
{
	const uint32_t own = (uint32_t)(s - b->sitting);
	tc_course_of c = {.room = b->room, .at = s->to, .index = index * INDEX_UNIT};
	double last = index > most ? INFINITY : s->to;
	most *= INDEX_UNIT;
	for (uint32_t i = 0; i < b->points; i++) {
		const tc_turning_point *p = &b->point[i];
		if (p->sitting > own)
			continue;
		if (p->at > c.at) {
			const double then = after(&c, p->at - c.at);
			if (then <= most && c.index > most)
				last = c.at + passes(&c, p->at - c.at, most);
			else if (then > most)
				last = INFINITY;
			go_to(&c, p->at);
		}
		if (p->at <= s->to) /* already in the room */
			c.source += p->rate * by_limit(&b->vapour[p->vapour]) * INDEX_UNIT;
		else
			turn(&c, b, p, by_limit);
	}
	if (c.failed)
		return NAN;
	c.source = 0;
	if (c.index > most)
		last = c.at + decays(&c, most);
	return fmax(0, last - s->to);
}

/* --- sittings ------------------------------------------------------------------------------------------------------------- */

/* Every vapour on its way through the room. */
typedef struct tc_following {
	tc_breathing *b;
	double at;
	double *air, *source; /* by vapour: kg/m^3, kg/s */
	double *peak, *sum;   /* within the sitting at hand */
	double *freed;        /* by sitting and vapour, kg */
	uint32_t sitting;     /* at hand: begun; else that which comes next */
	bool inside;
} tc_following;

static double index_now(const tc_following *f, tc_weight *weight)
{
	double sum = 0;
	for (uint32_t v = 0; v < f->b->vapours; v++)
		sum += f->air[v] * weight(&f->b->vapour[v]);
	return sum;
}

/* Looks at the room at a moment within a sitting. */
static void look(tc_following *f)
{
	tc_sitting *s = &f->b->sitting[f->sitting];
	const double index = index_now(f, by_limit);
	if (isnan(s->worst_breath) || index > s->peak_index) {
		s->peak_index = index;
		s->worst_breath = f->at;
	}
	s->lel_share = fmax(s->lel_share, index_now(f, by_lel));
	for (uint32_t v = 0; v < f->b->vapours; v++)
		f->peak[v] = fmax(f->peak[v], f->air[v]);
}

static void pass_time(tc_following *f, double to)
{
	const double time = to - f->at;
	for (uint32_t v = 0; time > 0 && v < f->b->vapours; v++) {
		double then, sum;
		if (!tc_air_through(&f->b->room, fmax(0, f->source[v]), f->air[v], time, &then, &sum))
			continue;
		f->air[v] = then;
		f->sum[v] += f->inside ? sum : 0;
	}
	f->at = fmax(f->at, to);
}

static int by_weight(const void *left, const void *right)
{
	const tc_vapour_in_air *a = left, *b = right;
	const double x = a->limit > 0 ? a->peak / a->limit : -1, y = b->limit > 0 ? b->peak / b->limit : -1;
	if (x != y)
		return x > y ? -1 : 1;
	if (a->mass != b->mass)
		return a->mass > b->mass ? -1 : 1;
	return (a->solvent->index > b->solvent->index) - (a->solvent->index < b->solvent->index);
}

/* A rest of earlier work so thin that it says nothing is not listed; in the sums it is. */
static bool is_told(const tc_following *f, uint32_t v)
{
	const tc_vapour *of = &f->b->vapour[v];
	const double share = f->peak[v] * of->share;
	if (f->freed[(size_t)f->sitting * f->b->vapours + v] > 0)
		return true;
	return share > FAINT * (of->limit > 0 ? of->limit : 1) || share > FAINT * (of->lel > 0 ? of->lel : 1);
}

/* One vapour of a sitting that is over. */
static tc_vapour_in_air tell(const tc_following *f, const tc_sitting *s, uint32_t v)
{
	const tc_vapour *of = &f->b->vapour[v];
	const double lasts = s->to - s->from;
	const double spread = tc_library_default(f->b->model->library, TC_D_LIMIT_TIME)->value.number;
	return (tc_vapour_in_air){.solvent = of->solvent,
	    .mass = f->freed[(size_t)f->sitting * f->b->vapours + v],
	    .peak = f->peak[v] * of->share,
	    .mean = lasts > 0 ? f->sum[v] / lasts * of->share : f->peak[v] * of->share,
	    .mean_8h = f->sum[v] / spread * of->share,
	    .limit = of->limit,
	    .lel = of->lel};
}

/* Indices mean nothing where every vapour lacks its limit. */
static void add_up(tc_sitting *s, const tc_breathing *b, const tc_vapour_in_air *list, uint32_t count)
{
	uint32_t limits = 0, lels = 0;
	for (uint32_t i = 0; i < count; i++) {
		const tc_vapour *of = &b->vapour[b->of_entry[list[i].solvent->index] - 1];
		s->mass += list[i].mass;
		s->unlimited += of->limit_unknown;
		s->lel_unknown += of->lel_unknown;
		limits += !of->limit_unknown;
		lels += !of->lel_unknown;
	}
	if (count && limits == 0)
		s->peak_index = s->mean_index = s->worst_breath = NAN;
	if (count && lels == 0)
		s->lel_share = NAN;
}

static bool end_sitting(tc_following *f)
{
	tc_breathing *b = f->b;
	tc_sitting *s = &b->sitting[f->sitting];
	tc_vapour_in_air *list = TC_ARRAY(b->arena, b->vapours, tc_vapour_in_air);
	const tc_library *library = b->model->library;
	uint32_t count = 0;
	if (!list)
		return false;
	for (uint32_t v = 0; v < b->vapours; v++) {
		const tc_vapour_in_air told = tell(f, s, v);
		s->mean_index += told.limit > 0 && f->sum[v] > 0 ? told.mean_8h / told.limit : 0;
		if (is_told(f, v))
			list[count++] = told;
		f->peak[v] = f->sum[v] = 0;
	}
	if (count > 1)
		qsort(list, count, sizeof *list, by_weight);
	s->vapour = list;
	s->vapours = count;
	add_up(s, b, list, count);
	const double clear = tc_library_default(library, TC_D_CLEAR_SHARE)->value.number;
	s->clear = isnan(s->peak_index) ? NAN : clears(b, s, index_now(f, by_limit), clear);
	s->needed_health = isnan(s->peak_index) ? NAN : needed(b, s, by_limit, 1);
	s->needed_fire =
	    isnan(s->lel_share) ? NAN : needed(b, s, by_lel, tc_library_default(library, TC_D_LEL_SHARE)->value.number);
	f->inside = false;
	f->sitting++;
	return true;
}

/* Goes on to a moment, through the beginnings and ends of sittings on the way; what comes just as a sitting ends belongs to it.
 * False: out of memory. */
static bool walk(tc_following *f, double to)
{
	const tc_breathing *b = f->b;
	while (f->sitting < b->breath->sittings) {
		const tc_sitting *s = &b->sitting[f->sitting];
		const double next = f->inside ? s->to : s->from;
		if (f->inside ? next >= to : next > to)
			break;
		const bool ends = f->inside;
		pass_time(f, next);
		f->inside = true;
		look(f);
		if (ends && !end_sitting(f))
			return false;
	}
	if (!isfinite(to))
		return true;
	pass_time(f, to);
	if (f->inside)
		look(f);
	return true;
}

static bool follow(tc_following *f)
{
	const tc_breathing *b = f->b;
	for (uint32_t i = 0; i < b->points; i++) {
		const tc_turning_point *p = &b->point[i];
		if (!walk(f, p->at))
			return false;
		f->source[p->vapour] += p->rate;
		f->air[p->vapour] += p->mass / b->room.volume;
		if (f->inside && p->mass > 0)
			look(f);
	}
	return walk(f, INFINITY);
}

bool tc_room_follow(tc_breathing *b)
{
	const uint32_t count = b->vapours;
	tc_following f = {.b = b,
	    .at = b->breath->sittings ? b->sitting[0].from : 0,
	    .air = TC_ARRAY(b->arena, count, double),
	    .source = TC_ARRAY(b->arena, count, double),
	    .peak = TC_ARRAY(b->arena, count, double),
	    .sum = TC_ARRAY(b->arena, count, double),
	    .freed = TC_ARRAY(b->arena, (size_t)count * b->breath->sittings, double)};
	if (!f.air || !f.source || !f.peak || !f.sum || !f.freed || !make_points(b))
		return false;
	for (uint32_t i = 0; i < b->releases; i++)
		f.freed[(size_t)b->release[i].sitting * count + b->release[i].vapour] += b->release[i].mass;
	if (b->points && b->point[0].at < f.at)
		f.at = b->point[0].at;
	return follow(&f);
}
