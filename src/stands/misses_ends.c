/* Where the lines of a nearest miss may lie, and its outer feet stand, for nothing more lacked. */
#include "gathering.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>

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

/* Where, strictly between two Y, a hinge of a line or a limit passes one of its window: in between
 * what there is for nothing more goes with Y or stays where it is. */
enum { PASSES_MOST = 64 };
struct passes {
    double at[PASSES_MOST];
    size_t count;
    bool full; /* there are more */
};

static size_t list_places(const struct lack *lack, struct interval in,
                          double places[LACK_HINGES_MOST + 2]) {
    size_t count = 0;
    for (size_t i = 0; i < lack->count; i++)
        places[count++] = lack->hinges[i].at;
    places[count++] = in.lo;
    places[count++] = in.hi;
    return count;
}

static int by_y(const void *a, const void *b) {
    const double *x = a, *y = b;
    return (*x > *y) - (*x < *y);
}

static void list_passes(const struct met_line *line, double low, double high,
                        struct passes *passes) {
    double lines[LACK_HINGES_MOST + 2], mets[LACK_HINGES_MOST + 2];
    const size_t count = list_places(&line->line, line->line_in, lines);
    const size_t others = list_places(&line->met, line->met_in, mets);
    passes->count = 0;
    passes->full = false;
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < others; k++) {
            const double y = lines[i] - mets[k];
            if (!(y > low) || !(y < high))
                continue;
            passes->full = passes->full || passes->count == PASSES_MOST;
            if (!passes->full)
                passes->at[passes->count++] = y;
        }
    qsort(passes->at, passes->count, sizeof *passes->at, by_y);
}

/* As low and as high as a line gets for nothing more.  As Y rises neither falls, and neither rises
 * by more than Y does. */
static void free_line(const struct met_line *line, double low, double high,
                      struct drawn free[SIDE_COUNT], double worth[SIDE_COUNT]) {
    const struct line_best at_low = best_at(line, low), at_high = best_at(line, high);
    struct passes passes;
    free[SIDE_FAR] = (struct drawn){at_low.at.lo, at_high.at.lo - high};
    free[SIDE_NEAR] = (struct drawn){at_high.at.hi, at_low.at.hi - low};
    worth[SIDE_NEAR] = worth[SIDE_FAR] = INFINITY;
    see_worth(&at_low, worth);
    see_worth(&at_high, worth);
    list_passes(line, low, high, &passes);
    if (passes.full) /* nothing is known of what is in between */
        worth[SIDE_NEAR] = worth[SIDE_FAR] = 0;
    for (size_t i = 0; i < passes.count; i++) {
        const struct line_best best = best_at(line, passes.at[i]);
        see_worth(&best, worth);
    }
}

/* Whether, from one Y to the next, the lowest that there is rises, and the highest. */
struct rises {
    bool low, high;
};

static struct rises rises_of(const struct line_best *from, const struct line_best *to) {
    return (struct rises){to->at.lo > from->at.lo + LENGTH_TOLERANCE,
                          to->at.hi > from->at.hi + LENGTH_TOLERANCE};
}

/* The Y at which an end of what there is for nothing more turns the way that the outer one of a
 * fixed place and one that goes with Y does not: the lowest stops, the highest starts to rise. */
static void add_bends(const struct met_line *line, double low, double high, struct bends *bends) {
    struct passes passes;
    list_passes(line, low, high, &passes);
    struct line_best before = best_at(line, low);
    struct rises was = {false, true};
    for (size_t i = 0; i <= passes.count; i++) {
        const double y = i < passes.count ? passes.at[i] : high;
        const struct line_best now = best_at(line, y);
        const struct rises is = rises_of(&before, &now);
        const double from = i > 0 ? passes.at[i - 1] : low;
        if (y - from <= LENGTH_TOLERANCE)
            continue;
        if (i > 0 && ((was.low && !is.low) || (!was.high && is.high)) && bends->count < BENDS_MOST)
            bends->at[bends->count++] = from;
        was = is;
        before = now;
    }
}

void misses_bends(const struct stands *stands, const struct spot *spot, double level,
                  struct bends *bends) {
    bends->count = 0;
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        if (spot->miss->course[row] == 0)
            continue;
        const struct met_line line = line_of(stands, spot, (enum row)row, level);
        add_bends(&line, spot->y.lo, spot->y.hi, bends);
    }
    qsort(bends->at, bends->count, sizeof *bends->at, by_y);
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
