/* Packing brackets whose struts reach beyond them, against every choice there is: lengths are whole
 * inches, as in test_packing.c, and every strut lies on one line, or on any of a few, so that its
 * parts are boxes whose gaps can be taken here without a word about ways, ends and orders. */
#include "../src/packing/ranked.h"
#include "packing.h"
#include "random_roof.h"
#include "random_trial.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { PARCELS_MOST = 4, DIFFERENT_MOST = 3, SPOTS = 3, REACH_ALONG = 18, REACH_UP = 9 };
#define APART 2.0 /* inches, of nearest misses */

/* Nothing is lacked in any spot by itself. */
static const struct lack none = {.flat = {-INFINITY, INFINITY}};
static const struct miss nothing = {.lack = {&none, &none}, .held = {&none, &none}};

/* Brackets with struts that fit, some of them on feet, or with struts that may lie on any of a few
 * lines; and what moves in a nearest miss: nothing but the brackets; or struts as well, which lack
 * more beyond some lines. */
enum kind { FITS, FEET, LINES, MISSES, MOVES };

/* Every third line is on none. */
static struct interval strip_list[] = {{0, 1}, {3, 4}, {6, 7}, {9, 10}, {12, 13}, {15, 16}};
static const struct strips strips = {strip_list, sizeof strip_list / sizeof *strip_list};

struct trial {
    struct miss own[PARCELS_MOST][SPOTS];
    struct parcel parcels[PARCELS_MOST];
    struct spot spots[PARCELS_MOST][SPOTS];
    struct arm lists[PARCELS_MOST][SPOTS][ROW_COUNT];
    struct arms arms[PARCELS_MOST];
    size_t count;
    double hole_worth;
    bool misses; /* what is closer than it should be only lacks that, as far as the levels let it */
    bool moves, few_lines;
    bool any; /* whether there is a choice, whatever it is worth */
};

static double between(struct random_source *source, int lo, int hi) {
    return random_between(source, lo, hi);
}

/* reach: how far beyond the bracket it may go, at most. */
static void make_arm(struct random_source *source, const struct spot *spot, double width, int reach,
                     struct arm *arm) {
    const double line = spot->y.lo + between(source, 0, 3);
    *arm = (struct arm){.there = random_between(source, 0, 3) > 0,
                        .beyond = {true, random_between(source, 0, 3) > 0},
                        .lags = {spot->x.lo - between(source, -1, reach),
                                 spot->x.hi + width + between(source, -1, reach)},
                        .clamps = {between(source, -2, 1), width + between(source, -1, 2)},
                        .line = {line, line},
                        .rise = {-100, 100}};
    if (!arm->beyond[SIDE_FAR]) {
        arm->lags[SIDE_FAR] = -INFINITY;
        arm->clamps[SIDE_FAR] = 0;
    }
}

/* A row on feet: where its outer lags can be drawn to from either side, for every X of the spot. */
static void make_feet(struct random_source *source, const struct spot *spot, double width,
                      struct arm *arm) {
    const double slot = between(source, 0, 2);
    arm->feet = arm->there = true;
    for (int end = SIDE_NEAR; end < SIDE_COUNT; end++) {
        const double leg =
            end == SIDE_NEAR ? between(source, -1, 2) : width + between(source, -2, 1);
        const double lo = spot->x.lo + leg - between(source, 0, 2);
        const double hi = spot->x.hi + leg + between(source, 0, 2);
        arm->beyond[end] = true;
        arm->drawn[end][SIDE_NEAR] = (struct drawn){hi, leg + slot};
        arm->drawn[end][SIDE_FAR] = (struct drawn){lo, leg - slot};
        arm->lags[end] = end == SIDE_NEAR ? lo : hi;
        arm->clamps[end] = width / 2;
    }
}

/* Lines that a strut may lie on, for nothing between two of them, which stay or go with Y. */
static void make_lines(struct random_source *source, const struct spot *spot, struct arm *arm,
                       struct drawn free[SIDE_COUNT], double worth[SIDE_COUNT]) {
    const double low = arm->line[0], tall = spot->y.hi - spot->y.lo;
    const double from = low + between(source, 0, 2), to = from + tall + between(source, 0, 1);
    arm->line[1] = to + between(source, 0, 2);
    free[SIDE_FAR] = random_once_in(source, 2) ? (struct drawn){from, -500}
                                               : (struct drawn){low, from - spot->y.lo};
    free[SIDE_NEAR] = random_once_in(source, 2) ? (struct drawn){to, 500}
                                                : (struct drawn){arm->line[1], to - spot->y.hi};
    for (int side = SIDE_NEAR; side < SIDE_COUNT; side++)
        worth[side] = between(source, 1, 3) / 2;
}

/* Lines of a strut: between two, or some of its bracket's height, which is two at least; so some of
 * them are on a strip. */
