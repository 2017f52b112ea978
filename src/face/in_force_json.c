/* What is in force for a path, as JSON. */
#include <math.h>
#include <stdio.h>

#include "face/in_force.h"
#include "report/json_parts.h"

#define FORMAT "tiecoat-settings"
#define VERSION 1u

/* --- where a thing comes from ------------------------------------------------------------------------------------ */

static json_t *from(tc_json *json, const char *kind)
{
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "kind", tc_json_text(json, kind));
	return object;
}

static json_t *from_file(tc_json *json, tc_place place)
{
	json_t *object = from(json, "settings");
	tc_json_put(json, object, "file", tc_json_text(json, place.file));
	tc_json_put_place(json, object, place);
	return object;
}

/* {value, from} */
static json_t *said(tc_json *json, json_t *value, json_t *origin)
{
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "value", value);
	tc_json_put(json, object, "from", origin);
	return object;
}

/* --- workshop ---------------------------------------------------------------------------------------------------- */

static json_t *figure(
    tc_json *json, const tc_in_force *at, tc_shop_figure which, tc_value value, tc_default by_rulebook)
{
	const tc_library *library = tc_rulebook_library(at->ground->book.rulebook);
	const tc_property_row *row = tc_default_row_of(by_rulebook);
	const tc_figure *assumed = tc_library_default(library, by_rulebook);
	const bool known = tc_known(value);
	json_t *origin = known ? from_file(json, at->settings->common->shop.said[which]) : from(json, "rulebook");
	tc_buffer text;
	tc_buffer_start(&text, NULL);
	if (!known) {
		value = assumed->value;
		tc_json_put(json, origin, "source", tc_json_basis(json, library, assumed->basis));
	}
	if (tc_known(value))
		tc_quantity_print(&text, row->type, row->dim, value.number, 3, NULL);
	json_t *object = said(json, tc_json_number(json, tc_known(value) ? value.number : NAN), origin);
	tc_json_put(json, object, "text", tc_json_text(json, text.length ? text.at : NULL));
	json->failed = json->failed || text.failed;
	tc_buffer_free(&text);
	return object;
}

