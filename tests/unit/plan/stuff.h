/* What the tests of cups, purchases and air share: a small rulebook whose figures are invented and round, and recipes that go
 * through the table as in a plan, without rules. */
#ifndef TC_TESTS_PLAN_STUFF_H
#define TC_TESTS_PLAN_STUFF_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>

#include "plan/breath.h"
#include "plan/turns.h"

/* Solvents: `quick` and `slow` have a limit and an LEL and cannot be followed as they dry, `odd` has neither, `wet` says that
 * it has none. Transfer is a half with `jet`, four fifths with `bristle`, a quarter where nobody says. */
static const char stuff_book[] =
    "words:\n"
    "  role: {primer: first, colour: seen}\n  effect: {solid: plain}\n  soil: {dust: dry}\n  need: {wash: washed}\n"
    "  sheen: {gloss: bright}\n  shade: {white: white}\n  hardness: {hard: hard}\n"
    "  method: {jet: sprayed, bristle: brushed, bomb: from a can, cloth: wiped}\n"
    "defaults:\n"
    "  temperature: {is: 20 °C, from: practice}\n  humidity: {is: 50 %, from: practice}\n"
    "  air_speed: {is: 0.3 m/s, from: practice}\n  room: {is: 40 m³, from: practice}\n"
    "  extraction: {is: 0 m³/h, from: practice}\n  part_length: {is: 10 cm, from: practice}\n"
    "  scratch_of_grain: {is: 0.2, from: practice}\n  still_air_transfer: {is: 0.002 m/s, from: practice}\n"
    "  set_solvent: {is: 20 %, from: practice}\n  film_diffusivity: {is: 1e-12 m²/s, from: practice}\n"
    "  film_chi: {is: 0.4, from: practice}\n  film_cooling: {is: 0.5, from: practice}\n"
    "  molecule: {is: 100 cm³/mol, from: practice}\n  film_fall: {is: 20 cm³/mol, from: practice}\n"
    "  swell_diffusivity: {is: 1e-12 m²/s, from: practice}\n  swell_fall: {is: 20 cm³/mol, from: practice}\n"
    "  swell_bound: {is: 1, from: practice}\n  wet_share: {is: 30 %, from: practice}\n"
    "  wipe_film: {is: 100 µm, from: practice}\n  line_wall: {is: 1, from: practice}\n"
    "  line_levelling: {is: 1.5, from: practice}\n  pot_life_factor: {is: 2, from: practice}\n"
    "  cup_loss: {is: 2 ml, from: practice}\n  hand_time: {is: 5 min, from: practice}\n"
    "  stand_by: {is: 45 min, from: practice}\n  alarm_share: {is: 25 %, from: practice}\n"
    "  tool_cleaning: {is: 7 ml, from: practice}\n  cup_keeps: {is: 12 h, from: practice}\n"
    "  sitting_gap: {is: 2 h, from: practice}\n  air_mixing: {is: 0.5, from: practice}\n"
    "  air_change: {is: 2 h, from: practice}\n  lel_share: {is: 25 %, from: practice}\n"
    "  limit_time: {is: 8 h, from: practice}\n  clear_share: {is: 10 %, from: practice}\n"
    "  cleaning_vapour: {is: 50 %, from: practice}\n"
    "kinds:\n"
    "  solvent: {name: solvent, from: practice}\n  thinner: {name: thinner, from: practice}\n"
    "  plastic: {name: plastic, carries: [], from: practice}\n  wood: {name: wood, carries: [], from: practice}\n"
    "  paint:\n    name: paint\n    from: practice\n    cure: evaporation\n    structure: amorphous\n    solids: 20 %\n"
    "    film_mist: 5 µm\n    film_light: 40 µm\n    film_medium: 80 µm\n    film_wet: 120 µm\n    flash: 10 min\n"
    "    hand_time: 1 min\n    carries: []\n    pot_life: none\n    mix: none\n    induction: none\n    cure_at: 20 "
    "°C\n"
    "    recoat: 10 min on\n    transfer: 25 %\n    propelled: no\n"
    "  lacquer: {under: paint, name: lacquer, thinned_by: [lacquer-thinner], from: practice}\n"
    "  two-part: {under: paint, name: two-part, cure: two-part, mix: 2:1, pot_life: 2 h, thinned_by: [reducer, quick], "
    "from: "
    "practice}\n"
    "  filler: {name: filler, hand_time: 1 min, from: practice}\n  adhesive: {name: adhesive, hand_time: 1 min, from: "
    "practice}\n"
    "  decal: {name: decal, hand_time: 1 min, from: practice}\n  agent: {name: agent, hand_time: 1 min, from: "
    "practice}\n"
    "  abrasive: {name: abrasive, hand_time: 1 min, from: practice}\n"
    "  method: {name: way, from: practice}\n"
    "solvents:\n"
    "  quick: {kind: solvent, from: practice, density: 0.8 g/cm³, molar_mass: 80 g/mol, exposure_limit: 100 ppm, lel: "
    "2 %}\n"
    "  slow: {kind: solvent, from: practice, density: 1.0 g/cm³, molar_mass: 160 g/mol, exposure_limit: 50 ppm, lel: 1 "
    "%}\n"
    "  odd: {kind: solvent, from: practice, density: 0.9 g/cm³, molar_mass: 100 g/mol}\n"
    "  wet: {kind: solvent, from: practice, density: 1.0 g/cm³, molar_mass: 18 g/mol, exposure_limit: none, lel: none, "
    "size: "
    "none}\n"
    /* as n-butyl acetate and toluene, so that films dry (from memory, rounded) */
    "  ester:\n    kind: solvent\n    from: practice\n    delta_d: 15.8 MPa½\n    delta_p: 3.7 MPa½\n    delta_h: 6.3 "
    "MPa½\n"
    "    molar_volume: 132.5 cm³/mol\n    molar_mass: 116.16 g/mol\n    density: 0.881 g/cm³\n    antoine_a: 7.03\n"
    "    antoine_b: 1368\n    antoine_c: 204\n    heat_of_vaporisation: 43.9 kJ/mol\n    exposure_limit: 50 ppm\n    "
    "lel: 1.2 %\n"
    "  ring:\n    kind: solvent\n    from: practice\n    delta_d: 18 MPa½\n    delta_p: 1.4 MPa½\n    delta_h: 2 MPa½\n"
    "    molar_volume: 106.8 cm³/mol\n    molar_mass: 92.14 g/mol\n    density: 0.867 g/cm³\n    antoine_a: 6.955\n"
    "    antoine_b: 1344.8\n    antoine_c: 219.48\n    heat_of_vaporisation: 38 kJ/mol\n    exposure_limit: 20 ppm\n   "
    " lel: 1.1 %\n"
    "blends:\n"
    "  lacquer-thinner: {kind: thinner, name: lacquer thinner, solvents: {quick: 50 %, slow: 50 %}, size: 250 ml, "
    "price: 6, from: "
    "practice}\n"
    "  reducer: {kind: thinner, solvents: {slow: 100 %}, from: practice}\n"
    "substrates:\n"
    "  styrene: {kind: plastic, from: practice}\n  oak: {kind: wood, from: practice}\n"
    "coatings:\n"
    "  quick-paint: {kind: lacquer, name: quick paint, solvents: {quick: 100 %}, from: practice}\n"
    "  mixed-paint: {kind: lacquer, name: mixed paint, solvents: {quick: 50 %, slow: 50 %}, from: practice}\n"
    "  odd-paint: {kind: lacquer, name: odd paint, solvents: {odd: 100 %}, from: practice}\n"
    "  water-paint: {kind: paint, name: water paint, thinned_by: [wet], solvents: {wet: 100 %}, from: practice}\n"
    "  drying-paint: {kind: lacquer, name: drying paint, solvents: {ester: 60 %, ring: 40 %}, from: practice}\n"
    "  secret-paint: {kind: paint, name: secret paint, thinned_by: none, from: practice}\n"
    "  gloss-2k: {kind: two-part, name: gloss 2k, solvents: {slow: 100 %}, hazards: [EUH204], from: practice}\n"
    "  bomb-paint: {kind: lacquer, name: bomb paint, solvents: {quick: 100 %}, propelled: yes, from: practice}\n"
    "fillers:\n"
    "  putty: {kind: filler, solids: 60 %, solvents: {slow: 100 %}, film_dry: 300 µm, mix: none, pot_life: none, from: "
    "practice}\n"
    "  two-part-putty: {kind: filler, solids: 100 %, solvents: none, film_dry: 300 µm, mix: 10:1, pot_life: 5 min, "
    "cure_at: 20 °C, "
    "induction: none, from: practice}\n"
    "adhesives:\n"
    "  glue: {kind: adhesive, solids: 100 %, solvents: none, film_dry: 50 µm, mix: none, pot_life: none, from: "
    "practice}\n"
    "decals:\n"
    "  slide: {kind: decal, name: slide, film_dry: 10 µm, price: 4, from: practice}\n"
    "agents:\n"
    "  soap: {kind: agent, solvents: {wet: 100 %}, from: practice}\n"
    "  degreaser: {kind: agent, solvents: {quick: 100 %}, from: practice}\n"
    "  rinse: {kind: agent, solvents: {wet: 100 %}, size: none, from: practice}\n"
    "  softener: {kind: agent, solvents: {slow: 10 %, wet: 90 %}, from: practice}\n"
    "abrasives:\n"
    "  p400: {kind: abrasive, name: P400, grain: 35 µm, cut: 0 µm, leaves: [dust], from: practice}\n"
    "methods:\n"
    "  jet: {kind: method, sprays: yes, propelled: no, transfer: 50 %, left_in_cup: 1 ml, cleaning: 5 ml, from: "
    "practice}\n"
    "  bristle: {kind: method, sprays: no, propelled: no, transfer: 80 %, left_in_cup: 0.5 ml, cleaning: 3 ml, from: "
    "practice}\n"
    "  bomb: {kind: method, sprays: yes, propelled: yes, transfer: 40 %, left_in_cup: 0 ml, cleaning: 0 ml, from: "
    "practice}\n"
    "cautions:\n"
    "  hardener: {says: stay out of it, codes: [EUH204], verbs: [coat], breath: isocyanate, from: practice}\n"
    "  spray: {says: wear a mask, kinds: [paint], verbs: [coat], breath: mist, from: practice}\n"
    "  chips: {says: wear a mask, kinds: [wood, paint], verbs: [sand], breath: dust, from: practice}\n"
    "  label: {says: read the label, rank: 1, from: practice}\n";

