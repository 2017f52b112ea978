/* States of a layer at a moment: age, film, how dry, how cured.
 *
 * Whatever hardens without a lamp follows degree = 1 - exp(-3 t/T): T is the age at which its family is 95 % there, at
 * its own temperature and humidity, and t the time spent since the last pass, each stretch counted at the speed that
 * science/cure.h gives for its warmth and its damp. Air that is warmed holds the same water, so it is drier. Light-cured
 * layers are as far as their dose of lamp: dose / lamp_time. */
#include "stack/bench.h"

#include "science/cure.h"
#include "science/vapour.h"

double tc_layer_age(const tc_layer *layer, double now)
{
	for (uint32_t i = layer->coats; i-- > 0;)
		if (!(layer->at[i] > now))
			return now - layer->at[i];
	return 0;
}

tc_value tc_layer_film(const tc_layer *layer, double now)
{
	tc_value film = layer->film;
	double off = 0;
	for (uint32_t i = 0; i < layer->cuts; i++)
		if (layer->cut[i].at <= now)
			off += layer->cut[i].amount;
	if (off == HUGE_VAL)
		return tc_number(0);
	if (tc_known(film))
		film.number = film.number > off ? film.number - off : 0;
	return film;
}

tc_value tc_layer_closed(const tc_layer *layer, double now)
{
	const tc_value film = tc_layer_film(layer, now), least = tc_product_value(layer->product, TC_P_CLOSES_AT);
	if (least.state == TC_ABSENT)
		return tc_absent(TC_T_TRUTH);
	if (!tc_known(film) || !tc_known(least))
		return tc_unknown(TC_T_TRUTH);
	const bool assumed = film.state == TC_ASSUMED || least.state == TC_ASSUMED;
	return (tc_value){.state = assumed ? TC_ASSUMED : TC_SAID,
	    .type = TC_T_TRUTH,
	    .truth = tc_compare(film.number, least.number) >= 0 ? TC_TRUE : TC_FALSE};
}

/* --- the law of one layer ---------------------------------------------------------------------------------------- */

typedef struct law {
	tc_state state; /* TC_SAID or TC_ASSUMED: all below is set */
	bool light;
	double time;             /* s: T, or the lamp time */
	struct tc_cure_law cure; /* its speed; tau does not count */
	double temperature, humidity; /* of the workshop */
} law;

/* Without its temperature, its factor or its humidity a time holds as it stands, whatever the air. Does damp count? */
static bool set_speed(law *l, const tc_layer *layer, uint32_t mechanism, tc_value at)
{
	const tc_value factor = tc_product_value(layer->product, TC_P_CURE_FACTOR);
	const tc_value humidity = tc_product_value(layer->product, TC_P_CURE_HUMIDITY);
	const tc_value damp = tc_product_value(layer->product, TC_P_DAMP_SLOWS);
	const bool counts = mechanism == TC_CURE_COALESCENCE || mechanism == TC_CURE_MOISTURE ||
	                    (mechanism == TC_CURE_OXIDATION && tc_known(damp));
	l->cure = (struct tc_cure_law){.mechanism = counts && tc_known(humidity) ? (enum tc_cure_mechanism)mechanism
	                                                                         : TC_CURE_EVAPORATION,
	    .tau = 1,
	    .reference = tc_known(at) ? at.number : l->temperature,
	    .per_ten = tc_known(factor) ? factor.number : 1,
	    .humidity = tc_known(humidity) ? humidity.number : l->humidity,
	    .damp = tc_known(damp) ? damp.number : 0};
	return l->cure.mechanism != TC_CURE_EVAPORATION;
}

/* cured: full_cure; else through_dry_time. */
static law law_of(const tc_model *model, const tc_layer *layer, bool cured)
{
	const tc_value cure = tc_product_value(layer->product, TC_P_CURE);
	law l = {.state = TC_SAID, .light = tc_known(cure) && cure.symbol == TC_CURE_LIGHT};
	const tc_value time = tc_product_value(layer->product, l.light ? TC_P_LAMP_TIME
	                                                       : cured ? TC_P_FULL_CURE
	                                                               : TC_P_THROUGH_DRY_TIME);
	if (!tc_known(time)) {
		l.state = (tc_state)time.state;
		return l;
	}
	const tc_value at = tc_product_value(layer->product, TC_P_CURE_AT);
	l.time = time.number;
	l.temperature = model->temperature.number;
	l.humidity = model->humidity.number;
	const bool damp = set_speed(&l, layer, tc_known(cure) ? cure.symbol : TC_CURE_EVAPORATION, at);
	if (time.state == TC_ASSUMED || at.state == TC_ASSUMED || (!l.light && model->temperature.state == TC_ASSUMED) ||
	    (damp && model->humidity.state == TC_ASSUMED))
		l.state = TC_ASSUMED;
	return l;
}

static tc_value share_of(const law *l, double share)
{
	return (tc_value){.state = (uint8_t)l->state, .type = TC_T_SHARE, .number = share < 1 ? share : 1};
}

