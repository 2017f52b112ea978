/* Fields of the question itself, the recipe, the shop, a part and a step. */
#include "judge/private.h"

#include "science/weather.h"
#include "science/vapour.h"

static tc_value gap(const tc_scene *scene, const tc_exposed *under)
{
	if (!under->layer)
		return tc_absent(TC_T_NUMBER);
	return tc_typed(TC_T_NUMBER, tc_layer_age(under->layer, scene->now));
}

/* Does any rule speak of the pair, or can its solvency be computed? Metal and the like have none to compute. */
static tc_value spoken_of(const tc_scene *scene, const tc_question *question)
{
	tc_scene *s = question->user;
	const tc_contact *contact = scene->contact;

	if (!contact)
		return tc_truth_value(true);
	const tc_entry *coat = contact->coat->product->family, *under = contact->under->product->family;
	const uint32_t verb = scene->at ? scene->at->step->written->verb : TC_NONE;
	if (tc_doors_spoken(s->worker->doors, coat, under, verb))
		return tc_truth_value(true);
	tc_solid solid = tc_solid_of(TC_S_EXPOSED, contact->under);
	const tc_liquid_mix *mix = tc_scene_mix(s, contact->coat);
	return tc_truth_value(mix && tc_known(tc_bite_red(mix, &solid)));
}

/* How much of an attack passes a film `film` deep: of a front that goes s deep in it, (s - film) / s; never less than what is
 * open in it. */
static tc_value passes(tc_scene *scene, const tc_layer *coat, const tc_layer *between, double film, double open)
{
	tc_solid solid = tc_solid_of(TC_S_LAYER, between);
	tc_value depth = tc_bite_layer(scene, coat, &solid, TC_BITE_DEPTH, 1);

	if (depth.state == TC_UNKNOWN)
		return tc_unknown(TC_T_SHARE);
	double passed = depth.state == TC_ABSENT || !(depth.number > 0) ? 0 : fmax(0, 1 - film / depth.number);
	tc_value share = tc_typed(TC_T_SHARE, fmax(passed, open));
	share.state = depth.state == TC_ASSUMED ? TC_ASSUMED : TC_SAID;
	return share;
}

/* Films too thin to close leave what they lie on direct. Several cover it each for itself, so what is open is the product of
 * what is open in each. A closed film above it was kept off (tape, another area) or is sanded away there. */
static tc_value through_open(tc_scene *scene, const tc_contact *c)
{
	const tc_layer *under = c->under->layer, *top = NULL;
	const tc_part *part = c->coat->part;
	double film = 0, open = 1;

	for (uint32_t i = under ? under->order : 0; isnan(c->under->taped) && i + 1 < c->coat->order; i++) {
		const tc_layer *l = part->layer[i];
		tc_value own = tc_layer_film(l, scene->now), closes = tc_product_value(l->product, TC_P_CLOSES_AT);
		if (l->spot || !tc_known(own) || !tc_known(closes) || own.number <= 0 || own.number >= closes.number)
			continue;
		film += own.number;
		open *= 1 - own.number / closes.number;
		top = l;
	}
	return top ? passes(scene, c->coat, top, film, open) : tc_typed(TC_T_SHARE, 1);
}

/* What a film between lets through. A closed one that the solvents do not soften lets nothing pass; one that they soften
 * takes the depth of its own film off the front; one that is not closed is open in proportion. */
static tc_value let_through(tc_scene *scene)
{
	const tc_contact *c = scene->contact;

	if (!c)
		return tc_typed(TC_T_SHARE, 1);
	if (c->direct || !c->between)
		return through_open(scene, c);
	if (isnan(c->film_between))
		return tc_unknown(TC_T_SHARE);
	tc_value closes = tc_product_value(c->between->product, TC_P_CLOSES_AT);
	double open = tc_known(closes) && closes.number > 0 ? fmax(0, 1 - c->film_between / closes.number) : 0;
	return passes(scene, c->coat, c->between, c->film_between, open);
}

tc_value tc_get_ask(const tc_scene *scene, const tc_question *question, uint32_t field)
{
	const tc_contact *contact = scene->contact;
	const tc_touch *touch = scene->touch;
	bool direct = contact ? contact->direct : touch ? touch->direct : true;
	double between = contact ? contact->film_between : touch ? touch->film_between : 0;

	switch (field) {
	case TC_F_ASK_GAP:
		return gap(scene, contact ? contact->under : touch->under);
	case TC_F_ASK_DIRECT:
		return tc_truth_value(direct);
	case TC_F_ASK_FILM_BETWEEN:
		return direct ? tc_absent(TC_T_NUMBER) : tc_nan_as(tc_unknown(TC_T_NUMBER), TC_T_NUMBER, between);
	case TC_F_ASK_LET_THROUGH:
		return let_through(question->user);
	default:
		return spoken_of(scene, question);
	}
}

tc_value tc_get_recipe(const tc_scene *scene, uint32_t field)
{
	const tc_recipe *recipe = scene->model->recipe;

	switch (field) {
	case TC_F_RECIPE_TITLE:
		return (tc_value){.state = TC_SAID, .type = TC_T_TEXT, .text = recipe->title ? recipe->title : ""};
	case TC_F_RECIPE_SCALE:
		return recipe->scale > 0 ? tc_typed(TC_T_NUMBER, recipe->scale) : tc_absent(TC_T_NUMBER);
	case TC_F_RECIPE_TIME:
		return tc_typed(TC_T_NUMBER, scene->model->end);
	case TC_F_RECIPE_DUSTS:
		return tc_truth_value(recipe->shop.dusts);
	default:
		return tc_truth_value(recipe->shop.dries);
	}
}

