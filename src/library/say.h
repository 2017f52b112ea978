/* How this folder words its messages. */
#ifndef TC_LIBRARY_SAY_H
#define TC_LIBRARY_SAY_H

#include "base/text.h"

/* The end of a message about an unknown word: "; `NEAREST` is near", or `otherwise` where nothing is near. */
#define TC_NEAR_F "%s%.*s%s"
#define TC_NEAR(nearest, otherwise)                                                                                    \
	(nearest).found.length ? "; `" : "", (int)(nearest).found.length,                                              \
	    (nearest).found.length ? (nearest).found.at : "", (nearest).found.length ? "` is near" : (otherwise)

#endif
