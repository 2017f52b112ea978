/* The card's words: a task in a sentence, when it closes, which cautions stand at it. */
#include <math.h>
#include <string.h>

#include "report/card_words.h"

static const tc_model *model_of(const tc_plan *plan)
{
	return tc_card_judgement(plan)->model;
}

static const char *word(const tc_plan *plan, tc_text vocabulary, uint32_t index)
{
	const tc_word_list *list = tc_library_words(model_of(plan)->library, vocabulary);
	return list && index < list->count ? list->words[index] : "";
}

static const char *label(const tc_product *product)
{
	return product ? product->label : "";
}

/* --- which parts -------------------------------------------------------------------------------------------------- */

static bool all_parts(const tc_model *model, uint64_t parts)
{
	const uint64_t all = model->parts >= 64 ? UINT64_MAX : (UINT64_C(1) << model->parts) - 1;
	return (parts & all) == all;
}

/* `hull`, `hull and wheelhouse`, `hull, mast and boom`, `all parts`. */
static void add_parts(const tc_plan *plan, uint64_t parts, tc_buffer *out)
{
	const tc_model *model = model_of(plan);
	uint32_t left = 0;
	for (uint32_t i = 0; i < model->parts; i++)
		left += (parts >> i & 1) != 0;
	if (left > 2 && all_parts(model, parts)) {
		tc_buffer_puts(out, "all parts");
		return;
	}
	for (uint32_t i = 0; i < model->parts; i++) {
		if (!(parts >> i & 1))
			continue;
		tc_buffer_puts(out, model->part[i].written->name);
		left--;
		tc_buffer_puts(out, left == 0 ? "" : left == 1 ? " and " : ", ");
	}
}

/* --- verbs -------------------------------------------------------------------------------------------------------- */

/* How a verb makes a sentence: `Wash hull with detergent`. */
typedef struct phrase {
	const char *lead;  /* before the parts, or the material where that comes first */
	const char *joint; /* between them */
	bool turned;       /* the material stands first: `Lay water-slide decal on hull` */
} phrase;

static const phrase phrases[TC_VERB_COUNT] = {
    [TC_VERB_WASH] = {"Wash ", " with ", false},
    [TC_VERB_DEGREASE] = {"Degrease ", " with ", false},
    [TC_VERB_CLEAN] = {"Clean ", " with ", false},
    [TC_VERB_SAND] = {"Sand ", " with ", false},
    [TC_VERB_GLUE] = {"Glue ", " with ", false},
    [TC_VERB_FILL] = {"Fill ", " with ", false},
    [TC_VERB_CURE] = {"Put ", NULL, false},
    [TC_VERB_SCRIBE] = {"Cut the lines of ", " with ", false},
    [TC_VERB_COAT] = {"Coat ", " with ", false},
    [TC_VERB_WAIT] = {"Leave ", NULL, false},
    [TC_VERB_DECAL] = {"Lay ", " on ", true},
    [TC_VERB_MASK] = {"Mask ", " with ", false},
    [TC_VERB_UNMASK] = {"Take the tape off ", NULL, false},
    [TC_VERB_POLISH] = {"Polish ", " with ", false},
    [TC_VERB_DUST] = {"Take the dust off ", " with ", false},
    [TC_VERB_STRIP] = {"Strip ", " with ", false},
    [TC_VERB_WIPE] = {"Wipe ", " with ", false},
    [TC_VERB_MIX] = {"Mix ", " for ", true},
};

static void add_quantity(const char *lead, tc_value value, tc_type type, tc_dim dim, const char *trail, tc_buffer *out)
{
	if (value.state != TC_SAID)
		return;
	tc_buffer_puts(out, lead);
	/* a film is told in µm, whatever one measures with a rule in mm */
	const bool rule = tc_dim_same(dim, TC_DIM_LENGTH) && value.number >= 1e-4 && value.number < 1;
	if (tc_dim_same(dim, TC_DIM_TIME))
		tc_duration_print(out, value.number);
	else
		tc_quantity_print(out, type, dim, value.number, 3, rule ? tc_unit_find(TC_TEXT("mm")) : NULL);
	tc_buffer_puts(out, trail);
}

