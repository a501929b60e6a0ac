/* Places on the roof as the sheet names them: chalk lines in order, lag holes, readings. */
#ifndef RUDDLE_SHEET_PLACES_H
#define RUDDLE_SHEET_PLACES_H

#include "check.h"
#include "marks.h"
#include "page.h"
#include "roof.h"
#include "sheet.h"
#include "words.h"

#include <stdbool.h>
#include <stddef.h>

/* One chalk line: a row of one frame. */
struct line {
    size_t bracket;
    enum row row;
    const struct row_seat *seat;
};

enum { PLACES_LINES_MOST = ROOF_BRACKETS_MOST * ROW_COUNT, PLACES_NAME = 2 * ROOF_NAME_MOST + 32 };

/* The lines in chalking order: from the lowest up; those at one height along the line from the rake
 * in use.  Returns how many; lines without a lag are left out. */
size_t places_lines(const struct answer *answer, struct line lines[PLACES_LINES_MOST]);

/* The marks of a line in order along it from the rake in use: the i-th one (from 0). */
size_t places_mark_along(const struct answer *answer, const struct line *line, size_t i);

/* All marks in chalking order, the pipe holes behind the lag holes, frame by frame.  `order` has
 * room for marks.count; nothing is written without marks. */
void places_order(const struct answer *answer, size_t *order);

/* A lag hole's name, `A-bottom-2`, counted from the zero corner; a pipe hole's, `A-pipe-hot`, and
 * `A-pipe-hot-2` where a pipe has more than one.  Returns buffer. */
const char *places_hole_name(const struct roof *roof, const struct marks *marks, size_t mark,
                             char buffer[PLACES_NAME]);

/* The same where it is short enough for a table, else without its frame: `bottom-2`.  Tables stand
 * under the heading of their frame. */
enum { PLACES_SHORT = 14 };
const char *places_short_name(const struct answer *answer, size_t mark, char buffer[PLACES_NAME]);

/* What the tape shows at (x, y), from the rake in use and from the other one, burn included. */
double places_reading(const struct answer *answer, double x, double y);
double places_other_reading(const struct answer *answer, double x, double y);

/* The rake in use and the other one, LEFT or RIGHT; what such a side of the face is called: an
 * outlined face has hips and valleys there, so edges. */
const char *places_rake(const struct answer *answer);
const char *places_other_rake(const struct answer *answer);
const char *places_edge(const struct roof *roof);

/* True if the line's zero is not straight above the zero at the eave, on that side. */
bool places_leans(const struct roof *roof, enum side side);

/* What the tape shows at height y: up the rake in use where the face has rakes. */
const char *places_height(const struct answer *answer, char buffer[LENGTH_TEXT], double y);

/* The same up the rake on a side. */
const char *places_height_up(const struct roof *roof, enum side side, char buffer[LENGTH_TEXT],
                             double y);

/* True if the tape shows another figure up the other rake. */
bool places_heights_differ(const struct roof *roof, double y);

/* The rafter of a lag, counted from the zero corner, and its ply where there are several:
 * `rafter 3, LEFT ply`.  Returns buffer. */
const char *places_rafter(const struct answer *answer, size_t mark, char buffer[PLACES_NAME]);

/* The least spare of the rules that name this lag hole, as a finding; NULL where there is none. */
const struct finding *places_least_at_mark(const struct answer *answer, size_t mark);

/* The least spare of all the rules that a frame takes part in; NULL where there is none. */
const struct finding *places_least_of_frame(const struct answer *answer, size_t bracket);

/* The word for the hardware on a line: strut, feet. */
enum hardware places_hardware(const struct answer *answer, const struct line *line);

/* A leg's number counted from the frame's left side, from 1. */
size_t places_leg_number(const struct roof *roof, const struct kit *kit, size_t leg);

#endif