typedef struct stuff {
	tc_arena *book, *arena;
	const tc_library *library;
	tc_finder *finder;
	tc_diags *diags;
	const tc_model *model;
	const tc_timetable *table;
	const tc_supply *supply;
	const tc_breath *breath;
} stuff;

static inline void stuff_show(const tc_diags *diags)
{
	for (size_t i = 0; i < tc_diags_count(diags); i++) {
		tc_buffer line;
		tc_buffer_start(&line, NULL);
		tc_diag_print(tc_diags_at(diags, i), &line);
		printf("%s", line.at ? line.at : "");
		tc_buffer_free(&line);
	}
}

static inline int stuff_open(void **state)
{
	static stuff s;
	memset(&s, 0, sizeof s);
	const tc_rulebook_file file = {.name = "stuff.yaml", .bytes = stuff_book, .length = sizeof stuff_book - 1};
	const tc_collection *collection;
	tc_arena *scratch = tc_arena_new(NULL, 0);
	tc_diags *diags = tc_diags_new(scratch);
	s.book = tc_arena_new(NULL, 0);
	tc_status status = tc_collect(scratch, &file, 1, diags, &collection);
	if (status == TC_OK)
		status = tc_library_build(s.book, collection, diags, &s.library);
	stuff_show(diags);
	tc_arena_free(scratch);
	if (status != TC_OK)
		return -1;
	s.finder = tc_finder_new(s.library, NULL);
	s.arena = tc_arena_new(NULL, 0);
	*state = &s;
	return 0;
}

