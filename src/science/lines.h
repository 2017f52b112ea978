/*
 * Lines: what paint leaves of an engraved line.
 *
 * SI units.  The groove is a rectangle.  A film of thickness t on the flat lies t * wall on each wall and t *
 * bottom on the floor; both shares come from the rulebook (0 to 20; bottom above 1 where paint runs in and levels).
 *  Plain geometry.
 */
#ifndef TC_SCIENCE_LINES_H
#define TC_SCIENCE_LINES_H

#include <stdbool.h>

/* Width and depth of a groove, m, each from 0 to 0.1. */
struct tc_line {
	double width, depth;
};

/*
 * What is left: width - 2 t wall, depth + t - t bottom; both 0 once either is gone.  film 0 to 0.1 m.
 * False, the result untouched, for inputs out of range.
 */
bool tc_line_left(struct tc_line cut, double film, double wall, double bottom, struct tc_line *left);

/* Film that closes the line altogether, m.  False also when no film up to 0.1 m does. */
bool tc_line_closes(struct tc_line cut, double wall, double bottom, double *film);

/* The same line at full scale: each length times `scale` (1 to 10000; 350 for 1:350). */
bool tc_line_full(struct tc_line line, double scale, struct tc_line *full);

#endif