/* Relative humidity of the workshop's air brought to a temperature. */
static double humidity_at(const law *l, double temperature)
{
	double here, there;
	if (temperature == l->temperature || !tc_water_pressure(l->temperature, &here) ||
	    !tc_water_pressure(temperature, &there))
		return l->humidity;
	return fmin(1, l->humidity * here / there);
}

/* How much faster it hardens than at its own temperature and humidity. */
static double rate(const law *l, double temperature)
{
	const struct tc_cure_span air = {
	    .duration = 1, .temperature = temperature, .humidity = humidity_at(l, temperature), .irradiance = 1};
	double r;
	return tc_cure_rate(&l->cure, &air, &r) ? r : 1;
}

/* The stretch in which a moment lies; the last one after the end. */
static uint32_t stretch_at(const tc_part *part, double moment)
{
	uint32_t i = part->stretches - 1;
	while (i > 0 && part->stretch[i].from > moment)
		i--;
	return i;
}

/* Time at the law's own temperature that `from`…`to` is worth. */
static double worth(const law *l, const tc_part *part, double from, double to)
{
	double sum = 0;
	for (uint32_t i = stretch_at(part, from); from < to; i++) {
		const bool last = i + 1 == part->stretches;
		const double end = last || part->stretch[i].to > to ? to : part->stretch[i].to;
		if (end > from) {
			sum += (end - from) * rate(l, part->stretch[i].temperature);
			from = end;
		}
		if (last)
			break;
	}
	return sum;
}

static double last_pass(const tc_layer *layer, double now)
{
	for (uint32_t i = layer->coats; i-- > 0;)
		if (!(layer->at[i] > now))
			return layer->at[i];
	return now;
}

static tc_value degree(const tc_model *model, const tc_layer *layer, double now, bool cured)
{
	const law l = law_of(model, layer, cured);
	if (l.state == TC_ABSENT || l.state == TC_UNKNOWN)
		return l.state == TC_ABSENT ? tc_absent(TC_T_SHARE) : tc_unknown(TC_T_SHARE);
	if (l.light) {
		double dose = 0;
		for (uint32_t i = 0; i < layer->lamps; i++)
			if (layer->lamp[i].at <= now)
				dose += layer->lamp[i].amount;
		return share_of(&l, dose / l.time);
	}
	const double from = last_pass(layer, now);
	if (isnan(from))
		return tc_unknown(TC_T_SHARE);
	return share_of(&l, 1 - exp(-3 * worth(&l, layer->part, from, now) / l.time));
}

tc_value tc_layer_through_dry(const tc_model *model, const tc_layer *layer, double now)
{
	return degree(model, layer, now, false);
}

tc_value tc_layer_cured(const tc_model *model, const tc_layer *layer, double now)
{
	return degree(model, layer, now, true);
}

/* --- when -------------------------------------------------------------------------------------------------------- */

static tc_value age_of(const law *l, double age)
{
	if (isinf(age)) /* this air lets it stand still */
		return tc_absent(TC_T_NUMBER);
	if (isnan(age))
		return tc_unknown(TC_T_NUMBER);
	return (tc_value){.state = (uint8_t)l->state, .type = TC_T_NUMBER, .number = age > 0 ? age : 0};
}

static tc_value reached_by_lamp(const law *l, const tc_layer *layer, double share)
{
	double dose = 0;
	for (uint32_t i = 0; i < layer->lamps; i++) {
		dose += layer->lamp[i].amount;
		if (tc_compare(dose / l->time, share) >= 0)
			return age_of(l, layer->lamp[i].at - layer->done);
	}
	return tc_absent(TC_T_NUMBER);
}

/* The age at which `due` s at the law's own temperature are behind it. */
static double age_when(const law *l, const tc_layer *layer, double due)
{
	const tc_part *part = layer->part;
	double clock = layer->done;
	for (uint32_t i = stretch_at(part, clock);; i++) {
		const double r = rate(l, part->stretch[i].temperature);
		const bool last = i + 1 == part->stretches;
		const double span = part->stretch[i].to - clock;
		if (last || due <= span * r)
			return clock + due / r - layer->done;
		if (span > 0) {
			due -= span * r;
			clock = part->stretch[i].to;
		}
	}
}

tc_value tc_layer_reaches(const tc_model *model, const tc_layer *layer, double share, bool cured)
{
	const law l = law_of(model, layer, cured);
	if (l.state == TC_ABSENT || l.state == TC_UNKNOWN)
		return l.state == TC_ABSENT ? tc_absent(TC_T_NUMBER) : tc_unknown(TC_T_NUMBER);
	if (share <= 0)
		return age_of(&l, 0);
	if (l.light)
		return reached_by_lamp(&l, layer, share);
	if (share >= 1)
		return tc_absent(TC_T_NUMBER);
	if (isnan(layer->done))
		return tc_unknown(TC_T_NUMBER);
	return age_of(&l, age_when(&l, layer, -log(1 - share) * l.time / 3));
}