/* What is to be done in the recipe's own words. */
static void add_words(const tc_plan *plan, const tc_written_step *step, tc_buffer *out)
{
	if (step->verb == TC_VERB_FIT)
		tc_buffer_puts(out, "Fit ");
	else if (step->verb == TC_VERB_TEST)
		tc_buffer_puts(out, "Test ");
	tc_buffer_puts(out, step->text);
	if (all_parts(model_of(plan), step->parts))
		return;
	tc_buffer_puts(out, " (");
	add_parts(plan, step->parts, out);
	tc_buffer_char(out, ')');
}

static void add_phrase(const tc_plan *plan, const tc_task *task, tc_buffer *out)
{
	const tc_written_step *step = task->step;
	const phrase *p = &phrases[step->verb];
	if (!p->lead) {
		add_words(plan, step, out);
		return;
	}
	tc_buffer_puts(out, p->lead);
	if (p->turned) {
		tc_buffer_print(out, "%s%s", label(step->with), p->joint);
		add_parts(plan, task->parts, out);
		return;
	}
	add_parts(plan, task->parts, out);
	if (step->verb == TC_VERB_CURE)
		tc_buffer_puts(out, " under the lamp");
	if (step->with && p->joint) /* `rinse with clean water` is a name */
		tc_buffer_print(out, "%s%s", strstr(step->with->label, " with ") ? ": " : p->joint, step->with->label);
	if (step->text)
		tc_buffer_print(out, ": %s", step->text);
	if (step->grade)
		tc_buffer_print(out, "%s%s", step->with ? " and " : " with ", step->grade->label);
}

/* --- coats -------------------------------------------------------------------------------------------------------- */

static unsigned pass_of(const tc_written_step *step, uint32_t pass)
{
	return step->passes ? step->pass[pass < step->passes ? pass : step->passes - 1] : step->pass[0];
}

static bool even(const tc_task *task)
{
	for (uint32_t i = 1; i < task->passes; i++)
		if (pass_of(task->step, task->pass + i) != pass_of(task->step, task->pass))
			return false;
	return true;
}

static uint32_t coats_of(const tc_written_step *step)
{
	return step->passes ? step->passes : step->coats ? step->coats : 1;
}

/* `2 light passes`, `2 light, then 1 medium pass`. */
static void add_all_passes(const tc_plan *plan, const tc_task *task, tc_buffer *out)
{
	uint32_t last = 0;
	for (uint32_t first = 0, next; first < task->passes; first = next) {
		const unsigned pass = pass_of(task->step, task->pass + first);
		const char *weight = word(plan, TC_TEXT("pass"), pass);
		for (next = first + 1; next < task->passes && pass_of(task->step, task->pass + next) == pass;)
			next++;
		last = next - first;
		tc_buffer_print(out, "%s%u%s%s", first ? ", then " : "", (unsigned)last, *weight ? " " : "", weight);
	}
	tc_buffer_puts(out, last == 1 ? " pass" : " passes");
}

/* The same, or of a part of them which: `pass 2 of 3, light`, `passes 2 to 4 of 5: light, medium, medium`. */
static void add_passes(const tc_plan *plan, const tc_task *task, tc_buffer *out)
{
	const uint32_t all = coats_of(task->step), first = task->pass + 1, last = task->pass + task->passes;
	const char *weight = word(plan, TC_TEXT("pass"), pass_of(task->step, task->pass));
	if (task->passes == all) {
		add_all_passes(plan, task, out);
		return;
	}
	if (task->passes == 1)
		tc_buffer_print(out, "pass %u of %u", (unsigned)first, (unsigned)all);
	else
		tc_buffer_print(out, "passes %u to %u of %u", (unsigned)first, (unsigned)last, (unsigned)all);
	if (even(task)) {
		tc_buffer_print(out, "%s%s", *weight ? ", " : "", weight);
		return;
	}
	for (uint32_t i = 0; i < task->passes; i++)
		tc_buffer_print(
		    out, "%s%s", i ? ", " : ": ", word(plan, TC_TEXT("pass"), pass_of(task->step, task->pass + i)));
}

