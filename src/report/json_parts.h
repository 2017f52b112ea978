/* The parts of the JSON document, each as a new value. */
#ifndef TC_REPORT_JSON_PARTS_H
#define TC_REPORT_JSON_PARTS_H

#include "judge/judge.h"
#include "report/json.h"

json_t *tc_json_finding(tc_json *json, const tc_judgement *judgement, const tc_finding *finding);
json_t *tc_json_reason(tc_json *json, const tc_library *library, const tc_reason *reason);
json_t *tc_json_caution(tc_json *json, const tc_caution_use *use);
json_t *tc_json_assumption(tc_json *json, const tc_judgement *judgement, const tc_assumption *assumption);
json_t *tc_json_acceptance(tc_json *json, const struct tc_accept *accept);
json_t *tc_json_summary(tc_json *json, const tc_summary *summary);
/* A basis: {id, text, at, read}; null for NULL. */
json_t *tc_json_basis(tc_json *json, const tc_library *library, const tc_basis *basis);
void tc_json_put_place(tc_json *json, json_t *object, tc_place place);

/* Larger ones: all of a recipe; a message about a file; the rulebook's version and changes. */
json_t *tc_json_judgement(tc_json *json, const char *file, const tc_judgement *judgement);
json_t *tc_json_diag(tc_json *json, const char *file, const tc_diag *diag);
json_t *tc_json_rulebook(tc_json *json, const tc_rulebook *rulebook);

#endif
