/* What came of a trial in words and measures. */
#include <math.h>
#include <string.h>

#include "report/bite_parts.h"

const char *tc_bite_word(tc_try_word word)
{
	static const char *const words[] = {[TC_TRY_NONE] = "no attack expected",
	    [TC_TRY_CRAZES] = "may craze under stress",
	    [TC_TRY_SWELLS] = "swells",
	    [TC_TRY_DISSOLVES] = "dissolves",
	    [TC_TRY_UNDECIDED] = "undecided"};
	return words[word];
}

const char *tc_bite_try_first(void)
{
	return "Try it on a hidden spot or on scrap of the same part first, and look again after a day.";
}

const char *tc_bite_not_reckoned(void)
{
	return "Only what solvents do is reckoned here; acids, alkalis, bleaches, reactive resins, plasticisers and "
	       "heat can "
	       "harm a part too.";
}

void tc_bite_title(const tc_try *result, tc_buffer *out)
{
	tc_buffer_puts(out, result->liquid->label);
	if (result->thinner) {
		tc_buffer_puts(out, ", thinned with ");
		tc_quantity_print(out, TC_T_SHARE, TC_DIM_NONE, result->thinned, 3, NULL);
		tc_buffer_print(out, " of %s,", result->thinner->label);
	}
	tc_buffer_print(out, " on %s%s", result->solid->label,
	    result->solid->family->sections & 1u << TC_SECTION_SUBSTRATES ? "" : " (its dry film)");
}

void tc_bite_red_words(double red, tc_buffer *out)
{
	tc_buffer_number(out, red, 2, fabs(red - 1) < 0.005 && tc_compare(red, 1) != 0 ? 6 : 3);
}

void tc_bite_length(double metres, tc_buffer *out)
{
	tc_quantity_print(out, TC_T_NUMBER, TC_DIM_LENGTH, metres, 2, NULL);
}

void tc_bite_time(double seconds, tc_buffer *out)
{
	tc_quantity_print(out, TC_T_NUMBER, TC_DIM_TIME, seconds, 2, NULL);
}

/* --- the chart's measures --------------------------------------------------------------------------------------- */

#define LEFT_LEAST 0.03   /* of the most liquid that ever lay there */
#define CHANGE_LEAST 0.01 /* of RED: below it a curve says nothing that a figure does not */

static double most_liquid(const tc_try *result)
{
	double most = 0;
	for (uint32_t i = 0; i < result->moments; i++)
		most = fmax(most, result->moment[i].liquid);
	return most;
}

tc_bite_chart tc_bite_chart_of(const tc_try *result)
{
	tc_bite_chart chart = {.step = 0.5};
	const double least_liquid = LEFT_LEAST * most_liquid(result);
	double low = INFINITY, high = 0;
	for (uint32_t i = 0; i < result->moments; i++)
		if (result->moment[i].liquid >= least_liquid)
			chart.moments = i + 1;
	for (uint32_t i = 0; i < chart.moments; i++) {
		low = fmin(low, result->moment[i].red);
		high = fmax(high, result->moment[i].red);
		chart.end = fmax(chart.end, result->moment[i].time);
	}
	chart.drawn = chart.moments > 1 && chart.end > 0 && high - low > CHANGE_LEAST;
	if (high > 2.5)
		chart.step = 1;
	chart.most = fmax(1.5, chart.step * ceil(high / chart.step + 0.1));
	return chart;
}

/* --- sources ---------------------------------------------------------------------------------------------------- */

static bool same_basis(const tc_basis *a, const tc_basis *b)
{
	if (!a || !b)
		return a == b;
	const bool at = a->at && b->at ? strcmp(a->at, b->at) == 0 : a->at == b->at;
	return a->source == b->source && a->memory == b->memory && at;
}

uint32_t tc_bite_sources(const tc_try *result, tc_bite_from from[TC_BLEND_MAX])
{
	const tc_library *library = tc_rulebook_library(result->rulebook);
	uint32_t count = 0;
	for (uint32_t i = 0; i < result->solvents; i++) {
		const tc_figure *figure = tc_library_entry(library, result->solvent[i])->figures[TC_P_DELTA_D];
		const tc_basis *basis = figure ? figure->basis : NULL;
		uint32_t at = 0;
		while (at < count && !same_basis(from[at].basis, basis))
			at++;
		if (at == count)
			from[count++] = (tc_bite_from){.basis = basis};
		from[at].solvents |= UINT32_C(1) << i;
	}
	return count;
}
_Static_assert(TC_BLEND_MAX <= 32, "a set of solvents is one 32-bit word");

const tc_basis *tc_bite_sphere(const tc_try *result, const char **note)
{
	const tc_figure *figure = tc_product_figure(result->solid, TC_P_DELTA_D);
	*note = figure ? figure->note : NULL;
	return figure && tc_known(figure->value) ? figure->basis : NULL;
}

const tc_basis *tc_bite_composition(const tc_try *result)
{
	if (result->liquid->family->section == TC_SECTION_SOLVENTS)
		return NULL;
	const tc_figure *figure = tc_product_figure(result->liquid, TC_P_SOLVENTS);
	return figure && tc_known(figure->value) ? figure->basis : NULL;
}
