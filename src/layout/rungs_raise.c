/* How much higher a packing's stands, courses and ways allow a level to be: a small linear program.
 */
#include "length.h"
#include "program.h"
#include "rungs.h"
#include "solve.h"

#include <math.h>
#include <stdlib.h>

/* Wider than any roof can be. */
#define WIDE 2e5
#define LITTLE_S 60.0 /* seconds: more than a program of some columns ever takes */

/* Columns of the little program: the level, then X and Y of every bracket. */
static size_t x_of(size_t b) {
    return 1 + 2 * b;
}
static size_t y_of(size_t b) {
    return 2 + 2 * b;
}

/* sign * column >= at + slope * the bracket's level; the level is a column where it is shared */
struct limit_side {
    size_t column;
    double sign, at, slope;
};

static void hold_side(struct program *program, const struct limit_side *side, bool shared,
                      double level) {
    if (!(fabs(side->at) < ROOF_ENDLESS))
        return;
    struct linear sum = linear_plus(linear_of(-side->at), side->column, side->sign);
    if (shared)
        sum = linear_plus(sum, 0, -side->slope);
    else
        sum.constant -= side->slope * level;
    program_require(program, sum);
}

/* A bracket in the stand, and on the courses, that it was packed in; returns the level that those
 * end at. */
static double hold_bracket(struct program *program, size_t b, const struct rungs_packing *packing,
                           double level, bool shared) {
    const struct stands *stands = packing->stands[b];
    const struct placed *placed = &packing->placed[b];
    const struct stand *stand = &stands->list[placed->spot.stand];
    const struct band x = stands_band(stands, stand);
    struct band y;
    const double most = stands_heights(stands, &placed->spot, level, placed->y, &y);
    for (int k = 0; k < STAND_SLOPES; k++) {
        const struct limit_side sides[] = {{x_of(b), 1, x.lo[k], k},
                                           {x_of(b), -1, -x.hi[k], k},
                                           {y_of(b), 1, y.lo[k], k},
                                           {y_of(b), -1, -y.hi[k], k}};
        for (size_t i = 0; i < sizeof sides / sizeof *sides; i++)
            hold_side(program, &sides[i], shared, level);
    }
    return length_lesser(most, stand->cap);
}

/* Two brackets apart in the way in which they are furthest apart, by both of their levels. */
static void hold_pair(struct program *program, const struct crowd *crowd, size_t a, size_t b,
                      const struct placed *placed, const double *levels, const bool *shared) {
    const struct roof *roof = crowd->roof;
    const struct kit *one = roof_kit(roof, a), *other = roof_kit(roof, b);
    const double wider[2] = {crowd->wider ? crowd->wider[0][a][b] : 0,
                             crowd->wider ? crowd->wider[1][a][b] : 0};
    const double gaps[4] = {placed[b].x - placed[a].x - one->width - wider[0],
                            placed[a].x - placed[b].x - other->width - wider[0],
                            placed[b].y - placed[a].y - one->height - wider[1],
                            placed[a].y - placed[b].y - other->height - wider[1]};
    const double sizes[4] = {one->width, other->width, one->height, other->height};
    int way = 0;
    for (int i = 1; i < 4; i++)
        if (gaps[i] > gaps[way])
            way = i;
    const size_t low = way % 2 == 0 ? a : b, high = way % 2 == 0 ? b : a;
    const size_t columns[2] = {way < 2 ? x_of(low) : y_of(low), way < 2 ? x_of(high) : y_of(high)};
    const size_t pair[2] = {a, b};
    for (int i = 0; i < 2; i++) {
        struct linear sum = linear_of(-sizes[way] - roof->apart - wider[way / 2]);
        sum = linear_plus(linear_plus(sum, columns[1], 1), columns[0], -1);
        if (shared[pair[i]])
            sum = linear_plus(sum, 0, -2);
        else
            sum.constant -= 2 * levels[pair[i]];
        program_require(program, sum);
    }
}

/* A packing's arms, while they are put into the program. */
struct arming {
    struct program *program;
    const double *levels;
    const bool *shared;
};

/* So many times the level of a bracket more is asked of a sum; what the level as it is now makes of
 * it is in the sum already, with `known`. */
