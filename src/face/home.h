/* The built-in rulebook's image used where it lies. */
#ifndef TC_FACE_HOME_H
#define TC_FACE_HOME_H

/* The image mapped once more at the given address (tc_rulebook_image_home), where it can be used without a copy.
 * NULL when the system has no room there or does not tell the program's own file; the mapping stays until the
 * program ends. That is for a program to do with its own memory: a library has no say in where things lie, and
 * copies the image. */
const void *tc_image_at_home(const void *home);

#endif