static void make_few_lines(struct random_source *source, const struct spot *spot, double height,
                           struct arm *arm) {
    if (random_once_in(source, 2)) {
        arm->line[1] = arm->line[0] + between(source, 2, 4);
    } else {
        arm->rise[0] = 0;
        arm->rise[1] = height;
        arm->line[0] = spot->y.lo;
        arm->line[1] = spot->y.hi + height;
    }
}

static void make(uint64_t seed, enum kind kind, struct trial *trial) {
    const struct interval all = {-1000, 1000};
    const bool misses = kind == MISSES || kind == MOVES;
    const bool small = kind == MOVES || kind == LINES;
    const int along = small ? REACH_ALONG / 2 : REACH_ALONG, up = small ? REACH_UP / 2 : REACH_UP;
    struct random_source source = {seed};
    trial->count = kind == MOVES ? 2 : (size_t)random_between(&source, 2, DIFFERENT_MOST);
    trial->hole_worth = between(&source, 1, 6);
    trial->misses = misses;
    trial->moves = kind == MOVES;
    trial->few_lines = kind == LINES;
    for (size_t b = 0; b < trial->count; b++) {
        struct parcel *parcel = &trial->parcels[b];
        *parcel = (struct parcel){.width = between(&source, 2, 5),
                                  .height = between(&source, 2, 4),
                                  .want_x = between(&source, 0, REACH_ALONG),
                                  .want_y = between(&source, 0, REACH_UP),
                                  .room = between(&source, 0, 2),
                                  .level = between(&source, misses ? -4 : -1, misses ? -1 : 1),
                                  .inside = {all, all},
                                  .spots = trial->spots[b],
                                  .spot_count = SPOTS,
                                  .arms = &trial->arms[b]};
        if (misses)
            parcel->room = APART + 2 * parcel->level;
        trial->arms[b] = (struct arms){.list = (const struct arm(*)[ROW_COUNT])trial->lists[b],
                                       .end = between(&source, 0, 1),
                                       .half = between(&source, 0, 1),
                                       .side = between(&source, 0, 2),
                                       .up = between(&source, 0, 2),
                                       .down = between(&source, 0, 1)};
        if (kind == LINES && seed % 2 == 0)
            trial->arms[b].strips = strips;
        for (size_t i = 0; i < SPOTS; i++) {
            struct spot *spot = &trial->spots[b][i];
            spot->x.lo = between(&source, 0, along - 1);
            spot->x.hi = fmin(along - 1, spot->x.lo + between(&source, 0, 3));
            spot->y.lo = between(&source, 0, up - 1);
            spot->y.hi = fmin(up - 1, spot->y.lo + between(&source, 0, 2));
            spot->stand = i;
            spot->miss = misses ? &nothing : NULL;
            spot->holes = (size_t)random_between(&source, 2, 5);
            struct miss *own = &trial->own[b][i];
            *own = nothing;
            own->ends = true;
            for (int row = ROW_TOP; row < ROW_COUNT; row++) {
                make_arm(&source, spot, parcel->width, kind == MOVES ? 9 : 4,
                         &trial->lists[b][i][row]);
                if (kind == FEET && random_once_in(&source, 2))
                    make_feet(&source, spot, parcel->width, &trial->lists[b][i][row]);
                if (kind == LINES)
                    make_few_lines(&source, spot, parcel->height, &trial->lists[b][i][row]);
                if (kind == MOVES)
                    make_lines(&source, spot, &trial->lists[b][i][row], own->free[row],
                               own->worth[row]);
            }
            if (kind == MOVES)
                spot->miss = own;
        }
    }
}

struct choice {
    double x, y, line[ROW_COUNT];
    size_t spot;
};

/* Where a strut lies for nothing; lo > hi where it always lacks something. */
static struct interval free_lines(const struct miss *miss, int row, double y) {
    const struct drawn *low = &miss->free[row][SIDE_FAR], *high = &miss->free[row][SIDE_NEAR];
    return (struct interval){fmax(low->fixed, y + low->goes), fmin(high->fixed, y + high->goes)};
}

/* What a bracket's struts lack by where they lie. */
static double lines_lack(const struct trial *trial, size_t b, const struct choice *at) {
    const struct miss *miss = &trial->own[b][at->spot];
    double sum = 0;
    for (int row = ROW_TOP; row < ROW_COUNT && trial->moves; row++) {
        const struct interval free = free_lines(miss, row, at->y);
        if (trial->lists[b][at->spot][row].there)
            sum += fmax(0, free.lo - at->line[row]) * miss->worth[row][SIDE_FAR] +
                   fmax(0, at->line[row] - free.hi) * miss->worth[row][SIDE_NEAR];
    }
    return sum;
}

struct limb {
    double x0, y0, x1, y1;
    enum { BOX, STRUT, FLASHING } kind;
};