static struct linear less_level(const struct arming *arming, struct linear sum, size_t b,
                                double times, bool known) {
    if (arming->shared[b])
        sum = linear_plus(sum, 0, -times);
    if (arming->shared[b] == known)
        sum.constant += (known ? times : -times) * arming->levels[b];
    return sum;
}

/* By the levels of both. */
static void hold_apart(void *subject, const struct apart_by *by) {
    const struct arming *arming = subject;
    size_t columns[2];
    for (int i = 0; i < 2; i++)
        columns[i] = by->up ? y_of(by->bracket[i]) : x_of(by->bracket[i]);
    for (int i = 0; i < 2; i++) {
        struct linear sum = linear_of(by->reach[1] - by->reach[0]);
        if (by->goes[1])
            sum = linear_plus(sum, columns[1], 1);
        if (by->goes[0])
            sum = linear_plus(sum, columns[0], -1);
        sum = less_level(arming, sum, by->bracket[i], by->times, false);
        for (int end = 0; end < 2; end++)
            sum = less_level(arming, sum, by->bracket[end], by->slope[end], true);
        program_require(arming->program, sum);
    }
}

/* What struts reach beyond their brackets, in the stands that these were packed in; false without
 * memory. */
static bool hold_arms(struct program *program, const struct crowd *crowd,
                      const struct rungs_packing *packing, const double *levels,
                      const bool *shared) {
    const size_t count = crowd->roof->bracket_count;
    struct arming arming = {program, levels, shared};
    struct parcel parcels[ROOF_BRACKETS_MOST];
    struct arms arms[ROOF_BRACKETS_MOST];
    struct placed placed[ROOF_BRACKETS_MOST];
    struct arm(*own)[ROW_COUNT] = calloc(count, sizeof *own);
    bool good = own != NULL;
    for (size_t b = 0; b < count && good; b++) {
        struct strips strips;
        good = stands_strips(crowd->roof, b, levels[b], &strips);
        for (int row = ROW_TOP; row < ROW_COUNT && good; row++)
            own[b][row] = stands_arm(packing->stands[b], packing->placed[b].spot.stand,
                                     (enum row)row, levels[b], &strips, crowd->arms == ENDS_ALL);
        free(strips.list);
        placed[b] = packing->placed[b];
        placed[b].spot.stand = b;
        arms[b] = arms_of(crowd, b, (const struct arm(*)[ROW_COUNT])own);
        parcels[b] = rungs_parcel(crowd, b, levels[b]);
        parcels[b].arms = &arms[b];
    }
    const struct packing_task task = {.parcels = parcels, .count = count};
    if (good)
        packing_see_arms(&task, placed, hold_apart, &arming);
    free(own);
    return good;
}

double rungs_raise(const struct crowd *crowd, const struct rungs_packing *packing,
                   const double *levels, const bool *shared, double level, double most) {
    const size_t count = crowd->roof->bracket_count;
    struct program program = {.failed = false};
    program_column(&program, level, most, false, "level");
    if (!program.failed)
        program.columns[0].cost = -1;
    for (size_t b = 0; b < count; b++) {
        program_column(&program, -WIDE, WIDE, false, "X_%zu", b + 1);
        program_column(&program, -WIDE, WIDE, false, "Y_%zu", b + 1);
    }
    for (size_t b = 0; b < count && !program.failed; b++) {
        const double own = hold_bracket(&program, b, packing, levels[b], shared[b]);
        for (size_t o = b + 1; o < count && !program.failed; o++)
            hold_pair(&program, crowd, b, o, packing->placed, levels, shared);
        if (shared[b])
            most = length_lesser(most, length_lesser(crowd->ceilings[b], own));
    }
    struct solution solution = {.values = NULL};
    double raised = level;
    const bool held = !crowd->arms || hold_arms(&program, crowd, packing, levels, shared);
    if (!program.failed && held) {
        program.columns[0].hi = length_greater(level, most);
        if (solve_program(&program, LITTLE_S, NULL, &solution) == SOLVE_OPTIMAL)
            raised = length_greater(level, solution.values[0]);
    }
    solution_free(&solution);
    program_free(&program);
    return raised;
}
