/* A name for a finding that outlives edits elsewhere in its file: 128 bits, as hexadecimal digits. It is made from the rule, the
 * recipe's title, the part, the defect, what the step does and with what, what lay below, and of steps that are alike the
 * how-manyth; not from lines, numbers of steps, figures or wordings. So a finding keeps its name when other steps are put in or
 * taken out around it, when another finding goes, and when the rulebook says it better.
 *
 * The file is no part of it: who keeps a list of several files keeps the names by file. Nor is the verdict: who wants to hear of a
 * finding again that has become worse keeps its weight beside its name. */
#ifndef TC_REPORT_FINGERPRINT_H
#define TC_REPORT_FINGERPRINT_H

#include "judge/judge.h"

#define TC_FINGERPRINT_VERSION 1u /* rises when the same finding would get another name */
#define TC_FINGERPRINT_SIZE 33u   /* 32 digits and a NUL */

/* Of a finding of this judgement (accepted ones have one too). */
void tc_fingerprint(const tc_judgement *judgement, const tc_finding *finding, char hex[TC_FINGERPRINT_SIZE]);
/* Of an acceptance that accepts nothing. */
void tc_fingerprint_unused(const tc_judgement *judgement, const tc_accept *accept, char hex[TC_FINGERPRINT_SIZE]);

#endif
