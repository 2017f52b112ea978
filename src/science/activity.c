#include "science/activity.h"

#include <math.h>

#include "science/range.h"

#define MAIN_GROUPS 45 /* one more than the highest number in unifac.def */

struct subgroup {
	unsigned main; /* 0: not in the table */
	double r, q;
};

/* By published number. */
static const struct subgroup subgroups[] = {
#define TC_UNIFAC_GROUP(subgroup, main_group, r, q) [subgroup] = {main_group, r, q},
#include "science/unifac.def"
};

#define NUMBERS (sizeof subgroups / sizeof subgroups[0])

struct pair {
	double a; /* K */
	bool published;
};

static const struct pair interaction[MAIN_GROUPS][MAIN_GROUPS] = {
#define TC_UNIFAC_PAIR(m, n, a) [m][n] = {a, true},
#include "science/unifac.def"
};

static const struct subgroup *find_subgroup(unsigned number)
{
	return number < NUMBERS && subgroups[number].main != 0 ? &subgroups[number] : NULL;
}

bool tc_unifac_has(unsigned subgroup)
{
	return find_subgroup(subgroup) != NULL;
}

bool tc_unifac_size(unsigned subgroup, double *r, double *q)
{
	const struct subgroup *found = find_subgroup(subgroup);
	if (found == NULL)
		return false;
	*r = found->r;
	*q = found->q;
	return true;
}

static bool groups_known(const struct tc_groups *molecule)
{
	if (molecule->count == 0 || molecule->count > TC_GROUPS_MAX)
		return false;
	double surface = 0.0;
	for (size_t i = 0; i < molecule->count; i++) {
		const struct subgroup *group = find_subgroup(molecule->of[i].subgroup);
		if (group == NULL || molecule->of[i].times == 0 || molecule->of[i].times > 100)
			return false;
		surface += group->q;
	}
	return surface > 0.0; /* a lone carbon has none, and is no molecule */
}

/* The place of a main group among those of the blend; added when it is new. */
static size_t place_of(struct tc_activity *blend, unsigned *kind, unsigned wanted)
{
	for (size_t m = 0; m < blend->mains; m++)
		if (kind[m] == wanted)
			return m;
	kind[blend->mains] = wanted;
	return blend->mains++;
}

static void add_surface(struct tc_activity *blend, size_t i, size_t main_place, double surface)
{
	size_t k = 0;
	while (k < blend->kinds[i] && blend->part[i][k].main != main_place)
		k++;
	if (k == blend->kinds[i]) {
		blend->part[i][k].main = main_place;
		blend->part[i][k].surface = 0.0;
		blend->kinds[i]++;
	}
	blend->part[i][k].surface += surface;
}

static void add_molecule(struct tc_activity *blend, unsigned *kind, size_t i, const struct tc_groups *molecule)
{
	blend->r[i] = blend->q[i] = 0.0;
	blend->kinds[i] = 0;
	blend->known[i] = groups_known(molecule);
	if (!blend->known[i])
		return;
	for (size_t g = 0; g < molecule->count; g++) {
		const struct subgroup *group = find_subgroup(molecule->of[g].subgroup);
		double times = molecule->of[g].times;
		add_surface(blend, i, place_of(blend, kind, group->main), times * group->q);
		blend->r[i] += times * group->r;
		blend->q[i] += times * group->q;
	}
}

/* Fills psi; false when a pair has no published parameter. */
static bool fill_psi(struct tc_activity *blend, const unsigned *kind, double temperature)
{
	size_t mains = blend->mains;
	for (size_t m = 0; m < mains; m++) {
		for (size_t n = 0; n < mains; n++) {
			struct pair pair = interaction[kind[m]][kind[n]];
			if (m != n && !pair.published)
				return false;
			double psi = m == n ? 1.0 : exp(-pair.a / temperature);
			blend->psi[m][n] = psi;
			blend->turned[n][m] = psi;
		}
		blend->psi[m][mains] = blend->turned[m][mains] = 0.0;
	}
	return true;
}

/* Sum of products; count is even. */
static inline double dot(const double *a, const double *b, size_t count)
{
	double even = 0.0, odd = 0.0;
	for (size_t k = 0; k < count; k += 2) {
		even += a[k] * b[k];
		odd += a[k + 1] * b[k + 1];
	}
	return even + odd;
}

/*
 * ln(Gamma) of a group of each main group, for each unit of its surface; `theta` are shares of all surface, with a 0
 * behind them.
 */
static void group_activities(const struct tc_activity *blend, const double *theta, double *ln_gamma)
{
	double crowd[TC_ACTIVITY_MAINS_MAX];
	size_t mains = blend->mains, even = mains + mains % 2;
	crowd[even - 1] = 0.0;
	for (size_t n = 0; n < mains; n++) {
		double around = dot(theta, blend->turned[n], even);
		ln_gamma[n] = 1.0 - log(around);
		crowd[n] = theta[n] / around;
	}
	for (size_t n = 0; n < mains; n++)
		ln_gamma[n] -= dot(crowd, blend->psi[n], even);
}