/* Of an outer foot: from where it begins if drawn as high as it can be, to where it ends if drawn
 * as low. */
static struct limb flashing_of(const struct arms *arms, const struct arm *arm,
                               const struct choice *at, int row, int end) {
    const struct drawn *high = &arm->drawn[end][SIDE_NEAR], *low = &arm->drawn[end][SIDE_FAR];
    const double line = at->line[row];
    return (struct limb){fmin(high->fixed, at->x + high->goes) - arms->side, line - arms->down,
                         fmax(low->fixed, at->x + low->goes) + arms->side, line + arms->up,
                         FLASHING};
}

static size_t parts_of(const struct trial *trial, size_t b, const struct choice *at,
                       struct limb *parts) {
    const struct parcel *parcel = &trial->parcels[b];
    const struct arms *arms = parcel->arms;
    size_t count = 0;
    parts[count++] =
        (struct limb){at->x, at->y, at->x + parcel->width, at->y + parcel->height, BOX};
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct arm *arm = &trial->lists[b][at->spot][row];
        const double line = at->line[row];
        if (!arm->there)
            continue;
        if (arm->feet) {
            for (int end = SIDE_NEAR; end < SIDE_COUNT; end++)
                parts[count++] = flashing_of(arms, arm, at, row, end);
            continue;
        }
        parts[count++] = (struct limb){
            fmin(arm->lags[0], at->x + arm->clamps[0]) - arms->end, line - arms->half,
            fmax(arm->lags[1], at->x + arm->clamps[1]) + arms->end, line + arms->half, STRUT};
        for (int side = SIDE_NEAR; side < SIDE_COUNT; side++)
            if (arm->beyond[side])
                parts[count++] =
                    (struct limb){arm->lags[side] - arms->side, line - arms->down,
                                  arm->lags[side] + arms->side, line + arms->up, FLASHING};
    }
    return count;
}

/* The least gap that a rule asks for between two parts; -INFINITY: there is none. */
static double asked(const struct trial *trial, size_t a, const struct limb *one, size_t b,
                    const struct limb *other) {
    const struct parcel *first = &trial->parcels[a], *second = &trial->parcels[b];
    const double level = fmax(first->level, second->level);
    if (one->kind == other->kind)
        return one->kind == BOX ? fmax(first->room, second->room) : 2 * level;
    const bool strut_and_box = one->kind + other->kind == STRUT + BOX;
    return strut_and_box ? level : -INFINITY;
}

static bool clear(const struct trial *trial, size_t a, const struct choice *one, size_t b,
                  const struct choice *other) {
    struct limb parts[2][7];
    const size_t counts[] = {parts_of(trial, a, one, parts[0]),
                             parts_of(trial, b, other, parts[1])};
    for (size_t i = 0; i < counts[0]; i++)
        for (size_t j = 0; j < counts[1]; j++) {
            const struct limb *p = &parts[0][i], *q = &parts[1][j];
            const double gap =
                fmax(fmax(q->x0 - p->x1, p->x0 - q->x1), fmax(q->y0 - p->y1, p->y0 - q->y1));
            if (gap < asked(trial, a, p, b, q) - 1e-6)
                return false;
        }
    return true;
}

/* What the parts of two lack of being apart, and the brackets of `apart`. */
static double lack_of(const struct trial *trial, size_t a, const struct choice *one, size_t b,
                      const struct choice *other, double apart) {
    struct limb parts[2][7];
    const size_t counts[] = {parts_of(trial, a, one, parts[0]),
                             parts_of(trial, b, other, parts[1])};
    double sum = 0;
    for (size_t i = 0; i < counts[0]; i++)
        for (size_t j = 0; j < counts[1]; j++) {
            const struct limb *p = &parts[0][i], *q = &parts[1][j];
            const double gap =
                fmax(fmax(q->x0 - p->x1, p->x0 - q->x1), fmax(q->y0 - p->y1, p->y0 - q->y1));
            const bool boxes = p->kind == BOX && q->kind == BOX;
            if (p->kind == q->kind)
                sum += fmax(0, (boxes ? apart : 0) - gap) / 2;
            else if (p->kind + q->kind == STRUT + BOX)
                sum += fmax(0, -gap);
        }
    return sum;
}

static double cost_of(const struct trial *trial, size_t b, const struct choice *at) {
    const struct parcel *parcel = &trial->parcels[b];
    return fabs(at->x - parcel->want_x) + fabs(at->y - parcel->want_y) +
           trial->hole_worth * (double)trial->spots[b][at->spot].holes;
}

static bool better(struct worth a, struct worth b) {
    return a.lack < b.lack - 1e-9 || (a.lack <= b.lack + 1e-9 && a.cost < b.cost);
}

