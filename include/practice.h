/* Practice: a roof is set, somebody lays it out, and the answer is graded rule by rule by the check
 * that knows nothing of the optimiser; the best layout is shown beside it.
 */
#ifndef RUDDLE_PRACTICE_H
#define RUDDLE_PRACTICE_H

#include "carry.h"
#include "check.h"
#include "marks.h"
#include "problem.h"
#include "roof.h"
#include "terminal.h"

#include <stdbool.h>
#include <stdio.h>

enum { PRACTICE_LEVELS = 3, PRACTICE_SEED_MOST = 999999999 };

/* A roof to practise on.  The same level and number are the same roof, and the same best layout, on
 * any machine.  Starts as {0}; freed with practice_free. */
struct practice {
    unsigned level;      /* from 1 to PRACTICE_LEVELS */
    unsigned seed;       /* its number, from 1 to PRACTICE_SEED_MOST */
    char *roof_text;     /* owned: the roof file */
    char *kit_text;      /* owned: the kit file that it names PRACTICE_KIT */
    struct roof *roof;   /* owned: what they come to */
    struct carried best; /* owned: its best layout, proved, every rule of which holds */
};
#define PRACTICE_KIT "kit.yaml"

/* Makes a roof that has a layout with room to miss.  FAULT: no memory, or the solver failed;
 * problems says which.  The caller frees *practice whatever the outcome. */
enum outcome practice_set(unsigned level, unsigned seed, struct practice *practice,
                          struct problems *problems);
void practice_free(struct practice *practice); /* leaves {0} */

/* What is handed to the trainee: the survey in words, 80 columns wide; and a blank answer file. */
enum outcome practice_write_survey(const struct practice *practice, FILE *stream);
enum outcome practice_write_blank(const struct practice *practice, FILE *stream);

/* Asks for the answer at a terminal.  *marks is NULL where the input ended before the last
 * question; otherwise owned by the caller.  FAULT: no memory. */
enum outcome practice_ask(const struct practice *practice, struct terminal *terminal,
                          struct marks **marks);

/* ---- The grade ------------------------------------------------------------------------------ */

/* Points; all of them together are 100.  Those for room and economy are given only where every
 * rule holds. */
enum { GRADE_RULES = 70, GRADE_ROOM = 20, GRADE_ECONOMY = 10 };

struct grade_rule {
    size_t places, broken; /* where it applies, and how many of those break it */
    double least;          /* inches: its least margin; NaN where it does not apply */
};

struct grade {
    struct grade_rule rules[RULE_COUNT];
    size_t applying, held;    /* rules that apply; those that hold everywhere */
    unsigned rules_points;    /* held / applying of GRADE_RULES */
    unsigned room_points;     /* room to miss against the best layout's, of GRADE_ROOM */
    unsigned economy_points;  /* the best layout's cost against the answer's, likewise */
    unsigned score;           /* their sum */
    double room, best_room;   /* inches: forgiveness, as it is; capped at roof.enough it counts */
    double moved, best_moved; /* inches: distance from where the frames are wanted */
    struct marks *marks;      /* owned: the answer, sorted */
    struct verdict *verdict;  /* owned: on it */
    const struct practice *practice; /* borrowed */
};

/* Grades marks, which stay the caller's.  FAULT: no memory.  *grade is untouched unless DONE; freed
 * with grade_free. */
enum outcome grade_marks(const struct practice *practice, const struct marks *marks,
                         struct grade *grade);
void grade_free(struct grade *grade); /* leaves {0} */

/* The grade in words, with the best layout and the difference; and for machines.  FAULT: no memory.
 */
enum outcome grade_write(const struct grade *grade, FILE *stream);
enum outcome grade_write_json(const struct grade *grade, FILE *stream);

/* ---- Progress ------------------------------------------------------------------------------- */

/* A level is done with once so many of its roofs were graded at SCORES_GOOD or better. */
enum { SCORES_GOOD = 90, SCORES_ROOFS = 3, SCORES_MOST = 20000 };

struct score_entry {
    unsigned level, seed, score;
    char day[11]; /* 2026-11-25 */
};

/* The scores so far, oldest first.  Starts as {0}; freed with scores_free. */
struct scores {
    struct score_entry *list; /* owned */
    size_t count, room;
};
void scores_free(struct scores *scores); /* leaves {0} */

/* Reads the trainee's file; none there is an empty one.  BAD_INPUT: it is some other file, problems
 * says where.  FAULT: no memory. */
enum outcome scores_read(const char *path, struct scores *scores, struct problems *problems);

/* FAULT: no memory, or SCORES_MOST are there. */
enum outcome scores_add(struct scores *scores, const struct score_entry *entry);
enum outcome scores_write(const void *subject, FILE *stream); /* of a struct scores */

/* Roofs of a level at SCORES_GOOD or better, each counted once. */
size_t scores_done(const struct scores *scores, unsigned level);

/* The first level that is not done with, or the last; and the lowest number of a roof of that level
 * that was not graded yet. */
unsigned scores_level(const struct scores *scores);
unsigned scores_seed(const struct scores *scores, unsigned level);

#endif
