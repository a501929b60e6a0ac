/* Rows on their courses: what their lines lack, and so what Y does. */
#include "gathering.h"

#include "candidates.h"
#include "grow.h"
#include "length.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct likeness gathering_likeness(const struct stands *stands, const struct stand *stand) {
    struct likeness like = {.y = {stand->y[0], stand->y[1]}};
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct hold *hold = &stands->holds[row][stand->holds[row]];
        memcpy(like.row[row], hold->y, sizeof like.row[row]);
        memcpy(like.v[row], stand->v[row], sizeof like.v[row]);
        like.lags[row] = hold->count;
    }
    return like;
}

static bool same_sides(const struct sides *a, const struct sides *b) {
    bool same = a->count == b->count;
    for (size_t i = 0; i < a->count && same; i++)
        same = length_same(a->list[i].at, b->list[i].at) &&
               length_same(a->list[i].below, b->list[i].below) &&
               length_same(a->list[i].above, b->list[i].above);
    return same;
}

static bool alike(const struct likeness *a, const struct likeness *b) {
    for (int i = 0; i < 2; i++) {
        if (!length_same(a->y[i], b->y[i]))
            return false;
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            if (!length_same(a->row[row][i], b->row[row][i]) ||
                !length_same(a->v[row][i], b->v[row][i]) || a->lags[row] != b->lags[row] ||
                !same_sides(&a->lines[row], &b->lines[row]))
                return false;
    }
    return same_sides(&a->vents, &b->vents);
}

void gathering_add_sides(struct lack *lack, const struct sides *sides, size_t first) {
    for (size_t i = first; i < sides->count; i++) {
        const struct hinge *hinge = &sides->list[i];
        if (hinge->below > 0)
            lack_window(lack, hinge->at, INFINITY, hinge->below);
        if (hinge->above > 0)
            lack_window(lack, -INFINITY, hinge->at, hinge->above);
    }
}

/* A row on a course: course-edge, course-block and lap once a lag, row and clearance once. */
struct met_line gathering_line(const struct gathering *gathering, const struct likeness *like,
                               enum row row, size_t course) {
    const struct roof *roof = gathering->roof;
    const struct kit *kit = gathering->kit;
    const struct flashing *flashing = &kit->flashing;
    const struct course_bounds bounds = candidates_bounds(roof, flashing, course);
    const double *window = kit->window[row];
    const double lags = (double)like->lags[row], level = gathering->level;
    struct met_line made = {.line = {.base = 0}};
    lack_window(&made.line, bounds.edge[0], bounds.edge[1], lags);
    lack_window(&made.line, -INFINITY, bounds.block, lags);
    lack_window(&made.line, bounds.lap, INFINITY, lags);
    gathering_add_sides(&made.line, &like->lines[row], 0);
    lack_window(&made.met, window[0], window[1], 1);
    double clear = -INFINITY;
    if (row == ROW_BOTTOM) {
        const enum hardware own = roof->brackets[gathering->stands->bracket].hardware[row];
        clear = roof_hardware_half(kit, own) + kit->wrench + kit->gap[1] + kit->depth;
        lack_window(&made.met, clear, INFINITY, 1);
    }
    const struct interval at = candidates_course(roof, flashing, course);
    made.line_in = (struct interval){length_greater(at.lo, like->row[row][0]) + level,
                                     length_lesser(at.hi, like->row[row][1]) - level};
    made.met_in =
        (struct interval){length_greater(length_greater(window[0], clear) + level, like->v[row][0]),
                          length_lesser(window[1] - level, like->v[row][1])};
    return made;
}

/* A row on one course, seen from Y. */
struct seen {
    struct lack lack;
    struct interval y;
    bool there;
};

static void see(const struct gathering *gathering, const struct likeness *like, enum row row,
                size_t course, struct interval within, struct seen *seen) {
    const struct met_line line = gathering_line(gathering, like, row, course);
    const struct interval y = {line.line_in.lo - line.met_in.hi, line.line_in.hi - line.met_in.lo};
    *seen = (struct seen){.there = false};
    if (!interval_there(line.line_in) || !interval_there(line.met_in) ||
        y.lo > within.hi + BAND_TOUCH || y.hi < within.lo - BAND_TOUCH)
        return;
    seen->there = true;
    seen->y = lack_meet(&line.line, line.line_in, &line.met, line.met_in, &seen->lack);
}