static struct worth worth_of(const struct trial *trial, const struct choice *placed, size_t count,
                             double apart) {
    struct worth worth = {0, 0};
    for (size_t b = 0; b < count; b++) {
        worth.cost += cost_of(trial, b, &placed[b]);
        worth.lack += lines_lack(trial, b, &placed[b]);
        for (size_t o = 0; o < b && trial->misses; o++)
            worth.lack += lack_of(trial, o, &placed[o], b, &placed[b], apart);
    }
    return worth;
}

static void try_all(const struct trial *trial, size_t b, struct worth so_far, struct choice *placed,
                    struct worth *best);

/* Whether a strut may lie where it does: with its bracket there, and on a strip. */
static bool lies_at(const struct trial *trial, size_t b, int row, const struct choice *at) {
    const struct arm *arm = &trial->lists[b][at->spot][row];
    const struct strips *on = &trial->parcels[b].arms->strips;
    const double line = at->line[row];
    bool there = !on->list;
    for (size_t i = 0; i < on->count; i++)
        there = there || (line >= on->list[i].lo - 1e-6 && line <= on->list[i].hi + 1e-6);
    return there && line >= fmax(arm->line[0], at->y + arm->rise[0]) - 1e-6 &&
           line <= fmin(arm->line[1], at->y + arm->rise[1]) + 1e-6;
}

/* The same with b there and its struts from that row on on every whole line. */
static void try_lines(const struct trial *trial, size_t b, int row, struct worth so_far,
                      struct choice *placed, struct worth *best) {
    if (row < ROW_COUNT) {
        const struct arm *arm = &trial->lists[b][placed[b].spot][row];
        for (double line = arm->line[0]; line <= (arm->there ? arm->line[1] : arm->line[0]);
             line++) {
            placed[b].line[row] = line;
            if (!arm->there || lies_at(trial, b, row, &placed[b]))
                try_lines(trial, b, row + 1, so_far, placed, best);
        }
        return;
    }
    struct worth worth = {so_far.lack + lines_lack(trial, b, &placed[b]),
                          so_far.cost + cost_of(trial, b, &placed[b])};
    bool fits = true;
    for (size_t o = 0; o < b && fits; o++)
        fits = clear(trial, o, &placed[o], b, &placed[b]);
    for (size_t o = 0; o < b && fits && trial->misses; o++)
        worth.lack += lack_of(trial, o, &placed[o], b, &placed[b], APART);
    if (fits && worth.lack <= best->lack)
        try_all(trial, b + 1, worth, placed, best);
}

/* The best of all choices from b on, in every spot at every whole place; so far: what those before
 * it are worth. */
static void try_all(const struct trial *trial, size_t b, struct worth so_far, struct choice *placed,
                    struct worth *best) {
    if (b >= trial->count || b >= PARCELS_MOST) {
        if (better(so_far, *best))
            *best = so_far;
        return;
    }
    for (size_t i = 0; i < trial->parcels[b].spot_count; i++) {
        const struct spot *spot = &trial->spots[b][i];
        for (double x = spot->x.lo; x <= spot->x.hi; x++)
            for (double y = spot->y.lo; y <= spot->y.hi; y++) {
                if (trial->any && best->cost < INFINITY)
                    return;
                placed[b] = (struct choice){.x = x, .y = y, .spot = i};
                try_lines(trial, b, ROW_TOP, so_far, placed, best);
            }
    }
}

/* Of the lines on which a strut may lie one that a packing would rather have; that it is there is
 * held. */
static double line_on_strips(const struct trial *trial, size_t b, int row,
                             const struct placed *placed) {
    static const struct interval anywhere = {-INFINITY, INFINITY};
    const struct arm *arm = &trial->lists[b][placed->spot.stand][row];
    const struct strips *on = &trial->parcels[b].arms->strips;
    const struct interval rather = placed->rather.lines[row];
    for (size_t i = 0; i < (on->list ? on->count : 1) && arm->there; i++) {
        const struct interval strip = on->list ? on->list[i] : anywhere;
        const double lo = fmax(fmax(rather.lo, strip.lo),
                               fmax(arm->line[0], placed->y + arm->rise[0])),
                     hi = fmin(fmin(rather.hi, strip.hi),
                               fmin(arm->line[1], placed->y + arm->rise[1]));
        if (lo <= hi + 1e-6)
            return (lo + hi) / 2;
    }
    assert_false(arm->there);
    return 0;
}

/* The line that a packing has its strut on. */
static double line_of(const struct trial *trial, size_t b, int row, const struct placed *placed) {
    const struct arm *arm = &trial->lists[b][placed->spot.stand][row];
    const struct interval rather = placed->rather.lines[row];
    const struct interval free = free_lines(&trial->own[b][placed->spot.stand], row, placed->y);
    if (trial->few_lines)
        return line_on_strips(trial, b, row, placed);
    if (!trial->moves)
        return arm->line[0];
    return fmin(arm->line[1],
                fmax(arm->line[0], rather.lo > -INFINITY ? rather.lo : (free.lo + free.hi) / 2));
}

