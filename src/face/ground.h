/* What a run stands on: its rulebook and the settings of a collection. The settings above its first path name the rulebook,
 * unless --rules does; with the rulebook at hand they are read in full. */
#ifndef TC_FACE_GROUND_H
#define TC_FACE_GROUND_H

#include "face/book.h"
#include "face/settings.h"

typedef struct tc_ground {
	tc_options options; /* as given, with the folders of rulebooks and the threshold that settings name */
	bool rules_said;    /* on the command line */
	tc_book book;
	tc_settings_desk *settings; /* NULL: --no-settings */
	tc_settings_desk *first;    /* holds the names of those folders */
} tc_ground;

/* False: there is none, and that was said; it need not be closed then. */
bool tc_ground_open(tc_ground *ground, const tc_options *options, const char *path);
void tc_ground_close(tc_ground *ground);

#endif
