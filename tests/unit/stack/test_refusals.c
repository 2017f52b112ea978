/* Every refusal of the recipe reader, whole, with its place. The wording is this program's own. */
#include "kit.h"

typedef struct refusal {
	const char *text, *lines;
} refusal;

static void refuse_all(kit *k, const refusal *at, size_t count, bool short_form)
{
	for (size_t i = 0; i < count; i++)
		kit_refuses_as(k, at[i].text, short_form, at[i].lines);
}

#define COUNT(array) (sizeof(array) / sizeof *(array))

#define BENCH                                                                                                          \
	"on: polystyrene\n"                                                                                            \
	"stack: [{wait: 1 h}]\n"                                                                                       \
	"workshop: "
#define PARTS                                                                                                          \
	"stack: [{wait: 1 h}]\n"                                                                                       \
	"parts:"
#define SHELF                                                                                                          \
	"on: polystyrene\n"                                                                                            \
	"stack: [{wait: 1 h}]\n"                                                                                       \
	"shelf:"
#define STACK                                                                                                          \
	"on: polystyrene\n"                                                                                            \
	"stack:\n"
#define TAPE                                                                                                           \
	"parts: {hull: {substrate: brass, areas: {bottom: 45 %}}, house: {substrate: brass}}\n"                        \
	"stack:\n"
#define ACCEPT                                                                                                         \
	"on: polystyrene\n"                                                                                            \
	"stack: [{wait: 1 h}]\n"                                                                                       \
	"accept:"

static void refuses_top(void **state)
{
	static const refusal all[] = {
	    {"[recipe]\n",
	        "r.yaml:1:1: error: a recipe is a mapping and this is a list; write `recipe: …` [wrong-shape]\n"},
	    {"on: polystyrene\n"
	     "stack: []\n",
	        "r.yaml:2:8: error: `stack` is empty; write the steps in order, each behind a `-` [wrong-shape]\n"},
	    {"on: polystyrene\n"
	     "stack: {wait: 1 h}\n",
	        "r.yaml:2:8: error: `stack` is a mapping; write the steps in order, each behind a `-` [wrong-shape]\n"},
	    {"on: polystyrene\n"
	     "stack: wait\n",
	        "r.yaml:2:8: error: `stack` is a text; write the steps in order, each behind a `-` [wrong-shape]\n"},
	};
	refuse_all(*state, all, COUNT(all), true);
}

static void refuses_top_of_a_whole_recipe(void **state)
{
	static const refusal all[] = {
	    {"stack: [{wait: 1 h}]\n"
	     "on: polystyrene\n",
	        "r.yaml:1:1: error: no `recipe`; this key says what the recipe is called [missing-key]\n"},
	    {"recipe: []\n"
	     "on: polystyrene\n"
	     "stack: [{wait: 1 h}]\n",
	        "r.yaml:1:9: error: `recipe` is a list; write a text, such as `Pilot cutter, harbour service` "
	        "[wrong-shape]\n"},
	    {"recipe:\n"
	     "on: polystyrene\n"
	     "stack: [{wait: 1 h}]\n",
	        "r.yaml:1:8: error: `recipe` is empty; write a text, such as `Pilot cutter, harbour service` "
	        "[wrong-shape]\n"},
	    {"recipe: x\n"
	     "scale: 48\n"
	     "on: polystyrene\n"
	     "stack: [{wait: 1 h}]\n",
	        "r.yaml:2:8: error: `scale`: `48` is no ratio; write one as `2:1` or `4:1:1` [ratio]\n"},
	    {"recipe: x\n"
	     "scale: 1:48:2\n"
	     "on: polystyrene\n"
	     "stack: [{wait: 1 h}]\n",
	        "r.yaml:2:8: error: `scale` is `1:48:2`; it has two terms, such as `1:1` [ratio]\n"},
	    {"recipe: x\n"
	     "scale: 48:1\n"
	     "on: polystyrene\n"
	     "stack: [{wait: 1 h}]\n",
	        "r.yaml:2:8: error: `scale` is `48:1`; it lies between 1:1 and 1:10000, the model's side first "
	        "[out-of-range]\n"},
	    {"recipe: x\n"
	     "scael: 1:48\n"
	     "on: polystyrene\n"
	     "stack: [{wait: 1 h}]\n",
	        "r.yaml:2:1: error: no key `scael` in a recipe; `scale` is near [unknown-key]\n"},
	    {"recipe: x\n"
	     "paint: blue\n"
	     "on: polystyrene\n"
	     "stack: [{wait: 1 h}]\n",
	        "r.yaml:2:1: error: no key `paint` in a recipe; docs/recipe.md lists the keys [unknown-key]\n"},
	    {"recipe: x\n"
	     "stack: [{wait: 1 h}]\n",
	        "r.yaml:1:1: error: the recipe has no `parts`; say what is finished, and what it is made of "
	        "[missing-key]\n"},
	    {"recipe: x\n"
	     "on: polystyrene\n",
	        "r.yaml:1:1: error: the recipe has no `stack`; write the steps in order [missing-key]\n"},
	    {"recipe: x\n"
	     "on: polystyrene\n"
	     "parts: {hull: {substrate: brass}}\n"
	     "stack: [{wait: 1 h}]\n",
	        "r.yaml:2:1: error: `on` beside `parts`; the short form is for a recipe of one part [twice]\n"},
	    {"recipe: x\n"
	     "on: polystyrene\n"
	     "start: tomorrow\n"
	     "stack: [{wait: 1 h}]\n",
	        "r.yaml:3:8: error: `start` is `tomorrow`; write a date and maybe an hour, such as `2031-05-17 18:30` "
	        "[wrong-shape]\n"},
	    {"recipe: x\n"
	     "on: polystyrene\n"
	     "sessions: {sat: 9}\n"
	     "stack: [{wait: 1 h}]\n",
	        "r.yaml:3:11: error: `sessions` is a mapping; write a text, such as `sat 9:00 to 17:00` "
	        "[wrong-shape]\n"},
	    {"recipe: x\n"
	     "on: polystyrene\n"
	     "sessions: [sat 9:00 to 17:00, {}]\n"
	     "stack: [{wait: 1 h}]\n",
	        "r.yaml:3:31: error: `sessions` is a mapping; write a text, such as `sat 9:00 to 17:00` "
	        "[wrong-shape]\n"},
	    {"recipe: x\n"
	     "on: polystyrene\n"
	     "stakc: [{wait: 1 h}]\n",
	        "r.yaml:3:1: error: no key `stakc` in a recipe; `stack` is near [unknown-key]\n"},
	};
	refuse_all(*state, all, COUNT(all), false);
}

