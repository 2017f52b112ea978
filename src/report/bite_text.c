/* A trial for a person: the verdict, its figures, the chart, where each figure comes from, and the caution. */
#include <math.h>
#include <string.h>

#include "report/bite_chart.h"
#include "report/words.h"

#define TEXT_AT 18u /* column of the text beside a name */

typedef struct sheet {
	const tc_try *t;
	const tc_library *library;
	tc_page *page;
	tc_buffer text;
} sheet;

/* The text so far beside a name; nothing where there is none. */
static void add(sheet *s, const char *name)
{
	if (s->text.length)
		tc_page_item(s->page, 2, TC_INK_PLAIN, name, TEXT_AT, tc_words_text(&s->text));
	s->page->work.failed = s->page->work.failed || s->text.failed;
	s->text.length = 0;
}

/* --- the verdict ------------------------------------------------------------------------------------------------ */

static tc_ink ink_of(tc_try_word word)
{
	static const tc_ink inks[] = {[TC_TRY_NONE] = TC_INK_STRONG,
	    [TC_TRY_CRAZES] = TC_INK_WARNING,
	    [TC_TRY_SWELLS] = TC_INK_ERROR,
	    [TC_TRY_DISSOLVES] = TC_INK_ERROR,
	    [TC_TRY_UNDECIDED] = TC_INK_OPEN};
	return inks[word];
}

static void add_verdict(sheet *s)
{
	tc_bite_title(s->t, &s->text);
	tc_buffer_puts(&s->text, ": ");
	const size_t at = tc_page_put(s->page, TC_INK_PLAIN, tc_words_text(&s->text));
	s->text.length = 0;
	tc_page_wrap(s->page, ink_of(s->t->word), tc_bite_word(s->t->word), at, 2);
}

/* --- the figures ------------------------------------------------------------------------------------------------ */

static void add_near(sheet *s)
{
	const tc_try *t = s->t;
	if (t->structure == TC_INERT) {
		tc_buffer_print(&s->text, "%s is inert: there is nothing in it that a solvent could dissolve or swell",
		    t->solid->label);
		add(s, "why");
		return;
	}
	if (t->no_solvent) {
		tc_buffer_print(&s->text, "%s holds no solvent", t->liquid->label);
		add(s, "why");
		return;
	}
	if (!tc_known(t->red))
		return;
	tc_buffer_puts(&s->text, "RED ");
	tc_bite_red_words(t->red.number, &s->text);
	tc_buffer_puts(&s->text, " as it lands");
	if (tc_known(t->red_least) && !isnan(t->worst_at) && fabs(t->red_least.number - t->red.number) > 5e-4) {
		tc_buffer_puts(&s->text, ", at worst ");
		tc_bite_red_words(t->red_least.number, &s->text);
		tc_buffer_puts(&s->text, " after ");
		tc_bite_time(t->worst_at, &s->text);
	}
	tc_buffer_puts(&s->text, "; below 1 it lies inside the sphere of what dissolves such a solid");
	add(s, "nearness");
}

static void add_time(sheet *s)
{
	const tc_try *t = s->t;
	if (!tc_known(t->hot_time))
		return;
	if (t->hot_time.number > 0)
		tc_bite_time(t->hot_time.number, &s->text);
	else
		tc_buffer_puts(&s->text, "never");
	tc_buffer_puts(&s->text, ", counted while RED lies below ");
	tc_buffer_number(&s->text, t->hot_bound, 1, 3);
	if (t->paint)
		tc_buffer_puts(&s->text, " and the film is still wet");
	add(s, "under attack");
	if (!tc_known(t->attack))
		return;
	tc_bite_length(t->attack.number, &s->text);
	tc_buffer_puts(&s->text, " softened: a computed depth to compare with others, not one that was measured");
	add(s, "how deep");
}