static void add_flash(const tc_task *task, tc_buffer *out)
{
	const tc_written_step *step = task->step;
	const tc_value usual = step->with ? tc_product_value(step->with, TC_P_FLASH) : tc_unknown(TC_T_NUMBER);
	if (task->passes < 2)
		return;
	if (step->flashes == 0 && !tc_known(usual))
		return;
	tc_buffer_puts(out, ", ");
	if (step->flashes == 0)
		tc_duration_print(out, usual.number);
	for (uint32_t i = 0; i < step->flashes && (i == 0 || i < task->passes - 1); i++) {
		tc_buffer_puts(out, i ? ", " : "");
		tc_duration_print(out, step->flash[step->flashes == 1 ? 0 : task->pass + i]);
	}
	tc_buffer_puts(out, " apart");
}

/* A share as a ratio, `2:1`, where one side is 1 and the other a small whole number; else in per cent. */
static void add_ratio(double share, tc_buffer *out)
{
	const double more = share < 1 ? 1 / share : share, whole = floor(more + 0.5);
	if (whole > 9 || tc_compare(more, whole) != 0) {
		tc_quantity_print(out, TC_T_SHARE, TC_DIM_NONE, share, 3, NULL);
		tc_buffer_puts(out, " of the paint");
	} else if (share < 1) {
		tc_buffer_print(out, "%.0f:1", whole);
	} else {
		tc_buffer_print(out, "1:%.0f", whole);
	}
}

static void add_thinning(const tc_thin *thin, tc_buffer *out)
{
	if (!thin->said)
		return;
	tc_buffer_puts(out, ", thinned ");
	if (thin->share > 0)
		add_ratio(thin->share, out);
	if (thin->with)
		tc_buffer_print(out, "%swith %s", thin->share > 0 ? " " : "", thin->with->label);
}

static void add_coat(const tc_plan *plan, const tc_task *task, tc_buffer *out)
{
	const tc_written_step *step = task->step;
	tc_buffer_puts(out, ": ");
	add_passes(plan, task, out);
	add_quantity(" of ", step->wet_film, TC_T_NUMBER, TC_DIM_LENGTH, " wet", out);
	add_flash(task, out);
	add_thinning(&step->thin, out);
	const char *method = word(plan, TC_TEXT("method"), step->method);
	if (*method)
		tc_buffer_print(out, ", by %s", method);
	add_quantity(", nozzle ", step->nozzle, TC_T_NUMBER, TC_DIM_LENGTH, "", out);
}

/* --- a task ------------------------------------------------------------------------------------------------------- */

void tc_card_task(const tc_plan *plan, const tc_task *task, tc_buffer *out)
{
	const tc_written_step *step = task->step;
	add_phrase(plan, task, out);
	if (step->verb == TC_VERB_COAT)
		add_coat(plan, task, out);
	else
		add_thinning(&step->thin, out);
	if (step->verb == TC_VERB_SCRIBE) {
		add_quantity(", ", step->width, TC_T_NUMBER, TC_DIM_LENGTH, " wide", out);
		add_quantity(", ", step->depth, TC_T_NUMBER, TC_DIM_LENGTH, " deep", out);
	} else {
		add_quantity(", ", step->depth, TC_T_NUMBER, TC_DIM_LENGTH, " deep", out);
	}
	if (step->softener)
		tc_buffer_print(out, ", softened with %s", step->softener->label);
	if (step->wet)
		tc_buffer_puts(out, ", wet");
	add_quantity(step->verb == TC_VERB_MIX ? ", and let it stand " : ", for ", step->time, TC_T_NUMBER, TC_DIM_TIME,
	    "", out);
	add_quantity(", at ", step->at, TC_T_TEMPERATURE, TC_DIM_NONE, "", out);
}

void tc_card_task_short(const tc_plan *plan, const tc_task *task, tc_buffer *out)
{
	const tc_written_step *step = task->step;
	if (step->verb != TC_VERB_DO)
		tc_buffer_puts(out, word(plan, TC_TEXT("verb"), step->verb));
	const char *what = step->with ? step->with->label : step->text;
	if (what)
		tc_buffer_print(out, "%s%s", step->verb == TC_VERB_DO ? "" : " ", what);
	if (step->verb == TC_VERB_COAT && task->passes < coats_of(step))
		tc_buffer_print(out, " (%u of %u)", (unsigned)(task->pass + 1), (unsigned)coats_of(step));
}