static void refuses_workshop(void **state)
{
	static const refusal all[] = {
	    {BENCH "21 °C\n",
	        "r.yaml:3:11: error: `workshop` is a mapping and this is a text; write `workshop: {temperature: 21 °C, "
	        "humidity: 50 %}` [wrong-shape]\n"},
	    {BENCH "{temperature: 21}\n", "r.yaml:3:25: error: `21` has no unit; write `21 °C` [no-unit]\n"},
	    {BENCH "{temperature: 90 °C}\n",
	        "r.yaml:3:25: error: `temperature` is `90 °C`; it can only lie between -13.2 °C and 56.8 °C "
	        "[out-of-range]\n"},
	    {BENCH "{humidity: 55}\n", "r.yaml:3:22: error: `55` has no unit; write `55 %` [no-unit]\n"},
	    {BENCH "{humidity: 120 %}\n",
	        "r.yaml:3:22: error: `humidity` is `120 %`; it can only lie between 0 % and 100 % [out-of-range]\n"},
	    {BENCH "{humidity: 21 °C}\n",
	        "r.yaml:3:22: error: `21 °C` is a temperature and `humidity` takes a share; write it as `50 %` "
	        "[dimensions]\n"},
	    {BENCH "{air_speed: 3 m}\n", "r.yaml:3:23: error: `3 m` is a length and `air_speed` takes a speed; write "
	                                 "it as `0.3 m/s` [dimensions]\n"},
	    {BENCH "{room: big}\n",
	        "r.yaml:3:18: error: `room`: `big` does not begin with a number; write one with its unit, such as `12 "
	        "min` [quantity]\n"},
	    {BENCH "{extraction: [1]}\n",
	        "r.yaml:3:24: error: `extraction` is a list; write `300 m³/h` [wrong-shape]\n"},
	    {BENCH "{humdity: 5 %}\n",
	        "r.yaml:3:12: error: no key `humdity` in `workshop`; `humidity` is near [unknown-key]\n"},
	    {BENCH "{habits: yes}\n",
	        "r.yaml:3:20: error: `habits` is a mapping and this is a text; write `habits: {dust: yes, dry: yes}` "
	        "[wrong-shape]\n"},
	    {BENCH "{habits: {dust: true}}\n",
	        "r.yaml:3:27: error: `dust` is `true`; write `yes` or `no` [not-a-truth]\n"},
	    {BENCH "{habits: {dust: yes, wax: no}}\n",
	        "r.yaml:3:32: error: no key `wax` in `habits`; docs/recipe.md lists the keys [unknown-key]\n"},
	    {BENCH "{by: brsh}\n", "r.yaml:3:16: error: `by` takes no word `brsh`; `brush` is near [unknown-word]\n"},
	    {BENCH "{currency: }\n",
	        "r.yaml:3:22: error: `currency` is empty; write a text, such as `EUR` [wrong-shape]\n"},
	    {BENCH "{room: 32 m³, remark: []}\n",
	        "r.yaml:3:33: error: `remark` is a list; write a text, such as `north window` [wrong-shape]\n"},
	};
	refuse_all(*state, all, COUNT(all), true);
}

