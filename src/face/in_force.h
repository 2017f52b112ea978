/* What is in force for a path, as JSON (docs/json.md). */
#ifndef TC_FACE_IN_FORCE_H
#define TC_FACE_IN_FORCE_H

#include "face/ground.h"
#include "report/json.h"

typedef struct tc_in_force {
	const char *path;
	const tc_ground *ground;
	const tc_settings *settings; /* NULL: none */
} tc_in_force;

/* Adds the object of a path. */
void tc_in_force_push(tc_json *json, json_t *paths, const tc_in_force *at);
/* Writes the document, and lets `paths` go. */
void tc_in_force_write(tc_json *json, const tc_rulebook *rulebook, json_t *paths, tc_buffer *out);

#endif
