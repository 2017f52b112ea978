/* A film's course laid out as a row of moments, and the sums over it. */
#include "science/row.h"

#include <math.h>

#include "science/range.h"

#define LATE_MOMENTS 40

_Static_assert(TC_DRYING_SAMPLES_MAX + LATE_MOMENTS + 2 <= TC_ATTACK_MOMENTS_MAX, "a row holds any film");

bool tc_solid_valid(const struct tc_sphere *solid)
{
	return tc_hansen_valid(solid->centre) && tc_within(solid->r0, 1.0, 1e6);
}

bool tc_uptake_valid(const struct tc_uptake *uptake)
{
	return tc_within(uptake->bound, 0.01, 10.0) && tc_within(uptake->mobility, 1e-20, 1e-6) &&
	       tc_within(uptake->size, 1e-6, 2e-3) && tc_within(uptake->fall, 1e-6, 1.0);
}

static double square_of(struct tc_hansen a, struct tc_hansen b)
{
	double d = a.d - b.d, p = a.p - b.p, h = a.h - b.h;
	return 4.0 * d * d + p * p + h * h;
}

void tc_asked_set(const struct tc_sphere *solid, const struct tc_uptake *uptake, const struct tc_hansen *hansen,
    const double *size, size_t count, struct tc_asked *asked)
{
	static const double four_rt = 4.0 * TC_GAS_CONSTANT * 298.15; /* J/mol */
	asked->centre = solid->centre;
	asked->per_radius = 1.0 / solid->r0;
	asked->bound = uptake != NULL ? uptake->bound : 1.0;
	for (size_t i = 0; i < count && uptake != NULL; i++) {
		/* its own mobility, times how readily the solid takes it rather than the others */
		double chi = size[i] * square_of(hansen[i], solid->centre) / four_rt;
		asked->mobility[i] = uptake->mobility * exp(fmin(30.0, (uptake->size - size[i]) / uptake->fall - chi));
	}
}

/* A moment from amounts, m, that make up `liquid`. */
static void set_moment(
    const struct tc_drying *film, double time, const double *volume, double liquid, struct tc_coat_moment *m)
{
	double per = 1.0 / liquid;
	struct tc_hansen sum = {0.0, 0.0, 0.0};
	for (size_t i = 0; i < film->count; i++) {
		sum.d += volume[i] * film->hansen[i].d;
		sum.p += volume[i] * film->hansen[i].p;
		sum.h += volume[i] * film->hansen[i].h;
	}
	m->time = time;
	m->liquid = liquid;
	m->wetness = liquid / (liquid + film->binder);
	m->blend = (struct tc_hansen){sum.d * per, sum.p * per, sum.h * per};
}

/* Appends the film at a time of its first stage; nothing when no liquid is left to judge. */
static void append_early(const struct tc_drying *film, const struct tc_drying_sample *at, struct tc_row *row)
{
	double *share = row->share + row->early * row->count;
	if (!(at->solvent > 1e-290))
		return;
	for (size_t i = 0; i < row->count; i++)
		share[i] = at->share[i];
	set_moment(film, at->time, at->share, 1.0, &row->moment[row->moments]);
	row->moment[row->moments].liquid = at->solvent;
	row->moment[row->moments].wetness = at->solvent / (at->solvent + film->binder);
	row->moments++;
	row->early++;
}

/* The second stage: what is left of each component at its start, and after some time. */
struct late {
	double set; /* s */
	double volume[TC_SCI_COMPONENTS_MAX];
	double kept[2][TC_SCI_COMPONENTS_MAX]; /* shares left at two moments, the second sqrt(2) times as late */
};

/* Appends the film at `after` s from the set point; false when no liquid is left. */
static bool append_late(
    const struct tc_drying *film, const struct late *late, double after, const double *kept, struct tc_row *row)
{
	double volume[TC_SCI_COMPONENTS_MAX], liquid = 0.0;
	for (size_t i = 0; i < row->count; i++) {
		volume[i] = late->volume[i] * kept[i];
		liquid += volume[i];
	}
	if (!(liquid > 1e-290))
		return false;
	set_moment(film, late->set + after, volume, liquid, &row->moment[row->moments++]);
	return true;
}