static tc_value as_state(uint8_t state, tc_type type, bool known, double number)
{
	tc_value v = known ? tc_typed(type, number) : tc_unknown(type);
	if (known)
		v.state = state;
	return v;
}

tc_value tc_get_shop(const tc_scene *scene, uint32_t field)
{
	const tc_model *m = scene->model;
	uint8_t state = m->temperature.state == TC_ASSUMED || m->humidity.state == TC_ASSUMED ? TC_ASSUMED : TC_SAID;
	double figure = 0;
	bool known;

	switch (field) {
	case TC_F_SHOP_TEMPERATURE:
		return m->temperature;
	case TC_F_SHOP_HUMIDITY:
		return m->humidity;
	case TC_F_SHOP_DEW_POINT:
		known = tc_dew_point(m->temperature.number, m->humidity.number, &figure);
		return as_state(state, TC_T_TEMPERATURE, known, figure);
	case TC_F_SHOP_MARGIN:
		known = tc_weather_dew_margin(m->temperature.number, m->humidity.number, m->temperature.number, &figure);
		return as_state(state, TC_T_NUMBER, known, figure);
	case TC_F_SHOP_AIR_SPEED:
		return m->air_speed;
	case TC_F_SHOP_ROOM:
		return m->room;
	default:
		return m->extraction;
	}
}

/* Film of all layers that still lie there at the end; unknown if any is. */
static tc_value part_film(const tc_scene *scene, const tc_part *part)
{
	double sum = 0;

	for (uint32_t i = 0; i < part->layers; i++) {
		if (part->layer[i]->spot)
			continue;
		tc_value film = tc_layer_film(part->layer[i], scene->model->end);
		if (film.state == TC_UNKNOWN)
			return film;
		if (film.state != TC_ABSENT)
			sum += film.number;
	}
	return tc_typed(TC_T_NUMBER, sum);
}

tc_value tc_get_part(const tc_scene *scene, const tc_part *part, uint32_t field)
{
	switch (field) {
	case TC_F_PART_NAME:
		return (tc_value){.state = TC_SAID, .type = TC_T_TEXT, .text = part->written->name};
	case TC_F_PART_SUBSTRATE:
		return tc_subject_value(TC_S_PRODUCT, part->written->substrate);
	case TC_F_PART_AREA:
		return part->written->area;
	case TC_F_PART_LINE_WIDTH:
		return part->line_width;
	case TC_F_PART_LINE_DEPTH:
		return part->line_depth;
	case TC_F_PART_WIDTH_LEFT:
		return part->width_left;
	case TC_F_PART_DEPTH_LEFT:
		return part->depth_left;
	case TC_F_PART_STRESSED:
		return part->stressed;
	case TC_F_PART_FLEXIBLE:
		return part->flexible;
	case TC_F_PART_LIT:
		return part->lit;
	case TC_F_PART_OUTDOORS:
		return part->outdoors;
	case TC_F_PART_HANDLED:
		return part->handled;
	case TC_F_PART_RUBBED:
		return tc_symbol_value(part->written->wipe_result);
	case TC_F_PART_FILM:
		return part_film(scene, part);
	default:
		return tc_truth_value(part->written->finishes > 0);
	}
}

static double waited(const tc_scene *scene, const tc_step *step)
{
	const tc_part *part = scene->part;

	for (uint32_t i = 0; part && i < part->steps; i++)
		if (part->step[i].step == step)
			return part->step[i].waited;
	return 0;
}

/* What a step says of its duration: a wait lasts as long as it says, other work as long as `time`. */
static tc_value step_time(const tc_step *step)
{
	return step->written->verb == TC_VERB_WAIT ? step->written->wait : step->written->time;
}

tc_value tc_get_step(const tc_scene *scene, const tc_step *step, uint32_t field)
{
	const tc_written_step *w = step->written;

	switch (field) {
	case TC_F_STEP_VERB:
		return tc_symbol_value(w->verb);
	case TC_F_STEP_NUMBER:
		return tc_typed(TC_T_NUMBER, step->number);
	case TC_F_STEP_WITH:
		return tc_subject_value(TC_S_PRODUCT, w->with);
	case TC_F_STEP_START:
		return tc_typed(TC_T_NUMBER, step->start);
	case TC_F_STEP_WAITED:
		return tc_typed(TC_T_NUMBER, waited(scene, step));
	case TC_F_STEP_TIME:
		return step_time(step);
	case TC_F_STEP_AT:
		return as_state(w->at.state == TC_SAID ? TC_SAID : scene->model->temperature.state, TC_T_TEMPERATURE, true,
		    step->temperature);
	case TC_F_STEP_DEPTH:
		return w->depth;
	case TC_F_STEP_WIDTH:
		return w->width;
	case TC_F_STEP_WET:
		return tc_truth_value(w->wet);
	default:
		return tc_symbol_value(w->intends);
	}
}