static void refuses_parts(void **state)
{
	static const refusal all[] = {
	    {PARTS " hull\n",
	        "r.yaml:2:8: error: `parts` is a text; write each part by its name, such as `hull: {substrate: …}` "
	        "[wrong-shape]\n"},
	    {PARTS " {}\n",
	        "r.yaml:2:8: error: `parts` is empty; write each part by its name, such as `hull: {substrate: …}` "
	        "[wrong-shape]\n"},
	    {PARTS "\n"
	           "  hull: polystyrene\n",
	        "r.yaml:3:9: error: a part is a mapping and this is a text; write `hull: {substrate: …}` "
	        "[wrong-shape]\n"},
	    {PARTS " {hull: {}}\n",
	        "r.yaml:2:9: error: part `hull` has no `substrate`; say what it is made of, if only its kind "
	        "[missing-key]\n"},
	    {PARTS " {hull: {substrate: polystyrne}}\n",
	        "r.yaml:2:27: error: no `polystyrne` among the substrates, nor on the shelf; `polystyrene` is near "
	        "[unknown-name]\n"},
	    {PARTS " {hull: {substrate: lacquer-primer}}\n",
	        "r.yaml:2:27: error: `lacquer-primer` is none of the substrates, which `substrate` takes "
	        "[wrong-material]\n"},
	    {PARTS " {hull: {substrate: brass, area: 120}}\n",
	        "r.yaml:2:40: error: `120` has no unit; write `120 cm²` [no-unit]\n"},
	    {PARTS " {hull: {substrate: brass, area: -5 cm²}}\n",
	        "r.yaml:2:40: error: `area` is `-5 cm²`; it must be above zero [out-of-range]\n"},
	    {PARTS " {hull: {substrate: brass, area: 5 mm}}\n", "r.yaml:2:40: error: `5 mm` is a length and `area` "
	                                                        "takes an area; write it as `120 cm²` [dimensions]\n"},
	    {PARTS " {hull: {substrate: brass, size: 3 × 4 cm}}\n",
	        "r.yaml:2:40: error: `size` is `3 × 4 cm`; write length, width and height, such as `210 × 62 × 48 mm` "
	        "[quantity]\n"},
	    {PARTS " {hull: {substrate: brass, size: 3 × 4 × 5}}\n",
	        "r.yaml:2:40: error: `size` is `3 × 4 × 5`; write length, width and height, such as `210 × 62 × 48 mm` "
	        "[quantity]\n"},
	    {PARTS " {hull: {substrate: brass, size: 3 × 4 × 5 × 6 cm}}\n",
	        "r.yaml:2:40: error: `size` is `3 × 4 × 5 × 6 cm`; write length, width and height, such as `210 × 62 × "
	        "48 mm` [quantity]\n"},
	    {PARTS " {hull: {substrate: brass, area: 3 cm², size: 1 x 1 x 1 cm}}\n",
	        "r.yaml:2:47: error: `size` beside `area`; one is enough, and `area` is the better [twice]\n"},
	    {PARTS " {hull: {substrate: brass, lines: {}}}\n",
	        "r.yaml:2:41: error: `lines` says neither width nor depth; write `lines: {width: 0.3 mm, depth: 0.25 "
	        "mm}` [missing-key]\n"},
	    {PARTS " {hull: {substrate: brass, lines: {width: 0 mm}}}\n",
	        "r.yaml:2:49: error: `width` is `0 mm`; it must be above zero [out-of-range]\n"},
	    {PARTS " {hull: {substrate: brass, lines: 0.3 mm}}\n",
	        "r.yaml:2:41: error: `lines` is a mapping and this is a text; write `lines: {width: 0.3 mm, depth: "
	        "0.25 "
	        "mm}` [wrong-shape]\n"},
	    {PARTS " {hull: {substrate: brass, lit: maybe}}\n",
	        "r.yaml:2:39: error: `lit` is `maybe`; write `yes` or `no` [not-a-truth]\n"},
	    {PARTS " {hull: {substrate: brass, weight: 3 g}}\n",
	        "r.yaml:2:34: error: no key `weight` in a part; docs/recipe.md lists the keys [unknown-key]\n"},
	    {PARTS " {hull/a: {substrate: brass}}\n",
	        "r.yaml:2:9: error: `hull/a` cannot be the name of a part; it needs a letter and no `/` [bad-name]\n"},
	    {PARTS " {'': {substrate: brass}}\n",
	        "r.yaml:2:9: error: `` cannot be the name of a part; it needs a letter and no `/` [bad-name]\n"},
	    {PARTS " {hull: {substrate: brass, areas: {bottom: 45}}}\n",
	        "r.yaml:2:50: error: `45` has no unit; write `45 %` [no-unit]\n"},
	    {PARTS " {hull: {substrate: brass, areas: {bottom: 0 %}}}\n",
	        "r.yaml:2:50: error: an area of `0 %`; it must be above zero [out-of-range]\n"},
	    {PARTS " {hull: {substrate: brass, areas: {bottom: 50 %, top: 50 %}}}\n",
	        "r.yaml:2:41: error: the areas make up all of `hull`; leave the largest out: the part itself is what "
	        "no "
	        "area names [areas]\n"},
	    {PARTS " {hull: {substrate: brass, areas: {bottom: 50 %, top: 60 %}}}\n",
	        "r.yaml:2:41: error: the areas make up more than all of `hull` [areas]\n"},
	    {PARTS " {hull: {substrate: brass, areas: 45 %}}\n",
	        "r.yaml:2:41: error: `areas` is a text; write the share of each, such as `areas: {bottom: 45 %}` "
	        "[wrong-shape]\n"},
	    {PARTS " {hull: {substrate: brass, areas: {a/b: 10 %}}}\n",
	        "r.yaml:2:42: error: `a/b` cannot be the name of an area; it needs a letter and no `/` [bad-name]\n"},
	    {PARTS " {hull: {substrate: brass, finish: [{age: 3 y}]}}\n",
	        "r.yaml:2:43: error: an old finish has no `coat`; write what it is, if only `coat: coating` "
	        "[missing-key]\n"},
	    {PARTS " {hull: {substrate: brass, finish: [{coat: coating, age: 3}]}}\n",
	        "r.yaml:2:64: error: `3` has no unit; write `3 y` [no-unit]\n"},
	    {PARTS " {hull: {substrate: brass, finish: [coating]}}\n",
	        "r.yaml:2:43: error: an old finish is a mapping and this is a text; write `finish: [{coat: …, age: 10 "
	        "y}]` [wrong-shape]\n"},
	    {PARTS " {hull: {substrate: brass, finish: [{coat: water}]}}\n",
	        "r.yaml:2:50: error: `water` is none of the substrates, coatings, fillers, adhesives or decals, which "
	        "`coat` takes [wrong-material]\n"},
	    {PARTS " {hull: {substrate: brass, tested: softens}}\n",
	        "r.yaml:2:42: error: `tested` is a mapping and this is a text; write `tested: {wipe: …, result: "
	        "softens}` [wrong-shape]\n"},
	    {PARTS " {hull: {substrate: brass, tested: {wipe: lacquer-thinner}}}\n",
	        "r.yaml:2:42: error: `tested` says with what, and what came of it; write `tested: {wipe: …, result: "
	        "softens}` [missing-key]\n"},
	    {PARTS " {hull: {substrate: brass, tested: {wipe: putty, result: softens}}}\n",
	        "r.yaml:2:49: error: `putty` is none of the solvents, blends or agents, which `wipe` takes "
	        "[wrong-material]\n"},
	    {PARTS " {hull: {substrate: brass, thickness: 2 %}}\n",
	        "r.yaml:2:45: error: `2 %` is a share and `thickness` takes a length; write it as `1.5 mm` "
	        "[dimensions]\n"},
	    {PARTS " {hull: {substrat: brass}}\n",
	        "r.yaml:2:16: error: no key `substrat` in a part; `substrate` is near [unknown-key]\n"},
	    {PARTS " {hull: {substrate: brass, tested: {wiep: water, result: none}}}\n",
	        "r.yaml:2:43: error: no key `wiep` in `tested`; `wipe` is near [unknown-key]\n"},
	    {PARTS " {hull: {substrate: brass, finish: [{cot: coating}]}}\n",
	        "r.yaml:2:44: error: no key `cot` in an old finish; `coat` is near [unknown-key]\n"},
	};
	refuse_all(*state, all, COUNT(all), true);
}