static void add_film(sheet *s)
{
	static const char *const names[TC_PASS_COUNT] = {"mist", "light", "medium", "wet"};
	const tc_try *t = s->t;
	if (isnan(t->wet))
		return;
	if (t->coats > 1)
		tc_buffer_print(&s->text, "%u passes of ", (unsigned)t->coats);
	tc_bite_length(t->wet, &s->text);
	tc_buffer_puts(&s->text, " wet");
	if (t->pass < TC_PASS_COUNT)
		tc_buffer_print(&s->text, ", a %s pass%s", names[t->pass],
		    t->pass_assumed   ? " (nobody said: --pass says it)"
		    : t->film_assumed ? ", as usual for it"
		                      : "");
	else if (!t->paint && t->film_assumed)
		tc_buffer_puts(&s->text, ", what a wipe leaves");
	if (!isnan(t->flash)) {
		tc_buffer_puts(&s->text, ", ");
		tc_bite_time(t->flash, &s->text);
		tc_buffer_print(&s->text, " between them%s", t->flash_assumed ? " (usual)" : "");
	}
	if (!t->paint && t->stays < 1e7) {
		tc_buffer_puts(&s->text, ", wiped off after ");
		tc_bite_time(t->stays, &s->text);
		tc_buffer_puts(&s->text, t->stays_assumed ? " (usual)" : "");
	}
	add(s, "how wet");
}

/* `how heavy  passes of at most 12 µm wet do not dissolve it` */
static void add_heaviest(sheet *s, tc_try_bound film, const char *does, const char *name)
{
	if (film.value.state == TC_UNKNOWN)
		return;
	if (film.value.state == TC_ABSENT) {
		tc_buffer_print(&s->text, "no pass is so thin that it does not %s it", does);
	} else if (film.any) {
		tc_buffer_print(&s->text, "no pass up to 1 mm wet would %s it", does);
	} else {
		tc_buffer_puts(&s->text, "passes of at most ");
		tc_bite_length(film.value.number, &s->text);
		tc_buffer_print(&s->text, " wet do not %s it", does);
	}
	add(s, name);
}

static void add_longest(sheet *s, const char *does)
{
	const tc_try_bound time = s->t->longest;
	if (time.value.state == TC_UNKNOWN || (time.any && s->t->word != TC_TRY_CRAZES))
		return;
	if (time.value.state == TC_ABSENT) {
		tc_buffer_print(&s->text, "even a second of it is long enough to %s it", does);
	} else if (time.any) {
		tc_buffer_print(&s->text, "not even until it has dried would it %s it", does);
	} else {
		tc_buffer_print(&s->text, "it begins to %s it after about ", does);
		tc_bite_time(time.value.number, &s->text);
	}
	add(s, "how long");
}

static void add_bounds(sheet *s)
{
	const tc_try *t = s->t;
	const bool dissolves = t->structure == TC_AMORPHOUS,
	           part = t->solid->family->sections & 1u << TC_SECTION_SUBSTRATES;
	const char *does = dissolves ? "dissolve" : "swell";
	if (t->structure == TC_INERT || t->no_solvent)
		return;
	if (t->paint)
		add_heaviest(s, t->heaviest, does, "how heavy");
	else
		add_longest(s, does);
	if (!dissolves || !part)
		return;
	if (t->under_stress != t->word) {
		tc_buffer_puts(&s->text, tc_bite_word(t->under_stress));
		add(s, "if stressed");
	}
	if (t->paint)
		add_heaviest(s, t->heaviest_stressed, "craze", t->under_stress != t->word ? "" : "if stressed");
}

/* --- each weight of pass ---------------------------------------------------------------------------------------- */

static void add_passes(sheet *s)
{
	static const char *const names[TC_PASS_COUNT] = {"mist", "light", "medium", "wet"};
	const tc_try *t = s->t;
	if (t->passes == 0 || t->structure == TC_INERT || t->no_solvent)
		return;
	tc_page_heading(s->page, "By weight of pass");
	for (uint32_t i = 0; i < t->passes; i++) {
		const tc_try_pass *p = &t->at_pass[i];
		tc_buffer_print(&s->text, "%s: ", tc_bite_word(p->word));
		tc_bite_length(p->wet, &s->text);
		tc_buffer_puts(&s->text, " wet");
		if (tc_known(p->attack) && tc_known(p->hot_time)) {
			tc_buffer_puts(&s->text, ", ");
			tc_bite_time(p->hot_time.number, &s->text);
			tc_buffer_puts(&s->text, " under attack, ");
			tc_bite_length(p->attack.number, &s->text);
			tc_buffer_puts(&s->text, " deep");
		}
		add(s, names[p->pass]);
	}
}

