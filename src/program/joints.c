/* joints: flashings whose sides keep off the joints and cutouts of the course that covers them.
 *
 * For each place that a hole can be in, group of courses and window a share says that all three are
 * chosen.  Place and course are chosen by binaries already, and exactly one share of each is 1, so
 * a share has to be a binary itself only where a place has several windows on a group. */
#include "windows.h"

#include <math.h>
#include <stdlib.h>

/* No window: a lag that may be left out bars the group only where it is not. */
static void bar_group(struct windows *windows, size_t place, size_t group) {
    struct program *program = windows->parts->program;
    const struct off_joints *hole = windows->hole;
    windows->binding = true;
    if (hole->used == MODEL_NONE)
        return; /* no share of it: share_out makes its courses 0 */
    program_row(program, -1, false);
    program_term(program, hole->used, -1);
    for (size_t k = 0; k < hole->course_count; k++)
        if (windows->groups[k] == group)
            program_term(program, hole->courses[k], -1);
    windows_open(windows, place, group);
}

static void find_all(struct windows *windows) {
    const struct off_joints *hole = windows->hole;
    for (size_t k = 0; k < hole->course_count; k++) {
        if (windows->groups[k] != k)
            continue;
        windows_draw(windows, hole->numbers[k]);
        for (size_t place = 0; place < hole->place_count; place++)
            if (windows_find(windows, place, k) == 0)
                bar_group(windows, place, k);
    }
}

/* One place with one window on a group needs no share: the group's courses say all. */
static bool courses_do(const struct windows *windows, size_t group) {
    return windows->hole->place_count == 1 && windows_count(windows, 0, group) == 1;
}

static void make_shares(struct windows *windows) {
    struct program *program = windows->parts->program;
    for (size_t i = 0; i < windows->count; i++) {
        struct window *window = &windows->list[i];
        const bool several = windows_count(windows, window->place, window->group) > 1;
        if (!courses_do(windows, window->group))
            window->share =
                program_column(program, 0, 1, several, "joint_%zu", program->column_count);
    }
}

/* The shares of a place add up to its binary, those of a group to its courses'. */
static void share_out(const struct windows *windows) {
    struct program *program = windows->parts->program;
    const struct off_joints *hole = windows->hole;
    for (size_t place = 0; place < hole->place_count && hole->place_count > 1; place++) {
        program_row(program, 0, true);
        program_term(program, hole->places[place], -1);
        for (size_t i = 0; i < windows->count; i++)
            if (windows->list[i].place == place)
                program_term(program, windows->list[i].share, 1);
    }
    for (size_t k = 0; k < hole->course_count; k++) {
        if (windows->groups[k] != k || courses_do(windows, k))
            continue;
        program_row(program, 0, true);
        for (size_t i = 0; i < windows->count; i++)
            if (windows->list[i].group == k)
                program_term(program, windows->list[i].share, 1);
        for (size_t j = 0; j < hole->course_count; j++)
            if (windows->groups[j] == k)
                program_term(program, hole->courses[j], -1);
    }
}

static double end_of(const struct window *window, enum side side) {
    return side == SIDE_NEAR ? window->near : -window->far;
}

/* What a row lacks at most where the hole is not used. */
static double most_lacking(const struct windows *windows, const struct linear *x, enum side side) {
    double most = -INFINITY;
    if (windows->hole->used == MODEL_NONE)
        return 0;
    for (size_t i = 0; i < windows->count; i++)
        most = fmax(most, end_of(&windows->list[i], side));
    return fmax(0, most + levels_most(windows->parts) - program_least(windows->parts->program, x));
}

/* +-x - sum of share * end - level >= 0, where the hole is used. */
static void hold_end(const struct windows *windows, enum side side, size_t level) {
    struct program *program = windows->parts->program;
    const struct off_joints *hole = windows->hole;
    const struct linear x = linear_sum(linear_of(0), hole->x, side == SIDE_NEAR ? 1 : -1);
    const double lacking = most_lacking(windows, &x, side);
    program_row(program, -x.constant - lacking, false);
    for (size_t i = 0; i < x.count; i++)
        program_term(program, x.terms[i].column, x.terms[i].factor);
    program_term(program, level, -1);
    if (lacking > 0)
        program_term(program, hole->used, -lacking);
    for (size_t i = 0; i < windows->count; i++) {
        const struct window *window = &windows->list[i];
        if (window->share != MODEL_NONE)
            program_term(program, window->share, -end_of(window, side));
        for (size_t k = 0; k < hole->course_count && window->share == MODEL_NONE; k++)
            if (windows->groups[k] == window->group)
                program_term(program, hole->courses[k], -end_of(window, side));
    }
}

static void hold_windows(struct windows *windows) {
    struct parts *parts = windows->parts;
    const bool always = windows->hole->used == MODEL_NONE;
    find_all(windows);
    if (!windows->binding || parts->program->failed)
        return;
    const size_t level = level_of(parts, windows->hole->subject, always ? 1 : 0);
    if (!always)
        level_shared(parts, level, windows->hole->used);
    make_shares(windows);
    share_out(windows);
    hold_end(windows, SIDE_NEAR, level);
    hold_end(windows, SIDE_FAR, level);
}

void keep_off_joints(struct parts *parts, const struct off_joints *hole) {
    if (!roof_has_joints(parts->roof) || parts->program->failed)
        return;
    struct windows windows = {.parts = parts, .hole = hole};
    if (windows_begin(&windows))
        hold_windows(&windows);
    else
        parts->program->failed = true;
    windows_end(&windows);
}