static void set_kept(const struct tc_drying *film, double after, double *kept)
{
	for (size_t i = 0; i < film->count; i++)
		kept[i] = exp(-film->decay[i] * after);
}

/*
 * When the second stage is over for every component that leaves, and its first moment worth a look, s after its
 * start.
 */
static void late_span(const struct tc_drying *film, double *first, double *last)
{
	double fastest = 0.0, slowest = INFINITY;
	for (size_t i = 0; i < film->count; i++) {
		if (film->decay[i] <= 0.0)
			continue;
		fastest = tc_larger(fastest, film->decay[i]);
		slowest = tc_lesser(slowest, film->decay[i]);
	}
	*first = fastest > 0.0 ? tc_lesser(TC_DRYING_HORIZON, 0.05 / fastest) : TC_DRYING_HORIZON;
	*last = fastest > 0.0 ? tc_lesser(TC_DRYING_HORIZON, 12.0 / slowest) : TC_DRYING_HORIZON;
}

/*
 * The second stage to `until`: moments each sqrt(2) times as late as the one before, or twice where that would be too
 * many.  What is left at twice the time is the square of what is left at once.
 */
static void append_second_stage(const struct tc_drying *film, double until, struct tc_row *row)
{
	static const double root_2 = 1.41421356237309504880;
	const struct tc_drying_sample *end = &film->sample[film->samples - 1];
	struct late late = {.set = end->time};
	double first, last, kept[TC_SCI_COMPONENTS_MAX];
	late_span(film, &first, &last);
	bool coarse = last > first * (double)(1 << LATE_MOMENTS / 2);
	for (size_t i = 0; i < row->count; i++)
		late.volume[i] = end->solvent * end->share[i];
	set_kept(film, first, late.kept[0]);
	set_kept(film, first * root_2, late.kept[1]);
	double after = first, stop = tc_lesser(until - late.set, tc_larger(last, first));
	for (int k = 0; k < LATE_MOMENTS && after < stop; k++) {
		double *now = late.kept[coarse ? 0 : k % 2];
		if (!append_late(film, &late, after, now, row))
			return;
		for (size_t i = 0; i < row->count; i++)
			now[i] *= now[i];
		after *= coarse ? 2.0 : root_2;
	}
	set_kept(film, stop, kept);
	append_late(film, &late, stop, kept, row);
}

void tc_row_set(const struct tc_drying *film, double until, struct tc_row *row)
{
	struct tc_drying_sample state;
	double set = film->sample[film->samples - 1].time;
	row->moments = row->early = 0;
	row->count = film->count;
	for (size_t k = 0; k < film->samples && film->sample[k].time <= until; k++)
		append_early(film, &film->sample[k], row);
	if (row->moments == 0)
		return; /* not even the first sample holds a liquid */
	if (until > set)
		append_second_stage(film, until, row);
	else if (row->moment[row->moments - 1].time < until && tc_drying_at(film, until, &state))
		append_early(film, &state, row);
}

void tc_row_reds(const struct tc_row *row, const struct tc_asked *asked, double *square)
{
	double scale = asked->per_radius * asked->per_radius;
	for (size_t k = 0; k < row->moments; k++)
		square[k] = square_of(row->moment[k].blend, asked->centre) * scale;
}

/* The root of how fast a front goes, for each share of wetness, m/s^0.5; below 0 where RED lies outside the bound. */
static double pace(const struct tc_row *row, const struct tc_asked *asked, const double *square, size_t k)
{
	double mobility = 0.0;
	for (size_t i = 0; i < row->count; i++)
		mobility += row->share[k * row->count + i] * asked->mobility[i];
	return sqrt(mobility) * (1.0 - square[k] / (asked->bound * asked->bound));
}

/* Mean over an interval of the square of what changes evenly from a to b, where it is above 0. */
static double mean_square(double a, double b)
{
	if (a >= 0.0 && b >= 0.0)
		return (a * a + a * b + b * b) / 3.0;
	double top = tc_larger(a, b);
	return top > 0.0 ? top * top * top / (3.0 * fabs(b - a)) : 0.0;
}