static inline int stuff_close(void **state)
{
	stuff *s = *state;
	tc_finder_free(s->finder);
	tc_arena_free(s->arena);
	tc_arena_free(s->book);
	return 0;
}

static inline uint32_t stuff_no_rule(const void *user, tc_text id, tc_text *nearest)
{
	(void)user;
	(void)id;
	(void)nearest;
	return TC_NONE;
}

/* The model of a recipe as written; what came before is forgotten. */
static inline const tc_model *stuff_read(stuff *s, const char *text)
{
	const tc_rule_names names = {.find = stuff_no_rule};
	tc_source *source;
	const tc_document *documents;
	const tc_recipe *recipe = NULL;
	size_t count;
	tc_arena_reset(s->arena);
	s->diags = tc_diags_new(s->arena);
	assert_int_equal(tc_source_new(s->arena, "r.yaml", text, strlen(text), s->diags, &source), TC_OK);
	tc_status status = tc_yaml_read(s->arena, source, s->diags, &documents, &count);
	if (status == TC_OK)
		status = tc_recipe_read(
		    s->arena, s->library, s->finder, &names, NULL, source, documents[0].root, true, s->diags, &recipe);
	if (status != TC_OK)
		stuff_show(s->diags);
	assert_int_equal(status, TC_OK);
	s->model = tc_model_build(s->arena, recipe, s->library, TC_PASS_LIGHT);
	assert_non_null(s->model);
	return s->model;
}