static bool add_rows(struct met_list *list, size_t *room, const struct met_rows *rows) {
    struct met_rows *larger = grow_list(list->list, room, list->count, sizeof *list->list);
    if (!larger)
        return false;
    list->list = larger;
    list->list[list->count++] = *rows;
    return true;
}

/* The least that rows lack in there; INFINITY where Y is nowhere in it. */
static double least_in(const struct met_rows *rows, struct interval up) {
    const struct interval y = interval_settled(rows->y);
    const struct interval in = {length_greater(y.lo, up.lo), length_lesser(y.hi, up.hi)};
    double least = INFINITY;
    if (in.lo <= in.hi)
        lack_best(&rows->lack, in, &least);
    return least;
}

/* Both rows on each pair of courses; the least that any of them lacks. */
static bool meet_rows(const struct gathering *gathering, struct seen *seen[ROW_COUNT],
                      struct interval face, struct met_list *list) {
    const size_t courses = gathering->roof->course_count;
    size_t room = 0;
    list->least = INFINITY;
    for (size_t t = 1; t + 2 <= courses; t++)
        for (size_t b = 1; b <= t && seen[ROW_TOP][t].there; b++) {
            const struct seen *top = &seen[ROW_TOP][t], *bottom = &seen[ROW_BOTTOM][b];
            struct met_rows rows = {.course = {t, b}};
            rows.y =
                (struct interval){length_greater(face.lo, length_greater(top->y.lo, bottom->y.lo)),
                                  length_lesser(face.hi, length_lesser(top->y.hi, bottom->y.hi))};
            if (!bottom->there || !interval_there(rows.y))
                continue;
            rows.lack = top->lack;
            lack_add(&rows.lack, &bottom->lack);
            gathering_add_sides(&rows.lack, &list->like.vents, 0);
            lack_settle(&rows.lack);
            list->least = length_lesser(list->least, least_in(&rows, gathering->up));
            if (!add_rows(list, &room, &rows))
                return false;
        }
    return true;
}

static bool list_rows(const struct gathering *gathering, struct met_list *list) {
    const size_t courses = gathering->roof->course_count;
    const struct interval face = {list->like.y[0] + gathering->level,
                                  list->like.y[1] - gathering->level};
    struct seen *seen[ROW_COUNT] = {calloc(courses + 1, sizeof **seen),
                                    calloc(courses + 1, sizeof **seen)};
    bool good = seen[ROW_TOP] && seen[ROW_BOTTOM];
    for (size_t k = 1; k + 2 <= courses && good; k++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            see(gathering, &list->like, (enum row)row, k, face, &seen[row][k]);
    good = good && meet_rows(gathering, seen, face, list);
    free(seen[ROW_TOP]);
    free(seen[ROW_BOTTOM]);
    return good;
}

const struct met_list *gathering_rows(struct gathering *gathering, const struct likeness *like) {
    for (size_t i = 0; i < gathering->known_count; i++)
        if (alike(&gathering->known[i].like, like))
            return &gathering->known[i];
    if (!gathering->known)
        gathering->known = malloc(GATHERING_KNOWN * sizeof *gathering->known);
    if (!gathering->known) {
        gathering->failed = true;
        return NULL;
    }
    struct met_list *list = &gathering->known[gathering->known_next];
    gathering->known_next = (gathering->known_next + 1) % GATHERING_KNOWN;
    if (gathering->known_count < GATHERING_KNOWN)
        gathering->known_count++;
    else
        free(list->list);
    *list = (struct met_list){.like = *like};
    if (list_rows(gathering, list))
        return list;
    gathering->failed = true;
    return NULL;
}

void gathering_rows_free(struct gathering *gathering) {
    for (size_t i = 0; i < gathering->known_count; i++)
        free(gathering->known[i].list);
    free(gathering->known);
}
