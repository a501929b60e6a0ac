/* A list of stands while it is made; private to this folder. */
#ifndef RUDDLE_LISTING_H
#define RUDDLE_LISTING_H

#include "band.h"
#include "stands.h"

#include <stdbool.h>
#include <stdint.h>

/* What every part needs at hand; borrowed but for `stands`, which grows. */
struct listing {
    const struct stands_ask *ask;
    const struct roof *roof;
    const struct kit *kit;
    size_t bracket;
    enum row row;                /* whose holds are being made */
    double least;                /* how ways are told apart: by what they can come to there */
    double lowest;               /* no way is listed that ends below this; at least `least` */
    const struct limits *limits; /* NULL: none */
    size_t least_lags[ROW_COUNT];
    struct box face; /* of the roof */
    struct band x;   /* of X, by setbacks alone */
    double y[2];     /* of Y, by setbacks alone: y[0] + level <= Y <= y[1] - level */
    size_t course;   /* where joints are known, the one that the row's line is on; otherwise 0 */
    double row_y[2]; /* the row's line, by the face and its own window on Y; where anything leans,
                        on a few courses */
    struct stands *stands;
    size_t hold_room, stand_room;
    size_t work, work_most, stands_most;
    bool *left_out[ROW_COUNT]; /* holds that make no pairs, one flag a hold; NULL: all make some */
    struct best_stand *best;   /* NULL: stands are listed; else only the best level is sought */
    bool failed;               /* no memory */
};

enum {
    LISTING_LAGS_MOST = 40,      /* lags of a row */
    LISTING_HOLDS_MOST = 60000,  /* ways to hold a row; more are not worth listing */
    LISTING_WORK_MOST = 2000000, /* looks at half-made ways, most of which come to nothing */
    LISTING_WORK_ALONE = 60000   /* where only the best level of a bracket alone is sought, on a few
                                       rafters: the program is soon done with that too */
};

/* How many times longer it is worth to go on than on a few plies, as the program takes about so
 * much longer: the fourth power of their number.  1 up to PLIES_SOON. */
enum { PLIES_SOON = 12, PLIES_SOON_4 = PLIES_SOON * PLIES_SOON * PLIES_SOON * PLIES_SOON };
size_t stands_patience(const struct roof *roof);

/* A hold while it is put together.  Ways that part from it share its lags; whoever changes one
 * puts it back. */
struct holding {
    struct hold hold; /* lags is unused */
    struct stand_lag *lags;
};

/* Heights of a bracket are asked for again and again under the same few limits: the rows' own, the
 * bracket's, and where the rows meet it. */
struct limits_on_height {
    double row[ROW_COUNT][2], y[2], v[ROW_COUNT][2];
};

enum { BEST_STAND_KNOWN = 16 };

/* The best level of the stands seen so far. */
struct best_stand {
    double level; /* -INFINITY: of none */
    /* The best levels that some limits on height allow, where above what was the best then. */
    struct limits_on_height limits[BEST_STAND_KNOWN];
    double heights[BEST_STAND_KNOWN];
    size_t known, next;
};

/* Intervals, rising and apart. */
struct union_of {
    struct interval *list;
    size_t count;
};

/* Y at some level: for each row alone, and for both. */
struct heights {
    struct union_of rows[ROW_COUNT], both;
};

/* heights.c: false without memory.  heights_end either way. */
bool heights_begin(const struct roof *roof, struct heights *heights);
void heights_end(struct heights *heights);
struct limits_on_height heights_limits(const struct stands *stands, const struct stand *stand);
bool heights_same_limits(const struct limits_on_height *a, const struct limits_on_height *b);
/* Where up its legs a row meets its bracket at a level; limits: those of the stand. */
struct interval heights_rise(const struct stands *stands, enum row row, const double limits[2],
                             double level);
/* The ends of where a line may lie, drawn in to the first and the last strip between them. */
void heights_draw_line(const struct strips *strips, double line[2]);
void heights_at(const struct stands *stands, const struct limits_on_height *limits, double level,
                struct heights *heights);

/* spots.c: whether a spot lies inside another one that takes no more holes, and so says nothing
 * new.
 */
bool spots_inside(const struct spot *spot, const struct spot *of);
/* spots.c: sorts them by place and drops nearly all that lie inside another one; returns how many
 * are left.  stands: theirs, where only those with the same arms at the level better each other;
 * else NULL. */
size_t spots_drop_bettered(const struct stands *stands, double level, struct spot *list,
                           size_t count);

/* The first lag of a hold, or the last. */
static inline const struct stand_lag *outer_lag(const struct hold *hold, enum side side) {
    return &hold->lags[side == SIDE_NEAR ? 0 : hold->count - 1];
}

/* arms.c: whether holds of a row, or stands at a level, have their struts' ends at the same places,
 * as far as these are in anybody's way. */
struct held {
    const struct hold *hold;
    struct interval x; /* of the bracket */
};
bool arms_alike(const struct stands *stands, enum row row, double level, const struct held *a,
                const struct held *b);
bool arms_both_alike(const struct stands *stands, double level, size_t one, size_t other);
/* One number for each stand: where those of two differ, so do their arms.  Owned by the caller;
 * NULL without memory. */