static void refuses_shelf(void **state)
{
	static const refusal all[] = {
	    {SHELF " []\n", "r.yaml:3:8: error: `shelf` is a list; write labels with their families, such as `grey "
	                    "primer: {family: "
	                    "…}`, or the name of a file that does [wrong-shape]\n"},
	    {SHELF " {black: lacquer-colour}\n",
	        "r.yaml:3:16: error: `black` on the shelf is a mapping and this is a text; write `{family: "
	        "lacquer-colour}` [wrong-shape]\n"},
	    {SHELF " {black: {}}\n",
	        "r.yaml:3:9: error: `black` has no `family`; say what it is, if only its kind [missing-key]\n"},
	    {SHELF " {black: {family: lacquer-color}}\n",
	        "r.yaml:3:25: error: no `lacquer-color` among the solvents, blends, substrates, coatings, fillers, "
	        "adhesives, decals, agents or abrasives; `lacquer-colour` is near [unknown-name]\n"},
	    {SHELF " {black: {family: black}}\n",
	        "r.yaml:3:25: error: no `black` among the solvents, blends, substrates, coatings, fillers, adhesives, "
	        "decals, agents or abrasives [unknown-name]\n"},
	    {SHELF " {black: {family: acrylic}}\n", "r.yaml:3:25: error: `acrylic` may be several unlike things: what "
	                                            "does it clean up with? water, alcohol "
	                                            "or lacquer thinner [unclear-name]\n"},
	    {SHELF " {black: {family: nitro paint}}\n", "r.yaml:3:25: error: `nitro paint` may be `oil-enamel` or "
	                                                "`lacquer-colour`; write the one that is meant "
	                                                "[several-names]\n"},
	    {SHELF " {black: {family: [lacquer-colour]}}\n",
	        "r.yaml:3:25: error: `family` is a list; write the name of a material [wrong-shape]\n"},
	    {SHELF " {black: {family: lacquer-colour, solid: 12 %}}\n",
	        "r.yaml:3:41: error: no key `solid` in a label of the shelf; `solids` is near [unknown-key]\n"},
	    {SHELF " {black: {family: lacquer-colour, touch_time: 12 min}}\n",
	        "r.yaml:3:41: error: `touch_time` means nothing for `black`, which is `lacquer-colour` "
	        "[misplaced-key]\n"},
	    {SHELF " {black: {family: lacquer-colour, solids: 12}}\n",
	        "r.yaml:3:49: error: `12` is a bare number and `solids` a share; write `12 %` [share]\n"},
	    {SHELF " {black: {family: lacquer-colour, solids: 120 %}}\n",
	        "r.yaml:3:49: error: `solids` is 120 %; it can only lie between 0.5 % and 100 % [out-of-range]\n"},
	    {SHELF " {'': {family: lacquer-colour}}\n",
	        "r.yaml:3:9: error: a label of the shelf is empty [bad-name]\n"},
	    {SHELF " gone.yaml\n",
	        "r.yaml:3:8: error: the shelf `gone.yaml` cannot be read: no such file [shelf-file]\n"},
	    {SHELF " {black: {family: lacquer-colour, remark: {}}}\n",
	        "r.yaml:3:49: error: `remark` is a mapping; write a text, such as `half empty` [wrong-shape]\n"},
	    {SHELF " {black: {famly: lacquer-colour}}\n",
	        "r.yaml:3:17: error: no key `famly` in a label of the shelf; `family` is near [unknown-key]\n"},
	    {SHELF " {black: []}\n",
	        "r.yaml:3:16: error: `black` on the shelf is a mapping and this is a list; write `{family: …}` "
	        "[wrong-shape]\n"},
	};
	refuse_all(*state, all, COUNT(all), true);
}

