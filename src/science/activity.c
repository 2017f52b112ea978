#include "science/activity.h"

#include <math.h>

#include "science/range.h"

#define MAIN_GROUPS 45 /* one more than the highest number in unifac.def */

struct subgroup {
	unsigned number, main;
	double r, q;
};

static const struct subgroup subgroups[] = {
#define TC_UNIFAC_GROUP(subgroup, main_group, r, q) {subgroup, main_group, r, q},
#include "science/unifac.def"
};

#define SUBGROUPS (sizeof subgroups / sizeof subgroups[0])

_Static_assert(SUBGROUPS <= TC_ACTIVITY_GROUPS_MAX, "a blend may hold every group of the table");

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
	for (size_t i = 0; i < SUBGROUPS; i++)
		if (subgroups[i].number == number)
			return &subgroups[i];
	return NULL;
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

/* The place of a subgroup among those of the blend; added when it is new. */
static size_t place_of(struct tc_activity *blend, const struct subgroup **kind, const struct subgroup *group)
{
	for (size_t k = 0; k < blend->groups; k++)
		if (kind[k] == group)
			return k;
	kind[blend->groups] = group;
	blend->group_q[blend->groups] = group->q;
	for (size_t i = 0; i < TC_SCI_COMPONENTS_MAX; i++)
		blend->times[i][blend->groups] = 0.0;
	return blend->groups++;
}

static void add_molecule(
	struct tc_activity *blend, const struct subgroup **kind, size_t i, const struct tc_groups *molecule)
{
	blend->r[i] = blend->q[i] = blend->pure[i] = 0.0;
	blend->known[i] = groups_known(molecule);
	if (!blend->known[i])
		return;
	for (size_t g = 0; g < molecule->count; g++) {
		const struct subgroup *group = find_subgroup(molecule->of[g].subgroup);
		double times = molecule->of[g].times;
		blend->times[i][place_of(blend, kind, group)] += times;
		blend->r[i] += times * group->r;
		blend->q[i] += times * group->q;
	}
}

/* Fills psi; false when a pair has no published parameter. */
static bool fill_psi(struct tc_activity *blend, const struct subgroup *const *kind, double temperature)
{
	for (size_t m = 0; m < blend->groups; m++)
		for (size_t n = 0; n < blend->groups; n++) {
			if (kind[m]->main == kind[n]->main) {
				blend->psi[m][n] = 1.0;
				continue;
			}
			struct pair pair = interaction[kind[m]->main][kind[n]->main];
			if (!pair.published)
				return false;
			blend->psi[m][n] = exp(-pair.a / temperature);
		}
	return true;
}

/* ln(Gamma_k) of every group in a mixture of groups, amounts in any unit. */
static void group_activities(const struct tc_activity *blend, const double *amount, double *ln_gamma)
{
	double theta[TC_ACTIVITY_GROUPS_MAX], around[TC_ACTIVITY_GROUPS_MAX], surface = 0.0;
	size_t count = blend->groups;
	for (size_t k = 0; k < count; k++) {
		theta[k] = amount[k] * blend->group_q[k];
		surface += theta[k];
	}
	for (size_t k = 0; k < count; k++)
		theta[k] /= surface;
	for (size_t k = 0; k < count; k++) {
		double sum = 0.0;
		for (size_t m = 0; m < count; m++)
			sum += theta[m] * blend->psi[m][k];
		around[k] = sum;
	}
	for (size_t m = 0; m < count; m++)
		theta[m] /= around[m];
	for (size_t k = 0; k < count; k++) {
		double sum = 0.0;
		for (size_t m = 0; m < count; m++)
			sum += theta[m] * blend->psi[k][m];
		ln_gamma[k] = blend->group_q[k] * (1.0 - log(around[k]) - sum);
	}
}

/* Sum over a molecule's groups. */
static double over_groups(const struct tc_activity *blend, size_t i, const double *ln_gamma)
{
	double sum = 0.0;
	for (size_t k = 0; k < blend->groups; k++)
		sum += blend->times[i][k] * ln_gamma[k];
	return sum;
}

bool tc_activity_prepare(const struct tc_groups *molecule, size_t count, double temperature, struct tc_activity *blend)
{
	if (count < 1 || count > TC_SCI_COMPONENTS_MAX || !tc_within(temperature, 200.0, 500.0))
		return false;
	const struct subgroup *kind[TC_ACTIVITY_GROUPS_MAX];
	size_t known = 0;
	blend->components = count;
	blend->groups = 0;
	for (size_t i = 0; i < count; i++) {
		add_molecule(blend, kind, i, &molecule[i]);
		known += blend->known[i];
	}
	if (known == 0 || !fill_psi(blend, kind, temperature)) {
		blend->cover = TC_ACTIVITY_IDEAL;
		return true;
	}
	blend->cover = known == count ? TC_ACTIVITY_FULL : TC_ACTIVITY_PARTLY;
	for (size_t i = 0; i < count; i++) {
		double ln_gamma[TC_ACTIVITY_GROUPS_MAX];
		if (!blend->known[i])
			continue;
		group_activities(blend, blend->times[i], ln_gamma);
		blend->pure[i] = over_groups(blend, i, ln_gamma);
	}
	return true;
}

/* Coefficients of the components whose groups are known, x normalised over these. */
static void known_gammas(const struct tc_activity *blend, const double *x, double sum, double *gamma)
{
	double amount[TC_ACTIVITY_GROUPS_MAX], ln_group[TC_ACTIVITY_GROUPS_MAX], r = 0.0, q = 0.0;
	for (size_t k = 0; k < blend->groups; k++)
		amount[k] = 0.0;
	for (size_t i = 0; i < blend->components; i++) {
		if (!blend->known[i])
			continue;
		double share = x[i] / sum;
		r += share * blend->r[i];
		q += share * blend->q[i];
		for (size_t k = 0; k < blend->groups; k++)
			amount[k] += share * blend->times[i][k];
	}
	group_activities(blend, amount, ln_group);
	for (size_t i = 0; i < blend->components; i++) {
		if (!blend->known[i])
			continue;
		double v = blend->r[i] / r, v_over_f = v * q / blend->q[i];
		double ln = 1.0 - v + log(v) - 5.0 * blend->q[i] * (1.0 - v_over_f + log(v_over_f))
		            + over_groups(blend, i, ln_group) - blend->pure[i];
		gamma[i] = exp(fmin(13.8155, fmax(-13.8155, ln))); /* ln 1e6 */
	}
}

bool tc_activity_gamma(const struct tc_activity *blend, const double *x, double *gamma)
{
	double sum, known = 0.0;
	if (!tc_amounts(x, blend->components, &sum))
		return false;
	for (size_t i = 0; i < blend->components; i++) {
		gamma[i] = 1.0;
		if (blend->known[i])
			known += x[i];
	}
	if (blend->cover != TC_ACTIVITY_IDEAL && known > 1e-290)
		known_gammas(blend, x, known, gamma);
	return true;
}

bool tc_binder_activity(double phi, double chi, double *factor)
{
	if (!tc_within(phi, 0.0, 1.0) || !tc_within(chi, 0.0, 10.0))
		return false;
	*factor = fmin(1.0, (1.0 - phi) * exp(phi + chi * phi * phi));
	return true;
}