/* Where the outer foot of a row is lagged: midway in what it can be drawn to, or no further out
 * than a packing says that it must be. */
static double foot_of(const struct trial *trial, const struct placed *placed, size_t b, int row,
                      int end, bool drawn) {
    const struct arm *arm = &trial->lists[b][placed[b].spot.stand][row];
    const struct drawn *high = &arm->drawn[end][SIDE_NEAR], *low = &arm->drawn[end][SIDE_FAR];
    const double x = placed[b].x, most = fmin(high->fixed, x + high->goes),
                 least = fmax(low->fixed, x + low->goes), midway = (least + most) / 2;
    const struct interval must = placed[b].rather.must[row];
    if (!drawn)
        return midway;
    return end == SIDE_FAR ? fmin(midway, fmax(least, must.hi)) : fmax(midway, fmin(most, must.lo));
}

/* How much more there is between the flashings of two feet than they have to keep, one row's last
 * one and another's first; drawn: as a packing says, otherwise midway. */
static double feet_spare(const struct trial *trial, const struct placed *placed,
                         const size_t two[2], const int rows[2], bool drawn) {
    const struct parcel *one = &trial->parcels[two[0]], *other = &trial->parcels[two[1]];
    return foot_of(trial, placed, two[1], rows[1], SIDE_NEAR, drawn) - other->arms->side -
           foot_of(trial, placed, two[0], rows[0], SIDE_FAR, drawn) - one->arms->side -
           2 * fmax(one->level, other->level);
}

/* Feet of two brackets that lines do not keep apart, and drawing in does: there is room between
 * their flashings once they are lagged.  In how many there would be none midway. */
static size_t hold_feet(const struct trial *trial, const struct placed *placed,
                        const struct choice *choices, const size_t two[2]) {
    size_t drawn = 0;
    for (int i = 0; i < ROW_COUNT * ROW_COUNT; i++) {
        const int rows[2] = {i / ROW_COUNT, i % ROW_COUNT};
        struct limb parts[2];
        bool feet = true;
        for (int k = 0; k < 2; k++) {
            const size_t b = two[k];
            const struct arms *arms = trial->parcels[b].arms;
            const struct arm *arm = arms ? &trial->lists[b][placed[b].spot.stand][rows[k]] : NULL;
            feet = feet && arm && arm->there && arm->feet;
            if (feet)
                parts[k] =
                    flashing_of(arms, arm, &choices[b], rows[k], k == 0 ? SIDE_FAR : SIDE_NEAR);
        }
        const double gap =
            feet ? 2 * fmax(trial->parcels[two[0]].level, trial->parcels[two[1]].level) : 0;
        if (!feet || parts[1].x0 - parts[0].x1 < gap ||
            fmax(parts[1].y0 - parts[0].y1, parts[0].y0 - parts[1].y1) >= gap - 1e-6)
            continue;
        assert_true(feet_spare(trial, placed, two, rows, true) >= -1e-6);
        drawn += feet_spare(trial, placed, two, rows, false) < -1e-6;
    }
    return drawn;
}

/* In how many feet are drawn in. */
static size_t hold(const struct trial *trial, const struct placed *placed, double apart,
                   struct worth worth, uint64_t seed) {
    size_t drawn = 0;
    struct choice choices[PARCELS_MOST];
    for (size_t b = 0; b < trial->count; b++) {
        choices[b] =
            (struct choice){.x = placed[b].x, .y = placed[b].y, .spot = placed[b].spot.stand};
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            choices[b].line[row] = line_of(trial, b, row, &placed[b]);
        for (size_t o = 0; o < b; o++)
            if (!clear(trial, o, &choices[o], b, &choices[b]))
                fail_msg("seed %llu: %zu and %zu cross", (unsigned long long)seed, o, b);
    }
    const struct worth own = worth_of(trial, choices, trial->count, apart);
    assert_true(fabs(own.cost - worth.cost) < 1e-6 && fabs(own.lack - worth.lack) < 1e-6);
    for (size_t b = 0; b < trial->count && !trial->misses; b++)
        for (size_t o = 0; o < b; o++) {
            const bool first = placed[o].x <= placed[b].x;
            drawn +=
                hold_feet(trial, placed, choices, (const size_t[]){first ? o : b, first ? b : o});
        }
    return drawn;
}

/* How often there was a packing, and how often it would be a better one without arms. */
struct tally {
    size_t found, dearer, moved, drawn; /* moved: lines lack something by where they are; drawn:
                                           feet that are drawn in */
};

