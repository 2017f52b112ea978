/* The card as a page: drawings to scale, texts that no reader would let through, figures that are not known, and
 * where memory fails. That pages are well-formed and inert is held by tests/card/page.sh, by a reader of XML. */
#include <stdio.h>

#include "../heap.h"
#include "../plan/plan_of.h"
#include "report/card.h"
#include "report/card_words.h"

#define SHOP "workshop: {temperature: 20 °C, humidity: 50 %, room: 24 m³, habits: {dust: yes, dry: yes}}\n"

/* 100 µm wet of 20 % solids leave 20 µm, 50 µm of it 10 µm (dry film = wet film × volume solids, ISO 2808:2019,
 * from memory). */
static const char scaled[] =
    "recipe: Ferry, to scale\nscale: 1:50\nstart: 2031-05-14 19:00\nsessions: daily 19:00-22:00\n" SHOP
    "parts: {hull: {substrate: polystyrene, area: 300 cm², lines: {width: 0.5 mm, depth: 0.25 mm}}}\n"
    "shelf:\n"
    "  thick: {family: acrylic-lacquer, solids: 20 %}\n"
    "  thin coat: {family: acrylic-lacquer, solids: 20 %}\n"
    "stack:\n"
    "  - {coat: thick, role: primer, wet_film: 100 µm}\n"
    "  - wait: 1 d\n"
    "  - {coat: thin coat, role: colour, wet_film: 50 µm}\n";

static void page_of(const tc_plan *plan, tc_buffer *out)
{
	tc_buffer_start(out, NULL);
	tc_card_html(plan, out);
	assert_false(out->failed);
	assert_non_null(strstr(out->at, "</body>\n</html>\n"));
}

static double number_behind(const char *text, const char *key)
{
	double number = NAN;
	const char *at = strstr(text, key);
	assert_non_null(at);
	at += strlen(key);
	assert_true(tc_number_read(at, strlen(at), true, &number) > 0);
	return number;
}

/* --- drawings ---------------------------------------------------------------------------------------------------- */

static void test_films_are_to_scale(void **state)
{
	tc_buffer out;
	page_of(planned(*state, "scaled.yaml", scaled), &out);
	const char *cross = strstr(out.at, "class=\"cross\"");
	assert_non_null(cross);
	/* top coat first: the second layer's look, then the first's */
	const char *upper = strstr(cross, "<rect class=\"film"), *lower = strstr(upper + 1, "<rect class=\"film");
	assert_non_null(lower);
	const double thin = number_behind(upper, "height=\""), thick = number_behind(lower, "height=\"");
	assert_true(fabs(thick / thin - 2) < 0.01);
	/* the bar of 10 µm is as high as the film of 10 µm */
	assert_non_null(strstr(out.at, "The bar is 10\xC2\xA0µm of film."));
	const char *bar = strstr(cross, "<line class=\"bar\"");
	assert_non_null(bar);
	assert_true(fabs(number_behind(bar, "y2=\"") - number_behind(bar, "y1=\"") - thin) < 0.2);
	tc_buffer_free(&out);
}

/* Of a groove `M x y H x v DEPTH h WIDTH`. */
static void groove(const char *path, double *width, double *depth)
{
	const char *v = strchr(path, 'v');
	assert_non_null(v);
	*depth = number_behind(v, "v");
	*width = number_behind(v, "h");
}

static void test_lines_are_to_scale(void **state)
{
	const tc_plan *plan = planned(*state, "scaled.yaml", scaled);
	const tc_part *part = &plan->timed->model->part[0];
	double cut_width, cut_depth, width, depth;
	tc_buffer out;
	page_of(plan, &out);
	groove(strstr(out.at, "<path class=\"base\" d=\"M"), &cut_width, &cut_depth);
	groove(strstr(out.at, "<path class=\"film2\" d=\"M"), &width, &depth);
	const double scale = cut_width / 0.5e-3; /* as the recipe says: 0.5 mm wide, 0.25 mm deep */
	assert_true(fabs(cut_depth / scale - 0.25e-3) < 2e-6);
	assert_true(fabs(width / scale - part->width_left.number) < 2e-6);
	assert_true(fabs(depth / scale - part->depth_left.number) < 2e-6);
	assert_true(width < cut_width);
	tc_buffer_free(&out);
}