void tc_card_takes(const tc_task *task, tc_buffer *out)
{
	const bool told = tc_known(task->step->time) && tc_compare(task->step->time.number, task->lasts) == 0;
	if (!(task->lasts > 0) || !isfinite(task->lasts) || (told && task->attended))
		return;
	if (told) {
		tc_buffer_puts(out, "by itself");
		return;
	}
	if (task->lasts_assumed)
		tc_buffer_puts(out, "about ");
	tc_duration_print(out, task->lasts);
	if (!task->attended)
		tc_buffer_puts(out, ", by itself");
}

/* --- what holds it, what closes ----------------------------------------------------------------------------------- */

static const tc_bound *bound_of(const tc_plan *plan, uint32_t index)
{
	return index < plan->table->bounds ? &plan->table->bound[index] : NULL;
}

void tc_card_held(const tc_plan *plan, const tc_task *task, tc_buffer *out)
{
	const tc_bound *bound = bound_of(plan, task->held_by);
	if (bound && bound->text)
		tc_buffer_puts(out, bound->text);
}

void tc_card_latest(const tc_plan *plan, const tc_task *task, tc_buffer *out)
{
	const tc_bound *bound = bound_of(plan, task->closed_by);
	const bool directly = isfinite(task->latest) && fabs(task->latest - task->closes) < 60;
	if (isfinite(task->latest)) {
		tc_buffer_puts(out, "begin by ");
		tc_card_moment(plan, task->latest, task->start, out);
	}
	if (!bound || !bound->text)
		return;
	if (directly) {
		tc_buffer_print(out, ": %s", bound->text);
		return;
	}
	if (isfinite(task->latest))
		tc_buffer_puts(out, "; ");
	if (isfinite(task->closes)) {
		tc_buffer_puts(out, "closes ");
		tc_card_moment(plan, task->closes, task->start, out);
		tc_buffer_puts(out, ": ");
	}
	tc_buffer_puts(out, bound->text);
}

double tc_card_alarm(const tc_plan *plan, const tc_task *task)
{
	const double share = tc_library_default(model_of(plan)->library, TC_D_ALARM_SHARE)->value.number;
	if (!isfinite(task->latest) || !isfinite(task->start))
		return NAN;
	const double room = task->latest > task->start ? task->latest - task->start : 0;
	return task->start + room * (1 - share);
}

/* --- cautions ----------------------------------------------------------------------------------------------------- */

bool tc_card_caution_at(const tc_caution_use *use, uint32_t step)
{
	for (uint32_t i = 0; i < use->steps; i++)
		if (use->step[i] == step)
			return true;
	return false;
}

void tc_card_caution_marks(const tc_plan *plan, const tc_task *task, tc_buffer *out)
{
	const tc_judgement *judgement = tc_card_judgement(plan);
	const uint32_t step = task->step->number;
	const char *between = "!";
	for (uint32_t i = 0; i < judgement->cautions; i++) {
		uint32_t last = i;
		if (!tc_card_caution_at(&judgement->caution[i], step))
			continue;
		while (last + 1 < judgement->cautions && tc_card_caution_at(&judgement->caution[last + 1], step))
			last++;
		tc_buffer_print(out, "%s%u", between, (unsigned)i + 1);
		if (last > i)
			tc_buffer_print(out, "%s%u", last > i + 1 ? "–" : ", ", (unsigned)last + 1);
		between = ", ";
		i = last;
	}
}

void tc_card_caution_why(const tc_caution_use *use, tc_buffer *out)
{
	const char *between = "";
	if (use->steps) {
		tc_buffer_puts(out, use->steps == 1 ? "step " : "steps ");
		tc_words_numbers(use->step, use->steps, out);
		between = "; ";
	}
	if (use->because) {
		tc_buffer_print(out, "%s%s", between, use->because);
		between = "; ";
	}
	for (const char *const *code = use->codes; code && *code; code++) {
		tc_buffer_print(out, "%s%s", between, *code);
		between = ", ";
	}
}
