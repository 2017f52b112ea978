/* RED against time, drawn with characters. */
#ifndef TC_REPORT_BITE_CHART_H
#define TC_REPORT_BITE_CHART_H

#include "report/bite_parts.h"

/* Nothing where there is nothing to draw. */
void tc_bite_chart_text(const tc_try *result, tc_page *page);

#endif
