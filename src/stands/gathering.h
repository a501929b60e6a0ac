/* What brackets lack at levels below zero, gathered stand by stand; private to this folder. */
#ifndef RUDDLE_GATHERING_H
#define RUDDLE_GATHERING_H

#include "lack.h"
#include "listing.h"
#include "stands.h"

enum { GATHERING_X, GATHERING_Y, GATHERING_AXES };

/* Some hinges more. */
enum { GATHERING_SIDES = 10 };
struct sides {
    struct hinge list[GATHERING_SIDES];
    size_t count;
};

/* What brackets that are held alike up the slope share: what their rows' lines are limited to, how
 * many lags miss when a line does, and what lines miss of keeping to the face, and lines and Y of
 * keeping off vents. */
struct likeness {
    double row[ROW_COUNT][2], y[2], v[ROW_COUNT][2];
    size_t lags[ROW_COUNT];
    struct sides lines[ROW_COUNT], vents;
};

/* One row on one course: what its line lacks there, and where up its bracket it is met. */
struct met_line {
    struct lack line, met;
    struct interval line_in, met_in;
};

/* misses_ends.c: the Y of a spot, rising, between which the ends of its miss are exact. */
enum { BENDS_MOST = 32 };
struct bends {
    double at[BENDS_MOST];
    size_t count;
};
void misses_bends(const struct stands *stands, const struct spot *spot, double level,
                  struct bends *bends);

/* Both rows on their courses: what that lacks as a function of Y. */
struct met_rows {
    struct lack lack;
    struct interval y;
    size_t course[ROW_COUNT];
};

/* Every pair of courses of brackets that are alike. */
struct met_list {
    struct likeness like;
    struct met_rows *list; /* owned */
    size_t count;
    double least; /* that any of them lacks in gathering.up; INFINITY where none is there */
};
enum {
    GATHERING_KNOWN = 64,
    GATHERING_LOOK = 2048,         /* looks after which it is asked whether to stop */
    GATHERING_WORK_MOST = 2000000, /* looks at ways to lack: more are not gone through */
    GATHERING_WORK_ALONE = 3000    /* of a bracket alone on a few rafters, for which the program is
                                      soon done too */
};

struct gathering {
    const struct stands *stands;
    const struct misses_ask *ask;
    const struct roof *roof;
    const struct kit *kit;
    double level, most;
    size_t room;
    struct box face;
    struct interval inside[GATHERING_AXES];
    struct interval up;     /* the Y of which met_list.least is told */
    struct met_list *known; /* owned, room for GATHERING_KNOWN; NULL: none yet */
    size_t known_count, known_next;
    struct misses *made;
    size_t spot_room;
    size_t work, work_most, looks;
    bool failed;
};

/* A stand while what it lacks is put together. */
struct gathered {
    size_t stand; /* index into the list */
    struct interval x;
    struct likeness like;
    struct lack along;       /* by X */
    double up;               /* at least so much is lacked up the slope, vents left out */
    size_t begun[ROW_COUNT]; /* of the lines' sides, those that are not for vents come first */
    bool dodged[ROW_COUNT][ROOF_LEGS_MOST]; /* the foot keeps off a vent */
};

/* misses_rows.c */
struct likeness gathering_likeness(const struct stands *stands, const struct stand *stand);
/* Those from `first` on. */
void gathering_add_sides(struct lack *lack, const struct sides *sides, size_t first);
struct met_line gathering_line(const struct gathering *gathering, const struct likeness *like,
                               enum row row, size_t course);
/* Every pair of courses; borrowed until the next call; NULL without memory. */
const struct met_list *gathering_rows(struct gathering *gathering, const struct likeness *like);
void gathering_rows_free(struct gathering *gathering);

/* misses_stand.c: what a strut's lags lack of wood, and their flashings of each other. */
double misses_run(const struct roof *roof, const struct kit *kit, const struct hold *hold);
/* misses_stand.c: how many of its flashings, so far to either side of where lags may be, lie on the
 * face along the eave. */
size_t misses_on_face(const struct hold *hold, double off, const struct box *face);
/* misses_stand.c: what a stand lacks whatever way it goes past the vents; false where the level
 * leaves it nowhere to be. */
bool gathering_begin(struct gathering *gathering, size_t index, struct gathered *gathered);

/* misses_vents.c: every way in which what misses its distance from a vent may do so; calls
 * gathering_add for each. */
void gathering_vents(struct gathering *gathering, const struct gathered *gathered);

/* misses_spots.c: the part of a spot in which it lacks no more than is asked for, with functions
 * that say nothing about the rest. */
void gathering_draw_in(const struct gathering *gathering, struct spot *spot,
                       struct lack lacks[GATHERING_AXES], struct lack held[GATHERING_AXES]);
/* misses_spots.c: drops the spots made that lie inside another one that lacks alike and takes no
 * more holes. */
void gathering_drop(const struct gathering *gathering);

/* misses_kept.c: a function or a miss that stays as long as the misses do; the same function is
 * kept once, as spots are many and functions few.  NULL without memory. */
const struct lack *misses_keep_lack(struct misses *misses, const struct lack *lack);
const struct miss *misses_keep(struct misses *misses, const struct miss *miss);
/* All of them and the spots. */
void misses_forget(struct misses *misses);

/* misses.c: before the first stand; made is the caller's to free. */
struct gathering gathering_open(struct stands *stands, const struct misses_ask *ask);
/* misses.c: true where there is no use in going on; counts one more look. */
bool gathering_over(struct gathering *gathering);
/* misses.c: whether ways that lack so much or more need not be looked at. */
bool gathering_hopeless(const struct gathering *gathering, double least);
/* misses.c: the least that a stand may lack, by what is put together of it. */
double gathering_bound(const struct gathering *gathering, const struct gathered *gathered);
/* misses.c: one way in which a stand lacks. */
void gathering_add(struct gathering *gathering, const struct gathered *gathered);

#endif
