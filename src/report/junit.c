/* JUnit XML in its common form: a recipe is a test suite. Its first case, `plan`, fails where anything of the weight that was asked
 * for was found; then each finding is a case of its own: it failed, or it was skipped as it cannot be decided, or it passed and
 * says what was found. A file that cannot be read is a suite with an error. Times are left out: nothing was run. */
#include <stdio.h>

#include "report/private.h"
#include "report/xml.h"
#include "rule/step_key.h"

typedef struct suite {
	tc_report *report;
	tc_buffer *out;
	const char *file;
	const tc_judgement *judgement;
	tc_buffer text; /* scratch */
	uint32_t tests, failures, skipped;
} suite;

static const char *take(suite *s)
{
	const char *text = tc_words_text(&s->text);
	s->text.length = 0;
	return text;
}

/* --- a case ------------------------------------------------------------------------------------------------------ */

static void open_case(suite *s, const char *name, tc_place place)
{
	tc_buffer_puts(s->out, "    <testcase");
	tc_xml_attribute(s->out, "name", name);
	tc_xml_attribute(s->out, "classname", s->judgement ? s->judgement->model->recipe->title : s->file);
	tc_xml_attribute(s->out, "file", place.file ? place.file : s->file);
	if (place.line)
		tc_xml_count(s->out, "line", place.line);
	tc_buffer_puts(s->out, ">\n");
}

static void close_case(suite *s)
{
	tc_buffer_puts(s->out, "    </testcase>\n");
}

/* `<tag message= type=>body</tag>`; no body: "". */
static void outcome(suite *s, const char *tag, const char *message, const char *type, const char *body)
{
	tc_buffer_print(s->out, "      <%s", tag);
	tc_xml_attribute(s->out, "message", message);
	if (type)
		tc_xml_attribute(s->out, "type", type);
	if (*body) {
		tc_buffer_char(s->out, '>');
		tc_xml_text(s->out, body);
		tc_buffer_print(s->out, "</%s>\n", tag);
	} else
		tc_buffer_puts(s->out, "/>\n");
}

static void say(suite *s, const char *text, const char *indent)
{
	tc_buffer_print(s->out, "%s<system-out>", indent);
	tc_xml_text(s->out, text);
	tc_buffer_puts(s->out, "</system-out>\n");
}

/* --- a finding --------------------------------------------------------------------------------------------------- */

typedef enum fate { PASSED, FAILED, SKIPPED } fate;

static fate fate_of(const suite *s, const tc_finding *f)
{
	if (f->accept)
		return PASSED;
	if (f->weight >= s->report->options.at_least)
		return FAILED;
	return f->verdict == TC_V_UNDECIDED ? SKIPPED : PASSED;
}

/* Place, reasons, what lacks, what helps, sources: each on a line. */
static void put_body(suite *s, const tc_finding *f)
{
	tc_buffer *out = &s->text;
	const tc_library *library = tc_rulebook_library(s->judgement->rulebook);
	tc_buffer_print(out, "%s:%u:%u: %s%s: %s\n", f->place.file, (unsigned)f->place.line, (unsigned)f->place.column,
	    f->accept ? "accepted " : "", tc_verdict_name(f->verdict), f->message);
	if (f->accept)
		tc_buffer_print(out, "accepted because %s\n", f->accept->because);
	for (uint32_t i = 0; i < f->reasons; i++)
		tc_buffer_print(out, "reason: %s: %s is %s\n", f->reason[i].test, f->reason[i].fact, f->reason[i].text);
	for (uint32_t i = 0; i < f->needs; i++)
		tc_buffer_print(out, "lacks: %s%s%s\n", f->need[i].datum, f->need[i].where ? ": " : "",
		    f->need[i].where ? f->need[i].where : "");
	for (uint32_t i = 0; i < f->advices; i++)
		tc_buffer_print(out, "remedy: %s\n", f->advice[i].text);
	for (const tc_basis *const *basis = f->rule->bases; basis && *basis; basis++) {
		tc_buffer_puts(out, "source: ");
		tc_words_basis(library, *basis, out);
		tc_buffer_char(out, '\n');
	}
}