static json_t *workshop(tc_json *json, const tc_in_force *at)
{
	const tc_shop *shop = at->settings && at->settings->common ? &at->settings->common->shop : NULL;
	const tc_value silent = tc_absent(TC_T_NUMBER);
	json_t *object = tc_json_object(json), *habits = tc_json_object(json);
	const struct {
		const char *key;
		tc_shop_figure figure;
		tc_value value;
		tc_default by_rulebook;
	} rows[] = {{"temperature_k", TC_SHOP_TEMPERATURE, shop ? shop->temperature : silent, TC_D_TEMPERATURE},
	    {"humidity", TC_SHOP_HUMIDITY, shop ? shop->humidity : silent, TC_D_HUMIDITY},
	    {"air_speed_m_s", TC_SHOP_AIR_SPEED, shop ? shop->air_speed : silent, TC_D_AIR_SPEED},
	    {"room_m3", TC_SHOP_ROOM, shop ? shop->room : silent, TC_D_ROOM},
	    {"extraction_m3_s", TC_SHOP_EXTRACTION, shop ? shop->extraction : silent, TC_D_EXTRACTION}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		tc_json_put(
		    json, object, rows[i].key, figure(json, at, rows[i].figure, rows[i].value, rows[i].by_rulebook));
	tc_json_put(json, habits, "dust", json_boolean(shop && shop->dusts));
	tc_json_put(json, habits, "dry", json_boolean(shop && shop->dries));
	tc_json_put(json, object, "habits", habits);
	return object;
}

/* --- hours ------------------------------------------------------------------------------------------------------- */

static void put_clock(tc_json *json, json_t *object, const char *key, bool any, unsigned minute)
{
	char text[16];
	const unsigned of_day = minute > TC_DAY_MINUTES ? minute - TC_DAY_MINUTES : minute;
	snprintf(text, sizeof text, "%02u:%02u", of_day / 60, of_day % 60);
	tc_json_put(json, object, key, tc_json_text(json, any ? text : NULL));
}

static json_t *days_of(tc_json *json, uint8_t days)
{
	static const char names[7][4] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
	json_t *array = tc_json_array(json);
	for (unsigned day = 0; day < 7; day++)
		if (days >> day & 1)
			tc_json_push(json, array, tc_json_text(json, names[day]));
	return array;
}

static json_t *sessions(tc_json *json, const tc_hours *hours)
{
	json_t *array = tc_json_array(json);
	for (uint32_t i = 0; i < hours->weeklies; i++) {
		json_t *object = tc_json_object(json);
		tc_json_put(json, object, "days", days_of(json, hours->weekly[i].days));
		put_clock(json, object, "from", true, hours->weekly[i].from);
		put_clock(json, object, "to", true, hours->weekly[i].to);
		tc_json_push(json, array, object);
	}
	for (uint32_t i = 0; i < hours->dateds; i++) {
		const tc_dated *d = &hours->dated[i];
		json_t *object = tc_json_object(json);
		char date[32];
		snprintf(date, sizeof date, "%04d-%02u-%02u", (int)d->date.year, (unsigned)d->date.month,
		    (unsigned)d->date.day);
		tc_json_put(json, object, "date", tc_json_text(json, date));
		put_clock(json, object, "from", d->to > 0, d->from);
		put_clock(json, object, "to", d->to > 0, d->to);
		tc_json_push(json, array, object);
	}
	return array;
}

static void put_times(tc_json *json, json_t *object, const tc_in_force *at)
{
	const tc_times *times = at->settings && at->settings->common ? &at->settings->common->times : NULL;
	const bool any = times && times->hours.weeklies + times->hours.dateds > 0;
	tc_json_put(json, object, "sessions",
	    any ? said(json, sessions(json, &times->hours), from_file(json, times->hours.place))
	        : tc_json_text(json, NULL));
	tc_json_put(json, object, "zone",
	    times && times->zone ? said(json, tc_json_text(json, times->zone), from_file(json, times->zone_place))
	                         : tc_json_text(json, NULL));
}

/* --- lists ------------------------------------------------------------------------------------------------------- */

static json_t *files(tc_json *json, const tc_in_force *at)
{
	json_t *array = tc_json_array(json);
	for (const tc_settings *s = at->settings; s; s = s->outer)
		tc_json_push(json, array, tc_json_text(json, s->file));
	return array;
}

static json_t *at_least(tc_json *json, const tc_in_force *at)
{
	const tc_settings *s = at->settings;
	while (s && !s->has_at_least)
		s = s->outer;
	return said(json, tc_json_text(json, tc_verdict_name(s ? s->at_least : TC_V_ERROR)),
	    s ? from_file(json, s->at_least_place) : from(json, "built-in"));
}

static json_t *rules(tc_json *json, const tc_in_force *at)
{
	const tc_settings *s = tc_settings_with_rules(at->settings);
	json_t *array = tc_json_array(json);
	for (int i = 0; i < at->ground->options.rules_count; i++)
		tc_json_push(json, array, tc_json_text(json, at->ground->options.rules[i]));
	return said(json, array,
	    at->ground->rules_said ? from(json, "option")
	    : s                    ? from_file(json, s->rules_place)
	                           : from(json, "built-in"));
}

static json_t *shelf(tc_json *json, const tc_in_force *at)
{
	const tc_common *common = at->settings ? at->settings->common : NULL;
	json_t *array = tc_json_array(json);
	for (uint32_t i = 0; common && i < common->products; i++) {
		const tc_product *product = common->product[i];
		json_t *object = tc_json_object(json);
		tc_json_put(json, object, "label", tc_json_text(json, product->label));
		tc_json_put(json, object, "entry", tc_json_text(json, product->family->id));
		tc_json_put(json, object, "from", from_file(json, product->place));
		tc_json_push(json, array, object);
	}
	return array;
}

static json_t *required(tc_json *json, const tc_in_force *at)
{
	json_t *array = tc_json_array(json);
	for (const tc_settings *s = at->settings; s; s = s->outer)
		for (unsigned i = 0; i < TC_REQUIRE_COUNT; i++)
			if (s->require >> i & 1)
				tc_json_push(json, array,
				    said(json, tc_json_text(json, tc_require_name((tc_require)i)),
				        from_file(json, s->require_place[i])));
	return array;
}

static json_t *excluded(tc_json *json, const tc_in_force *at)
{
	json_t *array = tc_json_array(json);
	for (const tc_settings *s = at->settings; s; s = s->outer) {
		const tc_node *node = s->exclude_node;
		const uint32_t count = !node ? 0 : node->kind == TC_LIST ? node->count : 1;
		for (uint32_t i = 0; i < count; i++) {
			const tc_node *glob = node->kind == TC_LIST ? node->items[i] : node;
			tc_json_push(json, array,
			    said(
			        json, tc_json_text(json, glob->text), from_file(json, tc_node_place(s->source, glob))));
		}
	}
	return array;
}

/* --- the whole --------------------------------------------------------------------------------------------------- */

void tc_in_force_push(tc_json *json, json_t *paths, const tc_in_force *at)
{
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "path", tc_json_text(json, at->path));
	tc_json_put(json, object, "files", files(json, at));
	tc_json_put(json, object, "at_least", at_least(json, at));
	tc_json_put(json, object, "rules", rules(json, at));
	tc_json_put(json, object, "workshop", workshop(json, at));
	put_times(json, object, at);
	tc_json_put(json, object, "shelf", shelf(json, at));
	tc_json_put(json, object, "require", required(json, at));
	tc_json_put(json, object, "exclude", excluded(json, at));
	tc_json_push(json, paths, object);
}

void tc_in_force_write(tc_json *json, const tc_rulebook *rulebook, json_t *paths, tc_buffer *out)
{
	json_t *object = tc_json_object(json);
	tc_json_put(json, object, "format", tc_json_text(json, FORMAT));
	tc_json_put(json, object, "version", tc_json_count(json, VERSION));
	tc_json_put(json, object, "rulebook", tc_json_rulebook(json, rulebook));
	tc_json_put(json, object, "paths", paths);
	tc_json_write(json, object, 0, out);
	tc_buffer_char(out, '\n');
	json_decref(object);
}
