/* What settings mean for a run: threshold, exclusions, what must be said. */
#include <string.h>

#include "face/settings.h"

bool tc_settings_at_least(const tc_settings *settings, tc_verdict *at_least)
{
	while (settings && !settings->has_at_least)
		settings = settings->outer;
	if (settings)
		*at_least = settings->at_least;
	return settings != NULL;
}

bool tc_settings_exclude(const tc_settings *settings, const char *real, bool folder, bool way)
{
	for (; settings; settings = settings->outer) {
		const size_t length = strlen(settings->folder);
		if (strncmp(real, settings->folder, length) != 0)
			continue;
		const char *rest = real + length + (real[length] == '/');
		if (way ? tc_globs_fit_way(settings->exclude, rest) : tc_globs_fit(settings->exclude, rest, folder))
			return true;
	}
	return false;
}

static bool says_area(const tc_recipe *recipe)
{
	for (uint32_t i = 0; i < recipe->parts; i++)
		if (!tc_known(recipe->part[i].area))
			return false;
	return true;
}

static bool says_pass(const tc_recipe *recipe)
{
	for (uint32_t i = 0; i < recipe->steps; i++) {
		const tc_written_step *step = &recipe->step[i];
		const bool said = step->passes > 0 || step->pass[0] != TC_PASS_UNSAID || tc_known(step->wet_film);
		if (step->verb == TC_VERB_COAT && !said)
			return false;
	}
	return true;
}

static bool says(const tc_recipe *recipe, tc_require what)
{
	const tc_shop *shop = &recipe->shop;
	switch (what) {
	case TC_REQUIRE_TEMPERATURE:
		return tc_known(shop->temperature);
	case TC_REQUIRE_HUMIDITY:
		return tc_known(shop->humidity);
	case TC_REQUIRE_AIR_SPEED:
		return tc_known(shop->air_speed);
	case TC_REQUIRE_ROOM:
		return tc_known(shop->room);
	case TC_REQUIRE_EXTRACTION:
		return tc_known(shop->extraction);
	case TC_REQUIRE_SCALE:
		return recipe->scale > 0;
	case TC_REQUIRE_AREA:
		return says_area(recipe);
	case TC_REQUIRE_PASS:
		return says_pass(recipe);
	case TC_REQUIRE_COUNT:
		break;
	}
	return true;
}

void tc_settings_check(const tc_settings *settings, const tc_recipe *recipe, tc_diags *diags)
{
	static const char *const lacks[TC_REQUIRE_COUNT] = {[TC_REQUIRE_SCALE] = "the recipe says no `scale`",
	    [TC_REQUIRE_AREA] = "a part says no `area`",
	    [TC_REQUIRE_PASS] = "a coat says neither `pass` nor `wet_film`"};
	uint32_t told = 0;
	for (; settings; settings = settings->outer)
		for (unsigned i = 0; i < TC_REQUIRE_COUNT; i++) {
			if (!(settings->require & ~told & 1u << i) || says(recipe, (tc_require)i))
				continue;
			told |= 1u << i;
			if (lacks[i])
				tc_diag_add(diags, TC_ERROR, "required", recipe->place,
				    "%s, and the settings require it", lacks[i]);
			else
				tc_diag_add(diags, TC_ERROR, "required", recipe->place,
				    "`workshop` says no `%s`, and the settings require it", tc_require_name((tc_require)i));
			tc_diag_relate(diags, settings->require_place[i], "it is required here");
		}
}
