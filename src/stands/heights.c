/* What the courses leave of Y: the highest level of every stand, and Y at a level. */
#include "candidates.h"
#include "listing.h"
#include "stands.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A row's line on one course: y in [lo + level, hi - level]. */
struct window {
    double lo, hi;
};

struct limits_on_height heights_limits(const struct stands *stands, const struct stand *stand) {
    struct limits_on_height limits = {.y = {stand->y[0], stand->y[1]}};
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        memcpy(limits.row[row], stands->holds[row][stand->holds[row]].y, sizeof limits.row[row]);
        memcpy(limits.v[row], stand->v[row], sizeof limits.v[row]);
    }
    return limits;
}

bool heights_same_limits(const struct limits_on_height *a, const struct limits_on_height *b) {
    bool all = true;
    for (int i = 0; i < 2; i++) {
        all = all && length_same(a->y[i], b->y[i]);
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            all = all && length_same(a->row[row][i], b->row[row][i]) &&
                  length_same(a->v[row][i], b->v[row][i]);
    }
    return all;
}

/* Where up its legs a bracket is met by the row: lo + level to hi - level, and at any level not
 * below least or above most. */
struct meeting {
    double lo, hi, least, most;
};

/* The bottom row leaves the bottom bracket its room. */
static struct meeting meeting(const struct roof *roof, size_t bracket, enum row row,
                              const double limits[2]) {
    const struct kit *kit = roof_kit(roof, bracket);
    struct meeting v = {kit->window[row][0], kit->window[row][1], limits[0], limits[1]};
    if (row == ROW_BOTTOM)
        v.lo = length_greater(v.lo, roof_hardware_half(kit, roof->brackets[bracket].hardware[row]) +
                                        kit->wrench + kit->gap[1] + kit->depth);
    return v;
}

/* The highest level at which it is met at all. */
static double meeting_level(const struct meeting *v) {
    if (v->least > v->most + BAND_TOUCH)
        return -INFINITY;
    return length_lesser((v->hi - v->lo) / 2, length_lesser(v->most - v->lo, v->hi - v->least));
}

static struct interval meeting_at(const struct meeting *v, double level) {
    return (struct interval){length_greater(v->lo + level, v->least),
                             length_lesser(v->hi - level, v->most)};
}

struct interval heights_rise(const struct stands *stands, enum row row, const double limits[2],
                             double level) {
    const struct meeting v = meeting(stands->roof, stands->bracket, row, limits);
    return meeting_at(&v, level);
}

static struct window on_course(const struct roof *roof, const struct kit *kit, size_t course,
                               const double limits[2]) {
    const struct interval at = candidates_course(roof, &kit->flashing, course);
    return (struct window){length_greater(at.lo, limits[0]), length_lesser(at.hi, limits[1])};
}

/* Sides of Y: those that move with the level, and twice as fast. */
struct sides {
    double lo[2], hi[2];
};

static double level_of(const struct sides *y) {
    double level = INFINITY;
    for (int i = 0; i < 2; i++)
        for (int j = 0; j < 2; j++)
            level = length_lesser(level, (y->hi[j] - y->lo[i]) / (i + j + 2));
    return level;
}

/* Y while the row is on that course as well. */
static struct sides narrowed(const struct sides *y, struct window line, const struct meeting *v) {
    struct sides left = *y;
    left.lo[0] = length_greater(left.lo[0], line.lo - v->most);
    left.hi[0] = length_lesser(left.hi[0], line.hi - v->least);
    left.lo[1] = length_greater(left.lo[1], line.lo - v->hi);
    left.hi[1] = length_lesser(left.hi[1], line.hi - v->lo);
    return left;
}

/* The highest level at which both rows find courses under these limits; `than`: lower ones do not
 * matter. */
static double best_height(const struct stands *stands, const struct limits_on_height *limits,
                          double than) {
    const struct roof *roof = stands->roof;
    const struct kit *kit = roof_kit(roof, stands->bracket);
    const struct meeting v[ROW_COUNT] = {
        meeting(roof, stands->bracket, ROW_TOP, limits->v[ROW_TOP]),
        meeting(roof, stands->bracket, ROW_BOTTOM, limits->v[ROW_BOTTOM])};
    const double meets = length_lesser(meeting_level(&v[ROW_TOP]), meeting_level(&v[ROW_BOTTOM]));
    const struct sides all = {{limits->y[0], -INFINITY}, {limits->y[1], INFINITY}};
    double best = -INFINITY;
    for (size_t t = 1; t + 2 <= roof->course_count; t++) {
        const struct window top = on_course(roof, kit, t, limits->row[ROW_TOP]);
        const struct sides under = narrowed(&all, top, &v[ROW_TOP]);
        const double most =
            length_lesser(meets, length_lesser((top.hi - top.lo) / 2, level_of(&under)));
        for (size_t b = 1; b <= t && most > length_greater(best, than); b++) {
            const struct window bottom = on_course(roof, kit, b, limits->row[ROW_BOTTOM]);
            const struct sides both = narrowed(&under, bottom, &v[ROW_BOTTOM]);
            best = length_greater(
                best,
                length_lesser(most, length_lesser((bottom.hi - bottom.lo) / 2, level_of(&both))));
        }
    }
    return best;
}

