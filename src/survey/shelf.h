/* Kit files already read, kept from one roof to the next.  Private to this folder but for its
 * making and freeing, see survey.h.
 */
#ifndef RUDDLE_SURVEY_SHELF_H
#define RUDDLE_SURVEY_SHELF_H

#include "survey.h"

/* Makes room where the shelf is full: what was taken from it before is gone.  shelf may be NULL. */
void shelf_make_room(struct survey_shelf *shelf);

/* The kit file of that path, or NULL; borrowed until the next shelf_make_room. */
const struct survey_kit_file *shelf_find(const struct survey_shelf *shelf, const char *path);

/* Puts a kit file on the shelf, which owns it from then on, and marks it as shelved.  False, and
 * nothing done, without memory. */
bool shelf_put(struct survey_shelf *shelf, struct survey_kit_file *file);

#endif