static void refuses_steps(void **state)
{
	static const refusal all[] = {
	    {STACK "  - wait\n", "r.yaml:3:5: error: a step is a mapping; write `wait: …` [wrong-shape]\n"},
	    {STACK "  - [wait]\n",
	        "r.yaml:3:5: error: a step is a mapping and this is a list; write `coat: grey primer` [wrong-shape]\n"},
	    {STACK "  - {}\n", "r.yaml:3:5: error: the step says nothing to do; it needs a verb, such as `coat: grey "
	                       "primer` or `wait: "
	                       "1 h` [one-verb]\n"},
	    {STACK "  - on: polystyrene\n", "r.yaml:3:5: error: the step says nothing to do; it needs a verb, such as "
	                                    "`coat: grey primer` or `wait: "
	                                    "1 h` [one-verb]\n"},
	    {STACK "  - {coat: lacquer-primer, wait: 1 h}\n",
	        "r.yaml:3:28: error: `wait` beside `coat`; a step has one verb: make two steps of it [one-verb]\n"},
	    {STACK "  - {wash: detergent, coats: 2}\n",
	        "r.yaml:3:23: error: `coats` means nothing with `wash` [misplaced-key]\n"},
	    {STACK "  - {coat: lacquer-primer, depth: 1 mm}\n",
	        "r.yaml:3:28: error: `depth` means nothing with `coat` [misplaced-key]\n"},
	    {STACK "  - {coat: lacquer-primer, colour: red}\n",
	        "r.yaml:3:28: error: no key `colour` in a step; docs/recipe.md lists the keys [unknown-key]\n"},
	    {STACK "  - {coat: lacqer-primer}\n", "r.yaml:3:12: error: no `lacqer-primer` among the coatings or "
	                                          "agents, nor on the shelf; `lacquer-primer` "
	                                          "is near [unknown-name]\n"},
	    {STACK "  - {coat: detergnt}\n",
	        "r.yaml:3:12: error: no `detergnt` among the coatings or agents, nor on the shelf; `detergent` is near "
	        "[unknown-name]\n"},
	    {STACK "  - {coat: putty}\n",
	        "r.yaml:3:12: error: `putty` is none of the coatings or agents, which `coat` takes [wrong-material]\n"},
	    {STACK "  - {coat: polystyrene}\n",
	        "r.yaml:3:12: error: `polystyrene` is none of the coatings or agents, which `coat` takes "
	        "[wrong-material]\n"},
	    {STACK "  - {coat: acrylic}\n", "r.yaml:3:12: error: `acrylic` may be several unlike things: what does it "
	                                    "clean up with? water, alcohol "
	                                    "or lacquer thinner [unclear-name]\n"},
	    {STACK "  - {coat: nitro paint}\n", "r.yaml:3:12: error: `nitro paint` may be `oil-enamel` or "
	                                        "`lacquer-colour`; write the one that is meant "
	                                        "[several-names]\n"},
	    {STACK "  - {coat: [lacquer-primer]}\n",
	        "r.yaml:3:12: error: `coat` is a list; write the name of a material [wrong-shape]\n"},
	    {STACK "  - {coat: }\n",
	        "r.yaml:3:12: error: `coat` is empty; write the name of a material [wrong-shape]\n"},
	    {STACK "  - {coat: yes}\n", "r.yaml:3:12: error: `coat: yes` does not say with what [missing-name]\n"},
	    {STACK "  - {sand: P410}\n",
	        "r.yaml:3:12: error: no `P410` among the abrasives, nor on the shelf; `p400` is near [unknown-name]\n"},
	    {STACK "  - {sand: yes}\n", "r.yaml:3:12: error: `sand: yes` does not say with what [missing-name]\n"},
	    {STACK "  - {wash: yes}\n", "r.yaml:3:12: error: `wash: yes` does not say with what [missing-name]\n"},
	    {STACK "  - {cure: sun}\n",
	        "r.yaml:3:12: error: `cure` takes no word `sun`; write `cure: lamp` [unknown-word]\n"},
	    {STACK "  - {scribe: yes}\n",
	        "r.yaml:3:14: error: `scribe` is a mapping and this is a text; write `scribe: {width: 0.3 mm, depth: "
	        "0.25 mm}` [wrong-shape]\n"},
	    {STACK "  - {scribe: {}}\n",
	        "r.yaml:3:14: error: `scribe` says neither width nor depth; write `scribe: {width: 0.3 mm, depth: 0.25 "
	        "mm}` [missing-key]\n"},
	    {STACK "  - {scribe: {width: 3}}\n", "r.yaml:3:22: error: `3` has no unit; write `3 mm` [no-unit]\n"},
	    {STACK "  - {scribe: {widht: 3 mm}}\n",
	        "r.yaml:3:15: error: no key `widht` in `scribe`; `width` is near [unknown-key]\n"},
	    {STACK "  - {do: }\n",
	        "r.yaml:3:10: error: `do` is empty; write a text, such as `the railings` [wrong-shape]\n"},
	    {STACK "  - {test: []}\n",
	        "r.yaml:3:12: error: `test` is a list; write a text, such as `the railings` [wrong-shape]\n"},
	    {STACK "  - {wait: 5}\n", "r.yaml:3:12: error: `5` has no unit; write `5 min` [no-unit]\n"},
	    {STACK "  - {wait: 5 mm}\n",
	        "r.yaml:3:12: error: `5 mm` is a length and `wait` takes a time; write it as `30 min` [dimensions]\n"},
	    {STACK "  - {wait: -5 min}\n",
	        "r.yaml:3:12: error: `wait` is `-5 min`; it can only lie between 0 s and 100 years [out-of-range]\n"},
	    {STACK "  - {wait: 101 y}\n",
	        "r.yaml:3:12: error: `wait` is `101 y`, longer than the 100 years that a plan may take [bound]\n"},
	    {STACK "  - {wait: 5 mins 3}\n", "r.yaml:3:14: error: `wait`: no unit `mins`; `min` is near [quantity]\n"},
	    {STACK "  - {wait: soon}\n",
	        "r.yaml:3:12: error: `wait`: `soon` does not begin with a number; write one with its unit, such as `12 "
	        "min` [quantity]\n"},
	    {STACK "  - {wait: 1 h, at: 45}\n", "r.yaml:3:21: error: `45` has no unit; write `45 °C` [no-unit]\n"},
	    {STACK "  - {wait: 1 h, at: 300 °C}\n",
	        "r.yaml:3:21: error: `at` is `300 °C`; it can only lie between -50 °C and 200 °C [out-of-range]\n"},
	    {STACK "  - {wait: 1 h, takes: 2 h}\n"
	           "  - {sand: P400, takes: -1 s}\n",
	        "r.yaml:4:25: error: `takes` is `-1 s`; it can only lie between 0 s and 100 years [out-of-range]\n"},
	    {STACK "  - {coat: lacquer-primer, coats: 0}\n",
	        "r.yaml:3:35: error: `coats` is `0`; it is 1 at least [out-of-range]\n"},
	    {STACK "  - {coat: lacquer-primer, coats: 2.5}\n",
	        "r.yaml:3:35: error: `coats` is `2.5`; it is a whole number, such as `2` [wrong-shape]\n"},
	    {STACK "  - {coat: lacquer-primer, coats: two}\n",
	        "r.yaml:3:35: error: `coats` is `two`; it is a whole number, such as `2` [wrong-shape]\n"},
	    {STACK "  - {coat: lacquer-primer, coats: 51}\n",
	        "r.yaml:3:35: error: `coats` is `51`; a layer has at most 50 [bound]\n"},
	    {STACK "  - {coat: lacquer-primer, coats: -1}\n",
	        "r.yaml:3:35: error: `coats` is `-1`; it is 1 at least [out-of-range]\n"},
	    {STACK "  - {coat: lacquer-primer, pass: heavy}\n", "r.yaml:3:34: error: `pass` takes no word `heavy`; it "
	                                                        "is one of mist, light, medium, wet [unknown-word]\n"},
	    {STACK "  - {coat: lacquer-primer, passes: light}\n",
	        "r.yaml:3:36: error: `passes` is a list of what each pass is; write `[light, medium, medium]` "
	        "[wrong-shape]\n"},
	    {STACK "  - {coat: lacquer-primer, passes: [light, lihgt]}\n",
	        "r.yaml:3:44: error: `passes` takes no word `lihgt`; `light` is near [unknown-word]\n"},
	    {STACK "  - {coat: lacquer-primer, passes: [light, light], coats: 3}\n",
	        "r.yaml:3:52: error: `coats` is 3 and `passes` lists 2; leave `coats` out [twice]\n"},
	    {STACK "  - {coat: lacquer-primer, passes: [light, light], pass: wet}\n",
	        "r.yaml:3:52: error: `pass` beside `passes`; write one of them [twice]\n"},
	    {STACK "  - {coat: lacquer-primer, wet_film: -18 µm}\n",
	        "r.yaml:3:38: error: `wet_film` is `-18 µm`; it must be above zero [out-of-range]\n"},
	    {STACK "  - {coat: lacquer-primer, wet_film: 18}\n",
	        "r.yaml:3:38: error: `18` has no unit; write `18 µm` [no-unit]\n"},
	    {STACK "  - {coat: lacquer-primer, wet_film: 18 mm}\n",
	        "r.yaml:3:38: error: `wet_film` is `18 mm`; it can only lie between 0 µm and 10 mm [out-of-range]\n"},
	    {STACK "  - {coat: lacquer-primer, flash: [5 min], coats: 3}\n",
	        "r.yaml:3:35: error: `flash` lists 1; with `coats: 3` there are 2 pauses [wrong-shape]\n"},
	    {STACK "  - {coat: lacquer-primer, flash: [5 min]}\n",
	        "r.yaml:3:35: error: `flash` lists 1; with `coats: 1` there are 0 pauses [wrong-shape]\n"},
	    {STACK "  - {coat: lacquer-primer, flash: 5, coats: 3}\n",
	        "r.yaml:3:35: error: `5` has no unit; write `5 min` [no-unit]\n"},
	    {STACK "  - {coat: lacquer-primer, coats: 3, flash: [5 min, 6]}\n",
	        "r.yaml:3:53: error: `6` has no unit; write `6 min` [no-unit]\n"},
	    {STACK "  - {coat: lacquer-primer, role: primr}\n",
	        "r.yaml:3:34: error: `role` takes no word `primr`; `primer` is near [unknown-word]\n"},
	    {STACK "  - {coat: lacquer-primer, role: top}\n",
	        "r.yaml:3:34: error: `role` takes no word `top`; it is one of primer, colour, clear [unknown-word]\n"},
	    {STACK "  - {coat: lacquer-primer, role: [primer]}\n",
	        "r.yaml:3:34: error: `role` takes no word `a list`; it is one of primer, colour, clear "
	        "[unknown-word]\n"},
	    {STACK "  - {coat: lacquer-primer, intends: crakle}\n",
	        "r.yaml:3:37: error: `intends` takes no word `crakle`; `crackle` is near [unknown-word]\n"},
	    {STACK "  - {coat: lacquer-primer, thin: lacquer-thinner}\n",
	        "r.yaml:3:34: error: `thin` is a mapping and this is a text; write `thin: {with: …, ratio: 1:1}` "
	        "[wrong-shape]\n"},
	    {STACK "  - {coat: lacquer-primer, thin: {with: lacquer-thinner}}\n",
	        "r.yaml:3:34: error: `thin` does not say how much; write `thin: {with: …, ratio: 1:1}` "
	        "[missing-key]\n"},
	    {STACK "  - {coat: lacquer-primer, thin: {with: lacquer-thinner, ratio: 1:1:1}}\n",
	        "r.yaml:3:65: error: `ratio` is `1:1:1`; it has two terms, such as `1:1` [ratio]\n"},
	    {STACK "  - {coat: lacquer-primer, thin: {with: lacquer-thinner, ratio: half}}\n",
	        "r.yaml:3:65: error: `ratio`: `half` is no ratio; write one as `2:1` or `4:1:1` [ratio]\n"},
	    {STACK "  - {coat: lacquer-primer, thin: {with: lacquer-thinner, ratio: 1:200}}\n",
	        "r.yaml:3:65: error: `ratio` is `1:200`; at most 100 of thinner to 1 of paint (write paint first) "
	        "[bound]\n"},
	    {STACK "  - {coat: lacquer-primer, thin: {with: lacquer-thinner, ratio: 1:1, add: 30 %}}\n",
	        "r.yaml:3:70: error: `add` beside `ratio`; write one of them [twice]\n"},
	    {STACK "  - {coat: lacquer-primer, thin: {with: putty, add: 30 %}}\n",
	        "r.yaml:3:41: error: `putty` is none of the solvents, blends or agents, which `thin` takes "
	        "[wrong-material]\n"},
	    {STACK "  - {coat: lacquer-primer, thin: {add: 30}}\n",
	        "r.yaml:3:40: error: `30` has no unit; write `30 %` [no-unit]\n"},
	    {STACK "  - {coat: lacquer-primer, thin: {wiht: water, add: 30 %}}\n",
	        "r.yaml:3:35: error: no key `wiht` in `thin`; `with` is near [unknown-key]\n"},
	    {STACK "  - {coat: clear-2k, mix: 2}\n",
	        "r.yaml:3:27: error: `mix`: `2` is no ratio; write one as `2:1` or `4:1:1` [ratio]\n"},
	    {STACK "  - {coat: clear-2k, mix: [2]}\n",
	        "r.yaml:3:27: error: `mix` is a list; write a ratio, such as `2:1` [wrong-shape]\n"},
	    {STACK "  - {coat: clear-2k, ratio: 2:1}\n",
	        "r.yaml:3:22: error: `ratio` means nothing with `coat` [misplaced-key]\n"},
	    {STACK "  - {mix: putty, ratio: 2:0}\n",
	        "r.yaml:3:27: error: `ratio`: a term of `2:0` is zero; each must be above it [ratio]\n"},
	    {STACK "  - {decal: water-slide, softener: putty}\n",
	        "r.yaml:3:36: error: `putty` is none of the solvents, blends or agents, which `softener` takes "
	        "[wrong-material]\n"},
	    {STACK "  - {polish: compound, grade: compound}\n",
	        "r.yaml:3:31: error: `compound` is none of the abrasives, which `grade` takes [wrong-material]\n"},
	    {STACK "  - {sand: P400, wet: maybe}\n",
	        "r.yaml:3:23: error: `wet` is `maybe`; write `yes` or `no` [not-a-truth]\n"},
	    {STACK "  - {sand: P400, on: hull}\n", "r.yaml:3:22: error: no part or area `hull` [unknown-name]\n"},
	    {STACK "  - {sand: P400, on: []}\n",
	        "r.yaml:3:22: error: `on` is an empty list; leave it out to mean every part [wrong-shape]\n"},
	    {STACK "  - {sand: P400, on: {hull: yes}}\n",
	        "r.yaml:3:22: error: `on` is a mapping; write a part, `part/area`, or a list of these [wrong-shape]\n"},
	    {STACK "  - {sand: P400, remark: []}\n",
	        "r.yaml:3:26: error: `remark` is a list; write a text, such as `mind the bow` [wrong-shape]\n"},
	    {STACK "  - {sand: P400, because: }\n",
	        "r.yaml:3:27: error: `because` is empty; write a text, such as `it looked dull` [wrong-shape]\n"},
	    {STACK "  - {dust: cloth}\n",
	        "r.yaml:3:12: error: no `cloth` among the agents, nor on the shelf [unknown-name]\n"},
	};
	refuse_all(*state, all, COUNT(all), true);
}