/* The best level that those limits allow, if it is above the best one seen; the last few are kept.
 */
static double known_height(const struct stands *stands, const struct limits_on_height *limits,
                           struct best_stand *best) {
    for (size_t i = 0; i < best->known; i++)
        if (heights_same_limits(limits, &best->limits[i]))
            return best->heights[i];
    const size_t at = best->next;
    best->limits[at] = *limits;
    best->heights[at] = best_height(stands, limits, best->level);
    best->next = (at + 1) % BEST_STAND_KNOWN;
    best->known = best->known < BEST_STAND_KNOWN ? best->known + 1 : best->known;
    return best->heights[at];
}

/* The best level that X allows. */
static double most_along(const struct stands *stands, const struct stand *stand) {
    const struct band x = stands_band(stands, stand);
    return length_lesser(stand->cap, band_level(&x));
}

bool best_stand_may_better(const struct stands *stands, const struct stand *stand,
                           struct best_stand *best) {
    const struct limits_on_height limits = heights_limits(stands, stand);
    return most_along(stands, stand) > best->level &&
           known_height(stands, &limits, best) > best->level;
}

void best_stand_see(const struct stands *stands, const struct stand *stand,
                    struct best_stand *best) {
    const double most = most_along(stands, stand);
    if (most <= best->level)
        return;
    const struct limits_on_height limits = heights_limits(stands, stand);
    best->level =
        length_greater(best->level, length_lesser(most, known_height(stands, &limits, best)));
}

double stands_best(const struct stands *stands) {
    struct best_stand best = {.level = -INFINITY};
    for (size_t i = 0; i < stands->count; i++)
        best_stand_see(stands, &stands->list[i], &best);
    return best.level >= stands->least - BAND_TOUCH ? best.level : -INFINITY;
}

static int by_low(const void *a, const void *b) {
    const struct interval *x = a, *y = b;
    return (x->lo > y->lo) - (x->lo < y->lo);
}

/* One more behind those of a list, in the order of `lo`; joined to the last one where they touch.
 */
static void join(struct interval *list, size_t *count, struct interval at) {
    struct interval *last = *count > 0 ? &list[*count - 1] : NULL;
    if (!interval_there(at))
        return;
    if (last && at.lo <= last->hi + BAND_TOUCH)
        last->hi = length_greater(last->hi, at.hi);
    else
        list[(*count)++] = at;
}

/* Y for the row on any course, at a level; the list has room for one a course. */
static void heights_of_row(const struct stands *stands, enum row row,
                           const struct limits_on_height *limits, double level,
                           struct union_of *heights) {
    const struct roof *roof = stands->roof;
    const struct kit *kit = roof_kit(roof, stands->bracket);
    const struct meeting met = meeting(roof, stands->bracket, row, limits->v[row]);
    const struct interval v = meeting_at(&met, level);
    size_t count = 0;
    for (size_t k = 1; k + 2 <= roof->course_count; k++) {
        const struct window line = on_course(roof, kit, k, limits->row[row]);
        const struct interval at = {line.lo + level, line.hi - level};
        if (interval_there(at))
            heights->list[count++] = (struct interval){at.lo - v.hi, at.hi - v.lo};
    }
    qsort(heights->list, count, sizeof *heights->list, by_low);
    heights->count = 0;
    for (size_t i = 0; i < count; i++)
        join(heights->list, &heights->count, heights->list[i]);
    if (!interval_there(v))
        heights->count = 0;
}

bool stands_strips(const struct roof *roof, size_t bracket, double level, struct strips *strips) {
    static const double limits[2] = {-INFINITY, INFINITY};
    *strips = (struct strips){.list = calloc(roof->course_count + 1, sizeof *strips->list)};
    for (size_t k = 1; k + 2 <= roof->course_count && strips->list; k++) {
        const struct window line = on_course(roof, roof_kit(roof, bracket), k, limits);
        join(strips->list, &strips->count, (struct interval){line.lo + level, line.hi - level});
    }
    return strips->list != NULL;
}

void heights_draw_line(const struct strips *strips, double line[2]) {
    size_t first = 0, last = strips->count;
    while (first < last && strips->list[first].hi < line[0] - BAND_TOUCH)
        first++;
    while (last > first && strips->list[last - 1].lo > line[1] + BAND_TOUCH)
        last--;
    if (first == last)
        return; /* none: it is for others to say so */
    line[0] = length_greater(line[0], strips->list[first].lo);
    line[1] = length_lesser(line[1], strips->list[last - 1].hi);
}

/* What both unions and the interval have in common. */
static void common(const struct union_of *a, const struct union_of *b, struct interval within,
                   struct union_of *both) {
    both->count = 0;
    for (size_t i = 0; i < a->count; i++)
        for (size_t j = 0; j < b->count; j++) {
            const struct interval at = {
                length_greater(within.lo, length_greater(a->list[i].lo, b->list[j].lo)),
                length_lesser(within.hi, length_lesser(a->list[i].hi, b->list[j].hi))};
            if (interval_there(at))
                both->list[both->count++] = at;
        }
}

