/* What came of trying a liquid on a solid, as text, JSON and a chart. */
#ifndef TC_REPORT_BITE_H
#define TC_REPORT_BITE_H

#include "judge/try.h"
#include "report/page.h"

/* The verdict: one of `dissolves`, `swells`, `may craze under stress`, `no attack expected`, or `undecided`. */
const char *tc_bite_word(tc_try_word word);

/* For a person. */
void tc_bite_text(const tc_try *result, tc_page *page);

/* One JSON document (docs/json.md). TC_NO_MEMORY or TC_OK. */
tc_status tc_bite_json(const tc_try *result, tc_buffer *out);

/* RED against time as an SVG document of its own, which needs no colour and no script. */
void tc_bite_svg(const tc_try *result, tc_buffer *out);

#endif
