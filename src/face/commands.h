/* The commands. Each returns the exit status. */
#ifndef TC_FACE_COMMANDS_H
#define TC_FACE_COMMANDS_H

#include "face/options.h"

int tc_run_check(const tc_options *options);
int tc_run_bite(const tc_options *options);
int tc_run_rules(const tc_options *options);
int tc_run_look(const tc_options *options);
int tc_run_blank(const tc_options *options);
int tc_run_settings(const tc_options *options);
int tc_run_versus(const tc_options *options);
int tc_run_card(const tc_options *options);
int tc_run_schema(const tc_options *options);

#endif