/* Sum over a molecule's surface. */
static inline double over_surface(const struct tc_activity *blend, size_t i, const double *ln_gamma)
{
	double sum = 0.0;
	for (size_t k = 0; k < blend->kinds[i]; k++)
		sum += blend->part[i][k].surface * ln_gamma[blend->part[i][k].main];
	return sum;
}

/*
 * What the pure liquid adds: 1 + ln r - 5 q (1 + ln(r/q)) less its groups' activities in itself, which are those of
 * group_activities over its own groups alone.
 */
static double own_terms(const struct tc_activity *blend, size_t i)
{
	double crowd[TC_GROUPS_MAX], sum = 0.0, r = blend->r[i], q = blend->q[i];
	size_t kinds = blend->kinds[i];
	for (size_t n = 0; n < kinds; n++) {
		double around = 0.0;
		for (size_t m = 0; m < kinds; m++)
			around +=
			    blend->part[i][m].surface * blend->psi[blend->part[i][m].main][blend->part[i][n].main];
		crowd[n] = blend->part[i][n].surface / around;
		sum += blend->part[i][n].surface * (1.0 - log(around / q));
	}
	for (size_t n = 0; n < kinds; n++)
		for (size_t m = 0; m < kinds; m++)
			sum -= blend->part[i][n].surface * crowd[m] *
			       blend->psi[blend->part[i][n].main][blend->part[i][m].main];
	return 1.0 + log(r) - 5.0 * q * (1.0 + log(r / q)) - sum;
}

bool tc_activity_prepare(const struct tc_groups *molecule, size_t count, double temperature, struct tc_activity *blend)
{
	if (count < 1 || count > TC_SCI_COMPONENTS_MAX || !tc_within(temperature, 200.0, 500.0))
		return false;
	unsigned kind[TC_ACTIVITY_MAINS_MAX];
	size_t known = 0;
	blend->components = count;
	blend->mains = 0;
	for (size_t i = 0; i < count; i++) {
		add_molecule(blend, kind, i, &molecule[i]);
		known += blend->known[i];
	}
	if (known == 0 || !fill_psi(blend, kind, temperature)) {
		blend->cover = TC_ACTIVITY_IDEAL;
		return true;
	}
	blend->cover = known == count ? TC_ACTIVITY_FULL : TC_ACTIVITY_PARTLY;
	for (size_t i = 0; i < count; i++)
		if (blend->known[i])
			blend->own[i] = own_terms(blend, i);
	return true;
}

/*
 * Coefficients of the components whose groups are known.  With V = r_i/r and F = q_i/q, the published
 * 1 - V + ln V - 5 q_i (1 - V/F + ln(V/F)) is taken apart into what depends on the mixture, and own_terms.
 */
static void known_logs(const struct tc_activity *blend, const double *x, double *ln_gamma)
{
	double theta[TC_ACTIVITY_MAINS_MAX] = {0.0}, ln_group[TC_ACTIVITY_MAINS_MAX], sum = 0.0, r = 0.0, q = 0.0;
	for (size_t i = 0; i < blend->components; i++) {
		if (!blend->known[i])
			continue;
		sum += x[i];
		r += x[i] * blend->r[i];
		q += x[i] * blend->q[i];
		for (size_t k = 0; k < blend->kinds[i]; k++)
			theta[blend->part[i][k].main] += x[i] * blend->part[i][k].surface;
	}
	double per_surface = 1.0 / q;
	for (size_t m = 0; m < blend->mains; m++)
		theta[m] *= per_surface;
	group_activities(blend, theta, ln_group);
	double per_r = sum / r, per_q = q / r, ln_r = log(per_r), ln_q = log(per_q);
	for (size_t i = 0; i < blend->components; i++) {
		if (!blend->known[i])
			continue;
		double size = blend->r[i], surface = blend->q[i];
		double ln = blend->own[i] + ln_r - size * per_r + 5.0 * (size * per_q - surface * ln_q) +
		            over_surface(blend, i, ln_group);
		ln_gamma[i] = tc_lesser(13.8155, tc_larger(-13.8155, ln)); /* ln 1e6 */
	}
}

void tc_activity_logs(const struct tc_activity *blend, const double *x, double *ln_gamma)
{
	double known = 0.0;
	for (size_t i = 0; i < blend->components; i++) {
		ln_gamma[i] = 0.0;
		if (blend->known[i])
			known += x[i];
	}
	if (blend->cover != TC_ACTIVITY_IDEAL && known > 1e-290)
		known_logs(blend, x, ln_gamma);
}

bool tc_activity_gamma(const struct tc_activity *blend, const double *x, double *gamma)
{
	double ln_gamma[TC_SCI_COMPONENTS_MAX], sum;
	if (!tc_amounts(x, blend->components, &sum))
		return false;
	tc_activity_logs(blend, x, ln_gamma);
	for (size_t i = 0; i < blend->components; i++)
		gamma[i] = exp(ln_gamma[i]);
	return true;
}

bool tc_binder_activity(double phi, double chi, double *factor)
{
	if (!tc_within(phi, 0.0, 1.0) || !tc_within(chi, 0.0, 10.0))
		return false;
	*factor = fmin(1.0, (1.0 - phi) * exp(phi + chi * phi * phi));
	return true;
}