/* Findings before this one whose case has the same name, but for its number. */
static unsigned alike_before(const tc_judgement *judgement, const tc_finding *finding)
{
	const tc_written_step *steps = judgement->model->recipe->step;
	unsigned count = 0;
	for (const tc_finding *f = judgement->finding; f < finding; f++) {
		if (f->rule != finding->rule || f->part != finding->part || !f->step != !finding->step)
			continue;
		count += !f->step || (steps[f->step - 1].verb == steps[finding->step - 1].verb &&
		                         steps[f->step - 1].with == steps[finding->step - 1].with);
	}
	return count;
}

/* `decal-on-matt: funnel, decal water-slide decal`; a name that came before gets a number. Numbers of steps are left out, so that a
 * case keeps its name when a step is put in before it. */
static void put_name(suite *s, const tc_finding *f)
{
	const tc_judgement *j = s->judgement;
	const tc_written_step *step = f->step ? &j->model->recipe->step[f->step - 1] : NULL;
	tc_buffer_puts(&s->text, f->rule->id);
	if (f->part != TC_NONE)
		tc_buffer_print(&s->text, ": %s", j->model->part[f->part].written->name);
	if (step)
		tc_buffer_print(&s->text, "%s %s", f->part == TC_NONE ? ":" : ",", tc_step_verb(step->verb)->name);
	if (step && step->with)
		tc_buffer_print(&s->text, " %s", step->with->label);
	const unsigned before = alike_before(j, f);
	if (before)
		tc_buffer_print(&s->text, " (%u)", before + 1);
}

static void add_finding(suite *s, const tc_finding *f)
{
	const fate is = fate_of(s, f);
	put_name(s, f);
	open_case(s, take(s), f->place);
	put_body(s, f);
	if (is == FAILED)
		outcome(s, "failure", f->message, tc_verdict_name(f->verdict), take(s));
	else if (is == SKIPPED)
		outcome(s, "skipped", f->message, NULL, take(s));
	else
		say(s, take(s), "      ");
	close_case(s);
}

static bool unused_fails(const suite *s)
{
	return s->report->options.at_least <= TC_V_WARNING;
}

static void add_unused(suite *s, const tc_accept *accept)
{
	tc_buffer_print(&s->text, "unused-acceptance: %s", accept->name);
	open_case(s, take(s), accept->place);
	tc_buffer_print(&s->text, "the acceptance of %s accepts nothing", accept->name);
	if (unused_fails(s))
		outcome(s, "failure", tc_words_text(&s->text), "warning", tc_words_text(&s->text));
	else
		say(s, tc_words_text(&s->text), "      ");
	s->text.length = 0;
	close_case(s);
}

/* --- a recipe ---------------------------------------------------------------------------------------------------- */

static void count(suite *s)
{
	const tc_judgement *j = s->judgement;
	for (uint32_t i = 0; i < j->findings; i++) {
		const fate is = fate_of(s, &j->finding[i]);
		s->failures += is == FAILED;
		s->skipped += is == SKIPPED;
	}
	s->failures += unused_fails(s) ? j->unused : 0;
	s->failures += s->failures > 0; /* the plan itself */
	s->tests = 1 + j->findings + j->unused;
}

static void open_suite(suite *s, const char *name, uint32_t errors)
{
	tc_buffer_puts(s->out, "  <testsuite");
	tc_xml_attribute(s->out, "name", name);
	tc_xml_count(s->out, "tests", s->tests);
	tc_xml_count(s->out, "failures", s->failures);
	tc_xml_count(s->out, "errors", errors);
	tc_xml_count(s->out, "skipped", s->skipped);
	tc_buffer_puts(s->out, ">\n    <properties>\n      <property name=\"file\"");
	tc_xml_attribute(s->out, "value", s->file);
	tc_buffer_puts(s->out, "/>\n    </properties>\n");
}

static void add_plan(suite *s)
{
	const tc_judgement *j = s->judgement;
	const tc_recipe *recipe = j->model->recipe;
	open_case(s, "plan", recipe->place);
	tc_words_summary(&j->summary, s->report->options.at_least, 0, true, &s->text);
	if (j->bounded)
		outcome(s, "error", "the recipe's bound on evaluation was hit: nothing can be said of it", "bound", "");
	else if (s->failures)
		outcome(s, "failure", tc_words_text(&s->text), "plan", "");
	else
		say(s, tc_words_text(&s->text), "      ");
	s->text.length = 0;
	close_case(s);
}