uint64_t *arms_prints(const struct stands *stands, double level);
/* A strut from end to end, with the bracket anywhere in there. */
struct interval arms_strut(const struct kit *kit, const struct hold *hold, struct interval x);
/* Whether two struts end at the same lags and clamps. */
bool arms_same_end(const struct hold *a, const struct hold *b);
/* Whether all of the outer lags and clamps of stands are the same. */
bool arms_end_alike(const struct stands *stands, size_t one, size_t other);

/* bettered.c: true for each hold of a row that another one betters at the level, wherever the
 * bracket is, so that it is never the cheaper one; owned by the caller, NULL without memory. */
bool *bettered_holds(const struct stands *stands, enum row row, double level);

/* Which of a row's holds are listed, one flag a hold, owned by the caller; NULL without memory. */
typedef bool *chooser(const struct listing *listing, const struct hold *holds, size_t count);

/* rack.c: a list of holds, with their lags; accepts NULL. */
void holds_free(struct hold *list, size_t count);

/* rack.c: the holds of the row that is being listed from what was listed before, false: there is
 * nothing that says them; and puts them there. */
bool rack_take(struct listing *listing, chooser *choose);
void rack_put(const struct listing *listing);

/* combine.c: X as each hold of a row leaves it at a level (owned by the caller, NULL without
 * memory), and as a stand does by those of its holds. */
struct interval *holds_at(const struct stands *stands, enum row row, double level);
struct interval stand_between(const struct stand *stand, const struct interval *const at[ROW_COUNT],
                              double level);

/* The face; halfway up it, where edges lean. */
struct box stands_face(const struct roof *roof);
static inline bool edge_leans(const struct edge *edge) {
    return fabs(edge->nx) > 0 && fabs(edge->ny) > 0;
}

/* Where the middle of a ply is on the line of the row that is being listed, give or take a sway: so
 * much room it takes, and where the listing is lenient leaves, which is below zero. */
struct on_line {
    double middle, sway;
};
struct on_line listing_ply(const struct listing *listing, size_t ply);

/* Whether the row that is being listed is on a strut. */
static inline bool listing_has_strut(const struct listing *listing) {
    return listing->roof->brackets[listing->bracket].hardware[listing->row] == HARDWARE_STRUT;
}

/* True where there is no use in going on: no memory, or too many ways; counts one more look. */
bool listing_over(struct listing *listing);

/* heights.c: sees one more stand. */
void best_stand_see(const struct stands *stands, const struct stand *stand,
                    struct best_stand *best);

/* heights.c: false where all that a stand can become, once it is bounded further, is no better. */
bool best_stand_may_better(const struct stands *stands, const struct stand *stand,
                           struct best_stand *best);

/* Whether there is anywhere to be at a level; to one that is made, at some level of interest. */
bool hold_alive(const struct hold *hold, double level);
bool holding_alive(const struct listing *listing, const struct holding *holding);
/* Adds it to the list of its row. */
void holding_add(struct listing *listing, const struct holding *holding);

/* Where the clamps on a strut's outer legs sit, seen from X: on those sides of their legs. */
struct interval outer_clamps(const struct kit *kit, const enum side clamps[SIDE_COUNT]);

/* runs.c, seats.c: every hold of the listing's row. */
void list_runs(struct listing *listing);
void list_seats(struct listing *listing);

/* seats.c: bounds on X from the feet in their order; caps what no X can mend. */
void seats_bound(const struct listing *listing, struct holding *holding);
/* x of every foot of a bracket at x, each midway in what is left to it; the outer ones within what
 * its row had rather, if they can.  NULL: anywhere. */
void seats_place(const struct roof *roof, size_t bracket, const struct hold *hold, double level,
                 double x, const struct rather *rather, enum row row, double *lags);
/* How far the outer feet of a bracket with X in there can be drawn in, see struct miss. */
void seats_draw_in(const struct roof *roof, size_t bracket, const struct hold *hold, double level,
                   struct interval x, struct drawn drawn[SIDE_COUNT][SIDE_COUNT][DRAWN_COUNT]);
/* The furthest out that its outer foot may be on that side. */
double seats_furthest(const struct roof *roof, size_t bracket, const struct hold *hold,
                      struct interval x, enum side side);

/* dodge.c: the ways round vents and keepouts, each as a hold of its own; the first is numbered 0.
 */
void dodge_all(struct listing *listing, const struct holding *holding);

/* misses_ends.c: where a row's line lacks least for a bracket at y in a spot with a miss. */
struct line_best misses_lines(const struct stands *stands, const struct spot *spot, enum row row,
                              double level, double y);

/* cover.c: true for each hold, of the row that is being listed, that it takes to reach every place
 * which all of them reach at the lowest level; with arms, in every way in which its strut ends.
 */
chooser cover_row;

/* lesser.c: for each of them, whether there may be a place at which it lacks less than all others.
 */
chooser lacking_row;

/* combine.c: every pair of holds, round the vents, and elsewhere than where it is ruled out. */
void list_pairs(struct listing *listing);
/* seek.c: the best level of all pairs; -INFINITY: of none. */
double seek_best(struct listing *listing);
/* One pair. */
void list_pair(struct listing *listing, size_t top, size_t bottom);
/* True where fewer lags always do: nothing asks for more, and no set of plies is ruled out. */
bool fewer_lags_do(const struct listing *listing);

#endif
