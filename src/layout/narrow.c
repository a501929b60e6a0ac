#include "narrow.h"

#include <math.h>
#include <stdlib.h>

/* Figures that miss by no more than this are kept: ten times what a stage may lose. */
#define SLACK 1e-6

static void widen(struct interval *all, struct interval by) {
    all->lo = fmin(all->lo, by.lo);
    all->hi = fmax(all->hi, by.hi);
}

static struct interval meet(struct interval a, double lo, double hi) {
    return (struct interval){fmax(a.lo, lo - SLACK), fmin(a.hi, hi + SLACK)};
}

/* What of a row is used: one flag a ply (of feet: a leg and a ply), the sides of each leg, and
 * where its lags can be. */
struct use {
    bool *plies;
    bool side[ROOF_LEGS_MOST][SIDE_COUNT];
    struct interval x[ROOF_LEGS_MOST];
};

static void note_hold(const struct stands *stands, enum row row, const struct hold *hold,
                      double level, struct use *use) {
    const size_t plies = stands->roof->ply_count;
    const bool feet = stands->roof->brackets[stands->bracket].hardware[row] == HARDWARE_FEET;
    for (size_t i = 0; i < hold->count; i++) {
        const struct stand_lag *lag = &hold->lags[i];
        use->plies[(feet ? i * plies : 0) + lag->ply] = true;
        if (!feet)
            continue;
        use->side[i][lag->turned] = true;
        widen(&use->x[i], (struct interval){lag->lo + level, lag->hi - level});
    }
}

static size_t keep_plies(const bool *used, size_t *plies, size_t count) {
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (used[plies[i]])
            plies[kept++] = plies[i];
    return kept;
}

static void keep_used(const struct stands *stands, const struct use *use,
                      struct candidate_row *row) {
    if (row->plies)
        row->ply_count = keep_plies(use->plies, row->plies, row->ply_count);
    for (size_t i = 0; i < row->leg_count; i++) {
        struct candidate_leg *leg = &row->legs[i];
        leg->count = keep_plies(use->plies + i * stands->roof->ply_count, leg->plies, leg->count);
        leg->x = meet(leg->x, use->x[i].lo, use->x[i].hi);
        for (int side = SIDE_NEAR; side < SIDE_COUNT; side++)
            leg->side[side] = leg->side[side] && use->side[i][side];
    }
}

/* The row's line and its courses, for a bracket that stands within y. */
static void keep_courses(const struct stands *stands, enum row which, struct interval y,
                         double level, struct candidate_row *row) {
    const struct kit *kit = roof_kit(stands->roof, stands->bracket);
    const double *window = kit->window[which];
    size_t kept = 0;
    row->y = meet(row->y, y.lo + window[0] + level, y.hi + window[1] - level);
    for (size_t i = 0; i < row->course_count; i++) {
        const struct interval at = candidates_course(stands->roof, &kit->flashing, row->courses[i]);
        if (at.lo + level <= row->y.hi + SLACK && at.hi - level >= row->y.lo - SLACK)
            row->courses[kept++] = row->courses[i];
    }
    row->course_count = kept;
}

static bool begin_use(const struct stands *stands, struct use use[ROW_COUNT]) {
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        use[row].plies =
            calloc(stands->roof->ply_count * ROOF_LEGS_MOST + 1, sizeof *use[row].plies);
        for (size_t i = 0; i < ROOF_LEGS_MOST; i++)
            use[row].x[i] = (struct interval){INFINITY, -INFINITY};
    }
    return use[ROW_TOP].plies && use[ROW_BOTTOM].plies;
}

static void narrow_to(const struct stands *stands, const struct spot *spots, size_t count,
                      double level, struct use use[ROW_COUNT], struct candidate_bracket *bracket) {
    struct interval x = {INFINITY, -INFINITY}, y = {INFINITY, -INFINITY};
    for (size_t i = 0; i < count; i++) {
        const struct stand *stand = &stands->list[spots[i].stand];
        widen(&x, spots[i].x);
        widen(&y, spots[i].y);
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            note_hold(stands, (enum row)row, &stands->holds[row][stand->holds[row]], level,
                      &use[row]);
    }
    bracket->x = meet(bracket->x, x.lo, x.hi);
    bracket->y = meet(bracket->y, y.lo, y.hi);
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        keep_used(stands, &use[row], &bracket->rows[row]);
        keep_courses(stands, (enum row)row, bracket->y, level, &bracket->rows[row]);
    }
}

enum outcome narrow_bracket(const struct stands *stands, double level,
                            struct candidate_bracket *bracket) {
    struct use use[ROW_COUNT] = {{.plies = NULL}};
    struct spot *spots = NULL;
    size_t count = 0;
    if (level - SLACK < stands->least || stands->crowded)
        return OUTCOME_DONE;
    enum outcome outcome = stands_at(stands, level - SLACK, true, &spots, &count);
    if (outcome == OUTCOME_DONE && !begin_use(stands, use))
        outcome = OUTCOME_FAULT;
    if (outcome == OUTCOME_DONE && count > 0)
        narrow_to(stands, spots, count, level - SLACK, use, bracket);
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        free(use[row].plies);
    free(spots);
    return outcome;
}