void heights_at(const struct stands *stands, const struct limits_on_height *limits, double level,
                struct heights *heights) {
    const struct interval within = {limits->y[0] + level, limits->y[1] - level};
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        heights_of_row(stands, (enum row)row, limits, level, &heights->rows[row]);
    common(&heights->rows[ROW_TOP], &heights->rows[ROW_BOTTOM], within, &heights->both);
    for (size_t i = 0; i < heights->both.count; i++)
        heights->both.list[i] = interval_settled(heights->both.list[i]);
}

bool heights_begin(const struct roof *roof, struct heights *heights) {
    const size_t courses = roof->course_count + 1;
    struct interval *list = calloc(4 * courses, sizeof *list);
    *heights = (struct heights){.rows = {{.list = list}}};
    if (!list)
        return false;
    heights->rows[ROW_BOTTOM].list = list + courses;
    heights->both.list = list + 2 * courses;
    return true;
}

void heights_end(struct heights *heights) {
    free(heights->rows[ROW_TOP].list);
}

static const struct interval anywhere = {-INFINITY, INFINITY};

/* The course that leaves the row's line most room while its bracket stands at y; false where none
 * leaves it any. */
static bool find_line(const struct stands *stands, enum row row, const struct stand *stand,
                      double level, double y, struct interval within, struct stood *stood) {
    const struct roof *roof = stands->roof;
    const struct kit *kit = roof_kit(roof, stands->bracket);
    const double *limits = stands->holds[row][stand->holds[row]].y;
    const struct meeting met = meeting(roof, stands->bracket, row, stand->v[row]);
    const struct interval v = meeting_at(&met, level);
    double widest = -INFINITY;
    for (size_t k = 1; k + 2 <= roof->course_count; k++) {
        const struct window line = on_course(roof, kit, k, limits);
        const double lo = length_greater(within.lo, length_greater(line.lo + level, y + v.lo)),
                     hi = length_lesser(within.hi, length_lesser(line.hi - level, y + v.hi));
        if (hi - lo <= widest)
            continue;
        widest = hi - lo;
        stood->line[row] = (lo + hi) / 2;
        stood->course[row] = k;
    }
    return widest >= -BAND_TOUCH;
}

void stands_stand(const struct stands *stands, const struct spot *spot, double level,
                  const double at[2], const struct rather *rather, struct stood *stood,
                  double *lags) {
    const double x = at[0], y = at[1];
    const struct stand *stand = &stands->list[spot->stand];
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct hold *hold = &stands->holds[row][stand->holds[row]];
        const struct interval within = rather ? rather->lines[row] : anywhere;
        if (spot->miss && spot->miss->course[row] > 0) {
            const struct line_best line = misses_lines(stands, spot, (enum row)row, level, y);
            const double clear =
                length_greater(within.lo, length_lesser(within.hi, (line.at.lo + line.at.hi) / 2));
            stood->line[row] = length_greater(line.in.lo, length_lesser(line.in.hi, clear));
            stood->course[row] = spot->miss->course[row];
        } else if (!find_line(stands, (enum row)row, stand, level, y, within, stood)) {
            find_line(stands, (enum row)row, stand, level, y, anywhere, stood);
        }
        if (stands->roof->brackets[stands->bracket].hardware[row] == HARDWARE_FEET)
            seats_place(stands->roof, stands->bracket, hold, level, x, rather, (enum row)row, lags);
        for (size_t i = 0; i < hold->count; i++, lags++)
            if (stands->roof->brackets[stands->bracket].hardware[row] == HARDWARE_STRUT)
                *lags = roof_ply_x(&stands->roof->plies[hold->lags[i].ply], stood->line[row]);
    }
}

double stands_heights(const struct stands *stands, const struct spot *spot, double level, double y,
                      struct band *heights) {
    const struct stand *stand = &stands->list[spot->stand];
    const struct roof *roof = stands->roof;
    const struct kit *kit = roof_kit(roof, stands->bracket);
    double most = stand->cap;
    band_open(heights);
    band_least(heights, 1, stand->y[0]);
    band_most(heights, 1, stand->y[1]);
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct hold *hold = &stands->holds[row][stand->holds[row]];
        const struct meeting v = meeting(roof, stands->bracket, (enum row)row, stand->v[row]);
        struct stood stood = {.course = {1, 1}};
        find_line(stands, (enum row)row, stand, level, y, anywhere, &stood);
        const struct window line = on_course(roof, kit, stood.course[row], hold->y);
        band_least(heights, 1, line.lo - v.most);
        band_most(heights, 1, line.hi - v.least);
        band_least(heights, 2, line.lo - v.hi);
        band_most(heights, 2, line.hi - v.lo);
        most = length_lesser(most, length_lesser(meeting_level(&v), (line.hi - line.lo) / 2));
    }
    return most;
}