/* --- why, and what is lacking ----------------------------------------------------------------------------------- */

static void add_needs(sheet *s)
{
	if (s->t->needs)
		tc_page_heading(s->page, "What is lacking");
	for (uint32_t i = 0; i < s->t->needs; i++) {
		const tc_need *need = &s->t->need[i];
		tc_buffer_print(&s->text, "%s: %s", need->datum, need->where);
		tc_page_item(s->page, 0, TC_INK_OPEN, "?", 2, tc_words_text(&s->text));
		s->text.length = 0;
	}
	const tc_entry *kind = s->t->solid->family;
	if (s->t->word != TC_TRY_UNDECIDED || !kind->is_kind)
		return;
	for (uint32_t i = kind->index + 1; i <= kind->last; i++)
		if (!tc_library_entry(s->library, i)->is_kind)
			tc_buffer_print(
			    &s->text, "%s%s", s->text.length ? ", " : "", tc_library_entry(s->library, i)->id);
	add(s, "such as");
}

static bool told(const tc_try *t, uint32_t index)
{
	for (uint32_t i = 0; i < index; i++)
		if (t->reason[i].test == t->reason[index].test)
			return true;
	return false;
}

static void add_reasons(sheet *s)
{
	const tc_try *t = s->t;
	if (t->word == TC_TRY_UNDECIDED || t->reasons == 0)
		return;
	tc_page_heading(s->page, "What decided, in the rulebook's words");
	for (uint32_t i = 0; i < t->reasons; i++) {
		if (told(t, i) || !strchr(t->reason[i].fact, '.')) /* what a thing is: that stands above */
			continue;
		tc_buffer_print(&s->text, "%s (%s is %s)", t->reason[i].test, t->reason[i].fact, t->reason[i].text);
		tc_page_item(s->page, 2, TC_INK_PLAIN, "", 2, tc_words_text(&s->text));
		s->text.length = 0;
	}
}

/* --- sources ---------------------------------------------------------------------------------------------------- */

static void add_sphere(sheet *s)
{
	static const tc_property parts[] = {TC_P_DELTA_D, TC_P_DELTA_P, TC_P_DELTA_H, TC_P_R0};
	static const char *const names[] = {"δD", ", δP", ", δH", ", radius"};
	const char *note;
	const tc_basis *basis = tc_bite_sphere(s->t, &note);
	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
		const tc_value v = tc_product_value(s->t->solid, parts[i]);
		if (!tc_known(v)) {
			s->text.length = 0;
			return;
		}
		tc_buffer_print(&s->text, "%s ", names[i]);
		tc_buffer_number(&s->text, v.number / 1000, 1, 4);
	}
	tc_buffer_puts(&s->text, " MPa½: ");
	if (basis)
		tc_words_basis(s->library, basis, &s->text);
	else
		tc_buffer_puts(&s->text, "as the shelf says");
	if (note)
		tc_buffer_print(&s->text, "; %s", note);
	add(s, "sphere");
}

static void add_composition(sheet *s)
{
	const tc_try *t = s->t;
	const tc_basis *basis = tc_bite_composition(t);
	for (uint32_t i = 0; i < t->solvents; i++) {
		tc_buffer_print(&s->text, "%s%s ", i ? ", " : "", tc_library_entry(s->library, t->solvent[i])->name);
		tc_quantity_print(&s->text, TC_T_SHARE, TC_DIM_NONE, t->share[i], 2, NULL);
	}
	if (t->solvents == 0)
		return;
	if (basis) {
		tc_buffer_puts(&s->text, ": ");
		tc_words_basis(s->library, basis, &s->text);
	}
	if (t->liquid_state == TC_ASSUMED ||
	    (basis && t->liquid->own == NULL && t->liquid->family->section != TC_SECTION_SOLVENTS))
		tc_buffer_puts(&s->text, "; labels differ, and the safety data sheet of yours is better");
	add(s, "solvents");
}

