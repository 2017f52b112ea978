/* What the library calls itself, and its words. */
#include "api/tiecoat.h"
#include "rule/rulebook.h"

const char *tiecoat_version(void)
{
	return TC_VERSION;
}

const char *tiecoat_status_text(tiecoat_status status)
{
	switch (status) {
	case TIECOAT_OK:
		return "done";
	case TIECOAT_BAD:
		return "what came in has errors";
	case TIECOAT_NO_MEMORY:
		return "out of memory";
	case TIECOAT_MISUSE:
		return "the library was called in a way that its header does not allow";
	}
	return "no such status";
}

_Static_assert(TIECOAT_NOTE == (int)TC_V_NOTE && TIECOAT_WARNING == (int)TC_V_WARNING &&
                   TIECOAT_ERROR == (int)TC_V_ERROR && TIECOAT_UNDECIDED == (int)TC_V_UNDECIDED,
    "verdicts have the same numbers inside and outside");

const char *tiecoat_verdict_name(tiecoat_verdict verdict)
{
	switch (verdict) {
	case TIECOAT_NOTE:
	case TIECOAT_WARNING:
	case TIECOAT_ERROR:
	case TIECOAT_UNDECIDED:
		return tc_verdict_name((tc_verdict)verdict);
	}
	return NULL;
}