/*
 * The depth after a gain that the liquid and the softened skin share, the skin as deep as half-way:
 *     new^2 = old^2 + gain liquid / (liquid + (old + new)/2).
 * Newton's method on the cubic that this is, which is convex, from above: what is left after a step of a thousandth is below
 * a millionth.  Gains below a ten-millionth are let go.
 */
static double deepen(double depth, double gain, double liquid)
{
	double old = depth * depth, shared = gain * liquid, room = liquid + depth, x;
	if (shared <= 1e-7 * old * room)
		return depth;
	if (shared < 0.1 * old * room)
		x = depth + shared / (2.0 * depth * room); /* the tangent at the old depth */
	else
		x = sqrt(old + shared / room);
	for (int round = 0; round < 8; round++) {
		double over = x * x - old;
		room = liquid + 0.5 * (depth + x);
		double step = (over * room - shared) / (2.0 * x * room + 0.5 * over);
		x -= step;
		if (step <= 1e-3 * x)
			break;
	}
	return x;
}

double tc_row_depth(const struct tc_row *row, const struct tc_asked *asked, const double *square, double from)
{
	double depth = from, root = 0.0, before = 0.0;
	for (size_t k = 0; k < row->moments; k++) {
		/* in the second stage composition counts as it was at its start */
		const struct tc_coat_moment *m = &row->moment[k];
		if (k < row->early)
			root = pace(row, asked, square, k);
		else if (root <= 0.0)
			break;
		double now = root * m->wetness;
		if (k > 0 && (before > 0.0 || now > 0.0))
			depth = deepen(
			    depth, mean_square(before, now) * (m->time - m[-1].time), 0.5 * (m->liquid + m[-1].liquid));
		before = now;
	}
	return depth;
}

struct tc_attack_moment tc_row_crossing(const struct tc_row *row, const double *square, size_t from, double wetness)
{
	const struct tc_coat_moment *a = &row->moment[from], *b = a + 1;
	double red = sqrt(square[from]);
	if (from + 1 >= row->moments)
		return (struct tc_attack_moment){a->time, a->wetness, a->liquid, red};
	double next = sqrt(square[from + 1]), part = 1.0;
	if (b->wetness < wetness)
		part = b->wetness > 0.0 && wetness > 0.0 ? log(a->wetness / wetness) / log(a->wetness / b->wetness) : 0.0;
	return (struct tc_attack_moment){.time = a->time + part * (b->time - a->time),
	    .wetness = part < 1.0 ? wetness : b->wetness,
	    .liquid = a->liquid + part * (b->liquid - a->liquid),
	    .red = red + part * (next - red)};
}

/* How much of an interval lies below a bound, when RED changes evenly. */
static double share_below(double a, double b, double bound)
{
	double low = tc_lesser(a, b), high = tc_larger(a, b);
	return high < bound ? 1.0 : low < bound ? (bound - low) / (high - low) : 0.0;
}

double tc_row_hot_time(const struct tc_row *row, const double *square, double bound, double wetness)
{
	double sum = 0.0, limit = bound * bound;
	for (size_t k = 0; k + 1 < row->moments && row->moment[k].wetness >= wetness; k++) {
		const struct tc_coat_moment *a = &row->moment[k];
		if (a[1].wetness < wetness) {
			struct tc_attack_moment b = tc_row_crossing(row, square, k, wetness);
			sum += (b.time - a->time) * share_below(sqrt(square[k]), b.red, bound);
		} else if (square[k] < limit && square[k + 1] < limit) {
			sum += a[1].time - a->time;
		} else if (square[k] < limit || square[k + 1] < limit) {
			sum += (a[1].time - a->time) * share_below(sqrt(square[k]), sqrt(square[k + 1]), bound);
		}
	}
	return sum;
}

double tc_row_least(const struct tc_row *row, const double *square, double wetness)
{
	double least = INFINITY;
	for (size_t k = 0; k < row->moments && row->moment[k].wetness >= wetness; k++) {
		least = tc_lesser(least, square[k]);
		if (k + 1 < row->moments && row->moment[k + 1].wetness < wetness) {
			double red = tc_row_crossing(row, square, k, wetness).red;
			least = tc_lesser(least, red * red);
		}
	}
	return least;
}
