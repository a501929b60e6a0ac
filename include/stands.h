/* Stands: every way in which one bracket, alone on its roof, can be held, and where it can then
 * stand.  Nothing is searched for by trial: what a bracket's rules allow is a list of rectangles
 * of (X, Y) whose sides move inwards as the level (the least margin asked for) rises.
 * docs/stands.md gives the mathematics.
 *
 * That holds where nothing leans: a rectangular face, rafters square to the eave, no pipe and no
 * hole that is already drilled.  stands_apply says so; elsewhere the program of model.h decides.
 */
#ifndef RUDDLE_STANDS_H
#define RUDDLE_STANDS_H

#include "candidates.h"
#include "lack.h"
#include "model.h"
#include "pieces.h"
#include "problem.h"
#include "roof.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

/* The sides of an interval that shrinks as the level rises: a value lies in it where, for every k,
 * lo[k] + k * level <= value <= hi[k] - k * level.  -INFINITY, INFINITY: no such side. */
enum { STAND_SLOPES = 16 };
struct band {
    double lo[STAND_SLOPES], hi[STAND_SLOPES];
    int slopes; /* from this k on there are no sides */
};

/* One lag of a row. */
struct stand_lag {
    size_t ply;    /* index into roof.plies */
    double middle; /* x of its middle on the row's line, give or take what it leans there */
    /* lo + level <= x <= hi - level for a foot.  A strut's lag lies in the middle of its ply,
     * between lo and hi; where that leans lenient lists have lo > hi. */
    double lo, hi;
    enum side turned; /* of a foot: the side of its leg that it is lagged on */
};

/* One way to hold a row: its lags, and where its bracket and its line may then be. */
struct hold {
    struct stand_lag *lags; /* owned; rising in x */
    size_t count;
    double cap;                   /* no level above this */
    struct band x;                /* of the bracket's X */
    double y[2];                  /* y[0] + level <= y of the row <= y[1] - level */
    enum side clamps[SIDE_COUNT]; /* of a strut: the sides that its outer legs' clamps sit on */
};

/* One way to hold a bracket. */
enum { STAND_PAST = 2 };
struct stand {
    size_t holds[ROW_COUNT]; /* indices into the lists of the rows */
    size_t holes;
    double cap;
    /* Beside what its holds leave X: past[k].lo + k * level <= X <= past[k].hi - k * level, past
     * plies that are ruled out (0) and vents (1). */
    struct interval past[STAND_PAST];
    double y[2];            /* y[0] + level <= Y <= y[1] - level */
    double v[ROW_COUNT][2]; /* at any level, rows meet the bracket between these */
};

/* What struts and the flashings of outer feet reach: nobody looks; those ends that may lie further
 * out than is in nobody's way but theirs, see struct arm; all of them, which takes longest. */
enum ends { ENDS_NONE, ENDS_BEYOND, ENDS_ALL };

struct stands {
    const struct roof *roof; /* borrowed */
    size_t bracket;
    double least; /* levels below this were of no interest */
    struct hold *holds[ROW_COUNT];
    size_t hold_counts[ROW_COUNT];
    struct stand *list;
    size_t count;
    size_t holders; /* who has it: freed by the last of them */
    bool crowded;   /* there are more ways than are worth listing: the list is not complete */
    enum ends arms; /* as asked for */
};

/* True where stands can be listed for every bracket of this roof. */
bool stands_apply(const struct roof *roof);

/* True where at least they can be as if there were no pipes.  What leans is said for lines on a few
 * courses: each stand holds wherever on those they run, or, lenient, all are there that hold
 * anywhere on them. */
bool stands_guide(const struct roof *roof);

/* What was listed of one roof's rows, for whoever asks for them again: of that roof and of those
 * that have its rafters, vents, face and kits, ask for as much, and have some of its brackets. NULL
 * without memory, which does no harm; owned by the caller. */
struct rack;
struct rack *rack_new(void);
void rack_free(struct rack *rack); /* accepts NULL */

/* Whose stands are listed, and how long; all borrowed. */
struct stands_ask {
    const struct roof *roof;
    size_t bracket;
    const struct limits *limits; /* what is ruled out, of this roof's brackets; may be NULL */
    size_t most;                 /* more stands are not listed; 0: STANDS_MOST */
    enum ends arms;    /* of two stands that are alike but for ends that are looked at none is left
                          out, nor of their spots */
    bool lenient;      /* of what leans the mildest counts, else the least mild */
    double near;       /* above 0: only stands so near the bracket's wish along the eave; 0: all */
    struct rack *rack; /* what was listed of the roof; NULL: all is listed anew */
    /* Asked every STANDS_LOOK looks at half-made ways; true: stop, as if they were too many.  May
     * be NULL. */
    bool (*stop)(void *subject);
    void *subject;
};
enum { STANDS_MOST = 400000, STANDS_LOOK = 4096 };

