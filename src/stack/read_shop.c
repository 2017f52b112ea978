/* `workshop`: air, room, habits. */
#include "stack/private.h"

static void read_habits(tc_reading *r, const tc_node *node)
{
	tc_keys keys;
	if (!tc_keys_gather(r, node, IN_HABITS, "`habits`", "habits: {dust: yes, dry: yes}", &keys))
		return;
	if (keys.at[TC_KEY_DUST])
		tc_take_truth(r, keys.at[TC_KEY_DUST], "dust", &r->recipe->shop.dusts);
	if (keys.at[TC_KEY_DRY])
		tc_take_truth(r, keys.at[TC_KEY_DRY], "dry", &r->recipe->shop.dries);
}

static void read_air(tc_reading *r, const tc_keys *keys)
{
	tc_shop *shop = &r->recipe->shop;
	const struct {
		tc_key key;
		tc_default range;
		tc_value *value;
	} figures[TC_SHOP_FIGURES] = {[TC_SHOP_TEMPERATURE] = {TC_KEY_TEMPERATURE, TC_D_TEMPERATURE, &shop->temperature},
	    [TC_SHOP_HUMIDITY] = {TC_KEY_HUMIDITY, TC_D_HUMIDITY, &shop->humidity},
	    [TC_SHOP_AIR_SPEED] = {TC_KEY_AIR_SPEED, TC_D_AIR_SPEED, &shop->air_speed},
	    [TC_SHOP_ROOM] = {TC_KEY_ROOM, TC_D_ROOM, &shop->room},
	    [TC_SHOP_EXTRACTION] = {TC_KEY_EXTRACTION, TC_D_EXTRACTION, &shop->extraction}};
	for (size_t i = 0; i < TC_SHOP_FIGURES; i++) {
		if (!keys->at[figures[i].key])
			continue;
		tc_wanted want = *tc_wanted_of(figures[i].key);
		want.low = tc_default_row_of(figures[i].range)->low;
		want.high = tc_default_row_of(figures[i].range)->high;
		if (tc_take_quantity(r, keys->at[figures[i].key], &want, figures[i].value))
			shop->said[i] = r->for_all ? tc_node_place(r->source, keys->key[figures[i].key]) : shop->place;
	}
}

tc_shop tc_shop_silent(void)
{
	return (tc_shop){.temperature = tc_absent(TC_T_TEMPERATURE),
	    .humidity = tc_absent(TC_T_SHARE),
	    .air_speed = tc_absent(TC_T_NUMBER),
	    .room = tc_absent(TC_T_NUMBER),
	    .extraction = tc_absent(TC_T_NUMBER),
	    .method = TC_NONE};
}

void tc_read_shop(tc_reading *r, const tc_node *node)
{
	tc_shop *shop = &r->recipe->shop;
	*shop = r->files && r->files->common ? r->files->common->shop : tc_shop_silent();
	if (!node)
		return;
	tc_keys keys;
	shop->place = tc_node_place(r->source, node);
	if (!tc_keys_gather(
	        r, node, IN_WORKSHOP, "`workshop`", "workshop: {temperature: 21 °C, humidity: 50 %}", &keys))
		return;
	read_air(r, &keys);
	if (keys.at[TC_KEY_HABITS])
		read_habits(r, keys.at[TC_KEY_HABITS]);
	if (keys.at[TC_KEY_BY])
		shop->method = tc_take_word(r, keys.at[TC_KEY_BY], "by", "method");
	if (keys.at[TC_KEY_CURRENCY])
		shop->currency = tc_take_text(r, keys.at[TC_KEY_CURRENCY], "currency", "EUR");
	if (keys.at[TC_KEY_REMARK])
		tc_take_text(r, keys.at[TC_KEY_REMARK], "remark", "north window");
}
