/* Where the lines of nearest misses lie so that they and the parts on them lack least together: one
 * line after the other takes the best of the places at which anything changes, until none is
 * better. What comes of it can be had; it is the least there is where no two lines would have to
 * move at once. */
#include "parts.h"

#include "grow.h"
#include "length.h"

#include <math.h>
#include <stdlib.h>

/* More than anything lacks: parts are closer than the level lets them be. */
#define FORBIDDEN 1e6

/* A row's line: where it may be for nothing more lacked, and at all; `worth`: as of struct miss. */
struct line {
    struct interval free, hard;
    double worth[SIDE_COUNT], y;
};

/* Two parts that are not clear of each other along the eave. */
struct link {
    struct crossing crossing;
    double along; /* what they lack there; INFINITY: too much */
    double gap, weight;
};

struct settling {
    const struct packing_task *task;
    const struct seat *seats;
    struct line lines[ROOF_BRACKETS_MOST][ROW_COUNT];
    struct link *links; /* owned */
    size_t count, room;
    bool failed; /* no memory */
};

static double inside(double y, struct interval in) {
    return length_greater(in.lo, length_lesser(in.hi, y));
}

static struct line line_of(const struct packing_task *task, const struct seat *seat, size_t b,
                           int row) {
    const struct arm *arm = parts_arm(parts_parcel(task, b), seat->spot, row);
    const double y = seat->at[UP];
    struct line line = {.hard = parts_lines(arm, y), .worth = {INFINITY, INFINITY}};
    line.free = line.hard;
    if (parts_free(seat->spot)) {
        const struct miss *miss = seat->spot->miss;
        const struct drawn *low = &miss->free[row][SIDE_FAR], *high = &miss->free[row][SIDE_NEAR];
        line.free = (struct interval){length_greater(low->fixed, y + low->goes),
                                      length_lesser(high->fixed, y + high->goes)};
        line.worth[SIDE_FAR] = miss->worth[row][SIDE_FAR];
        line.worth[SIDE_NEAR] = miss->worth[row][SIDE_NEAR];
    }
    line.y = inside((line.free.lo + line.free.hi) / 2, line.hard);
    return line;
}

static double line_lack(const struct line *line, double y) {
    const double below = line->free.lo - y, above = y - line->free.hi;
    return (below > 0 ? below * line->worth[SIDE_FAR] : 0) +
           (above > 0 ? above * line->worth[SIDE_NEAR] : 0);
}

/* An end of a link's part up the slope: beyond its line, or of a box. */
static double off_of(const struct settling *settling, const struct link *link, int which,
                     bool high) {
    const size_t b = link->crossing.bracket[which];
    if (link->crossing.kind[which] != PART_BOX)
        return parts_off(settling->task, &link->crossing, which, high);
    return settling->seats[b].at[UP] + (high ? parts_parcel(settling->task, b)->height : 0);
}

static double line_at(const struct settling *settling, const struct link *link, int which) {
    const struct crossing *crossing = &link->crossing;
    return crossing->kind[which] == PART_BOX
               ? 0
               : settling->lines[crossing->bracket[which]][crossing->row[which]].y;
}

/* How far the one that is to be below reaches beyond the other one's lower end. */
static double depth_of(const struct settling *settling, const struct link *link, int below) {
    return line_at(settling, link, below) + off_of(settling, link, below, true) -
           line_at(settling, link, 1 - below) - off_of(settling, link, 1 - below, false);
}

static double link_lack(const struct settling *settling, const struct link *link) {
    double least = link->along, closest = INFINITY;
    for (int below = 0; below < 2; below++) {
        const double deep = depth_of(settling, link, below);
        closest = length_lesser(closest, deep);
        if (deep + link->gap <= SAME)
            least = length_lesser(least, link->weight * length_greater(0, deep));
    }
    return least < INFINITY ? least : FORBIDDEN * (1 + length_greater(0, closest));
}

static bool is_on(const struct link *link, size_t b, int row, int which) {
    return link->crossing.kind[which] != PART_BOX && link->crossing.bracket[which] == b &&
           link->crossing.row[which] == row;
}