static void try_one(uint64_t seed, enum kind kind, struct tally *tally) {
    static struct trial trial;
    struct placed placed[PARCELS_MOST], one[PARCELS_MOST];
    struct choice tried[PARCELS_MOST];
    struct worth worth = {0, 0}, other = {0, 0}, bound = {0, 0}, best = {INFINITY, INFINITY};
    enum packing_end end, any;
    make(seed, kind, &trial);
    struct packing_task task = {.parcels = trial.parcels,
                                .count = trial.count,
                                .hole_worth = trial.hole_worth,
                                .misses = trial.misses,
                                .apart = APART};
    assert_int_equal(packing_find(&task, &end, placed, &worth, &bound), OUTCOME_DONE);
    try_all(&trial, 0, (struct worth){0, 0}, tried, &best);
    if (kind == MOVES && end == PACKING_FOUND) {
        if (worth.lack < best.lack - 1e-6 || bound.lack > best.lack + 1e-6)
            fail_msg("seed %llu: lacks %g, at least %g, best %g", (unsigned long long)seed,
                     worth.lack, bound.lack, best.lack);
        return;
    }
    if (end != (best.cost < INFINITY ? PACKING_PROVED : PACKING_NONE))
        fail_msg("seed %llu: ended with %d, best %g", (unsigned long long)seed, (int)end,
                 best.cost);
    task.any = true;
    assert_int_equal(packing_find(&task, &any, one, &other, &bound), OUTCOME_DONE);
    assert_int_equal(any, end);
    if (end == PACKING_NONE)
        return;
    tally->found++;
    if (!(fabs(worth.lack - best.lack) < 1e-6) || !(fabs(worth.cost - best.cost) < 1e-6))
        fail_msg("seed %llu: lacks %g and costs %g, best %g and %g", (unsigned long long)seed,
                 worth.lack, worth.cost, best.lack, best.cost);
    tally->drawn += hold(&trial, placed, APART, worth, seed);
    for (size_t b = 0; b < trial.count; b++) {
        struct choice at = {.x = placed[b].x, .y = placed[b].y, .spot = placed[b].spot.stand};
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            at.line[row] = line_of(&trial, b, row, &placed[b]);
        tally->moved += lines_lack(&trial, b, &at) > 0;
    }
    for (size_t b = 0; b < trial.count; b++)
        trial.parcels[b].arms = NULL;
    task.any = false;
    assert_int_equal(packing_find(&task, &any, one, &other, &bound), OUTCOME_DONE);
    tally->dearer += better(other, best);
}

/* Fewer in a slow build, as of random roofs. */
static size_t cases(size_t wanted) {
    return random_roof_count(wanted) < wanted ? wanted / 4 : wanted;
}

static struct tally try_many(enum kind kind, uint64_t count) {
    struct tally tally = {.found = 0};
    for (uint64_t seed = 1; seed <= count; seed++)
        try_one(seed, kind, &tally);
    return tally;
}

/* The last ones as the first again, which stand in the very same spots. */
static void make_alike(struct trial *trial, size_t count) {
    for (size_t b = trial->count; b < count; b++) {
        trial->parcels[b] = trial->parcels[b % trial->count];
        memcpy(trial->spots[b], trial->spots[b % trial->count], sizeof trial->spots[b]);
        memcpy(trial->lists[b], trial->lists[b % trial->count], sizeof trial->lists[b]);
    }
    trial->count = count;
}

/* Whether any packing is there, by a search of so many nodes (0: no limit): that it is, or that it
 * is not, is only said where it is so.  One more in `said`, unless nothing is. */
static void hold_what_is_said(const struct trial *trial, size_t most_nodes, uint64_t seed,
                              size_t said[2]) {
    struct placed placed[PARCELS_MOST];
    struct choice tried[PARCELS_MOST];
    struct worth worth, bound, best = {INFINITY, INFINITY};
    enum packing_end end;
    const struct packing_task task = {.parcels = trial->parcels,
                                      .count = trial->count,
                                      .hole_worth = trial->hole_worth,
                                      .any = true,
                                      .most_nodes = most_nodes,
                                      .hasty = most_nodes > 0 && seed % 8 == 0};
    assert_int_equal(packing_find(&task, &end, placed, &worth, &bound), OUTCOME_DONE);
    if (end == PACKING_UNDECIDED)
        return;
    try_all(trial, 0, (struct worth){0, 0}, tried, &best);
    if (end != (best.cost < INFINITY ? PACKING_PROVED : PACKING_NONE))
        fail_msg("seed %llu: ended with %d, best %g", (unsigned long long)seed, (int)end,
                 best.cost);
    said[end == PACKING_NONE]++;
    if (end == PACKING_PROVED)
        hold(trial, placed, APART, worth, seed);
}

/* Two, three or four, of which some are alike, before anything is searched for. */
static void one_node_says_what_is_so(enum kind kind, uint64_t seeds, const size_t least[2]) {
    size_t said[2] = {0, 0};
    for (uint64_t seed = 1; seed <= seeds; seed++) {
        static struct trial trial;
        make(seed + 70000, kind, &trial);
        if (seed % 3 > 0)
            make_alike(&trial, trial.count == 2 ? PARCELS_MOST : trial.count);
        hold_what_is_said(&trial, 1, seed, said);
    }
    if (said[0] < least[0] || said[1] < least[1])
        fail_msg("only %zu that fit and %zu that do not", said[0], said[1]);
}