/* A table of the recipe, and the model at its times. */
static inline void stuff_time(stuff *s, const char *text)
{
	const tc_model *written = stuff_read(s, text);
	const tc_calendar *calendar;
	assert_int_equal(
	    tc_calendar_new(s->arena, written->recipe, NULL, (tc_date){2031, 5, 17}, s->diags, &calendar), TC_OK);
	assert_int_equal(tc_timetable_make(s->arena, written, calendar, NULL, 0, false, &s->table), TC_OK);
	assert_int_equal(s->table->state, TC_TABLE_FOUND);
	const tc_turns *turns = tc_turns_of(s->arena, written, s->table);
	assert_non_null(turns);
	s->model = tc_model_build_at(s->arena, written->recipe, s->library, TC_PASS_LIGHT, turns);
	assert_non_null(s->model);
}

static inline const tc_supply *stuff_supply(stuff *s, const char *text)
{
	stuff_time(s, text);
	assert_int_equal(tc_supply_make(s->arena, s->model, s->table, &s->supply), TC_OK);
	return s->supply;
}

static inline const tc_breath *stuff_breath(stuff *s, const char *text)
{
	stuff_supply(s, text);
	assert_int_equal(tc_breath_make(s->arena, s->model, s->table, s->supply, &s->breath), TC_OK);
	return s->breath;
}

/* The line of the list of that name; NULL. */
static inline const tc_purchase *stuff_line(const tc_supply *supply, const char *name)
{
	for (uint32_t i = 0; i < supply->purchases; i++)
		if (strcmp(supply->purchase[i].name, name) == 0)
			return &supply->purchase[i];
	return NULL;
}

static inline void stuff_near(double is, double due, double share, const char *file, int line)
{
	if (!(fabs(is - due) <= share * fabs(due) + 1e-300)) {
		print_error("%.12g is not %.12g\n", is, due);
		_fail(file, line);
	}
}
/* Equal to a share of what is due. */
#define assert_close(is, due, share) stuff_near((is), (due), (share), __FILE__, __LINE__)

#endif