/* What a line and the parts on it lack with the line there. */
static double lack_with(struct settling *settling, size_t b, int row, double y) {
    struct line *line = &settling->lines[b][row];
    line->y = y;
    double sum = line_lack(line, y);
    for (size_t i = 0; i < settling->count; i++)
        if (is_on(&settling->links[i], b, row, 0) || is_on(&settling->links[i], b, row, 1))
            sum += link_lack(settling, &settling->links[i]);
    return sum;
}

/* A place that the line may have rather. */
static void try_place(struct settling *settling, size_t b, int row, double y, double *best,
                      double *least) {
    const double there = inside(y, settling->lines[b][row].hard);
    const double lack = lack_with(settling, b, row, there);
    if (lack < *least - LENGTH_TOLERANCE / 16) {
        *least = lack;
        *best = there;
    }
}

/* True where the line has moved. */
static bool settle_line(struct settling *settling, size_t b, int row) {
    struct line *line = &settling->lines[b][row];
    const double was = line->y;
    double best = was, least = lack_with(settling, b, row, was);
    try_place(settling, b, row, line->free.lo, &best, &least);
    try_place(settling, b, row, line->free.hi, &best, &least);
    for (size_t i = 0; i < settling->count; i++)
        for (int which = 0; which < 2; which++) {
            const struct link *link = &settling->links[i];
            if (!is_on(link, b, row, which))
                continue;
            for (int below = 0; below < 2; below++) {
                line->y = was;
                const double deep = depth_of(settling, link, below);
                const double by = below == which ? -1 : 1; /* the way that makes it less */
                try_place(settling, b, row, was + by * deep, &best, &least);
                try_place(settling, b, row, was + by * (deep + link->gap), &best, &least);
            }
        }
    line->y = best;
    return fabs(best - was) > 0;
}

static bool add_link(struct settling *settling, const struct link *link) {
    struct link *links =
        grow_list(settling->links, &settling->room, settling->count, sizeof *settling->links);
    if (!links)
        return false;
    settling->links = links;
    settling->links[settling->count++] = *link;
    return true;
}

static void list_links(struct settling *settling) {
    const struct packing_task *task = settling->task;
    for (size_t a = 0; a < task->count && !settling->failed; a++)
        for (size_t b = a + 1; b < task->count && !settling->failed; b++) {
            const struct seats seats = seats_of(settling->seats, a, b);
            struct link link;
            if (!parts_begin(task, &seats, a, b, &link.crossing))
                continue;
            while (parts_next(task, &seats, &link.crossing) && !settling->failed) {
                link.along = length_lesser(parts_lack(task, &link.crossing, &seats, WAY_AFTER),
                                           parts_lack(task, &link.crossing, &seats, WAY_BEFORE));
                link.gap = parts_gap(task, &link.crossing);
                link.weight = parts_weight(&link.crossing);
                if (link.along > 0)
                    settling->failed = !add_link(settling, &link);
            }
        }
}

/* How often every line is looked at, at the most. */
enum { ROUNDS_MOST = 8 };

double packing_settle_lines(const struct packing_task *task, const struct seat *seats,
                            double lines[ROOF_BRACKETS_MOST][ROW_COUNT]) {
    struct settling settling = {.task = task, .seats = seats};
    list_links(&settling);
    for (size_t b = 0; b < task->count && settling.count > 0; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            settling.lines[b][row] = line_of(task, &seats[b], b, row);
    bool moved = settling.count > 0;
    for (int round = 0; round < ROUNDS_MOST && moved; round++) {
        moved = false;
        for (size_t b = 0; b < task->count; b++)
            for (int row = ROW_TOP; row < ROW_COUNT; row++)
                moved = settle_line(&settling, b, row) || moved;
    }
    double sum = settling.failed ? INFINITY : 0;
    for (size_t i = 0; i < settling.count; i++)
        sum += link_lack(&settling, &settling.links[i]);
    for (size_t b = 0; b < task->count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            lines[b][row] = NAN;
    for (size_t i = 0; i < settling.count; i++)
        for (int which = 0; which < 2; which++) {
            const struct crossing *crossing = &settling.links[i].crossing;
            const size_t b = crossing->bracket[which];
            const int row = crossing->row[which];
            const struct line *line = &settling.lines[b][row];
            if (crossing->kind[which] == PART_BOX || !isnan(lines[b][row]))
                continue;
            lines[b][row] = line->y;
            sum += line_lack(line, line->y);
        }
    free(settling.links);
    return sum < FORBIDDEN ? sum : INFINITY;
}
