/* The search over readings, shared by round_search.c (which makes the choices) and round_grade.c
 * (which ranks what they come to, and asks check about those that are complete).
 */
#ifndef RUDDLE_LAYOUT_ROUND_SEARCH_H
#define RUDDLE_LAYOUT_ROUND_SEARCH_H

#include "round.h"

enum kind { KIND_PLACE, KIND_HEIGHT, KIND_LAG };

/* One thing to choose. */
struct choice {
    enum kind kind;
    size_t piece;
    enum row row;
    size_t lag;
    size_t *step; /* where the choice is kept, in the piece itself */
};

/* Parts of a piece that are bounded one by one: its place, then its rows. */
enum { PART_PLACE = ROUND_LINES, PART_COUNT };

/* What all pieces come to together. */
struct grade {
    struct worth sum;                       /* its forgiveness is not used */
    double forgiveness[ROOF_BRACKETS_MOST]; /* the worst first */
    size_t count;
};

struct search {
    const struct roof *roof;  /* whole */
    struct roof seen;         /* the same with the brackets of this search only */
    struct bracket *brackets; /* owned: those of seen */
    struct pipe *pipes;       /* owned: the same for pipes */
    size_t *pipe_seen;        /* owned: for each pipe of roof, its index in seen */
    struct piece *const *pieces;
    size_t count;
    struct choice *choices; /* owned; in the order in which they are made */
    size_t depth;
    size_t *best;                      /* owned: a step for each choice */
    struct worth (*parts)[PART_COUNT]; /* owned: one set a piece */
    double *pairs;       /* owned: by depth, then piece: least margin between pieces or rows */
    double *pairs_short; /* owned: by depth: the shortfalls of those */
    struct marks *marks; /* owned */
    struct grade best_grade;
    double *best_forgiveness; /* owned: by piece */
    struct worth *best_hard;  /* owned: by piece: broken and bare */
    bool found, failed;
    bool keep_hard; /* no choices that break a hard rule are looked at */
    size_t budget;
};

/* Positive where a comes before b in the order of struct worth. */
int round_compare_worths(const struct worth *a, const struct worth *b);

/* What one piece can still come to with `depth` choices made, margins to other pieces included. */
struct worth round_piece_worth(const struct search *search, size_t piece, size_t depth);

/* With that many choices made, something better than the best found may still follow. */
bool round_promising(const struct search *search, size_t depth);

/* Asks check about the choices, all made, and keeps them if they are the best so far. */
void round_judge(struct search *search);

#endif