/* Blocks of a row follow on each other, and what waits between them is hatched. */
static void test_chart(void **state)
{
	tc_buffer out;
	page_of(planned(*state, "scaled.yaml", scaled), &out);
	const char *chart = strstr(out.at, "<svg class=\"chart\"");
	assert_non_null(chart);
	const char *first = strstr(chart, "<rect class=\"hands\"");
	assert_non_null(first);
	const char *second = strstr(first + 1, "<rect class=\"hands\"");
	assert_non_null(second);
	const char *hatched = strstr(chart, "<rect class=\"closed\"");
	assert_non_null(hatched);
	const double end = number_behind(first, "x=\"") + number_behind(first, "width=\"");
	assert_true(number_behind(second, "x=\"") > end);
	assert_true(fabs(number_behind(hatched, "x=\"") - end) < 0.2);
	assert_non_null(strstr(chart, ">1\xC2\xA0"
	                              "d</text>")); /* the wait's length at the break */
	tc_buffer_free(&out);
}

/* The dot of a curve stands as high as it says. */
static void test_drying(void **state)
{
	tc_buffer out;
	page_of(planned(*state, "scaled.yaml", scaled), &out);
	const char *plot = strstr(out.at, "class=\"plot\"");
	assert_non_null(plot);
	const char *frame = strstr(plot, "<rect class=\"frame\""), *dot = strstr(plot, "<circle class=\"nextdot\"");
	const char *says = strstr(plot, "next after ");
	assert_non_null(frame);
	assert_non_null(dot);
	assert_non_null(says);
	const double top = number_behind(frame, "y=\""), high = number_behind(frame, "height=\"");
	const double share = (top + high - number_behind(dot, "cy=\"")) / high;
	assert_true(fabs(share * 100 - number_behind(strchr(says, ':'), ": ")) < 1.5); /* told in whole %, cut off */
	tc_buffer_free(&out);
}

/* --- what is not known ------------------------------------------------------------------------------------------- */

static void test_unknown_figures(void **state)
{
	bench *b = *state;
	const tc_plan *good = planned(b, "scaled.yaml", scaled);
	tc_plan plan = *good;
	tc_supply supply = {.cost = NAN, .waste = NAN};
	tc_breath breath = {.room = 30, .mixing = 1};
	const tc_sitting sitting = {.from = 0,
	    .to = 600,
	    .mass = NAN,
	    .peak_index = NAN,
	    .mean_index = INFINITY,
	    .lel_share = NAN,
	    .needed_health = NAN,
	    .needed_fire = NAN,
	    .clear = INFINITY,
	    .isocyanate = true};
	tc_pour pour = {.name = "grey", .parts = NAN, .volume = NAN};
	const tc_cupful cup = {.task = 7,
	    .mixed = NAN,
	    .lives_until = NAN,
	    .pours = 1,
	    .pour = &pour,
	    .ready = NAN,
	    .lands = NAN,
	    .lost = NAN,
	    .transfer = NAN,
	    .lacks = 1};
	const tc_purchase purchase = {.name = "grey",
	    .use = "coat",
	    .volume = NAN,
	    .cleaning = NAN,
	    .pack = NAN,
	    .packs = 2,
	    .price = NAN,
	    .cost = INFINITY,
	    .left = NAN};
	tc_buffer out;
	supply.cups = supply.purchases = 1;
	supply.cup = &cup;
	supply.purchase = &purchase;
	breath.sittings = 1;
	breath.sitting = &sitting;
	plan.supply = &supply;
	plan.breath = &breath;
	plan.ready = INFINITY;
	page_of(&plan, &out);
	assert_null(strstr(out.at, "nan"));
	assert_null(strstr(out.at, "inf "));
	assert_null(strstr(out.at, ">inf"));
	assert_non_null(strstr(out.at, "not known"));
	assert_non_null(strstr(out.at, "never"));
	assert_non_null(strstr(out.at, "isocyanate"));
	tc_buffer_free(&out);
	plan.supply = NULL; /* parts that are not there are left out */
	plan.breath = NULL;
	plan.ready = NAN;
	page_of(&plan, &out);
	assert_null(strstr(out.at, "id=\"buy\""));
	assert_null(strstr(out.at, "id=\"air\""));
	tc_buffer_free(&out);
}

/* --- hostile texts ----------------------------------------------------------------------------------------------- */

