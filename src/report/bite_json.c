/* A trial as JSON: docs/json.md lists the keys. */
#include <math.h>
#include <stdio.h>

#include "report/bite_parts.h"
#include "report/json_parts.h"
#include "report/words.h"

#define FORMAT "tiecoat-bite"
#define VERSION 1u

typedef struct maker {
	tc_json json;
	const tc_try *t;
	const tc_library *library;
} maker;

/* A figure in SI units, null where there is none. */
static json_t *figure(maker *m, tc_value value)
{
	return tc_json_number(&m->json, tc_known(value) ? value.number : NAN);
}

static json_t *pass_name(maker *m, uint32_t pass)
{
	static const char *const names[TC_PASS_COUNT] = {"mist", "light", "medium", "wet"};
	return tc_json_text(&m->json, pass < TC_PASS_COUNT ? names[pass] : NULL);
}

static void put_text(maker *m, json_t *object, const char *key, const char *text)
{
	tc_json_put(&m->json, object, key, tc_json_text(&m->json, text));
}

static void put_number(maker *m, json_t *object, const char *key, double number)
{
	tc_json_put(&m->json, object, key, tc_json_number(&m->json, number));
}

static void put_truth(maker *m, json_t *object, const char *key, bool truth)
{
	tc_json_put(&m->json, object, key, json_boolean(truth));
}

/* --- what was asked --------------------------------------------------------------------------------------------- */

static void put_rulebook(maker *m, json_t *top)
{
	json_t *book = tc_json_object(&m->json);
	char stamp[24];
	snprintf(stamp, sizeof stamp, "%016llx", (unsigned long long)tc_rulebook_stamp(m->t->rulebook));
	put_text(m, book, "version", stamp);
	tc_json_put(&m->json, top, "rulebook", book);
}

static json_t *material(maker *m, const tc_product *product)
{
	if (!product)
		return tc_json_text(&m->json, NULL);
	json_t *object = tc_json_object(&m->json);
	put_text(m, object, "label", product->label);
	put_text(m, object, "entry", product->family->id);
	put_truth(m, object, "on_shelf", product->on_shelf);
	return object;
}

static void put_materials(maker *m, json_t *top)
{
	static const char *const structures[] = {[TC_AMORPHOUS] = "amorphous",
	    [TC_CROSSLINKED] = "crosslinked",
	    [TC_SEMICRYSTALLINE] = "semicrystalline",
	    [TC_INERT] = "inert"};
	const tc_try *t = m->t;
	json_t *materials = tc_json_object(&m->json);
	put_text(m, top, "solid", t->solid->label);
	put_text(m, top, "liquid", t->liquid->label);
	tc_json_put(&m->json, materials, "solid", material(m, t->solid));
	tc_json_put(&m->json, materials, "liquid", material(m, t->liquid));
	tc_json_put(&m->json, materials, "thinner", material(m, t->thinner));
	put_number(m, materials, "thinned", t->thinner ? t->thinned : NAN);
	put_text(m, materials, "structure", t->structure == TC_NONE ? NULL : structures[t->structure]);
	put_truth(m, materials, "stressed", t->stressed);
	tc_json_put(&m->json, top, "materials", materials);
}

static json_t *film(maker *m)
{
	const tc_try *t = m->t;
	json_t *object = tc_json_object(&m->json);
	put_truth(m, object, "paint", t->paint);
	tc_json_put(&m->json, object, "coats", tc_json_count(&m->json, t->coats));
	tc_json_put(&m->json, object, "pass", pass_name(m, t->pass));
	put_truth(m, object, "pass_assumed", t->pass_assumed);
	put_number(m, object, "wet_m", t->wet);
	put_truth(m, object, "film_assumed", t->film_assumed);
	put_number(m, object, "flash_s", t->flash);
	put_number(m, object, "solids", t->solids);
	put_number(m, object, "stays_s", t->stays);
	return object;
}

static void put_air_figure(maker *m, json_t *air, const char *key, tc_value value)
{
	json_t *object = tc_json_object(&m->json);
	tc_json_put(&m->json, object, "value", figure(m, value));
	put_truth(m, object, "assumed", value.state == TC_ASSUMED);
	tc_json_put(&m->json, air, key, object);
}

static json_t *air(maker *m)
{
	json_t *object = tc_json_object(&m->json);
	put_air_figure(m, object, "temperature_k", m->t->temperature);
	put_air_figure(m, object, "humidity", m->t->humidity);
	put_air_figure(m, object, "speed_m_s", m->t->air_speed);
	return object;
}

/* --- what came out ---------------------------------------------------------------------------------------------- */

static void put_figures(maker *m, json_t *top)
{
	const tc_try *t = m->t;
	tc_json_put(&m->json, top, "red", figure(m, t->red_least));
	put_number(m, top, "red_at_s", tc_known(t->red_least) ? t->worst_at : NAN);
	tc_json_put(&m->json, top, "red_landing", figure(m, t->red));
	put_text(m, top, "verdict", tc_bite_word(t->word));
	put_text(m, top, "verdict_under_stress", tc_bite_word(t->under_stress));
	tc_json_put(&m->json, top, "attack_time_s", figure(m, t->hot_time));
	put_number(m, top, "attack_below_red", t->hot_bound);
	tc_json_put(&m->json, top, "attack_depth_m", figure(m, t->attack));
}

/* A bound in SI units: null where everything that was tried is borne (`any`), or nothing is (`none`). */
static json_t *bound(maker *m, const char *key, tc_try_bound borne)
{
	json_t *object = tc_json_object(&m->json);
	put_number(m, object, key, !borne.any && tc_known(borne.value) ? borne.value.number : NAN);
	put_truth(m, object, "any", borne.any);
	put_truth(m, object, "none", borne.value.state == TC_ABSENT);
	return object;
}