static void one_node_says_of_struts_what_is_so(void **state) {
    (void)state;
    const size_t count = cases(500);
    one_node_says_what_is_so(FITS, count, (const size_t[]){count * 2 / 5, count / 25});
}

static void one_node_says_of_feet_what_is_so(void **state) {
    (void)state;
    const size_t count = cases(500);
    one_node_says_what_is_so(FEET, count, (const size_t[]){count * 2 / 5, count / 25});
}

static void one_node_says_of_lines_what_is_so(void **state) {
    (void)state;
    const size_t count = cases(200);
    one_node_says_what_is_so(LINES, count, (const size_t[]){count / 5, count / 5});
}

/* Two parts that are clear of each other for some lines of either need not all be for the same
 * ones: what is found is there with all lines at once, and where there is none none is found. */
static void lines_that_are_found_agree(void **state) {
    (void)state;
    const size_t count = cases(400);
    size_t said[2] = {0, 0};
    for (uint64_t seed = 1; seed <= count; seed++) {
        static struct trial trial;
        make(seed + 90000, LINES, &trial);
        hold_what_is_said(&trial, 0, seed, said);
    }
    if (said[0] + said[1] < count * 9 / 10 || said[1] < count / 5)
        fail_msg("only %zu that fit and %zu that do not", said[0], said[1]);
}

static bool refuse(struct packing *packing, struct places *places) {
    (void)packing;
    (void)places;
    return false;
}

/* Whether a sweep says that none packs, looking ever closer, as nothing that it comes to will do.
 */
static bool says_none(const struct trial *trial, size_t most_nodes) {
    struct placed placed[PARCELS_MOST];
    const struct packing_task task = {.parcels = trial->parcels,
                                      .count = trial->count,
                                      .hole_worth = trial->hole_worth,
                                      .any = true,
                                      .most_nodes = most_nodes};
    struct packing *packing = malloc(sizeof *packing);
    assert_non_null(packing);
    assert_true(packing_begin(packing, &task, placed));
    const bool nothing_packs =
        !packing_narrow(packing) || packing_swept(packing, RANKED_LOOSE, refuse) == RANKED_NONE;
    packing_end(packing);
    free(packing);
    return nothing_packs;
}

/* How many pack, and of how many a sweep says that they do not. */
struct held {
    size_t packs, nones;
};

/* A sweep that says so is right. */
static void hold_none(const struct trial *trial, size_t most_nodes, uint64_t seed,
                      struct held *held) {
    struct choice tried[PARCELS_MOST];
    struct worth best = {INFINITY, INFINITY};
    const bool nothing_packs = says_none(trial, most_nodes);
    try_all(trial, 0, (struct worth){0, 0}, tried, &best);
    if (nothing_packs && best.cost < INFINITY)
        fail_msg("seed %llu: none packs, but one does", (unsigned long long)seed);
    held->packs += best.cost < INFINITY;
    held->nones += nothing_packs;
}

static void assert_held(const struct held *held, size_t count, size_t least) {
    printf("%zu pack, of %zu others %zu are said not to\n", held->packs, count - held->packs,
           held->nones);
    assert_true(held->packs > count / 4 && held->nones > least);
}

/* What is left out and made smaller on the way is in no packing: as long as there is one, it is
 * never said that none packs. */
static void closer_looks_leave_out_nothing(void **state) {
    (void)state;
    static const enum kind kinds[] = {FITS, FEET, LINES};
    const size_t count = cases(400);
    struct held held = {0, 0};
    for (uint64_t seed = 1; seed <= count; seed++) {
        static struct trial trial;
        make(seed + 110000, kinds[seed % 3], &trial);
        if (seed % 2 > 0)
            make_alike(&trial, trial.count == 2 ? PARCELS_MOST : trial.count);
        hold_none(&trial, seed % 5 > 0 ? 0 : 1, seed, &held);
    }
    assert_held(&held, count, count / 20);
}

/* So close along the eave that most of them have to stand above each other, and three just can. */
static void stack(struct trial *trial) {
    for (size_t b = 0; b < trial->count; b++) {
        trial->parcels[b].height = 3;
        trial->parcels[b].room = fmin(trial->parcels[b].room, 1);
        for (size_t i = 0; i < SPOTS; i++) {
            struct spot *spot = &trial->spots[b][i];
            const double by = spot->x.lo - fmod(spot->x.lo, 4);
            spot->x.lo -= by;
            spot->x.hi -= by;
            for (int row = ROW_TOP; row < ROW_COUNT; row++)
                for (int end = SIDE_NEAR; end < SIDE_COUNT; end++) {
                    trial->lists[b][i][row].lags[end] -= by;
                    for (int side = SIDE_NEAR; side < SIDE_COUNT; side++)
                        trial->lists[b][i][row].drawn[end][side].fixed -= by;
                }
        }
    }
}

