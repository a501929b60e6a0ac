/* Where the lines of a nearest miss may lie, and its outer feet stand, for nothing more lacked. */
#include "gathering.h"

#include "length.h"

#include <math.h>

struct line_best misses_lines(const struct stands *stands, const struct spot *spot, enum row row,
                              double level, double y) {
    const struct gathering gathering = {.stands = stands,
                                        .roof = stands->roof,
                                        .kit = roof_kit(stands->roof, stands->bracket),
                                        .level = level};
    const struct likeness like = gathering_likeness(stands, &stands->list[spot->stand]);
    struct met_line line = gathering_line(&gathering, &like, row, spot->miss->course[row]);
    if (spot->miss->lines[row])
        lack_add(&line.line, spot->miss->lines[row]);
    return lack_line(&line.line, line.line_in, &line.met, line.met_in, y);
}

/* As low and as high as a line gets for nothing more.  As Y rises neither falls, and neither rises
 * by more than Y does. */
static void free_line(const struct stands *stands, const struct spot *spot, enum row row,
                      double level, double worth, struct drawn free[SIDE_COUNT]) {
    const double low = spot->y.lo, high = spot->y.hi;
    const struct line_best at_low = misses_lines(stands, spot, row, level, low);
    const struct line_best at_high = misses_lines(stands, spot, row, level, high);
    const bool down = at_low.below >= worth && at_high.below >= worth;
    const bool up = at_low.above >= worth && at_high.above >= worth;
    free[SIDE_FAR] = down ? (struct drawn){at_low.at.lo, at_high.at.lo - high}
                          : (struct drawn){-INFINITY, -INFINITY};
    free[SIDE_NEAR] =
        up ? (struct drawn){at_high.at.hi, at_low.at.hi - low} : (struct drawn){INFINITY, INFINITY};
}

void stands_draw_in(const struct stands *stands, const struct spot *spot, double level,
                    struct miss *miss) {
    struct spot own = *spot;
    own.miss = miss;
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const bool feet = stands->roof->brackets[stands->bracket].hardware[row] == HARDWARE_FEET;
        if (miss->course[row] == 0)
            return;
        free_line(stands, &own, (enum row)row, level, feet ? MISS_FEET_WORTH : MISS_STRUT_WORTH,
                  miss->free[row]);
        if (feet)
            seats_draw_in(stands->roof, stands->bracket,
                          &stands->holds[row][stands->list[spot->stand].holds[row]], level, spot->x,
                          miss->drawn[row]);
    }
    miss->ends = true;
}