static json_t *passes(maker *m)
{
	json_t *array = tc_json_array(&m->json);
	for (uint32_t i = 0; i < m->t->passes; i++) {
		const tc_try_pass *p = &m->t->at_pass[i];
		json_t *object = tc_json_object(&m->json);
		tc_json_put(&m->json, object, "pass", pass_name(m, p->pass));
		put_number(m, object, "wet_m", p->wet);
		put_text(m, object, "verdict", tc_bite_word(p->word));
		tc_json_put(&m->json, object, "red", figure(m, p->red_least));
		tc_json_put(&m->json, object, "attack_time_s", figure(m, p->hot_time));
		tc_json_put(&m->json, object, "attack_depth_m", figure(m, p->attack));
		tc_json_push(&m->json, array, object);
	}
	return array;
}

static json_t *course(maker *m)
{
	json_t *array = tc_json_array(&m->json);
	for (uint32_t i = 0; i < m->t->moments; i++) {
		const tc_try_moment *moment = &m->t->moment[i];
		json_t *object = tc_json_object(&m->json);
		put_number(m, object, "s", moment->time);
		put_number(m, object, "red", moment->red);
		put_number(m, object, "liquid_m", moment->liquid);
		tc_json_put(&m->json, object, "pass", tc_json_count(&m->json, moment->pass + 1));
		tc_json_push(&m->json, array, object);
	}
	return array;
}

/* --- why, and from where ---------------------------------------------------------------------------------------- */

static json_t *solvents(maker *m)
{
	json_t *array = tc_json_array(&m->json);
	for (uint32_t i = 0; i < m->t->solvents; i++) {
		const tc_entry *entry = tc_library_entry(m->library, m->t->solvent[i]);
		const tc_figure *delta = entry->figures[TC_P_DELTA_D];
		json_t *object = tc_json_object(&m->json);
		put_text(m, object, "entry", entry->id);
		put_number(m, object, "share", m->t->share[i]);
		tc_json_put(
		    &m->json, object, "source", tc_json_basis(&m->json, m->library, delta ? delta->basis : NULL));
		tc_json_push(&m->json, array, object);
	}
	return array;
}

static json_t *sources(maker *m)
{
	const char *note;
	json_t *object = tc_json_object(&m->json);
	tc_json_put(&m->json, object, "sphere", tc_json_basis(&m->json, m->library, tc_bite_sphere(m->t, &note)));
	put_text(m, object, "sphere_note", note);
	tc_json_put(&m->json, object, "composition", tc_json_basis(&m->json, m->library, tc_bite_composition(m->t)));
	put_truth(m, object, "composition_usual", m->t->liquid_state == TC_ASSUMED);
	tc_json_put(&m->json, object, "solvents", solvents(m));
	return object;
}

static json_t *needs(maker *m)
{
	json_t *array = tc_json_array(&m->json);
	for (uint32_t i = 0; i < m->t->needs; i++) {
		json_t *object = tc_json_object(&m->json);
		put_text(m, object, "datum", m->t->need[i].datum);
		put_text(m, object, "where", m->t->need[i].where);
		tc_json_push(&m->json, array, object);
	}
	return array;
}

static void put_why(maker *m, json_t *top)
{
	json_t *reasons = tc_json_array(&m->json), *cautions = tc_json_array(&m->json);
	for (uint32_t i = 0; i < m->t->reasons; i++)
		tc_json_push(&m->json, reasons, tc_json_reason(&m->json, m->library, &m->t->reason[i]));
	for (uint32_t i = 0; i < m->t->cautions; i++)
		tc_json_push(&m->json, cautions, tc_json_caution(&m->json, &m->t->caution[i]));
	tc_json_put(&m->json, top, "reasons", reasons);
	tc_json_put(&m->json, top, "needs", needs(m));
	tc_json_put(&m->json, top, "sources", sources(m));
	put_text(m, top, "try_first", tc_bite_try_first());
	put_text(m, top, "not_reckoned", tc_bite_not_reckoned());
	tc_json_put(&m->json, top, "cautions", cautions);
}

tc_status tc_bite_json(const tc_try *result, tc_buffer *out)
{
	maker m = {.t = result, .library = tc_rulebook_library(result->rulebook)};
	json_t *top = tc_json_object(&m.json);
	put_text(&m, top, "format", FORMAT);
	tc_json_put(&m.json, top, "version", tc_json_count(&m.json, VERSION));
	put_rulebook(&m, top);
	put_materials(&m, top);
	put_figures(&m, top);
	tc_json_put(&m.json, top, "film", film(&m));
	tc_json_put(&m.json, top, "air", air(&m));
	tc_json_put(&m.json, top, "heaviest", bound(&m, "wet_m", result->heaviest));
	tc_json_put(&m.json, top, "heaviest_under_stress", bound(&m, "wet_m", result->heaviest_stressed));
	tc_json_put(
	    &m.json, top, "longest", result->paint ? tc_json_text(&m.json, NULL) : bound(&m, "s", result->longest));
	tc_json_put(&m.json, top, "passes", passes(&m));
	tc_json_put(&m.json, top, "course", course(&m));
	put_why(&m, top);
	if (!m.json.failed)
		tc_json_write(&m.json, top, 0, out);
	tc_buffer_char(out, '\n');
	json_decref(top);
	return m.json.failed ? TC_NO_MEMORY : TC_OK;
}