static void refuses_tape(void **state)
{
	static const refusal all[] = {
	    {TAPE "  - mask: hull/botom\n",
	        "r.yaml:3:11: error: no part or area `hull/botom`; `hull/bottom` is near [unknown-name]\n"},
	    {TAPE "  - mask: hul\n", "r.yaml:3:11: error: no part or area `hul`; `hull` is near [unknown-name]\n"},
	    {TAPE "  - mask: hull/bottom\n"
	          "    on: hull\n",
	        "r.yaml:4:5: error: `on` beside the place that `mask` names; write one of them [twice]\n"},
	    {TAPE "  - mask: {hull: yes}\n", "r.yaml:3:11: error: `mask` is a mapping; write a part, `part/area`, or a "
	                                     "list of these [wrong-shape]\n"},
	    {TAPE "  - mask: hull/bottom\n"
	          "  - sand: P400\n"
	          "    on: hull/bottom\n",
	        "r.yaml:5:9: error: `hull/bottom` is masked since step 1; `unmask` it first, or work elsewhere "
	        "[masked]\n"},
	    {TAPE "  - mask: [hull/bottom, house]\n"
	          "  - sand: P400\n"
	          "    on: [house, hull/bottom]\n"
	          "  - sand: P400\n"
	          "    on: hull/bottm\n",
	        "r.yaml:7:9: error: no part or area `hull/bottm`; `hull/bottom` is near [unknown-name]\n"},
	};
	refuse_all(*state, all, COUNT(all), true);
}