static void add_solvent_sources(sheet *s)
{
	tc_bite_from from[TC_BLEND_MAX];
	const uint32_t count = tc_bite_sources(s->t, from);
	for (uint32_t f = 0; f < count; f++) {
		const char *between = "";
		for (uint32_t i = 0; count > 1 && i < s->t->solvents; i++)
			if (from[f].solvents >> i & 1) {
				tc_buffer_print(
				    &s->text, "%s%s", between, tc_library_entry(s->library, s->t->solvent[i])->name);
				between = ", ";
			}
		tc_buffer_puts(&s->text, *between ? ": " : "");
		if (from[f].basis)
			tc_words_basis(s->library, from[f].basis, &s->text);
		else
			tc_buffer_puts(&s->text, "no source is given");
		add(s, f == 0 ? "their figures" : "");
	}
}

static void add_air_figure(sheet *s, tc_value value, tc_dim dim, const char *what, const char *between)
{
	tc_buffer_puts(&s->text, between);
	tc_quantity_print(&s->text, (tc_type)value.type, dim, value.number, 3, NULL);
	tc_buffer_print(&s->text, "%s%s", what, value.state == TC_ASSUMED ? " (assumed)" : "");
}

static void add_air(sheet *s)
{
	add_air_figure(s, s->t->temperature, TC_DIM_NONE, "", "");
	add_air_figure(s, s->t->humidity, TC_DIM_NONE, " humidity", ", ");
	add_air_figure(s, s->t->air_speed, TC_DIM_SPEED, " across the work", ", ");
	add(s, "air");
}

static void add_sources(sheet *s)
{
	tc_page_heading(s->page, "Where the figures come from");
	add_sphere(s);
	add_composition(s);
	add_solvent_sources(s);
	add_air(s);
	tc_buffer_puts(&s->text,
	    "computed, see docs/science.md; the bounds of the verdict are common practice and stand in the rulebook");
	add(s, "the rest");
}

/* --- cautions --------------------------------------------------------------------------------------------------- */

/* Codes of hazards of the liquid and its thinner. */
static void add_hazards(sheet *s, const tc_product *product)
{
	if (!product || !product->family->hazards[0])
		return;
	tc_buffer_print(&s->text, "%s: ", product->label);
	for (uint32_t i = 0; product->family->hazards[i]; i++)
		tc_buffer_print(&s->text, "%s%s", i ? ", " : "", product->family->hazards[i]);
	tc_buffer_puts(&s->text, " (as usual; its label and safety data sheet say what they mean)");
	tc_page_item(s->page, 0, TC_INK_WARNING, "!", 2, tc_words_text(&s->text));
	s->text.length = 0;
}

/* Cautions that hold whatever is used. */
static bool always(const tc_caution *caution)
{
	return !caution->codes[0] && caution->kinds[0] == TC_NONE && caution->verbs == 0;
}

static void add_cautions(sheet *s)
{
	tc_page_heading(s->page, "Take care");
	tc_page_item(s->page, 0, TC_INK_WARNING, "!", 2, tc_bite_try_first());
	tc_page_item(s->page, 0, TC_INK_WARNING, "!", 2, tc_bite_not_reckoned());
	add_hazards(s, s->t->liquid);
	add_hazards(s, s->t->thinner);
	for (uint32_t i = 0; i < s->t->cautions; i++)
		if (always(s->t->caution[i].caution))
			tc_page_item(s->page, 0, TC_INK_WARNING, "!", 2, s->t->caution[i].caution->says);
}

void tc_bite_text(const tc_try *result, tc_page *page)
{
	sheet s = {.t = result, .library = tc_rulebook_library(result->rulebook), .page = page};
	tc_buffer_start(&s.text, page->out->from);
	add_verdict(&s);
	add_near(&s);
	add_film(&s);
	add_time(&s);
	add_bounds(&s);
	add_needs(&s);
	add_passes(&s);
	tc_bite_chart_text(result, page);
	add_reasons(&s);
	add_sources(&s);
	add_cautions(&s);
	tc_buffer_free(&s.text);
}
