/* What the reports of a trial share. */
#ifndef TC_REPORT_BITE_PARTS_H
#define TC_REPORT_BITE_PARTS_H

#include "report/bite.h"

/* The caution that stands beside every verdict. */
const char *tc_bite_try_first(void);
/* What no verdict looks at. */
const char *tc_bite_not_reckoned(void);

/* `lacquer thinner on polystyrene`, with what it is thinned with. */
void tc_bite_title(const tc_try *result, tc_buffer *out);

/* RED with three digits, and as many more as keep it from reading as 1. */
void tc_bite_red_words(double red, tc_buffer *out);
/* A length or a time with its unit. */
void tc_bite_length(double metres, tc_buffer *out);
void tc_bite_time(double seconds, tc_buffer *out);

/* The part of the drying that a chart shows: until next to nothing of the liquid is left. */
typedef struct tc_bite_chart {
	bool drawn; /* false: nothing is known of it, or RED does not change */
	uint32_t moments;
	double end;  /* s */
	double most; /* the axis of RED goes from 0 to here */
	double step; /* of its marks */
} tc_bite_chart;
tc_bite_chart tc_bite_chart_of(const tc_try *result);

/* Solvents whose figures come from one place. */
typedef struct tc_bite_from {
	const tc_basis *basis; /* NULL: none is given */
	uint32_t solvents;     /* set of indexes into result->solvent */
} tc_bite_from;
uint32_t tc_bite_sources(const tc_try *result, tc_bite_from from[TC_BLEND_MAX]);

/* The sphere's basis, and its note; NULL: there is none. */
const tc_basis *tc_bite_sphere(const tc_try *result, const char **note);
/* The composition's basis; NULL: it was said with the question, or on the shelf. */
const tc_basis *tc_bite_composition(const tc_try *result);

#endif
