/* What is said for all recipes of a collection: a workshop and a shelf, in layers, and what a recipe says itself. */
#include "kit.h"

#include "stack/common.h"

/* One file of settings; its texts must live as long as the kit. */
static const tc_common *read_common(kit *k, const char *name, const char *text, const tc_common *outer)
{
	tc_source *source;
	const tc_document *documents;
	size_t count;
	const tc_common *common = NULL;
	const tc_reader reader = {.read = kit_file, .user = k};
	k->diags = tc_diags_new(k->book);
	assert_int_equal(tc_source_new(k->book, name, text, strlen(text), k->diags, &source), TC_OK);
	assert_int_equal(tc_yaml_read(k->book, source, k->diags, &documents, &count), TC_OK);
	const tc_node *root = documents[0].root;
	const tc_common_nodes nodes = {.workshop = tc_map_get(root, "workshop", NULL),
	    .shelf = tc_map_get(root, "shelf", NULL),
	    .sessions = tc_map_get(root, "sessions", NULL),
	    .zone = tc_map_get(root, "zone", NULL)};
	k->status = tc_common_read(k->book, k->library, k->finder, &reader, source, &nodes, outer, k->diags, &common);
	return common;
}

static const tc_recipe *read_under(kit *k, const tc_common *common, const char *text)
{
	tc_source *source;
	const tc_document *documents;
	size_t count;
	const tc_recipe *recipe = NULL;
	const tc_reader reader = {.read = kit_file, .user = k, .common = common};
	tc_arena_reset(k->arena);
	k->diags = tc_diags_new(k->arena);
	assert_int_equal(tc_source_new(k->arena, "r.yaml", text, strlen(text), k->diags, &source), TC_OK);
	assert_int_equal(tc_yaml_read(k->arena, source, k->diags, &documents, &count), TC_OK);
	k->status = tc_recipe_read(
	    k->arena, k->library, k->finder, NULL, &reader, source, documents[0].root, true, k->diags, &recipe);
	return recipe;
}

#define PLAN "on: polystyrene\nstack:\n- {coat: red, coats: 1}\n"

static void fills_in(void **state)
{
	kit *k = *state;
	const tc_common *common = read_common(k, "all.yaml",
	    "workshop: {humidity: 61 %, habits: {dust: yes}}\nshelf: {red: {family: lacquer-colour}}\n", NULL);
	assert_non_null(common);
	const tc_recipe *recipe = read_under(k, common, PLAN);
	assert_non_null(recipe);
	assert_true(tc_known(recipe->shop.humidity));
	assert_float_equal(recipe->shop.humidity.number, 0.61, 1e-9);
	assert_string_equal(recipe->shop.said[TC_SHOP_HUMIDITY].file, "all.yaml");
	assert_int_equal(recipe->shop.said[TC_SHOP_HUMIDITY].line, 1);
	assert_false(tc_known(recipe->shop.temperature));
	assert_true(recipe->shop.dusts);
	assert_false(recipe->shop.dries);
	const tc_product *red = recipe->step[0].with;
	assert_string_equal(red->label, "red");
	assert_string_equal(red->family->id, "lacquer-colour");
	assert_true(red->on_shelf && red->used);
	assert_string_equal(red->place.file, "all.yaml");
	assert_ptr_equal(recipe->product[red->index], red);
}

static void recipe_comes_first(void **state)
{
	kit *k = *state;
	const tc_common *common = read_common(k, "all.yaml",
	    "workshop: {humidity: 61 %, temperature: 18 °C, habits: {dust: yes}}\nshelf: {red: {family: "
	    "lacquer-colour}}\n",
	    NULL);
	const tc_recipe *recipe = read_under(
	    k, common, "workshop: {humidity: 40 %, habits: {dust: no}}\nshelf: {red: {family: oil-enamel}}\n" PLAN);
	assert_non_null(recipe);
	assert_float_equal(recipe->shop.humidity.number, 0.40, 1e-9);
	assert_string_equal(recipe->shop.said[TC_SHOP_HUMIDITY].file, "r.yaml");
	assert_float_equal(recipe->shop.temperature.number, 291.15, 1e-9);
	assert_string_equal(recipe->shop.said[TC_SHOP_TEMPERATURE].file, "all.yaml");
	assert_false(recipe->shop.dusts);
	assert_string_equal(recipe->step[0].with->family->id, "oil-enamel");
}

