/* A small roof with a layout and a verdict, all by hand, for the tests of what is printed. */
#ifndef SHEET_ANSWER_H
#define SHEET_ANSWER_H

#include "sheet.h"

#include <stddef.h>

enum {
    ANSWER_RAFTERS = 14,
    ANSWER_PLIES = ANSWER_RAFTERS + 1, /* the second rafter is sistered */
    ANSWER_COURSES = 34,
    ANSWER_BRACKETS = 2,
    ANSWER_MARKS = 12,
    ANSWER_PIPES = 2,
    ANSWER_FINDINGS = 64,
};

/* Everything in one place; build with answer_make, nothing to free.  Do not copy: it points into
 * itself. */
struct sheet_answer {
    struct roof roof;
    struct edge edges[4];
    double courses[ANSWER_COURSES];
    struct rafter rafters[ANSWER_RAFTERS];
    struct ply plies[ANSWER_PLIES];
    struct vent vents[1];
    struct pipe pipes[ANSWER_PIPES];
    struct keepout keepouts[1]; /* none in use */
    struct kit kits[2];         /* one in use */
    struct bracket brackets[ANSWER_BRACKETS];
    struct warning warnings[1];
    struct standing standings[ANSWER_BRACKETS];
    struct mark list[ANSWER_MARKS];
    struct marks marks;
    struct finding findings[ANSWER_FINDINGS];
    struct seat seats[ANSWER_MARKS];
    struct row_seat rows[ANSWER_BRACKETS][ROW_COUNT];
    double forgiveness[ANSWER_BRACKETS];
    struct verdict verdict;
    struct layout layout;
    struct reason reasons[1];
    struct answer answer;
};

/* A roof of 360 by 196 in, rafters every 24 in from 16, butt edges from 6 in every 5 5/8; frames A
 * and B (bracket_count of them), B 144 in further along; strut on top at 110 3/4 (19th butt edge at
 * 107 1/4), feet at 54 1/2 (9th, at 51).  Every spare is 5/32 in or more but that of the feet,
 * 1/8. */
void answer_make(struct sheet_answer *made, size_t bracket_count);

/* Gives frame A, the only one, two pipes on the line 83 1/8: 4 in above the 14th butt edge at 79
 * 1/8. Hot comes up at 77, 4 1/4 in RIGHT of its port and 2 below it, between rafters 3 and 4
 * (faces at 64 3/4 and 87 1/4); cold at 102, 3/8 LEFT of its port and level with it, between
 * rafters 4 and 5. Flashings of 9 x 12 in, hub 3 1/2 up; bores of 1 3/8, 3/4 beside them, reach 6.
 */
void answer_add_pipes(struct sheet_answer *made);

/* The LEFT rake leans outwards, x = -9/40 y; the other one like it, or straight. */
void answer_lean(struct sheet_answer *made, bool both);

/* Hips: x = 5/12 y on the LEFT, 360 - 5/12 y on the RIGHT. */
void answer_outline(struct sheet_answer *made);

/* Turns the answer into a closest fit: the wood of the first mark is 11/32 in short. */
void answer_break(struct sheet_answer *made);

/* The sheet as text; the caller frees it.  Never NULL: a failure ends the test. */
char *answer_sheet(const struct sheet_answer *made);

/* What a sheet says, what it does not, and how often. */
void assert_says(const char *sheet, const char *text);
void assert_silent_on(const char *sheet, const char *text);
size_t count_of(const char *sheet, const char *text);

/* The texts stand on the sheet in this order. */
void assert_in_order(const char *sheet, const char *const *texts, size_t count);

#endif
