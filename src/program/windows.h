/* Windows: where a hole may lie so that the sides of its flashing keep off the joints and cutouts
 * of the course that covers it.  Private to this folder.
 *
 * On one course the hole keeps off the lines that lie half its flashing's width to either side of
 * each joint, so x is held between two neighbouring lines: near + level <= x <= far - level.  Where
 * x can be anyhow (the plies of a foot, say) few windows are met.  Courses whose joints lie alike
 * are one group.
 */
#ifndef RUDDLE_WINDOWS_H
#define RUDDLE_WINDOWS_H

#include "parts.h"

struct window {
    size_t place, group;
    double near, far;
    size_t share; /* column; MODEL_NONE: the courses of the group stand for it */
};

/* Begins with parts and hole, which are borrowed. */
struct windows {
    struct parts *parts;
    const struct off_joints *hole;
    struct interval x; /* over all places of the hole */
    double *lines;     /* drawn last, rising; only those that x can come near */
    size_t line_count;
    size_t *groups; /* for each candidate course, the first one that is like it */
    struct window *list;
    size_t count, room;
    bool binding; /* some end of a window may hold something back */
};

/* Puts every candidate course into its group and makes room.  False: no memory. */
bool windows_begin(struct windows *windows);
void windows_end(struct windows *windows);

/* Draws the lines of the joints in the course above that one. */
void windows_draw(struct windows *windows, size_t course);

/* Adds the windows between those lines that one place reaches at any level asked for; how many. */
size_t windows_find(struct windows *windows, size_t place, size_t group);

/* Adds a window that holds nothing back; the lines are gone then. */
void windows_open(struct windows *windows, size_t place, size_t group);

/* How many windows one place has on one group. */
size_t windows_count(const struct windows *windows, size_t place, size_t group);

#endif