static void layers(void **state)
{
	kit *k = *state;
	const tc_common *outer = read_common(k, "outer.yaml",
	    "workshop: {humidity: 61 %, temperature: 18 °C}\nshelf: {red: {family: lacquer-colour}, blue: {family: "
	    "lacquer-colour}}\n",
	    NULL);
	const tc_common *inner =
	    read_common(k, "inner.yaml", "workshop: {humidity: 70 %}\nshelf: {red: {family: oil-enamel}}\n", outer);
	assert_non_null(inner);
	assert_int_equal(inner->products, 2);
	assert_float_equal(inner->shop.humidity.number, 0.70, 1e-9);
	assert_string_equal(inner->shop.said[TC_SHOP_HUMIDITY].file, "inner.yaml");
	assert_string_equal(inner->shop.said[TC_SHOP_TEMPERATURE].file, "outer.yaml");
	const tc_recipe *recipe =
	    read_under(k, inner, "on: polystyrene\nstack:\n- {coat: red, coats: 1}\n- {coat: blue, coats: 1}\n");
	assert_non_null(recipe);
	assert_string_equal(recipe->step[0].with->family->id, "oil-enamel");
	assert_string_equal(recipe->step[1].with->family->id, "lacquer-colour");
}

static void unused_labels_stay_out(void **state)
{
	kit *k = *state;
	const tc_common *common = read_common(
	    k, "all.yaml", "shelf: {red: {family: lacquer-colour}, blue: {family: lacquer-colour}}\n", NULL);
	const tc_recipe *recipe = read_under(k, common, PLAN);
	assert_non_null(recipe);
	for (uint32_t i = 0; i < recipe->products; i++)
		assert_string_not_equal(recipe->product[i]->label, "blue");
}

static void refuses(void **state)
{
	kit *k = *state;
	assert_null(read_common(k, "all.yaml", "workshop: {humidity: 61}\n", NULL));
	assert_int_equal(k->status, TC_BAD);
	assert_int_equal(tc_diags_errors(k->diags), 1);
	assert_string_equal(tc_diags_at(k->diags, 0)->place.file, "all.yaml");
	assert_null(read_common(k, "all.yaml", "shelf: {red: {family: no-such-paint}}\n", NULL));
	assert_int_equal(tc_diags_errors(k->diags), 1);
	/* a label that is nearly one of the shared shelf is offered */
	const tc_common *common = read_common(k, "all.yaml", "shelf: {harbour red: {family: lacquer-colour}}\n", NULL);
	assert_null(read_under(k, common, "on: polystyrene\nstack:\n- {coat: harbour rde, coats: 1}\n"));
	assert_non_null(strstr(tc_diags_at(k->diags, 0)->message, "`harbour red` is near"));
}

#define BARE "on: polystyrene\nstack:\n- {wait: 1 h}\n"

/* Hours and their clock: the recipe's own come before those of the settings, and these before settings further out. */
static void hours_of_all(void **state)
{
	kit *k = *state;
	const tc_common *outer = read_common(k, "outer.yaml", "sessions: sat 9:00 to 17:00\nzone: Etc/UTC\n", NULL);
	const tc_common *inner =
	    read_common(k, "inner.yaml", "sessions: [sun 9:00 to 17:00, mon 9:00 to 10:00]\n", outer);
	assert_non_null(inner);
	const tc_times *times = &read_under(k, inner, BARE)->times;
	assert_int_equal(times->hours.weeklies, 2);
	assert_string_equal(times->hours.place.file, "inner.yaml");
	assert_string_equal(times->zone, "Etc/UTC");
	assert_string_equal(times->zone_place.file, "outer.yaml");
	times = &read_under(k, inner, "sessions: 2031-05-20 none\nzone: GMT\n" BARE)->times;
	assert_int_equal(times->hours.weeklies, 0);
	assert_int_equal(times->hours.dateds, 1);
	assert_string_equal(times->zone, "GMT");
	assert_null(read_common(k, "bad.yaml", "zone: utc\n", NULL));
	assert_int_equal(k->status, TC_BAD);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test_setup_teardown(fills_in, kit_setup, kit_teardown),
	    cmocka_unit_test_setup_teardown(recipe_comes_first, kit_setup, kit_teardown),
	    cmocka_unit_test_setup_teardown(layers, kit_setup, kit_teardown),
	    cmocka_unit_test_setup_teardown(unused_labels_stay_out, kit_setup, kit_teardown),
	    cmocka_unit_test_setup_teardown(refuses, kit_setup, kit_teardown),
	    cmocka_unit_test_setup_teardown(hours_of_all, kit_setup, kit_teardown),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
