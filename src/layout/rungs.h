/* Rungs: how much forgiveness each bracket of a company that stands in each other's way can have,
 * worst first.  Private to this folder. */
#ifndef RUDDLE_RUNGS_H
#define RUDDLE_RUNGS_H

#include "packing.h"
#include "problem.h"
#include "roof.h"
#include "stands.h"

#include <stdbool.h>
#include <stddef.h>

/* The spots of a bracket at a level. */
struct cut {
    size_t like; /* of brackets that are held alike, the first */
    double level;
    struct stands *stands; /* what the spots point to */
    struct spot *spots;
    struct arm (*arms)[ROW_COUNT]; /* of each stand; NULL where they are not looked at */
    struct strips strips;          /* of their lines; likewise */
    size_t count;
    bool partial; /* there are more, too many of them */
    bool listed;  /* false: there are too many, and none is known */
    bool lacking; /* only of use for nearest misses; no spots are listed */
};
/* Those that were asked for; owned by whoever has the company. */
struct cuts {
    struct cut *list;
    size_t count, room;
    size_t stands; /* in all of them */
};
void cuts_free(struct cuts *cuts);

/* A company whose stands are listed; all borrowed. */
struct crowd {
    const struct roof *roof;
    struct stands **stands;      /* one a bracket; listed anew where levels go further down */
    const struct limits *limits; /* NULL: none */
    struct cuts *cuts;
    double ceilings[ROOF_BRACKETS_MOST]; /* the best level of each alone */
    bool lenient;                        /* as of stands_ask */
    double near;                         /* likewise */
    struct rack *rack;                   /* likewise */
    enum ends arms;                      /* what is looked at of what struts and feet reach */
    double most;                         /* the worst of them has no more; INFINITY: not known */
    double least;                        /* the worst of them can have it; -INFINITY: not known */
    bool hasty;                          /* what takes long is not found */
    bool upwards;                        /* from `least` on, and not from what there is at most */
    const double (*wider)[ROOF_BRACKETS_MOST][ROOF_BRACKETS_MOST]; /* as of packing_task */
    double (*widened)[ROOF_BRACKETS_MOST][ROOF_BRACKETS_MOST]; /* what it had better be, as far as
                                                                  marks have shown */
    bool (*stop)(void *subject);                               /* likewise */
    void *subject;
};

/* Whether it is to be stopped. */
static inline bool crowd_late(const struct crowd *crowd) {
    return crowd->stop && crowd->stop(crowd->subject);
}

/* What is asked of a bracket's stands. */
struct stands_ask crowd_ask(const struct crowd *crowd, size_t b);
/* Of brackets that are held alike, the first. */
size_t crowd_like(const struct crowd *crowd, size_t b);
/* The spots of a bracket at a level; borrowed until cuts_tidy.  FAULT: no memory. */
enum outcome cuts_find(const struct crowd *crowd, size_t b, double level, struct cut *found);
/* The stands of a nearest miss, likewise; NULL where there are too many. */
enum outcome cuts_lacking(const struct crowd *crowd, size_t b, double level,
                          struct stands **stands);
/* Forgets them where they have become many. */
void cuts_tidy(struct cuts *cuts);

/* What struts of a bracket reach beyond it, at a level, one pair a stand; all: as of stands_arm;
 * owned by the caller, NULL without memory. */
struct arm (*arms_list(const struct stands *stands, double level, const struct strips *strips,
                       bool all))[ROW_COUNT];
/* The same for a packing; list is borrowed. */
struct arms arms_of(const struct crowd *crowd, size_t b, const struct arm (*list)[ROW_COUNT]);

/* A bracket of the company at a level, for a packing; its spots are still to be put in, and what
 * its struts reach. */
struct parcel rungs_parcel(const struct crowd *crowd, size_t b, double level);

/* As packing_find, and in whose list the spots are. */
struct rungs_packing {
    enum packing_end end;
    struct placed placed[ROOF_BRACKETS_MOST];
    struct worth worth, bound;
    struct stands *stands[ROOF_BRACKETS_MOST]; /* owned */
};
void rungs_packing_free(struct rungs_packing *packing); /* what it holds */

/* How long a packing is looked for.  A few nodes show one that is easily found; whether there is
 * any is mostly seen at once, but not always, sooner where there are many and every node takes
 * longer. */
enum effort {
    EFFORT_GLANCE, /* any way will do, and that within a few nodes */
    EFFORT_ANY,    /* any way will do */
    EFFORT_BEST    /* the cheapest, as long as it takes */
};

/* Packs the company with those levels.  Where the stands of one are too many nothing is proved but
 * what is found among those that are known.
 * FAULT: no memory; *packing is to be freed even then. */
enum outcome rungs_pack(const struct crowd *crowd, const double *levels, enum effort effort,
                        struct rungs_packing *packing);

/* The highest level, `most` at most, that the stands, courses and ways of a packing allow those who
 * share it; the others keep their levels.  rungs_raise.c. */
double rungs_raise(const struct crowd *crowd, const struct rungs_packing *packing,
                   const double *levels, const bool *shared, double level, double most);

/* Who has which rung: the best there is may be had in several ways. */
enum { RUNGS_WAYS = 1024 };
struct rungs {
    double (*levels)[ROOF_BRACKETS_MOST]; /* owned */
    size_t room;
    size_t count; /* of ways, all equally good; 0: not found in time, or there are more of them */
    bool many;    /* there were too many before any were swapped, and none is here */
    bool partial; /* there are more ways, by swapping brackets that are alike */
    bool has_worst;
    double worst; /* the least of the levels, proved */
    double none;  /* otherwise: what not all can have; INFINITY: not known */
    bool has_packing;
    struct rungs_packing packing;         /* owned: the best that was met on the way */
    double packed_at[ROOF_BRACKETS_MOST]; /* its levels */
};
void rungs_free(struct rungs *rungs); /* what it holds */
/* One way more; levels: ROOF_BRACKETS_MOST of them.  False without memory. */
bool rungs_add(struct rungs *rungs, const double *levels);
/* Keeps a packing that was met, in the place of another one; levels: ROOF_BRACKETS_MOST of them. */
void rungs_meet(struct rungs *rungs, const double *levels, const struct rungs_packing *packing);

/* No layout has more forgiveness: the worst rung, and what each bracket has alone. */
double rungs_most(const struct crowd *crowd, const struct rungs *rungs);

/* Puts levels into their order, worst first. */
void rungs_sort(double *levels, size_t count);

/* Adds every way that differs from one only in who of brackets alike has which level; brackets
 * before `from` keep theirs.  False without memory. */
bool rungs_swap_twins(const struct crowd *crowd, struct rungs *rungs, size_t way, size_t from);

/* Finds them, to 1e-6 and below what the rules between lags of different brackets may cost, which
 * a packing does not look at; a packing that was met before stays where no better one is.  FAULT:
 * no memory. */
enum outcome rungs_find(const struct crowd *crowd, struct rungs *rungs);
/* Only the worst of them, with a packing that has it. */
enum outcome rungs_find_worst(const struct crowd *crowd, struct rungs *rungs);

#endif