/* Beyond what the reader lets through: bytes that are no UTF-8, controls, direction marks, what XML has not. */
#define NASTIEST                                                                                                       \
	"</title><script>alert(1)</script>\"' onload=x \x1b[31m\xFF\xFE \xE2\x80\xAE \xE2\x80\xA8 \xEF\xBF\xBF "       \
	"\xED\xA0\x80 ]]> \r\n\t"

static void holds_no_such(const tc_buffer *out)
{
	assert_int_equal(tc_utf8_bad(out->at, out->length), out->length);
	assert_null(strstr(out->at, "<script"));
	assert_null(strstr(out->at, "\x1b"));
	assert_null(strstr(out->at, "\xE2\x80\xAE"));
	assert_null(strstr(out->at, "\xE2\x80\xA8"));
	assert_null(strstr(out->at, "\xEF\xBF\xBF"));
	assert_non_null(strstr(out->at, "&lt;script&gt;alert(1)&lt;/script&gt;&quot;' onload=x &lt;U+001B&gt;[31m"));
	assert_non_null(strstr(out->at, "&lt;U+202E&gt; &lt;U+2028&gt;"));
}

static void test_nastiest_title(void **state)
{
	const tc_plan *good = planned(*state, "scaled.yaml", scaled);
	tc_plan plan = *good;
	tc_recipe recipe = *good->recipe;
	tc_buffer out;
	recipe.title = NASTIEST;
	plan.recipe = &recipe;
	page_of(&plan, &out);
	holds_no_such(&out);
	tc_buffer_free(&out);
}

static void test_index(void **state)
{
	const tc_card_row rows[] = {
	    {.title = NASTIEST,
	        .file = "a.yaml",
	        .link = "javascript:alert(1)\"/x y.html",
	        .verdict = "1 error",
	        .weight = TC_V_ERROR,
	        .read = true,
	        .parts = 1,
	        .steps = 2,
	        .lasts = 3600,
	        .ready = "Sat",
	        .cost = 2.5,
	        .currency = "<EUR>"},
	    {.file = "b.yaml", .verdict = "no recipe", .lasts = NAN, .cost = NAN},
	    {.title = "c",
	        .file = "c.yaml",
	        .verdict = "sound",
	        .read = true,
	        .lasts = NAN,
	        .cost = 1.25,
	        .currency = "<EUR>"},
	};
	tc_buffer out;
	(void)state;
	tc_buffer_start(&out, NULL);
	tc_card_index_html(rows, 3, &out);
	assert_false(out.failed);
	holds_no_such(&out);
	assert_non_null(strstr(out.at, "<a href=\"javascript%3Aalert%281%29%22/x%20y.html\">"));
	assert_non_null(strstr(out.at,
	    "3 recipes; 1 with errors: do not begin it; 1 could not be read; to buy for 3.75\xC2\xA0&lt;EUR&gt;"));
	assert_non_null(strstr(out.at, "<bdi>b.yaml</bdi>")); /* without a title: the file */
	out.length = 0;
	tc_card_index_html(rows, 0, &out);
	assert_non_null(strstr(out.at, "0 recipes"));
	tc_buffer_free(&out);
}

/* --- memory ------------------------------------------------------------------------------------------------------ */

static void test_memory(void **state)
{
	const tc_plan *plan = planned(*state, "scaled.yaml", scaled);
	tc_buffer whole, out;
	tc_buffer_start(&whole, &heap_allocator);
	heap_arm(0);
	tc_card_html(plan, &whole);
	const long all = heap.requests;
	heap_disarm();
	assert_false(whole.failed);
	for (long n = 1; n <= all; n += 1 + n / 200) {
		tc_buffer_start(&out, &heap_allocator);
		heap_arm(n);
		tc_card_html(plan, &out);
		const bool failed = out.failed;
		tc_buffer_free(&out);
		const long left = heap.outstanding;
		heap_disarm();
		assert_int_equal(left, 0);
		assert_true(failed);
	}
	tc_buffer_free(&whole);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_films_are_to_scale),
	    cmocka_unit_test(test_lines_are_to_scale),
	    cmocka_unit_test(test_chart),
	    cmocka_unit_test(test_drying),
	    cmocka_unit_test(test_unknown_figures),
	    cmocka_unit_test(test_nastiest_title),
	    cmocka_unit_test(test_index),
	    cmocka_unit_test(test_memory),
	};
	return cmocka_run_group_tests(tests, bench_open, bench_close);
}