static void refuses_accept(void **state)
{
	static const refusal all[] = {
	    {ACCEPT " {}\n",
	        "r.yaml:3:9: error: `accept` is a mapping; write a list, such as `- rule: ID` "
	        "[wrong-shape]\n"},
	    {ACCEPT " [no]\n",
	        "r.yaml:3:10: error: an acceptance is a mapping and this is a text; write `- rule: ID` "
	        "[wrong-shape]\n"},
	    {ACCEPT " [{because: x}]\n",
	        "r.yaml:3:10: error: the acceptance names neither a `rule` nor a `defect` [missing-key]\n"},
	    {ACCEPT " [{rule: too-smooth-to-kee, because: x}]\n",
	        "r.yaml:3:17: error: no rule `too-smooth-to-kee`; `too-smooth-to-key` is near [unknown-name]\n"},
	    {ACCEPT " [{rule: no-such, because: x}]\n",
	        "r.yaml:3:17: error: no rule `no-such`; `tiecoat rules` lists them [unknown-name]\n"},
	    {ACCEPT " [{rule: too-smooth-to-key}]\n",
	        "r.yaml:3:10: error: the acceptance gives no reason; write `because: …` [missing-key]\n"},
	    {ACCEPT " [{rule: too-smooth-to-key, because: }]\n",
	        "r.yaml:3:45: error: `because` is empty; write a text, such as `test panel held` [wrong-shape]\n"},
	    {ACCEPT " [{rule: too-smooth-to-key, defect: lifting, because: x}]\n",
	        "r.yaml:3:36: error: `defect` beside `rule`; an acceptance names one of them [twice]\n"},
	    {ACCEPT " [{defect: liftng, because: x}]\n",
	        "r.yaml:3:19: error: `defect` takes no word `liftng`; `lifting` is near [unknown-word]\n"},
	    {ACCEPT " [{rule: too-smooth-to-key, because: x, on: hull}]\n",
	        "r.yaml:3:52: error: no part or area `hull` [unknown-name]\n"},
	    {ACCEPT " [{rule: too-smooth-to-key, because: x, step: 3}]\n",
	        "r.yaml:3:54: error: `step` is `3`; the stack has at most 1 [bound]\n"},
	    {ACCEPT " [{rule: too-smooth-to-key, because: x, step: first}]\n",
	        "r.yaml:3:54: error: `step` is `first`; it is a whole number, such as `2` [wrong-shape]\n"},
	    {ACCEPT " [{rul: x, because: x}]\n",
	        "r.yaml:3:11: error: no key `rul` in an acceptance; `rule` is near [unknown-key]\n"},
	};
	refuse_all(*state, all, COUNT(all), true);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(refuses_top),
	    cmocka_unit_test(refuses_top_of_a_whole_recipe),
	    cmocka_unit_test(refuses_workshop),
	    cmocka_unit_test(refuses_parts),
	    cmocka_unit_test(refuses_shelf),
	    cmocka_unit_test(refuses_steps),
	    cmocka_unit_test(refuses_tape),
	    cmocka_unit_test(refuses_accept),
	};
	return cmocka_run_group_tests(tests, kit_setup, kit_teardown);
}
