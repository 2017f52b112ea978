/* The parts of a SARIF 2.1.0 log (OASIS standard), each as a new value. */
#ifndef TC_REPORT_SARIF_H
#define TC_REPORT_SARIF_H

#include "report/compared.h"
#include "report/json.h"

/* {text}: braces doubled, as the standard asks, since {0} is a placeholder. */
json_t *tc_sarif_message(tc_json *json, const char *text);
/* {uri, uriBaseId}: relative to the folder of the run, or absolute. */
json_t *tc_sarif_artifact(tc_json *json, const char *path);
/* A location in a file; line 0: the file as a whole. `text` of it, or NULL. */
json_t *tc_sarif_location(tc_json *json, const char *path, tc_place place, const char *text);

/* {driver}: the program, the rulebook's rules with their words and sources, its cautions as notifications, its defects as taxa. */
json_t *tc_sarif_tool(tc_json *json, const tc_rulebook *rulebook);

/* Results. `index`: among the findings or unused acceptances of the judgement. `compared`: what a ledger says of them, or NULL.
 * The rule of acceptances that accept nothing stands behind those of the rulebook. */
json_t *tc_sarif_result(tc_json *json, tc_arena *arena, const char *path, const tc_judgement *judgement,
    const tc_compared *compared, uint32_t index);
json_t *tc_sarif_unused(tc_json *json, const char *path, const tc_judgement *judgement, const tc_compared *compared,
    uint32_t index);
json_t *tc_sarif_absent(tc_json *json, const tc_rulebook *rulebook, const tc_vanished *absent);

/* Notifications: a message about a file; a caution; that a recipe could not be judged. */
json_t *tc_sarif_diag(tc_json *json, const char *path, const tc_diag *diag);
json_t *tc_sarif_caution(tc_json *json, const char *path, const tc_judgement *judgement, const tc_caution_use *use);
json_t *tc_sarif_bare_caution(tc_json *json, const tc_library *library, uint32_t caution); /* without places */
json_t *tc_sarif_bounded(tc_json *json, const char *path, const tc_recipe *recipe);

#endif