/* With three above each other a sweep knows as much as it does of two. */
static void three_ranks_say_what_is_so(void **state) {
    (void)state;
    const size_t count = cases(400);
    size_t said[2] = {0, 0};
    struct held held = {0, 0};
    for (uint64_t seed = 1; seed <= count; seed++) {
        static struct trial trial;
        make(seed + 130000, seed % 2 > 0 ? FITS : FEET, &trial);
        stack(&trial);
        if (seed % 3 > 0)
            make_alike(&trial, PARCELS_MOST);
        hold_what_is_said(&trial, 1, seed, said);
        hold_none(&trial, 0, seed, &held);
    }
    printf("of one node %zu and %zu\n", said[0], said[1]);
    assert_held(&held, count, count / 4);
}

/* One spot or two, as tall as two brackets or more, and struts whose lines go with Y. */
static void make_tall(struct random_source *source, struct trial *trial) {
    trial->any = true;
    for (size_t b = 0; b < trial->count; b++) {
        struct parcel *parcel = &trial->parcels[b];
        parcel->height = between(source, 3, 5);
        parcel->spot_count = (size_t)random_between(source, 1, 2);
        for (size_t i = 0; i < parcel->spot_count; i++) {
            struct spot *spot = &trial->spots[b][i];
            spot->x.lo = between(source, 0, 6);
            spot->x.hi = spot->x.lo + between(source, 0, 2);
            spot->y.lo = between(source, 0, 2);
            spot->y.hi = spot->y.lo + between(source, 4, 7);
            for (int row = ROW_TOP; row < ROW_COUNT; row++) {
                struct arm *arm = &trial->lists[b][i][row];
                const double rise = between(source, 0, (int)parcel->height);
                make_arm(source, spot, parcel->width, 3, arm);
                arm->rise[0] = rise;
                arm->rise[1] = rise + between(source, 0, 1);
                arm->line[0] = spot->y.lo;
                arm->line[1] = spot->y.hi + parcel->height + 1;
            }
        }
    }
}

/* Where one of two in each other's way is above the other one, that says where a third one can be.
 */
static void three_mind_what_is_left_of_each_other(void **state) {
    (void)state;
    const size_t count = cases(600);
    struct held held = {0, 0};
    for (uint64_t seed = 1; seed <= count; seed++) {
        static struct trial trial;
        struct random_source source = {seed + 160000};
        make(seed + 150000, LINES, &trial);
        make_tall(&source, &trial);
        make_alike(&trial, 3);
        hold_none(&trial, seed % 5 > 0 ? 1 : 0, seed, &held);
    }
    assert_held(&held, count, count / 4);
}

static void best_packing_is_the_best_of_all(void **state) {
    (void)state;
    const size_t count = cases(1500);
    const struct tally tally = try_many(FITS, count);
    /* Often enough it is the arms that make a packing dearer, or leave none. */
    assert_true(tally.found > count / 5 && tally.found < count * 14 / 15 &&
                tally.dearer > count / 15);
}

static void feet_keep_off_as_well(void **state) {
    (void)state;
    const size_t count = cases(1500);
    const struct tally tally = try_many(FEET, count);
    printf("feet are drawn in %zu times\n", tally.drawn);
    assert_true(tally.found > count * 2 / 3 && tally.found < count * 149 / 150 &&
                tally.dearer > count / 5 && tally.drawn > count / 20);
}

static void nearest_miss_is_the_nearest_of_all(void **state) {
    (void)state;
    const struct tally tally = try_many(MISSES, 400);
    assert_true(tally.found > 150 && tally.dearer > 60);
}

static void lines_move_where_that_is_less(void **state) {
    (void)state;
    const size_t count = cases(1000);
    const struct tally tally = try_many(MOVES, count);
    assert_true(tally.found > count * 4 / 5 && tally.dearer > count * 3 / 10 &&
                tally.moved > count / 50);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_node_says_of_struts_what_is_so),
        cmocka_unit_test(one_node_says_of_feet_what_is_so),
        cmocka_unit_test(one_node_says_of_lines_what_is_so),
        cmocka_unit_test(lines_that_are_found_agree),
        cmocka_unit_test(closer_looks_leave_out_nothing),
        cmocka_unit_test(three_ranks_say_what_is_so),
        cmocka_unit_test(three_mind_what_is_left_of_each_other),
        cmocka_unit_test(best_packing_is_the_best_of_all),
        cmocka_unit_test(feet_keep_off_as_well),
        cmocka_unit_test(nearest_miss_is_the_nearest_of_all),
        cmocka_unit_test(lines_move_where_that_is_less),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
