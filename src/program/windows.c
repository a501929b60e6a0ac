#include "windows.h"

#include "grow.h"

#include <math.h>
#include <stdlib.h>

/* Figures closer than this are one: inches. */
#define SAME 1e-9

/* True where the joints above two courses lie alike. */
static bool alike(const struct roof *roof, size_t a, size_t b) {
    const struct cutouts *cutouts = &roof->cutouts;
    for (size_t i = 0; i < roof->joint_count; i++)
        if (roof->joints[i].course == a + 1 || roof->joints[i].course == b + 1)
            return a == b;
    const double off = ((double)a - (double)b) * cutouts->stagger;
    return cutouts->tab <= 0 || fabs(remainder(off, cutouts->tab)) <= SAME;
}

static void group_courses(struct windows *windows) {
    const size_t *numbers = windows->hole->numbers;
    for (size_t k = 0; k < windows->hole->course_count; k++) {
        size_t like = 0;
        while (!alike(windows->parts->roof, numbers[like], numbers[k]))
            like++;
        windows->groups[k] = like;
    }
}

/* How near to a line x is still held off it. */
static double influence(const struct windows *windows) {
    return windows->parts->roof->keep_joint + levels_most(windows->parts);
}

/* How far beyond x a joint can lie whose lines matter. */
static double reach_of(const struct windows *windows) {
    return fmax(0, influence(windows)) + windows->hole->flashing->width / 2;
}

/* At most so many lines of a group matter. */
static size_t lines_most(const struct windows *windows) {
    const struct roof *roof = windows->parts->roof;
    const double across = fmax(0, windows->x.hi - windows->x.lo) + 2 * reach_of(windows);
    const double cutouts = roof->cutouts.tab > 0 ? across / roof->cutouts.tab + 2 : 0;
    return 2 * ((size_t)cutouts + roof->joint_count) + 1;
}

bool windows_begin(struct windows *windows) {
    const struct off_joints *hole = windows->hole;
    windows->x = (struct interval){INFINITY, -INFINITY};
    for (size_t i = 0; i < hole->place_count; i++) {
        windows->x.lo = fmin(windows->x.lo, hole->x_at[i].lo);
        windows->x.hi = fmax(windows->x.hi, hole->x_at[i].hi);
    }
    windows->lines = calloc(lines_most(windows), sizeof *windows->lines);
    windows->groups = calloc(hole->course_count, sizeof *windows->groups);
    if (!windows->lines || !windows->groups)
        return false;
    group_courses(windows);
    return true;
}

void windows_end(struct windows *windows) {
    free(windows->lines);
    free(windows->groups);
    free(windows->list);
}

static void add_line(struct windows *windows, double line) {
    const double off = influence(windows);
    if (line <= windows->x.lo - off || line >= windows->x.hi + off)
        return;
    size_t at = windows->line_count++;
    for (; at > 0 && windows->lines[at - 1] > line; at--)
        windows->lines[at] = windows->lines[at - 1];
    windows->lines[at] = line;
}

static void add_lines_of(struct windows *windows, double joint) {
    const double half = windows->hole->flashing->width / 2;
    add_line(windows, joint - half);
    add_line(windows, joint + half);
}

void windows_draw(struct windows *windows, size_t course) {
    const struct roof *roof = windows->parts->roof;
    const double reach = reach_of(windows), tab = roof->cutouts.tab;
    windows->line_count = 0;
    if (tab > 0)
        for (double x = roof_cutout(roof, course + 1, windows->x.lo - reach);
             x <= windows->x.hi + reach; x = roof_cutout(roof, course + 1, x + tab / 2))
            add_lines_of(windows, x);
    for (size_t i = 0; i < roof->joint_count; i++)
        if (roof->joints[i].course == course + 1)
            add_lines_of(windows, roof->joints[i].x);
}

static void add_window(struct windows *windows, const struct window *window) {
    struct window *list =
        grow_list(windows->list, &windows->room, windows->count, sizeof *windows->list);
    if (!list) {
        windows->parts->program->failed = true;
        return;
    }
    windows->list = list;
    windows->list[windows->count++] = *window;
}

/* Between lines `i` - 1 and `i`; an open end lies where no level is held to it. */
static struct window between(const struct windows *windows, size_t i) {
    const double keep = windows->parts->roof->keep_joint, most = levels_most(windows->parts);
    return (struct window){.near = i == 0 ? windows->x.lo - most : windows->lines[i - 1] + keep,
                           .far = i == windows->line_count ? windows->x.hi + most
                                                           : windows->lines[i] - keep,
                           .share = MODEL_NONE};
}

size_t windows_find(struct windows *windows, size_t place, size_t group) {
    const double most = levels_most(windows->parts), least = levels_least(windows->parts);
    const struct interval x = windows->hole->x_at[place];
    const size_t before = windows->count;
    for (size_t i = 0; i <= windows->line_count; i++) {
        struct window window = between(windows, i);
        if (fmax(x.lo, window.near + least) > fmin(x.hi, window.far - least) + SAME)
            continue;
        window.place = place;
        window.group = group;
        add_window(windows, &window);
        windows->binding |= window.near + most > x.lo || window.far - most < x.hi;
    }
    return windows->count - before;
}

void windows_open(struct windows *windows, size_t place, size_t group) {
    windows->line_count = 0;
    struct window window = between(windows, 0);
    window.place = place;
    window.group = group;
    add_window(windows, &window);
}

size_t windows_count(const struct windows *windows, size_t place, size_t group) {
    size_t count = 0;
    for (size_t i = 0; i < windows->count; i++)
        count += windows->list[i].place == place && windows->list[i].group == group;
    return count;
}