/* Lists every way to hold a bracket at a level of `least` or above; ways that another one betters
 * everywhere (fewer lags under the same limits) are left out.  FAULT: no memory.  *stands is
 * untouched unless DONE; owned by the caller. */
enum outcome stands_find(const struct stands_ask *ask, double least, struct stands **stands);

/* Lists as many of them as reach, at that very level, every place that any of them reaches on as
 * few holes.  The list says nothing about other levels, nor about what is lacked.  As stands_find.
 */
enum outcome stands_cut(const struct stands_ask *ask, double level, struct stands **stands);

/* Lists those of them that may lack less than all others somewhere, at that very level
 * (stands_misses and stands_lacks).  As stands_find. */
enum outcome stands_lacking(const struct stands_ask *ask, double level, struct stands **stands);

/* The highest level, roof.enough at most, at which the bracket can stand anywhere, if that is
 * `lowest` or above (-INFINITY: it is not), and the ways of the list for `least` that reach it, in
 * its order; ways that end below it are not listed, which is most of the work, nor, at a level of 0
 * or more, those that are never the cheapest there.  Crowded, with a level: some of them, too many
 * reach it.  `least` is no more than `lowest`.  As stands_find. */
enum outcome stands_find_best(const struct stands_ask *ask, double least, double lowest,
                              struct stands **stands, double *best);

/* The same list for one more holder, who frees it likewise; of a bracket of the same kit and
 * hardware that nothing else is said of. */
struct stands *stands_share(struct stands *stands);

void stands_free(struct stands *stands); /* accepts NULL */

/* X of a stand of the list: as a band, and at a level, where lo > hi is possible. */
struct band stands_band(const struct stands *stands, const struct stand *stand);
struct interval stands_x(const struct stands *stands, const struct stand *stand, double level);

/* The highest level, roof.enough at most, at which the bracket can stand anywhere; -INFINITY where
 * no listed stand is left. */
double stands_best(const struct stands *stands);

/* A rectangle of (X, Y) in which a bracket can stand at some level. */
struct spot {
    struct interval x, y;
    size_t stand; /* index into the list */
    size_t holes;
    const struct miss *miss; /* of a nearest miss: what is lacked in it; otherwise NULL */
};

/* The rectangles at that level: every stand's, or without those that lie inside another one that
 * takes no more holes.  FAULT: no memory.  *spots is untouched unless DONE; owned by the caller,
 * who frees it. */
enum outcome stands_at(const struct stands *stands, double level, bool every, struct spot **spots,
                       size_t *count);

/* The one of them that costs the least: inches that the bracket is moved from where it is wanted,
 * and roof.hole_worth a hole.  *found is false where there is none.  FAULT: no memory. */
enum outcome stands_cheapest(const struct stands *stands, double level, struct spot *spot,
                             bool *found);

/* How far the outer lag of a row of feet can be drawn in along the eave: no further than `level`
 * lets it, or for nothing more lacked; the same of a row's line.  Each is the outer one of a fixed
 * place and one that goes with the bracket. */
struct drawn {
    double fixed, goes;
};
/* An inch that a foot's lag gives way beyond that lacks as much at least. */
#define MISS_FOOT_WORTH 1.0
enum drawing { DRAWN_HARD, DRAWN_FREE, DRAWN_COUNT };

/* What a bracket lacks inside one of its spots: a sum over X and Y, and the setbacks of the bracket
 * itself, which are one rule: the larger of what X and Y lack of them. */
struct miss {
    const struct lack *lack[2]; /* along the eave, up the slope; without those setbacks */
    const struct lack *held[2]; /* the same, with the setbacks where they are held[] to them */
    bool edge[2];               /* whether held has them; never both: in this spot the other one
                                   lacks no more, or what is held lies below the truth */
    size_t course[ROW_COUNT];   /* from 1; 0 where nothing is lacked on any */
    const struct lack *lines[ROW_COUNT]; /* what the rows' lines lack beside their courses; NULL:
                                            nothing */
    bool ends;                           /* the rest is known, which is where arms are asked for */
    /* Where lines may lie for nothing more: [as high as that is, as low]; and what an inch beyond
     * that lacks at the least. */
    struct drawn free[ROW_COUNT][SIDE_COUNT];
    double worth[ROW_COUNT][SIDE_COUNT];
    /* of rows of feet: [its first lag, its last][how high it is drawn, how low] */
    struct drawn drawn[ROW_COUNT][SIDE_COUNT][SIDE_COUNT][DRAWN_COUNT];
};

