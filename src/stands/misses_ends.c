/* Where the lines of a nearest miss may lie, and its outer feet stand, for nothing more lacked. */
#include "gathering.h"

#include "length.h"

#include <math.h>

/* What a row's line lacks by itself, and by where it meets its bracket. */
static struct met_line line_of(const struct stands *stands, const struct spot *spot, enum row row,
                               double level) {
    const struct gathering gathering = {.stands = stands,
                                        .roof = stands->roof,
                                        .kit = roof_kit(stands->roof, stands->bracket),
                                        .level = level};
    const struct likeness like = gathering_likeness(stands, &stands->list[spot->stand]);
    struct met_line line = gathering_line(&gathering, &like, row, spot->miss->course[row]);
    if (spot->miss->lines[row])
        lack_add(&line.line, spot->miss->lines[row]);
    return line;
}

static struct line_best best_at(const struct met_line *line, double y) {
    return lack_line(&line->line, line->line_in, &line->met, line->met_in, y);
}

struct line_best misses_lines(const struct stands *stands, const struct spot *spot, enum row row,
                              double level, double y) {
    const struct met_line line = line_of(stands, spot, row, level);
    return best_at(&line, y);
}

static void see_worth(const struct line_best *best, double worth[SIDE_COUNT]) {
    worth[SIDE_FAR] = length_lesser(worth[SIDE_FAR], best->below);
    worth[SIDE_NEAR] = length_lesser(worth[SIDE_NEAR], best->above);
}

/* As low and as high as a line gets for nothing more.  As Y rises neither falls, and neither rises
 * by more than Y does.  What an inch beyond lacks changes only where a hinge of the line passes one
 * of its window. */
static void free_line(const struct met_line *line, double low, double high,
                      struct drawn free[SIDE_COUNT], double worth[SIDE_COUNT]) {
    const struct line_best at_low = best_at(line, low), at_high = best_at(line, high);
    free[SIDE_FAR] = (struct drawn){at_low.at.lo, at_high.at.lo - high};
    free[SIDE_NEAR] = (struct drawn){at_high.at.hi, at_low.at.hi - low};
    worth[SIDE_NEAR] = worth[SIDE_FAR] = INFINITY;
    see_worth(&at_low, worth);
    see_worth(&at_high, worth);
    for (size_t i = 0; i < line->line.count; i++)
        for (size_t k = 0; k < line->met.count; k++) {
            const double y = line->line.hinges[i].at - line->met.hinges[k].at;
            if (y <= low || y >= high)
                continue;
            const struct line_best best = best_at(line, y);
            see_worth(&best, worth);
        }
}

void stands_draw_in(const struct stands *stands, const struct spot *spot, double level,
                    struct miss *miss) {
    struct spot own = *spot;
    own.miss = miss;
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const bool feet = stands->roof->brackets[stands->bracket].hardware[row] == HARDWARE_FEET;
        if (miss->course[row] == 0)
            return;
        const struct met_line line = line_of(stands, &own, (enum row)row, level);
        free_line(&line, spot->y.lo, spot->y.hi, miss->free[row], miss->worth[row]);
        if (feet)
            seats_draw_in(stands->roof, stands->bracket,
                          &stands->holds[row][stands->list[spot->stand].holds[row]], level, spot->x,
                          miss->drawn[row]);
    }
    miss->ends = true;
}