/* The cautions, whatever was found. */
static void add_cautions(suite *s)
{
	const tc_judgement *j = s->judgement;
	for (uint32_t i = 0; i < j->cautions; i++) {
		const tc_caution_use *use = &j->caution[i];
		tc_buffer_print(&s->text, "%scaution: %s", i ? "\n" : "", use->caution->says);
		if (use->because)
			tc_buffer_print(&s->text, " (%s)", use->because);
	}
	if (j->cautions)
		say(s, take(s), "    ");
}

static void end_suite(suite *s)
{
	tc_buffer_puts(s->out, "  </testsuite>\n");
	s->report->failed = s->report->failed || s->text.failed;
	tc_buffer_free(&s->text);
}

void tc_junit_recipe(tc_report *report, const char *file, const tc_judgement *judgement)
{
	suite s = {.report = report, .out = report->out, .file = file, .judgement = judgement};
	tc_buffer_start(&s.text, report->from);
	count(&s);
	open_suite(&s, judgement->model->recipe->title, judgement->bounded);
	add_plan(&s);
	for (uint32_t i = 0; i < judgement->findings; i++)
		add_finding(&s, &judgement->finding[i]);
	for (uint32_t i = 0; i < judgement->unused; i++)
		add_unused(&s, judgement->unused_accept[i]);
	add_cautions(&s);
	end_suite(&s);
}

/* --- files that cannot be read ----------------------------------------------------------------------------------- */

static void put_diag(suite *s, const tc_diag *diag)
{
	static const char *const names[] = {[TC_NOTE] = "note", [TC_WARNING] = "warning", [TC_ERROR] = "error"};
	tc_buffer_puts(&s->text, diag->place.file ? diag->place.file : s->file);
	if (diag->place.line)
		tc_buffer_print(&s->text, ":%u:%u", (unsigned)diag->place.line, (unsigned)diag->place.column);
	tc_buffer_print(&s->text, ": %s: %s [%s]\n", names[diag->severity], diag->message, diag->id);
}

/* The messages of one file from `from` on: one case, which is in error if any of them is. Returns the next file's first. */
static size_t add_file(suite *s, const tc_diags *diags, size_t from)
{
	const tc_diag *first = NULL;
	const char *name = tc_diags_at(diags, from)->place.file;
	size_t i = from;
	for (; i < tc_diags_count(diags) && (s->file || tc_diags_at(diags, i)->place.file == name); i++) {
		put_diag(s, tc_diags_at(diags, i));
		if (!first && tc_diags_at(diags, i)->severity == TC_ERROR)
			first = tc_diags_at(diags, i);
	}
	const char *const given = s->file;
	s->file = given ? given : name ? name : "";
	s->tests = 1;
	open_suite(s, s->file, first != NULL);
	open_case(s, "readable", first ? first->place : tc_diags_at(diags, from)->place);
	if (first)
		outcome(s, "error", first->message, first->id, tc_words_text(&s->text));
	else
		say(s, tc_words_text(&s->text), "      ");
	s->text.length = 0;
	close_case(s);
	tc_buffer_puts(s->out, "  </testsuite>\n");
	s->file = given;
	return i;
}

void tc_junit_unreadable(tc_report *report, const char *file, const tc_diags *diags)
{
	suite s = {.report = report, .out = report->out, .file = file};
	tc_buffer_start(&s.text, report->from);
	for (size_t i = 0; i < tc_diags_count(diags);)
		i = add_file(&s, diags, i);
	report->failed = report->failed || s.text.failed;
	tc_buffer_free(&s.text);
}

void tc_junit_begin(tc_report *report)
{
	tc_buffer_puts(report->out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites name=\"tiecoat\">\n");
}

/* A run that was cut short says so by a suite of its own. */
void tc_junit_end(tc_report *report, bool complete)
{
	suite s = {.report = report, .out = report->out, .file = "", .tests = 1};
	if (!complete) {
		open_suite(&s, "run", 1);
		open_case(&s, "complete", (tc_place){0});
		outcome(&s, "error", "interrupted: what stands here is right, but not all", "interrupted", "");
		close_case(&s);
		tc_buffer_puts(s.out, "  </testsuite>\n");
	}
	tc_buffer_puts(report->out, "</testsuites>\n");
}