struct misses {
    struct spot *spots;
    size_t count;
    double least; /* the least sum of shortfalls, where that is no more than asked for, or where
                     only it is asked for */
    struct interval inside[2]; /* X and Y that keep the setbacks; lo > hi where nothing does */
    struct stands *stands;     /* shared: the spots' list */
    bool crowded; /* there are more than there is room or time for: none is here, and `least` is not
                     known */
    void *lacks, *list; /* owned: what the spots point to */
    void *known;        /* the same, to find them by */
    size_t holders;     /* who has it: freed by the last of them */
};

/* What is asked of them. */
struct misses_ask {
    double level;
    double most; /* inches in all; -INFINITY: no spots are asked for, only the least */
    const struct pieces *allowed; /* inches by X, in the place of `most`; borrowed; NULL: none */
    size_t room;                  /* for spots */
    bool (*stop)(
        void *subject); /* now and then; true: stop, as if they were too many; may be NULL */
    void *subject;
};

/* Every spot at a level, or as much of it, in which a bracket may lack no more than `most`: the
 * shortfalls of wood, feet, courses, rows, clearance, vents and setbacks, which are what is mostly
 * missed; what edges of the face and its own flashings are missed by is not counted, so the true
 * sum is never less.  At a level of 0 or more nothing is lacked anywhere, and a cut list will do.
 * FAULT: no memory.  *misses is untouched unless DONE; owned by the caller. */
enum outcome stands_misses(struct stands *stands, const struct misses_ask *ask,
                           struct misses **misses);
/* The least that a bracket may lack, by its X, while its Y is in there: never more than in truth,
 * as vents are left out, and of the setbacks what Y lacks of them.  Into an empty one.  *crowded:
 * it came to no end.  `most` and `allowed` are not asked for.  FAULT: no memory. */
enum outcome stands_lacks(struct stands *stands, const struct misses_ask *ask, struct interval up,
                          struct pieces *lacks, bool *crowded);
/* What a miss says of its ends, for places in the spot; its courses and lines are known. */
void stands_draw_in(const struct stands *stands, const struct spot *spot, double level,
                    struct miss *miss);
/* Between which Y a bracket may stand at a level. */
struct interval stands_up(const struct stands *stands, double level);

struct misses *misses_share(struct misses *misses); /* for one more holder, who frees it likewise */
void misses_free(struct misses *misses);            /* accepts NULL */

/* How far a row's strut reaches in a stand, at a level.  Each of its ends is the outer one of two:
 * one is set by its lags, the other goes with the bracket's X.  Its line lies where both the roof
 * and the bracket, from its Y, let it.  An end that stays within half of the gap that the
 * level leaves between brackets is in nobody's way but that of one that does not: it is taken to
 * end halfway along the bracket.  The ends of a row of feet are the flashings of its outer ones.
 * all: every end is looked at. */
struct arm {
    bool there;     /* false: neither end reaches further */
    bool feet;      /* these are its outer flashings; lags and clamps bound them */
    bool beyond[2]; /* which ends do */
    /* of feet: [first, last][how high it is drawn, how low], as the level lets it */
    struct drawn drawn[SIDE_COUNT][SIDE_COUNT];
    double lags[2];   /* x of the first and the last lag */
    double clamps[2]; /* of the outer clamps, from X */
    double line[2], rise[2];
};
/* Where a row's line may lie on any course, at a level: rising, and apart from each other. */
struct strips {
    struct interval *list; /* owned */
    size_t count;
};
bool stands_strips(const struct roof *roof, size_t bracket, double level,
                   struct strips *strips); /* false without memory */
/* strips: of that level. */
struct arm stands_arm(const struct stands *stands, size_t stand, enum row row, double level,
                      const struct strips *strips, bool all);

/* The lines and lags of a bracket that stands at (x, y) inside a spot, each in the middle of what
 * the level leaves it. */
struct stood {
    double line[ROW_COUNT];   /* y of a row */
    size_t course[ROW_COUNT]; /* from 1 */
};
/* Where the rows' lines had better be, and no further out than where their outer lags: for nothing
 * more lacked, and whatever they lack that the level lets them. */
struct rather {
    struct interval lines[ROW_COUNT], lags[ROW_COUNT], must[ROW_COUNT];
};
static inline struct rather rather_anywhere(void) {
    struct rather rather;
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        rather.lines[row] = (struct interval){-INFINITY, INFINITY};
        rather.lags[row] = rather.must[row] = rather.lines[row];
    }
    return rather;
}
/* x of every lag is written to `lags`, top row first, room for the spot's holes.  rather: NULL:
 * anywhere. */
void stands_stand(const struct stands *stands, const struct spot *spot, double level,
                  const double at[2], const struct rather *rather, struct stood *stood,
                  double *lags);

/* The sides of Y for a bracket that keeps the stand of its spot, and the courses that it has at y;
 * returns the highest level that those allow. */
double stands_heights(const struct stands *stands, const struct spot *spot, double level, double y,
                      struct band *heights);

#endif
